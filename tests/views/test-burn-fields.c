/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "bench-notebook.h"
#include "bench-page.h"

#include "wb-amend-dialog.h"
#include "wb-amend-reading.h"
#include "wb-clock.h"
#include "wb-hazard-bar.h"
#include "wb-look.h"

#include <glib/gstdio.h>

/* What stands in the fields of a reading: wrong, doubted, not saved, in other units. */

static void
test_wrong_quantity (void)
{
  Bench bench;
  gint64 before;

  bench_open (&bench, 1, "pool_mm,flame_mm,soot");
  bench_light (&bench, "T1", 1);
  before = wb_app_notebook_get_last_entry (test_notebook (bench.window));
  bench_type (&bench, WB_COLUMN_POOL_MM, "90 kg");
  bench_enter (&bench, WB_COLUMN_POOL_MM);
  g_assert_false (bench_has_focus (&bench, WB_COLUMN_FLAME_MM));
  bench_type (&bench, WB_COLUMN_FLAME_MM, "21");
  bench_act (&bench, "page.save");
  test_settle (bench.window);
  g_assert_cmpint (wb_app_notebook_get_last_entry (test_notebook (bench.window)), ==, before);
  g_assert_true (bench_has_focus (&bench, WB_COLUMN_POOL_MM));
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (test_find (wb_reading_panel_get_field (bench_get_panel (&bench), WB_COLUMN_POOL_MM),
                                                                   GTK_TYPE_TEXT))), ==, "90 kg");
  bench_close (&bench);
}

/* The file is moved away while a reading is typed: told, and the values are still there. */
static void
test_not_saved (void)
{
  Bench bench;
  g_autofree char *elsewhere = test_path ("elsewhere.wickbench");

  bench_open (&bench, 1, "pool_mm,flame_mm,soot");
  bench_light (&bench, "T1", 1);
  g_assert_cmpint (g_rename (bench.path, elsewhere), ==, 0);
  bench_type (&bench, WB_COLUMN_FLAME_MM, "21");
  bench_act (&bench, "page.save");
  test_wait (bench_has_failed, &bench);
  g_assert_true (wb_reading_panel_get_touched (bench_get_panel (&bench)));
  g_assert_cmpstr (wb_problem_bar_get_heading (wb_host_get_problem_bar (WB_HOST (bench.window))), ==, "The reading was not saved");
  g_assert_true (g_hash_table_size (wb_reading_stack_get_failed (bench.stack)) == 1);
  /* Put back, the same key saves it. */
  g_assert_cmpint (g_rename (elsewhere, bench.path), ==, 0);
  bench_act (&bench, "page.save");
  bench_wait_read (bench_find_sample (&bench, "T1"), 0);
  test_settle (bench.window);
  g_assert_null (wb_reading_stack_get_failed (bench.stack));
  bench_close (&bench);
}

/* What is wrong stands in a line of its own: neither it nor its going moves the field below. */
static void
test_nothing_moves (void)
{
  Bench bench;
  GtkWidget *panel, *wrong;
  int before, told;

  bench_open (&bench, 1, "pool_mm,flame_mm");
  bench_light (&bench, "T1", 1);
  panel = GTK_WIDGET (bench_get_panel (&bench));
  wrong = test_child (panel, "wrong");
  gtk_widget_measure (panel, GTK_ORIENTATION_VERTICAL, 410, &before, NULL, NULL, NULL);
  bench_type (&bench, WB_COLUMN_FLAME_MM, "tall");
  bench_enter (&bench, WB_COLUMN_FLAME_MM);
  g_assert_true (g_str_has_prefix (gtk_label_get_text (GTK_LABEL (wrong)), "Flame height: "));
  gtk_widget_measure (panel, GTK_ORIENTATION_VERTICAL, 410, &told, NULL, NULL, NULL);
  g_assert_cmpint (told, ==, before);
  bench_type (&bench, WB_COLUMN_FLAME_MM, "21");
  g_assert_cmpstr (gtk_label_get_text (GTK_LABEL (wrong)), ==, "");
  bench_close (&bench);
}

