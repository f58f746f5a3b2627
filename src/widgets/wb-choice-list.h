/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * Makes a drop-down of a GtkStringList keep its place whatever its words are:
 * GTK 4.8's own asks for the width of the longest of them. Long ones end in an
 * ellipsis and stand whole in a tooltip; the chosen one is ticked in the list.
 * characters: the width that it asks for.
 */
void wb_choice_list_fit (GtkDropDown *drop_down, int characters);

G_END_DECLS
