/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>
#include <string.h>

#include "wb-craft-method.h"

static WbWax *
wax_new (void)
{
  WbWax *wax = wb_record_new (&wb_wax_type);

  wax->record.id = 7;
  wax->name = g_strdup ("Shingle soft");
  wax->heat_c = 85;
  wax->add_c = 75;
  wax->pour_c = 62;
  return wax;
}

static char *
dup_kinds (const GPtrArray *steps)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < steps->len; i++)
    {
      const WbMethodStep *step = g_ptr_array_index (steps, i);

      g_assert_cmpint (step->position, ==, i + 1);
      g_string_append_printf (text, "%s%s", i > 0 ? " " : "", wb_step_words[step->kind].nick);
    }
  return g_string_free (text, FALSE);
}

/* Common practice: a soft wax is heated, scented, cooled and poured; one that crystallises is warmed, insulated, pierced and topped up. */
static void
test_usual (void)
{
  WbWax *wax = wax_new ();
  g_autoptr (GPtrArray) soft = wb_craft_method_usual (wax), palm = NULL, hot = NULL;
  g_autofree char *of_soft = dup_kinds (soft), *of_palm = NULL, *of_hot = NULL;

  g_assert_cmpstr (of_soft, ==, "heat dye fragrance stir cool pour set cure");
  g_assert_cmpfloat (((const WbMethodStep *) g_ptr_array_index (soft, 0))->to_c, ==, 85);
  g_assert_cmpfloat (((const WbMethodStep *) g_ptr_array_index (soft, 5))->to_c, ==, 62);
  g_assert_cmpint (((const WbMethodStep *) g_ptr_array_index (soft, 5))->wax, ==, 7);

  wax->crystallises = TRUE;
  wax->hold_back_pct = 10;
  palm = wb_craft_method_usual (wax);
  of_palm = dup_kinds (palm);
  g_assert_cmpstr (of_palm, ==, "preheat heat dye fragrance stir cool pour insulate pierce top_up set cure");
  /* about 45 min after the pour (common practice) */
  g_assert_cmpfloat (((const WbMethodStep *) g_ptr_array_index (palm, 8))->minutes, ==, 45);
  /* palm wax is poured as hot as its fragrance goes in: nothing to cool */
  wax->pour_c = wax->add_c = 94;
  hot = wb_craft_method_usual (wax);
  of_hot = dup_kinds (hot);
  g_assert_cmpstr (of_hot, ==, "preheat heat dye fragrance stir pour insulate pierce top_up set cure");
  wb_record_free (wax);
}

/* Turning over is there only where a maker wrote it in, and with its caution. */
static void
test_turning_over (void)
{
  WbWax *wax = wax_new ();
  g_autoptr (GPtrArray) all = g_ptr_array_new_with_free_func (wb_record_free), own = NULL, plan = NULL;
  WbBatchStep *step;

  for (guint i = 0; i < 3; i++)
    {
      WbMethodStep *written = wb_record_new (&wb_method_step_type);

      written->wax = i < 2 ? 7 : 8;
      written->position = 2 - i % 2;
      written->kind = i == 0 ? WB_STEP_TURN_OVER : WB_STEP_POUR;
      g_ptr_array_add (all, written);
    }
  own = wb_craft_method_of (wax, all);
  g_assert_cmpuint (own->len, ==, 2);
  g_assert_cmpint (((const WbMethodStep *) g_ptr_array_index (own, 0))->kind, ==, WB_STEP_POUR);
  plan = wb_craft_method_plan (own, (WbCraftMethodOf) { FALSE, FALSE, FALSE });
  step = g_ptr_array_index (plan, 1);
  g_assert_cmpint (step->kind, ==, WB_STEP_TURN_OVER);
  g_assert_nonnull (strstr (wb_craft_method_get_caution (step->kind), "gloves"));
  g_assert_nonnull (strstr (wb_craft_method_get_caution (step->kind), "only when"));
  wb_record_free (wax);
}

