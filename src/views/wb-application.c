/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-application.h"

#include "wb-app-demo.h"
#include "wb-app-document.h"
#include "wb-app-settings.h"
#include "wb-bundle.h"
#include "wb-file-choice.h"
#include "wb-look.h"
#include "wb-preferences.h"
#include "wb-problem.h"
#include "wb-question.h"
#include "wb-restore-dialog.h"
#include "wb-shortcut.h"
#include "wb-window.h"

#include <glib/gi18n.h>
#include <stdlib.h>

struct _WbApplication
{
  GtkApplication  parent_instance;

  /* owned */
  WbAppSettings  *settings;
};

G_DEFINE_FINAL_TYPE (WbApplication, wb_application, GTK_TYPE_APPLICATION)

/* A window comes with its notebook in it, unless that takes longer than this. */
#define PATIENCE_MS 300

/* One notebook on its way into a window. */
typedef struct
{
  WbApplication *application;
  char          *path;
  WbWindow      *window; /* without a notebook of its own so far, and perhaps not shown */
  guint          late_id;
} Opening;

static void
opening_free (Opening *opening)
{
  g_clear_handle_id (&opening->late_id, g_source_remove);
  g_application_release (G_APPLICATION (opening->application));
  g_object_unref (opening->window);
  g_object_unref (opening->application);
  g_free (opening->path);
  g_free (opening);
}

static WbWindow *
window_new (WbApplication *self)
{
  return WB_WINDOW (wb_window_new (GTK_APPLICATION (self), self->settings));
}

/* Of any kind: the one in front, or a new one. */
static WbWindow *
get_window (WbApplication *self)
{
  for (GList *l = gtk_application_get_windows (GTK_APPLICATION (self)); l != NULL; l = l->next)
    if (WB_IS_WINDOW (l->data))
      return l->data;
  return window_new (self);
}

/* Without links and detours, so that a file is one file by whatever name; as it is where there is no such file. Caller frees. */
static char *
dup_real_path (const char *path)
{
  g_autofree char *found = realpath (path, NULL);

  return g_strdup (found != NULL ? found : path);
}

static WbWindow *
find_window (WbApplication *self,
             const char    *path)
{
  g_autofree char *real = dup_real_path (path);

  for (GList *l = gtk_application_get_windows (GTK_APPLICATION (self)); l != NULL; l = l->next)
    {
      WbDesk *desk = WB_IS_WINDOW (l->data) ? wb_host_get_desk (WB_HOST (l->data)) : NULL;
      g_autofree char *other = NULL;

      if (desk == NULL)
        continue;
      other = dup_real_path (wb_app_notebook_get_path (wb_desk_get_notebook (desk)));
      if (g_str_equal (real, other))
        return l->data;
    }
  return NULL;
}

static void
set_last (WbApplication *self,
          const char    *path)
{
  GAction *action = g_action_map_lookup_action (G_ACTION_MAP (self), "open-last");

  g_simple_action_set_state (G_SIMPLE_ACTION (action), g_variant_new_string (path));
  g_simple_action_set_enabled (G_SIMPLE_ACTION (action), *path != '\0');
}

static gboolean
on_late_cb (gpointer user)
{
  Opening *opening = user;

  opening->late_id = 0;
  gtk_window_present (GTK_WINDOW (opening->window));
  return G_SOURCE_REMOVE;
}

/* Another notebook that was asked for at the same time may be in that window. */
static void
take_window (Opening *opening)
{
  if (wb_host_get_desk (WB_HOST (opening->window)) == NULL)
    return;
  g_object_unref (opening->window);
  opening->window = g_object_ref (window_new (opening->application));
}

static void
drop_window (Opening *opening,
             WbWindow *open)
{
  if (opening->window != open && !gtk_widget_get_visible (GTK_WIDGET (opening->window)))
    gtk_window_destroy (GTK_WINDOW (opening->window));
}

