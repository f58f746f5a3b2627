/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-record.h"

#include "wb-text.h"

#include <glib/gi18n-lib.h>
#include <inttypes.h>
#include <math.h>
#include <string.h>

G_DEFINE_QUARK (wb-record-error-quark, wb_record_error)

#define MEMBER(T, record, field) G_STRUCT_MEMBER (T, (gpointer) (record), (field)->offset)

static void
field_forget (gpointer           record,
              const WbFieldSpec *field)
{
  switch (field->type)
    {
    case WB_FIELD_REAL:
      MEMBER (double, record, field) = NAN;
      break;
    case WB_FIELD_INTEGER:
      MEMBER (gint64, record, field) = WB_INTEGER_NONE;
      break;
    case WB_FIELD_REFERENCE:
      MEMBER (gint64, record, field) = 0;
      break;
    case WB_FIELD_ENUM:
      MEMBER (int, record, field) = -1;
      break;
    case WB_FIELD_FLAG:
      MEMBER (gboolean, record, field) = FALSE;
      break;
    case WB_FIELD_TEXT:
      g_clear_pointer (&MEMBER (char *, record, field), g_free);
      break;
    case WB_FIELD_INSTANT:
      MEMBER (WbInstant, record, field) = WB_INSTANT_NONE;
      break;
    case WB_FIELD_DAY:
      MEMBER (WbDay, record, field) = WB_DAY_NONE;
      break;
    case WB_FIELD_UUID:
      memset (&MEMBER (WbUuid, record, field), 0, sizeof (WbUuid));
      break;
    default:
      g_assert_not_reached ();
    }
}

gpointer
wb_record_new (const WbRecordType *type)
{
  g_return_val_if_fail (type != NULL, NULL);

  WbRecord *record = g_malloc0 (type->size);

  record->type = type;
  for (guint i = 0; i < type->n_fields; i++)
    field_forget (record, &type->fields[i]);
  return record;
}

gpointer
wb_record_copy (gconstpointer record)
{
  g_return_val_if_fail (record != NULL, NULL);

  const WbRecordType *type = ((const WbRecord *) record)->type;
  gpointer copy = g_memdup2 (record, type->size);

  for (guint i = 0; i < type->n_fields; i++)
    if (type->fields[i].type == WB_FIELD_TEXT)
      MEMBER (char *, copy, &type->fields[i]) = g_strdup (MEMBER (char *, record, &type->fields[i]));
  return copy;
}

void
wb_record_free (gpointer record)
{
  if (record == NULL)
    return;

  const WbRecordType *type = ((const WbRecord *) record)->type;

  for (guint i = 0; i < type->n_fields; i++)
    if (type->fields[i].type == WB_FIELD_TEXT)
      g_free (MEMBER (char *, record, &type->fields[i]));
  g_free (record);
}

static gboolean
instants_equal (WbInstant a, WbInstant b)
{
  if (!a.known || !b.known)
    return a.known == b.known;
  return a.utc_us == b.utc_us && a.offset_s == b.offset_s;
}

gboolean
wb_record_field_equal (gconstpointer      a,
                       gconstpointer      b,
                       const WbFieldSpec *field)
{
  switch (field->type)
    {
    case WB_FIELD_REAL:
      {
        double x = MEMBER (double, a, field), y = MEMBER (double, b, field);

        return isnan (x) ? isnan (y) : x == y;
      }
    case WB_FIELD_TEXT:
      return g_strcmp0 (MEMBER (char *, a, field), MEMBER (char *, b, field)) == 0;
    case WB_FIELD_INSTANT:
      return instants_equal (MEMBER (WbInstant, a, field), MEMBER (WbInstant, b, field));
    case WB_FIELD_UUID:
      return wb_uuid_equal (&MEMBER (WbUuid, a, field), &MEMBER (WbUuid, b, field));
    default:
      return wb_record_get_integer (a, field) == wb_record_get_integer (b, field);
    }
}

gboolean
wb_record_equal (gconstpointer a,
                 gconstpointer b)
{
  g_return_val_if_fail (a != NULL && b != NULL, FALSE);

  const WbRecordType *type = ((const WbRecord *) a)->type;

  if (((const WbRecord *) b)->type != type)
    return FALSE;
  for (guint i = 0; i < type->n_fields; i++)
    if (!wb_record_field_equal (a, b, &type->fields[i]))
      return FALSE;
  return TRUE;
}

