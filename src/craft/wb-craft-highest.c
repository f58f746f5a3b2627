/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-highest-private.h"

#include <math.h>

#include "wb-calc-linear.h"
#include "wb-craft-burn-private.h"
#include "wb-craft-scale-private.h"

#define DEGREE 3            /* of the course in time */
#define LEAST_DF 10         /* fewer say nothing of how readers err */
#define READER_AT_MOST 2.0  /* times the usual reader's error of the figure; no source */
#define READER_REACH 2.5    /* a rest of so many standard deviations has happened */
#define HOURS_A_UNIT 4.0

typedef struct
{
  guint  burn;     /* index in the figures */
  double hours;    /* in units of HOURS_A_UNIT */
  double y;
} Look;

static double
read_figure (const WbReadings *readings,
             guint             row,
             WbFigure          figure)
{
  switch (figure)
    {
    case WB_FIGURE_DEPTH:
      return wb_readings_get (readings, row, WB_COLUMN_DEPTH_MM);
    case WB_FIGURE_FLAME:
      return fmax (wb_readings_get (readings, row, WB_COLUMN_FLAME_MM), wb_readings_get (readings, row, WB_COLUMN_FLAME_MAX_MM));
    case WB_FIGURE_VESSEL:
      return wb_readings_get (readings, row, WB_COLUMN_VESSEL_C);
    default:
      return NAN;
    }
}

/* Every reading after the lighting of the burns that speak of the figure. */
static GArray *
gather (const WbDataset      *data,
        const WbCraftFigures *figures,
        WbFigure              figure,
        double                room_c)
{
  GArray *looks = g_array_new (FALSE, FALSE, sizeof (Look));

  for (guint i = 0; i < figures->n_burns; i++)
    {
      const WbCraftBurn *burn = &figures->burns[i];
      double room = isnan (burn->room_c) ? room_c : burn->room_c;
      guint first, n;

      if (!wb_craft_burn_speaks (data, burn, figure))
        continue;
      wb_readings_get_burn_rows (data->readings, burn->burn, &first, &n);
      for (guint row = first; row < first + n; row++)
        {
          double minute = wb_readings_get_elapsed_min (data->readings, row);
          Look look = { i, minute / 60 / HOURS_A_UNIT, wb_craft_scale_from (figure, read_figure (data->readings, row, figure), room) };

          if (minute > 0 && !isnan (look.y))
            g_array_append_val (looks, look);
        }
    }
  return looks;
}

static guint
end_of_burn (const GArray *looks,
             guint         first)
{
  guint end = first + 1;

  while (end < looks->len && g_array_index (looks, Look, end).burn == g_array_index (looks, Look, first).burn)
    end++;
  return end;
}

/* y and the powers of time, each less its burn's mean; returns how many burns. */
static guint
centre (const GArray *looks,
        guint         degree,
        double       *x,
        double       *y)
{
  guint n_burns = 0;

  for (guint first = 0, end; first < looks->len; first = end, n_burns++)
    {
      double mean[DEGREE + 1] = { 0 };

      end = end_of_burn (looks, first);
      for (guint i = first; i < end; i++)
        {
          const Look *look = &g_array_index (looks, Look, i);

          mean[0] += look->y / (end - first);
          for (guint j = 1; j <= degree; j++)
            mean[j] += pow (look->hours, j) / (end - first);
        }
      for (guint i = first; i < end; i++)
        {
          const Look *look = &g_array_index (looks, Look, i);

          y[i] = look->y - mean[0];
          for (guint j = 1; j <= degree; j++)
            x[i * degree + j - 1] = pow (look->hours, j) - mean[j];
        }
    }
  return n_burns;
}

/* What of each reading's rest is the reader's is taken off `looks`. FALSE: too little was read to tell. */
static gboolean
smooth (GArray *looks,
        double  usual_sd,
        double *reader_sd)
{
  g_autofree double *x = g_new (double, MAX (looks->len, 1) * DEGREE), *y = g_new (double, MAX (looks->len, 1));
  WbCalcLinear fit = { 0 };
  WbCalcStatus status = WB_CALC_TOO_FEW;
  guint degree = DEGREE, n_burns = 0;
  double sd, reader, kept, a_burn;

  for (; degree > 0 && status != WB_CALC_OK; degree -= status != WB_CALC_OK)
    {
      n_burns = centre (looks, degree, x, y);
      if (looks->len < n_burns + degree + LEAST_DF)
        return FALSE;
      status = wb_calc_linear_fit (x, y, NULL, looks->len, degree, FALSE, &fit);
    }
  if (status != WB_CALC_OK)
    return FALSE;
  sd = sqrt (fit.residual_sum_sq / (looks->len - n_burns - degree));
  reader = MIN (sd, READER_AT_MOST * usual_sd);
  kept = sd > 0 ? 1 - (reader / sd) * (reader / sd) : 1;
  a_burn = (double) looks->len / n_burns;
  *reader_sd = reader * sqrt (kept * kept + (1 - kept * kept) / a_burn);
  for (guint i = 0; i < looks->len; i++)
    {
      double rest = y[i];

      for (guint j = 0; j < degree; j++)
        rest -= fit.coefficient[j] * x[i * degree + j];
      g_array_index (looks, Look, i).y -= (1 - kept) * CLAMP (rest, -READER_REACH * sd, READER_REACH * sd);
    }
  wb_calc_linear_clear (&fit);
  return TRUE;
}

WbCraftHighest *
wb_craft_highest_new (const WbDataset      *data,
                      const WbCraftFigures *figures,
                      WbFigure              figure,
                      double                room_c)
{
  WbCraftHighest *self;
  g_autoptr (GArray) looks = NULL;

  if (figure != WB_FIGURE_DEPTH && figure != WB_FIGURE_FLAME && figure != WB_FIGURE_VESSEL)
    return NULL;
  self = g_new0 (WbCraftHighest, 1);
  self->burn = g_new (double, MAX (figures->n_burns, 1));
  for (guint i = 0; i < figures->n_burns; i++)
    self->burn[i] = NAN;
  looks = gather (data, figures, figure, room_c);
  if (!smooth (looks, wb_craft_scale_get_prior (figure).reader_sd, &self->reader_sd))
    self->reader_sd = wb_craft_scale_get_prior (figure).reader_sd;
  for (guint i = 0; i < looks->len; i++)
    {
      const Look *look = &g_array_index (looks, Look, i);

      self->burn[look->burn] = fmax (self->burn[look->burn], look->y);
    }
  return self;
}

void
wb_craft_highest_free (WbCraftHighest *self)
{
  if (self == NULL)
    return;
  g_free (self->burn);
  g_free (self);
}