/* Damage at its very beginning takes a notebook's mark away: then its name still tells. */
static gboolean
may_be_damaged (const Opening *opening,
                const GError  *error)
{
  return g_error_matches (error, WB_APP_ERROR, WB_APP_ERROR_DAMAGED)
         || (g_error_matches (error, WB_APP_ERROR, WB_APP_ERROR_NOT_A_NOTEBOOK) && g_str_has_suffix (opening->path, ".wickbench"));
}

/* What cannot be opened is not the end of it. */
static void
offer_backups (Opening    *opening,
               const char *problem)
{
  const char *person = wb_app_settings_get_person (opening->application->settings);

  gtk_window_present (GTK_WINDOW (wb_restore_dialog_new (GTK_WIDGET (opening->window), opening->path,
                                                         *person != '\0' ? person : NULL, problem)));
}

static void
on_make_answered_cb (gboolean yes,
                     gpointer window)
{
  if (yes)
    g_action_group_activate_action (G_ACTION_GROUP (gtk_window_get_application (window)), "make-named",
                                    g_variant_new_string (g_object_get_data (window, "wb-path-to-make")));
}

/* A name that no notebook had here: mistyped, or meant for a new one. */
static void
offer_new (Opening *opening)
{
  g_autofree char *folder = g_path_get_dirname (opening->path), *body = NULL;
  g_autoptr (GError) none = g_error_new (G_IO_ERROR, G_IO_ERROR_NOT_FOUND, _("“%s” is not there."), opening->path);

  if (!g_str_has_suffix (opening->path, ".wickbench") || !g_file_test (folder, G_FILE_TEST_IS_DIR))
    {
      wb_problem_show (GTK_WIDGET (opening->window), NULL, none);
      return;
    }
  body = g_strdup_printf (_("%s\nIf your notebook was moved or has another name, cancel and open it where it is now. "
                            "A new one at this place is empty."), opening->path);
  g_object_set_data_full (G_OBJECT (opening->window), "wb-path-to-make", g_strdup (opening->path), g_free);
  wb_question_ask (GTK_WIDGET (opening->window), _("There is no such notebook. Make a new one?"), body, _("_Make a new notebook"), FALSE,
                   on_make_answered_cb, opening->window);
}

static gboolean
was_never_open (const Opening *opening,
                const GError  *error)
{
  return g_error_matches (error, WB_APP_ERROR, WB_APP_ERROR_MISSING)
         && g_strcmp0 (opening->path, wb_app_settings_get_last_notebook (opening->application->settings)) != 0;
}

static void
on_opened_cb (GObject      *source,
              GAsyncResult *result,
              gpointer      data)
{
  Opening *opening = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (WbAppNotebook) notebook = wb_app_notebook_open_finish (result, &error);
  WbWindow *open;

  if (notebook == NULL)
    {
      gtk_window_present (GTK_WINDOW (opening->window));
      if (was_never_open (opening, error))
        offer_new (opening);
      else
        wb_problem_show (GTK_WIDGET (opening->window), NULL, error);
      if (may_be_damaged (opening, error))
        offer_backups (opening, error->message);
    }
  else if ((open = find_window (opening->application, wb_app_notebook_get_path (notebook))) != NULL)
    {
      /* Asked for twice before the first was there. */
      wb_app_notebook_close (notebook);
      drop_window (opening, open);
      gtk_window_present (GTK_WINDOW (open));
    }
  else
    {
      const char *path = wb_app_notebook_get_path (notebook);
      const char *person = wb_app_settings_get_person (opening->application->settings);

      wb_app_notebook_set_who (notebook, *person != '\0' ? person : NULL);
      take_window (opening);
      /* What stood there was of another file. */
      wb_problem_bar_clear (wb_host_get_problem_bar (WB_HOST (opening->window)));
      wb_window_set_notebook (opening->window, notebook);
      gtk_window_present (GTK_WINDOW (opening->window));
      wb_app_settings_set_last_notebook (opening->application->settings, path);
      set_last (opening->application, path);
    }
  opening_free (opening);
}

