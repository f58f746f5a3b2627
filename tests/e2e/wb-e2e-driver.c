/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-e2e-driver.h"

#include <X11/XKBlib.h>
#include <X11/Xlib.h>
#include <X11/Xutil.h>
#include <X11/extensions/XTest.h>
#include <X11/keysym.h>
#include <cairo.h>
#include <glib/gstdio.h>
#include <signal.h>
#include <string.h>

/* AT-SPI's headers come without these. */
G_DEFINE_AUTOPTR_CLEANUP_FUNC (AtspiAccessible, g_object_unref)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (AtspiStateSet, g_object_unref)

#define LIMIT_US (20 * G_TIME_SPAN_SECOND)
#define POLL_MS 25

struct _WbE2eDriver
{
  GSubprocess     *process;
  char            *home;
  Display         *display;
  AtspiAccessible *application;
  guint            failures;
};

/* Lets events in for a moment: the only waiting there is, and always in a loop with a limit. */
static void
breathe (void)
{
  gint64 until = g_get_monotonic_time () + POLL_MS * 1000;

  while (g_get_monotonic_time () < until)
    {
      g_main_context_iteration (NULL, FALSE);
      g_usleep (2000);
    }
}

static void
remove_folder (const char *path)
{
  GDir *dir = g_dir_open (path, 0, NULL);
  const char *name;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *child = g_build_filename (path, name, NULL);

      if (g_file_test (child, G_FILE_TEST_IS_DIR) && !g_file_test (child, G_FILE_TEST_IS_SYMLINK))
        remove_folder (child);
      else
        g_unlink (child);
    }
  g_clear_pointer (&dir, g_dir_close);
  g_rmdir (path);
}

static void
dump_into (GString         *text,
           AtspiAccessible *node,
           int              depth)
{
  g_autofree char *name = atspi_accessible_get_name (node, NULL);
  g_autofree char *role = atspi_accessible_get_role_name (node, NULL);
  g_autoptr (AtspiStateSet) states = atspi_accessible_get_state_set (node);
  int n = depth < 40 ? atspi_accessible_get_child_count (node, NULL) : 0;

  g_string_append_printf (text, "%*s%s \"%s\"%s%s\n", depth * 2, "", role, name,
                          states != NULL && atspi_state_set_contains (states, ATSPI_STATE_SHOWING) ? "" : " (hidden)",
                          states != NULL && atspi_state_set_contains (states, ATSPI_STATE_SENSITIVE) ? "" : " (insensitive)");
  for (int i = 0; i < MIN (n, 400); i++)
    {
      AtspiAccessible *child = atspi_accessible_get_child_at_index (node, i, NULL);

      if (child == NULL)
        continue;
      dump_into (text, child, depth + 1);
      g_object_unref (child);
    }
}

char *
wb_e2e_driver_dump (WbE2eDriver *self)
{
  GString *text = g_string_new (NULL);

  if (self->application != NULL)
    {
      atspi_accessible_clear_cache (self->application);
      dump_into (text, self->application, 0);
    }
  return g_string_free (text, FALSE);
}

void
wb_e2e_driver_screenshot (WbE2eDriver *self,
                          const char  *path)
{
  Window root = DefaultRootWindow (self->display);
  int width = DisplayWidth (self->display, 0);
  int height = DisplayHeight (self->display, 0);
  XImage *image = XGetImage (self->display, root, 0, 0, (guint) width, (guint) height, AllPlanes, ZPixmap);
  cairo_surface_t *surface;
  guchar *pixels;
  int stride;

  if (image == NULL)
    return;
  surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, width, height);
  pixels = cairo_image_surface_get_data (surface);
  stride = cairo_image_surface_get_stride (surface);
  for (int y = 0; y < height; y++)
    for (int x = 0; x < width; x++)
      {
        guint32 pixel = (guint32) XGetPixel (image, x, y);

        memcpy (pixels + y * stride + x * 4, &pixel, 4);
      }
  cairo_surface_mark_dirty (surface);
  cairo_surface_write_to_png (surface, path);
  cairo_surface_destroy (surface);
  XDestroyImage (image);
}

/* Leaves a picture and the tree beside the logs, then ends the test. */
static void G_GNUC_NORETURN
fail (WbE2eDriver *self,
      const char  *what)
{
  g_autofree char *tree = wb_e2e_driver_dump (self);
  g_autofree char *stem = g_strdup_printf ("%s/meson-logs/%s-%u", WB_BUILD_DIR, g_get_prgname (), ++self->failures);
  g_autofree char *picture = g_strconcat (stem, ".png", NULL);
  g_autofree char *words = g_strconcat (stem, ".txt", NULL);

  wb_e2e_driver_screenshot (self, picture);
  g_file_set_contents (words, tree, -1, NULL);
  g_subprocess_force_exit (self->process);
  g_error ("Not within %d s: %s (see %s and %s)", (int) (LIMIT_US / G_TIME_SPAN_SECOND), what, picture, words);
}

