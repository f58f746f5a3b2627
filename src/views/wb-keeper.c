/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-keeper.h"

#include "wb-app-backup.h"
#include "wb-host.h"
#include "wb-problem.h"

#include <glib/gi18n.h>

/* Between two looks whether the day has its backup. */
#define LOOK_S (20 * 60)
#define BYTES_A_MEGABYTE 1000000

struct _WbKeeper
{
  GObject    parent_instance;

  /* borrowed */
  GtkWidget *window;

  /* owned */
  WbDesk    *desk;

  /* state */
  guint      tick_id;
  guint      look_id;
  gboolean   drawn;     /* there has been a turn of the frame clock */
  gboolean   running;
  gboolean   wanted;    /* another, of what came meanwhile */
  gboolean   in_session;
  gboolean   told;      /* that a backup failed: once a window is enough */
  gboolean   told_size; /* that the room for them is small: the same */
};

G_DEFINE_FINAL_TYPE (WbKeeper, wb_keeper, G_TYPE_OBJECT)

/* A problem that stands in the bar is the more urgent one: then it is said in the status line. */
static void
tell (WbKeeper   *self,
      const char *heading,
      const char *detail)
{
  WbProblemBar *bar = wb_host_get_problem_bar (WB_HOST (self->window));

  if (*wb_problem_bar_get_heading (bar) == '\0')
    wb_problem_bar_show (bar, heading, detail);
  else
    wb_host_say (WB_HOST (self->window), heading);
}

static void
tell_not_backed_up (WbKeeper     *self,
                    const GError *error)
{
  g_autofree char *detail = NULL;

  if (self->told)
    return;
  self->told = TRUE;
  detail = g_strdup_printf (_("%s%s Your notebook itself is saved as always, and earlier backups are kept; the backup is tried again now and then."),
                            error->message, g_str_has_suffix (error->message, ".") ? "" : ".");
  tell (self, _("Today's backup could not be made"), detail);
}

static void
tell_squeezed (WbKeeper *self)
{
  if (self->told_size)
    return;
  self->told_size = TRUE;
  wb_host_say (WB_HOST (self->window),
               _("Backups of a whole week do not fit into the room that Preferences allow: fewer are kept, the newest three always."));
}

static gint64
get_most_bytes (WbKeeper *self)
{
  return (gint64) wb_app_settings_get_backup_megabytes (wb_desk_get_settings (self->desk)) * BYTES_A_MEGABYTE;
}

static void look (WbKeeper *self, WbAppBackupNeed need);

