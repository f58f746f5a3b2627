/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>
#include <string.h>

#include "test-craft-school.h"
#include "wb-craft-shortlist.h"

/* A question with all that it rests on. */
typedef struct
{
  WbDataset        *data;      /* what was burnt; NULL: nothing */
  GPtrArray        *lessons;   /* WbLesson */
  GPtrArray        *wicks, *guides, *waxes;
  WbCraftLadderQuestion question;
} Bench;

static void
bench_init (Bench *bench,
            double inner_mm)
{
  *bench = (Bench) {
    .lessons = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_lesson_free),
    .wicks = g_ptr_array_new_with_free_func (wb_record_free),
    .guides = g_ptr_array_new_with_free_func (wb_record_free),
    .waxes = g_ptr_array_new_with_free_func (wb_record_free),
    .question = { .inner_diameter_mm = inner_mm, .wax = (char *) "Test wax" },
  };
}

static void
bench_clear (Bench *bench)
{
  g_ptr_array_unref (bench->lessons);
  g_ptr_array_unref (bench->wicks);
  g_ptr_array_unref (bench->guides);
  g_ptr_array_unref (bench->waxes);
  g_clear_pointer (&bench->data, wb_dataset_free);
}

static void
add_wick (Bench      *bench,
          const char *series,
          const char *size,
          gint64      step)
{
  WbWick *wick = wb_record_new (&wb_wick_type);

  wick->record.id = 100 + bench->wicks->len;
  wick->series = g_strdup (series);
  wick->size = g_strdup (size);
  wick->step = step;
  g_ptr_array_add (bench->wicks, wick);
}

static void
add_series (Bench      *bench,
            const char *series,
            char        letter,
            guint       n,
            gboolean    steps)
{
  for (guint i = 1; i <= n; i++)
    {
      g_autofree char *size = g_strdup_printf ("%c-%u", letter, i);

      add_wick (bench, series, size, steps ? (gint64) i : WB_INTEGER_NONE);
    }
}

static void
add_guide (Bench *bench,
           guint  wick,
           double from,
           double to)
{
  WbWickGuide *guide = wb_record_new (&wb_wick_guide_type);

  guide->wick = 100 + wick;
  guide->wax = 0;
  guide->from_mm = from;
  guide->to_mm = to;
  g_ptr_array_add (bench->guides, guide);
}

static WbCraftShortlist *
ask (Bench *bench)
{
  g_autoptr (WbCraftSchool) school = wb_craft_school_new (bench->lessons, bench->guides, bench->wicks, bench->waxes, NULL, NULL, NULL);
  WbCraftShortlist *list = wb_craft_shortlist_new (&bench->question, school, bench->wicks, bench->guides, bench->waxes, 1);

  g_test_message ("%s / %s", list->answer, list->next);
  for (guint i = 0; i < list->items->len; i++)
    {
      const WbCraftShortlistItem *item = g_ptr_array_index (list->items, i);

      g_test_message ("%c %s: %s", item->taken ? '+' : ' ', item->name, item->reason);
    }
  return list;
}

/* "S-2 S-4": sizes of what is taken, in the list's order. */
static char *
dup_taken (const WbCraftShortlist *list)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < list->items->len; i++)
    {
      const WbCraftShortlistItem *item = g_ptr_array_index (list->items, i);

      if (item->taken)
        g_string_append_printf (text, "%s%s", text->len > 0 ? " " : "", strrchr (item->name, ' ') != NULL ? strrchr (item->name, ' ') + 1 : item->name);
    }
  return g_string_free (text, FALSE);
}

/* What holds of every answer: each wick stands in it once with a reason, at most four are taken, and safety is never claimed. */
static void
check_list (const Bench            *bench,
            const WbCraftShortlist *list)
{
  g_autoptr (GHashTable) seen = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);

  g_assert_cmpuint (list->items->len, ==, bench->wicks->len);
  for (guint i = 0; i < list->items->len; i++)
    {
      const WbCraftShortlistItem *item = g_ptr_array_index (list->items, i);

      g_assert_true (g_hash_table_add (seen, g_memdup2 (&item->wick, sizeof (gint64))));
      g_assert_cmpstr (item->reason, !=, "");
      g_assert_null (strstr (item->reason, "(null)"));
    }
  g_assert_cmpuint (wb_craft_shortlist_count_taken (list), <=, 4);
  g_assert_cmpstr (list->answer, !=, "");
  g_assert_null (strstr (list->answer, "safe"));
  g_assert_true (wb_craft_shortlist_count_taken (list) == 0 || strstr (list->next, "only burning them does") != NULL);
}

