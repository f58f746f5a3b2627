/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-alias.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "wb-craft-letters-private.h"

#define WORD_LEAST 3 /* letters of a word of a name that gives the name away */
#define SEPARATORS " ,·-/()" /* between the words of a name */

/* A text and what stands in its place; of equal texts the first that was named counts. */
typedef struct
{
  char    *real, *shown; /* both NFC */
  char    *folded;      /* the real one, whatever its capitals */
  gsize    length;      /* bytes of the real one */
  gboolean exact;       /* capitals count: a word of a name, which is a word of the language too */
  guint    rank;        /* of equal texts the lower counts */
} Pair;

/* Of the experiment itself before codes of others, and those before the names of materials that it has not. */
enum { RANK_OWN, RANK_CODE, RANK_OTHER };

/* What a material of the experiment is called, for the names that it had before. */
typedef struct
{
  const WbRecordType *type;
  gint64              id;
  const char         *shown;
} Called;

struct _WbCraftAlias
{
  char      *code, *title;
  GArray    *called;    /* Called */
  GPtrArray *items;     /* WbCraftAliasItem */
  GPtrArray *pairs;     /* Pair, longest first */
  GHashTable *paired;   /* set of what has a pair: versions of a material mostly have the same name */
  guint      rank;      /* of the pairs that come in */
};

static void
item_free (gpointer data)
{
  WbCraftAliasItem *self = data;

  g_free (self->shown);
  g_free (self->real);
  g_free (self);
}

static void
pair_free (gpointer data)
{
  Pair *self = data;

  g_free (self->real);
  g_free (self->shown);
  g_free (self->folded);
  g_free (self);
}

void
wb_craft_alias_free (WbCraftAlias *self)
{
  if (self == NULL)
    return;
  g_free (self->code);
  g_free (self->title);
  g_array_unref (self->called);
  g_ptr_array_unref (self->items);
  g_ptr_array_unref (self->pairs);
  g_hash_table_unref (self->paired);
  g_free (self);
}

/* ---- What stands for what ---- */

static void
add_pair (WbCraftAlias *self,
          const char   *real,
          const char   *shown,
          gboolean      exact)
{
  g_autofree char *composed = NULL;
  Pair *pair;

  if (real == NULL || *real == '\0')
    return;
  composed = wb_craft_letters_dup_composed (real);
  if (!g_hash_table_add (self->paired, g_strdup_printf ("%u%c%s", self->rank, exact ? '=' : '~', composed)))
    return;
  pair = g_new0 (Pair, 1);
  pair->real = g_steal_pointer (&composed);
  pair->shown = g_strdup (shown);
  pair->folded = wb_craft_letters_dup_folded (pair->real, NULL);
  pair->length = strlen (pair->real);
  pair->exact = exact;
  pair->rank = self->rank;
  g_ptr_array_add (self->pairs, pair);
}

/* A word of a name that tells enough of it. */
static void
add_word (WbCraftAlias *self,
          const char   *word,
          gsize         length,
          const char   *shown)
{
  g_autofree char *real = g_strndup (word, length);

  if (g_utf8_strlen (real, -1) >= WORD_LEAST && g_unichar_isupper (g_utf8_get_char (real)))
    add_pair (self, real, shown, TRUE);
}

/* "Harbour" of "Harbour mist". */
static void
add_words (WbCraftAlias *self,
           const char   *name,
           const char   *shown)
{
  g_autofree char *composed = name != NULL ? wb_craft_letters_dup_composed (name) : g_strdup ("");
  const char *word = composed;

  for (const char *at = composed; *at != '\0'; at = g_utf8_next_char (at))
    if (g_utf8_strchr (SEPARATORS, -1, g_utf8_get_char (at)) != NULL)
      {
        add_word (self, word, at - word, shown);
        word = g_utf8_next_char (at);
      }
  /* a name of one word is a pair already */
  if (word > composed)
    add_word (self, word, strlen (word), shown);
}

/* Takes `shown`. */
static const char *
add_item (WbCraftAlias *self,
          const char   *kind,
          char         *shown,
          const char   *real)
{
  WbCraftAliasItem *item = g_new0 (WbCraftAliasItem, 1);

  item->kind = kind;
  item->shown = shown;
  item->real = g_strdup (real);
  g_ptr_array_add (self->items, item);
  return shown;
}

