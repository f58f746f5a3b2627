/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-quantity-entry.h"

#include "wb-focus-walk.h"
#include "wb-tooltip.h"

#include <glib/gi18n.h>
#include <math.h>

/*
 * CSS node: quantity, with the class error while the words of a problem are
 * shown. The entry inside carries the accessible name, the state "invalid" and,
 * as description, the problem's words.
 */

struct _WbQuantityEntry
{
  GtkWidget   parent_instance;

  /* children */
  GtkWidget  *row;
  GtkWidget  *entry;
  GtkWidget  *unit_label;
  GtkWidget  *problem;

  /* owned */
  char       *label;
  char       *word;             /* may stand in place of a number; NULL: none */
  char       *told;             /* what is wrong; NULL: nothing was told */

  /* state */
  WbQuantity  quantity;
  WbUnit      unit;
  double      minimum, maximum; /* stored unit */
  double      value;            /* stored unit; NAN: empty or wrong */
  double      given;            /* as set by the program, whole, while nobody typed; NAN: none */
  gboolean    required;
  gboolean    integer;
  gboolean    valid;
  gboolean    touched;
  gboolean    told_elsewhere;
  gboolean    quiet;            /* the program sets the text */
};

G_DEFINE_FINAL_TYPE (WbQuantityEntry, wb_quantity_entry, GTK_TYPE_WIDGET)

enum { PROP_0, PROP_VALUE, PROP_TEXT, PROP_VALID, N_PROPS };
static GParamSpec *properties[N_PROPS];

enum { CHANGED, ACTIVATE, TOLD, N_SIGNALS };
static guint signals[N_SIGNALS];

static const char *
get_text (WbQuantityEntry *self)
{
  return gtk_editable_get_text (GTK_EDITABLE (self->entry));
}

static gboolean
is_blank (const char *text)
{
  for (; *text != '\0'; text = g_utf8_next_char (text))
    if (!g_unichar_isspace (g_utf8_get_char (text)))
      return FALSE;
  return TRUE;
}

static gboolean
is_word (WbQuantityEntry *self)
{
  g_autofree char *typed = NULL;
  g_autofree char *wanted = NULL;

  if (self->word == NULL)
    return FALSE;
  typed = g_strstrip (g_utf8_casefold (get_text (self), -1));
  wanted = g_utf8_casefold (self->word, -1);
  return g_str_equal (typed, wanted);
}

/* Both bounds in the shown unit; one where the other is open. */
static char *
range_words (WbQuantityEntry *self)
{
  g_autofree char *low = isfinite (self->minimum) ? wb_quantity_format (self->unit, self->minimum, -1) : NULL;
  g_autofree char *high = isfinite (self->maximum) ? wb_quantity_format (self->unit, self->maximum, -1) : NULL;

  if (low != NULL && high != NULL)
    return g_strdup_printf (_("Permitted is %s to %s"), low, high);
  return low != NULL ? g_strdup_printf (_("At least %s"), low) : g_strdup_printf (_("At most %s"), high);
}

/* Reads the text. FALSE: *words says what is wrong with it; caller frees. */
static gboolean
read_text (WbQuantityEntry  *self,
           double           *value,
           char            **words)
{
  g_autoptr (GError) error = NULL;

  *value = NAN;
  *words = NULL;
  if (is_blank (get_text (self)))
    {
      if (self->required)
        *words = g_strdup (_("A value is needed here"));
      return !self->required;
    }
  if (is_word (self))
    return TRUE;
  /* The shown text of a value that was set is rounded: it is not read back. */
  if (!self->touched && !isnan (self->given))
    *value = self->given;
  else if (!wb_quantity_parse (self->quantity, self->unit, get_text (self), value, &error))
    {
      *value = NAN;
      *words = g_strdup (error->message);
      return FALSE;
    }
  if (*value < self->minimum || *value > self->maximum)
    *words = range_words (self);
  else if (self->integer && *value != floor (*value))
    *words = g_strdup (_("A whole number is needed here"));
  if (*words != NULL)
    *value = NAN;
  return *words == NULL;
}

static void
show_problem (WbQuantityEntry *self,
              const char      *words)
{
  if (g_strcmp0 (words, self->told) == 0)
    return;
  g_free (self->told);
  self->told = g_strdup (words);
  gtk_label_set_text (GTK_LABEL (self->problem), words != NULL ? words : "");
  gtk_widget_set_visible (self->problem, words != NULL && !self->told_elsewhere);
  wb_tooltip_set (self->entry, words);
  if (words != NULL)
    {
      gtk_widget_add_css_class (GTK_WIDGET (self), "error");
      gtk_widget_add_css_class (self->entry, "error");
      gtk_accessible_update_state (GTK_ACCESSIBLE (self->entry), GTK_ACCESSIBLE_STATE_INVALID, GTK_ACCESSIBLE_INVALID_TRUE, -1);
      gtk_accessible_update_property (GTK_ACCESSIBLE (self->entry), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, words, -1);
    }
  else
    {
      gtk_widget_remove_css_class (GTK_WIDGET (self), "error");
      gtk_widget_remove_css_class (self->entry, "error");
      gtk_accessible_update_state (GTK_ACCESSIBLE (self->entry), GTK_ACCESSIBLE_STATE_INVALID, GTK_ACCESSIBLE_INVALID_FALSE, -1);
      gtk_accessible_reset_property (GTK_ACCESSIBLE (self->entry), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION);
    }
  g_signal_emit (self, signals[TOLD], 0);
}

