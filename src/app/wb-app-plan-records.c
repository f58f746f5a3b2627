/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-plan-private.h"

#include <math.h>

/* Negative ids stand for records that are saved earlier in the same entry. */
#define PROTOCOL_ID (-1)
#define PROFILE_ID (-2)
#define EXPERIMENT_ID (-3)
#define FIRST_CELL_ID (-10)

char *
wb_app_plan_dup_free_code (const GPtrArray *experiments)
{
  for (guint number = 1;; number++)
    {
      g_autofree char *code = g_strdup_printf ("E-%u", number);
      gboolean taken = FALSE;

      for (guint i = 0; i < experiments->len && !taken; i++)
        taken = g_strcmp0 (wb_app_experiment_get_code (g_ptr_array_index (experiments, i)), code) == 0;
      if (!taken)
        return g_steal_pointer (&code);
    }
}

static void
add_protocol (GPtrArray            *records,
              const WbAppPlanFacts *facts,
              const char           *code)
{
  WbProtocol *protocol = wb_record_copy (facts->protocol);
  g_autofree char *name = g_strdup_printf ("%s, %s", protocol->name != NULL ? protocol->name : "Protocol", code);

  protocol->record.id = PROTOCOL_ID;
  protocol->record.entry = 0;
  wb_record_set_text (protocol, wb_record_type_find_field (&wb_protocol_type, "name"), name);
  g_ptr_array_add (records, protocol);
  for (guint i = 0; i < facts->limits->len; i++)
    {
      WbLimit *limit = wb_record_copy (g_ptr_array_index (facts->limits, i));

      limit->record.id = 0;
      limit->record.entry = 0;
      limit->protocol = PROTOCOL_ID;
      g_ptr_array_add (records, limit);
    }
}

gboolean
wb_app_plan_is_same_cell (const WbCell *a,
                          const WbCell *b)
{
  return a->vessel == b->vessel && a->wick == b->wick && a->wick_count == b->wick_count
         && (a->wick_count == 1 || a->wick_spacing_mm == b->wick_spacing_mm || (isnan (a->wick_spacing_mm) && isnan (b->wick_spacing_mm)))
         && a->fragrance == b->fragrance && (a->fragrance == 0 || (a->load_pct == b->load_pct && a->load_basis == b->load_basis));
}

static const WbCell *
find_former (const GPtrArray *former,
             const WbCell    *cell)
{
  for (guint i = 0; former != NULL && i < former->len; i++)
    {
      const WbRecord *record = g_ptr_array_index (former, i);

      if (record->type == &wb_cell_type && wb_app_plan_is_same_cell ((const WbCell *) record, cell))
        return (const WbCell *) record;
    }
  return NULL;
}

/* WbSample of a combination that both plans have, the first n, borrowed. Caller unrefs. */
static GPtrArray *
list_kept (const GPtrArray *former,
           const WbCell    *cell,
           guint            n)
{
  GPtrArray *kept = g_ptr_array_new ();
  const WbCell *own = cell->left_out ? NULL : find_former (former, cell);

  for (guint i = 0; own != NULL && i < former->len && kept->len < n; i++)
    {
      const WbRecord *record = g_ptr_array_index (former, i);

      if (record->type == &wb_sample_type && ((const WbSample *) record)->cell == own->record.id)
        g_ptr_array_add (kept, (gpointer) record);
    }
  return kept;
}

gboolean
wb_app_plan_is_outdated (const WbAppPlanFacts *facts,
                         const GPtrArray      *samples)
{
  guint before = 0, now = 0;

  for (guint i = 0; facts->former != NULL && i < facts->former->len; i++)
    {
      const WbRecord *record = g_ptr_array_index (facts->former, i);

      if (record->type != &wb_sample_type)
        continue;
      before++;
      if (wb_app_plan_find (samples, record->id) == NULL)
        return TRUE;
    }
  for (guint i = 0; facts->former != NULL && i < samples->len; i++)
    {
      const WbSample *sample = g_ptr_array_index (samples, i);

      if (sample->experiment != facts->experiment->record.id)
        continue;
      now++;
      if (sample->poured_on != WB_DAY_NONE || sample->batch != 0)
        return TRUE;
    }
  return facts->former != NULL && now != before;
}

static void
add_deletion (GPtrArray      *records,
              const WbRecord *record)
{
  WbRecord *gone = wb_record_copy (record);

  gone->deleted = TRUE;
  g_ptr_array_add (records, gone);
}

