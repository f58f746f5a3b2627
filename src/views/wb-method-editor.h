/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-app-query.h"

G_BEGIN_DECLS

/*
 * The method of a wax: its steps in order, each with temperature, minutes and how. A wax without one of its own is shown the usual
 * one, which becomes its own once it is changed and saved. Steps are moved by their arrows, by dragging, and by Alt+Up and Alt+Down.
 * It saves nothing itself: who shows it saves its changes with those of the wax. Signal "changed": the person did.
 */
#define WB_TYPE_METHOD_EDITOR (wb_method_editor_get_type ())
G_DECLARE_FINAL_TYPE (WbMethodEditor, wb_method_editor, WB, METHOD_EDITOR, GtkWidget)

/* material: copied; hidden where it is no stored wax. What was changed and not saved stays while the wax is the same. */
void       wb_method_editor_show        (WbMethodEditor *self, WbAppNotebook *notebook, const WbAppMaterials *materials, gconstpointer material);
gboolean   wb_method_editor_get_touched (WbMethodEditor *self);
/* What was changed is dropped; the next show shows what is stored. */
void       wb_method_editor_revert      (WbMethodEditor *self);
/* WbMethodStep as the rows stand; caller unrefs. */
GPtrArray *wb_method_editor_dup_steps   (WbMethodEditor *self);
/* What the buttons do: a step of that kind (WbStepKind) at the end; one away; one to another place; the usual method. */
void       wb_method_editor_add         (WbMethodEditor *self, int kind);
void       wb_method_editor_remove      (WbMethodEditor *self, guint place);
void       wb_method_editor_move        (WbMethodEditor *self, guint from, guint to);
void       wb_method_editor_usual       (WbMethodEditor *self);
/* Shows what is wrong, the keyboard at the first of it; TRUE: nothing is. */
gboolean   wb_method_editor_check       (WbMethodEditor *self);
/* WbMethodStep to be saved; empty: nothing was changed. Caller unrefs. */
GPtrArray *wb_method_editor_dup_changes (WbMethodEditor *self);
/* Those are on their way; and they are stored, by that entry (0: nothing was different) under these ids. What was typed since stays. */
void       wb_method_editor_mark_sent   (WbMethodEditor *self);
void       wb_method_editor_take_stored (WbMethodEditor *self, gint64 entry, const gint64 *ids);
/* What is changed and not saved, right or wrong; and back, as if it were typed, unless something is typed already. */
void       wb_method_editor_keep        (WbMethodEditor *self, GKeyFile *file, const char *group);
void       wb_method_editor_put_back    (WbMethodEditor *self, GKeyFile *file, const char *group);

G_END_DECLS
