/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-export-private.h"

#include "wb-app-compute-private.h"
#include "wb-clock.h"
#include "wb-exchange-log-writer.h"
#include "wb-exchange-xlsx.h"
#include "wb-store-dataset.h"
#include "wb-store-export.h"

#include <glib/gi18n-lib.h>

/*
 * The formats that hold readings. Rows are passed by twice: first to see which
 * columns any of them fills, then to be written; none is kept.
 */

#define REPORT_EVERY_ROWS 512

typedef gboolean (*AddRow) (gpointer writer, const WbLogRow *row, GError **error);

typedef struct
{
  const WbAppExport *export;
  WbExchangeLogFill *fill;   /* the first pass */
  gpointer           writer; /* the second */
  AddRow             add;
  guint64            rows;   /* of this pass */
  guint64            all;    /* of the first */
} Pass;

GCancellable *
wb_app_export_get_cancellable (const WbAppExport *self)
{
  return self->job != NULL ? wb_app_job_get_cancellable (self->job) : NULL;
}

GArray *
wb_app_export_list_experiments (const WbAppExport *self,
                                GError           **error)
{
  g_autoptr (GPtrArray) experiments = wb_store_list_experiments (self->store, wb_clock_now (wb_clock_get ()), error);
  GArray *ids;

  if (experiments == NULL)
    return NULL;
  ids = g_array_new (FALSE, FALSE, sizeof (gint64));
  for (guint i = 0; i < experiments->len; i++)
    {
      gint64 id = ((const WbStoreExperiment *) g_ptr_array_index (experiments, i))->id;

      if (self->experiment == 0 || self->experiment == id)
        g_array_append_val (ids, id);
    }
  return ids;
}

static gboolean
report (Pass    *pass,
        double   done,
        GError **error)
{
  pass->rows++;
  if (pass->rows % REPORT_EVERY_ROWS != 0 || wb_app_job_report (pass->export->job, done, NULL))
    return TRUE;
  g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_CANCELLED, _("Cancelled"));
  return FALSE;
}

static gboolean
on_fill_cb (const WbLogRow *row,
            gpointer        data,
            GError        **error)
{
  Pass *pass = data;

  wb_exchange_log_fill_add (pass->fill, row);
  return report (pass, 0, error);
}

static gboolean
on_write_cb (const WbLogRow *row,
             gpointer        data,
             GError        **error)
{
  Pass *pass = data;

  return pass->add (pass->writer, row, error) && report (pass, (double) pass->rows / MAX (pass->all, 1), error);
}

static WbExchangeLogFill *
find_fill (const WbAppExport *self,
           char             **extra,
           guint64           *rows,
           GError           **error)
{
  g_autoptr (WbExchangeLogFill) fill = wb_exchange_log_fill_new (g_strv_length (extra));
  Pass pass = { .export = self, .fill = fill };

  if (!wb_store_export (self->store, self->experiment, on_fill_cb, &pass, error))
    return NULL;
  *rows = pass.rows;
  return g_steal_pointer (&fill);
}

static gboolean
write_rows (const WbAppExport *self,
            gpointer           writer,
            AddRow             add,
            guint64            rows,
            GError           **error)
{
  Pass pass = { .export = self, .writer = writer, .add = add, .all = rows };

  return wb_store_export (self->store, self->experiment, on_write_cb, &pass, error);
}

static gboolean
add_to_log (gpointer        writer,
            const WbLogRow *row,
            GError        **error)
{
  return wb_exchange_log_writer_add (writer, row, error);
}

gboolean
wb_app_export_csv (const WbAppExport *self,
                   GError           **error)
{
  g_auto (GStrv) extra = wb_store_list_extra_columns (self->store, error);
  guint64 rows = 0;
  g_autoptr (WbExchangeLogFill) fill = extra != NULL ? find_fill (self, extra, &rows, error) : NULL;
  g_autoptr (WbExchangeLogWriter) writer = NULL;

  if (fill == NULL)
    return FALSE;
  writer = wb_exchange_log_writer_new (self->file, fill, (const char *const *) extra, self->notebook->invented,
                                       wb_app_export_get_cancellable (self), error);
  return writer != NULL
         && write_rows (self, writer, add_to_log, rows, error)
         && wb_exchange_log_writer_close (writer, error);
}

static gboolean
add_answers (const WbAppExport *self,
             WbExchangeXlsx    *workbook,
             GError           **error)
{
  g_autoptr (GArray) experiments = wb_app_export_list_experiments (self, error);

  for (guint i = 0; experiments != NULL && i < experiments->len; i++)
    {
      g_autoptr (WbCraftAnswer) answer = wb_app_compute_answer (self->notebook_path, g_array_index (experiments, gint64, i),
                                                                WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL, NULL, NULL, error);

      if (answer == NULL || !wb_exchange_xlsx_add_answer (workbook, answer, error))
        return FALSE;
      if (wb_app_job_report (self->job, 0, NULL))
        continue;
      g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_CANCELLED, _("Cancelled"));
      return FALSE;
    }
  return experiments != NULL;
}

static gboolean
add_to_workbook (gpointer        workbook,
                 const WbLogRow *row,
                 GError        **error)
{
  return wb_exchange_xlsx_add_row (workbook, row, error);
}

gboolean
wb_app_export_xlsx (const WbAppExport *self,
                    GError           **error)
{
  g_auto (GStrv) extra = wb_store_list_extra_columns (self->store, error);
  guint64 rows = 0;
  g_autoptr (WbExchangeLogFill) fill = extra != NULL ? find_fill (self, extra, &rows, error) : NULL;
  g_autoptr (WbExchangeXlsx) workbook = NULL;

  if (fill == NULL)
    return FALSE;
  workbook = wb_exchange_xlsx_new (self->file, self->notebook, fill, (const char *const *) extra, wb_clock_now (wb_clock_get ()),
                                   wb_app_export_get_cancellable (self), error);
  return workbook != NULL
         && add_answers (self, workbook, error)
         && write_rows (self, workbook, add_to_workbook, rows, error)
         && wb_exchange_xlsx_close (workbook, error);
}
