/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-material-list.h"

#include "wb-accessible-name.h"
#include "wb-bundle.h"
#include "wb-material-item.h"

#include <glib/gi18n.h>

struct _WbMaterialList
{
  GtkWidget           parent_instance;

  /* children */
  GtkSearchEntry     *search;
  GtkStack           *stack;
  GtkListView        *list;
  GtkLabel           *empty;

  /* owned */
  GListStore         *items;
  GtkFilterListModel *filtered;
  GtkSingleSelection *selection;

  /* state */
  gint64              open;  /* id of what is open */
  gboolean            quiet; /* the program selects */
};

G_DEFINE_FINAL_TYPE (WbMaterialList, wb_material_list, GTK_TYPE_WIDGET)

enum { CHOSEN, N_SIGNALS };
static guint signals[N_SIGNALS];

static guint
find_position (WbMaterialList *self,
               gint64          id)
{
  GListModel *model = G_LIST_MODEL (self->filtered);

  for (guint i = 0; id != 0 && i < g_list_model_get_n_items (model); i++)
    {
      g_autoptr (WbMaterialItem) item = g_list_model_get_item (model, i);

      if (wb_material_item_get_id (item) == id)
        return i;
    }
  return GTK_INVALID_LIST_POSITION;
}

static void
update_stack (WbMaterialList *self)
{
  gboolean any = g_list_model_get_n_items (G_LIST_MODEL (self->items)) > 0;
  gboolean found = g_list_model_get_n_items (G_LIST_MODEL (self->filtered)) > 0;

  gtk_label_set_text (self->empty, any ? _("Nothing of that name") : _("None entered yet"));
  gtk_stack_set_visible_child_name (self->stack, found ? "list" : "empty");
}

static void
on_selected_cb (WbMaterialList *self)
{
  WbMaterialItem *item = gtk_single_selection_get_selected_item (self->selection);

  if (!self->quiet && item != NULL && wb_material_item_get_id (item) != self->open)
    g_signal_emit (self, signals[CHOSEN], 0, wb_material_item_get_id (item));
}

/* Enter on a row that has the keyboard and is not chosen yet, as after Down from the search. */
static void
on_list_activate_cb (WbMaterialList *self,
                     guint           position)
{
  gtk_single_selection_set_selected (self->selection, position);
}

/* Enter there opens what was found first. */
static void
on_search_activate_cb (WbMaterialList *self)
{
  if (*gtk_editable_get_text (GTK_EDITABLE (self->search)) != '\0' && g_list_model_get_n_items (G_LIST_MODEL (self->filtered)) > 0)
    gtk_single_selection_set_selected (self->selection, 0);
}

static void
on_search_changed_cb (WbMaterialList *self)
{
  self->quiet = TRUE;
  gtk_filter_changed (gtk_filter_list_model_get_filter (self->filtered), GTK_FILTER_CHANGE_DIFFERENT);
  self->quiet = FALSE;
  update_stack (self);
  wb_material_list_select (self, self->open);
}

static gboolean
match (gpointer item,
       gpointer user)
{
  WbMaterialList *self = user;

  return wb_material_item_matches (item, gtk_editable_get_text (GTK_EDITABLE (self->search)));
}

static GtkWidget *
line_new (const char *style)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL,
                                   "xalign", 0.0,
                                   "ellipsize", PANGO_ELLIPSIZE_END,
                                   "single-line-mode", TRUE,
                                   NULL);

  if (style != NULL)
    gtk_widget_add_css_class (label, style);
  return label;
}

static void
on_setup_cb (GtkSignalListItemFactory *factory,
             GtkListItem              *list_item)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);

  gtk_box_append (GTK_BOX (box), line_new (NULL));
  gtk_box_append (GTK_BOX (box), line_new ("dim-label"));
  gtk_list_item_set_child (list_item, box);
}

static void
on_bind_cb (GtkSignalListItemFactory *factory,
            GtkListItem              *list_item)
{
  WbMaterialItem *item = gtk_list_item_get_item (list_item);
  GtkWidget *box = gtk_list_item_get_child (list_item);
  GtkWidget *title = gtk_widget_get_first_child (box);
  GtkWidget *summary = gtk_widget_get_next_sibling (title);
  g_autofree char *name = NULL;

  gtk_label_set_text (GTK_LABEL (title), wb_material_item_get_title (item));
  gtk_label_set_text (GTK_LABEL (summary), wb_material_item_get_summary (item));
  name = *wb_material_item_get_summary (item) != '\0'
           ? g_strdup_printf ("%s, %s", wb_material_item_get_title (item), wb_material_item_get_summary (item))
           : g_strdup (wb_material_item_get_title (item));
  wb_accessible_name_list_item (list_item, name);
}

