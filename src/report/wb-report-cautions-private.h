/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-experiment.h"
#include "wb-report-document.h"

G_BEGIN_DECLS

/* Of every sheet that somebody holds in his hand before something is lit. Common practice, no source. */

/* What comes before the first light, under its heading, with boxes to tick. */
void wb_report_cautions_add_check (WbReportDocument *document);
/*
 * How a candle's user burns it, under its heading: as it was tested by the protocol, but never nearer to its bottom than usual.
 * burnt_longer: the test has burns beyond the protocol's length. protocol: NULL where nothing was burnt by any: it is to be burnt
 * within sight, and no more is known.
 */
void wb_report_cautions_add_user  (WbReportDocument *document,
                                   const WbProtocol *protocol,
                                   gboolean          us_units,
                                   gboolean          several_wicks,
                                   gboolean          burnt_longer);

G_END_DECLS
