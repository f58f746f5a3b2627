/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-exchange-log-cell-private.h"

#include "wb-exchange-error.h"
#include "wb-exchange-log-column.h"
#include "wb-exchange-log-doubt-private.h"
#include "wb-exchange-log-value-private.h"
#include "wb-exchange-text.h"
#include "wb-text.h"

#include <glib/gi18n-lib.h>
#include <inttypes.h>
#include <math.h>
#include <string.h>

/* Pools measured up to 5 % above the inner diameter count as at the wall. */
#define WALL_ALLOWANCE 1.05

/* What one column of the file is. */
typedef struct
{
  char                      *name;
  const WbExchangeLogColumn *known;   /* NULL: an unknown column */
  guint                      extra;   /* its place in WbLogRow.extra then; G_MAXUINT: passed over */
} Binding;

/* One rule that the row at hand breaks. */
typedef struct
{
  guint cell;
  char *rule;
} Breach;

struct _WbExchangeLogCells
{
  Binding   *bindings;
  guint      n_bindings;
  char     **extra;       /* names of the unknown columns */
  guint      n_extra;
  GArray    *breaches;    /* Breach */
  WbExchangeLogDoubts doubts;
  WbExchangeLogValues values;
  int        cell_of[WB_N_COLUMNS]; /* where the file has a column of readings; -1: it has not */
};

static gboolean
is_number (const WbExchangeLogColumn *column)
{
  return column->kind == WB_EXCHANGE_LOG_REAL || column->kind == WB_EXCHANGE_LOG_INTEGER
         || column->kind == WB_EXCHANGE_LOG_READ_REAL || column->kind == WB_EXCHANGE_LOG_READ_WHOLE
         || column->kind == WB_EXCHANGE_LOG_READ_POOL;
}

static void
add_problem (GString *problems, char *problem)
{
  if (problems->len > 0)
    g_string_append (problems, "; ");
  g_string_append (problems, problem);
  g_free (problem);
}

static char *
dup_header_name (const WbExchangeCsvCell *cell)
{
  g_autofree char *clean = wb_text_dup_clean (cell->text, cell->length);

  return clean != NULL ? wb_text_dup_clean (wb_exchange_text_skip_guard (clean), -1) : NULL;
}

static void
bind_columns (WbExchangeLogCells *self, const WbExchangeCsvRecord *header, GString *problems)
{
  g_autoptr (GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);
  g_autoptr (GPtrArray) extra = g_ptr_array_new ();

  for (guint i = 0; i < header->n_cells; i++)
    {
      Binding *binding = &self->bindings[i];

      binding->name = dup_header_name (&header->cells[i]);
      if (binding->name == NULL)
        {
          add_problem (problems, g_strdup_printf (_("column %u has no name"), i + 1));
          continue;
        }
      /* It stands in the notebook, and as a heading; a cell of 200 characters is long. */
      if (g_utf8_strlen (binding->name, -1) > WB_NAME_MAXIMUM)
        add_problem (problems, g_strdup_printf (_("column %u has a name of %ld characters: at most %u are accepted"), i + 1,
                                                g_utf8_strlen (binding->name, -1), (guint) WB_NAME_MAXIMUM));
      if (!g_hash_table_add (seen, binding->name))
        add_problem (problems, g_strdup_printf (_("the column %s stands twice"), binding->name));

      int known = wb_exchange_log_column_find (binding->name);

      binding->known = known >= 0 ? wb_exchange_log_column_get (known) : NULL;
      binding->extra = extra->len;
      if (known < 0)
        g_ptr_array_add (extra, binding->name);
    }
  self->n_extra = extra->len;
  g_ptr_array_add (extra, NULL);
  self->extra = g_strdupv ((char **) extra->pdata);

  for (guint i = 0; i < WB_EXCHANGE_LOG_N_COLUMNS; i++)
    {
      const WbExchangeLogColumn *column = wb_exchange_log_column_get (i);

      if (column->required && !g_hash_table_contains (seen, column->name))
        add_problem (problems, g_strdup_printf (_("the column %s is missing"), column->name));
    }
}

static void
find_readings (WbExchangeLogCells *self)
{
  for (guint i = 0; i < WB_N_COLUMNS; i++)
    self->cell_of[i] = -1;
  for (guint i = 0; i < self->n_bindings; i++)
    if (self->bindings[i].known != NULL && self->bindings[i].known->column >= 0)
      self->cell_of[self->bindings[i].known->column] = i;
}

