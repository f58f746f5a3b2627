/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-school-private.h"

#include <math.h>

#include "wb-calc-quantile.h"
#include "wb-craft-vessel-private.h"

/*
 * What is no curve and tells of growth all the same: a cell whose pool was at the wall whenever it was read, and a supplier's
 * diameters.
 */

#define NO_WEIGHT 1e6      /* noise of a row that says nothing */
#define LEAST_SITE 4e-4    /* 2 % of a diameter: when it was first seen there is no finer than that */
#define EARLIEST_WALL_H 0.25 /* a pool that is at the wall sooner says no more than at this hour */
#define OTHERS_MOST 2.0    /* standard deviations */
#define SUPPLIER_SD 0.07   /* of ln D∞ of one size, beside what all diameters of a series share: together about a step and a half; no source */

/* Least ln D∞ by which the pool is at the wall after so long. */
static double
log_least (double inner_mm,
           double hours,
           double log_tau)
{
  return log (inner_mm) - log (-expm1 (-hours / exp (log_tau)));
}

/* Mean and variance of a normal between two bounds; `above` may be INFINITY. */
static void
cut_normal (double  mean,
            double  sd,
            double  from,
            double  above,
            double *cut_mean,
            double *cut_variance)
{
  double a = (from - mean) / sd, b = (above - mean) / sd;
  double mass = wb_calc_normal_below (b) - wb_calc_normal_below (a);
  double at_a = exp (-0.5 * a * a) / sqrt (2 * G_PI), at_b = isinf (b) ? 0 : exp (-0.5 * b * b) / sqrt (2 * G_PI);
  double shift;

  if (mass < 1e-9)
    {
      /* far outside: next to the nearer bound */
      *cut_mean = a > 0 ? from + sd / a : above + sd / b;
      *cut_variance = fmax (pow (sd / (a > 0 ? a : b), 2), 1e-6 * sd * sd);
      return;
    }
  shift = (at_a - at_b) / mass;
  *cut_mean = mean + sd * shift;
  *cut_variance = sd * sd * fmax (1 + (a * at_a - (isinf (b) ? 0 : b * at_b)) / mass - shift * shift, 1e-6);
}

static double
kin_variance (const WbCraftSchoolModel *growth,
              WbCraftKin                kin)
{
  return exp (2 * wb_calc_pooled_get_log_spreads (growth->fit)[growth->family[kin]]);
}

/* A seat: has it a curve? Caller frees. */
static gboolean *
find_curves (const WbCraftSchool *school)
{
  gboolean *curves = g_new0 (gboolean, MAX (school->seats->len, 1));

  for (guint i = 0; i < school->seats->len; i++)
    {
      const WbCraftSeat *seat = &g_array_index (school->seats, WbCraftSeat, i);

      for (guint k = seat->first; k < seat->first + seat->n_figures; k++)
        {
          const WbLessonFigure *figure = &g_array_index (seat->lesson->figures, WbLessonFigure, k);

          curves[i] = curves[i] || (figure->figure == WB_FIGURE_POOL_LIMIT && isfinite (figure->mean));
        }
    }
  return curves;
}

/* Steps to the nearest size of the series that has a curve, 1 at least; NAN: none has. */
static double
steps_to_curve (const WbCraftSchool *school,
                const gboolean      *curves,
                const WbCraftSeat   *of)
{
  double least = NAN;

  for (guint i = 0; i < school->seats->len; i++)
    {
      const WbCraftSeat *seat = &g_array_index (school->seats, WbCraftSeat, i);

      if (curves[i] && seat->level[WB_CRAFT_LEVEL_SERIES] == of->level[WB_CRAFT_LEVEL_SERIES])
        least = fmin (least, fmax (ABS (seat->step - of->step), 1));
    }
  return least;
}

/*
 * Expectation propagation of one interval (Minka, UAI 17 (2001) 362), with the spread of what the others say of the cell taken from
 * the spreads: the site is what, put beside that, has mean and variance of the normal cut off where the readings cut it.
 */
