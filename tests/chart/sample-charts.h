/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-chart.h"

G_BEGIN_DECLS

/* One chart of every make, with invented data: for tests over all of them, and to be looked at. */
guint       sample_charts_get_n    (void);
const char *sample_charts_get_name (guint index);
WbChart    *sample_charts_create   (guint index);

/* A wandering line of n points with markers where asked; the same for the same seed. */
WbChart    *sample_charts_walk     (gsize n, guint32 seed, gboolean markers);

G_END_DECLS
