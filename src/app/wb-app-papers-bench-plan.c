/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-papers.h"

#include "wb-app-bench-private.h"
#include "wb-app-calendar-private.h"
#include "wb-craft-bench-plan.h"
#include "wb-report-bench-plan.h"

#include <glib/gi18n-lib.h>

/* Of each cohort without a planned evening so many burns are listed to be dated by hand. */
#define MOST_TO_FILL 30

/* The experiment's part of a calendar; owns what the sheet borrows. */
typedef struct
{
  const WbAppCalendarRead *read;
  gint64     experiment;
  GArray    *cohorts;   /* WbReportBenchPlanCohort */
  GArray    *indices;   /* guint: those cohorts in the calendar */
  GArray    *evenings;  /* WbReportBenchPlanEvening */
  GPtrArray *owned;     /* names, arrays of samples */
  GPtrArray *at;        /* codes by place; NULL: none is known */
  WbDay      at_day;
} Sheet;

static void
sheet_clear (Sheet *self)
{
  g_array_unref (self->cohorts);
  g_array_unref (self->indices);
  g_array_unref (self->evenings);
  g_ptr_array_unref (self->owned);
  g_clear_pointer (&self->at, g_ptr_array_unref);
}

static guint
count_cohorts (const Sheet *self)
{
  guint n = 0;

  for (guint i = 0; i < self->read->cohorts->len; i++)
    n += ((const WbAppCalendarCohort *) g_ptr_array_index (self->read->cohorts, i))->experiment == self->experiment;
  return n;
}

static void
take_cohorts (Sheet *self)
{
  gboolean several = count_cohorts (self) > 1;

  for (guint i = 0; i < self->read->cohorts->len; i++)
    {
      const WbAppCalendarCohort *from = g_ptr_array_index (self->read->cohorts, i);
      WbReportBenchPlanCohort cohort = { .n_samples = from->samples->len };
      WbReportBenchPlanSample *samples;
      char *name;

      if (from->experiment != self->experiment)
        continue;
      samples = g_new0 (WbReportBenchPlanSample, MAX (from->samples->len, 1));
      for (guint k = 0; k < from->samples->len; k++)
        {
          const WbAppCalendarSample *sample = g_ptr_array_index (from->samples, k);

          samples[k] = (WbReportBenchPlanSample) { sample->code, sample->cell };
        }
      g_ptr_array_add (self->owned, samples);
      cohort.samples = samples;
      if (several)
        {
          name = from->cohort > 0 ? g_strdup_printf (_("Cohort %d"), (int) from->cohort) : g_strdup (_("without a cohort"));
          g_ptr_array_add (self->owned, name);
          cohort.name = name;
        }
      g_array_append_val (self->cohorts, cohort);
      g_array_append_val (self->indices, i);
    }
}

/* G_MAXUINT: of another experiment. */
static guint
find_cohort (const Sheet *self,
             guint        index)
{
  for (guint i = 0; i < self->indices->len; i++)
    if (g_array_index (self->indices, guint, i) == index)
      return i;
  return G_MAXUINT;
}

static void
take_evenings (Sheet *self)
{
  const WbCraftEvenings *plan = self->read->evenings;

  for (guint i = 0; i < plan->evenings->len; i++)
    {
      const WbCraftEvening *from = &g_array_index (plan->evenings, WbCraftEvening, i);

      for (guint k = from->first; k < from->first + from->n; k++)
        {
          const WbCraftEveningsBurn *burn = &g_array_index (plan->burns, WbCraftEveningsBurn, k);
          WbReportBenchPlanEvening evening = { from->day, from->begins, find_cohort (self, burn->cohort), burn->burn, from->places };

          if (evening.cohort != G_MAXUINT)
            g_array_append_val (self->evenings, evening);
        }
    }
}

/* Where no evening is planned, each burn has a line for its date. */
static void
take_blanks (Sheet *self)
{
  for (guint i = 0; i < self->indices->len; i++)
    {
      const WbAppCalendarCohort *from = g_ptr_array_index (self->read->cohorts, g_array_index (self->indices, guint, i));

      for (guint burn = 1; burn <= MIN (from->left, MOST_TO_FILL); burn++)
        {
          WbReportBenchPlanEvening evening = { WB_DAY_NONE, WB_INSTANT_NONE, i, from->done + burn, 0 };

          g_array_append_val (self->evenings, evening);
        }
    }
}

/* The session in which they will be lit: one that is open and in which nothing burns, else the next. */
static guint64
get_seed (WbAppBench *bench)
{
  return wb_app_bench_get_alight (bench) > 0 ? wb_app_bench_get_next_seed (bench) : wb_app_bench_get_seed (bench);
}

static void
place_samples (Sheet                     *self,
               WbAppBench                *bench,
               const WbAppCalendarCohort *cohort,
               const GArray              *plan,
               gboolean                  *taken)
{
  for (guint i = 0; i < cohort->samples->len; i++)
    {
      const WbAppCalendarSample *from = g_ptr_array_index (cohort->samples, i);
      WbAppBenchSample *sample = wb_app_bench_find (bench, from->id);
      guint place = sample != NULL ? wb_craft_bench_plan_find (plan, wb_app_bench_sample_get_index (sample), taken) : plan->len;

      if (place >= plan->len)
        continue;
      taken[place] = TRUE;
      g_ptr_array_index (self->at, place) = from->code;
    }
}

