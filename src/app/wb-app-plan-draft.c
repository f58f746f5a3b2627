/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-plan-draft.h"

#include "wb-app-plan-private.h"

#include <math.h>

/* Keys: "experiment.title", "limit0.stop_at"; "vessels", "wicks" and the other lists; "title.12" of the material of that number. */
typedef struct
{
  GKeyFile   *file;
  const char *group;
} Place;

/* ---- Records ---- */

static char *
dup_key (const char        *name,
         const WbFieldSpec *field)
{
  return g_strdup_printf ("%s.%s", name, field->name);
}

static void
keep_record (const Place  *place,
             const char   *name,
             gconstpointer record)
{
  const WbRecordType *type = ((const WbRecord *) record)->type;

  for (guint i = 0; i < type->n_fields; i++)
    {
      const WbFieldSpec *field = &type->fields[i];
      g_autofree char *key = dup_key (name, field);

      if (!wb_record_is_known (record, field) || field->type == WB_FIELD_UUID || field->type == WB_FIELD_INSTANT)
        continue;
      if (field->type == WB_FIELD_TEXT)
        g_key_file_set_string (place->file, place->group, key, wb_record_get_text (record, field));
      else if (field->type == WB_FIELD_REAL)
        g_key_file_set_double (place->file, place->group, key, wb_record_get_real (record, field));
      else
        g_key_file_set_int64 (place->file, place->group, key, wb_record_get_integer (record, field));
    }
}

/* NULL: there is none, or it is not one any more. Caller frees. */
static gpointer
dup_record (const Place        *place,
            const char         *name,
            const WbRecordType *type)
{
  g_autoptr (WbRecord) record = wb_record_new (type);
  gboolean any = FALSE;

  for (guint i = 0; i < type->n_fields; i++)
    {
      const WbFieldSpec *field = &type->fields[i];
      g_autofree char *key = dup_key (name, field);
      g_autofree char *text = g_key_file_get_string (place->file, place->group, key, NULL);

      if (text == NULL || field->type == WB_FIELD_UUID || field->type == WB_FIELD_INSTANT)
        continue;
      any = TRUE;
      if (field->type == WB_FIELD_TEXT)
        wb_record_set_text (record, field, text);
      else if (field->type == WB_FIELD_REAL)
        wb_record_set_real (record, field, g_ascii_strtod (text, NULL));
      else
        wb_record_set_integer (record, field, g_ascii_strtoll (text, NULL, 10));
    }
  return any ? g_steal_pointer (&record) : NULL;
}

static void
keep_records (const Place     *place,
              const char      *name,
              const GPtrArray *records)
{
  for (guint i = 0; i < records->len; i++)
    {
      g_autofree char *one = g_strdup_printf ("%s%u", name, i);

      keep_record (place, one, g_ptr_array_index (records, i));
    }
}

/* Caller unrefs. */
static GPtrArray *
dup_records (const Place        *place,
             const char         *name,
             const WbRecordType *type)
{
  GPtrArray *records = g_ptr_array_new_with_free_func (wb_record_free);
  gpointer record;

  do
    {
      g_autofree char *one = g_strdup_printf ("%s%u", name, records->len);

      record = dup_record (place, one, type);
      if (record != NULL)
        g_ptr_array_add (records, record);
    }
  while (record != NULL);
  return records;
}

/* ---- Materials ---- */

static char *
dup_title_key (gint64 id)
{
  return g_strdup_printf ("title.%" G_GINT64_FORMAT, id);
}

static void
keep_title (const Place     *place,
            const GPtrArray *records,
            gint64           id)
{
  g_autofree char *key = dup_title_key (id), *title = NULL;
  gconstpointer record = wb_app_plan_find (records, id);

  if (record == NULL)
    return;
  title = wb_material_dup_title (record);
  g_key_file_set_string (place->file, place->group, key, title);
}

/* A notebook that was put back to an earlier state may have given the number to another. */
static gboolean
is_there (const Place     *place,
          const GPtrArray *records,
          gint64           id)
{
  g_autofree char *key = dup_title_key (id), *before = g_key_file_get_string (place->file, place->group, key, NULL), *title = NULL;
  gconstpointer record = wb_app_plan_find (records, id);

  if (record == NULL)
    return FALSE;
  title = wb_material_dup_title (record);
  return g_strcmp0 (title, before) == 0;
}

/* ---- The grid: it is kept as cells, from which vessels, wicks and scents are read again ---- */

static void
keep_cell (GString      *list,
           const WbCell *cell)
{
  char spacing[G_ASCII_DTOSTR_BUF_SIZE], load[G_ASCII_DTOSTR_BUF_SIZE];

  g_string_append_printf (list, "%" G_GINT64_FORMAT " %" G_GINT64_FORMAT " %" G_GINT64_FORMAT " %s %" G_GINT64_FORMAT " %s %d;", cell->vessel,
                          cell->wick, cell->wick_count, g_ascii_dtostr (spacing, sizeof spacing, cell->wick_spacing_mm), cell->fragrance,
                          g_ascii_dtostr (load, sizeof load, cell->load_pct), cell->load_basis);
}

