/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-limits.h"

#include <glib/gi18n-lib.h>
#include <inttypes.h>
#include <math.h>
#include <string.h>

#include "wb-craft-limits-private.h"
#include "wb-craft-logger.h"

/* The event that a limit watches; -1: it watches readings. */
static int
event_of (WbLimitKind kind)
{
  switch (kind)
    {
    case WB_LIMIT_SECONDARY_IGNITION: return WB_EVENT_SECONDARY_IGNITION;
    case WB_LIMIT_FLAME_ON_WALL: return WB_EVENT_FLAME_ON_WALL;
    case WB_LIMIT_FLAMES_MERGED: return WB_EVENT_FLAMES_MERGED;
    case WB_LIMIT_AFTERGLOW: return WB_EVENT_AFTERGLOW;
    case WB_LIMIT_VESSEL_CRACK: return WB_EVENT_VESSEL_CRACK;
    case WB_LIMIT_TIPPED: return WB_EVENT_TIPPED;
    case WB_LIMIT_SURFACE_DAMAGED: return WB_EVENT_SURFACE_DAMAGED;
    case WB_LIMIT_BLACK_SMOKE: return WB_EVENT_BLACK_SMOKE;
    case WB_LIMIT_FLAME:
    case WB_LIMIT_FLAME_HOUSE:
    case WB_LIMIT_VESSEL:
    case WB_LIMIT_BASE:
    case WB_N_LIMITS:
    default: return -1;
    }
}

/* A limit that is told by its duration, not by happening at all. */
static gboolean
has_duration (const WbLimit *limit)
{
  return limit->stop_at > 0;
}

gboolean
wb_craft_limit_is_measured (const WbLimit *limit)
{
  return event_of (limit->kind) < 0 || limit->kind == WB_LIMIT_AFTERGLOW;
}

double
wb_craft_limit_value (const WbLimit *limit,
                      const double   values[WB_N_COLUMNS])
{
  int event = event_of (limit->kind);
  double flame, highest;

  if (event >= 0)
    {
      double seconds = values[WB_COLUMN_EVENT_S];

      if (values[WB_COLUMN_EVENT] != event)
        return NAN;
      if (!has_duration (limit))
        return isnan (seconds) ? 0 : seconds;
      return isnan (seconds) ? INFINITY : seconds; /* nobody timed it: it cannot be shown to have been short */
    }
  switch (limit->kind)
    {
    case WB_LIMIT_VESSEL:
      return values[WB_COLUMN_VESSEL_C];
    case WB_LIMIT_BASE:
      return values[WB_COLUMN_BASE_C];
    default:
      flame = values[WB_COLUMN_FLAME_MM];
      highest = values[WB_COLUMN_FLAME_MAX_MM];
      return isnan (flame) || highest > flame ? highest : flame;
    }
}

double
wb_craft_limit_logger_value (const WbLimit      *limit,
                             const WbAttachment *logger,
                             double             *minute)
{
  double values[WB_N_COLUMNS];

  wb_craft_logger_get_values (logger, values);
  if (minute != NULL)
    *minute = limit->kind == WB_LIMIT_BASE ? logger->base_min : logger->wall_min;
  return wb_craft_limit_value (limit, values);
}

gboolean
wb_craft_limit_is_over (const WbLimit *limit,
                        double         value)
{
  if (isnan (value))
    return FALSE;
  if (event_of (limit->kind) >= 0 && !has_duration (limit))
    return TRUE; /* none at all is allowed */
  return value > limit->stop_at;
}

gboolean
wb_craft_limit_is_near (const WbLimit *limit,
                        double         value)
{
  /* NAN compares as false */
  return value >= limit->ask_at;
}

