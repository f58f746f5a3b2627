/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-highest-private.h"

#include <math.h>

#include "wb-calc-linear.h"
#include "wb-craft-burn-private.h"
#include "wb-craft-scale-private.h"

#define DEGREE 3            /* of a course in time */
#define LEAST_DF 10         /* fewer say nothing of how readers err */
#define READER_AT_MOST 2.0  /* times the usual reader's error of the figure; no source */
#define READER_REACH 2.5    /* a rest of so many standard deviations has happened */
#define HOURS_A_UNIT 4.0

typedef struct
{
  guint  burn;     /* index in the figures */
  guint  cell;
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
          Look look = { i, burn->cell, minute / 60 / HOURS_A_UNIT, wb_craft_scale_from (figure, read_figure (data->readings, row, figure), room) };

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

static gboolean
is_same_cell (const GArray *looks,
              guint         a,
              guint         b)
{
  return g_array_index (looks, Look, a).cell == g_array_index (looks, Look, b).cell;
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

/* What `n` readings have in common by the powers of time, y and x as centre() leaves them, into `own`; returns how many powers. */
static guint
fit_course (const double *x,
            const double *y,
            guint         n,
            guint         degree,
            double       *own)
{
  WbCalcLinear fit = { 0 };

  if (n < degree + 1 || wb_calc_linear_fit (x, y, NULL, n, degree, FALSE, &fit) != WB_CALC_OK)
    return 0;
  for (guint i = 0; i < n; i++)
    {
      own[i] = 0;
      for (guint j = 0; j < degree; j++)
        own[i] += fit.coefficient[j] * x[i * degree + j];
    }
  wb_calc_linear_clear (&fit);
  return degree;
}

static double
sum_squares (const double *y,
             guint         n)
{
  double sum = 0;

  for (guint i = 0; i < n; i++)
    sum += y[i] * y[i];
  return sum;
}

/*
 * A wick whose flame rises in every burn where others' stay has a course of its own, which is no error of the reader. Takes off
 * `rest`, y less the shared course, what the readings of each cell have in common beside it, shrunk as far as readers' errors
 * would show as much: after James and Stein (4th Berkeley Symp. 1 (1961) 361-379), never below 0, with all powers for their
 * number less two. Returns the degrees of freedom that went into it.
 */
static double
take_own_courses (const GArray *looks,
                  const double *x,
                  guint         degree,
                  double        usual_sd,
                  double       *rest)
{
  g_autofree double *own = g_new0 (double, looks->len);
  g_autoptr (GArray) cells = g_array_new (FALSE, FALSE, sizeof (guint)); /* where each begins, and how many powers it took */
  double within = 0, df = 0, taken = 0, variance;

  for (guint first = 0, end; first < looks->len; first = end)
    {
      guint n_burns = 0, powers;

      for (end = first; end < looks->len && is_same_cell (looks, first, end); n_burns++)
        end = end_of_burn (looks, end);
      powers = fit_course (x + first * degree, rest + first, end - first, degree, own + first);
      g_array_append_val (cells, first);
      g_array_append_val (cells, powers);
      within += sum_squares (rest + first, end - first) - sum_squares (own + first, end - first);
      df += (double) (end - first) - n_burns - powers;
    }
  variance = df >= LEAST_DF ? within / df : usual_sd * usual_sd;
  for (guint c = 0; c < cells->len; c += 2)
    {
      guint first = g_array_index (cells, guint, c), powers = g_array_index (cells, guint, c + 1);
      guint end = c + 2 < cells->len ? g_array_index (cells, guint, c + 2) : looks->len;
      double told = sum_squares (own + first, end - first);
      double share = told > powers * variance ? 1 - powers * variance / told : 0;

      for (guint i = first; i < end; i++)
        rest[i] -= share * own[i];
      taken += share * powers;
    }
  return taken;
}

/* The course that all burns share is taken off y. Returns its degree, 0 where too little was read to tell; x for it. */
static guint
take_shared_course (const GArray *looks,
                    double       *x,
                    double       *y,
                    guint        *n_burns)
{
  g_autofree double *shared = g_new (double, MAX (looks->len, 1));

  for (guint degree = DEGREE; degree > 0; degree--)
    {
      *n_burns = centre (looks, degree, x, y);
      if (looks->len < *n_burns + degree + LEAST_DF)
        return 0;
      if (fit_course (x, y, looks->len, degree, shared) == 0)
        continue;
      for (guint i = 0; i < looks->len; i++)
        y[i] -= shared[i];
      return degree;
    }
  return 0;
}

/* What of each reading's rest is the reader's is taken off `looks`. FALSE: too little was read to tell. */
static gboolean
smooth (GArray *looks,
        double  usual_sd,
        double *reader_sd)
{
  g_autofree double *x = g_new (double, MAX (looks->len, 1) * DEGREE), *rest = g_new (double, MAX (looks->len, 1));
  guint n_burns, degree = take_shared_course (looks, x, rest, &n_burns);
  double sd, reader, kept, a_burn, df;

  if (degree == 0)
    return FALSE;
  df = looks->len - n_burns - degree - take_own_courses (looks, x, degree, usual_sd, rest);
  sd = sqrt (sum_squares (rest, looks->len) / fmax (df, LEAST_DF));
  reader = MIN (sd, READER_AT_MOST * usual_sd);
  kept = sd > 0 ? 1 - (reader / sd) * (reader / sd) : 1;
  a_burn = (double) looks->len / n_burns;
  *reader_sd = reader * sqrt (kept * kept + (1 - kept * kept) / a_burn);
  for (guint i = 0; i < looks->len; i++)
    g_array_index (looks, Look, i).y -= (1 - kept) * CLAMP (rest[i], -READER_REACH * sd, READER_REACH * sd);
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
