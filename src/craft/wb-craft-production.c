/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-production.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static void
melt_clear (gpointer data)
{
  wb_craft_batch_sheet_free (((WbCraftMelt *) data)->sheet);
}

static WbCraftBatchSheet *
make_sheet (const WbCraftBatchInput *one,
            guint                    candles,
            GError                 **error)
{
  WbCraftBatchLine line = one->lines[0];
  WbCraftBatchInput input = *one;

  line.candles = candles;
  input.lines = &line;
  input.n_lines = 1;
  return wb_craft_batch_sheet_new (&input, error);
}

/* The most candles, up to `most`, whose melt the pot holds: a melt grows with its candles. 0: not one; -1 with an error. */
static int
find_most (const WbCraftBatchInput *one,
           guint                    most,
           double                   pot_g,
           GError                 **error)
{
  guint low = 0, high = most;

  while (low < high)
    {
      guint middle = low + (high - low + 1) / 2;
      g_autoptr (WbCraftBatchSheet) sheet = make_sheet (one, middle, error);

      if (sheet == NULL)
        return -1;
      if (sheet->total_g <= pot_g)
        low = middle;
      else
        high = middle - 1;
    }
  return (int) low;
}

/* Masses of a kind are of all melts or of none. */
static double
add (double sum,
     double g)
{
  return isnan (g) ? sum : isnan (sum) ? g : sum + g;
}

static gboolean
add_melts (WbCraftProduction       *self,
           const WbCraftBatchInput *one,
           guint                    n,
           GError                 **error)
{
  for (guint i = 0; i < n; i++)
    {
      guint candles = self->vessels / n + (i < self->vessels % n);
      WbCraftMelt melt = { candles, make_sheet (one, candles, error) };

      if (melt.sheet == NULL)
        return FALSE;
      g_array_append_val (self->melts, melt);
      self->total_g += melt.sheet->total_g;
      self->wax_g += melt.sheet->wax_g;
      self->oil_g += melt.sheet->oil_g;
      self->dye_g = add (self->dye_g, melt.sheet->dye_g);
      self->dye_drops = add (self->dye_drops, melt.sheet->dye_drops);
      self->additive_g = add (self->additive_g, melt.sheet->additive_g);
    }
  return TRUE;
}

static gboolean
check_numbers (guint    vessels,
               double   pot_g,
               GError **error)
{
  if (vessels < 1 || vessels > WB_CRAFT_PRODUCTION_MOST_VESSELS)
    {
      g_set_error (error, WB_RECORD_ERROR, WB_RECORD_ERROR_RANGE, _("Number of vessels: 1 to %d is accepted"), WB_CRAFT_PRODUCTION_MOST_VESSELS);
      return FALSE;
    }
  if (!isnan (pot_g) && !(pot_g > 0 && isfinite (pot_g)))
    {
      g_set_error_literal (error, WB_RECORD_ERROR, WB_RECORD_ERROR_RANGE, _("What the pot holds: more than 0 g is accepted"));
      return FALSE;
    }
  return TRUE;
}

WbCraftProduction *
wb_craft_production_new (const WbCraftBatchInput *one,
                         guint                    vessels,
                         double                   pot_g,
                         GError                 **error)
{
  g_autoptr (WbCraftProduction) self = NULL;
  int most, small = 0;
  guint melts;

  g_return_val_if_fail (one != NULL && one->n_lines == 1, NULL);

  if (!check_numbers (vessels, pot_g, error))
    return NULL;
  most = isnan (pot_g) ? (int) vessels : find_most (one, vessels, pot_g, error);
  if (isnan (pot_g))
    small = find_most (one, vessels, WB_CRAFT_PRODUCTION_POT_G, error);
  if (most < 0 || small < 0)
    return NULL;
  if (most == 0)
    {
      g_set_error_literal (error, WB_RECORD_ERROR, WB_RECORD_ERROR_RANGE, _("The pot holds less than one candle takes, with what stays in the pot."));
      return NULL;
    }
  melts = (vessels + (guint) most - 1) / (guint) most;
  if (melts > WB_CRAFT_PRODUCTION_MOST_MELTS)
    {
      g_set_error (error, WB_RECORD_ERROR, WB_RECORD_ERROR_RANGE, _("That would be %u melts; a sheet holds %d. Take fewer vessels, or a larger pot."),
                   melts, WB_CRAFT_PRODUCTION_MOST_MELTS);
      return NULL;
    }
  self = g_new0 (WbCraftProduction, 1);
  self->vessels = vessels;
  self->pot_g = pot_g;
  self->small_melts = small > 0 ? (vessels + (guint) small - 1) / (guint) small : 0;
  self->melts = g_array_new (FALSE, FALSE, sizeof (WbCraftMelt));
  g_array_set_clear_func (self->melts, melt_clear);
  self->dye_g = self->dye_drops = self->additive_g = NAN;
  return add_melts (self, one, melts, error) ? g_steal_pointer (&self) : NULL;
}

void
wb_craft_production_free (WbCraftProduction *self)
{
  if (self == NULL)
    return;
  g_array_unref (self->melts);
  g_free (self);
}

guint
wb_craft_production_count_alike (const WbCraftProduction *self,
                                 guint                    first)
{
  guint n = 0;

  g_return_val_if_fail (self != NULL, 0);

  while (first + n < self->melts->len
         && g_array_index (self->melts, WbCraftMelt, first + n).candles == g_array_index (self->melts, WbCraftMelt, first).candles)
    n++;
  return n;
}

char *
wb_craft_production_dup_melts (const WbCraftProduction *self)
{
  guint n, larger, candles;
  g_autofree char *first = NULL, *second = NULL;

  g_return_val_if_fail (self != NULL, NULL);

  n = self->melts->len;
  larger = self->vessels % n;
  candles = self->vessels / n;
  if (n == 1)
    return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "One melt of %u candle", "One melt of %u candles", candles), candles);
  if (larger == 0)
    return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u melts of %u candle each", "%u melts of %u candles each", candles), n, candles);
  /* Translators: so many melts of so many candles; stands twice in "3 melts: 1 of 18 candles, 2 of 17 candles". */
  first = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u of %u candle", "%u of %u candles", candles + 1), larger, candles + 1);
  second = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u of %u candle", "%u of %u candles", candles), n - larger, candles);
  return g_strdup_printf (_("%u melts: %s, %s"), n, first, second);
}

char *
wb_craft_production_dup_pot_doubt (const WbCraftProduction *self,
                                   gboolean                 us_units)
{
  WbUnit unit = wb_quantity_get_shown_unit (WB_QUANTITY_MASS, us_units);
  g_autofree char *all = NULL, *pot = NULL, *first = NULL;

  g_return_val_if_fail (self != NULL, NULL);

  if (!isnan (self->pot_g) || !(self->total_g > WB_CRAFT_PRODUCTION_POT_G))
    return NULL;
  all = wb_quantity_format (unit, self->total_g, -1);
  pot = wb_quantity_format (unit, WB_CRAFT_PRODUCTION_POT_G, 0);
  first = g_strdup_printf (/* Translators: a mass. */ _("What the pot holds was not told, so that all %s stand as one melt. Nobody melts, stirs or carries so much in one pot "
                                                        "that is not made for it. Make this sheet anew and tell what your pot holds, with room left to stir."), all);
  if (self->small_melts < 2)
    return g_steal_pointer (&first);
  /* Translators: sentences; what a pot holds; how many melts. */
  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s In a pot for %s it would be %u melt.", "%s In a pot for %s it would be %u melts.", self->small_melts),
                          first, pot, self->small_melts);
}
