/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-answer.h"

G_BEGIN_DECLS

/*
 * What to burn next while a test runs: of each vessel and scent which wicks the next burns should go to, which cannot win any
 * more, when the search may stop and what is missing then, and of each wick whether to carry on or to take another size or
 * series. A function of the answer that stands: nothing is scored again.
 */

/* Whether it is still in the running. */
typedef enum
{
  WB_CRAFT_RUNNING_OPEN,
  WB_CRAFT_RUNNING_RESTING,        /* behind so far, but nothing was read yet in the third that decides: what is read there may bring it back */
  WB_CRAFT_RUNNING_CROSSED,        /* a sample crossed a limit, or its vessel cracked */
  WB_CRAFT_RUNNING_ABOVE_CROSSED,  /* a smaller size of its series crossed a limit of heat in this vessel and scent */
  WB_CRAFT_RUNNING_BEHIND,         /* its chance of being the best is below WB_CRAFT_ADVICE_CANNOT_WIN, to the end of the candle */
  WB_CRAFT_RUNNING_LEFT_OUT        /* its maker left it out of the test after it was burnt */
} WbCraftRunning;
const char *wb_craft_running_get_key (WbCraftRunning running); /* "open", "resting", "crossed", "above_crossed", "behind", "left_out" */

#define WB_CRAFT_ADVICE_CANNOT_WIN 0.02

typedef enum
{
  WB_CRAFT_SIZE_CARRY_ON,
  WB_CRAFT_SIZE_UP,
  WB_CRAFT_SIZE_DOWN,
  WB_CRAFT_SIZE_CHANGE_SERIES
} WbCraftSize;
const char *wb_craft_size_get_key   (WbCraftSize size); /* "carry_on", "size_up", "size_down", "change_series" */
const char *wb_craft_size_get_label (WbCraftSize size); /* translated: "carry on", "one size up", ... */

/* What of the readings asks for another size; common practice, no source. */
typedef enum
{
  /* a larger one */
  WB_CRAFT_SIGN_HANG_UP,      /* all round, not cleaned up by mid-life */
  WB_CRAFT_SIGN_SMALL_FLAME,
  WB_CRAFT_SIGN_STARVING,
  WB_CRAFT_SIGN_DROWNED,
  WB_CRAFT_SIGN_WENT_OUT,
  WB_CRAFT_SIGN_NO_FULL_POOL, /* not in time */
  /* a smaller one */
  WB_CRAFT_SIGN_CROSSED,      /* a limit of heat */
  WB_CRAFT_SIGN_TALL_FLAME,
  WB_CRAFT_SIGN_SOOT,
  WB_CRAFT_SIGN_CARBON_CAP,
  WB_CRAFT_SIGN_DEEP_POOL,
  WB_CRAFT_SIGN_HOT_VESSEL,
  WB_CRAFT_SIGN_EARLY_POOL,   /* full far too early */
  WB_CRAFT_N_SIGNS
} WbCraftSignKind;
const char *wb_craft_sign_get_key (WbCraftSignKind kind); /* "hang_up", ... */

typedef struct
{
  WbCraftSignKind kind;
  gboolean up;         /* asks for a larger wick, else for a smaller one */
  gboolean speaks;     /* FALSE: seen, but alone no reason for another size: of the first burn only, or once, or a cap without debris */
  gboolean often;      /* in a third of the burns of one third of the candle at least, and in two */
  guint    burns, of;  /* in so many of so many burns that could show it */
  guint    sample, burn; /* where it was worst; indices of the data set */
  gint64   reading;    /* id of that reading; 0: none stands for it */
  double   elapsed_min;
  double   value;      /* in the figure's stored unit; a full pool: h; NAN: it was seen, not measured */
  char    *text;       /* translated: "hang-up of 5 mm all round after burn 6 of sample 14-2" */
} WbCraftSign;

/* What the candles of a combination that count wait for at the moment of the advice. */
typedef struct
{
  guint     planned;    /* not poured yet */
  guint     curing, cooling;
  guint     ready;      /* may be lit now */
  guint     alight;
  guint     done;       /* burnt to the stated end, or kept as they are */
  WbInstant cured_at, cooled_at; /* when the first of those is fit to light; unknown: none of them waits */
} WbCraftAdvisedCandles;

/* Where a combination stands, in one word that agrees with all that is advised of it: of several that hold, the first. */
typedef enum
{
  WB_CRAFT_ROW_FINISHED,     /* the experiment is */
  WB_CRAFT_ROW_CROSSED,
  WB_CRAFT_ROW_BURNS_NOW,
  WB_CRAFT_ROW_LEFT_OUT,
  WB_CRAFT_ROW_CANNOT_WIN,
  WB_CRAFT_ROW_BURNT_DOWN,   /* it rests or may be lit, but no candle of it is left */
  WB_CRAFT_ROW_RESTS,
  WB_CRAFT_ROW_NOT_ENOUGH,   /* the search is over, and none of them is good enough */
  WB_CRAFT_ROW_BEST,         /* the search is over, it was found, and what a recommendation asks for was burnt */
  WB_CRAFT_ROW_BURN_DOWN,    /* it was found, and has burns left */
  WB_CRAFT_ROW_POUR_MORE,
  WB_CRAFT_ROW_NOT_NEEDED,   /* the search is over, and another was found that is as good or better */
  WB_CRAFT_ROW_LIGHT,
  WB_CRAFT_ROW_LATER,        /* it may be lit, but has none of the next ten burns */
  WB_CRAFT_ROW_COOLS,
  WB_CRAFT_ROW_CURES,
  WB_CRAFT_ROW_POUR_FIRST,   /* all that is left of it is planned */
  WB_CRAFT_N_ROWS
} WbCraftRow;
const char *wb_craft_row_get_key   (WbCraftRow row); /* "finished", "crossed", "burns_now", ... */
const char *wb_craft_row_get_label (WbCraftRow row); /* translated: "light next", "cannot win", ... */

