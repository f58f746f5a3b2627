/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-exchange-json.h"

#include <json-glib/json-glib.h>
#include <math.h>
#include <string.h>

struct _WbExchangeJson
{
  JsonBuilder *builder;
};

WbExchangeJson *
wb_exchange_json_new (void)
{
  WbExchangeJson *self = g_new0 (WbExchangeJson, 1);

  self->builder = json_builder_new ();
  json_builder_begin_object (self->builder);
  return self;
}

void
wb_exchange_json_free (WbExchangeJson *self)
{
  if (self == NULL)
    return;
  g_object_unref (self->builder);
  g_free (self);
}

static void
set_name (WbExchangeJson *self, const char *name)
{
  if (name != NULL)
    json_builder_set_member_name (self->builder, name);
}

void
wb_exchange_json_begin_object (WbExchangeJson *self,
                               const char     *name)
{
  set_name (self, name);
  json_builder_begin_object (self->builder);
}

void
wb_exchange_json_end_object (WbExchangeJson *self)
{
  json_builder_end_object (self->builder);
}

void
wb_exchange_json_begin_array (WbExchangeJson *self,
                              const char     *name)
{
  set_name (self, name);
  json_builder_begin_array (self->builder);
}

void
wb_exchange_json_end_array (WbExchangeJson *self)
{
  json_builder_end_array (self->builder);
}

void
wb_exchange_json_add_null (WbExchangeJson *self,
                           const char     *name)
{
  set_name (self, name);
  json_builder_add_null_value (self->builder);
}

void
wb_exchange_json_add_text (WbExchangeJson *self,
                           const char     *name,
                           const char     *text)
{
  if (text == NULL)
    {
      wb_exchange_json_add_null (self, name);
      return;
    }
  set_name (self, name);
  json_builder_add_string_value (self->builder, text);
}

void
wb_exchange_json_add_real (WbExchangeJson *self,
                           const char     *name,
                           double          value)
{
  /* json-glib would write "nan.0", which is no JSON. */
  if (!isfinite (value))
    {
      wb_exchange_json_add_null (self, name);
      return;
    }
  set_name (self, name);
  json_builder_add_double_value (self->builder, value);
}

void
wb_exchange_json_add_integer (WbExchangeJson *self,
                              const char     *name,
                              gint64          value)
{
  if (value == WB_INTEGER_NONE)
    {
      wb_exchange_json_add_null (self, name);
      return;
    }
  set_name (self, name);
  json_builder_add_int_value (self->builder, value);
}

void
wb_exchange_json_add_flag (WbExchangeJson *self,
                           const char     *name,
                           gboolean        value)
{
  set_name (self, name);
  json_builder_add_boolean_value (self->builder, value);
}

void
wb_exchange_json_add_texts (WbExchangeJson    *self,
                            const char        *name,
                            const char *const *texts)
{
  wb_exchange_json_begin_array (self, name);
  for (guint i = 0; texts != NULL && texts[i] != NULL; i++)
    json_builder_add_string_value (self->builder, texts[i]);
  wb_exchange_json_end_array (self);
}

void
wb_exchange_json_add_interval (WbExchangeJson  *self,
                               const char      *name,
                               WbCraftInterval  interval)
{
  if (!isfinite (interval.value))
    {
      wb_exchange_json_add_null (self, name);
      return;
    }
  wb_exchange_json_begin_object (self, name);
  wb_exchange_json_add_real (self, "value", interval.value);
  wb_exchange_json_add_real (self, "low", interval.low);
  wb_exchange_json_add_real (self, "high", interval.high);
  wb_exchange_json_end_object (self);
}

/* A rating stands as its number, another enumeration as its word. */
static void
add_real_field (WbExchangeJson *self, const WbFieldSpec *field, double value)
{
  const char *word = field->words != NULL ? field->words[(guint) value].nick : NULL;

  if (word != NULL && !g_ascii_isdigit (word[0]))
    wb_exchange_json_add_text (self, field->name, word);
  else
    wb_exchange_json_add_real (self, field->name, value);
}

static void
add_dated_field (WbExchangeJson *self, gconstpointer record, const WbFieldSpec *field)
{
  g_autofree char *iso = field->type == WB_FIELD_DAY ? wb_day_format ((WbDay) wb_record_get_integer (record, field))
                                                     : wb_instant_format (wb_record_get_instant (record, field));

  wb_exchange_json_add_text (self, field->name, iso);
}

static void
add_uuid_field (WbExchangeJson *self, gconstpointer record, const WbFieldSpec *field)
{
  WbUuid uuid = wb_record_get_uuid (record, field);
  g_autofree char *text = wb_uuid_format (&uuid);

  wb_exchange_json_add_text (self, field->name, text);
}

