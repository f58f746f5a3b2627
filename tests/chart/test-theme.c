/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-chart-theme.h"

#include <math.h>
#include <string.h>

#include "test-chart.h"
#include "wb-chart-paint-private.h"
#include "wb-chart-sample.h"

typedef struct
{
  double v[3];
} Triple;

/* sRGB to linear light, IEC 61966-2-1. */
static double
to_linear (double channel)
{
  return channel <= 0.04045 ? channel / 12.92 : pow ((channel + 0.055) / 1.055, 2.4);
}

static Triple
linear_of (WbChartColour colour)
{
  return (Triple) { { to_linear (colour.red), to_linear (colour.green), to_linear (colour.blue) } };
}

static Triple
multiply (const double matrix[3][3],
          Triple       in)
{
  Triple out;

  for (int i = 0; i < 3; i++)
    out.v[i] = matrix[i][0] * in.v[0] + matrix[i][1] * in.v[1] + matrix[i][2] * in.v[2];

  return out;
}

/* CIE 1976 L*a*b* under D65, from linear sRGB. */
static Triple
lab_of (Triple linear)
{
  static const double to_xyz[3][3] = { { 0.4124564, 0.3575761, 0.1804375 },
                                       { 0.2126729, 0.7151522, 0.0721750 },
                                       { 0.0193339, 0.1191920, 0.9503041 } };
  static const double white[3] = { 0.95047, 1.0, 1.08883 };
  Triple xyz = multiply (to_xyz, linear);
  double f[3];

  for (int i = 0; i < 3; i++)
    {
      double t = fmax (xyz.v[i] / white[i], 0.0);

      f[i] = t > 216.0 / 24389.0 ? cbrt (t) : (24389.0 / 27.0 * t + 16.0) / 116.0;
    }

  return (Triple) { { 116.0 * f[1] - 16.0, 500.0 * (f[0] - f[1]), 200.0 * (f[1] - f[2]) } };
}

/*
 * Normal vision, and no red, green or blue cones: Machado, Oliveira and
 * Fernandes 2009, "A physiologically-based model for simulation of color
 * vision deficiency", severity 1.0; coefficients from memory.
 */
static const double visions[4][3][3] = {
  { { 1, 0, 0 }, { 0, 1, 0 }, { 0, 0, 1 } },
  { { 0.152286, 1.052583, -0.204868 }, { 0.114503, 0.786281, 0.099216 }, { -0.003882, -0.048116, 1.051998 } },
  { { 0.367322, 0.860646, -0.227968 }, { 0.280085, 0.672501, 0.047413 }, { -0.011820, 0.042940, 0.968881 } },
  { { 1.255528, -0.076749, -0.178779 }, { -0.078411, 0.930809, 0.147602 }, { 0.004733, 0.691367, 0.303900 } },
};

static double
distance (Triple a,
          Triple b)
{
  return sqrt (pow (a.v[0] - b.v[0], 2) + pow (a.v[1] - b.v[1], 2) + pow (a.v[2] - b.v[2], 2));
}

static Triple
seen (WbChartColour colour,
      int           vision)
{
  Triple linear = multiply (visions[vision], linear_of (colour));

  for (int i = 0; i < 3; i++)
    linear.v[i] = CLAMP (linear.v[i], 0.0, 1.0);

  return lab_of (linear);
}

/* A just noticeable difference is about 2.3 (Mahy et al. 1994); 15 parts marks of a few points. */
static void
test_distances (void)
{
  for (int theme = 0; theme < WB_CHART_N_THEMES; theme++)
    for (int vision = 0; vision < 4; vision++)
      for (int a = 0; a < WB_CHART_N_SERIES_COLOURS; a++)
        for (int b = 0; b < a; b++)
          g_assert_cmpfloat (distance (seen (wb_chart_theme_get_series_colour (theme, a), vision),
                                       seen (wb_chart_theme_get_series_colour (theme, b), vision)), >, 15.0);
}

static void
test_grey (void)
{
  for (int theme = 0; theme < WB_CHART_N_THEMES; theme++)
    for (int i = 0; i + 1 < WB_CHART_N_SERIES_COLOURS; i++)
      {
        Triple a = lab_of (linear_of (wb_chart_theme_get_series_colour (theme, i)));
        Triple b = lab_of (linear_of (wb_chart_theme_get_series_colour (theme, i + 1)));

        g_assert_cmpfloat (fabs (a.v[0] - b.v[0]), >, 8.0);
      }
}

