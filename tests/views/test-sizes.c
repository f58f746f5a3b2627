/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-views.h"

#include "wb-app-query.h"
#include "wb-quantity-entry.h"
#include "wb-record-form.h"
#include "wb-sizes-dialog.h"

typedef struct
{
  char      *path;
  WbWindow  *window;
  GtkWidget *dialog;
} Bench;

static GtkWidget *
find_dialog (void)
{
  return test_find_window (WB_TYPE_SIZES_DIALOG);
}

static gboolean
is_closed (gpointer user)
{
  return find_dialog () == NULL;
}

static gboolean
is_enabled (gpointer window)
{
  return test_enabled (window, "page.sizes");
}

static void
open_dialog (Bench *bench)
{
  test_wait (is_enabled, bench->window);
  gtk_widget_activate_action (GTK_WIDGET (bench->window), "page.sizes", NULL);
  bench->dialog = find_dialog ();
  g_assert_nonnull (bench->dialog);
}

static void
bench_set_up (Bench         *bench,
              gconstpointer  data)
{
  TestShelf shelf;

  bench->path = test_path ("sizes.wickbench");
  bench->window = test_window_new_with (bench->path);
  /* Sedge S-1 to S-3 are on it. */
  test_shelf_fill (bench->window, "Tern", &shelf);
  g_assert_true (wb_window_go (bench->window, "materials", 0));
  test_settle (bench->window);
  gtk_widget_activate_action (GTK_WIDGET (bench->window), "page.kind", "s", "wick");
  open_dialog (bench);
}

static void
bench_tear_down (Bench         *bench,
                 gconstpointer  data)
{
  test_window_destroy (bench->window);
  g_free (bench->path);
}

static void
type (Bench      *bench,
      const char *form,
      const char *field,
      const char *text)
{
  GtkWidget *widget = wb_record_form_get_field (WB_RECORD_FORM (test_child (bench->dialog, form)), field);

  gtk_editable_set_text (GTK_EDITABLE (test_find (widget, GTK_TYPE_ENTRY)), text);
}

static void
type_sizes (Bench      *bench,
            const char *text)
{
  gtk_editable_set_text (GTK_EDITABLE (test_child (bench->dialog, "sizes")), text);
}

static void
click (Bench *bench)
{
  g_signal_emit_by_name (test_child (bench->dialog, "save"), "clicked");
}

static GPtrArray *
list (Bench              *bench,
      const WbRecordType *type)
{
  g_autoptr (GError) error = NULL;
  GPtrArray *records = wb_app_query_list_sync (test_notebook (bench->window), type, &error);

  g_assert_no_error (error);
  return records;
}

static const WbWick *
find_wick (GPtrArray  *wicks,
           const char *series,
           const char *size)
{
  for (guint i = 0; i < wicks->len; i++)
    {
      const WbWick *wick = wicks->pdata[i];

      if (g_str_equal (wick->series, series) && g_str_equal (wick->size, size))
        return wick;
    }
  return NULL;
}

static void
test_eight (Bench         *bench,
            gconstpointer  data)
{
  gint64 before = wb_app_notebook_get_last_entry (test_notebook (bench->window));
  g_autoptr (GPtrArray) wicks = NULL;

  type (bench, "series", "series", "Tarn");
  type_sizes (bench, "T-1 to T-8");
  g_assert_true (test_says (bench->dialog, "8 wicks will be made"));
  g_assert_true (test_says (bench->dialog, "Tarn T-8"));
  type (bench, "rest", "supplier", "Fen");
  test_check_names (bench->dialog, "sizes");
  click (bench);
  test_wait (is_closed, NULL);
  test_settle (bench->window);
  wicks = list (bench, &wb_wick_type);
  g_assert_cmpint (find_wick (wicks, "Tarn", "T-1")->step, ==, 1);
  g_assert_cmpint (find_wick (wicks, "Tarn", "T-8")->step, ==, 8);
  g_assert_cmpstr (find_wick (wicks, "Tarn", "T-8")->supplier, ==, "Fen");
  /* One entry, which one undo takes back. */
  g_assert_cmpint (wb_app_notebook_get_last_entry (test_notebook (bench->window)), ==, before + 1);
  gtk_widget_activate_action (GTK_WIDGET (bench->window), "win.undo", NULL);
  test_settle (bench->window);
  g_clear_pointer (&wicks, g_ptr_array_unref);
  wicks = list (bench, &wb_wick_type);
  g_assert_null (find_wick (wicks, "Tarn", "T-8"));
}

