/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "lab-tally.h"

#include <math.h>
#include <stdlib.h>

#define OR_NEVER 0.05 /* from here on "or never" is said, and from 1 less this on "never" */

LabTally *
lab_tally_new (void)
{
  LabTally *self = g_new0 (LabTally, 1);

  for (guint w = 0; w < LAB_N_INTERVALS; w++)
    for (guint t = 0; t <= LAB_N_THIRDS; t++)
      self->covers[w][t].widths = g_array_new (FALSE, FALSE, sizeof (double));
  return self;
}

void
lab_tally_free (LabTally *self)
{
  if (self == NULL)
    return;
  for (guint w = 0; w < LAB_N_INTERVALS; w++)
    for (guint t = 0; t <= LAB_N_THIRDS; t++)
      g_array_unref (self->covers[w][t].widths);
  g_free (self);
}

guint
lab_third_of (const Lab *lab,
              guint      cell)
{
  return (guint) (LAB_N_THIRDS * (lab->cells[cell].step + 0.5) / lab->spec.steps);
}

/* Neither a value nor an end, nor a chance of never. */
static gboolean
is_none (const LabLine *line)
{
  return isnan (line->said.value) && isnan (line->said.low) && isnan (line->said.high) && isnan (line->p_never);
}

static gboolean
lies_under (const LabLine *line)
{
  if (isnan (line->said.low) && line->p_never > 1 - OR_NEVER)
    return !isinf (line->truth);
  return line->truth < line->said.low;
}

static gboolean
lies_over (const LabLine *line)
{
  if (isinf (line->truth))
    return !isnan (line->said.high) && !(line->p_never > OR_NEVER);
  return line->truth > line->said.high;
}

gboolean
lab_line_covered (const LabLine *line)
{
  return !is_none (line) && !lies_under (line) && !lies_over (line);
}

/* Scores and ratings begin at 0, so that a share of the truth says nothing of them. */
static gboolean
is_plain_width (LabSaid what)
{
  return what == LAB_SAID_SOOT || what == LAB_SAID_MUSHROOM || what == LAB_SAID_SCORE || what == LAB_SAID_SCORE_OVER
         || what == LAB_SAID_CANDLE;
}

static void
cover_add (LabCover      *self,
           const LabLine *line)
{
  double width = line->said.high - line->said.low;

  if (is_none (line))
    {
      self->none++;
      return;
    }
  self->n++;
  self->covered += lab_line_covered (line);
  self->under += lies_under (line);
  self->over += lies_over (line);
  if (isinf (line->truth))
    return; /* no width as a share of never */
  width = isnan (width) ? INFINITY : is_plain_width (line->what) ? width : width / line->truth;
  g_array_append_val (self->widths, width);
}

static void
band_add (LabTally      *self,
          const LabLine *line)
{
  guint chance = line->what - LAB_N_INTERVALS;
  double p = line->said.value;
  LabBand *band;

  if (isnan (p))
    return;
  band = &self->bands[chance][MIN ((guint) (CLAMP (p, 0, 1) * LAB_N_BANDS), LAB_N_BANDS - 1)];
  band->n++;
  band->stated += p;
  band->right += line->truth;
  self->miss[chance] += p - line->truth;
  self->miss_square[chance] += (p - line->truth) * (p - line->truth);
}

void
lab_tally_add (LabTally        *self,
               const LabResult *result)
{
  self->labs++;
  self->cells += result->lab->n_cells;
  self->unpoured += result->unpoured;
  self->answer_s += result->answer_s;
  self->truth_s += result->truth_s;
  for (guint i = 0; i < result->lines->len; i++)
    {
      const LabLine *line = &g_array_index (result->lines, LabLine, i);
      guint third = lab_third_of (result->lab, line->cell);

      if (line->what >= LAB_N_INTERVALS)
        {
          band_add (self, line);
          continue;
        }
      cover_add (&self->covers[line->what][third], line);
      cover_add (&self->covers[line->what][LAB_N_THIRDS], line);
      if (line->what == LAB_SAID_LIMIT)
        self->statuses[third][MIN (line->status, LAB_N_STATUSES - 1)]++;
    }
  for (guint i = 0; i < result->picks->len; i++)
    {
      const LabPick *pick = &g_array_index (result->picks, LabPick, i);

      self->groups += pick->way == LAB_WAY_PROGRAM;
      self->ways[pick->way].right += pick->right;
      self->ways[pick->way].near += pick->near;
      self->ways[pick->way].loss += pick->loss;
    }
}

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

  g_print ("\n%-16s %10s %10s %10s %14s\n", "choice", "best", "near best", "loss", "of the plain's");
  for (LabWay way = 0; way < LAB_N_WAYS; way++)
    {
      const LabPick *sum = &self->ways[way];

      g_print ("%-16s %9.1f%% %9.1f%% %10.4f %14.2f\n", lab_way_get_label (way), 100 * sum->right / self->groups,
               100 * sum->near / self->groups, sum->loss / self->groups, sum->loss / plain);
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
  static const char *thirds[LAB_N_THIRDS + 1] = { "weakest", "middle", "strongest", "all" };

  g_print ("\n%-12s %-10s %7s %6s %8s %13s %13s %13s\n", "90 %", "wicks", "n", "none", "held", "truth below", "truth above",
           "median width");
  for (guint w = 0; w < LAB_N_INTERVALS; w++)
    for (guint i = 0; i <= LAB_N_THIRDS; i++)
      {
        guint t = (i + LAB_N_THIRDS) % (LAB_N_THIRDS + 1);
        const LabCover *cover = &self->covers[w][t];
        double width = median (cover->widths);
        g_autofree char *words = isnan (width) ? g_strdup ("") : isinf (width) ? g_strdup ("open")
                                 : is_plain_width (w) ? g_strdup_printf ("%.3f", width)
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

void
lab_tally_print (const LabTally *self)
{
  g_print ("%u labs, %u cells (%u of them not poured), %u groups\n", self->labs, self->cells, self->unpoured, self->groups);
  print_ways (self);
  print_bands (self, LAB_SAID_P_BEST, LAB_SAID_P_IN_WINDOW);
  print_misses (self);
  print_covers (self);
  print_statuses (self);
}
