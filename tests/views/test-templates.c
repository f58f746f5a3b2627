/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-views.h"

#include "wb-amend-dialog.h"
#include "wb-app-query.h"
#include "wb-aside-dialog.h"
#include "wb-bench-check.h"
#include "wb-caution.h"
#include "wb-found-dialog.h"
#include "wb-history-dialog.h"
#include "wb-import-dialog.h"
#include "wb-blind-dialog.h"
#include "wb-inspection-dialog.h"
#include "wb-logger-dialog.h"
#include "wb-mapping-dialog.h"
#include "wb-measure-dialog.h"
#include "wb-paper-dialog.h"
#include "wb-place.h"
#include "wb-preferences.h"
#include "wb-question.h"
#include "wb-record-dialog.h"
#include "wb-restore-dialog.h"
#include "wb-retain-dialog.h"
#include "wb-shortcut.h"

/* Inside these, what a control is called is GTK's own matter, or that of the whole. */
static gboolean
is_closed_to_us (GtkWidget *widget)
{
  return GTK_IS_DROP_DOWN (widget) || GTK_IS_MENU_BUTTON (widget) || GTK_IS_WINDOW_CONTROLS (widget) || GTK_IS_SEARCH_ENTRY (widget) ||
         GTK_IS_ENTRY (widget) || GTK_IS_SPIN_BUTTON (widget) || GTK_IS_POPOVER (widget) || GTK_IS_SHORTCUTS_WINDOW (widget) ||
         GTK_IS_SCROLLBAR (widget) || GTK_IS_COLUMN_VIEW (widget);
}

static gboolean
needs_name (GtkWidget *widget)
{
  if (gtk_accessible_get_accessible_role (GTK_ACCESSIBLE (widget)) == GTK_ACCESSIBLE_ROLE_PRESENTATION)
    return FALSE;
  return GTK_IS_BUTTON (widget) || GTK_IS_CHECK_BUTTON (widget) || GTK_IS_MENU_BUTTON (widget) || GTK_IS_DROP_DOWN (widget) ||
         GTK_IS_ENTRY (widget) || GTK_IS_SEARCH_ENTRY (widget) || GTK_IS_TEXT_VIEW (widget) || GTK_IS_SPIN_BUTTON (widget) ||
         GTK_IS_LIST_VIEW (widget) || GTK_IS_COLUMN_VIEW (widget) || GTK_IS_LIST_BOX (widget) || GTK_IS_LIST_BOX_ROW (widget) ||
         GTK_IS_PROGRESS_BAR (widget) || GTK_IS_EXPANDER (widget) || GTK_IS_DRAWING_AREA (widget);
}

/* GTK 4.8 names a button by a plain label of its own; by an icon or a mnemonic it does not. */
static gboolean
is_named (GtkWidget *widget)
{
  const char *label = NULL;

  /* The focus of a drop-down is in its button. */
  if (GTK_IS_DROP_DOWN (widget))
    return gtk_test_accessible_has_property (GTK_ACCESSIBLE (gtk_widget_get_first_child (widget)), GTK_ACCESSIBLE_PROPERTY_LABEL);
  if (gtk_test_accessible_has_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_LABEL) ||
      gtk_test_accessible_has_relation (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_RELATION_LABELLED_BY))
    return TRUE;
  if (GTK_IS_BUTTON (widget) && !gtk_button_get_use_underline (GTK_BUTTON (widget)))
    label = gtk_button_get_label (GTK_BUTTON (widget));
  else if (GTK_IS_CHECK_BUTTON (widget) && !gtk_check_button_get_use_underline (GTK_CHECK_BUTTON (widget)))
    label = gtk_check_button_get_label (GTK_CHECK_BUTTON (widget));
  return label != NULL && *label != '\0';
}

/* GTK 4.8 reads a name that is given, and the words that the widget is labelled by behind it; an image has none. */
static void
check_said_once (GtkWidget  *widget,
                 const char *where)
{
  if ((GTK_IS_BUTTON (widget) && gtk_button_get_icon_name (GTK_BUTTON (widget)) != NULL)
      || !gtk_test_accessible_has_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_LABEL)
      || !gtk_test_accessible_has_relation (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_RELATION_LABELLED_BY))
    return;
  g_test_message ("%s: a %s (%s) says its name twice", where, G_OBJECT_TYPE_NAME (widget), gtk_buildable_get_buildable_id (GTK_BUILDABLE (widget)));
  g_test_fail ();
}

