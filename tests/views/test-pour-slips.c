/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "pour-page.h"

#include "wb-amend-dialog.h"
#include "wb-app-query.h"
#include "wb-pour-steps.h"
#include "wb-record-form.h"
#include "wb-time-entry.h"

#include <math.h>
#include <string.h>

/* Slips of an evening at the pot, told before they stand in the record. */

/*
 * 413.1 g of oil where the sheet says 220.9 on 2761.5 g of wax, as near to twice as a second drop from the bottle: 14.96 % of the wax, which
 * holds 10. Said at the field while it is typed, asked about at the mark, and a deviation afterwards.
 */
static void
test_too_much_oil (void)
{
  gint64 experiment;
  WbWindow *window = pour_open ("too-much-oil.wickbench", "Tern", &experiment);
  g_autofree char *words = NULL;
  const char *told;

  gtk_widget_activate_action (GTK_WIDGET (window), "page.batch", "u", 1);
  test_wait (pour_is_ready, window);
  pour_type (window, "actual_oil_g", "220.9");
  g_assert_null (wb_record_form_get_caution (pour_find_form (pour_get_sheet (window), "actual_oil_g"), "actual_oil_g"));
  pour_type (window, "actual_oil_g", "413.1");
  told = wb_record_form_get_caution (pour_find_form (pour_get_sheet (window), "actual_oil_g"), "actual_oil_g");
  g_assert_nonnull (told);
  g_assert_nonnull (strstr (told, "Fragrance oil, weighed: 413.1\302\240g, planned 220.9\302\240g."));
  g_assert_nonnull (strstr (told, "14.96\302\240% of the wax, more than this wax holds by its supplier, 10\302\240%."));
  g_assert_nonnull (strstr (told, "Do not pour this melt"));
  /* wax that was weighed ten times too large is said at its own field */
  pour_type (window, "actual_wax_g", "27615");
  told = wb_record_form_get_caution (pour_find_form (pour_get_sheet (window), "actual_wax_g"), "actual_wax_g");
  g_assert_nonnull (strstr (told, "Wax, weighed: 27615.0\302\240g, planned 2761.5\302\240g."));
  pour_type (window, "actual_wax_g", "2761.5");
  g_assert_null (wb_record_form_get_caution (pour_find_form (pour_get_sheet (window), "actual_wax_g"), "actual_wax_g"));
  gtk_widget_activate_action (GTK_WIDGET (window), "page.mark", NULL);
  g_assert_nonnull (pour_find_question ());
  g_object_get (pour_find_question (), "secondary-text", &words, NULL);
  g_assert_true (g_str_has_prefix (words, "Fragrance oil, weighed: 413.1\302\240g, planned 220.9\302\240g."));
  g_assert_nonnull (strstr (words, "Load as weighed: 14.96\302\240% of the wax, more than this wax holds by its supplier, 10\302\240%.\n"
                                   "Do not pour this melt"));
  gtk_dialog_response (GTK_DIALOG (pour_find_question ()), GTK_RESPONSE_ACCEPT);
  test_wait (pour_is_poured, window);
  g_assert_true (test_says (pour_get_sheet (window), "Fragrance oil, weighed: 413.1\302\240g, planned 220.9\302\240g\n"
                                                     "Load as weighed: 14.96\302\240% of the wax, planned 8\302\240%\n"
                                                     "Load as weighed: 14.96\302\240% of the wax, more than this wax holds by its supplier, 10\302\240%"));
  test_window_destroy (window);
}

static gboolean
is_loaded (gpointer user)
{
  return wb_app_live_list_get_loaded (user);
}

static WbAppAmendItem *
find_batch (WbAppAmend *amend)
{
  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (amend)); i++)
    {
      g_autoptr (WbAppAmendItem) item = g_list_model_get_item (G_LIST_MODEL (amend), i);

      if (((const WbRecord *) wb_app_amend_item_get_record (item))->type == &wb_batch_type)
        return item; /* the list holds it */
    }
  g_assert_not_reached ();
}

/* The wax's limit is known once the shelf is read. */
static gboolean
is_over_told (gpointer user)
{
  const char *told = wb_record_form_get_caution (user, "actual_oil_g");

  return told != NULL && strstr (told, "more than this wax holds by its supplier") != NULL;
}

