/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "bench-notebook.h"
#include "test-bench.h"
#include "test-views.h"

#include "wb-app-row.h"
#include "wb-aside-dialog.h"
#include "wb-bench-bar.h"
#include "wb-bench-check.h"
#include "wb-bench-view.h"
#include "wb-bench-words.h"
#include "wb-burn-page.h"
#include "wb-clock.h"
#include "wb-found-dialog.h"
#include "wb-quantity-entry.h"
#include "wb-rating-bar.h"
#include "wb-reading-field.h"
#include "wb-row-bar.h"
#include "wb-time-entry.h"

#include <glib/gstdio.h>
#include <math.h>

#define MINUTE_US (60 * G_GINT64_CONSTANT (1000000))

/* A window on the page, and what a test asks of it again and again. */
typedef struct
{
  WbWindow       *window;
  char           *path;
  WbBurnPage     *page;
  WbReadingStack *stack;
  WbAppBench     *bench;
} Bench;

static gboolean
is_shown (gpointer user)
{
  return wb_reading_stack_get_shown (((Bench *) user)->stack) != NULL;
}

static void
bench_take (Bench *bench)
{
  bench->page = WB_BURN_PAGE (wb_window_get_page (bench->window));
  bench->stack = wb_burn_page_get_stack (bench->page);
  bench->bench = wb_desk_get_bench (wb_host_get_desk (WB_HOST (bench->window)));
  test_wait (is_shown, bench);
}

/* smell_cure_days NAN: not scented. */
static void
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

static void
bench_open (Bench      *bench,
            guint       n_samples,
            const char *asked)
{
  bench_open_scented (bench, n_samples, asked, NAN);
}

static void
bench_close (Bench *bench)
{
  test_window_destroy (bench->window);
  g_free (bench->path);
}

static WbReadingPanel *
get_panel (Bench *bench)
{
  return wb_reading_stack_get_shown (bench->stack);
}

static const char *
get_code (Bench *bench)
{
  return wb_app_bench_sample_get_code (wb_reading_panel_get_sample (get_panel (bench)));
}

static WbAppBenchSample *
find_sample (Bench      *bench,
             const char *code)
{
  g_autoptr (GPtrArray) samples = wb_app_bench_dup_of_experiment (bench->bench, wb_page_get_experiment (WB_PAGE (bench->page)));

  for (guint i = 0; i < samples->len; i++)
    if (g_strcmp0 (wb_app_bench_sample_get_code (g_ptr_array_index (samples, i)), code) == 0)
      return g_ptr_array_index (samples, i);
  g_assert_not_reached ();
}

static void
act (Bench      *bench,
     const char *action)
{
  g_assert_true (test_enabled (bench->window, action));
  gtk_widget_activate_action (GTK_WIDGET (bench->window), action, NULL);
}

static void
choose (Bench      *bench,
        const char *code)
{
  gtk_widget_activate_action (GTK_WIDGET (bench->window), "page.choose", "x", wb_app_bench_sample_get_id (find_sample (bench, code)));
  g_assert_cmpstr (get_code (bench), ==, code);
}

static void
type (Bench      *bench,
      WbColumn    column,
      const char *text)
{
  GtkWidget *field = wb_reading_panel_get_field (get_panel (bench), column);

  g_assert_nonnull (field);
  gtk_editable_set_text (GTK_EDITABLE (test_find (field, GTK_TYPE_TEXT)), text);
}

static void
enter (Bench    *bench,
       WbColumn  column)
{
  GtkWidget *field = wb_reading_panel_get_field (get_panel (bench), column);

  g_assert_nonnull (field);
  if (WB_IS_RATING_BAR (gtk_widget_get_first_child (field)))
    g_signal_emit_by_name (field, "activate");
  else
    g_signal_emit_by_name (test_find (field, GTK_TYPE_TEXT), "activate");
}

static void
rate (Bench    *bench,
      WbColumn  column,
      int       rating)
{
  GtkWidget *field = wb_reading_panel_get_field (get_panel (bench), column);

  wb_reading_field_set_value (WB_READING_FIELD (field), rating);
  g_signal_emit_by_name (field, "changed");
}

static gboolean
has_focus (Bench    *bench,
           WbColumn  column)
{
  GtkWidget *focus = gtk_root_get_focus (GTK_ROOT (bench->window));
  GtkWidget *field = wb_reading_panel_get_field (get_panel (bench), column);

  return focus != NULL && field != NULL && gtk_widget_is_ancestor (focus, field);
}

/* NULL: no window of that type is open. */
static GtkWidget *
find_window (GType type)
{
  g_autoptr (GListModel) windows = g_object_ref (gtk_window_get_toplevels ());

  for (guint i = 0; i < g_list_model_get_n_items (windows); i++)
    {
      g_autoptr (GtkWidget) window = g_list_model_get_item (windows, i);

      if (G_TYPE_CHECK_INSTANCE_TYPE (window, type))
        return window;
    }
  return NULL;
}

static void
click (GtkWidget  *where,
       const char *id)
{
  GtkWidget *button = test_child (where, id);

  g_assert_true (gtk_widget_is_sensitive (button));
  g_signal_emit_by_name (button, "clicked");
}

static void
tick_all (GtkWidget *check)
{
  GtkWidget *box = test_child (check, "checks");

  for (GtkWidget *point = gtk_widget_get_first_child (box); point != NULL; point = gtk_widget_get_next_sibling (point))
    gtk_check_button_set_active (GTK_CHECK_BUTTON (point), TRUE);
}

static void
answer_check (void)
{
  GtkWidget *check = find_window (WB_TYPE_BENCH_CHECK);

  g_assert_nonnull (check);
  tick_all (check);
  gtk_editable_set_text (GTK_EDITABLE (test_child (check, "who")), "Wren");
  gtk_editable_set_text (GTK_EDITABLE (test_child (check, "until")), "22:30");
  click (check, "open");
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

static void
wait_alight (Bench *bench,
             guint  n)
{
  Count count = { bench, n };

  test_wait (has_alight, &count);
  test_settle (bench->window);
}

static void
light (Bench      *bench,
       const char *code,
       guint       n)
{
  choose (bench, code);
  act (bench, "page.light");
  if (find_window (WB_TYPE_BENCH_CHECK) != NULL)
    answer_check ();
  wait_alight (bench, n);
}

static void
advance (Bench *bench,
         gint64 minutes)
{
  wb_clock_advance (wb_clock_get (), minutes * MINUTE_US);
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

static gboolean
has_glowed (gpointer sample)
{
  return wb_app_bench_sample_get_last (sample, WB_COLUMN_EVENT) == WB_EVENT_AFTERGLOW;
}

static void
wait_read (WbAppBenchSample *sample,
           double            min)
{
  Last last = { sample, min };

  test_wait (is_read, &last);
}

static void
test_check_before_the_first_light (void)
{
  Bench bench;
  GtkWidget *check;

  bench_open (&bench, 2, "pool_mm,flame_mm,soot");
  g_assert_null (wb_app_bench_get_session (bench.bench));
  choose (&bench, "T1");
  act (&bench, "page.light");
  check = find_window (WB_TYPE_BENCH_CHECK);
  g_assert_nonnull (check);
  g_assert_false (gtk_widget_is_sensitive (test_child (check, "open")));
  tick_all (check);
  /* All is ticked, but nobody stays. */
  g_assert_false (gtk_widget_is_sensitive (test_child (check, "open")));
  gtk_window_destroy (GTK_WINDOW (check));
  test_settle (bench.window);
  g_assert_cmpuint (wb_app_bench_get_alight (bench.bench), ==, 0);

  act (&bench, "page.light");
  answer_check ();
  wait_alight (&bench, 1);
  g_assert_true (wb_app_bench_get_session (bench.bench)->checked);
  g_assert_cmpstr (wb_app_bench_get_session (bench.bench)->staying, ==, "Wren, until 22:30");
  /* The hand is at the next one already, and no second check is asked. */
  g_assert_cmpstr (get_code (&bench), ==, "T2");
  act (&bench, "page.light");
  g_assert_null (find_window (WB_TYPE_BENCH_CHECK));
  wait_alight (&bench, 2);
  bench_close (&bench);
}

static void
test_light_read_snuff (void)
{
  Bench bench;
  WbAppBenchSample *sample;

  bench_open (&bench, 1, "pool_mm,flame_mm,soot");
  sample = find_sample (&bench, "T1");
  type (&bench, WB_COLUMN_MASS_G, "512.4");
  light (&bench, "T1", 1);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_MASS_G), ==, 512.4);
  g_assert_cmpstr (wb_app_bench_sample_get_place (sample), ==, "1");
  g_assert_false (test_enabled (bench.window, "page.light"));
  g_assert_true (test_enabled (bench.window, "page.snuff"));

  advance (&bench, 60);
  g_assert_true (wb_app_bench_sample_get_overdue (sample));
  type (&bench, WB_COLUMN_POOL_MM, "2 1/8\"");
  enter (&bench, WB_COLUMN_POOL_MM);
  g_assert_true (has_focus (&bench, WB_COLUMN_FLAME_MM));
  type (&bench, WB_COLUMN_FLAME_MM, "2,1 cm");
  enter (&bench, WB_COLUMN_FLAME_MM);
  g_assert_true (has_focus (&bench, WB_COLUMN_SOOT));
  rate (&bench, WB_COLUMN_SOOT, 1);
  enter (&bench, WB_COLUMN_SOOT);
  wait_read (sample, 60);
  test_settle (bench.window);
  g_assert_cmpfloat_with_epsilon (wb_app_bench_sample_get_last (sample, WB_COLUMN_POOL_MM), 53.975, 1e-9);
  g_assert_cmpfloat_with_epsilon (wb_app_bench_sample_get_last (sample, WB_COLUMN_FLAME_MM), 21, 1e-9);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_SOOT), ==, 1);
  g_assert_false (wb_app_bench_sample_get_overdue (sample));
  g_assert_false (wb_reading_panel_get_touched (get_panel (&bench)));

  advance (&bench, 180);
  g_assert_true (wb_app_bench_sample_get_stop_due (sample));
  g_assert_cmpint (wb_reading_panel_get_ask (get_panel (&bench)), ==, WB_APP_ASK_BEFORE_SNUFFING);
  type (&bench, WB_COLUMN_FLAME_MM, "24");
  act (&bench, "page.snuff");
  wait_alight (&bench, 0);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_EVENT), ==, WB_EVENT_SNUFFED);
  g_assert_cmpfloat (wb_app_bench_sample_get_last_min (sample), ==, 240);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_FLAME_MM), ==, 24);

  /* How long it glowed, typed as a time alone. */
  g_assert_cmpint (wb_reading_panel_get_ask (get_panel (&bench)), ==, WB_APP_ASK_AFTER_SNUFFING);
  type (&bench, WB_COLUMN_EVENT_S, "12");
  act (&bench, "page.save");
  test_wait (has_glowed, sample);
  g_assert_true (has_focus (&bench, WB_COLUMN_EVENT_S));
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_EVENT_S), ==, 12);
  g_assert_true (test_enabled (bench.window, "page.close-session"));
  act (&bench, "page.close-session");
  test_settle (bench.window);
  bench_close (&bench);
}

static void
test_wrong_quantity (void)
{
  Bench bench;
  gint64 before;

  bench_open (&bench, 1, "pool_mm,flame_mm,soot");
  light (&bench, "T1", 1);
  before = wb_app_notebook_get_last_entry (test_notebook (bench.window));
  type (&bench, WB_COLUMN_POOL_MM, "90 kg");
  enter (&bench, WB_COLUMN_POOL_MM);
  g_assert_false (has_focus (&bench, WB_COLUMN_FLAME_MM));
  type (&bench, WB_COLUMN_FLAME_MM, "21");
  act (&bench, "page.save");
  test_settle (bench.window);
  g_assert_cmpint (wb_app_notebook_get_last_entry (test_notebook (bench.window)), ==, before);
  g_assert_true (has_focus (&bench, WB_COLUMN_POOL_MM));
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (test_find (wb_reading_panel_get_field (get_panel (&bench), WB_COLUMN_POOL_MM),
                                                                   GTK_TYPE_TEXT))), ==, "90 kg");
  bench_close (&bench);
}

