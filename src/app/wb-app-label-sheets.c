/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-label-sheets.h"

#include <math.h>
#include <string.h>

/* The text is a GKeyFile: a group for the choice, then one a sheet, numbered, for a name is any text and a group's is not. */
#define CHOICE "labels"
#define SHEET "sheet "
#define NEXT "next" /* of an own sheet; of the program's: with its key behind it, in the group of the choice */

static void
sheet_free (gpointer data)
{
  WbAppLabelSheet *self = data;

  g_free (self->name);
  g_free (self);
}

static WbAppLabelSheet *
find (const WbAppLabelSheets *self,
      const char             *name)
{
  for (guint i = 0; i < self->own->len; i++)
    if (g_str_equal (((const WbAppLabelSheet *) g_ptr_array_index (self->own, i))->name, name))
      return g_ptr_array_index (self->own, i);
  return NULL;
}

static double
get_real (GKeyFile   *file,
          const char *group,
          const char *key,
          double      otherwise)
{
  g_autoptr (GError) error = NULL;
  double value = g_key_file_get_double (file, group, key, &error);

  return error == NULL && isfinite (value) ? value : otherwise;
}

static guint
get_next (GKeyFile                 *file,
          const char               *group,
          const char               *key,
          const WbReportLabelSheet *sheet)
{
  int next = g_key_file_get_integer (file, group, key, NULL);

  return next > 0 && (guint) next < wb_report_label_sheet_get_places (sheet) ? (guint) next : 0;
}

static void
read_sheet (WbAppLabelSheets *self,
            GKeyFile         *file,
            const char       *group)
{
  g_autofree char *name = g_key_file_get_string (file, group, "name", NULL);
  g_autofree char *problem = NULL;
  WbReportLabelSheet sheet = { 0 };

  for (WbReportLabelMeasure measure = 0; measure < WB_REPORT_LABEL_SHIFT_X; measure++)
    wb_report_label_sheet_set (&sheet, measure, get_real (file, group, wb_report_label_measure_get_key (measure), NAN));
  problem = wb_report_label_sheet_dup_problem (&sheet, FALSE, NULL);
  if (name == NULL || *name == '\0' || problem != NULL)
    return;
  wb_app_label_sheets_keep (self, name, &sheet);
  find (self, name)->next = get_next (file, group, NEXT, &sheet);
}

static char *
dup_next_key (WbReportLabelPreset preset)
{
  return g_strdup_printf (NEXT "-%s", wb_report_label_preset_get_key (preset));
}

static double
get_shift (GKeyFile            *file,
           WbReportLabelMeasure measure)
{
  double shift = get_real (file, CHOICE, wb_report_label_measure_get_key (measure), 0);

  return CLAMP (shift, -WB_REPORT_LABEL_MOST_SHIFT, WB_REPORT_LABEL_MOST_SHIFT);
}

WbAppLabelSheets *
wb_app_label_sheets_parse (const char *text)
{
  WbAppLabelSheets *self = g_new0 (WbAppLabelSheets, 1);
  g_autoptr (GKeyFile) file = g_key_file_new ();
  g_auto (GStrv) groups = NULL;

  g_return_val_if_fail (text != NULL, self);

  self->own = g_ptr_array_new_with_free_func (sheet_free);
  g_key_file_load_from_data (file, text, strlen (text), G_KEY_FILE_NONE, NULL);
  self->chosen = g_key_file_get_string (file, CHOICE, "chosen", NULL);
  if (self->chosen == NULL)
    self->chosen = g_strdup ("");
  self->shift_x = get_shift (file, WB_REPORT_LABEL_SHIFT_X);
  self->shift_y = get_shift (file, WB_REPORT_LABEL_SHIFT_Y);
  for (WbReportLabelPreset preset = 0; preset < WB_REPORT_LABELS_N; preset++)
    {
      g_autofree char *key = dup_next_key (preset);
      WbReportLabelSheet sheet = wb_report_label_sheet_preset (preset);

      self->next[preset] = get_next (file, CHOICE, key, &sheet);
    }
  groups = g_key_file_get_groups (file, NULL);
  for (guint i = 0; groups[i] != NULL; i++)
    if (g_str_has_prefix (groups[i], SHEET))
      read_sheet (self, file, groups[i]);
  return self;
}

