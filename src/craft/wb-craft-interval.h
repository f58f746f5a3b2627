/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>
#include <math.h>

G_BEGIN_DECLS

/*
 * An estimate with its 90 % interval. NAN value: no estimate. NAN low or high
 * beside a value: no such end (a lower bound only, "or never").
 */
typedef struct { double value, low, high; } WbCraftInterval;

#define WB_CRAFT_INTERVAL_NONE ((WbCraftInterval) { NAN, NAN, NAN })

G_END_DECLS
