/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>
#include <string.h>

#include "wb-craft-batch.h"

/*
 * The sheet as its reader meets it: every line with an "=" is read back, done from left to right with decimal arithmetic on the
 * figures that are printed, and must come to the figure behind the "=", rounded.
 */

__extension__ typedef __int128 Wide;

/* Exact: num / den. */
typedef struct { Wide num, den; } Exact;

static Exact
read_number (const char *text,
             int        *places)
{
  Exact self = { 0, 1 };
  gboolean point = FALSE, digits = FALSE;

  *places = 0;
  for (; g_ascii_isdigit (*text) || (*text == '.' && !point); text++)
    if (*text == '.')
      point = TRUE;
    else
      {
        digits = TRUE;
        self.num = self.num * 10 + (*text - '0');
        self.den *= point ? 10 : 1;
        *places += point;
      }
  g_assert_true (digits);
  return self;
}

static gboolean
is_per_cent (const char *token)
{
  return strstr (token, "%") != NULL;
}

/* Left to right, as a pocket calculator does it. */
static Exact
work_out (const char *left)
{
  static const char *const signs[] = { " × ", " ÷ ", " + ", " − " };
  Exact sum = { 0, 1 };
  guint with = 2; /* 0 + first */

  while (left != NULL)
    {
      const char *next = NULL;
      guint next_sign = 0;
      g_autofree char *token = NULL;
      Exact value;
      int places;

      for (guint i = 0; i < G_N_ELEMENTS (signs); i++)
        {
          const char *at = strstr (left, signs[i]);

          if (at != NULL && (next == NULL || at < next))
            {
              next = at;
              next_sign = i;
            }
        }
      token = next != NULL ? g_strndup (left, next - left) : g_strdup (left);
      value = read_number (token, &places);
      if (is_per_cent (token))
        value.den *= 100;
      switch (with)
        {
        case 0: sum = (Exact) { sum.num * value.num, sum.den * value.den }; break;
        case 1: sum = (Exact) { sum.num * value.den, sum.den * value.num }; break;
        case 2: sum = (Exact) { sum.num * value.den + value.num * sum.den, sum.den * value.den }; break;
        default: sum = (Exact) { sum.num * value.den - value.num * sum.den, sum.den * value.den }; break;
        }
      with = next_sign;
      left = next != NULL ? next + strlen (signs[next_sign]) : NULL;
    }
  return sum;
}

/* Within half of the last digit, or of the balance's step where that is coarser; step: in units of 0.0001. */
static void
check_line (const char *line,
            gint64      step)
{
  const char *equals = g_strrstr (line, " = "), *begin;
  g_autofree char *left = NULL;
  Exact is, told;
  Wide difference, half_num, half_den = 1;
  gboolean adds;
  int places;

  if (equals == NULL)
    return;
  left = g_strndup (line, equals - line);
  begin = g_strrstr (left, ": ");
  is = work_out (begin != NULL ? begin + 2 : left);
  told = read_number (equals + strlen (" = "), &places);
  adds = strstr (left, " ÷ ") == NULL && !is_per_cent (left) && strstr (left, "g/cm³") == NULL && strstr (left, "of water") == NULL
         && strstr (left, "drop") == NULL;
  for (int i = 0; i < places; i++)
    half_den *= 10;
  half_num = 1;
  if (strstr (equals, "drop") == NULL && strstr (equals, "dye") == NULL && step * half_den > 10000)
    {
      half_num = step;
      half_den = 10000;
    }
  difference = is.num * told.den - told.num * is.den;
  difference = difference < 0 ? -difference : difference;
  /* a sum or a count of whole steps is exact */
  if (adds)
    half_num = 0;
  if (difference * 2 * half_den > half_num * is.den * told.den)
    g_error ("%s", line);
}

static double
uniform (double low,
         double high)
{
  return g_test_rand_double_range (low, high);
}

static double
maybe (double value)
{
  return g_test_rand_int_range (0, 2) != 0 ? value : NAN;
}

static WbVessel *
vessel_new (guint i)
{
  WbVessel *vessel = wb_record_new (&wb_vessel_type);

  vessel->name = g_strdup_printf ("Tern 4 × 5 = %u: wide", i);
  vessel->inner_diameter_mm = uniform (30, 200);
  vessel->base_diameter_mm = maybe (uniform (30, 200));
  vessel->wax_height_mm = uniform (20, 200);
  vessel->water_g = maybe (uniform (20, 5000));
  vessel->water_c = maybe (uniform (1, 60));
  return vessel;
}

