/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-exchange-log-column.h"

#include <math.h>
#include <string.h>

#define AT(member) G_STRUCT_OFFSET (WbLogRow, member)
#define READ_AT(id) (G_STRUCT_OFFSET (WbLogRow, values) + WB_COLUMN_##id * sizeof (double))

#define NAME(member, title, needed, characters) \
  { #member, title, "", WB_EXCHANGE_LOG_NAME, AT (member), -1, needed, 1, characters, NULL, -1, 0 }
#define REAL(member, title, unit, needed, low, high) \
  { #member, title, unit, WB_EXCHANGE_LOG_REAL, AT (member), -1, needed, low, high, NULL, -1, 0 }
#define INTEGER(member, title, needed, low, high, usual) \
  { #member, title, "", WB_EXCHANGE_LOG_INTEGER, AT (member), -1, needed, low, high, NULL, usual, 0 }
#define WORD(member, title, words) { #member, title, "", WB_EXCHANGE_LOG_WORD, AT (member), -1, FALSE, 0, 0, words, 0, 0 }
#define DAY(member, title) { #member, title, "", WB_EXCHANGE_LOG_DAY, AT (member), -1, FALSE, 0, 0, NULL, -1, 0 }
#define INSTANT(member, title) { #member, title, "", WB_EXCHANGE_LOG_INSTANT, AT (member), -1, FALSE, 0, 0, NULL, -1, 0 }
/* Title, unit, range and words of what is read stand in the model, once. */
#define READ(name, kind, id, usual) \
  { name, NULL, NULL, WB_EXCHANGE_LOG_READ_##kind, READ_AT (id), WB_COLUMN_##id, FALSE, NAN, NAN, NULL, usual, 0 }
#define POOL(name, id, bit) \
  { name, NULL, NULL, WB_EXCHANGE_LOG_READ_POOL, READ_AT (id), WB_COLUMN_##id, FALSE, NAN, NAN, NULL, -1, bit }

static const WbExchangeLogColumn table[] = {
  NAME (experiment, "Experiment", TRUE, WB_NAME_MAXIMUM),
  NAME (vessel, "Vessel", TRUE, WB_NAME_MAXIMUM),
  REAL (inner_diameter_mm, "Inner diameter", "mm", TRUE, 20, 400),
  NAME (wax, "Wax", TRUE, WB_NAME_MAXIMUM),
  NAME (wick_series, "Wick series", TRUE, WB_NAME_MAXIMUM),
  NAME (wick_size, "Wick size", TRUE, WB_NAME_MAXIMUM),
  INTEGER (wick_step, "Wick step", FALSE, 1, G_MAXINT32, -1),
  INTEGER (wick_count, "Wicks", FALSE, 1, 12, 1),
  REAL (wick_spacing_mm, "Distance between wicks", "mm", FALSE, 5, 200),
  NAME (fragrance, "Fragrance", FALSE, WB_NAME_MAXIMUM),
  NAME (dye, "Dye", FALSE, WB_NAME_MAXIMUM),
  NAME (additive, "Additive", FALSE, WB_NAME_MAXIMUM),
  REAL (load_pct, "Load", "%", TRUE, 0, 30),
  WORD (load_basis, "Load is a share of", wb_basis_words),
  NAME (sample, "Sample", TRUE, WB_NAME_MAXIMUM),
  DAY (poured_on, "Poured on"),
  REAL (cure_days, "Cure", "days", FALSE, 0, 400),
  NAME (wax_lot, "Wax lot", FALSE, WB_NAME_MAXIMUM),
  NAME (wick_lot, "Wick lot", FALSE, WB_NAME_MAXIMUM),
  NAME (fragrance_lot, "Fragrance lot", FALSE, WB_NAME_MAXIMUM),
  REAL (tare_g, "Tare", "g", FALSE, 0, 20000),
  REAL (fill_g, "Fill", "g", FALSE, 0, 20000),
  REAL (wax_height_mm, "Wax height", "mm", FALSE, 5, 500),
  REAL (wick_offset_mm, "Wick off centre", "mm", FALSE, 0, 100),
  INTEGER (burn, "Burn", TRUE, 1, G_MAXINT32, -1),
  WORD (burn_kind, "Kind of burn", wb_burn_kind_words),
  INSTANT (lit_at, "Lit at, local time"),
  REAL (elapsed_min, "Since lighting", "min", TRUE, 0, 2880),
  REAL (trim_mm, "Trim", "mm", FALSE, 1, 30),
  READ ("room_c", REAL, ROOM_C, -1),
  READ ("draught", WORD, DRAUGHT, -1),
  POOL ("pool_mm", POOL_MM, 1),
  POOL ("pool_a_mm", POOL_A_MM, 2),
  POOL ("pool_b_mm", POOL_B_MM, 4),
  READ ("ring_12_mm", REAL, RING_12_MM, -1),
  READ ("ring_3_mm", REAL, RING_3_MM, -1),
  READ ("ring_6_mm", REAL, RING_6_MM, -1),
  READ ("ring_9_mm", REAL, RING_9_MM, -1),
  READ ("depth_mm", REAL, DEPTH_MM, -1),
  READ ("flame_mm", REAL, FLAME_MM, -1),
  READ ("flame_max_mm", REAL, FLAME_MAX_MM, -1),
  READ ("flame_datum", WORD, FLAME_DATUM, 0),
  READ ("flame_state", WORD, FLAME_STATE, -1),
  READ ("vessel_c", REAL, VESSEL_C, -1),
  READ ("base_c", REAL, BASE_C, -1),
  READ ("smoke", WHOLE, SMOKE, -1),
  READ ("soot", WHOLE, SOOT, -1),
  READ ("mushroom", WHOLE, MUSHROOM, -1),
  READ ("hang_up_mm", REAL, HANG_UP_MM, -1),
  READ ("hang_up_share_pct", REAL, HANG_UP_SHARE_PCT, -1),
  READ ("throw", WHOLE, THROW, -1),
  NAME (throw_room, "Room of the throw rating", FALSE, WB_NAME_MAXIMUM),
  NAME (rater, "Rated by", FALSE, WB_NAME_MAXIMUM),
  READ ("alone", WORD, ALONE, -1),
  READ ("mass_g", REAL, MASS_G, -1),
  READ ("event", WORD, EVENT, -1),
  READ ("event_s", REAL, EVENT_S, -1),
  /* Ours beside the format's own: optional, and left out by an export that has none. */
  READ ("wick_number", WHOLE, WICK_NUMBER, -1),
  READ ("throw_distance_m", REAL, THROW_DISTANCE_M, -1),
  READ ("throw_blind", WORD, THROW_BLIND, -1),
  NAME (set_aside, "Set aside", FALSE, WB_TEXT_MAXIMUM),
  NAME (note, "Note", FALSE, WB_TEXT_MAXIMUM),
};

G_STATIC_ASSERT (G_N_ELEMENTS (table) == WB_EXCHANGE_LOG_N_COLUMNS);
G_STATIC_ASSERT (WB_EXCHANGE_LOG_N_COLUMNS <= 64);

static WbExchangeLogColumn columns[WB_EXCHANGE_LOG_N_COLUMNS];

const WbExchangeLogColumn *
wb_exchange_log_column_get (guint column)
{
  static gsize filled;

  g_return_val_if_fail (column < WB_EXCHANGE_LOG_N_COLUMNS, NULL);

  if (g_once_init_enter (&filled))
    {
      memcpy (columns, table, sizeof table);
      for (guint i = 0; i < G_N_ELEMENTS (columns); i++)
        if (columns[i].column >= 0)
          {
            const WbColumnSpec *spec = wb_column_get_spec (columns[i].column);

            columns[i].title = spec->label;
            columns[i].unit = wb_unit_get_symbol (wb_quantity_get_stored_unit (spec->quantity));
            columns[i].minimum = spec->minimum;
            columns[i].maximum = spec->maximum;
            columns[i].words = spec->words;
          }
      g_once_init_leave (&filled, 1);
    }
  return &columns[column];
}

int
wb_exchange_log_column_find (const char *name)
{
  for (guint i = 0; i < WB_EXCHANGE_LOG_N_COLUMNS; i++)
    if (strcmp (table[i].name, name) == 0)
      return i;
  return -1;
}

static gboolean
pool_is_full (const WbExchangeLogColumn *column, const WbLogRow *row)
{
  double bits = row->values[WB_COLUMN_POOL_FULL];

  return !isnan (bits) && ((guint) bits & column->full_bit) != 0;
}

gboolean
wb_exchange_log_column_is_filled (guint           index,
                                  const WbLogRow *row)
{
  const WbExchangeLogColumn *column = wb_exchange_log_column_get (index);
  gconstpointer at = (const char *) row + column->offset;

  switch (column->kind)
    {
    case WB_EXCHANGE_LOG_NAME:
      return *(char *const *) at != NULL && **(char *const *) at != '\0';
    case WB_EXCHANGE_LOG_REAL:
      return !isnan (*(const double *) at);
    case WB_EXCHANGE_LOG_INTEGER:
      return *(const gint64 *) at != WB_INTEGER_NONE && *(const gint64 *) at != column->usual;
    case WB_EXCHANGE_LOG_WORD:
      return *(const int *) at >= 0 && *(const int *) at != column->usual;
    case WB_EXCHANGE_LOG_DAY:
      return *(const WbDay *) at != WB_DAY_NONE;
    case WB_EXCHANGE_LOG_INSTANT:
      return ((const WbInstant *) at)->known;
    case WB_EXCHANGE_LOG_READ_POOL:
      return pool_is_full (column, row) || !isnan (*(const double *) at);
    case WB_EXCHANGE_LOG_READ_REAL:
    case WB_EXCHANGE_LOG_READ_WORD:
    case WB_EXCHANGE_LOG_READ_WHOLE:
      return !isnan (*(const double *) at) && (column->usual < 0 || *(const double *) at != column->usual);
    default:
      g_assert_not_reached ();
    }
}

WbExchangeLogFill *
wb_exchange_log_fill_new (guint n_extra)
{
  WbExchangeLogFill *self = g_new0 (WbExchangeLogFill, 1);

  self->n_extra = n_extra;
  self->extra = g_new0 (guint64, n_extra / 64 + 1);
  for (guint i = 0; i < WB_EXCHANGE_LOG_N_COLUMNS; i++)
    if (table[i].required)
      self->columns |= G_GUINT64_CONSTANT (1) << i;
  return self;
}

void
wb_exchange_log_fill_free (WbExchangeLogFill *self)
{
  if (self == NULL)
    return;
  g_free (self->extra);
  g_free (self);
}

void
wb_exchange_log_fill_add (WbExchangeLogFill *self,
                          const WbLogRow    *row)
{
  for (guint i = 0; i < WB_EXCHANGE_LOG_N_COLUMNS; i++)
    if ((self->columns >> i & 1) == 0 && wb_exchange_log_column_is_filled (i, row))
      self->columns |= G_GUINT64_CONSTANT (1) << i;
  for (guint i = 0; row->extra != NULL && i < self->n_extra && row->extra[i] != NULL; i++)
    if (row->extra[i][0] != '\0')
      self->extra[i / 64] |= G_GUINT64_CONSTANT (1) << i % 64;
}

gboolean
wb_exchange_log_fill_has_extra (const WbExchangeLogFill *self,
                                guint                    extra)
{
  return extra < self->n_extra && (self->extra[extra / 64] >> extra % 64 & 1) != 0;
}
