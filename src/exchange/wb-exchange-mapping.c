/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-exchange-mapping.h"

#include "wb-exchange-mapping-private.h"
#include "wb-exchange-mapping-time-private.h"

#include <glib/gi18n-lib.h>
#include <inttypes.h>
#include <math.h>
#include <string.h>

/* Told by their numbers; of further ones how many. */
#define MOST_LINES 12

static void
clear_breach (gpointer data)
{
  g_free (((WbExchangeMappingBreach *) data)->rule);
}

static void
layer_init (WbExchangeMappingLayer *self, guint n_outputs)
{
  self->values = g_new0 (char *, n_outputs);
  self->breaches = g_array_new (FALSE, FALSE, sizeof (WbExchangeMappingBreach));
  g_array_set_clear_func (self->breaches, clear_breach);
  self->given = g_ptr_array_new ();
}

static void
layer_forget (WbExchangeMappingLayer *self, guint n_outputs)
{
  for (guint i = 0; i < n_outputs; i++)
    g_clear_pointer (&self->values[i], g_free);
  g_array_set_size (self->breaches, 0);
  g_ptr_array_set_size (self->given, 0);
  self->filled = FALSE;
}

static void
layer_clear (WbExchangeMappingLayer *self, guint n_outputs)
{
  layer_forget (self, n_outputs);
  g_free (self->values);
  g_array_unref (self->breaches);
  g_ptr_array_unref (self->given);
}

static void
breach (WbExchangeMappingLayer *layer, const char *column, char *rule)
{
  WbExchangeMappingBreach item = { column, rule };

  g_array_append_val (layer->breaches, item);
}

void
wb_exchange_mapping_breach (WbExchangeMapping *self,
                            const char        *column,
                            char              *rule)
{
  breach (&self->whole, column, rule);
}

WbExchangeMapping *
wb_exchange_mapping_new (const WbLogMapping *mapping,
                         const char *const  *names,
                         GError            **error)
{
  WbExchangeMappingPlan *plan = wb_exchange_mapping_plan_new (mapping, names, error);
  WbExchangeMapping *self;

  if (plan == NULL)
    return NULL;
  self = g_new0 (WbExchangeMapping, 1);
  self->plan = plan;
  self->header = g_new0 (WbExchangeCsvCell, plan->outputs->len);
  self->cells = g_new0 (WbExchangeCsvCell, plan->outputs->len);
  self->columns = g_new0 (guint, plan->outputs->len);
  for (guint i = 0; i < plan->outputs->len; i++)
    {
      const WbExchangeMappingOutput *output = wb_exchange_mapping_plan_output (plan, i);

      if (output->hidden)
        continue;
      self->header[self->n_columns] = (WbExchangeCsvCell) { output->name, strlen (output->name) };
      self->columns[self->n_columns++] = i;
    }
  layer_init (&self->whole, plan->outputs->len);
  self->hours = g_new0 (WbExchangeMappingLayer, plan->hours->len);
  for (guint i = 0; i < plan->hours->len; i++)
    layer_init (&self->hours[i], plan->outputs->len);
  self->repeated = g_new0 (char *, plan->n_names);
  self->short_lines = g_array_new (FALSE, FALSE, sizeof (guint64));
  self->lightings = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  self->over = TRUE;
  self->hour = -1;
  return self;
}

void
wb_exchange_mapping_free (WbExchangeMapping *self)
{
  if (self == NULL)
    return;
  layer_clear (&self->whole, self->plan->outputs->len);
  for (guint i = 0; i < self->plan->hours->len; i++)
    layer_clear (&self->hours[i], self->plan->outputs->len);
  for (guint i = 0; i < self->plan->n_names; i++)
    g_free (self->repeated[i]);
  g_free (self->repeated);
  g_array_unref (self->short_lines);
  g_free (self->said);
  g_clear_pointer (&self->surveyed, g_hash_table_unref);
  g_clear_pointer (&self->recorded, g_hash_table_unref);
  g_hash_table_unref (self->lightings);
  g_free (self->hours);
  g_free (self->header);
  g_free (self->cells);
  g_free (self->columns);
  g_free (self->elapsed);
  wb_exchange_mapping_plan_free (self->plan);
  g_free (self);
}

