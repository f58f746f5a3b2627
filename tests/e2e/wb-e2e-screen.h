/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/*
 * The X server's side of a driven program: keys in, pictures out. There is no window manager, so the topmost window
 * gets the focus before each key.
 */
typedef struct _WbE2eScreen WbE2eScreen;

/* The display of the environment. */
WbE2eScreen *wb_e2e_screen_open    (void);
void         wb_e2e_screen_close   (WbE2eScreen *self);
/* As in wb_e2e_driver_press() and wb_e2e_driver_type(). */
void         wb_e2e_screen_press   (WbE2eScreen *self, const char *accelerator);
void         wb_e2e_screen_type    (WbE2eScreen *self, const char *text);
/* With the first button, in pixels from the topmost window's corner. FALSE: there is no window, or the point lies outside. */
gboolean     wb_e2e_screen_click   (WbE2eScreen *self, int x, int y);
/* Turns the wheel there, by so many clicks downwards; less than 0: upwards. FALSE: as above. */
gboolean     wb_e2e_screen_wheel   (WbE2eScreen *self, int x, int y, int clicks);
/* PNG of the whole screen, or of the lowest window that shows alone: the program's own. FALSE: no picture could be had. */
gboolean     wb_e2e_screen_picture (WbE2eScreen *self, gboolean whole, const char *path);

G_END_DECLS