/* Takes the text as it stands. A wrong one is told only when `tell`; a right one takes old words away at once. */
static void
take_text (WbQuantityEntry *self,
           gboolean         tell)
{
  g_autofree char *words = NULL;
  double value;
  gboolean valid = read_text (self, &value, &words);

  if (valid)
    show_problem (self, NULL);
  else if (tell)
    show_problem (self, words);
  if (valid != self->valid)
    {
      self->valid = valid;
      g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_VALID]);
    }
  if (value != self->value && !(isnan (value) && isnan (self->value)))
    {
      self->value = value;
      g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_VALUE]);
    }
}

static void
put_text (WbQuantityEntry *self,
          const char      *text,
          double           given)
{
  self->quiet = TRUE;
  gtk_editable_set_text (GTK_EDITABLE (self->entry), text != NULL ? text : "");
  self->quiet = FALSE;
  self->touched = FALSE;
  self->given = given;
  show_problem (self, NULL);
  take_text (self, FALSE);
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_TEXT]);
}

static void
on_entry_changed_cb (WbQuantityEntry *self)
{
  if (self->quiet)
    return;
  self->touched = TRUE;
  take_text (self, FALSE);
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_TEXT]);
  g_signal_emit (self, signals[CHANGED], 0);
}

static void
on_entry_activate_cb (WbQuantityEntry *self)
{
  take_text (self, TRUE);
  g_signal_emit (self, signals[ACTIVATE], 0);
}

static void
on_focus_leave_cb (WbQuantityEntry *self)
{
  /* A required field that was only walked through is not scolded for being empty yet. */
  if (self->touched || !is_blank (get_text (self)))
    take_text (self, TRUE);
}

static gboolean
wb_quantity_entry_grab_focus (GtkWidget *widget)
{
  return gtk_widget_grab_focus (WB_QUANTITY_ENTRY (widget)->entry);
}

static void
wb_quantity_entry_get_property (GObject    *object,
                                guint       id,
                                GValue     *value,
                                GParamSpec *spec)
{
  WbQuantityEntry *self = WB_QUANTITY_ENTRY (object);

  switch (id)
    {
    case PROP_VALUE:
      g_value_set_double (value, self->value);
      break;
    case PROP_TEXT:
      g_value_set_string (value, get_text (self));
      break;
    case PROP_VALID:
      g_value_set_boolean (value, self->valid);
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, spec);
    }
}

static void
wb_quantity_entry_set_property (GObject      *object,
                                guint         id,
                                const GValue *value,
                                GParamSpec   *spec)
{
  switch (id)
    {
    case PROP_VALUE:
      wb_quantity_entry_set_value (WB_QUANTITY_ENTRY (object), g_value_get_double (value));
      break;
    case PROP_TEXT:
      wb_quantity_entry_set_text (WB_QUANTITY_ENTRY (object), g_value_get_string (value));
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, spec);
    }
}

static void
wb_quantity_entry_dispose (GObject *object)
{
  WbQuantityEntry *self = WB_QUANTITY_ENTRY (object);

  g_clear_pointer (&self->row, gtk_widget_unparent);
  g_clear_pointer (&self->problem, gtk_widget_unparent);
  G_OBJECT_CLASS (wb_quantity_entry_parent_class)->dispose (object);
}

static void
wb_quantity_entry_finalize (GObject *object)
{
  g_free (WB_QUANTITY_ENTRY (object)->label);
  g_free (WB_QUANTITY_ENTRY (object)->word);
  g_free (WB_QUANTITY_ENTRY (object)->told);
  G_OBJECT_CLASS (wb_quantity_entry_parent_class)->finalize (object);
}

