/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-pick-list.h"

#include "wb-craft-beside.h"
#include "wb-plot-beside.h"
#include "wb-swatch.h"

#include <glib/gi18n.h>

/* CSS node: picklist. */

struct _WbPickList
{
  GtkWidget   parent_instance;

  /* children */
  GtkListBox *box;

  /* owned */
  WbPicks    *picks;  /* NULL: none */
  GPtrArray  *texts;  /* char * of each line */

  /* state */
  int         wanted; /* the line that gets the keyboard once it is there; -1: none */
};

G_DEFINE_FINAL_TYPE (WbPickList, wb_pick_list, GTK_TYPE_WIDGET)

enum { OPENED, N_SIGNALS };
static guint signals[N_SIGNALS];

/* What tells it apart from the others, once they all have their answers. Caller frees. */
static char *
dup_name (WbPickList *self,
          guint       index)
{
  guint n = wb_picks_get_n (self->picks);
  g_autofree WbCraftPick *all = g_new0 (WbCraftPick, n);

  for (guint i = 0; i < n; i++)
    {
      const WbPicked *picked = wb_picks_get (self->picks, i);

      if (picked->answer == NULL)
        return g_strdup (wb_picks_get (self->picks, index)->title);
      all[i] = (WbCraftPick) { picked->answer, picked->index, picked->sample };
    }
  return wb_craft_pick_dup_name (all, n, index);
}

/* Samples and burns that an answer rests on. Caller frees. */
static char *
dup_basis (const WbPicked *picked)
{
  guint burns = 0, samples = 0, last = G_MAXUINT;
  g_autofree char *of_samples = NULL, *of_burns = NULL;

  for (guint i = 0; i < picked->answer->data->burns->len; i++)
    {
      guint sample = g_array_index (picked->answer->data->burn_sample, guint, i);

      if (picked->sample >= 0 ? sample != (guint) picked->sample
                              : g_array_index (picked->answer->data->sample_cell, guint, sample) != picked->index)
        continue;
      burns++;
      samples += sample != last ? 1 : 0;
      last = sample;
    }
  of_burns = g_strdup_printf (ngettext ("%u burn", "%u burns", burns), burns);
  if (picked->sample >= 0)
    return g_strdup_printf (_("one sample, %s"), of_burns);
  of_samples = g_strdup_printf (ngettext ("%u sample", "%u samples", samples), samples);
  /* Translators: "3 samples, 45 burns". */
  return g_strdup_printf (_("%s, %s"), of_samples, of_burns);
}

/* What it rests on, why it has no answer, or why its answer is of what was there before. Caller frees. */
static char *
dup_about (const WbPicked *picked)
{
  g_autofree char *basis = NULL;

  if (picked->answer == NULL)
    return g_strdup (picked->why != NULL ? picked->why : _("being worked out…"));
  basis = dup_basis (picked);
  if (picked->fresh || picked->why == NULL)
    return g_steal_pointer (&basis);
  /* Translators: "3 samples, 45 burns", which were worked out before something changed; why they were not worked out again. */
  return g_strdup_printf (_("%s; not as it is now: %s"), basis, picked->why);
}

static guint
get_index (GtkWidget *within)
{
  GtkWidget *row = gtk_widget_get_ancestor (within, GTK_TYPE_LIST_BOX_ROW);

  return row != NULL ? (guint) gtk_list_box_row_get_index (GTK_LIST_BOX_ROW (row)) : G_MAXUINT;
}

static void
move (WbPickList *self,
      guint       index,
      int         by)
{
  self->wanted = (int) index + by;
  if (!wb_picks_move (self->picks, index, by))
    self->wanted = -1;
}

static void
take_away (WbPickList *self,
           guint       index)
{
  self->wanted = MAX (0, MIN ((int) index, (int) wb_picks_get_n (self->picks) - 2));
  wb_picks_remove (self->picks, index);
}

static void
on_up_clicked_cb (GtkWidget  *button,
                  WbPickList *self)
{
  move (self, get_index (button), -1);
}

static void
on_down_clicked_cb (GtkWidget  *button,
                    WbPickList *self)
{
  move (self, get_index (button), 1);
}

static void
on_remove_clicked_cb (GtkWidget  *button,
                      WbPickList *self)
{
  take_away (self, get_index (button));
}

