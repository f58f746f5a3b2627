/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-school-kept-private.h"

#include <math.h>
#include <string.h>

/*
 * The bytes: a mark with the version, the fingerprint, then numbers in the machine's own order: of each model how many spreads and how many points, weight and
 * spreads of each, the mode first; of the walls how many, and mean and noise of each. A notebook that came from a machine of another
 * order has another mark, and starts afresh.
 */

#define MARK 0x57424b5332u
#define FINGERPRINT 32
#define MOST 1000000

struct _WbCraftKept
{
  guint8  fingerprint[FINGERPRINT];
  guint   n_spreads[WB_CRAFT_SCHOOL_N_MODELS];
  GArray *weights[WB_CRAFT_SCHOOL_N_MODELS]; /* double, a point */
  GArray *spreads[WB_CRAFT_SCHOOL_N_MODELS]; /* double, n_spreads a point */
  GArray *walls;                             /* double: mean, noise */
};

static void
feed (GChecksum *checksum,
      const void *data,
      gsize       length)
{
  g_checksum_update (checksum, data, (gssize) length);
}

void
wb_craft_kept_fingerprint (const GPtrArray *lessons,
                           const GPtrArray *guides,
                           guint8           fingerprint[32])
{
  g_autoptr (GChecksum) checksum = g_checksum_new (G_CHECKSUM_SHA256);
  gsize length = FINGERPRINT;

  for (guint i = 0; i < lessons->len; i++)
    {
      const WbLesson *lesson = g_ptr_array_index (lessons, i);
      gint64 numbers[] = { lesson->experiment, lesson->last_entry, lesson->version, lesson->cells->len, lesson->figures->len };

      feed (checksum, numbers, sizeof numbers);
      /* a material may have been renamed, or its step mended, without an entry of the experiment's own */
      for (guint k = 0; k < lesson->cells->len; k++)
        {
          const WbLessonCell *cell = &g_array_index (lesson->cells, WbLessonCell, k);
          const char *names[] = { cell->series, cell->size, cell->wax_name };
          double measures[] = { (double) cell->step, cell->inner_mm, cell->load_pct, cell->wicks, cell->headspace_mm, cell->room_c, cell->dye != 0 };

          for (guint n = 0; n < G_N_ELEMENTS (names); n++)
            feed (checksum, names[n] != NULL ? names[n] : "", names[n] != NULL ? strlen (names[n]) + 1 : 1);
          feed (checksum, measures, sizeof measures);
        }
      for (guint k = 0; k < lesson->figures->len; k++)
        {
          const WbLessonFigure *figure = &g_array_index (lesson->figures, WbLessonFigure, k);
          double measures[] = { figure->mean, figure->variance, figure->pace, figure->at_wall_h, figure->sample_sd };

          feed (checksum, measures, sizeof measures);
        }
    }
  for (guint i = 0; i < guides->len; i++)
    {
      const WbWickGuide *guide = g_ptr_array_index (guides, i);
      gint64 numbers[] = { guide->wick, guide->wax };
      double measures[] = { guide->from_mm, guide->to_mm };

      feed (checksum, numbers, sizeof numbers);
      feed (checksum, measures, sizeof measures);
    }
  g_checksum_get_digest (checksum, fingerprint, &length);
}

/* ---- reading ---- */

typedef struct { const guint8 *data; gsize left; gboolean bad; } Reader;

static void
take (Reader *reader,
      void   *into,
      gsize   length)
{
  if (reader->bad || reader->left < length)
    {
      reader->bad = TRUE;
      memset (into, 0, length);
      return;
    }
  memcpy (into, reader->data, length);
  reader->data += length;
  reader->left -= length;
}

static guint64
take_count (Reader *reader)
{
  guint64 n;

  take (reader, &n, sizeof n);
  if (n > MOST)
    reader->bad = TRUE;
  return reader->bad ? 0 : n;
}

static void
take_numbers (Reader *reader,
              guint64 n,
              GArray *into)
{
  for (guint64 i = 0; i < n && !reader->bad; i++)
    {
      double value;

      take (reader, &value, sizeof value);
      reader->bad = reader->bad || isnan (value);
      g_array_append_val (into, value);
    }
}

static void
take_model (Reader      *reader,
            WbCraftKept *into,
            guint        model)
{
  guint64 n_points;

  into->weights[model] = g_array_new (FALSE, FALSE, sizeof (double));
  into->spreads[model] = g_array_new (FALSE, FALSE, sizeof (double));
  into->n_spreads[model] = (guint) take_count (reader);
  n_points = take_count (reader);
  for (guint64 i = 0; i < n_points && !reader->bad; i++)
    {
      take_numbers (reader, 1, into->weights[model]);
      take_numbers (reader, into->n_spreads[model], into->spreads[model]);
    }
  for (guint k = 0; k < into->spreads[model]->len; k++)
    reader->bad = reader->bad || isinf (g_array_index (into->spreads[model], double, k));
}

