/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-notebook.h"

G_BEGIN_DECLS

/*
 * Copies of kept documents that a desktop's program was given to open: each in a folder of its own among the temporary files, named
 * by the process that made it, for reading only, so that nobody types into what is thrown away.
 */

/* A new folder for one copy. Caller frees; NULL with an error. Any thread. */
char *wb_app_document_copies_make_folder (GError **error);
/* The copy is there: for reading only from now on, and gone when the notebook is closed. */
void  wb_app_document_copies_protect     (GFile *copy);
void  wb_app_document_copies_add         (WbAppNotebook *notebook, GFile *copy);
/* Removes those of the notebook. What somebody made writable, or put beside, stays. */
void  wb_app_document_copies_remove      (WbAppNotebook *notebook);

G_END_DECLS