/* 210 for 21: asked once, before anything is saved; what is so is saved as typed. */
static void
test_doubt (void)
{
  Bench bench;
  WbAppBenchSample *sample;
  g_autofree char *words = NULL;

  bench_open (&bench, 1, "flame_mm,mass_g");
  sample = bench_find_sample (&bench, "T1");
  bench_type (&bench, WB_COLUMN_MASS_G, "512.4");
  bench_light (&bench, "T1", 1);
  bench_advance (&bench, 60);
  bench_type (&bench, WB_COLUMN_FLAME_MM, "21");
  bench_act (&bench, "page.save");
  g_assert_null (bench_find_question ());
  bench_wait_read (sample, 60);
  test_settle (bench.window);

  bench_advance (&bench, 60);
  bench_type (&bench, WB_COLUMN_FLAME_MM, "210");
  bench_type (&bench, WB_COLUMN_MASS_G, "521");
  bench_act (&bench, "page.save");
  g_object_get (bench_find_question (), "secondary-text", &words, NULL);
  g_assert_nonnull (strstr (words, "It weighed 512.4"));
  g_assert_nonnull (strstr (words, "Flame height: it was 21.0"));
  bench_respond (GTK_RESPONSE_CANCEL);
  g_assert_true (bench_has_focus (&bench, WB_COLUMN_MASS_G));
  g_assert_cmpint (wb_reading_panel_get_saving (bench_get_panel (&bench)), ==, WB_SAVE_IDLE);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_FLAME_MM), ==, 21);

  /* The mass is corrected; the flame is so, and not asked about again when its saving has to be tried once more. */
  bench_type (&bench, WB_COLUMN_MASS_G, "508.2");
  bench_act (&bench, "page.save");
  bench_respond (GTK_RESPONSE_ACCEPT);
  bench_wait_read (sample, 120);
  test_settle (bench.window);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_FLAME_MM), ==, 210);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_MASS_G), ==, 508.2);
  bench_close (&bench);
}

