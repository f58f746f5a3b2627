/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-plot-kind.h"

#include <glib/gi18n-lib.h>

static const char *const keys[] = { "growth", "rings", "life", "grid", "heat", "score", "ranks", "effects", "marks", "loss", NULL };

static const char *const labels[] = {
  N_("How fast the pool grows"),
  N_("The pool from above"),
  N_("Over the candle's life"),
  N_("Pool growth, every combination"),
  N_("One figure, every combination"),
  N_("Score and what lowers it"),
  N_("How sure the order is"),
  N_("What changes a figure"),
  N_("Smoke, soot and mushroom"),
  N_("What a wrong choice costs"),
};

G_STATIC_ASSERT (G_N_ELEMENTS (keys) == WB_PLOT_N_KINDS + 1);
G_STATIC_ASSERT (G_N_ELEMENTS (labels) == WB_PLOT_N_KINDS);

int
wb_plot_kind_from_key (const char *key)
{
  g_return_val_if_fail (key != NULL, -1);

  for (int i = 0; keys[i] != NULL; i++)
    if (g_str_equal (keys[i], key))
      return i;
  return -1;
}

const char *
wb_plot_kind_get_key (WbPlotKind kind)
{
  g_return_val_if_fail (kind < WB_PLOT_N_KINDS, NULL);

  return keys[kind];
}

const char *
wb_plot_kind_get_label (WbPlotKind kind)
{
  g_return_val_if_fail (kind < WB_PLOT_N_KINDS, NULL);

  return _(labels[kind]);
}

const char *const *
wb_plot_kind_get_keys (void)
{
  return keys;
}

gboolean
wb_plot_kind_takes_figure (WbPlotKind kind)
{
  return kind == WB_PLOT_LIFE || kind == WB_PLOT_HEAT || kind == WB_PLOT_EFFECTS;
}
