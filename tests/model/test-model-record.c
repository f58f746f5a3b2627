/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-model.h"

#include "wb-dataset.h"
#include "wb-log-row.h"
#include "wb-record-types.h"
#include "wb-text.h"

#include <math.h>
#include <string.h>

/* A value that the field permits, different for each `turn`. */
static void
fill_field (gpointer           record,
            const WbFieldSpec *field,
            guint              turn)
{
  WbUuid uuid = { { 1, 2, 3, (guint8) (turn + 1) } };
  g_autofree char *text = g_strdup_printf ("text %u", turn);

  switch (field->type)
    {
    case WB_FIELD_REAL:
      wb_record_set_real (record, field, field->integer ? field->minimum + turn % 2
                                                        : field->minimum + (field->maximum - field->minimum) * (turn + 1) / 4);
      break;
    case WB_FIELD_INTEGER:
      wb_record_set_integer (record, field, (gint64) field->minimum + turn);
      break;
    case WB_FIELD_REFERENCE:
      wb_record_set_integer (record, field, 7 + turn);
      break;
    case WB_FIELD_ENUM:
      wb_record_set_integer (record, field, turn % 2);
      break;
    case WB_FIELD_FLAG:
      wb_record_set_integer (record, field, turn % 2);
      break;
    case WB_FIELD_DAY:
      wb_record_set_integer (record, field, 20000 + turn);
      break;
    case WB_FIELD_TEXT:
      wb_record_set_text (record, field, text);
      break;
    case WB_FIELD_INSTANT:
      wb_record_set_instant (record, field, (WbInstant) { 1000000 * turn, 3600, TRUE });
      break;
    case WB_FIELD_UUID:
      wb_record_set_uuid (record, field, uuid);
      break;
    default:
      g_assert_not_reached ();
    }
}

static gpointer
full_record (const WbRecordType *type,
             guint               turn)
{
  gpointer record = wb_record_new (type);

  for (guint i = 0; i < type->n_fields; i++)
    fill_field (record, &type->fields[i], turn);
  return record;
}

static void
test_round_trip (gconstpointer data)
{
  const WbRecordType *type = data;
  gpointer empty = wb_record_new (type), full = full_record (type, 0), copy = wb_record_copy (full);
  g_autoptr (GError) error = NULL;

  for (guint i = 0; i < type->n_fields; i++)
    if (type->fields[i].type != WB_FIELD_FLAG)
      {
        g_assert_false (wb_record_is_known (empty, &type->fields[i]));
        g_assert_true (wb_record_is_known (full, &type->fields[i]));
      }
  g_assert_true (wb_record_equal (full, copy));
  g_assert_true (wb_record_equal (empty, empty));
  g_assert_true (wb_record_validate (full, &error));
  g_assert_no_error (error);
  wb_record_free (full);

  /* The copy stands by itself, and every single field makes a difference. */
  full = full_record (type, 0);
  for (guint i = 0; i < type->n_fields; i++)
    {
      fill_field (copy, &type->fields[i], 1);
      g_assert_false (wb_record_equal (full, copy));
      g_assert_false (wb_record_field_equal (full, copy, &type->fields[i]));
      fill_field (copy, &type->fields[i], 0);
      g_assert_true (wb_record_equal (full, copy));
    }
  wb_record_free (copy);
  wb_record_free (full);
  wb_record_free (empty);
}

