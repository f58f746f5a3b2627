/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-chart-error.h"

G_DEFINE_QUARK (wb-chart-error-quark, wb_chart_error)