/* A, B, ... Z, AA, AB ... */
static char *
dup_letter (guint index)
{
  char letter[2] = { (char) ('A' + index % 26), '\0' };
  g_autofree char *before = index >= 26 ? dup_letter (index / 26 - 1) : NULL;

  return g_strconcat (before != NULL ? before : "", letter, NULL);
}

static char *
dup_lettered (const char *format,
              guint       index)
{
  g_autofree char *letter = dup_letter (index);
  g_auto (GStrv) parts = g_strsplit (format, "%s", 2);

  return g_strjoinv (letter, parts);
}

static void
keep_called (WbCraftAlias *self,
             gconstpointer material,
             const char   *shown)
{
  Called called = { ((const WbRecord *) material)->type, ((const WbRecord *) material)->id, shown };

  g_array_append_val (self->called, called);
}

/* NULL: it is none of the experiment's. */
static const char *
find_called (const WbCraftAlias *self,
             gconstpointer       material)
{
  for (guint i = 0; i < self->called->len; i++)
    {
      const Called *called = &g_array_index (self->called, Called, i);

      if (called->id != 0 && called->id == ((const WbRecord *) material)->id && called->type == ((const WbRecord *) material)->type)
        return called->shown;
    }
  return NULL;
}

static void
set_text (gpointer    record,
          const char *field,
          const char *text)
{
  const WbFieldSpec *spec = wb_record_type_find_field (((const WbRecord *) record)->type, field);

  if (spec != NULL)
    wb_record_set_text (record, spec, text);
}

static void
forget_supplier (WbCraftAlias *self,
                 gpointer      material)
{
  const WbFieldSpec *supplier = wb_record_type_find_field (((const WbRecord *) material)->type, "supplier");

  if (supplier != NULL)
    add_pair (self, wb_record_get_text (material, supplier), _("the supplier"), FALSE);
  set_text (material, "supplier", NULL);
  set_text (material, "note", NULL);
}

/* A material that is called by its name. NULL is let pass. */
static void
rename_named (WbCraftAlias *self,
              gpointer      material,
              const char   *kind,
              const char   *format,
              guint         index)
{
  g_autofree char *real = NULL;
  g_autofree char *name = NULL;
  const char *shown;

  if (material == NULL)
    return;
  real = wb_material_dup_title (material);
  name = g_strdup (wb_record_get_text (material, wb_record_type_find_field (((const WbRecord *) material)->type, "name")));
  shown = add_item (self, kind, dup_lettered (format, index), real);
  keep_called (self, material, shown);
  add_pair (self, name, shown, FALSE);
  add_words (self, name, shown);
  forget_supplier (self, material);
  set_text (material, "name", shown);
}

/* ---- Wicks ---- */

static int
compare_wicks (gconstpointer a,
               gconstpointer b)
{
  const WbWick *first = *(const WbWick *const *) a, *second = *(const WbWick *const *) b;
  int order = g_strcmp0 (first->series, second->series);

  if (order == 0)
    order = (first->step > second->step) - (first->step < second->step);
  return order != 0 ? order : g_strcmp0 (first->size, second->size);
}

/* A size such as "4" is a number like any other in a text; "S-4" is not. */
static gboolean
tells_a_size (const char *size)
{
  for (const char *at = size; *at != '\0'; at = g_utf8_next_char (at))
    if (g_unichar_isalpha (g_utf8_get_char (at)))
      return *g_utf8_next_char (at) != '\0' || at > size;
  return FALSE;
}

static void
rename_wick (WbCraftAlias *self,
             WbWick       *wick,
             const char   *series,
             guint         index)
{
  g_autofree char *real = wb_material_dup_title (wick);
  g_autofree char *size = g_strdup (wick->size);
  /* Translators: a wick whose name is not told; a letter. */
  const char *shown = add_item (self, _("Wick"), dup_lettered (_("Wick %s"), index), real);

  keep_called (self, wick, shown);
  add_pair (self, real, shown, FALSE);
  if (tells_a_size (size))
    add_pair (self, size, shown, FALSE);
  forget_supplier (self, wick);
  set_text (wick, "series", series);
  set_text (wick, "size", shown);
}

