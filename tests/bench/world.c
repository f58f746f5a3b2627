/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "world.h"

#include <math.h>

#define NARROWEST_MM 60.0
#define WIDEST_MM 92.0
#define CHART_MM 9.0          /* a step of a supplier's chart, and what each size is for */
#define STEADY_OTHER 0.1      /* of a steady maker's experiments are with another wax */
#define WORLD_STREAM 0        /* of draws; each of a lab's numbers has its own */

static const char *variants[WORLD_N_VARIANTS] = {
  "plain", "curved", "off5", "material", "upper", "newwax", "newseries", "snuffed", "steady",
};

static const double loads[] = { 0, 4, 6, 8, 10 };

const char *
world_variant_get_key (WorldVariant variant)
{
  return variants[variant];
}

int
world_variant_from_key (const char *key)
{
  for (guint i = 0; i < WORLD_N_VARIANTS; i++)
    if (g_strcmp0 (key, variants[i]) == 0)
      return (int) i;
  return -1;
}

void
world_random_init (const World  *self,
                   guint         stream,
                   WbCalcRandom *random)
{
  wb_calc_random_init (random, self->seed + G_GUINT64_CONSTANT (0x9e3779b97f4a7c15), (guint64) self->number * LAB_N_STREAMS + stream);
}

static guint
pick (WbCalcRandom *random,
      guint         n)
{
  return (guint) wb_calc_random_below (random, n);
}

static void
draw_wicks (World        *self,
            WbCalcRandom *random)
{
  self->n_series = 2 + pick (random, 2);
  if (self->variant == WORLD_STEADY)
    self->n_series = 2;
  for (guint s = 0; s < self->n_series; s++)
    {
      double level = WORLD_LEVEL_SD * wb_calc_random_normal (random), gap = lab_uniform (random, WORLD_GAP_LOW, WORLD_GAP_HIGH);

      self->n_steps[s] = 5 + pick (random, 3);
      self->series[s] = world_draw_shift (random, WORLD_SERIES_SD, 0);
      self->series[s].of[WORLD_LIMIT] = 0;
      for (guint i = 0; i < self->n_steps[s]; i++)
        {
          WorldWick *wick = &self->wicks[self->n_wicks++];

          wick->series = s;
          wick->step = i;
          wick->strength = level + gap * (i - (self->n_steps[s] - 1) / 2.0 + WORLD_UNEVEN * wb_calc_random_normal (random));
          wick->own = world_draw_shift (random, WORLD_WICK_SD, 0);
        }
    }
}

/* Diameters from all parts of the range. */
static void
draw_vessels (World        *self,
              WbCalcRandom *random)
{
  for (guint v = 0; v < WORLD_VESSELS; v++)
    {
      double place = (v + wb_calc_random_uniform (random)) / WORLD_VESSELS;

      self->inner_mm[v] = round (10 * (NARROWEST_MM + (WIDEST_MM - NARROWEST_MM) * place)) / 10;
      self->is_tin[v] = wb_calc_random_uniform (random) < 0.5;
      for (guint w = 0; w < self->n_wicks; w++)
        for (guint f = 0; f < WORLD_N_FIGURES; f++)
          self->off[v][w].of[f] = self->off_sd.of[f] * wb_calc_random_normal (random);
    }
}

/* The step of a series whose pool would be full nearest to when it is due, by the law alone. */
static double
fitting_step (const World *self,
              guint        series,
              guint        vessel,
              guint        wax,
              double       load_pct)
{
  double inner = self->inner_mm[vessel], least = INFINITY, best = 0;

  for (guint w = 0; w < self->n_wicks; w++)
    {
      double tau = exp (world_law (self, WORLD_TAU, vessel, w, wax, load_pct));
      double wanted = inner / -expm1 (-inner / 25.4 / tau);
      double off = fabs (world_law (self, WORLD_LIMIT, vessel, w, wax, load_pct) - log (wanted));

      if (self->wicks[w].series != series || off >= least)
        continue;
      least = off;
      best = self->wicks[w].step;
    }
  return best;
}

