/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-plot-words-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define MOST_NAME 28
#define MOST_LONG_NAME 64

#define FIRST_STRONG_ISOLATE "\342\201\250"
#define POP_ISOLATE "\342\201\251"

/* Hebrew to the Arabic extensions, and their presentation forms. */
static gboolean
runs_right_to_left (const char *text)
{
  for (const char *at = text; *at != '\0'; at = g_utf8_next_char (at))
    {
      gunichar letter = g_utf8_get_char (at);

      if ((letter >= 0x590 && letter <= 0x8ff) || (letter >= 0xfb1d && letter <= 0xfefc))
        return TRUE;
    }
  return FALSE;
}

char *
wb_plot_dup_clipped (const char *text,
                     glong       most)
{
  g_autofree char *valid = g_utf8_make_valid (text != NULL ? text : "", -1);
  g_autofree char *clipped = NULL;

  g_strdelimit (valid, "\n\r\t", ' ');
  if (g_utf8_strlen (valid, -1) > most)
    {
      g_autofree char *head = g_utf8_substring (valid, 0, most - 1);

      clipped = g_strconcat (g_strchomp (head), "…", NULL);
    }
  else
    clipped = g_steal_pointer (&valid);
  if (runs_right_to_left (clipped))
    return g_strconcat (FIRST_STRONG_ISOLATE, clipped, POP_ISOLATE, NULL);
  return g_steal_pointer (&clipped);
}

char *
wb_plot_dup_cell_name (const WbPlotContext *context,
                       guint                cell)
{
  g_autofree char *name = wb_dataset_dup_cell_name (context->data, cell);

  return wb_plot_dup_clipped (name, MOST_LONG_NAME);
}

char *
wb_plot_dup_wick_name (const WbPlotContext *context,
                       guint                cell)
{
  g_autofree char *name = wb_dataset_dup_wick_name (context->data, cell);

  return wb_plot_dup_clipped (name, MOST_NAME);
}

char *
wb_plot_dup_family_name (const WbPlotContext *context,
                         guint                family,
                         gboolean             brief)
{
  guint    first = 0;
  gboolean vessels = FALSE, scents = FALSE;

  while (first < context->n_cells && context->family[first] != family)
    first++;
  if (first == context->n_cells)
    return g_strdup ("");

  for (guint cell = 0; cell < context->n_cells; cell++)
    if (!wb_plot_same_family (context->data, cell, first))
      {
        gboolean other = wb_dataset_get_vessel (context->data, cell) != wb_dataset_get_vessel (context->data, first);
        g_autofree char *own = wb_dataset_dup_scent_name (context->data, first);
        g_autofree char *its = wb_dataset_dup_scent_name (context->data, cell);

        vessels |= other;
        scents |= !g_str_equal (own, its);
      }

  g_autofree char *whole_vessel = wb_material_dup_title (wb_dataset_get_vessel (context->data, first));
  g_autofree char *whole_scent = wb_dataset_dup_scent_name (context->data, first);
  g_autofree char *vessel = wb_plot_dup_clipped (whole_vessel, MOST_NAME);
  g_autofree char *scent = wb_plot_dup_clipped (whole_scent, MOST_NAME);

  if (!brief || (vessels && scents))
    return g_strdup_printf ("%s · %s", vessel, scent);
  return g_strdup (vessels ? vessel : scents ? scent : "");
}

char *
wb_plot_dup_common_family (const WbPlotContext *context,
                           const GArray        *cells)
{
  g_autofree char *family = NULL;

  if (cells->len == 0 || wb_plot_context_mixes (context, cells))
    return g_strdup ("");
  family = wb_plot_dup_family_name (context, context->family[g_array_index (cells, guint, 0)], TRUE);
  return *family == '\0' ? g_strdup ("") : g_strconcat (family, ".", NULL);
}

char *
wb_plot_dup_quantity (const WbPlotContext *context,
                      WbUnit               stored,
                      double               value,
                      int                  decimals)
{
  WbUnit unit = context->options.units[wb_unit_get_quantity (stored)];

  if (unit == WB_UNIT_NONE || stored == WB_UNIT_NONE)
    return wb_number_format (value, decimals < 0 ? 2 : decimals, NULL);
  return wb_quantity_format (unit, value, decimals);
}

char *
wb_plot_dup_set_value (const WbPlotContext *context,
                       WbUnit               stored,
                       double               value)
{
  WbUnit           unit = context->options.units[wb_unit_get_quantity (stored)];
  g_autofree char *text = wb_number_format_trimmed (wb_unit_from_stored (unit, value), wb_unit_get_decimals (unit), NULL);

  return g_strdup_printf ("%s\302\240%s", text, wb_unit_get_symbol (unit));
}

char *
wb_plot_dup_gap (const WbPlotContext *context,
                 double               mm)
{
  WbUnit unit = context->options.units[WB_QUANTITY_LENGTH];

  if (unit == WB_UNIT_MM)
    return wb_quantity_format (unit, mm, mm >= 1.95 ? 0 : 1);
  return wb_quantity_format (unit, mm, unit == WB_UNIT_CM ? 1 : 2);
}

