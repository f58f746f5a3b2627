/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-bench-private.h"

#include "wb-clock.h"

#include <math.h>

/*
 * Elapsed time: at first sight of a burn the wall clock says how long ago it
 * was lit; from then on the steady clock counts, so that a step of the wall
 * clock moves nothing.
 */

/* A reading counts as the round's if it is at most this share of the interval early: a round of twelve takes 12 to 15 min of an hour. */
#define EARLY_SHARE 0.25
#define LAST_INCH_MM 25.4
#define DAY_S 86400

struct _WbAppBenchSample
{
  GObject          parent_instance;

  WbAppBenchLoad  *load;
  guint            index;      /* of the sample in the data set */
  char            *title;

  const WbBurn    *burn;       /* the last one; borrowed from the load; NULL: never lit */
  guint            burn_index;
  double           end_min;    /* NAN: alight */
  double           last_min;   /* last reading of that burn; NAN: none */
  double           last[WB_N_COLUMNS];
  double           pool_share; /* NAN: not read */

  gint64           anchor_burn;      /* id of the burn that the anchor is of; 0: none */
  gint64           anchor_elapsed_us;
  gint64           anchor_steady_us;

  WbAppBenchState  state;
  gint64           elapsed_s;
  gint64           due_in_s;   /* G_MAXINT: none */
  gboolean         stop_due;
  WbInstant        fit_at;
  char            *alarm;
  gboolean         over;       /* the alarm's limit is crossed, not only near */
  gboolean         us_units;
};

enum
{
  PROP_0,
  PROP_SAMPLE,
  PROP_EXPERIMENT,
  PROP_CODE,
  PROP_TITLE,
  PROP_EXPERIMENT_CODE,
  PROP_STATE,
  PROP_BURN_NUMBER,
  PROP_ELAPSED_S,
  PROP_DUE_IN_S,
  PROP_OVERDUE,
  PROP_STOP_DUE,
  PROP_PLACE,
  PROP_POOL_SHARE,
  PROP_ALARM,
  N_PROPS
};

static GParamSpec *properties[N_PROPS];

G_DEFINE_FINAL_TYPE (WbAppBenchSample, wb_app_bench_sample, G_TYPE_OBJECT)

static void
notify (WbAppBenchSample *self,
        int               prop)
{
  g_object_notify_by_pspec (G_OBJECT (self), properties[prop]);
}

static guint
cell_of (WbAppBenchSample *self)
{
  return g_array_index (self->load->data->sample_cell, guint, self->index);
}

/* The burn that is alight, or the last one. */
static void
find_burn (WbAppBenchSample *self)
{
  const WbDataset *data = self->load->data;

  self->burn = NULL;
  for (guint i = 0; i < data->burns->len; i++)
    if (g_array_index (data->burn_sample, guint, i) == self->index)
      {
        self->burn = wb_dataset_get_burn (data, i);
        self->burn_index = i;
      }
  self->end_min = NAN;
  if (self->burn == NULL)
    return;
  self->end_min = wb_app_bench_burn_end_min (data, self->burn_index);
}

static void
read_last_values (WbAppBenchSample *self)
{
  const WbDataset *data = self->load->data;
  double inner_mm = wb_dataset_get_vessel (data, cell_of (self))->inner_diameter_mm;
  guint first = 0, n = 0;
  WbPool pool;

  self->last_min = NAN;
  self->pool_share = NAN;
  for (guint column = 0; column < WB_N_COLUMNS; column++)
    self->last[column] = NAN;
  if (self->burn != NULL)
    wb_readings_get_burn_rows (data->readings, self->burn_index, &first, &n);
  for (guint row = first; row < first + n; row++)
    {
      self->last_min = wb_readings_get_elapsed_min (data->readings, row);
      for (guint column = 0; column < WB_N_COLUMNS; column++)
        if (wb_readings_taken (data->readings, row, column))
          self->last[column] = wb_readings_get (data->readings, row, column);
      if (wb_readings_get_pool (data->readings, row, inner_mm, &pool))
        self->pool_share = pool.diameter_mm / inner_mm;
    }
}

