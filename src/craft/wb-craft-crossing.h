/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-figures.h"
#include "wb-craft-limits.h"

G_BEGIN_DECLS

/*
 * The newest reading of one sample, or the newest value of a logger's file, that is over a limit: what has to be known
 * before it is lit again. A limit that was turned off is over nothing; whether
 * the sample was set aside does not matter, for its flame is the same. That the
 * vessel cracked is told by the event itself, whatever the limits say.
 */
typedef struct
{
  gboolean crossed;
  guint    limit;    /* index in the data set's limits */
  guint    burn;     /* index in the data set's burns */
  guint    row;      /* of the readings; G_MAXUINT: it is a logger's file that says so */
  guint    logger;   /* index in the data set's loggers; G_MAXUINT: it is a reading */
  double   minute;   /* of that burn */
  guint    first_burn; /* the first burn that crossed any limit, as an index */
  gboolean broken;   /* its vessel cracked in any burn: not to be lit by anyone */
  guint    broken_burn; /* the first burn in which it cracked, as an index; only where `broken` */
} WbCraftCrossing;

/* A crossing by sample, data->samples->len of them; g_free. */
WbCraftCrossing *wb_craft_crossings_new (const WbDataset *data);
/* Of each sample whether nobody lights it again: at its end, over a limit or in a cracked vessel. g_free. */
gboolean        *wb_craft_crossings_dup_over (const WbCraftCrossing *crossings, const WbDataset *data, const WbCraftFigures *figures);
/* What crossed the limit, as if one reading had it: the hottest of a logger's file, or the reading's values. Only where `crossed`. */
void             wb_craft_crossing_get_values (const WbCraftCrossing *self, const WbDataset *data, double values[WB_N_COLUMNS]);

G_END_DECLS
