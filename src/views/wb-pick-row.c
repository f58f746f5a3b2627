/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-pick-row.h"

#include <glib/gi18n.h>
#include <string.h>

struct _WbPickRow
{
  GObject       parent_instance;

  /* owned */
  char         *name, *title, *about;
  char         *key;     /* folded, to be searched */
  WbPickRow    *parent;

  /* state */
  WbPickRowKind kind;
  WbPick        pick;
  gboolean      burnt;
  gboolean      picked;
  gboolean      open;
};

G_DEFINE_FINAL_TYPE (WbPickRow, wb_pick_row, G_TYPE_OBJECT)

enum { PROP_0, PROP_PICKED, PROP_OPEN, N_PROPS };
static GParamSpec *properties[N_PROPS];

static void
wb_pick_row_get_property (GObject    *object,
                          guint       id,
                          GValue     *value,
                          GParamSpec *spec)
{
  WbPickRow *self = WB_PICK_ROW (object);

  if (id == PROP_PICKED)
    g_value_set_boolean (value, self->picked);
  else if (id == PROP_OPEN)
    g_value_set_boolean (value, self->open);
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, spec);
}

static void
wb_pick_row_finalize (GObject *object)
{
  WbPickRow *self = WB_PICK_ROW (object);

  g_free (self->name);
  g_free (self->title);
  g_free (self->about);
  g_free (self->key);
  g_clear_object (&self->parent);
  G_OBJECT_CLASS (wb_pick_row_parent_class)->finalize (object);
}

static void
wb_pick_row_class_init (WbPickRowClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);

  object_class->get_property = wb_pick_row_get_property;
  object_class->finalize = wb_pick_row_finalize;
  properties[PROP_PICKED] = g_param_spec_boolean ("picked", NULL, NULL, FALSE, G_PARAM_READABLE | G_PARAM_STATIC_STRINGS);
  properties[PROP_OPEN] = g_param_spec_boolean ("open", NULL, NULL, FALSE, G_PARAM_READABLE | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (object_class, N_PROPS, properties);
}

static void
wb_pick_row_init (WbPickRow *self)
{
}

/* Takes name, title and about. more: what else it is found by, behind what stands above it; NULL: nothing. */
static WbPickRow *
row_new (WbPickRowKind kind,
         WbPickRow    *parent,
         WbPick        pick,
         char         *name,
         char         *title,
         char         *about,
         const char   *more)
{
  WbPickRow *self = g_object_new (WB_TYPE_PICK_ROW, NULL);
  g_autofree char *all = g_strjoin ("\n", title, name, more, NULL);

  self->kind = kind;
  self->parent = parent != NULL ? g_object_ref (parent) : NULL;
  self->pick = pick;
  self->burnt = TRUE;
  self->name = name;
  self->title = title;
  self->about = about;
  self->key = g_utf8_casefold (all, -1);
  if (parent != NULL)
    {
      g_autofree char *own = g_steal_pointer (&self->key);

      self->key = g_strjoin ("\n", own, parent->key, NULL);
    }
  return self;
}

WbPickRow *
wb_pick_row_new_experiment (WbAppExperiment *experiment)
{
  WbPick pick = { wb_app_experiment_get_id (experiment), 0, 0 };
  guint burns = wb_app_experiment_get_burns (experiment);
  g_autofree char *name = g_strdup_printf ("%s  %s", wb_app_experiment_get_code (experiment), wb_app_experiment_get_title (experiment));
  char *about = burns > 0 ? g_strdup_printf (ngettext ("%u burn", "%u burns", burns), burns) : g_strdup (_("nothing burnt yet"));
  WbPickRow *self = row_new (WB_PICK_ROW_EXPERIMENT, NULL, pick, g_strdup (name), g_strdup (name), about, NULL);

  self->burnt = burns > 0;
  return self;
}

static char *
dup_counts (guint samples,
            guint burns)
{
  g_autofree char *of_samples = samples > 0 ? g_strdup_printf (ngettext ("%u sample", "%u samples", samples), samples) : NULL;
  g_autofree char *of_burns = g_strdup_printf (ngettext ("%u burn", "%u burns", burns), burns);

  /* Translators: "3 samples, 45 burns". */
  return of_samples != NULL ? g_strdup_printf (_("%s, %s"), of_samples, of_burns) : g_steal_pointer (&of_burns);
}

/* Burns of each sample of the data set. Caller frees. */
static guint *
count_burns (const WbDataset *data)
{
  guint *burns = g_new0 (guint, data->samples->len + 1);

  for (guint i = 0; i < data->burns->len; i++)
    burns[g_array_index (data->burn_sample, guint, i)]++;
  return burns;
}

static WbPickRow *
sample_new (WbPickRow       *cell,
            const WbDataset *data,
            guint            sample,
            guint            burns)
{
  const WbSample *record = wb_dataset_get_sample (data, sample);
  WbPick pick = { cell->pick.experiment, cell->pick.cell, record->record.id };
  g_autofree char *counts = dup_counts (0, burns);
  char *about = record->set_aside != NULL ? g_strdup_printf (_("%s, set aside"), counts) : g_strdup (counts);

  return row_new (WB_PICK_ROW_SAMPLE, cell, pick, g_strdup (record->code),
                  wb_pick_dup_title (data, g_array_index (data->sample_cell, guint, sample), (int) sample), about, NULL);
}

