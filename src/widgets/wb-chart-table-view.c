/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-chart-table-view.h"

#include "wb-accessible-name.h"

#include <glib/gi18n.h>

/*
 * The list model hands out rows as small objects when the view asks for one;
 * cells look their text up in the table. GTK 4.8 labels no list item, so each
 * cell's label is what is read.
 */

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
};

G_DEFINE_FINAL_TYPE (WbChartTableView, wb_chart_table_view, GTK_TYPE_WIDGET)

static void
on_setup_cb (GtkSignalListItemFactory *factory,
             GtkListItem              *item,
             gpointer                  user)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0, "ellipsize", PANGO_ELLIPSIZE_END, NULL);

  gtk_widget_add_css_class (label, "numeric");
  gtk_list_item_set_child (item, label);
}

static void
on_bind_cb (GtkSignalListItemFactory *factory,
            GtkListItem              *item,
            WbChartTableView         *self)
{
  GtkWidget *label = gtk_list_item_get_child (item);
  WbTableRow *row = gtk_list_item_get_item (item);
  guint column = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (factory), "column"));
  const char *text = wb_chart_table_get_cell (self->table, row->row, column);

  gtk_label_set_text (GTK_LABEL (label), text);
  gtk_widget_set_tooltip_text (label, text != NULL && *text != '\0' ? text : NULL);
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

static void
add_column (WbChartTableView *self,
            guint             index)
{
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();
  g_autoptr (GtkColumnViewColumn) column = NULL;

  g_object_set_data (G_OBJECT (factory), "column", GUINT_TO_POINTER (index));
  g_signal_connect (factory, "setup", G_CALLBACK (on_setup_cb), NULL);
  g_signal_connect (factory, "bind", G_CALLBACK (on_bind_cb), self);
  column = gtk_column_view_column_new (wb_chart_table_get_heading (self->table, index), factory);
  gtk_column_view_column_set_resizable (column, TRUE);
  gtk_column_view_column_set_expand (column, TRUE);
  gtk_column_view_append_column (GTK_COLUMN_VIEW (self->view), column);
}

static void
wb_chart_table_view_dispose (GObject *object)
{
  WbChartTableView *self = WB_CHART_TABLE_VIEW (object);

  if (self->view != NULL)
    gtk_column_view_set_model (GTK_COLUMN_VIEW (self->view), NULL);
  self->view = NULL;
  g_clear_pointer (&self->scrolled, gtk_widget_unparent);
  g_clear_pointer (&self->table, wb_chart_table_free);
  G_OBJECT_CLASS (wb_chart_table_view_parent_class)->dispose (object);
}

static void
wb_chart_table_view_class_init (WbChartTableViewClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = wb_chart_table_view_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
}

static void
wb_chart_table_view_init (WbChartTableView *self)
{
  self->scrolled = gtk_scrolled_window_new ();
  self->view = gtk_column_view_new (NULL);
  gtk_column_view_set_show_row_separators (GTK_COLUMN_VIEW (self->view), TRUE);
  gtk_widget_add_css_class (self->view, "data-table");
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

void
wb_chart_table_view_set_chart (WbChartTableView *self,
                               WbChart          *chart,
                               const char       *label)
{
  WbTableRows *rows;
  GtkSelectionModel *selection;

  g_return_if_fail (WB_IS_CHART_TABLE_VIEW (self));

  gtk_column_view_set_model (GTK_COLUMN_VIEW (self->view), NULL);
  remove_columns (self);
  g_clear_pointer (&self->table, wb_chart_table_free);
  if (chart == NULL)
    return;
  self->table = wb_chart_table_new (chart);
  for (guint i = 0; i < wb_chart_table_get_n_columns (self->table); i++)
    add_column (self, i);
  rows = g_object_new (WB_TYPE_TABLE_ROWS, NULL);
  rows->n = wb_chart_table_get_n_rows (self->table);
  selection = GTK_SELECTION_MODEL (gtk_single_selection_new (G_LIST_MODEL (rows)));
  gtk_column_view_set_model (GTK_COLUMN_VIEW (self->view), selection);
  g_object_unref (selection);
  wb_accessible_name_column_view (GTK_COLUMN_VIEW (self->view), label);
}
