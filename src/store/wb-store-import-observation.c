/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-store-import-observation-private.h"

#include <glib/gi18n-lib.h>
#include <inttypes.h>
#include <math.h>
#include <string.h>

/* A part's bytes: rater; how many values, and each as column and double; throw_room, note; then each kept cell. */

#define POOL_BIT(i) (1 << (i))

static const WbColumn pools[] = { WB_COLUMN_POOL_MM, WB_COLUMN_POOL_A_MM, WB_COLUMN_POOL_B_MM };

void
wb_import_observations_init (WbImportObservations *self)
{
  self->parts = g_array_new (FALSE, FALSE, sizeof (WbImportPart));
  self->bytes = g_byte_array_new ();
  self->kept_parts = self->kept_bytes = 0;
  self->latest_min = -1;
}

void
wb_import_observations_clear (WbImportObservations *self)
{
  g_clear_pointer (&self->parts, g_array_unref);
  g_clear_pointer (&self->bytes, g_byte_array_unref);
}

gsize
wb_import_observations_size (const WbImportObservations *self)
{
  return self->parts != NULL ? self->parts->len * sizeof (WbImportPart) + self->bytes->len : 0;
}

/* Texts end with their NUL, so that they can be borrowed where they stand; an absent one is empty, as none can be. */
static void
add_text (GByteArray *bytes,
          const char *text)
{
  const char *there = text != NULL ? text : "";

  g_byte_array_append (bytes, (const guint8 *) there, (guint) strlen (there) + 1);
}

static gint32
whole_or_none (double value)
{
  return isnan (value) ? -1 : (gint32) value;
}

static void
add_values (GByteArray     *bytes,
            const WbLogRow *row)
{
  guint at = bytes->len;
  guint8 n = 0;

  g_byte_array_append (bytes, &n, 1);
  for (guint8 i = 0; i < WB_N_COLUMNS; i++)
    if (!isnan (row->values[i]))
      {
        g_byte_array_append (bytes, &i, 1);
        g_byte_array_append (bytes, (const guint8 *) &row->values[i], sizeof (double));
        n++;
      }
  bytes->data[at] = n;
}

static WbImportPart
part_new (const WbImportObservations *self,
          const WbLogRow             *row,
          gint64                      reading)
{
  return (WbImportPart) {
    .line = reading != 0 ? 0 : (gint64) row->line,
    .reading = reading,
    .elapsed_min = row->elapsed_min,
    .event = whole_or_none (row->values[WB_COLUMN_EVENT]),
    .wick = whole_or_none (row->values[WB_COLUMN_WICK_NUMBER]),
    .offset = self->bytes->len,
  };
}

void
wb_import_observations_add_past (WbImportObservations *self,
                                 const WbLogRow       *key,
                                 gint64                reading)
{
  WbImportPart part = part_new (self, key, reading);

  part.past = TRUE;
  g_array_append_val (self->parts, part);
  self->latest_min = MAX (self->latest_min, key->elapsed_min);
  add_text (self->bytes, key->rater);
}

void
wb_import_observations_add (WbImportObservations *self,
                            const WbLogRow       *row,
                            guint                 n_extra,
                            gint64                reading)
{
  WbImportPart part = part_new (self, row, reading);

  g_array_append_val (self->parts, part);
  self->latest_min = MAX (self->latest_min, row->elapsed_min);
  add_text (self->bytes, row->rater);
  add_values (self->bytes, row);
  add_text (self->bytes, row->throw_room);
  add_text (self->bytes, row->note);
  for (guint i = 0; i < n_extra; i++)
    add_text (self->bytes, row->extra != NULL ? row->extra[i] : NULL);
}

static const char *
take_text (const guint8 **at)
{
  const char *text = (const char *) *at;

  *at += strlen (text) + 1;
  return *text != '\0' ? text : NULL;
}

/* The first to say it stands, with its line. */
static void
learn_text (const char **known,
            gint64      *line,
            const char  *text,
            gint64       of)
{
  if (*known != NULL || text == NULL)
    return;
  *known = text;
  *line = of;
}

/* "Full" is a statement about one of three diameters: their bits come together from all parts. */
static void
learn_value (WbImportKnown *known,
             WbColumn       column,
             double         value,
             gint64         line)
{
  if (column == WB_COLUMN_POOL_FULL && !isnan (known->values[column]))
    known->values[column] = (int) known->values[column] | (int) value;
  else if (isnan (known->values[column]))
    {
      known->values[column] = value;
      known->value_lines[column] = line;
    }
}

