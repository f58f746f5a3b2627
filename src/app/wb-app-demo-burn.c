/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-demo-private.h"

#include <math.h>

#include "wb-calc-random.h"

/* Evenings at the demo's bench: the physical model's candles, read as the protocol asks. */

#define STAGGER_MIN 2
#define ALIGHT_MIN 100          /* how long the flames of the demo have burnt when it is opened */
#define LAST_INCH_MM 25.4
#define STOP_C 77.0             /* the house limit of the vessel */
#define WEIGHED_MIN 900         /* the morning after */
#define THROW_MIN 120.0
#define THROW_FIRST_DAY 14      /* fit to smell */
#define BENCH_ROOM "Bench room"
#define READER "Wren (invented)"

typedef struct
{
  WbAppDemo     *demo;
  WbAppDemoRun  *run;
  WbStoreChange *change;
  WbSession     *session;
  double         room_c;
} Evening;

static double
room_of_day (const WbAppDemoRun *run,
             int                 day)
{
  WbCalcRandom random;

  wb_calc_random_init (&random, run->plan->seed, (guint64) (day + 100000));
  return round ((21.8 + 0.9 * wb_calc_random_normal (&random)) * 10) / 10;
}

static gboolean
put_reading (Evening                     *evening,
             const WbBurn                *burn,
             double                       minutes,
             const WbCraftPhysicsReading *seen,
             gboolean                     last,
             GError                     **error)
{
  WbReading *reading = wb_record_new (&wb_reading_type);
  double *values = reading->values;
  gboolean put;

  reading->burn = burn->record.id;
  reading->elapsed_min = minutes;
  reading->source = WB_SOURCE_TYPED;
  reading->rater = g_strdup (READER);
  values[WB_COLUMN_ROOM_C] = evening->room_c;
  values[WB_COLUMN_FLAME_MM] = seen->flame_mm;
  values[WB_COLUMN_SMOKE] = seen->smoke;
  values[WB_COLUMN_SOOT] = seen->soot;
  values[WB_COLUMN_MUSHROOM] = seen->mushroom;
  if (minutes > 0)
    {
      values[WB_COLUMN_POOL_A_MM] = seen->pool_a_mm;
      values[WB_COLUMN_POOL_B_MM] = seen->pool_b_mm;
      values[WB_COLUMN_DEPTH_MM] = seen->depth_mm;
      values[WB_COLUMN_FLAME_MAX_MM] = seen->flame_max_mm;
      values[WB_COLUMN_FLAME_STATE] = seen->flame_mm > 30 ? WB_FLAME_DANCING : WB_FLAME_STEADY;
      values[WB_COLUMN_VESSEL_C] = seen->vessel_c;
      values[WB_COLUMN_BASE_C] = seen->base_c;
      reading->instrument = g_strdup ("infrared thermometer");
      reading->instrument_place = g_strdup ("side, matt patch");
    }
  if (last)
    {
      values[WB_COLUMN_HANG_UP_MM] = seen->hang_up_mm;
      values[WB_COLUMN_HANG_UP_SHARE_PCT] = round (seen->hang_up_share_pct);
    }
  put = wb_store_change_put (evening->change, reading, error);
  wb_record_free (reading);
  return put;
}

static gboolean
put_event (Evening      *evening,
           const WbBurn *burn,
           double        minutes,
           WbEvent       event,
           double        seconds,
           double        mass_g,
           const char   *note,
           GError      **error)
{
  WbReading *reading = wb_record_new (&wb_reading_type);
  gboolean put;

  reading->burn = burn->record.id;
  reading->elapsed_min = minutes;
  reading->source = WB_SOURCE_TYPED;
  reading->rater = g_strdup (READER);
  if (event < WB_N_EVENTS)
    reading->values[WB_COLUMN_EVENT] = event;
  reading->values[WB_COLUMN_EVENT_S] = seconds;
  reading->values[WB_COLUMN_MASS_G] = mass_g;
  reading->note = g_strdup (note);
  put = wb_store_change_put (evening->change, reading, error);
  wb_record_free (reading);
  return put;
}

static WbBurn *
light (Evening         *evening,
       WbAppDemoCandle *candle,
       WbBurnKind       kind,
       WbInstant        at,
       guint            place,
       GError         **error)
{
  WbBurn *burn = wb_record_new (&wb_burn_type);

  burn->sample = candle->sample->record.id;
  burn->number = ++candle->burns;
  burn->kind = (int) kind;
  burn->session = evening->session->record.id;
  burn->lit_at = at;
  burn->trim_mm = evening->demo->protocol->trim_mm;
  burn->bench_place = g_strdup_printf ("%u", place + 1);
  if (!wb_store_change_put (evening->change, burn, error))
    {
      wb_record_free (burn);
      return NULL;
    }
  wb_craft_physics_candle_light (candle->candle, evening->room_c);
  return burn;
}

