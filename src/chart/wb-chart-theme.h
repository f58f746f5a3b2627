/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <cairo.h>
#include <glib.h>

G_BEGIN_DECLS

/*
 * Colours of one medium. Every theme has the same number of series looks; a
 * series has a kindred hue and the same marker and dash in each.
 *
 * The palette's neighbours differ in luminance (so they part in grey print)
 * and every two stay apart under simulated red, green and blue blindness;
 * tests/chart measures both. Each colour has at least 3:1 against the theme's
 * background, each text at least 4.5:1.
 */

typedef enum
{
  WB_CHART_THEME_LIGHT, /* screen and paper: black on white */
  WB_CHART_THEME_DARK,
  WB_CHART_THEME_HIGH_CONTRAST,
  WB_CHART_THEME_HIGH_CONTRAST_DARK,
  WB_CHART_N_THEMES
} WbChartTheme;

typedef struct
{
  double red, green, blue; /* sRGB, 0 to 1 */
} WbChartColour;

typedef enum
{
  WB_CHART_COLOUR_BACKGROUND,
  WB_CHART_COLOUR_PLOT,     /* behind the data */
  WB_CHART_COLOUR_INK,      /* title, values */
  WB_CHART_COLOUR_INK_SOFT, /* tick labels, footnote */
  WB_CHART_COLOUR_AXIS,
  WB_CHART_COLOUR_GRID,
  WB_CHART_COLOUR_ASK,      /* rule at which the bench asks */
  WB_CHART_COLOUR_LIMIT,    /* rule not to cross, crossed cell */
  WB_CHART_COLOUR_AIM,      /* region where the value should be */
  WB_CHART_N_COLOURS
} WbChartColourRole;

/* Series with this many further have the same colour, with another marker and dash: 8 colours x 6 markers before a look repeats. */
#define WB_CHART_N_SERIES_COLOURS 8
#define WB_CHART_N_MARKERS 6
#define WB_CHART_N_DASHES 4

WbChartColour wb_chart_theme_get_colour        (WbChartTheme theme, WbChartColourRole role);
/* Of a series; negative ones are ink. */
WbChartColour wb_chart_theme_get_series_colour (WbChartTheme theme, int series);
guint         wb_chart_theme_get_series_marker (int series);
guint         wb_chart_theme_get_series_dash   (int series);
/* Low 0 to high 1 of a heat map or of ordered parts; -1 to 1 around a middle when `around`. */
WbChartColour wb_chart_theme_get_heat_colour   (WbChartTheme theme, double place, gboolean around);

G_END_DECLS
