/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-e2e-driver.h"

#include "wb-e2e-screen.h"
#include "wb-e2e-tree.h"

#include <signal.h>
#include <unistd.h>

/* Ample on a machine that is busy with other things: only a failure ever waits so long. */
#define LIMIT_S 30
#define POLL_US (20 * G_TIME_SPAN_MILLISECOND)

struct _WbE2eDriver
{
  GSubprocess     *process;
  WbE2eScreen     *screen;
  AtspiAccessible *application; /* NULL: not in the tree yet */
  WbE2eWanted      scope;       /* name and part borrowed; role 0: everywhere */
};

/* ---- Waiting ---- */

/* Beside the test log, named after the test. */
static char *
log_path (const char *ending)
{
  g_autofree char *name = g_strdelimit (g_strdup (g_test_get_path () + 1), "/", '-');

  return g_strconcat (WB_BUILD_DIR "/meson-logs/", name, ending, NULL);
}

static gboolean
is_alive (WbE2eDriver *self)
{
  return g_subprocess_get_identifier (self->process) != NULL;
}

/* What is in the tree at all, for a program that was not found there. */
static char *
dump_desktop (void)
{
  g_autoptr (AtspiAccessible) desktop = atspi_get_desktop (0);
  GString *text = g_string_new ("not found among:\n");
  int n = atspi_accessible_get_child_count (desktop, NULL);

  for (int i = 0; i < n; i++)
    {
      g_autoptr (AtspiAccessible) child = atspi_accessible_get_child_at_index (desktop, i, NULL);
      g_autofree char *name = child != NULL ? atspi_accessible_get_name (child, NULL) : NULL;

      g_string_append_printf (text, "%s, process %u, %d children\n", name != NULL ? name : "nothing",
                              child != NULL ? atspi_accessible_get_process_id (child, NULL) : 0,
                              child != NULL ? atspi_accessible_get_child_count (child, NULL) : 0);
    }
  return g_string_free (text, FALSE);
}

/* Leaves a picture and the tree, then ends the test. */
static void G_GNUC_NORETURN
fail (WbE2eDriver *self,
      const char  *what)
{
  g_autofree char *picture = log_path (".png");
  g_autofree char *words = log_path (".txt");
  g_autofree char *tree = NULL;
  gboolean alive = is_alive (self);

  wb_e2e_screen_picture (self->screen, TRUE, picture);
  if (alive)
    tree = self->application != NULL ? wb_e2e_tree_dump (self->application) : dump_desktop ();
  g_file_set_contents (words, tree != NULL ? tree : "no tree\n", -1, NULL);
  g_subprocess_force_exit (self->process);
  g_error ("%s: %s (see %s and %s)", alive ? "not within the limit" : "the program has ended", what, picture, words);
}

/* Lets events in for a moment: the only pause there is, always in a loop with a limit. */
static void
breathe (void)
{
  gint64 until = g_get_monotonic_time () + POLL_US;

  while (g_get_monotonic_time () < until)
    {
      g_main_context_iteration (NULL, FALSE);
      g_usleep (POLL_US / 10);
    }
}

static void
wait_for (WbE2eDriver *self,
          const char  *what,
          gboolean   (*check) (gpointer data),
          gpointer     data,
          gboolean     may_end)
{
  gint64 limit = g_get_monotonic_time () + LIMIT_S * G_TIME_SPAN_SECOND;

  while (!check (data))
    {
      if (g_get_monotonic_time () > limit || (!may_end && !is_alive (self)))
        fail (self, what);
      breathe ();
    }
}

void
wb_e2e_driver_wait (WbE2eDriver *self,
                    const char  *what,
                    gboolean   (*check) (gpointer data),
                    gpointer     data)
{
  wait_for (self, what, check, data, FALSE);
}

/* ---- Looking and acting ---- */

typedef struct _Deed Deed;

