/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-ladder-numbers.h"

#include "wb-craft-ladder-told.h"
#include "wb-focus-walk.h"
#include "wb-text-table.h"

#include <glib/gi18n.h>
#include <math.h>

/* CSS node: laddernumbers. Accessible: an expander, and the table in it. */

typedef enum
{
  BEST, RIGHT, NEAR, CROSS, SCORE, BURN_TIME,
  LIMIT_TOP, FULL_TOP, FLAME_TOP, VESSEL_TOP, WAX_TOP,
  LIMIT_BOTTOM, FULL_BOTTOM, FLAME_BOTTOM, VESSEL_BOTTOM, WAX_BOTTOM,
  N_COLUMNS
} Column;

static const char *const heads[N_COLUMNS] = {
  N_("Recipe the best"), N_("Next candle right"), N_("Within 0.05 of the best"), N_("Over a limit of heat"), N_("Score"), N_("Burns in all"),
  N_("Top: limit of the pool"), N_("Top: full melt pool"), N_("Top: flame"), N_("Top: vessel"), N_("Top: wax"),
  N_("Bottom: limit of the pool"), N_("Bottom: full melt pool"), N_("Bottom: flame"), N_("Bottom: vessel"), N_("Bottom: wax"),
};

struct _WbLadderNumbers
{
  GtkWidget            parent_instance;

  /* children */
  GtkWidget           *expander;
  WbTextTable         *table;

  /* borrowed */
  WbDesk              *desk;
  const WbCraftLadder *ladder;

  /* state */
  gboolean             filled;
};

G_DEFINE_FINAL_TYPE (WbLadderNumbers, wb_ladder_numbers, GTK_TYPE_WIDGET)

static char *
dup_chance (double chance)
{
  if (isnan (chance))
    return g_strdup ("");
  if (chance > 0 && chance < 0.005)
    return g_strdup (_("under 1\302\240%"));
  if (chance < 1 && chance > 0.995)
    return g_strdup (_("over 99\302\240%"));
  return wb_quantity_format (WB_UNIT_PERCENT, 100 * chance, 0);
}

/* The value, and its interval in small letters below. factor: to what the unit's quantity is stored in. */
static char *
dup_interval (WbCraftInterval interval,
              WbUnit          unit,
              double          factor,
              int             decimals)
{
  g_autofree char *value = NULL, *low = NULL, *high = NULL;

  if (isnan (interval.value) && isnan (interval.low))
    return g_strdup ("");
  low = isnan (interval.low) ? NULL : wb_quantity_format_number (unit, factor * interval.low, decimals);
  high = isnan (interval.high) ? NULL : wb_quantity_format_number (unit, factor * interval.high, decimals);
  value = isnan (interval.value) ? g_strdup ("–") : wb_quantity_format (unit, factor * interval.value, decimals);
  if (low != NULL && high != NULL)
    /* Translators: a value; below it the ends of its interval */
    return g_strdup_printf (_("%s\n%s to %s"), value, low, high);
  if (low != NULL)
    /* Translators: a value; below it the lower end of its interval, which has no upper one */
    return g_strdup_printf (_("%s\n%s or more"), value, low);
  return g_steal_pointer (&value);
}

static char *
dup_place (WbLadderNumbers         *self,
           const WbCraftLadderStep *step,
           WbCraftFillPlace         place,
           Column                   column)
{
  const WbCraftForetoldAt *at = &step->at[place];
  gboolean whole = place == WB_CRAFT_FILL_TOP; /* where the places are not told apart, the one figure there is */
  WbUnit length = wb_desk_get_unit (self->desk, WB_QUANTITY_LENGTH);
  int places = length == WB_UNIT_INCH ? 2 : 0;

  switch (column)
    {
    case LIMIT_TOP:
      return dup_interval (whole && isnan (at->pool_limit_mm.value) ? step->pool_limit_mm : at->pool_limit_mm, length, 1, places);
    case FULL_TOP:
      return dup_interval (whole && isnan (at->pool_limit_mm.value) ? step->full_pool_h : at->full_pool_h, WB_UNIT_HOUR, 3600, 1);
    case FLAME_TOP:
      return dup_interval (whole && isnan (at->flame_mm.value) ? step->flame_mm : at->flame_mm, length, 1, places);
    case VESSEL_TOP:
      return dup_interval (at->vessel_c, wb_desk_get_unit (self->desk, WB_QUANTITY_TEMPERATURE), 1, 0);
    case WAX_TOP:
    default:
      return dup_interval (at->consumption_g_h, wb_desk_get_unit (self->desk, WB_QUANTITY_MASS_RATE), 1, length == WB_UNIT_INCH ? 2 : 1);
    }
}

