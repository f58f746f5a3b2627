/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>
#include <string.h>

#include "test-craft-school.h"

/* What a ladder says beside its answer. */

#define INNER 76.2

/* One vessel, Tern, four sizes of Sedge without fragrance; `burns` of each candle, 0: to its end. */
static void
begin (TestSchool *bench,
       guint       burns)
{
  const double strength[] = { 3.2, 3.7, 4.3, 5.0 };
  WbDataset *data = test_craft_data_new ();
  WbCraftPhysicsSpec spec = wb_craft_physics_spec_usual ();

  spec.inner_mm = INNER;
  for (guint i = 0; i < G_N_ELEMENTS (strength); i++)
    {
      g_autofree char *size = g_strdup_printf ("S-%u", i + 1);

      spec.strength_g_per_h = strength[i];
      test_craft_burn_physics (data, test_craft_add_cell (data, "Tern", INNER, "Sedge", size, i + 1, 0), &spec, 2, burns, 5);
    }
  ((WbVessel *) g_ptr_array_index (data->vessels, 0))->wall = WB_WALL_GLASS;
  test_school_init (bench);
  test_school_learn (bench, data);
  bench->question.inner_diameter_mm = INNER;
  bench->question.load_pct = 0;
  bench->question.wax = data->wax->name;
  bench->question.vessels = data->vessels;
}

static const char *
find_text (const GPtrArray *sentences,
           const char      *part)
{
  for (guint i = 0; i < sentences->len; i++)
    if (strstr (g_ptr_array_index (sentences, i), part) != NULL)
      return g_ptr_array_index (sentences, i);
  return NULL;
}

/* However near: the burns of one's own vessel are its own only where it is asked for by name. */
static void
test_typed (void)
{
  TestSchool bench;
  g_autoptr (WbCraftLadder) named = NULL, typed = NULL, far = NULL;
  const WbCraftLadderStep *step;

  begin (&bench, 3);
  bench.question.vessel = (char *) "Tern";
  named = test_school_ask (&bench);
  g_assert_true (test_school_find (named, "S-3")->tested);
  g_assert_null (find_text (named->warnings, "within 0.5"));
  bench.question.vessel = NULL;
  bench.question.another_vessel = TRUE;
  bench.question.inner_diameter_mm = INNER + 0.3;
  typed = test_school_ask (&bench);
  test_school_check (typed);
  g_assert_nonnull (find_text (typed->warnings, "76.5\302\240mm is within 0.5\302\240mm of your vessel Tern"));
  step = test_school_find (typed, "S-3");
  g_assert_false (step->tested);
  g_assert_cmpuint (step->nearest->len, >, 0);
  g_assert_nonnull (strstr (((const WbCraftNearest *) g_ptr_array_index (step->nearest, 0))->differs, "another vessel of that width"));
  /* another vessel of that width is known less well than one's own */
  g_assert_cmpfloat (log (step->pool_limit_mm.high / step->pool_limit_mm.low), >,
                     log (test_school_find (named, "S-3")->pool_limit_mm.high / test_school_find (named, "S-3")->pool_limit_mm.low));
  bench.question.inner_diameter_mm = INNER + 0.8;
  far = test_school_ask (&bench);
  g_assert_null (find_text (far->warnings, "within 0.5"));
  test_school_clear (&bench);
}

/* What a size crossed in one's own vessel stands against one of that width, too. */
static void
test_typed_stays_hot (void)
{
  TestSchool bench;
  WbDataset *data = test_craft_data_new ();
  WbCraftPhysicsSpec spec = wb_craft_physics_spec_usual ();
  g_autoptr (WbCraftLadder) ladder = NULL;

  spec.bottom_heat = 2.2;
  spec.strength_g_per_h = 5.4;
  test_craft_burn_physics (data, test_craft_add_cell (data, "Tern", INNER, "Sedge", "S-4", 4, 0), &spec, 2, 0, 5);
  test_school_init (&bench);
  test_school_learn (&bench, data);
  bench.question.inner_diameter_mm = INNER - 0.2;
  bench.question.load_pct = 0;
  bench.question.another_vessel = TRUE;
  bench.question.wax = data->wax->name;
  ladder = test_school_ask (&bench);
  g_assert_cmpfloat (test_school_find (ladder, "S-4")->p_cross, ==, 1);
  g_assert_false (test_school_find (ladder, "S-4")->in_ladder);
  g_assert_cmpfloat (ladder->p_none, ==, 1);
  test_school_clear (&bench);
}

