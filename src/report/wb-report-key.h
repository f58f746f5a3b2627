/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-alias.h"
#include "wb-report-options.h"

G_BEGIN_DECLS

/*
 * The key of an anonymous report, for the maker alone: which name stands for which material, sample, melt and lot. A document of its
 * own, never part of the report. Caller frees.
 */
WbReportDocument *wb_report_key_new (const WbCraftAlias *alias, const WbReportOptions *options);

G_END_DECLS
