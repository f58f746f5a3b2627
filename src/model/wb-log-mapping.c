/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-log-mapping.h"

#include <glib/gi18n-lib.h>
#include <inttypes.h>
#include <math.h>
#include <string.h>

#define GROUP "Log mapping"
#define FIXED "Fixed"
#define FORMAT 1
#define MOST_COLUMNS 2000

static const char *const date_orders[WB_LOG_N_DATE_ORDERS] = {
  [WB_LOG_DATE_YEAR_FIRST] = "year-month-day",
  [WB_LOG_DATE_DAY_FIRST] = "day-month-year",
  [WB_LOG_DATE_MONTH_FIRST] = "month-day-year",
};

static const char *const clocks[WB_LOG_N_CLOCKS] = {
  [WB_LOG_CLOCK_24] = "24-hour",
  [WB_LOG_CLOCK_AM] = "12-hour-am",
  [WB_LOG_CLOCK_PM] = "12-hour-pm",
};

static const char *const keys[] = {
  "format", "name", "encoding", "delimiter", "header-line", "header-rows", "decimal", "date-order", "clock", "zone", "nothing", NULL
};
static const char *const column_keys[] = {
  "source", "read-as", "pattern", "minute", "unit", "repeat", "words", "words-as", NULL
};

static WbLogPair *
pair_new (const char *key, const char *value)
{
  WbLogPair *self = g_new (WbLogPair, 1);

  *self = (WbLogPair) { g_strdup (key), g_strdup (value) };
  return self;
}

static void
pair_free (gpointer data)
{
  WbLogPair *self = data;

  g_free (self->key);
  g_free (self->value);
  g_free (self);
}

static void
column_free (gpointer data)
{
  WbLogMappingColumn *self = data;

  g_free (self->source);
  g_free (self->target);
  g_free (self->pattern);
  g_ptr_array_unref (self->words);
  g_free (self);
}

WbLogMapping *
wb_log_mapping_new (void)
{
  WbLogMapping *self = g_new0 (WbLogMapping, 1);

  self->encoding = g_strdup ("UTF-8");
  self->header_line = 1;
  self->header_rows = 1;
  self->decimal = '.';
  self->zone = g_strdup ("UTC");
  self->nothing = g_new0 (char *, 1);
  self->columns = g_ptr_array_new_with_free_func (column_free);
  self->fixed = g_ptr_array_new_with_free_func (pair_free);
  return self;
}

void
wb_log_mapping_free (WbLogMapping *self)
{
  if (self == NULL)
    return;
  g_free (self->name);
  g_free (self->encoding);
  g_free (self->zone);
  g_strfreev (self->nothing);
  g_ptr_array_unref (self->columns);
  g_ptr_array_unref (self->fixed);
  g_free (self);
}

WbLogMappingColumn *
wb_log_mapping_add_column (WbLogMapping *self,
                           const char   *source,
                           const char   *target)
{
  WbLogMappingColumn *column;

  g_return_val_if_fail (self != NULL && source != NULL, NULL);

  column = g_new0 (WbLogMappingColumn, 1);
  column->source = g_strdup (source);
  column->target = g_strdup (target);
  column->minute = NAN;
  column->unit = WB_N_UNITS;
  column->words = g_ptr_array_new_with_free_func (pair_free);
  g_ptr_array_add (self->columns, column);
  return column;
}

void
wb_log_mapping_column_add_word (WbLogMappingColumn *self,
                                const char         *from,
                                const char         *to)
{
  g_return_if_fail (self != NULL && from != NULL && to != NULL);
  g_ptr_array_add (self->words, pair_new (from, to));
}

static gboolean
find_fixed (const WbLogMapping *self, const char *target, guint *at)
{
  for (guint i = 0; i < self->fixed->len; i++)
    if (strcmp (((const WbLogPair *) self->fixed->pdata[i])->key, target) == 0)
      {
        *at = i;
        return TRUE;
      }
  return FALSE;
}

