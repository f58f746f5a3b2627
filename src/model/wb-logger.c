/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-logger.h"

#include "wb-reading.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#define GROUP "Logger"

static const struct
{
  const char *key, *label;
} forms[WB_LOGGER_N_FORMS] = {
  [WB_LOGGER_DATE_TIME] = { "date_time", N_("day and time of day") },
  [WB_LOGGER_TIME] = { "time", N_("time of day") },
  [WB_LOGGER_MINUTES] = { "minutes", N_("minutes since its start") },
  [WB_LOGGER_SECONDS] = { "seconds", N_("seconds since its start") },
};

static const struct
{
  const char *key, *label;
  int         column;
} places[WB_LOGGER_N_PLACES] = {
  [WB_LOGGER_WALL] = { "wall", N_("Vessel wall"), WB_COLUMN_VESSEL_C },
  [WB_LOGGER_BASE] = { "base", N_("Vessel base"), WB_COLUMN_BASE_C },
  [WB_LOGGER_ROOM] = { "room", N_("Room"), WB_COLUMN_ROOM_C },
  [WB_LOGGER_OTHER] = { "other", N_("Elsewhere"), -1 },
};

static const char *const date_orders[WB_LOG_N_DATE_ORDERS] = { "ymd", "dmy", "mdy" };

const char *
wb_logger_form_get_label (WbLoggerForm form)
{
  g_return_val_if_fail (form < WB_LOGGER_N_FORMS, NULL);
  return _(forms[form].label);
}

const char *
wb_logger_place_get_label (WbLoggerPlace place)
{
  g_return_val_if_fail (place < WB_LOGGER_N_PLACES, NULL);
  return _(places[place].label);
}

int
wb_logger_place_get_column (WbLoggerPlace place)
{
  g_return_val_if_fail (place < WB_LOGGER_N_PLACES, -1);
  return places[place].column;
}

WbLoggerChoice *
wb_logger_choice_new (void)
{
  WbLoggerChoice *self = g_new0 (WbLoggerChoice, 1);

  self->encoding = g_strdup ("UTF-8");
  self->delimiter = ',';
  self->header_line = 1;
  self->decimal = '.';
  self->time = g_strdup ("");
  self->unit = WB_UNIT_CELSIUS;
  return self;
}

WbLoggerChoice *
wb_logger_choice_copy (const WbLoggerChoice *self)
{
  WbLoggerChoice *copy;

  g_return_val_if_fail (self != NULL, NULL);

  copy = g_memdup2 (self, sizeof *self);
  copy->encoding = g_strdup (self->encoding);
  copy->time = g_strdup (self->time);
  copy->day = g_strdup (self->day);
  for (guint i = 0; i < self->n_columns; i++)
    copy->columns[i].name = g_strdup (self->columns[i].name);
  return copy;
}

void
wb_logger_choice_free (WbLoggerChoice *self)
{
  if (self == NULL)
    return;
  g_free (self->encoding);
  g_free (self->time);
  g_free (self->day);
  for (guint i = 0; i < self->n_columns; i++)
    g_free (self->columns[i].name);
  g_free (self);
}

void
wb_logger_choice_add (WbLoggerChoice *self,
                      const char     *name,
                      WbLoggerPlace   place)
{
  g_return_if_fail (self != NULL && name != NULL && self->n_columns < WB_LOGGER_MOST_COLUMNS && place < WB_LOGGER_N_PLACES);

  self->columns[self->n_columns].name = g_strdup (name);
  self->columns[self->n_columns++].place = place;
}

char *
wb_logger_choice_to_text (const WbLoggerChoice *self)
{
  g_autoptr (GKeyFile) file = g_key_file_new ();
  const char delimiter[] = { self->delimiter, '\0' }, decimal[] = { self->decimal, '\0' };
  g_autofree char *offset = wb_number_shortest (self->offset_min);

  g_key_file_set_string (file, GROUP, "encoding", self->encoding);
  g_key_file_set_string (file, GROUP, "delimiter", delimiter);
  g_key_file_set_integer (file, GROUP, "header_line", (int) self->header_line);
  g_key_file_set_string (file, GROUP, "decimal", decimal);
  g_key_file_set_string (file, GROUP, "time", self->time);
  if (self->day != NULL)
    g_key_file_set_string (file, GROUP, "day", self->day);
  g_key_file_set_string (file, GROUP, "form", forms[self->form].key);
  g_key_file_set_string (file, GROUP, "date_order", date_orders[self->date_order]);
  g_key_file_set_string (file, GROUP, "unit", self->unit == WB_UNIT_FAHRENHEIT ? "F" : "C");
  g_key_file_set_string (file, GROUP, "offset_min", offset);
  for (guint i = 0; i < self->n_columns; i++)
    {
      g_autofree char *group = g_strdup_printf ("Column %u", i + 1);

      g_key_file_set_string (file, group, "name", self->columns[i].name);
      g_key_file_set_string (file, group, "place", places[self->columns[i].place].key);
    }
  return g_key_file_to_data (file, NULL, NULL);
}

/* FALSE: the key is missing, or what stands there is none of these. */
static gboolean
refuse (GError    **error,
        const char *group,
        const char *key)
{
  g_set_error (error, G_KEY_FILE_ERROR, G_KEY_FILE_ERROR_INVALID_VALUE, "[%s] %s: %s", group, key,
               _("it is missing, or none of what may stand there"));
  return FALSE;
}

