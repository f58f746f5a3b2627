/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-exchange-mapping-guess.h"

#include "wb-exchange-mapping-guess-private.h"
#include "wb-exchange-mapping-target.h"
#include "wb-exchange-mapping-time-private.h"
#include "wb-exchange-table.h"

#include <math.h>
#include <string.h>

/* What is not about one column: the head of a sheet, its decimal sign, order of dates, and fixed values that are needed. */

static void
add_example (GPtrArray *examples, GHashTable *seen, const char *text)
{
  g_autofree char *clean = g_strstrip (g_strdup (text));

  if (*clean == '\0' || examples->len == WB_LOG_HEAD_EXAMPLES || g_hash_table_contains (seen, clean))
    return;
  g_ptr_array_add (examples, clean);
  g_hash_table_add (seen, g_steal_pointer (&clean));
}

static WbLogHead *
read_head (WbExchangeTable *table, GCancellable *cancellable, GError **error)
{
  guint n = g_strv_length ((char **) wb_exchange_table_get_names (table));
  g_autofree GPtrArray **examples = g_new (GPtrArray *, n);
  g_autofree GHashTable **seen = g_new (GHashTable *, n);
  WbExchangeCsvResult result = WB_EXCHANGE_CSV_RECORD;
  WbExchangeCsvRecord record;
  WbLogHead *head = g_new0 (WbLogHead, 1);

  head->n_gaps = g_new0 (guint, n + 1);
  for (guint i = 0; i < n; i++)
    {
      examples[i] = g_ptr_array_new ();
      seen[i] = g_hash_table_new (g_str_hash, g_str_equal);
    }
  while (head->n_records < WB_LOG_HEAD_RECORDS)
    {
      result = wb_exchange_table_next (table, &record, cancellable, error);
      if (result == WB_EXCHANGE_CSV_END || result == WB_EXCHANGE_CSV_ERROR)
        break;
      if (result != WB_EXCHANGE_CSV_RECORD || wb_exchange_record_is_empty (&record))
        continue;
      head->n_records++;
      for (guint i = 0; i < n; i++)
        {
          const char *text = i < record.n_cells ? record.cells[i].text : "";

          head->n_gaps[i] += examples[i]->len > 0 && text[strspn (text, " \t\r\n")] == '\0';
          add_example (examples[i], seen[i], text);
        }
    }
  head->names = g_strdupv ((char **) wb_exchange_table_get_names (table));
  head->examples = g_new0 (char **, n + 1);
  for (guint i = 0; i < n; i++)
    {
      g_hash_table_unref (seen[i]);
      g_ptr_array_add (examples[i], NULL);
      head->examples[i] = (char **) g_ptr_array_free (examples[i], FALSE);
    }
  if (result != WB_EXCHANGE_CSV_ERROR)
    return head;
  wb_log_head_free (head);
  return NULL;
}

/* The sign that more of the numbers have; the point where none has any. */
static char
guess_decimal (const WbLogHead *head)
{
  guint points = 0, commas = 0;

  for (guint i = 0; head->names[i] != NULL; i++)
    for (guint e = 0; head->examples[i][e] != NULL; e++)
      {
        const char *text = head->examples[i][e];
        const char *sign = text + strspn (text, "-0123456789");

        /* Dates and times of day have more than one, or a colon. */
        if (sign == text || (*sign != '.' && *sign != ',') || strpbrk (sign + 1, ".,:/") != NULL)
          continue;
        if (*sign == '.')
          points++;
        else
          commas++;
      }
  return commas > points ? ',' : '.';
}

/* In how many texts the order reads a date; -1: one of them it cannot read. */
static int
count_dates (char **examples, WbLogDateOrder order)
{
  int n = 0;

  for (guint i = 0; examples[i] != NULL; i++)
    {
      g_autofree char *rule = NULL;
      WbExchangeMoment moment;

      if (!wb_exchange_mapping_read_moment (examples[i], order, &moment, &rule))
        return -1;
      n++;
    }
  return n;
}

/* The order in which all the dates of most columns can be read. What both readings allow is the day first, the way of most countries. */
static WbLogDateOrder
guess_date_order (const WbLogHead *head)
{
  static const WbLogDateOrder orders[] = { WB_LOG_DATE_DAY_FIRST, WB_LOG_DATE_MONTH_FIRST, WB_LOG_DATE_YEAR_FIRST };
  WbLogDateOrder best = WB_LOG_DATE_DAY_FIRST;
  int most = 0;

  for (guint o = 0; o < G_N_ELEMENTS (orders); o++)
    {
      int n = 0;

      for (guint i = 0; head->names[i] != NULL; i++)
        n += MAX (0, count_dates (head->examples[i], orders[o]));
      if (n > most)
        {
          most = n;
          best = orders[o];
        }
    }
  return best;
}

static void
guess_nothing (WbLogMapping *mapping, const WbLogHead *head)
{
  static const char *const signs[] = { "-", "–", "—", "n/a", "na", "?", "x", NULL };
  g_autoptr (GPtrArray) found = g_ptr_array_new ();

  for (guint s = 0; signs[s] != NULL; s++)
    for (guint i = 0; head->names[i] != NULL; i++)
      if (g_strv_contains ((const char *const *) head->examples[i], signs[s]))
        {
          g_ptr_array_add (found, (gpointer) signs[s]);
          break;
        }
  g_ptr_array_add (found, NULL);
  g_strfreev (mapping->nothing);
  mapping->nothing = g_strdupv ((char **) found->pdata);
}