static void
open_path (WbApplication *self,
           const char    *path,
           WbAppOpenMode  mode)
{
  WbWindow *window = find_window (self, path);
  Opening *opening;

  if (window != NULL)
    {
      gtk_window_present (GTK_WINDOW (window));
      return;
    }
  opening = g_new0 (Opening, 1);
  opening->application = g_object_ref (self);
  opening->path = g_canonicalize_filename (path, NULL);
  g_application_hold (G_APPLICATION (self));
  /* The file is read while the window is made. */
  wb_app_notebook_open_async (path, mode, NULL, NULL, on_opened_cb, opening);
  window = get_window (self);
  if (wb_host_get_desk (WB_HOST (window)) != NULL)
    window = window_new (self);
  opening->window = g_object_ref (window);
  opening->late_id = g_timeout_add (PATIENCE_MS, on_late_cb, opening);
}

static void
on_new_path_cb (const char *path,
                gpointer    user)
{
  if (path != NULL)
    open_path (WB_APPLICATION (user), path, WB_APP_OPEN_CREATE);
}

static void
on_open_path_cb (const char *path,
                 gpointer    user)
{
  if (path != NULL)
    open_path (WB_APPLICATION (user), path, WB_APP_OPEN_EXISTING);
}

static void
on_new_cb (GSimpleAction *action,
           GVariant      *parameter,
           gpointer       user)
{
  wb_file_choice_save (GTK_WIDGET (get_window (user)), _("New notebook"), WB_FILE_NOTEBOOK, _("Candles.wickbench"),
                       on_new_path_cb, user);
}

static void
on_open_cb (GSimpleAction *action,
            GVariant      *parameter,
            gpointer       user)
{
  wb_file_choice_open (GTK_WIDGET (get_window (user)), _("Open a notebook"), WB_FILE_NOTEBOOK, on_open_path_cb, user);
}

static void
on_open_last_cb (GSimpleAction *action,
                 GVariant      *parameter,
                 gpointer       user)
{
  g_autoptr (GVariant) state = g_action_get_state (G_ACTION (action));

  open_path (WB_APPLICATION (user), g_variant_get_string (state, NULL), WB_APP_OPEN_EXISTING);
}

static void
on_open_named_cb (GSimpleAction *action,
                  GVariant      *parameter,
                  gpointer       user)
{
  open_path (WB_APPLICATION (user), g_variant_get_string (parameter, NULL), WB_APP_OPEN_EXISTING);
}

static void
on_make_named_cb (GSimpleAction *action,
                  GVariant      *parameter,
                  gpointer       user)
{
  open_path (WB_APPLICATION (user), g_variant_get_string (parameter, NULL), WB_APP_OPEN_CREATE);
}

static void
write_demo (GTask        *task,
            gpointer      source,
            gpointer      path,
            GCancellable *cancellable)
{
  GError *error = NULL;

  if (wb_app_demo_write (path, &error))
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, error);
}

static void
on_demo_written_cb (GObject      *source,
                    GAsyncResult *result,
                    gpointer      data)
{
  WbApplication *self = WB_APPLICATION (source);
  g_autoptr (GError) error = NULL;

  if (g_task_propagate_boolean (G_TASK (result), &error))
    open_path (self, g_task_get_task_data (G_TASK (result)), WB_APP_OPEN_EXISTING);
  else
    wb_problem_show (GTK_WIDGET (get_window (self)), _("The demo notebook was not written"), error);
  g_application_release (G_APPLICATION (self));
}

static void
on_demo_path_cb (const char *path,
                 gpointer    user)
{
  g_autoptr (GTask) task = NULL;

  if (path == NULL)
    return;
  g_application_hold (G_APPLICATION (user));
  task = g_task_new (user, NULL, on_demo_written_cb, NULL);
  g_task_set_task_data (task, g_strdup (path), g_free);
  g_task_run_in_thread (task, write_demo);
}

