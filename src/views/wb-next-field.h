/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* The field in which the keyboard is, if it lies in the container and has one line; NULL: none. */
GtkWidget *wb_next_field_find (GtkWidget *container);
/* Puts the keyboard into the first field of the container that can be typed in and stands behind that widget. FALSE: there is none. */
gboolean   wb_next_field_go   (GtkWidget *container, GtkWidget *behind);

G_END_DECLS
