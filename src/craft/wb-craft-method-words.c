/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-method.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-quantity.h"

/* Each caution stands at its step, on screen and on paper alike (the usual cautions of the trade, no source but common practice). */
static const char *const cautions[] = {
  [WB_STEP_PREHEAT] = N_("A hot vessel looks like a cold one: oven gloves. Glass that is chipped or scratched does not go into heat."),
  [WB_STEP_HEAT] = N_("Never leave melting wax. Double boiler or thermostat, and a thermometer in the wax. Wax that smokes is overheated: switch "
                      "the heat off, and no lid on it. Water never on burning wax: smother the flames, or a dry-chemical or CO₂ extinguisher; if "
                      "they do not go out, leave and call the fire service."),
  [WB_STEP_DYE] = NULL,
  [WB_STEP_FRAGRANCE] = N_("Goggles and gloves for undiluted oil. Air the room. No flame and no spark near the oil or the open pot."),
  [WB_STEP_STIR] = NULL,
  [WB_STEP_COOL] = N_("The pot is watched while it cools, and the heat is off."),
  [WB_STEP_POUR] = N_("A level surface that heat does not harm; children and pets out. Hot wax on the skin: cool it under cool running water at "
                      "once, then get medical advice."),
  [WB_STEP_INSULATE] = N_("Nothing that can catch fire against a hot pot or a burner; do not carry vessels whose wax is liquid."),
  [WB_STEP_PIERCE] = N_("Wax under the skin is hot: gloves, and a long needle; do not lean over it."),
  [WB_STEP_TOP_UP] = N_("The rest of the melt is heated as before: thermostat or double boiler, thermometer, never left."),
  [WB_STEP_TURN_OVER] = N_("Hot wax stands under a skin and can break through it: gloves to the elbow, face away, over a tray, and only when your "
                           "own trials with this vessel say that the skin carries. Never a vessel that was not made for it."),
  [WB_STEP_SET] = N_("Nothing down the drain: let leftover wax set and throw it away or keep it. Leave only when all heat is off."),
  [WB_STEP_CURE] = NULL,
  [WB_STEP_OTHER] = NULL,
};

const char *
wb_craft_method_get_caution (int kind)
{
  g_return_val_if_fail (kind >= 0 && kind < (int) G_N_ELEMENTS (cautions), NULL);
  return cautions[kind] != NULL ? _(cautions[kind]) : NULL;
}

const char *
wb_craft_method_get_caution_of_oil (void)
{
  return _("Undiluted fragrance oil: goggles and gloves, and air the room.");
}

char *
wb_craft_method_dup_title (int kind)
{
  const char *word;
  g_autofree char *first = NULL;
  const char *rest;

  g_return_val_if_fail (kind >= 0 && kind <= WB_STEP_OTHER, NULL);
  word = _(wb_step_words[kind].label);
  rest = g_utf8_next_char (word);
  first = g_utf8_strup (word, rest - word);
  return g_strconcat (first, rest, NULL);
}

static gboolean
has_step (const GPtrArray *steps,
          gint64           kind)
{
  for (guint i = 0; steps != NULL && i < steps->len; i++)
    if (((const WbBatchStep *) steps->pdata[i])->kind == kind)
      return TRUE;
  return FALSE;
}

GPtrArray *
wb_craft_method_find_cautions_left (const GPtrArray *steps,
                                    gboolean         scented)
{
  static const WbStepKind always[] = { WB_STEP_HEAT, WB_STEP_FRAGRANCE, WB_STEP_POUR };
  GPtrArray *left = g_ptr_array_new ();

  for (guint i = 0; i < G_N_ELEMENTS (always); i++)
    if (!has_step (steps, always[i]) && (scented || always[i] != WB_STEP_FRAGRANCE))
      g_ptr_array_add (left, (gpointer) wb_craft_method_get_caution (always[i]));
  return left;
}

/* ---- What to do ---- */

static void
add (GString *text,
     char    *sentence)
{
  g_string_append_printf (text, "%s%s", text->len > 0 ? "\n" : "", sentence);
  g_free (sentence);
}

static char *
dup_temperature (double   celsius,
                 gboolean us_units)
{
  return wb_quantity_format (wb_quantity_get_shown_unit (WB_QUANTITY_TEMPERATURE, us_units), celsius, 0);
}

char *
wb_craft_method_dup_flash (const WbFragrance *fragrance,
                           gboolean           us_units)
{
  g_autofree char *flash = NULL;

  if (fragrance == NULL)
    return NULL;
  if (!isfinite (fragrance->flash_c))
    return g_strdup (_("The flash point of the oil is not on record: read its data sheet first."));
  flash = dup_temperature (fragrance->flash_c, us_units);
  return g_strdup_printf (_("Flash point of the oil: %s."), flash);
}

