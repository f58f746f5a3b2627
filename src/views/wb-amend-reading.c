/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-amend-reading.h"

#include "wb-focus-walk.h"
#include "wb-quantity-entry.h"
#include "wb-reading-field.h"

#include <glib/gi18n.h>
#include <math.h>

/* CSS node: amendreading. A form for assistive technology; each field has a name of its own. */

#define LABEL_CHARS 20

/* Words of a reading, in the order of the form: a thermometer where there is a temperature, a room where there is a throw. */
static const struct
{
  const char *field;
  int         of[2];  /* columns that it is about; WB_N_COLUMNS: none */
} texts[] = {
  { "note", { WB_N_COLUMNS, WB_N_COLUMNS } },
  { "rater", { WB_COLUMN_THROW, WB_COLUMN_THROW } },
  { "instrument", { WB_COLUMN_VESSEL_C, WB_COLUMN_BASE_C } },
  { "instrument_place", { WB_COLUMN_VESSEL_C, WB_COLUMN_BASE_C } },
  { "throw_room", { WB_COLUMN_THROW, WB_COLUMN_THROW } },
};

struct _WbAmendReading
{
  GtkWidget  parent_instance;

  /* children */
  GtkWidget *grid;
  GtkWidget *minute;               /* WbQuantityEntry */
  GtkWidget *field[WB_N_COLUMNS];  /* WbReadingField, at the first column of those that it holds; NULL: not shown */
  GtkWidget *text[G_N_ELEMENTS (texts)];
  GtkWidget *also;

  /* owned */
  WbReading *reading;

  /* state */
  gboolean   changed[WB_N_COLUMNS];
  double     inner_mm;
  gboolean   us_units;
  int        n_lines;
};

G_DEFINE_FINAL_TYPE (WbAmendReading, wb_amend_reading, GTK_TYPE_WIDGET)

enum { CHANGED, ACTIVATE, N_SIGNALS };
static guint signals[N_SIGNALS];

/* Any way to read the pool is one field. */
static WbColumn
field_column (WbColumn column)
{
  return column >= WB_COLUMN_POOL_MM && column <= WB_COLUMN_RING_9_MM ? WB_COLUMN_POOL_MM : column;
}

static const WbFieldSpec *
find_text (guint i)
{
  return wb_record_type_find_field (&wb_reading_type, texts[i].field);
}

static void
on_changed_cb (WbAmendReading *self)
{
  g_signal_emit (self, signals[CHANGED], 0);
}

static void
on_activate_cb (WbAmendReading *self)
{
  g_signal_emit (self, signals[ACTIVATE], 0);
}

static void
add_line (WbAmendReading *self,
          const char     *text,
          GtkWidget      *control)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL,
                                   "label", text,
                                   "xalign", 0.0,
                                   "valign", GTK_ALIGN_START,
                                   "wrap", TRUE,
                                   "width-chars", LABEL_CHARS,
                                   "max-width-chars", LABEL_CHARS,
                                   NULL);

  gtk_widget_add_css_class (label, "fieldlabel");
  gtk_widget_set_hexpand (control, TRUE);
  gtk_grid_attach (GTK_GRID (self->grid), label, 0, self->n_lines, 1, 1);
  gtk_grid_attach (GTK_GRID (self->grid), control, 1, self->n_lines++, 1, 1);
}

static void
add_minute (WbAmendReading *self)
{
  self->minute = wb_quantity_entry_new (WB_QUANTITY_DURATION, WB_UNIT_MINUTE);
  wb_quantity_entry_set_label (WB_QUANTITY_ENTRY (self->minute), _("Since lighting"));
  wb_quantity_entry_set_required (WB_QUANTITY_ENTRY (self->minute), TRUE);
  wb_quantity_entry_set_range (WB_QUANTITY_ENTRY (self->minute), 0, 2880 * 60);
  wb_quantity_entry_set_value (WB_QUANTITY_ENTRY (self->minute), self->reading->elapsed_min * 60);
  g_signal_connect_swapped (self->minute, "changed", G_CALLBACK (on_changed_cb), self);
  g_signal_connect_swapped (self->minute, "activate", G_CALLBACK (on_activate_cb), self);
  add_line (self, _("Since lighting"), self->minute);
}

static void add_field (WbAmendReading *self,
                       WbColumn        column);

static void
on_field_changed_cb (WbAmendReading *self,
                     WbReadingField *field)
{
  WbColumn column = wb_reading_field_get_column (field);

  self->changed[column] = TRUE;
  if (column == WB_COLUMN_EVENT && self->field[WB_COLUMN_EVENT_S] == NULL)
    add_field (self, WB_COLUMN_EVENT_S);
  g_signal_emit (self, signals[CHANGED], 0);
}

