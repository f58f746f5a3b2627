/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-views.h"

#include "wb-app-answers.h"
#include "wb-app-demo.h"
#include "wb-bundle.h"
#include "wb-clock.h"
#include "wb-language.h"
#include "wb-save-mark.h"

#include <gsl/gsl_errno.h>

/* Long enough for a sanitizer on a machine under load; a test that needs it has failed. */
#define LIMIT_US (120 * G_TIME_SPAN_SECOND)

static gboolean
on_wake_cb (gpointer user)
{
  return G_SOURCE_CONTINUE;
}

void
test_wait (TestFunc done,
           gpointer user)
{
  gint64 until = g_get_monotonic_time () + LIMIT_US;
  /* The loop turns even while nothing happens, so that the limit is seen. */
  guint wake = g_timeout_add (20, on_wake_cb, NULL);

  while (!done (user))
    {
      if (g_get_monotonic_time () > until)
        g_error ("waited in vain");
      g_main_context_iteration (NULL, TRUE);
    }
  g_source_remove (wake);
}

gboolean
test_is_true (gpointer flag)
{
  return *(gboolean *) flag;
}

char *
test_path (const char *name)
{
  static int n = 0;
  g_autofree char *unique = g_strdup_printf ("%d-%s", n++, name);

  g_mkdir_with_parents (g_get_user_data_dir (), 0700);
  return g_build_filename (g_get_user_data_dir (), unique, NULL);
}

static gboolean
has_loaded (gpointer user)
{
  WbDesk *desk = wb_host_get_desk (WB_HOST (user));

  return desk == NULL ||
         (wb_app_experiments_get_loaded (wb_desk_get_experiments (desk)) && wb_app_bench_get_loaded (wb_desk_get_bench (desk)));
}

static gboolean
is_quiet (gpointer user)
{
  return !wb_app_notebook_get_saving (user);
}

/* Jobs that went to a thread and whose answer the window does not have yet. */
static int n_jobs = 0;

void __real_g_task_run_in_thread (GTask *task, GTaskThreadFunc func);
void __wrap_g_task_run_in_thread (GTask *task, GTaskThreadFunc func);

static void
on_job_completed_cb (GTask      *task,
                     GParamSpec *pspec,
                     gpointer    user)
{
  g_atomic_int_add (&n_jobs, -1);
}

/* The linker leads every call here (see meson.build): what a page still waits for is known, on a machine however slow. */
void
__wrap_g_task_run_in_thread (GTask           *task,
                             GTaskThreadFunc  func)
{
  g_atomic_int_inc (&n_jobs);
  g_signal_connect (task, "notify::completed", G_CALLBACK (on_job_completed_cb), NULL);
  __real_g_task_run_in_thread (task, func);
}

static gboolean
has_settled (gpointer user)
{
  WbWindow *window = user;

  return is_quiet (test_notebook (window)) && has_loaded (window) && g_atomic_int_get (&n_jobs) == 0 && !g_main_context_pending (NULL);
}

void
test_settle (WbWindow *window)
{
  while (g_main_context_iteration (NULL, FALSE))
    ;
  test_wait (has_settled, window);
}

static WbWindow *
window_new (WbAppNotebook *notebook)
{
  g_autoptr (WbAppSettings) settings = wb_app_settings_new ();
  WbWindow *window = WB_WINDOW (wb_window_new (NULL, settings));

  if (notebook != NULL)
    wb_window_set_notebook (window, notebook);
  gtk_window_present (GTK_WINDOW (window));
  test_wait (has_loaded, window);
  return window;
}

WbWindow *
test_window_new (void)
{
  return window_new (NULL);
}

WbWindow *
test_window_new_with (const char *path)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbAppNotebook) notebook = wb_app_notebook_open_sync (path, WB_APP_OPEN_CREATE, "Test notebook", &error);

  g_assert_no_error (error);
  return window_new (notebook);
}

/*
 * Each test has folders of its own: the demo is written once and kept as bytes. What burns there burns now: a
 * clock that tests before moved on by days is put back to the moment at which it was written.
 */
static void
write_demo (const char *path)
{
  static char *bytes = NULL;
  static WbInstant written;
  static gsize length;
  g_autoptr (GError) error = NULL;

  if (bytes == NULL)
    {
      wb_app_demo_write (path, &error);
      g_assert_no_error (error);
      g_file_get_contents (path, &bytes, &length, &error);
      written = wb_clock_now (wb_clock_get ());
    }
  else
    {
      g_file_set_contents (path, bytes, (gssize) length, &error);
      if (wb_clock_is_test (wb_clock_get ()))
        wb_clock_step (wb_clock_get (), written.utc_us - wb_clock_now (wb_clock_get ()).utc_us);
    }
  g_assert_no_error (error);
}

WbWindow *
test_window_new_demo (void)
{
  g_autofree char *path = test_path ("demo.wickbench");
  g_autoptr (GError) error = NULL;
  g_autoptr (WbAppNotebook) notebook = NULL;

  write_demo (path);
  notebook = wb_app_notebook_open_sync (path, WB_APP_OPEN_EXISTING, NULL, &error);
  g_assert_no_error (error);
  return window_new (notebook);
}