/* The supplier's greatest load, on either basis; without one a load that hardly any wax holds. */
static void
test_load (void)
{
  static const struct { double load, most; int basis; const char *warned; gboolean answer; } cases[] = {
    { 6, 6, WB_BASIS_WAX, NULL, FALSE },
    { 6.2, 6, WB_BASIS_WAX, "6.2\302\240% of the wax is more than", TRUE },
    { 5.8, 6, WB_BASIS_TOTAL, "5.8\302\240% of the total is more than", TRUE }, /* 6.16 % of the wax */
    { 5.6, 6, WB_BASIS_TOTAL, NULL, FALSE },                                   /* 5.93 % of the wax */
    { 8, NAN, WB_BASIS_WAX, NULL, FALSE },
    { 28, NAN, WB_BASIS_WAX, "more than most waxes hold", FALSE },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      TestSchool bench;
      g_autoptr (WbCraftLadder) ladder = NULL;
      WbWax *wax;

      begin (&bench, 3);
      wax = g_ptr_array_index (bench.waxes, 0);
      wax->max_load_pct = cases[i].most;
      wax->max_load_basis = WB_BASIS_WAX;
      bench.question.load_pct = cases[i].load;
      bench.question.load_basis = cases[i].basis;
      ladder = test_school_ask (&bench);
      g_test_message ("%u: %s", i, ladder->answer);
      g_assert_true ((cases[i].warned != NULL) == (find_text (ladder->warnings, "seeps out") != NULL));
      g_assert_true (cases[i].warned == NULL || strstr (g_ptr_array_index (ladder->warnings, 0), cases[i].warned) != NULL);
      g_assert_true (cases[i].answer == (strstr (ladder->answer, "is more than") != NULL));
      g_assert_true ((isnan (cases[i].most) && cases[i].warned == NULL) == (find_text (ladder->notes, "data sheet") != NULL));
      test_school_clear (&bench);
    }
}

static void
test_new_wax (void)
{
  TestSchool bench;
  g_autoptr (WbCraftLadder) own = NULL, new_wax = NULL;

  begin (&bench, 3);
  own = test_school_ask (&bench);
  g_assert_null (find_text (own->warnings, "was burnt yet"));
  bench.question.wax = (char *) "Snow";
  new_wax = test_school_ask (&bench);
  test_school_check (new_wax);
  g_assert_nonnull (find_text (new_wax->warnings, "No candle of Snow was burnt yet"));
  g_assert_nonnull (strstr (test_school_find (new_wax, "S-3")->outside, "wax never tried"));
  test_school_clear (&bench);
}

/* A high chance of a limit of heat is told beside the answer of every wick on the ladder that has one, and of no other. */
static void
test_heat (void)
{
  TestSchool bench;
  g_autoptr (WbCraftLadder) ladder = NULL;
  const char *told;
  guint n = 0;

  begin (&bench, 3);
  bench.question.wicks = 2;
  bench.question.inner_diameter_mm = 108;
  bench.question.another_vessel = TRUE;
  ladder = test_school_ask (&bench);
  test_school_check (ladder);
  told = find_text (ladder->warnings, "may cross a limit of heat");
  for (guint i = 0; i < ladder->steps->len; i++)
    {
      const WbCraftLadderStep *step = g_ptr_array_index (ladder->steps, i);
      g_autofree char *name = g_strdup_printf ("%s %s (", step->series, step->size);
      gboolean hot = step->in_ladder && step->p_cross > 0.05;

      n += hot;
      g_test_message ("%s crosses %.3f", step->size, step->p_cross);
      g_assert_true (hot == (told != NULL && strstr (told, name) != NULL));
    }
  g_assert_cmpuint (n, >, 0);
  g_assert_nonnull (find_text (ladder->notes, "The 2 wicks are taken to share the vessel evenly, each with the section of one of 76.4"));
  test_school_clear (&bench);
}

static gpointer
record_new (const WbRecordType *type,
            gint64              id)
{
  WbRecord *record = wb_record_new (type);

  record->id = id;
  return record;
}

