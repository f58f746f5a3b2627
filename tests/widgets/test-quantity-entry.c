/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-widgets.h"

#include "wb-quantity-entry.h"

#include <math.h>

static void
type (WbQuantityEntry *entry,
      const char      *text)
{
  gtk_editable_set_text (GTK_EDITABLE (test_find (GTK_WIDGET (entry), GTK_TYPE_ENTRY)), text);
}

static void
on_count_cb (guint *n)
{
  (*n)++;
}

static WbQuantityEntry *
length_new (void)
{
  return WB_QUANTITY_ENTRY (g_object_ref_sink (wb_quantity_entry_new (WB_QUANTITY_LENGTH, WB_UNIT_MM)));
}

/* One inch is 25.4 mm exactly (international yard and pound agreement, 1959). */
static void
test_units (void)
{
  static const struct { const char *text; double value; } cases[] = {
    { "54", 54.0 }, { "54 mm", 54.0 }, { "5,4 cm", 54.0 }, { "2 1/8\"", 53.975 }, { "2.5 in", 63.5 }, { " 7 ", 7.0 },
  };
  WbQuantityEntry *entry = length_new ();

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_test_message ("%s", cases[i].text);
      type (entry, cases[i].text);
      g_assert_cmpfloat_with_epsilon (wb_quantity_entry_get_value (entry), cases[i].value, 1e-9);
      g_assert_true (wb_quantity_entry_check (entry));
      g_assert_null (wb_quantity_entry_get_problem (entry));
      g_assert_cmpstr (wb_quantity_entry_get_text (entry), ==, cases[i].text);
    }
  g_assert_finalize_object (entry);
}

static void
test_wrong_text_stays (void)
{
  static const char *const cases[] = { "abc", "54 kg", "1,000.5", "180 F", "2 1/0\"", "--3", "5 4" };
  WbQuantityEntry *entry = length_new ();
  GtkWidget *inner = test_find (GTK_WIDGET (entry), GTK_TYPE_ENTRY);

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_test_message ("%s", cases[i]);
      type (entry, cases[i]);
      g_assert_true (isnan (wb_quantity_entry_get_value (entry)));
      g_assert_false (wb_quantity_entry_check (entry));
      g_assert_nonnull (wb_quantity_entry_get_problem (entry));
      g_assert_cmpstr (wb_quantity_entry_get_text (entry), ==, cases[i]);
      gtk_test_accessible_assert_state (inner, GTK_ACCESSIBLE_STATE_INVALID, GTK_ACCESSIBLE_INVALID_TRUE);
    }
  type (entry, "12");
  g_assert_null (wb_quantity_entry_get_problem (entry));
  gtk_test_accessible_assert_state (inner, GTK_ACCESSIBLE_STATE_INVALID, GTK_ACCESSIBLE_INVALID_FALSE);
  g_assert_finalize_object (entry);
}

static void
test_words_wait (void)
{
  WbQuantityEntry *entry = length_new ();

  type (entry, "5 ");
  type (entry, "5 c");
  g_assert_null (wb_quantity_entry_get_problem (entry));
  type (entry, "5 cm");
  g_assert_cmpfloat (wb_quantity_entry_get_value (entry), ==, 50.0);
  g_assert_finalize_object (entry);
}

static void
test_range (void)
{
  WbQuantityEntry *entry = length_new ();

  wb_quantity_entry_set_range (entry, 20.0, 400.0);
  type (entry, "19.9");
  g_assert_false (wb_quantity_entry_check (entry));
  g_assert_nonnull (strstr (wb_quantity_entry_get_problem (entry), "20"));
  g_assert_nonnull (strstr (wb_quantity_entry_get_problem (entry), "400"));
  type (entry, "40 cm");
  g_assert_true (wb_quantity_entry_check (entry));
  type (entry, "");
  g_assert_true (wb_quantity_entry_check (entry));
  wb_quantity_entry_set_required (entry, TRUE);
  g_assert_false (wb_quantity_entry_check (entry));
  g_assert_finalize_object (entry);
}

