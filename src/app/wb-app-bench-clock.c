/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-bench-clock-private.h"

#include "wb-app-clock-private.h"
#include "wb-app-notebook-private.h"
#include "wb-app-save-private.h"
#include "wb-app-save-task-private.h"
#include "wb-clock.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/*
 * The clock of each burn. At the first sight of it the state folder and the
 * record say how long it has lasted; from then on the clock that never steps
 * counts. What could not be told waits for somebody who says it. The same
 * clock counts on while it cools: wax sets by no clock that is set.
 */

/* By how much the wall clock was moved since that was noted; 0: not, or not known. */
static gint64
find_move (const WbAppRunning *noted)
{
  WbClock *clock = wb_clock_get ();

  if (noted == NULL || !g_str_equal (noted->boot_id, wb_clock_get_boot_id (clock)))
    return 0;
  return (wb_clock_now (clock).utc_us - wb_clock_steady_us (clock)) - (noted->wall_us - noted->steady_us);
}

void
wb_app_bench_anchor_set (WbAppBenchAnchor     *self,
                         const WbAppBenchLife *life,
                         const WbAppRunning   *noted,
                         WbInstant             last_entry)
{
  WbClock *clock = wb_clock_get ();
  const WbAppRunningCase at = {
    .now = wb_clock_now (clock),
    .steady_us = wb_clock_steady_us (clock),
    .boot_id = wb_clock_get_boot_id (clock),
    .lit_at = life->burn->lit_at,
    .last_min = life->last_min,
    .last_entry = last_entry,
  };
  WbAppRunningBasis basis;

  /* What was doubted is sure once it is noted by this start of the computer: somebody has told it, here or in another process. */
  if (self->burn == life->burn->record.id
      && !(self->unsure && noted != NULL && g_str_equal (noted->boot_id, at.boot_id)))
    return;
  basis = wb_app_running_judge (noted, &at, &self->elapsed_us);
  self->burn = life->burn->record.id;
  self->steady_us = at.steady_us;
  self->unsure = basis == WB_APP_RUNNING_UNSURE;
  self->by_wall_us = at.now.utc_us - at.lit_at.utc_us;
}

gint64
wb_app_bench_anchor_get_elapsed_us (const WbAppBenchAnchor *self)
{
  return MAX (self->elapsed_us + wb_clock_steady_us (wb_clock_get ()) - self->steady_us, 0);
}

gboolean
wb_app_bench_anchor_set_cooling (WbAppBenchAnchor     *self,
                                 const WbAppBenchLoad *load,
                                 const WbAppBenchLife *life,
                                 const WbAppRunning   *noted)
{
  WbClock *clock = wb_clock_get ();
  gint64 by_wall_us = wb_clock_now (clock).utc_us - life->burn->lit_at.utc_us;
  gint64 elapsed_us = by_wall_us;

  if (self->burn == life->burn->record.id)
    return wb_app_bench_life_is_cooling (load, life, wb_app_bench_anchor_get_elapsed_us (self));
  /* The record is right, and may have been amended, as long as nobody has set the clock since. */
  if (ABS (find_move (noted)) > WB_APP_CLOCK_LET_PASS_US)
    elapsed_us = wb_clock_steady_us (clock) - noted->steady_us;
  /* A clock that stands behind the record: that is the later of the two, and holds. */
  if (!life->burn->lit_at.known || !wb_app_bench_life_is_cooling (load, life, elapsed_us))
    return FALSE;
  *self = (WbAppBenchAnchor) { .burn = life->burn->record.id, .elapsed_us = elapsed_us,
                               .steady_us = wb_clock_steady_us (clock), .by_wall_us = by_wall_us };
  return TRUE;
}


/* Minute 0 by the clocks as they stand now. */
static WbAppRunning *
dup_running (gint64 elapsed_us)
{
  WbClock *clock = wb_clock_get ();

  return wb_app_running_new (wb_clock_get_boot_id (clock), wb_clock_steady_us (clock) - elapsed_us,
                             wb_clock_now (clock).utc_us - elapsed_us);
}

