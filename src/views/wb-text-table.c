/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-text-table.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

/* CSS nodes: texttable, and textsheet, which is as large as all of its cells. */

/* A cell's words go on in the next line beyond that; a table too wide for its place scrolls, and breaks no word. */
#define COLUMN_CHARS 20
#define HEAD_CHARS 11
#define BAR_PX 18

#define GAP_PX 6
/* A notch of the wheel. */
#define STEP_PX 60.0

/* ---- The sheet: its heads and its first column stay in sight however far it is scrolled. ---- */

#define WB_TYPE_TEXT_SHEET (wb_text_sheet_get_type ())
G_DECLARE_FINAL_TYPE (WbTextSheet, wb_text_sheet, WB, TEXT_SHEET, GtkWidget)

struct _WbTextSheet
{
  GtkWidget      parent_instance;

  /* children */
  GtkGrid       *grid;

  /* owned */
  GtkAdjustment *down; /* of what scrolls it up and down; NULL: is in no window */
  GtkAdjustment *across; /* and sideways */
};

G_DEFINE_FINAL_TYPE (WbTextSheet, wb_text_sheet, GTK_TYPE_WIDGET)

/* The window that scrolls the sheet up and down: its table's own, or one around that. */
static GtkWidget *
find_tall (GtkWidget *widget)
{
  GtkWidget *scrolled = gtk_widget_get_ancestor (widget, GTK_TYPE_SCROLLED_WINDOW);
  GtkPolicyType policy = GTK_POLICY_NEVER;

  while (scrolled != NULL)
    {
      gtk_scrolled_window_get_policy (GTK_SCROLLED_WINDOW (scrolled), NULL, &policy);
      if (policy != GTK_POLICY_NEVER)
        return scrolled;
      scrolled = gtk_widget_get_ancestor (gtk_widget_get_parent (scrolled), GTK_TYPE_SCROLLED_WINDOW);
    }
  return NULL;
}

/* How much of the sheet's top and of its reading edge is out of sight, px, from its own corner; from right to left the second
 * is 0 or less. */
static void
get_hidden (WbTextSheet *self,
            int         *across,
            int         *down)
{
  GtkWidget *widget = GTK_WIDGET (self), *wide = gtk_widget_get_ancestor (widget, GTK_TYPE_SCROLLED_WINDOW), *tall = find_tall (widget);
  GtkWidget *head = gtk_grid_get_child_at (self->grid, 0, 0);
  double x = 0.0, y = 0.0;

  *across = *down = 0;
  if (wide != NULL)
    {
      GtkAdjustment *adjustment = gtk_scrolled_window_get_hadjustment (GTK_SCROLLED_WINDOW (wide));
      double value = gtk_adjustment_get_value (adjustment);

      *across = (int) floor (gtk_widget_get_direction (widget) != GTK_TEXT_DIR_RTL ? value
                             : value + gtk_adjustment_get_page_size (adjustment) - gtk_adjustment_get_upper (adjustment));
    }
  if (tall != NULL && head != NULL && gtk_widget_translate_coordinates (tall, widget, 0.0, 0.0, &x, &y))
    *down = CLAMP ((int) floor (y), 0, MAX (gtk_widget_get_height (widget) - 2 * gtk_widget_get_height (head), 0));
}

