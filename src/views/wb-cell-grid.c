/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-cell-grid.h"

#include "wb-cell-order.h"

#include <glib/gi18n.h>
#include <string.h>

/*
 * CSS node: cellgrid. A cell that is off shows a dash where it holds text. Where cells are ticked, the heading of a line, a
 * column or a vessel that has several is a tick that stands for all of them. What the names of all wicks begin with, their series,
 * stands once over the lines, so that the size is read at a glance.
 */

/* In characters; of a longer one a line may end within. */
#define LONGEST_WORD 20

typedef struct
{
  GtkCheckButton *check;  /* borrowed from the grid */
  GArray         *cells;  /* guint */
} Group;

struct _WbCellGrid
{
  GtkWidget  parent_instance;

  /* children */
  GtkWidget *grid;

  /* owned */
  GPtrArray *ticks;   /* GtkCheckButton of each cell, borrowed; NULL where it shows text */
  GPtrArray *groups;  /* Group */
  GArray    *items;   /* WbCellGridItem; NULL before it is filled */
  char      *shape;   /* all words shown, to know them again */

  /* state */
  gboolean   quiet;
};

G_DEFINE_FINAL_TYPE (WbCellGrid, wb_cell_grid, GTK_TYPE_WIDGET)

enum { TOGGLED, MOVED, N_SIGNALS };
static guint signals[N_SIGNALS];

static void
item_clear (gpointer data)
{
  WbCellGridItem *item = data;

  g_free (item->vessel);
  g_free (item->wick);
  g_free (item->scent);
  g_free (item->name);
  g_free (item->text);
}

static void
group_free (gpointer data)
{
  Group *group = data;

  g_array_unref (group->cells);
  g_free (group);
}

static void
update_groups (WbCellGrid *self)
{
  self->quiet = TRUE;
  for (guint i = 0; i < self->groups->len; i++)
    {
      const Group *group = self->groups->pdata[i];
      guint on = 0;

      for (guint k = 0; k < group->cells->len; k++)
        on += gtk_check_button_get_active (self->ticks->pdata[g_array_index (group->cells, guint, k)]);
      gtk_check_button_set_active (group->check, on == group->cells->len);
      gtk_check_button_set_inconsistent (group->check, on > 0 && on < group->cells->len);
    }
  self->quiet = FALSE;
}

static void
on_tick_toggled_cb (WbCellGrid     *self,
                    GtkCheckButton *tick)
{
  g_autoptr (GArray) one = g_array_new (FALSE, FALSE, sizeof (guint));
  guint cell;

  if (self->quiet || !g_ptr_array_find (self->ticks, tick, &cell))
    return;
  g_array_append_val (one, cell);
  update_groups (self);
  g_signal_emit (self, signals[TOGGLED], 0, one, gtk_check_button_get_active (tick));
}

static const GArray *
find_cells (WbCellGrid     *self,
            GtkCheckButton *check)
{
  for (guint i = 0; i < self->groups->len; i++)
    if (((const Group *) self->groups->pdata[i])->check == check)
      return ((const Group *) self->groups->pdata[i])->cells;
  return NULL;
}

/* All that change are told at once, so that they are one change of the plan. */
static void
on_group_toggled_cb (WbCellGrid     *self,
                     GtkCheckButton *check)
{
  gboolean on = gtk_check_button_get_active (check);
  g_autoptr (GArray) changed = g_array_new (FALSE, FALSE, sizeof (guint));
  const GArray *cells = self->quiet ? NULL : find_cells (self, check);

  if (cells == NULL)
    return;
  self->quiet = TRUE;
  for (guint i = 0; i < cells->len; i++)
    {
      guint cell = g_array_index (cells, guint, i);

      if (self->ticks->pdata[cell] == NULL || gtk_check_button_get_active (self->ticks->pdata[cell]) == on)
        continue;
      gtk_check_button_set_active (self->ticks->pdata[cell], on);
      g_array_append_val (changed, cell);
    }
  self->quiet = FALSE;
  update_groups (self);
  if (changed->len > 0)
    g_signal_emit (self, signals[TOGGLED], 0, changed, on);
}

static glong
get_longest_word (const char *text)
{
  g_auto (GStrv) words = g_strsplit (text, " ", -1);
  glong longest = 0;

  for (guint i = 0; words[i] != NULL; i++)
    longest = MAX (longest, g_utf8_strlen (words[i], -1));
  return longest;
}

/* Nothing of it is cut: a longer one takes another line, and no word that fits on one is divided. */
static GtkWidget *
label_new (const char *text,
           const char *style,
           int         most)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL,
                                   "label", text,
                                   "xalign", 0.0,
                                   "yalign", 0.0,
                                   "wrap", TRUE,
                                   "wrap-mode", get_longest_word (text) > LONGEST_WORD ? PANGO_WRAP_WORD_CHAR : PANGO_WRAP_WORD,
                                   "max-width-chars", most,
                                   "tooltip-text", text,
                                   NULL);

  if (style != NULL)
    gtk_widget_add_css_class (label, style);
  return label;
}

