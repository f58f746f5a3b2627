/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-query.h"

#include "wb-app-error-private.h"
#include "wb-app-listing-private.h"
#include "wb-app-notebook-private.h"
#include "wb-app-reader-private.h"
#include "wb-store-dataset.h"
#include "wb-store-records.h"

#include <glib/gi18n-lib.h>

typedef struct
{
  const WbRecordType *type;
  char               *field;
  gint64              value;
} Question;

static Question *
question_new (const WbRecordType *type,
              const char         *field,
              gint64              value)
{
  Question *self = g_new0 (Question, 1);

  self->type = type;
  self->field = g_strdup (field);
  self->value = value;
  return self;
}

static void
question_free (gpointer data)
{
  Question *self = data;

  g_free (self->field);
  g_free (self);
}

static void
ask (WbAppNotebook      *notebook,
     gpointer            tag,
     WbAppReaderFunc     func,
     Question           *question,
     GDestroyNotify      free_result,
     GCancellable       *cancellable,
     GAsyncReadyCallback callback,
     gpointer            user)
{
  GTask *task = g_task_new (notebook, cancellable, callback, user);

  g_task_set_source_tag (task, tag);
  wb_app_reader_run (notebook, task, func, question, question_free, free_result);
}

static gpointer
finish (WbAppNotebook *notebook,
        GAsyncResult  *result,
        GError       **error)
{
  g_return_val_if_fail (g_task_is_valid (result, notebook), NULL);
  return g_task_propagate_pointer (G_TASK (result), error);
}

static gpointer
list_records (WbStore      *store,
              gpointer      data,
              GCancellable *cancellable,
              GError      **error)
{
  const Question *question = data;

  return wb_store_list (store, question->type, question->field, question->value, error);
}

void
wb_app_query_list_async (WbAppNotebook      *notebook,
                         const WbRecordType *type,
                         GCancellable       *cancellable,
                         GAsyncReadyCallback callback,
                         gpointer            user)
{
  wb_app_query_list_by_async (notebook, type, NULL, 0, cancellable, callback, user);
}

void
wb_app_query_list_by_async (WbAppNotebook      *notebook,
                            const WbRecordType *type,
                            const char         *field,
                            gint64              value,
                            GCancellable       *cancellable,
                            GAsyncReadyCallback callback,
                            gpointer            user)
{
  ask (notebook, wb_app_query_list_async, list_records, question_new (type, field, value),
       (GDestroyNotify) g_ptr_array_unref, cancellable, callback, user);
}

GPtrArray *
wb_app_query_list_finish (WbAppNotebook *notebook,
                          GAsyncResult  *result,
                          GError       **error)
{
  return finish (notebook, result, error);
}

GPtrArray *
wb_app_query_list_sync (WbAppNotebook      *notebook,
                        const WbRecordType *type,
                        GError            **error)
{
  return wb_app_query_list_by_sync (notebook, type, NULL, 0, error);
}

GPtrArray *
wb_app_query_list_by_sync (WbAppNotebook      *notebook,
                           const WbRecordType *type,
                           const char         *field,
                           gint64              value,
                           GError            **error)
{
  Question question = { type, (char *) field, value };

  return wb_app_reader_run_sync (notebook, list_records, &question, error);
}

static gpointer
get_record (WbStore      *store,
            gpointer      data,
            GCancellable *cancellable,
            GError      **error)
{
  const Question *question = data;
  GError *reason = NULL;
  gpointer record = wb_store_load (store, question->type, question->value, &reason);

  wb_app_error_propagate_read (error, reason);
  return record;
}

void
wb_app_query_get_async (WbAppNotebook      *notebook,
                        const WbRecordType *type,
                        gint64              id,
                        GCancellable       *cancellable,
                        GAsyncReadyCallback callback,
                        gpointer            user)
{
  ask (notebook, wb_app_query_get_async, get_record, question_new (type, NULL, id), wb_record_free, cancellable, callback, user);
}

gpointer
wb_app_query_get_finish (WbAppNotebook *notebook,
                         GAsyncResult  *result,
                         GError       **error)
{
  return finish (notebook, result, error);
}

