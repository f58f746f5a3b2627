/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-import-private.h"

#include "wb-app-error-private.h"
#include "wb-clock.h"
#include "wb-exchange-error.h"
#include "wb-exchange-log-burns.h"
#include "wb-exchange-log-reader.h"
#include "wb-store-records.h"

#include <glib/gi18n-lib.h>

/* A file that somebody goes on writing is given up after this many passes. */
#define MOST_ATTEMPTS 3
#define REPORT_EVERY_ROWS 512

struct _WbAppImportPass
{
  WbStore            *store;     /* borrowed; NULL: none yet */
  GFile              *file;
  const WbLogMapping *mapping;   /* borrowed; NULL: a burn log of the format */
  gboolean            invented;
  WbAppJob           *job;       /* borrowed; may be NULL */

  WbStoreImport      *import;
  WbAppImportSummary *summary;
  char               *etag;      /* of the file as it was judged */
  GHashTable         *experiments; /* titles, a set */
  WbAppImportExtent   extent;
};

WbAppImportPass *
wb_app_import_pass_new (WbStore            *store,
                        const char         *file,
                        const WbLogMapping *mapping,
                        gboolean            invented,
                        WbAppJob           *job)
{
  WbAppImportPass *self = g_new0 (WbAppImportPass, 1);

  self->store = store;
  self->file = g_file_new_for_path (file);
  self->mapping = mapping;
  self->invented = invented;
  self->job = job;
  return self;
}

static void
forget (WbAppImportPass *self)
{
  g_clear_pointer (&self->import, wb_store_import_free);
  g_clear_pointer (&self->summary, wb_app_import_summary_free);
  g_clear_pointer (&self->etag, g_free);
  g_clear_pointer (&self->experiments, g_hash_table_unref);
  wb_app_import_extent_clear (&self->extent);
}

void
wb_app_import_pass_free (WbAppImportPass *self)
{
  if (self == NULL)
    return;
  forget (self);
  g_object_unref (self->file);
  g_free (self);
}

void
wb_app_import_map_error (GError **error)
{
  wb_app_error_from_store (error, WB_APP_ERROR_CHANGED);
  if (error == NULL || *error == NULL || (*error)->domain != WB_EXCHANGE_ERROR)
    return;
  (*error)->domain = WB_APP_ERROR;
  (*error)->code = WB_APP_ERROR_REFUSED;
}

static GCancellable *
get_cancellable (WbAppImportPass *self)
{
  return self->job != NULL ? wb_app_job_get_cancellable (self->job) : NULL;
}

/* What the notebook has of burns, for a sheet in which they are counted. */
static gboolean
tell_recorded (WbAppImportPass     *self,
               WbExchangeLogReader *reader,
               GError             **error)
{
  g_autoptr (GHashTable) titles = g_hash_table_new (g_int64_hash, g_int64_equal), known = g_hash_table_new (g_int64_hash, g_int64_equal);
  g_autoptr (GPtrArray) experiments = wb_store_list (self->store, &wb_experiment_type, NULL, 0, error);
  g_autoptr (GPtrArray) samples = experiments != NULL ? wb_store_list (self->store, &wb_sample_type, NULL, 0, error) : NULL;
  g_autoptr (GPtrArray) burns = samples != NULL ? wb_store_list (self->store, &wb_burn_type, NULL, 0, error) : NULL;

  if (burns == NULL)
    return FALSE;
  for (guint i = 0; i < experiments->len; i++)
    {
      WbExperiment *experiment = experiments->pdata[i];

      g_hash_table_insert (titles, &experiment->record.id, experiment->title);
    }
  for (guint i = 0; i < samples->len; i++)
    {
      WbSample *sample = samples->pdata[i];

      g_hash_table_insert (known, &sample->record.id, sample);
    }
  for (guint i = 0; i < burns->len; i++)
    {
      const WbBurn *burn = burns->pdata[i];
      const WbSample *sample = g_hash_table_lookup (known, &burn->sample);
      const char *title = sample != NULL ? g_hash_table_lookup (titles, &sample->experiment) : NULL;

      if (title != NULL)
        wb_exchange_log_reader_add_recorded (reader, title, sample->code, burn->lit_at, burn->number);
    }
  return TRUE;
}

