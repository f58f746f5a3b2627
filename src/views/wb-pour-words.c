/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-pour-words.h"

#include "wb-clock.h"

#include <glib/gi18n.h>
#include <math.h>

static const char *const cautions[WB_POUR_N_STEPS] = {
  [WB_POUR_STEP_WEIGH] = N_("Undiluted fragrance oil: goggles and gloves, and air the room."),
  [WB_POUR_STEP_HEAT] = N_("Melt over a thermostat or in a double boiler, with a thermometer in it, and never leave it. Wax that smokes is "
                           "overheated: switch the heat off, and no lid on it. Water never on burning wax: smother the flames, or a dry-chemical or "
                           "CO2 extinguisher; if they do not go out, leave and call the fire service."),
  [WB_POUR_STEP_SCENT] = N_("Air the room. Goggles and gloves while the oil goes in; no flame and no spark near the open pot."),
  [WB_POUR_STEP_POUR] = N_("A level surface that heat does not harm, children and pets out. Hot wax on the skin: cool it under cool running "
                           "water at once, then get medical advice. Nothing down the drain."),
  [WB_POUR_STEP_SECOND] = N_("The rest of the melt is heated as before: thermostat or double boiler, thermometer, never left."),
};

const char *
wb_pour_words_get_caution (WbPourStep step)
{
  g_return_val_if_fail (step < WB_POUR_N_STEPS, NULL);
  return cautions[step] != NULL ? _(cautions[step]) : NULL;
}

char *
wb_pour_words_dup_mass (double   g,
                        gboolean us_units)
{
  /* Masses of a sheet stand on the balance's steps: four places show any of them whole. */
  g_autofree char *number = wb_number_format_trimmed (g, 4, NULL);
  g_autofree char *ounces = NULL;

  if (!us_units)
    return g_strdup_printf ("%s\302\240g", number);
  ounces = wb_quantity_format (WB_UNIT_OZ, g, -1);
  return g_strdup_printf ("%s\302\240g (%s)", number, ounces);
}

static char *
dup_temperature (double   celsius,
                 gboolean us_units)
{
  return wb_quantity_format (wb_quantity_get_shown_unit (WB_QUANTITY_TEMPERATURE, us_units), celsius, 0);
}

static void
add (GString *text,
     char    *sentence)
{
  if (text->len > 0)
    g_string_append_c (text, '\n');
  g_string_append (text, sentence);
  g_free (sentence);
}

static char *
finish (GString *text)
{
  if (text->len > 0)
    return g_string_free (text, FALSE);
  g_string_free (text, TRUE);
  return NULL;
}

