/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <gsl/gsl_errno.h>
#include <math.h>

#include "world-export.h"
#include "world-tables.h"

/*
 * The wick ladder, measured: invented makers with some earlier experiments (world.h) ask
 * the program for three sizes for their next vessel. How often the truly best wick is
 * among them, or one as good; the same of plainer ways and of an oracle; stated chances
 * against what is true; coverage, misses on either side, width and bias of every 90 %
 * interval.
 *
 * Without options a few worlds; --worlds 300 for figures to rely on. The same seed prints
 * the same, on any number of threads.
 */

#define USUAL_WORLDS 40
#define MOST_COUNTS (WORLD_EARLIER + 1)
#define CSV_HEADER "variant,world,earlier,inner_mm,first_mm,wax_tried,load_pct,first_load_pct,wick,strength,tried,place,figure,truth,next_pour,value,low,high,p_never,held\n"

typedef struct
{
  WorldVariant  variant;
  guint         counts[MOST_COUNTS], n_counts;
  WorldResult **results;
} Job;

static char *earlier_text, *world_text, *csv_path, *export_path;
static int n_worlds = USUAL_WORLDS, first_world;
static gboolean guides, burnt, quick, references, untold;
static gint64 seed = 1;

static const GOptionEntry entries[] = {
  { "worlds", 0, 0, G_OPTION_ARG_INT, &n_worlds, "Worlds of each variant (40)", "N" },
  { "first", 0, 0, G_OPTION_ARG_INT, &first_world, "Number of the first (0)", "N" },
  { "earlier", 0, 0, G_OPTION_ARG_STRING, &earlier_text, "Earlier experiments, 0 to 10, upwards (0,1,3,10)", "N,N" },
  { "world", 0, 0, G_OPTION_ARG_STRING, &world_text,
    "plain, curved, off5, material, upper, newwax, newseries, snuffed, steady, or all of them: all", "NAME,NAME" },
  { "guides", 0, 0, G_OPTION_ARG_NONE, &guides, "Suppliers' diameters are typed in beside experiments, too", NULL },
  { "quick", 0, 0, G_OPTION_ARG_NONE, &quick, "Without the informed reference", NULL },
  { "references", 0, 0, G_OPTION_ARG_NONE, &references, "The references alone, which need no burns: hundreds of worlds a minute", NULL },
  { "untold", 0, 0, G_OPTION_ARG_NONE, &untold, "Nobody wrote down of what the vessels are, as a burn log has no column for it", NULL },
  { "burnt", 0, 0, G_OPTION_ARG_NONE, &burnt, "Wicks that were never burnt are not known, as to run-ladder", NULL },
  { "seed", 0, 0, G_OPTION_ARG_INT64, &seed, "Seed of the worlds (1)", "N" },
  { "csv", 0, 0, G_OPTION_ARG_FILENAME, &csv_path, "A line for each wick and figure", "FILE" },
  { "export", 0, 0, G_OPTION_ARG_FILENAME, &export_path,
    "Asks nothing, but writes the worlds' burn logs, truth.csv and burnt.csv there, for run-ladder", "FOLDER" },
  G_OPTION_ENTRY_NULL
};

static void
on_world (gpointer data,
          gpointer user)
{
  Job *job = user;
  guint number = GPOINTER_TO_UINT (data) - 1;

  job->results[number] = world_ask (job->variant, (guint64) seed, first_world + number, job->counts, job->n_counts,
                                    (WorldTold) { .guides = guides, .quick = quick, .references = references, .burnt = burnt, .untold = untold });
}

static void
print_number (FILE  *file,
              double value)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];

  fputs (isnan (value) ? "" : g_ascii_formatd (text, sizeof text, "%.6g", value), file);
  fputc (',', file);
}