void
wb_log_mapping_set_fixed (WbLogMapping *self,
                          const char   *target,
                          const char   *text)
{
  guint at;

  g_return_if_fail (self != NULL && target != NULL);

  if (find_fixed (self, target, &at))
    g_ptr_array_remove_index (self->fixed, at);
  if (text != NULL)
    g_ptr_array_add (self->fixed, pair_new (target, text));
}

const char *
wb_log_mapping_get_fixed (const WbLogMapping *self,
                          const char         *target)
{
  guint at;

  g_return_val_if_fail (self != NULL && target != NULL, NULL);
  return find_fixed (self, target, &at) ? ((const WbLogPair *) self->fixed->pdata[at])->value : NULL;
}

WbLogMapping *
wb_log_mapping_copy (const WbLogMapping *self)
{
  WbLogMapping *copy;

  g_return_val_if_fail (self != NULL, NULL);

  copy = g_memdup2 (self, sizeof *self);
  copy->name = g_strdup (self->name);
  copy->encoding = g_strdup (self->encoding);
  copy->zone = g_strdup (self->zone);
  copy->nothing = g_strdupv (self->nothing);
  copy->columns = g_ptr_array_new_with_free_func (column_free);
  copy->fixed = g_ptr_array_new_with_free_func (pair_free);
  for (guint i = 0; i < self->columns->len; i++)
    {
      const WbLogMappingColumn *from = self->columns->pdata[i];
      WbLogMappingColumn *to = wb_log_mapping_add_column (copy, from->source, from->target);

      to->pattern = g_strdup (from->pattern);
      to->minute = from->minute;
      to->unit = from->unit;
      to->repeat = from->repeat;
      for (guint w = 0; w < from->words->len; w++)
        {
          const WbLogPair *word = from->words->pdata[w];

          wb_log_mapping_column_add_word (to, word->key, word->value);
        }
    }
  for (guint i = 0; i < self->fixed->len; i++)
    {
      const WbLogPair *pair = self->fixed->pdata[i];

      wb_log_mapping_set_fixed (copy, pair->key, pair->value);
    }
  return copy;
}

static void
set_text (GKeyFile *file, const char *group, const char *key, const char *text)
{
  if (text != NULL)
    g_key_file_set_string (file, group, key, text);
}

static void
write_column (GKeyFile *file, const char *group, const WbLogMappingColumn *column)
{
  set_text (file, group, "source", column->source);
  set_text (file, group, "read-as", column->target);
  set_text (file, group, "pattern", column->pattern);
  if (!isnan (column->minute))
    {
      g_autofree char *minute = wb_number_shortest (column->minute);

      g_key_file_set_string (file, group, "minute", minute);
    }
  if (column->unit < WB_N_UNITS)
    g_key_file_set_string (file, group, "unit", wb_unit_get_symbol (column->unit));
  if (column->repeat)
    g_key_file_set_boolean (file, group, "repeat", TRUE);
  if (column->words->len > 0)
    {
      g_autofree const char **from = g_new (const char *, column->words->len), **to = g_new (const char *, column->words->len);

      for (guint i = 0; i < column->words->len; i++)
        {
          const WbLogPair *word = column->words->pdata[i];

          from[i] = word->key;
          to[i] = word->value;
        }
      g_key_file_set_string_list (file, group, "words", from, column->words->len);
      g_key_file_set_string_list (file, group, "words-as", to, column->words->len);
    }
}

