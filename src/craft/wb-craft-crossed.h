/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-dataset.h"

G_BEGIN_DECLS

/*
 * A reading or a logger's file of one recipe's candles that is over a limit, with who said so: what a decision for the recipe has to
 * face, whoever lit the candle, whatever the kind of the burn, whether or not the sample was set aside. A limit that is turned off
 * is over nothing; a crack counts whatever the limits say.
 */
typedef struct
{
  guint    sample;  /* index in the data set */
  guint    burn;
  gint64   source;  /* id of the reading, or of the attachment where `logged` */
  gboolean logged;
  guint    row;     /* of the readings, or index of the data set's loggers where `logged` */
  guint    limit;   /* index in the data set's limits; G_MAXUINT: a crack where its limit is turned off */
  gint64   entry;   /* of the version that says so; 0 until the caller looked it up */
  char    *text;    /* translated: "flame height 52 mm at 240 min of burn 9 of sample T5-1: over the house limit of 50 mm" */
} WbCraftCrossed;

/*
 * Of all samples of the cell, in order of sample, burn and minute; of one reading each limit that it is over, before them a crack that
 * no limit tells: which of them was known, and which is news, is another's to say. Caller frees.
 */
GPtrArray *wb_craft_crossed_new (const WbDataset *data, guint cell);
/* Of the cell, the first reading by which its vessel cracked where no limit tells it: its row; G_MAXUINT: none. */
guint      wb_craft_crossed_find_crack (const WbDataset *data, guint cell);
/* "vessel cracked; its limit is turned off", or that there is none: what a crack is called that no limit tells. Translated; static. */
const char *wb_craft_crossed_get_crack_words (const WbDataset *data);
/* Whether what was read is over its limit as that version has it, too. Of a crack that no limit tells: TRUE. */
gboolean   wb_craft_crossed_is_over (const WbDataset *data, const WbCraftCrossed *crossed, const WbLimit *version);

G_END_DECLS
