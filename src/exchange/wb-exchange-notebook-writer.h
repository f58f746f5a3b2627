/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-experiment.h"

#include <gio/gio.h>

G_BEGIN_DECLS

/*
 * A whole notebook as one JSON file, streamed: one line a record, so that
 * memory does not grow with it. What is added must come part by part: all of
 * one record type together, all earlier versions together and so on; the order
 * of the parts is free. The file is put in its place whole by
 * wb_exchange_notebook_writer_close(); without that nothing is changed.
 *
 * {"format": "wickbench-notebook", "version": 1,
 *  "vessel": [{...}], ... one member a record type, "history": [{"table": ...}],
 *  "entries": [{...}], "unknown_cells": [{"reading", "column", "cell"}],
 *  "attachments": [{"sha256", "base64"}]}
 */
typedef struct _WbExchangeNotebookWriter WbExchangeNotebookWriter;

/* An entry of the record; texts are borrowed, NULL where not known. */
typedef struct
{
  gint64      number;
  WbInstant   at;
  const char *zone, *kind, *topic, *who, *why, *hash;
  gint64      undoes;  /* 0: none */
} WbExchangeEntry;

WbExchangeNotebookWriter *wb_exchange_notebook_writer_new   (GFile *file, const WbNotebook *notebook, GCancellable *cancellable,
                                                             GError **error);
void                      wb_exchange_notebook_writer_free  (WbExchangeNotebookWriter *self);
/* A record as it is now. */
gboolean wb_exchange_notebook_writer_add            (WbExchangeNotebookWriter *self, gconstpointer record, GError **error);
/* An earlier version of one. */
gboolean wb_exchange_notebook_writer_add_version    (WbExchangeNotebookWriter *self, gconstpointer record, GError **error);
gboolean wb_exchange_notebook_writer_add_entry      (WbExchangeNotebookWriter *self, const WbExchangeEntry *entry, GError **error);
/* The cell of an unknown column, kept with a reading. */
gboolean wb_exchange_notebook_writer_add_cell       (WbExchangeNotebookWriter *self, gint64 reading, const char *column,
                                                     const char *cell, GError **error);
gboolean wb_exchange_notebook_writer_add_attachment (WbExchangeNotebookWriter *self, const char *sha256, GBytes *bytes,
                                                     GError **error);
gboolean wb_exchange_notebook_writer_close          (WbExchangeNotebookWriter *self, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbExchangeNotebookWriter, wb_exchange_notebook_writer_free)

G_END_DECLS
