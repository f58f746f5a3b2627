/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-key-choice.h"

#include "wb-focus-walk.h"

#include <glib/gi18n.h>

/* CSS node: keychoice. The button is called by label and choice, each word by its key and itself. */

#define MAXIMUM 32
#define N_COLUMNS 2

struct _WbKeyChoice
{
  GtkWidget     parent_instance;

  /* children */
  GtkWidget    *button;         /* GtkMenuButton */
  GtkWidget    *item[MAXIMUM];  /* in its popover */

  /* owned */
  char         *none;
  char         *label;

  /* borrowed */
  const WbWord *words;

  /* state */
  gunichar      key[MAXIMUM];
  int           n;
  int           value;
};

G_DEFINE_FINAL_TYPE (WbKeyChoice, wb_key_choice, GTK_TYPE_WIDGET)

enum { CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

static void
show_value (WbKeyChoice *self)
{
  const char *word = self->value >= 0 ? _(self->words[self->value].label) : self->none;
  g_autofree char *name = g_strdup_printf ("%s: %s", self->label, word);

  gtk_menu_button_set_label (GTK_MENU_BUTTON (self->button), word);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->button), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  /* The focus is in a button inside. */
  gtk_accessible_update_property (GTK_ACCESSIBLE (gtk_widget_get_first_child (self->button)), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
}

static void
choose (WbKeyChoice *self,
        int          value)
{
  gtk_menu_button_popdown (GTK_MENU_BUTTON (self->button));
  gtk_widget_grab_focus (self->button);
  if (value == self->value)
    return;
  wb_key_choice_set_value (self, value);
  g_signal_emit (self, signals[CHANGED], 0);
}

static void
on_item_clicked_cb (WbKeyChoice *self,
                    GtkWidget   *item)
{
  for (int i = 0; i < self->n; i++)
    if (self->item[i] == item)
      choose (self, i);
}

static gboolean
on_key_pressed_cb (GtkEventControllerKey *controller,
                   guint                  keyval,
                   guint                  keycode,
                   GdkModifierType        state,
                   WbKeyChoice           *self)
{
  gunichar typed = g_unichar_tolower (gdk_keyval_to_unicode (keyval));

  if ((state & (GDK_CONTROL_MASK | GDK_ALT_MASK | GDK_SUPER_MASK)) != 0)
    return GDK_EVENT_PROPAGATE;
  if (keyval == GDK_KEY_BackSpace || keyval == GDK_KEY_Delete)
    {
      choose (self, -1);
      return GDK_EVENT_STOP;
    }
  for (int i = 0; i < self->n; i++)
    if (typed != 0 && self->key[i] == typed)
      {
        choose (self, i);
        return GDK_EVENT_STOP;
      }
  return GDK_EVENT_PROPAGATE;
}

static gboolean
wb_key_choice_grab_focus (GtkWidget *widget)
{
  return gtk_widget_grab_focus (WB_KEY_CHOICE (widget)->button);
}

static void
wb_key_choice_dispose (GObject *object)
{
  g_clear_pointer (&WB_KEY_CHOICE (object)->button, gtk_widget_unparent);
  G_OBJECT_CLASS (wb_key_choice_parent_class)->dispose (object);
}

static void
wb_key_choice_finalize (GObject *object)
{
  g_free (WB_KEY_CHOICE (object)->none);
  g_free (WB_KEY_CHOICE (object)->label);
  G_OBJECT_CLASS (wb_key_choice_parent_class)->finalize (object);
}

static void
wb_key_choice_class_init (WbKeyChoiceClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_key_choice_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_key_choice_finalize;
  widget_class->grab_focus = wb_key_choice_grab_focus;
  widget_class->focus = wb_focus_walk;
  signals[CHANGED] = g_signal_new ("changed", WB_TYPE_KEY_CHOICE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "keychoice");
}

static void
wb_key_choice_init (WbKeyChoice *self)
{
  self->value = -1;
  self->button = g_object_new (GTK_TYPE_MENU_BUTTON, "halign", GTK_ALIGN_START, NULL);
  gtk_widget_set_parent (self->button, GTK_WIDGET (self));
}

static gboolean
is_free (WbKeyChoice *self,
         gunichar     key)
{
  for (int i = 0; i < self->n; i++)
    if (self->key[i] == key)
      return FALSE;
  return g_unichar_isalpha (key);
}

/* The first letter of the word that is free; where all are taken, the first of the alphabet that is. */
static gunichar
find_key (WbKeyChoice *self,
          const char  *word)
{
  for (const char *at = word; *at != '\0'; at = g_utf8_next_char (at))
    if (is_free (self, g_unichar_tolower (g_utf8_get_char (at))))
      return g_unichar_tolower (g_utf8_get_char (at));
  for (gunichar key = 'a'; key <= 'z'; key++)
    if (is_free (self, key))
      return key;
  return 0;
}

static GtkWidget *
item_new (WbKeyChoice *self,
          const char  *word,
          gunichar     key)
{
  GtkWidget *button = gtk_button_new (), *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8), *cap, *text;
  char letter[8] = "";
  g_autofree char *name = NULL;

