/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "bench-page.h"
#include "test-bench.h"

#include "wb-amend-dialog.h"
#include "wb-app-blind.h"
#include "wb-app-query.h"
#include "wb-aside-dialog.h"
#include "wb-blind-dialog.h"
#include "wb-burn-page.h"
#include "wb-clock.h"
#include "wb-decision-dialog.h"
#include "wb-finish-dialog.h"
#include "wb-found-dialog.h"
#include "wb-history-dialog.h"
#include "wb-inspection-dialog.h"
#include "wb-logger-dialog.h"
#include "wb-lot-dialog.h"
#include "wb-measure-dialog.h"
#include "wb-paper-dialog.h"
#include "wb-pick-dialog.h"
#include "wb-production-dialog.h"
#include "wb-photo-dialog.h"
#include "wb-preferences.h"
#include "wb-problem-bar.h"
#include "wb-rating-bar.h"
#include "wb-record-dialog.h"
#include "wb-restore-dialog.h"
#include "wb-record-form.h"
#include "wb-retain-dialog.h"
#include "wb-sample-dialog.h"
#include "wb-shelf-dialog.h"
#include "wb-sizes-dialog.h"
#include "wb-withdraw-dialog.h"

#include <gdk-pixbuf/gdk-pixbuf.h>
#include <glib/gstdio.h>

/* A window on the page Burn, its first sample alight, with what the dialogs are about. */
typedef struct
{
  Bench             bench;
  WbAppNotebook    *notebook; /* owned: it is asked after the window is gone */
  WbAppBenchSample *lit;
  WbAppBenchSample *unlit;
} Page;

static void
page_open (Page *page)
{
  bench_open (&page->bench, 2, "pool_mm,flame_mm");
  page->notebook = g_object_ref (test_notebook (page->bench.window));
  page->lit = g_object_ref (test_bench_light_first (page->bench.bench));
  page->unlit = g_object_ref (bench_find_sample (&page->bench, "T2"));
}

/* What was on its way holds the notebook until it has come back. */
static void
page_close (Page *page)
{
  gpointer weak = page->notebook;

  g_clear_object (&page->lit);
  g_clear_object (&page->unlit);
  g_object_add_weak_pointer (weak, &weak);
  g_object_unref (page->notebook);
  while (weak != NULL)
    g_main_context_iteration (NULL, TRUE);
  g_free (page->bench.path);
}

static void
write_in (GtkWidget  *dialog,
          const char *id,
          const char *text)
{
  gtk_editable_set_text (GTK_EDITABLE (test_child (dialog, id)), text);
}

/* ---- Each dialog with a call on its way ---- */

static GtkWidget *
ask_aside (Page *page)
{
  GtkWidget *dialog = wb_aside_dialog_new (GTK_WIDGET (page->bench.window), page->bench.bench, page->unlit);

  gtk_window_present (GTK_WINDOW (dialog));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (test_child (dialog, "cause")), 0);
  bench_click (dialog, "save");
  return dialog;
}

static GtkWidget *
ask_lot (Page *page)
{
  GtkWidget *dialog = wb_lot_dialog_new (GTK_WIDGET (page->bench.window), test_notebook (page->bench.window), 1, "W-107");

  gtk_window_present (GTK_WINDOW (dialog));
  return dialog;
}

static GtkWidget *
ask_retain (Page *page)
{
  GtkWidget *dialog = wb_retain_dialog_new (GTK_WIDGET (page->bench.window), test_notebook (page->bench.window),
                                            wb_app_bench_sample_get_record (page->unlit));

  gtk_window_present (GTK_WINDOW (dialog));
  gtk_editable_set_text (GTK_EDITABLE (test_child (dialog, "place")), "Box 3");
  bench_click (dialog, "save");
  return dialog;
}

static GtkWidget *
ask_inspection (Page *page)
{
  GtkWidget *dialog = wb_inspection_dialog_new (GTK_WIDGET (page->bench.window), page->notebook, page->unlit, "Robin");

  gtk_window_present (GTK_WINDOW (dialog));
  wb_inspection_dialog_press (WB_INSPECTION_DIALOG (dialog), GDK_KEY_n);
  gtk_editable_set_text (GTK_EDITABLE (gtk_root_get_focus (GTK_ROOT (dialog))), "a rim of frost");
  bench_click (dialog, "save");
  return dialog;
}