static void
test_every_line (void)
{
  static const double steps[] = { 0, 0.0001, 0.01, 0.1, 1, 0.05, 0.25, 0.5, 2, 0.2, 28.3495 / 1000 };
  guint sheets = 0, lines = 0;

  for (guint turn = 0; turn < 6000; turn++)
    {
      guint n = (guint) g_test_rand_int_range (1, 4);
      WbCraftBatchLine kinds[3];
      WbVessel *vessels[3];
      WbWax *wax = wb_record_new (&wb_wax_type);
      double step = steps[g_test_rand_int_range (0, G_N_ELEMENTS (steps))];
      g_autoptr (GArray) parts = g_array_new (FALSE, FALSE, sizeof (WbCraftOilPart));
      g_autoptr (WbCraftBatchSheet) sheet = NULL;
      g_autoptr (GError) error = NULL;
      double first = uniform (0, 60), second = uniform (0, 40);
      WbCraftOilPart some[] = { { (char *) "Cedar", first }, { (char *) "Bergamot", second }, { (char *) "Rain", 100 - first - second } };
      WbCraftBatchInput input = {
        .lines = kinds, .n_lines = n,
        .load_pct = g_test_rand_int_range (0, 5) == 0 ? 0 : g_test_rand_int_range (0, 2) != 0 ? g_test_rand_int_range (1, 13) : uniform (0.5, 50),
        .load_basis = g_test_rand_int_range (0, 2) != 0 ? WB_BASIS_WAX : WB_BASIS_TOTAL,
        .overage_pct = g_test_rand_int_range (0, 3) == 0 ? 0 : uniform (0, 20),
        .hold_back_pct = g_test_rand_int_range (0, 3) == 0 ? 0 : uniform (0, 30),
        .resolution_g = step,
        .dye_pct = maybe (uniform (0, 2)), .dye_drops_per_kg = maybe (uniform (1, 60)), .drop_g = maybe (uniform (0.01, 0.1)),
        .additive_pct = maybe (uniform (0, 20)), .oil_parts = g_test_rand_int_range (0, 2) != 0 ? parts : NULL, .wax = wax,
        .specific_gravity = NAN,
      };

      wax->density = uniform (0.82, 1);
      for (guint i = 0; i < 3; i++)
        {
          vessels[i] = vessel_new (i);
          kinds[i] = (WbCraftBatchLine) { g_test_rand_int_range (0, 4) != 0 ? vessels[i] : NULL, (guint) g_test_rand_int_range (1, 40), maybe (uniform (20, 5000)) };
          if (kinds[i].vessel == NULL)
            kinds[i].fill_g = uniform (20, 5000);
          g_array_append_val (parts, some[i]);
        }
      sheet = wb_craft_batch_sheet_new (&input, &error);
      /* a coarse balance cannot weigh a little oil: that is refused in words */
      if (sheet == NULL)
        g_assert_nonnull (strstr (error->message, "coarse"));
      for (guint i = 0; sheet != NULL && i < sheet->sums->len; i++, lines++)
        check_line (g_ptr_array_index (sheet->sums, i), llround ((step > 0 ? step : 0.01) * 10000));
      sheets += sheet != NULL;
      for (guint i = 0; i < 3; i++)
        wb_record_free (vessels[i]);
      wb_record_free (wax);
    }
  g_test_message ("%u sheets, %u lines", sheets, lines);
  g_assert_cmpuint (sheets, >, 5000);
  g_assert_cmpuint (lines, >, 50000);
}

/* The reader itself must be able to say no. */
static void
test_the_reader_sees_a_wrong_sum (void)
{
  static const char *const wrong[] = { "2982.4 g × 7.41 % = 220.9 g of fragrance", "9 × 315.6 g = 2840.1 g", "Tern: 350 g of water ÷ 0.9982 × 0.9 = 315.7 g" };

  for (guint i = 0; i < G_N_ELEMENTS (wrong); i++)
    {
      g_autofree char *index = g_strdup_printf ("%u", i);

      if (g_test_subprocess ())
        break;
      g_setenv ("WRONG_LINE", index, TRUE);
      g_test_trap_subprocess (NULL, 0, G_TEST_SUBPROCESS_DEFAULT);
      g_test_trap_assert_failed ();
    }
  if (g_test_subprocess ())
    check_line (wrong[g_ascii_strtoull (g_getenv ("WRONG_LINE"), NULL, 10)], 1000);
}

/* The trade's figures as the sheet prints them: 214 g × 0.85 = 181.9 g, three of them 546 g on a scale that shows grams (common practice). */
static void
test_a_jar_by_hand (void)
{
  WbVessel *vessel = wb_record_new (&wb_vessel_type);
  WbWax *wax = wb_record_new (&wb_wax_type);
  WbCraftBatchLine line = { vessel, 3, NAN };
  WbCraftBatchInput input = { .lines = &line, .n_lines = 1, .load_pct = 8, .load_basis = WB_BASIS_WAX, .resolution_g = 1, .dye_pct = NAN,
                              .dye_drops_per_kg = NAN, .drop_g = NAN, .additive_pct = NAN, .wax = wax, .specific_gravity = 0.85 };
  static const char *const told[] = { "Jar: 214\302\240g of water × 0.85 = 182\302\240g", "Jar: 3 × 182\302\240g = 546\302\240g",
                                      "546\302\240g ÷ 1.08 = 506\302\240g of wax", "546\302\240g − 506\302\240g = 40\302\240g of fragrance" };
  g_autoptr (WbCraftBatchSheet) sheet = NULL;

  vessel->name = g_strdup ("Jar");
  vessel->water_g = 214;
  wax->density = 0.85;
  sheet = wb_craft_batch_sheet_new (&input, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (told); i++)
    g_assert_cmpstr (g_ptr_array_index (sheet->sums, i), ==, told[i]);
  g_assert_cmpstr (sheet->basis, ==, "Fragrance load: 8 % of the wax, which is 7.41 % of the total.");
  wb_record_free (vessel);
  wb_record_free (wax);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/craft/batch-sums/each-line-is-right-by-its-printed-figures", test_every_line);
  g_test_add_func ("/craft/batch-sums/a-wrong-line-is-seen", test_the_reader_sees_a_wrong_sum);
  g_test_add_func ("/craft/batch-sums/a-jar-by-hand", test_a_jar_by_hand);
  return g_test_run ();
}
