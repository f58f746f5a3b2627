/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-bench-private.h"

G_BEGIN_DECLS

/*
 * Experiments as they were read last, so that the list of experiments and the bench, which look at the same ones at the
 * same time in threads of their own, read each once, and none again that no entry touched. One object a notebook; any
 * thread.
 */
typedef struct _WbAppLoads WbAppLoads;

WbAppLoads     *wb_app_loads_new   (void);
WbAppLoads     *wb_app_loads_ref   (WbAppLoads *self);
void            wb_app_loads_unref (WbAppLoads *self);
/*
 * That experiment as of that stamp (see wb-app-stamp-private.h): what is here, what another thread is reading just now, or
 * read from the caller's store. Caller unrefs. NULL with an error.
 */
WbAppBenchLoad *wb_app_loads_get   (WbAppLoads *self, WbStore *store, gint64 experiment, gint64 stamp, GError **error);
/* Forgets what nobody holds any more. */
void            wb_app_loads_trim  (WbAppLoads *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbAppLoads, wb_app_loads_unref)

G_END_DECLS
