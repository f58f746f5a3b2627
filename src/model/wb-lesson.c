/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-lesson.h"

#include <string.h>

static void
clear_cell (gpointer data)
{
  WbLessonCell *cell = data;

  g_free (cell->series);
  g_free (cell->size);
  g_free (cell->vessel_name);
  g_free (cell->wax_name);
  g_free (cell->scent);
  g_free (cell->crossed_sample);
}

WbLesson *
wb_lesson_new (void)
{
  WbLesson *self = g_new0 (WbLesson, 1);

  self->cells = g_array_new (FALSE, TRUE, sizeof (WbLessonCell));
  g_array_set_clear_func (self->cells, clear_cell);
  self->figures = g_array_new (FALSE, TRUE, sizeof (WbLessonFigure));
  return self;
}

WbLesson *
wb_lesson_copy (const WbLesson *self)
{
  WbLesson *copy = wb_lesson_new ();
  GArray *cells = copy->cells, *figures = copy->figures;

  *copy = *self;
  copy->code = g_strdup (self->code);
  copy->cells = cells;
  copy->figures = figures;
  g_array_append_vals (cells, self->cells->data, self->cells->len);
  for (guint i = 0; i < cells->len; i++)
    {
      WbLessonCell *cell = &g_array_index (cells, WbLessonCell, i);

      cell->series = g_strdup (cell->series);
      cell->size = g_strdup (cell->size);
      cell->vessel_name = g_strdup (cell->vessel_name);
      cell->wax_name = g_strdup (cell->wax_name);
      cell->scent = g_strdup (cell->scent);
      cell->crossed_sample = g_strdup (cell->crossed_sample);
    }
  g_array_append_vals (figures, self->figures->data, self->figures->len);
  return copy;
}

void
wb_lesson_free (WbLesson *self)
{
  if (self == NULL)
    return;
  g_free (self->code);
  g_array_unref (self->cells);
  g_array_unref (self->figures);
  g_free (self);
}

static gboolean
same (double a,
      double b)
{
  return memcmp (&a, &b, sizeof a) == 0 || (a != a && b != b);
}

static gboolean
figures_equal (const WbLessonFigure *a,
               const WbLessonFigure *b)
{
  return a->cell == b->cell && a->figure == b->figure && a->stage == b->stage && a->look == b->look && a->status == b->status
         && a->samples == b->samples && a->burns == b->burns && same (a->mean, b->mean) && same (a->variance, b->variance)
         && same (a->pace, b->pace) && same (a->pace_variance, b->pace_variance) && same (a->covariance, b->covariance)
         && same (a->df, b->df) && same (a->pace_df, b->pace_df) && same (a->exponent, b->exponent)
         && same (a->sample_sd, b->sample_sd) && same (a->burn_sd, b->burn_sd) && same (a->offset, b->offset)
         && same (a->at_wall_h, b->at_wall_h) && same (a->short_h, b->short_h);
}

static gboolean
cells_equal (const WbLessonCell *a,
             const WbLessonCell *b)
{
  return a->cell == b->cell && a->wick == b->wick && a->vessel == b->vessel && a->wax == b->wax && a->fragrance == b->fragrance
         && a->dye == b->dye && g_strcmp0 (a->series, b->series) == 0 && g_strcmp0 (a->size, b->size) == 0 && a->step == b->step
         && g_strcmp0 (a->vessel_name, b->vessel_name) == 0 && g_strcmp0 (a->wax_name, b->wax_name) == 0
         && g_strcmp0 (a->scent, b->scent) == 0 && a->wall == b->wall && same (a->inner_mm, b->inner_mm) && same (a->load_pct, b->load_pct)
         && same (a->stated_pct, b->stated_pct) && a->basis == b->basis && a->wicks == b->wicks
         && same (a->headspace_mm, b->headspace_mm) && same (a->room_c, b->room_c) && a->samples == b->samples && a->burns == b->burns
         && same (a->reach, b->reach) && a->crossed == b->crossed && a->crossed_heat == b->crossed_heat && a->uncleared == b->uncleared
         && a->cracked == b->cracked && a->crossed_limit == b->crossed_limit && same (a->crossed_at, b->crossed_at)
         && same (a->crossed_stop, b->crossed_stop) && a->crossed_house == b->crossed_house && a->crossed_logged == b->crossed_logged
         && same (a->crossed_min, b->crossed_min) && a->crossed_burn == b->crossed_burn
         && g_strcmp0 (a->crossed_sample, b->crossed_sample) == 0;
}

gboolean
wb_lesson_equal (const WbLesson *a,
                 const WbLesson *b)
{
  if (a->experiment != b->experiment || g_strcmp0 (a->code, b->code) != 0 || a->protocol != b->protocol || a->last_entry != b->last_entry
      || a->shared_entry != b->shared_entry || a->version != b->version || !same (a->flame_stop, b->flame_stop)
      || !same (a->vessel_stop, b->vessel_stop) || a->cells->len != b->cells->len || a->figures->len != b->figures->len)
    return FALSE;
  for (guint i = 0; i < a->cells->len; i++)
    if (!cells_equal (&g_array_index (a->cells, WbLessonCell, i), &g_array_index (b->cells, WbLessonCell, i)))
      return FALSE;
  for (guint i = 0; i < a->figures->len; i++)
    if (!figures_equal (&g_array_index (a->figures, WbLessonFigure, i), &g_array_index (b->figures, WbLessonFigure, i)))
      return FALSE;
  return TRUE;
}
