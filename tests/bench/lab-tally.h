/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "lab-ask.h"

/* Counts over the labs of one design. */

#define LAB_N_BANDS 10
#define LAB_N_THIRDS 3 /* of the wicks of a series: weakest, middle, strongest */
#define LAB_N_STATUSES (WB_CRAFT_FIT_FAILED + 1)

/* Answers with a stated chance in one band. */
typedef struct { guint n; double stated, right; } LabBand;

/* Intervals of one figure over one third of the wicks. */
typedef struct
{
  guint   n, covered, under, over; /* under: the truth lies below the interval */
  guint   none;                    /* no answer */
  GArray *widths;                  /* double: of the truth, or plain; INFINITY where an end is open */
} LabCover;

typedef struct
{
  guint    labs, cells, unpoured, groups;
  double   answer_s, truth_s;
  LabPick  ways[LAB_N_WAYS];                        /* sums */
  double   loss_square[LAB_N_WAYS];
  LabBand  bands[LAB_N_SAID - LAB_N_INTERVALS][LAB_N_BANDS];
  double   miss[LAB_N_SAID - LAB_N_INTERVALS], miss_square[LAB_N_SAID - LAB_N_INTERVALS]; /* stated less true, sums */
  LabCover covers[LAB_N_INTERVALS][LAB_N_THIRDS + 1]; /* the last: all wicks */
  guint    statuses[LAB_N_THIRDS][LAB_N_STATUSES];
} LabTally;

LabTally *lab_tally_new     (void);
void      lab_tally_free    (LabTally *self);
/* In the order of the labs, so that the sums are the same however many threads asked. */
void      lab_tally_add     (LabTally *self, const LabResult *result);
/*
 * Does the interval hold the truth? An end that is not told is open. "Never" is held by an open end or a
 * p_never above 0.05; a time is missed where nothing but a p_never above 0.95 is told.
 */
gboolean  lab_line_covered  (const LabLine *line);
guint     lab_third_of      (const Lab *lab, guint cell);
/* Its width is told plain: scores and ratings begin at 0, so that a share of the truth says nothing of them. */
gboolean  lab_said_is_plain (LabSaid what);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (LabTally, lab_tally_free)
