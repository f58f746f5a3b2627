/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-store-import-statement-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#define FIELD(name, of, ...) { .column = #name, .kind = WB_IMPORT_##of, .offset = G_STRUCT_OFFSET (WbLogRow, name), __VA_ARGS__ }

static const WbImportField experiment_fields[] = {
  FIELD (wax, TEXT, .needed = TRUE),
  FIELD (dye, TEXT),
  FIELD (additive, TEXT),
};

static const WbImportField wick_fields[] = {
  FIELD (wick_step, INTEGER),
};

static const WbImportField sample_fields[] = {
  [WB_IMPORT_VESSEL] = FIELD (vessel, TEXT, .needed = TRUE),
  [WB_IMPORT_INNER_DIAMETER] = FIELD (inner_diameter_mm, REAL, .needed = TRUE),
  [WB_IMPORT_WICK_SERIES] = FIELD (wick_series, TEXT, .needed = TRUE),
  [WB_IMPORT_WICK_SIZE] = FIELD (wick_size, TEXT, .needed = TRUE),
  [WB_IMPORT_WICK_COUNT] = FIELD (wick_count, INTEGER),
  [WB_IMPORT_WICK_SPACING] = FIELD (wick_spacing_mm, REAL),
  [WB_IMPORT_FRAGRANCE] = FIELD (fragrance, TEXT),
  [WB_IMPORT_LOAD_PCT] = FIELD (load_pct, REAL, .needed = TRUE),
  [WB_IMPORT_LOAD_BASIS] = FIELD (load_basis, WORD, .words = wb_basis_words),
  [WB_IMPORT_POURED_ON] = FIELD (poured_on, DAY),
  [WB_IMPORT_CURE_DAYS] = FIELD (cure_days, REAL),
  [WB_IMPORT_WAX_LOT] = FIELD (wax_lot, TEXT),
  [WB_IMPORT_WICK_LOT] = FIELD (wick_lot, TEXT),
  [WB_IMPORT_FRAGRANCE_LOT] = FIELD (fragrance_lot, TEXT),
  [WB_IMPORT_TARE] = FIELD (tare_g, REAL),
  [WB_IMPORT_FILL] = FIELD (fill_g, REAL),
  [WB_IMPORT_WAX_HEIGHT] = FIELD (wax_height_mm, REAL),
  [WB_IMPORT_WICK_OFFSET] = FIELD (wick_offset_mm, REAL),
  [WB_IMPORT_SET_ASIDE] = FIELD (set_aside, TEXT),
};

static const WbImportField burn_fields[] = {
  FIELD (burn_kind, WORD, .words = wb_burn_kind_words),
  FIELD (lit_at, INSTANT),
  FIELD (trim_mm, REAL),
};

G_STATIC_ASSERT (G_N_ELEMENTS (sample_fields) == WB_IMPORT_MOST_FIELDS);

const WbImportField *
wb_import_level_fields (WbImportLevel level,
                        guint        *n)
{
  static const struct { const WbImportField *fields; guint n; } levels[WB_IMPORT_N_LEVELS] = {
    [WB_IMPORT_LEVEL_EXPERIMENT] = { experiment_fields, G_N_ELEMENTS (experiment_fields) },
    [WB_IMPORT_LEVEL_WICK] = { wick_fields, G_N_ELEMENTS (wick_fields) },
    [WB_IMPORT_LEVEL_SAMPLE] = { sample_fields, G_N_ELEMENTS (sample_fields) },
    [WB_IMPORT_LEVEL_BURN] = { burn_fields, G_N_ELEMENTS (burn_fields) },
  };

  *n = levels[level].n;
  return levels[level].fields;
}

#define MEMBER(T, row, field) G_STRUCT_MEMBER (T, (gpointer) (row), (field)->offset)

static WbImportStatement
text_from_row (const WbImportField *field,
               const WbLogRow      *row)
{
  WbImportStatement statement = { .line = (gint64) row->line, .text = MEMBER (char *, row, field) };

  if (field == &sample_fields[WB_IMPORT_FRAGRANCE] && statement.text == NULL && row->load_pct == 0)
    statement.text = (char *) "";
  statement.known = statement.text != NULL;
  return statement;
}

