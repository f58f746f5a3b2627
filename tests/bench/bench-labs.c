/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <gsl/gsl_errno.h>
#include <math.h>

#include "lab-tables.h"

/*
 * Decision quality, measured: invented burn labs that know their truth (lab.h) are put
 * to the program, and its answers are laid beside it: how often the leading wick is the
 * best, the score lost by taking it, the same for plainer ways (lab-ways.h), stated
 * chances against what is true, coverage and width of every 90 % interval.
 *
 * Without options a few labs of two designs; --labs 300 for figures to rely on. The
 * same seed prints the same, on any number of threads.
 */

#define USUAL_LABS 40
#define CSV_HEADER "world,vessels,steps,loads,samples,burns,lab,inner_mm,step,load_pct,stage,what,status,truth,value,low,high,held\n"

typedef struct
{
  LabSpec     spec;
  guint       labs, draws;
  LabResult **results;
} Job;

static char *samples_text, *burns_text, *world_text, *csv_path;
static int vessels, steps, loads, n_labs = USUAL_LABS, draws;
static gboolean missing, stages;
static gint64 seed = 1;

static const GOptionEntry entries[] = {
  { "labs", 0, 0, G_OPTION_ARG_INT, &n_labs, "Labs of each design (40)", "N" },
  { "samples", 0, 0, G_OPTION_ARG_STRING, &samples_text, "Samples of a cell (2)", "N,N" },
  { "burns", 0, 0, G_OPTION_ARG_STRING, &burns_text, "Burns of a sample (2)", "N,N" },
  { "vessels", 0, 0, G_OPTION_ARG_INT, &vessels, "1 or 2; without a grid: 2 vessels × 5 steps × 2 loads, then 1 × 4 × 1", "N" },
  { "steps", 0, 0, G_OPTION_ARG_INT, &steps, "Wicks of the series, at least 2", "N" },
  { "loads", 0, 0, G_OPTION_ARG_INT, &loads, "1 or 2", "N" },
  { "world", 0, 0, G_OPTION_ARG_STRING, &world_text,
    "mixed, additive, off3, off5, bent, late, shared, clock, wild, last, snuffed, or all of them: all", "NAME,NAME" },
  { "missing", 0, 0, G_OPTION_ARG_NONE, &missing, "A tenth of the cells is not poured", NULL },
  { "stages", 0, 0, G_OPTION_ARG_NONE, &stages, "Six burns, two in each third", NULL },
  { "seed", 0, 0, G_OPTION_ARG_INT64, &seed, "Seed of the labs (1)", "N" },
  { "draws", 0, 0, G_OPTION_ARG_INT, &draws, "Draws of the ranking; 0: the program's own", "N" },
  { "csv", 0, 0, G_OPTION_ARG_FILENAME, &csv_path, "A line for each cell and answer", "FILE" },
  G_OPTION_ENTRY_NULL
};

static void
on_lab (gpointer data,
        gpointer user)
{
  Job *job = user;
  guint number = GPOINTER_TO_UINT (data) - 1;

  job->results[number] = lab_ask (&job->spec, number, job->draws);
}

static void
print_number (GString *line,
              double   value)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];

  if (!isnan (value))
    g_string_append (line, g_ascii_formatd (text, sizeof text, "%.6g", value));
  g_string_append_c (line, ',');
}

/* A file of its own for study: "inf" is never, an empty field not told. */
static void
write_csv (FILE            *file,
           const LabResult *result)
{
  const Lab *lab = result->lab;

  for (guint i = 0; i < result->lines->len; i++)
    {
      const LabLine *line = &g_array_index (result->lines, LabLine, i);
      const LabCell *cell = &lab->cells[line->cell];
      g_autoptr (GString) text = g_string_new (NULL);

      g_string_printf (text, "%s,%u,%u,%u,%u,%u,%u,%g,%u,%g,%s,%s,%s,", lab_world_get_key (lab->spec.world),
                       lab->spec.vessels, lab->spec.steps, lab->spec.loads, lab->spec.samples, lab_n_burns (lab), lab->number,
                       lab->vessels[cell->vessel].inner_mm, cell->step + 1,
                       lab_load_pct (lab, cell->load), wb_stage_get_key (line->stage), lab_said_get_label (line->what),
                       wb_craft_fit_status_get_key (line->status));
      print_number (text, line->truth);
      print_number (text, line->said.value);
      print_number (text, line->said.low);
      print_number (text, line->said.high);
      g_string_append_printf (text, "%d\n", line->what < LAB_N_INTERVALS && lab_line_covered (line));
      fputs (text->str, file);
    }
}

static void
run_design (const LabSpec *spec,
            FILE          *csv)
{
  Job job = { *spec, (guint) n_labs, (guint) draws, g_new0 (LabResult *, n_labs) };
  g_autoptr (LabTally) tally = lab_tally_new ();
  GThreadPool *pool = g_thread_pool_new (on_lab, &job, (int) g_get_num_processors (), FALSE, NULL);

  for (guint i = 0; i < job.labs; i++)
    g_thread_pool_push (pool, GUINT_TO_POINTER (i + 1), NULL);
  g_thread_pool_free (pool, FALSE, TRUE);
  for (guint i = 0; i < job.labs; i++)
    {
      lab_tally_add (tally, job.results[i]);
      if (csv != NULL)
        write_csv (csv, job.results[i]);
      lab_result_free (job.results[i]);
    }
  g_free (job.results);
  g_print ("\n== %u vessel%s x %u wicks x %u load%s, %u samples, %u burns, world %s%s%s, seed %" G_GUINT64_FORMAT "\n",
           spec->vessels, spec->vessels > 1 ? "s" : "", spec->steps, spec->loads, spec->loads > 1 ? "s" : "", spec->samples,
           spec->stages ? WB_N_STAGES * LAB_STAGE_BURNS : spec->burns, lab_world_get_key (spec->world),
           spec->missing ? ", cells missing" : "", spec->stages ? ", by stage" : "", spec->seed);
  lab_tables_print (tally);
  g_printerr ("%.3f s a lab for the answer, %.4f s for its truth\n", tally->answer_s / n_labs, tally->truth_s / n_labs);
}

