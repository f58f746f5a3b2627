/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "test-views.h"

#include "wb-dataset.h"
#include "wb-record-form.h"
#include "wb-sample-table.h"

/* The pour page in a window of a test: what stands in it, and hands that type. */

gint64 pour_plan (WbWindow *window, const TestShelf *shelf);
GtkWidget *pour_part (WbWindow *window, const char *id);
GtkWidget *pour_get_sheet (WbWindow *window);
WbSampleTable *pour_get_samples (WbWindow *window);
gboolean pour_is_ready (gpointer user);
gboolean pour_is_laid (gpointer user);
gboolean pour_is_poured (gpointer user);
GtkWidget *pour_find_question (void);
void pour_mark (WbWindow *window);
WbWindow *pour_open (const char *name, const char *vessel, gint64 *experiment);
WbRecordForm *pour_find_form (GtkWidget *widget, const char *field);
void pour_type (WbWindow *window, const char *field, const char *text);
GtkWidget *pour_get_measured (WbWindow *window, int kind);
void pour_type_step (WbWindow *window, int kind, const char *text);
GtkWidget *pour_get_step_field (WbWindow *window, int kind, const char *name);
void pour_type_time (WbWindow *window, int kind, const char *text);
void pour_type_sample (WbWindow *window, guint line, guint field, const char *text);
const char *pour_get_sums (WbWindow *window);
WbDataset *pour_read_experiment (WbWindow *window, gint64 experiment);
const char *pour_get_text (WbWindow *window, const char *field);
const char *pour_get_sample_text (WbWindow *window, guint line, guint field);
