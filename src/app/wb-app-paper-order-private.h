/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-bench.h"

G_BEGIN_DECLS

/*
 * An experiment's poured samples in the order of the printed log sheet: by code, numbers in it by their value, whatever became
 * of a sample since the sheet was printed. What is written on paper is found again in the same line. Borrowed WbAppBenchSample;
 * caller frees the array.
 */
GPtrArray *wb_app_paper_order_dup (WbAppBench *bench, gint64 experiment);

G_END_DECLS