static void
test_decision (void)
{
  TestSchool bench;
  g_autoptr (GPtrArray) decisions = g_ptr_array_new_with_free_func (wb_record_free), cells = g_ptr_array_new_with_free_func (wb_record_free);
  g_autoptr (GPtrArray) experiments = g_ptr_array_new_with_free_func (wb_record_free);
  g_autoptr (WbCraftLadder) named = NULL, near = NULL, other_wax = NULL;
  WbExperiment *experiment = record_new (&wb_experiment_type, 7);
  WbDecision *decision = record_new (&wb_decision_type, 1);
  WbCell *cell = record_new (&wb_cell_type, 70);

  begin (&bench, 3);
  experiment->code = g_strdup ("E-7");
  experiment->wax = ((const WbRecord *) g_ptr_array_index (bench.waxes, 0))->id;
  cell->vessel = ((const WbRecord *) g_ptr_array_index (bench.question.vessels, 0))->id;
  cell->wick = ((const WbRecord *) g_ptr_array_index (bench.wicks, 1))->id;
  cell->wick_count = 1;
  cell->load_pct = 8;
  decision->experiment = 7;
  decision->cell = 70;
  g_assert_true (wb_instant_parse ("2026-03-02T08:07:00+00:00", &decision->signed_at, NULL));
  g_ptr_array_add (decisions, decision);
  g_ptr_array_add (decisions, wb_record_copy (decision)); /* of another scent: told once */
  g_ptr_array_add (cells, cell);
  g_ptr_array_add (experiments, experiment);
  bench.question.decisions = decisions;
  bench.question.cells = cells;
  bench.question.experiments = experiments;
  bench.question.vessel = (char *) "Tern";
  named = test_school_ask (&bench);
  g_assert_nonnull (find_text (named->warnings, "Signed for Tern"));
  g_assert_nonnull (find_text (named->warnings, "Sedge S-2 (E-7, 2"));
  g_assert_nonnull (find_text (named->warnings, "does not replace that decision"));
  for (guint i = 0, n = 0; i < named->warnings->len; i++)
    g_assert_cmpuint (n += g_str_has_prefix (g_ptr_array_index (named->warnings, i), "Signed"), <=, 1);
  bench.question.vessel = NULL;
  bench.question.another_vessel = TRUE;
  near = test_school_ask (&bench);
  g_assert_nonnull (find_text (near->warnings, "Signed for Tern"));
  bench.question.wax = (char *) "Snow";
  other_wax = test_school_ask (&bench);
  g_assert_null (find_text (other_wax->warnings, "Signed"));
  test_school_clear (&bench);
}

/* Burnt at the top alone, and burnt down. */
static void
test_own_tests (void)
{
  const guint burns[] = { 1, 0 };

  for (guint i = 0; i < G_N_ELEMENTS (burns); i++)
    {
      TestSchool bench;
      g_autoptr (WbCraftLadder) ladder = NULL, elsewhere = NULL;
      gboolean upper;

      begin (&bench, burns[i]);
      bench.question.vessel = (char *) "Tern";
      ladder = test_school_ask (&bench);
      upper = find_text (ladder->warnings, "nothing below the upper third") != NULL || find_text (ladder->notes, "nothing below the upper third") != NULL;
      g_assert_true (upper == (burns[i] == 1));
      g_assert_true (upper == (find_text (ladder->notes, "leans on all tests") == NULL));
      bench.question.vessel = NULL;
      bench.question.inner_diameter_mm = 84;
      elsewhere = test_school_ask (&bench);
      g_assert_null (find_text (elsewhere->warnings, "were burnt in"));
      g_assert_null (find_text (elsewhere->notes, "were burnt in"));
      test_school_clear (&bench);
    }
}

/* Of the wall's foretold temperature. */
static double
get_width (const WbCraftLadder *ladder)
{
  const WbCraftInterval *interval = &test_school_find (ladder, "S-3")->at[WB_CRAFT_FILL_TOP].vessel_c;

  return interval->high - interval->low;
}