/* Paints the cells of the first row or column once more, moved to where they are seen, on the sheet's own ground. */
static void
snapshot_moved (WbTextSheet *self,
                GtkSnapshot *snapshot,
                gboolean     heads,
                int          n,
                int          across,
                int          down)
{
  GtkWidget *widget = GTK_WIDGET (self);
  GtkWidget *first = gtk_grid_get_child_at (self->grid, 0, 0);
  graphene_rect_t place;
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);

  if (first == NULL || !gtk_widget_compute_bounds (first, widget, &place))
    return;
  gtk_snapshot_save (snapshot);
  gtk_snapshot_translate (snapshot, &GRAPHENE_POINT_INIT ((float) across, (float) down));
  if (heads)
    gtk_snapshot_render_background (snapshot, gtk_widget_get_style_context (widget), 0, 0, width,
                                    place.origin.y + place.size.height + GAP_PX / 2);
  else
    gtk_snapshot_render_background (snapshot, gtk_widget_get_style_context (widget), place.origin.x - GAP_PX, 0,
                                    place.size.width + 2 * GAP_PX, height);
  for (int i = 0; i < n; i++)
    {
      GtkWidget *cell = gtk_grid_get_child_at (self->grid, heads ? i : 0, heads ? 0 : i);

      if (cell != NULL)
        gtk_widget_snapshot_child (GTK_WIDGET (self->grid), cell, snapshot);
    }
  gtk_snapshot_restore (snapshot);
}

/* The head of the first column lies above both. */
static void
snapshot_corner (WbTextSheet *self,
                 GtkSnapshot *snapshot,
                 int          across,
                 int          down)
{
  GtkWidget *first = gtk_grid_get_child_at (self->grid, 0, 0);
  graphene_rect_t place;

  if (first == NULL || !gtk_widget_compute_bounds (first, GTK_WIDGET (self), &place))
    return;
  gtk_snapshot_push_clip (snapshot, &GRAPHENE_RECT_INIT (across + place.origin.x - GAP_PX, down, place.size.width + 2 * GAP_PX,
                                                         place.origin.y + place.size.height + GAP_PX / 2));
  snapshot_moved (self, snapshot, FALSE, 1, across, down);
  gtk_snapshot_pop (snapshot);
}

static void
count_cells (WbTextSheet *self,
             int         *columns,
             int         *rows)
{
  *columns = *rows = 0;
  while (gtk_grid_get_child_at (self->grid, *columns, 0) != NULL)
    (*columns)++;
  while (gtk_grid_get_child_at (self->grid, 0, *rows) != NULL)
    (*rows)++;
}

static void
wb_text_sheet_snapshot (GtkWidget   *widget,
                        GtkSnapshot *snapshot)
{
  WbTextSheet *self = WB_TEXT_SHEET (widget);
  int across, down, columns, rows;

  GTK_WIDGET_CLASS (wb_text_sheet_parent_class)->snapshot (widget, snapshot);
  get_hidden (self, &across, &down);
  count_cells (self, &columns, &rows);
  if (across != 0)
    snapshot_moved (self, snapshot, FALSE, rows, across, 0);
  if (down != 0)
    snapshot_moved (self, snapshot, TRUE, columns, 0, down);
  if (across != 0 && down != 0)
    snapshot_corner (self, snapshot, across, down);
}

static void
leave (WbTextSheet *self)
{
  if (self->down != NULL)
    g_signal_handlers_disconnect_by_data (self->down, self);
  g_clear_object (&self->down);
  if (self->across != NULL)
    g_signal_handlers_disconnect_by_data (self->across, self);
  g_clear_object (&self->across);
}

static void
wb_text_sheet_map (GtkWidget *widget)
{
  WbTextSheet *self = WB_TEXT_SHEET (widget);
  GtkWidget *tall = find_tall (widget), *wide = gtk_widget_get_ancestor (widget, GTK_TYPE_SCROLLED_WINDOW);

  GTK_WIDGET_CLASS (wb_text_sheet_parent_class)->map (widget);
  leave (self);
  /* a widget that was only moved is not painted anew: its names would go out of sight with it */
  if (wide != NULL)
    {
      self->across = g_object_ref (gtk_scrolled_window_get_hadjustment (GTK_SCROLLED_WINDOW (wide)));
      g_signal_connect_swapped (self->across, "value-changed", G_CALLBACK (gtk_widget_queue_draw), self);
    }
  if (tall == NULL)
    return;
  self->down = g_object_ref (gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (tall)));
  g_signal_connect_swapped (self->down, "value-changed", G_CALLBACK (gtk_widget_queue_draw), self);
}

