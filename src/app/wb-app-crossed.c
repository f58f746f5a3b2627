/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-crossed-private.h"

#include "wb-app-lot-trace-private.h"
#include "wb-app-stamp-private.h"
#include "wb-craft-crossed.h"
#include "wb-craft-decision.h"
#include "wb-craft-recipe.h"
#include "wb-store-records.h"

/* Experiments (gint64, each once) that have the cell's vessel with its wick and fragrance: all that can be of its recipe. */
static GArray *
find_experiments (WbStore      *store,
                  const WbCell *like,
                  GError      **error)
{
  g_autoptr (GPtrArray) cells = wb_store_list (store, &wb_cell_type, "vessel", like->vessel, error);
  GArray *found;

  if (cells == NULL)
    return NULL;
  found = g_array_new (FALSE, FALSE, sizeof (gint64));
  for (guint i = 0; i < cells->len; i++)
    {
      const WbCell *cell = g_ptr_array_index (cells, i);
      gboolean known = cell->wick != like->wick || cell->fragrance != like->fragrance;

      for (guint k = 0; k < found->len && !known; k++)
        known = g_array_index (found, gint64, k) == cell->experiment;
      if (!known)
        g_array_append_val (found, cell->experiment);
    }
  return found;
}

/* ---- Since when it is so ---- */

/* What of a record makes a crossing one, or not. */
typedef gboolean (*IsSame) (gconstpointer a, gconstpointer b);

static gboolean
is_same_burn (gconstpointer a,
              gconstpointer b)
{
  return ((const WbBurn *) a)->sample == ((const WbBurn *) b)->sample;
}

static gboolean
is_same_sample (gconstpointer a,
                gconstpointer b)
{
  const WbSample *one = a, *other = b;

  return one->cell == other->cell && (one->set_aside == NULL) == (other->set_aside == NULL) && (one->set_aside_cause < 0) == (other->set_aside_cause < 0);
}

static gboolean
is_same_protocol (gconstpointer a,
                  gconstpointer b)
{
  return ((const WbExperiment *) a)->protocol == ((const WbExperiment *) b)->protocol;
}

/* The entry of the version from which on a record is as it is in what matters: notes that were added later are no news. 0 with an error. */
static gint64
find_changed (WbStore            *store,
              const WbRecordType *type,
              gint64              id,
              IsSame              is_same,
              GError            **error)
{
  g_autoptr (GPtrArray) history = wb_store_list_history (store, type, id, error);
  const WbRecord *before = NULL;
  gint64 entry = 0;

  for (guint i = 0; history != NULL && i < history->len; i++)
    {
      const WbRecord *version = ((const WbStoreVersion *) g_ptr_array_index (history, i))->record;

      if (before == NULL || before->deleted != version->deleted || !is_same (before, version))
        entry = version->entry;
      before = version;
    }
  return entry;
}

/* A load's, while its crossings are dated; what was found of the burn, the sample and each limit is kept, for there may be many readings. */
typedef struct
{
  WbStore              *store;
  const WbAppBenchLoad *load;
  guint                 burn, sample; /* whose entries are kept; G_MAXUINT: none */
  gint64                burn_entry, sample_entry;
  GPtrArray            *limits;         /* of each limit its versions, GPtrArray of WbStoreVersion; NULL: not looked up */
  gint64                protocol_entry; /* since when the experiment is held against these limits; 0: not looked up */
} Dating;

static gboolean
date_burn (Dating               *self,
           const WbCraftCrossed *crossed,
           GError              **error)
{
  const WbDataset *data = self->load->data;

  if (self->burn != crossed->burn)
    {
      self->burn_entry = find_changed (self->store, &wb_burn_type, wb_dataset_get_burn (data, crossed->burn)->record.id, is_same_burn, error);
      self->burn = self->burn_entry != 0 ? crossed->burn : G_MAXUINT;
    }
  if (self->burn != G_MAXUINT && self->sample != crossed->sample)
    {
      self->sample_entry = find_changed (self->store, &wb_sample_type, wb_dataset_get_sample (data, crossed->sample)->record.id, is_same_sample, error);
      self->sample = self->sample_entry != 0 ? crossed->sample : G_MAXUINT;
    }
  return self->burn != G_MAXUINT && self->sample != G_MAXUINT;
}

