/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-shelf-private.h"

#include "wb-craft-vessel-check.h"

#include <glib/gi18n-lib.h>
#include <inttypes.h>
#include <math.h>
#include <string.h>

/* One material or part, of the notebook or of a row. */
typedef struct
{
  WbRecord       *record; /* as it would be; owned. A new one has a negative id. */
  const WbRecord *before; /* as it is; NULL: new */
  guint64         line;   /* of the row that said so; 0: none yet */
} Slot;

typedef struct
{
  WbAppShelf            *shelf;
  const WbExchangeShelf *read;
  GPtrArray             *slots;  /* Slot, in the order in which they came */
  GHashTable            *exact;  /* identity -> Slot */
  GHashTable            *folded; /* the same whatever the case; the first of several */
  GHashTable            *by_id;  /* &record->id is not stable: id -> Slot */
  gint64                 next;   /* id of the next new one */
} Match;

static void
free_slot (gpointer data)
{
  Slot *self = data;

  wb_record_free (self->record);
  g_free (self);
}

static void
free_row (gpointer data)
{
  WbAppShelfRow *self = data;

  g_free (self->title);
  g_free (self->words);
  g_free (self);
}

/* ---- Who is who ---- */

static void
add_to_key (GString           *key,
            const WbRecord    *record,
            const WbFieldSpec *field)
{
  g_autofree char *number = NULL;

  g_string_append_c (key, '\n');
  if (!wb_record_is_known (record, field))
    return;
  if (field->type == WB_FIELD_TEXT)
    g_string_append (key, wb_record_get_text (record, field));
  else if (field->type == WB_FIELD_REAL)
    g_string_append (key, number = wb_number_shortest (wb_record_get_real (record, field)));
  else
    g_string_append_printf (key, "%" G_GINT64_FORMAT, wb_record_get_integer (record, field));
}

/* What tells two parts of one owner apart. */
static const char *
get_part_field (const WbRecordType *part)
{
  const WbFieldSpec *other = wb_exchange_shelf_get_other (part);

  return other != NULL ? other->name : part == &wb_method_step_type ? "position" : "code";
}

/* As the store tells records apart; a method's steps by their position. Caller frees. */
static char *
dup_key (const WbRecord *record)
{
  const WbFieldSpec *owner = wb_exchange_shelf_get_owner (record->type);
  GString *key = g_string_new (record->type->name);

  if (owner != NULL)
    {
      add_to_key (key, record, owner);
      add_to_key (key, record, wb_record_type_find_field (record->type, get_part_field (record->type)));
    }
  else
    for (const char *const *name = wb_exchange_shelf_get_identity (record->type); *name != NULL; name++)
      add_to_key (key, record, wb_record_type_find_field (record->type, *name));
  return g_string_free (key, FALSE);
}

static Slot *
find (const Match    *self,
      const WbRecord *record)
{
  g_autofree char *key = dup_key (record);
  g_autofree char *folded = g_utf8_casefold (key, -1);
  Slot *slot = g_hash_table_lookup (self->exact, key);

  return slot != NULL ? slot : g_hash_table_lookup (self->folded, folded);
}

/* The only vessel of that name; NULL: there is none, or several. */
static Slot *
find_vessel (const Match    *self,
             const WbVessel *vessel)
{
  g_autofree char *name = g_utf8_casefold (vessel->name != NULL ? vessel->name : "", -1);
  Slot *found = NULL;

  for (guint i = 0; i < self->slots->len; i++)
    {
      Slot *slot = self->slots->pdata[i];
      const WbVessel *other = (const WbVessel *) (gpointer) slot->record;
      g_autofree char *its = NULL;

      if (slot->record->type != &wb_vessel_type)
        continue;
      its = g_utf8_casefold (other->name, -1);
      if (!g_str_equal (its, name))
        continue;
      if (found != NULL)
        return NULL;
      found = slot;
    }
  return found;
}

/* Of a kind, by what a row says of it. NULL: it is new or cannot be told. */
static Slot *
find_material (const Match    *self,
               const WbRecord *record)
{
  if (record->type == &wb_vessel_type && isnan (((const WbVessel *) (gconstpointer) record)->inner_diameter_mm))
    return find_vessel (self, (const WbVessel *) (gconstpointer) record);
  return find (self, record);
}

