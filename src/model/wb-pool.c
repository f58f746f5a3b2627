/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-reading.h"

#include <math.h>

enum { FULL_SINGLE = 1, FULL_A = 2, FULL_B = 4 };

/* One diameter: the wall where marked full, never above it, NAN where not taken. */
static double
one_diameter (double value, gboolean full, double inner_mm)
{
  return full ? inner_mm : isnan (value) ? NAN : MIN (value, inner_mm);
}

/* Diameter between two rings across from each other; one alone stands for both. */
static double
between_rings (double ring, double across, double inner_mm)
{
  if (isnan (ring))
    ring = across;
  if (isnan (across))
    across = ring;
  return isnan (ring) ? NAN : CLAMP (inner_mm - ring - across, 0, inner_mm);
}

static gboolean
pool_from_two (double a, double b, double inner_mm, WbPool *pool)
{
  if (isnan (a) && isnan (b))
    return FALSE;
  if (isnan (a))
    a = b;
  if (isnan (b))
    b = a;
  pool->diameter_mm = (a + b) / 2;
  pool->one_mm = a;
  pool->other_mm = b;
  pool->at_wall = MAX (a, b) >= inner_mm - WB_WALL_TOLERANCE_MM;
  pool->both_at_wall = MIN (a, b) >= inner_mm - WB_WALL_TOLERANCE_MM;
  return TRUE;
}

gboolean
wb_pool_from_values (const double  values[WB_N_COLUMNS],
                     double        inner_mm,
                     WbPool       *pool)
{
  double bits = values[WB_COLUMN_POOL_FULL];
  guint full = isnan (bits) ? 0 : (guint) bits;
  double single = one_diameter (values[WB_COLUMN_POOL_MM], (full & FULL_SINGLE) != 0, inner_mm);

  if (pool_from_two (single, single, inner_mm, pool))
    return TRUE;
  if (pool_from_two (one_diameter (values[WB_COLUMN_POOL_A_MM], (full & FULL_A) != 0, inner_mm),
                     one_diameter (values[WB_COLUMN_POOL_B_MM], (full & FULL_B) != 0, inner_mm), inner_mm, pool))
    return TRUE;
  return pool_from_two (between_rings (values[WB_COLUMN_RING_12_MM], values[WB_COLUMN_RING_6_MM], inner_mm),
                        between_rings (values[WB_COLUMN_RING_3_MM], values[WB_COLUMN_RING_9_MM], inner_mm), inner_mm, pool);
}