void
wb_exchange_mapping_get_header (const WbExchangeMapping *self,
                                WbExchangeCsvRecord     *header)
{
  *header = (WbExchangeCsvRecord) { .line = 1, .cells = self->header, .n_cells = self->n_columns, .fault_cell = G_MAXUINT };
}

static const char *
get_cell (const WbExchangeCsvRecord *record, guint cell)
{
  return cell < record->n_cells ? record->cells[cell].text : "";
}

/* Of a column whose empty cells say what stands above, that. */
static const char *
get_text (WbExchangeMapping *self, const WbExchangeCsvRecord *record, const WbExchangeMappingBinding *binding)
{
  const char *text = get_cell (record, binding->cell);
  char **repeated = &self->repeated[binding->cell];

  if (!binding->column->repeat)
    return text;
  if (text[strspn (text, " \t\r\n")] == '\0')
    return *repeated != NULL ? *repeated : "";
  if (*repeated == NULL || strcmp (*repeated, text) != 0)
    {
      g_free (*repeated);
      *repeated = g_strdup (text);
    }
  return text;
}

static void
put (WbExchangeMapping *self, WbExchangeMappingLayer *layer, int output, const WbLogMappingColumn *column, const char *source, const char *text)
{
  char *rule = NULL, *value;

  if (output < 0)
    return;
  value = wb_exchange_mapping_dup_value (self->plan, wb_exchange_mapping_plan_output (self->plan, output), column, text, &rule);
  if (value == NULL)
    {
      breach (layer, source, rule);
      return;
    }
  g_free (layer->values[output]);
  layer->values[output] = value;
}

/* The cell's text by the pieces of its pattern. */
static void
put_pieces (WbExchangeMapping *self, WbExchangeMappingLayer *layer, const WbExchangeMappingBinding *binding, const char *text)
{
  g_autofree char *clean = g_strstrip (g_strdup (text));
  const char *p = clean;
  gboolean good = TRUE;

  if (wb_exchange_mapping_is_nothing (self->plan, clean))
    return;
  for (guint i = 0; i < binding->pieces->len && good; i++)
    {
      const WbExchangeMappingPiece *piece = &g_array_index (binding->pieces, WbExchangeMappingPiece, i);
      const char *end = NULL;

      if (piece->literal != NULL)
        {
          good = g_str_has_prefix (p, piece->literal);
          p += good ? strlen (piece->literal) : 0;
          continue;
        }
      end = i + 1 < binding->pieces->len ? strstr (p, g_array_index (binding->pieces, WbExchangeMappingPiece, i + 1).literal)
                                         : p + strlen (p);
      good = end != NULL && end > p;
      if (good)
        {
          g_autofree char *part = g_strndup (p, end - p);

          put (self, layer, piece->output, NULL, binding->column->source, part);
          p = end;
        }
    }
  if (!good || *p != '\0')
    breach (layer, binding->column->source, g_strdup_printf (_("“%s” is not as the pattern “%s” says"), clean, binding->column->pattern));
}

/* Of one moment: what goes with an hour that is refused. */
static gboolean
is_reading (const WbExchangeMapping *self, const WbExchangeMappingBinding *binding)
{
  const WbExchangeMappingOutput *output = binding->output >= 0 ? wb_exchange_mapping_plan_output (self->plan, binding->output) : NULL;

  return output != NULL ? output->target != NULL && output->target->reading : binding->hour >= 0;
}

static void
put_bindings (WbExchangeMapping *self, const WbExchangeCsvRecord *record)
{
  for (guint i = 0; i < self->plan->bindings->len; i++)
    {
      const WbExchangeMappingBinding *binding = wb_exchange_mapping_plan_binding (self->plan, i);
      WbExchangeMappingLayer *layer = binding->hour >= 0 ? &self->hours[binding->hour] : &self->whole;
      const char *text = get_text (self, record, binding);

      if (!wb_exchange_mapping_is_nothing (self->plan, text))
        {
          layer->filled = TRUE;
          self->last = MAX (self->last, binding->hour);
          if (is_reading (self, binding))
            g_ptr_array_add (layer->given, binding->column->source);
        }
      if (binding->pieces != NULL)
        put_pieces (self, layer, binding, text);
      else
        put (self, layer, binding->output, binding->column, binding->column->source, text);
    }
}

