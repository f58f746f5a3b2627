/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-views.h"

#include <unistd.h>

static gboolean
all_open (gpointer user)
{
  for (GList *l = gtk_application_get_windows (user); l != NULL; l = l->next)
    if (WB_IS_WINDOW (l->data) && wb_host_get_desk (WB_HOST (l->data)) == NULL)
      return FALSE;
  return TRUE;
}

static gboolean
has_problem (gpointer user)
{
  GList *windows = gtk_application_get_windows (user);

  return *wb_problem_bar_get_heading (wb_host_get_problem_bar (WB_HOST (windows->data))) != '\0';
}

static gboolean
none_left (gpointer user)
{
  return gtk_application_get_windows (user) == NULL;
}

FakeDesktop *
test_session (void)
{
  static FakeDesktop *session = NULL;

  if (session == NULL)
    session = fake_desktop_start ("org.gnome.SessionManager");
  return session;
}

/* A second application would only send the first what it is asked. */
WbApplication *
test_application (void)
{
  static WbApplication *application = NULL;
  g_autoptr (GError) error = NULL;

  if (application == NULL)
    {
      test_session ();
      application = wb_application_new ();
      g_application_register (G_APPLICATION (application), NULL, &error);
      g_assert_no_error (error);
      g_assert_false (g_application_get_is_remote (G_APPLICATION (application)));
    }
  return application;
}

static void
open_file (WbApplication *application,
           const char    *path)
{
  g_autoptr (GFile) file = g_file_new_for_path (path);
  GFile *files[] = { file };

  g_application_open (G_APPLICATION (application), files, 1, "");
}

static char *
make_notebook (const char *name)
{
  char *path = test_path (name);
  g_autoptr (GError) error = NULL;
  g_autoptr (WbAppNotebook) notebook = wb_app_notebook_open_sync (path, WB_APP_OPEN_CREATE, NULL, &error);

  g_assert_no_error (error);
  wb_app_notebook_close (notebook);
  return path;
}

static void
quit (WbApplication *application)
{
  g_action_group_activate_action (G_ACTION_GROUP (application), "quit", NULL);
  test_wait (none_left, application);
}

static guint
count_windows (WbApplication *application)
{
  return g_list_length (gtk_application_get_windows (GTK_APPLICATION (application)));
}

static void
test_one_window_a_notebook (void)
{
  WbApplication *application = test_application ();
  g_autofree char *one = make_notebook ("one.wickbench");
  g_autofree char *two = make_notebook ("two.wickbench");
  g_autofree char *folder = g_path_get_dirname (one);
  g_autofree char *base = g_path_get_basename (one);
  g_autofree char *detour = g_build_filename (folder, ".", base, NULL);
  g_autofree char *link = test_path ("link.wickbench");

  /* Twice before it is there, then by two other names, then another one. */
  open_file (application, one);
  open_file (application, one);
  test_wait (all_open, application);
  open_file (application, detour);
  g_assert_cmpint (symlink (one, link), ==, 0);
  open_file (application, link);
  test_wait (all_open, application);
  g_assert_cmpuint (count_windows (application), ==, 1);
  open_file (application, two);
  test_wait (all_open, application);
  g_assert_cmpuint (count_windows (application), ==, 2);
  quit (application);
}

static void
test_not_a_notebook (void)
{
  WbApplication *application = test_application ();
  g_autofree char *path = test_path ("text.wickbench");
  g_autofree char *after = NULL;
  g_autoptr (GError) error = NULL;

  g_file_set_contents (path, "this is a text", -1, &error);
  g_assert_no_error (error);
  open_file (application, path);
  test_wait (has_problem, application);
  g_assert_null (wb_host_get_desk (gtk_application_get_windows (GTK_APPLICATION (application))->data));
  g_assert_true (g_file_get_contents (path, &after, NULL, NULL));
  g_assert_cmpstr (after, ==, "this is a text");
  quit (application);
}

static gboolean
asks (gpointer user)
{
  return test_find_window (GTK_TYPE_MESSAGE_DIALOG) != NULL;
}

