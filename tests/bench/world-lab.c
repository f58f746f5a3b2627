/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "world.h"

#include <math.h>

/* The experiments of an invented world as labs, and their data sets with the world's own records. */

#define NUMBERS 64            /* labs of a world: earlier experiments, the next vessel, its tests, habits */
#define NUMBER_OF_NEXT 20
#define MOST_TESTS 40

/* Record ids: those of an experiment's own begin at this many an experiment. */
#define IDS 100000
#define ID_VESSEL 201
#define ID_WAX 301
#define ID_FRAGRANCE 401

static LabSpec
spec_of (const World *self,
         guint        samples,
         guint        burns)
{
  return (LabSpec) {
    .vessels = 1, .steps = self->n_wicks, .loads = 1, .samples = samples, .burns = burns > 0 ? burns : 1,
    .world = self->variant == WORLD_SNUFFED ? LAB_WORLD_SNUFFED : LAB_WORLD_OFF3,
    .stages = burns == 0, .seed = self->seed,
  };
}

Lab *
world_new_habits (const World *self)
{
  LabSpec spec = spec_of (self, 1, 0);

  return lab_new_habits (&spec, self->number * NUMBERS + NUMBERS - 1);
}

/* What a cell of the world is made of. */
typedef struct
{
  guint             vessel, wick, wax;  /* of the world */
  double            load_pct;
  const WorldShift *off, *pour;         /* pour: may be NULL */
} Recipe;

static LabCell
cell_of (const World  *self,
         const Recipe *recipe,
         guint         vessel,
         guint         load)
{
  LabCell cell = { .vessel = vessel, .load = load, .step = recipe->wick, .poured = TRUE };
  double of[WORLD_N_FIGURES];

  for (guint f = 0; f < WORLD_N_FIGURES; f++)
    of[f] = world_law (self, f, recipe->vessel, recipe->wick, recipe->wax, recipe->load_pct) + recipe->off->of[f]
            + (recipe->pour != NULL ? recipe->pour->of[f] : 0);
  cell.log_limit = of[WORLD_LIMIT];
  cell.tau_h = exp (of[WORLD_TAU]);
  for (guint m = 0; m < LAB_N_MEASURES; m++)
    cell.log_measure[m] = of[WORLD_DEPTH + m];
  for (guint r = 0; r < LAB_N_RATINGS; r++)
    cell.latent[r] = of[WORLD_SOOT + r];
  return cell;
}

Lab *
world_lab_of (const World *self,
              guint        earlier)
{
  const WorldExperiment *of = &self->earlier[earlier];
  LabSpec spec = spec_of (self, WORLD_SAMPLES, self->variant == WORLD_UPPER ? of->burns : 0);
  g_autoptr (GArray) cells = g_array_new (FALSE, FALSE, sizeof (LabCell));
  LabVessel vessels[LAB_MOST_VESSELS] = { { 0 } };

  for (guint v = 0; v < of->n_vessels; v++)
    {
      vessels[v].inner_mm = self->inner_mm[of->vessels[v]];
      for (guint load = 0; load < of->n_loads; load++)
        for (guint w = 0; w < self->n_wicks; w++)
          {
            Recipe recipe = { of->vessels[v], w, of->wax, of->load_pct[load], &self->off[of->vessels[v]][w], &of->pour };
            LabCell cell = cell_of (self, &recipe, v, load);

            if (of->tries[w])
              g_array_append_val (cells, cell);
          }
    }
  return lab_new_given (&spec, self->number * NUMBERS + earlier, self->habits, vessels, of->n_vessels,
                        (const LabCell *) cells->data, cells->len, of->load_pct, of->room_c);
}

static Lab *
lab_of_next (const World      *self,
             guint             number,
             const gboolean   *tries,
             guint             samples,
             const WorldShift *off,
             const WorldShift *pour)
{
  LabSpec spec = spec_of (self, samples, self->variant == WORLD_UPPER ? LAB_STAGE_BURNS : 0);
  g_autoptr (GArray) cells = g_array_new (FALSE, FALSE, sizeof (LabCell));
  LabVessel vessel = { .inner_mm = self->inner_mm[self->next_vessel] };
  double load_pct[2] = { self->next_load_pct, self->next_load_pct };

  for (guint w = 0; w < self->n_wicks; w++)
    {
      Recipe recipe = { self->next_vessel, w, self->next_wax, self->next_load_pct,
                        off != NULL ? &off[w] : &self->off[self->next_vessel][w], pour };
      LabCell cell = cell_of (self, &recipe, 0, 0);

      if (tries == NULL || tries[w])
        g_array_append_val (cells, cell);
    }
  return lab_new_given (&spec, self->number * NUMBERS + number, self->habits, &vessel, 1, (const LabCell *) cells->data,
                        cells->len, load_pct, LAB_ROOM_C);
}

