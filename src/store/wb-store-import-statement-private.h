/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-log-row.h"

G_BEGIN_DECLS

/*
 * What burn-log rows say about an experiment, a wick, a sample or a burn: one
 * statement a column, with the line that made it first, or 0 where the record makes it.
 */

typedef enum
{
  WB_IMPORT_LEVEL_EXPERIMENT,
  WB_IMPORT_LEVEL_WICK,
  WB_IMPORT_LEVEL_SAMPLE,
  WB_IMPORT_LEVEL_BURN,
  WB_IMPORT_N_LEVELS
} WbImportLevel;

typedef enum
{
  WB_IMPORT_TEXT,
  WB_IMPORT_REAL,
  WB_IMPORT_INTEGER,
  WB_IMPORT_WORD,
  WB_IMPORT_INSTANT,
  WB_IMPORT_DAY
} WbImportKind;

typedef struct
{
  const char   *column;
  WbImportKind  kind;
  gsize         offset;   /* in WbLogRow */
  const WbWord *words;    /* WORD only */
  gboolean      needed;   /* without it there is no such record */
} WbImportField;

/* Places of the fields of each level, for filling them from the record and reading them back. */
enum { WB_IMPORT_WAX, WB_IMPORT_DYE, WB_IMPORT_ADDITIVE };
enum { WB_IMPORT_WICK_STEP };
enum
{
  WB_IMPORT_VESSEL, WB_IMPORT_INNER_DIAMETER, WB_IMPORT_WICK_SERIES, WB_IMPORT_WICK_SIZE, WB_IMPORT_WICK_COUNT,
  WB_IMPORT_WICK_SPACING, WB_IMPORT_FRAGRANCE, WB_IMPORT_LOAD_PCT, WB_IMPORT_LOAD_BASIS, WB_IMPORT_POURED_ON,
  WB_IMPORT_CURE_DAYS, WB_IMPORT_WAX_LOT, WB_IMPORT_WICK_LOT, WB_IMPORT_FRAGRANCE_LOT, WB_IMPORT_TARE, WB_IMPORT_FILL,
  WB_IMPORT_WAX_HEIGHT, WB_IMPORT_WICK_OFFSET, WB_IMPORT_SET_ASIDE
};
enum { WB_IMPORT_BURN_KIND, WB_IMPORT_LIT_AT, WB_IMPORT_TRIM };

#define WB_IMPORT_MOST_FIELDS (WB_IMPORT_SET_ASIDE + 1)

typedef struct
{
  gboolean known;
  gboolean assumed;  /* the default of its column, in the record of an import whose file may have left the cell empty: a row may still say another */
  gint64   line;
  double   number;   /* INTEGER, WORD, DAY too; of an instant, microseconds: whole up to 2^53, the year 2255 */
  gint32   offset_s; /* INSTANT only */
  char    *text;     /* TEXT only; "" is stated too: no fragrance */
} WbImportStatement;

const WbImportField *wb_import_level_fields (WbImportLevel level, guint *n);

/* What the row says of a field; text is borrowed from the row. An empty cell states nothing, but load 0 without fragrance states the control. */
WbImportStatement    wb_import_statement_from_row (const WbImportField *field, const WbLogRow *row);
gboolean             wb_import_statement_agrees   (const WbImportField *field, const WbImportStatement *a,
                                                   const WbImportStatement *b);
/* Does `given` say something that is not known, or was only assumed to be otherwise? */
gboolean             wb_import_statement_adds     (const WbImportStatement *known, const WbImportStatement *given);
/* As a person reads it. Caller frees. */
char                *wb_import_statement_dup_words (const WbImportField *field, const WbImportStatement *statement);

void                 wb_import_state_text   (WbImportStatement *statement, const char *text);
void                 wb_import_state_number (WbImportStatement *statement, double number); /* NAN: nothing */
/* The default of a column as `number`: `assumed` where an import wrote what the record says now; another number is stated either way. */
void                 wb_import_state_default (WbImportStatement *statement, double number, double usual, gboolean assumed);

/* The key of a wick's node, and its series and size back: `series` is owned by the caller, `size` borrowed from the key. */
char                *wb_import_dup_wick_key   (const char *series, const char *size);
gboolean             wb_import_is_wick_key    (const char *key, const char *series, const char *size);
void                 wb_import_split_wick_key (const char *key, char **series, const char **size);

G_END_DECLS