static void
test_integer (void)
{
  WbQuantityEntry *entry = WB_QUANTITY_ENTRY (g_object_ref_sink (wb_quantity_entry_new (WB_QUANTITY_PLAIN, WB_UNIT_NONE)));

  wb_quantity_entry_set_integer (entry, TRUE);
  type (entry, "3");
  g_assert_true (wb_quantity_entry_check (entry));
  type (entry, "3.5");
  g_assert_false (wb_quantity_entry_check (entry));
  g_assert_finalize_object (entry);
}

static void
test_set_value_whole (void)
{
  WbQuantityEntry *entry = WB_QUANTITY_ENTRY (g_object_ref_sink (wb_quantity_entry_new (WB_QUANTITY_LENGTH, WB_UNIT_INCH)));
  guint typed = 0;

  g_signal_connect_swapped (entry, "changed", G_CALLBACK (on_count_cb), &typed);
  /* 400 mm are 15.748... in: the shown text is rounded beyond the range, the value is not. */
  wb_quantity_entry_set_range (entry, 20.0, 400.0);
  wb_quantity_entry_set_value (entry, 400.0);
  g_assert_cmpfloat (wb_quantity_entry_get_value (entry), ==, 400.0);
  g_assert_true (wb_quantity_entry_check (entry));
  g_assert_false (wb_quantity_entry_get_touched (entry));
  wb_quantity_entry_set_value (entry, NAN);
  g_assert_cmpstr (wb_quantity_entry_get_text (entry), ==, "");
  g_assert_cmpuint (typed, ==, 0);
  type (entry, "3");
  g_assert_cmpuint (typed, ==, 1);
  g_assert_true (wb_quantity_entry_get_touched (entry));
  g_assert_cmpfloat_with_epsilon (wb_quantity_entry_get_value (entry), 76.2, 1e-9);
  g_assert_finalize_object (entry);
}

static void
test_unit_changes (void)
{
  WbQuantityEntry *entry = length_new ();

  wb_quantity_entry_set_value (entry, 50.8);
  wb_quantity_entry_set_quantity (entry, WB_QUANTITY_LENGTH, WB_UNIT_INCH);
  g_assert_cmpfloat_with_epsilon (g_ascii_strtod (wb_quantity_entry_get_text (entry), NULL), 2.0, 1e-9);
  g_assert_cmpfloat (wb_quantity_entry_get_value (entry), ==, 50.8);
  /* What a person typed is never rewritten. */
  type (entry, "3");
  wb_quantity_entry_set_quantity (entry, WB_QUANTITY_LENGTH, WB_UNIT_MM);
  g_assert_cmpstr (wb_quantity_entry_get_text (entry), ==, "3");
  g_assert_cmpfloat (wb_quantity_entry_get_value (entry), ==, 3.0);
  g_assert_finalize_object (entry);
}

static void
test_name (void)
{
  WbQuantityEntry *entry = length_new ();

  wb_quantity_entry_set_label (entry, "Height of the wax");
  gtk_test_accessible_assert_property (test_find (GTK_WIDGET (entry), GTK_TYPE_ENTRY), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                       "Height of the wax, mm");
  g_assert_finalize_object (entry);
}

void
test_quantity_entry_add (void)
{
  g_test_add_func ("/widgets/quantity-entry/any-unit-of-the-quantity-is-read", test_units);
  g_test_add_func ("/widgets/quantity-entry/wrong-text-stays-with-its-rule", test_wrong_text_stays);
  g_test_add_func ("/widgets/quantity-entry/words-wait-until-the-field-is-left", test_words_wait);
  g_test_add_func ("/widgets/quantity-entry/the-range-is-told-in-the-shown-unit", test_range);
  g_test_add_func ("/widgets/quantity-entry/a-count-is-whole", test_integer);
  g_test_add_func ("/widgets/quantity-entry/a-set-value-stays-whole", test_set_value_whole);
  g_test_add_func ("/widgets/quantity-entry/another-unit-shows-the-same-value", test_unit_changes);
  g_test_add_func ("/widgets/quantity-entry/its-name-tells-the-unit", test_name);
}
