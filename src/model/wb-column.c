/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-reading.h"

#include "wb-field-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* What a reading may hold: the columns, their ranges and words, and the reading as a record. */

const WbWord wb_event_words[] = {
  [WB_EVENT_SNUFFED] = { "snuffed", N_("snuffed") },
  [WB_EVENT_SELF_EXTINGUISHED] = { "self_extinguished", N_("went out by itself") },
  [WB_EVENT_RELIT] = { "relit", N_("relit") },
  [WB_EVENT_FULL_MELT_POOL] = { "full_melt_pool", N_("full melt pool first seen") },
  [WB_EVENT_SECONDARY_IGNITION] = { "secondary_ignition", N_("secondary ignition") },
  [WB_EVENT_FLAME_ON_WALL] = { "flame_on_wall", N_("flame on the vessel wall") },
  [WB_EVENT_FLAMES_MERGED] = { "flames_merged", N_("flames merged") },
  [WB_EVENT_AFTERGLOW] = { "afterglow", N_("afterglow") },
  [WB_EVENT_BLACK_SMOKE] = { "black_smoke", N_("black smoke") },
  [WB_EVENT_WICK_LEAN] = { "wick_lean", N_("wick leans") },
  [WB_EVENT_WICK_FELL] = { "wick_fell", N_("wick fell") },
  [WB_EVENT_DROWNED] = { "drowned", N_("drowned") },
  [WB_EVENT_DEBRIS] = { "debris", N_("debris in the pool") },
  [WB_EVENT_VESSEL_CRACK] = { "vessel_crack", N_("vessel cracked") },
  [WB_EVENT_TIPPED] = { "tipped", N_("toppled") },
  [WB_EVENT_SURFACE_DAMAGED] = { "surface_damaged", N_("surface beneath damaged") },
  [WB_EVENT_END_OF_LIFE] = { "end_of_life", N_("end of life") },
  { NULL, NULL }
};

const WbWord wb_flame_state_words[] = {
  [WB_FLAME_STEADY] = { "steady", N_("steady") },
  [WB_FLAME_DANCING] = { "dancing", N_("dancing") },
  [WB_FLAME_SPUTTERING] = { "sputtering", N_("sputtering") },
  [WB_FLAME_STARVING] = { "starving", N_("starving") },
  { NULL, NULL }
};

const WbWord wb_flame_datum_words[] = {
  { "pool", N_("from the pool") },
  { "arch", N_("from the arch of the flame") },
  { NULL, NULL }
};

const WbWord wb_source_words[] = {
  [WB_SOURCE_TYPED] = { "typed", N_("typed in") },
  [WB_SOURCE_FILE] = { "file", N_("from a file") },
  [WB_SOURCE_LOGGER] = { "logger", N_("from a logger") },
  { NULL, NULL }
};

const WbWord wb_smoke_words[] = {
  { "0", N_("none") },
  { "1", N_("wisps") },
  { "2", N_("steady") },
  { NULL, NULL }
};

const WbWord wb_soot_words[] = {
  { "0", N_("none") },
  { "1", N_("trace") },
  { "2", N_("light") },
  { "3", N_("moderate") },
  { "4", N_("heavy") },
  { NULL, NULL }
};

const WbWord wb_mushroom_words[] = {
  { "0", N_("none") },
  { "1", N_("small") },
  { "2", N_("large") },
  { NULL, NULL }
};

const WbWord wb_throw_words[] = {
  { "0", N_("not rated") },
  { "1", N_("none") },
  { "2", N_("faint") },
  { "3", N_("moderate") },
  { "4", N_("clear") },
  { "5", N_("strong") },
  { NULL, NULL }
};

/* Also of whether a rater knew which candle it was. */
static const WbWord yes_no_words[] = {
  { "no", N_("no") },
  { "yes", N_("yes") },
  { NULL, NULL }
};

/* The widest vessel, and 5 % above it, which counts as at the wall. */
#define POOL_MAXIMUM_MM 420.0

