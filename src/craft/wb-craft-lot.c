/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-lot.h"

const WbCraftLotPlace wb_craft_lot_places[] = {
  { &wb_wax_type, &wb_batch_type, "wax_lot" },
  { &wb_wax_type, &wb_sample_type, "wax_lot" },
  { &wb_wick_type, &wb_sample_type, "wick_lot" },
  { &wb_vessel_type, &wb_sample_type, "vessel_lot" },
  { &wb_fragrance_type, &wb_batch_type, "fragrance_lot" },
  { &wb_fragrance_type, &wb_sample_type, "fragrance_lot" },
  { &wb_dye_type, &wb_batch_type, "dye_lot" },
  { &wb_additive_type, &wb_batch_type, "additive_lot" },
  { NULL, NULL, NULL },
};

static gboolean
is_same (const char *a,
         const char *b)
{
  g_autofree char *first = g_utf8_casefold (a, -1);
  g_autofree char *second = g_utf8_casefold (b, -1);

  return strcmp (first, second) == 0;
}

static gboolean
holds (const GPtrArray *codes,
       const char      *code)
{
  for (guint i = 0; i < codes->len; i++)
    if (is_same (codes->pdata[i], code))
      return TRUE;
  return FALSE;
}

/* A plus within a word is a part of the code: "A+B". */
static gboolean
is_between (const char *text,
            const char *c)
{
  return *c == ',' || *c == ';' || (*c == '+' && (c == text || g_ascii_isspace (c[-1])) && (c[1] == '\0' || g_ascii_isspace (c[1])));
}

static void
add_code (GPtrArray *codes,
          char      *code /* taken */)
{
  if (*g_strstrip (code) != '\0' && !holds (codes, code))
    g_ptr_array_add (codes, code);
  else
    g_free (code);
}

static void
add_codes (GPtrArray  *codes,
           const char *text)
{
  const char *from = text;

  if (text == NULL)
    return;
  for (const char *c = text; *c != '\0'; c++)
    if (is_between (text, c))
      {
        add_code (codes, g_strndup (from, c - from));
        from = c + 1;
      }
  add_code (codes, g_strdup (from));
}

char **
wb_craft_lot_split (const char *text)
{
  g_autoptr (GPtrArray) codes = g_ptr_array_new ();

  add_codes (codes, text);
  g_ptr_array_add (codes, NULL);
  return (char **) g_ptr_array_free (g_steal_pointer (&codes), FALSE);
}

gboolean
wb_craft_lot_names (const char *text,
                    const char *code)
{
  g_auto (GStrv) codes = NULL;
  g_autofree char *wanted = NULL;

  g_return_val_if_fail (code != NULL, FALSE);

  codes = wb_craft_lot_split (text);
  wanted = g_strstrip (g_strdup (code));
  for (guint i = 0; codes[i] != NULL; i++)
    if (is_same (codes[i], wanted))
      return TRUE;
  return FALSE;
}

char *
wb_craft_lot_join (const char *a,
                   const char *b)
{
  g_autoptr (GPtrArray) codes = g_ptr_array_new_with_free_func (g_free);

  add_codes (codes, a);
  add_codes (codes, b);
  if (codes->len == 0)
    return NULL;
  g_ptr_array_add (codes, NULL);
  return g_strjoinv (", ", (char **) codes->pdata);
}

const WbLot *
wb_craft_lot_find (const GPtrArray *lots,
                   const gint64    *materials,
                   guint            n_materials,
                   const char      *code)
{
  g_return_val_if_fail (lots != NULL && code != NULL, NULL);

  for (guint k = 0; k < n_materials; k++)
    for (guint i = 0; i < lots->len; i++)
      {
        const WbLot *lot = g_ptr_array_index (lots, i);

        if (lot->material == materials[k] && lot->code != NULL && is_same (lot->code, code))
          return lot;
      }
  return NULL;
}

static gboolean
is_lot (const GPtrArray *lots,
        const char      *code)
{
  for (guint i = 0; i < lots->len; i++)
    {
      const WbLot *lot = g_ptr_array_index (lots, i);

      if (lot->code != NULL && is_same (lot->code, code))
        return TRUE;
    }
  return FALSE;
}

/* The text's codes that are used up; with others: those that another material alone has. NULL: none. */
static char *
dup_codes (const GPtrArray *lots,
           const gint64    *materials,
           guint            n_materials,
           const char      *text,
           gboolean         others)
{
  g_auto (GStrv) codes = wb_craft_lot_split (text);
  g_autoptr (GPtrArray) found = g_ptr_array_new ();

  for (guint i = 0; codes[i] != NULL; i++)
    {
      const WbLot *lot = wb_craft_lot_find (lots, materials, n_materials, codes[i]);

      if (!others && lot != NULL && lot->used_up)
        g_ptr_array_add (found, lot->code);
      else if (others && lot == NULL && is_lot (lots, codes[i]))
        g_ptr_array_add (found, codes[i]);
    }
  if (found->len == 0)
    return NULL;
  g_ptr_array_add (found, NULL);
  return g_strjoinv (", ", (char **) found->pdata);
}

