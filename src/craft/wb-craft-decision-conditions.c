/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-decision-private.h"

#include "wb-craft-lot-part.h"
#include "wb-craft-verdict-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* The conditions under which a combination was made and burnt, as they were, not only as they were planned. */

#define HOURS_MANY_MIN 120.0 /* from here on a burn's length is told in hours */

void
wb_craft_decision_say (GString    *text,
                       const char *format,
                       ...)
{
  va_list args;

  if (text->len > 0)
    g_string_append_c (text, '\n');
  va_start (args, format);
  g_string_append_vprintf (text, format, args);
  va_end (args);
}

static void
widen (WbCraftSpan *span,
       double       value)
{
  if (isnan (value))
    return;
  span->low = span->n == 0 ? value : fmin (span->low, value);
  span->high = span->n == 0 ? value : fmax (span->high, value);
  span->n++;
}

static void
take_sample (WbCraftSurvey        *self,
             const WbDataset      *data,
             const WbCraftFigures *figures,
             guint                 sample,
             guint                 cell)
{
  if (wb_craft_verdict_counts (data, sample, cell))
    self->ended += figures->ended[sample];
  else
    self->aside += g_array_index (data->sample_cell, guint, sample) == cell;
}

/* Of what was burnt: a reference that is kept may be poured otherwise. */
static void
take_fill (WbCraftSurvey  *self,
           const WbSample *sample)
{
  self->samples++;
  widen (&self->fill_g, sample->fill_g);
  widen (&self->height_mm, sample->wax_height_mm);
}

static void
take_rows (WbCraftSurvey    *self,
           const WbReadings *readings,
           guint             burn)
{
  guint first, n, rooms = self->room_c.n;
  gboolean noted = FALSE;

  wb_readings_get_burn_rows (readings, burn, &first, &n);
  for (guint row = first; row < first + n; row++)
    {
      double draught = wb_readings_get (readings, row, WB_COLUMN_DRAUGHT);

      widen (&self->room_c, wb_readings_get (readings, row, WB_COLUMN_ROOM_C));
      if (draught >= WB_DRAUGHT_NONE && draught <= WB_DRAUGHT_STRONG)
        {
          self->draughts[(int) draught]++;
          noted = TRUE;
        }
    }
  self->room_burns += self->room_c.n > rooms;
  self->draught_burns += noted;
}

static gboolean
was_read (const WbCraftBurn *burn)
{
  return !isnan (burn->pool_mm) || !isnan (burn->flame_mm) || !isnan (burn->vessel_c) || !isnan (burn->depth_mm);
}

static gboolean
is_last (const WbDataset *data,
         guint            burn)
{
  return burn + 1 >= data->burns->len || g_array_index (data->burn_sample, guint, burn + 1) != g_array_index (data->burn_sample, guint, burn);
}

/* A burn without its day, from a file, is taken for an earlier one. */
static gboolean
was_lit_before (const WbDataset *data,
                guint            burn,
                WbInstant        before)
{
  WbInstant lit_at = wb_dataset_get_burn (data, burn)->lit_at;

  return !before.known || !lit_at.known || lit_at.utc_us < before.utc_us;
}

static void
take (WbCraftSurvey        *self,
      const WbDataset      *data,
      const WbCraftFigures *figures,
      guint                 cell,
      int                   sample,
      WbInstant             before)
{
  guint last = G_MAXUINT; /* a sample's burns stand side by side */

  *self = (WbCraftSurvey) { .samples = 0 };
  for (guint i = 0; i < data->samples->len; i++)
    if (sample < 0 || i == (guint) sample)
      take_sample (self, data, figures, i, cell);
  for (guint i = 0; i < figures->n_burns; i++)
    {
      const WbCraftBurn *burn = &figures->burns[i];

      if (burn->cell != cell || (sample < 0 ? !wb_craft_verdict_counts (data, burn->sample, cell) : burn->sample != (guint) sample))
        continue;
      if (!was_lit_before (data, i, before))
        continue;
      if (!burn->alight && burn->kind >= WB_BURN_STANDARD && burn->kind <= WB_BURN_CHECK)
        self->kinds[burn->kind]++;
      self->all_burns++;
      take_rows (self, data->readings, i);
      widen (&self->cure_days, burn->cure_days);
      if (was_read (burn))
        self->stages |= 1u << burn->stage;
      /* a decision rests on what was burnt, not on what burns */
      if (burn->kind != WB_BURN_STANDARD || burn->alight)
        continue;
      if (burn->sample != last)
        take_fill (self, wb_dataset_get_sample (data, burn->sample));
      last = burn->sample;
      self->burns++;
      widen (&self->trim_mm, wb_dataset_get_burn (data, i)->trim_mm);
      /* the last of a life ends when it does */
      if (!burn->cut_short && (!figures->ended[burn->sample] || !is_last (data, i)))
        {
          self->whole_burns++;
          widen (&self->alight_min, burn->alight_min);
        }
    }
}

