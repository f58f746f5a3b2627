/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-plan-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

struct _WbAppPlan
{
  GObject         parent_instance;

  WbAppNotebook  *notebook;
  WbAppMaterials *materials;
  WbAppCalendar  *calendar;    /* NULL: none is set */

  WbExperiment   *experiment;
  WbProtocol     *protocol;
  GPtrArray      *limits;      /* WbLimit */

  GArray         *vessels;     /* gint64 */
  GArray         *wicks;       /* WbCraftWickChoice, in the materials' order */
  GArray         *scents;      /* WbCraftScent */
  gboolean        moved[WB_APP_PLAN_N_PARTS]; /* the person gave them an order of their own */
  WbCraftStock   *stock;       /* NULL: none is kept, or it is not read yet */
  GPtrArray      *confirmations; /* WbConfirmation */
  WbCraftPlanned *repeated;    /* the experiment that is repeated; NULL: none, or it is not read yet */
  char           *repeated_code;
  GPtrArray      *changes;     /* WbCraftChange: what differs from it; NULL without it */
  GPtrArray      *former;      /* WbSample and WbCell of the plan that this one takes the place of; NULL: a new experiment */
  GHashTable     *off;         /* keys of cells that are switched off: they stay so while the grid changes around them */

  GPtrArray      *cells;       /* WbCell */
  GPtrArray      *problems;    /* WbAppPlanProblem */
};

enum { SIGNAL_CHANGED, SIGNAL_OUTLOOK_CHANGED, N_SIGNALS };

static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (WbAppPlan, wb_app_plan, G_TYPE_OBJECT)

static char *
dup_key (const WbCell *cell)
{
  char load[G_ASCII_DTOSTR_BUF_SIZE], spacing[G_ASCII_DTOSTR_BUF_SIZE];

  return g_strdup_printf ("%" G_GINT64_FORMAT ":%" G_GINT64_FORMAT ":%" G_GINT64_FORMAT ":%s:%" G_GINT64_FORMAT ":%s:%d", cell->vessel,
                          cell->wick, cell->wick_count, g_ascii_dtostr (spacing, sizeof spacing, cell->wick_spacing_mm),
                          cell->fragrance, g_ascii_dtostr (load, sizeof load, cell->load_pct), cell->load_basis);
}

static guint
count_on (WbAppPlan *self)
{
  guint n = 0;

  for (guint i = 0; i < self->cells->len; i++)
    n += !((const WbCell *) g_ptr_array_index (self->cells, i))->left_out;
  return n;
}

WbAppPlanFacts
wb_app_plan_get_facts (WbAppPlan *self)
{
  return (WbAppPlanFacts) {
    .materials = self->materials,
    .experiment = self->experiment,
    .protocol = self->protocol,
    .limits = self->limits,
    .vessels = self->vessels,
    .wicks = self->wicks,
    .scents = self->scents,
    .cells = self->cells,
    .cells_on = count_on (self),
    .is_ordered = self->moved[WB_APP_PLAN_VESSEL] || self->moved[WB_APP_PLAN_WICK] || self->moved[WB_APP_PLAN_SCENT],
    .confirmations = self->confirmations,
    .former = self->former,
  };
}

static gconstpointer
find_material (gint64   id,
               gpointer user)
{
  const WbAppMaterials *materials = user;
  const GPtrArray *const tables[] = { materials->vessels, materials->wicks, materials->waxes, materials->fragrances, materials->dyes,
                                      materials->additives };

  for (guint i = 0; i < G_N_ELEMENTS (tables); i++)
    if (wb_app_plan_find (tables[i], id) != NULL)
      return wb_app_plan_find (tables[i], id);
  return NULL;
}

static void
compare (WbAppPlan *self)
{
  g_autoptr (WbCraftPlanned) own = NULL;

  g_clear_pointer (&self->changes, g_ptr_array_unref);
  if (self->repeated == NULL || self->experiment->repeats == 0)
    return;
  own = wb_craft_planned_new (self->experiment, self->protocol, self->cells, find_material, self->materials);
  self->changes = wb_craft_repeat_compare (self->repeated, own);
}

