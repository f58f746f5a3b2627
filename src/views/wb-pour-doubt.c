/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-pour-doubt.h"

#include "wb-craft-doubt.h"
#include "wb-craft-pot.h"
#include "wb-lot-choice.h"

#include <glib/gi18n.h>
#include <math.h>

static void
add (GString *text,
     char    *line)
{
  g_string_append_printf (text, "%s%s", text->len > 0 ? "\n" : "", line);
  g_free (line);
}

static void
add_melt (GString       *text,
          const WbBatch *actual,
          const char    *name,
          gboolean       us_units)
{
  const WbFieldSpec *field = wb_record_type_find_field (&wb_batch_type, name);
  double celsius = wb_record_get_real (actual, field);
  g_autofree char *value = NULL;

  if (!wb_craft_doubt_melt (celsius))
    return;
  value = wb_quantity_format (wb_quantity_get_shown_unit (WB_QUANTITY_TEMPERATURE, us_units), celsius, -1);
  add (text, g_strdup_printf (_("%s: %s. Was it read in this unit?"), _(field->label), value));
}

static void
add_mass (GString    *text,
          const char *label,
          double      mass_g,
          double      planned_g,
          gboolean    us_units)
{
  WbUnit unit = wb_quantity_get_shown_unit (WB_QUANTITY_MASS, us_units);
  g_autofree char *value = wb_quantity_format (unit, isnan (mass_g) ? 0 : mass_g, -1);
  g_autofree char *planned = wb_quantity_format (unit, isnan (planned_g) ? 0 : planned_g, -1);

  if (wb_craft_doubt_weighed (mass_g, planned_g))
    add (text, g_strdup_printf (_("%s: %s. By the sheet it is %s."), label, value, planned));
}

static const char *
find_code (const WbAppPourBatch *batch,
           gint64                id)
{
  for (guint i = 0; i < batch->samples->len; i++)
    {
      const WbSample *sample = g_ptr_array_index (batch->samples, i);

      if (sample->record.id == id)
        return sample->code;
    }
  return "";
}

/* Where a batch fills vessels of several sizes, a candle's own fill is not known here. */
static void
add_samples (GString              *text,
             const WbAppPourBatch *batch,
             const GArray         *poured,
             gboolean              us_units)
{
  if (batch->lines->len != 1 || isnan (g_array_index (batch->lines, WbAppPourLine, 0).fill_g))
    return;
  for (guint i = 0; i < poured->len; i++)
    {
      const WbAppPouredSample *sample = &g_array_index (poured, WbAppPouredSample, i);
      g_autofree char *label = g_strdup_printf ("%s, %s", find_code (batch, sample->sample),
                                                _(wb_record_type_find_field (&wb_sample_type, "fill_g")->label));

      add_mass (text, label, sample->values[WB_APP_POURED_FILL], g_array_index (batch->lines, WbAppPourLine, 0).fill_g, us_units);
    }
}

static const WbVessel *
find_vessel (const WbDataset *data,
             gint64           id)
{
  for (guint i = 0; i < data->samples->len; i++)
    if (wb_dataset_get_sample (data, i)->record.id == id)
      return wb_dataset_get_vessel (data, g_array_index (data->sample_cell, guint, i));
  return NULL;
}

/* 6.6 mm in a vessel that is filled to 66. */
static void
add_heights (GString              *text,
             const WbAppPourBatch *batch,
             const WbDataset      *data,
             const GArray         *poured,
             gboolean              us_units)
{
  WbUnit unit = wb_quantity_get_shown_unit (WB_QUANTITY_LENGTH, us_units);
  const char *label = _(wb_app_poured_get_spec (WB_APP_POURED_HEIGHT)->label);

  for (guint i = 0; i < poured->len; i++)
    {
      const WbAppPouredSample *sample = &g_array_index (poured, WbAppPouredSample, i);
      const WbVessel *vessel = find_vessel (data, sample->sample);
      double height_mm = sample->values[WB_APP_POURED_HEIGHT];
      g_autofree char *is = NULL, *meant = NULL;

      if (vessel == NULL || !wb_craft_doubt_weighed (height_mm, vessel->wax_height_mm))
        continue;
      is = wb_quantity_format (unit, height_mm, -1);
      meant = wb_quantity_format (unit, vessel->wax_height_mm, -1);
      /* Translators: code of a sample; "Height of the fill"; two lengths. */
      add (text, g_strdup_printf (_("%s, %s: %s. The vessel's wax is to stand %s high."), find_code (batch, sample->sample), label, is, meant));
    }
}

static void
add_day (GString       *text,
         const WbBatch *actual)
{
  g_autofree char *day = NULL, *own = NULL;

  if (!actual->poured_at.known || actual->poured_on == WB_DAY_NONE || wb_instant_get_day (actual->poured_at) == actual->poured_on)
    return;
  day = wb_day_format_local (actual->poured_on);
  own = wb_instant_format_date (actual->poured_at);
  add (text, g_strdup_printf (_("Poured on %s, and its step says %s."), day, own));
}