/* The same slip in an amendment. */
static void
test_amend (void)
{
  gint64 experiment;
  WbWindow *window = pour_open ("amend-pour.wickbench", "Tern", &experiment);
  g_autoptr (WbDataset) data = NULL;
  g_autoptr (WbAppAmend) amend = NULL;
  g_autofree char *words = NULL;
  GtkWidget *dialog;
  WbRecordForm *form;
  gint64 sample = 0;

  gtk_widget_activate_action (GTK_WIDGET (window), "page.batch", "u", 1);
  test_wait (pour_is_ready, window);
  pour_type (window, "actual_oil_g", "220.9");
  pour_mark (window);
  data = pour_read_experiment (window, experiment);
  for (guint i = 0; i < data->samples->len; i++)
    if (wb_dataset_get_sample (data, i)->batch != 0)
      sample = wb_dataset_get_sample (data, i)->record.id;
  amend = wb_app_amend_new (test_notebook (window), sample);
  test_wait (is_loaded, amend);
  dialog = wb_amend_dialog_new (GTK_WIDGET (window), test_notebook (window), amend, find_batch (amend), NAN, FALSE);
  gtk_window_present (GTK_WINDOW (dialog));
  form = WB_RECORD_FORM (wb_amend_dialog_get_form (WB_AMEND_DIALOG (dialog)));
  g_assert_null (wb_record_form_get_caution (form, "actual_oil_g"));
  gtk_editable_set_text (GTK_EDITABLE (test_find (wb_record_form_get_field (form, "actual_oil_g"), GTK_TYPE_TEXT)), "413.1");
  test_wait (is_over_told, form);
  g_assert_null (strstr (wb_record_form_get_caution (form, "actual_oil_g"), "Do not pour"));
  gtk_editable_set_text (GTK_EDITABLE (test_child (dialog, "reason")), "read off the wrong line");
  g_signal_emit_by_name (test_child (dialog, "save"), "clicked");
  g_assert_nonnull (pour_find_question ());
  g_object_get (pour_find_question (), "secondary-text", &words, NULL);
  g_assert_nonnull (strstr (words, "Fragrance oil, weighed: 413.1\302\240g, planned 220.9\302\240g."));
  gtk_dialog_response (GTK_DIALOG (pour_find_question ()), GTK_RESPONSE_CANCEL);
  gtk_window_destroy (GTK_WINDOW (dialog));
  test_window_destroy (window);
}

/* Of which day is not asked here: the tests before this one set the clock on. A time without its colon is a time; "75" is none, and says so. */
static void
test_bare_numbers (void)
{
  gint64 experiment;
  WbWindow *window = pour_open ("bare-numbers.wickbench", "Tern", &experiment);
  WbPourSteps *steps = WB_POUR_STEPS (test_find (pour_get_sheet (window), WB_TYPE_POUR_STEPS));
  g_autoptr (WbDataset) data = NULL;
  WbInstant heated = WB_INSTANT_NONE, poured = WB_INSTANT_NONE;

  pour_type_time (window, WB_STEP_HEAT, "75");
  gtk_widget_activate_action (GTK_WIDGET (window), "page.mark", NULL);
  g_assert_null (pour_find_question ());
  g_assert_true (pour_is_ready (window));
  g_assert_cmpstr (wb_pour_steps_get_told (steps, WB_STEP_HEAT), ==, "Write hours and minutes, such as 16:05");
  pour_type_time (window, WB_STEP_HEAT, "1600");
  g_assert_null (wb_pour_steps_get_told (steps, WB_STEP_HEAT));
  g_assert_true (test_says (GTK_WIDGET (steps), "16:00"));
  pour_type_time (window, WB_STEP_POUR, "16:50");
  pour_mark (window);
  data = pour_read_experiment (window, experiment);
  for (guint i = 0; i < data->batch_steps->len; i++)
    {
      const WbBatchStep *step = data->batch_steps->pdata[i];

      if (step->kind == WB_STEP_HEAT)
        heated = step->done_at;
      else if (step->kind == WB_STEP_POUR)
        poured = step->done_at;
    }
  g_assert_true (wb_instant_shows (heated, 16, 0));
  g_assert_cmpint (poured.utc_us - heated.utc_us, ==, 50 * G_TIME_SPAN_MINUTE);
  test_window_destroy (window);
}

static char *
dup_question (WbWindow *window)
{
  char *words = NULL;

  gtk_widget_activate_action (GTK_WIDGET (window), "page.mark", NULL);
  g_assert_nonnull (pour_find_question ());
  g_object_get (pour_find_question (), "secondary-text", &words, NULL);
  gtk_dialog_response (GTK_DIALOG (pour_find_question ()), GTK_RESPONSE_CANCEL);
  return words;
}

