/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-random.h"

#include <math.h>

#include <gsl/gsl_cdf.h>

#include "wb-calc-quantile.h"

/* 2^64 / golden ratio, odd: the step of SplitMix64. */
#define GOLDEN_GAMMA UINT64_C (0x9e3779b97f4a7c15)

static uint64_t
rotate_left (uint64_t x,
             int      k)
{
  return (x << k) | (x >> (64 - k));
}

size_t
wb_calc_random_n_blocks (size_t n_draws)
{
  return n_draws / WB_CALC_RANDOM_BLOCK + (n_draws % WB_CALC_RANDOM_BLOCK != 0 ? 1 : 0);
}

uint64_t
wb_calc_random_split (uint64_t *state)
{
  uint64_t z = (*state += GOLDEN_GAMMA);

  z = (z ^ (z >> 30)) * UINT64_C (0xbf58476d1ce4e5b9);
  z = (z ^ (z >> 27)) * UINT64_C (0x94d049bb133111eb);
  return z ^ (z >> 31);
}

void
wb_calc_random_init (WbCalcRandom *random,
                     uint64_t      seed,
                     uint64_t      block)
{
  /* Seed and block are mixed one after the other, so that (seed, block + 1) and (seed + 1, block) share nothing. */
  uint64_t state = seed;
  uint64_t mixed = wb_calc_random_split (&state) ^ block;

  state = wb_calc_random_split (&mixed);
  for (int i = 0; i < 4; i++)
    random->state[i] = wb_calc_random_split (&state);
}

uint64_t
wb_calc_random_next (WbCalcRandom *random)
{
  uint64_t *s = random->state;
  uint64_t result = rotate_left (s[0] + s[3], 23) + s[0];
  uint64_t t = s[1] << 17;

  s[2] ^= s[0];
  s[3] ^= s[1];
  s[1] ^= s[2];
  s[0] ^= s[3];
  s[2] ^= t;
  s[3] = rotate_left (s[3], 45);
  return result;
}

double
wb_calc_random_uniform (WbCalcRandom *random)
{
  /* The middle of one of 2^52 equal slices: exact in a double and never an end. */
  return ((double) (wb_calc_random_next (random) >> 12) + 0.5) * 0x1p-52;
}

double
wb_calc_random_normal (WbCalcRandom *random)
{
  return gsl_cdf_ugaussian_Pinv (wb_calc_random_uniform (random));
}

double
wb_calc_random_chisq (WbCalcRandom *random,
                      double        df)
{
  double u = wb_calc_random_uniform (random);

  if (!(df > 0.0))
    return NAN;
  return wb_calc_chisq_quantile (u, df);
}

double
wb_calc_random_t (WbCalcRandom *random,
                  double        df)
{
  double u = wb_calc_random_uniform (random);

  if (!(df > 0.0))
    return NAN;
  return wb_calc_student_quantile (u, df);
}

uint64_t
wb_calc_random_below (WbCalcRandom *random,
                      uint64_t      bound)
{
  if (bound < 2)
    return 0;

  /* Values from the incomplete last stretch of 2^64 would favour small results. */
  uint64_t unfair = (UINT64_MAX - bound + 1) % bound;
  uint64_t x;

  do
    x = wb_calc_random_next (random);
  while (x < unfair);
  return x % bound;
}

void
wb_calc_random_shuffle (WbCalcRandom *random,
                        size_t       *items,
                        size_t        n_items)
{
  for (size_t i = n_items; i > 1; i--)
    {
      size_t j = (size_t) wb_calc_random_below (random, i);
      size_t kept = items[i - 1];

      items[i - 1] = items[j];
      items[j] = kept;
    }
}
