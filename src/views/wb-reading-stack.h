/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-reading-panel.h"

G_BEGIN_DECLS

/*
 * The panels of a bench, one a sample that is or was chosen, one of them shown.
 * A panel stays while it holds something typed that is not saved, so that going
 * from sample to sample loses nothing. One that holds nothing is given to the
 * next sample: whoever keeps a panel beyond a save finds it another's.
 *
 * Signals: "done" (panel), "finished" (panel), "changed" (panel), as the panel says them.
 */
#define WB_TYPE_READING_STACK (wb_reading_stack_get_type ())
G_DECLARE_FINAL_TYPE (WbReadingStack, wb_reading_stack, WB, READING_STACK, GtkWidget)

GtkWidget      *wb_reading_stack_new          (void);
/* Unit of bare numbers, and who rates ("" : not said). A panel where something is typed keeps its own. */
void            wb_reading_stack_set_up       (WbReadingStack *self, gboolean us_units, const char *rater);
/* Shows the panel of a sample; NULL: words that ask to choose one. */
void            wb_reading_stack_show         (WbReadingStack *self, WbAppBenchSample *sample);
/* The panel of a sample, made where there is none; it shows no other than before. */
WbReadingPanel *wb_reading_stack_ensure       (WbReadingStack *self, WbAppBenchSample *sample);
/* Writes all that is half typed into a file, a group a sample, called by its id. before: as it was written last. */
void            wb_reading_stack_keep         (WbReadingStack *self, GKeyFile *file, GKeyFile *before);
/* NULL: none is chosen. */
WbReadingPanel *wb_reading_stack_get_shown    (WbReadingStack *self);
/* NULL: that sample has none. */
WbReadingPanel *wb_reading_stack_find         (WbReadingStack *self, gint64 sample);
/* Lets go of a panel whose save is done; the one that is shown is emptied. What it said of thermometer and rater is proposed to the next. */
void            wb_reading_stack_drop         (WbReadingStack *self, WbReadingPanel *panel);
void            wb_reading_stack_clear        (WbReadingStack *self);
/* Follows the clock and the record: the moment that is asked moves on where nothing was typed. */
void            wb_reading_stack_update       (WbReadingStack *self);
/* Something is typed and not saved, in any of them. */
gboolean        wb_reading_stack_get_touched  (WbReadingStack *self);
/* The sample's panel is on its way to the file. */
gboolean        wb_reading_stack_is_saving    (WbReadingStack *self, gint64 sample);
/* Samples whose save failed, gint64 *; borrowed, NULL where there is none. */
GHashTable     *wb_reading_stack_get_failed   (WbReadingStack *self);

G_END_DECLS
