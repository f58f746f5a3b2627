/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-exchange-mapping-guess-private.h"

#include "wb-exchange-log-column.h"
#include "wb-exchange-mapping-target.h"
#include "wb-exchange-mapping-time-private.h"

#include <math.h>
#include <string.h>

/* What a column of a sheet may be, from its name and what stands in it. */

/*
 * Words of a name, in the order in which they are looked for: the first that is found tells, unless `not` is found too. A name that
 * is near to something else is left to the person: what is guessed wrong goes into a score, or passes a limit.
 */
static const struct { const char *words, *target, *not; } names[] = {
  { "(base|bottom).*temp|temp.*(base|bottom)", "base_c", "" },
  { "(room|ambient).*(temp|°|\\b[cf]\\b)|temp.*(room|ambient)|ambient", "room_c", "hum|moist|noise|light" },
  { "(vessel|jar|glass|\\btin\\b|container|tumbler|outside|outer|surface).*(temp|°)|temp.*(vessel|jar|glass|\\btin\\b|container|tumbler|outside|surface)",
    "vessel_c", "inside|wax|pool|oven" },
  /* Of wax, fire, oven, or not said. */
  { "temp|°|thermo", NULL, "" },
  { "depth", "depth_mm", "wax|jar|vessel|glass|container|\\btin\\b|wick" },
  { "pool|melt|fmp", "pool_mm", "%|percent|depth|point|qualit|rating|score|colou?r|area|vol" },
  { "max.*flame|flame.*max|high.*flame", "flame_max_mm", "width|wide|colou?r|dance|flicker|qualit|rating|score" },
  { "flame state|flame behav", "flame_state", "" },
  { "flame", "flame_mm", "width|wide|colou?r|danc|flicker|qualit|rating|score|wick|count|number" },
  { "soot", "soot", "" },
  { "smoke", "smoke", "after|snuff" },
  { "mushroom|carbon|\\bcap\\b", "mushroom", "" },
  { "hang|cling", "hang_up_mm", "%|percent|rating|score" },
  { "throw|strength|\\bhot\\b.*(scent|fragrance|smell)|(scent|fragrance|smell).*\\bhot\\b", "throw", "cold" },
  { "rated by|rater|nose", "rater", "" },
  { "trim", "trim_mm", "" },
  { "tare|empty", "tare_g", "" },
  { "fill", "fill_g", "line|level|height" },
  { "weight|\\bwt\\b|mass|scale", "mass_g", "loss|lost|los[ei]|consum|used|burn[et]|rate|diff|change|ratio|per\\b|/|\\bof\\b|wax|fragrance|scent|\\boil|wick|lid" },
  { "pour", "poured_on", "weight|mass|by\\b" },
  { "cure|curing", "cure_days", "" },
  { "inner|inside|diameter|\\bdia\\b|opening|\\bid\\b.*(mm|cm|in)", "inner_diameter_mm", "out|wick|base|bottom|lid" },
  { "load|\\bfo\\b|(fragrance|scent|oil).*(%|percent)|(%|percent).*(fragrance|scent|oil)", "load_pct", "" },
  { "dye|^colou?r$|(wax|candle) colou?r", "dye", "" },
  { "additive", "additive", "" },
  { "fragrance|scent|\\boil\\b", "fragrance", "weight|mass|\\blot\\b|cold|hot|strength|qualit|rating|score|smell" },
  { "wick (series|type|family|brand)|series", "wick_series", "" },
  { "wick step", "wick_step", "" },
  { "wick count|wicks|no. of wicks", "wick_count", "" },
  { "wick", "wick_size", "length|height|dia|width|\\blot\\b|weight|state|position|lean" },
  { "wax", "wax", "\\blot\\b|weight|mass|height|level|colou?r" },
  { "vessel|jar|glass|\\btin\\b|container|tumbler", "vessel", "weight|mass|height|outer|outside|\\bod\\b|clean|state|lid" },
  { "experiment|project|trial", "experiment", "" },
  { "sample|candle|code", "sample", "colou?r|weight|mass|height" },
  { "note|comment|remark|observ", "note", "" },
  { "draught|draft", "draught", "" },
  { "event|happened", "event", "" },
  { "elapsed|since|minutes|duration|burn time", "elapsed_min", "" },
  { "burn|session", "burn", "date|time|hours|day|room|qualit|rating|score|rate|total|by\\b" },
};

/* Says that something is not there, or what it took to come: "smokeless", "soot-free", "no smoke", "time to full pool". */
#define DENIED "less\\b|[- ]free\\b|^no\\s+(?!of\\b)|\\bwithout\\b|\\bnon\\b|\\bnot\\b"
#define TIMED "\\btime\\b|minutes|hours|\\breach"

