/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-beside-conditions.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-craft-aims-private.h"
#include "wb-craft-decision-private.h"
#include "wb-craft-lot.h"
#include "wb-craft-verdict-private.h"
#include "wb-house.h"

/* So far apart the ends of two spans are still alike (common practice, no source). */
#define ROOM_C 2.0
#define CURE_DAYS 2.0
#define LENGTH_MIN 15.0
#define TRIM_MM 1.0
#define FILL_MM 3.0
/* Draughts at so much more of the readings are others. */
#define DRAUGHT_SHARE 0.25

typedef struct
{
  const WbCraftPick *picks;
  gsize              n;
  WbCraftSurvey     *surveys; /* one a pick */
  gboolean           us;
  GPtrArray         *found;
} Survey;

static void
condition_free (gpointer data)
{
  WbCraftBesideCondition *condition = data;

  g_strfreev (condition->values);
  g_free (condition);
}

/* A condition with a value of each pick; NULL: not noted, or it has none. */
static void
add (Survey     *self,
     const char *label,
     char      **values /* taken */,
     gboolean    unlike)
{
  WbCraftBesideCondition *condition = g_new (WbCraftBesideCondition, 1);
  gsize                   known = 0;

  for (gsize i = 0; i < self->n; i++)
    if (values[i] != NULL)
      known++;
    else
      values[i] = g_strdup (_("not noted"));
  *condition = (WbCraftBesideCondition) { label, values,
                                          known == 0                     ? WB_CRAFT_BESIDE_IS_NOT_NOTED
                                          : unlike || known < self->n ? WB_CRAFT_BESIDE_IS_UNLIKE
                                                                         : WB_CRAFT_BESIDE_IS_ALIKE };
  g_ptr_array_add (self->found, condition);
}

static gboolean
are_texts_unlike (char **values,
                  gsize  n)
{
  for (gsize i = 1; i < n; i++)
    if (g_strcmp0 (values[i], values[0]) != 0)
      return TRUE;
  return FALSE;
}

static void
add_texts (Survey     *self,
           const char *label,
           char      **values /* taken */)
{
  add (self, label, values, are_texts_unlike (values, self->n));
}

/* ---- What the candle is made of ---- */

typedef char *(*DupText) (const WbCraftPick *pick);

static char *
dup_wick (const WbCraftPick *pick)
{
  return wb_dataset_dup_wick_title (pick->answer->data, pick->cell);
}

static char *
dup_wax (const WbCraftPick *pick)
{
  return wb_material_dup_title (pick->answer->data->wax);
}

static char *
dup_scent (const WbCraftPick *pick)
{
  return wb_dataset_dup_scent_name (pick->answer->data, pick->cell);
}

static char *
dup_vessel (const WbCraftPick *pick)
{
  return wb_material_dup_title (wb_dataset_get_vessel (pick->answer->data, pick->cell));
}

static char *
dup_share (const char *name,
           double      pct)
{
  g_autofree char *number = isnan (pct) ? NULL : wb_number_format_trimmed (pct, 3, NULL);

  return number == NULL ? g_strdup (name) : g_strdup_printf ("%s %s\302\240%%", name, number);
}

static char *
dup_dye (const WbCraftPick *pick)
{
  const WbDataset *data = pick->answer->data;
  g_autofree char *drops = NULL;

  if (data->dye == NULL)
    return g_strdup (_("none"));
  if (isnan (data->experiment->dye_drops_per_kg))
    return dup_share (data->dye->name, data->experiment->dye_pct);
  drops = wb_number_format_trimmed (data->experiment->dye_drops_per_kg, 1, NULL);
  /* Translators: a dye; drops of it to a kilogram of wax */
  return g_strdup_printf (_("%s, %s drops to the kilogram"), data->dye->name, drops);
}

static char *
dup_additive (const WbCraftPick *pick)
{
  const WbDataset *data = pick->answer->data;

  return data->additive == NULL ? g_strdup (_("none")) : dup_share (data->additive->name, data->experiment->additive_pct);
}

