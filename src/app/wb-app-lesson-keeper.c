/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-lesson-keeper-private.h"

#include "wb-app-notebook-private.h"
#include "wb-store-lessons.h"

#define A_TURN 16 /* lessons: some ten milliseconds of the writer's */

struct _WbAppLessonKeeper
{
  gatomicrefcount ref_count;
  GMainContext   *context;   /* of the notebook's thread */
  GWeakRef        notebook;  /* looked at on that thread alone */
  gboolean        writing;   /* likewise: a turn of the writer is on its way */

  GMutex          lock;      /* of what follows */
  GHashTable     *lessons;   /* gint64 experiment to WbLesson: not in the file, or not known to be */
  GHashTable     *waiting;   /* gint64: those of them that the writer has not been asked for yet */
  GArray         *gone;      /* gint64 */
  GBytes         *school;    /* NULL: none, or it is in the file */
  gboolean        school_waits;
};

/* What the writer takes in one turn. */
typedef struct
{
  WbAppLessonKeeper *keeper;
  GPtrArray         *lessons;
  GArray            *gone;
  GBytes            *school;
} Turn;

static void
turn_free (gpointer data)
{
  Turn *self = data;

  g_ptr_array_unref (self->lessons);
  g_array_unref (self->gone);
  g_clear_pointer (&self->school, g_bytes_unref);
  wb_app_lesson_keeper_unref (self->keeper);
  g_free (self);
}

WbAppLessonKeeper *
wb_app_lesson_keeper_new (WbAppNotebook *notebook)
{
  WbAppLessonKeeper *self = g_new0 (WbAppLessonKeeper, 1);

  g_atomic_ref_count_init (&self->ref_count);
  self->context = g_main_context_ref_thread_default ();
  g_weak_ref_init (&self->notebook, notebook);
  g_mutex_init (&self->lock);
  self->lessons = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, (GDestroyNotify) wb_lesson_free);
  self->waiting = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  self->gone = g_array_new (FALSE, FALSE, sizeof (gint64));
  return self;
}

WbAppLessonKeeper *
wb_app_lesson_keeper_ref (WbAppLessonKeeper *self)
{
  g_atomic_ref_count_inc (&self->ref_count);
  return self;
}

void
wb_app_lesson_keeper_unref (WbAppLessonKeeper *self)
{
  if (self == NULL || !g_atomic_ref_count_dec (&self->ref_count))
    return;
  g_main_context_unref (self->context);
  g_weak_ref_clear (&self->notebook);
  g_mutex_clear (&self->lock);
  g_hash_table_unref (self->lessons);
  g_hash_table_unref (self->waiting);
  g_array_unref (self->gone);
  g_clear_pointer (&self->school, g_bytes_unref);
  g_free (self);
}

/* Takes what waits, up to a turn of it; NULL: nothing does. */
static Turn *
take_turn (WbAppLessonKeeper *self)
{
  Turn *turn;
  GHashTableIter iter;
  gpointer id;

  g_mutex_lock (&self->lock);
  if (g_hash_table_size (self->waiting) == 0 && self->gone->len == 0 && !self->school_waits)
    {
      g_mutex_unlock (&self->lock);
      return NULL;
    }
  turn = g_new0 (Turn, 1);
  turn->keeper = wb_app_lesson_keeper_ref (self);
  turn->lessons = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_lesson_free);
  g_hash_table_iter_init (&iter, self->waiting);
  while (turn->lessons->len < A_TURN && g_hash_table_iter_next (&iter, &id, NULL))
    {
      g_ptr_array_add (turn->lessons, wb_lesson_copy (g_hash_table_lookup (self->lessons, id)));
      g_hash_table_iter_remove (&iter);
    }
  turn->gone = self->gone;
  self->gone = g_array_new (FALSE, FALSE, sizeof (gint64));
  /* it rests on the lessons: behind them */
  if (self->school_waits && g_hash_table_size (self->waiting) == 0)
    {
      turn->school = g_bytes_ref (self->school);
      self->school_waits = FALSE;
    }
  g_mutex_unlock (&self->lock);
  return turn;
}

/* What was written is in the file, unless another one came meanwhile. */
static void
forget_written (WbAppLessonKeeper *self,
                const Turn        *turn)
{
  g_mutex_lock (&self->lock);
  for (guint i = 0; i < turn->lessons->len; i++)
    {
      const WbLesson *written = g_ptr_array_index (turn->lessons, i);
      const WbLesson *here = g_hash_table_lookup (self->lessons, &written->experiment);

      if (here != NULL && !g_hash_table_contains (self->waiting, &written->experiment))
        g_hash_table_remove (self->lessons, &written->experiment);
    }
  if (turn->school != NULL && turn->school == self->school && !self->school_waits)
    g_clear_pointer (&self->school, g_bytes_unref);
  g_mutex_unlock (&self->lock);
}

static gboolean
write_turn (WbStore         *store,
            const GPtrArray *lessons,
            const GArray    *gone,
            GBytes          *school,
            GError         **error)
{
  gboolean any = (lessons != NULL && lessons->len > 0) || (gone != NULL && gone->len > 0);

  if (any && !wb_store_keep_lessons (store, lessons, gone, error))
    return FALSE;
  return school == NULL || wb_store_keep_school (store, school, error);
}

