/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-lesson.h"

static void
clear_cell (gpointer data)
{
  WbLessonCell *cell = data;

  g_free (cell->series);
  g_free (cell->size);
  g_free (cell->wax_name);
  g_free (cell->scent);
  g_free (cell->crossed_sample);
  g_free (cell->fault);
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
