/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-choice-list.h"

#include "wb-tooltip.h"

#define LIST_CHARACTERS 48

static GtkWidget *
label_new (int characters,
           int most)
{
  return g_object_new (GTK_TYPE_LABEL,
                       "xalign", 0.0,
                       "ellipsize", PANGO_ELLIPSIZE_END,
                       "single-line-mode", TRUE,
                       "width-chars", characters,
                       "max-width-chars", most,
                       NULL);
}

static void
show_words (GtkWidget   *label,
            GtkListItem *item)
{
  const char *words = gtk_string_object_get_string (gtk_list_item_get_item (item));

  gtk_label_set_text (GTK_LABEL (label), words);
  wb_tooltip_set (label, words);
}

static void
on_button_setup_cb (GtkListItemFactory *factory,
                    GtkListItem        *item,
                    gpointer            characters)
{
  gtk_list_item_set_child (item, label_new (GPOINTER_TO_INT (characters), GPOINTER_TO_INT (characters)));
}

static void
on_button_bind_cb (GtkListItemFactory *factory,
                   GtkListItem        *item)
{
  show_words (gtk_list_item_get_child (item), item);
}

static void
on_line_setup_cb (GtkListItemFactory *factory,
                  GtkListItem        *item)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *label = label_new (-1, LIST_CHARACTERS);

  gtk_widget_set_hexpand (label, TRUE);
  gtk_box_append (GTK_BOX (line), label);
  gtk_box_append (GTK_BOX (line), g_object_new (GTK_TYPE_IMAGE, "icon-name", "object-select-symbolic",
                                                "accessible-role", GTK_ACCESSIBLE_ROLE_PRESENTATION, NULL));
  gtk_list_item_set_child (item, line);
}

static void
show_tick (GtkListItem *item,
           GtkDropDown *drop_down)
{
  GtkWidget *line = gtk_list_item_get_child (item);

  gtk_widget_set_opacity (gtk_widget_get_last_child (line),
                          gtk_drop_down_get_selected_item (drop_down) == gtk_list_item_get_item (item) ? 1.0 : 0.0);
}

static void
on_selected_cb (GtkDropDown *drop_down,
                GParamSpec  *spec,
                GtkListItem *item)
{
  show_tick (item, drop_down);
}

static void
on_line_bind_cb (GtkListItemFactory *factory,
                 GtkListItem        *item,
                 GtkDropDown        *drop_down)
{
  show_words (gtk_widget_get_first_child (gtk_list_item_get_child (item)), item);
  g_signal_connect_object (drop_down, "notify::selected-item", G_CALLBACK (on_selected_cb), item, 0);
  show_tick (item, drop_down);
}

static void
on_line_unbind_cb (GtkListItemFactory *factory,
                   GtkListItem        *item,
                   GtkDropDown        *drop_down)
{
  g_signal_handlers_disconnect_by_func (drop_down, on_selected_cb, item);
}

void
wb_choice_list_fit (GtkDropDown *drop_down,
                    int          characters)
{
  g_autoptr (GtkListItemFactory) button = gtk_signal_list_item_factory_new ();
  g_autoptr (GtkListItemFactory) lines = gtk_signal_list_item_factory_new ();

  g_return_if_fail (GTK_IS_DROP_DOWN (drop_down));
  g_return_if_fail (characters > 0);

  g_signal_connect (button, "setup", G_CALLBACK (on_button_setup_cb), GINT_TO_POINTER (characters));
  g_signal_connect (button, "bind", G_CALLBACK (on_button_bind_cb), NULL);
  g_signal_connect (lines, "setup", G_CALLBACK (on_line_setup_cb), NULL);
  /* The lines live inside the drop-down. */
  g_signal_connect (lines, "bind", G_CALLBACK (on_line_bind_cb), drop_down);
  g_signal_connect (lines, "unbind", G_CALLBACK (on_line_unbind_cb), drop_down);
  gtk_drop_down_set_factory (drop_down, button);
  gtk_drop_down_set_list_factory (drop_down, lines);
}
