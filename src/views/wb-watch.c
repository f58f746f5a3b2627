/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-watch.h"

#include "wb-app-reminder.h"
#include "wb-app-timers.h"
#include "wb-burn-page.h"
#include "wb-found-dialog.h"
#include "wb-notifier.h"
#include "wb-sound.h"
#include "wb-window.h"

#include <glib/gi18n.h>

/* Ids of the notices that are no reminders. */
#define CLOCK "clock"
#define UNSURE "unsure"

/* What the desktop was asked last. */
typedef struct
{
  GtkApplication *application; /* owned: a window that goes does not know it any more; NULL: nothing was asked */
  const char     *why;
  guint           cookie;      /* 0: the desktop keeps no session */
} WbInhibit;

struct _WbWatch
{
  GObject     parent_instance;

  /* borrowed */
  GtkWindow  *window;
  WbNotice   *notice;

  /* owned */
  WbDesk     *desk;
  WbNotifier *notifier;
  WbInhibit   inhibit;
  GPtrArray  *reminders; /* WbAppReminder, as told last; one for many where wb_app_reminders_group makes it so */
  GHashTable *hushed;    /* ids of those that the page in sight says already */

  /* state */
  guint       n_adding;  /* photos that are not in the notebook yet */
};

G_DEFINE_FINAL_TYPE (WbWatch, wb_watch, G_TYPE_OBJECT)

static const WbAppReminder *
find_reminder (WbWatch    *self,
               const char *id)
{
  for (guint i = 0; i < self->reminders->len; i++)
    {
      const WbAppReminder *reminder = g_ptr_array_index (self->reminders, i);

      if (g_str_equal (reminder->id, id))
        return reminder;
    }
  return NULL;
}

/* ---- The desktop ---- */

static void
send (WbWatch             *self,
      const WbAppReminder *reminder)
{
  static const GNotificationPriority priorities[] = {
    [WB_APP_REMINDER_OVER] = G_NOTIFICATION_PRIORITY_URGENT,
    [WB_APP_REMINDER_STOP] = G_NOTIFICATION_PRIORITY_HIGH,
    [WB_APP_REMINDER_DUE] = G_NOTIFICATION_PRIORITY_HIGH,
    [WB_APP_REMINDER_WEIGH] = G_NOTIFICATION_PRIORITY_LOW,
    [WB_APP_REMINDER_COOL] = G_NOTIFICATION_PRIORITY_LOW,
  };
  g_autoptr (GNotification) notification = g_notification_new (reminder->title);
  g_autoptr (GIcon) icon = g_themed_icon_new (WB_APPLICATION_ID);

  g_notification_set_body (notification, reminder->body);
  g_notification_set_icon (notification, icon);
  g_notification_set_priority (notification, priorities[reminder->kind]);
  g_notification_set_default_action_and_target (notification, "app.show-sample", "(sxx)",
                                                wb_app_notebook_get_path (wb_desk_get_notebook (self->desk)), reminder->experiment,
                                                reminder->sample);
  wb_notifier_send (self->notifier, reminder->id, notification);
}

static void
lift (WbInhibit inhibit)
{
  if (inhibit.cookie != 0)
    gtk_application_uninhibit (inhibit.application, inhibit.cookie);
  g_clear_object (&inhibit.application);
}

/* NULL: the session may end. */
static const char *
get_reason (WbWatch *self)
{
  if (self->desk == NULL)
    return NULL;
  if (wb_app_bench_get_alight (wb_desk_get_bench (self->desk)) > 0)
    return _("Candles are alight");
  return self->n_adding > 0 ? _("Photos are being put into the notebook") : NULL;
}

/* A maker may log out by habit; the desktop asks then, and says why. Another reason is asked for before the one before is lifted. */
static void
update_inhibit (WbWatch *self)
{
  GtkApplication *application = gtk_window_get_application (self->window);
  WbInhibit before = self->inhibit;
  const char *why = get_reason (self);

  if (g_strcmp0 (why, before.why) == 0 || (why != NULL && application == NULL))
    return;
  self->inhibit = (WbInhibit) { NULL };
  if (why != NULL)
    {
      self->inhibit.application = g_object_ref (application);
      self->inhibit.why = why;
      self->inhibit.cookie = gtk_application_inhibit (application, self->window, GTK_APPLICATION_INHIBIT_LOGOUT, why);
    }
  lift (before);
}

