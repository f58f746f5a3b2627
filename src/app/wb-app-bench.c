/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-bench-clock-private.h"

#include "wb-app-items-private.h"
#include "wb-app-notebook-private.h"
#include "wb-app-reader-private.h"
#include "wb-app-row-private.h"
#include "wb-clock.h"
#include "wb-craft-decision.h"

/*
 * Everything shown comes from the record by one way: a change of the notebook
 * is read in a thread, experiments that did not change are kept, samples keep
 * their objects. Between changes only the clock moves them, and it moves few:
 * a notebook may hold thousands that wait, and a reading or a tick looks at
 * the live ones and at those of the experiment that changed.
 */

#define TICK_MS 1000
/* The test clock may run fast. */
#define TEST_TICK_MS 200

struct _WbAppBench
{
  GObject        parent_instance;

  WbAppNotebook *notebook;
  GCancellable  *cancellable;

  GPtrArray     *loads;    /* WbAppBenchLoad */
  GHashTable    *samples;  /* id (gint64 *) -> WbAppBenchSample, all of the loads */
  GPtrArray     *live;     /* WbAppBenchSample: those of them that the clock can move, in the list's order */
  GPtrArray     *items;    /* WbAppBenchSample, as listed */
  gboolean       relist;   /* what is listed, or its order, has changed */
  gint64         updated_us; /* by the wall clock */
  gboolean       us_units; /* as told to the samples last */
  WbSession     *session;  /* NULL: none open */
  guint64        n_sessions; /* of the record */
  WbAppBenchPending pending;
  WbAppRow      *row;      /* NULL: none is lit or snuffed */
  GError        *error;

  guint          alight;
  guint          due;
  guint          found_open;
  guint          unsure;
  gboolean       loaded;
  gboolean       loading;
  gboolean       again;
  guint          tick;     /* source id; 0: nothing burns */
};

enum { PROP_0, PROP_LOADED, PROP_SESSION_OPEN, PROP_ALIGHT, PROP_DUE, PROP_FOUND_OPEN, PROP_UNSURE, N_PROPS };
enum { SIGNAL_TICK, N_SIGNALS };

static GParamSpec *properties[N_PROPS];
static guint signals[N_SIGNALS];

static GType
get_item_type (GListModel *model)
{
  return WB_TYPE_APP_BENCH_SAMPLE;
}

static guint
get_n_items (GListModel *model)
{
  return WB_APP_BENCH (model)->items->len;
}

static gpointer
get_item (GListModel *model,
          guint       position)
{
  WbAppBench *self = WB_APP_BENCH (model);

  return position < self->items->len ? g_object_ref (g_ptr_array_index (self->items, position)) : NULL;
}

static void
list_model_init (GListModelInterface *iface)
{
  iface->get_item_type = get_item_type;
  iface->get_n_items = get_n_items;
  iface->get_item = get_item;
}

G_DEFINE_FINAL_TYPE_WITH_CODE (WbAppBench, wb_app_bench, G_TYPE_OBJECT,
                               G_IMPLEMENT_INTERFACE (G_TYPE_LIST_MODEL, list_model_init))

static gboolean
uses_us_units (WbAppBench *self)
{
  const WbNotebook *settings = wb_app_notebook_get_settings (self->notebook);

  return settings != NULL && settings->us_units;
}

static void
set_count (WbAppBench *self,
           guint      *field,
           guint       value,
           int         prop)
{
  if (*field == value)
    return;
  *field = value;
  g_object_notify_by_pspec (G_OBJECT (self), properties[prop]);
}

/* A sample that cooled or cured so long ago does not go back, unless the clock does. */
#define SETTLED_US (24 * 3600 * (gint64) G_USEC_PER_SEC)

/* What was burnt from a file and waits, is over a limit or at its end stands still until the record says something else of it. */
static gboolean
is_live (WbAppBenchSample *sample,
         gint64            now_us)
{
  const WbBurn *burn = wb_app_bench_sample_get_burn (sample);
  WbAppBenchState state = wb_app_bench_sample_get_state (sample);
  WbInstant fit_at = wb_app_bench_sample_get_fit_at (sample);

  return (burn != NULL && burn->session != 0) || wb_app_bench_sample_is_counted (sample)
         || state == WB_APP_BENCH_CURING || state == WB_APP_BENCH_COOLING
         || (fit_at.known && fit_at.utc_us > now_us - SETTLED_US);
}

