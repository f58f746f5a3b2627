/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-pour-private.h"

#include "wb-app-covered-private.h"
#include "wb-app-error-private.h"
#include "wb-app-notebook-private.h"
#include "wb-app-reader-private.h"
#include "wb-clock.h"
#include "wb-craft-lot.h"
#include "wb-store-dataset.h"
#include "wb-store-records.h"

#include <glib/gi18n-lib.h>
#include <math.h>

struct _WbAppPour
{
  GObject         parent_instance;

  WbAppNotebook  *notebook;
  gint64          experiment;

  WbAppPourData  *data;       /* NULL: not loaded */
  GPtrArray      *batches;    /* WbAppPourBatch */
  double          overage_pct;
  double          hold_back_pct; /* NAN: the wax's own */
  double          resolution_g;
};

G_DEFINE_FINAL_TYPE (WbAppPour, wb_app_pour, G_TYPE_OBJECT)

static void
wb_app_pour_finalize (GObject *object)
{
  WbAppPour *self = WB_APP_POUR (object);

  g_clear_object (&self->notebook);
  g_clear_pointer (&self->batches, g_ptr_array_unref);
  g_clear_pointer (&self->data, wb_app_pour_data_free);
  G_OBJECT_CLASS (wb_app_pour_parent_class)->finalize (object);
}

static void
wb_app_pour_class_init (WbAppPourClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = wb_app_pour_finalize;
}

static void
wb_app_pour_init (WbAppPour *self)
{
  self->batches = wb_app_pour_batches_new ();
  self->overage_pct = WB_APP_POUR_USUAL_OVERAGE_PCT;
  self->hold_back_pct = NAN;
  self->resolution_g = WB_APP_POUR_USUAL_RESOLUTION_G;
}

WbAppPour *
wb_app_pour_new (WbAppNotebook *notebook,
                 gint64         experiment)
{
  WbAppPour *self = g_object_new (WB_TYPE_APP_POUR, NULL);

  self->notebook = g_object_ref (notebook);
  self->experiment = experiment;
  return self;
}

const WbFieldSpec *
wb_app_poured_get_spec (WbAppPoured poured)
{
  static const char *const names[WB_APP_N_POURED] = {
    "tare_g", "fill_g", "top_up_g", "wax_height_mm", "wick_offset_mm", "wick_lean_deg", "cavities"
  };

  g_return_val_if_fail (poured < WB_APP_N_POURED, NULL);
  return wb_record_type_find_field (&wb_sample_type, names[poured]);
}

double
wb_app_poured_get (const WbSample *sample,
                   WbAppPoured     poured)
{
  const WbFieldSpec *spec = wb_app_poured_get_spec (poured);

  if (poured != WB_APP_POURED_CAVITIES)
    return wb_record_get_real (sample, spec);
  return wb_record_is_known (sample, spec) ? (double) sample->cavities : NAN;
}

void
wb_app_poured_set (WbSample   *sample,
                   WbAppPoured poured,
                   double      value)
{
  if (poured != WB_APP_POURED_CAVITIES)
    wb_record_set_real (sample, wb_app_poured_get_spec (poured), value);
  else
    sample->cavities = isnan (value) ? WB_INTEGER_NONE : (gint64) round (value);
}

static void
gather (WbAppPour *self)
{
  const WbAppPourTerms terms = { self->overage_pct, self->hold_back_pct, self->resolution_g };

  g_clear_pointer (&self->batches, g_ptr_array_unref);
  self->batches = self->data != NULL ? wb_app_pour_gather (self->data, &terms) : wb_app_pour_batches_new ();
}

WbAppPourData *
wb_app_pour_data_read (WbStore *store,
                       gint64   experiment,
                       GError **error)
{
  WbAppPourData *loaded = g_new0 (WbAppPourData, 1);
  GError *reason = NULL;

  loaded->dataset = wb_store_load_dataset (store, experiment, &reason);
  wb_app_error_propagate_read (error, reason);
  if (loaded->dataset != NULL)
    loaded->parts = wb_store_list (store, &wb_fragrance_part_type, NULL, 0, error);
  if (loaded->parts != NULL)
    loaded->lots = wb_store_list (store, &wb_lot_type, NULL, 0, error);
  if (loaded->lots != NULL)
    loaded->fragrances = wb_store_list (store, &wb_fragrance_type, NULL, 0, error);
  if (loaded->fragrances != NULL)
    loaded->method = wb_store_list (store, &wb_method_step_type, "wax", loaded->dataset->experiment->wax, error);
  if (loaded->method != NULL)
    loaded->typed = wb_app_pour_typed_read (store, experiment, error);
  if (loaded->typed != NULL)
    return loaded;
  wb_app_pour_data_free (loaded);
  return NULL;
}

