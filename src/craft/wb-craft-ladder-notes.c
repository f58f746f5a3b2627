/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-ladder-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-craft-batch.h"
#include "wb-craft-verdict-private.h"
#include "wb-craft-words-private.h"

/*
 * What a ladder says beside its answer: warnings, which a maker has to heed before anything is poured, and notes, what was taken for granted and what
 * is not covered. Once for window, command line and JSON.
 */

#define MUCH_PCT 12.0 /* of the wax: few waxes hold more (common practice, no source) */
#define RISKY 0.05 /* chance of crossing a limit that is warned of: more than what a recommendation allows */

static double
to_wax_pct (double pct,
            int    basis)
{
  return basis == WB_BASIS_TOTAL ? wb_craft_load_to_wax_pct (pct) : pct;
}

/* "8 % of the wax" */
static char *
dup_load (double pct,
          int    basis)
{
  g_autofree char *number = wb_number_format_trimmed (pct, 2, NULL);

  /* Translators: a number; "of the wax" or "of the total" */
  return g_strdup_printf (_("%s\302\240%% %s"), number, g_dgettext (GETTEXT_PACKAGE, wb_basis_words[MAX (basis, 0)].label));
}

static const WbWax *
find_wax (const WbCraftLadder *self,
          const GPtrArray     *waxes)
{
  for (guint i = 0; i < waxes->len; i++)
    if (g_strcmp0 (((const WbWax *) g_ptr_array_index (waxes, i))->name, self->question.wax) == 0)
      return g_ptr_array_index (waxes, i);
  return NULL;
}

/* ---- warnings ---- */

/* The most that a wax holds is its supplier's figure. That oil which it does not hold seeps out and can flare: common practice, no source. */
static void
judge_load (WbCraftLadder   *self,
            const GPtrArray *waxes)
{
  const WbCraftLadderQuestion *question = &self->question;
  const WbWax *wax = find_wax (self, waxes);
  g_autofree char *load = dup_load (question->load_pct, question->load_basis), *most = NULL, *answer = NULL;

  if (!(question->load_pct > 0) || question->wax == NULL)
    return;
  if (wax == NULL || !(wax->max_load_pct > 0))
    {
      gboolean much = to_wax_pct (question->load_pct, question->load_basis) > MUCH_PCT;

      g_ptr_array_add (much ? self->warnings : self->notes,
                       /* Translators: a load, a wax; a wax */
                       much ? g_strdup_printf (_("%s is more than most waxes hold, and how much %s holds at most was not typed in: ask its supplier before any is poured. Oil that a wax does not hold seeps out, and can flare at the flame."), load, question->wax)
                            : g_strdup_printf (_("How much fragrance %s holds at most was not typed in: its supplier's data sheet tells."), question->wax));
      return;
    }
  if (to_wax_pct (question->load_pct, question->load_basis) <= to_wax_pct (wax->max_load_pct, wax->max_load_basis) + 1e-9)
    return;
  most = dup_load (wax->max_load_pct, wax->max_load_basis);
  /* Translators: a load, a wax, the most that it holds */
  g_ptr_array_add (self->warnings, g_strdup_printf (_("%s is more than %s holds: its supplier states %s at most. Oil that the wax does not hold seeps out, and can flare at the flame. Do not pour this load; no wick makes up for it."),
                                                    load, question->wax, most));
  /* Translators: a load, a wax; the answer follows */
  answer = g_strdup_printf (_("%s is more than %s holds. %s"), load, question->wax, self->answer);
  g_free (self->answer);
  self->answer = g_steal_pointer (&answer);
}

static void
warn_of_new_wax (WbCraftLadder       *self,
                 const WbCraftSchool *school)
{
  if (self->rests_on != WB_CRAFT_RESTS_ON_HISTORY || self->question.wax == NULL)
    return;
  for (guint i = 0; i < school->seats->len; i++)
    {
      const WbCraftSeat *seat = &g_array_index (school->seats, WbCraftSeat, i);

      if (seat->cell->burns > 0 && g_strcmp0 (seat->cell->wax_name, self->question.wax) == 0)
        return;
    }
  g_ptr_array_add (self->warnings, g_strdup_printf (_("No candle of %s was burnt yet: what is foretold of it is drawn from how other waxes differ, beyond what was tried."),
                                                    self->question.wax));
}

static int
compare_heat (gconstpointer a,
              gconstpointer b)
{
  const WbCraftLadderStep *one = *(const WbCraftLadderStep *const *) a, *other = *(const WbCraftLadderStep *const *) b;

  return (one->p_cross < other->p_cross) - (one->p_cross > other->p_cross);
}

