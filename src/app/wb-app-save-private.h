/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-store.h"

#include <gio/gio.h>

G_BEGIN_DECLS

/* What a save, a deletion, an undo or a redo writes, and what came of it. Used on the writer's thread. */
typedef struct
{
  gatomicrefcount ref_count;
  char      *topic;    /* NULL: none */
  char      *who;
  char      *why;
  GPtrArray *records;  /* copies; ids are filled in */
  GBytes    *kept;     /* kept under its SHA-256, which is then every new attachment's; NULL: nothing to keep */
  void     (*before) (gpointer before_data); /* on the writer's thread, before anything is written; NULL: nothing */
  gpointer   before_data;
  GDestroyNotify before_free;
  gint64     entry;    /* out; 0: nothing changed */
  GArray    *ids;      /* out: gint64, one a record */
} WbAppSave;

/* Copies the records. topic NULL: the kind of the first record. */
WbAppSave *wb_app_save_new  (const char *topic, const char *who, const char *why, GPtrArray *records);
void       wb_app_save_unref (WbAppSave *self);

/* WbAppWriterFuncs: data is a WbAppSave; the result is another reference to it, with its out fields set. */
gpointer   wb_app_save_write     (WbStore *store, gpointer data, GCancellable *cancellable, GError **error);
gpointer   wb_app_save_undo      (WbStore *store, gpointer data, GCancellable *cancellable, GError **error);
gpointer   wb_app_save_redo      (WbStore *store, gpointer data, GCancellable *cancellable, GError **error);
/* Takes back the entry in `entry`. */
gpointer   wb_app_save_take_back (WbStore *store, gpointer data, GCancellable *cancellable, GError **error);

G_END_DECLS