/* At which of several wicks it is read; 0: of the vessel. */
static guint
get_wick (WbAmendReading *self,
          WbColumn        column)
{
  double wick = self->reading->values[WB_COLUMN_WICK_NUMBER];

  return !isnan (wick) && wb_column_is_of_wick (column) ? (guint) wick : 0;
}

static void
add_field (WbAmendReading *self,
           WbColumn        column)
{
  GtkWidget *field = wb_reading_field_new (column, get_wick (self, column), self->inner_mm, self->us_units);

  wb_reading_field_set_values (WB_READING_FIELD (field), self->reading->values);
  g_signal_connect_swapped (field, "changed", G_CALLBACK (on_field_changed_cb), self);
  g_signal_connect_swapped (field, "activate", G_CALLBACK (on_activate_cb), self);
  self->field[column] = field;
  add_line (self, wb_reading_field_get_label (WB_READING_FIELD (field)), field);
}

static void
add_taken (WbAmendReading *self)
{
  for (int i = 0; i < WB_N_COLUMNS; i++)
    {
      WbColumn column = field_column ((WbColumn) i);

      if (!isnan (self->reading->values[i]) && self->field[column] == NULL)
        add_field (self, column);
    }
}

static void
add_text (WbAmendReading *self,
          guint           i)
{
  const WbFieldSpec *spec = find_text (i);
  const char *said = wb_record_get_text (self->reading, spec);
  GtkWidget *entry = g_object_new (GTK_TYPE_ENTRY, "max-length", (int) spec->maximum, "text", said != NULL ? said : "", NULL);

  gtk_accessible_update_property (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_PROPERTY_LABEL, _(spec->label), -1);
  g_signal_connect_swapped (entry, "changed", G_CALLBACK (on_changed_cb), self);
  g_signal_connect_swapped (entry, "activate", G_CALLBACK (on_activate_cb), self);
  self->text[i] = entry;
  add_line (self, _(spec->label), entry);
}

/* A note can always be left; the rest where it was said, or something is there that it is about. */
static gboolean
is_wanted (WbAmendReading *self,
           guint           i)
{
  const int *of = texts[i].of;

  return of[0] == WB_N_COLUMNS || self->field[of[0]] != NULL || self->field[of[1]] != NULL
         || wb_record_get_text (self->reading, find_text (i)) != NULL;
}

static void
add_texts (WbAmendReading *self)
{
  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    if (self->text[i] == NULL && is_wanted (self, i))
      add_text (self, i);
}

static void
on_also_cb (GSimpleAction *action,
            GVariant      *parameter,
            gpointer       user)
{
  int column = wb_column_find (g_variant_get_string (parameter, NULL));

  if (column >= 0)
    wb_amend_reading_ask_also (WB_AMEND_READING (user), (WbColumn) column);
}

/* What else may have been seen; the pool is one field. */
static void
add_also (WbAmendReading *self)
{
  static const GActionEntry entries[] = { { "also", on_also_cb, "s", NULL, NULL } };
  g_autoptr (GSimpleActionGroup) group = g_simple_action_group_new ();
  g_autoptr (GMenu) menu = g_menu_new ();

  g_action_map_add_action_entries (G_ACTION_MAP (group), entries, G_N_ELEMENTS (entries), self);
  gtk_widget_insert_action_group (GTK_WIDGET (self), "amend", G_ACTION_GROUP (group));
  for (int column = 0; column < WB_N_COLUMNS; column++)
    {
      const WbColumnSpec *spec = wb_column_get_spec ((WbColumn) column);
      g_autofree char *action = g_strdup_printf ("amend.also::%s", spec->name);

      if (field_column ((WbColumn) column) == (WbColumn) column)
        g_menu_append (menu, _(spec->label), action);
    }
  self->also = g_object_new (GTK_TYPE_MENU_BUTTON, "label", _("Also seen"), "menu-model", menu, "halign", GTK_ALIGN_START, NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->also), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Also seen"), -1);
  gtk_widget_set_parent (self->also, GTK_WIDGET (self));
}

static gboolean
wb_amend_reading_grab_focus (GtkWidget *widget)
{
  WbAmendReading *self = WB_AMEND_READING (widget);

  for (int column = 0; column < WB_N_COLUMNS; column++)
    if (self->field[column] != NULL && gtk_widget_grab_focus (self->field[column]))
      return TRUE;
  return gtk_widget_grab_focus (self->minute);
}