WbExchangeLogCells *
wb_exchange_log_cells_new (const WbExchangeCsvRecord *header,
                           GError                   **error)
{
  g_autoptr (WbExchangeLogCells) self = g_new0 (WbExchangeLogCells, 1);
  g_autoptr (GString) problems = g_string_new (NULL);

  self->n_bindings = header->n_cells;
  self->bindings = g_new0 (Binding, header->n_cells);
  self->breaches = g_array_new (FALSE, FALSE, sizeof (Breach));
  wb_exchange_log_doubts_init (&self->doubts);
  wb_exchange_log_values_init (&self->values);
  bind_columns (self, header, problems);
  find_readings (self);
  if (problems->len > 0)
    {
      g_set_error (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_HEADER, _("line %" PRIu64 ", the header: %s"),
                   header->line, problems->str);
      return NULL;
    }
  return g_steal_pointer (&self);
}

void
wb_exchange_log_cells_drop (WbExchangeLogCells *self,
                            const char         *name)
{
  g_autoptr (GPtrArray) extra = g_ptr_array_new ();

  for (guint i = 0; i < self->n_bindings; i++)
    {
      Binding *binding = &self->bindings[i];

      if (binding->known != NULL)
        continue;
      if (strcmp (binding->name, name) == 0 || binding->extra == G_MAXUINT)
        {
          binding->extra = G_MAXUINT;
          continue;
        }
      binding->extra = extra->len;
      g_ptr_array_add (extra, binding->name);
    }
  self->n_extra = extra->len;
  g_ptr_array_add (extra, NULL);
  g_strfreev (self->extra);
  self->extra = g_strdupv ((char **) extra->pdata);
}

static void
forget_breaches (WbExchangeLogCells *self)
{
  for (guint i = 0; i < self->breaches->len; i++)
    g_free (g_array_index (self->breaches, Breach, i).rule);
  g_array_set_size (self->breaches, 0);
}

void
wb_exchange_log_cells_free (WbExchangeLogCells *self)
{
  if (self == NULL)
    return;
  for (guint i = 0; i < self->n_bindings; i++)
    g_free (self->bindings[i].name);
  forget_breaches (self);
  g_array_unref (self->breaches);
  wb_exchange_log_doubts_clear (&self->doubts);
  wb_exchange_log_values_clear (&self->values);
  g_free (self->bindings);
  g_strfreev (self->extra);
  g_free (self);
}

/* `rule` is taken. */
static void
breach (WbExchangeLogCells *self, guint cell, char *rule)
{
  Breach item = { cell, rule };

  g_array_append_val (self->breaches, item);
}

static void
read_cell (WbExchangeLogCells *self, guint index, const WbExchangeCsvCell *cell, WbLogRow *row)
{
  char *rule;

  if (!wb_exchange_log_values_read (&self->values, self->bindings[index].known, cell, row, &rule))
    breach (self, index, rule);
}

/* The cells of an unknown column come back as they were, so nothing is trimmed. */
static void
read_extra (WbExchangeLogCells *self, guint index, const WbExchangeCsvCell *cell, WbLogRow *row)
{
  if (self->bindings[index].extra == G_MAXUINT)
    return;

  char **slot = &row->extra[self->bindings[index].extra];
  const char *text = wb_exchange_text_skip_guard (cell->text);

  if (*slot != NULL && strcmp (*slot, text) == 0)
    return;
  g_free (*slot);
  *slot = g_strdup (text);
  if (cell->length > WB_TEXT_MAXIMUM && g_utf8_strlen (text, -1) > WB_TEXT_MAXIMUM)
    breach (self, index, g_strdup_printf (_("%u characters long: at most %u are accepted"),
                                          (guint) g_utf8_strlen (text, -1), WB_TEXT_MAXIMUM));
}

/* Blanks in quotation marks say no more than nothing does. */
static gboolean
is_empty (const WbExchangeCsvCell *cell)
{
  return cell->length == 0 || (g_ascii_isspace (cell->text[0]) && strspn (cell->text, " \t\r\n") == cell->length);
}

static void
read_empty (WbExchangeLogCells *self, guint index, WbLogRow *row)
{
  const WbExchangeLogColumn *column = self->bindings[index].known;

  if (column->kind == WB_EXCHANGE_LOG_NAME)
    g_clear_pointer ((char **) (gpointer) ((char *) row + column->offset), g_free);
  if (column->required)
    breach (self, index, g_strdup (_("must be given")));
}

/* The three ways to tell a pool. */
static const WbColumn pool_ways[][4] = {
  { WB_COLUMN_POOL_MM, WB_COLUMN_POOL_MM, WB_COLUMN_POOL_MM, WB_COLUMN_POOL_MM },
  { WB_COLUMN_POOL_A_MM, WB_COLUMN_POOL_B_MM, WB_COLUMN_POOL_A_MM, WB_COLUMN_POOL_B_MM },
  { WB_COLUMN_RING_12_MM, WB_COLUMN_RING_3_MM, WB_COLUMN_RING_6_MM, WB_COLUMN_RING_9_MM },
};

