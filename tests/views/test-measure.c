/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-views.h"

#include "wb-app-query.h"
#include "wb-measure-dialog.h"
#include "wb-quantity-entry.h"
#include "wb-record-form.h"

#include <math.h>

/* The dialog for a new vessel, on the page of materials. */
typedef struct
{
  char      *path;
  WbWindow  *window;
  GtkWidget *dialog;
} Bench;

static GtkWidget *
find_dialog (void)
{
  return test_find_window (WB_TYPE_MEASURE_DIALOG);
}

static gboolean
is_open (gpointer user)
{
  return find_dialog () != NULL;
}

static gboolean
is_closed (gpointer user)
{
  return find_dialog () == NULL;
}

static gboolean
has_question (gpointer user)
{
  g_autoptr (GList) windows = gtk_window_list_toplevels ();

  for (GList *l = windows; l != NULL; l = l->next)
    if (GTK_IS_MESSAGE_DIALOG (l->data))
      return TRUE;
  return FALSE;
}

static void
answer (int response)
{
  g_autoptr (GList) windows = gtk_window_list_toplevels ();

  test_wait (has_question, NULL);
  g_list_free (g_steal_pointer (&windows));
  windows = gtk_window_list_toplevels ();
  for (GList *l = windows; l != NULL; l = l->next)
    if (GTK_IS_MESSAGE_DIALOG (l->data))
      {
        gtk_dialog_response (l->data, response);
        return;
      }
}

static void
bench_set_up (Bench         *bench,
              gconstpointer  data)
{
  bench->path = test_path ("measure.wickbench");
  bench->window = test_window_new_with (bench->path);
  g_assert_true (wb_window_go (bench->window, "materials", 0));
  test_settle (bench->window);
  gtk_widget_activate_action (GTK_WIDGET (bench->window), "page.new", NULL);
  test_wait (is_open, NULL);
  bench->dialog = find_dialog ();
}

static void
bench_tear_down (Bench         *bench,
                 gconstpointer  data)
{
  test_window_destroy (bench->window);
  g_free (bench->path);
}

static void
click (Bench      *bench,
       const char *id)
{
  g_signal_emit_by_name (test_child (bench->dialog, id), "clicked");
}

/* Into a field of the step that is shown. */
static void
type (Bench      *bench,
      const char *field,
      const char *text)
{
  GtkWidget *step = gtk_stack_get_visible_child (GTK_STACK (test_child (bench->dialog, "steps")));
  WbRecordForm *form = WB_RECORD_FORM (test_find (step, WB_TYPE_RECORD_FORM));
  GtkWidget *widget = wb_record_form_get_field (form, field);

  g_assert_nonnull (widget);
  gtk_editable_set_text (GTK_EDITABLE (test_find (widget, GTK_TYPE_ENTRY)), text);
}

static gboolean
is_at (Bench      *bench,
       const char *step)
{
  return g_strcmp0 (gtk_stack_get_visible_child_name (GTK_STACK (test_child (bench->dialog, "steps"))), step) == 0;
}

/* The radio button with the empty vessel in what the scale shows, and the field for it. */
static void
weigh_together (Bench      *bench,
                const char *text)
{
  GtkWidget *step = gtk_stack_get_visible_child (GTK_STACK (test_child (bench->dialog, "steps")));
  GtkWidget *alone = test_find (step, GTK_TYPE_CHECK_BUTTON);

  gtk_check_button_set_active (GTK_CHECK_BUTTON (gtk_widget_get_next_sibling (alone)), TRUE);
  gtk_editable_set_text (GTK_EDITABLE (test_find (test_find (step, WB_TYPE_QUANTITY_ENTRY), GTK_TYPE_ENTRY)), text);
}

static WbVessel *
read_vessel (Bench *bench)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) vessels = wb_app_query_list_sync (test_notebook (bench->window), &wb_vessel_type, &error);

  g_assert_no_error (error);
  g_assert_cmpuint (vessels->len, ==, 1);
  return wb_record_copy (vessels->pdata[0]);
}