/* What cannot be pressed says why, to the eye and to assistive technology. */
static void
check_grey (GtkWidget  *widget,
            const char *where)
{
  if (!GTK_IS_BUTTON (widget) || !gtk_widget_get_mapped (widget) || gtk_widget_is_sensitive (widget))
    return;
  if (gtk_widget_get_tooltip_text (widget) != NULL
      && gtk_test_accessible_has_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION))
    return;
  g_test_message ("%s: a grey %s (%s, “%s”) does not say why", where, G_OBJECT_TYPE_NAME (widget),
                  gtk_buildable_get_buildable_id (GTK_BUILDABLE (widget)), gtk_button_get_label (GTK_BUTTON (widget)));
  g_test_fail ();
}

guint
test_check_names (GtkWidget  *widget,
                  const char *where)
{
  guint n = 0;

  if (!gtk_widget_get_visible (widget))
    return 0;
  check_grey (widget, where);
  if (needs_name (widget))
    {
      n++;
      check_said_once (widget, where);
      if (!is_named (widget))
        {
          g_test_message ("%s: a %s (%s) has no name", where, G_OBJECT_TYPE_NAME (widget),
                          gtk_buildable_get_buildable_id (GTK_BUILDABLE (widget)));
          if (GTK_IS_DROP_DOWN (widget))
            g_test_message ("  name it by wb_accessible_name_drop_down");
          g_test_fail ();
        }
    }
  if (is_closed_to_us (widget))
    return n;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
    n += test_check_names (child, where);
  return n;
}

static gint64
first_experiment (WbWindow *window)
{
  g_autoptr (WbAppExperiment) first = g_list_model_get_item (G_LIST_MODEL (wb_desk_get_experiments (wb_host_get_desk (WB_HOST (window)))), 0);

  g_assert_nonnull (first);
  return wb_app_experiment_get_id (first);
}

static void
test_every_place (void)
{
  WbWindow *window = test_window_new_demo_learnt ();
  gint64 experiment = first_experiment (window);
  guint n = 0;

  for (const WbPlace *place = wb_places_get (); place->name != NULL; place++)
    {
      g_test_message ("%s", place->name);
      g_assert_true (wb_window_go (window, place->name, experiment));
      test_settle (window);
      g_assert_true (WB_IS_PAGE (wb_window_get_page (window)));
      g_assert_true (gtk_widget_get_mapped (GTK_WIDGET (wb_window_get_page (window))));
      n += test_check_names (GTK_WIDGET (window), place->name);
    }
  g_assert_cmpuint (n, >, 20);
  test_window_destroy (window);
}

/* A page that is made, never shown and let go is as good as one that was. */
static void
test_alone (void)
{
  for (const WbPlace *place = wb_places_get (); place->name != NULL; place++)
    {
      WbPage *page = g_object_ref_sink (g_object_new (place->get_type (), NULL));

      g_test_message ("%s", place->name);
      wb_page_update_actions (page);
      g_assert_null (wb_page_get_notebook (page));
      g_assert_true (wb_page_leave (page));
      g_assert_finalize_object (page);
    }
}

static gboolean
is_gone (gpointer weak)
{
  return *(gpointer *) weak == NULL;
}

/* What a dialog has asked the record for may hold it until the answer comes. */
static void
show_and_destroy (GtkWidget  *dialog,
                  const char *where)
{
  gpointer weak = dialog;

  gtk_window_present (GTK_WINDOW (dialog));
  while (g_main_context_iteration (NULL, FALSE))
    ;
  test_check_names (dialog, where);
  g_object_add_weak_pointer (G_OBJECT (dialog), &weak);
  gtk_window_destroy (GTK_WINDOW (dialog));
  test_wait (is_gone, &weak);
}

static gboolean
is_loaded (gpointer amend)
{
  return wb_app_live_list_get_loaded (WB_APP_LIVE_LIST (amend));
}

/* One for each kind of record. */
static void
show_amend_dialogs (WbWindow *window,
                    gint64    sample)
{
  g_autoptr (WbAppAmend) amend = wb_app_amend_new (test_notebook (window), sample);
  const WbRecordType *shown = NULL;

  test_wait (is_loaded, amend);
  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (amend)); i++)
    {
      g_autoptr (WbAppAmendItem) item = g_list_model_get_item (G_LIST_MODEL (amend), i);
      const WbRecord *record = wb_app_amend_item_get_record (item);

      if (record->type != shown)
        show_and_destroy (wb_amend_dialog_new (GTK_WIDGET (window), test_notebook (window), amend, item, 80, FALSE), record->type->name);
      shown = record->type;
      if (i == 0)
        show_and_destroy (wb_history_dialog_new (GTK_WIDGET (window), test_notebook (window), item, "T1", FALSE), "history");
    }
}

