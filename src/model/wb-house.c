/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-house.h"

#include "wb-experiment.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/*
 * What a notebook starts with: protocol, limits and score profile of the
 * house. No full text of a standard was at hand: the protocol follows the
 * timing of ASTM F2417 and EN 15426 as test laboratories tell it, and claims
 * nothing more. The aims are common practice, no source.
 */

#define HOUR_S 3600.0
#define MOST_ROUNDS 12

static const char *const protocol_name = N_("House protocol");
static const char *const profile_name = N_("House profile");
static const char *const profile_note = N_("Common practice, no source. Change it to what you aim for.");
static const char *const protocol_note = N_("An in-house test that follows the timing of ASTM F2417 and EN 15426 as test laboratories tell it. Not a certification.");

/* What the invented workshop reads with. */
static const char *const instrument = N_("infrared thermometer");
static const char *const instrument_place = N_("side, matt patch");

WbProtocol *
wb_protocol_new_house (void)
{
  WbProtocol *protocol = wb_record_new (&wb_protocol_type);

  protocol->name = g_strdup (protocol_name);
  protocol->burn_s = 4 * HOUR_S;              /* burn cycle of ASTM F1972 */
  protocol->interval_upper_s = HOUR_S;        /* hourly, ASTM F2417 */
  protocol->interval_middle_s = HOUR_S;
  protocol->interval_lower_s = HOUR_S;
  protocol->last_inch_interval_s = HOUR_S / 4;
  protocol->stagger_s = 120;                  /* common practice, no source: time to read one candle */
  protocol->trim_mm = 6;                      /* 1/4 in, ASTM F2417 */
  protocol->cool_s = 3 * HOUR_S;              /* satisfies ASTM F2417 and EN 15426 */
  protocol->room_low_c = 20;                  /* 20 to 25 satisfies both */
  protocol->room_high_c = 25;
  protocol->window_low = 0.75;
  protocol->window_high = 1.25;
  protocol->end_rule = WB_END_RESIDUE;
  protocol->end_residue_mm = 10;              /* EN 15426 */
  protocol->samples_wanted = 3;               /* EN 15426:2018, clause 6 */
  protocol->stop_sure_pct = 90;               /* as sure as a recommendation asks; no source */
  protocol->ask_lighting = g_strdup ("mass_g,room_c,draught");
  protocol->ask_round = g_strdup ("pool_mm,flame_max_mm,flame_state,smoke,mushroom,vessel_c");
  /* The depth once a burn: whatever is dipped into the pool disturbs it. */
  protocol->ask_before_snuffing =
    g_strdup ("pool_mm,depth_mm,flame_max_mm,flame_state,smoke,soot,mushroom,vessel_c,base_c");
  protocol->ask_after_snuffing = g_strdup ("event,event_s");
  protocol->ask_next_day = g_strdup ("mass_g,hang_up_mm,hang_up_share_pct");
  protocol->note = g_strdup (protocol_note);
  return protocol;
}

guint
wb_protocol_count_rounds (const WbProtocol *self)
{
  double rounds;

  g_return_val_if_fail (self != NULL, 1);

  rounds = ceil (self->burn_s / self->interval_upper_s) - 1;
  return isfinite (rounds) ? (guint) CLAMP (rounds, 1, MOST_ROUNDS) : 1;
}

typedef struct
{
  WbLimitKind kind;
  double      ask_at;
  double      stop_at;
  gboolean    house;
  const char *source;
} HouseLimit;

static const HouseLimit house_limits[] = {
  { WB_LIMIT_FLAME, NAN, 75, FALSE,
    N_("EN 15493: 75 mm; ASTM F2417 clause 4.1: 3 in (as told by test laboratories)") },
  { WB_LIMIT_FLAME_HOUSE, 38, 50, TRUE, N_("House limit") },
  { WB_LIMIT_VESSEL, 60, 77, TRUE,
    N_("House limit: no published limit was found; makers call 60 °C warm and stop at 77 to 79 °C (common practice, from memory)") },
  { WB_LIMIT_SECONDARY_IGNITION, NAN, 0, FALSE,
    N_("ASTM F2417 clause 4.3: none; EN 15493 permits none longer than 10 s (as told by test laboratories)") },
  { WB_LIMIT_FLAME_ON_WALL, NAN, 5, FALSE, N_("ASTM F2417-23: not longer than 5 s (as told by a test laboratory)") },
  { WB_LIMIT_FLAMES_MERGED, NAN, 5, FALSE, N_("ASTM F2417-23: not longer than 5 s (as told by a test laboratory)") },
  { WB_LIMIT_AFTERGLOW, NAN, 30, FALSE, N_("EN 15493:2019: 30 s on average (as told by a test laboratory)") },
  { WB_LIMIT_VESSEL_CRACK, NAN, 0, FALSE,
    N_("ASTM F2417 clause 4.2: a filled vessel does not crack or break (as told by a test laboratory)") },
  { WB_LIMIT_TIPPED, NAN, 0, TRUE,
    N_("House limit: none; ASTM F2417 has it recorded after each hour. The 10° slope of EN 15493 and ASTM F2601 is a test of its own") },
  { WB_LIMIT_SURFACE_DAMAGED, NAN, 0, TRUE, N_("House limit: none; ASTM F2417 has it recorded after each hour") },
  { WB_LIMIT_BLACK_SMOKE, NAN, 0, TRUE,
    N_("House limit: none seen; ASTM F2417 has it recorded after each hour. The soot index of EN 15426 needs a photometer") },
};

