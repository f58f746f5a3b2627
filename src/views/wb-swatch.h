/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Line and marker of a series as the chart beside it has them, in the window's look. It says nothing to assistive technology. */
GtkWidget *wb_swatch_new (int series);

G_END_DECLS
