/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-experiment-private.h"

#include <glib/gi18n-lib.h>

struct _WbAppExperiment
{
  GObject       parent_instance;

  WbExperiment *record;
  WbCraftState  state;
  char         *waits_for;
  gboolean      cured;     /* poured, never lit, and no cure is waited for */
  guint         cells;
  guint         samples;
  guint         poured;
  guint         burns;
  guint         readings;
  gint64        last_entry;
};

enum
{
  PROP_0,
  PROP_ID,
  PROP_CODE,
  PROP_TITLE,
  PROP_STATE,
  PROP_WAITS_FOR,
  PROP_CELLS,
  PROP_SAMPLES,
  PROP_BURNS,
  PROP_READINGS,
  N_PROPS
};

static GParamSpec *properties[N_PROPS];

G_DEFINE_FINAL_TYPE (WbAppExperiment, wb_app_experiment, G_TYPE_OBJECT)

static char *
dup_waits_for (const WbStoreExperiment *counts,
               WbCraftState             state,
               guint                    waiting)
{
  g_autofree char *day = NULL;
  guint unpoured = (guint) MAX (counts->samples - counts->poured, 0);
  guint fit = (guint) MAX (counts->poured - counts->burnt - counts->curing, 0);

  switch (state)
    {
    case WB_CRAFT_STATE_PLANNED:
      if (counts->samples == 0)
        return g_strdup (_("Waits for its samples"));
      return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u sample to pour", "%u samples to pour", unpoured), unpoured);
    case WB_CRAFT_STATE_CURING:
      if (fit > 0)
        return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u sample fit to burn", "%u samples fit to burn", fit), fit);
      day = wb_day_format_local (counts->cured_on);
      return g_strdup_printf (_("Cures; the first is fit to burn on %s"), day);
    case WB_CRAFT_STATE_BURNING:
      return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u sample not burnt to its end", "%u samples not burnt to their end", waiting), waiting);
    case WB_CRAFT_STATE_FINISHED:
      return g_strdup (_("Waits for nothing"));
    default:
      g_assert_not_reached ();
    }
}

static void
wb_app_experiment_get_property (GObject    *object,
                                guint       prop_id,
                                GValue     *value,
                                GParamSpec *pspec)
{
  WbAppExperiment *self = WB_APP_EXPERIMENT (object);

  switch (prop_id)
    {
    case PROP_ID:
      g_value_set_int64 (value, wb_app_experiment_get_id (self));
      break;
    case PROP_CODE:
      g_value_set_string (value, self->record->code);
      break;
    case PROP_TITLE:
      g_value_set_string (value, self->record->title);
      break;
    case PROP_STATE:
      g_value_set_int (value, self->state);
      break;
    case PROP_WAITS_FOR:
      g_value_set_string (value, self->waits_for);
      break;
    case PROP_CELLS:
      g_value_set_uint (value, self->cells);
      break;
    case PROP_SAMPLES:
      g_value_set_uint (value, self->samples);
      break;
    case PROP_BURNS:
      g_value_set_uint (value, self->burns);
      break;
    case PROP_READINGS:
      g_value_set_uint (value, self->readings);
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, prop_id, pspec);
    }
}

static void
wb_app_experiment_finalize (GObject *object)
{
  WbAppExperiment *self = WB_APP_EXPERIMENT (object);

  g_clear_pointer (&self->record, wb_record_free);
  g_free (self->waits_for);
  G_OBJECT_CLASS (wb_app_experiment_parent_class)->finalize (object);
}

static void
wb_app_experiment_class_init (WbAppExperimentClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  const GParamFlags flags = G_PARAM_READABLE | G_PARAM_STATIC_STRINGS;

  object_class->get_property = wb_app_experiment_get_property;
  object_class->finalize = wb_app_experiment_finalize;

  properties[PROP_ID] = g_param_spec_int64 ("id", NULL, NULL, 0, G_MAXINT64, 0, flags);
  properties[PROP_CODE] = g_param_spec_string ("code", NULL, NULL, NULL, flags);
  properties[PROP_TITLE] = g_param_spec_string ("title", NULL, NULL, NULL, flags);
  properties[PROP_STATE] = g_param_spec_int ("state", NULL, NULL, 0, G_MAXINT, 0, flags);
  properties[PROP_WAITS_FOR] = g_param_spec_string ("waits-for", NULL, NULL, NULL, flags);
  properties[PROP_CELLS] = g_param_spec_uint ("cells", NULL, NULL, 0, G_MAXUINT, 0, flags);
  properties[PROP_SAMPLES] = g_param_spec_uint ("samples", NULL, NULL, 0, G_MAXUINT, 0, flags);
  properties[PROP_BURNS] = g_param_spec_uint ("burns", NULL, NULL, 0, G_MAXUINT, 0, flags);
  properties[PROP_READINGS] = g_param_spec_uint ("readings", NULL, NULL, 0, G_MAXUINT, 0, flags);
  g_object_class_install_properties (object_class, N_PROPS, properties);
}

