/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-text-table.h"

#include <glib/gi18n.h>
#include <string.h>

/* CSS node: texttable. */

/* A cell's words go on in the next line beyond that; a table too wide for its place scrolls, and breaks no word. */
#define COLUMN_CHARS 20
#define HEAD_CHARS 11
#define BAR_PX 18

struct _WbTextTable
{
  GtkWidget  parent_instance;

  /* children */
  GtkWidget *scrolled;
  GtkGrid   *grid;

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

static void
wb_text_table_init (WbTextTable *self)
{
  self->heads = g_ptr_array_new_with_free_func (g_free);
  self->rows = g_ptr_array_new_with_free_func ((GDestroyNotify) g_ptr_array_unref);
  self->grid = GTK_GRID (gtk_grid_new ());
  gtk_grid_set_column_spacing (self->grid, 16);
  gtk_grid_set_row_spacing (self->grid, 6);
  /* GTK 4.8 asks for no room for a bar below what does not scroll up and down. */
  gtk_widget_set_margin_bottom (GTK_WIDGET (self->grid), BAR_PX);
  self->scrolled = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (self->scrolled), GTK_POLICY_AUTOMATIC, GTK_POLICY_NEVER);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (self->scrolled), GTK_WIDGET (self->grid));
  /* A bar that comes and goes would leave it open whether there is more. */
  gtk_scrolled_window_set_overlay_scrolling (GTK_SCROLLED_WINDOW (self->scrolled), FALSE);
  gtk_widget_set_focusable (self->scrolled, TRUE);
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
