/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-doubt-burn.h"

#include <math.h>

/* All of it common practice, no source. */

/* A point misplaced is a factor of ten; less than this is left where the others have grown in between. */
#define FACTOR 4.0
#define FEWEST 3
/* How far apart they must be as well: small readings are mostly the reader's error. */
#define POOL_APART_MM 4.0
#define DEPTH_APART_MM 2.0
#define FLAME_APART_MM 5.0
#define RISE_APART_C 10.0
/* A ruler over a hot vessel, read twice, and wax that sets again at the rim. */
#define POOL_READ_MM 6.0
#define POOL_READ_SHARE 0.1
/* Minutes are read from a clock without seconds; a pool that was forgotten is read while it is still liquid. */
#define CLOCK_MIN 1.0
#define LIQUID_MIN 15.0
/* One step back in four says something, and in a longer log one in eight; in a shuffled log every second step leads back. */
#define FEWEST_STEPS 4
#define STEPS_A_BACK 8

void
wb_craft_burn_reading_take (WbCraftBurnReading *self,
                            double              minute,
                            const double        values[WB_N_COLUMNS],
                            double              inner_mm)
{
  WbPool pool;
  gboolean pool_read;

  g_return_if_fail (self != NULL && values != NULL);

  pool_read = wb_pool_from_values (values, inner_mm, &pool);
  self->minute = minute;
  self->pool_mm = pool_read ? pool.diameter_mm : NAN;
  self->first_column = isnan (values[WB_COLUMN_POOL_MM]) ? WB_COLUMN_POOL_A_MM : WB_COLUMN_POOL_MM;
  self->first_mm = values[self->first_column];
  self->second_mm = values[WB_COLUMN_POOL_B_MM];
  self->depth_mm = values[WB_COLUMN_DEPTH_MM];
  self->flame_mm = values[WB_COLUMN_FLAME_MM];
  self->flame_max_mm = values[WB_COLUMN_FLAME_MAX_MM];
  self->vessel_c = values[WB_COLUMN_VESSEL_C];
  self->base_c = values[WB_COLUMN_BASE_C];
  self->room_c = values[WB_COLUMN_ROOM_C];
  /* what befalls one wick is not the candle's: of several the others burn on */
  self->event = isnan (values[WB_COLUMN_EVENT]) || !isnan (values[WB_COLUMN_WICK_NUMBER]) ? -1 : (int) values[WB_COLUMN_EVENT];
  self->flame = self->flame_mm > 0 || !isnan (values[WB_COLUMN_FLAME_STATE]);
  self->burning = self->flame || pool_read || !isnan (self->depth_mm) || !isnan (self->vessel_c);
}

/* A burn's readings by minute. */
typedef struct
{
  const WbCraftBurnReading *readings; /* borrowed */
  guint                     n;
  guint                    *order;    /* places in `readings` */
  guint                    *spell;    /* of order[i]: counted up at each lighting; G_MAXUINT: the flame was out */
  double                    room_c;   /* mean; NAN: never read */
} Burn;

static int
compare_minutes (gconstpointer a,
                 gconstpointer b,
                 gpointer      data)
{
  const WbCraftBurnReading *readings = data;
  guint i = *(const guint *) a, j = *(const guint *) b;

  if (readings[i].minute != readings[j].minute)
    return readings[i].minute < readings[j].minute ? -1 : 1;
  return i < j ? -1 : i > j;
}

static void
burn_init (Burn                     *self,
           const WbCraftBurnReading *readings,
           guint                     n)
{
  double sum = 0;
  guint spell = 0, n_room = 0;
  gboolean out = FALSE;

  *self = (Burn) { readings, n, g_new (guint, n), g_new (guint, n), NAN };
  for (guint i = 0; i < n; i++)
    self->order[i] = i;
  g_qsort_with_data (self->order, (gint) n, sizeof *self->order, compare_minutes, (gpointer) readings);
  for (guint i = 0; i < n; i++)
    {
      const WbCraftBurnReading *reading = &readings[self->order[i]];

      if (out && reading->event == WB_EVENT_RELIT)
        {
          out = FALSE;
          spell++;
        }
      self->spell[i] = out ? G_MAXUINT : spell;
      /* the reading of that very moment was still of the flame */
      out = out || (reading->event >= 0 && wb_event_ends_burn (reading->event));
      if (!isnan (reading->room_c))
        {
          sum += reading->room_c;
          n_room++;
        }
    }
  if (n_room > 0)
    self->room_c = sum / n_room;
}