static void
wb_app_experiment_init (WbAppExperiment *self)
{
}

WbAppExperiment *
wb_app_experiment_new (WbExperiment            *record,
                       const WbStoreExperiment *counts,
                       guint                    waiting)
{
  WbAppExperiment *self = g_object_new (WB_TYPE_APP_EXPERIMENT, NULL);

  self->record = record;
  self->state = wb_craft_state_of (counts->closed, (guint) counts->poured, (guint) counts->burns, waiting);
  self->waits_for = dup_waits_for (counts, self->state, waiting);
  self->cured = counts->poured > counts->burnt && counts->curing == 0;
  self->cells = (guint) counts->cells;
  self->samples = (guint) counts->samples;
  self->poured = (guint) counts->poured;
  self->burns = (guint) counts->burns;
  self->readings = (guint) counts->readings;
  self->last_entry = counts->last_entry;
  return self;
}

gboolean
wb_app_experiment_equal (WbAppExperiment *a,
                         WbAppExperiment *b)
{
  return wb_app_experiment_get_id (a) == wb_app_experiment_get_id (b)
         && a->last_entry == b->last_entry
         && a->record->record.entry == b->record->record.entry
         && a->state == b->state
         && a->readings == b->readings
         && g_strcmp0 (a->waits_for, b->waits_for) == 0;
}

static int
state_place (WbCraftState state)
{
  switch (state)
    {
    case WB_CRAFT_STATE_BURNING:
      return 0;
    case WB_CRAFT_STATE_CURING:
      return 1;
    case WB_CRAFT_STATE_PLANNED:
      return 2;
    case WB_CRAFT_STATE_FINISHED:
      return 3;
    default:
      g_assert_not_reached ();
    }
}

int
wb_app_experiment_order (gconstpointer a,
                         gconstpointer b)
{
  WbAppExperiment *first = *(WbAppExperiment *const *) a, *second = *(WbAppExperiment *const *) b;
  int by_state = state_place (first->state) - state_place (second->state);

  if (by_state != 0)
    return by_state;
  return first->record->record.id > second->record->record.id ? -1 : first->record->record.id < second->record->record.id;
}

const WbExperiment *
wb_app_experiment_get_record (WbAppExperiment *self)
{
  g_return_val_if_fail (WB_IS_APP_EXPERIMENT (self), NULL);
  return self->record;
}

gint64
wb_app_experiment_get_id (WbAppExperiment *self)
{
  g_return_val_if_fail (WB_IS_APP_EXPERIMENT (self), 0);
  return self->record->record.id;
}

const char *
wb_app_experiment_get_code (WbAppExperiment *self)
{
  g_return_val_if_fail (WB_IS_APP_EXPERIMENT (self), NULL);
  return self->record->code;
}

const char *
wb_app_experiment_get_title (WbAppExperiment *self)
{
  g_return_val_if_fail (WB_IS_APP_EXPERIMENT (self), NULL);
  return self->record->title;
}

WbCraftState
wb_app_experiment_get_state (WbAppExperiment *self)
{
  g_return_val_if_fail (WB_IS_APP_EXPERIMENT (self), WB_CRAFT_STATE_PLANNED);
  return self->state;
}

const char *
wb_app_experiment_get_waits_for (WbAppExperiment *self)
{
  g_return_val_if_fail (WB_IS_APP_EXPERIMENT (self), NULL);
  return self->waits_for;
}

guint
wb_app_experiment_get_cells (WbAppExperiment *self)
{
  g_return_val_if_fail (WB_IS_APP_EXPERIMENT (self), 0);
  return self->cells;
}

guint
wb_app_experiment_get_samples (WbAppExperiment *self)
{
  g_return_val_if_fail (WB_IS_APP_EXPERIMENT (self), 0);
  return self->samples;
}

guint
wb_app_experiment_get_poured (WbAppExperiment *self)
{
  g_return_val_if_fail (WB_IS_APP_EXPERIMENT (self), 0);
  return self->poured;
}

guint
wb_app_experiment_get_burns (WbAppExperiment *self)
{
  g_return_val_if_fail (WB_IS_APP_EXPERIMENT (self), 0);
  return self->burns;
}

guint
wb_app_experiment_get_readings (WbAppExperiment *self)
{
  g_return_val_if_fail (WB_IS_APP_EXPERIMENT (self), 0);
  return self->readings;
}

const char *
wb_app_experiment_get_word (WbAppExperiment *self)
{
  g_return_val_if_fail (WB_IS_APP_EXPERIMENT (self), NULL);
  return self->state == WB_CRAFT_STATE_CURING && self->cured ? _("cured") : wb_craft_state_get_label (self->state);
}

gint64
wb_app_experiment_get_last_entry (WbAppExperiment *self)
{
  g_return_val_if_fail (WB_IS_APP_EXPERIMENT (self), 0);
  return self->last_entry;
}