/* "2,3" as guint; NULL when a word of it is no number from 1 to 20. */
static GArray *
parse_numbers (const char *text)
{
  g_autoptr (GArray) numbers = g_array_new (FALSE, FALSE, sizeof (guint));
  g_auto (GStrv) words = g_strsplit (text, ",", -1);

  for (guint i = 0; words[i] != NULL; i++)
    {
      guint64 value;
      guint number;

      if (!g_ascii_string_to_unsigned (words[i], 10, 1, 20, &value, NULL))
        return NULL;
      number = (guint) value;
      g_array_append_val (numbers, number);
    }
  return numbers->len > 0 ? g_steal_pointer (&numbers) : NULL;
}

/* "bent,late" as LabWorld; "all" is every one; NULL when there is no such world. */
static GArray *
parse_worlds (const char *text)
{
  g_autoptr (GArray) worlds = g_array_new (FALSE, FALSE, sizeof (LabWorld));
  g_auto (GStrv) words = g_strsplit (text, ",", -1);

  for (guint i = 0; words[i] != NULL; i++)
    {
      gboolean all = g_str_equal (words[i], "all");

      if (!all && lab_world_from_key (words[i]) < 0)
        return NULL;
      for (LabWorld world = 0; world < LAB_N_WORLDS; world++)
        if (all || world == (LabWorld) lab_world_from_key (words[i]))
          g_array_append_val (worlds, world);
    }
  return worlds->len > 0 ? g_steal_pointer (&worlds) : NULL;
}

/* What is asked of every grid. */
typedef struct { GArray *samples, *burns, *worlds; FILE *csv; } Asked;

/* Every world with every number of samples and burns, on one grid. */
static void
run_grid (const Asked *asked,
          guint        grid_vessels,
          guint        grid_steps,
          guint        grid_loads)
{
  LabSpec spec = {
    .vessels = grid_vessels, .steps = grid_steps, .loads = grid_loads,
    .missing = missing, .stages = stages, .seed = (guint64) seed,
  };

  for (guint w = 0; w < asked->worlds->len; w++)
    for (guint s = 0; s < asked->samples->len; s++)
      for (guint b = 0; b < asked->burns->len; b++)
        {
          spec.world = g_array_index (asked->worlds, LabWorld, w);
          spec.samples = g_array_index (asked->samples, guint, s);
          spec.burns = g_array_index (asked->burns, guint, b);
          run_design (&spec, asked->csv);
        }
}

static gboolean
check_options (const Asked *asked)
{
  if (asked->samples == NULL || asked->burns == NULL || asked->worlds == NULL)
    g_printerr ("--samples and --burns take numbers from 1 to 20, --world takes names: see --help\n");
  else if (n_labs < 1 || vessels < 0 || vessels > LAB_MOST_VESSELS || loads < 0 || loads > 2 || steps < 0 || steps == 1
           || steps > 20 || draws < 0)
    g_printerr ("Out of range: see --help\n");
  else
    return TRUE;
  return FALSE;
}

static void
run_grids (const Asked *asked)
{
  if (vessels == 0 && steps == 0 && loads == 0)
    {
      run_grid (asked, 2, 5, 2);
      run_grid (asked, 1, 4, 1);
    }
  else
    run_grid (asked, vessels > 0 ? (guint) vessels : 2, steps > 0 ? (guint) steps : 5, loads > 0 ? (guint) loads : 2);
}

int
main (int   argc,
      char *argv[])
{
  g_autoptr (GOptionContext) context = g_option_context_new (NULL);
  g_autoptr (GError) error = NULL;
  Asked asked = { NULL };
  int status = 2;

  gsl_set_error_handler_off ();
  g_option_context_add_main_entries (context, entries, NULL);
  if (!g_option_context_parse (context, &argc, &argv, &error))
    {
      g_printerr ("%s\n", error->message);
      return status;
    }
  asked.samples = parse_numbers (samples_text != NULL ? samples_text : "2");
  asked.burns = parse_numbers (burns_text != NULL ? burns_text : "2");
  asked.worlds = parse_worlds (world_text != NULL ? world_text : "mixed");
  if (check_options (&asked))
    {
      if (csv_path != NULL && (asked.csv = fopen (csv_path, "w")) == NULL)
        g_printerr ("%s cannot be written\n", csv_path);
      else
        {
          if (asked.csv != NULL)
            fputs (CSV_HEADER, asked.csv);
          run_grids (&asked);
          status = 0;
        }
    }
  if (asked.csv != NULL && fclose (asked.csv) != 0)
    {
      g_printerr ("%s was not written to its end\n", csv_path);
      status = 1;
    }
  g_clear_pointer (&asked.samples, g_array_unref);
  g_clear_pointer (&asked.burns, g_array_unref);
  g_clear_pointer (&asked.worlds, g_array_unref);
  return status;
}
