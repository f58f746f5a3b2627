/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "lab-tables.h"

#include <math.h>

#define AIM_LOW 0.87
#define AIM_HIGH 0.93
#define AIM_THIRD 0.82
#define AIM_CHANCE 0.05
#define AIM_SAID 200
#define AIM_BEST 0.85
#define AIM_LOSS 0.2

static const char *thirds[LAB_N_THIRDS + 1] = { "weakest", "middle", "strongest", "all" };

static int
compare_doubles (gconstpointer a,
                 gconstpointer b)
{
  double one = *(const double *) a, other = *(const double *) b;

  return one < other ? -1 : one > other;
}

static double
median (GArray *values)
{
  g_array_sort (values, compare_doubles);
  return values->len > 0 ? g_array_index (values, double, values->len / 2) : NAN;
}

static void
print_ways (const LabTally *self)
{
  double plain = self->ways[LAB_WAY_PLAIN].loss;

  g_print ("\n%-17s %16s %10s %18s %14s\n", "choice", "best", "near best", "loss", "of the plain's");
  for (LabWay way = 0; way < LAB_N_WAYS; way++)
    {
      const LabPick *sum = &self->ways[way];
      double n = self->groups, right = sum->right / n, loss = sum->loss / n;

      g_print ("%-17s %7.1f%% +- %4.1f %9.1f%% %8.4f +- %.4f %14.2f\n", lab_way_get_label (way), 100 * right,
               100 * sqrt (right * (1 - right) / n), 100 * sum->near / n, loss,
               sqrt (fmax (self->loss_square[way] / n - loss * loss, 0) / n), sum->loss / plain);
    }
}

static void
print_bands (const LabTally *self,
             LabSaid         first,
             LabSaid         last)
{
  g_print ("\n%-10s", "stated");
  for (LabSaid said = first; said <= last; said++)
    g_print ("   %24s", lab_said_get_label (said));
  g_print ("\n%-10s", "");
  for (LabSaid said = first; said <= last; said++)
    g_print ("   %6s %8s %8s", "n", "said", "true");
  g_print ("\n");
  for (guint b = 0; b < LAB_N_BANDS; b++)
    {
      g_print ("%.1f to %.1f", (double) b / LAB_N_BANDS, (b + 1.0) / LAB_N_BANDS);
      for (LabSaid said = first; said <= last; said++)
        {
          const LabBand *band = &self->bands[said - LAB_N_INTERVALS][b];

          if (band->n > 0)
            g_print ("   %6u %8.3f %8.3f", band->n, band->stated / band->n, band->right / band->n);
          else
            g_print ("   %6u %8s %8s", 0, "", "");
        }
      g_print ("\n");
    }
}

static void
print_misses (const LabTally *self)
{
  g_print ("\n%-16s %8s %12s %22s\n", "chance", "n", "said - true", "root of mean square");
  for (LabSaid said = LAB_N_INTERVALS; said < LAB_N_SAID; said++)
    {
      guint chance = said - LAB_N_INTERVALS, n = 0;

      for (guint b = 0; b < LAB_N_BANDS; b++)
        n += self->bands[chance][b].n;
      if (n > 0)
        g_print ("%-16s %8u %12.4f %22.4f\n", lab_said_get_label (said), n, self->miss[chance] / n,
                 sqrt (self->miss_square[chance] / n));
    }
}