void
wb_e2e_driver_wait (WbE2eDriver *self,
                    const char  *what,
                    gboolean   (*check) (gpointer data),
                    gpointer     data)
{
  gint64 limit = g_get_monotonic_time () + LIMIT_US;

  while (!check (data))
    {
      if (g_get_monotonic_time () > limit)
        fail (self, what);
      breathe ();
    }
}

/* ---- Looking ---- */

static gboolean
name_fits (const char *name,
           const char *wanted)
{
  size_t n;

  if (wanted == NULL)
    return TRUE;
  if (name == NULL)
    return FALSE;
  n = strlen (wanted);
  if (n > 0 && wanted[n - 1] == '*')
    return strncmp (name, wanted, n - 1) == 0;
  return strcmp (name, wanted) == 0;
}

static gboolean
is_showing (AtspiAccessible *node)
{
  g_autoptr (AtspiStateSet) states = atspi_accessible_get_state_set (node);

  return states != NULL && atspi_state_set_contains (states, ATSPI_STATE_SHOWING);
}

typedef struct
{
  int         role;   /* -1: any */
  const char *name;
  const char *part;   /* of the name or text, instead */
} Wanted;

static gboolean
fits (AtspiAccessible *node,
      const Wanted    *wanted)
{
  g_autofree char *name = NULL;

  if (wanted->role >= 0 && (int) atspi_accessible_get_role (node, NULL) != wanted->role)
    return FALSE;
  name = atspi_accessible_get_name (node, NULL);
  if (wanted->part != NULL)
    {
      if (name != NULL && strstr (name, wanted->part) != NULL)
        return TRUE;
      if (atspi_accessible_get_role (node, NULL) == ATSPI_ROLE_LABEL || atspi_accessible_get_role (node, NULL) == ATSPI_ROLE_TEXT)
        {
          AtspiText *text = atspi_accessible_get_text_iface (node);
          g_autofree char *content = text != NULL ? atspi_text_get_text (text, 0, -1, NULL) : NULL;

          g_clear_object (&text);
          return content != NULL && strstr (content, wanted->part) != NULL;
        }
      return FALSE;
    }
  return name_fits (name, wanted->name);
}

/* Depth first, in reading order; what is hidden is not looked into. */
static AtspiAccessible *
search (AtspiAccessible *node,
        const Wanted    *wanted,
        int              depth)
{
  int n;

  if (depth > 0 && !is_showing (node))
    return NULL;
  if (depth > 0 && fits (node, wanted))
    return g_object_ref (node);
  n = depth < 60 ? atspi_accessible_get_child_count (node, NULL) : 0;
  for (int i = 0; i < n; i++)
    {
      g_autoptr (AtspiAccessible) child = atspi_accessible_get_child_at_index (node, i, NULL);
      AtspiAccessible *found = child != NULL ? search (child, wanted, depth + 1) : NULL;

      if (found != NULL)
        return found;
    }
  return NULL;
}

typedef struct
{
  WbE2eDriver     *self;
  AtspiAccessible *root;
  Wanted           wanted;
  AtspiAccessible *found;
} Search;

static gboolean
look (gpointer data)
{
  Search *search_for = data;

  atspi_accessible_clear_cache (search_for->root);
  search_for->found = search (search_for->root, &search_for->wanted, 0);
  return search_for->found != NULL;
}

static gboolean
look_gone (gpointer data)
{
  gboolean there = look (data);

  g_clear_object (&((Search *) data)->found);
  return !there;
}

static char *
describe (const Wanted *wanted)
{
  g_autofree char *role = wanted->role >= 0 ? atspi_role_get_name ((AtspiRole) wanted->role) : g_strdup ("anything");

  return g_strdup_printf ("%s \"%s\"", role, wanted->part != NULL ? wanted->part : wanted->name != NULL ? wanted->name : "*");
}

AtspiAccessible *
wb_e2e_driver_find_below (WbE2eDriver     *self,
                          AtspiAccessible *root,
                          AtspiRole        role,
                          const char      *name)
{
  Search search_for = { self, root, { (int) role, name, NULL }, NULL };
  g_autofree char *what = describe (&search_for.wanted);

  wb_e2e_driver_wait (self, what, look, &search_for);
  return search_for.found;
}

AtspiAccessible *
wb_e2e_driver_find (WbE2eDriver *self,
                    AtspiRole    role,
                    const char  *name)
{
  return wb_e2e_driver_find_below (self, self->application, role, name);
}

