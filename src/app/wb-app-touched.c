/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-touched-private.h"

#include "wb-app-crossed-private.h"
#include "wb-app-lot-trace-private.h"
#include "wb-app-notebook-private.h"
#include "wb-app-reader-private.h"
#include "wb-app-save-task-private.h"
#include "wb-app-stamp-private.h"
#include "wb-craft-recipe.h"
#include "wb-store-records.h"

#include <glib/gi18n-lib.h>

WbAppTouched *
wb_app_touched_ref (WbAppTouched *self)
{
  g_atomic_ref_count_inc (&self->ref_count);
  return self;
}

void
wb_app_touched_unref (WbAppTouched *self)
{
  if (self == NULL || !g_atomic_ref_count_dec (&self->ref_count))
    return;
  g_free (self->experiment_code);
  g_free (self->cell);
  g_free (self->lots);
  g_free (self->signed_by);
  g_free (self->replaced_by);
  wb_record_free (self->record);
  g_ptr_array_unref (self->changes);
  g_free (self);
}

gint64
wb_app_touched_get_test (const WbAppTouched *self)
{
  gint64 test = 0;

  g_return_val_if_fail (self != NULL, 0);

  for (guint i = 0; i < self->changes->len; i++)
    test = MAX (test, ((const WbCraftTouched *) g_ptr_array_index (self->changes, i))->test);
  return test;
}

GArray *
wb_app_touched_dup_reopened (const GPtrArray *touched)
{
  GArray *ids = g_array_new (FALSE, FALSE, sizeof (gint64));

  g_return_val_if_fail (touched != NULL, ids);

  for (guint i = 0; i < touched->len; i++)
    {
      const WbAppTouched *item = g_ptr_array_index (touched, i);
      WbCraftStanding standing = wb_craft_touched_get_standing (item->changes, item->decision);

      if (standing == WB_CRAFT_STANDING_REOPENED || standing == WB_CRAFT_STANDING_IN_TEST)
        g_array_append_val (ids, item->decision);
    }
  return ids;
}

/* ---- Reading ---- */

/* From which entry on a crossing is news to it: what came in while the answer was looked at and signed is. */
static gint64
find_known_entry (const WbDecision *decision,
                  gint64            signed_entry)
{
  return decision->answer_entry == WB_INTEGER_NONE ? signed_entry : MIN (signed_entry, decision->answer_entry);
}

/* A decision with what it is about. */
typedef struct
{
  WbAppBenchLoad   *load;
  const WbDecision *decision; /* of the load */
  guint             cell;     /* index */
  gint64            signed_entry;
} Signed;

static void
signed_clear (gpointer data)
{
  wb_app_bench_load_unref (((Signed *) data)->load);
}

/*
 * The entry of the version that first bore this signature: neither a note that was added later nor an undo that brought it back is a
 * new one. 0 with an error.
 */
static gint64
find_signed_entry (WbStore          *store,
                   const WbDecision *decision,
                   GError          **error)
{
  g_autoptr (GPtrArray) history = wb_store_list_history (store, &wb_decision_type, decision->record.id, error);

  for (guint i = 0; history != NULL && i < history->len; i++)
    {
      const WbDecision *version = ((const WbStoreVersion *) g_ptr_array_index (history, i))->record;

      if (!version->record.deleted && version->cell == decision->cell && version->answer_entry == decision->answer_entry
          && version->signed_at.known == decision->signed_at.known
          && version->signed_at.utc_us == decision->signed_at.utc_us)
        return version->record.entry;
    }
  return history != NULL ? decision->record.entry : 0;
}