/* Whatever sample at the bench carries digits: they are drawn before. */
static void
on_digits_drawn_cb (GObject      *source,
                    GAsyncResult *result,
                    gpointer      drawn)
{
  *(gboolean *) drawn = wb_app_blind_draw_finish (WB_APP_NOTEBOOK (source), result, NULL);
}

static gboolean
carries_digits (gpointer user)
{
  Page *page = user;
  WbAppBenchSample *sample = wb_app_bench_find (page->bench.bench, wb_app_bench_sample_get_id (page->unlit));

  return sample != NULL && wb_app_blind_get_code (sample) > 0;
}

static GtkWidget *
ask_blind (Page *page)
{
  GtkWidget *dialog;
  g_autofree char *digits = NULL;
  gboolean drawn = FALSE;

  wb_app_blind_draw_async (page->bench.bench, page->notebook, wb_app_bench_sample_get_experiment (page->unlit), NULL, on_digits_drawn_cb, &drawn);
  test_wait (test_is_true, &drawn);
  test_wait (carries_digits, page);
  dialog = wb_blind_dialog_new (GTK_WIDGET (page->bench.window), wb_host_get_desk (WB_HOST (page->bench.window)));
  gtk_window_present (GTK_WINDOW (dialog));
  digits = g_strdup_printf ("%u", wb_app_blind_get_code (wb_app_bench_find (page->bench.bench, wb_app_bench_sample_get_id (page->unlit))));
  write_in (dialog, "rater", "Robin");
  write_in (dialog, "digits", digits);
  wb_rating_bar_set_value (WB_RATING_BAR (test_find (dialog, WB_TYPE_RATING_BAR)), 3);
  g_signal_emit_by_name (test_find (dialog, WB_TYPE_RATING_BAR), "changed");
  bench_click (dialog, "save");
  return dialog;
}

static GtkWidget *
ask_found (Page *page)
{
  GtkWidget *dialog = wb_found_dialog_new (GTK_WIDGET (page->bench.window), page->bench.bench);

  gtk_window_present (GTK_WINDOW (dialog));
  /* It was snuffed, and nobody knows when. */
  gtk_drop_down_set_selected (GTK_DROP_DOWN (test_find (dialog, GTK_TYPE_DROP_DOWN)), 1);
  gtk_check_button_set_active (GTK_CHECK_BUTTON (test_find (test_child (dialog, "grid"), GTK_TYPE_CHECK_BUTTON)), TRUE);
  bench_click (dialog, "save");
  return dialog;
}

static GtkWidget *
ask_record (Page *page)
{
  g_autoptr (GPtrArray) vessels = wb_app_query_list_sync (page->notebook, &wb_vessel_type, NULL);
  GtkWidget *dialog;

  g_assert_cmpuint (vessels->len, >, 0);
  dialog = wb_record_dialog_new (GTK_WIDGET (page->bench.window), page->notebook, "A vessel", "Change a vessel", g_ptr_array_index (vessels, 0), NULL);
  gtk_window_present (GTK_WINDOW (dialog));
  bench_click (dialog, "save");
  return dialog;
}

/* A stored vessel, saved as it is measured already. */
static GtkWidget *
ask_measure (Page *page)
{
  g_autoptr (GPtrArray) vessels = wb_app_query_list_sync (page->notebook, &wb_vessel_type, NULL);
  GtkWidget *dialog = wb_measure_dialog_new (GTK_WIDGET (page->bench.window), page->notebook, g_ptr_array_index (vessels, 0), vessels);

  gtk_window_present (GTK_WINDOW (dialog));
  bench_click (dialog, "save");
  return dialog;
}

static GtkWidget *
ask_sizes (Page *page)
{
  g_autoptr (WbAppMaterials) materials = wb_app_query_materials_sync (page->notebook, NULL);
  GtkWidget *dialog = wb_sizes_dialog_new (GTK_WIDGET (page->bench.window), page->notebook, NULL, materials);

  gtk_window_present (GTK_WINDOW (dialog));
  gtk_editable_set_text (GTK_EDITABLE (test_find (test_child (dialog, "series"), GTK_TYPE_ENTRY)), "Tarn");
  write_in (dialog, "sizes", "1 to 8");
  bench_click (dialog, "save");
  return dialog;
}