/* What is there stays as it is, and the new ones go on counting behind it. */
static void
test_some_there (Bench         *bench,
                 gconstpointer  data)
{
  g_autoptr (GPtrArray) wicks = list (bench, &wb_wick_type);
  g_autofree char *series = g_strdup (((const WbWick *) wicks->pdata[0])->series);
  g_autofree char *sizes = g_strdup_printf ("%s, X1, X2, x1", ((const WbWick *) wicks->pdata[0])->size);
  gint64 highest = 0;

  for (guint i = 0; i < wicks->len; i++)
    highest = MAX (highest, ((const WbWick *) wicks->pdata[i])->step);
  type (bench, "series", "series", series);
  type_sizes (bench, sizes);
  g_assert_true (test_says (bench->dialog, "2 wicks will be made"));
  g_assert_true (test_says (bench->dialog, "is there already, stays as it is"));
  g_assert_true (test_says (bench->dialog, "stands twice in the list"));
  click (bench);
  test_wait (is_closed, NULL);
  g_clear_pointer (&wicks, g_ptr_array_unref);
  wicks = list (bench, &wb_wick_type);
  g_assert_cmpint (find_wick (wicks, series, "X1")->step, ==, highest + 1);
  g_assert_cmpint (find_wick (wicks, series, "X2")->step, ==, highest + 2);
}

static void
set_diameter (Bench      *bench,
              int         row,
              int         column,
              const char *text)
{
  GtkWidget *entry = gtk_grid_get_child_at (GTK_GRID (test_child (bench->dialog, "rows")), column, row);

  wb_quantity_entry_set_text (WB_QUANTITY_ENTRY (entry), text);
}

static void
test_diameters (Bench         *bench,
                gconstpointer  data)
{
  g_autoptr (GPtrArray) guides = NULL;
  g_autoptr (GPtrArray) wicks = NULL;

  type (bench, "series", "series", "Tarn");
  type_sizes (bench, "1, 2");
  gtk_check_button_set_active (GTK_CHECK_BUTTON (test_child (bench->dialog, "guided")), TRUE);
  set_diameter (bench, 1, 2, "70");
  set_diameter (bench, 1, 3, "60");
  /* The other way round, it is refused, and what was typed stays though a size is added. */
  click (bench);
  g_assert_false (is_closed (NULL));
  set_diameter (bench, 1, 3, "80");
  type_sizes (bench, "1, 2, 3");
  click (bench);
  test_wait (is_closed, NULL);
  guides = list (bench, &wb_wick_guide_type);
  wicks = list (bench, &wb_wick_type);
  g_assert_cmpuint (guides->len, ==, 1);
  g_assert_cmpint (((const WbWickGuide *) guides->pdata[0])->wick, ==, find_wick (wicks, "Tarn", "1")->record.id);
  g_assert_cmpfloat (((const WbWickGuide *) guides->pdata[0])->from_mm, ==, 70);
  g_assert_cmpfloat (((const WbWickGuide *) guides->pdata[0])->to_mm, ==, 80);
}

static gboolean
lists_tarn (gpointer window)
{
  return test_says (window, "Tarn 1");
}

/* Two makers' series of one name, a list that cannot be read, and all there already: words, and nothing is lost or written. */
static void
test_refused (Bench         *bench,
              gconstpointer  data)
{
  gint64 before;

  type (bench, "series", "series", "Tarn");
  type_sizes (bench, "1");
  type (bench, "rest", "supplier", "Fen");
  click (bench);
  test_wait (is_closed, NULL);
  /* the next one is made from what the page has read */
  test_wait (lists_tarn, bench->window);
  open_dialog (bench);
  before = wb_app_notebook_get_last_entry (test_notebook (bench->window));
  type (bench, "series", "series", "tarn");
  type_sizes (bench, "8 to 1");
  g_assert_true (test_says (bench->dialog, "“8” to “1” goes down: begin with the smallest."));
  click (bench);
  type_sizes (bench, "1");
  click (bench);
  g_assert_true (test_says (bench->dialog, "All of these sizes are there already."));
  type_sizes (bench, "2");
  type (bench, "rest", "supplier", "Moor");
  click (bench);
  g_assert_nonnull (wb_record_form_get_problem (WB_RECORD_FORM (test_child (bench->dialog, "series")), "series"));
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (test_child (bench->dialog, "sizes"))), ==, "2");
  g_assert_cmpint (wb_app_notebook_get_last_entry (test_notebook (bench->window)), ==, before);
}

#define ADD(path, func) g_test_add ("/views/sizes/" path, Bench, NULL, bench_set_up, func, bench_tear_down)

void
test_sizes_add (void)
{
  ADD ("eight-at-once-are-one-entry", test_eight);
  ADD ("what-is-there-stays", test_some_there);
  ADD ("the-suppliers-diameters-go-with-them", test_diameters);
  ADD ("what-cannot-be-is-told-and-stays-typed", test_refused);
}