static void
test_plan_of_a_batch (void)
{
  static const struct { WbCraftMethodOf of; const char *kinds; } cases[] = {
    { { FALSE, FALSE, FALSE }, "preheat heat cool pour insulate pierce set cure" },
    { { TRUE, FALSE, FALSE }, "preheat heat fragrance stir cool pour insulate pierce set cure" },
    { { FALSE, TRUE, TRUE }, "preheat heat dye stir cool pour insulate pierce top_up set cure" },
  };
  WbWax *wax = wax_new ();

  wax->crystallises = TRUE;
  wax->hold_back_pct = 10;
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GPtrArray) method = wb_craft_method_of (wax, NULL), plan = wb_craft_method_plan (method, cases[i].of);
      g_autoptr (GString) kinds = g_string_new (NULL);

      for (guint k = 0; k < plan->len; k++)
        {
          const WbBatchStep *step = g_ptr_array_index (plan, k);
          WbCure cure = wb_cure_of (NULL, NULL, wax);
          g_autofree char *words = wb_craft_method_dup_words (step, NULL, &cure, FALSE), *title = wb_craft_method_dup_title (step->kind);

          g_assert_cmpint (step->position, ==, k + 1);
          g_assert_true (g_ascii_isupper (*title));
          g_assert_cmpuint (strlen (words), >, 0);
          g_string_append_printf (kinds, "%s%s", k > 0 ? " " : "", wb_step_words[step->kind].nick);
        }
      g_assert_cmpstr (kinds->str, ==, cases[i].kinds);
    }
  wb_record_free (wax);
}

/* Off by more than 3 K, or by more than a quarter of the time and five minutes. */
static void
test_deviations (void)
{
  static const struct { double actual_c; int after_min; guint found; const char *says; } cases[] = {
    { 65, 45, 0, NULL }, { 58, 45, 1, "pour: 58\302\240°C, planned 62\302\240°C" }, { NAN, 56, 0, NULL }, { NAN, 57, 1, "after 57 min, planned 45 min" },
    { 66, 20, 2, "planned 62" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GPtrArray) steps = g_ptr_array_new_with_free_func (wb_record_free), found = NULL;
      WbBatchStep *pour = wb_record_new (&wb_batch_step_type), *pierce = wb_record_new (&wb_batch_step_type);

      pour->kind = WB_STEP_POUR;
      pour->to_c = 62;
      pour->actual_c = cases[i].actual_c;
      pour->done_at = (WbInstant) { 0, 0, TRUE };
      pierce->kind = WB_STEP_PIERCE;
      pierce->minutes = 45;
      pierce->done_at = (WbInstant) { cases[i].after_min * (gint64) 60 * G_USEC_PER_SEC, 0, TRUE };
      g_ptr_array_add (steps, pour);
      g_ptr_array_add (steps, pierce);
      found = wb_craft_method_deviations (steps, NULL, FALSE);
      g_assert_cmpuint (found->len, ==, cases[i].found);
      if (found->len > 0)
        g_assert_nonnull (strstr (g_ptr_array_index (found, 0), cases[i].says));
    }
}

static WbBatchStep *
step_new (GPtrArray *steps,
          WbStepKind kind,
          double     to_c,
          double     actual_c)
{
  WbBatchStep *step = wb_record_new (&wb_batch_step_type);

  step->position = steps->len + 1;
  step->kind = kind;
  step->to_c = to_c;
  step->actual_c = actual_c;
  g_ptr_array_add (steps, step);
  return step;
}

/*
 * What is measured too hot is said at that step: by more than 3 K above what it asks for, or what the wax is heated to (80, by the
 * wax 78), and whatever reaches the flash point, 82, with the oil in.
 */
