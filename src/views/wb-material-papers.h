/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-app-notebook.h"

G_BEGIN_DECLS

/*
 * The documents that are kept with a material: a row each, which opens it in the desktop's program for it, with "save as" and
 * "remove" beside it. Files come in by a button, by a key of the page or by being dropped anywhere on the material's form.
 * Signal "went-on" (gboolean kept): one more is kept, or could not be.
 */
#define WB_TYPE_MATERIAL_PAPERS (wb_material_papers_get_type ())
G_DECLARE_FINAL_TYPE (WbMaterialPapers, wb_material_papers, WB, MATERIAL_PAPERS, GtkWidget)

/* notebook NULL or owner 0: nobody's. title: what people call the owner. Reads anew what there is. */
void     wb_material_papers_show   (WbMaterialPapers *self, WbAppNotebook *notebook, gint64 owner, const char *title);
/* Asks for files. */
void     wb_material_papers_choose (WbMaterialPapers *self);
/* Takes them, one after the other; what cannot be kept is told by its name. FALSE: nothing can be taken now. */
gboolean wb_material_papers_add    (WbMaterialPapers *self, GListModel *files);
/* Files that are on their way into the notebook, of whatever material. */
guint    wb_material_papers_count_adding (WbMaterialPapers *self);
/* Files dropped on `where` are its from now on. */
void     wb_material_papers_accept (WbMaterialPapers *self, GtkWidget *where);

G_END_DECLS
