/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-pour.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * A batch's samples, a line each: what was measured of each while it was
 * poured. Enter goes to the same field of the next sample, as on a list beside
 * a scale. Long lists are laid a few lines at a time. Signal "changed": the person typed.
 */
#define WB_TYPE_SAMPLE_TABLE (wb_sample_table_get_type ())
G_DECLARE_FINAL_TYPE (WbSampleTable, wb_sample_table, WB, SAMPLE_TABLE, GtkWidget)

GtkWidget       *wb_sample_table_new        (void);
/* samples: WbSample of data, copied; typed: WbAppPouredSample that was typed of them before and taken back, may be empty. Fields that hold something typed are left alone while the samples are the same. */
void             wb_sample_table_fill       (WbSampleTable *self, const WbDataset *data, const GPtrArray *samples, const GArray *typed,
                                             gboolean us_units);
/* WbAppPouredSample of every sample as its fields stand, NAN where they are empty; caller unrefs. */
GArray          *wb_sample_table_dup_poured (WbSampleTable *self);
/* Shows what is wrong, focus into the first; TRUE: nothing is. */
gboolean         wb_sample_table_check      (WbSampleTable *self);
gboolean         wb_sample_table_get_touched (WbSampleTable *self);
/*
 * From the field in which the keyboard is: the same of the next sample; in the last line the first of the columns after it that is
 * empty, so that what a scale types next overwrites nothing. FALSE: there is none, or the keyboard is elsewhere.
 */
gboolean         wb_sample_table_go_on       (WbSampleTable *self);
/* Codes of samples that lack this value while others have it (char *); none has it: empty. Caller unrefs. */
GPtrArray       *wb_sample_table_dup_lacking (WbSampleTable *self, WbAppPoured poured);
/* All lines stand. */
gboolean         wb_sample_table_get_laid   (WbSampleTable *self);
/* The field of a line, for tests and focus: 0 the empty vessel, 1 the fill, 2 its height, 3 the wick's offset. NULL: not laid yet. */
GtkWidget       *wb_sample_table_get_field  (WbSampleTable *self, guint line, guint field);

/*
 * What is asked of each sample; before it is filled. deviations: what went otherwise too, in words. Until then tare, fill, height and
 * the wick's place.
 */
void       wb_sample_table_set_fields  (WbSampleTable *self, const WbAppPoured *fields, guint n_fields, gboolean deviations);
/* Copies of the samples with what was typed in the fields that were touched; caller unrefs. */
GPtrArray *wb_sample_table_dup_samples (WbSampleTable *self);

/* What was typed of each sample, right or wrong, by its UUID; and back, as if it were typed, into lines that are not laid yet too. */
void       wb_sample_table_keep        (WbSampleTable *self, GKeyFile *file, const char *group);
void       wb_sample_table_put_back    (WbSampleTable *self, GKeyFile *file, const char *group);

G_END_DECLS
