/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-status-line.h"

#include "wb-badge.h"
#include "wb-bundle.h"
#include "wb-clock.h"
#include "wb-save-mark.h"
#include "wb-tooltip.h"

#include <glib/gi18n.h>

struct _WbStatusLine
{
  GtkWidget      parent_instance;

  /* children */
  WbSaveMark    *save_mark;
  GtkLabel      *words;
  GtkWidget     *due;         /* a button, as long as there is something to go to */
  WbBadge       *due_badge;
  GtkLabel      *due_words;
  GtkLabel      *bench_words;

  /* owned */
  GSignalGroup  *notebook_signals;
  GSignalGroup  *bench_signals;

  /* borrowed */
  WbAppNotebook *notebook; /* NULL: none */
  WbAppBench    *bench;

  /* owned */
  WbNotice      *notice;      /* NULL: none is followed */

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
        {
          self->entry_before = wb_app_notebook_get_last_entry (self->notebook);
          /* What was said last is of something before. */
          wb_status_line_say (self, NULL);
        }
      wb_save_mark_set (self->save_mark, WB_SAVE_SAVING, NULL);
    }
  else if (wb_save_mark_get_state (self->save_mark) == WB_SAVE_SAVING)
    wb_save_mark_set (self->save_mark,
                      wb_app_notebook_get_last_entry (self->notebook) != self->entry_before ? WB_SAVE_SAVED : WB_SAVE_IDLE, NULL);
}

/* "14-2: reading due", and how many more; caller frees. NULL: nothing is due. */
static char *
dup_due (WbStatusLine *self,
         const char  **why)
{
  const char *title, *body;
  guint more;

  if (self->notice == NULL || wb_notice_get_due (self->notice, &title, &body, &more) == NULL)
    return NULL;
  *why = body;
  /* Translators: what is due, and how many things more are. */
  return more > 0 ? g_strdup_printf (ngettext ("%s, and %u more", "%s, and %u more", more), title, more) : g_strdup (title);
}

/* "Next: 14-2 at 21:14"; caller frees. NULL: nothing burns, or is to be read. */
static char *
dup_next (WbStatusLine *self)
{
  WbAppBenchSample *next = self->bench != NULL ? wb_app_bench_get_next_due (self->bench) : NULL;
  gint64 due_in_s = next != NULL ? wb_app_bench_sample_get_due_in_s (next) : G_MAXINT;
  g_autofree char *at = NULL;

  if (next == NULL || due_in_s == G_MAXINT)
    return NULL;
  at = wb_instant_format_time (wb_clock_at (wb_clock_get (), wb_clock_now (wb_clock_get ()).utc_us + due_in_s * G_USEC_PER_SEC));
  /* Translators: code of a candle, and when it is read next. */
  return g_strdup_printf (_("Next: %s at %s"), wb_app_bench_sample_get_code (next), at);
}

/* Always there while something burns: what falls due changes words, and moves nothing. */
static void
update_due (WbStatusLine *self)
{
  const char *why = NULL;
  g_autofree char *due = dup_due (self, &why);
  g_autofree char *next = due == NULL ? dup_next (self) : NULL;
  g_autofree char *name = NULL;
  const char *text = due != NULL ? due : next != NULL ? next : "";

  gtk_widget_set_visible (self->due, *text != '\0');
  wb_badge_set (self->due_badge, WB_BADGE_ASK, due != NULL ? _("due") : NULL);
  if (g_str_equal (gtk_label_get_text (self->due_words), text))
    return;
  gtk_label_set_text (self->due_words, text);
  wb_tooltip_set (self->due, why != NULL && *why != '\0' ? why : text);
  name = g_strdup_printf (_("Go to it: %s"), text);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->due), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
}

static void
on_due_clicked_cb (WbStatusLine *self)
{
  const char *title, *body, *id = NULL;
  guint more;

  if (self->notice != NULL)
    id = wb_notice_get_due (self->notice, &title, &body, &more);
  if (id != NULL)
    wb_notice_act (self->notice, id);
  else
    gtk_widget_activate_action (GTK_WIDGET (self), "win.next-due", NULL);
}

static void
on_bench_tick_cb (WbStatusLine *self)
{
  update_due (self);
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
  update_due (self);
}

static void
wb_status_line_dispose (GObject *object)
{
  WbStatusLine *self = WB_STATUS_LINE (object);

  g_clear_object (&self->notebook_signals);
  g_clear_object (&self->bench_signals);
  wb_status_line_set_notice (self, NULL);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_STATUS_LINE);
  G_OBJECT_CLASS (wb_status_line_parent_class)->dispose (object);
}

static void
wb_status_line_class_init (WbStatusLineClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  g_type_ensure (WB_TYPE_BADGE);
  g_type_ensure (WB_TYPE_SAVE_MARK);
  G_OBJECT_CLASS (klass)->dispose = wb_status_line_dispose;
  gtk_widget_class_set_css_name (widget_class, "statusline");
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "status-line.ui");
  gtk_widget_class_bind_template_child (widget_class, WbStatusLine, save_mark);
  gtk_widget_class_bind_template_child (widget_class, WbStatusLine, words);
  gtk_widget_class_bind_template_child (widget_class, WbStatusLine, due);
  gtk_widget_class_bind_template_child (widget_class, WbStatusLine, due_badge);
  gtk_widget_class_bind_template_child (widget_class, WbStatusLine, due_words);
  gtk_widget_class_bind_template_child (widget_class, WbStatusLine, bench_words);
  gtk_widget_class_bind_template_callback (widget_class, on_due_clicked_cb);
}

static void
wb_status_line_init (WbStatusLine *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->notebook_signals = g_signal_group_new (WB_TYPE_APP_NOTEBOOK);
  g_signal_group_connect_swapped (self->notebook_signals, "notify::saving", G_CALLBACK (update_save_mark), self);
  self->bench_signals = g_signal_group_new (WB_TYPE_APP_BENCH);
  g_signal_group_connect_swapped (self->bench_signals, "notify", G_CALLBACK (update_bench_words), self);
  g_signal_group_connect_swapped (self->bench_signals, "tick", G_CALLBACK (on_bench_tick_cb), self);
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
wb_status_line_set_notice (WbStatusLine *self,
                           WbNotice     *notice)
{
  g_return_if_fail (WB_IS_STATUS_LINE (self));
  g_return_if_fail (notice == NULL || WB_IS_NOTICE (notice));

  if (self->notice != NULL)
    g_signal_handlers_disconnect_by_data (self->notice, self);
  g_set_object (&self->notice, notice);
  if (notice == NULL)
    return;
  g_signal_connect_swapped (notice, "changed", G_CALLBACK (update_due), self);
  update_due (self);
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
