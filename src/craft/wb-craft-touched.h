/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-lot-part.h"

G_BEGIN_DECLS

/*
 * Which changes touch a decision: any change of wax lot, wick lot, vessel, fragrance or dye asks for a test of its own (ASTM
 * F2417-23, App. X4). A change is a lot that is neither among the lots of the samples that were burnt before it was signed nor used
 * up: one that came into the notebook afterwards reopens the decision; one that lay there already was never approved by it, and the
 * decision stands for the lots that were burnt alone. A change is a material of its recipe of which something is another that matters to the candle; a blend
 * that is mixed otherwise; a material that was deleted. What was not known before and is now filled in is no change, nor are
 * names, notes, suppliers, and limits of a load. And a candle of the recipe that crossed a limit since, in any experiment, by any
 * kind of burn, set aside or not, is the plainest of them; so is a limit that was tightened since, by which a burn crosses it that
 * kept it before.
 */

/* Such a crossing: the newest that was recorded after the signature, of one sample. */
typedef struct
{
  gint64 decision;
  gint64 sample;
  gint64 entry;      /* that recorded it, or amended the reading to it */
  gboolean by_limit; /* what was read was known: it is the limit that was set lower or turned on; FALSE unless its maker says so */
  char  *experiment; /* code of its experiment */
  char  *text;       /* as of WbCraftCrossed */
} WbCraftCrossedSince;

/* Copies the texts. */
WbCraftCrossedSince *wb_craft_crossed_since_new (gint64 decision, gint64 sample, gint64 entry, const char *experiment, const char *text);

/* The versions of some records, each a GPtrArray of one record's, oldest first, deleted ones too, with id and entry set. */
typedef struct
{
  GPtrArray *materials;     /* vessels, waxes, wicks, fragrances (a blend's parts too), dyes, additives */
  GPtrArray *lots;          /* WbLot */
  GPtrArray *parts;         /* WbFragrancePart */
  GPtrArray *confirmations; /* WbConfirmation as they are now */
  GPtrArray *crossed;       /* WbCraftCrossedSince, of any decision */
} WbCraftShelf;

WbCraftShelf *wb_craft_shelf_new  (void);
/* NULL is let pass. */
void          wb_craft_shelf_free (WbCraftShelf *self);

typedef enum
{
  WB_CRAFT_TOUCHED_LOT, WB_CRAFT_TOUCHED_MATERIAL, WB_CRAFT_TOUCHED_BLEND, WB_CRAFT_TOUCHED_DELETED, WB_CRAFT_TOUCHED_CROSSED,
  WB_CRAFT_TOUCHED_REPLACED, /* a newer decision for the same vessel, wax and scent took its place */
  WB_CRAFT_TOUCHED_NOT_BURNT /* a lot that was in the notebook when it was signed, and was not burnt */
} WbCraftTouchedKind;

/* What came of it: nothing yet, a confirmation test, or a reason why none is needed. */
typedef enum { WB_CRAFT_TOUCHED_OPEN, WB_CRAFT_TOUCHED_TESTED, WB_CRAFT_TOUCHED_EXPLAINED } WbCraftTouchedState;

typedef struct
{
  WbCraftTouchedKind  kind;
  gint64              decision;      /* its id */
  gint64              changed;       /* the lot, the material, or the sample that crossed a limit */
  gint64              changed_entry; /* the entry that changed it: what a WbConfirmation has to speak of */
  char               *what;          /* translated: "Wax lot W-112 of Dunmarl soft is new" */
  char               *text;          /* translated, a sentence: "...: the decision for FC-1 rests on W-107." */
  WbCraftTouchedState state;
  gint64              test;          /* the experiment that confirms it; 0: none */
  char               *why;           /* why none is needed; NULL */
  /* of a lot */
  gint64              part;          /* the material of the recipe that it would go into: the lot's own, or the blend of it */
  char               *lot;           /* its code; NULL: the change is none of a lot */
  char               *burnt;         /* the lots of that material that were burnt: "W-107"; NULL: none is told */
} WbCraftTouched;

/*
 * decision: of the data set; signed_entry: the entry in which it was signed. WbCraftTouched, crossings before all else, then in
 * the order of the recipe (vessel, wax, wick, fragrance, dye, additive); empty: it stands as it was signed. Caller frees.
 */
GPtrArray *wb_craft_touched_new (const WbDataset *data, const WbDecision *decision, gint64 signed_entry, const WbCraftShelf *shelf);

/* That a newer decision took the place of that one: in the experiment of that code. */
WbCraftTouched *wb_craft_touched_replaced_new (const WbDecision *decision, const char *experiment, WbInstant signed_at);

/* How a decision stands, by what changed behind it. */
typedef enum
{
  WB_CRAFT_STANDING_STANDS,   /* nothing changed behind it, or its maker said why no test is needed */
  WB_CRAFT_STANDING_IN_PART,  /* for the lots that were burnt: another lies there untested */
  WB_CRAFT_STANDING_REOPENED, /* something changed, and nothing came of it */
  WB_CRAFT_STANDING_IN_TEST,  /* a confirmation test is planned or burnt, and it was not signed anew */
  WB_CRAFT_STANDING_REPLACED
} WbCraftStanding;

/* Whether that lot is one that the decision does not cover: not burnt, and nobody said why it needs no test. */
gboolean        wb_craft_touched_is_uncovered (const WbCraftTouched *self);
/* Whether it is so because nobody noted which lots were burnt: told once for all of them. */
gboolean        wb_craft_touched_is_untold (const WbCraftTouched *self);
/* Their codes: "W-112, K-42"; NULL: there are none. As below. Caller frees. */
char           *wb_craft_touched_dup_untold (const GPtrArray *changes, gint64 decision);
/* changes: WbCraftTouched, of any decision; NULL: none. decision: its id. */
WbCraftStanding wb_craft_touched_get_standing (const GPtrArray *changes, gint64 decision);
/* "It stands as it was signed ...", "Reopened: ..." with what reopened it; translated. Caller frees. */
char           *wb_craft_touched_dup_standing (const GPtrArray *changes, gint64 decision);

/* Whether a field of a material can change the candle. */
gboolean   wb_craft_touched_is_matter (const WbFieldSpec *field);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbCraftShelf, wb_craft_shelf_free)

G_END_DECLS
