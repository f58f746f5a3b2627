/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/*
 * The places of a bench in the order in which the samples of a session take them: each of 0 to places - 1 once, shuffled anew for
 * every session, so that no combination always stands in the same draught or beside the same neighbour. A function of places and
 * seed alone: a session records its seed (WbSession.seed; of one that records none it is its number). Every order is as likely as
 * any other (Durstenfeld, Algorithm 235, Communications of the ACM 7, 1964). guint, borrowed by nobody; caller frees.
 */
GArray *wb_craft_bench_plan_new  (guint places, guint64 seed);

/*
 * The place, 0 to places - 1, of the nth sample of its experiment, or the next in the plan's order that is not taken; places: none
 * is free. taken: gboolean by place, as many as there are.
 */
guint   wb_craft_bench_plan_find (const GArray *plan, guint nth, const gboolean *taken);

G_END_DECLS
