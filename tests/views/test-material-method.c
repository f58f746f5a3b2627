/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-views.h"

#include "bench-page.h"
#include "wb-app-draft.h"
#include "wb-craft-method.h"
#include "wb-material-editor.h"
#include "wb-method-editor.h"
#include "wb-method-row.h"
#include "wb-record-form.h"

#include <string.h>

/* A wax's method on the page Materials, and what is half typed there. */

static WbMaterialEditor *
get_editor (WbWindow *window)
{
  return WB_MATERIAL_EDITOR (test_find (GTK_WIDGET (wb_window_get_page (window)), WB_TYPE_MATERIAL_EDITOR));
}

static WbMethodEditor *
get_method (WbWindow *window)
{
  return WB_METHOD_EDITOR (test_find (GTK_WIDGET (wb_window_get_page (window)), WB_TYPE_METHOD_EDITOR));
}

static GtkWidget *
get_field (WbWindow   *window,
           const char *name)
{
  return wb_record_form_get_field (WB_RECORD_FORM (test_find (GTK_WIDGET (get_editor (window)), WB_TYPE_RECORD_FORM)), name);
}

static GtkWidget *
find_nth (GtkWidget *widget,
          GType      type,
          guint     *n)
{
  if (g_type_is_a (G_OBJECT_TYPE (widget), type) && (*n)-- == 0)
    return widget;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = find_nth (child, type, n);

      if (found != NULL)
        return found;
    }
  return NULL;
}

/* Of the step in that place: its temperature (0), minutes (1) or how (2). */
static GtkWidget *
get_entry (WbWindow *window,
           guint     place,
           guint     which)
{
  GtkWidget *row = find_nth (GTK_WIDGET (get_method (window)), WB_TYPE_METHOD_ROW, &place);

  g_assert_nonnull (row);
  return find_nth (row, GTK_TYPE_ENTRY, &which);
}

static const char *
get_text (WbWindow *window,
          guint     place,
          guint     which)
{
  return gtk_editable_get_text (GTK_EDITABLE (get_entry (window, place, which)));
}

static void
type (GtkWidget  *entry,
      const char *text)
{
  gtk_editable_set_text (GTK_EDITABLE (entry), text);
}

/* The steps that are stored of the wax, "own: heat pour cure". */
static char *
dup_stored (WbWindow *window)
{
  g_autoptr (WbAppMaterials) materials = wb_app_query_materials_sync (test_notebook (window), NULL);
  g_autoptr (GPtrArray) method = wb_craft_method_of (materials->waxes->pdata[0], materials->method_steps);
  GString *text = g_string_new (materials->method_steps->len > 0 ? "own:" : "usual:");

  for (guint i = 0; i < method->len; i++)
    g_string_append_printf (text, " %s", wb_step_words[((const WbMethodStep *) method->pdata[i])->kind].nick);
  return g_string_free (text, FALSE);
}

static guint
count_stored (WbWindow *window)
{
  g_autoptr (WbAppMaterials) materials = wb_app_query_materials_sync (test_notebook (window), NULL);

  return materials->method_steps->len;
}

static gboolean
shows_wax (gpointer window)
{
  return get_editor (window) != NULL && wb_material_editor_get_id (get_editor (window)) != 0 &&
         gtk_widget_get_visible (GTK_WIDGET (get_method (window)));
}

static gboolean
is_untouched (gpointer window)
{
  return !wb_app_notebook_get_saving (test_notebook (window)) && !wb_material_editor_get_touched (get_editor (window));
}

static gboolean
can_save (gpointer window)
{
  return test_enabled (window, "page.save");
}

static void
show_wax (WbWindow *window)
{
  g_assert_true (wb_window_go (window, "materials", 0));
  test_settle (window);
  gtk_widget_activate_action (GTK_WIDGET (window), "page.kind", "s", "wax");
  test_wait (shows_wax, window);
  test_settle (window);
}