static void
warn_of_heat (WbCraftLadder *self)
{
  g_autoptr (GPtrArray) hot = g_ptr_array_new (), told = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *joined = NULL;

  for (guint i = 0; i < self->steps->len; i++)
    {
      WbCraftLadderStep *step = wb_craft_ladder_get_step (self, i);

      if (step->in_ladder && step->p_cross > RISKY)
        g_ptr_array_add (hot, step);
    }
  if (hot->len == 0)
    return;
  g_ptr_array_sort (hot, compare_heat);
  for (guint i = 0; i < hot->len; i++)
    {
      const WbCraftLadderStep *step = g_ptr_array_index (hot, i);
      g_autofree char *chance = wb_craft_dup_chance (step->p_cross);

      /* Translators: series and size of a wick; a chance, "46 in 100" */
      g_ptr_array_add (told, g_strdup_printf (_("%s %s (%s)"), step->series, step->size, chance));
    }
  joined = wb_craft_words_join (told);
  /* Translators: wicks, each with a chance */
  g_ptr_array_add (self->warnings, g_strdup_printf (_("On the ladder, but may cross a limit of heat, flame or outside wall: %s. Of these read flame and wall from the first burn on, and stay beside them."), joined));
}

/* ---- the vessel ---- */

const WbVessel *
wb_craft_ladder_find_vessel (const WbCraftLadder *self)
{
  const WbCraftLadderQuestion *question = &self->question;

  for (guint i = 0; question->vessels != NULL && question->vessel != NULL && i < question->vessels->len; i++)
    {
      const WbVessel *vessel = g_ptr_array_index (question->vessels, i);
      g_autofree char *title = wb_material_dup_title (vessel);

      if ((g_strcmp0 (vessel->name, question->vessel) == 0 || g_strcmp0 (title, question->vessel) == 0)
          && vessel->inner_diameter_mm == question->inner_diameter_mm)
        return vessel;
    }
  return NULL;
}

/* Of a typed diameter the nearest vessel that the models would count as the same; of a vessel's another one; NULL: there is none. */
static const WbVessel *
find_near (const WbCraftLadder *self,
           const WbVessel      *own)
{
  const WbCraftLadderQuestion *question = &self->question;
  const WbVessel *near = NULL;
  double least = WB_CRAFT_SCHOOL_SAME_INNER_MM + 1e-9;

  for (guint i = 0; question->vessels != NULL && i < question->vessels->len; i++)
    {
      const WbVessel *vessel = g_ptr_array_index (question->vessels, i);
      double off = fabs (vessel->inner_diameter_mm - question->inner_diameter_mm);

      if (vessel == own || !(off <= least))
        continue;
      least = off;
      near = vessel;
    }
  return near;
}

static gboolean
is_burnt (const WbCraftSchool *school,
          gint64               vessel)
{
  for (guint i = 0; school != NULL && i < school->seats->len; i++)
    {
      const WbCraftSeat *seat = &g_array_index (school->seats, WbCraftSeat, i);

      if (seat->cell->burns > 0 && seat->cell->vessel == vessel)
        return TRUE;
    }
  return FALSE;
}

static void
tell_near (WbCraftLadder       *self,
           const WbCraftSchool *school)
{
  const WbCraftLadderQuestion *question = &self->question;
  const WbVessel *own = wb_craft_ladder_find_vessel (self), *near = find_near (self, own);
  g_autofree char *inner = wb_quantity_format (WB_UNIT_MM, question->inner_diameter_mm, 1);
  g_autofree char *same = wb_quantity_format (WB_UNIT_MM, WB_CRAFT_SCHOOL_SAME_INNER_MM, 1), *title = NULL;

  if (near == NULL)
    return;
  title = wb_material_dup_title (near);
  if (question->another_vessel)
    /* Translators: a diameter, half a millimetre, a vessel's title, its name twice */
    g_ptr_array_add (self->warnings, g_strdup_printf (_("%s is within %s of your vessel %s. It is taken as another vessel of about that width: the burns of %s speak for it, but are not its own. If you mean %s, ask for it by name."),
                                                      inner, same, title, near->name, near->name));
  else if (own != NULL && is_burnt (school, near->record.id))
    /* Translators: two vessels' titles, half a millimetre */
    g_ptr_array_add (self->notes, g_strdup_printf (_("%s and %s differ by no more than %s, and count as one vessel: the burns of both are taken as this one's."),
                                                   own->name, title, same));
}

/* Translated; NULL: not told. */
static const char *
name_wall (const WbVessel *vessel)
{
  const WbWord *words = wb_record_type_find_field (&wb_vessel_type, "wall")->words;

  for (int i = 0; vessel->wall >= 0 && words[i].nick != NULL; i++)
    if (i == vessel->wall)
      return g_dgettext (GETTEXT_PACKAGE, words[i].label);
  return NULL;
}

