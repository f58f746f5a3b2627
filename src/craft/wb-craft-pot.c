/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-pot.h"

#include "wb-quantity.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static void
free_line (gpointer data)
{
  WbCraftPotLine *line = data;

  g_free (line->text);
  g_free (line);
}

/* Takes the text. */
static void
tell (GPtrArray      *lines,
      WbCraftPotKind  kind,
      char           *text)
{
  WbCraftPotLine *line = g_new (WbCraftPotLine, 1);

  line->kind = kind;
  line->text = text;
  g_ptr_array_add (lines, line);
}

static char *
per_cent (double value)
{
  g_autofree char *number = wb_number_format_trimmed (value, 2, NULL);

  return g_strconcat (number, "\302\240%", NULL);
}

/* Neither known: NAN compares as false. */
static gboolean
is_off (double is,
        double meant)
{
  return meant > 0 && fabs (is - meant) > WB_CRAFT_POT_OFF_SHARE * meant;
}

/* By the figures as they are printed: "10 %, more than 10 %" helps nobody. */
static gboolean
is_over (double is_pct,
         double most_pct)
{
  return round (is_pct * 100) > round (most_pct * 100);
}

static void
tell_mass (GPtrArray     *lines,
           WbCraftPotKind kind,
           const char    *field,
           double         weighed_g,
           double         planned_g,
           gboolean       us_units)
{
  WbUnit unit = wb_quantity_get_shown_unit (WB_QUANTITY_MASS, us_units);
  g_autofree char *weighed = NULL, *planned = NULL;

  if (!is_off (weighed_g, planned_g))
    return;
  weighed = wb_quantity_format (unit, weighed_g, -1);
  planned = wb_quantity_format (unit, planned_g, -1);
  /* Translators: "Fragrance oil, weighed"; a mass, and the one that was planned. */
  tell (lines, kind, g_strdup_printf (_("%s: %s, planned %s"), g_dgettext (GETTEXT_PACKAGE, wb_record_type_find_field (&wb_batch_type, field)->label),
                                      weighed, planned));
}

/* What the load is reckoned from. */
static const char *
get_load_words (const WbBatch *batch)
{
  if (isnan (batch->actual_wax_g))
    return _("Load by the oil as weighed and the wax as planned");
  return isnan (batch->actual_oil_g) ? _("Load by the wax as weighed and the oil as planned") : _("Load as weighed");
}

static char *
dup_load (double  pct,
          WbBasis basis)
{
  g_autofree char *is = per_cent (pct);

  return g_strdup_printf (basis == WB_BASIS_TOTAL ? _("%s of the total") : _("%s of the wax"), is);
}

static void
tell_load (GPtrArray         *lines,
           const WbBatch     *batch,
           const WbWax       *wax,
           const WbFragrance *fragrance)
{
  double wax_g = isnan (batch->actual_wax_g) ? batch->wax_g : batch->actual_wax_g;
  double oil_g = isnan (batch->actual_oil_g) ? batch->oil_g : batch->actual_oil_g;
  double additive_g = isnan (batch->additive_g) ? 0 : batch->additive_g;
  double of_wax = 100 * oil_g / wax_g, of_total = 100 * oil_g / (wax_g + oil_g + additive_g);
  double planned = batch->load_basis == WB_BASIS_TOTAL ? of_total : of_wax;
  double held = wax != NULL && wax->max_load_basis == WB_BASIS_TOTAL ? of_total : of_wax;
  const char *words = get_load_words (batch);

  if (!(wax_g > 0) || !(oil_g > 0))
    return;
  /* of one that was not weighed its mass says the same */
  if (!isnan (batch->actual_wax_g) && !isnan (batch->actual_oil_g) && is_off (planned, batch->load_pct))
    {
      g_autofree char *is = dup_load (planned, batch->load_basis), *meant = per_cent (batch->load_pct);

      /* Translators: "Load as weighed"; "15 % of the wax"; per cent. */
      tell (lines, WB_CRAFT_POT_LOAD, g_strdup_printf (_("%s: %s, planned %s"), words, is, meant));
    }
  if (wax != NULL && is_over (held, wax->max_load_pct))
    {
      g_autofree char *is = dup_load (held, wax->max_load_basis), *most = per_cent (wax->max_load_pct);

      /* Translators: "Load as weighed"; "15 % of the wax"; per cent. */
      tell (lines, WB_CRAFT_POT_MOST, g_strdup_printf (_("%s: %s, more than this wax holds by its supplier, %s"), words, is, most));
    }
  if (fragrance != NULL && is_over (of_total, fragrance->ifra_limit_pct))
    {
      g_autofree char *is = dup_load (of_total, WB_BASIS_TOTAL), *limit = per_cent (fragrance->ifra_limit_pct);

      /* Translators: "Load as weighed"; "13 % of the total"; per cent. */
      tell (lines, WB_CRAFT_POT_IFRA, g_strdup_printf (_("%s: %s, over its IFRA limit for category 12, %s of the finished candle"), words, is, limit));
    }
}

GPtrArray *
wb_craft_pot_find (const WbBatch     *batch,
                   const WbWax       *wax,
                   const WbFragrance *fragrance,
                   gboolean           us_units)
{
  GPtrArray *lines = g_ptr_array_new_with_free_func (free_line);

  g_return_val_if_fail (batch != NULL, lines);

  if (isnan (batch->actual_wax_g) && isnan (batch->actual_oil_g))
    return lines;
  tell_mass (lines, WB_CRAFT_POT_WAX, "actual_wax_g", batch->actual_wax_g, batch->wax_g, us_units);
  tell_mass (lines, WB_CRAFT_POT_OIL, "actual_oil_g", batch->actual_oil_g, batch->oil_g, us_units);
  tell_load (lines, batch, wax, fragrance);
  return lines;
}
