/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-export-private.h"

#include "wb-app-calendar-private.h"
#include "wb-clock.h"
#include "wb-exchange-calendar.h"
#include "wb-exchange-notebook-writer.h"
#include "wb-record-types.h"
#include "wb-store-records.h"
#include "wb-store-stream.h"

#include <glib/gi18n-lib.h>

/* The formats that hold no readings' table: the calendar, and the whole notebook as JSON. */

#define ENTRIES_AT_ONCE 500

/* An earlier export that is larger than any calendar of ours is none. */
#define MOST_EARLIER_BYTES (8 * 1024 * 1024)

/* An evening is burnt under the eyes of somebody; that stands in each. */
static char *
dup_description (const WbAppCalendarRead  *read,
                 const WbAppCalendarEvent *event)
{
  const WbAppCalendarCohort *cohort;

  if (event->kind != WB_APP_CALENDAR_EVENING)
    return g_strdup (event->detail);
  cohort = g_ptr_array_index (read->cohorts, event->cohort);
  return g_strdup_printf ("%s\n%s\n\n%s", cohort->title, event->detail, _("Somebody stays with the flames until no wick glows."));
}

static void
add_event (WbExchangeCalendar       *calendar,
           const WbAppCalendarRead  *read,
           const WbAppCalendarEvent *event)
{
  g_autofree char *description = dup_description (read, event);
  const WbExchangeEvent told = {
    .uid = event->uid,
    .summary = event->title,
    .description = *description != '\0' ? description : NULL,
    .day = event->at.known ? WB_DAY_NONE : event->day,
    .at = event->at,
    .length_s = event->length_s,
  };

  wb_exchange_calendar_add (calendar, &told);
}

static gboolean
set_scope (const WbAppExport  *self,
           WbExchangeCalendar *calendar,
           GError            **error)
{
  g_autoptr (WbRecord) experiment = NULL;

  if (self->experiment == 0)
    return TRUE;
  experiment = wb_store_load (self->store, &wb_experiment_type, self->experiment, error);
  if (experiment == NULL)
    return FALSE;
  wb_exchange_calendar_set_scope (calendar, &((WbExperiment *) experiment)->uuid);
  return TRUE;
}

/* The file that is written over may be the calendar of last week: what it planned and is planned no more is cancelled. */
static void
cancel_lost (const WbAppExport  *self,
             WbExchangeCalendar *calendar,
             WbInstant           now)
{
  g_autoptr (GFileInfo) info = g_file_query_info (self->file, G_FILE_ATTRIBUTE_STANDARD_SIZE, G_FILE_QUERY_INFO_NONE, NULL, NULL);
  g_autofree char *earlier = NULL;

  if (info != NULL && g_file_info_get_size (info) <= MOST_EARLIER_BYTES && g_file_load_contents (self->file, NULL, &earlier, NULL, NULL, NULL))
    wb_exchange_calendar_cancel_lost (calendar, earlier, now);
}

gboolean
wb_app_export_ics (const WbAppExport *self,
                   GError           **error)
{
  WbInstant now = wb_clock_now (wb_clock_get ());
  g_autofree char *zone = wb_clock_dup_zone (wb_clock_get ());
  g_autoptr (WbAppLoads) loads = wb_app_loads_new ();
  g_autoptr (WbAppCalendarRead) read = wb_app_calendar_read (self->store, loads, now, error);
  g_autoptr (WbExchangeCalendar) calendar = NULL;

  if (read == NULL)
    return FALSE;
  calendar = wb_exchange_calendar_new (self->notebook, zone, read->revised);
  if (!set_scope (self, calendar, error))
    return FALSE;
  for (guint i = 0; i < read->events->len; i++)
    {
      const WbAppCalendarEvent *event = g_ptr_array_index (read->events, i);

      if (self->experiment == 0 || event->experiment == self->experiment)
        add_event (calendar, read, event);
    }
  cancel_lost (self, calendar, now);
  return wb_exchange_calendar_save (calendar, self->file, now, wb_app_export_get_cancellable (self), error);
}

static gboolean
add_record (gconstpointer record,
            gpointer      writer,
            GError      **error)
{
  return wb_exchange_notebook_writer_add (writer, record, error);
}

