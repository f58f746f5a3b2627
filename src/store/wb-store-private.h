/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-store-change.h"
#include "wb-store-statement-private.h"

G_BEGIN_DECLS

struct _WbStore
{
  sqlite3       *db;
  char          *path;       /* as given; for messages */
  char          *copy;       /* temporary copy that is open instead, its name gone already; NULL: none */
  GThread       *thread;     /* the only one that may use it */
  gboolean       read_only;
  gboolean       in_memory;
  gboolean       wrote;      /* there has been a change, whatever came of it */
  int            patience_ms; /* how long a lock is waited for */
  GHashTable    *statements; /* char * to sqlite3_stmt *, both owned */
  sqlite3_stmt **inserts;    /* by index of the table, one row and then many, borrowed; NULL until used */
  WbStoreChange *change;     /* the open one, borrowed; NULL: none */
};

/* "WBnb" in the file's header says whose file it is. */
#define WB_STORE_APPLICATION_ID 0x57426e62
#define WB_STORE_PATIENCE_MS 5000
/* Bytes of one value: what is kept with a record is bounded, and so is what an untrusted file can make us allocate. */
#define WB_STORE_BLOB_MAXIMUM (64 * 1024 * 1024)

#define wb_store_assert_thread(self) g_assert ((self)->thread == g_thread_self ())

/* Whether the name no longer leads to the open file. */
gboolean wb_store_has_moved (WbStore *self);

/* A copy for as long as it is open: it replaces what is there, and need not outlive a power cut. Leaves none if it fails. */
gboolean wb_store_copy_for_now (WbStore *self, const char *path, WbStoreProgress progress, gpointer data, GError **error);

/*
 * Several reads of one moment. Inside a transaction that is open already it
 * joins that one. Ended by wb_store_end_read() with what was begun.
 */
gboolean wb_store_begin_read (WbStore *self, gboolean *begun, GError **error);
void     wb_store_end_read   (WbStore *self, gboolean begun);

G_END_DECLS