/* Materials of the vessels that were burnt, each once. */
static GPtrArray *
list_walls (const WbCraftLadder *self,
            const WbCraftSchool *school)
{
  GPtrArray *walls = g_ptr_array_new ();

  for (guint i = 0; self->question.vessels != NULL && i < self->question.vessels->len; i++)
    {
      const WbVessel *vessel = g_ptr_array_index (self->question.vessels, i);
      const char *wall = name_wall (vessel);

      if (wall != NULL && is_burnt (school, vessel->record.id) && !g_ptr_array_find_with_equal_func (walls, wall, g_str_equal, NULL))
        g_ptr_array_add (walls, (gpointer) wall);
    }
  return walls;
}

/* As wb_craft_ladder_new() takes it: a diameter's material is that of all that were burnt, where that is one, else any. */
static void
tell_wall (WbCraftLadder       *self,
           const WbCraftSchool *school)
{
  const WbVessel *own = wb_craft_ladder_find_vessel (self);
  g_autoptr (GPtrArray) walls = list_walls (self, school);
  const char *wall = own != NULL ? name_wall (own) : NULL;
  g_autofree char *joined = walls->len > 0 ? wb_craft_words_join (walls) : NULL;

  if (self->rests_on != WB_CRAFT_RESTS_ON_HISTORY || self->question.vessels == NULL)
    return;
  if (joined == NULL)
    g_ptr_array_add (self->notes, g_strdup (_("What the vessels that were burnt are made of was not typed in: this one may be of the same material or of another, and is foretold that widely. A wall of another material, or much thicker or thinner, heats otherwise; whether it bears the heat, its own supplier has to say.")));
  else if (own == NULL && walls->len > 1)
    /* Translators: materials, "glass and ceramic" */
    g_ptr_array_add (self->notes, g_strdup_printf (_("What the vessel is made of is not asked, and those that were burnt are of %s: it may be of any material, and is foretold that widely. Whether it bears the heat, its own supplier has to say."), joined));
  else if (own == NULL)
    /* Translators: materials, "glass and ceramic" */
    g_ptr_array_add (self->notes, g_strdup_printf (_("What the vessel is made of is not asked: it is taken to be like those that were burnt (%s). A wall of another material, or much thicker or thinner, heats otherwise; whether it bears the heat, its own supplier has to say."), joined));
  else if (wall == NULL || !g_ptr_array_find_with_equal_func (walls, wall, g_str_equal, NULL))
    /* Translators: a vessel; its material; other materials, "glass and ceramic" */
    g_ptr_array_add (self->warnings, g_strdup_printf (_("No vessel of the material of %s (%s) was burnt yet: how hot its wall gets is foretold from the others (%s), with an allowance for how far materials are apart."),
                                                      own->name, wall != NULL ? wall : _("not told"), joined));
  else if (walls->len > 1)
    g_ptr_array_add (self->notes, g_strdup_printf (_("Vessels of %s were burnt: by how much materials differ in pool and wall is learnt from them, and what was burnt in one tells less of another."), joined));
}

/* ---- this vessel's own tests ---- */

/* Codes of the experiments in which the wicks were burnt in this vessel, wax and load: their nearest tests that differ in nothing. */
static GPtrArray *
list_own_tests (const WbCraftLadder *self)
{
  GPtrArray *codes = g_ptr_array_new ();

  for (guint i = 0; i < self->steps->len; i++)
    {
      const WbCraftLadderStep *step = wb_craft_ladder_get_step (self, i);

      for (guint k = 0; step->tested && k < step->nearest->len; k++)
        {
          const WbCraftNearest *nearest = g_ptr_array_index (step->nearest, k);

          if (*nearest->differs == '\0' && nearest->experiment != NULL
              && !g_ptr_array_find_with_equal_func (codes, nearest->experiment, g_str_equal, NULL))
            g_ptr_array_add (codes, nearest->experiment);
        }
    }
  return codes;
}

static const WbCraftLadderStep *
find_first (const WbCraftLadder *self)
{
  const WbCraftLadderStep *first = NULL;

  for (guint i = 0; i < self->steps->len; i++)
    if (first == NULL || wb_craft_ladder_get_step (self, i)->p_best > first->p_best)
      first = wb_craft_ladder_get_step (self, i);
  return first;
}

