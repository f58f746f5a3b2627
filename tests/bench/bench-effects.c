/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>

#include "lab-truth.h"
#include "test-craft.h"
#include "wb-craft-effects.h"

/*
 * How often the intervals of effects hold what is true of invented labs: of each pair of wicks by itself, of all
 * pairs of a lab at once, and of what one step up adds. `bench-effects --help` says what can be asked.
 */

typedef struct
{
  guint pairs, alone, labs, all, slopes, slope_held;
} Held;

static const WbFigure figures[] = {
  WB_FIGURE_POOL, WB_FIGURE_POOL_LIMIT, WB_FIGURE_TAU, WB_FIGURE_FULL_POOL, WB_FIGURE_CONSUMPTION, WB_FIGURE_FLAME, WB_FIGURE_VESSEL,
  WB_FIGURE_DEPTH,
};

/* What is true of the typical candle of a cell; of the vessel its rise over the room. */
static double
truth_of (const Lab           *lab,
          const LabStageTruth *truth,
          WbFigure             figure)
{
  switch ((guint) figure)
    {
    case WB_FIGURE_POOL: return truth->limit_mm * lab_grown (lab, LAB_BURN_H, truth->tau_h);
    case WB_FIGURE_POOL_LIMIT: return truth->limit_mm;
    case WB_FIGURE_TAU: return truth->tau_h;
    case WB_FIGURE_FULL_POOL: return truth->full_pool_h;
    case WB_FIGURE_CONSUMPTION: return truth->measure[LAB_CONSUMPTION];
    case WB_FIGURE_FLAME: return truth->measure[LAB_FLAME];
    case WB_FIGURE_VESSEL: return truth->measure[LAB_RISE] - lab->mean_room;
    case WB_FIGURE_DEPTH:
    default: return truth->measure[LAB_DEPTH];
    }
}

/* Mean true difference of two wicks over the vessels and loads that both were poured in; their number. */
static guint
true_difference (const Lab       *lab,
                 const WbDataset *data,
                 const double    *truth,
                 const char      *a,
                 const char      *b,
                 double          *difference)
{
  guint n = 0;

  *difference = 0;
  for (guint i = 0; i < lab->n_cells; i++)
    for (guint j = 0; j < lab->n_cells; j++)
      {
        g_autofree char *one = wb_dataset_dup_wick_name (data, i), *other = wb_dataset_dup_wick_name (data, j);

        if (!lab->cells[i].poured || !lab->cells[j].poured || lab->cells[i].vessel != lab->cells[j].vessel
            || lab->cells[i].load != lab->cells[j].load || !g_str_equal (one, a) || !g_str_equal (other, b))
          continue;
        *difference += truth[i] - truth[j];
        n++;
      }
  *difference /= n;
  return n;
}

/* Of a whole grid: b the mean slope of ln value over step, G the geometric mean; 2 G sinh (b / 2). */
static double
true_step (const Lab    *lab,
           const double *truth)
{
  double sum = 0, slope = 0, square = 0, middle = (lab->spec.steps - 1) / 2.0;

  for (guint i = 0; i < lab->n_cells; i++)
    {
      double step = lab->cells[i].step - middle;

      sum += log (truth[i]) / lab->n_cells;
      slope += step * log (truth[i]);
      square += step * step;
    }
  return 2 * exp (sum) * sinh (slope / square / 2);
}

static gboolean
holds (WbCraftInterval interval,
       double          truth)
{
  return interval.low <= truth && truth <= interval.high;
}

static void
count (const Lab            *lab,
       const WbDataset      *data,
       const double         *truth,
       const WbCraftEffects *effects,
       Held                 *held)
{
  gboolean all = TRUE, whole = TRUE;

  for (guint i = 0; i < lab->n_cells; i++)
    whole = whole && lab->cells[i].poured && isfinite (truth[i]);
  for (guint i = 0; i < effects->comparisons->len; i++)
    {
      const WbCraftComparison *pair = g_ptr_array_index (effects->comparisons, i);
      double difference;

      /* where the program left a combination out, as its pool may never get to the wall, the two are not of the same thing */
      if (true_difference (lab, data, truth, pair->a, pair->b, &difference) != pair->combinations || !isfinite (difference))
        continue;
      held->pairs++;
      held->alone += holds (pair->alone, difference);
      all = all && holds (pair->difference, difference);
    }
  held->labs += effects->comparisons->len > 0;
  held->all += effects->comparisons->len > 0 && all;
  if (whole && effects->slope.text != NULL && effects->figure != WB_FIGURE_FULL_POOL)
    {
      held->slopes++;
      held->slope_held += holds (effects->slope.interval, true_step (lab, truth));
    }
}

