/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "bench-page.h"

#include "wb-app-blind.h"
#include "wb-app-query.h"
#include "wb-blind-dialog.h"
#include "wb-rating-bar.h"
#include "wb-report-label-code.h"

#include <string.h>

/* Ratings by three digits: saved, and only then is it told whose they are. */

typedef struct
{
  Bench             bench;
  GtkWidget        *dialog;
  WbAppBenchSample *sample;
  char              digits[4];
} Blind;

static void
on_drawn_cb (GObject      *source,
             GAsyncResult *result,
             gpointer      drawn)
{
  g_autoptr (GError) error = NULL;

  *(gboolean *) drawn = wb_app_blind_draw_finish (WB_APP_NOTEBOOK (source), result, &error);
  g_assert_no_error (error);
}

static gboolean
has_digits (gpointer user)
{
  Blind *blind = user;

  blind->sample = wb_reading_panel_get_sample (bench_get_panel (&blind->bench));
  return wb_app_blind_get_code (blind->sample) > 0;
}

static void
open_dialog (Blind *blind)
{
  gtk_widget_activate_action (GTK_WIDGET (blind->bench.window), "win.rate-blind", NULL);
  for (guint i = 0; i < g_list_model_get_n_items (gtk_window_get_toplevels ()); i++)
    {
      g_autoptr (GtkWidget) window = g_list_model_get_item (gtk_window_get_toplevels (), i);

      if (WB_IS_BLIND_DIALOG (window))
        blind->dialog = window;
    }
  g_assert_nonnull (blind->dialog);
  gtk_editable_set_text (GTK_EDITABLE (test_child (blind->dialog, "rater")), "Wren");
}

static void
blind_open (Blind *blind)
{
  gboolean drawn = FALSE;

  memset (blind, 0, sizeof *blind);
  bench_open (&blind->bench, 2, "flame");
  wb_app_blind_draw_async (blind->bench.bench, test_notebook (blind->bench.window), wb_page_get_experiment (WB_PAGE (blind->bench.page)), NULL,
                           on_drawn_cb, &drawn);
  test_wait (test_is_true, &drawn);
  test_wait (has_digits, blind);
  g_snprintf (blind->digits, sizeof blind->digits, "%u", wb_app_blind_get_code (blind->sample));
}

static void
blind_close (Blind *blind)
{
  if (blind->dialog != NULL)
    gtk_window_destroy (GTK_WINDOW (blind->dialog));
  test_settle (blind->bench.window);
  bench_close (&blind->bench);
}

/* All that stands in labels of the dialog. */
static void
gather (GtkWidget *widget,
        GString   *text)
{
  if (GTK_IS_LABEL (widget))
    g_string_append_printf (text, "%s\n", gtk_label_get_text (GTK_LABEL (widget)));
  if (GTK_IS_EDITABLE (widget))
    g_string_append_printf (text, "%s\n", gtk_editable_get_text (GTK_EDITABLE (widget)));
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
    gather (child, text);
}

static gboolean
tells (Blind *blind)
{
  g_autoptr (GString) text = g_string_new (gtk_window_get_title (GTK_WINDOW (blind->dialog)));

  gather (blind->dialog, text);
  return strstr (text->str, wb_app_bench_sample_get_code (blind->sample)) != NULL
         || strstr (text->str, wb_app_bench_sample_get_title (blind->sample)) != NULL;
}

static gboolean
is_saved (gpointer user)
{
  Blind *blind = user;

  return *gtk_label_get_text (GTK_LABEL (test_child (blind->dialog, "rated_words"))) != '\0'
         && *gtk_editable_get_text (GTK_EDITABLE (test_child (blind->dialog, "digits"))) == '\0';
}

static gboolean
has_problem (gpointer user)
{
  return gtk_widget_get_visible (test_child (((Blind *) user)->dialog, "problem"));
}

