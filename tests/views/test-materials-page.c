/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "materials-page.h"

#include "wb-app-query.h"
#include "wb-material-editor.h"
#include "wb-material-item.h"
#include "wb-record-form.h"

static GListModel *
get_list (WbWindow *window)
{
  GtkWidget *list = test_find (GTK_WIDGET (wb_window_get_page (window)), GTK_TYPE_LIST_VIEW);

  return G_LIST_MODEL (gtk_list_view_get_model (GTK_LIST_VIEW (list)));
}

static gboolean
has_two (gpointer user)
{
  return g_list_model_get_n_items (get_list (user)) == 2;
}

static gboolean
has_one (gpointer user)
{
  return g_list_model_get_n_items (get_list (user)) == 1;
}

static gboolean
is_called_tern (gpointer user)
{
  g_autoptr (WbMaterialItem) item = g_list_model_get_item (get_list (user), 0);

  return item != NULL && g_str_equal (wb_material_item_get_title (item), "Tern");
}

static void
test_add (void)
{
  g_autofree char *path = NULL;
  WbWindow *window = materials_open ("add.wickbench", &path);
  g_autoptr (WbAppMaterials) materials = NULL;
  g_autoptr (GError) error = NULL;
  const WbVessel *vessel;

  g_assert_false (test_enabled (window, "page.save"));
  g_assert_false (test_enabled (window, "page.delete"));
  materials_add_vessel (window, "Tern", "2 1/8\"");
  test_wait (has_one, window);
  materials = wb_app_query_materials_sync (test_notebook (window), &error);
  g_assert_no_error (error);
  g_assert_cmpuint (materials->vessels->len, ==, 1);
  vessel = materials->vessels->pdata[0];
  g_assert_cmpstr (vessel->name, ==, "Tern");
  g_assert_cmpfloat_with_epsilon (vessel->inner_diameter_mm, 53.975, 1e-9);
  g_assert_true (test_enabled (window, "page.delete"));
  g_assert_false (test_enabled (window, "page.save"));
  test_window_destroy (window);
}

static void
test_refuse (void)
{
  g_autofree char *path = NULL;
  WbWindow *window = materials_open ("refuse.wickbench", &path);
  gint64 before = wb_app_notebook_get_last_entry (test_notebook (window));

  materials_act (window, "page.new");
  materials_type (window, "name", "Tern");
  materials_type (window, "inner_diameter_mm", "seven");
  materials_act (window, "page.save");
  g_assert_nonnull (wb_record_form_get_problem (materials_get_form (window), "inner_diameter_mm"));
  g_assert_cmpint (wb_app_notebook_get_last_entry (test_notebook (window)), ==, before);
  /* What was typed is still there, and the page is not left without a word. */
  g_assert_true (wb_material_editor_get_touched (materials_get_editor (window)));
  materials_type (window, "inner_diameter_mm", "76");
  materials_act (window, "page.save");
  test_wait (materials_is_stored, window);
  g_assert_cmpint (wb_app_notebook_get_last_entry (test_notebook (window)), >, before);
  test_window_destroy (window);
}

static void
test_double (void)
{
  g_autofree char *path = NULL;
  WbWindow *window = materials_open ("double.wickbench", &path);

  materials_add_vessel (window, "Tern", "76");
  test_wait (has_one, window);
  materials_act (window, "page.new");
  materials_type (window, "name", "tern");
  materials_type (window, "inner_diameter_mm", "76 mm");
  materials_act (window, "page.save");
  g_assert_nonnull (wb_record_form_get_problem (materials_get_form (window), "name"));
  g_assert_cmpint (wb_material_editor_get_id (materials_get_editor (window)), ==, 0);
  /* The same name with another diameter is another vessel. */
  materials_type (window, "inner_diameter_mm", "80");
  materials_act (window, "page.save");
  test_wait (has_two, window);
  test_window_destroy (window);
}