static void
wb_material_list_dispose (GObject *object)
{
  WbMaterialList *self = WB_MATERIAL_LIST (object);

  if (self->list != NULL)
    gtk_list_view_set_model (self->list, NULL);
  g_clear_object (&self->selection);
  g_clear_object (&self->filtered);
  g_clear_object (&self->items);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_MATERIAL_LIST);
  G_OBJECT_CLASS (wb_material_list_parent_class)->dispose (object);
}

static void
wb_material_list_class_init (WbMaterialListClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_material_list_dispose;
  signals[CHOSEN] = g_signal_new ("chosen", WB_TYPE_MATERIAL_LIST, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_INT64);
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "material-list.ui");
  gtk_widget_class_bind_template_child (widget_class, WbMaterialList, search);
  gtk_widget_class_bind_template_child (widget_class, WbMaterialList, stack);
  gtk_widget_class_bind_template_child (widget_class, WbMaterialList, list);
  gtk_widget_class_bind_template_child (widget_class, WbMaterialList, empty);
  gtk_widget_class_bind_template_callback (widget_class, on_list_activate_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_search_activate_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_search_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_setup_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_bind_cb);
}

static void
wb_material_list_init (WbMaterialList *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->items = g_list_store_new (WB_TYPE_MATERIAL_ITEM);
  self->filtered = gtk_filter_list_model_new (G_LIST_MODEL (g_object_ref (self->items)),
                                              GTK_FILTER (gtk_custom_filter_new (match, self, NULL)));
  self->selection = gtk_single_selection_new (G_LIST_MODEL (g_object_ref (self->filtered)));
  gtk_single_selection_set_autoselect (self->selection, FALSE);
  gtk_single_selection_set_can_unselect (self->selection, TRUE);
  gtk_list_view_set_model (self->list, GTK_SELECTION_MODEL (self->selection));
  g_signal_connect_object (self->selection, "notify::selected-item", G_CALLBACK (on_selected_cb), self, G_CONNECT_SWAPPED);
  update_stack (self);
}

void
wb_material_list_fill (WbMaterialList *self,
                       GPtrArray      *records,
                       GPtrArray      *lots,
                       gboolean        us_units)
{
  g_autoptr (GPtrArray) items = g_ptr_array_new_with_free_func (g_object_unref);

  g_return_if_fail (WB_IS_MATERIAL_LIST (self));

  for (guint i = 0; records != NULL && i < records->len; i++)
    g_ptr_array_add (items, wb_material_item_new (records->pdata[i], us_units, lots));
  self->quiet = TRUE;
  g_list_store_splice (self->items, 0, g_list_model_get_n_items (G_LIST_MODEL (self->items)), items->pdata, items->len);
  self->quiet = FALSE;
  update_stack (self);
  wb_material_list_select (self, self->open);
}

void
wb_material_list_select (WbMaterialList *self,
                         gint64          id)
{
  guint position;
  gboolean other;

  g_return_if_fail (WB_IS_MATERIAL_LIST (self));

  other = id != self->open;
  position = find_position (self, id);
  self->open = id;
  self->quiet = TRUE;
  gtk_single_selection_set_selected (self->selection, position);
  self->quiet = FALSE;
  /* One that was made just now may stand below what is seen. */
  if (other && position != GTK_INVALID_LIST_POSITION)
    gtk_widget_activate_action (GTK_WIDGET (self->list), "list.scroll-to-item", "u", position);
}

void
wb_material_list_clear_search (WbMaterialList *self)
{
  g_return_if_fail (WB_IS_MATERIAL_LIST (self));
  gtk_editable_set_text (GTK_EDITABLE (self->search), "");
}

void
wb_material_list_focus_search (WbMaterialList *self)
{
  g_return_if_fail (WB_IS_MATERIAL_LIST (self));
  gtk_widget_grab_focus (GTK_WIDGET (self->search));
}
