/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-store-lessons.h"

#include "wb-experiment.h"
#include "wb-store-private.h"
#include "wb-store-table-private.h"

/* What lessons are held against: by the counts that are kept of experiments, and by the newest version of what experiments share. */

void
wb_store_lesson_stamps_free (WbStoreLessonStamps *self)
{
  if (self == NULL)
    return;
  g_array_unref (self->burnt);
  g_hash_table_unref (self->shared);
  g_free (self);
}

static gboolean
list_burnt (WbStore *self,
            GArray  *burnt,
            GError **error)
{
  g_autofree char *sql = g_strdup_printf ("SELECT d.experiment, d.last_entry FROM derived_experiment AS d JOIN experiment AS v "
                                          "ON v.id = d.experiment WHERE d.burns > 0 AND %s ORDER BY d.experiment",
                                          wb_store_table_find (&wb_experiment_type)->current);
  sqlite3_stmt *statement = wb_store_statement (self, sql, error);
  WbStep step = statement != NULL ? WB_STEP_ROW : WB_STEP_ERROR;

  while (step == WB_STEP_ROW && (step = wb_store_step (self, statement, error)) == WB_STEP_ROW)
    {
      WbStoreBurnt item = { sqlite3_column_int64 (statement, 0), sqlite3_column_int64 (statement, 1) };

      g_array_append_val (burnt, item);
    }
  return step == WB_STEP_DONE;
}

/* Ids are of one count over all kinds. A limit belongs to every protocol that it ever belonged to. */
static gboolean
list_shared (WbStore    *self,
             GHashTable *shared,
             GError    **error)
{
  sqlite3_stmt *statement
      = wb_store_statement (self, "SELECT id, max (entry) FROM vessel GROUP BY id UNION ALL SELECT id, max (entry) FROM wax GROUP BY id "
                                  "UNION ALL SELECT id, max (entry) FROM wick GROUP BY id "
                                  "UNION ALL SELECT id, max (entry) FROM fragrance GROUP BY id "
                                  "UNION ALL SELECT id, max (entry) FROM dye GROUP BY id "
                                  "UNION ALL SELECT id, max (entry) FROM protocol GROUP BY id "
                                  "UNION ALL SELECT l.protocol, (SELECT max (k.entry) FROM safety_limit AS k WHERE k.id = l.id) "
                                  "FROM safety_limit AS l", error);
  WbStep step = statement != NULL ? WB_STEP_ROW : WB_STEP_ERROR;

  while (step == WB_STEP_ROW && (step = wb_store_step (self, statement, error)) == WB_STEP_ROW)
    {
      gint64 id = sqlite3_column_int64 (statement, 0), entry = sqlite3_column_int64 (statement, 1);
      gint64 *there = g_hash_table_lookup (shared, &id);

      if (there == NULL)
        g_hash_table_insert (shared, g_memdup2 (&id, sizeof id), g_memdup2 (&entry, sizeof entry));
      else
        *there = MAX (*there, entry);
    }
  return step == WB_STEP_DONE;
}

WbStoreLessonStamps *
wb_store_lesson_stamps_new (WbStore *self,
                            GError **error)
{
  g_autoptr (WbStoreLessonStamps) stamps = g_new0 (WbStoreLessonStamps, 1);
  gboolean begun, listed;

  g_return_val_if_fail (self != NULL, NULL);
  wb_store_assert_thread (self);

  stamps->burnt = g_array_new (FALSE, FALSE, sizeof (WbStoreBurnt));
  stamps->shared = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_free);
  if (!wb_store_begin_read (self, &begun, error))
    return NULL;
  listed = list_burnt (self, stamps->burnt, error) && list_shared (self, stamps->shared, error);
  wb_store_end_read (self, begun);
  return listed ? g_steal_pointer (&stamps) : NULL;
}

gint64
wb_store_lesson_stamps_get_shared (const WbStoreLessonStamps *self,
                                   const WbLesson            *lesson)
{
  const gint64 *entry = g_hash_table_lookup (self->shared, &lesson->protocol);
  gint64 newest = entry != NULL ? *entry : 0;

  for (guint i = 0; i < lesson->cells->len; i++)
    {
      const WbLessonCell *cell = &g_array_index (lesson->cells, WbLessonCell, i);
      const gint64 ids[] = { cell->wick, cell->vessel, cell->wax, cell->fragrance, cell->dye };

      for (guint k = 0; k < G_N_ELEMENTS (ids); k++)
        if (ids[k] != 0 && (entry = g_hash_table_lookup (self->shared, &ids[k])) != NULL)
          newest = MAX (newest, *entry);
    }
  return newest;
}
