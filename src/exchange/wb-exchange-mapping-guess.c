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
add_example (GPtrArray *examples, GHashTable *seen, GArray *lines, guint64 line, const char *text)
{
  g_autofree char *clean = g_strstrip (g_strdup (text));

  if (*clean == '\0' || examples->len == WB_LOG_HEAD_EXAMPLES || g_hash_table_contains (seen, clean))
    return;
  g_ptr_array_add (examples, clean);
  g_array_append_val (lines, line);
  g_hash_table_add (seen, g_steal_pointer (&clean));
}

static WbLogHead *
read_head (WbExchangeTable *table, GCancellable *cancellable, GError **error)
{
  guint n = g_strv_length ((char **) wb_exchange_table_get_names (table));
  g_autofree GPtrArray **examples = g_new (GPtrArray *, n);
  g_autofree GHashTable **seen = g_new (GHashTable *, n);
  g_autofree GArray **lines = g_new (GArray *, n);
  WbExchangeCsvResult result = WB_EXCHANGE_CSV_RECORD;
  WbExchangeCsvRecord record;
  WbLogHead *head = wb_log_head_new ();

  head->n_gaps = g_new0 (guint, n + 1);
  for (guint i = 0; i < n; i++)
    {
      examples[i] = g_ptr_array_new ();
      seen[i] = g_hash_table_new (g_str_hash, g_str_equal);
      lines[i] = g_array_new (FALSE, FALSE, sizeof (guint64));
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
          add_example (examples[i], seen[i], lines[i], record.line, text);
        }
    }
  head->names = g_strdupv ((char **) wb_exchange_table_get_names (table));
  head->examples = g_new0 (char **, n + 1);
  head->lines = g_new0 (guint64 *, n + 1);
  for (guint i = 0; i < n; i++)
    {
      g_hash_table_unref (seen[i]);
      g_ptr_array_add (examples[i], NULL);
      head->examples[i] = (char **) g_ptr_array_free (examples[i], FALSE);
      head->lines[i] = (guint64 *) (gpointer) g_array_free (lines[i], FALSE);
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

/* How many of the texts the order reads as a date. `*days`: of each its day, WB_DAY_NONE where it does not. */
static guint
count_dates (char **examples, WbLogDateOrder order, WbDay days[WB_LOG_HEAD_EXAMPLES])
{
  guint n = 0;

  for (guint i = 0; examples[i] != NULL; i++)
    {
      g_autofree char *rule = NULL;
      WbExchangeMoment moment;

      days[i] = WB_DAY_NONE;
      if (!wb_exchange_mapping_read_moment (examples[i], order, &moment, &rule))
        continue;
      days[i] = moment.instant.known ? wb_instant_get_day (moment.instant) : moment.day;
      n++;
    }
  return n;
}

/* A date to the eye, whatever it says. */
static gboolean
looks_like_date (const char *text)
{
  return g_regex_match_simple ("^\\d{1,4}[/.-]\\d{1,2}[/.-]\\d{2,4}\\b", text, 0, 0);
}

static int
compare_misfits (gconstpointer a, gconstpointer b)
{
  const WbLogMisfit *one = *(const WbLogMisfit *const *) a, *other = *(const WbLogMisfit *const *) b;

  return (one->line > other->line) - (one->line < other->line);
}

static void
find_misfits (WbLogHead *head)
{
  for (guint i = 0; head->names[i] != NULL; i++)
    {
      WbDay days[WB_LOG_HEAD_EXAMPLES];

      count_dates (head->examples[i], head->order, days);
      for (guint e = 0; head->examples[i][e] != NULL; e++)
        if (days[e] == WB_DAY_NONE && looks_like_date (head->examples[i][e]))
          wb_log_head_add_misfit (head, head->lines[i][e], head->names[i], head->examples[i][e]);
    }
  g_ptr_array_sort (head->misfits, compare_misfits);
}

/*
 * The order in which more of the dates can be read that the other cannot: "TBD" among them says nothing, and of one slip among many
 * only that it is one. In doubt: as many, and some as another day.
 */
static void
guess_date_order (WbLogHead *head)
{
  guint only_day = 0, only_month = 0, differing = 0;

  for (guint i = 0; head->names[i] != NULL; i++)
    {
      WbDay day_first[WB_LOG_HEAD_EXAMPLES], month_first[WB_LOG_HEAD_EXAMPLES];

      count_dates (head->examples[i], WB_LOG_DATE_DAY_FIRST, day_first);
      count_dates (head->examples[i], WB_LOG_DATE_MONTH_FIRST, month_first);
      for (guint e = 0; head->examples[i][e] != NULL; e++)
        {
          only_day += month_first[e] == WB_DAY_NONE && day_first[e] != WB_DAY_NONE;
          only_month += day_first[e] == WB_DAY_NONE && month_first[e] != WB_DAY_NONE;
          differing += day_first[e] != month_first[e];
        }
    }
  head->order_doubtful = differing > 0 && only_day == only_month;
  head->order = only_month > only_day ? WB_LOG_DATE_MONTH_FIRST : WB_LOG_DATE_DAY_FIRST;
  if (only_day != only_month)
    find_misfits (head);
}

/* Whether times may be those of a clock of 12 hours: some stand there, and none says that it is not. */
static gboolean
is_clock_doubtful (const WbLogMapping *mapping, const WbLogHead *head)
{
  static const char *const times[] = { "lit_at", WB_LOG_TARGET_LIT_TIME, WB_LOG_TARGET_READ_AT, WB_LOG_TARGET_READ_TIME, NULL };
  guint n = 0;

  for (guint i = 0; head->names[i] != NULL; i++)
    {
      const WbLogMappingColumn *column = mapping->columns->pdata[i];

      if (column->target == NULL || !g_strv_contains (times, column->target))
        continue;
      for (guint e = 0; head->examples[i][e] != NULL; e++)
        {
          g_autofree char *rule = NULL, *of_moment = NULL;
          WbExchangeMoment moment = WB_EXCHANGE_MOMENT_NONE;

          if (!wb_exchange_mapping_read_time (head->examples[i][e], &moment.second, &rule)
              && !wb_exchange_mapping_read_moment (head->examples[i][e], mapping->date_order, &moment, &of_moment))
            continue;
          if (moment.second < 0 && !moment.instant.known)
            continue;
          if (moment.instant.known || moment.second < 3600 || moment.second >= 13 * 3600
              || wb_exchange_mapping_has_half (head->examples[i][e]))
            return FALSE;
          n++;
        }
    }
  return n > 0;
}

static void
guess_nothing (WbLogMapping *mapping, const WbLogHead *head)
{
  static const char *const signs[] = { "-", "–", "—", "n/a", "na", "?", NULL };
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

gboolean
wb_exchange_mapping_is_guessed (const WbLogMapping *mapping,
                                const char         *target)
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

static const char *
get_title (GFile *file, char **title)
{
  char *dot;

  *title = g_file_get_basename (file);
  dot = strrchr (*title, '.');
  if (dot != NULL && dot != *title)
    *dot = '\0';
  return g_utf8_validate (*title, -1, NULL) && strpbrk (*title, "{}") == NULL ? *title : NULL;
}

/* A sheet is one experiment more often than not, and where burns have no numbers their lightings have dates, or each sample burnt once. */
static void
guess_fixed (WbLogMapping *mapping, GFile *file, GCancellable *cancellable)
{
  g_autofree char *title = NULL;
  gboolean lit = wb_exchange_mapping_is_guessed (mapping, WB_LOG_TARGET_LIT_ON) || wb_exchange_mapping_is_guessed (mapping, "lit_at");

  if (!wb_exchange_mapping_is_guessed (mapping, "experiment"))
    wb_log_mapping_set_fixed (mapping, "experiment", get_title (file, &title));
  if (wb_exchange_mapping_is_guessed (mapping, "burn"))
    return;
  if (lit)
    wb_log_mapping_set_fixed (mapping, "burn", WB_LOG_COUNTED);
  else if (wb_exchange_mapping_is_of_one_burn (file, mapping, cancellable))
    wb_log_mapping_set_fixed (mapping, "burn", "1");
}

/* Kept as it stands, and read as nothing. */
static void
leave (WbLogMappingColumn *column)
{
  g_free (column->target);
  column->target = g_strdup (WB_LOG_TARGET_KEEP);
  column->minute = NAN;
  column->unit = WB_N_UNITS;
  g_ptr_array_set_size (column->words, 0);
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

/* "Start weight" is of the lighting, where hours stand across; in a row of one reading it has no place, and is kept. */
static void
settle_starts (WbLogMapping *mapping, gboolean hours)
{
  for (guint i = 0; i < mapping->columns->len; i++)
    {
      WbLogMappingColumn *column = mapping->columns->pdata[i];
      int target = column->target != NULL ? wb_exchange_mapping_target_find (column->target) : -1;

      if (target < 0 || !isnan (column->minute) || !wb_exchange_mapping_target_get ((guint) target)->reading
          || !wb_exchange_mapping_target_get ((guint) target)->number
          || !g_regex_match_simple ("\\b(start|starting|before|initial|begin|beginning)\\b", column->source, G_REGEX_CASELESS, 0))
        continue;
      if (hours)
        column->minute = 0;
      else
        leave (column);
    }
}

static gboolean
is_same_place (const WbLogMappingColumn *a, const WbLogMappingColumn *b)
{
  return g_strcmp0 (a->target, b->target) == 0 && (a->minute == b->minute || (isnan (a->minute) && isnan (b->minute)));
}

/* Two columns that may both be one measure: neither is, until a person says which. A name of the format's own is sure. */
static void
settle_doubles (WbLogMapping *mapping)
{
  g_autoptr (GPtrArray) doubled = g_ptr_array_new ();

  for (guint i = 0; i < mapping->columns->len; i++)
    for (guint j = 0; j < mapping->columns->len; j++)
      {
        WbLogMappingColumn *a = mapping->columns->pdata[i];
        int target = a->target != NULL ? wb_exchange_mapping_target_find (a->target) : -1;

        if (i != j && target >= 0 && wb_exchange_mapping_target_get ((guint) target)->number
            && is_same_place (a, mapping->columns->pdata[j]) && wb_exchange_mapping_target_find (a->source) < 0)
          {
            g_ptr_array_add (doubled, a);
            break;
          }
      }
  for (guint i = 0; i < doubled->len; i++)
    leave (doubled->pdata[i]);
}

/* What is told by an hour has no other time. */
static void
settle_hours (WbLogMapping *mapping)
{
  static const char *const moments[] = { "elapsed_min", WB_LOG_TARGET_READ_AT, WB_LOG_TARGET_READ_ON, WB_LOG_TARGET_READ_TIME, NULL };
  gboolean hours = FALSE;

  for (guint i = 0; i < mapping->columns->len; i++)
    hours |= !isnan (((const WbLogMappingColumn *) mapping->columns->pdata[i])->minute);
  settle_starts (mapping, hours);
  settle_doubles (mapping);
  for (guint i = 0; hours && i < mapping->columns->len; i++)
    {
      WbLogMappingColumn *column = mapping->columns->pdata[i];

      if (column->target != NULL && g_strv_contains (moments, column->target))
        leave (column);
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
  guess_date_order (looked);
  mapping->date_order = looked->order;
  g_free (mapping->zone);
  mapping->zone = g_strdup (g_time_zone_get_identifier (here));
  guess_nothing (mapping, looked);
  for (guint i = 0; looked->names[i] != NULL; i++)
    wb_exchange_mapping_guess_column (mapping, looked->names[i], looked->examples[i]);
  guess_repeats (mapping, looked);
  settle_units (mapping);
  settle_hours (mapping);
  looked->clock_doubtful = is_clock_doubtful (mapping, looked);
  guess_fixed (mapping, file, cancellable);
  if (head != NULL)
    *head = g_steal_pointer (&looked);
  return g_steal_pointer (&mapping);
}
