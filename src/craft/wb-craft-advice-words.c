/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-advice-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-craft-verdict-private.h"
#include "wb-craft-words-private.h"
#include "wb-cure.h"

/* What to burn next, as a maker says it. */

typedef gboolean (*Pick) (const WbCraftAdvised *advised);

static gboolean
is_resting (const WbCraftAdvised *advised)
{
  return advised->running == WB_CRAFT_RUNNING_RESTING && advised->row != WB_CRAFT_ROW_BURNT_DOWN;
}

static gboolean
is_out (const WbCraftAdvised *advised)
{
  return advised->running != WB_CRAFT_RUNNING_OPEN && advised->running != WB_CRAFT_RUNNING_RESTING;
}

/* May be lit now, and is worth it. */
static gboolean
is_lit_next (const WbCraftAdvised *advised)
{
  return advised->candles.ready > 0 && advised->in_ten > 0;
}

static gboolean
burns_now (const WbCraftAdvised *advised)
{
  return advised->candles.alight > 0;
}

static gboolean
is_poured_first (const WbCraftAdvised *advised)
{
  return advised->row == WB_CRAFT_ROW_POUR_FIRST;
}

/* "S-3 and S-4"; NULL: none. */
static char *
dup_names (const WbCraftAdvising    *self,
           const WbCraftAdviceGroup *group,
           Pick                      pick)
{
  const WbCraftGroup *of = wb_craft_advising_get_group (self, group);
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < group->n_cells; i++)
    if (pick (&group->cells[i]))
      g_ptr_array_add (names, wb_craft_words_dup_name (self->data, of, group->cells[i].cell));
  return names->len > 0 ? wb_craft_words_join (names) : NULL;
}

static guint
count (const WbCraftAdviceGroup *group,
       Pick                      pick)
{
  guint n = 0;

  for (guint i = 0; i < group->n_cells; i++)
    n += pick (&group->cells[i]);
  return n;
}

static void
add_sentence (GString    *text,
              const char *sentence)
{
  if (sentence != NULL)
    g_string_append_printf (text, "%s%s", text->len > 0 ? " " : "", sentence);
}

static void
take_sentence (GString *text,
               char    *sentence)
{
  add_sentence (text, sentence);
  g_free (sentence);
}

/* "pour 2 more of S-3 and 1 more of S-4"; NULL: none. */
static char *
dup_pour (const WbCraftAdvising    *self,
          const WbCraftAdviceGroup *group)
{
  const WbCraftGroup *of = wb_craft_advising_get_group (self, group);
  g_autoptr (GPtrArray) parts = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *joined = NULL;

  for (guint i = 0; i < group->n_cells; i++)
    {
      const WbCraftAdvised *advised = &group->cells[i];
      g_autofree char *name = NULL;

      if (advised->pour == 0)
        continue;
      name = wb_craft_words_dup_name (self->data, of, advised->cell);
      /* Translators: so many further candles of a wick. */
      g_ptr_array_add (parts, g_strdup_printf (_("%u of %s"), advised->pour, name));
    }
  if (parts->len == 0)
    return NULL;
  joined = wb_craft_words_join (parts);
  /* Translators: "2 of S-3 and 1 of S-4". */
  return g_strdup_printf (_("Further candles to pour: %s."), joined);
}

/* Those of a row that waits for the same time, "A3 and A5"; NULL: the cell is not the first of them. */
static char *
dup_waiting_alike (const WbCraftAdvising    *self,
                   const WbCraftAdviceGroup *group,
                   guint                     first,
                   const char               *words)
{
  const WbCraftGroup *of = wb_craft_advising_get_group (self, group);
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < group->n_cells; i++)
    {
      g_autofree char *other = wb_craft_advised_dup_row_words (&group->cells[i]);

      if (group->cells[i].row != group->cells[first].row || !g_str_equal (other, words))
        continue;
      if (i < first)
        return NULL;
      g_ptr_array_add (names, wb_craft_words_dup_name (self->data, of, group->cells[i].cell));
    }
  return wb_craft_words_join (names);
}

