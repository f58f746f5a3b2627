/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-settings.h"

/*
 * Values stand in the object. Where the schema is installed, they begin from
 * GSettings, follow it and are written to it; where it is not, they are the
 * defaults below, which are the schema's (a test compares them).
 */

#define DEFAULT_WIDTH 1180
#define DEFAULT_HEIGHT 780
#define DEFAULT_MINUTES_AHEAD 5
#define MOST_MINUTES_AHEAD 60
/* Common practice, no source: a year of a maker's evenings is some ten megabytes a copy. */
#define DEFAULT_BACKUP_MEGABYTES 500
#define LEAST_BACKUP_MEGABYTES 10
#define MOST_BACKUP_MEGABYTES 100000

struct _WbAppSettings
{
  GObject    parent_instance;

  GSettings *settings; /* NULL: no schema */

  int        theme;
  char      *person;
  gboolean   us_units;
  char      *last_notebook;
  char      *label_sheets;
  char      *report_choice;
  gboolean   notifications;
  gboolean   reminder_sound;
  int        minutes_ahead;
  int        backup_megabytes;
  int        width;
  int        height;
  gboolean   maximized;
};

enum { PROP_0, PROP_THEME, PROP_PERSON, PROP_US_UNITS, PROP_LAST_NOTEBOOK, PROP_LABEL_SHEETS, PROP_REPORT_CHOICE, PROP_NOTIFICATIONS, PROP_REMINDER_SOUND, PROP_MINUTES_AHEAD, PROP_BACKUP_MEGABYTES, N_PROPS };

static GParamSpec *properties[N_PROPS];

G_DEFINE_FINAL_TYPE (WbAppSettings, wb_app_settings, G_TYPE_OBJECT)

static void
take_text (WbAppSettings *self,
           char         **field,
           char          *text,
           int            prop)
{
  if (g_strcmp0 (*field, text) == 0)
    {
      g_free (text);
      return;
    }
  g_free (*field);
  *field = text;
  g_object_notify_by_pspec (G_OBJECT (self), properties[prop]);
}

static void
take_number (WbAppSettings *self,
             int           *field,
             int            value,
             int            prop)
{
  if (*field == value)
    return;
  *field = value;
  g_object_notify_by_pspec (G_OBJECT (self), properties[prop]);
}

static void
read_all (WbAppSettings *self)
{
  take_number (self, &self->theme, g_settings_get_enum (self->settings, "theme"), PROP_THEME);
  take_text (self, &self->person, g_settings_get_string (self->settings, "person"), PROP_PERSON);
  take_number (self, &self->us_units, g_settings_get_boolean (self->settings, "us-units"), PROP_US_UNITS);
  take_text (self, &self->last_notebook, g_settings_get_string (self->settings, "last-notebook"), PROP_LAST_NOTEBOOK);
  take_text (self, &self->label_sheets, g_settings_get_string (self->settings, "label-sheets"), PROP_LABEL_SHEETS);
  take_text (self, &self->report_choice, g_settings_get_string (self->settings, "report-choice"), PROP_REPORT_CHOICE);
  take_number (self, &self->notifications, g_settings_get_boolean (self->settings, "notifications"), PROP_NOTIFICATIONS);
  take_number (self, &self->reminder_sound, g_settings_get_boolean (self->settings, "reminder-sound"), PROP_REMINDER_SOUND);
  take_number (self, &self->minutes_ahead, g_settings_get_int (self->settings, "minutes-ahead"), PROP_MINUTES_AHEAD);
  take_number (self, &self->backup_megabytes, g_settings_get_int (self->settings, "backup-megabytes"), PROP_BACKUP_MEGABYTES);
  self->width = g_settings_get_int (self->settings, "window-width");
  self->height = g_settings_get_int (self->settings, "window-height");
  self->maximized = g_settings_get_boolean (self->settings, "window-maximized");
}

static void
on_settings_changed_cb (WbAppSettings *self)
{
  read_all (self);
}

/* An older schema of the same name may be installed without one of the keys: asking for that key would abort too. */
static gboolean
schema_has_keys (GSettingsSchema *schema)
{
  const char *keys[] = { "theme", "person", "us-units", "last-notebook", "label-sheets", "report-choice", "notifications", "reminder-sound", "minutes-ahead",
                         "backup-megabytes", "window-width", "window-height", "window-maximized" };

  for (guint i = 0; i < G_N_ELEMENTS (keys); i++)
    if (!g_settings_schema_has_key (schema, keys[i]))
      return FALSE;
  return TRUE;
}

