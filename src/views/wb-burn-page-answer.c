/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-burn-page-private.h"

#include "wb-problem.h"

#include <glib/gi18n.h>

/*
 * What a person answers to a hazard, and when that goes into the record: with the reading that told it, or, while that is
 * on its way to the file, as soon as it is there. What could not be saved is asked again, and says why.
 */

/* An answer that is not in the record yet. */
typedef struct
{
  char     *text; /* of the hazard */
  gboolean  out;  /* the flame was put out, too */
} Answer;

static void
answer_free (gpointer data)
{
  Answer *self = data;

  g_free (self->text);
  g_free (self);
}

GHashTable *
wb_burn_page_answers_new (void)
{
  return g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, answer_free);
}

static void
keep (WbBurnPage *self,
      gint64      id,
      const char *text,
      gboolean    out)
{
  Answer *answer = g_new0 (Answer, 1);

  answer->text = g_strdup (text);
  answer->out = out;
  g_hash_table_replace (self->answers, g_memdup2 (&id, sizeof id), answer);
}

/* An answer on its way to the file. */
typedef struct
{
  WbBurnPage   *page;
  gint64        id;
  const Answer *answer; /* which was kept till now, and may be another's by the end; NULL: none was */
  gboolean      out;    /* it is the end of the flame, and what outlasts that is noted next */
  const char   *what;   /* what did not work if it fails; translated */
} Way;

static void note_lasting (WbBurnPage *self, gint64 id);

static void
on_noted_cb (GObject      *source,
             GAsyncResult *result,
             gpointer      user)
{
  g_autofree Way *way = user;
  g_autoptr (WbBurnPage) self = way->page;
  g_autoptr (GError) error = NULL;
  gboolean noted = wb_app_bench_finish (WB_APP_BENCH (source), result, &error);

  if (WB_APP_BENCH (source) != wb_burn_page_get_bench (self))
    return;
  if (noted && way->out)
    {
      note_lasting (self, way->id);
      return;
    }
  if (way->answer != NULL && g_hash_table_lookup (self->answers, &way->id) == way->answer)
    g_hash_table_remove (self->answers, &way->id);
  if (noted)
    return;
  wb_problem_show (GTK_WIDGET (self), way->what, error);
  wb_hazard_bar_ask_again (self->hazard, way->id, way->what);
  wb_page_update_actions (WB_PAGE (self));
}

static Way *
way_new (WbBurnPage *self,
         gint64      id,
         gboolean    kept,
         const char *what)
{
  Way *way = g_new0 (Way, 1);

  way->page = g_object_ref (self);
  way->id = id;
  way->answer = kept ? g_hash_table_lookup (self->answers, &id) : NULL;
  way->what = what;
  return way;
}

static void
note (WbBurnPage *self,
      gint64      id,
      gboolean    kept,
      const char *text)
{
  if (!wb_app_notebook_get_read_only (wb_page_get_notebook (WB_PAGE (self))))
    wb_app_bench_answer_async (wb_burn_page_get_bench (self), id, text, NULL, on_noted_cb,
                               way_new (self, id, kept, _("That it was seen to was not saved")));
}

/* Fire and broken glass are not over with the flame: that they were seen to stands in the record, as it does of a flame that burns on. */
static void
note_lasting (WbBurnPage *self,
              gint64      id)
{
  const Answer *answer = g_hash_table_lookup (self->answers, &id);

  if (answer != NULL)
    wb_app_bench_answer_out_async (wb_burn_page_get_bench (self), id, answer->text, NULL, on_noted_cb,
                                   way_new (self, id, TRUE, _("That it was seen to was not saved")));
}

static void
note_out (WbBurnPage *self,
          gint64      id)
{
  Way *way = way_new (self, id, TRUE, _("That it is out was not saved"));

  way->out = TRUE;
  wb_app_bench_snuff_async (wb_burn_page_get_bench (self), id, WB_EVENT_SNUFFED, NULL, NULL, on_noted_cb, way);
}

/* With the reading that told it, where that is still in its panel; and of what the record asks beside it, at once. */
static void
note_seen_to (WbBurnPage       *self,
              WbAppBenchSample *sample,
              gboolean          typed,
              const char       *text)
{
  gint64 id = wb_app_bench_sample_get_id (sample);
  WbReadingPanel *panel = wb_reading_stack_find (self->stack, id);

  if (typed && wb_reading_stack_is_saving (self->stack, id))
    {
      keep (self, id, text, FALSE);
      return;
    }
  if (typed && panel != NULL)
    wb_reading_panel_set_seen_to (panel, TRUE);
  if (wb_app_bench_is_unanswered (sample))
    note (self, id, FALSE, text);
}

