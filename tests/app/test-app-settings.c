/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-loop.h"
#include "wb-app-settings.h"

/* The test environment installs no schema: the object must stand without. */
static void
test_no_schema (void)
{
  g_autoptr (WbAppSettings) settings = wb_app_settings_new ();
  int width, height;
  gboolean maximized;

  g_assert_cmpint (wb_app_settings_get_theme (settings), ==, WB_APP_THEME_SYSTEM);
  g_assert_cmpstr (wb_app_settings_get_person (settings), ==, "");
  g_assert_false (wb_app_settings_get_us_units (settings));
  wb_app_settings_set_theme (settings, WB_APP_THEME_DARK);
  wb_app_settings_set_person (settings, "Robin");
  wb_app_settings_set_last_notebook (settings, NULL);
  wb_app_settings_set_minutes_ahead (settings, 99);
  g_assert_cmpint (wb_app_settings_get_minutes_ahead (settings), ==, 60);
  wb_app_settings_set_backup_megabytes (settings, 0);
  g_assert_cmpint (wb_app_settings_get_backup_megabytes (settings), ==, 10);
  wb_app_settings_set_window (settings, 10, 99999, TRUE);
  wb_app_settings_get_window (settings, &width, &height, &maximized);
  g_assert_cmpint (wb_app_settings_get_theme (settings), ==, WB_APP_THEME_DARK);
  g_assert_cmpstr (wb_app_settings_get_person (settings), ==, "Robin");
  g_assert_cmpint (width, ==, 320);
  g_assert_cmpint (height, ==, 32767);
  g_assert_true (maximized);
}

/* The defaults that stand where no schema is installed are the schema's. */
static void
test_defaults_agree (void)
{
  g_autofree char *folder = g_build_filename (g_get_user_data_dir (), "schemas", NULL);
  g_autofree char *compile = g_strdup_printf ("glib-compile-schemas --strict --targetdir=%s %s/data", folder, WB_SOURCE_DIR);
  g_autoptr (GError) error = NULL;
  g_autoptr (GSettingsSchemaSource) source = NULL;
  g_autoptr (GSettingsSchema) schema = NULL;
  g_autoptr (GSettings) installed = NULL;
  g_autoptr (WbAppSettings) settings = wb_app_settings_new ();
  g_autofree char *person = NULL, *last = NULL;
  int status, width, height;
  gboolean maximized;

  g_assert_cmpint (g_mkdir_with_parents (folder, 0700), ==, 0);
  g_assert_true (g_spawn_command_line_sync (compile, NULL, NULL, &status, &error));
  g_assert_no_error (error);
  g_assert_true (g_spawn_check_wait_status (status, &error));
  source = g_settings_schema_source_new_from_directory (folder, NULL, TRUE, &error);
  g_assert_no_error (error);
  schema = g_settings_schema_source_lookup (source, WB_APPLICATION_ID, FALSE);
  g_assert_nonnull (schema);
  installed = g_settings_new_full (schema, NULL, NULL);

  person = g_settings_get_string (installed, "person");
  last = g_settings_get_string (installed, "last-notebook");
  wb_app_settings_get_window (settings, &width, &height, &maximized);
  g_assert_cmpint (g_settings_get_enum (installed, "theme"), ==, wb_app_settings_get_theme (settings));
  g_assert_cmpstr (person, ==, wb_app_settings_get_person (settings));
  g_assert_cmpstr (last, ==, wb_app_settings_get_last_notebook (settings));
  g_assert_cmpint (g_settings_get_boolean (installed, "us-units"), ==, wb_app_settings_get_us_units (settings));
  g_assert_cmpint (g_settings_get_boolean (installed, "notifications"), ==, wb_app_settings_get_notifications (settings));
  g_assert_cmpint (g_settings_get_boolean (installed, "reminder-sound"), ==, wb_app_settings_get_reminder_sound (settings));
  g_assert_cmpint (g_settings_get_int (installed, "minutes-ahead"), ==, wb_app_settings_get_minutes_ahead (settings));
  g_assert_cmpint (g_settings_get_int (installed, "backup-megabytes"), ==, wb_app_settings_get_backup_megabytes (settings));
  g_assert_cmpint (g_settings_get_int (installed, "window-width"), ==, width);
  g_assert_cmpint (g_settings_get_int (installed, "window-height"), ==, height);
  g_assert_cmpint (g_settings_get_boolean (installed, "window-maximized"), ==, maximized);
}

void
test_app_settings_add (void)
{
  g_test_add_func ("/app/settings/a-missing-schema-leaves-the-defaults", test_no_schema);
  g_test_add_func ("/app/settings/the-defaults-are-the-schema-s", test_defaults_agree);
}
