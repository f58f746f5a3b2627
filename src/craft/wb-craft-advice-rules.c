/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-advice-rules-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-craft-burn-private.h"
#include "wb-craft-stops-private.h"
#include "wb-craft-verdict-private.h"

/*
 * What of a wick's readings asks for another size, by the rules of the trade: common practice, no source. Bounds are those of the
 * maker's own profile and limits where these state one, else the house's.
 */

#define HANG_UP_MM 3.0      /* the house profile's, as are those down to the early pool */
#define SMALL_FLAME_MM 9.0  /* half way from 5, where the profile gives nothing, to 13, from where a flame is calm */
#define DEEP_MM 13.0
#define EARLY_SHARE 0.5
#define TALL_FLAME_MM 38.0  /* the house limits', as is the next */
#define HOT_C 60.0
#define ALL_ROUND_PCT 75.0  /* of the circumference */
#define MID_LIFE 0.5        /* of the fill left */
#define SOOT 2.0            /* light */
#define MUCH_SOOT 3.0

static const WbAim *
find_aim (const WbDataset *data,
          WbFigure         figure,
          WbStage          stage)
{
  const WbAim *other = NULL;

  for (guint i = 0; i < data->aims->len; i++)
    {
      const WbAim *aim = g_ptr_array_index (data->aims, i);

      if (aim->figure != (int) figure)
        continue;
      if (aim->stage == (int) stage)
        return aim;
      if (other == NULL)
        other = aim;
    }
  return other;
}

static double
one_to (const WbCraftSignLook *look,
        WbFigure    figure,
        double      usual)
{
  const WbAim *aim = find_aim (look->advising->data, figure, look->burn->stage);

  return aim != NULL && isfinite (aim->one_to) ? aim->one_to : usual;
}

/* Below it the profile gives less than half. */
static double
half_below (const WbCraftSignLook *look,
            WbFigure    figure,
            double      usual)
{
  const WbAim *aim = find_aim (look->advising->data, figure, look->burn->stage);

  return aim != NULL && isfinite (aim->one_from) && isfinite (aim->zero_below) ? (aim->zero_below + aim->one_from) / 2 : usual;
}

/* Where a house limit asks; else the usual. */
static double
ask_at (const WbDataset *data,
        WbLimitKind      kind,
        double           usual)
{
  for (guint i = 0; i < data->limits->len; i++)
    {
      const WbLimit *limit = g_ptr_array_index (data->limits, i);

      if (limit->kind == (int) kind && !limit->off && limit->ask_at > 0)
        return limit->ask_at;
    }
  return usual;
}

static gboolean
happened (const WbCraftBurn *burn,
          WbEvent            event)
{
  return (burn->events >> event & 1) != 0;
}

static WbCraftShows
above (double value,
       double bound,
       WbCraftShows  shows)
{
  return isnan (value) ? WB_CRAFT_SHOWS_UNASKED : value > bound ? shows : WB_CRAFT_SHOWS_NO;
}

/* ---- A larger one ---- */

/* No size up from the first burn alone: of it a sign of this kind is faint. */
static WbCraftShows
later (const WbCraftSignLook *look,
       WbCraftShows       shows)
{
  return look->first && shows > WB_CRAFT_SHOWS_NO ? WB_CRAFT_SHOWS_FAINT : shows;
}

static WbCraftShows
show_hang_up (const WbCraftSignLook *look,
              double     *value)
{
  const WbCraftBurn *burn = look->burn;

  *value = burn->hang_up_mm;
  if (isnan (*value))
    return WB_CRAFT_SHOWS_UNASKED;
  if (!(*value > one_to (look, WB_FIGURE_HANG_UP, HANG_UP_MM)) || burn->hang_up_share_pct < ALL_ROUND_PCT)
    return WB_CRAFT_SHOWS_NO;
  /* above mid-life it may still clean up, and nobody knows where the height is not known; where it goes out for good, there is always some */
  return burn->stage_known && burn->fill_left < MID_LIFE && !look->last ? later (look, WB_CRAFT_SHOWS_FIRM) : WB_CRAFT_SHOWS_FAINT;
}

static WbCraftShows
show_small_flame (const WbCraftSignLook *look,
                  double     *value)
{
  *value = look->burn->flame_mm;
  if (isnan (*value) || look->burn->cut_short || look->burn->alight)
    return WB_CRAFT_SHOWS_UNASKED;
  return *value < half_below (look, WB_FIGURE_FLAME, SMALL_FLAME_MM) ? later (look, WB_CRAFT_SHOWS_FIRM) : WB_CRAFT_SHOWS_NO;
}

static WbCraftShows
show_starving (const WbCraftSignLook *look,
               double     *value)
{
  const WbReadings *readings = look->advising->data->readings;
  gboolean read = FALSE;
  guint first, n;

  *value = NAN;
  wb_readings_get_burn_rows (readings, look->burn->burn, &first, &n);
  for (guint row = first; row < first + n; row++)
    {
      double state = wb_readings_get (readings, row, WB_COLUMN_FLAME_STATE);

      read = read || !isnan (state);
      if (state == WB_FLAME_STARVING)
        return later (look, WB_CRAFT_SHOWS_FIRM);
    }
  return read ? WB_CRAFT_SHOWS_NO : WB_CRAFT_SHOWS_UNASKED;
}