/* Why this ladder and the ranking of the vessel's own tests may not put the same wick first. */
static void
tell_own_tests (WbCraftLadder *self,
                guint          upper)
{
  g_autoptr (GPtrArray) codes = list_own_tests (self);
  const WbCraftLadderStep *first = find_first (self);
  g_autofree char *joined = codes->len > 0 ? wb_craft_words_join (codes) : NULL;

  if (joined == NULL || first == NULL || !(first->p_best > 0))
    return;
  if (upper != G_MAXUINT && wb_craft_ladder_get_step (self, upper) != first)
    {
      const WbCraftLadderStep *leader = wb_craft_ladder_get_step (self, upper);

      /* Translators: codes of experiments; a wick's series and size; another's */
      g_ptr_array_add (self->warnings, g_strdup_printf (_("This vessel, wax and load were burnt in %s, where nothing below the upper third was read: by that third alone, as the ranking there judges it, %s %s is foretold to lead. This ladder foretells the whole life, down to the lower third, and puts %s %s first. Burn both down before one is chosen."),
                                                        joined, leader->series, leader->size, first->series, first->size));
      return;
    }
  /* Translators: codes of experiments */
  g_ptr_array_add (self->notes, upper != G_MAXUINT
                                  ? g_strdup_printf (_("This vessel, wax and load were burnt in %s, but nothing below the upper third was read there: the ranking judges what was read, this ladder foretells the rest."), joined)
                                  : g_strdup_printf (_("This vessel, wax and load were burnt in %s: the ranking judges what was read there, this ladder leans on all tests and foretells the next candle."), joined));
}

/* ---- what is taken for granted ---- */

/* "20", "22.5" */
static char *
dup_degrees (double celsius)
{
  return wb_number_format_trimmed (celsius, 1, NULL);
}

static void
tell_place (WbCraftLadder *self)
{
  const WbCraftLadderQuestion *question = &self->question;
  g_autofree char *cold = dup_degrees (question->room_cold_c), *warm = dup_degrees (question->room_warm_c);
  g_autofree char *low = wb_number_format (self->due_low_h, 1, NULL), *high = wb_number_format (self->due_high_h, 1, NULL);

  /* Translators: temperatures; hours twice */
  g_ptr_array_add (self->notes, g_strdup_printf (_("All figures hold for rooms of %s to %s\302\240°C; limits are judged in the warmest of them. The full melt pool is due between %s and %s\302\240h."),
                                                 cold, warm, low, high));
  g_ptr_array_add (self->notes, g_strdup (_("Of a fragrance only the load counts, and no dye is taken to be in it: two fragrances of one load can burn differently.")));
  g_ptr_array_add (self->notes, g_strdup (_("“Best” is about recipes: how likely the score of a wick's recipe, over many pours, is the highest of all, even where the highest is poor. “Right” is about one candle: how likely the next one has its full melt pool when it is due and crosses no limit. So a wick can be likelier best than right, and several can be right.")));
}

static void
tell_share (WbCraftLadder *self)
{
  g_autofree char *served = wb_quantity_format (WB_UNIT_MM, wb_craft_ladder_served_mm (&self->question), 1);

  if (self->shares_vessel)
    /* Translators: how many wicks; a diameter */
    g_ptr_array_add (self->notes, g_strdup_printf (_("The %u wicks are taken to share the vessel evenly, each with the section of one of %s (common practice); how they heat each other shows only where as many were burnt."),
                                                   self->question.wicks, served));
}

static void
tell_supplier (WbCraftLadder *self)
{
  g_autofree char *cold = dup_degrees (self->question.room_cold_c), *warm = dup_degrees (self->question.room_warm_c);
  g_autofree char *load = dup_load (self->question.load_pct, self->question.load_basis);

  /* Translators: a load; temperatures */
  g_ptr_array_add (self->notes, g_strdup_printf (_("The suppliers' diameters, as they were typed in, are all that this rests on: a load of %s and rooms of %s to %s\302\240°C change nothing in it. When the melt pool is full, how hot flame and wall get and whether a limit is crossed, they cannot tell."),
                                                 load, cold, warm));
}

void
wb_craft_ladder_put_notes (WbCraftLadder       *self,
                           const WbCraftSchool *school,
                           const GPtrArray     *wicks,
                           const GPtrArray     *waxes,
                           guint                upper)
{
  judge_load (self, waxes);
  if (self->rests_on == WB_CRAFT_RESTS_ON_NOTHING)
    return;
  wb_craft_ladder_warn_of_doubt (self, school);
  warn_of_heat (self);
  warn_of_new_wax (self, school);
  tell_near (self, school);
  wb_craft_ladder_note_decisions (self, wicks, waxes);
  tell_own_tests (self, upper);
  tell_wall (self, school);
  tell_share (self);
  if (self->rests_on == WB_CRAFT_RESTS_ON_SUPPLIER)
    tell_supplier (self);
  else
    {
      tell_place (self);
      wb_craft_ladder_note_left_out (self);
    }
}
