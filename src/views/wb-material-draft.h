/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-draft.h"
#include "wb-material-editor.h"

G_BEGIN_DECLS

/* What is half typed into the form of a material and its method, kept beside the notebook until it is saved or dropped. */

/* like: the material that a new one was copied from; 0: none. An untouched form is forgotten. */
void      wb_material_draft_keep     (WbAppDraft *draft, WbMaterialEditor *editor, gint64 like);
/*
 * The record to be shown for what is kept, of the kind that it names: the stored one, or a new one; caller frees. NULL: nothing is
 * kept, or its material is gone.
 */
WbRecord *wb_material_draft_find     (WbAppDraft *draft, const WbAppMaterials *materials, const WbMaterialKind **kind, gint64 *like);
/* Types it into the editor, which shows that record with its parts. */
void      wb_material_draft_put_back (WbAppDraft *draft, WbMaterialEditor *editor);

G_END_DECLS
