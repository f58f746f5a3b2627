/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-word-private.h"

#include "wb-experiment.h"

#include <glib/gi18n-lib.h>

const WbWord wb_stage_words[] = {
  [WB_STAGE_UPPER] = { "upper", N_("upper third") },
  [WB_STAGE_MIDDLE] = { "middle", N_("middle third") },
  [WB_STAGE_LOWER] = { "lower", N_("lower third") },
  [WB_STAGE_ALL] = { "all", N_("whole life") },
  { NULL, NULL }
};

const WbWord wb_limit_kind_words[] = {
  [WB_LIMIT_FLAME] = { "flame", N_("flame height") },
  [WB_LIMIT_FLAME_HOUSE] = { "flame_house", N_("flame height, house limit") },
  [WB_LIMIT_VESSEL] = { "vessel", N_("outside wall of the vessel") },
  [WB_LIMIT_BASE] = { "base", N_("outside base of the vessel") },
  [WB_LIMIT_SECONDARY_IGNITION] = { "secondary_ignition", N_("secondary ignition") },
  [WB_LIMIT_FLAME_ON_WALL] = { "flame_on_wall", N_("flame on the vessel wall") },
  [WB_LIMIT_FLAMES_MERGED] = { "flames_merged", N_("flames of two wicks merged") },
  [WB_LIMIT_AFTERGLOW] = { "afterglow", N_("glow or smoke after snuffing") },
  [WB_LIMIT_VESSEL_CRACK] = { "vessel_crack", N_("vessel cracked or broken") },
  [WB_LIMIT_TIPPED] = { "tipped", N_("toppled") },
  [WB_LIMIT_SURFACE_DAMAGED] = { "surface_damaged", N_("surface beneath damaged") },
  [WB_LIMIT_BLACK_SMOKE] = { "black_smoke", N_("black smoke") },
  { NULL, NULL }
};

const WbWord wb_figure_words[] = {
  [WB_FIGURE_FULL_POOL] = { "full_pool_h", N_("Time to full melt pool") },
  [WB_FIGURE_HANG_UP] = { "hang_up_mm", N_("Hang-up") },
  [WB_FIGURE_DEPTH] = { "depth_mm", N_("Melt-pool depth") },
  [WB_FIGURE_FLAME] = { "flame_mm", N_("Flame height") },
  [WB_FIGURE_VESSEL] = { "vessel_c", N_("Vessel temperature") },
  [WB_FIGURE_SOOT] = { "soot", N_("Soot") },
  [WB_FIGURE_MUSHROOM] = { "mushroom", N_("Mushroom") },
  [WB_FIGURE_THROW] = { "throw", N_("Hot throw") },
  [WB_FIGURE_POOL_LIMIT] = { "pool_limit_mm", N_("Widest pool") },
  [WB_FIGURE_TAU] = { "tau_h", N_("Time constant of the pool") },
  [WB_FIGURE_CONSUMPTION] = { "consumption_g_per_h", N_("Consumption") },
  [WB_FIGURE_POOL] = { "pool_mm", N_("Melt-pool diameter") },
  [WB_FIGURE_SMOKE] = { "smoke", N_("Smoke") },
  [WB_FIGURE_SCORE] = { "score", N_("Score") },
  { NULL, NULL }
};

static const WbUnit figure_units[WB_N_FIGURES] = {
  [WB_FIGURE_FULL_POOL] = WB_UNIT_HOUR,
  [WB_FIGURE_HANG_UP] = WB_UNIT_MM,
  [WB_FIGURE_DEPTH] = WB_UNIT_MM,
  [WB_FIGURE_FLAME] = WB_UNIT_MM,
  [WB_FIGURE_VESSEL] = WB_UNIT_CELSIUS,
  [WB_FIGURE_SOOT] = WB_UNIT_NONE,
  [WB_FIGURE_MUSHROOM] = WB_UNIT_NONE,
  [WB_FIGURE_THROW] = WB_UNIT_NONE,
  [WB_FIGURE_POOL_LIMIT] = WB_UNIT_MM,
  [WB_FIGURE_TAU] = WB_UNIT_HOUR,
  [WB_FIGURE_CONSUMPTION] = WB_UNIT_G_PER_H,
  [WB_FIGURE_POOL] = WB_UNIT_MM,
  [WB_FIGURE_SMOKE] = WB_UNIT_NONE,
  [WB_FIGURE_SCORE] = WB_UNIT_NONE,
};

const char *
wb_figure_get_key (WbFigure figure)
{
  g_return_val_if_fail (figure < WB_N_FIGURES, NULL);

  return wb_figure_words[figure].nick;
}

int
wb_figure_from_key (const char *key)
{
  return wb_words_find (wb_figure_words, key);
}

const char *
wb_figure_get_label (WbFigure figure)
{
  g_return_val_if_fail (figure < WB_N_FIGURES, NULL);

  return wb_figure_words[figure].label;
}

WbUnit
wb_figure_get_unit (WbFigure figure)
{
  g_return_val_if_fail (figure < WB_N_FIGURES, WB_UNIT_NONE);

  return figure_units[figure];
}

const char *
wb_stage_get_key (WbStage stage)
{
  g_return_val_if_fail (stage <= WB_STAGE_ALL, NULL);

  return wb_stage_words[stage].nick;
}

const char *
wb_stage_get_label (WbStage stage)
{
  g_return_val_if_fail (stage <= WB_STAGE_ALL, NULL);

  return wb_stage_words[stage].label;
}

const char *
wb_limit_kind_get_key (WbLimitKind kind)
{
  g_return_val_if_fail (kind < WB_N_LIMITS, NULL);

  return wb_limit_kind_words[kind].nick;
}

const char *
wb_limit_kind_get_label (WbLimitKind kind)
{
  g_return_val_if_fail (kind < WB_N_LIMITS, NULL);

  return wb_limit_kind_words[kind].label;
}

WbUnit
wb_limit_kind_get_unit (WbLimitKind kind)
{
  switch (kind)
    {
    case WB_LIMIT_FLAME:
    case WB_LIMIT_FLAME_HOUSE:
      return WB_UNIT_MM;
    case WB_LIMIT_VESSEL:
    case WB_LIMIT_BASE:
      return WB_UNIT_CELSIUS;
    case WB_LIMIT_SECONDARY_IGNITION:
    case WB_LIMIT_FLAME_ON_WALL:
    case WB_LIMIT_FLAMES_MERGED:
    case WB_LIMIT_AFTERGLOW:
      return WB_UNIT_SECOND;
    default:
      return WB_UNIT_NONE;
    }
}