static gboolean
has_failed (gpointer user)
{
  return wb_reading_panel_get_saving (get_panel (user)) == WB_SAVE_FAILED;
}

/* The file is moved away while a reading is typed: told, and the values are still there. */
static void
test_not_saved (void)
{
  Bench bench;
  g_autofree char *elsewhere = test_path ("elsewhere.wickbench");

  bench_open (&bench, 1, "pool_mm,flame_mm,soot");
  light (&bench, "T1", 1);
  g_assert_cmpint (g_rename (bench.path, elsewhere), ==, 0);
  type (&bench, WB_COLUMN_FLAME_MM, "21");
  act (&bench, "page.save");
  test_wait (has_failed, &bench);
  g_assert_true (wb_reading_panel_get_touched (get_panel (&bench)));
  g_assert_cmpstr (wb_problem_bar_get_heading (wb_host_get_problem_bar (WB_HOST (bench.window))), ==, "The reading was not saved");
  g_assert_true (g_hash_table_size (wb_reading_stack_get_failed (bench.stack)) == 1);
  /* Put back, the same key saves it. */
  g_assert_cmpint (g_rename (elsewhere, bench.path), ==, 0);
  act (&bench, "page.save");
  wait_read (find_sample (&bench, "T1"), 0);
  test_settle (bench.window);
  g_assert_null (wb_reading_stack_get_failed (bench.stack));
  bench_close (&bench);
}

static void
test_limit (void)
{
  Bench bench;
  WbHazardBar *bar;

  bench_open (&bench, 1, "pool_mm,flame_mm,soot");
  bar = wb_burn_page_get_hazard (bench.page);
  light (&bench, "T1", 1);
  type (&bench, WB_COLUMN_FLAME_MM, "40");
  enter (&bench, WB_COLUMN_FLAME_MM);
  /* House: asked from 38 mm, stopped above 50 mm; told before anything is saved. */
  g_assert_cmpuint (wb_hazard_bar_get_n_open (bar), ==, 1);
  act (&bench, "page.seen-to");
  g_assert_false (test_enabled (bench.window, "page.seen-to"));
  g_assert_cmpuint (wb_hazard_bar_get_n_open (bar), ==, 0);
  enter (&bench, WB_COLUMN_FLAME_MM);
  g_assert_cmpuint (wb_hazard_bar_get_n_open (bar), ==, 0);
  type (&bench, WB_COLUMN_FLAME_MM, "52");
  enter (&bench, WB_COLUMN_FLAME_MM);
  g_assert_cmpuint (wb_hazard_bar_get_n_open (bar), ==, 1);
  g_assert_nonnull (strstr (wb_hazard_bar_get_advice (bar), "long tool"));
  gtk_test_accessible_assert_role (bar, GTK_ACCESSIBLE_ROLE_ALERT);
  act (&bench, "page.save");
  wait_read (find_sample (&bench, "T1"), 0);
  test_settle (bench.window);
  /* It stays until it is answered. */
  g_assert_cmpuint (wb_hazard_bar_get_n_open (bar), ==, 1);
  g_assert_true (wb_app_bench_sample_get_over (find_sample (&bench, "T1")));
  /* Fire comes first, and has words of its own; one answer is enough for one candle. */
  rate (&bench, WB_COLUMN_EVENT, WB_EVENT_SECONDARY_IGNITION);
  g_assert_cmpuint (wb_hazard_bar_get_n_open (bar), ==, 1);
  g_assert_nonnull (strstr (wb_hazard_bar_get_advice (bar), "metal lid"));
  wb_hazard_bar_answer (bar, TRUE);
  g_assert_cmpuint (wb_hazard_bar_get_n_open (bar), ==, 0);
  wait_alight (&bench, 0);
  bench_close (&bench);
}

/* The same notebook in a new window, as after a restart. */
static void
bench_reopen (Bench *bench)
{
  gint64 experiment = wb_page_get_experiment (WB_PAGE (bench->page));
  g_autoptr (WbAppNotebook) notebook = NULL;
  g_autoptr (GError) error = NULL;

  test_window_destroy (bench->window);
  notebook = wb_app_notebook_open_sync (bench->path, WB_APP_OPEN_EXISTING, NULL, &error);
  g_assert_no_error (error);
  bench->window = test_window_new ();
  wb_window_set_notebook (bench->window, notebook);
  test_settle (bench->window);
  g_assert_true (wb_window_go (bench->window, "burn", experiment));
  bench_take (bench);
}

/* What is wrong stands in a line of its own: neither it nor its going moves the field below. */
static void
test_nothing_moves (void)
{
  Bench bench;
  GtkWidget *panel, *wrong;
  int before, told;

  bench_open (&bench, 1, "pool_mm,flame_mm");
  light (&bench, "T1", 1);
  panel = GTK_WIDGET (get_panel (&bench));
  wrong = test_child (panel, "wrong");
  gtk_widget_measure (panel, GTK_ORIENTATION_VERTICAL, 410, &before, NULL, NULL, NULL);
  type (&bench, WB_COLUMN_FLAME_MM, "tall");
  enter (&bench, WB_COLUMN_FLAME_MM);
  g_assert_true (g_str_has_prefix (gtk_label_get_text (GTK_LABEL (wrong)), "Flame height: "));
  gtk_widget_measure (panel, GTK_ORIENTATION_VERTICAL, 410, &told, NULL, NULL, NULL);
  g_assert_cmpint (told, ==, before);
  type (&bench, WB_COLUMN_FLAME_MM, "21");
  g_assert_cmpstr (gtk_label_get_text (GTK_LABEL (wrong)), ==, "");
  bench_close (&bench);
}

/* It asks of a number whether it is right; NULL: nothing is asked. */
static GtkWidget *
find_question (void)
{
  return find_window (GTK_TYPE_MESSAGE_DIALOG);
}

static void
respond (int response)
{
  g_assert_nonnull (find_question ());
  gtk_dialog_response (GTK_DIALOG (find_question ()), response);
  g_assert_null (find_question ());
}

/* 210 for 21: asked once, before anything is saved; what is so is saved as typed. */
static void
test_doubt (void)
{
  Bench bench;
  WbAppBenchSample *sample;
  g_autofree char *words = NULL;

  bench_open (&bench, 1, "flame_mm,mass_g");
  sample = find_sample (&bench, "T1");
  type (&bench, WB_COLUMN_MASS_G, "512.4");
  light (&bench, "T1", 1);
  advance (&bench, 60);
  type (&bench, WB_COLUMN_FLAME_MM, "21");
  act (&bench, "page.save");
  g_assert_null (find_question ());
  wait_read (sample, 60);
  test_settle (bench.window);

  advance (&bench, 60);
  type (&bench, WB_COLUMN_FLAME_MM, "210");
  type (&bench, WB_COLUMN_MASS_G, "521");
  act (&bench, "page.save");
  g_object_get (find_question (), "secondary-text", &words, NULL);
  g_assert_nonnull (strstr (words, "It weighed 512.4"));
  g_assert_nonnull (strstr (words, "Flame height: it was 21.0"));
  respond (GTK_RESPONSE_CANCEL);
  g_assert_true (has_focus (&bench, WB_COLUMN_MASS_G));
  g_assert_cmpint (wb_reading_panel_get_saving (get_panel (&bench)), ==, WB_SAVE_IDLE);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_FLAME_MM), ==, 21);

  /* The mass is corrected; the flame is so, and not asked about again when its saving has to be tried once more. */
  type (&bench, WB_COLUMN_MASS_G, "508.2");
  act (&bench, "page.save");
  respond (GTK_RESPONSE_ACCEPT);
  wait_read (sample, 120);
  test_settle (bench.window);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_FLAME_MM), ==, 210);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_MASS_G), ==, 508.2);
  bench_close (&bench);
}

static guint
count_open (Bench *bench)
{
  return wb_hazard_bar_get_n_open (wb_burn_page_get_hazard (bench->page));
}

static const char *
get_note (Bench *bench)
{
  const char *note = wb_app_bench_sample_get_last_text (find_sample (bench, "T1"), WB_READING_TEXT_NOTE);

  return note != NULL ? note : "";
}

static gboolean
is_noted (gpointer bench)
{
  return strstr (get_note (bench), "Seen to:") != NULL;
}

/* From 30 mm to 44 mm in an hour: told before it is saved, that the next hour may pass the house's 50 mm; it waits for its answer. */
static void
test_trend (void)
{
  Bench bench;
  WbHazardBar *bar;

  bench_open (&bench, 1, "pool_mm,flame_mm,soot");
  bar = wb_burn_page_get_hazard (bench.page);
  light (&bench, "T1", 1);
  advance (&bench, 60);
  type (&bench, WB_COLUMN_FLAME_MM, "30");
  act (&bench, "page.save");
  wait_read (find_sample (&bench, "T1"), 60);
  test_settle (bench.window);
  advance (&bench, 60);
  type (&bench, WB_COLUMN_FLAME_MM, "44");
  enter (&bench, WB_COLUMN_FLAME_MM);
  g_assert_nonnull (strstr (wb_hazard_bar_get_text (bar), "may pass the house limit"));
  g_assert_nonnull (strstr (wb_hazard_bar_get_advice (bar), "Read it again at"));
  act (&bench, "page.save");
  wait_read (find_sample (&bench, "T1"), 120);
  test_settle (bench.window);
  g_assert_cmpuint (wb_hazard_bar_get_n_open (bar), ==, 1);
  g_assert_cmpint (wb_bench_words_get_mood (find_sample (&bench, "T1")), ==, WB_BENCH_MOOD_NEAR);
  g_assert_true (wb_app_bench_is_unanswered (find_sample (&bench, "T1")));
  act (&bench, "page.seen-to");
  test_wait (is_noted, &bench);
  test_settle (bench.window);
  g_assert_cmpuint (wb_hazard_bar_get_n_open (bar), ==, 0);
  bench_close (&bench);
}

static void
read_flame_after (Bench      *bench,
                  int         minutes,
                  const char *flame,
                  double      minute)
{
  advance (bench, minutes);
  type (bench, WB_COLUMN_FLAME_MM, flame);
  act (bench, "page.save");
  wait_read (find_sample (bench, "T1"), minute);
  test_settle (bench->window);
}

/* A flame over the limit and a later climb are both asked; the climb's question goes with the next look, the other one stays. */
static void
test_trend_beside_a_crossing (void)
{
  Bench bench;
  WbHazardBar *bar;

  bench_open (&bench, 1, "pool_mm,flame_mm,soot");
  bar = wb_burn_page_get_hazard (bench.page);
  light (&bench, "T1", 1);
  read_flame_after (&bench, 60, "55", 60);
  read_flame_after (&bench, 60, "20", 120);
  read_flame_after (&bench, 60, "37", 180);
  g_assert_nonnull (strstr (wb_hazard_bar_get_text (bar), "over the house limit"));
  g_assert_nonnull (strstr (wb_hazard_bar_get_more (bar), "may pass the house limit"));
  read_flame_after (&bench, 12, "25", 192);
  g_assert_nonnull (strstr (wb_hazard_bar_get_text (bar), "55.0"));
  g_assert_null (strstr (wb_hazard_bar_get_more (bar), "may pass"));
  act (&bench, "page.seen-to");
  test_wait (is_noted, &bench);
  test_settle (bench.window);
  g_assert_cmpuint (wb_hazard_bar_get_n_open (bar), ==, 0);
  bench_close (&bench);
}

