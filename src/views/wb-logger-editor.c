/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-logger-editor.h"

#include "wb-accessible-name.h"
#include "wb-choice-list.h"
#include "wb-encoding-list.h"

#include <glib/gi18n.h>
#include <string.h>

/* CSS node: loggereditor. */

/* Beyond a month either way a clock is not set wrong but another burn's. */
#define MOST_OFFSET_MIN 45000.0
/* Titles above a table are few. */
#define MOST_HEADER_LINE 1000.0

static const char signs[] = { ',', ';', '\t', '|' };
static const char *const sign_names[] = { N_("comma"), N_("semicolon"), N_("tab"), N_("upright bar |"), NULL };
static const char *const decimal_names[] = { N_("point"), N_("comma"), NULL };
static const char *const order_names[] = { N_("year, month, day"), N_("day, month, year"), N_("month, day, year"), NULL };
static const char *const unit_names[] = { "°C", "°F", NULL };

struct _WbLoggerEditor
{
  GtkWidget       parent_instance;

  /* children */
  GtkGrid        *grid;
  GtkDropDown    *encoding;
  GtkDropDown    *sign;
  GtkSpinButton  *header_line;
  GtkDropDown    *decimal;
  GtkDropDown    *time;
  GtkDropDown    *form;
  GtkDropDown    *day;
  GtkDropDown    *order;
  GtkSpinButton  *offset;
  GtkDropDown    *unit;
  GtkDropDown    *columns[WB_LOGGER_MOST_COLUMNS];
  GtkDropDown    *places[WB_LOGGER_MOST_COLUMNS];

  /* owned */
  WbLoggerChoice *choice;   /* as it was set; NULL: nothing was */
  char          **names;

  /* state */
  gboolean        filling;
};

G_DEFINE_FINAL_TYPE (WbLoggerEditor, wb_logger_editor, GTK_TYPE_WIDGET)