struct _Deed
{
  WbE2eDriver *self;
  WbE2eWanted  wanted;
  gboolean   (*act) (AtspiAccessible *found, const Deed *deed); /* NULL: to see it is enough */
  const char  *text;
  gboolean     enabled;
  int          index;
};

static AtspiAccessible *
find (WbE2eDriver       *self,
      const WbE2eWanted *wanted)
{
  g_autoptr (AtspiAccessible) root = NULL;

  if (self->scope.role == 0)
    return wb_e2e_tree_find (self->application, wanted);
  root = wb_e2e_tree_find (self->application, &self->scope);
  return root != NULL ? wb_e2e_tree_find (root, wanted) : NULL;
}

/* What was found may be gone before it is acted on: then it is looked for again. */
static gboolean
try_deed (gpointer data)
{
  const Deed *deed = data;
  g_autoptr (AtspiAccessible) found = find (deed->self, &deed->wanted);

  return found != NULL && (deed->act == NULL || deed->act (found, deed));
}

static gboolean
is_gone (gpointer data)
{
  return !try_deed (data);
}

static void
carry_out (WbE2eDriver *self,
           const char  *verb,
           Deed        *deed)
{
  g_autofree char *wanted = wb_e2e_tree_describe (&deed->wanted);
  g_autofree char *what = g_strdup_printf ("%s %s", verb, wanted);

  deed->self = self;
  wb_e2e_driver_wait (self, what, try_deed, deed);
}

void
wb_e2e_driver_look_into (WbE2eDriver *self,
                         AtspiRole    role,
                         const char  *name)
{
  self->scope = (WbE2eWanted) { (int) role, name, NULL, FALSE };
}

void
wb_e2e_driver_see (WbE2eDriver *self,
                   AtspiRole    role,
                   const char  *name)
{
  Deed deed = { .wanted = { (int) role, name, NULL, FALSE } };

  carry_out (self, "seeing", &deed);
}

void
wb_e2e_driver_see_focus (WbE2eDriver *self,
                         AtspiRole    role,
                         const char  *name)
{
  Deed deed = { .wanted = { (int) role, name, NULL, TRUE } };

  carry_out (self, "having the focus on", &deed);
}

void
wb_e2e_driver_see_gone (WbE2eDriver *self,
                        AtspiRole    role,
                        const char  *name)
{
  Deed deed = { .self = self, .wanted = { (int) role, name, NULL, FALSE } };
  g_autofree char *wanted = wb_e2e_tree_describe (&deed.wanted);
  g_autofree char *what = g_strconcat ("the end of ", wanted, NULL);

  wb_e2e_driver_wait (self, what, is_gone, &deed);
}

static gboolean
is_enabled (AtspiAccessible *found,
            const Deed      *deed)
{
  return wb_e2e_tree_has_state (found, ATSPI_STATE_SENSITIVE) == deed->enabled;
}

void
wb_e2e_driver_see_enabled (WbE2eDriver *self,
                           AtspiRole    role,
                           const char  *name,
                           gboolean     enabled)
{
  Deed deed = { .wanted = { (int) role, name, NULL, FALSE }, .act = is_enabled, .enabled = enabled };

  carry_out (self, enabled ? "being able to use" : "no longer being able to use", &deed);
}

void
wb_e2e_driver_read (WbE2eDriver *self,
                    const char  *part)
{
  Deed deed = { .wanted = { -1, NULL, part, FALSE } };

  carry_out (self, "reading", &deed);
}

static gboolean
has_text (AtspiAccessible *found,
          const Deed      *deed)
{
  g_autofree char *text = wb_e2e_tree_dup_text (found);

  return g_strcmp0 (text, deed->text) == 0;
}

void
wb_e2e_driver_read_entry (WbE2eDriver *self,
                          const char  *name,
                          const char  *text)
{
  Deed deed = { .wanted = { ATSPI_ROLE_TEXT, name, NULL, FALSE }, .act = has_text, .text = text };
  g_autofree char *verb = g_strdup_printf ("reading \"%s\" in", text);

  carry_out (self, verb, &deed);
}