static void
test_too_hot (void)
{
  static const struct { WbStepKind kind; double to_c, actual_c; gboolean scented; const char *says; } cases[] = {
    { WB_STEP_HEAT, 80, 82, TRUE, NULL },       { WB_STEP_HEAT, 80, 85, TRUE, "no further" }, { WB_STEP_HEAT, NAN, 82, TRUE, "heated to 78" },
    { WB_STEP_FRAGRANCE, 70, 73, TRUE, NULL },  { WB_STEP_FRAGRANCE, 70, 81, TRUE, "asks for 70" }, { WB_STEP_FRAGRANCE, 70, 82, TRUE, "flash point" },
    { WB_STEP_FRAGRANCE, 70, NAN, TRUE, NULL }, { WB_STEP_TOP_UP, 70, 90, TRUE, "flash point" }, { WB_STEP_TOP_UP, 70, 73, FALSE, NULL },
    { WB_STEP_TOP_UP, NAN, 83, FALSE, NULL },   { WB_STEP_TOP_UP, NAN, 84, FALSE, "asks for 80" }, { WB_STEP_PREHEAT, NAN, 99, TRUE, NULL },
    { WB_STEP_PREHEAT, 50, 84, TRUE, "asks for 50" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GPtrArray) steps = g_ptr_array_new_with_free_func (wb_record_free);
      WbFragrance *oil = wb_record_new (&wb_fragrance_type);
      WbWax *wax = wb_record_new (&wb_wax_type);
      g_autofree char *says = NULL;

      oil->flash_c = 82;
      wax->heat_c = 78;
      if (cases[i].kind != WB_STEP_HEAT)
        step_new (steps, WB_STEP_HEAT, 80, 80);
      if (cases[i].kind != WB_STEP_FRAGRANCE && cases[i].kind != WB_STEP_HEAT)
        step_new (steps, WB_STEP_FRAGRANCE, 70, 70);
      step_new (steps, cases[i].kind, cases[i].to_c, cases[i].actual_c);
      if (cases[i].kind == WB_STEP_HEAT)
        step_new (steps, WB_STEP_FRAGRANCE, 70, NAN);
      says = wb_craft_method_dup_too_hot (steps, cases[i].kind == WB_STEP_HEAT ? 0 : steps->len - 1, wax, cases[i].scented ? oil : NULL, FALSE);
      g_test_message ("case %u: %s", i, says);
      g_assert_cmpint (says != NULL, ==, cases[i].says != NULL);
      if (says != NULL)
        g_assert_nonnull (strstr (says, cases[i].says));
      wb_record_free (oil);
      wb_record_free (wax);
    }
}

/* A melt at its oil's flash point is a deviation, planned or not, and without a time. */
static void
test_flash_point_is_a_deviation (void)
{
  g_autoptr (GPtrArray) steps = g_ptr_array_new_with_free_func (wb_record_free), found = NULL, none = NULL;
  WbFragrance *oil = wb_record_new (&wb_fragrance_type);

  oil->flash_c = 71;
  step_new (steps, WB_STEP_HEAT, 82, 82);
  step_new (steps, WB_STEP_FRAGRANCE, 70, 72);
  found = wb_craft_method_deviations (steps, oil, FALSE);
  g_assert_cmpuint (found->len, ==, 1);
  g_assert_nonnull (strstr (found->pdata[0], "72\302\240°C, at or above the flash point of the oil, 71\302\240°C"));
  none = wb_craft_method_deviations (steps, NULL, FALSE);
  g_assert_cmpuint (none->len, ==, 0);
  wb_record_free (oil);
}

/* A maker's own method that lacks a step does not lose what can hurt there. */
static void
test_cautions_left (void)
{
  g_autoptr (GPtrArray) steps = g_ptr_array_new_with_free_func (wb_record_free), all = NULL, plain = NULL, some = NULL, none = NULL;

  all = wb_craft_method_find_cautions_left (steps, TRUE);
  g_assert_cmpuint (all->len, ==, 3);
  plain = wb_craft_method_find_cautions_left (steps, FALSE);
  g_assert_cmpuint (plain->len, ==, 2);
  step_new (steps, WB_STEP_HEAT, 80, NAN);
  step_new (steps, WB_STEP_POUR, 60, NAN);
  some = wb_craft_method_find_cautions_left (steps, TRUE);
  g_assert_cmpuint (some->len, ==, 1);
  g_assert_cmpstr (some->pdata[0], ==, wb_craft_method_get_caution (WB_STEP_FRAGRANCE));
  step_new (steps, WB_STEP_FRAGRANCE, 60, NAN);
  none = wb_craft_method_find_cautions_left (steps, TRUE);
  g_assert_cmpuint (none->len, ==, 0);
}