static gint64 *
dup_id (gint64 id)
{
  gint64 *copy = g_new (gint64, 1);

  *copy = id;
  return copy;
}

/* Takes the record. */
static Slot *
add_slot (Match          *self,
          WbRecord       *record,
          const WbRecord *before)
{
  Slot *slot = g_new0 (Slot, 1);
  g_autofree char *key = dup_key (record);
  char *folded = g_utf8_casefold (key, -1);

  slot->record = record;
  slot->before = before;
  g_ptr_array_add (self->slots, slot);
  g_hash_table_insert (self->by_id, dup_id (record->id), slot);
  g_hash_table_insert (self->exact, g_steal_pointer (&key), slot);
  if (g_hash_table_contains (self->folded, folded))
    g_free (folded);
  else
    g_hash_table_insert (self->folded, folded, slot);
  return slot;
}

static const WbRecord *
get_record (const Match *self,
            gint64       id)
{
  const Slot *slot = g_hash_table_lookup (self->by_id, &id);

  return slot != NULL ? slot->record : NULL;
}

/* ---- Words ---- */

static void
refuse (Match      *self,
        guint64     line,
        const char *column,
        char       *rule /* taken */)
{
  g_ptr_array_add (self->shelf->refused, wb_log_remark_new (line, column, rule));
}

static void
add_row (Match          *self,
         guint64         line,
         WbAppShelfState state,
         char           *title /* taken */,
         char           *words /* taken */)
{
  WbAppShelfRow *row = g_new0 (WbAppShelfRow, 1);

  row->line = line;
  row->state = state;
  row->title = title;
  row->words = words;
  self->shelf->n[state]++;
  g_ptr_array_add (self->shelf->rows, row);
}

/* "Lot: Plover, W-1" */
static char *
dup_title (const Match    *self,
           const WbRecord *record)
{
  const WbFieldSpec *owner = wb_exchange_shelf_get_owner (record->type), *what;
  g_autofree char *title = NULL, *part = NULL;

  if (owner == NULL)
    {
      title = wb_material_dup_title (record);
      return g_strdup_printf (_("%s: %s"), _(record->type->label), title);
    }
  title = wb_material_dup_title (get_record (self, wb_record_get_integer (record, owner)));
  what = wb_record_type_find_field (record->type, get_part_field (record->type));
  if (what->type == WB_FIELD_TEXT)
    part = g_strdup (wb_record_get_text (record, what));
  else if (what->type == WB_FIELD_INTEGER)
    part = g_strdup_printf ("%" G_GINT64_FORMAT, wb_record_get_integer (record, what));
  else if (wb_record_is_known (record, what))
    part = wb_material_dup_title (get_record (self, wb_record_get_integer (record, what)));
  if (part == NULL)
    return g_strdup_printf (_("%s: %s"), _(record->type->label), title);
  return g_strdup_printf (_("%s: %s, %s"), _(record->type->label), title, part);
}

static char *
dup_value (const WbRecord    *record,
           const WbFieldSpec *field)
{
  if (!wb_record_is_known (record, field))
    return g_strdup ("–");
  switch (field->type)
    {
    case WB_FIELD_REAL:
      return wb_number_shortest (wb_record_get_real (record, field));
    case WB_FIELD_TEXT:
      return g_strdup (wb_record_get_text (record, field));
    case WB_FIELD_ENUM:
      return g_strdup (_(field->words[wb_record_get_integer (record, field)].label));
    case WB_FIELD_FLAG:
      return g_strdup (wb_record_get_integer (record, field) ? _("yes") : _("no"));
    case WB_FIELD_DAY:
      return wb_day_format ((WbDay) wb_record_get_integer (record, field));
    case WB_FIELD_INTEGER:
    case WB_FIELD_REFERENCE:
    case WB_FIELD_INSTANT:
    case WB_FIELD_UUID:
    default:
      return g_strdup_printf ("%" G_GINT64_FORMAT, wb_record_get_integer (record, field));
    }
}

