/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-app-notebook.h"

G_BEGIN_DECLS

/*
 * Deletes a stored material (copied) once the person agreed. Where something uses it, it stays, and what uses it is listed. A
 * failure is told in the window of `where`.
 */
void wb_material_delete (GtkWidget *where, WbAppNotebook *notebook, gconstpointer material);

G_END_DECLS