/* Since when what was read is over that limit, without a break: one that moved above or below it all the time is no news. 0 with an error. */
static gint64
date_limit (Dating               *self,
            const WbCraftCrossed *crossed,
            GError              **error)
{
  const WbDataset *data = self->load->data;
  GPtrArray **history = (GPtrArray **) &g_ptr_array_index (self->limits, crossed->limit);
  const WbRecord *limit = g_ptr_array_index (data->limits, crossed->limit);
  gint64 entry = limit->entry;
  gboolean was = FALSE;

  if (*history == NULL && (*history = wb_store_list_history (self->store, &wb_limit_type, limit->id, error)) == NULL)
    return 0;
  for (guint i = 0; i < (*history)->len; i++)
    {
      const WbRecord *version = ((const WbStoreVersion *) g_ptr_array_index (*history, i))->record;
      gboolean over = !version->deleted && wb_craft_crossed_is_over (data, crossed, (const WbLimit *) version);

      if (over && !was)
        entry = version->entry;
      was = over;
    }
  if (self->protocol_entry == 0)
    self->protocol_entry = find_changed (self->store, &wb_experiment_type, data->experiment->record.id, is_same_protocol, error);
  return self->protocol_entry == 0 ? 0 : MAX (entry, self->protocol_entry);
}

/* The newest entry without which it would be no crossing of the recipe, and whether that is where the limit lies; 0 with an error. */
static gint64
find_entry (Dating               *self,
            const WbCraftCrossed *crossed,
            gboolean             *by_limit,
            GError              **error)
{
  g_autoptr (WbRecord) record = wb_store_load (self->store, crossed->logged ? &wb_attachment_type : &wb_reading_type, crossed->source, error);
  gint64 limit = 0, read;

  if (record == NULL || !date_burn (self, crossed, error))
    return 0;
  if (crossed->limit != G_MAXUINT && (limit = date_limit (self, crossed, error)) == 0)
    return 0;
  read = MAX (record->entry, MAX (self->burn_entry, self->sample_entry));
  *by_limit = limit > read;
  return MAX (read, limit);
}

/* ---- What a reason tells ---- */

/* A reason tells the worst of each limit of its own combination, and the first crack that no limit tells; nothing of another combination. */
static gboolean
is_told (const WbCraftAnswer  *known,
         const WbDataset      *data,
         guint                 cell,
         const WbCraftCrossed *crossed,
         gint64                entry)
{
  gint64 limit;
  guint of, crack;

  if (known == NULL || known->data->experiment->record.id != data->experiment->record.id || entry > known->data->last_entry)
    return FALSE;
  of = wb_app_lot_find_cell (known->data, wb_dataset_get_cell (data, cell)->record.id);
  if (of == G_MAXUINT || wb_craft_decision_find_ranked (known, of) == NULL)
    return FALSE;
  if (crossed->limit == G_MAXUINT)
    {
      crack = wb_craft_crossed_find_crack (known->data, of);
      return crack != G_MAXUINT && wb_readings_get_id (known->data->readings, crack) == crossed->source;
    }
  limit = ((const WbRecord *) g_ptr_array_index (data->limits, crossed->limit))->id;
  for (guint i = 0; i < known->limits->n_limits; i++)
    if (((const WbRecord *) g_ptr_array_index (known->data->limits, i))->id == limit)
      {
        const WbCraftLimit *judged = wb_craft_limits_get (known->limits, of, i);

        return judged->state == WB_CRAFT_LIMIT_CROSSED || judged->set_aside_only;
      }
  return FALSE;
}

