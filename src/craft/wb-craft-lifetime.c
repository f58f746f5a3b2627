/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-lifetime.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-craft-fill.h"
#include "wb-craft-vessel-private.h"
#include "wb-craft-wax-private.h"
#include "wb-quantity.h"

#define USUAL_DENSITY 0.88 /* g/cm3, between paraffin and soy, where the wax's own is not recorded; common practice, no source */
#define SLACK 1e-9         /* of a burn: what rounding adds is no further one */

static const WbCraftLifetime unknown = {
  .pace = WB_CRAFT_PACE_NONE, .g_per_h = NAN, .fill_g = NAN, .end_mm = NAN, .burn_s = NAN, .burns = NAN, .grams = NAN, .hours = NAN,
  .burns_left = NAN, .burns_left_low = NAN, .burns_left_high = NAN, .grams_left = NAN,
};

static double
density_of (const WbWax *wax)
{
  return wax != NULL && wax->density > 0 ? wax->density : USUAL_DENSITY;
}

/* Share of the fill that stays at the protocol's end. */
static double
find_residue (const WbVessel   *vessel,
              const WbProtocol *protocol,
              double            height_mm)
{
  if (protocol->end_rule != WB_END_RESIDUE || !(protocol->end_residue_mm > 0))
    return 0;
  return wb_craft_vessel_volume_below (vessel, fmin (protocol->end_residue_mm / height_mm, 1));
}

/* Whole burns of so many grams each; NAN where either is not known. */
static double
count_burns (double grams,
             double per_burn_g)
{
  if (!(per_burn_g > 0) || isnan (grams))
    return NAN;
  return ceil (fmax (grams, 0) / per_burn_g - SLACK);
}

static void
take_protocol (const WbProtocol *protocol,
               WbCraftLifetime  *self)
{
  self->end_rule = protocol->end_rule;
  self->end_mm = protocol->end_rule == WB_END_RESIDUE ? protocol->end_residue_mm : NAN;
  self->burn_s = protocol->burn_s;
}

/* Burns until nothing but the residue is left, at so many g/h; of a test of a number of burns no more than these. */
static double
find_left (const WbCraftLifetime *self,
           const WbProtocol      *protocol,
           double                 g_per_h)
{
  double burns = count_burns (self->grams_left, g_per_h * self->burn_s / 3600);

  if (protocol->end_rule != WB_END_BURNS || protocol->end_burns <= 0)
    return burns;
  /* where the wax is not known the number stands */
  return fmin (burns, fmax ((double) protocol->end_burns - self->burns_done, 0));
}

/* From grams_left, burns_done, g_per_h. */
static void
fill_left (WbCraftLifetime  *self,
           const WbProtocol *protocol,
           guint             wicks)
{
  gboolean usual = self->pace == WB_CRAFT_PACE_USUAL;

  self->burns_left = find_left (self, protocol, self->g_per_h);
  self->burns_left_low = usual ? find_left (self, protocol, WB_CRAFT_USUAL_HIGH_G_PER_H * wicks) : self->burns_left;
  self->burns_left_high = usual ? find_left (self, protocol, WB_CRAFT_USUAL_LOW_G_PER_H * wicks) : self->burns_left;
  if (protocol->end_rule == WB_END_BURNS)
    self->grams_left = fmin (self->grams_left, self->burns_left * self->g_per_h * self->burn_s / 3600);
}

