/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-material-kind.h"

#include "wb-craft-vessel-check.h"
#include "wb-craft-wax-check.h"

#include <glib/gi18n.h>
#include <math.h>

static const WbMaterialKind kinds[] = {
  { &wb_vessel_type, N_("Vessels"), N_("New vessel"), NULL, NULL, NULL,
    { "middle_diameter_mm", "middle_width_mm", "base_diameter_mm", "base_width_mm", "mouth_mm", "headspace_mm", "wall_mm", "water_c",
      "supplier", "note", NULL } },
  { &wb_wax_type, N_("Waxes"), N_("New wax"), NULL, NULL, NULL,
    { "kind", "density_c", "melt_c", "crystallises", "hold_back_pct", "supplier", "note", NULL } },
  { &wb_wick_type, N_("Wicks"), N_("New wick"), &wb_wick_guide_type, "wick", N_("What its supplier recommends"), { "priming", "note", NULL } },
  { &wb_fragrance_type, N_("Fragrances"), N_("New fragrance"), &wb_fragrance_part_type, "fragrance", N_("Parts of the blend"),
    { "burn_cure_days", "smell_cure_days", "note", NULL } },
  { &wb_dye_type, N_("Dyes"), N_("New dye"), NULL, NULL, NULL, { NULL } },
  { &wb_additive_type, N_("Additives"), N_("New additive"), NULL, NULL, NULL, { NULL } },
};

const WbMaterialKind *
wb_material_kinds_get (guint *n)
{
  *n = G_N_ELEMENTS (kinds);
  return kinds;
}

WbRecord *
wb_material_kind_new_record (const WbMaterialKind *kind)
{
  WbRecord *record;

  g_return_val_if_fail (kind != NULL, NULL);

  record = wb_record_new (kind->type);
  if (kind->type == &wb_vessel_type)
    ((WbVessel *) (gpointer) record)->shape = WB_SHAPE_ROUND;
  return record;
}

const char *
wb_material_get_identity_field (const WbRecordType *type)
{
  return type == &wb_wick_type ? "size" : "name";
}

WbRecord *
wb_material_dup_like (gconstpointer material)
{
  const WbFieldSpec *field;
  g_autofree char *name = NULL;
  WbRecord *record;

  g_return_val_if_fail (material != NULL, NULL);

  record = wb_record_copy (material);
  field = wb_record_type_find_field (record->type, wb_material_get_identity_field (record->type));
  name = g_strdup_printf (_("%s, copy"), wb_record_get_text (record, field));
  record->id = 0;
  record->entry = 0;
  wb_record_set_text (record, field, name);
  if (record->type == &wb_wick_type)
    ((WbWick *) (gpointer) record)->step = WB_INTEGER_NONE;
  return record;
}

GPtrArray *
wb_material_kind_list (const WbAppMaterials *materials,
                       const WbRecordType   *type)
{
  const struct { const WbRecordType *type; GPtrArray *list; } lists[] = {
    { &wb_vessel_type, materials->vessels },
    { &wb_wax_type, materials->waxes },
    { &wb_wick_type, materials->wicks },
    { &wb_wick_guide_type, materials->guides },
    { &wb_fragrance_type, materials->fragrances },
    { &wb_fragrance_part_type, materials->parts },
    { &wb_dye_type, materials->dyes },
    { &wb_additive_type, materials->additives },
    { &wb_lot_type, materials->lots },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (lists); i++)
    if (lists[i].type == type)
      return lists[i].list;
  g_return_val_if_reached (NULL);
}

const WbRecordType *
wb_material_find_type (const WbAppMaterials *materials,
                       gint64                id)
{
  g_return_val_if_fail (materials != NULL, NULL);

  for (guint k = 0; k < G_N_ELEMENTS (kinds); k++)
    {
      GPtrArray *list = wb_material_kind_list (materials, kinds[k].type);

      for (guint i = 0; i < list->len; i++)
        if (((const WbRecord *) list->pdata[i])->id == id)
          return kinds[k].type;
    }
  return NULL;
}

static void
add (GPtrArray *words,
     char      *word)
{
  if (word != NULL && *word != '\0')
    g_ptr_array_add (words, word);
  else
    g_free (word);
}

/* NULL where it is not known. */
static char *
quantity (WbQuantity of,
          double     value,
          gboolean   us_units)
{
  if (isnan (value))
    return NULL;
  return wb_quantity_format (wb_quantity_get_shown_unit (of, us_units), value, -1);
}

/* The word of an enumeration's field, NULL where it is not known. */
static char *
word_of (gconstpointer  record,
         const char    *name)
{
  const WbFieldSpec *field = wb_record_type_find_field (((const WbRecord *) record)->type, name);

  if (!wb_record_is_known (record, field))
    return NULL;
  return g_strdup (_(field->words[wb_record_get_integer (record, field)].label));
}