/* 55 mm and still alight an hour later: said in the panel, and nothing is forbidden. */
static void
test_deviations (void)
{
  Bench bench;
  GtkWidget *words;

  bench_open (&bench, 1, "pool_mm,flame_mm,soot");
  light (&bench, "T1", 1);
  words = test_child (GTK_WIDGET (get_panel (&bench)), "deviations");
  g_assert_false (gtk_widget_get_visible (words));
  read_flame_after (&bench, 60, "55", 60);
  read_flame_after (&bench, 60, "20", 120);
  words = test_child (GTK_WIDGET (get_panel (&bench)), "deviations");
  g_assert_true (gtk_widget_get_visible (words));
  g_assert_nonnull (strstr (gtk_label_get_text (GTK_LABEL (words)), "Burnt on after it was read over a limit, at 60 min"));
  bench_close (&bench);
}

static gboolean
is_not_noted (gpointer bench)
{
  return !is_noted (bench);
}

static void
save_hot_reading (Bench *bench)
{
  WbAppBenchSample *sample = find_sample (bench, "T1");

  advance (bench, 60);
  type (bench, WB_COLUMN_FLAME_MM, "52");
  type (bench, WB_COLUMN_VESSEL_C, "80");
  enter (bench, WB_COLUMN_FLAME_MM);
  act (bench, "page.save");
  wait_read (sample, 60);
  test_settle (bench->window);
}

/* Two limits in one reading are one question; answered while it is typed, the answer is saved with the reading. */
static void
test_one_question (void)
{
  Bench bench;
  WbHazardBar *bar;

  bench_open (&bench, 1, "pool_mm,flame_mm,vessel_c");
  bar = wb_burn_page_get_hazard (bench.page);
  light (&bench, "T1", 1);
  type (&bench, WB_COLUMN_VESSEL_C, "80");
  type (&bench, WB_COLUMN_FLAME_MM, "52");
  enter (&bench, WB_COLUMN_FLAME_MM);
  g_assert_cmpuint (wb_hazard_bar_get_n_open (bar), ==, 1);
  wb_hazard_bar_answer (bar, FALSE);
  g_assert_cmpuint (wb_hazard_bar_get_n_open (bar), ==, 0);
  save_hot_reading (&bench);
  g_assert_cmpuint (wb_hazard_bar_get_n_open (bar), ==, 0);
  g_assert_true (is_noted (&bench));
  bench_reopen (&bench);
  g_assert_cmpuint (count_open (&bench), ==, 0);
  bench_close (&bench);
}

/* The button of that label in the bar; borrowed. */
static GtkWidget *
find_bar_button (GtkWidget  *bar,
                 const char *label)
{
  for (GtkWidget *child = gtk_widget_get_first_child (gtk_widget_get_first_child (bar)); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    if (GTK_IS_BUTTON (child) && g_strcmp0 (gtk_button_get_label (GTK_BUTTON (child)), label) == 0)
      return child;
  g_assert_not_reached ();
}

/* Two candles too hot, one double click: the second question had nobody's answer. */
static void
test_double_click (void)
{
  static const char *const codes[] = { "T1", "T2" };
  Bench bench;
  WbHazardBar *bar;
  GtkWidget *seen;

  bench_open (&bench, 2, "pool_mm,flame_mm,vessel_c");
  bar = wb_burn_page_get_hazard (bench.page);
  light (&bench, "T1", 1);
  light (&bench, "T2", 2);
  advance (&bench, 60);
  for (guint i = 0; i < G_N_ELEMENTS (codes); i++)
    {
      choose (&bench, codes[i]);
      type (&bench, WB_COLUMN_VESSEL_C, "80");
      act (&bench, "page.save");
      wait_read (find_sample (&bench, codes[i]), 60);
      test_settle (bench.window);
    }
  g_assert_cmpuint (wb_hazard_bar_get_n_open (bar), ==, 2);
  seen = find_bar_button (GTK_WIDGET (bar), "I have seen to it");
  g_signal_emit_by_name (seen, "clicked");
  g_signal_emit_by_name (seen, "clicked");
  g_assert_cmpuint (wb_hazard_bar_get_n_open (bar), ==, 1);
  test_settle (bench.window);
  bench_close (&bench);
}

/* Enter in the last field saves: whoever answers while that lasts is not asked again. */
static void
test_answer_while_saving (void)
{
  Bench bench;

  bench_open (&bench, 1, "flame_mm");
  light (&bench, "T1", 1);
  advance (&bench, 60);
  type (&bench, WB_COLUMN_FLAME_MM, "52");
  enter (&bench, WB_COLUMN_FLAME_MM);
  g_assert_cmpint (wb_reading_panel_get_saving (get_panel (&bench)), ==, WB_SAVE_SAVING);
  g_assert_cmpuint (count_open (&bench), ==, 1);
  wb_hazard_bar_answer (wb_burn_page_get_hazard (bench.page), FALSE);
  test_wait (is_noted, &bench);
  test_settle (bench.window);
  g_assert_cmpuint (count_open (&bench), ==, 0);
  bench_close (&bench);
}

/* Types a flame over the house's 50 mm and saves it; the answer to it is given while that is on its way. */
static void
answer_while_saving (Bench   *bench,
                     gboolean out)
{
  type (bench, WB_COLUMN_FLAME_MM, "52");
  enter (bench, WB_COLUMN_FLAME_MM);
  act (bench, "page.save");
  g_assert_cmpint (wb_reading_panel_get_saving (get_panel (bench)), ==, WB_SAVE_SAVING);
  g_assert_cmpuint (count_open (bench), ==, 1);
  wb_hazard_bar_answer (wb_burn_page_get_hazard (bench->page), out);
  g_assert_cmpuint (count_open (bench), ==, 0);
}

/* Where that reading is not saved, its answer goes with what was typed, and with nothing else. */
static void
test_answer_of_what_failed (void)
{
  for (guint corrected = 0; corrected < 2; corrected++)
    {
      Bench bench;
      g_autofree char *elsewhere = test_path ("elsewhere-answer.wickbench");

      bench_open (&bench, 1, "flame_mm,vessel_c");
      light (&bench, "T1", 1);
      advance (&bench, 60);
      g_assert_cmpint (g_rename (bench.path, elsewhere), ==, 0);
      answer_while_saving (&bench, FALSE);
      test_wait (has_failed, &bench);
      g_assert_cmpint (g_rename (elsewhere, bench.path), ==, 0);
      if (corrected)
        type (&bench, WB_COLUMN_FLAME_MM, "25");
      act (&bench, "page.save");
      wait_read (find_sample (&bench, "T1"), 60);
      test_settle (bench.window);
      g_assert_cmpint (is_noted (&bench), ==, !corrected);
      g_assert_cmpuint (count_open (&bench), ==, 0);
      /* An hour later the wall is hot, and nobody answers: House, stopped above 77 °C. */
      advance (&bench, 60);
      type (&bench, WB_COLUMN_VESSEL_C, "90");
      act (&bench, "page.save");
      wait_read (find_sample (&bench, "T1"), 120);
      test_settle (bench.window);
      g_assert_cmpuint (count_open (&bench), ==, 1);
      g_assert_null (strstr (get_note (&bench), "vessel"));
      g_assert_cmpint (is_noted (&bench), ==, !corrected);
      bench_close (&bench);
    }
}

/* In one panel, too, what was answered before is no answer to what is typed then. */
static void
test_answer_of_what_was_corrected (void)
{
  Bench bench;

  bench_open (&bench, 1, "flame_mm,vessel_c");
  light (&bench, "T1", 1);
  advance (&bench, 60);
  type (&bench, WB_COLUMN_FLAME_MM, "52");
  enter (&bench, WB_COLUMN_FLAME_MM);
  wb_hazard_bar_answer (wb_burn_page_get_hazard (bench.page), FALSE);
  type (&bench, WB_COLUMN_FLAME_MM, "25");
  type (&bench, WB_COLUMN_VESSEL_C, "90");
  act (&bench, "page.save");
  wait_read (find_sample (&bench, "T1"), 60);
  test_settle (bench.window);
  g_assert_false (is_noted (&bench));
  g_assert_cmpuint (count_open (&bench), ==, 1);
  bench_close (&bench);
}

/* That it is out is noted after the reading; where that fails, it is asked again, and the next try saves both. */
static void
test_out_while_saving (void)
{
  for (guint fails = 0; fails < 2; fails++)
    {
      Bench bench;
      g_autofree char *elsewhere = test_path ("elsewhere-out.wickbench");

      bench_open (&bench, 1, "flame_mm,vessel_c");
      light (&bench, "T1", 1);
      advance (&bench, 60);
      if (fails)
        g_assert_cmpint (g_rename (bench.path, elsewhere), ==, 0);
      answer_while_saving (&bench, TRUE);
      if (fails)
        {
          test_wait (has_failed, &bench);
          g_assert_cmpint (g_rename (elsewhere, bench.path), ==, 0);
          test_settle (bench.window);
          g_assert_cmpuint (count_open (&bench), ==, 1);
          g_assert_cmpuint (wb_app_bench_get_alight (bench.bench), ==, 1);
          g_assert_nonnull (strstr (wb_hazard_bar_get_more (wb_burn_page_get_hazard (bench.page)), "Not saved that it is out"));
          wb_hazard_bar_answer (wb_burn_page_get_hazard (bench.page), TRUE);
        }
      wait_alight (&bench, 0);
      g_assert_cmpfloat (wb_app_bench_sample_get_last (find_sample (&bench, "T1"), WB_COLUMN_EVENT), ==, WB_EVENT_SNUFFED);
      g_assert_cmpfloat (wb_app_bench_sample_get_last (find_sample (&bench, "T1"), WB_COLUMN_FLAME_MM), ==, 52);
      g_assert_cmpuint (count_open (&bench), ==, 0);
      bench_close (&bench);
    }
}

/* A field that holds something wrong keeps the end back: the hazard stays, and says so. */
static void
test_out_beside_a_wrong_field (void)
{
  Bench bench;

  bench_open (&bench, 1, "flame_mm,vessel_c");
  light (&bench, "T1", 1);
  type (&bench, WB_COLUMN_VESSEL_C, "hot");
  type (&bench, WB_COLUMN_FLAME_MM, "52");
  enter (&bench, WB_COLUMN_FLAME_MM);
  wb_hazard_bar_answer (wb_burn_page_get_hazard (bench.page), TRUE);
  g_assert_cmpuint (count_open (&bench), ==, 1);
  g_assert_true (has_focus (&bench, WB_COLUMN_VESSEL_C));
  g_assert_nonnull (strstr (wb_hazard_bar_get_more (wb_burn_page_get_hazard (bench.page)), "a field is wrong"));
  type (&bench, WB_COLUMN_VESSEL_C, "");
  wb_hazard_bar_answer (wb_burn_page_get_hazard (bench.page), TRUE);
  wait_alight (&bench, 0);
  g_assert_cmpuint (count_open (&bench), ==, 0);
  bench_close (&bench);
}

/* What nobody answered comes back after a restart, until somebody does: the answer is in the record, and its undo asks anew. */
static void
test_unanswered_comes_back (void)
{
  Bench bench;

  bench_open (&bench, 1, "pool_mm,flame_mm,vessel_c");
  light (&bench, "T1", 1);
  save_hot_reading (&bench);
  g_assert_cmpuint (count_open (&bench), ==, 1);
  bench_reopen (&bench);
  g_assert_cmpuint (count_open (&bench), ==, 1);
  wb_hazard_bar_answer (wb_burn_page_get_hazard (bench.page), FALSE);
  test_wait (is_noted, &bench);
  g_assert_cmpuint (count_open (&bench), ==, 0);
  bench_reopen (&bench);
  g_assert_cmpuint (count_open (&bench), ==, 0);
  act (&bench, "win.undo");
  test_wait (is_not_noted, &bench);
  test_settle (bench.window);
  g_assert_cmpuint (count_open (&bench), ==, 1);
  bench_close (&bench);
}

/* A calm reading later answers nothing, nor does a restart: the answer goes to the reading that was hot. */
static void
test_calm_is_no_answer (void)
{
  Bench bench;

  bench_open (&bench, 1, "pool_mm,flame_mm,vessel_c");
  light (&bench, "T1", 1);
  save_hot_reading (&bench);
  advance (&bench, 60);
  type (&bench, WB_COLUMN_FLAME_MM, "25");
  act (&bench, "page.save");
  wait_read (find_sample (&bench, "T1"), 120);
  test_settle (bench.window);
  g_assert_cmpuint (count_open (&bench), ==, 1);
  bench_reopen (&bench);
  g_assert_cmpuint (count_open (&bench), ==, 1);
  wb_hazard_bar_answer (wb_burn_page_get_hazard (bench.page), FALSE);
  test_wait (is_noted, &bench);
  test_settle (bench.window);
  g_assert_cmpuint (count_open (&bench), ==, 0);
  bench_reopen (&bench);
  g_assert_cmpuint (count_open (&bench), ==, 0);
  bench_close (&bench);
}

/* A candle that is out is over no limit; a number that was typed wrong and corrected never was. */
static void
test_hazard_goes_with_the_flame (void)
{
  Bench bench;

  bench_open (&bench, 1, "pool_mm,flame_mm,vessel_c");
  light (&bench, "T1", 1);
  type (&bench, WB_COLUMN_FLAME_MM, "520 mm");
  enter (&bench, WB_COLUMN_FLAME_MM);
  type (&bench, WB_COLUMN_FLAME_MM, "52");
  enter (&bench, WB_COLUMN_FLAME_MM);
  g_assert_cmpuint (count_open (&bench), ==, 1);
  type (&bench, WB_COLUMN_FLAME_MM, "25");
  enter (&bench, WB_COLUMN_FLAME_MM);
  g_assert_cmpuint (count_open (&bench), ==, 0);
  save_hot_reading (&bench);
  g_assert_cmpuint (count_open (&bench), ==, 1);
  act (&bench, "page.snuff");
  wait_alight (&bench, 0);
  g_assert_cmpuint (count_open (&bench), ==, 0);
  bench_close (&bench);
}

static gboolean
is_caught_up (gpointer user)
{
  return !wb_app_bench_is_behind (((Bench *) user)->bench);
}

static void
test_round (void)
{
  Bench bench;

  bench_open (&bench, 3, "pool_mm,flame_mm,soot");
  light (&bench, "T1", 1);
  advance (&bench, 2);
  light (&bench, "T2", 2);
  advance (&bench, 2);
  light (&bench, "T3", 3);
  advance (&bench, 60);
  act (&bench, "page.next-due");
  g_assert_cmpstr (get_code (&bench), ==, "T1");
  type (&bench, WB_COLUMN_FLAME_MM, "21");
  act (&bench, "page.save");
  /* At once, while the first is on its way. */
  g_assert_cmpstr (get_code (&bench), ==, "T2");
  type (&bench, WB_COLUMN_FLAME_MM, "22");
  act (&bench, "page.save");
  g_assert_cmpstr (get_code (&bench), ==, "T3");
  wait_read (find_sample (&bench, "T1"), 60);
  wait_read (find_sample (&bench, "T2"), 60);
  test_settle (bench.window);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (find_sample (&bench, "T1"), WB_COLUMN_FLAME_MM), ==, 21);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (find_sample (&bench, "T2"), WB_COLUMN_FLAME_MM), ==, 22);
  g_assert_true (isnan (wb_app_bench_sample_get_last (find_sample (&bench, "T3"), WB_COLUMN_FLAME_MM)));
  act (&bench, "page.next-due");
  g_assert_cmpstr (get_code (&bench), ==, "T3");
  /* Enter with nothing typed only goes on. What was saved is passed over until it was read back. */
  test_wait (is_caught_up, &bench);
  test_settle (bench.window);
  g_signal_emit_by_name (get_panel (&bench), "done");
  g_assert_cmpstr (get_code (&bench), ==, "T1");
  bench_close (&bench);
}

