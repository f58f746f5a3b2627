/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-keep-going.h"
#include "wb-dataset.h"

G_BEGIN_DECLS

/*
 * The samples of an experiment in cohorts of no more than the bench has places. Those of one cohort go through their lives together,
 * so that burn 5 is compared with burn 5 of the same evening; what differs between cohorts (season, draught, a hand that got used to it)
 * must not be taken for a difference between combinations.
 */
typedef enum
{
  WB_CRAFT_COHORTS_NONE,  /* no sample has one */
  WB_CRAFT_COHORTS_ONE,   /* all fit on the bench at once */
  WB_CRAFT_COHORTS_WHOLE, /* each holds every combination in the same proportions: nothing is lost */
  WB_CRAFT_COHORTS_MIXED, /* each holds some: incomplete blocks */
  WB_CRAFT_COHORTS_APART  /* some combinations never meet, not even by way of others */
} WbCraftCohortsKind;

typedef struct
{
  WbCraftCohortsKind kind;
  gint64 *cohorts;           /* of each sample of the data set, from 1; 0: none */
  guint   n_samples;
  guint   n_counted;         /* samples with a cohort that count: not set aside, not kept */
  guint   n_left_over;       /* samples that count and have none */
  guint   n_cohorts;         /* with such samples; their numbers may have gaps where one was emptied by hand */
  guint   smallest, largest; /* samples that count in one */
  guint   n_cells;           /* combinations with such samples */
  double  efficiency;        /* share of what a bench that held all would tell of comparisons, 0 to 1 (wb-calc-blocks.h); NAN: none */
  guint   together_low, together_high; /* how often a pair of combinations burns side by side */
  guint   whole;             /* cohorts that whole duplicates would have taken, where that is more than there are; 0: no more */
} WbCraftCohorts;

/* Fewer cohorts than whole duplicates would take are chosen where they tell at least so much. */
#define WB_CRAFT_COHORTS_ENOUGH 0.95

/*
 * Divides the samples that count among the fewest cohorts of at most `places` (at least 1), as even as they come. All fit: one. Else
 * whole duplicates, each cohort holding every combination as often as the others, where that takes no more cohorts than are
 * needed; else incomplete blocks of combinations by wb_calc_blocks_search, unless they would tell less than
 * WB_CRAFT_COHORTS_ENOUGH and whole duplicates are possible. A sample that was burnt keeps its cohort (those that were burnt
 * without one become one); a cohort of which a sample was burnt twice keeps all of its samples and takes no other. The same data, places and
 * seed give the same cohorts. NULL: keep_going said no.
 */
WbCraftCohorts *wb_craft_cohorts_new       (const WbDataset *data, guint places, guint64 seed, WbCraftKeepGoing keep_going, gpointer user);
/* As they are recorded. */
WbCraftCohorts *wb_craft_cohorts_read      (const WbDataset *data);
/* The same with one sample in another cohort (from 1; one more than there are: a cohort of its own). */
WbCraftCohorts *wb_craft_cohorts_read_with (const WbDataset *data, guint sample, gint64 cohort);
void            wb_craft_cohorts_free      (WbCraftCohorts *self);

/*
 * Whose turn it is. One cohort of an experiment goes through its life after another, also where two would fit on the bench: a begun one
 * first (any of its samples was burnt), then the lowest number. Bench, calendar and papers all ask here.
 */
/* Whether any sample of it was burnt, one that is at its end among them. */
gboolean        wb_craft_cohorts_is_begun     (const WbDataset *data, gint64 cohort);
/* Whether the first of two cohorts of an experiment burns before the second; numbers from 1. */
gboolean        wb_craft_cohorts_is_before    (gboolean begun, gint64 cohort, gboolean other_begun, gint64 other);
/*
 * The cohort that goes to the bench now, by samples that are not at their end (`ended` a sample of the data set); one of which nothing is
 * poured yet keeps no poured one waiting. 0: none is left.
 */
gint64          wb_craft_cohorts_find_running (const WbDataset *data, const gboolean *ended);

/* "3 cohorts of 8. Every pair of combinations burns side by side equally often: 78 of 100 parts of what one big bench would tell."
 * Translated; caller frees. */
char           *wb_craft_cohorts_dup_words (const WbCraftCohorts *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbCraftCohorts, wb_craft_cohorts_free)

G_END_DECLS
