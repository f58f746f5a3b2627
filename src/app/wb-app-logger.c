/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-logger.h"

#include "wb-app-error-private.h"
#include "wb-app-reader-private.h"
#include "wb-craft-alight.h"
#include "wb-exchange-error.h"
#include "wb-exchange-logger.h"
#include "wb-plot-burn.h"
#include "wb-store-records.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

/* What is kept is no plain table: its head says how it is read. */
#define MEDIA_TYPE "text/x-wickbench-logger"

/* What is to be read, and against what. */
typedef struct
{
  char           *code;
  GPtrArray      *limits;
  guint           n_wicks;
  gboolean        us_units;
  WbBurn         *burn;      /* NULL: of the kept one */
  GFile          *file;
  GBytes         *bytes;     /* of the file, where it was read before */
  WbLoggerChoice *shape;     /* of what was read before; NULL: nothing was */
  char          **names;
  WbLoggerChoice *choice;    /* NULL: it is proposed */
  WbAttachment   *kept;      /* instead of burn and file */
} Request;

static void
request_free (gpointer data)
{
  Request *self = data;

  g_free (self->code);
  g_clear_pointer (&self->limits, g_ptr_array_unref);
  wb_record_free (self->burn);
  g_clear_object (&self->file);
  g_clear_pointer (&self->bytes, g_bytes_unref);
  wb_logger_choice_free (self->shape);
  g_strfreev (self->names);
  wb_logger_choice_free (self->choice);
  wb_record_free (self->kept);
  g_free (self);
}

void
wb_app_logger_free (WbAppLogger *self)
{
  if (self == NULL)
    return;
  wb_record_free (self->burn);
  g_free (self->name);
  g_clear_pointer (&self->bytes, g_bytes_unref);
  g_strfreev (self->names);
  wb_logger_choice_free (self->choice);
  g_free (self->problem);
  wb_logger_free (self->logger);
  g_clear_pointer (&self->chart, wb_chart_unref);
  g_clear_pointer (&self->limits, g_ptr_array_unref);
  g_free (self);
}

static gboolean
has_shape (const WbLoggerChoice *one,
           const WbLoggerChoice *other)
{
  return strcmp (one->encoding, other->encoding) == 0 && one->delimiter == other->delimiter && one->header_line == other->header_line;
}

static gboolean
take_file (WbAppLogger   *self,
           const Request *request,
           GCancellable  *cancellable,
           GError       **error)
{
  self->name = g_file_get_basename (request->file);
  self->burn = wb_record_copy (request->burn);
  self->bytes = request->bytes != NULL ? g_bytes_ref (request->bytes) : wb_exchange_logger_load (request->file, cancellable, error);
  if (self->bytes == NULL)
    return FALSE;
  if (request->choice != NULL && request->shape != NULL && has_shape (request->choice, request->shape))
    {
      self->choice = wb_logger_choice_copy (request->choice);
      self->names = g_strdupv (request->names);
      return TRUE;
    }
  self->choice = wb_exchange_logger_guess (request->file, self->bytes, request->choice, self->burn->lit_at, &self->names, cancellable, error);
  return self->choice != NULL;
}

static gboolean
take_kept (WbAppLogger   *self,
           const Request *request,
           WbStore       *store,
           GError       **error)
{
  GError *reason = NULL;
  g_autoptr (GBytes) packed = NULL;

  self->name = g_strdup (request->kept->name);
  self->burn = wb_store_load (store, &wb_burn_type, request->kept->owner, &reason);
  packed = self->burn != NULL ? wb_store_load_attachment (store, request->kept->sha256, &reason) : NULL;
  if (packed == NULL)
    {
      wb_app_error_propagate_read (error, reason);
      return FALSE;
    }
  self->bytes = wb_exchange_logger_unpack (packed, self->name, &self->choice, error);
  return self->bytes != NULL;
}