static void
wake_all (WbAppBench *self)
{
  GHashTableIter iter;
  gpointer sample;

  g_ptr_array_unref (self->live);
  self->live = g_ptr_array_new_with_free_func (g_object_unref);
  g_hash_table_iter_init (&iter, self->samples);
  while (g_hash_table_iter_next (&iter, NULL, &sample))
    g_ptr_array_add (self->live, g_object_ref (sample));
}

static void
update_samples (WbAppBench *self)
{
  g_autoptr (GPtrArray) before = NULL;
  GPtrArray *live = g_ptr_array_new_with_free_func (g_object_unref);
  gint64 now_us = wb_clock_now (wb_clock_get ()).utc_us;
  gboolean us_units = uses_us_units (self);
  guint alight = 0, due = 0, unsure = 0;

  if (us_units != self->us_units || now_us < self->updated_us)
    wake_all (self);
  self->us_units = us_units;
  self->updated_us = now_us;
  before = g_ptr_array_ref (self->live);
  for (guint i = 0; i < before->len; i++)
    {
      WbAppBenchSample *sample = g_ptr_array_index (before, i);
      WbAppBenchState was = wb_app_bench_sample_get_state (sample);

      wb_app_bench_sample_update (sample, us_units);
      self->relist |= wb_app_bench_sample_get_state (sample) != was;
      alight += wb_app_bench_sample_get_state (sample) == WB_APP_BENCH_ALIGHT;
      due += wb_app_bench_sample_get_overdue (sample);
      unsure += wb_app_bench_sample_get_unsure (sample, NULL);
      if (is_live (sample, now_us))
        g_ptr_array_add (live, g_object_ref (sample));
    }
  g_ptr_array_sort (live, wb_app_bench_sample_order);
  g_ptr_array_unref (self->live);
  self->live = live;
  wb_app_row_update (self->row, self);
  set_count (self, &self->alight, alight, PROP_ALIGHT);
  set_count (self, &self->due, due, PROP_DUE);
  set_count (self, &self->unsure, unsure, PROP_UNSURE);
}

/* A sample that is neither poured nor burnt has no place at the bench yet. */
static gboolean
has_place (WbAppBenchSample *sample)
{
  const WbSample *record = wb_app_bench_sample_get_record (sample);

  return record->poured_on != WB_DAY_NONE || record->batch != 0 || wb_app_bench_sample_get_burn (sample) != NULL;
}

static gboolean
is_listed (WbAppBenchSample *sample)
{
  return wb_app_bench_sample_get_state (sample) != WB_APP_BENCH_ENDED && has_place (sample);
}

/* Codes are unique in an experiment; logs that were brought in may repeat those of another. */
static void
tell_twins_apart (const GPtrArray *samples)
{
  g_autoptr (GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);

  for (guint i = 0; i < samples->len; i++)
    {
      const char *code = wb_app_bench_sample_get_record (g_ptr_array_index (samples, i))->code;

      g_hash_table_replace (seen, (gpointer) code, GINT_TO_POINTER (GPOINTER_TO_INT (g_hash_table_lookup (seen, code)) + 1));
    }
  for (guint i = 0; i < samples->len; i++)
    {
      WbAppBenchSample *sample = g_ptr_array_index (samples, i);
      const char *code = wb_app_bench_sample_get_record (sample)->code;

      wb_app_bench_sample_set_twin (sample, GPOINTER_TO_INT (g_hash_table_lookup (seen, code)) > 1);
    }
}

static void
list_samples (WbAppBench *self)
{
  GPtrArray *fresh;
  GHashTableIter iter;
  gpointer sample;

  if (!self->relist)
    return;
  self->relist = FALSE;
  fresh = g_ptr_array_new_with_free_func (g_object_unref);
  g_hash_table_iter_init (&iter, self->samples);
  while (g_hash_table_iter_next (&iter, NULL, &sample))
    if (is_listed (sample))
      g_ptr_array_add (fresh, g_object_ref (sample));
  tell_twins_apart (fresh);
  g_ptr_array_sort (fresh, wb_app_bench_sample_order);
  wb_app_items_replace (G_LIST_MODEL (self), &self->items, fresh);
}

