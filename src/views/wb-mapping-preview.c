/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-mapping-preview.h"

#include "wb-accessible-name.h"
#include "wb-app-import.h"
#include "wb-mapping-words.h"

#include <glib/gi18n.h>
#include <string.h>

/* CSS node: mappingpreview. Accessible: a status, a list of what is refused or doubted, a table of what is read. */

#define CELL_CHARACTERS 28

/* A row of the table. */
#define WB_TYPE_MAPPING_PREVIEW_ROW (wb_mapping_preview_row_get_type ())
G_DECLARE_FINAL_TYPE (WbMappingPreviewRow, wb_mapping_preview_row, WB, MAPPING_PREVIEW_ROW, GObject)

struct _WbMappingPreviewRow
{
  GObject   parent_instance;
  char    **cells;  /* the line, then one a column */
};

G_DEFINE_FINAL_TYPE (WbMappingPreviewRow, wb_mapping_preview_row, G_TYPE_OBJECT)

static void
wb_mapping_preview_row_finalize (GObject *object)
{
  g_strfreev (WB_MAPPING_PREVIEW_ROW (object)->cells);
  G_OBJECT_CLASS (wb_mapping_preview_row_parent_class)->finalize (object);
}

static void
wb_mapping_preview_row_class_init (WbMappingPreviewRowClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = wb_mapping_preview_row_finalize;
}

static void
wb_mapping_preview_row_init (WbMappingPreviewRow *self)
{
}

struct _WbMappingPreview
{
  GtkWidget      parent_instance;

  /* children */
  GtkWidget     *box;
  GtkLabel      *summary;
  GtkWidget     *name;        /* leads to the name of the fragrance */
  GtkWidget     *remarks_box;
  GtkStringList *remarks;     /* owned by its list */
  GtkWidget     *table_box;
  GtkColumnView *table;

  /* owned */
  GListStore    *rows;
};

G_DEFINE_FINAL_TYPE (WbMappingPreview, wb_mapping_preview, GTK_TYPE_WIDGET)

enum { NAME, N_SIGNALS };
static guint signals[N_SIGNALS];

static void
on_cell_setup_cb (GtkSignalListItemFactory *factory,
                  GtkListItem              *item)
{
  gtk_list_item_set_child (item, g_object_new (GTK_TYPE_LABEL, "xalign", 0.0, "ellipsize", PANGO_ELLIPSIZE_END, "max-width-chars", CELL_CHARACTERS, NULL));
}

static void
on_cell_bind_cb (GtkSignalListItemFactory *factory,
                 GtkListItem              *item,
                 gpointer                  place)
{
  const WbMappingPreviewRow *row = gtk_list_item_get_item (item);
  const char *text = row->cells[GPOINTER_TO_UINT (place)];
  GtkLabel *label = GTK_LABEL (gtk_list_item_get_child (item));

  /* A label that may end in an ellipsis asks for no room. */
  gtk_label_set_width_chars (label, (int) MIN (g_utf8_strlen (text, -1), CELL_CHARACTERS));
  gtk_label_set_text (label, text);
}

static void
on_line_setup_cb (GtkSignalListItemFactory *factory,
                  GtkListItem              *item)
{
  gtk_list_item_set_child (item, g_object_new (GTK_TYPE_LABEL, "xalign", 0.0, "wrap", TRUE, "wrap-mode", PANGO_WRAP_WORD_CHAR, NULL));
  gtk_list_item_set_activatable (item, FALSE);
}

static void
on_line_bind_cb (GtkSignalListItemFactory *factory,
                 GtkListItem              *item)
{
  const char *text = gtk_string_object_get_string (GTK_STRING_OBJECT (gtk_list_item_get_item (item)));

  gtk_label_set_text (GTK_LABEL (gtk_list_item_get_child (item)), text);
  wb_accessible_name_list_item (item, text);
}

static void
wb_mapping_preview_dispose (GObject *object)
{
  WbMappingPreview *self = WB_MAPPING_PREVIEW (object);

  g_clear_pointer (&self->box, gtk_widget_unparent);
  g_clear_object (&self->rows);
  G_OBJECT_CLASS (wb_mapping_preview_parent_class)->dispose (object);
}

static void
wb_mapping_preview_class_init (WbMappingPreviewClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = wb_mapping_preview_dispose;
  signals[NAME] = g_signal_new ("name", WB_TYPE_MAPPING_PREVIEW, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (klass), "mappingpreview");
}

