/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-model.h"

#include "wb-lesson.h"

#include <math.h>

/* Every number is 1 or more, every text there. */
static WbLesson *
make_lesson (void)
{
  WbLesson *lesson = wb_lesson_new ();
  WbLessonCell cell = {
    .cell = 1, .wick = 2, .vessel = 3, .wax = 4, .fragrance = 5, .dye = 6, .series = g_strdup ("Larch"), .size = g_strdup ("L-3"), .step = 3,
    .vessel_name = g_strdup ("Tern"), .wax_name = g_strdup ("Moor blend"), .scent = g_strdup ("Harbour mist"), .wall = 1, .inner_mm = 79.4,
    .load_pct = 6, .stated_pct = 6, .basis = 1, .wicks = 1, .headspace_mm = 20, .room_c = 22, .samples = 2, .burns = 7, .reach = 0.5,
    .crossed = 1, .crossed_heat = 1, .uncleared = 1, .cracked = 1, .crossed_limit = 1, .crossed_at = 80, .crossed_stop = 75,
    .crossed_house = 1, .crossed_logged = 1, .crossed_min = 239, .crossed_burn = 9, .crossed_sample = g_strdup ("T5-1"),
  };
  WbLessonFigure figure = {
    .cell = 0, .figure = WB_FIGURE_FLAME, .stage = 1, .look = 1, .status = 1, .samples = 1, .burns = 1, .mean = 1, .variance = 1, .pace = 1,
    .pace_variance = 1, .covariance = 1, .df = 1, .pace_df = 1, .exponent = 1, .sample_sd = 1, .burn_sd = 1, .offset = 1, .at_wall_h = 1,
    .short_h = 1,
  };

  lesson->experiment = lesson->protocol = lesson->last_entry = lesson->shared_entry = 1;
  lesson->code = g_strdup ("T1");
  lesson->version = 1;
  lesson->flame_stop = lesson->vessel_stop = 76;
  g_array_append_val (lesson->cells, cell);
  g_array_append_val (lesson->figures, figure);
  return lesson;
}

static void
test_copy (void)
{
  g_autoptr (WbLesson) lesson = make_lesson ();
  g_autoptr (WbLesson) copy = wb_lesson_copy (lesson);
  WbLessonCell *cell = &g_array_index (copy->cells, WbLessonCell, 0);

  g_assert_true (wb_lesson_equal (lesson, copy));
  /* with texts of its own */
  cell->series[0] = 'X';
  g_assert_cmpstr (g_array_index (lesson->cells, WbLessonCell, 0).series, ==, "Larch");
  g_assert_false (wb_lesson_equal (lesson, copy));
}

/* What is not known is like what is not known. */
static void
test_not_known (void)
{
  g_autoptr (WbLesson) lesson = make_lesson ();
  g_autoptr (WbLesson) copy = wb_lesson_copy (lesson);

  g_array_index (lesson->figures, WbLessonFigure, 0).mean = NAN;
  g_assert_false (wb_lesson_equal (lesson, copy));
  g_array_index (copy->figures, WbLessonFigure, 0).mean = -NAN;
  g_assert_true (wb_lesson_equal (lesson, copy));
}

static gboolean
is_text (gsize offset)
{
  const gsize texts[] = {
    G_STRUCT_OFFSET (WbLessonCell, series), G_STRUCT_OFFSET (WbLessonCell, size), G_STRUCT_OFFSET (WbLessonCell, vessel_name),
    G_STRUCT_OFFSET (WbLessonCell, wax_name), G_STRUCT_OFFSET (WbLessonCell, scent), G_STRUCT_OFFSET (WbLessonCell, crossed_sample),
  };

  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    if (offset >= texts[i] && offset < texts[i] + sizeof (char *))
      return TRUE;
  return FALSE;
}

/* How many bytes of a struct may be others without being noticed. */
static guint
count_unnoticed (WbLesson       *lesson,
                 const WbLesson *other,
                 guint8         *bytes,
                 gsize           size,
                 gboolean        of_cell)
{
  guint unnoticed = 0;

  for (gsize i = 0; i < size; i++)
    {
      if (of_cell && is_text (i))
        continue;
      bytes[i] ^= 0x21;
      unnoticed += wb_lesson_equal (lesson, other);
      bytes[i] ^= 0x21;
    }
  return unnoticed;
}

/* No field is left out of the comparison: what is not noticed are the few bytes that the compiler puts between fields. */
static void
test_every_field (void)
{
  g_autoptr (WbLesson) lesson = make_lesson ();
  g_autoptr (WbLesson) other = wb_lesson_copy (lesson);

  g_assert_cmpuint (count_unnoticed (lesson, other, (guint8 *) lesson->figures->data, sizeof (WbLessonFigure), FALSE), ==,
                    sizeof (WbLessonFigure) - 7 * sizeof (int) - 13 * sizeof (double));
  g_assert_cmpuint (count_unnoticed (lesson, other, (guint8 *) lesson->cells->data, sizeof (WbLessonCell), TRUE), ==,
                    sizeof (WbLessonCell) - 12 * sizeof (int) - 8 * sizeof (gint64) - 9 * sizeof (double) - 6 * sizeof (char *));
  g_assert_true (wb_lesson_equal (lesson, other));
}

void
test_model_add_lesson (void)
{
  g_test_add_func ("/model/lesson/a-copy-has-texts-of-its-own", test_copy);
  g_test_add_func ("/model/lesson/not-known-is-like-not-known", test_not_known);
  g_test_add_func ("/model/lesson/every-field-is-compared", test_every_field);
}
