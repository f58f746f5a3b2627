/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "bench-notebook.h"
#include "bench-page.h"

#include "wb-app-query.h"
#include "wb-app-row.h"
#include "wb-bench-check.h"
#include "wb-bench-bar.h"
#include "wb-bench-view.h"
#include "wb-bench-words.h"
#include "wb-clock.h"
#include "wb-row-bar.h"

/* Where samples stand on the bench, and rows of them. */

/* Each flame stands in its place with its whole state as its name; a round asks no wider window. */
static void
test_view (void)
{
  Bench bench;
  WbBenchView *view;
  int before, after;

  bench_open_demo (&bench);
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
  bench_type (&bench, WB_COLUMN_FLAME_MAX_MM, "21");
  bench_act (&bench, "page.save");
  gtk_widget_measure (GTK_WIDGET (bench.page), GTK_ORIENTATION_HORIZONTAL, -1, &after, NULL, NULL, NULL);
  g_assert_cmpint (after, ==, before);
  test_settle (bench.window);
  gtk_widget_measure (GTK_WIDGET (bench.page), GTK_ORIENTATION_HORIZONTAL, -1, &after, NULL, NULL, NULL);
  g_assert_cmpint (after, ==, before);
  g_assert_cmpint (before, <=, 780);
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
  bench_choose (&bench, "T3");
  bench_act (&bench, "page.light-row");
  g_assert_cmpstr (bench_get_code (&bench), ==, "T1");
  g_assert_nonnull (strstr (get_row_words (&bench), "Light T1 now"));
  bench_act (&bench, "page.light");
  bench_answer_check ();
  bench_wait_alight (&bench, 1);
  g_assert_cmpstr (bench_get_code (&bench), ==, "T2");
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
  bench_advance (&bench, 1);
  g_assert_nonnull (strstr (get_row_words (&bench), "Light T2 now"));
  g_assert_cmpuint (wb_app_bench_get_alight (bench.bench), ==, 1);
  bench_act (&bench, "page.row-next");
  bench_act (&bench, "page.light");
  bench_wait_alight (&bench, 2);
  bench_act (&bench, "page.stop-row");
  g_assert_null (get_row_words (&bench));

  bench_act (&bench, "page.snuff-row");
  g_assert_nonnull (strstr (get_row_words (&bench), "Snuff T1 now"));
  bench_act (&bench, "page.snuff");
  bench_wait_alight (&bench, 1);
  g_assert_nonnull (strstr (get_row_words (&bench), "Snuff T2 next, in 2:00"));
  bench_close (&bench);
}

/* A second evening in a row, nobody has weighed the first: each of the row is asked for its lighting, not for its mass. */
static void
test_row_of_unweighed (void)
{
  Bench bench;

  bench_open (&bench, 3, "flame_mm");
  for (guint i = 0; i < 3; i++)
    bench_light (&bench, (const char *[]) { "T1", "T2", "T3" }[i], i + 1);
  bench_advance (&bench, 240);
  for (guint i = 3; i > 0; i--)
    {
      bench_act (&bench, "page.snuff");
      bench_wait_alight (&bench, i - 1);
    }
  bench_advance (&bench, 8 * 60);
  bench_choose (&bench, "T1");
  bench_act (&bench, "page.light-row");
  g_assert_cmpint (wb_reading_panel_get_ask (bench_get_panel (&bench)), ==, WB_APP_ASK_LIGHTING);
  bench_act (&bench, "page.light");
  if (test_find_window (WB_TYPE_BENCH_CHECK) != NULL)
    bench_answer_check ();
  bench_wait_alight (&bench, 1);
  g_assert_cmpstr (bench_get_code (&bench), ==, "T2");
  g_assert_cmpint (wb_reading_panel_get_ask (bench_get_panel (&bench)), ==, WB_APP_ASK_LIGHTING);
  test_settle (bench.window);
  g_assert_cmpint (wb_reading_panel_get_ask (bench_get_panel (&bench)), ==, WB_APP_ASK_LIGHTING);
  bench_close (&bench);
}