static gboolean
validate_range (const WbRecordType *type,
                const WbFieldSpec  *field,
                double              value,
                GError            **error)
{
  if (isfinite (value) && value >= field->minimum && value <= field->maximum)
    {
      if (!field->integer || value == floor (value))
        return TRUE;
      g_set_error (error, WB_RECORD_ERROR, WB_RECORD_ERROR_RANGE,
                   _("%s: %s must be a whole number"), type->name, field->name);
      return FALSE;
    }

  g_autofree char *low = wb_number_shortest (field->minimum);
  g_autofree char *high = wb_number_shortest (field->maximum);
  g_autofree char *given = isfinite (value) ? wb_number_shortest (value) : g_strdup (_("not a finite number"));

  g_set_error (error, WB_RECORD_ERROR, WB_RECORD_ERROR_RANGE,
               /* Translators: table, field, value, lowest, highest */
               _("%s: %s is %s, and %s to %s is permitted"), type->name, field->name, given, low, high);
  return FALSE;
}

static gboolean
validate_text (const WbRecordType *type,
               const WbFieldSpec  *field,
               const char         *text,
               GError            **error)
{
  if (!g_utf8_validate (text, -1, NULL))
    {
      g_set_error (error, WB_RECORD_ERROR, WB_RECORD_ERROR_TEXT, _("%s: %s is not UTF-8 text"), type->name, field->name);
      return FALSE;
    }

  glong length = g_utf8_strlen (text, -1);

  if (length <= (glong) field->maximum)
    return TRUE;
  g_set_error (error, WB_RECORD_ERROR, WB_RECORD_ERROR_TEXT,
               _("%s: %s has %ld characters, and at most %ld are permitted"), type->name, field->name, length,
               (glong) field->maximum);
  return FALSE;
}

static guint
words_length (const WbWord *words)
{
  guint n = 0;

  while (words[n].nick != NULL)
    n++;
  return n;
}

static gboolean
validate_word (const WbRecordType *type,
               const WbFieldSpec  *field,
               gint64              value,
               GError            **error)
{
  if (value >= 0 && value < words_length (field->words))
    return TRUE;
  g_set_error (error, WB_RECORD_ERROR, WB_RECORD_ERROR_WORD,
               _("%s: %s has no word number %" PRId64), type->name, field->name, value);
  return FALSE;
}

gboolean
wb_record_validate_field (gconstpointer      record,
                          const WbFieldSpec *field,
                          GError           **error)
{
  const WbRecordType *type = ((const WbRecord *) record)->type;

  if (!wb_record_is_known (record, field))
    {
      if (!field->required)
        return TRUE;
      g_set_error (error, WB_RECORD_ERROR, WB_RECORD_ERROR_REQUIRED,
                   _("%s: %s must be given"), type->name, field->name);
      return FALSE;
    }

  switch (field->type)
    {
    case WB_FIELD_REAL:
      return validate_range (type, field, MEMBER (double, record, field), error);
    case WB_FIELD_INTEGER:
      return validate_range (type, field, (double) MEMBER (gint64, record, field), error);
    case WB_FIELD_TEXT:
      return validate_text (type, field, MEMBER (char *, record, field), error);
    case WB_FIELD_ENUM:
      return validate_word (type, field, MEMBER (int, record, field), error);
    default:
      return TRUE;
    }
}

gboolean
wb_record_validate (gconstpointer record,
                    GError      **error)
{
  g_return_val_if_fail (record != NULL, FALSE);

  const WbRecordType *type = ((const WbRecord *) record)->type;

  for (guint i = 0; i < type->n_fields; i++)
    if (!wb_record_validate_field (record, &type->fields[i], error))
      return FALSE;
  return TRUE;
}

const WbFieldSpec *
wb_record_type_find_field (const WbRecordType *type,
                           const char         *name)
{
  for (guint i = 0; i < type->n_fields; i++)
    if (strcmp (type->fields[i].name, name) == 0)
      return &type->fields[i];
  return NULL;
}

