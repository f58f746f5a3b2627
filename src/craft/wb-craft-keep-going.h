/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef gboolean (*WbCraftKeepGoing) (double done, gpointer user); /* done 0 to 1; FALSE: stop */

/* A part's progress as its share of the whole: on_progress is the keep_going of the part, with this as its user. */
typedef struct
{
  WbCraftKeepGoing keep_going; /* of the whole; may be NULL */
  gpointer         user;
  double           from, to;
} WbCraftProgress;

gboolean wb_craft_progress_on_part (double   done,
                                    gpointer progress);

G_END_DECLS
