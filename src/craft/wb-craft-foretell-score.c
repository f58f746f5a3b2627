/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-foretell-private.h"

#include <math.h>

#include "wb-calc-random.h"
#include "wb-craft-scale-private.h"
#include "wb-craft-workers-private.h"

/*
 * What is foretold, laid out as the draws of an experiment that nobody burnt, so that the ranking's one score judges it: a cell a recipe, by the
 * protocol, aims and limits that the question brings, else by the house's with the tightest limits that the notebook has. Levels are those of typical candles; between candles they differ
 * as candles of one pour do, and pours with them.
 */

#define LEAST_RISE_K 1.0

static void
free_draw (gpointer data)
{
  WbCraftDraw *draw = data;

  g_free (draw->level);
  g_free (draw->pace);
  g_free (draw->sample_sd);
  g_free (draw->burn_sd);
  g_free (draw->read);
  g_free (draw);
}

/* ---- the experiment ---- */

static void
tighten (WbDataset   *data,
         WbLimitKind  kind,
         double       stop)
{
  for (guint i = 0; i < data->limits->len; i++)
    {
      WbLimit *limit = g_ptr_array_index (data->limits, i);

      if (limit->kind == (int) kind)
        limit->stop_at = stop;
    }
}

static void
add_cell (WbDataset *data,
          WbVessel  *vessel,
          guint      wicks)
{
  WbCell *cell = wb_record_new (&wb_cell_type);

  cell->record.id = data->cells->len + 1;
  cell->vessel = vessel->record.id;
  cell->wick_count = wicks;
  g_ptr_array_add (data->cells, cell);
  g_ptr_array_add (data->cell_vessels, vessel);
  g_ptr_array_add (data->cell_wicks, NULL);
  g_ptr_array_add (data->cell_fragrances, NULL);
}

static void
take_all (GPtrArray **into,
          GPtrArray  *records)
{
  g_ptr_array_unref (*into);
  *into = records;
}

static GPtrArray *
dup_all (const GPtrArray *records)
{
  GPtrArray *copies = g_ptr_array_new_with_free_func (wb_record_free);

  for (guint i = 0; i < records->len; i++)
    g_ptr_array_add (copies, wb_record_copy (g_ptr_array_index (records, i)));
  return copies;
}

static int
find_model (WbFigure figure)
{
  WbFigure wanted = figure == WB_FIGURE_FULL_POOL ? WB_FIGURE_POOL_LIMIT : figure;

  for (int model = 0; model < WB_CRAFT_SCHOOL_N_MODELS; model++)
    if (wb_craft_school_get_belief (model)->figure == wanted)
      return model;
  return -1;
}

/* Of profiles that ask for what no model knows alone, as for throw, there is nothing to foretell. */
static gboolean
asks_what_is_foretold (const WbCraftForetell *self,
                       const GPtrArray       *aims)
{
  for (guint i = 0; i < aims->len; i++)
    {
      const WbAim *aim = g_ptr_array_index (aims, i);
      int model = find_model ((WbFigure) aim->figure);

      if (aim->weight > 0 && model >= 0 && self->figures[model].told)
        return TRUE;
    }
  return FALSE;
}

/* Protocol with its limits, profile with its aims: each pair is the question's or the house's. */
static void
lay_out_judge (const WbCraftForetell *self,
               WbDataset             *data)
{
  const WbCraftLadderQuestion *question = self->question;
  gboolean own_limits = question->protocol != NULL && question->limits != NULL;
  gboolean own_aims = question->profile != NULL && question->aims != NULL && asks_what_is_foretold (self, question->aims);

  data->protocol = own_limits ? wb_record_copy (question->protocol) : wb_protocol_new_house ();
  data->profile = own_aims ? wb_record_copy (question->profile) : wb_profile_new_house ();
  take_all (&data->limits, own_limits ? dup_all (question->limits) : wb_limits_new_house ());
  take_all (&data->aims, own_aims ? dup_all (question->aims) : wb_aims_new_house ());
  if (own_limits)
    return;
  tighten (data, WB_LIMIT_FLAME_HOUSE, self->school->flame_stop);
  tighten (data, WB_LIMIT_VESSEL, self->school->vessel_stop);
}

