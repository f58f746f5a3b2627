/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-exchange-json-rank.h"

#include "wb-craft-told.h"

static void
add_reasons (WbExchangeJson *json, const GPtrArray *reasons)
{
  wb_exchange_json_begin_array (json, "reasons");
  for (guint i = 0; i < reasons->len; i++)
    {
      const WbCraftReason *reason = g_ptr_array_index (reasons, i);

      wb_exchange_json_begin_object (json, NULL);
      wb_exchange_json_add_text (json, "code", reason->code);
      wb_exchange_json_add_text (json, "text", reason->text);
      wb_exchange_json_add_integer (json, "entry", reason->entry != 0 ? reason->entry : WB_INTEGER_NONE);
      wb_exchange_json_end_object (json);
    }
  wb_exchange_json_end_array (json);
}

static void
add_limits (WbExchangeJson *json, const WbCraftAnswer *answer, guint cell)
{
  wb_exchange_json_begin_array (json, "limits");
  for (guint i = 0; i < answer->limits->n_limits; i++)
    {
      const WbLimit *limit = g_ptr_array_index (answer->data->limits, i);
      const WbCraftLimit *found = &answer->limits->items[cell * answer->limits->n_limits + i];

      wb_exchange_json_begin_object (json, NULL);
      wb_exchange_json_add_text (json, "limit", wb_limit_kind_get_key (limit->kind));
      wb_exchange_json_add_text (json, "state", wb_craft_limit_state_get_key (found->state));
      wb_exchange_json_add_real (json, "stop_at", limit->stop_at);
      wb_exchange_json_add_real (json, "worst", found->worst);
      wb_exchange_json_add_text (json, "unit", wb_unit_get_symbol (wb_limit_kind_get_unit (limit->kind)));
      wb_exchange_json_add_flag (json, "house", limit->house);
      wb_exchange_json_end_object (json);
    }
  wb_exchange_json_end_array (json);
}

static void
add_parts (WbExchangeJson *json, const GArray *parts)
{
  wb_exchange_json_begin_array (json, "parts");
  for (guint i = 0; i < parts->len; i++)
    {
      const WbCraftPart *part = &g_array_index (parts, WbCraftPart, i);

      wb_exchange_json_begin_object (json, NULL);
      wb_exchange_json_add_text (json, "figure", wb_figure_get_key (part->figure));
      wb_exchange_json_add_text (json, "stage", wb_stage_get_key (part->stage));
      wb_exchange_json_add_real (json, "value", part->value);
      wb_exchange_json_add_text (json, "unit", wb_unit_get_symbol (wb_figure_get_unit (part->figure)));
      wb_exchange_json_add_real (json, "desirability", part->desirability);
      wb_exchange_json_add_real (json, "weight", part->weight);
      wb_exchange_json_add_flag (json, "dropped", part->dropped);
      wb_exchange_json_end_object (json);
    }
  wb_exchange_json_end_array (json);
}

static void
add_ranked (WbExchangeJson *json, const WbCraftAnswer *answer, const WbCraftRanked *ranked)
{
  wb_exchange_json_begin_object (json, NULL);
  wb_exchange_json_add_cell (json, answer->data, ranked->cell);
  wb_exchange_json_add_integer (json, "rank", ranked->rank);
  wb_exchange_json_add_interval (json, "score", ranked->score);
  wb_exchange_json_add_interval (json, "next_candle", ranked->next_candle);
  wb_exchange_json_add_real (json, "p_best", ranked->p_best);
  wb_exchange_json_add_real (json, "p_best_error", ranked->p_best_error);
  wb_exchange_json_add_real (json, "p_near", ranked->p_near);
  wb_exchange_json_add_real (json, "p_near_error", ranked->p_near_error);
  wb_exchange_json_add_real (json, "p_cross", ranked->p_cross);
  wb_exchange_json_add_real (json, "p_cross_error", ranked->p_cross_error);
  wb_exchange_json_add_real (json, "expected_loss", ranked->expected_loss);
  wb_exchange_json_add_text (json, "verdict", wb_craft_verdict_get_key (ranked->verdict));
  wb_exchange_json_add_flag (json, "poor_field", wb_craft_ranked_get_told (ranked) == WB_CRAFT_TOLD_BEST_OF_POOR);
  add_reasons (json, ranked->reasons);
  add_limits (json, answer, ranked->cell);
  add_parts (json, ranked->parts);
  wb_exchange_json_add_integer (json, "samples", ranked->samples);
  wb_exchange_json_add_integer (json, "burns", ranked->burns);
  wb_exchange_json_end_object (json);
}

