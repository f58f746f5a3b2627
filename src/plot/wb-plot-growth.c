/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-plot-growth.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-craft-growth-words.h"
#include "wb-plot-led-private.h"
#include "wb-plot-lines-private.h"
#include "wb-plot-outcome-private.h"
#include "wb-plot-pool-private.h"
#include "wb-plot-words-private.h"

/* More curves than these can no longer be told apart. */
#define MOST_CELLS 5
#define MOST_PANELS 6
/* Of several panels, so many have their finding in the title; all have it in the description. */
#define MOST_TOLD 2

static void
add_family (const WbPlotContext *context,
            WbChartPanel        *panel,
            GArray              *cells,
            WbPlotPoolCounts    *counts)
{
  g_autoptr (GArray) lines = NULL;

  wb_plot_cells_sort (cells);
  lines = wb_plot_lines_new_cells (context, cells, FALSE);
  wb_plot_pool_add_lines (panel, (const WbPlotLine *) lines->data, lines->len, TRUE, counts);
  wb_chart_panel_set_empty_text (panel, _("No melt pool was read yet"));
}

/* Several panels: what the leading cell of each does. */
static char *
dup_leaders (const WbPlotContext *context,
             const GArray        *families)
{
  g_autoptr (GString) title = g_string_new (NULL);
  g_autoptr (GArray)  leaders = g_array_new (FALSE, TRUE, sizeof (WbPlotLed)), told = NULL;

  for (guint i = 0; i < families->len; i++)
    {
      guint              family = g_array_index (families, guint, i);
      g_autoptr (GArray) cells = wb_plot_context_pick_cells (context, family, 1);
      WbPlotLed          one = { .family = family, .cell = g_array_index (cells, guint, 0) };
      WbPlotOutcome      outcome = wb_plot_outcome_of (context, one.cell);

      one.state = (int) outcome.state * 16 + (int) outcome.due;
      /* alike only where the chance to be in time is told alike */
      if (!isnan (outcome.in_time))
        one.state += 256 * (1 + (int) lround (100.0 * outcome.in_time));
      one.value = isnan (outcome.gap_mm) ? outcome.full_h.value : outcome.gap_mm;
      g_array_append_val (leaders, one);
    }
  told = wb_plot_led_merge (context, leaders);
  for (guint i = 0; i < told->len && i < MOST_TOLD; i++)
    {
      const WbPlotLed *one = &g_array_index (told, WbPlotLed, i);
      g_autofree char *clause = wb_plot_outcome_dup_range (context, one->cell, one->low, one->high);

      /* Translators: vessel and scent; what was found there */
      g_string_append_printf (title, _("%s%s: %s"), i > 0 ? "; " : "", one->where, clause);
    }

  g_autofree char *sentence = wb_plot_dup_sentence (title->str);

  return g_steal_pointer (&sentence);
}

static char *
dup_title (const WbPlotContext *context,
           const GArray        *families)
{
  if (families->len == 0)
    return g_strdup (_("No combination to show"));
  if (families->len > 1)
    return dup_leaders (context, families);

  g_autoptr (GArray) cells = wb_plot_context_pick_cells (context, g_array_index (families, guint, 0), MOST_CELLS);
  g_autoptr (GArray) lines = wb_plot_lines_new_cells (context, cells, FALSE);

  return wb_plot_outcome_dup_title (lines);
}

static char *
dup_description (const WbPlotContext *context,
                 const GArray        *families,
                 const char          *title)
{
  g_autoptr (GString) text = g_string_new (NULL);

  g_string_append_printf (text, "%s. %s", title,
                          _("Melt-pool diameter against time after lighting, with fitted curves and their 90 % bands."));
  for (guint i = 0; i < families->len; i++)
    {
      g_autoptr (GArray) cells = wb_plot_context_pick_cells (context, g_array_index (families, guint, i), MOST_CELLS);

      for (guint k = 0; k < cells->len; k++)
        {
          g_autofree char *name = wb_plot_dup_cell_name (context, g_array_index (cells, guint, k));
          g_autofree char *detail = wb_plot_outcome_dup_detail (context, g_array_index (cells, guint, k), name);

          g_string_append_printf (text, " %s", detail);
        }
    }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

/* What is to be known of curves that are not plain fits. */
static char *
dup_fits (const WbPlotContext *context,
          const GArray        *families)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GPtrArray) growths = g_ptr_array_new ();
  g_autoptr (GPtrArray) notes = NULL;

  for (guint i = 0; i < families->len; i++)
    {
      g_autoptr (GArray) cells = wb_plot_context_pick_cells (context, g_array_index (families, guint, i), MOST_CELLS);

      for (guint k = 0; k < cells->len; k++)
        {
          guint                cell = g_array_index (cells, guint, k);
          const WbCraftGrowth *growth = wb_plot_context_get_growth (context, cell);

          if (growth == NULL || growth->status == WB_CRAFT_FIT_NO_READINGS)
            continue;
          g_ptr_array_add (names, families->len > 1 ? wb_plot_dup_cell_name (context, cell) : wb_plot_dup_wick_name (context, cell));
          g_ptr_array_add (growths, (WbCraftGrowth *) growth);
        }
    }
  notes = wb_craft_growth_dup_notes (names->len, (const char *const *) names->pdata, (const WbCraftGrowth *const *) growths->pdata);
  g_ptr_array_add (notes, NULL);
  return g_strjoinv (" ", (char **) notes->pdata);
}

