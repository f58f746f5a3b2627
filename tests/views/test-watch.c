/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "bench-notebook.h"
#include "test-bench.h"
#include "fake-desktop.h"
#include "test-views.h"

#include "wb-burn-page.h"
#include "wb-clock.h"
#include "wb-found-dialog.h"
#include "wb-look.h"
#include "wb-notice.h"
#include "wb-quantity-entry.h"

#include <string.h>

/* Reminders in the window and on the desktop, whose services are the test's own; the test clock is moved by hand. */

#define MINUTE_US (60 * (gint64) G_USEC_PER_SEC)

typedef struct
{
  WbWindow         *window;
  WbAppBench       *bench;
  WbNotice         *notice;
  WbAppBenchSample *sample;
  char             *path;
} Evening;

static gboolean
is_there (gpointer user)
{
  return wb_app_bench_get_loaded (user);
}

/* The window that the application has opened for a notebook. */
static gboolean
has_opened (gpointer user)
{
  Evening *evening = user;

  for (GList *l = gtk_application_get_windows (GTK_APPLICATION (test_application ())); l != NULL; l = l->next)
    if (WB_IS_WINDOW (l->data) && wb_host_get_desk (WB_HOST (l->data)) != NULL)
      {
        evening->window = l->data;
        evening->bench = wb_desk_get_bench (wb_host_get_desk (WB_HOST (l->data)));
      }
  return evening->window != NULL;
}

static void
open_again (Evening *evening)
{
  g_autoptr (GFile) file = g_file_new_for_path (evening->path);
  GFile *files[] = { file };

  evening->window = NULL;
  g_application_open (G_APPLICATION (test_application ()), files, 1, "");
  test_wait (has_opened, evening);
  test_wait (is_there, evening->bench);
  evening->notice = WB_NOTICE (test_find (GTK_WIDGET (evening->window), WB_TYPE_NOTICE));
  g_assert_nonnull (evening->notice);
}

static void
set_up_samples (Evening *evening,
                guint    n)
{
  *evening = (Evening) { .path = test_path ("watch.wickbench") };
  bench_notebook_write (evening->path, n, "flame_mm");
  open_again (evening);
  evening->sample = test_bench_light_first (evening->bench);
}

static void
set_up (Evening *evening)
{
  set_up_samples (evening, 2);
}

static gboolean
no_window (gpointer user)
{
  return gtk_application_get_windows (GTK_APPLICATION (test_application ())) == NULL;
}

/* As after a crash: nobody is asked. */
static void
close_window (Evening *evening)
{
  gtk_window_destroy (GTK_WINDOW (evening->window));
  test_wait (no_window, NULL);
}

static void
tear_down (Evening *evening)
{
  close_window (evening);
  g_free (evening->path);
}

static void
pass (Evening *evening,
      int      minutes)
{
  wb_clock_advance (wb_clock_get (), minutes * MINUTE_US);
  wb_app_bench_update (evening->bench);
}

static void
read_flame_of (Evening *evening,
               double   flame_mm)
{
  g_autoptr (WbRecord) record = wb_record_new (&wb_reading_type);
  gboolean done = FALSE;

  ((WbReading *) record)->values[WB_COLUMN_FLAME_MM] = flame_mm;
  wb_app_bench_read_async (evening->bench, wb_app_bench_sample_get_id (evening->sample), (WbReading *) record, NULL, test_bench_done_cb, &done);
  test_wait (test_is_true, &done);
}

static void
read_flame (Evening *evening)
{
  read_flame_of (evening, 20);
}

static gboolean
is_quiet (gpointer user)
{
  return wb_notice_get_n (((Evening *) user)->notice) == 0;
}

static gboolean
is_told (gpointer user)
{
  return wb_notice_get_n (((Evening *) user)->notice) == 1;
}

typedef struct { FakeDesktop *desktop; guint n; } Line;

static gboolean
has_line (gpointer user)
{
  g_autofree char *line = fake_desktop_dup (((Line *) user)->desktop, ((Line *) user)->n);

  return line != NULL;
}