/* What was typed for one sample is still there after a look at another. */
static void
test_half_typed (void)
{
  Bench bench;

  bench_open (&bench, 2, "pool_mm,flame_mm,soot");
  light (&bench, "T1", 1);
  light (&bench, "T2", 2);
  choose (&bench, "T1");
  type (&bench, WB_COLUMN_FLAME_MM, "2");
  choose (&bench, "T2");
  g_assert_false (wb_reading_panel_get_touched (get_panel (&bench)));
  advance (&bench, 5);
  choose (&bench, "T1");
  g_assert_true (wb_reading_panel_get_touched (get_panel (&bench)));
  gtk_widget_activate_action (GTK_WIDGET (bench.window), "page.ask", "s", "before-snuffing");
  g_assert_true (wb_reading_panel_get_touched (get_panel (&bench)));
  g_assert_false (wb_page_leave (WB_PAGE (bench.page)));
  bench_close (&bench);
}

/* A panel is given from sample to sample: what was typed for one, and how, is nothing of the next. */
static void
test_given_panel (void)
{
  Bench bench;
  WbReadingPanel *given;
  GtkWidget *note, *time, *pool;

  bench_open (&bench, 2, "pool_mm,flame_mm,soot");
  light (&bench, "T1", 1);
  light (&bench, "T2", 2);
  advance (&bench, 60);
  choose (&bench, "T1");
  given = get_panel (&bench);
  type (&bench, WB_COLUMN_POOL_MM, "41 mm");
  pool = wb_reading_panel_get_field (given, WB_COLUMN_POOL_MM);
  wb_reading_field_ask_two (WB_READING_FIELD (pool));
  type (&bench, WB_COLUMN_FLAME_MM, "22 mm");
  rate (&bench, WB_COLUMN_SOOT, 2);
  rate (&bench, WB_COLUMN_EVENT, WB_EVENT_WICK_LEAN);
  note = test_child (GTK_WIDGET (given), "note");
  gtk_editable_set_text (GTK_EDITABLE (note), "to 3 o'clock");
  time = test_find (test_child (GTK_WIDGET (given), "time"), GTK_TYPE_TEXT);
  gtk_editable_set_text (GTK_EDITABLE (time), "-2");
  act (&bench, "page.save");
  wait_read (find_sample (&bench, "T1"), 58);
  test_settle (bench.window);
  g_assert_cmpstr (get_code (&bench), ==, "T2");
  choose (&bench, "T1");
  choose (&bench, "T2");
  choose (&bench, "T1");
  /* The same widget, and none of what stood in it. */
  g_assert_false (wb_reading_panel_get_touched (get_panel (&bench)));
  g_assert_false (wb_reading_panel_get_touched (given));
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (test_child (GTK_WIDGET (given), "note"))), ==, "");
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (time)), ==, "");
  g_assert_true (gtk_widget_get_sensitive (GTK_WIDGET (get_panel (&bench))));
  for (WbColumn column = 0; column < WB_N_COLUMNS; column++)
    {
      double values[WB_N_COLUMNS];

      wb_reading_panel_get_values (get_panel (&bench), values);
      g_assert_true (isnan (values[column]));
    }
  g_assert_null (wb_reading_panel_get_field (get_panel (&bench), WB_COLUMN_EVENT_S));
  /* What is typed now is saved of the sample that is shown. */
  choose (&bench, "T2");
  type (&bench, WB_COLUMN_FLAME_MM, "31 mm");
  act (&bench, "page.save");
  wait_read (find_sample (&bench, "T2"), 60);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (find_sample (&bench, "T2"), WB_COLUMN_FLAME_MM), ==, 31);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (find_sample (&bench, "T1"), WB_COLUMN_FLAME_MM), ==, 22);
  test_settle (bench.window);
  bench_close (&bench);
}

static void
test_set_back (void)
{
  Bench bench;
  GtkWidget *time;

  bench_open (&bench, 1, "pool_mm,flame_mm,soot");
  light (&bench, "T1", 1);
  advance (&bench, 30);
  type (&bench, WB_COLUMN_FLAME_MM, "21");
  time = test_child (GTK_WIDGET (get_panel (&bench)), "time");
  gtk_editable_set_text (GTK_EDITABLE (test_find (time, GTK_TYPE_TEXT)), "45 min");
  act (&bench, "page.save");
  /* Before it was lit: refused, and still there. */
  g_assert_true (wb_reading_panel_get_touched (get_panel (&bench)));
  g_assert_true (isnan (wb_app_bench_sample_get_last_min (find_sample (&bench, "T1"))));
  gtk_editable_set_text (GTK_EDITABLE (test_find (time, GTK_TYPE_TEXT)), "-10");
  act (&bench, "page.save");
  wait_read (find_sample (&bench, "T1"), 20);
  g_assert_cmpfloat (wb_app_bench_sample_get_last_min (find_sample (&bench, "T1")), ==, 20);
  bench_close (&bench);
}

static gboolean
is_crossed (gpointer user)
{
  return wb_app_bench_sample_get_state (find_sample (user, "T1")) == WB_APP_BENCH_CROSSED;
}

static gboolean
is_lit_again (gpointer user)
{
  WbAppBenchSample *sample = find_sample (user, "T1");

  return wb_app_bench_sample_get_state (sample) == WB_APP_BENCH_ALIGHT && wb_app_bench_sample_get_burn_number (sample) == 2;
}

static gboolean
is_check_asked (gpointer user)
{
  return find_window (WB_TYPE_BENCH_CHECK) != NULL;
}

static gboolean
is_question_asked (gpointer user)
{
  return find_window (GTK_TYPE_MESSAGE_DIALOG) != NULL;
}

/* The first thing due today, by its row: it leads to the candle that it tells of. */
static void
go_from_today (Bench *bench)
{
  GtkListBox *list;

  g_assert_true (wb_window_go (bench->window, "today", 0));
  list = GTK_LIST_BOX (test_child (GTK_WIDGET (wb_window_get_page (bench->window)), "due_list"));
  g_signal_emit_by_name (list, "row-activated", gtk_list_box_get_row_at_index (list, 0));
  test_settle (bench->window);
}

/* The next day it is not fit to light; whoever lights it has read why not, and can turn back. */
static void
test_crossed_is_asked (void)
{
  Bench bench;
  GtkWidget *question, *dialog;
  g_autofree char *body = NULL;

  bench_open (&bench, 2, "pool_mm,flame_mm,soot");
  light (&bench, "T1", 1);
  advance (&bench, 240);
  choose (&bench, "T1");
  type (&bench, WB_COLUMN_FLAME_MM, "55");
  act (&bench, "page.snuff");
  wait_alight (&bench, 0);
  test_wait (is_crossed, &bench);
  advance (&bench, 24 * 60);
  choose (&bench, "T2");
  go_from_today (&bench);
  g_assert_cmpstr (get_code (&bench), ==, "T1");
  act (&bench, "page.set-aside");
  dialog = find_window (WB_TYPE_ASIDE_DIALOG);
  g_assert_true (gtk_widget_get_visible (test_child (dialog, "crossed")));
  g_assert_nonnull (strstr (gtk_label_get_text (GTK_LABEL (test_child (dialog, "crossed"))), "does not clear its combination"));
  gtk_window_destroy (GTK_WINDOW (dialog));
  gtk_widget_activate_action (GTK_WIDGET (bench.window), "page.ask", "s", "lighting");
  act (&bench, "page.light");
  /* yesterday's session is closed first */
  test_wait (is_check_asked, NULL);
  answer_check ();
  test_wait (is_question_asked, NULL);
  question = find_window (GTK_TYPE_MESSAGE_DIALOG);
  g_assert_nonnull (question);
  g_object_get (question, "secondary-text", &body, NULL);
  g_assert_nonnull (strstr (body, "flame height 55.0"));
  g_assert_nonnull (strstr (body, "burn 1"));
  gtk_dialog_response (GTK_DIALOG (question), GTK_RESPONSE_CANCEL);
  test_settle (bench.window);
  g_assert_cmpuint (wb_app_bench_get_alight (bench.bench), ==, 0);

  act (&bench, "page.light");
  test_wait (is_question_asked, NULL);
  gtk_dialog_response (GTK_DIALOG (find_window (GTK_TYPE_MESSAGE_DIALOG)), GTK_RESPONSE_ACCEPT);
  test_wait (is_lit_again, &bench);
  bench_close (&bench);
}

