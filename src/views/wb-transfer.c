/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-transfer.h"

#include "wb-app-export.h"
#include "wb-app-shelf.h"
#include "wb-file-choice.h"
#include "wb-import-dialog.h"
#include "wb-problem.h"
#include "wb-shelf-dialog.h"

#include <glib/gi18n.h>

/* An export between the question for its file and its end. */
typedef struct
{
  WbHost *host;
  gint64  experiment;
  const WbRecordType *kind; /* of materials; NULL: all */
  char   *path;
} Export;

static void
export_free (Export *export)
{
  g_object_unref (export->host);
  g_free (export->path);
  g_free (export);
}

static Export *
export_new (WbHost     *host,
            gint64      experiment,
            const char *path)
{
  Export *export = g_new0 (Export, 1);

  export->host = g_object_ref (host);
  export->experiment = experiment;
  export->path = g_strdup (path);
  return export;
}

/* Takes the export. */
static void
tell_written (Export       *export,
              gboolean      done,
              const GError *error)
{
  /* The window may have gone, or shows another notebook: the file is what was asked for all the same. */
  if (wb_host_get_desk (export->host) != NULL)
    {
      g_autofree char *words = g_strdup_printf (_("Written: %s"), export->path);

      wb_job_bar_set_job (wb_host_get_job_bar (export->host), NULL, NULL);
      if (done)
        wb_host_say (export->host, words);
      else
        wb_problem_show (GTK_WIDGET (export->host), _("The file was not written"), error);
    }
  export_free (export);
}

static void
on_exported_cb (GObject      *source,
                GAsyncResult *result,
                gpointer      data)
{
  g_autoptr (GError) error = NULL;
  gboolean done = wb_app_export_finish (WB_APP_NOTEBOOK (source), result, &error);

  tell_written (data, done, error);
}

static void
on_materials_exported_cb (GObject      *source,
                          GAsyncResult *result,
                          gpointer      data)
{
  g_autoptr (GError) error = NULL;
  gboolean done = wb_app_shelf_export_finish (WB_APP_NOTEBOOK (source), result, &error);

  tell_written (data, done, error);
}

static void
on_export_path_cb (const char *path,
                   gpointer    user)
{
  Export *export = user;

  if (path != NULL)
    wb_transfer_export_file (export->host, export->experiment, path);
  export_free (export);
}

static void
on_import_path_cb (const char *path,
                   gpointer    user)
{
  g_autoptr (WbHost) host = user;

  if (path != NULL)
    wb_transfer_import_file (host, path);
}

void
wb_transfer_import (WbHost *host)
{
  g_return_if_fail (WB_IS_HOST (host));

  if (wb_host_get_desk (host) != NULL)
    wb_file_choice_open (GTK_WIDGET (host), _("Import a burn log"), WB_FILE_LOG, on_import_path_cb, g_object_ref (host));
}

void
wb_transfer_export (WbHost *host,
                    gint64    experiment)
{
  static const WbFileKind offered[] = { WB_FILE_WORKBOOK, WB_FILE_CSV, WB_FILE_JSON, WB_FILE_CALENDAR };

  g_return_if_fail (WB_IS_HOST (host));

  if (wb_host_get_desk (host) != NULL)
    wb_file_choice_save_as (GTK_WIDGET (host), _("Export as CSV, workbook, JSON or calendar"), offered, G_N_ELEMENTS (offered),
                            _("Burns"), on_export_path_cb, export_new (host, experiment, NULL));
}

void
wb_transfer_export_calendar (WbHost *host)
{
  g_return_if_fail (WB_IS_HOST (host));

  if (wb_host_get_desk (host) != NULL)
    wb_file_choice_save (GTK_WIDGET (host), _("Export the calendar"), WB_FILE_CALENDAR, _("Bench.ics"),
                         on_export_path_cb, export_new (host, 0, NULL));
}

