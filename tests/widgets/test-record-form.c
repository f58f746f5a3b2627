/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-widgets.h"

#include "wb-material.h"
#include "wb-reading.h"
#include "wb-record-field.h"
#include "wb-record-form.h"
#include "wb-record-types.h"
#include "wb-sample.h"

#include <math.h>

static void
type (GtkWidget  *form,
      const char *name,
      const char *text)
{
  GtkWidget *field = wb_record_form_get_field (WB_RECORD_FORM (form), name);

  g_assert_nonnull (field);
  gtk_editable_set_text (GTK_EDITABLE (test_find (field, GTK_TYPE_ENTRY)), text);
}

static GtkWidget *
form_new (gpointer record)
{
  GtkWidget *form = g_object_ref_sink (wb_record_form_new ());

  wb_record_form_set_record (WB_RECORD_FORM (form), record);
  return form;
}

static void
test_every_type (void)
{
  /* Each field with a label has a control, and each control a name. */
  for (guint t = 0; wb_record_types ()[t] != NULL; t++)
    {
      const WbRecordType *of = wb_record_types ()[t];
      WbRecord *record = wb_record_new (of);
      GtkWidget *form = form_new (record);
      gpointer copy = wb_record_form_dup_record (WB_RECORD_FORM (form));

      g_test_message ("%s", of->name);
      for (guint i = 0; i < of->n_fields; i++)
        if (of->fields[i].label != NULL && of->fields[i].type != WB_FIELD_INSTANT && of->fields[i].type != WB_FIELD_UUID)
          g_assert_nonnull (wb_record_form_get_field (WB_RECORD_FORM (form), of->fields[i].name));
      g_assert_true (wb_record_equal (record, copy));
      g_assert_false (wb_record_form_get_touched (WB_RECORD_FORM (form)));
      wb_record_free (copy);
      wb_record_free (record);
      g_assert_finalize_object (form);
    }
}

static int
measure_height (GtkWidget *widget)
{
  int height;

  gtk_widget_measure (widget, GTK_ORIENTATION_VERTICAL, 520, NULL, &height, NULL, NULL);
  return height;
}

/* Words of what is wrong come and go where a line is kept for them: no field below moves under the hand. */
static void
test_nothing_moves (void)
{
  WbVessel *vessel = wb_record_new (&wb_vessel_type);
  GtkWidget *form = form_new (vessel);
  int height = measure_height (form);

  type (form, "inner_diameter_mm", "wide");
  type (form, "water_c", "warm");
  g_assert_false (wb_record_form_check (WB_RECORD_FORM (form)));
  g_assert_nonnull (wb_record_form_get_problem (WB_RECORD_FORM (form), "inner_diameter_mm"));
  g_assert_nonnull (wb_record_form_get_problem (WB_RECORD_FORM (form), "name"));
  g_assert_cmpint (measure_height (form), ==, height);
  type (form, "inner_diameter_mm", "76");
  g_assert_null (wb_record_form_get_problem (WB_RECORD_FORM (form), "inner_diameter_mm"));
  g_assert_cmpint (measure_height (form), ==, height);
  wb_record_free (vessel);
  g_assert_finalize_object (form);
}