/* What the protocol does not ask is seen all the same; a throw burn asks for its throw. */
static void
test_further_fields (void)
{
  Bench bench;
  WbAppBenchSample *sample;

  bench_open (&bench, 1, "flame_mm");
  sample = bench_find_sample (&bench, "T1");
  gtk_drop_down_set_selected (GTK_DROP_DOWN (test_child (GTK_WIDGET (bench_get_panel (&bench)), "kind")), WB_BURN_THROW);
  gtk_editable_set_text (GTK_EDITABLE (test_child (GTK_WIDGET (bench_get_panel (&bench)), "place")), "Back room");
  bench_light (&bench, "T1", 1);
  g_assert_cmpint (wb_app_bench_sample_get_burn (sample)->kind, ==, WB_BURN_THROW);
  g_assert_null (wb_reading_panel_get_field (bench_get_panel (&bench), WB_COLUMN_MUSHROOM));
  gtk_widget_activate_action (GTK_WIDGET (bench.window), "page.also", "s", "mushroom");
  g_assert_true (bench_has_focus (&bench, WB_COLUMN_MUSHROOM));
  bench_rate (&bench, WB_COLUMN_MUSHROOM, 2);
  bench_rate (&bench, WB_COLUMN_THROW, 4);
  bench_rate (&bench, WB_COLUMN_ALONE, 1);
  bench_act (&bench, "page.save");
  bench_wait_read (sample, 0);
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
  bench_light (&bench, "T1", 1);
  sample = bench_find_sample (&bench, "T1");
  settings = wb_record_copy (wb_app_notebook_get_settings (test_notebook (bench.window)));
  settings->us_units = TRUE;
  g_ptr_array_add (records, settings);
  wb_app_notebook_save_sync (test_notebook (bench.window), "US units", records, NULL, &error);
  g_assert_no_error (error);
  test_settle (bench.window);
  bench_type (&bench, WB_COLUMN_FLAME_MM, "3/4");
  bench_type (&bench, WB_COLUMN_VESSEL_C, "180");
  bench_act (&bench, "page.save");
  bench_wait_read (sample, 0);
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

static gboolean
is_read_whole (gpointer label)
{
  int natural;

  gtk_widget_measure (label, GTK_ORIENTATION_HORIZONTAL, -1, NULL, &natural, NULL, NULL);
  g_test_message ("%s: %d of %d px", gtk_label_get_text (label), gtk_widget_get_width (label), natural);
  return gtk_widget_get_width (label) >= natural && !pango_layout_is_ellipsized (gtk_label_get_layout (label));
}

/* The longest words of the ratings with the most steps, in the window's least size. */
static void
test_rating_words (void)
{
  static const struct { WbColumn column; int rating; } longest[] = { { WB_COLUMN_SOOT, 3 }, { WB_COLUMN_THROW, 3 } };
  Bench bench;

  /* with the program's own style sheet */
  wb_look_get_default ();
  bench_open (&bench, 1, "flame_mm,soot,throw");
  gtk_window_set_default_size (GTK_WINDOW (bench.window), 1024, 700);
  bench_light (&bench, "T1", 1);
  bench_advance (&bench, 60);
  bench_choose (&bench, "T1");
  for (guint i = 0; i < G_N_ELEMENTS (longest); i++)
    bench_rate (&bench, longest[i].column, longest[i].rating);
  bench_act (&bench, "page.save");
  bench_wait_read (bench_find_sample (&bench, "T1"), 60);
  test_settle (bench.window);
  /* Beside the same word as it was read last. */
  bench_advance (&bench, 60);
  for (guint i = 0; i < G_N_ELEMENTS (longest); i++)
    {
      GtkWidget *field = wb_reading_panel_get_field (bench_get_panel (&bench), longest[i].column);
      GtkWidget *word = gtk_widget_get_last_child (gtk_widget_get_first_child (field));

      bench_rate (&bench, longest[i].column, longest[i].rating);
      g_assert_cmpstr (gtk_label_get_text (GTK_LABEL (word)), ==, "moderate");
      test_wait (is_read_whole, word);
    }
  bench_close (&bench);
}

static gboolean
is_kept_no_more (gpointer user)
{
  g_autoptr (GDir) dir = g_dir_open (user, 0, NULL);

  return dir == NULL || g_dir_read_name (dir) == NULL;
}

static gboolean
is_kept (gpointer user)
{
  return !is_kept_no_more (user);
}

static const char *
typed_in (Bench   *bench,
          WbColumn column)
{
  return gtk_editable_get_text (GTK_EDITABLE (test_find (wb_reading_panel_get_field (bench_get_panel (bench), column), GTK_TYPE_TEXT)));
}

static gboolean
stands_again (gpointer user)
{
  Bench *bench = user;

  return wb_reading_stack_get_shown (bench->stack) != NULL && g_str_equal (bench_get_code (bench), "T2")
         && gtk_widget_get_visible (test_child (GTK_WIDGET (bench_get_panel (bench)), "kept"));
}

/* The window goes as in a crash, with a number half typed that is none yet: it stands there again, and is saved by nobody. */
static void
test_half_typed (void)
{
  g_autofree char *folder = g_build_filename (g_get_user_state_dir (), "wickbench", "bench", NULL);
  g_autoptr (WbAppNotebook) notebook = NULL;
  g_autoptr (GError) error = NULL;
  gint64 experiment, before;
  double values[WB_N_COLUMNS];
  Bench bench;

  bench_open (&bench, 2, "pool_mm,flame_mm,soot");
  experiment = wb_page_get_experiment (WB_PAGE (bench.page));
  bench_light (&bench, "T1", 1);
  bench_light (&bench, "T2", 2);
  bench_choose (&bench, "T2");
  bench_type (&bench, WB_COLUMN_POOL_MM, "4");
  bench_type (&bench, WB_COLUMN_FLAME_MM, "2x");
  bench_rate (&bench, WB_COLUMN_SOOT, 3);
  gtk_editable_set_text (GTK_EDITABLE (test_child (GTK_WIDGET (bench_get_panel (&bench)), "note")), "leans");
  test_wait (is_kept, folder);
  before = wb_app_notebook_get_last_entry (test_notebook (bench.window));
  test_window_destroy (bench.window);

  notebook = wb_app_notebook_open_sync (bench.path, WB_APP_OPEN_EXISTING, NULL, &error);
  g_assert_no_error (error);
  bench.window = test_window_new ();
  wb_window_set_notebook (bench.window, notebook);
  test_settle (bench.window);
  g_assert_true (wb_window_go (bench.window, "burn", experiment));
  bench_take (&bench);
  test_wait (stands_again, &bench);
  g_assert_cmpstr (typed_in (&bench, WB_COLUMN_POOL_MM), ==, "4");
  g_assert_cmpstr (typed_in (&bench, WB_COLUMN_FLAME_MM), ==, "2x");
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (test_child (GTK_WIDGET (bench_get_panel (&bench)), "note"))), ==, "leans");
  wb_reading_panel_get_values (bench_get_panel (&bench), values);
  g_assert_cmpfloat (values[WB_COLUMN_SOOT], ==, 3);
  g_assert_cmpint (wb_app_notebook_get_last_entry (test_notebook (bench.window)), ==, before);

  /* Saved, it is forgotten. */
  bench_type (&bench, WB_COLUMN_FLAME_MM, "21");
  bench_act (&bench, "page.save");
  bench_wait_read (bench_find_sample (&bench, "T2"), 0);
  test_wait (is_kept_no_more, folder);
  bench_close (&bench);
}

