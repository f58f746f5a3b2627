/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-plan-private.h"

#include "wb-craft-batch.h"
#include "wb-craft-fill.h"
#include "wb-craft-ladder.h"
#include "wb-craft-ranking.h"
#include "wb-craft-vessel-check.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static void
problem_free (gpointer data)
{
  WbAppPlanProblem *self = data;

  g_free (self->text);
  g_free (self);
}

/* Takes the text. */
static void
add (GPtrArray  *problems,
     const char *field,
     gboolean    blocks,
     char       *text)
{
  WbAppPlanProblem *problem = g_new0 (WbAppPlanProblem, 1);

  problem->field = field;
  problem->text = text;
  problem->blocks = blocks;
  g_ptr_array_add (problems, problem);
}

gconstpointer
wb_app_plan_find (const GPtrArray *records,
                  gint64           id)
{
  for (guint i = 0; id != 0 && i < records->len; i++)
    if (((const WbRecord *) g_ptr_array_index (records, i))->id == id)
      return g_ptr_array_index (records, i);
  return NULL;
}

static void
judge_what_is_there (const WbAppPlanFacts *facts,
                     GPtrArray            *problems)
{
  const WbExperiment *experiment = facts->experiment;

  if (experiment->title == NULL || *experiment->title == '\0')
    add (problems, "title", TRUE, g_strdup (_("Give the experiment a title.")));
  else if (g_utf8_strlen (experiment->title, -1) > WB_NAME_MAXIMUM)
    add (problems, "title", TRUE, g_strdup_printf (_("The title is longer than %d characters."), WB_NAME_MAXIMUM));
  if (wb_app_plan_find (facts->materials->waxes, experiment->wax) == NULL)
    add (problems, "wax", TRUE, g_strdup (_("Choose the wax.")));
  if (facts->vessels->len == 0)
    add (problems, "vessels", TRUE, g_strdup (_("Choose at least one vessel.")));
  if (facts->wicks->len == 0)
    add (problems, "wicks", TRUE, g_strdup (_("Choose at least one wick.")));
  if (facts->scents->len == 0)
    add (problems, "scents", TRUE, g_strdup (_("Choose at least one scent, or no fragrance as the control.")));
  if (facts->vessels->len > 0 && facts->wicks->len > 0 && facts->scents->len > 0 && facts->cells_on == 0)
    add (problems, "cells", TRUE, g_strdup (_("Every combination is switched off.")));
}

static void
judge_shares (const WbAppPlanFacts *facts,
              GPtrArray            *problems)
{
  const WbExperiment *experiment = facts->experiment;

  if (experiment->dye != 0 && !(experiment->dye_pct > 0) && !(experiment->dye_drops_per_kg > 0))
    add (problems, "dye_pct", TRUE, g_strdup (_("Say how much dye goes in: as a share of the wax, or in drops.")));
  if (experiment->additive != 0 && !(experiment->additive_pct > 0))
    add (problems, "additive_pct", TRUE, g_strdup (_("Say how much additive goes in, as a share of the wax.")));
}

/* The load on another basis, the additive counted, as the batch sheet has it. */
static double
load_on (WbBasis               basis,
         const WbAppPlanFacts *facts,
         const WbCraftScent   *scent)
{
  double additive = facts->experiment->additive != 0 ? facts->experiment->additive_pct : NAN;
  WbCraftSplit of_one = wb_craft_batch_split (1, scent->load_pct, (WbBasis) scent->load_basis, additive);

  return 100 * of_one.oil_g / (basis == WB_BASIS_TOTAL ? 1 : of_one.wax_g);
}