static gboolean
is_filled (const WbExchangeLogCells *self, const WbExchangeCsvRecord *record, WbColumn column)
{
  int cell = self->cell_of[column];

  return cell >= 0 && !is_empty (&record->cells[cell]);
}

static gboolean
is_filled_way (const WbExchangeLogCells *self, const WbExchangeCsvRecord *record, const WbColumn way[4])
{
  for (guint i = 0; i < 4; i++)
    if (is_filled (self, record, way[i]))
      return TRUE;
  return FALSE;
}

static void
check_one_way (WbExchangeLogCells *self, const WbExchangeCsvRecord *record)
{
  guint ways = 0;

  for (guint i = 0; i < G_N_ELEMENTS (pool_ways); i++)
    ways += is_filled_way (self, record, pool_ways[i]);
  if (ways < 2)
    return;
  for (int column = WB_COLUMN_POOL_MM; column <= WB_COLUMN_RING_9_MM; column++)
    if (is_filled (self, record, column))
      breach (self, self->cell_of[column],
              g_strdup (_("pool_mm, pool_a_mm with pool_b_mm, and the rings exclude each other")));
}

/* A vessel whose diameter was refused still bounds its pool by the widest there is. */
static double
pool_bound (const WbLogRow *row, WbColumn column)
{
  return isnan (row->inner_diameter_mm) ? wb_column_get_spec (column)->maximum : row->inner_diameter_mm;
}

static void
warn_above_wall (const WbLogRow *row, const char *name, double value, GPtrArray *warnings)
{
  g_autofree char *given = wb_number_shortest (value), *inner = wb_number_shortest (row->inner_diameter_mm);

  g_ptr_array_add (warnings, wb_log_remark_new (row->line, name,
                                                g_strdup_printf (_("%s is above the inner diameter of %s: it counts as at the wall"),
                                                                 given, inner)));
}

static void
check_diameter (WbExchangeLogCells *self, const WbLogRow *row, WbColumn column, GPtrArray *warnings)
{
  double value = row->values[column], bound = pool_bound (row, column);
  guint cell = self->cell_of[column];

  /* The last digits of 1.05 times a decimal are no reason to refuse it. */
  if (value < 0 || value > bound * WALL_ALLOWANCE * (1 + 1e-12))
    {
      g_autofree char *text = wb_number_shortest (value);

      breach (self, cell, wb_exchange_log_dup_range_rule (text, 0, bound, /* xgettext:no-c-format */ _(", up to 5 % above that with a warning, or the word full,")));
    }
  else if (value > bound && !isnan (row->inner_diameter_mm))
    warn_above_wall (row, self->bindings[cell].name, value, warnings);
}

static void
check_ring (WbExchangeLogCells *self, const WbLogRow *row, WbColumn column)
{
  double value = row->values[column];

  if (isnan (row->inner_diameter_mm) || value <= row->inner_diameter_mm / 2)
    return;

  g_autofree char *text = wb_number_shortest (value);

  breach (self, self->cell_of[column], wb_exchange_log_dup_range_rule (text, 0, row->inner_diameter_mm / 2, ""));
}

static void
check_pool (WbExchangeLogCells *self, const WbExchangeCsvRecord *record, const WbLogRow *row, GPtrArray *warnings)
{
  check_one_way (self, record);
  for (int column = WB_COLUMN_POOL_MM; column <= WB_COLUMN_POOL_B_MM; column++)
    if (self->cell_of[column] >= 0 && !isnan (row->values[column]))
      check_diameter (self, row, column, warnings);
  for (int column = WB_COLUMN_RING_12_MM; column <= WB_COLUMN_RING_9_MM; column++)
    if (self->cell_of[column] >= 0 && !isnan (row->values[column]))
      check_ring (self, row, column);
}

/* Which of several: a count that this row does not give may stand in another. */
static void
check_wick (WbExchangeLogCells *self, const WbLogRow *row)
{
  double wick = row->values[WB_COLUMN_WICK_NUMBER];

  if (isnan (wick) || row->wick_count == WB_INTEGER_NONE || wick <= row->wick_count)
    return;

  g_autofree char *text = wb_number_shortest (wick);

  breach (self, self->cell_of[WB_COLUMN_WICK_NUMBER], wb_exchange_log_dup_range_rule (text, 1, row->wick_count, ""));
}

static int
compare_breaches (gconstpointer a, gconstpointer b)
{
  guint one = ((const Breach *) a)->cell, other = ((const Breach *) b)->cell;

  return one < other ? -1 : one > other;
}

