/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-bench-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* What was noted last at the bench, to be noted again by one key. */

/* So many readings of each sample's last burn are looked at, from the end: a bench of a thousand samples stays quick. */
#define LOOKED_AT 20
/* Longer ones are told once, not again and again. */
#define LONGEST 60

typedef struct
{
  gint64      id;
  const char *note; /* borrowed from the readings */
} Note;

static int
compare_notes (gconstpointer a,
               gconstpointer b)
{
  gint64 first = ((const Note *) a)->id, second = ((const Note *) b)->id;

  return first > second ? -1 : first < second;
}

static gboolean
is_worth_it (const char *note)
{
  return note != NULL && g_utf8_strlen (note, -1) <= LONGEST && strchr (note, '\n') == NULL && strstr (note, _("Seen to:")) == NULL;
}

static void
gather (WbAppBenchSample *sample,
        GArray           *notes)
{
  const WbReadings *readings = wb_app_bench_sample_get_data (sample)->readings;
  guint first, n;

  if (wb_app_bench_sample_get_burn (sample) == NULL)
    return;
  wb_readings_get_burn_rows (readings, wb_app_bench_sample_get_burn_index (sample), &first, &n);
  for (guint row = first + n; row > first && row + LOOKED_AT > first + n; row--)
    {
      Note note = { wb_readings_get_id (readings, row - 1), wb_readings_get_text (readings, row - 1, WB_READING_TEXT_NOTE) };

      if (is_worth_it (note.note))
        g_array_append_val (notes, note);
    }
}

char **
wb_app_bench_dup_last_notes (WbAppBench *self,
                             guint       most)
{
  g_autoptr (GArray) notes = g_array_new (FALSE, FALSE, sizeof (Note));
  g_autoptr (GStrvBuilder) words = g_strv_builder_new ();
  g_autoptr (GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);

  g_return_val_if_fail (WB_IS_APP_BENCH (self), NULL);

  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (self)); i++)
    {
      g_autoptr (WbAppBenchSample) sample = g_list_model_get_item (G_LIST_MODEL (self), i);

      gather (sample, notes);
    }
  g_array_sort (notes, compare_notes);
  for (guint i = 0; i < notes->len && g_hash_table_size (seen) < most; i++)
    {
      const char *note = g_array_index (notes, Note, i).note;

      if (g_hash_table_add (seen, (gpointer) note))
        g_strv_builder_add (words, note);
    }
  return g_strv_builder_end (words);
}
