/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-foretell-joint-private.h"

#include "wb-calc-joint.h"
#include "wb-calc-random.h"

void
wb_craft_point_init (WbCraftPoint        *self,
                     const WbCraftAsking *asking)
{
  gsize n = asking->n_rows, n_items = asking->items->len;

  self->mean = g_new (double, n + 1);
  self->covariance = g_new (double, n * n + 1);
  self->gain = g_new (double, asking->n_main * n_items + 1);
  self->told_mean = g_new (double, n_items + 1);
  self->with = g_new (double, n_items + 1);
  self->factor = g_new (gsize, n_items + 1);
  for (guint k = 0; k < n_items; k++)
    {
      self->with[k] = asking->model->belief->strength;
      self->factor[k] = g_array_index (asking->items, WbCraftItem, k).deviate;
    }
}

void
wb_craft_point_clear (WbCraftPoint *self)
{
  g_free (self->mean);
  g_free (self->covariance);
  g_free (self->gain);
  g_free (self->told_mean);
  g_free (self->with);
  g_free (self->factor);
}

/* Mean and covariance of rows `from` on, the items' standardised. */
static void
ask_rows (const WbCraftPoint  *self,
          const WbCraftAsking *asking,
          guint                point,
          guint                from)
{
  gsize n = asking->n_rows - from, first = asking->n_main - from;
  const WbCalcPooledRows rows = { n, (const size_t *) asking->start->data + from, (const size_t *) asking->columns->data,
                                  (const double *) asking->values->data };

  if (wb_calc_pooled_predict (asking->model->fit, point, &rows, self->mean, self->covariance) != WB_CALC_OK)
    g_error ("the foretold rows are not the model's");
  for (guint k = 0; k < asking->items->len; k++)
    {
      double mean, sd;

      wb_craft_asking_get_item (asking, point, k, &mean, &sd);
      self->told_mean[k] = (self->mean[first + k] - mean) / sd;
      for (gsize r = 0; r < n; r++)
        self->covariance[(first + k) * n + r] /= sd;
      for (gsize r = first; r < n; r++)
        self->covariance[r * n + first + k] /= sd;
    }
}

static WbCalcJointTold
get_told (const WbCraftPoint  *self,
          const WbCraftAsking *asking,
          guint                from)
{
  gsize n = asking->n_rows - from, first = asking->n_main - from;

  return (WbCalcJointTold) { asking->items->len, self->told_mean, self->covariance + first * n + first, n, self->with, self->factor };
}

void
wb_craft_point_find (WbCraftPoint        *self,
                     const WbCraftAsking *asking,
                     guint                point)
{
  WbCalcJointTold told = get_told (self, asking, 0);

  ask_rows (self, asking, point, 0);
  if (wb_calc_joint_condition (&told, self->covariance + (gsize) asking->n_main * asking->n_rows, asking->n_rows, asking->n_main, self->mean,
                               self->covariance, asking->n_rows, self->gain) != WB_CALC_OK)
    g_error ("what a model says of its levels is no distribution");
}

/* The factors' mean and root; what was never tried has none and stays as it is believed. */
static void
put_together (const WbCraftAsking *askings,
              guint                n_askings,
              guint                n_common,
              double              *mean,
              double              *root)
{
  g_autofree double *pull = g_new0 (double, n_common), *precision = g_new0 (double, (gsize) n_common * n_common);

  for (guint i = 0; i < n_askings; i++)
    {
      WbCraftPoint point;
      WbCalcJointTold told;

      if (askings[i].self == NULL || askings[i].items->len == 0)
        continue;
      wb_craft_point_init (&point, &askings[i]);
      told = get_told (&point, &askings[i], askings[i].n_main);
      ask_rows (&point, &askings[i], 0, askings[i].n_main);
      if (wb_calc_joint_add (&told, n_common, pull, precision) != WB_CALC_OK)
        g_error ("what a model says of its levels is no distribution");
      wb_craft_point_clear (&point);
    }
  if (wb_calc_joint_solve (n_common, pull, precision, mean, root) != WB_CALC_OK)
    g_error ("what the models say of their levels is no distribution");
}

double *
wb_craft_foretell_draw_factors (const WbCraftForetell *self,
                                const WbCraftAsking   *askings,
                                guint                  n_askings,
                                guint                  n_common)
{
  double *drawn = g_new (double, MAX ((gsize) self->n_draws * n_common, 1));
  g_autofree double *mean = g_new (double, n_common), *root = g_new (double, (gsize) n_common * n_common), *z = g_new (double, n_common);

  put_together (askings, n_askings, n_common, mean, root);
  for (guint draw = 0; draw < self->n_draws; draw++)
    {
      double *to = drawn + (gsize) draw * n_common;
      WbCalcRandom random;

      wb_calc_random_init (&random, self->seed, draw);
      for (guint k = 0; k < n_common; k++)
        z[k] = wb_calc_random_normal (&random);
      for (guint i = 0; i < n_common; i++)
        {
          to[i] = mean[i];
          for (guint k = i; k < n_common; k++)
            to[i] += root[(gsize) i * n_common + k] * z[k];
        }
    }
  return drawn;
}