const char *
wb_house_translate (const char *stored)
{
  const char *const texts[] = { protocol_name, protocol_note, profile_name, profile_note, instrument, instrument_place };
  gboolean own = FALSE;

  for (guint i = 0; i < G_N_ELEMENTS (texts) && !own; i++)
    own = g_strcmp0 (stored, texts[i]) == 0;
  for (guint i = 0; i < G_N_ELEMENTS (house_limits) && !own; i++)
    own = g_strcmp0 (stored, house_limits[i].source) == 0;
  return own ? g_dgettext (GETTEXT_PACKAGE, stored) : stored;
}

GPtrArray *
wb_limits_new_house (void)
{
  GPtrArray *limits = g_ptr_array_new_with_free_func (wb_record_free);

  for (guint i = 0; i < G_N_ELEMENTS (house_limits); i++)
    {
      WbLimit *limit = wb_record_new (&wb_limit_type);

      limit->kind = house_limits[i].kind;
      limit->ask_at = house_limits[i].ask_at;
      limit->stop_at = house_limits[i].stop_at;
      limit->house = house_limits[i].house;
      limit->source = g_strdup (house_limits[i].source);
      g_ptr_array_add (limits, limit);
    }
  return limits;
}

WbProfile *
wb_profile_new_house (void)
{
  WbProfile *profile = wb_record_new (&wb_profile_type);

  profile->name = g_strdup (profile_name);
  profile->note = g_strdup (profile_note);
  return profile;
}

typedef struct
{
  WbFigure figure;
  double   zero_below, one_from, one_to, zero_above, late_floor, weight;
  gboolean hot;          /* counts at its worst and double in the lower third */
} HouseAim;

/* Common practice, no source: the upper third. */
static const HouseAim house_aims[] = {
  { WB_FIGURE_FULL_POOL, 0.5, 1, 1, 1.5, 0.3, 3, FALSE },
  { WB_FIGURE_HANG_UP, NAN, NAN, 3, 8, 0, 1, FALSE },
  { WB_FIGURE_DEPTH, 2, 6, 13, 18, 0, 1, TRUE },
  { WB_FIGURE_FLAME, 5, 13, 25, 45, 0, 1, TRUE },
  { WB_FIGURE_VESSEL, NAN, NAN, 60, 77, 0, 1, TRUE },
  { WB_FIGURE_SOOT, NAN, NAN, 0, 3, 0, 2, TRUE },
  { WB_FIGURE_MUSHROOM, NAN, NAN, 0, 2.5, 0, 1, FALSE },
  { WB_FIGURE_THROW, 1, 4, NAN, NAN, 0, 0.5, FALSE },
};

static WbAim *
aim_new (const HouseAim *house,
         WbStage         stage)
{
  WbAim *aim = wb_record_new (&wb_aim_type);

  aim->stage = stage;
  aim->figure = house->figure;
  aim->zero_below = house->zero_below;
  aim->one_from = house->one_from;
  aim->one_to = house->one_to;
  aim->zero_above = house->zero_above;
  /* At the top a late pool is the hang-up's to judge; from the middle on it should have come. */
  aim->late_floor = stage == WB_STAGE_UPPER ? house->late_floor : 0;
  aim->weight = house->weight;
  if (stage == WB_STAGE_LOWER && house->hot)
    {
      aim->weight *= 2;
      aim->worst = TRUE;
    }
  return aim;
}

GPtrArray *
wb_aims_new_house (void)
{
  GPtrArray *aims = g_ptr_array_new_with_free_func (wb_record_free);

  for (int stage = WB_STAGE_UPPER; stage < WB_N_STAGES; stage++)
    for (guint i = 0; i < G_N_ELEMENTS (house_aims); i++)
      if (stage != WB_STAGE_LOWER || house_aims[i].figure != WB_FIGURE_FULL_POOL)
        g_ptr_array_add (aims, aim_new (&house_aims[i], stage));
  return aims;
}