static GtkWidget *
remarks_new (WbMappingPreview *self)
{
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();
  GtkWidget *list;

  self->remarks = gtk_string_list_new (NULL);
  g_signal_connect (factory, "setup", G_CALLBACK (on_line_setup_cb), NULL);
  g_signal_connect (factory, "bind", G_CALLBACK (on_line_bind_cb), NULL);
  list = gtk_list_view_new (GTK_SELECTION_MODEL (gtk_no_selection_new (G_LIST_MODEL (self->remarks))), factory);
  gtk_list_view_set_show_separators (GTK_LIST_VIEW (list), TRUE);
  gtk_widget_add_css_class (list, "remarks");
  gtk_accessible_update_property (GTK_ACCESSIBLE (list), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Refused rows and warnings"), -1);
  return g_object_new (GTK_TYPE_SCROLLED_WINDOW, "hscrollbar-policy", GTK_POLICY_NEVER, "has-frame", TRUE, "min-content-height", 100, "max-content-height", 150,
                       "propagate-natural-height", TRUE, "child", list, NULL);
}

static void
on_name_clicked_cb (WbMappingPreview *self)
{
  g_signal_emit (self, signals[NAME], 0);
}

static void
wb_mapping_preview_init (WbMappingPreview *self)
{
  self->rows = g_list_store_new (WB_TYPE_MAPPING_PREVIEW_ROW);
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 10);
  self->summary = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0, "wrap", TRUE, "wrap-mode", PANGO_WRAP_WORD_CHAR, "selectable", TRUE,
                                "accessible-role", GTK_ACCESSIBLE_ROLE_STATUS, NULL);
  self->remarks_box = remarks_new (self);
  self->table = GTK_COLUMN_VIEW (gtk_column_view_new (GTK_SELECTION_MODEL (gtk_no_selection_new (G_LIST_MODEL (g_object_ref (self->rows))))));
  gtk_column_view_set_show_row_separators (self->table, TRUE);
  wb_accessible_name_column_view (self->table, _("Rows as they would be read"));
  self->table_box = g_object_new (GTK_TYPE_SCROLLED_WINDOW, "has-frame", TRUE, "vexpand", TRUE, "child", self->table, NULL);
  self->name = gtk_button_new_with_label (_("Name the fragrance…"));
  gtk_widget_set_halign (self->name, GTK_ALIGN_START);
  g_signal_connect_swapped (self->name, "clicked", G_CALLBACK (on_name_clicked_cb), self);
  gtk_box_append (GTK_BOX (self->box), GTK_WIDGET (self->summary));
  gtk_box_append (GTK_BOX (self->box), self->name);
  gtk_box_append (GTK_BOX (self->box), self->remarks_box);
  gtk_box_append (GTK_BOX (self->box), self->table_box);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
  wb_mapping_preview_show (self, NULL, NULL);
}

static void
add_column (WbMappingPreview *self,
            const char       *title,
            guint             place)
{
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();
  g_autoptr (GtkColumnViewColumn) column = NULL;

  g_signal_connect (factory, "setup", G_CALLBACK (on_cell_setup_cb), NULL);
  g_signal_connect (factory, "bind", G_CALLBACK (on_cell_bind_cb), GUINT_TO_POINTER (place));
  column = gtk_column_view_column_new (title, factory);
  gtk_column_view_column_set_resizable (column, TRUE);
  gtk_column_view_append_column (self->table, column);
}

static void
clear (WbMappingPreview *self)
{
  GListModel *columns = gtk_column_view_get_columns (self->table);

  g_list_store_remove_all (self->rows);
  gtk_string_list_splice (self->remarks, 0, g_list_model_get_n_items (G_LIST_MODEL (self->remarks)), NULL);
  while (g_list_model_get_n_items (columns) > 0)
    {
      g_autoptr (GtkColumnViewColumn) column = g_list_model_get_item (columns, 0);

      gtk_column_view_remove_column (self->table, column);
    }
}

/* A column that no row fills is none. */
static gboolean
is_filled (const WbAppMappingPreview *preview,
           guint                      column)
{
  for (guint i = 0; i < preview->rows->len; i++)
    {
      const WbAppMappingRow *row = preview->rows->pdata[i];

      if (row->cells != NULL && *row->cells[column] != '\0')
        return TRUE;
    }
  return FALSE;
}

