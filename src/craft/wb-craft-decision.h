/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-answer.h"
#include "wb-craft-touched.h"

G_BEGIN_DECLS

/*
 * What a decision for one combination would say, drawn from the answer: sentences that its maker may edit before signing. It judges
 * nothing anew. One that crossed a limit, that has too little data, or that is not recommended can be signed only with a reason in
 * the maker's words; a sample that was set aside with a crossing counts as told.
 */
typedef struct
{
  guint          cell;
  WbCraftVerdict verdict;
  gboolean       needs_reason;
  char          *name;        /* what tells it apart in its group: "B4" */
  char          *recipe;      /* "Hob, 76.2 mm · Brosk B4 · Quimber leaf 8 % of the wax · Dunmarl soft" */
  char          *conditions;  /* sentences, one a line, as the next three */
  char          *rests_on;
  char          *not_tested;
  char          *holds_until;
  GPtrArray     *not_burnt;   /* char *: each lot in the notebook that this would not cover, a sentence; stands before all else */
  GPtrArray     *crossed;     /* char *: each crossing known of the recipe, a sentence; stands before all else */
  GPtrArray     *against;     /* char *: what else keeps it from being recommended */
} WbCraftDecision;

/*
 * group, index: of the answer's ranking. elsewhere: char *, sentences of crossings of the same recipe that the answer does not know,
 * in other experiments; may be NULL. Caller frees.
 */
WbCraftDecision *wb_craft_decision_new  (const WbCraftAnswer *answer, guint group, guint index, const GPtrArray *elsewhere);
/*
 * Takes up the lots that were not burnt: says each, counts it among what was not tested, and begins what it holds until with the lots that
 * it holds for. changes: WbCraftTouched of a decision for that combination; what is not of a lot is passed over.
 */
void             wb_craft_decision_take_lots (WbCraftDecision *self, const WbDataset *data, const GPtrArray *changes);
/* NULL is let pass. */
void             wb_craft_decision_free (WbCraftDecision *self);
/*
 * Writes into the record what the answer says of the combination, the crossings, and the sentences: all but who signs, when, why
 * against the verdict, and the entry.
 */
void             wb_craft_decision_fill (const WbCraftDecision *self, const WbCraftAnswer *answer, WbDecision *record);

/* The crossings alone, which whoever signs cannot leave out. */
void             wb_craft_decision_keep_crossed (const WbCraftDecision *self, WbDecision *record);

/* The same sentences where nothing is ranked, but for verdict and chances, which stay unknown. */
void             wb_craft_decision_fill_unranked (const WbDataset *data, const WbCraftFigures *figures, const WbCraftLimits *limits,
                                                  guint cell, WbDecision *record);

/* The ranked cell of that index of the data set; NULL: it is in no group. Borrowed. */
const WbCraftRanked *wb_craft_decision_find_ranked (const WbCraftAnswer *answer, guint cell);
/*
 * What the answer said when it was signed: "recommended; score 0.83 of 1 (0.78 to 0.88); chance of being the best 92 in 100 ...",
 * NULL where it was not kept. Caller frees.
 */
char                *wb_craft_decision_dup_signed (const WbDecision *record);
/*
 * What a decision keeps, told in the language of now where the program wrote it in English; a line that somebody changed, or that is of
 * another language, is given back as it is. NULL stays NULL. Caller frees.
 */
char                *wb_craft_decision_dup_stored (const char *stored);
/* The decision of the group's vessel and scent in its data set; NULL: none is signed. Borrowed. */
const WbDecision    *wb_craft_decision_find   (const WbDataset *data, const WbCraftGroup *group);
/* Vessels with their scents for which nothing is signed; n: of so many in the grid, may be NULL. */
guint                wb_craft_decision_count_undecided (const WbDataset *data, guint *n);
/*
 * TRUE: something is undecided, and of all that is, each combination is rejected. The experiment may then be finished without a
 * decision.
 */
gboolean             wb_craft_decision_is_all_rejected (const WbCraftAnswer *answer);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbCraftDecision, wb_craft_decision_free)

G_END_DECLS