/* Held against the latest of the steps before; within the minute, and where a step was not written down, nothing is said. */
static void
test_disorder (void)
{
  static const struct { int kind; int minute; } done[] = {
    { WB_STEP_PREHEAT, 48 }, { WB_STEP_HEAT, 2 }, { WB_STEP_COOL, -1 }, { WB_STEP_POUR, 20 }, { WB_STEP_SET, 48 },
  };
  g_autoptr (GPtrArray) steps = g_ptr_array_new_with_free_func (wb_record_free), lines = NULL;

  for (guint i = 0; i < G_N_ELEMENTS (done); i++)
    {
      WbBatchStep *step = wb_record_new (&wb_batch_step_type);

      step->kind = done[i].kind;
      if (done[i].minute >= 0)
        step->done_at = (WbInstant) { .utc_us = 1772467200 * (gint64) G_USEC_PER_SEC + done[i].minute * G_TIME_SPAN_MINUTE, .known = TRUE };
      g_ptr_array_add (steps, step);
    }
  lines = wb_craft_method_find_disorder (steps);
  g_assert_cmpuint (lines->len, ==, 2);
  g_assert_cmpstr (lines->pdata[0], ==, "Heat the wax: done 2 Mar 2026, 16:02, before Warm the vessels, done 2 Mar 2026, 16:48");
  g_assert_true (g_str_has_prefix (lines->pdata[1], "Pour: done 2 Mar 2026, 16:20, before Warm the vessels"));
}

/* A cure is no moment, and what comes before the pour is over with it. */
static void
test_waiting (void)
{
  const int kinds[] = { WB_STEP_HEAT, WB_STEP_POUR, WB_STEP_PIERCE, WB_STEP_SET, WB_STEP_CURE };
  g_autoptr (GPtrArray) steps = g_ptr_array_new_with_free_func (wb_record_free);
  WbBatch *batch = wb_record_new (&wb_batch_type);

  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      WbBatchStep *step = wb_record_new (&wb_batch_step_type);

      step->kind = kinds[i];
      g_ptr_array_add (steps, step);
    }
  g_assert_cmpuint (wb_craft_method_find_waiting (steps), ==, 2);
  ((WbBatchStep *) steps->pdata[2])->done_at = (WbInstant) { .utc_us = 1, .known = TRUE };
  g_assert_cmpuint (wb_craft_method_find_waiting (steps), ==, 3);
  ((WbBatchStep *) steps->pdata[3])->done_at = (WbInstant) { .utc_us = 2, .known = TRUE };
  g_assert_cmpuint (wb_craft_method_find_waiting (steps), ==, G_MAXUINT);

  g_assert_false (wb_craft_method_is_near (batch, 20000));
  batch->poured_on = 20000;
  g_assert_true (wb_craft_method_is_near (batch, 20000));
  g_assert_true (wb_craft_method_is_near (batch, 20001));
  g_assert_false (wb_craft_method_is_near (batch, 20002));
  wb_record_free (batch);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/craft/method/the-usual-one-is-the-waxs-own-temperatures", test_usual);
  g_test_add_func ("/craft/method/turning-over-is-only-where-it-was-written-in", test_turning_over);
  g_test_add_func ("/craft/method/a-batch-has-the-steps-that-it-needs", test_plan_of_a_batch);
  g_test_add_func ("/craft/method/what-left-the-plan-is-told", test_deviations);
  g_test_add_func ("/craft/method/the-flash-point-is-a-deviation", test_flash_point_is_a_deviation);
  g_test_add_func ("/craft/method/too-hot-is-said-where-it-is-measured", test_too_hot);
  g_test_add_func ("/craft/method/a-step-that-waits-is-asked-for-until-the-day-after", test_waiting);
  g_test_add_func ("/craft/method/no-caution-is-lost-with-its-step", test_cautions_left);
  g_test_add_func ("/craft/method/steps-out-of-order-are-found", test_disorder);
  return g_test_run ();
}
