/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "bench-notebook.h"
#include "test-bench.h"
#include "test-views.h"

#include "wb-bench-check.h"
#include "wb-burn-page.h"
#include "wb-clock.h"
#include "wb-reading-field.h"
#include "wb-save-mark.h"
#include "wb-shortcut.h"

/* The bench by keys alone: where Enter goes, what it must not do, and what keeps still under the hand. */

#define MINUTE_US (60 * G_GINT64_CONSTANT (1000000))

typedef struct
{
  WbWindow       *window;
  char           *path;
  WbReadingStack *stack;
  WbAppBench     *bench;
  guint           n_alight; /* waited for */
} Keys;

static WbReadingPanel *
get_panel (Keys *keys)
{
  return wb_reading_stack_get_shown (keys->stack);
}

static gboolean
is_ready (gpointer user)
{
  return get_panel (user) != NULL;
}

static void
keys_open (Keys  *keys,
           guint  n_samples)
{
  g_autoptr (WbAppSettings) settings = wb_app_settings_new ();
  g_autoptr (WbAppNotebook) notebook = NULL;
  g_autoptr (GError) error = NULL;
  gint64 experiment;

  keys->path = test_path ("keys.wickbench");
  experiment = bench_notebook_write (keys->path, n_samples, "flame_mm,room_c,draught");
  notebook = wb_app_notebook_open_sync (keys->path, WB_APP_OPEN_EXISTING, NULL, &error);
  g_assert_no_error (error);
  keys->window = test_window_new ();
  wb_window_set_notebook (keys->window, notebook);
  test_settle (keys->window);
  keys->bench = wb_desk_get_bench (wb_host_get_desk (WB_HOST (keys->window)));
  g_assert_true (wb_window_go (keys->window, "burn", experiment));
  keys->stack = wb_burn_page_get_stack (WB_BURN_PAGE (wb_window_get_page (keys->window)));
  test_wait (is_ready, keys);
}

static void
keys_close (Keys *keys)
{
  test_window_destroy (keys->window);
  g_free (keys->path);
}

static const char *
get_code (Keys *keys)
{
  return wb_app_bench_sample_get_code (wb_reading_panel_get_sample (get_panel (keys)));
}

static GtkWidget *
get_focus (Keys *keys)
{
  GtkWidget *focus = gtk_root_get_focus (GTK_ROOT (keys->window));

  g_assert_nonnull (focus);
  return focus;
}

static gboolean
is_at (Keys       *keys,
       const char *part)
{
  GtkWidget *widget = test_child (GTK_WIDGET (get_panel (keys)), part);

  return get_focus (keys) == widget || gtk_widget_is_ancestor (get_focus (keys), widget);
}

static void
enter (Keys *keys)
{
  if (GTK_IS_TEXT (get_focus (keys)))
    g_signal_emit_by_name (get_focus (keys), "activate");
  else
    g_assert_true (test_bench_send_key (get_focus (keys), GDK_KEY_Return));
}

static gboolean
has_alight (gpointer user)
{
  return wb_app_bench_get_alight (((Keys *) user)->bench) == ((Keys *) user)->n_alight;
}

static WbAppBenchSample *
find_sample (Keys       *keys,
             const char *code)
{
  g_autoptr (GPtrArray) samples = wb_app_bench_dup_of_experiment (keys->bench, wb_page_get_experiment (wb_window_get_page (keys->window)));

  for (guint i = 0; i < samples->len; i++)
    if (g_str_equal (wb_app_bench_sample_get_code (g_ptr_array_index (samples, i)), code))
      return g_ptr_array_index (samples, i);
  g_assert_not_reached ();
}

static void
choose (Keys       *keys,
        const char *code)
{
  gtk_widget_activate_action (GTK_WIDGET (keys->window), "page.choose", "x", wb_app_bench_sample_get_id (find_sample (keys, code)));
  g_assert_cmpstr (get_code (keys), ==, code);
}