/* The question and what it rests on: the first experiment, and whether any had the wax. */
static void
write_question (FILE        *file,
                const World *world,
                guint        earlier)
{
  const WorldExperiment *first = &world->earlier[0];
  gboolean wax_tried = FALSE;

  for (guint e = 0; e < earlier; e++)
    wax_tried = wax_tried || world->earlier[e].wax == world->next_wax;
  fprintf (file, "%s,%u,%u,%g,%g,%d,%g,%g,", world_variant_get_key (world->variant), world->number, earlier,
           world->inner_mm[world->next_vessel], world->inner_mm[first->vessels[0]], wax_tried, world->next_load_pct,
           first->load_pct[0]);
}

/* For study: "inf" is never, an empty field not told. Of a ladder, whether it holds the best and what it said of that, and what it loses. */
static void
write_csv (FILE              *file,
           const WorldResult *result)
{
  const World *world = result->world;

  for (guint a = 0; a < result->answers->len; a++)
    {
      const WorldAnswer *answer = g_ptr_array_index (result->answers, a);

      write_question (file, world, answer->earlier);
      fprintf (file, ",,,,ladder,%g,%g,%g,,,,\n", answer->ways[WORLD_WAY_LADDER].holds, answer->ways[WORLD_WAY_LADDER].loss,
               answer->ways[WORLD_WAY_LADDER].said);
      for (guint i = 0; i < answer->lines->len; i++)
        {
          const WorldLine *line = &g_array_index (answer->lines, WorldLine, i);
          const double values[] = { line->truth, line->next_pour, line->said.value, line->said.low, line->said.high, line->p_never };

          write_question (file, world, answer->earlier);
          fprintf (file, "%s,%.4f,%d,%s,%s,", ((WbWick *) g_ptr_array_index (world->wick_records, line->wick))->size,
                   world->wicks[line->wick].strength, line->tried, line->place == WORLD_TOP ? "top" : "bottom",
                   world_said_get_label (line->what));
          for (guint v = 0; v < G_N_ELEMENTS (values); v++)
            print_number (file, values[v]);
          fprintf (file, "%d\n", world_line_covered (line, line->truth, NULL, NULL));
        }
    }
}

static void
run_variant (Job  *job,
             FILE *csv)
{
  GThreadPool *pool = g_thread_pool_new (on_world, job, (int) g_get_num_processors (), FALSE, NULL);
  WorldTally *tallies[MOST_COUNTS];
  double learn_s = 0, answer_s = 0, truth_s = 0;

  job->results = g_new0 (WorldResult *, n_worlds);
  for (int i = 0; i < n_worlds; i++)
    g_thread_pool_push (pool, GUINT_TO_POINTER (i + 1), NULL);
  g_thread_pool_free (pool, FALSE, TRUE);
  for (guint c = 0; c < job->n_counts; c++)
    tallies[c] = world_tally_new (job->counts[c]);
  for (int i = 0; i < n_worlds; i++)
    {
      WorldResult *result = job->results[i];

      for (guint c = 0; c < job->n_counts; c++)
        world_tally_add (tallies[c], g_ptr_array_index (result->answers, c));
      if (csv != NULL)
        write_csv (csv, result);
      learn_s += result->learn_s;
      answer_s += result->answer_s;
      truth_s += result->truth_s;
      world_result_free (result);
    }
  g_free (job->results);
  for (guint c = 0; c < job->n_counts; c++)
    {
      g_print ("\n== %u earlier experiment%s, world %s%s%s, seed %" G_GINT64_FORMAT "\n", job->counts[c], job->counts[c] == 1 ? "" : "s",
               world_variant_get_key (job->variant), guides ? ", suppliers' diameters" : "", burnt ? ", burnt wicks alone" : "",
               seed);
      world_tables_print (tallies[c]);
    }
  world_tables_summary (tallies, job->n_counts);
  for (guint c = 0; c < job->n_counts; c++)
    world_tally_free (tallies[c]);
  g_printerr ("a world: %.2f s to learn, %.2f s for ladders and the informed reference, %.2f s for its truth and the oracle\n", learn_s / n_worlds, answer_s / n_worlds,
              truth_s / n_worlds);
}