/* {NAME} is that column's cell. */
static char *
dup_composed (WbExchangeMapping *self, const WbExchangeCsvRecord *record, const char *text)
{
  g_autoptr (GString) composed = g_string_new (NULL);
  const char *p = text;

  for (const char *open = strchr (p, '{'); open != NULL; open = strchr (p, '{'))
    {
      const char *close = strchr (open, '}');
      guint cell = 0;

      g_string_append_len (composed, p, open - p);
      while (strlen (self->plan->names[cell]) != (gsize) (close - open - 1)
             || strncmp (self->plan->names[cell], open + 1, close - open - 1) != 0)
        cell++;

      const char *found = get_cell (record, cell);
      g_autofree char *clean = NULL;

      if (found[strspn (found, " \t\r\n")] == '\0' && self->repeated[cell] != NULL)
        found = self->repeated[cell];
      clean = g_strstrip (g_strdup (found));
      g_string_append (composed, clean);
      p = close + 1;
    }
  g_string_append (composed, p);
  return g_string_free (g_steal_pointer (&composed), FALSE);
}

static void
put_fixed (WbExchangeMapping *self, const WbExchangeCsvRecord *record)
{
  for (guint i = 0; i < self->plan->outputs->len; i++)
    {
      const WbExchangeMappingOutput *output = wb_exchange_mapping_plan_output (self->plan, i);

      if (output->fixed != NULL && !(self->plan->counted && (int) i == self->plan->burn)
          && !(self->plan->first && (int) i == self->plan->lit_at))
        {
          g_autofree char *text = dup_composed (self, record, output->fixed);

          put (self, &self->whole, (int) i, NULL, output->told, text);
        }
    }
}

const char *
wb_exchange_mapping_get_source (const WbExchangeMapping *self,
                                int                      output,
                                int                      hour)
{
  const char *found = "";

  for (guint i = 0; i < self->plan->bindings->len; i++)
    {
      const WbExchangeMappingBinding *binding = wb_exchange_mapping_plan_binding (self->plan, i);
      gboolean fills = binding->pieces == NULL && binding->output == output;

      for (guint p = 0; binding->pieces != NULL && p < binding->pieces->len; p++)
        fills |= g_array_index (binding->pieces, WbExchangeMappingPiece, p).output == output;
      if (fills && binding->hour == hour)
        return binding->column->source;
      if (fills && binding->hour < 0)
        found = binding->column->source;
    }
  return found;
}

static void
note_short (WbExchangeMapping *self, const WbExchangeCsvRecord *record)
{
  if (self->surveying)
    return;
  if (self->n_short++ == 0)
    self->n_cells = record->n_cells;
  if (self->short_lines->len < MOST_LINES)
    g_array_append_val (self->short_lines, record->line);
}

/*
 * One cell too many is a row of which the cells may stand one to the right, whatever stands in the last: a decimal comma without
 * quotation marks does that where commas part the columns, and in a sheet of decimal commas one too few may be the same. Else a row
 * that ends early leaves off what is empty, as spreadsheets do.
 */
static void
check_cells (WbExchangeMapping *self, const WbExchangeCsvRecord *record)
{
  guint n = self->plan->n_names;
  gboolean shifts = self->plan->mapping->delimiter == ',' && self->plan->mapping->decimal == ',';

  if (record->n_cells < n && !shifts)
    note_short (self, record);
  else if (record->n_cells != n)
    breach (&self->whole, "",
            g_strdup_printf (self->plan->mapping->delimiter == ','
                               ? _("the row has %u cells, and the header has %u: a cell with a comma in it, as 63,5, needs quotation marks around it")
                               : _("the row has %u cells, and the header has %u"), record->n_cells, n));
}

