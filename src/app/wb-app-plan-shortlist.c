/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-plan-shortlist.h"

#include "wb-app-plan-private.h"
#include "wb-craft-batch.h"

#include <math.h>
#include <string.h>

/* The only vessel that is chosen; NULL: none, or several. */
static const WbVessel *
find_vessel (WbAppPlan *self)
{
  const GPtrArray *vessels = wb_app_plan_get_materials (self)->vessels;
  const WbVessel *only = NULL;

  for (guint i = 0; i < vessels->len; i++)
    {
      const WbVessel *vessel = g_ptr_array_index (vessels, i);

      if (!wb_app_plan_has_vessel (self, vessel->record.id))
        continue;
      if (only != NULL)
        return NULL;
      only = vessel;
    }
  return only;
}

/* The wicks chosen, gint64, each once; in their order several choices of one stand together. */
static GArray *
dup_wicks (WbAppPlan *self)
{
  const GArray *choices = wb_app_plan_get_wick_choices (self);
  GArray *wicks = g_array_new (FALSE, FALSE, sizeof (gint64));

  for (guint i = 0; i < choices->len; i++)
    {
      gint64 wick = g_array_index (choices, WbCraftWickChoice, i).wick;

      if (wicks->len == 0 || g_array_index (wicks, gint64, wicks->len - 1) != wick)
        g_array_append_val (wicks, wick);
    }
  return wicks;
}

/* Where all of them stand in the same number, two or more, they are asked about so; 0: as is usual. */
static guint
count_wicks (WbAppPlan *self)
{
  const GArray *choices = wb_app_plan_get_wick_choices (self);
  guint count = 0;

  for (guint i = 0; i < choices->len; i++)
    {
      guint own = g_array_index (choices, WbCraftWickChoice, i).count;

      if (own < 2 || (count != 0 && count != own))
        return 0;
      count = own;
    }
  return count;
}

/* The most fragrance that a wick of this plan has to burn, % of the wax. */
static double
highest_load (WbAppPlan *self)
{
  const GArray *scents = wb_app_plan_get_scents (self);
  double highest = 0;

  for (guint i = 0; i < scents->len; i++)
    {
      const WbCraftScent *scent = &g_array_index (scents, WbCraftScent, i);
      double load = scent->load_basis == WB_BASIS_TOTAL ? wb_craft_load_to_wax_pct (scent->load_pct) : scent->load_pct;

      if (scent->fragrance != 0 && load > highest)
        highest = load;
    }
  return highest;
}

gboolean
wb_app_plan_can_ask_shortlist (WbAppPlan *self)
{
  g_autoptr (GArray) wicks = NULL;

  g_return_val_if_fail (WB_IS_APP_PLAN (self), FALSE);

  wicks = dup_wicks (self);
  return find_vessel (self) != NULL && wicks->len >= 2;
}

char *
wb_app_plan_dup_asked (WbAppPlan *self)
{
  const WbVessel *vessel;
  const GArray *choices;
  GString *asked;

  g_return_val_if_fail (WB_IS_APP_PLAN (self), NULL);

  vessel = find_vessel (self);
  choices = wb_app_plan_get_wick_choices (self);
  asked = g_string_new (NULL);
  g_string_printf (asked, "%" G_GINT64_FORMAT " %g %" G_GINT64_FORMAT " %g", vessel != NULL ? vessel->record.id : 0,
                   vessel != NULL ? vessel->inner_diameter_mm : 0, wb_app_plan_get_experiment (self)->wax, highest_load (self));
  for (guint i = 0; i < choices->len; i++)
    {
      const WbCraftWickChoice *choice = &g_array_index (choices, WbCraftWickChoice, i);

      g_string_append_printf (asked, " %" G_GINT64_FORMAT "×%u", choice->wick, choice->count);
    }
  return g_string_free (asked, FALSE);
}

