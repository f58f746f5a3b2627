/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-record.h"

G_BEGIN_DECLS

/*
 * A form made from a record type's field table: one line a field that has a
 * label, with the control, unit, hint and rule that the table says. It edits a
 * copy; nothing is saved here. Signals: "changed", "activate" (Enter in a field).
 */
#define WB_TYPE_RECORD_FORM (wb_record_form_get_type ())
G_DECLARE_FINAL_TYPE (WbRecordForm, wb_record_form, WB, RECORD_FORM, GtkWidget)

GtkWidget  *wb_record_form_new         (void);
/* Unit of bare numbers. Before the record is set. */
void        wb_record_form_set_us_units (WbRecordForm *self, gboolean us_units);
/* Fields (their names, NULL-terminated, copied) that are not asked. Before the record is set. */
void        wb_record_form_set_hidden  (WbRecordForm *self, const char *const *names);
/*
 * Fields (as above) that stand last, under "More", which is open where a record that comes has anything in one of them, and opens
 * for what is wrong there. Before the record is set. NULL: none.
 */
void        wb_record_form_set_more    (WbRecordForm *self, const char *const *names);
/* Labels above their fields instead of beside them: for a narrow column. Before the record is set. */
void        wb_record_form_set_stacked (WbRecordForm *self, gboolean stacked);
/* What a reference field may hold. After the record is set; kept until the next type. */
void        wb_record_form_set_choices (WbRecordForm *self, const char *name, const gint64 *ids, const char *const *titles);
/* As wb_record_field_set_unit(), after the record is set; kept until the next type. */
void        wb_record_form_set_unit    (WbRecordForm *self, const char *name, WbUnit unit, const char *words, const char *hint);
/* Copies the record and shows it anew. NULL: an empty form. */
void        wb_record_form_set_record  (WbRecordForm *self, gconstpointer record);
/* A copy with what the fields hold, id and entry as they were; NULL without a record. Caller frees. */
gpointer    wb_record_form_dup_record  (WbRecordForm *self);
/* Puts what the person typed into a record of the same type; the rest of it stays. */
void        wb_record_form_write       (WbRecordForm *self, gpointer record);
/* Shows every rule that is broken, puts the focus into the first such field; TRUE: none is. */
gboolean    wb_record_form_check       (WbRecordForm *self);
/* Words about a field of that name, of the store's; FALSE: it is not in the form. */
gboolean    wb_record_form_set_problem (WbRecordForm *self, const char *name, const char *text);
/* The words shown at that field; NULL: none. */
const char *wb_record_form_get_problem (WbRecordForm *self, const char *name);
/* As wb_record_field_set_caution(), of the field of that name, if it is in the form. The keyboard stays where it is. */
void        wb_record_form_set_caution (WbRecordForm *self, const char *name, const char *text);
/* The words of caution at that field; NULL: none. */
const char *wb_record_form_get_caution (WbRecordForm *self, const char *name);
/* Takes a field out of sight or back; its value stays. */
void        wb_record_form_set_shown   (WbRecordForm *self, const char *name, gboolean shown);
/* The control of a field, for tests and focus; NULL: not in the form. */
GtkWidget  *wb_record_form_get_field   (WbRecordForm *self, const char *name);
/* The person changed something since the record was set, or was stored. */
gboolean    wb_record_form_get_touched (WbRecordForm *self);
/* What was typed and chosen in the fields, right or wrong, a key a field; and back, as if it were typed. References: after their choices. */
void        wb_record_form_keep        (WbRecordForm *self, GKeyFile *file, const char *group);
void        wb_record_form_put_back    (WbRecordForm *self, GKeyFile *file, const char *group);
/* What the fields hold is on its way to be stored. */
void        wb_record_form_mark_sent   (WbRecordForm *self);
/*
 * What was on its way is stored, as this record (copied), and is what is edited from now on; what was typed in the
 * meantime stays typed and unsaved. Fields, keyboard and what an entry can take back stay, of a new record too.
 */
void        wb_record_form_take_stored (WbRecordForm *self, gconstpointer record);

G_END_DECLS
