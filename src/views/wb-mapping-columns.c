/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-mapping-columns.h"

#include "wb-accessible-name.h"
#include "wb-mapping-editor.h"
#include "wb-mapping-words.h"

#include <glib/gi18n.h>

/* CSS node: mappingcolumns. Accessible: a list whose rows name column and reading, and a group that edits the one chosen. */

/* A row of the list. */
#define WB_TYPE_MAPPING_COLUMN_ITEM (wb_mapping_column_item_get_type ())
G_DECLARE_FINAL_TYPE (WbMappingColumnItem, wb_mapping_column_item, WB, MAPPING_COLUMN_ITEM, GObject)

struct _WbMappingColumnItem
{
  GObject             parent_instance;
  WbLogMappingColumn *column;    /* borrowed */
  char              **examples;  /* borrowed; NULL: the sheet has no such column */
};

G_DEFINE_FINAL_TYPE (WbMappingColumnItem, wb_mapping_column_item, G_TYPE_OBJECT)

enum { PROP_0, PROP_SAYS, N_PROPS };
static GParamSpec *properties[N_PROPS];

static void
wb_mapping_column_item_get_property (GObject    *object,
                                     guint       id,
                                     GValue     *value,
                                     GParamSpec *spec)
{
  g_value_take_string (value, wb_mapping_words_dup_column (WB_MAPPING_COLUMN_ITEM (object)->column));
}

static void
wb_mapping_column_item_class_init (WbMappingColumnItemClass *klass)
{
  G_OBJECT_CLASS (klass)->get_property = wb_mapping_column_item_get_property;
  properties[PROP_SAYS] = g_param_spec_string ("says", NULL, NULL, NULL, G_PARAM_READABLE | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (G_OBJECT_CLASS (klass), N_PROPS, properties);
}

static void
wb_mapping_column_item_init (WbMappingColumnItem *self)
{
}

struct _WbMappingColumns
{
  GtkWidget           parent_instance;

  /* children */
  GtkWidget          *paned;
  GtkWidget          *list;
  WbMappingEditor    *editor;

  /* owned */
  GListStore         *items;
  GtkSingleSelection *selection;
};

G_DEFINE_FINAL_TYPE (WbMappingColumns, wb_mapping_columns, GTK_TYPE_WIDGET)

enum { CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

static void
on_selected_cb (WbMappingColumns *self)
{
  WbMappingColumnItem *item = gtk_single_selection_get_selected_item (self->selection);

  wb_mapping_editor_set_column (self->editor, item != NULL ? item->column : NULL, item != NULL ? item->examples : NULL);
}

static void
on_editor_changed_cb (WbMappingColumns *self)
{
  WbMappingColumnItem *item = gtk_single_selection_get_selected_item (self->selection);

  if (item != NULL)
    g_object_notify_by_pspec (G_OBJECT (item), properties[PROP_SAYS]);
  g_signal_emit (self, signals[CHANGED], 0);
}

static GtkWidget *
line_new (const char *style)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0, "ellipsize", PANGO_ELLIPSIZE_END, "single-line-mode", TRUE, NULL);

  if (style != NULL)
    gtk_widget_add_css_class (label, style);
  return label;
}

static void
on_setup_cb (WbMappingColumns *self,
             GtkListItem      *item)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0), *top = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 10);
  GtkWidget *name = line_new ("strong"), *says = line_new (NULL);

  gtk_widget_set_hexpand (says, TRUE);
  gtk_label_set_xalign (GTK_LABEL (says), 1.0);
  gtk_label_set_max_width_chars (GTK_LABEL (name), 22);
  gtk_box_append (GTK_BOX (top), name);
  gtk_box_append (GTK_BOX (top), says);
  gtk_box_append (GTK_BOX (row), top);
  gtk_box_append (GTK_BOX (row), line_new ("dim-label"));
  gtk_list_item_set_child (item, row);
}

static void
name_row (GtkListItem *item)
{
  WbMappingColumnItem *column = gtk_list_item_get_item (item);
  g_autofree char *says = wb_mapping_words_dup_column (column->column);
  g_autofree char *name = g_strdup_printf ("%s: %s", column->column->source, says);

  gtk_label_set_text (GTK_LABEL (gtk_widget_get_last_child (gtk_widget_get_first_child (gtk_list_item_get_child (item)))), says);
  wb_accessible_name_list_item (item, name);
}

static void
on_says_cb (WbMappingColumnItem *column,
            GParamSpec          *spec,
            GtkListItem         *item)
{
  name_row (item);
}

static void
on_bind_cb (WbMappingColumns *self,
            GtkListItem      *item)
{
  WbMappingColumnItem *column = gtk_list_item_get_item (item);
  GtkWidget *row = gtk_list_item_get_child (item);
  g_autofree char *examples = column->examples != NULL ? g_strjoinv (" · ", column->examples) : g_strdup (_("not in this file"));

  gtk_label_set_text (GTK_LABEL (gtk_widget_get_first_child (gtk_widget_get_first_child (row))), column->column->source);
  gtk_widget_set_tooltip_text (row, column->column->source);
  gtk_label_set_text (GTK_LABEL (gtk_widget_get_last_child (row)), *examples != '\0' ? examples : _("empty"));
  name_row (item);
  g_signal_connect (column, "notify::says", G_CALLBACK (on_says_cb), item);
}

