/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-store-lessons-private.h"

#include "wb-material.h"
#include "wb-store-change-private.h"
#include "wb-store-private.h"

#define FIGURE_COLUMN 2 /* of a row of figures: behind the experiment and the cell */

static GString *
list_columns (const WbStoreLessonTable *table)
{
  GString *names = g_string_new (table->head);

  for (guint i = 0; i < table->n; i++)
    g_string_append_printf (names, "%s%s", i > 0 ? ", " : "", table->columns[i].name);
  return names;
}

static sqlite3_stmt *
prepare_select (WbStore                  *self,
                const WbStoreLessonTable *table,
                GError                  **error)
{
  g_autofree char *names = g_string_free (list_columns (table), FALSE);
  g_autofree char *sql = g_strdup_printf ("SELECT %s FROM %s ORDER BY %s", names, table->table, table->order);

  return wb_store_statement (self, sql, error);
}

static sqlite3_stmt *
prepare_insert (WbStore                  *self,
                const WbStoreLessonTable *table,
                GError                  **error)
{
  gboolean digest = table == &wb_store_lesson_heads;
  g_autofree char *names = g_string_free (list_columns (table), FALSE);
  GString *sql = g_string_new (NULL);
  sqlite3_stmt *statement;

  g_string_append_printf (sql, "INSERT INTO %s (%s%s) VALUES (?", table->table, names, digest ? ", digest" : "");
  for (guint i = 1; i < table->n_head + table->n + digest; i++)
    g_string_append (sql, ", ?");
  g_string_append_c (sql, ')');
  statement = wb_store_statement (self, sql->str, error);
  g_string_free (sql, TRUE);
  return statement;
}

/* Goes through rows that come by experiment, beside lessons that do: a row without its lesson is passed over. NULL: none of them. */
static WbLesson *
find_next (GPtrArray *lessons,
           guint     *place,
           gint64     experiment)
{
  while (*place < lessons->len && ((WbLesson *) g_ptr_array_index (lessons, *place))->experiment < experiment)
    (*place)++;
  if (*place < lessons->len && ((WbLesson *) g_ptr_array_index (lessons, *place))->experiment == experiment)
    return g_ptr_array_index (lessons, *place);
  return NULL;
}

static gboolean
load_heads (WbStore   *self,
            GPtrArray *lessons,
            GError   **error)
{
  sqlite3_stmt *statement = prepare_select (self, &wb_store_lesson_heads, error);
  WbStep step = statement != NULL ? WB_STEP_ROW : WB_STEP_ERROR;

  while (step == WB_STEP_ROW && (step = wb_store_step (self, statement, error)) == WB_STEP_ROW)
    {
      WbLesson *lesson = wb_lesson_new ();

      if (!wb_store_lesson_read (&wb_store_lesson_heads, statement, wb_store_lesson_heads.n, lesson))
        lesson->version = 0;
      g_ptr_array_add (lessons, lesson);
    }
  return step == WB_STEP_DONE;
}

/* A file may hold anything: what is not as it was kept makes its lesson one of no program's, which nobody takes for up to date. */
static gboolean
is_sound (const WbStoreLessonTable *table,
          const WbLesson           *lesson,
          sqlite3_stmt             *statement)
{
  if (table == &wb_store_lesson_cells)
    {
      const WbLessonCell *cell = &g_array_index (lesson->cells, WbLessonCell, lesson->cells->len - 1);

      return sqlite3_column_int64 (statement, 1) == lesson->cells->len - 1 && cell->crossed_limit >= -1 && cell->crossed_limit < WB_N_LIMITS
             && cell->basis >= -1 && cell->basis <= WB_BASIS_TOTAL && cell->wall >= -1 && cell->wall <= WB_WALL_OTHER && cell->wicks >= 1;
    }

  const WbLessonFigure *figure = &g_array_index (lesson->figures, WbLessonFigure, lesson->figures->len - 1);

  return figure->cell < lesson->cells->len && (guint) figure->figure < WB_N_FIGURES && (guint) figure->stage < WB_N_STAGES
         && (guint) figure->look < WB_LESSON_N_LOOKS;
}

/* How much of a row has to be read: most figures are no curves. */
static guint
count_wanted (const WbStoreLessonTable *table,
              sqlite3_stmt             *statement,
              gboolean                  wholly)
{
  if (table == &wb_store_lesson_figures && !wholly && sqlite3_column_int (statement, FIGURE_COLUMN) != WB_FIGURE_POOL_LIMIT)
    return WB_STORE_LESSON_N_PLAIN;
  return table->n;
}

