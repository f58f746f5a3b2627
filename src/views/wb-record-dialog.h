/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-app-notebook.h"
#include "wb-record-form.h"

G_BEGIN_DECLS

/*
 * A small dialog around a record's form that saves one record into the
 * notebook: it stays open, with what was typed, until the save is durable. Set
 * choices on its form before presenting it. Signal "saved" (gint64 id).
 */
#define WB_TYPE_RECORD_DIALOG (wb_record_dialog_get_type ())
G_DECLARE_FINAL_TYPE (WbRecordDialog, wb_record_dialog, WB, RECORD_DIALOG, GtkWindow)

/* hidden: fields not asked, may be NULL. why: for the record page. The record is copied. */
GtkWidget    *wb_record_dialog_new      (GtkWidget *where, WbAppNotebook *notebook, const char *title, const char *why,
                                         gconstpointer record, const char *const *hidden);
WbRecordForm *wb_record_dialog_get_form (WbRecordDialog *self);

G_END_DECLS