/* "Density 0.86 → 0.88; Melts at – → 52" */
static char *
dup_difference (const WbRecord *before,
                const WbRecord *after)
{
  GString *words = g_string_new (NULL);

  for (guint i = 0; i < after->type->n_fields; i++)
    {
      const WbFieldSpec *field = &after->type->fields[i];
      g_autofree char *old = NULL, *new = NULL;

      if (wb_record_field_equal (before, after, field))
        continue;
      old = dup_value (before, field);
      new = dup_value (after, field);
      g_string_append_printf (words, "%s%s %s → %s", words->len > 0 ? "; " : "", field->label != NULL ? _(field->label) : field->name, old, new);
    }
  return g_string_free (words, FALSE);
}

/* ---- One row ---- */

static void
copy_field (WbRecord          *into,
            const WbRecord    *from,
            const WbFieldSpec *field)
{
  if (field->type == WB_FIELD_REAL)
    wb_record_set_real (into, field, wb_record_get_real (from, field));
  else if (field->type == WB_FIELD_TEXT)
    wb_record_set_text (into, field, wb_record_get_text (from, field));
  else
    wb_record_set_integer (into, field, wb_record_get_integer (from, field));
}

/* What says who it is stays as the notebook spells it. */
static gboolean
is_identity (const WbRecordType *type,
             const WbFieldSpec  *field)
{
  if (wb_exchange_shelf_get_owner (type) != NULL)
    return g_str_equal (field->name, get_part_field (type));
  return g_strv_contains (wb_exchange_shelf_get_identity (type), field->name);
}

static void
take_cells (WbRecord                 *into,
            const WbExchangeShelfRow *row,
            gboolean                  is_new)
{
  for (guint i = 0; i < row->type->n_fields; i++)
    if ((row->given >> i & 1) != 0 && (is_new || !is_identity (row->type, &row->type->fields[i])))
      copy_field (into, row->record, &row->type->fields[i]);
}

static gboolean
check_fields (Match                    *self,
              const WbExchangeShelfRow *row,
              const WbRecord           *record)
{
  for (guint i = 0; i < row->type->n_fields; i++)
    {
      const WbFieldSpec *field = &row->type->fields[i];
      g_autoptr (GError) error = NULL;

      if (wb_record_validate_field (record, field, &error))
        continue;
      if (g_error_matches (error, WB_RECORD_ERROR, WB_RECORD_ERROR_REQUIRED))
        refuse (self, row->line, field->name, g_strdup (g_strv_contains ((const char *const *) self->read->columns, field->name)
                                                        ? _("empty: a new one needs a value here") : _("there is no such column, and a new one needs a value there")));
      else
        refuse (self, row->line, field->name, g_strdup (error->message));
      return FALSE;
    }
  return TRUE;
}

/* What the fields say together. */
static gboolean
check_sense (Match                    *self,
             const WbExchangeShelfRow *row,
             const WbRecord           *record)
{
  if (row->type == &wb_vessel_type)
    {
      g_autoptr (GPtrArray) issues = wb_craft_vessel_check ((const WbVessel *) (gconstpointer) record, FALSE);
      const WbCraftVesselIssue *worst = issues->len > 0 ? issues->pdata[0] : NULL;

      if (worst == NULL || worst->grade != WB_CRAFT_VESSEL_WRONG)
        return TRUE;
      refuse (self, row->line, worst->field, g_strdup (worst->text));
      return FALSE;
    }
  if (row->type == &wb_wick_guide_type)
    {
      const WbWickGuide *guide = (const WbWickGuide *) (gconstpointer) record;

      if (guide->from_mm <= guide->to_mm)
        return TRUE;
      refuse (self, row->line, "to_mm", g_strdup_printf (_("“%g” is less than from_mm, “%g”"), guide->to_mm, guide->from_mm));
      return FALSE;
    }
  if (row->type == &wb_fragrance_part_type)
    {
      const WbFragrancePart *part = (const WbFragrancePart *) (gconstpointer) record;
      const WbFragrance *blend = (const WbFragrance *) (gconstpointer) get_record (self, part->fragrance);

      if (part->part == part->fragrance)
        refuse (self, row->line, "part", g_strdup_printf (_("“%s” cannot be a part of itself"), blend->name));
      else if (!blend->blend)
        refuse (self, row->line, "name", g_strdup_printf (_("“%s” is not a blend: its own row says so by “blend” yes"), blend->name));
      else
        return TRUE;
      return FALSE;
    }
  return TRUE;
}

