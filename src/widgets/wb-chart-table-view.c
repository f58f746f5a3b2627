/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-chart-table-view.h"

#include "wb-accessible-name.h"

#include <glib/gi18n.h>

/*
 * The list model hands out rows as small objects when the view asks for one;
 * cells look their text up in the table. GTK 4.8 labels no list item, so each
 * cell's text is what is read.
 *
 * A list of GTK's holds 200 rows' widgets at once, however many show, and making
 * them takes longer than a frame lasts: the model begins with those of the first
 * screen and grows by frames, until the widgets are made.
 */

#define ROWS_A_FRAME 24
#define ROWS_MADE 240
/* Cells are as wide as the longest text of so many rows, within reason. */
#define ROWS_MEASURED 2000
#define CHARS_MIN 3
#define CHARS_SQUEEZED 14
#define CHARS_MAX 28

#define WB_TYPE_TABLE_ROW (wb_table_row_get_type ())
G_DECLARE_FINAL_TYPE (WbTableRow, wb_table_row, WB, TABLE_ROW, GObject)

struct _WbTableRow
{
  GObject parent_instance;
  guint   row;
};

G_DEFINE_FINAL_TYPE (WbTableRow, wb_table_row, G_TYPE_OBJECT)

static void
wb_table_row_class_init (WbTableRowClass *klass)
{
}

static void
wb_table_row_init (WbTableRow *self)
{
}

#define WB_TYPE_TABLE_ROWS (wb_table_rows_get_type ())
G_DECLARE_FINAL_TYPE (WbTableRows, wb_table_rows, WB, TABLE_ROWS, GObject)

struct _WbTableRows
{
  GObject parent_instance;
  guint   n;
};

static GType
wb_table_rows_get_item_type (GListModel *model)
{
  return WB_TYPE_TABLE_ROW;
}

static guint
wb_table_rows_get_n_items (GListModel *model)
{
  return WB_TABLE_ROWS (model)->n;
}

static gpointer
wb_table_rows_get_item (GListModel *model,
                        guint       position)
{
  WbTableRow *row;

  if (position >= WB_TABLE_ROWS (model)->n)
    return NULL;
  row = g_object_new (WB_TYPE_TABLE_ROW, NULL);
  row->row = position;
  return row;
}

static void
wb_table_rows_list_model_init (GListModelInterface *iface)
{
  iface->get_item_type = wb_table_rows_get_item_type;
  iface->get_n_items = wb_table_rows_get_n_items;
  iface->get_item = wb_table_rows_get_item;
}

G_DEFINE_FINAL_TYPE_WITH_CODE (WbTableRows, wb_table_rows, G_TYPE_OBJECT,
                               G_IMPLEMENT_INTERFACE (G_TYPE_LIST_MODEL, wb_table_rows_list_model_init))

static void
wb_table_rows_class_init (WbTableRowsClass *klass)
{
}

static void
wb_table_rows_init (WbTableRows *self)
{
}

struct _WbChartTableView
{
  GtkWidget     parent_instance;

  /* children */
  GtkWidget    *scrolled;
  GtkWidget    *view;

  /* owned */
  WbChartTable *table;
  GCancellable *cancellable; /* of the table that is being written; NULL: none is */
  WbTableRows  *rows;        /* that grow; NULL: none do */

  /* state */
  guint         tick_id;
};

G_DEFINE_FINAL_TYPE (WbChartTableView, wb_chart_table_view, GTK_TYPE_WIDGET)

enum { PROP_0, PROP_READY, N_PROPS };
static GParamSpec *properties[N_PROPS];

static gpointer
free_table (gpointer table)
{
  wb_chart_table_free (table);
  return NULL;
}

/* A table of many thousand rows takes longer to free than a frame lasts. */
static void
drop_table (WbChartTableView *self)
{
  g_autoptr (GThread) thread = NULL;
  WbChartTable *table = g_steal_pointer (&self->table);

  if (table == NULL)
    return;
  thread = g_thread_try_new ("table", free_table, table, NULL);
  if (thread == NULL)
    wb_chart_table_free (table);
}

static void
stop_writing (WbChartTableView *self)
{
  if (self->tick_id != 0)
    gtk_widget_remove_tick_callback (GTK_WIDGET (self), self->tick_id);
  self->tick_id = 0;
  g_clear_object (&self->rows);
  if (self->cancellable != NULL)
    g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
}