static void
judge_scent (const WbAppPlanFacts *facts,
             const WbCraftScent   *scent,
             GPtrArray            *problems)
{
  const WbFragrance *fragrance = wb_app_plan_find (facts->materials->fragrances, scent->fragrance);
  const WbWax *wax = wb_app_plan_find (facts->materials->waxes, facts->experiment->wax);

  if (scent->fragrance == 0)
    return;
  if (fragrance == NULL)
    {
      add (problems, "scents", TRUE, g_strdup (_("A fragrance of the plan is no longer among the materials.")));
      return;
    }
  if (!(scent->load_pct > 0 && scent->load_pct <= 30))
    {
      add (problems, "load", TRUE, g_strdup_printf (_("%s: the load must be above 0 and at most 30 %%."), fragrance->name));
      return;
    }
  if (wax != NULL && !isnan (wax->max_load_pct)
      && load_on ((WbBasis) wax->max_load_basis, facts, scent) > wax->max_load_pct + 1e-9)
    add (problems, "load", FALSE,
         g_strdup_printf (_("%s: the load is above the most that the supplier states for %s."), fragrance->name, wax->name));
  if (!isnan (fragrance->ifra_limit_pct) && load_on (WB_BASIS_TOTAL, facts, scent) > fragrance->ifra_limit_pct + 1e-9)
    add (problems, "load", FALSE,
         g_strdup_printf (_("%s: the load is above its IFRA limit of the finished product."), fragrance->name));
}

/* The experiment can be planned; nobody can weigh out its oil. */
static void
judge_blend (const WbAppPlanFacts *facts,
             const WbCraftScent   *scent,
             GPtrArray            *problems)
{
  const WbFragrance *fragrance = wb_app_plan_find (facts->materials->fragrances, scent->fragrance);
  g_autofree char *wrong = NULL;
  double sum = 0;
  guint n = 0;

  if (fragrance == NULL || !fragrance->blend)
    return;
  for (guint i = 0; i < facts->materials->parts->len; i++)
    {
      const WbFragrancePart *part = g_ptr_array_index (facts->materials->parts, i);

      if (part->fragrance != fragrance->record.id)
        continue;
      sum += part->share_pct;
      n++;
    }
  /* A blend without parts is weighed out as one oil. */
  wrong = n > 0 ? wb_craft_blend_dup_wrong (sum) : NULL;
  if (wrong != NULL)
    /* Translators: a blend; a sentence: what is wrong with its parts. */
    add (problems, "scents", FALSE, g_strdup_printf (_("%s: %s Until they make 100 %% there is no batch sheet."), fragrance->name, wrong));
}

static gboolean
same_scent (const WbCraftScent *a,
            const WbCraftScent *b)
{
  return a->fragrance == b->fragrance && a->load_pct == b->load_pct && a->load_basis == b->load_basis;
}

static void
judge_scents (const WbAppPlanFacts *facts,
              GPtrArray            *problems)
{
  for (guint i = 0; i < facts->scents->len; i++)
    {
      const WbCraftScent *scent = &g_array_index (facts->scents, WbCraftScent, i);

      judge_scent (facts, scent, problems);
      judge_blend (facts, scent, problems);
      for (guint k = 0; k < i; k++)
        if (same_scent (scent, &g_array_index (facts->scents, WbCraftScent, k)))
          add (problems, "scents", TRUE, g_strdup (_("The same scent stands in the plan twice.")));
    }
}

static gboolean
tries_several (const WbAppPlanFacts *facts)
{
  for (guint i = 0; i < facts->wicks->len; i++)
    if (g_array_index (facts->wicks, WbCraftWickChoice, i).count > 1)
      return TRUE;
  return FALSE;
}

static void
judge_vessels (const WbAppPlanFacts *facts,
               GPtrArray            *problems)
{
  for (guint i = 0; i < facts->vessels->len; i++)
    {
      const WbVessel *vessel = wb_app_plan_find (facts->materials->vessels, g_array_index (facts->vessels, gint64, i));

      if (vessel != NULL && facts->wicks->len > 0 && !tries_several (facts) && vessel->inner_diameter_mm > WB_CRAFT_ONE_WICK_MM)
        add (problems, "wicks", FALSE,
             g_strdup_printf (_("%s is so wide that makers use more than one wick in it (common practice)."), vessel->name));
    }
}

