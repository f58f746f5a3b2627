/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-notebook.h"

G_BEGIN_DECLS

/*
 * A GListModel of what stands in a notebook, the base of those that name what they list. It reads itself off the main
 * thread, and again when the notebook changed; what did not change keeps its object, and with it its row on the screen.
 *
 * Property "loaded" (boolean, notified after every reading).
 */
#define WB_TYPE_APP_LIVE_LIST (wb_app_live_list_get_type ())
G_DECLARE_DERIVABLE_TYPE (WbAppLiveList, wb_app_live_list, WB, APP_LIVE_LIST, GObject)

struct _WbAppLiveListClass
{
  GObjectClass parent_class;
};

gboolean      wb_app_live_list_get_loaded (WbAppLiveList *self);
/* Why it could not be read; NULL: it could. */
const GError *wb_app_live_list_get_error  (WbAppLiveList *self);

G_END_DECLS