/* Every member of a struct is described, none twice, none outside it. */
static void
test_fields_lie_apart (gconstpointer data)
{
  const WbRecordType *type = data;
  g_autofree guint8 *used = g_malloc0 (type->size);

  for (guint i = 0; i < type->n_fields; i++)
    {
      const WbFieldSpec *field = &type->fields[i];
      static const gsize sizes[] = {
        [WB_FIELD_REAL] = sizeof (double), [WB_FIELD_INTEGER] = sizeof (gint64), [WB_FIELD_REFERENCE] = sizeof (gint64),
        [WB_FIELD_ENUM] = sizeof (int), [WB_FIELD_FLAG] = sizeof (gboolean), [WB_FIELD_TEXT] = sizeof (char *),
        [WB_FIELD_INSTANT] = sizeof (WbInstant), [WB_FIELD_DAY] = sizeof (WbDay), [WB_FIELD_UUID] = sizeof (WbUuid),
      };

      g_assert_cmpuint (field->offset, >=, sizeof (WbRecord));
      g_assert_cmpuint (field->offset + sizes[field->type], <=, type->size);
      for (gsize at = field->offset; at < field->offset + sizes[field->type]; at++)
        g_assert_cmpuint (used[at]++, ==, 0);
      g_assert_true (wb_record_type_find_field (type, field->name) == field);
      if (field->type == WB_FIELD_ENUM)
        g_assert_nonnull (field->words);
      if (field->type == WB_FIELD_REAL || field->type == WB_FIELD_INTEGER)
        g_assert_cmpfloat (field->minimum, <, field->maximum);
    }

  guint bytes = 0;

  for (gsize at = sizeof (WbRecord); at < type->size; at++)
    bytes += used[at];
  /* What is left over can only be padding. */
  g_assert_cmpuint (type->size - sizeof (WbRecord) - bytes, <, 8 * (type->n_fields + 1));
}

typedef struct
{
  const char *name;
  const char *field;
  double      real;
  const char *text;
  int         code;      /* -1: permitted */
} ValidateCase;

static const ValidateCase validate_cases[] = {
  { "narrowest", "inner_diameter_mm", 20, NULL, -1 },
  { "widest", "inner_diameter_mm", 400, NULL, -1 },
  { "too narrow", "inner_diameter_mm", 19.999, NULL, WB_RECORD_ERROR_RANGE },
  { "too wide", "inner_diameter_mm", 400.001, NULL, WB_RECORD_ERROR_RANGE },
  { "infinite", "inner_diameter_mm", INFINITY, NULL, WB_RECORD_ERROR_RANGE },
  { "no diameter", "inner_diameter_mm", NAN, NULL, WB_RECORD_ERROR_REQUIRED },
  { "negative tare", "tare_g", -0.001, NULL, WB_RECORD_ERROR_RANGE },
  { "no tare", "tare_g", NAN, NULL, -1 },
  { "no name", "name", 0, "", WB_RECORD_ERROR_REQUIRED },
  { "white name", "name", 0, " \t\302\240 ", WB_RECORD_ERROR_REQUIRED },
  { "latin-1 name", "name", 0, "Vas\351", WB_RECORD_ERROR_TEXT },
  { "hebrew name", "name", 0, "\327\220\327\221\327\222", -1 },
  { "emoji name", "name", 0, "\360\237\225\257\357\270\217", -1 },
};

static void
test_validate (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (validate_cases); i++)
    {
      const ValidateCase *c = &validate_cases[i];
      WbVessel *vessel = wb_record_new (&wb_vessel_type);
      const WbFieldSpec *field = wb_record_type_find_field (&wb_vessel_type, c->field);
      g_autoptr (GError) error = NULL;

      g_test_message ("case: %s", c->name);
      vessel->name = g_strdup ("Tern");
      vessel->inner_diameter_mm = 76;
      if (c->text != NULL)
        wb_record_set_text (vessel, field, c->text);
      else
        wb_record_set_real (vessel, field, c->real);
      g_assert_cmpint (wb_record_validate (vessel, &error), ==, c->code < 0);
      if (c->code >= 0)
        {
          g_assert_error (error, WB_RECORD_ERROR, c->code);
          g_assert_nonnull (strstr (error->message, c->field));
          g_assert_nonnull (strstr (error->message, "vessel"));
        }
      wb_record_free (vessel);
    }
}