/* The row has found its record, or makes a new one. Takes `base`. */
static void
take_row (Match                    *self,
          const WbExchangeShelfRow *row,
          Slot                     *slot,
          WbRecord                 *base)
{
  if (slot != NULL && slot->line != 0)
    {
      refuse (self, row->line, "", g_strdup_printf (_("line %" PRIu64 " is about the same one"), slot->line));
      wb_record_free (base);
      return;
    }
  take_cells (base, row, slot == NULL);
  if (!check_fields (self, row, base) || !check_sense (self, row, base))
    {
      wb_record_free (base);
      return;
    }
  if (slot == NULL)
    {
      base->id = --self->next;
      slot = add_slot (self, base, NULL);
    }
  else
    {
      wb_record_free (slot->record);
      slot->record = base;
    }
  slot->line = row->line;
  if (slot->before != NULL && wb_record_equal (slot->before, slot->record))
    {
      add_row (self, row->line, WB_APP_SHELF_UNCHANGED, dup_title (self, slot->record), g_strdup (""));
      return;
    }
  g_ptr_array_add (self->shelf->records, wb_record_copy (slot->record));
  if (slot->before == NULL)
    add_row (self, row->line, WB_APP_SHELF_NEW, dup_title (self, slot->record), g_strdup (""));
  else
    add_row (self, row->line, WB_APP_SHELF_CHANGED, dup_title (self, slot->record), dup_difference (slot->before, slot->record));
}

static void
take_material (Match                    *self,
               const WbExchangeShelfRow *row)
{
  Slot *slot = find_material (self, row->record);

  take_row (self, row, slot, slot != NULL ? wb_record_copy (slot->record) : wb_record_new (row->type));
}

static char *
dup_absent (const WbRecord *owner)
{
  g_autofree char *title = wb_material_dup_title (owner);

  if (owner->type == &wb_vessel_type && isnan (((const WbVessel *) (gconstpointer) owner)->inner_diameter_mm))
    return g_strdup_printf (_("there is no vessel “%s”, or several that only inner_diameter_mm tells apart"), title);
  return g_strdup_printf (_("there is no %s “%s”, in the notebook or among the rows that come in"), owner->type->name, title);
}

static void
take_part (Match                    *self,
           const WbExchangeShelfRow *row)
{
  const WbFieldSpec *reference = wb_exchange_shelf_get_owner (row->type), *other = wb_exchange_shelf_get_other (row->type);
  const char *column = wb_exchange_shelf_get_identity (((const WbRecord *) row->owner)->type)[0];
  const Slot *owner = find_material (self, row->owner);
  g_autoptr (WbRecord) asked = NULL;
  Slot *slot;

  if (owner == NULL)
    {
      refuse (self, row->line, column, dup_absent (row->owner));
      return;
    }
  asked = wb_record_copy (row->record);
  wb_record_set_integer (asked, reference, owner->record->id);
  if (row->other != NULL)
    {
      g_autoptr (WbRecord) named = wb_record_new (other->target);

      wb_record_set_text (named, wb_record_type_find_field (other->target, "name"), row->other);
      slot = find (self, named);
      if (slot == NULL)
        {
          refuse (self, row->line, other->name, dup_absent (named));
          return;
        }
      wb_record_set_integer (asked, other, slot->record->id);
    }
  slot = find (self, asked);
  take_row (self, row, slot, slot != NULL ? wb_record_copy (slot->record) : g_steal_pointer (&asked));
}

/* ---- All of them ---- */

static void
warn_of_series (Match *self)
{
  g_autoptr (GHashTable) suppliers = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  g_autoptr (GHashTable) told = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);

  for (guint i = 0; i < self->slots->len; i++)
    {
      const Slot *slot = self->slots->pdata[i];
      const WbWick *wick = (const WbWick *) (gconstpointer) slot->record, *first;
      g_autofree char *series = NULL;

      if (slot->record->type != &wb_wick_type || wick->supplier == NULL)
        continue;
      series = g_utf8_casefold (wick->series, -1);
      first = g_hash_table_lookup (suppliers, series);
      if (first == NULL)
        g_hash_table_insert (suppliers, g_steal_pointer (&series), (gpointer) wick);
      else if (!g_str_equal (first->supplier, wick->supplier) && slot->line != 0 && g_hash_table_add (told, g_steal_pointer (&series)))
        g_ptr_array_add (self->shelf->warnings, g_strdup_printf (_("The series “%s” is from “%s” and from “%s”: two series of one name would be taken for one"),
                                                                 wick->series, first->supplier, wick->supplier));
    }
}

