/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-effects-model-private.h"

#include <math.h>

#include "wb-calc-quantile.h"
#include "wb-craft-earlier-private.h"
#include "wb-craft-estimates-private.h"
#include "wb-craft-scale-private.h"
#include "wb-craft-vessel-private.h"

#define HOUR_S 3600.0
#define USUAL_BURN_H 4.0     /* without a protocol; the house protocol's */
#define MOST_NEVER 0.05      /* chance that the pool never fills, above which its time has no upper end */

static gboolean
is_curve (WbFigure figure)
{
  return figure == WB_FIGURE_POOL || figure == WB_FIGURE_POOL_LIMIT || figure == WB_FIGURE_TAU || figure == WB_FIGURE_FULL_POOL;
}

static WbCraftEffectsModel *
model_alloc (guint n_cells)
{
  WbCraftEffectsModel *self = g_new0 (WbCraftEffectsModel, 1);
  guint n = MAX (n_cells, 1);

  self->n_cells = n_cells;
  self->has = g_new0 (gboolean, n);
  self->told = g_new0 (double, n);
  self->of_level = g_new0 (double, n);
  self->of_tau = g_new0 (double, n);
  self->samples = g_new0 (guint, n);
  self->burns = g_new0 (guint, n);
  return self;
}

void
wb_craft_effects_model_free (WbCraftEffectsModel *self)
{
  if (self == NULL)
    return;
  g_free (self->has);
  g_free (self->told);
  g_free (self->of_level);
  g_free (self->of_tau);
  g_free (self->samples);
  g_free (self->burns);
  g_clear_pointer (&self->pools, wb_craft_pools_free);
  g_free (self);
}

/*
 * A value that cannot be below 0 is told as what is expected of it, E max (0, m + se Z) = m Phi (m / se) +
 * se phi (m / se), which moves by Phi (m / se) with m.
 */
static void
tell_floored (WbCraftEffectsModel   *self,
              guint                  cell,
              const WbCraftEstimate *estimate)
{
  double z = estimate->se > 0 ? estimate->mean / estimate->se : estimate->mean > 0 ? INFINITY : -INFINITY;
  double above = wb_calc_normal_below (z);

  self->told[cell] = (above > 0 ? estimate->mean * above : 0) + (isfinite (z) ? estimate->se * exp (-z * z / 2) / sqrt (2 * G_PI) : 0);
  self->of_level[cell] = above;
}

static gboolean
fill_by_model (WbCraftEffectsModel    *self,
               const WbDataset        *data,
               const WbCraftFigures   *figures,
               const WbCraftEstimates *estimates,
               WbFigure                figure)
{
  g_autoptr (GArray) values = wb_craft_estimates_gather (data, figures, figure, WB_STAGE_ALL, FALSE, NULL, estimates->room_c);
  g_autofree WbCraftEstimate *cells = g_new0 (WbCraftEstimate, MAX (self->n_cells, 1));
  WbCraftMeanPrior prior = wb_craft_earlier_get_prior (estimates->earlier, figure);

  self->basis = WB_CRAFT_EFFECTS_BY_MODEL;
  self->log_scale = wb_craft_scale_is_log (figure);
  if (values->len == 0 || (self->means = wb_craft_means_find (estimates->memo, values, self->n_cells, NULL, &prior, NULL, NULL)) == NULL)
    return FALSE;
  wb_craft_means_fill (self->means, values, self->n_cells, cells);
  for (guint cell = 0; cell < self->n_cells; cell++)
    {
      if (isnan (cells[cell].mean))
        continue;
      self->has[cell] = TRUE;
      self->told[cell] = self->log_scale ? exp (cells[cell].mean) : cells[cell].mean;
      self->of_level[cell] = self->log_scale ? self->told[cell] : 1;
      if (prior.floored)
        tell_floored (self, cell, &cells[cell]);
      self->samples[cell] = cells[cell].samples;
      self->burns[cell] = cells[cell].burns;
    }
  return TRUE;
}

/*
 * The pool at a time: D = A (1 - exp (-u)), u = (t / tau)^g, so that dD / dln A = D and
 * dD / dln tau = -A exp (-u) g u.
 */
static void
tell_pool (WbCraftEffectsModel *self,
           guint                cell,
           double               limit,
           double               tau,
           double               exponent,
           double               t_h)
{
  double u = pow (t_h / tau, exponent);

  self->told[cell] = self->of_level[cell] = limit * -expm1 (-u);
  self->of_tau[cell] = -limit * exp (-u) * exponent * u;
  self->has[cell] = self->told[cell] > 0;
}

