/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-cell-order.h"

/* On each widget of the grid: what it stands for, and its first cell, counted from 1. */
static G_DEFINE_QUARK (wb-cell-order-part, part)
static G_DEFINE_QUARK (wb-cell-order-cell, cell)

static WbCellGridPart
get_part (GtkWidget *widget)
{
  return (WbCellGridPart) GPOINTER_TO_INT (g_object_get_qdata (G_OBJECT (widget), part_quark ()));
}

static gboolean
stands_for (GtkWidget *widget)
{
  return g_object_get_qdata (G_OBJECT (widget), cell_quark ()) != NULL;
}

static guint
get_cell (GtkWidget *widget)
{
  return GPOINTER_TO_UINT (g_object_get_qdata (G_OBJECT (widget), cell_quark ())) - 1;
}

static WbCellGrid *
get_grid (GtkWidget *widget)
{
  return WB_CELL_GRID (gtk_widget_get_ancestor (widget, WB_TYPE_CELL_GRID));
}

static gboolean
is_same (const GArray   *items,
         WbCellGridPart  part,
         guint           cell,
         guint           other)
{
  const WbCellGridItem *a = &g_array_index (items, WbCellGridItem, cell), *b = &g_array_index (items, WbCellGridItem, other);

  if (part == WB_CELL_GRID_VESSEL)
    return a->vessel_id == b->vessel_id;
  return part == WB_CELL_GRID_WICK ? g_str_equal (a->wick, b->wick) : g_str_equal (a->scent, b->scent);
}

gboolean
wb_cell_order_can_move (const GArray   *items,
                        WbCellGridPart  part,
                        guint           cell,
                        guint           other)
{
  return part != WB_CELL_GRID_CELL && g_array_index (items, WbCellGridItem, cell).text == NULL && !is_same (items, part, cell, other);
}

/* ---- Dragging ---- */

static GdkContentProvider *
on_prepare_cb (GtkDragSource *source,
               double         x,
               double         y,
               GtkWidget     *widget)
{
  WbCellGrid *grid = get_grid (widget);
  g_autoptr (GdkPaintable) picture = NULL;
  const GArray *items = grid != NULL ? wb_cell_grid_get_items (grid) : NULL;

  /* codes of a stored plan are no order to be given */
  if (items == NULL || get_cell (widget) >= items->len || g_array_index (items, WbCellGridItem, get_cell (widget)).text != NULL)
    return NULL;
  picture = gtk_widget_paintable_new (widget);
  gtk_drag_source_set_icon (source, picture, (int) x, (int) y);
  return gdk_content_provider_new_typed (GTK_TYPE_WIDGET, widget);
}

typedef struct { GtkWidget *grid; WbCellGridPart part; guint cell, other; } Move;

static gboolean
on_idle_cb (gpointer user)
{
  const Move *move = user;
  const GArray *items = wb_cell_grid_get_items (WB_CELL_GRID (move->grid));

  if (gtk_widget_get_root (move->grid) != NULL && items != NULL && MAX (move->cell, move->other) < items->len)
    wb_cell_grid_move (WB_CELL_GRID (move->grid), move->part, move->cell, move->other);
  return G_SOURCE_REMOVE;
}

static void
move_free (gpointer data)
{
  Move *move = data;

  g_object_unref (move->grid);
  g_free (move);
}

static gboolean
on_drop_cb (GtkDropTarget *target,
            const GValue  *value,
            double         x,
            double         y,
            GtkWidget     *widget)
{
  GtkWidget *dragged = g_value_get_object (value);
  Move *move;

  /* a name of another grid, or another kind of name, has no place here */
  if (dragged == NULL || !stands_for (dragged) || get_part (dragged) != get_part (widget) || get_grid (dragged) != get_grid (widget))
    return FALSE;
  move = g_new0 (Move, 1);
  *move = (Move) { g_object_ref (GTK_WIDGET (get_grid (widget))), get_part (widget), get_cell (dragged), get_cell (widget) };
  /* the grid is laid anew: not before the drag that began at one of its widgets is over */
  g_idle_add_full (G_PRIORITY_DEFAULT_IDLE, on_idle_cb, move, move_free);
  return TRUE;
}

void
wb_cell_order_add (GtkWidget      *widget,
                   WbCellGridPart  part,
                   guint           cell)
{
  GtkDragSource *source;
  GtkDropTarget *target;

  g_return_if_fail (GTK_IS_WIDGET (widget));

  g_object_set_qdata (G_OBJECT (widget), part_quark (), GINT_TO_POINTER (part));
  g_object_set_qdata (G_OBJECT (widget), cell_quark (), GUINT_TO_POINTER (cell + 1));
  if (part == WB_CELL_GRID_CELL)
    return;
  source = gtk_drag_source_new ();
  gtk_drag_source_set_actions (source, GDK_ACTION_MOVE);
  /* before a tick takes the press for a click */
  gtk_event_controller_set_propagation_phase (GTK_EVENT_CONTROLLER (source), GTK_PHASE_CAPTURE);
  g_signal_connect_object (source, "prepare", G_CALLBACK (on_prepare_cb), widget, 0);
  gtk_widget_add_controller (widget, GTK_EVENT_CONTROLLER (source));
  target = gtk_drop_target_new (GTK_TYPE_WIDGET, GDK_ACTION_MOVE);
  g_signal_connect_object (target, "drop", G_CALLBACK (on_drop_cb), widget, 0);
  gtk_widget_add_controller (widget, GTK_EVENT_CONTROLLER (target));
}