/* Who pours all the same is warned, here and on the batch sheet. */
static void
judge_origins (const WbAppPlanFacts *facts,
               GPtrArray            *problems)
{
  for (guint i = 0; i < facts->vessels->len; i++)
    {
      const WbVessel *vessel = wb_app_plan_find (facts->materials->vessels, g_array_index (facts->vessels, gint64, i));
      const char *caution = vessel != NULL ? wb_craft_vessel_get_caution (vessel) : NULL;

      if (caution != NULL)
        /* Translators: a vessel; a sentence. */
        add (problems, "vessels", FALSE, g_strdup_printf (_("%s: %s"), vessel->name, caution));
    }
}

/* "2 × S-4". */
static char *
dup_choice (const WbAppPlanFacts *facts,
            gint64                wick,
            guint                 count)
{
  g_autofree char *title = wb_material_dup_title (wb_app_plan_find (facts->materials->wicks, wick));

  return count > 1 ? g_strdup_printf ("%u\u00a0×\u00a0%s", count, title) : g_steal_pointer (&title);
}

/* The narrower axis is what the wicks must keep within. */
static double
narrowest_mm (const WbVessel *vessel)
{
  return fmin (vessel->inner_diameter_mm, vessel->inner_width_mm);
}

/* n wicks in a ring, each `spacing` from the next, stand on a circle of spacing / sin (π / n): plane geometry. */
static gboolean
fits (const WbCell   *cell,
      const WbVessel *vessel)
{
  return cell->wick_count < 2 || isnan (cell->wick_spacing_mm)
         || cell->wick_spacing_mm / sin (G_PI / (double) cell->wick_count) < narrowest_mm (vessel);
}

static void
judge_spacings (const WbAppPlanFacts *facts,
                GPtrArray            *problems)
{
  for (guint i = 0; i < facts->cells->len; i++)
    {
      const WbCell *cell = g_ptr_array_index (facts->cells, i);
      const WbVessel *vessel = wb_app_plan_find (facts->materials->vessels, cell->vessel);

      if (cell->left_out || vessel == NULL || fits (cell, vessel))
        continue;
      g_autofree char *choice = dup_choice (facts, cell->wick, (guint) cell->wick_count);
      g_autofree char *spacing = wb_quantity_format (WB_UNIT_MM, cell->wick_spacing_mm, -1);
      g_autofree char *title = wb_material_dup_title (vessel);
      add (problems, "wicks", TRUE, g_strdup_printf (_("%s, %s apart, do not fit into %s."), choice, spacing, title));
      return;
    }
}

/* Two wicks of one place in a series are one strength to the ladder and to whoever reads the labels. */
static void
judge_steps (const WbAppPlanFacts *facts,
             GPtrArray            *problems)
{
  for (guint i = 1; i < facts->wicks->len; i++)
    for (guint k = 0; k < i; k++)
      {
        const WbWick *one = wb_app_plan_find (facts->materials->wicks, g_array_index (facts->wicks, WbCraftWickChoice, k).wick);
        const WbWick *other = wb_app_plan_find (facts->materials->wicks, g_array_index (facts->wicks, WbCraftWickChoice, i).wick);

        if (one == NULL || other == NULL || one == other || one->step == WB_INTEGER_NONE || one->step != other->step
            || g_strcmp0 (one->series, other->series) != 0)
          continue;
        add (problems, "wicks", FALSE,
             g_strdup_printf (_("%s %s and %s have the same place in their series: they count as equally strong."), one->series, one->size, other->size));
        return;
      }
}

static void
judge_wicks (const WbAppPlanFacts *facts,
             GPtrArray            *problems)
{
  for (guint i = 1; i < facts->wicks->len; i++)
    {
      const WbCraftWickChoice *choice = &g_array_index (facts->wicks, WbCraftWickChoice, i), *before = choice - 1;

      if (wb_craft_wick_choice_compare (before, choice, facts->materials->wicks) != 0)
        continue;
      g_autofree char *name = dup_choice (facts, choice->wick, choice->count);
      add (problems, "wicks", TRUE, g_strdup_printf (_("%s stands in the plan twice."), name));
    }
}