static WbWindow *
open_wax (const char *name)
{
  g_autofree char *path = test_path (name);
  WbWindow *window = test_window_new_with (path);
  TestShelf shelf;

  test_shelf_fill (window, "Tern", &shelf);
  show_wax (window);
  return window;
}

static void
save (WbWindow *window)
{
  g_assert_true (test_enabled (window, "page.save"));
  gtk_widget_activate_action (GTK_WIDGET (window), "page.save", NULL);
  test_wait (is_untouched, window);
  test_settle (window);
}

static guint
count_rows (WbWindow *window)
{
  g_autoptr (GPtrArray) steps = wb_method_editor_dup_steps (get_method (window));

  return steps->len;
}

/* A wax's method is the usual one until it is changed: steps are added, left out, moved, and it goes back to what is usual. */
static void
test_own (void)
{
  WbWindow *window = open_wax ("method.wickbench");
  WbMethodEditor *method = get_method (window);
  g_autofree char *usual = dup_stored (window), *own = NULL, *again = NULL;

  g_assert_true (g_str_has_prefix (usual, "usual: heat dye fragrance stir "));
  g_assert_true (g_str_has_suffix (usual, " cure"));
  g_assert_false (test_enabled (window, "page.save"));
  wb_method_editor_remove (method, count_rows (window) - 1);
  wb_method_editor_add (method, WB_STEP_TURN_OVER);
  wb_method_editor_move (method, 1, 4);
  wb_method_editor_move (method, 2, 4);
  wb_method_editor_move (method, 3, 2);
  g_assert_true (wb_material_editor_get_touched (get_editor (window)));
  save (window);
  own = dup_stored (window);
  g_assert_true (g_str_has_prefix (own, "own: heat "));
  g_assert_true (g_str_has_suffix (own, " turn_over"));
  g_assert_null (strstr (own, "cure"));
  wb_method_editor_usual (method);
  g_assert_true (wb_material_editor_get_touched (get_editor (window)));
  save (window);
  again = dup_stored (window);
  g_assert_cmpstr (again, ==, usual);
  test_window_destroy (window);
}

static gboolean
asks_first (gpointer window)
{
  return test_find_window (GTK_TYPE_MESSAGE_DIALOG) != NULL;
}

/* What is changed in the method alone is asked about before another material comes, and goes back with Revert. */
static void
test_touched (void)
{
  WbWindow *window = open_wax ("method-touched.wickbench");
  gint64 wax = wb_material_editor_get_id (get_editor (window));

  type (get_entry (window, 0, 2), "in the double boiler");
  gtk_widget_activate_action (GTK_WIDGET (window), "page.kind", "s", "vessel");
  test_wait (asks_first, window);
  gtk_dialog_response (GTK_DIALOG (test_find_window (GTK_TYPE_MESSAGE_DIALOG)), GTK_RESPONSE_CANCEL);
  g_assert_cmpint (wb_material_editor_get_id (get_editor (window)), ==, wax);
  g_assert_cmpstr (get_text (window, 0, 2), ==, "in the double boiler");
  g_assert_true (test_enabled (window, "page.revert"));
  gtk_widget_activate_action (GTK_WIDGET (window), "page.revert", NULL);
  g_assert_false (test_enabled (window, "page.save"));
  g_assert_cmpstr (get_text (window, 0, 2), ==, "");
  g_assert_cmpuint (count_stored (window), ==, 0);
  test_window_destroy (window);
}

/* Nothing of it is saved, neither of the material, and what was typed stays. */
static void
test_wrong (void)
{
  WbWindow *window = open_wax ("method-wrong.wickbench");
  gint64 before = wb_app_notebook_get_last_entry (test_notebook (window));

  type (test_find (get_field (window, "density"), GTK_TYPE_ENTRY), "0.88");
  type (get_entry (window, 1, 1), "soon");
  gtk_widget_activate_action (GTK_WIDGET (window), "page.save", NULL);
  test_settle (window);
  g_assert_cmpint (wb_app_notebook_get_last_entry (test_notebook (window)), ==, before);
  g_assert_cmpstr (get_text (window, 1, 1), ==, "soon");
  type (get_entry (window, 1, 1), "5");
  save (window);
  /* both in one entry */
  g_assert_cmpint (wb_app_notebook_get_last_entry (test_notebook (window)), ==, before + 1);
  g_assert_cmpuint (count_stored (window), ==, count_rows (window));
  test_window_destroy (window);
}