static gboolean
is_at_its_end (gpointer user)
{
  return wb_app_bench_sample_get_state (find_sample (user, "T1")) == WB_APP_BENCH_ENDED;
}

/* Over a limit and at its end, too: the question says both. */
static void
test_crossed_at_its_end (void)
{
  Bench bench;
  g_autofree char *body = NULL;

  bench_open (&bench, 1, "pool_mm,flame_mm,soot");
  light (&bench, "T1", 1);
  advance (&bench, 240);
  type (&bench, WB_COLUMN_FLAME_MM, "55");
  gtk_widget_activate_action (GTK_WIDGET (bench.window), "page.end", "s", "end_of_life");
  wait_alight (&bench, 0);
  test_wait (is_at_its_end, &bench);
  gtk_widget_activate_action (GTK_WIDGET (bench.window), "page.ask", "s", "lighting");
  act (&bench, "page.light");
  test_wait (is_question_asked, NULL);
  g_object_get (find_question (), "secondary-text", &body, NULL);
  g_assert_nonnull (strstr (body, "flame height 55.0"));
  g_assert_nonnull (strstr (body, "at its end"));
  respond (GTK_RESPONSE_CANCEL);
  bench_close (&bench);
}

static gboolean
is_aside (gpointer user)
{
  return wb_app_bench_sample_get_state (find_sample (user, "T1")) == WB_APP_BENCH_ENDED;
}

static gboolean
counts (gpointer user)
{
  return wb_app_bench_sample_get_state (find_sample (user, "T1")) == WB_APP_BENCH_FIT;
}

static void
test_set_aside (void)
{
  Bench bench;
  GtkWidget *dialog;

  bench_open (&bench, 1, "pool_mm,flame_mm,soot");
  choose (&bench, "T1");
  g_assert_false (test_enabled (bench.window, "page.let-count"));
  act (&bench, "page.set-aside");
  dialog = find_window (WB_TYPE_ASIDE_DIALOG);
  /* whoever sets it aside says why */
  g_assert_cmpuint (gtk_drop_down_get_selected (GTK_DROP_DOWN (test_child (dialog, "cause"))), ==, GTK_INVALID_LIST_POSITION);
  g_assert_false (gtk_widget_get_sensitive (test_child (dialog, "save")));
  g_assert_false (gtk_widget_get_visible (test_child (dialog, "crossed")));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (test_child (dialog, "cause")), WB_CAUSE_CAVITY);
  click (dialog, "save");
  test_wait (is_aside, &bench);
  test_settle (bench.window);
  g_assert_cmpint (wb_app_bench_sample_get_record (find_sample (&bench, "T1"))->set_aside_cause, ==, WB_CAUSE_CAVITY);
  g_assert_null (find_window (WB_TYPE_ASIDE_DIALOG));
  g_assert_false (test_enabled (bench.window, "page.light"));
  act (&bench, "page.let-count");
  test_wait (counts, &bench);
  bench_close (&bench);
}

static gboolean
is_resolved (gpointer user)
{
  return wb_app_bench_get_found_open (((Bench *) user)->bench) == 0;
}

static void
open_demo (Bench *bench)
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

static void
test_found_open (void)
{
  Bench bench;
  GtkWidget *dialog, *first;

  open_demo (&bench);
  g_assert_cmpuint (wb_app_bench_get_found_open (bench.bench), ==, 10);
  g_assert_true (gtk_widget_get_visible (test_child (GTK_WIDGET (bench.page), "found_bar")));
  act (&bench, "page.resolve-found");
  dialog = find_window (WB_TYPE_FOUND_DIALOG);
  first = test_find (test_child (dialog, "grid"), GTK_TYPE_DROP_DOWN);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (first), 1);
  click (dialog, "save");
  test_wait (is_resolved, &bench);
  wait_alight (&bench, 9);
  g_assert_null (find_window (WB_TYPE_FOUND_DIALOG));
  g_assert_false (gtk_widget_get_visible (test_child (GTK_WIDGET (bench.page), "found_bar")));
  bench_close (&bench);
}

/* The power was cut: one answer, and all ten have it. */
static void
test_found_open_all (void)
{
  Bench bench;
  GtkWidget *dialog, *grid;

  open_demo (&bench);
  act (&bench, "page.resolve-found");
  dialog = find_window (WB_TYPE_FOUND_DIALOG);
  grid = test_child (dialog, "grid");
  gtk_drop_down_set_selected (GTK_DROP_DOWN (test_find (grid, GTK_TYPE_DROP_DOWN)), 1);
  wb_time_entry_set_text (WB_TIME_ENTRY (test_find (grid, WB_TYPE_TIME_ENTRY)), "1 min");
  click (dialog, "all");
  for (int line = 0; line < 20; line += 2)
    {
      g_assert_cmpuint (gtk_drop_down_get_selected (GTK_DROP_DOWN (gtk_grid_get_child_at (GTK_GRID (grid), 1, line))), ==, 1);
      g_assert_cmpstr (wb_time_entry_get_text (WB_TIME_ENTRY (gtk_grid_get_child_at (GTK_GRID (grid), 2, line))), ==, "1 min");
    }
  click (dialog, "save");
  wait_alight (&bench, 0);
  bench_close (&bench);
}

/* Each flame stands in its place with its whole state as its name; a round asks no wider window. */
static void
test_view (void)
{
  Bench bench;
  WbBenchView *view;
  int before, after;

  open_demo (&bench);
  view = WB_BENCH_VIEW (test_find (GTK_WIDGET (bench.page), WB_TYPE_BENCH_VIEW));
  for (guint i = 0; i < 10; i++)
    {
      g_autoptr (WbAppBenchSample) sample = g_list_model_get_item (G_LIST_MODEL (bench.bench), i);
      WbBenchSpot *spot = wb_bench_view_find (view, wb_app_bench_sample_get_id (sample));
      g_autofree char *place = g_strdup_printf ("%u", i + 1);

      g_assert_nonnull (spot);
      g_assert_cmpstr (wb_app_bench_sample_get_place (sample), ==, place);
      g_assert_true (gtk_test_accessible_has_property (GTK_ACCESSIBLE (spot), GTK_ACCESSIBLE_PROPERTY_LABEL));
      g_assert_true (gtk_widget_get_mapped (GTK_WIDGET (spot)));
    }
  g_assert_cmpuint (wb_bench_view_get_free_place (view), ==, 11);
  /* Every one of them can be scrolled to, and what waits below them: a narrow bench has more rows, and is asked for them. */
  g_assert_cmpint (gtk_widget_get_request_mode (GTK_WIDGET (view)), ==, GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH);
  test_settle (bench.window);
  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (bench.bench)); i++)
    {
      g_autoptr (WbAppBenchSample) sample = g_list_model_get_item (G_LIST_MODEL (bench.bench), i);
      WbBenchSpot *spot = wb_bench_view_find (view, wb_app_bench_sample_get_id (sample));
      graphene_rect_t bounds;

      if (spot == NULL)
        continue;
      g_assert_true (gtk_widget_compute_bounds (GTK_WIDGET (spot), GTK_WIDGET (view), &bounds));
      g_assert_cmpfloat (bounds.origin.y + bounds.size.height, <=, gtk_widget_get_height (GTK_WIDGET (view)));
    }
  gtk_widget_measure (GTK_WIDGET (bench.page), GTK_ORIENTATION_HORIZONTAL, -1, &before, NULL, NULL, NULL);
  type (&bench, WB_COLUMN_FLAME_MAX_MM, "21");
  act (&bench, "page.save");
  gtk_widget_measure (GTK_WIDGET (bench.page), GTK_ORIENTATION_HORIZONTAL, -1, &after, NULL, NULL, NULL);
  g_assert_cmpint (after, ==, before);
  test_settle (bench.window);
  gtk_widget_measure (GTK_WIDGET (bench.page), GTK_ORIENTATION_HORIZONTAL, -1, &after, NULL, NULL, NULL);
  g_assert_cmpint (after, ==, before);
  g_assert_cmpint (before, <=, 780);
  bench_close (&bench);
}

static void
press_at (GtkWidget *widget,
          guint      keyval)
{
  g_assert_true (test_bench_send_key (widget, keyval));
}

static void
press_unhandled (GtkWidget *widget,
                 guint      keyval)
{
  g_assert_false (test_bench_send_key (widget, keyval));
}

static void
press (Bench    *bench,
       WbColumn  column,
       guint     keyval)
{
  g_assert_true (has_focus (bench, column));
  press_at (gtk_root_get_focus (GTK_ROOT (bench->window)), keyval);
}

/* A digit goes on to the next field; in the last the hand stays until Enter. What is as last time is one key. */
static void
test_keys_of_a_round (void)
{
  Bench bench;
  WbAppBenchSample *sample;

  bench_open (&bench, 1, "pool_mm,smoke,flame_max_mm,soot");
  sample = find_sample (&bench, "T1");
  light (&bench, "T1", 1);
  advance (&bench, 60);
  type (&bench, WB_COLUMN_POOL_MM, "41 mm");
  enter (&bench, WB_COLUMN_POOL_MM);
  press (&bench, WB_COLUMN_SMOKE, GDK_KEY_1);
  /* Nothing was read before: there is nothing to take over. */
  press (&bench, WB_COLUMN_FLAME_MAX_MM, GDK_KEY_equal);
  g_assert_true (has_focus (&bench, WB_COLUMN_FLAME_MAX_MM));
  type (&bench, WB_COLUMN_FLAME_MAX_MM, "2.25 cm");
  enter (&bench, WB_COLUMN_FLAME_MAX_MM);
  press (&bench, WB_COLUMN_SOOT, GDK_KEY_3);
  press (&bench, WB_COLUMN_SOOT, GDK_KEY_2);
  enter (&bench, WB_COLUMN_SOOT);
  wait_read (sample, 60);
  test_settle (bench.window);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_SMOKE), ==, 1);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_SOOT), ==, 2);

  advance (&bench, 60);
  press (&bench, WB_COLUMN_POOL_MM, GDK_KEY_equal);
  press (&bench, WB_COLUMN_SMOKE, GDK_KEY_0);
  press (&bench, WB_COLUMN_FLAME_MAX_MM, GDK_KEY_equal);
  press (&bench, WB_COLUMN_SOOT, GDK_KEY_equal);
  act (&bench, "page.save");
  wait_read (sample, 120);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_POOL_MM), ==, 41);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_SMOKE), ==, 0);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_FLAME_MAX_MM), ==, 22.5);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_SOOT), ==, 2);
  bench_close (&bench);
}

static gboolean
has_noted (gpointer user)
{
  g_auto (GStrv) notes = wb_app_bench_dup_last_notes (user, 5);

  return g_strv_length (notes) == 1;
}