/* How the combination with that record stands, "best so far"; NULL: not known. */
static const char *
find_verdict (const WbCraftAnswer *answer,
              gint64               id)
{
  for (guint i = 0; answer != NULL && i < answer->ranking->n_groups; i++)
    for (guint k = 0; k < answer->ranking->groups[i].n_cells; k++)
      {
        const WbCraftRanked *ranked = &answer->ranking->groups[i].cells[k];

        if (wb_dataset_get_cell (answer->data, ranked->cell)->record.id == id)
          return wb_craft_ranked_get_verdict_label (ranked);
      }
  return NULL;
}

/* Takes the counts; caller frees. */
static char *
dup_standing (char       *counts,
              const char *verdict)
{
  g_autofree char *taken = counts;

  /* Translators: "3 samples, 45 burns", then how the combination stands. */
  return verdict != NULL ? g_strdup_printf (_("%s, %s"), taken, verdict) : g_steal_pointer (&taken);
}

static void
add_cell (GPtrArray           *rows,
          WbPickRow           *experiment,
          const WbDataset     *data,
          guint                cell,
          const guint         *burns,
          const WbCraftAnswer *answer)
{
  WbPick pick = { experiment->pick.experiment, wb_dataset_get_cell (data, cell)->record.id, 0 };
  g_autofree char *wick = wb_dataset_dup_wick_title (data, cell), *scent = wb_dataset_dup_scent_name (data, cell);
  g_autofree char *more = g_strjoin ("\n", wb_dataset_get_vessel (data, cell)->name, wick, scent, NULL);
  guint samples = 0, all = 0;
  WbPickRow *row;

  for (guint i = 0; i < data->samples->len; i++)
    if (g_array_index (data->sample_cell, guint, i) == cell && burns[i] > 0)
      {
        samples++;
        all += burns[i];
      }
  if (all == 0)
    return;
  row = row_new (WB_PICK_ROW_CELL, experiment, pick, wb_dataset_dup_cell_name (data, cell), wb_pick_dup_title (data, cell, -1),
                 dup_standing (dup_counts (samples, all), find_verdict (answer, pick.cell)), more);
  g_ptr_array_add (rows, row);
  for (guint i = 0; i < data->samples->len; i++)
    if (g_array_index (data->sample_cell, guint, i) == cell && burns[i] > 0)
      g_ptr_array_add (rows, sample_new (row, data, i, burns[i]));
}

GPtrArray *
wb_pick_row_list_below (WbPickRow           *experiment,
                        const WbDataset     *data,
                        const WbCraftAnswer *answer)
{
  GPtrArray *rows = g_ptr_array_new_with_free_func (g_object_unref);
  g_autofree guint *burns = NULL;

  g_return_val_if_fail (WB_IS_PICK_ROW (experiment) && data != NULL, rows);

  burns = count_burns (data);
  for (guint i = 0; i < data->cells->len; i++)
    add_cell (rows, experiment, data, i, burns, answer);
  return rows;
}

WbPickRowKind
wb_pick_row_get_kind (WbPickRow *self)
{
  g_return_val_if_fail (WB_IS_PICK_ROW (self), WB_PICK_ROW_EXPERIMENT);
  return self->kind;
}

const WbPick *
wb_pick_row_get_pick (WbPickRow *self)
{
  g_return_val_if_fail (WB_IS_PICK_ROW (self), NULL);
  return &self->pick;
}

const char *
wb_pick_row_get_name (WbPickRow *self)
{
  g_return_val_if_fail (WB_IS_PICK_ROW (self), NULL);
  return self->name;
}

const char *
wb_pick_row_get_title (WbPickRow *self)
{
  g_return_val_if_fail (WB_IS_PICK_ROW (self), NULL);
  return self->title;
}

const char *
wb_pick_row_get_about (WbPickRow *self)
{
  g_return_val_if_fail (WB_IS_PICK_ROW (self), NULL);
  return self->about;
}

WbPickRow *
wb_pick_row_get_parent (WbPickRow *self)
{
  g_return_val_if_fail (WB_IS_PICK_ROW (self), NULL);
  return self->parent;
}

gboolean
wb_pick_row_is_burnt (WbPickRow *self)
{
  g_return_val_if_fail (WB_IS_PICK_ROW (self), FALSE);
  return self->burnt;
}

gboolean
wb_pick_row_get_picked (WbPickRow *self)
{
  g_return_val_if_fail (WB_IS_PICK_ROW (self), FALSE);
  return self->picked;
}

void
wb_pick_row_set_picked (WbPickRow *self,
                        gboolean   picked)
{
  g_return_if_fail (WB_IS_PICK_ROW (self));

  if (picked == self->picked)
    return;
  self->picked = picked;
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_PICKED]);
}

gboolean
wb_pick_row_get_open (WbPickRow *self)
{
  g_return_val_if_fail (WB_IS_PICK_ROW (self), FALSE);
  return self->open;
}

void
wb_pick_row_set_open (WbPickRow *self,
                      gboolean   open)
{
  g_return_if_fail (WB_IS_PICK_ROW (self));

  if (open == self->open)
    return;
  self->open = open;
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_OPEN]);
}

gboolean
wb_pick_row_matches (WbPickRow         *self,
                     const char *const *words)
{
  g_return_val_if_fail (WB_IS_PICK_ROW (self), FALSE);

  for (guint i = 0; words[i] != NULL; i++)
    if (strstr (self->key, words[i]) == NULL)
      return FALSE;
  return TRUE;
}