static char *
join (GPtrArray *words)
{
  g_ptr_array_add (words, NULL);
  return g_strjoinv (" · ", (char **) words->pdata);
}

char *
wb_material_dup_summary (gconstpointer material,
                         gboolean      us_units)
{
  const WbRecordType *type;
  g_autoptr (GPtrArray) words = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *value = NULL;
  const WbFieldSpec *supplier;

  g_return_val_if_fail (material != NULL, NULL);

  type = ((const WbRecord *) material)->type;
  if (type == &wb_vessel_type)
    {
      add (words, quantity (WB_QUANTITY_LENGTH, ((const WbVessel *) material)->inner_diameter_mm, us_units));
      add (words, word_of (material, "wall"));
      value = quantity (WB_QUANTITY_MASS, ((const WbVessel *) material)->water_g, us_units);
      add (words, value != NULL ? g_strdup_printf (_("%s of water"), value) : NULL);
    }
  else if (type == &wb_wax_type)
    {
      add (words, word_of (material, "kind"));
      add (words, quantity (WB_QUANTITY_DENSITY, ((const WbWax *) material)->density, us_units));
    }
  else if (type == &wb_wick_type)
    {
      add (words, word_of (material, "kind"));
      if (((const WbWick *) material)->step != WB_INTEGER_NONE)
        add (words, g_strdup_printf (_("step %d"), (int) ((const WbWick *) material)->step));
    }
  else if (type == &wb_fragrance_type)
    {
      add (words, g_strdup (((const WbFragrance *) material)->blend ? _("blend") : NULL));
      value = quantity (WB_QUANTITY_TEMPERATURE, ((const WbFragrance *) material)->flash_c, us_units);
      add (words, value != NULL ? g_strdup_printf (_("flash point %s"), value) : NULL);
    }
  else if (type == &wb_dye_type)
    add (words, word_of (material, "form"));
  else if (type == &wb_additive_type)
    {
      value = quantity (WB_QUANTITY_PERCENT, ((const WbAdditive *) material)->usual_pct, us_units);
      add (words, value != NULL ? g_strdup_printf (_("usually %s"), value) : NULL);
    }

  supplier = wb_record_type_find_field (type, "supplier");
  if (supplier != NULL)
    add (words, g_strdup (wb_record_get_text (material, supplier)));
  return join (words);
}

static gconstpointer
find_by_id (GPtrArray *list,
            gint64     id)
{
  for (guint i = 0; i < list->len; i++)
    if (((const WbRecord *) list->pdata[i])->id == id)
      return list->pdata[i];
  return NULL;
}

static char *
dup_guide_title (const WbWickGuide    *guide,
                 const WbAppMaterials *materials,
                 gboolean              us_units)
{
  WbUnit unit = wb_quantity_get_shown_unit (WB_QUANTITY_LENGTH, us_units);
  const WbWax *wax = find_by_id (materials->waxes, guide->wax);
  g_autofree char *from = wb_quantity_format_number (unit, guide->from_mm, -1);
  g_autofree char *to = wb_quantity_format (unit, guide->to_mm, -1);

  /* Translators: wax, lowest and highest diameter. */
  return g_strdup_printf (_("%s: %s to %s"), wax != NULL ? wax->name : _("Any wax"), from, to);
}

char *
wb_material_dup_part_title (gconstpointer         part,
                            const WbAppMaterials *materials,
                            gboolean              us_units)
{
  const WbRecordType *type;

  g_return_val_if_fail (part != NULL && materials != NULL, NULL);

  type = ((const WbRecord *) part)->type;
  if (type == &wb_wick_guide_type)
    return dup_guide_title (part, materials, us_units);
  if (type == &wb_fragrance_part_type)
    {
      const WbFragrance *of = find_by_id (materials->fragrances, ((const WbFragrancePart *) part)->part);
      g_autofree char *share = wb_quantity_format (WB_UNIT_PERCENT, ((const WbFragrancePart *) part)->share_pct, -1);

      return g_strdup_printf ("%s: %s", of != NULL ? of->name : "?", share);
    }
  if (type == &wb_lot_type)
    {
      const WbLot *lot = part;
      g_autofree char *day = lot->received_on != WB_DAY_NONE ? wb_day_format_local (lot->received_on) : NULL;

      if (day == NULL)
        return g_strdup_printf (lot->used_up ? _("%s (used up)") : "%s", lot->code);
      return g_strdup_printf (lot->used_up ? _("%s, received %s (used up)") : _("%s, received %s"), lot->code, day);
    }
  g_return_val_if_reached (NULL);
}