/* The window goes as in a crash, hours pass, and the next one opens the bench of that experiment (0: of the same). */
static void
crash (Bench *bench,
       gint64 hours,
       gint64 experiment)
{
  g_autoptr (WbAppNotebook) notebook = NULL;
  g_autoptr (GError) error = NULL;

  if (experiment == 0)
    experiment = wb_page_get_experiment (WB_PAGE (bench->page));
  test_window_destroy (bench->window);
  wb_clock_advance (wb_clock_get (), hours * 60 * BENCH_MINUTE_US);
  notebook = wb_app_notebook_open_sync (bench->path, WB_APP_OPEN_EXISTING, NULL, &error);
  g_assert_no_error (error);
  bench->window = test_window_new ();
  wb_window_set_notebook (bench->window, notebook);
  test_settle (bench->window);
  g_assert_true (wb_window_go (bench->window, "burn", experiment));
  bench_take (bench);
}

static gboolean
says_kept (gpointer user)
{
  return wb_reading_stack_get_shown (((Bench *) user)->stack) != NULL
         && gtk_widget_get_visible (test_child (GTK_WIDGET (bench_get_panel (user)), "kept"));
}

/* Opened the next morning, or a day later, it is of the minute at which it was seen: by the clock of then, and said with its day. */
static void
test_seen_then (void)
{
  static const struct { const char *time; gint64 hours; int minute; } cases[] = { { "", 13, 60 }, { "10 min", 13, 50 }, { NULL, 25, 50 } };
  g_autofree char *folder = g_build_filename (g_get_user_state_dir (), "wickbench", "bench", NULL);

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      WbInstant lit, seen;
      g_autofree char *of_day = NULL;
      GtkWidget *time;
      Bench bench;

      bench_open (&bench, 1, "flame_mm");
      bench_light (&bench, "T1", 1);
      lit = wb_app_bench_sample_get_lit_at (bench_find_sample (&bench, "T1"));
      bench_advance (&bench, 60);
      bench_choose (&bench, "T1");
      time = test_child (GTK_WIDGET (bench_get_panel (&bench)), "time");
      of_day = wb_instant_format_time (wb_clock_at (wb_clock_get (), lit.utc_us + 50 * BENCH_MINUTE_US));
      gtk_editable_set_text (GTK_EDITABLE (test_find (time, GTK_TYPE_TEXT)), cases[i].time != NULL ? cases[i].time : of_day);
      bench_type (&bench, WB_COLUMN_FLAME_MM, "21");
      test_wait (is_kept, folder);
      crash (&bench, cases[i].hours, 0);
      test_wait (says_kept, &bench);
      g_assert_cmpstr (typed_in (&bench, WB_COLUMN_FLAME_MM), ==, "21");
      seen = wb_reading_panel_get_time (bench_get_panel (&bench));
      g_assert_true (seen.known);
      g_assert_cmpint ((seen.utc_us - lit.utc_us + BENCH_MINUTE_US / 2) / BENCH_MINUTE_US, ==, cases[i].minute);
      g_assert_nonnull (strstr (gtk_label_get_text (GTK_LABEL (test_child (GTK_WIDGET (bench_get_panel (&bench)), "kept"))), "not of now"));
      bench_close (&bench);
    }
}