/* Signed, of all decisions. */
static GArray *
read_signed (WbStore    *store,
             WbAppLoads *loads,
             GError    **error)
{
  g_autoptr (GPtrArray) decisions = wb_store_list (store, &wb_decision_type, NULL, 0, error);
  g_autoptr (GHashTable) stamps = NULL;
  g_autoptr (GArray) all = g_array_new (FALSE, FALSE, sizeof (Signed));

  g_array_set_clear_func (all, signed_clear);
  if (decisions == NULL)
    return NULL;
  if (decisions->len > 0 && (stamps = wb_app_stamp_list (store, error)) == NULL)
    return NULL;
  for (guint i = 0; i < decisions->len; i++)
    {
      const WbDecision *listed = g_ptr_array_index (decisions, i);
      WbAppBenchLoad *load = wb_app_loads_get (loads, store, listed->experiment, wb_app_stamp_find (stamps, listed->experiment), error);
      Signed item = { load, NULL, G_MAXUINT, 0 };

      if (load == NULL)
        return NULL;
      for (guint k = 0; k < load->data->decisions->len; k++)
        if (((const WbRecord *) g_ptr_array_index (load->data->decisions, k))->id == listed->record.id)
          item.decision = g_ptr_array_index (load->data->decisions, k);
      if (item.decision != NULL)
        item.cell = wb_app_lot_find_cell (load->data, item.decision->cell);
      g_array_append_val (all, item);
      if (item.decision == NULL || item.cell == G_MAXUINT)
        {
          g_array_set_size (all, all->len - 1);
          continue;
        }
      item.signed_entry = find_signed_entry (store, item.decision, error);
      if (item.signed_entry == 0)
        return NULL;
      g_array_index (all, Signed, all->len - 1).signed_entry = item.signed_entry;
    }
  return g_steal_pointer (&all);
}

/* The newest of the same candle, whatever its wick, where that is newer; NULL: none is. */
static const Signed *
find_newer (const GArray *all,
            guint         index)
{
  const Signed *own = &g_array_index (all, Signed, index), *newest = own;

  for (guint i = 0; i < all->len; i++)
    {
      const Signed *other = &g_array_index (all, Signed, i);

      if (i != index && other->signed_entry > newest->signed_entry
          && wb_craft_recipe_is_same_candle (own->load->data, own->cell, other->load->data, other->cell))
        newest = other;
    }
  return newest != own ? newest : NULL;
}

static gboolean
has_versions (const GPtrArray *all,
              gint64           id)
{
  for (guint i = 0; i < all->len; i++)
    if (((const WbRecord *) g_ptr_array_index ((GPtrArray *) g_ptr_array_index (all, i), 0))->id == id)
      return TRUE;
  return FALSE;
}

/* Adds every version of one record; none are added twice. */
static gboolean
add_history (WbStore            *store,
             GPtrArray          *into,
             const WbRecordType *type,
             gint64              id,
             GError            **error)
{
  g_autoptr (GPtrArray) history = NULL;
  GPtrArray *versions;

  if (has_versions (into, id))
    return TRUE;
  history = wb_store_list_history (store, type, id, error);
  if (history == NULL || history->len == 0)
    return history != NULL;
  versions = g_ptr_array_new_with_free_func (wb_record_free);
  for (guint i = 0; i < history->len; i++)
    g_ptr_array_add (versions, wb_record_copy (((const WbStoreVersion *) g_ptr_array_index (history, i))->record));
  g_ptr_array_add (into, versions);
  return TRUE;
}

