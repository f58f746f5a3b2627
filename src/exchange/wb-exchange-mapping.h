/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-exchange-csv.h"
#include "wb-log-mapping.h"
#include "wb-log-row.h"

G_BEGIN_DECLS

/*
 * A mapping at work on a sheet: each of its records becomes rows of the
 * burn-log format, in the format's own words and units, one for each hour that
 * is filled or else one. What the format forbids is for its reader to say; here
 * only what cannot be turned into it is refused.
 *
 * A reading without an hour of its own, in a sheet with hours, is that of the
 * last hour filled. Minutes since lighting come from the hour, from a column of
 * them, or from the times of lighting and reading; without a day a time of
 * reading before that of lighting is after midnight, up to 12 h behind it.
 */
typedef struct _WbExchangeMapping WbExchangeMapping;

/*
 * `names` are the sheet's. Copies what it needs. Errors: WB_EXCHANGE_ERROR_HEADER naming everything that does not fit: a column
 * that the sheet has not, a target that there is not, one that is told twice, a unit of another quantity, what is needed and missing.
 */
WbExchangeMapping *wb_exchange_mapping_new  (const WbLogMapping *mapping, const char *const *names, GError **error);
/* NULL is let pass. */
void               wb_exchange_mapping_free (WbExchangeMapping *self);

/* The header of the rows; owned, good until it is freed. */
void               wb_exchange_mapping_get_header (const WbExchangeMapping *self, WbExchangeCsvRecord *header);

/*
 * Whether burns are counted, for which all lightings must be known first: each record of the sheet is then surveyed before the first
 * of them is fed, and the survey ended.
 */
gboolean           wb_exchange_mapping_wants_survey (const WbExchangeMapping *self);
void               wb_exchange_mapping_survey       (WbExchangeMapping *self, const WbExchangeCsvRecord *record);
void               wb_exchange_mapping_end_survey   (WbExchangeMapping *self);

/*
 * A burn that the notebook has: counting goes on after it, and one of the sheet that was lit in the same minute is that burn. Before
 * the first record is fed; without counting it says nothing.
 */
void               wb_exchange_mapping_add_recorded  (WbExchangeMapping *self, const char *experiment, const char *sample, WbInstant lit, gint64 number);

typedef enum
{
  WB_EXCHANGE_MAPPING_ROW,
  WB_EXCHANGE_MAPPING_REFUSED, /* one remark appended, with the sheet's line and the name of its column */
  WB_EXCHANGE_MAPPING_END      /* no more rows of this record */
} WbExchangeMappingResult;

/* Takes a record of the sheet in; its rows come from wb_exchange_mapping_next(). */
void                    wb_exchange_mapping_feed (WbExchangeMapping *self, const WbExchangeCsvRecord *record);
/* Cells of `row` are good until the next call of either. */
WbExchangeMappingResult wb_exchange_mapping_next (WbExchangeMapping *self, WbExchangeCsvRecord *row, GPtrArray *remarks);
/* After the last record: what is said of the sheet as a whole. */
void                    wb_exchange_mapping_finish (const WbExchangeMapping *self, GPtrArray *remarks);
/*
 * In remarks from `from` on: names the sheet's column instead of the format's, of the row that came last. Of rows that came
 * earlier (`last` FALSE) where there is only one it can be.
 */
void                    wb_exchange_mapping_name_columns (const WbExchangeMapping *self, GPtrArray *remarks, guint from, gboolean last);
/*
 * For a remark, its columns named, that refuses the row that came last: adds to its rule what stood in the sheet in another unit,
 * and what goes with it of the sheet's row. What was said with that row is said again with the next one that it goes for.
 */
void                    wb_exchange_mapping_tell_lost    (WbExchangeMapping *self, WbLogRemark *remark);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbExchangeMapping, wb_exchange_mapping_free)

G_END_DECLS