/* Poured before it was heated. */
static void
test_disorder (void)
{
  gint64 experiment;
  WbWindow *window = pour_open ("disorder.wickbench", "Tern", &experiment);
  g_autofree char *words = NULL;

  pour_type_time (window, WB_STEP_HEAT, "16:48");
  pour_type_time (window, WB_STEP_POUR, "16:02");
  words = dup_question (window);
  /* with their day, whichever it is */
  g_assert_nonnull (strstr (words, "Pour: done "));
  g_assert_nonnull (strstr (words, "2026, 16:02, before Heat the wax, done "));
  g_assert_nonnull (strstr (words, "2026, 16:48."));
  pour_type_time (window, WB_STEP_POUR, "17:30");
  gtk_widget_activate_action (GTK_WIDGET (window), "page.mark", NULL);
  g_assert_null (pour_find_question ());
  test_wait (pour_is_poured, window);
  test_window_destroy (window);
}

/* The vessel's wax is 66 mm high; a point in the wrong place makes 6.6 of it. */
static void
test_low_fill (void)
{
  g_autofree char *path = test_path ("low-fill.wickbench"), *words = NULL, *asked = NULL;
  WbWindow *window = test_window_new_with (path);
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (wb_record_free);
  g_autoptr (WbDataset) data = NULL;
  g_autoptr (GError) error = NULL;
  WbAppMaterials *materials;
  TestShelf shelf;
  WbVessel *vessel;
  gint64 experiment;

  test_shelf_fill (window, "Tern", &shelf);
  materials = wb_app_query_materials_sync (test_notebook (window), &error);
  vessel = wb_record_copy (g_ptr_array_index (materials->vessels, 0));
  wb_app_materials_free (materials);
  vessel->wax_height_mm = 66;
  g_ptr_array_add (records, vessel);
  wb_app_notebook_save_sync (test_notebook (window), "Say how high the wax stands", records, NULL, &error);
  g_assert_no_error (error);
  experiment = pour_plan (window, &shelf);
  test_settle (window);
  g_assert_true (wb_window_go (window, "pour", experiment));
  test_wait (pour_is_ready, window);
  pour_type_sample (window, 0, 2, "64");
  pour_type_sample (window, 1, 2, "6.6");
  words = dup_question (window);
  g_assert_nonnull (strstr (words, "Height of the fill: 6.6\302\240mm. The vessel's wax is to stand 66.0\302\240mm high."));
  g_assert_null (strstr (words, "64"));
  test_window_destroy (window);
}

/* The time of a later step that was saved is seen in its field, and its day, where that is not today, under it. */
static void
test_saved_time (void)
{
  gint64 experiment;
  WbWindow *window = pour_open ("saved-time.wickbench", "Tern", &experiment);

  pour_type_time (window, WB_STEP_POUR, "28 Feb 2026, 23:50");
  pour_mark (window);
  test_settle (window);
  pour_type_time (window, WB_STEP_SET, "1 Mar 2026, 10:30");
  gtk_widget_activate_action (GTK_WIDGET (window), "page.save", NULL);
  test_wait (test_says_saved, window);
  test_settle (window);
  test_wait (pour_is_laid, window);
  g_assert_cmpstr (wb_time_entry_get_text (WB_TIME_ENTRY (pour_get_step_field (window, WB_STEP_SET, "time"))), ==, "10:30");
  g_assert_true (test_says (test_find (pour_get_sheet (window), WB_TYPE_POUR_STEPS), "1 Mar 2026"));
  g_assert_false (wb_page_has_draft (wb_window_get_page (window)));
  test_window_destroy (window);
}

void
test_pour_slips_add (void)
{
  g_test_add_func ("/views/pour/too-much-oil-is-said-at-once", test_too_much_oil);
  g_test_add_func ("/views/pour/too-much-oil-is-said-in-an-amendment", test_amend);
  g_test_add_func ("/views/pour/a-bare-number-is-a-time-of-day", test_bare_numbers);
  g_test_add_func ("/views/pour/steps-out-of-order-are-asked-about", test_disorder);
  g_test_add_func ("/views/pour/a-low-fill-is-asked-about", test_low_fill);
  g_test_add_func ("/views/pour/a-saved-time-is-seen", test_saved_time);
}
