/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "materials-page.h"

#include "wb-app-query.h"
#include "wb-clock.h"
#include "wb-material-editor.h"
#include "wb-material-papers.h"
#include "wb-record-dialog.h"

/* Lots and documents of a material, on its page. */

/* The dialog that shows; NULL: none does. */
static WbRecordDialog *
find_dialog (void)
{
  GListModel *toplevels = gtk_window_get_toplevels ();

  for (guint i = 0; i < g_list_model_get_n_items (toplevels); i++)
    {
      g_autoptr (GtkWidget) toplevel = g_list_model_get_item (toplevels, i);

      if (WB_IS_RECORD_DIALOG (toplevel) && gtk_widget_get_visible (toplevel))
        return WB_RECORD_DIALOG (toplevel);
    }
  return NULL;
}

static gboolean
has_dialog (gpointer user)
{
  return find_dialog () != NULL;
}

static gboolean
has_no_dialog (gpointer user)
{
  return find_dialog () == NULL;
}

static GtkListBox *
get_lots (WbWindow *window)
{
  return GTK_LIST_BOX (test_find (test_child (GTK_WIDGET (wb_window_get_page (window)), "lots"), GTK_TYPE_LIST_BOX));
}

static gboolean
has_lot (gpointer user)
{
  return gtk_list_box_get_row_at_index (get_lots (user), 0) != NULL;
}

static void
open_lot (WbWindow *window)
{
  gtk_widget_activate (GTK_WIDGET (gtk_list_box_get_row_at_index (get_lots (window), 0)));
  test_wait (has_dialog, NULL);
}

static void
save_dialog (const char *field,
             const char *text)
{
  WbRecordDialog *dialog = find_dialog ();
  GtkWidget *widget = wb_record_form_get_field (wb_record_dialog_get_form (dialog), field);

  gtk_editable_set_text (GTK_EDITABLE (test_find (widget, GTK_TYPE_ENTRY)), text);
  g_signal_emit_by_name (test_child (GTK_WIDGET (dialog), "save"), "clicked");
  test_wait (has_no_dialog, NULL);
}

/* The row still tells what it told before the save. */
static void
test_open_lot_again (void)
{
  g_autofree char *path = NULL;
  WbWindow *window = materials_open ("lot-again.wickbench", &path);
  g_autoptr (WbAppMaterials) materials = NULL;
  const WbLot *lot;

  materials_add_vessel (window, "Tern", "76");
  g_signal_emit_by_name (test_child (test_child (GTK_WIDGET (wb_window_get_page (window)), "lots"), "add"), "clicked");
  test_wait (has_dialog, NULL);
  save_dialog ("code", "L-1");
  test_wait (has_lot, window);
  open_lot (window);
  save_dialog ("code", "L-2");
  open_lot (window);
  save_dialog ("received_on", "2026-03-01");
  materials = wb_app_query_materials_sync (test_notebook (window), NULL);
  g_assert_cmpuint (materials->lots->len, ==, 1);
  lot = materials->lots->pdata[0];
  g_assert_cmpstr (lot->code, ==, "L-2");
  g_assert_cmpint (lot->received_on, !=, WB_DAY_NONE);
  test_settle (window);
  test_window_destroy (window);
}

/* A lot of 2062 is a slip of the hand: the dialog stays with what was typed, and says so. Today's is taken. */
static void
test_lot_to_come (void)
{
  g_autofree char *path = NULL, *today = wb_day_format (wb_instant_get_day (wb_clock_now (wb_clock_get ())));
  WbWindow *window = materials_open ("lot-to-come.wickbench", &path);
  WbRecordForm *form;

  materials_add_vessel (window, "Tern", "76");
  g_signal_emit_by_name (test_child (test_child (GTK_WIDGET (wb_window_get_page (window)), "lots"), "add"), "clicked");
  test_wait (has_dialog, NULL);
  form = wb_record_dialog_get_form (find_dialog ());
  gtk_editable_set_text (GTK_EDITABLE (test_find (wb_record_form_get_field (form, "code"), GTK_TYPE_ENTRY)), "L-1");
  gtk_editable_set_text (GTK_EDITABLE (test_find (wb_record_form_get_field (form, "received_on"), GTK_TYPE_ENTRY)), "2162-11-28");
  g_signal_emit_by_name (test_child (GTK_WIDGET (find_dialog ()), "save"), "clicked");
  g_assert_nonnull (wb_record_form_get_problem (form, "received_on"));
  test_settle (window);
  g_assert_nonnull (find_dialog ());
  g_assert_false (has_lot (window));
  save_dialog ("received_on", today);
  test_wait (has_lot, window);
  test_window_destroy (window);
}