typedef struct
{
  gint64      experiment;
  WbAppLoads *loads;
} Question;

static void
question_free (gpointer data)
{
  wb_app_loads_unref (((Question *) data)->loads);
  g_free (data);
}

static gpointer
load_in_thread (WbStore      *store,
                gpointer      data,
                GCancellable *cancellable,
                GError      **error)
{
  const Question *question = data;
  g_autoptr (WbAppPourData) loaded = wb_app_pour_data_read (store, question->experiment, error);

  if (loaded == NULL || (loaded->covers = wb_app_covered_read (store, question->loads, loaded->dataset, error)) == NULL)
    return NULL;
  return g_steal_pointer (&loaded);
}

void
wb_app_pour_load_async (WbAppPour          *self,
                        GCancellable       *cancellable,
                        GAsyncReadyCallback callback,
                        gpointer            user)
{
  Question *question;
  GTask *task;

  g_return_if_fail (WB_IS_APP_POUR (self));
  question = g_new (Question, 1);
  *question = (Question) { self->experiment, wb_app_loads_ref (wb_app_notebook_get_loads (self->notebook)) };
  task = g_task_new (self, cancellable, callback, user);
  g_task_set_source_tag (task, wb_app_pour_load_async);
  wb_app_reader_run (self->notebook, task, load_in_thread, question, question_free, (GDestroyNotify) wb_app_pour_data_free);
}

gboolean
wb_app_pour_load_finish (WbAppPour    *self,
                         GAsyncResult *result,
                         GError      **error)
{
  WbAppPourData *loaded;

  g_return_val_if_fail (g_task_is_valid (result, self), FALSE);
  loaded = g_task_propagate_pointer (G_TASK (result), error);
  if (loaded == NULL)
    return FALSE;
  /* The batches borrow from the data: they go first. */
  g_clear_pointer (&self->batches, g_ptr_array_unref);
  g_clear_pointer (&self->data, wb_app_pour_data_free);
  self->data = loaded;
  gather (self);
  return TRUE;
}

const WbDataset *
wb_app_pour_get_data (WbAppPour *self)
{
  g_return_val_if_fail (WB_IS_APP_POUR (self), NULL);
  return self->data != NULL ? self->data->dataset : NULL;
}

const GPtrArray *
wb_app_pour_get_batches (WbAppPour *self)
{
  g_return_val_if_fail (WB_IS_APP_POUR (self), NULL);
  return self->batches;
}

void
wb_app_pour_set_terms (WbAppPour *self,
                       double     overage_pct,
                       double     hold_back_pct,
                       double     resolution_g)
{
  g_return_if_fail (WB_IS_APP_POUR (self));
  self->overage_pct = overage_pct;
  self->hold_back_pct = hold_back_pct;
  self->resolution_g = resolution_g;
  gather (self);
}

/* Lets what was measured stand in place of what was there; what was not measured stays. */
static void
take (double *field,
      double  value)
{
  if (!isnan (value))
    *field = value;
}

static void
take_text (char      **field,
           const char *text)
{
  if (text == NULL || *text == '\0')
    return;
  g_free (*field);
  *field = g_strdup (text);
}

static WbSample *
dup_poured_sample (const WbSample *planned,
                   const WbBatch  *actual,
                   WbInstant       poured_at,
                   const GArray   *poured,
                   const char     *wick_lot,
                   const char     *vessel_lot)
{
  WbSample *sample = wb_record_copy (planned);

  sample->batch = actual->record.id;
  sample->poured_on = wb_batch_get_day (actual);
  sample->poured_at = poured_at;
  take (&sample->pour_c, actual->pour_c);
  take_text (&sample->wax_lot, actual->wax_lot);
  take_text (&sample->fragrance_lot, actual->fragrance_lot);
  take_text (&sample->wick_lot, wick_lot);
  take_text (&sample->vessel_lot, vessel_lot);
  for (guint i = 0; poured != NULL && i < poured->len; i++)
    {
      const WbAppPouredSample *measured = &g_array_index (poured, WbAppPouredSample, i);

      if (measured->sample != planned->record.id)
        continue;
      for (WbAppPoured k = 0; k < WB_APP_N_POURED; k++)
        if (!isnan (measured->values[k]))
          wb_app_poured_set (sample, k, measured->values[k]);
    }
  return sample;
}

