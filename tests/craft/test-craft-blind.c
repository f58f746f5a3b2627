/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <string.h>

#include "wb-craft-blind.h"

static void
test_upside_down (void)
{
  static const guint two_faced[] = { 169, 691, 116, 911, 199, 661, 160, 100, 981, 186 };
  static const guint plain[] = { 101, 111, 181, 808, 888, 609, 906, 619, 916, 123, 417, 269, 699 + 3, 345, 777 };

  for (guint i = 0; i < G_N_ELEMENTS (two_faced); i++)
    g_assert_true (wb_craft_blind_is_two_faced (two_faced[i]));
  for (guint i = 0; i < G_N_ELEMENTS (plain); i++)
    g_assert_false (wb_craft_blind_is_two_faced (plain[i]));
}

/* A hundred samples: codes of three digits, each once, none two-faced; the same for the same seed, others for another. */
static void
test_draw (void)
{
  guint codes[100], again[100], other[100];
  gboolean seen[1000] = { FALSE };

  g_assert_cmpuint (wb_craft_blind_draw (5, NULL, NULL, 100, codes), ==, 100);
  g_assert_cmpuint (wb_craft_blind_draw (5, NULL, NULL, 100, again), ==, 100);
  g_assert_cmpuint (wb_craft_blind_draw (6, NULL, NULL, 100, other), ==, 100);
  g_assert_cmpmem (codes, sizeof codes, again, sizeof again);
  g_assert_true (memcmp (codes, other, sizeof codes) != 0);
  for (guint i = 0; i < 100; i++)
    {
      g_assert_cmpuint (codes[i], >=, 100);
      g_assert_cmpuint (codes[i], <=, 999);
      g_assert_false (seen[codes[i]]);
      g_assert_false (wb_craft_blind_is_two_faced (codes[i]));
      seen[codes[i]] = TRUE;
    }
}

/* What is taken never comes; two-faced codes come behind the plain ones, and those used once before come last; then there are none. */
static void
test_order_of_last_resort (void)
{
  g_autoptr (GArray) taken = g_array_new (FALSE, FALSE, sizeof (guint)), old = g_array_new (FALSE, FALSE, sizeof (guint));
  guint codes[1000], n, first_two_faced = 0, first_old = 0;

  for (guint code = 100; code < 200; code++)
    g_array_append_val (taken, code);
  for (guint code = 200; code < 300; code++)
    g_array_append_val (old, code);
  n = wb_craft_blind_draw (1, taken, old, G_N_ELEMENTS (codes), codes);
  g_assert_cmpuint (n, ==, 800);
  for (guint i = 0; i < n; i++)
    {
      gboolean is_old = codes[i] >= 200 && codes[i] < 300;

      g_assert_cmpuint (codes[i], >=, 200);
      if (first_old == 0 && is_old)
        first_old = i;
      if (first_two_faced == 0 && wb_craft_blind_is_two_faced (codes[i]))
        first_two_faced = i;
      g_assert_true (is_old == (first_old > 0));
      g_assert_true (first_old > 0 || wb_craft_blind_is_two_faced (codes[i]) == (first_two_faced > 0));
    }
  g_assert_cmpuint (first_old, ==, 700);
  g_assert_cmpuint (first_two_faced, >, 600);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/craft/blind/some-codes-read-as-another-upside-down", test_upside_down);
  g_test_add_func ("/craft/blind/codes-are-drawn-by-the-seed", test_draw);
  g_test_add_func ("/craft/blind/what-is-left-comes-last", test_order_of_last_resort);
  return g_test_run ();
}