void
wb_app_materials_free (WbAppMaterials *self)
{
  if (self == NULL)
    return;
  g_clear_pointer (&self->vessels, g_ptr_array_unref);
  g_clear_pointer (&self->waxes, g_ptr_array_unref);
  g_clear_pointer (&self->wicks, g_ptr_array_unref);
  g_clear_pointer (&self->guides, g_ptr_array_unref);
  g_clear_pointer (&self->fragrances, g_ptr_array_unref);
  g_clear_pointer (&self->parts, g_ptr_array_unref);
  g_clear_pointer (&self->dyes, g_ptr_array_unref);
  g_clear_pointer (&self->additives, g_ptr_array_unref);
  g_clear_pointer (&self->lots, g_ptr_array_unref);
  g_clear_pointer (&self->method_steps, g_ptr_array_unref);
  g_clear_pointer (&self->samples, g_ptr_array_unref);
  g_free (self);
}

static gpointer
get_materials (WbStore      *store,
               gpointer      data,
               GCancellable *cancellable,
               GError      **error)
{
  g_autoptr (WbAppMaterials) materials = g_new0 (WbAppMaterials, 1);
  const struct { const WbRecordType *type; GPtrArray **into; } tables[] = {
    { &wb_vessel_type, &materials->vessels },
    { &wb_wax_type, &materials->waxes },
    { &wb_wick_type, &materials->wicks },
    { &wb_wick_guide_type, &materials->guides },
    { &wb_fragrance_type, &materials->fragrances },
    { &wb_fragrance_part_type, &materials->parts },
    { &wb_dye_type, &materials->dyes },
    { &wb_additive_type, &materials->additives },
    { &wb_lot_type, &materials->lots },
    { &wb_method_step_type, &materials->method_steps },
    { &wb_sample_type, &materials->samples },
  };

  for (guint i = 0; i < G_N_ELEMENTS (tables); i++)
    {
      *tables[i].into = wb_store_list (store, tables[i].type, NULL, 0, error);
      if (*tables[i].into == NULL)
        return NULL;
    }
  return g_steal_pointer (&materials);
}

void
wb_app_query_materials_async (WbAppNotebook      *notebook,
                              GCancellable       *cancellable,
                              GAsyncReadyCallback callback,
                              gpointer            user)
{
  ask (notebook, wb_app_query_materials_async, get_materials, question_new (NULL, NULL, 0),
       (GDestroyNotify) wb_app_materials_free, cancellable, callback, user);
}

WbAppMaterials *
wb_app_query_materials_finish (WbAppNotebook *notebook,
                               GAsyncResult  *result,
                               GError       **error)
{
  return finish (notebook, result, error);
}

WbAppMaterials *
wb_app_query_materials_sync (WbAppNotebook *notebook,
                             GError       **error)
{
  return wb_app_reader_run_sync (notebook, get_materials, NULL, error);
}

static void
use_free (gpointer data)
{
  WbAppUse *use = data;

  g_free (use->text);
  g_free (use->code);
  g_free (use);
}

/* The experiment that a record is, or belongs to; 0: neither. */
static gint64
experiment_of (const WbRecord *record)
{
  const WbFieldSpec *field = wb_record_type_find_field (record->type, "experiment");

  if (record->type == &wb_experiment_type)
    return record->id;
  return field != NULL && field->target == &wb_experiment_type ? wb_record_get_integer (record, field) : 0;
}

/* "Evening" of the part of a blend, "Sedge S-3" of a recommendation: what the part belongs to. NULL: the record says no such thing. */
static WbRecord *
load_owner (WbStore        *store,
            const WbRecord *record)
{
  const char *name = record->type == &wb_fragrance_part_type ? "fragrance" : record->type == &wb_wick_guide_type ? "wick" : NULL;
  const WbFieldSpec *field = name != NULL ? wb_record_type_find_field (record->type, name) : NULL;

  return field != NULL ? wb_store_load (store, field->target, wb_record_get_integer (record, field), NULL) : NULL;
}

static WbAppUse *
find_use (GPtrArray *found,
          gint64     experiment)
{
  for (guint i = 0; i < found->len; i++)
    if (((WbAppUse *) found->pdata[i])->experiment == experiment)
      return found->pdata[i];
  return NULL;
}

static WbAppUse *
add_use (GPtrArray *found,
         gint64     experiment)
{
  WbAppUse *use = g_new0 (WbAppUse, 1);

  use->experiment = experiment;
  g_ptr_array_add (found, use);
  return use;
}

typedef struct { gint64 id; guint n; } ExperimentCount;

