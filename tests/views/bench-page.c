/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "bench-page.h"

#include "bench-notebook.h"
#include "test-bench.h"

#include "wb-bench-check.h"
#include "wb-clock.h"
#include "wb-rating-bar.h"
#include "wb-reading-field.h"

#include <math.h>

static gboolean
is_shown (gpointer user)
{
  return wb_reading_stack_get_shown (((Bench *) user)->stack) != NULL;
}

void
bench_take (Bench *bench)
{
  bench->page = WB_BURN_PAGE (wb_window_get_page (bench->window));
  bench->stack = wb_burn_page_get_stack (bench->page);
  bench->bench = wb_desk_get_bench (wb_host_get_desk (WB_HOST (bench->window)));
  test_wait (is_shown, bench);
}

void
bench_open_scented (Bench      *bench,
                    guint       n_samples,
                    const char *asked,
                    double      smell_cure_days)
{
  g_autoptr (WbAppSettings) settings = wb_app_settings_new ();
  g_autoptr (WbAppNotebook) notebook = NULL;
  g_autoptr (GError) error = NULL;
  gint64 experiment;

  bench->path = test_path ("bench.wickbench");
  experiment = bench_notebook_write_scented (bench->path, n_samples, asked, smell_cure_days);
  notebook = wb_app_notebook_open_sync (bench->path, WB_APP_OPEN_EXISTING, NULL, &error);
  g_assert_no_error (error);
  bench->window = test_window_new ();
  wb_window_set_notebook (bench->window, notebook);
  test_settle (bench->window);
  g_assert_true (wb_window_go (bench->window, "burn", experiment));
  bench_take (bench);
}

void
bench_open (Bench      *bench,
            guint       n_samples,
            const char *asked)
{
  bench_open_scented (bench, n_samples, asked, NAN);
}

void
bench_close (Bench *bench)
{
  test_window_destroy (bench->window);
  g_free (bench->path);
}

WbReadingPanel *
bench_get_panel (Bench *bench)
{
  return wb_reading_stack_get_shown (bench->stack);
}

const char *
bench_get_code (Bench *bench)
{
  return wb_app_bench_sample_get_code (wb_reading_panel_get_sample (bench_get_panel (bench)));
}

WbAppBenchSample *
bench_find_sample (Bench      *bench,
                   const char *code)
{
  g_autoptr (GPtrArray) samples = wb_app_bench_dup_of_experiment (bench->bench, wb_page_get_experiment (WB_PAGE (bench->page)));

  for (guint i = 0; i < samples->len; i++)
    if (g_strcmp0 (wb_app_bench_sample_get_code (g_ptr_array_index (samples, i)), code) == 0)
      return g_ptr_array_index (samples, i);
  g_assert_not_reached ();
}

void
bench_act (Bench      *bench,
           const char *action)
{
  g_assert_true (test_enabled (bench->window, action));
  gtk_widget_activate_action (GTK_WIDGET (bench->window), action, NULL);
}

void
bench_choose (Bench      *bench,
              const char *code)
{
  gtk_widget_activate_action (GTK_WIDGET (bench->window), "page.choose", "x", wb_app_bench_sample_get_id (bench_find_sample (bench, code)));
  g_assert_cmpstr (bench_get_code (bench), ==, code);
}

void
bench_type (Bench      *bench,
            WbColumn    column,
            const char *text)
{
  GtkWidget *field = wb_reading_panel_get_field (bench_get_panel (bench), column);

  g_assert_nonnull (field);
  gtk_editable_set_text (GTK_EDITABLE (test_find (field, GTK_TYPE_TEXT)), text);
}

void
bench_enter (Bench    *bench,
             WbColumn  column)
{
  GtkWidget *field = wb_reading_panel_get_field (bench_get_panel (bench), column);

  g_assert_nonnull (field);
  if (WB_IS_RATING_BAR (gtk_widget_get_first_child (field)))
    g_signal_emit_by_name (field, "activate");
  else
    g_signal_emit_by_name (test_find (field, GTK_TYPE_TEXT), "activate");
}

void
bench_rate (Bench    *bench,
            WbColumn  column,
            int       rating)
{
  GtkWidget *field = wb_reading_panel_get_field (bench_get_panel (bench), column);

  wb_reading_field_set_value (WB_READING_FIELD (field), rating);
  g_signal_emit_by_name (field, "changed");
}