static void
test_change_and_undo (void)
{
  g_autofree char *path = NULL;
  WbWindow *window = materials_open ("change.wickbench", &path);

  materials_add_vessel (window, "Tern", "76");
  test_wait (has_one, window);
  materials_type (window, "name", "Gull");
  g_assert_true (test_enabled (window, "page.save"));
  g_assert_true (test_enabled (window, "page.revert"));
  materials_act (window, "page.revert");
  g_assert_false (test_enabled (window, "page.save"));
  materials_type (window, "name", "Gull");
  materials_act (window, "page.save");
  materials_act (window, "win.undo");
  test_wait (is_called_tern, window);
  test_window_destroy (window);
}

static void
test_duplicate (void)
{
  g_autofree char *path = NULL;
  WbWindow *window = materials_open ("duplicate.wickbench", &path);

  materials_add_vessel (window, "Tern", "76");
  test_wait (has_one, window);
  materials_act (window, "page.duplicate");
  g_assert_cmpint (wb_material_editor_get_id (materials_get_editor (window)), ==, 0);
  g_assert_true (test_enabled (window, "page.save"));
  materials_act (window, "page.save");
  test_wait (has_two, window);
  test_window_destroy (window);
}

/* Of a wick the size is another, and its step with it: the hand stands there. */
static void
test_duplicate_wick (void)
{
  g_autofree char *path = test_path ("duplicate-wick.wickbench");
  WbWindow *window = test_window_new_with (path);
  g_autoptr (WbRecord) copy = NULL;
  GtkWidget *size;
  TestShelf shelf;

  test_shelf_fill (window, "Tern", &shelf);
  g_assert_true (wb_window_go (window, "materials", 0));
  test_settle (window);
  gtk_widget_activate_action (GTK_WIDGET (window), "page.kind", "s", "wick");
  test_wait (materials_is_stored, window);
  materials_act (window, "page.duplicate");
  copy = wb_material_editor_dup_record (materials_get_editor (window));
  g_assert_true (((const WbWick *) (gpointer) copy)->step == WB_INTEGER_NONE);
  size = wb_record_form_get_field (materials_get_form (window), "size");
  g_assert_true (gtk_widget_is_ancestor (gtk_root_get_focus (GTK_ROOT (window)), size));
  test_window_destroy (window);
}

static void
test_kinds (void)
{
  g_autofree char *path = NULL;
  WbWindow *window = materials_open ("kinds.wickbench", &path);
  static const char *const names[] = { "wax", "wick", "fragrance", "dye", "additive", "vessel" };

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autoptr (WbRecord) record = NULL;

      gtk_widget_activate_action (GTK_WIDGET (window), "page.kind", "s", names[i]);
      materials_act (window, "page.new");
      record = wb_material_editor_dup_record (materials_get_editor (window));
      g_assert_cmpstr (record->type->name, ==, names[i]);
    }
  test_window_destroy (window);
}

static void
test_search (void)
{
  g_autofree char *path = NULL;
  WbWindow *window = materials_open ("search.wickbench", &path);
  GtkWidget *search = test_child (GTK_WIDGET (wb_window_get_page (window)), "search");

  materials_add_vessel (window, "Tern", "76");
  materials_add_vessel (window, "Gull", "80");
  test_wait (has_two, window);
  gtk_editable_set_text (GTK_EDITABLE (search), "gUL");
  test_wait (has_one, window);
  gtk_editable_set_text (GTK_EDITABLE (search), "");
  test_wait (has_two, window);
  /* By its lot too: Gull, which is shown, has one. */
  {
    g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (wb_record_free);
    g_autoptr (GError) error = NULL;
    WbLot *lot = wb_record_new (&wb_lot_type);

    lot->material = wb_material_editor_get_id (materials_get_editor (window));
    lot->code = g_strdup ("G-0711");
    g_ptr_array_add (records, lot);
    wb_app_notebook_save_sync (test_notebook (window), "Add a lot", records, NULL, &error);
    g_assert_no_error (error);
  }
  gtk_editable_set_text (GTK_EDITABLE (search), "g-0711");
  test_wait (has_one, window);
  gtk_editable_set_text (GTK_EDITABLE (search), "");
  test_wait (has_two, window);
  test_window_destroy (window);
}

