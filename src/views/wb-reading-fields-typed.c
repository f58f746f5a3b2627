/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-reading-fields-private.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

/* What a person typed into the fields, as values and as readings, and what is wrong with it. */

/* Of the vessel, or of one wick; NAN where not taken. */
static void
get_values_of (WbReadingFields *self,
               guint            wick,
               double           values[WB_N_COLUMNS])
{
  for (WbColumn column = 0; column < WB_N_COLUMNS; column++)
    values[column] = NAN;
  for (WbColumn column = 0; column < WB_N_COLUMNS; column++)
    if (self->slots[wick][column].field != NULL)
      wb_reading_field_get_values (wb_reading_fields_peek (self, wick, column), values);
}

/* What happened goes with the wick that it is said of: its number stands with it, NAN for the vessel. */
static void
get_vessel_values (WbReadingFields *self,
                   double           values[WB_N_COLUMNS])
{
  get_values_of (self, 0, values);
  /* A time alone, after the snuffer: how long it glowed. */
  if (self->ask == WB_APP_ASK_AFTER_SNUFFING && isnan (values[WB_COLUMN_EVENT]) && !isnan (values[WB_COLUMN_EVENT_S]))
    values[WB_COLUMN_EVENT] = WB_EVENT_AFTERGLOW;
  if (isnan (values[WB_COLUMN_EVENT]))
    values[WB_COLUMN_EVENT_S] = NAN;
  if (self->n_wicks == 1 || !wb_event_is_of_wick (values[WB_COLUMN_EVENT]))
    values[WB_COLUMN_WICK_NUMBER] = NAN;
}

void
wb_reading_fields_get_values (WbReadingFields *self,
                              double           values[WB_N_COLUMNS])
{
  double of_wick[WB_N_COLUMNS];

  g_return_if_fail (WB_IS_READING_FIELDS (self));

  get_vessel_values (self, values);
  values[WB_COLUMN_WICK_NUMBER] = NAN;
  for (guint wick = 1; self->n_wicks > 1 && wick <= self->n_wicks; wick++)
    {
      get_values_of (self, wick, of_wick);
      for (WbColumn column = 0; column < WB_N_COLUMNS; column++)
        values[column] = fmax (values[column], of_wick[column]);
    }
}

static gboolean
any_taken (const double values[WB_N_COLUMNS])
{
  for (WbColumn column = 0; column < WB_N_COLUMNS; column++)
    if (!isnan (values[column]))
      return TRUE;
  return FALSE;
}

static void
add_reading (GPtrArray    *readings,
             const double  values[WB_N_COLUMNS],
             guint         wick)
{
  WbReading *reading = wb_record_new (&wb_reading_type);

  memcpy (reading->values, values, sizeof reading->values);
  if (wick > 0)
    reading->values[WB_COLUMN_WICK_NUMBER] = wick;
  g_ptr_array_add (readings, reading);
}

GPtrArray *
wb_reading_fields_dup_readings (WbReadingFields *self)
{
  GPtrArray *readings = g_ptr_array_new_with_free_func (wb_record_free);
  double vessel[WB_N_COLUMNS], of_wick[WB_N_COLUMNS], event, event_s;
  guint at_wick;

  g_return_val_if_fail (WB_IS_READING_FIELDS (self), readings);

  get_vessel_values (self, vessel);
  at_wick = isnan (vessel[WB_COLUMN_WICK_NUMBER]) ? 0 : (guint) vessel[WB_COLUMN_WICK_NUMBER];
  event = vessel[WB_COLUMN_EVENT];
  event_s = vessel[WB_COLUMN_EVENT_S];
  vessel[WB_COLUMN_WICK_NUMBER] = NAN;
  if (at_wick > 0)
    vessel[WB_COLUMN_EVENT] = vessel[WB_COLUMN_EVENT_S] = NAN;
  if (any_taken (vessel))
    add_reading (readings, vessel, 0);
  for (guint wick = 1; self->n_wicks > 1 && wick <= self->n_wicks; wick++)
    {
      get_values_of (self, wick, of_wick);
      if (wick == at_wick)
        {
          of_wick[WB_COLUMN_EVENT] = event;
          of_wick[WB_COLUMN_EVENT_S] = event_s;
        }
      if (!any_taken (of_wick))
        continue;
      /* From where it is measured is asked once, and holds for each flame. */
      if (!isnan (of_wick[WB_COLUMN_FLAME_MM]) || !isnan (of_wick[WB_COLUMN_FLAME_MAX_MM]))
        of_wick[WB_COLUMN_FLAME_DATUM] = vessel[WB_COLUMN_FLAME_DATUM];
      add_reading (readings, of_wick, wick);
    }
  if (readings->len == 0)
    add_reading (readings, vessel, 0);
  return readings;
}

/* The fields in their order on the screen; those that Enter goes through come first. */
static WbReadingField *
get_line_field (WbReadingFields *self,
                guint            i)
{
  const WbReadingLine *line = &g_array_index (self->lines, WbReadingLine, i);

  return wb_reading_fields_peek (self, line->wick, line->column);
}

GtkWidget *
wb_reading_fields_check (WbReadingFields *self)
{
  GtkWidget *first = NULL;

  g_return_val_if_fail (WB_IS_READING_FIELDS (self), NULL);
  wb_reading_fields_ask_wick (self);
  for (guint i = 0; i < self->lines->len; i++)
    if (!wb_reading_field_check (get_line_field (self, i)) && first == NULL)
      first = GTK_WIDGET (get_line_field (self, i));
  return first;
}

char *
wb_reading_fields_dup_problem (WbReadingFields *self)
{
  g_return_val_if_fail (WB_IS_READING_FIELDS (self), NULL);
  for (guint i = 0; i < self->lines->len; i++)
    {
      const char *problem = wb_reading_field_get_problem (get_line_field (self, i));

      if (problem != NULL)
        return g_strdup_printf ("%s: %s", wb_reading_field_get_label (get_line_field (self, i)), problem);
    }
  return self->untaken != NULL ? g_strdup_printf (_("%s: nothing to take over"), self->untaken) : NULL;
}

gboolean
wb_reading_fields_get_touched (WbReadingFields *self)
{
  g_return_val_if_fail (WB_IS_READING_FIELDS (self), FALSE);
  for (guint wick = 0; wick <= self->n_wicks; wick++)
    for (WbColumn column = 0; column < WB_N_COLUMNS; column++)
      if (wb_reading_fields_is_touched (self, wick, column))
        return TRUE;
  return FALSE;
}