/* One remark for the row: the first column that breaks a rule, and the others by name. */
static void
refuse (WbExchangeLogCells *self, guint64 line, GPtrArray *remarks)
{
  g_autoptr (GPtrArray) also = g_ptr_array_new ();

  /* Stable, so that the first rule found of a column is the one that is told. */
  g_array_sort (self->breaches, compare_breaches);

  Breach *first = &g_array_index (self->breaches, Breach, 0);
  WbLogRemark *remark = wb_log_remark_new (line, self->bindings[first->cell].name, g_steal_pointer (&first->rule));

  for (guint i = 1; i < self->breaches->len; i++)
    {
      guint cell = g_array_index (self->breaches, Breach, i).cell;

      if (cell != g_array_index (self->breaches, Breach, i - 1).cell)
        g_ptr_array_add (also, self->bindings[cell].name);
    }
  if (also->len > 0)
    {
      g_ptr_array_add (also, NULL);
      remark->also = g_strdupv ((char **) also->pdata);
    }
  g_ptr_array_add (remarks, remark);
  forget_breaches (self);
}

static gboolean
check_count (WbExchangeLogCells *self, const WbExchangeCsvRecord *record, GPtrArray *remarks)
{
  if (record->n_cells == self->n_bindings)
    return TRUE;

  const char *column = record->n_cells < self->n_bindings ? self->bindings[record->n_cells].name : "";

  g_ptr_array_add (remarks, wb_log_remark_new (record->line, column,
                                               g_strdup_printf (_("the row has %u cells, and the header has %u"),
                                                                record->n_cells, self->n_bindings)));
  return FALSE;
}

static void
prepare_row (const WbExchangeLogCells *self, const WbExchangeCsvRecord *record, WbLogRow *row)
{
  wb_log_row_clear_numbers (row);
  row->line = record->line;
  if (self->n_extra > 0 && row->extra == NULL)
    {
      row->extra = g_new0 (char *, self->n_extra + 1);
      for (guint i = 0; i < self->n_extra; i++)
        row->extra[i] = g_strdup ("");
    }
}

gboolean
wb_exchange_log_cells_read (WbExchangeLogCells        *self,
                            const WbExchangeCsvRecord *record,
                            WbLogRow                  *row,
                            GPtrArray                 *remarks)
{
  guint before = remarks->len;

  row->line = record->line;
  if (!check_count (self, record, remarks))
    return FALSE;
  prepare_row (self, record, row);
  for (guint i = 0; i < self->n_bindings; i++)
    {
      if (self->bindings[i].known == NULL)
        read_extra (self, i, &record->cells[i], row);
      else if (is_empty (&record->cells[i]))
        read_empty (self, i, row);
      else
        read_cell (self, i, &record->cells[i], row);
    }
  check_pool (self, record, row, remarks);
  check_wick (self, row);
  if (self->breaches->len == 0)
    {
      wb_exchange_log_doubts_add (&self->doubts, row, remarks);
      return TRUE;
    }
  /* What is said about a row that comes in does not go for one that does not. */
  g_ptr_array_set_size (remarks, before);
  refuse (self, record->line, remarks);
  return FALSE;
}

void
wb_exchange_log_cells_finish (const WbExchangeLogCells *self,
                              GPtrArray                *remarks)
{
  wb_exchange_log_doubts_finish (&self->doubts, remarks);
}

guint64
wb_exchange_log_cells_get_unnamed (const WbExchangeLogCells *self)
{
  return self->doubts.unnamed;
}

/* '.' or ',' where the text is a number with exactly one of them. */
static char
find_sign (const char *text)
{
  const char *found = strpbrk (text, ".,");
  double value;

  if (found == NULL || strpbrk (found + 1, ".,") != NULL || !wb_number_parse_strict (text, *found, &value, NULL))
    return '\0';
  return *found;
}

char
wb_exchange_log_cells_find_decimal (const WbExchangeLogCells  *self,
                                    const WbExchangeCsvRecord *record)
{
  for (guint i = 0; i < MIN (self->n_bindings, record->n_cells); i++)
    if (self->bindings[i].known != NULL && is_number (self->bindings[i].known))
      {
        char sign = find_sign (record->cells[i].text);

        if (sign != '\0')
          return sign;
      }
  return '\0';
}

void
wb_exchange_log_cells_set_decimal (WbExchangeLogCells *self,
                                   char                decimal)
{
  self->values.decimal = decimal;
}

char
wb_exchange_log_cells_get_decimal (const WbExchangeLogCells *self)
{
  return self->values.decimal;
}

const char *const *
wb_exchange_log_cells_get_extra (const WbExchangeLogCells *self)
{
  return (const char *const *) self->extra;
}

const char *
wb_exchange_log_cells_get_name (const WbExchangeLogCells *self,
                                guint                     cell)
{
  return cell < self->n_bindings ? self->bindings[cell].name : NULL;
}