static char *
dup_heat (const WbAppPourBatch *batch,
          const WbWax          *wax,
          gboolean              us_units)
{
  const WbCraftBatchSheet *sheet = batch->sheet;
  GString *text = g_string_new (NULL);

  if (isnan (wax->heat_c))
    add (text, g_strdup (_("Heat the wax as its supplier says; its materials page states no temperature.")));
  else
    {
      g_autofree char *heat = dup_temperature (wax->heat_c, us_units);

      add (text, g_strdup_printf (_("Heat the wax to %s."), heat));
    }
  if (!isnan (sheet->additive_g))
    {
      g_autofree char *mass = wb_pour_words_dup_mass (sheet->additive_g, us_units);

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
  return finish (text);
}

static char *
dup_scent (const WbAppPourBatch *batch,
           const WbWax          *wax,
           gboolean              us_units)
{
  g_autofree char *mass = NULL;
  g_autofree char *at = NULL;

  if (!(batch->sheet->oil_g > 0))
    return NULL;
  mass = wb_pour_words_dup_mass (batch->sheet->oil_g, us_units);
  if (isnan (wax->add_c))
    return g_strdup_printf (_("Stir in %s of fragrance oil."), mass);
  at = dup_temperature (wax->add_c, us_units);
  return g_strdup_printf (_("At %s stir in %s of fragrance oil."), at, mass);
}

static char *
dup_pour (const WbAppPourBatch *batch,
          const WbWax          *wax,
          gboolean              us_units)
{
  const WbCraftBatchSheet *sheet = batch->sheet;
  gboolean two = sheet->hold_back_g > 0;
  GString *text = g_string_new (NULL);

  if (!isnan (wax->pour_c))
    {
      g_autofree char *at = dup_temperature (wax->pour_c, us_units);

      add (text, g_strdup_printf (_("Pour at %s."), at));
    }
  for (guint i = 0; i < batch->lines->len; i++)
    {
      const WbAppPourLine *line = &g_array_index (batch->lines, WbAppPourLine, i);
      g_autofree char *vessel = wb_material_dup_title (line->vessel);
      g_autofree char *mass = wb_pour_words_dup_mass (g_array_index (sheet->fills, WbCraftBatchFill, i).first_g, us_units);

      /* Translators: "6 × Tern, 76 mm: 315.0 g each". */
      add (text, g_strdup_printf (_("%u × %s: %s each"), line->candles, vessel, mass));
    }
  if (two)
    {
      g_autofree char *kept = wb_pour_words_dup_mass (sheet->hold_back_g, us_units);

      add (text, g_strdup_printf (_("Keep %s in the pot for the second pour."), kept));
    }
  if (wax->crystallises)
    add (text, g_strdup (_("This wax crystallises: warm the vessels first, and let them cool slowly, insulated.")));
  return finish (text);
}

static char *
dup_second (const WbAppPourBatch *batch,
            const WbWax          *wax,
            gboolean              us_units)
{
  if (batch->sheet->hold_back_g > 0)
    {
      g_autofree char *kept = wb_pour_words_dup_mass (batch->sheet->hold_back_g, us_units);

      return g_strdup_printf (_("When the top has set, pierce it beside the wick so that trapped air can leave, and top up from the %s "
                                "that were kept."), kept);
    }
  if (wax->crystallises)
    return g_strdup (_("When the top has set, pierce it beside the wick so that trapped air can leave. Nothing is kept for topping up: enter a "
                       "share for the second pour if it is wanted."));
  return NULL;
}

static char *
dup_cure_from_today (const WbAppPourBatch *batch,
                     const WbWax          *wax)
{
  WbCure cure = wb_cure_of (NULL, batch->fragrance, wax);

  return wb_pour_words_dup_cure (&cure, wb_instant_get_day (wb_clock_now (wb_clock_get ())));
}

char *
wb_pour_words_dup_step (WbPourStep            step,
                        const WbAppPourBatch *batch,
                        const WbWax          *wax,
                        gboolean              us_units)
{
  g_return_val_if_fail (batch != NULL && batch->sheet != NULL && wax != NULL, NULL);

  switch (step)
    {
    case WB_POUR_STEP_HEAT:
      return dup_heat (batch, wax, us_units);
    case WB_POUR_STEP_SCENT:
      return dup_scent (batch, wax, us_units);
    case WB_POUR_STEP_POUR:
      return dup_pour (batch, wax, us_units);
    case WB_POUR_STEP_SECOND:
      return dup_second (batch, wax, us_units);
    case WB_POUR_STEP_CURE:
      return dup_cure_from_today (batch, wax);
    case WB_POUR_STEP_WEIGH:
    case WB_POUR_N_STEPS:
    default:
      return NULL;
    }
}

static WbPourStep
step_of (WbCraftWarningKind kind)
{
  return kind == WB_CRAFT_WARN_FLASH ? WB_POUR_STEP_SCENT : WB_POUR_STEP_WEIGH;
}

char *
wb_pour_words_dup_warning (WbPourStep               step,
                           const WbCraftBatchSheet *sheet)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < sheet->warnings->len; i++)
    {
      const WbCraftWarning *warning = sheet->warnings->pdata[i];

      if (step_of (warning->kind) == step)
        add (text, g_strdup_printf ("▲ %s", warning->text));
    }
  return finish (text);
}

/* "7 days", and the day after so many. */
static void
count_days (WbDay    poured_on,
            double   days,
            char   **wait,
            char   **date)
{
  g_autofree char *number = wb_number_format_trimmed (days, 1, NULL);

  *wait = g_strdup_printf (ngettext ("%s day", "%s days", (gulong) ceil (days)), number);
  *date = wb_day_format_local (wb_cure_get_day (poured_on, days));
}

char *
wb_pour_words_dup_cure (const WbCure *cure,
                        WbDay         poured_on)
{
  GString *text = g_string_new (NULL);
  g_autofree char *burn_wait = NULL, *burn_date = NULL, *smell_wait = NULL, *smell_date = NULL;

  if (!isnan (cure->burn_days))
    {
      count_days (poured_on, cure->burn_days, &burn_wait, &burn_date);
      add (text, g_strdup_printf (_("Fit to burn on %s, after %s."), burn_date, burn_wait));
    }
  if (!isnan (cure->smell_days))
    {
      count_days (poured_on, cure->smell_days, &smell_wait, &smell_date);
      add (text, g_strdup_printf (_("Fit to smell on %s, after %s."), smell_date, smell_wait));
    }
  if (text->len == 0)
    add (text, g_strdup (_("The wax states no cure: enter it under Materials.")));
  return finish (text);
}