static void
warn_of_blends (Match *self)
{
  g_autoptr (GHashTable) sums = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_free), touched = g_hash_table_new (g_int64_hash, g_int64_equal);
  GHashTableIter iter;
  gpointer id, sum;

  for (guint i = 0; i < self->slots->len; i++)
    {
      const Slot *slot = self->slots->pdata[i];
      const WbFragrancePart *part = (const WbFragrancePart *) (gconstpointer) slot->record;
      double *so_far;

      if (slot->record->type != &wb_fragrance_part_type)
        continue;
      so_far = g_hash_table_lookup (sums, &part->fragrance);
      if (so_far == NULL)
        g_hash_table_insert (sums, dup_id (part->fragrance), so_far = g_new0 (double, 1));
      *so_far += part->share_pct;
      if (slot->line != 0)
        g_hash_table_add (touched, (gpointer) &part->fragrance);
    }
  g_hash_table_iter_init (&iter, sums);
  while (g_hash_table_iter_next (&iter, &id, &sum))
    if (g_hash_table_contains (touched, id) && fabs (*(double *) sum - 100) > 0.01)
      g_ptr_array_add (self->shelf->warnings, g_strdup_printf (_("The parts of “%s” add up to %g %%, not to 100 %%"),
                                                               ((const WbFragrance *) (gconstpointer) get_record (self, *(gint64 *) id))->name, *(double *) sum));
}

static int
compare_rows (gconstpointer a,
              gconstpointer b)
{
  const WbAppShelfRow *x = *(const WbAppShelfRow *const *) a, *y = *(const WbAppShelfRow *const *) b;

  return x->line < y->line ? -1 : x->line > y->line;
}

/* One a line, whatever the number of faults. */
static void
list_refused (Match *self)
{
  WbAppShelf *shelf = self->shelf;

  g_ptr_array_sort (shelf->refused, wb_log_remark_order);
  for (guint i = 0; i < shelf->refused->len;)
    {
      guint64 line = ((const WbLogRemark *) shelf->refused->pdata[i])->line;
      GString *words = g_string_new (NULL);

      for (; i < shelf->refused->len && ((const WbLogRemark *) shelf->refused->pdata[i])->line == line; i++)
        {
          const WbLogRemark *remark = shelf->refused->pdata[i];

          g_string_append_printf (words, "%s%s%s%s", words->len > 0 ? "; " : "", remark->column, *remark->column != '\0' ? ": " : "", remark->rule);
        }
      add_row (self, line, WB_APP_SHELF_REFUSED, g_strdup (""), g_string_free (words, FALSE));
    }
}

void
wb_app_shelf_match (WbAppShelf      *self,
                    WbExchangeShelf *read,
                    GPtrArray       *records)
{
  g_autoptr (GPtrArray) slots = g_ptr_array_new_with_free_func (free_slot);
  g_autoptr (GHashTable) exact = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  g_autoptr (GHashTable) folded = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  g_autoptr (GHashTable) by_id = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  Match match = { .shelf = self, .read = read, .slots = slots, .exact = exact, .folded = folded, .by_id = by_id };

  self->rows = g_ptr_array_new_with_free_func (free_row);
  self->records = g_ptr_array_new_with_free_func (wb_record_free);
  self->warnings = g_ptr_array_new_with_free_func (g_free);
  self->refused = g_ptr_array_ref (read->refused);
  for (guint i = 0; i < records->len; i++)
    add_slot (&match, wb_record_copy (records->pdata[i]), records->pdata[i]);
  /* What belongs to a material may stand before it in the file, but is written after it. */
  for (guint i = 0; i < read->rows->len; i++)
    if (((const WbExchangeShelfRow *) read->rows->pdata[i])->owner == NULL)
      take_material (&match, read->rows->pdata[i]);
  for (guint i = 0; i < read->rows->len; i++)
    if (((const WbExchangeShelfRow *) read->rows->pdata[i])->owner != NULL)
      take_part (&match, read->rows->pdata[i]);
  list_refused (&match);
  g_ptr_array_sort (self->rows, compare_rows);
  warn_of_series (&match);
  warn_of_blends (&match);
}
