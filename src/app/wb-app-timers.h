/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-notebook.h"

G_BEGIN_DECLS

/*
 * Timers of the pouring table, by a key of their holder's. They count by the clock that never steps, and go on whatever
 * page is shown, as long as the notebook is open. Main thread.
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

G_END_DECLS
