/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-host.h"

G_BEGIN_DECLS

/* What goes in and out of a window's notebook as other files. Each asks for the file first; a window without a notebook does nothing. */

/* Burn log in: CSV. */
void wb_transfer_import      (WbHost *host);
/* Readings, figures and dates out, by the file's ending; experiment 0: all. Progress stands in the window. */
void wb_transfer_export      (WbHost *host, gint64 experiment);
/* What is to come of all experiments, as iCalendar. Over an earlier one it says what fell away, too. */
void wb_transfer_export_calendar (WbHost *host);
/* Materials as CSV, in: kind is that of a file which does not say of which its rows are. Out: NULL is all kinds. */
void wb_transfer_import_materials (WbHost *host, const WbRecordType *kind);
void wb_transfer_export_materials (WbHost *host, const WbRecordType *kind);
/* The same with the file known. */
void wb_transfer_import_materials_file (WbHost *host, const WbRecordType *kind, const char *path);
void wb_transfer_export_materials_file (WbHost *host, const WbRecordType *kind, const char *path);
void wb_transfer_import_file (WbHost *host, const char *path);
void wb_transfer_export_file (WbHost *host, gint64 experiment, const char *path);

G_END_DECLS