/* "0,1,3" into the job; FALSE when a word is no number from 0 to 10, or they do not go up. */
static gboolean
parse_counts (Job        *job,
              const char *text)
{
  g_auto (GStrv) words = g_strsplit (text, ",", -1);

  for (guint i = 0; words[i] != NULL; i++)
    {
      guint64 value;

      if (!g_ascii_string_to_unsigned (words[i], 10, 0, WORLD_EARLIER, &value, NULL)
          || (job->n_counts > 0 && value <= job->counts[job->n_counts - 1]))
        return FALSE;
      job->counts[job->n_counts++] = (guint) value;
    }
  return job->n_counts > 0;
}

/* "curved,off5"; "all" is every one. FALSE when there is no such variant. */
static gboolean
parse_variants (const char *text,
                gboolean    variants[WORLD_N_VARIANTS])
{
  g_auto (GStrv) words = g_strsplit (text, ",", -1);

  for (guint i = 0; words[i] != NULL; i++)
    {
      int variant = world_variant_from_key (words[i]);

      if (variant >= 0)
        variants[variant] = TRUE;
      else if (!g_str_equal (words[i], "all"))
        return FALSE;
      for (guint v = 0; v < WORLD_N_VARIANTS && variant < 0; v++)
        variants[v] = TRUE;
    }
  return TRUE;
}

/* FALSE: a file could not be written. */
static gboolean
export_worlds (const Job *job)
{
  g_autofree char *path = g_build_filename (export_path, "truth.csv", NULL);
  g_autofree char *burnt_path = g_build_filename (export_path, "burnt.csv", NULL);
  gboolean written = g_mkdir_with_parents (export_path, 0777) == 0;
  FILE *truth = written ? fopen (path, "w") : NULL, *cells = truth != NULL ? fopen (burnt_path, "w") : NULL;

  if (cells == NULL)
    return FALSE;
  fputs (WORLD_TRUTH_HEADER, truth);
  fputs (WORLD_BURNT_HEADER, cells);
  for (int i = 0; i < n_worlds && written; i++)
    {
      g_autoptr (World) world = world_new (job->variant, (guint64) seed, (guint) (first_world + i));

      written = world_export (world, export_path, job->counts, job->n_counts, truth, cells);
    }
  written = fclose (truth) == 0 && written;
  return fclose (cells) == 0 && written;
}

int
main (int   argc,
      char *argv[])
{
  g_autoptr (GOptionContext) context = g_option_context_new (NULL);
  g_autoptr (GError) error = NULL;
  gboolean variants[WORLD_N_VARIANTS] = { FALSE };
  Job job = { 0 };
  FILE *csv = NULL;

  gsl_set_error_handler_off ();
  g_option_context_add_main_entries (context, entries, NULL);
  if (!g_option_context_parse (context, &argc, &argv, &error))
    {
      g_printerr ("%s\n", error->message);
      return 2;
    }
  if (!parse_counts (&job, earlier_text != NULL ? earlier_text : "0,1,3,10")
      || !parse_variants (world_text != NULL ? world_text : "plain", variants) || n_worlds < 1 || first_world < 0)
    {
      g_printerr ("Out of range: see --help\n");
      return 2;
    }
  if (csv_path != NULL && (csv = fopen (csv_path, "w")) == NULL)
    {
      g_printerr ("%s cannot be written\n", csv_path);
      return 1;
    }
  if (csv != NULL)
    fputs (CSV_HEADER, csv);
  for (job.variant = 0; job.variant < WORLD_N_VARIANTS; job.variant++)
    if (variants[job.variant] && export_path != NULL)
      {
        if (!export_worlds (&job))
          {
            g_printerr ("%s cannot be written\n", export_path);
            return 1;
          }
      }
    else if (variants[job.variant])
      run_variant (&job, csv);
  if (csv != NULL && fclose (csv) != 0)
    {
      g_printerr ("%s was not written to its end\n", csv_path);
      return 1;
    }
  return 0;
}