/* ---- The window ---- */

static void
put (WbWatch             *self,
     const WbAppReminder *reminder)
{
  static const WbNoticeKind kinds[] = {
    [WB_APP_REMINDER_OVER] = WB_NOTICE_STOP,
    [WB_APP_REMINDER_STOP] = WB_NOTICE_ASK,
    [WB_APP_REMINDER_DUE] = WB_NOTICE_ASK,
    [WB_APP_REMINDER_WEIGH] = WB_NOTICE_NOTE,
    [WB_APP_REMINDER_COOL] = WB_NOTICE_NOTE,
  };

  /* What is dangerous stays until somebody has seen to it. */
  wb_notice_put (self->notice, reminder->id, kinds[reminder->kind], reminder->title, reminder->body, _("_Go to it"),
                 reminder->kind != WB_APP_REMINDER_OVER);
}

static gboolean
is_shown (WbWatch    *self,
          const char *id)
{
  g_autofree char *text = wb_notice_dup_text (self->notice, id);

  return text != NULL;
}

/* Shown, and in other words than these. */
static gboolean
is_old (WbWatch             *self,
        const WbAppReminder *reminder)
{
  g_autofree char *text = wb_notice_dup_text (self->notice, reminder->id), *now = g_strdup_printf ("%s %s", reminder->title, reminder->body);

  return text != NULL && !g_str_equal (text, now);
}

static gboolean
is_of_experiment (const WbAppReminder *reminder,
                  gint64               experiment)
{
  for (guint i = 0; reminder->members != NULL && i < reminder->members->len; i++)
    if (((const WbAppReminder *) g_ptr_array_index (reminder->members, i))->experiment != experiment)
      return FALSE;
  return reminder->experiment == experiment;
}

/*
 * The bench says beside each candle of its experiment that it is fit to light, its bar tells what is over a limit, whosever it
 * is, and the panel asks for the weight of the one in hand.
 */
static gboolean
is_in_sight (WbWatch             *self,
             const WbAppReminder *reminder)
{
  WbPage *page = WB_IS_WINDOW (self->window) ? wb_window_get_page (WB_WINDOW (self->window)) : NULL;
  WbReadingPanel *panel;

  if (page == NULL || !WB_IS_BURN_PAGE (page))
    return FALSE;
  if (reminder->kind == WB_APP_REMINDER_OVER)
    return TRUE;
  if (!is_of_experiment (reminder, wb_page_get_experiment (page)))
    return FALSE;
  if (reminder->kind == WB_APP_REMINDER_COOL)
    return TRUE;
  panel = wb_reading_stack_get_shown (wb_burn_page_get_stack (WB_BURN_PAGE (page)));
  return reminder->kind == WB_APP_REMINDER_WEIGH && reminder->members == NULL && panel != NULL
         && wb_app_bench_sample_get_id (wb_reading_panel_get_sample (panel)) == reminder->sample;
}

typedef gboolean (*Stands) (WbWatch *self, const char *id);

/* In the window, or where the page in sight says it. */
static gboolean
stands_here (WbWatch    *self,
             const char *id)
{
  return is_shown (self, id) || g_hash_table_contains (self->hushed, id);
}

static gboolean
stands_on_desktop (WbWatch    *self,
                   const char *id)
{
  return wb_notifier_has (self->notifier, id);
}

/* What it tells still stands there under another id, as where a group shrank to one: it takes that one's place, though it is no news. */
static gboolean
takes_place (WbWatch             *self,
             GPtrArray           *before,
             const WbAppReminder *reminder,
             Stands               stands)
{
  for (guint i = 0; i < before->len; i++)
    {
      const WbAppReminder *earlier = g_ptr_array_index (before, i);

      if (!g_str_equal (earlier->id, reminder->id) && wb_app_reminder_shares (earlier, reminder) && stands (self, earlier->id))
        return TRUE;
    }
  return FALSE;
}

