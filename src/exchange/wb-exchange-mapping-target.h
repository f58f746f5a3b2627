/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-log-mapping.h"

G_BEGIN_DECLS

/* What columns of a sheet may be read as, in the order in which they are offered; static. */
const WbLogTarget *wb_exchange_mapping_target_get  (guint index);
guint              wb_exchange_mapping_n_targets   (void);
/* -1: there is none of that name. */
int                wb_exchange_mapping_target_find (const char *name);

G_END_DECLS
