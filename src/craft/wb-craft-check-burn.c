/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-check-burn.h"

#include "wb-calc-quantile.h"
#include "wb-craft-burn-private.h"
#include "wb-craft-crossing-private.h"
#include "wb-craft-scale-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define COVERAGE 0.95
#define USUAL_ROOM_C 21.0
#define LEAST_H 0.05

/* Each with the figure on whose scale it is compared, and the step in which it is read. */
static const struct
{
  const char *label;
  const char *above, *below;
  WbFigure    scale;
  double      step;
  WbQuantity  quantity;
} figures_of[WB_CRAFT_N_CHECKS] = {
  [WB_CRAFT_CHECK_FLAME] = { N_("Flame at the end"), N_("taller than approved"), N_("smaller than approved"), WB_FIGURE_FLAME, 1, WB_QUANTITY_LENGTH },
  [WB_CRAFT_CHECK_FLAME_MAX] = { N_("Highest flame"), N_("taller than approved"), N_("smaller than approved"), WB_FIGURE_FLAME, 1, WB_QUANTITY_LENGTH },
  [WB_CRAFT_CHECK_VESSEL] = { N_("Vessel at the end"), N_("hotter than approved"), N_("cooler than approved"), WB_FIGURE_VESSEL, 1, WB_QUANTITY_TEMPERATURE },
  [WB_CRAFT_CHECK_DEPTH] = { N_("Depth of the melt pool"), N_("deeper than approved"), N_("shallower than approved"), WB_FIGURE_DEPTH, 1, WB_QUANTITY_LENGTH },
  [WB_CRAFT_CHECK_POOL] = { N_("Melt pool at the end"), N_("wider than approved"), N_("narrower than approved"), WB_FIGURE_POOL, 1, WB_QUANTITY_LENGTH },
  /* seen at a round: an hour apart in the upper third */
  [WB_CRAFT_CHECK_FULL_POOL] = { N_("Full melt pool first seen"), N_("later than approved"), N_("earlier than approved"), WB_FIGURE_FULL_POOL, 0.5, WB_QUANTITY_DURATION },
  [WB_CRAFT_CHECK_CONSUMPTION] = { N_("Consumption"), N_("more than approved"), N_("less than approved"), WB_FIGURE_CONSUMPTION, 0.1, WB_QUANTITY_MASS_RATE },
  [WB_CRAFT_CHECK_HANG_UP] = { N_("Hang-up at the end"), N_("more than approved"), N_("less than approved"), WB_FIGURE_HANG_UP, 1, WB_QUANTITY_LENGTH },
};

static double
get_value (const WbCraftBurn *burn,
           WbCraftCheckFigure figure)
{
  switch (figure)
    {
    case WB_CRAFT_CHECK_FLAME:
      return burn->flame_mm;
    case WB_CRAFT_CHECK_FLAME_MAX:
      return burn->flame_max_mm;
    case WB_CRAFT_CHECK_VESSEL:
      return burn->vessel_c;
    case WB_CRAFT_CHECK_DEPTH:
      return burn->depth_mm;
    case WB_CRAFT_CHECK_POOL:
      return burn->pool_mm;
    case WB_CRAFT_CHECK_FULL_POOL:
      return burn->full_seen_h;
    case WB_CRAFT_CHECK_CONSUMPTION:
      return burn->consumption_g_per_h;
    case WB_CRAFT_CHECK_HANG_UP:
      return burn->hang_up_mm;
    case WB_CRAFT_N_CHECKS:
    default:
      g_return_val_if_reached (NAN);
    }
}

/*
 * The rise over the room needs the room; where nobody read it, the same room stands for all. The time to a full pool, which the
 * estimates take from the growth curve, has no scale of theirs: it goes by its logarithm like all that is above 0.
 */
static double
to_scale (WbCraftCheckFigure figure,
          double             value,
          double             room_c)
{
  if (figure == WB_CRAFT_CHECK_FULL_POOL)
    return log (fmax (value, LEAST_H));
  return wb_craft_scale_from (figures_of[figure].scale, value, isnan (room_c) ? USUAL_ROOM_C : room_c);
}

