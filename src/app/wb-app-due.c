/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-due-private.h"

struct _WbAppDue
{
  GObject      parent_instance;

  WbAppDueKind kind;
  char        *title;
  char        *detail;
  gint64       experiment;
  gint64       sample;
  gint64       decision;
  gint64       cell;
  char        *batch;
  WbInstant    at;
  gboolean     overdue;
};

enum { PROP_0, PROP_KIND, PROP_TITLE, PROP_DETAIL, PROP_EXPERIMENT, PROP_SAMPLE, PROP_DECISION, PROP_AT, PROP_OVERDUE, N_PROPS };

static GParamSpec *properties[N_PROPS];

G_DEFINE_FINAL_TYPE (WbAppDue, wb_app_due, G_TYPE_OBJECT)

static void
wb_app_due_get_property (GObject    *object,
                         guint       prop_id,
                         GValue     *value,
                         GParamSpec *pspec)
{
  WbAppDue *self = WB_APP_DUE (object);

  switch (prop_id)
    {
    case PROP_KIND:
      g_value_set_int (value, self->kind);
      break;
    case PROP_TITLE:
      g_value_set_string (value, self->title);
      break;
    case PROP_DETAIL:
      g_value_set_string (value, self->detail);
      break;
    case PROP_EXPERIMENT:
      g_value_set_int64 (value, self->experiment);
      break;
    case PROP_SAMPLE:
      g_value_set_int64 (value, self->sample);
      break;
    case PROP_DECISION:
      g_value_set_int64 (value, self->decision);
      break;
    case PROP_AT:
      g_value_take_string (value, wb_instant_format_short (self->at));
      break;
    case PROP_OVERDUE:
      g_value_set_boolean (value, self->overdue);
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, prop_id, pspec);
    }
}

static void
wb_app_due_finalize (GObject *object)
{
  WbAppDue *self = WB_APP_DUE (object);

  g_free (self->title);
  g_free (self->detail);
  g_free (self->batch);
  G_OBJECT_CLASS (wb_app_due_parent_class)->finalize (object);
}

static void
wb_app_due_class_init (WbAppDueClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  const GParamFlags flags = G_PARAM_READABLE | G_PARAM_STATIC_STRINGS;

  object_class->get_property = wb_app_due_get_property;
  object_class->finalize = wb_app_due_finalize;

  properties[PROP_KIND] = g_param_spec_int ("kind", NULL, NULL, 0, G_MAXINT, 0, flags);
  properties[PROP_TITLE] = g_param_spec_string ("title", NULL, NULL, NULL, flags);
  properties[PROP_DETAIL] = g_param_spec_string ("detail", NULL, NULL, NULL, flags);
  properties[PROP_EXPERIMENT] = g_param_spec_int64 ("experiment", NULL, NULL, 0, G_MAXINT64, 0, flags);
  properties[PROP_SAMPLE] = g_param_spec_int64 ("sample", NULL, NULL, 0, G_MAXINT64, 0, flags);
  properties[PROP_DECISION] = g_param_spec_int64 ("decision", NULL, NULL, 0, G_MAXINT64, 0, flags);
  properties[PROP_AT] = g_param_spec_string ("at", NULL, NULL, NULL, flags);
  properties[PROP_OVERDUE] = g_param_spec_boolean ("overdue", NULL, NULL, FALSE, flags);
  g_object_class_install_properties (object_class, N_PROPS, properties);
}

static void
wb_app_due_init (WbAppDue *self)
{
}

WbAppDue *
wb_app_due_new (WbAppDueKind kind,
                char        *title,
                char        *detail,
                gint64       experiment,
                gint64       sample,
                WbInstant    at,
                gboolean     overdue)
{
  WbAppDue *self = g_object_new (WB_TYPE_APP_DUE, NULL);

  self->kind = kind;
  self->title = title;
  self->detail = detail;
  self->experiment = experiment;
  self->sample = sample;
  self->at = at;
  self->overdue = overdue;
  return self;
}

void
wb_app_due_set_decision (WbAppDue *self,
                         gint64    decision)
{
  self->decision = decision;
}

void
wb_app_due_set_cell (WbAppDue *self,
                     gint64    cell)
{
  self->cell = cell;
}

void
wb_app_due_set_batch (WbAppDue   *self,
                      const char *code)
{
  g_free (self->batch);
  self->batch = g_strdup (code);
}

gboolean
wb_app_due_equal (WbAppDue *a,
                  WbAppDue *b)
{
  return a->kind == b->kind && a->experiment == b->experiment && a->sample == b->sample && a->decision == b->decision && a->cell == b->cell && a->overdue == b->overdue
         && a->at.known == b->at.known && a->at.utc_us == b->at.utc_us
         && g_strcmp0 (a->batch, b->batch) == 0 && g_strcmp0 (a->title, b->title) == 0 && g_strcmp0 (a->detail, b->detail) == 0;
}

int
wb_app_due_order (gconstpointer a,
                  gconstpointer b)
{
  WbAppDue *first = *(WbAppDue *const *) a, *second = *(WbAppDue *const *) b;

  if (first->kind != second->kind)
    return (int) first->kind - (int) second->kind;
  if (first->at.utc_us != second->at.utc_us)
    return first->at.utc_us < second->at.utc_us ? -1 : 1;
  return g_strcmp0 (first->title, second->title);
}

WbAppDueKind
wb_app_due_get_kind (WbAppDue *self)
{
  g_return_val_if_fail (WB_IS_APP_DUE (self), WB_APP_DUE_READING);
  return self->kind;
}

const char *
wb_app_due_get_title (WbAppDue *self)
{
  g_return_val_if_fail (WB_IS_APP_DUE (self), NULL);
  return self->title;
}

const char *
wb_app_due_get_detail (WbAppDue *self)
{
  g_return_val_if_fail (WB_IS_APP_DUE (self), NULL);
  return self->detail;
}

gint64
wb_app_due_get_experiment (WbAppDue *self)
{
  g_return_val_if_fail (WB_IS_APP_DUE (self), 0);
  return self->experiment;
}

gint64
wb_app_due_get_sample (WbAppDue *self)
{
  g_return_val_if_fail (WB_IS_APP_DUE (self), 0);
  return self->sample;
}

gint64
wb_app_due_get_decision (WbAppDue *self)
{
  g_return_val_if_fail (WB_IS_APP_DUE (self), 0);
  return self->decision;
}

gint64
wb_app_due_get_cell (WbAppDue *self)
{
  g_return_val_if_fail (WB_IS_APP_DUE (self), 0);
  return self->cell;
}

const char *
wb_app_due_get_batch (WbAppDue *self)
{
  g_return_val_if_fail (WB_IS_APP_DUE (self), NULL);
  return self->batch;
}

WbInstant
wb_app_due_get_at (WbAppDue *self)
{
  g_return_val_if_fail (WB_IS_APP_DUE (self), WB_INSTANT_NONE);
  return self->at;
}

gboolean
wb_app_due_get_overdue (WbAppDue *self)
{
  g_return_val_if_fail (WB_IS_APP_DUE (self), FALSE);
  return self->overdue;
}