char *
wb_craft_lot_dup_used_up (const GPtrArray *lots,
                          const gint64    *materials,
                          guint            n_materials,
                          const char      *text)
{
  return dup_codes (lots, materials, n_materials, text, FALSE);
}

char *
wb_craft_lot_dup_of_others (const GPtrArray *lots,
                            const gint64    *materials,
                            guint            n_materials,
                            const char      *text)
{
  return dup_codes (lots, materials, n_materials, text, TRUE);
}

/* Letters and digits alone, whatever their case: what is left of a code that was read off a label in a hurry. */
static char *
dup_bare (const char *code)
{
  g_autofree char *folded = g_utf8_casefold (code, -1);
  GString *bare = g_string_new (NULL);

  for (const char *c = folded; *c != '\0'; c = g_utf8_next_char (c))
    if (g_unichar_isalnum (g_utf8_get_char (c)))
      g_string_append_unichar (bare, g_utf8_get_char (c));
  return g_string_free (bare, FALSE);
}

static const WbLot *
find_near (const GPtrArray *lots,
           gint64           material,
           const char      *bare)
{
  for (guint i = 0; i < lots->len; i++)
    {
      const WbLot *lot = g_ptr_array_index (lots, i);
      g_autofree char *other = lot->material == material && lot->code != NULL ? dup_bare (lot->code) : NULL;

      if (g_strcmp0 (other, bare) == 0)
        return lot;
    }
  return NULL;
}

char *
wb_craft_lot_dup_near (const GPtrArray *lots,
                       const gint64    *materials,
                       guint            n_materials,
                       const char      *text)
{
  g_auto (GStrv) codes = NULL;
  g_autoptr (GPtrArray) found = g_ptr_array_new ();

  g_return_val_if_fail (lots != NULL, NULL);

  codes = wb_craft_lot_split (text);
  for (guint i = 0; codes[i] != NULL; i++)
    {
      g_autofree char *bare = dup_bare (codes[i]);
      const WbLot *near = NULL;

      if (*bare == '\0' || wb_craft_lot_find (lots, materials, n_materials, codes[i]) != NULL)
        continue;
      for (guint k = 0; near == NULL && k < n_materials; k++)
        near = find_near (lots, materials[k], bare);
      if (near != NULL && !holds (found, near->code))
        g_ptr_array_add (found, near->code);
    }
  if (found->len == 0)
    return NULL;
  g_ptr_array_add (found, NULL);
  return g_strjoinv (", ", (char **) found->pdata);
}

static gboolean
is_added (const GPtrArray *records,
          gint64           material,
          const char      *code)
{
  for (guint i = 0; i < records->len; i++)
    {
      const WbRecord *record = g_ptr_array_index (records, i);
      const WbLot *lot = g_ptr_array_index (records, i);

      if (record->type == &wb_lot_type && record->id <= 0 && lot->material == material && is_same (lot->code, code))
        return TRUE;
    }
  return FALSE;
}

void
wb_craft_lot_add_missing (GPtrArray       *records,
                          const GPtrArray *lots,
                          const gint64    *materials,
                          guint            n_materials,
                          const char      *text,
                          WbDay            received_on)
{
  g_auto (GStrv) codes = wb_craft_lot_split (text);

  g_return_if_fail (records != NULL);

  for (guint i = 0; n_materials > 0 && codes[i] != NULL; i++)
    if (wb_craft_lot_find (lots, materials, n_materials, codes[i]) == NULL && !is_added (records, materials[0], codes[i]))
      {
        WbLot *lot = wb_record_new (&wb_lot_type);

        lot->material = materials[0];
        lot->code = g_strdup (codes[i]);
        lot->received_on = received_on;
        g_ptr_array_add (records, lot);
      }
}

static void
add_owner (GArray          *owners,
           gint64           material,
           const GPtrArray *parts)
{
  for (guint i = 0; i < owners->len; i++)
    if (g_array_index (owners, gint64, i) == material)
      return;
  g_array_append_val (owners, material);
  for (guint i = 0; i < parts->len; i++)
    {
      const WbFragrancePart *part = g_ptr_array_index (parts, i);

      if (part->fragrance == material)
        add_owner (owners, part->part, parts);
    }
}

GArray *
wb_craft_lot_dup_owners (gint64           material,
                         const GPtrArray *parts)
{
  GArray *owners = g_array_new (FALSE, FALSE, sizeof (gint64));

  g_return_val_if_fail (parts != NULL, owners);

  add_owner (owners, material, parts);
  return owners;
}

const char *
wb_craft_lot_get_text (gconstpointer       record,
                       const WbRecordType *material)
{
  const WbRecordType *type;

  g_return_val_if_fail (record != NULL, NULL);

  type = ((const WbRecord *) record)->type;
  for (const WbCraftLotPlace *place = wb_craft_lot_places; place->material != NULL; place++)
    if (place->material == material && place->record == type)
      return wb_record_get_text (record, wb_record_type_find_field (type, place->field));
  return NULL;
}

char *
wb_craft_lot_dup_of_sample (const WbSample     *sample,
                            const WbBatch      *batch,
                            const WbRecordType *material)
{
  return wb_craft_lot_join (wb_craft_lot_get_text (sample, material), batch != NULL ? wb_craft_lot_get_text (batch, material) : NULL);
}