static void
put_out (WbBurnPage       *self,
         WbAppBenchSample *sample,
         const char       *text)
{
  gint64 id = wb_app_bench_sample_get_id (sample);

  keep (self, id, text, TRUE);
  if (wb_reading_stack_is_saving (self->stack, id))
    return;
  wb_burn_page_choose (self, sample);
  wb_bench_hand_end (self->hand, wb_reading_stack_get_shown (self->stack), WB_EVENT_SNUFFED);
  if (wb_reading_stack_is_saving (self->stack, id))
    return;
  /* A field that holds something wrong kept it back, and has the keyboard. */
  g_hash_table_remove (self->answers, &id);
  wb_hazard_bar_ask_again (self->hazard, id, _("Not saved: a field is wrong. Correct it, then say it again."));
}

/* The round goes on from the candle that was kept in hand for this, unless something else is being typed of it. */
static void
go_on (WbBurnPage *self,
       gint64      id)
{
  WbReadingPanel *panel = wb_reading_stack_find (self->stack, id);
  WbAppBenchSample *next;

  if (self->held != id || self->chosen != id || panel == NULL
      || (wb_reading_panel_get_touched (panel) && !wb_reading_stack_is_saving (self->stack, id)))
    return;
  self->held = 0;
  next = wb_burn_page_find_due (self);
  if (next != NULL)
    wb_burn_page_choose_and_focus (self, next);
}

void
wb_burn_page_answer (WbBurnPage *self,
                     gint64      id,
                     gboolean    out,
                     gboolean    typed,
                     const char *text)
{
  WbAppBench *bench = wb_burn_page_get_bench (self);
  WbAppBenchSample *sample = bench != NULL ? wb_app_bench_find (bench, id) : NULL;

  if (sample != NULL && out && wb_burn_page_is_alight (sample))
    {
      put_out (self, sample, text);
    }
  else if (sample != NULL)
    {
      note_seen_to (self, sample, typed, text);
      go_on (self, id);
    }
  wb_page_update_actions (WB_PAGE (self));
}

void
wb_burn_page_answer_started (WbBurnPage *self,
                             gint64      id,
                             gboolean    ends)
{
  if (ends)
    g_hash_table_add (self->ending, g_memdup2 (&id, sizeof id));
}

void
wb_burn_page_answer_saved (WbBurnPage *self,
                           gint64      id)
{
  const Answer *answer = g_hash_table_lookup (self->answers, &id);
  gboolean ended = g_hash_table_remove (self->ending, &id);

  if (answer == NULL)
    return;
  if (!answer->out)
    note (self, id, TRUE, answer->text);
  else if (ended)
    /* What was saved was the end. */
    note_lasting (self, id);
  else
    note_out (self, id);
}

void
wb_burn_page_answer_failed (WbBurnPage       *self,
                            WbAppBenchSample *sample)
{
  gint64 id = wb_app_bench_sample_get_id (sample);
  gpointer key = NULL, value = NULL;
  Answer *answer;

  g_hash_table_remove (self->ending, &id);
  if (!g_hash_table_steal_extended (self->answers, &id, &key, &value))
    return;
  answer = value;
  if (answer->out)
    wb_hazard_bar_ask_again (self->hazard, id, _("Not saved that it is out: say it again."));
  else
    note_seen_to (self, sample, TRUE, answer->text);
  g_free (key);
  answer_free (answer);
}

void
wb_burn_page_look_at_record (WbBurnPage *self)
{
  WbAppBench *bench = wb_burn_page_get_bench (self);
  g_autoptr (GPtrArray) asking = bench != NULL ? wb_app_bench_dup_asking (bench) : g_ptr_array_new ();

  wb_hazard_bar_follow (self->hazard, bench);
  for (guint i = 0; i < asking->len; i++)
    {
      WbAppBenchSample *sample = g_ptr_array_index (asking, i);
      gint64 id = wb_app_bench_sample_get_id (sample);

      wb_hazard_bar_look_at_record (self->hazard, sample);
      if (g_hash_table_contains (self->answers, &id))
        wb_hazard_bar_hush (self->hazard, id);
    }
}