/* ---- Those of a cell ---- */

typedef struct
{
  gint64               decision, since;
  const WbDataset     *own;
  guint                own_cell;
  const WbCraftAnswer *known;
} Asked;

/* Of the crossings of one sample, which stand one behind the other, the newest. */
static gboolean
add_of_cell (Dating      *dating,
             guint        cell,
             const Asked *asked,
             GPtrArray   *into,
             GError     **error)
{
  const WbDataset *data = dating->load->data;
  /* a reason speaks of the combination that is asked about, not of its like */
  gboolean is_own = wb_dataset_get_cell (data, cell)->record.id == wb_dataset_get_cell (asked->own, asked->own_cell)->record.id;
  g_autoptr (GPtrArray) all = wb_craft_crossed_new (data, cell);

  for (guint i = 0; i < all->len;)
    {
      const WbCraftCrossed *first = g_ptr_array_index (all, i), *newest = NULL;
      gint64 newest_entry = asked->since;
      gboolean newest_by_limit = FALSE;
      WbCraftCrossedSince *since;

      for (; i < all->len && ((const WbCraftCrossed *) g_ptr_array_index (all, i))->sample == first->sample; i++)
        {
          const WbCraftCrossed *crossed = g_ptr_array_index (all, i);
          gboolean by_limit = FALSE;
          gint64 entry = find_entry (dating, crossed, &by_limit, error);

          if (entry == 0)
            return FALSE;
          if (entry > newest_entry && !is_told (is_own ? asked->known : NULL, data, cell, crossed, entry))
            {
              newest = crossed;
              newest_entry = entry;
              newest_by_limit = by_limit;
            }
        }
      if (newest == NULL)
        continue;
      since = wb_craft_crossed_since_new (asked->decision, wb_dataset_get_sample (data, first->sample)->record.id, newest_entry, data->experiment->code,
                                          newest->text);
      since->by_limit = newest_by_limit;
      g_ptr_array_add (into, since);
    }
  return TRUE;
}

static void
history_free (gpointer history)
{
  g_clear_pointer ((GPtrArray **) &history, g_ptr_array_unref);
}

static gboolean
add_of_load (WbStore              *store,
             const WbAppBenchLoad *load,
             const Asked          *asked,
             GPtrArray            *into,
             GError              **error)
{
  g_autoptr (GPtrArray) limits = g_ptr_array_new_with_free_func (history_free);
  Dating dating = { store, load, G_MAXUINT, G_MAXUINT, 0, 0, limits, 0 };

  g_ptr_array_set_size (limits, (int) load->data->limits->len);
  for (guint k = 0; k < load->data->cells->len; k++)
    if (wb_craft_recipe_is_same (asked->own, asked->own_cell, load->data, k) && !add_of_cell (&dating, k, asked, into, error))
      return FALSE;
  return TRUE;
}

gboolean
wb_app_crossed_read (WbStore              *store,
                     WbAppLoads           *loads,
                     GHashTable           *stamps,
                     const WbAppBenchLoad *own,
                     guint                 cell,
                     gint64                decision,
                     gint64                since,
                     const WbCraftAnswer  *known,
                     GPtrArray            *into,
                     GError              **error)
{
  g_autoptr (GArray) experiments = find_experiments (store, wb_dataset_get_cell (own->data, cell), error);
  const Asked asked = { decision, since, own->data, cell, known };

  for (guint i = 0; experiments != NULL && i < experiments->len; i++)
    {
      gint64 id = g_array_index (experiments, gint64, i);
      WbAppBenchLoad *load = wb_app_loads_get (loads, store, id, wb_app_stamp_find (stamps, id), error);
      gboolean read = load != NULL && add_of_load (store, load, &asked, into, error);

      if (load != NULL)
        wb_app_bench_load_unref (load);
      if (!read)
        return FALSE;
    }
  return experiments != NULL;
}
