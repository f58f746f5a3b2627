/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-store-import-seen-private.h"
#include "wb-store-import.h"

G_BEGIN_DECLS

/* What pass 2 does with a row; four bits a line of the file. */
typedef enum
{
  WB_IMPORT_ROW_NOTHING,   /* known or refused */
  WB_IMPORT_ROW_READING,   /* a new reading, as the row has it */
  WB_IMPORT_ROW_GATHERED,  /* a new reading, with what later rows add to it */
  WB_IMPORT_ROW_ABOVE,     /* only what stands above the reading: sample, burn, wick, experiment */
  WB_IMPORT_ROW_AMENDMENT  /* completes a reading of the record, with what later rows add to it */
} WbImportRow;

/* The nodes of one row, kept from row to row as long as they are the same. */
typedef struct
{
  WbImportNode *experiment;
  WbImportNode *wick;   /* NULL where the row does not name it */
  WbImportNode *sample;
  WbImportNode *burn;
} WbImportNodes;

struct _WbStoreImport
{
  WbStore       *store;       /* borrowed; NULL in pass 1 of a notebook that does not exist yet */
  gint64         last_entry;  /* of the notebook when pass 1 began */
  char         **extra_names;
  guint          n_extra;
  WbImportSeen  *seen;
  GByteArray    *rows;        /* WbImportRow of each line, two a byte */
  GHashTable    *vessels;     /* char * name to double *, the first diameter seen under it */
  gboolean       looked_back; /* it is known whether the notebook has amended readings at all */
  gboolean       amended;     /* it has: those of each burn are looked for */
  GHashTable    *defaults;    /* set of const char *, columns of which a default was said to change */
  WbImportNodes  last;
  guint          generation;  /* of the nodes in `last` */
  GPtrArray     *columns_found; /* const char *, what is wrong with the row being judged */

  /* pass 2 */
  WbStoreChange *change;
  char          *source;
  GHashTable    *names;       /* char * "TYPE NAME" to gint64 * id of a material */
  GHashTable    *wicks;       /* char * key of the node to gint64 * id */
  GHashTable    *cells;       /* char * to gint64 * id, of the experiment that is open */
  gint64         cells_of;    /* that experiment's id */
  GHashTable    *left;        /* set of gint64 * ids of cells of imported experiments that a sample left */
  gint64         protocol;    /* 0: not needed yet */
  gint64         profile;
  gint64        *columns;     /* ids of the unknown columns */
  WbRecord      *reading;     /* one record for all rows */
};

WbImportRow wb_import_get_row (WbStoreImport *self, guint64 line);
void        wb_import_set_row (WbStoreImport *self, guint64 line, WbImportRow what);

/*
 * The nodes of a row, with `make` made where they are new, and then with what
 * the record says of them. Without, they must have been seen. NULL members only for what the row leaves open.
 */
gboolean    wb_import_find_nodes (WbStoreImport *self, const WbLogRow *row, gboolean make, WbImportNodes *nodes,
                                  GError **error);

/* Diameters that the notebook has under the row's vessel, before the file's. */
gboolean    wb_import_recall_vessel     (WbStoreImport *self, const WbLogRow *row, GError **error);
/* A second diameter under one name is another vessel: said once for each. */
void        wb_import_remark_on_vessel  (WbStoreImport *self, const WbLogRow *row, GPtrArray *remarks);
/* What a default in the record becomes, said once a column: the first row that states another stands for all. */
void        wb_import_remark_on_default (WbStoreImport *self, guint64 line, const WbImportField *field,
                                         const WbImportStatement *known, const WbImportStatement *given, GPtrArray *remarks);
/* The row is what `reading` said before it was amended or taken out. */
gboolean    wb_import_remark_on_past    (WbStoreImport *self, const WbLogRow *row, gint64 reading, GPtrArray *remarks,
                                         GError **error);

/* Pass 2: what stands above a reading, made or completed. */
gboolean    wb_import_write_above (WbStoreImport *self, const WbImportNodes *nodes, GError **error);
/* At its end: a cell that an import made, and that all of its samples left as they were completed, was never meant. */
gboolean    wb_import_delete_left (WbStoreImport *self, GError **error);

/* Puts a new record and gives its id; frees it. 0 with error. */
gint64      wb_import_put_new       (WbStoreImport *self, gpointer record, GError **error);
/* Ids by key, so that each is looked up in the notebook once. Remembers no 0 or -1, and gives 0 for it. */
gint64     *wb_import_remembered    (GHashTable *table, const char *key);
gint64      wb_import_remember      (GHashTable *table, const char *key, gint64 id);
/* Materials found, or made. 0 with error; of a statement that says "none" or nothing *id is 0 without. */
gboolean    wb_import_ensure_stated (WbStoreImport *self, const WbRecordType *type, const WbImportStatement *statement,
                                     gint64 *id, GError **error);
gint64      wb_import_ensure_vessel (WbStoreImport *self, const WbImportStatement *sample, GError **error);
/* `step` NAN: not known. */
gint64      wb_import_ensure_wick   (WbStoreImport *self, const char *series, const char *size, double step, GError **error);
/* The house's protocol and profile into self->protocol and self->profile. */
gboolean    wb_import_ensure_rules  (WbStoreImport *self, GError **error);
/* Changes a name that is taken to the next free one: "House protocol 2". */
gboolean    wb_import_free_name     (WbStoreImport *self, const WbRecordType *type, const char *field, char **name,
                                     GError **error);

/* From the record into a node, which is new: its id there and its statements. */
gboolean    wb_import_recall (WbStoreImport *self, WbImportNode *node, const WbImportNode *parent, const WbLogRow *row,
                              GError **error);

/* A material by name, or the wick and vessel of a sample's statements; 0 without error: not in the notebook. -1: error. */
gint64      wb_import_find_vessel (WbStore *store, const char *name, double inner_diameter_mm, GError **error);
gint64      wb_import_find_wick   (WbStore *store, const char *series, const char *size, GError **error);

G_END_DECLS