static char *
dup_cell (WbLadderNumbers         *self,
          const WbCraftLadderStep *step,
          Column                   column)
{
  switch (column)
    {
    case BEST:
      return dup_chance (step->p_best);
    case RIGHT:
      return dup_chance (step->p_right);
    case NEAR:
      return dup_chance (step->p_near);
    case CROSS:
      return dup_chance (step->p_cross);
    case SCORE:
      return dup_interval (step->score, WB_UNIT_NONE, 1, 2);
    case BURN_TIME:
      return dup_interval (step->burn_h, WB_UNIT_HOUR, 3600, 0);
    case LIMIT_TOP:
    case FULL_TOP:
    case FLAME_TOP:
    case VESSEL_TOP:
    case WAX_TOP:
      return dup_place (self, step, WB_CRAFT_FILL_TOP, column);
    case LIMIT_BOTTOM:
    case FULL_BOTTOM:
    case FLAME_BOTTOM:
    case VESSEL_BOTTOM:
    case WAX_BOTTOM:
      return dup_place (self, step, WB_CRAFT_FILL_BOTTOM, (Column) (column - LIMIT_BOTTOM + LIMIT_TOP));
    case N_COLUMNS:
    default:
      g_assert_not_reached ();
    }
}

static const WbCraftLadderStep *
get_step (WbLadderNumbers *self,
          guint            index)
{
  return g_ptr_array_index (self->ladder->steps, index);
}

/* Columns of which nothing is known are left out. */
static void
fill (WbLadderNumbers *self)
{
  g_autoptr (GPtrArray) titles = g_ptr_array_new ();
  gboolean used[N_COLUMNS] = { FALSE };

  for (guint i = 0; i < self->ladder->steps->len; i++)
    for (guint column = 0; column < N_COLUMNS; column++)
      {
        g_autofree char *cell = used[column] ? NULL : dup_cell (self, get_step (self, i), column);

        used[column] = used[column] || *cell != '\0';
      }
  g_ptr_array_add (titles, (char *) _("Wick"));
  for (guint column = 0; column < N_COLUMNS; column++)
    if (used[column])
      g_ptr_array_add (titles, (char *) _(heads[column]));
  g_ptr_array_add (titles, NULL);
  wb_text_table_clear (self->table);
  wb_text_table_set_heads (self->table, (const char *const *) titles->pdata);
  for (guint i = 0; i < self->ladder->steps->len; i++)
    {
      g_autoptr (GPtrArray) cells = g_ptr_array_new_with_free_func (g_free);
      g_autofree char *name = wb_craft_ladder_step_dup_name (get_step (self, i));

      g_ptr_array_add (cells, get_step (self, i)->in_ladder ? g_strdup_printf ("★ %s", name) : g_strdup (name));
      for (guint column = 0; column < N_COLUMNS; column++)
        if (used[column])
          g_ptr_array_add (cells, dup_cell (self, get_step (self, i), column));
      g_ptr_array_add (cells, NULL);
      wb_text_table_add_row (self->table, (const char *const *) cells->pdata);
    }
  self->filled = TRUE;
}

static void
on_expanded_cb (WbLadderNumbers *self)
{
  if (self->ladder != NULL && !self->filled && gtk_expander_get_expanded (GTK_EXPANDER (self->expander)))
    fill (self);
}

static void
wb_ladder_numbers_dispose (GObject *object)
{
  g_clear_pointer (&WB_LADDER_NUMBERS (object)->expander, gtk_widget_unparent);
  G_OBJECT_CLASS (wb_ladder_numbers_parent_class)->dispose (object);
}

static void
wb_ladder_numbers_class_init (WbLadderNumbersClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = wb_ladder_numbers_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (klass), "laddernumbers");
}

static void
wb_ladder_numbers_init (WbLadderNumbers *self)
{
  self->expander = gtk_expander_new (_("All wicks in numbers"));
  self->table = WB_TEXT_TABLE (wb_text_table_new (_("All wicks in numbers")));
  gtk_expander_set_child (GTK_EXPANDER (self->expander), GTK_WIDGET (self->table));
  wb_focus_walk_fold (GTK_EXPANDER (self->expander));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->expander), GTK_ACCESSIBLE_PROPERTY_LABEL, _("All wicks in numbers"), -1);
  gtk_widget_set_parent (self->expander, GTK_WIDGET (self));
  g_signal_connect_object (self->expander, "notify::expanded", G_CALLBACK (on_expanded_cb), self, G_CONNECT_SWAPPED);
}

void
wb_ladder_numbers_set (WbLadderNumbers     *self,
                       WbDesk              *desk,
                       const WbCraftLadder *ladder)
{
  g_return_if_fail (WB_IS_LADDER_NUMBERS (self));
  g_return_if_fail ((desk == NULL) == (ladder == NULL));

  self->desk = desk;
  self->ladder = ladder;
  self->filled = FALSE;
  /* suppliers' diameters alone foretell no number */
  gtk_widget_set_visible (GTK_WIDGET (self), ladder != NULL && ladder->rests_on == WB_CRAFT_RESTS_ON_HISTORY && ladder->steps->len > 0);
  if (ladder != NULL && gtk_expander_get_expanded (GTK_EXPANDER (self->expander)))
    fill (self);
}
