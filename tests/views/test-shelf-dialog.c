/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-views.h"

#include "wb-app-query.h"
#include "wb-shelf-dialog.h"
#include "wb-transfer.h"

typedef struct
{
  char      *path;
  WbWindow  *window;
  GtkWidget *dialog;
} Bench;

static GtkWidget *
find_dialog (void)
{
  return test_find_window (WB_TYPE_SHELF_DIALOG);
}

static gboolean
is_closed (gpointer user)
{
  return find_dialog () == NULL;
}

static const char *
get_summary (GtkWidget *dialog)
{
  return gtk_label_get_text (GTK_LABEL (test_child (dialog, "summary")));
}

static gboolean
has_looked (gpointer dialog)
{
  return strstr (get_summary (dialog), "Looking through") == NULL;
}

static void
bench_set_up (Bench         *bench,
              gconstpointer  data)
{
  TestShelf shelf;

  bench->path = test_path ("shelf-dialog.wickbench");
  bench->window = test_window_new_with (bench->path);
  test_shelf_fill (bench->window, "Tern", &shelf);
  g_assert_true (wb_window_go (bench->window, "materials", 0));
  test_settle (bench->window);
}

static void
bench_tear_down (Bench         *bench,
                 gconstpointer  data)
{
  test_window_destroy (bench->window);
  g_free (bench->path);
}

/* Looks through a file of that text, as the menu of the page does once it has its name. */
static void
look (Bench      *bench,
      const char *text)
{
  g_autofree char *file = test_path ("shelf.csv");
  g_autoptr (GError) error = NULL;

  g_file_set_contents (file, text, -1, &error);
  g_assert_no_error (error);
  wb_transfer_import_materials_file (WB_HOST (bench->window), &wb_wax_type, file);
  bench->dialog = find_dialog ();
  g_assert_nonnull (bench->dialog);
  test_wait (has_looked, bench->dialog);
}

static const char *
get_row (Bench *bench,
         guint  place)
{
  GListModel *rows = G_LIST_MODEL (gtk_list_view_get_model (GTK_LIST_VIEW (test_child (bench->dialog, "rows"))));
  g_autoptr (GtkStringObject) row = g_list_model_get_item (rows, place);

  g_assert_nonnull (row);
  return gtk_string_object_get_string (row);
}

static gboolean
may_import (Bench *bench)
{
  return gtk_widget_get_sensitive (test_child (bench->dialog, "import"));
}

static void
click (Bench *bench)
{
  g_signal_emit_by_name (test_child (bench->dialog, "import"), "clicked");
  test_wait (is_closed, NULL);
  test_settle (bench->window);
}

static guint
count (Bench              *bench,
       const WbRecordType *type)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) records = wb_app_query_list_sync (test_notebook (bench->window), type, &error);

  g_assert_no_error (error);
  return records->len;
}

/* The first row, which alone is refused. */
static gboolean
is_drawn_as_wrong (gpointer user)
{
  Bench *bench = user;
  GtkWidget *rows = test_child (bench->dialog, "rows"), *first = gtk_widget_get_first_child (rows);
  GtkWidget *second = first != NULL ? gtk_widget_get_next_sibling (first) : NULL;

  return second != NULL && gtk_widget_has_css_class (test_find (first, GTK_TYPE_LABEL), "problem")
         && !gtk_widget_has_css_class (test_find (second, GTK_TYPE_LABEL), "problem");
}

