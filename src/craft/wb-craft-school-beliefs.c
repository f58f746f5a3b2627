/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-school-private.h"

#include <math.h>

#include "wb-craft-scale-private.h"

/*
 * What is believed before any data, all of it weak, so that a few experiments outweigh it. No source stands behind any of
 * these numbers: they are opinion, from common practice where the trade has a rule and from plain physics where it has none:
 *
 *   one step of a series is usually 5 to 8 % of pool (common practice), and every figure of heat goes with it: heat and fuel with the pool's area, so with
 *   twice its logarithm, and the flame's height, which in a laminar diffusion flame is proportional to the fuel (Burke and Schumann 1928, Roper 1977;
 *   from memory), with that;
 *   another wax commonly asks for one size more or fewer, now and then for two (common practice): 8 % of pool as a root mean square;
 *   a room 5 K warmer moves a pool by about one size (common practice), here half of it, as rooms of 17 and 27 are far apart;
 *   a wider vessel has the wider pool of the same wick: charts of the trade give about one size for every 6 to 9 mm of diameter (common practice, no
 *   source), near 76 mm 8 to 12 % of it, which a size of 5 to 8 % of pool fills by a half to nearly all; a full melt pool an hour an inch asks for about
 *   0.9 of the diameter in ln D∞, as the later hour helps a little; so the vessel itself gives what is left, a third or so, anything from nothing to a half;
 *   the vessel's rise falls as its diameter grows, at most in proportion, as the same heat has the larger wall to go through, and not at all where the
 *   wall's heat is the flame's that is nearest to it (physics): ln rise goes with 0 to -1 of ln diameter;
 *   the same wick burns a little hotter in a narrower vessel, which keeps its heat in (common practice): flame and consumption go with -0.1 of
 *   ln diameter, give or take twice that;
 *   the wall's rise goes with a little less than the heat (free convection and radiation), so that it differs no more between pours, and between
 *   vessels of one wick, than consumption does;
 *   glass of one kind is alike: its wall resists the heat by 0.003 to 0.005 K m²/W, the air outside by 0.1, so that its thickness makes a few per cent of the
 *   rise, which is what vessels of one material differ by; of two vessels of different materials, which spread the heat along the wall otherwise, the rises
 *   are 10 to 15 % apart (physics, orders of magnitude), so that each material is 7 % off what all have in common. A vessel of which nobody said it has a
 *   material of its own, and with it is 8 % off. A third or so of the heat leaves by the wall, so that the pool's area goes with a third of that, its
 *   diameter with a sixth, beside 1.5 % of its own. Bottoms differ by no more than their flames do;
 *   n wicks share the section evenly: each serves inner ÷ √n, so that ln D∞ goes with half of ln n, consumption with ln n (common practice);
 *   lower in the vessel pool and glass run hotter (common practice: "the upper half does not foretell the lower half"), by how much nobody says:
 *   the beliefs about it are wide, and what was never read there is foretold so widely;
 *   a larger circle takes longer, ln tau with half of ln diameter (opinion);
 *   two pours of one recipe differ by 2 %, a vessel × wick is off the law by 3 % (opinion).
 */

#define FACTOR 0.5  /* every spread is known to a factor of about 1.6, and stated as its root mean square. A term that is not named here the figure does not have. */