/* ---- What the state folder is to hold ---- */

typedef struct
{
  WbUuid        burn;
  WbAppRunning *running;
  gboolean      gone;    /* that note is to be removed, if it is still there */
} Note;

typedef struct
{
  WbUuid  notebook;
  GArray *notes; /* Note */
} Notes;

static void
note_clear (gpointer note)
{
  wb_app_running_free (((Note *) note)->running);
}

static Notes *
notes_new (WbAppNotebook *notebook)
{
  Notes *self = g_new0 (Notes, 1);

  self->notebook = wb_app_notebook_get_settings (notebook)->uuid;
  self->notes = g_array_new (FALSE, FALSE, sizeof (Note));
  g_array_set_clear_func (self->notes, note_clear);
  return self;
}

static void
notes_free (gpointer data)
{
  g_array_unref (((Notes *) data)->notes);
  g_free (data);
}

/* Takes the running one. */
static void
notes_add (Notes        *self,
           const WbUuid *burn,
           WbAppRunning *running)
{
  Note note = { *burn, running, FALSE };

  g_array_append_val (self->notes, note);
}

/* It is as it was seen; what has been told since stays. */
static void
notes_add_removal (Notes              *self,
                   const WbUuid       *burn,
                   const WbAppRunning *seen)
{
  Note note = { *burn, wb_app_running_new (seen->boot_id, seen->steady_us, seen->wall_us), TRUE };

  g_array_append_val (self->notes, note);
}

static void
notes_write (gpointer data)
{
  Notes *self = data;

  for (guint i = 0; i < self->notes->len; i++)
    {
      const Note *note = &g_array_index (self->notes, Note, i);

      if (note->gone)
        wb_app_running_remove (&self->notebook, &note->burn, note->running);
      else
        wb_app_running_write (&self->notebook, &note->burn, note->running);
    }
}

static void
write_thread (GTask        *task,
              gpointer      source,
              gpointer      notes,
              GCancellable *cancellable)
{
  notes_write (notes);
  g_task_return_boolean (task, TRUE);
}

/* What is noted of a burn that is alight or cools, or of one that has cooled. */
static void
look_at_sample (WbAppBenchSample *sample,
                GHashTable       *noted,
                Notes            *notes)
{
  const WbBurn *burn = wb_app_bench_sample_get_burn (sample);
  g_autofree char *uuid = burn != NULL ? wb_uuid_format (&burn->uuid) : NULL;
  const WbAppRunning *running = uuid != NULL ? g_hash_table_lookup (noted, uuid) : NULL;
  const WbAppBenchAnchor *anchor = wb_app_bench_sample_get_anchor (sample);

  if (burn == NULL)
    return;
  /* Nobody has said how long it has burnt: it is asked again. How long it has cooled is known all the same. */
  if (!wb_app_bench_sample_is_counted (sample)
      || (anchor->unsure && wb_app_bench_life_is_alight (wb_app_bench_sample_get_life (sample))))
    {
      if (running != NULL)
        notes_add_removal (notes, &burn->uuid, running);
    }
  else if (running == NULL || !g_str_equal (running->boot_id, wb_clock_get_boot_id (wb_clock_get ())))
    notes_add (notes, &burn->uuid, dup_running (wb_app_bench_anchor_get_elapsed_us (anchor)));
  g_hash_table_remove (noted, uuid);
}

/* What an earlier start of the computer left of burns that are no sample's last one any more. */
static void
drop_strays (GHashTable *noted,
             Notes      *notes)
{
  const char *boot_id = wb_clock_get_boot_id (wb_clock_get ());
  GHashTableIter iter;
  gpointer uuid, running;
  WbUuid burn;

  g_hash_table_iter_init (&iter, noted);
  while (g_hash_table_iter_next (&iter, &uuid, &running))
    if (!g_str_equal (((WbAppRunning *) running)->boot_id, boot_id) && wb_uuid_parse (uuid, &burn))
      notes_add_removal (notes, &burn, running);
}