/* The oil is in the pot at that step, or nobody can say that it is not. */
static gboolean
is_oil_in (const GPtrArray *steps,
           guint            at)
{
  for (guint i = 0; i <= at; i++)
    if (((const WbBatchStep *) steps->pdata[i])->kind == WB_STEP_FRAGRANCE)
      return TRUE;
  return !has_step (steps, WB_STEP_FRAGRANCE);
}

/* The vessels are no melt. */
static gboolean
is_at_flash_point (const GPtrArray   *steps,
                   guint              at,
                   const WbFragrance *fragrance)
{
  const WbBatchStep *step = steps->pdata[at];

  return fragrance != NULL && step->kind != WB_STEP_PREHEAT && step->actual_c >= fragrance->flash_c && is_oil_in (steps, at);
}

/* What the step asks for; of a melt for which it asks nothing, what the wax is heated to. NAN: nobody says. */
static double
get_most_c (const GPtrArray *steps,
            guint            at,
            const WbWax     *wax)
{
  const WbBatchStep *step = steps->pdata[at];

  if (!isnan (step->to_c) || step->kind == WB_STEP_PREHEAT)
    return step->to_c;
  for (guint i = 0; i < steps->len; i++)
    if (((const WbBatchStep *) steps->pdata[i])->kind == WB_STEP_HEAT && !isnan (((const WbBatchStep *) steps->pdata[i])->to_c))
      return ((const WbBatchStep *) steps->pdata[i])->to_c;
  return wax != NULL ? wax->heat_c : NAN;
}

char *
wb_craft_method_dup_too_hot (const GPtrArray   *steps,
                             guint              at,
                             const WbWax       *wax,
                             const WbFragrance *fragrance,
                             gboolean           us_units)
{
  const WbBatchStep *step;
  g_autofree char *is = NULL, *most = NULL, *flash = NULL;
  double most_c;

  g_return_val_if_fail (steps != NULL && at < steps->len, NULL);

  step = steps->pdata[at];
  if (isnan (step->actual_c))
    return NULL;
  is = wb_quantity_format (wb_quantity_get_shown_unit (WB_QUANTITY_TEMPERATURE, us_units), step->actual_c, -1);
  if (is_at_flash_point (steps, at, fragrance))
    {
      flash = dup_temperature (fragrance->flash_c, us_units);
      return g_strdup_printf (_("%s is at or above the flash point of the oil, %s: no flame and no spark near the pot, heat off, air the room."), is, flash);
    }
  most_c = get_most_c (steps, at, wax);
  if (!(step->actual_c > most_c + WB_CRAFT_METHOD_BAND_K))
    return NULL;
  most = dup_temperature (most_c, us_units);
  if (step->kind == WB_STEP_HEAT)
    return g_strdup_printf (_("%s, and the wax was to be heated to %s, no further: heat off, and let it come down."), is, most);
  return g_strdup_printf (_("%s, and the method asks for %s: heat off, and let it come down before you go on."), is, most);
}

/* With a temperature in the place of %s, or the other sentence where there is none. */
static void
add_at (GString    *text,
        double      celsius,
        gboolean    us_units,
        const char *with,
        const char *without)
{
  g_autofree char *at = isnan (celsius) ? NULL : dup_temperature (celsius, us_units);
  g_auto (GStrv) parts = g_strsplit (with, "{}", 2);

  if (at != NULL)
    add (text, g_strjoinv (at, parts));
  else if (without != NULL)
    add (text, g_strdup (without));
}

static void
add_dye (GString                 *text,
         const WbCraftBatchSheet *sheet,
         gboolean                 us_units)
{
  if (sheet == NULL || (isnan (sheet->dye_g) && isnan (sheet->dye_drops) && !(sheet->additive_g > 0)))
    {
      add (text, g_strdup (_("Stir in dye and additive until none is to be seen.")));
      return;
    }
  if (sheet->additive_g > 0)
    {
      g_autofree char *mass = wb_craft_batch_dup_mass (sheet, sheet->additive_g, us_units);

      add (text, g_strdup_printf (_("Stir in %s of additive."), mass));
    }
  if (!isnan (sheet->dye_drops))
    {
      g_autofree char *drops = wb_number_format (sheet->dye_drops, 0, NULL);

      add (text, g_strdup_printf (_("Stir in %s drops of dye until none is to be seen."), drops));
    }
  else if (!isnan (sheet->dye_g))
    {
      g_autofree char *mass = wb_quantity_format (WB_UNIT_G, sheet->dye_g, 3);

      add (text, g_strdup_printf (_("Stir in %s of dye until none is to be seen."), mass));
    }
}

