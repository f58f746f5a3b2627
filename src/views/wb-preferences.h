/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-app-notebook.h"
#include "wb-app-settings.h"

G_BEGIN_DECLS

/* Preferences: of this computer at once as they are chosen, of the notebook by a save. */
#define WB_TYPE_PREFERENCES (wb_preferences_get_type ())
G_DECLARE_FINAL_TYPE (WbPreferences, wb_preferences, WB, PREFERENCES, GtkWindow)

/* notebook: NULL where none is open. */
GtkWidget *wb_preferences_new (GtkWindow *parent, WbAppSettings *settings, WbAppNotebook *notebook);
/* Takes the keyboard to the evenings of the bench once it is shown; nothing without a notebook. */
void       wb_preferences_go_to_evenings (WbPreferences *self);

G_END_DECLS
