/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-lot-trace-private.h"

#include <glib/gi18n-lib.h>

/* One place where a lot went, in words. */

static void
use_free (gpointer data)
{
  WbAppLotUse *self = data;

  g_free (self->experiment_code);
  g_free (self->code);
  g_free (self->cell);
  g_free (self->state);
  g_free (self->worst);
  g_free (self->lots);
  g_free (self);
}

GPtrArray *
wb_app_lot_uses_new (void)
{
  return g_ptr_array_new_with_free_func (use_free);
}

const char *
wb_app_lot_use_kind_get_label (WbAppLotUseKind kind)
{
  switch (kind)
    {
    case WB_APP_LOT_BATCH:
      return _("melt");
    case WB_APP_LOT_SAMPLE:
      return _("sample");
    case WB_APP_LOT_DECISION:
    default:
      return _("decision");
    }
}

const char *
wb_app_lot_use_kind_get_key (WbAppLotUseKind kind)
{
  switch (kind)
    {
    case WB_APP_LOT_BATCH:
      return "melt";
    case WB_APP_LOT_SAMPLE:
      return "sample";
    case WB_APP_LOT_DECISION:
    default:
      return "decision";
    }
}

static WbAppLotUse *
use_new (const WbAppBenchLoad *load,
         WbAppLotUseKind       kind,
         gint64                id)
{
  WbAppLotUse *self = g_new0 (WbAppLotUse, 1);

  self->kind = kind;
  self->experiment = load->id;
  self->experiment_code = g_strdup (load->data->experiment->code);
  self->id = id;
  self->day = WB_DAY_NONE;
  return self;
}

/* With vessel and scent always: rows of several experiments stand below each other. */
static char *
dup_cell (const WbDataset *data,
          guint            cell)
{
  g_autofree char *vessel = wb_material_dup_title (wb_dataset_get_vessel (data, cell));
  g_autofree char *wick = wb_dataset_dup_wick_name (data, cell);
  g_autofree char *scent = wb_dataset_dup_scent_name (data, cell);

  return g_strdup_printf ("%s · %s · %s", vessel, wick, scent);
}

static guint
count_burns (const WbDataset *data,
             guint            sample)
{
  guint n = 0;

  for (guint i = 0; i < data->burns->len; i++)
    n += g_array_index (data->burn_sample, guint, i) == sample;
  return n;
}

static char *
dup_state (const WbAppBenchLoad *load,
           guint                 sample)
{
  const WbSample *record = wb_dataset_get_sample (load->data, sample);
  guint burns = count_burns (load->data, sample);

  if (record->set_aside != NULL)
    return g_strdup_printf (_("set aside: %s"), record->set_aside);
  if (record->set_aside_cause >= 0)
    return g_strdup_printf (_("set aside: %s"), _(wb_cause_words[record->set_aside_cause].label));
  if (record->retained && record->place != NULL)
    return g_strdup_printf (_("a reference: %s"), record->place);
  if (record->retained)
    return g_strdup (_("kept as a reference"));
  if (load->figures->ended[sample])
    return g_strdup (_("burnt to its end"));
  if (burns > 0)
    return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u burn", "%u burns", burns), burns);
  return g_strdup (record->poured_on != WB_DAY_NONE || record->batch != 0 ? _("not burnt yet") : _("not poured"));
}

WbAppLotUse *
wb_app_lot_use_of_sample (const WbAppBenchLoad *load,
                          guint                 sample,
                          gboolean              us_units)
{
  const WbSample *record = wb_dataset_get_sample (load->data, sample);
  WbAppLotUse *self = use_new (load, WB_APP_LOT_SAMPLE, record->record.id);
  g_autoptr (GPtrArray) parts = wb_craft_lot_parts_of_sample (load->data, sample);

  self->code = g_strdup (record->code);
  self->cell = dup_cell (load->data, g_array_index (load->data->sample_cell, guint, sample));
  self->day = record->poured_on;
  self->state = dup_state (load, sample);
  self->worst = wb_app_bench_dup_crossing_text (load->data, &load->crossings[sample], us_units);
  self->lots = wb_craft_lot_parts_dup_text (parts);
  return self;
}

guint
wb_app_lot_find_cell (const WbDataset *data,
                      gint64           cell)
{
  for (guint i = 0; i < data->cells->len; i++)
    if (wb_dataset_get_cell (data, i)->record.id == cell)
      return i;
  return G_MAXUINT;
}

WbAppLotUse *
wb_app_lot_use_of_decision (const WbAppBenchLoad *load,
                            const WbDecision     *decision)
{
  guint cell = wb_app_lot_find_cell (load->data, decision->cell);
  WbAppLotUse *self = use_new (load, WB_APP_LOT_DECISION, decision->record.id);
  g_autoptr (GPtrArray) parts = NULL;

  self->day = decision->signed_at.known ? wb_instant_get_day (decision->signed_at) : WB_DAY_NONE;
  self->state = decision->signed_by != NULL ? g_strdup_printf (_("signed by %s"), decision->signed_by) : g_strdup (_("signed"));
  if (cell == G_MAXUINT)
    return self;
  parts = wb_craft_lot_parts_of_decision (load->data, decision);
  self->cell = dup_cell (load->data, cell);
  self->lots = wb_craft_lot_parts_dup_text (parts);
  return self;
}
