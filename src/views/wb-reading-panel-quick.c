/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-reading-panel-private.h"

#include <glib/gi18n.h>

/* Quick words: what was noted last stands under the note's empty field, and a digit notes it again. */

#define MOST 5

static gboolean
is_empty (WbReadingPanel *self)
{
  return *gtk_editable_get_text (GTK_EDITABLE (self->note)) == '\0';
}

static void
show_notes (WbReadingPanel *self)
{
  gboolean here = (gtk_widget_get_state_flags (self->note) & GTK_STATE_FLAG_FOCUS_WITHIN) != 0;

  gtk_widget_set_visible (GTK_WIDGET (self->quick), here && is_empty (self) && self->quick_notes != NULL && *self->quick_notes != NULL);
}

static gboolean
on_key_pressed_cb (GtkEventControllerKey *controller,
                   guint                  keyval,
                   guint                  keycode,
                   GdkModifierType        state,
                   WbReadingPanel        *self)
{
  gunichar typed = gdk_keyval_to_unicode (keyval);
  guint which = typed >= '1' && typed <= '0' + MOST ? typed - '1' : MOST;

  if ((state & (GDK_CONTROL_MASK | GDK_ALT_MASK | GDK_SUPER_MASK)) != 0 || which == MOST || !is_empty (self)
      || self->quick_notes == NULL || which >= g_strv_length (self->quick_notes))
    return GDK_EVENT_PROPAGATE;
  gtk_editable_set_text (GTK_EDITABLE (self->note), self->quick_notes[which]);
  gtk_editable_set_position (GTK_EDITABLE (self->note), -1);
  return GDK_EVENT_STOP;
}

void
wb_reading_panel_add_quick (WbReadingPanel *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();

  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (on_key_pressed_cb), self);
  gtk_widget_add_controller (self->note, keys);
  g_signal_connect_swapped (self->note, "state-flags-changed", G_CALLBACK (show_notes), self);
  g_signal_connect_swapped (self->note, "changed", G_CALLBACK (show_notes), self);
}

void
wb_reading_panel_set_quick_notes (WbReadingPanel     *self,
                                  const char *const  *notes)
{
  g_autoptr (GString) text = g_string_new (NULL);

  g_return_if_fail (WB_IS_READING_PANEL (self));

  g_strfreev (self->quick_notes);
  self->quick_notes = g_strdupv ((char **) notes);
  for (guint i = 0; i < MOST && notes != NULL && notes[i] != NULL; i++)
    g_string_append_printf (text, "%s%u %s", i > 0 ? " · " : "", i + 1, notes[i]);
  gtk_label_set_text (self->quick, text->str);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->note), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, text->str, -1);
  show_notes (self);
}
