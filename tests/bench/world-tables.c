/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "world-tables.h"

#include <math.h>

/* What a ladder of three is to do (2 % between pours, 3 % vessel × wick). */
#define AIM_AFTER_ONE 0.86
#define AIM_AFTER_THREE 0.90
#define AIM_NEAR 0.97
#define AIM_SAID 0.05
#define AIM_HELD 0.87
#define AIM_WIDTH 0.09        /* of the pool limit after three */
#define AIM_BAND 200          /* chances said, before a band counts */

static const char *places[WORLD_N_PLACES] = { "top", "bottom" };

static void
print_ways (const WorldTally *self)
{
  g_print ("\n%-17s %6s %6s %16s %14s %8s %10s\n", "choice", "worlds", "sizes", "holds the best", "one as good", "loss", "said");
  for (WorldWay way = 0; way < WORLD_N_WAYS; way++)
    {
      const WorldPick *sum = &self->ways[way];
      double n = self->told[way], holds = sum->holds / n;

      if (self->told[way] == 0)
        continue;
      g_print ("%-17s %6u %6.2f %7.1f%% +- %4.1f %13.1f%% %8.4f", world_way_get_label (way), self->told[way], sum->chosen / n,
               100 * holds, 100 * sqrt (holds * (1 - holds) / n), 100 * sum->near / n, sum->loss / n);
      if (self->n_said[way] > 0)
        g_print (" %9.1f%%", 100 * sum->said / self->n_said[way]);
      g_print ("\n");
    }
}

static void
print_bands (const WorldTally *self,
             WorldChance       first,
             WorldChance       last)
{
  g_print ("\n%-10s", "stated");
  for (WorldChance chance = first; chance <= last; chance++)
    g_print ("   %24s", world_chance_get_label (chance));
  g_print ("\n%-10s", "");
  for (WorldChance chance = first; chance <= last; chance++)
    g_print ("   %6s %8s %8s", "n", "said", "true");
  g_print ("\n");
  for (guint b = 0; b < LAB_N_BANDS; b++)
    {
      g_print ("%.1f to %.1f", (double) b / LAB_N_BANDS, (b + 1.0) / LAB_N_BANDS);
      for (WorldChance chance = first; chance <= last; chance++)
        {
          const LabBand *band = &self->bands[chance][b];

          if (band->n > 0)
            g_print ("   %6u %8.3f %8.3f", band->n, band->stated / band->n, band->right / band->n);
          else
            g_print ("   %6u %8s %8s", 0, "", "");
        }
      g_print ("\n");
    }
}

static void
print_width (GArray *widths)
{
  double width = world_median (widths);

  if (isnan (width))
    g_print (" %8s", "");
  else if (isinf (width))
    g_print (" %8s", "open");
  else
    g_print (" %6.1f %%", 100 * width);
}

/* bias: mean of ln (value / truth); rms: its root mean square; both as shares. */
static void
print_covers (const WorldTally *self)
{
  g_print ("\n%-12s %-7s %5s %5s %7s %7s %7s %7s %8s %8s %8s %8s %7s %7s %14s\n", "90 %", "fill", "n", "none", "held", "t.below",
           "t.above", "n.pour", "width", "informed", "oracle", "o.n.pour", "bias", "rms", "tried/untried");
  for (guint s = 0; s < WORLD_N_SAID; s++)
    for (guint p = 0; p < WORLD_N_PLACES; p++)
      {
        const WorldCover *cover = &self->covers[p][s][WORLD_ALL];
        const WorldCover *tried = &self->covers[p][s][WORLD_TRIED], *untried = &self->covers[p][s][WORLD_UNTRIED];
        double n = cover->n;

        if (cover->n + cover->none == 0)
          continue;
        g_print ("%-12s %-7s %5u %5u", world_said_get_label (s), places[p], cover->n, cover->none);
        if (cover->n > 0)
          {
            g_print (" %6.1f%% %6.1f%% %6.1f%% %6.1f%%", 100 * cover->held / n, 100 * cover->under / n, 100 * cover->over / n,
                     100 * cover->next_held / n);
            print_width (cover->widths);
            print_width (cover->informed);
            print_width (cover->oracle);
            print_width (cover->oracle_pour);
            if (cover->errors > 0)
              g_print (" %+6.1f%% %6.1f%%", 100 * cover->error / cover->errors, 100 * sqrt (cover->error_square / cover->errors));
            if (tried->n > 0 && untried->n > 0)
              g_print ("  %5.1f/%5.1f%%", 100.0 * tried->held / tried->n, 100.0 * untried->held / untried->n);
          }
        g_print ("\n");
      }
}

static guint
say_outside (const char *what,
             double      is,
             double      aim)
{
  g_print ("  %s: %.1f %% (%.0f)\n", what, 100 * is, 100 * aim);
  return 1;
}

