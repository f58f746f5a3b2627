/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-calendar-private.h"

#include "wb-app-bench-life-private.h"
#include "wb-app-stamp-private.h"
#include "wb-clock.h"
#include "wb-craft-cohorts.h"
#include "wb-craft-lifetime.h"
#include "wb-cure.h"
#include "wb-store-dataset.h"
#include "wb-store-records.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

/* From the notebook to cohorts, and to the days that rest on the record alone. */

static void
sample_free (gpointer data)
{
  WbAppCalendarSample *self = data;

  g_free (self->code);
  g_free (self->cell);
  g_free (self);
}

static void
cohort_free (gpointer data)
{
  WbAppCalendarCohort *self = data;

  g_free (self->code);
  g_free (self->title);
  g_free (self->name);
  g_ptr_array_unref (self->samples);
  g_free (self);
}

static void
event_free (gpointer data)
{
  WbAppCalendarEvent *self = data;

  g_free (self->code);
  g_free (self->uid);
  g_free (self->title);
  g_free (self->detail);
  g_free (self);
}

void
wb_app_calendar_read_free (WbAppCalendarRead *self)
{
  if (self == NULL)
    return;
  g_ptr_array_unref (self->cohorts);
  g_clear_pointer (&self->evenings, wb_craft_evenings_free);
  g_ptr_array_unref (self->events);
  g_ptr_array_unref (self->problems);
  g_clear_pointer (&self->out, g_array_unref);
  g_free (self);
}

/* ---- Cohorts ---- */

static gint64
get_cohort (const WbDataset *data,
            guint            sample)
{
  return MAX (wb_dataset_get_sample (data, sample)->cohort, 0);
}

static gboolean
has_several (const WbDataset *data)
{
  for (guint i = 1; i < data->samples->len; i++)
    if (get_cohort (data, i) != get_cohort (data, 0))
      return TRUE;
  return FALSE;
}

static WbAppCalendarCohort *
find_cohort (WbAppCalendarRead *self,
             const WbDataset   *data,
             guint              sample)
{
  gint64 number = get_cohort (data, sample);
  WbAppCalendarCohort *cohort;

  for (guint i = self->cohorts->len; i > 0; i--)
    {
      cohort = g_ptr_array_index (self->cohorts, i - 1);
      if (cohort->experiment != data->experiment->record.id)
        break;
      if (cohort->cohort == number)
        return cohort;
    }
  cohort = g_new0 (WbAppCalendarCohort, 1);
  cohort->experiment = data->experiment->record.id;
  cohort->uuid = data->experiment->uuid;
  cohort->code = g_strdup (data->experiment->code);
  cohort->title = g_strdup (data->experiment->title);
  cohort->cohort = number;
  cohort->begun = wb_craft_cohorts_is_begun (data, number);
  cohort->name = number > 0 && has_several (data) ? g_strdup_printf (_("%s, cohort %d"), cohort->code, (int) number) : g_strdup (cohort->code);
  cohort->samples = g_ptr_array_new_with_free_func (sample_free);
  cohort->done = G_MAXUINT;
  cohort->ready_at = WB_INSTANT_NONE;
  cohort->burn_s = data->protocol->burn_s;
  cohort->cool_s = data->protocol->cool_s;
  g_ptr_array_add (self->cohorts, cohort);
  return cohort;
}

/* Of one that is alight: after its burn's length and its cooling. */
static WbInstant
get_cooled_at (const WbAppBenchLoad *load,
               const WbAppBenchLife *life)
{
  const WbProtocol *protocol = load->data->protocol;
  WbInstant at = life->lit_at;

  at.utc_us += (gint64) ((protocol->burn_s + (isnan (protocol->cool_s) ? 0 : protocol->cool_s)) * G_USEC_PER_SEC);
  return at;
}

/* One that crossed a limit is not lit again, and one that nobody poured or burnt is not there yet. */
static gboolean
takes_part (const WbAppBenchLoad *load,
            guint                 sample,
            const WbAppBenchLife *life,
            WbAppBenchState       state)
{
  const WbSample *record = wb_dataset_get_sample (load->data, sample);

  return state != WB_APP_BENCH_ENDED && state != WB_APP_BENCH_CROSSED
         && (record->poured_on != WB_DAY_NONE || record->batch != 0 || life->burn != NULL);
}

