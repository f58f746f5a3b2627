/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-exchange-mapping-private.h"

#include "wb-exchange-error.h"
#include "wb-exchange-mapping-target.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

/* A mapping laid beside the names of a sheet's columns, and all that does not fit, told at once. */

/* `problem` is taken. */
static void
add_problem (GString *problems, char *problem)
{
  g_string_append_printf (problems, "%s%s", problems->len > 0 ? "; " : "", problem);
  g_free (problem);
}

static void
clear_output (gpointer data)
{
  WbExchangeMappingOutput *output = data;

  g_free (output->name);
  g_free (output->told);
  g_free (output->fixed);
}

static void
clear_piece (gpointer data)
{
  g_free (((WbExchangeMappingPiece *) data)->literal);
}

static void
clear_binding (gpointer data)
{
  g_clear_pointer (&((WbExchangeMappingBinding *) data)->pieces, g_array_unref);
}

static gboolean
is_hidden (const char *name)
{
  static const char *const moments[] = {
    WB_LOG_TARGET_LIT_ON, WB_LOG_TARGET_LIT_TIME, WB_LOG_TARGET_READ_AT, WB_LOG_TARGET_READ_ON, WB_LOG_TARGET_READ_TIME, NULL
  };

  return g_strv_contains (moments, name);
}

/* The output of that name; -1: there is none yet. */
static int
find_output (const WbExchangeMappingPlan *self, const char *name)
{
  for (guint i = 0; i < self->outputs->len; i++)
    if (strcmp (wb_exchange_mapping_plan_output (self, i)->name, name) == 0)
      return (int) i;
  return -1;
}

static int
add_output (WbExchangeMappingPlan *self, const char *name, const WbLogTarget *target)
{
  int found = find_output (self, name);
  WbExchangeMappingOutput output = { .target = target, .hidden = target != NULL && is_hidden (name) };

  if (found >= 0)
    return found;
  output.name = g_strdup (name);
  output.told = g_strdup (target != NULL ? _(target->title) : name);
  g_array_append_val (self->outputs, output);
  return (int) self->outputs->len - 1;
}

/* -1 with a problem: there is no such target. */
static int
add_target (WbExchangeMappingPlan *self, const char *name, GString *problems)
{
  int target = strcmp (name, WB_LOG_TARGET_KEEP) != 0 ? wb_exchange_mapping_target_find (name) : -1;

  if (target < 0)
    {
      add_problem (problems, g_strdup_printf (_("nothing can be read as “%s”"), name));
      return -1;
    }
  return add_output (self, name, wb_exchange_mapping_target_get ((guint) target));
}

static int
keep (WbExchangeMappingPlan *self, const char *name, GString *problems)
{
  if (wb_exchange_mapping_target_find (name) < 0)
    return add_output (self, name, NULL);
  add_problem (problems, g_strdup_printf (_("the column “%s” cannot be kept under its name: the format has one of that name"), name));
  return -1;
}

static void
add_literal (GArray *pieces, const char *text, gsize length)
{
  WbExchangeMappingPiece piece = { length > 0 ? g_strndup (text, length) : NULL, -1 };

  if (length > 0)
    g_array_append_val (pieces, piece);
}

/* "{wick_series}-{wick_size}" to pieces. */
static GArray *
split_pattern (WbExchangeMappingPlan *self, const char *pattern, GString *problems)
{
  g_autoptr (GArray) pieces = g_array_new (FALSE, FALSE, sizeof (WbExchangeMappingPiece));
  const char *p = pattern;
  gboolean after_output = FALSE;

  g_array_set_clear_func (pieces, clear_piece);
  for (;;)
    {
      const char *open = strchr (p, '{'), *close = open != NULL ? strchr (open, '}') : NULL;

      add_literal (pieces, p, open != NULL ? (gsize) (open - p) : strlen (p));
      if (open == NULL)
        break;
      if (close == NULL || (after_output && open == p))
        {
          add_problem (problems, g_strdup_printf (close == NULL ? _("the pattern “%s” opens a brace and does not close it")
                                                                : _("in the pattern “%s” nothing stands between two columns"), pattern));
          return NULL;
        }

      g_autofree char *name = g_strndup (open + 1, close - open - 1);
      WbExchangeMappingPiece piece = { NULL, *name != '\0' ? add_target (self, name, problems) : -1 };

      g_array_append_val (pieces, piece);
      after_output = TRUE;
      p = close + 1;
    }
  return g_steal_pointer (&pieces);
}