char *
wb_log_mapping_to_text (const WbLogMapping *self)
{
  g_autoptr (GKeyFile) file = g_key_file_new ();
  const char delimiter[] = { self->delimiter, '\0' }, decimal[] = { self->decimal, '\0' };

  g_key_file_set_integer (file, GROUP, "format", FORMAT);
  set_text (file, GROUP, "name", self->name);
  set_text (file, GROUP, "encoding", self->encoding);
  if (self->delimiter != '\0')
    g_key_file_set_string (file, GROUP, "delimiter", self->delimiter == '\t' ? "tab" : delimiter);
  g_key_file_set_integer (file, GROUP, "header-line", (int) self->header_line);
  if (self->header_rows > 1)
    g_key_file_set_integer (file, GROUP, "header-rows", (int) self->header_rows);
  g_key_file_set_string (file, GROUP, "decimal", decimal);
  g_key_file_set_string (file, GROUP, "date-order", date_orders[self->date_order]);
  if (self->clock != WB_LOG_CLOCK_24)
    g_key_file_set_string (file, GROUP, "clock", clocks[self->clock]);
  set_text (file, GROUP, "zone", self->zone);
  if (self->nothing[0] != NULL)
    g_key_file_set_string_list (file, GROUP, "nothing", (const char *const *) self->nothing, g_strv_length (self->nothing));
  for (guint i = 0; i < self->columns->len; i++)
    {
      g_autofree char *group = g_strdup_printf ("Column %u", i + 1);

      write_column (file, group, self->columns->pdata[i]);
    }
  for (guint i = 0; i < self->fixed->len; i++)
    {
      const WbLogPair *pair = self->fixed->pdata[i];

      g_key_file_set_string (file, FIXED, pair->key, pair->value);
    }
  return g_key_file_to_data (file, NULL, NULL);
}

/* `text` is taken. */
static gboolean
refuse (GError **error, const char *group, const char *key, char *text)
{
  g_set_error (error, G_KEY_FILE_ERROR, G_KEY_FILE_ERROR_INVALID_VALUE, "[%s] %s: %s", group, key, text);
  g_free (text);
  return FALSE;
}

/* FALSE: the key stands there and cannot be read. NULL text: it does not stand there. */
static gboolean
take_text (GKeyFile *file, const char *group, const char *key, char **text, GError **error)
{
  g_autoptr (GError) reason = NULL;

  *text = NULL;
  if (!g_key_file_has_key (file, group, key, NULL))
    return TRUE;
  *text = g_key_file_get_string (file, group, key, &reason);
  return *text != NULL || refuse (error, group, key, g_strdup (reason->message));
}

static gboolean
check_keys (GKeyFile *file, const char *group, const char *const *known, GError **error)
{
  g_auto (GStrv) found = g_key_file_get_keys (file, group, NULL, NULL);

  for (guint i = 0; found != NULL && found[i] != NULL; i++)
    if (!g_strv_contains (known, found[i]))
      return refuse (error, group, found[i], g_strdup (_("there is no such key")));
  return TRUE;
}

static gboolean
take_whole (GKeyFile *file, const char *group, const char *key, gint64 low, gint64 high, gint64 *value, GError **error)
{
  g_autofree char *text = NULL;

  if (!take_text (file, group, key, &text, error))
    return FALSE;
  if (text == NULL)
    return TRUE;
  if (!wb_number_parse_integer (text, value, NULL) || *value < low || *value > high)
    return refuse (error, group, key,
                   g_strdup_printf (_("“%s”: a whole number from %" PRId64 " to %" PRId64 " is accepted"), text, low, high));
  return TRUE;
}

static gboolean
take_sign (GKeyFile *file, const char *key, const char *accepted, char *sign, GError **error)
{
  g_autofree char *text = NULL;

  if (!take_text (file, GROUP, key, &text, error))
    return FALSE;
  if (text == NULL)
    return TRUE;
  if (accepted == NULL && strcmp (text, "tab") == 0)
    *sign = '\t';
  else if (strlen (text) == 1 && (accepted != NULL ? strchr (accepted, *text) != NULL : g_ascii_ispunct (*text) && *text != '"'))
    *sign = *text;
  else
    return refuse (error, GROUP, key, g_strdup_printf (accepted != NULL ? _("“%s”: point or comma is accepted")
                                                                         : _("“%s”: one sign such as ; or | is accepted, or the word tab"), text));
  return TRUE;
}

/* One of `n` words; without the key `*value` stays. `accepted` says which they are. */
static gboolean
take_word (GKeyFile *file, const char *key, const char *const *words, guint n, const char *accepted, guint *value, GError **error)
{
  g_autofree char *text = NULL;

  if (!take_text (file, GROUP, key, &text, error))
    return FALSE;
  if (text == NULL)
    return TRUE;
  for (guint i = 0; i < n; i++)
    if (strcmp (text, words[i]) == 0)
      {
        *value = i;
        return TRUE;
      }
  return refuse (error, GROUP, key, g_strdup_printf ("“%s”: %s", text, accepted));
}

