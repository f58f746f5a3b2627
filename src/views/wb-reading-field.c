/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-reading-field.h"

#include "wb-focus-walk.h"
#include "wb-key-choice.h"
#include "wb-pool-entry.h"
#include "wb-quantity-entry.h"
#include "wb-rating-bar.h"

#include <glib/gi18n.h>
#include <math.h>

/* A pool may be read so much wider than the vessel and still count as at its wall. */
#define WIDEST_SHARE 1.05

/* CSS node: readingfield. The control inside has the name. */

struct _WbReadingField
{
  GtkWidget  parent_instance;

  /* children */
  GtkWidget *control;

  /* owned */
  char      *label;

  /* state */
  WbColumn   column;
  guint      wick;
  gboolean   taken;   /* stands as last time, by the person's wish */
};

G_DEFINE_FINAL_TYPE (WbReadingField, wb_reading_field, GTK_TYPE_WIDGET)

enum { CHANGED, ACTIVATE, FINISHED, TOLD, RATED, AGAIN, N_SIGNALS };
static guint signals[N_SIGNALS];

static void
on_control_changed_cb (WbReadingField *self)
{
  self->taken = FALSE;
  g_signal_emit (self, signals[CHANGED], 0);
}

static void
on_control_told_cb (WbReadingField *self)
{
  g_signal_emit (self, signals[TOLD], 0);
}

static void
on_control_rated_cb (WbReadingField *self)
{
  g_signal_emit (self, signals[FINISHED], 0);
  g_signal_emit (self, signals[RATED], 0);
}

static void
activate (WbReadingField *self)
{
  g_signal_emit (self, signals[FINISHED], 0);
  g_signal_emit (self, signals[ACTIVATE], 0);
}

static void
on_focus_leave_cb (WbReadingField *self)
{
  g_signal_emit (self, signals[FINISHED], 0);
}

/* Inside an open list Enter chooses, as everywhere. */
static gboolean
is_in_popover (WbReadingField *self)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));
  GtkWidget *focus = root != NULL ? gtk_root_get_focus (root) : NULL;

  return focus != NULL && gtk_widget_get_ancestor (focus, GTK_TYPE_POPOVER) != NULL;
}

static gboolean
is_entry (WbReadingField *self)
{
  return WB_IS_POOL_ENTRY (self->control) || WB_IS_QUANTITY_ENTRY (self->control);
}

static gboolean
on_key_pressed_cb (GtkEventControllerKey *controller,
                   guint                  keyval,
                   guint                  keycode,
                   GdkModifierType        state,
                   WbReadingField        *self)
{
  if ((state & (GDK_CONTROL_MASK | GDK_ALT_MASK | GDK_SUPER_MASK)) != 0 || is_in_popover (self))
    return GDK_EVENT_PROPAGATE;
  if (keyval == GDK_KEY_equal || keyval == GDK_KEY_KP_Equal)
    {
      g_signal_emit (self, signals[AGAIN], 0);
      return GDK_EVENT_STOP;
    }
  if ((keyval != GDK_KEY_Return && keyval != GDK_KEY_KP_Enter && keyval != GDK_KEY_ISO_Enter) || is_entry (self))
    return GDK_EVENT_PROPAGATE;
  activate (self);
  return GDK_EVENT_STOP;
}