/* X (column, name, label, quantity, lowest, highest, whole numbers only, words) */
#define COLUMNS(X) \
  X (ROOM_C, "room_c", N_("Room"), TEMPERATURE, -10, 50, FALSE, NULL) \
  X (DRAUGHT, "draught", N_("Draught"), PLAIN, 0, 2, TRUE, wb_draught_words) \
  X (POOL_MM, "pool_mm", N_("Pool diameter"), LENGTH, 0, POOL_MAXIMUM_MM, FALSE, NULL) \
  X (POOL_A_MM, "pool_a_mm", N_("Pool, first diameter"), LENGTH, 0, POOL_MAXIMUM_MM, FALSE, NULL) \
  X (POOL_B_MM, "pool_b_mm", N_("Pool, diameter across it"), LENGTH, 0, POOL_MAXIMUM_MM, FALSE, NULL) \
  X (POOL_FULL, "pool_full", N_("Pool at the wall"), PLAIN, 0, 7, TRUE, NULL) \
  X (RING_12_MM, "ring_12_mm", N_("Ring at 12 o'clock"), LENGTH, 0, 200, FALSE, NULL) \
  X (RING_3_MM, "ring_3_mm", N_("Ring at 3 o'clock"), LENGTH, 0, 200, FALSE, NULL) \
  X (RING_6_MM, "ring_6_mm", N_("Ring at 6 o'clock"), LENGTH, 0, 200, FALSE, NULL) \
  X (RING_9_MM, "ring_9_mm", N_("Ring at 9 o'clock"), LENGTH, 0, 200, FALSE, NULL) \
  X (DEPTH_MM, "depth_mm", N_("Pool depth"), LENGTH, 0, 100, FALSE, NULL) \
  X (FLAME_MM, "flame_mm", N_("Flame height"), LENGTH, 0, 400, FALSE, NULL) \
  X (FLAME_MAX_MM, "flame_max_mm", N_("Highest flame since the last reading"), LENGTH, 0, 400, FALSE, NULL) \
  X (FLAME_DATUM, "flame_datum", N_("Flame measured"), PLAIN, 0, 1, TRUE, wb_flame_datum_words) \
  X (FLAME_STATE, "flame_state", N_("Flame behaviour"), PLAIN, 0, 3, TRUE, wb_flame_state_words) \
  X (VESSEL_C, "vessel_c", N_("Hottest outside wall"), TEMPERATURE, -10, 400, FALSE, NULL) \
  X (BASE_C, "base_c", N_("Outside base"), TEMPERATURE, -10, 400, FALSE, NULL) \
  X (SMOKE, "smoke", N_("Smoke"), PLAIN, 0, 2, TRUE, wb_smoke_words) \
  X (SOOT, "soot", N_("Soot on the vessel"), PLAIN, 0, 4, TRUE, wb_soot_words) \
  X (MUSHROOM, "mushroom", N_("Mushroom"), PLAIN, 0, 2, TRUE, wb_mushroom_words) \
  X (HANG_UP_MM, "hang_up_mm", N_("Hang-up, thickest"), LENGTH, 0, 100, FALSE, NULL) \
  X (HANG_UP_SHARE_PCT, "hang_up_share_pct", N_("Hang-up, share of the circumference"), PERCENT, 0, 100, FALSE, NULL) \
  X (THROW, "throw", N_("Hot throw"), PLAIN, 1, 5, TRUE, wb_throw_words) \
  X (ALONE, "alone", N_("No other scented candle alight"), PLAIN, 0, 1, TRUE, yes_no_words) \
  X (MASS_G, "mass_g", N_("Mass, vessel included"), MASS, 0, 20000, FALSE, NULL) \
  X (EVENT, "event", N_("What happened"), PLAIN, 0, WB_N_EVENTS - 1, TRUE, wb_event_words) \
  X (EVENT_S, "event_s", N_("For how long"), DURATION, 0, 86400, FALSE, NULL) \
  X (WICK_NUMBER, "wick_number", N_("Wick"), PLAIN, 1, 12, TRUE, NULL) \
  X (THROW_DISTANCE_M, "throw_distance_m", N_("Distance of the throw rating, metres"), PLAIN, 0, 50, FALSE, NULL) \
  X (THROW_BLIND, "throw_blind", N_("Rated blind"), PLAIN, 0, 1, TRUE, yes_no_words)