/* Leaves the aims of the first `stages` thirds. */
static void
drop_aims (WbDataset *data,
           WbStage    stages)
{
  for (guint i = data->aims->len; i > 0; i--)
    if (((const WbAim *) g_ptr_array_index (data->aims, i - 1))->stage >= (int) stages)
      g_ptr_array_remove_index (data->aims, i - 1);
}

static WbDataset *
lay_out (const WbCraftForetell *self,
         WbStage                stages)
{
  WbDataset *data = wb_dataset_new ();
  WbVessel *vessel = wb_record_new (&wb_vessel_type);

  lay_out_judge (self, data);
  drop_aims (data, stages);
  vessel->record.id = 1;
  vessel->inner_diameter_mm = self->question->inner_diameter_mm;
  g_ptr_array_add (data->vessels, vessel);
  for (guint i = 0; i < self->n; i++)
    add_cell (data, vessel, g_array_index (self->seats, WbCraftSeat, i).wicks);
  return data;
}

/* ---- the draws ---- */

/*
 * A spread that was pooled over so many candles, as it may be in a draw; chi-square over its degrees of freedom by Wilson and Hilferty,
 * Proc. Natl. Acad. Sci. 17 (1931) 684, whose error is nothing beside the spread's own.
 */
static double
draw_spread (double        sd,
             double        df,
             WbCalcRandom *random)
{
  double ninth = 2 / (9 * df), root = fmax (1 - ninth + sqrt (ninth) * wb_calc_random_normal (random), 0.1);

  return sd / sqrt (root * root * root);
}

static void
fill_spreads (const WbCraftForetell *self,
              guint                  model,
              WbCraftDraw           *draw)
{
  const WbCraftSchoolModel *of = &self->school->models[model];
  gboolean peak = draw->look == WB_CRAFT_LOOK_PEAK;

  for (guint i = 0; i < self->n_draws; i++)
    {
      guint64 state = self->seed + 0x5bd1e995u * (guint64) (1 + model + WB_CRAFT_SCHOOL_N_MODELS * peak);
      double pour = wb_craft_scale_is_rating (draw->figure) ? 0 : self->figures[model].pour_sd[i];
      WbCalcRandom random;

      wb_calc_random_init (&random, wb_calc_random_split (&state), i);
      draw->sample_sd[i] = hypot (pour, draw_spread (peak ? of->peak_sample_sd : of->sample_sd, peak ? of->peak_df : of->sample_df, &random));
      draw->burn_sd[i] = draw_spread (peak ? of->peak_burn_sd : of->burn_sd, peak ? of->peak_df : of->burn_df, &random);
    }
}

/* Aims are judged in the rooms that were named, limits in the warmest. */
static void
fill_levels (const WbCraftForetell *self,
             guint                  model,
             WbCraftDraw           *draw)
{
  gboolean limit = draw->look == WB_CRAFT_LOOK_PEAK;
  double middle = (self->cold_c + self->warm_c) / 2;

  if (draw->figure == WB_FIGURE_VESSEL)
    draw->offset = limit ? self->warm_c : middle;
  for (guint i = 0; i < self->n_draws; i++)
    for (guint k = 0; k < self->n; k++)
      {
        gsize at = (gsize) i * self->n + k;
        double room = limit ? self->warm_c : self->room_c[i];

        draw->level[at] = wb_craft_foretell_get (self, model, draw->stage, (WbLessonLook) draw->look, i, k, room);
        if (draw->figure == WB_FIGURE_VESSEL && !limit)
          draw->level[at] = log (fmax (exp (draw->level[at]) + room - middle, LEAST_RISE_K));
        if (draw->growth)
          draw->pace[at] = wb_craft_foretell_get_pace (self, draw->stage, i, k);
      }
}