static void
wick_lot_clear (gpointer lot)
{
  g_free (((WbAppPourWickLot *) lot)->lot);
}

GArray *
wb_app_pour_wick_lots_new (void)
{
  GArray *lots = g_array_new (FALSE, FALSE, sizeof (WbAppPourWickLot));

  g_array_set_clear_func (lots, wick_lot_clear);
  return lots;
}

static gint64
get_wick (WbAppPour      *self,
          const WbSample *sample)
{
  const WbDataset *data = self->data->dataset;

  for (guint k = 0; k < data->cells->len; k++)
    if (wb_dataset_get_cell (data, k)->record.id == sample->cell)
      return wb_dataset_get_cell (data, k)->wick;
  return 0;
}

/* What was said of its wick, else what was said of all. */
static const char *
find_wick_lot (WbAppPour      *self,
               const WbSample *sample,
               const GArray   *wick_lots,
               const char     *wick_lot)
{
  gint64 wick = get_wick (self, sample);

  for (guint i = 0; wick_lots != NULL && i < wick_lots->len; i++)
    if (g_array_index (wick_lots, WbAppPourWickLot, i).wick == wick)
      return g_array_index (wick_lots, WbAppPourWickLot, i).lot;
  return wick_lot;
}

/* When it was poured by its step; unknown: the day alone. */
static WbInstant
find_pour (const GPtrArray *steps)
{
  for (guint i = 0; steps != NULL && i < steps->len; i++)
    if (((const WbBatchStep *) g_ptr_array_index (steps, i))->kind == WB_STEP_POUR)
      return ((const WbBatchStep *) g_ptr_array_index (steps, i))->done_at;
  return WB_INSTANT_NONE;
}

static WbRecord *
dup_step (const WbBatchStep *step,
          const WbBatch     *batch,
          guint              number)
{
  WbBatchStep *copy = wb_record_copy (step);

  copy->batch = batch->record.id;
  if (copy->record.id <= 0)
    copy->record.id = 0;
  return &copy->record;
}

static void
on_marked_cb (GObject      *source,
              GAsyncResult *result,
              gpointer      user_data)
{
  g_autoptr (GTask) task = user_data;
  g_autoptr (GError) error = NULL;

  wb_app_notebook_save_finish (WB_APP_NOTEBOOK (source), result, NULL, &error);
  if (error != NULL)
    g_task_return_error (task, g_steal_pointer (&error));
  else
    g_task_return_boolean (task, TRUE);
}

/* What all samples of a batch have in that field of their cell, a reference; 0: several. */
static gint64
find_common (WbAppPour            *self,
             const WbAppPourBatch *batch,
             const char           *name)
{
  const WbFieldSpec *field = wb_record_type_find_field (&wb_cell_type, name);
  gint64 common = 0;

  for (guint i = 0; i < batch->samples->len; i++)
    {
      const WbSample *sample = g_ptr_array_index (batch->samples, i);

      for (guint k = 0; k < self->data->dataset->cells->len; k++)
        {
          const WbCell *cell = wb_dataset_get_cell (self->data->dataset, k);
          gint64 own = wb_record_get_integer (cell, field);

          if (cell->record.id != sample->cell)
            continue;
          if (common != 0 && common != own)
            return 0;
          common = own;
        }
    }
  return common;
}

gint64
wb_app_pour_find_wick (WbAppPour            *self,
                       const WbAppPourBatch *batch)
{
  g_return_val_if_fail (WB_IS_APP_POUR (self), 0);
  g_return_val_if_fail (batch != NULL, 0);
  return find_common (self, batch, "wick");
}