static void
wb_text_sheet_unmap (GtkWidget *widget)
{
  leave (WB_TEXT_SHEET (widget));
  GTK_WIDGET_CLASS (wb_text_sheet_parent_class)->unmap (widget);
}

static void
wb_text_sheet_dispose (GObject *object)
{
  WbTextSheet *self = WB_TEXT_SHEET (object);
  GtkWidget *grid = GTK_WIDGET (self->grid);

  leave (self);
  self->grid = NULL;
  g_clear_pointer (&grid, gtk_widget_unparent);
  G_OBJECT_CLASS (wb_text_sheet_parent_class)->dispose (object);
}

static void
wb_text_sheet_class_init (WbTextSheetClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_text_sheet_dispose;
  widget_class->snapshot = wb_text_sheet_snapshot;
  widget_class->map = wb_text_sheet_map;
  widget_class->unmap = wb_text_sheet_unmap;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "textsheet");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_PRESENTATION);
}

static void
wb_text_sheet_init (WbTextSheet *self)
{
  self->grid = GTK_GRID (gtk_grid_new ());
  gtk_grid_set_column_spacing (self->grid, 16);
  gtk_grid_set_row_spacing (self->grid, GAP_PX);
  gtk_widget_set_parent (GTK_WIDGET (self->grid), GTK_WIDGET (self));
}

/* ---- The table ---- */

struct _WbTextTable
{
  GtkWidget  parent_instance;

  /* children */
  GtkWidget *scrolled;
  GtkWidget *sheet;
  GtkGrid   *grid; /* the sheet's */

  /* owned */
  GPtrArray *heads; /* char * */
  GPtrArray *rows;  /* GPtrArray of char * */
};

G_DEFINE_FINAL_TYPE (WbTextTable, wb_text_table, GTK_TYPE_WIDGET)

static GtkWidget *
label_new (const char *text,
           const char *style,
           int         most)
{
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
  GtkWidget *label;
  int widest = 1;

  for (guint i = 0; lines[i] != NULL; i++)
    widest = MAX (widest, (int) g_utf8_strlen (lines[i], -1));
  label = g_object_new (GTK_TYPE_LABEL, "label", text, "xalign", 0.0, "yalign", 0.0, "wrap", TRUE, "width-chars", MIN (widest, most),
                        "max-width-chars", most, NULL);

  if (style != NULL)
    gtk_widget_add_css_class (label, style);
  return label;
}

/* First line large, what follows small. */
static GtkWidget *
cell_new (const char *text)
{
  const char *rest = strchr (text, '\n');
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 1);
  g_autofree char *first = rest != NULL ? g_strndup (text, (gsize) (rest - text)) : g_strdup (text);

  gtk_box_append (GTK_BOX (box), label_new (first, "numeric", COLUMN_CHARS));
  if (rest != NULL && rest[1] != '\0')
    gtk_box_append (GTK_BOX (box), label_new (rest + 1, "hint", COLUMN_CHARS));
  return box;
}

static void
wb_text_table_dispose (GObject *object)
{
  WbTextTable *self = WB_TEXT_TABLE (object);

  g_clear_pointer (&self->scrolled, gtk_widget_unparent);
  G_OBJECT_CLASS (wb_text_table_parent_class)->dispose (object);
}

static void
wb_text_table_finalize (GObject *object)
{
  g_ptr_array_unref (WB_TEXT_TABLE (object)->heads);
  g_ptr_array_unref (WB_TEXT_TABLE (object)->rows);
  G_OBJECT_CLASS (wb_text_table_parent_class)->finalize (object);
}

static void
wb_text_table_class_init (WbTextTableClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_text_table_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_text_table_finalize;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "texttable");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
}