/* Cells, or figures, each into the lesson of its experiment. */
static gboolean
load_parts (WbStore                  *self,
            const WbStoreLessonTable *table,
            gboolean                  wholly,
            GPtrArray                *lessons,
            GError                  **error)
{
  sqlite3_stmt *statement = prepare_select (self, table, error);
  WbStep step = statement != NULL ? WB_STEP_ROW : WB_STEP_ERROR;
  guint place = 0;

  while (step == WB_STEP_ROW && (step = wb_store_step (self, statement, error)) == WB_STEP_ROW)
    {
      WbLesson *lesson = find_next (lessons, &place, sqlite3_column_int64 (statement, 0));
      GArray *into;

      if (lesson == NULL)
        continue;
      into = table == &wb_store_lesson_cells ? lesson->cells : lesson->figures;
      g_array_set_size (into, into->len + 1);
      if (!wb_store_lesson_read (table, statement, count_wanted (table, statement, wholly),
                                 into->data + (gsize) (into->len - 1) * g_array_get_element_size (into))
          || !is_sound (table, lesson, statement))
        lesson->version = 0;
    }
  return step == WB_STEP_DONE;
}

/* How much of the lessons is read. */
typedef enum { LOAD_RECIPES, LOAD_ALL, LOAD_WHOLLY } Load;

static GPtrArray *
load (WbStore *self,
      Load     what,
      GError **error)
{
  g_autoptr (GPtrArray) lessons = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_lesson_free);
  gboolean wholly = what == LOAD_WHOLLY, begun, loaded;

  g_return_val_if_fail (self != NULL, NULL);
  wb_store_assert_thread (self);

  if (!wb_store_begin_read (self, &begun, error))
    return NULL;
  loaded = load_heads (self, lessons, error) && load_parts (self, &wb_store_lesson_cells, wholly, lessons, error)
           && (what == LOAD_RECIPES || load_parts (self, &wb_store_lesson_figures, wholly, lessons, error));
  wb_store_end_read (self, begun);
  return loaded ? g_steal_pointer (&lessons) : NULL;
}

GPtrArray *
wb_store_load_lessons (WbStore *self,
                       GError **error)
{
  return load (self, LOAD_ALL, error);
}

GPtrArray *
wb_store_load_lessons_recipes (WbStore *self,
                               GError **error)
{
  return load (self, LOAD_RECIPES, error);
}

GPtrArray *
wb_store_load_lessons_wholly (WbStore *self,
                              GError **error)
{
  return load (self, LOAD_WHOLLY, error);
}

static gboolean
run_with (WbStore    *self,
          const char *sql,
          gint64      experiment,
          GError    **error)
{
  sqlite3_stmt *statement = wb_store_statement (self, sql, error);

  if (statement != NULL)
    sqlite3_bind_int64 (statement, 1, experiment);
  return wb_store_run (self, statement, error);
}

static gboolean
take_away (WbStore *self,
           gint64   experiment,
           GError **error)
{
  return run_with (self, "DELETE FROM derived_lesson_figure WHERE experiment = ?", experiment, error)
         && run_with (self, "DELETE FROM derived_lesson_cell WHERE experiment = ?", experiment, error)
         && run_with (self, "DELETE FROM derived_lesson WHERE experiment = ?", experiment, error);
}

static gboolean
insert_lesson (WbStore        *self,
               const WbLesson *lesson,
               GError        **error)
{
  sqlite3_stmt *head = prepare_insert (self, &wb_store_lesson_heads, error), *cell, *figure;
  guint8 digest[WB_STORE_LESSON_DIGEST_SIZE];

  if (head == NULL || (cell = prepare_insert (self, &wb_store_lesson_cells, error)) == NULL
      || (figure = prepare_insert (self, &wb_store_lesson_figures, error)) == NULL)
    return FALSE;
  wb_store_lesson_digest (lesson, digest);
  wb_store_lesson_bind (&wb_store_lesson_heads, lesson, head);
  sqlite3_bind_blob (head, (int) wb_store_lesson_heads.n + 1, digest, sizeof digest, SQLITE_TRANSIENT);
  if (!wb_store_run (self, head, error))
    return FALSE;
  for (guint i = 0; i < lesson->cells->len; i++)
    {
      sqlite3_bind_int64 (cell, 1, lesson->experiment);
      sqlite3_bind_int64 (cell, 2, i);
      wb_store_lesson_bind (&wb_store_lesson_cells, &g_array_index (lesson->cells, WbLessonCell, i), cell);
      if (!wb_store_run (self, cell, error))
        return FALSE;
    }
  for (guint i = 0; i < lesson->figures->len; i++)
    {
      sqlite3_bind_int64 (figure, 1, lesson->experiment);
      wb_store_lesson_bind (&wb_store_lesson_figures, &g_array_index (lesson->figures, WbLessonFigure, i), figure);
      if (!wb_store_run (self, figure, error))
        return FALSE;
    }
  return TRUE;
}