static WbExchangeLogReader *
open_reader (WbAppImportPass *self,
             GError         **error)
{
  WbExchangeLogReader *reader = wb_exchange_log_reader_new_mapped (self->file, self->mapping, get_cancellable (self), error);

  /* The notebook says of itself that its data are invented, and writes that mark again. */
  if (reader != NULL && self->invented)
    wb_exchange_log_reader_drop_mark (reader);
  if (reader != NULL && self->store != NULL && wb_exchange_log_reader_wants_recorded (reader) && !tell_recorded (self, reader, error))
    g_clear_pointer (&reader, wb_exchange_log_reader_free);
  return reader;
}

static gboolean
report (WbAppImportPass           *self,
        const WbExchangeLogReader *reader,
        double                     from,
        double                     to,
        const char                *text,
        GError                   **error)
{
  guint64 rows = wb_exchange_log_reader_get_rows (reader), size = wb_exchange_log_reader_get_size (reader);
  double share = size > 0 ? CLAMP ((double) wb_exchange_log_reader_get_offset (reader) / size, 0, 1) : 0;

  if (rows % REPORT_EVERY_ROWS != 0 || wb_app_job_report (self->job, from + (to - from) * share, text))
    return TRUE;
  g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_CANCELLED, _("Cancelled"));
  return FALSE;
}

static void
take_remarks (GPtrArray *into,
              GPtrArray *remarks)
{
  while (remarks->len > 0 && into->len < WB_APP_IMPORT_REMARKS)
    g_ptr_array_add (into, g_ptr_array_steal_index (remarks, 0));
  g_ptr_array_set_size (remarks, 0);
}

static void
count_row (WbAppImportPass *self,
           WbImportVerdict  verdict,
           const WbLogRow  *row,
           GPtrArray       *remarks)
{
  WbAppImportSummary *summary = self->summary;

  summary->rows++;
  wb_app_import_extent_add (&self->extent, row, verdict != WB_IMPORT_REFUSED);
  switch (verdict)
    {
    case WB_IMPORT_REFUSED:
      summary->refused_rows++;
      take_remarks (summary->refused, remarks);
      return;
    case WB_IMPORT_KNOWN:
      summary->known++;
      break;
    case WB_IMPORT_ACCEPTED:
      summary->accepted++;
      break;
    default:
      g_assert_not_reached ();
    }
  summary->warning_rows += remarks->len > 0;
  take_remarks (summary->warnings, remarks);
  if (row->experiment != NULL && !g_hash_table_contains (self->experiments, row->experiment))
    g_hash_table_add (self->experiments, g_strdup (row->experiment));
}

static WbAppImportSummary *
summary_new (const char                *file,
             const WbLogMapping        *mapping,
             const WbExchangeLogReader *reader)
{
  WbAppImportSummary *summary = g_new0 (WbAppImportSummary, 1);

  summary->file = g_strdup (file);
  summary->mapping = mapping != NULL ? wb_log_mapping_copy (mapping) : NULL;
  summary->refused = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_log_remark_free);
  summary->warnings = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_log_remark_free);
  summary->kept = g_strdupv ((char **) wb_exchange_log_reader_get_extra (reader));
  summary->delimiter = wb_exchange_log_reader_get_delimiter (reader);
  summary->decimal = wb_exchange_log_reader_get_decimal (reader);
  return summary;
}

static int
compare_titles (gconstpointer a,
                gconstpointer b)
{
  return strcmp (*(const char *const *) a, *(const char *const *) b);
}

/* The titles in order, as a strv. */
static char **
dup_titles (GHashTable *experiments)
{
  guint n;
  g_autofree gpointer *keys = g_hash_table_get_keys_as_array (experiments, &n);
  char **titles = g_new0 (char *, n + 1);

  for (guint i = 0; i < n; i++)
    titles[i] = g_strdup (keys[i]);
  qsort (titles, n, sizeof *titles, compare_titles);
  return titles;
}