WbWindow *
test_window_new_demo_learnt (void)
{
  static char *bytes = NULL;
  static gsize length;
  const WbCraftLadderQuestion any = { .inner_diameter_mm = 78, .wax = (char *) "Arrel", .wicks = 1, .sizes = 3 };
  g_autofree char *path = test_path ("learnt.wickbench");
  g_autoptr (GError) error = NULL;
  g_autoptr (WbAppNotebook) notebook = NULL;
  g_autoptr (WbCraftLadder) ladder = NULL;

  write_demo (path);
  if (bytes != NULL)
    g_file_set_contents (path, bytes, (gssize) length, &error);
  g_assert_no_error (error);
  notebook = wb_app_notebook_open_sync (path, WB_APP_OPEN_EXISTING, NULL, &error);
  g_assert_no_error (error);
  if (bytes == NULL)
    {
      ladder = wb_app_answers_ladder_sync (notebook, &any, NULL, &error);
      g_assert_no_error (error);
      g_file_get_contents (path, &bytes, &length, &error);
      g_assert_no_error (error);
    }
  return window_new (notebook);
}

static gboolean
is_gone (gpointer user)
{
  return *(gpointer *) user == NULL;
}

void
test_window_destroy (WbWindow *window)
{
  gpointer weak_window = window;
  gpointer weak_page = wb_window_get_page (window);

  g_object_add_weak_pointer (weak_window, &weak_window);
  g_object_add_weak_pointer (weak_page, &weak_page);
  gtk_window_destroy (GTK_WINDOW (window));
  test_wait (is_gone, &weak_window);
  test_wait (is_gone, &weak_page);
}

WbWindow *
test_window_crash (WbWindow      *window,
                   WbAppOpenMode  mode,
                   const char    *page)
{
  g_autoptr (WbAppNotebook) notebook = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *path = g_strdup (wb_app_notebook_get_path (test_notebook (window)));

  test_window_destroy (window);
  notebook = wb_app_notebook_open_sync (path, mode, NULL, &error);
  g_assert_no_error (error);
  window = test_window_new ();
  wb_window_set_notebook (window, notebook);
  test_settle (window);
  g_assert_true (wb_window_go (window, page, 0));
  return window;
}

WbAppNotebook *
test_notebook (WbWindow *window)
{
  return wb_desk_get_notebook (wb_host_get_desk (WB_HOST (window)));
}

gint64
test_experiment (WbWindow    *window,
                 WbCraftState state)
{
  GListModel *list = G_LIST_MODEL (wb_desk_get_experiments (wb_host_get_desk (WB_HOST (window))));

  for (guint i = 0; i < g_list_model_get_n_items (list); i++)
    {
      g_autoptr (WbAppExperiment) experiment = g_list_model_get_item (list, i);

      if (wb_app_experiment_get_state (experiment) == state)
        return wb_app_experiment_get_id (experiment);
    }
  g_assert_not_reached ();
}

GtkWidget *
test_find (GtkWidget *widget,
           GType      type)
{
  if (G_TYPE_CHECK_INSTANCE_TYPE (widget, type))
    return widget;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = test_find (child, type);

      if (found != NULL)
        return found;
    }
  return NULL;
}

GtkWidget *
test_child (GtkWidget  *widget,
            const char *id)
{
  if (g_strcmp0 (gtk_buildable_get_buildable_id (GTK_BUILDABLE (widget)), id) == 0)
    return widget;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = test_child (child, id);

      if (found != NULL)
        return found;
    }
  return NULL;
}

GtkWidget *
test_part (WbWindow   *window,
           const char *id)
{
  GtkWidget *widget = test_child (GTK_WIDGET (wb_window_get_page (window)), id);

  g_assert_nonnull (widget);
  return widget;
}

GtkWidget *
test_find_window (GType type)
{
  g_autoptr (GList) windows = gtk_window_list_toplevels ();

  for (GList *one = windows; one != NULL; one = one->next)
    if (G_TYPE_CHECK_INSTANCE_TYPE (one->data, type))
      return one->data;
  return NULL;
}

gboolean
test_says (GtkWidget  *widget,
           const char *text)
{
  if (GTK_IS_LABEL (widget) && strstr (gtk_label_get_text (GTK_LABEL (widget)), text) != NULL)
    return TRUE;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
    if (test_says (child, text))
      return TRUE;
  return FALSE;
}

static gboolean
on_late_cb (gpointer late)
{
  *(gboolean *) late = TRUE;
  return G_SOURCE_REMOVE;
}

/* Layout and drawing come with the frame clock: a few frames later all stands where it stays. */
static void
wait_for_frames (void)
{
  gboolean late = FALSE;

  g_timeout_add (400, on_late_cb, &late);
  test_wait (test_is_true, &late);
}