static void
ask (const LabSpec *spec,
     guint          number,
     Held          *held)
{
  g_autoptr (Lab) lab = lab_new (spec, number);
  g_autoptr (WbDataset) data = lab_burn (lab);
  g_autoptr (WbCraftFigures) read = wb_craft_figures_new (data);
  g_autoptr (WbCraftEstimates) estimates = wb_craft_estimates_new (data, read, WB_STAGE_ALL, NULL, NULL, NULL);
  g_autofree LabTruth *truth = lab_truth_new (lab, data->aims);
  g_autofree double *of_figure = g_new (double, lab->n_cells);

  for (guint i = 0; i < G_N_ELEMENTS (figures); i++)
    {
      g_autoptr (WbCraftEffects) effects = wb_craft_effects_new (data, read, estimates, figures[i]);

      for (guint cell = 0; cell < lab->n_cells; cell++)
        of_figure[cell] = truth_of (lab, &truth[cell].stage[0], figures[i]);
      count (lab, data, of_figure, effects, &held[i]);
    }
}

static char *
dup_share (guint part,
           guint whole)
{
  return whole > 0 ? g_strdup_printf ("%5.1f", 100.0 * part / whole) : g_strdup ("    -");
}

int
main (int   argc,
      char *argv[])
{
  int labs = 40, samples = 2, burns = 2, seed = 1;
  g_autofree char *world = NULL;
  gboolean missing = FALSE;
  const GOptionEntry entries[] = {
    { "labs", 0, 0, G_OPTION_ARG_INT, &labs, "How many", "N" },
    { "samples", 0, 0, G_OPTION_ARG_INT, &samples, "A cell", "N" },
    { "burns", 0, 0, G_OPTION_ARG_INT, &burns, "A sample", "N" },
    { "world", 0, 0, G_OPTION_ARG_STRING, &world, "Of lab.h, mixed unless told otherwise", "KEY" },
    { "missing", 0, 0, G_OPTION_ARG_NONE, &missing, "A tenth of the cells is not poured", NULL },
    { "seed", 0, 0, G_OPTION_ARG_INT, &seed, "Of the labs", "N" },
    G_OPTION_ENTRY_NULL
  };
  g_autoptr (GOptionContext) context = g_option_context_new (NULL);
  g_autoptr (GError) error = NULL;
  Held held[G_N_ELEMENTS (figures)] = { 0 };
  LabSpec spec = { .vessels = 2, .steps = 5, .loads = 2 };
  char *no_arguments[] = { argv[0], NULL }, **rest = no_arguments;
  int one = 1;

  g_option_context_add_main_entries (context, entries, NULL);
  if (!g_option_context_parse (context, &argc, &argv, &error) || labs < 1 || samples < 1 || burns < 1
      || (world != NULL && lab_world_from_key (world) < 0))
    {
      g_printerr ("%s\n", error != NULL ? error->message : "no such lab; see --help");
      return 2;
    }
  test_craft_init (&one, &rest);
  spec.samples = samples;
  spec.burns = burns;
  spec.world = world != NULL ? (LabWorld) lab_world_from_key (world) : LAB_WORLD_MIXED;
  spec.missing = missing;
  spec.seed = seed;
  for (int number = 0; number < labs; number++)
    ask (&spec, number, held);
  g_print ("%d labs, 2 vessels x 5 steps x 2 loads, %d samples, %d burns: truths in 90 %% intervals, of 100\n", labs, samples, burns);
  g_print ("%-22s %6s %8s %12s %6s\n", "figure", "pairs", "a pair", "all of a lab", "step");
  for (guint i = 0; i < G_N_ELEMENTS (figures); i++)
    {
      g_autofree char *alone = dup_share (held[i].alone, held[i].pairs), *all = dup_share (held[i].all, held[i].labs);
      g_autofree char *slope = dup_share (held[i].slope_held, held[i].slopes);

      g_print ("%-22s %6u %8s %12s %6s\n", wb_figure_get_key (figures[i]), held[i].pairs, alone, all, slope);
    }
  return 0;
}