static void
wb_quantity_entry_class_init (WbQuantityEntryClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  object_class->get_property = wb_quantity_entry_get_property;
  object_class->set_property = wb_quantity_entry_set_property;
  object_class->dispose = wb_quantity_entry_dispose;
  object_class->finalize = wb_quantity_entry_finalize;
  widget_class->grab_focus = wb_quantity_entry_grab_focus;
  widget_class->focus = wb_focus_walk;
  /* GObject takes no NaN as a default; the field begins with one all the same. */
  properties[PROP_VALUE] = g_param_spec_double ("value", NULL, NULL, -G_MAXDOUBLE, G_MAXDOUBLE, 0.0,
                                                G_PARAM_READWRITE | G_PARAM_STATIC_STRINGS | G_PARAM_EXPLICIT_NOTIFY);
  properties[PROP_TEXT] = g_param_spec_string ("text", NULL, NULL, "",
                                               G_PARAM_READWRITE | G_PARAM_STATIC_STRINGS | G_PARAM_EXPLICIT_NOTIFY);
  properties[PROP_VALID] = g_param_spec_boolean ("valid", NULL, NULL, TRUE, G_PARAM_READABLE | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (object_class, N_PROPS, properties);
  signals[CHANGED] = g_signal_new ("changed", WB_TYPE_QUANTITY_ENTRY, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[ACTIVATE] = g_signal_new ("activate", WB_TYPE_QUANTITY_ENTRY, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[TOLD] = g_signal_new ("told", WB_TYPE_QUANTITY_ENTRY, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "quantity");
}

static void
wb_quantity_entry_init (WbQuantityEntry *self)
{
  GtkEventController *focus = gtk_event_controller_focus_new ();

  self->value = NAN;
  self->given = NAN;
  self->valid = TRUE;
  self->quantity = WB_QUANTITY_PLAIN;
  self->unit = WB_UNIT_NONE;
  self->minimum = -HUGE_VAL;
  self->maximum = HUGE_VAL;

  self->row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  self->entry = g_object_new (GTK_TYPE_ENTRY, "hexpand", TRUE, "width-chars", 9, "max-length", 60, NULL);
  self->unit_label = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0, "accessible-role", GTK_ACCESSIBLE_ROLE_PRESENTATION, NULL);
  gtk_widget_add_css_class (self->unit_label, "unit");
  gtk_box_append (GTK_BOX (self->row), self->entry);
  gtk_box_append (GTK_BOX (self->row), self->unit_label);
  self->problem = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0, "wrap", TRUE, "visible", FALSE, NULL);
  gtk_widget_add_css_class (self->problem, "problem");
  gtk_widget_set_parent (self->row, GTK_WIDGET (self));
  gtk_widget_set_parent (self->problem, GTK_WIDGET (self));
  gtk_orientable_set_orientation (GTK_ORIENTABLE (gtk_widget_get_layout_manager (GTK_WIDGET (self))), GTK_ORIENTATION_VERTICAL);

  g_signal_connect_swapped (self->entry, "changed", G_CALLBACK (on_entry_changed_cb), self);
  g_signal_connect_swapped (self->entry, "activate", G_CALLBACK (on_entry_activate_cb), self);
  g_signal_connect_swapped (focus, "leave", G_CALLBACK (on_focus_leave_cb), self);
  gtk_widget_add_controller (self->entry, focus);
}

GtkWidget *
wb_quantity_entry_new (WbQuantity quantity,
                       WbUnit     unit)
{
  WbQuantityEntry *self = g_object_new (WB_TYPE_QUANTITY_ENTRY, NULL);

  wb_quantity_entry_set_quantity (self, quantity, unit);
  return GTK_WIDGET (self);
}

void
wb_quantity_entry_set_quantity (WbQuantityEntry *self,
                                WbQuantity       quantity,
                                WbUnit           unit)
{
  gboolean same;
  double value;

  g_return_if_fail (WB_IS_QUANTITY_ENTRY (self));
  g_return_if_fail (wb_unit_get_quantity (unit) == quantity);

  same = quantity == self->quantity;
  value = self->value;
  self->quantity = quantity;
  self->unit = unit;
  gtk_label_set_text (GTK_LABEL (self->unit_label), wb_unit_get_symbol (unit));
  gtk_widget_set_visible (self->unit_label, *wb_unit_get_symbol (unit) != '\0');
  /* A value that was set is shown in the new unit; what a person typed stays and is read anew. */
  if (same && !self->touched && !isnan (value))
    wb_quantity_entry_set_value (self, value);
  else
    take_text (self, FALSE);
}

void
wb_quantity_entry_set_unit_words (WbQuantityEntry *self,
                                  const char      *words)
{
  g_return_if_fail (WB_IS_QUANTITY_ENTRY (self));
  g_return_if_fail (words != NULL);
  gtk_label_set_text (GTK_LABEL (self->unit_label), words);
  gtk_widget_set_visible (self->unit_label, *words != '\0');
}

void
wb_quantity_entry_set_range (WbQuantityEntry *self,
                             double           minimum,
                             double           maximum)
{
  g_return_if_fail (WB_IS_QUANTITY_ENTRY (self));
  g_return_if_fail (minimum <= maximum);

  self->minimum = minimum;
  self->maximum = maximum;
  take_text (self, FALSE);
}

void
wb_quantity_entry_set_required (WbQuantityEntry *self,
                                gboolean         required)
{
  g_return_if_fail (WB_IS_QUANTITY_ENTRY (self));
  self->required = required;
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->entry), GTK_ACCESSIBLE_PROPERTY_REQUIRED, required, -1);
  take_text (self, FALSE);
}

