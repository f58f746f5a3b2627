/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-plan-ladder.h"

#include "wb-craft-batch.h"
#include "wb-craft-ladder-told.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* To the mm, as a hand can set them; NAN: there is one. */
static double
get_spacing_mm (const WbCraftLadder *ladder)
{
  return round (wb_craft_ladder_spacing_mm (ladder->question.inner_diameter_mm, MAX (ladder->question.wicks, 1)));
}

/* Its answer, how sure it is, on what it rests, and which load it was asked for: whoever reads the plan later has nothing else. */
static char *
dup_note (const WbCraftLadder *ladder)
{
  g_autoptr (GString) text = g_string_new (ladder->answer);
  g_autofree char *sureness = wb_craft_ladder_dup_sureness (ladder);
  g_autofree char *load = wb_number_format_trimmed (ladder->question.load_pct, 2, NULL);

  if (sureness != NULL)
    g_string_append_printf (text, " %s", sureness);
  if (ladder->learnt != NULL)
    g_string_append_printf (text, " %s", ladder->learnt);
  if (ladder->shares_vessel)
    {
      g_autofree char *apart = wb_quantity_format (WB_UNIT_MM, get_spacing_mm (ladder), 0);

      /* Translators: a distance */
      g_string_append_printf (text, _(" The wicks stand %s apart, so that they share the vessel evenly (common practice)."), apart);
    }
  if (ladder->question.load_pct > 0)
    /* Translators: a number; "of the wax" or "of the total" */
    g_string_append_printf (text, _(" Asked for a load of %s\302\240%% (%s)."), load, _(wb_basis_words[MAX (ladder->question.load_basis, 0)].label));
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static char *
dup_vessel (const WbCraftLadder *ladder)
{
  return ladder->question.vessel != NULL ? g_strdup (ladder->question.vessel)
                                         : wb_quantity_format (WB_UNIT_MM, ladder->question.inner_diameter_mm, 1);
}

GVariant *
wb_app_plan_ladder_pack (const WbCraftLadder *ladder,
                         gint64               vessel,
                         gint64               wax,
                         gint64               fragrance)
{
  g_autofree char *note = NULL, *name = NULL, *title = NULL, *question = NULL;
  GVariantBuilder wicks;

  g_return_val_if_fail (ladder != NULL, NULL);

  g_variant_builder_init (&wicks, G_VARIANT_TYPE ("ax"));
  for (guint i = 0; i < ladder->steps->len; i++)
    {
      const WbCraftLadderStep *step = g_ptr_array_index (ladder->steps, i);

      if (step->in_ladder)
        g_variant_builder_add (&wicks, "x", step->wick);
    }
  note = dup_note (ladder);
  name = dup_vessel (ladder);
  /* Translators: title of an experiment; a vessel's name or diameter */
  title = g_strdup_printf (_("Which wick for %s"), name);
  /* Translators: what an experiment asks; a vessel's name or diameter */
  question = g_strdup_printf (_("Which of the wicks on the ladder is right for %s?"), name);
  return g_variant_new (WB_APP_PLAN_LADDER_FORMAT, vessel, wax, fragrance, &wicks, MAX (ladder->question.wicks, 1), get_spacing_mm (ladder), ladder->question.load_pct,
                        MAX (ladder->question.load_basis, 0), title, question, note);
}

static void
set_text (WbAppPlan  *plan,
          const char *field,
          const char *text)
{
  wb_record_set_text (wb_app_plan_get_experiment (plan), wb_record_type_find_field (&wb_experiment_type, field), text);
}

static gboolean
is_among (const GPtrArray *records,
          gint64           id)
{
  for (guint i = 0; i < records->len; i++)
    if (((const WbRecord *) g_ptr_array_index (records, i))->id == id)
      return TRUE;
  return FALSE;
}

/* One that is no longer among the materials is left out. */
static void
choose_scent (WbAppPlan *plan,
              gint64     fragrance,
              double     load_pct,
              int        basis)
{
  if (load_pct > 0 && is_among (wb_app_plan_get_materials (plan)->fragrances, fragrance))
    wb_app_plan_add_scent (plan, fragrance, load_pct, (WbBasis) basis);
  else if (!(load_pct > 0))
    wb_app_plan_add_scent (plan, 0, 0, WB_BASIS_WAX);
}

void
wb_app_plan_ladder_fill (WbAppPlan *plan,
                         GVariant  *packed)
{
  g_autoptr (GVariantIter) wicks = NULL;
  g_autoptr (GArray) choices = g_array_new (FALSE, FALSE, sizeof (WbCraftWickChoice));
  const char *title, *question, *note;
  gint64 vessel, wax, fragrance, wick;
  guint32 count;
  double spacing_mm, load_pct;
  gint32 basis;

  g_return_if_fail (WB_IS_APP_PLAN (plan));
  g_return_if_fail (packed != NULL && g_variant_is_of_type (packed, G_VARIANT_TYPE (WB_APP_PLAN_LADDER_FORMAT)));

  g_variant_get (packed, "(xxxaxuddi&s&s&s)", &vessel, &wax, &fragrance, &wicks, &count, &spacing_mm, &load_pct, &basis, &title, &question, &note);
  while (g_variant_iter_next (wicks, "x", &wick))
    {
      WbCraftWickChoice choice = { wick, count, spacing_mm };

      g_array_append_val (choices, choice);
    }
  if (is_among (wb_app_plan_get_materials (plan)->vessels, vessel))
    wb_app_plan_set_vessel (plan, vessel, TRUE);
  if (is_among (wb_app_plan_get_materials (plan)->waxes, wax))
    wb_app_plan_get_experiment (plan)->wax = wax;
  wb_app_plan_set_wick_choices (plan, choices);
  choose_scent (plan, fragrance, load_pct, basis);
  set_text (plan, "title", title);
  set_text (plan, "question", question);
  set_text (plan, "note", note);
  wb_app_plan_touch (plan);
}

static double
get_load_of_wax (const WbCell *cell)
{
  return cell->load_basis == WB_BASIS_TOTAL ? wb_craft_load_to_wax_pct (cell->load_pct) : cell->load_pct;
}

gboolean
wb_app_plan_ladder_find_load (const GPtrArray *cells,
                              double          *load_pct,
                              WbBasis         *basis)
{
  const WbCell *found = NULL;

  g_return_val_if_fail (cells != NULL && load_pct != NULL && basis != NULL, FALSE);

  for (guint i = 0; i < cells->len; i++)
    {
      const WbCell *cell = g_ptr_array_index (cells, i);

      if (cell->left_out || !(cell->load_pct >= 0) || cell->load_basis < 0)
        continue;
      if (found == NULL || cell->experiment > found->experiment
          || (cell->experiment == found->experiment && get_load_of_wax (cell) > get_load_of_wax (found)))
        found = cell;
    }
  if (found == NULL)
    return FALSE;
  *load_pct = found->load_pct;
  *basis = (WbBasis) found->load_basis;
  return TRUE;
}