/* What the state folder says of the sample's burn; NULL: nothing. Borrowed. */
static const WbAppRunning *
find_noted (WbAppBenchSample *sample,
            GHashTable       *noted)
{
  const WbBurn *burn = wb_app_bench_sample_get_burn (sample);
  g_autofree char *uuid = burn != NULL ? wb_uuid_format (&burn->uuid) : NULL;

  return uuid != NULL ? g_hash_table_lookup (noted, uuid) : NULL;
}

/* It is out, and by the wall clock it has not come to its end yet: how long it has cooled nobody knows. */
static gboolean
is_behind_record (WbAppBenchSample *sample)
{
  const WbAppBenchLife *life = wb_app_bench_sample_get_life (sample);

  return !wb_app_bench_life_is_alight (life) && !wb_app_bench_sample_is_counted (sample)
         && wb_app_bench_sample_get_out_min (sample) * 60 * G_USEC_PER_SEC < -WB_APP_CLOCK_LET_PASS_US;
}

void
wb_app_bench_keep_running (WbAppBench *self,
                           GHashTable *noted,
                           WbInstant   last_entry)
{
  WbAppNotebook *notebook = wb_app_bench_get_notebook (self);
  g_autoptr (GTask) task = g_task_new (NULL, NULL, NULL, NULL);
  const GPtrArray *live = wb_app_bench_get_live (self);
  gboolean waits = FALSE;
  gint64 moved_us = 0;
  Notes *notes;

  if (wb_app_notebook_get_settings (notebook) == NULL)
    return;
  notes = notes_new (notebook);
  g_task_set_task_data (task, notes, notes_free);
  for (guint i = 0; i < live->len; i++)
    {
      WbAppBenchSample *sample = g_ptr_array_index (live, i);
      const WbAppRunning *running = find_noted (sample, noted);

      if (!wb_app_bench_get_loaded (self) && ABS (find_move (running)) > ABS (moved_us))
        moved_us = find_move (running);
      wb_app_bench_sample_set_anchor (sample, running, last_entry);
      waits = waits || is_behind_record (sample);
      look_at_sample (sample, noted, notes);
    }
  drop_strays (noted, notes);
  /* While the notebook was closed. */
  if (ABS (moved_us) > WB_APP_CLOCK_LET_PASS_US)
    wb_app_notebook_note_clock (notebook, moved_us);
  else if (!wb_app_bench_get_loaded (self) && waits)
    wb_app_notebook_note_clock (notebook, 0);
  if (notes->notes->len > 0)
    g_task_run_in_thread (task, write_thread);
}

void
wb_app_bench_note_lighting (WbAppBench   *self,
                            WbAppSave    *save,
                            const WbBurn *burn)
{
  WbAppNotebook *notebook = wb_app_bench_get_notebook (self);
  Notes *notes;

  if (wb_app_notebook_get_settings (notebook) == NULL)
    return;
  notes = notes_new (notebook);
  notes_add (notes, &burn->uuid, dup_running (wb_clock_now (wb_clock_get ()).utc_us - burn->lit_at.utc_us));
  save->before = notes_write;
  save->before_data = notes;
  save->before_free = notes_free;
}

/* ---- Told by somebody ---- */

typedef struct
{
  WbAppBenchSample *sample;
  gint64            burn;
  gint64            elapsed_us;
  gint64            steady_us;
} Told;

static void
told_free (gpointer data)
{
  g_object_unref (((Told *) data)->sample);
  g_free (data);
}

static void
on_told_cb (GObject      *source,
            GAsyncResult *result,
            gpointer      user)
{
  g_autoptr (GTask) task = user;
  const Told *told = g_task_get_task_data (task);

  if (!wb_app_save_task_check (task, source, result))
    return;
  *wb_app_bench_sample_get_anchor (told->sample) = (WbAppBenchAnchor) { .burn = told->burn,
                                                                        .elapsed_us = told->elapsed_us,
                                                                        .steady_us = told->steady_us };
  wb_app_bench_update (g_task_get_source_object (task));
  g_task_return_boolean (task, TRUE);
}

