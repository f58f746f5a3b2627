/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-loop.h"

#include <glib/gstdio.h>
#include <gsl/gsl_errno.h>

/* Long enough for a machine under load and a sanitizer; a test that needs it has failed. */
#define LIMIT_S 180

void
app_init (int    *argc,
          char ***argv)
{
  g_test_init (argc, argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  gsl_set_error_handler_off ();
  g_setenv ("WICKBENCH_CLOCK", "2026-03-02T18:00:00+00:00,0", TRUE);
}

static gboolean
on_limit_cb (gpointer data)
{
  g_error ("waited %d s for: %s", LIMIT_S, (const char *) data);
  return G_SOURCE_REMOVE;
}

static gboolean
on_wake_cb (gpointer data)
{
  return G_SOURCE_CONTINUE;
}

void
app_wait_until (AppCondition condition,
                gpointer     data,
                const char  *what)
{
  guint limit = g_timeout_add_seconds (LIMIT_S, on_limit_cb, (gpointer) what);
  /* What another thread lets go of wakes no loop. */
  guint wake = g_timeout_add (20, on_wake_cb, NULL);

  while (!condition (data))
    g_main_context_iteration (NULL, TRUE);
  g_source_remove (wake);
  g_source_remove (limit);
}

gboolean
app_is_set (gpointer flag)
{
  return *(gpointer *) flag != NULL;
}

void
app_keep_result_cb (GObject      *source,
                    GAsyncResult *result,
                    gpointer      slot)
{
  *(GAsyncResult **) slot = g_object_ref (result);
}

GAsyncResult *
app_wait_result (GAsyncResult **slot)
{
  app_wait_until (app_is_set, slot, "the callback of an async door");
  return *slot;
}

char *
app_new_path (void)
{
  static guint number = 0;
  g_autofree char *name = g_strdup_printf ("notebook-%u.wickbench", ++number);

  g_assert_cmpint (g_mkdir_with_parents (g_get_user_data_dir (), 0700), ==, 0);
  return g_build_filename (g_get_user_data_dir (), name, NULL);
}

WbAppNotebook *
app_new_notebook (void)
{
  g_autofree char *path = app_new_path ();
  g_autoptr (GError) error = NULL;
  WbAppNotebook *notebook = wb_app_notebook_open_sync (path, WB_APP_OPEN_CREATE, "Bench book", &error);

  g_assert_no_error (error);
  return notebook;
}

WbAppNotebook *
app_open (const char *path)
{
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;
  WbAppNotebook *notebook;

  wb_app_notebook_open_async (path, WB_APP_OPEN_EXISTING, NULL, NULL, app_keep_result_cb, &result);
  notebook = wb_app_notebook_open_finish (app_wait_result (&result), &error);
  g_assert_no_error (error);
  return notebook;
}

static gboolean
is_last_reference (gpointer data)
{
  return ((GObject *) data)->ref_count == 1;
}

void
app_finalize (gpointer    object,
              const char *what)
{
  app_wait_until (is_last_reference, object, what);
  g_assert_finalize_object (object);
}

void
app_close (WbAppNotebook *notebook)
{
  /* Readers that were cancelled still come home to the loop. */
  app_finalize (notebook, "everyone to let go of the notebook");
}

gint64
app_save (WbAppNotebook *notebook,
          gconstpointer  record)
{
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) ids = NULL;

  wb_app_notebook_save_record_async (notebook, "Save for a test", record, NULL, app_keep_result_cb, &result);
  wb_app_notebook_save_finish (notebook, app_wait_result (&result), &ids, &error);
  g_assert_no_error (error);
  return g_array_index (ids, gint64, 0);
}

void
app_undo (WbAppNotebook *notebook,
          gboolean       again)
{
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;

  if (again)
    wb_app_notebook_redo_async (notebook, NULL, app_keep_result_cb, &result);
  else
    wb_app_notebook_undo_async (notebook, NULL, app_keep_result_cb, &result);
  g_assert_cmpint (wb_app_notebook_save_finish (notebook, app_wait_result (&result), NULL, &error), >, 0);
  g_assert_no_error (error);
}

gint64
app_add_wax (WbAppNotebook *notebook,
             const char    *name)
{
  g_autoptr (WbRecord) record = wb_record_new (&wb_wax_type);
  WbWax *wax = (WbWax *) record;

  wax->name = g_strdup (name);
  wax->density = 0.9;
  wax->burn_cure_days = 3;
  wax->max_load_pct = 10;
  wax->max_load_basis = WB_BASIS_WAX;
  return app_save (notebook, record);
}

gint64
app_add_vessel (WbAppNotebook *notebook,
                const char    *name,
                double         inner_diameter_mm)
{
  g_autoptr (WbRecord) record = wb_record_new (&wb_vessel_type);
  WbVessel *vessel = (WbVessel *) record;

  vessel->name = g_strdup (name);
  vessel->inner_diameter_mm = inner_diameter_mm;
  vessel->water_g = 200;
  vessel->wax_height_mm = 60;
  return app_save (notebook, record);
}

gint64
app_add_wick (WbAppNotebook *notebook,
              const char    *series,
              const char    *size,
              int            step)
{
  g_autoptr (WbRecord) record = wb_record_new (&wb_wick_type);
  WbWick *wick = (WbWick *) record;

  wick->series = g_strdup (series);
  wick->size = g_strdup (size);
  wick->step = step;
  return app_save (notebook, record);
}

gint64
app_add_fragrance (WbAppNotebook *notebook,
                   const char    *name)
{
  g_autoptr (WbRecord) record = wb_record_new (&wb_fragrance_type);

  ((WbFragrance *) record)->name = g_strdup (name);
  return app_save (notebook, record);
}