/* When the search may stop: no certainty that nobody reaches, and none that a coin gives; what is refused is named with what is permitted. */
static void
test_stop_sure (void)
{
  static const struct { double pct; gboolean permitted; } cases[] = {
    { NAN, TRUE }, { 50, TRUE }, { 90, TRUE }, { 99, TRUE }, { 0, FALSE }, { 49.9, FALSE }, { 100, FALSE }, { 101, FALSE }, { -1, FALSE }, { INFINITY, FALSE },
  };
  static const struct { const char *text; gboolean read; double value; } typed[] = { { "75", TRUE, 75 }, { "75 %", TRUE, 75 }, { "x", FALSE, 0 }, { "75 mm", FALSE, 0 } };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      WbProtocol *protocol = wb_protocol_new_house ();
      g_autoptr (GError) error = NULL;

      protocol->stop_sure_pct = cases[i].pct;
      g_assert_cmpint (wb_record_validate (protocol, &error), ==, cases[i].permitted);
      if (!cases[i].permitted)
        {
          g_test_message ("%s", error->message);
          g_assert_error (error, WB_RECORD_ERROR, WB_RECORD_ERROR_RANGE);
          g_assert_nonnull (strstr (error->message, "protocol: stop_sure_pct is "));
          g_assert_nonnull (strstr (error->message, "50 to 99 is permitted"));
        }
      wb_record_free (protocol);
    }
  for (guint i = 0; i < G_N_ELEMENTS (typed); i++)
    {
      g_autoptr (GError) error = NULL;
      double value = 0;

      g_assert_cmpint (wb_quantity_parse (WB_QUANTITY_PERCENT, WB_UNIT_PERCENT, typed[i].text, &value, &error), ==, typed[i].read);
      g_assert_cmpfloat (value, ==, typed[i].value);
      g_assert_cmpint (error != NULL && *error->message != '\0', ==, !typed[i].read);
    }
}

static void
test_validate_words_and_lengths (void)
{
  WbWax *wax = wb_record_new (&wb_wax_type);
  g_autofree char *name = g_strnfill (WB_NAME_MAXIMUM, 'n'), *note = g_strnfill (WB_TEXT_MAXIMUM, 'n');
  g_autofree char *long_name = g_strnfill (WB_TEXT_MAXIMUM, 'n'), *long_note = g_strnfill (WB_TEXT_MAXIMUM + 1, 'n');
  const WbFieldSpec *name_field = wb_record_type_find_field (&wb_wax_type, "name");
  const WbFieldSpec *note_field = wb_record_type_find_field (&wb_wax_type, "note");
  g_autoptr (GError) error = NULL;

  wb_record_set_text (wax, name_field, name);
  wb_record_set_text (wax, note_field, note);
  g_assert_true (wb_record_validate (wax, NULL));
  wb_record_set_text (wax, note_field, long_note);
  g_assert_false (wb_record_validate (wax, &error));
  g_assert_error (error, WB_RECORD_ERROR, WB_RECORD_ERROR_TEXT);
  g_clear_error (&error);
  wb_record_set_text (wax, note_field, NULL);
  wb_record_set_text (wax, name_field, long_name);
  g_assert_false (wb_record_validate (wax, &error));
  g_assert_error (error, WB_RECORD_ERROR, WB_RECORD_ERROR_TEXT);
  g_assert_nonnull (strstr (error->message, "10000"));
  g_clear_error (&error);
  wb_record_set_text (wax, name_field, "Marsh soy");
  wax->kind = WB_WAX_OTHER + 1;
  g_assert_false (wb_record_validate (wax, &error));
  g_assert_error (error, WB_RECORD_ERROR, WB_RECORD_ERROR_WORD);
  wb_record_free (wax);
}

