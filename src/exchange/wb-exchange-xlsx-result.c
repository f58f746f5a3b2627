/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-exchange-xlsx-private.h"

/* Ranking and figures as sheets: one row a combination, one row a burn. */

static const WbExchangeXlsxHead cell_heads[] = {
  { "Experiment", "" }, { "Vessel", "" }, { "Inner diameter", "mm" }, { "Wick series", "" }, { "Wick size", "" },
  { "Wick step", "" }, { "Wicks", "" }, { "Fragrance", "" }, { "Load", "%" }, { "Load is a share of", "" },
};

static const WbExchangeXlsxHead ranking_heads[] = {
  { "Group", "" }, { "Ranked within", "" }, { "Rank", "" }, { "Score", "0 to 1", 2 }, { "Score, low", "90 %", 2 }, { "Score, high", "90 %", 2 },
  { "Next candle", "0 to 1", 2 }, { "Next candle, low", "90 %", 2 }, { "Next candle, high", "90 %", 2 }, { "Chance of being best", "0 to 1", 2 },
  { "Chance of being near the best", "0 to 1", 2 }, { "Crossed a limit", "1 yes" }, { "Chance of crossing a limit", "0 to 1", 2 }, { "Expected loss", "0 to 1", 3 },
  { "Verdict", "" }, { "Samples", "" }, { "Burns", "" }, { "Reasons", "" },
};

static const WbExchangeXlsxHead figure_heads[] = {
  { "Sample", "" }, { "Burn", "" }, { "Kind", "" }, { "Stage", "" }, { "Lit at, local time", "" }, { "Alight", "min", 1 },
  { "Consumption", "g/h", 2 }, { "Pool at the end", "mm", 1 }, { "Pool at the wall", "1 yes" }, { "First seen full", "h", 2 },
  { "Depth at the end", "mm", 1 }, { "Depth, deepest", "mm", 1 }, { "Flame at the end", "mm", 1 }, { "Flame, highest", "mm", 1 },
  { "Vessel at the end", "°C", 1 }, { "Vessel, hottest", "°C", 1 }, { "Base, hottest", "°C", 1 }, { "Smoke", "0 to 2" },
  { "Soot", "0 to 4" }, { "Mushroom", "0 to 2" }, { "Hang-up at the end", "mm", 1 }, { "Hang-up, share", "%", 1 },
  { "Throw", "1 to 5" }, { "Room", "°C", 1 }, { "Cure", "days", 1 }, { "Held by an earlier ring", "1 yes" }, { "Cut short", "1 yes" },
  { "Still alight", "1 yes" },
};

void
wb_exchange_sheet_add_heads (WbExchangeSheet          *sheet,
                             const WbExchangeXlsxHead *heads,
                             guint                     n)
{
  for (guint i = 0; i < n; i++)
    {
      wb_exchange_sheet_add_head (sheet, heads[i].title, heads[i].unit);
      wb_exchange_sheet_set_decimals (sheet, heads[i].decimals);
    }
}

void
wb_exchange_sheet_add_cell_heads (WbExchangeSheet *sheet)
{
  wb_exchange_sheet_add_heads (sheet, cell_heads, G_N_ELEMENTS (cell_heads));
}

void
wb_exchange_sheet_add_ranking_heads (WbExchangeSheet *sheet)
{
  wb_exchange_sheet_begin_row (sheet);
  wb_exchange_sheet_add_cell_heads (sheet);
  wb_exchange_sheet_add_heads (sheet, ranking_heads, G_N_ELEMENTS (ranking_heads));
  wb_exchange_sheet_end_head (sheet);
}

void
wb_exchange_sheet_add_figure_heads (WbExchangeSheet *sheet)
{
  wb_exchange_sheet_begin_row (sheet);
  wb_exchange_sheet_add_cell_heads (sheet);
  wb_exchange_sheet_add_heads (sheet, figure_heads, G_N_ELEMENTS (figure_heads));
  wb_exchange_sheet_end_head (sheet);
}

void
wb_exchange_sheet_add_cell (WbExchangeSheet *sheet,
                            const WbDataset *data,
                            guint            cell)
{
  const WbFragrance *fragrance = wb_dataset_get_fragrance (data, cell);
  const WbWick *wick = wb_dataset_get_wick (data, cell);
  const WbCell *record = wb_dataset_get_cell (data, cell);

  wb_exchange_sheet_add_text (sheet, data->experiment->title);
  wb_exchange_sheet_add_text (sheet, wb_dataset_get_vessel (data, cell)->name);
  wb_exchange_sheet_add_number (sheet, wb_dataset_get_vessel (data, cell)->inner_diameter_mm);
  wb_exchange_sheet_add_text (sheet, wick->series);
  wb_exchange_sheet_add_text (sheet, wick->size);
  wb_exchange_sheet_add_integer (sheet, wick->step);
  wb_exchange_sheet_add_integer (sheet, record->wick_count);
  wb_exchange_sheet_add_text (sheet, fragrance != NULL ? fragrance->name : NULL);
  wb_exchange_sheet_add_number (sheet, record->load_pct);
  wb_exchange_sheet_add_text (sheet, record->load_basis >= 0 ? wb_basis_words[record->load_basis].nick : NULL);
}