static gboolean
on_tick_cb (gpointer data)
{
  wb_app_bench_update (data);
  return G_SOURCE_CONTINUE;
}

/* A cure or a cooling that ends moves a sample too, but a minute more or less does not matter there. */
static void
set_ticking (WbAppBench *self)
{
  guint every_ms = wb_clock_is_test (wb_clock_get ()) ? TEST_TICK_MS : TICK_MS;

  if (self->alight == 0)
    every_ms *= 10;
  g_clear_handle_id (&self->tick, g_source_remove);
  if (g_hash_table_size (self->samples) > 0)
    self->tick = g_timeout_add (every_ms, on_tick_cb, self);
}

/* Gives the sample what is new of it, and sees whether that moves it in the list. What its state says comes with its update. */
static void
take_sample (WbAppBench       *self,
             WbAppBenchSample *sample,
             WbAppBenchLoad   *load,
             guint             index)
{
  g_autofree char *code = g_strdup (wb_app_bench_sample_get_record (sample)->code);
  g_autofree char *of = g_strdup (wb_app_bench_sample_get_data (sample)->experiment->code);
  g_autofree char *place = g_strdup (wb_app_bench_sample_get_place (sample));
  gboolean had_place = has_place (sample);
  gint64 experiment = wb_app_bench_sample_get_experiment (sample);
  gint64 cohort = wb_app_bench_sample_get_record (sample)->cohort, turn = wb_app_bench_sample_get_load (sample)->cohort;

  wb_app_bench_sample_take (sample, load, index);
  self->relist |= had_place != has_place (sample) || experiment != wb_app_bench_sample_get_experiment (sample)
                  || g_strcmp0 (code, wb_app_bench_sample_get_record (sample)->code) != 0
                  || g_strcmp0 (of, wb_app_bench_sample_get_data (sample)->experiment->code) != 0
                  || g_strcmp0 (place, wb_app_bench_sample_get_place (sample)) != 0
                  || cohort != wb_app_bench_sample_get_record (sample)->cohort || turn != wb_app_bench_sample_get_load (sample)->cohort;
}

/* Of a load that is new here; `left` are the samples of the loads that are gone. */
static void
take_load (WbAppBench     *self,
           WbAppBenchLoad *load,
           GHashTable     *left)
{
  for (guint k = 0; k < load->data->samples->len; k++)
    {
      gint64 id = wb_dataset_get_sample (load->data, k)->record.id;
      WbAppBenchSample *sample = g_hash_table_lookup (self->samples, &id);

      g_hash_table_remove (left, &id);
      if (sample != NULL)
        take_sample (self, sample, load, k);
      if (sample != NULL && g_ptr_array_find (self->live, sample, NULL))
        continue;
      if (sample == NULL)
        {
          sample = wb_app_bench_sample_new (load, k);
          g_hash_table_insert (self->samples, g_memdup2 (&id, sizeof id), sample);
          self->relist = TRUE;
        }
      g_ptr_array_add (self->live, g_object_ref (sample));
    }
}

static void
add_left (const WbAppBenchLoad *load,
          GHashTable           *left)
{
  for (guint k = 0; k < load->data->samples->len; k++)
    {
      gint64 id = wb_dataset_get_sample (load->data, k)->record.id;

      g_hash_table_add (left, g_memdup2 (&id, sizeof id));
    }
}

static void
drop_sample (WbAppBench *self,
             gint64      id)
{
  g_ptr_array_remove (self->live, wb_app_bench_find (self, id));
  g_hash_table_remove (self->samples, &id);
  self->relist = TRUE;
}

/* Keeps the object of each sample that is still there; an experiment that no entry touched is not looked at. */
static void
take_loads (WbAppBench *self,
            GPtrArray  *loads)
{
  g_autoptr (GHashTable) left = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  g_autoptr (GPtrArray) before = self->loads;
  GHashTableIter iter;
  gpointer id;

  self->loads = g_ptr_array_ref (loads);
  for (guint i = 0; i < before->len; i++)
    if (!g_ptr_array_find (loads, g_ptr_array_index (before, i), NULL))
      add_left (g_ptr_array_index (before, i), left);
  for (guint i = 0; i < loads->len; i++)
    if (!g_ptr_array_find (before, g_ptr_array_index (loads, i), NULL))
      take_load (self, g_ptr_array_index (loads, i), left);
  g_hash_table_iter_init (&iter, left);
  while (g_hash_table_iter_next (&iter, &id, NULL))
    drop_sample (self, *(gint64 *) id);
}

