/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-exchange-json-fit.h"

#include "wb-exchange-json.h"

static void
add_term (WbExchangeJson *json, const WbCraftTerm *term)
{
  wb_exchange_json_begin_object (json, NULL);
  wb_exchange_json_add_text (json, "term", term->term);
  wb_exchange_json_add_real (json, "df", term->df);
  wb_exchange_json_add_real (json, "sum_sq", term->sum_sq);
  wb_exchange_json_add_real (json, "f", term->f);
  wb_exchange_json_add_real (json, "p", term->p);
  wb_exchange_json_end_object (json);
}

static void
add_alike (WbExchangeJson *json, WbCraftAlike alike)
{
  if (alike == WB_CRAFT_ALIKE_NOT_ASKED)
    wb_exchange_json_add_null (json, "equivalent");
  else
    wb_exchange_json_add_flag (json, "equivalent", alike == WB_CRAFT_ALIKE_YES);
}

static void
add_comparison (WbExchangeJson *json, const WbCraftComparison *comparison)
{
  wb_exchange_json_begin_object (json, NULL);
  wb_exchange_json_add_text (json, "a", comparison->a);
  wb_exchange_json_add_text (json, "b", comparison->b);
  wb_exchange_json_add_interval (json, "difference", comparison->difference);
  wb_exchange_json_add_real (json, "p", comparison->p);
  wb_exchange_json_add_interval (json, "alone", comparison->alone);
  wb_exchange_json_add_real (json, "df", comparison->df);
  add_alike (json, comparison->alike);
  wb_exchange_json_add_integer (json, "combinations", comparison->combinations);
  wb_exchange_json_add_integer (json, "samples", comparison->samples);
  wb_exchange_json_end_object (json);
}

static void
add_interaction (WbExchangeJson *json, const WbCraftInteraction *interaction)
{
  wb_exchange_json_begin_object (json, NULL);
  wb_exchange_json_add_text (json, "a", interaction->first);
  wb_exchange_json_add_text (json, "b", interaction->second);
  wb_exchange_json_begin_array (json, "means");
  for (guint i = 0; i < interaction->means->len; i++)
    {
      const WbCraftInteractionMean *mean = g_ptr_array_index (interaction->means, i);

      wb_exchange_json_begin_object (json, NULL);
      wb_exchange_json_add_text (json, "a", mean->first);
      wb_exchange_json_add_text (json, "b", mean->second);
      wb_exchange_json_add_real (json, "mean", mean->mean);
      wb_exchange_json_add_integer (json, "combinations", mean->combinations);
      wb_exchange_json_add_integer (json, "samples", mean->samples);
      wb_exchange_json_end_object (json);
    }
  wb_exchange_json_end_array (json);
  wb_exchange_json_end_object (json);
}

static void
add_slope (WbExchangeJson *json, const WbCraftEffects *effects)
{
  const WbCraftSlope *slope = &effects->slope;

  if (slope->text == NULL)
    {
      wb_exchange_json_add_null (json, "slope");
      return;
    }
  wb_exchange_json_begin_object (json, "slope");
  wb_exchange_json_add_real (json, "value", slope->interval.value);
  wb_exchange_json_add_real (json, "low", slope->interval.low);
  wb_exchange_json_add_real (json, "high", slope->interval.high);
  wb_exchange_json_add_text (json, "unit", wb_unit_get_symbol (wb_figure_get_unit (effects->figure)));
  wb_exchange_json_add_integer (json, "samples", slope->samples);
  wb_exchange_json_add_integer (json, "burns", slope->burns);
  wb_exchange_json_add_text (json, "text", slope->text);
  wb_exchange_json_end_object (json);
}

/* How many samples of each; null where that is more than anybody burns. */
static void
add_samples (WbExchangeJson *json, const char *key, guint samples)
{
  if (samples > 0)
    wb_exchange_json_add_integer (json, key, samples);
  else
    wb_exchange_json_add_null (json, key);
}