static gboolean
may_import (gpointer dialog)
{
  return gtk_widget_get_sensitive (test_child (dialog, "import"));
}

/* Materials of a file that is being looked through. */
static GtkWidget *
ask_look (Page *page)
{
  g_autofree char *path = test_path ("shelf.csv");
  GtkWidget *dialog;

  g_assert_true (g_file_set_contents (path, "record,name\nwax,Teal\n", -1, NULL));
  dialog = wb_shelf_dialog_new (GTK_WIDGET (page->bench.window), page->notebook, NULL, path);
  gtk_window_present (GTK_WINDOW (dialog));
  return dialog;
}

static GtkWidget *
ask_shelf (Page *page)
{
  GtkWidget *dialog = ask_look (page);

  test_wait (may_import, dialog);
  bench_click (dialog, "import");
  return dialog;
}

static gboolean
has_paper (gpointer user)
{
  return test_find_window (WB_TYPE_PAPER_DIALOG) != NULL;
}

static GtkWidget *
ask_settings (Page *page)
{
  g_autoptr (WbAppSettings) settings = wb_app_settings_new ();
  GtkWidget *dialog = wb_preferences_new (GTK_WINDOW (page->bench.window), settings, page->notebook);

  gtk_window_present (GTK_WINDOW (dialog));
  gtk_editable_set_text (GTK_EDITABLE (test_find (test_child (dialog, "form"), GTK_TYPE_TEXT)), "An invented bench book");
  bench_click (dialog, "save");
  return dialog;
}

/* A log sheet's PDF. */
static GtkWidget *
ask_paper (Page *page)
{
  g_autofree char *path = test_path ("paper.pdf");
  GtkWidget *dialog;

  gtk_widget_activate_action (GTK_WIDGET (page->bench.window), "win.log-sheet", NULL);
  test_wait (has_paper, NULL);
  dialog = test_find_window (WB_TYPE_PAPER_DIALOG);
  wb_paper_dialog_write (WB_PAPER_DIALOG (dialog), path);
  return dialog;
}

static GtkWidget *
ask_backups (Page *page)
{
  GtkWidget *dialog = wb_restore_dialog_new (GTK_WIDGET (page->bench.window), page->bench.path, "Robin", NULL);

  gtk_window_present (GTK_WINDOW (dialog));
  return dialog;
}

static GtkWidget *
ask_salvage (Page *page)
{
  GtkWidget *dialog = wb_restore_dialog_new (GTK_WIDGET (page->bench.window), page->bench.path, "Robin", "It is damaged.");

  gtk_window_present (GTK_WINDOW (dialog));
  bench_click (dialog, "salvage");
  return dialog;
}

static gboolean
is_read (gpointer list)
{
  return wb_app_live_list_get_loaded (list);
}

/* What may be taken out of the lit sample's burn; the list outlives it in `list`. */
static WbAppAmendItem *
find_item (WbAppAmend *amend)
{
  test_wait (is_read, amend);
  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (amend)); i++)
    {
      g_autoptr (WbAppAmendItem) item = g_list_model_get_item (G_LIST_MODEL (amend), i);

      if (wb_app_amend_item_may_take_out (item))
        return item;
    }
  g_assert_not_reached ();
}

static void
add_reading (Page *page)
{
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (wb_record_free);
  g_autoptr (GError) error = NULL;
  WbReading *reading = wb_record_new (&wb_reading_type);

  reading->burn = wb_app_bench_sample_get_burn (page->lit)->record.id;
  reading->elapsed_min = 30;
  reading->source = WB_SOURCE_TYPED;
  reading->values[WB_COLUMN_FLAME_MM] = 18;
  g_ptr_array_add (records, reading);
  wb_app_notebook_save_sync (page->notebook, "Log a reading", records, NULL, &error);
  g_assert_no_error (error);
}

static GtkWidget *
ask_amend (Page *page)
{
  g_autoptr (WbAppAmend) amend = NULL;
  GtkWidget *dialog;

  add_reading (page);
  amend = wb_app_amend_new (page->notebook, wb_app_bench_sample_get_id (page->lit));
  dialog = wb_amend_dialog_new (GTK_WIDGET (page->bench.window), page->notebook, amend, find_item (amend), 80, FALSE);
  gtk_window_present (GTK_WINDOW (dialog));
  write_in (dialog, "reason", "of another candle");
  bench_click (dialog, "take_out");
  return dialog;
}

