/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-decision-papers.h"

#include "wb-app-decision.h"
#include "wb-app-error-private.h"
#include "wb-app-export-private.h"
#include "wb-app-lot-trace-private.h"
#include "wb-app-notebook-private.h"
#include "wb-app-pour-private.h"
#include "wb-app-reader-private.h"
#include "wb-app-touched-private.h"
#include "wb-craft-covered.h"
#include "wb-craft-method.h"
#include "wb-craft-production.h"
#include "wb-report-production.h"
#include "wb-store-dataset.h"
#include "wb-store-records.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define USUAL_VESSELS 12

typedef struct
{
  WbAppLoads           *loads;    /* of the notebook */
  gint64                decision;
  gboolean              produces; /* a production sheet by the terms, else a card */
  WbAppProductionTerms  terms;
  int                   paper;
} Request;

static void
request_free (gpointer data)
{
  Request *self = data;

  wb_app_loads_unref (self->loads);
  g_free ((char *) self->terms.wax_lot);
  g_free ((char *) self->terms.oil_lot);
  g_free ((char *) self->terms.wick_lot);
  g_free (self);
}

static Request *
request_new (WbAppNotebook              *notebook,
             gint64                      decision,
             const WbAppProductionTerms *terms,
             int                         paper)
{
  Request *self = g_new0 (Request, 1);

  self->loads = wb_app_loads_ref (wb_app_notebook_get_loads (notebook));
  self->decision = decision;
  self->produces = terms != NULL;
  if (terms != NULL)
    {
      self->terms = *terms;
      self->terms.wax_lot = g_strdup (terms->wax_lot);
      self->terms.oil_lot = g_strdup (terms->oil_lot);
      self->terms.wick_lot = g_strdup (terms->wick_lot);
    }
  self->paper = paper;
  return self;
}

/* ---- Terms ---- */

void
wb_app_production_terms_init (WbAppProductionTerms *terms,
                              const WbDataset      *data,
                              const WbDecision     *decision)
{
  guint index;

  g_return_if_fail (terms != NULL && data != NULL && decision != NULL);

  *terms = (WbAppProductionTerms) { USUAL_VESSELS, NAN, WB_APP_POUR_USUAL_OVERAGE_PCT,
                                    data->wax != NULL && data->wax->hold_back_pct > 0 ? data->wax->hold_back_pct : 0, WB_APP_POUR_USUAL_RESOLUTION_G, NULL, NULL, NULL, FALSE };
  index = wb_app_lot_find_cell (data, decision->cell);
  if (index == G_MAXUINT)
    return;
  const WbCell *cell = wb_dataset_get_cell (data, index);
  terms->takes_oil = cell->fragrance != 0;
  for (guint i = data->batches->len; i-- > 0;)
    {
      const WbBatch *batch = g_ptr_array_index (data->batches, i);

      if (batch->fragrance != cell->fragrance || isnan (batch->overage_pct))
        continue;
      terms->overage_pct = batch->overage_pct;
      terms->hold_back_pct = isnan (batch->hold_back_pct) ? terms->hold_back_pct : batch->hold_back_pct;
      terms->resolution_g = isnan (batch->resolution_g) ? terms->resolution_g : batch->resolution_g;
      return;
    }
}

/* ---- Making ---- */

static const WbDecision *
find_decision (const WbDataset *data,
               gint64           id)
{
  for (guint i = 0; i < data->decisions->len; i++)
    if (((const WbRecord *) g_ptr_array_index (data->decisions, i))->id == id)
      return g_ptr_array_index (data->decisions, i);
  return NULL;
}

/* It is among those of its experiment, which were read on the same connection. */
static const WbAppTouched *
find_touched (const GPtrArray *decisions,
              gint64           id)
{
  for (guint i = 0; i < decisions->len; i++)
    if (((const WbAppTouched *) g_ptr_array_index (decisions, i))->decision == id)
      return g_ptr_array_index (decisions, i);
  return NULL;
}

