/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-rating-bar.h"

#include "wb-focus-walk.h"
#include "wb-tooltip.h"

#include <glib/gi18n.h>

/*
 * Linked toggle buttons with a digit each, and the word of the chosen one
 * beside them. To assistive technology: a group with a name; each button is
 * called by digit and word.
 */

#define MAXIMUM 10 /* one digit a word */
#define MANY 5     /* so many leave little room for the word: their style class is "many" */

struct _WbRatingBar
{
  GtkWidget     parent_instance;

  /* children */
  GtkWidget    *buttons;
  GtkWidget    *word;
  GtkWidget    *button[MAXIMUM]; /* NULL: that value cannot be chosen */

  /* borrowed */
  const WbWord *words;

  /* state */
  int           value;
  gboolean      quiet;
};

G_DEFINE_FINAL_TYPE (WbRatingBar, wb_rating_bar, GTK_TYPE_WIDGET)

enum { PROP_0, PROP_VALUE, N_PROPS };
static GParamSpec *properties[N_PROPS];

enum { CHANGED, RATED, N_SIGNALS };
static guint signals[N_SIGNALS];

static gboolean
has_button (WbRatingBar *self,
            int          value)
{
  return value >= 0 && value < MAXIMUM && self->button[value] != NULL;
}

static void
show_value (WbRatingBar *self)
{
  self->quiet = TRUE;
  for (int i = 0; i < MAXIMUM; i++)
    if (self->button[i] != NULL)
      gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (self->button[i]), i == self->value);
  self->quiet = FALSE;
  gtk_label_set_text (GTK_LABEL (self->word), self->value >= 0 ? _(self->words[self->value].label) : "");
}

static void
choose (WbRatingBar *self,
        int          value)
{
  if (value == self->value)
    return;
  wb_rating_bar_set_value (self, value);
  g_signal_emit (self, signals[CHANGED], 0);
}

static void
on_button_toggled_cb (WbRatingBar     *self,
                      GtkToggleButton *button)
{
  if (self->quiet)
    return;
  for (int i = 0; i < MAXIMUM; i++)
    if (self->button[i] == GTK_WIDGET (button))
      choose (self, gtk_toggle_button_get_active (button) ? i : -1);
}

static gboolean
on_key_pressed_cb (GtkEventControllerKey *controller,
                   guint                  keyval,
                   guint                  keycode,
                   GdkModifierType        state,
                   WbRatingBar           *self)
{
  int value = -1;

  if ((state & (GDK_CONTROL_MASK | GDK_ALT_MASK | GDK_SUPER_MASK)) != 0)
    return GDK_EVENT_PROPAGATE;
  if (keyval >= GDK_KEY_0 && keyval <= GDK_KEY_9)
    value = (int) (keyval - GDK_KEY_0);
  else if (keyval >= GDK_KEY_KP_0 && keyval <= GDK_KEY_KP_9)
    value = (int) (keyval - GDK_KEY_KP_0);
  else if (keyval != GDK_KEY_BackSpace && keyval != GDK_KEY_Delete)
    return GDK_EVENT_PROPAGATE;
  if (value >= 0 && !has_button (self, value))
    {
      gtk_widget_error_bell (GTK_WIDGET (self));
      return GDK_EVENT_STOP;
    }
  choose (self, value);
  if (value >= 0)
    g_signal_emit (self, signals[RATED], 0);
  return GDK_EVENT_STOP;
}

/* The focus goes to what is chosen, else to the first. */
static gboolean
wb_rating_bar_grab_focus (GtkWidget *widget)
{
  WbRatingBar *self = WB_RATING_BAR (widget);

  if (has_button (self, self->value))
    return gtk_widget_grab_focus (self->button[self->value]);
  for (int i = 0; i < MAXIMUM; i++)
    if (self->button[i] != NULL)
      return gtk_widget_grab_focus (self->button[i]);
  return FALSE;
}

static void
wb_rating_bar_get_property (GObject    *object,
                            guint       id,
                            GValue     *value,
                            GParamSpec *spec)
{
  if (id == PROP_VALUE)
    g_value_set_int (value, WB_RATING_BAR (object)->value);
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, spec);
}