static GtkWidget *
ask_history (Page *page)
{
  g_autoptr (WbAppAmend) amend = NULL;
  GtkWidget *dialog;

  add_reading (page);
  amend = wb_app_amend_new (page->notebook, wb_app_bench_sample_get_id (page->lit));
  dialog = wb_history_dialog_new (GTK_WIDGET (page->bench.window), page->notebook, find_item (amend), "T1", FALSE);
  gtk_window_present (GTK_WINDOW (dialog));
  return dialog;
}

static GtkWidget *
ask_logger (Page *page)
{
  g_autofree char *path = test_path ("wall.csv");
  g_autoptr (GFile) file = g_file_new_for_path (path);
  GtkWidget *dialog;

  g_assert_true (g_file_set_contents (path, "Minutes,Wall (C)\n0,21\n10,48\n", -1, NULL));
  dialog = wb_logger_dialog_new (GTK_WIDGET (page->bench.window), page->notebook, page->lit, file, FALSE);
  gtk_window_present (GTK_WINDOW (dialog));
  return dialog;
}

static gboolean
has_photo (gpointer strip)
{
  WbAppAttachments *photos = wb_photo_strip_get_photos (strip);

  return photos != NULL && g_list_model_get_n_items (G_LIST_MODEL (photos)) == 1;
}

/* Opened, which reads it and its burns. */
static GtkWidget *
open_photo (Page *page)
{
  WbPhotoStrip *strip = wb_burn_page_get_photos (page->bench.page);
  g_autofree char *path = test_path ("photo.jpg");
  g_autoptr (GdkPixbuf) pixbuf = gdk_pixbuf_new (GDK_COLORSPACE_RGB, FALSE, 8, 300, 200);
  g_autoptr (GListStore) files = g_list_store_new (G_TYPE_FILE);
  g_autoptr (GFile) file = g_file_new_for_path (path);
  g_autoptr (WbAppAttachmentsItem) item = NULL;
  GtkWidget *dialog;

  gdk_pixbuf_fill (pixbuf, 0x203040ff);
  g_assert_true (gdk_pixbuf_save (pixbuf, path, "jpeg", NULL, NULL));
  g_list_store_append (files, file);
  gtk_widget_activate_action (GTK_WIDGET (page->bench.window), "page.choose", "x", wb_app_bench_sample_get_id (page->lit));
  wb_photo_strip_add_files (strip, page->lit, G_LIST_MODEL (files));
  test_wait (has_photo, strip);
  item = g_list_model_get_item (G_LIST_MODEL (wb_photo_strip_get_photos (strip)), 0);
  dialog = wb_photo_dialog_new (GTK_WIDGET (page->bench.window), page->notebook, item, wb_app_bench_sample_get_id (page->lit), "T1");
  gtk_window_present (GTK_WINDOW (dialog));
  return dialog;
}

static GtkWidget *
ask_photo (Page *page)
{
  GtkWidget *dialog = open_photo (page);

  write_in (dialog, "note", "tall flame");
  bench_click (dialog, "save");
  return dialog;
}

static GtkWidget *
ask_photo_copy (Page *page)
{
  GtkWidget *dialog = open_photo (page);
  g_autofree char *path = test_path ("copy.jpg");

  wb_photo_dialog_save_copy (WB_PHOTO_DIALOG (dialog), path);
  return dialog;
}

/* ---- Deciding and comparing ---- */

/* Its answer is on its way. */
static GtkWidget *
ask_decision (Page *page)
{
  GtkWidget *dialog = wb_decision_dialog_new (GTK_WIDGET (page->bench.window), wb_host_get_desk (WB_HOST (page->bench.window)),
                                              wb_app_bench_sample_get_experiment (page->lit), 0);

  gtk_window_present (GTK_WINDOW (dialog));
  return dialog;
}

static gboolean
may_sign (gpointer dialog)
{
  return gtk_widget_get_sensitive (test_child (dialog, "sign"));
}