static void
on_demo_cb (GSimpleAction *action,
            GVariant      *parameter,
            gpointer       user)
{
  wb_file_choice_save (GTK_WIDGET (get_window (user)), _("Where to write the demo notebook"), WB_FILE_NOTEBOOK,
                       _("Demo.wickbench"), on_demo_path_cb, user);
}

/* From a reminder on the desktop: the window of that notebook comes to the front, with the hand at that candle. */
static void
on_show_sample_cb (GSimpleAction *action,
                   GVariant      *parameter,
                   gpointer       user)
{
  const char *path;
  gint64 experiment, sample;
  WbWindow *window;

  g_variant_get (parameter, "(&sxx)", &path, &experiment, &sample);
  window = find_window (user, path);
  if (window == NULL)
    return;
  gtk_window_present (GTK_WINDOW (window));
  gtk_widget_activate_action (GTK_WIDGET (window), "win.go", "(sx)", "burn", experiment);
  gtk_widget_activate_action (GTK_WIDGET (window), "page.choose", "x", sample);
}

static WbPreferences *
present_preferences (WbApplication *self)
{
  WbWindow *window = get_window (self);
  WbDesk *desk = wb_host_get_desk (WB_HOST (window));
  GtkWidget *preferences = wb_preferences_new (GTK_WINDOW (window), self->settings, desk != NULL ? wb_desk_get_notebook (desk) : NULL);

  gtk_window_present (GTK_WINDOW (preferences));
  return WB_PREFERENCES (preferences);
}

static void
on_preferences_cb (GSimpleAction *action,
                   GVariant      *parameter,
                   gpointer       user)
{
  present_preferences (user);
}

static void
on_evenings_cb (GSimpleAction *action,
                GVariant      *parameter,
                gpointer       user)
{
  wb_preferences_go_to_evenings (present_preferences (user));
}

static void
on_shortcuts_cb (GSimpleAction *action,
                 GVariant      *parameter,
                 gpointer       user)
{
  gtk_window_present (GTK_WINDOW (wb_shortcuts_window_new (GTK_WINDOW (get_window (user)))));
}

/*
 * Not gtk_show_about_dialog(), which hides the dialog and keeps it: GTK 4.8 ends the program when assistive technology asks
 * for a window that has just gone while a hidden one is last in the list of windows.
 */
static void
on_about_cb (GSimpleAction *action,
             GVariant      *parameter,
             gpointer       user)
{
  GtkWindow *about = g_object_new (GTK_TYPE_ABOUT_DIALOG,
                                   "transient-for", get_window (user),
                                   "modal", TRUE,
                                   "destroy-with-parent", TRUE,
                                   "program-name", "Wickbench",
                                   "logo-icon-name", WB_APPLICATION_ID,
                                   "version", WB_VERSION,
                                   "comments", _("A lab notebook for makers who burn-test candle wicks.\n"
                                                 "The program judges records; it makes no candle safe."),
                                   "license-type", GTK_LICENSE_GPL_3_0,
                                   NULL);

  gtk_window_present (about);
}

static void
on_quit_cb (GSimpleAction *action,
            GVariant      *parameter,
            gpointer       user)
{
  g_autoptr (GList) windows = g_list_copy (gtk_application_get_windows (GTK_APPLICATION (user)));

  /* Each window may ask; the application ends with the last one. */
  for (GList *l = windows; l != NULL; l = l->next)
    gtk_window_close (GTK_WINDOW (l->data));
}

