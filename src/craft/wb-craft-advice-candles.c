/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-advice-private.h"

#include <glib/gi18n-lib.h>
#include <inttypes.h>
#include <math.h>

#include "wb-craft-burn-private.h"
#include "wb-craft-stops-private.h"
#include "wb-craft-verdict-private.h"
#include "wb-cure.h"

/* What the candles of an advice wait for, and which of their readings says most. */

/* ---- Candles ---- */

/* The newest burn of a sample, by its figures; NULL: it was never lit. */
static const WbCraftBurn *
find_last_burn (const WbCraftAdvising *self,
                guint                  sample)
{
  const WbCraftBurn *last = NULL;

  for (guint i = 0; i < self->figures->n_burns; i++)
    if (self->figures->burns[i].sample == sample)
      last = &self->figures->burns[i];
  return last;
}

static gboolean
is_alight (const WbCraftAdvising *self,
           guint                  sample)
{
  for (guint i = 0; i < self->figures->n_burns; i++)
    if (self->figures->burns[i].sample == sample && self->figures->burns[i].alight)
      return TRUE;
  return FALSE;
}

/* When it may be lit again; unknown: now, or nobody knows when it went out. */
static WbInstant
find_cooled_at (const WbCraftAdvising *self,
                const WbCraftBurn     *burn)
{
  const WbProtocol *protocol = self->data->protocol;
  WbInstant at = wb_dataset_get_burn (self->data, burn->burn)->lit_at;
  double out_min = fmax (burn->last_min, burn->end_min);

  if (!at.known || isnan (out_min) || protocol == NULL || !(protocol->cool_s > 0))
    return WB_INSTANT_NONE;
  at.utc_us += (gint64) ((60 * out_min + protocol->cool_s) * G_USEC_PER_SEC);
  return at;
}

/* As the bench has it: what stands in a melt or has the day of its pour. */
static gboolean
is_poured (const WbSample *sample)
{
  return sample->poured_on != WB_DAY_NONE || sample->batch != 0;
}

static gboolean
waits (const WbCraftAdvising *self,
       WbInstant              at)
{
  return at.known && self->now.known && at.utc_us > self->now.utc_us;
}

static void
take_wait (guint     *n,
           WbInstant *first,
           WbInstant  at)
{
  if ((*n)++ == 0 || at.utc_us < first->utc_us)
    *first = at;
}

static void
count_sample (const WbCraftAdvising *self,
              guint                  sample,
              WbCraftAdvisedCandles *candles)
{
  const WbSample *record = wb_dataset_get_sample (self->data, sample);
  const WbCraftBurn *last = find_last_burn (self, sample);
  WbInstant at;

  if (is_alight (self, sample))
    candles->alight++;
  else if (self->figures->ended[sample] || record->retained)
    candles->done++;
  else if (last == NULL && !is_poured (record))
    candles->planned++;
  else if (last == NULL && waits (self, at = wb_cure_fit_to_burn (self->data, sample).at))
    take_wait (&candles->curing, &candles->cured_at, at);
  else if (last != NULL && waits (self, at = find_cooled_at (self, last)))
    take_wait (&candles->cooling, &candles->cooled_at, at);
  else
    candles->ready++;
}

void
wb_craft_advice_find_candles (const WbCraftAdvising *self,
                              guint                  cell,
                              WbCraftAdvisedCandles *candles)
{
  *candles = (WbCraftAdvisedCandles) { .cured_at = WB_INSTANT_NONE, .cooled_at = WB_INSTANT_NONE };
  for (guint i = 0; i < self->data->samples->len; i++)
    if (wb_craft_verdict_counts (self->data, i, cell))
      count_sample (self, i, candles);
}

guint
wb_craft_advice_count_living (const WbCraftAdvisedCandles *candles)
{
  return candles->curing + candles->cooling + candles->ready + candles->alight;
}

/* ---- Readings ---- */

char *
wb_craft_advice_dup_at (const WbCraftAdvising *self,
                        const char            *text,
                        guint                  sample,
                        guint                  burn)
{
  /* Translators: "tall flame of 42 mm"; number of the burn; code of the sample. */
  return g_strdup_printf (_("%s (burn %" PRId64 " of %s)"), text, wb_dataset_get_burn (self->data, burn)->number,
                          wb_dataset_get_sample (self->data, sample)->code);
}

/* "42 mm". Caller frees. */
static char *
dup_measure (WbUnit unit,
             double value)
{
  g_autofree char *number = wb_quantity_format_number (unit, value, 0);

  return g_strdup_printf ("%s\302\240%s", number, wb_unit_get_symbol (unit));
}

static char *
dup_flame (double mm)
{
  g_autofree char *measure = dup_measure (WB_UNIT_MM, mm);

  /* Translators: a measure. */
  return g_strdup_printf (_("flame of %s"), measure);
}

