/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-reading.h"

#include <math.h>
#include <string.h>

/*
 * A column is made when its first value is set, and is as long as its last
 * set row. Ratings and enumerations take a byte a row, numbers eight; the
 * bitmap says which rows were taken. Texts are indices into one pool of
 * distinct strings. One thread at a time.
 */
typedef struct
{
  guint8 *taken;     /* a bit a row */
  double *real;      /* one of the two, by the column's spec */
  gint8  *whole;
  guint   allocated; /* rows, a multiple of 8 */
} Column;

typedef struct
{
  guint32 *index;    /* into the pool; 0: none */
  guint    allocated;
} TextColumn;

struct _WbReadings
{
  GArray     *ids;          /* gint64 */
  GArray     *burns;        /* guint */
  GArray     *elapsed;      /* double */
  Column      columns[WB_N_COLUMNS];
  TextColumn  texts[WB_N_READING_TEXTS];
  GPtrArray  *pool;         /* char *, owned; [0] is unused */
  GHashTable *pool_index;   /* char * (of the pool) to its index */
  GHashTable *late;         /* rows typed in late, few; NULL: none */
};

WbReadings *
wb_readings_new (void)
{
  WbReadings *self = g_new0 (WbReadings, 1);

  self->ids = g_array_new (FALSE, FALSE, sizeof (gint64));
  self->burns = g_array_new (FALSE, FALSE, sizeof (guint));
  self->elapsed = g_array_new (FALSE, FALSE, sizeof (double));
  self->pool = g_ptr_array_new_with_free_func (g_free);
  g_ptr_array_add (self->pool, NULL);
  self->pool_index = g_hash_table_new (g_str_hash, g_str_equal);
  return self;
}

void
wb_readings_free (WbReadings *self)
{
  if (self == NULL)
    return;

  for (guint i = 0; i < WB_N_COLUMNS; i++)
    {
      g_free (self->columns[i].taken);
      g_free (self->columns[i].real);
      g_free (self->columns[i].whole);
    }
  for (guint i = 0; i < WB_N_READING_TEXTS; i++)
    g_free (self->texts[i].index);
  g_array_unref (self->ids);
  g_array_unref (self->burns);
  g_array_unref (self->elapsed);
  g_hash_table_unref (self->pool_index);
  g_clear_pointer (&self->late, g_hash_table_unref);
  g_ptr_array_unref (self->pool);
  g_free (self);
}

guint
wb_readings_get_length (const WbReadings *self)
{
  return self->ids->len;
}

guint
wb_readings_append (WbReadings *self,
                    gint64      id,
                    guint       burn,
                    double      elapsed_min)
{
  guint n = self->ids->len;

  if (n > 0)
    {
      guint last = wb_readings_get_burn (self, n - 1);

      g_return_val_if_fail (burn > last || (burn == last && elapsed_min >= wb_readings_get_elapsed_min (self, n - 1)), n - 1);
    }
  g_array_append_val (self->ids, id);
  g_array_append_val (self->burns, burn);
  g_array_append_val (self->elapsed, elapsed_min);
  return n;
}

/* Rows to make room for: half as much again, so that appending stays linear; a multiple of 8 for the bitmap. */
static guint
rows_wanted (guint row, guint allocated)
{
  return (MAX (row + 1, allocated + allocated / 2) + 63u) & ~63u;
}

static void
column_reserve (Column *column, gboolean integer, guint row)
{
  if (row < column->allocated)
    return;

  guint wanted = rows_wanted (row, column->allocated);

  column->taken = g_realloc (column->taken, wanted / 8);
  memset (column->taken + column->allocated / 8, 0, (wanted - column->allocated) / 8);
  if (integer)
    column->whole = g_renew (gint8, column->whole, wanted);
  else
    column->real = g_renew (double, column->real, wanted);
  column->allocated = wanted;
}

void
wb_readings_set (WbReadings *self,
                 guint       row,
                 WbColumn    column,
                 double      value)
{
  g_return_if_fail (row < self->ids->len && column < WB_N_COLUMNS);

  Column *c = &self->columns[column];
  gboolean integer = wb_column_get_spec (column)->integer;

  if (isnan (value))
    {
      if (row < c->allocated)
        c->taken[row / 8] &= (guint8) ~(1u << row % 8);
      return;
    }
  column_reserve (c, integer, row);
  c->taken[row / 8] |= (guint8) (1u << row % 8);
  if (integer)
    c->whole[row] = (gint8) CLAMP (value, G_MININT8, G_MAXINT8);
  else
    c->real[row] = value;
}

gboolean
wb_readings_taken (const WbReadings *self,
                   guint             row,
                   WbColumn          column)
{
  g_return_val_if_fail (row < self->ids->len && column < WB_N_COLUMNS, FALSE);

  const Column *c = &self->columns[column];

  return row < c->allocated && (c->taken[row / 8] >> row % 8 & 1) != 0;
}

