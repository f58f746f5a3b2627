/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-store-lessons-private.h"

#include <math.h>
#include <string.h>

#include "wb-store-private.h"

/* The structs of a lesson as columns: one list for writing, reading and the digest. */

#define CELL(name, kind) { #name, WB_STORE_LESSON_##kind, G_STRUCT_OFFSET (WbLessonCell, name) }
#define FIGURE(name, kind) { #name, WB_STORE_LESSON_##kind, G_STRUCT_OFFSET (WbLessonFigure, name) }
#define LESSON(name, kind) { #name, WB_STORE_LESSON_##kind, G_STRUCT_OFFSET (WbLesson, name) }

static const WbStoreLessonColumn lesson_columns[] = {
  LESSON (experiment, INTEGER), LESSON (code, TEXT), LESSON (protocol, INTEGER), LESSON (last_entry, INTEGER),
  LESSON (shared_entry, INTEGER), LESSON (version, WHOLE), LESSON (flame_stop, REAL), LESSON (vessel_stop, REAL),
};

static const WbStoreLessonColumn cell_columns[] = {
  CELL (cell, INTEGER), CELL (wick, INTEGER), CELL (vessel, INTEGER), CELL (wax, INTEGER), CELL (fragrance, INTEGER),
  CELL (dye, INTEGER), CELL (series, TEXT), CELL (size, TEXT), CELL (step, INTEGER), CELL (vessel_name, TEXT), CELL (wax_name, TEXT),
  CELL (scent, TEXT), CELL (wall, WHOLE), CELL (inner_mm, REAL), CELL (load_pct, REAL), CELL (stated_pct, REAL), CELL (basis, WHOLE),
  CELL (wicks, WHOLE), CELL (headspace_mm, REAL), CELL (room_c, REAL), CELL (samples, WHOLE), CELL (burns, WHOLE), CELL (reach, REAL),
  CELL (crossed, WHOLE), CELL (crossed_heat, WHOLE), CELL (uncleared, WHOLE), CELL (cracked, WHOLE), CELL (crossed_limit, WHOLE),
  CELL (crossed_at, REAL), CELL (crossed_stop, REAL), CELL (crossed_house, WHOLE), CELL (crossed_logged, WHOLE),
  CELL (crossed_min, REAL), CELL (crossed_burn, INTEGER), CELL (crossed_sample, TEXT),
};

static const WbStoreLessonColumn figure_columns[] = {
  FIGURE (cell, WHOLE), FIGURE (figure, WHOLE), FIGURE (stage, WHOLE), FIGURE (look, WHOLE), FIGURE (status, WHOLE),
  FIGURE (samples, WHOLE), FIGURE (burns, WHOLE), FIGURE (mean, REAL), FIGURE (variance, REAL), FIGURE (df, REAL),
  FIGURE (sample_sd, REAL), FIGURE (burn_sd, REAL), { "shift", WB_STORE_LESSON_REAL, G_STRUCT_OFFSET (WbLessonFigure, offset) },
  /* of curves alone, and last: what is NULL in most rows is not asked for */
  FIGURE (pace, REAL), FIGURE (pace_variance, REAL), FIGURE (covariance, REAL), FIGURE (pace_df, REAL), FIGURE (exponent, REAL),
  FIGURE (at_wall_h, REAL), FIGURE (short_h, REAL),
};

G_STATIC_ASSERT (sizeof (guint) == sizeof (int) && sizeof (gboolean) == sizeof (int) && sizeof (WbFigure) == sizeof (int));

const WbStoreLessonTable wb_store_lesson_heads = {
  "derived_lesson", "", 0, "experiment", lesson_columns, G_N_ELEMENTS (lesson_columns),
};
const WbStoreLessonTable wb_store_lesson_cells = {
  "derived_lesson_cell", "experiment, place, ", 2, "experiment, place", cell_columns, G_N_ELEMENTS (cell_columns),
};
const WbStoreLessonTable wb_store_lesson_figures = {
  "derived_lesson_figure", "experiment, ", 1, "experiment, cell, figure, stage, look", figure_columns, G_N_ELEMENTS (figure_columns),
};

void
wb_store_lesson_bind (const WbStoreLessonTable *table,
                      gconstpointer             item,
                      sqlite3_stmt             *statement)
{
  for (guint i = 0; i < table->n; i++)
    {
      const WbStoreLessonColumn *column = &table->columns[i];
      gconstpointer at = (const char *) item + column->offset;
      int index = (int) (table->n_head + i + 1);

      switch (column->kind)
        {
        case WB_STORE_LESSON_REAL: /* a NAN is bound as NULL by SQLite itself */
          sqlite3_bind_double (statement, index, *(const double *) at);
          break;
        case WB_STORE_LESSON_INTEGER:
          if (*(const gint64 *) at == WB_INTEGER_NONE)
            sqlite3_bind_null (statement, index);
          else
            sqlite3_bind_int64 (statement, index, *(const gint64 *) at);
          break;
        case WB_STORE_LESSON_WHOLE:
          sqlite3_bind_int (statement, index, *(const int *) at);
          break;
        case WB_STORE_LESSON_TEXT:
          wb_store_bind_text (statement, index, *(char *const *) at);
          break;
        default:
          g_assert_not_reached ();
        }
    }
}