static gboolean
shows_tern (gpointer user)
{
  return g_str_has_prefix (wb_material_editor_get_title (materials_get_editor (user)), "Tern");
}

static gboolean
shows_gull (gpointer user)
{
  return g_str_has_prefix (wb_material_editor_get_title (materials_get_editor (user)), "Gull");
}

/* Enter in the search opens what was found first, Enter on a row that row. */
static void
test_search_by_keys (void)
{
  g_autofree char *path = NULL;
  WbWindow *window = materials_open ("search-keys.wickbench", &path);
  GtkWidget *search = test_child (GTK_WIDGET (wb_window_get_page (window)), "search");

  materials_add_vessel (window, "Tern", "76");
  materials_add_vessel (window, "Gull", "80");
  test_wait (has_two, window);
  g_assert_true (shows_gull (window));
  /* with nothing typed there is nothing that was found */
  g_signal_emit_by_name (search, "activate");
  g_assert_true (shows_gull (window));
  gtk_editable_set_text (GTK_EDITABLE (search), "tern");
  test_wait (has_one, window);
  g_signal_emit_by_name (search, "activate");
  test_wait (shows_tern, window);
  gtk_editable_set_text (GTK_EDITABLE (search), "");
  test_wait (has_two, window);
  g_signal_emit_by_name (test_find (GTK_WIDGET (wb_window_get_page (window)), GTK_TYPE_LIST_VIEW), "activate", 1u);
  test_wait (shows_gull, window);
  test_window_destroy (window);
}

/* Another window of the same notebook writes; a half-typed form is left alone. */
static void
test_half_typed (void)
{
  g_autofree char *path = NULL;
  WbWindow *window = materials_open ("half.wickbench", &path);
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (wb_record_free);
  g_autoptr (GError) error = NULL;
  WbVessel *vessel = wb_record_new (&wb_vessel_type);
  g_autoptr (WbRecord) typed = NULL;

  materials_add_vessel (window, "Tern", "76");
  test_wait (has_one, window);
  materials_type (window, "wall_mm", "3.");
  vessel->name = g_strdup ("Gull");
  vessel->inner_diameter_mm = 80.0;
  g_ptr_array_add (records, vessel);
  wb_app_notebook_save_sync (test_notebook (window), "Add a vessel", records, NULL, &error);
  g_assert_no_error (error);
  test_wait (has_two, window);
  typed = wb_material_editor_dup_record (materials_get_editor (window));
  g_assert_cmpstr (((WbVessel *) (gpointer) typed)->name, ==, "Tern");
  g_assert_true (wb_material_editor_get_touched (materials_get_editor (window)));
  test_window_destroy (window);
}

static void
choose (WbWindow   *window,
        const char *field,
        guint       position)
{
  GtkWidget *drop = test_find (wb_record_form_get_field (materials_get_form (window), field), GTK_TYPE_DROP_DOWN);

  gtk_drop_down_set_selected (GTK_DROP_DOWN (drop), position);
}

/* A second axis is asked of what is not round, and a drinking glass brings its caution. */
static void
test_follows (void)
{
  g_autofree char *path = NULL;
  WbWindow *window = materials_open ("follows.wickbench", &path);
  GtkWidget *caution = test_child (GTK_WIDGET (wb_window_get_page (window)), "caution");

  materials_act (window, "page.new");
  g_assert_false (gtk_widget_get_visible (wb_record_form_get_field (materials_get_form (window), "inner_width_mm")));
  g_assert_false (gtk_widget_get_visible (caution));
  choose (window, "shape", WB_SHAPE_OVAL + 1);
  g_assert_true (gtk_widget_get_visible (wb_record_form_get_field (materials_get_form (window), "inner_width_mm")));
  materials_type (window, "inner_width_mm", "60");
  choose (window, "shape", WB_SHAPE_ROUND + 1);
  /* What was typed is not taken out of sight. */
  g_assert_true (gtk_widget_get_visible (wb_record_form_get_field (materials_get_form (window), "inner_width_mm")));
  choose (window, "origin", WB_ORIGIN_DRINKING_GLASS + 1);
  g_assert_true (gtk_widget_get_visible (caution));
  choose (window, "origin", WB_ORIGIN_CANDLE_WARE + 1);
  g_assert_false (gtk_widget_get_visible (caution));
  test_window_destroy (window);
}