static const GActionEntry actions[] = {
  { "new", on_new_cb, NULL, NULL, NULL },
  { "open", on_open_cb, NULL, NULL, NULL },
  { "open-last", on_open_last_cb, NULL, "''", NULL },
  { "open-path", on_open_named_cb, "s", NULL, NULL },
  { "make-named", on_make_named_cb, "s", NULL, NULL },
  { "demo", on_demo_cb, NULL, NULL, NULL },
  { "show-sample", on_show_sample_cb, "(sxx)", NULL, NULL },
  { "preferences", on_preferences_cb, NULL, NULL, NULL },
  { "evenings", on_evenings_cb, NULL, NULL, NULL },
  { "shortcuts", on_shortcuts_cb, NULL, NULL, NULL },
  { "about", on_about_cb, NULL, NULL, NULL },
  { "quit", on_quit_cb, NULL, NULL, NULL },
};

static void
on_settings_notify_cb (WbApplication *self)
{
  const char *person = wb_app_settings_get_person (self->settings);

  /* The two enums have the same order by intent. */
  wb_look_set_kind (wb_look_get_default (), (WbLookKind) wb_app_settings_get_theme (self->settings));
  for (GList *l = gtk_application_get_windows (GTK_APPLICATION (self)); l != NULL; l = l->next)
    {
      WbDesk *desk = WB_IS_WINDOW (l->data) ? wb_host_get_desk (WB_HOST (l->data)) : NULL;

      if (desk != NULL)
        wb_app_notebook_set_who (wb_desk_get_notebook (desk), *person != '\0' ? person : NULL);
    }
}

static void
wb_application_startup (GApplication *application)
{
  WbApplication *self = WB_APPLICATION (application);

  G_APPLICATION_CLASS (wb_application_parent_class)->startup (application);
  wb_bundle_register ();
  self->settings = wb_app_settings_new ();
  g_action_map_add_action_entries (G_ACTION_MAP (self), actions, G_N_ELEMENTS (actions), self);
  set_last (self, wb_app_settings_get_last_notebook (self->settings));
  wb_shortcuts_install (GTK_APPLICATION (self));
  wb_app_document_remove_stale_async (NULL, NULL);
  gtk_window_set_default_icon_name (WB_APPLICATION_ID);
  g_signal_connect_object (self->settings, "notify", G_CALLBACK (on_settings_notify_cb), self, G_CONNECT_SWAPPED);
  on_settings_notify_cb (self);
}

static void
wb_application_activate (GApplication *application)
{
  gtk_window_present (GTK_WINDOW (get_window (WB_APPLICATION (application))));
}

static void
wb_application_open (GApplication  *application,
                     GFile        **files,
                     int            n_files,
                     const char    *hint)
{
  for (int i = 0; i < n_files; i++)
    {
      g_autofree char *path = g_file_get_path (files[i]);

      if (path != NULL)
        open_path (WB_APPLICATION (application), path, WB_APP_OPEN_EXISTING);
    }
}

static void
wb_application_dispose (GObject *object)
{
  g_clear_object (&WB_APPLICATION (object)->settings);
  G_OBJECT_CLASS (wb_application_parent_class)->dispose (object);
}

static void
wb_application_class_init (WbApplicationClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = wb_application_dispose;
  G_APPLICATION_CLASS (klass)->startup = wb_application_startup;
  G_APPLICATION_CLASS (klass)->activate = wb_application_activate;
  G_APPLICATION_CLASS (klass)->open = wb_application_open;
}

static void
wb_application_init (WbApplication *self)
{
}

WbApplication *
wb_application_new (void)
{
  return g_object_new (WB_TYPE_APPLICATION,
                       "application-id", WB_APPLICATION_ID,
                       "flags", G_APPLICATION_HANDLES_OPEN,
                       NULL);
}

int
wb_application_run (int    argc,
                    char **argv)
{
  g_autoptr (WbApplication) application = NULL;

  /* main() took the user's locale, or what stands in for one that this system does not have. */
  gtk_disable_setlocale ();
  if (!gtk_init_check ())
    {
      g_printerr ("%s: %s\n", "wickbench", _("there is no display to open a window on; the commands need none, see --help"));
      return 3;
    }
  application = wb_application_new ();
  return g_application_run (G_APPLICATION (application), argc, argv);
}