static const WbCraftSchoolBelief beliefs[WB_CRAFT_SCHOOL_N_MODELS] = {
  {
    .figure = WB_FIGURE_POOL_LIMIT,
    .term = {
      [WB_CRAFT_TERM_COMMON] = { 4.38, 0.4 }, /* 80 mm */
      [WB_CRAFT_TERM_STEP] = { 0.065, 0.03 },
      [WB_CRAFT_TERM_INNER] = { 0.3, 0.2 },
      [WB_CRAFT_TERM_WICKS] = { 0.5, 0.1 },
      [WB_CRAFT_TERM_LOAD] = { -0.004, 0.008 },
      [WB_CRAFT_TERM_DYE] = { 0, 0.02 },
      [WB_CRAFT_TERM_ROOM] = { 0.006, 0.005 },
      [WB_CRAFT_TERM_HEADSPACE] = { 0, 0.02 },
      [WB_CRAFT_TERM_MIDDLE] = { 0.03, 0.04 },
      [WB_CRAFT_TERM_LOWER] = { 0.05, 0.06 },
      [WB_CRAFT_TERM_PACE_COMMON] = { 0.18, 0.25 }, /* 1.2 h */
      [WB_CRAFT_TERM_PACE_INNER] = { 0.5, 0.4 },
      [WB_CRAFT_TERM_PACE_MIDDLE] = { -0.03, 0.08 },
      [WB_CRAFT_TERM_PACE_LOWER] = { -0.06, 0.12 },
    },
    .kin = {
      [WB_CRAFT_KIN_SERIES] = { 0.12, FACTOR },
      [WB_CRAFT_KIN_SLOPE] = { 0.015, FACTOR },
      [WB_CRAFT_KIN_WICK] = { 0.025, FACTOR },
      [WB_CRAFT_KIN_WAX] = { 0.08, FACTOR },
      [WB_CRAFT_KIN_MATERIAL] = { 0.013, FACTOR },
      [WB_CRAFT_KIN_VESSEL] = { 0.015, FACTOR },
      [WB_CRAFT_KIN_BOTTOM] = { 0.015, FACTOR },
      [WB_CRAFT_KIN_POUR] = { 0.02, FACTOR },
      [WB_CRAFT_KIN_HERE] = { 0.03, FACTOR },
      [WB_CRAFT_KIN_HERE_STAGE] = { 0.012, FACTOR },
      [WB_CRAFT_KIN_SUPPLIER] = { 0.065, 0 },
      [WB_CRAFT_KIN_PACE_WAX] = { 0.10, FACTOR },
      [WB_CRAFT_KIN_PACE_POUR] = { 0.05, FACTOR },
      [WB_CRAFT_KIN_PACE_HERE] = { 0.06, FACTOR },
    },
    .least_noise = 0.003, .strength = 0.8, .sample_sd = 0.03, .burn_sd = 0.02,
  },
  {
    .figure = WB_FIGURE_FLAME,
    .term = {
      [WB_CRAFT_TERM_COMMON] = { 3.0, 0.35 }, /* 20 mm */
      [WB_CRAFT_TERM_STEP] = { 0.13, 0.06 },
      [WB_CRAFT_TERM_INNER] = { -0.1, 0.2 },
      [WB_CRAFT_TERM_WICKS] = { 0, 0.1 },
      [WB_CRAFT_TERM_LOAD] = { -0.005, 0.015 },
      [WB_CRAFT_TERM_DYE] = { 0, 0.03 },
      [WB_CRAFT_TERM_ROOM] = { 0.003, 0.005 },
      [WB_CRAFT_TERM_HEADSPACE] = { 0, 0.03 },
      [WB_CRAFT_TERM_MIDDLE] = { 0.03, 0.08 },
      [WB_CRAFT_TERM_LOWER] = { 0.08, 0.15 },
      [WB_CRAFT_TERM_WORST] = { 0.05, 0.06 }, { 0.05, 0.06 }, { 0.05, 0.06 },
      [WB_CRAFT_TERM_PEAK] = { 0.10, 0.08 }, { 0.10, 0.08 }, { 0.10, 0.08 },
    },
    .kin = {
      [WB_CRAFT_KIN_SERIES] = { 0.15, FACTOR },
      [WB_CRAFT_KIN_SLOPE] = { 0.025, FACTOR },
      [WB_CRAFT_KIN_WICK] = { 0.04, FACTOR },
      [WB_CRAFT_KIN_WAX] = { 0.08, FACTOR },
      [WB_CRAFT_KIN_VESSEL] = { 0.02, FACTOR },
      [WB_CRAFT_KIN_BOTTOM] = { 0.04, FACTOR },
      [WB_CRAFT_KIN_POUR] = { 0.03, FACTOR },
      [WB_CRAFT_KIN_HERE] = { 0.04, FACTOR },
      [WB_CRAFT_KIN_HERE_STAGE] = { 0.02, FACTOR },
    },
    .least_noise = 0.01, .strength = 0.7, .sample_sd = 0.05, .burn_sd = 0.05, .has_looks = TRUE,
  },
  {
    .figure = WB_FIGURE_VESSEL,
    .term = {
      [WB_CRAFT_TERM_COMMON] = { 3.2, 0.4 }, /* a rise of 25 K */
      [WB_CRAFT_TERM_STEP] = { 0.13, 0.06 },
      [WB_CRAFT_TERM_INNER] = { -0.5, 0.3 },
      [WB_CRAFT_TERM_WICKS] = { 0.3, 0.3 },
      [WB_CRAFT_TERM_LOAD] = { 0, 0.015 },
      [WB_CRAFT_TERM_DYE] = { 0, 0.03 },
      [WB_CRAFT_TERM_ROOM] = { 0, 0.005 },
      [WB_CRAFT_TERM_HEADSPACE] = { 0, 0.05 },
      [WB_CRAFT_TERM_MIDDLE] = { 0.12, 0.12 },
      [WB_CRAFT_TERM_LOWER] = { 0.30, 0.25 },
      [WB_CRAFT_TERM_WORST] = { 0.03, 0.04 }, { 0.03, 0.04 }, { 0.03, 0.04 },
      [WB_CRAFT_TERM_PEAK] = { 0.08, 0.08 }, { 0.08, 0.08 }, { 0.10, 0.10 },
    },
    .kin = {
      [WB_CRAFT_KIN_SERIES] = { 0.15, FACTOR },
      [WB_CRAFT_KIN_SLOPE] = { 0.025, FACTOR },
      [WB_CRAFT_KIN_WICK] = { 0.04, FACTOR },
      [WB_CRAFT_KIN_WAX] = { 0.08, FACTOR },
      [WB_CRAFT_KIN_MATERIAL] = { 0.072, FACTOR },
      [WB_CRAFT_KIN_VESSEL] = { 0.03, FACTOR },
      [WB_CRAFT_KIN_BOTTOM] = { 0.05, FACTOR },
      [WB_CRAFT_KIN_POUR] = { 0.02, FACTOR },
      [WB_CRAFT_KIN_HERE] = { 0.03, FACTOR },
      [WB_CRAFT_KIN_HERE_STAGE] = { 0.02, FACTOR },
    },
    .least_noise = 0.01, .strength = 0.7, .sample_sd = 0.05, .burn_sd = 0.04, .has_looks = TRUE,
  },
  {
    .figure = WB_FIGURE_DEPTH,
    .term = {
      [WB_CRAFT_TERM_COMMON] = { 2.2, 0.4 }, /* 9 mm */
      [WB_CRAFT_TERM_STEP] = { 0.06, 0.05 },
      [WB_CRAFT_TERM_INNER] = { -0.3, 0.5 },
      [WB_CRAFT_TERM_WICKS] = { 0.1, 0.2 },
      [WB_CRAFT_TERM_LOAD] = { 0.01, 0.02 },
      [WB_CRAFT_TERM_DYE] = { 0, 0.03 },
      [WB_CRAFT_TERM_ROOM] = { 0.01, 0.01 },
      [WB_CRAFT_TERM_HEADSPACE] = { 0, 0.03 },
      [WB_CRAFT_TERM_MIDDLE] = { 0.05, 0.10 },
      [WB_CRAFT_TERM_LOWER] = { 0.12, 0.20 },
      [WB_CRAFT_TERM_WORST] = { 0.02, 0.03 }, { 0.02, 0.03 }, { 0.02, 0.03 },
      [WB_CRAFT_TERM_PEAK] = { 0.08, 0.08 }, { 0.08, 0.08 }, { 0.08, 0.08 },
    },
    .kin = {
      [WB_CRAFT_KIN_SERIES] = { 0.15, FACTOR },
      [WB_CRAFT_KIN_SLOPE] = { 0.025, FACTOR },
      [WB_CRAFT_KIN_WICK] = { 0.05, FACTOR },
      [WB_CRAFT_KIN_WAX] = { 0.12, FACTOR },
      [WB_CRAFT_KIN_VESSEL] = { 0.03, FACTOR },
      [WB_CRAFT_KIN_BOTTOM] = { 0.03, FACTOR },
      [WB_CRAFT_KIN_POUR] = { 0.03, FACTOR },
      [WB_CRAFT_KIN_HERE] = { 0.04, FACTOR },
      [WB_CRAFT_KIN_HERE_STAGE] = { 0.03, FACTOR },
    },
    .least_noise = 0.015, .strength = 0.6, .sample_sd = 0.06, .burn_sd = 0.06, .has_looks = TRUE,
  },
  {
    .figure = WB_FIGURE_CONSUMPTION,
    .term = {
      [WB_CRAFT_TERM_COMMON] = { 1.57, 0.3 }, /* 4.8 g/h */
      [WB_CRAFT_TERM_STEP] = { 0.13, 0.06 },
      [WB_CRAFT_TERM_INNER] = { -0.1, 0.2 },
      [WB_CRAFT_TERM_WICKS] = { 1, 0.1 },
      [WB_CRAFT_TERM_LOAD] = { -0.005, 0.01 },
      [WB_CRAFT_TERM_DYE] = { 0, 0.02 },
      [WB_CRAFT_TERM_ROOM] = { 0.005, 0.005 },
      [WB_CRAFT_TERM_HEADSPACE] = { 0, 0.03 },
      [WB_CRAFT_TERM_MIDDLE] = { 0.03, 0.05 },
      [WB_CRAFT_TERM_LOWER] = { 0.05, 0.08 },
    },
    .kin = {
      [WB_CRAFT_KIN_SERIES] = { 0.15, FACTOR },
      [WB_CRAFT_KIN_SLOPE] = { 0.025, FACTOR },
      [WB_CRAFT_KIN_WICK] = { 0.04, FACTOR },
      [WB_CRAFT_KIN_WAX] = { 0.08, FACTOR },
      [WB_CRAFT_KIN_VESSEL] = { 0.02, FACTOR },
      [WB_CRAFT_KIN_BOTTOM] = { 0.02, FACTOR },
      [WB_CRAFT_KIN_POUR] = { 0.02, FACTOR },
      [WB_CRAFT_KIN_HERE] = { 0.03, FACTOR },
      [WB_CRAFT_KIN_HERE_STAGE] = { 0.02, FACTOR },
    },
    .least_noise = 0.005, .strength = 0.7, .sample_sd = 0.04, .burn_sd = 0.04,
  },
  /* ratings are modelled as the logarithm of how far they are from each end (wb_craft_school_bend) */
  {
    .figure = WB_FIGURE_SOOT,
    .term = {
      [WB_CRAFT_TERM_COMMON] = { -2.0, 0.8 },
      [WB_CRAFT_TERM_STEP] = { 0.25, 0.2 },
      [WB_CRAFT_TERM_INNER] = { 0, 0.7 },
      [WB_CRAFT_TERM_WICKS] = { 0, 0.4 },
      [WB_CRAFT_TERM_LOAD] = { 0.05, 0.06 },
      [WB_CRAFT_TERM_DYE] = { 0.1, 0.2 },
      [WB_CRAFT_TERM_ROOM] = { 0, 0.03 },
      [WB_CRAFT_TERM_HEADSPACE] = { 0, 0.2 },
      [WB_CRAFT_TERM_MIDDLE] = { 0.1, 0.3 },
      [WB_CRAFT_TERM_LOWER] = { 0.3, 0.5 },
    },
    .kin = {
      [WB_CRAFT_KIN_SERIES] = { 0.5, FACTOR },
      [WB_CRAFT_KIN_SLOPE] = { 0.1, FACTOR },
      [WB_CRAFT_KIN_WICK] = { 0.2, FACTOR },
      [WB_CRAFT_KIN_WAX] = { 0.4, FACTOR },
      [WB_CRAFT_KIN_VESSEL] = { 0.15, FACTOR },
      [WB_CRAFT_KIN_BOTTOM] = { 0.2, FACTOR },
      [WB_CRAFT_KIN_POUR] = { 0.15, FACTOR },
      [WB_CRAFT_KIN_HERE] = { 0.2, FACTOR },
      [WB_CRAFT_KIN_HERE_STAGE] = { 0.15, FACTOR },
    },
    .least_noise = 0.1, .strength = 0.4, .sample_sd = 0.3, .burn_sd = 0.3,
  },
  {
    .figure = WB_FIGURE_MUSHROOM,
    .term = {
      [WB_CRAFT_TERM_COMMON] = { -0.8, 0.8 },
      [WB_CRAFT_TERM_STEP] = { 0.2, 0.2 },
      [WB_CRAFT_TERM_INNER] = { 0, 0.5 },
      [WB_CRAFT_TERM_WICKS] = { 0, 0.4 },
      [WB_CRAFT_TERM_LOAD] = { 0.05, 0.06 },
      [WB_CRAFT_TERM_DYE] = { 0.1, 0.2 },
      [WB_CRAFT_TERM_ROOM] = { 0, 0.03 },
      [WB_CRAFT_TERM_HEADSPACE] = { 0, 0.1 },
      [WB_CRAFT_TERM_MIDDLE] = { 0, 0.3 },
      [WB_CRAFT_TERM_LOWER] = { 0, 0.4 },
    },
    .kin = {
      [WB_CRAFT_KIN_SERIES] = { 0.6, FACTOR },
      [WB_CRAFT_KIN_SLOPE] = { 0.1, FACTOR },
      [WB_CRAFT_KIN_WICK] = { 0.2, FACTOR },
      [WB_CRAFT_KIN_WAX] = { 0.4, FACTOR },
      [WB_CRAFT_KIN_VESSEL] = { 0.1, FACTOR },
      [WB_CRAFT_KIN_BOTTOM] = { 0.1, FACTOR },
      [WB_CRAFT_KIN_POUR] = { 0.15, FACTOR },
      [WB_CRAFT_KIN_HERE] = { 0.2, FACTOR },
      [WB_CRAFT_KIN_HERE_STAGE] = { 0.15, FACTOR },
    },
    .least_noise = 0.1, .strength = 0.4, .sample_sd = 0.3, .burn_sd = 0.3,
  },
  /* what the growth's pool leaves on each side, and no more than that is its own */
  {
    .figure = WB_FIGURE_HANG_UP,
    .term = {
      [WB_CRAFT_TERM_COMMON] = { 0.3, 1.0 },
      [WB_CRAFT_TERM_WICKS] = { 0, 0.5 },
      [WB_CRAFT_TERM_SHORTFALL] = { 0.9, 0.25 },
      [WB_CRAFT_TERM_MIDDLE] = { 0, 0.4 },
      [WB_CRAFT_TERM_LOWER] = { 0, 0.5 },
    },
    .kin = {
      [WB_CRAFT_KIN_SERIES] = { 0.2, FACTOR },
      [WB_CRAFT_KIN_WICK] = { 0.2, FACTOR },
      [WB_CRAFT_KIN_WAX] = { 0.4, FACTOR },
      [WB_CRAFT_KIN_VESSEL] = { 0.2, FACTOR },
      [WB_CRAFT_KIN_POUR] = { 0.3, FACTOR },
      [WB_CRAFT_KIN_HERE] = { 0.4, FACTOR },
      [WB_CRAFT_KIN_HERE_STAGE] = { 0.4, FACTOR },
    },
    .least_noise = 0.3, .strength = 0, .sample_sd = 0.7, .burn_sd = 0.7,
  },
};

