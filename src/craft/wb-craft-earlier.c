/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-earlier-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-craft-estimates-private.h"
#include "wb-craft-scale-private.h"
#include "wb-craft-words-private.h"

#define DRAWS 2048
#define SEED 1             /* the same notebook gives the same opinion */
#define LEAST_FACTOR 1.3   /* what experiments of other recipes say is not taken for surer; no source */
#define MOST_FACTOR 2.0    /* nor for vaguer than the opinion that stands in where there are none */
#define MOST_NAMED 8       /* experiments: more are counted */
#define LEAST_PRECISION 0.1 /* of a logarithm: below it nothing was said */

/* What is known of the logarithm of a spread, as a normal message. */
typedef struct
{
  double precision;
  double weighted;  /* precision × mean */
} Message;

struct _WbCraftEarlier
{
  Message    pool;
  Message    figure[WB_N_FIGURES];
  GPtrArray *codes;
};

static gboolean
is_set_aside (const WbSample *sample)
{
  return sample->set_aside != NULL || sample->set_aside_cause >= 0;
}

gboolean
wb_craft_earlier_is_needed (const WbDataset *data)
{
  g_autofree guint *sample = g_new0 (guint, MAX (data->cells->len, 1));

  for (guint i = 0; i < data->burns->len; i++)
    {
      guint at = g_array_index (data->burn_sample, guint, i), cell = g_array_index (data->sample_cell, guint, at);

      if (wb_dataset_get_burn (data, i)->kind != WB_BURN_STANDARD || is_set_aside (wb_dataset_get_sample (data, at)))
        continue;
      if (sample[cell] != 0 && sample[cell] != at + 1)
        return FALSE;
      sample[cell] = at + 1;
    }
  return TRUE;
}

WbCraftEarlier *
wb_craft_earlier_new (void)
{
  WbCraftEarlier *self = g_atomic_rc_box_new0 (WbCraftEarlier);

  self->codes = g_ptr_array_new_with_free_func (g_free);
  return self;
}

WbCraftEarlier *
wb_craft_earlier_ref (WbCraftEarlier *self)
{
  return g_atomic_rc_box_acquire (self);
}

static void
clear (gpointer data)
{
  WbCraftEarlier *self = data;

  g_ptr_array_unref (self->codes);
}

void
wb_craft_earlier_unref (WbCraftEarlier *self)
{
  if (self != NULL)
    g_atomic_rc_box_release_full (self, clear);
}

/* Draws of a spread, less the opinion that it was found with. */
static Message
take_out (const double *spreads,
          double        median,
          double        factor)
{
  double before = 1 / (log (factor) * log (factor)), mean = 0, variance = 0;

  for (guint i = 0; i < DRAWS; i++)
    mean += log (spreads[i]) / DRAWS;
  for (guint i = 0; i < DRAWS; i++)
    variance += (log (spreads[i]) - mean) * (log (spreads[i]) - mean) / (DRAWS - 1);
  /* no surer of it than before: nothing was said */
  if (!(variance > 0) || !isfinite (mean) || 1 / variance < before + LEAST_PRECISION)
    return (Message) { 0, 0 };
  return (Message) { 1 / variance - before, mean / variance - before * log (median) };
}

static void
add_message (Message       *to,
             const Message *from)
{
  to->precision += from->precision;
  to->weighted += from->weighted;
}

/* The opinion with what was learnt; factor 0: nothing was. */
static WbCraftSpread
tell (const Message *message,
      double         median,
      double         factor)
{
  double before = 1 / (log (factor) * log (factor)), precision = before + message->precision;

  if (!(message->precision > 0))
    return (WbCraftSpread) { median, 0 };
  return (WbCraftSpread) {
    exp ((before * log (median) + message->weighted) / precision), CLAMP (exp (1 / sqrt (precision)), LEAST_FACTOR, MOST_FACTOR)
  };
}

static gboolean
is_measured (WbFigure figure)
{
  return wb_craft_scale_get_prior (figure).unit > 0 && !wb_craft_scale_is_rating (figure);
}

/* Values come cell by cell, sample by sample. */
static gboolean
has_second_sample (const GArray *values)
{
  for (guint i = 1; i < values->len; i++)
    {
      const WbCraftMeanValue *one = &g_array_index (values, WbCraftMeanValue, i - 1), *next = one + 1;

      if (next->cell == one->cell && next->sample != one->sample)
        return TRUE;
    }
  return FALSE;
}

static gboolean
are_replicated (const WbCraftPools *pools,
                guint               n_cells)
{
  for (guint cell = 0; cell < n_cells; cell++)
    {
      double log_limit, log_tau;
      guint samples, burns;

      wb_craft_pools_get (pools, cell, &log_limit, &log_tau, &samples, &burns);
      if (samples > 1)
        return TRUE;
    }
  return FALSE;
}

static Message
ask_pools (WbCraftMemo          *memo,
           const WbDataset      *data,
           const WbCraftFigures *figures,
           WbCraftKeepGoing      keep_going,
           gpointer              user)
{
  g_autoptr (WbCraftPools) pools = wb_craft_pools_new (memo, data, figures, WB_STAGE_ALL, NULL, (WbCraftSpread) { 0, 0 }, keep_going, user);
  g_autofree double *spreads = g_new (double, DRAWS);
  WbCraftSpread usual = wb_craft_growth_get_usual ();

  if (pools == NULL || !are_replicated (pools, data->cells->len)
      || !wb_craft_pools_draw (pools, SEED, DRAWS, NULL, NULL, NULL, spreads, NULL))
    return (Message) { 0, 0 };
  return take_out (spreads, usual.median, usual.factor);
}

