/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-plot-pool-private.h"

#include <glib/gi18n-lib.h>
#include <inttypes.h>
#include <math.h>

#include "wb-plot-outcome-private.h"
#include "wb-plot-words-private.h"

#define N_CURVE 81
/* Readings of cells that stand side by side are set apart this far: no more, or they would seem to miss their curves. */
#define APART_S 90.0
/* What stands at the wall is compared with no curve: there is room. */
#define APART_AT_WALL_S 400.0
/* Fewer burns than these keep each reading at the wall. */
#define FEW_BURNS 4
/* Readings at the wall say no more than "at least": those of one half hour are one marker. */
#define WALL_BIN_MIN 30.0
#define N_WALL_BINS 96

/* Where a cell's readings stand beside their minute. */
typedef struct
{
  double shift_s, wall_shift_s;
  gint64 n_burns;               /* highest number of a burn */
} Slot;

typedef struct
{
  guint  n;
  double minutes, mm;       /* sums */
} WallBin;

typedef struct
{
  GArray    *x, *y;   /* double: s, mm */
  GArray    *marks;   /* guint8 */
  GPtrArray *notes;   /* sample code, burn and minute */
  GArray    *tags;    /* gint64 */
  WallBin    wall[N_WALL_BINS];
} Readings;

static void
readings_init (Readings *self)
{
  *self = (Readings) { g_array_new (FALSE, FALSE, sizeof (double)), g_array_new (FALSE, FALSE, sizeof (double)),
                       g_array_new (FALSE, FALSE, sizeof (guint8)), g_ptr_array_new_with_free_func (g_free),
                       g_array_new (FALSE, FALSE, sizeof (gint64)) };
}

static void
readings_clear (Readings *self)
{
  g_array_unref (self->x);
  g_array_unref (self->y);
  g_array_unref (self->marks);
  g_ptr_array_unref (self->notes);
  g_array_unref (self->tags);
}

/* Takes the note. */
static void
readings_add (Readings *self,
              double    x,
              double    y,
              guint8    mark,
              gint64    tag,
              char     *note)
{
  g_array_append_val (self->x, x);
  g_array_append_val (self->y, y);
  g_array_append_val (self->marks, mark);
  g_array_append_val (self->tags, tag);
  g_ptr_array_add (self->notes, note);
}

static void
read_row (const WbPlotLine  *line,
          const WbCraftBurn *burn,
          const Slot        *slot,
          double             minutes,
          const WbPool      *pool,
          Readings          *readings)
{
  const WbDataset *data = line->context->data;
  gint64   number = wb_dataset_get_burn (data, burn->burn)->number;
  WallBin *bin = &readings->wall[(guint) CLAMP (minutes / WALL_BIN_MIN, 0.0, N_WALL_BINS - 1)];

  if (pool->both_at_wall && slot->n_burns >= FEW_BURNS)
    {
      bin->n++;
      bin->minutes += minutes;
      bin->mm += pool->diameter_mm;
      return;
    }

  g_autofree char *at = wb_number_format_trimmed (minutes, 1, NULL);
  readings_add (readings, minutes * 60.0 + (pool->both_at_wall ? slot->wall_shift_s : slot->shift_s), pool->diameter_mm,
                pool->both_at_wall ? WB_CHART_MARK_AT_LEAST : WB_CHART_MARK_PLAIN, wb_plot_line_get_burn_tag (line, burn->burn),
                /* Translators: sample code; number of the burn; minutes */
                g_strdup_printf (_("%s, burn %" PRId64 ", %s\302\240min"),
                                 wb_dataset_get_sample (data, burn->sample)->code, number, at));
}

static void
read_burn (const WbPlotLine  *line,
           const WbCraftBurn *burn,
           const Slot        *slot,
           Readings          *readings,
           WbPlotPoolCounts  *counts)
{
  const WbDataset *data = line->context->data;
  double           inner = wb_craft_cell_get_inner_mm (data, burn->cell, burn->stage);
  gboolean         counted = wb_plot_context_burn_counts (line->context, burn) && !burn->ring_held;
  guint            first, n;

  wb_readings_get_burn_rows (data->readings, burn->burn, &first, &n);
  for (guint row = first; row < first + n; row++)
    {
      double minutes = wb_readings_get_elapsed_min (data->readings, row);
      WbPool pool;

      if (!(minutes > 0.0) || !wb_readings_get_pool (data->readings, row, inner, &pool))
        continue;
      if (!counted)
        {
          counts->left_out++;
          continue;
        }
      read_row (line, burn, slot, minutes, &pool, readings);
      counts->readings++;
      counts->at_wall += pool.both_at_wall;
    }
}

