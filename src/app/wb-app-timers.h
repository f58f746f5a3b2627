/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-notebook.h"

G_BEGIN_DECLS

/*
 * Timers of the pouring table, by a key of their holder's. They count by the clock that never steps, and go on whatever
 * page is shown. They outlive the window, and a program that is killed: the next one goes on with them, by the same clock
 * while the computer is not started anew, by the wall clock after it, which is told (wb_app_timers_get_doubtful). One that
 * ended meanwhile is told then. Main thread.
 *
 * Signals: "tick", once a second while one runs, and whenever one changed; "ended" (key, words); "dropped" (key): nobody waits for it
 * any more, or it begins anew.
 */
#define WB_TYPE_APP_TIMERS (wb_app_timers_get_type ())
G_DECLARE_FINAL_TYPE (WbAppTimers, wb_app_timers, WB, APP_TIMERS, GObject)

typedef enum { WB_APP_TIMER_NONE, WB_APP_TIMER_RUNNING, WB_APP_TIMER_PAUSED, WB_APP_TIMER_ENDED } WbAppTimerState;

/* The notebook's; borrowed, lives as long as it. */
WbAppTimers    *wb_app_timers_of        (WbAppNotebook *notebook);
/* Begins anew, whatever it was. words: what has come when it ends. */
void            wb_app_timers_start     (WbAppTimers *self, const char *key, const char *words, double seconds);
/* Stops counting, and goes on from there. */
void            wb_app_timers_pause     (WbAppTimers *self, const char *key);
void            wb_app_timers_resume    (WbAppTimers *self, const char *key);
void            wb_app_timers_drop      (WbAppTimers *self, const char *key);
/* left_s: seconds that are left, 0 once it has ended; may be NULL. */
WbAppTimerState wb_app_timers_get       (WbAppTimers *self, const char *key, double *left_s);
/* The computer was started anew while it ran: what is left is counted by the wall clock, which may have been set since. */
gboolean        wb_app_timers_get_doubtful (WbAppTimers *self, const char *key);

G_END_DECLS
