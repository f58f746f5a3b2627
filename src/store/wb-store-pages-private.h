/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/*
 * Reads the rows of a SQLite file page by page, without SQLite, which gives up a table at the first page that is not as
 * it should be. Format: https://www.sqlite.org/fileformat2.html. Nothing in the bytes is believed: every
 * offset, length and page number is held against the file. A page at a time is in memory, and those above it in its tree.
 */

typedef enum { WB_STORE_VALUE_NULL, WB_STORE_VALUE_INTEGER, WB_STORE_VALUE_REAL, WB_STORE_VALUE_TEXT, WB_STORE_VALUE_BLOB } WbStoreValueKind;

typedef struct
{
  WbStoreValueKind kind;
  gint64           integer;
  double           real;
  const guint8    *bytes;  /* text without a NUL at its end; borrowed for the call */
  gsize            length;
} WbStoreValue;

typedef struct
{
  gboolean            has_rowid; /* of a table with a rowid; else of one without, or of an index */
  gint64              rowid;
  const WbStoreValue *values;
  guint               n;
} WbStoreCell;

typedef struct _WbStorePages WbStorePages;

typedef void (*WbStoreCellFunc) (const WbStoreCell *cell, gpointer user);

/* Of an open file, which is borrowed and must not change; what it does not give reads as zeros. */
WbStorePages *wb_store_pages_new  (int file, gsize length);
void          wb_store_pages_free (WbStorePages *self);
/* Whether the first 16 bytes are a SQLite file's. */
gboolean      wb_store_pages_has_header (WbStorePages *self);
/* A field of the header, 4 bytes. */
guint32       wb_store_pages_get_header (WbStorePages *self, gsize offset);
/*
 * Every whole row that can be reached from that page of a tree, which from then on counts as taken. FALSE where
 * a page on the way was not a tree's.
 */
gboolean      wb_store_pages_walk (WbStorePages *self, guint32 root, WbStoreCellFunc func, gpointer user);
/* Counts the pages of the freelist as taken, where it is whole: what stands on them was moved elsewhere. */
void          wb_store_pages_skip_free (WbStorePages *self);
/* Every whole row on pages that are not taken, which no tree leads to any more; `take`: they are then. */
void          wb_store_pages_walk_rest (WbStorePages *self, gboolean take, WbStoreCellFunc func, gpointer user);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbStorePages, wb_store_pages_free)

G_END_DECLS
