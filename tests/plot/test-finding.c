/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Titles say what was found: estimates are set by hand, so that the words can be told beforehand. */
#include "config.h"

#include "test-plot.h"

#include <math.h>
#include <string.h>

#include "plot-bench.h"
#include "test-craft.h"
#include "wb-craft-verdict-private.h"
#include "wb-plot-beside.h"

#define NBSP "\302\240"

static void
assert_title (const WbChart *chart,
              const char    *part)
{
  if (strstr (wb_chart_get_title (chart), part) == NULL)
    g_error ("“%s” does not say “%s”", wb_chart_get_title (chart), part);
  /* Who cannot see it is told the same. */
  g_assert_nonnull (strstr (wb_chart_get_description (chart), part));
}

static void
set_growth (WbCraftAnswer *answer,
            guint          cell,
            double         limit_mm,
            double         full_h)
{
  WbCraftGrowth *growth = &answer->estimates->cells[cell].growth;

  growth->status = WB_CRAFT_FIT_OK;
  growth->p_in_window = 1.0; /* of a curve that was set, not fitted: no doubt of it, where a test asks for none */
  growth->pool_limit_mm = (WbCraftInterval) { limit_mm, limit_mm - 1.0, limit_mm + 1.0 };
  growth->full_pool_h = (WbCraftInterval) { full_h, full_h - 0.4, full_h + 0.6 };
}

static void
set_rank (WbCraftAnswer *answer,
          guint          place,
          guint          cell,
          double         score,
          WbCraftVerdict verdict)
{
  WbCraftRanked *ranked = &answer->ranking->groups[0].cells[place];

  ranked->cell = cell;
  ranked->rank = place + 1;
  ranked->score = (WbCraftInterval) { score, score - 0.1, score + 0.05 };
  ranked->verdict = verdict;
}

/* Two wicks in a vessel of 76.2 mm, due in 2.25 to 3.75 h: one hour per inch and a quarter each way (common practice, no source). */
static WbCraftAnswer *
make_two (double first_mm,
          double first_h,
          double second_mm,
          double second_h)
{
  WbCraftAnswer *answer = plot_bench_small (2);

  set_growth (answer, 0, first_mm, first_h);
  set_growth (answer, 1, second_mm, second_h);
  set_rank (answer, 0, 1, 0.81, WB_CRAFT_VERDICT_CANDIDATE);
  set_rank (answer, 1, 0, 0.40, WB_CRAFT_VERDICT_CANDIDATE);
  return answer;
}