static void
update (WbAppPlan *self)
{
  WbAppPlanFacts facts;

  g_clear_pointer (&self->cells, g_ptr_array_unref);
  self->cells = wb_craft_grid_cells (self->vessels, self->wicks, self->scents);
  for (guint i = 0; i < self->cells->len; i++)
    {
      WbCell *cell = g_ptr_array_index (self->cells, i);
      g_autofree char *key = dup_key (cell);

      cell->left_out = g_hash_table_contains (self->off, key);
    }
  facts = wb_app_plan_get_facts (self);
  g_clear_pointer (&self->problems, g_ptr_array_unref);
  self->problems = wb_app_plan_judge (&facts);
  compare (self);
  g_signal_emit (self, signals[SIGNAL_CHANGED], 0);
}

static void
wb_app_plan_finalize (GObject *object)
{
  WbAppPlan *self = WB_APP_PLAN (object);

  g_clear_object (&self->notebook);
  g_clear_object (&self->calendar);
  g_clear_pointer (&self->materials, wb_app_materials_free);
  g_clear_pointer (&self->experiment, wb_record_free);
  g_clear_pointer (&self->protocol, wb_record_free);
  g_clear_pointer (&self->limits, g_ptr_array_unref);
  g_clear_pointer (&self->former, g_ptr_array_unref);
  g_clear_pointer (&self->stock, wb_craft_stock_free);
  g_ptr_array_unref (self->confirmations);
  g_clear_pointer (&self->repeated, wb_craft_planned_free);
  g_free (self->repeated_code);
  g_clear_pointer (&self->changes, g_ptr_array_unref);
  g_array_unref (self->vessels);
  g_array_unref (self->wicks);
  g_array_unref (self->scents);
  g_hash_table_unref (self->off);
  g_clear_pointer (&self->cells, g_ptr_array_unref);
  g_clear_pointer (&self->problems, g_ptr_array_unref);
  G_OBJECT_CLASS (wb_app_plan_parent_class)->finalize (object);
}

static void
wb_app_plan_class_init (WbAppPlanClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = wb_app_plan_finalize;

  signals[SIGNAL_CHANGED] = g_signal_new ("changed", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                          G_TYPE_NONE, 0);
  signals[SIGNAL_OUTLOOK_CHANGED] = g_signal_new ("outlook-changed", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                                  G_TYPE_NONE, 0);
}

static void
wb_app_plan_init (WbAppPlan *self)
{
  self->experiment = wb_record_new (&wb_experiment_type);
  self->protocol = wb_protocol_new_house ();
  self->limits = wb_limits_new_house ();
  self->vessels = g_array_new (FALSE, FALSE, sizeof (gint64));
  self->wicks = g_array_new (FALSE, FALSE, sizeof (WbCraftWickChoice));
  self->scents = g_array_new (FALSE, FALSE, sizeof (WbCraftScent));
  self->confirmations = g_ptr_array_new_with_free_func (wb_record_free);
  self->off = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  self->experiment->samples_per_cell = self->protocol->samples_wanted;
  self->experiment->seed = 1;
}

WbAppPlan *
wb_app_plan_new (WbAppNotebook  *notebook,
                 WbAppMaterials *materials)
{
  WbAppPlan *self = g_object_new (WB_TYPE_APP_PLAN, NULL);

  self->notebook = g_object_ref (notebook);
  self->materials = materials;
  update (self);
  return self;
}

const WbAppMaterials *
wb_app_plan_get_materials (WbAppPlan *self)
{
  g_return_val_if_fail (WB_IS_APP_PLAN (self), NULL);
  return self->materials;
}

static void
drop_missing (GArray          *ids,
              const GPtrArray *records)
{
  for (guint i = ids->len; i > 0; i--)
    if (wb_app_plan_find (records, g_array_index (ids, gint64, i - 1)) == NULL)
      g_array_remove_index (ids, i - 1);
}