double
wb_readings_get (const WbReadings *self,
                 guint             row,
                 WbColumn          column)
{
  if (!wb_readings_taken (self, row, column))
    return NAN;

  const Column *c = &self->columns[column];

  return c->whole != NULL ? c->whole[row] : c->real[row];
}

void
wb_readings_get_values (const WbReadings *self,
                        guint             row,
                        double            values[WB_N_COLUMNS])
{
  for (guint column = 0; column < WB_N_COLUMNS; column++)
    values[column] = wb_readings_get (self, row, (WbColumn) column);
}

static guint32
pool_intern (WbReadings *self, const char *text)
{
  gpointer known = g_hash_table_lookup (self->pool_index, text);

  if (known != NULL)
    return GPOINTER_TO_UINT (known);

  guint32 index = self->pool->len;
  char *copy = g_strdup (text);

  g_ptr_array_add (self->pool, copy);
  g_hash_table_insert (self->pool_index, copy, GUINT_TO_POINTER (index));
  return index;
}

void
wb_readings_set_text (WbReadings    *self,
                      guint          row,
                      WbReadingText  which,
                      const char    *text)
{
  g_return_if_fail (row < self->ids->len && which < WB_N_READING_TEXTS);

  TextColumn *c = &self->texts[which];

  if (text == NULL || text[0] == '\0')
    {
      if (row < c->allocated)
        c->index[row] = 0;
      return;
    }
  if (row >= c->allocated)
    {
      guint wanted = rows_wanted (row, c->allocated);

      c->index = g_renew (guint32, c->index, wanted);
      memset (c->index + c->allocated, 0, (wanted - c->allocated) * sizeof (guint32));
      c->allocated = wanted;
    }
  c->index[row] = pool_intern (self, text);
}

const char *
wb_readings_get_text (const WbReadings *self,
                      guint             row,
                      WbReadingText     which)
{
  g_return_val_if_fail (row < self->ids->len && which < WB_N_READING_TEXTS, NULL);

  const TextColumn *c = &self->texts[which];

  return row < c->allocated ? g_ptr_array_index (self->pool, c->index[row]) : NULL;
}

void
wb_readings_set_late (WbReadings *self,
                      guint       row)
{
  g_return_if_fail (row < self->ids->len);

  if (self->late == NULL)
    self->late = g_hash_table_new (NULL, NULL);
  g_hash_table_add (self->late, GUINT_TO_POINTER (row + 1));
}

gboolean
wb_readings_get_late (const WbReadings *self,
                      guint             row)
{
  g_return_val_if_fail (row < self->ids->len, FALSE);

  return self->late != NULL && g_hash_table_contains (self->late, GUINT_TO_POINTER (row + 1));
}

gint64
wb_readings_get_id (const WbReadings *self,
                    guint             row)
{
  g_return_val_if_fail (row < self->ids->len, 0);

  return g_array_index (self->ids, gint64, row);
}

guint
wb_readings_get_burn (const WbReadings *self,
                      guint             row)
{
  g_return_val_if_fail (row < self->ids->len, 0);

  return g_array_index (self->burns, guint, row);
}

double
wb_readings_get_elapsed_min (const WbReadings *self,
                             guint             row)
{
  g_return_val_if_fail (row < self->ids->len, NAN);

  return g_array_index (self->elapsed, double, row);
}

/* First row whose burn is not below `burn`. */
static guint
lower_bound (const WbReadings *self, guint burn)
{
  guint low = 0, high = self->burns->len;

  while (low < high)
    {
      guint middle = low + (high - low) / 2;

      if (g_array_index (self->burns, guint, middle) < burn)
        low = middle + 1;
      else
        high = middle;
    }
  return low;
}

void
wb_readings_get_burn_rows (const WbReadings *self,
                           guint             burn,
                           guint            *first,
                           guint            *n)
{
  guint start = lower_bound (self, burn);
  guint end = burn == G_MAXUINT ? self->burns->len : lower_bound (self, burn + 1);

  *first = start;
  *n = end - start;
}

gboolean
wb_readings_get_pool (const WbReadings *self,
                      guint             row,
                      double            inner_mm,
                      WbPool           *pool)
{
  static const WbColumn columns[] = {
    WB_COLUMN_POOL_MM, WB_COLUMN_POOL_A_MM, WB_COLUMN_POOL_B_MM, WB_COLUMN_POOL_FULL,
    WB_COLUMN_RING_12_MM, WB_COLUMN_RING_3_MM, WB_COLUMN_RING_6_MM, WB_COLUMN_RING_9_MM,
  };
  double values[WB_N_COLUMNS];

  for (guint i = 0; i < G_N_ELEMENTS (columns); i++)
    values[columns[i]] = wb_readings_get (self, row, columns[i]);
  return wb_pool_from_values (values, inner_mm, pool);
}