GPtrArray *
wb_app_pour_dup_wicks (WbAppPour            *self,
                       const WbAppPourBatch *batch)
{
  GPtrArray *wicks = g_ptr_array_new ();
  const WbDataset *data;

  g_return_val_if_fail (WB_IS_APP_POUR (self) && batch != NULL, wicks);

  data = self->data->dataset;
  for (guint k = 0; k < data->cells->len; k++)
    {
      const WbWick *wick = wb_dataset_get_wick (data, k);

      for (guint i = 0; i < batch->samples->len; i++)
        if (((const WbSample *) g_ptr_array_index (batch->samples, i))->cell == wb_dataset_get_cell (data, k)->record.id
            && !g_ptr_array_find (wicks, wick, NULL))
          g_ptr_array_add (wicks, (gpointer) wick);
    }
  return wicks;
}

gint64
wb_app_pour_find_vessel (WbAppPour            *self,
                         const WbAppPourBatch *batch)
{
  g_return_val_if_fail (WB_IS_APP_POUR (self), 0);
  g_return_val_if_fail (batch != NULL, 0);
  return find_common (self, batch, "vessel");
}

const GPtrArray *
wb_app_pour_get_lots (WbAppPour *self)
{
  g_return_val_if_fail (WB_IS_APP_POUR (self), NULL);
  return self->data != NULL ? self->data->lots : NULL;
}

char *
wb_app_pour_dup_lack (WbAppPour    *self,
                      const GArray *cells,
                      gint64        material,
                      const char   *text)
{
  g_return_val_if_fail (WB_IS_APP_POUR (self) && cells != NULL, NULL);
  return self->data != NULL ? wb_app_covered_dup_lack (self->data->covers, cells, material, text) : NULL;
}

const GPtrArray *
wb_app_pour_get_parts (WbAppPour *self)
{
  g_return_val_if_fail (WB_IS_APP_POUR (self), NULL);
  return self->data != NULL ? self->data->parts : NULL;
}

/* A code that is no lot yet becomes one in the entry that says it was poured. Wick's and vessel's only where there is one. */
static void
add_lots (WbAppPour            *self,
          GPtrArray            *records,
          const WbAppPourBatch *marked,
          const WbBatch        *record,
          const char           *wick_lot,
          const GArray         *wick_lots,
          const char           *vessel_lot)
{
  const WbDataset *data = self->data->dataset;
  WbDay day = wb_batch_get_day (record);
  const struct { gint64 material; const char *text; } told[] = {
    { data->experiment->wax, record->wax_lot },
    { record->fragrance, record->fragrance_lot },
    { data->experiment->dye, record->dye_lot },
    { data->experiment->additive, record->additive_lot },
    { wb_app_pour_find_wick (self, marked), wick_lot },
    { wb_app_pour_find_vessel (self, marked), vessel_lot },
  };

  for (guint i = 0; i < G_N_ELEMENTS (told); i++)
    {
      g_autoptr (GArray) owners = wb_craft_lot_dup_owners (told[i].material, self->data->parts);

      if (told[i].material != 0)
        wb_craft_lot_add_missing (records, self->data->lots, (const gint64 *) (gpointer) owners->data, owners->len, told[i].text, day);
    }
  for (guint i = 0; wick_lots != NULL && i < wick_lots->len; i++)
    {
      const WbAppPourWickLot *lot = &g_array_index (wick_lots, WbAppPourWickLot, i);

      wb_craft_lot_add_missing (records, self->data->lots, &lot->wick, 1, lot->lot, day);
    }
}