static Message
ask_means (WbCraftMemo          *memo,
           const WbDataset      *data,
           const WbCraftFigures *figures,
           WbFigure              figure,
           double                room_c)
{
  g_autoptr (GArray) values = wb_craft_estimates_gather (data, figures, figure, WB_STAGE_ALL, FALSE, NULL, room_c);
  g_autofree double *spreads = g_new (double, 2 * DRAWS);
  WbCraftMeanPrior prior = wb_craft_scale_get_prior (figure);
  const WbCraftMeans *means = NULL;

  if (has_second_sample (values))
    means = wb_craft_means_find (memo, values, data->cells->len, NULL, &prior, NULL, NULL);
  if (means == NULL || !wb_craft_means_draw (means, SEED, DRAWS, NULL, NULL, spreads, spreads + DRAWS))
    return (Message) { 0, 0 };
  return take_out (spreads, prior.sample_sd, WB_CRAFT_MEANS_FACTOR);
}

gboolean
wb_craft_earlier_learn (WbCraftEarlier   *self,
                        const WbDataset  *data,
                        WbCraftKeepGoing  keep_going,
                        gpointer          user)
{
  g_autoptr (WbCraftFigures) figures = NULL;
  g_autoptr (WbCraftMemo) memo = NULL;
  Message of_figure[WB_N_FIGURES] = { { 0, 0 } };
  Message pool;
  gboolean learnt;

  if (wb_craft_earlier_is_needed (data))
    return TRUE;
  figures = wb_craft_figures_new (data);
  memo = wb_craft_memo_new (NULL);
  pool = ask_pools (memo, data, figures, keep_going, user);
  learnt = pool.precision > 0;
  for (WbFigure figure = 0; figure < WB_N_FIGURES; figure++)
    {
      if (keep_going != NULL && !keep_going ((figure + 1.0) / (WB_N_FIGURES + 1), user))
        return FALSE;
      if (is_measured (figure))
        of_figure[figure] = ask_means (memo, data, figures, figure, wb_craft_estimates_find_room (data, figures));
      learnt = learnt || of_figure[figure].precision > 0;
    }
  add_message (&self->pool, &pool);
  for (WbFigure figure = 0; figure < WB_N_FIGURES; figure++)
    add_message (&self->figure[figure], &of_figure[figure]);
  if (learnt)
    g_ptr_array_add (self->codes, g_strdup (data->experiment->code));
  return TRUE;
}

static gboolean
is_sure (const Message *message,
         double         factor)
{
  double enough = 1 / (log (LEAST_FACTOR) * log (LEAST_FACTOR)), before = 1 / (log (factor) * log (factor));

  return before + message->precision >= enough;
}

gboolean
wb_craft_earlier_is_sure (const WbCraftEarlier *self)
{
  if (!is_sure (&self->pool, wb_craft_growth_get_usual ().factor))
    return FALSE;
  for (WbFigure figure = 0; figure < WB_N_FIGURES; figure++)
    if (is_measured (figure) && !is_sure (&self->figure[figure], WB_CRAFT_MEANS_FACTOR))
      return FALSE;
  return TRUE;
}

WbCraftSpread
wb_craft_earlier_get_spread (const WbCraftEarlier *self)
{
  WbCraftSpread usual = wb_craft_growth_get_usual ();

  return self != NULL ? tell (&self->pool, usual.median, usual.factor) : (WbCraftSpread) { usual.median, 0 };
}

WbCraftMeanPrior
wb_craft_earlier_get_prior (const WbCraftEarlier *self,
                            WbFigure              figure)
{
  WbCraftMeanPrior prior = wb_craft_scale_get_prior (figure);

  if (self != NULL && is_measured (figure) && self->figure[figure].precision > 0)
    {
      WbCraftSpread learnt = tell (&self->figure[figure], prior.sample_sd, WB_CRAFT_MEANS_FACTOR);

      prior.sample_sd = learnt.median;
      prior.sample_factor = learnt.factor;
    }
  return prior;
}

guint
wb_craft_earlier_get_n (const WbCraftEarlier *self)
{
  return self != NULL ? self->codes->len : 0;
}

const char *
wb_craft_earlier_get_code (const WbCraftEarlier *self,
                           guint                 index)
{
  g_return_val_if_fail (index < wb_craft_earlier_get_n (self), NULL);

  return g_ptr_array_index (self->codes, index);
}

char *
wb_craft_earlier_dup_text (const WbCraftEarlier *self)
{
  g_autofree char *codes = NULL;

  if (wb_craft_earlier_get_n (self) == 0)
    return NULL;
  if (self->codes->len > MOST_NAMED)
    return g_strdup_printf (_("No combination has a second sample: the spread between samples was learnt from %u other experiments of the notebook."),
                            self->codes->len);
  codes = wb_craft_words_join (self->codes);
  /* Translators: codes of one or more experiments: "A1, B2 and C3". */
  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "No combination has a second sample: the spread between samples was learnt from the experiment %s.",
                                       "No combination has a second sample: the spread between samples was learnt from the experiments %s.",
                                       self->codes->len), codes);
}
