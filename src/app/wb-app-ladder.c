/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-ladder-private.h"

#include <math.h>

#include "wb-app-error-private.h"
#include "wb-app-forward-private.h"
#include "wb-app-lessons-private.h"
#include "wb-app-reader-private.h"
#include "wb-craft-school.h"
#include "wb-store-records.h"

/* The seed of the ladder's draws: the same question to the same notebook gets the same answer. */
#define LADDER_SEED 1

/* Of the progress told: until the lessons are there, until they have been learnt from. */
#define LESSONS_UNTIL 0.6
#define SCHOOL_UNTIL 0.85

/* What a ladder rests on. */
typedef struct
{
  WbAppLessons  *lessons;
  GPtrArray     *wicks;
  GPtrArray     *guides;
  GPtrArray     *waxes;
  WbCraftSchool *school;
  GPtrArray     *vessels;
  GPtrArray     *decisions, *cells, *experiments; /* what was signed */
  WbProtocol    *protocol; /* who judges: the newest experiment's; NULL: there is none */
  WbProfile     *profile;
  GPtrArray     *limits, *aims;
} School;

static void
school_free (School *self)
{
  g_clear_pointer (&self->school, wb_craft_school_free);
  g_clear_pointer (&self->lessons, wb_app_lessons_free);
  g_clear_pointer (&self->wicks, g_ptr_array_unref);
  g_clear_pointer (&self->guides, g_ptr_array_unref);
  g_clear_pointer (&self->waxes, g_ptr_array_unref);
  g_clear_pointer (&self->vessels, g_ptr_array_unref);
  g_clear_pointer (&self->decisions, g_ptr_array_unref);
  g_clear_pointer (&self->cells, g_ptr_array_unref);
  g_clear_pointer (&self->experiments, g_ptr_array_unref);
  g_clear_pointer (&self->protocol, wb_record_free);
  g_clear_pointer (&self->profile, wb_record_free);
  g_clear_pointer (&self->limits, g_ptr_array_unref);
  g_clear_pointer (&self->aims, g_ptr_array_unref);
  g_free (self);
}

G_DEFINE_AUTOPTR_CLEANUP_FUNC (School, school_free)

static gboolean
keep_going (double   done,
            gpointer job)
{
  return wb_app_job_report (job, LESSONS_UNTIL + (SCHOOL_UNTIL - LESSONS_UNTIL) * done, NULL);
}

static gboolean
read_materials (WbStore *store,
                School  *self,
                GError **error)
{
  if ((self->wicks = wb_store_list (store, &wb_wick_type, NULL, 0, error)) != NULL
      && (self->guides = wb_store_list (store, &wb_wick_guide_type, NULL, 0, error)) != NULL
      && (self->waxes = wb_store_list (store, &wb_wax_type, NULL, 0, error)) != NULL
      && (self->vessels = wb_store_list (store, &wb_vessel_type, NULL, 0, error)) != NULL
      && (self->decisions = wb_store_list (store, &wb_decision_type, NULL, 0, error)) != NULL
      && (self->experiments = wb_store_list (store, &wb_experiment_type, NULL, 0, error)) != NULL
      && (self->cells = self->decisions->len > 0 ? wb_store_list (store, &wb_cell_type, NULL, 0, error)
                                                 : g_ptr_array_new_with_free_func (wb_record_free)) != NULL)
    return TRUE;
  wb_app_error_from_store (error, WB_APP_ERROR_FAILED);
  return FALSE;
}

/* The protocol and the aims of the newest experiment are the maker's own; without one the house's stand. */
static gboolean
read_judge (WbStore *store,
            School  *self,
            GError **error)
{
  const WbExperiment *newest;

  if (self->experiments->len == 0)
    return TRUE;
  newest = g_ptr_array_index (self->experiments, self->experiments->len - 1);
  if ((newest->protocol == 0
       || ((self->protocol = wb_store_load (store, &wb_protocol_type, newest->protocol, error)) != NULL
           && (self->limits = wb_store_list (store, &wb_limit_type, "protocol", newest->protocol, error)) != NULL))
      && (newest->profile == 0
          || ((self->profile = wb_store_load (store, &wb_profile_type, newest->profile, error)) != NULL
              && (self->aims = wb_store_list (store, &wb_aim_type, "profile", newest->profile, error)) != NULL)))
    return TRUE;
  wb_app_error_from_store (error, WB_APP_ERROR_FAILED);
  return FALSE;
}

/* The question as the maker's own limits and aims judge it; borrowed from both. */
static WbCraftLadderQuestion
put_judge (const School                *self,
           const WbCraftLadderQuestion *question)
{
  WbCraftLadderQuestion judged = *question;

  judged.protocol = self->protocol;
  judged.limits = self->limits;
  judged.profile = self->profile;
  judged.aims = self->aims;
  judged.vessels = self->vessels;
  judged.decisions = self->decisions;
  judged.cells = self->cells;
  judged.experiments = self->experiments;
  return judged;
}