static gpointer
read_terms (WbStore      *store,
            gpointer      data,
            GCancellable *cancellable,
            GError      **error)
{
  const gint64 *id = data;
  GError *reason = NULL;
  g_autoptr (WbRecord) record = wb_store_load (store, &wb_decision_type, *id, &reason);
  g_autoptr (WbDataset) set = record != NULL ? wb_store_load_dataset (store, ((const WbDecision *) record)->experiment, &reason) : NULL;
  WbAppProductionTerms *terms;

  wb_app_error_propagate_read (error, reason);
  if (set == NULL)
    return NULL;
  terms = g_new0 (WbAppProductionTerms, 1);
  wb_app_production_terms_init (terms, set, (const WbDecision *) record);
  return terms;
}

gboolean
wb_app_production_terms_read_sync (WbAppNotebook        *notebook,
                                   gint64                decision,
                                   WbAppProductionTerms *terms,
                                   GError              **error)
{
  g_autofree WbAppProductionTerms *read = NULL;

  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (notebook) && terms != NULL, FALSE);

  read = wb_app_reader_run_sync (notebook, read_terms, &decision, error);
  if (read != NULL)
    *terms = *read;
  return read != NULL;
}

static WbCraftBatchInput
make_input (const WbAppPourData  *pour,
            const WbReportRecipe *recipe,
            WbCraftBatchLine     *line,
            const GArray         *oils)
{
  const WbDataset *data = recipe->data;
  const WbCell *cell = wb_dataset_get_cell (data, recipe->cell);

  *line = (WbCraftBatchLine) { wb_dataset_get_vessel (data, recipe->cell), 1, NAN };
  return (WbCraftBatchInput) {
    .lines = line, .n_lines = 1, .load_pct = cell->fragrance != 0 ? cell->load_pct : 0, .load_basis = cell->load_basis,
    .resolution_g = WB_APP_POUR_USUAL_RESOLUTION_G,
    .dye_pct = data->dye != NULL ? data->experiment->dye_pct : NAN,
    .dye_drops_per_kg = data->dye != NULL ? data->experiment->dye_drops_per_kg : NAN,
    .drop_g = data->dye != NULL ? data->dye->drop_g : NAN,
    .additive_pct = data->additive != NULL ? data->experiment->additive_pct : NAN,
    .oil_parts = oils, .wax = data->wax, .fragrance = wb_dataset_get_fragrance (data, recipe->cell),
    .specific_gravity = data->wax != NULL ? data->wax->density : NAN, .steps = recipe->steps->len > 0 ? recipe->steps : NULL,
    .us_units = data->notebook->us_units,
  };
}

static WbReportDocument *
make_card (WbReportRecipe          *recipe,
           const WbCraftBatchInput *input,
           const WbReportOptions   *options)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbCraftBatchSheet) sheet = wb_craft_batch_sheet_new (input, &error);

  recipe->sheet = sheet;
  recipe->no_sheet = error != NULL ? error->message : NULL;
  return wb_report_recipe_card_new (recipe, options);
}

/* What is to be poured of each material, told by its lots. */
static void
set_lots (const Request        *request,
          const WbReportRecipe *recipe,
          WbReportProduction   *sheet,
          GPtrArray            *lacking)
{
  const WbDataset *data = recipe->data;
  const WbRecord *materials[] = { (const WbRecord *) data->wax, (const WbRecord *) wb_dataset_get_fragrance (data, recipe->cell),
                                  (const WbRecord *) wb_dataset_get_wick (data, recipe->cell) };
  const char *texts[] = { request->terms.wax_lot, request->terms.oil_lot, request->terms.wick_lot };
  const char **into[] = { &sheet->wax_lot, &sheet->oil_lot, &sheet->wick_lot };

  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    {
      char *lack;

      if (materials[i] == NULL || texts[i] == NULL || *texts[i] == '\0')
        continue;
      *into[i] = texts[i];
      lack = wb_craft_covered_dup_lack (data, recipe->decision, recipe->changes, materials[i]->id, texts[i]);
      if (lack != NULL)
        g_ptr_array_add (lacking, lack);
    }
  sheet->lacking = lacking;
}

