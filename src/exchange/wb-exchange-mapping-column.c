/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-exchange-mapping-guess-private.h"

#include "wb-exchange-mapping-target.h"
#include "wb-exchange-mapping-time-private.h"

#include <math.h>
#include <string.h>

/* What a column of a sheet may be, from its name and what stands in it. */

/* Words of a name, in the order in which they are looked for: the first that is found tells. */
static const struct { const char *words, *target; } names[] = {
  { "base temp|bottom temp", "base_c" },
  { "room|ambient", "room_c" },
  { "temp|°c|°f|thermo", "vessel_c" },
  { "depth", "depth_mm" },
  { "pool|melt|fmp", "pool_mm" },
  { "max.*flame|flame.*max|high.*flame", "flame_max_mm" },
  { "flame state|flame behav", "flame_state" },
  { "flame", "flame_mm" },
  { "soot", "soot" },
  { "smoke", "smoke" },
  { "mushroom|carbon|\\bcap\\b", "mushroom" },
  { "hang|cling", "hang_up_mm" },
  { "throw|strength", "throw" },
  { "rated by|rater|nose", "rater" },
  { "trim", "trim_mm" },
  { "tare|empty", "tare_g" },
  { "fill", "fill_g" },
  { "weight|mass|scale", "mass_g" },
  { "pour", "poured_on" },
  { "cure|curing", "cure_days" },
  { "inner|inside|diameter|\\bdia\\b|opening|\\bid\\b.*(mm|cm|in)", "inner_diameter_mm" },
  { "load|\\bfo\\b|percent|%", "load_pct" },
  { "dye|colou?r", "dye" },
  { "additive", "additive" },
  { "fragrance|scent|\\boil\\b", "fragrance" },
  { "wick (series|type|family|brand)|series", "wick_series" },
  { "wick step", "wick_step" },
  { "wick count|wicks|no. of wicks", "wick_count" },
  { "wick", "wick_size" },
  { "wax", "wax" },
  { "vessel|jar|glass|\\btin\\b|container|tumbler", "vessel" },
  { "experiment|project|trial", "experiment" },
  { "sample|candle|code", "sample" },
  { "note|comment|remark|observ", "note" },
  { "draught|draft", "draught" },
  { "event|happened", "event" },
  { "elapsed|since|minutes|duration|burn time", "elapsed_min" },
  { "burn|session", "burn" },
};

/* A sheet's words for a rating, besides the program's own. */
static const struct { const char *target, *words, *value; } ratings[] = {
  { "soot", "no|clean|clear", "0" }, { "soot", "hint|tiny", "1" }, { "soot", "slight|some|little|minor|yes", "2" },
  { "soot", "medium", "3" }, { "soot", "lots|black|bad|strong", "4" },
  { "smoke", "no|clean", "0" }, { "smoke", "wisp|slight|little|some|light", "1" }, { "smoke", "heavy|yes|lots|black", "2" },
  { "mushroom", "no|clean", "0" }, { "mushroom", "slight|little|some|yes|light|medium", "1" }, { "mushroom", "big|huge|heavy", "2" },
  { "throw", "no|nothing", "1" }, { "throw", "weak|light|little|low", "2" }, { "throw", "medium|ok|fair", "3" },
  { "throw", "good", "4" }, { "throw", "great|excellent|heavy|high", "5" },
  { "pool_mm", "fmp|edge|wall|yes|edge to edge|complete", "full" },
  { "alone", "y", "yes" }, { "alone", "n", "no" },
};

static gboolean
matches (const char *pattern, const char *text)
{
  return g_regex_match_simple (pattern, text, G_REGEX_CASELESS, 0);
}

/* "1 h pool", "Pool @ 90 min", "hour 2": minutes; NAN: none. `rest`: the name without it. */
static double
take_hour (const char *name, char **rest)
{
  static const char *const forms[] = {
    "(?:@|at|after)?\\s*\\b(\\d+(?:[.,]\\d+)?)\\s*-?(h|hr|hrs|hour|hours|min|mins|minutes)\\b",
    "()\\b(h|hr|hour)\\s*(\\d+(?:[.,]\\d+)?)\\b",
  };

  *rest = g_strdup (name);
  for (guint i = 0; i < G_N_ELEMENTS (forms); i++)
    {
      g_autoptr (GRegex) regex = g_regex_new (forms[i], G_REGEX_CASELESS, 0, NULL);
      g_autoptr (GMatchInfo) match = NULL;

      if (!g_regex_match (regex, name, 0, &match))
        continue;

      g_autofree char *number = g_match_info_fetch (match, i == 0 ? 1 : 3), *unit = g_match_info_fetch (match, 2);
      double value;

      if (!wb_number_parse (number, &value, NULL))
        continue;
      g_free (*rest);
      *rest = g_strstrip (g_regex_replace_literal (regex, name, -1, 0, " ", 0, NULL));
      return value * (g_ascii_tolower (*unit) == 'h' ? 60 : 1);
    }
  return NAN;
}