static void
move_wall (const WbCraftSchool *school,
           const gboolean      *curves,
           WbCraftWall         *wall)
{
  const WbCraftSchoolModel *growth = &school->models[WB_CRAFT_SCHOOL_GROWTH];
  const double *beta = wb_calc_pooled_get_mean (growth->fit);
  const WbCraftSeat *seat = &g_array_index (school->seats, WbCraftSeat, wall->seat);
  double variance = kin_variance (growth, WB_CRAFT_KIN_WICK) + kin_variance (growth, WB_CRAFT_KIN_HERE) + kin_variance (growth, WB_CRAFT_KIN_POUR);
  double steps = steps_to_curve (school, curves, seat);
  double log_tau, others, from, above, cut_mean, cut_variance, precision, now = 0;
  WbCraftTerms pace;

  if (!isnan (steps))
    variance += steps * steps * (kin_variance (growth, WB_CRAFT_KIN_SLOPE) + pow (growth->belief->term[WB_CRAFT_TERM_STEP].sd, 2));
  else
    variance += kin_variance (growth, WB_CRAFT_KIN_SERIES) + pow (growth->belief->term[WB_CRAFT_TERM_INNER].sd / 2, 2);
  for (gsize k = g_array_index (growth->start, gsize, wall->row); k < g_array_index (growth->start, gsize, wall->row + 1); k++)
    now += g_array_index (growth->values, double, k) * beta[g_array_index (growth->columns, gsize, k)];
  wb_craft_terms_init (&pace);
  wb_craft_school_model_put_pace ((WbCraftSchoolModel *) growth, seat, wall->stage, FALSE, 1, &pace);
  log_tau = 0;
  for (guint k = 0; k < pace.columns->len; k++)
    log_tau += g_array_index (pace.values, double, k) * beta[g_array_index (pace.columns, gsize, k)];
  wb_craft_terms_clear (&pace);
  /* what the others say without it; no further off than they may be, for their spread is only near to the one taken */
  others = isfinite (wall->noise) ? now + variance / wall->noise * (now - wall->mean) : now;
  others = CLAMP (others, now - OTHERS_MOST * sqrt (variance), now + OTHERS_MOST * sqrt (variance));
  from = log_least (seat->inner_mm, fmax (wall->late_h, EARLIEST_WALL_H), log_tau);
  above = wall->early_h > 0 ? fmax (log_least (seat->inner_mm, wall->early_h, log_tau), from + 0.01) : INFINITY;
  cut_normal (others, sqrt (variance), from, above, &cut_mean, &cut_variance);
  precision = 1 / cut_variance - 1 / variance;
  if (!(precision > 1 / NO_WEIGHT))
    {
      wall->noise = INFINITY;
      return;
    }
  wall->mean = cut_mean + (cut_mean - others) / (precision * variance);
  wall->noise = fmax (1 / precision, LEAST_SITE);
}

void
wb_craft_school_put_walls (WbCraftSchool *self)
{
  WbCraftSchoolModel *growth = &self->models[WB_CRAFT_SCHOOL_GROWTH];

  for (guint i = 0; i < growth->walls->len; i++)
    {
      const WbCraftWall *wall = &g_array_index (growth->walls, WbCraftWall, i);

      g_array_index (growth->y, double, wall->row) = isfinite (wall->noise) ? wall->mean : 0;
      g_array_index (growth->noise, double, wall->row) = isfinite (wall->noise) ? wall->noise : NO_WEIGHT;
    }
}

void
wb_craft_school_move_walls (WbCraftSchool *self)
{
  WbCraftSchoolModel *growth = &self->models[WB_CRAFT_SCHOOL_GROWTH];
  g_autofree gboolean *curves = find_curves (self);

  for (guint i = 0; i < growth->walls->len; i++)
    move_wall (self, curves, &g_array_index (growth->walls, WbCraftWall, i));
  wb_craft_school_put_walls (self);
}

/* ---- suppliers ---- */