/* What is read without an hour is read at the last: a column of that hour may say something else. */
static void
check_last (WbExchangeMapping *self)
{
  WbExchangeMappingLayer *last = self->last >= 0 ? &self->hours[self->last] : NULL;

  for (guint i = 0; last != NULL && i < self->plan->outputs->len; i++)
    {
      const char *of_hour = last->values[i], *of_whole = self->whole.values[i];

      if (of_hour != NULL && of_whole != NULL && *of_hour != '\0' && *of_whole != '\0' && strcmp (of_hour, of_whole) != 0)
        breach (last, wb_exchange_mapping_get_source (self, (int) i, -1),
                g_strdup_printf (_("of the last hour “%s” says %s, and this column %s"), wb_exchange_mapping_get_source (self, (int) i, self->last),
                                 of_hour, of_whole));
    }
}

/* A row that was not refused since has come in, and what was said with it is told. */
static void
settle_said (WbExchangeMapping *self)
{
  if (!self->given)
    return;
  self->said_of->told = TRUE;
  self->given = FALSE;
  g_clear_pointer (&self->said, g_free);
}

void
wb_exchange_mapping_feed (WbExchangeMapping         *self,
                          const WbExchangeCsvRecord *record)
{
  guint n = self->plan->outputs->len;

  layer_forget (&self->whole, n);
  for (guint i = 0; i < self->plan->hours->len; i++)
    layer_forget (&self->hours[i], n);
  self->record = *record;
  self->line = record->line;
  self->last = -1;
  self->next = 0;
  self->over = FALSE;
  settle_said (self);
  g_clear_pointer (&self->said, g_free);
  check_cells (self, record);
  put_bindings (self, record);
  check_last (self);
  put_fixed (self, record);
  wb_exchange_mapping_put_moments (self);
  if (self->plan->hours->len > 0 && self->last < 0)
    breach (&self->whole, "", g_strdup (_("nothing stands in any of the columns of hours")));
}

gboolean
wb_exchange_mapping_wants_survey (const WbExchangeMapping *self)
{
  return self->plan->counted;
}

void
wb_exchange_mapping_survey (WbExchangeMapping         *self,
                            const WbExchangeCsvRecord *record)
{
  self->surveying = TRUE;
  wb_exchange_mapping_feed (self, record);
}

/* `added` is taken. */
static void
add_to_rule (WbLogRemark *remark, char *added)
{
  char *rule = g_strdup_printf ("%s; %s", remark->rule, added);

  g_free (added);
  g_free (remark->rule);
  remark->rule = rule;
}

/* What goes with the hour of the row that came last and that is refused: readings of that hour, and of the last those without one. */
static void
tell_lost (const WbExchangeMapping *self, WbLogRemark *remark)
{
  const WbExchangeMappingLayer *layers[] = { &self->hours[self->hour], self->hour == self->last ? &self->whole : NULL };
  g_autoptr (GString) lost = g_string_new (NULL);

  for (guint l = 0; l < G_N_ELEMENTS (layers); l++)
    for (guint i = 0; layers[l] != NULL && i < layers[l]->given->len; i++)
      {
        const char *column = layers[l]->given->pdata[i];

        if (strcmp (column, remark->column) != 0 && (remark->also == NULL || !g_strv_contains ((const char *const *) remark->also, column)))
          g_string_append_printf (lost, "%s“%s”", lost->len > 0 ? ", " : "", column);
      }
  if (lost->len > 0)
    add_to_rule (remark, g_strdup_printf (_("left out with it: %s"), lost->str));
}

/* One remark: the first column, and the others by name. */
static WbExchangeMappingResult
refuse (const WbExchangeMapping *self, const WbExchangeMappingLayer *layer, GPtrArray *remarks)
{
  WbExchangeMappingBreach *first = &g_array_index (layer->breaches, WbExchangeMappingBreach, 0);
  WbLogRemark *remark = wb_log_remark_new (self->line, first->column, g_steal_pointer (&first->rule));
  g_autoptr (GPtrArray) also = g_ptr_array_new ();

  for (guint i = 1; i < layer->breaches->len; i++)
    {
      const char *column = g_array_index (layer->breaches, WbExchangeMappingBreach, i).column;

      if (*column != '\0' && strcmp (column, first->column) != 0 && !g_ptr_array_find (also, column, NULL))
        g_ptr_array_add (also, (gpointer) column);
    }
  if (also->len > 0)
    {
      g_ptr_array_add (also, NULL);
      remark->also = g_strdupv ((char **) also->pdata);
    }
  if (self->hour >= 0)
    tell_lost (self, remark);
  else if (self->plan->hours->len > 1)
    add_to_rule (remark, g_strdup (_("the whole row is left out, with all of its hours")));
  g_ptr_array_add (remarks, remark);
  return WB_EXCHANGE_MAPPING_REFUSED;
}

