/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-pour.h"
#include "wb-app-timers.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * The pour as a track of its melt's temperature, and under it the steps as rows: what to do with its caution, at which temperature, a
 * timer, the temperature that was measured and when it was done. Follows what is typed. Signal "changed": something was typed.
 */
#define WB_TYPE_POUR_STEPS (wb_pour_steps_get_type ())
G_DECLARE_FINAL_TYPE (WbPourSteps, wb_pour_steps, WB, POUR_STEPS, GtkWidget)

/* Which steps are asked for: none; those of the pour; of a poured batch those after its pour, and what nobody has written down. */
typedef enum { WB_POUR_STEPS_SHOWN, WB_POUR_STEPS_ASKED, WB_POUR_STEPS_LATER } WbPourStepsMode;

GtkWidget *wb_pour_steps_new         (void);
/*
 * Rows in which something stands that was typed are left alone while the steps are the same. key: begins those of its timers; timers
 * NULL: none.
 */
void       wb_pour_steps_show        (WbPourSteps *self, const WbDataset *data, const WbAppPourBatch *batch, gboolean us_units, WbAppTimers *timers,
                                      const char *key, WbPourStepsMode mode);
/* Takes the track out from under the rows, to stand elsewhere; it follows what is typed all the same. Borrowed. */
GtkWidget *wb_pour_steps_take_chart  (WbPourSteps *self);
/* WbBatchStep as the fields stand; caller unrefs. */
GPtrArray *wb_pour_steps_dup_steps   (WbPourSteps *self);
/* Shows what cannot be read, puts the focus there; TRUE: nothing. */
gboolean   wb_pour_steps_check       (WbPourSteps *self);
gboolean   wb_pour_steps_get_touched (WbPourSteps *self);
/* The day of the pour, by which times of day are read; WB_DAY_NONE: nobody said. */
void       wb_pour_steps_set_day     (WbPourSteps *self, WbDay day);
/* When the pour was done, by its step; unknown: not said. */
WbInstant  wb_pour_steps_get_pour    (WbPourSteps *self);
/* What was typed at the steps, right or wrong, with the instant that each time meant then; and back, as if it were typed. */
void       wb_pour_steps_keep        (WbPourSteps *self, GKeyFile *file, const char *group);
void       wb_pour_steps_put_back    (WbPourSteps *self, GKeyFile *file, const char *group);
/* What was measured too hot at the steps that are asked, a line each (char *); caller unrefs. */
GPtrArray *wb_pour_steps_dup_hot     (WbPourSteps *self);
/* Timers of the steps that have not ended, a line each (char *); caller unrefs. */
GPtrArray *wb_pour_steps_dup_running (WbPourSteps *self);
/* A step after the pour is asked for and not done yet; the cure, which lasts for days, is not meant. */
gboolean   wb_pour_steps_get_waiting (WbPourSteps *self);
/* What is wrong at the first step of that kind, as it stands under it; NULL: nothing. */
const char *wb_pour_steps_get_told   (WbPourSteps *self, int kind);
/* For tests: the row of the first step of that kind (WbStepKind); its fields "measured", "time", "done", "timer"; NULL: none. */
GtkWidget *wb_pour_steps_get_field   (WbPourSteps *self, int kind, const char *name);

G_END_DECLS