/* Not needed to burn, but nobody can weigh out a candle whose fill is not known. */
static void
judge_fill (const WbAppPlanFacts *facts,
            GPtrArray            *problems)
{
  const WbWax *wax = wb_app_plan_find (facts->materials->waxes, facts->experiment->wax);

  for (guint i = 0; wax != NULL && i < facts->vessels->len; i++)
    {
      const WbVessel *vessel = wb_app_plan_find (facts->materials->vessels, g_array_index (facts->vessels, gint64, i));
      g_autofree char *missing = vessel != NULL ? wb_craft_fill_dup_missing (vessel, wax) : NULL;

      if (missing == NULL)
        continue;
      /* Translators: a sentence: what to do. */
      add (problems, "vessels", FALSE, g_strdup_printf (_("%s The batch sheet needs it."), missing));
      return;
    }
}

static void
judge_samples (const WbAppPlanFacts *facts,
               GPtrArray            *problems)
{
  gint64 n = facts->experiment->samples_per_cell, wanted = wb_craft_ranking_get_samples_wanted (facts->protocol);

  if (n < 1 || n > 100)
    add (problems, "samples", TRUE, g_strdup (_("There must be 1 to 100 samples of a combination.")));
  else if (n < wanted)
    add (problems, "samples", FALSE,
         g_strdup_printf (_("With fewer than %d samples of a combination none can be recommended."),
                          (int) wanted));
}

static const WbLimit *
find_house_limit (const GPtrArray *house,
                  int              kind)
{
  for (guint i = 0; i < house->len; i++)
    if (((const WbLimit *) g_ptr_array_index (house, i))->kind == kind)
      return g_ptr_array_index (house, i);
  return NULL;
}

static void
judge_limits (const WbAppPlanFacts *facts,
              GPtrArray            *problems)
{
  g_autoptr (GPtrArray) house = wb_limits_new_house ();

  for (guint i = 0; i < facts->limits->len; i++)
    {
      const WbLimit *limit = g_ptr_array_index (facts->limits, i);
      const WbLimit *published = find_house_limit (house, limit->kind);
      const char *label = _(wb_limit_kind_get_label (limit->kind));

      if (limit->off && (limit->off_reason == NULL || *limit->off_reason == '\0'))
        add (problems, "limits", TRUE, g_strdup_printf (_("%s: turning a limit off needs a reason."), label));
      if (!limit->off && published != NULL && !published->house && !(limit->stop_at <= published->stop_at))
        add (problems, "limits", TRUE, g_strdup_printf (_("%s: a published limit may only be tightened."), label));
      if (!limit->off && isnan (limit->stop_at))
        add (problems, "limits", TRUE, g_strdup_printf (_("%s: the limit has no value."), label));
    }
}

static int
blocks_first (gconstpointer a,
              gconstpointer b)
{
  const WbAppPlanProblem *first = *(WbAppPlanProblem *const *) a, *second = *(WbAppPlanProblem *const *) b;

  return second->blocks - first->blocks;
}

GPtrArray *
wb_app_plan_judge (const WbAppPlanFacts *facts)
{
  GPtrArray *problems = g_ptr_array_new_with_free_func (problem_free);

  judge_what_is_there (facts, problems);
  judge_shares (facts, problems);
  judge_scents (facts, problems);
  judge_wicks (facts, problems);
  judge_vessels (facts, problems);
  judge_origins (facts, problems);
  judge_spacings (facts, problems);
  judge_steps (facts, problems);
  judge_fill (facts, problems);
  judge_samples (facts, problems);
  judge_limits (facts, problems);
  /* g_ptr_array_sort keeps the order of equals. */
  g_ptr_array_sort (problems, blocks_first);
  return problems;
}
