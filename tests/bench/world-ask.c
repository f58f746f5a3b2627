/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "world-ask.h"

#include <math.h>
#include <string.h>

#include "wb-craft-ladder.h"
#include "wb-craft-lesson.h"
#include "wb-house.h"
#include "world-informed.h"

#define LADDER_SEED 1

const char *
world_way_get_label (WorldWay way)
{
  static const char *labels[WORLD_N_WAYS] = { "ladder", "its best run", "supplier's chart", "nearest vessel", "informed", "by candles", "oracle" };

  return labels[way];
}

const char *
world_chance_get_label (WorldChance chance)
{
  static const char *labels[WORLD_N_CHANCES] = { "p_holds_best", "p_run_holds", "p_best", "p_near", "p_right", "p_cross" };

  return labels[chance];
}

/* What goes along while a world is asked. */
typedef struct
{
  const World          *world;
  const WorldWickTruth *truth;
  const GPtrArray      *aims;
  GPtrArray            *datasets, *figures, *lessons; /* of the experiments learnt so far */
  WorldTold             told;
} Ask;

static void
learn (Ask  *ask,
       guint earlier)
{
  WbDataset *data = world_burn (ask->world, earlier);
  WbCraftFigures *figures = wb_craft_figures_new (data);
  g_autoptr (WbCraftLimits) limits = wb_craft_limits_new (data, figures);
  g_autoptr (WbCraftEstimates) estimates = wb_craft_estimates_new (data, figures, WB_STAGE_ALL, NULL, NULL, NULL);

  g_ptr_array_add (ask->datasets, data);
  g_ptr_array_add (ask->figures, figures);
  g_ptr_array_add (ask->lessons, wb_craft_lesson_new (data, figures, limits, estimates));
}

static WbCraftLadder *
ask_ladder (const Ask *ask,
            guint      n,
            GPtrArray *wicks)
{
  const World *world = ask->world;
  g_autoptr (GPtrArray) none = g_ptr_array_new ();
  g_autoptr (GPtrArray) lessons = g_ptr_array_new ();
  g_autoptr (WbCraftSchool) school = NULL;
  GPtrArray *guides = n == 0 || ask->told.guides ? world->guide_records : none;
  g_autoptr (GPtrArray) vessels = g_ptr_array_new_with_free_func (wb_record_free);
  WbVessel *vessel = wb_record_new (&wb_vessel_type);
  WbCraftLadderQuestion question = {
    .vessel = (char *) "Next", .vessels = vessels, .inner_diameter_mm = world->inner_mm[world->next_vessel], .load_pct = world->next_load_pct, .load_basis = WB_BASIS_WAX,
    .wax = ((WbWax *) g_ptr_array_index (world->wax_records, world->next_wax))->name, .wicks = 1, .sizes = WORLD_SIZES,
    .room_cold_c = LAB_ROOM_C, .room_warm_c = LAB_ROOM_C, .fill_g = world_fill_g (world),
  };

  vessel->name = g_strdup (question.vessel);
  vessel->inner_diameter_mm = question.inner_diameter_mm;
  vessel->wall = world_get_wall (world, world->next_vessel);
  g_ptr_array_add (vessels, vessel);
  for (guint e = 0; e < n; e++)
    g_ptr_array_add (lessons, g_ptr_array_index (ask->lessons, e));
  school = wb_craft_school_new (lessons, guides, wicks, world->wax_records, NULL, NULL, NULL);
  return wb_craft_ladder_new (&question, school, wicks, guides, world->wax_records, LADDER_SEED);
}

static void
take (const Ask      *ask,
      WorldAnswer    *answer,
      WorldWay        way,
      const gboolean *asked,
      const gboolean *chosen,
      double          said)
{
  WorldPick *pick = &answer->ways[way];

  for (guint w = 0; w < ask->world->n_wicks; w++)
    pick->chosen += chosen[w];
  pick->told = pick->chosen > 0 || way == WORLD_WAY_LADDER; /* no ladder holds nothing */
  pick->holds = world_holds (ask->world, ask->truth, asked, chosen, 0);
  pick->near = world_holds (ask->world, ask->truth, asked, chosen, WORLD_NEAR);
  pick->loss = world_loss (ask->world, ask->truth, asked, chosen);
  pick->said = said;
}

static void
add_stated (WorldAnswer *answer,
            WorldChance  what,
            double       said,
            double       truth)
{
  WorldStated stated = { what, said, truth };

  if (!isnan (said))
    g_array_append_val (answer->stated, stated);
}

static gboolean
was_tried (const World *world,
           guint        wick,
           guint        n)
{
  for (guint e = 0; e < n; e++)
    if (world->earlier[e].tries[wick])
      return TRUE;
  return FALSE;
}