/* Three neighbours or up to `more` - 1 more of a series around what the maker takes for right, which may be a step off. */
static void
try_series (const World     *self,
            WorldExperiment *experiment,
            guint            series,
            guint            more,
            WbCalcRandom    *random)
{
  int n = 3 + (int) pick (random, more), last = (int) self->n_steps[series] - 1;
  int middle = (int) fitting_step (self, series, experiment->vessels[0], experiment->wax, experiment->load_pct[0])
               + (int) pick (random, 3) - 1;
  int first = CLAMP (middle - n / 2, 0, last - n + 1);

  for (guint w = 0; w < self->n_wicks; w++)
    if (self->wicks[w].series == series && (int) self->wicks[w].step >= first && (int) self->wicks[w].step < first + n)
      experiment->tries[w] = TRUE;
}

static guint
pick_vessel (const World  *self,
             WbCalcRandom *random)
{
  return (self->next_vessel + 1 + pick (random, WORLD_VESSELS - 1)) % WORLD_VESSELS;
}

static void
draw_experiment (World           *self,
                 WorldExperiment *experiment,
                 WbCalcRandom    *random)
{
  guint new_series = self->variant == WORLD_NEW_SERIES, tried = self->n_series - new_series;
  guint series = pick (random, tried);

  experiment->n_vessels = wb_calc_random_uniform (random) < 0.15 ? 2 : 1;
  experiment->vessels[0] = pick_vessel (self, random);
  do
    experiment->vessels[1] = pick_vessel (self, random);
  while (experiment->vessels[1] == experiment->vessels[0]);
  experiment->wax = pick (random, self->n_waxes - (self->variant == WORLD_NEW_WAX));
  experiment->n_loads = wb_calc_random_uniform (random) < 0.3 ? 2 : 1;
  experiment->load_pct[0] = loads[pick (random, G_N_ELEMENTS (loads))];
  do
    experiment->load_pct[1] = loads[pick (random, G_N_ELEMENTS (loads))];
  while (experiment->load_pct[1] == experiment->load_pct[0]);
  try_series (self, experiment, series, 3, random);
  if (tried > 1 && wb_calc_random_uniform (random) < 0.15)
    try_series (self, experiment, (series + 1) % tried, 3, random);
  experiment->burns = 2 + pick (random, 3);
  experiment->room_c = LAB_ROOM_C + wb_calc_random_normal (random);
  experiment->pour = world_draw_shift (random, WORLD_POUR_SD, WORLD_HOT);
}

/* A maker who knows what to learn: a part of all series each time, and one wax and load but for a wax tried in a tenth. */
static void
draw_steady (World        *self,
             WbCalcRandom *random)
{
  guint wax = pick (random, self->n_waxes);
  double load_pct = loads[pick (random, G_N_ELEMENTS (loads))];

  for (guint e = 0; e < WORLD_EARLIER; e++)
    {
      WorldExperiment *experiment = &self->earlier[e];
      gboolean other = wb_calc_random_uniform (random) < STEADY_OTHER;

      *experiment = (WorldExperiment) { .n_vessels = 1, .n_loads = 1, .load_pct = { load_pct, load_pct } };
      experiment->vessels[0] = experiment->vessels[1] = pick_vessel (self, random);
      experiment->wax = (wax + other) % self->n_waxes;
      for (guint s = 0; s < self->n_series; s++)
        try_series (self, experiment, s, 2, random);
      experiment->room_c = LAB_ROOM_C + wb_calc_random_normal (random);
      experiment->pour = world_draw_shift (random, WORLD_POUR_SD, WORLD_HOT);
    }
  self->next_wax = wax;
  self->next_load_pct = load_pct;
}

