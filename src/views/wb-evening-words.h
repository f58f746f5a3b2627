/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-evening.h"

G_BEGIN_DECLS

/* What a sheet of paper says of itself, in sentences. Callers free. */

/* "T1, round 2, Pool diameter: The vessel is 76 mm wide inside."; of a cell that is right, what may stand there. */
char *wb_evening_words_dup_cell   (WbAppEvening *evening, guint row, guint column, gboolean us_units);
/* Why a key did nothing in a cell that the record has, and how it is amended. */
char *wb_evening_words_dup_locked (WbAppEvening *evening, guint row, guint column);
/* How many cells are to be mended, or how the sheet is typed. */
char *wb_evening_words_dup_whole  (WbAppEvening *evening);
/* "Save 12 burns and 60 readings" */
char *wb_evening_words_dup_save   (WbAppEvening *evening);
/* What can hardly be, a line each, the first ten. */
char *wb_evening_words_dup_doubts (WbAppEvening *evening, gboolean us_units);

G_END_DECLS