static gboolean
take_unit (GKeyFile *file, const char *group, WbUnit *unit, GError **error)
{
  g_autofree char *text = NULL;

  if (!take_text (file, group, "unit", &text, error))
    return FALSE;
  if (text == NULL)
    return TRUE;
  /* The differences of temperatures come behind the temperatures, whose signs they share. */
  for (int i = 0; i < WB_N_UNITS; i++)
    if (strcmp (text, wb_unit_get_symbol (i)) == 0)
      {
        *unit = i;
        return TRUE;
      }
  return refuse (error, group, "unit", g_strdup_printf (_("“%s” is no unit that is known here"), text));
}

static gboolean
take_words (GKeyFile *file, const char *group, WbLogMappingColumn *column, GError **error)
{
  gsize n = 0, m = 0;
  g_auto (GStrv) from = g_key_file_get_string_list (file, group, "words", &n, NULL);
  g_auto (GStrv) to = g_key_file_get_string_list (file, group, "words-as", &m, NULL);

  if (n != m)
    return refuse (error, group, "words-as", g_strdup_printf (_("%u texts for %u words"), (guint) m, (guint) n));
  for (gsize i = 0; i < n; i++)
    wb_log_mapping_column_add_word (column, from[i], to[i]);
  return TRUE;
}

static gboolean
take_minute (GKeyFile *file, const char *group, double *minute, GError **error)
{
  g_autofree char *text = NULL;

  if (!take_text (file, group, "minute", &text, error))
    return FALSE;
  if (text == NULL)
    return TRUE;
  if (!wb_number_parse_strict (text, '.', minute, NULL) || *minute < 0 || *minute > 2880)
    return refuse (error, group, "minute", g_strdup_printf (_("“%s”: 0 to 2880 is accepted"), text));
  return TRUE;
}

static gboolean
take_column (GKeyFile *file, const char *group, WbLogMapping *self, GError **error)
{
  g_autofree char *source = NULL, *target = NULL;
  WbLogMappingColumn *column;
  g_autoptr (GError) reason = NULL;

  if (!check_keys (file, group, column_keys, error) || !take_text (file, group, "source", &source, error)
      || !take_text (file, group, "read-as", &target, error))
    return FALSE;
  if (source == NULL || *source == '\0')
    return refuse (error, group, "source", g_strdup (_("must be given")));
  column = wb_log_mapping_add_column (self, source, target);
  column->repeat = g_key_file_get_boolean (file, group, "repeat", &reason);
  if (reason != NULL && reason->code != G_KEY_FILE_ERROR_KEY_NOT_FOUND)
    return refuse (error, group, "repeat", g_strdup (_("true or false is accepted")));
  return take_text (file, group, "pattern", &column->pattern, error) && take_minute (file, group, &column->minute, error)
         && take_unit (file, group, &column->unit, error) && take_words (file, group, column, error);
}