static gpointer
on_writer (WbStore      *store,
           gpointer      data,
           GCancellable *cancellable,
           GError      **error)
{
  Turn *turn = data;

  if (!write_turn (store, turn->lessons, turn->gone, turn->school, error))
    return NULL;
  forget_written (turn->keeper, turn);
  return turn;
}

static void write_next (WbAppLessonKeeper *self);

static void
on_written_cb (GObject      *source,
               GAsyncResult *result,
               gpointer      user_data)
{
  g_autoptr (WbAppLessonKeeper) self = user_data;
  g_autoptr (GError) error = NULL;

  self->writing = FALSE;
  g_task_propagate_pointer (G_TASK (result), &error);
  /* What failed stays in memory; the rest would fail likewise, and is tried with the next that comes. */
  if (error == NULL)
    write_next (self);
  else
    g_debug ("lessons stay in memory: %s", error->message);
}

/* On the notebook's thread. */
static void
write_next (WbAppLessonKeeper *self)
{
  g_autoptr (WbAppNotebook) notebook = g_weak_ref_get (&self->notebook);
  WbAppWriter *writer = notebook != NULL ? wb_app_notebook_get_writer (notebook) : NULL;
  Turn *turn;

  if (self->writing || writer == NULL || (turn = take_turn (self)) == NULL)
    return;
  self->writing = TRUE;
  wb_app_writer_run (writer, g_task_new (NULL, NULL, on_written_cb, wb_app_lesson_keeper_ref (self)), on_writer, turn, turn_free, NULL);
}

static gboolean
on_given_cb (gpointer self)
{
  write_next (self);
  return G_SOURCE_REMOVE;
}

void
wb_app_lesson_keeper_give (WbAppLessonKeeper *self,
                           const GPtrArray   *lessons,
                           const GArray      *gone,
                           GBytes            *school)
{
  g_mutex_lock (&self->lock);
  for (guint i = 0; gone != NULL && i < gone->len; i++)
    {
      g_hash_table_remove (self->waiting, &g_array_index (gone, gint64, i));
      g_hash_table_remove (self->lessons, &g_array_index (gone, gint64, i));
      g_array_append_val (self->gone, g_array_index (gone, gint64, i));
    }
  for (guint i = 0; lessons != NULL && i < lessons->len; i++)
    {
      const WbLesson *lesson = g_ptr_array_index (lessons, i);

      g_hash_table_replace (self->lessons, g_memdup2 (&lesson->experiment, sizeof (gint64)), wb_lesson_copy (lesson));
      g_hash_table_add (self->waiting, g_memdup2 (&lesson->experiment, sizeof (gint64)));
    }
  if (school != NULL)
    {
      g_clear_pointer (&self->school, g_bytes_unref);
      self->school = g_bytes_ref (school);
      self->school_waits = TRUE;
    }
  g_mutex_unlock (&self->lock);
  g_main_context_invoke_full (self->context, G_PRIORITY_LOW, on_given_cb, wb_app_lesson_keeper_ref (self),
                              (GDestroyNotify) wb_app_lesson_keeper_unref);
}

WbLesson *
wb_app_lesson_keeper_dup (WbAppLessonKeeper *self,
                          gint64             experiment)
{
  const WbLesson *lesson;
  WbLesson *copy;

  g_mutex_lock (&self->lock);
  lesson = g_hash_table_lookup (self->lessons, &experiment);
  copy = lesson != NULL ? wb_lesson_copy (lesson) : NULL;
  g_mutex_unlock (&self->lock);
  return copy;
}

GBytes *
wb_app_lesson_keeper_ref_school (WbAppLessonKeeper *self)
{
  GBytes *school;

  g_mutex_lock (&self->lock);
  school = self->school != NULL ? g_bytes_ref (self->school) : NULL;
  g_mutex_unlock (&self->lock);
  return school;
}

typedef struct
{
  const GPtrArray *lessons;
  const GArray    *gone;
  GBytes          *school;
} Kept;

static gpointer
keep_now (WbStore      *store,
          gpointer      data,
          GCancellable *cancellable,
          GError      **error)
{
  Kept *kept = data;

  return write_turn (store, kept->lessons, kept->gone, kept->school, error) ? kept : NULL;
}

gboolean
wb_app_lesson_keep_sync (WbAppNotebook   *notebook,
                         const GPtrArray *lessons,
                         const GArray    *gone,
                         GBytes          *school)
{
  Kept kept = { lessons, gone, school };
  g_autoptr (WbStore) store = NULL;

  if (!wb_app_notebook_get_read_only (notebook))
    return wb_app_notebook_write_sync (notebook, keep_now, &kept, NULL) != NULL;
  /* A command opens for reading, whatever may be written. */
  store = wb_store_open (wb_app_notebook_get_path (notebook), WB_STORE_WRITE, NULL);
  return store != NULL && keep_now (store, &kept, NULL, NULL) != NULL;
}
