/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-foretell-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-calc-quantile.h"
#include "wb-calc-random.h"
#include "wb-craft-foretell-model-private.h"
#include "wb-craft-growth-private.h"

#define NEAR_INNER 0.04      /* a vessel this near to one tried is not outside */
#define NEAR_LOAD_PCT 1.0

WbCraftForetell *
wb_craft_foretell_new (const GArray *lessons)
{
  g_autoptr (WbCraftForetell) self = g_new0 (WbCraftForetell, 1);

  self->cases = g_array_new (FALSE, TRUE, sizeof (WbCraftCase));
  self->series = g_ptr_array_new ();
  self->waxes = g_ptr_array_new ();
  self->draws = g_hash_table_new_full (NULL, NULL, NULL, (GDestroyNotify) wb_craft_draws_free);
  self->scores = g_hash_table_new_full (NULL, NULL, NULL, (GDestroyNotify) wb_craft_score_free);
  return wb_craft_foretell_learn (self, lessons) ? g_steal_pointer (&self) : NULL;
}

void
wb_craft_foretell_free (WbCraftForetell *self)
{
  if (self == NULL)
    return;
  g_array_unref (self->cases);
  g_ptr_array_unref (self->series);
  g_ptr_array_unref (self->waxes);
  g_hash_table_unref (self->scores);
  g_hash_table_unref (self->draws);
  for (guint answer = 0; answer < WB_CRAFT_N_ANSWERS; answer++)
    {
      wb_calc_ridge_clear (&self->fit[answer]);
      g_free (self->root[answer]);
    }
  g_free (self);
}

gboolean
wb_craft_foretell_knows_the_end (const WbCraftForetell *self)
{
  return self->root[WB_CRAFT_ANSWER_WORST_FLAME] != NULL && self->root[WB_CRAFT_ANSWER_WORST_RISE] != NULL;
}

gboolean
wb_craft_foretell_knows_series (const WbCraftForetell *self,
                                const char            *series)
{
  return wb_craft_foretell_find (self->series, series, FALSE) != G_MAXUINT;
}

char *
wb_craft_foretell_dup_outside (const WbCraftForetell *self,
                               const WbCraftRecipe   *recipe)
{
  g_autoptr (GPtrArray) words = g_ptr_array_new ();
  gint64 lowest = G_MAXINT64, highest = G_MININT64;
  double narrowest = INFINITY, widest = 0, least_load = INFINITY, most_load = -INFINITY;
  gboolean wicks_tried = FALSE;

  for (guint i = 0; i < self->cases->len; i++)
    {
      const WbCraftRecipe *tried = &g_array_index (self->cases, WbCraftCase, i).recipe;

      if (g_str_equal (tried->series, recipe->series))
        {
          lowest = MIN (lowest, tried->step);
          highest = MAX (highest, tried->step);
        }
      narrowest = MIN (narrowest, tried->inner_mm);
      widest = MAX (widest, tried->inner_mm);
      least_load = MIN (least_load, tried->load_pct);
      most_load = MAX (most_load, tried->load_pct);
      wicks_tried = wicks_tried || tried->wicks == recipe->wicks;
    }
  if (lowest == G_MAXINT64)
    g_ptr_array_add (words, (gpointer) _("series never tried"));
  else if (recipe->step < lowest || recipe->step > highest)
    g_ptr_array_add (words, (gpointer) _("size outside those tried"));
  if (recipe->inner_mm < narrowest * (1 - NEAR_INNER) || recipe->inner_mm > widest * (1 + NEAR_INNER))
    g_ptr_array_add (words, (gpointer) _("vessel outside those tried"));
  if (wb_craft_foretell_find (self->waxes, recipe->wax, FALSE) == G_MAXUINT)
    g_ptr_array_add (words, (gpointer) _("wax never tried"));
  if (recipe->load_pct < least_load - NEAR_LOAD_PCT || recipe->load_pct > most_load + NEAR_LOAD_PCT)
    g_ptr_array_add (words, (gpointer) _("load outside those tried"));
  if (!wicks_tried)
    g_ptr_array_add (words, (gpointer) _("number of wicks never tried"));
  if (words->len == 0)
    return NULL;
  g_ptr_array_add (words, NULL);
  return g_strjoinv (", ", (char **) words->pdata);
}