static double
interval_min (const WbProtocol      *protocol,
              const WbAppDemoCandle *candle)
{
  double level = wb_craft_physics_candle_get_level_mm (candle->candle);
  double share = level / candle->sample->wax_height_mm;
  double seconds = level <= LAST_INCH_MM ? protocol->last_inch_interval_s
                   : share > 2.0 / 3     ? protocol->interval_upper_s
                   : share > 1.0 / 3     ? protocol->interval_middle_s
                                         : protocol->interval_lower_s;

  return seconds / 60;
}

/* How a burn ends at this reading; WB_N_EVENTS: it goes on. */
static WbEvent
end_at (const WbProtocol            *protocol,
        const WbAppDemoCandle       *candle,
        const WbCraftPhysicsReading *seen,
        double                       minutes,
        gboolean                    *of_life,
        const char                 **note)
{
  *of_life = FALSE;
  *note = NULL;
  if (seen->out)
    {
      *of_life = !seen->drowned;
      *note = seen->drowned ? "drowned" : NULL;
      return WB_EVENT_SELF_EXTINGUISHED;
    }
  if (seen->vessel_c > STOP_C)
    {
      *of_life = TRUE;
      *note = "Vessel over the house limit: snuffed at once, not lit again.";
      return WB_EVENT_SNUFFED;
    }
  if (wb_craft_physics_candle_get_level_mm (candle->candle) <= protocol->end_residue_mm)
    {
      *of_life = TRUE;
      return WB_EVENT_SNUFFED;
    }
  return minutes + 0.5 >= protocol->burn_s / 60 ? WB_EVENT_SNUFFED : WB_N_EVENTS;
}

static gboolean
finish_burn (Evening         *evening,
             WbAppDemoCandle *candle,
             const WbBurn    *burn,
             double           minutes,
             WbEvent          event,
             gboolean         of_life,
             const char      *note,
             double           mass_g,
             GError         **error)
{
  double afterglow_s = 3 + (candle->sample->record.id * 5 + candle->burns * 3) % 9;

  wb_craft_physics_candle_snuff (candle->candle);
  candle->mass_g = mass_g;
  candle->ended = of_life;
  if (!put_event (evening, burn, minutes, event, NAN, NAN, note, error))
    return FALSE;
  if (event == WB_EVENT_SNUFFED
      && !put_event (evening, burn, minutes, WB_EVENT_AFTERGLOW, afterglow_s, NAN, NULL, error))
    return FALSE;
  if (of_life && !put_event (evening, burn, minutes, WB_EVENT_END_OF_LIFE, NAN, NAN, NULL, error))
    return FALSE;
  return put_event (evening, burn, WEIGHED_MIN, WB_N_EVENTS, NAN, mass_g, NULL, error);
}

/* A burn from lighting to snuffing, or up to `until` minutes where the demo opens before its end. */
static gboolean
burn_candle (Evening         *evening,
             WbAppDemoCandle *candle,
             WbInstant        at,
             guint            place,
             double           until,
             GError         **error)
{
  g_autoptr (WbRecord) record = (WbRecord *) light (evening, candle, WB_BURN_STANDARD, at, place, error);
  WbBurn *burn = (WbBurn *) record;
  WbCraftPhysicsReading seen;

  if (burn == NULL || !put_event (evening, burn, 0, WB_N_EVENTS, NAN, candle->mass_g, NULL, error))
    return FALSE;
  for (double minutes = interval_min (evening->demo->protocol, candle);;)
    {
      gboolean of_life;
      const char *note;
      WbEvent event;

      if (minutes > until)
        return TRUE;
      wb_craft_physics_candle_read (candle->candle, minutes, &seen);
      event = end_at (evening->demo->protocol, candle, &seen, minutes, &of_life, &note);
      if (!put_reading (evening, burn, minutes, &seen, event < WB_N_EVENTS, error))
        return FALSE;
      if (event < WB_N_EVENTS)
        return finish_burn (evening, candle, burn, minutes, event, of_life, note, seen.mass_g, error);
      minutes = MIN (minutes + interval_min (evening->demo->protocol, candle), evening->demo->protocol->burn_s / 60);
    }
}

static gboolean
open_evening (Evening      *evening,
              WbAppDemo    *demo,
              WbAppDemoRun *run,
              int           day,
              WbInstant     opened,
              const char   *place,
              const char   *why,
              GError      **error)
{
  gint64 day_us = 24 * G_GINT64_CONSTANT (3600000000);
  WbSession *session;

  *evening = (Evening) { .demo = demo, .run = run, .room_c = room_of_day (run, day) };
  evening->change = wb_app_demo_begin (demo, day, 23, 30, "evening", why, error);
  if (evening->change == NULL)
    return FALSE;
  session = evening->session = wb_record_new (&wb_session_type);
  session->opened_at = opened;
  session->place = g_strdup (place);
  session->who = g_strdup (READER);
  session->staying = g_strdup (READER);
  session->checked = TRUE;
  session->closed_at = opened;
  session->closed_at.utc_us += day_us / 24 * 5;
  if (session->closed_at.utc_us > demo->now.utc_us)
    session->closed_at = WB_INSTANT_NONE;
  if (wb_store_change_put (evening->change, session, error))
    return TRUE;
  wb_store_rollback (g_steal_pointer (&evening->change));
  wb_record_free (session);
  return FALSE;
}