const WbCraftSchoolBelief *
wb_craft_school_get_belief (guint model)
{
  g_assert (model < WB_CRAFT_SCHOOL_N_MODELS);
  return &beliefs[model];
}

/*
 * A rating's mean r of 0 .. h is modelled as ln ((r + e) / (h - r + e)): between its ends it goes with how strong the cause is,
 * at an end it flattens off, and an e of a quarter of a rating keeps the ends finite.
 */
#define RATING_END 0.25

double
wb_craft_school_bend (WbFigure  figure,
                      double    y,
                      double   *slope)
{
  double low, high, from_low, from_high;

  *slope = 1;
  if (figure == WB_FIGURE_HANG_UP)
    return fmax (y, 0);
  if (!wb_craft_scale_is_rating (figure))
    return y;
  wb_craft_scale_get_ends (figure, &low, &high);
  from_low = CLAMP (y, low, high) - low + RATING_END;
  from_high = high - CLAMP (y, low, high) + RATING_END;
  *slope = 1 / from_low + 1 / from_high;
  return log (from_low / from_high);
}

double
wb_craft_school_unbend (WbFigure figure,
                        double   y)
{
  double low, high, share;

  if (!wb_craft_scale_is_rating (figure))
    return y;
  wb_craft_scale_get_ends (figure, &low, &high);
  share = 1 / (1 + exp (-y));
  return CLAMP (low - RATING_END + share * (high - low + 2 * RATING_END), low, high);
}

double
wb_craft_school_shortfall (double log_limit,
                           double log_tau,
                           double inner_mm)
{
  double pool = exp (log_limit) * -expm1 (-WB_CRAFT_SCHOOL_BURN_H / exp (log_tau));

  return fmax ((inner_mm - pool) / 2, 0);
}