void
wb_quantity_entry_set_integer (WbQuantityEntry *self,
                               gboolean         integer)
{
  g_return_if_fail (WB_IS_QUANTITY_ENTRY (self));
  self->integer = integer;
  take_text (self, FALSE);
}

void
wb_quantity_entry_set_word (WbQuantityEntry *self,
                            const char      *word)
{
  g_return_if_fail (WB_IS_QUANTITY_ENTRY (self));
  g_free (self->word);
  self->word = g_strdup (word);
  take_text (self, FALSE);
}

gboolean
wb_quantity_entry_is_word (WbQuantityEntry *self)
{
  g_return_val_if_fail (WB_IS_QUANTITY_ENTRY (self), FALSE);
  return is_word (self);
}

void
wb_quantity_entry_set_width_chars (WbQuantityEntry *self,
                                   int              n_chars)
{
  g_return_if_fail (WB_IS_QUANTITY_ENTRY (self));
  gtk_editable_set_width_chars (GTK_EDITABLE (self->entry), n_chars);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (self->entry), n_chars);
}

void
wb_quantity_entry_set_label (WbQuantityEntry *self,
                             const char      *label)
{
  g_autofree char *name = NULL;
  const char *unit;

  g_return_if_fail (WB_IS_QUANTITY_ENTRY (self));
  g_return_if_fail (label != NULL);

  g_free (self->label);
  self->label = g_strdup (label);
  unit = gtk_label_get_text (GTK_LABEL (self->unit_label));
  name = *unit != '\0' ? g_strdup_printf ("%s, %s", label, unit) : g_strdup (label);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->entry), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
}

void
wb_quantity_entry_set_value (WbQuantityEntry *self,
                             double           value)
{
  g_autofree char *text = NULL;

  g_return_if_fail (WB_IS_QUANTITY_ENTRY (self));

  text = isnan (value) ? g_strdup ("") : wb_quantity_format_number (self->unit, value, -1);
  put_text (self, text, value);
}

double
wb_quantity_entry_get_value (WbQuantityEntry *self)
{
  g_return_val_if_fail (WB_IS_QUANTITY_ENTRY (self), NAN);
  return self->value;
}

void
wb_quantity_entry_set_text (WbQuantityEntry *self,
                            const char      *text)
{
  g_return_if_fail (WB_IS_QUANTITY_ENTRY (self));

  put_text (self, text, NAN);
}

void
wb_quantity_entry_put_typed (WbQuantityEntry *self,
                             const char      *text)
{
  g_return_if_fail (WB_IS_QUANTITY_ENTRY (self));

  put_text (self, text, NAN);
  self->touched = TRUE;
}

const char *
wb_quantity_entry_get_text (WbQuantityEntry *self)
{
  g_return_val_if_fail (WB_IS_QUANTITY_ENTRY (self), NULL);
  return get_text (self);
}

gboolean
wb_quantity_entry_get_touched (WbQuantityEntry *self)
{
  g_return_val_if_fail (WB_IS_QUANTITY_ENTRY (self), FALSE);
  return self->touched;
}

gboolean
wb_quantity_entry_check (WbQuantityEntry *self)
{
  g_return_val_if_fail (WB_IS_QUANTITY_ENTRY (self), FALSE);
  take_text (self, TRUE);
  return self->valid;
}

void
wb_quantity_entry_set_problem_chars (WbQuantityEntry *self,
                                     int              n_chars)
{
  g_return_if_fail (WB_IS_QUANTITY_ENTRY (self));
  g_object_set (self->problem, "max-width-chars", n_chars, NULL);
}

void
wb_quantity_entry_set_told_elsewhere (WbQuantityEntry *self,
                                      gboolean         told_elsewhere)
{
  g_return_if_fail (WB_IS_QUANTITY_ENTRY (self));
  self->told_elsewhere = told_elsewhere;
  gtk_widget_set_visible (self->problem, self->told != NULL && !told_elsewhere);
}

void
wb_quantity_entry_set_problem (WbQuantityEntry *self,
                               const char      *text)
{
  g_return_if_fail (WB_IS_QUANTITY_ENTRY (self));
  show_problem (self, text);
}

const char *
wb_quantity_entry_get_problem (WbQuantityEntry *self)
{
  g_return_val_if_fail (WB_IS_QUANTITY_ENTRY (self), NULL);
  return self->told;
}