/* A thermometer that sees metal reads the room's reflection: only a matt patch or a contact probe counts. */
static gboolean
states_contact (const char *text)
{
  static const char *words[] = { "matt", "patch", "tape", "probe", "contact", "thermocouple" };
  g_autofree char *folded = text != NULL ? g_utf8_casefold (text, -1) : NULL;

  for (guint i = 0; folded != NULL && i < G_N_ELEMENTS (words); i++)
    if (strstr (folded, words[i]) != NULL)
      return TRUE;
  return FALSE;
}

gboolean
wb_craft_limit_trusts (const WbDataset *data,
                       const WbLimit   *limit,
                       guint            cell,
                       guint            row)
{
  if (limit->kind != WB_LIMIT_VESSEL && limit->kind != WB_LIMIT_BASE)
    return TRUE;
  if (wb_dataset_get_vessel (data, cell)->wall != WB_WALL_METAL)
    return TRUE;
  return states_contact (wb_readings_get_text (data->readings, row, WB_READING_TEXT_INSTRUMENT))
         || states_contact (wb_readings_get_text (data->readings, row, WB_READING_TEXT_INSTRUMENT_PLACE));
}

/* What a scan of a cell's readings under one limit gathers. */
typedef struct
{
  gboolean tested[WB_N_STAGES];
  gboolean crossed[WB_N_STAGES];
  guint    last_lower_sample;
  guint    only; /* the sample that is asked about, which counts then whatever became of it; G_MAXUINT: the cell's */
} Scan;

/* One value that a limit judges, and where it is from. */
typedef struct
{
  double   value;
  guint    sample;
  guint    burn;
  double   minute;
  gint64   id;     /* of the reading or the attachment */
  gboolean logged;
} Seen;

/* A crossing outweighs any reading that is only larger on a sample set aside. */
static void
keep_worst (WbCraftLimit *item,
            gboolean     *worst_counts,
            gboolean      counts,
            const Seen   *seen)
{
  if (!isnan (item->worst) && (*worst_counts > counts || (*worst_counts == counts && item->worst >= seen->value)))
    return;
  *worst_counts = counts;
  item->worst = seen->value;
  item->sample = seen->sample;
  item->burn = seen->burn;
  item->elapsed_min = seen->minute;
  item->reading = seen->id;
  item->logged = seen->logged;
}

/* A crossing of a sample set aside is told with its own sample and reading, however the others burnt. */
static void
keep_worst_aside (WbCraftLimit *item,
                  const Seen   *seen)
{
  if (!isnan (item->aside.worst) && item->aside.worst >= seen->value)
    return;
  item->aside.worst = seen->value;
  item->aside.sample = seen->sample;
  item->aside.burn = seen->burn;
  item->aside.elapsed_min = seen->minute;
  item->aside.reading = seen->id;
  item->aside.logged = seen->logged;
}

static gboolean
sample_counts (const WbDataset *data,
               guint            sample)
{
  const WbSample *record = wb_dataset_get_sample (data, sample);

  return record->set_aside == NULL && record->set_aside_cause < 0;
}

static gboolean
counts_in (const Scan      *scan,
           const WbDataset *data,
           guint            sample)
{
  return scan->only != G_MAXUINT ? scan->only == sample : sample_counts (data, sample);
}

static gboolean
is_asked (const Scan        *scan,
          const WbCraftBurn *burn)
{
  return scan->only == G_MAXUINT || scan->only == burn->sample;
}

/* The columns that any limit looks at; the others stay not taken. */
static void
read_values (const WbReadings *readings,
             guint             row,
             double            values[WB_N_COLUMNS])
{
  static const WbColumn columns[] = {
    WB_COLUMN_FLAME_MM, WB_COLUMN_FLAME_MAX_MM, WB_COLUMN_VESSEL_C, WB_COLUMN_BASE_C, WB_COLUMN_EVENT, WB_COLUMN_EVENT_S
  };

  for (guint i = 0; i < WB_N_COLUMNS; i++)
    values[i] = NAN;
  for (guint i = 0; i < G_N_ELEMENTS (columns); i++)
    values[columns[i]] = wb_readings_get (readings, row, columns[i]);
}