static gboolean
do_action (AtspiAccessible *found,
           const Deed      *deed)
{
  AtspiAction *action = atspi_accessible_get_action_iface (found);
  gboolean done = action != NULL && wb_e2e_tree_has_state (found, ATSPI_STATE_SENSITIVE)
                  && atspi_action_do_action (action, 0, NULL);

  g_clear_object (&action);
  return done;
}

void
wb_e2e_driver_act (WbE2eDriver *self,
                   AtspiRole    role,
                   const char  *name)
{
  Deed deed = { .wanted = { (int) role, name, NULL, FALSE }, .act = do_action };

  carry_out (self, "acting on", &deed);
}

static gboolean
click (AtspiAccessible *found,
       const Deed      *deed)
{
  AtspiComponent *component = atspi_accessible_get_component_iface (found);
  g_autofree AtspiRect *area = component != NULL ? atspi_component_get_extents (component, ATSPI_COORD_TYPE_WINDOW, NULL) : NULL;

  g_clear_object (&component);
  /* Without an area it has not been laid out yet. */
  return area != NULL && area->width > 0 && area->height > 0 && wb_e2e_tree_has_state (found, ATSPI_STATE_SENSITIVE)
         && wb_e2e_screen_click (deed->self->screen, area->x + area->width / 2, area->y + area->height / 2);
}

void
wb_e2e_driver_click (WbE2eDriver *self,
                     AtspiRole    role,
                     const char  *name)
{
  Deed deed = { .wanted = { (int) role, name, NULL, FALSE }, .act = click };

  carry_out (self, "clicking on", &deed);
}

void
wb_e2e_driver_scroll (WbE2eDriver *self,
                      int          x,
                      int          y,
                      int          clicks)
{
  if (!wb_e2e_screen_wheel (self->screen, x, y, clicks))
    fail (self, "turning the wheel over a window");
}

static gboolean
is_ticked (AtspiAccessible *found,
           const Deed      *deed)
{
  return wb_e2e_tree_has_state (found, ATSPI_STATE_CHECKED) == deed->enabled;
}

void
wb_e2e_driver_tick (WbE2eDriver *self,
                    const char  *name,
                    gboolean     ticked)
{
  Deed deed = { .self = self, .wanted = { ATSPI_ROLE_CHECK_BOX, name, NULL, FALSE }, .act = is_ticked, .enabled = ticked };

  wb_e2e_driver_see (self, ATSPI_ROLE_CHECK_BOX, name);
  if (!try_deed (&deed))
    wb_e2e_driver_click (self, ATSPI_ROLE_CHECK_BOX, name);
  carry_out (self, ticked ? "a tick at" : "no tick at", &deed);
}

static gboolean
holds_label (AtspiAccessible *found,
             const Deed      *deed)
{
  const WbE2eWanted wanted = { ATSPI_ROLE_LABEL, deed->text, NULL, FALSE };
  g_autoptr (AtspiAccessible) label = wb_e2e_tree_find (found, &wanted);

  return label != NULL;
}

static gboolean
is_at (AtspiAccessible *found,
       const Deed      *deed)
{
  return deed->index < 0 || atspi_accessible_get_index_in_parent (found, NULL) == deed->index;
}