static void
assert_line (FakeDesktop *desktop,
             guint        n,
             const char  *expected)
{
  Line wanted = { desktop, n };
  g_autofree char *line = NULL;

  test_wait (has_line, &wanted);
  line = fake_desktop_dup (desktop, n);
  g_assert_cmpstr (line, ==, expected);
}

static void
on_answered_cb (GObject      *source,
                GAsyncResult *result,
                gpointer      user)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GVariant) answer = g_dbus_connection_call_finish (G_DBUS_CONNECTION (source), result, &error);

  g_assert_no_error (error);
  *(gboolean *) user = TRUE;
}

/* Until all that was sent before has its answer: the service's number of a notification is in it. */
static void
wait_for_answers (void)
{
  gboolean answered = FALSE;

  g_dbus_connection_call (g_application_get_dbus_connection (G_APPLICATION (test_application ())), "org.freedesktop.Notifications",
                          "/org/freedesktop/Notifications", "org.freedesktop.Notifications", "GetCapabilities", NULL, NULL,
                          G_DBUS_CALL_FLAGS_NONE, -1, NULL, on_answered_cb, &answered);
  test_wait (test_is_true, &answered);
}

/* Shown, replaced by a second with the same id, withdrawn once it is read. */
static void
test_desktop (void)
{
  FakeDesktop *desktop = fake_desktop_start ("org.freedesktop.Notifications");
  Evening evening;
  g_autofree char *due = NULL, *nothing = NULL;

  set_up (&evening);
  pass (&evening, 59);
  g_assert_cmpuint (wb_notice_get_n (evening.notice), ==, 0);
  pass (&evening, 1);
  due = g_strdup_printf ("notify 0 %s: reading due", wb_app_bench_sample_get_code (evening.sample));
  assert_line (desktop, 0, due);
  wait_for_answers ();
  g_assert_cmpuint (wb_notice_get_n (evening.notice), ==, 1);
  pass (&evening, 5);
  g_clear_pointer (&due, g_free);
  due = g_strdup_printf ("notify 1 %s: reading due", wb_app_bench_sample_get_code (evening.sample));
  pass (&evening, 5);
  assert_line (desktop, 1, due);
  wait_for_answers ();
  read_flame (&evening);
  assert_line (desktop, 2, "close 1");
  test_wait (is_quiet, &evening);
  test_bench_snuff (evening.bench, evening.sample);
  nothing = fake_desktop_dup (desktop, 3);
  g_assert_null (nothing);
  tear_down (&evening);
  fake_desktop_stop (desktop);
}

/* Without a service GLib would warn, and a warning ends this test; who comes later is told what still stands. */
static void
test_no_service (void)
{
  FakeDesktop *desktop;
  Evening evening;
  g_autofree char *due = NULL;

  set_up (&evening);
  pass (&evening, 60);
  g_assert_cmpuint (wb_notice_get_n (evening.notice), ==, 1);
  for (int i = 0; i < 20; i++)
    g_main_context_iteration (NULL, FALSE);
  desktop = fake_desktop_start ("org.freedesktop.Notifications");
  due = g_strdup_printf ("notify 0 %s: reading due", wb_app_bench_sample_get_code (evening.sample));
  assert_line (desktop, 0, due);
  wait_for_answers ();
  test_bench_snuff (evening.bench, evening.sample);
  assert_line (desktop, 1, "close 1");
  tear_down (&evening);
  fake_desktop_stop (desktop);
}

