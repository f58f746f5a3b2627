/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-experiment.h"
#include "wb-logger.h"
#include "wb-reading.h"
#include "wb-sample.h"

G_BEGIN_DECLS

/*
 * What a temperature logger's file says of the burn that it ran beside: told beside the readings, and beside the limit that
 * watches the same place, but never a reading: no figure or score of the ranking rests on it, and it tests no limit. Over one it
 * crosses it as a reading would (wb-craft-limits.h): for that its hottest moments are kept with the attachment.
 */

typedef struct
{
  double         highest;    /* °C, within the burn; NAN: no value there */
  double         at_min;     /* minute at which it was so first; NAN */
  const WbLimit *limit;      /* the tightest that watches the place; NULL: none */
  gboolean       over;       /* the highest is over it */
  double         over_min;   /* minute of the first value over it; NAN: none */
} WbCraftLoggerColumn;

typedef struct
{
  guint               first, n;             /* rows within the burn */
  guint               n_before, n_after;    /* rows cut off: before the lighting, after the end */
  double              before_min, after_min; /* how far they reach beyond; 0: not */
  guint               n_columns;
  WbCraftLoggerColumn columns[WB_LOGGER_MOST_COLUMNS];
} WbCraftLogger;

/* end_min: minute at which the burn ended; NAN: it is alight, or not known: to the file's end. limits: WbLimit, borrowed while `self` lives. */
void     wb_craft_logger_init     (WbCraftLogger *self, const WbLogger *logger, double end_min, const GPtrArray *limits);
/* Whether any column passed the limit that watches its place. */
gboolean wb_craft_logger_is_over  (const WbCraftLogger *self);
/* Into the attachment that keeps the file: the hottest of wall and base within the burn, whatever the limits say today. */
void     wb_craft_logger_keep     (const WbCraftLogger *self, const WbLogger *logger, WbAttachment *attachment);
/* These again as if one reading had them: what a limit judges. */
void     wb_craft_logger_get_values (const WbAttachment *attachment, double values[WB_N_COLUMNS]);
/*
 * "Vessel wall (Channel 1): highest 64.2 °C at 182 min, over the house limit of 60 °C from 121 min". unit: of temperatures.
 * Caller frees.
 */
char    *wb_craft_logger_dup_text (const WbCraftLogger *self, const WbLogger *logger, guint column, WbUnit unit);
/* "3 rows before the lighting (2 min) and 40 after the end (40 min) are cut off."; "" where none is. Caller frees. */
char    *wb_craft_logger_dup_cut  (const WbCraftLogger *self);

G_END_DECLS
