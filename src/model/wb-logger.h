/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-log-mapping.h"

G_BEGIN_DECLS

/*
 * The file of a temperature logger that ran beside a burn: which of its columns are taken and as what, and what was read by
 * that. Never a reading: nobody looked at the candle when it was written.
 */

#define WB_LOGGER_MOST_COLUMNS 4

/* How a row tells when it was written. */
typedef enum
{
  WB_LOGGER_DATE_TIME, /* day and time of day, in one column or in two */
  WB_LOGGER_TIME,      /* time of day; earlier than the row above: after midnight */
  WB_LOGGER_MINUTES,   /* since the logger's start */
  WB_LOGGER_SECONDS,
  WB_LOGGER_N_FORMS
} WbLoggerForm;

/* Where a sensor sat. */
typedef enum
{
  WB_LOGGER_WALL,      /* outside wall of the vessel */
  WB_LOGGER_BASE,      /* outside base of the vessel */
  WB_LOGGER_ROOM,
  WB_LOGGER_OTHER,     /* wax, flame, shelf: no limit watches it */
  WB_LOGGER_N_PLACES
} WbLoggerPlace;

/* For people, translated. */
const char *wb_logger_form_get_label  (WbLoggerForm form);
const char *wb_logger_place_get_label (WbLoggerPlace place);
/* The column of readings that is read at the same place; -1: none. */
int         wb_logger_place_get_column (WbLoggerPlace place);

/* A plain struct with a text form (GKeyFile), which is kept with the file. */
typedef struct
{
  char          *encoding;    /* as iconv calls it */
  char           delimiter;
  guint          header_line; /* on which the names of the columns stand, from 1 */
  char           decimal;     /* '.' or ',' */
  char          *time;        /* name of the column */
  char          *day;         /* of the day's own column; NULL: it stands in the column `time`, or none is needed */
  WbLoggerForm   form;
  WbLogDateOrder date_order;
  WbUnit         unit;        /* WB_UNIT_CELSIUS or WB_UNIT_FAHRENHEIT */
  double         offset_min;  /* added to the minutes that the logger tells: the notebook's clock less the logger's, or the start after the lighting */
  guint          n_columns;   /* 1 to WB_LOGGER_MOST_COLUMNS */
  struct { char *name; WbLoggerPlace place; } columns[WB_LOGGER_MOST_COLUMNS];
} WbLoggerChoice;

/* UTF-8, comma, header on line 1, no columns; caller owns it. */
WbLoggerChoice *wb_logger_choice_new       (void);
WbLoggerChoice *wb_logger_choice_copy      (const WbLoggerChoice *self);
/* NULL is let pass. */
void            wb_logger_choice_free      (WbLoggerChoice *self);
/* At most WB_LOGGER_MOST_COLUMNS. */
void            wb_logger_choice_add       (WbLoggerChoice *self, const char *name, WbLoggerPlace place);
/* The text form; read again it gives the same choice. Caller frees. */
char           *wb_logger_choice_to_text   (const WbLoggerChoice *self);
/* Errors: G_KEY_FILE_ERROR, naming group and key. */
WbLoggerChoice *wb_logger_choice_from_text (const char *text, GError **error);

/* A row that was not taken. */
typedef struct
{
  guint64 line;
  char   *column;  /* "": the row as a whole */
  char   *rule;
} WbLoggerRefusal;

/* What a file says, row by row, in the order of time: the file's, or where it has the newest row first the other way round. */
typedef struct
{
  WbLoggerChoice *choice;
  guint           n;          /* rows taken */
  double         *minutes;    /* since the burn was lit, the offset added; ascending */
  double         *values[WB_LOGGER_MOST_COLUMNS]; /* °C; NAN: an empty cell */
  guint           n_refused;  /* rows */
  GPtrArray      *refused;    /* WbLoggerRefusal, the first WB_LOGGER_TOLD of them */
} WbLogger;

#define WB_LOGGER_TOLD 200

/* NULL is let pass. */
void            wb_logger_free             (WbLogger *self);
/* "Vessel wall (Channel 1)". Caller frees. */
char           *wb_logger_dup_name         (const WbLogger *self, guint column);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbLoggerChoice, wb_logger_choice_free)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbLogger, wb_logger_free)

G_END_DECLS
