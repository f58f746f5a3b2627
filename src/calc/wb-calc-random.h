/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <stddef.h>
#include <stdint.h>

/*
 * Random numbers that are the same on every run and for every division of the
 * work among threads: draw j belongs to block j / 256, and a block's generator
 * is a function of the seed and the block's number alone.
 *
 *   for (block = 0; block < n_blocks; block++)   (in any order, on any thread)
 *     {
 *       wb_calc_random_init (&random, seed, block);
 *       ... WB_CALC_RANDOM_BLOCK draws ...
 *     }
 *
 * The generator is xoshiro256++ (Blackman and Vigna, "Scrambled Linear
 * Pseudorandom Number Generators", ACM Trans. Math. Softw. 47, 2021), its state
 * filled by SplitMix64 (Steele, Lea and Flood, OOPSLA 2014) as its authors
 * advise. Not for secrets.
 */

/* Draws in a block. */
#define WB_CALC_RANDOM_BLOCK 256

typedef struct
{
  uint64_t state[4];
} WbCalcRandom;

/* Blocks needed for `n_draws` draws. */
size_t wb_calc_random_n_blocks (size_t n_draws);

/* The generator of one block of one seed. Every pair of arguments is valid. */
void wb_calc_random_init (WbCalcRandom *random,
                          uint64_t      seed,
                          uint64_t      block);

/* One step of SplitMix64: advances `state` and gives 64 bits. Also for deriving one seed from another. */
uint64_t wb_calc_random_split (uint64_t *state);

/* The next 64 bits. */
uint64_t wb_calc_random_next (WbCalcRandom *random);

/* Uniform in the open interval (0, 1): 0 and 1 never come. 52 bits. */
double wb_calc_random_uniform (WbCalcRandom *random);

/* Standard normal by the inverse of the distribution: one uniform a draw, so that draws stay paired between cases. */
double wb_calc_random_normal (WbCalcRandom *random);

/*
 * Chi-square with `df` > 0 degrees of freedom (need not be whole), by the inverse
 * of the distribution, one uniform a draw; NaN when df is NaN or not above 0,
 * INFINITY when df is.
 */
double wb_calc_random_chisq (WbCalcRandom *random,
                             double        df);

/*
 * Student's t with `df` > 0 degrees of freedom, by the inverse of the
 * distribution, one uniform a draw. df = INFINITY gives the normal; NaN when df
 * is NaN or not above 0. Far below one degree of freedom a draw may be infinite.
 */
double wb_calc_random_t (WbCalcRandom *random,
                         double        df);

/* Uniform on 0 .. bound - 1 without bias (rejection); 0 when bound is 0 or 1. */
uint64_t wb_calc_random_below (WbCalcRandom *random,
                               uint64_t      bound);

/* Puts `items` into random order, all orders equally likely (Fisher and Yates). */
void wb_calc_random_shuffle (WbCalcRandom *random,
                             size_t       *items,
                             size_t        n_items);