static void
test_taken_for_granted (void)
{
  TestSchool bench;
  g_autoptr (WbCraftLadder) ladder = NULL, metal = NULL, untold = NULL, glass = NULL, unsaid = NULL;
  WbVessel *tern;
  WbVessel *other = wb_record_new (&wb_vessel_type);
  g_autoptr (GPtrArray) vessels = g_ptr_array_new ();

  begin (&bench, 3);
  tern = g_ptr_array_index (bench.question.vessels, 0);
  tern->wall = -1;
  untold = test_school_ask (&bench);
  g_assert_nonnull (find_text (untold->notes, "made of was not typed in"));
  tern->wall = WB_WALL_GLASS;
  bench.question.another_vessel = TRUE;
  bench.question.inner_diameter_mm = 80;
  bench.question.room_cold_c = 17.5;
  bench.question.room_warm_c = 28;
  ladder = test_school_ask (&bench);
  /* 80 mm at an hour an inch: 3.15 h, from 0.75 to 1.25 of it */
  g_assert_nonnull (find_text (ladder->notes, "rooms of 17.5 to 28\302\240°C"));
  g_assert_nonnull (find_text (ladder->notes, "due between 2.4 and 3.9\302\240h"));
  g_assert_nonnull (find_text (ladder->notes, "like those that were burnt (glass)"));
  g_assert_nonnull (strstr (test_school_find (ladder, "S-4")->reason, "due between 2.4 and 3.9\302\240h"));
  g_assert_cmpfloat_with_epsilon (ladder->due_low_h, 0.75 * 80 / 25.4, 1e-9);
  other->record.id = 99;
  other->name = g_strdup ("Skua");
  other->inner_diameter_mm = 80;
  other->wall = WB_WALL_METAL;
  g_ptr_array_add (vessels, g_ptr_array_index (bench.question.vessels, 0));
  g_ptr_array_add (vessels, other);
  bench.question.vessels = vessels;
  bench.question.another_vessel = FALSE;
  bench.question.vessel = (char *) "Skua";
  metal = test_school_ask (&bench);
  g_assert_nonnull (find_text (metal->warnings, "No vessel of the material of Skua (metal) was burnt yet"));
  g_assert_null (find_text (metal->notes, "is not asked"));
  other->wall = WB_WALL_GLASS;
  glass = test_school_ask (&bench);
  g_assert_null (find_text (glass->warnings, "of the material of"));
  other->wall = -1;
  unsaid = test_school_ask (&bench);
  /* what may be of any material is known as little as one of a material that was never burnt, and less well than glass */
  g_assert_cmpfloat (get_width (glass), <, 0.97 * get_width (metal));
  g_assert_cmpfloat_with_epsilon (get_width (unsaid), get_width (metal), 1e-9);
  g_assert_cmpfloat_with_epsilon (get_width (glass), get_width (ladder), 1e-9);
  wb_record_free (other);
  test_school_clear (&bench);
}

/* What was learnt of wicks is one sentence, what of all of them another; whole per cents. */
static void
test_learnt (void)
{
  TestSchool bench;
  g_autoptr (WbCraftLadder) ladder = NULL;
  g_autoptr (GRegex) spurious = g_regex_new ("[0-9][.][0-9]+\302\240%", 0, 0, NULL);

  begin (&bench, 0);
  ladder = test_school_ask (&bench);
  g_test_message ("%s", ladder->learnt);
  g_assert_false (g_regex_match (spurious, ladder->learnt, 0, NULL));
  g_assert_nonnull (strstr (ladder->learnt, "to the pool. Over all wicks, waxes and vessels, the wall"));
  test_school_clear (&bench);
}

/* Diameters alone: what they cannot tell is said, and that a neighbour is not its supplier's choice. */
static void
test_supplier (void)
{
  TestSchool bench;
  g_autoptr (WbCraftLadder) ladder = NULL;

  test_school_init (&bench);
  for (gint64 i = 1; i <= 4; i++)
    {
      g_autofree char *size = g_strdup_printf ("F-%d", (int) i);

      test_school_add_wick (&bench, "Fescue", size, i, i);
      test_school_add_guide (&bench, i, 0, 50 + 6 * (double) i, 56 + 6 * (double) i);
    }
  bench.question.inner_diameter_mm = 98;
  bench.question.wicks = 2;
  bench.question.another_vessel = TRUE;
  ladder = test_school_ask (&bench);
  g_assert_cmpint (ladder->rests_on, ==, WB_CRAFT_RESTS_ON_SUPPLIER);
  /* 98 / √2 = 69.3 mm: of the third alone */
  g_assert_nonnull (find_text (ladder->notes, "each with the section of one of 69.3"));
  g_assert_nonnull (find_text (ladder->notes, "a load of 6\302\240% of the wax and rooms of 20 to 25\302\240°C change nothing"));
  g_assert_null (strstr (test_school_find (ladder, "F-3")->reason, "Not for"));
  g_assert_nonnull (strstr (test_school_find (ladder, "F-2")->reason, "Not for 69.3"));
  test_school_clear (&bench);
}