/* One kind of user of one experiment; behind what is said of that experiment already. */
static void
add_of_experiment (WbStore            *store,
                   GPtrArray          *found,
                   gint64              id,
                   const WbRecordType *type,
                   guint               n)
{
  WbAppUse *use = find_use (found, id);
  g_autofree char *before = NULL;

  if (use == NULL)
    {
      g_autoptr (WbRecord) record = wb_store_load (store, &wb_experiment_type, id, NULL);
      const WbExperiment *experiment = (const WbExperiment *) (gpointer) record;

      use = add_use (found, id);
      use->code = g_strdup (experiment != NULL ? experiment->code : "?");
      /* Translators: an experiment's code and title. */
      use->text = g_strdup_printf (_("%s, %s"), use->code, experiment != NULL ? experiment->title : "?");
    }
  if (type == &wb_experiment_type)
    return;
  before = use->text;
  /* Translators: an experiment and what was said of it; how many; of what: "Combination". */
  use->text = g_strdup_printf (_("%s · %u × %s"), before, n, _(type->label));
}

/* What is of no experiment: a blend, a wick's recommendation. */
static void
add_of_none (WbStore        *store,
             GPtrArray      *found,
             const WbRecord *record)
{
  g_autoptr (WbRecord) owner = load_owner (store, record);
  g_autofree char *title = owner != NULL ? wb_material_dup_title (owner) : NULL;
  WbAppUse *use = add_use (found, 0);

  /* Translators: what uses a material: "Part of a blend", then the blend. */
  use->text = title != NULL ? g_strdup_printf (_("%s: %s"), _(record->type->label), title) : g_strdup (_(record->type->label));
  use->type = owner != NULL ? owner->type : NULL;
  use->material = owner != NULL ? owner->id : 0;
}

static void
add_lots (GPtrArray          *found,
          GPtrArray          *lots,
          const WbRecordType *type)
{
  for (guint i = 0; i < lots->len; i++)
    {
      const WbLot *lot = lots->pdata[i];
      WbAppUse *use = add_use (found, 0);

      use->text = g_strdup_printf (_("Its lot %s"), lot->code);
      use->code = g_strdup (lot->code);
      use->type = type;
      use->material = lot->material;
      use->goes_along = TRUE;
    }
}

static void
add_of_type (WbStore            *store,
             GPtrArray          *found,
             GPtrArray          *records,
             const WbRecordType *type)
{
  g_autoptr (GArray) counts = g_array_new (FALSE, FALSE, sizeof (ExperimentCount));

  for (guint i = 0; i < records->len; i++)
    {
      gint64 id = experiment_of (records->pdata[i]);
      guint k = 0;

      if (id == 0)
        {
          add_of_none (store, found, records->pdata[i]);
          continue;
        }
      while (k < counts->len && g_array_index (counts, ExperimentCount, k).id != id)
        k++;
      if (k == counts->len)
        {
          ExperimentCount first = { id, 0 };

          g_array_append_val (counts, first);
        }
      g_array_index (counts, ExperimentCount, k).n++;
    }
  for (guint k = 0; k < counts->len; k++)
    add_of_experiment (store, found, g_array_index (counts, ExperimentCount, k).id, type, g_array_index (counts, ExperimentCount, k).n);
}

static int
rank_use (const WbAppUse *use)
{
  return use->experiment != 0 ? 0 : use->goes_along ? 2 : 1;
}

static int
experiments_first (gconstpointer a,
                   gconstpointer b)
{
  return rank_use (*(WbAppUse *const *) a) - rank_use (*(WbAppUse *const *) b);
}

static gpointer
list_uses (WbStore      *store,
           gpointer      data,
           GCancellable *cancellable,
           GError      **error)
{
  const Question *question = data;
  g_autoptr (GArray) uses = wb_store_list_uses (store, question->type, question->value, error);
  g_autoptr (GPtrArray) found = g_ptr_array_new_with_free_func (use_free);

  if (uses == NULL)
    return NULL;
  for (guint i = 0; i < uses->len; i++)
    {
      const WbStoreUse *use = &g_array_index (uses, WbStoreUse, i);
      g_autoptr (GPtrArray) records = NULL;

      if (use->part && use->type != &wb_lot_type)
        continue;
      records = wb_store_list (store, use->type, use->field->name, question->value, error);
      if (records == NULL)
        return NULL;
      if (use->part)
        add_lots (found, records, question->type);
      else
        add_of_type (store, found, records, use->type);
    }
  g_ptr_array_sort (found, experiments_first);
  return g_steal_pointer (&found);
}

void
wb_app_query_uses_async (WbAppNotebook      *notebook,
                         const WbRecordType *type,
                         gint64              id,
                         GCancellable       *cancellable,
                         GAsyncReadyCallback callback,
                         gpointer            user)
{
  ask (notebook, wb_app_query_uses_async, list_uses, question_new (type, NULL, id),
       (GDestroyNotify) g_ptr_array_unref, cancellable, callback, user);
}

