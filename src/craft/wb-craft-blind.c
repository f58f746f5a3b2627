/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-blind.h"

#include "wb-calc-random.h"

#define N_CODES (WB_CRAFT_BLIND_MOST - WB_CRAFT_BLIND_LEAST + 1)

gboolean
wb_craft_blind_is_two_faced (guint code)
{
  static const int turned[10] = { 0, 1, -1, -1, -1, -1, 9, -1, 8, 6 };
  guint back = 0;

  for (guint rest = code; rest > 0; rest /= 10)
    {
      if (turned[rest % 10] < 0)
        return FALSE;
      back = back * 10 + (guint) turned[rest % 10];
    }
  /* 160 upside down is 091: no code, and yet read as one */
  return back != code;
}

static gboolean
is_among (const GArray *codes,
          guint         code)
{
  for (guint i = 0; codes != NULL && i < codes->len; i++)
    if (g_array_index (codes, guint, i) == code)
      return TRUE;
  return FALSE;
}

guint
wb_craft_blind_draw (guint64       seed,
                     const GArray *taken,
                     const GArray *old,
                     guint         n,
                     guint        *codes)
{
  size_t order[N_CODES];
  WbCalcRandom random;
  guint drawn = 0;

  g_return_val_if_fail (codes != NULL || n == 0, 0);

  for (size_t i = 0; i < N_CODES; i++)
    order[i] = i;
  wb_calc_random_init (&random, seed, 0);
  wb_calc_random_shuffle (&random, order, N_CODES);
  for (guint pass = 0; pass < 4; pass++)
    for (guint i = 0; i < N_CODES && drawn < n; i++)
      {
        guint code = WB_CRAFT_BLIND_LEAST + (guint) order[i];

        if (!is_among (taken, code) && is_among (old, code) == (pass >= 2) && wb_craft_blind_is_two_faced (code) == (pass % 2 == 1))
          codes[drawn++] = code;
      }
  return drawn;
}