static void
wb_app_settings_get_property (GObject    *object,
                              guint       prop_id,
                              GValue     *value,
                              GParamSpec *pspec)
{
  WbAppSettings *self = WB_APP_SETTINGS (object);

  switch (prop_id)
    {
    case PROP_THEME:
      g_value_set_int (value, self->theme);
      break;
    case PROP_PERSON:
      g_value_set_string (value, self->person);
      break;
    case PROP_US_UNITS:
      g_value_set_boolean (value, self->us_units);
      break;
    case PROP_LAST_NOTEBOOK:
      g_value_set_string (value, self->last_notebook);
      break;
    case PROP_LABEL_SHEETS:
      g_value_set_string (value, self->label_sheets);
      break;
    case PROP_REPORT_CHOICE:
      g_value_set_string (value, self->report_choice);
      break;
    case PROP_NOTIFICATIONS:
      g_value_set_boolean (value, self->notifications);
      break;
    case PROP_REMINDER_SOUND:
      g_value_set_boolean (value, self->reminder_sound);
      break;
    case PROP_MINUTES_AHEAD:
      g_value_set_int (value, self->minutes_ahead);
      break;
    case PROP_BACKUP_MEGABYTES:
      g_value_set_int (value, self->backup_megabytes);
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, prop_id, pspec);
    }
}

static void
wb_app_settings_set_property (GObject      *object,
                              guint         prop_id,
                              const GValue *value,
                              GParamSpec   *pspec)
{
  WbAppSettings *self = WB_APP_SETTINGS (object);

  switch (prop_id)
    {
    case PROP_THEME:
      wb_app_settings_set_theme (self, g_value_get_int (value));
      break;
    case PROP_PERSON:
      wb_app_settings_set_person (self, g_value_get_string (value));
      break;
    case PROP_US_UNITS:
      wb_app_settings_set_us_units (self, g_value_get_boolean (value));
      break;
    case PROP_LAST_NOTEBOOK:
      wb_app_settings_set_last_notebook (self, g_value_get_string (value));
      break;
    case PROP_LABEL_SHEETS:
      wb_app_settings_set_label_sheets (self, g_value_get_string (value));
      break;
    case PROP_REPORT_CHOICE:
      wb_app_settings_set_report_choice (self, g_value_get_string (value));
      break;
    case PROP_NOTIFICATIONS:
      wb_app_settings_set_notifications (self, g_value_get_boolean (value));
      break;
    case PROP_REMINDER_SOUND:
      wb_app_settings_set_reminder_sound (self, g_value_get_boolean (value));
      break;
    case PROP_MINUTES_AHEAD:
      wb_app_settings_set_minutes_ahead (self, g_value_get_int (value));
      break;
    case PROP_BACKUP_MEGABYTES:
      wb_app_settings_set_backup_megabytes (self, g_value_get_int (value));
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, prop_id, pspec);
    }
}

static void
wb_app_settings_finalize (GObject *object)
{
  WbAppSettings *self = WB_APP_SETTINGS (object);

  g_clear_object (&self->settings);
  g_free (self->person);
  g_free (self->last_notebook);
  g_free (self->label_sheets);
  g_free (self->report_choice);
  G_OBJECT_CLASS (wb_app_settings_parent_class)->finalize (object);
}

static void
wb_app_settings_class_init (WbAppSettingsClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  const GParamFlags flags = G_PARAM_READWRITE | G_PARAM_STATIC_STRINGS | G_PARAM_EXPLICIT_NOTIFY;

  object_class->get_property = wb_app_settings_get_property;
  object_class->set_property = wb_app_settings_set_property;
  object_class->finalize = wb_app_settings_finalize;

  properties[PROP_THEME] = g_param_spec_int ("theme", NULL, NULL, WB_APP_THEME_SYSTEM, WB_APP_THEME_CONTRAST_DARK, WB_APP_THEME_SYSTEM, flags);
  properties[PROP_PERSON] = g_param_spec_string ("person", NULL, NULL, "", flags);
  properties[PROP_US_UNITS] = g_param_spec_boolean ("us-units", NULL, NULL, FALSE, flags);
  properties[PROP_LAST_NOTEBOOK] = g_param_spec_string ("last-notebook", NULL, NULL, "", flags);
  properties[PROP_LABEL_SHEETS] = g_param_spec_string ("label-sheets", NULL, NULL, "", flags);
  properties[PROP_REPORT_CHOICE] = g_param_spec_string ("report-choice", NULL, NULL, "", flags);
  properties[PROP_NOTIFICATIONS] = g_param_spec_boolean ("notifications", NULL, NULL, TRUE, flags);
  properties[PROP_REMINDER_SOUND] = g_param_spec_boolean ("reminder-sound", NULL, NULL, FALSE, flags);
  properties[PROP_MINUTES_AHEAD] = g_param_spec_int ("minutes-ahead", NULL, NULL, 0, MOST_MINUTES_AHEAD, DEFAULT_MINUTES_AHEAD, flags);
  properties[PROP_BACKUP_MEGABYTES] = g_param_spec_int ("backup-megabytes", NULL, NULL, LEAST_BACKUP_MEGABYTES, MOST_BACKUP_MEGABYTES,
                                                        DEFAULT_BACKUP_MEGABYTES, flags);
  g_object_class_install_properties (object_class, N_PROPS, properties);
}