/* Only what scrolls sideways is for the table; all else for what is around it. */
static gboolean
on_scroll_cb (GtkEventControllerScroll *controller,
              double                    across,
              double                    down,
              WbTextTable              *self)
{
  GtkAdjustment *adjustment = gtk_scrolled_window_get_hadjustment (GTK_SCROLLED_WINDOW (self->scrolled));
  GdkModifierType state = gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (controller));
  double step = gtk_event_controller_scroll_get_unit (controller) == GDK_SCROLL_UNIT_WHEEL ? STEP_PX : 1.0;

  if ((state & GDK_SHIFT_MASK) != 0 && across == 0.0)
    {
      across = down;
      down = 0.0;
    }
  if (fabs (across) <= fabs (down) || gtk_adjustment_get_upper (adjustment) <= gtk_adjustment_get_page_size (adjustment))
    return GDK_EVENT_PROPAGATE;
  gtk_adjustment_set_value (adjustment, gtk_adjustment_get_value (adjustment) + across * step);
  return GDK_EVENT_STOP;
}

static void
set_wheel_phase (WbTextTable        *self,
                 GtkPropagationPhase phase)
{
  g_autoptr (GListModel) controllers = gtk_widget_observe_controllers (self->scrolled);

  for (guint i = 0; i < g_list_model_get_n_items (controllers); i++)
    {
      g_autoptr (GtkEventController) controller = g_list_model_get_item (controllers, i);

      if (GTK_IS_EVENT_CONTROLLER_SCROLL (controller))
        gtk_event_controller_set_propagation_phase (controller, phase);
    }
}

/* A scrolled window of GTK 4.8 keeps the wheel to itself, also where it scrolls only sideways. */
static void
take_wheel (WbTextTable *self)
{
  GtkEventController *own = gtk_event_controller_scroll_new (GTK_EVENT_CONTROLLER_SCROLL_BOTH_AXES);

  set_wheel_phase (self, GTK_PHASE_NONE);
  g_signal_connect (own, "scroll", G_CALLBACK (on_scroll_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), own);
}

static void
wb_text_table_init (WbTextTable *self)
{
  self->heads = g_ptr_array_new_with_free_func (g_free);
  self->rows = g_ptr_array_new_with_free_func ((GDestroyNotify) g_ptr_array_unref);
  self->sheet = g_object_new (WB_TYPE_TEXT_SHEET, NULL);
  self->grid = WB_TEXT_SHEET (self->sheet)->grid;
  /* GTK 4.8 asks for no room for a bar below what does not scroll up and down. */
  gtk_widget_set_margin_bottom (GTK_WIDGET (self->grid), BAR_PX);
  self->scrolled = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (self->scrolled), GTK_POLICY_AUTOMATIC, GTK_POLICY_NEVER);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (self->scrolled), self->sheet);
  /* A bar that comes and goes would leave it open whether there is more. */
  gtk_scrolled_window_set_overlay_scrolling (GTK_SCROLLED_WINDOW (self->scrolled), FALSE);
  gtk_widget_set_focusable (self->scrolled, TRUE);
  g_signal_connect_object (gtk_scrolled_window_get_hadjustment (GTK_SCROLLED_WINDOW (self->scrolled)), "value-changed",
                           G_CALLBACK (gtk_widget_queue_draw), self->sheet, G_CONNECT_SWAPPED);
  take_wheel (self);
  gtk_widget_set_parent (self->scrolled, GTK_WIDGET (self));
}

GtkWidget *
wb_text_table_new (const char *name)
{
  WbTextTable *self = g_object_new (WB_TYPE_TEXT_TABLE, NULL);

  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->scrolled), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  return GTK_WIDGET (self);
}

void
wb_text_table_fill_place (WbTextTable *self)
{
  g_return_if_fail (WB_IS_TEXT_TABLE (self));

  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (self->scrolled), GTK_POLICY_AUTOMATIC, GTK_POLICY_AUTOMATIC);
  gtk_widget_set_vexpand (GTK_WIDGET (self), TRUE);
  gtk_widget_set_margin_bottom (GTK_WIDGET (self->grid), 0);
  set_wheel_phase (self, GTK_PHASE_BUBBLE);
}