/* Is the experiment still as the lesson found it, and not kept already as of just then? */
static gboolean
is_wanted (WbStore        *self,
           const WbLesson *lesson,
           gboolean       *is,
           GError        **error)
{
  sqlite3_stmt *statement = wb_store_statement (self, "SELECT 1 FROM derived_experiment WHERE experiment = ?1 AND last_entry = ?2 "
                                                "AND NOT EXISTS (SELECT 1 FROM derived_lesson WHERE experiment = ?1 "
                                                "AND last_entry = ?2 AND shared_entry = ?3 AND version = ?4)", error);
  gint64 wanted;

  if (statement != NULL)
    {
      sqlite3_bind_int64 (statement, 1, lesson->experiment);
      sqlite3_bind_int64 (statement, 2, lesson->last_entry);
      sqlite3_bind_int64 (statement, 3, lesson->shared_entry);
      sqlite3_bind_int64 (statement, 4, lesson->version);
    }
  if (!wb_store_get_integer (self, statement, 0, &wanted, error))
    return FALSE;
  *is = wanted != 0;
  return TRUE;
}

static gboolean
keep_all (WbStore         *self,
          const GPtrArray *lessons,
          const GArray    *gone,
          GError         **error)
{
  for (guint i = 0; gone != NULL && i < gone->len; i++)
    if (!take_away (self, g_array_index (gone, gint64, i), error))
      return FALSE;
  for (guint i = 0; lessons != NULL && i < lessons->len; i++)
    {
      const WbLesson *lesson = g_ptr_array_index (lessons, i);
      gboolean is;

      if (!is_wanted (self, lesson, &is, error)
          || (is && (!take_away (self, lesson->experiment, error) || !insert_lesson (self, lesson, error))))
        return FALSE;
    }
  return TRUE;
}

static gboolean
begin (WbStore *self,
       GError **error)
{
  if (!wb_store_may_write (self, error) || !wb_store_exec (self, "BEGIN IMMEDIATE", error))
    return FALSE;
  self->wrote = TRUE;
  return TRUE;
}

static gboolean
end (WbStore *self,
     gboolean done,
     GError **error)
{
  if (done && wb_store_may_write (self, error) && wb_store_exec (self, "COMMIT", error))
    return TRUE;
  /* Fails only where SQLite has rolled back by itself, as it does on a full disk. */
  sqlite3_exec (self->db, "ROLLBACK", NULL, NULL, NULL);
  return FALSE;
}

gboolean
wb_store_keep_lessons (WbStore         *self,
                       const GPtrArray *lessons,
                       const GArray    *gone,
                       GError         **error)
{
  g_return_val_if_fail (self != NULL && self->change == NULL, FALSE);
  wb_store_assert_thread (self);

  return begin (self, error) && end (self, keep_all (self, lessons, gone, error), error);
}

gboolean
wb_store_reads_copy (WbStore *self)
{
  g_return_val_if_fail (self != NULL, FALSE);

  return self->copy != NULL;
}

GBytes *
wb_store_load_school (WbStore *self,
                      GError **error)
{
  sqlite3_stmt *statement;
  WbStep step;
  GBytes *kept = NULL;

  g_return_val_if_fail (self != NULL, NULL);

  statement = wb_store_statement (self, "SELECT kept FROM derived_school", error);
  step = statement != NULL ? wb_store_step (self, statement, error) : WB_STEP_ERROR;
  if (step == WB_STEP_ROW)
    {
      kept = g_bytes_new (sqlite3_column_blob (statement, 0), (gsize) sqlite3_column_bytes (statement, 0));
      wb_store_reset (statement);
    }
  return kept;
}

static gboolean
insert_school (WbStore *self,
               GBytes  *kept,
               GError **error)
{
  sqlite3_stmt *statement = wb_store_statement (self, "INSERT OR REPLACE INTO derived_school (id, kept, digest) VALUES (1, ?, ?)", error);
  guint8 digest[WB_STORE_LESSON_DIGEST_SIZE];
  gsize size;
  gconstpointer bytes = g_bytes_get_data (kept, &size);

  if (statement == NULL)
    return FALSE;
  bytes = bytes != NULL ? bytes : "";
  wb_store_school_digest (bytes, size, digest);
  sqlite3_bind_blob64 (statement, 1, bytes, size, SQLITE_STATIC);
  sqlite3_bind_blob (statement, 2, digest, sizeof digest, SQLITE_TRANSIENT);
  return wb_store_run (self, statement, error);
}

gboolean
wb_store_keep_school (WbStore *self,
                      GBytes  *kept,
                      GError **error)
{
  g_return_val_if_fail (self != NULL && self->change == NULL && kept != NULL, FALSE);
  wb_store_assert_thread (self);

  return begin (self, error) && end (self, insert_school (self, kept, error), error);
}
