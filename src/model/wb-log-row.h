/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-reading.h"

G_BEGIN_DECLS

/*
 * One row of the burn-log exchange format: one observation of one sample, with
 * names instead of ids. The file's rules on a single row have been applied;
 * whether it contradicts other rows or the record is the store's to say.
 */
typedef struct
{
  guint64  line;             /* where it begins in the file, from 1 */
  /* experiment */
  char    *experiment;       /* title */
  char    *wax, *dye, *additive;
  /* cell */
  char    *vessel;
  double   inner_diameter_mm;
  char    *wick_series, *wick_size;
  gint64   wick_step;        /* WB_INTEGER_NONE: not given */
  gint64   wick_count;       /* WB_INTEGER_NONE: not given (means 1) */
  double   wick_spacing_mm;
  char    *fragrance;
  double   load_pct;
  int      load_basis;       /* WbBasis; -1: not given (means wax) */
  /* sample */
  char    *sample;
  WbDay    poured_on;
  double   cure_days;
  char    *wax_lot, *wick_lot, *fragrance_lot;
  double   tare_g, fill_g, wax_height_mm, wick_offset_mm;
  char    *set_aside;
  /* burn */
  gint64   burn;
  int      burn_kind;        /* WbBurnKind; -1: not given (means standard) */
  WbInstant lit_at;
  double   trim_mm;
  /* observation */
  double   elapsed_min;
  double   values[WB_N_COLUMNS]; /* NAN: not taken; FLAME_DATUM NAN: not given (means pool) */
  char    *throw_room, *rater, *note;
  char   **extra;            /* cells of the unknown columns, in the file's order, NULL-terminated; NULL: none */
} WbLogRow;

/* A row with nothing given; caller owns it. */
WbLogRow *wb_log_row_new   (void);
/* Everything back to not given; keeps the struct. */
void      wb_log_row_clear (WbLogRow *self);
/* The same but for the texts, which a reader of many like rows may keep where they stay the same. */
void      wb_log_row_clear_numbers (WbLogRow *self);
void      wb_log_row_free  (WbLogRow *self);

/* Why a row is refused, or what is said about one that comes in. */
typedef struct
{
  guint64     line;
  char       *column;        /* "" where the row as a whole is meant */
  char      **also;          /* further columns, NULL-terminated; may be NULL */
  char       *rule;          /* for people: what the rule is and what stood there */
} WbLogRemark;

/* `also` is NULL at first; caller owns the remark. */
WbLogRemark *wb_log_remark_new  (guint64 line, const char *column, char *rule /* taken */);
void         wb_log_remark_free (WbLogRemark *self);
/* A GCompareFunc of a GPtrArray of them: by line. */
int          wb_log_remark_order (gconstpointer a, gconstpointer b);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbLogRow, wb_log_row_free)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbLogRemark, wb_log_remark_free)

G_END_DECLS