static gboolean
has_line (const GPtrArray *remarks,
          guint64          line)
{
  const WbLogRemark key = { .line = line }, *wanted = &key;

  return remarks->len > 0 && bsearch (&wanted, remarks->pdata, remarks->len, sizeof *remarks->pdata, wb_log_remark_order) != NULL;
}

/* What rows say beside the others of their burn, or all of them together, is known at the end only, and goes in among the warnings by line. */
static void
take_doubts (WbAppImportPass           *self,
             const WbExchangeLogReader *reader,
             WbExchangeLogBurns        *burns)
{
  WbAppImportSummary *summary = self->summary;
  g_autoptr (GPtrArray) found = wb_exchange_log_burns_finish (burns);
  guint64 last = 0;

  wb_exchange_log_reader_name_columns (reader, found, 0, FALSE);
  wb_exchange_log_reader_finish (reader, found);
  g_ptr_array_sort (found, wb_log_remark_order);
  for (guint i = 0; i < found->len; i++)
    {
      guint64 line = ((const WbLogRemark *) found->pdata[i])->line;

      summary->warning_rows += line != last && !has_line (summary->warnings, line);
      last = line;
    }
  take_remarks (summary->warnings, found);
  g_ptr_array_sort (summary->warnings, wb_log_remark_order);
}

static gboolean
judge_rows (WbAppImportPass     *self,
            WbExchangeLogReader *reader,
            GError             **error)
{
  g_autoptr (WbExchangeLogBurns) burns = wb_exchange_log_burns_new ();
  g_autoptr (WbLogRow) row = wb_log_row_new ();
  g_autoptr (GPtrArray) remarks = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_log_remark_free);

  for (;;)
    {
      WbImportVerdict verdict = WB_IMPORT_REFUSED;
      guint told;

      switch (wb_exchange_log_reader_next (reader, row, remarks, error))
        {
        case WB_EXCHANGE_LOG_END:
          take_doubts (self, reader, burns);
          return TRUE;
        case WB_EXCHANGE_LOG_ERROR:
          return FALSE;
        case WB_EXCHANGE_LOG_ROW:
          told = remarks->len;
          if (!wb_store_import_judge (self->import, row, &verdict, remarks, error))
            return FALSE;
          wb_exchange_log_reader_name_columns (reader, remarks, told, TRUE);
          break;
        case WB_EXCHANGE_LOG_REFUSED:
          break;
        default:
          g_assert_not_reached ();
        }
      if (verdict != WB_IMPORT_REFUSED)
        wb_exchange_log_burns_add (burns, row);
      count_row (self, verdict, row, remarks);
      if (!report (self, reader, 0, 0.5, _("Reading"), error))
        return FALSE;
    }
}

/* Of the first experiment that the file is about. FALSE: an error. */
static gboolean
find_experiment (WbAppImportPass *self,
                 WbStore         *store,
                 GError         **error)
{
  const char *title = self->summary->experiments[0];
  gint64 found = store != NULL && title != NULL ? wb_store_find_by_text (store, &wb_experiment_type, "title", title, error) : 0;

  self->summary->experiment = MAX (found, 0);
  return found >= 0;
}

const WbAppImportSummary *
wb_app_import_pass_judge (WbAppImportPass *self,
                          GError         **error)
{
  g_autofree char *name = g_file_get_path (self->file);
  g_autoptr (WbExchangeLogReader) reader = NULL;

  forget (self);
  reader = open_reader (self, error);
  if (reader == NULL)
    return NULL;
  self->summary = summary_new (name, self->mapping, reader);
  self->etag = g_strdup (wb_exchange_log_reader_get_etag (reader));
  wb_app_import_extent_init (&self->extent);
  self->experiments = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  self->import = wb_store_import_new (self->store, wb_exchange_log_reader_get_extra (reader), error);
  if (self->import == NULL || !judge_rows (self, reader, error))
    {
      forget (self);
      return NULL;
    }
  self->summary->experiments = dup_titles (self->experiments);
  self->summary->lines = self->extent.lines;
  self->summary->samples = g_hash_table_size (self->extent.samples);
  if (!find_experiment (self, self->store, error))
    {
      forget (self);
      return NULL;
    }
  return self->summary;
}