static GtkWidget *
button_new (WbPickList *self,
            const char *icon,
            const char *name,
            GCallback   callback)
{
  GtkWidget *button = gtk_button_new_from_icon_name (icon);

  gtk_widget_add_css_class (button, "flat");
  gtk_widget_set_valign (button, GTK_ALIGN_CENTER);
  /* The line takes the keys: Alt+Up, Alt+Down, Delete. */
  gtk_widget_set_focusable (button, FALSE);
  gtk_widget_set_tooltip_text (button, name);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  g_signal_connect (button, "clicked", callback, self);
  return button;
}

static GtkWidget *
buttons_new (WbPickList *self,
             guint       index,
             const char *name)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  g_autofree char *up = g_strdup_printf (_("Put %s one up (Alt+Up)"), name);
  g_autofree char *down = g_strdup_printf (_("Put %s one down (Alt+Down)"), name);
  g_autofree char *away = g_strdup_printf (_("Take %s away (Delete)"), name);

  if (index > 0)
    gtk_box_append (GTK_BOX (box), button_new (self, "go-up-symbolic", up, G_CALLBACK (on_up_clicked_cb)));
  if (index + 1 < wb_picks_get_n (self->picks))
    gtk_box_append (GTK_BOX (box), button_new (self, "go-down-symbolic", down, G_CALLBACK (on_down_clicked_cb)));
  gtk_box_append (GTK_BOX (box), button_new (self, "list-remove-symbolic", away, G_CALLBACK (on_remove_clicked_cb)));
  return box;
}

static GtkWidget *
text_new (const char *text,
          const char *style)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", text, "xalign", 0.0, "hexpand", TRUE, "wrap", TRUE,
                                   "wrap-mode", PANGO_WRAP_WORD_CHAR, NULL);

  gtk_widget_add_css_class (label, style);
  return label;
}

/* In the chart there are only those that have an answer. */
static GtkWidget *
swatch_new (WbPickList *self,
            guint       index)
{
  g_autofree WbCraftPick *drawn = g_new (WbCraftPick, wb_picks_get_n (self->picks));
  gsize n = 0, at = 0;

  for (guint i = 0; i < wb_picks_get_n (self->picks); i++)
    {
      const WbPicked *picked = wb_picks_get (self->picks, i);

      if (i == index)
        at = n;
      if (picked->answer != NULL)
        drawn[n++] = (WbCraftPick) { picked->answer, picked->index, picked->sample };
    }
  return wb_swatch_new (wb_plot_beside_get_series (drawn, n, at));
}

static GtkWidget *
row_new (WbPickList *self,
         guint       index)
{
  WbPicked picked = *wb_picks_get (self->picks, index);
  g_autofree char *about = dup_about (&picked);
  gboolean one = picked.pick.sample != 0, there = picked.answer != NULL;
  g_autofree char *name = dup_name (self, index);
  g_autofree char *spoken = g_strdup_printf ("%s, %s", name, about);
  GtkWidget *row = gtk_list_box_row_new (), *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *first = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8), *second = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);

  if (there)
    gtk_box_append (GTK_BOX (first), swatch_new (self, index));
  gtk_box_append (GTK_BOX (first), text_new (name, "heading"));
  gtk_box_append (GTK_BOX (second), text_new (about, "hint"));
  gtk_box_append (GTK_BOX (second), buttons_new (self, index, name));
  gtk_box_append (GTK_BOX (box), first);
  gtk_box_append (GTK_BOX (box), second);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  gtk_list_box_row_set_activatable (GTK_LIST_BOX_ROW (row), there);
  gtk_widget_set_tooltip_text (row, !there ? NULL : one ? _("Enter: its readings") : _("Enter: its samples side by side"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, spoken, -1);
  g_ptr_array_add (self->texts, g_steal_pointer (&spoken));
  return row;
}

static void
fill (WbPickList *self)
{
  guint n = self->picks != NULL ? wb_picks_get_n (self->picks) : 0;
  GtkWidget *focus = gtk_widget_get_focus_child (GTK_WIDGET (self->box));
  int wanted = self->wanted >= 0 ? self->wanted
               : focus != NULL && GTK_IS_LIST_BOX_ROW (focus) ? gtk_list_box_row_get_index (GTK_LIST_BOX_ROW (focus))
                                                              : -1;
  GtkWidget *child;

  g_ptr_array_set_size (self->texts, 0);
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self->box))) != NULL)
    gtk_list_box_remove (self->box, child);
  for (guint i = 0; i < n; i++)
    gtk_list_box_append (self->box, row_new (self, i));
  self->wanted = -1;
  if (wanted >= 0 && (guint) wanted < n)
    gtk_widget_grab_focus (GTK_WIDGET (gtk_list_box_get_row_at_index (self->box, wanted)));
}

