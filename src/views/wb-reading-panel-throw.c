/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-reading-panel-private.h"

#include <glib/gi18n.h>
#include <math.h>

/* What a throw burn asks of itself: at lighting its room, its distance, whether the rater knows the candle, and who rates. */

gboolean
wb_reading_panel_lights_throw (WbReadingPanel *self)
{
  return self->ask == WB_APP_ASK_LIGHTING && wb_reading_panel_get_kind (self) == WB_BURN_THROW;
}

gboolean
wb_reading_panel_is_throw_burn (WbReadingPanel *self)
{
  const WbBurn *burn = wb_app_bench_sample_get_burn (self->sample);

  if (self->ask == WB_APP_ASK_LIGHTING)
    return wb_reading_panel_lights_throw (self);
  return burn != NULL && burn->kind == WB_BURN_THROW && wb_reading_panel_asks_throw (self);
}

void
wb_reading_panel_prepare_throw (WbReadingPanel *self)
{
  gboolean throw = wb_reading_panel_lights_throw (self);

  wb_reading_fields_set_kind (self->fields, wb_reading_panel_get_kind (self));
  gtk_label_set_text (self->place_label, throw ? _("Room, by its name") : _("Place on the bench"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->place), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  throw ? _("Room of the throw burn") : _("Place on the bench"), -1);
  if (throw)
    wb_reading_details_ask_rater (self->details);
}

const char *
wb_reading_panel_get_throw_problem (WbReadingPanel *self)
{
  if (!wb_reading_panel_lights_throw (self) || *gtk_editable_get_text (self->place) != '\0')
    return NULL;
  return _("Room: a throw burn stands alone in a room with a name.");
}

void
wb_reading_panel_propose_distance (WbReadingPanel *self,
                                   double          metres)
{
  g_return_if_fail (WB_IS_READING_PANEL (self));
  if (!wb_reading_panel_lights_throw (self))
    return;
  self->quiet = TRUE;
  wb_reading_fields_propose (self->fields, WB_COLUMN_THROW_DISTANCE_M, metres);
  self->quiet = FALSE;
}

gboolean
wb_reading_panel_asks_throw (WbReadingPanel *self)
{
  g_return_val_if_fail (WB_IS_READING_PANEL (self), FALSE);
  return wb_reading_panel_lights_throw (self) || wb_reading_fields_get_field (self->fields, WB_COLUMN_THROW) != NULL;
}

void
wb_reading_panel_set_throw_words (WbReadingPanel *self,
                                  const char     *words)
{
  g_return_if_fail (WB_IS_READING_PANEL (self));
  if (g_strcmp0 (gtk_label_get_text (self->throw_words), words != NULL ? words : "") != 0)
    gtk_label_set_text (self->throw_words, words != NULL ? words : "");
  gtk_widget_set_visible (GTK_WIDGET (self->throw_words), words != NULL);
}
