/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-school-private.h"

#include <math.h>

#include "wb-material.h"

/* The names of all that was tried, as numbers. */

void
wb_craft_register_init (WbCraftRegister *self)
{
  self->series = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  self->wicks = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  self->waxes = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  self->materials = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  self->here = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  self->inner_mm = g_array_new (FALSE, FALSE, sizeof (double));
  self->n_pours = 0;
}

void
wb_craft_register_clear (WbCraftRegister *self)
{
  g_clear_pointer (&self->series, g_hash_table_unref);
  g_clear_pointer (&self->wicks, g_hash_table_unref);
  g_clear_pointer (&self->waxes, g_hash_table_unref);
  g_clear_pointer (&self->materials, g_hash_table_unref);
  g_clear_pointer (&self->here, g_hash_table_unref);
  g_clear_pointer (&self->inner_mm, g_array_unref);
}

guint
wb_craft_register_count (const WbCraftRegister *self,
                         WbCraftLevel           level)
{
  switch (level)
    {
    case WB_CRAFT_LEVEL_SERIES:
      return g_hash_table_size (self->series);
    case WB_CRAFT_LEVEL_WICK:
      return g_hash_table_size (self->wicks);
    case WB_CRAFT_LEVEL_WAX:
      return g_hash_table_size (self->waxes);
    case WB_CRAFT_LEVEL_MATERIAL:
      return g_hash_table_size (self->materials);
    case WB_CRAFT_LEVEL_VESSEL:
      return self->inner_mm->len;
    case WB_CRAFT_LEVEL_HERE:
      return g_hash_table_size (self->here);
    case WB_CRAFT_LEVEL_POUR:
      return self->n_pours;
    default:
      g_assert_not_reached ();
    }
}

static guint
look_up (GHashTable *names,
         const char *name,
         gboolean    add)
{
  guint known = GPOINTER_TO_UINT (g_hash_table_lookup (names, name));

  if (known == 0 && add)
    {
      known = g_hash_table_size (names) + 1;
      g_hash_table_insert (names, g_strdup (name), GUINT_TO_POINTER (known));
    }
  return known > 0 ? known - 1 : G_MAXUINT;
}

/* The nearest within reach. */
static guint
look_up_vessel (GArray   *inner_mm,
                double    mm,
                gboolean  add)
{
  guint nearest = G_MAXUINT;
  double least = WB_CRAFT_SCHOOL_SAME_INNER_MM;

  for (guint i = 0; i < inner_mm->len; i++)
    if (fabs (g_array_index (inner_mm, double, i) - mm) <= least)
      {
        nearest = i;
        least = fabs (g_array_index (inner_mm, double, i) - mm);
      }
  if (nearest == G_MAXUINT && add)
    {
      nearest = inner_mm->len;
      g_array_append_val (inner_mm, mm);
    }
  return nearest;
}

/* Of a vessel of which nobody said it, or said no more than "other", it may be anything: a level that no other vessel has. */
static guint
look_up_material (WbCraftRegister *self,
                  int              wall,
                  guint            vessel,
                  gboolean         add)
{
  gboolean told = wall >= 0 && wall != WB_WALL_OTHER;
  g_autofree char *name = NULL;

  if (!told && vessel == G_MAXUINT)
    return G_MAXUINT;
  name = told ? g_strdup_printf ("of %d", wall) : g_strdup_printf ("vessel %u", vessel);
  return look_up (self->materials, name, add);
}

static void
put_covariates (WbCraftSeat *seat)
{
  const WbLessonCell *cell = seat->cell;
  double served = seat->inner_mm / sqrt (seat->wicks);

  seat->x[WB_CRAFT_TERM_COMMON] = 1;
  seat->x[WB_CRAFT_TERM_STEP] = seat->step - WB_CRAFT_SCHOOL_MIDDLE_STEP;
  seat->x[WB_CRAFT_TERM_INNER] = log (served / WB_CRAFT_SCHOOL_INNER_MM);
  seat->x[WB_CRAFT_TERM_WICKS] = log (seat->wicks);
  seat->x[WB_CRAFT_TERM_LOAD] = isnan (seat->load_pct) ? 0 : seat->load_pct - WB_CRAFT_SCHOOL_LOAD_PCT;
  seat->x[WB_CRAFT_TERM_DYE] = cell != NULL && cell->dye != 0;
  seat->x[WB_CRAFT_TERM_ROOM] = cell != NULL && !isnan (cell->room_c) ? cell->room_c - WB_CRAFT_SCHOOL_ROOM_C : 0;
  seat->x[WB_CRAFT_TERM_HEADSPACE] = cell != NULL && !isnan (cell->headspace_mm)
                                       ? (cell->headspace_mm - WB_CRAFT_SCHOOL_HEADSPACE_MM) / 10 : 0;
}

void
wb_craft_register_seat (WbCraftRegister *self,
                        WbCraftSeat     *seat,
                        const char      *series,
                        const char      *size,
                        const char      *wax,
                        gboolean         add)
{
  g_autofree char *wick = g_strdup_printf ("%s\n%s\n%" G_GINT64_FORMAT, series, size != NULL ? size : "", seat->step);
  g_autofree char *here = NULL;

  put_covariates (seat);
  seat->series = series;
  seat->level[WB_CRAFT_LEVEL_SERIES] = look_up (self->series, series, add);
  seat->level[WB_CRAFT_LEVEL_WICK] = look_up (self->wicks, wick, add);
  seat->level[WB_CRAFT_LEVEL_WAX] = look_up (self->waxes, wax != NULL ? wax : "", add);
  seat->level[WB_CRAFT_LEVEL_VESSEL] = look_up_vessel (self->inner_mm, seat->inner_mm, add);
  seat->level[WB_CRAFT_LEVEL_MATERIAL] = look_up_material (self, seat->wall, seat->level[WB_CRAFT_LEVEL_VESSEL], add);
  seat->level[WB_CRAFT_LEVEL_HERE] = seat->level[WB_CRAFT_LEVEL_POUR] = G_MAXUINT;
  if (seat->level[WB_CRAFT_LEVEL_WICK] == G_MAXUINT || seat->level[WB_CRAFT_LEVEL_VESSEL] == G_MAXUINT)
    return;
  here = g_strdup_printf ("%u %u %u", seat->level[WB_CRAFT_LEVEL_WICK], seat->level[WB_CRAFT_LEVEL_VESSEL], seat->wicks);
  seat->level[WB_CRAFT_LEVEL_HERE] = look_up (self->here, here, add);
}
