/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-chart-layout.h"

G_BEGIN_DECLS

/*
 * A chart as the bytes of a file. The same chart, options, fonts and libraries
 * give the same bytes. PDF and SVG carry text as text or outlines as cairo
 * does; PDF carries the chart's title and description as document information.
 */

typedef enum
{
  WB_CHART_FORMAT_PNG,
  WB_CHART_FORMAT_SVG,
  WB_CHART_FORMAT_PDF
} WbChartFormat;

typedef struct
{
  WbChartFormat format;
  double        width, height; /* points */
  double        scale;         /* PNG: pixels a point; else unused */
  double        text_scale;    /* 1: 9 pt */
  WbChartTheme  theme;
  const char *created; /* PDF: ISO 8601 instant; NULL: SOURCE_DATE_EPOCH, or 1970-01-01 if that is
                          unset too; borrowed */
} WbChartOutput;

/* 480 x 320 pt, 2 pixels a point, text scale 1, light. */
#define WB_CHART_OUTPUT_INIT(kind)                                                                 \
  ((WbChartOutput){ (kind), 480.0, 320.0, 2.0, 1.0, WB_CHART_THEME_LIGHT, NULL })

/* By the name's end (".png", ".svg", ".pdf", in any case); FALSE if it is none of them. */
gboolean wb_chart_output_format_for_path (const char *path, WbChartFormat *format);
/* The file's bytes; NULL with a WB_CHART_ERROR. */
GBytes  *wb_chart_output_dup_bytes (WbChart *chart, const WbChartOutput *output, GError **error);
/* Writes them atomically and durably: a file that was there stays until the new one is whole. Also G_FILE_ERROR. */
gboolean wb_chart_output_write (WbChart *chart,
                                const WbChartOutput *output,
                                const char *path,
                                GError **error);

G_END_DECLS