void
wb_app_plan_set_materials (WbAppPlan      *self,
                           WbAppMaterials *materials)
{
  g_return_if_fail (WB_IS_APP_PLAN (self));
  g_return_if_fail (materials != NULL);

  g_clear_pointer (&self->materials, wb_app_materials_free);
  self->materials = materials;
  drop_missing (self->vessels, materials->vessels);
  for (guint i = self->wicks->len; i > 0; i--)
    if (wb_app_plan_find (materials->wicks, g_array_index (self->wicks, WbCraftWickChoice, i - 1).wick) == NULL)
      g_array_remove_index (self->wicks, i - 1);
  if (wb_app_plan_find (materials->waxes, self->experiment->wax) == NULL)
    self->experiment->wax = 0;
  if (wb_app_plan_find (materials->dyes, self->experiment->dye) == NULL)
    self->experiment->dye = 0;
  if (wb_app_plan_find (materials->additives, self->experiment->additive) == NULL)
    self->experiment->additive = 0;
  update (self);
}

void
wb_app_plan_put (WbAppPlan    *self,
                 WbExperiment *experiment,
                 WbProtocol   *protocol,
                 GPtrArray    *limits,
                 GPtrArray    *former)
{
  g_clear_pointer (&self->experiment, wb_record_free);
  g_clear_pointer (&self->protocol, wb_record_free);
  g_clear_pointer (&self->limits, g_ptr_array_unref);
  g_clear_pointer (&self->former, g_ptr_array_unref);
  self->experiment = experiment;
  self->protocol = protocol;
  self->limits = limits;
  self->former = former;
  update (self);
}

WbExperiment *
wb_app_plan_get_experiment (WbAppPlan *self)
{
  g_return_val_if_fail (WB_IS_APP_PLAN (self), NULL);
  return self->experiment;
}

WbProtocol *
wb_app_plan_get_protocol (WbAppPlan *self)
{
  g_return_val_if_fail (WB_IS_APP_PLAN (self), NULL);
  return self->protocol;
}

GPtrArray *
wb_app_plan_get_limits (WbAppPlan *self)
{
  g_return_val_if_fail (WB_IS_APP_PLAN (self), NULL);
  return self->limits;
}

void
wb_app_plan_touch (WbAppPlan *self)
{
  g_return_if_fail (WB_IS_APP_PLAN (self));
  update (self);
}

static int
find_id (const GArray *ids,
         gint64        id)
{
  for (guint i = 0; i < ids->len; i++)
    if (g_array_index (ids, gint64, i) == id)
      return (int) i;
  return -1;
}

static guint
find_material_place (const GPtrArray *records,
                     gint64           id)
{
  for (guint i = 0; i < records->len; i++)
    if (((const WbRecord *) g_ptr_array_index (records, i))->id == id)
      return i;
  return records->len;
}

void
wb_app_plan_set_vessel (WbAppPlan *self,
                        gint64     vessel,
                        gboolean   used)
{
  guint own = find_material_place (self->materials->vessels, vessel), place = 0;
  int before = find_id (self->vessels, vessel);

  g_return_if_fail (WB_IS_APP_PLAN (self));
  if ((before >= 0) == used || (used && own == self->materials->vessels->len))
    return;
  /* the grid keeps the order of the materials, or the person's own, whatever the order in which they are chosen */
  while (place < self->vessels->len
         && (self->moved[WB_APP_PLAN_VESSEL]
             || find_material_place (self->materials->vessels, g_array_index (self->vessels, gint64, place)) < own))
    place++;
  if (used)
    g_array_insert_val (self->vessels, place, vessel);
  else
    g_array_remove_index (self->vessels, (guint) before);
  update (self);
}

/* Takes the choices. */
static void
set_choices (WbAppPlan *self,
             GArray    *choices)
{
  wb_app_plan_order_sort_wicks (choices, self->moved[WB_APP_PLAN_WICK] ? self->wicks : NULL, self->materials->wicks);
  g_array_unref (self->wicks);
  self->wicks = choices;
  update (self);
}

static WbCraftWickChoice
choice_of (gint64 wick,
           guint  count,
           double spacing_mm)
{
  return (WbCraftWickChoice) { wick, CLAMP (count, 1, WB_APP_PLAN_MOST_WICKS), count > 1 ? spacing_mm : NAN };
}

static int
find_choice (WbAppPlan               *self,
             const WbCraftWickChoice *choice)
{
  guint place = wb_app_plan_order_find_wick (self->wicks, choice, self->materials->wicks);

  return place < self->wicks->len ? (int) place : -1;
}