void
wb_app_plan_shortlist_async (WbAppPlan          *self,
                             WbAppAnswers       *answers,
                             WbAppJob           *job,
                             GAsyncReadyCallback callback,
                             gpointer            user)
{
  const WbVessel *vessel;
  const WbWax *wax;
  g_autoptr (GArray) wicks = NULL;
  g_autofree char *title = NULL;
  WbCraftLadderQuestion question;

  g_return_if_fail (WB_IS_APP_PLAN (self));
  g_return_if_fail (wb_app_plan_can_ask_shortlist (self));

  vessel = find_vessel (self);
  wax = wb_app_plan_find (wb_app_plan_get_materials (self)->waxes, wb_app_plan_get_experiment (self)->wax);
  wicks = dup_wicks (self);
  title = wb_material_dup_title (vessel);
  question = (WbCraftLadderQuestion) {
    .inner_diameter_mm = vessel->inner_diameter_mm,
    .vessel = title,
    .wax = wax != NULL ? wax->name : NULL,
    .load_pct = highest_load (self),
    .load_basis = WB_BASIS_WAX,
    .wicks = count_wicks (self),
    .window_low = wb_app_plan_get_protocol (self)->window_low,
    .window_high = wb_app_plan_get_protocol (self)->window_high,
  };
  wb_app_answers_shortlist_async (answers, &question, wicks, job, callback, user);
}

/* Takes `answer` out of the note, with the end of the line above or below; nothing where a person has changed it. */
static void
drop_from_note (WbExperiment *experiment,
                const char   *answer)
{
  const char *found = experiment->note != NULL ? strstr (experiment->note, answer) : NULL;
  g_autofree char *before = NULL, *both = NULL;
  const char *after;

  if (found == NULL)
    return;
  after = found + strlen (answer);
  before = g_strndup (experiment->note, (gsize) (found - experiment->note));
  if (g_str_has_suffix (before, "\n"))
    before[strlen (before) - 1] = '\0';
  else if (*after == '\n')
    after++;
  both = g_strconcat (before, after, NULL);
  wb_record_set_text (experiment, wb_record_type_find_field (&wb_experiment_type, "note"), *both != '\0' ? both : NULL);
}

static void
add_to_note (WbExperiment *experiment,
             const char   *answer)
{
  g_autofree char *both = NULL;

  if (experiment->note != NULL && strstr (experiment->note, answer) != NULL)
    return;
  both = experiment->note != NULL ? g_strdup_printf ("%s\n%s", experiment->note, answer) : g_strdup (answer);
  wb_record_set_text (experiment, wb_record_type_find_field (&wb_experiment_type, "note"), both);
}

void
wb_app_plan_take_shortlist (WbAppPlan              *self,
                            const WbCraftShortlist *list,
                            const char             *former)
{
  g_autoptr (GArray) choices = g_array_new (FALSE, FALSE, sizeof (WbCraftWickChoice));

  g_return_if_fail (WB_IS_APP_PLAN (self));
  g_return_if_fail (list != NULL);

  for (guint i = 0; i < list->items->len; i++)
    {
      const WbCraftShortlistItem *item = g_ptr_array_index (list->items, i);
      WbCraftWickChoice choice = { item->wick, list->wicks, NAN };

      if (item->taken)
        g_array_append_val (choices, choice);
    }
  if (former != NULL && !g_str_equal (former, list->answer))
    drop_from_note (wb_app_plan_get_experiment (self), former);
  add_to_note (wb_app_plan_get_experiment (self), list->answer);
  wb_app_plan_set_wick_choices (self, choices);
}

void
wb_app_plan_undo_shortlist (WbAppPlan              *self,
                            const WbCraftShortlist *list,
                            const GArray           *before)
{
  g_return_if_fail (WB_IS_APP_PLAN (self));
  g_return_if_fail (list != NULL && before != NULL);

  drop_from_note (wb_app_plan_get_experiment (self), list->answer);
  wb_app_plan_set_wick_choices (self, before);
}