/* Put away it comes again when it is more pressing; without notifications the window tells alone. */
static void
test_window_alone (void)
{
  FakeDesktop *desktop = fake_desktop_start ("org.freedesktop.Notifications");
  Evening evening;
  WbAppSettings *settings;
  g_autofree char *id = NULL, *uuid = NULL, *text = NULL, *nothing = NULL;

  set_up (&evening);
  settings = wb_desk_get_settings (wb_host_get_desk (WB_HOST (evening.window)));
  wb_app_settings_set_notifications (settings, FALSE);
  uuid = wb_uuid_format (&wb_app_bench_sample_get_burn (evening.sample)->uuid);
  id = g_strdup_printf ("due:%s", uuid);
  pass (&evening, 60);
  text = wb_notice_dup_text (evening.notice, id);
  g_assert_nonnull (strstr (text, "reading due"));
  wb_notice_drop (evening.notice, id);
  pass (&evening, 5);
  g_assert_cmpuint (wb_notice_get_n (evening.notice), ==, 0);
  pass (&evening, 5);
  g_assert_cmpuint (wb_notice_get_n (evening.notice), ==, 1);
  g_signal_emit_by_name (evening.notice, "acted", id);
  g_assert_cmpstr (G_OBJECT_TYPE_NAME (wb_window_get_page (evening.window)), ==, "WbBurnPage");
  test_bench_snuff (evening.bench, evening.sample);
  test_wait (is_quiet, &evening);
  nothing = fake_desktop_dup (desktop, 0);
  g_assert_null (nothing);
  wb_app_settings_set_notifications (settings, TRUE);
  tear_down (&evening);
  fake_desktop_stop (desktop);
}

/* What the tests before said last to the session manager is on its way without an answer; a call behind it has one. */
static void
wait_for_session (void)
{
  gboolean answered = FALSE;

  g_dbus_connection_call (g_application_get_dbus_connection (G_APPLICATION (test_application ())), "org.gnome.SessionManager",
                          "/org/gnome/SessionManager", "org.gnome.SessionManager", "RegisterClient", g_variant_new ("(ss)", "", ""), NULL,
                          G_DBUS_CALL_FLAGS_NONE, -1, NULL, on_answered_cb, &answered);
  test_wait (test_is_true, &answered);
}

/* So many lines were said so far. */
static guint
count_lines (FakeDesktop *session)
{
  guint n = 0;

  wait_for_session ();
  for (char *line = fake_desktop_dup (session, n); line != NULL; line = fake_desktop_dup (session, ++n))
    g_free (line);
  return n;
}

static void
assert_lifted (FakeDesktop *session,
               guint        n)
{
  Line wanted = { session, n };
  g_autofree char *line = NULL;

  test_wait (has_line, &wanted);
  line = fake_desktop_dup (session, n);
  g_assert_true (g_str_has_prefix (line, "uninhibit "));
}

/* While something burns the session is not to be ended without a word. 1: logging out, as GTK tells GNOME's session manager. */
static void
test_inhibit (void)
{
  FakeDesktop *session = test_session ();
  Evening evening;
  guint n = count_lines (session);

  set_up (&evening);
  assert_line (session, n, "inhibit 1 Candles are alight");
  test_bench_snuff (evening.bench, evening.sample);
  assert_lifted (session, n + 1);
  tear_down (&evening);
}

/* A window that goes takes its word back, though it knows its application no more. */
static void
test_inhibit_lifted (void)
{
  FakeDesktop *session = test_session ();
  Evening evening;
  guint n = count_lines (session);

  set_up (&evening);
  assert_line (session, n, "inhibit 1 Candles are alight");
  tear_down (&evening);
  assert_lifted (session, n + 1);
}

/* Nor while photos are on their way into the notebook. */
static void
test_inhibit_photos (void)
{
  FakeDesktop *session = test_session ();
  Evening evening = { .path = test_path ("photos.wickbench") };
  gint64 experiment = bench_notebook_write (evening.path, 1, "flame_mm");
  g_autofree char *path = test_path ("photo.jpg");
  g_autoptr (GdkPixbuf) pixbuf = gdk_pixbuf_new (GDK_COLORSPACE_RGB, FALSE, 8, 300, 200);
  g_autoptr (GFile) file = g_file_new_for_path (path);
  g_autoptr (GListStore) files = g_list_store_new (G_TYPE_FILE);
  g_autoptr (WbAppBenchSample) sample = NULL;
  guint n = count_lines (session);

  gdk_pixbuf_fill (pixbuf, 0x304050ff);
  g_assert_true (gdk_pixbuf_save (pixbuf, path, "jpeg", NULL, NULL));
  g_list_store_append (files, file);
  open_again (&evening);
  g_assert_true (wb_window_go (evening.window, "burn", experiment));
  sample = g_list_model_get_item (G_LIST_MODEL (evening.bench), 0);
  wb_photo_strip_add_files (wb_burn_page_get_photos (WB_BURN_PAGE (wb_window_get_page (evening.window))), sample, G_LIST_MODEL (files));
  assert_line (session, n, "inhibit 1 Photos are being put into the notebook");
  assert_lifted (session, n + 1);
  g_clear_object (&sample);
  tear_down (&evening);
}

