/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-plot-line-private.h"

#include "wb-plot-beside.h"
#include "wb-plot-series-private.h"
#include "wb-plot-words-private.h"

#define MOST_NAME 40

static void
line_clear (gpointer data)
{
  g_free (((WbPlotLine *) data)->name);
}

static GArray *
lines_new (void)
{
  GArray *lines = g_array_new (FALSE, FALSE, sizeof (WbPlotLine));

  g_array_set_clear_func (lines, line_clear);
  return lines;
}

GArray *
wb_plot_lines_new_cells (const WbPlotContext *context,
                         const GArray        *cells,
                         gboolean             whole)
{
  GArray *lines = lines_new ();

  for (guint i = 0; i < cells->len; i++)
    {
      guint      cell = g_array_index (cells, guint, i);
      WbPlotLine line = { context, cell, wb_plot_get_series (context->data, cell),
                          whole ? wb_plot_dup_cell_name (context, cell) : wb_plot_dup_wick_name (context, cell) };

      g_array_append_val (lines, line);
    }
  return lines;
}

static gboolean
init_context (WbPlotContext       *context,
              const WbCraftPick   *pick,
              const guint         *cell,
              const WbPlotOptions *options,
              GError             **error)
{
  WbPlotOptions its = *options;

  its.cells = cell;
  its.n_cells = 1;
  its.group = -1;
  its.sample = pick->sample;
  if (!wb_plot_context_init (context, pick->answer, &its, error))
    return FALSE;
  if (pick->sample >= 0 && g_array_index (context->data->sample_cell, guint, pick->sample) != pick->cell)
    {
      g_set_error (error, WB_PLOT_ERROR, WB_PLOT_ERROR_SAMPLE, "sample %d is not of combination %u", pick->sample, pick->cell);
      return FALSE;
    }
  return TRUE;
}

gboolean
wb_plot_picks_init (WbPlotPicks         *self,
                    const WbCraftPick   *picks,
                    gsize                n_picks,
                    const WbPlotOptions *options,
                    GError             **error)
{
  WbPlotOptions automatic;

  *self = (WbPlotPicks) { g_new0 (WbPlotContext, n_picks), g_new0 (guint, n_picks), n_picks, lines_new () };
  wb_plot_options_init (&automatic, n_picks > 0 && picks[0].answer->data->notebook != NULL && picks[0].answer->data->notebook->us_units);
  for (gsize i = 0; i < n_picks; i++)
    {
      self->cells[i] = picks[i].cell;
      if (!init_context (&self->contexts[i], &picks[i], &self->cells[i], options != NULL ? options : &automatic, error))
        {
          wb_plot_picks_clear (self);
          return FALSE;
        }
    }
  for (gsize i = 0; i < n_picks; i++)
    {
      g_autofree char *name = wb_craft_pick_dup_name (picks, n_picks, i);
      WbPlotLine       line = { &self->contexts[i], picks[i].cell, wb_plot_beside_get_series (picks, n_picks, i), wb_plot_dup_clipped (name, MOST_NAME) };

      g_array_append_val (self->lines, line);
    }
  return TRUE;
}

void
wb_plot_picks_clear (WbPlotPicks *self)
{
  for (gsize i = 0; self->contexts != NULL && i < self->n; i++)
    wb_plot_context_clear (&self->contexts[i]);
  g_clear_pointer (&self->contexts, g_free);
  g_clear_pointer (&self->cells, g_free);
  g_clear_pointer (&self->lines, g_array_unref);
}

gint64
wb_plot_line_get_burn_tag (const WbPlotLine *line,
                           guint             burn)
{
  return wb_dataset_get_burn (line->context->data, burn)->record.id;
}

gint64
wb_plot_line_get_tag (const WbPlotLine *line)
{
  int sample = line->context->options.sample;

  return sample < 0 ? 0 : -wb_dataset_get_sample (line->context->data, sample)->record.id;
}

double
wb_plot_line_get_inner_mm (const WbPlotLine *line)
{
  return wb_craft_cell_get_inner_mm (line->context->data, line->cell, line->context->options.stage);
}