/* The limits that the newest reading is over or near, worst first; an older reading may have calmed down since. */
static void
find_alarm (WbAppBenchSample *self)
{
  const WbDataset *data = self->load->data;
  g_autofree char *alarm = NULL;
  guint first, n;

  self->over = FALSE;
  if (self->state == WB_APP_BENCH_ALIGHT)
    {
      wb_readings_get_burn_rows (data->readings, self->burn_index, &first, &n);
      if (n > 0)
        {
          double values[WB_N_COLUMNS];
          g_autoptr (GPtrArray) hits = NULL;

          for (guint column = 0; column < WB_N_COLUMNS; column++)
            values[column] = wb_readings_get (data->readings, first + n - 1, column);
          hits = wb_app_bench_check (data->limits, values, self->us_units);
          if (hits->len > 0)
            {
              const WbAppBenchHit *worst = g_ptr_array_index (hits, 0);

              alarm = g_strdup (worst->text);
              self->over = worst->level == WB_CRAFT_OVER;
            }
        }
    }
  if (g_strcmp0 (alarm, self->alarm) == 0)
    return;
  g_free (self->alarm);
  self->alarm = g_steal_pointer (&alarm);
  notify (self, PROP_ALARM);
}

/* A burn from a file is never alight, whatever its last row says. */
static gboolean
is_alight (WbAppBenchSample *self)
{
  return self->burn != NULL && self->burn->session != 0 && self->burn->lit_at.known && isnan (self->end_min);
}

static gboolean
is_ended (WbAppBenchSample *self)
{
  const WbSample *sample = wb_app_bench_sample_get_record (self);

  return sample->set_aside_cause >= 0 || sample->set_aside != NULL || sample->retained
         || self->load->figures->ended[self->index]
         || self->last[WB_COLUMN_EVENT] == WB_EVENT_END_OF_LIFE;
}

static WbInstant
shifted (WbInstant instant,
         double    seconds)
{
  instant.utc_us += (gint64) (seconds * G_USEC_PER_SEC);
  return instant;
}

/* End of the cure of a sample that was never lit; unknown where no cure is stated. */
static WbInstant
cured_at (WbAppBenchSample *self)
{
  const WbSample *sample = wb_app_bench_sample_get_record (self);
  const WbWax *wax = self->load->data->wax;

  if (sample->poured_on == WB_DAY_NONE || wax == NULL || isnan (wax->burn_cure_days))
    return WB_INSTANT_NONE;
  return wb_clock_local (wb_clock_get (), sample->poured_on + (WbDay) ceil (wax->burn_cure_days), 0, 0, 0);
}

/* End of the cooling after the last burn; unknown where it is not known when that ended. */
static WbInstant
cooled_at (WbAppBenchSample *self)
{
  double end_min = isnan (self->end_min) ? self->last_min : self->end_min;

  if (!self->burn->lit_at.known || isnan (end_min))
    return WB_INSTANT_NONE;
  return shifted (self->burn->lit_at, end_min * 60 + self->load->data->protocol->cool_s);
}

static WbAppBenchState
work_out_state (WbAppBenchSample *self,
                WbInstant         now)
{
  self->fit_at = WB_INSTANT_NONE;
  if (is_alight (self))
    return WB_APP_BENCH_ALIGHT;
  if (is_ended (self))
    return WB_APP_BENCH_ENDED;
  self->fit_at = self->burn == NULL ? cured_at (self) : cooled_at (self);
  if (self->load->crossings[self->index].crossed)
    return WB_APP_BENCH_CROSSED;
  if (!self->fit_at.known || self->fit_at.utc_us <= now.utc_us)
    return WB_APP_BENCH_FIT;
  return self->burn == NULL ? WB_APP_BENCH_CURING : WB_APP_BENCH_COOLING;
}

/* Since lighting, by the clock that never steps. */
static gint64
work_out_elapsed_us (WbAppBenchSample *self,
                     WbInstant         now)
{
  gint64 steady_us = wb_clock_steady_us (wb_clock_get ());

  if (self->anchor_burn != self->burn->record.id)
    {
      self->anchor_burn = self->burn->record.id;
      self->anchor_elapsed_us = now.utc_us - self->burn->lit_at.utc_us;
      self->anchor_steady_us = steady_us;
    }
  return MAX (self->anchor_elapsed_us + steady_us - self->anchor_steady_us, 0);
}