enum { CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

/* What does not matter to the way in which time is told is not asked. */
static void
show_what_matters (WbLoggerEditor *self)
{
  gboolean dated = gtk_drop_down_get_selected (self->form) == WB_LOGGER_DATE_TIME;

  gtk_widget_set_sensitive (GTK_WIDGET (self->day), dated);
  gtk_widget_set_sensitive (GTK_WIDGET (self->order), dated);
  for (guint i = 0; i < WB_LOGGER_MOST_COLUMNS; i++)
    gtk_widget_set_sensitive (GTK_WIDGET (self->places[i]), gtk_drop_down_get_selected (self->columns[i]) > 0);
}

static void
on_changed_cb (WbLoggerEditor *self)
{
  if (self->filling)
    return;
  show_what_matters (self);
  g_signal_emit (self, signals[CHANGED], 0);
}

static guint
find_name (WbLoggerEditor *self,
           const char     *name)
{
  for (guint i = 0; name != NULL && self->names[i] != NULL; i++)
    if (strcmp (self->names[i], name) == 0)
      return i;
  return GTK_INVALID_LIST_POSITION;
}

/* first: what stands before the names; NULL: nothing. */
static void
set_names (GtkDropDown       *drop_down,
           const char        *first,
           const char *const *names)
{
  g_autoptr (GtkStringList) list = gtk_string_list_new (NULL);

  if (first != NULL)
    gtk_string_list_append (list, first);
  for (guint i = 0; names[i] != NULL; i++)
    gtk_string_list_append (list, names[i]);
  gtk_drop_down_set_model (drop_down, G_LIST_MODEL (list));
}

static guint
find_sign (char sign)
{
  for (guint i = 0; i < G_N_ELEMENTS (signs); i++)
    if (signs[i] == sign)
      return i;
  return GTK_INVALID_LIST_POSITION;
}

static void
show_choice (WbLoggerEditor *self)
{
  const WbLoggerChoice *choice = self->choice;

  gtk_drop_down_set_selected (self->encoding, wb_encoding_list_find (choice->encoding));
  gtk_drop_down_set_selected (self->sign, find_sign (choice->delimiter));
  gtk_spin_button_set_value (self->header_line, choice->header_line);
  gtk_drop_down_set_selected (self->decimal, choice->decimal == ',');
  gtk_drop_down_set_selected (self->time, find_name (self, choice->time));
  gtk_drop_down_set_selected (self->form, choice->form);
  gtk_drop_down_set_selected (self->day, choice->day != NULL ? find_name (self, choice->day) + 1 : 0);
  gtk_drop_down_set_selected (self->order, choice->date_order);
  gtk_spin_button_set_value (self->offset, choice->offset_min);
  gtk_drop_down_set_selected (self->unit, choice->unit == WB_UNIT_FAHRENHEIT);
  for (guint i = 0; i < WB_LOGGER_MOST_COLUMNS; i++)
    {
      gtk_drop_down_set_selected (self->columns[i], i < choice->n_columns ? find_name (self, choice->columns[i].name) + 1 : 0);
      gtk_drop_down_set_selected (self->places[i], i < choice->n_columns ? choice->columns[i].place : WB_LOGGER_OTHER);
    }
}

void
wb_logger_editor_set (WbLoggerEditor       *self,
                      const WbLoggerChoice *choice,
                      const char *const    *names)
{
  WbLoggerChoice *copy;
  char **copied;

  g_return_if_fail (WB_IS_LOGGER_EDITOR (self));
  g_return_if_fail (choice != NULL && names != NULL);

  copy = wb_logger_choice_copy (choice);
  copied = g_strdupv ((char **) names);
  wb_logger_choice_free (self->choice);
  self->choice = copy;
  g_strfreev (self->names);
  self->names = copied;
  self->filling = TRUE;
  set_names (self->time, NULL, (const char *const *) copied);
  set_names (self->day, _("in the same column"), (const char *const *) copied);
  for (guint i = 0; i < WB_LOGGER_MOST_COLUMNS; i++)
    set_names (self->columns[i], _("none"), (const char *const *) copied);
  show_choice (self);
  self->filling = FALSE;
  show_what_matters (self);
}

/* Takes the place of a text; position from 0, GTK_INVALID_LIST_POSITION: it stays. */
static void
take_name (WbLoggerEditor *self,
           guint           position,
           char          **text)
{
  if (position >= g_strv_length (self->names))
    return;
  g_free (*text);
  *text = g_strdup (self->names[position]);
}

WbLoggerChoice *
wb_logger_editor_dup_choice (WbLoggerEditor *self)
{
  WbLoggerChoice *choice;
  const char *encoding;
  guint sign;

  g_return_val_if_fail (WB_IS_LOGGER_EDITOR (self), NULL);

  if (self->choice == NULL)
    return NULL;
  choice = wb_logger_choice_new ();
  g_free (choice->encoding);
  encoding = wb_encoding_list_get (gtk_drop_down_get_selected (self->encoding));
  choice->encoding = g_strdup (encoding != NULL ? encoding : self->choice->encoding);
  sign = gtk_drop_down_get_selected (self->sign);
  choice->delimiter = sign < G_N_ELEMENTS (signs) ? signs[sign] : self->choice->delimiter;
  choice->header_line = (guint) gtk_spin_button_get_value_as_int (self->header_line);
  choice->decimal = gtk_drop_down_get_selected (self->decimal) == 1 ? ',' : '.';
  take_name (self, gtk_drop_down_get_selected (self->time), &choice->time);
  choice->form = (WbLoggerForm) gtk_drop_down_get_selected (self->form);
  if (choice->form == WB_LOGGER_DATE_TIME && gtk_drop_down_get_selected (self->day) > 0)
    take_name (self, gtk_drop_down_get_selected (self->day) - 1, &choice->day);
  choice->date_order = (WbLogDateOrder) gtk_drop_down_get_selected (self->order);
  choice->offset_min = gtk_spin_button_get_value (self->offset);
  choice->unit = gtk_drop_down_get_selected (self->unit) == 1 ? WB_UNIT_FAHRENHEIT : WB_UNIT_CELSIUS;
  for (guint i = 0; i < WB_LOGGER_MOST_COLUMNS; i++)
    {
      guint column = gtk_drop_down_get_selected (self->columns[i]);

      if (column > 0 && column <= g_strv_length (self->names))
        wb_logger_choice_add (choice, self->names[column - 1], (WbLoggerPlace) gtk_drop_down_get_selected (self->places[i]));
    }
  return choice;
}

void
wb_logger_editor_choose (WbLoggerEditor *self,
                         guint           column,
                         const char     *name,
                         WbLoggerPlace   place)
{
  g_return_if_fail (WB_IS_LOGGER_EDITOR (self) && self->choice != NULL);
  g_return_if_fail (column < WB_LOGGER_MOST_COLUMNS && place < WB_LOGGER_N_PLACES);

  gtk_drop_down_set_selected (self->columns[column], name != NULL ? find_name (self, name) + 1 : 0);
  gtk_drop_down_set_selected (self->places[column], place);
}

void
wb_logger_editor_set_offset (WbLoggerEditor *self,
                             double          minutes)
{
  g_return_if_fail (WB_IS_LOGGER_EDITOR (self));
  gtk_spin_button_set_value (self->offset, minutes);
}

const char *
wb_logger_editor_get_encoding_title (WbLoggerEditor *self)
{
  GtkStringObject *item;

  g_return_val_if_fail (WB_IS_LOGGER_EDITOR (self), NULL);

  item = gtk_drop_down_get_selected_item (self->encoding);
  return item != NULL ? gtk_string_object_get_string (item) : NULL;
}

void
wb_logger_editor_set_encoding (WbLoggerEditor *self,
                               const char     *encoding)
{
  g_return_if_fail (WB_IS_LOGGER_EDITOR (self) && encoding != NULL);
  gtk_drop_down_set_selected (self->encoding, wb_encoding_list_find (encoding));
}

/* ---- Life ---- */

static void
attach (WbLoggerEditor *self,
        int             row,
        const char     *label,
        GtkWidget      *control)
{
  GtkWidget *text = g_object_new (GTK_TYPE_LABEL, "label", label, "xalign", 0.0, NULL);

  gtk_widget_set_hexpand (control, TRUE);
  gtk_grid_attach (self->grid, text, 0, row, 1, 1);
  gtk_grid_attach (self->grid, control, 1, row, 1, 1);
}

/* strings: untranslated; NULL: set later. */
static GtkDropDown *
drop_down_new (WbLoggerEditor    *self,
               const char        *name,
               const char *const *strings)
{
  g_autoptr (GtkStringList) list = gtk_string_list_new (NULL);
  GtkDropDown *drop_down = GTK_DROP_DOWN (gtk_drop_down_new (NULL, NULL));

  for (guint i = 0; strings != NULL && strings[i] != NULL; i++)
    gtk_string_list_append (list, _(strings[i]));
  gtk_drop_down_set_model (drop_down, G_LIST_MODEL (list));
  wb_choice_list_fit (drop_down, 14);
  wb_accessible_name_drop_down (drop_down, name);
  g_signal_connect_swapped (drop_down, "notify::selected", G_CALLBACK (on_changed_cb), self);
  return drop_down;
}

static GtkDropDown *
add_drop_down (WbLoggerEditor    *self,
               int                row,
               const char        *label,
               const char *const *strings)
{
  GtkDropDown *drop_down = drop_down_new (self, label, strings);

  attach (self, row, label, GTK_WIDGET (drop_down));
  return drop_down;
}

static GtkSpinButton *
add_spin_button (WbLoggerEditor *self,
                 int             row,
                 const char     *label,
                 double          lowest,
                 double          highest)
{
  GtkWidget *spin_button = gtk_spin_button_new_with_range (lowest, highest, 1.0);

  gtk_accessible_update_property (GTK_ACCESSIBLE (spin_button), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  g_signal_connect_swapped (spin_button, "value-changed", G_CALLBACK (on_changed_cb), self);
  attach (self, row, label, spin_button);
  return GTK_SPIN_BUTTON (spin_button);
}

/* Which column, and where its sensor sat. */
static void
add_columns (WbLoggerEditor *self,
             int             row)
{
  const char *places[WB_LOGGER_N_PLACES + 1] = { NULL };

  for (guint i = 0; i < WB_LOGGER_N_PLACES; i++)
    places[i] = wb_logger_place_get_label ((WbLoggerPlace) i);
  for (guint i = 0; i < WB_LOGGER_MOST_COLUMNS; i++)
    {
      g_autofree char *label = g_strdup_printf (_("Temperature %u"), i + 1);
      g_autofree char *place = g_strdup_printf (_("Place of temperature %u"), i + 1);
      GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);

      self->columns[i] = drop_down_new (self, label, NULL);
      self->places[i] = drop_down_new (self, place, NULL);
      gtk_drop_down_set_model (self->places[i], G_LIST_MODEL (gtk_string_list_new (places)));
      wb_choice_list_fit (self->columns[i], 8);
      wb_choice_list_fit (self->places[i], 12);
      gtk_widget_set_hexpand (GTK_WIDGET (self->columns[i]), TRUE);
      gtk_box_append (GTK_BOX (box), GTK_WIDGET (self->columns[i]));
      gtk_box_append (GTK_BOX (box), GTK_WIDGET (self->places[i]));
      attach (self, row + (int) i, label, box);
    }
}

static void
wb_logger_editor_dispose (GObject *object)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (object))) != NULL)
    gtk_widget_unparent (child);
  G_OBJECT_CLASS (wb_logger_editor_parent_class)->dispose (object);
}

