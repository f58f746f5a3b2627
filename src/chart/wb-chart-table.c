/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The chart's data as rows of text. */
#include "config.h"

#include "wb-chart-table.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "wb-chart-layout-private.h"

struct _WbChartTable
{
  GPtrArray *headings;
  GPtrArray *rows; /* of char *[n_columns] */
};

typedef struct
{
  char *fields[WB_CHART_N_FIELDS];
} Row;

static void
row_free (gpointer data)
{
  Row *row = data;

  for (guint i = 0; i < WB_CHART_N_FIELDS; i++)
    g_free (row->fields[i]);
  g_free (row);
}

static void
collect_layer (GPtrArray          *rows,
               const WbChartPanel *panel,
               const WbChartLayer *layer)
{
  gboolean single = layer->kind == WB_CHART_LAYER_RULE || layer->kind == WB_CHART_LAYER_REGION
                    || layer->kind == WB_CHART_LAYER_WALL || layer->kind == WB_CHART_LAYER_TEXT;
  gsize n = single ? 1 : wb_chart_layer_get_n (layer);

  for (gsize i = 0; i < n; i++)
    {
      Row *row = g_new0 (Row, 1);

      if (!wb_chart_words_get_fields (panel, layer, i, row->fields))
        {
          row_free (row);
          continue;
        }
      row->fields[WB_CHART_FIELD_PANEL] = g_strdup (panel->title);
      g_ptr_array_add (rows, row);
    }
}

static gboolean
is_used (const GPtrArray *rows,
         WbChartField     field)
{
  for (guint i = 0; i < rows->len; i++)
    {
      const char *text = ((const Row *) g_ptr_array_index (rows, i))->fields[field];

      if (text != NULL && *text != '\0')
        return TRUE;
    }

  return FALSE;
}

/* The label of the axis where all panels agree on it, else a plain word. */
static char *
axis_heading (const WbChart    *chart,
              WbChartDirection  direction)
{
  const char *label = NULL;

  for (guint i = 0; i < wb_chart_get_n_panels (chart); i++)
    {
      const WbChartPanel *panel = wb_chart_get_panel (chart, i);
      const char         *own = (direction == WB_CHART_X ? panel->x : panel->y)->label;

      if (i > 0 && g_strcmp0 (own, label) != 0)
        label = NULL;
      else if (i == 0)
        label = own;
      if (label == NULL)
        break;
    }
  if (label != NULL && *label != '\0')
    return g_strdup (label);

  return g_strdup (direction == WB_CHART_X ? _("Across") : _("Up"));
}

static char *
dup_heading (const WbChart *chart,
             WbChartField   field)
{
  switch (field)
    {
    case WB_CHART_FIELD_PANEL:
      return g_strdup (_("Panel"));
    case WB_CHART_FIELD_NAME:
      return g_strdup (_("What"));
    case WB_CHART_FIELD_X:
      return axis_heading (chart, WB_CHART_X);
    case WB_CHART_FIELD_Y:
      return axis_heading (chart, WB_CHART_Y);
    case WB_CHART_FIELD_VALUE:
      return g_strdup (_("Value"));
    case WB_CHART_FIELD_LOW:
      return g_strdup (_("Low"));
    case WB_CHART_FIELD_HIGH:
      return g_strdup (_("High"));
    case WB_CHART_FIELD_NOTE:
    case WB_CHART_N_FIELDS:
    default:
      return g_strdup (_("Note"));
    }
}

WbChartTable *
wb_chart_table_new (WbChart *chart)
{
  g_return_val_if_fail (chart != NULL, NULL);

  WbChartTable         *table = g_new0 (WbChartTable, 1);
  g_autoptr (GPtrArray) rows = g_ptr_array_new_with_free_func (row_free);

  for (guint i = 0; i < wb_chart_get_n_panels (chart); i++)
    {
      const WbChartPanel *panel = wb_chart_get_panel (chart, i);

      for (guint k = 0; k < panel->layers->len; k++)
        collect_layer (rows, panel, g_ptr_array_index (panel->layers, k));
    }

  gboolean used[WB_CHART_N_FIELDS];
  table->headings = g_ptr_array_new_with_free_func (g_free);
  for (guint field = 0; field < WB_CHART_N_FIELDS; field++)
    {
      used[field] = is_used (rows, field);
      if (used[field])
        g_ptr_array_add (table->headings, dup_heading (chart, field));
    }

  table->rows = g_ptr_array_new_full (rows->len, (GDestroyNotify) g_ptr_array_unref);
  for (guint i = 0; i < rows->len; i++)
    {
      Row       *row = g_ptr_array_index (rows, i);
      GPtrArray *cells = g_ptr_array_new_full (table->headings->len, g_free);

      for (guint field = 0; field < WB_CHART_N_FIELDS; field++)
        if (used[field])
          g_ptr_array_add (cells, row->fields[field] != NULL ? g_steal_pointer (&row->fields[field])
                                                             : g_strdup (""));
      g_ptr_array_add (table->rows, cells);
    }

  return table;
}

void
wb_chart_table_free (WbChartTable *table)
{
  if (table == NULL)
    return;

  g_ptr_array_unref (table->headings);
  g_ptr_array_unref (table->rows);
  g_free (table);
}

guint
wb_chart_table_get_n_columns (const WbChartTable *table)
{
  g_return_val_if_fail (table != NULL, 0);

  return table->headings->len;
}