static char *
dup_left_out (const WbPlotContext *context,
              const GArray        *families)
{
  guint shown = 0, all = wb_plot_context_count_shown (context, G_MAXUINT);

  for (guint i = 0; i < families->len; i++)
    shown += MIN (wb_plot_context_count_shown (context, g_array_index (families, guint, i)), MOST_CELLS);
  if (shown >= all)
    return g_strdup ("");
  /* Translators: how many of how many combinations */
  return g_strdup_printf (_("The %u leading combinations of %u."), shown, all);
}

WbChart *
wb_plot_growth_new (const WbCraftAnswer *answer,
                    const WbPlotOptions *options,
                    GError             **error)
{
  g_auto (WbPlotContext) context = { 0 };

  if (!wb_plot_context_init (&context, answer, options, error))
    return NULL;

  g_autoptr (GArray) families = wb_plot_context_pick_families (&context, MOST_PANELS);
  g_autofree char   *title = dup_title (&context, families);
  g_autofree char   *description = dup_description (&context, families, title);
  WbChart           *chart = wb_chart_new (title, description);
  guint              n_columns = families->len <= 1 ? 1 : families->len <= 4 ? 2 : 3;
  WbPlotPoolCounts   counts = { 0 };

  for (guint i = 0; i < families->len; i++)
    {
      g_autoptr (GArray) cells = wb_plot_context_pick_cells (&context, g_array_index (families, guint, i), MOST_CELLS);

      g_autoptr (GArray) lines = wb_plot_lines_new_cells (&context, cells, FALSE);

      counts.hours = fmax (counts.hours, wb_plot_pool_get_hours (lines));
    }
  for (guint i = 0; i < families->len; i++)
    {
      g_autoptr (GArray) cells = wb_plot_context_pick_cells (&context, g_array_index (families, guint, i), MOST_CELLS);
      g_autofree char   *name = wb_plot_dup_family_name (&context, g_array_index (families, guint, i), families->len > 1);

      add_family (&context, wb_chart_add_panel (chart, i / n_columns, i % n_columns, name), cells, &counts);
    }
  if (families->len == 0)
    wb_chart_panel_set_empty_text (wb_chart_add_panel (chart, 0, 0, NULL), _("No combination to show"));

  g_autofree char *readings = wb_plot_pool_dup_note (&counts);
  g_autofree char *left_out = dup_left_out (&context, families);
  g_autofree char *fits = dup_fits (&context, families);
  wb_plot_set_footnote (&context, chart, readings, /* xgettext:no-c-format */ _("Band: 90 % interval of the mean curve."), fits, left_out, NULL);
  wb_chart_set_font_family (chart, context.options.font_family);
  return chart;
}

/* Side by side: several things, of whatever experiment. */

/* Nearer than this two vessels are of one size: what a calliper tells. */
#define SAME_MM 0.05

/* Lines that share a panel: of one vessel size, if they can be told apart there. */
static GArray *
take_panel (const GArray *lines,
            gboolean     *taken,
            guint         first,
            gboolean      alone)
{
  const WbPlotLine *leader = &g_array_index (lines, WbPlotLine, first);
  GArray           *panel = g_array_new (FALSE, FALSE, sizeof (WbPlotLine));

  for (guint i = first; i < lines->len; i++)
    {
      const WbPlotLine *line = &g_array_index (lines, WbPlotLine, i);

      if (taken[i] || (i > first && (alone || fabs (wb_plot_line_get_inner_mm (line) - wb_plot_line_get_inner_mm (leader)) > SAME_MM)))
        continue;
      taken[i] = TRUE;
      g_array_append_vals (panel, line, 1);
    }
  return panel;
}