void
wb_text_table_clear (WbTextTable *self)
{
  GtkWidget *child;

  g_return_if_fail (WB_IS_TEXT_TABLE (self));

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self->grid))) != NULL)
    gtk_grid_remove (self->grid, child);
  g_ptr_array_set_size (self->heads, 0);
  g_ptr_array_set_size (self->rows, 0);
}

void
wb_text_table_set_heads (WbTextTable       *self,
                         const char *const *heads)
{
  g_return_if_fail (WB_IS_TEXT_TABLE (self));

  for (guint i = 0; heads[i] != NULL; i++)
    {
      GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);

      g_ptr_array_add (self->heads, g_strdup (heads[i]));
      gtk_box_append (GTK_BOX (box), label_new (heads[i], "heading", HEAD_CHARS));
      gtk_grid_attach (self->grid, box, (int) i, 0, 1, 1);
    }
}

void
wb_text_table_add_to_head (WbTextTable *self,
                           guint        column,
                           GtkWidget   *widget)
{
  GtkWidget *box;

  g_return_if_fail (WB_IS_TEXT_TABLE (self));

  box = gtk_grid_get_child_at (self->grid, (int) column, 0);
  g_return_if_fail (box != NULL);
  gtk_box_prepend (GTK_BOX (box), widget);
}

/* "B4, Flame, lower third: 22 mm, better": a cell is read without the rest of the table. */
static void
name_cell (WbTextTable *self,
           GtkWidget   *cell,
           const char  *row,
           guint        column,
           const char  *text)
{
  g_autofree char *line = g_strdelimit (g_strdup (text), "\n", ' ');
  g_autofree char *name = NULL;

  if (column >= self->heads->len)
    return;
  name = g_strdup_printf ("%s, %s: %s", (const char *) self->heads->pdata[column], row, line);
  gtk_accessible_update_property (GTK_ACCESSIBLE (cell), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
}

void
wb_text_table_add_row (WbTextTable       *self,
                       const char *const *cells)
{
  GPtrArray *row;

  g_return_if_fail (WB_IS_TEXT_TABLE (self));

  row = g_ptr_array_new_with_free_func (g_free);
  g_ptr_array_add (self->rows, row);
  for (guint i = 0; cells[i] != NULL; i++)
    {
      GtkWidget *cell = i == 0 ? label_new (cells[i], NULL, COLUMN_CHARS) : cell_new (cells[i]);

      g_ptr_array_add (row, g_strdup (cells[i]));
      if (i > 0)
        name_cell (self, cell, cells[0], i, cells[i]);
      gtk_grid_attach (self->grid, cell, (int) i, (int) self->rows->len, 1, 1);
    }
}

void
wb_text_table_stress (WbTextTable *self,
                      guint        column)
{
  GtkWidget *cell;

  g_return_if_fail (WB_IS_TEXT_TABLE (self));

  cell = gtk_grid_get_child_at (self->grid, (int) column, (int) self->rows->len);
  if (cell != NULL)
    gtk_widget_add_css_class (gtk_widget_get_first_child (cell), "heading");
}

guint
wb_text_table_get_n_rows (WbTextTable *self)
{
  g_return_val_if_fail (WB_IS_TEXT_TABLE (self), 0);
  return self->rows->len;
}

const char *
wb_text_table_get_cell (WbTextTable *self,
                        guint        row,
                        guint        column)
{
  GPtrArray *cells;

  g_return_val_if_fail (WB_IS_TEXT_TABLE (self), NULL);

  cells = row < self->rows->len ? self->rows->pdata[row] : NULL;
  return cells != NULL && column < cells->len ? cells->pdata[column] : NULL;
}