static void
burn_clear (Burn *self)
{
  g_free (self->order);
  g_free (self->spell);
}

/* One value of the readings. */
typedef struct
{
  WbColumn column;
  gsize    offset;  /* of the value doubted, in WbCraftBurnReading */
  gsize    against; /* of what it is held against in the other readings */
  double   apart;
  gboolean grows;   /* from nothing at lighting, at most in step with time */
  gboolean rise;    /* over the room */
} Series;

#define AT(member) G_STRUCT_OFFSET (WbCraftBurnReading, member)

static const Series all_series[] = {
  { WB_COLUMN_POOL_A_MM, AT (first_mm), AT (pool_mm), POOL_APART_MM, TRUE, FALSE },
  { WB_COLUMN_POOL_B_MM, AT (second_mm), AT (pool_mm), POOL_APART_MM, TRUE, FALSE },
  { WB_COLUMN_DEPTH_MM, AT (depth_mm), AT (depth_mm), DEPTH_APART_MM, TRUE, FALSE },
  { WB_COLUMN_FLAME_MM, AT (flame_mm), AT (flame_mm), FLAME_APART_MM, FALSE, FALSE },
  { WB_COLUMN_FLAME_MAX_MM, AT (flame_max_mm), AT (flame_max_mm), FLAME_APART_MM, FALSE, FALSE },
  { WB_COLUMN_VESSEL_C, AT (vessel_c), AT (vessel_c), RISE_APART_C, TRUE, TRUE },
  { WB_COLUMN_BASE_C, AT (base_c), AT (base_c), RISE_APART_C, TRUE, TRUE },
};

static WbColumn
get_column (const Series             *series,
            const WbCraftBurnReading *reading)
{
  return series->offset == AT (first_mm) ? reading->first_column : series->column;
}

/* A value of a series, a rise over the room where it is one; NAN: not taken, or not a value to compare. */
static double
get_value (const Burn   *burn,
           const Series *series,
           gsize         offset,
           guint         i)
{
  const WbCraftBurnReading *reading = &burn->readings[burn->order[i]];
  double value = G_STRUCT_MEMBER (double, reading, offset);

  if (burn->spell[i] == G_MAXUINT || (series->grows && !(reading->minute > 0)))
    return NAN;
  if (series->rise)
    return value - burn->room_c;
  return value > 0 ? value : NAN;
}

/* Up to two others of the same lighting: the ones beside it, or at an end the two nearest. FALSE: fewer. */
static gboolean
find_others (const Burn   *burn,
             const Series *series,
             guint         i,
             guint         others[2],
             int          *end)
{
  guint before[2], after[2], n_before = 0, n_after = 0;

  for (guint j = i; j > 0 && n_before < 2 && burn->spell[j - 1] == burn->spell[i]; j--)
    if (!isnan (get_value (burn, series, series->against, j - 1)))
      before[n_before++] = j - 1;
  for (guint j = i + 1; j < burn->n && n_after < 2 && (burn->spell[j] == burn->spell[i] || burn->spell[j] == G_MAXUINT); j++)
    if (!isnan (get_value (burn, series, series->against, j)))
      after[n_after++] = j;
  if (n_before + n_after < FEWEST - 1)
    return FALSE;
  *end = n_before == 0 ? -1 : n_after == 0 ? 1 : 0;
  others[0] = n_before > 0 ? before[0] : after[0];
  others[1] = n_before == 0 ? after[1] : n_after == 0 ? before[1] : after[0];
  return TRUE;
}

/* Far above: four times as much, and more than small readings err by. */
static gboolean
is_far_above (double value,
              double other,
              double apart)
{
  return value >= FACTOR * other && value - other >= apart;
}