guint
wb_chart_table_get_n_rows (const WbChartTable *table)
{
  g_return_val_if_fail (table != NULL, 0);

  return table->rows->len;
}

const char *
wb_chart_table_get_heading (const WbChartTable *table,
                            guint               column)
{
  g_return_val_if_fail (table != NULL && column < table->headings->len, NULL);

  return g_ptr_array_index (table->headings, column);
}

const char *
wb_chart_table_get_cell (const WbChartTable *table,
                         guint               row,
                         guint               column)
{
  g_return_val_if_fail (table != NULL && row < table->rows->len && column < table->headings->len, NULL);

  return g_ptr_array_index (((const GPtrArray *) g_ptr_array_index (table->rows, row)), column);
}

static void
append_line (GString         *text,
             const GPtrArray *cells)
{
  for (guint i = 0; i < cells->len; i++)
    {
      g_autofree char *cell = g_strdup (g_ptr_array_index (cells, i));

      if (i > 0)
        g_string_append_c (text, '\t');
      g_string_append (text, g_strdelimit (cell, "\t\r\n", ' '));
    }
  g_string_append_c (text, '\n');
}

char *
wb_chart_table_dup_text (const WbChartTable *table)
{
  g_return_val_if_fail (table != NULL, NULL);

  g_autoptr (GString) text = g_string_new (NULL);
  append_line (text, table->headings);
  for (guint i = 0; i < table->rows->len; i++)
    append_line (text, g_ptr_array_index (table->rows, i));

  return g_string_free (g_steal_pointer (&text), FALSE);
}

/* ---- CSV ---- */

#define NBSP "\u00a0"
#define MINUS "\u2212"

/* A number as people write it, at the beginning of a cell, with a decimal point; NULL: it does not begin with one. `rest`: behind it. */
static char *
dup_number (const char  *cell,
            const char **rest)
{
  g_autoptr (GString) number = g_string_new (NULL);
  const char *at = cell;
  gboolean digits = FALSE, decimal = FALSE;

  if (g_str_has_prefix (at, MINUS))
    {
      g_string_append_c (number, '-');
      at += strlen (MINUS);
    }
  else if (*at == '-')
    g_string_append_c (number, *at++);
  for (; g_ascii_isdigit (*at) || (!decimal && (*at == '.' || *at == ',')); at++)
    {
      digits = digits || g_ascii_isdigit (*at);
      decimal = decimal || !g_ascii_isdigit (*at);
      g_string_append_c (number, *at == ',' ? '.' : *at);
    }
  *rest = at;
  return digits ? g_string_free (g_steal_pointer (&number), FALSE) : NULL;
}

/* The unit of all cells of a column, "" for bare numbers; NULL: they are no numbers of one unit. Borrowed from a cell. */
static const char *
find_unit (const WbChartTable *table,
           guint               column)
{
  const char *unit = NULL;

  for (guint row = 0; row < table->rows->len; row++)
    {
      const char *cell = wb_chart_table_get_cell (table, row, column);
      g_autofree char *number = NULL;
      const char *rest;

      if (*cell == '\0')
        continue;
      number = dup_number (cell, &rest);
      if (number == NULL || (*rest != '\0' && !g_str_has_prefix (rest, NBSP)))
        return NULL;
      rest += *rest != '\0' ? strlen (NBSP) : 0;
      /* "2 h 30 min" is no number of a unit. */
      if (strpbrk (rest, "0123456789") != NULL)
        return NULL;
      if (unit != NULL && !g_str_equal (unit, rest))
        return NULL;
      unit = rest;
    }
  return unit;
}

static void
append_csv (GString    *csv,
            const char *field,
            gboolean    last)
{
  if (strpbrk (field, ",\"\r\n") == NULL)
    g_string_append (csv, field);
  else
    {
      g_string_append_c (csv, '"');
      for (const char *at = field; *at != '\0'; at++)
        {
          if (*at == '"')
            g_string_append_c (csv, '"');
          g_string_append_c (csv, *at);
        }
      g_string_append_c (csv, '"');
    }
  g_string_append (csv, last ? "\r\n" : ",");
}

char *
wb_chart_table_dup_csv (const WbChartTable *table)
{
  g_autoptr (GString) csv = g_string_new (NULL);
  g_autofree const char **units = NULL;
  guint n;

  g_return_val_if_fail (table != NULL, NULL);

  n = table->headings->len;
  units = g_new0 (const char *, n + 1);
  for (guint i = 0; i < n; i++)
    {
      const char *heading = wb_chart_table_get_heading (table, i);
      g_autofree char *with_unit = NULL;

      units[i] = find_unit (table, i);
      if (units[i] != NULL && *units[i] != '\0')
        with_unit = g_strdup_printf ("%s (%s)", heading, units[i]);
      append_csv (csv, with_unit != NULL ? with_unit : heading, i + 1 == n);
    }
  for (guint row = 0; row < table->rows->len; row++)
    for (guint i = 0; i < n; i++)
      {
        const char *cell = wb_chart_table_get_cell (table, row, i);
        const char *rest;
        g_autofree char *number = units[i] != NULL ? dup_number (cell, &rest) : NULL;

        append_csv (csv, number != NULL ? number : cell, i + 1 == n);
      }
  return g_string_free (g_steal_pointer (&csv), FALSE);
}