gboolean
wb_material_asks (gconstpointer      material,
                  const WbFieldSpec *field)
{
  const WbRecordType *type;

  g_return_val_if_fail (material != NULL && field != NULL, TRUE);

  type = ((const WbRecord *) material)->type;
  /* What was entered is never hidden. */
  if (wb_record_is_known (material, field))
    return TRUE;
  if (type == &wb_vessel_type && g_str_has_suffix (field->name, "_width_mm"))
    return ((const WbVessel *) material)->shape > WB_SHAPE_ROUND;
  if (type == &wb_wax_type && g_str_equal (field->name, "hold_back_pct"))
    return ((const WbWax *) material)->crystallises;
  return TRUE;
}

const char *
wb_material_get_caution (gconstpointer material)
{
  g_return_val_if_fail (material != NULL, NULL);
  return ((const WbRecord *) material)->type == &wb_vessel_type ? wb_craft_vessel_get_caution (material) : NULL;
}

char *
wb_material_dup_doubt (gconstpointer   material,
                       gboolean        us_units,
                       const char    **field)
{
  const WbWax *wax = material;
  g_autofree char *doubt = NULL;
  WbCraftWaxHeat heat;

  g_return_val_if_fail (material != NULL && field != NULL, NULL);

  *field = NULL;
  if (wax->record.type != &wb_wax_type)
    return NULL;
  heat = wb_craft_wax_heat_of (wax);
  doubt = wb_craft_wax_dup_doubt (&heat, wax->melt_c, TRUE, us_units, field);
  return doubt != NULL ? g_strdup_printf (_("%s Look it up in the wax's data sheet."), doubt) : NULL;
}

static gboolean
same_text (const char *a,
           const char *b)
{
  g_autofree char *x = a != NULL ? g_utf8_casefold (a, -1) : NULL;
  g_autofree char *y = b != NULL ? g_utf8_casefold (b, -1) : NULL;

  return g_strcmp0 (x, y) == 0;
}

/* Identity by the model's rule: vessels by name and diameter, wicks by series and size, the rest by name. */
static gboolean
is_same (gconstpointer a,
         gconstpointer b)
{
  const WbRecordType *type = ((const WbRecord *) a)->type;

  if (type == &wb_wick_type)
    return same_text (((const WbWick *) a)->series, ((const WbWick *) b)->series) &&
           same_text (((const WbWick *) a)->size, ((const WbWick *) b)->size);
  if (type == &wb_vessel_type &&
      ((const WbVessel *) a)->inner_diameter_mm != ((const WbVessel *) b)->inner_diameter_mm)
    return FALSE;
  return same_text (wb_record_get_text (a, wb_record_type_find_field (type, "name")),
                    wb_record_get_text (b, wb_record_type_find_field (type, "name")));
}

gconstpointer
wb_material_find_other_series (GPtrArray    *wicks,
                               const WbWick *wick)
{
  g_return_val_if_fail (wicks != NULL && wick != NULL, NULL);

  for (guint i = 0; wick->supplier != NULL && i < wicks->len; i++)
    {
      const WbWick *other = wicks->pdata[i];

      if (other->record.id != wick->record.id && other->supplier != NULL && same_text (other->series, wick->series) &&
          !same_text (other->supplier, wick->supplier))
        return other;
    }
  return NULL;
}

char *
wb_material_dup_two_series (const WbWick *other)
{
  g_return_val_if_fail (other != NULL, NULL);
  return g_strdup_printf (_("There is a series “%s” from “%s” already. Two series of one name would be taken for one: "
                            "give this one another name."), other->series, other->supplier);
}

gconstpointer
wb_material_find_double (GPtrArray     *list,
                         gconstpointer  material)
{
  g_return_val_if_fail (list != NULL && material != NULL, NULL);

  for (guint i = 0; i < list->len; i++)
    if (((const WbRecord *) list->pdata[i])->id != ((const WbRecord *) material)->id && is_same (list->pdata[i], material))
      return list->pdata[i];
  return NULL;
}

char *
wb_material_dup_fault (const WbAppMaterials  *materials,
                       gconstpointer          material,
                       gboolean               us_units,
                       const char           **field)
{
  const WbRecordType *type;
  g_autoptr (GPtrArray) issues = NULL;
  const WbCraftVesselIssue *worst = NULL;
  const WbWick *other = NULL;

  g_return_val_if_fail (material != NULL && field != NULL, NULL);

  type = ((const WbRecord *) material)->type;
  if (type == &wb_vessel_type)
    {
      issues = wb_craft_vessel_check (material, us_units);
      worst = issues->len > 0 ? issues->pdata[0] : NULL;
    }
  if (worst != NULL && worst->grade == WB_CRAFT_VESSEL_WRONG)
    {
      *field = worst->field;
      return g_strdup (worst->text);
    }
  *field = wb_material_get_identity_field (type);
  if (materials != NULL && wb_material_find_double (wb_material_kind_list (materials, type), material) != NULL)
    return g_strdup (_("There is one of that name already"));
  if (materials != NULL && type == &wb_wick_type)
    other = wb_material_find_other_series (materials->wicks, material);
  *field = "series";
  return other != NULL ? wb_material_dup_two_series (other) : NULL;
}