/* The ring at four sides, an event and a note that was noted before, each by a key. */
static void
test_ring_event_and_note (void)
{
  Bench bench;
  WbAppBenchSample *sample;
  GtkWidget *note, *event;

  bench_open (&bench, 1, "pool_mm");
  sample = find_sample (&bench, "T1");
  light (&bench, "T1", 1);
  advance (&bench, 60);
  wb_reading_panel_focus_first (get_panel (&bench));
  press (&bench, WB_COLUMN_POOL_MM, GDK_KEY_r);
  for (guint i = 0; i < 4; i++)
    {
      GtkWidget *focus = gtk_root_get_focus (GTK_ROOT (bench.window));
      g_autofree char *text = g_strdup_printf ("%u", 3 + i);

      gtk_editable_set_text (GTK_EDITABLE (focus), text);
      if (i < 3)
        g_signal_emit_by_name (focus, "activate");
    }
  act (&bench, "page.event");
  event = gtk_root_get_focus (GTK_ROOT (bench.window));
  g_assert_nonnull (gtk_widget_get_ancestor (event, GTK_TYPE_POPOVER));
  press_at (event, GDK_KEY_b);
  g_assert_true (has_focus (&bench, WB_COLUMN_EVENT));
  act (&bench, "page.note");
  note = gtk_root_get_focus (GTK_ROOT (bench.window));
  gtk_editable_set_text (GTK_EDITABLE (note), "wick leans to 3 o'clock");
  act (&bench, "page.save");
  wait_read (sample, 60);
  test_wait (has_noted, bench.bench);
  test_settle (bench.window);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_RING_12_MM), ==, 3);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_RING_9_MM), ==, 6);
  g_assert_true (isnan (wb_app_bench_sample_get_last (sample, WB_COLUMN_POOL_MM)));
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_EVENT), ==, WB_EVENT_BLACK_SMOKE);

  choose (&bench, "T1");
  act (&bench, "page.note");
  note = gtk_root_get_focus (GTK_ROOT (bench.window));
  /* A digit that stands for nothing is typed. */
  press_unhandled (note, GDK_KEY_2);
  press_at (note, GDK_KEY_1);
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (note)), ==, "wick leans to 3 o'clock");
  press_unhandled (note, GDK_KEY_1);
  bench_close (&bench);
}

/* Saved, and not read back: the bench has it alight still. A quick hand comes in between. */
static void
test_snuff_before_it_is_read_back (void)
{
  Bench bench;
  WbAppBenchSample *first;

  bench_open (&bench, 3, "pool_mm,soot");
  for (guint i = 1; i <= 3; i++)
    {
      g_autofree char *code = g_strdup_printf ("T%u", i);

      light (&bench, code, i);
      advance (&bench, 2);
    }
  choose (&bench, "T1");
  first = find_sample (&bench, "T1");
  act (&bench, "page.snuff");
  g_assert_cmpstr (get_code (&bench), ==, "T2");
  while (wb_reading_stack_is_saving (bench.stack, wb_app_bench_sample_get_id (first)))
    g_main_context_iteration (NULL, TRUE);
  g_assert_true (wb_app_bench_is_behind (bench.bench));
  g_assert_cmpint (wb_app_bench_sample_get_state (first), ==, WB_APP_BENCH_ALIGHT);
  act (&bench, "page.snuff");
  g_assert_cmpstr (get_code (&bench), ==, "T3");
  wait_alight (&bench, 1);
  act (&bench, "page.snuff");
  g_assert_cmpstr (get_code (&bench), ==, "T1");
  wait_alight (&bench, 0);
  bench_close (&bench);
}

/* Lit from whatever is asked, unless something typed for the burn before would go with it; each snuff goes on to the next flame. */
static void
test_light_and_snuff_go_on (void)
{
  Bench bench;

  bench_open (&bench, 3, "pool_mm,soot");
  for (guint i = 1; i <= 3; i++)
    {
      g_autofree char *code = g_strdup_printf ("T%u", i);

      light (&bench, code, i);
      advance (&bench, 2);
    }
  /* The last is lit: the first is due first. */
  g_assert_cmpstr (get_code (&bench), ==, "T1");
  g_assert_true (has_focus (&bench, WB_COLUMN_POOL_MM));
  advance (&bench, 240);
  choose (&bench, "T2");
  act (&bench, "page.snuff");
  g_assert_cmpstr (get_code (&bench), ==, "T1");
  wait_alight (&bench, 2);
  advance (&bench, 1);
  act (&bench, "page.snuff");
  g_assert_cmpstr (get_code (&bench), ==, "T3");
  wait_alight (&bench, 1);
  act (&bench, "page.snuff");
  g_assert_cmpstr (get_code (&bench), ==, "T1");
  wait_alight (&bench, 0);
  g_assert_cmpfloat (wb_app_bench_sample_get_last_min (find_sample (&bench, "T1")), ==, 247);
  g_assert_true (has_focus (&bench, WB_COLUMN_EVENT_S));

  advance (&bench, 8 * 60);
  choose (&bench, "T3");
  g_assert_cmpint (wb_reading_panel_get_ask (get_panel (&bench)), ==, WB_APP_ASK_NEXT_DAY);
  type (&bench, WB_COLUMN_MASS_G, "401");
  g_assert_false (test_enabled (bench.window, "page.light"));
  type (&bench, WB_COLUMN_MASS_G, "");
  act (&bench, "page.light");
  wait_alight (&bench, 1);
  g_assert_cmpint (wb_app_bench_sample_get_state (find_sample (&bench, "T3")), ==, WB_APP_BENCH_ALIGHT);
  bench_close (&bench);
}

/* What the protocol does not ask is seen all the same; a throw burn asks for its throw. */
static void
test_further_fields (void)
{
  Bench bench;
  WbAppBenchSample *sample;

  bench_open (&bench, 1, "flame_mm");
  sample = find_sample (&bench, "T1");
  gtk_drop_down_set_selected (GTK_DROP_DOWN (test_child (GTK_WIDGET (get_panel (&bench)), "kind")), WB_BURN_THROW);
  gtk_editable_set_text (GTK_EDITABLE (test_child (GTK_WIDGET (get_panel (&bench)), "place")), "Back room");
  light (&bench, "T1", 1);
  g_assert_cmpint (wb_app_bench_sample_get_burn (sample)->kind, ==, WB_BURN_THROW);
  g_assert_null (wb_reading_panel_get_field (get_panel (&bench), WB_COLUMN_MUSHROOM));
  gtk_widget_activate_action (GTK_WIDGET (bench.window), "page.also", "s", "mushroom");
  g_assert_true (has_focus (&bench, WB_COLUMN_MUSHROOM));
  rate (&bench, WB_COLUMN_MUSHROOM, 2);
  rate (&bench, WB_COLUMN_THROW, 4);
  rate (&bench, WB_COLUMN_ALONE, 1);
  act (&bench, "page.save");
  wait_read (sample, 0);
  test_settle (bench.window);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_MUSHROOM), ==, 2);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_THROW), ==, 4);
  g_assert_cmpstr (wb_app_bench_sample_get_last_text (sample, WB_READING_TEXT_THROW_ROOM), ==, "Back room");
  bench_close (&bench);
}

/* An inch is 25.4 mm, and 180 °F are 82.2 °C (exact by definition). */
static void
test_us_units (void)
{
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (wb_record_free);
  g_autoptr (GError) error = NULL;
  WbAppBenchSample *sample;
  WbNotebook *settings;
  Bench bench;

  bench_open (&bench, 1, "flame_mm,vessel_c");
  light (&bench, "T1", 1);
  sample = find_sample (&bench, "T1");
  settings = wb_record_copy (wb_app_notebook_get_settings (test_notebook (bench.window)));
  settings->us_units = TRUE;
  g_ptr_array_add (records, settings);
  wb_app_notebook_save_sync (test_notebook (bench.window), "US units", records, NULL, &error);
  g_assert_no_error (error);
  test_settle (bench.window);
  type (&bench, WB_COLUMN_FLAME_MM, "3/4");
  type (&bench, WB_COLUMN_VESSEL_C, "180");
  act (&bench, "page.save");
  wait_read (sample, 0);
  g_assert_cmpfloat_with_epsilon (wb_app_bench_sample_get_last (sample, WB_COLUMN_FLAME_MM), 19.05, 1e-9);
  g_assert_cmpfloat_with_epsilon (wb_app_bench_sample_get_last (sample, WB_COLUMN_VESSEL_C), 82.0 + 2.0 / 9.0, 1e-9);
  bench_close (&bench);
}

static void
test_read_only (void)
{
  static const char *const verbs[] = { "page.save", "page.snuff", "page.end", "page.light", "page.set-aside", "page.let-count",
                                       "page.close-session", "page.resolve-found" };
  g_autofree char *path = test_path ("read-only.wickbench");
  gint64 experiment = bench_notebook_write (path, 2, "flame_mm");
  g_autoptr (WbAppNotebook) notebook = NULL;
  g_autoptr (GError) error = NULL;
  Bench bench;

  notebook = wb_app_notebook_open_sync (path, WB_APP_OPEN_READ, NULL, &error);
  g_assert_no_error (error);
  bench.window = test_window_new ();
  bench.path = NULL;
  wb_window_set_notebook (bench.window, notebook);
  test_settle (bench.window);
  g_assert_true (wb_window_go (bench.window, "burn", experiment));
  bench_take (&bench);
  for (guint i = 0; i < G_N_ELEMENTS (verbs); i++)
    {
      g_test_message ("%s", verbs[i]);
      g_assert_false (test_enabled (bench.window, verbs[i]));
    }
  g_assert_true (test_enabled (bench.window, "page.choose"));
  g_assert_true (test_enabled (bench.window, "page.cautions"));
  bench_close (&bench);
}

static const char *
get_throw_words (Bench *bench)
{
  GtkWidget *label = test_child (GTK_WIDGET (get_panel (bench)), "throw_words");

  return gtk_widget_get_visible (label) ? gtk_label_get_text (GTK_LABEL (label)) : NULL;
}

static void
set_kind (Bench      *bench,
          WbBurnKind  kind)
{
  gtk_drop_down_set_selected (GTK_DROP_DOWN (test_child (GTK_WIDGET (get_panel (bench)), "kind")), kind);
}

static void
set_room (Bench      *bench,
          const char *room)
{
  gtk_editable_set_text (GTK_EDITABLE (test_child (GTK_WIDGET (get_panel (bench)), "place")), room);
}