AtspiAccessible *
wb_e2e_driver_peek (WbE2eDriver *self,
                    AtspiRole    role,
                    const char  *name)
{
  Search search_for = { self, self->application, { (int) role, name, NULL }, NULL };

  look (&search_for);
  return search_for.found;
}

void
wb_e2e_driver_wait_gone (WbE2eDriver *self,
                         AtspiRole    role,
                         const char  *name)
{
  Search search_for = { self, self->application, { (int) role, name, NULL }, NULL };
  g_autofree char *what = describe (&search_for.wanted);
  g_autofree char *gone = g_strconcat ("the end of ", what, NULL);

  wb_e2e_driver_wait (self, gone, look_gone, &search_for);
}

void
wb_e2e_driver_wait_text (WbE2eDriver *self,
                         const char  *part)
{
  Search search_for = { self, self->application, { -1, NULL, part }, NULL };
  g_autofree char *what = describe (&search_for.wanted);

  wb_e2e_driver_wait (self, what, look, &search_for);
  g_clear_object (&search_for.found);
}

/* ---- Acting ---- */

typedef struct
{
  Search      search;
  const char *text;
} Deed;

/* An object may be gone between finding and acting: then it is looked for again. */
static gboolean
try_act (gpointer data)
{
  Deed *deed = data;
  AtspiAction *action;
  gboolean done;

  if (!look (&deed->search))
    return FALSE;
  action = atspi_accessible_get_action_iface (deed->search.found);
  done = action != NULL && atspi_action_do_action (action, 0, NULL);
  g_clear_object (&action);
  g_clear_object (&deed->search.found);
  return done;
}

void
wb_e2e_driver_act (WbE2eDriver *self,
                   AtspiRole    role,
                   const char  *name)
{
  Deed deed = { { self, self->application, { (int) role, name, NULL }, NULL }, NULL };
  g_autofree char *what = describe (&deed.search.wanted);
  g_autofree char *acting = g_strconcat ("acting on ", what, NULL);

  wb_e2e_driver_wait (self, acting, try_act, &deed);
}

static gboolean
try_enter (gpointer data)
{
  Deed *deed = data;
  AtspiEditableText *text;
  gboolean done;

  if (!look (&deed->search))
    return FALSE;
  text = atspi_accessible_get_editable_text_iface (deed->search.found);
  done = text != NULL && atspi_editable_text_set_text_contents (text, deed->text, NULL);
  g_clear_object (&text);
  g_clear_object (&deed->search.found);
  return done;
}

void
wb_e2e_driver_enter (WbE2eDriver *self,
                     const char  *name,
                     const char  *text)
{
  Deed deed = { { self, self->application, { ATSPI_ROLE_TEXT, name, NULL }, NULL }, text };
  g_autofree char *what = g_strdup_printf ("entering \"%s\" into \"%s\"", text, name);

  wb_e2e_driver_wait (self, what, try_enter, &deed);
}

static void
send_key (WbE2eDriver *self,
          KeySym       symbol,
          gboolean     down)
{
  KeyCode code = XKeysymToKeycode (self->display, symbol);

  g_assert_cmpuint (code, !=, 0);
  XTestFakeKeyEvent (self->display, code, down, CurrentTime);
}

static void
tap (WbE2eDriver *self,
     KeySym       symbol)
{
  KeyCode code = XKeysymToKeycode (self->display, symbol);
  /* the level of the key on which the symbol stands */
  gboolean shifted = XkbKeycodeToKeysym (self->display, code, 0, 0) != symbol;

  if (shifted)
    send_key (self, XK_Shift_L, TRUE);
  send_key (self, symbol, TRUE);
  send_key (self, symbol, FALSE);
  if (shifted)
    send_key (self, XK_Shift_L, FALSE);
  XSync (self->display, False);
}

void
wb_e2e_driver_press (WbE2eDriver *self,
                     const char  *accelerator)
{
  static const struct { const char *word; KeySym symbol; } modifiers[] = {
    { "<Control>", XK_Control_L }, { "<Shift>", XK_Shift_L }, { "<Alt>", XK_Alt_L },
  };
  gboolean held[G_N_ELEMENTS (modifiers)] = { FALSE };
  gboolean found;
  KeySym symbol;

  do
    {
      found = FALSE;
      for (guint i = 0; i < G_N_ELEMENTS (modifiers); i++)
        if (g_str_has_prefix (accelerator, modifiers[i].word))
          {
            accelerator += strlen (modifiers[i].word);
            held[i] = found = TRUE;
          }
    }
  while (found);
  symbol = XStringToKeysym (accelerator);
  g_assert_cmpuint (symbol, !=, NoSymbol);
  for (guint i = 0; i < G_N_ELEMENTS (modifiers); i++)
    if (held[i])
      send_key (self, modifiers[i].symbol, TRUE);
  tap (self, symbol);
  for (guint i = 0; i < G_N_ELEMENTS (modifiers); i++)
    if (held[i])
      send_key (self, modifiers[i].symbol, FALSE);
  XSync (self->display, False);
}

