/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "test-views.h"

#include "wb-material-editor.h"
#include "wb-record-form.h"

/* The page of materials in a window of a test: what stands in it, and hands that type. */

WbWindow *materials_open (const char *name, char **path);
WbRecordForm *materials_get_form (WbWindow *window);
WbMaterialEditor *materials_get_editor (WbWindow *window);
void materials_type (WbWindow *window, const char *field, const char *text);
void materials_act (WbWindow *window, const char *action);
gboolean materials_is_stored (gpointer user);
void materials_add_vessel (WbWindow *window, const char *name, const char *diameter);
