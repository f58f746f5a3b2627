/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-exchange-mapping-guess-private.h"

#include "wb-exchange-mapping-time-private.h"
#include "wb-exchange-table.h"

#include <math.h>
#include <string.h>

/* Whether a sheet without numbers of burns tells of more than one: two evenings taken for one would be joined untold. */

#define DAY_MIN 1440.0

/* What is known of a sample. */
typedef struct
{
  double first, last; /* minutes */
} Course;

/* The cell of the column that is read as it, or holds it; -1: none. */
static int
find_cell (const WbLogMapping *mapping, const char *target)
{
  g_autofree char *braced = g_strdup_printf ("{%s}", target);

  for (guint i = 0; i < mapping->columns->len; i++)
    {
      const WbLogMappingColumn *column = mapping->columns->pdata[i];

      if (g_strcmp0 (column->target, target) == 0 || (column->pattern != NULL && strstr (column->pattern, braced) != NULL))
        return (int) i;
    }
  return -1;
}

static const char *
get_text (const WbExchangeCsvRecord *record, int cell)
{
  return cell >= 0 && (guint) cell < record->n_cells ? record->cells[cell].text : "";
}

/* Minutes that only compare with those of other rows; NAN: they cannot be told. */
static double
read_minutes (const WbLogMapping *mapping, const WbExchangeCsvRecord *record)
{
  int elapsed = find_cell (mapping, "elapsed_min"), at = find_cell (mapping, WB_LOG_TARGET_READ_AT), time = find_cell (mapping, WB_LOG_TARGET_READ_TIME);
  int cell = elapsed >= 0 ? elapsed : at >= 0 ? at : time;
  g_autofree char *text = g_strstrip (g_strdup (get_text (record, cell))), *rule = NULL;
  WbExchangeMoment moment;
  double stored;
  int second;

  if (elapsed >= 0)
    {
      WbUnit unit = ((const WbLogMappingColumn *) mapping->columns->pdata[elapsed])->unit;

      return wb_quantity_parse (WB_QUANTITY_DURATION, unit != WB_N_UNITS ? unit : WB_UNIT_MINUTE, text, &stored, NULL)
               ? wb_unit_from_stored (WB_UNIT_MINUTE, stored) : NAN;
    }
  if (at >= 0)
    {
      if (!wb_exchange_mapping_read_moment (text, mapping->date_order, &moment, &rule))
        return NAN;
      if (moment.instant.known)
        return moment.instant.utc_us / (60.0 * G_USEC_PER_SEC);
      return moment.second >= 0 ? moment.day * DAY_MIN + moment.second / 60.0 : NAN;
    }
  return wb_exchange_mapping_read_time (text, &second, &rule) ? second / 60.0 : NAN;
}

/* FALSE: the row can be one of another burn. */
static gboolean
follows (GHashTable *courses, const char *sample, double minutes, gboolean hours)
{
  Course *course = g_hash_table_lookup (courses, sample);

  if (course == NULL)
    {
      course = g_new (Course, 1);
      *course = (Course) { minutes, minutes };
      g_hash_table_insert (courses, g_strdup (sample), course);
      return hours || !isnan (minutes);
    }
  if (hours || !(minutes > course->last) || minutes - course->first > WB_EXCHANGE_MAPPING_LONGEST_S / 60.0)
    return FALSE;
  course->last = minutes;
  return TRUE;
}

gboolean
wb_exchange_mapping_is_of_one_burn (GFile              *file,
                                    const WbLogMapping *mapping,
                                    GCancellable       *cancellable)
{
  g_autoptr (GFileInputStream) stream = g_file_read (file, cancellable, NULL);
  g_autoptr (WbExchangeTable) table = stream != NULL ? wb_exchange_table_new (G_INPUT_STREAM (stream), mapping, cancellable, NULL) : NULL;
  g_autoptr (GHashTable) courses = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  g_autofree char *sample = g_strdup ("");
  int cell = find_cell (mapping, "sample");
  gboolean hours = FALSE;
  WbExchangeCsvRecord record;

  if (table == NULL || cell < 0)
    return FALSE;
  for (guint i = 0; i < mapping->columns->len; i++)
    hours |= !isnan (((const WbLogMappingColumn *) mapping->columns->pdata[i])->minute);
  for (guint n = 0; n < WB_LOG_HEAD_RECORDS;)
    {
      WbExchangeCsvResult result = wb_exchange_table_next (table, &record, cancellable, NULL);

      if (result == WB_EXCHANGE_CSV_ERROR)
        return FALSE;
      if (result == WB_EXCHANGE_CSV_END)
        return TRUE;
      if (result != WB_EXCHANGE_CSV_RECORD || wb_exchange_record_is_empty (&record))
        continue;

      g_autofree char *own = g_strstrip (g_strdup (get_text (&record, cell)));

      n++;
      /* Merged cells: the sample above. */
      if (*own != '\0')
        {
          g_free (sample);
          sample = g_steal_pointer (&own);
        }
      if (!follows (courses, sample, read_minutes (mapping, &record), hours))
        return FALSE;
    }
  return TRUE;
}