/* Mean seconds of glow or smoke after snuffing, over the burns of a sample: the published limit is an average. */
static double
mean_afterglow (const WbDataset *data,
                guint            sample)
{
  double sum = 0;
  guint n = 0;

  for (guint burn = 0; burn < data->burns->len; burn++)
    {
      guint first, rows;

      if (g_array_index (data->burn_sample, guint, burn) != sample)
        continue;
      wb_readings_get_burn_rows (data->readings, burn, &first, &rows);
      for (guint row = first; row < first + rows; row++)
        {
          double seconds = wb_readings_get (data->readings, row, WB_COLUMN_EVENT_S);

          if (wb_readings_get (data->readings, row, WB_COLUMN_EVENT) != WB_EVENT_AFTERGLOW || isnan (seconds))
            continue;
          sum += seconds;
          n++;
        }
    }
  return n > 0 ? sum / n : INFINITY;
}

/* A glow after snuffing is judged by the mean of the sample's burns. */
static gboolean
is_over_here (const WbDataset *data,
              const WbLimit   *limit,
              guint            sample,
              double           value)
{
  return wb_craft_limit_is_over (limit, value)
         && (limit->kind != WB_LIMIT_AFTERGLOW || wb_craft_limit_is_over (limit, mean_afterglow (data, sample)));
}

gboolean
wb_craft_limit_is_row_over (const WbDataset *data,
                            const WbLimit   *limit,
                            guint            burn,
                            guint            row)
{
  double values[WB_N_COLUMNS];

  read_values (data->readings, row, values);
  return is_over_here (data, limit, g_array_index (data->burn_sample, guint, burn), wb_craft_limit_value (limit, values));
}

/* A value over the limit, of whichever source. */
static void
keep_crossing (const WbDataset   *data,
               const WbCraftBurn *burn,
               const Seen        *seen,
               WbCraftLimit      *item,
               Scan              *scan)
{
  if (counts_in (scan, data, burn->sample))
    scan->crossed[burn->stage] = TRUE;
  else
    keep_worst_aside (item, seen);
}

static void
scan_row (const WbDataset   *data,
          const WbLimit     *limit,
          const WbCraftBurn *burn,
          guint              row,
          WbCraftLimit      *item,
          gboolean          *worst_counts,
          Scan              *scan)
{
  double values[WB_N_COLUMNS];
  Seen seen = { NAN, burn->sample, burn->burn, wb_readings_get_elapsed_min (data->readings, row), wb_readings_get_id (data->readings, row), FALSE };
  gboolean counts = counts_in (scan, data, burn->sample);

  read_values (data->readings, row, values);
  seen.value = wb_craft_limit_value (limit, values);
  if (is_over_here (data, limit, burn->sample, seen.value))
    keep_crossing (data, burn, &seen, item, scan);
  if (!isnan (seen.value))
    keep_worst (item, worst_counts, counts, &seen);
  /* the minute of lighting shows nothing; what is watched was watched wherever something was read */
  if (!counts || seen.minute <= 0 || (wb_craft_limit_is_measured (limit) && isnan (seen.value))
      || !wb_craft_limit_trusts (data, limit, burn->cell, row))
    return;
  scan->tested[burn->stage] = TRUE;
  if (burn->stage == WB_STAGE_LOWER && scan->last_lower_sample != burn->sample)
    {
      scan->last_lower_sample = burn->sample;
      item->samples_read++;
    }
}