static void
add_needed (WbExchangeJson *json, const WbCraftSamplesNeeded *needed)
{
  if (needed->text == NULL)
    {
      wb_exchange_json_add_null (json, "samples_needed");
      return;
    }
  wb_exchange_json_begin_object (json, "samples_needed");
  wb_exchange_json_add_real (json, "difference", needed->difference);
  add_samples (json, "samples", needed->samples);
  if (needed->samples_low > 0)
    {
      wb_exchange_json_begin_object (json, "samples_range");
      add_samples (json, "value", needed->samples);
      add_samples (json, "low", needed->samples_low);
      add_samples (json, "high", needed->samples_high);
      wb_exchange_json_end_object (json);
    }
  else
    wb_exchange_json_add_null (json, "samples_range");
  wb_exchange_json_add_real (json, "power", needed->power);
  wb_exchange_json_add_real (json, "alpha", needed->alpha);
  wb_exchange_json_add_real (json, "sample_sd", needed->sample_sd);
  wb_exchange_json_add_real (json, "df", needed->sample_df);
  wb_exchange_json_add_integer (json, "least", needed->least);
  wb_exchange_json_add_integer (json, "most", needed->most);
  wb_exchange_json_add_text (json, "text", needed->text);
  wb_exchange_json_end_object (json);
}

static void
add_rank_test (WbExchangeJson *json, const WbCraftEffects *effects)
{
  if (!isfinite (effects->rank_h))
    {
      wb_exchange_json_add_null (json, "rank_test");
      return;
    }
  wb_exchange_json_begin_object (json, "rank_test");
  wb_exchange_json_add_real (json, "h", effects->rank_h);
  wb_exchange_json_add_real (json, "df", effects->rank_df);
  wb_exchange_json_add_real (json, "p", effects->rank_p);
  wb_exchange_json_end_object (json);
}

static void
add_method (WbExchangeJson *json, const WbCraftEffects *effects)
{
  g_autofree char *method = wb_craft_effects_dup_method (effects);

  wb_exchange_json_add_text (json, "sums_of_squares", "II");
  wb_exchange_json_add_text (json, "comparisons_by", wb_craft_effects_basis_get_key (effects->basis));
  wb_exchange_json_add_flag (json, "corrected_across_figures", FALSE);
  wb_exchange_json_add_text (json, "method", method);
}

char *
wb_exchange_json_effects (const WbDataset      *data,
                          const WbCraftEffects *effects)
{
  g_autoptr (WbExchangeJson) json = wb_exchange_json_new ();

  wb_exchange_json_add_text (json, "experiment", data->experiment->title);
  wb_exchange_json_add_text (json, "code", data->experiment->code);
  wb_exchange_json_add_mark (json, data->notebook);
  wb_exchange_json_add_text (json, "figure", wb_figure_get_key (effects->figure));
  wb_exchange_json_add_text (json, "unit", wb_unit_get_symbol (wb_figure_get_unit (effects->figure)));
  wb_exchange_json_add_integer (json, "samples", effects->n);
  wb_exchange_json_begin_array (json, "terms");
  for (guint i = 0; effects->terms != NULL && i < effects->terms->len; i++)
    add_term (json, g_ptr_array_index (effects->terms, i));
  wb_exchange_json_end_array (json);
  wb_exchange_json_begin_array (json, "comparisons");
  for (guint i = 0; effects->comparisons != NULL && i < effects->comparisons->len; i++)
    add_comparison (json, g_ptr_array_index (effects->comparisons, i));
  wb_exchange_json_end_array (json);
  add_rank_test (json, effects);
  wb_exchange_json_begin_array (json, "interactions");
  for (guint i = 0; effects->interactions != NULL && i < effects->interactions->len; i++)
    add_interaction (json, g_ptr_array_index (effects->interactions, i));
  wb_exchange_json_end_array (json);
  add_slope (json, effects);
  wb_exchange_json_add_real (json, "margin", effects->margin);
  add_needed (json, &effects->needed);
  add_method (json, effects);
  wb_exchange_json_add_text (json, "finding", effects->finding);
  wb_exchange_json_add_text (json, "refusal", effects->refusal);
  return wb_exchange_json_to_text (json, TRUE);
}
