/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-reading.h"

G_BEGIN_DECLS

/*
 * Who rated, and with what and where temperatures were read: the same from
 * reading to reading, so it is proposed, folded away, and can be opened.
 * Signals: "changed", when the person typed; "activate", on Enter.
 */
#define WB_TYPE_READING_DETAILS (wb_reading_details_get_type ())
G_DECLARE_FINAL_TYPE (WbReadingDetails, wb_reading_details, WB, READING_DETAILS, GtkWidget)

GtkWidget  *wb_reading_details_new     (void);
/* Only for rater, instrument and place of it; "" where nothing stands. */
const char *wb_reading_details_get     (WbReadingDetails *self, WbReadingText which);
/* Puts it where nothing stands yet; NULL: no proposal. */
void        wb_reading_details_propose (WbReadingDetails *self, WbReadingText which, const char *text);
/* Nothing stands there, and it is folded. */
void        wb_reading_details_clear   (WbReadingDetails *self);
/* Opens it where a temperature is asked and it is not said what reads it. */
void        wb_reading_details_ask     (WbReadingDetails *self, gboolean temperature);
/* Opens it where it is not said who rates. */
void        wb_reading_details_ask_rater (WbReadingDetails *self);
/* Puts the keyboard where it is said who rates, opened, if nothing stands there. FALSE: something does, or the keyboard is there already. */
gboolean    wb_reading_details_go_to_rater (WbReadingDetails *self);
/* Sets the texts of a reading; those of the thermometer only where it holds a temperature. */
void        wb_reading_details_fill    (WbReadingDetails *self, WbReading *reading);

G_END_DECLS
