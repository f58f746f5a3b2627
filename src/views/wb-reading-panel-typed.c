/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-reading-panel-private.h"

#include <math.h>

/* What a person typed into the panel, as values, as a reading, and as what goes with a lighting. */

gboolean
wb_reading_panel_get_touched (WbReadingPanel *self)
{
  g_return_val_if_fail (WB_IS_READING_PANEL (self), FALSE);
  /* A trim that was taken over is typed as long as it stands there to be lit with. */
  return wb_reading_fields_get_touched (self->fields) || *gtk_editable_get_text (GTK_EDITABLE (self->note)) != '\0'
         || (self->taken_trim && self->ask == WB_APP_ASK_LIGHTING && *wb_quantity_entry_get_text (self->trim) != '\0');
}

gboolean
wb_reading_panel_check (WbReadingPanel *self)
{
  GtkWidget *wrong;
  WbInstant time;

  g_return_val_if_fail (WB_IS_READING_PANEL (self), FALSE);
  wrong = wb_reading_fields_check (self->fields);
  if (!wb_time_entry_get (self->time, &time) && wrong == NULL)
    wrong = GTK_WIDGET (self->time);
  if (self->ask == WB_APP_ASK_LIGHTING && !wb_quantity_entry_check (self->trim))
    wrong = GTK_WIDGET (self->trim);
  if (wrong == NULL && wb_reading_panel_get_throw_problem (self) != NULL)
    {
      wrong = GTK_WIDGET (self->place);
      gtk_label_set_text (self->wrong, wb_reading_panel_get_throw_problem (self));
    }
  if (wrong != NULL)
    gtk_widget_grab_focus (wrong);
  return wrong == NULL;
}

void
wb_reading_panel_get_values (WbReadingPanel *self,
                             double          values[WB_N_COLUMNS])
{
  g_return_if_fail (WB_IS_READING_PANEL (self));
  wb_reading_fields_get_values (self->fields, values);
}

void
wb_reading_panel_set_sworn (WbReadingPanel *self,
                            const char     *doubt)
{
  g_return_if_fail (WB_IS_READING_PANEL (self));
  g_free (self->sworn);
  self->sworn = g_strdup (doubt);
}

const char *
wb_reading_panel_get_sworn (WbReadingPanel *self)
{
  g_return_val_if_fail (WB_IS_READING_PANEL (self), NULL);
  return self->sworn;
}

void
wb_reading_panel_set_seen_to (WbReadingPanel *self,
                              gboolean        seen_to)
{
  g_return_if_fail (WB_IS_READING_PANEL (self));
  self->seen_to = seen_to;
}

WbEvent
wb_reading_panel_get_event (WbReadingPanel *self,
                            double         *wick)
{
  g_autoptr (GPtrArray) readings = NULL;

  g_return_val_if_fail (WB_IS_READING_PANEL (self), WB_N_EVENTS);
  readings = wb_reading_fields_dup_readings (self->fields);
  for (guint i = 0; i < readings->len; i++)
    {
      const WbReading *reading = g_ptr_array_index (readings, i);

      if (isnan (reading->values[WB_COLUMN_EVENT]))
        continue;
      *wick = reading->values[WB_COLUMN_WICK_NUMBER];
      return (WbEvent) reading->values[WB_COLUMN_EVENT];
    }
  *wick = NAN;
  return WB_N_EVENTS;
}

void
wb_reading_panel_set_out (WbReadingPanel *self,
                          gboolean        out)
{
  g_return_if_fail (WB_IS_READING_PANEL (self));
  self->out = out;
}

/* A reading holds one event: that it is out stands beside what put it out, at the same wick. */
static void
add_out (WbReadingPanel *self,
         GPtrArray      *readings)
{
  WbReading *end;
  double wick;

  if (!self->out || wb_reading_panel_get_event (self, &wick) == WB_N_EVENTS)
    return;
  end = wb_record_new (&wb_reading_type);
  end->values[WB_COLUMN_EVENT] = WB_EVENT_SELF_EXTINGUISHED;
  end->values[WB_COLUMN_WICK_NUMBER] = wick;
  g_ptr_array_add (readings, end);
}

static void
set_note (WbReading  *reading,
          const char *note)
{
  wb_record_set_text (reading, wb_record_type_find_field (&wb_reading_type, "note"), note);
}