/* One draw of the coefficients of an answer. */
static void
draw_beta (const WbCraftForetell *self,
           WbCraftAnswerKind      answer,
           WbCalcRandom          *random,
           double                *beta,
           double                *rest_sd)
{
  const WbCalcRidge *fit = &self->fit[answer];
  double scale = self->chi[answer][wb_calc_random_below (random, WB_CRAFT_FORETELL_N_CHI)] * sqrt (fit->b / fit->a);

  for (guint j = 0; j < self->p; j++)
    beta[j] = fit->mean[j];
  for (guint k = 0; k < self->p; k++)
    {
      double z = scale * wb_calc_random_normal (random);

      for (guint j = k; j < self->p; j++)
        beta[j] += self->root[answer][j * self->p + k] * z;
    }
  *rest_sd = scale;
}

/* Chance that a candle's logarithm passes the stop's. */
static double
chance_over (double stop,
             double log_value,
             double sd)
{
  double z = log (stop) - log_value;

  return sd > 0 ? 1 - wb_calc_normal_below (z / sd) : z < 0;
}

static double
predict (const WbCraftForetell *self,
         const double          *row,
         const double          *beta,
         double                 spread,
         double                 z)
{
  double sum = spread * z;

  for (guint j = 0; j < self->p; j++)
    sum += row[j] * beta[j];
  return sum;
}

WbCraftForetold *
wb_craft_foretell_draw (const WbCraftForetell *self,
                        const WbCraftRecipe   *recipes,
                        guint                  n,
                        guint                  draws,
                        guint64                seed)
{
  WbCraftForetold *foretold = g_new0 (WbCraftForetold, (gsize) n * draws);
  g_autofree double *rows = g_new0 (double, (gsize) n * self->p);
  g_autofree double *beta = g_new0 (double, self->p);
  WbCalcRandom random;

  for (guint i = 0; i < n; i++)
    wb_craft_foretell_put_row (self, &recipes[i], rows + (gsize) i * self->p);
  for (guint draw = 0; draw < draws; draw++)
    {
      double tau;

      if (draw % WB_CALC_RANDOM_BLOCK == 0)
        wb_calc_random_init (&random, seed, draw / WB_CALC_RANDOM_BLOCK);
      tau = exp (self->log_tau + self->tau_sd * wb_calc_random_normal (&random));
      for (guint answer = 0; answer < WB_CRAFT_N_ANSWERS; answer++)
        {
          double rest_sd;

          if (self->root[answer] == NULL)
            continue;
          draw_beta (self, answer, &random, beta, &rest_sd);
          for (guint i = 0; i < n; i++)
            {
              WbCraftForetold *item = &foretold[(gsize) draw * n + i];
              double y = predict (self, rows + (gsize) i * self->p, beta,
                                  hypot (rest_sd, wb_craft_foretell_unknown_sd (self, &recipes[i], answer)), wb_calc_random_normal (&random));

              if (answer == WB_CRAFT_ANSWER_LIMIT)
                item->limit_mm = exp (y);
              else if (answer == WB_CRAFT_ANSWER_FLAME)
                item->flame_mm = exp (y);
              else
                item->p_cross = 1 - (1 - item->p_cross)
                                    * (1 - chance_over (answer == WB_CRAFT_ANSWER_WORST_FLAME ? self->flame_stop
                                                                              : self->vessel_stop - WB_CRAFT_FORETELL_ROOM_C,
                                                        y, self->candle_sd[answer]));
            }
        }
      for (guint i = 0; i < n; i++)
        {
          WbCraftForetold *item = &foretold[(gsize) draw * n + i];

          item->full_pool_h = wb_craft_growth_time (item->limit_mm, tau, 1, recipes[i].inner_mm);
        }
    }
  for (guint i = 0; i < n; i++)
    {
      wb_craft_foretell_put_tested (self, &recipes[i], rows + (gsize) i * self->p, i, n, draws, seed, foretold);
      wb_craft_foretell_put_above (self, &recipes[i], i, n, draws, foretold);
    }
  return foretold;
}