/* GArray of WbPlotLine, borrowed, a panel each. */
static GPtrArray *
split_lines (const GArray *lines)
{
  gboolean alone = FALSE;

  for (;;)
    {
      g_autoptr (GPtrArray) panels = g_ptr_array_new_with_free_func ((GDestroyNotify) g_array_unref);
      g_autofree gboolean  *taken = g_new0 (gboolean, MAX (lines->len, 1));
      gboolean              crowded = FALSE;

      for (guint i = 0; i < lines->len; i++)
        if (!taken[i])
          {
            GArray *panel = take_panel (lines, taken, i, alone);

            crowded |= panel->len > MOST_CELLS;
            g_ptr_array_add (panels, panel);
          }
      if (!crowded)
        return g_steal_pointer (&panels);
      alone = TRUE;
    }
}

static char *
dup_panel_title (const GArray *panel)
{
  const WbPlotLine *first = &g_array_index (panel, WbPlotLine, 0);
  g_autofree char  *size = NULL;

  if (panel->len == 1)
    return wb_plot_outcome_dup_clause (first);
  size = wb_plot_dup_set_value (first->context, WB_UNIT_MM, wb_plot_line_get_inner_mm (first));
  /* Translators: inner diameter */
  return g_strdup_printf (_("Vessels of %s"), size);
}

static char *
dup_lines_description (const GArray *lines,
                       const char   *title)
{
  g_autoptr (GString) text = g_string_new (NULL);

  g_string_append_printf (text, "%s. %s", title,
                          /* xgettext:no-c-format */ _("Melt-pool diameter against time after lighting, side by side on one scale, with fitted curves and their 90 % bands."));
  for (guint i = 0; i < lines->len; i++)
    {
      const WbPlotLine *line = &g_array_index (lines, WbPlotLine, i);
      g_autofree char  *detail = wb_plot_outcome_dup_detail (line->context, line->cell, line->name);

      g_string_append_printf (text, " %s", detail);
    }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static char *
dup_lines_fits (const GArray *lines)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new ();
  g_autoptr (GPtrArray) growths = g_ptr_array_new ();
  g_autoptr (GPtrArray) notes = NULL;

  for (guint i = 0; i < lines->len; i++)
    {
      const WbPlotLine    *line = &g_array_index (lines, WbPlotLine, i);
      const WbCraftGrowth *growth = wb_plot_context_get_growth (line->context, line->cell);

      if (growth == NULL || growth->status == WB_CRAFT_FIT_NO_READINGS)
        continue;
      g_ptr_array_add (names, line->name);
      g_ptr_array_add (growths, (WbCraftGrowth *) growth);
    }
  notes = wb_craft_growth_dup_notes (names->len, (const char *const *) names->pdata, (const WbCraftGrowth *const *) growths->pdata);
  g_ptr_array_add (notes, NULL);
  return g_strjoinv (" ", (char **) notes->pdata);
}

static const char *
get_samples_note (const GArray *lines)
{
  for (guint i = 0; i < lines->len; i++)
    if (g_array_index (lines, WbPlotLine, i).context->options.sample >= 0)
      return _("The curve of a sample is that of all samples of its combination.");
  return "";
}

WbChart *
wb_plot_growth_new_lines (const GArray *lines)
{
  const WbPlotContext  *context = g_array_index (lines, WbPlotLine, 0).context;
  g_autoptr (GPtrArray) panels = split_lines (lines);
  g_autofree char      *title = wb_plot_outcome_dup_title (lines);
  g_autofree char      *description = dup_lines_description (lines, title);
  WbChart              *chart = wb_chart_new (title, description);
  guint                 n_columns = panels->len <= 3 ? panels->len : panels->len == 4 ? 2 : 3;
  WbPlotPoolCounts      counts = { wb_plot_pool_get_hours (lines) };

  for (guint i = 0; i < panels->len; i++)
    {
      const GArray    *panel = g_ptr_array_index (panels, i);
      g_autofree char *name = panels->len > 1 ? dup_panel_title (panel) : NULL;
      WbChartPanel    *place = wb_chart_add_panel (chart, i / n_columns, i % n_columns, name);

      wb_plot_pool_add_lines (place, (const WbPlotLine *) panel->data, panel->len, TRUE, &counts);
      wb_chart_panel_set_empty_text (place, _("No melt pool was read yet"));
    }

  g_autofree char *readings = wb_plot_pool_dup_note (&counts);
  g_autofree char *fits = dup_lines_fits (lines);
  wb_plot_set_footnote (context, chart, readings, /* xgettext:no-c-format */ _("Band: 90 % interval of the mean curve."), fits, get_samples_note (lines), NULL);
  wb_chart_set_font_family (chart, context->options.font_family);
  return chart;
}
