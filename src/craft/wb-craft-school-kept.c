/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-school-kept-private.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "wb-craft-workers-private.h"

/*
 * The bytes: a mark with the version, how long the first part is and SHA-256 of it, then that part, all in the machine's own order, and behind it what
 * wb_calc_pooled_keep makes of each model, which has a checksum of its own. A notebook that came from a machine of another order has
 * another mark, and starts afresh. The figures of the lessons are not in the fingerprint: entries and version say whether they are the same, and
 * where those say so they need not be read.
 */

#define MARK 0x57424b5335u
#define FINGERPRINT 32
#define MOST 1000000
#define N_SPREADS 7   /* between candles and burns, with their degrees of freedom */

/* What was kept of one model. */
typedef struct
{
  gboolean     told;                     /* it was fitted */
  GArray      *spreads;                  /* double: the mode's, and the curvature there, row by row */
  double       between[N_SPREADS];
  guint8       read[WB_N_STAGES][WB_LESSON_N_LOOKS];
  guint        spare[WB_CRAFT_N_KINS];
  GArray      *columns[WB_CRAFT_N_KINS]; /* guint, a level */
  guint64      length;
  const guint8 *fit;                     /* into the bytes; `length` long */
} KeptModel;

struct _WbCraftKept
{
  GBytes   *bytes;
  guint8    fingerprint[FINGERPRINT];
  double    exponent;
  GArray   *curves;  /* WbCraftCurve, a seat */
  KeptModel models[WB_CRAFT_SCHOOL_N_MODELS];
};

G_STATIC_ASSERT (sizeof (WbCraftCurve) == 4 * sizeof (double));

static void
feed (GChecksum *checksum,
      const void *data,
      gsize       length)
{
  g_checksum_update (checksum, data, (gssize) length);
}

static void
feed_name (GChecksum  *checksum,
           const char *name)
{
  feed (checksum, name != NULL ? name : "", name != NULL ? strlen (name) + 1 : 1);
}

static gconstpointer
find_record (const GPtrArray *records,
             gint64           id)
{
  for (guint i = 0; i < records->len; i++)
    if (((const WbRecord *) g_ptr_array_index (records, i))->id == id)
      return g_ptr_array_index (records, i);
  return NULL;
}

/* Its wick and wax as they are now: nothing else tells that the material of a guide was mended, for no experiment need have it. */
static void
feed_guide (GChecksum         *checksum,
            const WbWickGuide *guide,
            const GPtrArray   *wicks,
            const GPtrArray   *waxes)
{
  const WbWick *wick = find_record (wicks, guide->wick);
  const WbWax *wax = find_record (waxes, guide->wax);
  gint64 numbers[] = { guide->wick, guide->wax, wick != NULL, wick != NULL ? wick->step : 0, wax != NULL };
  double measures[] = { guide->from_mm, guide->to_mm };

  feed (checksum, numbers, sizeof numbers);
  feed (checksum, measures, sizeof measures);
  feed_name (checksum, wick != NULL ? wick->series : NULL);
  feed_name (checksum, wick != NULL ? wick->size : NULL);
  feed_name (checksum, wax != NULL ? wax->name : NULL);
}

