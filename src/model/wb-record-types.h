/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-record.h"

G_BEGIN_DECLS

/* Every record type, in the order in which a notebook must be filled; ends with NULL. */
const WbRecordType *const *wb_record_types (void);

G_END_DECLS
