/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-burn-page-private.h"

#include "wb-app-bench-draft.h"

/*
 * What is half typed outlives the program: kept while it is typed, put back at the next start when the page that shows its sample
 * is open, forgotten when it is saved or cleared. Nothing is saved by itself.
 */

/* Many keys are one writing; a person who stops typing has it kept in less than half a second. */
#define KEEP_MS 200

static void
keep_waiting (WbBurnPage *self,
              GKeyFile   *file)
{
  g_auto (GStrv) groups = g_key_file_get_groups (self->later, NULL);

  for (guint i = 0; groups[i] != NULL; i++)
    wb_app_bench_draft_copy (file, self->later, groups[i]);
}

static void
keep_now (WbBurnPage *self)
{
  WbAppBench *bench = wb_burn_page_get_bench (self);
  g_autoptr (GKeyFile) now = NULL;
  g_autofree char *text = NULL;
  gsize length;

  g_clear_handle_id (&self->keeping, g_source_remove);
  /* What was kept before is not read yet: it would be overwritten. */
  if (bench == NULL || self->kept == NULL)
    return;
  now = g_key_file_new ();
  keep_waiting (self, now);
  wb_reading_stack_keep (self->stack, now, self->kept);
  text = g_key_file_to_data (now, &length, NULL);
  if (g_strcmp0 (text, self->kept_text) == 0)
    return;
  wb_app_bench_draft_keep_soon (bench, length > 0 ? text : NULL);
  g_free (self->kept_text);
  self->kept_text = g_steal_pointer (&text);
  g_key_file_unref (self->kept);
  self->kept = g_steal_pointer (&now);
}

static gboolean
on_keep_cb (gpointer user)
{
  WbBurnPage *self = user;

  self->keeping = 0;
  keep_now (self);
  return G_SOURCE_REMOVE;
}

void
wb_burn_page_keep_drafts_soon (WbBurnPage *self)
{
  if (self->keeping == 0)
    self->keeping = g_timeout_add (KEEP_MS, on_keep_cb, self);
}

void
wb_burn_page_keep_drafts (WbBurnPage *self)
{
  keep_now (self);
}

static void
on_loaded_cb (GObject      *bench,
              GAsyncResult *result,
              gpointer      user)
{
  g_autoptr (GKeyFile) file = wb_app_bench_draft_load_finish (WB_APP_BENCH (bench), result);
  WbBurnPage *self;

  if (file == NULL)
    return;
  self = user;
  self->kept = g_steal_pointer (&file);
  self->kept_text = g_key_file_to_data (self->kept, NULL, NULL);
  self->later = g_key_file_new ();
  g_key_file_load_from_data (self->later, self->kept_text, (gsize) -1, G_KEY_FILE_NONE, NULL);
  wb_burn_page_follow (self);
}

void
wb_burn_page_load_drafts (WbBurnPage *self)
{
  wb_burn_page_drop_drafts (self);
  self->loading_drafts = g_cancellable_new ();
  /* Cancelled before the page goes. */
  wb_app_bench_draft_load_async (wb_burn_page_get_bench (self), self->loading_drafts, on_loaded_cb, self);
}

void
wb_burn_page_drop_drafts (WbBurnPage *self)
{
  if (self->loading_drafts != NULL)
    g_cancellable_cancel (self->loading_drafts);
  g_clear_object (&self->loading_drafts);
  g_clear_handle_id (&self->keeping, g_source_remove);
  g_clear_pointer (&self->kept, g_key_file_unref);
  g_clear_pointer (&self->kept_text, g_free);
  g_clear_pointer (&self->later, g_key_file_unref);
}

static void
put_back (WbBurnPage       *self,
          WbAppBenchSample *sample,
          const char       *group)
{
  WbReadingPanel *panel = wb_reading_stack_ensure (self->stack, sample);

  wb_reading_panel_put_back (panel, self->later, group);
  g_key_file_remove_group (self->later, group, NULL);
  /* The hand begins where it was stopped. */
  wb_burn_page_choose (self, sample);
  /* What is over a limit is so after a crash too. */
  if (wb_reading_panel_get_ask (panel) != WB_APP_ASK_LIGHTING)
    wb_burn_page_tell (self, panel);
}

void
wb_burn_page_put_drafts_back (WbBurnPage *self)
{
  WbAppBench *bench = wb_burn_page_get_bench (self);
  g_auto (GStrv) groups = NULL;

  if (self->later == NULL)
    return;
  groups = g_key_file_get_groups (self->later, NULL);
  for (guint i = 0; groups[i] != NULL; i++)
    {
      WbAppBenchSample *sample = wb_app_bench_find (bench, g_ascii_strtoll (groups[i], NULL, 10));
      gboolean waits = sample != NULL && wb_app_bench_draft_is_unsaved (self->later, groups[i], sample);

      /* Nobody would see it, nor could save it, on the page of another experiment. */
      if (waits && !wb_bench_round_has (self->round, sample))
        continue;
      if (waits)
        put_back (self, sample, groups[i]);
      else
        g_key_file_remove_group (self->later, groups[i], NULL);
    }
}
