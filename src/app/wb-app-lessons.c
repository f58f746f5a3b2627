/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-lessons-private.h"

#include "wb-app-error-private.h"
#include "wb-craft-lesson.h"
#include "wb-store-dataset.h"

#define READ_SHARE 0.05 /* of the progress told */

void
wb_app_lessons_free (WbAppLessons *self)
{
  if (self == NULL)
    return;
  g_clear_pointer (&self->lessons, g_ptr_array_unref);
  g_clear_pointer (&self->anew, g_ptr_array_unref);
  g_clear_pointer (&self->gone, g_array_unref);
  g_clear_pointer (&self->school, g_bytes_unref);
  g_free (self);
}

static WbAppLessons *
lessons_new (void)
{
  WbAppLessons *self = g_new0 (WbAppLessons, 1);

  self->lessons = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_lesson_free);
  self->anew = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_lesson_free);
  self->gone = g_array_new (FALSE, FALSE, sizeof (gint64));
  return self;
}

static gboolean
is_fresh (const WbLesson            *lesson,
          const WbStoreBurnt        *burnt,
          const WbStoreLessonStamps *stamps)
{
  return lesson != NULL && lesson->version == WB_CRAFT_LESSON_VERSION && lesson->last_entry == burnt->last_entry
         && lesson->shared_entry == wb_store_lesson_stamps_get_shared (stamps, lesson);
}

/* One experiment's share of the progress. */
typedef struct
{
  WbAppJob *job;
  double    from, to;
} Share;

static gboolean
keep_going (double   done,
            gpointer user)
{
  const Share *share = user;

  return wb_app_job_report (share->job, share->from + done * (share->to - share->from), NULL);
}

/* The stamps were read before the data: what came in between makes the lesson look older than it is, never newer. */
static void
stamp (WbLesson                  *lesson,
       gint64                     last_entry,
       const WbStoreLessonStamps *stamps)
{
  lesson->last_entry = last_entry;
  lesson->shared_entry = wb_store_lesson_stamps_get_shared (stamps, lesson);
}

/* NULL with an error. */
static WbLesson *
make (WbStore                   *store,
      const WbStoreBurnt        *burnt,
      const WbStoreLessonStamps *stamps,
      Share                     *share,
      GError                   **error)
{
  g_autoptr (WbDataset) data = wb_store_load_dataset (store, burnt->experiment, error);
  g_autoptr (WbCraftFigures) figures = NULL;
  g_autoptr (WbCraftLimits) limits = NULL;
  g_autoptr (WbCraftEstimates) estimates = NULL;
  WbLesson *lesson;

  if (data == NULL)
    return NULL;
  figures = wb_craft_figures_new (data);
  estimates = wb_craft_estimates_new (data, figures, WB_STAGE_ALL, NULL, keep_going, share);
  if (estimates == NULL)
    {
      g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_CANCELLED, "Cancelled");
      return NULL;
    }
  limits = wb_craft_limits_new (data, figures);
  lesson = wb_craft_lesson_new (data, figures, limits, estimates);
  stamp (lesson, burnt->last_entry, stamps);
  return lesson;
}

/*
 * What is fresh of the kept ones is taken over, in their order and that of the stamps, which are both by experiment. The rest is left NULL in
 * `into`, which has a place an experiment. Returns how many those are.
 */
static guint
sort_out (const WbStoreLessonStamps *stamps,
          GPtrArray                 *kept,
          WbAppLessonKeeper         *keeper,
          GPtrArray                 *into,
          GArray                    *gone)
{
  guint k = 0, missing = 0;

  for (guint i = 0; i < stamps->burnt->len; i++)
    {
      const WbStoreBurnt *burnt = &g_array_index (stamps->burnt, WbStoreBurnt, i);
      WbLesson *lesson = NULL;

      for (; k < kept->len && ((WbLesson *) g_ptr_array_index (kept, k))->experiment < burnt->experiment; k++)
        g_array_append_val (gone, ((WbLesson *) g_ptr_array_index (kept, k))->experiment);
      if (k < kept->len && ((WbLesson *) g_ptr_array_index (kept, k))->experiment == burnt->experiment)
        {
          lesson = g_steal_pointer (&g_ptr_array_index (kept, k));
          k++;
          /* not as it was kept: its place is made free for what is made anew */
          if (lesson->version == 0)
            g_array_append_val (gone, burnt->experiment);
        }
      if (!is_fresh (lesson, burnt, stamps))
        {
          g_clear_pointer (&lesson, wb_lesson_free);
          lesson = keeper != NULL ? wb_app_lesson_keeper_dup (keeper, burnt->experiment) : NULL;
          if (!is_fresh (lesson, burnt, stamps))
            g_clear_pointer (&lesson, wb_lesson_free);
        }
      missing += lesson == NULL;
      g_ptr_array_add (into, lesson);
    }
  for (; k < kept->len; k++)
    g_array_append_val (gone, ((WbLesson *) g_ptr_array_index (kept, k))->experiment);
  return missing;
}

