/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-e2e-folder.h"

#include <atspi/atspi.h>

G_BEGIN_DECLS

/*
 * Drives the real program from outside: finds by role and name through AT-SPI,
 * acts through its actions, clicks and types through XTEST, and waits with a limit,
 * never by a fixed sleep. Whatever does not come within the limit ends the test with
 * a picture and a dump of the tree beside the test log. Needs a session bus and an X
 * server of its own: run under tests/run-display.
 *
 * A name fits whole, where "*" in it stands for anything ("?": for any one character).
 * NULL fits any. Of several, the first in reading order counts. Only what shows is
 * found. Write names and words with plain spaces: those that hold a number to its unit
 * count as such.
 */

typedef struct _WbE2eDriver WbE2eDriver;

/* Starts the program on the notebook `name` in the folder (NULL: on none); `clock` as in WICKBENCH_CLOCK. */
WbE2eDriver *wb_e2e_driver_start       (const char *folder, const char *name, const char *clock);
/* Closes the window as a person would and waits for the process; asserts that it ended with 0. */
void         wb_e2e_driver_stop        (WbE2eDriver *self);
/* The same where candles are alight, which asks first. */
void         wb_e2e_driver_stop_alight (WbE2eDriver *self);
/* SIGKILL, as in a crash. */
void         wb_e2e_driver_kill        (WbE2eDriver *self);

/* From here on looks only below that (role 0: everywhere again), wherever several have one name. */
void         wb_e2e_driver_look_into   (WbE2eDriver *self, AtspiRole role, const char *name);
/* Waits for it. */
void         wb_e2e_driver_see         (WbE2eDriver *self, AtspiRole role, const char *name);
/* Waits until the focus is there: what is typed next goes into it. */
void         wb_e2e_driver_see_focus   (WbE2eDriver *self, AtspiRole role, const char *name);
/* Waits until nothing of that role and name shows. */
void         wb_e2e_driver_see_gone    (WbE2eDriver *self, AtspiRole role, const char *name);
/* Waits until it can be acted on, or until it cannot. */
void         wb_e2e_driver_see_enabled (WbE2eDriver *self, AtspiRole role, const char *name, gboolean enabled);
/* Waits for words anywhere: a name, a label or an entry's text that holds `part`. */
void         wb_e2e_driver_read        (WbE2eDriver *self, const char *part);
/* Waits until the entry's text is that. */
void         wb_e2e_driver_read_entry  (WbE2eDriver *self, const char *name, const char *text);

/* Its first action: a click, an activation. Waits for it to be there and able to act. A button shows itself pressed for a
 * quarter of a second first: look for what it brings about before pressing a key. */
void         wb_e2e_driver_act         (WbE2eDriver *self, AtspiRole role, const char *name);
/* Clicks into its middle with the pointer: a row of a list, which has no action of its own. It must not be scrolled away. */
void         wb_e2e_driver_click       (WbE2eDriver *self, AtspiRole role, const char *name);
/* Turns the wheel at that point of the topmost window, in pixels, by so many clicks downwards; less than 0: upwards. */
void         wb_e2e_driver_scroll      (WbE2eDriver *self, int x, int y, int clicks);
/* Ticks, or takes the tick away. */
void         wb_e2e_driver_tick        (WbE2eDriver *self, const char *name, gboolean ticked);
/* Opens a drop-down and chooses its item of that index, from 0, by the keyboard; its text must then be `text`. */
void         wb_e2e_driver_pick        (WbE2eDriver *self, const char *name, int index, const char *text);
/* Replaces an entry's text. */
void         wb_e2e_driver_enter       (WbE2eDriver *self, const char *name, const char *text);
/* A named key with modifiers, e.g. "<Control>z", "Return", "F10". */
void         wb_e2e_driver_press       (WbE2eDriver *self, const char *accelerator);
/* Types ASCII text key by key into whatever has the focus. */
void         wb_e2e_driver_type        (WbE2eDriver *self, const char *text);
/* Answers the dialog that asks where to write, by that path. */
void         wb_e2e_driver_save_to     (WbE2eDriver *self, const char *path);
/* Makes a new notebook of that name in the folder, from the program's first page. */
void         wb_e2e_driver_make        (WbE2eDriver *self, const char *folder, const char *name);

/* Writes a PNG of the program's own window. */
void         wb_e2e_driver_picture     (WbE2eDriver *self, const char *path);
/* Waits until `check` says yes; at the limit fails the test, naming `what`. */
void         wb_e2e_driver_wait        (WbE2eDriver *self, const char *what, gboolean (*check) (gpointer data), gpointer data);

G_END_DECLS
