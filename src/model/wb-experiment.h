/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-material.h"

G_BEGIN_DECLS

/* Stages of a candle's life: thirds of the fill, from the top. */
typedef enum { WB_STAGE_UPPER, WB_STAGE_MIDDLE, WB_STAGE_LOWER, WB_N_STAGES, WB_STAGE_ALL = WB_N_STAGES } WbStage;

typedef enum
{
  WB_END_RESIDUE,    /* when end_residue_mm of wax is left */
  WB_END_SELF,       /* end of useful life: it goes out by itself */
  WB_END_BURNS       /* after a number of burns: a partial test */
} WbEndRule;

/* How an experiment is burnt. The house protocol is wb_protocol_new_house(). */
typedef struct
{
  WbRecord record;
  char    *name;
  double   burn_s;               /* length of a standard burn */
  double   interval_upper_s;     /* time between readings, by stage */
  double   interval_middle_s;
  double   interval_lower_s;
  double   last_inch_interval_s;
  double   stagger_s;            /* between one candle of a row and the next, lit or snuffed */
  double   trim_mm;
  double   cool_s;               /* at least this long between burns */
  double   room_low_c;
  double   room_high_c;
  double   window_low;           /* full melt pool is due within these multiples of one hour per inch */
  double   window_high;
  int      end_rule;             /* WbEndRule */
  double   end_residue_mm;
  gint64   end_burns;
  gint64   samples_wanted;       /* of a cell, before it can be recommended */
  double   stop_sure_pct;        /* chance of being near the best from which the search for the best may stop; NAN: as a recommendation asks */
  char    *ask_lighting;         /* names of reading fields, comma separated, in the order asked */
  char    *ask_round;
  char    *ask_before_snuffing;
  char    *ask_after_snuffing;
  char    *ask_next_day;
  char    *note;
} WbProtocol;

/* What a limit watches. */
typedef enum
{
  WB_LIMIT_FLAME,              /* highest flame, mm */
  WB_LIMIT_FLAME_HOUSE,        /* the maker's own, tighter */
  WB_LIMIT_VESSEL,             /* hottest outside wall, degC */
  WB_LIMIT_BASE,               /* outside base, degC */
  WB_LIMIT_SECONDARY_IGNITION, /* longest, s */
  WB_LIMIT_FLAME_ON_WALL,      /* longest, s */
  WB_LIMIT_FLAMES_MERGED,      /* longest, s */
  WB_LIMIT_AFTERGLOW,          /* mean after snuffing, s */
  WB_LIMIT_VESSEL_CRACK,       /* none */
  WB_LIMIT_TIPPED,             /* none */
  WB_LIMIT_SURFACE_DAMAGED,    /* none */
  WB_LIMIT_BLACK_SMOKE,        /* none */
  WB_N_LIMITS
} WbLimitKind;

typedef struct
{
  WbRecord record;
  gint64   protocol;
  int      kind;        /* WbLimitKind */
  double   ask_at;      /* a reading from here on is asked about; NAN: no such step */
  double   stop_at;     /* crossed when a reading is above it; events: when longer, 0 means that none is permitted at all */
  gboolean house;       /* the maker's own, no published figure */
  char    *source;
  gboolean off;
  char    *off_reason;
} WbLimit;

/* Figures that are judged, estimated and compared. */
typedef enum
{
  WB_FIGURE_FULL_POOL,     /* time to full melt pool, h (as an aim: multiple of one hour per inch) */
  WB_FIGURE_HANG_UP,       /* mm at the end of a burn */
  WB_FIGURE_DEPTH,         /* mm at the end */
  WB_FIGURE_FLAME,         /* mm at the end */
  WB_FIGURE_VESSEL,        /* degC at the end */
  WB_FIGURE_SOOT,          /* 0 to 4 */
  WB_FIGURE_MUSHROOM,      /* 0 to 2 */
  WB_FIGURE_THROW,         /* 1 to 5 */
  WB_FIGURE_POOL_LIMIT,    /* mm, the growth curve's D-infinity */
  WB_FIGURE_TAU,           /* h */
  WB_FIGURE_CONSUMPTION,   /* g/h */
  WB_FIGURE_POOL,          /* mm at the end of the burn */
  WB_FIGURE_SMOKE,         /* 0 to 2 */
  WB_FIGURE_SCORE,         /* 0 to 1 */
  WB_N_FIGURES
} WbFigure;

/* Key in JSON and on the command line ("full_pool_h", "depth_mm", "vessel_c", "consumption_g_per_h", ...); -1 if none has that key. */
const char *wb_figure_get_key   (WbFigure figure);
int         wb_figure_from_key  (const char *key);
const char *wb_figure_get_label (WbFigure figure); /* untranslated, N_()-marked: "Time to full melt pool" */
WbUnit      wb_figure_get_unit  (WbFigure figure); /* stored unit */

/* A score profile and its aims. The house profile is in wb_profile_new_house(). */
typedef struct
{
  WbRecord record;
  char    *name;
  char    *note;
} WbProfile;

typedef struct
{
  WbRecord record;
  gint64   profile;
  int      stage;       /* WbStage */
  int      figure;      /* WbFigure */
  double   zero_below;  /* desirability 0 up to here; NAN: no lower side */
  double   one_from;    /* 1 from here; NAN: no lower side */
  double   one_to;      /* 1 up to here; NAN: no upper side */
  double   zero_above;  /* 0 from here; NAN: no upper side */
  double   late_floor;  /* never below this on the upper side; 0: none */
  double   weight;
  gboolean worst;       /* judged at the worst reading, not the typical one */
} WbAim;

