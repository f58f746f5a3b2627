/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-store.h"

G_BEGIN_DECLS

/*
 * The check recomputes the hash of every entry from the rows in the file and
 * compares with what the entries, the notebook's own row and a fingerprint
 * say. It finds damage, and any edit by someone who did not also recompute
 * chain and anchors. It does not make the file proof against tampering.
 */

typedef enum
{
  WB_CHECK_GOOD,
  WB_CHECK_STRUCTURE,   /* SQLite finds the file malformed */
  WB_CHECK_SCHEMA,      /* a table, index, trigger or view that is not this version's */
  WB_CHECK_ROW_REMOVED, /* a row that the entry counted is not there */
  WB_CHECK_ROW_ADDED,   /* a row that the entry did not write, or one that names no entry */
  WB_CHECK_ROW_CHANGED, /* the rows are all there, but not as they were written, or not in their order */
  WB_CHECK_ENTRY_MISSING, /* a gap in the numbers of the entries */
  WB_CHECK_CUT,         /* the newest entries are gone: head or fingerprint know later ones */
  WB_CHECK_HEAD,        /* the notebook's own row does not fit the last entry */
  WB_CHECK_FINGERPRINT, /* the entry that the fingerprint names has another hash */
  WB_CHECK_ATTACHMENT,  /* kept bytes that do not fit their SHA-256, or are not there */
  WB_CHECK_IDENTITY,    /* the table of identities does not fit the rows */
  WB_CHECK_SUMMARY      /* the record is sound; counts kept beside it, for lists, do not fit it */
} WbStoreFinding;

typedef struct
{
  WbStoreFinding finding;
  gint64         entry;       /* first entry that it touches; 0: none in particular */
  char          *text;        /* for people, one sentence; NULL when good */
  gint64         entries;     /* entries recomputed and found good */
  gint64         rows;        /* row versions read */
  char          *fingerprint; /* of the last entry, "NUMBER:HEX"; NULL where it cannot be told */
} WbStoreCheck;

/*
 * Checks the file at `path` through a connection of its own, which accepts
 * what wb_store_open() refuses. `fingerprint` is "NUMBER:HEX" from elsewhere, or NULL.
 * Errors only where there is nothing to check: NOT_A_NOTEBOOK, NEWER, MISSING,
 * LOCKED, cancelled, or a fingerprint that is not one (FAILED). What is found is the result. Caller frees.
 */
WbStoreCheck *wb_store_check (const char *path, const char *fingerprint, WbStoreProgress progress, gpointer data,
                              GError **error);
void          wb_store_check_free (WbStoreCheck *self);

/* "NUMBER:HEX" of the last entry: an anchor to keep elsewhere. Caller frees. */
char         *wb_store_get_fingerprint (WbStore *store, GError **error);
/* Whether the text could be a fingerprint at all; out arguments may be NULL. */
gboolean      wb_store_parse_fingerprint (const char *text, gint64 *number, char hex[65]);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbStoreCheck, wb_store_check_free)

G_END_DECLS
