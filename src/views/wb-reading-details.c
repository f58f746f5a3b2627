/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-reading-details.h"

#include "wb-focus-walk.h"

#include <glib/gi18n.h>
#include <math.h>

struct _WbReadingDetails
{
  GtkWidget  parent_instance;

  /* children */
  GtkWidget *expander;
  GtkWidget *entry[WB_N_READING_TEXTS]; /* NULL: not asked here */

  /* state */
  gboolean   quiet;
};

G_DEFINE_FINAL_TYPE (WbReadingDetails, wb_reading_details, GTK_TYPE_WIDGET)

enum { CHANGED, ACTIVATE, N_SIGNALS };
static guint signals[N_SIGNALS];

static const struct
{
  WbReadingText which;
  const char   *field;
  const char   *label;
  const char   *example;
} lines[] = {
  { WB_READING_TEXT_INSTRUMENT, "instrument", N_("Read with"), N_("contact probe") },
  { WB_READING_TEXT_INSTRUMENT_PLACE, "instrument_place", N_("Read at"), N_("side, matt patch") },
  { WB_READING_TEXT_RATER, "rater", N_("Rated by"), "" },
};

/* Folded, it says what it holds. */
static void
update_label (WbReadingDetails *self)
{
  g_autoptr (GString) text = g_string_new (NULL);

  for (guint i = 0; i < G_N_ELEMENTS (lines); i++)
    {
      const char *said = wb_reading_details_get (self, lines[i].which);

      if (*said != '\0')
        g_string_append_printf (text, "%s%s", text->len > 0 ? ", " : "", said);
    }
  gtk_label_set_text (GTK_LABEL (gtk_expander_get_label_widget (GTK_EXPANDER (self->expander))),
                      text->len > 0 ? text->str : _("Thermometer and rater"));
}

static void
on_entry_changed_cb (WbReadingDetails *self)
{
  update_label (self);
  if (!self->quiet)
    g_signal_emit (self, signals[CHANGED], 0);
}

static void
on_entry_activate_cb (WbReadingDetails *self)
{
  g_signal_emit (self, signals[ACTIVATE], 0);
}

static void
wb_reading_details_dispose (GObject *object)
{
  g_clear_pointer (&WB_READING_DETAILS (object)->expander, gtk_widget_unparent);
  G_OBJECT_CLASS (wb_reading_details_parent_class)->dispose (object);
}