static void
add_each (Survey     *self,
          const char *label,
          DupText     dup)
{
  char **values = g_new0 (char *, self->n + 1);

  for (gsize i = 0; i < self->n; i++)
    values[i] = dup (&self->picks[i]);
  add_texts (self, label, values);
}

static void
add_materials (Survey *self)
{
  gboolean dyed = FALSE, added = FALSE;

  for (gsize i = 0; i < self->n; i++)
    {
      dyed |= self->picks[i].answer->data->dye != NULL;
      added |= self->picks[i].answer->data->additive != NULL;
    }
  add_each (self, _("wick"), dup_wick);
  add_each (self, _("vessel"), dup_vessel);
  add_each (self, _("wax"), dup_wax);
  add_each (self, _("scent and load"), dup_scent);
  if (dyed)
    add_each (self, _("dye"), dup_dye);
  if (added)
    add_each (self, _("additive"), dup_additive);
}

/* ---- How it was burnt ---- */

static void
add_spans (Survey     *self,
           const char *label,
           gsize       offset, /* of the WbCraftSpan in the survey */
           double      factor, /* to the quantity's stored unit */
           WbUnit      unit,
           int         decimals,
           double      near)
{
  char             **values = g_new0 (char *, self->n + 1);
  const WbCraftSpan *first = NULL;
  gboolean           unlike = FALSE;

  for (gsize i = 0; i < self->n; i++)
    {
      const WbCraftSpan *span = G_STRUCT_MEMBER_P (&self->surveys[i], offset);
      WbCraftSpan        told = { factor * span->low, factor * span->high, span->n };

      if (span->n == 0)
        continue;
      values[i] = wb_craft_span_dup_text (&told, unit, decimals);
      for (gsize k = 0; k < i; k++)
        {
          first = G_STRUCT_MEMBER_P (&self->surveys[k], offset);
          unlike |= first->n > 0 && (fabs (first->low - span->low) > near || fabs (first->high - span->high) > near);
        }
    }
  add (self, label, values, unlike);
}

static guint
count_draughts (const WbCraftSurvey *survey)
{
  return survey->draughts[WB_DRAUGHT_SLIGHT] + survey->draughts[WB_DRAUGHT_STRONG];
}

static void
add_draught (Survey *self)
{
  char   **values = g_new0 (char *, self->n + 1);
  gboolean unlike = FALSE;
  double   least = INFINITY, most = 0.0;

  for (gsize i = 0; i < self->n; i++)
    {
      guint windy = count_draughts (&self->surveys[i]), all = windy + self->surveys[i].draughts[WB_DRAUGHT_NONE];

      if (all == 0)
        continue;
      least = fmin (least, (double) windy / all);
      most = fmax (most, (double) windy / all);
      /* Translators: of draughts */
      values[i] = windy == 0 ? g_strdup (_("none")) : g_strdup_printf (_("at %u of %u readings"), windy, all);
    }
  unlike = most > 0.0 && (least == 0.0 || most - least > DRAUGHT_SHARE);
  add (self, _("draught"), values, unlike);
}

static char *
dup_protocol (const WbCraftPick *pick)
{
  const WbProtocol *protocol = pick->answer->data->protocol;

  return protocol == NULL || protocol->name == NULL ? NULL : g_strdup (wb_house_translate (protocol->name));
}

static void
add_burning (Survey *self)
{
  WbUnit length = wb_quantity_get_shown_unit (WB_QUANTITY_LENGTH, self->us);
  WbUnit warmth = wb_quantity_get_shown_unit (WB_QUANTITY_TEMPERATURE, self->us);

  add_each (self, _("protocol"), dup_protocol);
  add_spans (self, _("trim"), G_STRUCT_OFFSET (WbCraftSurvey, trim_mm), 1.0, length, -1, TRIM_MM);
  add_spans (self, _("length of a burn"), G_STRUCT_OFFSET (WbCraftSurvey, alight_min), 60.0, WB_UNIT_HOUR, 1, LENGTH_MIN);
  add_spans (self, _("height of the fill"), G_STRUCT_OFFSET (WbCraftSurvey, height_mm), 1.0, length, -1, FILL_MM);
  /* A candle goes on curing while it is tested: the first light alone is a choice. */
  for (gsize i = 0; i < self->n; i++)
    self->surveys[i].cure_days.high = self->surveys[i].cure_days.low = floor (self->surveys[i].cure_days.low);
  add_spans (self, _("cure"), G_STRUCT_OFFSET (WbCraftSurvey, cure_days), 86400.0, WB_UNIT_DAY, 0, CURE_DAYS);
  add_spans (self, _("room"), G_STRUCT_OFFSET (WbCraftSurvey, room_c), 1.0, warmth, 0, ROOM_C);
  add_draught (self);
}