/* Why not; NULL: it may be told. */
static char *
dup_refusal (WbAppBenchSample *sample,
             double            elapsed_s)
{
  double last_min;
  g_autofree char *least = NULL;

  if (sample == NULL || wb_app_bench_sample_get_state (sample) != WB_APP_BENCH_ALIGHT)
    return g_strdup (_("This sample is not alight."));
  last_min = wb_app_bench_sample_get_last_min (sample);
  if (!(elapsed_s < last_min * 60 - 1))
    return NULL;
  least = wb_quantity_format_duration (last_min * 60);
  /* Translators: code of a sample; a time */
  return g_strdup_printf (_("%s was read when it had burnt for %s: it has burnt at least so long."),
                          wb_app_bench_sample_get_code (sample), least);
}

/* The burn says why its minutes and its hour of lighting do not fit. */
static WbRecord *
dup_noted_burn (WbAppBenchSample *sample,
                double            elapsed_s,
                gboolean          known)
{
  WbBurn *burn = wb_record_copy (wb_app_bench_sample_get_burn (sample));
  g_autofree char *when = wb_instant_format_short (wb_clock_now (wb_clock_get ()));
  g_autofree char *duration = wb_quantity_format_duration (elapsed_s);
  g_autofree char *said = NULL, *note = NULL;

  if (known)
    /* Translators: day and time; a duration */
    said = g_strdup_printf (_("At %s the clock stood behind the record; by the maker's word it had burnt for %s."), when, duration);
  else
    said = g_strdup_printf (_("At %s the clock stood behind the record; how long it had burnt is not known, and is counted on from %s."),
                            when, duration);
  note = burn->note != NULL ? g_strdup_printf ("%s %s", burn->note, said) : g_strdup (said);
  wb_record_set_text (burn, wb_record_type_find_field (&wb_burn_type, "note"), note);
  return (WbRecord *) burn;
}

void
wb_app_bench_tell_elapsed_async (WbAppBench         *self,
                                 gint64              sample_id,
                                 double              elapsed_s,
                                 GCancellable       *cancellable,
                                 GAsyncReadyCallback callback,
                                 gpointer            user)
{
  GTask *task = wb_app_save_task_new (self, wb_app_bench_tell_elapsed_async, cancellable, callback, user);
  WbAppBenchSample *sample;
  g_autofree char *refusal = NULL, *why = NULL;
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (wb_record_free);
  gboolean known = !isnan (elapsed_s);
  WbAppSave *save;
  Told *told;

  g_return_if_fail (WB_IS_APP_BENCH (self));

  sample = wb_app_bench_find (self, sample_id);
  refusal = dup_refusal (sample, elapsed_s);
  if (refusal != NULL)
    {
      wb_app_save_task_refuse (task, g_steal_pointer (&refusal));
      return;
    }
  told = g_new0 (Told, 1);
  told->sample = g_object_ref (sample);
  told->burn = wb_app_bench_sample_get_burn (sample)->record.id;
  told->steady_us = wb_clock_steady_us (wb_clock_get ());
  told->elapsed_us = known ? (gint64) (elapsed_s * G_USEC_PER_SEC)
                           : wb_app_bench_anchor_get_elapsed_us (wb_app_bench_sample_get_anchor (sample));
  g_task_set_task_data (task, told, told_free);
  g_ptr_array_add (records, dup_noted_burn (sample, (double) told->elapsed_us / G_USEC_PER_SEC, known));
  why = g_strdup_printf (_("Say how long %s has burnt"), wb_app_bench_sample_get_code (sample));
  save = wb_app_save_new ("clock", wb_app_notebook_get_who (wb_app_bench_get_notebook (self)), why, records);
  save->before_data = notes_new (wb_app_bench_get_notebook (self));
  notes_add (save->before_data, &wb_app_bench_sample_get_burn (sample)->uuid, dup_running (told->elapsed_us));
  save->before = notes_write;
  save->before_free = notes_free;
  wb_app_notebook_run_save_async (wb_app_bench_get_notebook (self), save, cancellable, on_told_cb, task);
}
