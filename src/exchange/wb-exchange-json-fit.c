/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-exchange-json-fit.h"

#include "wb-craft-same-ratings.h"
#include "wb-exchange-json.h"

static void
add_experiment (WbExchangeJson *json, const WbDataset *data)
{
  wb_exchange_json_add_text (json, "experiment", data->experiment->title);
  wb_exchange_json_add_text (json, "code", data->experiment->code);
  wb_exchange_json_add_mark (json, data->notebook);
}

/* An interval with the chances beside it: a pool that never fills has those and no value. */
static void
add_full_pool (WbExchangeJson *json, const WbCraftGrowth *growth)
{
  if (!isfinite (growth->full_pool_h.value) && !isfinite (growth->p_never) && !isfinite (growth->p_in_window))
    {
      wb_exchange_json_add_null (json, "full_pool_h");
      return;
    }
  wb_exchange_json_begin_object (json, "full_pool_h");
  wb_exchange_json_add_real (json, "value", growth->full_pool_h.value);
  wb_exchange_json_add_real (json, "low", growth->full_pool_h.low);
  wb_exchange_json_add_real (json, "high", growth->full_pool_h.high);
  wb_exchange_json_add_real (json, "p_in_window", growth->p_in_window);
  wb_exchange_json_add_real (json, "p_never", growth->p_never);
  wb_exchange_json_end_object (json);
}

/* Of pools that all were at the wall a lower end alone is known: it stands without a value. */
static void
add_pool_limit (WbExchangeJson *json, const WbCraftGrowth *growth)
{
  if (isfinite (growth->pool_limit_mm.value) || !isfinite (growth->pool_limit_mm.low))
    {
      wb_exchange_json_add_interval (json, "pool_limit_mm", growth->pool_limit_mm);
      return;
    }
  wb_exchange_json_begin_object (json, "pool_limit_mm");
  wb_exchange_json_add_null (json, "value");
  wb_exchange_json_add_real (json, "low", growth->pool_limit_mm.low);
  wb_exchange_json_add_null (json, "high");
  wb_exchange_json_end_object (json);
}

static void
add_fitted (WbExchangeJson *json, const WbDataset *data, const WbCraftCell *cell)
{
  static const WbFigure figures[] = { WB_FIGURE_DEPTH, WB_FIGURE_FLAME, WB_FIGURE_VESSEL, WB_FIGURE_CONSUMPTION };

  wb_exchange_json_begin_object (json, NULL);
  wb_exchange_json_add_cell (json, data, cell->cell);
  wb_exchange_json_add_text (json, "status", wb_craft_fit_status_get_key (cell->growth.status));
  wb_exchange_json_add_integer (json, "samples", cell->samples);
  wb_exchange_json_add_integer (json, "burns", cell->burns);
  add_pool_limit (json, &cell->growth);
  wb_exchange_json_add_interval (json, "tau_h", cell->growth.tau_h);
  add_full_pool (json, &cell->growth);
  for (guint i = 0; i < G_N_ELEMENTS (figures); i++)
    wb_exchange_json_add_interval (json, wb_figure_get_key (figures[i]), cell->figure[figures[i]].told);
  wb_exchange_json_end_object (json);
}

/* Figures of which every rating is the same. */
static void
add_same_ratings (WbExchangeJson *json, const WbCraftEstimates *estimates, WbStage stage)
{
  g_autoptr (GArray) all = wb_craft_same_ratings_new (estimates, stage);

  wb_exchange_json_begin_array (json, "same_ratings");
  for (guint i = 0; i < all->len; i++)
    {
      const WbCraftSameRatings *same = &g_array_index (all, WbCraftSameRatings, i);

      wb_exchange_json_begin_object (json, NULL);
      wb_exchange_json_add_text (json, "figure", wb_figure_get_key (same->figure));
      wb_exchange_json_add_integer (json, "rating", same->rating);
      wb_exchange_json_add_integer (json, "samples", same->samples);
      wb_exchange_json_add_integer (json, "burns", same->burns);
      wb_exchange_json_add_real (json, "differs_at_most", same->differs_at_most);
      wb_exchange_json_end_object (json);
    }
  wb_exchange_json_end_array (json);
}