static void
add_fragrance (GString                 *text,
               const WbBatchStep       *step,
               const WbCraftBatchSheet *sheet,
               gboolean                 us_units)
{
  g_autofree char *mass = sheet != NULL ? wb_craft_batch_dup_mass (sheet, sheet->oil_g, us_units) : NULL;

  add_at (text, step->to_c, us_units, /* Translators: {} stands for a temperature. */
          _("At {} take the pot off the heat and stir the oil in."), _("Take the pot off the heat and stir the oil in, at the temperature that the supplier's data sheet gives."));
  if (mass != NULL)
    add (text, g_strdup_printf (_("%s of fragrance oil."), mass));
}

static void
add_pour (GString                 *text,
          const WbBatchStep       *step,
          const WbCraftBatchSheet *sheet,
          gboolean                 us_units)
{
  add_at (text, step->to_c, us_units, _("Pour at {}, slowly, beside the wick, each vessel on the scale to its fill."),
          _("Pour as the supplier's data sheet says, slowly, beside the wick, each vessel on the scale to its fill."));
  if (sheet != NULL && sheet->hold_back_g > 0)
    {
      g_autofree char *kept = wb_craft_batch_dup_mass (sheet, sheet->hold_back_g, us_units);

      add (text, g_strdup_printf (_("Keep %s in the pot for the second pour."), kept));
    }
}

static void
add_top_up (GString                 *text,
            const WbBatchStep       *step,
            const WbCraftBatchSheet *sheet,
            gboolean                 us_units)
{
  g_autofree char *kept = sheet != NULL && sheet->hold_back_g > 0 ? wb_craft_batch_dup_mass (sheet, sheet->hold_back_g, us_units) : NULL;

  add_at (text, step->to_c, us_units, _("Heat what was kept to {} and top up."), _("Heat what was kept and top up."));
  if (kept != NULL)
    add (text, g_strdup_printf (_("%s were kept."), kept));
}

static char *
dup_days (double days)
{
  g_autofree char *number = wb_number_format_trimmed (days, 1, NULL);

  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s day", "%s days", (gulong) ceil (days)), number);
}

static void
add_cure (GString      *text,
          const WbCure *cure)
{
  g_autofree char *burn = cure != NULL && !isnan (cure->burn_days) ? dup_days (cure->burn_days) : NULL;
  g_autofree char *smell = cure != NULL && !isnan (cure->smell_days) ? dup_days (cure->smell_days) : NULL;

  if (burn != NULL && smell != NULL)
    add (text, g_strdup_printf (/* Translators: "7 days", "14 days". */ _("Cure: fit to burn after %s, fit to smell after %s."), burn, smell));
  else if (burn != NULL)
    add (text, g_strdup_printf (_("Cure: fit to burn after %s."), burn));
  else if (smell != NULL)
    add (text, g_strdup_printf (_("Cure: fit to smell after %s."), smell));
  else
    add (text, g_strdup (_("Cure as the supplier's data sheet says.")));
}

/* The step's own sentences. */
static void
add_kind (GString                 *text,
          const WbBatchStep       *step,
          const WbCraftBatchSheet *sheet,
          const WbCure            *cure,
          gboolean                 us_units)
{
  switch ((WbStepKind) step->kind)
    {
    case WB_STEP_PREHEAT:
      add_at (text, step->to_c, us_units, _("Warm the vessels to {}, slowly."), _("Warm the vessels, slowly."));
      break;
    case WB_STEP_HEAT:
      add_at (text, step->to_c, us_units, _("Heat the wax to {}, no further."), _("Heat the wax as its supplier's data sheet says, no further."));
      break;
    case WB_STEP_DYE:
      add_dye (text, sheet, us_units);
      break;
    case WB_STEP_FRAGRANCE:
      add_fragrance (text, step, sheet, us_units);
      break;
    case WB_STEP_STIR:
      add (text, g_strdup (_("Stir slowly until it is even, without beating air in.")));
      break;
    case WB_STEP_COOL:
      add_at (text, step->to_c, us_units, _("Let the melt come down to {}."), _("Let the melt come down to where it is poured."));
      break;
    case WB_STEP_POUR:
      add_pour (text, step, sheet, us_units);
      break;
    case WB_STEP_INSULATE:
      add (text, g_strdup (_("Cover the vessels and let them cool slowly, out of the draught.")));
      break;
    case WB_STEP_PIERCE:
      add (text, g_strdup (_("Pierce the skin beside the wick while the middle is still soft, so that trapped air leaves.")));
      break;
    case WB_STEP_TOP_UP:
      add_top_up (text, step, sheet, us_units);
      break;
    case WB_STEP_TURN_OVER:
      add (text, g_strdup (_("Turn the candle over, as written in this wax's method.")));
      break;
    case WB_STEP_SET:
      add (text, g_strdup (_("Leave them where they stand, unmoved, until they have set right through.")));
      break;
    case WB_STEP_CURE:
      add_cure (text, cure);
      break;
    case WB_STEP_OTHER:
    default:
      break;
    }
}