static void
test_growth (void)
{
  const struct
  {
    double      first_mm, first_h, second_mm, second_h;
    const char *title;
  } cases[] = {
    { 72.2, NAN, 80.0, 3.3, "L-2 reaches the wall in 3.3" NBSP "h, in time; L-1 stops 4" NBSP "mm narrower than the vessel" },
    { 72.2, NAN, 95.0, 1.4, "L-2 reaches the wall in 1.4" NBSP "h, too soon; L-1 stops 4" NBSP "mm narrower than the vessel" },
    { 80.0, 3.0, 78.0, 3.9, "L-2 reaches the wall in 3.9" NBSP "h, late; L-1 reaches the wall in 3.0" NBSP "h, in time" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (WbCraftAnswer) answer = make_two (cases[i].first_mm, cases[i].first_h, cases[i].second_mm, cases[i].second_h);
      g_autoptr (WbChart)       chart = test_plot_new (WB_PLOT_GROWTH, answer);

      assert_title (chart, cases[i].title);
    }
}

/* A typical time within the window is no promise: below 90 in 100 the title tells the chance that the numbers show. */
static void
test_growth_chance (void)
{
  const struct { double chance; const char *title; } cases[] = {
    { 0.61, "L-2 reaches the wall in 3.3" NBSP "h, in time with a chance of 61" NBSP "%; L-1 stops 4" NBSP "mm narrower than the vessel" },
    { 0.9, "L-2 reaches the wall in 3.3" NBSP "h, in time; L-1 stops 4" NBSP "mm narrower than the vessel" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (WbCraftAnswer) answer = make_two (72.2, NAN, 80.0, 3.3);

      answer->estimates->cells[1].growth.p_in_window = cases[i].chance;
      g_autoptr (WbChart) chart = test_plot_new (WB_PLOT_GROWTH, answer);
      assert_title (chart, cases[i].title);
    }
}

static void
test_growth_in_inches (void)
{
  g_autoptr (WbCraftAnswer) answer = make_two (72.2, NAN, 80.0, 3.3);
  WbPlotOptions             options;

  wb_plot_options_init (&options, TRUE);
  g_autoptr (WbChart) chart = wb_plot_new (WB_PLOT_GROWTH, answer, &options, NULL);
  /* 76.2 less 72.2, 4 mm, are 0.157 in, by the definition of the inch */
  assert_title (chart, "L-1 stops 0.16" NBSP "in narrower than the vessel");
}

static void
test_grid (void)
{
  g_autoptr (WbCraftAnswer) answer = make_two (72.2, NAN, 80.0, 3.3);
  g_autoptr (WbChart)       chart = test_plot_new (WB_PLOT_GRID, answer);

  assert_title (chart, "1 of 2 combinations melts to the wall in time; 1 never");
}

static void
test_rings (void)
{
  g_autoptr (WbCraftAnswer) answer = plot_bench_small (2);
  g_autoptr (WbChart)       chart = NULL;

  set_rank (answer, 0, 0, 0.81, WB_CRAFT_VERDICT_CANDIDATE);
  set_rank (answer, 1, 1, 0.40, WB_CRAFT_VERDICT_CANDIDATE);
  chart = test_plot_new (WB_PLOT_RINGS, answer);
  /* Readings go towards 72 mm with 1.2 h: 72 (1 - exp (-4 / 1.2)) = 69.4 mm after 4 h leave (76.2 - 69.4) / 2 = 3.4 mm. */
  assert_title (chart, "L-1 is still 6" NBSP "mm narrower than the vessel after 4" NBSP "h");
}

/* One burn of two at the wall is not most of them. */
static void
test_rings_in_most_burns (void)
{
  for (guint n = 2; n <= 3; n++)
    {
      WbDataset *data = test_craft_data_new ();
      guint      cell = test_craft_add_cell (data, "Tern", 76.2, "L", "L-1", 1, 0.0);

      for (guint i = 0; i < n; i++)
        {
          g_autofree char *code = g_strdup_printf ("T%u", i + 1);

          test_craft_calm_burn (data, test_craft_add_sample (data, cell, code), i == 0 ? 60.0 : 120.0, 0.8, 76.2);
        }

      g_autoptr (WbCraftAnswer) answer = plot_bench_answer_new (data, WB_CRAFT_WITHIN_SCENT);
      g_autoptr (WbChart)       chart = test_plot_new (WB_PLOT_RINGS, answer);

      g_assert_cmpint (strstr (wb_chart_get_title (chart), "in most burns") != NULL, ==, n == 3);
    }
}

/* A pool that a ring holds was read, and tells nothing of the way to the wall. */
static void
test_held_sample (void)
{
  g_autoptr (WbCraftAnswer) answer = plot_bench_small (1);
  WbPlotOptions             options;

  for (guint i = 0; i < answer->figures->n_burns; i++)
    answer->figures->burns[i].ring_held = TRUE;
  wb_plot_options_init (&options, FALSE);
  options.sample = 0;
  g_autoptr (WbChart) held = wb_plot_new (WB_PLOT_GROWTH, answer, &options, NULL);
  assert_title (held, "every pool is held by an earlier ring");
  for (guint i = 0; i < answer->figures->n_burns; i++)
    answer->figures->burns[i].pool_mm = NAN;
  g_autoptr (WbChart) unread = wb_plot_new (WB_PLOT_GROWTH, answer, &options, NULL);
  assert_title (unread, "has no pool reading");
}

static void
test_score (void)
{
  g_autoptr (WbCraftAnswer) answer = make_two (72.2, NAN, 80.0, 3.3);
  g_autoptr (WbChart)       chart = test_plot_new (WB_PLOT_SCORE, answer);

  assert_title (chart, "L-2 leads with a score of 0.81 (0.71 to 0.86); L-1 follows with 0.40");
}

static void
test_rejected (void)
{
  g_autoptr (WbCraftAnswer) answer = make_two (72.2, NAN, 80.0, 3.3);
  g_autoptr (WbChart)       chart = NULL;

  set_rank (answer, 0, 1, 0.12, WB_CRAFT_VERDICT_REJECTED);
  chart = test_plot_new (WB_PLOT_SCORE, answer);
  assert_title (chart, "Even L-2, the first in rank, is out (not the best) with a score of 0.12 (0.02 to 0.17)");
}

static void
test_ranks (void)
{
  g_autoptr (WbCraftAnswer) answer = make_two (72.2, NAN, 80.0, 3.3);
  WbCraftRanked            *cells = answer->ranking->groups[0].cells;

  cells[0].p_best = 0.78;
  cells[1].p_best = 0.2;
  g_autoptr (WbChart) sure = test_plot_new (WB_PLOT_RANKS, answer);
  assert_title (sure, "L-2 is best with a chance of 78" NBSP "%, L-1 with 20" NBSP "%");

  cells[0].p_best = 0.5;
  cells[1].p_best = 0.45;
  g_autoptr (WbChart) open = test_plot_new (WB_PLOT_RANKS, answer);
  assert_title (open, "Open between L-2");

  cells[0].p_best = 0.9999;
  g_autoptr (WbChart) certain = test_plot_new (WB_PLOT_RANKS, answer);
  assert_title (certain, "over 99" NBSP "%");
}

static void
set_loss (WbCraftAnswer *answer,
          guint          group,
          guint          place,
          double         mean,
          double         high)
{
  WbCraftRanked *ranked = &answer->ranking->groups[group].cells[place];

  ranked->expected_loss = mean;
  ranked->loss_high = high;
  ranked->p_best = place == 0 ? 0.9 : 0.1;
  ranked->p_near = place == 0 ? 0.95 : 0.2;
}

static void
test_loss (void)
{
  const struct
  {
    double      mean, high, other;
    const char *title;
  } cases[] = {
    { 0.021, 0.084, 0.12, "Choosing L-2 gives away 0.02 of score on average, over 0.08 in one case of 20; L-1 would give away 0.12" },
    { 0.001, 0.002, 0.30, "Choosing L-2 gives nothing away, even if it is not the best; L-1 would give away 0.30" },
    { 0.020, NAN, 0.12, "Choosing L-2 gives away 0.02 of score on average; L-1 would give away 0.12" },
    /* the other was not burnt */
    { 0.0, 0.0, NAN, "L-2 stands alone: there is nothing to lose against" },
    { NAN, NAN, NAN, "No burn counts yet, so nothing can be lost by a choice" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (WbCraftAnswer) answer = make_two (72.2, NAN, 80.0, 3.3);
      g_autoptr (WbChart)       chart = NULL;

      set_loss (answer, 0, 0, cases[i].mean, cases[i].high);
      set_loss (answer, 0, 1, cases[i].other, cases[i].other + 0.1);
      chart = test_plot_new (WB_PLOT_LOSS, answer);
      assert_title (chart, cases[i].title);
    }
}

/* What is rejected loses nothing against what is rejected too, and is the best of nothing. */
static void
test_nothing_rejected_is_praised (void)
{
  static const WbPlotKind   kinds[] = { WB_PLOT_LOSS, WB_PLOT_RANKS, WB_PLOT_HEAT };
  static const char *const  titles[][3] = {
    /* both rejected */
    { "All that was burnt is out: there is nothing to choose from",
      "All that was burnt is out, even L-2, which has a chance of 90" NBSP "% of being the best of them",
      "Score: all that have a value are out, even L-2 (0.81)" },
    /* the second only */
    { "Choosing L-2 gives nothing away, even if it is not the best",
      "L-2 is best with a chance of 90" NBSP "%; the others that were burnt are out",
      "Score is best in L-2 (0.81) and worst in L-1 (0.40)" },
  };

  for (guint n = 0; n < G_N_ELEMENTS (titles); n++)
    for (gsize i = 0; i < G_N_ELEMENTS (kinds); i++)
      {
        g_autoptr (WbCraftAnswer) answer = make_two (72.2, NAN, 80.0, 3.3);
        g_autoptr (WbChart)       chart = NULL;

        set_loss (answer, 0, 0, 0.0, 0.0);
        set_loss (answer, 0, 1, 0.0, 0.0);
        if (n == 0)
          set_rank (answer, 0, 1, 0.81, WB_CRAFT_VERDICT_REJECTED);
        set_rank (answer, 1, 0, 0.40, WB_CRAFT_VERDICT_REJECTED);
        chart = test_plot_new (kinds[i], answer);
        assert_title (chart, titles[n][i]);
        g_assert_null (strstr (wb_chart_get_title (chart), "L-1 would"));
        if (n == 0)
          g_assert_null (strstr (wb_chart_get_description (chart), "gives away 0"));
      }

  /* The highest score is that of one that is out: another is the best. */
  g_autoptr (WbCraftAnswer) answer = make_two (72.2, NAN, 80.0, 3.3);
  set_rank (answer, 0, 0, 0.40, WB_CRAFT_VERDICT_CANDIDATE);
  set_rank (answer, 1, 1, 0.81, WB_CRAFT_VERDICT_REJECTED);
  wb_craft_ranked_add_reason (&answer->ranking->groups[0].cells[1], "scores_nothing", 0, "It scores nothing.");
  g_autoptr (WbChart) heat = test_plot_new (WB_PLOT_HEAT, answer), score = test_plot_new (WB_PLOT_SCORE, answer);
  assert_title (heat, "Score is best in L-1 (0.40); L-2 (0.81) is out: would not do");
  assert_title (score, "L-2, the next, has 0.81: would not do");
}

/* Two vessels with two scents each: what leads in both scents of a vessel is told once. */
static void
test_several_groups (void)
{
  static const PlotBenchSpec spec = { 2, 2, 2, 1, 1 };
  g_autoptr (WbCraftAnswer)  answer = plot_bench_answer_new (plot_bench_data_new (&spec, 5), WB_CRAFT_WITHIN_SCENT);
  WbCraftRanking            *ranking = answer->ranking;

  g_assert_cmpuint (ranking->n_groups, ==, 4);
  for (guint i = 0; i < ranking->n_groups; i++)
    for (guint k = 0; k < 2; k++)
      {
        WbCraftRanked *ranked = &ranking->groups[i].cells[k];
        const WbWick  *wick = wb_dataset_get_wick (answer->data, ranked->cell);

        ranked->rank = k + 1;
        ranked->verdict = WB_CRAFT_VERDICT_RECOMMENDED;
        ranked->score = (WbCraftInterval) { k == 0 ? 0.80 + 0.02 * i : 0.30, 0.2, 0.9 };
        set_loss (answer, i, k, 0.0, 0.01 * i);
        /* the first wick leads everywhere */
        if (k == 0 && wick->step != 1)
          {
            guint other = ranking->groups[i].cells[1].cell;

            ranking->groups[i].cells[1].cell = ranked->cell;
            ranked->cell = other;
          }
      }

  g_autoptr (WbChart) score = test_plot_new (WB_PLOT_SCORE, answer), ranks = test_plot_new (WB_PLOT_RANKS, answer);
  g_autoptr (WbChart) loss = test_plot_new (WB_PLOT_LOSS, answer);

  assert_title (score, "Recommended by score: L-1 for Heron, 64" NBSP "mm (0.80 to 0.82); L-1 for Tern, 76.2" NBSP "mm (0.84 to 0.86)");
  assert_title (ranks, "Most likely the best: L-1 for Heron, 64" NBSP "mm (90" NBSP "%); L-1 for Tern, 76.2" NBSP "mm (90" NBSP "%)");
  assert_title (loss, "L-1 for Heron, 64" NBSP "mm (0.01); L-1 for Tern, 76.2" NBSP "mm (0.03)");

  /* a group's first one that is rejected, and one that nobody can be held against */
  for (guint k = 0; k < 2; k++)
    ranking->groups[2].cells[k].verdict = ranking->groups[3].cells[k].verdict = WB_CRAFT_VERDICT_REJECTED;
  ranking->groups[0].cells[1].expected_loss = ranking->groups[1].cells[1].expected_loss = NAN;
  g_autoptr (WbChart) lost = test_plot_new (WB_PLOT_LOSS, answer), best = test_plot_new (WB_PLOT_RANKS, answer);
  assert_title (lost, "L-1 for Heron, 64" NBSP "mm (stands alone); L-1 for Tern, 76.2" NBSP "mm (not the best)");
  assert_title (best, "L-1 for Tern, 76.2" NBSP "mm (not the best)");
  for (guint k = 0; k < 2; k++)
    ranking->groups[2].cells[k].verdict = ranking->groups[3].cells[k].verdict = WB_CRAFT_VERDICT_RECOMMENDED;

  /* where the scents differ each is named */
  ranking->groups[0].cells[0].verdict = WB_CRAFT_VERDICT_CANDIDATE;
  g_autoptr (WbChart) mixed = test_plot_new (WB_PLOT_SCORE, answer);
  assert_title (mixed, "First by score: L-1 for Heron, 64" NBSP "mm · ");
  assert_title (mixed, "(candidate, 0.80)");
}

/* Estimates by hand: steps fall, and the wider vessel takes one step more for the same. */
static void
set_time (WbCraftAnswer *answer,
          guint          cell,
          double         hours)
{
  set_growth (answer, cell, isnan (hours) ? 50.0 : 99.0, hours);
  if (!isnan (hours))
    answer->estimates->cells[cell].growth.full_pool_h = (WbCraftInterval) { hours, hours - 0.05, hours + 0.05 };
}

static void
set_effects (WbCraftAnswer *answer,
             double         p_wick,
             double         p_vessel,
             double         p_both)
{
  const double        ps[] = { p_vessel, p_wick, p_both };
  const char *const   names[] = { "vessel", "wick", "vessel:wick" };
  WbCraftEffects     *found = (WbCraftEffects *) wb_craft_answer_get_effects (answer, WB_FIGURE_FULL_POOL);

  g_clear_pointer (&found->refusal, g_free);
  found->slope.interval = (WbCraftInterval) { -0.8, -0.9, -0.7 };
  g_ptr_array_set_size (found->terms, 0);
  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    {
      WbCraftTerm *term = g_new0 (WbCraftTerm, 1);

      term->term = g_strdup (names[i]);
      term->df = 1.0;
      term->p = ps[i];
      g_ptr_array_add (found->terms, term);
    }
}

static void
test_effects (void)
{
  const struct
  {
    double      narrow[3], wide[3], p_wick, p_vessel, p_both;
    const char *title;
  } cases[] = {
    { { 4.0, 3.0, 2.0 }, { 5.0, 4.0, 3.0 }, 0.001, 0.001, 0.6,
      "Time to full melt pool falls with every step up, by about 0.8" NBSP "h a step; Tern, 76.2" NBSP "mm takes about 1 step more than Heron, "
      "64" NBSP "mm for the same; no clear difference in what a step does" },
    { { 4.0, 3.0, 2.0 }, { NAN, 5.0, 3.0 }, 0.001, 0.001, 0.01,
      "about 1 step more than Heron, 64" NBSP "mm for the same; a step does not do as much in each" },
    /* no step does anything but the last */
    { { 4.0, 4.0, 2.5 }, { 4.0, 4.0, 2.5 }, 0.001, 0.6, 0.6,
      "Time to full melt pool never rises with a step up, and falls from 4.0" NBSP "h to 2.5" NBSP "h; no clear difference in what a step does" },
    { { 2.0, 2.0, 3.0 }, { 2.0, 2.0, 3.0 }, 0.001, 0.6, 0.6, "never falls with a step up, and rises from 2.0" NBSP "h to 3.0" NBSP "h" },
    { { 2.0, 2.0, 3.0 }, { 3.0, 3.0, 3.5 }, 0.001, 0.6, 0.6, "Time to full melt pool does not rise with every step up, but never falls" },
    { { 4.0, 3.0, 2.0 }, { 3.0, 2.8, 2.6 }, 0.001, 0.6, 0.001, "the lines cross: which lies higher turns with the wick" },
    { { 4.0, 2.0, 3.0 }, { 4.0, 2.0, 3.0 }, 0.001, 0.6, 0.6, "Time to full melt pool differs by wick, but does not follow its size" },
  };
  static const PlotBenchSpec spec = { 2, 3, 1, 2, 1 };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (WbCraftAnswer) answer = plot_bench_answer_new (plot_bench_data_new (&spec, 5), WB_CRAFT_WITHIN_SCENT);
      g_autoptr (WbChart)       chart = NULL;

      for (guint k = 0; k < 3; k++)
        {
          set_time (answer, k, cases[i].narrow[k]);
          set_time (answer, 3 + k, cases[i].wide[k]);
        }
      set_effects (answer, cases[i].p_wick, cases[i].p_vessel, cases[i].p_both);
      chart = test_plot_new (WB_PLOT_EFFECTS, answer);
      assert_title (chart, cases[i].title);
      /* p values are for the numbers, not for a title */
      g_assert_null (strstr (wb_chart_get_title (chart), "p" NBSP));
      g_assert_null (strstr (wb_chart_get_title (chart), "(p "));
      g_assert_nonnull (strstr (wb_chart_get_footnote (chart), "wick: p"));
    }
}

static void
test_heat (void)
{
  g_autoptr (WbCraftAnswer) answer = make_two (72.2, NAN, 80.0, 3.3);
  g_autoptr (WbChart)       chart = test_plot_new (WB_PLOT_HEAT, answer);
  WbPlotOptions             options;

  assert_title (chart, "Score is best in L-2 (0.81) and worst in L-1 (0.40)");

  wb_plot_options_init (&options, FALSE);
  options.figure = WB_FIGURE_FULL_POOL;
  g_autoptr (WbChart) time = wb_plot_new (WB_PLOT_HEAT, answer, &options, NULL);
  assert_title (time, "L-2: Time to full melt pool 3.3" NBSP "h; 1 combination has none");
}

static void
sign (WbCraftAnswer *answer,
      guint          cell,
      gint64         id)
{
  WbDecision *decision = wb_record_new (&wb_decision_type);

  decision->record.id = id;
  decision->cell = wb_dataset_get_cell (answer->data, cell)->record.id;
  g_ptr_array_add (answer->data->decisions, decision);
}

/* A frame says "signed" of what still is alone. */
static void
test_heat_reopened (void)
{
  static const struct { gsize n; const char *key; } cases[] = {
    { 0, "Framed: signed." }, { 1, "Framed: signed; reopened since: L-2." }, { 2, "Framed: signed, and reopened since: it does not stand." }
  };
  static const gint64       reopened[] = { 902, 901 };
  g_autoptr (WbCraftAnswer) answer = make_two (72.2, NAN, 80.0, 3.3);
  WbPlotOptions             options;

  sign (answer, 0, 901);
  sign (answer, 1, 902);
  wb_plot_options_init (&options, FALSE);
  options.reopened = reopened;
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      options.n_reopened = cases[i].n;

      g_autoptr (WbChart) chart = wb_plot_new (WB_PLOT_HEAT, answer, &options, NULL);

      g_test_message ("%s | %s", wb_chart_get_footnote (chart), wb_chart_get_description (chart));
      g_assert_true (g_str_has_prefix (wb_chart_get_footnote (chart), cases[i].key));
      g_assert_cmpint (strstr (wb_chart_get_description (chart), ", signed and reopened since.") != NULL, ==, cases[i].n > 0);
    }
}

static WbCraftLimit *
find_limit (WbCraftAnswer *answer,
            guint          cell,
            WbLimitKind    kind)
{
  for (guint i = 0; i < answer->data->limits->len; i++)
    if (((const WbLimit *) g_ptr_array_index (answer->data->limits, i))->kind == (int) kind)
      return (WbCraftLimit *) wb_craft_limits_get (answer->limits, cell, i);
  g_assert_not_reached ();
}

/* All limits of all cells, over every third. */
static void
set_limits (WbCraftAnswer    *answer,
            WbCraftLimitState state)
{
  for (guint cell = 0; cell < answer->limits->n_cells; cell++)
    for (guint i = 0; i < answer->limits->n_limits; i++)
      {
        WbCraftLimit *limit = (WbCraftLimit *) wb_craft_limits_get (answer->limits, cell, i);

        limit->state = state;
        limit->set_aside_only = FALSE;
        for (guint stage = 0; stage < WB_N_STAGES; stage++)
          limit->by_stage[stage] = state;
      }
}

/* Each of two samples of a cell crosses the limit: of the one that did it less badly nobody says that it crossed none. */
static void
test_life_of_a_sample (void)
{
  WbDataset                *data = test_craft_data_new ();
  guint                     cell = test_craft_add_cell (data, "Tern", 76.2, "L", "L-1", 1, 0.0);
  const double              flames[] = { 55.0, 52.0, 20.0 };
  WbPlotOptions             options;

  for (guint i = 0; i < G_N_ELEMENTS (flames); i++)
    {
      g_autofree char *code = g_strdup_printf ("T%u", i + 1);
      guint            sample = test_craft_add_sample (data, cell, code);
      guint            burn = test_craft_calm_burn (data, sample, 72.0, 1.2, 76.2);

      test_craft_read (data, burn, 241.0, WB_COLUMN_FLAME_MM, flames[i]);
    }
  /* The third was set aside, and is hot: whatever becomes of it, it was. */
  test_craft_read (data, data->burns->len - 1, 242.0, WB_COLUMN_VESSEL_C, 95.0);
  ((WbSample *) g_ptr_array_index (data->samples, 2))->set_aside_cause = WB_CAUSE_OTHER;

  g_autoptr (WbCraftAnswer) answer = plot_bench_answer_new (data, WB_CRAFT_WITHIN_SCENT);
  const char *const         titles[] = {
    "crosses the house limit of 50" NBSP "mm (flame height)", "crosses the house limit of 50" NBSP "mm (flame height)", "(outside wall of the vessel)",
  };

  for (guint i = 0; i < G_N_ELEMENTS (titles); i++)
    {
      WbCraftPick         pick = { answer, cell, (int) i };
      g_autoptr (WbChart) alone = NULL, beside = wb_plot_beside_new (WB_PLOT_LIFE, &pick, 1, NULL, NULL);
      const WbChartPanel *panel;
      gboolean            marked = FALSE;

      wb_plot_options_init (&options, FALSE);
      options.sample = (int) i;
      alone = wb_plot_new (WB_PLOT_LIFE, answer, &options, NULL);
      assert_title (alone, titles[i]);
      assert_title (beside, titles[i]);
      /* the reading itself is marked where it stands */
      panel = wb_chart_get_panel (alone, i < 2 ? 0 : 1);
      for (guint k = 0; k < wb_chart_panel_get_n_layers (panel); k++)
        marked |= wb_chart_layer_get_kind (wb_chart_panel_get_layer (panel, k)) == WB_CHART_LAYER_TEXT;
      g_assert_true (marked);
    }

  /* Of the cell the worst is told. */
  g_autoptr (WbChart) all = test_plot_new (WB_PLOT_LIFE, answer);
  assert_title (all, "L-1 crosses the house limit of 50" NBSP "mm (flame height)");

  /* A crack is a crack, whatever the limits say. */
  for (guint i = 0; i < data->limits->len; i++)
    ((WbLimit *) g_ptr_array_index (data->limits, i))->off = TRUE;
  set_limits (answer, WB_CRAFT_LIMIT_OFF);
  test_craft_read (data, 2, 243.0, WB_COLUMN_EVENT, WB_EVENT_VESSEL_CRACK);
  g_autoptr (WbChart) cracked = test_plot_new (WB_PLOT_LIFE, answer);
  assert_title (cracked, "the vessel cracked in burn 1 of sample T3");
}

static void
test_life (void)
{
  g_autoptr (WbCraftAnswer) answer = make_two (72.2, NAN, 80.0, 3.3);
  g_autoptr (WbChart)       calm = test_plot_new (WB_PLOT_LIFE, answer);
  guint                     vessel = 0;

  /* Vessel at most 30 + 16 + 0.7 degC, flame at most 19.7 mm, as the calm burns are made. */
  assert_title (calm, "L-2: no limit crossed in what was read");
  g_assert_nonnull (strstr (wb_chart_get_title (calm), "hottest wall 4"));

  while (((const WbLimit *) g_ptr_array_index (answer->data->limits, vessel))->kind != WB_LIMIT_VESSEL)
    vessel++;
  WbCraftLimit *crossed = (WbCraftLimit *) wb_craft_limits_get (answer->limits, 0, vessel);
  crossed->state = WB_CRAFT_LIMIT_CROSSED;
  crossed->worst = 79.0;
  crossed->burn = crossed->sample = 0;
  answer->figures->burns[0].fill_left = 0.2;
  g_autoptr (WbChart) hot = test_plot_new (WB_PLOT_LIFE, answer);
  assert_title (hot, "L-1 crosses the house limit of 77" NBSP "°C (");
  assert_title (hot, ") with 20" NBSP "% of its wax left");
  /* L-2 leads, and is told after what crossed: the end of a title is what goes where it is cut. */
  g_assert_true (g_str_has_prefix (wb_chart_get_title (hot), "L-1 crosses the house limit"));
  assert_title (hot, "; L-2: no limit crossed in what was read");

  /* Where no fill is stated the share is of what the candle burns: how much wax is left nobody knows. */
  for (guint i = 0; i < answer->figures->n_samples; i++)
    {
      answer->figures->thirds[i] = WB_CRAFT_THIRDS_OF_LIFE;
      answer->figures->life_left[i] = 0.0;
    }
  g_autoptr (WbChart) hot_life = test_plot_new (WB_PLOT_LIFE, answer);
  g_assert_null (strstr (wb_chart_get_title (hot_life), "of its wax"));
  crossed->state = WB_CRAFT_LIMIT_PASSED;

  /* One was not tested: "no limit" would be more than anybody knows. */
  set_limits (answer, WB_CRAFT_LIMIT_PASSED);
  ((WbCraftLimit *) find_limit (answer, 1, WB_LIMIT_FLAME_ON_WALL))->state = WB_CRAFT_LIMIT_NOT_TESTED;
  g_autoptr (WbChart) some = test_plot_new (WB_PLOT_LIFE, answer);
  assert_title (some, "L-2: no limit crossed in what was read; hottest wall 4");
  assert_title (some, "; not tested: flame on the vessel wall");
  g_assert_null (strstr (wb_chart_get_title (some), "crosses no limit"));
  find_limit (answer, 1, WB_LIMIT_FLAME_ON_WALL)->state = WB_CRAFT_LIMIT_OFF;
  g_autoptr (WbChart) off = test_plot_new (WB_PLOT_LIFE, answer);
  assert_title (off, "; not tested: flame on the vessel wall");

  /* A crossing of a sample that was set aside is told, with that sample. */
  set_limits (answer, WB_CRAFT_LIMIT_PASSED);
  crossed = find_limit (answer, 1, WB_LIMIT_FLAME_HOUSE);
  crossed->set_aside_only = TRUE;
  crossed->aside.worst = 60.0;
  crossed->aside.sample = 2;
  crossed->aside.burn = 4;
  g_autoptr (WbChart) aside = test_plot_new (WB_PLOT_LIFE, answer);
  assert_title (aside, "L-2 (T3, set aside) crosses the house limit of 50" NBSP "mm (flame height)");

  set_limits (answer, WB_CRAFT_LIMIT_PASSED);
  g_autoptr (WbChart) calm_life = test_plot_new (WB_PLOT_LIFE, answer);
  assert_title (calm_life, "crosses no limit over its whole life: hottest wall 4");

  /* One of the leader's samples was weighed down to two fifths of its fill: its whole life nobody saw. */
  for (guint i = answer->figures->n_samples; i > 0; i--)
    if (g_array_index (answer->data->sample_cell, guint, i - 1) == answer->ranking->groups[0].cells[0].cell)
      {
        answer->figures->thirds[i - 1] = WB_CRAFT_THIRDS_OF_FILL;
        answer->figures->life_left[i - 1] = 0.4;
        break;
      }
  set_limits (answer, WB_CRAFT_LIMIT_NOT_TESTED);
  g_autoptr (WbChart) some_life = test_plot_new (WB_PLOT_LIFE, answer);
  assert_title (some_life, "no limit crossed so far in what was read, with 40" NBSP "% of its wax left; hottest wall 4");
}

static void
test_nothing (void)
{
  g_autoptr (WbCraftAnswer) answer = plot_bench_small (0);

  for (int kind = 0; kind < WB_PLOT_N_KINDS; kind++)
    {
      g_autoptr (WbChart) chart = test_plot_new (kind, answer);

      g_assert_cmpuint (wb_chart_get_n_panels (chart), ==, 1);
      g_assert_true (wb_chart_panel_is_empty (wb_chart_get_panel (chart, 0)));
      assert_title (chart, "No combination to ");
    }
}

static void
test_invented (void)
{
  for (int invented = 0; invented < 2; invented++)
    {
      g_autoptr (WbCraftAnswer) answer = plot_bench_small (2);

      answer->data->notebook->invented = invented;
      for (int kind = 0; kind < WB_PLOT_N_KINDS; kind++)
        {
          g_autoptr (WbChart) chart = test_plot_new (kind, answer);

          g_assert_cmpint (strstr (wb_chart_get_footnote (chart), "Invented data.") != NULL, ==, invented);
        }
    }
}

void
test_finding_add (void)
{
  g_test_add_func ("/plot/finding/growth-tells-who-reaches-the-wall", test_growth);
  g_test_add_func ("/plot/finding/growth-tells-who-reaches-the-wall-and-its-chance", test_growth_chance);
  g_test_add_func ("/plot/finding/growth-tells-it-in-inches", test_growth_in_inches);
  g_test_add_func ("/plot/finding/grid-counts-outcomes", test_grid);
  g_test_add_func ("/plot/finding/rings-tell-what-is-left", test_rings);
  g_test_add_func ("/plot/finding/rings-tell-most-burns-of-more-than-half", test_rings_in_most_burns);
  g_test_add_func ("/plot/finding/a-held-pool-is-a-reading", test_held_sample);
  g_test_add_func ("/plot/finding/score-tells-the-leader-and-how-sure", test_score);
  g_test_add_func ("/plot/finding/a-rejected-leader-is-no-winner", test_rejected);
  g_test_add_func ("/plot/finding/ranks-tell-chances-and-doubt", test_ranks);
  g_test_add_func ("/plot/finding/loss-tells-what-a-wrong-choice-costs", test_loss);
  g_test_add_func ("/plot/finding/nothing-rejected-is-praised", test_nothing_rejected_is_praised);
  g_test_add_func ("/plot/finding/what-leads-in-every-scent-is-told-once", test_several_groups);
  g_test_add_func ("/plot/finding/effects-tell-what-a-step-does", test_effects);
  g_test_add_func ("/plot/finding/heat-tells-best-and-worst", test_heat);
  g_test_add_func ("/plot/finding/a-frame-tells-of-a-decision-that-was-reopened", test_heat_reopened);
  g_test_add_func ("/plot/finding/life-tells-the-crossed-limit", test_life);
  g_test_add_func ("/plot/finding/life-of-a-sample-tells-all-that-it-crossed", test_life_of_a_sample);
  g_test_add_func ("/plot/finding/nothing-is-said-in-words", test_nothing);
  g_test_add_func ("/plot/finding/invented-data-is-named", test_invented);
}