static const char *
get_value (const WbExchangeMapping *self, guint index)
{
  const WbExchangeMappingOutput *output = wb_exchange_mapping_plan_output (self->plan, index);
  const char *whole = wb_exchange_mapping_get_whole (self, (int) index);

  if (self->hour < 0)
    return whole;
  if ((int) index == self->plan->elapsed)
    return self->elapsed;
  if (self->hours[self->hour].values[index] != NULL && *self->hours[self->hour].values[index] != '\0')
    return self->hours[self->hour].values[index];
  /* What is read without an hour is read at the end. */
  return output->target != NULL && output->target->reading && output->fixed == NULL && self->hour != self->last ? "" : whole;
}

static WbExchangeMappingResult
give_row (WbExchangeMapping *self, WbExchangeCsvRecord *row, GPtrArray *remarks)
{
  if (self->said != NULL)
    {
      g_ptr_array_add (remarks, wb_log_remark_new (self->line, "burn", g_strdup (self->said)));
      self->given = TRUE;
    }
  if (self->hour >= 0)
    {
      g_free (self->elapsed);
      self->elapsed = wb_number_shortest (g_array_index (self->plan->hours, double, self->hour));
    }
  for (guint i = 0; i < self->n_columns; i++)
    {
      const char *value = get_value (self, self->columns[i]);

      self->cells[i] = (WbExchangeCsvCell) { value, strlen (value) };
    }
  *row = (WbExchangeCsvRecord) { .line = self->line, .cells = self->cells, .n_cells = self->n_columns, .fault_cell = G_MAXUINT };
  return WB_EXCHANGE_MAPPING_ROW;
}

WbExchangeMappingResult
wb_exchange_mapping_next (WbExchangeMapping   *self,
                          WbExchangeCsvRecord *row,
                          GPtrArray           *remarks)
{
  settle_said (self);
  self->hour = -1;
  if (self->over)
    return WB_EXCHANGE_MAPPING_END;
  /* What all rows of a record share is told once. */
  if (self->whole.breaches->len > 0)
    {
      self->over = TRUE;
      return refuse (self, &self->whole, remarks);
    }
  while (self->next < self->plan->hours->len && !self->hours[self->next].filled)
    self->next++;
  if (self->plan->hours->len == 0)
    {
      self->over = TRUE;
      return give_row (self, row, remarks);
    }
  if (self->next == self->plan->hours->len)
    {
      self->over = TRUE;
      return WB_EXCHANGE_MAPPING_END;
    }
  self->hour = (int) self->next++;
  if (self->hours[self->hour].breaches->len > 0)
    return refuse (self, &self->hours[self->hour], remarks);
  return give_row (self, row, remarks);
}

void
wb_exchange_mapping_add_recorded (WbExchangeMapping *self,
                                  const char        *experiment,
                                  const char        *sample,
                                  WbInstant          lit,
                                  gint64             number)
{
  if (self->plan->counted)
    wb_exchange_mapping_put_recorded (self, experiment, sample, lit, number);
}

void
wb_exchange_mapping_finish (const WbExchangeMapping *self,
                            GPtrArray               *remarks)
{
  g_autoptr (GString) rule = g_string_new (NULL);

  if (self->n_short == 0)
    return;
  g_string_append_printf (rule, _("the row has %u cells, and the header has %u: what is left off at its end is read as empty"), self->n_cells,
                          self->plan->n_names);
  for (guint i = 1; i < self->short_lines->len; i++)
    g_string_append_printf (rule, i == 1 ? _("; so it is on line %" PRIu64) : ", %" PRIu64,
                            g_array_index (self->short_lines, guint64, i));
  if (self->n_short > self->short_lines->len)
    g_string_append_printf (rule, _(" and %" PRIu64 " more"), self->n_short - self->short_lines->len);
  g_ptr_array_add (remarks, wb_log_remark_new (g_array_index (self->short_lines, guint64, 0), "", g_string_free (g_steal_pointer (&rule), FALSE)));
}

