/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "materials-page.h"

WbWindow *
materials_open (const char *name,
                char      **path)
{
  WbWindow *window;

  *path = test_path (name);
  window = test_window_new_with (*path);
  g_assert_true (wb_window_go (window, "materials", 0));
  test_settle (window);
  return window;
}

WbRecordForm *
materials_get_form (WbWindow *window)
{
  return WB_RECORD_FORM (test_find (GTK_WIDGET (wb_window_get_page (window)), WB_TYPE_RECORD_FORM));
}

WbMaterialEditor *
materials_get_editor (WbWindow *window)
{
  return WB_MATERIAL_EDITOR (test_find (GTK_WIDGET (wb_window_get_page (window)), WB_TYPE_MATERIAL_EDITOR));
}

void
materials_type (WbWindow   *window,
                const char *field,
                const char *text)
{
  GtkWidget *widget = wb_record_form_get_field (materials_get_form (window), field);

  g_assert_nonnull (widget);
  gtk_editable_set_text (GTK_EDITABLE (test_find (widget, GTK_TYPE_ENTRY)), text);
}

void
materials_act (WbWindow   *window,
               const char *action)
{
  g_assert_true (test_enabled (window, action));
  gtk_widget_activate_action (GTK_WIDGET (window), action, NULL);
  test_settle (window);
}

gboolean
materials_is_stored (gpointer user)
{
  return wb_material_editor_get_id (materials_get_editor (user)) != 0;
}

void
materials_add_vessel (WbWindow   *window,
                      const char *name,
                      const char *diameter)
{
  materials_act (window, "page.new");
  materials_type (window, "name", name);
  materials_type (window, "inner_diameter_mm", diameter);
  materials_act (window, "page.save");
  test_wait (materials_is_stored, window);
  test_settle (window);
}
