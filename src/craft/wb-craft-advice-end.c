/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-advice-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-craft-decision.h"
#include "wb-craft-verdict-private.h"
#include "wb-craft-words-private.h"

/* How a search ends: decided, or with nothing that is good enough, and what is to be tested instead. */

/* ---- Decided ---- */

char *
wb_craft_advice_dup_decided (const WbCraftAdvising    *self,
                             const WbCraftAdviceGroup *group)
{
  const WbCraftGroup *of = wb_craft_advising_get_group (self, group);
  const WbDecision *decision = group->decided != G_MAXUINT ? wb_craft_decision_find (self->data, of) : NULL;
  g_autofree char *name = NULL, *day = NULL, *signature = NULL;

  if (decision == NULL)
    return group->finished ? g_strdup (_("Finished: nothing of it is burnt any more, and nothing is signed for this vessel and scent.")) : NULL;
  name = wb_craft_words_dup_name (self->data, of, group->decided);
  day = decision->signed_at.known ? wb_instant_format_date (decision->signed_at) : NULL;
  if (decision->signed_by != NULL && day != NULL)
    /* Translators: a person; a day. */
    signature = g_strdup_printf (_(", signed by %s on %s"), decision->signed_by, day);
  else
    signature = day != NULL ? g_strdup_printf (_(", signed on %s"), day) : g_strdup ("");
  return group->finished
           /* Translators: a wick; ", signed by Wren on 2 Mar 2026", or nothing. */
           ? g_strdup_printf (_("Finished, and decided for %s%s: nothing of it is burnt any more. The decision stands on the page Compare, with what has changed since, and in the report."),
                              name, signature)
           /* Translators: a wick; ", signed by Wren on 2 Mar 2026", or nothing. */
           : g_strdup_printf (_("Decided for %s%s; the decision stands on the page Compare, with what has changed since, and in the report."), name, signature);
}

/* ---- Nothing is good enough ---- */

/* The best placed that asks for a size which is not in this test, for the one that the group names already if any; NULL: none does. */
static const WbCraftAdvised *
find_asking (const WbCraftAdviceGroup *group)
{
  for (guint i = 0; i < group->n_cells; i++)
    {
      const WbCraftAdvised *advised = &group->cells[i];

      if ((advised->size == WB_CRAFT_SIZE_UP || advised->size == WB_CRAFT_SIZE_DOWN) && advised->next_wick != 0 && !advised->next_tested
          && (group->outside == 0 || group->outside == advised->next_wick))
        return advised;
    }
  return NULL;
}

void
wb_craft_advice_find_instead (const WbCraftAdvising *self,
                              WbCraftAdviceGroup    *group)
{
  const WbCraftAdvised *asking = group->poor && group->outside == 0 ? find_asking (group) : NULL;

  if (asking == NULL)
    return;
  group->outside = asking->next_wick;
  group->outside_name = g_strdup (asking->next_name);
}

/* What takes most from the score is the throw, for which no larger wick is the answer. */
static gboolean
is_weak_of_throw (const WbCraftRanked *ranked)
{
  const WbCraftPart *part = wb_craft_ranked_find_costliest (ranked);

  return part != NULL && part->figure == WB_FIGURE_THROW;
}

static char *
dup_instead (const WbCraftAdvising    *self,
             const WbCraftAdviceGroup *group)
{
  const WbCraftGroup *of = wb_craft_advising_get_group (self, group);
  const WbCraftAdvised *asking = find_asking (group);
  g_autofree char *name = NULL, *says = NULL;

  if (asking != NULL)
    {
      name = wb_craft_words_dup_name (self->data, of, asking->cell);
      says = wb_craft_signs_dup_words (asking->signs, asking->size == WB_CRAFT_SIZE_UP);
      if (*says == '\0')
        {
          /* a crossing alone is told by the limit */
          g_free (says);
          says = wb_craft_advice_dup_evidence (self, asking);
        }
      /* Translators: a size; a size of the test; what was read of it: "tall flame of 42 mm (burn 3 of C5-1)". */
      return asking->size == WB_CRAFT_SIZE_UP
               ? g_strdup_printf (_("Test instead: %s, one size up from %s, which was too small: %s."), group->outside_name, name, says != NULL ? says : "–")
               : g_strdup_printf (_("Test instead: %s, one size down from %s, which was too large: %s."), group->outside_name, name, says != NULL ? says : "–");
    }
  if (group->leader < group->n_cells && is_weak_of_throw (&of->cells[group->leader]))
    return g_strdup (_("What costs it most is its hot throw, and that is no reason for another wick: look at cure, fragrance, load and room."));
  return g_strdup (_("No size of these series beside them is known to be better: ask the page Wick ladder (or wickbench ladder) which wicks of any series are likeliest to do in this vessel."));
}

char *
wb_craft_advice_dup_poor (const WbCraftAdvising    *self,
                          const WbCraftAdviceGroup *group)
{
  const WbCraftGroup *of = wb_craft_advising_get_group (self, group);
  g_autofree char *instead = dup_instead (self, group), *name = NULL, *score = NULL, *says = NULL;

  if (group->leader >= group->n_cells)
    {
      says = wb_craft_advice_dup_evidence (self, &group->cells[0]);
      name = wb_craft_words_dup_name (self->data, of, group->cells[0].cell);
      /* Translators: a wick; what was read of it: "tall flame of 42 mm (burn 3 of C5-1)"; a sentence on what to test. */
      return g_strdup_printf (_("No wick of this test can win any more, and none is good enough; of %s: %s. Nothing of it need be burnt on. %s"), name,
                              says != NULL ? says : "–", instead);
    }
  name = wb_craft_words_dup_name (self->data, of, group->cells[group->leader].cell);
  score = wb_number_format (of->cells[group->leader].score.value, 2, NULL);
  says = wb_craft_advice_dup_evidence (self, &group->cells[group->leader]);
  /* Translators: a wick; its score of 1; what was read of it: "tall flame of 42 mm (burn 3 of C5-1)"; a sentence on what to test. */
  return g_strdup_printf (_("The search among these can stop, but none is good enough: even %s, the best of them, does poorly (%s of 1; %s). %s"), name, score,
                          says != NULL ? says : "–", instead);
}