static void
answer_check (void)
{
  GtkWidget *check = test_find_window (WB_TYPE_BENCH_CHECK);
  GtkWidget *points = test_child (check, "checks");

  for (GtkWidget *point = gtk_widget_get_first_child (points); point != NULL; point = gtk_widget_get_next_sibling (point))
    gtk_check_button_set_active (GTK_CHECK_BUTTON (point), TRUE);
  gtk_editable_set_text (GTK_EDITABLE (test_child (check, "who")), "Wren");
  gtk_editable_set_text (GTK_EDITABLE (test_child (check, "until")), "22:30");
  g_signal_emit_by_name (test_child (check, "open"), "clicked");
}

static void
light (Keys       *keys,
       const char *code)
{
  choose (keys, code);
  gtk_widget_activate_action (GTK_WIDGET (keys->window), "page.light", NULL);
  if (test_find_window (WB_TYPE_BENCH_CHECK) != NULL)
    answer_check ();
  keys->n_alight++;
  test_wait (has_alight, keys);
  test_settle (keys->window);
}

static void
advance (Keys   *keys,
         gint64  minutes)
{
  wb_clock_advance (wb_clock_get (), minutes * MINUTE_US);
  wb_app_bench_update (keys->bench);
}

static void
type (Keys       *keys,
      WbColumn    column,
      const char *text)
{
  gtk_editable_set_text (GTK_EDITABLE (test_find (wb_reading_panel_get_field (get_panel (keys), column), GTK_TYPE_TEXT)), text);
}

static void
test_lighting (void)
{
  Keys keys = { 0 };
  GtkWidget *mass;

  keys_open (&keys, 2);
  choose (&keys, "T1");
  g_assert_true (is_at (&keys, "trim"));
  enter (&keys);
  g_assert_true (is_at (&keys, "place"));
  enter (&keys);
  g_assert_true (is_at (&keys, "kind"));
  enter (&keys);
  mass = wb_reading_panel_get_field (get_panel (&keys), WB_COLUMN_MASS_G);
  g_assert_true (gtk_widget_is_ancestor (get_focus (&keys), mass));
  g_assert_null (test_find_window (WB_TYPE_BENCH_CHECK));
  enter (&keys);
  g_assert_nonnull (test_find_window (WB_TYPE_BENCH_CHECK));
  gtk_window_destroy (GTK_WINDOW (test_find_window (WB_TYPE_BENCH_CHECK)));
  /* A throw burn states its distance, too, before it is lit. */
  gtk_drop_down_set_selected (GTK_DROP_DOWN (test_child (GTK_WIDGET (get_panel (&keys)), "kind")), WB_BURN_THROW);
  gtk_widget_grab_focus (test_child (GTK_WIDGET (get_panel (&keys)), "place"));
  gtk_editable_set_text (GTK_EDITABLE (get_focus (&keys)), "Study");
  enter (&keys);
  g_assert_null (test_find_window (WB_TYPE_BENCH_CHECK));
  g_assert_true (is_at (&keys, "kind"));
  keys_close (&keys);
}

static void
test_check_is_read (void)
{
  Keys keys = { 0 };
  GtkWidget *check, *first;

  keys_open (&keys, 1);
  gtk_widget_activate_action (GTK_WIDGET (keys.window), "page.light", NULL);
  check = test_find_window (WB_TYPE_BENCH_CHECK);
  test_settle (keys.window);
  first = gtk_widget_get_first_child (test_child (check, "checks"));
  /* Enter and Space come to the words, which take neither. */
  g_assert_true (gtk_window_get_focus (GTK_WINDOW (check)) == test_child (check, "words"));
  g_assert_false (gtk_widget_activate (gtk_window_get_focus (GTK_WINDOW (check))));
  g_assert_false (gtk_check_button_get_active (GTK_CHECK_BUTTON (first)));
  gtk_widget_child_focus (check, GTK_DIR_TAB_FORWARD);
  g_assert_true (gtk_window_get_focus (GTK_WINDOW (check)) == first);
  keys_close (&keys);
}