static char *
dup_vessel (double c)
{
  g_autofree char *measure = dup_measure (WB_UNIT_CELSIUS, c);

  return g_strdup_printf (_("vessel at %s"), measure);
}

static char *
dup_pool (double mm)
{
  g_autofree char *measure = dup_measure (WB_UNIT_MM, mm);

  /* Translators: a measure. */
  return g_strdup_printf (_("melt pool of %s"), measure);
}

/* Takes the part. */
static void
take_part (GString *text,
           char    *part)
{
  g_string_append_printf (text, "%s%s", text->len > 0 ? ", " : "", part);
  g_free (part);
}

char *
wb_craft_advice_dup_hottest (const WbCraftAdvising *self,
                             guint                  cell)
{
  double flame_stop = wb_craft_stops_get (self->data, WB_FIGURE_FLAME), vessel_stop = wb_craft_stops_get (self->data, WB_FIGURE_VESSEL);
  g_autofree char *text = NULL;
  const WbCraftBurn *worst = NULL;
  gboolean by_flame = FALSE;
  double nearest = -INFINITY;

  for (guint i = 0; i < self->figures->n_burns; i++)
    {
      const WbCraftBurn *burn = &self->figures->burns[i];
      double flame = isfinite (flame_stop) ? burn->flame_max_mm / flame_stop : NAN;
      double vessel = isfinite (vessel_stop) ? burn->vessel_max_c / vessel_stop : NAN;

      if (burn->cell != cell || !wb_craft_burn_counts (self->data, burn) || !(fmax (flame, vessel) > nearest))
        continue;
      nearest = fmax (flame, vessel);
      by_flame = !isnan (flame) && !(vessel > flame);
      worst = burn;
    }
  if (worst == NULL)
    return g_strdup ("–");
  text = by_flame ? dup_flame (worst->flame_max_mm) : dup_vessel (worst->vessel_max_c);
  return wb_craft_advice_dup_at (self, text, worst->sample, worst->burn);
}

char *
wb_craft_advice_dup_widest_pool (const WbCraftAdvising *self,
                                 guint                  cell)
{
  g_autofree char *text = NULL;
  const WbCraftBurn *widest = NULL;

  for (guint i = 0; i < self->figures->n_burns; i++)
    {
      const WbCraftBurn *burn = &self->figures->burns[i];

      if (burn->cell == cell && wb_craft_burn_counts (self->data, burn) && burn->pool_mm > (widest != NULL ? widest->pool_mm : 0))
        widest = burn;
    }
  if (widest == NULL)
    return NULL;
  text = dup_pool (widest->pool_mm);
  return wb_craft_advice_dup_at (self, text, widest->sample, widest->burn);
}

/* The newest burn that was read: "melt pool of 70 mm, flame of 18 mm, vessel at 45 °C (burn 3 of C5-1)"; NULL: none was. */
static char *
dup_newest (const WbCraftAdvising *self,
            guint                  cell)
{
  g_autoptr (GString) text = g_string_new (NULL);

  for (guint i = self->figures->n_burns; i > 0; i--)
    {
      const WbCraftBurn *burn = &self->figures->burns[i - 1];

      if (burn->cell != cell || !wb_craft_burn_counts (self->data, burn))
        continue;
      if (!isnan (burn->pool_mm))
        take_part (text, dup_pool (burn->pool_mm));
      if (!isnan (burn->flame_max_mm))
        take_part (text, dup_flame (burn->flame_max_mm));
      if (!isnan (burn->vessel_max_c))
        take_part (text, dup_vessel (burn->vessel_max_c));
      if (text->len > 0)
        return wb_craft_advice_dup_at (self, text->str, burn->sample, burn->burn);
    }
  return NULL;
}

char *
wb_craft_advice_dup_evidence (const WbCraftAdvising *self,
                              const WbCraftAdvised  *advised)
{
  if (advised->signs->len > 0)
    return g_strdup (((const WbCraftSign *) g_ptr_array_index (advised->signs, 0))->text);
  return dup_newest (self, advised->cell);
}

char *
wb_craft_advice_dup_crossing_of_heat (const WbCraftAdvising *self,
                                      guint                  cell)
{
  for (guint i = 0; i < self->limits->n_limits; i++)
    {
      const WbCraftLimit *limit = wb_craft_limits_get (self->limits, cell, i);

      if (limit->state == WB_CRAFT_LIMIT_CROSSED && limit->sample != G_MAXUINT
          && wb_craft_limit_is_of_heat (((const WbLimit *) g_ptr_array_index (self->data->limits, i))->kind))
        return wb_craft_limit_dup_text (self->data, limit);
    }
  return NULL;
}
