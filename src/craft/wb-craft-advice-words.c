/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-advice-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-craft-verdict-private.h"
#include "wb-craft-words-private.h"

/* What to burn next, as a maker says it. */

#define SOME 0.05  /* of the next burns: less is none to speak of */

typedef gboolean (*Pick) (const WbCraftAdvised *advised);

static gboolean
is_resting (const WbCraftAdvised *advised)
{
  return advised->running == WB_CRAFT_RUNNING_RESTING;
}

static gboolean
is_out (const WbCraftAdvised *advised)
{
  return advised->running != WB_CRAFT_RUNNING_OPEN && !is_resting (advised);
}

/* Has candles to be lit, and is worth it. */
static gboolean
is_lit_next (const WbCraftAdvised *advised)
{
  return advised->burn_on > 0 && advised->share >= SOME;
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
  return g_strdup_printf (_("Let %s rest for now."), names);
}

static char *
dup_all (const WbCraftAdviceGroup *group)
{
  if (group->all == WB_CRAFT_SIZE_UP)
    return group->outside_name != NULL
             /* Translators: a size. */
             ? g_strdup_printf (_("All of them are too small: %s, the next size up, belongs into the test."), group->outside_name)
             : g_strdup (_("All of them are too small for this vessel; no larger size can be named."));
  if (group->all == WB_CRAFT_SIZE_DOWN)
    return group->outside_name != NULL
             ? g_strdup_printf (_("All of them are too large: %s, the next size down, belongs into the test."), group->outside_name)
             : g_strdup (_("All of them are too large for this vessel; no smaller size can be named."));
  return NULL;
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

/* The search is over. */
static char *
dup_over (const WbCraftAdvising    *self,
          const WbCraftAdviceGroup *group)
{
  g_autofree char *name = dup_leader_name (self, group);

  if (group->missing->len == 0 && group->cells[group->leader].burn_on == 0)
    /* Translators: a wick. */
    return g_strdup_printf (_("Nothing more need be burnt: %s is as good as any of them or better, and what a recommendation asks for was burnt."), name);
  if (is_less_sure (self, group))
    {
      g_autofree char *near_best = wb_craft_dup_chance (wb_craft_advising_get_group (self, group)->cells[group->leader].p_near);

      /* Translators: a chance, "7 in 10"; a wick. */
      return g_strdup_printf (_("The search can stop: with a chance of %s, as sure as the protocol asks, %s is the best or as good as it. Before it can be recommended, more is asked."),
                              near_best, name);
    }
  if (group->cells[group->leader].burn_on == 0)
    return g_strdup_printf (_("The search can stop: %s is as good as any of them or better. Before it can be recommended, more is asked."), name);
  return g_strdup_printf (_("The search can stop: %s is as good as any of them or better. Burn its candles down to the end all the same: that is what a recommendation rests on."), name);
}

/* The search goes on. */
static char *
dup_search (const WbCraftAdvising    *self,
            const WbCraftAdviceGroup *group)
{
  g_autofree char *lit = dup_names (self, group, is_lit_next), *pour = dup_pour (self, group), *out = dup_out (self, group);
  g_autofree char *resting = dup_resting (self, group);
  GString *text = g_string_new (NULL);

  if (lit != NULL)
    {
      /* Translators: one or more wicks. */
      g_autofree char *burn = g_strdup_printf (group->begun ? _("Burn on: %s.") : _("Light first: %s."), lit);

      add_sentence (text, burn);
    }
  add_sentence (text, pour);
  add_sentence (text, resting);
  add_sentence (text, out);
  return g_string_free (text, FALSE);
}

static char *
dup_answer (const WbCraftAdvising    *self,
            const WbCraftAdviceGroup *group)
{
  g_autofree char *all = dup_all (group), *steps = wb_craft_advice_dup_steps (self, group), *first = NULL, *pour = NULL;
  GString *text;

  if (count (group, is_out) == group->n_cells)
    first = g_strdup (_("No wick of this test can win any more: nothing of it need be burnt on."));
  else if (group->over)
    first = dup_over (self, group);
  else
    first = dup_search (self, group);
  text = g_string_new (first);
  if (group->over)
    add_sentence (text, pour = dup_pour (self, group));
  add_sentence (text, all);
  if (text->len == 0)
    g_string_append (text, _("No candle of it is left to burn."));
  add_sentence (text, steps);
  return g_string_free (text, FALSE);
}

static char *
dup_line (const WbCraftAdvising    *self,
          const WbCraftAdviceGroup *group)
{
  g_autofree char *lit = dup_names (self, group, is_lit_next), *out = dup_names (self, group, is_out), *name = NULL;

  if (count (group, is_out) == group->n_cells)
    return g_strdup (_("Next: nothing of it; none can win any more."));
  if (group->over)
    {
      name = dup_leader_name (self, group);
      return lit != NULL
               /* Translators: a wick. */
               ? g_strdup_printf (_("Next: burn %s down to its end; the search can stop."), name)
               : g_strdup_printf (is_less_sure (self, group) ? _("The search can stop: %s is as likely the best as the protocol asks.")
                                                             : _("The search can stop: %s is as good as any of them or better."), name);
    }
  if (lit == NULL)
    return dup_pour (self, group);
  if (out == NULL)
    /* Translators: one or more wicks. */
    return g_strdup_printf (_("Next: light %s."), lit);
  /* Translators: one or more wicks; one or more others. */
  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "Next: light %s; %s cannot win any more.", "Next: light %s; %s cannot win any more.",
                                       count (group, is_out)), lit, out);
}

void
wb_craft_advice_tell (const WbCraftAdvising *self,
                      WbCraftAdviceGroup    *group)
{
  group->answer = dup_answer (self, group);
  group->line = dup_line (self, group);
  if (group->line == NULL)
    group->line = g_strdup ("");
}

char *
wb_craft_advised_dup_size_words (const WbCraftAdvised *advised)
{
  g_return_val_if_fail (advised != NULL, NULL);

  if (advised->next_name == NULL)
    return g_strdup (wb_craft_size_get_label (advised->size));
  /* Translators: "one size up"; a size. */
  return g_strdup_printf (advised->next_tested ? _("%s: %s, which is in the test") : _("%s: %s"), wb_craft_size_get_label (advised->size),
                          advised->next_name);
}

char *
wb_craft_advised_dup_share_words (const WbCraftAdvised *advised)
{
  guint in_ten;

  g_return_val_if_fail (advised != NULL, NULL);

  in_ten = (guint) lround (10 * advised->share);
  if (advised->running == WB_CRAFT_RUNNING_RESTING)
    return g_strdup (_("no burns for now"));
  if (advised->share <= 0)
    return g_strdup (_("no more burns"));
  if (in_ten == 0)
    return g_strdup (_("hardly any of the next burns"));
  if (in_ten == 10)
    return g_strdup (_("all of the next burns"));
  /* Translators: a count. */
  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u of the next 10 burns", "%u of the next 10 burns", in_ten), in_ten);
}
