/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-burn-page-private.h"

#include "wb-doubt-words.h"
#include "wb-question.h"

#include <glib/gi18n.h>
#include <math.h>

/* What was typed and can hardly be is asked about once, before it is saved; the flame is where it was. */

static void
carry_out (WbBurnPage     *self,
           WbReadingPanel *panel,
           WbBurnDeed      deed,
           WbEvent         event)
{
  switch (deed)
    {
    case WB_BURN_DEED_LIGHT:
      wb_bench_hand_light (self->hand, panel);
      break;
    case WB_BURN_DEED_READ:
      wb_bench_hand_read (self->hand, panel);
      break;
    case WB_BURN_DEED_END:
    default:
      wb_bench_hand_end (self->hand, panel, event);
      break;
    }
}

static void
go_to_doubt (WbReadingPanel *panel,
             WbColumn        column)
{
  GtkWidget *field = column < WB_N_COLUMNS ? wb_reading_panel_get_field (panel, column) : NULL;

  if (field != NULL)
    gtk_widget_grab_focus (field);
  else
    wb_reading_panel_focus_part (panel, "time");
}

static void
on_answered_cb (gboolean yes,
                gpointer user)
{
  WbBurnPage *self = user;
  g_autoptr (WbReadingPanel) panel = g_steal_pointer (&self->doubted);

  if (wb_burn_page_get_bench (self) == NULL || panel == NULL
      || wb_reading_stack_find (self->stack, wb_app_bench_sample_get_id (wb_reading_panel_get_sample (panel))) != panel)
    return;
  if (!yes)
    {
      go_to_doubt (panel, self->doubted_column);
      return;
    }
  wb_reading_panel_set_sworn (panel, self->doubt);
  carry_out (self, panel, self->deed, self->event);
}

static GArray *
find_doubts (WbReadingPanel *panel)
{
  g_autoptr (WbRecord) reading = (WbRecord *) wb_reading_panel_dup_reading (panel);
  WbAppAsk ask = wb_reading_panel_get_ask (panel);
  const WbReading *typed = (const WbReading *) reading;

  return wb_app_bench_find_doubts (wb_reading_panel_get_sample (panel), ask, typed->values,
                                   ask == WB_APP_ASK_LIGHTING ? NAN : typed->elapsed_min);
}

void
wb_burn_page_do (WbBurnPage     *self,
                 WbReadingPanel *panel,
                 WbBurnDeed      deed,
                 WbEvent         event)
{
  g_autoptr (GArray) doubts = NULL;
  g_autofree char *words = NULL;

  /* What breaks a rule is said at its field first. */
  if (!wb_reading_panel_check (panel))
    return;
  doubts = find_doubts (panel);
  words = wb_doubt_words_dup_all (doubts, wb_burn_page_uses_us_units (self));
  if (doubts->len == 0 || g_strcmp0 (words, wb_reading_panel_get_sworn (panel)) == 0)
    {
      carry_out (self, panel, deed, event);
      return;
    }
  g_set_object (&self->doubted, panel);
  self->doubted_column = g_array_index (doubts, WbCraftDoubt, 0).column;
  self->deed = deed;
  self->event = event;
  g_free (self->doubt);
  self->doubt = g_strdup (words);
  /* The question goes with the window, and the page with it. */
  wb_question_choose (GTK_WIDGET (self), _("Is that right?"), words, _("_Correct it"), _("_It is so"), on_answered_cb, self);
}
