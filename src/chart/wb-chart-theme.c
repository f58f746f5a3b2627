/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The colours. Chosen by a search for the largest smallest distance over normal and simulated deficient vision. */
#include "config.h"

#include "wb-chart-theme.h"

#include <math.h>

#define RGB(hex) { (((hex) >> 16) & 0xff) / 255.0, (((hex) >> 8) & 0xff) / 255.0, ((hex) & 0xff) / 255.0 }

static const WbChartColour series_light[WB_CHART_N_SERIES_COLOURS] = {
  RGB (0x3a46bf), RGB (0xcb7f0c), RGB (0x1f7a66), RGB (0x5b326b),
  RGB (0x8a7f48), RGB (0x753325), RGB (0x1b8cec), RGB (0xb12a04),
};

static const WbChartColour series_dark[WB_CHART_N_SERIES_COLOURS] = {
  RGB (0xa789fb), RGB (0xfbd6be), RGB (0x65cb59), RGB (0xd762bf),
  RGB (0xb9d034), RGB (0xea6372), RGB (0x3ae7fe), RGB (0xdc98b4),
};

static const WbChartColour roles[WB_CHART_N_THEMES][WB_CHART_N_COLOURS] = {
  [WB_CHART_THEME_LIGHT] = {
    RGB (0xffffff), RGB (0xffffff), RGB (0x1c1c1e), RGB (0x55565a), RGB (0x6b6c70), RGB (0xe4e5e8),
    RGB (0xa05a00), RGB (0xa8102a), RGB (0x2f7d4f),
  },
  [WB_CHART_THEME_DARK] = {
    RGB (0x1e1f22), RGB (0x1e1f22), RGB (0xf1f1f2), RGB (0xb4b6bb), RGB (0x8f9197), RGB (0x37393e),
    RGB (0xf0a848), RGB (0xff6f7d), RGB (0x6fcf97),
  },
  [WB_CHART_THEME_HIGH_CONTRAST] = {
    RGB (0xffffff), RGB (0xffffff), RGB (0x000000), RGB (0x000000), RGB (0x000000), RGB (0xb8b8b8),
    RGB (0x7a4400), RGB (0x9c0018), RGB (0x00602c),
  },
  [WB_CHART_THEME_HIGH_CONTRAST_DARK] = {
    RGB (0x000000), RGB (0x000000), RGB (0xffffff), RGB (0xffffff), RGB (0xffffff), RGB (0x5a5a5a),
    RGB (0xffc266), RGB (0xff8a95), RGB (0x8ff0b4),
  },
};

/* Pale to dark (dark to bright on dark themes), rising evenly in lightness. */
static const WbChartColour heat_light[]
    = { RGB (0xf4f1e6), RGB (0xc3d6cf), RGB (0x7fb0b9), RGB (0x3f80a4), RGB (0x1f4a80) };
static const WbChartColour heat_dark[]
    = { RGB (0x2b2f3a), RGB (0x2d5570), RGB (0x3f86a0), RGB (0x7cbcb6), RGB (0xdcefd2) };
static const WbChartColour around_light[]
    = { RGB (0x2c5fa8), RGB (0x9dbbe0), RGB (0xf3f2ee), RGB (0xe8b384), RGB (0xa85510) };
static const WbChartColour around_dark[]
    = { RGB (0x7fb0f0), RGB (0x40618e), RGB (0x2f3136), RGB (0x8a5a2c), RGB (0xf0a860) };

static gboolean
is_dark (WbChartTheme theme)
{
  return theme == WB_CHART_THEME_DARK || theme == WB_CHART_THEME_HIGH_CONTRAST_DARK;
}

WbChartColour
wb_chart_theme_get_colour (WbChartTheme      theme,
                           WbChartColourRole role)
{
  g_return_val_if_fail (theme < WB_CHART_N_THEMES && role < WB_CHART_N_COLOURS, roles[0][0]);

  return roles[theme][role];
}

WbChartColour
wb_chart_theme_get_series_colour (WbChartTheme theme,
                                  int          series)
{
  if (series < 0)
    return wb_chart_theme_get_colour (theme, WB_CHART_COLOUR_INK);

  return (is_dark (theme) ? series_dark : series_light)[series % WB_CHART_N_SERIES_COLOURS];
}

guint
wb_chart_theme_get_series_marker (int series)
{
  /* 6 markers over 8 colours repeat after 24: from there each colour moves to its next marker. */
  return series < 0 ? 0 : (guint) (series + series / 24) % WB_CHART_N_MARKERS;
}

guint
wb_chart_theme_get_series_dash (int series)
{
  return series < 0 ? 0 : (guint) series % WB_CHART_N_DASHES;
}

WbChartColour
wb_chart_theme_get_heat_colour (WbChartTheme theme,
                                double       place,
                                gboolean     around)
{
  const WbChartColour *stops
      = is_dark (theme) ? (around ? around_dark : heat_dark) : (around ? around_light : heat_light);
  double               at = CLAMP (around ? (place + 1.0) / 2.0 : place, 0.0, 1.0) * 4.0;
  int                  below = MIN ((int) at, 3);
  double               part = at - below;
  const WbChartColour *a = &stops[below], *b = &stops[below + 1];

  return (WbChartColour) { a->red + (b->red - a->red) * part,
                           a->green + (b->green - a->green) * part,
                           a->blue + (b->blue - a->blue) * part };
}