static void
add_wall_bins (const WbPlotLine *line,
               const Slot       *slot,
               Readings         *readings)
{
  for (guint i = 0; i < N_WALL_BINS; i++)
    {
      const WallBin *bin = &readings->wall[i];

      if (bin->n > 0)
        readings_add (readings, bin->minutes / bin->n * 60.0 + slot->wall_shift_s, bin->mm / bin->n, WB_CHART_MARK_AT_LEAST,
                      wb_plot_line_get_tag (line),
                      g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u reading at the wall", "%u readings at the wall", bin->n), bin->n));
    }
}

static gboolean
is_of_other_stage (const WbPlotContext *context,
                   const WbCraftBurn   *burn)
{
  return context->options.stage < WB_N_STAGES && burn->stage != context->options.stage;
}

static gboolean
is_seen (const WbPlotLine  *line,
         const WbCraftBurn *burn)
{
  const WbPlotContext *context = line->context;

  return burn->cell == line->cell && !is_of_other_stage (context, burn)
         && (context->options.sample < 0 || burn->sample == (guint) context->options.sample);
}

static Slot
slot_of (const WbPlotLine *line,
         guint             place,
         guint             n)
{
  const WbCraftFigures *figures = line->context->answer->figures;
  double                from_middle = place - (n - 1) / 2.0;
  Slot                  slot = { from_middle * APART_S, from_middle * APART_AT_WALL_S, 0 };

  for (guint i = 0; i < figures->n_burns; i++)
    if (is_seen (line, &figures->burns[i]))
      slot.n_burns = MAX (slot.n_burns, wb_dataset_get_burn (line->context->data, i)->number);
  return slot;
}

/* Markers of a line, not joined: named ones get their name at the end, as a curve would. */
static void
add_readings (const WbPlotLine *line,
              WbChartPanel     *panel,
              const Slot       *slot,
              gboolean          thin,
              WbPlotPoolCounts *counts)
{
  const WbCraftFigures *figures = line->context->answer->figures;
  Readings              readings;

  readings_init (&readings);
  for (guint i = 0; i < figures->n_burns; i++)
    if (is_seen (line, &figures->burns[i]))
      read_burn (line, &figures->burns[i], slot, &readings, counts);
  add_wall_bins (line, slot, &readings);
  if (readings.x->len > 0)
    {
      WbChartLayer *layer = wb_chart_layer_add_line (panel, line->name, line->series,
                                                     WB_CHART_LINE_MARKERS | (thin ? WB_CHART_LINE_THIN : 0), readings.x->len,
                                                     (const double *) readings.x->data, (const double *) readings.y->data);

      wb_chart_layer_set_marks (layer, readings.marks->len, (const guint8 *) readings.marks->data);
      wb_chart_layer_set_notes (layer, readings.notes->len, (const char *const *) readings.notes->pdata);
      wb_chart_layer_set_tags (layer, readings.tags->len, (const gint64 *) readings.tags->data);
    }
  readings_clear (&readings);
}

static gboolean
has_curve (const WbCraftGrowth *growth)
{
  return growth != NULL && isfinite (wb_craft_growth_at (growth, 1.0));
}

/* A pool stops at the wall: curve and band run into it and stay there. */
static void
add_curve (const WbPlotLine *line,
           WbChartPanel     *panel,
           const char       *name,
           double            hours)
{
  const WbCraftGrowth *growth = wb_plot_context_get_growth (line->context, line->cell);
  double               inner = wb_plot_line_get_inner_mm (line);
  double               x[N_CURVE], y[N_CURVE], low[N_CURVE], high[N_CURVE];

  for (guint i = 0; i < N_CURVE; i++)
    {
      double          t = hours * i / (N_CURVE - 1);
      WbCraftInterval band = wb_craft_growth_band (growth, t);

      x[i] = t * 3600.0;
      y[i] = fmin (wb_craft_growth_at (growth, t), inner);
      low[i] = CLAMP (band.low, 0.0, inner);
      high[i] = CLAMP (band.high, 0.0, inner);
    }
  wb_chart_layer_add_band (panel, name, line->series, N_CURVE, x, low, high);
  wb_chart_layer_add_line (panel, name, line->series, WB_CHART_LINE_JOINED, N_CURVE, x, y);
}

static void
set_axes (const WbPlotContext *context,
          WbChartPanel        *panel,
          double               inner,
          double               hours)
{
  WbChartAxis *x = wb_chart_panel_get_x (panel), *y = wb_chart_panel_get_y (panel);

  wb_chart_axis_set_scale (x, WB_CHART_SCALE_DURATION);
  wb_chart_axis_set_unit (x, WB_UNIT_HOUR);
  wb_chart_axis_set_label (x, _("Time after lighting"));
  wb_chart_axis_set_range (x, 0.0, hours * 3600.0);
  wb_chart_axis_set_grid (x, FALSE);
  wb_plot_axis_set_figure (context, y, WB_FIGURE_POOL);
  wb_chart_axis_set_range (y, 0.0, NAN);
  wb_chart_axis_include (y, inner * 1.08);
}

/* The window in which the pool is due, where that is the same for all. */
static void
add_window (WbChartPanel     *panel,
            const WbPlotLine *lines,
            guint             n_lines,
            gboolean          labels)
{
  double low, high;

  if (!wb_plot_outcome_get_window (lines[0].context, lines[0].cell, &low, &high))
    return;
  for (guint i = 1; i < n_lines; i++)
    {
      double its_low, its_high;

      if (!wb_plot_outcome_get_window (lines[i].context, lines[i].cell, &its_low, &its_high) || its_low != low || its_high != high)
        return;
    }
  wb_chart_layer_add_region (panel, labels ? _("full melt pool due") : NULL, WB_CHART_RULE_AIM, WB_CHART_X, low * 3600.0, high * 3600.0);
}

/* Samples of one cell share its curve: the first one draws it. */
static gboolean
draws_curve (const WbPlotLine *lines,
             guint             index)
{
  for (guint i = 0; i < index; i++)
    if (lines[i].context->answer == lines[index].context->answer && lines[i].cell == lines[index].cell)
      return FALSE;
  return has_curve (wb_plot_context_get_growth (lines[index].context, lines[index].cell));
}

void
wb_plot_pool_add_lines (WbChartPanel     *panel,
                        const WbPlotLine *lines,
                        guint             n_lines,
                        gboolean          labels,
                        WbPlotPoolCounts *counts)
{
  double           inner = wb_plot_line_get_inner_mm (&lines[0]);
  g_autofree char *diameter = wb_plot_dup_set_value (lines[0].context, WB_UNIT_MM, inner);
  g_autofree char *wall = g_strdup_printf (_("wall, %s"), diameter);

  set_axes (lines[0].context, panel, inner, counts->hours);
  add_window (panel, lines, n_lines, labels);
  for (guint i = 0; i < n_lines; i++)
    if (draws_curve (lines, i))
      add_curve (&lines[i], panel, labels ? lines[i].name : NULL, counts->hours);
  /* Over the curves, which end in it. */
  wb_chart_layer_add_rule (panel, labels ? wall : NULL, WB_CHART_RULE_WALL, WB_CHART_Y, inner);
  for (guint i = 0; i < n_lines; i++)
    {
      Slot slot = slot_of (&lines[i], i, n_lines);

      add_readings (&lines[i], panel, &slot, !labels || draws_curve (lines, i), counts);
    }
}

double
wb_plot_pool_get_hours (const GArray *lines)
{
  double hours = 0.0;

  for (guint k = 0; k < lines->len; k++)
    {
      const WbPlotLine     *line = &g_array_index (lines, WbPlotLine, k);
      const WbCraftFigures *figures = line->context->answer->figures;

      hours = fmax (hours, wb_plot_outcome_get_burn_h (line->context));
      for (guint i = 0; i < figures->n_burns; i++)
        {
          const WbCraftBurn *burn = &figures->burns[i];

          if (burn->cell == line->cell && wb_plot_context_burn_counts (line->context, burn) && !isnan (burn->pool_mm)
              && !isnan (burn->last_min))
            hours = fmax (hours, burn->last_min / 60.0);
        }
    }
  /* Air for the markers of the last reading, and a bound for a log with an absurd minute in it. */
  return fmin (hours, 48.0) * 1.04;
}

char *
wb_plot_pool_dup_note (const WbPlotPoolCounts *counts)
{
  g_autoptr (GString) note = g_string_new (NULL);

  g_string_append_printf (note, g_dngettext (GETTEXT_PACKAGE, "%u reading", "%u readings", counts->readings), counts->readings);
  if (counts->at_wall > 0)
    g_string_append_printf (note, g_dngettext (GETTEXT_PACKAGE, ", %u of them at the wall (open marker: at least so wide)",
                                               ", %u of them at the wall (open marker: at least so wide)", counts->at_wall), counts->at_wall);
  if (counts->left_out > 0)
    g_string_append_printf (note, g_dngettext (GETTEXT_PACKAGE, "; %u not counted, not drawn", "; %u not counted, not drawn",
                                               counts->left_out), counts->left_out);
  g_string_append (note, ".");
  return g_string_free (g_steal_pointer (&note), FALSE);
}