static void
rename_wicks (WbCraftAlias *self,
              WbDataset    *data)
{
  g_autoptr (GPtrArray) sorted = g_ptr_array_new ();
  g_autofree char *before = NULL;
  const char *series = NULL;
  guint n_series = 0;

  for (guint i = 0; i < data->wicks->len; i++)
    g_ptr_array_add (sorted, g_ptr_array_index (data->wicks, i));
  g_ptr_array_sort (sorted, compare_wicks);
  for (guint i = 0; i < sorted->len; i++)
    {
      WbWick *wick = g_ptr_array_index (sorted, i);

      if (series == NULL || g_strcmp0 (before, wick->series) != 0)
        {
          g_free (before);
          before = g_strdup (wick->series);
          /* Translators: a series of wicks whose name is not told; a letter. */
          series = add_item (self, _("Series"), dup_lettered (_("Series %s"), n_series++), wick->series);
          add_pair (self, before, series, FALSE);
          add_words (self, before, series);
        }
      rename_wick (self, wick, series, i);
    }
}

/* ---- Samples, melts, lots ---- */

/* Lots are told apart by what they are called, whatever they are of. */
static const char *
rename_lot (WbCraftAlias *self,
            GHashTable   *lots,
            const char   *real)
{
  const char *shown = g_hash_table_lookup (lots, real);

  if (shown != NULL)
    return shown;
  /* a code as those of melts and samples, not words: sentences say "lot" before it */
  shown = add_item (self, _("Lot"), g_strdup_printf ("L-%u", g_hash_table_size (lots) + 1), real);
  g_hash_table_insert (lots, g_strdup (real), (gpointer) shown);
  add_pair (self, real, shown, FALSE);
  return shown;
}

static void
rename_lots_of (WbCraftAlias *self,
                GHashTable   *lots,
                gpointer      record)
{
  static const char *const fields[] = { "wax_lot", "wick_lot", "fragrance_lot", "vessel_lot", "dye_lot", "additive_lot" };

  for (guint i = 0; i < G_N_ELEMENTS (fields); i++)
    {
      const WbFieldSpec *field = wb_record_type_find_field (((const WbRecord *) record)->type, fields[i]);
      g_autofree char *real = field != NULL ? g_strdup (wb_record_get_text (record, field)) : NULL;

      if (real != NULL)
        wb_record_set_text (record, field, rename_lot (self, lots, real));
    }
}

/* A code may be made of the materials' names. */
static void
rename_code (WbCraftAlias *self,
             gpointer      record,
             const char   *kind,
             char         *shown)
{
  const WbFieldSpec *field = wb_record_type_find_field (((const WbRecord *) record)->type, "code");
  g_autofree char *real = g_strdup (wb_record_get_text (record, field));

  add_item (self, kind, shown, real);
  add_pair (self, real, shown, FALSE);
  wb_record_set_text (record, field, shown);
}

static void
rename_poured (WbCraftAlias *self,
               WbDataset    *data,
               GHashTable   *lots)
{
  for (guint i = 0; i < data->batches->len; i++)
    rename_code (self, g_ptr_array_index (data->batches, i), _("Melt"), g_strdup_printf ("M-%u", i + 1));
  for (guint i = 0; i < data->samples->len; i++)
    rename_code (self, g_ptr_array_index (data->samples, i), _("Sample"), g_strdup_printf ("S-%02u", i + 1));
  for (guint i = 0; i < data->batches->len; i++)
    rename_lots_of (self, lots, g_ptr_array_index (data->batches, i));
  for (guint i = 0; i < data->samples->len; i++)
    rename_lots_of (self, lots, g_ptr_array_index (data->samples, i));
}

/* ---- Texts ---- */

/* A text as it is searched. */
typedef struct
{
  char   *text;   /* NFC */
  char   *folded;
  GArray *starts; /* guint, see wb_craft_letters_dup_folded() */
} Prose;

/* Where in the text the letter is of which that byte of the folded text is the first; NULL: of none. */
static const char *
get_letter (const Prose *prose,
            gsize        folded)
{
  guint start = g_array_index (prose->starts, guint, folded);

  return start != G_MAXUINT ? prose->text + start : NULL;
}

/* The pair whose real text stands there as words of their own, and where it ends; NULL: none. */
static const Pair *
find_pair (const WbCraftAlias *self,
           const Prose        *prose,
           gsize               folded,
           gsize              *folded_end)
{
  const char *at = get_letter (prose, folded);

  if (!wb_craft_letters_is_between (prose->text, at))
    return NULL;
  for (guint i = 0; i < self->pairs->len; i++)
    {
      const Pair *pair = g_ptr_array_index (self->pairs, i);
      const char *end;

      /* there may be thousands: most are told by their first byte */
      if (*pair->folded != prose->folded[folded] || !g_str_has_prefix (prose->folded + folded, pair->folded) || (pair->exact && strncmp (at, pair->real, pair->length) != 0))
        continue;
      end = get_letter (prose, folded + strlen (pair->folded));
      if (end == NULL || !wb_craft_letters_is_between (prose->text, end))
        continue;
      *folded_end = folded + strlen (pair->folded);
      return pair;
    }
  return NULL;
}

