/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-advice-rules-private.h"

#include <glib/gi18n-lib.h>
#include <inttypes.h>
#include <math.h>

#include "wb-craft-burn-private.h"

/* The signs of a cell's burns: how often each shows, whether that is enough to speak, and where it is worst. */

#define OFTEN 2             /* burns: what was seen once may be a misreading, or a draught; */
#define OFTEN_SHARE (1.0 / 3) /* and this share of a third's burns */

const char *
wb_craft_sign_get_key (WbCraftSignKind kind)
{
  g_return_val_if_fail (kind < WB_CRAFT_N_SIGNS, "unknown");
  return wb_craft_sign_get_rule (kind)->key;
}

/* The reading of the burn that says so: a moment's, for a pool at the wall; else where the value stands. FALSE: none does. */
static gboolean
find_reading (const WbCraftAdvising *self,
              WbCraftSignKind        kind,
              WbCraftSign           *sign)
{
  const WbReadings *readings = self->data->readings;
  const WbCraftSignRule *rule = wb_craft_sign_get_rule (kind);
  gboolean timed = rule->unit == WB_UNIT_HOUR;
  guint first, n, found = G_MAXUINT;

  wb_readings_get_burn_rows (readings, sign->burn, &first, &n);
  for (guint row = first; row < first + n; row++)
    for (guint k = 0; k < 2; k++)
      {
        double value = wb_readings_get (readings, row, rule->columns[k]);
        double minute = wb_readings_get_elapsed_min (readings, row);

        if (timed ? fabs (minute - 60 * sign->value) < 0.5
            : kind == WB_CRAFT_SIGN_CARBON_CAP ? value >= WB_CRAFT_SIGN_CAP
            : kind == WB_CRAFT_SIGN_STARVING ? value == WB_FLAME_STARVING
            : rule->event >= 0 ? value == rule->event : value == sign->value)
          found = row;
      }
  if (found == G_MAXUINT)
    return FALSE;
  sign->reading = wb_readings_get_id (readings, found);
  sign->elapsed_min = wb_readings_get_elapsed_min (readings, found);
  return TRUE;
}

static char *
dup_what (const WbCraftSignRule        *rule,
          const WbCraftSign *sign)
{
  const char *words = g_dgettext (GETTEXT_PACKAGE, rule->words);
  g_autofree char *value = NULL, *number = NULL;
  g_auto (GStrv) parts = NULL;

  if (isnan (sign->value) || strstr (words, "%s") == NULL)
    return g_strdup (words);
  number = wb_quantity_format_number (rule->unit, rule->unit == WB_UNIT_HOUR ? 3600 * sign->value : sign->value, rule->decimals);
  value = rule->unit == WB_UNIT_NONE ? g_strdup (number)
                                     : g_strdup_printf ("%s\302\240%s", number, wb_unit_get_symbol (rule->unit));
  parts = g_strsplit (words, "%s", 2);
  return g_strconcat (parts[0], value, parts[1], NULL);
}

static char *
dup_text (const WbCraftAdvising *self,
          WbCraftSignKind        kind,
          const WbCraftSign     *sign)
{
  g_autofree char *what = dup_what (wb_craft_sign_get_rule (kind), sign);
  const char *code = wb_dataset_get_sample (self->data, sign->sample)->code;
  gint64 number = wb_dataset_get_burn (self->data, sign->burn)->number;

  if (sign->burns < 2)
    /* Translators: "tall flame of 42 mm"; number of the burn; code of the sample. */
    return g_strdup_printf (_("%s (burn %" PRId64 " of %s)"), what, number, code);
  /* Translators: "tall flame of 42 mm"; number of the burn; code of the sample; in so many of so many burns. */
  return g_strdup_printf (_("%s (burn %" PRId64 " of %s; in %u of %u burns)"), what, number, code, sign->burns, sign->of);
}

/* Worse than what stands there: a burn that shows more plainly, then the value. */
static gboolean
is_worse (const WbCraftSignRule        *rule,
          WbCraftShows              shows,
          WbCraftShows              most,
          double             value,
          const WbCraftSign *sign)
{
  if (shows != most)
    return shows > most;
  return rule->least ? value < sign->value : value > sign->value;
}

static gboolean
is_often (guint n,
          guint of)
{
  return n >= OFTEN && n >= OFTEN_SHARE * of;
}

