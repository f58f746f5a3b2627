/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-picks.h"

#include "wb-problem.h"

#include <glib/gi18n.h>

/* A pick, its title owned, and what was found of it. */
typedef struct
{
  WbPick  pick;
  char   *title;
  guint   index;
  int     sample;
  char   *why;
} Item;

/* The answer of an experiment that picks are of. */
typedef struct
{
  WbCraftAnswer *answer; /* NULL: none yet; of a stale one the last */
  gboolean       fresh;
  char          *why;    /* cancelled or failed, for people; NULL: neither */
} Source;

struct _WbPicks
{
  GObject       parent_instance;

  /* owned */
  WbDesk       *desk;
  GPtrArray    *items;    /* Item */
  GPtrArray    *before;   /* Item: what can be had back; NULL: nothing */
  GHashTable   *sources;  /* experiment (gint64 *) -> Source */
  WbAppJob     *job;      /* NULL: nothing is worked out */
  WbPicked      picked;   /* what wb_picks_get gave last */

  /* state */
  gint64        waits_for; /* the experiment whose answer is on its way */
  gboolean      asks;
};

G_DEFINE_FINAL_TYPE (WbPicks, wb_picks, G_TYPE_OBJECT)

enum { PROP_0, PROP_JOB, N_PROPS };
static GParamSpec *properties[N_PROPS];

enum { CHANGED, ANSWERED, N_SIGNALS };
static guint signals[N_SIGNALS];

static void
item_free (gpointer data)
{
  Item *item = data;

  g_free (item->title);
  g_free (item->why);
  g_free (item);
}

static Item *
item_new (const WbPick *pick,
          const char   *title)
{
  Item *item = g_new0 (Item, 1);

  item->pick = *pick;
  item->title = g_strdup (title);
  item->sample = -1;
  return item;
}

static void
source_free (gpointer data)
{
  Source *source = data;

  g_clear_pointer (&source->answer, wb_craft_answer_unref);
  g_free (source->why);
  g_free (source);
}

static Source *
find_source (WbPicks *self,
             gint64   experiment)
{
  return g_hash_table_lookup (self->sources, &experiment);
}

static Source *
get_source (WbPicks *self,
            gint64   experiment)
{
  Source *source = find_source (self, experiment);

  if (source == NULL)
    {
      source = g_new0 (Source, 1);
      g_hash_table_insert (self->sources, g_memdup2 (&experiment, sizeof experiment), source);
    }
  return source;
}

/* Where it stands in the answer's data; FALSE: it is there no longer. */
static gboolean
locate (const WbDataset *data,
        Item            *item)
{
  guint cell = G_MAXUINT, sample = G_MAXUINT;

  for (guint i = 0; i < data->cells->len; i++)
    if (wb_dataset_get_cell (data, i)->record.id == item->pick.cell)
      cell = i;
  if (item->pick.sample != 0)
    sample = wb_dataset_find_sample (data, item->pick.sample);
  if (cell == G_MAXUINT || (item->pick.sample != 0 && sample == G_MAXUINT))
    return FALSE;
  item->index = cell;
  item->sample = item->pick.sample != 0 ? (int) sample : -1;
  return TRUE;
}

static void
set_job (WbPicks  *self,
         WbAppJob *job)
{
  if (g_set_object (&self->job, job))
    g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_JOB]);
}

/* ---- Answers, one experiment after another ---- */

typedef struct
{
  WbPicks  *self;
  WbAppJob *job;
  gint64    experiment;
} Wait;

static void ask_next (WbPicks *self);

static void
take_answer (WbPicks       *self,
             gint64         experiment,
             WbCraftAnswer *answer,
             const GError  *error)
{
  Source *source = get_source (self, experiment);
  g_autofree char *heading = NULL, *detail = NULL;

  g_clear_pointer (&source->why, g_free);
  if (answer != NULL)
    {
      g_clear_pointer (&source->answer, wb_craft_answer_unref);
      source->answer = wb_craft_answer_ref (answer);
      source->fresh = TRUE;
    }
  else if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    source->why = g_strdup (_("Cancelled: not worked out"));
  else
    {
      wb_problem_dup_words (_("It could not be worked out"), error, &heading, &detail);
      source->why = g_strdup_printf ("%s. %s", heading, detail);
    }
}