static gboolean
is_sure (gpointer user)
{
  return wb_app_bench_get_unsure (user) == 0;
}

/* Set while the window is open: told once, put away by hand. */
static void
test_clock_set (void)
{
  Evening evening;
  g_autofree char *text = NULL;

  set_up (&evening);
  pass (&evening, 10);
  wb_clock_step (wb_clock_get (), -30 * MINUTE_US);
  pass (&evening, 0);
  text = wb_notice_dup_text (evening.notice, "clock");
  g_assert_nonnull (text);
  g_assert_nonnull (strstr (text, "set back by 30"));
  g_assert_cmpint (wb_app_bench_sample_get_elapsed_s (evening.sample), ==, 600);
  wb_notice_drop (evening.notice, "clock");
  pass (&evening, 0);
  g_assert_cmpuint (wb_notice_get_n (evening.notice), ==, 0);
  test_bench_snuff (evening.bench, evening.sample);
  wb_clock_step (wb_clock_get (), 30 * MINUTE_US);
  tear_down (&evening);
}

/* The computer started anew with its clock set back: the window asks how long, and takes no answer that the record contradicts. */
static void
test_how_long (void)
{
  Evening evening;
  WbFoundDialog *dialog = NULL;
  GtkWidget *burnt;
  g_autofree char *text = NULL;

  set_up (&evening);
  pass (&evening, 61);
  read_flame (&evening);
  close_window (&evening);
  wb_clock_step (wb_clock_get (), -30 * MINUTE_US);
  wb_clock_reboot (wb_clock_get (), "another");
  open_again (&evening);
  evening.sample = wb_app_bench_get_next_due (evening.bench);
  text = wb_notice_dup_text (evening.notice, "unsure");
  g_assert_nonnull (text);
  g_assert_nonnull (strstr (text, "How long has 1 candle burnt?"));
  g_signal_emit_by_name (evening.notice, "acted", "unsure");
  for (guint i = 0; i < g_list_model_get_n_items (gtk_window_get_toplevels ()); i++)
    {
      g_autoptr (GtkWindow) window = g_list_model_get_item (gtk_window_get_toplevels (), i);

      if (WB_IS_FOUND_DIALOG (window))
        dialog = WB_FOUND_DIALOG (window);
    }
  g_assert_nonnull (dialog);
  burnt = test_find (GTK_WIDGET (dialog), WB_TYPE_QUANTITY_ENTRY);
  g_assert_nonnull (burnt);
  /* Nothing said, then less than what was read: asked again. */
  g_signal_emit_by_name (test_child (GTK_WIDGET (dialog), "save"), "clicked");
  wb_quantity_entry_set_text (WB_QUANTITY_ENTRY (burnt), "31");
  g_signal_emit_by_name (test_child (GTK_WIDGET (dialog), "save"), "clicked");
  g_assert_cmpuint (wb_app_bench_get_unsure (evening.bench), ==, 1);
  wb_quantity_entry_set_text (WB_QUANTITY_ENTRY (burnt), "1 h 10 min");
  g_signal_emit_by_name (test_child (GTK_WIDGET (dialog), "save"), "clicked");
  test_wait (is_sure, evening.bench);
  test_settle (evening.window);
  g_assert_cmpint (wb_app_bench_sample_get_elapsed_s (evening.sample), ==, 70 * 60);
  g_assert_cmpuint (wb_app_bench_get_found_open (evening.bench), ==, 0);
  pass (&evening, 0);
  g_assert_null (wb_notice_dup_text (evening.notice, "unsure"));
  test_bench_snuff (evening.bench, evening.sample);
  wb_clock_step (wb_clock_get (), 30 * MINUTE_US);
  tear_down (&evening);
}

static gboolean
is_alight (gpointer sample)
{
  return wb_app_bench_sample_get_state (sample) == WB_APP_BENCH_ALIGHT;
}

