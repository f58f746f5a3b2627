/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "lab-truth.h"

/*
 * How well anybody could choose: one who knows the law, every spread, and tau, but not
 * the cells. Of each cell he has a mean with the spread that its samples and burns
 * leave, as if no reading were at the wall; he fits the additive law to the means by
 * least squares and goes from there towards each cell's own mean as far as cells are
 * known to be off the law. The means are drawn anew, not read: it is a bound for the
 * loss of score on average, not lab by lab.
 */
/* His expected score of each cell, n_cells long, NAN where not poured; g_free. From any thread. */
double *lab_bound_rate (const Lab *lab, const GPtrArray *aims);
