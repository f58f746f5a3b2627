/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-quantity.h"

G_BEGIN_DECLS

/* A specific gravity is a density without a unit. */
gboolean wb_quantity_takes_unit (WbQuantity quantity, WbUnit unit);

G_END_DECLS