static void
on_answer_cb (GObject      *object,
              GAsyncResult *result,
              gpointer      user)
{
  g_autofree Wait *wait = user;
  g_autoptr (WbPicks) self = wait->self;
  g_autoptr (WbAppJob) job = wait->job;
  g_autoptr (GError) error = NULL;
  g_autoptr (WbCraftAnswer) answer = wb_app_answers_get_finish (WB_APP_ANSWERS (object), result, &error);

  /* Given up: nobody waits for it, and nobody is told. */
  if (self->job != job || self->desk == NULL)
    return;
  self->waits_for = 0;
  take_answer (self, wait->experiment, answer, error);
  /* One that is cancelled is the end of all: the person does not want to wait. */
  if (answer == NULL && g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    for (guint i = 0; i < self->items->len; i++)
      {
        Source *source = get_source (self, ((Item *) self->items->pdata[i])->pick.experiment);

        if (!source->fresh && source->why == NULL)
          source->why = g_strdup (_("Cancelled: not worked out"));
      }
  set_job (self, NULL);
  g_signal_emit (self, signals[ANSWERED], 0);
  ask_next (self);
}

static void
ask_next (WbPicks *self)
{
  WbAppAnswers *answers;

  if (!self->asks || self->job != NULL || self->desk == NULL)
    return;
  answers = wb_desk_get_answers (self->desk);
  for (guint i = 0; i < self->items->len; i++)
    {
      gint64 experiment = ((Item *) self->items->pdata[i])->pick.experiment;
      Source *source = get_source (self, experiment);
      g_autoptr (WbAppJob) job = NULL;
      Wait *wait;

      if (source->fresh || source->why != NULL)
        continue;
      job = wb_app_job_new ();
      wait = g_new (Wait, 1);
      *wait = (Wait) { g_object_ref (self), g_object_ref (job), experiment };
      self->waits_for = experiment;
      set_job (self, job);
      wb_app_answers_get_async (answers, experiment, WB_CRAFT_WITHIN_SCENT, 0, job, on_answer_cb, wait);
      return;
    }
}

static void
give_up (WbPicks *self)
{
  if (self->job != NULL)
    wb_app_job_cancel (self->job);
  self->waits_for = 0;
  set_job (self, NULL);
}

static void
on_stale_cb (WbPicks *self,
             gint64   experiment)
{
  Source *source = find_source (self, experiment);

  if (source == NULL)
    return;
  source->fresh = FALSE;
  g_clear_pointer (&source->why, g_free);
  if (self->waits_for == experiment)
    give_up (self);
  ask_next (self);
}

static void
changed (WbPicks *self)
{
  g_signal_emit (self, signals[CHANGED], 0);
  ask_next (self);
}

/* ---- Class ---- */

static void
wb_picks_get_property (GObject    *object,
                       guint       id,
                       GValue     *value,
                       GParamSpec *spec)
{
  if (id == PROP_JOB)
    g_value_set_object (value, WB_PICKS (object)->job);
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, spec);
}

static void
wb_picks_dispose (GObject *object)
{
  WbPicks *self = WB_PICKS (object);

  self->asks = FALSE;
  if (self->job != NULL)
    wb_app_job_cancel (self->job);
  g_clear_object (&self->job);
  if (self->desk != NULL)
    g_signal_handlers_disconnect_by_data (wb_desk_get_answers (self->desk), self);
  g_clear_object (&self->desk);
  G_OBJECT_CLASS (wb_picks_parent_class)->dispose (object);
}

static void
wb_picks_finalize (GObject *object)
{
  WbPicks *self = WB_PICKS (object);

  g_ptr_array_unref (self->items);
  g_clear_pointer (&self->before, g_ptr_array_unref);
  g_hash_table_unref (self->sources);
  G_OBJECT_CLASS (wb_picks_parent_class)->finalize (object);
}

