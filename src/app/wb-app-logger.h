/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-attachment.h"
#include "wb-app-bench.h"
#include "wb-chart.h"
#include "wb-craft-logger.h"

G_BEGIN_DECLS

/*
 * A temperature logger's file laid beside one burn: read, summed up and drawn off the main thread. It is kept with the burn as
 * an attachment of the role WB_ATTACHMENT_LOGGER, whose bytes are the choice and behind it the file as it was
 * (wb-exchange-logger.h); what it says is worked out anew each time, against the limits as they stand. Never a reading.
 */
typedef struct
{
  WbBurn         *burn;
  char           *name;      /* of the file */
  GBytes         *bytes;     /* the file's own */
  char          **names;     /* of its columns, strv; NULL of a kept one */
  WbLoggerChoice *choice;    /* by which it was read, or that is proposed */
  char           *problem;   /* why nothing can be read by that choice, one sentence; NULL: it was read */
  WbLogger       *logger;    /* these NULL where there is a problem */
  WbChart        *chart;
  GPtrArray      *limits;    /* WbLimit; what the summary borrows from */
  WbCraftLogger   summary;
  double          end_min;   /* of the burn; NAN: it is alight, or not known */
} WbAppLogger;

/* NULL is let pass. */
void         wb_app_logger_free        (WbAppLogger *self);

/*
 * Reads a file against a burn of that sample. choice NULL: one is proposed. before: what the last call gave, so that the file is
 * not read again, or NULL; where the choice has another encoding, delimiter or header line than it had, its columns are proposed
 * anew. Errors: WB_EXCHANGE_ERROR and GIO's where the file cannot be read at all; else see `problem`.
 */
void         wb_app_logger_read_async  (WbAppNotebook *notebook, WbAppBenchSample *sample, const WbBurn *burn, GFile *file,
                                        const WbAppLogger *before, const WbLoggerChoice *choice, gboolean us_units,
                                        GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user);
/* A kept one. UNKNOWN where its bytes or its burn are not there. */
void         wb_app_logger_load_async  (WbAppNotebook *notebook, WbAppBenchSample *sample, const WbAttachment *kept, gboolean us_units,
                                        GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user);
/* Ends both. Caller owns it. */
WbAppLogger *wb_app_logger_read_finish (WbAppNotebook *notebook, GAsyncResult *result, GError **error);

/* Keeps it with its burn: one entry, which undo takes back. Without a problem only. code: of the sample. Ends with wb_app_attachment_finish(). */
void         wb_app_logger_add_async   (WbAppNotebook *notebook, const WbAppLogger *logger, const char *code, GCancellable *cancellable,
                                        GAsyncReadyCallback callback, gpointer user);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbAppLogger, wb_app_logger_free)

G_END_DECLS