static void
wb_logger_editor_finalize (GObject *object)
{
  WbLoggerEditor *self = WB_LOGGER_EDITOR (object);

  wb_logger_choice_free (self->choice);
  g_strfreev (self->names);
  G_OBJECT_CLASS (wb_logger_editor_parent_class)->finalize (object);
}

static void
wb_logger_editor_class_init (WbLoggerEditorClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_logger_editor_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_logger_editor_finalize;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "loggereditor");
  signals[CHANGED] = g_signal_new ("changed", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
wb_logger_editor_init (WbLoggerEditor *self)
{
  const char *forms[WB_LOGGER_N_FORMS + 1] = { NULL };

  self->filling = TRUE;
  self->grid = GTK_GRID (gtk_grid_new ());
  gtk_grid_set_row_spacing (self->grid, 6);
  gtk_grid_set_column_spacing (self->grid, 10);
  gtk_widget_set_parent (GTK_WIDGET (self->grid), GTK_WIDGET (self));
  self->time = add_drop_down (self, 0, _("Column of the time"), NULL);
  self->form = add_drop_down (self, 1, _("It tells"), NULL);
  self->day = add_drop_down (self, 2, _("Column of the day"), NULL);
  self->order = add_drop_down (self, 3, _("Order of the day"), order_names);
  self->offset = add_spin_button (self, 4, _("Minutes to add"), -MOST_OFFSET_MIN, MOST_OFFSET_MIN);
  gtk_spin_button_set_digits (self->offset, 1);
  gtk_widget_set_tooltip_text (GTK_WIDGET (self->offset),
                               _("By how much the logger's clock is behind the notebook's; where it counts from its start, how long after the lighting it was started."));
  self->unit = add_drop_down (self, 5, _("Temperatures in"), unit_names);
  add_columns (self, 6);
  self->sign = add_drop_down (self, 6 + WB_LOGGER_MOST_COLUMNS, _("Between columns"), sign_names);
  self->header_line = add_spin_button (self, 7 + WB_LOGGER_MOST_COLUMNS, _("Names on line"), 1.0, MOST_HEADER_LINE);
  self->decimal = add_drop_down (self, 8 + WB_LOGGER_MOST_COLUMNS, _("Decimal sign"), decimal_names);
  self->encoding = add_drop_down (self, 9 + WB_LOGGER_MOST_COLUMNS, _("Encoding of the text"), NULL);
  {
    g_autoptr (GtkStringList) encodings = wb_encoding_list_new ();

    gtk_drop_down_set_model (self->encoding, G_LIST_MODEL (encodings));
  }
  for (guint i = 0; i < WB_LOGGER_N_FORMS; i++)
    forms[i] = wb_logger_form_get_label ((WbLoggerForm) i);
  gtk_drop_down_set_model (self->form, G_LIST_MODEL (gtk_string_list_new (forms)));
  self->filling = FALSE;
}