/* "A4 until 9 Dec 2026; A3 and A5 until 12 Dec 2026", of what cures or cools; NULL: none does. */
static char *
dup_waiting (const WbCraftAdvising    *self,
             const WbCraftAdviceGroup *group,
             WbCraftRow                row)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < group->n_cells; i++)
    {
      const WbCraftAdvised *advised = &group->cells[i];
      g_autofree char *words = wb_craft_advised_dup_row_words (advised), *names = NULL, *when = NULL;

      if (advised->row != row || (names = dup_waiting_alike (self, group, i, words)) == NULL)
        continue;
      when = wb_cure_format_at (row == WB_CRAFT_ROW_CURES ? advised->candles.cured_at : advised->candles.cooled_at);
      if (text->len > 0)
        g_string_append (text, "; ");
      /* Translators: one or more wicks, or "cures", "cools"; a day or a time. */
      g_string_append_printf (text, _("%s until %s"), names, when);
    }
  return g_string_free (text, text->len == 0);
}

static char *
dup_out (const WbCraftAdvising    *self,
         const WbCraftAdviceGroup *group)
{
  g_autofree char *names = dup_names (self, group, is_out);

  if (names == NULL)
    return NULL;
  /* Translators: one or more wicks. */
  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s cannot win any more.", "%s cannot win any more.", count (group, is_out)), names);
}

static char *
dup_resting (const WbCraftAdvising    *self,
             const WbCraftAdviceGroup *group)
{
  g_autofree char *names = dup_names (self, group, is_resting);

  if (names == NULL)
    return NULL;
  /* Translators: one or more wicks. */
  return g_strdup_printf (_("Let %s rest for now: a candle that rests is not lost, and may be lit later."), names);
}

/* All of them ask for the same side; what the size at that end shows stands beside it. */
static char *
dup_all (const WbCraftAdvising    *self,
         const WbCraftAdviceGroup *group)
{
  const WbCraftAdvised *shown = NULL;
  g_autofree char *says = NULL;

  for (guint i = 0; i < group->n_cells && group->all != WB_CRAFT_SIZE_CARRY_ON; i++)
    if (shown == NULL || (group->outside != 0 && group->cells[i].next_wick == group->outside))
      shown = &group->cells[i];
  if (shown == NULL)
    return NULL;
  says = wb_craft_signs_dup_words (shown->signs, group->all == WB_CRAFT_SIZE_UP);
  if (*says == '\0')
    {
      g_free (says);
      says = wb_craft_advice_dup_evidence (self, shown);
    }
  if (group->all == WB_CRAFT_SIZE_UP)
    return group->outside_name != NULL
             /* Translators: what was read; a size. */
             ? g_strdup_printf (_("All of them are too small (%s): %s, the next size up, belongs into the test."), says, group->outside_name)
             : g_strdup_printf (_("All of them are too small for this vessel (%s); no larger size can be named."), says);
  return group->outside_name != NULL
           /* Translators: what was read; a size. */
           ? g_strdup_printf (_("All of them are too large (%s): %s, the next size down, belongs into the test."), says, group->outside_name)
           : g_strdup_printf (_("All of them are too large for this vessel (%s); no smaller size can be named."), says);
}

static char *
dup_leader_name (const WbCraftAdvising    *self,
                 const WbCraftAdviceGroup *group)
{
  return wb_craft_words_dup_name (self->data, wb_craft_advising_get_group (self, group), group->cells[group->leader].cell);
}

/* A maker who stops earlier than a recommendation may is not told that it is found. */
static gboolean
is_less_sure (const WbCraftAdvising    *self,
              const WbCraftAdviceGroup *group)
{
  return wb_craft_advising_get_group (self, group)->cells[group->leader].p_near < WB_CRAFT_NEAR_ENOUGH;
}