static char *
dup_replaced (const WbCraftAlias *self,
              const Prose        *prose)
{
  GString *renamed = g_string_sized_new (strlen (prose->text));
  gsize at = 0, copied = 0; /* of `renamed`, from where on it is as it was written */

  while (prose->folded[at] != '\0')
    {
      gsize end = at + 1;
      const Pair *pair = find_pair (self, prose, at, &end);

      while (get_letter (prose, end) == NULL)
        end++;
      if (pair != NULL)
        {
          wb_craft_letters_drop_article (renamed, copied);
          g_string_append (renamed, pair->shown);
          copied = renamed->len;
        }
      else
        g_string_append_len (renamed, get_letter (prose, at), get_letter (prose, end) - get_letter (prose, at));
      at = end;
    }
  return g_string_free (renamed, FALSE);
}

char *
wb_craft_alias_dup_text (const WbCraftAlias *self,
                         const char         *text)
{
  Prose prose;
  char *renamed;

  if (text == NULL)
    return NULL;
  prose.text = wb_craft_letters_dup_composed (text);
  prose.starts = g_array_new (FALSE, FALSE, sizeof (guint));
  prose.folded = wb_craft_letters_dup_folded (prose.text, prose.starts);
  renamed = dup_replaced (self, &prose);
  g_free (prose.text);
  g_free (prose.folded);
  g_array_unref (prose.starts);
  return renamed;
}

/* All that was written of a record; its code is renamed already or is the experiment's own. */
static void
rename_texts (const WbCraftAlias *self,
              gpointer            record)
{
  const WbRecordType *type = record != NULL ? ((const WbRecord *) record)->type : NULL;

  for (guint i = 0; type != NULL && i < type->n_fields; i++)
    {
      const WbFieldSpec *field = &type->fields[i];
      g_autofree char *renamed = NULL;

      if (field->type != WB_FIELD_TEXT || !wb_record_is_known (record, field))
        continue;
      renamed = wb_craft_alias_dup_text (self, wb_record_get_text (record, field));
      if (g_strcmp0 (renamed, wb_record_get_text (record, field)) != 0)
        wb_record_set_text (record, field, renamed);
    }
}

/* Who read and rated: numbers. No text is searched for them, for who signs a decision stays, and may be one of them. */
static void
rename_raters (WbCraftAlias *self,
               WbReadings   *readings)
{
  g_autoptr (GHashTable) raters = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);

  for (guint row = 0; row < wb_readings_get_length (readings); row++)
    {
      const char *rater = wb_readings_get_text (readings, row, WB_READING_TEXT_RATER);
      const char *shown = rater != NULL && *rater != '\0' ? g_hash_table_lookup (raters, rater) : NULL;

      if (rater == NULL || *rater == '\0')
        continue;
      if (shown == NULL)
        {
          /* Translators: who rated a candle, and whose name is not told; a number. */
          shown = add_item (self, _("Rater"), g_strdup_printf (_("Rater %u"), g_hash_table_size (raters) + 1), rater);
          g_hash_table_insert (raters, g_strdup (rater), (gpointer) shown);
        }
      wb_readings_set_text (readings, row, WB_READING_TEXT_RATER, shown);
    }
}

static void
rename_readings (const WbCraftAlias *self,
                 WbReadings         *readings)
{
  for (guint row = 0; row < wb_readings_get_length (readings); row++)
    for (WbReadingText which = 0; which < WB_N_READING_TEXTS; which++)
      {
        const char *text = wb_readings_get_text (readings, row, which);
        g_autofree char *renamed = wb_craft_alias_dup_text (self, text);

        if (text != NULL && !g_str_equal (text, renamed))
          wb_readings_set_text (readings, row, which, renamed);
      }
}

