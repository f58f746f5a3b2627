/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* What is asked: one recipe. */
typedef struct
{
  const char *series;
  gint64      step;
  const char *wax;
  double      inner_mm;
  double      load_pct;    /* of the wax */
  guint       wicks;
} WbCraftRecipe;

/* One draw of what a recipe would do. */
typedef struct
{
  double limit_mm;
  double full_pool_h;      /* INFINITY: never */
  double flame_mm;
  double p_cross;          /* that a candle of it crosses the flame's or the vessel's stop near its end; 0 where history never got there */
  gboolean fails;          /* by its own burns it scores next to nothing, whatever its pool does */
} WbCraftForetold;

G_END_DECLS
