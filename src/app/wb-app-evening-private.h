/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-bench-private.h"
#include "wb-app-evening.h"

G_BEGIN_DECLS

/* ---- A cell's text ---- */

/* "19:30", "7.05", "1930"; FALSE: no time of day. */
gboolean  wb_app_evening_read_clock   (const char *text, int *hour, int *minute);
/* The day of a sheet, as wb_day_read() takes it, from today. */
gboolean  wb_app_evening_read_day     (const char *text, WbDay *day);
/* What is wanted as the time of a moment; translated, a sentence. */
const char *wb_app_evening_get_time_rule (guint moment);
/* "62", "62 min", "1 h 2 min": minutes since lighting. */
gboolean  wb_app_evening_read_minutes (const char *text, double *minutes);
/*
 * The first instant at which a clock shows that time, from the minute of `after` on (strictly later, where `later`); of a
 * time that comes twice, at the end of summer time, the one that is not past.
 */
WbInstant wb_app_evening_resolve      (int hour, int minute, WbInstant after, gboolean later);
/*
 * Reads a field into its place, or its places, in `values`; FALSE: *problem says why not, in a sentence (caller frees).
 * Not empty. inner_mm of the vessel.
 */
gboolean  wb_app_evening_read_field   (WbColumn column, const char *text, gboolean us_units, double inner_mm, double values[WB_N_COLUMNS],
                                       char **problem);
/* As it would be typed; NULL: not taken. Caller frees. */
char     *wb_app_evening_dup_field    (WbColumn column, const double values[WB_N_COLUMNS], gboolean us_units);
gboolean  wb_app_evening_read_length  (const char *text, gboolean us_units, double minimum_mm, double maximum_mm, double *mm, char **problem);
gboolean  wb_app_evening_is_pool      (WbColumn column);

/* ---- Several wicks ---- */

/* Flame, highest flame, flame state, mushroom and what happened. */
#define WB_N_APP_EVENING_OF_WICK 5

/* What is read at each wick of a vessel of several; NAN where not taken. */
typedef struct
{
  double values[WB_MOST_WICKS][WB_N_APP_EVENING_OF_WICK];
} WbAppEveningWicks;

void      wb_app_evening_wicks_clear (WbAppEveningWicks *wicks);
/* wick from 1. NAN for a column that is the vessel's. */
double    wb_app_evening_wicks_get   (const WbAppEveningWicks *wicks, guint wick, WbColumn column);
void      wb_app_evening_wicks_set   (WbAppEveningWicks *wicks, guint wick, WbColumn column, double value);
/* A wick's values as those of a reading, with its number; FALSE: nothing was read there. */
gboolean  wb_app_evening_wicks_fill  (const WbAppEveningWicks *wicks, guint wick, double values[WB_N_COLUMNS]);
/* "21/23", "21; 23", "-/23": one a wick, none left out. FALSE: *problem says why not, in a sentence (caller frees). */
gboolean  wb_app_evening_read_wicks  (WbColumn column, const char *text, gboolean us_units, guint n_wicks, WbAppEveningWicks *wicks, char **problem);
/* As it would be typed; NULL: at none taken. Caller frees. */
char     *wb_app_evening_dup_wicks   (WbColumn column, const WbAppEveningWicks *wicks, gboolean us_units, guint n_wicks);

/* ---- A row ---- */

/* A sample at one moment. */
typedef struct
{
  WbInstant at;                     /* unknown: nobody looked, or it is not said when */
  double    minute;                 /* after lighting; NAN */
  gboolean  stored;                 /* the record has a look then */
  double    in_record[WB_N_COLUMNS];
  gboolean  taken;                  /* there is something new */
  double    values[WB_N_COLUMNS];   /* what is new */
  WbAppEveningWicks wicks_in_record; /* of a vessel of several the same at each */
  WbAppEveningWicks wicks;
  guint     time_column;
} WbAppEveningLook;

typedef struct
{
  WbAppBenchSample *sample;    /* owned */
  char             *group;     /* of its texts */
  GStringChunk     *words;     /* of its cells; borrowed, until it is checked anew */
  WbAppEveningCell *cells;     /* by column */
  gboolean          typed;     /* something stands in a cell of its own */
  gboolean          unlit;     /* it was left cold that evening, a dash says where its lighting would stand */
  guint             burn;      /* of that evening, in the record; G_MAXUINT: none */
  gboolean          ended;     /* and its end is there */
  double            end_event; /* which, where it is told; NAN */
  WbInstant         lit_at;    /* as recorded or typed */
  double            trim_mm;   /* new; NAN */
  int               kind;      /* WbBurnKind of a new burn */
  char             *place;     /* new; NULL */
  char             *rater;     /* new; NULL */
  const char       *rater_in_record; /* of the throw; NULL */
  char             *deviation; /* of a new burn that was not to be: a sentence; NULL */
  WbAppEveningLook *looks;     /* by moment */
} WbAppEveningRow;