#define WB_CRAFT_ADVICE_TEN 10 /* the next burns that are shared out whole */

/* Of one cell. */
typedef struct
{
  guint          cell;
  WbCraftRunning running;
  WbCraftRow     row;
  WbCraftAdvisedCandles candles;
  char          *why;        /* translated sentence: why it cannot win, or rests; NULL: it is open */
  double         share;      /* of the group's next burns, 0 to 1 */
  guint          in_ten;     /* of the group's next ten, whole: they add up to ten while anything is to be burnt (largest remainders) */
  char          *why_share;  /* translated sentence: why it has that share; NULL: it has none */
  gboolean       unread;     /* in the running, and not read yet in the stage that decides */
  guint          burn_on;    /* candles of it that were poured, have burns left and should have them next */
  guint          pour;       /* further candles to pour beside those planned, 0: none is advised */
  WbCraftSize    size;
  double         p_hot;      /* chance that the next candle one size up crosses a limit; NAN: not told, or not asked */
  gint64         next_wick;  /* the size that is advised: record id of a WbWick; 0: none is known, or none is advised */
  char          *next_name;  /* "S-4"; NULL: none */
  gboolean       next_tested; /* it is itself in this test */
  GPtrArray     *signs;      /* WbCraftSign: those that speak first */
  GPtrArray     *reasons;    /* char *: translated sentences on its size */
} WbCraftAdvised;

typedef struct
{
  guint           group;      /* index in the ranking */
  WbCraftAdvised *cells;      /* in the ranking's order */
  guint           n_cells;
  gboolean        begun;      /* something of it was burnt */
  gboolean        finished;   /* the experiment is: nothing of it is burnt any more */
  guint           decided;    /* the data set's cell that was signed for; G_MAXUINT: none was */
  gboolean        over;       /* the search may stop; burning the chosen one down goes on */
  gboolean        poor;       /* the search is over, and even the best of them does poorly (WB_CRAFT_SCORE_POOR): none is good enough */
  guint           leader;     /* index in cells; G_MAXUINT: nothing leads */
  GPtrArray      *missing;    /* char *: what the leader is still to be burnt for before it can be recommended, translated; empty: nothing */
  WbCraftSize     all;        /* UP, DOWN: every wick of it asks for that; else CARRY_ON */
  gint64          outside;    /* the size outside of the test that this names, or that is to be tested instead where none is good enough: id of a WbWick; 0: none */
  char           *outside_name; /* NULL: none */
  char           *answer;     /* translated: what to burn next in one or two sentences, and which size of a series is right by its own pools, where they tell */
  char           *pools;      /* translated: the readings on which that size rests; NULL: it is not told */
  char           *line;       /* translated: the same in one line for the bench, "Next: light S-3 and S-4; S-1 cannot win any more." */
} WbCraftAdviceGroup;

typedef struct
{
  double              near_enough; /* p_near from which the search may stop */
  WbCraftAdviceGroup *groups;      /* one each group of the ranking */
  guint               n_groups;
} WbCraftAdvice;

/* What all earlier tests foretell of a size that a cell's would be followed by, in that cell's recipe. */
typedef struct
{
  guint  cell;
  gint64 wick;     /* record id of a WbWick */
  double p_cross;  /* that its next candle crosses a limit */
} WbCraftForetoldSize;

/*
 * wicks: every WbWick known, in which sizes outside of the test are looked for; NULL: the data set's alone. near_enough: 0.5 to
 * 1; 0: what the protocol states, or what a recommendation asks for (WB_CRAFT_NEAR_ENOUGH). foretold: WbCraftForetoldSize, of sizes outside of the test: one
 * that they tell as likely to cross a limit is not advised, whatever the test's own line says; NULL: none. now: by which it is told what
 * cures, cools or may be lit; unknown: whatever was poured may be. `ranking` must be of these data, figures, limits and estimates.
 */
WbCraftAdvice *wb_craft_advice_new  (const WbDataset *data, const WbCraftFigures *figures, const WbCraftLimits *limits,
                                     const WbCraftEstimates *estimates, const WbCraftRanking *ranking, const GPtrArray *wicks,
                                     double near_enough, const GArray *foretold, WbInstant now);
void           wb_craft_advice_free (WbCraftAdvice *self);
/* "carry on", "one size up: S-4": in few words; "" where it is asked of nobody: of what is not burnt on as it is. Caller frees. */
char          *wb_craft_advised_dup_size_words (const WbCraftAdvised *advised);
/* "cures until 9 Dec 2026": its row's label, with the date where there is one. Caller frees. */
char          *wb_craft_advised_dup_row_words (const WbCraftAdvised *advised);
/* "4 of the next 10 burns", "no more burns"; "" where nothing is to be shared out. Caller frees. */
char          *wb_craft_advised_dup_share_words (const WbCraftAdvised *advised);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbCraftAdvice, wb_craft_advice_free)

G_END_DECLS
