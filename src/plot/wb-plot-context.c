/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-plot-context-private.h"

#include <math.h>

/* No figure of a candle comes near it, in whatever unit. */
#define MOST 1e6

gboolean
wb_plot_context_mixes (const WbPlotContext *self,
                       const GArray        *cells)
{
  for (guint i = 1; i < cells->len; i++)
    if (self->family[g_array_index (cells, guint, i)] != self->family[g_array_index (cells, guint, 0)])
      return TRUE;
  return FALSE;
}

static gboolean
check_options (const WbPlotContext *self,
               GError             **error)
{
  const WbPlotOptions *options = &self->options;

  for (gsize i = 0; options->cells != NULL && i < options->n_cells; i++)
    if (options->cells[i] >= self->n_cells)
      {
        g_set_error (error, WB_PLOT_ERROR, WB_PLOT_ERROR_CELL, "there is no combination %u: the experiment has %u",
                     options->cells[i], self->n_cells);
        return FALSE;
      }
  if (options->group >= 0 && (guint) options->group >= self->answer->ranking->n_groups)
    {
      g_set_error (error, WB_PLOT_ERROR, WB_PLOT_ERROR_GROUP, "there is no group %d: the ranking has %u",
                   options->group, self->answer->ranking->n_groups);
      return FALSE;
    }
  if (options->sample >= 0 && (guint) options->sample >= self->data->samples->len)
    {
      g_set_error (error, WB_PLOT_ERROR, WB_PLOT_ERROR_SAMPLE, "there is no sample %d: the experiment has %u",
                   options->sample, self->data->samples->len);
      return FALSE;
    }
  if (options->figure >= WB_N_FIGURES)
    {
      g_set_error (error, WB_PLOT_ERROR, WB_PLOT_ERROR_FIGURE, "there is no figure %d", options->figure);
      return FALSE;
    }
  return TRUE;
}

gboolean
wb_plot_context_init (WbPlotContext       *self,
                      const WbCraftAnswer *answer,
                      const WbPlotOptions *options,
                      GError             **error)
{
  *self = (WbPlotContext) { .answer = answer };
  g_return_val_if_fail (answer != NULL && answer->data != NULL && answer->figures != NULL && answer->limits != NULL
                          && answer->estimates != NULL && answer->ranking != NULL, FALSE);

  self->data = answer->data;
  self->n_cells = answer->data->cells->len;
  if (options != NULL)
    self->options = *options;
  else
    wb_plot_options_init (&self->options, answer->data->notebook != NULL && answer->data->notebook->us_units);
  if (!check_options (self, error))
    return FALSE;

  self->family = g_new (guint, self->n_cells);
  self->n_families = wb_plot_find_families (self->data, self->family);

  return TRUE;
}

void
wb_plot_context_clear (WbPlotContext *self)
{
  g_clear_pointer (&self->family, g_free);
}

const WbCraftRanked *
wb_plot_context_get_ranked (const WbPlotContext *self,
                            guint                cell,
                            const WbCraftGroup **group)
{
  const WbCraftRanking *ranking = self->answer->ranking;

  for (guint i = 0; i < ranking->n_groups; i++)
    for (guint k = 0; k < ranking->groups[i].n_cells; k++)
      if (ranking->groups[i].cells[k].cell == cell)
        {
          if (group != NULL)
            *group = &ranking->groups[i];
          return &ranking->groups[i].cells[k];
        }
  return NULL;
}

const WbCraftCell *
wb_plot_context_get_cell (const WbPlotContext *self,
                          guint                cell)
{
  const WbCraftEstimates *estimates = self->answer->estimates;

  for (guint i = 0; i < estimates->n_cells; i++)
    if (estimates->cells[i].cell == cell)
      return &estimates->cells[i];
  return NULL;
}

const WbCraftGrowth *
wb_plot_context_get_growth (const WbPlotContext *self,
                            guint                cell)
{
  const WbCraftCell *estimates = wb_plot_context_get_cell (self, cell);

  if (estimates == NULL)
    return NULL;
  return self->options.stage < WB_N_STAGES ? &estimates->stage_growth[self->options.stage] : &estimates->growth;
}

static double
clean (double value)
{
  /* NAN fails the comparison too. */
  return fabs (value) <= MOST ? value : NAN;
}

WbCraftInterval
wb_plot_interval_clean (WbCraftInterval interval)
{
  double value = clean (interval.value);

  return (WbCraftInterval) { value, clean (interval.low), clean (interval.high) };
}

WbCraftInterval
wb_plot_context_get_score (const WbPlotContext *self,
                           guint                cell)
{
  const WbCraftRanked *ranked = wb_plot_context_get_ranked (self, cell, NULL);

  if (ranked == NULL)
    return WB_CRAFT_INTERVAL_NONE;

  WbCraftInterval score = wb_plot_interval_clean (ranked->score);

  return isnan (score.value) ? score
                             : (WbCraftInterval) { CLAMP (score.value, 0.0, 1.0), CLAMP (score.low, 0.0, 1.0), CLAMP (score.high, 0.0, 1.0) };
}