static void
wb_picks_class_init (WbPicksClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);

  object_class->get_property = wb_picks_get_property;
  object_class->dispose = wb_picks_dispose;
  object_class->finalize = wb_picks_finalize;
  properties[PROP_JOB] = g_param_spec_object ("job", NULL, NULL, WB_TYPE_APP_JOB, G_PARAM_READABLE | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (object_class, N_PROPS, properties);
  signals[CHANGED] = g_signal_new ("changed", WB_TYPE_PICKS, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[ANSWERED] = g_signal_new ("answered", WB_TYPE_PICKS, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
wb_picks_init (WbPicks *self)
{
  self->items = g_ptr_array_new_with_free_func (item_free);
  self->sources = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, source_free);
}

WbPicks *
wb_picks_new (WbDesk *desk)
{
  WbPicks *self;

  g_return_val_if_fail (WB_IS_DESK (desk), NULL);

  self = g_object_new (WB_TYPE_PICKS, NULL);
  self->desk = g_object_ref (desk);
  g_signal_connect_swapped (wb_desk_get_answers (desk), "stale", G_CALLBACK (on_stale_cb), self);
  return self;
}

guint
wb_picks_get_n (WbPicks *self)
{
  g_return_val_if_fail (WB_IS_PICKS (self), 0);
  return self->items->len;
}

const WbPicked *
wb_picks_get (WbPicks *self,
              guint    index)
{
  Item *item;
  Source *source;

  g_return_val_if_fail (WB_IS_PICKS (self), NULL);
  g_return_val_if_fail (index < self->items->len, NULL);

  item = self->items->pdata[index];
  source = get_source (self, item->pick.experiment);
  self->picked = (WbPicked) { item->pick, item->title, source->answer, 0, -1, source->why, source->answer != NULL && source->fresh };
  if (source->answer == NULL)
    return &self->picked;
  if (locate (source->answer->data, item))
    {
      self->picked.index = item->index;
      self->picked.sample = item->sample;
      return &self->picked;
    }
  self->picked.answer = NULL;
  self->picked.fresh = FALSE;
  self->picked.why = _("It is not in the notebook any more");
  return &self->picked;
}

int
wb_picks_find (WbPicks      *self,
               const WbPick *pick)
{
  g_return_val_if_fail (WB_IS_PICKS (self), -1);

  for (guint i = 0; i < self->items->len; i++)
    {
      const WbPick *other = &((Item *) self->items->pdata[i])->pick;

      if (other->experiment == pick->experiment && other->cell == pick->cell && other->sample == pick->sample)
        return (int) i;
    }
  return -1;
}

gboolean
wb_picks_add (WbPicks      *self,
              const WbPick *pick,
              const char   *title)
{
  g_return_val_if_fail (WB_IS_PICKS (self), FALSE);
  g_return_val_if_fail (pick != NULL && title != NULL, FALSE);

  if (self->items->len >= WB_PICKS_MAX || wb_picks_find (self, pick) >= 0)
    return FALSE;
  g_ptr_array_add (self->items, item_new (pick, title));
  changed (self);
  return TRUE;
}

void
wb_picks_remove (WbPicks *self,
                 guint    index)
{
  g_return_if_fail (WB_IS_PICKS (self));
  g_return_if_fail (index < self->items->len);

  g_ptr_array_remove_index (self->items, index);
  changed (self);
}

gboolean
wb_picks_move (WbPicks *self,
               guint    index,
               int      by)
{
  gint64 to = (gint64) index + by;
  gpointer item;

  g_return_val_if_fail (WB_IS_PICKS (self), FALSE);
  g_return_val_if_fail (index < self->items->len, FALSE);

  if (to < 0 || to >= (gint64) self->items->len)
    return FALSE;
  item = g_ptr_array_steal_index (self->items, index);
  g_ptr_array_insert (self->items, (int) to, item);
  changed (self);
  return TRUE;
}

void
wb_picks_set (WbPicks           *self,
              const WbPick      *picks,
              const char *const *titles,
              guint              n)
{
  g_return_if_fail (WB_IS_PICKS (self));
  g_return_if_fail (n == 0 || (picks != NULL && titles != NULL));

  g_clear_pointer (&self->before, g_ptr_array_unref);
  self->before = self->items->len > 0 ? g_ptr_array_ref (self->items) : NULL;
  g_ptr_array_unref (self->items);
  self->items = g_ptr_array_new_with_free_func (item_free);
  for (guint i = 0; i < MIN (n, WB_PICKS_MAX); i++)
    g_ptr_array_add (self->items, item_new (&picks[i], titles[i]));
  changed (self);
}

gboolean
wb_picks_can_go_back (WbPicks *self)
{
  g_return_val_if_fail (WB_IS_PICKS (self), FALSE);
  return self->before != NULL;
}

void
wb_picks_go_back (WbPicks *self)
{
  g_return_if_fail (WB_IS_PICKS (self));

  if (self->before == NULL)
    return;
  g_ptr_array_unref (self->items);
  self->items = g_steal_pointer (&self->before);
  changed (self);
}

void
wb_picks_ask (WbPicks *self,
              gboolean ask)
{
  g_return_if_fail (WB_IS_PICKS (self));

  self->asks = ask;
  if (ask)
    ask_next (self);
  else
    give_up (self);
}

void
wb_picks_retry (WbPicks *self)
{
  GHashTableIter iter;
  gpointer source;

  g_return_if_fail (WB_IS_PICKS (self));

  g_hash_table_iter_init (&iter, self->sources);
  while (g_hash_table_iter_next (&iter, NULL, &source))
    g_clear_pointer (&((Source *) source)->why, g_free);
  g_signal_emit (self, signals[ANSWERED], 0);
  ask_next (self);
}

WbAppJob *
wb_picks_get_job (WbPicks *self)
{
  g_return_val_if_fail (WB_IS_PICKS (self), NULL);
  return self->job;
}

gboolean
wb_picks_is_whole (WbPicks *self)
{
  g_return_val_if_fail (WB_IS_PICKS (self), FALSE);

  for (guint i = 0; i < self->items->len; i++)
    if (wb_picks_get (self, i)->answer == NULL)
      return FALSE;
  return TRUE;
}

char *
wb_pick_dup_title (const WbDataset *data,
                   guint            cell,
                   int              sample)
{
  g_autofree char *name = NULL;

  g_return_val_if_fail (data != NULL, NULL);

  name = sample >= 0 ? g_strdup (wb_dataset_get_sample (data, (guint) sample)->code) : wb_dataset_dup_cell_name (data, cell);
  return g_strdup_printf ("%s · %s", data->experiment->code, name);
}