static void
wb_amend_reading_dispose (GObject *object)
{
  WbAmendReading *self = WB_AMEND_READING (object);

  g_clear_pointer (&self->grid, gtk_widget_unparent);
  g_clear_pointer (&self->also, gtk_widget_unparent);
  gtk_widget_insert_action_group (GTK_WIDGET (self), "amend", NULL);
  G_OBJECT_CLASS (wb_amend_reading_parent_class)->dispose (object);
}

static void
wb_amend_reading_finalize (GObject *object)
{
  wb_record_free (WB_AMEND_READING (object)->reading);
  G_OBJECT_CLASS (wb_amend_reading_parent_class)->finalize (object);
}

static void
wb_amend_reading_class_init (WbAmendReadingClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_amend_reading_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_amend_reading_finalize;
  widget_class->grab_focus = wb_amend_reading_grab_focus;
  widget_class->focus = wb_focus_walk;
  signals[CHANGED] = g_signal_new ("changed", WB_TYPE_AMEND_READING, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[ACTIVATE] = g_signal_new ("activate", WB_TYPE_AMEND_READING, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "amendreading");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_FORM);
}

static void
wb_amend_reading_init (WbAmendReading *self)
{
  GtkLayoutManager *layout = gtk_widget_get_layout_manager (GTK_WIDGET (self));

  gtk_orientable_set_orientation (GTK_ORIENTABLE (layout), GTK_ORIENTATION_VERTICAL);
  gtk_box_layout_set_spacing (GTK_BOX_LAYOUT (layout), 8);
  self->grid = g_object_new (GTK_TYPE_GRID, "row-spacing", 5, "column-spacing", 8, NULL);
  gtk_widget_set_parent (self->grid, GTK_WIDGET (self));
}

GtkWidget *
wb_amend_reading_new (const WbReading *reading,
                      double           inner_mm,
                      gboolean         us_units)
{
  WbAmendReading *self;

  g_return_val_if_fail (reading != NULL && reading->record.type == &wb_reading_type, NULL);

  self = g_object_new (WB_TYPE_AMEND_READING, NULL);
  self->reading = wb_record_copy (reading);
  self->inner_mm = inner_mm;
  self->us_units = us_units;
  add_minute (self);
  add_taken (self);
  add_texts (self);
  add_also (self);
  return GTK_WIDGET (self);
}

void
wb_amend_reading_ask_also (WbAmendReading *self,
                           WbColumn        column)
{
  g_return_if_fail (WB_IS_AMEND_READING (self));
  g_return_if_fail (column < WB_N_COLUMNS);

  column = field_column (column);
  if (self->field[column] == NULL)
    add_field (self, column);
  add_texts (self);
  gtk_widget_grab_focus (self->field[column]);
}

gboolean
wb_amend_reading_check (WbAmendReading *self)
{
  GtkWidget *wrong = NULL;

  g_return_val_if_fail (WB_IS_AMEND_READING (self), FALSE);

  if (!wb_quantity_entry_check (WB_QUANTITY_ENTRY (self->minute)))
    wrong = self->minute;
  /* What a file brought in and nobody touched is not judged here. */
  for (int column = 0; column < WB_N_COLUMNS; column++)
    if (self->changed[column] && !wb_reading_field_check (WB_READING_FIELD (self->field[column])) && wrong == NULL)
      wrong = self->field[column];
  if (wrong != NULL)
    gtk_widget_grab_focus (wrong);
  return wrong == NULL;
}

WbReading *
wb_amend_reading_dup (WbAmendReading *self)
{
  WbReading *reading;

  g_return_val_if_fail (WB_IS_AMEND_READING (self), NULL);

  reading = wb_record_copy (self->reading);
  if (wb_quantity_entry_get_touched (WB_QUANTITY_ENTRY (self->minute)))
    reading->elapsed_min = wb_quantity_entry_get_value (WB_QUANTITY_ENTRY (self->minute)) / 60;
  for (int column = 0; column < WB_N_COLUMNS; column++)
    if (self->changed[column])
      wb_reading_field_get_values (WB_READING_FIELD (self->field[column]), reading->values);
  if (isnan (reading->values[WB_COLUMN_EVENT]))
    reading->values[WB_COLUMN_EVENT_S] = NAN;
  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    if (self->text[i] != NULL)
      wb_record_set_text (reading, find_text (i), gtk_editable_get_text (GTK_EDITABLE (self->text[i])));
  return reading;
}

GtkWidget *
wb_amend_reading_get_field (WbAmendReading *self,
                            WbColumn        column)
{
  g_return_val_if_fail (WB_IS_AMEND_READING (self), NULL);
  return self->field[field_column (column)];
}