char *
wb_exchange_json_fit (const WbDataset        *data,
                      const WbCraftEstimates *estimates,
                      WbStage                 stage)
{
  g_autoptr (WbExchangeJson) json = wb_exchange_json_new ();

  add_experiment (json, data);
  wb_exchange_json_add_text (json, "stage", wb_stage_get_key (stage));
  wb_exchange_json_add_learnt (json, estimates->earlier);
  wb_exchange_json_begin_array (json, "cells");
  for (guint i = 0; i < estimates->n_cells; i++)
    add_fitted (json, data, &estimates->cells[i]);
  wb_exchange_json_end_array (json);
  add_same_ratings (json, estimates, stage);
  return wb_exchange_json_to_text (json, TRUE);
}

static const char *
rests_on_key (WbCraftRestsOn rests_on)
{
  switch (rests_on)
    {
    case WB_CRAFT_RESTS_ON_HISTORY:
      return "history";
    case WB_CRAFT_RESTS_ON_SUPPLIER:
      return "supplier";
    case WB_CRAFT_RESTS_ON_NOTHING:
    default:
      return "nothing";
    }
}

static void
add_wick (WbExchangeJson *json, const WbCraftLadderStep *step)
{
  wb_exchange_json_add_text (json, "wick_series", step->series);
  wb_exchange_json_add_text (json, "wick_size", step->size);
  wb_exchange_json_add_integer (json, "wick_step", step->step);
}

static void
add_foretold (WbExchangeJson *json, const char *name, const WbCraftForetoldAt *at)
{
  wb_exchange_json_begin_object (json, name);
  wb_exchange_json_add_interval (json, "pool_limit_mm", at->pool_limit_mm);
  wb_exchange_json_add_interval (json, "full_pool_h", at->full_pool_h);
  wb_exchange_json_add_real (json, "p_never", at->p_never);
  wb_exchange_json_begin_array (json, "pool_after_hours_mm");
  for (guint hour = 0; hour < WB_CRAFT_LADDER_HOURS; hour++)
    wb_exchange_json_add_interval (json, NULL, at->pool_mm[hour]);
  wb_exchange_json_end_array (json);
  wb_exchange_json_add_interval (json, "flame_mm", at->flame_mm);
  wb_exchange_json_add_interval (json, "vessel_c", at->vessel_c);
  wb_exchange_json_add_interval (json, "consumption_g_per_h", at->consumption_g_h);
  wb_exchange_json_end_object (json);
}

static void
add_nearest (WbExchangeJson *json, const GPtrArray *all)
{
  wb_exchange_json_begin_array (json, "nearest");
  for (guint i = 0; all != NULL && i < all->len; i++)
    {
      const WbCraftNearest *nearest = g_ptr_array_index (all, i);

      wb_exchange_json_begin_object (json, NULL);
      wb_exchange_json_add_text (json, "experiment", nearest->experiment);
      wb_exchange_json_add_text (json, "what", nearest->what);
      wb_exchange_json_add_text (json, "differs", nearest->differs);
      wb_exchange_json_add_text (json, "result", nearest->result);
      wb_exchange_json_end_object (json);
    }
  wb_exchange_json_end_array (json);
}

static void
add_step (WbExchangeJson *json, const WbCraftLadderStep *step)
{
  wb_exchange_json_begin_object (json, NULL);
  add_wick (json, step);
  wb_exchange_json_add_interval (json, "pool_limit_mm", step->pool_limit_mm);
  wb_exchange_json_add_interval (json, "full_pool_h", step->full_pool_h);
  wb_exchange_json_add_interval (json, "flame_mm", step->flame_mm);
  wb_exchange_json_add_real (json, "p_right", step->p_right);
  wb_exchange_json_add_real (json, "p_best", step->p_best);
  wb_exchange_json_add_real (json, "p_near", step->p_near);
  wb_exchange_json_add_real (json, "p_cross", step->p_cross);
  wb_exchange_json_add_interval (json, "score", step->score);
  wb_exchange_json_add_interval (json, "burn_h", step->burn_h);
  add_foretold (json, "at_top", &step->at[WB_CRAFT_FILL_TOP]);
  add_foretold (json, "at_bottom", &step->at[WB_CRAFT_FILL_BOTTOM]);
  wb_exchange_json_add_flag (json, "in_ladder", step->in_ladder);
  wb_exchange_json_add_flag (json, "in_run", step->in_run);
  wb_exchange_json_add_flag (json, "tested", step->tested);
  wb_exchange_json_add_text (json, "reason", step->reason);
  wb_exchange_json_add_flag (json, "extrapolated", step->extrapolated);
  wb_exchange_json_add_text (json, "outside", step->outside);
  add_nearest (json, step->nearest);
  wb_exchange_json_end_object (json);
}

