/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-sample.h"

G_BEGIN_DECLS

/* What is seen of a burn at one moment. Column names are those of the burn-log CSV. */
typedef enum
{
  WB_COLUMN_ROOM_C,
  WB_COLUMN_DRAUGHT,           /* WbDraught */
  WB_COLUMN_POOL_MM,           /* one diameter */
  WB_COLUMN_POOL_A_MM,         /* two at right angles */
  WB_COLUMN_POOL_B_MM,
  WB_COLUMN_POOL_FULL,         /* bits: 1 pool_mm, 2 pool_a_mm, 4 pool_b_mm said "full"; that diameter is then not taken */
  WB_COLUMN_RING_12_MM,        /* hard wax left at the four sides */
  WB_COLUMN_RING_3_MM,
  WB_COLUMN_RING_6_MM,
  WB_COLUMN_RING_9_MM,
  WB_COLUMN_DEPTH_MM,
  WB_COLUMN_FLAME_MM,
  WB_COLUMN_FLAME_MAX_MM,
  WB_COLUMN_FLAME_DATUM,       /* 0 pool, 1 arch */
  WB_COLUMN_FLAME_STATE,       /* WbFlameState */
  WB_COLUMN_VESSEL_C,
  WB_COLUMN_BASE_C,
  WB_COLUMN_SMOKE,
  WB_COLUMN_SOOT,
  WB_COLUMN_MUSHROOM,
  WB_COLUMN_HANG_UP_MM,
  WB_COLUMN_HANG_UP_SHARE_PCT,
  WB_COLUMN_THROW,
  WB_COLUMN_ALONE,             /* 0 no, 1 yes */
  WB_COLUMN_MASS_G,
  WB_COLUMN_EVENT,             /* WbEvent */
  WB_COLUMN_EVENT_S,
  WB_COLUMN_WICK_NUMBER,       /* in a vessel of several; not taken: the vessel as a whole */
  WB_COLUMN_THROW_DISTANCE_M,  /* from the candle to the nose */
  WB_COLUMN_THROW_BLIND,       /* 1: the rater did not know which candle it was; 0: knew */
  WB_N_COLUMNS
} WbColumn;

typedef enum { WB_FLAME_STEADY, WB_FLAME_DANCING, WB_FLAME_SPUTTERING, WB_FLAME_STARVING } WbFlameState;

typedef enum
{
  WB_EVENT_SNUFFED, WB_EVENT_SELF_EXTINGUISHED, WB_EVENT_RELIT, WB_EVENT_FULL_MELT_POOL,
  WB_EVENT_SECONDARY_IGNITION, WB_EVENT_FLAME_ON_WALL, WB_EVENT_FLAMES_MERGED, WB_EVENT_AFTERGLOW,
  WB_EVENT_BLACK_SMOKE, WB_EVENT_WICK_LEAN, WB_EVENT_WICK_FELL, WB_EVENT_DROWNED, WB_EVENT_DEBRIS,
  WB_EVENT_VESSEL_CRACK, WB_EVENT_TIPPED, WB_EVENT_SURFACE_DAMAGED, WB_EVENT_END_OF_LIFE, WB_N_EVENTS
} WbEvent;

typedef enum { WB_SOURCE_TYPED, WB_SOURCE_FILE, WB_SOURCE_LOGGER } WbSource;

typedef struct
{
  const char   *name;     /* "pool_a_mm" */
  const char   *label;    /* N_()-marked: "Pool, first diameter" */
  WbQuantity    quantity;
  double        minimum, maximum; /* permitted */
  gboolean      integer;  /* ratings, enumerations */
  const WbWord *words;    /* enumerations and ratings with words, else NULL; the value is the index */
} WbColumnSpec;

/* Static. */
const WbColumnSpec *wb_column_get_spec (WbColumn column);
int                 wb_column_find     (const char *name); /* -1: none */
/* As many wicks as one vessel may have. */
#define WB_MOST_WICKS 12
/* In a vessel of several wicks it is read at each of them (flame and mushroom); the rest is of the vessel. */
gboolean            wb_column_is_of_wick (WbColumn column);

/* Does no flame stand after that event, as a reading holds it: a WbEvent, or NAN for none? */
gboolean            wb_event_ends_burn (double event);
/* Can that event (NAN: none) befall one wick of several? Fire in the pool, broken glass, merged flames are the vessel's. */
gboolean            wb_event_is_of_wick (double event);