#define SPEC(column, name_, label_, of, low, high, whole, words_) \
  [WB_COLUMN_##column] = { .name = name_, .label = label_, .quantity = WB_QUANTITY_##of, .minimum = low, .maximum = high, \
                           .integer = whole, .words = words_ },

static const WbColumnSpec specs[WB_N_COLUMNS] = {
  COLUMNS (SPEC)
};

const WbColumnSpec *
wb_column_get_spec (WbColumn column)
{
  g_return_val_if_fail (column < WB_N_COLUMNS, NULL);

  return &specs[column];
}

int
wb_column_find (const char *name)
{
  for (int i = 0; i < WB_N_COLUMNS; i++)
    if (strcmp (specs[i].name, name) == 0)
      return i;
  return -1;
}

gboolean
wb_column_is_of_wick (WbColumn column)
{
  return column == WB_COLUMN_FLAME_MM || column == WB_COLUMN_FLAME_MAX_MM || column == WB_COLUMN_FLAME_STATE
         || column == WB_COLUMN_MUSHROOM;
}

#define FIELD(column, name_, label_, of, low, high, whole, words_) \
  { .name = name_, .type = WB_FIELD_REAL, .offset = G_STRUCT_OFFSET (WbReading, values) + WB_COLUMN_##column * sizeof (double), \
    .quantity = WB_QUANTITY_##of, .minimum = low, .maximum = high, .integer = whole, .words = words_, .label = label_ },

static const WbFieldSpec reading_fields[] = {
  WB_PLAIN (WbReading, uuid, UUID, .required = TRUE),
  WB_REFERENCE (WbReading, burn, &wb_burn_type, .required = TRUE),
  WB_REAL (WbReading, elapsed_min, PLAIN, 0, 2880, .required = TRUE, .label = N_("Minutes since lighting")),
  COLUMNS (FIELD)
  WB_NAME (WbReading, throw_room, .label = N_("Room of the throw rating")),
  WB_NAME (WbReading, rater, .label = N_("Rated by")),
  WB_NOTE (WbReading, note, .label = N_("Note")),
  WB_NAME (WbReading, instrument, .label = N_("Read with")),
  WB_NAME (WbReading, instrument_place, .label = N_("Read at"),
           .hint = N_("A bare shiny wall reads low by infrared: use a matt patch or a contact probe, and say so.")),
  WB_ENUM (WbReading, source, wb_source_words, .required = TRUE),
  WB_NOTE (WbReading, source_file),
  WB_INTEGER (WbReading, source_line, 1, G_MAXINT32),
  WB_FLAG (WbReading, late),
};

const WbRecordType wb_reading_type = WB_TYPE (WbReading, "reading", N_("Reading"), reading_fields);

gboolean
wb_event_ends_burn (double event)
{
  return event == WB_EVENT_SNUFFED || event == WB_EVENT_SELF_EXTINGUISHED || event == WB_EVENT_END_OF_LIFE;
}

gboolean
wb_event_is_of_wick (double event)
{
  static const WbEvent of_wick[] = {
    WB_EVENT_SNUFFED, WB_EVENT_SELF_EXTINGUISHED, WB_EVENT_RELIT, WB_EVENT_FLAME_ON_WALL, WB_EVENT_AFTERGLOW,
    WB_EVENT_BLACK_SMOKE, WB_EVENT_WICK_LEAN, WB_EVENT_WICK_FELL, WB_EVENT_DROWNED
  };

  for (guint i = 0; i < G_N_ELEMENTS (of_wick); i++)
    if (event == of_wick[i])
      return TRUE;
  return FALSE;
}