/* In grey print any two of the first 24 series differ in lightness, marker or dash, whichever stand beside each other. */
static void
test_grey_looks (void)
{
  for (int a = 0; a < 24; a++)
    for (int b = 0; b < a; b++)
      {
        Triple first = lab_of (linear_of (wb_chart_theme_get_series_colour (WB_CHART_THEME_LIGHT, a)));
        Triple second = lab_of (linear_of (wb_chart_theme_get_series_colour (WB_CHART_THEME_LIGHT, b)));

        g_assert_true (wb_chart_theme_get_series_marker (a) != wb_chart_theme_get_series_marker (b)
                       || wb_chart_theme_get_series_dash (a) != wb_chart_theme_get_series_dash (b)
                       || fabs (first.v[0] - second.v[0]) > 8.0);
      }
}

/* WCAG 2.1, definition of contrast ratio. */
static double
contrast (WbChartColour a,
          WbChartColour b)
{
  static const double weights[3] = { 0.2126, 0.7152, 0.0722 };
  Triple first = linear_of (a), second = linear_of (b);
  double y1 = 0.05, y2 = 0.05;

  for (int i = 0; i < 3; i++)
    {
      y1 += weights[i] * first.v[i];
      y2 += weights[i] * second.v[i];
    }

  return fmax (y1, y2) / fmin (y1, y2);
}

/* WCAG 2.1, success criteria 1.4.3 (text 4.5:1) and 1.4.11 (graphics 3:1). */
static void
test_contrast (void)
{
  static const WbChartColourRole texts[]
      = { WB_CHART_COLOUR_INK, WB_CHART_COLOUR_INK_SOFT, WB_CHART_COLOUR_ASK, WB_CHART_COLOUR_LIMIT,
          WB_CHART_COLOUR_AIM };

  for (int theme = 0; theme < WB_CHART_N_THEMES; theme++)
    {
      WbChartColour background = wb_chart_theme_get_colour (theme, WB_CHART_COLOUR_BACKGROUND);

      for (gsize i = 0; i < G_N_ELEMENTS (texts); i++)
        g_assert_cmpfloat (contrast (wb_chart_theme_get_colour (theme, texts[i]), background), >=, 4.5);
      g_assert_cmpfloat (
          contrast (wb_chart_theme_get_colour (theme, WB_CHART_COLOUR_AXIS), background), >=, 3.0);
      for (int i = -1; i < WB_CHART_N_SERIES_COLOURS; i++)
        g_assert_cmpfloat (contrast (wb_chart_theme_get_series_colour (theme, i), background), >=, 3.0);
    }
}

static WbChartColour
pixel_of (cairo_surface_t *surface,
          int              x,
          int              y)
{
  guint32 pixel;

  memcpy (&pixel, cairo_image_surface_get_data (surface) + y * cairo_image_surface_get_stride (surface) + x * 4, sizeof pixel);
  return (WbChartColour) { (pixel >> 16 & 0xff) / 255.0, (pixel >> 8 & 0xff) / 255.0, (pixel & 0xff) / 255.0 };
}

/* Every part of a bar can be told from the ground it stands on, by its fill or by its edge: WCAG 2.1, 1.4.11. */
static void
test_parts_stand_out (void)
{
  static const WbChartParts kinds[] = { WB_CHART_PARTS_NAMED, WB_CHART_PARTS_REST, WB_CHART_PARTS_ORDERED };
  const guint n = 6;

  for (int theme = 0; theme < WB_CHART_N_THEMES; theme++)
    for (guint kind = 0; kind < G_N_ELEMENTS (kinds); kind++)
      for (guint part = 0; part < n; part++)
        {
          cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, 120, 80);
          cairo_t         *cr = cairo_create (surface);
          WbChartColour    ground = wb_chart_theme_get_colour (theme, WB_CHART_COLOUR_PLOT);
          double           best = 0;

          cairo_scale (cr, 4, 4);
          cairo_set_source_rgb (cr, ground.red, ground.green, ground.blue);
          cairo_paint (cr);
          wb_chart_paint_part (cr, theme, kinds[kind], part, n, 0, 5, 5, 20, 10);
          cairo_surface_flush (surface);
          /* from the ground into the part, along its middle */
          for (int x = 16; x < 32; x++)
            best = fmax (best, contrast (pixel_of (surface, x, 40), ground));
          g_test_message ("theme %d, kind %u, part %u: %.1f", theme, kind, part, best);
          g_assert_cmpfloat (best, >=, 3.0);
          cairo_destroy (cr);
          cairo_surface_destroy (surface);
        }
}