/* What was never there is not put back: a new notebook is offered, and made on a yes alone. */
static void
test_never_there (void)
{
  WbApplication *application = test_application ();
  g_autofree char *path = test_path ("never-there.wickbench");
  g_autofree char *other = test_path ("never-there.txt");

  open_file (application, path);
  test_wait (asks, application);
  g_assert_false (g_file_test (path, G_FILE_TEST_EXISTS));
  gtk_dialog_response (GTK_DIALOG (test_find_window (GTK_TYPE_MESSAGE_DIALOG)), GTK_RESPONSE_ACCEPT);
  test_wait (all_open, application);
  g_assert_true (g_file_test (path, G_FILE_TEST_EXISTS));
  quit (application);
  /* what has not the name of a notebook is no wish for one */
  open_file (application, other);
  test_wait (has_problem, application);
  g_assert_cmpstr (wb_problem_bar_get_heading (wb_host_get_problem_bar (WB_HOST (gtk_application_get_windows (GTK_APPLICATION (application))->data))),
                   ==, "There is no such file");
  g_assert_false (asks (NULL));
  quit (application);
}

static void
test_last (void)
{
  WbApplication *application = test_application ();
  g_autofree char *path = make_notebook ("last.wickbench");
  g_autoptr (GVariant) state = NULL;

  open_file (application, path);
  test_wait (all_open, application);
  g_assert_true (g_action_group_get_action_enabled (G_ACTION_GROUP (application), "open-last"));
  state = g_action_group_get_action_state (G_ACTION_GROUP (application), "open-last");
  g_assert_cmpstr (g_variant_get_string (state, NULL), ==, path);
  quit (application);
}

/* Two at once have a window each, and no window shows at once with nothing in it. */
static void
test_two_at_once (void)
{
  WbApplication *application = test_application ();
  g_autofree char *one = make_notebook ("first.wickbench");
  g_autofree char *two = make_notebook ("second.wickbench");

  open_file (application, one);
  for (GList *l = gtk_application_get_windows (GTK_APPLICATION (application)); l != NULL; l = l->next)
    g_assert_false (gtk_widget_get_visible (l->data));
  open_file (application, two);
  test_wait (all_open, application);
  while (count_windows (application) < 2)
    g_main_context_iteration (NULL, TRUE);
  test_wait (all_open, application);
  for (GList *l = gtk_application_get_windows (GTK_APPLICATION (application)); l != NULL; l = l->next)
    {
      g_assert_true (gtk_widget_get_visible (l->data));
      /* Without a title of its own a notebook goes by its file. */
      g_assert_true (g_str_has_suffix (gtk_window_get_title (l->data), "first – Wickbench")
                     || g_str_has_suffix (gtk_window_get_title (l->data), "second – Wickbench"));
    }
  quit (application);
}

static gboolean
is_about_open (gpointer user)
{
  return test_find_window (GTK_TYPE_ABOUT_DIALOG) != NULL;
}

static gboolean
is_about_gone (gpointer user)
{
  return !is_about_open (user);
}

/* A hidden window that stays makes GTK 4.8 end the program when assistive technology asks for one that has just gone. */
static void
test_about_goes (void)
{
  WbApplication *application = test_application ();
  g_autofree char *path = make_notebook ("about.wickbench");
  GListModel *windows = gtk_window_get_toplevels ();

  open_file (application, path);
  test_wait (all_open, application);
  g_action_group_activate_action (G_ACTION_GROUP (application), "about", NULL);
  test_wait (is_about_open, application);
  for (guint i = g_list_model_get_n_items (windows); i > 0; i--)
    {
      g_autoptr (GtkWindow) window = g_list_model_get_item (windows, i - 1);

      if (GTK_IS_ABOUT_DIALOG (window))
        gtk_window_close (window);
    }
  test_wait (is_about_gone, application);
  quit (application);
}

void
test_application_add (void)
{
  g_test_add_func ("/views/application/two-at-once-have-a-window-each", test_two_at_once);
  g_test_add_func ("/views/application/a-notebook-has-one-window", test_one_window_a_notebook);
  g_test_add_func ("/views/application/about-leaves-no-hidden-window", test_about_goes);
  g_test_add_func ("/views/application/what-is-no-notebook-is-refused", test_not_a_notebook);
  g_test_add_func ("/views/application/the-last-notebook-is-remembered", test_last);
  g_test_add_func ("/views/application/what-was-never-there-is-offered-as-a-new-notebook", test_never_there);
}