/* Asked for only where the pointer rests: a tooltip of its own for each cell costs more than the cell. */
static gboolean
on_query_tooltip_cb (GtkWidget  *text,
                     int         x,
                     int         y,
                     gboolean    keyboard,
                     GtkTooltip *tooltip)
{
  const char *words = gtk_inscription_get_text (GTK_INSCRIPTION (text));

  gtk_tooltip_set_text (tooltip, words);
  return words != NULL && *words != '\0';
}

static void
on_setup_cb (GtkSignalListItemFactory *factory,
             GtkListItem              *item,
             gpointer                  user)
{
  guint n_chars = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (factory), "chars"));
  GtkWidget *text = g_object_new (GTK_TYPE_INSCRIPTION, "xalign", 0.0, "text-overflow", GTK_INSCRIPTION_OVERFLOW_ELLIPSIZE_END,
                                  "min-chars", MIN (n_chars, CHARS_SQUEEZED), "nat-chars", n_chars, "has-tooltip", TRUE, NULL);

  g_signal_connect (text, "query-tooltip", G_CALLBACK (on_query_tooltip_cb), NULL);
  gtk_list_item_set_child (item, text);
}

static void
on_bind_cb (GtkSignalListItemFactory *factory,
            GtkListItem              *item,
            WbChartTableView         *self)
{
  WbTableRow *row = gtk_list_item_get_item (item);
  guint column = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (factory), "column"));

  gtk_inscription_set_text (GTK_INSCRIPTION (gtk_list_item_get_child (item)), wb_chart_table_get_cell (self->table, row->row, column));
}

static void
remove_columns (WbChartTableView *self)
{
  GListModel *columns = gtk_column_view_get_columns (GTK_COLUMN_VIEW (self->view));

  while (g_list_model_get_n_items (columns) > 0)
    {
      g_autoptr (GtkColumnViewColumn) column = g_list_model_get_item (columns, 0);

      gtk_column_view_remove_column (GTK_COLUMN_VIEW (self->view), column);
    }
}

static guint
measure_column (const WbChartTable *table,
                guint               index)
{
  guint n_rows = MIN (wb_chart_table_get_n_rows (table), ROWS_MEASURED);
  guint longest = CHARS_MIN;

  for (guint i = 0; i < n_rows; i++)
    longest = MAX (longest, (guint) g_utf8_strlen (wb_chart_table_get_cell (table, i, index), CHARS_MAX * 4));
  return MIN (longest, CHARS_MAX);
}

static void
add_column (WbChartTableView *self,
            guint             index)
{
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();
  g_autoptr (GtkColumnViewColumn) column = NULL;

  g_object_set_data (G_OBJECT (factory), "column", GUINT_TO_POINTER (index));
  g_object_set_data (G_OBJECT (factory), "chars", GUINT_TO_POINTER (measure_column (self->table, index)));
  g_signal_connect (factory, "setup", G_CALLBACK (on_setup_cb), NULL);
  g_signal_connect (factory, "bind", G_CALLBACK (on_bind_cb), self);
  column = gtk_column_view_column_new (wb_chart_table_get_heading (self->table, index), factory);
  gtk_column_view_column_set_resizable (column, TRUE);
  gtk_column_view_column_set_expand (column, index + 1 == wb_chart_table_get_n_columns (self->table));
  gtk_column_view_append_column (GTK_COLUMN_VIEW (self->view), column);
}

static void
wb_chart_table_view_dispose (GObject *object)
{
  WbChartTableView *self = WB_CHART_TABLE_VIEW (object);

  stop_writing (self);
  if (self->view != NULL)
    gtk_column_view_set_model (GTK_COLUMN_VIEW (self->view), NULL);
  self->view = NULL;
  g_clear_pointer (&self->scrolled, gtk_widget_unparent);
  drop_table (self);
  G_OBJECT_CLASS (wb_chart_table_view_parent_class)->dispose (object);
}

static void
wb_chart_table_view_get_property (GObject    *object,
                                  guint       id,
                                  GValue     *value,
                                  GParamSpec *spec)
{
  if (id == PROP_READY)
    g_value_set_boolean (value, wb_chart_table_view_get_ready (WB_CHART_TABLE_VIEW (object)));
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, spec);
}