void
wb_craft_kept_fingerprint (const GPtrArray *lessons,
                           const GPtrArray *guides,
                           const GPtrArray *wicks,
                           const GPtrArray *waxes,
                           guint8           fingerprint[32])
{
  g_autoptr (GChecksum) checksum = g_checksum_new (G_CHECKSUM_SHA256);
  gsize length = FINGERPRINT;

  for (guint i = 0; i < lessons->len; i++)
    {
      const WbLesson *lesson = g_ptr_array_index (lessons, i);
      gint64 numbers[] = { lesson->experiment, lesson->last_entry, lesson->shared_entry, lesson->version, lesson->cells->len };

      feed (checksum, numbers, sizeof numbers);
      /* a material may have been renamed, or its step mended, without an entry of the experiment's own */
      for (guint k = 0; k < lesson->cells->len; k++)
        {
          const WbLessonCell *cell = &g_array_index (lesson->cells, WbLessonCell, k);
          const char *names[] = { cell->series, cell->size, cell->wax_name };
          double measures[] = { (double) cell->step, cell->inner_mm, cell->load_pct, cell->wicks, cell->headspace_mm, cell->room_c, cell->dye != 0, cell->wall };

          for (guint n = 0; n < G_N_ELEMENTS (names); n++)
            feed_name (checksum, names[n]);
          feed (checksum, measures, sizeof measures);
        }
    }
  for (guint i = 0; i < guides->len; i++)
    feed_guide (checksum, g_ptr_array_index (guides, i), wicks, waxes);
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

/* A count, and so many items. */
static GArray *
take_items (Reader *reader,
            guint   width)
{
  GArray *items = g_array_new (FALSE, FALSE, width);
  guint64 n;

  take (reader, &n, sizeof n);
  if (reader->bad || n > MOST || n * width > reader->left)
    {
      reader->bad = TRUE;
      return items;
    }
  g_array_set_size (items, (guint) n);
  if (n > 0)
    take (reader, items->data, (gsize) n * width);
  return items;
}

static void
take_model (Reader    *reader,
            KeptModel *into)
{
  guint8 told;

  take (reader, &told, sizeof told);
  into->told = told != 0;
  into->spreads = take_items (reader, sizeof (double));
  for (guint k = 0; k < into->spreads->len; k++)
    reader->bad = reader->bad || !isfinite (g_array_index (into->spreads, double, k));
  take (reader, into->between, sizeof into->between);
  take (reader, into->read, sizeof into->read);
  take (reader, into->spare, sizeof into->spare);
  for (WbCraftKin kin = 0; kin < WB_CRAFT_N_KINS; kin++)
    into->columns[kin] = take_items (reader, sizeof (guint));
  take (reader, &into->length, sizeof into->length);
}

/* The part that stands under the hash; FALSE: it is none. */
static gboolean
open_bytes (GBytes *bytes,
            Reader *first,
            Reader *fits)
{
  Reader reader = { NULL };
  guint64 head[2];
  guint8 hash[FINGERPRINT], found[FINGERPRINT];
  gsize length = sizeof found;
  g_autoptr (GChecksum) checksum = g_checksum_new (G_CHECKSUM_SHA256);

  reader.data = g_bytes_get_data (bytes, &reader.left);
  take (&reader, head, sizeof head);
  take (&reader, hash, sizeof hash);
  if (reader.bad || head[0] != MARK || head[1] > reader.left)
    return FALSE;
  *first = (Reader) { reader.data, (gsize) head[1], FALSE };
  *fits = (Reader) { reader.data + head[1], reader.left - (gsize) head[1], FALSE };
  g_checksum_update (checksum, first->data, (gssize) first->left);
  g_checksum_get_digest (checksum, found, &length);
  return memcmp (hash, found, sizeof hash) == 0;
}

WbCraftKept *
wb_craft_kept_read (GBytes *bytes)
{
  g_autoptr (WbCraftKept) self = NULL;
  Reader reader, fits;

  if (bytes == NULL || !open_bytes (bytes, &reader, &fits))
    return NULL;
  self = g_new0 (WbCraftKept, 1);
  self->bytes = g_bytes_ref (bytes);
  take (&reader, self->fingerprint, FINGERPRINT);
  take (&reader, &self->exponent, sizeof self->exponent);
  self->curves = take_items (&reader, sizeof (WbCraftCurve));
  for (guint i = 0; i < WB_CRAFT_SCHOOL_N_MODELS; i++)
    {
      KeptModel *model = &self->models[i];

      take_model (&reader, model);
      if (model->length > fits.left)
        reader.bad = TRUE;
      if (reader.bad)
        return NULL;
      model->fit = fits.data;
      fits.data += model->length;
      fits.left -= model->length;
    }
  return reader.left == 0 && fits.left == 0 ? g_steal_pointer (&self) : NULL;
}

void
wb_craft_kept_free (WbCraftKept *self)
{
  if (self == NULL)
    return;
  for (guint i = 0; i < WB_CRAFT_SCHOOL_N_MODELS; i++)
    {
      g_clear_pointer (&self->models[i].spreads, g_array_unref);
      for (WbCraftKin kin = 0; kin < WB_CRAFT_N_KINS; kin++)
        g_clear_pointer (&self->models[i].columns[kin], g_array_unref);
    }
  g_clear_pointer (&self->curves, g_array_unref);
  g_bytes_unref (self->bytes);
  g_free (self);
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
                           const double            **curvature)
{
  guint n = 0;
  const double *spreads;

  *curvature = NULL;

  for (WbCraftKin kin = 0; kin < WB_CRAFT_N_KINS; kin++)
    n += model->family[kin] != G_MAXUINT;
  if (self == NULL || n == 0 || self->models[index_of (model)].spreads->len != n + n * n)
    return NULL;
  spreads = (const double *) self->models[index_of (model)].spreads->data;
  *curvature = spreads + n;
  return spreads;
}

/* ---- recalling ---- */

/* The fits come first, each in a thread, so that what is damaged leaves the school as it is. */
typedef struct
{
  const WbCraftKept *kept;
  WbCalcPooled      *fits[WB_CRAFT_SCHOOL_N_MODELS];
} Recalling;

static void
recall_fit (WbCraftWorkers *workers,
            guint           piece,
            gpointer        data)
{
  Recalling *recalling = data;
  const KeptModel *model = &recalling->kept->models[piece];

  if (model->told)
    wb_calc_pooled_take_up (model->fit, model->length, &recalling->fits[piece]);
}

static gboolean
has_column (const WbCalcPooled *fit,
            guint               column)
{
  return column < wb_calc_pooled_get_n_coefficients (fit) && isfinite (wb_calc_pooled_get_mean (fit)[column]);
}

/* Every column that a question may ask for is there. */
static gboolean
answers_all (const KeptModel          *kept,
             const WbCalcPooled       *fit,
             const WbCraftSchoolModel *model)
{
  for (WbCraftTerm term = 0; term < WB_CRAFT_N_TERMS; term++)
    if (!has_column (fit, term))
      return FALSE;
  for (WbCraftKin kin = 0; kin < WB_CRAFT_N_KINS; kin++)
    {
      if (kept->columns[kin]->len != model->n_levels[kin]
          || (model->family[kin] != G_MAXUINT && !has_column (fit, kept->spare[kin])))
        return FALSE;
      for (guint i = 0; i < kept->columns[kin]->len; i++)
        {
          guint column = g_array_index (kept->columns[kin], guint, i);

          if (column != G_MAXUINT && (model->family[kin] == G_MAXUINT || !has_column (fit, column)))
            return FALSE;
        }
    }
  return TRUE;
}

static void
recall_model (const KeptModel    *kept,
              WbCraftSchoolModel *model)
{
  double *between[N_SPREADS] = { &model->sample_sd, &model->burn_sd, &model->sample_df, &model->burn_df,
                                 &model->peak_sample_sd, &model->peak_burn_sd, &model->peak_df };

  for (guint i = 0; i < N_SPREADS; i++)
    *between[i] = kept->between[i];
  for (WbStage stage = 0; stage < WB_N_STAGES; stage++)
    for (WbLessonLook look = 0; look < WB_LESSON_N_LOOKS; look++)
      model->read[stage][look] = kept->read[stage][look] != 0;
  for (WbCraftKin kin = 0; kin < WB_CRAFT_N_KINS; kin++)
    {
      if (model->family[kin] != G_MAXUINT)
        model->spare[kin] = kept->spare[kin];
      if (model->n_levels[kin] > 0)
        memcpy (model->column[kin], kept->columns[kin]->data, model->n_levels[kin] * sizeof (guint));
    }
}

gboolean
wb_craft_kept_recall (const WbCraftKept *self,
                      WbCraftSchool     *school)
{
  Recalling recalling = { self };
  gboolean whole;

  if (memcmp (self->fingerprint, school->fingerprint, FINGERPRINT) != 0 || self->curves->len != school->seats->len)
    return FALSE;
  wb_craft_workers_run (WB_CRAFT_SCHOOL_N_MODELS, recall_fit, &recalling, NULL, NULL);
  whole = TRUE;
  for (guint i = 0; i < WB_CRAFT_SCHOOL_N_MODELS; i++)
    if (self->models[i].told)
      whole = whole && recalling.fits[i] != NULL && answers_all (&self->models[i], recalling.fits[i], &school->models[i]);
  for (guint i = 0; i < WB_CRAFT_SCHOOL_N_MODELS; i++)
    {
      if (!whole)
        {
          wb_calc_pooled_free (recalling.fits[i]);
          continue;
        }
      school->models[i].fit = recalling.fits[i];
      if (self->models[i].told)
        recall_model (&self->models[i], &school->models[i]);
    }
  if (!whole)
    return FALSE;
  school->exponent = self->exponent;
  g_array_set_size (school->curves, 0);
  g_array_append_vals (school->curves, self->curves->data, self->curves->len);
  return TRUE;
}

/* ---- writing ---- */

static void
put (GByteArray   *bytes,
     gconstpointer data,
     gsize         length)
{
  if (length > 0)
    g_byte_array_append (bytes, data, (guint) length);
}

static void
put_count (GByteArray *bytes,
           guint64     number)
{
  put (bytes, &number, sizeof number);
}

/* What questions may ask of a model: its terms, and whoever has a family. Behind the terms what has none is a cell's candles. */
static gboolean
put_fit (const WbCraftSchoolModel *model,
         GByteArray               *fits,
         guint64                  *length)
{
  gsize n = model->fit != NULL ? wb_calc_pooled_get_n_coefficients (model->fit) : 0;
  g_autofree bool *asked = g_new (bool, n + 1);
  unsigned char *bytes;
  gsize size;

  *length = 0;
  for (gsize j = 0; j < n; j++)
    asked[j] = j < WB_CRAFT_N_TERMS || g_array_index (model->coefficients, WbCalcPooledCoefficient, j).family != WB_CALC_POOLED_NO_FAMILY;
  if (n == 0 || wb_calc_pooled_keep (model->fit, asked, &bytes, &size) != WB_CALC_OK)
    return FALSE;
  put (fits, bytes, size);
  free (bytes);
  *length = size;
  return TRUE;
}

static void
put_model (const WbCraftSchoolModel *model,
           GByteArray               *bytes,
           GByteArray               *fits)
{
  double between[N_SPREADS] = { model->sample_sd, model->burn_sd, model->sample_df, model->burn_df,
                                model->peak_sample_sd, model->peak_burn_sd, model->peak_df };
  guint64 length, n = model->fit != NULL ? wb_calc_pooled_get_n_families (model->fit) : 0;
  guint8 told = put_fit (model, fits, &length);

  put (bytes, &told, sizeof told);
  put_count (bytes, n + n * n);
  if (n > 0)
    {
      put (bytes, wb_calc_pooled_get_log_spreads (model->fit), n * sizeof (double));
      put (bytes, wb_calc_pooled_get_curvature (model->fit), n * n * sizeof (double));
    }
  put (bytes, between, sizeof between);
  for (WbStage stage = 0; stage < WB_N_STAGES; stage++)
    for (WbLessonLook look = 0; look < WB_LESSON_N_LOOKS; look++)
      {
        guint8 read = model->read[stage][look] != 0;

        put (bytes, &read, sizeof read);
      }
  put (bytes, model->spare, sizeof model->spare);
  for (WbCraftKin kin = 0; kin < WB_CRAFT_N_KINS; kin++)
    {
      put_count (bytes, model->n_levels[kin]);
      put (bytes, model->column[kin], model->n_levels[kin] * sizeof (guint));
    }
  put_count (bytes, length);
}

GBytes *
wb_craft_kept_write (const WbCraftSchool *school)
{
  GByteArray *bytes = g_byte_array_new (), *first = g_byte_array_new (), *fits = g_byte_array_new ();
  g_autoptr (GChecksum) checksum = g_checksum_new (G_CHECKSUM_SHA256);
  guint8 hash[FINGERPRINT];
  gsize length = sizeof hash;

  put (first, school->fingerprint, FINGERPRINT);
  put (first, &school->exponent, sizeof school->exponent);
  put_count (first, school->curves->len);
  put (first, school->curves->data, school->curves->len * sizeof (WbCraftCurve));
  for (guint i = 0; i < WB_CRAFT_SCHOOL_N_MODELS; i++)
    put_model (&school->models[i], first, fits);
  g_checksum_update (checksum, first->data, first->len);
  g_checksum_get_digest (checksum, hash, &length);
  put_count (bytes, MARK);
  put_count (bytes, first->len);
  put (bytes, hash, sizeof hash);
  put (bytes, first->data, first->len);
  put (bytes, fits->data, fits->len);
  g_byte_array_unref (first);
  g_byte_array_unref (fits);
  return g_byte_array_free_to_bytes (bytes);
}