/* ---- Keys ---- */

/* The first cells of the vessels, wicks or scents, in their order. Caller unrefs. */
static GArray *
list_firsts (const GArray   *items,
             WbCellGridPart  part)
{
  GArray *firsts = g_array_new (FALSE, FALSE, sizeof (guint));

  for (guint i = 0; i < items->len; i++)
    {
      gboolean known = FALSE;

      for (guint k = 0; !known && k < firsts->len; k++)
        known = is_same (items, part, i, g_array_index (firsts, guint, k));
      if (!known)
        g_array_append_val (firsts, i);
    }
  return firsts;
}

/* What an arrow key moves of what has the focus: a line its wick, or its vessel where there is one wick alone; a column its scent. */
static WbCellGridPart
choose_part (const GArray   *items,
             WbCellGridPart  part,
             gboolean        across)
{
  g_autoptr (GArray) wicks = NULL;

  if (across)
    return WB_CELL_GRID_SCENT;
  if (part == WB_CELL_GRID_VESSEL || part == WB_CELL_GRID_SCENT)
    return part;
  wicks = list_firsts (items, WB_CELL_GRID_WICK);
  return wicks->len > 1 ? WB_CELL_GRID_WICK : WB_CELL_GRID_VESSEL;
}

static GtkWidget *
find_widget (GtkWidget      *widget,
             const GArray   *items,
             WbCellGridPart  part,
             const char     *name)
{
  if (stands_for (widget) && get_part (widget) == part && get_cell (widget) < items->len
      && g_str_equal (g_array_index (items, WbCellGridItem, get_cell (widget)).name, name))
    return widget;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = find_widget (child, items, part, name);

      if (found != NULL)
        return found;
    }
  return NULL;
}

static void
move_focused (WbCellGrid *grid,
              GtkWidget  *focus,
              gboolean    across,
              int         step)
{
  const GArray *items = wb_cell_grid_get_items (grid);
  guint cell = get_cell (focus);
  WbCellGridPart part = choose_part (items, get_part (focus), across), stood = get_part (focus);
  g_autoptr (GArray) firsts = list_firsts (items, part);
  g_autofree char *name = g_strdup (g_array_index (items, WbCellGridItem, cell).name);
  int place = 0;

  while (!is_same (items, part, cell, g_array_index (firsts, guint, place)))
    place++;
  if (place + step < 0 || place + step >= (int) firsts->len || (part == WB_CELL_GRID_SCENT && !across))
    {
      gtk_widget_error_bell (GTK_WIDGET (grid));
      return;
    }
  wb_cell_grid_move (grid, part, cell, g_array_index (firsts, guint, place + step));
  /* it was laid anew, and the focus stays with what was moved */
  focus = find_widget (GTK_WIDGET (grid), wb_cell_grid_get_items (grid), stood, name);
  if (focus != NULL)
    gtk_widget_grab_focus (focus);
}

static gboolean
on_key_cb (GtkEventControllerKey *keys,
           guint                  keyval,
           guint                  keycode,
           GdkModifierType        state,
           WbCellGrid            *grid)
{
  GtkWidget *focus = gtk_root_get_focus (gtk_widget_get_root (GTK_WIDGET (grid)));
  const GArray *items = wb_cell_grid_get_items (grid);
  gboolean across = keyval == GDK_KEY_Left || keyval == GDK_KEY_Right;
  gboolean back = keyval == GDK_KEY_Left || keyval == GDK_KEY_Up;

  if ((state & (GDK_ALT_MASK | GDK_CONTROL_MASK | GDK_SHIFT_MASK)) != GDK_ALT_MASK || (!across && !back && keyval != GDK_KEY_Down))
    return GDK_EVENT_PROPAGATE;
  if (focus == NULL || !stands_for (focus) || items == NULL || get_cell (focus) >= items->len
      || g_array_index (items, WbCellGridItem, get_cell (focus)).text != NULL)
    return GDK_EVENT_PROPAGATE;
  if (across && gtk_widget_get_direction (GTK_WIDGET (grid)) == GTK_TEXT_DIR_RTL)
    back = !back;
  move_focused (grid, focus, across, back ? -1 : 1);
  return GDK_EVENT_STOP;
}

void
wb_cell_order_follow_keys (WbCellGrid *grid)
{
  GtkEventController *keys = gtk_event_controller_key_new ();

  g_return_if_fail (WB_IS_CELL_GRID (grid));

  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect_object (keys, "key-pressed", G_CALLBACK (on_key_cb), grid, 0);
  gtk_widget_add_controller (GTK_WIDGET (grid), keys);
}
