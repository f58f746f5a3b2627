/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-estimates.h"
#include "wb-craft-limits.h"
#include "wb-craft-ranked.h"

G_BEGIN_DECLS

/* Of a recommendation: the chance of being within 0.05 of the best at least, and of crossing a limit at most. No standard sets them. */
#define WB_CRAFT_NEAR_ENOUGH 0.9
#define WB_CRAFT_CROSS_AT_MOST 0.05

/* Score and ranking. Seeded: block i of 256 draws comes from seed and i, and all cells share the draws. */

typedef enum { WB_CRAFT_WITHIN_SCENT, WB_CRAFT_WITHIN_VESSEL, WB_CRAFT_WITHIN_ALL } WbCraftWithin;
/* WITHIN_SCENT: which wick for this vessel and scent, the usual question. Keys "scent", "vessel", "all"; -1 unknown. */
const char *wb_craft_within_get_key  (WbCraftWithin within);
int         wb_craft_within_from_key (const char *key);

typedef struct
{
  guint          vessel;        /* a cell index that stands for the group's vessel and scent */
  gboolean       by_vessel, by_scent; /* what the group has in common */
  double         p_none;        /* draws in which nothing scores above 0; NAN where no cell was burnt */
  double         p_none_error;  /* Monte Carlo standard error of it */
  WbCraftRanked *cells;         /* best first */
  guint          n_cells;
  GArray        *weights;       /* WbCraftWeight, an aim that counts each; empty where no second cell could lead */
} WbCraftGroup;

typedef struct
{
  guint64        seed;
  guint          draws;
  WbCraftWithin  within;
  WbCraftGroup  *groups;
  guint          n_groups;
} WbCraftRanking;

/* draws 0: the usual 4,000. NULL when keep_going said stop. */
WbCraftRanking *wb_craft_ranking_new  (const WbDataset *data, const WbCraftFigures *figures, const WbCraftLimits *limits,
                                       const WbCraftEstimates *estimates, WbCraftWithin within, guint64 seed, guint draws,
                                       WbCraftKeepGoing keep_going, gpointer user);
void            wb_craft_ranking_free (WbCraftRanking *self);
/* Of the reasons as sentences, what every cell of the group says, to be told once; empty for a group of one. Caller unrefs. */
GPtrArray      *wb_craft_group_dup_common_sentences (const WbCraftGroup *group);
/*
 * The answer in one or two sentences, then how sure; translated. What it rests on
 * stands in the answer where that is little, else in the second. Caller frees.
 */
char           *wb_craft_group_dup_answer (const WbDataset *data, const WbCraftGroup *group);
char           *wb_craft_group_dup_sureness (const WbDataset *data, const WbCraftGroup *group);
/* A score, of 1, from which a combination does well, and below which it does poorly; between them it does fairly well. No standard sets them. */
#define WB_CRAFT_SCORE_WELL 0.75
#define WB_CRAFT_SCORE_POOR 0.5
/*
 * For a glance, of a group of one cell at least: "B4", "B4 and B5, as good as each other", or the whole answer where nothing leads; how good
 * that is: "does well: 0.89 of 1", "" where nothing leads; and how sure, with what it rests on. Not to be read without the answer and the
 * sureness, which say more. Caller frees.
 */
char           *wb_craft_group_dup_brief (const WbDataset *data, const WbCraftGroup *group);
char           *wb_craft_group_dup_level (const WbCraftGroup *group);
char           *wb_craft_group_dup_brief_sureness (const WbDataset *data, const WbCraftGroup *group);
/* "recommended", "not recommended yet", of a tie which are; "" where nothing leads. Translated; caller frees. */
char           *wb_craft_group_dup_brief_verdict (const WbDataset *data, const WbCraftGroup *group);
/* Was any candle of it lit, whatever the kind of the burn, and whether or not it counts? */
gboolean        wb_craft_group_has_burns (const WbDataset *data, const WbCraftGroup *group);
/*
 * How far weights can move before the answer changes: that none does, halved or doubled, where that is so; then a sentence for
 * each of the few that change it soonest. Empty where nothing leads. Translated; caller unrefs.
 */
GPtrArray      *wb_craft_group_dup_weights (const WbDataset *data, const WbCraftGroup *group);
/* "Tern, 76 mm · Harbour mist 8 %". Caller frees. */
char           *wb_craft_group_dup_title (const WbDataset *data, const WbCraftGroup *group);

/*
 * Its chance of crossing a limit, told by `chance` as who prints it writes one (NULL: there is none), behind what was seen to
 * happen, a crack that no limit tells too, and with what it covers: "crossed; < 1 % (of what was read)". Translated; caller frees.
 */
char           *wb_craft_ranked_dup_crossing (const WbCraftRanked *ranked, const char *chance);
/* Samples of a combination that a recommendation asks for: the protocol's, or 3 where it states fewer or none. */
guint           wb_craft_ranking_get_samples_wanted (const WbProtocol *protocol);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbCraftRanking, wb_craft_ranking_free)

G_END_DECLS