static void
test_place_stays (void)
{
  Keys keys = { 0 };
  GtkEditable *place;
  GtkWidget *question;

  keys_open (&keys, 1);
  place = GTK_EDITABLE (test_child (GTK_WIDGET (get_panel (&keys)), "place"));
  g_assert_cmpstr (gtk_editable_get_text (place), ==, "1");
  gtk_editable_set_text (place, "");
  advance (&keys, 1);
  wb_app_bench_update (keys.bench);
  g_assert_cmpstr (gtk_editable_get_text (place), ==, "");
  /* The notebook states 12 places. */
  gtk_editable_set_text (place, "31");
  gtk_widget_activate_action (GTK_WIDGET (keys.window), "page.light", NULL);
  question = test_find_window (GTK_TYPE_MESSAGE_DIALOG);
  g_assert_nonnull (question);
  g_assert_null (test_find_window (WB_TYPE_BENCH_CHECK));
  gtk_dialog_response (GTK_DIALOG (question), GTK_RESPONSE_CANCEL);
  g_assert_true (is_at (&keys, "place"));
  gtk_editable_set_text (place, "12");
  gtk_widget_activate_action (GTK_WIDGET (keys.window), "page.light", NULL);
  g_assert_null (test_find_window (GTK_TYPE_MESSAGE_DIALOG));
  g_assert_nonnull (test_find_window (WB_TYPE_BENCH_CHECK));
  keys_close (&keys);
}

static void
test_place_follows (void)
{
  Keys keys = { 0 };

  keys_open (&keys, 2);
  choose (&keys, "T2");
  g_assert_cmpstr (wb_reading_panel_get_place (get_panel (&keys)), ==, "1");
  light (&keys, "T1");
  choose (&keys, "T2");
  /* Nobody touched it: the place that is taken now goes. */
  g_assert_cmpstr (wb_reading_panel_get_place (get_panel (&keys)), ==, "2");
  keys_close (&keys);
}

static void
test_seen_to_has_its_key (void)
{
  Keys keys = { 0 };
  g_autofree char *seen_to = wb_shortcut_dup_label ("page.seen-to"), *save = wb_shortcut_dup_label ("page.save-calmly");

  g_assert_cmpstr (save, ==, "Ctrl+Return");
  g_assert_cmpstr (seen_to, !=, save);
  keys_open (&keys, 1);
  light (&keys, "T1");
  advance (&keys, 30);
  choose (&keys, "T1");
  type (&keys, WB_COLUMN_FLAME_MM, "20");
  g_assert_true (test_enabled (keys.window, "page.save-calmly"));
  type (&keys, WB_COLUMN_FLAME_MM, "70");
  g_signal_emit_by_name (get_panel (&keys), "finished");
  g_assert_true (test_enabled (keys.window, "page.seen-to"));
  g_assert_false (test_enabled (keys.window, "page.save-calmly"));
  keys_close (&keys);
}

static void
test_saved_goes (void)
{
  Keys keys = { 0 };

  keys_open (&keys, 1);
  light (&keys, "T1");
  test_wait (test_says_saved, keys.window);
  type (&keys, WB_COLUMN_FLAME_MM, "2");
  g_assert_false (test_says_saved (keys.window));
  keys_close (&keys);
}

static void
test_next_due_from_anywhere (void)
{
  Keys keys = { 0 };

  keys_open (&keys, 2);
  gtk_widget_activate_action (GTK_WIDGET (keys.window), "win.next-due", NULL);
  light (&keys, "T1");
  advance (&keys, 5);
  light (&keys, "T2");
  choose (&keys, "T2");
  g_assert_true (wb_window_go (keys.window, "today", 0));
  gtk_widget_activate_action (GTK_WIDGET (keys.window), "win.next-due", NULL);
  g_assert_true (WB_IS_BURN_PAGE (wb_window_get_page (keys.window)));
  g_assert_cmpstr (get_code (&keys), ==, "T1");
  keys_close (&keys);
}

static gboolean
is_read (gpointer sample)
{
  return wb_app_bench_sample_get_last (sample, WB_COLUMN_FLAME_MM) > 0;
}