/* A vessel of 250 g with 362.3 g of water in it: one of 76 mm and 80 mm that holds 363 ml. */
static void
test_whole_way (Bench         *bench,
                gconstpointer  data)
{
  WbVessel *vessel;

  type (bench, "name", "Quern");
  click (bench, "next");
  type (bench, "tare_g", "250");
  click (bench, "next");
  weigh_together (bench, "612.3");
  type (bench, "water_c", "22");
  g_assert_true (test_says (bench->dialog, "By the water: 362.3\302\240g ÷ 0.9978 g/cm³ at 22.0\302\240°C = 363.1\302\240ml (density: Kell 1975)"));
  click (bench, "next");
  type (bench, "inner_diameter_mm", "7,6 cm");
  type (bench, "base_diameter_mm", "76");
  click (bench, "next");
  type (bench, "wax_height_mm", "80");
  type (bench, "headspace_mm", "12");
  g_assert_true (test_says (bench->dialog, "By the water: 362.3\302\240g ÷ 0.9978 g/cm³ at 22.0\302\240°C = 363.1\302\240ml (density: Kell 1975)\n"
                                           "By diameters and height: 362.9\302\240ml\n"
                                           "The pool reaches the wall at 76.0\302\240mm in the upper third, 76.0\302\240mm in the middle, "
                                           "76.0\302\240mm in the lower."));
  test_check_names (bench->dialog, "measure");
  click (bench, "next");
  test_wait (is_closed, NULL);
  vessel = read_vessel (bench);
  g_assert_cmpstr (vessel->name, ==, "Quern");
  g_assert_cmpint (vessel->shape, ==, WB_SHAPE_ROUND);
  g_assert_cmpfloat_with_epsilon (vessel->water_g, 362.3, 1e-9);
  g_assert_cmpfloat (vessel->tare_g, ==, 250);
  g_assert_cmpfloat_with_epsilon (vessel->inner_diameter_mm, 76, 1e-9);
  g_assert_cmpfloat (vessel->wax_height_mm, ==, 80);
  wb_record_free (vessel);
}

/* Water above what the sizes hold is asked about; who keeps both keeps both. */
static void
test_doubt (Bench         *bench,
            gconstpointer  data)
{
  WbVessel *vessel;

  type (bench, "name", "Quern");
  click (bench, "next");
  type (bench, "tare_g", "250");
  click (bench, "next");
  type (bench, "water_g", "612.3");
  type (bench, "water_c", "20");
  click (bench, "next");
  type (bench, "inner_diameter_mm", "76");
  click (bench, "next");
  type (bench, "wax_height_mm", "80");
  g_assert_true (test_says (bench->dialog, "By the water it holds 613\302\240ml, by its sizes 363\302\240ml. Without the mass of the empty vessel "
                                           "both would agree: is the empty vessel still in the water's mass?"));
  click (bench, "next");
  answer (GTK_RESPONSE_CANCEL);
  g_assert_true (is_at (bench, "up"));
  click (bench, "next");
  answer (GTK_RESPONSE_ACCEPT);
  test_wait (is_closed, NULL);
  vessel = read_vessel (bench);
  g_assert_cmpfloat (vessel->water_g, ==, 612.3);
  wb_record_free (vessel);
}

/* Enter goes from the scale's field to the temperature, and from there on; a field that says nothing takes nothing away. */
static void
test_enter (Bench         *bench,
            gconstpointer  data)
{
  GtkWidget *step;
  WbVessel *vessel;

  type (bench, "name", "Quern");
  click (bench, "next");
  type (bench, "tare_g", "250");
  click (bench, "next");
  type (bench, "water_g", "362.3");
  step = gtk_stack_get_visible_child (GTK_STACK (test_child (bench->dialog, "steps")));
  gtk_widget_grab_focus (wb_record_form_get_field (WB_RECORD_FORM (test_find (step, WB_TYPE_RECORD_FORM)), "water_g"));
  g_signal_emit_by_name (test_find (step, WB_TYPE_RECORD_FORM), "activate");
  g_assert_true (is_at (bench, "water"));
  g_assert_true (gtk_widget_is_ancestor (gtk_window_get_focus (GTK_WINDOW (bench->dialog)),
                                         wb_record_form_get_field (WB_RECORD_FORM (test_find (step, WB_TYPE_RECORD_FORM)), "water_c")));
  g_signal_emit_by_name (test_find (step, WB_TYPE_RECORD_FORM), "activate");
  g_assert_true (is_at (bench, "across"));
  click (bench, "back");
  weigh_together (bench, "");
  vessel = wb_measure_dialog_dup_vessel (WB_MEASURE_DIALOG (bench->dialog));
  g_assert_cmpfloat (vessel->water_g, ==, 362.3);
  wb_record_free (vessel);
}