void
wb_transfer_import_file (WbHost     *host,
                         const char *path)
{
  g_return_if_fail (WB_IS_HOST (host));
  g_return_if_fail (path != NULL);

  if (wb_host_get_desk (host) != NULL)
    gtk_window_present (GTK_WINDOW (wb_import_dialog_new (GTK_WIDGET (host), wb_desk_get_notebook (wb_host_get_desk (host)), path)));
}

void
wb_transfer_export_file (WbHost     *host,
                         gint64      experiment,
                         const char *path)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbAppJob) job = NULL;
  int format;

  g_return_if_fail (WB_IS_HOST (host));
  g_return_if_fail (path != NULL);

  if (wb_host_get_desk (host) == NULL)
    return;
  format = wb_app_export_format_from_path (path, &error);
  if (format < 0)
    {
      wb_problem_show (GTK_WIDGET (host), _("The file was not written"), error);
      return;
    }
  job = wb_app_job_new ();
  wb_host_say (host, NULL);
  wb_job_bar_set_job (wb_host_get_job_bar (host), job, _("Exporting"));
  wb_app_export_async (wb_desk_get_notebook (wb_host_get_desk (host)), experiment, (WbAppExportFormat) format, path, job,
                       on_exported_cb, export_new (host, experiment, path));
}

static void
on_materials_out_cb (const char *path,
                     gpointer    user)
{
  Export *export = user;

  if (path != NULL)
    wb_transfer_export_materials_file (export->host, export->kind, path);
  export_free (export);
}

static void
on_materials_in_cb (const char *path,
                    gpointer    user)
{
  Export *asked = user;

  if (path != NULL)
    wb_transfer_import_materials_file (asked->host, asked->kind, path);
  export_free (asked);
}

static Export *
export_new_materials (WbHost             *host,
                      const WbRecordType *kind,
                      const char         *path)
{
  Export *export = export_new (host, 0, path);

  export->kind = kind;
  return export;
}

void
wb_transfer_import_materials (WbHost             *host,
                              const WbRecordType *kind)
{
  g_return_if_fail (WB_IS_HOST (host));

  if (wb_host_get_desk (host) != NULL)
    wb_file_choice_open (GTK_WIDGET (host), _("Import materials"), WB_FILE_SHELF, on_materials_in_cb, export_new_materials (host, kind, NULL));
}

void
wb_transfer_export_materials (WbHost             *host,
                              const WbRecordType *kind)
{
  g_autofree char *name = NULL;

  g_return_if_fail (WB_IS_HOST (host));

  if (wb_host_get_desk (host) == NULL)
    return;
  name = g_strdup_printf ("%s.csv", kind != NULL ? _(kind->label) : _("Materials"));
  wb_file_choice_save (GTK_WIDGET (host), _("Export materials as CSV"), WB_FILE_SHELF, name, on_materials_out_cb, export_new_materials (host, kind, NULL));
}

void
wb_transfer_import_materials_file (WbHost             *host,
                                   const WbRecordType *kind,
                                   const char         *path)
{
  g_return_if_fail (WB_IS_HOST (host));
  g_return_if_fail (path != NULL);

  if (wb_host_get_desk (host) != NULL)
    gtk_window_present (GTK_WINDOW (wb_shelf_dialog_new (GTK_WIDGET (host), wb_desk_get_notebook (wb_host_get_desk (host)), kind, path)));
}

void
wb_transfer_export_materials_file (WbHost             *host,
                                   const WbRecordType *kind,
                                   const char         *path)
{
  g_return_if_fail (WB_IS_HOST (host));
  g_return_if_fail (path != NULL);

  if (wb_host_get_desk (host) == NULL)
    return;
  wb_host_say (host, NULL);
  wb_app_shelf_export_async (wb_desk_get_notebook (wb_host_get_desk (host)), kind, path, NULL, on_materials_exported_cb,
                             export_new_materials (host, kind, path));
}