static void
rate (Blind *blind,
      int    rating)
{
  wb_rating_bar_set_value (WB_RATING_BAR (test_find (blind->dialog, WB_TYPE_RATING_BAR)), rating);
  g_signal_emit_by_name (test_find (blind->dialog, WB_TYPE_RATING_BAR), "changed");
  g_assert_true (gtk_widget_get_sensitive (test_child (blind->dialog, "save")));
  g_assert_false (tells (blind));
  g_signal_emit_by_name (test_child (blind->dialog, "save"), "clicked");
  test_wait (is_saved, blind);
}

/* An unlit one gets a look with its cold throw; before it is saved nothing tells whose digits they are. */
static void
test_unlit (void)
{
  Blind blind;
  g_autoptr (GPtrArray) looks = NULL;
  const WbInspection *look;

  blind_open (&blind);
  open_dialog (&blind);
  gtk_editable_set_text (GTK_EDITABLE (test_child (blind.dialog, "digits")), blind.digits);
  g_assert_cmpstr (gtk_label_get_text (GTK_LABEL (test_child (blind.dialog, "state"))), ==, "It is unlit: its cold throw");
  g_assert_false (gtk_widget_get_sensitive (test_child (blind.dialog, "save")));
  rate (&blind, 4);
  g_assert_true (tells (&blind));
  looks = wb_app_query_list_sync (test_notebook (blind.bench.window), &wb_inspection_type, NULL);
  g_assert_cmpuint (looks->len, ==, 1);
  look = g_ptr_array_index (looks, 0);
  g_assert_cmpint (look->sample, ==, wb_app_bench_sample_get_id (blind.sample));
  g_assert_cmpfloat (look->cold_throw, ==, 4);
  g_assert_cmpstr (look->rater, ==, "Wren");
  blind_close (&blind);
}

/* Where the person says so, it is told when everyone has rated. */
static void
test_told_at_the_end (void)
{
  Blind blind;

  blind_open (&blind);
  open_dialog (&blind);
  gtk_check_button_set_active (GTK_CHECK_BUTTON (test_child (blind.dialog, "later")), TRUE);
  gtk_editable_set_text (GTK_EDITABLE (test_child (blind.dialog, "digits")), blind.digits);
  rate (&blind, 2);
  g_assert_false (tells (&blind));
  g_assert_true (gtk_widget_get_visible (test_child (blind.dialog, "tell")));
  g_signal_emit_by_name (test_child (blind.dialog, "tell"), "clicked");
  g_assert_true (tells (&blind));
  g_assert_false (gtk_widget_get_visible (test_child (blind.dialog, "tell")));
  blind_close (&blind);
}

/* A burning one gets a reading of its burn, marked as blind. */
static void
test_alight (void)
{
  Blind blind;
  g_autoptr (GPtrArray) readings = NULL;
  guint rated = 0;

  blind_open (&blind);
  bench_light (&blind.bench, wb_app_bench_sample_get_code (blind.sample), 1);
  open_dialog (&blind);
  gtk_editable_set_text (GTK_EDITABLE (test_child (blind.dialog, "digits")), blind.digits);
  g_assert_cmpstr (gtk_label_get_text (GTK_LABEL (test_child (blind.dialog, "state"))), ==, "It burns: its hot throw");
  rate (&blind, 3);
  readings = wb_app_query_list_sync (test_notebook (blind.bench.window), &wb_reading_type, NULL);
  for (guint i = 0; i < readings->len; i++)
    {
      const WbReading *reading = g_ptr_array_index (readings, i);

      if (reading->values[WB_COLUMN_THROW] != 3)
        continue;
      rated++;
      g_assert_cmpfloat (reading->values[WB_COLUMN_THROW_BLIND], ==, 1);
      g_assert_cmpfloat (reading->values[WB_COLUMN_ALONE], ==, 1);
      g_assert_cmpstr (reading->rater, ==, "Wren");
    }
  g_assert_cmpuint (rated, ==, 1);
  /* what the window's undo says would tell who it was before all have rated */
  g_assert_null (strstr (wb_app_notebook_get_undo_label (test_notebook (blind.bench.window)), wb_app_bench_sample_get_code (blind.sample)));
  g_assert_nonnull (strstr (wb_app_notebook_get_undo_label (test_notebook (blind.bench.window)), blind.digits));
  blind_close (&blind);
}