static double
interval_s (WbAppBenchSample *self)
{
  const WbProtocol *protocol = self->load->data->protocol;

  if (wb_app_bench_sample_is_last_inch (self) && !isnan (protocol->last_inch_interval_s))
    return protocol->last_inch_interval_s;
  switch (wb_app_bench_sample_get_stage (self))
    {
    case WB_STAGE_MIDDLE:
      return protocol->interval_middle_s;
    case WB_STAGE_LOWER:
      return protocol->interval_lower_s;
    default:
      return protocol->interval_upper_s;
    }
}

/* Only a standard or an untrimmed burn has the protocol's length. */
static gboolean
has_length (const WbBurn *burn)
{
  return burn->kind == WB_BURN_STANDARD || burn->kind == WB_BURN_UNTRIMMED;
}

static gint64
work_out_due_in_s (WbAppBenchSample *self)
{
  double interval = interval_s (self), burn_s = self->load->data->protocol->burn_s;
  double last_s = isnan (self->last_min) ? 0 : self->last_min * 60;
  double due_s;

  if (!(interval > 0))
    return G_MAXINT;
  due_s = (floor (last_s / interval + EARLY_SHARE) + 1) * interval;
  if (has_length (self->burn) && last_s < burn_s && due_s > burn_s)
    due_s = burn_s;
  return (gint64) due_s - self->elapsed_s;
}

void
wb_app_bench_sample_update (WbAppBenchSample *self,
                            gboolean          us_units)
{
  WbInstant now = wb_clock_now (wb_clock_get ());
  WbAppBenchState state = work_out_state (self, now);
  gint64 elapsed_s = state == WB_APP_BENCH_ALIGHT ? work_out_elapsed_us (self, now) / G_USEC_PER_SEC : 0;
  gboolean was_overdue = wb_app_bench_sample_get_overdue (self), was_stop_due = self->stop_due;
  gint64 due_before_s = self->due_in_s;

  self->us_units = us_units;
  g_object_freeze_notify (G_OBJECT (self));
  if (state != self->state)
    {
      self->state = state;
      notify (self, PROP_STATE);
      notify (self, PROP_BURN_NUMBER);
    }
  if (elapsed_s != self->elapsed_s)
    {
      self->elapsed_s = elapsed_s;
      notify (self, PROP_ELAPSED_S);
    }
  self->due_in_s = state == WB_APP_BENCH_ALIGHT ? work_out_due_in_s (self) : G_MAXINT;
  self->stop_due = state == WB_APP_BENCH_ALIGHT && has_length (self->burn) && elapsed_s >= self->load->data->protocol->burn_s;
  if (self->due_in_s != due_before_s)
    notify (self, PROP_DUE_IN_S);
  if (wb_app_bench_sample_get_overdue (self) != was_overdue)
    notify (self, PROP_OVERDUE);
  if (self->stop_due != was_stop_due)
    notify (self, PROP_STOP_DUE);
  find_alarm (self);
  g_object_thaw_notify (G_OBJECT (self));
}

static void
wb_app_bench_sample_get_property (GObject    *object,
                                  guint       prop_id,
                                  GValue     *value,
                                  GParamSpec *pspec)
{
  WbAppBenchSample *self = WB_APP_BENCH_SAMPLE (object);

  switch (prop_id)
    {
    case PROP_SAMPLE:
      g_value_set_int64 (value, wb_app_bench_sample_get_id (self));
      break;
    case PROP_EXPERIMENT:
      g_value_set_int64 (value, self->load->id);
      break;
    case PROP_CODE:
      g_value_set_string (value, wb_app_bench_sample_get_code (self));
      break;
    case PROP_TITLE:
      g_value_set_string (value, self->title);
      break;
    case PROP_EXPERIMENT_CODE:
      g_value_set_string (value, self->load->data->experiment->code);
      break;
    case PROP_STATE:
      g_value_set_int (value, self->state);
      break;
    case PROP_BURN_NUMBER:
      g_value_set_int (value, wb_app_bench_sample_get_burn_number (self));
      break;
    case PROP_ELAPSED_S:
      g_value_set_int (value, (int) MIN (self->elapsed_s, G_MAXINT));
      break;
    case PROP_DUE_IN_S:
      g_value_set_int (value, (int) CLAMP (self->due_in_s, G_MININT, G_MAXINT));
      break;
    case PROP_OVERDUE:
      g_value_set_boolean (value, wb_app_bench_sample_get_overdue (self));
      break;
    case PROP_STOP_DUE:
      g_value_set_boolean (value, self->stop_due);
      break;
    case PROP_PLACE:
      g_value_set_string (value, wb_app_bench_sample_get_place (self));
      break;
    case PROP_POOL_SHARE:
      g_value_set_double (value, isnan (self->pool_share) ? -1 : self->pool_share);
      break;
    case PROP_ALARM:
      g_value_set_string (value, self->alarm);
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, prop_id, pspec);
    }
}