static double
from_scale (WbCraftCheckFigure figure,
            double             y,
            double             room_c)
{
  if (figure == WB_CRAFT_CHECK_FULL_POOL)
    return exp (y);
  return wb_craft_scale_to (figures_of[figure].scale, y, figure != WB_CRAFT_CHECK_VESSEL ? 0 : isnan (room_c) ? USUAL_ROOM_C : room_c);
}

gboolean
wb_craft_check_interval (double  mean,
                         double  sd,
                         guint   n,
                         double *low,
                         double *high)
{
  double half;

  g_return_val_if_fail (low != NULL && high != NULL, FALSE);

  *low = *high = NAN;
  if (n < 2 || !isfinite (mean) || !isfinite (sd) || sd < 0)
    return FALSE;
  half = wb_calc_student_quantile (1 - (1 - COVERAGE) / 2, n - 1) * sd * sqrt (1 + 1.0 / n);
  *low = mean - half;
  *high = mean + half;
  return TRUE;
}

/* What a burn that goes on might still change. */
static gboolean
rests_on_length (WbCraftCheckFigure figure)
{
  return figure != WB_CRAFT_CHECK_FULL_POOL && figure != WB_CRAFT_CHECK_CONSUMPTION;
}

/* What can only rise while it burns, and hurts: over what was approved at the full length it is over it all the more. */
static gboolean
is_alarm (WbCraftCheckFigure figure)
{
  return figure == WB_CRAFT_CHECK_FLAME_MAX || figure == WB_CRAFT_CHECK_VESSEL;
}

static gboolean
is_approved (const WbDataset   *data,
             const WbCraftBurn *burn,
             guint              cell,
             const WbCraftBurn *check,
             gboolean           same_data,
             WbInstant          signed_at)
{
  WbInstant lit_at = wb_dataset_get_burn (data, burn->burn)->lit_at;
  const WbSample *sample = wb_dataset_get_sample (data, burn->sample);

  return burn->cell == cell && burn->kind == WB_BURN_STANDARD && !burn->cut_short && burn->stage == check->stage
         && sample->set_aside_cause < 0 && sample->set_aside == NULL && !(same_data && burn->burn == check->burn)
         && !(signed_at.known && lit_at.known && lit_at.utc_us >= signed_at.utc_us);
}

static void
compare (WbCraftCheck         *into,
         WbCraftCheckFigure    figure,
         const WbCraftBurn    *check,
         gboolean              cut_short,
         const WbDataset      *approved,
         const WbCraftFigures *figures,
         guint                 cell,
         gboolean              same_data,
         WbInstant             signed_at)
{
  double sum = 0, squares = 0, mean, sd, least, low, high, y;

  for (guint i = 0; i < figures->n_burns; i++)
    {
      double value = get_value (&figures->burns[i], figure);

      if (isnan (value) || !is_approved (approved, &figures->burns[i], cell, check, same_data, signed_at))
        continue;
      y = to_scale (figure, value, figures->burns[i].room_c);
      sum += y;
      into->n++;
    }
  if (isnan (into->value))
    return;
  into->state = WB_CRAFT_CHECK_TOO_FEW;
  if (into->n < 2)
    return;
  mean = sum / into->n;
  for (guint i = 0; i < figures->n_burns; i++)
    {
      double value = get_value (&figures->burns[i], figure);

      if (isnan (value) || !is_approved (approved, &figures->burns[i], cell, check, same_data, signed_at))
        continue;
      y = to_scale (figure, value, figures->burns[i].room_c);
      squares += (y - mean) * (y - mean);
    }
  sd = sqrt (squares / (into->n - 1));
  /* a reading's own step, at the mean, on the scale; of a value near 0 no more than all of it */
  y = from_scale (figure, mean, check->room_c);
  least = fabs (to_scale (figure, y + figures_of[figure].step, check->room_c) - mean) / sqrt (12);
  if (!wb_craft_check_interval (mean, fmax (sd, least), into->n, &low, &high))
    return;
  into->low = from_scale (figure, low, check->room_c);
  into->high = from_scale (figure, high, check->room_c);
  y = to_scale (figure, into->value, check->room_c);
  into->state = y > high ? WB_CRAFT_CHECK_ABOVE : y < low ? WB_CRAFT_CHECK_BELOW : WB_CRAFT_CHECK_WITHIN;
  if (cut_short && rests_on_length (figure) && !(into->state == WB_CRAFT_CHECK_ABOVE && is_alarm (figure)))
    into->state = WB_CRAFT_CHECK_CUT_SHORT;
}