static void
write_field (GtkWidget  *dialog,
             const char *name,
             const char *text)
{
  GtkWidget *field = wb_record_form_get_field (WB_RECORD_FORM (test_child (dialog, "form")), name);
  GtkWidget *view = test_find (field, GTK_TYPE_TEXT_VIEW);

  if (view != NULL)
    gtk_text_buffer_set_text (gtk_text_view_get_buffer (GTK_TEXT_VIEW (view)), text, -1);
  else
    gtk_editable_set_text (GTK_EDITABLE (test_find (field, GTK_TYPE_ENTRY)), text);
}

static GtkWidget *
ask_signature (Page *page)
{
  GtkWidget *dialog = ask_decision (page);

  test_wait (may_sign, dialog);
  write_field (dialog, "signed_by", "Robin");
  write_field (dialog, "against", "A first try, burnt in company.");
  bench_click (dialog, "sign");
  g_assert_false (gtk_widget_get_sensitive (test_child (dialog, "sign")));
  return dialog;
}

static WbCraftAnswer *
work_out (Page *page)
{
  g_autoptr (GError) error = NULL;
  WbCraftAnswer *answer = wb_app_answers_compute_sync (page->notebook, wb_app_bench_sample_get_experiment (page->lit), WB_CRAFT_WITHIN_SCENT, 0,
                                                       NULL, &error);

  g_assert_no_error (error);
  return answer;
}

