/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef enum
{
  WB_CHART_ERROR_RANGE, /* an infinite value, a range that is empty or too wide, or a value <= 0 on
                           a logarithmic axis' fixed range */
  WB_CHART_ERROR_SIZE,  /* width, height or scale not in the permitted range, or an image too large
                         */
  WB_CHART_ERROR_OUTPUT /* cairo could not make the bytes */
} WbChartError;

/* File errors while writing keep their own domain, G_FILE_ERROR. */
#define WB_CHART_ERROR (wb_chart_error_quark ())
GQuark wb_chart_error_quark (void);

G_END_DECLS
