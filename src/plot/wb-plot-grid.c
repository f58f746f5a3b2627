/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-plot-grid.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-plot-outcome-private.h"
#include "wb-plot-pool-private.h"
#include "wb-plot-words-private.h"

#define MOST_ROWS 6
#define MOST_COLUMNS 8
/* Of the wicks of one family in one line. */
#define MOST_LINE 5

/* Which of the experiment's wicks have a column: places in the order of sizes. */
static GArray *
find_columns (const WbPlotContext *context,
              const GArray        *families)
{
  GArray *columns = g_array_new (FALSE, FALSE, sizeof (guint));

  for (guint cell = 0; cell < context->n_cells; cell++)
    {
      guint    place = wb_plot_get_wick_place (context->data, cell, NULL), at = 0;
      gboolean shown = FALSE;

      for (guint i = 0; i < families->len; i++)
        shown |= g_array_index (families, guint, i) == context->family[cell];
      if (!shown || !wb_plot_context_shows (context, cell))
        continue;
      while (at < columns->len && g_array_index (columns, guint, at) < place)
        at++;
      if (at == columns->len || g_array_index (columns, guint, at) != place)
        g_array_insert_val (columns, at, place);
    }
  return columns;
}

static guint
find_cell (const WbPlotContext *context,
           guint                family,
           guint                place)
{
  for (guint cell = 0; cell < context->n_cells; cell++)
    if (context->family[cell] == family && wb_plot_context_shows (context, cell)
        && wb_plot_get_wick_place (context->data, cell, NULL) == place)
      return cell;
  return G_MAXUINT;
}

/* The panel's finding in as few words as fit under a small curve. */
static char *
dup_verdict (const WbPlotContext *context,
             guint                cell)
{
  WbPlotOutcome    outcome = wb_plot_outcome_of (context, cell);
  g_autofree char *gap = isnan (outcome.gap_mm) ? NULL : wb_plot_dup_gap (context, outcome.gap_mm);

  switch (outcome.state)
    {
    case WB_PLOT_POOL_REACHES:
      return wb_plot_dup_hours (outcome.full_h.value);
    case WB_PLOT_POOL_SHORT:
    case WB_PLOT_POOL_LATE:
      if (outcome.gap_mm < WB_PLOT_ALL_BUT_MM)
        return g_strdup (_("all but full"));
      /* Translators: a length, by which the pool is narrower than the vessel */
      return g_strdup_printf (_("%s narrower"), gap);
    case WB_PLOT_POOL_ALWAYS:
      return g_strdup (_("always full"));
    case WB_PLOT_POOL_UNKNOWN:
    default:
      return g_strdup (_("no curve"));
    }
}

static void
add_cell (const WbPlotContext *context,
          WbChart             *chart,
          guint                cell,
          guint                row,
          guint                column,
          WbPlotPoolCounts    *counts)
{
  double           inner = wb_craft_cell_get_inner_mm (context->data, cell, context->options.stage);
  g_autofree char *wick = wb_plot_dup_wick_name (context, cell);
  g_autofree char *family = wb_plot_dup_family_name (context, context->family[cell], TRUE);
  g_autofree char *name = *family == '\0' || !wb_plot_context_has_several (context) ? g_strdup (wick) : g_strdup_printf ("%s · %s", wick, family);
  g_autofree char *verdict = dup_verdict (context, cell);
  WbChartPanel    *panel = wb_chart_add_panel (chart, row, column, name);
  g_autoptr (GArray) cells = g_array_new (FALSE, FALSE, sizeof (guint));

  g_array_append_val (cells, cell);
  g_autoptr (GArray) lines = wb_plot_lines_new_cells (context, cells, FALSE);
  wb_plot_pool_add_lines (panel, (const WbPlotLine *) lines->data, lines->len, FALSE, counts);
  wb_chart_layer_add_text (panel, counts->hours * 3600.0 * 0.6, inner * 0.18, verdict);
  wb_chart_panel_set_empty_text (panel, _("Not read yet"));
}

typedef struct
{
  guint cells, in_time, early, late, never, unknown;
} Tally;

static Tally
count_outcomes (const WbPlotContext *context,
                const GArray        *families)
{
  Tally tally = { 0 };

  for (guint cell = 0; cell < context->n_cells; cell++)
    {
      gboolean shown = FALSE;

      for (guint i = 0; i < families->len; i++)
        shown |= g_array_index (families, guint, i) == context->family[cell];
      if (!shown || !wb_plot_context_shows (context, cell))
        continue;

      WbPlotOutcome outcome = wb_plot_outcome_of (context, cell);
      tally.cells++;
      if (outcome.state == WB_PLOT_POOL_UNKNOWN)
        tally.unknown++;
      else if (outcome.state == WB_PLOT_POOL_SHORT)
        tally.never++;
      else if (outcome.state == WB_PLOT_POOL_ALWAYS || outcome.due == WB_PLOT_DUE_EARLY)
        tally.early++;
      else if (outcome.due == WB_PLOT_DUE_IN_TIME)
        tally.in_time++;
      else
        tally.late++;
    }
  return tally;
}