/* A blend's parts in all their versions, and the oils that they are, which may be blends. */
static gboolean
add_blend (WbStore      *store,
           WbCraftShelf *shelf,
           gint64        blend,
           GError      **error)
{
  g_autoptr (GPtrArray) parts = wb_store_list_versions (store, &wb_fragrance_part_type, "fragrance", blend, error);

  if (parts == NULL)
    return FALSE;
  for (guint i = 0; i < parts->len; i++)
    {
      const WbFragrancePart *part = g_ptr_array_index (parts, i);

      if (has_versions (shelf->parts, part->record.id))
        continue;
      if (!add_history (store, shelf->parts, &wb_fragrance_part_type, part->record.id, error)
          || !add_blend (store, shelf, part->part, error)
          || !add_history (store, shelf->materials, &wb_fragrance_type, part->part, error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
add_recipe (WbStore      *store,
            WbCraftShelf *shelf,
            const Signed *item,
            GError      **error)
{
  g_autoptr (GPtrArray) parts = wb_craft_lot_parts_of_decision (item->load->data, item->decision);

  for (guint i = 0; i < parts->len; i++)
    {
      const WbRecord *material = ((const WbCraftLotPart *) g_ptr_array_index (parts, i))->material;

      if (!add_history (store, shelf->materials, material->type, material->id, error))
        return FALSE;
      if (material->type == &wb_fragrance_type && !add_blend (store, shelf, material->id, error))
        return FALSE;
    }
  return TRUE;
}

/* The lots of the materials on the shelf, and the reasons that were given. */
static gboolean
add_lots (WbStore      *store,
          WbCraftShelf *shelf,
          GError      **error)
{
  g_autoptr (GPtrArray) lots = wb_store_list (store, &wb_lot_type, NULL, 0, error);
  GPtrArray *confirmations;

  for (guint i = 0; lots != NULL && i < lots->len; i++)
    {
      const WbLot *lot = g_ptr_array_index (lots, i);

      if (has_versions (shelf->materials, lot->material) && !add_history (store, shelf->lots, &wb_lot_type, lot->record.id, error))
        return FALSE;
    }
  confirmations = lots != NULL ? wb_store_list (store, &wb_confirmation_type, NULL, 0, error) : NULL;
  if (confirmations == NULL)
    return FALSE;
  g_ptr_array_unref (shelf->confirmations);
  shelf->confirmations = confirmations;
  return TRUE;
}

static WbCraftShelf *
read_shelf (WbStore      *store,
            WbAppLoads   *loads,
            const GArray *all,
            GError      **error)
{
  g_autoptr (WbCraftShelf) shelf = wb_craft_shelf_new ();
  g_autoptr (GHashTable) stamps = all->len > 0 ? wb_app_stamp_list (store, error) : NULL;

  for (guint i = 0; i < all->len; i++)
    {
      const Signed *item = &g_array_index (all, Signed, i);

      if (stamps == NULL || !add_recipe (store, shelf, item, error)
          || !wb_app_crossed_read (store, loads, stamps, item->load, item->cell, item->decision->record.id,
                                   find_known_entry (item->decision, item->signed_entry), NULL, shelf->crossed, error))
        return NULL;
    }
  return add_lots (store, shelf, error) ? g_steal_pointer (&shelf) : NULL;
}

GPtrArray *
wb_app_touched_read_not_burnt (WbStore        *store,
                               WbAppBenchLoad *load,
                               guint           cell,
                               gint64          decision,
                               GError        **error)
{
  g_autoptr (WbCraftShelf) shelf = wb_craft_shelf_new ();
  g_autoptr (WbRecord) record = wb_record_new (&wb_decision_type);
  WbDecision *unsigned_yet = (WbDecision *) (gpointer) record;
  Signed item = { load, unsigned_yet, cell, G_MAXINT64 };

  record->id = decision;
  unsigned_yet->cell = wb_dataset_get_cell (load->data, cell)->record.id;
  if (!add_recipe (store, shelf, &item, error) || !add_lots (store, shelf, error))
    return NULL;
  return wb_craft_touched_new (load->data, unsigned_yet, item.signed_entry, shelf);
}

static WbAppTouched *
touched_new (const Signed *item,
             const Signed *newer,
             GPtrArray    *changes /* taken */)
{
  WbAppTouched *self = g_new0 (WbAppTouched, 1);
  WbAppLotUse *use = wb_app_lot_use_of_decision (item->load, item->decision);
  g_autoptr (GPtrArray) uses = wb_app_lot_uses_new ();

  g_ptr_array_add (uses, use);
  g_atomic_ref_count_init (&self->ref_count);
  self->decision = item->decision->record.id;
  self->experiment = item->load->id;
  self->experiment_code = g_strdup (item->load->data->experiment->code);
  self->cell = g_strdup (use->cell);
  self->lots = g_strdup (use->lots);
  self->signed_by = g_strdup (item->decision->signed_by);
  self->signed_at = item->decision->signed_at;
  self->record = wb_record_copy (item->decision);
  self->replaced_by = newer != NULL ? g_strdup (newer->load->data->experiment->code) : NULL;
  self->changes = changes;
  if (newer != NULL)
    g_ptr_array_insert (changes, 0, wb_craft_touched_replaced_new (item->decision, newer->load->data->experiment->code, newer->decision->signed_at));
  for (guint i = 0; i < changes->len; i++)
    self->open += ((const WbCraftTouched *) g_ptr_array_index (changes, i))->state == WB_CRAFT_TOUCHED_OPEN;
  return self;
}

GPtrArray *
wb_app_touched_read_all (WbStore    *store,
                         WbAppLoads *loads,
                         gint64      experiment,
                         GError    **error)
{
  g_autoptr (GArray) all = read_signed (store, loads, error);
  g_autoptr (WbCraftShelf) shelf = all != NULL ? read_shelf (store, loads, all, error) : NULL;
  GPtrArray *touched;

  if (shelf == NULL)
    return NULL;
  touched = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_app_touched_unref);
  for (guint i = 0; i < all->len; i++)
    {
      const Signed *item = &g_array_index (all, Signed, i);

      if (experiment == 0 || experiment == item->load->id)
        g_ptr_array_add (touched, touched_new (item, find_newer (all, i),
                                               wb_craft_touched_new (item->load->data, item->decision, item->signed_entry, shelf)));
    }
  return touched;
}

GPtrArray *
wb_app_touched_read (WbStore    *store,
                     WbAppLoads *loads,
                     gint64      experiment,
                     GError    **error)
{
  GPtrArray *touched = wb_app_touched_read_all (store, loads, experiment, error);

  for (guint i = touched != NULL ? touched->len : 0; i > 0; i--)
    {
      const WbAppTouched *item = g_ptr_array_index (touched, i - 1);

      if (item->replaced_by != NULL || item->changes->len == 0)
        g_ptr_array_remove_index (touched, i - 1);
    }
  return touched;
}

typedef struct
{
  WbAppLoads *loads;
  gint64      experiment;
} Question;

static gpointer
read_touched (WbStore      *store,
              gpointer      data,
              GCancellable *cancellable,
              GError      **error)
{
  const Question *question = data;

  return wb_app_touched_read (store, question->loads, question->experiment, error);
}

GPtrArray *
wb_app_touched_list_sync (WbAppNotebook *notebook,
                          gint64         experiment,
                          GError       **error)
{
  Question question = { wb_app_notebook_get_loads (notebook), experiment };

  return wb_app_reader_run_sync (notebook, read_touched, &question, error);
}

/* ---- The list ---- */

struct _WbAppTouchedList
{
  GObject        parent_instance;

  WbAppNotebook *notebook;
  GPtrArray     *items;       /* WbAppTouched */
  GCancellable  *cancellable;
  gboolean       loading;
  gboolean       again;
};

enum { CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (WbAppTouchedList, wb_app_touched_list, G_TYPE_OBJECT)

static void load (WbAppTouchedList *self);

static void
question_free (gpointer data)
{
  wb_app_loads_unref (((Question *) data)->loads);
  g_free (data);
}

static void
on_read_cb (GObject      *source,
            GAsyncResult *result,
            gpointer      user)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) fresh = g_task_propagate_pointer (G_TASK (result), &error);
  WbAppTouchedList *self;

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  self = WB_APP_TOUCHED_LIST (user);
  self->loading = FALSE;
  /* What cannot be read now stays as it was told; the next save or look tells why. */
  if (fresh != NULL && (fresh->len > 0 || self->items->len > 0))
    {
      g_ptr_array_unref (self->items);
      self->items = g_steal_pointer (&fresh);
      g_signal_emit (self, signals[CHANGED], 0);
    }
  if (self->again)
    load (self);
}

static void
load (WbAppTouchedList *self)
{
  Question *question;
  GTask *task;

  self->again = self->loading;
  if (self->loading)
    return;
  self->loading = TRUE;
  question = g_new0 (Question, 1);
  question->loads = wb_app_loads_ref (wb_app_notebook_get_loads (self->notebook));
  task = g_task_new (self->notebook, self->cancellable, on_read_cb, self);
  g_task_set_source_tag (task, load);
  wb_app_reader_run (self->notebook, task, read_touched, question, question_free, (GDestroyNotify) g_ptr_array_unref);
}

/* Of readings only one over a limit touches a decision; which it is, only the one who reads knows. */
static void
on_notebook_changed_cb (WbAppNotebook    *notebook,
                        gint64            entry,
                        gpointer          types,
                        gboolean          own,
                        WbAppTouchedList *self)
{
  const WbRecordType *const matter[] = {
    &wb_decision_type, &wb_confirmation_type, &wb_lot_type, &wb_vessel_type, &wb_wax_type, &wb_wick_type, &wb_fragrance_type,
    &wb_fragrance_part_type, &wb_dye_type, &wb_additive_type, &wb_sample_type, &wb_batch_type, &wb_experiment_type, &wb_cell_type,
    &wb_notebook_type, &wb_reading_type, &wb_attachment_type, &wb_burn_type, &wb_limit_type,
  };

  for (guint i = 0; i < G_N_ELEMENTS (matter); i++)
    if (wb_app_change_touches (types, matter[i]))
      {
        load (self);
        return;
      }
}

static void
wb_app_touched_list_dispose (GObject *object)
{
  WbAppTouchedList *self = WB_APP_TOUCHED_LIST (object);

  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->notebook);
  G_OBJECT_CLASS (wb_app_touched_list_parent_class)->dispose (object);
}

static void
wb_app_touched_list_finalize (GObject *object)
{
  WbAppTouchedList *self = WB_APP_TOUCHED_LIST (object);

  g_object_unref (self->cancellable);
  g_ptr_array_unref (self->items);
  G_OBJECT_CLASS (wb_app_touched_list_parent_class)->finalize (object);
}

static void
wb_app_touched_list_class_init (WbAppTouchedListClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = wb_app_touched_list_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_app_touched_list_finalize;
  signals[CHANGED] = g_signal_new ("changed", WB_TYPE_APP_TOUCHED_LIST, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
wb_app_touched_list_init (WbAppTouchedList *self)
{
  self->items = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_app_touched_unref);
  self->cancellable = g_cancellable_new ();
}

WbAppTouchedList *
wb_app_touched_list_new (WbAppNotebook *notebook)
{
  WbAppTouchedList *self;

  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (notebook), NULL);

  self = g_object_new (WB_TYPE_APP_TOUCHED_LIST, NULL);
  self->notebook = g_object_ref (notebook);
  g_signal_connect_object (notebook, "changed", G_CALLBACK (on_notebook_changed_cb), self, 0);
  load (self);
  return self;
}

const GPtrArray *
wb_app_touched_list_get (WbAppTouchedList *self)
{
  g_return_val_if_fail (WB_IS_APP_TOUCHED_LIST (self), NULL);
  return self->items;
}

WbAppTouched *
wb_app_touched_list_find (WbAppTouchedList *self,
                          gint64            decision)
{
  g_return_val_if_fail (WB_IS_APP_TOUCHED_LIST (self), NULL);

  for (guint i = 0; i < self->items->len; i++)
    if (((const WbAppTouched *) g_ptr_array_index (self->items, i))->decision == decision)
      return g_ptr_array_index (self->items, i);
  return NULL;
}

/* ---- No test is needed ---- */

void
wb_app_touched_explain_async (WbAppNotebook      *notebook,
                              const WbAppTouched *self,
                              const char         *why,
                              GCancellable       *cancellable,
                              GAsyncReadyCallback callback,
                              gpointer            user)
{
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (wb_record_free);
  g_autofree char *reason = g_strstrip (g_strdup (why != NULL ? why : ""));
  g_autofree char *what = NULL;
  GTask *task;

  g_return_if_fail (WB_IS_APP_NOTEBOOK (notebook));
  g_return_if_fail (self != NULL);

  task = wb_app_save_task_new (notebook, wb_app_touched_explain_async, cancellable, callback, user);
  if (*reason == '\0')
    {
      wb_app_save_task_refuse (task, g_strdup (_("Say why no test is needed: it is kept with the decision and printed.")));
      return;
    }
  for (guint i = 0; i < self->changes->len; i++)
    {
      const WbCraftTouched *change = g_ptr_array_index (self->changes, i);
      WbConfirmation *confirmation;

      if (change->state != WB_CRAFT_TOUCHED_OPEN)
        continue;
      confirmation = wb_record_new (&wb_confirmation_type);
      confirmation->decision = self->decision;
      confirmation->changed = change->changed;
      confirmation->changed_entry = change->changed_entry;
      confirmation->why = g_strdup (reason);
      g_ptr_array_add (records, confirmation);
    }
  what = g_strdup_printf (_("No test is needed: the decision for %s"), self->experiment_code);
  wb_app_notebook_save_topic_async (notebook, "decision", what, records, cancellable, wb_app_save_task_end_cb, task);
}

gboolean
wb_app_touched_explain_finish (WbAppNotebook *notebook,
                               GAsyncResult  *result,
                               GError       **error)
{
  g_return_val_if_fail (g_task_is_valid (result, notebook), FALSE);
  return g_task_propagate_boolean (G_TASK (result), error);
}