void
wb_craft_lifetime_foretell (const WbCraftLifetimeBasis *basis,
                            WbCraftLifetime            *self)
{
  guint wicks;
  double height;

  g_return_if_fail (basis != NULL && self != NULL);

  *self = unknown;
  if (basis->protocol == NULL)
    return;
  wicks = MAX (basis->wicks, 1);
  take_protocol (basis->protocol, self);
  self->fill_g = basis->fill_g > 0 || basis->vessel == NULL ? basis->fill_g
                 : wb_craft_fill_of (basis->vessel, NULL).volume_cm3 * density_of (basis->wax);
  if (!(self->burn_s > 0) || (!(self->fill_g > 0) && self->end_rule != WB_END_BURNS))
    return;
  self->pace = basis->g_per_h > 0 ? WB_CRAFT_PACE_GIVEN : WB_CRAFT_PACE_USUAL;
  self->g_per_h = basis->g_per_h > 0 ? basis->g_per_h : WB_CRAFT_USUAL_G_PER_H * wicks;
  height = basis->height_mm > 0 ? basis->height_mm : basis->vessel != NULL ? basis->vessel->wax_height_mm : NAN;
  if (basis->vessel != NULL && !(height > 0))
    height = wb_craft_vessel_height_mm (basis->vessel, density_of (basis->wax), self->fill_g);
  self->grams_left = self->fill_g;
  if (self->end_rule == WB_END_RESIDUE)
    self->grams_left *= basis->vessel != NULL && height > 0 ? 1 - find_residue (basis->vessel, basis->protocol, height) : NAN;
  fill_left (self, basis->protocol, wicks);
  self->burns = self->burns_left;
  self->grams = self->grams_left;
  self->hours = self->grams / self->g_per_h;
  if (isnan (self->burns))
    self->pace = WB_CRAFT_PACE_NONE;
}

/* What the burn that is alight still takes until its length is reached, g. */
static double
find_tonight_g (const WbCraftWax      *wax,
                const WbCraftLifetime *self)
{
  return self->g_per_h * fmax (self->burn_s / 3600 - fmax (wax->burns[wax->n - 1].alight_min, 0) / 60, 0);
}

/* As recorded or weighed, else what fills the vessel to its line. */
static void
find_fill (const WbDataset *data,
           guint            sample,
           WbCraftWax      *wax)
{
  double density = density_of (data->wax);

  if (wax->n == 0 && !(wb_dataset_get_sample (data, sample)->fill_g > 0))
    {
      double full = wb_craft_fill_of (wax->vessel, NULL).volume_cm3 * density;

      wax->fill_g = full > 0 ? full : wax->fill_g;
    }
  if (!(wax->height_mm > 0))
    wax->height_mm = wb_craft_vessel_height_mm (wax->vessel, density, wax->fill_g);
}

void
wb_craft_lifetime_of_sample (const WbDataset      *data,
                             const WbCraftFigures *figures,
                             guint                 sample,
                             WbCraftLifetime      *self)
{
  const WbSample *record;
  gboolean alight;
  WbCraftWax wax;
  guint wicks;
  double left;

  g_return_if_fail (data != NULL && figures != NULL && self != NULL);
  g_return_if_fail (sample < figures->n_samples);

  *self = unknown;
  record = wb_dataset_get_sample (data, sample);
  wicks = (guint) MAX (wb_dataset_get_cell (data, g_array_index (data->sample_cell, guint, sample))->wick_count, 1);
  wax = wb_craft_wax_find (data, figures, sample);
  alight = wax.n > 0 && wax.burns[wax.n - 1].alight;
  self->burns_done = wax.n;
  self->alight = alight;
  self->ended = !alight && (figures->ended[sample] || record->set_aside_cause >= 0 || record->set_aside != NULL || record->retained);
  if (data->protocol == NULL)
    return;
  take_protocol (data->protocol, self);
  find_fill (data, sample, &wax);
  self->fill_g = wax.fill_g > 0 ? wax.fill_g : NAN;
  self->g_per_h = wb_craft_wax_find_pace (data, figures, sample, WB_CRAFT_USUAL_G_PER_H, &self->pace);
  left = wb_craft_wax_find_left (figures, sample, &wax, self->g_per_h) - find_residue (wax.vessel, data->protocol, wax.height_mm);
  self->grams_left = fmax (left * self->fill_g - (alight ? find_tonight_g (&wax, self) : 0), 0);
  if (isnan (left) || isnan (self->fill_g))
    self->grams_left = NAN;
  fill_left (self, data->protocol, wicks);
  if (self->ended)
    self->burns_left = self->burns_left_low = self->burns_left_high = self->grams_left = 0;
  else if (!alight && self->burns_left < 1)
    self->burns_left = self->burns_left_low = self->burns_left_high = 1;
  self->burns = self->burns_done + self->burns_left;
  self->grams = fmax (1 - wb_craft_wax_find_left (figures, sample, &wax, self->g_per_h), 0) * self->fill_g + self->grams_left;
  self->hours = self->grams / self->g_per_h;
  if (isnan (self->burns_left))
    self->pace = WB_CRAFT_PACE_NONE;
}