/* Which limits the burn crossed, each once; a crack is told before them. */
static void
find_limits (WbCraftCheckBurn *self,
             const WbDataset  *data)
{
  g_autofree gboolean *over = wb_craft_crossing_dup_limits (data, self->burn, &self->broken);
  g_autoptr (GString) text = g_string_new (NULL);

  for (guint i = 0; i < data->limits->len; i++)
    {
      WbLimitKind kind = (WbLimitKind) ((const WbLimit *) g_ptr_array_index (data->limits, i))->kind;

      self->crossed = self->crossed || over[i];
      if (over[i] && kind != WB_LIMIT_VESSEL_CRACK)
        g_string_append_printf (text, "%s%s", text->len > 0 ? ", " : "", _(wb_limit_kind_get_label (kind)));
    }
  self->limits = text->len > 0 ? g_string_free (g_steal_pointer (&text), FALSE) : NULL;
}

WbCraftCheckBurn *
wb_craft_check_burn_new (const WbDataset      *data,
                         const WbCraftFigures *figures,
                         guint                 burn,
                         const WbDataset      *approved,
                         const WbCraftFigures *approved_figures,
                         guint                 cell,
                         WbInstant             signed_at)
{
  const WbCraftBurn *check;
  WbCraftCheckBurn *self;

  g_return_val_if_fail (data != NULL && figures != NULL && burn < figures->n_burns, NULL);
  g_return_val_if_fail (approved == NULL || (approved_figures != NULL && cell < approved->cells->len), NULL);

  check = &figures->burns[burn];
  self = g_new0 (WbCraftCheckBurn, 1);
  self->burn = burn;
  self->sample = check->sample;
  self->number = (int) wb_dataset_get_burn (data, burn)->number;
  self->code = g_strdup (wb_dataset_get_sample (data, check->sample)->code);
  self->approved = approved != NULL ? g_strdup (approved->experiment->code) : NULL;
  self->stage = check->stage;
  self->alight_min = check->alight_min;
  self->length_min = approved != NULL ? wb_craft_burn_get_length_min (approved) : NAN;
  self->cut_short = approved != NULL && wb_craft_burn_is_cut_short (approved, check->alight_min);
  for (int i = 0; i < WB_CRAFT_N_CHECKS; i++)
    {
      self->checks[i] = (WbCraftCheck) { WB_CRAFT_CHECK_NOT_READ, get_value (check, (WbCraftCheckFigure) i), 0, NAN, NAN };
      if (approved != NULL)
        compare (&self->checks[i], (WbCraftCheckFigure) i, check, self->cut_short, approved, approved_figures, cell,
                 data == approved, signed_at);
    }
  find_limits (self, data);
  return self;
}

void
wb_craft_check_burn_free (WbCraftCheckBurn *self)
{
  if (self == NULL)
    return;
  g_free (self->code);
  g_free (self->approved);
  g_free (self->limits);
  g_free (self);
}

/* ---- Words ---- */

const char *
wb_craft_check_get_label (WbCraftCheckFigure figure)
{
  g_return_val_if_fail (figure < WB_CRAFT_N_CHECKS, NULL);
  return _(figures_of[figure].label);
}

static char *
dup_value (WbCraftCheckFigure figure,
           double             value,
           gboolean           us_units)
{
  if (figure == WB_CRAFT_CHECK_FULL_POOL)
    return wb_quantity_format (WB_UNIT_HOUR, value * 3600, -1);
  return wb_quantity_format (wb_quantity_get_shown_unit (figures_of[figure].quantity, us_units), value, -1);
}

/* "52 to 60 °C" */
static char *
dup_range (WbCraftCheckFigure  figure,
           const WbCraftCheck *check,
           gboolean            us_units)
{
  g_autofree char *from = dup_value (figure, check->low, us_units), *to = dup_value (figure, check->high, us_units);

  return g_strdup_printf (_("%s to %s"), from, to);
}