Lab *
world_lab_of_next (const World      *self,
                   const WorldShift *off,
                   const WorldShift *pour)
{
  return lab_of_next (self, NUMBER_OF_NEXT, NULL, 1, off, pour);
}

static void
set_text (char      **text,
          const char *to)
{
  g_free (*text);
  *text = g_strdup (to);
}

static guint
find_inner (const World *self,
            double       inner_mm)
{
  for (guint v = 0; v < WORLD_VESSELS; v++)
    if (self->inner_mm[v] == inner_mm)
      return v;
  g_assert_not_reached ();
}

int
world_get_wall (const World *self,
                guint        vessel)
{
  if (self->untold)
    return -1;
  return self->variant == WORLD_MATERIAL && self->is_tin[vessel] ? WB_WALL_METAL : WB_WALL_GLASS;
}

/* The ids that the builder gave depend on what else was built: these are the world's. */
static void
name_records (const World *self,
              WbDataset   *data,
              const Lab   *lab,
              guint        wax,
              guint        experiment)
{
  gint64 ids = (gint64) (experiment + 1) * IDS;
  const WbWax *of_wax = g_ptr_array_index (self->wax_records, wax);

  data->experiment->record.id = ids;
  g_free (data->experiment->code);
  data->experiment->code = g_strdup_printf ("W%u-%02u", self->number + 1, experiment + 1);
  set_text (&data->wax->name, of_wax->name);
  data->wax->record.id = of_wax->record.id;
  data->experiment->wax = of_wax->record.id;
  for (guint v = 0; v < data->vessels->len; v++)
    {
      WbVessel *vessel = g_ptr_array_index (data->vessels, v);
      guint at = find_inner (self, vessel->inner_diameter_mm);

      vessel->record.id = ID_VESSEL + at;
      g_free (vessel->name);
      vessel->name = g_strdup_printf ("Jar %u", at + 1);
      vessel->wall = world_get_wall (self, at);
    }
  for (guint f = 0; f < data->fragrances->len; f++)
    ((WbRecord *) g_ptr_array_index (data->fragrances, f))->id = ID_FRAGRANCE + f;
  for (guint i = 0; i < data->cells->len; i++)
    {
      WbCell *cell = g_ptr_array_index (data->cells, i);
      WbWick *wick = g_ptr_array_index (data->cell_wicks, i);
      const WbWick *named = g_ptr_array_index (self->wick_records, lab->cells[i].step);
      const WbRecord *fragrance = g_ptr_array_index (data->cell_fragrances, i);

      set_text (&wick->series, named->series);
      set_text (&wick->size, named->size);
      wick->step = named->step;
      wick->record.id = named->record.id;
      cell->record.id = ids + 1 + i;
      cell->wick = named->record.id;
      cell->vessel = ((const WbRecord *) g_ptr_array_index (data->cell_vessels, i))->id;
      cell->fragrance = fragrance != NULL ? fragrance->id : 0;
    }
  for (guint i = 0; i < data->samples->len; i++)
    {
      WbSample *sample = g_ptr_array_index (data->samples, i);

      sample->record.id = ids + 1000 + i;
      sample->cell = ids + 1 + g_array_index (data->sample_cell, guint, i);
    }
  for (guint i = 0; i < data->burns->len; i++)
    {
      WbBurn *burn = g_ptr_array_index (data->burns, i);

      burn->record.id = ids + 5000 + i;
      burn->sample = ids + 1000 + g_array_index (data->burn_sample, guint, i);
    }
}

WbDataset *
world_burn (const World *self,
            guint        earlier)
{
  g_autoptr (Lab) lab = world_lab_of (self, earlier);
  WbDataset *data = lab_burn (lab);

  name_records (self, data, lab, self->earlier[earlier].wax, earlier);
  return data;
}

WbDataset *
world_burn_next (const World    *self,
                 const gboolean *tries,
                 guint           samples,
                 guint           draw)
{
  g_autoptr (Lab) lab = lab_of_next (self, NUMBER_OF_NEXT + 1 + draw, tries, samples, NULL, &self->next_pour);
  WbDataset *data = lab_burn (lab);

  g_assert (draw < MOST_TESTS);
  name_records (self, data, lab, self->next_wax, WORLD_EARLIER + draw);
  return data;
}
