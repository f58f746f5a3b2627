/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-plan-private.h"

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

/*
 * The plan that was there: its samples and cells go, its own record, protocol and limits are amended. A protocol
 * that others are burnt by too is theirs: the plan gets one of its own.
 */
static void
add_replaced (GPtrArray            *records,
              const WbAppPlanFacts *facts,
              const char           *code)
{
  WbExperiment *experiment = wb_record_copy (facts->experiment);

  for (guint i = 0; i < facts->deletions->len; i++)
    g_ptr_array_add (records, wb_record_copy (g_ptr_array_index (facts->deletions, i)));
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

GPtrArray *
wb_app_plan_dup_records (const WbAppPlanFacts *facts,
                         const GPtrArray      *cells,
                         const char *const    *codes,
                         const char           *experiment_code)
{
  GPtrArray *records = g_ptr_array_new_with_free_func (wb_record_free);
  gint64 experiment = facts->deletions != NULL ? facts->experiment->record.id : EXPERIMENT_ID;
  guint n = (guint) facts->experiment->samples_per_cell, used = 0;

  if (facts->deletions != NULL)
    add_replaced (records, facts, experiment_code);
  else
    {
      add_protocol (records, facts, experiment_code);
      add_profile (records, experiment_code);
      add_experiment (records, facts, experiment_code);
      add_confirmations (records, facts->confirmations, EXPERIMENT_ID);
    }
  for (guint i = 0; i < cells->len; i++)
    {
      WbCell *cell = wb_record_copy (g_ptr_array_index (cells, i));

      cell->record.id = FIRST_CELL_ID - (gint64) i;
      cell->experiment = experiment;
      g_ptr_array_add (records, cell);
      if (cell->left_out)
        continue;
      add_samples (records, experiment, cell->record.id, codes + used, n);
      used += n;
    }
  return records;
}