/* FALSE: stopped, or an experiment could not be read. */
static gboolean
make_missing (WbAppLessons              *self,
              WbStore                   *store,
              const WbStoreLessonStamps *stamps,
              guint                      missing,
              double                     until,
              WbAppJob                  *job,
              GError                   **error)
{
  guint done = 0;

  for (guint i = 0; i < self->lessons->len; i++)
    {
      const WbStoreBurnt *burnt = &g_array_index (stamps->burnt, WbStoreBurnt, i);
      Share share = { job, until * (READ_SHARE + (1 - READ_SHARE) * done / missing),
                      until * (READ_SHARE + (1 - READ_SHARE) * (done + 1) / missing) };
      WbLesson *lesson;

      if (g_ptr_array_index (self->lessons, i) != NULL)
        continue;
      lesson = make (store, burnt, stamps, &share, error);
      if (lesson == NULL)
        return FALSE;
      done++;
      g_ptr_array_index (self->lessons, i) = lesson;
      g_ptr_array_add (self->anew, wb_lesson_copy (lesson));
    }
  return TRUE;
}

/* `recipes`: without the figures. */
static gboolean
read_kept (WbStore              *store,
           gboolean              recipes,
           WbStoreLessonStamps **stamps,
           GPtrArray           **kept,
           GBytes              **school,
           GError              **error)
{
  GError *reason = NULL;

  *stamps = wb_store_lesson_stamps_new (store, error);
  if (*stamps == NULL)
    return FALSE;
  *kept = recipes ? wb_store_load_lessons_recipes (store, error) : wb_store_load_lessons (store, error);
  if (*kept == NULL)
    return FALSE;
  *school = wb_store_load_school (store, &reason);
  if (reason == NULL)
    return TRUE;
  g_propagate_error (error, reason);
  return FALSE;
}

/* What is there by now, NULL in place of the lessons that are missing. NULL with an error. */
static WbAppLessons *
look_up (WbStore              *store,
         gboolean              recipes,
         WbAppLessonKeeper    *keeper,
         WbStoreLessonStamps **stamps,
         guint                *missing,
         GError              **error)
{
  g_autoptr (WbAppLessons) self = lessons_new ();
  g_autoptr (GPtrArray) kept = NULL;
  GBytes *school;

  self->apart = wb_store_reads_copy (store);
  if (!read_kept (store, recipes, stamps, &kept, &self->school, error))
    {
      wb_app_error_from_store (error, WB_APP_ERROR_FAILED);
      return NULL;
    }
  if (keeper != NULL && (school = wb_app_lesson_keeper_ref_school (keeper)) != NULL)
    {
      g_clear_pointer (&self->school, g_bytes_unref);
      self->school = school;
    }
  *missing = sort_out (*stamps, kept, keeper, self->lessons, self->gone);
  return g_steal_pointer (&self);
}

WbAppLessons *
wb_app_lessons_glance (WbStore           *store,
                       WbAppLessonKeeper *keeper,
                       GError           **error)
{
  g_autoptr (WbStoreLessonStamps) stamps = NULL;
  guint missing = 0;
  g_autoptr (WbAppLessons) self = look_up (store, TRUE, keeper, &stamps, &missing, error);

  return self != NULL && missing == 0 && self->gone->len == 0 && self->school != NULL ? g_steal_pointer (&self) : NULL;
}

WbAppLessons *
wb_app_lessons_gather (WbStore           *store,
                       WbAppLessonKeeper *keeper,
                       double             until,
                       WbAppJob          *job,
                       GError           **error)
{
  g_autoptr (WbStoreLessonStamps) stamps = NULL;
  guint missing = 0;
  g_autoptr (WbAppLessons) self = look_up (store, FALSE, keeper, &stamps, &missing, error);

  if (self == NULL)
    return NULL;
  if (make_missing (self, store, stamps, missing, until, job, error))
    {
      wb_app_job_report (job, until, NULL);
      return g_steal_pointer (&self);
    }
  wb_app_error_from_store (error, WB_APP_ERROR_FAILED);
  if (keeper != NULL && !self->apart)
    wb_app_lesson_keeper_give (keeper, self->anew, self->gone, NULL);
  return NULL;
}

WbLesson *
wb_app_lessons_of_answer (const WbCraftAnswer       *answer,
                          const WbStoreLessonStamps *stamps)
{
  WbLesson *lesson;

  if (answer->estimates->earlier != NULL)
    return NULL;
  for (guint i = 0; i < stamps->burnt->len; i++)
    {
      const WbStoreBurnt *burnt = &g_array_index (stamps->burnt, WbStoreBurnt, i);

      if (burnt->experiment != answer->data->experiment->record.id)
        continue;
      lesson = wb_craft_lesson_new (answer->data, answer->figures, answer->limits, answer->estimates);
      stamp (lesson, burnt->last_entry, stamps);
      return lesson;
    }
  return NULL;
}