/* That a hazard was seen to stands with each reading that tells one still, in that reading's own words, behind what was noted. */
static void
note_seen_to (WbReadingPanel *self,
              GPtrArray      *readings)
{
  for (guint i = 0; self->seen_to && i < readings->len; i++)
    {
      WbReading *reading = g_ptr_array_index (readings, i);
      g_autoptr (GPtrArray) hits = wb_app_bench_check_reading (self->sample, reading->values, reading->elapsed_min);
      g_autofree char *note = wb_app_bench_dup_answer (reading->note, hits);

      if (*note != '\0')
        set_note (reading, note);
    }
}

GPtrArray *
wb_reading_panel_dup_looks (WbReadingPanel *self)
{
  g_return_val_if_fail (WB_IS_READING_PANEL (self), NULL);
  return wb_reading_fields_dup_readings (self->fields);
}

GPtrArray *
wb_reading_panel_dup_readings (WbReadingPanel *self)
{
  GPtrArray *readings;
  const char *note;
  WbInstant time;
  double minute = NAN;

  g_return_val_if_fail (WB_IS_READING_PANEL (self), NULL);

  readings = wb_reading_fields_dup_readings (self->fields);
  time = wb_reading_panel_get_time (self);
  if (time.known)
    minute = MAX (floor (wb_app_bench_sample_get_minutes_at (self->sample, time)), 0);
  note = gtk_editable_get_text (GTK_EDITABLE (self->note));
  /* A note is of the vessel, whatever else was read of it. */
  if (*note != '\0' && !isnan (((const WbReading *) g_ptr_array_index (readings, 0))->values[WB_COLUMN_WICK_NUMBER]))
    g_ptr_array_insert (readings, 0, wb_record_new (&wb_reading_type));
  set_note (g_ptr_array_index (readings, 0), note);
  add_out (self, readings);
  for (guint i = 0; i < readings->len; i++)
    {
      WbReading *reading = g_ptr_array_index (readings, i);

      reading->elapsed_min = minute;
      wb_reading_details_fill (self->details, reading);
    }
  note_seen_to (self, readings);
  return readings;
}

WbInstant
wb_reading_panel_get_time (WbReadingPanel *self)
{
  WbInstant time = WB_INSTANT_NONE;

  g_return_val_if_fail (WB_IS_READING_PANEL (self), time);
  return wb_time_entry_get (self->time, &time) ? time : WB_INSTANT_NONE;
}

double
wb_reading_panel_get_trim (WbReadingPanel *self)
{
  g_return_val_if_fail (WB_IS_READING_PANEL (self), NAN);
  return wb_quantity_entry_get_value (self->trim);
}

WbBurnKind
wb_reading_panel_get_kind (WbReadingPanel *self)
{
  g_return_val_if_fail (WB_IS_READING_PANEL (self), WB_BURN_STANDARD);
  return (WbBurnKind) gtk_drop_down_get_selected (self->kind);
}

const char *
wb_reading_panel_get_place (WbReadingPanel *self)
{
  g_return_val_if_fail (WB_IS_READING_PANEL (self), NULL);
  return gtk_editable_get_text (self->place);
}

guint
wb_reading_panel_get_place_number (WbReadingPanel *self)
{
  guint64 number = 0;

  g_return_val_if_fail (WB_IS_READING_PANEL (self), 0);
  return g_ascii_string_to_unsigned (gtk_editable_get_text (self->place), 10, 1, G_MAXUINT, &number, NULL) ? (guint) number : 0;
}

void
wb_reading_panel_propose_place (WbReadingPanel *self,
                                const char     *place)
{
  g_return_if_fail (WB_IS_READING_PANEL (self));
  g_return_if_fail (place != NULL);

  /* Never under the hand, nor where a person said something, be it nothing. */
  if (self->place_touched || (gtk_widget_get_state_flags (GTK_WIDGET (self->place)) & GTK_STATE_FLAG_FOCUS_WITHIN) != 0
      || g_str_equal (gtk_editable_get_text (self->place), place))
    return;
  self->quiet = TRUE;
  gtk_editable_set_text (self->place, place);
  self->quiet = FALSE;
}

void
wb_reading_panel_set_evening (WbReadingPanel *self,
                              double          room_c,
                              double          draught)
{
  g_return_if_fail (WB_IS_READING_PANEL (self));
  wb_reading_fields_set_evening (self->fields, room_c, draught);
}

WbReadingDetails *
wb_reading_panel_get_details (WbReadingPanel *self)
{
  g_return_val_if_fail (WB_IS_READING_PANEL (self), NULL);
  return self->details;
}