static int
find_name (const WbExchangeMappingPlan *self, const char *name)
{
  for (guint i = 0; i < self->n_names; i++)
    if (strcmp (self->names[i], name) == 0)
      return (int) i;
  return -1;
}

static void
check_unit (const WbExchangeMappingOutput *output, const WbLogMappingColumn *column, GString *problems)
{
  if (column->unit == WB_N_UNITS || output->target == NULL)
    return;
  if (!output->target->number || wb_unit_get_quantity (column->unit) != wb_unit_get_quantity (output->target->unit))
    add_problem (problems, g_strdup_printf (_("“%s” is no unit of “%s”, which the column “%s” is read as"), wb_unit_get_symbol (column->unit),
                                            output->told, column->source));
}

static void
add_hour (WbExchangeMappingPlan *self, double minute)
{
  guint at = 0;

  while (at < self->hours->len && g_array_index (self->hours, double, at) < minute)
    at++;
  if (at == self->hours->len || g_array_index (self->hours, double, at) != minute)
    g_array_insert_val (self->hours, at, minute);
}

static int
find_hour (const WbExchangeMappingPlan *self, double minute)
{
  for (guint i = 0; i < self->hours->len; i++)
    if (g_array_index (self->hours, double, i) == minute)
      return (int) i;
  return -1;
}

static void
bind (WbExchangeMappingPlan *self, const WbLogMappingColumn *column, GString *problems)
{
  int cell = find_name (self, column->source);
  WbExchangeMappingBinding binding = { .cell = (guint) cell, .column = column, .output = -1, .hour = find_hour (self, column->minute) };

  if (column->target == NULL && column->pattern == NULL)
    return;
  if (cell < 0)
    {
      add_problem (problems, g_strdup_printf (_("the file has no column “%s”"), column->source));
      return;
    }
  if (column->pattern != NULL)
    binding.pieces = split_pattern (self, column->pattern, problems);
  else if (strcmp (column->target, WB_LOG_TARGET_KEEP) == 0)
    binding.output = keep (self, column->source, problems);
  else
    binding.output = add_target (self, column->target, problems);
  if (binding.output >= 0)
    check_unit (wb_exchange_mapping_plan_output (self, binding.output), column, problems);
  if (binding.output >= 0 || binding.pieces != NULL)
    g_array_append_val (self->bindings, binding);
}

static gboolean
fills (const WbExchangeMappingBinding *binding, int output)
{
  if (binding->pieces == NULL)
    return binding->output == output;
  for (guint i = 0; i < binding->pieces->len; i++)
    if (g_array_index (binding->pieces, WbExchangeMappingPiece, i).literal == NULL
        && g_array_index (binding->pieces, WbExchangeMappingPiece, i).output == output)
      return TRUE;
  return FALSE;
}

/* Names of the columns that fill it are two and more: which one is meant nobody can say. */
static void
check_doubled (const WbExchangeMappingPlan *self, int output, GString *problems)
{
  for (guint i = 0; i < self->bindings->len; i++)
    for (guint j = i + 1; j < self->bindings->len; j++)
      {
        const WbExchangeMappingBinding *a = wb_exchange_mapping_plan_binding (self, i), *b = wb_exchange_mapping_plan_binding (self, j);

        if (a->hour == b->hour && fills (a, output) && fills (b, output))
          {
            add_problem (problems, g_strdup_printf (_("“%s” and “%s” are both read as “%s”"), a->column->source, b->column->source,
                                                    wb_exchange_mapping_plan_output (self, output)->told));
            return;
          }
      }
}

static const char *
get_source (const WbExchangeMappingPlan *self, int output)
{
  for (guint i = 0; i < self->bindings->len; i++)
    if (fills (wb_exchange_mapping_plan_binding (self, i), output))
      return wb_exchange_mapping_plan_binding (self, i)->column->source;
  return NULL;
}

static void
check_composed (const WbExchangeMappingPlan *self, const WbLogPair *pair, const char *told, GString *problems)
{
  for (const char *open = strchr (pair->value, '{'), *close; open != NULL; open = strchr (close, '{'))
    {
      close = strchr (open, '}');
      if (close == NULL)
        {
          add_problem (problems, g_strdup_printf (_("the fixed value of “%s” opens a brace and does not close it"), told));
          return;
        }

      g_autofree char *name = g_strndup (open + 1, close - open - 1);

      if (find_name (self, name) < 0)
        add_problem (problems, g_strdup_printf (_("the fixed value of “%s” names “%s”, and the file has no such column"), told, name));
    }
}