/* Asks its room, distance, blindness and rater; then its round asks the throw first, by a digit, and says what becomes of it. */
static void
test_throw_burn (void)
{
  Bench bench;
  WbAppBenchSample *sample;

  bench_open_scented (&bench, 2, "flame_mm", 10);
  sample = find_sample (&bench, "T1");
  choose (&bench, "T1");
  g_assert_null (wb_reading_panel_get_field (get_panel (&bench), WB_COLUMN_THROW_DISTANCE_M));
  set_kind (&bench, WB_BURN_THROW);
  /* The place on the bench that was proposed is no room. */
  g_assert_cmpstr (wb_reading_panel_get_place (get_panel (&bench)), ==, "");
  g_assert_nonnull (wb_reading_panel_get_field (get_panel (&bench), WB_COLUMN_THROW_BLIND));
  act (&bench, "page.light");
  g_assert_null (find_window (WB_TYPE_BENCH_CHECK));
  g_assert_cmpuint (strlen (gtk_label_get_text (GTK_LABEL (test_child (GTK_WIDGET (get_panel (&bench)), "wrong")))), >, 0);

  set_room (&bench, "Box room");
  type (&bench, WB_COLUMN_THROW_DISTANCE_M, "2,5");
  enter (&bench, WB_COLUMN_THROW_DISTANCE_M);
  press (&bench, WB_COLUMN_THROW_BLIND, GDK_KEY_1);
  wb_reading_details_propose (wb_reading_panel_get_details (get_panel (&bench)), WB_READING_TEXT_RATER, "Wren");
  act (&bench, "page.light");
  answer_check ();
  wait_alight (&bench, 1);
  g_assert_cmpstr (wb_app_bench_sample_get_place (sample), ==, "Box room");
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_THROW_DISTANCE_M), ==, 2.5);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_THROW_BLIND), ==, 1);
  g_assert_cmpstr (wb_app_bench_sample_get_last_text (sample, WB_READING_TEXT_RATER), ==, "Wren");

  advance (&bench, 60);
  choose (&bench, "T1");
  wb_reading_panel_focus_first (get_panel (&bench));
  g_assert_true (has_focus (&bench, WB_COLUMN_THROW));
  g_assert_nonnull (strstr (get_throw_words (&bench), "is scored"));
  press (&bench, WB_COLUMN_THROW, GDK_KEY_4);
  g_assert_true (has_focus (&bench, WB_COLUMN_FLAME_MM));
  type (&bench, WB_COLUMN_FLAME_MM, "21");
  /* The person can say otherwise, and is told what that means. */
  gtk_widget_grab_focus (wb_reading_panel_get_field (get_panel (&bench), WB_COLUMN_ALONE));
  press (&bench, WB_COLUMN_ALONE, GDK_KEY_0);
  g_assert_nonnull (strstr (get_throw_words (&bench), "not scored"));
  press (&bench, WB_COLUMN_ALONE, GDK_KEY_1);
  act (&bench, "page.save");
  wait_read (sample, 60);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_THROW), ==, 4);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_ALONE), ==, 1);
  bench_close (&bench);
}

/* Told before it is lit, recorded when it is, and every rating from then on says that it is not scored. */
static void
test_second_beside_a_throw_burn (void)
{
  Bench bench;
  WbAppBenchSample *sample;

  bench_open_scented (&bench, 3, "throw,flame_mm", 10);
  sample = find_sample (&bench, "T1");
  choose (&bench, "T1");
  set_kind (&bench, WB_BURN_THROW);
  set_room (&bench, "Box room");
  act (&bench, "page.light");
  answer_check ();
  wait_alight (&bench, 1);
  /* It is not said where this evening's bench stands. */
  choose (&bench, "T2");
  g_assert_nonnull (strstr (get_throw_words (&bench), "T1"));
  g_assert_true (test_enabled (bench.window, "page.light"));
  act (&bench, "page.light");
  wait_alight (&bench, 2);
  g_assert_nonnull (strstr (wb_app_bench_sample_get_burn (find_sample (&bench, "T2"))->note, "T1"));

  choose (&bench, "T1");
  g_assert_nonnull (strstr (get_throw_words (&bench), "T2"));
  advance (&bench, 60);
  wb_reading_panel_focus_first (get_panel (&bench));
  press (&bench, WB_COLUMN_THROW, GDK_KEY_4);
  act (&bench, "page.save");
  wait_read (sample, 60);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_ALONE), ==, 0);
  /* Of an ordinary round it is a note, asked or not. */
  choose (&bench, "T2");
  g_assert_nonnull (strstr (get_throw_words (&bench), "note"));
  /* The last room is at hand. */
  choose (&bench, "T3");
  set_kind (&bench, WB_BURN_THROW);
  g_assert_cmpstr (wb_reading_panel_get_place (get_panel (&bench)), ==, "Box room");
  bench_close (&bench);
}

/* Fit to burn and not to smell: a throw burn asks first. */
static void
test_throw_before_it_is_cured (void)
{
  Bench bench;
  GtkWidget *question;

  bench_open_scented (&bench, 1, "flame_mm", 30);
  choose (&bench, "T1");
  g_assert_cmpint (wb_app_bench_sample_get_state (find_sample (&bench, "T1")), ==, WB_APP_BENCH_FIT);
  set_kind (&bench, WB_BURN_THROW);
  set_room (&bench, "Box room");
  g_assert_nonnull (strstr (get_throw_words (&bench), "fit to smell"));
  act (&bench, "page.light");
  answer_check ();
  test_settle (bench.window);
  question = find_window (GTK_TYPE_MESSAGE_DIALOG);
  g_assert_nonnull (question);
  g_assert_cmpuint (wb_app_bench_get_alight (bench.bench), ==, 0);
  gtk_dialog_response (GTK_DIALOG (question), GTK_RESPONSE_ACCEPT);
  wait_alight (&bench, 1);
  g_assert_nonnull (strstr (wb_app_bench_sample_get_burn (find_sample (&bench, "T1"))->note, "fit to smell"));
  bench_close (&bench);
}

static const char *
get_row_words (Bench *bench)
{
  GtkWidget *bar = test_find (GTK_WIDGET (bench->page), WB_TYPE_ROW_BAR);

  return gtk_widget_get_visible (bar) ? gtk_label_get_text (GTK_LABEL (test_find (bar, GTK_TYPE_LABEL))) : NULL;
}

/* A key for each flame, the time between them counted down, on other pages too; stopped, nothing is asked any more. */
static void
test_row (void)
{
  Bench bench;
  gint64 experiment;

  bench_open (&bench, 3, "flame_mm");
  g_assert_null (get_row_words (&bench));
  g_assert_false (test_enabled (bench.window, "page.snuff-row"));
  choose (&bench, "T3");
  act (&bench, "page.light-row");
  g_assert_cmpstr (get_code (&bench), ==, "T1");
  g_assert_nonnull (strstr (get_row_words (&bench), "Light T1 now"));
  act (&bench, "page.light");
  answer_check ();
  wait_alight (&bench, 1);
  g_assert_cmpstr (get_code (&bench), ==, "T2");
  g_assert_nonnull (strstr (get_row_words (&bench), "T2 next, in 2:00"));
  wb_clock_advance (wb_clock_get (), 40 * G_USEC_PER_SEC);
  wb_app_bench_update (bench.bench);
  g_assert_nonnull (strstr (get_row_words (&bench), "in 1:20"));

  /* Away and back: it has gone on. */
  experiment = wb_page_get_experiment (WB_PAGE (bench.page));
  g_assert_true (wb_window_go (bench.window, "today", 0));
  wb_clock_advance (wb_clock_get (), 30 * G_USEC_PER_SEC);
  g_assert_true (wb_window_go (bench.window, "burn", experiment));
  bench_take (&bench);
  wb_app_bench_update (bench.bench);
  g_assert_nonnull (strstr (get_row_words (&bench), "in 0:50"));
  advance (&bench, 1);
  g_assert_nonnull (strstr (get_row_words (&bench), "Light T2 now"));
  g_assert_cmpuint (wb_app_bench_get_alight (bench.bench), ==, 1);
  act (&bench, "page.row-next");
  act (&bench, "page.light");
  wait_alight (&bench, 2);
  act (&bench, "page.stop-row");
  g_assert_null (get_row_words (&bench));

  act (&bench, "page.snuff-row");
  g_assert_nonnull (strstr (get_row_words (&bench), "Snuff T1 now"));
  act (&bench, "page.snuff");
  wait_alight (&bench, 1);
  g_assert_nonnull (strstr (get_row_words (&bench), "Snuff T2 next, in 2:00"));
  bench_close (&bench);
}

static double
get_centre (WbBenchView *view,
            gint64       sample,
            gboolean     down)
{
  graphene_rect_t bounds;

  g_assert_true (gtk_widget_compute_bounds (GTK_WIDGET (wb_bench_view_find (view, sample)), GTK_WIDGET (view), &bounds));
  return down ? bounds.origin.y + bounds.size.height / 2 : bounds.origin.x + bounds.size.width / 2;
}

/* T2 burns above T1, which waits: laid out after it was lit. */
static gboolean
is_laid_out (gpointer user)
{
  Bench *bench = user;
  WbBenchView *view = WB_BENCH_VIEW (test_find (GTK_WIDGET (bench->page), WB_TYPE_BENCH_VIEW));

  return get_centre (view, wb_app_bench_sample_get_id (find_sample (bench, "T2")), TRUE)
         < get_centre (view, wb_app_bench_sample_get_id (find_sample (bench, "T1")), TRUE);
}

/* By arrows where they point, by code, by place, by the beginning of a code; what is typed meanwhile stays. */
static void
test_choose_by_keys (void)
{
  Bench bench;
  GtkWidget *entry;

  bench_open (&bench, 3, "flame_mm");
  light (&bench, "T2", 1);
  choose (&bench, "T2");
  type (&bench, WB_COLUMN_FLAME_MM, "17");
  test_wait (is_laid_out, &bench);
  gtk_widget_activate_action (GTK_WIDGET (bench.window), "page.beside", "s", "down");
  g_assert_cmpstr (get_code (&bench), ==, "T1");
  gtk_widget_activate_action (GTK_WIDGET (bench.window), "page.beside", "s", "right");
  g_assert_cmpstr (get_code (&bench), ==, "T3");
  gtk_widget_activate_action (GTK_WIDGET (bench.window), "page.beside", "s", "right");
  g_assert_cmpstr (get_code (&bench), ==, "T3");

  /* T1 is the place's number, too, for one that burns there. */
  act (&bench, "page.find");
  entry = gtk_root_get_focus (GTK_ROOT (bench.window));
  entry = gtk_widget_get_ancestor (entry, GTK_TYPE_ENTRY);
  g_assert_nonnull (entry);
  gtk_editable_set_text (GTK_EDITABLE (entry), "T");
  g_signal_emit_by_name (entry, "activate");
  g_assert_cmpstr (get_code (&bench), ==, "T3");
  g_assert_true (gtk_widget_has_css_class (entry, "error"));
  gtk_editable_set_text (GTK_EDITABLE (entry), " t1");
  g_signal_emit_by_name (entry, "activate");
  g_assert_cmpstr (get_code (&bench), ==, "T1");
  act (&bench, "page.find");
  gtk_editable_set_text (GTK_EDITABLE (entry), "1");
  g_signal_emit_by_name (entry, "activate");
  g_assert_cmpstr (get_code (&bench), ==, "T2");
  g_assert_true (wb_reading_panel_get_touched (get_panel (&bench)));
  bench_close (&bench);
}

static void
set_bench (Bench  *bench,
           double  places,
           double  columns)
{
  WbAppNotebook *notebook = test_notebook (bench->window);
  g_autoptr (WbRecord) record = wb_record_copy (wb_app_notebook_get_settings (notebook));

  ((WbNotebook *) record)->bench_places = places;
  ((WbNotebook *) record)->bench_columns = columns;
  wb_app_notebook_save_record_async (notebook, "State the bench", record, NULL, NULL, NULL);
  test_settle (bench->window);
}

/* A bench of three by five that the maker stated: places are shuffled for the session, and each is drawn where it is. */
static void
test_real_places (void)
{
  Bench bench;
  WbBenchView *view;
  guint row[3], column[3], in_order = 0;

  bench_open (&bench, 3, "flame_mm");
  view = WB_BENCH_VIEW (test_find (GTK_WIDGET (bench.page), WB_TYPE_BENCH_VIEW));
  set_bench (&bench, 15, 3);
  g_assert_true (wb_bench_view_has_size (view, 15, 3));
  for (guint i = 0; i < 3; i++)
    {
      g_autofree char *code = g_strdup_printf ("T%u", i + 1);
      g_autofree char *place = NULL;
      guint64 number;

      choose (&bench, code);
      place = g_strdup (wb_reading_panel_get_place (get_panel (&bench)));
      light (&bench, code, i + 1);
      /* What was proposed before the session was open is where it stands. */
      g_assert_cmpstr (wb_app_bench_sample_get_place (find_sample (&bench, code)), ==, place);
      g_assert_true (g_ascii_string_to_unsigned (place, 10, 1, 15, &number, NULL));
      row[i] = (guint) (number - 1) / 3;
      column[i] = (guint) (number - 1) % 3;
      in_order += number == i + 1;
    }
  g_assert_cmpuint (in_order, <, 3);
  test_settle (bench.window);
  for (guint i = 1; i < 3; i++)
    {
      gint64 first = wb_app_bench_sample_get_id (find_sample (&bench, "T1"));
      g_autofree char *code = g_strdup_printf ("T%u", i + 1);
      gint64 other = wb_app_bench_sample_get_id (find_sample (&bench, code));
      double right = get_centre (view, other, FALSE) - get_centre (view, first, FALSE);
      double down = get_centre (view, other, TRUE) - get_centre (view, first, TRUE);

      g_assert_cmpint ((right > 1) - (right < -1), ==, (column[i] > column[0]) - (column[i] < column[0]));
      g_assert_cmpint ((down > 1) - (down < -1), ==, (row[i] > row[0]) - (row[i] < row[0]));
    }
  bench_close (&bench);
}