/* In a grey print too the rest is told from every named part of its bar, the first among them: by lightness, 0 to 100. */
static void
test_rest_in_grey (void)
{
  for (int theme = 0; theme < WB_CHART_N_THEMES; theme++)
    for (guint n = 2; n <= WB_CHART_N_SERIES_COLOURS + 1; n++)
      {
        double rest = lab_of (linear_of (wb_chart_paint_part_colour (theme, WB_CHART_PARTS_REST, n - 1, n, 0))).v[0];

        for (guint part = 0; part + 1 < n; part++)
          {
            double named = lab_of (linear_of (wb_chart_paint_part_colour (theme, WB_CHART_PARTS_REST, part, n, 0))).v[0];

            g_test_message ("theme %d, part %u of %u: %.0f, the rest %.0f", theme, part, n, named, rest);
            g_assert_cmpfloat (fabs (named - rest), >=, 12.0);
          }
      }
}

/* Colour and marker together say which series it is, for all 48 of them. */
static void
test_looks (void)
{
  for (int a = 0; a < WB_CHART_N_SERIES_COLOURS * WB_CHART_N_MARKERS; a++)
    for (int b = 0; b < a; b++)
      {
        WbChartColour first = wb_chart_theme_get_series_colour (WB_CHART_THEME_LIGHT, a);
        WbChartColour second = wb_chart_theme_get_series_colour (WB_CHART_THEME_LIGHT, b);

        g_assert_false (first.red == second.red && first.green == second.green && first.blue == second.blue
                        && wb_chart_theme_get_series_marker (a) == wb_chart_theme_get_series_marker (b));
      }
}

/* A heat map grows steadily darker, or brighter on a dark ground, so that it reads in grey. */
static void
test_heat (void)
{
  for (int theme = 0; theme < WB_CHART_N_THEMES; theme++)
    {
      double sign
          = theme == WB_CHART_THEME_DARK || theme == WB_CHART_THEME_HIGH_CONTRAST_DARK ? 1.0 : -1.0,
          last = NAN;

      for (int i = 0; i <= 20; i++)
        {
          double lightness
              = lab_of (linear_of (wb_chart_theme_get_heat_colour (theme, i / 20.0, FALSE))).v[0];

          if (i > 0)
            g_assert_cmpfloat ((lightness - last) * sign, >, 0.5);
          last = lightness;
        }
    }
}

static void
test_sample (void)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_A8, 24, 12);
  cairo_t         *cr = cairo_create (surface);
  guint            ink = 0;

  wb_chart_sample_draw (WB_CHART_THEME_LIGHT, cr, 3, 24, 12);
  cairo_surface_flush (surface);
  for (int i = 0; i < 12 * cairo_image_surface_get_stride (surface); i++)
    ink += cairo_image_surface_get_data (surface)[i] != 0;
  g_assert_cmpuint (ink, >, 20);
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
}

void
test_theme_add (void)
{
  g_test_add_func ("/chart/theme/series-stay-apart-in-every-colour-vision", test_distances);
  g_test_add_func ("/chart/theme/neighbours-differ-in-grey", test_grey);
  g_test_add_func ("/chart/theme/any-two-of-24-differ-in-grey", test_grey_looks);
  g_test_add_func ("/chart/theme/contrast-is-that-of-wcag", test_contrast);
  g_test_add_func ("/chart/theme/every-part-stands-out-from-the-ground", test_parts_stand_out);
  g_test_add_func ("/chart/theme/the-rest-of-a-bar-is-told-from-its-parts-in-grey", test_rest_in_grey);
  g_test_add_func ("/chart/theme/48-series-have-looks-of-their-own", test_looks);
  g_test_add_func ("/chart/theme/heat-is-steady-in-grey", test_heat);
  g_test_add_func ("/chart/theme/a-sample-leaves-ink", test_sample);
}
