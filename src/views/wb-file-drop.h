/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-logger-strip.h"
#include "wb-photo-strip.h"

G_BEGIN_DECLS

/*
 * Files that are dropped beside a candle. What is named as a table (.csv, .tsv, .txt) is a temperature logger's, one at a time:
 * its columns are looked over. All others are photos; what is none is refused by its name where it is read.
 */

/* Whose they are, at that point of the widget; NULL: those of the sample that the strips show. */
typedef WbAppBenchSample *(*WbFileDropFunc) (GtkWidget *where, double x, double y);

/* `where` takes files from now on. find: NULL: always of the sample that the strips show. */
void     wb_file_drop_accept (GtkWidget *where, WbPhotoStrip *photos, WbLoggerStrip *loggers, WbFileDropFunc find);
/* What it does then. FALSE: nothing of it was taken. */
gboolean wb_file_drop_take   (const GValue *value, WbPhotoStrip *photos, WbLoggerStrip *loggers, WbAppBenchSample *sample);

G_END_DECLS
