/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "pour-page.h"

#include "wb-app-plan.h"
#include "wb-app-query.h"
#include "wb-batch-view.h"
#include "wb-pour-book.h"
#include "wb-pour-sheet.h"
#include "wb-pour-steps.h"
#include "wb-poured-sheet.h"
#include "wb-quantity-entry.h"

static void
on_planned_cb (GObject      *source,
               GAsyncResult *result,
               gpointer      user)
{
  g_autoptr (GError) error = NULL;

  *(gint64 *) user = wb_app_plan_save_finish (WB_APP_PLAN (source), result, &error);
  g_assert_no_error (error);
}

static gboolean
is_known (gpointer user)
{
  return *(gint64 *) user != 0;
}

/* Two batches of nine: 8 % of the wax, and the control; three wicks, three samples each. */
gint64
pour_plan (WbWindow        *window,
           const TestShelf *shelf)
{
  g_autoptr (GError) error = NULL;
  WbAppMaterials *materials = wb_app_query_materials_sync (test_notebook (window), &error);
  g_autoptr (WbAppPlan) plan = wb_app_plan_new (test_notebook (window), materials);
  gint64 id = 0;

  wb_app_plan_get_experiment (plan)->title = g_strdup ("Which Sedge for the Tern");
  wb_app_plan_get_experiment (plan)->wax = shelf->wax;
  wb_app_plan_set_vessel (plan, shelf->vessel, TRUE);
  for (guint i = 0; i < G_N_ELEMENTS (shelf->wicks); i++)
    wb_app_plan_set_wick (plan, shelf->wicks[i], TRUE);
  wb_app_plan_add_scent (plan, shelf->fragrance, 8, WB_BASIS_WAX);
  wb_app_plan_add_scent (plan, 0, 0, WB_BASIS_WAX);
  wb_app_plan_save_async (plan, NULL, on_planned_cb, &id);
  test_wait (is_known, &id);
  return id;
}

GtkWidget *
pour_part (WbWindow   *window,
           const char *id)
{
  GtkWidget *widget = test_child (GTK_WIDGET (wb_window_get_page (window)), id);

  g_assert_nonnull (widget);
  return widget;
}

GtkWidget *
pour_get_sheet (WbWindow *window)
{
  GtkWidget *book = test_find (GTK_WIDGET (wb_window_get_page (window)), WB_TYPE_POUR_BOOK);

  return book != NULL ? wb_pour_book_get_sheet (WB_POUR_BOOK (book)) : NULL;
}

WbSampleTable *
pour_get_samples (WbWindow *window)
{
  return WB_SAMPLE_TABLE (test_find (pour_get_sheet (window), WB_TYPE_SAMPLE_TABLE));
}

gboolean
pour_is_ready (gpointer user)
{
  return pour_get_sheet (user) != NULL && WB_IS_POUR_SHEET (pour_get_sheet (user)) && wb_sample_table_get_laid (pour_get_samples (user));
}

gboolean
pour_is_laid (gpointer user)
{
  return pour_get_samples (user) != NULL && wb_sample_table_get_laid (pour_get_samples (user));
}

gboolean
pour_is_poured (gpointer user)
{
  return pour_get_sheet (user) != NULL && WB_IS_POURED_SHEET (pour_get_sheet (user));
}

GtkWidget *
pour_find_question (void)
{
  return test_find_window (GTK_TYPE_MESSAGE_DIALOG);
}

/* Whatever is asked about, it is so. */
void
pour_mark (WbWindow *window)
{
  gtk_widget_activate_action (GTK_WIDGET (window), "page.mark", NULL);
  if (pour_find_question () != NULL)
    gtk_dialog_response (GTK_DIALOG (pour_find_question ()), GTK_RESPONSE_ACCEPT);
  test_wait (pour_is_poured, window);
}

WbWindow *
pour_open (const char *name,
           const char *vessel,
           gint64     *experiment)
{
  g_autofree char *path = test_path (name);
  WbWindow *window = test_window_new_with (path);
  TestShelf shelf;

  test_shelf_fill (window, vessel, &shelf);
  *experiment = pour_plan (window, &shelf);
  test_settle (window);
  g_assert_true (wb_window_go (window, "pour", *experiment));
  test_wait (pour_is_ready, window);
  return window;
}

/* The form of the sheet in front that asks this. */
WbRecordForm *
pour_find_form (GtkWidget  *widget,
                const char *field)
{
  if (WB_IS_RECORD_FORM (widget))
    return wb_record_form_get_field (WB_RECORD_FORM (widget), field) != NULL ? WB_RECORD_FORM (widget) : NULL;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      WbRecordForm *form = pour_find_form (child, field);

      if (form != NULL)
        return form;
    }
  return NULL;
}

void
pour_type (WbWindow   *window,
           const char *field,
           const char *text)
{
  WbRecordForm *form = pour_find_form (pour_get_sheet (window), field);

  g_assert_nonnull (form);
  gtk_editable_set_text (GTK_EDITABLE (test_find (wb_record_form_get_field (form, field), GTK_TYPE_ENTRY)), text);
}

GtkWidget *
pour_get_step_field (WbWindow   *window,
                     int         kind,
                     const char *name)
{
  return wb_pour_steps_get_field (WB_POUR_STEPS (test_find (pour_get_sheet (window), WB_TYPE_POUR_STEPS)), kind, name);
}

/* The measured temperature of a step. */
GtkWidget *
pour_get_measured (WbWindow *window,
                   int       kind)
{
  return pour_get_step_field (window, kind, "measured");
}

/* "Done at" of a step. */
void
pour_type_time (WbWindow   *window,
                int         kind,
                const char *text)
{
  gtk_editable_set_text (GTK_EDITABLE (test_find (pour_get_step_field (window, kind, "time"), GTK_TYPE_ENTRY)), text);
}

void
pour_type_step (WbWindow   *window,
                int         kind,
                const char *text)
{
  gtk_editable_set_text (GTK_EDITABLE (test_find (pour_get_measured (window, kind), GTK_TYPE_ENTRY)), text);
}

void
pour_type_sample (WbWindow   *window,
                  guint       line,
                  guint       field,
                  const char *text)
{
  GtkWidget *entry = wb_sample_table_get_field (pour_get_samples (window), line, field);

  gtk_editable_set_text (GTK_EDITABLE (test_find (entry, GTK_TYPE_ENTRY)), text);
}

const char *
pour_get_sums (WbWindow *window)
{
  return wb_batch_view_get_sums (WB_BATCH_VIEW (test_find (pour_get_sheet (window), WB_TYPE_BATCH_VIEW)));
}

WbDataset *
pour_read_experiment (WbWindow *window,
                      gint64    experiment)
{
  g_autoptr (GError) error = NULL;
  WbDataset *data = wb_app_query_dataset_sync (test_notebook (window), experiment, &error);

  g_assert_no_error (error);
  return data;
}

const char *
pour_get_text (WbWindow   *window,
               const char *field)
{
  GtkWidget *found = wb_record_form_get_field (pour_find_form (pour_get_sheet (window), field), field);

  return gtk_editable_get_text (GTK_EDITABLE (test_find (found, GTK_TYPE_TEXT)));
}

const char *
pour_get_sample_text (WbWindow *window,
                      guint     line,
                      guint     field)
{
  return wb_quantity_entry_get_text (WB_QUANTITY_ENTRY (wb_sample_table_get_field (pour_get_samples (window), line, field)));
}
