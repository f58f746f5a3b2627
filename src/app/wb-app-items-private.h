/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gio/gio.h>

G_BEGIN_DECLS

/*
 * Puts `fresh` (taken) in place of the objects of a list model and announces
 * the stretch between the ends that are the same objects. FALSE: nothing differs.
 */
gboolean wb_app_items_replace (GListModel *model, GPtrArray **items, GPtrArray *fresh);

G_END_DECLS