/* Typed during the save, it is saved next, and no step stands twice. */
static void
test_type_on (void)
{
  WbWindow *window = open_wax ("method-on.wickbench");
  g_autofree char *stored = NULL;
  guint n = count_rows (window);

  type (get_entry (window, 0, 2), "slowly");
  gtk_widget_activate_action (GTK_WIDGET (window), "page.save", NULL);
  wb_method_editor_move (get_method (window), 0, 1);
  test_wait (can_save, window);
  save (window);
  g_assert_cmpuint (count_stored (window), ==, n);
  stored = dup_stored (window);
  g_assert_true (g_str_has_prefix (stored, "own: dye heat "));
  g_assert_cmpstr (get_text (window, 1, 2), ==, "slowly");
  /* A third save changes what is there. */
  type (get_entry (window, 1, 2), "gently");
  save (window);
  g_assert_cmpuint (count_stored (window), ==, n);
  test_window_destroy (window);
}

static gboolean
press (GtkWidget       *widget,
       guint            keyval,
       GdkModifierType  state)
{
  gboolean handled = FALSE;

  for (; widget != NULL && !handled; widget = gtk_widget_get_parent (widget))
    {
      g_autoptr (GListModel) controllers = gtk_widget_observe_controllers (widget);

      for (guint i = 0; i < g_list_model_get_n_items (controllers) && !handled; i++)
        {
          g_autoptr (GtkEventController) controller = g_list_model_get_item (controllers, i);

          if (GTK_IS_EVENT_CONTROLLER_KEY (controller) && gtk_event_controller_get_propagation_phase (controller) == GTK_PHASE_CAPTURE)
            g_signal_emit_by_name (controller, "key-pressed", keyval, 0u, state, &handled);
        }
    }
  return handled;
}

/* From any field of it, also that of how it is done; the hand stays in that field, and what is half typed there. */
static void
test_keys (void)
{
  WbWindow *window = open_wax ("method-keys.wickbench");
  GtkWidget *entry = get_entry (window, 0, 0), *how = get_entry (window, 0, 2);

  gtk_widget_grab_focus (entry);
  type (entry, "8 2?");
  g_assert_true (press (entry, GDK_KEY_Down, GDK_ALT_MASK));
  g_assert_true (get_entry (window, 1, 0) == entry);
  g_assert_cmpstr (get_text (window, 1, 0), ==, "8 2?");
  g_assert_true (gtk_widget_is_ancestor (gtk_root_get_focus (GTK_ROOT (window)), entry));
  g_assert_true (press (how, GDK_KEY_Down, GDK_ALT_MASK));
  g_assert_true (get_entry (window, 2, 2) == how);
  g_assert_true (press (how, GDK_KEY_Up, GDK_ALT_MASK));
  g_assert_true (press (how, GDK_KEY_Up, GDK_ALT_MASK));
  g_assert_true (get_entry (window, 0, 2) == how);
  /* no further */
  g_assert_true (press (how, GDK_KEY_Up, GDK_ALT_MASK));
  g_assert_true (get_entry (window, 0, 2) == how);
  g_assert_false (press (how, GDK_KEY_Up, 0));
  test_window_destroy (window);
}