static void
print_covers (const LabTally *self)
{
  g_print ("\n%-12s %-10s %7s %6s %8s %13s %13s %13s\n", "90 %", "wicks", "n", "none", "held", "truth below", "truth above",
           "median width");
  for (guint w = 0; w < LAB_N_INTERVALS; w++)
    for (guint i = 0; i <= LAB_N_THIRDS; i++)
      {
        guint t = (i + LAB_N_THIRDS) % (LAB_N_THIRDS + 1);
        const LabCover *cover = &self->covers[w][t];
        double width = median (cover->widths);
        g_autofree char *words = isnan (width) ? g_strdup ("") : isinf (width) ? g_strdup ("open")
                                 : lab_said_is_plain (w) ? g_strdup_printf ("%.3f", width)
                                                      : g_strdup_printf ("%.1f %%", 100 * width);

        if (cover->n + cover->none == 0)
          continue;
        g_print ("%-12s %-10s %7u %6u ", i == 0 ? lab_said_get_label (w) : "", thirds[t], cover->n, cover->none);
        if (cover->n > 0)
          g_print ("%7.1f%% %12.1f%% %12.1f%% %13s\n", 100.0 * cover->covered / cover->n, 100.0 * cover->under / cover->n,
                   100.0 * cover->over / cover->n, words);
        else
          g_print ("\n");
      }
}

static void
print_statuses (const LabTally *self)
{
  g_print ("\n%-28s %10s %10s %10s\n", "growth curves", "weakest", "middle", "strongest");
  for (guint s = 0; s < LAB_N_STATUSES; s++)
    if (self->statuses[0][s] + self->statuses[1][s] + self->statuses[2][s] > 0)
      g_print ("%-28s %10u %10u %10u\n", wb_craft_fit_status_get_key (s), self->statuses[0][s], self->statuses[1][s],
               self->statuses[2][s]);
}

/* What is outside the aims, which are set for 2 samples and 2 burns; of few labs much is, by chance alone. */
static void
print_aims (const LabTally *self)
{
  const LabPick *chosen = &self->ways[LAB_WAY_PROGRAM];
  guint outside = 0;

  g_print ("\noutside the aims (%.0f to %.0f %% held, %.0f %% in each third; chances within %.0f points where %u were said; "
           "%.0f %% best; loss %.1f of the plain's):\n", 100 * AIM_LOW, 100 * AIM_HIGH, 100 * AIM_THIRD, 100 * AIM_CHANCE,
           AIM_SAID, 100 * AIM_BEST, AIM_LOSS);
  for (guint w = 0; w < LAB_N_INTERVALS; w++)
    for (guint t = 0; t <= LAB_N_THIRDS; t++)
      {
        const LabCover *cover = &self->covers[w][t];
        double held = cover->n > 0 ? (double) cover->covered / cover->n : AIM_LOW;

        if (t < LAB_N_THIRDS ? held >= AIM_THIRD : held >= AIM_LOW && held <= AIM_HIGH)
          continue;
        g_print ("  %s, %s: %.1f %%\n", lab_said_get_label (w), thirds[t], 100 * held);
        outside++;
      }
  for (LabSaid said = LAB_N_INTERVALS; said < LAB_SAID_LOSS; said++)
    for (guint b = 0; b < LAB_N_BANDS; b++)
      {
        const LabBand *band = &self->bands[said - LAB_N_INTERVALS][b];

        if (band->n < AIM_SAID || fabs (band->stated - band->right) <= AIM_CHANCE * band->n)
          continue;
        g_print ("  %s: said %.3f, true %.3f of %u\n", lab_said_get_label (said), band->stated / band->n,
                 band->right / band->n, band->n);
        outside++;
      }
  if (chosen->right < AIM_BEST * self->groups && ++outside)
    g_print ("  best: %.1f %%\n", 100 * chosen->right / self->groups);
  if (chosen->loss > AIM_LOSS * self->ways[LAB_WAY_PLAIN].loss && ++outside)
    g_print ("  loss: %.2f of the plain's\n", chosen->loss / self->ways[LAB_WAY_PLAIN].loss);
  if (outside == 0)
    g_print ("  nothing\n");
}

void
lab_tables_print (const LabTally *self)
{
  g_print ("%u labs, %u cells (%u of them not poured), %u groups\n", self->labs, self->cells, self->unpoured, self->groups);
  print_ways (self);
  print_bands (self, LAB_SAID_P_BEST, LAB_SAID_P_CROSS);
  print_bands (self, LAB_SAID_P_IN_WINDOW, LAB_SAID_LOSS);
  print_misses (self);
  print_covers (self);
  print_statuses (self);
  print_aims (self);
}