/* A lighting is still to come: the room of that evening is said, and does not stand there as of now. */
static void
test_other_room (void)
{
  g_autofree char *folder = g_build_filename (g_get_user_state_dir (), "wickbench", "bench", NULL);
  Bench bench;

  bench_open (&bench, 1, "flame_mm");
  bench_choose (&bench, "T1");
  wb_reading_panel_ask_also (bench_get_panel (&bench), WB_COLUMN_ROOM_C);
  bench_type (&bench, WB_COLUMN_ROOM_C, "21.5");
  test_wait (is_kept, folder);
  crash (&bench, 13, 0);
  test_wait (says_kept, &bench);
  g_assert_nonnull (strstr (gtk_label_get_text (GTK_LABEL (test_child (GTK_WIDGET (bench_get_panel (&bench)), "kept"))), "21.5"));
  g_assert_false (wb_reading_panel_get_touched (bench_get_panel (&bench)));
  bench_close (&bench);
}

/* Of another experiment's candle nothing is put back before its page is open: it hinders nobody, and is not thrown away unseen. */
static void
test_other_page (void)
{
  g_autofree char *folder = g_build_filename (g_get_user_state_dir (), "wickbench", "bench", NULL);
  gint64 own, other;
  Bench bench;

  bench_open (&bench, 2, "flame_mm");
  own = wb_page_get_experiment (WB_PAGE (bench.page));
  other = bench_notebook_add_other (test_notebook (bench.window), own);
  test_settle (bench.window);
  bench_choose (&bench, "T1");
  gtk_widget_activate_action (GTK_WIDGET (bench.window), "page.ask", "s", wb_reading_panel_get_ask_name (WB_APP_ASK_NEXT_DAY));
  wb_reading_panel_ask_also (bench_get_panel (&bench), WB_COLUMN_MASS_G);
  bench_type (&bench, WB_COLUMN_MASS_G, "212");
  test_wait (is_kept, folder);
  crash (&bench, 0, other);
  g_assert_cmpstr (bench_get_code (&bench), ==, "T9");
  test_settle (bench.window);
  g_assert_false (wb_reading_stack_get_touched (bench.stack));
  g_assert_true (wb_window_go (bench.window, "burn", own));
  bench_take (&bench);
  test_wait (says_kept, &bench);
  g_assert_cmpstr (bench_get_code (&bench), ==, "T1");
  g_assert_cmpstr (typed_in (&bench, WB_COLUMN_MASS_G), ==, "212");
  bench_close (&bench);
}

/* No other key is needed for it: the bar stands there as before the crash. */
static void
test_over_again (void)
{
  g_autofree char *folder = g_build_filename (g_get_user_state_dir (), "wickbench", "bench", NULL);
  Bench bench;

  bench_open (&bench, 1, "flame_mm");
  bench_light (&bench, "T1", 1);
  bench_advance (&bench, 60);
  bench_type (&bench, WB_COLUMN_FLAME_MM, "95");
  test_wait (is_kept, folder);
  crash (&bench, 0, 0);
  test_wait (says_kept, &bench);
  g_assert_cmpuint (wb_hazard_bar_get_n_open (wb_burn_page_get_hazard (bench.page)), ==, 1);
  bench_close (&bench);
}

static gboolean
is_amending (gpointer user)
{
  return test_find_window (WB_TYPE_AMEND_DIALOG) != NULL;
}

/* What is asked about is held against 21 mm, and that was the slip: the new one is saved, and the form of the earlier one opens at its flame. */
static void
test_earlier_was_wrong (void)
{
  Bench bench;
  GtkWidget *dialog, *focus, *field;

  bench_open (&bench, 2, "flame_mm");
  bench_light (&bench, "T1", 1);
  bench_light (&bench, "T2", 2);
  bench_choose (&bench, "T1");
  bench_advance (&bench, 60);
  bench_type (&bench, WB_COLUMN_FLAME_MM, "21");
  bench_act (&bench, "page.save");
  bench_wait_read (bench_find_sample (&bench, "T1"), 60);
  test_settle (bench.window);
  bench_choose (&bench, "T1");
  bench_advance (&bench, 60);
  bench_type (&bench, WB_COLUMN_FLAME_MM, "210");
  bench_act (&bench, "page.save");
  bench_respond (GTK_RESPONSE_APPLY);
  bench_wait_read (bench_find_sample (&bench, "T1"), 120);
  test_wait (is_amending, NULL);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (bench_find_sample (&bench, "T1"), WB_COLUMN_FLAME_MM), ==, 210);
  g_assert_cmpstr (bench_get_code (&bench), ==, "T1");
  dialog = test_find_window (WB_TYPE_AMEND_DIALOG);
  field = wb_amend_reading_get_field (WB_AMEND_READING (wb_amend_dialog_get_form (WB_AMEND_DIALOG (dialog))), WB_COLUMN_FLAME_MM);
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (test_find (field, GTK_TYPE_TEXT))), ==, "21.0");
  focus = gtk_root_get_focus (GTK_ROOT (dialog));
  g_assert_true (focus != NULL && gtk_widget_is_ancestor (focus, field));
  gtk_window_destroy (GTK_WINDOW (dialog));
  bench_close (&bench);
}