/* Two candles at one place would be one on the bench: it is asked about before the second is lit. */
static void
test_lit_where_another_burns (void)
{
  Bench bench;
  g_autofree char *words = NULL;

  bench_open (&bench, 2, "flame_mm");
  bench_light (&bench, "T1", 1);
  bench_choose (&bench, "T2");
  gtk_editable_set_text (GTK_EDITABLE (test_child (GTK_WIDGET (bench_get_panel (&bench)), "place")),
                         wb_app_bench_sample_get_place (bench_find_sample (&bench, "T1")));
  bench_act (&bench, "page.light");
  g_assert_nonnull (bench_find_question ());
  g_object_get (bench_find_question (), "secondary-text", &words, NULL);
  g_assert_nonnull (strstr (words, "T1 burns at place"));
  bench_respond (GTK_RESPONSE_CANCEL);
  test_settle (bench.window);
  g_assert_cmpuint (wb_app_bench_get_alight (bench.bench), ==, 1);
  gtk_editable_set_text (GTK_EDITABLE (test_child (GTK_WIDGET (bench_get_panel (&bench)), "place")), "9");
  bench_act (&bench, "page.light");
  g_assert_null (bench_find_question ());
  bench_wait_alight (&bench, 2);
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

  return get_centre (view, wb_app_bench_sample_get_id (bench_find_sample (bench, "T2")), TRUE)
         < get_centre (view, wb_app_bench_sample_get_id (bench_find_sample (bench, "T1")), TRUE);
}

/* By arrows where they point, by code, by place, by the beginning of a code; what is typed meanwhile stays. */
static void
test_choose_by_keys (void)
{
  Bench bench;
  GtkWidget *entry;

  bench_open (&bench, 3, "flame_mm");
  bench_light (&bench, "T2", 1);
  bench_choose (&bench, "T2");
  bench_type (&bench, WB_COLUMN_FLAME_MM, "17");
  test_wait (is_laid_out, &bench);
  gtk_widget_activate_action (GTK_WIDGET (bench.window), "page.beside", "s", "down");
  g_assert_cmpstr (bench_get_code (&bench), ==, "T1");
  gtk_widget_activate_action (GTK_WIDGET (bench.window), "page.beside", "s", "right");
  g_assert_cmpstr (bench_get_code (&bench), ==, "T3");
  gtk_widget_activate_action (GTK_WIDGET (bench.window), "page.beside", "s", "right");
  g_assert_cmpstr (bench_get_code (&bench), ==, "T3");

  /* T1 is the place's number, too, for one that burns there. */
  bench_act (&bench, "page.find");
  entry = gtk_root_get_focus (GTK_ROOT (bench.window));
  entry = gtk_widget_get_ancestor (entry, GTK_TYPE_ENTRY);
  g_assert_nonnull (entry);
  gtk_editable_set_text (GTK_EDITABLE (entry), "T");
  g_signal_emit_by_name (entry, "activate");
  g_assert_cmpstr (bench_get_code (&bench), ==, "T3");
  g_assert_true (gtk_widget_has_css_class (entry, "error"));
  gtk_editable_set_text (GTK_EDITABLE (entry), " t1");
  g_signal_emit_by_name (entry, "activate");
  g_assert_cmpstr (bench_get_code (&bench), ==, "T1");
  bench_act (&bench, "page.find");
  gtk_editable_set_text (GTK_EDITABLE (entry), "1");
  g_signal_emit_by_name (entry, "activate");
  g_assert_cmpstr (bench_get_code (&bench), ==, "T2");
  g_assert_true (wb_reading_panel_get_touched (bench_get_panel (&bench)));
  bench_close (&bench);
}

static gboolean
is_twin (gpointer user)
{
  Bench *bench = user;
  g_autoptr (GPtrArray) samples = wb_app_bench_dup_of_experiment (wb_desk_get_bench (wb_host_get_desk (WB_HOST (bench->window))),
                                                                  wb_page_get_experiment (WB_PAGE (bench->page)));
  gboolean twin = FALSE;

  for (guint i = 0; i < samples->len; i++)
    twin = twin || g_str_equal (wb_app_bench_sample_get_code (g_ptr_array_index (samples, i)), "TN-1 T1");
  return twin;
}