void
wb_app_plan_set_wick_choice (WbAppPlan *self,
                             gint64     wick,
                             guint      count,
                             double     spacing_mm,
                             gboolean   used)
{
  WbCraftWickChoice choice = choice_of (wick, count, spacing_mm);
  GArray *choices;
  int place;

  g_return_if_fail (WB_IS_APP_PLAN (self));
  place = find_choice (self, &choice);
  if ((place >= 0) == used || (used && wb_app_plan_find (self->materials->wicks, wick) == NULL))
    return;
  choices = g_array_copy (self->wicks);
  if (used)
    g_array_append_val (choices, choice);
  else
    g_array_remove_index (choices, (guint) place);
  set_choices (self, choices);
}

void
wb_app_plan_set_wick_choices (WbAppPlan    *self,
                              const GArray *choices)
{
  GArray *taken;

  g_return_if_fail (WB_IS_APP_PLAN (self));
  g_return_if_fail (choices != NULL);

  taken = g_array_new (FALSE, FALSE, sizeof (WbCraftWickChoice));
  for (guint i = 0; i < choices->len; i++)
    {
      const WbCraftWickChoice *given = &g_array_index (choices, WbCraftWickChoice, i);
      WbCraftWickChoice choice = choice_of (given->wick, given->count, given->spacing_mm);

      if (wb_app_plan_find (self->materials->wicks, choice.wick) != NULL)
        g_array_append_val (taken, choice);
    }
  set_choices (self, taken);
}

const GArray *
wb_app_plan_get_wick_choices (WbAppPlan *self)
{
  g_return_val_if_fail (WB_IS_APP_PLAN (self), NULL);
  return self->wicks;
}

void
wb_app_plan_set_wick (WbAppPlan *self,
                      gint64     wick,
                      gboolean   used)
{
  wb_app_plan_set_wick_choice (self, wick, 1, NAN, used);
}

void
wb_app_plan_set_wicks (WbAppPlan    *self,
                       const GArray *wicks,
                       gboolean      used)
{
  g_autoptr (GArray) choices = NULL;

  g_return_if_fail (WB_IS_APP_PLAN (self));
  g_return_if_fail (wicks != NULL);

  choices = g_array_new (FALSE, FALSE, sizeof (WbCraftWickChoice));
  for (guint i = 0; i < self->wicks->len; i++)
    {
      const WbCraftWickChoice *choice = &g_array_index (self->wicks, WbCraftWickChoice, i);

      if (choice->count > 1 || find_id (wicks, choice->wick) < 0)
        g_array_append_val (choices, *choice);
    }
  for (guint i = 0; used && i < wicks->len; i++)
    {
      WbCraftWickChoice alone = choice_of (g_array_index (wicks, gint64, i), 1, NAN);

      g_array_append_val (choices, alone);
    }
  wb_app_plan_set_wick_choices (self, choices);
}

gboolean
wb_app_plan_has_vessel (WbAppPlan *self,
                        gint64     vessel)
{
  g_return_val_if_fail (WB_IS_APP_PLAN (self), FALSE);
  return find_id (self->vessels, vessel) >= 0;
}

gboolean
wb_app_plan_has_wick (WbAppPlan *self,
                      gint64     wick)
{
  WbCraftWickChoice alone = { wick, 1, NAN };

  g_return_val_if_fail (WB_IS_APP_PLAN (self), FALSE);
  return find_choice (self, &alone) >= 0;
}

void
wb_app_plan_add_scent (WbAppPlan *self,
                       gint64     fragrance,
                       double     load_pct,
                       WbBasis    basis)
{
  WbCraftScent scent = { fragrance, fragrance != 0 ? load_pct : 0, basis };

  g_return_if_fail (WB_IS_APP_PLAN (self));
  g_array_append_val (self->scents, scent);
  update (self);
}

void
wb_app_plan_set_scents (WbAppPlan    *self,
                        const GArray *scents)
{
  g_return_if_fail (WB_IS_APP_PLAN (self));
  g_return_if_fail (scents != NULL);

  g_array_set_size (self->scents, 0);
  for (guint i = 0; i < scents->len; i++)
    {
      WbCraftScent scent = g_array_index (scents, WbCraftScent, i);

      if (scent.fragrance == 0)
        scent.load_pct = 0;
      g_array_append_val (self->scents, scent);
    }
  update (self);
}