/* Each slip is told at its field, on its step, and nothing is written. */
static void
test_refused (Bench         *bench,
              gconstpointer  data)
{
  gint64 before = wb_app_notebook_get_last_entry (test_notebook (bench->window));

  /* Without a name it does not go on. */
  click (bench, "next");
  g_assert_true (is_at (bench, "what"));
  type (bench, "name", "Quern");
  click (bench, "next");
  click (bench, "next");
  /* Vessel and water, but nobody knows what the vessel weighs. */
  weigh_together (bench, "600");
  click (bench, "next");
  g_assert_true (is_at (bench, "water"));
  click (bench, "back");
  type (bench, "tare_g", "650");
  click (bench, "next");
  click (bench, "next");
  g_assert_true (is_at (bench, "water"));
  weigh_together (bench, "1000");
  click (bench, "next");
  type (bench, "inner_diameter_mm", "60");
  type (bench, "base_diameter_mm", "400");
  click (bench, "next");
  click (bench, "next");
  g_assert_true (is_at (bench, "across"));
  g_assert_true (test_says (bench->dialog, "400.0\302\240mm here and 60.0\302\240mm at the fill line cannot be one vessel. "
                                           "Measure both again, inside the wall."));
  g_assert_cmpint (wb_app_notebook_get_last_entry (test_notebook (bench->window)), ==, before);
}

/* Escape drops nothing that was typed before the person agrees. */
static void
test_escape (Bench         *bench,
             gconstpointer  data)
{
  type (bench, "name", "Quern");
  gtk_window_close (GTK_WINDOW (bench->dialog));
  answer (GTK_RESPONSE_CANCEL);
  g_assert_true (is_open (NULL));
  g_assert_true (is_at (bench, "what"));
  gtk_window_close (GTK_WINDOW (bench->dialog));
  answer (GTK_RESPONSE_ACCEPT);
  test_wait (is_closed, NULL);
}

static void
test_caution (Bench         *bench,
              gconstpointer  data)
{
  GtkWidget *step = gtk_stack_get_visible_child (GTK_STACK (test_child (bench->dialog, "steps")));
  WbRecordForm *form = WB_RECORD_FORM (test_find (step, WB_TYPE_RECORD_FORM));
  GtkWidget *origin = test_find (wb_record_form_get_field (form, "origin"), GTK_TYPE_DROP_DOWN);

  gtk_drop_down_set_selected (GTK_DROP_DOWN (origin), 1 + WB_ORIGIN_DRINKING_GLASS);
  g_assert_true (test_says (step, "A drinking glass is not made for the heat of a flame: it can crack and spill burning wax. "
                                  "Use ware made for candles."));
}

#define ADD(path, func) g_test_add ("/views/measure/" path, Bench, NULL, bench_set_up, func, bench_tear_down)

/* Who goes on in the form finds there what was typed: nothing is asked, nothing is lost. */
static void
test_instead (Bench         *bench,
              gconstpointer  data)
{
  WbRecordForm *form = WB_RECORD_FORM (test_part (bench->window, "form"));
  WbVessel *vessel;

  type (bench, "name", "Quern");
  click (bench, "next");
  type (bench, "tare_g", "250");
  click (bench, "next");
  weigh_together (bench, "612.3");
  click (bench, "instead");
  test_wait (is_closed, NULL);
  g_assert_false (has_question (NULL));
  vessel = wb_record_form_dup_record (form);
  g_assert_cmpstr (vessel->name, ==, "Quern");
  g_assert_cmpfloat (vessel->tare_g, ==, 250);
  g_assert_cmpfloat_with_epsilon (vessel->water_g, 362.3, 1e-9);
  g_assert_true (wb_record_form_get_touched (form));
  g_assert_true (test_enabled (bench->window, "page.save"));
  wb_record_free (vessel);
}

void
test_measure_add (void)
{
  ADD ("enter-goes-from-field-to-field", test_enter);
  ADD ("from-the-empty-vessel-to-the-record", test_whole_way);
  ADD ("two-volumes-that-do-not-agree-are-asked-about", test_doubt);
  ADD ("what-cannot-be-is-told-where-it-was-typed", test_refused);
  ADD ("escape-asks", test_escape);
  ADD ("the-form-instead-keeps-what-was-typed", test_instead);
  ADD ("a-drinking-glass-has-its-caution", test_caution);
}
