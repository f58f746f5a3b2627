/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-ranking.h"

G_BEGIN_DECLS

/* What the sentences about a group share. */

/* What tells a cell apart in its group. Caller frees. */
char     *wb_craft_words_dup_name        (const WbDataset *data, const WbCraftGroup *group, guint cell);
/* "B4, B5 and B6". Caller frees. */
char     *wb_craft_words_join            (const GPtrArray *names);
/* May it be the answer? */
gboolean  wb_craft_words_may_lead        (const WbCraftRanked *ranked);
/* Nothing that was burnt scores anything to speak of. */
gboolean  wb_craft_words_are_hopeless    (const WbCraftGroup *group);
/* The cells of a tie, in their order; empty where there is none: const WbCraftRanked *. Caller unrefs. */
GPtrArray *wb_craft_words_find_tie       (const WbCraftGroup *group);
gboolean  wb_craft_words_has_reason      (const WbCraftRanked *ranked, const char *code);
/* Did it cross a published limit, not only one of the house? */
gboolean  wb_craft_words_crossed_published (const WbCraftRanked *ranked);
/* Does it rest on so little that the answer must begin with it? */
gboolean  wb_craft_words_rests_on_little (const WbCraftRanked *ranked);
/* The whole answer where nothing may lead, or too little is known to say who; NULL where something leads. Caller frees. */
char     *wb_craft_words_dup_no_answer   (const WbDataset *data, const WbCraftGroup *group);
/* Of a leader that does poorly, a sentence with a space before it: nobody takes it for a good candle; else "". Caller frees. */
char     *wb_craft_words_dup_poor        (const WbCraftGroup *group);
/* Are all that tie near the best, or can they only not be told apart? */
gboolean  wb_craft_words_are_alike       (const GPtrArray *tied);
/* A score as it is printed, to two places: what stands beside its bounds is held against them as it stands. */
double    wb_craft_words_as_printed      (double score);
/* Which thirds of the candle were read of each of these WbCraftRanked, as what the answer rests on: "upper third only". Translated; static. */
const char *wb_craft_words_get_thirds    (const GPtrArray *all);
/* "3 samples and 9 burns" of the first; of all that tie; where nothing may lead, of the whole group. Caller frees. */
char     *wb_craft_words_dup_basis       (const WbCraftGroup *group);

G_END_DECLS
