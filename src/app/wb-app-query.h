/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-experiment.h"
#include "wb-app-job.h"
#include "wb-dataset.h"

G_BEGIN_DECLS

/*
 * Questions to the notebook. The async ones run on a reading connection of
 * their own in a thread; every _sync blocks and is for commands, tests and jobs.
 * What is handed over belongs to the caller.
 */

/* Newest versions of a table's records, deleted ones left out, in order of id; a GPtrArray that frees them. */
void       wb_app_query_list_async   (WbAppNotebook *notebook, const WbRecordType *type, GCancellable *cancellable,
                                      GAsyncReadyCallback callback, gpointer user);
/* Only those whose reference field of that name ("experiment", "wick" ...) is `value`. */
void       wb_app_query_list_by_async (WbAppNotebook *notebook, const WbRecordType *type, const char *field, gint64 value,
                                       GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user);
GPtrArray *wb_app_query_list_finish  (WbAppNotebook *notebook, GAsyncResult *result, GError **error); /* for both */
GPtrArray *wb_app_query_list_sync    (WbAppNotebook *notebook, const WbRecordType *type, GError **error);
GPtrArray *wb_app_query_list_by_sync (WbAppNotebook *notebook, const WbRecordType *type, const char *field, gint64 value, GError **error);

/* One record; WB_APP_ERROR_UNKNOWN where there is none. */
void       wb_app_query_get_async    (WbAppNotebook *notebook, const WbRecordType *type, gint64 id, GCancellable *cancellable,
                                      GAsyncReadyCallback callback, gpointer user);
gpointer   wb_app_query_get_finish   (WbAppNotebook *notebook, GAsyncResult *result, GError **error);

/* All materials at once, for pages that show them together; each a GPtrArray of records. */
typedef struct
{
  GPtrArray *vessels, *waxes, *wicks, *guides, *fragrances, *parts, *dyes, *additives, *lots;
  GPtrArray *method_steps; /* of every wax */
  GPtrArray *samples; /* of every experiment: their codes are on labels in the same workshop */
} WbAppMaterials;
void            wb_app_query_materials_async  (WbAppNotebook *notebook, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user);
WbAppMaterials *wb_app_query_materials_finish (WbAppNotebook *notebook, GAsyncResult *result, GError **error);
WbAppMaterials *wb_app_query_materials_sync   (WbAppNotebook *notebook, GError **error);
void            wb_app_materials_free         (WbAppMaterials *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbAppMaterials, wb_app_materials_free)

/*
 * Where a material or another record is used, for a guarded delete: an experiment each, then other materials, then its lots, which
 * keep nothing. Other parts that go with it do not count. A GPtrArray of WbAppUse that frees them; empty: nowhere.
 */
typedef struct
{
  char               *text;       /* "E-1, Which Sedge: 4 × Combination"; translated */
  gint64              experiment; /* 0: of none */
  char               *code;       /* of that experiment or lot; NULL: of neither */
  const WbRecordType *type;       /* of the material that uses it, a blend or a wick, or of the lot's own; NULL: none does */
  gint64              material;   /* its id; 0: none */
  gboolean            goes_along; /* a lot: deleted with it */
} WbAppUse;
void       wb_app_query_uses_async   (WbAppNotebook *notebook, const WbRecordType *type, gint64 id, GCancellable *cancellable,
                                      GAsyncReadyCallback callback, gpointer user);
GPtrArray *wb_app_query_uses_finish  (WbAppNotebook *notebook, GAsyncResult *result, GError **error);

/* GPtrArray of WbAppExperiment. */
GPtrArray *wb_app_query_experiments_sync   (WbAppNotebook *notebook, GError **error);
void       wb_app_query_experiments_async  (WbAppNotebook *notebook, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user);
GPtrArray *wb_app_query_experiments_finish (WbAppNotebook *notebook, GAsyncResult *result, GError **error);
/* By code or title, exactly; 0 and WB_APP_ERROR_UNKNOWN, its message listing the known ones. */
gint64     wb_app_query_find_experiment_sync (WbAppNotebook *notebook, const char *name, GError **error);

/* All of one experiment: what craft computes on. */
void       wb_app_query_dataset_async  (WbAppNotebook *notebook, gint64 experiment, GCancellable *cancellable,
                                        GAsyncReadyCallback callback, gpointer user);
WbDataset *wb_app_query_dataset_finish (WbAppNotebook *notebook, GAsyncResult *result, GError **error);
WbDataset *wb_app_query_dataset_sync   (WbAppNotebook *notebook, gint64 experiment, GError **error);

G_END_DECLS
