/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-e2e-screen.h"

#include <X11/XKBlib.h>
#include <X11/Xlib.h>
#include <X11/Xutil.h>
#include <X11/extensions/XTest.h>
#include <X11/keysym.h>
#include <cairo.h>
#include <string.h>

/* Toolkits keep windows of a few pixels for themselves. */
#define SIZE_MIN 16

struct _WbE2eScreen
{
  Display *display;
};

/* A window may be gone between the question and the answer: the next key asks again. */
static int
on_error_cb (Display     *display,
             XErrorEvent *event)
{
  return 0;
}

WbE2eScreen *
wb_e2e_screen_open (void)
{
  WbE2eScreen *self = g_new0 (WbE2eScreen, 1);

  self->display = XOpenDisplay (NULL);
  if (self->display == NULL)
    g_error ("No X server: run under tests/run-display");
  XSetErrorHandler (on_error_cb);
  return self;
}

void
wb_e2e_screen_close (WbE2eScreen *self)
{
  XCloseDisplay (self->display);
  g_free (self);
}

static gboolean
is_program_window (WbE2eScreen       *self,
                   Window             window,
                   XWindowAttributes *attributes)
{
  return XGetWindowAttributes (self->display, window, attributes) != 0 && attributes->map_state == IsViewable
         && !attributes->override_redirect && attributes->class == InputOutput
         && attributes->width >= SIZE_MIN && attributes->height >= SIZE_MIN;
}

/* None: nothing shows. */
static Window
find_window (WbE2eScreen *self,
             gboolean     topmost)
{
  Window root, parent, *children = NULL, found = None;
  XWindowAttributes attributes;
  unsigned int n = 0;

  if (XQueryTree (self->display, DefaultRootWindow (self->display), &root, &parent, &children, &n) == 0)
    return None;
  for (unsigned int i = 0; i < n && (topmost || found == None); i++) /* the lowest comes first */
    if (is_program_window (self, children[i], &attributes))
      found = children[i];
  if (children != NULL)
    XFree (children);
  return found;
}

static void
focus_topmost (WbE2eScreen *self)
{
  Window wanted = find_window (self, TRUE), focus = None;
  int revert;

  XGetInputFocus (self->display, &focus, &revert);
  if (wanted != None && wanted != focus)
    XSetInputFocus (self->display, wanted, RevertToPointerRoot, CurrentTime);
  XSync (self->display, False);
}

static void
send_key (WbE2eScreen *self,
          KeySym       symbol,
          gboolean     down)
{
  KeyCode code = XKeysymToKeycode (self->display, symbol);

  g_assert_cmpuint (code, !=, 0);
  XTestFakeKeyEvent (self->display, code, down, CurrentTime);
}

static void
tap (WbE2eScreen *self,
     KeySym       symbol)
{
  KeyCode code = XKeysymToKeycode (self->display, symbol);
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
wb_e2e_screen_press (WbE2eScreen *self,
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
  focus_topmost (self);
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
wb_e2e_screen_type (WbE2eScreen *self,
                    const char  *text)
{
  focus_topmost (self);
  for (const char *at = text; *at != '\0'; at++)
    {
      g_assert_true (g_ascii_isprint (*at));
      tap (self, (KeySym) (guchar) *at); /* a keysym of Latin 1 is its character */
    }
}

/* So many clicks of the button; out of the way again afterwards: no tooltip is to come up over what is done next. */
static gboolean
click (WbE2eScreen *self,
       int          x,
       int          y,
       guint        button,
       int          clicks)
{
  Window window = find_window (self, TRUE);
  XWindowAttributes attributes;

  if (window == None || XGetWindowAttributes (self->display, window, &attributes) == 0
      || x < 0 || y < 0 || x >= attributes.width || y >= attributes.height)
    return FALSE;
  focus_topmost (self);
  XTestFakeMotionEvent (self->display, -1, attributes.x + x, attributes.y + y, CurrentTime);
  for (int i = 0; i < clicks; i++)
    {
      XTestFakeButtonEvent (self->display, button, True, CurrentTime);
      XTestFakeButtonEvent (self->display, button, False, CurrentTime);
    }
  XTestFakeMotionEvent (self->display, -1, DisplayWidth (self->display, 0) - 1, DisplayHeight (self->display, 0) - 1, CurrentTime);
  XSync (self->display, False);
  return TRUE;
}

gboolean
wb_e2e_screen_click (WbE2eScreen *self,
                     int          x,
                     int          y)
{
  return click (self, x, y, 1, 1);
}

gboolean
wb_e2e_screen_wheel (WbE2eScreen *self,
                     int          x,
                     int          y,
                     int          clicks)
{
  return click (self, x, y, clicks < 0 ? 4 : 5, ABS (clicks));
}

static cairo_surface_t *
surface_from_image (XImage *image)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, image->width, image->height);
  guchar *pixels = cairo_image_surface_get_data (surface);
  int stride = cairo_image_surface_get_stride (surface);

  for (int y = 0; y < image->height; y++)
    for (int x = 0; x < image->width; x++)
      {
        guint32 pixel = (guint32) XGetPixel (image, x, y);

        memcpy (pixels + (size_t) y * (size_t) stride + (size_t) x * 4, &pixel, 4);
      }
  cairo_surface_mark_dirty (surface);
  return surface;
}

gboolean
wb_e2e_screen_picture (WbE2eScreen *self,
                       gboolean     whole,
                       const char  *path)
{
  Window root = DefaultRootWindow (self->display);
  Window window = whole ? root : find_window (self, FALSE);
  XWindowAttributes attributes;
  cairo_surface_t *surface;
  XImage *image;
  gboolean done;

  if (window == None || XGetWindowAttributes (self->display, window, &attributes) == 0)
    return FALSE;
  /* Of the screen where the window lies: with what stands above it. */
  image = XGetImage (self->display, root, whole ? 0 : attributes.x, whole ? 0 : attributes.y,
                     (guint) attributes.width, (guint) attributes.height, AllPlanes, ZPixmap);
  if (image == NULL)
    return FALSE;
  surface = surface_from_image (image);
  done = cairo_surface_write_to_png (surface, path) == CAIRO_STATUS_SUCCESS;
  cairo_surface_destroy (surface);
  XDestroyImage (image);
  return done;
}
