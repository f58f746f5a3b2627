/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "lab.h"

#include <math.h>
#include <string.h>

#define LOWER_LIMIT 1.05      /* the lower third burns hotter: by how much */
#define LOWER_DEPTH 1.10
#define LOWER_FLAME 1.10
#define LOWER_RISE 1.25
#define LAST_HOT 1.15
#define UNPOURED 0.1          /* share of the cells, where some are missing */
#define ROOM_SD_K 1.5
#define LATE_H 0.2
#define BEND 1.25
#define SHARED_MM 2.0
#define CLOCK_MIN 4.0
#define WILD_SHARE 0.05

static const char *worlds[LAB_N_WORLDS] = {
  [LAB_WORLD_MIXED] = "mixed", [LAB_WORLD_ADDITIVE] = "additive", [LAB_WORLD_OFF3] = "off3", [LAB_WORLD_OFF5] = "off5",
  [LAB_WORLD_BENT] = "bent", [LAB_WORLD_LATE] = "late", [LAB_WORLD_SHARED] = "shared", [LAB_WORLD_CLOCK] = "clock",
  [LAB_WORLD_WILD] = "wild", [LAB_WORLD_LAST] = "last", [LAB_WORLD_SNUFFED] = "snuffed",
};

/* Typical of the weakest and of the strongest wick, each drawn between two figures. */
static const struct { double weak_low, weak_high, strong_low, strong_high; } ladders[LAB_N_MEASURES] = {
  [LAB_DEPTH] = { 4, 7, 11, 17 },
  [LAB_FLAME] = { 12, 18, 30, 46 },
  [LAB_RISE] = { 14, 22, 34, 52 },
  [LAB_CONSUMPTION] = { 2.5, 3.5, 5.5, 8 },
};

static const double thresholds[LAB_N_RATINGS][LAB_MOST_RATING] = {
  [LAB_SOOT] = { 0.6, 1.5, 2.3, 3.0 },
  [LAB_MUSHROOM] = { 0.5, 1.7, INFINITY, INFINITY },
};

const char *
lab_world_get_key (LabWorld world)
{
  return worlds[world];
}

int
lab_world_from_key (const char *key)
{
  for (guint i = 0; i < LAB_N_WORLDS; i++)
    if (g_strcmp0 (key, worlds[i]) == 0)
      return (int) i;
  return -1;
}

void
lab_random_init (const Lab    *self,
                 LabStream     stream,
                 WbCalcRandom *random)
{
  wb_calc_random_init (random, self->spec.seed, (guint64) self->number * LAB_N_STREAMS + stream);
}

double
lab_uniform (WbCalcRandom *random,
             double        low,
             double        high)
{
  return low + (high - low) * wb_calc_random_uniform (random);
}

static double
around (WbCalcRandom *random,
        double        mean,
        double        sd)
{
  return mean + sd * wb_calc_random_normal (random);
}

guint
lab_rating_top (LabRating rating)
{
  return rating == LAB_SOOT ? 4 : 2;
}

double
lab_load_pct (const Lab *self,
              guint      load)
{
  return self->load_pct[load];
}

guint
lab_n_stages (const Lab *self)
{
  return self->spec.stages ? WB_N_STAGES : 1;
}

guint
lab_stage_burns (const Lab *self)
{
  return self->spec.stages ? LAB_STAGE_BURNS : self->spec.burns;
}

guint
lab_n_burns (const Lab *self)
{
  return lab_n_stages (self) * lab_stage_burns (self);
}

WbStage
lab_stage_of (const Lab *self,
              guint      number)
{
  return self->spec.stages ? (WbStage) (number / LAB_STAGE_BURNS) : WB_STAGE_UPPER;
}

double
lab_stage_limit (const Lab *self,
                 WbStage    stage)
{
  double middle = (lab_n_burns (self) - 1) / 2.0;
  double here = stage * lab_stage_burns (self) + (lab_stage_burns (self) - 1) / 2.0;

  return self->trend * (here - middle) + (stage == WB_STAGE_LOWER ? log (LOWER_LIMIT) : 0);
}

double
lab_burn_measure (const Lab *self,
                  guint      number,
                  LabMeasure measure)
{
  static const double lower[LAB_N_MEASURES] = { LOWER_DEPTH, LOWER_FLAME, LOWER_RISE, 1 };
  gboolean last = self->spec.world == LAB_WORLD_LAST && self->spec.stages && number == lab_n_burns (self) - 1;

  return (lab_stage_of (self, number) == WB_STAGE_LOWER ? log (lower[measure]) : 0)
         + (last && (measure == LAB_FLAME || measure == LAB_RISE) ? log (LAST_HOT) : 0);
}

double
lab_stage_measure (const Lab *self,
                   WbStage    stage,
                   LabMeasure measure)
{
  guint n = lab_stage_burns (self);
  double sum = 0;

  for (guint i = 0; i < n; i++)
    sum += lab_burn_measure (self, (guint) stage * n + i, measure);
  return sum / n;
}

