/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-foretell-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-craft-limits.h"

/*
 * Whatever a model makes of few cells: what crossed a limit by its own burns crosses it, and never up from a size that burnt too hot, nor into a
 * narrower vessel with it. A larger wick of the same series has the hotter flame, and a narrower vessel the hotter wall (common practice,
 * no source).
 */

#define SAME_LOAD_PCT 0.05
#define NEAR_INNER 0.04      /* a vessel this near to one tried is not outside */
#define NEAR_LOAD_PCT 1.0

static const WbCraftSeat *
get_seat (const WbCraftSchool *school,
          guint                index)
{
  return &g_array_index (school->seats, WbCraftSeat, index);
}

static gboolean
is_same_load (double a,
              double b)
{
  return (isnan (a) && isnan (b)) || fabs (a - b) <= SAME_LOAD_PCT;
}

static gboolean
is_same_kind (const WbCraftSeat *tried,
              const WbCraftSeat *recipe)
{
  return tried->level[WB_CRAFT_LEVEL_SERIES] == recipe->level[WB_CRAFT_LEVEL_SERIES] && tried->wicks == recipe->wicks
         && tried->level[WB_CRAFT_LEVEL_WAX] == recipe->level[WB_CRAFT_LEVEL_WAX];
}

gboolean
wb_craft_foretell_is_of (const WbCraftSeat *tried,
                         const WbCraftSeat *recipe)
{
  return is_same_kind (tried, recipe) && tried->step == recipe->step && recipe->level[WB_CRAFT_LEVEL_VESSEL] != G_MAXUINT
         && fabs (tried->inner_mm - recipe->inner_mm) <= WB_CRAFT_SCHOOL_SAME_INNER_MM && is_same_load (tried->load_pct, recipe->load_pct);
}

/* As large a wick or a smaller one, at whatever load, in a vessel as wide or a wider one: the recipe is no cooler. */
static gboolean
is_below (const WbCraftSeat *tried,
          const WbCraftSeat *recipe)
{
  return is_same_kind (tried, recipe) && tried->step <= recipe->step && tried->inner_mm >= recipe->inner_mm - WB_CRAFT_SCHOOL_SAME_INNER_MM;
}

/* The largest such size that crossed a limit of heat in this wax; NULL: none, or the recipe's own burns say more. */
static const WbCraftSeat *
find_hot (const WbCraftSchool *school,
          const WbCraftSeat   *recipe)
{
  const WbCraftSeat *hot = NULL;

  for (guint i = 0; i < school->seats->len; i++)
    {
      const WbCraftSeat *seat = get_seat (school, i);

      if (wb_craft_foretell_is_of (seat, recipe))
        return NULL;
      if (seat->cell->crossed_heat && is_below (seat, recipe) && (hot == NULL || seat->step > hot->step))
        hot = seat;
    }
  return hot;
}

gboolean
wb_craft_foretell_crosses (const WbCraftSchool *school,
                           const WbCraftSeat   *recipe)
{
  for (guint i = 0; i < school->seats->len; i++)
    if (get_seat (school, i)->cell->crossed && wb_craft_foretell_is_of (get_seat (school, i), recipe))
      return TRUE;
  return find_hot (school, recipe) != NULL;
}

gboolean
wb_craft_foretell_is_tested (const WbCraftSchool *school,
                             const WbCraftSeat   *recipe)
{
  for (guint i = 0; i < school->seats->len; i++)
    if (get_seat (school, i)->cell->burns > 0 && wb_craft_foretell_is_of (get_seat (school, i), recipe))
      return TRUE;
  return FALSE;
}

/* ---- in words ---- */

static gboolean
is_measured (WbLimitKind kind)
{
  return kind <= WB_LIMIT_AFTERGLOW;
}

char *
wb_craft_foretell_dup_crossing (const WbLessonCell *cell)
{
  GString *text = g_string_new (NULL);
  g_autofree char *value = NULL, *stop = NULL;

  g_return_val_if_fail (cell->crossed_limit >= 0 && cell->crossed_limit < WB_N_LIMITS, g_string_free (text, FALSE));

  g_string_append (text, g_dgettext (GETTEXT_PACKAGE, wb_craft_limit_get_measure (cell->crossed_limit)));
  if (is_measured (cell->crossed_limit) && isfinite (cell->crossed_at))
    {
      value = wb_quantity_format (wb_limit_kind_get_unit (cell->crossed_limit), cell->crossed_at, -1);
      g_string_append_printf (text, " %s", value);
    }
  if (cell->crossed_sample != NULL && cell->crossed_burn > 0)
    /* Translators: number of a burn, code of a sample: "flame height 52 mm in burn 9 of sample T5-1" */
    g_string_append_printf (text, _(" in burn %u of sample %s"), (guint) cell->crossed_burn, cell->crossed_sample);
  if (is_measured (cell->crossed_limit) && cell->crossed_stop > 0)
    {
      stop = wb_quantity_format (wb_limit_kind_get_unit (cell->crossed_limit), cell->crossed_stop, -1);
      g_string_append_printf (text, _(", over the limit of %s"), stop);
    }
  return g_string_free (text, FALSE);
}

