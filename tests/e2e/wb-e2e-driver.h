/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <atspi/atspi.h>
#include <gio/gio.h>

G_BEGIN_DECLS

/*
 * Drives the real program from outside: finds by role and name through AT-SPI,
 * acts through its actions, types through XTEST, and waits with a limit, never by a
 * fixed sleep. Whatever cannot be found within the limit ends the test with a
 * screenshot and a dump of the tree beside the test log. Needs a session bus and an X
 * server of its own: run under tests/run-display.
 */

typedef struct _WbE2eDriver WbE2eDriver;

/*
 * Starts the program on a notebook, with a home, settings and a test clock
 * (`clock` as in WICKBENCH_CLOCK; NULL: the real one) of its own.
 */
WbE2eDriver     *wb_e2e_driver_start      (const char *notebook, const char *clock);
/* Closes the window as a person would and waits for the process; asserts that it ended with 0. */
void             wb_e2e_driver_stop       (WbE2eDriver *self);
/* SIGKILL, as in a crash. */
void             wb_e2e_driver_kill       (WbE2eDriver *self);

/* Visible and of that role and name ("*" at the end: begins with; NULL: any). Never NULL: fails the test instead. */
AtspiAccessible *wb_e2e_driver_find       (WbE2eDriver *self, AtspiRole role, const char *name);
/* The same below a given one. */
AtspiAccessible *wb_e2e_driver_find_below (WbE2eDriver *self, AtspiAccessible *root, AtspiRole role, const char *name);
/* NULL if it is not there now. */
AtspiAccessible *wb_e2e_driver_peek       (WbE2eDriver *self, AtspiRole role, const char *name);
/* Waits until nothing of that role and name is visible. */
void             wb_e2e_driver_wait_gone  (WbE2eDriver *self, AtspiRole role, const char *name);
/* Waits for a label (or text) that contains `part`. */
void             wb_e2e_driver_wait_text  (WbE2eDriver *self, const char *part);

/* Its first action: a click, an activation. */
void             wb_e2e_driver_act        (WbE2eDriver *self, AtspiRole role, const char *name);
/* Replaces an entry's text. */
void             wb_e2e_driver_enter      (WbE2eDriver *self, const char *name, const char *text);
/* A named key with modifiers, e.g. "<Control>z", "Return", "F". */
void             wb_e2e_driver_press      (WbE2eDriver *self, const char *accelerator);
/* Types ASCII text key by key into whatever has the focus. */
void             wb_e2e_driver_type       (WbE2eDriver *self, const char *text);
/* Writes a PNG of the root window. */
void             wb_e2e_driver_screenshot (WbE2eDriver *self, const char *path);
/* The tree in words. Caller frees. */
char            *wb_e2e_driver_dump       (WbE2eDriver *self);

/* Waits until `check` says yes. Fails the test, naming `what`, at the limit. */
void             wb_e2e_driver_wait       (WbE2eDriver *self, const char *what, gboolean (*check) (gpointer data), gpointer data);

G_END_DECLS