typedef enum { WRITE_DONE, WRITE_CHANGED, WRITE_FAILED } WriteResult;

static WriteResult
put_rows (WbAppImportPass     *self,
          WbExchangeLogReader *reader,
          GError             **error)
{
  g_autoptr (WbLogRow) row = wb_log_row_new ();
  g_autoptr (GPtrArray) remarks = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_log_remark_free);

  for (;;)
    {
      switch (wb_exchange_log_reader_next (reader, row, remarks, error))
        {
        case WB_EXCHANGE_LOG_END:
          return wb_exchange_log_reader_get_rows (reader) == self->summary->rows ? WRITE_DONE : WRITE_CHANGED;
        case WB_EXCHANGE_LOG_ERROR:
          return WRITE_FAILED;
        case WB_EXCHANGE_LOG_ROW:
          if (!wb_store_import_put (self->import, row, error))
            return WRITE_FAILED;
          break;
        case WB_EXCHANGE_LOG_REFUSED:
          break;
        default:
          g_assert_not_reached ();
        }
      g_ptr_array_set_size (remarks, 0);
      if (!report (self, reader, 0.5, 1, _("Writing"), error))
        return WRITE_FAILED;
    }
}

/* Whether the file is still the one that was judged: its header is read once more. */
static gboolean
is_unchanged (WbAppImportPass *self)
{
  g_autoptr (WbExchangeLogReader) reader = wb_exchange_log_reader_new_mapped (self->file, self->mapping, NULL, NULL);

  return reader != NULL && strcmp (wb_exchange_log_reader_get_etag (reader), self->etag) == 0;
}

static WriteResult
write_once (WbAppImportPass *self,
            WbStore         *store,
            const char      *who,
            GError         **error)
{
  g_autofree char *source = g_file_get_basename (self->file);
  g_autoptr (WbExchangeLogReader) reader = open_reader (self, error);
  g_autoptr (GError) reason = NULL;
  WriteResult result;

  if (reader == NULL)
    return WRITE_FAILED;
  if (strcmp (wb_exchange_log_reader_get_etag (reader), self->etag) != 0)
    return WRITE_CHANGED;
  if (!wb_store_import_begin (self->import, store, source, who, wb_clock_now (wb_clock_get ()), &reason))
    {
      if (g_error_matches (reason, WB_STORE_ERROR, WB_STORE_ERROR_CONFLICT))
        return WRITE_CHANGED;
      g_propagate_error (error, g_steal_pointer (&reason));
      return WRITE_FAILED;
    }
  result = put_rows (self, reader, error);
  if (result != WRITE_DONE)
    return result;
  if (!is_unchanged (self))
    return WRITE_CHANGED;
  return wb_store_import_commit (self->import, &self->summary->entry, error) ? WRITE_DONE : WRITE_FAILED;
}

WbAppImportSummary *
wb_app_import_pass_write (WbAppImportPass *self,
                          WbStore         *store,
                          const char      *who,
                          gboolean         strict,
                          GError         **error)
{
  for (guint attempt = 0; attempt < MOST_ATTEMPTS; attempt++)
    {
      if (self->summary == NULL && wb_app_import_pass_judge (self, error) == NULL)
        return NULL;
      if (strict && self->summary->refused_rows > 0)
        return g_steal_pointer (&self->summary);
      switch (write_once (self, store, who, error))
        {
        case WRITE_DONE:
          /* It is written, whatever comes of looking for it. */
          find_experiment (self, store, NULL);
          wb_app_job_report (self->job, 1, NULL);
          return g_steal_pointer (&self->summary);
        case WRITE_FAILED:
          /* Frees the import, and with it what is not committed. */
          forget (self);
          return NULL;
        case WRITE_CHANGED:
          forget (self);
          self->store = store;
          break;
        default:
          g_assert_not_reached ();
        }
    }
  g_set_error (error, WB_APP_ERROR, WB_APP_ERROR_CHANGED, _("The file or the notebook goes on changing; nothing was imported"));
  return NULL;
}
