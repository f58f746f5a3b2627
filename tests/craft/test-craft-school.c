/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-craft-school.h"

#include <math.h>

#include "wb-craft-lesson.h"

void
test_school_init (TestSchool *self)
{
  *self = (TestSchool) {
    .datasets = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_dataset_free),
    .lessons = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_lesson_free),
    .wicks = g_ptr_array_new (),
    .waxes = g_ptr_array_new (),
    .guides = g_ptr_array_new_with_free_func (wb_record_free),
    .own = g_ptr_array_new_with_free_func (wb_record_free),
    .question = { .inner_diameter_mm = 79.4, .wax = (char *) "Test wax", .load_pct = 6 },
  };
}

void
test_school_clear (TestSchool *self)
{
  g_ptr_array_unref (self->lessons);
  g_ptr_array_unref (self->wicks);
  g_ptr_array_unref (self->waxes);
  g_ptr_array_unref (self->guides);
  g_ptr_array_unref (self->own);
  g_ptr_array_unref (self->datasets);
}

WbLesson *
test_school_lesson (const WbDataset *data)
{
  g_autoptr (WbCraftFigures) figures = wb_craft_figures_new (data);
  g_autoptr (WbCraftLimits) limits = wb_craft_limits_new (data, figures);
  g_autoptr (WbCraftEstimates) estimates = wb_craft_estimates_new (data, figures, WB_STAGE_ALL, NULL, NULL, NULL);

  return wb_craft_lesson_new (data, figures, limits, estimates);
}

static gboolean
knows_wick (const TestSchool *self,
            const WbWick     *wick)
{
  for (guint i = 0; i < self->wicks->len; i++)
    {
      const WbWick *known = g_ptr_array_index (self->wicks, i);

      if (g_str_equal (known->series, wick->series) && g_str_equal (known->size, wick->size))
        return TRUE;
    }
  return FALSE;
}

void
test_school_learn (TestSchool *self,
                   WbDataset  *data)
{
  WbLesson *lesson;

  if (data->experiment != NULL)
    {
      data->experiment->record.id = self->lessons->len + 1;
      if (self->lessons->len > 0)
        {
          g_free (data->experiment->code);
          data->experiment->code = g_strdup_printf ("T%u", self->lessons->len + 1);
        }
    }
  lesson = test_school_lesson (data);
  g_ptr_array_add (self->datasets, data);
  g_ptr_array_add (self->lessons, lesson);
  for (guint i = 0; i < data->wicks->len; i++)
    if (!knows_wick (self, g_ptr_array_index (data->wicks, i)))
      g_ptr_array_add (self->wicks, g_ptr_array_index (data->wicks, i));
  if (self->waxes->len == 0)
    g_ptr_array_add (self->waxes, data->wax);
}

WbWick *
test_school_add_wick (TestSchool *self,
                      const char *series,
                      const char *size,
                      gint64      step,
                      gint64      id)
{
  WbWick *wick = wb_record_new (&wb_wick_type);

  wick->record.id = id;
  wick->series = g_strdup (series);
  wick->size = g_strdup (size);
  wick->step = step;
  g_ptr_array_add (self->own, wick);
  g_ptr_array_add (self->wicks, wick);
  return wick;
}

void
test_school_add_guide (TestSchool *self,
                       gint64      wick,
                       gint64      wax,
                       double      from_mm,
                       double      to_mm)
{
  WbWickGuide *guide = wb_record_new (&wb_wick_guide_type);

  guide->wick = wick;
  guide->wax = wax;
  guide->from_mm = from_mm;
  guide->to_mm = to_mm;
  g_ptr_array_add (self->guides, guide);
}

WbCraftSchool *
test_school_go (const TestSchool *self,
                GBytes           *kept)
{
  return wb_craft_school_new (self->lessons, self->guides, self->wicks, self->waxes, kept, NULL, NULL);
}

WbCraftLadder *
test_school_ask (const TestSchool *self)
{
  g_autoptr (WbCraftSchool) school = test_school_go (self, NULL);

  return wb_craft_ladder_new (&self->question, school, self->wicks, self->guides, self->waxes, 1);
}

const WbCraftLadderStep *
test_school_find (const WbCraftLadder *ladder,
                  const char          *size)
{
  for (guint i = 0; i < ladder->steps->len; i++)
    if (g_str_equal (((WbCraftLadderStep *) g_ptr_array_index (ladder->steps, i))->size, size))
      return g_ptr_array_index (ladder->steps, i);
  g_assert_not_reached ();
}

guint
test_school_count_in (const WbCraftLadder *ladder)
{
  guint n = 0;

  for (guint i = 0; i < ladder->steps->len; i++)
    n += ((WbCraftLadderStep *) g_ptr_array_index (ladder->steps, i))->in_ladder;
  return n;
}

static void
check_interval (WbCraftInterval interval)
{
  g_assert_true (isnan (interval.value) || isnan (interval.low) || interval.low <= interval.value);
  g_assert_true (isnan (interval.value) || isnan (interval.high) || interval.high >= interval.value);
}

void
test_school_check (const WbCraftLadder *ladder)
{
  double all = 0, right = 0, most_right = 0, on_ladder = 0, run = 0, least_in = 1, most_out = 0;

  for (guint i = 0; i < ladder->steps->len; i++)
    {
      const WbCraftLadderStep *step = g_ptr_array_index (ladder->steps, i);

      all += step->p_best;
      right += step->p_right;
      most_right = MAX (most_right, step->p_right);
      on_ladder += step->in_ladder ? step->p_best : 0;
      run += step->in_run ? step->p_best : 0;
      if (step->in_ladder)
        least_in = MIN (least_in, step->p_best);
      else
        most_out = MAX (most_out, step->p_best);
      g_assert_cmpfloat (step->p_near, >=, step->p_best - 1e-9);
      g_assert_true (step->p_right >= 0 && step->p_right <= 1);
      g_assert_true (step->p_cross < 1 || !step->in_ladder);
      for (guint place = 0; place < WB_CRAFT_N_FILLS; place++)
        {
          check_interval (step->at[place].pool_limit_mm);
          check_interval (step->at[place].full_pool_h);
          check_interval (step->at[place].flame_mm);
          check_interval (step->at[place].vessel_c);
        }
      check_interval (step->score);
      g_assert_cmpuint (step->nearest->len, <=, 3);
    }
  g_assert_cmpfloat (all, <=, 1 + 1e-9);
  /* counted together: some wick is right at least as often as the likeliest is, and at most as often as they are one after the other */
  g_assert_cmpfloat (ladder->p_none, >=, 1 - right - 1e-6);
  g_assert_cmpfloat (ladder->p_none, <=, 1 - most_right + 1e-6);
  g_assert_cmpfloat_with_epsilon (on_ladder, ladder->p_holds_best, 1e-9);
  g_assert_cmpfloat (least_in, >=, most_out - 1e-9);
  g_assert_true (isnan (ladder->p_run_holds_best) || fabs (ladder->p_run_holds_best - run) < 1e-9);
  /* a run is one of the ladders that might have been picked; a ladder that is shorter than asked leaves out what is hardly ever the best */
  g_assert_true (isnan (ladder->p_run_holds_best) || ladder->p_run_holds_best <= ladder->p_holds_best + 0.01 * ladder->question.sizes + 1e-9);
  if (ladder->wider != G_MAXUINT)
    g_assert_cmpfloat_with_epsilon (ladder->p_wider_holds_best,
                                    ladder->p_holds_best + ((WbCraftLadderStep *) g_ptr_array_index (ladder->steps, ladder->wider))->p_best, 1e-9);
}
