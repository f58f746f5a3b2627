/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-demo-private.h"

#include <math.h>

#include "wb-craft-method.h"

/* How the invented workshop pours: a wax with a method of its own, and the steps of one pour as they went. All figures are invented. */

typedef struct { WbStepKind kind; double to_c, minutes; const char *how; } Step;

/* By the usual practice for a wax that crystallises (wb-craft-method.c), with this workshop's own figures. */
static const Step crystal_steps[] = {
  { WB_STEP_PREHEAT, 50, 20, "In the warming box, upright, wicks set and centred" },
  { WB_STEP_HEAT, 88, NAN, NULL },
  { WB_STEP_FRAGRANCE, 84, NAN, NULL },
  { WB_STEP_STIR, NAN, 2, "Slowly: air that is stirred in stays" },
  { WB_STEP_POUR, 82, NAN, "Steadily, down the side; keep a tenth in the pot" },
  { WB_STEP_INSULATE, NAN, NAN, "Felt sleeves and lids of card, close together in the box" },
  { WB_STEP_PIERCE, NAN, 45, "Three holes beside the wick, to a third of the depth" },
  { WB_STEP_TOP_UP, 82, NAN, "From what was kept, only to the first line" },
  { WB_STEP_SET, NAN, 300, "In the box until it is as cold as the room" },
  { WB_STEP_CURE, NAN, NAN, NULL },
};

static gboolean
put_method (WbStoreChange *change,
            const WbWax   *wax,
            GError       **error)
{
  for (guint i = 0; i < G_N_ELEMENTS (crystal_steps); i++)
    {
      g_autoptr (WbRecord) record = wb_record_new (&wb_method_step_type);
      WbMethodStep *step = (WbMethodStep *) (gpointer) record;

      step->wax = wax->record.id;
      step->position = i + 1;
      step->kind = (int) crystal_steps[i].kind;
      step->to_c = crystal_steps[i].to_c;
      step->minutes = crystal_steps[i].minutes;
      step->note = g_strdup (crystal_steps[i].how);
      if (!wb_store_change_put (change, record, error))
        return FALSE;
    }
  return TRUE;
}

gboolean
wb_app_demo_enter_crystal (WbAppDemo *demo,
                           int        day,
                           GError   **error)
{
  WbStoreChange *change = wb_app_demo_begin (demo, day, 10, 0, "material", "Enter Sarrow crystal and how it is poured", error);
  g_autoptr (WbRecord) record = wb_record_new (&wb_wax_type);
  WbWax *wax = (WbWax *) (gpointer) record;

  if (change == NULL)
    return FALSE;
  wax->name = g_strdup ("Sarrow crystal");
  wax->kind = WB_WAX_PALM;
  wax->density = 0.9;
  wax->density_c = 20;
  wax->max_load_pct = 6;
  wax->max_load_basis = WB_BASIS_WAX;
  wax->melt_c = 60;
  wax->heat_c = 88;
  wax->add_c = 84;
  wax->pour_c = 82;
  wax->burn_cure_days = 2;
  wax->smell_cure_days = 5;
  wax->crystallises = TRUE;
  wax->hold_back_pct = 10;
  wax->note = g_strdup ("Invented for this demo; no real product is meant.");
  if (!wb_store_change_put (change, wax, error) || !put_method (change, wax, error))
    {
      wb_store_rollback (change);
      return FALSE;
    }
  return wb_store_commit (change, NULL, error);
}

/* What the thermometer read at a step; NAN: nobody looked. */
static double
measured (const WbBatch *batch,
          int            kind)
{
  switch ((WbStepKind) kind)
    {
    case WB_STEP_HEAT:
      return batch->heat_c;
    case WB_STEP_FRAGRANCE:
      return batch->add_c;
    case WB_STEP_COOL:
    case WB_STEP_POUR:
      return batch->pour_c;
    case WB_STEP_TOP_UP:
      return batch->pour_c - 8; /* the deviation of this pour */
    case WB_STEP_PREHEAT:
    case WB_STEP_DYE:
    case WB_STEP_STIR:
    case WB_STEP_INSULATE:
    case WB_STEP_PIERCE:
    case WB_STEP_TURN_OVER:
    case WB_STEP_SET:
    case WB_STEP_CURE:
    case WB_STEP_OTHER:
    default:
      return NAN;
    }
}

/* Minutes after the pour; steps before it count backwards. */
static int
minutes_of (int kind)
{
  static const struct { WbStepKind kind; int minutes; } times[] = {
    { WB_STEP_HEAT, -45 }, { WB_STEP_FRAGRANCE, -25 }, { WB_STEP_STIR, -22 }, { WB_STEP_COOL, -2 }, { WB_STEP_POUR, 0 },
    { WB_STEP_PIERCE, 50 }, { WB_STEP_TOP_UP, 62 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (times); i++)
    if ((int) times[i].kind == kind)
      return times[i].minutes;
  return G_MAXINT;
}

gboolean
wb_app_demo_put_steps (WbStoreChange *change,
                       const WbWax   *wax,
                       WbBatch       *batch,
                       GError       **error)
{
  g_autoptr (GPtrArray) method = wb_craft_method_usual (wax);
  WbCraftMethodOf of = { .scented = batch->fragrance != 0, .coloured = FALSE, .held_back = batch->hold_back_pct > 0 };
  g_autoptr (GPtrArray) steps = wb_craft_method_plan (method, of);

  batch->deviation = g_strdup ("What was held back had been taken off the heat too early: the top-up went in 8 °C too cold. Invented.");
  if (!wb_store_change_put (change, batch, error))
    return FALSE;
  for (guint i = 0; i < steps->len; i++)
    {
      WbBatchStep *step = g_ptr_array_index (steps, i);
      int minutes = minutes_of (step->kind);

      step->batch = batch->record.id;
      step->actual_c = measured (batch, step->kind);
      if (minutes != G_MAXINT && batch->poured_at.known)
        {
          step->done_at = batch->poured_at;
          step->done_at.utc_us += minutes * G_TIME_SPAN_MINUTE;
        }
      if (!wb_store_change_put (change, step, error))
        return FALSE;
    }
  return TRUE;
}
