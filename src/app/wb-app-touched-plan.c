/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-touched.h"

#include <glib/gi18n-lib.h>

/* The confirmation test: what was approved, under the same protocol, between its neighbours. */

/* The next of its series by step, below or above; NULL: it is the last. */
static const WbWick *
find_neighbour (const GPtrArray *wicks,
                const WbWick    *chosen,
                gboolean         above)
{
  const WbWick *found = NULL;

  for (guint i = 0; i < wicks->len; i++)
    {
      const WbWick *wick = g_ptr_array_index (wicks, i);

      if (g_strcmp0 (wick->series, chosen->series) != 0 || wick->step == WB_INTEGER_NONE
          || (above ? wick->step <= chosen->step : wick->step >= chosen->step))
        continue;
      if (found == NULL || (above ? wick->step < found->step : wick->step > found->step))
        found = wick;
    }
  return found;
}

static void
set_text (WbExperiment *experiment,
          const char   *field,
          const char   *text)
{
  wb_record_set_text (experiment, wb_record_type_find_field (&wb_experiment_type, field), text);
}

/* What is asked: the changes, and what the series has not. */
static char *
dup_question (const WbAppTouched *self,
              const WbWick       *chosen,
              const WbWick       *below,
              const WbWick       *above)
{
  GString *text = g_string_new (NULL);
  g_autofree char *title = wb_material_dup_title (chosen);

  /* Translators: an experiment's code, a combination */
  g_string_append_printf (text, _("Does the decision for %s (%s) still hold?"), self->experiment_code, self->cell);
  for (guint i = 0; i < self->changes->len; i++)
    {
      const WbCraftTouched *change = g_ptr_array_index (self->changes, i);

      if (change->state == WB_CRAFT_TOUCHED_OPEN)
        g_string_append_printf (text, " %s.", change->what);
    }
  if (chosen->step == WB_INTEGER_NONE)
    g_string_append_printf (text, _(" %s has no place in its series: it is tested alone."), title);
  else if (below == NULL && above == NULL)
    g_string_append_printf (text, _(" %s has no neighbour in its series: it is tested alone."), title);
  else if (below == NULL)
    g_string_append_printf (text, _(" %s is the smallest of its series: there is none below to test beside it."), title);
  else if (above == NULL)
    g_string_append_printf (text, _(" %s is the largest of its series: there is none above to test beside it."), title);
  return g_string_free (text, FALSE);
}

/* One a change that is open; the plan fills in its experiment. */
static GPtrArray *
dup_confirmations (const WbAppTouched *self)
{
  GPtrArray *confirmations = g_ptr_array_new_with_free_func (wb_record_free);

  for (guint i = 0; i < self->changes->len; i++)
    {
      const WbCraftTouched *change = g_ptr_array_index (self->changes, i);
      WbConfirmation *confirmation;

      if (change->state != WB_CRAFT_TOUCHED_OPEN)
        continue;
      confirmation = wb_record_new (&wb_confirmation_type);
      confirmation->decision = self->decision;
      confirmation->changed = change->changed;
      confirmation->changed_entry = change->changed_entry;
      g_ptr_array_add (confirmations, confirmation);
    }
  return confirmations;
}

static const WbCell *
find_cell (const WbAppTouched *self,
           const WbDataset    *data,
           guint              *index)
{
  for (guint i = 0; i < data->decisions->len; i++)
    {
      const WbDecision *decision = g_ptr_array_index (data->decisions, i);

      if (decision->record.id != self->decision)
        continue;
      for (*index = 0; *index < data->cells->len; (*index)++)
        if (wb_dataset_get_cell (data, *index)->record.id == decision->cell)
          return wb_dataset_get_cell (data, *index);
    }
  return NULL;
}

static void
choose_materials (WbAppPlan       *plan,
                  const WbDataset *data,
                  const WbCell    *cell,
                  const WbWick    *wicks[3])
{
  g_autoptr (GArray) choices = g_array_new (FALSE, FALSE, sizeof (WbCraftWickChoice));
  g_autoptr (GArray) scents = g_array_new (FALSE, FALSE, sizeof (WbCraftScent));
  WbCraftScent scent = { cell->fragrance, cell->fragrance != 0 ? cell->load_pct : 0, (WbBasis) cell->load_basis };

  for (guint i = 0; i < data->vessels->len; i++)
    {
      gint64 vessel = ((const WbRecord *) g_ptr_array_index (data->vessels, i))->id;

      wb_app_plan_set_vessel (plan, vessel, vessel == cell->vessel);
    }
  for (guint i = 0; i < 3; i++)
    if (wicks[i] != NULL)
      {
        WbCraftWickChoice choice = { .wick = wicks[i]->record.id, .count = (guint) MAX (cell->wick_count, 1), .spacing_mm = cell->wick_spacing_mm };

        g_array_append_val (choices, choice);
      }
  wb_app_plan_set_wick_choices (plan, choices);
  g_array_append_val (scents, scent);
  wb_app_plan_set_scents (plan, scents);
  for (guint i = 0; i < wb_app_plan_get_cells (plan)->len; i++)
    wb_app_plan_set_cell_on (plan, i, TRUE);
}

void
wb_app_touched_fill_plan (const WbAppTouched *self,
                          const WbDataset    *data,
                          WbAppPlan          *plan)
{
  g_autoptr (GPtrArray) confirmations = NULL;
  g_autofree char *title = NULL, *question = NULL, *chosen_title = NULL;
  const WbWick *wicks[3] = { NULL, NULL, NULL };
  const WbCell *cell;
  guint index;

  g_return_if_fail (self != NULL && data != NULL);
  g_return_if_fail (WB_IS_APP_PLAN (plan));

  wb_app_plan_take (plan, data, FALSE);
  cell = find_cell (self, data, &index);
  if (cell == NULL)
    return;
  wicks[1] = wb_dataset_get_wick (data, index);
  if (wicks[1]->step != WB_INTEGER_NONE)
    {
      wicks[0] = find_neighbour (wb_app_plan_get_materials (plan)->wicks, wicks[1], FALSE);
      wicks[2] = find_neighbour (wb_app_plan_get_materials (plan)->wicks, wicks[1], TRUE);
    }
  choose_materials (plan, data, cell, wicks);

  chosen_title = wb_material_dup_title (wicks[1]);
  /* Translators: title of the experiment that tests a decision again: "Confirm HF-1: Brosk B4" */
  title = g_strdup_printf (_("Confirm %s: %s"), self->experiment_code, chosen_title);
  question = dup_question (self, wicks[1], wicks[0], wicks[2]);
  set_text (wb_app_plan_get_experiment (plan), "title", title);
  set_text (wb_app_plan_get_experiment (plan), "question", question);
  wb_app_plan_get_experiment (plan)->repeats = self->experiment;
  confirmations = dup_confirmations (self);
  wb_app_plan_set_confirmations (plan, confirmations);
  wb_app_plan_touch (plan);
}