/* Rows of the burn, in order of time. NULL: an error. */
static WbReadings *
load_readings (WbStore *store,
               gint64   burn,
               GError **error)
{
  GError *reason = NULL;
  g_autoptr (GPtrArray) records = wb_store_list (store, &wb_reading_type, "burn", burn, &reason);
  WbReadings *readings;

  if (records == NULL)
    {
      wb_app_error_propagate_read (error, reason);
      return NULL;
    }
  readings = wb_readings_new ();
  for (guint i = 0; i < records->len; i++)
    {
      const WbReading *reading = g_ptr_array_index (records, i);
      guint row = wb_readings_append (readings, reading->record.id, 0, reading->elapsed_min);

      for (guint column = 0; column < WB_N_COLUMNS; column++)
        if (!isnan (reading->values[column]))
          wb_readings_set (readings, row, (WbColumn) column, reading->values[column]);
    }
  return readings;
}

static gboolean
draw (WbAppLogger   *self,
      const Request *request,
      WbStore       *store,
      GError       **error)
{
  g_autoptr (WbReadings) readings = load_readings (store, self->burn->record.id, error);
  g_autoptr (WbRecord) record = readings != NULL ? wb_store_load_notebook (store, error) : NULL;
  WbPlotBurn burn = { request->code, (int) self->burn->number, readings, self->logger, &self->summary, request->us_units, FALSE };

  if (record == NULL)
    return FALSE;
  burn.invented = ((WbNotebook *) record)->invented;
  self->end_min = wb_craft_alight_out_min (readings, 0, wb_readings_get_length (readings), request->n_wicks);
  wb_craft_logger_init (&self->summary, self->logger, self->end_min, self->limits);
  self->chart = wb_plot_burn_new (&burn);
  return TRUE;
}

static gpointer
read_thread (WbStore      *store,
             gpointer      data,
             GCancellable *cancellable,
             GError      **error)
{
  const Request *request = data;
  g_autoptr (WbAppLogger) self = g_new0 (WbAppLogger, 1);
  g_autoptr (GError) problem = NULL;

  self->limits = g_ptr_array_ref (request->limits);
  self->end_min = NAN;
  if (!(request->kept != NULL ? take_kept (self, request, store, error) : take_file (self, request, cancellable, error)))
    return NULL;
  if (self->choice->n_columns == 0)
    {
      self->problem = g_strdup (_("Choose at least one column of temperatures."));
      return g_steal_pointer (&self);
    }
  self->logger = wb_exchange_logger_read (self->bytes, self->name, self->choice, self->burn->lit_at, cancellable, &problem);
  if (self->logger == NULL && problem->domain != WB_EXCHANGE_ERROR)
    {
      g_propagate_error (error, g_steal_pointer (&problem));
      return NULL;
    }
  if (self->logger == NULL)
    self->problem = g_strdup (problem->message);
  else if (!draw (self, request, store, error))
    return NULL;
  return g_steal_pointer (&self);
}

static Request *
request_new (WbAppBenchSample *sample,
             gboolean          us_units)
{
  const GPtrArray *limits = wb_app_bench_sample_get_limits (sample);
  Request *request = g_new0 (Request, 1);

  request->code = g_strdup (wb_app_bench_sample_get_code (sample));
  request->limits = g_ptr_array_new_with_free_func (wb_record_free);
  for (guint i = 0; i < limits->len; i++)
    g_ptr_array_add (request->limits, wb_record_copy (g_ptr_array_index (limits, i)));
  request->n_wicks = wb_app_bench_sample_get_n_wicks (sample);
  request->us_units = us_units;
  return request;
}

static void
run (WbAppNotebook      *notebook,
     Request            *request,
     gpointer            tag,
     GCancellable       *cancellable,
     GAsyncReadyCallback callback,
     gpointer            user)
{
  GTask *task = g_task_new (notebook, cancellable, callback, user);

  g_task_set_source_tag (task, tag);
  wb_app_reader_run (notebook, task, read_thread, request, request_free, (GDestroyNotify) wb_app_logger_free);
}

