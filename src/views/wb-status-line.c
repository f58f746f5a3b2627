/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-status-line.h"

#include "wb-bundle.h"
#include "wb-save-mark.h"
#include "wb-tooltip.h"

#include <glib/gi18n.h>

struct _WbStatusLine
{
  GtkWidget      parent_instance;

  /* children */
  WbSaveMark    *save_mark;
  GtkLabel      *words;
  GtkLabel      *bench_words;

  /* owned */
  GSignalGroup  *notebook_signals;
  GSignalGroup  *bench_signals;

  /* borrowed */
  WbAppNotebook *notebook; /* NULL: none */
  WbAppBench    *bench;

  /* state */
  gint64         entry_before;  /* the notebook's last when the save that is on its way began */
};

G_DEFINE_FINAL_TYPE (WbStatusLine, wb_status_line, GTK_TYPE_WIDGET)

/* "Saved" is said once the last save on its way is durable; of one that failed its own page tells, and this line nothing. */
static void
update_save_mark (WbStatusLine *self)
{
  if (self->notebook == NULL)
    wb_save_mark_set (self->save_mark, WB_SAVE_IDLE, NULL);
  else if (wb_app_notebook_get_saving (self->notebook))
    {
      if (wb_save_mark_get_state (self->save_mark) != WB_SAVE_SAVING)
        self->entry_before = wb_app_notebook_get_last_entry (self->notebook);
      wb_save_mark_set (self->save_mark, WB_SAVE_SAVING, NULL);
    }
  else if (wb_save_mark_get_state (self->save_mark) == WB_SAVE_SAVING)
    wb_save_mark_set (self->save_mark,
                      wb_app_notebook_get_last_entry (self->notebook) != self->entry_before ? WB_SAVE_SAVED : WB_SAVE_IDLE, NULL);
}

static void
update_bench_words (WbStatusLine *self)
{
  guint alight = self->bench != NULL ? wb_app_bench_get_alight (self->bench) : 0;
  guint due = self->bench != NULL ? wb_app_bench_get_due (self->bench) : 0;
  g_autofree char *lit = NULL;
  g_autofree char *late = NULL;
  g_autofree char *text = NULL;

  if (alight > 0)
    lit = g_strdup_printf (ngettext ("%u candle alight", "%u candles alight", alight), alight);
  if (due > 0)
    late = g_strdup_printf (ngettext ("%u reading due", "%u readings due", due), due);
  text = late != NULL && lit != NULL ? g_strdup_printf ("%s · %s", lit, late) : g_strdup (lit != NULL ? lit : "");
  if (strcmp (gtk_label_get_text (self->bench_words), text) != 0)
    gtk_label_set_text (self->bench_words, text);
}

static void
wb_status_line_dispose (GObject *object)
{
  WbStatusLine *self = WB_STATUS_LINE (object);

  g_clear_object (&self->notebook_signals);
  g_clear_object (&self->bench_signals);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_STATUS_LINE);
  G_OBJECT_CLASS (wb_status_line_parent_class)->dispose (object);
}

static void
wb_status_line_class_init (WbStatusLineClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  g_type_ensure (WB_TYPE_SAVE_MARK);
  G_OBJECT_CLASS (klass)->dispose = wb_status_line_dispose;
  gtk_widget_class_set_css_name (widget_class, "statusline");
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "status-line.ui");
  gtk_widget_class_bind_template_child (widget_class, WbStatusLine, save_mark);
  gtk_widget_class_bind_template_child (widget_class, WbStatusLine, words);
  gtk_widget_class_bind_template_child (widget_class, WbStatusLine, bench_words);
}

static void
wb_status_line_init (WbStatusLine *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->notebook_signals = g_signal_group_new (WB_TYPE_APP_NOTEBOOK);
  g_signal_group_connect_swapped (self->notebook_signals, "notify::saving", G_CALLBACK (update_save_mark), self);
  self->bench_signals = g_signal_group_new (WB_TYPE_APP_BENCH);
  g_signal_group_connect_swapped (self->bench_signals, "notify", G_CALLBACK (update_bench_words), self);
}

void
wb_status_line_set_desk (WbStatusLine *self,
                         WbDesk       *desk)
{
  g_return_if_fail (WB_IS_STATUS_LINE (self));
  g_return_if_fail (desk == NULL || WB_IS_DESK (desk));

  self->notebook = desk != NULL ? wb_desk_get_notebook (desk) : NULL;
  self->bench = desk != NULL ? wb_desk_get_bench (desk) : NULL;
  g_signal_group_set_target (self->notebook_signals, self->notebook);
  g_signal_group_set_target (self->bench_signals, self->bench);
  wb_save_mark_set (self->save_mark, WB_SAVE_IDLE, NULL);
  update_save_mark (self);
  update_bench_words (self);
  wb_status_line_say (self, NULL);
}

void
wb_status_line_typed (WbStatusLine *self)
{
  g_return_if_fail (WB_IS_STATUS_LINE (self));
  if (wb_save_mark_get_state (self->save_mark) == WB_SAVE_SAVED)
    wb_save_mark_set (self->save_mark, WB_SAVE_IDLE, NULL);
}

void
wb_status_line_say (WbStatusLine *self,
                    const char   *text)
{
  g_return_if_fail (WB_IS_STATUS_LINE (self));
  gtk_label_set_text (self->words, text != NULL ? text : "");
  wb_tooltip_set (GTK_WIDGET (self->words), text);
}
