/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-plot-context-private.h"

G_BEGIN_DECLS

/*
 * What leads in each vessel and scent, told once for all scents of a vessel where it is the same there: a title over several
 * families would else say every name twice or thrice.
 */
typedef struct
{
  guint  family;
  guint  cell;    /* that leads there */
  int    state;   /* what it does, in numbers of the caller's: only alike states are told as one */
  double value;   /* NAN: none */
  char  *where;   /* out: "Hob, 76.2 mm", "every scent" */
  double low, high; /* out: over what was put together */
} WbPlotLed;

/* WbPlotLed, as filled by the caller with family, cell, state and value; gives those to tell, in the same order. Caller unrefs. */
GArray *wb_plot_led_merge (const WbPlotContext *context, const GArray *leaders);
/* "a to b", or "a" where both are alike. Caller frees. */
char   *wb_plot_dup_range (const char *low, const char *high);

G_END_DECLS