/* As wb_app_bench_propose_place will say of them, lit in this order. Others' samples of that evening stand there too. */
static void
take_places (Sheet            *self,
             WbAppBench       *bench,
             const WbNotebook *notebook)
{
  const WbCraftEvenings *evenings = self->read->evenings;
  g_autofree gboolean *taken = NULL;
  g_autoptr (GArray) plan = NULL;
  const WbCraftEvening *first;

  if (self->evenings->len == 0 || !(notebook->bench_columns >= 1) || self->read->places == 0)
    return;
  self->at_day = g_array_index (self->evenings, WbReportBenchPlanEvening, 0).day;
  first = &g_array_index (evenings->evenings, WbCraftEvening, 0);
  /* A later session's seed is not known before those that come first have been opened. */
  if (self->at_day == WB_DAY_NONE || first->day != self->at_day)
    return;
  plan = wb_craft_bench_plan_new (self->read->places, get_seed (bench));
  taken = g_new0 (gboolean, self->read->places);
  self->at = g_ptr_array_new ();
  g_ptr_array_set_size (self->at, (int) self->read->places);
  for (guint i = first->first; i < first->first + first->n; i++)
    place_samples (self, bench, g_ptr_array_index (self->read->cohorts, g_array_index (evenings->burns, WbCraftEveningsBurn, i).cohort), plan, taken);
}

/* It names another experiment's samples: of no use on this sheet. */
static gboolean
is_of_others (const Sheet *self,
              const char  *problem)
{
  for (guint i = 0; i < self->read->cohorts->len; i++)
    {
      const WbAppCalendarCohort *cohort = g_ptr_array_index (self->read->cohorts, i);
      g_autofree char *head = g_strconcat (cohort->name, ":", NULL);

      if (cohort->experiment != self->experiment && g_str_has_prefix (problem, head))
        return TRUE;
    }
  return FALSE;
}

/* Texts borrowed, NULL-terminated. */
static GPtrArray *
list_problems (const Sheet *self)
{
  GPtrArray *problems = g_ptr_array_new ();

  for (guint i = 0; i < self->read->problems->len; i++)
    if (!is_of_others (self, g_ptr_array_index (self->read->problems, i)))
      g_ptr_array_add (problems, g_ptr_array_index (self->read->problems, i));
  g_ptr_array_add (problems, NULL);
  return problems;
}

static WbReportDocument *
make (const Sheet      *self,
      const WbNotebook *notebook,
      int               paper)
{
  const WbAppCalendarCohort *any = g_ptr_array_index (self->read->cohorts, g_array_index (self->indices, guint, 0));
  g_autofree char *experiment = g_strdup_printf ("%s · %s", any->code, any->title);
  g_autoptr (GPtrArray) problems = list_problems (self);
  WbReportOptions options;
  WbReportBenchPlan sheet = {
    .experiment = experiment,
    .cohorts = (const WbReportBenchPlanCohort *) self->cohorts->data,
    .n_cohorts = self->cohorts->len,
    .evenings = (const WbReportBenchPlanEvening *) self->evenings->data,
    .n_evenings = self->evenings->len,
    .places = self->read->places,
    .columns = notebook->bench_columns >= 1 ? (guint) notebook->bench_columns : 0,
    .at = self->at != NULL ? (const char *const *) self->at->pdata : NULL,
    .at_day = self->at_day,
  };

  sheet.problems = (const char *const *) problems->pdata;
  wb_report_options_init (&options, notebook);
  if (paper >= 0)
    options.paper = (WbReportPaper) paper;
  return wb_report_bench_plan_new (&sheet, &options);
}

WbReportDocument *
wb_app_papers_bench_plan_new (WbAppCalendar    *calendar,
                              WbAppBench       *bench,
                              const WbNotebook *notebook,
                              gint64            experiment,
                              int               paper)
{
  WbReportDocument *document = NULL;
  Sheet sheet = { .experiment = experiment, .at_day = WB_DAY_NONE };

  g_return_val_if_fail (WB_IS_APP_CALENDAR (calendar) && WB_IS_APP_BENCH (bench) && notebook != NULL, NULL);

  sheet.read = wb_app_calendar_get_read (calendar);
  if (sheet.read == NULL)
    return NULL;
  sheet.cohorts = g_array_new (FALSE, FALSE, sizeof (WbReportBenchPlanCohort));
  sheet.indices = g_array_new (FALSE, FALSE, sizeof (guint));
  sheet.evenings = g_array_new (FALSE, FALSE, sizeof (WbReportBenchPlanEvening));
  sheet.owned = g_ptr_array_new_with_free_func (g_free);
  take_cohorts (&sheet);
  if (sheet.cohorts->len > 0)
    {
      take_evenings (&sheet);
      if (sheet.evenings->len == 0)
        take_blanks (&sheet);
      take_places (&sheet, bench, notebook);
      document = make (&sheet, notebook, paper);
    }
  sheet_clear (&sheet);
  return document;
}