gboolean
wb_craft_school_seat_guide (WbCraftSchool     *self,
                            const WbWickGuide *guide,
                            const GPtrArray   *wicks,
                            const GPtrArray   *waxes,
                            gboolean           add,
                            WbCraftSeat       *seat)
{
  const WbWick *wick = NULL;
  const char *wax = NULL;

  for (guint i = 0; i < wicks->len && wick == NULL; i++)
    if (((const WbRecord *) g_ptr_array_index (wicks, i))->id == guide->wick)
      wick = g_ptr_array_index (wicks, i);
  for (guint i = 0; i < waxes->len && guide->wax != 0; i++)
    if (((const WbRecord *) g_ptr_array_index (waxes, i))->id == guide->wax)
      wax = ((const WbWax *) g_ptr_array_index (waxes, i))->name;
  if (wick == NULL || wick->series == NULL || wick->step == WB_INTEGER_NONE || !(guide->from_mm > 0) || !(guide->to_mm > 0))
    return FALSE;
  *seat = (WbCraftSeat) { .step = wick->step, .wicks = 1, .wall = -1, .inner_mm = (guide->from_mm + guide->to_mm) / 2, .load_pct = WB_CRAFT_SCHOOL_LOAD_PCT };
  wb_craft_register_seat (&self->names, seat, wick->series, wick->size, wax, add);
  /* it speaks of no vessel that was burnt, and of a wax only where it says so */
  seat->level[WB_CRAFT_LEVEL_MATERIAL] = seat->level[WB_CRAFT_LEVEL_VESSEL] = seat->level[WB_CRAFT_LEVEL_HERE] = G_MAXUINT;
  if (wax == NULL)
    seat->level[WB_CRAFT_LEVEL_WAX] = G_MAXUINT;
  return TRUE;
}

/* The middle of the diameters is taken for the vessel in which its full melt pool comes when it is due. */
void
wb_craft_school_learn_guides (WbCraftSchool   *self,
                              const GPtrArray *guides,
                              const GPtrArray *wicks,
                              const GPtrArray *waxes)
{
  WbCraftSchoolModel *growth = &self->models[WB_CRAFT_SCHOOL_GROWTH];
  const WbCraftBelief *term = growth->belief->term;

  for (guint i = 0; i < guides->len; i++)
    {
      WbCraftSeat seat;
      WbCraftTerms terms, pace;
      double log_tau, due, u, with, wax_variance = 0;

      if (!wb_craft_school_seat_guide (self, g_ptr_array_index (guides, i), wicks, waxes, FALSE, &seat))
        continue;
      due = seat.inner_mm / WB_CRAFT_MM_PER_INCH;
      log_tau = term[WB_CRAFT_TERM_PACE_COMMON].mean + term[WB_CRAFT_TERM_PACE_INNER].mean * seat.x[WB_CRAFT_TERM_INNER];
      u = due / exp (log_tau);
      with = u * exp (-u) / -expm1 (-u); /* d ln D∞ / d ln tau where the time is held */
      if (seat.level[WB_CRAFT_LEVEL_WAX] == G_MAXUINT)
        wax_variance = pow (growth->belief->kin[WB_CRAFT_KIN_WAX].usual, 2);
      wb_craft_terms_init (&terms);
      wb_craft_terms_init (&pace);
      wb_craft_school_model_put (growth, &seat, WB_STAGE_UPPER, TRUE, 1, &terms);
      wb_craft_school_model_put_pace (growth, &seat, WB_STAGE_UPPER, TRUE, 1, &pace);
      wb_craft_terms_mix (&terms, &pace, -with);
      wb_craft_terms_add (&terms, wb_craft_school_model_find (growth, WB_CRAFT_KIN_SUPPLIER, seat.level[WB_CRAFT_LEVEL_SERIES], TRUE), 1);
      wb_craft_school_model_add_row (growth, &terms, log_least (seat.inner_mm, due, log_tau) - with * log_tau,
                                     SUPPLIER_SD * SUPPLIER_SD + wax_variance);
      wb_craft_terms_clear (&terms);
      wb_craft_terms_clear (&pace);
    }
}