gboolean
wb_plot_context_shows (const WbPlotContext *self,
                       guint                cell)
{
  const WbCraftGroup *group = NULL;

  if (self->options.cells != NULL)
    {
      for (gsize i = 0; i < self->options.n_cells; i++)
        if (self->options.cells[i] == cell)
          return TRUE;
      return FALSE;
    }
  if (self->options.sample >= 0 && g_array_index (self->data->sample_cell, guint, self->options.sample) != cell)
    return FALSE;
  if (self->options.group < 0)
    return TRUE;
  return wb_plot_context_get_ranked (self, cell, &group) != NULL
         && group == &self->answer->ranking->groups[self->options.group];
}

typedef struct
{
  guint  index; /* cell or family */
  double merit;
} Candidate;

static int
compare_candidates (gconstpointer a,
                    gconstpointer b)
{
  const Candidate *one = a, *other = b;

  if (one->merit != other->merit)
    return one->merit > other->merit ? -1 : 1;
  return (one->index > other->index) - (one->index < other->index);
}

/* Rank counts before score: a rejected combination may still have the parts of a good score. */
static double
get_merit (const WbPlotContext *self,
           guint                cell)
{
  const WbCraftRanked *ranked = wb_plot_context_get_ranked (self, cell, NULL);
  double               score = wb_plot_context_get_score (self, cell).value;

  if (ranked == NULL)
    return -1e6;
  return (isnan (score) ? 0.0 : score) - ranked->rank;
}

static GArray *
take_best (GArray *candidates,
           guint   most)
{
  GArray *best = g_array_new (FALSE, FALSE, sizeof (guint));

  g_array_sort (candidates, compare_candidates);
  for (guint i = 0; i < candidates->len && i < most; i++)
    g_array_append_val (best, g_array_index (candidates, Candidate, i).index);
  return best;
}

GArray *
wb_plot_context_pick_families (const WbPlotContext *self,
                               guint                most)
{
  g_autoptr (GArray) candidates = g_array_new (FALSE, FALSE, sizeof (Candidate));

  for (guint family = 0; family < self->n_families; family++)
    {
      Candidate candidate = { family, -INFINITY };

      for (guint cell = 0; cell < self->n_cells; cell++)
        if (self->family[cell] == family && wb_plot_context_shows (self, cell))
          candidate.merit = fmax (candidate.merit, get_merit (self, cell));
      if (candidate.merit > -INFINITY)
        g_array_append_val (candidates, candidate);
    }
  return take_best (candidates, most);
}

GArray *
wb_plot_context_pick_cells (const WbPlotContext *self,
                            guint                family,
                            guint                most)
{
  g_autoptr (GArray) candidates = g_array_new (FALSE, FALSE, sizeof (Candidate));

  for (guint cell = 0; cell < self->n_cells; cell++)
    if ((family == G_MAXUINT || self->family[cell] == family) && wb_plot_context_shows (self, cell))
      {
        Candidate candidate = { cell, get_merit (self, cell) };

        g_array_append_val (candidates, candidate);
      }
  return take_best (candidates, most);
}

static int
compare_indices (gconstpointer a,
                 gconstpointer b)
{
  guint one = *(const guint *) a, other = *(const guint *) b;

  return (one > other) - (one < other);
}

void
wb_plot_cells_sort (GArray *cells)
{
  g_array_sort (cells, compare_indices);
}

gboolean
wb_plot_context_has_several (const WbPlotContext *self)
{
  guint family = G_MAXUINT;

  for (guint cell = 0; cell < self->n_cells; cell++)
    if (wb_plot_context_shows (self, cell))
      {
        if (family != G_MAXUINT && self->family[cell] != family)
          return TRUE;
        family = self->family[cell];
      }
  return FALSE;
}

guint
wb_plot_context_count_shown (const WbPlotContext *self,
                             guint                family)
{
  guint n = 0;

  for (guint cell = 0; cell < self->n_cells; cell++)
    n += (family == G_MAXUINT || self->family[cell] == family) && wb_plot_context_shows (self, cell);
  return n;
}

gboolean
wb_plot_context_sample_counts (const WbPlotContext *self,
                               guint                sample)
{
  const WbSample *record = wb_dataset_get_sample (self->data, sample);

  /* A sample that was asked for by name is shown whether it counts or not. */
  if (self->options.sample >= 0)
    return (guint) self->options.sample == sample;
  return record->set_aside_cause < 0 && record->set_aside == NULL;
}

gboolean
wb_plot_context_burn_counts (const WbPlotContext *self,
                             const WbCraftBurn   *burn)
{
  return burn->kind == WB_BURN_STANDARD && wb_plot_context_sample_counts (self, burn->sample)
         && (self->options.stage >= WB_N_STAGES || burn->stage == self->options.stage);
}
