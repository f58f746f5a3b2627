/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-craft.h"
#include "wb-craft-wax-check.h"

#include <math.h>

typedef struct
{
  double      melt_c, heat_c, add_c, pour_c;
  gboolean    scented;
  const char *field; /* NULL: nothing is said */
} Case;

static const Case cases[] = {
  { 52, 80, 70, 60, TRUE, NULL }, { 52, 80, 80, 80, TRUE, NULL }, { 52, 80, 70, 45, TRUE, NULL },
  /* what is not known is not doubted */
  { NAN, NAN, NAN, NAN, TRUE, NULL }, { NAN, NAN, 75, 95, TRUE, NULL }, { NAN, 80, NAN, NAN, TRUE, NULL },
  { 52, 50, NAN, NAN, FALSE, "heat_c" }, { 52, 80, 30, 60, TRUE, "add_c" }, { 52, 80, 30, 60, FALSE, NULL },
  { 52, 80, 85, 60, TRUE, "add_c" }, { 52, 80, 85, 60, FALSE, NULL }, { NAN, 80, 75, 95, TRUE, "pour_c" },
};

static void
test_cases (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      WbWax *wax = wb_record_new (&wb_wax_type);
      const char *field = "none";
      g_autofree char *doubt = NULL;
      WbCraftWaxHeat heat;

      wax->heat_c = cases[i].heat_c;
      wax->add_c = cases[i].add_c;
      wax->pour_c = cases[i].pour_c;
      heat = wb_craft_wax_heat_of (wax);
      doubt = wb_craft_wax_dup_doubt (&heat, cases[i].melt_c, cases[i].scented, FALSE, &field);
      g_test_message ("case %u: %s", i, doubt);
      g_assert_cmpstr (field, ==, cases[i].field);
      g_assert_true ((doubt != NULL) == (field != NULL));
      g_assert_true (field == NULL || wb_record_type_find_field (&wb_wax_type, field) != NULL);
      wb_record_free (wax);
    }
}

/* 95 °C are 203 °F, 80 °C 176 °F. */
static void
test_units (void)
{
  const WbCraftWaxHeat heat = { 80, 75, 95 };
  g_autofree char *metric = wb_craft_wax_dup_doubt (&heat, NAN, TRUE, FALSE, NULL);
  g_autofree char *us = wb_craft_wax_dup_doubt (&heat, NAN, TRUE, TRUE, NULL);

  g_assert_true (strstr (metric, "95") != NULL && strstr (metric, "80") != NULL);
  g_assert_true (strstr (us, "203") != NULL && strstr (us, "176") != NULL);
}

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  g_test_add_func ("/craft/wax-check/each-temperature-is-doubted-at-its-field", test_cases);
  g_test_add_func ("/craft/wax-check/temperatures-are-told-as-they-are-read", test_units);
  return g_test_run ();
}