static WbReportDocument *
make_production (const Request         *request,
                 const WbReportRecipe  *recipe,
                 WbCraftBatchInput     *input,
                 const WbReportOptions *options,
                 GError               **error)
{
  g_autoptr (GError) reason = NULL;
  g_autoptr (WbCraftProduction) production = NULL;
  g_autoptr (GPtrArray) lacking = g_ptr_array_new_with_free_func (g_free);
  const char *oil_lot = request->terms.oil_lot;
  WbReportProduction sheet = { .recipe = *recipe, .overage_pct = request->terms.overage_pct, .hold_back_pct = request->terms.hold_back_pct };

  if (oil_lot != NULL && *oil_lot != '\0' && wb_dataset_get_fragrance (recipe->data, recipe->cell) == NULL)
    {
      g_set_error (error, WB_APP_ERROR, WB_APP_ERROR_REFUSED, _("This recipe has no fragrance: lot “%s” of one cannot be poured by it."), oil_lot);
      return NULL;
    }
  input->overage_pct = request->terms.overage_pct;
  input->hold_back_pct = request->terms.hold_back_pct;
  input->resolution_g = request->terms.resolution_g;
  production = wb_craft_production_new (input, request->terms.vessels, request->terms.pot_g, &reason);
  if (production == NULL)
    {
      g_set_error_literal (error, WB_APP_ERROR, WB_APP_ERROR_REFUSED, reason->message);
      return NULL;
    }
  sheet.production = production;
  set_lots (request, recipe, &sheet, lacking);
  return wb_report_production_new (&sheet, options);
}

/* The version of the experiment's protocol that was in force when it was signed; NULL with an error. */
static WbProtocol *
read_protocol (WbStore           *store,
               const WbDataset   *data,
               const WbDecision  *decision,
               GError           **error)
{
  gint64 entry = decision->answer_entry == WB_INTEGER_NONE ? decision->record.entry : MIN (decision->record.entry, decision->answer_entry);
  GError *reason = NULL;
  g_autoptr (GPtrArray) history = wb_store_list_history (store, &wb_protocol_type, data->protocol->record.id, &reason);
  const WbRecord *found = (const WbRecord *) data->protocol;

  wb_app_error_propagate_read (error, reason);
  for (guint i = 0; history != NULL && i < history->len; i++)
    {
      const WbRecord *version = ((const WbStoreVersion *) g_ptr_array_index (history, i))->record;

      if (!version->deleted && version->entry <= entry)
        found = version;
    }
  return history != NULL ? wb_record_copy (found) : NULL;
}

static WbReportDocument *
make (const Request       *request,
      const WbAppPourData *pour,
      const WbProtocol    *protocol,
      const WbDecision    *decision,
      guint                cell,
      const WbAppTouched  *touched,
      GError             **error)
{
  const WbDataset *data = pour->dataset;
  const WbFragrance *fragrance = wb_dataset_get_fragrance (data, cell);
  g_autoptr (GPtrArray) method = data->wax != NULL ? wb_craft_method_of (data->wax, pour->method) : NULL;
  WbCraftMethodOf of = { fragrance != NULL, data->dye != NULL || data->additive != NULL,
                         request->produces ? request->terms.hold_back_pct > 0 : data->wax != NULL && data->wax->hold_back_pct > 0 };
  g_autoptr (GPtrArray) steps = method != NULL ? wb_craft_method_plan (method, of) : g_ptr_array_new ();
  g_autoptr (GArray) oils = wb_app_pour_dup_oil_parts (pour, fragrance);
  WbReportRecipe recipe = { .data = data, .decision = decision, .cell = cell, .steps = steps, .protocol = protocol };
  g_autofree char *state = wb_craft_touched_dup_standing (touched->changes, touched->decision);
  WbReportOptions options;
  WbCraftBatchLine line;
  WbCraftBatchInput input = make_input (pour, &recipe, &line, oils);

  recipe.standing = wb_craft_touched_get_standing (touched->changes, touched->decision);
  recipe.changes = touched->changes;
  recipe.state = state;
  wb_report_options_init (&options, data->notebook);
  if (request->paper >= 0)
    options.paper = (WbReportPaper) request->paper;
  return request->produces ? make_production (request, &recipe, &input, &options, error) : make_card (&recipe, &input, &options);
}