static WbAppDecisions *
read_signed (Page          *page,
             WbCraftAnswer *answer)
{
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (wb_record_free);
  g_autoptr (GError) error = NULL;
  WbDecision *decision = wb_record_new (&wb_decision_type);
  WbAppDecisions *decisions;

  decision->experiment = answer->data->experiment->record.id;
  decision->cell = wb_dataset_get_cell (answer->data, 0)->record.id;
  decision->signed_by = g_strdup ("Robin");
  decision->signed_at = wb_clock_now (wb_clock_get ());
  g_ptr_array_add (records, decision);
  wb_app_notebook_save_sync (page->notebook, "Sign", records, NULL, &error);
  g_assert_no_error (error);
  decisions = wb_app_decisions_sync (page->notebook, answer->data->experiment->record.id, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (decisions->decisions->len, ==, 1);
  return decisions;
}

static GtkWidget *
ask_withdraw (Page *page)
{
  g_autoptr (WbCraftAnswer) answer = work_out (page);
  g_autoptr (WbAppDecisions) decisions = read_signed (page, answer);
  GtkWidget *dialog = wb_withdraw_dialog_new (GTK_WIDGET (page->bench.window), page->notebook, decisions->decisions->pdata[0]);

  gtk_window_present (GTK_WINDOW (dialog));
  write_in (dialog, "why", "The glass is no longer made.");
  bench_click (dialog, "withdraw");
  return dialog;
}

static GtkWidget *
ask_finish (Page *page)
{
  g_autoptr (WbCraftAnswer) answer = work_out (page);
  GtkWidget *dialog = wb_finish_dialog_new (GTK_WIDGET (page->bench.window), page->notebook, answer->data->experiment);

  gtk_window_present (GTK_WINDOW (dialog));
  write_in (dialog, "why", "Each wick floods the glass.");
  bench_click (dialog, "finish");
  return dialog;
}

/* A production sheet that is being laid out. */
static GtkWidget *
ask_production (Page *page)
{
  g_autoptr (WbCraftAnswer) answer = work_out (page);
  g_autoptr (WbAppDecisions) decisions = read_signed (page, answer);
  GtkWidget *dialog = wb_production_dialog_new (GTK_WIDGET (page->bench.window), page->notebook, answer->data, decisions->decisions->pdata[0]);

  gtk_window_present (GTK_WINDOW (dialog));
  bench_click (dialog, "make");
  return dialog;
}

static GtkWidget *
ask_picks (Page *page)
{
  WbDesk *desk = wb_host_get_desk (WB_HOST (page->bench.window));
  g_autoptr (WbPicks) picks = wb_picks_new (desk);
  GtkWidget *dialog = wb_pick_dialog_new (GTK_WIDGET (page->bench.window), desk, picks, wb_app_bench_sample_get_experiment (page->lit));

  gtk_window_present (GTK_WINDOW (dialog));
  return dialog;
}

static GtkWidget *
ask_sample (Page *page)
{
  g_autoptr (WbCraftAnswer) answer = work_out (page);
  GtkWidget *dialog = wb_sample_dialog_new (GTK_WIDGET (page->bench.window), wb_host_get_desk (WB_HOST (page->bench.window)), answer->data, 0, 0);

  gtk_window_present (GTK_WINDOW (dialog));
  return dialog;
}

typedef struct
{
  const char *name;
  GtkWidget *(*ask) (Page *page);
} Case;

static const Case cases[] = {
  { "a-sample-set-aside", ask_aside },
  { "a-look-at-an-unlit-sample", ask_inspection },
  { "a-rating-by-digits", ask_blind },
  { "where-a-lot-was-used", ask_lot },
  { "a-reference", ask_retain },
  { "burns-that-were-found", ask_found },
  { "a-record", ask_record },
  { "a-measured-vessel", ask_measure },
  { "sizes-of-a-series", ask_sizes },
  { "materials-looked-through", ask_look },
  { "materials-brought-in", ask_shelf },
  { "the-notebook-s-settings", ask_settings },
  { "a-paper", ask_paper },
  { "the-list-of-backups", ask_backups },
  { "a-salvage", ask_salvage },
  { "an-amendment", ask_amend },
  { "a-history", ask_history },
  { "a-logger-s-file", ask_logger },
  { "a-photo", ask_photo },
  { "a-copy-of-a-photo", ask_photo_copy },
  { "a-decision", ask_decision },
  { "a-signature", ask_signature },
  { "a-withdrawal", ask_withdraw },
  { "an-end-without-a-decision", ask_finish },
  { "a-production-sheet", ask_production },
  { "a-chooser", ask_picks },
  { "a-sample-looked-up", ask_sample },
};

/* A call is on its way; *dialog is NULL as soon as its dialog is gone. */
static void
begin (Page       *page,
       const Case *one,
       gpointer   *dialog)
{
  page_open (page);
  *dialog = one->ask (page);
  g_object_add_weak_pointer (*dialog, dialog);
}

/* The dialog goes with its window at once, and what comes back later finds nobody: nothing of either is read any more. */
static void
test_window_goes (gconstpointer data)
{
  Page page = { NULL };
  gpointer dialog;

  begin (&page, data, &dialog);
  gtk_window_destroy (GTK_WINDOW (page.bench.window));
  g_assert_null (dialog);
  page_close (&page);
}

/* The same where a person closes the dialog and the window stays. */
static void
test_dialog_goes (gconstpointer data)
{
  Page page = { NULL };
  gpointer dialog;

  begin (&page, data, &dialog);
  gtk_window_destroy (GTK_WINDOW (dialog));
  test_settle (page.bench.window);
  g_assert_null (dialog);
  test_window_destroy (page.bench.window);
  page_close (&page);
}

static gboolean
is_told (gpointer window)
{
  return g_strcmp0 (wb_problem_bar_get_heading (wb_host_get_problem_bar (window)), "The sample was not set aside") == 0;
}

/* Who closes the dialog before it is saved still learns that it was not. */
static void
test_told_in_window (void)
{
  Page page = { NULL };
  GtkWidget *dialog;
  g_autofree char *away = NULL;

  page_open (&page);
  away = g_strconcat (page.bench.path, " moved", NULL);
  g_assert_cmpint (g_rename (page.bench.path, away), ==, 0);
  dialog = ask_aside (&page);
  gtk_window_destroy (GTK_WINDOW (dialog));
  test_wait (is_told, page.bench.window);
  g_assert_cmpint (g_rename (away, page.bench.path), ==, 0);
  test_window_destroy (page.bench.window);
  page_close (&page);
}

void
test_weak_widget_add (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *window = g_strconcat ("/views/weak-widget/the-window-goes-before-the-answer-to-", cases[i].name, NULL);
      g_autofree char *dialog = g_strconcat ("/views/weak-widget/the-dialog-goes-before-the-answer-to-", cases[i].name, NULL);

      g_test_add_data_func (window, &cases[i], test_window_goes);
      g_test_add_data_func (dialog, &cases[i], test_dialog_goes);
    }
  g_test_add_func ("/views/weak-widget/what-is-not-saved-is-told-in-the-window", test_told_in_window);
}
