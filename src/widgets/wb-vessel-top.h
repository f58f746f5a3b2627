/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-material.h"

G_BEGIN_DECLS

/* How a vessel at the bench stands; each has a line or a sign of its own. */
typedef enum
{
  WB_VESSEL_WAITING, /* curing or cooling: broken rim */
  WB_VESSEL_FIT,     /* may be lit: a wick that stands up */
  WB_VESSEL_ALIGHT,  /* a flame, and a ring that fills until the next reading */
  WB_VESSEL_DUE,     /* the ring is full */
  WB_VESSEL_OVER,    /* a square about it: a limit is crossed */
  WB_VESSEL_BARRED,  /* out, a square about it: a limit was crossed */
  WB_VESSEL_OUT      /* at its end: struck through */
} WbVesselMood;

/* What is drawn, in mm, seen from above. */
typedef struct
{
  int          shape;         /* WbShape */
  double       inner_mm;
  double       across_mm;     /* the other axis; NAN: as the first */
  double       wall_mm;       /* NAN: not known */
  double       pool_mm;       /* NAN: not read */
  double       pool_across_mm; /* NAN: as the first */
  gboolean     at_wall;
  WbVesselMood mood;
  guint        n_wicks;       /* each has its flame; 0 as 1 */
  guint        wicks_out;     /* those that have no flame while the others burn, a bit each, the first's the lowest */
  double       spacing_mm;    /* between neighbouring wicks; NAN or 0: not known, spread over the wax */
  double       turn;          /* share of the time to the next reading that has gone, 0 to 1; NAN: no ring */
} WbVesselSight;

/*
 * One vessel from above, to the scale that its parent gives: wall, wax, pool,
 * flame. Says nothing to assistive technology; the words beside it do.
 */
#define WB_TYPE_VESSEL_TOP (wb_vessel_top_get_type ())
G_DECLARE_FINAL_TYPE (WbVesselTop, wb_vessel_top, WB, VESSEL_TOP, GtkWidget)

GtkWidget *wb_vessel_top_new       (void);
void       wb_vessel_top_set       (WbVesselTop *self, const WbVesselSight *sight);
/* Pixels a millimetre; the widget asks for `widest_mm` at that scale, ring included. */
void       wb_vessel_top_set_scale (WbVesselTop *self, double scale, double widest_mm);
/* Outer width of a vessel, its wall included; mm. */
double     wb_vessel_sight_get_width (const WbVesselSight *sight);

G_END_DECLS