static void
keep_grid (WbAppPlan   *self,
           const Place *place)
{
  const WbAppPlanFacts facts = wb_app_plan_get_facts (self);
  g_autoptr (GString) vessels = g_string_new (NULL), wicks = g_string_new (NULL), scents = g_string_new (NULL), off = g_string_new (NULL);

  for (guint i = 0; i < facts.vessels->len; i++)
    {
      keep_title (place, facts.materials->vessels, g_array_index (facts.vessels, gint64, i));
      keep_cell (vessels, &(WbCell) { .vessel = g_array_index (facts.vessels, gint64, i) });
    }
  for (guint i = 0; i < facts.wicks->len; i++)
    {
      const WbCraftWickChoice *wick = &g_array_index (facts.wicks, WbCraftWickChoice, i);

      keep_title (place, facts.materials->wicks, wick->wick);
      keep_cell (wicks, &(WbCell) { .wick = wick->wick, .wick_count = wick->count, .wick_spacing_mm = wick->spacing_mm });
    }
  for (guint i = 0; i < facts.scents->len; i++)
    {
      const WbCraftScent *scent = &g_array_index (facts.scents, WbCraftScent, i);

      keep_title (place, facts.materials->fragrances, scent->fragrance);
      keep_cell (scents, &(WbCell) { .fragrance = scent->fragrance, .load_pct = scent->load_pct, .load_basis = (int) scent->load_basis });
    }
  for (guint i = 0; i < facts.cells->len; i++)
    if (((const WbCell *) g_ptr_array_index (facts.cells, i))->left_out)
      keep_cell (off, g_ptr_array_index (facts.cells, i));
  g_key_file_set_string (place->file, place->group, "vessels", vessels->str);
  g_key_file_set_string (place->file, place->group, "wicks", wicks->str);
  g_key_file_set_string (place->file, place->group, "scents", scents->str);
  g_key_file_set_string (place->file, place->group, "off", off->str);
}

/* WbCell, only what that list says of each. Caller unrefs. */
static GArray *
dup_cells (const Place *place,
           const char  *key)
{
  GArray *cells = g_array_new (FALSE, TRUE, sizeof (WbCell));
  g_autofree char *text = g_key_file_get_string (place->file, place->group, key, NULL);
  g_auto (GStrv) parts = g_strsplit (text != NULL ? text : "", ";", -1);

  for (guint i = 0; parts[i] != NULL; i++)
    {
      g_auto (GStrv) words = g_strsplit (parts[i], " ", -1);
      WbCell cell = { 0 };

      if (g_strv_length (words) != 7)
        continue;
      cell.vessel = g_ascii_strtoll (words[0], NULL, 10);
      cell.wick = g_ascii_strtoll (words[1], NULL, 10);
      cell.wick_count = g_ascii_strtoll (words[2], NULL, 10);
      cell.wick_spacing_mm = g_ascii_strtod (words[3], NULL);
      cell.fragrance = g_ascii_strtoll (words[4], NULL, 10);
      cell.load_pct = g_ascii_strtod (words[5], NULL);
      cell.load_basis = g_str_equal (words[6], "1") ? 1 : 0;
      g_array_append_val (cells, cell);
    }
  return cells;
}

static gboolean
is_part (const WbCell *cell,
         const WbCell *part,
         WbAppPlanPart kind)
{
  if (kind == WB_APP_PLAN_VESSEL)
    return cell->vessel == part->vessel;
  return cell->wick == part->wick && cell->wick_count == part->wick_count
         && (cell->wick_spacing_mm == part->wick_spacing_mm || (isnan (cell->wick_spacing_mm) && isnan (part->wick_spacing_mm)));
}

/* Those that a person moved stand where they stood; parts that are gone are passed over. */
static void
put_in_order (WbAppPlan    *self,
              const GArray *parts,
              WbAppPlanPart kind)
{
  guint to = 0;

  for (guint i = 0; i < parts->len; i++)
    {
      const GPtrArray *cells = wb_app_plan_get_cells (self);
      guint from = cells->len, other = cells->len;

      for (guint k = cells->len; k > 0; k--)
        {
          if (is_part (g_ptr_array_index (cells, k - 1), &g_array_index (parts, WbCell, i), kind))
            from = k - 1;
          if (wb_app_plan_get_place (self, kind, k - 1) == to)
            other = k - 1;
        }
      if (from == cells->len || other == cells->len)
        continue;
      wb_app_plan_move (self, kind, from, other);
      to++;
    }
}