/* From what was kept alone, where that rests on what there is. FALSE without an error: it does not. */
static gboolean
recall (WbStore           *store,
        WbAppLessonKeeper *keeper,
        School            *self,
        GError           **error)
{
  self->lessons = wb_app_lessons_glance (store, keeper, error);
  if (self->lessons == NULL)
    return FALSE;
  self->school = wb_craft_school_recall (self->lessons->lessons, self->guides, self->wicks, self->waxes, self->lessons->school);
  if (self->school == NULL)
    g_clear_pointer (&self->lessons, wb_app_lessons_free);
  return self->school != NULL;
}

/* keeper: as of wb_app_lessons_gather; it is given what is new. */
static School *
go_to_school_in (WbStore           *store,
                 WbAppLessonKeeper *keeper,
                 WbAppJob          *job,
                 GError           **error)
{
  g_autoptr (School) self = g_new0 (School, 1);
  GError *reason = NULL;

  if (!read_materials (store, self, error) || !read_judge (store, self, error))
    return NULL;
  if (recall (store, keeper, self, &reason))
    {
      if (wb_app_job_report (job, SCHOOL_UNTIL, NULL))
        return g_steal_pointer (&self);
      g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_CANCELLED, "Cancelled");
      return NULL;
    }
  if (reason != NULL)
    {
      g_propagate_error (error, reason);
      return NULL;
    }
  self->lessons = wb_app_lessons_gather (store, keeper, LESSONS_UNTIL, job, error);
  if (self->lessons == NULL)
    return NULL;
  /* before anything else can be cancelled */
  if (keeper != NULL && !self->lessons->apart && (self->lessons->anew->len > 0 || self->lessons->gone->len > 0))
    wb_app_lesson_keeper_give (keeper, self->lessons->anew, self->lessons->gone, NULL);
  self->school = wb_craft_school_new (self->lessons->lessons, self->guides, self->wicks, self->waxes, self->lessons->school, keep_going, job);
  if (self->school != NULL)
    return g_steal_pointer (&self);
  g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_CANCELLED, "Cancelled");
  return NULL;
}

static School *
go_to_school (const char        *path,
              WbAppLessonKeeper *keeper,
              WbAppJob          *job,
              GError           **error)
{
  g_autoptr (WbStore) store = wb_app_reader_connect (path, error);

  return store != NULL ? go_to_school_in (store, keeper, job, error) : NULL;
}

/* The bytes to keep, or NULL where those that are kept say the same. Caller unrefs. */
static GBytes *
dup_new_school (const School *self)
{
  if (self->lessons->apart || (self->lessons->school != NULL && wb_craft_school_is_kept (self->school, self->lessons->school)))
    return NULL;
  return wb_craft_school_get_kept (self->school);
}

static void
keep_school (const School      *self,
             WbAppLessonKeeper *keeper)
{
  g_autoptr (GBytes) school = dup_new_school (self);

  if (school != NULL)
    wb_app_lesson_keeper_give (keeper, NULL, NULL, school);
}

/* Those of the notebook's wicks that are asked about; borrowed. */
static GPtrArray *
pick_wicks (const GPtrArray *wicks,
            const GArray    *asked)
{
  GPtrArray *picked = g_ptr_array_new ();

  for (guint i = 0; i < wicks->len; i++)
    for (guint k = 0; k < asked->len; k++)
      if (((const WbRecord *) g_ptr_array_index (wicks, i))->id == g_array_index (asked, gint64, k))
        {
          g_ptr_array_add (picked, g_ptr_array_index (wicks, i));
          break;
        }
  return picked;
}

static WbCraftLadder *
find_ladder (const School                *school,
             const WbCraftLadderQuestion *question,
             WbAppJob                    *job)
{
  WbCraftLadderQuestion judged = put_judge (school, question);
  WbCraftLadder *ladder = wb_craft_ladder_new (&judged, school->school, school->wicks, school->guides, school->waxes, LADDER_SEED);

  wb_app_job_report (job, 1, NULL);
  return ladder;
}

static WbCraftShortlist *
find_shortlist (const School                *school,
                const WbCraftLadderQuestion *question,
                const GArray                *wicks,
                WbAppJob                    *job)
{
  g_autoptr (GPtrArray) picked = pick_wicks (school->wicks, wicks);
  WbCraftLadderQuestion judged = put_judge (school, question);
  WbCraftShortlist *list = wb_craft_shortlist_new (&judged, school->school, picked, school->guides, school->waxes, LADDER_SEED);

  wb_app_job_report (job, 1, NULL);
  return list;
}

WbCraftLadder *
wb_app_ladder_sync (WbAppNotebook               *notebook,
                    const WbCraftLadderQuestion *question,
                    WbAppJob                    *job,
                    GError                     **error)
{
  g_autoptr (School) school = go_to_school (wb_app_notebook_get_path (notebook), NULL, job, error);
  g_autoptr (GBytes) kept = NULL;

  if (school == NULL)
    return NULL;
  kept = dup_new_school (school);
  /* where it fails, the next who asks makes them anew */
  if (!school->lessons->apart && (school->lessons->anew->len > 0 || school->lessons->gone->len > 0 || kept != NULL))
    wb_app_lesson_keep_sync (notebook, school->lessons->anew, school->lessons->gone, kept);
  return find_ladder (school, question, job);
}

