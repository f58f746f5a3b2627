/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-bench-clock-private.h"

#include "wb-app-clock-private.h"
#include "wb-clock.h"
#include "wb-cure.h"

#include <glib/gi18n-lib.h>
#include <math.h>

struct _WbAppBenchSample
{
  GObject          parent_instance;

  WbAppBenchLoad  *load;
  guint            index;      /* of the sample in the data set */
  char            *title;

  WbAppBenchLife   life;

  WbAppBenchAnchor anchor;
  gboolean         counted;    /* it is alight or cools, by the anchor */
  WbAppBenchRoom   room;       /* as read last, with whichever sample */

  WbAppBenchState  state;
  gint64           elapsed_s;
  gint64           due_in_s;   /* G_MAXINT: none */
  gboolean         stop_due;
  WbInstant        fit_at;
  char            *full_code;  /* with its experiment, where another at the bench has the same code; NULL: none has */
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

/* Of one that crossed a limit before, however calm it burns now; NULL: none did. */
static char *
dup_watch (WbAppBenchSample *self)
{
  g_autofree char *interval = NULL;

  if (wb_app_bench_sample_get_crossed_burn (self) == 0)
    return NULL;
  interval = wb_quantity_format_duration (wb_app_bench_life_get_interval_s (self->load, &self->life));
  /* Translators: number of a burn; a time. */
  return g_strdup_printf (_("crossed a limit in burn %d: to be read every %s"), wb_app_bench_sample_get_crossed_burn (self), interval);
}

/* The limits that the newest readings are over or near, worst first; an older reading may have calmed down since. */
static void
find_alarm (WbAppBenchSample *self)
{
  g_autofree char *alarm = NULL;

  self->over = FALSE;
  if (self->state == WB_APP_BENCH_ALIGHT)
    {
      g_autoptr (GPtrArray) hits = wb_app_bench_check_last (self->load->data, self->life.burn_index, self->life.trends,
                                                           self->life.lit_at, self->us_units);

      if (hits->len > 0)
        {
          const WbAppBenchHit *worst = g_ptr_array_index (hits, 0);

          alarm = g_strdup (worst->text);
          self->over = worst->level == WB_CRAFT_OVER;
        }
    }
  if (alarm == NULL && self->state == WB_APP_BENCH_ALIGHT)
    alarm = dup_watch (self);
  if (g_strcmp0 (alarm, self->alarm) == 0)
    return;
  g_free (self->alarm);
  self->alarm = g_steal_pointer (&alarm);
  notify (self, PROP_ALARM);
}

/* The anchor of a burn holds on after it is out: cooling is counted by no clock that was set. */
static void
work_out_lit_at (WbAppBenchSample *self,
                 WbInstant         now)
{
  gint64 lit_us;

  if (self->life.burn == NULL || self->anchor.burn != self->life.burn->record.id)
    return;
  lit_us = now.utc_us - wb_app_bench_anchor_get_elapsed_us (&self->anchor);
  /* Two clocks are read one after the other: a microsecond less would be told as a minute less. */
  if (ABS (lit_us - self->life.burn->lit_at.utc_us) <= WB_APP_CLOCK_LET_PASS_US)
    lit_us = self->life.burn->lit_at.utc_us;
  self->life.lit_at = wb_clock_at (wb_clock_get (), lit_us);
}

static gint64
work_out_due_in_s (WbAppBenchSample *self)
{
  gint64 due_s = wb_app_bench_life_get_due_s (self->load, &self->life);

  return due_s == G_MAXINT ? due_s : due_s - self->elapsed_s;
}

void
wb_app_bench_sample_update (WbAppBenchSample *self,
                            gboolean          us_units)
{
  WbInstant now = wb_clock_now (wb_clock_get ());
  WbAppBenchState state;
  gint64 elapsed_s;
  gboolean was_overdue = wb_app_bench_sample_get_overdue (self), was_stop_due = self->stop_due;
  gint64 due_before_s = self->due_in_s;

  work_out_lit_at (self, now);
  state = wb_app_bench_life_get_state (self->load, self->index, &self->life, now, &self->fit_at);
  elapsed_s = state == WB_APP_BENCH_ALIGHT ? wb_app_bench_anchor_get_elapsed_us (&self->anchor) / G_USEC_PER_SEC : 0;
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
  self->stop_due = state == WB_APP_BENCH_ALIGHT && wb_app_bench_life_has_length (&self->life) && elapsed_s >= self->load->data->protocol->burn_s;
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
      g_value_set_double (value, isnan (self->life.pool_share) ? -1 : self->life.pool_share);
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
  wb_app_bench_life_clear (&self->life);
  g_free (self->title);
  g_free (self->full_code);
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
  self->life.end_min = self->life.last_min = self->life.look_min = self->life.pool_share = self->life.again_min = NAN;
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
  wb_app_bench_life_clear (&self->life);
  wb_app_bench_life_read (load, sample, &self->life);
  g_clear_pointer (&old, wb_app_bench_load_unref);
  g_object_freeze_notify (G_OBJECT (self));
  notify (self, PROP_TITLE);
  notify (self, PROP_PLACE);
  notify (self, PROP_POOL_SHARE);
  notify (self, PROP_BURN_NUMBER);
  g_object_thaw_notify (G_OBJECT (self));
}

gboolean
wb_app_bench_sample_get_us_units (WbAppBenchSample *self)
{
  return self->us_units;
}

WbAppBenchAnchor *
wb_app_bench_sample_get_anchor (WbAppBenchSample *self)
{
  return &self->anchor;
}

void
wb_app_bench_sample_set_anchor (WbAppBenchSample   *self,
                                const WbAppRunning *noted,
                                WbInstant           last_entry)
{
  self->counted = wb_app_bench_life_is_alight (&self->life);
  if (self->counted)
    wb_app_bench_anchor_set (&self->anchor, &self->life, noted, last_entry);
  else if (self->life.burn != NULL)
    self->counted = wb_app_bench_anchor_set_cooling (&self->anchor, self->load, &self->life, noted);
}

gboolean
wb_app_bench_sample_is_counted (WbAppBenchSample *self)
{
  return self->counted;
}

const WbAppBenchLife *
wb_app_bench_sample_get_life (WbAppBenchSample *self)
{
  return &self->life;
}

double
wb_app_bench_sample_get_alight_min (WbAppBenchSample *self,
                                    guint             burn)
{
  return self->load->figures->burns[burn].alight_min;
}

WbCraftTrendRounds
wb_app_bench_sample_get_rounds (WbAppBenchSample *self)
{
  return wb_app_bench_life_get_rounds (self->load, &self->life);
}

void
wb_app_bench_sample_set_room (WbAppBenchSample     *self,
                              const WbAppBenchRoom *room)
{
  self->room = *room;
}

const WbAppBenchRoom *
wb_app_bench_sample_get_room (WbAppBenchSample *self)
{
  return &self->room;
}

gboolean
wb_app_bench_sample_has_room (WbAppBenchSample *self,
                              WbColumn          column)
{
  guint which = column == WB_COLUMN_ROOM_C ? 0 : 1;
  gint64 at_us;

  if (self->state != WB_APP_BENCH_ALIGHT || self->room.session == 0 || self->life.burn->session != self->room.session
      || isnan (self->room.values[which]))
    return FALSE;
  /* as it will be read: a panel is laid out long before its next round */
  at_us = wb_clock_now (wb_clock_get ()).utc_us;
  if (self->due_in_s != G_MAXINT)
    at_us += MAX (self->due_in_s, 0) * G_USEC_PER_SEC;
  return ABS (at_us - self->room.at_us[which]) <= WB_APP_BENCH_ROUND_MIN * 60 * G_USEC_PER_SEC;
}

GArray *
wb_app_bench_sample_dup_deviations (WbAppBenchSample *self)
{
  double alight_min;

  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), NULL);

  if (self->life.burn == NULL)
    return g_array_new (FALSE, FALSE, sizeof (WbCraftDeviation));
  alight_min = self->state == WB_APP_BENCH_ALIGHT ? self->elapsed_s / 60.0 : NAN;
  return wb_craft_deviations_find (self->load->data, self->load->figures, self->load->crossings, self->life.burn_index, alight_min);
}