static void
wb_rating_bar_set_property (GObject      *object,
                            guint         id,
                            const GValue *value,
                            GParamSpec   *spec)
{
  if (id == PROP_VALUE)
    wb_rating_bar_set_value (WB_RATING_BAR (object), g_value_get_int (value));
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, spec);
}

static void
wb_rating_bar_dispose (GObject *object)
{
  WbRatingBar *self = WB_RATING_BAR (object);

  memset (self->button, 0, sizeof self->button);
  g_clear_pointer (&self->buttons, gtk_widget_unparent);
  g_clear_pointer (&self->word, gtk_widget_unparent);
  G_OBJECT_CLASS (wb_rating_bar_parent_class)->dispose (object);
}

static void
wb_rating_bar_class_init (WbRatingBarClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  object_class->get_property = wb_rating_bar_get_property;
  object_class->set_property = wb_rating_bar_set_property;
  object_class->dispose = wb_rating_bar_dispose;
  widget_class->grab_focus = wb_rating_bar_grab_focus;
  widget_class->focus = wb_focus_walk;
  properties[PROP_VALUE] = g_param_spec_int ("value", NULL, NULL, -1, MAXIMUM - 1, -1,
                                             G_PARAM_READWRITE | G_PARAM_STATIC_STRINGS | G_PARAM_EXPLICIT_NOTIFY);
  g_object_class_install_properties (object_class, N_PROPS, properties);
  signals[CHANGED] = g_signal_new ("changed", WB_TYPE_RATING_BAR, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[RATED] = g_signal_new ("rated", WB_TYPE_RATING_BAR, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "ratingbar");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
}

static void
wb_rating_bar_init (WbRatingBar *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();

  self->value = -1;
  self->buttons = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  gtk_widget_add_css_class (self->buttons, "linked");
  self->word = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0, "ellipsize", PANGO_ELLIPSIZE_END, "hexpand", TRUE, NULL);
  gtk_widget_add_css_class (self->word, "word");
  gtk_widget_set_parent (self->buttons, GTK_WIDGET (self));
  gtk_widget_set_parent (self->word, GTK_WIDGET (self));
  g_signal_connect (keys, "key-pressed", G_CALLBACK (on_key_pressed_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
}

static GtkWidget *
button_new (WbRatingBar *self,
            int          value)
{
  g_autofree char *digit = g_strdup_printf ("%d", value);
  g_autofree char *name = g_strdup_printf ("%d, %s", value, _(self->words[value].label));
  GtkWidget *button = gtk_toggle_button_new_with_label (digit);

  wb_tooltip_set (button, _(self->words[value].label));
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  g_signal_connect_swapped (button, "toggled", G_CALLBACK (on_button_toggled_cb), self);
  return button;
}

GtkWidget *
wb_rating_bar_new (const WbWord *words,
                   int           first,
                   const char   *label)
{
  WbRatingBar *self;
  int n = 0;

  g_return_val_if_fail (words != NULL && label != NULL && first >= 0, NULL);

  self = g_object_new (WB_TYPE_RATING_BAR, NULL);
  self->words = words;
  for (int i = first; words[i].nick != NULL && i < MAXIMUM; i++)
    {
      self->button[i] = button_new (self, i);
      gtk_box_append (GTK_BOX (self->buttons), self->button[i]);
      n++;
    }
  if (n >= MANY)
    gtk_widget_add_css_class (GTK_WIDGET (self), "many");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  return GTK_WIDGET (self);
}

void
wb_rating_bar_set_value (WbRatingBar *self,
                         int          value)
{
  g_return_if_fail (WB_IS_RATING_BAR (self));
  g_return_if_fail (value == -1 || has_button (self, value));

  if (value == self->value)
    return;
  self->value = value;
  show_value (self);
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_VALUE]);
}

int
wb_rating_bar_get_value (WbRatingBar *self)
{
  g_return_val_if_fail (WB_IS_RATING_BAR (self), -1);
  return self->value;
}