/* ---- Lots ---- */

static const WbBatch *
find_batch (const WbDataset *data,
            gint64           id)
{
  for (guint i = 0; i < data->batches->len; i++)
    if (((const WbBatch *) g_ptr_array_index (data->batches, i))->record.id == id)
      return g_ptr_array_index (data->batches, i);
  return NULL;
}

/* Of the sample, or of all that count. NULL: none is told. */
static char *
dup_lots (const WbCraftPick  *pick,
          const WbRecordType *material)
{
  const WbDataset *data = pick->answer->data;
  g_autofree char *lots = NULL;

  for (guint i = 0; i < data->samples->len; i++)
    {
      const WbSample  *sample = wb_dataset_get_sample (data, i);
      g_autofree char *its = NULL, *before = g_steal_pointer (&lots);

      if (pick->sample >= 0 ? i != (guint) pick->sample : !wb_craft_verdict_counts (data, i, pick->cell))
        {
          lots = g_steal_pointer (&before);
          continue;
        }
      its = wb_craft_lot_dup_of_sample (sample, find_batch (data, sample->batch), material);
      lots = wb_craft_lot_join (before, its);
    }
  return g_steal_pointer (&lots);
}

static void
add_lots (Survey             *self,
          const char         *label,
          const WbRecordType *material)
{
  char   **values = g_new0 (char *, self->n + 1);
  gboolean any = FALSE;

  for (gsize i = 0; i < self->n; i++)
    {
      values[i] = dup_lots (&self->picks[i], material);
      any |= values[i] != NULL;
    }
  if (any)
    add_texts (self, label, values);
  else
    g_strfreev (values);
}

static gboolean
is_alike (Survey  *self,
          DupText  dup)
{
  g_auto (GStrv) values = g_new0 (char *, self->n + 1);

  for (gsize i = 0; i < self->n; i++)
    values[i] = dup (&self->picks[i]);
  return !are_texts_unlike (values, self->n);
}

static char *
dup_fragrance (const WbCraftPick *pick)
{
  const WbFragrance *fragrance = wb_dataset_get_fragrance (pick->answer->data, pick->cell);

  return g_strdup (fragrance != NULL ? fragrance->name : "");
}

/* ---- Aims ---- */

static gboolean
has_same_aims (const WbDataset *a,
               const WbDataset *b)
{
  g_autoptr (GArray) one = wb_craft_aims_new (a), other = wb_craft_aims_new (b);

  if (a == b || one->len != other->len)
    return a == b;
  for (guint i = 0; i < one->len; i++)
    {
      const WbCraftAim *x = &g_array_index (one, WbCraftAim, i), *y = &g_array_index (other, WbCraftAim, i);

      if (x->figure != y->figure || x->stage != y->stage || x->worst != y->worst || x->weight != y->weight
          || x->shape.zero_below != y->shape.zero_below || x->shape.one_from != y->shape.one_from || x->shape.one_to != y->shape.one_to
          || x->shape.zero_above != y->shape.zero_above)
        return FALSE;
    }
  return TRUE;
}

static void
add_aims (Survey *self)
{
  char   **values = g_new0 (char *, self->n + 1);
  gboolean unlike = FALSE;

  for (gsize i = 0; i < self->n; i++)
    {
      const WbProfile *profile = self->picks[i].answer->data->profile;

      unlike |= !has_same_aims (self->picks[0].answer->data, self->picks[i].answer->data);
      values[i] = profile == NULL || profile->name == NULL ? NULL : g_strdup (wb_house_translate (profile->name));
    }
  add (self, _("aims"), values, unlike);
}