static void
wb_chart_table_view_class_init (WbChartTableViewClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = wb_chart_table_view_dispose;
  G_OBJECT_CLASS (klass)->get_property = wb_chart_table_view_get_property;
  properties[PROP_READY] = g_param_spec_boolean ("ready", NULL, NULL, TRUE, G_PARAM_READABLE | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (G_OBJECT_CLASS (klass), N_PROPS, properties);
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
}

static void
wb_chart_table_view_init (WbChartTableView *self)
{
  self->scrolled = gtk_scrolled_window_new ();
  self->view = gtk_column_view_new (NULL);
  gtk_column_view_set_show_row_separators (GTK_COLUMN_VIEW (self->view), TRUE);
  gtk_widget_add_css_class (self->view, "data-table");
  gtk_widget_add_css_class (self->view, "numeric");
  wb_accessible_name_column_view (GTK_COLUMN_VIEW (self->view), _("Figures of the chart"));
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (self->scrolled), self->view);
  gtk_widget_set_parent (self->scrolled, GTK_WIDGET (self));
  gtk_widget_set_vexpand (self->scrolled, TRUE);
}

GtkWidget *
wb_chart_table_view_new (void)
{
  return g_object_new (WB_TYPE_CHART_TABLE_VIEW, NULL);
}

static void
write_table (GTask        *task,
             gpointer      source,
             gpointer      chart,
             GCancellable *cancellable)
{
  g_task_return_pointer (task, wb_chart_table_new (chart), (GDestroyNotify) wb_chart_table_free);
}

static gboolean
on_tick_cb (GtkWidget     *widget,
            GdkFrameClock *clock,
            gpointer       user)
{
  WbChartTableView *self = WB_CHART_TABLE_VIEW (widget);
  guint all = wb_chart_table_get_n_rows (self->table);
  guint before = self->rows->n;

  self->rows->n = before >= ROWS_MADE ? all : MIN (before + ROWS_A_FRAME, all);
  g_list_model_items_changed (G_LIST_MODEL (self->rows), before, 0, self->rows->n - before);
  if (self->rows->n < all)
    return G_SOURCE_CONTINUE;
  self->tick_id = 0;
  g_clear_object (&self->rows);
  return G_SOURCE_REMOVE;
}

static void
on_written_cb (GObject      *source,
               GAsyncResult *result,
               gpointer      data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbChartTable) table = g_task_propagate_pointer (G_TASK (result), &error);
  WbChartTableView *self;
  GtkSelectionModel *selection;

  if (table == NULL)
    return;
  self = WB_CHART_TABLE_VIEW (data);
  g_clear_object (&self->cancellable);
  self->table = g_steal_pointer (&table);
  for (guint i = 0; i < wb_chart_table_get_n_columns (self->table); i++)
    add_column (self, i);
  self->rows = g_object_new (WB_TYPE_TABLE_ROWS, NULL);
  self->rows->n = MIN (wb_chart_table_get_n_rows (self->table), ROWS_A_FRAME);
  selection = GTK_SELECTION_MODEL (gtk_single_selection_new (G_LIST_MODEL (g_object_ref (self->rows))));
  self->tick_id = gtk_widget_add_tick_callback (GTK_WIDGET (self), on_tick_cb, NULL, NULL);
  gtk_column_view_set_model (GTK_COLUMN_VIEW (self->view), selection);
  g_object_unref (selection);
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_READY]);
}

void
wb_chart_table_view_set_chart (WbChartTableView *self,
                               WbChart          *chart,
                               const char       *label)
{
  g_autoptr (GTask) task = NULL;

  g_return_if_fail (WB_IS_CHART_TABLE_VIEW (self));

  stop_writing (self);
  gtk_column_view_set_model (GTK_COLUMN_VIEW (self->view), NULL);
  remove_columns (self);
  drop_table (self);
  if (chart != NULL)
    {
      wb_accessible_name_column_view (GTK_COLUMN_VIEW (self->view), label);
      self->cancellable = g_cancellable_new ();
      task = g_task_new (NULL, self->cancellable, on_written_cb, self);
      g_task_set_task_data (task, wb_chart_ref (chart), (GDestroyNotify) wb_chart_unref);
      g_task_run_in_thread (task, write_table);
    }
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_READY]);
}

gboolean
wb_chart_table_view_get_ready (WbChartTableView *self)
{
  g_return_val_if_fail (WB_IS_CHART_TABLE_VIEW (self), FALSE);
  return self->cancellable == NULL;
}