static void
take_session (WbAppBench *self,
              WbSession  *session)
{
  gboolean was_open = self->session != NULL;

  g_clear_pointer (&self->session, wb_record_free);
  self->session = session;
  if (was_open != (session != NULL))
    g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_SESSION_OPEN]);
}

static void load (WbAppBench *self);

static void
on_read_cb (GObject      *source,
            GAsyncResult *result,
            gpointer      user_data)
{
  g_autoptr (GError) error = NULL;
  WbAppBenchRead *read = g_task_propagate_pointer (G_TASK (result), &error);
  WbAppBench *self;

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  self = WB_APP_BENCH (user_data);
  self->loading = FALSE;
  g_clear_error (&self->error);
  if (read == NULL)
    {
      self->error = g_steal_pointer (&error);
      /* what changed meanwhile is asked for all the same */
      if (self->again)
        load (self);
      return;
    }
  take_loads (self, read->loads);
  take_session (self, g_steal_pointer (&read->session));
  self->n_sessions = read->n_sessions;
  wb_app_bench_keep_running (self, read->running, read->last_entry);
  if (read->entry > self->pending.after)
    self->pending.session = 0;
  wb_app_bench_read_free (read);
  wb_app_notebook_look_at_clock (self->notebook);
  update_samples (self);
  wb_app_bench_update_room (self);
  list_samples (self);
  if (!self->loaded)
    {
      self->loaded = TRUE;
      set_count (self, &self->found_open, self->alight, PROP_FOUND_OPEN);
      g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_LOADED]);
    }
  else if (self->alight == 0 && self->found_open > 0)
    set_count (self, &self->found_open, 0, PROP_FOUND_OPEN); /* each was snuffed or went out: nothing is left to ask */
  set_ticking (self);
  g_signal_emit (self, signals[SIGNAL_TICK], 0);
  if (self->again)
    load (self);
}

static void
load (WbAppBench *self)
{
  GTask *task;

  self->again = self->loading;
  if (self->loading)
    return;
  self->loading = TRUE;
  task = g_task_new (NULL, self->cancellable, on_read_cb, self);
  wb_app_reader_run (self->notebook, task, wb_app_bench_read_thread,
                     wb_app_loads_ref (wb_app_notebook_get_loads (self->notebook)), (GDestroyNotify) wb_app_loads_unref,
                     (GDestroyNotify) wb_app_bench_read_free);
}

static void
on_notebook_changed_cb (WbAppBench *self)
{
  load (self);
}

static void
wb_app_bench_get_property (GObject    *object,
                           guint       prop_id,
                           GValue     *value,
                           GParamSpec *pspec)
{
  WbAppBench *self = WB_APP_BENCH (object);

  switch (prop_id)
    {
    case PROP_LOADED:
      g_value_set_boolean (value, self->loaded);
      break;
    case PROP_SESSION_OPEN:
      g_value_set_boolean (value, self->session != NULL);
      break;
    case PROP_ALIGHT:
      g_value_set_uint (value, self->alight);
      break;
    case PROP_DUE:
      g_value_set_uint (value, self->due);
      break;
    case PROP_FOUND_OPEN:
      g_value_set_uint (value, self->found_open);
      break;
    case PROP_UNSURE:
      g_value_set_uint (value, self->unsure);
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, prop_id, pspec);
    }
}

static void
wb_app_bench_dispose (GObject *object)
{
  WbAppBench *self = WB_APP_BENCH (object);

  g_cancellable_cancel (self->cancellable);
  g_clear_handle_id (&self->tick, g_source_remove);
  g_clear_object (&self->notebook);
  G_OBJECT_CLASS (wb_app_bench_parent_class)->dispose (object);
}

static void
wb_app_bench_finalize (GObject *object)
{
  WbAppBench *self = WB_APP_BENCH (object);

  g_object_unref (self->cancellable);
  g_ptr_array_unref (self->items);
  g_ptr_array_unref (self->live);
  g_hash_table_unref (self->samples);
  g_ptr_array_unref (self->loads);
  g_clear_pointer (&self->session, wb_record_free);
  g_clear_pointer (&self->row, wb_app_row_free);
  g_clear_error (&self->error);
  G_OBJECT_CLASS (wb_app_bench_parent_class)->finalize (object);
}