/* A number of wicks that was never burnt in one vessel is warned of, and stands in the answer; one wick that was burnt is not. */
static void
test_many (void)
{
  TestSchool bench;
  g_autoptr (WbCraftLadder) one = NULL, two = NULL;

  begin (&bench, 3);
  one = test_school_ask (&bench);
  g_assert_null (find_text (one->warnings, "in one vessel were never burnt"));
  g_assert_null (strstr (one->answer, "in it"));
  bench.question.wicks = 2;
  bench.question.another_vessel = TRUE;
  bench.question.inner_diameter_mm = 108;
  two = test_school_ask (&bench);
  g_assert_nonnull (find_text (two->warnings, "2 wicks in one vessel were never burnt"));
  g_assert_true (g_str_has_prefix (two->answer, "For 108.0\302\240mm with 2 wicks in it "));
  test_school_clear (&bench);
}

/* Far too wide and far too narrow: which way the right one lies leads the warnings; and no larger size is named where it may be too hot. */
static void
test_none (void)
{
  const struct { double inner_mm; const char *side; } cases[] = { { 140, "too small" }, { 40, "too large: try a smaller size than Sedge S-1" } };
  TestSchool bench;

  begin (&bench, 3);
  bench.question.another_vessel = TRUE;
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (WbCraftLadder) ladder = NULL;
      const char *told;

      bench.question.inner_diameter_mm = cases[i].inner_mm;
      ladder = test_school_ask (&bench);
      g_assert_cmpfloat (ladder->p_none, >=, 0.5);
      told = g_ptr_array_index (ladder->warnings, 0);
      g_test_message ("%s", told);
      g_assert_true (g_str_has_prefix (told, "None of the wicks known is likely to be right"));
      g_assert_nonnull (strstr (told, cases[i].side));
      g_assert_true ((strstr (told, "larger size than Sedge S-4") != NULL) == (i == 0 && test_school_find (ladder, "S-4")->p_cross <= 0.05));
      if (i == 0)
        g_assert_nonnull (strstr (test_school_find (ladder, "S-1")->reason, "neither at the top of the fill nor at its bottom"));
    }
  test_school_clear (&bench);
}

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  g_test_add_func ("/craft/ladder-notes/a-typed-diameter-is-another-vessel", test_typed);
  g_test_add_func ("/craft/ladder-notes/what-was-too-hot-stays-so-in-another-vessel", test_typed_stays_hot);
  g_test_add_func ("/craft/ladder-notes/more-than-a-wax-holds-is-warned-of", test_load);
  g_test_add_func ("/craft/ladder-notes/a-wax-never-tried-is-told", test_new_wax);
  g_test_add_func ("/craft/ladder-notes/heat-on-the-ladder-is-told-beside-it", test_heat);
  g_test_add_func ("/craft/ladder-notes/a-decision-is-mentioned", test_decision);
  g_test_add_func ("/craft/ladder-notes/own-tests-and-their-ranking-are-explained", test_own_tests);
  g_test_add_func ("/craft/ladder-notes/what-is-taken-for-granted-is-said", test_taken_for_granted);
  g_test_add_func ("/craft/ladder-notes/what-was-learnt-makes-sense", test_learnt);
  g_test_add_func ("/craft/ladder-notes/suppliers-cannot-tell-all", test_supplier);
  g_test_add_func ("/craft/ladder-notes/wicks-never-burnt-together-are-warned-of", test_many);
  g_test_add_func ("/craft/ladder-notes/which-way-the-right-one-lies-leads", test_none);
  return g_test_run ();
}