WbImportStatement
wb_import_statement_from_row (const WbImportField *field,
                              const WbLogRow      *row)
{
  WbImportStatement statement = { .line = (gint64) row->line };

  switch (field->kind)
    {
    case WB_IMPORT_TEXT:
      return text_from_row (field, row);
    case WB_IMPORT_REAL:
      statement.number = MEMBER (double, row, field);
      statement.known = !isnan (statement.number);
      break;
    case WB_IMPORT_INTEGER:
      statement.known = MEMBER (gint64, row, field) != WB_INTEGER_NONE;
      statement.number = (double) MEMBER (gint64, row, field);
      break;
    case WB_IMPORT_WORD:
      statement.known = MEMBER (int, row, field) >= 0;
      statement.number = MEMBER (int, row, field);
      break;
    case WB_IMPORT_INSTANT:
      statement.known = MEMBER (WbInstant, row, field).known;
      statement.number = (double) MEMBER (WbInstant, row, field).utc_us;
      statement.offset_s = MEMBER (WbInstant, row, field).offset_s;
      break;
    case WB_IMPORT_DAY:
      statement.known = MEMBER (WbDay, row, field) != WB_DAY_NONE;
      statement.number = MEMBER (WbDay, row, field);
      break;
    default:
      g_assert_not_reached ();
    }
  return statement;
}

/* Two clocks may show one instant: the offset in which it was seen first stands. */
gboolean
wb_import_statement_agrees (const WbImportField     *field,
                            const WbImportStatement *a,
                            const WbImportStatement *b)
{
  if (!a->known || !b->known || a->assumed)
    return TRUE;
  if (field->kind == WB_IMPORT_TEXT)
    return strcmp (a->text, b->text) == 0;
  return a->number == b->number;
}

gboolean
wb_import_statement_adds (const WbImportStatement *known,
                          const WbImportStatement *given)
{
  return given->known && (!known->known || (known->assumed && known->number != given->number));
}

char *
wb_import_statement_dup_words (const WbImportField     *field,
                               const WbImportStatement *statement)
{
  switch (field->kind)
    {
    case WB_IMPORT_TEXT:
      return *statement->text != '\0' ? g_strdup_printf ("“%s”", statement->text) : g_strdup (_("none"));
    case WB_IMPORT_WORD:
      return g_strdup (field->words[(int) statement->number].nick);
    case WB_IMPORT_INSTANT:
      return wb_instant_format ((WbInstant) { (gint64) statement->number, statement->offset_s, TRUE });
    case WB_IMPORT_DAY:
      return wb_day_format ((WbDay) statement->number);
    default:
      return wb_number_shortest (statement->number);
    }
}

void
wb_import_state_text (WbImportStatement *statement,
                      const char        *text)
{
  statement->known = text != NULL;
  statement->text = g_strdup (text);
}

void
wb_import_state_number (WbImportStatement *statement,
                        double             number)
{
  statement->known = !isnan (number);
  statement->number = number;
}

void
wb_import_state_default (WbImportStatement *statement,
                         double             number,
                         double             usual,
                         gboolean           assumed)
{
  wb_import_state_number (statement, number);
  statement->assumed = assumed && number == usual;
}

/* The length in front keeps the two apart whatever they hold. */
char *
wb_import_dup_wick_key (const char *series,
                        const char *size)
{
  return g_strdup_printf ("%" G_GSIZE_FORMAT " %s%s", strlen (series), series, size);
}

gboolean
wb_import_is_wick_key (const char *key,
                       const char *series,
                       const char *size)
{
  char *start;
  guint64 length = g_ascii_strtoull (key, &start, 10);

  return strncmp (start + 1, series, length) == 0 && series[length] == '\0' && strcmp (start + 1 + length, size) == 0;
}

void
wb_import_split_wick_key (const char  *key,
                          char       **series,
                          const char **size)
{
  char *start;
  guint64 length = g_ascii_strtoull (key, &start, 10);

  *series = g_strndup (start + 1, length);
  *size = start + 1 + length;
}