static void
rename_all_texts (const WbCraftAlias *self,
                  WbDataset          *data)
{
  GPtrArray *const arrays[] = {
    data->limits, data->batches, data->batch_steps, data->samples, data->burns, data->inspections, data->decisions, data->loggers,
  };

  rename_texts (self, data->experiment);
  rename_texts (self, data->protocol);
  for (guint i = 0; i < G_N_ELEMENTS (arrays); i++)
    for (guint k = 0; k < arrays[i]->len; k++)
      rename_texts (self, g_ptr_array_index (arrays[i], k));
  rename_readings (self, data->readings);
}

/* "Harbour mist" before "Harbour"; of equals the lower rank, and there the first that was named. */
static int
compare_pairs (gconstpointer a,
               gconstpointer b)
{
  const Pair *first = *(const Pair *const *) a, *second = *(const Pair *const *) b;

  if (first->length != second->length)
    return first->length < second->length ? 1 : -1;
  return (first->rank > second->rank) - (first->rank < second->rank);
}

/* ---- What is not of this experiment ---- */

static const char *
get_another (const WbRecordType *type)
{
  if (type == &wb_vessel_type)
    return _("another vessel");
  if (type == &wb_wax_type)
    return _("another wax");
  if (type == &wb_wick_type)
    return _("another wick");
  if (type == &wb_fragrance_type)
    return _("another scent");
  if (type == &wb_dye_type)
    return _("another dye");
  if (type == &wb_lot_type)
    return _("another lot");
  return _("another additive");
}

/*
 * A version of any material: of one of the experiment's it is a name that it had before. What has a name already keeps it: of
 * equal texts the first pair counts.
 */
static void
name_another (WbCraftAlias *self,
              gpointer      material)
{
  const WbRecordType *type = ((const WbRecord *) material)->type;
  const char *called = find_called (self, material), *shown = called != NULL ? called : get_another (type);
  const WbFieldSpec *name = wb_record_type_find_field (type, "name"), *supplier = wb_record_type_find_field (type, "supplier");

  if (type == &wb_wick_type)
    {
      const WbWick *wick = material;
      g_autofree char *title = wb_material_dup_title (wick);

      add_pair (self, title, shown, FALSE);
      add_pair (self, wick->series, _("another series"), FALSE);
      add_words (self, wick->series, _("another series"));
      if (wick->size != NULL && tells_a_size (wick->size))
        add_pair (self, wick->size, shown, FALSE);
    }
  else if (type == &wb_lot_type)
    add_pair (self, ((const WbLot *) material)->code, shown, FALSE);
  else if (name != NULL)
    {
      add_pair (self, wb_record_get_text (material, name), shown, FALSE);
      add_words (self, wb_record_get_text (material, name), shown);
    }
  if (supplier != NULL)
    add_pair (self, wb_record_get_text (material, supplier), _("the supplier"), FALSE);
}

/* Is it of a material of the experiment? What came of it since is told by its lots. */
static gboolean
is_of_experiment (const WbCraftAlias *self,
                  const WbLot        *lot)
{
  for (guint i = 0; i < self->called->len; i++)
    if (lot->material != 0 && g_array_index (self->called, Called, i).id == lot->material)
      return TRUE;
  return FALSE;
}

/* A lot that was poured under one of its codes is that lot under all of them; one that was not poured gets a number too. */
static void
call_lots (WbCraftAlias    *self,
           GHashTable      *lots,
           const GPtrArray *others)
{
  for (guint i = 0; i < others->len; i++)
    {
      const WbRecord *record = g_ptr_array_index (others, i);
      const char *code = record->type == &wb_lot_type ? ((const WbLot *) (gconstpointer) record)->code : NULL;
      const char *shown = code != NULL ? g_hash_table_lookup (lots, code) : NULL;

      if (shown != NULL && find_called (self, record) == NULL)
        keep_called (self, record, shown);
    }
  for (guint i = 0; i < others->len; i++)
    {
      const WbRecord *record = g_ptr_array_index (others, i);
      const WbLot *lot = record->type == &wb_lot_type ? (gconstpointer) record : NULL;

      if (lot != NULL && lot->code != NULL && *lot->code != '\0' && find_called (self, record) == NULL && is_of_experiment (self, lot))
        keep_called (self, record, rename_lot (self, lots, lot->code));
    }
}

static gboolean
is_coded (const WbRecord *record)
{
  return record->type == &wb_experiment_type || record->type == &wb_sample_type;
}