/* One without a column's text in it is the same for all rows, and so is what is wrong with it. */
static void
check_fixed (const WbExchangeMappingPlan *self, const WbExchangeMappingOutput *output, GString *problems)
{
  g_autofree char *rule = NULL, *value = NULL;

  if (strchr (output->fixed, '{') != NULL || (strcmp (output->name, "burn") == 0 && strcmp (output->fixed, WB_LOG_COUNTED) == 0))
    return;
  value = wb_exchange_mapping_dup_value (self, output, NULL, output->fixed, &rule);
  if (value == NULL)
    add_problem (problems, g_strdup_printf ("%s: %s", output->told, rule));
}

static void
take_fixed (WbExchangeMappingPlan *self, GString *problems)
{
  for (guint i = 0; i < self->mapping->fixed->len; i++)
    {
      const WbLogPair *pair = self->mapping->fixed->pdata[i];
      int output = add_target (self, pair->key, problems);
      WbExchangeMappingOutput *fixed;
      const char *source;

      if (output < 0)
        continue;
      fixed = wb_exchange_mapping_plan_output (self, output);
      source = get_source (self, output);
      if (source != NULL)
        add_problem (problems, g_strdup_printf (_("“%s” has a fixed value, and the column “%s” is read as it"), fixed->told, source));
      check_composed (self, pair, fixed->told, problems);
      g_free (fixed->told);
      fixed->told = g_strdup_printf (_("%s (fixed value)"), _(fixed->target->title));
      fixed->fixed = g_strdup (pair->value);
      check_fixed (self, fixed, problems);
    }
}

static void
check_hours (WbExchangeMappingPlan *self, GString *problems)
{
  for (guint i = 0; self->hours->len > 0 && i < self->bindings->len; i++)
    {
      const WbExchangeMappingBinding *binding = wb_exchange_mapping_plan_binding (self, i);
      const WbExchangeMappingOutput *output = binding->output >= 0 ? wb_exchange_mapping_plan_output (self, binding->output) : NULL;

      if (binding->hour >= 0 && (output == NULL || output->target == NULL || !output->target->reading))
        add_problem (problems, g_strdup_printf (_("“%s” is of one hour, and is read as what no hour has"), binding->column->source));
    }
  if (self->hours->len > 0 && (self->elapsed >= 0 || self->read_at >= 0 || self->read_on >= 0 || self->read_time >= 0))
    add_problem (problems, g_strdup (_("columns of hours and a column that tells when the reading was taken exclude each other")));
}

/* What the rows are numbered or timed by must be told by them. */
static void
check_counted (WbExchangeMappingPlan *self, GString *problems)
{
  const char *burn = wb_log_mapping_get_fixed (self->mapping, "burn"), *lit_at = wb_log_mapping_get_fixed (self->mapping, "lit_at");

  self->counted = g_strcmp0 (burn, WB_LOG_COUNTED) == 0;
  self->first = g_strcmp0 (lit_at, WB_LOG_FIRST_READING) == 0;
  if (self->counted && (self->first || (self->lit_at < 0 && self->lit_on < 0)))
    add_problem (problems, g_strdup (_("burns are counted by their lightings: day and time of lighting are needed")));
  if (self->first && self->read_at < 0 && self->read_on < 0)
    add_problem (problems, g_strdup (_("a burn that is lit at its first reading needs day and time of the readings")));
  if (self->first && (self->lit_on >= 0 || self->lit_time >= 0))
    add_problem (problems, g_strdup (_("a burn is lit at its first reading, or at a time of its own")));
}

static void
check_moments (WbExchangeMappingPlan *self, GString *problems)
{
  gboolean timed = self->read_at >= 0 || self->read_time >= 0;

  if (self->elapsed >= 0 && timed)
    add_problem (problems, g_strdup (_("minutes since lighting and a time of the reading exclude each other")));
  if (self->read_on >= 0 && self->read_time < 0)
    add_problem (problems, g_strdup (_("a day of the reading needs its time of day")));
  if (self->lit_at >= 0 && self->lit_on >= 0)
    add_problem (problems, g_strdup (_("a column of the day of lighting and one of its day and time exclude each other")));
  if (self->lit_on >= 0 && self->lit_time < 0)
    add_problem (problems, g_strdup (_("a day of lighting needs its time of day: give a fixed one where the file has none")));
  if (timed && self->lit_at < 0 && self->lit_time < 0)
    add_problem (problems, g_strdup (_("a time of the reading needs the time of lighting")));
  /* What is worked out of them is a column of the rows too. */
  if (self->lit_at < 0 && self->lit_on >= 0)
    self->lit_at = add_output (self, "lit_at", wb_exchange_mapping_target_get (wb_exchange_mapping_target_find ("lit_at")));
  if (self->elapsed < 0 && (timed || self->hours->len > 0))
    self->elapsed = add_output (self, "elapsed_min", wb_exchange_mapping_target_get (wb_exchange_mapping_target_find ("elapsed_min")));
}