/* Of the plan that was there what the new one has no more: samples first, then the cells that they were of. */
static void
add_deletions (GPtrArray            *records,
               const WbAppPlanFacts *facts,
               const GPtrArray      *cells,
               guint                 n)
{
  g_autoptr (GHashTable) stay = g_hash_table_new (NULL, NULL);

  for (guint i = 0; i < cells->len; i++)
    {
      const WbCell *cell = g_ptr_array_index (cells, i);
      g_autoptr (GPtrArray) kept = list_kept (facts->former, cell, n);

      g_hash_table_add (stay, (gpointer) find_former (facts->former, cell));
      for (guint k = 0; k < kept->len; k++)
        g_hash_table_add (stay, g_ptr_array_index (kept, k));
    }
  for (guint i = 0; i < facts->former->len; i++)
    if (!g_hash_table_contains (stay, g_ptr_array_index (facts->former, i)))
      add_deletion (records, g_ptr_array_index (facts->former, i));
}

/*
 * The plan that was there: its own record, protocol and limits are amended. A protocol that others are burnt by too is theirs: the
 * plan gets one of its own.
 */
static void
add_replaced (GPtrArray            *records,
              const WbAppPlanFacts *facts,
              const GPtrArray      *cells,
              guint                 n,
              const char           *code)
{
  WbExperiment *experiment = wb_record_copy (facts->experiment);

  add_deletions (records, facts, cells, n);
  if (facts->shares_protocol)
    {
      add_protocol (records, facts, code);
      experiment->protocol = PROTOCOL_ID;
    }
  else
    {
      g_ptr_array_add (records, wb_record_copy (facts->protocol));
      for (guint i = 0; i < facts->limits->len; i++)
        g_ptr_array_add (records, wb_record_copy (g_ptr_array_index (facts->limits, i)));
    }
  g_ptr_array_add (records, experiment);
}

static void
add_profile (GPtrArray  *records,
             const char *code)
{
  WbProfile *profile = wb_profile_new_house ();
  g_autoptr (GPtrArray) aims = wb_aims_new_house ();
  g_autofree char *name = g_strdup_printf ("%s, %s", profile->name, code);

  profile->record.id = PROFILE_ID;
  wb_record_set_text (profile, wb_record_type_find_field (&wb_profile_type, "name"), name);
  g_ptr_array_add (records, profile);
  for (guint i = 0; i < aims->len; i++)
    {
      WbAim *aim = wb_record_copy (g_ptr_array_index (aims, i));

      aim->profile = PROFILE_ID;
      g_ptr_array_add (records, aim);
    }
}

static void
add_experiment (GPtrArray            *records,
                const WbAppPlanFacts *facts,
                const char           *code)
{
  WbExperiment *experiment = wb_record_copy (facts->experiment);

  experiment->record.id = EXPERIMENT_ID;
  wb_record_set_text (experiment, wb_record_type_find_field (&wb_experiment_type, "code"), code);
  wb_record_set_text (experiment, wb_record_type_find_field (&wb_experiment_type, "title"), facts->experiment->title);
  experiment->protocol = PROTOCOL_ID;
  experiment->profile = PROFILE_ID;
  g_ptr_array_add (records, experiment);
}

static void
add_samples (GPtrArray         *records,
             gint64             experiment,
             gint64             cell,
             const char *const *codes,
             guint              n)
{
  for (guint i = 0; i < n; i++)
    {
      WbSample *sample = wb_record_new (&wb_sample_type);

      sample->experiment = experiment;
      sample->cell = cell;
      sample->code = g_strdup (codes[i]);
      g_ptr_array_add (records, sample);
    }
}

static void
add_confirmations (GPtrArray       *records,
                   const GPtrArray *confirmations,
                   gint64           experiment)
{
  for (guint i = 0; i < confirmations->len; i++)
    {
      WbConfirmation *confirmation = wb_record_copy (g_ptr_array_index (confirmations, i));

      confirmation->experiment = experiment;
      g_ptr_array_add (records, confirmation);
    }
}

/* A combination that both plans have is the same record. The id by which its samples know it. */
static gint64
add_cell (GPtrArray    *records,
          const WbCell *cell,
          const WbCell *former,
          gint64        experiment,
          gint64        id,
          gint64        place)
{
  WbCell *record;

  if (former != NULL && place == WB_INTEGER_NONE)
    place = former->place;
  if (former != NULL && former->left_out == cell->left_out && former->place == place)
    return former->record.id;
  record = wb_record_copy (former != NULL ? former : cell);
  if (former == NULL)
    {
      record->record.id = id;
      record->experiment = experiment;
    }
  record->left_out = cell->left_out;
  record->place = place;
  g_ptr_array_add (records, record);
  return record->record.id;
}

