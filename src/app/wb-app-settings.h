/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gio/gio.h>

G_BEGIN_DECLS

/*
 * The person's preferences on this machine; nothing of the record. Where the
 * schema is not installed the defaults stand and changes last as long as the process: nothing aborts.
 * Properties (read-write, notified): "theme" (int, WbAppTheme), "person"
 * (string), "us-units" (boolean: of new notebooks), "last-notebook" (string), "label-sheets" (string), "report-choice" (string),
 * "notifications" (boolean: reminders go to the desktop too), "reminder-sound" (boolean), "minutes-ahead" (int: of
 * the reminder that a burn ends, 0 to 60), "backup-megabytes" (int: what the backups of one notebook may take, 10 to 100 000).
 */
typedef enum { WB_APP_THEME_SYSTEM, WB_APP_THEME_LIGHT, WB_APP_THEME_DARK, WB_APP_THEME_CONTRAST, WB_APP_THEME_CONTRAST_DARK } WbAppTheme;

#define WB_TYPE_APP_SETTINGS (wb_app_settings_get_type ())
G_DECLARE_FINAL_TYPE (WbAppSettings, wb_app_settings, WB, APP_SETTINGS, GObject)

/* Caller owns it. A value that is set is written by GSettings, off this thread. */
WbAppSettings *wb_app_settings_new          (void);
WbAppTheme     wb_app_settings_get_theme    (WbAppSettings *self);
void           wb_app_settings_set_theme    (WbAppSettings *self, WbAppTheme theme);
/* Name for entries; "" where not said. */
const char    *wb_app_settings_get_person   (WbAppSettings *self);
void           wb_app_settings_set_person   (WbAppSettings *self, const char *person);
gboolean       wb_app_settings_get_us_units (WbAppSettings *self);
void           wb_app_settings_set_us_units (WbAppSettings *self, gboolean us_units);
/* "" where there is none. */
const char    *wb_app_settings_get_last_notebook (WbAppSettings *self);
void           wb_app_settings_set_last_notebook (WbAppSettings *self, const char *path);
/* Own sheets of labels and the last choice, see wb-app-label-sheets.h; "" where there are none. */
const char    *wb_app_settings_get_label_sheets  (WbAppSettings *self);
void           wb_app_settings_set_label_sheets  (WbAppSettings *self, const char *text);
/* What of a report was chosen last, see wb_app_report_choice_parse; "" where nothing was. */
const char    *wb_app_settings_get_report_choice (WbAppSettings *self);
void           wb_app_settings_set_report_choice (WbAppSettings *self, const char *text);
gboolean       wb_app_settings_get_notifications  (WbAppSettings *self);
void           wb_app_settings_set_notifications  (WbAppSettings *self, gboolean notifications);
gboolean       wb_app_settings_get_reminder_sound (WbAppSettings *self);
void           wb_app_settings_set_reminder_sound (WbAppSettings *self, gboolean sound);
int            wb_app_settings_get_minutes_ahead  (WbAppSettings *self);
void           wb_app_settings_set_minutes_ahead  (WbAppSettings *self, int minutes);
/* A megabyte is 1,000,000 bytes. */
int            wb_app_settings_get_backup_megabytes (WbAppSettings *self);
void           wb_app_settings_set_backup_megabytes (WbAppSettings *self, int megabytes);
void           wb_app_settings_get_window   (WbAppSettings *self, int *width, int *height, gboolean *maximized);
void           wb_app_settings_set_window   (WbAppSettings *self, int width, int height, gboolean maximized);

G_END_DECLS