static void
wb_app_settings_init (WbAppSettings *self)
{
  GSettingsSchemaSource *source = g_settings_schema_source_get_default ();
  g_autoptr (GSettingsSchema) schema = NULL;

  self->person = g_strdup ("");
  self->last_notebook = g_strdup ("");
  self->label_sheets = g_strdup ("");
  self->report_choice = g_strdup ("");
  self->notifications = TRUE;
  self->minutes_ahead = DEFAULT_MINUTES_AHEAD;
  self->backup_megabytes = DEFAULT_BACKUP_MEGABYTES;
  self->width = DEFAULT_WIDTH;
  self->height = DEFAULT_HEIGHT;

  if (source != NULL)
    schema = g_settings_schema_source_lookup (source, WB_APPLICATION_ID, TRUE);
  if (schema == NULL || !schema_has_keys (schema))
    return;
  self->settings = g_settings_new_full (schema, NULL, NULL);
  g_signal_connect_object (self->settings, "changed", G_CALLBACK (on_settings_changed_cb), self, G_CONNECT_SWAPPED);
  read_all (self);
}

WbAppSettings *
wb_app_settings_new (void)
{
  return g_object_new (WB_TYPE_APP_SETTINGS, NULL);
}

WbAppTheme
wb_app_settings_get_theme (WbAppSettings *self)
{
  g_return_val_if_fail (WB_IS_APP_SETTINGS (self), WB_APP_THEME_SYSTEM);
  return self->theme;
}

void
wb_app_settings_set_theme (WbAppSettings *self,
                           WbAppTheme     theme)
{
  g_return_if_fail (WB_IS_APP_SETTINGS (self));
  if (self->settings != NULL)
    g_settings_set_enum (self->settings, "theme", theme);
  take_number (self, &self->theme, theme, PROP_THEME);
}

const char *
wb_app_settings_get_person (WbAppSettings *self)
{
  g_return_val_if_fail (WB_IS_APP_SETTINGS (self), "");
  return self->person;
}

void
wb_app_settings_set_person (WbAppSettings *self,
                            const char    *person)
{
  g_return_if_fail (WB_IS_APP_SETTINGS (self));
  person = person != NULL ? person : "";
  if (self->settings != NULL)
    g_settings_set_string (self->settings, "person", person);
  take_text (self, &self->person, g_strdup (person), PROP_PERSON);
}

gboolean
wb_app_settings_get_us_units (WbAppSettings *self)
{
  g_return_val_if_fail (WB_IS_APP_SETTINGS (self), FALSE);
  return self->us_units;
}

void
wb_app_settings_set_us_units (WbAppSettings *self,
                              gboolean       us_units)
{
  g_return_if_fail (WB_IS_APP_SETTINGS (self));
  if (self->settings != NULL)
    g_settings_set_boolean (self->settings, "us-units", us_units);
  take_number (self, &self->us_units, us_units, PROP_US_UNITS);
}

const char *
wb_app_settings_get_last_notebook (WbAppSettings *self)
{
  g_return_val_if_fail (WB_IS_APP_SETTINGS (self), "");
  return self->last_notebook;
}

void
wb_app_settings_set_last_notebook (WbAppSettings *self,
                                   const char    *path)
{
  g_return_if_fail (WB_IS_APP_SETTINGS (self));
  path = path != NULL ? path : "";
  /* A GSettings string is UTF-8; a path that is not cannot be kept. */
  if (!g_utf8_validate (path, -1, NULL))
    path = "";
  if (self->settings != NULL)
    g_settings_set_string (self->settings, "last-notebook", path);
  take_text (self, &self->last_notebook, g_strdup (path), PROP_LAST_NOTEBOOK);
}

const char *
wb_app_settings_get_label_sheets (WbAppSettings *self)
{
  g_return_val_if_fail (WB_IS_APP_SETTINGS (self), "");
  return self->label_sheets;
}