/* Temperatures that no pot can follow are told at the field while they are typed, and hinder no save. */
static void
test_wax_in_doubt (void)
{
  g_autofree char *path = NULL;
  WbWindow *window = materials_open ("doubt.wickbench", &path);

  gtk_widget_activate_action (GTK_WIDGET (window), "page.kind", "s", "wax");
  materials_act (window, "page.new");
  materials_type (window, "name", "Ridge");
  materials_type (window, "heat_c", "80");
  materials_type (window, "add_c", "75");
  g_assert_null (wb_record_form_get_caution (materials_get_form (window), "pour_c"));
  materials_type (window, "pour_c", "95");
  g_assert_nonnull (strstr (wb_record_form_get_caution (materials_get_form (window), "pour_c"), "95"));
  materials_type (window, "pour_c", "60");
  g_assert_null (wb_record_form_get_caution (materials_get_form (window), "pour_c"));
  materials_type (window, "add_c", "85");
  g_assert_nonnull (wb_record_form_get_caution (materials_get_form (window), "add_c"));
  materials_act (window, "page.save");
  test_wait (materials_is_stored, window);
  g_assert_nonnull (wb_record_form_get_caution (materials_get_form (window), "add_c"));
  materials_act (window, "page.new");
  g_assert_null (wb_record_form_get_caution (materials_get_form (window), "add_c"));
  test_window_destroy (window);
}

/* ---- While it is saved ---- */

static WbVessel *
dup_vessel (WbWindow   *window,
            const char *name)
{
  g_autoptr (WbAppMaterials) materials = NULL;
  g_autoptr (GError) error = NULL;

  materials = wb_app_query_materials_sync (test_notebook (window), &error);
  g_assert_no_error (error);
  for (guint i = 0; i < materials->vessels->len; i++)
    if (g_strcmp0 (((WbVessel *) materials->vessels->pdata[i])->name, name) == 0)
      return wb_record_copy (materials->vessels->pdata[i]);
  return NULL;
}

static void
save_and_go_on (WbWindow *window)
{
  g_assert_true (test_enabled (window, "page.save"));
  gtk_widget_activate_action (GTK_WIDGET (window), "page.save", NULL);
}

static gboolean
can_save (gpointer user)
{
  return test_enabled (user, "page.save");
}

static gboolean
is_untouched (gpointer user)
{
  return !wb_material_editor_get_touched (materials_get_editor (user));
}

static gboolean
is_saved (gpointer user)
{
  return !wb_app_notebook_get_saving (test_notebook (user)) && is_untouched (user);
}

/* A hand that types on does not wait for the disk. */
static void
test_type_on (void)
{
  g_autofree char *path = NULL;
  WbWindow *window = materials_open ("type-on.wickbench", &path);
  g_autoptr (WbRecord) stored = NULL;

  materials_add_vessel (window, "Tern", "76");
  test_wait (has_one, window);
  materials_type (window, "name", "Gull");
  save_and_go_on (window);
  materials_type (window, "wall_mm", "3.5");
  test_wait (can_save, window);
  test_settle (window);
  g_assert_true (wb_material_editor_get_touched (materials_get_editor (window)));
  save_and_go_on (window);
  test_wait (is_saved, window);
  stored = (WbRecord *) dup_vessel (window, "Gull");
  g_assert_nonnull (stored);
  g_assert_cmpfloat_with_epsilon (((WbVessel *) (gpointer) stored)->wall_mm, 3.5, 1e-9);
  test_window_destroy (window);
}