const WbAppBenchLoad *
wb_app_bench_sample_get_load (WbAppBenchSample *self)
{
  return self->load;
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
  g_assert (self->life.burn != NULL);
  return self->life.burn_index;
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
  return self->full_code != NULL ? self->full_code : wb_app_bench_sample_get_record (self)->code;
}

void
wb_app_bench_sample_set_twin (WbAppBenchSample *self,
                              gboolean          twin)
{
  g_autofree char *full = twin ? g_strdup_printf ("%s %s", self->load->data->experiment->code,
                                                  wb_app_bench_sample_get_record (self)->code) : NULL;

  if (g_strcmp0 (full, self->full_code) == 0)
    return;
  g_free (self->full_code);
  self->full_code = g_steal_pointer (&full);
  notify (self, PROP_CODE);
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
  return self->life.burn;
}

int
wb_app_bench_sample_get_burn_number (WbAppBenchSample *self)
{
  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), 0);
  if (self->life.burn == NULL)
    return 1;
  return (int) self->life.burn->number + (self->state == WB_APP_BENCH_ALIGHT ? 0 : 1);
}

WbStage
wb_app_bench_sample_get_stage (WbAppBenchSample *self)
{
  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), WB_STAGE_UPPER);
  return wb_app_bench_life_get_stage (self->load, &self->life);
}