  if (key != 0)
    letter[g_unichar_to_utf8 (g_unichar_toupper (key), letter)] = '\0';
  name = g_strdup_printf ("%s, %s", letter, word);
  cap = g_object_new (GTK_TYPE_LABEL, "label", letter, "width-chars", 2, NULL);
  text = g_object_new (GTK_TYPE_LABEL, "label", word, "xalign", 0.0, NULL);
  gtk_widget_add_css_class (cap, "dim-label");
  gtk_box_append (GTK_BOX (line), cap);
  gtk_box_append (GTK_BOX (line), text);
  gtk_button_set_child (GTK_BUTTON (button), line);
  gtk_button_set_has_frame (GTK_BUTTON (button), FALSE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  g_signal_connect_swapped (button, "clicked", G_CALLBACK (on_item_clicked_cb), self);
  return button;
}

static GtkWidget *
popover_new (WbKeyChoice *self)
{
  GtkWidget *popover = gtk_popover_new (), *grid = gtk_grid_new ();
  GtkEventController *keys = gtk_event_controller_key_new ();
  int rows;

  for (int i = 0; i < MAXIMUM && self->words[i].nick != NULL; i++)
    {
      self->key[i] = find_key (self, _(self->words[i].label));
      self->item[i] = item_new (self, _(self->words[i].label), self->key[i]);
      self->n++;
    }
  rows = (self->n + N_COLUMNS - 1) / N_COLUMNS;
  for (int i = 0; i < self->n; i++)
    gtk_grid_attach (GTK_GRID (grid), self->item[i], i / rows, i % rows, 1, 1);
  gtk_popover_set_child (GTK_POPOVER (popover), grid);
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (on_key_pressed_cb), self);
  gtk_widget_add_controller (popover, keys);
  return popover;
}

GtkWidget *
wb_key_choice_new (const WbWord *words,
                   const char   *none,
                   const char   *label)
{
  WbKeyChoice *self;

  g_return_val_if_fail (words != NULL && none != NULL && label != NULL, NULL);

  self = g_object_new (WB_TYPE_KEY_CHOICE, NULL);
  self->words = words;
  self->none = g_strdup (none);
  self->label = g_strdup (label);
  gtk_menu_button_set_popover (GTK_MENU_BUTTON (self->button), popover_new (self));
  show_value (self);
  return GTK_WIDGET (self);
}

void
wb_key_choice_set_value (WbKeyChoice *self,
                         int          value)
{
  g_return_if_fail (WB_IS_KEY_CHOICE (self));
  g_return_if_fail (value >= -1 && value < self->n);
  self->value = value;
  show_value (self);
}

int
wb_key_choice_get_value (WbKeyChoice *self)
{
  g_return_val_if_fail (WB_IS_KEY_CHOICE (self), -1);
  return self->value;
}

void
wb_key_choice_open (WbKeyChoice *self)
{
  g_return_if_fail (WB_IS_KEY_CHOICE (self));
  gtk_menu_button_popup (GTK_MENU_BUTTON (self->button));
  gtk_widget_grab_focus (self->item[MAX (self->value, 0)]);
}

gunichar
wb_key_choice_get_key (WbKeyChoice *self,
                       int          value)
{
  g_return_val_if_fail (WB_IS_KEY_CHOICE (self), 0);
  g_return_val_if_fail (value >= 0 && value < self->n, 0);
  return self->key[value];
}