/* The first one, too, has its number only after the save. */
static void
test_type_on_in_a_new_one (void)
{
  g_autofree char *path = NULL;
  WbWindow *window = materials_open ("type-on-new.wickbench", &path);
  g_autoptr (WbRecord) stored = NULL;

  materials_act (window, "page.new");
  materials_type (window, "name", "Tern");
  materials_type (window, "inner_diameter_mm", "76");
  save_and_go_on (window);
  materials_type (window, "wall_mm", "3.5");
  test_wait (can_save, window);
  save_and_go_on (window);
  test_wait (is_saved, window);
  test_settle (window);
  g_assert_true (has_one (window));
  stored = (WbRecord *) dup_vessel (window, "Tern");
  g_assert_cmpfloat_with_epsilon (((WbVessel *) (gpointer) stored)->wall_mm, 3.5, 1e-9);
  test_window_destroy (window);
}

static void
select_vessel (WbWindow *window,
               guint     position)
{
  gtk_selection_model_select_item (GTK_SELECTION_MODEL (get_list (window)), position, TRUE);
}

/* Gone to another while the first is on its way, and back before anything was read anew. */
static void
test_open_again (void)
{
  g_autofree char *path = NULL;
  WbWindow *window = materials_open ("again.wickbench", &path);
  g_autoptr (WbRecord) tern = NULL;
  g_autoptr (WbRecord) gull = NULL;
  gint64 before;

  materials_add_vessel (window, "Tern", "76");
  materials_add_vessel (window, "Gull", "80");
  test_wait (has_two, window);
  select_vessel (window, 0);
  before = wb_material_editor_get_id (materials_get_editor (window));
  materials_type (window, "wall_mm", "3.5");
  save_and_go_on (window);
  select_vessel (window, 1);
  test_wait (is_untouched, window);
  g_assert_cmpint (wb_material_editor_get_id (materials_get_editor (window)), !=, before);
  select_vessel (window, 0);
  g_assert_cmpint (wb_material_editor_get_id (materials_get_editor (window)), ==, before);
  materials_type (window, "tare_g", "250");
  save_and_go_on (window);
  test_wait (is_saved, window);
  tern = (WbRecord *) dup_vessel (window, "Tern");
  gull = (WbRecord *) dup_vessel (window, "Gull");
  g_assert_nonnull (tern);
  g_assert_nonnull (gull);
  g_assert_cmpfloat_with_epsilon (((WbVessel *) (gpointer) tern)->wall_mm, 3.5, 1e-9);
  g_assert_cmpfloat_with_epsilon (((WbVessel *) (gpointer) tern)->tare_g, 250, 1e-9);
  g_assert_cmpfloat_with_epsilon (((WbVessel *) (gpointer) gull)->inner_diameter_mm, 80, 1e-9);
  test_window_destroy (window);
}

static void
test_saved_goes (void)
{
  g_autofree char *path = NULL;
  WbWindow *window = materials_open ("saved-goes.wickbench", &path);

  materials_add_vessel (window, "Tern", "76");
  test_wait (test_says_saved, window);
  materials_type (window, "name", "Ter");
  g_assert_false (test_says_saved (window));
  materials_act (window, "page.save");
  test_wait (test_says_saved, window);
  test_window_destroy (window);
}