/* A code that another experiment has too is found as its label says it: that of the experiment whose bench it is. */
static void
test_find_twin (void)
{
  Bench bench;
  GtkWidget *entry;
  gint64 own, other;
  g_autoptr (GPtrArray) samples = NULL, records = g_ptr_array_new ();
  g_autoptr (GError) error = NULL;

  bench_open (&bench, 2, "flame_mm");
  own = wb_page_get_experiment (WB_PAGE (bench.page));
  other = bench_notebook_add_other (test_notebook (bench.window), own);
  samples = wb_app_query_list_by_sync (test_notebook (bench.window), &wb_sample_type, "experiment", other, &error);
  g_assert_no_error (error);
  wb_record_set_text (g_ptr_array_index (samples, 0), wb_record_type_find_field (&wb_sample_type, "code"), "T1");
  g_ptr_array_add (records, g_ptr_array_index (samples, 0));
  wb_app_notebook_save_sync (test_notebook (bench.window), "Write the code anew", records, NULL, &error);
  g_assert_no_error (error);
  test_wait (is_twin, &bench);
  bench_choose (&bench, "T2");
  bench_act (&bench, "page.find");
  entry = gtk_widget_get_ancestor (gtk_root_get_focus (GTK_ROOT (bench.window)), GTK_TYPE_ENTRY);
  gtk_editable_set_text (GTK_EDITABLE (entry), "T1");
  g_signal_emit_by_name (entry, "activate");
  g_assert_cmpstr (bench_get_code (&bench), ==, "TN-1 T1");
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

typedef struct
{
  Bench       *bench;
  WbBenchView *view;
  const guint *column;
  const guint *row;
} Places;

static int
sign (double difference)
{
  return (difference > 0.5) - (difference < -0.5);
}

/* The view is laid out in the frame after the bench has the places. */
static gboolean
stand_as_stated (gpointer user)
{
  const Places *self = user;
  gint64 first = wb_app_bench_sample_get_id (bench_find_sample (self->bench, "T1"));

  for (guint i = 1; i < 3; i++)
    {
      g_autofree char *code = g_strdup_printf ("T%u", i + 1);
      gint64 other = wb_app_bench_sample_get_id (bench_find_sample (self->bench, code));

      if (sign (get_centre (self->view, other, FALSE) - get_centre (self->view, first, FALSE)) != sign ((double) self->column[i] - self->column[0])
          || sign (get_centre (self->view, other, TRUE) - get_centre (self->view, first, TRUE)) != sign ((double) self->row[i] - self->row[0]))
        return FALSE;
    }
  return TRUE;
}

/* A bench of three by five that the maker stated: places are shuffled for the session, and each is drawn where it is. */
static void
test_real_places (void)
{
  Bench bench;
  WbBenchView *view;
  guint row[3], column[3], in_order = 0;
  Places seen;

  bench_open (&bench, 3, "flame_mm");
  view = WB_BENCH_VIEW (test_find (GTK_WIDGET (bench.page), WB_TYPE_BENCH_VIEW));
  set_bench (&bench, 15, 3);
  g_assert_true (wb_bench_view_has_size (view, 15, 3));
  for (guint i = 0; i < 3; i++)
    {
      g_autofree char *code = g_strdup_printf ("T%u", i + 1);
      g_autofree char *place = NULL;
      guint64 number;

      bench_choose (&bench, code);
      place = g_strdup (wb_reading_panel_get_place (bench_get_panel (&bench)));
      bench_light (&bench, code, i + 1);
      /* What was proposed before the session was open is where it stands. */
      g_assert_cmpstr (wb_app_bench_sample_get_place (bench_find_sample (&bench, code)), ==, place);
      g_assert_true (g_ascii_string_to_unsigned (place, 10, 1, 15, &number, NULL));
      row[i] = (guint) (number - 1) / 3;
      column[i] = (guint) (number - 1) % 3;
      in_order += number == i + 1;
    }
  g_assert_cmpuint (in_order, <, 3);
  seen = (Places) { &bench, view, column, row };
  test_wait (stand_as_stated, &seen);
  bench_close (&bench);
}

static void
move (Bench      *bench,
      const char *place)
{
  WbBurnPage *page = bench->page;
  GtkWidget *popover = NULL;

  bench_act (bench, "page.move");
  for (GtkWidget *child = gtk_widget_get_first_child (test_find (GTK_WIDGET (page), WB_TYPE_BENCH_BAR)); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    if (GTK_IS_POPOVER (child))
      popover = child;
  g_assert_nonnull (popover);
  gtk_editable_set_text (GTK_EDITABLE (gtk_popover_get_child (GTK_POPOVER (popover))), place);
  g_signal_emit_by_name (gtk_popover_get_child (GTK_POPOVER (popover)), "activate");
  test_settle (bench->window);
}

static gboolean
is_first_free (gpointer view)
{
  return wb_bench_view_get_free_place (view) == 1;
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
  bench_light (&bench, "T1", 1);
  bench_choose (&bench, "T1");
  first = bench_find_sample (&bench, "T1");
  view = WB_BENCH_VIEW (test_find (GTK_WIDGET (bench.page), WB_TYPE_BENCH_VIEW));
  g_assert_cmpuint (wb_bench_view_get_free_place (view), ==, 2);
  move (&bench, " 7 ");
  test_wait (is_first_free, view);
  bench_light (&bench, "T2", 2);
  bench_choose (&bench, "T1");
  g_assert_cmpstr (wb_app_bench_sample_get_place (first), ==, "7");
  g_assert_cmpint (wb_app_bench_sample_get_state (first), ==, WB_APP_BENCH_ALIGHT);
  move (&bench, "1");
  g_assert_cmpstr (wb_app_bench_sample_get_place (bench_find_sample (&bench, "T2")), ==, "1");
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
  bench_choose (&bench, "T4");
  for (guint i = 0; i < 6; i++)
    {
      const char *codes[] = { "T4", "T1", "T2", "T3", "T5", "T6" };
      guint row = (wb_app_bench_propose_place (bench.bench, bench_find_sample (&bench, codes[i]), 6) - 1) / 3;

      wanted = i == 0 ? row : wanted;
      in_row += row == wanted;
    }
  g_assert_cmpuint (in_row, ==, 3);
  bench_act (&bench, "page.light-row");
  g_assert_true (wb_app_bench_get_row_step (bench.bench, &step));
  g_assert_cmpuint (step.after, ==, 2);
  g_assert_cmpuint ((wb_app_bench_propose_place (bench.bench, step.next, 6) - 1) / 3, ==, wanted);
  bench_act (&bench, "page.stop-row");
  bench_act (&bench, "page.light-all");
  g_assert_true (wb_app_bench_get_row_step (bench.bench, &step));
  g_assert_cmpuint (step.after, ==, 5);
  bench_close (&bench);
}

static gboolean
is_divided (gpointer user)
{
  Bench *bench = user;

  return wb_app_bench_sample_get_waits_for_cohort (bench_find_sample (bench, "T6")) == 2;
}

/* T1 to T3 are of the first cohort, the others of the second. */
static void
put_into_cohorts (Bench *bench)
{
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (wb_record_free);
  g_autoptr (GError) error = NULL;
  const char *codes[] = { "T1", "T2", "T3", "T4", "T5", "T6" };

  for (guint i = 0; i < G_N_ELEMENTS (codes); i++)
    {
      WbSample *sample = wb_record_copy (wb_app_bench_sample_get_record (bench_find_sample (bench, codes[i])));

      sample->cohort = i < 3 ? 1 : 2;
      g_ptr_array_add (records, sample);
    }
  wb_app_notebook_save_sync (test_notebook (bench->window), "Cohorts for a test", records, NULL, &error);
  g_assert_no_error (error);
  test_wait (is_divided, bench);
}

/* All that are lit in a row are of the cohort whose turn it is; whoever begins with another lights it all the same, and all. */
static void
test_row_of_the_cohort (void)
{
  Bench bench;
  WbAppRowStep step;
  g_autofree char *state = NULL;

  bench_open (&bench, 6, "flame_mm");
  put_into_cohorts (&bench);
  state = wb_bench_words_dup_state (bench_find_sample (&bench, "T6"));
  g_assert_cmpstr (state, ==, "waits for cohort 2");
  bench_choose (&bench, "T1");
  bench_act (&bench, "page.light-all");
  g_assert_true (wb_app_bench_get_row_step (bench.bench, &step));
  g_assert_cmpuint (step.after, ==, 2);
  bench_act (&bench, "page.stop-row");
  bench_choose (&bench, "T5");
  bench_act (&bench, "page.light-all");
  g_assert_true (wb_app_bench_get_row_step (bench.bench, &step));
  g_assert_cmpuint (step.after, ==, 5);
  bench_act (&bench, "page.stop-row");
  bench_light (&bench, "T5", 1);
  g_assert_cmpint (wb_app_bench_sample_get_state (bench_find_sample (&bench, "T5")), ==, WB_APP_BENCH_ALIGHT);
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
  bench_light (&bench, "T1", 1);
  bench_choose (&bench, "T1");
  bench_type (&bench, WB_COLUMN_FLAME_MM, "22");
  bench_advance (&bench, 60);
  bench_act (&bench, "page.save");
  bench_wait_read (bench_find_sample (&bench, "T1"), 60);
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
  spot = wb_bench_view_find (view, wb_app_bench_sample_get_id (bench_find_sample (&bench, "T1")));
  spoken = wb_bench_words_dup_spoken (wb_bench_spot_get_sample (spot), FALSE);
  g_assert_nonnull (strstr (spoken, "22"));
  bench_close (&bench);
}

static int
measure_bench (GtkWidget *view,
               int        dpi)
{
  int minimum;

  g_object_set (gtk_settings_get_default (), "gtk-xft-dpi", dpi * 1024, NULL);
  gtk_widget_measure (view, GTK_ORIENTATION_HORIZONTAL, -1, &minimum, NULL, NULL, NULL);
  return minimum;
}

/* Words below neighbouring candles do not run into each other. */
static void
test_large (void)
{
  Bench bench;
  GtkWidget *view;
  int usual;

  bench_open (&bench, 2, "flame_mm");
  view = test_find (GTK_WIDGET (bench.page), WB_TYPE_BENCH_VIEW);
  test_settle (bench.window);
  usual = measure_bench (view, 96);
  /* twice, but for what a font's metrics are rounded by */
  g_assert_cmpfloat (measure_bench (view, 192), >, 1.8 * usual);
  g_assert_cmpint (measure_bench (view, 96), ==, usual);
  gtk_settings_reset_property (gtk_settings_get_default (), "gtk-xft-dpi");
  test_settle (bench.window);
  bench_close (&bench);
}

void
test_burn_place_add (void)
{
  g_test_add_func ("/views/burn/places-grow-with-the-letters", test_large);
  g_test_add_func ("/views/burn/a-row-that-nobody-weighed-is-asked-for-its-lighting", test_row_of_unweighed);
  g_test_add_func ("/views/burn/a-place-where-another-burns-is-asked-about", test_lit_where_another_burns);
  g_test_add_func ("/views/burn/a-bench-is-drawn-smaller-before-it-is-scrolled", test_dense);
  g_test_add_func ("/views/burn/a-place-is-changed-while-it-burns", test_move);
  g_test_add_func ("/views/burn/the-row-of-a-stated-bench-is-the-chosen-ones", test_row_of_the_bench);
  g_test_add_func ("/views/burn/a-stated-bench-has-its-places-where-they-are", test_real_places);
  g_test_add_func ("/views/burn/a-row-is-lit-and-snuffed-by-its-stagger", test_row);
  g_test_add_func ("/views/burn/a-row-is-of-the-cohort-whose-turn-it-is", test_row_of_the_cohort);
  g_test_add_func ("/views/burn/another-sample-is-chosen-by-keys", test_choose_by_keys);
  g_test_add_func ("/views/burn/a-code-that-stands-twice-is-found-by-its-label", test_find_twin);
  g_test_add_func ("/views/burn/each-flame-stands-in-its-place", test_view);
}
