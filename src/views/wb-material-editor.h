/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-app-notebook.h"
#include "wb-material-kind.h"
#include "wb-material-papers.h"
#include "wb-save-mark.h"

G_BEGIN_DECLS

/* The form of one material with what belongs to it. Its buttons are the page's actions. Signal "changed": the person typed. */
#define WB_TYPE_MATERIAL_EDITOR (wb_material_editor_get_type ())
G_DECLARE_FINAL_TYPE (WbMaterialEditor, wb_material_editor, WB, MATERIAL_EDITOR, GtkWidget)

/* record id 0: a new one. The record is copied. NULL: nothing is chosen. */
void       wb_material_editor_show       (WbMaterialEditor *self, WbAppNotebook *notebook, const WbMaterialKind *kind,
                                          gconstpointer record);
/* What was being saved is stored, as this record, where it is the one that is shown; FALSE: another is. What was typed since stays. */
gboolean   wb_material_editor_take_stored (WbMaterialEditor *self, gconstpointer record, gint64 id_before);
/* The same of the method of that wax: by this entry (0: nothing was different), its steps under these ids. */
gboolean   wb_material_editor_take_stored_method (WbMaterialEditor *self, gint64 wax, gint64 entry, const gint64 *ids);
/* Lots and parts of the record that is shown, from what was just read. */
void       wb_material_editor_show_parts (WbMaterialEditor *self, const WbAppMaterials *materials);
/* Asks for files to be kept with the record that is shown. */
void       wb_material_editor_choose_papers (WbMaterialEditor *self);
/* Id of the record that is shown; 0: a new one or none. */
gint64     wb_material_editor_get_id     (WbMaterialEditor *self);
/* Its documents. */
WbMaterialPapers *wb_material_editor_get_papers (WbMaterialEditor *self);
gboolean   wb_material_editor_has_record (WbMaterialEditor *self);
/* Its heading; borrowed. */
const char *wb_material_editor_get_title (WbMaterialEditor *self);
/* Something in its fields, or in its method, is changed and not saved. */
gboolean   wb_material_editor_get_touched (WbMaterialEditor *self);
gboolean   wb_material_editor_get_form_touched (WbMaterialEditor *self);
gboolean   wb_material_editor_check      (WbMaterialEditor *self);
/* What the fields hold; caller frees. NULL: nothing is chosen. */
gpointer   wb_material_editor_dup_record (WbMaterialEditor *self);
/* WbMethodStep of a wax to be saved with it; empty: none was changed. Caller unrefs. */
GPtrArray *wb_material_editor_dup_method_changes (WbMaterialEditor *self);
/* What is changed and not saved, right or wrong, a group of each; and back, as if it were typed. */
void       wb_material_editor_keep       (WbMaterialEditor *self, GKeyFile *file, const char *form, const char *method);
void       wb_material_editor_put_back   (WbMaterialEditor *self, GKeyFile *file, const char *form, const char *method);
/* The keyboard goes to that field. */
/* What was typed elsewhere into the form, as wb_record_form_keep() has it: as if it were typed here. */
void       wb_material_editor_put_typed  (WbMaterialEditor *self, GKeyFile *file, const char *form);
void       wb_material_editor_focus_field (WbMaterialEditor *self, const char *name);
/* Words at a field, or below the form where `field` is NULL; NULL text takes the latter off. */
void       wb_material_editor_set_problem (WbMaterialEditor *self, const char *field, const char *text);
/* SAVING: what the form holds now is what is on its way. */
void       wb_material_editor_set_saving (WbMaterialEditor *self, WbSaveState state);

G_END_DECLS
