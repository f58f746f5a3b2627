/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-store-pages-private.h"
#include "wb-store-private.h"
#include "wb-store-salvage.h"
#include "wb-store-table-private.h"

G_BEGIN_DECLS

/* One salvage on its way: rows that were read go into the new file under their old numbers, then it is made a record again. */
typedef struct
{
  WbStore         *store;   /* the new file, in one transaction */
  const char      *name;    /* the damaged file's, for people */
  const char      *who;
  WbInstant        now;
  WbStoreProgress  progress;
  gpointer         data;
  GHashTable      *kinds;   /* of records, as the table of identities says: gint64 * to OldIdentity */
  gint64           head;    /* entries that the notebook's own row counts; 0: unreadable */
  gint64           most;    /* entries, and rows of one, that a file of that size could have held */
  WbStoreSalvage  *result;
} WbStoreSalvaging;

typedef struct
{
  const WbStoreTable *table;
  guint8              uuid[16];
  gboolean            has_uuid;
} WbStoreOldIdentity;

/* Reads all rows of the pages into the new file. FALSE only where the new file cannot be written. */
gboolean wb_store_salvage_read (WbStoreSalvaging *self, WbStorePages *pages, GError **error);
/* Makes a sound notebook of them: identities, references, and the chain, with the words of what is missing. */
gboolean wb_store_salvage_mend (WbStoreSalvaging *self, GError **error);
/* Gives what refers to a lost record a stand-in to refer to, in an entry of their own at the end. */
gboolean wb_store_salvage_stand_in (WbStoreSalvaging *self, GError **error);
/* A sentence for the report. Takes the text. */
void     wb_store_salvage_tell (WbStoreSalvaging *self, char *text);

G_END_DECLS