/* Only what is over the limit is taken from a logger's file: within it, nobody has looked. */
static void
scan_loggers (const WbDataset      *data,
              const WbLimit        *limit,
              const WbCraftFigures *figures,
              WbCraftLimit         *item,
              gboolean             *worst_counts,
              Scan                 *scan)
{
  for (guint i = 0; i < data->loggers->len; i++)
    {
      const WbAttachment *logger = g_ptr_array_index (data->loggers, i);
      const WbCraftBurn *burn = &figures->burns[g_array_index (data->logger_burn, guint, i)];
      Seen seen = { NAN, burn->sample, burn->burn, NAN, logger->record.id, TRUE };

      seen.value = burn->cell == item->cell && is_asked (scan, burn) ? wb_craft_limit_logger_value (limit, logger, &seen.minute) : NAN;
      if (!wb_craft_limit_is_over (limit, seen.value))
        continue;
      keep_crossing (data, burn, &seen, item, scan);
      keep_worst (item, worst_counts, counts_in (scan, data, burn->sample), &seen);
    }
}

gboolean
wb_craft_limit_cannot_happen (const WbDataset *data,
                              const WbLimit   *limit,
                              guint            cell)
{
  return limit->kind == WB_LIMIT_FLAMES_MERGED && wb_dataset_get_cell (data, cell)->wick_count <= 1;
}

/*
 * Over the whole life a limit is passed only where it was tested in every stage
 * and crossed in none: the upper half does not foretell the lower.
 */
static void
conclude (WbCraftLimit  *item,
          const WbLimit *limit,
          const Scan    *scan)
{
  gboolean crossed = FALSE, tested = TRUE;

  for (guint stage = 0; stage < WB_N_STAGES; stage++)
    {
      crossed = crossed || scan->crossed[stage];
      tested = tested && scan->tested[stage];
      item->by_stage[stage] = limit->off ? WB_CRAFT_LIMIT_OFF
                              : scan->crossed[stage] ? WB_CRAFT_LIMIT_CROSSED
                              : scan->tested[stage] ? WB_CRAFT_LIMIT_PASSED : WB_CRAFT_LIMIT_NOT_TESTED;
    }
  item->state = limit->off ? WB_CRAFT_LIMIT_OFF
                : crossed ? WB_CRAFT_LIMIT_CROSSED
                : tested ? WB_CRAFT_LIMIT_PASSED : WB_CRAFT_LIMIT_NOT_TESTED;
  item->set_aside_only = !limit->off && !crossed && !isnan (item->aside.worst);
}

static void
judge (const WbDataset      *data,
       const WbCraftFigures *figures,
       guint                 cell,
       guint                 index,
       guint                 only,
       WbCraftLimit         *item)
{
  const WbLimit *limit = g_ptr_array_index (data->limits, index);
  Scan scan = { .last_lower_sample = G_MAXUINT, .only = only };
  gboolean worst_counts = FALSE;

  *item = (WbCraftLimit) {
    .cell = cell, .limit = index, .worst = NAN, .sample = G_MAXUINT, .burn = G_MAXUINT, .elapsed_min = NAN,
    .aside = { .worst = NAN, .sample = G_MAXUINT, .burn = G_MAXUINT, .elapsed_min = NAN }
  };
  for (guint i = 0; i < figures->n_burns; i++)
    {
      const WbCraftBurn *burn = &figures->burns[i];
      guint first, n;

      if (burn->cell != cell || !is_asked (&scan, burn))
        continue;
      wb_readings_get_burn_rows (data->readings, i, &first, &n);
      for (guint row = first; row < first + n; row++)
        scan_row (data, limit, burn, row, item, &worst_counts, &scan);
    }
  scan_loggers (data, limit, figures, item, &worst_counts, &scan);
  for (guint stage = 0; stage < WB_N_STAGES && wb_craft_limit_cannot_happen (data, limit, cell); stage++)
    scan.tested[stage] = TRUE;
  conclude (item, limit, &scan);
}

WbCraftLimits *
wb_craft_limits_new (const WbDataset      *data,
                     const WbCraftFigures *figures)
{
  WbCraftLimits *self = g_new0 (WbCraftLimits, 1);

  g_return_val_if_fail (data != NULL && figures != NULL, self);

  self->n_cells = data->cells->len;
  self->n_limits = data->limits->len;
  self->items = g_new0 (WbCraftLimit, (gsize) self->n_cells * self->n_limits);
  for (guint cell = 0; cell < self->n_cells; cell++)
    for (guint limit = 0; limit < self->n_limits; limit++)
      judge (data, figures, cell, limit, G_MAXUINT, &self->items[cell * self->n_limits + limit]);
  return self;
}