static void
wb_app_bench_class_init (WbAppBenchClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  const GParamFlags flags = G_PARAM_READABLE | G_PARAM_STATIC_STRINGS;

  object_class->get_property = wb_app_bench_get_property;
  object_class->dispose = wb_app_bench_dispose;
  object_class->finalize = wb_app_bench_finalize;

  properties[PROP_LOADED] = g_param_spec_boolean ("loaded", NULL, NULL, FALSE, flags);
  properties[PROP_SESSION_OPEN] = g_param_spec_boolean ("session-open", NULL, NULL, FALSE, flags);
  properties[PROP_ALIGHT] = g_param_spec_uint ("alight", NULL, NULL, 0, G_MAXUINT, 0, flags);
  properties[PROP_DUE] = g_param_spec_uint ("due", NULL, NULL, 0, G_MAXUINT, 0, flags);
  properties[PROP_FOUND_OPEN] = g_param_spec_uint ("found-open", NULL, NULL, 0, G_MAXUINT, 0, flags);
  properties[PROP_UNSURE] = g_param_spec_uint ("unsure", NULL, NULL, 0, G_MAXUINT, 0, flags);
  g_object_class_install_properties (object_class, N_PROPS, properties);

  signals[SIGNAL_TICK] = g_signal_new ("tick", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
wb_app_bench_init (WbAppBench *self)
{
  self->cancellable = g_cancellable_new ();
  self->items = g_ptr_array_new_with_free_func (g_object_unref);
  self->live = g_ptr_array_new_with_free_func (g_object_unref);
  self->loads = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_app_bench_load_unref);
  self->samples = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_object_unref);
}

WbAppBench *
wb_app_bench_new (WbAppNotebook *notebook)
{
  WbAppBench *self = g_object_new (WB_TYPE_APP_BENCH, NULL);

  self->notebook = g_object_ref (notebook);
  g_signal_connect_object (notebook, "changed", G_CALLBACK (on_notebook_changed_cb), self, G_CONNECT_SWAPPED);
  load (self);
  return self;
}

gboolean
wb_app_bench_is_behind (WbAppBench *self)
{
  g_return_val_if_fail (WB_IS_APP_BENCH (self), FALSE);
  return self->loading || self->again;
}

gboolean
wb_app_bench_get_loaded (WbAppBench *self)
{
  g_return_val_if_fail (WB_IS_APP_BENCH (self), FALSE);
  return self->loaded;
}

guint
wb_app_bench_get_alight (WbAppBench *self)
{
  g_return_val_if_fail (WB_IS_APP_BENCH (self), 0);
  return self->alight;
}

guint
wb_app_bench_get_due (WbAppBench *self)
{
  g_return_val_if_fail (WB_IS_APP_BENCH (self), 0);
  return self->due;
}

guint
wb_app_bench_get_found_open (WbAppBench *self)
{
  g_return_val_if_fail (WB_IS_APP_BENCH (self), 0);
  return self->found_open;
}

guint
wb_app_bench_get_unsure (WbAppBench *self)
{
  g_return_val_if_fail (WB_IS_APP_BENCH (self), 0);
  return self->unsure;
}

void
wb_app_bench_acknowledge_found (WbAppBench *self)
{
  g_return_if_fail (WB_IS_APP_BENCH (self));
  set_count (self, &self->found_open, 0, PROP_FOUND_OPEN);
}

WbAppBenchSample *
wb_app_bench_find (WbAppBench *self,
                   gint64      sample)
{
  g_return_val_if_fail (WB_IS_APP_BENCH (self), NULL);
  return g_hash_table_lookup (self->samples, &sample);
}

GPtrArray *
wb_app_bench_dup_of_experiment (WbAppBench *self,
                                gint64      experiment)
{
  GPtrArray *found = g_ptr_array_new ();

  g_return_val_if_fail (WB_IS_APP_BENCH (self), found);
  for (guint i = 0; i < self->loads->len; i++)
    {
      const WbAppBenchLoad *of = g_ptr_array_index (self->loads, i);

      for (guint k = 0; of->id == experiment && k < of->data->samples->len; k++)
        {
          WbAppBenchSample *sample = wb_app_bench_find (self, wb_dataset_get_sample (of->data, k)->record.id);

          if (has_place (sample))
            g_ptr_array_add (found, sample);
        }
    }
  g_ptr_array_sort (found, wb_app_bench_sample_order);
  return found;
}