static void
draw_next (World        *self,
           WbCalcRandom *random)
{
  guint other = pick (random, self->n_waxes);

  self->next_wax = self->variant == WORLD_NEW_WAX ? self->n_waxes - 1
                   : wb_calc_random_uniform (random) < 0.75 ? self->earlier[0].wax : other;
  self->next_load_pct = loads[pick (random, G_N_ELEMENTS (loads))];
  if (self->variant == WORLD_STEADY)
    draw_steady (self, random);
  self->next_pour = world_draw_shift (random, WORLD_POUR_SD, WORLD_HOT);
  for (guint s = 0; s < self->n_series; s++)
    {
      double step = fitting_step (self, s, self->next_vessel, self->next_wax, self->next_load_pct)
                    + wb_calc_random_normal (random);

      self->charted[s] = (guint) CLAMP (round (step), 0, self->n_steps[s] - 1.0);
    }
}

gint64
world_wick_id (guint wick)
{
  return 101 + wick;
}

guint
world_find_wick (const World *self,
                 gint64       id)
{
  return id >= world_wick_id (0) && id < world_wick_id (self->n_wicks) ? (guint) (id - world_wick_id (0)) : G_MAXUINT;
}

static void
make_records (World *self)
{
  static const char *series[WORLD_MOST_SERIES] = { "Sedge", "Rush", "Reed" };
  static const char *waxes[WORLD_MOST_WAXES] = { "Tarn wax", "Fell wax", "Moor wax" };

  self->wick_records = g_ptr_array_new_with_free_func (wb_record_free);
  self->wax_records = g_ptr_array_new_with_free_func (wb_record_free);
  self->guide_records = g_ptr_array_new_with_free_func (wb_record_free);
  for (guint w = 0; w < self->n_wicks; w++)
    {
      const WorldWick *of = &self->wicks[w];
      WbWick *wick = wb_record_new (&wb_wick_type);
      WbWickGuide *guide = wb_record_new (&wb_wick_guide_type);
      double steps = (double) of->step - self->charted[of->series];
      double middle = self->inner_mm[self->next_vessel] + CHART_MM * steps;

      wick->record.id = world_wick_id (w);
      wick->series = g_strdup (series[of->series]);
      wick->size = g_strdup_printf ("%c-%u", series[of->series][0], of->step + 1);
      wick->step = of->step + 1;
      g_ptr_array_add (self->wick_records, wick);
      guide->record.id = 501 + w;
      guide->wick = wick->record.id;
      guide->from_mm = fmax (middle - CHART_MM / 2, 20);
      guide->to_mm = middle + CHART_MM / 2;
      g_ptr_array_add (self->guide_records, guide);
    }
  for (guint k = 0; k < self->n_waxes; k++)
    {
      WbWax *wax = wb_record_new (&wb_wax_type);

      wax->record.id = 301 + k;
      wax->name = g_strdup (waxes[k]);
      wax->density = 0.9;
      g_ptr_array_add (self->wax_records, wax);
    }
}

World *
world_new (WorldVariant variant,
           guint64      seed,
           guint        number)
{
  World *self = g_new0 (World, 1);
  WbCalcRandom random;

  self->variant = variant;
  self->seed = seed;
  self->number = number;
  world_random_init (self, WORLD_STREAM, &random);
  world_draw_law (self, &random);
  draw_wicks (self, &random);
  draw_vessels (self, &random);
  self->next_vessel = pick (&random, WORLD_VESSELS);
  for (guint e = 0; e < WORLD_EARLIER; e++)
    draw_experiment (self, &self->earlier[e], &random);
  draw_next (self, &random);
  make_records (self);
  self->habits = world_new_habits (self);
  return self;
}

void
world_free (World *self)
{
  if (self == NULL)
    return;
  lab_free (self->habits);
  g_ptr_array_unref (self->wick_records);
  g_ptr_array_unref (self->wax_records);
  g_ptr_array_unref (self->guide_records);
  g_free (self);
}

gboolean
world_asks_for (const World *self,
                guint        wick,
                guint        n)
{
  gboolean asked = (self->variant == WORLD_NEW_SERIES && self->wicks[wick].series == self->n_series - 1);

  for (guint e = 0; e < MAX (n, 1) && !asked; e++)
    for (guint w = 0; w < self->n_wicks && !asked; w++)
      asked = self->earlier[e].tries[w] && self->wicks[w].series == self->wicks[wick].series;
  return asked;
}