static void
test_refused (Bench         *bench,
              gconstpointer  data)
{
  guint before = count (bench, &wb_wax_type);
  gint64 entry = wb_app_notebook_get_last_entry (test_notebook (bench->window));

  look (bench, "record,name,density\nwax,Teal,0.9\nwax,Godwit,9\n");
  g_assert_nonnull (strstr (get_summary (bench->dialog), "2 rows: 1 new, 0 changed, 0 unchanged, 1 refused"));
  /* what is wrong comes first, with line, column and value */
  g_assert_nonnull (strstr (get_row (bench, 0), "Refused: line 3: density: “9”"));
  g_assert_cmpstr (get_row (bench, 1), ==, "New: line 2: Wax: Teal");
  test_wait (is_drawn_as_wrong, bench);
  g_assert_false (may_import (bench));
  g_assert_true (gtk_widget_get_visible (test_child (bench->dialog, "partly")));
  g_assert_cmpuint (test_check_names (bench->dialog, "import of materials"), >, 2);
  gtk_window_close (GTK_WINDOW (bench->dialog));
  test_wait (is_closed, NULL);
  g_assert_cmpuint (count (bench, &wb_wax_type), ==, before);
  g_assert_cmpint (wb_app_notebook_get_last_entry (test_notebook (bench->window)), ==, entry);
}

static void
test_partly (Bench         *bench,
             gconstpointer  data)
{
  guint before = count (bench, &wb_wax_type);

  look (bench, "record,name,density\nwax,Teal,0.9\nwax,Godwit,9\n");
  gtk_check_button_set_active (GTK_CHECK_BUTTON (test_child (bench->dialog, "partly")), TRUE);
  g_assert_true (may_import (bench));
  click (bench);
  g_assert_cmpuint (count (bench, &wb_wax_type), ==, before + 1);
}

/* A file that does not say its kind is of the page's. */
static void
test_comes_in (Bench         *bench,
               gconstpointer  data)
{
  guint before = count (bench, &wb_wax_type);

  look (bench, "name,density\nTeal,0.9\n");
  g_assert_false (gtk_widget_get_visible (test_child (bench->dialog, "partly")));
  g_assert_true (may_import (bench));
  g_assert_cmpuint (count (bench, &wb_wax_type), ==, before);
  click (bench);
  g_assert_cmpuint (count (bench, &wb_wax_type), ==, before + 1);
  g_assert_true (g_str_has_prefix (wb_app_notebook_get_undo_label (test_notebook (bench->window)), "Import materials from "));
}

static void
test_no_list (Bench         *bench,
              gconstpointer  data)
{
  look (bench, "record,name,name\nwax,A,B\n");
  g_assert_nonnull (strstr (get_summary (bench->dialog), "“name” stands twice"));
  g_assert_false (may_import (bench));
  gtk_window_close (GTK_WINDOW (bench->dialog));
  test_wait (is_closed, NULL);
}

static gboolean
is_there (gpointer path)
{
  return g_file_test (path, G_FILE_TEST_EXISTS);
}

static void
test_export (Bench         *bench,
             gconstpointer  data)
{
  g_autofree char *file = test_path ("out.csv"), *text = NULL;

  g_assert_true (test_enabled (bench->window, "page.export"));
  g_assert_true (test_enabled (bench->window, "page.import"));
  wb_transfer_export_materials_file (WB_HOST (bench->window), &wb_wick_type, file);
  test_wait (is_there, file);
  test_settle (bench->window);
  g_assert_true (g_file_get_contents (file, &text, NULL, NULL));
  g_assert_true (g_str_has_prefix (text, "record,"));
  g_assert_nonnull (strstr (text, "\nwick,"));
  g_assert_null (strstr (text, "\nvessel,"));
}

void
test_shelf_dialog_add (void)
{
  g_test_add ("/views/shelf-dialog/refused-rows-come-first-and-nothing-is-written", Bench, NULL, bench_set_up, test_refused, bench_tear_down);
  g_test_add ("/views/shelf-dialog/the-others-come-in-once-it-is-ticked", Bench, NULL, bench_set_up, test_partly, bench_tear_down);
  g_test_add ("/views/shelf-dialog/what-was-shown-comes-in-as-one-entry", Bench, NULL, bench_set_up, test_comes_in, bench_tear_down);
  g_test_add ("/views/shelf-dialog/a-file-that-is-no-list-is-told", Bench, NULL, bench_set_up, test_no_list, bench_tear_down);
  g_test_add ("/views/shelf-dialog/a-kind-goes-out", Bench, NULL, bench_set_up, test_export, bench_tear_down);
}
