/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-experiment.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * The limits of an experiment being planned, each with its source: where to
 * ask, where to stop, and whether it is off, which takes a reason. Whether a
 * published one was loosened is the plan's to say. Signal "changed": the person changed one.
 */
#define WB_TYPE_LIMIT_LIST (wb_limit_list_get_type ())
G_DECLARE_FINAL_TYPE (WbLimitList, wb_limit_list, WB, LIMIT_LIST, GtkWidget)

/* WbLimit, edited in place; takes a reference. NULL: none. us_units: which units are read and typed. */
void     wb_limit_list_set_limits (WbLimitList *self, GPtrArray *limits, gboolean us_units);
/* Shows what is wrong, focus into the first; TRUE: nothing is. */
gboolean wb_limit_list_check      (WbLimitList *self);

G_END_DECLS