static void
learn (WbImportKnown              *known,
       const WbImportObservations *self,
       const WbImportPart         *part,
       guint                       n_extra)
{
  const guint8 *at = self->bytes->data + part->offset;
  guint n;

  take_text (&at);
  n = *at++;
  for (guint i = 0; i < n; i++)
    {
      double value;

      memcpy (&value, at + 1, sizeof value);
      learn_value (known, *at, value, part->line);
      at += 1 + sizeof value;
    }
  for (guint i = 0; i < G_N_ELEMENTS (known->texts); i++)
    learn_text (&known->texts[i], &known->text_lines[i], take_text (&at), part->line);
  for (guint i = 0; i < n_extra; i++)
    learn_text (&known->extra[i], &known->extra_lines[i], take_text (&at), part->line);
  if (known->n_parts == 0)
    known->first_line = part->line;
  known->n_parts++;
  known->n_new_parts += part->line != 0;
  if (part->reading != 0 && known->reading == 0)
    known->reading = part->reading;
}

static void
known_init (WbImportKnown *known,
            guint          n_extra)
{
  memset (known, 0, sizeof *known);
  for (guint i = 0; i < WB_N_COLUMNS; i++)
    known->values[i] = NAN;
  known->extra = g_new0 (const char *, n_extra + 1);
  known->extra_lines = g_new0 (gint64, n_extra + 1);
}

void
wb_import_known_clear (WbImportKnown *self)
{
  g_clear_pointer (&self->extra, g_free);
  g_clear_pointer (&self->extra_lines, g_free);
}

gboolean
wb_import_observations_find (const WbImportObservations *self,
                             const WbLogRow             *row,
                             guint                       n_extra,
                             WbImportKnown              *known,
                             gint64                     *past)
{
  gint32 event = whole_or_none (row->values[WB_COLUMN_EVENT]), wick = whole_or_none (row->values[WB_COLUMN_WICK_NUMBER]);
  const char *rater = row->rater != NULL ? row->rater : "";
  gboolean found = FALSE;

  if (past != NULL)
    *past = 0;
  if (row->elapsed_min > self->latest_min)
    return FALSE;
  for (guint i = 0; i < self->parts->len; i++)
    {
      const WbImportPart *part = &g_array_index (self->parts, WbImportPart, i);

      if (part->elapsed_min != row->elapsed_min || part->event != event || part->wick != wick
          || strcmp ((const char *) self->bytes->data + part->offset, rater) != 0)
        continue;
      if (part->past)
        {
          if (past != NULL)
            *past = part->reading;
          continue;
        }
      if (!found)
        known_init (known, n_extra);
      found = TRUE;
      learn (known, self, part, n_extra);
    }
  return found;
}

/* What disagrees, gathered; only the first is told in full. */
typedef struct
{
  const WbLogRow *row;
  GPtrArray      *columns;
  char          **words;
} Quarrel;

static void
quarrel (Quarrel    *self,
         const char *column,
         gint64      line,
         const char *known,
         const char *given)
{
  if (self->columns->len == 0 && *self->words == NULL)
    *self->words = line != 0
      ? g_strdup_printf (_("line %" PRId64 " says %s of this observation, and this row says %s"), line, known, given)
      : g_strdup_printf (_("the notebook says %s of this observation, and this row says %s"), known, given);
  g_ptr_array_add (self->columns, (gpointer) column);
}

static char *
dup_value_words (WbColumn column,
                 double   value)
{
  const WbColumnSpec *spec = wb_column_get_spec (column);

  if (spec->words != NULL && !g_ascii_isdigit (spec->words[0].nick[0]))
    return g_strdup (spec->words[(int) value].nick);
  return wb_number_shortest (value);
}

static void
compare_value (Quarrel             *self,
               const WbImportKnown *known,
               WbColumn             column)
{
  double a = known->values[column], b = self->row->values[column];
  g_autofree char *was = NULL, *is = NULL;

  if (isnan (a) || isnan (b) || a == b)
    return;
  was = dup_value_words (column, a);
  is = dup_value_words (column, b);
  quarrel (self, wb_column_get_spec (column)->name, known->value_lines[column], was, is);
}

static gboolean
says_full (const double *values,
           guint         pool)
{
  return !isnan (values[WB_COLUMN_POOL_FULL]) && ((int) values[WB_COLUMN_POOL_FULL] & POOL_BIT (pool)) != 0;
}

static void
compare_pool (Quarrel             *self,
              const WbImportKnown *known,
              guint                pool)
{
  WbColumn column = pools[pool];
  const double *a = known->values, *b = self->row->values;
  gboolean full_a = says_full (a, pool), full_b = says_full (b, pool);
  g_autofree char *was = NULL, *is = NULL;

  if ((isnan (a[column]) && !full_a) || (isnan (b[column]) && !full_b) || (full_a && full_b)
      || (!full_a && !full_b && a[column] == b[column]))
    return;
  was = full_a ? g_strdup ("full") : wb_number_shortest (a[column]);
  is = full_b ? g_strdup ("full") : wb_number_shortest (b[column]);
  quarrel (self, wb_column_get_spec (column)->name, known->value_lines[full_a ? WB_COLUMN_POOL_FULL : column], was, is);
}

