/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "world-tally.h"

#include <math.h>

static int
compare_doubles (gconstpointer a,
                 gconstpointer b)
{
  double one = *(const double *) a, other = *(const double *) b;

  return one < other ? -1 : one > other;
}

double
world_median (GArray *values)
{
  g_array_sort (values, compare_doubles);
  return values->len > 0 ? g_array_index (values, double, values->len / 2) : NAN;
}

WorldTally *
world_tally_new (guint earlier)
{
  WorldTally *self = g_new0 (WorldTally, 1);

  self->earlier = earlier;
  for (guint p = 0; p < WORLD_N_PLACES; p++)
    for (guint s = 0; s < WORLD_N_SAID; s++)
      for (guint w = 0; w < WORLD_N_WICKS; w++)
        {
          WorldCover *cover = &self->covers[p][s][w];

          cover->widths = g_array_new (FALSE, FALSE, sizeof (double));
          cover->informed = g_array_new (FALSE, FALSE, sizeof (double));
          cover->oracle = g_array_new (FALSE, FALSE, sizeof (double));
          cover->oracle_pour = g_array_new (FALSE, FALSE, sizeof (double));
        }
  return self;
}

void
world_tally_free (WorldTally *self)
{
  if (self == NULL)
    return;
  for (guint p = 0; p < WORLD_N_PLACES; p++)
    for (guint s = 0; s < WORLD_N_SAID; s++)
      for (guint w = 0; w < WORLD_N_WICKS; w++)
        {
          WorldCover *cover = &self->covers[p][s][w];

          g_array_unref (cover->widths);
          g_array_unref (cover->informed);
          g_array_unref (cover->oracle);
          g_array_unref (cover->oracle_pour);
        }
  g_free (self);
}

static void
add_width (GArray *widths,
           double  width,
           double  truth)
{
  width = isnan (width) ? INFINITY : width / truth;
  if (!isinf (truth))
    g_array_append_val (widths, width);
}

static void
cover_add (WorldCover      *self,
           const WorldLine *line)
{
  gboolean under, over;

  if (isnan (line->said.value) && isnan (line->said.low) && isnan (line->said.high) && isnan (line->p_never))
    {
      self->none++;
      return;
    }
  self->n++;
  self->held += world_line_covered (line, line->truth, &under, &over);
  self->under += under;
  self->over += over;
  self->next_held += world_line_covered (line, line->next_pour, NULL, NULL);
  add_width (self->widths, line->said.high - line->said.low, line->truth);
  add_width (self->informed, line->informed_width, line->truth);
  add_width (self->oracle, line->oracle_width, line->truth);
  add_width (self->oracle_pour, line->oracle_pour_width, line->truth);
  if (!isnan (line->said.value) && !isinf (line->truth))
    {
      double error = log (line->said.value / line->truth);

      self->errors++;
      self->error += error;
      self->error_square += error * error;
    }
}

static void
pick_add (WorldTally      *self,
          WorldWay         way,
          const WorldPick *pick)
{
  WorldPick *sum = &self->ways[way];

  if (!pick->told)
    return;
  self->told[way]++;
  sum->holds += pick->holds;
  sum->near += pick->near;
  sum->loss += pick->loss;
  sum->chosen += pick->chosen;
  if (isnan (pick->said))
    return;
  self->n_said[way]++;
  sum->said += pick->said;
}

void
world_tally_add (WorldTally        *self,
                 const WorldAnswer *answer)
{
  g_assert (answer->earlier == self->earlier);
  self->worlds++;
  self->by_history += answer->by_history;
  self->asked += answer->asked;
  for (WorldWay way = 0; way < WORLD_N_WAYS; way++)
    pick_add (self, way, &answer->ways[way]);
  for (guint i = 0; i < answer->stated->len; i++)
    {
      const WorldStated *stated = &g_array_index (answer->stated, WorldStated, i);
      LabBand *band = &self->bands[stated->what][MIN ((guint) (stated->said * LAB_N_BANDS), LAB_N_BANDS - 1)];

      band->n++;
      band->stated += stated->said;
      band->right += stated->truth;
    }
  for (guint i = 0; i < answer->lines->len; i++)
    {
      const WorldLine *line = &g_array_index (answer->lines, WorldLine, i);

      cover_add (&self->covers[line->place][line->what][line->tried ? WORLD_TRIED : WORLD_UNTRIED], line);
      cover_add (&self->covers[line->place][line->what][WORLD_ALL], line);
    }
}
