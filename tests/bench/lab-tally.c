/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "lab-tally.h"

#include <math.h>

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

gboolean
lab_said_is_plain (LabSaid what)
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
  width = isnan (width) ? INFINITY : lab_said_is_plain (line->what) ? width : width / line->truth;
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
      self->loss_square[pick->way] += pick->loss * pick->loss;
    }
}