static void
test_text_is_trimmed_and_composed (void)
{
  static const struct { const char *given, *kept; } cases[] = {
    { "Tern", "Tern" },
    { "  Tern\t\r\n", "Tern" },
    { "\302\240\342\200\203Tern\343\200\200", "Tern" },   /* no-break, em and ideographic space */
    { "Cafe\314\201", "Caf\303\251" },                     /* Unicode Standard Annex 15: e + combining acute is é */
    { "\342\204\253", "\303\205" },                        /* annex 15, figure 3: the angstrom sign is Å */
    { "\341\204\200\341\205\241", "\352\260\200" },        /* annex 15: Hangul syllables compose */
    { "a\n b", "a\n b" },
    { "", NULL },
    { " ", NULL },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *clean = wb_text_dup_clean (cases[i].given, -1);

      g_test_message ("case %u", i);
      g_assert_cmpstr (clean, ==, cases[i].kept);
      g_assert_cmpint (wb_text_is_clean (cases[i].given, strlen (cases[i].given)), ==,
                       cases[i].kept != NULL && strcmp (cases[i].given, cases[i].kept) == 0);
    }
  g_assert_null (wb_text_dup_clean (NULL, -1));
}

static void
test_text_may_be_the_old_one (void)
{
  WbWax *wax = wb_record_new (&wb_wax_type);
  const WbFieldSpec *field = wb_record_type_find_field (&wb_wax_type, "name");

  wb_record_set_text (wax, field, " Marsh soy ");
  wb_record_set_text (wax, field, wax->name);
  g_assert_cmpstr (wax->name, ==, "Marsh soy");
  wb_record_free (wax);
}

static void
test_types_come_in_order (void)
{
  const WbRecordType *const *types = wb_record_types ();
  g_autoptr (GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);

  for (guint i = 0; types[i] != NULL; i++)
    {
      g_assert_true (g_hash_table_add (seen, (gpointer) types[i]->name));
      for (guint j = 0; j < types[i]->n_fields; j++)
        if (types[i]->fields[j].target != NULL)
          g_assert_true (g_hash_table_contains (seen, types[i]->fields[j].target->name));
    }
  g_assert_cmpuint (g_hash_table_size (seen), ==, 27);
}

static void
test_log_row_forgets (void)
{
  g_autoptr (WbLogRow) row = wb_log_row_new ();
  static const char *const also[] = { "pool_b_mm", NULL };
  g_autoptr (WbLogRemark) remark = wb_log_remark_new (28, "pool_a_mm", g_strdup ("rule"));

  remark->also = g_strdupv ((char **) also);
  row->sample = g_strdup ("T5-1");
  row->extra = g_strsplit ("a,b", ",", -1);
  row->values[WB_COLUMN_SOOT] = 3;
  row->burn = 4;
  wb_log_row_clear (row);
  g_assert_null (row->sample);
  g_assert_null (row->extra);
  g_assert_true (isnan (row->values[WB_COLUMN_SOOT]));
  g_assert_cmpint (row->burn, ==, WB_INTEGER_NONE);
  g_assert_cmpint (row->poured_on, ==, WB_DAY_NONE);
  g_assert_cmpint (row->load_basis, ==, -1);
}

void
test_model_add_record (void)
{
  const WbRecordType *const *types = wb_record_types ();

  for (guint i = 0; types[i] != NULL; i++)
    {
      g_autofree char *round = g_strdup_printf ("/model/record/%s-is-copied-and-compared-field-by-field", types[i]->name);
      g_autofree char *apart = g_strdup_printf ("/model/record/%s-has-each-field-in-its-own-place", types[i]->name);

      g_test_add_data_func (round, types[i], test_round_trip);
      g_test_add_data_func (apart, types[i], test_fields_lie_apart);
    }
  g_test_add_func ("/model/record/a-vessel-out-of-range-is-refused-by-field", test_validate);
  g_test_add_func ("/model/record/how-sure-is-sure-enough-has-its-bounds", test_stop_sure);
  g_test_add_func ("/model/record/words-and-lengths-are-checked", test_validate_words_and_lengths);
  g_test_add_func ("/model/record/a-record-only-points-at-types-before-it", test_types_come_in_order);
  g_test_add_func ("/model/text/is-trimmed-and-composed", test_text_is_trimmed_and_composed);
  g_test_add_func ("/model/text/may-be-set-from-itself", test_text_may_be_the_old_one);
  g_test_add_func ("/model/log-row/clearing-forgets-everything", test_log_row_forgets);
}