/* Ways of reading one pool, of which an observation has one: a diameter, two, the ring left at four sides. */
typedef enum { WAY_ONE, WAY_TWO, WAY_RING, N_WAYS } Way;

static WbColumn
column_of_way (const double *values,
               Way           way)
{
  switch (way)
    {
    case WAY_ONE:
      return !isnan (values[WB_COLUMN_POOL_MM]) || says_full (values, 0) ? WB_COLUMN_POOL_MM : WB_N_COLUMNS;
    case WAY_TWO:
      for (guint i = 1; i < G_N_ELEMENTS (pools); i++)
        if (!isnan (values[pools[i]]) || says_full (values, i))
          return pools[i];
      return WB_N_COLUMNS;
    default:
      for (WbColumn c = WB_COLUMN_RING_12_MM; c <= WB_COLUMN_RING_9_MM; c++)
        if (!isnan (values[c]))
          return c;
      return WB_N_COLUMNS;
    }
}

static void
compare_ways (Quarrel             *self,
              const WbImportKnown *known)
{
  for (Way a = 0; a < N_WAYS; a++)
    for (Way b = 0; b < N_WAYS; b++)
      {
        WbColumn was = column_of_way (known->values, a), is = column_of_way (self->row->values, b);

        if (a != b && was != WB_N_COLUMNS && is != WB_N_COLUMNS)
          quarrel (self, wb_column_get_spec (is)->name, known->value_lines[was], wb_column_get_spec (was)->name,
                   wb_column_get_spec (is)->name);
      }
}

/* As much of a note as fits into a remark. */
static char *
dup_start (const char *text)
{
  g_autofree char *start = g_utf8_strlen (text, -1) > 60 ? g_utf8_substring (text, 0, 60) : NULL;

  return start != NULL ? g_strdup_printf ("“%s…”", start) : g_strdup_printf ("“%s”", text);
}

static void
compare_text (Quarrel    *self,
              const char *column,
              const char *known,
              gint64      line,
              const char *given)
{
  g_autofree char *was = NULL, *is = NULL;

  if (known == NULL || given == NULL || *given == '\0' || strcmp (known, given) == 0)
    return;
  was = dup_start (known);
  is = dup_start (given);
  quarrel (self, column, line, was, is);
}

static gboolean
is_pool (WbColumn column)
{
  return column == WB_COLUMN_POOL_FULL || column == WB_COLUMN_POOL_MM || column == WB_COLUMN_POOL_A_MM
         || column == WB_COLUMN_POOL_B_MM;
}

gboolean
wb_import_known_agrees (const WbImportKnown *self,
                        const WbLogRow      *row,
                        const char *const   *extra_names,
                        guint                n_extra,
                        GPtrArray           *columns,
                        char               **words)
{
  Quarrel all = { row, columns, words };
  guint before = columns->len;

  for (guint i = 0; i < G_N_ELEMENTS (pools); i++)
    compare_pool (&all, self, i);
  compare_ways (&all, self);
  for (WbColumn c = 0; c < WB_N_COLUMNS; c++)
    if (!is_pool (c))
      compare_value (&all, self, c);
  compare_text (&all, "throw_room", self->texts[0], self->text_lines[0], row->throw_room);
  compare_text (&all, "note", self->texts[1], self->text_lines[1], row->note);
  for (guint i = 0; i < n_extra && row->extra != NULL; i++)
    compare_text (&all, extra_names[i], self->extra[i], self->extra_lines[i], row->extra[i]);
  return columns->len == before;
}

gboolean
wb_import_known_lacks (const WbImportKnown *self,
                       const WbLogRow      *row,
                       guint                n_extra)
{
  for (WbColumn c = 0; c < WB_N_COLUMNS; c++)
    {
      if (isnan (row->values[c]))
        continue;
      /* The default of its column says nothing new. */
      if (isnan (self->values[c]) && !(c == WB_COLUMN_FLAME_DATUM && row->values[c] == 0))
        return TRUE;
      if (c == WB_COLUMN_POOL_FULL && ((int) row->values[c] & ~(int) self->values[c]) != 0)
        return TRUE;
    }
  if ((row->throw_room != NULL && self->texts[0] == NULL) || (row->note != NULL && self->texts[1] == NULL))
    return TRUE;
  for (guint i = 0; i < n_extra && row->extra != NULL; i++)
    if (row->extra[i] != NULL && *row->extra[i] != '\0' && self->extra[i] == NULL)
      return TRUE;
  return FALSE;
}