char *
wb_plot_dup_hours (double hours)
{
  return wb_quantity_format (WB_UNIT_HOUR, hours * 3600.0, 1);
}

char *
wb_plot_dup_chance (double chance)
{
  if (isnan (chance))
    return g_strdup (_("not known"));
  chance = CLAMP (chance, 0.0, 1.0);
  if (chance > 0.0 && chance < 0.005)
    return g_strdup (_("under 1\302\240%"));
  if (chance < 1.0 && chance > 0.995)
    return g_strdup (_("over 99\302\240%"));
  return wb_quantity_format (WB_UNIT_PERCENT, chance * 100.0, 0);
}

int
wb_plot_figure_get_decimals (const WbPlotContext *context,
                             WbFigure             figure)
{
  switch (wb_plot_figure_get_shown_unit (context, figure))
    {
    case WB_UNIT_NONE:
      return figure == WB_FIGURE_SCORE ? 2 : 1;
    case WB_UNIT_INCH:
    case WB_UNIT_OZ_PER_H:
      return 2;
    case WB_UNIT_CELSIUS:
    case WB_UNIT_FAHRENHEIT:
      return 0;
    default:
      return 1;
    }
}

char *
wb_plot_dup_figure (const WbPlotContext *context,
                    WbFigure             figure,
                    double               value)
{
  WbUnit stored = wb_figure_get_unit (figure);

  if (stored == WB_UNIT_HOUR)
    return wb_plot_dup_hours (value);
  return wb_plot_dup_quantity (context, stored, value, wb_plot_figure_get_decimals (context, figure));
}

char *
wb_plot_dup_interval (const WbPlotContext *context,
                      WbFigure             figure,
                      WbCraftInterval      interval)
{
  if (isnan (interval.value))
    return g_strdup ("");

  g_autofree char *value = wb_plot_dup_figure (context, figure, interval.value);
  g_autofree char *low = isnan (interval.low) ? NULL : wb_plot_dup_figure (context, figure, interval.low);
  g_autofree char *high = isnan (interval.high) ? NULL : wb_plot_dup_figure (context, figure, interval.high);

  if (low != NULL && high != NULL)
    /* Translators: a value with the two ends of its interval */
    return g_strdup_printf (_("%s (%s to %s)"), value, low, high);
  if (low != NULL)
    /* Translators: a value and the lower end of its interval, which has no upper one */
    return g_strdup_printf (_("%s (%s or more)"), value, low);
  if (high != NULL)
    return g_strdup_printf (_("%s (%s or less)"), value, high);
  return g_steal_pointer (&value);
}

WbUnit
wb_plot_figure_get_shown_unit (const WbPlotContext *context,
                               WbFigure             figure)
{
  WbUnit stored = wb_figure_get_unit (figure);

  if (stored == WB_UNIT_NONE || stored == WB_UNIT_HOUR)
    return stored;
  return context->options.units[wb_unit_get_quantity (stored)];
}

double
wb_plot_to_axis (WbFigure figure,
                 double   value)
{
  return wb_figure_get_unit (figure) == WB_UNIT_HOUR ? value * 3600.0 : value;
}

void
wb_plot_axis_set_figure (const WbPlotContext *context,
                         WbChartAxis         *axis,
                         WbFigure             figure)
{
  if (wb_figure_get_unit (figure) == WB_UNIT_HOUR)
    wb_chart_axis_set_scale (axis, WB_CHART_SCALE_DURATION);
  wb_chart_axis_set_unit (axis, wb_plot_figure_get_shown_unit (context, figure));
  wb_chart_axis_set_label (axis, _(wb_figure_get_label (figure)));
}

char *
wb_plot_dup_sentence (const char *text)
{
  gunichar         first = g_utf8_get_char (text);
  char             start[7] = { 0 };

  if (first == 0)
    return g_strdup ("");
  start[g_unichar_to_utf8 (g_unichar_toupper (first), start)] = '\0';
  return g_strconcat (start, g_utf8_next_char (text), NULL);
}

void
wb_plot_set_footnote (const WbPlotContext *context,
                      WbChart             *chart,
                      const char          *first,
                      ...)
{
  g_autoptr (GString) note = g_string_new (NULL);
  va_list             rest;

  va_start (rest, first);
  for (const char *part = first; part != NULL; part = va_arg (rest, const char *))
    if (*part != '\0')
      g_string_append_printf (note, "%s%s", note->len > 0 ? " " : "", part);
  va_end (rest);
  if (context->data->notebook != NULL && context->data->notebook->invented)
    g_string_append_printf (note, "%s%s", note->len > 0 ? " " : "", _("Invented data."));
  wb_chart_set_footnote (chart, note->str);
}

char *
wb_plot_dup_counts (guint samples,
                    guint burns,
                    guint readings)
{
  g_autofree char *some_samples = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u sample", "%u samples", samples), samples);
  g_autofree char *some_burns = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u burn", "%u burns", burns), burns);

  if (readings == G_MAXUINT)
    return g_strdup_printf ("%s, %s", some_samples, some_burns);

  g_autofree char *some_readings = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u reading", "%u readings", readings), readings);

  return g_strdup_printf ("%s, %s, %s", some_samples, some_burns, some_readings);
}
