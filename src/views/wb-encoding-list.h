/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* The encodings of text that a person can choose among, in one order: in all that reads a sheet. */

/* Their titles, translated. Caller unrefs. */
GtkStringList *wb_encoding_list_new  (void);
/* Where the one is that iconv calls so; GTK_INVALID_LIST_POSITION: it is none of them. */
guint          wb_encoding_list_find (const char *name);
/* As iconv calls the one at that place; NULL: there is none. */
const char    *wb_encoding_list_get  (guint position);

G_END_DECLS
