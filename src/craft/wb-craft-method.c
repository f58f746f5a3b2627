/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-method.h"

#include <math.h>

/* Common practice, no source, but for palm wax (trapped air leaves at about 45 min, about 5 h until cool), no source either. */
#define STIR_MIN 2.0
#define PIERCE_MIN 45.0
#define COOL_MIN 300.0

static void
add (GPtrArray *steps,
     int        kind,
     double     to_c,
     double     minutes)
{
  WbMethodStep *step = wb_record_new (&wb_method_step_type);

  step->position = steps->len + 1;
  step->kind = kind;
  step->to_c = to_c;
  step->minutes = minutes;
  g_ptr_array_add (steps, step);
}

static void
add_after_the_pour (GPtrArray   *steps,
                    const WbWax *wax)
{
  gboolean held_back = wax->hold_back_pct > 0;

  if (wax->crystallises)
    add (steps, WB_STEP_INSULATE, NAN, NAN);
  if (wax->crystallises || held_back)
    add (steps, WB_STEP_PIERCE, NAN, wax->crystallises ? PIERCE_MIN : NAN);
  if (wax->crystallises || held_back)
    add (steps, WB_STEP_TOP_UP, wax->pour_c, NAN);
  add (steps, WB_STEP_SET, NAN, wax->crystallises ? COOL_MIN : NAN);
  add (steps, WB_STEP_CURE, NAN, NAN);
}

GPtrArray *
wb_craft_method_usual (const WbWax *wax)
{
  GPtrArray *steps = g_ptr_array_new_with_free_func (wb_record_free);

  g_return_val_if_fail (wax != NULL, steps);

  if (wax->crystallises)
    add (steps, WB_STEP_PREHEAT, NAN, NAN);
  add (steps, WB_STEP_HEAT, wax->heat_c, NAN);
  add (steps, WB_STEP_DYE, NAN, NAN);
  add (steps, WB_STEP_FRAGRANCE, wax->add_c, NAN);
  add (steps, WB_STEP_STIR, NAN, STIR_MIN);
  if (wax->pour_c < (isnan (wax->add_c) ? wax->heat_c : wax->add_c))
    add (steps, WB_STEP_COOL, wax->pour_c, NAN);
  add (steps, WB_STEP_POUR, wax->pour_c, NAN);
  add_after_the_pour (steps, wax);
  for (guint i = 0; i < steps->len; i++)
    ((WbMethodStep *) steps->pdata[i])->wax = wax->record.id;
  return steps;
}

static int
compare_positions (gconstpointer a,
                   gconstpointer b)
{
  const WbMethodStep *one = *(WbMethodStep *const *) a, *other = *(WbMethodStep *const *) b;

  return one->position < other->position ? -1 : one->position > other->position;
}

GPtrArray *
wb_craft_method_of (const WbWax     *wax,
                    const GPtrArray *steps)
{
  g_autoptr (GPtrArray) own = g_ptr_array_new_with_free_func (wb_record_free);

  g_return_val_if_fail (wax != NULL, g_steal_pointer (&own));

  for (guint i = 0; steps != NULL && i < steps->len; i++)
    if (((const WbMethodStep *) steps->pdata[i])->wax == wax->record.id)
      g_ptr_array_add (own, wb_record_copy (steps->pdata[i]));
  if (own->len == 0)
    return wb_craft_method_usual (wax);
  g_ptr_array_sort (own, compare_positions);
  return g_steal_pointer (&own);
}

static gboolean
is_needed (const WbMethodStep *step,
           WbCraftMethodOf     of)
{
  switch ((WbStepKind) step->kind)
    {
    case WB_STEP_FRAGRANCE:
      return of.scented;
    case WB_STEP_DYE:
      return of.coloured;
    case WB_STEP_STIR:
      return of.scented || of.coloured;
    case WB_STEP_TOP_UP:
      return of.held_back;
    case WB_STEP_PREHEAT:
    case WB_STEP_HEAT:
    case WB_STEP_COOL:
    case WB_STEP_POUR:
    case WB_STEP_INSULATE:
    case WB_STEP_PIERCE:
    case WB_STEP_TURN_OVER:
    case WB_STEP_SET:
    case WB_STEP_CURE:
    case WB_STEP_OTHER:
    default:
      return TRUE;
    }
}

GPtrArray *
wb_craft_method_plan (const GPtrArray *method,
                      WbCraftMethodOf  of)
{
  GPtrArray *plan = g_ptr_array_new_with_free_func (wb_record_free);

  g_return_val_if_fail (method != NULL, plan);

  for (guint i = 0; i < method->len; i++)
    {
      const WbMethodStep *from = method->pdata[i];
      WbBatchStep *step;

      if (!is_needed (from, of))
        continue;
      step = wb_record_new (&wb_batch_step_type);
      step->position = plan->len + 1;
      step->kind = from->kind;
      step->to_c = from->to_c;
      step->minutes = from->minutes;
      step->note = g_strdup (from->note);
      g_ptr_array_add (plan, step);
    }
  return plan;
}

guint
wb_craft_method_find_waiting (const GPtrArray *steps)
{
  gboolean after = FALSE;

  g_return_val_if_fail (steps != NULL, G_MAXUINT);

  for (guint i = 0; i < steps->len; i++)
    {
      const WbBatchStep *step = steps->pdata[i];

      if (after && step->kind != WB_STEP_CURE && !step->done_at.known)
        return i;
      after = after || step->kind == WB_STEP_POUR;
    }
  return G_MAXUINT;
}

gboolean
wb_craft_method_is_near (const WbBatch *batch,
                         WbDay          today)
{
  WbDay day;

  g_return_val_if_fail (batch != NULL, FALSE);

  day = wb_batch_get_day (batch);
  return day != WB_DAY_NONE && day >= today - 1;
}