typedef struct { guint n, numbers, fractions, times, dates, moments; double sum, highest; } Contents;

static Contents
look_into (char **examples)
{
  Contents found = { 0 };

  for (guint i = 0; examples[i] != NULL; i++)
    {
      g_autofree char *rule = NULL, *of_time = NULL;
      WbExchangeMoment moment;
      double value;
      int second;

      found.n++;
      found.fractions += matches ("\\d/\\d|[¼½¾⅛⅜⅝⅞]|\\d\"", examples[i]);
      if (wb_exchange_mapping_read_time (examples[i], &second, &of_time) && !wb_number_parse (examples[i], &value, NULL))
        found.times++;
      else if (wb_number_parse (examples[i], &value, NULL))
        {
          found.numbers++;
          found.sum += value;
          found.highest = MAX (found.highest, value);
        }
      for (guint order = 0; order < WB_LOG_N_DATE_ORDERS; order++)
        {
          g_clear_pointer (&rule, g_free);
          if (wb_exchange_mapping_read_moment (examples[i], order, &moment, &rule))
            {
              found.dates++;
              found.moments += moment.instant.known || moment.second >= 0;
              break;
            }
        }
    }
  return found;
}

/* Of dates and times what they are of; NULL: the column holds none. */
static const char *
guess_moment (const char *name, const Contents *found)
{
  gboolean lit = matches ("lit|light|start|ignit", name);

  if (matches ("pour", name) || found->n == 0)
    return NULL;
  if (2 * found->moments > found->n)
    return lit || matches ("^date", name) ? "lit_at" : WB_LOG_TARGET_READ_AT;
  if (2 * found->dates > found->n)
    return WB_LOG_TARGET_LIT_ON;
  if (2 * found->times > found->n)
    return lit ? WB_LOG_TARGET_LIT_TIME : WB_LOG_TARGET_READ_TIME;
  return NULL;
}

static const char *
guess_target (const char *name, const Contents *found)
{
  const char *moment;
  int own = wb_exchange_mapping_target_find (name);

  if (own >= 0)
    return wb_exchange_mapping_target_get ((guint) own)->name;
  moment = guess_moment (name, found);
  if (moment != NULL)
    return moment;
  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    if (matches (names[i].words, name))
      return names[i].target;
  return NULL;
}

/* The first word of the name that is a unit of that quantity. */
static gboolean
find_unit (const char *name, WbQuantity quantity, WbUnit *unit)
{
  g_auto (GStrv) words = g_strsplit_set (name, " ()[],/_", -1);

  for (guint i = 0; words[i] != NULL; i++)
    for (int u = 0; *words[i] != '\0' && u < WB_N_UNITS; u++)
      {
        g_autofree char *one = g_strdup_printf ("1 %s", words[i]);
        double stored;

        /* "m" in a name is more often minutes or a name's letter than metres. */
        if (u == WB_UNIT_M || wb_unit_get_quantity (u) != quantity || !wb_quantity_parse (quantity, u, one, &stored, NULL))
          continue;
        if (stored == wb_unit_to_stored (u, 1))
          {
            *unit = u;
            return TRUE;
          }
      }
  return FALSE;
}