static void
light (Evening          *evening,
       WbAppBenchSample *sample)
{
  gboolean done = FALSE;

  wb_app_bench_light_async (evening->bench, wb_app_bench_sample_get_id (sample), WB_BURN_STANDARD, 6, NULL, WB_INSTANT_NONE, NULL, FALSE,
                            NULL, test_bench_done_cb, &done);
  test_wait (test_is_true, &done);
  test_wait (is_alight, sample);
}

/* All of its experiment, those alight already too; unref. */
static GPtrArray *
light_all (Evening *evening)
{
  GPtrArray *samples = wb_app_bench_dup_of_experiment (evening->bench, wb_app_bench_sample_get_experiment (evening->sample));

  for (guint i = 0; i < samples->len; i++)
    if (!is_alight (g_ptr_array_index (samples, i)))
      light (evening, g_ptr_array_index (samples, i));
  return samples;
}

/* All that are not alight yet, then an hour passes and all are snuffed. */
static void
burn_all (Evening *evening)
{
  g_autoptr (GPtrArray) samples = light_all (evening);

  wb_clock_advance (wb_clock_get (), 30 * MINUTE_US);
  for (guint i = 0; i < samples->len; i++)
    test_bench_snuff (evening->bench, g_ptr_array_index (samples, i));
}

/* Three that have set are one notice, here and on the desktop; that they are fit to light is not told where the bench says so beside each. */
static void
test_many (void)
{
  FakeDesktop *desktop = fake_desktop_start ("org.freedesktop.Notifications");
  Evening evening;
  g_autofree char *weigh = NULL, *cool = NULL, *gone = NULL, *back = NULL;
  gint64 experiment;

  set_up_samples (&evening, 3);
  experiment = wb_app_bench_sample_get_experiment (evening.sample);
  burn_all (&evening);
  g_assert_cmpuint (wb_notice_get_n (evening.notice), ==, 0);
  pass (&evening, 120);
  g_assert_cmpuint (wb_notice_get_n (evening.notice), ==, 1);
  weigh = wb_notice_dup_text (evening.notice, "weigh");
  g_assert_nonnull (strstr (weigh, " and 2 more: weigh them"));
  {
    Line wanted = { desktop, 0 };
    g_autofree char *line = NULL;

    test_wait (has_line, &wanted);
    line = fake_desktop_dup (desktop, 0);
    g_assert_true (g_str_has_prefix (line, "notify 0 ") && g_str_has_suffix (line, " and 2 more: weigh them"));
  }
  pass (&evening, 60);
  g_assert_cmpuint (wb_notice_get_n (evening.notice), ==, 1);
  cool = wb_notice_dup_text (evening.notice, "cool");
  g_assert_nonnull (strstr (cool, " and 2 more are cool enough to light"));
  g_assert_true (wb_window_go (evening.window, "burn", experiment));
  pass (&evening, 0);
  gone = wb_notice_dup_text (evening.notice, "cool");
  g_assert_null (gone);
  g_assert_true (wb_window_go (evening.window, "today", 0));
  pass (&evening, 0);
  back = wb_notice_dup_text (evening.notice, "cool");
  g_assert_cmpstr (back, ==, cool);
  tear_down (&evening);
  fake_desktop_stop (desktop);
}

/* One of three is read: the other two are told one by one before what told of all goes from the desktop. */
static void
test_few_due (void)
{
  FakeDesktop *desktop = fake_desktop_start ("org.freedesktop.Notifications");
  g_autoptr (GPtrArray) samples = NULL;
  Evening evening;

  set_up_samples (&evening, 3);
  samples = light_all (&evening);
  pass (&evening, 60);
  assert_line (desktop, 0, "notify 0 T1 and 2 more: readings due");
  wait_for_answers ();
  evening.sample = g_ptr_array_index (samples, 0);
  read_flame (&evening);
  assert_line (desktop, 1, "notify 0 T2: reading due");
  assert_line (desktop, 2, "notify 0 T3: reading due");
  assert_line (desktop, 3, "close 1");
  tear_down (&evening);
  fake_desktop_stop (desktop);
}