/* The dialog stays where something was typed during its save, and its next save is of the same lot. */
static void
test_type_on_in_a_dialog (void)
{
  g_autofree char *path = NULL;
  WbWindow *window = materials_open ("lot-on.wickbench", &path);
  g_autoptr (WbAppMaterials) materials = NULL;
  WbRecordDialog *dialog;
  GtkWidget *code, *day;

  materials_add_vessel (window, "Tern", "76");
  g_signal_emit_by_name (test_child (test_child (GTK_WIDGET (wb_window_get_page (window)), "lots"), "add"), "clicked");
  test_wait (has_dialog, NULL);
  dialog = find_dialog ();
  code = test_find (wb_record_form_get_field (wb_record_dialog_get_form (dialog), "code"), GTK_TYPE_ENTRY);
  day = test_find (wb_record_form_get_field (wb_record_dialog_get_form (dialog), "received_on"), GTK_TYPE_ENTRY);
  gtk_editable_set_text (GTK_EDITABLE (code), "L-1");
  g_signal_emit_by_name (test_child (GTK_WIDGET (dialog), "save"), "clicked");
  gtk_editable_set_text (GTK_EDITABLE (day), "2026-03-01");
  test_settle (window);
  test_wait (has_lot, window);
  g_assert_true (find_dialog () == dialog);
  save_dialog ("code", "L-2");
  test_settle (window);
  materials = wb_app_query_materials_sync (test_notebook (window), NULL);
  g_assert_cmpuint (materials->lots->len, ==, 1);
  g_assert_cmpstr (((const WbLot *) materials->lots->pdata[0])->code, ==, "L-2");
  g_assert_cmpint (((const WbLot *) materials->lots->pdata[0])->received_on, !=, WB_DAY_NONE);
  test_window_destroy (window);
}

static gboolean
has_document (gpointer page)
{
  GtkWidget *papers = test_find (page, WB_TYPE_MATERIAL_PAPERS);

  return test_says (papers, "certificate.pdf");
}

static gboolean
has_no_document (gpointer page)
{
  return !has_document (page);
}

/* Dropped on the form, listed with its verbs, taken back. */
static void
test_document (void)
{
  g_autofree char *path = NULL;
  WbWindow *window = materials_open ("document.wickbench", &path);
  GtkWidget *page = GTK_WIDGET (wb_window_get_page (window));
  g_autofree char *name = test_path ("certificate.pdf");
  g_autoptr (GListStore) files = g_list_store_new (G_TYPE_FILE);
  g_autoptr (GFile) file = g_file_new_for_path (name);

  g_assert_true (g_file_set_contents (name, "an invented certificate", -1, NULL));
  g_list_store_append (files, file);
  materials_add_vessel (window, "Tern", "76");
  g_assert_true (wb_material_papers_add (WB_MATERIAL_PAPERS (test_find (page, WB_TYPE_MATERIAL_PAPERS)), G_LIST_MODEL (files)));
  test_wait (has_document, page);
  test_check_names (page, "documents");
  g_assert_true (test_enabled (window, "win.undo"));
  gtk_widget_activate_action (GTK_WIDGET (window), "win.undo", NULL);
  test_wait (has_no_document, page);
  test_window_destroy (window);
}

static gboolean
is_all_kept (gpointer page)
{
  return wb_page_count_adding (WB_PAGE (page)) == 0;
}

/* What waits is kept with the material that it was given to, whichever is shown meanwhile. */
static void
test_documents_go_on (void)
{
  g_autofree char *path = NULL;
  WbWindow *window = materials_open ("documents.wickbench", &path);
  GtkWidget *page = GTK_WIDGET (wb_window_get_page (window));
  GtkWidget *papers = test_find (page, WB_TYPE_MATERIAL_PAPERS);
  g_autoptr (GListStore) files = g_list_store_new (G_TYPE_FILE);
  g_autoptr (GPtrArray) vessels = NULL, kept = NULL;

  for (guint i = 0; i < 3; i++)
    {
      g_autofree char *base = g_strdup_printf ("sheet-%u.pdf", i), *name = test_path (base);
      g_autoptr (GFile) file = g_file_new_for_path (name);

      g_assert_true (g_file_set_contents (name, base, -1, NULL));
      g_list_store_append (files, file);
    }
  materials_add_vessel (window, "Tern", "76");
  vessels = wb_app_query_list_sync (test_notebook (window), &wb_vessel_type, NULL);
  g_assert_true (wb_material_papers_add (WB_MATERIAL_PAPERS (papers), G_LIST_MODEL (files)));
  g_assert_cmpuint (wb_page_count_adding (WB_PAGE (page)), ==, 3);
  gtk_widget_activate_action (page, "page.kind", "s", "wax");
  test_wait (is_all_kept, page);
  kept = wb_app_query_list_sync (test_notebook (window), &wb_attachment_type, NULL);
  g_assert_cmpuint (kept->len, ==, 3);
  for (guint i = 0; i < 3; i++)
    g_assert_cmpint (((const WbAttachment *) kept->pdata[i])->owner, ==, ((const WbRecord *) vessels->pdata[0])->id);
  test_window_destroy (window);
}

void
test_material_parts_add (void)
{
  g_test_add_func ("/views/materials/a-document-is-kept-with-it", test_document);
  g_test_add_func ("/views/materials/documents-go-on-while-another-is-shown", test_documents_go_on);
  g_test_add_func ("/views/materials/a-lot-opened-right-after-a-save-holds-what-was-saved", test_open_lot_again);
  g_test_add_func ("/views/materials/a-lot-of-a-day-to-come-is-refused-at-its-field", test_lot_to_come);
  g_test_add_func ("/views/materials/what-is-typed-during-a-lots-save-is-saved-next", test_type_on_in_a_dialog);
}