void
wb_app_pour_mark_async (WbAppPour          *self,
                        guint               batch,
                        const WbBatch      *actual,
                        const GPtrArray    *steps,
                        const GArray       *poured,
                        const char         *wick_lot,
                        const GArray       *wick_lots,
                        const char         *vessel_lot,
                        GCancellable       *cancellable,
                        GAsyncReadyCallback callback,
                        gpointer            user)
{
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (wb_record_free);
  g_autofree char *why = NULL;
  const WbAppPourBatch *marked;
  WbBatch *record;
  GTask *task;

  g_return_if_fail (WB_IS_APP_POUR (self));
  g_return_if_fail (batch < self->batches->len);
  task = g_task_new (self, cancellable, callback, user);
  g_task_set_source_tag (task, wb_app_pour_mark_async);
  g_task_set_check_cancellable (task, FALSE);
  marked = g_ptr_array_index (self->batches, batch);
  if (marked->poured)
    {
      g_task_return_new_error (task, WB_APP_ERROR, WB_APP_ERROR_REFUSED, _("%s is poured already"), marked->title);
      g_object_unref (task);
      return;
    }

  record = wb_record_copy (actual);
  if (record->record.id <= 0)
    record->record.id = -1;
  if (!wb_batch_is_poured (record))
    record->poured_at = wb_clock_now (wb_clock_get ());
  record->poured_on = wb_batch_get_day (record);
  g_ptr_array_add (records, record);
  for (guint i = 0; i < marked->samples->len; i++)
    g_ptr_array_add (records, dup_poured_sample (g_ptr_array_index (marked->samples, i), record, find_pour (steps), poured,
                                                find_wick_lot (self, g_ptr_array_index (marked->samples, i), wick_lots, wick_lot), vessel_lot));
  for (guint i = 0; steps != NULL && i < steps->len; i++)
    g_ptr_array_add (records, dup_step (g_ptr_array_index (steps, i), record, i));
  add_lots (self, records, marked, record, wick_lot, wick_lots, vessel_lot);
  why = g_strdup_printf (_("Pour batch %s of %s"), record->code, self->data->dataset->experiment->code);
  wb_app_notebook_save_topic_async (self->notebook, "pour", why, records, cancellable, on_marked_cb, task);
}

gboolean
wb_app_pour_mark_finish (WbAppPour    *self,
                         GAsyncResult *result,
                         GError      **error)
{
  g_return_val_if_fail (g_task_is_valid (result, self), FALSE);
  return g_task_propagate_boolean (G_TASK (result), error);
}

/* ---- What was found once it had set ---- */

/* The record as the notebook has it; NULL: it is not of this batch. */
static gconstpointer
find_record (const GPtrArray *records,
             gint64           id)
{
  for (guint i = 0; i < records->len; i++)
    if (((const WbRecord *) g_ptr_array_index (records, i))->id == id)
      return g_ptr_array_index (records, i);
  return NULL;
}

static void
add_changed (GPtrArray     *records,
             gconstpointer  was,
             gconstpointer  is)
{
  if (was != NULL && !wb_record_equal (was, is))
    g_ptr_array_add (records, wb_record_copy (is));
}

void
wb_app_pour_note_async (WbAppPour          *self,
                        guint               batch,
                        const WbBatch      *actual,
                        const GPtrArray    *samples,
                        const GPtrArray    *steps,
                        GCancellable       *cancellable,
                        GAsyncReadyCallback callback,
                        gpointer            user)
{
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (wb_record_free);
  g_autofree char *why = NULL;
  const WbAppPourBatch *noted;
  guint n_found;
  GTask *task;

  g_return_if_fail (WB_IS_APP_POUR (self));
  g_return_if_fail (batch < self->batches->len && actual != NULL && samples != NULL && steps != NULL);

  task = g_task_new (self, cancellable, callback, user);
  g_task_set_source_tag (task, wb_app_pour_note_async);
  g_task_set_check_cancellable (task, FALSE);
  noted = g_ptr_array_index (self->batches, batch);
  add_changed (records, noted->batch, actual);
  for (guint i = 0; i < samples->len; i++)
    add_changed (records, find_record (noted->samples, ((const WbRecord *) g_ptr_array_index (samples, i))->id), g_ptr_array_index (samples, i));
  n_found = records->len;
  for (guint i = 0; i < steps->len; i++)
    add_changed (records, find_record (noted->steps, ((const WbRecord *) g_ptr_array_index (steps, i))->id), g_ptr_array_index (steps, i));
  if (records->len == 0)
    {
      g_task_return_boolean (task, TRUE);
      g_object_unref (task);
      return;
    }
  why = g_strdup_printf (n_found > 0 ? _("What was found of batch %s of %s") : _("Later steps of batch %s of %s"), noted->batch->code, self->data->dataset->experiment->code);
  wb_app_notebook_save_topic_async (self->notebook, "pour", why, records, cancellable, on_marked_cb, task);
}

gboolean
wb_app_pour_note_finish (WbAppPour    *self,
                         GAsyncResult *result,
                         GError      **error)
{
  g_return_val_if_fail (g_task_is_valid (result, self), FALSE);
  return g_task_propagate_boolean (G_TASK (result), error);
}