static void
test_read_only (void)
{
  WbWindow *window = open_wax ("method-read-only.wickbench");
  g_autofree char *path = g_strdup (wb_app_notebook_get_path (test_notebook (window)));
  g_autoptr (WbAppNotebook) notebook = NULL;

  test_window_destroy (window);
  notebook = wb_app_notebook_open_sync (path, WB_APP_OPEN_READ, NULL, NULL);
  window = test_window_new ();
  wb_window_set_notebook (window, notebook);
  show_wax (window);
  g_assert_false (gtk_widget_is_sensitive (get_entry (window, 0, 2)));
  g_assert_false (gtk_widget_get_mapped (test_find (GTK_WIDGET (get_method (window)), GTK_TYPE_DROP_DOWN)));
  g_assert_false (test_says (GTK_WIDGET (get_method (window)), "As usual for a wax like this; changed and saved it becomes this wax's own."));
  test_window_destroy (window);
}

/* ---- What is half typed ---- */

static WbWindow *
crash (WbWindow *window)
{
  return test_window_crash (window, WB_APP_OPEN_EXISTING, "materials");
}

static gboolean
stands_again (gpointer window)
{
  return wb_page_has_draft (wb_window_get_page (window));
}

static gboolean
is_forgotten (gpointer window)
{
  WbAppDraft *draft = wb_app_draft_of (test_notebook (window), "materials");

  return wb_app_draft_get_loaded (draft) && !g_key_file_has_group (wb_app_draft_get_file (draft), "of");
}

static GtkDropDown *
get_choice (WbWindow   *window,
            const char *field)
{
  return GTK_DROP_DOWN (test_find (get_field (window, field), GTK_TYPE_DROP_DOWN));
}

/* Fields of every kind, and the method; it is left for another page, then the program is killed. */
static void
test_killed (void)
{
  WbWindow *window = open_wax ("material-killed.wickbench");
  guint kind = gtk_drop_down_get_selected (get_choice (window, "kind")) == 3 ? 2 : 3;
  guint n = count_rows (window);
  gint64 before = wb_app_notebook_get_last_entry (test_notebook (window));

  type (test_find (get_field (window, "supplier"), GTK_TYPE_ENTRY), "Invented waxes");
  type (test_find (get_field (window, "density"), GTK_TYPE_ENTRY), "0,9x");
  gtk_drop_down_set_selected (get_choice (window, "kind"), kind);
  gtk_check_button_set_active (GTK_CHECK_BUTTON (test_find (get_field (window, "crystallises"), GTK_TYPE_CHECK_BUTTON)), TRUE);
  wb_method_editor_move (get_method (window), 0, 1);
  wb_method_editor_add (get_method (window), WB_STEP_TURN_OVER);
  type (get_entry (window, n, 1), "a while");
  type (get_entry (window, n, 2), "once");
  /* nobody is asked: it stays */
  g_assert_true (wb_window_go (window, "today", 0));
  g_assert_true (wb_window_go (window, "materials", 0));
  g_assert_cmpstr (get_text (window, n, 1), ==, "a while");
  g_assert_true (wb_page_keeps_draft (wb_window_get_page (window)));
  window = crash (window);
  test_wait (stands_again, window);
  g_assert_true (gtk_widget_get_visible (test_child (GTK_WIDGET (get_editor (window)), "before")));
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (test_find (get_field (window, "supplier"), GTK_TYPE_ENTRY))), ==, "Invented waxes");
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (test_find (get_field (window, "density"), GTK_TYPE_ENTRY))), ==, "0,9x");
  g_assert_cmpuint (gtk_drop_down_get_selected (get_choice (window, "kind")), ==, kind);
  g_assert_true (gtk_check_button_get_active (GTK_CHECK_BUTTON (test_find (get_field (window, "crystallises"), GTK_TYPE_CHECK_BUTTON))));
  g_assert_cmpuint (count_rows (window), ==, n + 1);
  g_assert_cmpstr (get_text (window, n, 1), ==, "a while");
  g_assert_cmpstr (get_text (window, n, 2), ==, "once");
  g_assert_cmpint (wb_app_notebook_get_last_entry (test_notebook (window)), ==, before);

  /* Mended and saved it is forgotten. */
  type (test_find (get_field (window, "density"), GTK_TYPE_ENTRY), "0,9");
  type (get_entry (window, n, 1), "10");
  save (window);
  g_assert_cmpuint (count_stored (window), ==, n + 1);
  test_wait (is_forgotten, window);
  g_assert_false (gtk_widget_get_visible (test_child (GTK_WIDGET (get_editor (window)), "before")));
  window = crash (window);
  test_settle (window);
  g_assert_false (stands_again (window));
  test_window_destroy (window);
}