/* Buttons and lists would take Enter for themselves; entries give it on as it is. */
static void
catch_keys (WbReadingField *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();

  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (on_key_pressed_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
}

static gboolean
wb_reading_field_grab_focus (GtkWidget *widget)
{
  return gtk_widget_grab_focus (WB_READING_FIELD (widget)->control);
}

static void
wb_reading_field_dispose (GObject *object)
{
  g_clear_pointer (&WB_READING_FIELD (object)->control, gtk_widget_unparent);
  G_OBJECT_CLASS (wb_reading_field_parent_class)->dispose (object);
}

static void
wb_reading_field_finalize (GObject *object)
{
  g_free (WB_READING_FIELD (object)->label);
  G_OBJECT_CLASS (wb_reading_field_parent_class)->finalize (object);
}

static void
wb_reading_field_class_init (WbReadingFieldClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_reading_field_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_reading_field_finalize;
  widget_class->grab_focus = wb_reading_field_grab_focus;
  widget_class->focus = wb_focus_walk;
  signals[CHANGED] = g_signal_new ("changed", WB_TYPE_READING_FIELD, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[ACTIVATE] = g_signal_new ("activate", WB_TYPE_READING_FIELD, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[FINISHED] = g_signal_new ("finished", WB_TYPE_READING_FIELD, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[TOLD] = g_signal_new ("told", WB_TYPE_READING_FIELD, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[RATED] = g_signal_new ("rated", WB_TYPE_READING_FIELD, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[AGAIN] = g_signal_new ("again", WB_TYPE_READING_FIELD, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "readingfield");
}

static void
wb_reading_field_init (WbReadingField *self)
{
  GtkEventController *focus = gtk_event_controller_focus_new ();

  g_signal_connect_swapped (focus, "leave", G_CALLBACK (on_focus_leave_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), focus);
}

static GtkWidget *
quantity_new (const WbColumnSpec *spec,
              const char         *label,
              gboolean            us_units)
{
  WbUnit unit = wb_quantity_get_shown_unit (spec->quantity, us_units);
  GtkWidget *entry = wb_quantity_entry_new (spec->quantity, unit);

  wb_quantity_entry_set_label (WB_QUANTITY_ENTRY (entry), label);
  wb_quantity_entry_set_range (WB_QUANTITY_ENTRY (entry), spec->minimum, spec->maximum);
  wb_quantity_entry_set_integer (WB_QUANTITY_ENTRY (entry), spec->integer);
  wb_quantity_entry_set_width_chars (WB_QUANTITY_ENTRY (entry), 6);
  return entry;
}

static gboolean
is_pool (WbColumn column)
{
  return column >= WB_COLUMN_POOL_MM && column <= WB_COLUMN_RING_9_MM;
}

GtkWidget *
wb_reading_field_new (WbColumn column,
                      guint    wick,
                      double   inner_mm,
                      gboolean us_units)
{
  WbReadingField *self;
  const WbColumnSpec *spec;

  g_return_val_if_fail (column < WB_N_COLUMNS && column != WB_COLUMN_POOL_FULL, NULL);

  self = g_object_new (WB_TYPE_READING_FIELD, NULL);
  spec = wb_column_get_spec (is_pool (column) ? WB_COLUMN_POOL_MM : column);
  self->column = is_pool (column) ? WB_COLUMN_POOL_MM : column;
  self->wick = wick;
  /* Translators: what is read, and at which of several wicks: "Flame height, wick 2". */
  self->label = wick > 0 ? g_strdup_printf (_("%s, wick %u"), _(spec->label), wick) : g_strdup (_(spec->label));
  if (is_pool (column))
    self->control = wb_pool_entry_new (wb_quantity_get_shown_unit (WB_QUANTITY_LENGTH, us_units), inner_mm * WIDEST_SHARE);
  else if (column == WB_COLUMN_EVENT)
    self->control = wb_key_choice_new (spec->words, _("nothing to note"), self->label);
  else if (spec->words != NULL)
    self->control = wb_rating_bar_new (spec->words, (int) spec->minimum, self->label);
  else
    self->control = quantity_new (spec, self->label, us_units);
  gtk_widget_set_parent (self->control, GTK_WIDGET (self));
  g_signal_connect_swapped (self->control, "changed", G_CALLBACK (on_control_changed_cb), self);
  if (is_entry (self))
    {
      g_signal_connect_swapped (self->control, "activate", G_CALLBACK (activate), self);
      g_signal_connect_swapped (self->control, "told", G_CALLBACK (on_control_told_cb), self);
    }
  else if (WB_IS_RATING_BAR (self->control))
    g_signal_connect_swapped (self->control, "rated", G_CALLBACK (on_control_rated_cb), self);
  catch_keys (self);
  return GTK_WIDGET (self);
}

WbColumn
wb_reading_field_get_column (WbReadingField *self)
{
  g_return_val_if_fail (WB_IS_READING_FIELD (self), WB_N_COLUMNS);
  return self->column;
}

const char *
wb_reading_field_get_label (WbReadingField *self)
{
  g_return_val_if_fail (WB_IS_READING_FIELD (self), NULL);
  return self->label;
}

guint
wb_reading_field_get_wick (WbReadingField *self)
{
  g_return_val_if_fail (WB_IS_READING_FIELD (self), 0);
  return self->wick;
}

static double
get_value (WbReadingField *self)
{
  if (WB_IS_QUANTITY_ENTRY (self->control))
    return wb_quantity_entry_get_value (WB_QUANTITY_ENTRY (self->control));
  if (WB_IS_RATING_BAR (self->control))
    {
      int rating = wb_rating_bar_get_value (WB_RATING_BAR (self->control));

      return rating >= 0 ? rating : NAN;
    }
  int chosen = wb_key_choice_get_value (WB_KEY_CHOICE (self->control));

  return chosen >= 0 ? chosen : NAN;
}

void
wb_reading_field_get_values (WbReadingField *self,
                             double          values[WB_N_COLUMNS])
{
  g_return_if_fail (WB_IS_READING_FIELD (self));
  if (WB_IS_POOL_ENTRY (self->control))
    wb_pool_entry_get_values (WB_POOL_ENTRY (self->control), values);
  else
    values[self->column] = get_value (self);
}

void
wb_reading_field_ask_two (WbReadingField *self)
{
  g_return_if_fail (WB_IS_READING_FIELD (self));
  if (WB_IS_POOL_ENTRY (self->control))
    wb_pool_entry_set_two (WB_POOL_ENTRY (self->control), TRUE);
}

void
wb_reading_field_ask_ring (WbReadingField *self)
{
  g_return_if_fail (WB_IS_READING_FIELD (self));
  if (WB_IS_POOL_ENTRY (self->control))
    wb_pool_entry_set_ring (WB_POOL_ENTRY (self->control), TRUE);
}

void
wb_reading_field_set_value (WbReadingField *self,
                            double          value)
{
  g_return_if_fail (WB_IS_READING_FIELD (self));
  if (WB_IS_QUANTITY_ENTRY (self->control))
    wb_quantity_entry_set_value (WB_QUANTITY_ENTRY (self->control), value);
  else if (WB_IS_RATING_BAR (self->control))
    wb_rating_bar_set_value (WB_RATING_BAR (self->control), isnan (value) ? -1 : (int) value);
  else if (WB_IS_KEY_CHOICE (self->control))
    wb_key_choice_set_value (WB_KEY_CHOICE (self->control), isnan (value) ? -1 : (int) value);
  else
    g_return_if_reached ();
}

void
wb_reading_field_set_values (WbReadingField *self,
                             const double    values[WB_N_COLUMNS])
{
  g_return_if_fail (WB_IS_READING_FIELD (self));
  if (WB_IS_POOL_ENTRY (self->control))
    wb_pool_entry_set_values (WB_POOL_ENTRY (self->control), values);
  else
    wb_reading_field_set_value (self, values[self->column]);
}

void
wb_reading_field_take (WbReadingField *self,
                       const double    values[WB_N_COLUMNS])
{
  g_return_if_fail (WB_IS_READING_FIELD (self));
  wb_reading_field_set_values (self, values);
  self->taken = TRUE;
  g_signal_emit (self, signals[CHANGED], 0);
}

void
wb_reading_field_set_maximum (WbReadingField *self,
                              double          maximum)
{
  g_return_if_fail (WB_IS_READING_FIELD (self) && WB_IS_QUANTITY_ENTRY (self->control));
  wb_quantity_entry_set_range (WB_QUANTITY_ENTRY (self->control), wb_column_get_spec (self->column)->minimum, maximum);
}

void
wb_reading_field_ask_which (WbReadingField *self,
                            gboolean        asked,
                            const char     *word)
{
  g_return_if_fail (WB_IS_READING_FIELD (self) && WB_IS_QUANTITY_ENTRY (self->control));
  wb_quantity_entry_set_word (WB_QUANTITY_ENTRY (self->control), word);
  wb_quantity_entry_set_required (WB_QUANTITY_ENTRY (self->control), asked);
}

void
wb_reading_field_clear (WbReadingField *self)
{
  double values[WB_N_COLUMNS];

  g_return_if_fail (WB_IS_READING_FIELD (self));
  for (int column = 0; column < WB_N_COLUMNS; column++)
    values[column] = NAN;
  wb_reading_field_set_values (self, values);
  self->taken = FALSE;
}

gboolean
wb_reading_field_check (WbReadingField *self)
{
  g_return_val_if_fail (WB_IS_READING_FIELD (self), FALSE);
  if (WB_IS_POOL_ENTRY (self->control))
    return wb_pool_entry_check (WB_POOL_ENTRY (self->control));
  return !WB_IS_QUANTITY_ENTRY (self->control) || wb_quantity_entry_check (WB_QUANTITY_ENTRY (self->control));
}

void
wb_reading_field_set_told_elsewhere (WbReadingField *self,
                                     gboolean        told_elsewhere)
{
  g_return_if_fail (WB_IS_READING_FIELD (self));
  if (WB_IS_POOL_ENTRY (self->control))
    wb_pool_entry_set_told_elsewhere (WB_POOL_ENTRY (self->control), told_elsewhere);
  else if (WB_IS_QUANTITY_ENTRY (self->control))
    wb_quantity_entry_set_told_elsewhere (WB_QUANTITY_ENTRY (self->control), told_elsewhere);
}

const char *
wb_reading_field_get_problem (WbReadingField *self)
{
  g_return_val_if_fail (WB_IS_READING_FIELD (self), NULL);
  if (WB_IS_POOL_ENTRY (self->control))
    return wb_pool_entry_get_problem (WB_POOL_ENTRY (self->control));
  return WB_IS_QUANTITY_ENTRY (self->control) ? wb_quantity_entry_get_problem (WB_QUANTITY_ENTRY (self->control)) : NULL;
}

gboolean
wb_reading_field_get_touched (WbReadingField *self)
{
  g_return_val_if_fail (WB_IS_READING_FIELD (self), FALSE);
  if (self->taken)
    return TRUE;
  if (WB_IS_POOL_ENTRY (self->control))
    return wb_pool_entry_get_touched (WB_POOL_ENTRY (self->control));
  if (WB_IS_QUANTITY_ENTRY (self->control))
    return wb_quantity_entry_get_touched (WB_QUANTITY_ENTRY (self->control))
           && *wb_quantity_entry_get_text (WB_QUANTITY_ENTRY (self->control)) != '\0';
  return !isnan (get_value (self));
}

/* GtkText, in the order of the screen, hidden ones too; borrowed. */
static void
collect_texts (GtkWidget *widget,
               GPtrArray *texts)
{
  if (GTK_IS_TEXT (widget))
    g_ptr_array_add (texts, widget);
  else
    for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
      collect_texts (child, texts);
}

char **
wb_reading_field_dup_texts (WbReadingField *self)
{
  g_autoptr (GPtrArray) entries = g_ptr_array_new ();
  GPtrArray *texts = g_ptr_array_new ();

  g_return_val_if_fail (WB_IS_READING_FIELD (self), NULL);
  if (is_entry (self))
    collect_texts (self->control, entries);
  else
    g_ptr_array_add (texts, g_strdup_printf ("%d", (int) get_value (self)));
  for (guint i = 0; i < entries->len; i++)
    g_ptr_array_add (texts, g_strdup (gtk_editable_get_text (GTK_EDITABLE (g_ptr_array_index (entries, i)))));
  g_ptr_array_add (texts, NULL);
  return (char **) g_ptr_array_free (texts, FALSE);
}

/* Of the pool the second diameter, and then the ring at the four sides. */
static void
unfold (WbReadingField    *self,
        const char *const *texts)
{
  guint n = g_strv_length ((char **) texts);

  if (n > 1 && *texts[1] != '\0')
    wb_pool_entry_set_two (WB_POOL_ENTRY (self->control), TRUE);
  for (guint i = 2; i < n; i++)
    if (*texts[i] != '\0')
      {
        wb_pool_entry_set_ring (WB_POOL_ENTRY (self->control), TRUE);
        return;
      }
}

static void
put_word (WbReadingField *self,
          const char     *text)
{
  const WbColumnSpec *spec = wb_column_get_spec (self->column);
  double values[WB_N_COLUMNS];
  gint64 value;

  if (!g_ascii_string_to_signed (text, 10, (gint64) spec->minimum, (gint64) spec->maximum, &value, NULL))
    return;
  for (int column = 0; column < WB_N_COLUMNS; column++)
    values[column] = NAN;
  values[self->column] = (double) value;
  wb_reading_field_take (self, values);
}

void
wb_reading_field_put_texts (WbReadingField    *self,
                            const char *const *texts)
{
  g_autoptr (GPtrArray) entries = g_ptr_array_new ();

  g_return_if_fail (WB_IS_READING_FIELD (self));
  g_return_if_fail (texts != NULL);
  if (texts[0] == NULL)
    return;
  if (!is_entry (self))
    {
      put_word (self, texts[0]);
      return;
    }
  if (WB_IS_POOL_ENTRY (self->control))
    unfold (self, texts);
  collect_texts (self->control, entries);
  for (guint i = 0; i < entries->len && texts[i] != NULL; i++)
    if (*texts[i] != '\0')
      gtk_editable_set_text (GTK_EDITABLE (g_ptr_array_index (entries, i)), texts[i]);
}

void
wb_reading_field_open (WbReadingField *self)
{
  g_return_if_fail (WB_IS_READING_FIELD (self));
  gtk_widget_grab_focus (self->control);
  if (WB_IS_KEY_CHOICE (self->control))
    wb_key_choice_open (WB_KEY_CHOICE (self->control));
}