/* The code of another experiment, or of a sample of one; of the experiment's own a code that it had before. */
static void
name_code (WbCraftAlias    *self,
           const WbDataset *data,
           const WbRecord  *record,
           const char      *own)
{
  gboolean sample = record->type == &wb_sample_type;
  const char *code = wb_record_get_text (record, wb_record_type_find_field (record->type, "code"));
  const char *shown = sample ? _("(code not told)") : record->id == data->experiment->record.id ? own : _("another experiment");

  for (guint i = 0; sample && i < data->samples->len; i++)
    if (wb_dataset_get_sample (data, i)->record.id == record->id)
      shown = wb_dataset_get_sample (data, i)->code;
  /* a bare number would be taken for one in every text */
  if (code != NULL && tells_a_size (code))
    add_pair (self, code, shown, TRUE);
}

static void
name_others (WbCraftAlias    *self,
             const WbDataset *data,
             GHashTable      *lots,
             const GPtrArray *others)
{
  g_autofree char *own = NULL;

  call_lots (self, lots, others);
  self->rank = RANK_OTHER;
  for (guint i = 0; i < others->len; i++)
    if (!is_coded (g_ptr_array_index (others, i)))
      name_another (self, g_ptr_array_index (others, i));
  g_ptr_array_sort (self->pairs, compare_pairs);
  own = wb_craft_alias_dup_text (self, data->experiment->code);
  self->rank = RANK_CODE;
  /* first its own, of which the code of another may be a part */
  add_pair (self, data->experiment->code, own, TRUE);
  for (guint i = 0; i < others->len; i++)
    if (is_coded (g_ptr_array_index (others, i)))
      name_code (self, data, g_ptr_array_index (others, i), own);
}

/* Letters go as the grid does. */
static void
rename_in_order (WbCraftAlias    *self,
                 const GPtrArray *of_cells,
                 const GPtrArray *all,
                 const char      *kind,
                 const char      *format)
{
  g_autoptr (GPtrArray) ordered = g_ptr_array_new ();

  for (guint i = 0; i < of_cells->len + all->len; i++)
    {
      gpointer material = i < of_cells->len ? g_ptr_array_index (of_cells, i) : g_ptr_array_index (all, i - of_cells->len);

      if (material != NULL && !g_ptr_array_find (ordered, material, NULL))
        g_ptr_array_add (ordered, material);
    }
  for (guint i = 0; i < ordered->len; i++)
    rename_named (self, g_ptr_array_index (ordered, i), kind, format, i);
}

WbCraftAlias *
wb_craft_alias_new (WbDataset       *data,
                    const GPtrArray *others)
{
  g_autoptr (GHashTable) lots = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  WbCraftAlias *self;

  g_return_val_if_fail (data != NULL, NULL);

  self = g_new0 (WbCraftAlias, 1);
  self->code = g_strdup (data->experiment->code);
  self->title = g_strdup (data->experiment->title);
  self->called = g_array_new (FALSE, FALSE, sizeof (Called));
  self->items = g_ptr_array_new_with_free_func (item_free);
  self->paired = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  self->pairs = g_ptr_array_new_with_free_func (pair_free);
  /* Translators: what stands for a name that is not told; a letter each. */
  rename_in_order (self, data->cell_vessels, data->vessels, _("Vessel"), _("Vessel %s"));
  rename_named (self, data->wax, _("Wax"), _("Wax %s"), 0);
  rename_wicks (self, data);
  rename_in_order (self, data->cell_fragrances, data->fragrances, _("Scent"), _("Scent %s"));
  rename_named (self, data->dye, _("Dye"), _("Dye %s"), 0);
  rename_named (self, data->additive, _("Additive"), _("Additive %s"), 0);
  rename_poured (self, data, lots);
  if (others != NULL)
    name_others (self, data, lots, others);
  g_ptr_array_sort (self->pairs, compare_pairs);
  rename_all_texts (self, data);
  rename_raters (self, data->readings);
  return self;
}

const char *
wb_craft_alias_get_code (const WbCraftAlias *self)
{
  return self->code;
}

const char *
wb_craft_alias_get_title (const WbCraftAlias *self)
{
  return self->title;
}

guint
wb_craft_alias_get_n (const WbCraftAlias *self)
{
  return self->items->len;
}

const WbCraftAliasItem *
wb_craft_alias_get_item (const WbCraftAlias *self,
                         guint               index)
{
  g_return_val_if_fail (index < self->items->len, NULL);

  return g_ptr_array_index (self->items, index);
}