static void
on_unbind_cb (WbMappingColumns *self,
              GtkListItem      *item)
{
  g_signal_handlers_disconnect_by_func (gtk_list_item_get_item (item), on_says_cb, item);
}

static void
wb_mapping_columns_dispose (GObject *object)
{
  WbMappingColumns *self = WB_MAPPING_COLUMNS (object);

  g_clear_pointer (&self->paned, gtk_widget_unparent);
  g_clear_object (&self->selection);
  g_clear_object (&self->items);
  G_OBJECT_CLASS (wb_mapping_columns_parent_class)->dispose (object);
}

static void
wb_mapping_columns_class_init (WbMappingColumnsClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = wb_mapping_columns_dispose;
  signals[CHANGED] = g_signal_new ("changed", WB_TYPE_MAPPING_COLUMNS, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (klass), "mappingcolumns");
}

static GtkWidget *
scrolled_new (GtkWidget *child)
{
  GtkWidget *scrolled = g_object_new (GTK_TYPE_SCROLLED_WINDOW, "hscrollbar-policy", GTK_POLICY_NEVER, "vexpand", TRUE, "child", child, NULL);

  return scrolled;
}

static void
wb_mapping_columns_init (WbMappingColumns *self)
{
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();
  GtkWidget *list, *editor;

  self->items = g_list_store_new (WB_TYPE_MAPPING_COLUMN_ITEM);
  self->selection = gtk_single_selection_new (G_LIST_MODEL (g_object_ref (self->items)));
  g_signal_connect_object (factory, "setup", G_CALLBACK (on_setup_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (factory, "bind", G_CALLBACK (on_bind_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (factory, "unbind", G_CALLBACK (on_unbind_cb), self, G_CONNECT_SWAPPED);
  self->list = gtk_list_view_new (GTK_SELECTION_MODEL (g_object_ref (self->selection)), factory);
  gtk_widget_add_css_class (self->list, "remarks");
  gtk_list_view_set_show_separators (GTK_LIST_VIEW (self->list), TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->list), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Columns of the file"), -1);
  self->editor = g_object_new (WB_TYPE_MAPPING_EDITOR, "margin-start", 14, "margin-end", 10, NULL);
  list = scrolled_new (self->list);
  gtk_scrolled_window_set_has_frame (GTK_SCROLLED_WINDOW (list), TRUE);
  editor = scrolled_new (GTK_WIDGET (self->editor));
  gtk_widget_set_size_request (list, 320, -1);
  gtk_widget_set_size_request (editor, 340, -1);
  self->paned = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  gtk_widget_set_hexpand (list, TRUE);
  gtk_box_append (GTK_BOX (self->paned), list);
  gtk_box_append (GTK_BOX (self->paned), editor);
  gtk_widget_set_parent (self->paned, GTK_WIDGET (self));
  g_signal_connect_object (self->selection, "notify::selected-item", G_CALLBACK (on_selected_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->editor, "changed", G_CALLBACK (on_editor_changed_cb), self, G_CONNECT_SWAPPED);
}

static char **
find_examples (const WbLogHead *head,
               const char      *source)
{
  for (guint i = 0; head->names[i] != NULL; i++)
    if (g_str_equal (head->names[i], source))
      return head->examples[i];
  return NULL;
}

static gboolean
has_column (const WbLogMapping *mapping,
            const char         *source)
{
  for (guint i = 0; i < mapping->columns->len; i++)
    if (g_str_equal (((const WbLogMappingColumn *) mapping->columns->pdata[i])->source, source))
      return TRUE;
  return FALSE;
}

void
wb_mapping_columns_set (WbMappingColumns *self,
                        WbLogMapping     *mapping,
                        const WbLogHead  *head)
{
  g_autoptr (GPtrArray) items = g_ptr_array_new_with_free_func (g_object_unref);

  g_return_if_fail (WB_IS_MAPPING_COLUMNS (self));

  wb_mapping_editor_set_column (self->editor, NULL, NULL);
  for (guint i = 0; head->names[i] != NULL; i++)
    if (!has_column (mapping, head->names[i]) && head->examples[i][0] != NULL)
      wb_log_mapping_add_column (mapping, head->names[i], NULL);
  for (guint i = 0; i < mapping->columns->len; i++)
    {
      WbMappingColumnItem *item = g_object_new (WB_TYPE_MAPPING_COLUMN_ITEM, NULL);

      item->column = mapping->columns->pdata[i];
      item->examples = find_examples (head, item->column->source);
      g_ptr_array_add (items, item);
    }
  g_list_store_splice (self->items, 0, g_list_model_get_n_items (G_LIST_MODEL (self->items)), items->pdata, items->len);
  on_selected_cb (self);
}

void
wb_mapping_columns_choose (WbMappingColumns *self,
                           const char       *source)
{
  g_return_if_fail (WB_IS_MAPPING_COLUMNS (self));

  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (self->items)); i++)
    {
      g_autoptr (WbMappingColumnItem) item = g_list_model_get_item (G_LIST_MODEL (self->items), i);

      if (g_str_equal (item->column->source, source))
        {
          gtk_single_selection_set_selected (self->selection, i);
          return;
        }
    }
}