static void
add_count (GString    *text,
           guint       n,
           const char *words)
{
  if (n == 0)
    return;
  g_string_append_printf (text, "%s%u %s", text->len > 0 ? ", " : "", n, words);
}

static char *
dup_title (const Tally *tally)
{
  g_autoptr (GString) rest = g_string_new (NULL);

  if (tally->cells == 0)
    return g_strdup (_("No combination to show"));
  if (tally->unknown == tally->cells)
    return g_strdup (_("Too few readings for a curve of any combination"));

  add_count (rest, tally->early, _("too soon"));
  add_count (rest, tally->late, _("late"));
  add_count (rest, tally->never, _("never"));
  add_count (rest, tally->unknown, _("not known yet"));
  if (rest->len == 0)
    return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "The one combination melts to the wall in time",
                                         "All %u combinations melt to the wall in time", tally->cells), tally->cells);
  /* Translators: how many of how many; then how many did otherwise: "2 too soon, 3 never" */
  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u of %u combinations melts to the wall in time; %s",
                                       "%u of %u combinations melt to the wall in time; %s", tally->in_time),
                          tally->in_time, tally->cells, rest->str);
}

static char *
dup_description (const WbPlotContext *context,
                 const GArray        *families,
                 const char          *title)
{
  g_autoptr (GString) text = g_string_new (NULL);

  g_string_append_printf (text, "%s. %s", title,
                          _("A panel for each combination: melt-pool diameter against time after lighting, with fitted curve and 90 % band."));
  for (guint i = 0; i < families->len; i++)
    {
      g_autoptr (GArray) cells = wb_plot_context_pick_cells (context, g_array_index (families, guint, i), G_MAXUINT);

      wb_plot_cells_sort (cells);
      for (guint k = 0; k < cells->len; k++)
        {
          g_autofree char *name = wb_plot_dup_cell_name (context, g_array_index (cells, guint, k));
          g_autofree char *detail = wb_plot_outcome_dup_detail (context, g_array_index (cells, guint, k), name);

          g_string_append_printf (text, " %s", detail);
        }
    }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

/* A family alone has no rows to keep: its wicks go on in the next line, as a page is no ribbon. */
static void
add_family (const WbPlotContext *context,
            WbChart             *chart,
            guint                family,
            WbPlotPoolCounts    *counts)
{
  g_autoptr (GArray) cells = wb_plot_context_pick_cells (context, family, MOST_ROWS * MOST_LINE);
  guint              n_lines = (cells->len + MOST_LINE - 1) / MOST_LINE, n_columns = n_lines > 0 ? (cells->len + n_lines - 1) / n_lines : 1;

  wb_plot_cells_sort (cells);
  for (guint i = 0; i < cells->len; i++)
    add_cell (context, chart, g_array_index (cells, guint, i), i / n_columns, i % n_columns, counts);
}

static void
add_panels (const WbPlotContext *context,
            WbChart             *chart,
            const GArray        *families,
            WbPlotPoolCounts    *counts)
{
  g_autoptr (GArray) columns = find_columns (context, families);

  if (families->len == 1)
    {
      add_family (context, chart, g_array_index (families, guint, 0), counts);
      return;
    }
  for (guint row = 0; row < families->len; row++)
    for (guint column = 0; column < columns->len && column < MOST_COLUMNS; column++)
      {
        guint cell = find_cell (context, g_array_index (families, guint, row), g_array_index (columns, guint, column));

        if (cell != G_MAXUINT)
          add_cell (context, chart, cell, row, column, counts);
      }
}

WbChart *
wb_plot_grid_new (const WbCraftAnswer *answer,
                  const WbPlotOptions *options,
                  GError             **error)
{
  g_auto (WbPlotContext) context = { 0 };

  if (!wb_plot_context_init (&context, answer, options, error))
    return NULL;

  g_autoptr (GArray) families = wb_plot_context_pick_families (&context, MOST_ROWS);
  wb_plot_cells_sort (families);

  g_autoptr (GArray) cells = wb_plot_context_pick_cells (&context, G_MAXUINT, G_MAXUINT);
  Tally              tally = count_outcomes (&context, families);
  g_autofree char   *title = dup_title (&tally);
  g_autofree char   *description = dup_description (&context, families, title);
  WbChart           *chart = wb_chart_new (title, description);
  g_autoptr (GArray) lines = wb_plot_lines_new_cells (&context, cells, FALSE);
  WbPlotPoolCounts   counts = { wb_plot_pool_get_hours (lines) };

  add_panels (&context, chart, families, &counts);
  if (wb_chart_get_n_panels (chart) == 0)
    wb_chart_panel_set_empty_text (wb_chart_add_panel (chart, 0, 0, NULL), _("No combination to show"));

  g_autofree char *readings = wb_plot_pool_dup_note (&counts);
  guint            panels = wb_chart_get_n_panels (chart);
  /* Translators: how many of how many combinations */
  g_autofree char *some = g_strdup_printf (_("%u of %u combinations."), panels, cells->len);
  wb_plot_set_footnote (&context, chart, _("Hatched: beyond the wall. Shaded: when a full melt pool is due."), readings,
                        cells->len > panels ? some : "", NULL);
  wb_chart_set_font_family (chart, context.options.font_family);
  return chart;
}