static gboolean
take_head (GKeyFile *file, WbLogMapping *self, GError **error)
{
  gint64 format = 0, line = 1, rows = 1;
  guint order = WB_LOG_DATE_YEAR_FIRST, clock = WB_LOG_CLOCK_24;
  g_autofree char *encoding = NULL, *zone = NULL;

  if (!g_key_file_has_group (file, GROUP))
    return refuse (error, GROUP, "format", g_strdup (_("this is no mapping of a burn log: the group is missing")));
  if (!check_keys (file, GROUP, keys, error) || !take_whole (file, GROUP, "format", 1, FORMAT, &format, error)
      || !take_whole (file, GROUP, "header-line", 1, 100000, &line, error) || !take_text (file, GROUP, "name", &self->name, error)
      || !take_text (file, GROUP, "encoding", &encoding, error) || !take_text (file, GROUP, "zone", &zone, error)
      || !take_sign (file, "delimiter", NULL, &self->delimiter, error) || !take_sign (file, "decimal", ".,", &self->decimal, error)
      || !take_whole (file, GROUP, "header-rows", 1, 2, &rows, error)
      || !take_word (file, "date-order", date_orders, WB_LOG_N_DATE_ORDERS, _("year-month-day, day-month-year or month-day-year is accepted"),
                     &order, error)
      || !take_word (file, "clock", clocks, WB_LOG_N_CLOCKS, _("24-hour, 12-hour-am or 12-hour-pm is accepted"), &clock, error))
    return FALSE;
  if (format == 0)
    return refuse (error, GROUP, "format", g_strdup (_("must be given")));
  self->header_line = (guint) line;
  self->header_rows = (guint) rows;
  self->date_order = (WbLogDateOrder) order;
  self->clock = (WbLogClock) clock;
  if (encoding != NULL)
    {
      g_free (self->encoding);
      self->encoding = g_steal_pointer (&encoding);
    }
  if (zone != NULL)
    {
      g_free (self->zone);
      self->zone = g_steal_pointer (&zone);
    }
  if (g_key_file_has_key (file, GROUP, "nothing", NULL))
    {
      g_strfreev (self->nothing);
      self->nothing = g_key_file_get_string_list (file, GROUP, "nothing", NULL, error);
    }
  return self->nothing != NULL;
}

WbLogMapping *
wb_log_mapping_from_text (const char *text,
                          GError    **error)
{
  g_autoptr (GKeyFile) file = g_key_file_new ();
  g_autoptr (WbLogMapping) self = wb_log_mapping_new ();
  g_auto (GStrv) groups = NULL, fixed = NULL;

  g_return_val_if_fail (text != NULL, NULL);

  if (!g_key_file_load_from_data (file, text, -1, G_KEY_FILE_NONE, error) || !take_head (file, self, error))
    return NULL;
  groups = g_key_file_get_groups (file, NULL);
  for (guint i = 0; groups[i] != NULL; i++)
    {
      if (strcmp (groups[i], GROUP) == 0 || strcmp (groups[i], FIXED) == 0)
        continue;
      if (!g_str_has_prefix (groups[i], "Column ") || self->columns->len == MOST_COLUMNS)
        {
          refuse (error, groups[i], "", g_strdup (_("there is no such group")));
          return NULL;
        }
      if (!take_column (file, groups[i], self, error))
        return NULL;
    }
  fixed = g_key_file_get_keys (file, FIXED, NULL, NULL);
  for (guint i = 0; fixed != NULL && fixed[i] != NULL; i++)
    {
      g_autofree char *value = NULL;

      if (!take_text (file, FIXED, fixed[i], &value, error))
        return NULL;
      wb_log_mapping_set_fixed (self, fixed[i], value);
    }
  return g_steal_pointer (&self);
}

static void
misfit_free (gpointer data)
{
  WbLogMisfit *self = data;

  g_free (self->column);
  g_free (self->text);
  g_free (self);
}

WbLogHead *
wb_log_head_new (void)
{
  WbLogHead *self = g_new0 (WbLogHead, 1);

  self->misfits = g_ptr_array_new_with_free_func (misfit_free);
  return self;
}

void
wb_log_head_add_misfit (WbLogHead  *self,
                        guint64     line,
                        const char *column,
                        const char *text)
{
  WbLogMisfit *misfit = g_new0 (WbLogMisfit, 1);

  misfit->line = line;
  misfit->column = g_strdup (column);
  misfit->text = g_strdup (text);
  g_ptr_array_add (self->misfits, misfit);
}

void
wb_log_head_free (WbLogHead *self)
{
  if (self == NULL)
    return;
  for (guint i = 0; self->names != NULL && self->names[i] != NULL; i++)
    {
      g_strfreev (self->examples[i]);
      g_free (self->lines[i]);
    }
  g_free (self->examples);
  g_free (self->lines);
  g_ptr_array_unref (self->misfits);
  g_free (self->n_gaps);
  g_strfreev (self->names);
  g_free (self);
}