/* The search is over, and something was found. */
static char *
dup_over (const WbCraftAdvising    *self,
          const WbCraftAdviceGroup *group)
{
  const WbCraftAdvised *leader = &group->cells[group->leader];
  g_autofree char *name = dup_leader_name (self, group), *evidence = wb_craft_advice_dup_evidence (self, leader), *found = NULL;

  if (group->missing->len == 0 && leader->burn_on == 0)
    /* Translators: a wick. */
    found = g_strdup_printf (_("Nothing more need be burnt: %s is as good as any of them or better, and what a recommendation asks for was burnt."), name);
  else if (is_less_sure (self, group))
    {
      g_autofree char *near_best = wb_craft_dup_chance (wb_craft_advising_get_group (self, group)->cells[group->leader].p_near);

      /* Translators: a chance, "7 in 10"; a wick. */
      found = g_strdup_printf (_("The search can stop: with a chance of %s, as sure as the protocol asks, %s is the best or as good as it. Before it can be recommended, more is asked."),
                               near_best, name);
    }
  else if (leader->burn_on == 0)
    found = g_strdup_printf (_("The search can stop: %s is as good as any of them or better. Before it can be recommended, more is asked."), name);
  else
    found = g_strdup_printf (_("The search can stop: %s is as good as any of them or better. Burn its candles down to the end all the same: that is what a recommendation rests on."), name);
  if (evidence == NULL)
    return g_steal_pointer (&found);
  /* Translators: a sentence; a wick; what was read of it: "tall flame of 42 mm (burn 3 of C5-1)". */
  return g_strdup_printf (_("%s What says most of %s: %s."), found, name, evidence);
}

/* What may be lit, what waits for a day, and what has to be poured before. */
static void
add_candles (const WbCraftAdvising    *self,
             const WbCraftAdviceGroup *group,
             GString                  *text)
{
  g_autofree char *lit = dup_names (self, group, is_lit_next), *burning = dup_names (self, group, burns_now);
  g_autofree char *cures = dup_waiting (self, group, WB_CRAFT_ROW_CURES), *cools = dup_waiting (self, group, WB_CRAFT_ROW_COOLS);
  g_autofree char *planned = dup_names (self, group, is_poured_first);

  if (burning != NULL)
    /* Translators: one or more wicks. */
    take_sentence (text, g_strdup_printf (_("Burning now: %s."), burning));
  if (lit != NULL && !group->over)
    /* Translators: one or more wicks. */
    take_sentence (text, g_strdup_printf (group->begun ? _("Burn on: %s.") : _("Light first: %s."), lit));
  if (cools != NULL)
    /* Translators: "C5 until 3 Dec, 19:40". */
    take_sentence (text, g_strdup_printf (_("Still to cool: %s."), cools));
  if (cures != NULL)
    /* Translators: "A3 and A5 until 12 Dec 2026". */
    take_sentence (text, g_strdup_printf (_("Still to cure, and not to be lit before: %s."), cures));
  if (planned != NULL)
    /* Translators: one or more wicks. */
    take_sentence (text, g_strdup_printf (_("Planned only, and to be poured first: %s."), planned));
}

/* Before anything of it was lit this is easily taken for an answer on which wicks to choose. */
static const char *
get_question (const WbCraftAdviceGroup *group)
{
  return group->begun ? NULL
                      : _("This says in which order the wicks of this test are burnt; which wicks belong into a test, the page Wick ladder and “Which of these wicks?” in the plan answer.");
}

/* The search goes on. */
static void
add_search (const WbCraftAdvising    *self,
            const WbCraftAdviceGroup *group,
            GString                  *text)
{
  g_autofree char *pour = dup_pour (self, group), *out = dup_out (self, group), *resting = dup_resting (self, group);

  add_candles (self, group, text);
  add_sentence (text, pour);
  add_sentence (text, resting);
  add_sentence (text, out);
}

static char *
dup_answer (const WbCraftAdvising    *self,
            const WbCraftAdviceGroup *group)
{
  g_autofree char *decided = wb_craft_advice_dup_decided (self, group), *ended = NULL, *pour = NULL, *steps = NULL, *all = NULL;
  GString *text = g_string_new (NULL);

  add_sentence (text, decided);
  if (group->finished)
    return g_string_free (text, FALSE);
  if (group->poor)
    add_sentence (text, ended = wb_craft_advice_dup_poor (self, group));
  else if (group->over)
    {
      add_sentence (text, ended = dup_over (self, group));
      add_candles (self, group, text);
      add_sentence (text, pour = dup_pour (self, group));
    }
  else
    add_search (self, group, text);
  if (!group->poor)
    add_sentence (text, all = dup_all (self, group));
  if (text->len == 0)
    g_string_append (text, _("No candle of it is left to burn."));
  add_sentence (text, steps = wb_craft_advice_dup_steps (self, group));
  add_sentence (text, get_question (group));
  return g_string_free (text, FALSE);
}