char *
wb_craft_method_dup_words (const WbBatchStep       *step,
                           const WbCraftBatchSheet *sheet,
                           const WbCure            *cure,
                           gboolean                 us_units)
{
  GString *text = g_string_new (NULL);

  g_return_val_if_fail (step != NULL, g_string_free (text, FALSE));

  add_kind (text, step, sheet, cure, us_units);
  if (step->note != NULL && *step->note != '\0')
    add (text, g_strdup (step->note));
  return g_string_free (text, FALSE);
}

/* ---- Where it left the plan ---- */

static void
tell_temperature (GPtrArray         *lines,
                  const WbBatchStep *step,
                  gboolean           us_units)
{
  g_autofree char *is = NULL, *planned = NULL;

  if (!(fabs (step->actual_c - step->to_c) > WB_CRAFT_METHOD_BAND_K))
    return;
  is = dup_temperature (step->actual_c, us_units);
  planned = dup_temperature (step->to_c, us_units);
  /* Translators: a step of the pour; a temperature, and the one that was planned. */
  g_ptr_array_add (lines, g_strdup_printf (_("%s: %s, planned %s"), _(wb_step_words[step->kind].label), is, planned));
}

static void
tell_flash_point (GPtrArray         *lines,
                  const GPtrArray   *steps,
                  guint              at,
                  const WbFragrance *fragrance,
                  gboolean           us_units)
{
  const WbBatchStep *step = steps->pdata[at];
  g_autofree char *is = NULL, *flash = NULL;

  if (!is_at_flash_point (steps, at, fragrance))
    return;
  is = dup_temperature (step->actual_c, us_units);
  flash = dup_temperature (fragrance->flash_c, us_units);
  /* Translators: a step of the pour; a temperature, and that of the flash point. */
  g_ptr_array_add (lines, g_strdup_printf (_("%s: %s, at or above the flash point of the oil, %s"), _(wb_step_words[step->kind].label), is, flash));
}

static void
tell_time (GPtrArray         *lines,
           const WbBatchStep *before,
           const WbBatchStep *step)
{
  double took_min, off;

  if (before == NULL || !before->done_at.known || !step->done_at.known || !(step->minutes > 0))
    return;
  took_min = (step->done_at.utc_us - before->done_at.utc_us) / (60.0 * G_USEC_PER_SEC);
  off = fabs (took_min - step->minutes);
  if (off > fmax (5, step->minutes * WB_CRAFT_METHOD_LATE_SHARE))
    {
      g_autofree char *took = wb_number_format (took_min, 0, NULL);
      g_autofree char *planned = wb_number_format_trimmed (step->minutes, 1, NULL);

      g_ptr_array_add (lines, g_strdup_printf (_("%s: after %s min, planned %s min"), _(wb_step_words[step->kind].label), took, planned));
    }
}

GPtrArray *
wb_craft_method_deviations (const GPtrArray   *steps,
                            const WbFragrance *fragrance,
                            gboolean           us_units)
{
  GPtrArray *lines = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; steps != NULL && i < steps->len; i++)
    {
      const WbBatchStep *step = steps->pdata[i];

      tell_temperature (lines, step, us_units);
      tell_flash_point (lines, steps, i, fragrance, us_units);
      tell_time (lines, i > 0 ? steps->pdata[i - 1] : NULL, step);
    }
  return lines;
}

GPtrArray *
wb_craft_method_find_disorder (const GPtrArray *steps)
{
  GPtrArray *lines = g_ptr_array_new_with_free_func (g_free);
  const WbBatchStep *last = NULL;

  for (guint i = 0; steps != NULL && i < steps->len; i++)
    {
      const WbBatchStep *step = steps->pdata[i];

      if (!step->done_at.known)
        continue;
      if (last != NULL && step->done_at.utc_us <= last->done_at.utc_us - G_TIME_SPAN_MINUTE)
        {
          g_autofree char *title = wb_craft_method_dup_title (step->kind), *before = wb_craft_method_dup_title (last->kind);
          g_autofree char *at = wb_instant_format_short (step->done_at), *at_before = wb_instant_format_short (last->done_at);

          /* Translators: a step of the pour and when it was done; the same of one that comes before it. */
          g_ptr_array_add (lines, g_strdup_printf (_("%s: done %s, before %s, done %s"), title, at, before, at_before));
        }
      else
        last = step;
    }
  return lines;
}
