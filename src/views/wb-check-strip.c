/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-check-strip.h"

#include "wb-app-check-burn.h"

#include <glib/gi18n.h>

/* CSS node: checkstrip. */

struct _WbCheckStrip
{
  GtkWidget     parent_instance;

  /* children */
  GtkWidget    *title;
  GtkWidget    *text;

  /* owned */
  GCancellable *cancellable;

  /* state */
  gint64        burn;     /* what is shown, or on its way; 0: nothing */
  gint64        entry;    /* as of that entry */
  int           number;
  char         *code;
  gboolean      us_units;
};

G_DEFINE_FINAL_TYPE (WbCheckStrip, wb_check_strip, GTK_TYPE_WIDGET)

static void
stop (WbCheckStrip *self)
{
  if (self->cancellable != NULL)
    g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
}

static void
on_checked_cb (GObject      *source,
               GAsyncResult *result,
               gpointer      user)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) checks = wb_app_check_burns_finish (WB_APP_NOTEBOOK (source), result, &error);
  WbCheckStrip *self;

  /* Cancelled, the strip may be gone. What cannot be read now is told by the page itself. */
  if (checks == NULL)
    return;
  self = WB_CHECK_STRIP (user);
  for (guint i = 0; i < checks->len; i++)
    {
      const WbCraftCheckBurn *check = g_ptr_array_index (checks, i);
      g_autofree char *text = NULL, *title = NULL;

      if (check->number != self->number || g_strcmp0 (check->code, self->code) != 0)
        continue;
      text = wb_craft_check_burn_dup_text (check, self->us_units);
      title = g_strdup_printf (_("Check burn %d of %s"), check->number, check->code);
      gtk_label_set_text (GTK_LABEL (self->title), title);
      gtk_label_set_text (GTK_LABEL (self->text), text);
      gtk_widget_set_visible (GTK_WIDGET (self), TRUE);
    }
}

static void
wb_check_strip_dispose (GObject *object)
{
  WbCheckStrip *self = WB_CHECK_STRIP (object);

  stop (self);
  g_clear_pointer (&self->title, gtk_widget_unparent);
  g_clear_pointer (&self->text, gtk_widget_unparent);
  g_clear_pointer (&self->code, g_free);
  G_OBJECT_CLASS (wb_check_strip_parent_class)->dispose (object);
}

static void
wb_check_strip_class_init (WbCheckStripClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = wb_check_strip_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (klass), "checkstrip");
}

static void
wb_check_strip_init (WbCheckStrip *self)
{
  gtk_orientable_set_orientation (GTK_ORIENTABLE (gtk_widget_get_layout_manager (GTK_WIDGET (self))), GTK_ORIENTATION_VERTICAL);
  self->title = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0, "margin-start", 8, NULL);
  self->text = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0, "wrap", TRUE, "wrap-mode", PANGO_WRAP_WORD_CHAR, "margin-start", 8, "margin-end", 8,
                             "margin-bottom", 6, NULL);
  gtk_widget_add_css_class (self->title, "heading");
  gtk_widget_set_parent (self->title, GTK_WIDGET (self));
  gtk_widget_set_parent (self->text, GTK_WIDGET (self));
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
}

void
wb_check_strip_show (WbCheckStrip     *self,
                     WbAppNotebook    *notebook,
                     WbAppBenchSample *sample,
                     gboolean          us_units)
{
  const WbBurn *burn;
  gint64 entry;

  g_return_if_fail (WB_IS_CHECK_STRIP (self));
  g_return_if_fail (sample == NULL || notebook != NULL);

  burn = sample != NULL && wb_app_bench_sample_get_state (sample) != WB_APP_BENCH_ALIGHT ? wb_app_bench_sample_get_burn (sample) : NULL;
  if (burn == NULL || burn->kind != WB_BURN_CHECK)
    {
      stop (self);
      self->burn = 0;
      gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
      return;
    }
  entry = wb_app_notebook_get_last_entry (notebook);
  if (burn->record.id == self->burn && entry == self->entry && us_units == self->us_units)
    return;
  stop (self);
  if (burn->record.id != self->burn)
    gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
  self->burn = burn->record.id;
  self->entry = entry;
  self->number = (int) burn->number;
  self->us_units = us_units;
  g_free (self->code);
  self->code = g_strdup (wb_app_bench_sample_get_record (sample)->code);
  self->cancellable = g_cancellable_new ();
  wb_app_check_burns_async (notebook, wb_app_bench_sample_get_experiment (sample), self->cancellable, on_checked_cb, self);
}