static guint
check_choice (const WorldTally *self)
{
  const WorldPick *ladder = &self->ways[WORLD_WAY_LADDER];
  double n = self->told[WORLD_WAY_LADDER], holds = ladder->holds / n, said = ladder->said / self->n_said[WORLD_WAY_LADDER];
  double aim = self->earlier >= 3 ? AIM_AFTER_THREE : AIM_AFTER_ONE;
  guint outside = 0;

  if (self->told[WORLD_WAY_LADDER] < self->worlds)
    outside += say_outside ("has a ladder", n / self->worlds, 1);
  if (holds < aim)
    outside += say_outside ("holds the best", holds, aim);
  if (ladder->near / n < AIM_NEAR)
    outside += say_outside ("holds one as good", ladder->near / n, AIM_NEAR);
  if (self->n_said[WORLD_WAY_LADDER] == 0)
    return outside;
  if (self->earlier >= 3 && fabs (said - holds) > AIM_SAID)
    outside += say_outside ("said to hold the best", said, holds);
  /* what few worlds cannot tell apart is not said */
  if (self->earlier < 3 && said > holds + 2 * sqrt (holds * (1 - holds) / n))
    outside += say_outside ("overstates that it holds the best", said, holds);
  return outside;
}

/* What is outside the aims; of few worlds much is, by chance alone. */
static void
print_aims (const WorldTally *self)
{
  guint outside = 0;

  g_print ("\noutside the aims (best on the ladder in %.0f of 100 after one, %.0f after three, one as good in %.0f; said within %.0f "
           "points after three, not overstated after one; %.0f %% held; the pool limit told within %.0f %% of it after three; p_right, p_cross within %.0f points where %u were said):\n",
           100 * AIM_AFTER_ONE, 100 * AIM_AFTER_THREE, 100 * AIM_NEAR, 100 * AIM_SAID, 100 * AIM_HELD, 100 * AIM_WIDTH,
           100 * AIM_SAID, AIM_BAND);
  if (self->earlier > 0)
    outside += check_choice (self);
  for (guint s = 0; s < WORLD_N_SAID; s++)
    for (guint p = 0; p < WORLD_N_PLACES; p++)
      {
        const WorldCover *cover = &self->covers[p][s][WORLD_ALL];
        g_autofree char *what = g_strdup_printf ("%s, %s", world_said_get_label (s), places[p]);

        if (self->earlier > 0 && cover->n == 0 && cover->none > 0 && ++outside)
          g_print ("  %s: not told\n", what);
        if (cover->n > 0 && cover->held < AIM_HELD * cover->n)
          outside += say_outside (what, (double) cover->held / cover->n, AIM_HELD);
        if (self->earlier >= 3 && s == WORLD_SAID_LIMIT && cover->n > 0 && world_median (cover->widths) > AIM_WIDTH)
          {
            g_autofree char *width = g_strconcat (what, ", width", NULL);

            outside += say_outside (width, world_median (cover->widths), AIM_WIDTH);
          }
      }
  for (WorldChance chance = WORLD_CHANCE_BEST; chance < WORLD_N_CHANCES; chance++)
    for (guint b = 0; b < LAB_N_BANDS; b++)
      {
        const LabBand *band = &self->bands[chance][b];

        if (band->n < AIM_BAND || fabs (band->stated - band->right) <= AIM_SAID * band->n)
          continue;
        g_print ("  %s: said %.3f, true %.3f of %u\n", world_chance_get_label (chance), band->stated / band->n,
                 band->right / band->n, band->n);
        outside++;
      }
  if (outside == 0)
    g_print ("  nothing\n");
}

void
world_tables_print (const WorldTally *self)
{
  g_print ("%u worlds, %u foretold by history, %.1f wicks asked for on average\n", self->worlds, self->by_history,
           self->asked / self->worlds);
  print_ways (self);
  if (self->told[WORLD_WAY_LADDER] == 0)
    return;
  print_bands (self, WORLD_CHANCE_HOLDS, WORLD_CHANCE_BEST);
  print_bands (self, WORLD_CHANCE_NEAR, WORLD_CHANCE_CROSS);
  print_covers (self);
  print_aims (self);
}

void
world_tables_summary (WorldTally *const *tallies,
                      guint              n)
{
  if (n == 0 || tallies[0]->told[WORLD_WAY_LADDER] == 0)
    return;
  g_print ("\n%-9s %8s %8s %8s %8s %8s %8s %8s %8s %8s %8s   held: %-8s %-8s %-8s %-8s %-8s\n", "earlier", "best", "as good", "said", "run",
           "chart", "nearest", "informed", "candles", "oracle", "width", "limit", "pool", "flame", "vessel", "consum.");
  for (guint i = 0; i < n; i++)
    {
      const WorldTally *self = tallies[i];
      const WorldPick *ladder = &self->ways[WORLD_WAY_LADDER];

      g_print ("%-9u %7.1f%% %7.1f%% ", self->earlier, 100 * ladder->holds / self->told[WORLD_WAY_LADDER],
               100 * ladder->near / self->told[WORLD_WAY_LADDER]);
      g_print ("%7.1f%% ", 100 * ladder->said / self->n_said[WORLD_WAY_LADDER]);
      for (WorldWay way = WORLD_WAY_RUN; way < WORLD_N_WAYS; way++)
        if (self->told[way] > 0)
          g_print ("%7.1f%% ", 100 * self->ways[way].holds / self->told[way]);
        else
          g_print ("%8s ", "");
      print_width (self->covers[WORLD_TOP][WORLD_SAID_LIMIT][WORLD_ALL].widths);
      g_print ("  ");
      for (guint s = 0; s < WORLD_SAID_BURN_H; s++)
        {
          const WorldCover *cover = &self->covers[WORLD_TOP][s][WORLD_ALL];

          g_print ("   %5.1f%%", 100.0 * cover->held / cover->n);
        }
      g_print ("\n");
    }
}