static void
test_overdue_first (void)
{
  Keys keys = { 0 };
  WbAppBenchSample *second;

  keys_open (&keys, 3);
  light (&keys, "T1");
  advance (&keys, 4);
  light (&keys, "T2");
  advance (&keys, 20);
  light (&keys, "T3");
  second = find_sample (&keys, "T2");
  for (guint i = 0; i < 120 && !wb_app_bench_sample_get_overdue (second); i++)
    advance (&keys, 1);
  g_assert_true (wb_app_bench_sample_get_overdue (second));
  choose (&keys, "T2");
  type (&keys, WB_COLUMN_FLAME_MM, "21");
  gtk_widget_activate_action (GTK_WIDGET (keys.window), "page.save-calmly", NULL);
  /* T1 was passed over, and is overdue longer than T3. */
  g_assert_cmpstr (get_code (&keys), ==, "T1");
  test_wait (is_read, second);
  keys_close (&keys);
}

static gboolean
is_room_read (gpointer sample)
{
  return wb_app_bench_sample_get_last (sample, WB_COLUMN_ROOM_C) > 0;
}

static void
test_room_is_taken_over (void)
{
  Keys keys = { 0 };
  double values[WB_N_COLUMNS];
  GtkWidget *room;

  keys_open (&keys, 2);
  light (&keys, "T1");
  advance (&keys, 1);
  light (&keys, "T2");
  advance (&keys, 29);
  choose (&keys, "T2");
  room = wb_reading_panel_get_field (get_panel (&keys), WB_COLUMN_ROOM_C);
  gtk_widget_grab_focus (room);
  g_assert_true (test_bench_send_key (get_focus (&keys), GDK_KEY_equal));
  g_assert_cmpstr (gtk_label_get_text (GTK_LABEL (test_child (GTK_WIDGET (get_panel (&keys)), "wrong"))), ==, "Room: nothing to take over");
  choose (&keys, "T1");
  type (&keys, WB_COLUMN_ROOM_C, "21.5");
  gtk_widget_activate_action (GTK_WIDGET (keys.window), "page.save", NULL);
  test_wait (is_room_read, find_sample (&keys, "T1"));
  test_settle (keys.window);
  /* In a later round, which asks for the room anew. */
  advance (&keys, 16);
  choose (&keys, "T2");
  room = wb_reading_panel_get_field (get_panel (&keys), WB_COLUMN_ROOM_C);
  gtk_widget_grab_focus (room);
  g_assert_true (test_bench_send_key (get_focus (&keys), GDK_KEY_equal));
  wb_reading_panel_get_values (get_panel (&keys), values);
  g_assert_cmpfloat_with_epsilon (values[WB_COLUMN_ROOM_C], 21.5, 1e-9);
  g_assert_cmpstr (gtk_label_get_text (GTK_LABEL (test_child (GTK_WIDGET (get_panel (&keys)), "wrong"))), ==, "");
  keys_close (&keys);
}

void
test_bench_keys_add (void)
{
  g_test_add_func ("/views/bench-keys/enter-walks-the-lighting-and-lights-in-the-last-field", test_lighting);
  g_test_add_func ("/views/bench-keys/the-check-is-not-ticked-by-keys-meant-for-the-form", test_check_is_read);
  g_test_add_func ("/views/bench-keys/a-place-that-was-touched-stays-and-one-beyond-the-bench-is-asked-about", test_place_stays);
  g_test_add_func ("/views/bench-keys/a-place-that-nobody-touched-follows-the-bench", test_place_follows);
  g_test_add_func ("/views/bench-keys/a-hazard-is-not-answered-by-the-key-that-saves", test_seen_to_has_its_key);
  g_test_add_func ("/views/bench-keys/saved-goes-when-something-is-typed", test_saved_goes);
  g_test_add_func ("/views/bench-keys/the-next-due-is-reached-from-any-page", test_next_due_from_anywhere);
  g_test_add_func ("/views/bench-keys/the-evening-s-room-is-taken-over", test_room_is_taken_over);
  g_test_add_func ("/views/bench-keys/what-is-overdue-longest-comes-next", test_overdue_first);
}
