/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-exchange-json-next.h"

#include "wb-exchange-json-rank.h"

#include <math.h>

static void
add_sentences (WbExchangeJson  *json,
               const char      *name,
               const GPtrArray *sentences)
{
  wb_exchange_json_begin_array (json, name);
  for (guint i = 0; i < sentences->len; i++)
    wb_exchange_json_add_text (json, NULL, g_ptr_array_index (sentences, i));
  wb_exchange_json_end_array (json);
}

static void
add_sign (WbExchangeJson    *json,
          const WbDataset   *data,
          const WbCraftSign *sign)
{
  wb_exchange_json_begin_object (json, NULL);
  wb_exchange_json_add_text (json, "sign", wb_craft_sign_get_key (sign->kind));
  wb_exchange_json_add_text (json, "asks_for", sign->up ? "larger" : "smaller");
  wb_exchange_json_add_flag (json, "speaks", sign->speaks);
  wb_exchange_json_add_text (json, "text", sign->text);
  wb_exchange_json_add_text (json, "sample", wb_dataset_get_sample (data, sign->sample)->code);
  wb_exchange_json_add_integer (json, "burn", wb_dataset_get_burn (data, sign->burn)->number);
  wb_exchange_json_add_real (json, "elapsed_min", sign->reading != 0 ? sign->elapsed_min : NAN);
  wb_exchange_json_add_real (json, "value", sign->value);
  wb_exchange_json_add_integer (json, "reading", sign->reading != 0 ? sign->reading : WB_INTEGER_NONE);
  wb_exchange_json_add_integer (json, "burns", sign->burns);
  wb_exchange_json_add_integer (json, "of_burns", sign->of);
  wb_exchange_json_end_object (json);
}

static void
add_candles (WbExchangeJson              *json,
             const WbCraftAdvisedCandles *candles)
{
  g_autofree char *cured_at = wb_instant_format (candles->cured_at), *cooled_at = wb_instant_format (candles->cooled_at);

  wb_exchange_json_begin_object (json, "candles");
  wb_exchange_json_add_integer (json, "ready", candles->ready);
  wb_exchange_json_add_integer (json, "alight", candles->alight);
  wb_exchange_json_add_integer (json, "cooling", candles->cooling);
  wb_exchange_json_add_text (json, "cooled_at", candles->cooling > 0 ? cooled_at : NULL);
  wb_exchange_json_add_integer (json, "curing", candles->curing);
  wb_exchange_json_add_text (json, "cured_at", candles->curing > 0 ? cured_at : NULL);
  wb_exchange_json_add_integer (json, "planned", candles->planned);
  wb_exchange_json_add_integer (json, "done", candles->done);
  wb_exchange_json_end_object (json);
}

static void
add_advised (WbExchangeJson       *json,
             const WbDataset      *data,
             const WbCraftAdvised *advised)
{
  wb_exchange_json_begin_object (json, NULL);
  wb_exchange_json_add_cell (json, data, advised->cell);
  wb_exchange_json_add_text (json, "running", wb_craft_running_get_key (advised->running));
  wb_exchange_json_add_text (json, "row", wb_craft_row_get_key (advised->row));
  wb_exchange_json_add_text (json, "why", advised->why);
  wb_exchange_json_add_real (json, "share", advised->share);
  wb_exchange_json_add_integer (json, "of_next_ten", advised->in_ten);
  wb_exchange_json_add_text (json, "why_share", advised->why_share);
  add_candles (json, &advised->candles);
  wb_exchange_json_add_integer (json, "burn_on", advised->burn_on);
  wb_exchange_json_add_integer (json, "pour", advised->pour);
  wb_exchange_json_add_flag (json, "unread", advised->unread);
  wb_exchange_json_add_text (json, "size", wb_craft_size_get_key (advised->size));
  wb_exchange_json_add_text (json, "next_size", advised->next_name);
  wb_exchange_json_add_flag (json, "next_in_test", advised->next_tested);
  wb_exchange_json_add_real (json, "p_one_up_crosses", advised->p_hot);
  add_sentences (json, "reasons", advised->reasons);
  wb_exchange_json_begin_array (json, "signs");
  for (guint i = 0; i < advised->signs->len; i++)
    add_sign (json, data, g_ptr_array_index (advised->signs, i));
  wb_exchange_json_end_array (json);
  wb_exchange_json_end_object (json);
}

static void
add_group (WbExchangeJson           *json,
           const WbCraftAnswer      *answer,
           const WbCraftAdviceGroup *group)
{
  g_autofree char *decided = group->decided != G_MAXUINT ? wb_dataset_dup_wick_name (answer->data, group->decided) : NULL;

  wb_exchange_json_begin_object (json, NULL);
  wb_exchange_json_add_group (json, answer->data, &answer->ranking->groups[group->group]);
  wb_exchange_json_add_text (json, "answer", group->answer);
  wb_exchange_json_add_text (json, "pools", group->pools);
  wb_exchange_json_add_text (json, "line", group->line);
  wb_exchange_json_add_flag (json, "begun", group->begun);
  wb_exchange_json_add_flag (json, "finished", group->finished);
  wb_exchange_json_add_text (json, "decided_for", decided);
  wb_exchange_json_add_flag (json, "search_over", group->over);
  wb_exchange_json_add_flag (json, "none_good_enough", group->poor);
  wb_exchange_json_add_text (json, "all", wb_craft_size_get_key (group->all));
  wb_exchange_json_add_text (json, "outside_size", group->outside_name);
  add_sentences (json, "missing", group->missing);
  wb_exchange_json_begin_array (json, "cells");
  for (guint i = 0; i < group->n_cells; i++)
    add_advised (json, answer->data, &group->cells[i]);
  wb_exchange_json_end_array (json);
  wb_exchange_json_end_object (json);
}

char *
wb_exchange_json_next (const WbCraftAnswer *answer,
                       const WbCraftAdvice *advice)
{
  g_autoptr (WbExchangeJson) json = wb_exchange_json_new ();

  wb_exchange_json_add_text (json, "experiment", answer->data->experiment->title);
  wb_exchange_json_add_text (json, "code", answer->data->experiment->code);
  wb_exchange_json_add_mark (json, answer->data->notebook);
  wb_exchange_json_add_integer (json, "seed", (gint64) answer->ranking->seed);
  wb_exchange_json_add_real (json, "near_enough", advice->near_enough);
  wb_exchange_json_begin_array (json, "groups");
  for (guint i = 0; i < advice->n_groups; i++)
    add_group (json, answer, &advice->groups[i]);
  wb_exchange_json_end_array (json);
  return wb_exchange_json_to_text (json, TRUE);
}