static void
check_required (const WbExchangeMappingPlan *self, GString *problems)
{
  g_autoptr (GString) missing = g_string_new (NULL);

  for (guint i = 0; i < wb_exchange_mapping_n_targets (); i++)
    {
      const WbLogTarget *target = wb_exchange_mapping_target_get (i);

      if (target->required && find_output (self, target->name) < 0)
        g_string_append_printf (missing, "%s“%s”", missing->len > 0 ? ", " : "", _(target->title));
    }
  if (missing->len > 0)
    add_problem (problems, g_strdup_printf (_("needed, and not told yet: %s (choose the column that is read as it, or give it for the whole file)"),
                                            missing->str));
}

static void
lay (WbExchangeMappingPlan *self, GString *problems)
{
  self->zone = g_time_zone_new_identifier (self->mapping->zone);
  if (self->zone == NULL)
    add_problem (problems, g_strdup_printf (_("the zone “%s” is not known here: a name such as Europe/Berlin or +01:00 is wanted"),
                                            self->mapping->zone));
  for (guint i = 0; i < self->mapping->columns->len; i++)
    {
      const WbLogMappingColumn *column = self->mapping->columns->pdata[i];

      if (!isnan (column->minute) && (column->target != NULL || column->pattern != NULL))
        add_hour (self, column->minute);
    }
  for (guint i = 0; i < self->mapping->columns->len; i++)
    bind (self, self->mapping->columns->pdata[i], problems);
  take_fixed (self, problems);
  self->experiment = find_output (self, "experiment");
  self->sample = find_output (self, "sample");
  self->burn = find_output (self, "burn");
  self->lit_at = find_output (self, "lit_at");
  self->lit_on = find_output (self, WB_LOG_TARGET_LIT_ON);
  self->lit_time = find_output (self, WB_LOG_TARGET_LIT_TIME);
  self->read_at = find_output (self, WB_LOG_TARGET_READ_AT);
  self->read_on = find_output (self, WB_LOG_TARGET_READ_ON);
  self->read_time = find_output (self, WB_LOG_TARGET_READ_TIME);
  self->elapsed = find_output (self, "elapsed_min");
  for (guint i = 0; i < self->outputs->len; i++)
    check_doubled (self, (int) i, problems);
  check_hours (self, problems);
  check_counted (self, problems);
  check_moments (self, problems);
  check_required (self, problems);
}

WbExchangeMappingPlan *
wb_exchange_mapping_plan_new (const WbLogMapping *mapping,
                              const char *const  *names,
                              GError            **error)
{
  g_autoptr (WbExchangeMappingPlan) self = g_new0 (WbExchangeMappingPlan, 1);
  g_autoptr (GString) problems = g_string_new (NULL);

  self->mapping = wb_log_mapping_copy (mapping);
  self->names = g_strdupv ((char **) names);
  self->n_names = g_strv_length (self->names);
  self->outputs = g_array_new (FALSE, FALSE, sizeof (WbExchangeMappingOutput));
  g_array_set_clear_func (self->outputs, clear_output);
  self->bindings = g_array_new (FALSE, FALSE, sizeof (WbExchangeMappingBinding));
  g_array_set_clear_func (self->bindings, clear_binding);
  self->hours = g_array_new (FALSE, FALSE, sizeof (double));
  lay (self, problems);
  if (problems->len == 0)
    return g_steal_pointer (&self);
  g_set_error (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_HEADER, _("the mapping does not fit: %s"), problems->str);
  return NULL;
}

void
wb_exchange_mapping_plan_free (WbExchangeMappingPlan *self)
{
  if (self == NULL)
    return;
  g_array_unref (self->bindings);
  g_array_unref (self->outputs);
  g_array_unref (self->hours);
  g_clear_pointer (&self->zone, g_time_zone_unref);
  g_strfreev (self->names);
  wb_log_mapping_free (self->mapping);
  g_free (self);
}