static gpointer
read_and_make (WbStore      *store,
               gpointer      data,
               GCancellable *cancellable,
               GError      **error)
{
  const Request *request = data;
  GError *reason = NULL;
  g_autoptr (WbRecord) record = wb_store_load (store, &wb_decision_type, request->decision, &reason);
  g_autoptr (WbAppPourData) pour = NULL;
  g_autoptr (GPtrArray) decisions = NULL;
  g_autoptr (WbRecord) protocol = NULL;
  const WbAppTouched *touched;
  const WbDecision *decision;
  WbReportDocument *document;
  guint cell;

  wb_app_error_propagate_read (error, reason);
  if (record == NULL)
    return NULL;
  pour = wb_app_pour_data_read (store, ((const WbDecision *) record)->experiment, error);
  decisions = pour != NULL ? wb_app_touched_read_all (store, request->loads, ((const WbDecision *) record)->experiment, error) : NULL;
  if (decisions == NULL)
    return NULL;
  touched = find_touched (decisions, request->decision);
  decision = find_decision (pour->dataset, request->decision);
  cell = decision != NULL ? wb_app_lot_find_cell (pour->dataset, decision->cell) : G_MAXUINT;
  if (cell == G_MAXUINT || touched == NULL)
    {
      g_set_error_literal (error, WB_APP_ERROR, WB_APP_ERROR_UNKNOWN, _("The combination that was chosen is not in its experiment any more."));
      return NULL;
    }
  protocol = (WbRecord *) read_protocol (store, pour->dataset, decision, error);
  document = protocol != NULL ? make (request, pour, (const WbProtocol *) (gpointer) protocol, decision, cell, touched, error) : NULL;
  if (document != NULL)
    wb_report_document_get_n_pages (document);
  return document;
}

void
wb_app_decision_papers_async (WbAppNotebook              *notebook,
                              gint64                      decision,
                              const WbAppProductionTerms *terms,
                              int                         paper,
                              GCancellable               *cancellable,
                              GAsyncReadyCallback         callback,
                              gpointer                    user)
{
  GTask *task;

  g_return_if_fail (WB_IS_APP_NOTEBOOK (notebook));

  task = g_task_new (notebook, cancellable, callback, user);
  g_task_set_source_tag (task, wb_app_decision_papers_async);
  wb_app_reader_run (notebook, task, read_and_make, request_new (notebook, decision, terms, paper), request_free,
                     (GDestroyNotify) wb_report_document_free);
}

WbReportDocument *
wb_app_decision_papers_finish (WbAppNotebook *notebook,
                               GAsyncResult  *result,
                               GError       **error)
{
  g_return_val_if_fail (g_task_is_valid (result, notebook), NULL);

  return g_task_propagate_pointer (G_TASK (result), error);
}

WbReportDocument *
wb_app_decision_papers_sync (WbAppNotebook              *notebook,
                             gint64                      decision,
                             const WbAppProductionTerms *terms,
                             int                         paper,
                             GError                    **error)
{
  Request *request;
  WbReportDocument *document;

  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (notebook), NULL);

  request = request_new (notebook, decision, terms, paper);
  document = wb_app_reader_run_sync (notebook, read_and_make, request, error);
  request_free (request);
  return document;
}

gboolean
wb_app_decision_papers_write_sync (WbAppNotebook    *notebook,
                                   WbReportDocument *document,
                                   const char       *path,
                                   GError          **error)
{
  g_autoptr (GBytes) bytes = NULL;

  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (notebook) && document != NULL && path != NULL, FALSE);

  if (wb_app_export_is_notebook (wb_app_notebook_get_path (notebook), path, error))
    return FALSE;
  bytes = wb_report_document_dup_pdf (document, NULL, error);
  if (bytes == NULL)
    return FALSE;
  if (g_file_set_contents_full (path, g_bytes_get_data (bytes, NULL), (gssize) g_bytes_get_size (bytes),
                                G_FILE_SET_CONTENTS_CONSISTENT | G_FILE_SET_CONTENTS_DURABLE, 0666, error))
    return TRUE;
  wb_app_error_from_writing (error, path);
  return FALSE;
}
