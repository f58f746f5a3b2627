/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "pour-page.h"

#include "wb-pour-steps.h"
#include "wb-record-form.h"

#include <string.h>

/* Slips of an evening at the pot, told before they stand in the record. */

/*
 * 413.1 g of oil where the sheet says 220.9 on 2761.5 g of wax, as near to twice as a second drop from the bottle: 14.96 % of the wax, which
 * holds 10. Said at the field while it is typed, asked about at the mark, and a deviation afterwards.
 */
static void
test_too_much_oil (void)
{
  gint64 experiment;
  WbWindow *window = pour_open ("too-much-oil.wickbench", "Tern", &experiment);
  g_autofree char *words = NULL;
  const char *told;

  gtk_widget_activate_action (GTK_WIDGET (window), "page.batch", "u", 1);
  test_wait (pour_is_ready, window);
  pour_type (window, "actual_oil_g", "220.9");
  g_assert_null (wb_record_form_get_caution (pour_find_form (pour_get_sheet (window), "actual_oil_g"), "actual_oil_g"));
  pour_type (window, "actual_oil_g", "413.1");
  told = wb_record_form_get_caution (pour_find_form (pour_get_sheet (window), "actual_oil_g"), "actual_oil_g");
  g_assert_nonnull (told);
  g_assert_nonnull (strstr (told, "Fragrance oil, weighed: 413.1\302\240g, planned 220.9\302\240g."));
  g_assert_nonnull (strstr (told, "14.96\302\240% of the wax, more than this wax holds by its supplier, 10\302\240%."));
  g_assert_nonnull (strstr (told, "Do not pour this melt"));
  /* wax that was weighed ten times too large is said at its own field */
  pour_type (window, "actual_wax_g", "27615");
  told = wb_record_form_get_caution (pour_find_form (pour_get_sheet (window), "actual_wax_g"), "actual_wax_g");
  g_assert_nonnull (strstr (told, "Wax, weighed: 27615.0\302\240g, planned 2761.5\302\240g."));
  pour_type (window, "actual_wax_g", "2761.5");
  g_assert_null (wb_record_form_get_caution (pour_find_form (pour_get_sheet (window), "actual_wax_g"), "actual_wax_g"));
  gtk_widget_activate_action (GTK_WIDGET (window), "page.mark", NULL);
  g_assert_nonnull (pour_find_question ());
  g_object_get (pour_find_question (), "secondary-text", &words, NULL);
  g_assert_true (g_str_has_prefix (words, "Fragrance oil, weighed: 413.1\302\240g, planned 220.9\302\240g."));
  g_assert_nonnull (strstr (words, "Load as weighed: 14.96\302\240% of the wax, more than this wax holds by its supplier, 10\302\240%.\n"
                                   "Do not pour this melt"));
  gtk_dialog_response (GTK_DIALOG (pour_find_question ()), GTK_RESPONSE_ACCEPT);
  test_wait (pour_is_poured, window);
  g_assert_true (test_says (pour_get_sheet (window), "Fragrance oil, weighed: 413.1\302\240g, planned 220.9\302\240g\n"
                                                     "Load as weighed: 14.96\302\240% of the wax, planned 8\302\240%\n"
                                                     "Load as weighed: 14.96\302\240% of the wax, more than this wax holds by its supplier, 10\302\240%"));
  test_window_destroy (window);
}

void
test_pour_slips_add (void)
{
  g_test_add_func ("/views/pour/too-much-oil-is-said-at-once", test_too_much_oil);
}
