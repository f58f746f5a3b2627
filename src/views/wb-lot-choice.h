/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-query.h"
#include "wb-question.h"

G_BEGIN_DECLS

/*
 * Lots at the place where they are typed: a list of the material's lots that are not used up, at the end of the field and on
 * Down in it; anything else may be typed (a code that is no lot yet becomes one: wb_craft_lot_add_missing). A lot that is used
 * up is asked about, never refused. A code that is nearly a lot's brings a hint below: in the line of its WbRecordField, or in the
 * box that the entry stands in.
 */

/*
 * field: an entry, or a WbRecordField that holds one (wb_record_form_get_field). material: whose lots; of a blend those of its
 * parts too, several to one text. Called again it offers what there is then; 0 takes the list away. The materials are copied.
 */
void  wb_lot_choice_offer       (GtkWidget *field, const WbAppMaterials *materials, gint64 material);

/* Adds "Wax lot W-101" to `gone` (char *) for each lot of the text that is used up. label: "Wax lot". */
void  wb_lot_choice_add_used_up (GPtrArray *gone, const WbAppMaterials *materials, gint64 material, const char *label, const char *text);
/* The same of each code that is a lot of another material, and none of this one. */
void  wb_lot_choice_add_others  (GPtrArray *others, const WbAppMaterials *materials, gint64 material, const char *label, const char *text);
/* Asks whether they are poured all the same; with nothing in `gone` it says yes at once, before it returns. */
void  wb_lot_choice_ask         (GtkWidget *where, const GPtrArray *gone, WbQuestionFunc callback, gpointer user);

G_END_DECLS
