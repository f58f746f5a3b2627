/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-logger.h"

G_BEGIN_DECLS

/* What is said of a logger's file. Caller frees. */

/* A line for each of its series, and that none of it is a reading. */
char *wb_logger_words_dup_summary (const WbAppLogger *logger, gboolean us_units);
/* "2 rows are not read: line 12, Wall: …", a line each, the first few; "" where all were. */
char *wb_logger_words_dup_refused (const WbAppLogger *logger);

G_END_DECLS