void
wb_app_logger_read_async (WbAppNotebook        *notebook,
                          WbAppBenchSample     *sample,
                          const WbBurn         *burn,
                          GFile                *file,
                          const WbAppLogger    *before,
                          const WbLoggerChoice *choice,
                          gboolean              us_units,
                          GCancellable         *cancellable,
                          GAsyncReadyCallback   callback,
                          gpointer              user)
{
  Request *request;

  g_return_if_fail (WB_IS_APP_NOTEBOOK (notebook));
  g_return_if_fail (WB_IS_APP_BENCH_SAMPLE (sample));
  g_return_if_fail (burn != NULL && burn->record.type == &wb_burn_type);
  g_return_if_fail (G_IS_FILE (file));

  request = request_new (sample, us_units);
  request->burn = wb_record_copy (burn);
  request->file = g_object_ref (file);
  if (before != NULL)
    {
      request->bytes = g_bytes_ref (before->bytes);
      request->shape = wb_logger_choice_copy (before->choice);
      request->names = g_strdupv (before->names);
    }
  request->choice = choice != NULL ? wb_logger_choice_copy (choice) : NULL;
  run (notebook, request, wb_app_logger_read_async, cancellable, callback, user);
}

void
wb_app_logger_load_async (WbAppNotebook      *notebook,
                          WbAppBenchSample   *sample,
                          const WbAttachment *kept,
                          gboolean            us_units,
                          GCancellable       *cancellable,
                          GAsyncReadyCallback callback,
                          gpointer            user)
{
  Request *request;

  g_return_if_fail (WB_IS_APP_NOTEBOOK (notebook));
  g_return_if_fail (WB_IS_APP_BENCH_SAMPLE (sample));
  g_return_if_fail (kept != NULL && kept->record.type == &wb_attachment_type);

  request = request_new (sample, us_units);
  request->kept = wb_record_copy (kept);
  run (notebook, request, wb_app_logger_load_async, cancellable, callback, user);
}

WbAppLogger *
wb_app_logger_read_finish (WbAppNotebook *notebook,
                           GAsyncResult  *result,
                           GError       **error)
{
  g_return_val_if_fail (g_task_is_valid (result, notebook), NULL);
  return g_task_propagate_pointer (G_TASK (result), error);
}

/* When its first row within the burn was written; unknown where the lighting is. */
static WbInstant
find_time (const WbAppLogger *logger)
{
  WbInstant at = logger->burn->lit_at;

  if (at.known && logger->summary.n > 0)
    at.utc_us += (gint64) (logger->logger->minutes[logger->summary.first] * 60.0) * G_USEC_PER_SEC;
  return at;
}

void
wb_app_logger_add_async (WbAppNotebook      *notebook,
                         const WbAppLogger  *logger,
                         const char         *code,
                         GCancellable       *cancellable,
                         GAsyncReadyCallback callback,
                         gpointer            user)
{
  g_autoptr (WbRecord) record = wb_record_new (&wb_attachment_type);
  WbAttachment *attachment = (WbAttachment *) record;
  g_autoptr (GBytes) packed = NULL;
  g_autofree char *why = NULL, *valid = NULL;

  g_return_if_fail (WB_IS_APP_NOTEBOOK (notebook));
  g_return_if_fail (logger != NULL && logger->logger != NULL && code != NULL);

  packed = wb_exchange_logger_pack (logger->bytes, logger->choice);
  valid = g_utf8_make_valid (logger->name, -1);
  attachment->owner = logger->burn->record.id;
  attachment->role = WB_ATTACHMENT_LOGGER;
  /* A name may be longer in a folder than in the record. */
  attachment->name = g_utf8_substring (valid, 0, MIN (g_utf8_strlen (valid, -1), WB_NAME_MAXIMUM));
  attachment->media_type = g_strdup (MEDIA_TYPE);
  attachment->taken_at = find_time (logger);
  wb_craft_logger_keep (&logger->summary, logger->logger, attachment);
  why = g_strdup_printf (_("Add a logger's file to %s, burn %d"), code, (int) logger->burn->number);
  wb_app_attachment_add_async (notebook, attachment, packed, why, cancellable, callback, user);
}