static void
add_sample (WbAppCalendarRead    *self,
            const WbAppBenchLoad *load,
            guint                 sample,
            WbInstant             now)
{
  WbAppCalendarSample *told;
  WbAppCalendarCohort *cohort;
  WbCraftLifetime lifetime;
  WbAppBenchLife life;
  WbInstant fit_at;

  wb_app_bench_life_read (load, sample, &life);
  WbAppBenchState state = wb_app_bench_life_get_state (load, sample, &life, now, &fit_at);

  if (takes_part (load, sample, &life, state))
    {
      if (state == WB_APP_BENCH_ALIGHT)
        fit_at = get_cooled_at (load, &life);
      /* Who has lit something today has this evening's session behind or before him: what else would burn waits for the next. */
      if (life.burn != NULL && life.burn->session != 0 && life.lit_at.known && wb_instant_get_day (life.lit_at) == wb_instant_get_day (now))
        self->first = wb_instant_get_day (now) + 1;
      wb_craft_lifetime_of_sample (load->data, load->figures, sample, &lifetime);
      cohort = find_cohort (self, load->data, sample);
      cohort->done = MIN (cohort->done, lifetime.burns_done);
      /* Where nobody can say how many are left, the next one is. */
      cohort->left = MAX (cohort->left, isnan (lifetime.burns_left) ? 1 : (guint) CLAMP (ceil (lifetime.burns_left), 1, 1000));
      if (fit_at.known && (!cohort->ready_at.known || fit_at.utc_us > cohort->ready_at.utc_us))
        {
          cohort->ready_at = fit_at;
          cohort->cooling = state == WB_APP_BENCH_COOLING || state == WB_APP_BENCH_ALIGHT;
        }
      told = g_new0 (WbAppCalendarSample, 1);
      told->id = wb_dataset_get_sample (load->data, sample)->record.id;
      told->code = g_strdup (wb_dataset_get_sample (load->data, sample)->code);
      told->cell = wb_dataset_dup_cell_name (load->data, g_array_index (load->data->sample_cell, guint, sample));
      g_ptr_array_add (cohort->samples, told);
    }
  wb_app_bench_life_clear (&life);
}

/* ---- Cures ---- */

/* Samples of a melt that are fit from one moment on. */
typedef struct
{
  gint64    batch;
  WbCureFit fit;
  guint     nth;    /* of the melt's moments */
  GString *codes;
  guint    n;
} Cure;

static void
cure_free (gpointer data)
{
  Cure *self = data;

  g_string_free (self->codes, TRUE);
  g_free (self);
}

static Cure *
find_cure (GPtrArray       *cures,
           gint64           batch,
           const WbCureFit *fit)
{
  Cure *cure;

  for (guint i = 0; i < cures->len; i++)
    {
      cure = g_ptr_array_index (cures, i);
      if (cure->batch == batch && cure->fit.day == fit->day && cure->fit.at.utc_us == fit->at.utc_us)
        return cure;
    }
  cure = g_new0 (Cure, 1);
  cure->batch = batch;
  cure->fit = *fit;
  cure->codes = g_string_new (NULL);
  for (guint i = 0; i < cures->len; i++)
    cure->nth += ((Cure *) g_ptr_array_index (cures, i))->batch == batch;
  g_ptr_array_add (cures, cure);
  return cure;
}

static gboolean
is_burnt (const WbDataset *data,
          guint            sample)
{
  for (guint i = 0; i < data->burn_sample->len; i++)
    if (g_array_index (data->burn_sample, guint, i) == sample)
      return TRUE;
  return FALSE;
}

static void
collect_cures (const WbDataset *data,
               gboolean         smell,
               GPtrArray       *cures)
{
  for (guint i = 0; i < data->samples->len; i++)
    {
      const WbSample *sample = wb_dataset_get_sample (data, i);
      WbCureFit fit = smell ? wb_cure_fit_to_smell (data, i) : wb_cure_fit_to_burn (data, i);
      Cure *into;

      /* A reference is put away, and smelt by nobody. */
      if (fit.day == WB_DAY_NONE || sample->set_aside != NULL || sample->set_aside_cause >= 0 || sample->retained || (!smell && is_burnt (data, i)))
        continue;
      into = find_cure (cures, sample->batch, &fit);
      g_string_append_printf (into->codes, "%s%s", into->n > 0 ? ", " : "", sample->code);
      into->n++;
    }
}

static void
add_cures (WbAppCalendarRead *self,
           const WbDataset   *data,
           gboolean           smell,
           WbDay              today)
{
  g_autoptr (GPtrArray) cures = g_ptr_array_new_with_free_func (cure_free);
  g_autofree char *uuid = wb_uuid_format (&data->experiment->uuid);

  collect_cures (data, smell, cures);
  for (guint i = 0; i < cures->len; i++)
    {
      const Cure *cure = g_ptr_array_index (cures, i);
      WbAppCalendarEvent *event;

      if (cure->fit.day < today)
        continue;
      event = wb_app_calendar_event_new (smell ? WB_APP_CALENDAR_SMELL_CURE : WB_APP_CALENDAR_BURN_CURE, data->experiment->record.id,
                                         data->experiment->code,
                                         g_strdup_printf ("%s-m%" G_GINT64_FORMAT "-%s%u", uuid, cure->batch, smell ? "smell" : "burn", cure->nth),
                                         wb_app_calendar_dup_cure_title (data->experiment->code, smell, cure->n),
                                         g_strdup (cure->codes->str));
      event->day = cure->fit.day;
      if (cure->fit.timed)
        event->at = cure->fit.at;
      event->samples = cure->n;
      g_ptr_array_add (self->events, event);
    }
}