GArray *
wb_craft_limits_of_sample (const WbDataset      *data,
                           const WbCraftFigures *figures,
                           guint                 sample)
{
  GArray *all = g_array_new (FALSE, TRUE, sizeof (WbCraftLimit));

  g_return_val_if_fail (data != NULL && figures != NULL && sample < data->samples->len, all);

  g_array_set_size (all, data->limits->len);
  for (guint limit = 0; limit < data->limits->len; limit++)
    judge (data, figures, g_array_index (data->sample_cell, guint, sample), limit, sample, &g_array_index (all, WbCraftLimit, limit));
  return all;
}

void
wb_craft_limits_free (WbCraftLimits *self)
{
  if (self == NULL)
    return;
  g_free (self->items);
  g_free (self);
}

const WbCraftLimit *
wb_craft_limits_get (const WbCraftLimits *self,
                     guint                cell,
                     guint                limit)
{
  g_return_val_if_fail (cell < self->n_cells && limit < self->n_limits, NULL);
  return &self->items[cell * self->n_limits + limit];
}

static const struct { const char *key, *label; } states[] = {
  [WB_CRAFT_LIMIT_NOT_TESTED] = { "not_tested", N_("not tested") },
  [WB_CRAFT_LIMIT_PASSED] = { "passed", N_("passed") },
  [WB_CRAFT_LIMIT_CROSSED] = { "crossed", N_("crossed") },
  [WB_CRAFT_LIMIT_OFF] = { "off", N_("turned off") },
};

const char *
wb_craft_limit_state_get_key (WbCraftLimitState state)
{
  g_return_val_if_fail (state < G_N_ELEMENTS (states), "unknown");
  return states[state].key;
}

const char *
wb_craft_limit_state_get_label (WbCraftLimitState state)
{
  g_return_val_if_fail (state < G_N_ELEMENTS (states), "");
  return _(states[state].label);
}

gboolean
wb_craft_limit_is_of_heat (WbLimitKind kind)
{
  switch (kind)
    {
    case WB_LIMIT_FLAME:
    case WB_LIMIT_FLAME_HOUSE:
    case WB_LIMIT_VESSEL:
    case WB_LIMIT_BASE:
    case WB_LIMIT_SECONDARY_IGNITION:
    case WB_LIMIT_FLAME_ON_WALL:
    case WB_LIMIT_VESSEL_CRACK:
    case WB_LIMIT_SURFACE_DAMAGED:
    case WB_LIMIT_BLACK_SMOKE:
      return TRUE;
    case WB_LIMIT_FLAMES_MERGED:
    case WB_LIMIT_AFTERGLOW:
    case WB_LIMIT_TIPPED:
    case WB_N_LIMITS:
    default:
      return FALSE;
    }
}

const char *
wb_craft_limit_get_measure (WbLimitKind kind)
{
  return wb_limit_kind_get_label (kind == WB_LIMIT_FLAME_HOUSE ? WB_LIMIT_FLAME : kind);
}

/* "flame height 52 mm", "vessel cracked", "flame on the wall, not timed". */
static char *
what_was_seen (const WbLimit *limit,
               double         worst)
{
  const char *label = g_dgettext (GETTEXT_PACKAGE, wb_craft_limit_get_measure (limit->kind));
  g_autofree char *value = NULL;

  if (isinf (worst))
    /* Translators: a hazard such as "Flame on the wall" that nobody timed. */
    return g_strdup_printf (_("%s, not timed"), label);
  if (!has_duration (limit) && event_of (limit->kind) >= 0)
    return g_strdup (label);
  value = wb_quantity_format (wb_limit_kind_get_unit (limit->kind), worst, -1);
  /* Translators: a limit's name, then the worst reading: "Flame height 52 mm". */
  return g_strdup_printf (_("%s %s"), label, value);
}