/* A base of 400 mm in a cup of 60 mm is told at its field, and what was typed stays. */
static void
test_impossible_vessel (void)
{
  g_autofree char *path = NULL;
  WbWindow *window = materials_open ("impossible.wickbench", &path);
  gint64 before = wb_app_notebook_get_last_entry (test_notebook (window));

  materials_act (window, "page.new");
  materials_type (window, "name", "Tern");
  materials_type (window, "inner_diameter_mm", "60");
  materials_type (window, "base_diameter_mm", "400");
  materials_act (window, "page.save");
  g_assert_nonnull (wb_record_form_get_problem (materials_get_form (window), "base_diameter_mm"));
  g_assert_cmpint (wb_app_notebook_get_last_entry (test_notebook (window)), ==, before);
  materials_type (window, "base_diameter_mm", "40");
  materials_act (window, "page.save");
  test_wait (materials_is_stored, window);
  test_window_destroy (window);
}

static gboolean
has_width (gpointer widget)
{
  return gtk_widget_get_width (widget) > 0;
}

/* In the smallest window all that is asked of most is seen at once, before anything is scrolled. */
static void
test_fits (void)
{
  g_autofree char *path = NULL;
  WbWindow *window = materials_open ("fits.wickbench", &path);
  static const char *const last[][2] = { { "wax", "smell_cure_days" }, { "wick", "supplier" }, { "fragrance", "supplier" }, { "dye", "note" },
                                         { "additive", "note" } };

  gtk_window_set_default_size (GTK_WINDOW (window), 1024, 700);
  for (guint i = 0; i < G_N_ELEMENTS (last); i++)
    {
      GtkWidget *scrolled = test_child (GTK_WIDGET (wb_window_get_page (window)), "scrolled"), *field;
      graphene_rect_t place;

      gtk_widget_activate_action (GTK_WIDGET (window), "page.kind", "s", last[i][0]);
      materials_act (window, "page.new");
      field = wb_record_form_get_field (materials_get_form (window), last[i][1]);
      test_wait (has_width, field);
      g_assert_true (gtk_widget_compute_bounds (field, scrolled, &place));
      g_test_message ("%s: %g of %d", last[i][0], (double) (place.origin.y + place.size.height), gtk_widget_get_height (scrolled));
      g_assert_cmpfloat (place.origin.y + place.size.height, <=, gtk_widget_get_height (scrolled));
    }
  test_window_destroy (window);
}

void
test_materials_page_add (void)
{
  g_test_add_func ("/views/materials/an-impossible-vessel-is-refused-at-its-field", test_impossible_vessel);
  g_test_add_func ("/views/materials/the-form-follows-what-is-chosen", test_follows);
  g_test_add_func ("/views/materials/temperatures-that-no-pot-can-follow-are-told-at-the-field", test_wax_in_doubt);
  g_test_add_func ("/views/materials/a-vessel-is-added", test_add);
  g_test_add_func ("/views/materials/a-wrong-quantity-is-refused-at-its-field", test_refuse);
  g_test_add_func ("/views/materials/two-of-one-name-are-refused", test_double);
  g_test_add_func ("/views/materials/a-change-is-saved-and-taken-back", test_change_and_undo);
  g_test_add_func ("/views/materials/a-copy-is-another-record", test_duplicate);
  g_test_add_func ("/views/materials/a-copy-of-a-wick-asks-for-its-size", test_duplicate_wick);
  g_test_add_func ("/views/materials/each-kind-has-its-form", test_kinds);
  g_test_add_func ("/views/materials/what-is-asked-of-most-fits-the-smallest-window", test_fits);
  g_test_add_func ("/views/materials/the-search-takes-any-case", test_search);
  g_test_add_func ("/views/materials/enter-opens-what-was-found", test_search_by_keys);
  g_test_add_func ("/views/materials/a-half-typed-form-is-left-alone", test_half_typed);
  g_test_add_func ("/views/materials/what-is-typed-during-a-save-is-saved-next", test_type_on);
  g_test_add_func ("/views/materials/what-is-typed-during-the-first-save-is-saved-next", test_type_on_in_a_new_one);
  g_test_add_func ("/views/materials/a-form-opened-right-after-a-save-holds-what-was-saved", test_open_again);
  g_test_add_func ("/views/materials/saved-goes-when-something-is-typed", test_saved_goes);
}