static const char *
pace_words (WbCraftPace pace)
{
  switch (pace)
    {
    case WB_CRAFT_PACE_SAMPLE:
      return _("what it lost so far");
    case WB_CRAFT_PACE_CELL:
      return _("what others of its combination lost");
    case WB_CRAFT_PACE_GIVEN:
      return _("as foretold");
    case WB_CRAFT_PACE_USUAL:
      return _("the middle of the usual 3 to 7 g/h a wick, by common practice: nothing was weighed yet");
    case WB_CRAFT_PACE_NONE:
    default:
      return "";
    }
}

static char *
dup_end (const WbCraftLifetime *self,
         gboolean               us_units)
{
  g_autofree char *residue = NULL;

  switch (self->end_rule)
    {
    case WB_END_BURNS:
      return g_strdup (_("as the protocol says"));
    case WB_END_SELF:
      return g_strdup (_("until it goes out by itself"));
    case WB_END_RESIDUE:
    default:
      residue = wb_quantity_format (wb_quantity_get_shown_unit (WB_QUANTITY_LENGTH, us_units), self->end_mm, us_units ? 2 : 0);
      /* Translators: a height of wax. */
      return g_strdup_printf (_("until %s of wax are left"), residue);
    }
}

char *
wb_craft_lifetime_dup_words (const WbCraftLifetime *self,
                             gboolean               us_units)
{
  g_autoptr (GString) words = g_string_new (NULL);
  g_autofree char *length = NULL, *end = NULL, *grams = NULL, *rate = NULL;
  guint burns, done;

  g_return_val_if_fail (self != NULL, NULL);

  if (self->ended)
    return g_strdup_printf (ngettext ("%u burn done, none left.", "%u burns done, none left.", self->burns_done), self->burns_done);
  if (self->pace == WB_CRAFT_PACE_NONE)
    return g_strdup (_("How many burns it lives is not known: neither the mass nor the height of its fill is recorded."));
  length = wb_quantity_format_duration (self->burn_s);
  end = dup_end (self, us_units);
  burns = (guint) self->burns;
  done = self->burns_done - (self->alight ? 1 : 0);
  if (done > 0)
    /* Translators: burns done, of how many, a duration, "until 10 mm of wax are left". */
    g_string_append_printf (words, _("%u of about %u burns of %s done %s"), done, burns, length, end);
  else
    /* Translators: a number, a duration, "until 10 mm of wax are left". */
    g_string_append_printf (words, ngettext ("About %u burn of %s %s", "About %u burns of %s %s", burns), burns, length, end);
  if (self->burns_left_low < self->burns_left_high)
    /* Translators: the least and the most burns that are left. */
    g_string_append_printf (words, _(" (%.0f to %.0f)"), self->burns_done + self->burns_left_low, self->burns_done + self->burns_left_high);
  if (!isnan (self->grams))
    {
      grams = wb_quantity_format (wb_quantity_get_shown_unit (WB_QUANTITY_MASS, us_units), self->grams, us_units ? 1 : 0);
      rate = wb_quantity_format (wb_quantity_get_shown_unit (WB_QUANTITY_MASS_RATE, us_units), self->g_per_h, us_units ? 2 : 1);
      /* Translators: a mass, a mass an hour, what that rests on. */
      g_string_append_printf (words, _(": %s at %s, %s"), grams, rate, pace_words (self->pace));
    }
  g_string_append_c (words, '.');
  if (self->alight)
    g_string_append (words, _(" One of them is alight now."));
  return g_string_free (g_steal_pointer (&words), FALSE);
}
