/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* The cautions of the bench, in the order in which hands would need them. */

/* What the check before the first light asks, N_()-marked sentences; ends with NULL; static. */
const char *const *wb_caution_get_check  (void);
/* What to do while it burns, by hazard, in a window to be read at a glance; Escape closes it. */
GtkWidget         *wb_caution_window_new (GtkWindow *parent);

G_END_DECLS