typedef struct
{
  WbRecord record;
  WbUuid   uuid;
  char    *code;              /* short, unique */
  char    *title;             /* the name in files, unique */
  char    *question;
  gint64   wax;
  gint64   dye;
  double   dye_pct;           /* of the wax */
  double   dye_drops_per_kg;  /* of the wax, where the dye is counted and not weighed */
  gint64   additive;
  double   additive_pct;      /* of the wax */
  gint64   protocol;
  gint64   profile;
  gint64   samples_per_cell;
  gint64   seed;
  gint64   repeats;           /* the experiment that it repeats with something changed; 0: none */
  gboolean closed;            /* its maker says that it is finished */
  gboolean imported;
  char    *note;
} WbExperiment;

typedef struct
{
  WbRecord record;
  gint64   experiment;
  gint64   vessel;
  gint64   wick;
  gint64   wick_count;        /* 1 to 12 */
  double   wick_spacing_mm;
  gint64   fragrance;         /* 0: the control */
  double   load_pct;
  int      load_basis;        /* WbBasis */
  gboolean left_out;          /* switched off in the grid */
  gint64   place;             /* from 1, in the order that its maker gave the grid; WB_INTEGER_NONE: by vessel, load, series and step */
} WbCell;

/* What the ranking said of a combination when it was chosen; as WbCraftVerdict. */
typedef enum
{
  WB_DECIDED_RECOMMENDED, WB_DECIDED_CANDIDATE, WB_DECIDED_REJECTED, WB_DECIDED_TOO_LITTLE_DATA
} WbDecidedVerdict;

/*
 * The maker's signature under a choice, one a scent. From `verdict` on it is what the answer said at the signature, so that it can
 * be seen later what it rested on, whatever was burnt since.
 */
typedef struct
{
  WbRecord  record;
  gint64    experiment;
  gint64    cell;
  char     *against;          /* why it is chosen though it crossed a limit or is not recommended; NULL: neither is so */
  char     *not_tested;
  char     *conditions;       /* under which it holds: trim, length of a burn, fill, cure, room, draught, lots */
  char     *rests_on;
  char     *crossed;          /* every crossing of the recipe that was known, a sentence a line; not its maker's to write. NULL: none */
  char     *holds_until;      /* which change ends it */
  char     *signed_by;
  WbInstant signed_at;
  char     *note;
  int       verdict;          /* WbDecidedVerdict; -1: not told */
  double    score;            /* 0 to 1, with its 90 % interval; NAN: not told */
  double    score_low;
  double    score_high;
  double    p_best;           /* chances, 0 to 1; NAN */
  double    p_near;
  double    p_cross;
  gint64    samples;          /* that counted; WB_INTEGER_NONE: not told */
  gint64    burns;
  gint64    answer_entry;     /* the newest entry that the answer rested on; WB_INTEGER_NONE: not told */
} WbDecision;

/*
 * What came of a change behind a decision: a new lot, a recipe's material that is another now, a sample that crossed a limit. Either a test confirms it, or its
 * maker says why none is needed.
 */
typedef struct
{
  WbRecord record;
  gint64   decision;
  gint64   changed;           /* the lot, or the material */
  gint64   changed_entry;     /* the version of it that this speaks of */
  gint64   experiment;        /* the test; 0: none is needed */
  char    *why;               /* and why not */
} WbConfirmation;

/* The notebook itself; exactly one. */
typedef struct
{
  WbRecord record;
  WbUuid   uuid;
  char    *title;
  gboolean invented;          /* every screen, report and export says "invented data" */
  int      paper;             /* 0 A4, 1 Letter */
  gboolean us_units;          /* inches, ounces, °F on screens and in reports */
  char    *maker;             /* letterhead: name */
  char    *address;           /* letterhead: further lines */
  double   bench_places;
  double   bench_columns;     /* places in a row; NAN: as many as fit */
  char    *evenings;          /* days of the week on which there is time for a session: "mon tue fri" (wb-evenings.h); NULL: not said */
  char    *evenings_out;      /* single evenings and ranges of them without time (wb-evenings-out.h); NULL: none */
  gint64   evening_begins_min; /* minutes after midnight, local time */
  gboolean keeps_stock;       /* amounts and prices are asked and told */
  char    *currency;          /* as the maker writes it; NULL: none */
} WbNotebook;

extern const WbRecordType wb_protocol_type, wb_limit_type, wb_profile_type, wb_aim_type,
  wb_experiment_type, wb_cell_type, wb_decision_type, wb_confirmation_type, wb_notebook_type;

/* The house protocol: 4 h, hourly, trim 6 mm, window 0.75 to 1.25, limits as published or as the house sets them. */
WbProtocol *wb_protocol_new_house (void);
/* Rounds of readings between lighting and the one before snuffing, by the interval of the upper third: 1 to 12, as many as a sheet of
 * paper has. */
guint       wb_protocol_count_rounds (const WbProtocol *self);
/* Its limits (WbLimit), with sources; protocol ids left 0. */
GPtrArray  *wb_limits_new_house   (void);
WbProfile  *wb_profile_new_house  (void);
/* Its aims (WbAim) for all three stages; profile ids left 0. */
GPtrArray  *wb_aims_new_house     (void);

const char *wb_stage_get_key   (WbStage stage);  /* "upper", "middle", "lower", "all" */
const char *wb_stage_get_label (WbStage stage);  /* N_()-marked: "upper third" */
/* "flame" and so on, as in JSON; N_()-marked for people; the unit of its values. Static. */
const char *wb_limit_kind_get_key   (WbLimitKind kind);
const char *wb_limit_kind_get_label (WbLimitKind kind);
WbUnit      wb_limit_kind_get_unit  (WbLimitKind kind);

G_END_DECLS