/* "Harbour mist", "no fragrance". */
static const char *
name_scent (const WbLessonCell *cell)
{
  if (cell->scent != NULL)
    return cell->scent;
  return cell->load_pct > 0 ? _("a fragrance") : _("no fragrance");
}

static const char *
name_code (const WbCraftSeat *seat)
{
  return seat->lesson->code != NULL ? seat->lesson->code : "-";
}

char *
wb_craft_foretell_dup_tested (const WbCraftSchool *school,
                              const WbCraftSeat   *recipe)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < school->seats->len; i++)
    {
      const WbCraftSeat *seat = get_seat (school, i);
      g_autofree char *crossing = NULL;

      if (!wb_craft_foretell_is_of (seat, recipe))
        continue;
      if (text->len > 0)
        g_string_append_c (text, ' ');
      if (!seat->cell->crossed)
        {
          /* Translators: an experiment's code; a scent, or "no fragrance" */
          g_string_append_printf (text, _("Burnt in %s (%s)."), name_code (seat), name_scent (seat->cell));
          continue;
        }
      crossing = wb_craft_foretell_dup_crossing (seat->cell);
      g_string_append_printf (text, _("Burnt in %s (%s), where a limit was crossed: %s."), name_code (seat), name_scent (seat->cell), crossing);
    }
  return g_string_free (text, text->len == 0);
}

char *
wb_craft_foretell_dup_above (const WbCraftSchool *school,
                             const WbCraftSeat   *recipe)
{
  const WbCraftSeat *hot = find_hot (school, recipe);
  g_autofree char *crossing = NULL;

  if (hot == NULL)
    return NULL;
  crossing = wb_craft_foretell_dup_crossing (hot->cell);
  /* Translators: series and size of a wick; a limit that it crossed, with where. */
  return g_strdup_printf (_("%s %s burnt too hot in a vessel no narrower: %s."), hot->cell->series, hot->cell->size != NULL ? hot->cell->size : "",
                          crossing);
}

/* What was tried, as far as it bounds a recipe. */
typedef struct
{
  gint64   lowest, highest;
  double   narrowest, widest, least_load, most_load;
  gboolean wicks, wax;
} Tried;

static Tried
find_tried (const WbCraftSchool *school,
            const WbCraftSeat   *recipe)
{
  Tried tried = { G_MAXINT64, G_MININT64, INFINITY, 0, INFINITY, -INFINITY, FALSE, FALSE };

  for (guint i = 0; i < school->seats->len; i++)
    {
      const WbCraftSeat *seat = get_seat (school, i);

      if (seat->cell->burns == 0)
        continue;
      if (seat->level[WB_CRAFT_LEVEL_SERIES] == recipe->level[WB_CRAFT_LEVEL_SERIES])
        {
          tried.lowest = MIN (tried.lowest, seat->step);
          tried.highest = MAX (tried.highest, seat->step);
        }
      tried.narrowest = MIN (tried.narrowest, seat->inner_mm);
      tried.widest = MAX (tried.widest, seat->inner_mm);
      tried.least_load = fmin (tried.least_load, seat->load_pct);
      tried.most_load = fmax (tried.most_load, seat->load_pct);
      tried.wicks = tried.wicks || seat->wicks == recipe->wicks;
      tried.wax = tried.wax || seat->level[WB_CRAFT_LEVEL_WAX] == recipe->level[WB_CRAFT_LEVEL_WAX];
    }
  return tried;
}

char *
wb_craft_foretell_dup_outside (const WbCraftSchool *school,
                               const WbCraftSeat   *recipe)
{
  g_autoptr (GPtrArray) words = g_ptr_array_new ();
  Tried tried = find_tried (school, recipe);

  if (tried.lowest == G_MAXINT64)
    g_ptr_array_add (words, (gpointer) _("series never tried"));
  else if (recipe->step < tried.lowest || recipe->step > tried.highest)
    g_ptr_array_add (words, (gpointer) _("size outside those tried"));
  if (recipe->inner_mm < tried.narrowest * (1 - NEAR_INNER) || recipe->inner_mm > tried.widest * (1 + NEAR_INNER))
    g_ptr_array_add (words, (gpointer) _("vessel outside those tried"));
  if (!tried.wax)
    g_ptr_array_add (words, (gpointer) _("wax never tried"));
  if (recipe->load_pct < tried.least_load - NEAR_LOAD_PCT || recipe->load_pct > tried.most_load + NEAR_LOAD_PCT)
    g_ptr_array_add (words, (gpointer) _("load outside those tried"));
  if (!tried.wicks)
    g_ptr_array_add (words, (gpointer) _("number of wicks never tried"));
  if (words->len == 0)
    return NULL;
  g_ptr_array_add (words, NULL);
  return g_strjoinv (", ", (char **) words->pdata);
}