/*
 * Between two others it must stand out from both. At an end it is held against
 * the two nearest, and what grows may have grown in step with time: a first
 * reading may be so much lower, a last one so much higher. A flame may start or
 * end small.
 */
static gboolean
stands_out (const Burn   *burn,
            const Series *series,
            guint         i,
            const guint   others[2],
            int           end)
{
  double value = get_value (burn, series, series->offset, i), minute = burn->readings[burn->order[i]].minute;
  gboolean above = TRUE, below = TRUE;

  for (guint k = 0; k < 2; k++)
    {
      double other = get_value (burn, series, series->against, others[k]);
      double share = series->grows && end != 0 ? minute / burn->readings[burn->order[others[k]]].minute : 1;

      above = above && is_far_above (value, fmax (other, 0) * (end > 0 ? share : 1), series->apart)
              && (end <= 0 || !series->grows || other >= series->apart / 2);
      below = below && is_far_above (other * (end < 0 ? share : 1), value, series->apart) && (end == 0 || series->grows);
    }
  /* the flame of the first moment has not settled */
  return (above && (series->grows || minute > 0)) || below;
}

static void
add_doubt (GArray          *doubts,
           const Burn      *burn,
           WbCraftDoubtKind kind,
           WbColumn         column,
           double           value,
           double           bound,
           guint            i,
           guint            other)
{
  WbCraftBurnDoubt doubt = { { kind, column, value, bound }, burn->order[i], burn->order[other] };

  g_array_append_val (doubts, doubt);
}

static void
find_decimals (const Burn   *burn,
               const Series *series,
               GArray       *doubts)
{
  for (guint i = 0; i < burn->n; i++)
    {
      const WbCraftBurnReading *reading = &burn->readings[burn->order[i]];
      double typed = G_STRUCT_MEMBER (double, reading, series->offset);
      WbCraftDoubt alone;
      guint others[2];
      int end;

      if (isnan (get_value (burn, series, series->offset, i)) || !find_others (burn, series, i, others, &end)
          || !stands_out (burn, series, i, others, end))
        continue;
      /* what can hardly be by itself is told of by itself */
      if ((series->rise && wb_craft_doubt_heat (series->column, typed, &alone))
          || (!series->grows && wb_craft_doubt_flame (series->column, typed, &alone)))
        continue;
      add_doubt (doubts, burn, WB_CRAFT_DOUBT_DECIMAL, get_column (series, reading), typed,
                 G_STRUCT_MEMBER (double, &burn->readings[burn->order[others[0]]], series->against), i, others[0]);
    }
}

static gboolean
has_decimal (const GArray *doubts,
             guint         reading)
{
  for (guint i = 0; i < doubts->len; i++)
    if (g_array_index (doubts, WbCraftBurnDoubt, i).reading == reading)
      return TRUE;
  return FALSE;
}

static double
pool_at (const Burn   *burn,
         const GArray *read,
         guint         k)
{
  return burn->readings[burn->order[g_array_index (read, guint, k)]].pool_mm;
}

static double
pool_error (double pool_mm)
{
  return fmax (POOL_READ_MM, POOL_READ_SHARE * pool_mm);
}

/*
 * A pool narrower than both before and after it, or wider than the one before and
 * the next two, by more than a ruler errs: a last one alone may have shrunk.
 */