/* Every row of sizes and every right one in it: burnt, weighed, the rest between two marks burnt again. */
static guint
play (guint n,
      guint k,
      guint target)
{
  guint from = 0, length = n, rounds = 0;

  for (;;)
    {
      guint places[8], picked = wb_craft_shortlist_spread (length, k, places), low = from, high = from + length;

      g_assert_cmpuint (picked, ==, MIN (length, k));
      rounds++;
      for (guint i = 0; i < picked; i++)
        {
          guint at = from + places[i];

          g_assert_cmpuint (places[i], <, length);
          g_assert_true (i == 0 || places[i] > places[i - 1]);
          if (at == target)
            return rounds;
          if (at < target)
            low = at + 1;
          else
            high = MIN (high, at);
        }
      g_assert_cmpuint (high - low, <, length);
      from = low;
      length = high - low;
    }
}

static void
test_search (void)
{
  for (guint k = 1; k <= 4; k++)
    for (guint n = 1; n <= 80; n++)
      {
        guint longest = 0, reach = 0, fewest = 0;

        for (guint target = 0; target < n; target++)
          longest = MAX (longest, play (n, k, target));
        g_assert_cmpuint (longest, ==, wb_craft_shortlist_rounds (n, k));
        /* no search does better: r rounds of k marks tell at most (k + 1)^r - 1 sizes apart */
        for (; reach < n; fewest++)
          reach = reach * (k + 1) + k;
        g_assert_cmpuint (longest, ==, fewest);
      }
  g_assert_cmpuint (wb_craft_shortlist_rounds (8, 3), ==, 2);
  g_assert_cmpuint (wb_craft_shortlist_rounds (0, 3), ==, 0);
}