static void
add_figures (const Ask               *ask,
             WorldAnswer             *answer,
             const WorldInformed     *informed,
             guint                    wick,
             const WbCraftLadderStep *step)
{
  const WorldWickTruth *truth = &ask->truth[wick];

  for (guint place = 0; place < WORLD_N_PLACES; place++)
    {
      WbCraftForetoldAt at = step->at[place];
      WbCraftInterval said[WORLD_N_SAID] = {
        at.pool_limit_mm, at.full_pool_h, at.flame_mm, at.vessel_c, at.consumption_g_h, step->burn_h,
      };

      /* a ladder that tells no places of the fill tells of the whole */
      if (place == WORLD_TOP && isnan (at.pool_limit_mm.value))
        {
          said[WORLD_SAID_LIMIT] = step->pool_limit_mm;
          said[WORLD_SAID_FULL_POOL] = step->full_pool_h;
          said[WORLD_SAID_FLAME] = step->flame_mm;
        }

      for (guint s = 0; s < WORLD_N_SAID; s++)
        {
          WorldLine line = {
            wick, place, s, was_tried (ask->world, wick, answer->earlier), truth->figure[place][s], truth->next_pour[place][s],
            truth->oracle_width[place][s], truth->oracle_pour_width[place][s],
            informed != NULL ? informed[wick].width[place][s] : INFINITY,
            s == WORLD_SAID_FULL_POOL ? at.p_never : NAN, said[s],
          };

          if (s != WORLD_SAID_BURN_H || place == WORLD_TOP)
            g_array_append_val (answer->lines, line);
        }
    }
}

static void
read_steps (const Ask           *ask,
            WorldAnswer         *answer,
            const WorldInformed *informed,
            const WbCraftLadder *ladder,
            const gboolean      *asked)
{
  gboolean chosen[WORLD_MOST_WICKS] = { FALSE }, run[WORLD_MOST_WICKS] = { FALSE };
  guint best = world_best (ask->world, ask->truth, asked);

  for (guint i = 0; i < ladder->steps->len; i++)
    {
      const WbCraftLadderStep *step = g_ptr_array_index (ladder->steps, i);
      guint wick = world_find_wick (ask->world, step->wick);
      const WorldWickTruth *truth = &ask->truth[wick];

      chosen[wick] = step->in_ladder;
      run[wick] = step->in_run;
      add_figures (ask, answer, informed, wick, step);
      add_stated (answer, WORLD_CHANCE_BEST, step->p_best, wick == best);
      add_stated (answer, WORLD_CHANCE_NEAR, step->p_near, truth->score >= ask->truth[best].score - WORLD_NEAR);
      add_stated (answer, WORLD_CHANCE_RIGHT, step->p_right, truth->p_right);
      add_stated (answer, WORLD_CHANCE_CROSS, step->p_cross, truth->p_cross);
    }
  take (ask, answer, WORLD_WAY_LADDER, asked, chosen, ladder->p_holds_best);
  take (ask, answer, WORLD_WAY_RUN, asked, run, ladder->p_run_holds_best);
  add_stated (answer, WORLD_CHANCE_HOLDS, ladder->p_holds_best, answer->ways[WORLD_WAY_LADDER].holds);
  if (answer->ways[WORLD_WAY_RUN].told)
    add_stated (answer, WORLD_CHANCE_RUN, ladder->p_run_holds_best, answer->ways[WORLD_WAY_RUN].holds);
}

/* The first experiment whose first vessel is nearest in diameter. */
static guint
nearest_earlier (const World *world,
                 guint        n)
{
  double least = INFINITY;
  guint nearest = 0;

  for (guint e = 0; e < n; e++)
    {
      double off = fabs (world->inner_mm[world->earlier[e].vessels[0]] - world->inner_mm[world->next_vessel]);

      if (off < least)
        nearest = e;
      least = fmin (least, off);
    }
  return nearest;
}

/* The three cells of it, of its first vessel and load, that read best by a plain average. */
static void
take_nearest (const Ask      *ask,
              WorldAnswer    *answer,
              const gboolean *asked)
{
  guint e = nearest_earlier (ask->world, answer->earlier), n = 0;
  const WbDataset *data = g_ptr_array_index (ask->datasets, e);
  g_autofree double *rated = lab_way_rate (LAB_WAY_HALFWAY, data, g_ptr_array_index (ask->figures, e));
  gboolean chosen[WORLD_MOST_WICKS] = { FALSE };

  for (guint w = 0; w < ask->world->n_wicks; w++)
    n += ask->world->earlier[e].tries[w];
  for (guint i = 0; i < WORLD_SIZES; i++)
    {
      guint best = G_MAXUINT;

      for (guint c = 0; c < n; c++)
        if (!isnan (rated[c]) && (best == G_MAXUINT || rated[c] > rated[best]))
          best = c;
      if (best == G_MAXUINT)
        break;
      chosen[world_find_wick (ask->world, ((WbWick *) g_ptr_array_index (data->cell_wicks, best))->record.id)] = TRUE;
      rated[best] = NAN;
    }
  take (ask, answer, WORLD_WAY_NEAREST, asked, chosen, NAN);
}