static void
on_backed_up_cb (GObject      *source,
                 GAsyncResult *result,
                 gpointer      user)
{
  g_autoptr (WbKeeper) self = user;
  g_autoptr (GError) error = NULL;
  gboolean squeezed;
  g_autofree char *path = wb_app_backup_daily_finish (WB_APP_NOTEBOOK (source), result, &squeezed, &error);

  self->running = FALSE;
  /* Closed meanwhile. */
  if (self->desk == NULL || g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  if (squeezed)
    tell_squeezed (self);
  if (self->wanted)
    look (self, WB_APP_BACKUP_IF_NEW);
  if (error == NULL)
    return;
  /* Another program is just writing: the next look will do. */
  if (!g_error_matches (error, WB_APP_ERROR, WB_APP_ERROR_LOCKED))
    tell_not_backed_up (self, error);
}

static void
look (WbKeeper       *self,
      WbAppBackupNeed need)
{
  WbAppNotebook *notebook = wb_desk_get_notebook (self->desk);

  self->wanted = self->running && need == WB_APP_BACKUP_IF_NEW;
  if (self->running || wb_app_notebook_get_read_only (notebook) || wb_app_notebook_get_damage (notebook) != NULL)
    return;
  self->running = TRUE;
  wb_app_backup_daily_async (notebook, need, get_most_bytes (self), on_backed_up_cb, g_object_ref (self));
}

static gboolean
on_look_cb (gpointer user)
{
  look (WB_KEEPER (user), WB_APP_BACKUP_IF_NONE_TODAY);
  return G_SOURCE_CONTINUE;
}

/* An evening's readings are in a backup as soon as nobody is at the bench any more. */
static void
on_session_cb (WbKeeper *self)
{
  gboolean was = self->in_session;

  self->in_session = wb_app_bench_get_session (wb_desk_get_bench (self->desk)) != NULL;
  if (was && !self->in_session)
    look (self, WB_APP_BACKUP_IF_NEW);
}

/* The second turn of the frame clock: the first has been drawn. */
static gboolean
on_tick_cb (GtkWidget     *window,
            GdkFrameClock *clock,
            gpointer       user)
{
  WbKeeper *self = user;

  if (!self->drawn)
    {
      self->drawn = TRUE;
      return G_SOURCE_CONTINUE;
    }
  self->tick_id = 0;
  /* Whatever the clock says: one that starts with the same day each time would leave the notebook without. */
  look (self, WB_APP_BACKUP_IF_NEW);
  return G_SOURCE_REMOVE;
}

static void
on_damage_cb (WbKeeper *self)
{
  const char *damage = wb_app_notebook_get_damage (wb_desk_get_notebook (self->desk));
  g_autofree char *detail = NULL;

  if (damage == NULL)
    return;
  detail = g_strdup_printf (_("%s%s Note what you read on paper for now. Under “Restore from a backup”, in the menu, a backup, or what can still be read of this one, becomes a new notebook; this file stays as it is."),
                            damage, g_str_has_suffix (damage, ".") ? "" : ".");
  wb_problem_bar_show (wb_host_get_problem_bar (WB_HOST (self->window)), _("This notebook is damaged"), detail);
}

static void
wb_keeper_dispose (GObject *object)
{
  WbKeeper *self = WB_KEEPER (object);

  if (self->tick_id != 0)
    gtk_widget_remove_tick_callback (self->window, self->tick_id);
  self->tick_id = 0;
  g_clear_handle_id (&self->look_id, g_source_remove);
  if (self->desk != NULL)
    {
      g_signal_handlers_disconnect_by_func (wb_desk_get_notebook (self->desk), on_damage_cb, self);
      g_signal_handlers_disconnect_by_func (wb_desk_get_bench (self->desk), on_session_cb, self);
    }
  g_clear_object (&self->desk);
  G_OBJECT_CLASS (wb_keeper_parent_class)->dispose (object);
}

static void
wb_keeper_class_init (WbKeeperClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = wb_keeper_dispose;
}

static void
wb_keeper_init (WbKeeper *self)
{
}

WbKeeper *
wb_keeper_new (GtkWidget *window,
               WbDesk    *desk)
{
  WbKeeper *self;

  g_return_val_if_fail (WB_IS_HOST (window), NULL);
  g_return_val_if_fail (WB_IS_DESK (desk), NULL);

  self = g_object_new (WB_TYPE_KEEPER, NULL);
  self->window = window;
  self->desk = g_object_ref (desk);
  self->tick_id = gtk_widget_add_tick_callback (window, on_tick_cb, self, NULL);
  self->look_id = g_timeout_add_seconds (LOOK_S, on_look_cb, self);
  g_signal_connect_swapped (wb_desk_get_notebook (desk), "notify::damage", G_CALLBACK (on_damage_cb), self);
  g_signal_connect_swapped (wb_desk_get_bench (desk), "notify::session-open", G_CALLBACK (on_session_cb), self);
  on_session_cb (self);
  on_damage_cb (self);
  return self;
}

static void
on_left_cb (GObject      *source,
            GAsyncResult *result,
            gpointer      application)
{
  /* Nobody is there to be told; the next opening of the notebook tries it anew, and tells. */
  wb_app_backup_leave_finish (result, NULL);
  if (application == NULL)
    return;
  g_application_release (application);
  g_object_unref (application);
}

void
wb_keeper_leave (WbKeeper *self)
{
  GApplication *application = g_application_get_default ();
  WbAppNotebook *notebook;

  g_return_if_fail (WB_IS_KEEPER (self));
  if (self->desk == NULL)
    return;
  notebook = wb_desk_get_notebook (self->desk);
  if (wb_app_notebook_get_read_only (notebook) || wb_app_notebook_get_damage (notebook) != NULL)
    return;
  if (application != NULL)
    g_application_hold (g_object_ref (application));
  wb_app_backup_leave_async (wb_app_notebook_get_path (notebook), get_most_bytes (self), on_left_cb, application);
}