/*
 * The time to the wall: T = tau L^(1 / g), L = -ln (1 - x), x = wall / A, so that dT / dln tau = T
 * and dT / dln A = -T x / (g L (1 - x)). Where the pool may well never get there no such number is told.
 */
static void
tell_full_pool (WbCraftEffectsModel *self,
                guint                cell,
                double               limit,
                double               tau,
                double               exponent,
                double               wall_mm,
                double               p_never)
{
  double x = wall_mm / limit, l = -log1p (-x), time = wb_craft_growth_time (limit, tau, exponent, wall_mm);

  if (!isfinite (time) || !(time > 0) || !(p_never <= MOST_NEVER))
    return;
  self->told[cell] = self->of_tau[cell] = time;
  self->of_level[cell] = -time * x / (exponent * l * (1 - x));
  self->has[cell] = TRUE;
}

static gboolean
fill_by_curves (WbCraftEffectsModel    *self,
                const WbDataset        *data,
                const WbCraftFigures   *figures,
                const WbCraftEstimates *estimates,
                WbFigure                figure)
{
  WbCraftSpread earlier = wb_craft_earlier_get_spread (estimates->earlier);
  double burn_h = data->protocol != NULL && data->protocol->burn_s > 0 ? data->protocol->burn_s / HOUR_S : USUAL_BURN_H;
  double exponent;

  self->basis = WB_CRAFT_EFFECTS_BY_CURVES;
  self->log_scale = TRUE;
  self->pools = wb_craft_pools_new (estimates->memo, data, figures, WB_STAGE_ALL, NULL, earlier, NULL, NULL);
  if (self->pools == NULL)
    return FALSE;
  exponent = wb_craft_pools_get_exponent (self->pools);
  for (guint cell = 0; cell < self->n_cells; cell++)
    {
      double log_limit, log_tau;

      wb_craft_pools_get (self->pools, cell, &log_limit, &log_tau, &self->samples[cell], &self->burns[cell]);
      if (isnan (log_limit) || isnan (log_tau))
        continue;
      if (figure == WB_FIGURE_POOL)
        tell_pool (self, cell, exp (log_limit), exp (log_tau), exponent, burn_h);
      else if (figure == WB_FIGURE_FULL_POOL)
        tell_full_pool (self, cell, exp (log_limit), exp (log_tau), exponent,
                        wb_craft_vessel_inner_mm (wb_dataset_get_vessel (data, cell), WB_STAGE_UPPER),
                        estimates->cells[cell].growth.p_never);
      else
        {
          self->has[cell] = TRUE;
          self->told[cell] = exp (figure == WB_FIGURE_TAU ? log_tau : log_limit);
          *(figure == WB_FIGURE_TAU ? &self->of_tau[cell] : &self->of_level[cell]) = self->told[cell];
        }
    }
  return TRUE;
}

WbCraftEffectsModel *
wb_craft_effects_model_new (const WbDataset        *data,
                            const WbCraftFigures   *figures,
                            const WbCraftEstimates *estimates,
                            WbFigure                figure)
{
  g_autoptr (WbCraftEffectsModel) self = model_alloc (data->cells->len);

  if (figure == WB_FIGURE_SCORE || wb_craft_scale_is_rating (figure))
    return NULL;
  if (!(is_curve (figure) ? fill_by_curves (self, data, figures, estimates, figure)
                          : fill_by_model (self, data, figures, estimates, figure)))
    return NULL;
  return g_steal_pointer (&self);
}

gboolean
wb_craft_effects_model_contrast (const WbCraftEffectsModel *self,
                                 const double              *weights,
                                 WbCraftContrast           *contrast)
{
  g_autofree double *of_level = g_new0 (double, MAX (self->n_cells, 1)), *of_tau = g_new0 (double, MAX (self->n_cells, 1));
  WbCalcMixedContrast by_model;
  WbCalcGrowthContrast by_curves;
  double value = 0;

  for (guint cell = 0; cell < self->n_cells; cell++)
    if (self->has[cell] && weights[cell] != 0)
      {
        value += weights[cell] * self->told[cell];
        of_level[cell] = weights[cell] * self->of_level[cell];
        of_tau[cell] = weights[cell] * self->of_tau[cell];
      }
  if (self->means != NULL)
    {
      if (!wb_craft_means_contrast (self->means, of_level, &by_model))
        return FALSE;
      *contrast = (WbCraftContrast) { value, by_model.sd, by_model.df };
    }
  else
    {
      if (!wb_craft_pools_contrast (self->pools, of_level, of_tau, &by_curves))
        return FALSE;
      *contrast = (WbCraftContrast) { value, by_curves.sd, by_curves.df };
    }
  return isfinite (contrast->value) && isfinite (contrast->error);
}