static void
add_question (WbExchangeJson *json, const WbCraftLadderQuestion *question)
{
  wb_exchange_json_add_text (json, "vessel", question->vessel);
  wb_exchange_json_add_real (json, "inner_diameter_mm", question->inner_diameter_mm);
  wb_exchange_json_add_text (json, "wax", question->wax);
  wb_exchange_json_add_real (json, "load_pct", question->load_pct);
  wb_exchange_json_add_text (json, "load_basis", question->load_basis >= 0 ? wb_basis_words[question->load_basis].nick : NULL);
  wb_exchange_json_add_integer (json, "wick_count", MAX (1, question->wicks));
  wb_exchange_json_add_integer (json, "sizes", question->sizes);
  wb_exchange_json_add_real (json, "room_cold_c", question->room_cold_c);
  wb_exchange_json_add_real (json, "room_warm_c", question->room_warm_c);
  wb_exchange_json_add_real (json, "fill_g", question->fill_g > 0 ? question->fill_g : NAN);
}

static void
add_sentences (WbExchangeJson *json, const char *name, const GPtrArray *sentences)
{
  wb_exchange_json_begin_array (json, name);
  for (guint i = 0; sentences != NULL && i < sentences->len; i++)
    wb_exchange_json_add_text (json, NULL, g_ptr_array_index (sentences, i));
  wb_exchange_json_end_array (json);
}

/* What one size more would add. */
static void
add_wider (WbExchangeJson *json, const WbCraftLadder *ladder)
{
  wb_exchange_json_add_real (json, "p_wider_holds_best", ladder->p_wider_holds_best);
  if (ladder->steps == NULL || ladder->wider >= ladder->steps->len)
    {
      wb_exchange_json_add_null (json, "wider");
      return;
    }
  wb_exchange_json_begin_object (json, "wider");
  add_wick (json, g_ptr_array_index (ladder->steps, ladder->wider));
  wb_exchange_json_end_object (json);
}

char *
wb_exchange_json_ladder (const WbNotebook    *notebook,
                         const WbCraftLadder *ladder)
{
  g_autoptr (WbExchangeJson) json = wb_exchange_json_new ();

  wb_exchange_json_add_mark (json, notebook);
  add_question (json, &ladder->question);
  wb_exchange_json_add_flag (json, "another_vessel", ladder->question.another_vessel);
  wb_exchange_json_add_real (json, "due_low_h", ladder->due_low_h);
  wb_exchange_json_add_real (json, "due_high_h", ladder->due_high_h);
  wb_exchange_json_add_flag (json, "shares_vessel", ladder->shares_vessel);
  wb_exchange_json_add_text (json, "rests_on", rests_on_key (ladder->rests_on));
  wb_exchange_json_begin_array (json, "experiments");
  for (guint i = 0; ladder->experiments != NULL && i < ladder->experiments->len; i++)
    wb_exchange_json_add_text (json, NULL, g_ptr_array_index (ladder->experiments, i));
  wb_exchange_json_end_array (json);
  wb_exchange_json_begin_array (json, "candidates");
  for (guint i = 0; ladder->steps != NULL && i < ladder->steps->len; i++)
    add_step (json, g_ptr_array_index (ladder->steps, i));
  wb_exchange_json_end_array (json);
  wb_exchange_json_add_real (json, "p_holds_best", ladder->p_holds_best);
  wb_exchange_json_add_real (json, "p_run_holds_best", ladder->p_run_holds_best);
  add_wider (json, ladder);
  wb_exchange_json_add_real (json, "p_none", ladder->p_none);
  wb_exchange_json_add_flag (json, "knows_the_end", ladder->knows_the_end);
  wb_exchange_json_add_text (json, "answer", ladder->answer);
  wb_exchange_json_add_text (json, "learnt", ladder->learnt);
  add_sentences (json, "warnings", ladder->warnings);
  add_sentences (json, "notes", ladder->notes);
  return wb_exchange_json_to_text (json, TRUE);
}