gboolean
bench_has_focus (Bench    *bench,
                 WbColumn  column)
{
  GtkWidget *focus = gtk_root_get_focus (GTK_ROOT (bench->window));
  GtkWidget *field = wb_reading_panel_get_field (bench_get_panel (bench), column);

  return focus != NULL && field != NULL && gtk_widget_is_ancestor (focus, field);
}

void
bench_click (GtkWidget  *where,
             const char *id)
{
  GtkWidget *button = test_child (where, id);

  g_assert_true (gtk_widget_is_sensitive (button));
  g_signal_emit_by_name (button, "clicked");
}

void
bench_tick_all (GtkWidget *check)
{
  GtkWidget *box = test_child (check, "checks");

  for (GtkWidget *point = gtk_widget_get_first_child (box); point != NULL; point = gtk_widget_get_next_sibling (point))
    gtk_check_button_set_active (GTK_CHECK_BUTTON (point), TRUE);
}

void
bench_answer_check (void)
{
  GtkWidget *check = test_find_window (WB_TYPE_BENCH_CHECK);

  g_assert_nonnull (check);
  bench_tick_all (check);
  gtk_editable_set_text (GTK_EDITABLE (test_child (check, "who")), "Wren");
  gtk_editable_set_text (GTK_EDITABLE (test_child (check, "until")), "22:30");
  bench_click (check, "open");
}

typedef struct
{
  Bench *bench;
  guint  n;
} Count;

static gboolean
has_alight (gpointer user)
{
  Count *count = user;

  return wb_app_bench_get_alight (count->bench->bench) == count->n;
}

void
bench_wait_alight (Bench *bench,
                   guint  n)
{
  Count count = { bench, n };

  test_wait (has_alight, &count);
  test_settle (bench->window);
}

void
bench_light (Bench      *bench,
             const char *code,
             guint       n)
{
  bench_choose (bench, code);
  bench_act (bench, "page.light");
  if (test_find_window (WB_TYPE_BENCH_CHECK) != NULL)
    bench_answer_check ();
  bench_wait_alight (bench, n);
}

void
bench_advance (Bench *bench,
               gint64 minutes)
{
  wb_clock_advance (wb_clock_get (), minutes * BENCH_MINUTE_US);
  wb_app_bench_update (bench->bench);
}

typedef struct
{
  WbAppBenchSample *sample;
  double            min;
} Last;

static gboolean
is_read (gpointer user)
{
  Last *last = user;

  return wb_app_bench_sample_get_last_min (last->sample) >= last->min;
}

void
bench_wait_read (WbAppBenchSample *sample,
                 double            min)
{
  Last last = { sample, min };

  test_wait (is_read, &last);
}

gboolean
bench_has_failed (gpointer user)
{
  return wb_reading_panel_get_saving (bench_get_panel (user)) == WB_SAVE_FAILED;
}

GtkWidget *
bench_find_question (void)
{
  return test_find_window (GTK_TYPE_MESSAGE_DIALOG);
}

void
bench_respond (int response)
{
  g_assert_nonnull (bench_find_question ());
  gtk_dialog_response (GTK_DIALOG (bench_find_question ()), response);
  g_assert_null (bench_find_question ());
}

void
bench_read_flame_after (Bench      *bench,
                        int         minutes,
                        const char *flame,
                        double      minute)
{
  bench_advance (bench, minutes);
  bench_type (bench, WB_COLUMN_FLAME_MM, flame);
  bench_act (bench, "page.save");
  bench_wait_read (bench_find_sample (bench, "T1"), minute);
  test_settle (bench->window);
}

void
bench_open_demo (Bench *bench)
{
  GListModel *list;

  bench->window = test_window_new_demo ();
  bench->path = NULL;
  list = G_LIST_MODEL (wb_desk_get_experiments (wb_host_get_desk (WB_HOST (bench->window))));
  for (guint i = 0; i < g_list_model_get_n_items (list); i++)
    {
      g_autoptr (WbAppExperiment) experiment = g_list_model_get_item (list, i);

      if (g_str_equal (wb_app_experiment_get_code (experiment), "FC-1"))
        g_assert_true (wb_window_go (bench->window, "burn", wb_app_experiment_get_id (experiment)));
    }
  bench_take (bench);
}

void
bench_press_at (GtkWidget *widget,
                guint      keyval)
{
  g_assert_true (test_bench_send_key (widget, keyval));
}

void
bench_press (Bench    *bench,
             WbColumn  column,
             guint     keyval)
{
  g_assert_true (bench_has_focus (bench, column));
  bench_press_at (gtk_root_get_focus (GTK_ROOT (bench->window)), keyval);
}
