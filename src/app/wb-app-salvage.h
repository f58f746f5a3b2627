/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-job.h"

G_BEGIN_DECLS

/* What was saved of a damaged notebook. */
typedef struct
{
  char      *path;    /* of the new one */
  gboolean   whole;   /* every entry is there as it was written, and proven */
  char      *words;   /* one or two sentences: how much was saved, and how much is lost */
  GPtrArray *lines;   /* char *: what is lost, kind by kind and entry by entry, the first 200; empty where it is whole */
} WbAppSalvage;

/* NULL is let pass. */
void          wb_app_salvage_free   (WbAppSalvage *self);
/*
 * Saves what can be read of the notebook at `path`, of which nothing is changed, into a new one at `to`, or, where that is NULL, beside it
 * under a name that is free ("Bench book salvaged.wickbench"). WB_APP_ERROR_EXISTS where `to` is there; NOT_A_NOTEBOOK where nothing of a
 * notebook can be read. who: NULL: the account's name. job may be NULL.
 */
void          wb_app_salvage_async  (const char *path, const char *to, const char *who, WbAppJob *job, GAsyncReadyCallback callback, gpointer user);
WbAppSalvage *wb_app_salvage_finish (GAsyncResult *result, GError **error);
/* Blocks: for the command. */
WbAppSalvage *wb_app_salvage_sync   (const char *path, const char *to, const char *who, WbAppJob *job, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbAppSalvage, wb_app_salvage_free)

G_END_DECLS