static WbUnit
guess_unit (const char *name, const WbLogTarget *target, const Contents *found)
{
  WbQuantity quantity = wb_unit_get_quantity (target->unit);
  WbUnit unit;

  if (!target->number || target->unit == WB_UNIT_NONE)
    return WB_N_UNITS;
  if (find_unit (name, quantity, &unit))
    return unit;
  if (quantity == WB_QUANTITY_LENGTH && found->fractions > 0)
    return WB_UNIT_INCH;
  if (found->numbers == 0)
    return target->unit;
  /* No vessel is so small in mm; in inches few are wider, in cm few narrower. */
  if (quantity == WB_QUANTITY_LENGTH && (g_str_equal (target->name, "inner_diameter_mm") || g_str_equal (target->name, "pool_mm")))
    return found->highest < 5.5 ? WB_UNIT_INCH : found->highest < 18 ? WB_UNIT_CM : WB_UNIT_MM;
  /* A glass at 100 °C is rare and at 100 °F is warm. */
  if (quantity == WB_QUANTITY_TEMPERATURE && found->sum / found->numbers > (g_str_equal (target->name, "room_c") ? 45 : 95))
    return WB_UNIT_FAHRENHEIT;
  if (quantity == WB_QUANTITY_DURATION && g_str_equal (target->name, "elapsed_min"))
    return found->highest <= 12 ? WB_UNIT_HOUR : WB_UNIT_MINUTE;
  return target->unit;
}

static void
guess_words (WbLogMappingColumn *column, const WbLogTarget *target, char **examples)
{
  for (guint i = 0; examples[i] != NULL; i++)
    for (guint r = 0; r < G_N_ELEMENTS (ratings); r++)
      {
        g_autofree char *pattern = g_strdup_printf ("^(%s)$", ratings[r].words);

        if (strcmp (ratings[r].target, target->name) == 0 && matches (pattern, examples[i]))
          {
            wb_log_mapping_column_add_word (column, examples[i], ratings[r].value);
            break;
          }
      }
}

/* "Larch-3": a name, one sign, a size. */
static char *
guess_pattern (const char *target, char **examples)
{
  char sign = '\0';

  if (strcmp (target, "wick_size") != 0 || examples[0] == NULL)
    return NULL;
  for (guint i = 0; examples[i] != NULL; i++)
    {
      const char *p = examples[i] + strspn (examples[i], "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ");

      if (p - examples[i] < 2 || *p == '\0' || strchr ("- /_.", *p) == NULL || !g_ascii_isdigit (p[1]) || (sign != '\0' && *p != sign))
        return NULL;
      sign = *p;
    }
  return g_strdup_printf ("{wick_series}%c{wick_size}", sign);
}

static gboolean
is_taken (const WbLogMapping *mapping, const char *target, double minute)
{
  for (guint i = 0; i < mapping->columns->len; i++)
    {
      const WbLogMappingColumn *column = mapping->columns->pdata[i];
      g_autofree char *braced = g_strdup_printf ("{%s}", target);

      if (g_strcmp0 (column->target, target) == 0 && (column->minute == minute || (isnan (column->minute) && isnan (minute))))
        return TRUE;
      if (column->pattern != NULL && strstr (column->pattern, braced) != NULL)
        return TRUE;
    }
  return FALSE;
}

void
wb_exchange_mapping_guess_column (WbLogMapping *mapping,
                                  const char   *name,
                                  char        **examples)
{
  g_autofree char *rest = NULL, *pattern = NULL;
  double minute = take_hour (name, &rest);
  Contents found = look_into (examples);
  const char *guessed = guess_target (isnan (minute) ? name : rest, &found);
  const WbLogTarget *target = NULL;
  WbLogMappingColumn *column;

  /* An hour with nothing beside it is most often the pool's. */
  if (guessed == NULL && !isnan (minute))
    guessed = "pool_mm";
  if (guessed != NULL && strcmp (guessed, WB_LOG_TARGET_KEEP) != 0)
    target = wb_exchange_mapping_target_get ((guint) wb_exchange_mapping_target_find (guessed));
  if (target == NULL || !target->reading)
    minute = NAN;
  if (target != NULL && is_taken (mapping, guessed, minute))
    target = NULL;
  if (target == NULL)
    {
      wb_log_mapping_add_column (mapping, name, examples[0] != NULL && wb_exchange_mapping_target_find (name) < 0 ? WB_LOG_TARGET_KEEP : NULL);
      return;
    }
  pattern = is_taken (mapping, "wick_series", NAN) ? NULL : guess_pattern (guessed, examples);
  column = wb_log_mapping_add_column (mapping, name, pattern == NULL ? guessed : NULL);
  column->pattern = g_steal_pointer (&pattern);
  column->minute = minute;
  if (column->pattern == NULL)
    column->unit = guess_unit (isnan (minute) ? name : rest, target, &found);
  guess_words (column, target, examples);
}
