/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-record.h"

G_BEGIN_DECLS

/*
 * One field of a record's form: the control that its type asks for, a hint,
 * and the words of what is wrong with it. Part of WbRecordForm.
 * Signals: "changed", when the person changed it; "activate", on Enter in it.
 */
#define WB_TYPE_RECORD_FIELD (wb_record_field_get_type ())
G_DECLARE_FINAL_TYPE (WbRecordField, wb_record_field, WB, RECORD_FIELD, GtkWidget)

/* spec: borrowed for good; its label is not NULL. us_units: which unit a bare number has. */
GtkWidget         *wb_record_field_new         (const WbFieldSpec *spec, gboolean us_units);
const WbFieldSpec *wb_record_field_get_spec    (WbRecordField *self);
/* For a reference: what may be chosen, titles in the order of ids. Both copied. */
void               wb_record_field_set_choices (WbRecordField *self, const gint64 *ids, const char *const *titles);
/*
 * Of a number without a unit in its spec, which means another thing of another record: its unit now, words in place of a symbol that
 * the unit lacks (NULL: none), and the hint below. Before it is read.
 */
void               wb_record_field_set_unit    (WbRecordField *self, WbUnit unit, const char *words, const char *hint);
/* Shows the record's value. */
void               wb_record_field_read        (WbRecordField *self, gconstpointer record);
/* Puts the value into the record; a wrong one leaves the record's field as it is. */
void               wb_record_field_write       (WbRecordField *self, gpointer record);
/* Shows what is wrong; TRUE: nothing is. */
gboolean           wb_record_field_check       (WbRecordField *self);
/* Words of somebody else's about this field; NULL takes them off. */
void               wb_record_field_set_problem (WbRecordField *self, const char *text);
const char        *wb_record_field_get_problem (WbRecordField *self); /* NULL: none shown */
/* Words to think about, in place of the hint until NULL takes them off; they hinder nothing. */
void               wb_record_field_set_caution (WbRecordField *self, const char *text);
const char        *wb_record_field_get_caution (WbRecordField *self); /* NULL: none */
gboolean           wb_record_field_get_touched (WbRecordField *self);
/* What it holds is on its way to be stored, until it is changed again or read anew. */
void               wb_record_field_mark_sent   (WbRecordField *self);
/* Untouched, or not touched since it was marked. */
gboolean           wb_record_field_get_sent    (WbRecordField *self);

/* What was typed or chosen, right or wrong; NULL: it is untouched. Caller frees. */
char              *wb_record_field_dup_typed   (WbRecordField *self);
/* Such a text as if it were typed now, without a "changed"; of a reference once its choices are set. */
void               wb_record_field_put_typed   (WbRecordField *self, const char *text);

G_END_DECLS
