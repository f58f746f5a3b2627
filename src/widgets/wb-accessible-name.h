/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * GTK 4.8 gives the name of some widgets to a part that never has the focus:
 * a drop-down's focus is in a button inside it, a list's on the row around its
 * cell. These name what assistive technology reads.
 */
void wb_accessible_name_drop_down (GtkDropDown *drop_down, const char *name);
void wb_accessible_name_column_view (GtkColumnView *view, const char *name);
/*
 * Of a button with a mnemonic, whose words are `label` ("_Next"): its name is the words without the mark, and they alone. GTK 4.8 reads
 * the label that it is labelled by beside the name that it is given. After each change of the words.
 */
void wb_accessible_name_button (GtkButton *button, const char *label);
/* In "bind", once the child is set. */
void wb_accessible_name_list_item (GtkListItem *item, const char *name);

G_END_DECLS