WbAppBenchSample *
wb_app_bench_get_next_due (WbAppBench *self)
{
  WbAppBenchSample *next = NULL;

  g_return_val_if_fail (WB_IS_APP_BENCH (self), NULL);
  for (guint i = 0; i < self->live->len; i++)
    {
      WbAppBenchSample *sample = g_ptr_array_index (self->live, i);

      if (wb_app_bench_sample_get_state (sample) == WB_APP_BENCH_ALIGHT
          && (next == NULL || wb_app_bench_sample_get_due_in_s (sample) < wb_app_bench_sample_get_due_in_s (next)))
        next = sample;
    }
  return next;
}

const GError *
wb_app_bench_get_error (WbAppBench *self)
{
  g_return_val_if_fail (WB_IS_APP_BENCH (self), NULL);
  return self->error;
}

void
wb_app_bench_update (WbAppBench *self)
{
  g_return_if_fail (WB_IS_APP_BENCH (self));
  wb_app_notebook_look_at_clock (self->notebook);
  update_samples (self);
  list_samples (self);
  g_signal_emit (self, signals[SIGNAL_TICK], 0);
}

const WbSession *
wb_app_bench_get_session (WbAppBench *self)
{
  g_return_val_if_fail (WB_IS_APP_BENCH (self), NULL);
  return self->session;
}

GPtrArray *
wb_app_bench_check_values (WbAppBenchSample *sample,
                           const double      values[WB_N_COLUMNS])
{
  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (sample), NULL);
  return wb_app_bench_check (wb_app_bench_sample_get_limits (sample), values, wb_app_bench_sample_get_us_units (sample));
}

WbAppNotebook *
wb_app_bench_get_notebook (WbAppBench *self)
{
  return self->notebook;
}

guint64
wb_app_bench_get_seed (WbAppBench *self)
{
  if (self->session == NULL)
    return wb_app_bench_get_next_seed (self);
  /* Of a record that says none the number stands, as it did when that session was opened. */
  return self->session->seed > 0 ? (guint64) self->session->seed : self->n_sessions;
}

guint64
wb_app_bench_get_next_seed (WbAppBench *self)
{
  return self->n_sessions + 1;
}

WbAppRow **
wb_app_bench_peek_row (WbAppBench *self)
{
  return &self->row;
}

const WbAppBenchPending *
wb_app_bench_get_pending (WbAppBench *self)
{
  return &self->pending;
}

void
wb_app_bench_keep_pending (WbAppBench *self,
                           gint64      session,
                           gint64      at_us,
                           double      room_c,
                           double      draught)
{
  self->pending = (WbAppBenchPending) { { room_c, draught }, at_us, session, wb_app_notebook_get_last_entry (self->notebook) };
  wb_app_bench_update_room (self);
}

const GPtrArray *
wb_app_bench_get_live (WbAppBench *self)
{
  return self->live;
}

const GPtrArray *
wb_app_bench_get_loads (WbAppBench *self)
{
  return self->loads;
}

GHashTable *
wb_app_bench_get_samples (WbAppBench *self)
{
  return self->samples;
}

static gboolean
all_ended (WbAppBench     *self,
           WbAppBenchLoad *load_of)
{
  for (guint i = 0; i < load_of->data->samples->len; i++)
    {
      WbAppBenchSample *sample = wb_app_bench_find (self, wb_dataset_get_sample (load_of->data, i)->record.id);

      if (sample == NULL || wb_app_bench_sample_get_state (sample) != WB_APP_BENCH_ENDED)
        return FALSE;
    }
  return load_of->data->samples->len > 0;
}

GPtrArray *
wb_app_bench_list_undecided (WbAppBench *self)
{
  GPtrArray *undecided = g_ptr_array_new ();

  for (guint i = 0; i < self->loads->len; i++)
    {
      WbAppBenchLoad *candidate = g_ptr_array_index (self->loads, i);

      if (wb_craft_decision_count_undecided (candidate->data, NULL) > 0 && all_ended (self, candidate))
        g_ptr_array_add (undecided, candidate);
    }
  return undecided;
}
