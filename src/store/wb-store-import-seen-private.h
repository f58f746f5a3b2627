/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-store-import-observation-private.h"
#include "wb-store-import-statement-private.h"
#include "wb-store.h"

#include <sqlite3.h>

G_BEGIN_DECLS

/*
 * What an import has seen so far: experiments, wicks, samples and burns as
 * nodes, each with its statements. The nodes in use are in memory, the rest in a
 * temporary database, so that a file of any length takes the same memory.
 */
typedef struct
{
  WbImportLevel        level;
  gint64               id;        /* in the temporary database, from 1 */
  gint64               parent;    /* node; negative levels for those without one */
  char                *key;
  gint64               number;    /* burns only: the key as a number; 0 where it was not needed yet */
  gint64               record;    /* id in the notebook; 0: not there (yet) */
  gboolean             imported;  /* the record there came from an import, as all of its experiment did */
  gboolean             completed; /* the record there lacks something that the file says */
  gboolean             written;   /* in pass 2: what is to be written has been */
  gboolean             dirty;     /* not in the temporary database as it is here */
  WbImportStatement    statements[WB_IMPORT_MOST_FIELDS];
  gboolean             has_observations; /* burns only: they are in memory */
  WbImportObservations observations;
} WbImportNode;

typedef struct _WbImportSeen WbImportSeen;

/* Errors: FULL (of the temporary folder), FAILED. */
WbImportSeen *wb_import_seen_new  (GError **error);
void          wb_import_seen_free (WbImportSeen *self);

/* The node of that name, if there has been one: *node is NULL if not. Borrowed: good until MOST_PINNED further nodes were asked for. */
gboolean      wb_import_seen_find (WbImportSeen *self, WbImportLevel level, const WbImportNode *parent, const char *key,
                                   WbImportNode **node, GError **error);
/* A new one, which was not found before. */
WbImportNode *wb_import_seen_add  (WbImportSeen *self, WbImportLevel level, const WbImportNode *parent, const char *key);
/* Makes room after a row: what was not used for longest goes to the disk. */
gboolean      wb_import_seen_trim (WbImportSeen *self, GError **error);
/* A burn's observations, brought back from the disk if they went there. */
gboolean      wb_import_seen_load_observations (WbImportSeen *self, WbImportNode *burn, GError **error);
/* Grows whenever a node left memory: pointers kept from before are then stale. */
guint         wb_import_seen_get_generation (WbImportSeen *self);

G_END_DECLS