/* The evening as its heads say. */
typedef struct
{
  WbInstant opened_at;  /* unknown: not told, or wrong */
  double    room_c;     /* NAN: not told */
} WbAppEveningFrame;

/* What a row is checked with; texts by key, see wb_app_evening_dup_key. */
typedef struct
{
  WbAppEvening            *evening;
  const WbAppEveningFrame *frame;
  WbInstant                now;
} WbAppEveningCheck;

/* A column that is read at each wick of the row's vessel. */
gboolean    wb_app_evening_is_by_wick (const WbAppEveningRow *row, WbColumn column);
/* Where something would stand that was not taken: nothing, or a dash. */
gboolean    wb_app_evening_is_left_out (const char *text);
/* A row that is newly typed, or of which the record has the evening. */
gboolean    wb_app_evening_row_is_of_it (const WbAppEveningRow *row);
/* The burn that the record has of it; NULL: none. */
const WbBurn *wb_app_evening_row_get_burn (const WbAppEveningRow *row);
/* Of a row; ALL: what stands in the head of the column. */
const char *wb_app_evening_peek_text (WbAppEvening *self, const WbAppEveningRow *row, guint column);
/* Wrong: the first words stay. Takes the words. */
void        wb_app_evening_refuse    (WbAppEveningRow *row, guint column, char *words);
/* Finds the evening's burn in the record, reads and holds against it what is typed: fills all of the row but sample and group. */
void        wb_app_evening_row_check (WbAppEveningRow *row, const WbAppEveningCheck *check);
/* What the record has of it. */
void        wb_app_evening_row_find  (WbAppEveningRow *row, const WbAppEveningCheck *check);
/* When each look was. */
void        wb_app_evening_row_times (WbAppEveningRow *row, const WbAppEveningCheck *check);
/* What can hardly be. */
void        wb_app_evening_row_doubt (WbAppEveningRow *row, WbAppEvening *evening);

/* ---- Throw burns ---- */

gboolean    wb_app_evening_row_is_throw (const WbAppEveningRow *row);
/* What a throw burn needs, and what only one is asked. */
void        wb_app_evening_row_check_throw (WbAppEveningRow *row, const WbAppEveningCheck *check);
/* What its lighting spoilt, by the other rows, all checked before: appended to the deviation. */
void        wb_app_evening_row_crowd     (WbAppEveningRow *row, WbAppEvening *evening);
/* What nobody types with each rating: room, distance, blindness, rater, whether it burnt alone. */
void        wb_app_evening_complete_throw (WbAppEvening *self, const WbAppEveningRow *row, const WbAppEveningLook *look, WbReading *reading);

/* ---- The object ---- */

struct _WbAppEvening
{
  GObject           parent_instance;

  /* owned */
  WbAppBench       *bench;
  GKeyFile         *texts;
  GPtrArray        *rows;    /* WbAppEveningRow */
  GArray           *moments; /* WbAppEveningMoment */
  GArray           *columns; /* WbAppEveningColumn */
  GArray           *all;     /* WbAppEveningCell, by column: times of all samples */
  GStringChunk     *words;
  GHashTable       *borrowed; /* texts that were lent: key -> text */
  char             *kept_as;  /* file of the draft; NULL: none */

  /* state */
  gint64            experiment;
  gint64            seen;     /* entry of the record that was looked through last */
  guint             rounds;
  gboolean          throws;   /* a row is a throw burn, or something stands where only one is asked */
  WbAppEveningFrame frame;
  const char       *problems[WB_N_APP_EVENING_HEADS];
  gboolean          unkept;
};

/* Moments and columns anew, for that many rounds. */
void      wb_app_evening_lay_out  (WbAppEvening *self);
/* "round-2.pool_mm"; caller frees. */
char     *wb_app_evening_dup_key  (WbAppEvening *self, guint column);
/* FALSE: it stood there already. */
gboolean  wb_app_evening_put_text (WbAppEvening *self, const char *group, const char *key, const char *text);
/* The day of the last evening and who types, as of a new sheet. */
void      wb_app_evening_set_last (WbAppEvening *self);
/* Looks all through and says so. */
void      wb_app_evening_changed  (WbAppEvening *self);

const WbAppEveningFrame *wb_app_evening_get_frame (WbAppEvening *self);
const WbAppEveningRow   *wb_app_evening_get_row   (WbAppEvening *self, guint row);
/* Reads what stands in the way of saving anew. */
void                     wb_app_evening_check     (WbAppEvening *self);
WbAppBench              *wb_app_evening_get_bench (WbAppEvening *self);

/* Session, burns and readings that Save writes, see wb_app_notebook_save_async. Caller frees. counts: how many. */
GPtrArray *wb_app_evening_dup_records (WbAppEvening *self, guint *burns, guint *readings);

/* ---- Draft ---- */

/* Texts as typed: what is above the sheet stands in this group, times of all samples in the next, else a group a sample. */
#define WB_APP_EVENING_HEAD_GROUP "evening"
#define WB_APP_EVENING_TIME_GROUP "times"
#define WB_APP_EVENING_ROUNDS_KEY "rounds"

G_END_DECLS