/* The combination that would lead; null for none. */
static void
add_winner (WbExchangeJson *json, const char *key, const WbCraftAnswer *answer, guint cell)
{
  if (cell == G_MAXUINT)
    {
      wb_exchange_json_add_null (json, key);
      return;
    }
  wb_exchange_json_begin_object (json, key);
  wb_exchange_json_add_cell (json, answer->data, cell);
  wb_exchange_json_end_object (json);
}

static void
add_weights (WbExchangeJson *json, const WbCraftAnswer *answer, const GArray *weights)
{
  wb_exchange_json_begin_array (json, "weights");
  for (guint i = 0; i < weights->len; i++)
    {
      const WbCraftWeight *weight = &g_array_index (weights, WbCraftWeight, i);

      wb_exchange_json_begin_object (json, NULL);
      wb_exchange_json_add_text (json, "figure", wb_figure_get_key (weight->figure));
      wb_exchange_json_add_text (json, "stage", wb_stage_get_key (weight->stage));
      wb_exchange_json_add_real (json, "weight", weight->weight);
      wb_exchange_json_add_real (json, "low", weight->low);
      wb_exchange_json_add_real (json, "high", weight->high);
      add_winner (json, "winner_below", answer, weight->winner_below);
      add_winner (json, "winner_above", answer, weight->winner_above);
      wb_exchange_json_end_object (json);
    }
  wb_exchange_json_end_array (json);
}

void
wb_exchange_json_add_group (WbExchangeJson *json, const WbDataset *data, const WbCraftGroup *group)
{
  const WbVessel *vessel = group->by_vessel ? wb_dataset_get_vessel (data, group->vessel) : NULL;
  const WbFragrance *fragrance = group->by_scent ? wb_dataset_get_fragrance (data, group->vessel) : NULL;
  const WbCell *cell = group->by_scent ? wb_dataset_get_cell (data, group->vessel) : NULL;

  wb_exchange_json_add_text (json, "vessel", vessel != NULL ? vessel->name : NULL);
  wb_exchange_json_add_real (json, "inner_diameter_mm", vessel != NULL ? vessel->inner_diameter_mm : NAN);
  wb_exchange_json_add_text (json, "fragrance", fragrance != NULL ? fragrance->name : NULL);
  wb_exchange_json_add_real (json, "load_pct", cell != NULL ? cell->load_pct : NAN);
  wb_exchange_json_add_text (json, "load_basis",
                             cell != NULL && cell->load_basis >= 0 ? wb_basis_words[cell->load_basis].nick : NULL);
}

static void
add_group (WbExchangeJson *json, const WbCraftAnswer *answer, const WbCraftGroup *group)
{
  wb_exchange_json_begin_object (json, NULL);
  wb_exchange_json_add_group (json, answer->data, group);
  wb_exchange_json_add_real (json, "p_none", group->p_none);
  wb_exchange_json_add_real (json, "p_none_error", group->p_none_error);
  wb_exchange_json_begin_array (json, "cells");
  for (guint i = 0; i < group->n_cells; i++)
    add_ranked (json, answer, &group->cells[i]);
  wb_exchange_json_end_array (json);
  add_weights (json, answer, group->weights);
  wb_exchange_json_end_object (json);
}

char *
wb_exchange_json_rank (const WbCraftAnswer *answer)
{
  g_autoptr (WbExchangeJson) json = wb_exchange_json_new ();
  const WbCraftRanking *ranking = answer->ranking;

  wb_exchange_json_add_text (json, "experiment", answer->data->experiment->title);
  wb_exchange_json_add_text (json, "code", answer->data->experiment->code);
  wb_exchange_json_add_mark (json, answer->data->notebook);
  wb_exchange_json_add_integer (json, "seed", (gint64) ranking->seed);
  wb_exchange_json_add_integer (json, "draws", ranking->draws);
  wb_exchange_json_add_text (json, "within", wb_craft_within_get_key (ranking->within));
  wb_exchange_json_add_learnt (json, answer->estimates->earlier);
  wb_exchange_json_begin_array (json, "groups");
  for (guint i = 0; i < ranking->n_groups; i++)
    add_group (json, answer, &ranking->groups[i]);
  wb_exchange_json_end_array (json);
  return wb_exchange_json_to_text (json, TRUE);
}