static void
find_pools (const Burn *burn,
            GArray     *doubts)
{
  g_autoptr (GArray) read = g_array_new (FALSE, FALSE, sizeof (guint));

  for (guint i = 0; i < burn->n; i++)
    if (!isnan (get_value (burn, &all_series[0], AT (pool_mm), i)) && !has_decimal (doubts, burn->order[i]))
      g_array_append_val (read, i);
  for (guint k = 1; k + 1 < read->len; k++)
    {
      guint i = g_array_index (read, guint, k), before = g_array_index (read, guint, k - 1), after = g_array_index (read, guint, k + 1);
      const WbCraftBurnReading *reading = &burn->readings[burn->order[i]];
      double was = pool_at (burn, read, k - 1), will = pool_at (burn, read, k + 1);
      WbColumn column = isnan (reading->first_mm) && !isnan (reading->second_mm) ? WB_COLUMN_POOL_B_MM : reading->first_column;

      if (burn->spell[before] != burn->spell[i] || burn->spell[after] != burn->spell[i])
        continue;
      if (reading->pool_mm < fmin (was, will) - pool_error (was))
        add_doubt (doubts, burn, WB_CRAFT_DOUBT_SHRUNK, column, reading->pool_mm, was, i, before);
      else if (k + 2 < read->len && burn->spell[g_array_index (read, guint, k + 2)] == burn->spell[i]
               && reading->pool_mm > fmax (was, fmax (will, pool_at (burn, read, k + 2))) + pool_error (will))
        add_doubt (doubts, burn, WB_CRAFT_DOUBT_SWOLLEN, column, reading->pool_mm, will, i, after);
    }
}

/* The first reading of a flame that is out, or of wax that has long set. */
static void
find_ended (const Burn *burn,
            GArray     *doubts)
{
  guint end = G_MAXUINT;

  for (guint i = 0; i < burn->n; i++)
    {
      const WbCraftBurnReading *reading = &burn->readings[burn->order[i]];

      if (burn->spell[i] != G_MAXUINT)
        {
          end = i;
          continue;
        }
      double since = reading->minute - burn->readings[burn->order[end]].minute;

      if ((reading->flame && since > CLOCK_MIN) || (reading->burning && since > LIQUID_MIN))
        {
          add_doubt (doubts, burn, WB_CRAFT_DOUBT_ENDED, WB_N_COLUMNS, reading->minute, burn->readings[burn->order[end]].minute, i, end);
          return;
        }
    }
}

GArray *
wb_craft_doubts_find_in_burn (const WbCraftBurnReading *readings,
                              guint                     n)
{
  GArray *doubts = g_array_new (FALSE, FALSE, sizeof (WbCraftBurnDoubt));
  Burn burn;

  g_return_val_if_fail (readings != NULL || n == 0, doubts);

  burn_init (&burn, readings, n);
  for (guint i = 0; i < G_N_ELEMENTS (all_series); i++)
    find_decimals (&burn, &all_series[i], doubts);
  find_pools (&burn, doubts);
  find_ended (&burn, doubts);
  burn_clear (&burn);
  return doubts;
}

/* Does the minute before `i` lie before the one after it, too? */
static gboolean
rises_without (const WbCraftBurnReading *readings,
               guint                     n,
               guint                     i)
{
  return i == 0 || i + 1 >= n || readings[i + 1].minute >= readings[i - 1].minute;
}

gboolean
wb_craft_doubt_order (const WbCraftBurnReading *readings,
                      guint                     n,
                      WbCraftLogSteps          *steps,
                      WbCraftBurnDoubt         *doubt)
{
  guint back = 0, at = 0, odd, other;

  g_return_val_if_fail ((readings != NULL || n == 0) && doubt != NULL, FALSE);

  for (guint i = 1; i < n; i++)
    if (readings[i].minute < readings[i - 1].minute)
      {
        back++;
        at = i;
      }
  if (steps != NULL)
    {
      steps->n += n > 0 ? n - 1 : 0;
      steps->back += back;
    }
  if (n < FEWEST || back != 1 || readings[at - 1].minute - readings[at].minute <= CLOCK_MIN)
    return FALSE;
  /* where either of the two could be the one, the later is named beside the earlier */
  odd = rises_without (readings, n, at) ? at : at - 1;
  other = odd == at ? at - 1 : at;
  if (!rises_without (readings, n, odd))
    return FALSE;
  *doubt = (WbCraftBurnDoubt) { { WB_CRAFT_DOUBT_MISPLACED, WB_N_COLUMNS, readings[odd].minute, readings[other].minute }, odd, other };
  return TRUE;
}

gboolean
wb_craft_log_steps_rise (const WbCraftLogSteps *self)
{
  g_return_val_if_fail (self != NULL, FALSE);
  return self->n >= FEWEST_STEPS && self->back <= MAX (self->n / STEPS_A_BACK, 1);
}