static void
wb_app_bench_sample_finalize (GObject *object)
{
  WbAppBenchSample *self = WB_APP_BENCH_SAMPLE (object);

  g_clear_pointer (&self->load, wb_app_bench_load_unref);
  g_free (self->title);
  g_free (self->alarm);
  G_OBJECT_CLASS (wb_app_bench_sample_parent_class)->finalize (object);
}

static void
wb_app_bench_sample_class_init (WbAppBenchSampleClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  const GParamFlags flags = G_PARAM_READABLE | G_PARAM_STATIC_STRINGS;

  object_class->get_property = wb_app_bench_sample_get_property;
  object_class->finalize = wb_app_bench_sample_finalize;

  properties[PROP_SAMPLE] = g_param_spec_int64 ("sample", NULL, NULL, 0, G_MAXINT64, 0, flags);
  properties[PROP_EXPERIMENT] = g_param_spec_int64 ("experiment", NULL, NULL, 0, G_MAXINT64, 0, flags);
  properties[PROP_CODE] = g_param_spec_string ("code", NULL, NULL, NULL, flags);
  properties[PROP_TITLE] = g_param_spec_string ("title", NULL, NULL, NULL, flags);
  properties[PROP_EXPERIMENT_CODE] = g_param_spec_string ("experiment-code", NULL, NULL, NULL, flags);
  properties[PROP_STATE] = g_param_spec_int ("state", NULL, NULL, 0, WB_APP_BENCH_ENDED, 0, flags);
  properties[PROP_BURN_NUMBER] = g_param_spec_int ("burn-number", NULL, NULL, 0, G_MAXINT, 0, flags);
  properties[PROP_ELAPSED_S] = g_param_spec_int ("elapsed-s", NULL, NULL, 0, G_MAXINT, 0, flags);
  properties[PROP_DUE_IN_S] = g_param_spec_int ("due-in-s", NULL, NULL, G_MININT, G_MAXINT, G_MAXINT, flags);
  properties[PROP_OVERDUE] = g_param_spec_boolean ("overdue", NULL, NULL, FALSE, flags);
  properties[PROP_STOP_DUE] = g_param_spec_boolean ("stop-due", NULL, NULL, FALSE, flags);
  properties[PROP_PLACE] = g_param_spec_string ("place", NULL, NULL, NULL, flags);
  properties[PROP_POOL_SHARE] = g_param_spec_double ("pool-share", NULL, NULL, -1, G_MAXDOUBLE, -1, flags);
  properties[PROP_ALARM] = g_param_spec_string ("alarm", NULL, NULL, NULL, flags);
  g_object_class_install_properties (object_class, N_PROPS, properties);
}

static void
wb_app_bench_sample_init (WbAppBenchSample *self)
{
  self->due_in_s = G_MAXINT;
  self->end_min = self->last_min = self->pool_share = NAN;
}

WbAppBenchSample *
wb_app_bench_sample_new (WbAppBenchLoad *load,
                         guint           sample)
{
  WbAppBenchSample *self = g_object_new (WB_TYPE_APP_BENCH_SAMPLE, NULL);

  wb_app_bench_sample_take (self, load, sample);
  return self;
}

void
wb_app_bench_sample_take (WbAppBenchSample *self,
                          WbAppBenchLoad   *load,
                          guint             sample)
{
  WbAppBenchLoad *old = self->load;

  if (old == load && self->index == sample)
    return;
  self->load = wb_app_bench_load_ref (load);
  self->index = sample;
  g_free (self->title);
  self->title = wb_dataset_dup_cell_name (load->data, cell_of (self));
  find_burn (self);
  read_last_values (self);
  g_clear_pointer (&old, wb_app_bench_load_unref);
  g_object_freeze_notify (G_OBJECT (self));
  notify (self, PROP_TITLE);
  notify (self, PROP_PLACE);
  notify (self, PROP_POOL_SHARE);
  notify (self, PROP_BURN_NUMBER);
  g_object_thaw_notify (G_OBJECT (self));
}

