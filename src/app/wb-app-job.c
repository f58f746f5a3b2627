/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-job.h"

/*
 * What a thread reports lands in `reported_*` under the lock; an idle source
 * on the maker's context carries it over to the properties. At most one such
 * source is on its way, and no sooner than SPACING_US after the last, so a
 * thread that reports a million times wakes the main loop ten times a second.
 */

#define SPACING_US (100 * G_TIME_SPAN_MILLISECOND)

struct _WbAppJob
{
  GObject       parent_instance;

  GCancellable *cancellable;
  GMainContext *context;

  /* the context's thread only */
  double        progress;
  char         *text;
  gboolean      running;

  GMutex        lock;
  double        reported_progress;
  char         *reported_text;
  gboolean      on_its_way;
  gint64        carried_at_us;
};

enum { PROP_0, PROP_PROGRESS, PROP_TEXT, PROP_RUNNING, N_PROPS };

static GParamSpec *properties[N_PROPS];

G_DEFINE_FINAL_TYPE (WbAppJob, wb_app_job, G_TYPE_OBJECT)

static gboolean
on_carry_over_cb (gpointer user_data)
{
  WbAppJob *self = user_data;
  g_autofree char *text = NULL;
  double progress;

  g_mutex_lock (&self->lock);
  progress = self->reported_progress;
  text = g_strdup (self->reported_text);
  self->on_its_way = FALSE;
  self->carried_at_us = g_get_monotonic_time ();
  g_mutex_unlock (&self->lock);

  g_object_freeze_notify (G_OBJECT (self));
  if (progress != self->progress)
    {
      self->progress = progress;
      g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_PROGRESS]);
    }
  if (g_strcmp0 (text, self->text) != 0)
    {
      g_free (self->text);
      self->text = g_steal_pointer (&text);
      g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_TEXT]);
    }
  if (self->running != (progress < 1))
    {
      self->running = progress < 1;
      g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_RUNNING]);
    }
  g_object_thaw_notify (G_OBJECT (self));
  return G_SOURCE_REMOVE;
}

static void
wb_app_job_get_property (GObject    *object,
                         guint       prop_id,
                         GValue     *value,
                         GParamSpec *pspec)
{
  WbAppJob *self = WB_APP_JOB (object);

  switch (prop_id)
    {
    case PROP_PROGRESS:
      g_value_set_double (value, self->progress);
      break;
    case PROP_TEXT:
      g_value_set_string (value, self->text);
      break;
    case PROP_RUNNING:
      g_value_set_boolean (value, self->running);
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, prop_id, pspec);
    }
}

static void
wb_app_job_finalize (GObject *object)
{
  WbAppJob *self = WB_APP_JOB (object);

  g_clear_object (&self->cancellable);
  g_main_context_unref (self->context);
  g_free (self->text);
  g_free (self->reported_text);
  g_mutex_clear (&self->lock);
  G_OBJECT_CLASS (wb_app_job_parent_class)->finalize (object);
}

static void
wb_app_job_class_init (WbAppJobClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);

  object_class->get_property = wb_app_job_get_property;
  object_class->finalize = wb_app_job_finalize;

  properties[PROP_PROGRESS] = g_param_spec_double ("progress", NULL, NULL, -1, 1, -1, G_PARAM_READABLE | G_PARAM_STATIC_STRINGS);
  properties[PROP_TEXT] = g_param_spec_string ("text", NULL, NULL, NULL, G_PARAM_READABLE | G_PARAM_STATIC_STRINGS);
  properties[PROP_RUNNING] = g_param_spec_boolean ("running", NULL, NULL, TRUE, G_PARAM_READABLE | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (object_class, N_PROPS, properties);
}

static void
wb_app_job_init (WbAppJob *self)
{
  self->cancellable = g_cancellable_new ();
  self->context = g_main_context_ref_thread_default ();
  self->progress = self->reported_progress = -1;
  self->running = TRUE;
  g_mutex_init (&self->lock);
}

WbAppJob *
wb_app_job_new (void)
{
  return g_object_new (WB_TYPE_APP_JOB, NULL);
}

double
wb_app_job_get_progress (WbAppJob *self)
{
  g_return_val_if_fail (WB_IS_APP_JOB (self), -1);
  return self->progress;
}

const char *
wb_app_job_get_text (WbAppJob *self)
{
  g_return_val_if_fail (WB_IS_APP_JOB (self), NULL);
  return self->text;
}

gboolean
wb_app_job_get_running (WbAppJob *self)
{
  g_return_val_if_fail (WB_IS_APP_JOB (self), FALSE);
  return self->running;
}

void
wb_app_job_cancel (WbAppJob *self)
{
  g_return_if_fail (WB_IS_APP_JOB (self));
  g_cancellable_cancel (self->cancellable);
}

gboolean
wb_app_job_is_cancelled (WbAppJob *self)
{
  g_return_val_if_fail (WB_IS_APP_JOB (self), FALSE);
  return g_cancellable_is_cancelled (self->cancellable);
}

GCancellable *
wb_app_job_get_cancellable (WbAppJob *self)
{
  g_return_val_if_fail (WB_IS_APP_JOB (self), NULL);
  return self->cancellable;
}

gboolean
wb_app_job_report (WbAppJob   *self,
                   double      progress,
                   const char *text)
{
  if (self == NULL)
    return TRUE;

  g_mutex_lock (&self->lock);
  self->reported_progress = CLAMP (progress, -1, 1);
  if (text != NULL)
    {
      g_free (self->reported_text);
      self->reported_text = g_strdup (text);
    }
  if (!self->on_its_way)
    {
      gint64 wait_us = self->carried_at_us + SPACING_US - g_get_monotonic_time ();
      g_autoptr (GSource) source = g_timeout_source_new (progress >= 1 || wait_us <= 0 ? 0 : (guint) (wait_us / 1000));

      self->on_its_way = TRUE;
      g_source_set_callback (source, on_carry_over_cb, g_object_ref (self), g_object_unref);
      g_source_attach (source, self->context);
    }
  g_mutex_unlock (&self->lock);
  return !g_cancellable_is_cancelled (self->cancellable);
}

gboolean
wb_app_job_keep_going (double   done,
                       gpointer user)
{
  return wb_app_job_report (user, done, NULL);
}
