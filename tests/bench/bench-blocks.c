/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <stdlib.h>
#include <time.h>

#include <gsl/gsl_eigen.h>

#include "test-craft.h"
#include "wb-calc-blocks-private.h"
#include "wb-craft-cohorts.h"

/*
 * 200 samples on a bench of 12: the whole plan, in seconds, and a start of the search against the plain way to judge each of
 * its exchanges, which is the eigenvalues of the design that comes of it (GSL alone, of matrices that are ready).
 */

#define PLACES 12
#define SAMPLES 200
#define MOVES 20000
#define PROBES 50

static double
cpu_now (void)
{
  struct timespec at;

  clock_gettime (CLOCK_PROCESS_CPUTIME_ID, &at);
  return (double) at.tv_sec + 1e-9 * (double) at.tv_nsec;
}

static WbDataset *
experiment_new (guint cells)
{
  WbDataset *data = test_craft_data_new ();
  guint n = 0;

  for (guint i = 0; i < cells; i++)
    {
      g_autofree char *size = g_strdup_printf ("S-%u", i + 1);
      guint cell = test_craft_add_cell (data, "Tern", 70, "Sedge", size, i + 1, 0);

      for (guint own = (SAMPLES - i + cells - 1) / cells; own > 0; own--)
        {
          g_autofree char *code = g_strdup_printf ("C%u", ++n);

          test_craft_add_sample (data, cell, code);
        }
    }
  return data;
}

/* Seconds of CPU for the eigenvalues of so many designs. */
static double
time_eigenvalues (const WbCalcBlocksLayout *layout,
                  const size_t             *treatments)
{
  size_t v = layout->n_treatments;
  g_autofree size_t *incidence = g_new0 (size_t, v * layout->n_blocks);
  g_autofree double *information = g_new (double, v * v);
  gsl_eigen_symm_workspace *work = gsl_eigen_symm_alloc (v);
  gsl_matrix *matrix = gsl_matrix_alloc (v, v);
  gsl_vector *values = gsl_vector_alloc (v);
  double at, spent = 0;

  wb_calc_blocks_incidence (layout, treatments, incidence);
  wb_calc_blocks_information (layout, incidence, information);
  for (guint i = 0; i < PROBES; i++)
    {
      gsl_matrix_const_view ready = gsl_matrix_const_view_array (information, v, v);

      gsl_matrix_memcpy (matrix, &ready.matrix);
      at = cpu_now ();
      gsl_eigen_symm (matrix, values, work);
      spent += cpu_now () - at;
    }
  gsl_matrix_free (matrix);
  gsl_vector_free (values);
  gsl_eigen_symm_free (work);
  return spent * MOVES / PROBES;
}

static void
run (guint cells)
{
  WbDataset *data = experiment_new (cells);
  g_autofree size_t *replications = g_new0 (size_t, cells), *treatments = g_new0 (size_t, SAMPLES);
  size_t sizes[(SAMPLES + PLACES - 1) / PLACES] = { 0 };
  WbCalcBlocksLayout layout = { cells, replications, G_N_ELEMENTS (sizes), sizes };
  WbCalcBlocksOptions options = { .seed = 1, .n_tries = 1, .n_moves = MOVES };
  gint64 began = g_get_monotonic_time ();
  g_autoptr (WbCraftCohorts) cohorts = wb_craft_cohorts_new (data, PLACES, 1, NULL, NULL);
  double wall = (double) (g_get_monotonic_time () - began) / G_USEC_PER_SEC, at, ours, floor;

  for (guint i = 0; i < SAMPLES; i++)
    {
      replications[i % cells]++;
      sizes[i % G_N_ELEMENTS (sizes)]++;
    }
  at = cpu_now ();
  if (wb_calc_blocks_search (&layout, &options, treatments, NULL) != WB_CALC_OK)
    g_error ("no design");
  ours = cpu_now () - at;
  floor = time_eigenvalues (&layout, treatments);
  g_print ("%u samples of %u combinations on %u places: %.1f s, efficiency %.4f; %u exchanges at %.4f times the bare eigenvalues of "
           "each (aim 0.05, the floor %.1f s of CPU)\n",
           SAMPLES, cells, PLACES, wall, cohorts->efficiency, MOVES, ours / floor, floor);
  wb_dataset_free (data);
}

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  run (25);
  run (50);
  run (100);
  run (150);
  return EXIT_SUCCESS;
}