void
wb_e2e_driver_pick (WbE2eDriver *self,
                    const char  *name,
                    int          index,
                    const char  *text)
{
  Deed chosen = { .wanted = { ATSPI_ROLE_PUSH_BUTTON, name, NULL, FALSE }, .act = holds_label, .text = text };
  WbE2eWanted scope = self->scope;
  g_autofree char *verb = g_strdup_printf ("choosing \"%s\" in", text);

  wb_e2e_driver_act (self, ATSPI_ROLE_PUSH_BUTTON, name);
  self->scope = (WbE2eWanted) { ATSPI_ROLE_COMBO_BOX, name, NULL, FALSE };
  for (int i = -1; i <= index; i++) /* first somewhere: before that, keys go elsewhere */
    {
      Deed reached = { .wanted = { ATSPI_ROLE_LIST_ITEM, NULL, NULL, TRUE }, .act = is_at, .index = i };

      if (i >= 0)
        wb_e2e_driver_press (self, i == 0 ? "Home" : "Down");
      carry_out (self, "having the focus on the next", &reached);
    }
  wb_e2e_driver_press (self, "Return");
  carry_out (self, verb, &chosen);
  self->scope = scope;
}

static gboolean
set_text (AtspiAccessible *found,
          const Deed      *deed)
{
  AtspiEditableText *text = atspi_accessible_get_editable_text_iface (found);
  gboolean done = text != NULL && wb_e2e_tree_has_state (found, ATSPI_STATE_SENSITIVE)
                  && atspi_editable_text_set_text_contents (text, deed->text, NULL);

  g_clear_object (&text);
  return done;
}

void
wb_e2e_driver_enter (WbE2eDriver *self,
                     const char  *name,
                     const char  *text)
{
  Deed deed = { .wanted = { ATSPI_ROLE_TEXT, name, NULL, FALSE }, .act = set_text, .text = text };
  g_autofree char *verb = g_strdup_printf ("entering \"%s\" into", text);

  carry_out (self, verb, &deed);
}

void
wb_e2e_driver_press (WbE2eDriver *self,
                     const char  *accelerator)
{
  wb_e2e_screen_press (self->screen, accelerator);
}

void
wb_e2e_driver_type (WbE2eDriver *self,
                    const char  *text)
{
  wb_e2e_screen_type (self->screen, text);
}

void
wb_e2e_driver_save_to (WbE2eDriver *self,
                       const char  *path)
{
  wb_e2e_driver_see (self, ATSPI_ROLE_PUSH_BUTTON, "_Save*");
  wb_e2e_driver_press (self, "<Control>a");
  wb_e2e_driver_type (self, path);
  wb_e2e_driver_press (self, "Return");
  wb_e2e_driver_see_gone (self, ATSPI_ROLE_PUSH_BUTTON, "_Save*");
}

void
wb_e2e_driver_make (WbE2eDriver *self,
                    const char  *folder,
                    const char  *name)
{
  g_autofree char *path = g_build_filename (folder, name, NULL);

  wb_e2e_driver_see (self, ATSPI_ROLE_PUSH_BUTTON, "New notebook*");
  wb_e2e_driver_press (self, "<Control>n");
  wb_e2e_driver_save_to (self, path);
  wb_e2e_driver_see (self, ATSPI_ROLE_LIST_ITEM, "Materials");
}

void
wb_e2e_driver_picture (WbE2eDriver *self,
                       const char  *path)
{
  g_assert_true (wb_e2e_screen_picture (self->screen, FALSE, path));
}

/* ---- Beginning and end ---- */

static gboolean
is_ours (WbE2eDriver     *self,
         AtspiAccessible *application)
{
  const char *identifier = g_subprocess_get_identifier (self->process);

  return identifier != NULL
         && atspi_accessible_get_process_id (application, NULL) == (guint) g_ascii_strtoull (identifier, NULL, 10);
}

/* One that has just ended may still be listed. */
static gboolean
find_application (gpointer data)
{
  WbE2eDriver *self = data;
  g_autoptr (AtspiAccessible) desktop = atspi_get_desktop (0);
  int n;

  atspi_accessible_clear_cache (desktop);
  n = atspi_accessible_get_child_count (desktop, NULL);
  for (int i = 0; i < n && self->application == NULL; i++)
    {
      g_autoptr (AtspiAccessible) child = atspi_accessible_get_child_at_index (desktop, i, NULL);

      if (child == NULL || !is_ours (self, child))
        continue;
      /* It may have been asked before it had its window, or its cache: what was kept of that is not believed. */
      atspi_accessible_clear_cache (child);
      if (atspi_accessible_get_child_count (child, NULL) > 0)
        self->application = g_steal_pointer (&child);
    }
  return self->application != NULL;
}