static GtkAdjustment *
get_scroll (Bench *bench)
{
  return gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (test_child (GTK_WIDGET (bench_get_panel (bench)), "scroll")));
}

static gboolean
is_scrolled_down (gpointer user)
{
  GtkAdjustment *scroll = get_scroll (user);

  gtk_adjustment_set_value (scroll, gtk_adjustment_get_upper (scroll));
  return gtk_adjustment_get_value (scroll) > 100;
}

/* The field with the keyboard is within what is seen of the panel. */
static gboolean
is_focus_seen (gpointer user)
{
  Bench *bench = user;
  GtkWidget *focus = gtk_root_get_focus (GTK_ROOT (bench->window)), *scroll = test_child (GTK_WIDGET (bench_get_panel (bench)), "scroll");
  graphene_rect_t bounds;

  return bench_has_focus (bench, WB_COLUMN_POOL_MM) && gtk_widget_compute_bounds (focus, scroll, &bounds) && bounds.origin.y >= 0
         && bounds.origin.y + bounds.size.height <= gtk_widget_get_height (scroll);
}

/* A panel that was scrolled down comes in hand anew with its first field in sight. */
static void
test_focus_is_seen (void)
{
  Bench bench;

  wb_look_get_default ();
  bench_open (&bench, 1, "pool_mm,depth_mm,flame_mm,flame_max_mm,flame_state,smoke,soot,mushroom,vessel_c,base_c,hang_up_mm,hang_up_share_pct");
  gtk_window_set_default_size (GTK_WINDOW (bench.window), 1024, 700);
  bench_light (&bench, "T1", 1);
  bench_advance (&bench, 60);
  bench_type (&bench, WB_COLUMN_FLAME_MM, "20");
  test_wait (is_scrolled_down, &bench);
  bench_act (&bench, "page.save");
  bench_wait_read (bench_find_sample (&bench, "T1"), 60);
  test_wait (is_focus_seen, &bench);
  bench_close (&bench);
}

void
test_burn_fields_add (void)
{
  g_test_add_func ("/views/burn/the-field-in-hand-is-in-sight", test_focus_is_seen);
  g_test_add_func ("/views/burn/a-wrong-quantity-stays-as-typed", test_wrong_quantity);
  g_test_add_func ("/views/burn/what-could-not-be-saved-stays-in-its-fields", test_not_saved);
  g_test_add_func ("/views/burn/what-is-wrong-moves-no-field", test_nothing_moves);
  g_test_add_func ("/views/burn/what-can-hardly-be-is-asked-about-once", test_doubt);
  g_test_add_func ("/views/burn/more-can-be-seen-than-is-asked", test_further_fields);
  g_test_add_func ("/views/burn/bare-numbers-are-in-the-notebooks-units", test_us_units);
  g_test_add_func ("/views/burn/a-read-only-notebook-is-looked-at", test_read_only);
  g_test_add_func ("/views/burn/the-word-of-a-rating-is-read-whole", test_rating_words);
  g_test_add_func ("/views/burn/what-is-half-typed-is-put-back", test_half_typed);
  g_test_add_func ("/views/burn/what-is-put-back-is-of-the-minute-it-was-seen", test_seen_then);
  g_test_add_func ("/views/burn/the-room-of-another-evening-is-not-put-back", test_other_room);
  g_test_add_func ("/views/burn/what-is-half-typed-waits-for-its-page", test_other_page);
  g_test_add_func ("/views/burn/what-is-put-back-over-a-limit-is-told", test_over_again);
  g_test_add_func ("/views/burn/the-earlier-value-may-be-the-wrong-one", test_earlier_was_wrong);
}
