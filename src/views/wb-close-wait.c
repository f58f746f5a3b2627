/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-close-wait.h"

#include "wb-question.h"

#include <glib/gi18n.h>

struct _WbCloseWait
{
  GObject    parent_instance;

  /* borrowed */
  GtkWindow *window;
  WbJobBar  *job_bar;

  /* owned */
  WbAppJob  *job;      /* NULL: nobody asked to close */

  /* state */
  guint      n_first;  /* when it was asked */
  gboolean   well;     /* none was refused since */
  gboolean   asking;
  gboolean   may_cut;  /* the person said so though files are being added */
};

G_DEFINE_FINAL_TYPE (WbCloseWait, wb_close_wait, G_TYPE_OBJECT)

static void
report (WbCloseWait *self,
        guint        n)
{
  g_autofree char *text = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "The window closes as soon as %u file is kept",
                                                        "The window closes as soon as %u files are kept", n), n);

  wb_app_job_report (self->job, 1.0 - (double) n / self->n_first, text);
}

static void
end_wait (WbCloseWait *self)
{
  /* The bar may have another job by now. */
  if (self->job != NULL && wb_job_bar_get_job (self->job_bar) == self->job)
    wb_job_bar_set_job (self->job_bar, NULL, NULL);
  g_clear_object (&self->job);
}

static void
on_cancelled_cb (WbCloseWait *self)
{
  end_wait (self);
}

static void
begin_wait (WbCloseWait *self,
            guint        n)
{
  self->job = wb_app_job_new ();
  self->n_first = n;
  self->well = TRUE;
  g_signal_connect_object (wb_app_job_get_cancellable (self->job), "cancelled", G_CALLBACK (on_cancelled_cb), self, G_CONNECT_SWAPPED);
  if (wb_job_bar_get_job (self->job_bar) == NULL)
    wb_job_bar_set_job (self->job_bar, self->job, _("The window closes as soon as the files are kept"));
  report (self, n);
}

static void
on_answered_cb (gboolean yes,
                gpointer user)
{
  WbCloseWait *self = user;

  self->asking = FALSE;
  self->may_cut = yes;
  if (yes && self->window != NULL)
    gtk_window_close (self->window);
}

/* The question goes with the window, and is not answered then: it needs no reference. */
static void
ask (WbCloseWait *self,
     guint        n)
{
  g_autofree char *heading = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u file is not in the notebook yet",
                                                           "%u files are not in the notebook yet", n), n);

  if (self->asking)
    return;
  self->asking = TRUE;
  wb_question_ask (GTK_WIDGET (self->window), heading,
                   _("The window closes by itself when they are. If it closes now, they are not kept and must be added again; "
                     "what was pasted is gone."),
                   _("_Close without them"), TRUE, on_answered_cb, self);
}

static void
wb_close_wait_dispose (GObject *object)
{
  WbCloseWait *self = WB_CLOSE_WAIT (object);

  self->window = NULL;
  g_clear_object (&self->job);
  G_OBJECT_CLASS (wb_close_wait_parent_class)->dispose (object);
}

static void
wb_close_wait_class_init (WbCloseWaitClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = wb_close_wait_dispose;
}

static void
wb_close_wait_init (WbCloseWait *self)
{
}

WbCloseWait *
wb_close_wait_new (GtkWindow *window,
                   WbJobBar  *job_bar)
{
  WbCloseWait *self;

  g_return_val_if_fail (GTK_IS_WINDOW (window), NULL);
  g_return_val_if_fail (WB_IS_JOB_BAR (job_bar), NULL);

  self = g_object_new (WB_TYPE_CLOSE_WAIT, NULL);
  self->window = window;
  self->job_bar = job_bar;
  return self;
}

gboolean
wb_close_wait_hold (WbCloseWait *self,
                    guint        n_adding)
{
  g_return_val_if_fail (WB_IS_CLOSE_WAIT (self), FALSE);

  if (n_adding == 0 || self->may_cut)
    return FALSE;
  if (self->job == NULL)
    begin_wait (self, n_adding);
  else
    ask (self, n_adding);
  return TRUE;
}

void
wb_close_wait_went_on (WbCloseWait *self,
                       guint        n_adding,
                       gboolean     well)
{
  g_return_if_fail (WB_IS_CLOSE_WAIT (self));

  /* It was said of those that waited then. */
  self->may_cut = self->may_cut && n_adding > 0;
  if (self->job == NULL || self->window == NULL)
    return;
  self->well = self->well && well;
  if (n_adding > 0)
    {
      self->n_first = MAX (self->n_first, n_adding);
      report (self, n_adding);
      return;
    }
  end_wait (self);
  if (self->well)
    gtk_window_close (self->window);
}
