/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-window-private.h"

#include "wb-app-label.h"
#include "wb-blind-dialog.h"
#include "wb-problem.h"
#include "wb-weak-widget.h"

#include <glib/gi18n.h>

/* A label that was scanned opens its sample, where it can be worked on. */

/* Of one that does not come to the bench: where a reference was kept, or what its burns came to. */
static const char *
get_place (const WbAppLabel *label)
{
  return label->poured && label->kept == NULL ? "compare" : "pour";
}

static void
open_label (WbWindow         *self,
            const WbAppLabel *label)
{
  WbAppBenchSample *sample = wb_app_bench_find (wb_desk_get_bench (self->desk), label->sample);
  g_autofree char *words = NULL;

  if (!label->poured || sample == NULL)
    wb_window_go_and_focus (self, get_place (label), label->experiment);
  else if (wb_window_go (self, "burn", label->experiment))
    gtk_widget_activate_action (GTK_WIDGET (self), "page.choose", "x", label->sample);
  if (label->kept != NULL)
    /* Translators: code of a sample; "kept as a reference until 30 Nov 2027 (Box 3)" */
    words = g_strdup_printf (_("Scanned %s: %s. Do not burn it."), label->code, label->kept);
  else if (!label->poured)
    /* Translators: code of a sample, here and below. */
    words = g_strdup_printf (_("Scanned %s: it is not poured yet."), label->code);
  else if (sample == NULL || wb_app_bench_sample_get_state (sample) == WB_APP_BENCH_ENDED)
    words = g_strdup_printf (_("Scanned %s: its burns are over."), label->code);
  else
    words = g_strdup_printf (_("Scanned %s."), label->code);
  wb_status_line_say (self->status_line, words);
}

static void
on_found_cb (GObject      *source,
             GAsyncResult *result,
             gpointer      user)
{
  g_autoptr (WbWindow) self = wb_weak_widget_take (user);
  g_autoptr (GError) error = NULL;
  g_autoptr (WbAppLabel) label = wb_app_label_find_finish (WB_APP_NOTEBOOK (source), result, &error);

  if (self == NULL || wb_window_get_notebook (self) != WB_APP_NOTEBOOK (source))
    return;
  if (label != NULL)
    open_label (self, label);
  else
    wb_problem_show (GTK_WIDGET (self), _("The label opens no sample"), error);
}

static void
on_scanned_cb (WbWindow   *self,
               GtkWindow  *where,
               const char *code)
{
  WbAppNotebook *notebook = wb_window_get_notebook (self);

  if (notebook == NULL)
    return;
  if (WB_IS_BLIND_DIALOG (where))
    {
      wb_blind_dialog_scan (WB_BLIND_DIALOG (where), code);
      return;
    }
  if (where != GTK_WINDOW (self) && gtk_window_get_modal (where))
    {
      gtk_widget_error_bell (GTK_WIDGET (where));
      wb_status_line_say (self->status_line, _("A label was scanned. Finish what stands in front first, then scan it once more."));
      return;
    }
  if (where != GTK_WINDOW (self))
    gtk_window_present (GTK_WINDOW (self));
  wb_app_label_find_async (notebook, code, NULL, on_found_cb, wb_weak_widget_new (self));
}

static void
on_misread_cb (WbWindow  *self,
               GtkWindow *where)
{
  wb_status_line_say (self->status_line, _("That was nearly the code of a label, but it was not read right. Scan it once more."));
}

void
wb_window_follow_scanner (WbWindow *self)
{
  self->scanner = wb_scanner_new (GTK_WINDOW (self));
  g_signal_connect_object (self->scanner, "scanned", G_CALLBACK (on_scanned_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->scanner, "misread", G_CALLBACK (on_misread_cb), self, G_CONNECT_SWAPPED);
}