typedef gboolean (*BelongsFunc) (const WbCellGridItem *item, const WbCellGridItem *model);

static gboolean
of_vessel (const WbCellGridItem *item,
           const WbCellGridItem *model)
{
  return item->vessel_id == model->vessel_id;
}

static gboolean
of_line (const WbCellGridItem *item,
         const WbCellGridItem *model)
{
  return item->vessel_id == model->vessel_id && g_str_equal (item->wick, model->wick);
}

static gboolean
of_column (const WbCellGridItem *item,
           const WbCellGridItem *model)
{
  return g_str_equal (item->scent, model->scent);
}

/* A label, or a tick for all that belong to it where they are several and can be ticked. */
static GtkWidget *
heading_new (WbCellGrid           *self,
             const GArray         *items,
             const WbCellGridItem *model,
             BelongsFunc           belongs,
             const char           *words,
             GtkWidget            *label)
{
  g_autoptr (GArray) cells = g_array_new (FALSE, FALSE, sizeof (guint));
  g_autofree char *name = g_strdup_printf (_("%s, all of them"), words);
  Group *group;

  for (guint i = 0; i < items->len; i++)
    if (belongs (&g_array_index (items, WbCellGridItem, i), model))
      g_array_append_val (cells, i);
  if (model->text != NULL || cells->len < 2)
    return label;
  group = g_new0 (Group, 1);
  group->check = GTK_CHECK_BUTTON (gtk_check_button_new ());
  group->cells = g_steal_pointer (&cells);
  gtk_check_button_set_child (group->check, label);
  gtk_widget_set_halign (GTK_WIDGET (group->check), GTK_ALIGN_START);
  gtk_widget_set_tooltip_text (GTK_WIDGET (group->check), name);
  gtk_accessible_update_property (GTK_ACCESSIBLE (group->check), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  g_signal_connect_swapped (group->check, "toggled", G_CALLBACK (on_group_toggled_cb), self);
  g_ptr_array_add (self->groups, group);
  return GTK_WIDGET (group->check);
}

static GtkWidget *
text_new (const WbCellGridItem *item)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL,
                                   "label", item->on ? item->text : "–",
                                   "xalign", 0.0,
                                   "wrap", TRUE,
                                   "wrap-mode", PANGO_WRAP_WORD_CHAR,
                                   "selectable", item->on,
                                   "max-width-chars", 20,
                                   "tooltip-text", item->on ? item->name : _("left out"),
                                   NULL);
  g_autofree char *name = g_strdup_printf ("%s: %s", item->name, item->on ? item->text : _("left out"));

  gtk_widget_add_css_class (label, "numeric");
  gtk_accessible_update_property (GTK_ACCESSIBLE (label), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  return label;
}

static GtkWidget *
tick_new (WbCellGrid           *self,
          const WbCellGridItem *item)
{
  GtkWidget *tick = gtk_check_button_new ();

  gtk_check_button_set_active (GTK_CHECK_BUTTON (tick), item->on);
  gtk_widget_set_halign (tick, GTK_ALIGN_START);
  gtk_widget_set_tooltip_text (tick, item->name);
  gtk_accessible_update_property (GTK_ACCESSIBLE (tick), GTK_ACCESSIBLE_PROPERTY_LABEL, item->name, -1);
  g_signal_connect_swapped (tick, "toggled", G_CALLBACK (on_tick_toggled_cb), self);
  return tick;
}

static guint
place_of (GPtrArray  *words,
          const char *word)
{
  guint place;

  if (!g_ptr_array_find_with_equal_func (words, word, g_str_equal, &place))
    {
      place = words->len;
      g_ptr_array_add (words, (gpointer) word);
    }
  return place;
}