static void
move (Bench      *bench,
      const char *place)
{
  WbBurnPage *page = bench->page;
  GtkWidget *popover = NULL;

  act (bench, "page.move");
  for (GtkWidget *child = gtk_widget_get_first_child (test_find (GTK_WIDGET (page), WB_TYPE_BENCH_BAR)); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    if (GTK_IS_POPOVER (child))
      popover = child;
  g_assert_nonnull (popover);
  gtk_editable_set_text (GTK_EDITABLE (gtk_popover_get_child (GTK_POPOVER (popover))), place);
  g_signal_emit_by_name (gtk_popover_get_child (GTK_POPOVER (popover)), "activate");
  test_settle (bench->window);
}

/* Moved by a key while it burns, as an entry that can be taken back; never to where another burns. */
static void
test_move (void)
{
  Bench bench;
  WbBenchView *view;
  WbAppBenchSample *first;

  bench_open (&bench, 2, "flame_mm");
  g_assert_false (test_enabled (bench.window, "page.move"));
  light (&bench, "T1", 1);
  choose (&bench, "T1");
  first = find_sample (&bench, "T1");
  view = WB_BENCH_VIEW (test_find (GTK_WIDGET (bench.page), WB_TYPE_BENCH_VIEW));
  g_assert_cmpuint (wb_bench_view_get_free_place (view), ==, 2);
  move (&bench, " 7 ");
  g_assert_cmpuint (wb_bench_view_get_free_place (view), ==, 1);
  light (&bench, "T2", 2);
  choose (&bench, "T1");
  g_assert_cmpstr (wb_app_bench_sample_get_place (first), ==, "7");
  g_assert_cmpint (wb_app_bench_sample_get_state (first), ==, WB_APP_BENCH_ALIGHT);
  move (&bench, "1");
  g_assert_cmpstr (wb_app_bench_sample_get_place (find_sample (&bench, "T2")), ==, "1");
  g_assert_cmpstr (wb_app_bench_sample_get_place (first), ==, "7");
  bench_close (&bench);
}

/* Of a stated bench the row is the chosen one's: those that would stand beside it, and no others. */
static void
test_row_of_the_bench (void)
{
  Bench bench;
  WbAppRowStep step;
  guint in_row = 0, wanted = 0;

  bench_open (&bench, 6, "flame_mm");
  set_bench (&bench, 6, 3);
  choose (&bench, "T4");
  for (guint i = 0; i < 6; i++)
    {
      const char *codes[] = { "T4", "T1", "T2", "T3", "T5", "T6" };
      guint row = (wb_app_bench_propose_place (bench.bench, find_sample (&bench, codes[i]), 6) - 1) / 3;

      wanted = i == 0 ? row : wanted;
      in_row += row == wanted;
    }
  g_assert_cmpuint (in_row, ==, 3);
  act (&bench, "page.light-row");
  g_assert_true (wb_app_bench_get_row_step (bench.bench, &step));
  g_assert_cmpuint (step.after, ==, 2);
  g_assert_cmpuint ((wb_app_bench_propose_place (bench.bench, step.next, 6) - 1) / 3, ==, wanted);
  act (&bench, "page.stop-row");
  act (&bench, "page.light-all");
  g_assert_true (wb_app_bench_get_row_step (bench.bench, &step));
  g_assert_cmpuint (step.after, ==, 5);
  bench_close (&bench);
}

static int
get_least (WbBenchView    *view,
           GtkOrientation  orientation,
           int             for_size)
{
  int minimum;

  gtk_widget_measure (GTK_WIDGET (view), orientation, for_size, &minimum, NULL, NULL, NULL);
  return minimum;
}

/* Where the whole bench would not be seen, it is drawn smaller instead of being scrolled sideways; each still tells all in words. */
static void
test_dense (void)
{
  const int narrow = 4 * 100, low = 400, large = 2000;
  Bench bench;
  WbBenchView *view;
  g_autofree char *spoken = NULL;
  WbBenchSpot *spot;
  int full;

  bench_open (&bench, 2, "flame_mm");
  view = WB_BENCH_VIEW (test_find (GTK_WIDGET (bench.page), WB_TYPE_BENCH_VIEW));
  set_bench (&bench, 12, 4);
  light (&bench, "T1", 1);
  choose (&bench, "T1");
  type (&bench, WB_COLUMN_FLAME_MM, "22");
  advance (&bench, 60);
  act (&bench, "page.save");
  wait_read (find_sample (&bench, "T1"), 60);
  test_settle (bench.window);
  wb_bench_view_set_room (view, large, large);
  g_assert_false (wb_bench_view_get_dense (view));
  g_assert_cmpint (get_least (view, GTK_ORIENTATION_HORIZONTAL, -1), >, narrow);
  full = get_least (view, GTK_ORIENTATION_VERTICAL, large);
  /* Not wide enough, and then wide enough but not high enough. */
  g_assert_true (wb_bench_view_set_room (view, narrow, large));
  g_assert_true (wb_bench_view_get_dense (view));
  g_assert_cmpint (get_least (view, GTK_ORIENTATION_HORIZONTAL, -1), <=, narrow);
  g_assert_true (wb_bench_view_set_room (view, large, large));
  g_assert_true (wb_bench_view_set_room (view, large, low));
  g_assert_cmpint (get_least (view, GTK_ORIENTATION_VERTICAL, large), <, full);
  g_assert_false (wb_bench_view_set_room (view, large, low + 1));
  spot = wb_bench_view_find (view, wb_app_bench_sample_get_id (find_sample (&bench, "T1")));
  spoken = wb_bench_words_dup_spoken (wb_bench_spot_get_sample (spot), FALSE);
  g_assert_nonnull (strstr (spoken, "22"));
  bench_close (&bench);
}

void
test_burn_page_add (void)
{
  g_test_add_func ("/views/burn/a-bench-is-drawn-smaller-before-it-is-scrolled", test_dense);
  g_test_add_func ("/views/burn/a-place-is-changed-while-it-burns", test_move);
  g_test_add_func ("/views/burn/the-row-of-a-stated-bench-is-the-chosen-ones", test_row_of_the_bench);
  g_test_add_func ("/views/burn/a-stated-bench-has-its-places-where-they-are", test_real_places);
  g_test_add_func ("/views/burn/a-row-is-lit-and-snuffed-by-its-stagger", test_row);
  g_test_add_func ("/views/burn/another-sample-is-chosen-by-keys", test_choose_by_keys);
  g_test_add_func ("/views/burn/a-throw-burn-asks-for-itself", test_throw_burn);
  g_test_add_func ("/views/burn/a-second-one-beside-a-throw-burn-is-told", test_second_beside_a_throw_burn);
  g_test_add_func ("/views/burn/a-throw-burn-waits-until-it-is-fit-to-smell", test_throw_before_it_is_cured);
  g_test_add_func ("/views/burn/the-first-light-asks-the-check", test_check_before_the_first_light);
  g_test_add_func ("/views/burn/light-read-snuff", test_light_read_snuff);
  g_test_add_func ("/views/burn/over-a-limit-is-asked-before-it-is-lit-again", test_crossed_is_asked);
  g_test_add_func ("/views/burn/over-a-limit-and-at-its-end-is-asked-of-both", test_crossed_at_its_end);
  g_test_add_func ("/views/burn/a-wrong-quantity-stays-as-typed", test_wrong_quantity);
  g_test_add_func ("/views/burn/what-could-not-be-saved-stays-in-its-fields", test_not_saved);
  g_test_add_func ("/views/burn/a-limit-says-at-once-what-to-do", test_limit);
  g_test_add_func ("/views/burn/what-is-wrong-moves-no-field", test_nothing_moves);
  g_test_add_func ("/views/burn/what-can-hardly-be-is-asked-about-once", test_doubt);
  g_test_add_func ("/views/burn/one-question-and-one-answer-for-one-reading", test_one_question);
  g_test_add_func ("/views/burn/an-answer-while-the-reading-is-saved-is-kept", test_answer_while_saving);
  g_test_add_func ("/views/burn/an-answer-goes-with-what-could-not-be-saved", test_answer_of_what_failed);
  g_test_add_func ("/views/burn/an-answer-goes-with-what-was-corrected", test_answer_of_what_was_corrected);
  g_test_add_func ("/views/burn/that-it-is-out-is-noted-after-the-reading", test_out_while_saving);
  g_test_add_func ("/views/burn/that-it-is-out-waits-for-a-wrong-field", test_out_beside_a_wrong_field);
  g_test_add_func ("/views/burn/a-double-click-answers-one-question", test_double_click);
  g_test_add_func ("/views/burn/a-trend-is-told-before-the-limit", test_trend);
  g_test_add_func ("/views/burn/deviations-are-said-as-they-arise", test_deviations);
  g_test_add_func ("/views/burn/a-trend-and-a-crossing-are-two-questions", test_trend_beside_a_crossing);
  g_test_add_func ("/views/burn/a-hazard-that-nobody-answered-comes-back", test_unanswered_comes_back);
  g_test_add_func ("/views/burn/a-calm-reading-later-is-no-answer", test_calm_is_no_answer);
  g_test_add_func ("/views/burn/a-hazard-goes-with-the-flame-and-with-a-typing-error", test_hazard_goes_with_the_flame);
  g_test_add_func ("/views/burn/a-round-goes-by-what-is-due", test_round);
  g_test_add_func ("/views/burn/a-digit-goes-on-and-a-key-takes-the-last-value", test_keys_of_a_round);
  g_test_add_func ("/views/burn/a-ring-an-event-and-a-note-by-keys", test_ring_event_and_note);
  g_test_add_func ("/views/burn/light-and-snuff-go-on", test_light_and_snuff_go_on);
  g_test_add_func ("/views/burn/a-quick-snuff-passes-over-what-is-out", test_snuff_before_it_is_read_back);
  g_test_add_func ("/views/burn/going-from-sample-to-sample-loses-nothing", test_half_typed);
  g_test_add_func ("/views/burn/a-panel-is-given-on-empty", test_given_panel);
  g_test_add_func ("/views/burn/a-reading-can-be-set-back", test_set_back);
  g_test_add_func ("/views/burn/a-sample-is-set-aside-and-counts-again", test_set_aside);
  g_test_add_func ("/views/burn/burns-found-open-are-resolved", test_found_open);
  g_test_add_func ("/views/burn/one-answer-for-all-that-were-found-open", test_found_open_all);
  g_test_add_func ("/views/burn/more-can-be-seen-than-is-asked", test_further_fields);
  g_test_add_func ("/views/burn/bare-numbers-are-in-the-notebooks-units", test_us_units);
  g_test_add_func ("/views/burn/a-read-only-notebook-is-looked-at", test_read_only);
  g_test_add_func ("/views/burn/each-flame-stands-in-its-place", test_view);
}