void
wb_craft_survey_take_sample (WbCraftSurvey        *self,
                             const WbDataset      *data,
                             const WbCraftFigures *figures,
                             guint                 cell,
                             int                   sample)
{
  take (self, data, figures, cell, sample, WB_INSTANT_NONE);
}

void
wb_craft_survey_take (WbCraftSurvey        *self,
                      const WbDataset      *data,
                      const WbCraftFigures *figures,
                      guint                 cell)
{
  take (self, data, figures, cell, -1, WB_INSTANT_NONE);
}

void
wb_craft_survey_take_before (WbCraftSurvey        *self,
                             const WbDataset      *data,
                             const WbCraftFigures *figures,
                             guint                 cell,
                             WbInstant             before)
{
  take (self, data, figures, cell, -1, before);
}

double
wb_craft_survey_get_cure_days (const WbCraftSurvey *self)
{
  return self->cure_days.n > 0 ? floor (self->cure_days.low) : NAN;
}

char *
wb_craft_span_dup_text (const WbCraftSpan *span,
                        WbUnit             unit,
                        int                decimals)
{
  g_autofree char *low = wb_quantity_format_number (unit, span->low, decimals), *all = wb_quantity_format (unit, span->low, decimals);
  g_autofree char *high = wb_quantity_format (unit, span->high, decimals);

  /* Translators: the lowest and the highest of what was seen: "20 to 23 °C". */
  return g_str_equal (all, high) ? g_steal_pointer (&all) : g_strdup_printf (_("%s to %s"), low, high);
}

static char *
dup_length (const WbCraftSpan *minutes)
{
  WbCraftSpan seconds = { 60 * minutes->low, 60 * minutes->high, minutes->n };
  gboolean few = minutes->high < HOURS_MANY_MIN;

  return wb_craft_span_dup_text (&seconds, few ? WB_UNIT_MINUTE : WB_UNIT_HOUR, few ? 0 : 1);
}

/* What some burns tell is no condition of all of them. */
static void
say_known_burns (GString *text,
                 guint    known,
                 guint    of)
{
  if (known >= of)
    return;
  g_string_append_c (text, ' ');
  g_string_append_printf (text, g_dngettext (GETTEXT_PACKAGE, "That is noted for %u of %u burn only.", "That is noted for %u of %u burns only.", of), known, of);
}

static void
say_known_samples (GString *text,
                   guint    known,
                   guint    of)
{
  if (known >= of)
    return;
  g_string_append_c (text, ' ');
  g_string_append_printf (text, g_dngettext (GETTEXT_PACKAGE, "That is noted for %u of %u sample only.", "That is noted for %u of %u samples only.", of), known,
                          of);
}

static void
say_burns (GString             *text,
           const WbCraftSurvey *survey,
           gboolean             us)
{
  g_autofree char *trim = NULL, *length = NULL;

  if (survey->trim_mm.n > 0)
    {
      trim = wb_craft_span_dup_text (&survey->trim_mm, wb_quantity_get_shown_unit (WB_QUANTITY_LENGTH, us), -1);
      wb_craft_decision_say (text, survey->trim_mm.n >= survey->burns ? _("Wick trimmed to %s before each burn.") : _("Wick trimmed to %s."), trim);
      say_known_burns (text, survey->trim_mm.n, survey->burns);
    }
  if (survey->alight_min.n > 0)
    {
      length = dup_length (&survey->alight_min);
      wb_craft_decision_say (text, _("Burnt for %s at a time."), length);
      say_known_burns (text, survey->alight_min.n, survey->whole_burns);
    }
}

static void
say_fill (GString             *text,
          const WbCraftSurvey *survey,
          const WbVessel      *vessel,
          gboolean             us)
{
  WbUnit length = wb_quantity_get_shown_unit (WB_QUANTITY_LENGTH, us), mass = wb_quantity_get_shown_unit (WB_QUANTITY_MASS, us);
  WbCraftSpan planned = { vessel->wax_height_mm, vessel->wax_height_mm, 1 };
  const WbCraftSpan *height = survey->height_mm.n > 0 ? &survey->height_mm : isnan (vessel->wax_height_mm) ? NULL : &planned;
  g_autofree char *fill = survey->fill_g.n > 0 ? wb_craft_span_dup_text (&survey->fill_g, mass, -1) : NULL;
  g_autofree char *high = height != NULL ? wb_craft_span_dup_text (height, length, -1) : NULL;

  if (fill != NULL && high != NULL)
    wb_craft_decision_say (text, _("Filled with %s of wax and oil, to a height of %s."), fill, high);
  else if (fill != NULL)
    wb_craft_decision_say (text, _("Filled with %s of wax and oil."), fill);
  else if (high != NULL)
    wb_craft_decision_say (text, _("Filled to a height of %s."), high);
  if (fill != NULL)
    say_known_samples (text, survey->fill_g.n, survey->samples);
}