/* Two of three that have cooled are lit at the bench: the third one is told alone, on the desktop and behind the bench. */
static void
test_last_cool (void)
{
  FakeDesktop *desktop = fake_desktop_start ("org.freedesktop.Notifications");
  g_autoptr (GPtrArray) samples = NULL;
  Evening evening;
  gint64 experiment;

  set_up_samples (&evening, 3);
  experiment = wb_app_bench_sample_get_experiment (evening.sample);
  samples = wb_app_bench_dup_of_experiment (evening.bench, experiment);
  burn_all (&evening);
  pass (&evening, 180);
  assert_line (desktop, 0, "notify 0 T1 and 2 more are cool enough to light");
  wait_for_answers ();
  g_assert_true (wb_window_go (evening.window, "burn", experiment));
  pass (&evening, 0);
  light (&evening, g_ptr_array_index (samples, 0));
  light (&evening, g_ptr_array_index (samples, 1));
  pass (&evening, 0);
  assert_line (desktop, 1, "notify 0 T3 is cool enough to light");
  assert_line (desktop, 2, "close 1");
  test_wait (is_quiet, &evening);
  g_assert_true (wb_window_go (evening.window, "today", 0));
  pass (&evening, 0);
  test_wait (is_told, &evening);
  tear_down (&evening);
  fake_desktop_stop (desktop);
}

/* What is over a limit stands in the bar of the bench; on every other page the window tells it. */
static void
test_over_once (void)
{
  FakeDesktop *desktop = fake_desktop_start ("org.freedesktop.Notifications");
  Evening evening;

  set_up (&evening);
  pass (&evening, 30);
  read_flame_of (&evening, 90);
  test_wait (is_told, &evening);
  g_assert_true (wb_window_go (evening.window, "burn", wb_app_bench_sample_get_experiment (evening.sample)));
  pass (&evening, 0);
  test_wait (is_quiet, &evening);
  g_assert_true (wb_window_go (evening.window, "today", 0));
  pass (&evening, 0);
  test_wait (is_told, &evening);
  test_bench_snuff (evening.bench, evening.sample);
  test_wait (is_quiet, &evening);
  tear_down (&evening);
  fake_desktop_stop (desktop);
}

static guint
count_visible (WbNotice *notice)
{
  guint n = 0;

  for (GtkWidget *line = gtk_widget_get_first_child (gtk_widget_get_first_child (GTK_WIDGET (notice))); line != NULL;
       line = gtk_widget_get_next_sibling (line))
    n += gtk_widget_get_visible (line);
  return n;
}

/* The most urgent first, what is due in one line, and a second one with an id in the first one's place. */
static void
test_notice (void)
{
  WbNotice *notice = g_object_ref_sink (g_object_new (WB_TYPE_NOTICE, NULL));
  const char *title, *body;
  guint more;
  g_autofree char *text = NULL;

  g_assert_false (gtk_widget_get_visible (GTK_WIDGET (notice)));
  wb_notice_put (notice, "a", WB_NOTICE_NOTE, "A", "has cooled", "_Go to it", TRUE);
  wb_notice_put (notice, "b", WB_NOTICE_ASK, "B", "is due", "_Go to it", TRUE);
  /* What is only due moves nothing: the status line tells it. */
  g_assert_cmpuint (count_visible (notice), ==, 0);
  g_assert_false (gtk_widget_get_visible (GTK_WIDGET (notice)));
  g_assert_cmpstr (wb_notice_get_due (notice, &title, &body, &more), ==, "b");
  g_assert_cmpstr (title, ==, "B");
  g_assert_cmpuint (more, ==, 1);
  wb_notice_put (notice, "c", WB_NOTICE_STOP, "C", "is over", "_Go to it", FALSE);
  wb_notice_put (notice, "b", WB_NOTICE_ASK, "B", "is due again", "_Go to it", TRUE);
  g_assert_cmpuint (wb_notice_get_n (notice), ==, 3);
  g_assert_cmpuint (count_visible (notice), ==, 1);
  g_assert_true (gtk_widget_get_visible (GTK_WIDGET (notice)));
  text = wb_notice_dup_text (notice, "b");
  g_assert_cmpstr (text, ==, "B is due again");
  /* What got worse moves up, and both that are urgent are seen. */
  wb_notice_put (notice, "a", WB_NOTICE_STOP, "A", "is over", NULL, FALSE);
  g_assert_cmpuint (count_visible (notice), ==, 2);
  wb_notice_put (notice, "d", WB_NOTICE_TOLD, "D", "is news", NULL, TRUE);
  g_assert_cmpuint (count_visible (notice), ==, 2);
  wb_notice_drop (notice, "c");
  wb_notice_drop (notice, "none");
  g_assert_cmpuint (wb_notice_get_n (notice), ==, 3);
  wb_notice_clear (notice);
  g_assert_false (gtk_widget_get_visible (GTK_WIDGET (notice)));
  g_assert_finalize_object (notice);
}

