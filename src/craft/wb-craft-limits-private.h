/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-limits.h"

G_BEGIN_DECLS

/* TRUE where a limit needs something to be measured; the others are watched, and nothing noted means that nothing happened. */
gboolean wb_craft_limit_is_measured (const WbLimit *limit);

/* What the limit judges of one reading; NAN: nothing; INFINITY: an event that nobody timed. */
double   wb_craft_limit_value (const WbLimit *limit,
                               const double   values[WB_N_COLUMNS]);
gboolean wb_craft_limit_is_over (const WbLimit *limit,
                                 double         value);

/* The same of the hottest that a logger's file says of its burn; minute, if not NULL: of that burn. NAN: nothing. */
double   wb_craft_limit_logger_value (const WbLimit      *limit,
                                      const WbAttachment *logger,
                                      double             *minute);

/* From where it is asked about on; FALSE where the limit has no such step. */
gboolean wb_craft_limit_is_near (const WbLimit *limit,
                                 double         value);

/* TRUE where that row of that burn is over the limit; a glow after snuffing by the mean of the sample's burns, as the published limit is. */
gboolean wb_craft_limit_is_row_over (const WbDataset *data,
                                     const WbLimit   *limit,
                                     guint            burn,
                                     guint            row);

/* FALSE where a temperature of a metal vessel states neither a matt patch nor a contact probe: it counts as not tested. */
gboolean wb_craft_limit_trusts (const WbDataset *data,
                                const WbLimit   *limit,
                                guint            cell,
                                guint            row);

G_END_DECLS