GPtrArray *
wb_app_plan_dup_records (const WbAppPlanFacts *facts,
                         const GPtrArray      *cells,
                         const char *const    *codes,
                         const char           *experiment_code)
{
  GPtrArray *records = g_ptr_array_new_with_free_func (wb_record_free);
  gint64 experiment = facts->former != NULL ? facts->experiment->record.id : EXPERIMENT_ID;
  guint n = (guint) facts->experiment->samples_per_cell, used = 0;

  if (facts->former != NULL)
    add_replaced (records, facts, cells, n, experiment_code);
  else
    {
      add_protocol (records, facts, experiment_code);
      add_profile (records, experiment_code);
      add_experiment (records, facts, experiment_code);
      add_confirmations (records, facts->confirmations, EXPERIMENT_ID);
    }
  for (guint i = 0; i < cells->len; i++)
    {
      const WbCell *cell = g_ptr_array_index (cells, i);
      g_autoptr (GPtrArray) kept = list_kept (facts->former, cell, n);
      gint64 id = add_cell (records, cell, find_former (facts->former, cell), experiment, FIRST_CELL_ID - (gint64) i,
                            facts->is_ordered ? (gint64) i + 1 : WB_INTEGER_NONE);

      if (cell->left_out)
        continue;
      add_samples (records, experiment, id, codes + used + kept->len, n - kept->len);
      used += n;
    }
  return records;
}

/* Of which run its labels tell: what stands on those that are written already, else a new one of what it repeats. */
static guint
get_run (const GPtrArray    *former,
         const WbExperiment *experiment)
{
  for (guint i = 0; experiment->repeats != 0 && former != NULL && i < former->len; i++)
    if (((const WbRecord *) g_ptr_array_index (former, i))->type == &wb_sample_type)
      return wb_craft_grid_run_of_code (((const WbSample *) g_ptr_array_index (former, i))->code);
  return experiment->repeats != 0 ? WB_CRAFT_GRID_NEXT_RUN : 1;
}

/* Codes of all combinations that are on, none of them taken. */
static char **
dup_new_codes (WbAppPlan       *self,
               const GPtrArray *on,
               gboolean         beside_former)
{
  const WbAppMaterials *materials = wb_app_plan_get_materials (self);
  const WbExperiment *experiment = wb_app_plan_get_experiment (self);
  g_autoptr (GPtrArray) sizes = g_ptr_array_new (), taken = g_ptr_array_new ();

  for (guint i = 0; i < on->len; i++)
    g_ptr_array_add (sizes, ((const WbWick *) wb_app_plan_find (materials->wicks, ((const WbCell *) g_ptr_array_index (on, i))->wick))->size);
  for (guint i = 0; materials->samples != NULL && i < materials->samples->len; i++)
    {
      const WbSample *sample = g_ptr_array_index (materials->samples, i);

      if (beside_former || sample->experiment != experiment->record.id)
        g_ptr_array_add (taken, sample->code);
    }
  return wb_craft_grid_codes (on, sizes, (guint) experiment->samples_per_cell, get_run (wb_app_plan_get_former (self), experiment), taken);
}

/* What stays keeps its code; what comes beside it takes none that one of the former plan has, also where that one goes: its label is written. */
char **
wb_app_plan_dup_codes (WbAppPlan *self)
{
  const GPtrArray *cells, *former;
  g_autoptr (GPtrArray) on = g_ptr_array_new ();
  char **codes;
  guint n;

  g_return_val_if_fail (WB_IS_APP_PLAN (self), NULL);

  cells = wb_app_plan_get_cells (self);
  former = wb_app_plan_get_former (self);
  for (guint i = 0; i < cells->len; i++)
    {
      WbCell *cell = g_ptr_array_index (cells, i);

      if (!cell->left_out && wb_app_plan_find (wb_app_plan_get_materials (self)->wicks, cell->wick) != NULL)
        g_ptr_array_add (on, cell);
    }
  if (on->len == 0 || wb_app_plan_get_experiment (self)->samples_per_cell < 1)
    return NULL;
  n = (guint) wb_app_plan_get_experiment (self)->samples_per_cell;
  codes = dup_new_codes (self, on, former != NULL);
  for (guint i = 0; former != NULL && i < on->len; i++)
    {
      g_autoptr (GPtrArray) kept = list_kept (former, g_ptr_array_index (on, i), n);

      /* the first of the new codes behind those that stay */
      for (guint k = n; kept->len > 0 && k > kept->len; k--)
        {
          g_free (codes[i * n + k - 1]);
          codes[i * n + k - 1] = g_strdup (codes[i * n + k - 1 - kept->len]);
        }
      for (guint k = 0; k < kept->len; k++)
        {
          g_free (codes[i * n + k]);
          codes[i * n + k] = g_strdup (((const WbSample *) g_ptr_array_index (kept, k))->code);
        }
    }
  return codes;
}