char *
wb_craft_check_dup_text (WbCraftCheckFigure  figure,
                         const WbCraftCheck *check,
                         gboolean            us_units)
{
  g_autofree char *value = NULL, *range = NULL;

  g_return_val_if_fail (figure < WB_CRAFT_N_CHECKS && check != NULL, NULL);

  if (check->state == WB_CRAFT_CHECK_NOT_READ)
    return NULL;
  value = dup_value (figure, check->value, us_units);
  if (check->state == WB_CRAFT_CHECK_TOO_FEW)
    return g_strdup_printf (_("%s: too few to compare"), value);
  if (check->state == WB_CRAFT_CHECK_CUT_SHORT)
    return g_strdup_printf (_("%s: not compared, the burn was cut short"), value);
  range = dup_range (figure, check, us_units);
  if (check->state == WB_CRAFT_CHECK_WITHIN)
    /* Translators: a value, and between which two it was to be */
    return g_strdup_printf (_("within what was approved: %s, of %s"), value, range);
  /* Translators: "hotter than approved", a value, and between which two it was to be */
  return g_strdup_printf (_("%s: %s against %s"), _(check->state == WB_CRAFT_CHECK_ABOVE ? figures_of[figure].above : figures_of[figure].below),
                          value, range);
}

/* "Burnt 1 h of 4 h: not compared are Flame at the end, Vessel at the end. "; nothing where all was compared. */
static void
append_cut_short (const WbCraftCheckBurn *self,
                  GString                *text)
{
  g_autoptr (GString) names = g_string_new (NULL);
  g_autofree char *burnt = NULL, *length = NULL;

  for (int i = 0; i < WB_CRAFT_N_CHECKS; i++)
    if (self->checks[i].state == WB_CRAFT_CHECK_CUT_SHORT)
      g_string_append_printf (names, "%s%s", names->len > 0 ? ", " : "", wb_craft_check_get_label ((WbCraftCheckFigure) i));
  if (names->len == 0)
    return;
  burnt = wb_quantity_format_duration (self->alight_min * 60);
  length = wb_quantity_format_duration (self->length_min * 60);
  /* Translators: how long a candle burnt, how long it should have, names of figures */
  g_string_append_printf (text, _("Burnt %s of %s: not compared are %s. "), burnt, length, names->str);
}

char *
wb_craft_check_burn_dup_text (const WbCraftCheckBurn *self,
                              gboolean                us_units)
{
  g_autoptr (GString) outside = g_string_new (NULL);
  GString *text = g_string_new (NULL);
  guint compared = 0, cut = 0;

  g_return_val_if_fail (self != NULL, NULL);

  for (int i = 0; i < WB_CRAFT_N_CHECKS; i++)
    {
      const WbCraftCheck *check = &self->checks[i];
      g_autofree char *one = NULL;

      compared += check->state >= WB_CRAFT_CHECK_WITHIN;
      cut += check->state == WB_CRAFT_CHECK_CUT_SHORT;
      if (check->state != WB_CRAFT_CHECK_ABOVE && check->state != WB_CRAFT_CHECK_BELOW)
        continue;
      one = wb_craft_check_dup_text ((WbCraftCheckFigure) i, check, us_units);
      g_string_append_printf (outside, "%s%s %s", outside->len > 0 ? "; " : "", wb_craft_check_get_label ((WbCraftCheckFigure) i), one);
    }
  if (self->broken)
    g_string_append (text, _("Its vessel cracked. "));
  if (self->limits != NULL)
    g_string_append_printf (text, _("It crossed a limit: %s. "), self->limits);
  if (self->cut_short)
    append_cut_short (self, text);
  if (self->approved == NULL)
    g_string_append (text, _("No decision is of its recipe: there is nothing to compare it with."));
  else if (compared == 0 && cut > 0)
    g_string_truncate (text, text->len - 1);
  else if (compared == 0)
    g_string_append_printf (text, _("Too few burns of %s in the same third of the life were read to compare it with."), self->approved);
  else if (outside->len == 0)
    g_string_append_printf (text, g_dngettext (GETTEXT_PACKAGE, "Within what was approved in %s: %u figure compared.", "Within what was approved in %s: %u figures compared.", compared),
                            self->approved, compared);
  else
    g_string_append_printf (text, _("Outside what was approved in %s: %s."), self->approved, outside->str);
  return g_string_free (text, FALSE);
}
