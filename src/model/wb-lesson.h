/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-reading.h"

G_BEGIN_DECLS

/*
 * What one experiment taught, kept beside the record: a summary of each combination, from which the wick ladder of the next
 * vessel is foretold without going through its readings again. It is derived: it can be made anew at any time, and no hash covers it.
 * craft makes it (wb-craft-lesson.h), store keeps it (wb-store-lessons.h), app says when it is out of date.
 */

typedef enum { WB_LESSON_LOOK_END, WB_LESSON_LOOK_WORST, WB_LESSON_LOOK_PEAK, WB_LESSON_N_LOOKS } WbLessonLook; /* the end of each burn; the worst of each; the worst of all, one a candle */

/*
 * A figure of a cell at a stage, only where it was read there. Of the growth curve, figure WB_FIGURE_POOL_LIMIT: mean is ln D∞ and pace
 * ln tau; else on the figure's scale (craft's: logarithms of lengths, of consumption and of the vessel's rise over the room; hang-up and
 * ratings plain). END is there of every figure; WORST of depth, flame and vessel and PEAK of flame and vessel, both less what the
 * reader's error adds to the highest of several, as the score has them.
 */
typedef struct
{
  guint    cell;             /* index in the lesson's cells */
  WbFigure figure;
  WbStage  stage;            /* in which it was read; where a log does not tell, the upper third */
  WbLessonLook   look;
  gint     status;           /* of the curve: WbCraftFitStatus; else 0 */
  guint    samples, burns;   /* with a value */
  double   mean, variance;   /* NAN: not known (pools at the wall whenever read) */
  double   pace, pace_variance, covariance; /* of the curve; else NAN */
  double   df;               /* of the mean's variance; INFINITY where it is known */
  double   pace_df;          /* of the curve; else NAN */
  double   exponent;         /* of the curve's law, common to the experiment, 1 unless bent; else NAN */
  double   sample_sd, burn_sd; /* between candles of a recipe, between burns of a candle; the experiment's, not the cell's alone; NAN */
  double   offset;           /* added after going back from the scale: the mean room of the vessel's rise */
  double   at_wall_h, short_h; /* of the curve: first seen at the wall, mean over the burns that came there, and the last reading short of it before (0: none); NAN */
} WbLessonFigure;

/* A combination with a burn that counts and is over, or that crossed a limit. */
typedef struct
{
  gint64   cell;             /* record ids */
  gint64   wick, vessel, wax, fragrance, dye; /* 0: none */
  char    *series, *size;    /* as of then */
  gint64   step;             /* WB_INTEGER_NONE: not known; nothing is learnt from it */
  char    *vessel_name;
  char    *wax_name;         /* NULL: none was stated */
  char    *scent;            /* name of the fragrance; NULL: none, or one without a name where load_pct is above 0 */
  int      wall;             /* WbWall, of what its wall is made; -1: nobody said */
  double   inner_mm;         /* at the wax level; of a vessel that is not round the wider axis */
  double   load_pct;         /* of the wax; NAN: not known */
  double   stated_pct;       /* as it was stated, of what basis says */
  int      basis;            /* WbBasis; -1: not said */
  guint    wicks;
  double   headspace_mm;     /* NAN: not known */
  double   room_c;           /* mean over its burns; NAN */
  guint    samples, burns;   /* that count and are over */
  double   reach;            /* deepest share of the fill that was burnt and read, 0 to 1; NAN: not known */
  gboolean crossed;          /* a limit, by a sample that counts */
  gboolean crossed_heat;     /* one of heat: flame, vessel, base, fire, crack, damaged surface, black smoke */
  gboolean uncleared;        /* a limit, but only by a sample that was set aside: it fails nothing and clears nothing */
  gboolean cracked;          /* its vessel cracked, and no limit tells it */
  int      crossed_limit;    /* WbLimitKind of the worst crossing by a sample that counts, one of heat before others; -1: none */
  double   crossed_at;       /* what was read there, stored unit; of what was only seen 1; NAN */
  double   crossed_stop;
  gboolean crossed_house;    /* that limit is the maker's own */
  gboolean crossed_logged;   /* a logger's file says so */
  double   crossed_min;      /* minute of the burn; NAN */
  gint64   crossed_burn;     /* its number; 0 */
  char    *crossed_sample;   /* its code; NULL */
} WbLessonCell;

typedef struct
{
  gint64   experiment;
  char    *code;
  gint64   protocol;         /* record id; its limits */
  gint64   last_entry;       /* newest entry of the experiment that it rests on */
  gint64   shared_entry;     /* newest entry of the materials and of the protocol, with its limits, that it rests on; who keeps it says so */
  guint    version;          /* of what made it */
  double   flame_stop, vessel_stop; /* tightest stops of its limits; NAN: none */
  GArray  *cells;            /* WbLessonCell, cleared with the array */
  GArray  *figures;          /* WbLessonFigure, by cell, figure, stage and look */
} WbLesson;

WbLesson *wb_lesson_new  (void);
WbLesson *wb_lesson_copy (const WbLesson *self);
void      wb_lesson_free (WbLesson *self);
/* Bit for bit, NAN like NAN. */
gboolean  wb_lesson_equal (const WbLesson *a, const WbLesson *b);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbLesson, wb_lesson_free)

G_END_DECLS
