/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-advice-private.h"

#include <glib/gi18n-lib.h>

#include "wb-cure.h"

/* A row of an advice: its one word, and what stands beside it in few words. */

static const struct { const char *key, *label; } rows[WB_CRAFT_N_ROWS] = {
  [WB_CRAFT_ROW_FINISHED] = { "finished", N_("finished") },
  [WB_CRAFT_ROW_CROSSED] = { "crossed", N_("crossed a limit") },
  [WB_CRAFT_ROW_BURNS_NOW] = { "burns_now", N_("burns now") },
  [WB_CRAFT_ROW_LEFT_OUT] = { "left_out", N_("left out") },
  [WB_CRAFT_ROW_CANNOT_WIN] = { "cannot_win", N_("cannot win") },
  [WB_CRAFT_ROW_BURNT_DOWN] = { "burnt_down", N_("burnt down") },
  [WB_CRAFT_ROW_RESTS] = { "rests", N_("rests") },
  [WB_CRAFT_ROW_NOT_ENOUGH] = { "not_good_enough", N_("not good enough") },
  [WB_CRAFT_ROW_BEST] = { "best", N_("best of these") },
  [WB_CRAFT_ROW_BURN_DOWN] = { "burn_down", N_("burn down") },
  [WB_CRAFT_ROW_POUR_MORE] = { "pour_more", N_("pour more") },
  [WB_CRAFT_ROW_NOT_NEEDED] = { "not_needed", N_("need not be burnt") },
  [WB_CRAFT_ROW_LIGHT] = { "light", N_("light next") },
  [WB_CRAFT_ROW_LATER] = { "later", N_("light later") },
  [WB_CRAFT_ROW_COOLS] = { "cools", N_("cools") },
  [WB_CRAFT_ROW_CURES] = { "cures", N_("cures") },
  [WB_CRAFT_ROW_POUR_FIRST] = { "pour_first", N_("pour first") },
};

const char *
wb_craft_row_get_key (WbCraftRow row)
{
  g_return_val_if_fail (row < WB_CRAFT_N_ROWS, "unknown");
  return rows[row].key;
}

const char *
wb_craft_row_get_label (WbCraftRow row)
{
  g_return_val_if_fail (row < WB_CRAFT_N_ROWS, "");
  return _(rows[row].label);
}

/* Of what is in the running while the search goes on. */
static WbCraftRow
find_open_row (const WbCraftAdvised *advised)
{
  const WbCraftAdvisedCandles *candles = &advised->candles;

  if (candles->ready > 0)
    return advised->in_ten > 0 ? WB_CRAFT_ROW_LIGHT : WB_CRAFT_ROW_LATER;
  if (candles->cooling > 0)
    return WB_CRAFT_ROW_COOLS;
  if (candles->curing > 0)
    return WB_CRAFT_ROW_CURES;
  if (candles->planned > 0)
    return WB_CRAFT_ROW_POUR_FIRST;
  return advised->pour > 0 ? WB_CRAFT_ROW_POUR_MORE : WB_CRAFT_ROW_BURNT_DOWN;
}

WbCraftRow
wb_craft_advice_find_row (const WbCraftAdvised *advised,
                          gboolean              finished,
                          gboolean              over,
                          gboolean              poor,
                          gboolean              leads)
{
  const WbCraftAdvisedCandles *candles = &advised->candles;
  gboolean any = wb_craft_advice_count_living (candles) + candles->planned > 0;

  if (finished)
    return WB_CRAFT_ROW_FINISHED;
  if (advised->running == WB_CRAFT_RUNNING_CROSSED)
    return WB_CRAFT_ROW_CROSSED;
  if (candles->alight > 0)
    return WB_CRAFT_ROW_BURNS_NOW;
  if (advised->running == WB_CRAFT_RUNNING_LEFT_OUT)
    return WB_CRAFT_ROW_LEFT_OUT;
  if (advised->running == WB_CRAFT_RUNNING_ABOVE_CROSSED || advised->running == WB_CRAFT_RUNNING_BEHIND)
    return WB_CRAFT_ROW_CANNOT_WIN;
  if (advised->running == WB_CRAFT_RUNNING_RESTING)
    return any ? WB_CRAFT_ROW_RESTS : WB_CRAFT_ROW_BURNT_DOWN;
  if (!over)
    return find_open_row (advised);
  if (poor)
    return WB_CRAFT_ROW_NOT_ENOUGH;
  if (!leads)
    return WB_CRAFT_ROW_NOT_NEEDED;
  if (wb_craft_advice_count_living (candles) > 0)
    return WB_CRAFT_ROW_BURN_DOWN;
  if (candles->planned > 0)
    return WB_CRAFT_ROW_POUR_FIRST;
  return advised->pour > 0 ? WB_CRAFT_ROW_POUR_MORE : WB_CRAFT_ROW_BEST;
}

