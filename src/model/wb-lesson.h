/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-reading.h"

G_BEGIN_DECLS

/*
 * What one experiment taught, kept beside the record: a summary of each combination, from which the wick ladder of the next
 * vessel is foretold without going through its readings again. It is derived: it can be made anew at any time, and no hash covers it. craft makes it
 * (wb-craft-lesson.h), store keeps it, app says when it is out of date.
 */

typedef enum { WB_LOOK_END, WB_LOOK_WORST, WB_LOOK_PEAK, WB_N_LOOKS } WbLook; /* the end of each burn; the worst of each; the worst of all, one a candle */

/* A figure of a cell at a stage. Of the growth curve, figure WB_FIGURE_POOL_LIMIT: mean is ln D∞ and pace ln tau; else on the figure's scale. */
typedef struct
{
  guint    cell;             /* index in the lesson */
  WbFigure figure;
  WbStage  stage;            /* in which it was read; where a log does not tell, the upper third */
  WbLook   look;
  gint     status;           /* of the curve: WbCraftFitStatus; else 0 */
  guint    samples, burns;   /* with a value */
  double   mean, variance;   /* NAN: not known (pools at the wall whenever read) */
  double   pace, pace_variance, covariance; /* of the curve; else NAN */
  double   df;
  double   sample_sd, burn_sd;
  double   offset;           /* added after going back from the scale */
  double   at_wall_h, short_h; /* of the curve: first seen at the wall, and the last reading short of it before; NAN */
} WbLessonFigure;

typedef struct
{
  gint64   cell;             /* record ids */
  gint64   wick, vessel, wax, fragrance, dye; /* 0: none */
  char    *series, *size;    /* as of then */
  gint64   step;             /* WB_INTEGER_NONE: not known; nothing is learnt from it */
  char    *wax_name, *scent; /* scent: fragrance and load as words, untranslated name */
  double   inner_mm;         /* at the wax level */
  double   load_pct;         /* of the wax */
  guint    wicks;
  double   headspace_mm;     /* NAN: not known */
  double   room_c;           /* mean over its burns; NAN */
  guint    samples, burns;   /* that count and are over */
  double   reach;            /* deepest share of the fill that was burnt and read, 0 to 1; NAN: not known */
  gboolean crossed;          /* a limit, by a sample that counts */
  gboolean crossed_heat;     /* one of heat: flame, vessel, fire, crack, black smoke */
  int      crossed_limit;    /* WbLimitKind of the worst such crossing, one of heat before others; -1: none */
  double   crossed_at;       /* what was read there, stored unit; NAN: seen, not measured */
  double   crossed_stop;
  char    *crossed_sample;   /* its code; NULL */
  gint64   crossed_burn;     /* its number; 0 */
  double   score, p_nothing; /* expected score by its own burns, and the chance that it scores next to nothing; NAN: not scored */
  char    *fault;            /* figure and stage keys of what costs most, "soot lower", where it mostly scores next to nothing; else NULL */
} WbLessonCell;

typedef struct
{
  gint64   experiment;
  char    *code;
  gint64   last_entry;       /* newest entry that it rests on */
  guint    version;          /* of what made it */
  double   flame_stop, vessel_stop; /* tightest stops of its limits; NAN: none */
  GArray  *cells;            /* WbLessonCell, cleared with the array */
  GArray  *figures;          /* WbLessonFigure */
} WbLesson;

WbLesson *wb_lesson_new  (void);
void      wb_lesson_free (WbLesson *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbLesson, wb_lesson_free)

G_END_DECLS
