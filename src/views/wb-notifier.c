/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-notifier.h"

#define SERVICE "org.freedesktop.Notifications"

/* What the bus says of the service. */
typedef enum { ASKED, ABSENT, PRESENT } Service;

struct _WbNotifier
{
  GObject       parent_instance;

  /* owned */
  GApplication *application;
  GCancellable *cancellable;
  GHashTable   *waiting;  /* id -> GNotification, until the bus has answered */
  GHashTable   *sent;     /* ids */

  /* state */
  Service       service;
  gboolean      startable; /* the bus would start it */
  guint         watch;
};

G_DEFINE_FINAL_TYPE (WbNotifier, wb_notifier, G_TYPE_OBJECT)

static void
send_now (WbNotifier    *self,
          const char    *id,
          GNotification *notification)
{
  g_application_send_notification (self->application, id, notification);
  g_hash_table_add (self->sent, g_strdup (id));
}

static void
set_service (WbNotifier *self,
             Service     service)
{
  GHashTableIter iter;
  gpointer id, notification;

  self->service = service;
  /* Whoever starts later than the program is told what still stands. */
  if (service != PRESENT)
    return;
  g_hash_table_iter_init (&iter, self->waiting);
  while (g_hash_table_iter_next (&iter, &id, &notification))
    send_now (self, id, notification);
  g_hash_table_remove_all (self->waiting);
}

static void
on_appeared_cb (GDBusConnection *connection,
                const char      *name,
                const char      *owner,
                gpointer         user)
{
  set_service (WB_NOTIFIER (user), PRESENT);
}

static void
on_vanished_cb (GDBusConnection *connection,
                const char      *name,
                gpointer         user)
{
  WbNotifier *self = WB_NOTIFIER (user);

  set_service (self, self->startable ? PRESENT : ABSENT);
}

static void
on_startable_cb (GObject      *source,
                 GAsyncResult *result,
                 gpointer      user)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GVariant) answer = g_dbus_connection_call_finish (G_DBUS_CONNECTION (source), result, &error);
  g_autofree const char **names = NULL;
  WbNotifier *self;

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  self = WB_NOTIFIER (user);
  if (answer != NULL)
    g_variant_get (answer, "(^a&s)", &names);
  self->startable = names != NULL && g_strv_contains (names, SERVICE);
  self->watch = g_bus_watch_name_on_connection (G_DBUS_CONNECTION (source), SERVICE, G_BUS_NAME_WATCHER_FLAGS_NONE, on_appeared_cb,
                                                on_vanished_cb, self, NULL);
}

static void
wb_notifier_dispose (GObject *object)
{
  WbNotifier *self = WB_NOTIFIER (object);

  g_cancellable_cancel (self->cancellable);
  g_clear_handle_id (&self->watch, g_bus_unwatch_name);
  g_clear_object (&self->application);
  G_OBJECT_CLASS (wb_notifier_parent_class)->dispose (object);
}

static void
wb_notifier_finalize (GObject *object)
{
  WbNotifier *self = WB_NOTIFIER (object);

  g_object_unref (self->cancellable);
  g_hash_table_unref (self->waiting);
  g_hash_table_unref (self->sent);
  G_OBJECT_CLASS (wb_notifier_parent_class)->finalize (object);
}

static void
wb_notifier_class_init (WbNotifierClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = wb_notifier_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_notifier_finalize;
}

static void
wb_notifier_init (WbNotifier *self)
{
  self->cancellable = g_cancellable_new ();
  self->waiting = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_object_unref);
  self->sent = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
}

WbNotifier *
wb_notifier_new (GApplication *application)
{
  WbNotifier *self = g_object_new (WB_TYPE_NOTIFIER, NULL);
  GDBusConnection *bus = application != NULL ? g_application_get_dbus_connection (application) : NULL;

  g_return_val_if_fail (application == NULL || G_IS_APPLICATION (application), self);

  if (bus == NULL)
    {
      self->service = ABSENT;
      return self;
    }
  self->application = g_object_ref (application);
  g_dbus_connection_call (bus, "org.freedesktop.DBus", "/org/freedesktop/DBus", "org.freedesktop.DBus", "ListActivatableNames", NULL,
                          G_VARIANT_TYPE ("(as)"), G_DBUS_CALL_FLAGS_NONE, -1, self->cancellable, on_startable_cb, self);
  return self;
}

void
wb_notifier_send (WbNotifier    *self,
                  const char    *id,
                  GNotification *notification)
{
  g_return_if_fail (WB_IS_NOTIFIER (self));
  g_return_if_fail (id != NULL && G_IS_NOTIFICATION (notification));

  if (self->application == NULL)
    return;
  if (self->service == PRESENT)
    send_now (self, id, notification);
  else
    g_hash_table_insert (self->waiting, g_strdup (id), g_object_ref (notification));
}

void
wb_notifier_withdraw (WbNotifier *self,
                      const char *id)
{
  g_return_if_fail (WB_IS_NOTIFIER (self));
  g_return_if_fail (id != NULL);

  g_hash_table_remove (self->waiting, id);
  if (g_hash_table_remove (self->sent, id) && self->service == PRESENT)
    g_application_withdraw_notification (self->application, id);
}

gboolean
wb_notifier_has (WbNotifier *self,
                 const char *id)
{
  g_return_val_if_fail (WB_IS_NOTIFIER (self), FALSE);
  g_return_val_if_fail (id != NULL, FALSE);

  return g_hash_table_contains (self->sent, id) || g_hash_table_contains (self->waiting, id);
}
