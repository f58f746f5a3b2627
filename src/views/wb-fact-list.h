/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-record.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Lines of what is known: a label, and what there is to say. Nothing to be changed. */
#define WB_TYPE_FACT_LIST (wb_fact_list_get_type ())
G_DECLARE_FINAL_TYPE (WbFactList, wb_fact_list, WB, FACT_LIST, GtkWidget)

GtkWidget *wb_fact_list_new       (void);
void       wb_fact_list_clear     (WbFactList *self);
void       wb_fact_list_add       (WbFactList *self, const char *label, const char *value);
/* The same of a value that is never broken: a mass that is weighed out by it. */
void        wb_fact_list_add_whole (WbFactList *self, const char *label, const char *value);
/* A field of a record by its name; no line where nothing is known. us_units: which units are read. */
void       wb_fact_list_add_field (WbFactList *self, gconstpointer record, const char *name, gboolean us_units);
guint      wb_fact_list_get_n     (WbFactList *self);

/* A known value as the lines show it; NULL: of a type that is not shown. Caller frees. */
char      *wb_fact_list_dup_value (gconstpointer record, const WbFieldSpec *spec, gboolean us_units);

G_END_DECLS