gboolean
wb_record_is_known (gconstpointer      record,
                    const WbFieldSpec *field)
{
  switch (field->type)
    {
    case WB_FIELD_REAL:
      return !isnan (MEMBER (double, record, field));
    case WB_FIELD_INTEGER:
      return MEMBER (gint64, record, field) != WB_INTEGER_NONE;
    case WB_FIELD_REFERENCE:
      return MEMBER (gint64, record, field) != 0;
    case WB_FIELD_ENUM:
      return MEMBER (int, record, field) != -1;
    case WB_FIELD_FLAG:
      return TRUE;
    case WB_FIELD_TEXT:
      return MEMBER (char *, record, field) != NULL;
    case WB_FIELD_INSTANT:
      return MEMBER (WbInstant, record, field).known;
    case WB_FIELD_DAY:
      return MEMBER (WbDay, record, field) != WB_DAY_NONE;
    case WB_FIELD_UUID:
      return !wb_uuid_is_nil (&MEMBER (WbUuid, record, field));
    default:
      g_assert_not_reached ();
    }
}

double
wb_record_get_real (gconstpointer      record,
                    const WbFieldSpec *field)
{
  g_return_val_if_fail (field->type == WB_FIELD_REAL, NAN);

  return MEMBER (double, record, field);
}

gint64
wb_record_get_integer (gconstpointer      record,
                       const WbFieldSpec *field)
{
  switch (field->type)
    {
    case WB_FIELD_INTEGER:
    case WB_FIELD_REFERENCE:
      return MEMBER (gint64, record, field);
    case WB_FIELD_ENUM:
      return MEMBER (int, record, field);
    case WB_FIELD_FLAG:
      return MEMBER (gboolean, record, field);
    case WB_FIELD_DAY:
      return MEMBER (WbDay, record, field);
    default:
      g_return_val_if_reached (WB_INTEGER_NONE);
    }
}

WbInstant
wb_record_get_instant (gconstpointer      record,
                       const WbFieldSpec *field)
{
  g_return_val_if_fail (field->type == WB_FIELD_INSTANT, WB_INSTANT_NONE);

  return MEMBER (WbInstant, record, field);
}

WbUuid
wb_record_get_uuid (gconstpointer      record,
                    const WbFieldSpec *field)
{
  g_return_val_if_fail (field->type == WB_FIELD_UUID, (WbUuid) { { 0 } });

  return MEMBER (WbUuid, record, field);
}

const char *
wb_record_get_text (gconstpointer      record,
                    const WbFieldSpec *field)
{
  g_return_val_if_fail (field->type == WB_FIELD_TEXT, NULL);

  return MEMBER (char *, record, field);
}

void
wb_record_set_real (gpointer           record,
                    const WbFieldSpec *field,
                    double             value)
{
  g_return_if_fail (field->type == WB_FIELD_REAL);

  MEMBER (double, record, field) = value;
}

void
wb_record_set_integer (gpointer           record,
                       const WbFieldSpec *field,
                       gint64             value)
{
  if (value == WB_INTEGER_NONE)
    {
      field_forget (record, field);
      return;
    }

  switch (field->type)
    {
    case WB_FIELD_INTEGER:
    case WB_FIELD_REFERENCE:
      MEMBER (gint64, record, field) = value;
      break;
    case WB_FIELD_ENUM:
      MEMBER (int, record, field) = (int) CLAMP (value, -1, G_MAXINT);
      break;
    case WB_FIELD_FLAG:
      MEMBER (gboolean, record, field) = value != 0;
      break;
    case WB_FIELD_DAY:
      MEMBER (WbDay, record, field) = (WbDay) CLAMP (value, G_MININT32, G_MAXINT32);
      break;
    default:
      g_return_if_reached ();
    }
}

void
wb_record_set_instant (gpointer           record,
                       const WbFieldSpec *field,
                       WbInstant          value)
{
  g_return_if_fail (field->type == WB_FIELD_INSTANT);

  MEMBER (WbInstant, record, field) = value;
}

void
wb_record_set_uuid (gpointer           record,
                    const WbFieldSpec *field,
                    WbUuid             value)
{
  g_return_if_fail (field->type == WB_FIELD_UUID);

  MEMBER (WbUuid, record, field) = value;
}

void
wb_record_set_text (gpointer           record,
                    const WbFieldSpec *field,
                    const char        *text)
{
  g_return_if_fail (field->type == WB_FIELD_TEXT);

  /* The new one first: `text` may be the old one. */
  char *clean = wb_text_dup_clean (text, -1);

  g_free (MEMBER (char *, record, field));
  MEMBER (char *, record, field) = clean;
}

int
wb_words_find (const WbWord *words,
               const char   *nick)
{
  for (int i = 0; words[i].nick != NULL; i++)
    if (strcmp (words[i].nick, nick) == 0)
      return i;
  return -1;
}