/* What was put away stays so until there is news; what changed in its words, not in what it tells, changes where it stands. */
static void
show (WbWatch             *self,
      GPtrArray           *before,
      const WbAppReminder *reminder,
      gboolean             news)
{
  gboolean anew = news || takes_place (self, before, reminder, stands_here);

  if (is_in_sight (self, reminder))
    {
      if (anew || is_shown (self, reminder->id))
        g_hash_table_add (self->hushed, g_strdup (reminder->id));
      wb_notice_drop (self->notice, reminder->id);
      return;
    }
  if (anew || g_hash_table_contains (self->hushed, reminder->id) || is_old (self, reminder))
    put (self, reminder);
  g_hash_table_remove (self->hushed, reminder->id);
}

static void
update_reminders (WbWatch *self)
{
  WbAppSettings *settings = wb_desk_get_settings (self->desk);
  g_autoptr (GPtrArray) before = self->reminders;
  g_autoptr (GPtrArray) told = NULL, gone = NULL;

  self->reminders = wb_app_reminders_group (wb_app_reminders_of (wb_desk_get_bench (self->desk), wb_app_settings_get_minutes_ahead (settings)));
  wb_app_reminders_compare (before, self->reminders, &told, &gone);
  for (guint i = 0; i < self->reminders->len; i++)
    {
      const WbAppReminder *reminder = g_ptr_array_index (self->reminders, i);
      gboolean news = g_ptr_array_find (told, reminder, NULL);

      show (self, before, reminder, news);
      if (wb_app_settings_get_notifications (settings) && (news || takes_place (self, before, reminder, stands_on_desktop)))
        send (self, reminder);
    }
  for (guint i = 0; i < gone->len; i++)
    {
      wb_notice_drop (self->notice, g_ptr_array_index (gone, i));
      wb_notifier_withdraw (self->notifier, g_ptr_array_index (gone, i));
      g_hash_table_remove (self->hushed, g_ptr_array_index (gone, i));
    }
  if (told->len > 0 && wb_app_settings_get_reminder_sound (settings))
    wb_sound_play ();
}

static void
update_unsure (WbWatch *self)
{
  guint n = wb_app_bench_get_unsure (wb_desk_get_bench (self->desk));
  g_autofree char *title = g_strdup_printf (ngettext ("How long has %u candle burnt?", "How long have %u candles burnt?", n), n);

  if (n > 0)
    wb_notice_put (self->notice, UNSURE, WB_NOTICE_STOP, title,
                   _("The computer's clock stands behind this notebook's record, so it cannot tell."), _("_Say how long…"), FALSE);
  else
    wb_notice_drop (self->notice, UNSURE);
}

static void
on_tick_cb (WbWatch *self)
{
  update_inhibit (self);
  update_reminders (self);
  update_unsure (self);
}

static void
on_clock_moved_cb (WbWatch    *self,
                   const char *words)
{
  wb_notice_put (self->notice, CLOCK, WB_NOTICE_TOLD, _("The computer's clock has changed"), words, NULL, TRUE);
}

/* A timer of the pouring table: told wherever the window stands, and by the desktop. */
static void
on_timer_ended_cb (WbWatch    *self,
                   const char *key,
                   const char *words)
{
  WbAppSettings *settings = wb_desk_get_settings (self->desk);
  g_autofree char *id = g_strdup_printf ("timer-%s", key), *title = g_strdup_printf (_("Time is up: %s"), words);

  wb_notice_put (self->notice, id, WB_NOTICE_ASK, title, _("The timer of this step of the pour has ended."), NULL, TRUE);
  if (wb_app_settings_get_notifications (settings))
    {
      g_autoptr (GNotification) notification = g_notification_new (title);
      g_autoptr (GIcon) icon = g_themed_icon_new (WB_APPLICATION_ID);

      g_notification_set_icon (notification, icon);
      g_notification_set_priority (notification, G_NOTIFICATION_PRIORITY_HIGH);
      wb_notifier_send (self->notifier, id, notification);
    }
  if (wb_app_settings_get_reminder_sound (settings))
    wb_sound_play ();
}