static WbCraftShows
show_drowned (const WbCraftSignLook *look,
              double     *value)
{
  *value = NAN;
  return happened (look->burn, WB_EVENT_DROWNED) ? WB_CRAFT_SHOWS_PLAINLY : WB_CRAFT_SHOWS_NO;
}

static WbCraftShows
show_went_out (const WbCraftSignLook *look,
               double     *value)
{
  *value = NAN;
  /* a flame that drowned is told once */
  if (happened (look->burn, WB_EVENT_DROWNED))
    return WB_CRAFT_SHOWS_NO;
  return wb_craft_verdict_find_went_out (look->advising->data, look->advising->figures, look->burn->burn) != G_MAXUINT ? WB_CRAFT_SHOWS_PLAINLY : WB_CRAFT_SHOWS_NO;
}

/*
 * In a deep vessel the pool need not be full in the upper third; where thirds are not known, the first two burns are taken for it.
 * What is not full at the end of the protocol's burn is told of no longer time.
 */
static WbCraftShows
show_no_full_pool (const WbCraftSignLook *look,
                   double     *value)
{
  const WbCraftBurn *burn = look->burn;
  const WbDataset *data = look->advising->data;
  double window = data->protocol != NULL && data->protocol->window_high > 0 ? data->protocol->window_high : 1.25;
  double late_h = MIN (window * look->due_h, wb_craft_burn_get_length_min (data) / 60);

  *value = NAN;
  if (burn->cut_short || burn->alight || (isnan (burn->full_seen_h) && isnan (burn->not_full_h)))
    return WB_CRAFT_SHOWS_UNASKED;
  if (burn->stage_known ? burn->stage == WB_STAGE_UPPER : wb_dataset_get_burn (data, burn->burn)->number <= 2)
    return WB_CRAFT_SHOWS_UNASKED;
  if (!isnan (burn->full_seen_h) || !(burn->not_full_h >= late_h * 0.95))
    return WB_CRAFT_SHOWS_NO;
  *value = burn->not_full_h;
  return later (look, WB_CRAFT_SHOWS_FIRM);
}

/* ---- A smaller one ---- */

static WbCraftShows
show_tall_flame (const WbCraftSignLook *look,
                 double     *value)
{
  double ask = ask_at (look->advising->data, WB_LIMIT_FLAME_HOUSE, TALL_FLAME_MM);
  double stop = wb_craft_stops_get (look->advising->data, WB_FIGURE_FLAME);

  *value = look->burn->flame_max_mm;
  return above (*value, ask, isfinite (stop) && *value > (ask + stop) / 2 ? WB_CRAFT_SHOWS_PLAINLY : WB_CRAFT_SHOWS_FIRM);
}

static WbCraftShows
show_soot (const WbCraftSignLook *look,
           double     *value)
{
  *value = look->burn->soot;
  return isnan (*value) ? WB_CRAFT_SHOWS_UNASKED : *value >= MUCH_SOOT ? WB_CRAFT_SHOWS_PLAINLY : *value >= SOOT ? WB_CRAFT_SHOWS_FIRM : WB_CRAFT_SHOWS_NO;
}

static WbCraftShows
show_carbon_cap (const WbCraftSignLook *look,
                 double     *value)
{
  *value = look->burn->mushroom;
  if (isnan (*value))
    return WB_CRAFT_SHOWS_UNASKED;
  if (!(*value >= WB_CRAFT_SIGN_CAP))
    return WB_CRAFT_SHOWS_NO;
  /* a cap that sheds nothing may be a wick that was not trimmed */
  return happened (look->burn, WB_EVENT_DEBRIS) ? WB_CRAFT_SHOWS_PLAINLY : WB_CRAFT_SHOWS_FAINT;
}

static WbCraftShows
show_deep_pool (const WbCraftSignLook *look,
                double     *value)
{
  *value = look->burn->depth_mm;
  return above (*value, one_to (look, WB_FIGURE_DEPTH, DEEP_MM), WB_CRAFT_SHOWS_FIRM);
}

static WbCraftShows
show_hot_vessel (const WbCraftSignLook *look,
                 double     *value)
{
  *value = look->burn->vessel_max_c;
  return above (*value, ask_at (look->advising->data, WB_LIMIT_VESSEL, HOT_C), WB_CRAFT_SHOWS_FIRM);
}