void
test_look_at (GtkWidget  *widget,
              const char *name)
{
  const char *folder = g_getenv ("WICKBENCH_PICTURES");
  g_autoptr (GdkPaintable) paintable = NULL;
  g_autoptr (GskRenderNode) node = NULL;
  g_autoptr (GdkTexture) texture = NULL;
  g_autofree char *file = NULL, *path = NULL;
  GtkSnapshot *snapshot;
  int width = 0, height = 0;

  if (folder == NULL)
    return;
  paintable = gtk_widget_paintable_new (widget);
  while (node == NULL)
    {
      wait_for_frames ();
      width = gtk_widget_get_width (widget);
      height = gtk_widget_get_height (widget);
      snapshot = gtk_snapshot_new ();
      gdk_paintable_snapshot (paintable, GDK_SNAPSHOT (snapshot), width, height);
      node = gtk_snapshot_free_to_node (snapshot);
    }
  texture = gsk_renderer_render_texture (gtk_native_get_renderer (gtk_widget_get_native (widget)), node,
                                         &GRAPHENE_RECT_INIT (0, 0, width, height));
  file = g_strconcat (name, ".png", NULL);
  path = g_build_filename (folder, file, NULL);
  g_assert_true (gdk_texture_save_to_png (texture, path));
}

gboolean
test_says_saved (gpointer window)
{
  return wb_save_mark_get_state (WB_SAVE_MARK (test_child (test_child (window, "status_line"), "save_mark"))) == WB_SAVE_SAVED;
}

gboolean
test_enabled (WbWindow   *window,
              const char *action)
{
  GActionGroup *group = G_ACTION_GROUP (window);

  if (g_str_has_prefix (action, "page."))
    group = G_ACTION_GROUP (wb_page_get_actions (wb_window_get_page (window)));
  action = strchr (action, '.') + 1;
  g_assert_true (g_action_group_has_action (group, action));
  return g_action_group_get_action_enabled (group, action);
}

/* GTK's icons are SVG, which gdk-pixbuf knows by the system's MIME data; isolated tests do not see the system's folders. */
static void
keep_mime_data (void)
{
  static char *dirs[] = { NULL, NULL };
  const char *const *system_dirs = g_get_system_data_dirs ();

  for (; dirs[0] == NULL && *system_dirs != NULL; system_dirs++)
    {
      g_autofree char *dir = g_build_filename (*system_dirs, "mime", NULL);

      if (g_file_test (dir, G_FILE_TEST_IS_DIR))
        dirs[0] = g_steal_pointer (&dir);
    }
  if (dirs[0] != NULL)
    g_content_type_set_mime_dirs ((const char *const *) dirs);
}

static void
add_pages (void)
{
  test_german_add ();
  test_problem_add ();
  test_restore_add ();
  test_templates_add ();
  test_weak_widget_add ();
  test_wicks_add ();
  test_scanner_add ();
  test_sidebar_add ();
  test_shelf_dialog_add ();
  test_large_letters_add ();
  test_sizes_add ();
  test_window_add ();
  test_bad_input_add ();
  test_calendar_add ();
  test_compare_beside_add ();
  test_compare_page_add ();
  test_evening_sheet_add ();
  test_evening_typing_add ();
  test_keyboard_add ();
  test_labels_dialog_add ();
  test_loggers_add ();
  test_lots_add ();
  test_mapping_add ();
  test_measure_add ();
  test_materials_page_add ();
  test_material_delete_add ();
  test_material_method_add ();
  test_material_parts_add ();
  test_material_stock_add ();
  test_record_page_add ();
  test_paperwork_add ();
  test_report_page_add ();
  test_today_add ();
  test_transfer_add ();
  test_application_add ();
}

/* From the ladder to the decision. */
static void
add_bench (void)
{
  test_decision_papers_add ();
  test_decision_add ();
  test_ladder_add ();
  test_plan_order_add ();
  test_plan_page_add ();
  test_plan_draft_add ();
  test_plan_wicks_add ();
  test_plan_words_add ();
  test_pour_draft_add ();
  test_pour_later_add ();
  test_pour_slips_add ();
  test_pour_page_add ();
  /* Last: these move the test clock on. */
  test_advice_add ();
  test_amend_add ();
  test_bench_keys_add ();
  test_bench_plan_add ();
  test_burn_round_add ();
  test_blind_add ();
  test_burn_fields_add ();
  test_burn_hazard_add ();
  test_burn_lighting_add ();
  test_burn_state_add ();
  test_burn_place_add ();
  test_burn_throw_add ();
  test_inspection_add ();
  test_photos_add ();
  test_underneath_add ();
  test_watch_add ();
}

/* WICKBENCH_VIEWS=pages or bench: that part of them, so that two cores share them; without it all. */
int
main (int    argc,
      char **argv)
{
  const char *part = g_getenv ("WICKBENCH_VIEWS");

  keep_mime_data ();
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  gsl_set_error_handler_off ();
  g_setenv ("WICKBENCH_CLOCK", "2026-03-02T18:40:00+00:00,0", TRUE);
  gtk_init ();
  wb_bundle_register ();

  wb_language_set_up (GETTEXT_PACKAGE, WB_BUILD_DIR "/po");
  if (g_strcmp0 (part, "bench") != 0)
    add_pages ();
  if (g_strcmp0 (part, "pages") != 0)
    add_bench ();
  return g_test_run ();
}