static void
add_row (WbMappingPreview      *self,
         const WbAppMappingRow *row)
{
  g_autofree char *line = g_strdup_printf ("%" G_GUINT64_FORMAT, row->line);
  g_autoptr (WbMappingPreviewRow) item = NULL;
  g_autoptr (GStrvBuilder) cells = NULL;

  if (row->cells == NULL)
    {
      g_autofree char *text = *row->column != '\0' ? g_strdup_printf (_("Line %s, %s: %s"), line, row->column, row->rule)
                                                   : g_strdup_printf (_("Line %s: %s"), line, row->rule);

      gtk_string_list_append (self->remarks, text);
      return;
    }
  cells = g_strv_builder_new ();
  g_strv_builder_add (cells, line);
  g_strv_builder_addv (cells, (const char **) row->cells);
  item = g_object_new (WB_TYPE_MAPPING_PREVIEW_ROW, NULL);
  item->cells = g_strv_builder_end (cells);
  g_list_store_append (self->rows, item);
}

/* Below what is refused. */
static void
add_warning (WbMappingPreview  *self,
             const WbLogRemark *warning)
{
  g_autofree char *line = g_strdup_printf ("%" G_GUINT64_FORMAT, warning->line);
  g_autofree char *text = *warning->column != '\0' ? g_strdup_printf (_("Warning: line %s, %s: %s"), line, warning->column, warning->rule)
                                                   : g_strdup_printf (_("Warning: line %s: %s"), line, warning->rule);

  gtk_string_list_append (self->remarks, text);
}

static char *
dup_summary (const WbAppMappingPreview *preview)
{
  g_autofree char *extent = wb_app_import_dup_extent (preview->lines, preview->rows->len, preview->samples);

  return g_strdup_printf (preview->more ? _("The first rows: %s; refused: %u. Nothing is written yet.")
                                        : _("The whole file: %s; refused: %u. Nothing is written yet."), extent, preview->n_refused);
}

static void
add_target (WbMappingPreview          *self,
            const WbAppMappingPreview *preview,
            guint                      i)
{
  const WbLogTarget *target = wb_app_mapping_find_target (preview->titles[i]);
  g_autofree char *title = target != NULL ? wb_mapping_words_dup_title (target) : g_strdup (preview->titles[i]);

  if (is_filled (preview, i))
    add_column (self, title, i + 1);
}

static void
fill (WbMappingPreview          *self,
      const WbAppMappingPreview *preview)
{
  /* Whose reading it is and of when: what is worked out, and so may be wrong, stands where it is seen. */
  static const char *const first[] = { "sample", "burn", "lit_at", "elapsed_min", NULL };
  g_autofree char *summary = dup_summary (preview);

  add_column (self, _("Line"), 0);
  for (guint f = 0; first[f] != NULL; f++)
    for (guint i = 0; preview->titles[i] != NULL; i++)
      if (strcmp (preview->titles[i], first[f]) == 0)
        add_target (self, preview, i);
  for (guint i = 0; preview->titles[i] != NULL; i++)
    if (!g_strv_contains (first, preview->titles[i]))
      add_target (self, preview, i);
  for (guint i = 0; i < preview->rows->len; i++)
    add_row (self, preview->rows->pdata[i]);
  for (guint i = 0; i < preview->warnings->len; i++)
    add_warning (self, preview->warnings->pdata[i]);
  gtk_label_set_text (self->summary, summary);
}

void
wb_mapping_preview_show (WbMappingPreview          *self,
                         const WbAppMappingPreview *preview,
                         const GError              *error)
{
  g_return_if_fail (WB_IS_MAPPING_PREVIEW (self));

  clear (self);
  gtk_widget_set_visible (self->name, preview != NULL && preview->unnamed);
  if (preview != NULL)
    fill (self, preview);
  else if (error != NULL)
    {
      g_autofree char *text = g_strdup_printf (_("Nothing can be read yet: %s."), error->message);

      gtk_label_set_text (self->summary, text);
    }
  else
    gtk_label_set_text (self->summary, _("Reading the first rows…"));
  gtk_widget_set_visible (self->remarks_box, g_list_model_get_n_items (G_LIST_MODEL (self->remarks)) > 0);
  gtk_widget_set_visible (self->table_box, g_list_model_get_n_items (G_LIST_MODEL (self->rows)) > 0);
}

guint
wb_mapping_preview_get_n_rows (WbMappingPreview *self)
{
  g_return_val_if_fail (WB_IS_MAPPING_PREVIEW (self), 0);
  return g_list_model_get_n_items (G_LIST_MODEL (self->rows));
}