static void
add_draw (const WbCraftForetell *self,
          WbCraftDraws          *draws,
          WbFigure               figure,
          WbStage                stage,
          WbCraftLook            look)
{
  int model = find_model (figure);
  gsize n = MAX ((gsize) self->n * self->n_draws, 1);
  WbCraftDraw *draw;

  if (model < 0 || !self->figures[model].told || wb_craft_draws_find (draws, figure, stage, look) != NULL)
    return;
  draw = g_new0 (WbCraftDraw, 1);
  draw->figure = figure;
  draw->stage = stage;
  draw->look = look;
  draw->growth = figure == WB_FIGURE_FULL_POOL;
  draw->log_scale = wb_craft_scale_is_log (figure);
  draw->exponent = self->exponent;
  wb_craft_scale_get_ends (figure, &draw->low, &draw->high);
  draw->level = g_new (double, n);
  draw->pace = draw->growth ? g_new (double, n) : NULL;
  draw->sample_sd = g_new (double, self->n_draws);
  draw->burn_sd = g_new (double, self->n_draws);
  draw->read = g_new (gboolean, MAX (self->n, 1));
  for (guint k = 0; k < self->n; k++)
    draw->read[k] = TRUE;
  g_ptr_array_add (draws->all, draw);
}

typedef struct { const WbCraftForetell *self; WbCraftDraws *draws; } Job;

static void
fill_piece (WbCraftWorkers *workers,
            guint           index,
            gpointer        data)
{
  const Job *job = data;
  WbCraftDraw *draw = g_ptr_array_index (job->draws->all, index);

  fill_levels (job->self, (guint) find_model (draw->figure), draw);
  fill_spreads (job->self, (guint) find_model (draw->figure), draw);
}

/* Figures of a candle go together as those of wicks do: a candle that melts wide has a tall flame and a warm vessel. Lower Cholesky factor. */
static void
relate (WbCraftKinship *kinship)
{
  guint n = WB_N_FIGURES;
  double strength[WB_N_FIGURES] = { 0 };

  for (guint figure = 0; figure < n; figure++)
    strength[figure] = find_model (figure) >= 0 ? wb_craft_school_get_belief (find_model (figure))->strength : 0;
  kinship->n = n;
  kinship->root = g_new0 (double, (gsize) n * n);
  for (guint i = 0; i < n; i++)
    for (guint j = 0; j <= i; j++)
      {
        double sum = i == j ? 1 : strength[i] * strength[j];

        for (guint k = 0; k < j; k++)
          sum -= kinship->root[i * n + k] * kinship->root[j * n + k];
        kinship->root[i * n + j] = i == j ? sqrt (fmax (sum, 0.01)) : sum / kinship->root[j * n + j];
      }
}

static WbCraftDraws *
draw_all (const WbCraftForetell *self,
          const WbDataset       *data,
          WbStage                stages)
{
  static const WbFigure watched[] = { WB_FIGURE_FLAME, WB_FIGURE_VESSEL };
  WbCraftDraws *draws = g_new0 (WbCraftDraws, 1);
  g_autoptr (GArray) aims = wb_craft_aims_new (data);
  Job job = { self, draws };

  draws->n_draws = self->n_draws;
  draws->n_cells = self->n;
  draws->all = g_ptr_array_new_with_free_func (free_draw);
  for (guint i = 0; i < aims->len; i++)
    {
      const WbCraftAim *aim = &g_array_index (aims, WbCraftAim, i);

      add_draw (self, draws, aim->figure, aim->stage, wb_craft_look_of (aim));
    }
  for (WbStage stage = 0; stage < stages; stage++)
    for (guint i = 0; i < G_N_ELEMENTS (watched); i++)
      add_draw (self, draws, watched[i], stage, WB_CRAFT_LOOK_PEAK);
  wb_craft_workers_run (draws->all->len, fill_piece, &job, NULL, NULL);
  relate (&draws->candles);
  return draws;
}

static WbCraftScore *
score_thirds (const WbCraftForetell *self,
              WbStage                stages)
{
  g_autoptr (WbDataset) data = lay_out (self, stages);
  g_autoptr (WbCraftDraws) draws = draw_all (self, data, stages);
  g_autofree guint *members = g_new (guint, MAX (self->n, 1));

  for (guint i = 0; i < self->n; i++)
    members[i] = i;
  return wb_craft_score_new (data, draws, members, self->n, self->seed, NULL, NULL);
}

WbCraftScore *
wb_craft_foretell_score (const WbCraftForetell *self)
{
  return score_thirds (self, WB_N_STAGES);
}

WbCraftScore *
wb_craft_foretell_score_upper (const WbCraftForetell *self)
{
  return score_thirds (self, WB_STAGE_UPPER + 1);
}