gboolean
wb_app_bench_sample_is_last_inch (WbAppBenchSample *self)
{
  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), FALSE);
  /* Not known: NAN compares as false. */
  return self->life.inch.last_inch_min <= self->elapsed_s / 60.0;
}

double
wb_app_bench_sample_get_last_inch_min (WbAppBenchSample *self)
{
  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), NAN);
  return self->life.inch.last_inch_min;
}

double
wb_app_bench_sample_get_end_min (WbAppBenchSample *self)
{
  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), NAN);
  return self->life.inch.end_min;
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

  if (self->life.burn == NULL || !self->life.burn->lit_at.known)
    return NAN;
  work_out_lit_at (self, now);
  elapsed_us = (instant.known ? instant.utc_us : now.utc_us) - self->life.lit_at.utc_us;
  /* Two clocks are read one after the other: to the second, so that a whole hour is not a microsecond short of it. */
  return round ((double) elapsed_us / G_USEC_PER_SEC) / 60;
}

gboolean
wb_app_bench_sample_get_unsure (WbAppBenchSample *self,
                                gint64           *by_clock_s)
{
  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), FALSE);
  if (self->state != WB_APP_BENCH_ALIGHT || !self->anchor.unsure)
    return FALSE;
  if (by_clock_s != NULL)
    *by_clock_s = (self->anchor.by_wall_us + wb_clock_steady_us (wb_clock_get ()) - self->anchor.steady_us) / G_USEC_PER_SEC;
  return TRUE;
}

WbInstant
wb_app_bench_sample_get_lit_at (WbAppBenchSample *self)
{
  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), WB_INSTANT_NONE);
  if (self->life.burn == NULL)
    return WB_INSTANT_NONE;
  work_out_lit_at (self, wb_clock_now (wb_clock_get ()));
  return self->life.lit_at;
}

gint64
wb_app_bench_sample_get_due_in_s (WbAppBenchSample *self)
{
  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), G_MAXINT);
  return self->due_in_s;
}

double
wb_app_bench_sample_get_length_s (WbAppBenchSample *self)
{
  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), NAN);
  return self->state == WB_APP_BENCH_ALIGHT && wb_app_bench_life_has_length (&self->life) ? self->load->data->protocol->burn_s : NAN;
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

gboolean
wb_app_bench_sample_states_cure (WbAppBenchSample *self)
{
  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), FALSE);
  return !isnan (wb_cure_of_sample (self->load->data, self->index).burn_days);
}

WbInstant
wb_app_bench_sample_get_fit_at (WbAppBenchSample *self)
{
  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), WB_INSTANT_NONE);
  return self->fit_at;
}

WbInstant
wb_app_bench_sample_get_smell_at (WbAppBenchSample *self)
{
  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), WB_INSTANT_NONE);
  return wb_app_bench_life_get_smell_at (self->load, self->index);
}

double
wb_app_bench_sample_get_last (WbAppBenchSample *self,
                              WbColumn          column)
{
  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), NAN);
  g_return_val_if_fail (column < WB_N_COLUMNS, NAN);
  return self->life.last[column];
}

double
wb_app_bench_sample_get_last_min (WbAppBenchSample *self)
{
  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), NAN);
  return self->life.last_min;
}

double
wb_app_bench_sample_get_look_min (WbAppBenchSample *self)
{
  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), NAN);
  return self->life.look_min;
}

const char *
wb_app_bench_sample_get_place (WbAppBenchSample *self)
{
  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), NULL);
  return self->life.burn != NULL ? self->life.burn->bench_place : NULL;
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