static void
add_interval (WbExchangeSheet *sheet, WbCraftInterval interval)
{
  wb_exchange_sheet_add_number (sheet, interval.value);
  wb_exchange_sheet_add_number (sheet, interval.low);
  wb_exchange_sheet_add_number (sheet, interval.high);
}

static void
add_reasons (WbExchangeSheet *sheet, const WbCraftRanked *ranked)
{
  g_autoptr (GPtrArray) sentences = wb_craft_ranked_dup_sentences (ranked);
  g_autoptr (GString) text = g_string_new (NULL);

  for (guint i = 0; i < sentences->len; i++)
    g_string_append_printf (text, "%s%s", i > 0 ? "\n" : "", (const char *) g_ptr_array_index (sentences, i));
  wb_exchange_sheet_add_text (sheet, text->str);
}

static void
add_ranked (WbExchangeSheet *sheet, const WbDataset *data, const WbCraftRanked *ranked, guint group, const char *title)
{
  wb_exchange_sheet_begin_row (sheet);
  wb_exchange_sheet_add_cell (sheet, data, ranked->cell);
  wb_exchange_sheet_add_integer (sheet, group);
  wb_exchange_sheet_add_text (sheet, title);
  wb_exchange_sheet_add_integer (sheet, ranked->rank);
  add_interval (sheet, ranked->score);
  add_interval (sheet, ranked->next_candle);
  wb_exchange_sheet_add_number (sheet, ranked->p_best);
  wb_exchange_sheet_add_number (sheet, ranked->p_near);
  wb_exchange_sheet_add_integer (sheet, ranked->crossed);
  wb_exchange_sheet_add_number (sheet, ranked->p_cross);
  wb_exchange_sheet_add_number (sheet, ranked->expected_loss);
  wb_exchange_sheet_add_text (sheet, wb_craft_verdict_get_key (ranked->verdict));
  wb_exchange_sheet_add_integer (sheet, ranked->samples);
  wb_exchange_sheet_add_integer (sheet, ranked->burns);
  add_reasons (sheet, ranked);
  wb_exchange_sheet_end_row (sheet);
}

void
wb_exchange_sheet_add_ranking (WbExchangeSheet     *sheet,
                               const WbCraftAnswer *answer)
{
  for (guint i = 0; i < answer->ranking->n_groups; i++)
    {
      const WbCraftGroup *group = &answer->ranking->groups[i];
      g_autofree char *title = wb_craft_group_dup_title (answer->data, group);

      for (guint j = 0; j < group->n_cells; j++)
        add_ranked (sheet, answer->data, &group->cells[j], i + 1, title);
    }
}

static void
add_burn (WbExchangeSheet *sheet, const WbDataset *data, const WbCraftBurn *burn)
{
  const WbBurn *record = wb_dataset_get_burn (data, burn->burn);
  const double figures[] = {
    burn->depth_mm, burn->depth_max_mm, burn->flame_mm, burn->flame_max_mm, burn->vessel_c, burn->vessel_max_c,
    burn->base_max_c, burn->smoke, burn->soot, burn->mushroom, burn->hang_up_mm, burn->hang_up_share_pct,
    burn->throw_rating, burn->room_c, burn->cure_days,
  };

  wb_exchange_sheet_begin_row (sheet);
  wb_exchange_sheet_add_cell (sheet, data, burn->cell);
  wb_exchange_sheet_add_text (sheet, wb_dataset_get_sample (data, burn->sample)->code);
  wb_exchange_sheet_add_integer (sheet, record->number);
  wb_exchange_sheet_add_text (sheet, burn->kind >= 0 ? wb_burn_kind_words[burn->kind].nick : NULL);
  wb_exchange_sheet_add_text (sheet, wb_stage_get_key (burn->stage));
  wb_exchange_sheet_add_instant (sheet, record->lit_at);
  wb_exchange_sheet_add_number (sheet, burn->alight_min);
  wb_exchange_sheet_add_number (sheet, burn->consumption_g_per_h);
  wb_exchange_sheet_add_number (sheet, burn->pool_mm);
  wb_exchange_sheet_add_number (sheet, isfinite (burn->pool_mm) ? burn->pool_at_wall : NAN);
  wb_exchange_sheet_add_number (sheet, burn->full_seen_h);
  for (guint i = 0; i < G_N_ELEMENTS (figures); i++)
    wb_exchange_sheet_add_number (sheet, figures[i]);
  wb_exchange_sheet_add_integer (sheet, burn->ring_held);
  /* nobody knows yet of one that is alight */
  wb_exchange_sheet_add_number (sheet, burn->alight ? NAN : burn->cut_short);
  wb_exchange_sheet_add_integer (sheet, burn->alight);
  wb_exchange_sheet_end_row (sheet);
}

void
wb_exchange_sheet_add_figures (WbExchangeSheet     *sheet,
                               const WbCraftAnswer *answer)
{
  for (guint i = 0; i < answer->figures->n_burns; i++)
    add_burn (sheet, answer->data, &answer->figures->burns[i]);
}
