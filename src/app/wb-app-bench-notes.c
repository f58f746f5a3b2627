/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-bench-life-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* What was noted last at the bench, to be noted again by one key. */

/* So many readings of each sample's last burn are looked at, from the end. */
#define LOOKED_AT 20
/* So many different ones are kept of an experiment: nobody offers more. */
#define MOST_KEPT 10
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
  return note != NULL && g_utf8_strlen (note, -1) <= LONGEST && strchr (note, '\n') == NULL && wb_app_bench_find_answer (note) == NULL;
}

static void
gather (const WbReadings *readings,
        guint             burn,
        GArray           *notes)
{
  guint first, n;

  wb_readings_get_burn_rows (readings, burn, &first, &n);
  for (guint row = first + n; row > first && row + LOOKED_AT > first + n; row--)
    {
      Note note = { wb_readings_get_id (readings, row - 1), wb_readings_get_text (readings, row - 1, WB_READING_TEXT_NOTE) };

      if (is_worth_it (note.note))
        g_array_append_val (notes, note);
    }
}

/* The latest first, each of them once, at most so many. */
static void
keep_latest (GArray *notes,
             guint   most)
{
  g_autoptr (GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);
  guint n = 0;

  g_array_sort (notes, compare_notes);
  for (guint i = 0; i < notes->len && n < most; i++)
    if (g_hash_table_add (seen, (gpointer) g_array_index (notes, Note, i).note))
      g_array_index (notes, Note, n++) = g_array_index (notes, Note, i);
  g_array_set_size (notes, n);
}

GArray *
wb_app_bench_notes_find (const WbAppBenchLoad *load)
{
  GArray *notes = g_array_new (FALSE, FALSE, sizeof (Note));

  for (guint i = 0; i < load->data->samples->len; i++)
    {
      WbAppBenchLife life;

      wb_app_bench_life_read (load, i, &life);
      if (life.burn != NULL && !wb_app_bench_life_is_ended (load, i, &life))
        gather (load->data->readings, life.burn_index, notes);
      wb_app_bench_life_clear (&life);
    }
  keep_latest (notes, MOST_KEPT);
  return notes;
}

char **
wb_app_bench_dup_last_notes (WbAppBench *self,
                             guint       most)
{
  g_autoptr (GArray) notes = g_array_new (FALSE, FALSE, sizeof (Note));
  g_autoptr (GStrvBuilder) words = g_strv_builder_new ();
  const GPtrArray *loads;

  g_return_val_if_fail (WB_IS_APP_BENCH (self), NULL);
  g_return_val_if_fail (most <= MOST_KEPT, NULL);

  loads = wb_app_bench_get_loads (self);
  for (guint i = 0; i < loads->len; i++)
    {
      const WbAppBenchLoad *load = g_ptr_array_index (loads, i);

      g_array_append_vals (notes, load->notes->data, load->notes->len);
    }
  keep_latest (notes, most);
  for (guint i = 0; i < notes->len; i++)
    g_strv_builder_add (words, g_array_index (notes, Note, i).note);
  return g_strv_builder_end (words);
}
