/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-due-row.h"

static GtkWidget *
line_new (const char *text,
          const char *style)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL,
                                   "label", text,
                                   "xalign", 0.0,
                                   "ellipsize", PANGO_ELLIPSIZE_END,
                                   "single-line-mode", TRUE,
                                   NULL);

  if (style != NULL)
    gtk_widget_add_css_class (label, style);
  return label;
}

static char *
dup_row_name (const char *word,
              const char *title,
              const char *detail,
              const char *end)
{
  const char *parts[] = { word, title, detail, end };
  GString *name = g_string_new (NULL);

  for (gsize i = 0; i < G_N_ELEMENTS (parts); i++)
    if (parts[i] != NULL && *parts[i] != '\0')
      g_string_append_printf (name, "%s%s", name->len > 0 ? ", " : "", parts[i]);
  return g_string_free (name, FALSE);
}

/* A badge, two lines and a remark at the end; the row's accessible label is all of them. */
void
wb_due_row_fill (GtkListBoxRow *row,
                 WbBadgeKind    kind,
                 const char    *word,
                 const char    *title,
                 const char    *detail,
                 const char    *end)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *lines = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  GtkWidget *badge = wb_badge_new (kind, word);
  g_autofree char *name = dup_row_name (word, title, detail, end);

  gtk_widget_set_size_request (badge, 84, -1);
  gtk_widget_set_hexpand (lines, TRUE);
  gtk_widget_set_valign (lines, GTK_ALIGN_CENTER);
  gtk_box_append (GTK_BOX (lines), line_new (title, NULL));
  if (detail != NULL && *detail != '\0')
    gtk_box_append (GTK_BOX (lines), line_new (detail, "dim-label"));
  gtk_box_append (GTK_BOX (box), badge);
  gtk_box_append (GTK_BOX (box), lines);
  if (end != NULL && *end != '\0')
    gtk_box_append (GTK_BOX (box), line_new (end, "numeric"));
  gtk_list_box_row_set_child (row, box);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
}

GtkWidget *
wb_due_row_new (WbBadgeKind  kind,
                const char  *word,
                const char  *title,
                const char  *detail,
                const char  *end)
{
  GtkWidget *row = gtk_list_box_row_new ();

  wb_due_row_fill (GTK_LIST_BOX_ROW (row), kind, word, title, detail, end);
  return row;
}

static void
on_line_changed_cb (GtkWidget     *line,
                    GParamSpec    *pspec,
                    GtkListBoxRow *row)
{
  g_autofree char *text = NULL;

  g_object_get (line, g_param_spec_get_name (pspec), &text, NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, text != NULL ? text : "", -1);
}

void
wb_due_row_add_line (GtkListBoxRow *row,
                     GtkWidget     *line,
                     const char    *property)
{
  g_autofree char *changed = NULL;
  GtkWidget *lines;

  g_return_if_fail (GTK_IS_LIST_BOX_ROW (row));
  g_return_if_fail (GTK_IS_WIDGET (line));

  changed = g_strdup_printf ("notify::%s", property);
  /* the lines stand behind the badge */
  lines = gtk_widget_get_next_sibling (gtk_widget_get_first_child (gtk_list_box_row_get_child (row)));
  gtk_box_append (GTK_BOX (lines), line);
  g_signal_connect_object (line, changed, G_CALLBACK (on_line_changed_cb), row, 0);
}