static void
put_off (WbAppPlan   *self,
         const Place *place)
{
  g_autoptr (GArray) kept = dup_cells (place, "off"), off = g_array_new (FALSE, FALSE, sizeof (guint));
  const GPtrArray *cells = wb_app_plan_get_cells (self);

  for (guint i = 0; i < cells->len; i++)
    for (guint k = 0; k < kept->len; k++)
      if (wb_app_plan_is_same_cell (g_ptr_array_index (cells, i), &g_array_index (kept, WbCell, k)))
        {
          g_array_append_val (off, i);
          break;
        }
  wb_app_plan_set_cells_on (self, off, FALSE);
}

static void
put_grid (WbAppPlan   *self,
          const Place *place)
{
  const WbAppMaterials *materials = wb_app_plan_get_materials (self);
  g_autoptr (GArray) vessels = dup_cells (place, "vessels"), wicks = dup_cells (place, "wicks"), kept = dup_cells (place, "scents");
  g_autoptr (GArray) choices = g_array_new (FALSE, FALSE, sizeof (WbCraftWickChoice)), scents = g_array_new (FALSE, FALSE, sizeof (WbCraftScent));

  for (guint i = 0; i < vessels->len; i++)
    if (is_there (place, materials->vessels, g_array_index (vessels, WbCell, i).vessel))
      wb_app_plan_set_vessel (self, g_array_index (vessels, WbCell, i).vessel, TRUE);
  for (guint i = 0; i < wicks->len; i++)
    {
      const WbCell *cell = &g_array_index (wicks, WbCell, i);
      WbCraftWickChoice choice = { cell->wick, (guint) CLAMP (cell->wick_count, 1, WB_APP_PLAN_MOST_WICKS), cell->wick_spacing_mm };

      if (is_there (place, materials->wicks, cell->wick))
        g_array_append_val (choices, choice);
    }
  for (guint i = 0; i < kept->len; i++)
    {
      const WbCell *cell = &g_array_index (kept, WbCell, i);
      WbCraftScent scent = { cell->fragrance, cell->load_pct, (WbBasis) cell->load_basis };

      if (cell->fragrance == 0 || is_there (place, materials->fragrances, cell->fragrance))
        g_array_append_val (scents, scent);
    }
  wb_app_plan_set_wick_choices (self, choices);
  wb_app_plan_set_scents (self, scents);
  put_in_order (self, vessels, WB_APP_PLAN_VESSEL);
  put_in_order (self, wicks, WB_APP_PLAN_WICK);
  put_off (self, place);
}

/* ---- All of it ---- */

void
wb_app_plan_keep (WbAppPlan  *self,
                  GKeyFile   *file,
                  const char *group)
{
  const Place place = { file, group };
  WbAppPlanFacts facts;

  g_return_if_fail (WB_IS_APP_PLAN (self));
  g_return_if_fail (file != NULL && group != NULL);

  facts = wb_app_plan_get_facts (self);
  if (facts.former != NULL)
    return;
  keep_record (&place, "experiment", facts.experiment);
  keep_title (&place, facts.materials->waxes, facts.experiment->wax);
  keep_title (&place, facts.materials->dyes, facts.experiment->dye);
  keep_title (&place, facts.materials->additives, facts.experiment->additive);
  keep_record (&place, "protocol", facts.protocol);
  keep_records (&place, "limit", facts.limits);
  keep_records (&place, "confirmation", facts.confirmations);
  keep_grid (self, &place);
}

gboolean
wb_app_plan_put_back (WbAppPlan  *self,
                      GKeyFile   *file,
                      const char *group)
{
  const Place place = { file, group };
  const WbAppMaterials *materials;
  g_autoptr (GPtrArray) confirmations = NULL;
  WbExperiment *experiment;
  WbProtocol *protocol;

  g_return_val_if_fail (WB_IS_APP_PLAN (self), FALSE);
  g_return_val_if_fail (file != NULL && group != NULL, FALSE);

  experiment = dup_record (&place, "experiment", &wb_experiment_type);
  if (experiment == NULL)
    return FALSE;
  materials = wb_app_plan_get_materials (self);
  if (!is_there (&place, materials->waxes, experiment->wax))
    experiment->wax = 0;
  if (!is_there (&place, materials->dyes, experiment->dye))
    experiment->dye = 0;
  if (!is_there (&place, materials->additives, experiment->additive))
    experiment->additive = 0;
  protocol = dup_record (&place, "protocol", &wb_protocol_type);
  confirmations = dup_records (&place, "confirmation", &wb_confirmation_type);
  wb_app_plan_set_confirmations (self, confirmations);
  wb_app_plan_put (self, experiment, protocol != NULL ? protocol : wb_protocol_new_house (), dup_records (&place, "limit", &wb_limit_type), NULL);
  put_grid (self, &place);
  return TRUE;
}
