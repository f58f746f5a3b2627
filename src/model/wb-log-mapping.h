/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-record.h"

G_BEGIN_DECLS

/*
 * How a maker's own sheet is to be read as a burn log: a plain struct with a
 * text form (GKeyFile), so that it can be kept, handed on and used again.
 * What a column is read as is a column of the burn-log format by its name, or
 * one of the targets below, from which minutes since lighting and the instant
 * of lighting are worked out.
 */

#define WB_LOG_TARGET_KEEP      "keep"      /* an unknown column, kept as it is under its own name */
#define WB_LOG_TARGET_LIT_ON    "lit_on"    /* day of lighting */
#define WB_LOG_TARGET_LIT_TIME  "lit_time"  /* time of day of lighting */
#define WB_LOG_TARGET_READ_AT   "read_at"   /* day and time of the reading */
#define WB_LOG_TARGET_READ_ON   "read_on"   /* day of the reading */
#define WB_LOG_TARGET_READ_TIME "read_time" /* time of day of the reading; earlier than the lighting: after midnight */

/* Fixed value of "burn": the lightings of each sample are numbered in their order in time. */
#define WB_LOG_COUNTED "counted"
/* Fixed value of "lit_at": each burn was lit at the first of its readings in the sheet, by their day and time. */
#define WB_LOG_FIRST_READING "first reading"

typedef enum
{
  WB_LOG_DATE_YEAR_FIRST,   /* 2026-03-02, 2026/3/2; the year of four digits */
  WB_LOG_DATE_DAY_FIRST,    /* 2.3.2026, 02/03/26 */
  WB_LOG_DATE_MONTH_FIRST,  /* 3/2/2026 */
  WB_LOG_N_DATE_ORDERS
} WbLogDateOrder;

/* What a time of day without am and pm says. */
typedef enum
{
  WB_LOG_CLOCK_24,  /* hours from 0 to 23 */
  WB_LOG_CLOCK_AM,  /* hours from 1 to 12: of a lighting, before noon; of a reading, the next from the lighting on */
  WB_LOG_CLOCK_PM,  /* the same, of a lighting after noon */
  WB_LOG_N_CLOCKS
} WbLogClock;

/* A key and what stands for it: a word of the sheet and how it is read, or a column of the format and its fixed value. */
typedef struct
{
  char *key, *value;
} WbLogPair;

typedef struct
{
  char      *source;  /* the column's name in the sheet */
  char      *target;  /* what it is read as; NULL: passed over, or by its pattern */
  /*
   * Several things in one cell: names of columns of the format in braces, with what stands between them, "{wick_size}/{load_pct}%";
   * {} is passed over. NULL: one thing.
   */
  char      *pattern;
  double     minute;  /* minutes since lighting that all of this column was read at; NAN: it is not that of an hour */
  WbUnit     unit;    /* of a bare number; WB_N_UNITS: the format's own */
  gboolean   repeat;  /* an empty cell says what the row above says */
  GPtrArray *words;   /* WbLogPair: what stands in a cell, whatever its case, and its text in the format */
} WbLogMappingColumn;

typedef struct
{
  char           *name;        /* by its maker; NULL: none yet */
  char           *encoding;    /* as iconv calls it; "UTF-8" */
  char            delimiter;   /* '\0': the one that the header tells */
  guint           header_line; /* line of the sheet on which the names stand, from 1 */
  guint           header_rows; /* 1, or 2: names of groups, and below them those of the columns, "1 h" above "Pool" is "1 h Pool" */
  char            decimal;     /* '.' or ',' */
  WbLogDateOrder  date_order;
  WbLogClock      clock;
  char           *zone;        /* as the system calls it ("Europe/Berlin"), or "+01:00"; of every time without its own offset */
  char          **nothing;     /* texts that say no more than an empty cell does; strv */
  GPtrArray      *columns;     /* WbLogMappingColumn, in the order of the sheet */
  GPtrArray      *fixed;       /* WbLogPair: column of the format, and text, in which {NAME} is that column of the sheet */
} WbLogMapping;

/* UTF-8, header on line 1, of one row, decimal point, year first, UTC, nothing assigned; caller owns it. */
WbLogMapping       *wb_log_mapping_new        (void);
WbLogMapping       *wb_log_mapping_copy       (const WbLogMapping *self);
/* NULL is let pass. */
void                wb_log_mapping_free       (WbLogMapping *self);
/* Owned by the mapping. */
WbLogMappingColumn *wb_log_mapping_add_column (WbLogMapping *self, const char *source, const char *target);
void                wb_log_mapping_column_add_word (WbLogMappingColumn *self, const char *from, const char *to);
/* NULL takes the fixed value off. */
void                wb_log_mapping_set_fixed  (WbLogMapping *self, const char *target, const char *text);
/* NULL: none. */
const char         *wb_log_mapping_get_fixed  (const WbLogMapping *self, const char *target);

/* The text form; read again it gives the same mapping. Caller frees. */
char               *wb_log_mapping_to_text    (const WbLogMapping *self);
/* Errors: G_KEY_FILE_ERROR, naming group and key. Whether the targets exist is for the exchange to say. */
WbLogMapping       *wb_log_mapping_from_text  (const char *text, GError **error);

/* What a column of a sheet may be read as: one of the format's own columns, or one of the targets above. */
typedef struct
{
  const char   *name;
  const char   *title;     /* for people, untranslated: gettext it */
  WbUnit        unit;      /* in which the format has it; WB_UNIT_NONE: no number, or one without */
  gboolean      number;
  gboolean      required;
  gboolean      reading;   /* taken at one moment, and not of the whole burn, sample or cell */
  const WbWord *words;     /* of a rating or a choice; NULL: none */
} WbLogTarget;

/* A date that stands in another order than the others of its sheet, or in none. */
typedef struct
{
  guint64 line;
  char   *column, *text;
} WbLogMisfit;

/* What a sheet holds, to choose from: names of its columns, and of each the first different texts. */
typedef struct
{
  char    **names;     /* strv */
  char   ***examples;  /* for each name a strv, empty cells left out */
  guint64 **lines;     /* for each example the line on which it stands first */
  guint    *n_gaps;    /* for each name how many records have nothing there, though an earlier one has */
  guint     n_records; /* looked at */
  gboolean  clock_doubtful; /* times of day may be those of 12 hours: none has am or pm, and all are from 1:00 to 12:59 */
  gboolean  order_doubtful; /* dates can be read with the day first and with the month first: a person must say */
  WbLogDateOrder order;     /* in which more of the dates can be read */
  GPtrArray *misfits;       /* WbLogMisfit: dates that cannot be read in that order, while others can in no other; in order of line */
} WbLogHead;

#define WB_LOG_HEAD_EXAMPLES 40
#define WB_LOG_HEAD_RECORDS 1000

/* Nothing in it yet; caller owns it. */
WbLogHead          *wb_log_head_new           (void);
/* NULL is let pass. */
void                wb_log_head_free          (WbLogHead *self);
void                wb_log_head_add_misfit    (WbLogHead *self, guint64 line, const char *column, const char *text);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbLogMapping, wb_log_mapping_free)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbLogHead, wb_log_head_free)

G_END_DECLS
