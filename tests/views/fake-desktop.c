/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "fake-desktop.h"

/* Desktop Notifications Specification 1.2; GNOME's session manager as GTK calls it. */
static const char interfaces[] =
  "<node><interface name='org.freedesktop.Notifications'>"
  "<method name='Notify'><arg type='s' direction='in'/><arg type='u' direction='in'/><arg type='s' direction='in'/>"
  "<arg type='s' direction='in'/><arg type='s' direction='in'/><arg type='as' direction='in'/><arg type='a{sv}' direction='in'/>"
  "<arg type='i' direction='in'/><arg type='u' direction='out'/></method>"
  "<method name='GetCapabilities'><arg type='as' direction='out'/></method>"
  "<method name='CloseNotification'><arg type='u' direction='in'/></method>"
  "</interface><interface name='org.gnome.SessionManager'>"
  "<method name='RegisterClient'><arg type='s' direction='in'/><arg type='s' direction='in'/><arg type='o' direction='out'/></method>"
  "<method name='Inhibit'><arg type='s' direction='in'/><arg type='u' direction='in'/><arg type='s' direction='in'/>"
  "<arg type='u' direction='in'/><arg type='u' direction='out'/></method>"
  "<method name='Uninhibit'><arg type='u' direction='in'/></method>"
  "</interface></node>";

struct _FakeDesktop
{
  char         *name;
  GThread      *thread;
  GMainContext *context;
  GMainLoop    *loop;

  GMutex        lock;
  GCond         ready;
  gboolean      is_ready;
  GPtrArray    *lines;
  guint         next_id;
};

/* Takes the line. */
static void
keep (FakeDesktop *self,
      char        *line)
{
  g_mutex_lock (&self->lock);
  g_ptr_array_add (self->lines, line);
  g_mutex_unlock (&self->lock);
}

static void
on_call_cb (GDBusConnection       *connection,
            const char            *sender,
            const char            *path,
            const char            *interface,
            const char            *method,
            GVariant              *arguments,
            GDBusMethodInvocation *invocation,
            gpointer               user)
{
  FakeDesktop *self = user;
  const char *text;
  guint id, flags;

  if (g_str_equal (method, "Notify"))
    {
      g_variant_get (arguments, "(&su&s&s&sasa{sv}i)", NULL, &id, NULL, &text, NULL, NULL, NULL, NULL);
      keep (self, g_strdup_printf ("notify %u %s", id, text));
      g_dbus_method_invocation_return_value (invocation, g_variant_new ("(u)", id != 0 ? id : ++self->next_id));
      return;
    }
  if (g_str_equal (method, "Inhibit"))
    {
      g_variant_get (arguments, "(&su&su)", NULL, NULL, &text, &flags);
      keep (self, g_strdup_printf ("inhibit %u %s", flags, text));
      g_dbus_method_invocation_return_value (invocation, g_variant_new ("(u)", ++self->next_id));
      return;
    }
  if (g_str_equal (method, "GetCapabilities"))
    {
      g_dbus_method_invocation_return_value (invocation, g_variant_new ("(as)", NULL));
      return;
    }
  if (g_str_equal (method, "RegisterClient"))
    {
      g_dbus_method_invocation_return_value (invocation, g_variant_new ("(o)", "/org/gnome/SessionManager/Client1"));
      return;
    }
  g_variant_get (arguments, "(u)", &id);
  keep (self, g_strdup_printf ("%s %u", g_str_equal (method, "Uninhibit") ? "uninhibit" : "close", id));
  g_dbus_method_invocation_return_value (invocation, NULL);
}

static void
tell_ready (FakeDesktop *self)
{
  g_mutex_lock (&self->lock);
  self->is_ready = TRUE;
  g_cond_signal (&self->ready);
  g_mutex_unlock (&self->lock);
}

static gpointer
run (gpointer data)
{
  static const GDBusInterfaceVTable calls = { on_call_cb, NULL, NULL, { NULL } };
  FakeDesktop *self = data;
  g_autoptr (GError) error = NULL;
  g_autofree char *path = g_strdelimit (g_strdup_printf ("/%s", self->name), ".", '/');
  g_autofree char *address = g_dbus_address_get_for_bus_sync (G_BUS_TYPE_SESSION, NULL, &error);
  g_autoptr (GDBusNodeInfo) node = g_dbus_node_info_new_for_xml (interfaces, &error);
  g_autoptr (GDBusConnection) bus = NULL;
  g_autoptr (GVariant) owned = NULL;

  g_assert_no_error (error);
  g_main_context_push_thread_default (self->context);
  bus = g_dbus_connection_new_for_address_sync (address, G_DBUS_CONNECTION_FLAGS_AUTHENTICATION_CLIENT
                                                           | G_DBUS_CONNECTION_FLAGS_MESSAGE_BUS_CONNECTION, NULL, NULL, &error);
  g_assert_no_error (error);
  g_dbus_connection_register_object (bus, path, g_dbus_node_info_lookup_interface (node, self->name), &calls, self, NULL, &error);
  g_assert_no_error (error);
  owned = g_dbus_connection_call_sync (bus, "org.freedesktop.DBus", "/org/freedesktop/DBus", "org.freedesktop.DBus", "RequestName",
                                       g_variant_new ("(su)", self->name, 4), NULL, G_DBUS_CALL_FLAGS_NONE, -1, NULL, &error);
  g_assert_no_error (error);
  tell_ready (self);
  g_main_loop_run (self->loop);
  g_dbus_connection_close_sync (bus, NULL, NULL);
  g_main_context_pop_thread_default (self->context);
  return NULL;
}

FakeDesktop *
fake_desktop_start (const char *name)
{
  FakeDesktop *self = g_new0 (FakeDesktop, 1);

  self->name = g_strdup (name);
  self->context = g_main_context_new ();
  self->loop = g_main_loop_new (self->context, FALSE);
  self->lines = g_ptr_array_new_with_free_func (g_free);
  g_mutex_init (&self->lock);
  g_cond_init (&self->ready);
  self->thread = g_thread_new ("desktop", run, self);
  g_mutex_lock (&self->lock);
  while (!self->is_ready)
    g_cond_wait (&self->ready, &self->lock);
  g_mutex_unlock (&self->lock);
  return self;
}

void
fake_desktop_stop (FakeDesktop *self)
{
  g_main_loop_quit (self->loop);
  g_main_context_wakeup (self->context);
  g_thread_join (self->thread);
  g_main_loop_unref (self->loop);
  g_main_context_unref (self->context);
  g_ptr_array_unref (self->lines);
  g_mutex_clear (&self->lock);
  g_cond_clear (&self->ready);
  g_free (self->name);
  g_free (self);
}

char *
fake_desktop_dup (FakeDesktop *self,
                  guint        n)
{
  g_mutex_lock (&self->lock);
  char *line = n < self->lines->len ? g_strdup (g_ptr_array_index (self->lines, n)) : NULL;
  g_mutex_unlock (&self->lock);
  return line;
}
