/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-school-private.h"

#include <math.h>

/* A model of the school: its columns, made as levels come in, and its rows. */

#define NO_TERM_SD 1e-4   /* of a term that a figure does not have */

void
wb_craft_terms_init (WbCraftTerms *self)
{
  self->columns = g_array_new (FALSE, FALSE, sizeof (gsize));
  self->values = g_array_new (FALSE, FALSE, sizeof (double));
}

void
wb_craft_terms_clear (WbCraftTerms *self)
{
  g_clear_pointer (&self->columns, g_array_unref);
  g_clear_pointer (&self->values, g_array_unref);
}

/* A column may come in twice: it is added up, for a row has each once. */
void
wb_craft_terms_add (WbCraftTerms *self,
                    gsize         column,
                    double        value)
{
  if (value == 0)
    return;
  for (guint i = 0; i < self->columns->len; i++)
    if (g_array_index (self->columns, gsize, i) == column)
      {
        g_array_index (self->values, double, i) += value;
        return;
      }
  g_array_append_val (self->columns, column);
  g_array_append_val (self->values, value);
}

void
wb_craft_terms_mix (WbCraftTerms       *self,
                    const WbCraftTerms *other,
                    double              factor)
{
  for (guint i = 0; i < other->columns->len; i++)
    wb_craft_terms_add (self, g_array_index (other->columns, gsize, i), factor * g_array_index (other->values, double, i));
}

gsize
wb_craft_school_model_add_coefficient (WbCraftSchoolModel *self,
                                       double              mean,
                                       double              sd,
                                       gsize               family)
{
  WbCalcPooledCoefficient coefficient = { mean, sd, family };

  g_array_append_val (self->coefficients, coefficient);
  return self->coefficients->len - 1;
}

guint
wb_craft_school_model_find (WbCraftSchoolModel *self,
                            WbCraftKin          kin,
                            guint               level,
                            gboolean            add)
{
  if (self->family[kin] == G_MAXUINT || level >= self->n_levels[kin])
    return G_MAXUINT;
  if (self->column[kin][level] == G_MAXUINT && add)
    self->column[kin][level] = (guint) wb_craft_school_model_add_coefficient (self, 0, 1, self->family[kin]);
  return self->column[kin][level];
}

static void
put_kin (WbCraftSchoolModel *self,
         WbCraftKin          kin,
         guint               level,
         gboolean            learn,
         double              value,
         WbCraftTerms       *terms)
{
  guint column = wb_craft_school_model_find (self, kin, level, learn);

  if (column != G_MAXUINT)
    wb_craft_terms_add (terms, column, value);
}

/* Number of a level at a stage below the upper third. */
static guint
at_stage (guint   level,
          WbStage stage)
{
  return level == G_MAXUINT ? G_MAXUINT : 2 * level + (stage == WB_STAGE_LOWER);
}

void
wb_craft_school_model_put (WbCraftSchoolModel *self,
                           const WbCraftSeat  *seat,
                           WbStage             stage,
                           gboolean            learn,
                           double              factor,
                           WbCraftTerms       *terms)
{
  const guint *level = seat->level;

  for (WbCraftTerm term = 0; term < WB_CRAFT_TERM_SHORTFALL; term++)
    wb_craft_terms_add (terms, term, factor * seat->x[term]);
  put_kin (self, WB_CRAFT_KIN_SERIES, level[WB_CRAFT_LEVEL_SERIES], learn, factor, terms);
  put_kin (self, WB_CRAFT_KIN_SLOPE, level[WB_CRAFT_LEVEL_SERIES], learn, factor * seat->x[WB_CRAFT_TERM_STEP], terms);
  put_kin (self, WB_CRAFT_KIN_WICK, level[WB_CRAFT_LEVEL_WICK], learn, factor, terms);
  put_kin (self, WB_CRAFT_KIN_WAX, level[WB_CRAFT_LEVEL_WAX], learn, factor, terms);
  put_kin (self, WB_CRAFT_KIN_MATERIAL, level[WB_CRAFT_LEVEL_MATERIAL], learn, factor, terms);
  put_kin (self, WB_CRAFT_KIN_VESSEL, level[WB_CRAFT_LEVEL_VESSEL], learn, factor, terms);
  put_kin (self, WB_CRAFT_KIN_HERE, level[WB_CRAFT_LEVEL_HERE], learn, factor, terms);
  if (learn)
    put_kin (self, WB_CRAFT_KIN_POUR, level[WB_CRAFT_LEVEL_POUR], learn, factor, terms);
  if (stage == WB_STAGE_UPPER)
    return;
  wb_craft_terms_add (terms, stage == WB_STAGE_MIDDLE ? WB_CRAFT_TERM_MIDDLE : WB_CRAFT_TERM_LOWER, factor);
  put_kin (self, WB_CRAFT_KIN_BOTTOM, at_stage (level[WB_CRAFT_LEVEL_VESSEL], stage), learn, factor, terms);
  put_kin (self, WB_CRAFT_KIN_HERE_STAGE, at_stage (level[WB_CRAFT_LEVEL_HERE], stage), learn, factor, terms);
}