/* ---- Kept samples ---- */

static void
add_kept (WbAppCalendarRead *self,
          const WbSample    *sample,
          gint64             experiment,
          const char        *code,
          WbDay              today)
{
  g_autofree char *uuid = NULL;
  WbAppCalendarEvent *event;

  if (!sample->retained || sample->keep_until == WB_DAY_NONE || sample->keep_until < today)
    return;
  uuid = wb_uuid_format (&sample->uuid);
  event = wb_app_calendar_event_new (WB_APP_CALENDAR_KEEP, experiment, code, g_strdup_printf ("%s-keep", uuid),
                                     g_strdup_printf (_("%s: %s kept until this day"), code, sample->code),
                                     g_strdup (sample->place != NULL ? sample->place : ""));
  event->day = sample->keep_until;
  event->samples = 1;
  g_ptr_array_add (self->events, event);
}

static gboolean
add_all_kept (WbAppCalendarRead       *self,
              WbStore                 *store,
              const WbStoreExperiment *experiment,
              WbDay                    today,
              GError                 **error)
{
  g_autoptr (GPtrArray) samples = wb_store_list (store, &wb_sample_type, "experiment", experiment->id, error);

  for (guint i = 0; samples != NULL && i < samples->len; i++)
    add_kept (self, g_ptr_array_index (samples, i), experiment->id, experiment->code, today);
  return samples != NULL;
}

/* ---- The notebook ---- */

static gboolean
add_experiment (WbAppCalendarRead       *self,
                WbStore                 *store,
                WbAppLoads              *loads,
                const WbStoreExperiment *experiment,
                gint64                   shared,
                WbInstant                now,
                GError                 **error)
{
  WbDay today = wb_instant_get_day (now);
  WbAppBenchLoad *load;

  if (!wb_app_bench_has_experiment (experiment))
    return experiment->samples == 0 || experiment->imported || add_all_kept (self, store, experiment, today, error);
  load = wb_app_loads_get (loads, store, experiment->id, MAX (experiment->last_entry, shared), error);
  if (load == NULL)
    return FALSE;
  for (guint i = 0; i < load->data->samples->len; i++)
    {
      if (!wb_app_bench_load_is_put_away (load, now))
        add_sample (self, load, i, now);
      add_kept (self, wb_dataset_get_sample (load->data, i), experiment->id, experiment->code, today);
    }
  add_cures (self, load->data, FALSE, today);
  add_cures (self, load->data, TRUE, today);
  wb_app_bench_load_unref (load);
  return TRUE;
}

WbAppCalendarRead *
wb_app_calendar_read_new (void)
{
  WbAppCalendarRead *self = g_new0 (WbAppCalendarRead, 1);

  self->cohorts = g_ptr_array_new_with_free_func (cohort_free);
  self->events = g_ptr_array_new_with_free_func (event_free);
  self->problems = g_ptr_array_new_with_free_func (g_free);
  self->first = WB_DAY_NONE;
  self->revised = WB_INSTANT_NONE;
  self->until = WB_INSTANT_NONE;
  return self;
}

WbAppCalendarRead *
wb_app_calendar_read (WbStore    *store,
                      WbAppLoads *loads,
                      WbInstant   now,
                      GError    **error)
{
  g_autoptr (WbAppCalendarRead) self = wb_app_calendar_read_new ();
  g_autoptr (WbRecord) notebook = NULL;
  g_autoptr (GPtrArray) experiments = NULL;
  g_autoptr (WbEntry) last = wb_store_load_entry (store, wb_store_get_last_entry (store), NULL);
  gint64 shared = wb_app_stamp_get_shared (store);

  self->revised = last != NULL ? last->at : WB_INSTANT_NONE;
  notebook = wb_store_load_notebook (store, error);
  experiments = notebook != NULL ? wb_store_list_experiments (store, now, error) : NULL;
  if (experiments == NULL)
    return NULL;
  for (guint i = 0; i < experiments->len; i++)
    if (!add_experiment (self, store, loads, g_ptr_array_index (experiments, i), shared, now, error))
      return NULL;
  wb_app_loads_trim (loads);
  wb_app_calendar_plan (self, (WbNotebook *) notebook, now);
  return g_steal_pointer (&self);
}