char *
wb_craft_advised_dup_row_words (const WbCraftAdvised *advised)
{
  WbInstant at;
  g_autofree char *when = NULL;

  g_return_val_if_fail (advised != NULL, NULL);

  if (advised->row == WB_CRAFT_ROW_BURNS_NOW && advised->running == WB_CRAFT_RUNNING_RESTING)
    return g_strdup (_("burns now, then rests"));
  if (advised->row == WB_CRAFT_ROW_BURNS_NOW && advised->running != WB_CRAFT_RUNNING_OPEN)
    return g_strdup (_("burns now for the last time"));
  at = advised->row == WB_CRAFT_ROW_CURES ? advised->candles.cured_at
       : advised->row == WB_CRAFT_ROW_COOLS ? advised->candles.cooled_at : WB_INSTANT_NONE;
  if (!at.known)
    return g_strdup (wb_craft_row_get_label (advised->row));
  when = wb_cure_format_at (at);
  /* Translators: "cures", "cools"; a day or a time. */
  return g_strdup_printf (_("%s until %s"), wb_craft_row_get_label (advised->row), when);
}

/* Is it burnt on, so that "carry on" means something? */
static gboolean
is_carried_on (WbCraftRow row)
{
  switch (row)
    {
    case WB_CRAFT_ROW_BURNS_NOW:
    case WB_CRAFT_ROW_BURN_DOWN:
    case WB_CRAFT_ROW_LIGHT:
    case WB_CRAFT_ROW_LATER:
    case WB_CRAFT_ROW_COOLS:
      return TRUE;
    case WB_CRAFT_ROW_FINISHED:
    case WB_CRAFT_ROW_CROSSED:
    case WB_CRAFT_ROW_LEFT_OUT:
    case WB_CRAFT_ROW_CANNOT_WIN:
    case WB_CRAFT_ROW_BURNT_DOWN:
    case WB_CRAFT_ROW_RESTS:
    case WB_CRAFT_ROW_NOT_ENOUGH:
    case WB_CRAFT_ROW_BEST:
    case WB_CRAFT_ROW_POUR_MORE:
    case WB_CRAFT_ROW_NOT_NEEDED:
    case WB_CRAFT_ROW_CURES:
    case WB_CRAFT_ROW_POUR_FIRST:
    case WB_CRAFT_N_ROWS:
    default:
      return FALSE;
    }
}

char *
wb_craft_advised_dup_size_words (const WbCraftAdvised *advised)
{
  g_return_val_if_fail (advised != NULL, NULL);

  /* whatever is out or rests burns on as nothing, and of what is finished no size is asked for */
  if (advised->row == WB_CRAFT_ROW_FINISHED || advised->row == WB_CRAFT_ROW_LEFT_OUT
      || (advised->size == WB_CRAFT_SIZE_CARRY_ON && (advised->running != WB_CRAFT_RUNNING_OPEN || !is_carried_on (advised->row))))
    return g_strdup ("");
  if (advised->next_name == NULL)
    return g_strdup (wb_craft_size_get_label (advised->size));
  /* Translators: "one size up"; a size. */
  return g_strdup_printf (advised->next_tested ? _("%s: %s, which is in the test") : _("%s: %s"), wb_craft_size_get_label (advised->size),
                          advised->next_name);
}

char *
wb_craft_advised_dup_share_words (const WbCraftAdvised *advised)
{
  g_return_val_if_fail (advised != NULL, NULL);

  if (advised->row == WB_CRAFT_ROW_FINISHED || advised->row == WB_CRAFT_ROW_BURNT_DOWN)
    return g_strdup ("");
  if (advised->running == WB_CRAFT_RUNNING_RESTING)
    return g_strdup (_("no burns for now"));
  if (advised->share <= 0)
    return g_strdup (_("no more burns"));
  if (advised->in_ten == 0)
    return g_strdup (_("none of the next 10 burns"));
  if (advised->in_ten == WB_CRAFT_ADVICE_TEN)
    return g_strdup (_("all of the next burns"));
  /* Translators: a count. */
  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u of the next 10 burns", "%u of the next 10 burns", advised->in_ten), advised->in_ten);
}