static void
add_field (WbExchangeJson *self, gconstpointer record, const WbFieldSpec *field)
{
  switch (field->type)
    {
    case WB_FIELD_REAL:
      add_real_field (self, field, wb_record_get_real (record, field));
      break;
    case WB_FIELD_INTEGER:
    case WB_FIELD_REFERENCE:
      wb_exchange_json_add_integer (self, field->name, wb_record_get_integer (record, field));
      break;
    case WB_FIELD_ENUM:
      wb_exchange_json_add_text (self, field->name, field->words[wb_record_get_integer (record, field)].nick);
      break;
    case WB_FIELD_FLAG:
      wb_exchange_json_add_flag (self, field->name, wb_record_get_integer (record, field) != 0);
      break;
    case WB_FIELD_TEXT:
      wb_exchange_json_add_text (self, field->name, wb_record_get_text (record, field));
      break;
    case WB_FIELD_DAY:
    case WB_FIELD_INSTANT:
      add_dated_field (self, record, field);
      break;
    case WB_FIELD_UUID:
      add_uuid_field (self, record, field);
      break;
    default:
      g_assert_not_reached ();
    }
}

void
wb_exchange_json_add_record (WbExchangeJson *self,
                             gconstpointer   record)
{
  const WbRecord *head = record;

  wb_exchange_json_add_integer (self, "id", head->id);
  wb_exchange_json_add_integer (self, "entry", head->entry);
  if (head->deleted)
    wb_exchange_json_add_flag (self, "deleted", TRUE);
  for (guint i = 0; i < head->type->n_fields; i++)
    if (wb_record_is_known (record, &head->type->fields[i]))
      add_field (self, record, &head->type->fields[i]);
}

void
wb_exchange_json_add_cell (WbExchangeJson  *self,
                           const WbDataset *data,
                           guint            cell)
{
  const WbVessel *vessel = wb_dataset_get_vessel (data, cell);
  const WbWick *wick = wb_dataset_get_wick (data, cell);
  const WbFragrance *fragrance = wb_dataset_get_fragrance (data, cell);
  const WbCell *record = wb_dataset_get_cell (data, cell);

  wb_exchange_json_add_text (self, "vessel", vessel->name);
  wb_exchange_json_add_real (self, "inner_diameter_mm", vessel->inner_diameter_mm);
  wb_exchange_json_add_text (self, "wick_series", wick->series);
  wb_exchange_json_add_text (self, "wick_size", wick->size);
  wb_exchange_json_add_integer (self, "wick_step", wick->step);
  wb_exchange_json_add_integer (self, "wick_count", record->wick_count);
  wb_exchange_json_add_text (self, "fragrance", fragrance != NULL ? fragrance->name : NULL);
  wb_exchange_json_add_real (self, "load_pct", record->load_pct);
  wb_exchange_json_add_text (self, "load_basis", record->load_basis >= 0 ? wb_basis_words[record->load_basis].nick : NULL);
}

void
wb_exchange_json_add_mark (WbExchangeJson   *self,
                           const WbNotebook *notebook)
{
  if (notebook != NULL && notebook->invented)
    wb_exchange_json_add_flag (self, "invented_data", TRUE);
}

void
wb_exchange_json_add_learnt (WbExchangeJson       *self,
                             const WbCraftEarlier *earlier)
{
  guint n = wb_craft_earlier_get_n (earlier);

  if (n == 0)
    return;
  wb_exchange_json_begin_array (self, "spread_learnt_from");
  for (guint i = 0; i < n; i++)
    wb_exchange_json_add_text (self, NULL, wb_craft_earlier_get_code (earlier, i));
  wb_exchange_json_end_array (self);
}

/* Behind the string that begins at `p` with its quotation mark. */
static const char *
skip_string (const char *p)
{
  for (p++; *p != '"'; p++)
    if (*p == '\\')
      p++;
  return p + 1;
}

/* json-glib writes 76.2 as 76.200000000000003: the same number, in the form that nobody typed. */
static char *
shorten_numbers (const char *json)
{
  g_autoptr (GString) out = g_string_sized_new (strlen (json));
  const char *p = json;

  while (*p != '\0')
    {
      const char *from = p;

      if (*p == '"')
        p = skip_string (p);
      else if (*p == '-' || g_ascii_isdigit (*p))
        {
          p += strspn (p, "-+.eE0123456789");
          if (memchr (from, '.', p - from) != NULL || memchr (from, 'e', p - from) != NULL)
            {
              g_autofree char *number = wb_number_shortest (g_ascii_strtod (from, NULL));

              g_string_append (out, number);
              continue;
            }
        }
      else
        p++;
      g_string_append_len (out, from, p - from);
    }
  return g_string_free (g_steal_pointer (&out), FALSE);
}

char *
wb_exchange_json_to_text (WbExchangeJson *self,
                          gboolean        indented)
{
  g_autoptr (JsonGenerator) generator = json_generator_new ();
  g_autoptr (JsonNode) root = NULL;
  g_autofree char *json = NULL, *shortened = NULL;

  json_builder_end_object (self->builder);
  root = json_builder_get_root (self->builder);
  json_generator_set_root (generator, root);
  json_generator_set_pretty (generator, indented);
  json = json_generator_to_data (generator, NULL);
  shortened = shorten_numbers (json);
  return g_strconcat (shortened, "\n", NULL);
}
