/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* What this room adds to GIO's own errors. Each message is one line and names the file's part that is meant. */
typedef enum
{
  WB_EXCHANGE_ERROR_HEADER,  /* a column is missing, doubled or has no name */
  WB_EXCHANGE_ERROR_FORMAT,  /* the file as a whole cannot be read as what it should be */
  WB_EXCHANGE_ERROR_FAILED   /* a library could not do its work */
} WbExchangeError;

#define WB_EXCHANGE_ERROR (wb_exchange_error_quark ())
GQuark wb_exchange_error_quark (void);

G_END_DECLS