static gboolean
close_evening (Evening *evening,
               gboolean well,
               GError **error)
{
  WbStoreChange *change = g_steal_pointer (&evening->change);

  wb_record_free (evening->session);
  if (well)
    return wb_store_commit (change, NULL, error);
  wb_store_rollback (change);
  return FALSE;
}

static WbInstant
later (WbInstant at,
       double    minutes)
{
  at.utc_us += (gint64) (minutes * 60e6);
  return at;
}

/* Samples of one number burn on one evening, so that burn 5 is compared with burn 5. */
static gboolean
burn_cohort (WbAppDemo    *demo,
             WbAppDemoRun *run,
             int           day,
             guint         cohort,
             GError      **error)
{
  const WbAppDemoExperiment *plan = run->plan;
  gboolean alight = day == 0 && plan->alight;
  WbInstant opened = alight ? later (demo->now, -ALIGHT_MIN) : wb_app_demo_at (demo, day, 17, 0);
  gboolean every = plan->stride == 1;
  gboolean well = TRUE;
  guint place = 0;
  Evening evening;

  if (!open_evening (&evening, demo, run, day, opened, BENCH_ROOM, "Log an evening at the bench", error))
    return FALSE;
  for (guint i = 0; well && i < run->candles->len; i++)
    {
      WbAppDemoCandle *candle = &g_array_index (run->candles, WbAppDemoCandle, i);

      if (candle->ended || (!every && i % plan->samples != cohort))
        continue;
      well = burn_candle (&evening, candle, later (opened, place * STAGGER_MIN), place,
                          alight ? ALIGHT_MIN - place * STAGGER_MIN : INFINITY, error);
      place++;
    }
  return close_evening (&evening, well, error);
}

/* One scented sample alone in another room, rated once. */
static gboolean
burn_throw (WbAppDemo       *demo,
            WbAppDemoRun    *run,
            WbAppDemoCandle *candle,
            int              day,
            GError         **error)
{
  WbInstant opened = wb_app_demo_at (demo, day, 9, 0);
  g_autoptr (WbRecord) burn = NULL;
  g_autoptr (WbRecord) record = NULL;
  WbCraftPhysicsReading seen;
  WbReading *reading;
  Evening evening;
  gboolean well;

  if (!open_evening (&evening, demo, run, day, opened, "Back room", "Rate the throw of a sample", error))
    return FALSE;
  burn = (WbRecord *) light (&evening, candle, WB_BURN_THROW, opened, 0, error);
  if (burn == NULL)
    return close_evening (&evening, FALSE, error);
  wb_craft_physics_candle_read (candle->candle, THROW_MIN, &seen);
  record = wb_record_new (&wb_reading_type);
  reading = (WbReading *) record;
  reading->burn = burn->id;
  reading->elapsed_min = THROW_MIN;
  reading->source = WB_SOURCE_TYPED;
  reading->rater = g_strdup (READER);
  reading->throw_room = g_strdup ("Back room");
  reading->values[WB_COLUMN_THROW] = seen.throw_rating;
  reading->values[WB_COLUMN_ALONE] = 1;
  well = wb_store_change_put (evening.change, reading, error)
         && finish_burn (&evening, candle, (WbBurn *) burn, THROW_MIN, WB_EVENT_SNUFFED, FALSE, NULL, seen.mass_g, error);
  return close_evening (&evening, well, error);
}

static gboolean
all_ended (const WbAppDemoRun *run)
{
  for (guint i = 0; i < run->candles->len; i++)
    if (!g_array_index (run->candles, WbAppDemoCandle, i).ended)
      return FALSE;
  return TRUE;
}

static gboolean
cohort_left (const WbAppDemoRun *run,
             guint               cohort)
{
  for (guint i = 0; i < run->candles->len; i++)
    if (!g_array_index (run->candles, WbAppDemoCandle, i).ended && (run->plan->stride == 1 || i % run->plan->samples == cohort))
      return TRUE;
  return FALSE;
}

gboolean
wb_app_demo_run_burn (WbAppDemo    *demo,
                      WbAppDemoRun *run,
                      int           day,
                      GError      **error)
{
  const WbAppDemoExperiment *plan = run->plan;
  int since = day - plan->first_day;
  int throw_cell = since - THROW_FIRST_DAY;
  guint cohort = plan->stride == 1 ? 0 : (guint) since % plan->stride;

  if (since < 0 || all_ended (run))
    return TRUE;
  if (throw_cell >= 0 && throw_cell < (int) plan->n_cells && plan->cells[throw_cell].fragrance != WB_APP_DEMO_UNSCENTED)
    {
      WbAppDemoCandle *candle = &g_array_index (run->candles, WbAppDemoCandle, (guint) throw_cell * plan->samples);

      if (!candle->ended && !burn_throw (demo, run, candle, day, error))
        return FALSE;
    }
  if (cohort >= plan->samples || !cohort_left (run, cohort))
    return TRUE;
  return burn_cohort (demo, run, day, cohort, error);
}