/* A ladder of the one wick that is asked about: what else there is changes no limit that it crosses. */
static double
find_crossing (const School              *school,
               const WbAppLadderCrossing *asked)
{
  g_autoptr (GArray) wick = g_array_new (FALSE, FALSE, sizeof (gint64));
  g_autoptr (GPtrArray) picked = NULL;
  g_autoptr (WbCraftLadder) ladder = NULL;

  g_array_append_val (wick, asked->wick);
  picked = pick_wicks (school->wicks, wick);
  ladder = wb_craft_ladder_new (&asked->question, school->school, picked, school->guides, school->waxes, LADDER_SEED);
  for (guint i = 0; ladder->rests_on == WB_CRAFT_RESTS_ON_HISTORY && i < ladder->steps->len; i++)
    if (((const WbCraftLadderStep *) g_ptr_array_index (ladder->steps, i))->wick == asked->wick)
      return ((const WbCraftLadderStep *) g_ptr_array_index (ladder->steps, i))->p_cross;
  return NAN;
}

gboolean
wb_app_ladder_find_crossings (WbStore      *store,
                              GArray       *asked,
                              GCancellable *cancellable,
                              GError      **error)
{
  g_autoptr (School) school = go_to_school_in (store, NULL, NULL, error);

  if (school == NULL)
    return FALSE;
  for (guint i = 0; i < asked->len; i++)
    {
      WbAppLadderCrossing *one = &g_array_index (asked, WbAppLadderCrossing, i);

      if (g_cancellable_set_error_if_cancelled (cancellable, error))
        return FALSE;
      one->p_cross = wb_craft_school_is_taught (school->school) ? find_crossing (school, one) : NAN;
    }
  return TRUE;
}

typedef struct
{
  char                 *path;
  WbAppLessonKeeper    *keeper;
  WbCraftLadderQuestion question; /* its texts owned */
  GArray               *wicks;    /* of a shortlist; NULL: a ladder is asked for */
  WbAppJob             *job;
} Request;

static void
request_free (gpointer data)
{
  Request *self = data;

  g_free (self->path);
  g_free (self->question.vessel);
  g_free (self->question.wax);
  wb_app_lesson_keeper_unref (self->keeper);
  g_clear_pointer (&self->wicks, g_array_unref);
  g_clear_object (&self->job);
  g_free (self);
}

static void
ask_in_thread (GTask        *task,
               gpointer      source,
               gpointer      task_data,
               GCancellable *cancellable)
{
  const Request *request = task_data;
  GError *error = NULL;
  g_autoptr (School) school = go_to_school (request->path, request->keeper, request->job, &error);

  if (school == NULL)
    {
      g_task_return_error (task, error);
      return;
    }
  keep_school (school, request->keeper);
  if (request->wicks != NULL)
    g_task_return_pointer (task, find_shortlist (school, &request->question, request->wicks, request->job),
                           (GDestroyNotify) wb_craft_shortlist_free);
  else
    g_task_return_pointer (task, find_ladder (school, &request->question, request->job), (GDestroyNotify) wb_craft_ladder_free);
}

/* wicks NULL: a ladder. Takes the task. */
static void
ask (WbAppNotebook               *notebook,
     WbAppLessonKeeper           *keeper,
     const WbCraftLadderQuestion *question,
     const GArray                *wicks,
     WbAppJob                    *job,
     GTask                       *task)
{
  g_autoptr (GTask) inner
      = wb_app_forward_new (task, wicks != NULL ? (GDestroyNotify) wb_craft_shortlist_free : (GDestroyNotify) wb_craft_ladder_free, NULL);
  Request *request = g_new0 (Request, 1);

  request->path = g_strdup (wb_app_notebook_get_path (notebook));
  request->keeper = wb_app_lesson_keeper_ref (keeper);
  request->question = *question;
  request->question.vessel = g_strdup (question->vessel);
  request->question.wax = g_strdup (question->wax);
  request->wicks = wicks != NULL ? g_array_copy ((GArray *) wicks) : NULL;
  request->job = job != NULL ? g_object_ref (job) : NULL;
  g_task_set_task_data (inner, request, request_free);
  g_task_run_in_thread (inner, ask_in_thread);
}

void
wb_app_ladder_async (WbAppNotebook               *notebook,
                     WbAppLessonKeeper           *keeper,
                     const WbCraftLadderQuestion *question,
                     WbAppJob                    *job,
                     GTask                       *task)
{
  ask (notebook, keeper, question, NULL, job, task);
}

void
wb_app_ladder_shortlist_async (WbAppNotebook               *notebook,
                               WbAppLessonKeeper           *keeper,
                               const WbCraftLadderQuestion *question,
                               const GArray                *wicks,
                               WbAppJob                    *job,
                               GTask                       *task)
{
  ask (notebook, keeper, question, wicks, job, task);
}
