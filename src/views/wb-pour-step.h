/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-timers.h"
#include "wb-sample.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * One step of a pour: its name, the temperature that was measured, when it was done, its timer, and under them what to do with its
 * caution. What is wrong with what was typed, or too hot, stands in a line of its own. Signal "changed": something was typed.
 */
#define WB_TYPE_POUR_STEP (wb_pour_step_get_type ())
G_DECLARE_FINAL_TYPE (WbPourStep, wb_pour_step, WB, POUR_STEP, GtkWidget)

/* Cells that stand under each other in all rows. */
typedef enum
{
  WB_POUR_STEP_MEASURED, WB_POUR_STEP_TIME, WB_POUR_STEP_DONE, WB_POUR_STEP_TIMER, WB_POUR_STEP_N_COLUMNS
} WbPourStepColumn;

/* step is copied. asked FALSE: what was done is only shown. */
GtkWidget         *wb_pour_step_new         (const WbBatchStep *step, gboolean us_units, gboolean asked);
/* Its timer, where the step says minutes and is asked. timers: the notebook's; key: its own there. */
void               wb_pour_step_set_timer   (WbPourStep *self, WbAppTimers *timers, const char *key);
/* A line under it. style: a CSS class. */
void               wb_pour_step_add_line    (WbPourStep *self, const char *text, const char *style);
/* Makes its cells as wide as those of the other rows: groups by WbPourStepColumn. */
void               wb_pour_step_join        (WbPourStep *self, GtkSizeGroup *const *columns);

/* As it stood when it was shown; borrowed. */
const WbBatchStep *wb_pour_step_get_step    (WbPourStep *self);
/* As the fields stand; caller frees. */
WbBatchStep       *wb_pour_step_dup_step    (WbPourStep *self);
/* When it was done, by what stands in its field; unknown: not said, or it cannot be read. */
WbInstant          wb_pour_step_get_time    (WbPourStep *self);
gboolean           wb_pour_step_get_asked   (WbPourStep *self);
gboolean           wb_pour_step_get_touched (WbPourStep *self);
/* Shows what cannot be read, puts the focus there; TRUE: nothing. */
gboolean           wb_pour_step_check       (WbPourStep *self);
/* A time of day means the first one that is not before it; unknown: the last one that has been. */
void               wb_pour_step_set_first   (WbPourStep *self, WbInstant first);
/* The measured temperature is too hot, in words; NULL: it is not. */
void               wb_pour_step_tell_hot    (WbPourStep *self, const char *words);
const char        *wb_pour_step_get_told    (WbPourStep *self);
/* It has a timer that counts, or waits. */
gboolean           wb_pour_step_get_running (WbPourStep *self);
/* Reads the timer anew. */
void               wb_pour_step_show_timer  (WbPourStep *self);

/* What was typed in a row that this one takes the place of, as if it were typed here. */
void               wb_pour_step_take_typed  (WbPourStep *self, WbPourStep *from);
/* What was typed, right or wrong, with the instant that the time meant; and back. */
void               wb_pour_step_keep        (WbPourStep *self, GKeyFile *file, const char *group);
void               wb_pour_step_put_back    (WbPourStep *self, GKeyFile *file, const char *group);
/* "measured", "time", "done", "timer"; NULL: it has none. */
GtkWidget         *wb_pour_step_get_field   (WbPourStep *self, const char *name);

G_END_DECLS