void
wb_app_settings_set_label_sheets (WbAppSettings *self,
                                  const char    *text)
{
  g_return_if_fail (WB_IS_APP_SETTINGS (self));
  text = text != NULL ? text : "";
  if (self->settings != NULL)
    g_settings_set_string (self->settings, "label-sheets", text);
  take_text (self, &self->label_sheets, g_strdup (text), PROP_LABEL_SHEETS);
}

const char *
wb_app_settings_get_report_choice (WbAppSettings *self)
{
  g_return_val_if_fail (WB_IS_APP_SETTINGS (self), "");
  return self->report_choice;
}

void
wb_app_settings_set_report_choice (WbAppSettings *self,
                                   const char    *text)
{
  g_return_if_fail (WB_IS_APP_SETTINGS (self));
  text = text != NULL ? text : "";
  if (self->settings != NULL)
    g_settings_set_string (self->settings, "report-choice", text);
  take_text (self, &self->report_choice, g_strdup (text), PROP_REPORT_CHOICE);
}

gboolean
wb_app_settings_get_notifications (WbAppSettings *self)
{
  g_return_val_if_fail (WB_IS_APP_SETTINGS (self), FALSE);
  return self->notifications;
}

void
wb_app_settings_set_notifications (WbAppSettings *self,
                                   gboolean       notifications)
{
  g_return_if_fail (WB_IS_APP_SETTINGS (self));
  if (self->settings != NULL)
    g_settings_set_boolean (self->settings, "notifications", notifications);
  take_number (self, &self->notifications, notifications, PROP_NOTIFICATIONS);
}

gboolean
wb_app_settings_get_reminder_sound (WbAppSettings *self)
{
  g_return_val_if_fail (WB_IS_APP_SETTINGS (self), FALSE);
  return self->reminder_sound;
}

void
wb_app_settings_set_reminder_sound (WbAppSettings *self,
                                    gboolean       sound)
{
  g_return_if_fail (WB_IS_APP_SETTINGS (self));
  if (self->settings != NULL)
    g_settings_set_boolean (self->settings, "reminder-sound", sound);
  take_number (self, &self->reminder_sound, sound, PROP_REMINDER_SOUND);
}

int
wb_app_settings_get_minutes_ahead (WbAppSettings *self)
{
  g_return_val_if_fail (WB_IS_APP_SETTINGS (self), 0);
  return self->minutes_ahead;
}

void
wb_app_settings_set_minutes_ahead (WbAppSettings *self,
                                   int            minutes)
{
  g_return_if_fail (WB_IS_APP_SETTINGS (self));
  minutes = CLAMP (minutes, 0, MOST_MINUTES_AHEAD);
  if (self->settings != NULL)
    g_settings_set_int (self->settings, "minutes-ahead", minutes);
  take_number (self, &self->minutes_ahead, minutes, PROP_MINUTES_AHEAD);
}

int
wb_app_settings_get_backup_megabytes (WbAppSettings *self)
{
  g_return_val_if_fail (WB_IS_APP_SETTINGS (self), DEFAULT_BACKUP_MEGABYTES);
  return self->backup_megabytes;
}

void
wb_app_settings_set_backup_megabytes (WbAppSettings *self,
                                      int            megabytes)
{
  g_return_if_fail (WB_IS_APP_SETTINGS (self));
  megabytes = CLAMP (megabytes, LEAST_BACKUP_MEGABYTES, MOST_BACKUP_MEGABYTES);
  if (self->settings != NULL)
    g_settings_set_int (self->settings, "backup-megabytes", megabytes);
  take_number (self, &self->backup_megabytes, megabytes, PROP_BACKUP_MEGABYTES);
}

void
wb_app_settings_get_window (WbAppSettings *self,
                            int           *width,
                            int           *height,
                            gboolean      *maximized)
{
  g_return_if_fail (WB_IS_APP_SETTINGS (self));
  *width = self->width;
  *height = self->height;
  *maximized = self->maximized;
}

void
wb_app_settings_set_window (WbAppSettings *self,
                            int            width,
                            int            height,
                            gboolean       maximized)
{
  g_return_if_fail (WB_IS_APP_SETTINGS (self));
  self->width = CLAMP (width, 320, 32767);
  self->height = CLAMP (height, 240, 32767);
  self->maximized = maximized;
  if (self->settings == NULL)
    return;
  g_settings_set_int (self->settings, "window-width", self->width);
  g_settings_set_int (self->settings, "window-height", self->height);
  g_settings_set_boolean (self->settings, "window-maximized", self->maximized);
}