static const char *
due_words (Evening *evening)
{
  return gtk_label_get_text (GTK_LABEL (test_child (test_child (GTK_WIDGET (evening->window), "status_line"), "due_words")));
}

static int
status_height (Evening *evening)
{
  int natural;

  gtk_widget_measure (test_child (GTK_WIDGET (evening->window), "status_line"), GTK_ORIENTATION_VERTICAL, -1, NULL, &natural, NULL, NULL);
  return natural;
}

/* What comes next stands in the lowest line, and what is due takes its place there. */
static void
test_due_moves_nothing (void)
{
  Evening evening;
  GtkWidget *due;
  int height;

  /* with the program's own style sheet */
  wb_look_get_default ();
  set_up (&evening);
  wb_app_bench_update (evening.bench);
  due = test_child (test_child (GTK_WIDGET (evening.window), "status_line"), "due");
  height = status_height (&evening);
  g_assert_true (gtk_widget_get_visible (due));
  g_assert_nonnull (strstr (due_words (&evening), "Next: T1 at "));
  pass (&evening, 61);
  g_assert_nonnull (strstr (due_words (&evening), "T1: reading due"));
  g_assert_false (gtk_widget_get_visible (GTK_WIDGET (evening.notice)));
  g_assert_cmpint (status_height (&evening), ==, height);
  gtk_test_accessible_assert_property (due, GTK_ACCESSIBLE_PROPERTY_LABEL, "Go to it: T1: reading due");
  g_signal_emit_by_name (due, "clicked");
  g_assert_cmpstr (G_OBJECT_TYPE_NAME (wb_window_get_page (evening.window)), ==, "WbBurnPage");
  read_flame (&evening);
  test_wait (is_quiet, &evening);
  g_assert_nonnull (strstr (due_words (&evening), "Next: T1 at "));
  tear_down (&evening);
}

void
test_watch_add (void)
{
  g_test_add_func ("/views/watch/the-most-urgent-notice-comes-first", test_notice);
  g_test_add_func ("/views/watch/shown-replaced-and-withdrawn-on-the-desktop", test_desktop);
  g_test_add_func ("/views/watch/many-candles-make-one-notice", test_many);
  g_test_add_func ("/views/watch/few-that-are-left-of-many-due-are-told-alone", test_few_due);
  g_test_add_func ("/views/watch/the-last-of-many-that-cooled-is-told-alone", test_last_cool);
  g_test_add_func ("/views/watch/what-is-over-a-limit-is-told-once-on-the-bench", test_over_once);
  g_test_add_func ("/views/watch/without-a-service-nothing-is-sent", test_no_service);
  g_test_add_func ("/views/watch/the-window-tells-by-itself", test_window_alone);
  g_test_add_func ("/views/watch/the-session-is-not-ended-while-candles-burn", test_inhibit);
  g_test_add_func ("/views/watch/a-window-that-goes-lets-the-session-end", test_inhibit_lifted);
  g_test_add_func ("/views/watch/the-session-is-not-ended-while-photos-are-added", test_inhibit_photos);
  g_test_add_func ("/views/watch/a-clock-that-was-set-is-told", test_clock_set);
  g_test_add_func ("/views/watch/how-long-it-burnt-is-asked", test_how_long);
  g_test_add_func ("/views/watch/what-falls-due-moves-nothing", test_due_moves_nothing);
}