/* A sheet's words for a rating, besides the program's own. */
static const struct { const char *target, *words, *value; } ratings[] = {
  { "soot", "no|clean|clear", "0" }, { "soot", "hint|tiny", "1" }, { "soot", "slight|some|little|minor", "2" },
  { "soot", "medium", "3" }, { "soot", "lots|black|bad|strong", "4" },
  { "smoke", "no|clean", "0" }, { "smoke", "wisp|slight|little|some|light", "1" }, { "smoke", "heavy|lots|black", "2" },
  { "mushroom", "no|clean", "0" }, { "mushroom", "slight|little|some|light|medium", "1" }, { "mushroom", "big|huge|heavy", "2" },
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
  if (matches (DENIED, name))
    return NULL;
  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    if (matches (names[i].words, name))
      return *names[i].not != '\0' && matches (names[i].not, name) ? NULL : names[i].target;
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

/* "Throw 1-5" says the scale that the format has. */
static gboolean
is_own_scale (const char *name, const WbExchangeLogColumn *column)
{
  g_autoptr (GRegex) regex = g_regex_new ("(\\d+)\\s*(?:-|–|to)\\s*(\\d+)", G_REGEX_CASELESS, 0, NULL);
  g_autoptr (GMatchInfo) match = NULL;
  g_autofree char *low = NULL, *high = NULL;

  if (!g_regex_match (regex, name, 0, &match))
    return FALSE;
  low = g_match_info_fetch (match, 1);
  high = g_match_info_fetch (match, 2);
  return g_ascii_strtod (low, NULL) == column->minimum && g_ascii_strtod (high, NULL) == column->maximum;
}

/* "Mushroom, mm" is no grade, "Soot (1-10)" none of the format's scale, and "Time to full pool" no diameter. */
static gboolean
is_foreign (const char *name, const WbLogTarget *target)
{
  int found = wb_exchange_log_column_find (target->name);
  const WbExchangeLogColumn *column = found >= 0 ? wb_exchange_log_column_get ((guint) found) : NULL;
  WbUnit unit;

  if (column == NULL || !target->reading || !target->number)
    return FALSE;
  if (column->kind == WB_EXCHANGE_LOG_READ_WHOLE)
    {
      if (find_unit (name, WB_QUANTITY_LENGTH, &unit) || find_unit (name, WB_QUANTITY_DURATION, &unit))
        return TRUE;
      return matches ("\\d\\s*(-|–|to)\\s*\\d|/\\s*\\d|out of", name) && !is_own_scale (name, column);
    }
  return wb_unit_get_quantity (target->unit) != WB_QUANTITY_DURATION && matches (TIMED, name);
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

/* What two columns may be is for a person to say; of texts the first is taken, and the others are kept. */
static gboolean
is_taken (const WbLogMapping *mapping, const WbLogTarget *target, double minute)
{
  g_autofree char *braced = g_strdup_printf ("{%s}", target->name);

  for (guint i = 0; i < mapping->columns->len; i++)
    {
      const WbLogMappingColumn *column = mapping->columns->pdata[i];

      if (!target->number && g_strcmp0 (column->target, target->name) == 0
          && (column->minute == minute || (isnan (column->minute) && isnan (minute))))
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
  double minute = matches (DENIED, name) ? NAN : take_hour (name, &rest);
  Contents found = look_into (examples);
  const char *guessed;
  const WbLogTarget *target = NULL;
  WbLogMappingColumn *column;

  if (isnan (minute))
    {
      g_free (rest);
      rest = g_strdup (name);
    }
  guessed = guess_target (rest, &found);
  /* An hour with nothing beside it is most often the pool's. */
  if (guessed == NULL && !isnan (minute) && matches ("^[^\\pL]*(\\b(mm|cm|in|inch|inches)\\b[^\\pL]*)?$", rest))
    guessed = "pool_mm";
  if (guessed != NULL && strcmp (guessed, WB_LOG_TARGET_KEEP) != 0)
    target = wb_exchange_mapping_target_get ((guint) wb_exchange_mapping_target_find (guessed));
  if (target == NULL || !target->reading)
    minute = NAN;
  if (target != NULL && (is_taken (mapping, target, minute) || (wb_exchange_mapping_target_find (name) < 0 && is_foreign (rest, target))))
    target = NULL;
  if (target == NULL)
    {
      wb_log_mapping_add_column (mapping, name, examples[0] != NULL && wb_exchange_mapping_target_find (name) < 0 ? WB_LOG_TARGET_KEEP : NULL);
      return;
    }
  pattern = wb_exchange_mapping_is_guessed (mapping, "wick_series") ? NULL : guess_pattern (guessed, examples);
  column = wb_log_mapping_add_column (mapping, name, pattern == NULL ? guessed : NULL);
  column->pattern = g_steal_pointer (&pattern);
  column->minute = minute;
  if (column->pattern == NULL)
    column->unit = guess_unit (isnan (minute) ? name : rest, target, &found);
  guess_words (column, target, examples);
}