char *
wb_craft_limit_dup_seen (const WbDataset    *data,
                         const WbCraftLimit *item)
{
  g_return_val_if_fail (data != NULL && item != NULL && !isnan (item->worst), NULL);

  return what_was_seen (g_ptr_array_index (data->limits, item->limit), item->worst);
}

WbCraftLimit
wb_craft_limit_get_set_aside (const WbCraftLimit *item)
{
  WbCraftLimit crossing = *item;

  g_return_val_if_fail (item->set_aside_only, crossing);

  crossing.worst = item->aside.worst;
  crossing.sample = item->aside.sample;
  crossing.burn = item->aside.burn;
  crossing.elapsed_min = item->aside.elapsed_min;
  crossing.reading = item->aside.reading;
  crossing.logged = item->aside.logged;
  return crossing;
}

char *
wb_craft_limit_dup_text (const WbDataset    *data,
                         const WbCraftLimit *item)
{
  const WbLimit *limit;
  g_autofree char *seen = NULL;
  g_autofree char *minute = NULL;
  g_autofree char *where = NULL;
  g_autofree char *stop = NULL;

  g_return_val_if_fail (data != NULL && item != NULL, NULL);

  limit = g_ptr_array_index (data->limits, item->limit);
  if (isnan (item->worst))
    return g_strdup_printf ("%s: %s", g_dgettext (GETTEXT_PACKAGE, wb_limit_kind_get_label (limit->kind)),
                            wb_craft_limit_state_get_label (item->state));
  seen = what_was_seen (limit, item->worst);
  minute = wb_number_format_trimmed (item->elapsed_min, 1, NULL);
  /* Translators: minute of the burn, number of the burn, sample code. */
  where = g_strdup_printf (item->logged ? _("at %s min of burn %" PRId64 " of sample %s, in its logger's file")
                                        : _("at %s min of burn %" PRId64 " of sample %s"), minute,
                           wb_dataset_get_burn (data, item->burn)->number,
                           wb_dataset_get_sample (data, item->sample)->code);
  if (!wb_craft_limit_is_over (limit, item->worst))
    return g_strdup_printf ("%s %s", seen, where);
  if (!has_duration (limit) && event_of (limit->kind) >= 0)
    /* Translators: "Vessel cracked at 120 min of burn 3 of sample T5-1: none is allowed". */
    return g_strdup_printf (_("%s %s: none is allowed"), seen, where);
  stop = wb_quantity_format (wb_limit_kind_get_unit (limit->kind), limit->stop_at, -1);
  /* Translators: "Flame height 52 mm at 240 min of burn 9 of sample T5-1: over the house limit of 50 mm". */
  return limit->house ? g_strdup_printf (_("%s %s: over the house limit of %s"), seen, where, stop)
                      : g_strdup_printf (_("%s %s: over the limit of %s"), seen, where, stop);
}

GArray *
wb_craft_limits_check_reading (const GPtrArray *limits,
                               const double     values[WB_N_COLUMNS])
{
  GArray *hits = g_array_new (FALSE, FALSE, sizeof (WbCraftLimitHit));

  g_return_val_if_fail (limits != NULL, hits);

  for (guint i = 0; i < limits->len; i++)
    {
      const WbLimit *limit = g_ptr_array_index (limits, i);
      double value = wb_craft_limit_value (limit, values);
      WbCraftLimitHit hit = { i, WB_CRAFT_OVER };

      if (limit->off || isnan (value))
        continue;
      if (!wb_craft_limit_is_over (limit, value))
        {
          hit.level = WB_CRAFT_NEAR;
          if (!wb_craft_limit_is_near (limit, value))
            continue;
        }
      g_array_append_val (hits, hit);
    }
  return hits;
}
