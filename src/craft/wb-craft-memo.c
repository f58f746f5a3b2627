/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-memo-private.h"

/* An answer, shared by the memos that hold it. */
typedef struct
{
  gpointer       answer;
  GDestroyNotify free_answer;
} Kept;

struct _WbCraftMemo
{
  gatomicrefcount ref_count;
  GMutex          lock;
  GCond           made_one;
  GHashTable     *kept;    /* GBytes → Kept; NULL: a thread is at work on it */
  WbCraftMemo    *before;
  guint           made;
};

static void
kept_clear (gpointer data)
{
  Kept *self = data;

  if (self->answer != NULL && self->free_answer != NULL)
    self->free_answer (self->answer);
}

static void
kept_unref (gpointer data)
{
  if (data != NULL)
    g_atomic_rc_box_release_full (data, kept_clear);
}

WbCraftMemo *
wb_craft_memo_new (WbCraftMemo *before)
{
  WbCraftMemo *self = g_new0 (WbCraftMemo, 1);

  g_atomic_ref_count_init (&self->ref_count);
  g_mutex_init (&self->lock);
  g_cond_init (&self->made_one);
  self->kept = g_hash_table_new_full (g_bytes_hash, g_bytes_equal, (GDestroyNotify) g_bytes_unref, kept_unref);
  self->before = before != NULL ? wb_craft_memo_ref (before) : NULL;
  return self;
}

WbCraftMemo *
wb_craft_memo_ref (WbCraftMemo *self)
{
  g_atomic_ref_count_inc (&self->ref_count);
  return self;
}

void
wb_craft_memo_unref (WbCraftMemo *self)
{
  if (self == NULL || !g_atomic_ref_count_dec (&self->ref_count))
    return;
  g_hash_table_unref (self->kept);
  wb_craft_memo_unref (self->before);
  g_mutex_clear (&self->lock);
  g_cond_clear (&self->made_one);
  g_free (self);
}

void
wb_craft_memo_close (WbCraftMemo *self)
{
  g_clear_pointer (&self->before, wb_craft_memo_unref);
}

guint
wb_craft_memo_get_made (WbCraftMemo *self)
{
  guint made;

  g_mutex_lock (&self->lock);
  made = self->made;
  g_mutex_unlock (&self->lock);
  return made;
}

guint
wb_craft_memo_get_kept (WbCraftMemo *self)
{
  guint kept;

  g_mutex_lock (&self->lock);
  kept = g_hash_table_size (self->kept);
  g_mutex_unlock (&self->lock);
  return kept;
}

void
wb_craft_question_add (GByteArray   *question,
                       gconstpointer data,
                       gsize         size)
{
  wb_craft_question_add_number (question, (double) size);
  if (size > 0)
    g_byte_array_append (question, data, (guint) size);
}

void
wb_craft_question_add_number (GByteArray *question,
                              double      number)
{
  g_byte_array_append (question, (const guint8 *) &number, sizeof number);
}

void
wb_craft_question_add_columns (GByteArray           *question,
                               const WbCraftColumns *columns)
{
  wb_craft_question_add_number (question, columns != NULL);
  if (columns == NULL)
    return;
  wb_craft_question_add (question, columns->cell, (gsize) columns->n_cells * columns->n * sizeof *columns->cell);
  wb_craft_question_add (question, columns->sd, columns->n * sizeof *columns->sd);
}

/* The answer of the memo before, if it has it. */
static Kept *
take_over (WbCraftMemo *before,
           GBytes      *question)
{
  Kept *kept = NULL;

  if (before == NULL)
    return NULL;
  g_mutex_lock (&before->lock);
  kept = g_hash_table_lookup (before->kept, question);
  if (kept != NULL)
    g_atomic_rc_box_acquire (kept);
  g_mutex_unlock (&before->lock);
  return kept;
}

gconstpointer
wb_craft_memo_get (WbCraftMemo    *self,
                   GByteArray     *question,
                   WbCraftMemoMake make,
                   gpointer        data,
                   GDestroyNotify  free_answer)
{
  g_autoptr (GBytes) key = g_byte_array_free_to_bytes (question);
  gboolean stopped = FALSE;
  gpointer answer = NULL, known = NULL;
  Kept *kept;

  g_mutex_lock (&self->lock);
  while (g_hash_table_lookup_extended (self->kept, key, NULL, &known) && known == NULL)
    g_cond_wait (&self->made_one, &self->lock);
  if (known == NULL)
    g_hash_table_insert (self->kept, g_bytes_ref (key), NULL);
  g_mutex_unlock (&self->lock);
  if (known != NULL)
    return ((const Kept *) known)->answer;

  kept = take_over (self->before, key);
  if (kept == NULL)
    {
      answer = make (data, &stopped);
      kept = g_atomic_rc_box_new (Kept);
      *kept = (Kept) { answer, free_answer };
      g_mutex_lock (&self->lock);
      self->made++;
      g_mutex_unlock (&self->lock);
    }
  answer = stopped ? NULL : kept->answer;
  g_mutex_lock (&self->lock);
  if (stopped)
    {
      g_hash_table_remove (self->kept, key);
      kept_unref (kept);
    }
  else
    g_hash_table_replace (self->kept, g_bytes_ref (key), kept);
  g_cond_broadcast (&self->made_one);
  g_mutex_unlock (&self->lock);
  return answer;
}