/* The step is done: what was told of its time is old. */
static void
on_timer_dropped_cb (WbWatch    *self,
                     const char *key)
{
  g_autofree char *id = g_strdup_printf ("timer-%s", key);

  wb_notice_drop (self->notice, id);
  wb_notifier_withdraw (self->notifier, id);
}

/* What was sent before goes; from now on it is as wished. */
static void
on_notifications_cb (WbWatch *self)
{
  if (wb_app_settings_get_notifications (wb_desk_get_settings (self->desk)))
    return;
  for (guint i = 0; i < self->reminders->len; i++)
    wb_notifier_withdraw (self->notifier, ((const WbAppReminder *) g_ptr_array_index (self->reminders, i))->id);
}

static void
on_acted_cb (WbWatch    *self,
             const char *id)
{
  const WbAppReminder *reminder = find_reminder (self, id);

  if (g_str_equal (id, UNSURE))
    gtk_window_present (GTK_WINDOW (wb_found_dialog_new (GTK_WIDGET (self->window), wb_desk_get_bench (self->desk))));
  if (reminder == NULL)
    return;
  gtk_widget_activate_action (GTK_WIDGET (self->window), "win.go", "(sx)", "burn", reminder->experiment);
  gtk_widget_activate_action (GTK_WIDGET (self->window), "page.choose", "x", reminder->sample);
}

static void
wb_watch_dispose (GObject *object)
{
  WbWatch *self = WB_WATCH (object);

  if (self->desk != NULL)
    {
      g_clear_object (&self->desk);
      update_inhibit (self);
      for (guint i = 0; i < self->reminders->len; i++)
        wb_notifier_withdraw (self->notifier, ((const WbAppReminder *) g_ptr_array_index (self->reminders, i))->id);
      wb_notice_clear (self->notice);
    }
  g_clear_object (&self->notifier);
  G_OBJECT_CLASS (wb_watch_parent_class)->dispose (object);
}

static void
wb_watch_finalize (GObject *object)
{
  g_ptr_array_unref (WB_WATCH (object)->reminders);
  g_hash_table_unref (WB_WATCH (object)->hushed);
  G_OBJECT_CLASS (wb_watch_parent_class)->finalize (object);
}

static void
wb_watch_class_init (WbWatchClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = wb_watch_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_watch_finalize;
}

static void
wb_watch_init (WbWatch *self)
{
  self->reminders = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_app_reminder_free);
  self->hushed = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
}

WbWatch *
wb_watch_new (GtkWindow *window,
              WbDesk    *desk,
              WbNotice  *notice)
{
  GtkApplication *application;
  WbWatch *self;

  g_return_val_if_fail (GTK_IS_WINDOW (window), NULL);
  g_return_val_if_fail (WB_IS_DESK (desk), NULL);
  g_return_val_if_fail (WB_IS_NOTICE (notice), NULL);

  application = gtk_window_get_application (window);
  self = g_object_new (WB_TYPE_WATCH, NULL);
  self->window = window;
  self->notice = notice;
  self->desk = g_object_ref (desk);
  self->notifier = wb_notifier_new (application != NULL ? G_APPLICATION (application) : NULL);
  g_signal_connect_object (wb_desk_get_bench (desk), "tick", G_CALLBACK (on_tick_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (wb_desk_get_notebook (desk), "clock-moved", G_CALLBACK (on_clock_moved_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (wb_desk_get_settings (desk), "notify::notifications", G_CALLBACK (on_notifications_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (wb_app_timers_of (wb_desk_get_notebook (desk)), "ended", G_CALLBACK (on_timer_ended_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (wb_app_timers_of (wb_desk_get_notebook (desk)), "dropped", G_CALLBACK (on_timer_dropped_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (notice, "acted", G_CALLBACK (on_acted_cb), self, G_CONNECT_SWAPPED);
  return self;
}

void
wb_watch_set_adding (WbWatch *self,
                     guint    n_adding)
{
  g_return_if_fail (WB_IS_WATCH (self));

  self->n_adding = n_adding;
  update_inhibit (self);
}