void
wb_e2e_driver_type (WbE2eDriver *self,
                    const char  *text)
{
  for (const char *at = text; *at != '\0'; at++)
    tap (self, *at == '\n' ? XK_Return : *at == '\t' ? XK_Tab : (KeySym) (guchar) *at);
}

/* ---- Beginning and end ---- */

typedef struct
{
  WbE2eDriver *self;
  gboolean     ended;
} Process;

static gboolean
find_application (gpointer data)
{
  WbE2eDriver *self = data;
  g_autoptr (AtspiAccessible) desktop = atspi_get_desktop (0);
  int n;

  atspi_accessible_clear_cache (desktop);
  n = atspi_accessible_get_child_count (desktop, NULL);
  for (int i = 0; i < n; i++)
    {
      g_autoptr (AtspiAccessible) child = atspi_accessible_get_child_at_index (desktop, i, NULL);
      g_autofree char *name = child != NULL ? atspi_accessible_get_name (child, NULL) : NULL;

      if (name != NULL && strstr (name, "wickbench") != NULL && atspi_accessible_get_child_count (child, NULL) > 0)
        {
          self->application = g_steal_pointer (&child);
          return TRUE;
        }
    }
  return FALSE;
}

WbE2eDriver *
wb_e2e_driver_start (const char *notebook,
                     const char *clock)
{
  g_autoptr (GSubprocessLauncher) launcher = g_subprocess_launcher_new (G_SUBPROCESS_FLAGS_NONE);
  g_autofree char *program = g_build_filename (WB_BUILD_DIR, "src", "wickbench", NULL);
  WbE2eDriver *self = g_new0 (WbE2eDriver, 1);
  static const char *const folders[] = { "XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_STATE_HOME", "XDG_CACHE_HOME" };
  GError *error = NULL;

  self->display = XOpenDisplay (NULL);
  g_assert_nonnull (self->display);
  self->home = g_dir_make_tmp ("wickbench-e2e-XXXXXX", NULL);
  g_subprocess_launcher_setenv (launcher, "HOME", self->home, TRUE);
  for (guint i = 0; i < G_N_ELEMENTS (folders); i++)
    {
      g_autofree char *folder = g_build_filename (self->home, folders[i], NULL);

      g_mkdir (folder, 0700);
      g_subprocess_launcher_setenv (launcher, folders[i], folder, TRUE);
    }
  g_subprocess_launcher_setenv (launcher, "GSETTINGS_BACKEND", "memory", TRUE);
  g_subprocess_launcher_unsetenv (launcher, "GTK_A11Y");
  g_subprocess_launcher_unsetenv (launcher, "G_DEBUG");
  if (clock != NULL)
    g_subprocess_launcher_setenv (launcher, "WICKBENCH_CLOCK", clock, TRUE);
  self->process = g_subprocess_launcher_spawn (launcher, &error, program, notebook, NULL);
  g_assert_no_error (error);
  atspi_init ();
  wb_e2e_driver_wait (self, "the program in the accessibility tree", find_application, self);
  return self;
}

static void
on_process_ended_cb (GObject      *source,
                     GAsyncResult *result,
                     gpointer      data)
{
  g_subprocess_wait_finish (G_SUBPROCESS (source), result, NULL);
  ((Process *) data)->ended = TRUE;
}

static gboolean
has_ended (gpointer data)
{
  return ((Process *) data)->ended;
}

static void
wait_and_free (WbE2eDriver *self)
{
  Process process = { self, FALSE };

  g_subprocess_wait_async (self->process, NULL, on_process_ended_cb, &process);
  wb_e2e_driver_wait (self, "the end of the program", has_ended, &process);
  g_clear_object (&self->application);
  g_clear_object (&self->process);
  XCloseDisplay (self->display);
  remove_folder (self->home);
  g_free (self->home);
  g_free (self);
}

void
wb_e2e_driver_stop (WbE2eDriver *self)
{
  g_autoptr (GSubprocess) process = g_object_ref (self->process);

  wb_e2e_driver_press (self, "<Control>q");
  wait_and_free (self);
  g_assert_true (g_subprocess_get_if_exited (process));
  g_assert_cmpint (g_subprocess_get_exit_status (process), ==, 0);
}

void
wb_e2e_driver_kill (WbE2eDriver *self)
{
  g_subprocess_send_signal (self->process, SIGKILL);
  wait_and_free (self);
}