static void
test_bench_dialogs (void)
{
  WbWindow *window = test_window_new_demo ();
  WbAppBench *bench = wb_desk_get_bench (wb_host_get_desk (WB_HOST (window)));
  WbAppBenchSample *sample;
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "exchange", "data", "logger-comma.csv", NULL);
  g_autoptr (GFile) file = g_file_new_for_path (path);

  show_and_destroy (wb_logger_dialog_new (GTK_WIDGET (window), test_notebook (window), wb_app_bench_get_next_due (bench), file, FALSE),
                    "logger's file");
  show_and_destroy (wb_bench_check_new (GTK_WIDGET (window), "Wren"), "check before the first light");
  show_and_destroy (wb_found_dialog_new (GTK_WIDGET (window), bench), "burns found open");
  show_and_destroy (wb_aside_dialog_new (GTK_WIDGET (window), bench, wb_app_bench_get_next_due (bench)), "set aside");
  show_and_destroy (wb_retain_dialog_new (GTK_WIDGET (window), test_notebook (window),
                                          wb_app_bench_sample_get_record (wb_app_bench_get_next_due (bench))), "keep as a reference");
  show_amend_dialogs (window, wb_app_bench_sample_get_id (wb_app_bench_get_next_due (bench)));
  sample = wb_app_bench_get_next_due (bench);
  show_and_destroy (wb_blind_dialog_new (GTK_WIDGET (window), wb_host_get_desk (WB_HOST (window))), "rate blind");
  show_and_destroy (wb_inspection_dialog_new (GTK_WIDGET (window), test_notebook (window), sample, "Wren"), "look at an unlit sample");
  show_and_destroy (wb_caution_window_new (GTK_WINDOW (window)), "cautions");
  test_window_destroy (window);
}

static void
on_answer_cb (WbQuestionAnswer answer,
              gpointer         user)
{
}

static void
test_dialogs (void)
{
  WbWindow *window = test_window_new_demo ();
  g_autoptr (WbAppSettings) settings = wb_app_settings_new ();
  g_autoptr (WbRecord) lot = wb_record_new (&wb_lot_type);
  g_autofree char *sheet = g_test_build_filename (G_TEST_DIST, "exchange", "data", "sheet-us-hours.csv", NULL);
  g_autoptr (WbPaper) paper = NULL;
  g_autoptr (GPtrArray) vessels = NULL;
  g_autoptr (GError) error = NULL;

  vessels = wb_app_query_list_sync (test_notebook (window), &wb_vessel_type, &error);
  g_assert_no_error (error);
  show_and_destroy (wb_measure_dialog_new (GTK_WIDGET (window), test_notebook (window), vessels->pdata[0], vessels), "measure");
  wb_question_choose_of_three (GTK_WIDGET (window), "Which?", "One of three", "_None", "_Other", "_Yes", on_answer_cb, NULL);
  test_check_names (test_find_window (GTK_TYPE_MESSAGE_DIALOG), "question");
  gtk_window_destroy (GTK_WINDOW (test_find_window (GTK_TYPE_MESSAGE_DIALOG)));
  show_and_destroy (wb_import_dialog_new (GTK_WIDGET (window), test_notebook (window), sheet), "import");
  show_and_destroy (wb_mapping_dialog_new (GTK_WIDGET (window), test_notebook (window), sheet), "mapping");
  show_and_destroy (wb_preferences_new (GTK_WINDOW (window), settings, test_notebook (window)), "preferences");
  show_and_destroy (wb_preferences_new (GTK_WINDOW (window), settings, NULL), "preferences without a notebook");
  show_and_destroy (wb_restore_dialog_new (GTK_WIDGET (window), wb_app_notebook_get_path (test_notebook (window)), NULL, "Damaged"), "restore");
  show_and_destroy (wb_record_dialog_new (GTK_WIDGET (window), test_notebook (window), "Lot", "Add a lot", lot, NULL), "record dialog");
  paper = wb_paper_new (wb_report_document_new (WB_REPORT_A4, "Paper", NULL, NULL));
  show_and_destroy (wb_paper_dialog_new (GTK_WIDGET (window), paper, "Paper", "paper"), "paper dialog");
  test_window_destroy (window);
}

static void
test_shortcuts_window (void)
{
  WbWindow *window = test_window_new ();
  GtkWidget *shortcuts = wb_shortcuts_window_new (GTK_WINDOW (window));

  gtk_window_present (GTK_WINDOW (shortcuts));
  while (g_main_context_iteration (NULL, FALSE))
    ;
  gtk_window_destroy (GTK_WINDOW (shortcuts));
  test_window_destroy (window);
}

void
test_templates_add (void)
{
  g_test_add_func ("/views/templates/each-page-comes-and-goes-alone", test_alone);
  g_test_add_func ("/views/templates/each-page-shows-and-names-its-controls", test_every_place);
  g_test_add_func ("/views/templates/each-dialog-shows-and-names-its-controls", test_dialogs);
  g_test_add_func ("/views/templates/each-dialog-of-the-bench-names-its-controls", test_bench_dialogs);
  g_test_add_func ("/views/templates/the-shortcuts-have-a-window", test_shortcuts_window);
}