WbCraftKept *
wb_craft_kept_read (GBytes *bytes)
{
  g_autoptr (WbCraftKept) self = NULL;
  Reader reader = { NULL };
  guint64 mark;

  if (bytes == NULL)
    return NULL;
  reader.data = g_bytes_get_data (bytes, &reader.left);
  self = g_new0 (WbCraftKept, 1);
  take (&reader, &mark, sizeof mark);
  take (&reader, self->fingerprint, FINGERPRINT);
  for (guint i = 0; i < WB_CRAFT_SCHOOL_N_MODELS; i++)
    take_model (&reader, self, i);
  self->walls = g_array_new (FALSE, FALSE, sizeof (double));
  take_numbers (&reader, 2 * take_count (&reader), self->walls);
  return !reader.bad && mark == MARK && reader.left == 0 ? g_steal_pointer (&self) : NULL;
}

void
wb_craft_kept_free (WbCraftKept *self)
{
  if (self == NULL)
    return;
  for (guint i = 0; i < WB_CRAFT_SCHOOL_N_MODELS; i++)
    {
      g_clear_pointer (&self->weights[i], g_array_unref);
      g_clear_pointer (&self->spreads[i], g_array_unref);
    }
  g_clear_pointer (&self->walls, g_array_unref);
  g_free (self);
}

gboolean
wb_craft_kept_is_of (const WbCraftKept *self,
                     const guint8       fingerprint[32])
{
  return self != NULL && memcmp (self->fingerprint, fingerprint, FINGERPRINT) == 0;
}

static guint
index_of (const WbCraftSchoolModel *model)
{
  for (guint i = 0; i < WB_CRAFT_SCHOOL_N_MODELS; i++)
    if (wb_craft_school_get_belief (i) == model->belief)
      return i;
  g_assert_not_reached ();
}

const double *
wb_craft_kept_get_spreads (const WbCraftKept        *self,
                           const WbCraftSchoolModel *model,
                           const double            **weights,
                           gsize                    *n_points)
{
  guint n = 0, index = index_of (model);

  for (WbCraftKin kin = 0; kin < WB_CRAFT_N_KINS; kin++)
    n += model->family[kin] != G_MAXUINT;
  if (self == NULL || n == 0 || self->n_spreads[index] != n || self->weights[index]->len == 0)
    return NULL;
  *weights = (const double *) self->weights[index]->data;
  *n_points = self->weights[index]->len;
  return (const double *) self->spreads[index]->data;
}

gboolean
wb_craft_kept_put_walls (const WbCraftKept  *self,
                         WbCraftSchoolModel *growth)
{
  if (self == NULL || self->walls->len != 2 * growth->walls->len)
    return FALSE;
  for (guint i = 0; i < growth->walls->len; i++)
    {
      WbCraftWall *wall = &g_array_index (growth->walls, WbCraftWall, i);

      wall->mean = g_array_index (self->walls, double, 2 * i);
      wall->noise = g_array_index (self->walls, double, 2 * i + 1);
    }
  return TRUE;
}

/* ---- writing ---- */

static void
put_number (GByteArray *bytes,
            guint64     number)
{
  g_byte_array_append (bytes, (const guint8 *) &number, sizeof number);
}

static void
put_value (GByteArray *bytes,
           double      value)
{
  g_byte_array_append (bytes, (const guint8 *) &value, sizeof value);
}

GBytes *
wb_craft_kept_write (const WbCraftSchool *school)
{
  GByteArray *bytes = g_byte_array_new ();
  const GArray *walls = school->models[WB_CRAFT_SCHOOL_GROWTH].walls;

  put_number (bytes, MARK);
  g_byte_array_append (bytes, school->fingerprint, FINGERPRINT);
  for (guint i = 0; i < WB_CRAFT_SCHOOL_N_MODELS; i++)
    {
      const WbCalcPooled *fit = school->models[i].fit;
      gsize n = fit != NULL ? wb_calc_pooled_get_n_families (fit) : 0, n_points = fit != NULL ? wb_calc_pooled_get_n_points (fit) : 0;

      put_number (bytes, n);
      put_number (bytes, n_points);
      for (gsize point = 0; point < n_points; point++)
        {
          put_value (bytes, wb_calc_pooled_get_weight (fit, point));
          for (gsize k = 0; k < n; k++)
            put_value (bytes, wb_calc_pooled_get_point (fit, point)[k]);
        }
    }
  put_number (bytes, walls->len);
  for (guint i = 0; i < walls->len; i++)
    {
      put_value (bytes, g_array_index (walls, WbCraftWall, i).mean);
      put_value (bytes, g_array_index (walls, WbCraftWall, i).noise);
    }
  return g_byte_array_free_to_bytes (bytes);
}