GPtrArray *
wb_app_query_uses_finish (WbAppNotebook *notebook,
                          GAsyncResult  *result,
                          GError       **error)
{
  return finish (notebook, result, error);
}

static gpointer
list_experiments (WbStore      *store,
                  gpointer      data,
                  GCancellable *cancellable,
                  GError      **error)
{
  return wb_app_listing_read (store, data, error);
}

GPtrArray *
wb_app_query_experiments_sync (WbAppNotebook *notebook,
                               GError       **error)
{
  return wb_app_reader_run_sync (notebook, list_experiments, wb_app_notebook_get_loads (notebook), error);
}

void
wb_app_query_experiments_async (WbAppNotebook      *notebook,
                                GCancellable       *cancellable,
                                GAsyncReadyCallback callback,
                                gpointer            user)
{
  GTask *task = g_task_new (notebook, cancellable, callback, user);

  g_task_set_source_tag (task, wb_app_query_experiments_async);
  wb_app_reader_run (notebook, task, list_experiments, wb_app_loads_ref (wb_app_notebook_get_loads (notebook)),
                     (GDestroyNotify) wb_app_loads_unref, (GDestroyNotify) g_ptr_array_unref);
}

GPtrArray *
wb_app_query_experiments_finish (WbAppNotebook *notebook,
                                 GAsyncResult  *result,
                                 GError       **error)
{
  return finish (notebook, result, error);
}

static char *
dup_known (GPtrArray *experiments)
{
  GString *known = g_string_new (NULL);

  for (guint i = 0; i < experiments->len; i++)
    {
      const WbExperiment *experiment = g_ptr_array_index (experiments, i);

      g_string_append_printf (known, "%s%s (%s)", i > 0 ? ", " : "", experiment->code, experiment->title);
    }
  return g_string_free (known, FALSE);
}

static gpointer
find_experiment (WbStore      *store,
                 gpointer      data,
                 GCancellable *cancellable,
                 GError      **error)
{
  const char *name = data;
  g_autoptr (GPtrArray) experiments = NULL;
  g_autofree char *known = NULL;
  gint64 *found = g_new (gint64, 1);

  *found = wb_store_find_experiment (store, name, error);
  if (*found > 0)
    return found;
  if (*found == 0)
    experiments = wb_store_list (store, &wb_experiment_type, NULL, 0, error);
  g_free (found);
  if (experiments == NULL)
    return NULL;
  known = dup_known (experiments);
  if (experiments->len == 0)
    g_set_error (error, WB_APP_ERROR, WB_APP_ERROR_UNKNOWN, _("No experiment “%s”: the notebook holds none"), name);
  else
    g_set_error (error, WB_APP_ERROR, WB_APP_ERROR_UNKNOWN, _("No experiment “%s”; known are: %s"), name, known);
  return NULL;
}

gint64
wb_app_query_find_experiment_sync (WbAppNotebook *notebook,
                                   const char    *name,
                                   GError       **error)
{
  g_autofree gint64 *found = wb_app_reader_run_sync (notebook, find_experiment, (gpointer) name, error);

  return found != NULL ? *found : 0;
}

static gpointer
load_dataset (WbStore      *store,
              gpointer      data,
              GCancellable *cancellable,
              GError      **error)
{
  const Question *question = data;
  GError *reason = NULL;
  WbDataset *dataset = wb_store_load_dataset (store, question->value, &reason);

  wb_app_error_propagate_read (error, reason);
  return dataset;
}

void
wb_app_query_dataset_async (WbAppNotebook      *notebook,
                            gint64              experiment,
                            GCancellable       *cancellable,
                            GAsyncReadyCallback callback,
                            gpointer            user)
{
  ask (notebook, wb_app_query_dataset_async, load_dataset, question_new (NULL, NULL, experiment),
       (GDestroyNotify) wb_dataset_free, cancellable, callback, user);
}

WbDataset *
wb_app_query_dataset_finish (WbAppNotebook *notebook,
                             GAsyncResult  *result,
                             GError       **error)
{
  return finish (notebook, result, error);
}

WbDataset *
wb_app_query_dataset_sync (WbAppNotebook *notebook,
                           gint64         experiment,
                           GError       **error)
{
  Question question = { NULL, NULL, experiment };

  return wb_app_reader_run_sync (notebook, load_dataset, &question, error);
}