/* Lays the lines of one vessel below what is there; returns the next free row. */
static int
lay_vessel (WbCellGrid           *self,
            const GArray         *items,
            const WbCellGridItem *vessel,
            GPtrArray            *scents,
            gsize                 series,
            int                   row)
{
  g_autoptr (GPtrArray) wicks = g_ptr_array_new ();
  GtkWidget *heading = heading_new (self, items, vessel, of_vessel, vessel->vessel, label_new (vessel->vessel, "strong", 40));

  wb_cell_order_add (heading, WB_CELL_GRID_VESSEL, (guint) (vessel - &g_array_index (items, WbCellGridItem, 0)));
  gtk_grid_attach (GTK_GRID (self->grid), heading, 0, row, (int) scents->len + 1, 1);
  for (guint i = 0; i < items->len; i++)
    {
      const WbCellGridItem *item = &g_array_index (items, WbCellGridItem, i);
      guint known = wicks->len;
      int line, column;
      GtkWidget *field;

      if (item->vessel_id != vessel->vessel_id)
        continue;
      line = row + 1 + (int) place_of (wicks, item->wick);
      column = 1 + (int) place_of (scents, item->scent);
      if (wicks->len > known)
        {
          GtkWidget *name = heading_new (self, items, item, of_line, item->wick, label_new (item->wick + series, NULL, 24));

          wb_cell_order_add (name, WB_CELL_GRID_WICK, i);
          gtk_grid_attach (GTK_GRID (self->grid), name, 0, line, 1, 1);
        }
      field = item->text != NULL ? text_new (item) : tick_new (self, item);
      wb_cell_order_add (field, WB_CELL_GRID_CELL, i);
      self->ticks->pdata[i] = item->text != NULL ? NULL : field;
      gtk_grid_attach (GTK_GRID (self->grid), field, column, line, 1, 1);
    }
  return row + 1 + (int) wicks->len;
}

static char *
dup_shape (const GArray *items)
{
  GString *shape = g_string_new (NULL);

  for (guint i = 0; i < items->len; i++)
    {
      const WbCellGridItem *item = &g_array_index (items, WbCellGridItem, i);

      g_string_append_printf (shape, "%" G_GINT64_FORMAT "\t%s\t%s\t%s\t%s\n", item->vessel_id, item->vessel, item->wick, item->scent,
                              item->text == NULL ? "" : item->on ? item->text : "–");
    }
  return g_string_free (shape, FALSE);
}

static void
clear (WbCellGrid *self)
{
  GtkWidget *child;

  g_ptr_array_set_size (self->ticks, 0);
  g_ptr_array_set_size (self->groups, 0);
  while ((child = gtk_widget_get_first_child (self->grid)) != NULL)
    gtk_grid_remove (GTK_GRID (self->grid), child);
}

static gboolean
is_laid (const GArray *items,
         guint         place)
{
  for (guint i = 0; i < place; i++)
    if (g_array_index (items, WbCellGridItem, i).vessel_id == g_array_index (items, WbCellGridItem, place).vessel_id)
      return TRUE;
  return FALSE;
}

static const WbCellGridItem *
find_of_scent (const GArray *items,
               const char   *scent)
{
  for (guint i = 0; i < items->len; i++)
    if (g_str_equal (g_array_index (items, WbCellGridItem, i).scent, scent))
      return &g_array_index (items, WbCellGridItem, i);
  g_assert_not_reached ();
}

/* Bytes of the words that all wicks begin with, the blank behind them counted; 0: none, or there is but one wick. */
static gsize
find_series (const GArray *items)
{
  const char *first = items->len > 0 ? g_array_index (items, WbCellGridItem, 0).wick : "";
  gsize shared = strlen (first);
  gboolean several = FALSE;

  for (guint i = 1; i < items->len; i++)
    {
      const char *other = g_array_index (items, WbCellGridItem, i).wick;
      gsize same = 0;

      while (same < shared && first[same] == other[same])
        same++;
      several = several || !g_str_equal (first, other);
      shared = same;
    }
  while (shared > 0 && first[shared - 1] != ' ')
    shared--;
  return several ? shared : 0;
}

/* The columns share the width that is there. */
static GtkWidget *
column_new (const char *scent)
{
  GtkWidget *label = label_new (scent, "dim-label", 16);

  gtk_widget_set_hexpand (label, TRUE);
  return label;
}

static void
lay (WbCellGrid   *self,
     const GArray *items)
{
  g_autoptr (GPtrArray) scents = g_ptr_array_new ();
  gsize series = find_series (items);
  int row = 1;

  clear (self);
  g_ptr_array_set_size (self->ticks, (int) items->len);
  for (guint i = 0; i < items->len; i++)
    place_of (scents, g_array_index (items, WbCellGridItem, i).scent);
  if (series > 0)
    {
      g_autofree char *name = g_strndup (g_array_index (items, WbCellGridItem, 0).wick, series - 1);

      gtk_grid_attach (GTK_GRID (self->grid), label_new (name, "dim-label", 18), 0, 0, 1, 1);
    }
  for (guint i = 0; i < scents->len; i++)
    {
      const WbCellGridItem *first = find_of_scent (items, scents->pdata[i]);
      GtkWidget *heading = heading_new (self, items, first, of_column, scents->pdata[i], column_new (scents->pdata[i]));

      wb_cell_order_add (heading, WB_CELL_GRID_SCENT, (guint) (first - &g_array_index (items, WbCellGridItem, 0)));
      gtk_grid_attach (GTK_GRID (self->grid), heading, 1 + (int) i, 0, 1, 1);
    }
  for (guint i = 0; i < items->len; i++)
    if (!is_laid (items, i))
      row = lay_vessel (self, items, &g_array_index (items, WbCellGridItem, i), scents, series, row);
  update_groups (self);
}