static void
test_values_come_back (void)
{
  WbVessel *vessel = wb_record_new (&wb_vessel_type);
  GtkWidget *form = form_new (vessel);
  WbVessel *out;

  type (form, "name", "  Tern ");
  type (form, "inner_diameter_mm", "2 1/8\"");
  type (form, "tare_g", "0,25 kg");
  type (form, "water_c", "68 F");
  g_assert_true (wb_record_form_check (WB_RECORD_FORM (form)));
  out = wb_record_form_dup_record (WB_RECORD_FORM (form));
  g_assert_cmpstr (out->name, ==, "Tern");
  g_assert_cmpfloat_with_epsilon (out->inner_diameter_mm, 53.975, 1e-9);
  g_assert_cmpfloat_with_epsilon (out->tare_g, 250.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (out->water_c, 20.0, 1e-9);
  g_assert_true (isnan (out->wall_mm));
  g_assert_cmpint (out->shape, ==, -1);
  wb_record_free (out);
  wb_record_free (vessel);
  g_assert_finalize_object (form);
}

static void
test_rules_at_fields (void)
{
  WbVessel *vessel = wb_record_new (&wb_vessel_type);
  GtkWidget *form = form_new (vessel);
  g_autofree char *long_name = g_strnfill (10000, 'x');
  WbVessel *out;

  g_assert_false (wb_record_form_check (WB_RECORD_FORM (form)));
  g_assert_nonnull (wb_record_form_get_problem (WB_RECORD_FORM (form), "name"));
  g_assert_nonnull (wb_record_form_get_problem (WB_RECORD_FORM (form), "inner_diameter_mm"));
  g_assert_null (wb_record_form_get_problem (WB_RECORD_FORM (form), "wall_mm"));

  type (form, "name", long_name);
  type (form, "inner_diameter_mm", "7 km");
  g_assert_false (wb_record_form_check (WB_RECORD_FORM (form)));
  g_assert_nonnull (strstr (wb_record_form_get_problem (WB_RECORD_FORM (form), "name"), "10000"));
  /* Nothing typed is lost. */
  out = wb_record_form_dup_record (WB_RECORD_FORM (form));
  g_assert_cmpstr (out->name, ==, long_name);
  wb_record_free (out);

  type (form, "name", "Tern");
  g_assert_null (wb_record_form_get_problem (WB_RECORD_FORM (form), "name"));
  g_assert_true (wb_record_form_set_problem (WB_RECORD_FORM (form), "name", "there is one of that name"));
  g_assert_cmpstr (wb_record_form_get_problem (WB_RECORD_FORM (form), "name"), ==, "there is one of that name");
  g_assert_false (wb_record_form_set_problem (WB_RECORD_FORM (form), "no_such_field", "x"));
  wb_record_free (vessel);
  g_assert_finalize_object (form);
}

static void
test_references (void)
{
  static const gint64 ids[] = { 7, 9 };
  static const char *const titles[] = { "Meadow soy", "Cliff blend", NULL };
  static const char *const hidden[] = { "wick", NULL };
  WbWickGuide *guide = wb_record_new (&wb_wick_guide_type);
  GtkWidget *form = g_object_ref_sink (wb_record_form_new ());
  GtkWidget *drop;
  WbWickGuide *out;

  guide->wick = 3;
  guide->wax = 9;
  wb_record_form_set_hidden (WB_RECORD_FORM (form), hidden);
  wb_record_form_set_record (WB_RECORD_FORM (form), guide);
  g_assert_null (wb_record_form_get_field (WB_RECORD_FORM (form), "wick"));
  wb_record_form_set_choices (WB_RECORD_FORM (form), "wax", ids, titles);
  drop = test_find (wb_record_form_get_field (WB_RECORD_FORM (form), "wax"), GTK_TYPE_DROP_DOWN);
  g_assert_cmpuint (gtk_drop_down_get_selected (GTK_DROP_DOWN (drop)), ==, 2);
  g_assert_false (wb_record_form_get_touched (WB_RECORD_FORM (form)));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (drop), 1);
  out = wb_record_form_dup_record (WB_RECORD_FORM (form));
  g_assert_cmpint (out->wax, ==, 7);
  g_assert_cmpint (out->wick, ==, 3);
  wb_record_free (out);
  wb_record_free (guide);
  g_assert_finalize_object (form);
}

/* A number that stands for a word is shown and chosen as the word; not said is no number. */
static void
test_rating (void)
{
  static const struct { double stored; guint place; } cases[] = { { NAN, 0 }, { 1, 1 }, { 4, 4 }, { 5, 5 } };
  WbInspection *look = wb_record_new (&wb_inspection_type);
  GtkWidget *form = g_object_ref_sink (wb_record_form_new ());

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      GtkWidget *drop;
      WbInspection *out;

      look->cold_throw = cases[i].stored;
      wb_record_form_set_record (WB_RECORD_FORM (form), look);
      drop = test_find (wb_record_form_get_field (WB_RECORD_FORM (form), "cold_throw"), GTK_TYPE_DROP_DOWN);
      g_assert_nonnull (drop);
      g_assert_cmpuint (g_list_model_get_n_items (gtk_drop_down_get_model (GTK_DROP_DOWN (drop))), ==, 6);
      g_assert_cmpuint (gtk_drop_down_get_selected (GTK_DROP_DOWN (drop)), ==, cases[i].place);
      if (cases[i].place > 0)
        g_assert_cmpstr (gtk_string_object_get_string (gtk_drop_down_get_selected_item (GTK_DROP_DOWN (drop))), ==,
                         wb_throw_words[cases[i].place].label);
      gtk_drop_down_set_selected (GTK_DROP_DOWN (drop), cases[G_N_ELEMENTS (cases) - 1 - i].place);
      out = wb_record_form_dup_record (WB_RECORD_FORM (form));
      if (isnan (cases[G_N_ELEMENTS (cases) - 1 - i].stored))
        g_assert_true (isnan (out->cold_throw));
      else
        g_assert_cmpfloat (out->cold_throw, ==, cases[G_N_ELEMENTS (cases) - 1 - i].stored);
      wb_record_free (out);
    }
  wb_record_free (look);
  g_assert_finalize_object (form);
}