static void
say_room (GString             *text,
          const WbCraftSurvey *survey,
          gboolean             us)
{
  guint noted = survey->draughts[WB_DRAUGHT_NONE] + survey->draughts[WB_DRAUGHT_SLIGHT] + survey->draughts[WB_DRAUGHT_STRONG];
  g_autofree char *room = NULL;

  if (survey->room_c.n > 0)
    {
      room = wb_craft_span_dup_text (&survey->room_c, wb_quantity_get_shown_unit (WB_QUANTITY_TEMPERATURE, us), 0);
      wb_craft_decision_say (text, _("In a room of %s."), room);
      say_known_burns (text, survey->room_burns, survey->all_burns);
    }
  if (noted > 0 && survey->draughts[WB_DRAUGHT_NONE] == noted)
    {
      wb_craft_decision_say (text, "%s", _("Without draught."));
      say_known_burns (text, survey->draught_burns, survey->all_burns);
    }
  else if (noted > 0)
    wb_craft_decision_say (text, _("Draught at %u of the %u readings that tell of it."), noted - survey->draughts[WB_DRAUGHT_NONE], noted);
}

/* The lots of the samples that count. */
static char *
dup_lots (const WbDataset *data,
          guint            cell)
{
  g_autoptr (WbRecord) record = wb_record_new (&wb_decision_type);
  g_autoptr (GPtrArray) parts = NULL;

  ((WbDecision *) (gpointer) record)->cell = wb_dataset_get_cell (data, cell)->record.id;
  parts = wb_craft_lot_parts_of_decision (data, (WbDecision *) (gpointer) record);
  return wb_craft_lot_parts_dup_text (parts);
}

char *
wb_craft_decision_dup_conditions (const WbDataset     *data,
                                  guint                cell,
                                  const WbCraftSurvey *survey)
{
  gboolean us = data->notebook != NULL && data->notebook->us_units;
  g_autofree char *cure = NULL, *lots = dup_lots (data, cell);
  g_autoptr (GString) text = g_string_new (NULL);

  say_burns (text, survey, us);
  say_fill (text, survey, wb_dataset_get_vessel (data, cell), us);
  if (survey->cure_days.n > 0)
    {
      double least_s = wb_craft_survey_get_cure_days (survey) * 86400;
      WbCraftSpan first = { least_s, least_s, 1 };

      cure = wb_craft_span_dup_text (&first, WB_UNIT_DAY, 0);
      wb_craft_decision_say (text, _("Lit after a cure of at least %s."), cure);
      say_known_burns (text, survey->cure_days.n, survey->all_burns);
    }
  say_room (text, survey, us);
  if (lots != NULL)
    wb_craft_decision_say (text, _("Lots that were burnt: %s."), lots);
  return g_string_free (g_steal_pointer (&text), FALSE);
}

/* ---- What was never varied ---- */

static void
add_kind (GPtrArray           *kinds,
          const WbCraftSurvey *survey,
          WbBurnKind           kind,
          const char          *name)
{
  if (survey->kinds[kind] == 0)
    g_ptr_array_add (kinds, g_strdup (name));
}

char *
wb_craft_decision_dup_unvaried (const WbDataset     *data,
                                guint                cell,
                                const WbCraftSurvey *survey)
{
  gboolean us = data->notebook != NULL && data->notebook->us_units;
  g_autoptr (GPtrArray) kinds = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *lots = dup_lots (data, cell), *room = NULL, *joined = NULL;
  g_autoptr (GString) text = g_string_new (NULL);

  add_kind (kinds, survey, WB_BURN_SHORT, _("short burns"));
  add_kind (kinds, survey, WB_BURN_POWER, _("burns well past the usual length"));
  add_kind (kinds, survey, WB_BURN_UNTRIMMED, _("an untrimmed wick"));
  g_ptr_array_add (kinds, NULL);
  if (kinds->len > 1)
    {
      joined = g_strjoinv (", ", (char **) kinds->pdata);
      /* Translators: a list of "short burns", "an untrimmed wick". */
      wb_craft_decision_say (text, _("Never tried: %s."), joined);
    }
  if (survey->draughts[WB_DRAUGHT_SLIGHT] + survey->draughts[WB_DRAUGHT_STRONG] == 0)
    wb_craft_decision_say (text, "%s", survey->draughts[WB_DRAUGHT_NONE] > 0 ? _("No burn in a draught.") : _("Whether there was a draught was not noted."));
  if (survey->room_c.n > 0)
    {
      room = wb_craft_span_dup_text (&survey->room_c, wb_quantity_get_shown_unit (WB_QUANTITY_TEMPERATURE, us), 0);
      wb_craft_decision_say (text, _("Rooms colder or warmer than %s."), room);
    }
  else
    wb_craft_decision_say (text, "%s", _("The temperature of the room was not noted."));
  if (lots == NULL)
    wb_craft_decision_say (text, "%s", _("Which lots were burnt was not noted."));
  return g_string_free (g_steal_pointer (&text), FALSE);
}