/* A rating is of the sample that was in hand when it was chosen: another label takes it away. */
static void
test_next_label (void)
{
  Blind blind;
  WbRatingBar *bar;

  blind_open (&blind);
  open_dialog (&blind);
  bar = WB_RATING_BAR (test_find (blind.dialog, WB_TYPE_RATING_BAR));
  gtk_editable_set_text (GTK_EDITABLE (test_child (blind.dialog, "digits")), blind.digits);
  wb_rating_bar_set_value (bar, 4);
  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (blind.bench.bench)); i++)
    {
      g_autoptr (WbAppBenchSample) other = g_list_model_get_item (G_LIST_MODEL (blind.bench.bench), i);
      g_autofree char *label = wb_report_label_code_new (&wb_app_bench_sample_get_record (other)->uuid);

      if (other == blind.sample)
        continue;
      wb_blind_dialog_scan (WB_BLIND_DIALOG (blind.dialog), label);
      break;
    }
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (test_child (blind.dialog, "digits"))), !=, blind.digits);
  g_assert_cmpint (wb_rating_bar_get_value (bar), ==, -1);
  g_assert_false (gtk_widget_get_sensitive (test_child (blind.dialog, "save")));
  blind_close (&blind);
}

/* Digits of nobody, a scanned label, and a rating without a name. */
static void
test_what_is_typed (void)
{
  Blind blind;
  g_autofree char *label = NULL;
  WbUuid strange = { { 1 } };
  g_autofree char *other = wb_report_label_code_new (&strange);

  blind_open (&blind);
  open_dialog (&blind);
  label = wb_report_label_code_new (&wb_app_bench_sample_get_record (blind.sample)->uuid);
  gtk_editable_set_text (GTK_EDITABLE (test_child (blind.dialog, "digits")), "100000");
  g_assert_cmpstr (gtk_label_get_text (GTK_LABEL (test_child (blind.dialog, "state"))), ==, "No sample at the bench carries these digits.");
  wb_blind_dialog_scan (WB_BLIND_DIALOG (blind.dialog), other);
  g_assert_cmpstr (gtk_label_get_text (GTK_LABEL (test_child (blind.dialog, "problem"))), ==, "No sample at the bench has the label that was scanned.");
  wb_blind_dialog_scan (WB_BLIND_DIALOG (blind.dialog), label);
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (test_child (blind.dialog, "digits"))), ==, blind.digits);
  g_assert_false (tells (&blind));
  gtk_editable_set_text (GTK_EDITABLE (test_child (blind.dialog, "rater")), " ");
  wb_rating_bar_set_value (WB_RATING_BAR (test_find (blind.dialog, WB_TYPE_RATING_BAR)), 5);
  g_signal_emit_by_name (test_find (blind.dialog, WB_TYPE_RATING_BAR), "changed");
  g_signal_emit_by_name (test_child (blind.dialog, "save"), "clicked");
  test_wait (has_problem, &blind);
  g_assert_cmpstr (gtk_label_get_text (GTK_LABEL (test_child (blind.dialog, "problem"))), ==, "Say who rates.");
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (test_child (blind.dialog, "digits"))), ==, blind.digits);
  g_assert_false (tells (&blind));
  blind_close (&blind);
}

void
test_blind_add (void)
{
  g_test_add_func ("/views/blind/an-unlit-one-is-told-once-it-is-saved", test_unlit);
  g_test_add_func ("/views/blind/it-is-told-when-everyone-has-rated", test_told_at_the_end);
  g_test_add_func ("/views/blind/a-burning-one-gets-a-reading", test_alight);
  g_test_add_func ("/views/blind/another-label-takes-the-rating-away", test_next_label);
  g_test_add_func ("/views/blind/what-is-typed-and-scanned", test_what_is_typed);
}