char *
wb_pour_doubt_dup_pot (const GPtrArray *lines,
                       guint            kinds,
                       gboolean         to_pour)
{
  GString *text = g_string_new (NULL);
  gboolean over = FALSE;

  g_return_val_if_fail (lines != NULL, NULL);

  for (guint i = 0; i < lines->len; i++)
    {
      const WbCraftPotLine *line = lines->pdata[i];

      if ((kinds & 1u << line->kind) == 0)
        continue;
      add (text, g_strdup_printf ("%s.", line->text));
      over = over || line->kind >= WB_CRAFT_POT_MOST;
    }
  if (over && to_pour)
    add (text, g_strdup (_("Do not pour this melt: weigh again, and begin anew if it is so.")));
  return g_string_free (text, text->len == 0);
}

void
wb_pour_doubt_show_pot (WbRecordForm    *form,
                        const WbBatch   *actual,
                        const GPtrArray *lines,
                        gboolean         to_pour)
{
  const guint of_wax = 1u << WB_CRAFT_POT_WAX;
  gboolean at_oil;
  g_autofree char *wax = NULL, *oil = NULL;

  g_return_if_fail (WB_IS_RECORD_FORM (form));
  g_return_if_fail (actual != NULL && lines != NULL);

  at_oil = !isnan (actual->actual_oil_g);
  wax = wb_pour_doubt_dup_pot (lines, at_oil ? of_wax : WB_POUR_DOUBT_ALL, to_pour);
  oil = wb_pour_doubt_dup_pot (lines, at_oil ? WB_POUR_DOUBT_ALL & ~of_wax : 0, to_pour);
  wb_record_form_set_caution (form, "actual_wax_g", wax);
  wb_record_form_set_caution (form, "actual_oil_g", oil);
}

char *
wb_pour_doubt_dup (const WbAppPourBatch *batch,
                   const WbDataset      *data,
                   const WbBatch        *actual,
                   const GArray         *poured,
                   gboolean              us_units)
{
  GString *text = g_string_new (NULL);
  g_autoptr (GPtrArray) lines = wb_craft_pot_find (actual, data->wax, batch->fragrance, us_units);
  char *pot = wb_pour_doubt_dup_pot (lines, WB_POUR_DOUBT_ALL, TRUE);

  if (pot != NULL)
    add (text, pot);
  /* without a sheet nothing else says how much wax there was */
  if (batch->sheet == NULL && isnan (actual->actual_wax_g))
    add (text, g_strdup (_("There is no batch sheet, and the wax's mass is not written down: how much there was can be told by nobody later.")));
  add_melt (text, actual, "heat_c", us_units);
  add_melt (text, actual, "add_c", us_units);
  add_melt (text, actual, "pour_c", us_units);
  add_samples (text, batch, poured, us_units);
  add_heights (text, batch, data, poured, us_units);
  add_day (text, actual);
  return g_string_free (text, FALSE);
}

char *
wb_pour_doubt_dup_lots (WbAppPour            *pour,
                        const WbAppPourBatch *batch,
                        const WbBatch        *actual,
                        const char           *wick_lot,
                        const GArray         *wick_lots,
                        const char           *vessel_lot)
{
  const WbDataset *data = wb_app_pour_get_data (pour);
  WbAppMaterials shelf = { .lots = (GPtrArray *) wb_app_pour_get_lots (pour), .parts = (GPtrArray *) wb_app_pour_get_parts (pour) };
  g_autoptr (GPtrArray) gone = g_ptr_array_new_with_free_func (g_free), others = g_ptr_array_new_with_free_func (g_free);
  GString *text = g_string_new (NULL);
  const struct { gint64 material; const char *label, *text; } told[] = {
    { data->experiment->wax, _("Wax lot"), actual->wax_lot },
    { actual->fragrance, _("Fragrance lot"), actual->fragrance_lot },
    { data->experiment->dye, _("Dye lot"), actual->dye_lot },
    { data->experiment->additive, _("Additive lot"), actual->additive_lot },
    { wb_app_pour_find_wick (pour, batch), _("Wick lot"), wick_lot },
    { wb_app_pour_find_vessel (pour, batch), _("Vessel lot"), vessel_lot },
  };

  for (guint i = 0; i < G_N_ELEMENTS (told); i++)
    {
      wb_lot_choice_add_used_up (gone, &shelf, told[i].material, told[i].label, told[i].text);
      wb_lot_choice_add_others (others, &shelf, told[i].material, told[i].label, told[i].text);
    }
  for (guint i = 0; i < wick_lots->len; i++)
    {
      const WbAppPourWickLot *lot = &g_array_index (wick_lots, WbAppPourWickLot, i);

      wb_lot_choice_add_used_up (gone, &shelf, lot->wick, _("Wick lot"), lot->lot);
      wb_lot_choice_add_others (others, &shelf, lot->wick, _("Wick lot"), lot->lot);
    }
  for (guint i = 0; i < gone->len; i++)
    /* Translators: "Wax lot W-101" */
    g_string_append_printf (text, _("%s is used up, by the list of materials: look at the label of what was weighed out.\n"), (const char *) gone->pdata[i]);
  for (guint i = 0; i < others->len; i++)
    /* Translators: "Wax lot F-101" */
    g_string_append_printf (text, _("%s is a lot of another material, by the list of materials.\n"), (const char *) others->pdata[i]);
  return g_string_free (text, FALSE);
}