static int
state_place (WbAppBenchState state)
{
  static const int places[] = {
    [WB_APP_BENCH_ALIGHT] = 0,
    [WB_APP_BENCH_CROSSED] = 1, /* what needs a word before anything is lit */
    [WB_APP_BENCH_FIT] = 2,
    [WB_APP_BENCH_COOLING] = 3,
    [WB_APP_BENCH_CURING] = 4,
    [WB_APP_BENCH_ENDED] = 5,
  };

  return places[state];
}

gboolean
wb_app_bench_sample_get_us_units (WbAppBenchSample *self)
{
  return self->us_units;
}

/* Numbered places by their number, before those with another name. */
static int
compare_places (const char *a,
                const char *b)
{
  guint64 first = G_MAXUINT64, second = G_MAXUINT64;

  if (a != NULL)
    g_ascii_string_to_unsigned (a, 10, 0, G_MAXUINT32, &first, NULL);
  if (b != NULL)
    g_ascii_string_to_unsigned (b, 10, 0, G_MAXUINT32, &second, NULL);
  if (first != second)
    return first < second ? -1 : 1;
  return g_strcmp0 (a, b);
}

int
wb_app_bench_sample_order (gconstpointer a,
                           gconstpointer b)
{
  WbAppBenchSample *first = *(WbAppBenchSample *const *) a, *second = *(WbAppBenchSample *const *) b;
  int order = state_place (first->state) - state_place (second->state);

  if (order == 0 && first->state == WB_APP_BENCH_ALIGHT)
    order = compare_places (wb_app_bench_sample_get_place (first), wb_app_bench_sample_get_place (second));
  if (order == 0 && first->load->id != second->load->id)
    order = first->load->id < second->load->id ? -1 : 1;
  if (order == 0)
    order = g_strcmp0 (wb_app_bench_sample_get_code (first), wb_app_bench_sample_get_code (second));
  return order;
}

const WbDataset *
wb_app_bench_sample_get_data (WbAppBenchSample *self)
{
  return self->load->data;
}

guint
wb_app_bench_sample_get_index (WbAppBenchSample *self)
{
  return self->index;
}

const WbCraftCrossing *
wb_app_bench_sample_get_crossing (WbAppBenchSample *self)
{
  return &self->load->crossings[self->index];
}

guint
wb_app_bench_sample_get_burn_index (WbAppBenchSample *self)
{
  g_assert (self->burn != NULL);
  return self->burn_index;
}

double
wb_app_bench_sample_get_out_min (WbAppBenchSample *self)
{
  WbInstant now = wb_clock_now (wb_clock_get ());

  if (self->burn == NULL || isnan (self->end_min) || !self->burn->lit_at.known)
    return NAN;
  return (now.utc_us - self->burn->lit_at.utc_us) / (60.0 * G_USEC_PER_SEC) - self->end_min;
}

gboolean
wb_app_bench_sample_is_weighed (WbAppBenchSample *self)
{
  guint first, n;

  if (self->burn == NULL || isnan (self->end_min))
    return self->burn == NULL;
  wb_readings_get_burn_rows (self->load->data->readings, self->burn_index, &first, &n);
  for (guint row = first; row < first + n; row++)
    if (wb_readings_get_elapsed_min (self->load->data->readings, row) >= self->end_min
        && wb_readings_taken (self->load->data->readings, row, WB_COLUMN_MASS_G))
      return TRUE;
  return FALSE;
}

gint64
wb_app_bench_sample_get_id (WbAppBenchSample *self)
{
  return wb_app_bench_sample_get_record (self)->record.id;
}

gint64
wb_app_bench_sample_get_experiment (WbAppBenchSample *self)
{
  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), 0);
  return self->load->id;
}

const char *
wb_app_bench_sample_get_code (WbAppBenchSample *self)
{
  return wb_app_bench_sample_get_record (self)->code;
}

const char *
wb_app_bench_sample_get_title (WbAppBenchSample *self)
{
  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), NULL);
  return self->title;
}

const WbSample *
wb_app_bench_sample_get_record (WbAppBenchSample *self)
{
  return wb_dataset_get_sample (self->load->data, self->index);
}