static void
test_nothing_known (void)
{
  const struct { guint n; const char *taken; } cases[] = {
    { 2, "S-1 S-2" }, { 3, "S-1 S-2 S-3" }, { 4, "S-1 S-2 S-3 S-4" }, { 5, "S-2 S-3 S-4" }, { 6, "S-2 S-4 S-5" }, { 7, "S-2 S-4 S-6" }, { 8, "S-2 S-5 S-7" },
    { 15, "S-4 S-8 S-12" }, { 20, "S-4 S-8 S-13 S-17" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    for (guint steps = 0; steps < 2; steps++)
      {
        Bench bench;
        g_autoptr (WbCraftShortlist) list = NULL;
        g_autofree char *taken = NULL;

        bench_init (&bench, 76);
        add_series (&bench, "Sedge", 'S', cases[i].n, steps == 1);
        list = ask (&bench);
        check_list (&bench, list);
        taken = dup_taken (list);
        g_assert_cmpstr (taken, ==, cases[i].taken);
        g_assert_cmpint (list->rests_on, ==, WB_CRAFT_RESTS_ON_NOTHING);
        g_assert_nonnull (strstr (list->answer, "Begin with Sedge S-"));
        g_assert_true (g_str_has_prefix (list->answer, "Nothing is known of these wicks in a vessel of 76.0"));
        g_assert_cmpint (strstr (list->answer, "taken from their names") != NULL, ==, steps == 0);
        bench_clear (&bench);
      }
}

static void
test_several_series (void)
{
  const struct { guint n; const char *taken; } cases[] = {
    { 2, "A-2 A-4 B-2 B-4" }, { 3, "A-3 B-3 C-3" }, { 4, "A-3 B-3 C-3 D-3" }, { 6, "A-3 B-3 C-3 D-3" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      Bench bench;
      g_autoptr (WbCraftShortlist) list = NULL;
      g_autofree char *taken = NULL;

      bench_init (&bench, 76);
      for (guint series = 0; series < cases[i].n; series++)
        {
          const char name[] = { (char) ('A' + series), '\0' };

          add_series (&bench, name, name[0], 5, TRUE);
        }
      list = ask (&bench);
      check_list (&bench, list);
      taken = dup_taken (list);
      g_assert_cmpstr (taken, ==, cases[i].taken);
      bench_clear (&bench);
    }
}

/* Invented diameters: S-n for 40 + 6 n to 50 + 6 n mm. A vessel of 76 mm lies in those of S-5 (70 to 80) and S-6 (76 to 86), nearest to the middle of S-5. */
static void
test_supplier (void)
{
  Bench bench;
  g_autoptr (WbCraftShortlist) list = NULL, wide = NULL, beyond = NULL;
  g_autofree char *taken = NULL, *of_wide = NULL, *of_beyond = NULL;

  bench_init (&bench, 76);
  add_series (&bench, "Sedge", 'S', 8, TRUE);
  for (guint i = 0; i < 8; i++)
    add_guide (&bench, i, 40 + 6 * (i + 1), 50 + 6 * (i + 1));
  list = ask (&bench);
  check_list (&bench, list);
  taken = dup_taken (list);
  g_assert_cmpint (list->rests_on, ==, WB_CRAFT_RESTS_ON_SUPPLIER);
  g_assert_cmpstr (taken, ==, "S-4 S-5 S-6");
  g_assert_cmpuint (list->wicks, ==, 1);

  /* Two in 108 mm: each serves a circle of 108 / √2 = 76.4 mm, the same sizes again. */
  bench.question.inner_diameter_mm = 108;
  wide = ask (&bench);
  check_list (&bench, wide);
  of_wide = dup_taken (wide);
  g_assert_cmpuint (wide->wicks, ==, 2);
  g_assert_cmpstr (of_wide, ==, taken);
  g_assert_nonnull (strstr (wide->answer, "more than one wick (common practice)"));

  /* One alone, asked for so: nothing reaches 108 mm, and that is said. */
  bench.question.wicks = 1;
  beyond = ask (&bench);
  check_list (&bench, beyond);
  of_beyond = dup_taken (beyond);
  g_assert_cmpstr (of_beyond, ==, "S-6 S-7 S-8");
  g_assert_nonnull (strstr (beyond->answer, "beyond what is recommended"));
  bench_clear (&bench);
}

/* A supplier's diameter of one size only: its neighbours come in. */
static void
test_one_guide (void)
{
  Bench bench;
  g_autoptr (WbCraftShortlist) list = NULL, last = NULL;
  g_autofree char *taken = NULL, *of_last = NULL;

  bench_init (&bench, 76);
  add_series (&bench, "Sedge", 'S', 8, TRUE);
  add_guide (&bench, 3, 70, 80);
  list = ask (&bench);
  check_list (&bench, list);
  taken = dup_taken (list);
  g_assert_cmpstr (taken, ==, "S-3 S-4 S-5");
  g_ptr_array_set_size (bench.guides, 0);
  add_guide (&bench, 7, 70, 80);
  last = ask (&bench);
  of_last = dup_taken (last);
  g_assert_cmpstr (of_last, ==, "S-6 S-7 S-8");
  bench_clear (&bench);
}

/* Candles of the model: their strengths are true, so that the right size is known from outside the ladder. */
static void
burn (Bench        *bench,
      double        inner_mm,
      const double *strength,
      guint         n,
      double        bottom_heat)
{
  WbCraftPhysicsSpec spec = wb_craft_physics_spec_usual ();

  spec.inner_mm = inner_mm;
  if (bottom_heat > 0)
    spec.bottom_heat = bottom_heat;
  bench->data = test_craft_data_new ();
  for (guint i = 0; i < n; i++)
    {
      g_autofree char *size = g_strdup_printf ("S-%u", i + 1);

      spec.strength_g_per_h = strength[i];
      test_craft_burn_physics (bench->data, test_craft_add_cell (bench->data, "Tern", inner_mm, "Sedge", size, i + 1, 0), &spec, 2,
                               bottom_heat > 0 ? 0 : 3, 5);
    }
  g_ptr_array_add (bench->lessons, test_school_lesson (bench->data));
}

static guint
truly_best (double        inner_mm,
            const double *strength,
            guint         n)
{
  guint best = 0;
  double least = INFINITY;

  for (guint i = 0; i < n; i++)
    {
      WbCraftPhysicsSpec spec = wb_craft_physics_spec_usual ();
      double off;

      spec.inner_mm = inner_mm;
      spec.strength_g_per_h = strength[i];
      off = fabs (wb_craft_physics_full_pool_h (&spec) / (inner_mm / 25.4) - 1);
      if (off < least)
        {
          least = off;
          best = i + 1;
        }
    }
  return best;
}

static void
test_history (void)
{
  const double strength[] = { 3.2, 3.7, 4.3, 5.0, 5.8, 6.7 };
  const double inner[] = { 70, 76.2, 84 };

  for (guint v = 0; v < G_N_ELEMENTS (inner); v++)
    {
      Bench bench;
      g_autoptr (WbCraftShortlist) list = NULL;
      g_autofree char *taken = NULL, *size = NULL;

      bench_init (&bench, inner[v]);
      add_series (&bench, "Sedge", 'S', 6, TRUE);
      burn (&bench, 76.2, strength, 6, 0);
      list = ask (&bench);
      check_list (&bench, list);
      taken = dup_taken (list);
      size = g_strdup_printf ("S-%u", truly_best (inner[v], strength, 6));
      g_assert_cmpint (list->rests_on, ==, WB_CRAFT_RESTS_ON_HISTORY);
      g_assert_nonnull (strstr (taken, size));
      g_assert_cmpuint (wb_craft_shortlist_count_taken (list), >=, 3);
      g_assert_nonnull (strstr (list->answer, "the chance that one of them is right is"));
      g_assert_nonnull (strstr (list->answer, "No earlier candle was read near its end"));
      g_assert_cmpint (strstr (list->answer, "goes beyond what was burnt") != NULL, ==, inner[v] != 76.2);
      bench_clear (&bench);
    }
}

/* A size where a limit was crossed is not poured to see both sides of another. */
static void
test_danger_is_left_out (void)
{
  const double strength[] = { 3.6, 4.2, 4.8, 5.4 };
  Bench bench;
  g_autoptr (WbCraftShortlist) list = NULL;

  bench_init (&bench, 76.2);
  add_series (&bench, "Sedge", 'S', 4, TRUE);
  burn (&bench, 76.2, strength, 4, 2.2);
  list = ask (&bench);
  check_list (&bench, list);
  g_assert_false (((WbCraftShortlistItem *) g_ptr_array_index (list->items, 3))->taken);
  g_assert_nonnull (strstr (((WbCraftShortlistItem *) g_ptr_array_index (list->items, 3))->reason, "limit was crossed"));
  bench_clear (&bench);
}

/* Ticked in any order, the answer is the same; no vessel, no wick: words, and nothing taken. */
static void
test_properties (void)
{
  Bench bench, other;
  g_autoptr (WbCraftShortlist) list = NULL, turned = NULL, no_vessel = NULL, no_wick = NULL;
  g_autofree char *taken = NULL, *of_turned = NULL;

  bench_init (&bench, 76);
  add_series (&bench, "Sedge", 'S', 12, TRUE);
  bench_init (&other, 76);
  for (guint i = 12; i > 0; i--)
    {
      g_autofree char *size = g_strdup_printf ("S-%u", i);

      add_wick (&other, "Sedge", size, i);
    }
  list = ask (&bench);
  turned = ask (&other);
  taken = dup_taken (list);
  of_turned = dup_taken (turned);
  g_assert_cmpstr (taken, ==, of_turned);
  g_assert_cmpstr (list->answer, ==, turned->answer);
  bench.question.inner_diameter_mm = NAN;
  no_vessel = ask (&bench);
  g_assert_cmpuint (wb_craft_shortlist_count_taken (no_vessel), ==, 0);
  g_assert_nonnull (strstr (no_vessel->answer, "inner diameter is not known"));
  g_ptr_array_set_size (other.wicks, 0);
  no_wick = ask (&other);
  g_assert_cmpuint (no_wick->items->len, ==, 0);
  bench_clear (&bench);
  bench_clear (&other);
}

/* "Above about 90 to 100 mm more than one wick": common practice, no source. */
static void
test_usual_wicks (void)
{
  const struct { double inner_mm; guint wicks; } cases[] = { { NAN, 1 }, { 60, 1 }, { 90, 1 }, { 101, 2 }, { 130, 2 }, { 150, 3 }, { 190, 4 } };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      guint wicks = wb_craft_ladder_usual_wicks (cases[i].inner_mm);

      g_assert_cmpuint (wicks, ==, cases[i].wicks);
      if (!isnan (cases[i].inner_mm))
        g_assert_cmpfloat (cases[i].inner_mm / sqrt (wicks), <=, 100);
    }
}

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  g_test_add_func ("/craft/shortlist/the-search-finds-any-size-in-the-fewest-rounds", test_search);
  g_test_add_func ("/craft/shortlist/nothing-known-the-sizes-are-spread", test_nothing_known);
  g_test_add_func ("/craft/shortlist/of-several-series-at-most-four", test_several_series);
  g_test_add_func ("/craft/shortlist/the-suppliers-diameters-tell", test_supplier);
  g_test_add_func ("/craft/shortlist/a-single-diameter-brings-its-neighbours", test_one_guide);
  g_test_add_func ("/craft/shortlist/what-was-burnt-tells", test_history);
  g_test_add_func ("/craft/shortlist/danger-is-left-out", test_danger_is_left_out);
  g_test_add_func ("/craft/shortlist/any-order-gives-the-same-answer", test_properties);
  g_test_add_func ("/craft/shortlist/a-wide-vessel-takes-more-than-one", test_usual_wicks);
  return g_test_run ();
}