static WbCraftSign *
look_for (const WbCraftAdvising *self,
          WbCraftSignKind        kind,
          guint                  cell)
{
  const WbCraftSignRule *rule = wb_craft_sign_get_rule (kind);
  WbCraftSign sign = { .kind = kind, .up = rule->up, .sample = G_MAXUINT, .burn = G_MAXUINT, .value = NAN };
  WbCraftShows most = WB_CRAFT_SHOWS_NO;
  guint firm = 0, seen = 0, of_third[WB_N_STAGES] = { 0 }, firm_in[WB_N_STAGES] = { 0 }, seen_in[WB_N_STAGES] = { 0 };

  for (guint i = 0; i < self->figures->n_burns; i++)
    {
      const WbCraftBurn *burn = &self->figures->burns[i];
      WbCraftSignLook look = { self, burn, FALSE, FALSE, NAN };
      WbCraftShows shows;
      double value;

      if (burn->cell != cell || !wb_craft_burn_counts (self->data, burn))
        continue;
      look.first = wb_dataset_get_burn (self->data, burn->burn)->number <= 1;
      look.last = self->figures->ended[burn->sample]
                  && (i + 1 == self->figures->n_burns || self->figures->burns[i + 1].sample != burn->sample);
      look.due_h = wb_craft_cell_get_due_h (self->data, cell, burn->stage);
      shows = rule->show (&look, &value);
      sign.of += shows > WB_CRAFT_SHOWS_UNASKED;
      of_third[burn->stage] += shows > WB_CRAFT_SHOWS_UNASKED;
      firm_in[burn->stage] += shows >= WB_CRAFT_SHOWS_FIRM;
      if (shows <= WB_CRAFT_SHOWS_NO)
        continue;
      seen++;
      seen_in[burn->stage]++;
      firm += shows >= WB_CRAFT_SHOWS_FIRM;
      if (sign.burn != G_MAXUINT && !is_worse (rule, shows, most, value, &sign))
        continue;
      most = shows;
      sign.sample = burn->sample;
      sign.burn = burn->burn;
      sign.value = value;
    }
  if (seen == 0)
    return NULL;
  sign.speaks = most == WB_CRAFT_SHOWS_PLAINLY;
  /* each third by itself: a candle that is calm at the top and hot at the bottom is hot */
  for (WbStage stage = 0; stage < WB_N_STAGES; stage++)
    {
      sign.speaks = sign.speaks || is_often (firm_in[stage], of_third[stage]);
      sign.often = sign.often || is_often (seen_in[stage], of_third[stage]);
    }
  sign.burns = firm > 0 ? firm : seen;
  find_reading (self, kind, &sign);
  sign.text = dup_text (self, kind, &sign);
  return g_memdup2 (&sign, sizeof sign);
}

static void
add_crossings (const WbCraftAdvising *self,
               guint                  cell,
               GPtrArray             *signs)
{
  for (guint i = 0; i < self->limits->n_limits; i++)
    {
      const WbCraftLimit *limit = wb_craft_limits_get (self->limits, cell, i);
      WbCraftSign sign;

      if (limit->state != WB_CRAFT_LIMIT_CROSSED || limit->sample == G_MAXUINT
          || !wb_craft_limit_is_of_heat (((const WbLimit *) g_ptr_array_index (self->data->limits, i))->kind))
        continue;
      sign = (WbCraftSign) {
        WB_CRAFT_SIGN_CROSSED, FALSE, TRUE, TRUE, 1, 1, limit->sample, limit->burn, limit->logged ? 0 : limit->reading,
        limit->elapsed_min, limit->worst, wb_craft_limit_dup_text (self->data, limit)
      };
      g_ptr_array_add (signs, g_memdup2 (&sign, sizeof sign));
    }
}

static void
free_sign (gpointer data)
{
  g_free (((WbCraftSign *) data)->text);
  g_free (data);
}

GPtrArray *
wb_craft_signs_new (const WbCraftAdvising *self,
                    guint                  cell)
{
  GPtrArray *signs = g_ptr_array_new_with_free_func (free_sign);
  g_autoptr (GPtrArray) faint = g_ptr_array_new ();

  add_crossings (self, cell, signs);
  for (WbCraftSignKind kind = 0; kind < WB_CRAFT_N_SIGNS; kind++)
    {
      WbCraftSign *sign = wb_craft_sign_get_rule (kind)->show != NULL ? look_for (self, kind, cell) : NULL;

      if (sign != NULL)
        g_ptr_array_add (sign->speaks ? signs : faint, sign);
    }
  g_ptr_array_extend_and_steal (signs, g_steal_pointer (&faint));
  return signs;
}

gboolean
wb_craft_signs_speak (const GPtrArray *signs,
                      gboolean         up)
{
  for (guint i = 0; i < signs->len; i++)
    {
      const WbCraftSign *sign = g_ptr_array_index (signs, i);

      if (sign->speaks && sign->up == up)
        return TRUE;
    }
  return FALSE;
}

char *
wb_craft_signs_dup_words (const GPtrArray *signs,
                          gboolean         up)
{
  GString *words = g_string_new (NULL);

  for (guint i = 0; i < signs->len; i++)
    {
      const WbCraftSign *sign = g_ptr_array_index (signs, i);

      if (sign->up == up && (sign->speaks || wb_craft_sign_is_cap (sign)) && sign->kind != WB_CRAFT_SIGN_CROSSED)
        g_string_append_printf (words, "%s%s", words->len > 0 ? "; " : "", sign->text);
    }
  return g_string_free (words, FALSE);
}

gboolean
wb_craft_sign_is_cap (const WbCraftSign *sign)
{
  return sign->kind == WB_CRAFT_SIGN_CARBON_CAP && sign->often;
}