WbE2eDriver *
wb_e2e_driver_start (const char *folder,
                     const char *name,
                     const char *clock)
{
  g_autoptr (GSubprocessLauncher) launcher = wb_e2e_folder_launcher (folder);
  g_autofree char *notebook = name != NULL ? g_build_filename (folder, name, NULL) : NULL;
  g_autoptr (GError) error = NULL;
  WbE2eDriver *self = g_new0 (WbE2eDriver, 1);

  /* libatspi warns of an object that has gone between two questions, and that is how lists change. In the program, warnings stay fatal. */
  g_log_set_always_fatal (G_LOG_FATAL_MASK | G_LOG_LEVEL_CRITICAL);
  self->screen = wb_e2e_screen_open ();
  g_subprocess_launcher_setenv (launcher, "WICKBENCH_CLOCK", clock, TRUE);
  /* Standard output is the test's report. */
  g_subprocess_launcher_take_stdout_fd (launcher, dup (STDERR_FILENO));
  self->process = g_subprocess_launcher_spawn (launcher, &error, WB_BUILD_DIR "/src/wickbench", notebook, NULL);
  g_assert_no_error (error);
  atspi_init ();
  atspi_set_timeout (LIMIT_S * 1000, LIMIT_S * 1000);
  wb_e2e_driver_wait (self, "the program in the accessibility tree", find_application, self);
  return self;
}

static gboolean
has_ended (gpointer data)
{
  return !is_alive (data);
}

/* The bus may hear of the end later than whoever waits for the process: the next program would hand over to one that is gone. */
static gboolean
is_name_free (gpointer data)
{
  GDBusConnection *bus = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (GVariant) answer =
    g_dbus_connection_call_sync (bus, "org.freedesktop.DBus", "/org/freedesktop/DBus", "org.freedesktop.DBus", "NameHasOwner",
                                 g_variant_new ("(s)", "org.wickbench.Wickbench"), G_VARIANT_TYPE ("(b)"),
                                 G_DBUS_CALL_FLAGS_NONE, -1, NULL, &error);
  gboolean owned;

  g_assert_no_error (error);
  g_variant_get (answer, "(b)", &owned);
  return !owned;
}

static void
wait_and_free (WbE2eDriver *self)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GDBusConnection) bus = g_bus_get_sync (G_BUS_TYPE_SESSION, NULL, &error);

  g_assert_no_error (error);
  wait_for (self, "the end of the program", has_ended, self, TRUE);
  wait_for (self, "its name on the bus to be free", is_name_free, bus, TRUE);
  g_clear_object (&self->application);
  g_clear_object (&self->process);
  wb_e2e_screen_close (self->screen);
  g_free (self);
}

static void
end_well (WbE2eDriver *self)
{
  g_autoptr (GSubprocess) process = g_object_ref (self->process);

  wait_and_free (self);
  g_assert_true (g_subprocess_get_if_exited (process));
  g_assert_cmpint (g_subprocess_get_exit_status (process), ==, 0);
}

void
wb_e2e_driver_stop (WbE2eDriver *self)
{
  wb_e2e_driver_press (self, "<Control>w");
  end_well (self);
}

void
wb_e2e_driver_stop_alight (WbE2eDriver *self)
{
  wb_e2e_driver_press (self, "<Control>w");
  wb_e2e_driver_read (self, "Candles are still alight");
  wb_e2e_driver_act (self, ATSPI_ROLE_PUSH_BUTTON, "*Close all the same*");
  end_well (self);
}

void
wb_e2e_driver_kill (WbE2eDriver *self)
{
  g_subprocess_send_signal (self->process, SIGKILL);
  wait_and_free (self);
}