/* Nothing is to be lit now: why not. NULL: nothing waits either. */
static char *
dup_line_of_waiting (const WbCraftAdvising    *self,
                     const WbCraftAdviceGroup *group)
{
  g_autofree char *burning = dup_names (self, group, burns_now), *planned = dup_names (self, group, is_poured_first);
  g_autofree char *cures = dup_waiting (self, group, WB_CRAFT_ROW_CURES), *cools = dup_waiting (self, group, WB_CRAFT_ROW_COOLS);

  if (burning != NULL)
    /* Translators: one or more wicks. */
    return g_strdup_printf (_("Next: nothing to light beside what burns now: %s."), burning);
  if (cools != NULL)
    /* Translators: "C5 until 3 Dec, 19:40". */
    return g_strdup_printf (_("Next: nothing to light yet; still to cool: %s."), cools);
  if (cures != NULL)
    /* Translators: "A3 and A5 until 12 Dec 2026". */
    return g_strdup_printf (_("Next: nothing to light yet; still to cure: %s."), cures);
  if (planned != NULL)
    /* Translators: one or more wicks. */
    return g_strdup_printf (_("Next: pour %s first."), planned);
  return dup_pour (self, group);
}

static char *
dup_line_over (const WbCraftAdvising    *self,
               const WbCraftAdviceGroup *group)
{
  g_autofree char *name = NULL;

  if (group->poor)
    return group->outside_name != NULL
             /* Translators: a size. */
             ? g_strdup_printf (_("Next: nothing of it; none is good enough. Test %s instead."), group->outside_name)
             : g_strdup (_("Next: nothing of it; none is good enough. Ask the wick ladder for others."));
  name = dup_leader_name (self, group);
  if (group->cells[group->leader].burn_on > 0)
    /* Translators: a wick. */
    return g_strdup_printf (_("Next: burn %s down to its end; the search can stop."), name);
  return g_strdup_printf (is_less_sure (self, group) ? _("The search can stop: %s is as likely the best as the protocol asks.")
                                                     : _("The search can stop: %s is as good as any of them or better."), name);
}

static char *
dup_line (const WbCraftAdvising    *self,
          const WbCraftAdviceGroup *group)
{
  g_autofree char *lit = dup_names (self, group, is_lit_next), *out = dup_names (self, group, is_out), *rest = dup_names (self, group, is_resting);
  GString *line;

  if (group->finished)
    return wb_craft_advice_dup_decided (self, group);
  if (group->over)
    return dup_line_over (self, group);
  if (lit == NULL)
    return dup_line_of_waiting (self, group);
  line = g_string_new (NULL);
  /* Translators: one or more wicks. */
  g_string_append_printf (line, _("Next: light %s"), lit);
  if (rest != NULL)
    /* Translators: one or more wicks; goes on from "Next: light C5". */
    g_string_append_printf (line, g_dngettext (GETTEXT_PACKAGE, "; %s rests and is not lost", "; %s rest and are not lost", count (group, is_resting)), rest);
  if (out != NULL)
    /* Translators: one or more wicks; goes on from "Next: light C5". */
    g_string_append_printf (line, g_dngettext (GETTEXT_PACKAGE, "; %s cannot win any more", "; %s cannot win any more", count (group, is_out)), out);
  g_string_append_c (line, '.');
  return g_string_free (line, FALSE);
}

void
wb_craft_advice_tell (const WbCraftAdvising *self,
                      WbCraftAdviceGroup    *group)
{
  group->answer = dup_answer (self, group);
  group->pools = group->finished ? NULL : wb_craft_advice_dup_steps_basis (self, group);
  group->line = dup_line (self, group);
  if (group->line == NULL)
    group->line = g_strdup ("");
}