/* FALSE: nothing that was bound here could have become it. */
static gboolean
read_value (const WbStoreLessonColumn *column,
            sqlite3_stmt              *statement,
            int                        index,
            gpointer                   item)
{
  gpointer at = (char *) item + column->offset;
  gint64 whole;

  switch (column->kind)
    {
    case WB_STORE_LESSON_REAL: /* NULL is told from 0 only where it reads like one */
      *(double *) at = sqlite3_column_double (statement, index);
      if (*(double *) at == 0 && sqlite3_column_type (statement, index) == SQLITE_NULL)
        *(double *) at = NAN;
      return TRUE;
    case WB_STORE_LESSON_INTEGER:
      *(gint64 *) at = sqlite3_column_int64 (statement, index);
      if (*(gint64 *) at == 0 && sqlite3_column_type (statement, index) == SQLITE_NULL)
        *(gint64 *) at = WB_INTEGER_NONE;
      return TRUE;
    case WB_STORE_LESSON_WHOLE:
      whole = sqlite3_column_int64 (statement, index);
      *(int *) at = (int) whole;
      return *(int *) at == whole;
    case WB_STORE_LESSON_TEXT:
      *(char **) at = wb_store_column_dup_text (statement, index);
      return *(char **) at == NULL || strlen (*(char **) at) == (gsize) sqlite3_column_bytes (statement, index);
    default:
      g_assert_not_reached ();
    }
}

gboolean
wb_store_lesson_read (const WbStoreLessonTable *table,
                      sqlite3_stmt             *statement,
                      guint                     n,
                      gpointer                  item)
{
  gboolean sound = TRUE;

  for (guint i = n; i < table->n; i++)
    *(double *) ((char *) item + table->columns[i].offset) = NAN;
  for (guint i = 0; i < n; i++)
    sound = read_value (&table->columns[i], statement, (int) (table->n_head + i), item) && sound;
  return sound;
}

/* What tells one value from every other; what is not known has a mark of its own. */
static void
add_value (const WbStoreLessonColumn *column,
           gconstpointer              item,
           GChecksum                 *sum)
{
  gconstpointer at = (const char *) item + column->offset;
  const char *text;
  gint64 whole;

  switch (column->kind)
    {
    case WB_STORE_LESSON_REAL:
      if (isnan (*(const double *) at))
        g_checksum_update (sum, (const guchar *) "-", 1);
      else
        g_checksum_update (sum, at, sizeof (double));
      break;
    case WB_STORE_LESSON_INTEGER:
      g_checksum_update (sum, at, sizeof (gint64));
      break;
    case WB_STORE_LESSON_WHOLE:
      whole = *(const int *) at;
      g_checksum_update (sum, (const guchar *) &whole, sizeof whole);
      break;
    case WB_STORE_LESSON_TEXT:
      text = *(char *const *) at;
      whole = text != NULL ? (gint64) strlen (text) : -1;
      g_checksum_update (sum, (const guchar *) &whole, sizeof whole);
      if (text != NULL)
        g_checksum_update (sum, (const guchar *) text, (gssize) whole);
      break;
    default:
      g_assert_not_reached ();
    }
}

static void
add_item (const WbStoreLessonTable *table,
          gconstpointer             item,
          GChecksum                *sum)
{
  for (guint i = 0; i < table->n; i++)
    add_value (&table->columns[i], item, sum);
}

void
wb_store_lesson_digest (const WbLesson *lesson,
                        guint8          digest[WB_STORE_LESSON_DIGEST_SIZE])
{
  g_autoptr (GChecksum) sum = g_checksum_new (G_CHECKSUM_SHA256);
  gint64 n = lesson->cells->len;
  gsize size = WB_STORE_LESSON_DIGEST_SIZE;

  add_item (&wb_store_lesson_heads, lesson, sum);
  g_checksum_update (sum, (const guchar *) &n, sizeof n);
  for (guint i = 0; i < lesson->cells->len; i++)
    add_item (&wb_store_lesson_cells, &g_array_index (lesson->cells, WbLessonCell, i), sum);
  for (guint i = 0; i < lesson->figures->len; i++)
    add_item (&wb_store_lesson_figures, &g_array_index (lesson->figures, WbLessonFigure, i), sum);
  g_checksum_get_digest (sum, digest, &size);
}

void
wb_store_school_digest (gconstpointer bytes,
                        gsize         size,
                        guint8        digest[WB_STORE_LESSON_DIGEST_SIZE])
{
  g_autoptr (GChecksum) sum = g_checksum_new (G_CHECKSUM_SHA256);
  gsize length = WB_STORE_LESSON_DIGEST_SIZE;

  g_checksum_update (sum, bytes, (gssize) size);
  g_checksum_get_digest (sum, digest, &length);
}