static gboolean
take_text (GKeyFile   *file,
           const char *group,
           const char *key,
           char      **text,
           GError    **error)
{
  g_free (*text);
  *text = g_key_file_get_string (file, group, key, NULL);
  return *text != NULL || refuse (error, group, key);
}

static gboolean
take_sign (GKeyFile   *file,
           const char *key,
           char       *sign,
           GError    **error)
{
  g_autofree char *text = g_key_file_get_string (file, GROUP, key, NULL);

  if (text == NULL || strlen (text) != 1 || text[0] < 0 || strchr ("\"\r\n", text[0]) != NULL)
    return refuse (error, GROUP, key);
  *sign = text[0];
  return TRUE;
}

static gboolean
take_form (GKeyFile       *file,
           WbLoggerChoice *self,
           GError        **error)
{
  g_autofree char *text = g_key_file_get_string (file, GROUP, "form", NULL);

  for (guint i = 0; i < WB_LOGGER_N_FORMS; i++)
    if (g_strcmp0 (text, forms[i].key) == 0)
      {
        self->form = (WbLoggerForm) i;
        return TRUE;
      }
  return refuse (error, GROUP, "form");
}

static gboolean
take_date_order (GKeyFile       *file,
                 WbLoggerChoice *self,
                 GError        **error)
{
  g_autofree char *text = g_key_file_get_string (file, GROUP, "date_order", NULL);

  for (guint i = 0; i < WB_LOG_N_DATE_ORDERS; i++)
    if (g_strcmp0 (text, date_orders[i]) == 0)
      {
        self->date_order = (WbLogDateOrder) i;
        return TRUE;
      }
  return refuse (error, GROUP, "date_order");
}

static gboolean
take_numbers (GKeyFile       *file,
              WbLoggerChoice *self,
              GError        **error)
{
  int line = g_key_file_get_integer (file, GROUP, "header_line", NULL);
  g_autofree char *unit = g_key_file_get_string (file, GROUP, "unit", NULL);
  g_autofree char *offset = g_key_file_get_string (file, GROUP, "offset_min", NULL);

  if (line < 1)
    return refuse (error, GROUP, "header_line");
  if (g_strcmp0 (unit, "C") != 0 && g_strcmp0 (unit, "F") != 0)
    return refuse (error, GROUP, "unit");
  if (offset == NULL || !wb_number_parse_strict (offset, '.', &self->offset_min, NULL))
    return refuse (error, GROUP, "offset_min");
  self->header_line = (guint) line;
  self->unit = *unit == 'F' ? WB_UNIT_FAHRENHEIT : WB_UNIT_CELSIUS;
  return TRUE;
}

static gboolean
take_column (GKeyFile       *file,
             WbLoggerChoice *self,
             const char     *group,
             GError        **error)
{
  g_autofree char *name = g_key_file_get_string (file, group, "name", NULL);
  g_autofree char *place = g_key_file_get_string (file, group, "place", NULL);

  if (name == NULL)
    return refuse (error, group, "name");
  for (guint i = 0; i < WB_LOGGER_N_PLACES; i++)
    if (g_strcmp0 (place, places[i].key) == 0)
      {
        wb_logger_choice_add (self, name, (WbLoggerPlace) i);
        return TRUE;
      }
  return refuse (error, group, "place");
}

WbLoggerChoice *
wb_logger_choice_from_text (const char *text,
                            GError    **error)
{
  g_autoptr (GKeyFile) file = g_key_file_new ();
  g_autoptr (WbLoggerChoice) self = wb_logger_choice_new ();

  g_return_val_if_fail (text != NULL, NULL);

  if (!g_key_file_load_from_data (file, text, -1, G_KEY_FILE_NONE, error)
      || !take_text (file, GROUP, "encoding", &self->encoding, error) || !take_text (file, GROUP, "time", &self->time, error)
      || !take_sign (file, "delimiter", &self->delimiter, error) || !take_sign (file, "decimal", &self->decimal, error)
      || !take_form (file, self, error) || !take_date_order (file, self, error) || !take_numbers (file, self, error))
    return NULL;
  self->day = g_key_file_get_string (file, GROUP, "day", NULL);
  for (guint i = 0; i < WB_LOGGER_MOST_COLUMNS; i++)
    {
      g_autofree char *group = g_strdup_printf ("Column %u", i + 1);

      if (g_key_file_has_group (file, group) && !take_column (file, self, group, error))
        return NULL;
    }
  if (self->n_columns == 0)
    {
      refuse (error, "Column 1", "name");
      return NULL;
    }
  return g_steal_pointer (&self);
}

void
wb_logger_free (WbLogger *self)
{
  if (self == NULL)
    return;
  wb_logger_choice_free (self->choice);
  g_free (self->minutes);
  for (guint i = 0; i < WB_LOGGER_MOST_COLUMNS; i++)
    g_free (self->values[i]);
  g_clear_pointer (&self->refused, g_ptr_array_unref);
  g_free (self);
}

char *
wb_logger_dup_name (const WbLogger *self,
                    guint           column)
{
  g_return_val_if_fail (self != NULL && column < self->choice->n_columns, NULL);

  /* Translators: where a sensor sat, and what the logger's file calls it: "Vessel wall (Channel 1)". */
  return g_strdup_printf (_("%s (%s)"), wb_logger_place_get_label (self->choice->columns[column].place), self->choice->columns[column].name);
}