GPtrArray *
wb_craft_beside_list_conditions (const WbCraftPick *picks,
                                 gsize              n_picks)
{
  Survey self = { picks, n_picks, NULL, FALSE, g_ptr_array_new_with_free_func (condition_free) };

  g_return_val_if_fail (n_picks == 0 || picks != NULL, self.found);

  if (n_picks == 0)
    return self.found;
  self.us = picks[0].answer->data->notebook != NULL && picks[0].answer->data->notebook->us_units;
  self.surveys = g_new0 (WbCraftSurvey, n_picks);
  for (gsize i = 0; i < n_picks; i++)
    wb_craft_survey_take_sample (&self.surveys[i], picks[i].answer->data, picks[i].answer->figures, picks[i].cell, picks[i].sample);
  add_materials (&self);
  add_burning (&self);
  if (is_alike (&self, dup_wax))
    add_lots (&self, _("lot of the wax"), &wb_wax_type);
  if (is_alike (&self, dup_fragrance))
    add_lots (&self, _("lot of the fragrance"), &wb_fragrance_type);
  if (is_alike (&self, dup_wick))
    add_lots (&self, _("lot of the wick"), &wb_wick_type);
  add_aims (&self);
  g_free (self.surveys);
  return self.found;
}

/* ---- Sentences ---- */

static char *
dup_list (const GPtrArray      *conditions,
          WbCraftBesideLikeness likeness)
{
  g_autoptr (GString) text = g_string_new (NULL);

  for (guint i = 0; i < conditions->len; i++)
    {
      const WbCraftBesideCondition *condition = g_ptr_array_index (conditions, i);

      if (condition->likeness == likeness)
        g_string_append_printf (text, "%s%s", text->len > 0 ? ", " : "", condition->label);
    }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

/* Takes the sentence. */
static void
append (GString *text,
        char    *sentence)
{
  if (text->len > 0)
    g_string_append_c (text, ' ');
  g_string_append (text, sentence);
  g_free (sentence);
}

char *
wb_craft_beside_dup_conditions (const GPtrArray *conditions,
                                gsize            n_picks)
{
  g_autofree char    *unlike = NULL, *alike = NULL, *unknown = NULL;
  g_autoptr (GString) text = g_string_new (NULL);

  g_return_val_if_fail (conditions != NULL, NULL);

  if (n_picks < 2)
    return g_strdup ("");
  unlike = dup_list (conditions, WB_CRAFT_BESIDE_IS_UNLIKE);
  alike = dup_list (conditions, WB_CRAFT_BESIDE_IS_ALIKE);
  unknown = dup_list (conditions, WB_CRAFT_BESIDE_IS_NOT_NOTED);
  if (*unlike != '\0')
    /* Translators: conditions under which candles were made and burnt, "vessel, room" */
    append (text, g_strdup_printf (_("They differ in: %s."), unlike));
  if (*alike != '\0')
    /* Translators: the same */
    append (text, g_strdup_printf (_("Alike: %s."), alike));
  if (*unknown != '\0')
    /* Translators: the same */
    append (text, g_strdup_printf (_("Not noted: %s."), unknown));
  return g_string_free (g_steal_pointer (&text), FALSE);
}

char *
wb_craft_beside_dup_warning (const GPtrArray *conditions,
                             gsize            n_picks)
{
  g_autoptr (GPtrArray) rest = g_ptr_array_new ();
  g_autofree char      *unlike = NULL;

  g_return_val_if_fail (conditions != NULL, NULL);

  /* The wick comes first: it is what is compared. */
  for (guint i = 1; i < conditions->len; i++)
    g_ptr_array_add (rest, g_ptr_array_index (conditions, i));
  unlike = dup_list (rest, WB_CRAFT_BESIDE_IS_UNLIKE);
  if (n_picks < 2 || *unlike == '\0')
    return g_strdup ("");
  /* Translators: conditions under which candles were made and burnt, "vessel, room" */
  return g_strdup_printf (_("The candles differ in more than the wick: %s."), unlike);
}