const WbVessel *
wb_app_bench_sample_get_vessel (WbAppBenchSample *self)
{
  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), NULL);
  return wb_dataset_get_vessel (self->load->data, cell_of (self));
}

const WbProtocol *
wb_app_bench_sample_get_protocol (WbAppBenchSample *self)
{
  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), NULL);
  return self->load->data->protocol;
}

const GPtrArray *
wb_app_bench_sample_get_limits (WbAppBenchSample *self)
{
  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), NULL);
  return self->load->data->limits;
}

WbAppBenchState
wb_app_bench_sample_get_state (WbAppBenchSample *self)
{
  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), WB_APP_BENCH_ENDED);
  return self->state;
}

const WbBurn *
wb_app_bench_sample_get_burn (WbAppBenchSample *self)
{
  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), NULL);
  return self->burn;
}

int
wb_app_bench_sample_get_burn_number (WbAppBenchSample *self)
{
  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), 0);
  if (self->burn == NULL)
    return 1;
  return (int) self->burn->number + (self->state == WB_APP_BENCH_ALIGHT ? 0 : 1);
}

WbStage
wb_app_bench_sample_get_stage (WbAppBenchSample *self)
{
  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), WB_STAGE_UPPER);
  return self->burn != NULL ? self->load->figures->burns[self->burn_index].stage : WB_STAGE_UPPER;
}

gboolean
wb_app_bench_sample_is_last_inch (WbAppBenchSample *self)
{
  const WbVessel *vessel = wb_app_bench_sample_get_vessel (self);
  const WbSample *sample = wb_app_bench_sample_get_record (self);
  double height = isnan (sample->wax_height_mm) ? vessel->wax_height_mm : sample->wax_height_mm;

  /* Not known: NAN compares as false, and the protocol's interval of the stage stands. */
  return self->load->figures->life_left[self->index] * height <= LAST_INCH_MM;
}

gint64
wb_app_bench_sample_get_elapsed_s (WbAppBenchSample *self)
{
  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), 0);
  return self->elapsed_s;
}

double
wb_app_bench_sample_get_minutes_at (WbAppBenchSample *self,
                                    WbInstant         instant)
{
  WbInstant now = wb_clock_now (wb_clock_get ());
  gint64 elapsed_us;

  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), NAN);

  if (self->burn == NULL || !self->burn->lit_at.known)
    return NAN;
  elapsed_us = wb_app_bench_sample_get_state (self) == WB_APP_BENCH_ALIGHT ? work_out_elapsed_us (self, now)
                                                                           : now.utc_us - self->burn->lit_at.utc_us;
  if (instant.known)
    elapsed_us -= now.utc_us - instant.utc_us;
  /* Two clocks are read one after the other: to the second, so that a whole hour is not a microsecond short of it. */
  return round ((double) elapsed_us / G_USEC_PER_SEC) / 60;
}

gint64
wb_app_bench_sample_get_due_in_s (WbAppBenchSample *self)
{
  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), G_MAXINT);
  return self->due_in_s;
}

gboolean
wb_app_bench_sample_get_overdue (WbAppBenchSample *self)
{
  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), FALSE);
  return self->due_in_s <= 0;
}

gboolean
wb_app_bench_sample_get_stop_due (WbAppBenchSample *self)
{
  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), FALSE);
  return self->stop_due;
}

WbInstant
wb_app_bench_sample_get_fit_at (WbAppBenchSample *self)
{
  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), WB_INSTANT_NONE);
  return self->fit_at;
}

double
wb_app_bench_sample_get_last (WbAppBenchSample *self,
                              WbColumn          column)
{
  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), NAN);
  g_return_val_if_fail (column < WB_N_COLUMNS, NAN);
  return self->last[column];
}

double
wb_app_bench_sample_get_last_min (WbAppBenchSample *self)
{
  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), NAN);
  return self->last_min;
}

const char *
wb_app_bench_sample_get_place (WbAppBenchSample *self)
{
  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), NULL);
  return self->burn != NULL ? self->burn->bench_place : NULL;
}

const char *
wb_app_bench_sample_get_alarm (WbAppBenchSample *self)
{
  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), NULL);
  return self->alarm;
}

gboolean
wb_app_bench_sample_get_over (WbAppBenchSample *self)
{
  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), FALSE);
  return self->over;
}
