/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-reading.h"

G_BEGIN_DECLS

/*
 * The control of one thing that a reading asks: the pool, a quantity, a rating,
 * an event. Enter never opens or toggles anything here: it means "on to the next".
 *
 * Signals: "changed", when the person set it; "activate", on Enter; "finished",
 * on Enter and when the keyboard leaves it; "rated", when a digit set a rating,
 * so that the keyboard can go on; "again", when the last value is wanted once
 * more, on the key =.
 */
#define WB_TYPE_READING_FIELD (wb_reading_field_get_type ())
G_DECLARE_FINAL_TYPE (WbReadingField, wb_reading_field, WB, READING_FIELD, GtkWidget)

/*
 * Any of the columns of the pool gives the field of the pool. inner_mm: of the vessel, its wider axis. wick: 0, or its number,
 * which the field's name says.
 */
GtkWidget  *wb_reading_field_new         (WbColumn column, guint wick, double inner_mm, gboolean us_units);
WbColumn    wb_reading_field_get_column  (WbReadingField *self);
/* 0: of the vessel. */
guint       wb_reading_field_get_wick    (WbReadingField *self);
/* Translated: "Pool diameter", "Flame height, wick 2". */
const char *wb_reading_field_get_label   (WbReadingField *self);
/* Writes its own columns only. */
void        wb_reading_field_get_values  (WbReadingField *self, double values[WB_N_COLUMNS]);
/* Both diameters of the pool are asked; for other columns nothing. */
void        wb_reading_field_ask_two     (WbReadingField *self);
/* The ring at the four sides is asked instead. */
void        wb_reading_field_ask_ring    (WbReadingField *self);
/* Only for a column with a single number or word. */
void        wb_reading_field_set_value   (WbReadingField *self, double value);
/* Shows what its own columns hold. */
void        wb_reading_field_set_values  (WbReadingField *self, const double values[WB_N_COLUMNS]);
/* The same, and it counts as typed, until something is typed over it. */
void        wb_reading_field_take        (WbReadingField *self, const double values[WB_N_COLUMNS]);
/* Of a quantity: nothing above it may stand there. */
void        wb_reading_field_set_maximum (WbReadingField *self, double maximum);
/* Of a quantity: it is not left empty while asked, and that word says "all of them", without a number. */
void        wb_reading_field_ask_which  (WbReadingField *self, gboolean asked, const char *word);
/* As it was made: nothing stands there, nothing was typed, nothing is wrong. */
void        wb_reading_field_clear       (WbReadingField *self);
/* Shows the words at what is wrong; TRUE: it may be saved. */
gboolean    wb_reading_field_check       (WbReadingField *self);
/* What is wrong is not shown at the field, but by whoever holds it; signal "told" when it changed. */
void        wb_reading_field_set_told_elsewhere (WbReadingField *self, gboolean told_elsewhere);
/* NULL: nothing is wrong, or was told. */
const char *wb_reading_field_get_problem (WbReadingField *self);
/* The person typed or chose something, and it stands there still. */
gboolean    wb_reading_field_get_touched (WbReadingField *self);
/* What stands in it as it was typed, right or wrong, to be put back another time. Caller frees. */
char      **wb_reading_field_dup_texts   (WbReadingField *self);
/* Puts that back as if it were typed; what cannot stand in it is left out. */
void        wb_reading_field_put_texts   (WbReadingField *self, const char *const *texts);
/* Opens the list of an event. */
void        wb_reading_field_open        (WbReadingField *self);

G_END_DECLS