/* Full already at the first look at the wall, in less than half of the time that it is due in; lower down pools run faster. */
static WbCraftShows
show_early_pool (const WbCraftSignLook *look,
                 double     *value)
{
  const WbCraftBurn *burn = look->burn;
  const WbAim *aim = find_aim (look->advising->data, WB_FIGURE_FULL_POOL, WB_STAGE_UPPER);
  double share = aim != NULL && aim->zero_below > 0 ? aim->zero_below : EARLY_SHARE;

  *value = burn->full_seen_h;
  if (burn->stage_known && burn->stage != WB_STAGE_UPPER)
    return WB_CRAFT_SHOWS_UNASKED;
  if (isnan (burn->full_seen_h))
    return isnan (burn->not_full_h) ? WB_CRAFT_SHOWS_UNASKED : WB_CRAFT_SHOWS_NO;
  return burn->full_seen_h <= share * look->due_h ? WB_CRAFT_SHOWS_FIRM : WB_CRAFT_SHOWS_NO;
}

static const WbCraftSignRule rules[WB_CRAFT_N_SIGNS] = {
  /* Translators: what was seen of a candle; a measure, "5 mm". */
  [WB_CRAFT_SIGN_HANG_UP] = { "hang_up", TRUE, FALSE, show_hang_up, WB_UNIT_MM, 0, N_("hang-up of %s"), { WB_COLUMN_HANG_UP_MM, WB_COLUMN_HANG_UP_MM }, -1 },
  [WB_CRAFT_SIGN_SMALL_FLAME] = { "small_flame", TRUE, TRUE, show_small_flame, WB_UNIT_MM, 0, N_("small flame of %s"), { WB_COLUMN_FLAME_MM, WB_COLUMN_FLAME_MAX_MM }, -1 },
  [WB_CRAFT_SIGN_STARVING] = { "starving", TRUE, FALSE, show_starving, WB_UNIT_NONE, 0, N_("starving flame"), { WB_COLUMN_FLAME_STATE, WB_COLUMN_FLAME_STATE }, -1 },
  [WB_CRAFT_SIGN_DROWNED] = { "drowned", TRUE, FALSE, show_drowned, WB_UNIT_NONE, 0, N_("drowned"), { WB_COLUMN_EVENT, WB_COLUMN_EVENT }, WB_EVENT_DROWNED },
  [WB_CRAFT_SIGN_WENT_OUT] = { "went_out", TRUE, FALSE, show_went_out, WB_UNIT_NONE, 0, N_("went out by itself"), { WB_COLUMN_EVENT, WB_COLUMN_EVENT }, WB_EVENT_SELF_EXTINGUISHED },
  /* Translators: a time, "3.8 h". */
  [WB_CRAFT_SIGN_NO_FULL_POOL] = { "no_full_pool", TRUE, FALSE, show_no_full_pool, WB_UNIT_HOUR, 1, N_("melt pool not full after %s"), { WB_COLUMN_POOL_MM, WB_COLUMN_POOL_A_MM }, -1 },
  [WB_CRAFT_SIGN_CROSSED] = { "crossed", FALSE, FALSE, NULL, WB_UNIT_NONE, 0, NULL, { 0, 0 }, -1 },
  [WB_CRAFT_SIGN_TALL_FLAME] = { "tall_flame", FALSE, FALSE, show_tall_flame, WB_UNIT_MM, 0, N_("tall flame of %s"), { WB_COLUMN_FLAME_MM, WB_COLUMN_FLAME_MAX_MM }, -1 },
  /* Translators: a rating from 0 to 4. */
  [WB_CRAFT_SIGN_SOOT] = { "soot", FALSE, FALSE, show_soot, WB_UNIT_NONE, 0, N_("soot %s of 4"), { WB_COLUMN_SOOT, WB_COLUMN_SOOT }, -1 },
  [WB_CRAFT_SIGN_CARBON_CAP] = { "carbon_cap", FALSE, FALSE, show_carbon_cap, WB_UNIT_NONE, 0, N_("carbon cap"), { WB_COLUMN_MUSHROOM, WB_COLUMN_MUSHROOM }, -1 },
  [WB_CRAFT_SIGN_DEEP_POOL] = { "deep_pool", FALSE, FALSE, show_deep_pool, WB_UNIT_MM, 0, N_("melt pool %s deep"), { WB_COLUMN_DEPTH_MM, WB_COLUMN_DEPTH_MM }, -1 },
  [WB_CRAFT_SIGN_HOT_VESSEL] = { "hot_vessel", FALSE, FALSE, show_hot_vessel, WB_UNIT_CELSIUS, 0, N_("vessel at %s"), { WB_COLUMN_VESSEL_C, WB_COLUMN_VESSEL_C }, -1 },
  [WB_CRAFT_SIGN_EARLY_POOL] = { "early_pool", FALSE, TRUE, show_early_pool, WB_UNIT_HOUR, 1, N_("melt pool full already after %s"), { WB_COLUMN_POOL_MM, WB_COLUMN_POOL_A_MM }, -1 },
};

const WbCraftSignRule *
wb_craft_sign_get_rule (WbCraftSignKind kind)
{
  g_assert (kind < WB_CRAFT_N_SIGNS);
  return &rules[kind];
}