char *
wb_app_label_sheets_format (const WbAppLabelSheets *self)
{
  g_autoptr (GKeyFile) file = g_key_file_new ();

  g_return_val_if_fail (self != NULL, NULL);

  g_key_file_set_string (file, CHOICE, "chosen", self->chosen);
  g_key_file_set_double (file, CHOICE, wb_report_label_measure_get_key (WB_REPORT_LABEL_SHIFT_X), self->shift_x);
  g_key_file_set_double (file, CHOICE, wb_report_label_measure_get_key (WB_REPORT_LABEL_SHIFT_Y), self->shift_y);
  for (WbReportLabelPreset preset = 0; preset < WB_REPORT_LABELS_N; preset++)
    {
      g_autofree char *key = dup_next_key (preset);

      if (self->next[preset] > 0)
        g_key_file_set_integer (file, CHOICE, key, (int) self->next[preset]);
    }
  for (guint i = 0; i < self->own->len; i++)
    {
      const WbAppLabelSheet *own = g_ptr_array_index (self->own, i);
      g_autofree char *group = g_strdup_printf (SHEET "%u", i + 1);

      g_key_file_set_string (file, group, "name", own->name);
      for (WbReportLabelMeasure measure = 0; measure < WB_REPORT_LABEL_SHIFT_X; measure++)
        g_key_file_set_double (file, group, wb_report_label_measure_get_key (measure), wb_report_label_sheet_get (&own->sheet, measure));
      if (own->next > 0)
        g_key_file_set_integer (file, group, NEXT, (int) own->next);
    }
  return g_key_file_to_data (file, NULL, NULL);
}

void
wb_app_label_sheets_free (WbAppLabelSheets *self)
{
  if (self == NULL)
    return;
  g_clear_pointer (&self->own, g_ptr_array_unref);
  g_free (self->chosen);
  g_free (self);
}

const WbAppLabelSheet *
wb_app_label_sheets_find (const WbAppLabelSheets *self,
                          const char             *name)
{
  g_return_val_if_fail (self != NULL && name != NULL, NULL);

  return find (self, name);
}

void
wb_app_label_sheets_keep (WbAppLabelSheets         *self,
                          const char               *name,
                          const WbReportLabelSheet *sheet)
{
  WbAppLabelSheet *own;

  g_return_if_fail (self != NULL && name != NULL && sheet != NULL);

  own = find (self, name);
  if (own == NULL)
    {
      own = g_new0 (WbAppLabelSheet, 1);
      own->name = g_strdup (name);
      g_ptr_array_add (self->own, own);
    }
  if (wb_report_label_sheet_get_places (&own->sheet) != wb_report_label_sheet_get_places (sheet))
    own->next = 0; /* it is another one */
  own->sheet = *sheet;
  own->sheet.shift_x = own->sheet.shift_y = 0; /* the printer's, not the sheet's */
}

void
wb_app_label_sheets_forget (WbAppLabelSheets *self,
                            const char       *name)
{
  const WbAppLabelSheet *own;

  g_return_if_fail (self != NULL && name != NULL);

  own = wb_app_label_sheets_find (self, name);
  if (own != NULL)
    g_ptr_array_remove (self->own, (gpointer) own);
}

/* NULL: it is not known. */
static guint *
find_next (const WbAppLabelSheets *self,
           const char             *chosen,
           guint                  *places)
{
  WbAppLabelSheet *own = find (self, chosen);

  for (WbReportLabelPreset preset = 0; preset < WB_REPORT_LABELS_N; preset++)
    if (g_str_equal (wb_report_label_preset_get_key (preset), chosen))
      {
        WbReportLabelSheet sheet = wb_report_label_sheet_preset (preset);

        *places = wb_report_label_sheet_get_places (&sheet);
        return (guint *) &self->next[preset];
      }
  *places = own != NULL ? wb_report_label_sheet_get_places (&own->sheet) : 1;
  return own != NULL ? &own->next : NULL;
}

guint
wb_app_label_sheets_get_next (const WbAppLabelSheets *self,
                              const char             *chosen)
{
  guint places;
  const guint *next;

  g_return_val_if_fail (self != NULL && chosen != NULL, 0);

  next = find_next (self, chosen, &places);
  return next != NULL ? *next : 0;
}

void
wb_app_label_sheets_use (WbAppLabelSheets *self,
                         const char       *chosen,
                         guint             first,
                         guint             n)
{
  guint places, *next;

  g_return_if_fail (self != NULL && chosen != NULL);

  next = find_next (self, chosen, &places);
  if (next != NULL)
    *next = (first + n) % MAX (places, 1);
}
