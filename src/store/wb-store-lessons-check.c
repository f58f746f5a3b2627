/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-store-lessons-private.h"

#include <string.h>

#include "wb-store-private.h"

gboolean
wb_store_lessons_clear (WbStore *store,
                        GError **error)
{
  return wb_store_exec (store, "DELETE FROM derived_lesson_figure; DELETE FROM derived_lesson_cell; DELETE FROM derived_lesson; "
                               "DELETE FROM derived_school", error);
}

/* The first column of the first row into `misfit`, NULL where there is none. */
static gboolean
find_none (WbStore    *store,
           const char *sql,
           char      **misfit,
           GError    **error)
{
  sqlite3_stmt *statement = wb_store_statement (store, sql, error);
  WbStep step = statement != NULL ? wb_store_step (store, statement, error) : WB_STEP_ERROR;

  if (step == WB_STEP_ROW)
    *misfit = wb_store_column_dup_text (statement, 0);
  wb_store_reset (statement);
  return step != WB_STEP_ERROR;
}

/* A lesson may be older than its experiment, never newer; what was deleted is still an experiment. */
static const char strays_query[]
    = "SELECT 'lesson of experiment ' || l.experiment FROM derived_lesson AS l "
      "LEFT JOIN derived_experiment AS d ON d.experiment = l.experiment "
      "WHERE d.last_entry IS NULL OR l.last_entry > d.last_entry OR l.shared_entry > (SELECT max (number) FROM entry) "
      "UNION ALL SELECT 'lesson of experiment ' || c.experiment FROM derived_lesson_cell AS c "
      "WHERE NOT EXISTS (SELECT 1 FROM derived_lesson AS l WHERE l.experiment = c.experiment) "
      "UNION ALL SELECT 'lesson of experiment ' || f.experiment FROM derived_lesson_figure AS f "
      "WHERE NOT EXISTS (SELECT 1 FROM derived_lesson AS l WHERE l.experiment = f.experiment) "
      "UNION ALL SELECT 'school' FROM derived_school WHERE id <> 1";

static gboolean
check_digests (WbStore *store,
               char   **misfit,
               GError **error)
{
  g_autoptr (GPtrArray) lessons = wb_store_load_lessons_wholly (store, error);
  sqlite3_stmt *statement = lessons != NULL ? wb_store_statement (store, "SELECT digest FROM derived_lesson ORDER BY experiment", error) : NULL;
  WbStep step = WB_STEP_DONE;

  if (statement == NULL)
    return FALSE;
  for (guint i = 0; i < lessons->len && *misfit == NULL && (step = wb_store_step (store, statement, error)) == WB_STEP_ROW; i++)
    {
      const WbLesson *lesson = g_ptr_array_index (lessons, i);
      guint8 digest[WB_STORE_LESSON_DIGEST_SIZE];

      wb_store_lesson_digest (lesson, digest);
      if (sqlite3_column_bytes (statement, 0) != sizeof digest || memcmp (sqlite3_column_blob (statement, 0), digest, sizeof digest) != 0)
        *misfit = g_strdup_printf ("lesson of experiment %" G_GINT64_FORMAT, lesson->experiment);
    }
  wb_store_reset (statement);
  return step != WB_STEP_ERROR;
}

static gboolean
check_school (WbStore *store,
              char   **misfit,
              GError **error)
{
  sqlite3_stmt *statement = wb_store_statement (store, "SELECT kept, digest FROM derived_school", error);
  WbStep step = statement != NULL ? wb_store_step (store, statement, error) : WB_STEP_ERROR;

  if (step == WB_STEP_ROW)
    {
      guint8 digest[WB_STORE_LESSON_DIGEST_SIZE];

      wb_store_school_digest (sqlite3_column_blob (statement, 0), (gsize) sqlite3_column_bytes (statement, 0), digest);
      if (sqlite3_column_bytes (statement, 1) != sizeof digest || memcmp (sqlite3_column_blob (statement, 1), digest, sizeof digest) != 0)
        *misfit = g_strdup ("school");
      wb_store_reset (statement);
    }
  return step != WB_STEP_ERROR;
}

gboolean
wb_store_lessons_check (WbStore *store,
                        char   **misfit,
                        GError **error)
{
  *misfit = NULL;
  return find_none (store, strays_query, misfit, error) && (*misfit != NULL || check_digests (store, misfit, error))
         && (*misfit != NULL || check_school (store, misfit, error));
}