static gboolean
on_key_pressed_cb (GtkEventControllerKey *controller,
                   guint                  keyval,
                   guint                  keycode,
                   GdkModifierType        state,
                   WbPickList            *self)
{
  GtkWidget *focus = gtk_widget_get_focus_child (GTK_WIDGET (self->box));
  GdkModifierType held = state & (GDK_CONTROL_MASK | GDK_ALT_MASK | GDK_SHIFT_MASK);
  guint index;

  if (focus == NULL || !GTK_IS_LIST_BOX_ROW (focus))
    return GDK_EVENT_PROPAGATE;
  index = (guint) gtk_list_box_row_get_index (GTK_LIST_BOX_ROW (focus));
  if (held == GDK_ALT_MASK && (keyval == GDK_KEY_Up || keyval == GDK_KEY_Down))
    move (self, index, keyval == GDK_KEY_Up ? -1 : 1);
  else if (held == 0 && (keyval == GDK_KEY_Delete || keyval == GDK_KEY_KP_Delete))
    take_away (self, index);
  else
    return GDK_EVENT_PROPAGATE;
  return GDK_EVENT_STOP;
}

static void
on_row_activated_cb (WbPickList    *self,
                     GtkListBoxRow *row)
{
  g_signal_emit (self, signals[OPENED], 0, (guint) gtk_list_box_row_get_index (row));
}

static void
wb_pick_list_dispose (GObject *object)
{
  WbPickList *self = WB_PICK_LIST (object);

  if (self->picks != NULL)
    g_signal_handlers_disconnect_by_data (self->picks, self);
  g_clear_object (&self->picks);
  if (self->box != NULL)
    gtk_widget_unparent (GTK_WIDGET (self->box));
  self->box = NULL;
  G_OBJECT_CLASS (wb_pick_list_parent_class)->dispose (object);
}

static void
wb_pick_list_finalize (GObject *object)
{
  g_ptr_array_unref (WB_PICK_LIST (object)->texts);
  G_OBJECT_CLASS (wb_pick_list_parent_class)->finalize (object);
}

static void
wb_pick_list_class_init (WbPickListClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_pick_list_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_pick_list_finalize;
  signals[OPENED] = g_signal_new ("opened", WB_TYPE_PICK_LIST, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_UINT);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "picklist");
}

static void
wb_pick_list_init (WbPickList *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();

  self->texts = g_ptr_array_new_with_free_func (g_free);
  self->wanted = -1;
  self->box = GTK_LIST_BOX (gtk_list_box_new ());
  gtk_list_box_set_selection_mode (self->box, GTK_SELECTION_NONE);
  gtk_list_box_set_show_separators (self->box, TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->box), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Side by side"), -1);
  g_signal_connect_swapped (self->box, "row-activated", G_CALLBACK (on_row_activated_cb), self);
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (on_key_pressed_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self->box), keys);
  gtk_widget_set_parent (GTK_WIDGET (self->box), GTK_WIDGET (self));
}

GtkWidget *
wb_pick_list_new (void)
{
  return g_object_new (WB_TYPE_PICK_LIST, NULL);
}

void
wb_pick_list_set (WbPickList *self,
                  WbPicks    *picks)
{
  g_return_if_fail (WB_IS_PICK_LIST (self));

  if (self->picks != NULL)
    g_signal_handlers_disconnect_by_data (self->picks, self);
  g_set_object (&self->picks, picks);
  if (picks != NULL)
    {
      g_signal_connect_swapped (picks, "changed", G_CALLBACK (fill), self);
      g_signal_connect_swapped (picks, "answered", G_CALLBACK (fill), self);
    }
  fill (self);
}

const char *
wb_pick_list_get_text (WbPickList *self,
                       guint       index)
{
  g_return_val_if_fail (WB_IS_PICK_LIST (self), NULL);
  return index < self->texts->len ? self->texts->pdata[index] : NULL;
}