double
lab_grown (const Lab *self,
           double     t_h,
           double     tau_h)
{
  double past = fmax (t_h - self->start_h, 0) / tau_h;

  return -expm1 (self->bend == 1 ? -past : -pow (past, self->bend));
}

double
lab_time_to (const Lab *self,
             double     limit_mm,
             double     tau_h,
             double     inner_mm)
{
  double past;

  if (!(limit_mm > inner_mm))
    return INFINITY;
  past = -log1p (-inner_mm / limit_mm);
  return self->start_h + tau_h * (self->bend == 1 ? past : pow (past, 1 / self->bend));
}

double
lab_deviation (const Lab *self,
               double     of_limit,
               double     own)
{
  return self->hot * of_limit + sqrt (1 - self->hot * self->hot) * own;
}

double
lab_off_law (const Lab *self)
{
  switch (self->spec.world)
    {
    case LAB_WORLD_ADDITIVE: return 0;
    case LAB_WORLD_OFF3: return 0.03;
    case LAB_WORLD_OFF5: return 0.05;
    default: return self->number % 2 == 0 ? 0 : 0.03;
    }
}

static void
draw_habits (Lab          *self,
             WbCalcRandom *random)
{
  self->start_h = self->spec.world == LAB_WORLD_LATE ? LATE_H : 0;
  self->bend = self->spec.world == LAB_WORLD_BENT ? BEND : 1;
  self->trend = lab_uniform (random, -0.01, 0.03);
  self->room_effect = around (random, 0.004, 0.001);
  self->limit_sample_sd = 0.04 * exp (around (random, 0, 0.2));
  self->limit_burn_sd = 0.025 * exp (around (random, 0, 0.2));
  for (guint m = 0; m < LAB_N_MEASURES; m++)
    {
      self->measure_sample_sd[m] = lab_uniform (random, 0.06, 0.10);
      self->measure_burn_sd[m] = lab_uniform (random, 0.04, 0.08);
      self->measure_reader_sd[m] = lab_uniform (random, 0.02, 0.05);
    }
  for (guint r = 0; r < LAB_N_RATINGS; r++)
    {
      self->rating_sample_sd[r] = lab_uniform (random, 0.2, 0.5);
      for (guint i = 0; i < LAB_MOST_RATING; i++)
        self->threshold[r][i] = around (random, thresholds[r][i], 0.1);
    }
  self->hot = lab_uniform (random, 0.35, 0.65);
  self->shared_mm = lab_uniform (random, 0.5, 0.9);
  self->own_mm = lab_uniform (random, 0.8, 1.2);
  if (self->spec.world == LAB_WORLD_SHARED)
    self->shared_mm = SHARED_MM;
  self->clock_sd_min = self->spec.world == LAB_WORLD_CLOCK ? CLOCK_MIN : 0;
  self->wild_share = self->spec.world == LAB_WORLD_WILD ? WILD_SHARE : 0;
}

/* What all cells of the lab have in common: what a step and a load change. */
typedef struct
{
  double limit_slope, limit_load;
  double measure_slope[LAB_N_MEASURES], measure_load[LAB_N_MEASURES];
  double latent[LAB_N_RATINGS], latent_slope[LAB_N_RATINGS], latent_load[LAB_N_RATINGS];
  double tau_sd;
} Law;

/* The weakest wick usually stays short of the wall, the strongest is there within an hour or two: walls are common. */
static void
draw_law (Lab          *self,
          WbCalcRandom *random,
          Law          *law)
{
  double gaps = self->spec.steps - 1;
  double weak = log (lab_uniform (random, 0.80, 0.95));
  double strong = log (lab_uniform (random, 1.15, 1.50));
  double base[LAB_N_MEASURES];

  law->limit_slope = (strong - weak) / gaps;
  law->limit_load = lab_uniform (random, -0.04, 0.04);
  law->tau_sd = lab_uniform (random, 0.03, 0.08);
  for (guint m = 0; m < LAB_N_MEASURES; m++)
    {
      double low = log (lab_uniform (random, ladders[m].weak_low, ladders[m].weak_high));
      double high = log (lab_uniform (random, ladders[m].strong_low, ladders[m].strong_high));

      base[m] = (low + high) / 2;
      law->measure_slope[m] = (high - low) / gaps;
      law->measure_load[m] = around (random, 0, 0.03);
    }
  for (guint r = 0; r < LAB_N_RATINGS; r++)
    {
      law->latent[r] = lab_uniform (random, -0.6, 0.4);
      law->latent_slope[r] = lab_uniform (random, 1.5, 3) / gaps;
      law->latent_load[r] = around (random, 0.2, 0.1);
    }
  for (guint v = 0; v < LAB_MOST_VESSELS; v++)
    {
      LabVessel *vessel = &self->vessels[v];

      vessel->inner_mm = round (v == 0 ? lab_uniform (random, 66, 74) : lab_uniform (random, 80, 90));
      vessel->log_limit = log (vessel->inner_mm) + (weak + strong) / 2 + around (random, 0, 0.03);
      vessel->log_tau = lab_uniform (random, log (1.0), log (1.6));
      for (guint m = 0; m < LAB_N_MEASURES; m++)
        vessel->log_measure[m] = base[m] + around (random, 0, 0.06);
    }
}