static void
wb_cell_grid_dispose (GObject *object)
{
  WbCellGrid *self = WB_CELL_GRID (object);

  g_ptr_array_set_size (self->ticks, 0);
  g_ptr_array_set_size (self->groups, 0);
  g_clear_pointer (&self->grid, gtk_widget_unparent);
  G_OBJECT_CLASS (wb_cell_grid_parent_class)->dispose (object);
}

static void
wb_cell_grid_finalize (GObject *object)
{
  WbCellGrid *self = WB_CELL_GRID (object);

  g_ptr_array_unref (self->ticks);
  g_ptr_array_unref (self->groups);
  g_clear_pointer (&self->items, g_array_unref);
  g_free (self->shape);
  G_OBJECT_CLASS (wb_cell_grid_parent_class)->finalize (object);
}

static void
wb_cell_grid_class_init (WbCellGridClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_cell_grid_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_cell_grid_finalize;
  signals[TOGGLED] = g_signal_new ("toggled", WB_TYPE_CELL_GRID, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                   G_TYPE_NONE, 2, G_TYPE_ARRAY, G_TYPE_BOOLEAN);
  signals[MOVED] = g_signal_new ("moved", WB_TYPE_CELL_GRID, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                 G_TYPE_NONE, 3, G_TYPE_INT, G_TYPE_UINT, G_TYPE_UINT);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "cellgrid");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
}

static void
wb_cell_grid_init (WbCellGrid *self)
{
  self->ticks = g_ptr_array_new ();
  self->groups = g_ptr_array_new_with_free_func (group_free);
  self->grid = gtk_grid_new ();
  gtk_grid_set_row_spacing (GTK_GRID (self->grid), 4);
  gtk_grid_set_column_spacing (GTK_GRID (self->grid), 14);
  gtk_widget_set_parent (self->grid, GTK_WIDGET (self));
  wb_cell_order_follow_keys (self);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Combinations"), -1);
}

GArray *
wb_cell_grid_items_new (void)
{
  GArray *items = g_array_new (FALSE, TRUE, sizeof (WbCellGridItem));

  g_array_set_clear_func (items, item_clear);
  return items;
}

void
wb_cell_grid_fill (WbCellGrid   *self,
                   const GArray *items)
{
  g_autofree char *shape = NULL;

  g_return_if_fail (WB_IS_CELL_GRID (self));
  g_return_if_fail (items != NULL);

  g_array_ref ((GArray *) items);
  g_clear_pointer (&self->items, g_array_unref);
  self->items = (GArray *) items;
  shape = dup_shape (items);
  if (g_strcmp0 (shape, self->shape) != 0)
    {
      lay (self, items);
      g_free (self->shape);
      self->shape = g_steal_pointer (&shape);
      return;
    }
  self->quiet = TRUE;
  for (guint i = 0; i < items->len; i++)
    if (self->ticks->pdata[i] != NULL)
      gtk_check_button_set_active (self->ticks->pdata[i], g_array_index (items, WbCellGridItem, i).on);
  self->quiet = FALSE;
  update_groups (self);
}

GtkCheckButton *
wb_cell_grid_find_heading (WbCellGrid *self,
                           const char *name)
{
  g_return_val_if_fail (WB_IS_CELL_GRID (self), NULL);

  for (guint i = 0; i < self->groups->len; i++)
    {
      GtkCheckButton *check = ((const Group *) self->groups->pdata[i])->check;
      g_autofree char *wanted = g_strdup_printf (_("%s, all of them"), name);

      if (g_strcmp0 (gtk_widget_get_tooltip_text (GTK_WIDGET (check)), wanted) == 0)
        return check;
    }
  return NULL;
}

GtkCheckButton *
wb_cell_grid_get_tick (WbCellGrid *self,
                       guint       cell)
{
  g_return_val_if_fail (WB_IS_CELL_GRID (self), NULL);
  return cell < self->ticks->len ? self->ticks->pdata[cell] : NULL;
}

const GArray *
wb_cell_grid_get_items (WbCellGrid *self)
{
  g_return_val_if_fail (WB_IS_CELL_GRID (self), NULL);
  return self->items;
}

void
wb_cell_grid_move (WbCellGrid     *self,
                   WbCellGridPart  part,
                   guint           cell,
                   guint           other)
{
  g_return_if_fail (WB_IS_CELL_GRID (self));
  g_return_if_fail (self->items != NULL && MAX (cell, other) < self->items->len);

  if (wb_cell_order_can_move (self->items, part, cell, other))
    g_signal_emit (self, signals[MOVED], 0, (int) part, cell, other);
}