const GArray *
wb_app_plan_get_scents (WbAppPlan *self)
{
  g_return_val_if_fail (WB_IS_APP_PLAN (self), NULL);
  return self->scents;
}

void
wb_app_plan_set_samples_per_cell (WbAppPlan *self,
                                  guint      n)
{
  g_return_if_fail (WB_IS_APP_PLAN (self));
  self->experiment->samples_per_cell = n;
  update (self);
}

void
wb_app_plan_set_confirmations (WbAppPlan       *self,
                               const GPtrArray *confirmations)
{
  g_return_if_fail (WB_IS_APP_PLAN (self));
  g_return_if_fail (confirmations != NULL);

  g_ptr_array_set_size (self->confirmations, 0);
  for (guint i = 0; i < confirmations->len; i++)
    g_ptr_array_add (self->confirmations, wb_record_copy (g_ptr_array_index (confirmations, i)));
}

const GPtrArray *
wb_app_plan_get_cells (WbAppPlan *self)
{
  g_return_val_if_fail (WB_IS_APP_PLAN (self), NULL);
  return self->cells;
}

void
wb_app_plan_set_cells_on (WbAppPlan    *self,
                          const GArray *cells,
                          gboolean      on)
{
  g_return_if_fail (WB_IS_APP_PLAN (self));
  g_return_if_fail (cells != NULL);

  for (guint i = 0; i < cells->len; i++)
    {
      guint cell = g_array_index (cells, guint, i);
      g_autofree char *key = NULL;

      g_return_if_fail (cell < self->cells->len);
      key = dup_key (g_ptr_array_index (self->cells, cell));
      if (on)
        g_hash_table_remove (self->off, key);
      else
        g_hash_table_add (self->off, g_steal_pointer (&key));
    }
  update (self);
}

void
wb_app_plan_set_cell_on (WbAppPlan *self,
                         guint      cell,
                         gboolean   on)
{
  g_autoptr (GArray) one = g_array_new (FALSE, FALSE, sizeof (guint));

  g_array_append_val (one, cell);
  wb_app_plan_set_cells_on (self, one, on);
}

guint
wb_app_plan_get_place (WbAppPlan     *self,
                       WbAppPlanPart  part,
                       guint          cell)
{
  g_return_val_if_fail (WB_IS_APP_PLAN (self), 0);
  g_return_val_if_fail (cell < self->cells->len, 0);

  /* a vessel's cells stand together, scent by scent (wb_craft_grid_cells) */
  if (part == WB_APP_PLAN_VESSEL)
    return cell / (self->scents->len * self->wicks->len);
  return part == WB_APP_PLAN_SCENT ? cell / self->wicks->len % self->scents->len : cell % self->wicks->len;
}

void
wb_app_plan_move (WbAppPlan     *self,
                  WbAppPlanPart  part,
                  guint          cell,
                  guint          other)
{
  guint from, to;

  g_return_if_fail (WB_IS_APP_PLAN (self) && part < WB_APP_PLAN_N_PARTS);
  g_return_if_fail (cell < self->cells->len && other < self->cells->len);

  from = wb_app_plan_get_place (self, part, cell);
  to = wb_app_plan_get_place (self, part, other);
  if (from == to)
    return;
  wb_app_plan_order_move (part == WB_APP_PLAN_VESSEL ? self->vessels : part == WB_APP_PLAN_WICK ? self->wicks : self->scents, from, to);
  self->moved[part] = TRUE;
  update (self);
}

void
wb_app_plan_take_order (WbAppPlan       *self,
                        const WbDataset *data)
{
  if (!wb_app_plan_order_take (self->vessels, self->wicks, self->scents, self->materials->wicks, data))
    return;
  for (WbAppPlanPart part = WB_APP_PLAN_VESSEL; part < WB_APP_PLAN_N_PARTS; part++)
    self->moved[part] = TRUE;
  update (self);
}

static char *
dup_wick_name (WbAppPlan    *self,
               const WbCell *cell)
{
  g_autofree char *one = wb_material_dup_title (wb_app_plan_find (self->materials->wicks, cell->wick));

  return cell->wick_count > 1 ? g_strdup_printf ("%" G_GINT64_FORMAT "\u00a0×\u00a0%s", cell->wick_count, one) : g_steal_pointer (&one);
}