static void
draw_cell (const Lab    *self,
           const Law    *law,
           WbCalcRandom *random,
           LabCell      *cell)
{
  const LabVessel *vessel = &self->vessels[cell->vessel];
  double off = lab_off_law (self);
  double step = cell->step - (self->spec.steps - 1) / 2.0;
  double load = self->spec.loads > 1 ? cell->load - 0.5 : 0;

  cell->log_limit = vessel->log_limit + law->limit_slope * step + law->limit_load * load + around (random, 0, off);
  cell->tau_h = exp (vessel->log_tau + around (random, 0, law->tau_sd));
  for (guint m = 0; m < LAB_N_MEASURES; m++)
    cell->log_measure[m] = vessel->log_measure[m] + law->measure_slope[m] * step + law->measure_load[m] * load
                           + around (random, 0, off);
  for (guint r = 0; r < LAB_N_RATINGS; r++)
    cell->latent[r] = law->latent[r] + law->latent_slope[r] * step + law->latent_load[r] * load
                      + around (random, 0, LAB_LATENT_OFF * off);
  cell->poured = !self->spec.missing || wb_calc_random_uniform (random) >= UNPOURED;
}

static void
draw_rooms (Lab    *self,
            double  room_c)
{
  guint burns = self->spec.samples * lab_n_burns (self), read = 0;
  WbCalcRandom random;

  lab_random_init (self, LAB_STREAM_ROOMS, &random);
  self->rooms = g_new (double, self->n_cells * burns);
  for (guint i = 0; i < self->n_cells * burns; i++)
    {
      self->rooms[i] = around (&random, room_c, ROOM_SD_K);
      if (!self->cells[i / burns].poured)
        continue;
      self->mean_room += self->rooms[i];
      read++;
    }
  self->mean_room = read > 0 ? self->mean_room / read : LAB_ROOM_C;
}

static Lab *
lab_alloc (const LabSpec *spec,
           guint          number)
{
  Lab *self = g_new0 (Lab, 1);

  self->spec = *spec;
  self->number = number;
  self->load_pct[0] = 6;
  self->load_pct[1] = 10;
  return self;
}

Lab *
lab_new_habits (const LabSpec *spec,
                guint          number)
{
  Lab *self = lab_alloc (spec, number);
  WbCalcRandom random;

  lab_random_init (self, LAB_STREAM_LAW, &random);
  draw_habits (self, &random);
  self->mean_room = LAB_ROOM_C;
  return self;
}

Lab *
lab_new_given (const LabSpec   *spec,
               guint            number,
               const Lab       *like,
               const LabVessel *vessels,
               guint            n_vessels,
               const LabCell   *cells,
               guint            n_cells,
               const double     load_pct[2],
               double           room_c)
{
  Lab *self = g_new0 (Lab, 1);

  g_assert (n_vessels >= 1 && n_vessels <= LAB_MOST_VESSELS && spec->samples >= 1 && spec->burns >= 1);

  *self = *like;
  self->spec = *spec;
  self->number = number;
  self->load_pct[0] = load_pct[0];
  self->load_pct[1] = load_pct[1];
  memcpy (self->vessels, vessels, n_vessels * sizeof *vessels);
  self->n_cells = n_cells;
  self->cells = g_memdup2 (cells, n_cells * sizeof *cells);
  draw_rooms (self, room_c);
  self->mean_room = LAB_ROOM_C;
  return self;
}

Lab *
lab_new (const LabSpec *spec,
         guint          number)
{
  Lab *self = lab_alloc (spec, number);
  WbCalcRandom random;
  Law law;

  g_assert (spec->vessels >= 1 && spec->vessels <= LAB_MOST_VESSELS && spec->steps >= 2);
  g_assert (spec->loads >= 1 && spec->loads <= 2 && spec->samples >= 1 && spec->burns >= 1);

  lab_random_init (self, LAB_STREAM_LAW, &random);
  draw_habits (self, &random);
  draw_law (self, &random, &law);
  self->n_cells = spec->vessels * spec->loads * spec->steps;
  self->cells = g_new0 (LabCell, self->n_cells);
  for (guint i = 0; i < self->n_cells; i++)
    {
      self->cells[i].step = i % spec->steps;
      self->cells[i].load = i / spec->steps % spec->loads;
      self->cells[i].vessel = i / spec->steps / spec->loads;
      draw_cell (self, &law, &random, &self->cells[i]);
    }
  draw_rooms (self, LAB_ROOM_C);
  return self;
}

void
lab_free (Lab *self)
{
  if (self == NULL)
    return;
  g_free (self->cells);
  g_free (self->rooms);
  g_free (self);
}