static WorldAnswer *
answer_after (const Ask *ask,
              guint      n)
{
  WorldAnswer *answer = g_new0 (WorldAnswer, 1);
  g_autoptr (GPtrArray) wicks = g_ptr_array_new ();
  g_autoptr (WbCraftLadder) ladder = NULL;
  g_autofree WorldInformed *informed = n > 0 && !ask->told.quick ? world_informed_new (ask->world, ask->aims, n, FALSE) : NULL;
  gboolean asked[WORLD_MOST_WICKS] = { FALSE }, chosen[WORLD_MOST_WICKS];
  double said;

  answer->earlier = n;
  answer->lines = g_array_new (FALSE, FALSE, sizeof (WorldLine));
  answer->stated = g_array_new (FALSE, FALSE, sizeof (WorldStated));
  for (guint w = 0; w < ask->world->n_wicks; w++)
    {
      asked[w] = world_asks_for (ask->world, w, n) && (!ask->told.burnt || n == 0 || was_tried (ask->world, w, n));
      if (asked[w])
        g_ptr_array_add (wicks, g_ptr_array_index (ask->world->wick_records, w));
    }
  answer->asked = wicks->len;
  if (!ask->told.references)
    {
      ladder = ask_ladder (ask, n, wicks);
      answer->by_history = ladder->rests_on == WB_CRAFT_RESTS_ON_HISTORY;
      read_steps (ask, answer, informed, ladder, asked);
    }
  world_chart (ask->world, asked, chosen);
  take (ask, answer, WORLD_WAY_CHART, asked, chosen, NAN);
  if (n > 0 && !ask->told.references)
    take_nearest (ask, answer, asked);
  if (informed != NULL)
    {
      said = world_informed_choose (ask->world, informed, asked, chosen);
      take (ask, answer, WORLD_WAY_INFORMED, asked, chosen, said);
      g_free (informed);
      informed = world_informed_new (ask->world, ask->aims, n, TRUE);
      said = world_informed_choose (ask->world, informed, asked, chosen);
      take (ask, answer, WORLD_WAY_BY_CANDLES, asked, chosen, said);
    }
  said = world_oracle (ask->world, ask->truth, asked, chosen);
  take (ask, answer, WORLD_WAY_ORACLE, asked, chosen, said);
  return answer;
}

static void
answer_free (gpointer data)
{
  WorldAnswer *answer = data;

  g_array_unref (answer->lines);
  g_array_unref (answer->stated);
  g_free (answer);
}

WorldResult *
world_ask (WorldVariant variant,
           guint64      seed,
           guint        number,
           const guint *counts,
           guint        n_counts,
           WorldTold    told)
{
  WorldResult *self = g_new0 (WorldResult, 1);
  g_autoptr (GPtrArray) aims = wb_aims_new_house ();
  Ask ask = {
    .datasets = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_dataset_free),
    .figures = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_craft_figures_free),
    .lessons = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_lesson_free),
    .told = told,
  };
  gint64 start = g_get_monotonic_time ();

  self->world = world_new (variant, seed, number);
  self->world->untold = told.untold;
  self->answers = g_ptr_array_new_with_free_func (answer_free);
  self->truth = world_truth_new (self->world, aims);
  self->truth_s = (g_get_monotonic_time () - start) / 1e6;
  ask.world = self->world;
  ask.truth = self->truth;
  ask.aims = aims;
  for (guint i = 0; i < n_counts; i++)
    {
      start = g_get_monotonic_time ();
      while (!told.references && ask.datasets->len < counts[i])
        learn (&ask, ask.datasets->len);
      self->learn_s += (g_get_monotonic_time () - start) / 1e6;
      start = g_get_monotonic_time ();
      g_ptr_array_add (self->answers, answer_after (&ask, counts[i]));
      self->answer_s += (g_get_monotonic_time () - start) / 1e6;
    }
  g_ptr_array_unref (ask.lessons);
  g_ptr_array_unref (ask.figures);
  g_ptr_array_unref (ask.datasets);
  return self;
}

void
world_result_free (WorldResult *self)
{
  if (self == NULL)
    return;
  world_free (self->world);
  g_free (self->truth);
  g_ptr_array_unref (self->answers);
  g_free (self);
}

gboolean
world_line_covered (const WorldLine *line,
                    double           truth,
                    gboolean        *under,
                    gboolean        *over)
{
  LabLine as_lab = { .what = LAB_SAID_FULL_POOL, .truth = truth, .p_never = line->p_never, .said = line->said };
  gboolean held = lab_line_covered (&as_lab), above;

  above = !held && (isinf (truth) || truth > line->said.high);
  if (over != NULL)
    *over = above;
  if (under != NULL)
    *under = !held && !above;
  return held;
}
