/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gio/gio.h>

G_BEGIN_DECLS

/*
 * What can go wrong in a use case. Every async and sync door of this room ends
 * with a result or with one of: WB_APP_ERROR, WB_RECORD_ERROR (a value of a
 * record), WB_NUMBER_ERROR, G_IO_ERROR_CANCELLED, G_FILE_ERROR or G_IO_ERROR
 * (files other than the notebook). Messages are one line, for people.
 */
typedef enum
{
  WB_APP_ERROR_NOT_A_NOTEBOOK, /* another kind of file */
  WB_APP_ERROR_NEWER,          /* written by a newer program */
  WB_APP_ERROR_OLDER,          /* must be migrated first, and may not be written */
  WB_APP_ERROR_DAMAGED,        /* the file's content is not sound */
  WB_APP_ERROR_LOCKED,         /* another program held it for more than 5 s */
  WB_APP_ERROR_READ_ONLY,      /* opened for reading only */
  WB_APP_ERROR_MISSING,        /* no such file, or moved or deleted since it was opened */
  WB_APP_ERROR_EXISTS,         /* a file of that name is there already */
  WB_APP_ERROR_FULL,           /* no space left */
  WB_APP_ERROR_CHANGED,        /* a record was changed since it was read: read it anew */
  WB_APP_ERROR_IN_USE,         /* a record that others refer to cannot be deleted */
  WB_APP_ERROR_UNKNOWN,        /* no record of that name or number */
  WB_APP_ERROR_REFUSED,        /* against a rule, said in the message */
  WB_APP_ERROR_NOTHING,        /* nothing to take back, nothing to save */
  WB_APP_ERROR_FAILED          /* the rest: the message says it */
} WbAppError;

#define WB_APP_ERROR (wb_app_error_quark ())
/* The domain of these codes. */
GQuark wb_app_error_quark (void);

G_END_DECLS