/* Words of a rating have the digit as nick ("0", "1", ...), as it stands in files; throw starts at 1, its word 0 is never used. */
extern const WbWord wb_event_words[], wb_flame_state_words[], wb_flame_datum_words[], wb_source_words[],
  wb_smoke_words[], wb_soot_words[], wb_mushroom_words[], wb_throw_words[];

/* One reading as a record: for saving, amending, showing one. Values NAN where not taken. */
typedef struct
{
  WbRecord record;         /* type: wb_reading_type, whose fields cover all of this */
  WbUuid   uuid;
  gint64   burn;
  double   elapsed_min;    /* since lighting, as read */
  double   values[WB_N_COLUMNS];
  char    *throw_room;
  char    *rater;
  char    *note;
  char    *instrument;     /* what a temperature was read with */
  char    *instrument_place; /* where: "side, matt patch" */
  int      source;         /* WbSource */
  char    *source_file;
  gint64   source_line;
  gboolean late;           /* typed in well after it was taken, or after a later one */
} WbReading;

extern const WbRecordType wb_reading_type;

/*
 * Readings as columns, sorted by burn index, then elapsed_min, then id. A
 * column that no row fills costs nothing. Texts are shared strings.
 */
typedef struct _WbReadings WbReadings;

/* No rows yet; caller owns it. */
WbReadings *wb_readings_new       (void);
void        wb_readings_free      (WbReadings *self);
guint       wb_readings_get_length (const WbReadings *self);
/* Appends a row; burn is an index into the data set's burns. Rows must come in order. Returns its row. */
guint       wb_readings_append    (WbReadings *self, gint64 id, guint burn, double elapsed_min);
void        wb_readings_set       (WbReadings *self, guint row, WbColumn column, double value);
typedef enum { WB_READING_TEXT_THROW_ROOM, WB_READING_TEXT_RATER, WB_READING_TEXT_NOTE,
               WB_READING_TEXT_INSTRUMENT, WB_READING_TEXT_INSTRUMENT_PLACE, WB_N_READING_TEXTS } WbReadingText;
void        wb_readings_set_text  (WbReadings *self, guint row, WbReadingText which, const char *text);
gboolean    wb_readings_taken     (const WbReadings *self, guint row, WbColumn column);
/* NAN where not taken. */
double      wb_readings_get       (const WbReadings *self, guint row, WbColumn column);
/* A whole row, as WbReading holds it. */
void        wb_readings_get_values (const WbReadings *self, guint row, double values[WB_N_COLUMNS]);
const char *wb_readings_get_text  (const WbReadings *self, guint row, WbReadingText which); /* NULL: none */
/* Typed in after the session, as WbReading.late; FALSE until set. */
void        wb_readings_set_late  (WbReadings *self, guint row);
gboolean    wb_readings_get_late  (const WbReadings *self, guint row);
gint64      wb_readings_get_id    (const WbReadings *self, guint row);
guint       wb_readings_get_burn  (const WbReadings *self, guint row);
double      wb_readings_get_elapsed_min (const WbReadings *self, guint row);
/* Rows of a burn: first row and how many. */
void        wb_readings_get_burn_rows (const WbReadings *self, guint burn, guint *first, guint *n);

/*
 * The pool of a row, whatever way it was read. A diameter is at the wall when
 * it is marked full or within 0.5 mm of `inner_mm`; none is told larger than
 * `inner_mm`. Four rings make two diameters; a side that was not read counts
 * as the one across from it. FALSE: not read.
 */
#define WB_WALL_TOLERANCE_MM 0.5
typedef struct
{
  double   diameter_mm;   /* mean of the two where two were read */
  double   one_mm, other_mm; /* the two at right angles; the same where one was read */
  gboolean at_wall;       /* at least one */
  gboolean both_at_wall;  /* every one that was read */
} WbPool;
/* The same from values as WbReading holds them. */
gboolean    wb_pool_from_values   (const double values[WB_N_COLUMNS], double inner_mm, WbPool *pool);
gboolean    wb_readings_get_pool  (const WbReadings *self, guint row, double inner_mm, WbPool *pool);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbReadings, wb_readings_free)

G_END_DECLS