static gboolean
is_draft_read (gpointer window)
{
  return wb_app_draft_get_loaded (wb_app_draft_of (test_notebook (window), "materials")) && get_method (window) != NULL;
}

/* A look at the notebook where it can only be read neither shows what is half typed nor forgets it. */
static void
test_read_only_keeps (void)
{
  WbWindow *window = open_wax ("half-typed-read-only.wickbench");

  type (test_find (get_field (window, "supplier"), GTK_TYPE_ENTRY), "Invented waxes");
  window = test_window_crash (window, WB_APP_OPEN_READ, "materials");
  show_wax (window);
  test_wait (is_draft_read, window);
  test_settle (window);
  g_assert_false (stands_again (window));
  window = crash (window);
  test_wait (stands_again, window);
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (test_find (get_field (window, "supplier"), GTK_TYPE_ENTRY))), ==, "Invented waxes");
  test_window_destroy (window);
}

static gboolean
can_duplicate (gpointer window)
{
  return test_enabled (window, "page.duplicate");
}

/* A copy of a vessel that was not saved keeps what it was copied from. */
static void
test_copy_killed (void)
{
  g_autofree char *path = test_path ("copy-killed.wickbench");
  WbWindow *window = test_window_new_with (path);
  g_autoptr (WbRecord) record = NULL;
  TestShelf shelf;

  test_shelf_fill (window, "Tern", &shelf);
  g_assert_true (wb_window_go (window, "materials", 0));
  test_wait (can_duplicate, window);
  gtk_widget_activate_action (GTK_WIDGET (window), "page.duplicate", NULL);
  type (test_find (get_field (window, "tare_g"), GTK_TYPE_ENTRY), "211");
  window = crash (window);
  test_wait (stands_again, window);
  g_assert_cmpint (wb_material_editor_get_id (get_editor (window)), ==, 0);
  record = wb_material_editor_dup_record (get_editor (window));
  g_assert_cmpstr (((WbVessel *) (gpointer) record)->name, ==, "Tern, copy");
  g_assert_cmpfloat (((WbVessel *) (gpointer) record)->tare_g, ==, 211);
  g_assert_cmpfloat (((WbVessel *) (gpointer) record)->water_g, ==, 350);
  /* Dropped it is forgotten too. */
  gtk_widget_activate_action (GTK_WIDGET (window), "page.revert", NULL);
  test_wait (is_forgotten, window);
  test_window_destroy (window);
}

void
test_material_method_add (void)
{
  g_test_add_func ("/views/materials/method/a-waxs-method-is-its-makers", test_own);
  g_test_add_func ("/views/materials/method/a-change-is-asked-about-and-reverted", test_touched);
  g_test_add_func ("/views/materials/method/a-wrong-value-is-refused-with-all-of-it", test_wrong);
  g_test_add_func ("/views/materials/method/what-is-typed-during-its-save-is-saved-next", test_type_on);
  g_test_add_func ("/views/materials/method/a-step-moves-by-keys-from-any-field", test_keys);
  g_test_add_func ("/views/materials/method/for-reading-it-is-only-shown", test_read_only);
  g_test_add_func ("/views/materials/what-is-half-typed-outlives-a-kill", test_killed);
  g_test_add_func ("/views/materials/what-is-half-typed-outlives-a-look-at-a-read-only-notebook", test_read_only_keeps);
  g_test_add_func ("/views/materials/a-copy-half-typed-outlives-a-kill", test_copy_killed);
}