char *
wb_app_plan_dup_cell_name (WbAppPlan *self,
                           guint      cell)
{
  const WbCell *record;
  const WbFragrance *fragrance;
  g_autofree char *vessel = NULL, *wick = NULL, *scent = NULL;

  g_return_val_if_fail (WB_IS_APP_PLAN (self), NULL);
  g_return_val_if_fail (cell < self->cells->len, NULL);
  record = g_ptr_array_index (self->cells, cell);
  vessel = wb_material_dup_title (wb_app_plan_find (self->materials->vessels, record->vessel));
  wick = dup_wick_name (self, record);
  fragrance = wb_app_plan_find (self->materials->fragrances, record->fragrance);
  if (fragrance != NULL)
    {
      g_autofree char *load = wb_number_format_trimmed (record->load_pct, 2, NULL);

      scent = g_strdup_printf ("%s %s\u00a0%%", fragrance->name, load);
    }
  else
    scent = g_strdup (_("no fragrance"));
  return g_strdup_printf ("%s · %s · %s", vessel, wick, scent);
}

void
wb_app_plan_set_repeated (WbAppPlan       *self,
                          const WbDataset *source)
{
  g_return_if_fail (WB_IS_APP_PLAN (self));
  g_return_if_fail (source != NULL);
  g_clear_pointer (&self->repeated, wb_craft_planned_free);
  g_free (self->repeated_code);
  self->repeated = wb_craft_planned_of_data (source);
  self->repeated_code = g_strdup (source->experiment->code);
  update (self);
}

const GPtrArray *
wb_app_plan_get_changes (WbAppPlan *self)
{
  g_return_val_if_fail (WB_IS_APP_PLAN (self), NULL);
  return self->changes;
}

const char *
wb_app_plan_get_repeated (WbAppPlan *self)
{
  g_return_val_if_fail (WB_IS_APP_PLAN (self), NULL);
  return self->changes != NULL ? self->repeated_code : NULL;
}

void
wb_app_plan_set_stock (WbAppPlan    *self,
                       WbCraftStock *stock)
{
  g_return_if_fail (WB_IS_APP_PLAN (self));
  g_clear_pointer (&self->stock, wb_craft_stock_free);
  self->stock = stock;
  g_signal_emit (self, signals[SIGNAL_CHANGED], 0);
}

const WbCraftStock *
wb_app_plan_get_stock (WbAppPlan *self)
{
  g_return_val_if_fail (WB_IS_APP_PLAN (self), NULL);
  return self->stock;
}

WbAppNotebook *
wb_app_plan_get_notebook (WbAppPlan *self)
{
  return self->notebook;
}

void
wb_app_plan_take_samples (WbAppPlan *self,
                          GPtrArray *samples)
{
  g_clear_pointer (&self->materials->samples, g_ptr_array_unref);
  self->materials->samples = samples;
}

static void
on_calendar_loaded_cb (WbAppPlan *self)
{
  g_signal_emit (self, signals[SIGNAL_OUTLOOK_CHANGED], 0);
}

void
wb_app_plan_set_calendar (WbAppPlan     *self,
                          WbAppCalendar *calendar)
{
  g_return_if_fail (WB_IS_APP_PLAN (self));
  g_return_if_fail (calendar == NULL || WB_IS_APP_CALENDAR (calendar));

  if (self->calendar != NULL)
    g_signal_handlers_disconnect_by_data (self->calendar, self);
  g_set_object (&self->calendar, calendar);
  if (calendar != NULL)
    g_signal_connect_object (calendar, "notify::loaded", G_CALLBACK (on_calendar_loaded_cb), self, G_CONNECT_SWAPPED);
  on_calendar_loaded_cb (self);
}

WbAppCalendar *
wb_app_plan_get_calendar (WbAppPlan *self)
{
  return self->calendar;
}

const WbNotebook *
wb_app_plan_get_settings (WbAppPlan *self)
{
  return wb_app_notebook_get_settings (self->notebook);
}

const GPtrArray *
wb_app_plan_get_former (WbAppPlan *self)
{
  return self->former;
}

const GPtrArray *
wb_app_plan_get_problems (WbAppPlan *self)
{
  g_return_val_if_fail (WB_IS_APP_PLAN (self), NULL);
  return self->problems;
}