void
wb_craft_school_model_put_pace (WbCraftSchoolModel *self,
                                const WbCraftSeat  *seat,
                                WbStage             stage,
                                gboolean            learn,
                                double              factor,
                                WbCraftTerms       *terms)
{
  const guint *level = seat->level;

  wb_craft_terms_add (terms, WB_CRAFT_TERM_PACE_COMMON, factor);
  wb_craft_terms_add (terms, WB_CRAFT_TERM_PACE_INNER, factor * seat->x[WB_CRAFT_TERM_INNER]);
  if (stage != WB_STAGE_UPPER)
    wb_craft_terms_add (terms, stage == WB_STAGE_MIDDLE ? WB_CRAFT_TERM_PACE_MIDDLE : WB_CRAFT_TERM_PACE_LOWER, factor);
  put_kin (self, WB_CRAFT_KIN_PACE_WAX, level[WB_CRAFT_LEVEL_WAX], learn, factor, terms);
  put_kin (self, WB_CRAFT_KIN_PACE_HERE, level[WB_CRAFT_LEVEL_HERE], learn, factor, terms);
  if (learn)
    put_kin (self, WB_CRAFT_KIN_PACE_POUR, level[WB_CRAFT_LEVEL_POUR], learn, factor, terms);
}

void
wb_craft_school_model_add_row (WbCraftSchoolModel *self,
                               const WbCraftTerms *terms,
                               double              y,
                               double              noise)
{
  gsize end;

  g_array_append_vals (self->columns, terms->columns->data, terms->columns->len);
  g_array_append_vals (self->values, terms->values->data, terms->values->len);
  end = self->columns->len;
  g_array_append_val (self->start, end);
  g_array_append_val (self->y, y);
  g_array_append_val (self->noise, noise);
}

static guint
count_levels (const WbCraftSchool *school,
              WbCraftKin           kin)
{
  static const WbCraftLevel levels[WB_CRAFT_N_KINS] = {
    [WB_CRAFT_KIN_SERIES] = WB_CRAFT_LEVEL_SERIES, [WB_CRAFT_KIN_SLOPE] = WB_CRAFT_LEVEL_SERIES,
    [WB_CRAFT_KIN_WICK] = WB_CRAFT_LEVEL_WICK, [WB_CRAFT_KIN_WAX] = WB_CRAFT_LEVEL_WAX,
    [WB_CRAFT_KIN_MATERIAL] = WB_CRAFT_LEVEL_MATERIAL,
    [WB_CRAFT_KIN_VESSEL] = WB_CRAFT_LEVEL_VESSEL, [WB_CRAFT_KIN_BOTTOM] = WB_CRAFT_LEVEL_VESSEL,
    [WB_CRAFT_KIN_POUR] = WB_CRAFT_LEVEL_POUR, [WB_CRAFT_KIN_HERE] = WB_CRAFT_LEVEL_HERE,
    [WB_CRAFT_KIN_HERE_STAGE] = WB_CRAFT_LEVEL_HERE, [WB_CRAFT_KIN_SUPPLIER] = WB_CRAFT_LEVEL_SERIES,
    [WB_CRAFT_KIN_PACE_WAX] = WB_CRAFT_LEVEL_WAX, [WB_CRAFT_KIN_PACE_POUR] = WB_CRAFT_LEVEL_POUR,
    [WB_CRAFT_KIN_PACE_HERE] = WB_CRAFT_LEVEL_HERE,
  };
  guint n = wb_craft_register_count (&school->names, levels[kin]);

  return kin == WB_CRAFT_KIN_BOTTOM || kin == WB_CRAFT_KIN_HERE_STAGE ? 2 * n : n;
}

void
wb_craft_school_model_init (WbCraftSchoolModel  *self,
                            const WbCraftSchool *school,
                            guint                model)
{
  gsize zero = 0;
  guint n_families = 0;

  self->belief = wb_craft_school_get_belief (model);
  self->coefficients = g_array_new (FALSE, FALSE, sizeof (WbCalcPooledCoefficient));
  self->start = g_array_new (FALSE, FALSE, sizeof (gsize));
  self->columns = g_array_new (FALSE, FALSE, sizeof (gsize));
  self->values = g_array_new (FALSE, FALSE, sizeof (double));
  self->y = g_array_new (FALSE, FALSE, sizeof (double));
  self->noise = g_array_new (FALSE, FALSE, sizeof (double));
  self->walls = g_array_new (FALSE, FALSE, sizeof (WbCraftWall));
  g_array_append_val (self->start, zero);
  for (WbCraftTerm term = 0; term < WB_CRAFT_N_TERMS; term++)
    wb_craft_school_model_add_coefficient (self, self->belief->term[term].mean, self->belief->term[term].sd > 0 ? self->belief->term[term].sd : NO_TERM_SD,
                     WB_CALC_POOLED_NO_FAMILY);
  for (WbCraftKin kin = 0; kin < WB_CRAFT_N_KINS; kin++)
    {
      self->family[kin] = self->belief->kin[kin].usual > 0 ? n_families++ : G_MAXUINT;
      self->n_levels[kin] = count_levels (school, kin);
      self->column[kin] = g_new (guint, MAX (self->n_levels[kin], 1));
      for (guint i = 0; i < self->n_levels[kin]; i++)
        self->column[kin][i] = G_MAXUINT;
      self->spare[kin] = self->family[kin] != G_MAXUINT ? (guint) wb_craft_school_model_add_coefficient (self, 0, 1, self->family[kin]) : G_MAXUINT;
    }
}

void
wb_craft_school_model_clear (WbCraftSchoolModel *self)
{
  g_clear_pointer (&self->fit, wb_calc_pooled_free);
  for (WbCraftKin kin = 0; kin < WB_CRAFT_N_KINS; kin++)
    g_clear_pointer (&self->column[kin], g_free);
  g_clear_pointer (&self->coefficients, g_array_unref);
  g_clear_pointer (&self->start, g_array_unref);
  g_clear_pointer (&self->columns, g_array_unref);
  g_clear_pointer (&self->values, g_array_unref);
  g_clear_pointer (&self->y, g_array_unref);
  g_clear_pointer (&self->noise, g_array_unref);
  g_clear_pointer (&self->walls, g_array_unref);
}