static int
find_output (const WbExchangeMapping *self, const char *name)
{
  for (guint i = 0; i < self->plan->outputs->len; i++)
    if (strcmp (wb_exchange_mapping_plan_output (self->plan, i)->name, name) == 0)
      return (int) i;
  return -1;
}

/* How many columns of the sheet fill the output; the first in `*source`. */
static guint
count_sources (const WbExchangeMapping *self, int output, const char **source)
{
  guint n = 0;

  for (guint i = 0; i < self->plan->bindings->len; i++)
    if (wb_exchange_mapping_plan_binding (self->plan, i)->output == output)
      {
        *source = wb_exchange_mapping_plan_binding (self->plan, i)->column->source;
        n++;
      }
  return n;
}

/* What a person finds in the sheet for a column of the format. */
static char *
dup_name (const WbExchangeMapping *self, const char *name, gboolean last)
{
  const WbExchangeMappingPlan *plan = self->plan;
  int output = find_output (self, name);
  const char *source = "", *told;

  if (output < 0)
    return g_strdup (name);
  told = wb_exchange_mapping_plan_output (plan, output)->told;
  if (wb_exchange_mapping_plan_output (plan, output)->fixed != NULL)
    return g_strdup (told);
  if (!last)
    return g_strdup (count_sources (self, output, &source) == 1 ? source : told);
  source = wb_exchange_mapping_get_source (self, output, self->hour);
  if (*source == '\0' && output == plan->lit_at)
    source = wb_exchange_mapping_get_source (self, plan->lit_on, -1);
  if (*source == '\0' && output == plan->elapsed)
    source = wb_exchange_mapping_get_source (self, plan->read_at >= 0 ? plan->read_at : plan->read_time, -1);
  return g_strdup (*source != '\0' ? source : told);
}

void
wb_exchange_mapping_name_columns (const WbExchangeMapping *self,
                                  GPtrArray               *remarks,
                                  guint                    from,
                                  gboolean                 last)
{
  for (guint i = from; i < remarks->len; i++)
    {
      WbLogRemark *remark = remarks->pdata[i];
      char *name = *remark->column != '\0' ? dup_name (self, remark->column, last) : g_strdup ("");

      g_free (remark->column);
      remark->column = name;
      for (guint c = 0; remark->also != NULL && remark->also[c] != NULL; c++)
        {
          name = dup_name (self, remark->also[c], last);
          g_free (remark->also[c]);
          remark->also[c] = name;
        }
    }
}

/* A rule of the format speaks of its own unit: what stood in the sheet is told beside it. */
static void
tell_converted (const WbExchangeMapping *self, WbLogRemark *remark)
{
  for (guint i = 0; i < self->plan->bindings->len; i++)
    {
      const WbExchangeMappingBinding *binding = wb_exchange_mapping_plan_binding (self->plan, i);
      const WbLogTarget *target = binding->output >= 0 ? wb_exchange_mapping_plan_output (self->plan, binding->output)->target : NULL;
      const WbExchangeMappingLayer *layer = binding->hour >= 0 ? &self->hours[binding->hour] : &self->whole;

      if (target == NULL || binding->column->unit == WB_N_UNITS || binding->column->unit == target->unit
          || strcmp (binding->column->source, remark->column) != 0)
        continue;

      g_autofree char *clean = g_strstrip (g_strdup (get_cell (&self->record, binding->cell)));

      if (*clean != '\0' && layer->values[binding->output] != NULL)
        add_to_rule (remark, g_strdup_printf (_("“%s” in the sheet is %s %s"), clean, layer->values[binding->output],
                                              wb_unit_get_symbol (target->unit)));
      return;
    }
}

void
wb_exchange_mapping_tell_lost (WbExchangeMapping *self,
                               WbLogRemark       *remark)
{
  self->given = FALSE;
  tell_converted (self, remark);
  if (self->hour >= 0)
    tell_lost (self, remark);
}