static void
wb_reading_details_class_init (WbReadingDetailsClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = wb_reading_details_dispose;
  signals[CHANGED] = g_signal_new ("changed", WB_TYPE_READING_DETAILS, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[ACTIVATE] = g_signal_new ("activate", WB_TYPE_READING_DETAILS, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
}

static GtkWidget *
entry_new (WbReadingDetails *self,
           const char       *label,
           const char       *example)
{
  GtkWidget *entry = g_object_new (GTK_TYPE_ENTRY,
                                   "max-length", WB_NAME_MAXIMUM,
                                   "hexpand", TRUE,
                                   "width-chars", 8,
                                   "placeholder-text", example,
                                   NULL);

  gtk_accessible_update_property (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  g_signal_connect_swapped (entry, "changed", G_CALLBACK (on_entry_changed_cb), self);
  g_signal_connect_swapped (entry, "activate", G_CALLBACK (on_entry_activate_cb), self);
  return entry;
}

static void
wb_reading_details_init (WbReadingDetails *self)
{
  GtkWidget *grid = g_object_new (GTK_TYPE_GRID, "row-spacing", 5, "column-spacing", 8, "margin-top", 5, NULL);

  self->expander = gtk_expander_new (NULL);
  gtk_expander_set_label_widget (GTK_EXPANDER (self->expander),
                                 g_object_new (GTK_TYPE_LABEL, "ellipsize", PANGO_ELLIPSIZE_END, "xalign", 0.0, NULL));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->expander), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Thermometer and rater"), -1);
  for (guint i = 0; i < G_N_ELEMENTS (lines); i++)
    {
      GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", _(lines[i].label), "xalign", 0.0, "width-chars", 13, NULL);
      GtkWidget *entry = entry_new (self, _(lines[i].label), *lines[i].example != '\0' ? _(lines[i].example) : "");

      gtk_grid_attach (GTK_GRID (grid), label, 0, (int) i, 1, 1);
      gtk_grid_attach (GTK_GRID (grid), entry, 1, (int) i, 1, 1);
      self->entry[lines[i].which] = entry;
    }
  gtk_expander_set_child (GTK_EXPANDER (self->expander), grid);
  wb_focus_walk_fold (GTK_EXPANDER (self->expander));
  gtk_widget_set_parent (self->expander, GTK_WIDGET (self));
  update_label (self);
}

GtkWidget *
wb_reading_details_new (void)
{
  return g_object_new (WB_TYPE_READING_DETAILS, NULL);
}

const char *
wb_reading_details_get (WbReadingDetails *self,
                        WbReadingText     which)
{
  g_return_val_if_fail (WB_IS_READING_DETAILS (self), NULL);
  g_return_val_if_fail (which < WB_N_READING_TEXTS && self->entry[which] != NULL, NULL);
  return gtk_editable_get_text (GTK_EDITABLE (self->entry[which]));
}

void
wb_reading_details_propose (WbReadingDetails *self,
                            WbReadingText     which,
                            const char       *text)
{
  g_return_if_fail (WB_IS_READING_DETAILS (self));
  if (text == NULL || *wb_reading_details_get (self, which) != '\0')
    return;
  self->quiet = TRUE;
  gtk_editable_set_text (GTK_EDITABLE (self->entry[which]), text);
  self->quiet = FALSE;
}

void
wb_reading_details_clear (WbReadingDetails *self)
{
  g_return_if_fail (WB_IS_READING_DETAILS (self));
  self->quiet = TRUE;
  for (guint i = 0; i < G_N_ELEMENTS (lines); i++)
    gtk_editable_set_text (GTK_EDITABLE (self->entry[lines[i].which]), "");
  self->quiet = FALSE;
  gtk_expander_set_expanded (GTK_EXPANDER (self->expander), FALSE);
}

void
wb_reading_details_ask (WbReadingDetails *self,
                        gboolean          temperature)
{
  g_return_if_fail (WB_IS_READING_DETAILS (self));
  if (temperature && *wb_reading_details_get (self, WB_READING_TEXT_INSTRUMENT) == '\0')
    gtk_expander_set_expanded (GTK_EXPANDER (self->expander), TRUE);
}

void
wb_reading_details_ask_rater (WbReadingDetails *self)
{
  g_return_if_fail (WB_IS_READING_DETAILS (self));
  if (*wb_reading_details_get (self, WB_READING_TEXT_RATER) == '\0')
    gtk_expander_set_expanded (GTK_EXPANDER (self->expander), TRUE);
}

gboolean
wb_reading_details_go_to_rater (WbReadingDetails *self)
{
  GtkWidget *rater;

  g_return_val_if_fail (WB_IS_READING_DETAILS (self), FALSE);
  rater = self->entry[WB_READING_TEXT_RATER];
  if (*wb_reading_details_get (self, WB_READING_TEXT_RATER) != '\0'
      || (gtk_widget_get_state_flags (rater) & GTK_STATE_FLAG_FOCUS_WITHIN) != 0)
    return FALSE;
  gtk_expander_set_expanded (GTK_EXPANDER (self->expander), TRUE);
  return gtk_widget_grab_focus (rater);
}

void
wb_reading_details_fill (WbReadingDetails *self,
                         WbReading        *reading)
{
  gboolean temperature;

  g_return_if_fail (WB_IS_READING_DETAILS (self));

  temperature = !isnan (reading->values[WB_COLUMN_VESSEL_C]) || !isnan (reading->values[WB_COLUMN_BASE_C]);
  for (guint i = 0; i < G_N_ELEMENTS (lines); i++)
    if (temperature || lines[i].which == WB_READING_TEXT_RATER)
      wb_record_set_text (reading, wb_record_type_find_field (&wb_reading_type, lines[i].field),
                          wb_reading_details_get (self, lines[i].which));
}