static gboolean
is_read (const WbLogMapping *mapping, const char *target)
{
  for (guint i = 0; i < mapping->columns->len; i++)
    {
      const WbLogMappingColumn *column = mapping->columns->pdata[i];
      g_autofree char *braced = g_strdup_printf ("{%s}", target);

      if (g_strcmp0 (column->target, target) == 0 || (column->pattern != NULL && strstr (column->pattern, braced) != NULL))
        return TRUE;
    }
  return FALSE;
}

/* A sheet is one experiment more often than not, and where burns have no numbers their lightings have dates, or it is of first burns. */
static void
guess_fixed (WbLogMapping *mapping, GFile *file)
{
  g_autofree char *title = g_file_get_basename (file);
  char *dot = strrchr (title, '.');

  if (dot != NULL && dot != title)
    *dot = '\0';
  if (!is_read (mapping, "experiment") && g_utf8_validate (title, -1, NULL) && strpbrk (title, "{}") == NULL)
    wb_log_mapping_set_fixed (mapping, "experiment", title);
  if (!is_read (mapping, "burn"))
    wb_log_mapping_set_fixed (mapping, "burn", is_read (mapping, WB_LOG_TARGET_LIT_ON) || is_read (mapping, "lit_at") ? WB_LOG_COUNTED : "1");
  if (is_read (mapping, WB_LOG_TARGET_READ_AT) && !is_read (mapping, "lit_at") && !is_read (mapping, WB_LOG_TARGET_LIT_ON))
    wb_log_mapping_set_fixed (mapping, "lit_at", WB_LOG_FIRST_READING);
}

/* Gaps in what is true of a whole burn are merged cells more often than not; a reading that is missing was not taken. */
static void
guess_repeats (WbLogMapping *mapping, const WbLogHead *head)
{
  static const char *const moments[] = { WB_LOG_TARGET_READ_AT, WB_LOG_TARGET_READ_TIME, WB_LOG_TARGET_KEEP, "elapsed_min", NULL };

  for (guint i = 0; head->names[i] != NULL; i++)
    {
      WbLogMappingColumn *column = mapping->columns->pdata[i];
      int target = column->target != NULL ? wb_exchange_mapping_target_find (column->target) : -1;
      gboolean whole = target >= 0 && !wb_exchange_mapping_target_get ((guint) target)->reading && !g_strv_contains (moments, column->target);

      column->repeat = head->n_gaps[i] > 0 && (whole || column->pattern != NULL);
    }
}

/* What is read hour after hour is read in one unit: of a column that tells none by itself, another may. */
static void
settle_units (WbLogMapping *mapping)
{
  for (guint i = 0; i < mapping->columns->len; i++)
    for (guint j = 0; j < mapping->columns->len; j++)
      {
        WbLogMappingColumn *a = mapping->columns->pdata[i];
        const WbLogMappingColumn *b = mapping->columns->pdata[j];
        const WbLogTarget *target;

        if (isnan (a->minute) || isnan (b->minute) || a->target == NULL || g_strcmp0 (a->target, b->target) != 0)
          continue;
        target = wb_exchange_mapping_target_get ((guint) wb_exchange_mapping_target_find (a->target));
        if (a->unit == target->unit)
          a->unit = b->unit;
      }
}

/* What is told by an hour has no other time. */
static void
settle_hours (WbLogMapping *mapping)
{
  static const char *const moments[] = { "elapsed_min", WB_LOG_TARGET_READ_AT, WB_LOG_TARGET_READ_ON, WB_LOG_TARGET_READ_TIME, NULL };
  gboolean hours = FALSE;

  for (guint i = 0; i < mapping->columns->len; i++)
    hours |= !isnan (((const WbLogMappingColumn *) mapping->columns->pdata[i])->minute);
  for (guint i = 0; hours && i < mapping->columns->len; i++)
    {
      WbLogMappingColumn *column = mapping->columns->pdata[i];

      if (column->target != NULL && g_strv_contains (moments, column->target))
        {
          g_free (column->target);
          column->target = g_strdup (WB_LOG_TARGET_KEEP);
        }
    }
}

WbLogMapping *
wb_exchange_mapping_guess (GFile              *file,
                           const WbLogMapping *shape,
                           WbLogHead         **head,
                           GCancellable       *cancellable,
                           GError            **error)
{
  g_autoptr (WbLogMapping) mapping = shape != NULL ? wb_log_mapping_copy (shape) : wb_exchange_mapping_guess_shape (file, cancellable, error);
  g_autoptr (GFileInputStream) stream = NULL;
  g_autoptr (WbExchangeTable) table = NULL;
  g_autoptr (WbLogHead) looked = NULL;
  g_autoptr (GTimeZone) here = g_time_zone_new_local ();

  if (mapping == NULL)
    return NULL;
  stream = g_file_read (file, cancellable, error);
  table = stream != NULL ? wb_exchange_table_new (G_INPUT_STREAM (stream), mapping, cancellable, error) : NULL;
  looked = table != NULL ? read_head (table, cancellable, error) : NULL;
  if (looked == NULL)
    return NULL;
  mapping->delimiter = wb_exchange_table_get_delimiter (table);
  g_ptr_array_set_size (mapping->columns, 0);
  g_ptr_array_set_size (mapping->fixed, 0);
  mapping->decimal = guess_decimal (looked);
  mapping->date_order = guess_date_order (looked);
  g_free (mapping->zone);
  mapping->zone = g_strdup (g_time_zone_get_identifier (here));
  guess_nothing (mapping, looked);
  for (guint i = 0; looked->names[i] != NULL; i++)
    wb_exchange_mapping_guess_column (mapping, looked->names[i], looked->examples[i]);
  guess_repeats (mapping, looked);
  settle_units (mapping);
  settle_hours (mapping);
  guess_fixed (mapping, file);
  if (head != NULL)
    *head = g_steal_pointer (&looked);
  return g_steal_pointer (&mapping);
}