static void
test_us_units (void)
{
  WbVessel *vessel = wb_record_new (&wb_vessel_type);
  GtkWidget *form = g_object_ref_sink (wb_record_form_new ());
  WbVessel *out;

  vessel->inner_diameter_mm = 76.0;
  wb_record_form_set_us_units (WB_RECORD_FORM (form), TRUE);
  wb_record_form_set_record (WB_RECORD_FORM (form), vessel);
  /* The rounded inches on the screen do not become the diameter. */
  type (form, "name", "Tern");
  out = wb_record_form_dup_record (WB_RECORD_FORM (form));
  g_assert_cmpfloat (out->inner_diameter_mm, ==, 76.0);
  wb_record_free (out);
  type (form, "inner_diameter_mm", "3");
  out = wb_record_form_dup_record (WB_RECORD_FORM (form));
  g_assert_cmpfloat_with_epsilon (out->inner_diameter_mm, 76.2, 1e-9);
  wb_record_free (out);
  wb_record_free (vessel);
  g_assert_finalize_object (form);
}

/* What was on its way is stored, with a number; what was typed in the meantime, right or wrong, is still to be saved. */
static void
test_stored (void)
{
  WbVessel *vessel = wb_record_new (&wb_vessel_type);
  GtkWidget *form = form_new (vessel);
  GtkWidget *field = wb_record_form_get_field (WB_RECORD_FORM (form), "name");
  g_autoptr (WbRecord) sent = NULL;
  WbVessel *out;

  type (form, "name", "Tern");
  type (form, "inner_diameter_mm", "76");
  sent = wb_record_form_dup_record (WB_RECORD_FORM (form));
  wb_record_form_mark_sent (WB_RECORD_FORM (form));
  type (form, "inner_diameter_mm", "80");
  type (form, "wall_mm", "thick");
  sent->id = 7;
  sent->entry = 3;
  wb_record_form_take_stored (WB_RECORD_FORM (form), sent);
  g_assert_true (wb_record_form_get_touched (WB_RECORD_FORM (form)));
  g_assert_true (field == wb_record_form_get_field (WB_RECORD_FORM (form), "name"));
  g_assert_false (wb_record_field_get_touched (WB_RECORD_FIELD (field)));
  g_assert_false (wb_record_form_check (WB_RECORD_FORM (form)));
  type (form, "wall_mm", "3");
  out = wb_record_form_dup_record (WB_RECORD_FORM (form));
  g_assert_cmpint (out->record.id, ==, 7);
  g_assert_cmpint (out->record.entry, ==, 3);
  g_assert_cmpstr (out->name, ==, "Tern");
  g_assert_cmpfloat_with_epsilon (out->inner_diameter_mm, 80.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (out->wall_mm, 3.0, 1e-9);
  wb_record_free (out);

  /* Shown anew in the meantime, with what was known then: it is what was stored all the same. */
  wb_record_form_mark_sent (WB_RECORD_FORM (form));
  wb_record_form_set_record (WB_RECORD_FORM (form), vessel);
  wb_record_form_take_stored (WB_RECORD_FORM (form), sent);
  g_assert_false (wb_record_form_get_touched (WB_RECORD_FORM (form)));
  out = wb_record_form_dup_record (WB_RECORD_FORM (form));
  g_assert_cmpstr (out->name, ==, "Tern");
  wb_record_free (out);
  wb_record_free (vessel);
  g_assert_finalize_object (form);
}

static gboolean
is_open (GtkWidget *form)
{
  return gtk_expander_get_expanded (GTK_EXPANDER (test_find (form, GTK_TYPE_EXPANDER)));
}

/* What is rarely stated is folded away, but never what is filled in, or wrong. */
static void
test_more (void)
{
  static const char *const rare[] = { "mouth_mm", "note", NULL };
  WbVessel *vessel = wb_record_new (&wb_vessel_type), *filled = wb_record_new (&wb_vessel_type);
  GtkWidget *form = g_object_ref_sink (wb_record_form_new ());
  GtkWidget *more = test_find (form, GTK_TYPE_EXPANDER);
  g_autoptr (GKeyFile) file = g_key_file_new ();

  vessel->record.id = 1;
  vessel->name = g_strdup ("Tern");
  vessel->inner_diameter_mm = 76;
  filled->record.id = 2;
  filled->note = g_strdup ("Chipped");
  wb_record_form_set_record (WB_RECORD_FORM (form), vessel);
  g_assert_false (gtk_widget_get_visible (more));
  wb_record_form_set_more (WB_RECORD_FORM (form), rare);
  wb_record_form_set_record (WB_RECORD_FORM (form), vessel);
  g_assert_true (gtk_widget_get_visible (more));
  g_assert_false (is_open (form));
  wb_record_form_set_record (WB_RECORD_FORM (form), filled);
  g_assert_true (is_open (form));
  g_assert_true (gtk_widget_is_ancestor (wb_record_form_get_field (WB_RECORD_FORM (form), "mouth_mm"), more));
  g_assert_false (gtk_widget_is_ancestor (wb_record_form_get_field (WB_RECORD_FORM (form), "name"), more));
  wb_record_form_set_record (WB_RECORD_FORM (form), vessel);
  g_assert_false (is_open (form));
  /* closed over a wrong value it opens for it */
  type (form, "mouth_mm", "wide");
  g_assert_false (is_open (form));
  g_assert_false (wb_record_form_check (WB_RECORD_FORM (form)));
  g_assert_true (is_open (form));
  /* what comes back of before, too */
  wb_record_form_keep (WB_RECORD_FORM (form), file, "form");
  wb_record_form_set_record (WB_RECORD_FORM (form), filled);
  wb_record_form_set_record (WB_RECORD_FORM (form), vessel);
  g_assert_false (is_open (form));
  wb_record_form_put_back (WB_RECORD_FORM (form), file, "form");
  g_assert_true (is_open (form));
  wb_record_form_set_record (WB_RECORD_FORM (form), filled);
  wb_record_form_set_record (WB_RECORD_FORM (form), vessel);
  g_assert_true (wb_record_form_set_problem (WB_RECORD_FORM (form), "mouth_mm", "Wider than the vessel"));
  g_assert_true (is_open (form));
  wb_record_free (vessel);
  wb_record_free (filled);
  g_assert_finalize_object (form);
}

/* Words of a list, a rating, a tick: back as they were chosen. */
static void
test_choices_come_back (void)
{
  WbWax *wax;
  g_autoptr (GKeyFile) file = g_key_file_new ();
  WbRecord *record = wb_record_new (&wb_wax_type);
  GtkWidget *form = form_new (record);
  GtkWidget *kind = test_find (wb_record_form_get_field (WB_RECORD_FORM (form), "kind"), GTK_TYPE_DROP_DOWN);
  GtkWidget *tick = test_find (wb_record_form_get_field (WB_RECORD_FORM (form), "crystallises"), GTK_TYPE_CHECK_BUTTON);

  gtk_drop_down_set_selected (GTK_DROP_DOWN (kind), 2);
  gtk_check_button_set_active (GTK_CHECK_BUTTON (tick), TRUE);
  wb_record_form_keep (WB_RECORD_FORM (form), file, "form");
  g_assert_finalize_object (form);
  form = form_new (record);
  wb_record_form_put_back (WB_RECORD_FORM (form), file, "form");
  g_assert_true (wb_record_form_get_touched (WB_RECORD_FORM (form)));
  wax = wb_record_form_dup_record (WB_RECORD_FORM (form));
  g_assert_cmpint (wax->kind, ==, 1);
  g_assert_true (wax->crystallises);
  wb_record_free (wax);
  wb_record_free (record);
  g_assert_finalize_object (form);
}

void
test_record_form_add (void)
{
  g_test_add_func ("/widgets/record-form/what-is-typed-during-a-save-is-not-saved", test_stored);
  g_test_add_func ("/widgets/record-form/every-record-type-makes-a-form", test_every_type);
  g_test_add_func ("/widgets/record-form/what-is-typed-comes-back-in-stored-units", test_values_come_back);
  g_test_add_func ("/widgets/record-form/words-of-what-is-wrong-move-no-field", test_nothing_moves);
  g_test_add_func ("/widgets/record-form/each-broken-rule-stands-at-its-field", test_rules_at_fields);
  g_test_add_func ("/widgets/record-form/a-reference-is-chosen-by-title", test_references);
  g_test_add_func ("/widgets/record-form/a-rating-is-chosen-by-its-word", test_rating);
  g_test_add_func ("/widgets/record-form/an-untouched-value-is-not-rounded", test_us_units);
  g_test_add_func ("/widgets/record-form/what-is-rare-is-folded-unless-filled-or-wrong", test_more);
  g_test_add_func ("/widgets/record-form/choices-and-ticks-come-back", test_choices_come_back);
}