static gboolean
add_version (gconstpointer record,
             gpointer      writer,
             GError      **error)
{
  return wb_exchange_notebook_writer_add_version (writer, record, error);
}

static gboolean
add_cell (gint64      reading,
          const char *column,
          const char *cell,
          gpointer    writer,
          GError    **error)
{
  return wb_exchange_notebook_writer_add_cell (writer, reading, column, cell, error);
}

static gboolean
stream_all (const WbAppExport        *self,
            WbStoreStreamWhich        which,
            WbStoreStreamRecord       add,
            WbExchangeNotebookWriter *writer,
            GError                  **error)
{
  const WbRecordType *const *types = wb_record_types ();

  for (guint i = 0; types[i] != NULL; i++)
    {
      if (!wb_store_stream_records (self->store, types[i], which, add, writer, error))
        return FALSE;
      if (wb_app_job_report (self->job, -1, NULL))
        continue;
      g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_CANCELLED, _("Cancelled"));
      return FALSE;
    }
  return TRUE;
}

/* Newest first, as the record page lists them. */
static gboolean
add_entries (const WbAppExport        *self,
             WbExchangeNotebookWriter *writer,
             GError                  **error)
{
  gint64 before = 0;

  for (;;)
    {
      g_autoptr (GPtrArray) entries = wb_store_list_entries (self->store, before, ENTRIES_AT_ONCE, error);

      if (entries == NULL)
        return FALSE;
      for (guint i = 0; i < entries->len; i++)
        {
          const WbEntry *entry = g_ptr_array_index (entries, i);
          const WbExchangeEntry told = {
            .number = entry->number,
            .at = entry->at,
            .zone = entry->zone,
            .kind = wb_entry_kind_get_nick (entry->kind),
            .topic = entry->topic,
            .who = entry->who,
            .why = entry->why,
            .hash = entry->hash,
            .undoes = entry->undoes,
          };

          if (!wb_exchange_notebook_writer_add_entry (writer, &told, error))
            return FALSE;
          before = entry->number;
        }
      if (entries->len < ENTRIES_AT_ONCE || before <= 1)
        return TRUE;
    }
}

static gboolean
add_attachments (const WbAppExport        *self,
                 WbExchangeNotebookWriter *writer,
                 GError                  **error)
{
  g_autoptr (GPtrArray) attachments = wb_store_list (self->store, &wb_attachment_type, NULL, 0, error);
  g_autoptr (GHashTable) written = g_hash_table_new (g_str_hash, g_str_equal);

  for (guint i = 0; attachments != NULL && i < attachments->len; i++)
    {
      const WbAttachment *attachment = g_ptr_array_index (attachments, i);
      g_autoptr (GBytes) bytes = NULL;

      /* The same bytes are kept once, whoever they belong to. */
      if (!g_hash_table_add (written, attachment->sha256))
        continue;
      bytes = wb_store_load_attachment (self->store, attachment->sha256, error);
      if (bytes == NULL || !wb_exchange_notebook_writer_add_attachment (writer, attachment->sha256, bytes, error))
        return FALSE;
    }
  return attachments != NULL;
}

gboolean
wb_app_export_json (const WbAppExport *self,
                    GError           **error)
{
  g_autoptr (WbExchangeNotebookWriter) writer = NULL;

  if (self->experiment != 0)
    {
      g_set_error_literal (error, WB_APP_ERROR, WB_APP_ERROR_UNKNOWN,
                           _("A .json holds the whole notebook: it cannot be one experiment alone"));
      return FALSE;
    }
  writer = wb_exchange_notebook_writer_new (self->file, self->notebook, wb_app_export_get_cancellable (self), error);
  return writer != NULL
         && stream_all (self, WB_STORE_STREAM_CURRENT, add_record, writer, error)
         && stream_all (self, WB_STORE_STREAM_EARLIER, add_version, writer, error)
         && add_entries (self, writer, error)
         && wb_store_stream_cells (self->store, add_cell, writer, error)
         && add_attachments (self, writer, error)
         && wb_exchange_notebook_writer_close (writer, error);
}
