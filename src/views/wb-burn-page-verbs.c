/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-burn-page-private.h"

#include "wb-app-row.h"
#include "wb-aside-dialog.h"
#include "wb-bench-words.h"
#include "wb-caution.h"
#include "wb-found-dialog.h"
#include "wb-inspection-dialog.h"
#include "wb-question.h"
#include "wb-retain-dialog.h"

#include <glib/gi18n.h>

/* What a hand can do on the page: its actions, and when each can be done. */

static void
on_choose_cb (GSimpleAction *action,
              GVariant      *parameter,
              gpointer       user)
{
  WbBurnPage *self = user;
  WbAppBenchSample *sample = wb_app_bench_find (wb_burn_page_get_bench (self), g_variant_get_int64 (parameter));

  if (sample != NULL)
    wb_burn_page_choose_and_focus (self, sample);
}

static void
on_ask_cb (GSimpleAction *action,
           GVariant      *parameter,
           gpointer       user)
{
  WbBurnPage *self = user;
  WbReadingPanel *panel = wb_reading_stack_get_shown (self->stack);
  int ask = wb_reading_panel_find_ask (g_variant_get_string (parameter, NULL));

  if (panel == NULL || ask < 0)
    return;
  wb_reading_panel_set_ask (panel, (WbAppAsk) ask);
  wb_burn_page_propose_place (self);
  wb_burn_page_tell_throw (self);
  wb_reading_panel_focus_first (panel);
  wb_burn_page_show_ask (self);
  wb_page_update_actions (WB_PAGE (self));
}

static void
tell_why_unlit (WbBurnPage     *self,
                WbReadingPanel *panel)
{
  g_autofree char *heading = g_strdup_printf (_("%s is not lit yet"), wb_app_bench_sample_get_code (wb_reading_panel_get_sample (panel)));

  wb_question_tell (GTK_WIDGET (self), heading,
                    _("What is typed belongs to the burn before. Save it with Ctrl+S, or empty its fields; then light it."));
}

static void
on_light_cb (GSimpleAction *action,
             GVariant      *parameter,
             gpointer       user)
{
  WbBurnPage *self = user;
  WbReadingPanel *panel = wb_reading_stack_get_shown (self->stack);

  /* What was typed for the day after belongs to the burn before: it is saved first. */
  if (wb_reading_panel_get_ask (panel) != WB_APP_ASK_LIGHTING && wb_reading_panel_get_touched (panel))
    {
      tell_why_unlit (self, panel);
      return;
    }
  /* A flame does not wait for the panel to be turned to it. */
  if (wb_reading_panel_get_ask (panel) != WB_APP_ASK_LIGHTING)
    wb_reading_panel_set_ask (panel, WB_APP_ASK_LIGHTING);
  wb_burn_page_do (self, panel, WB_BURN_DEED_LIGHT, WB_N_EVENTS);
}

static void
on_save_cb (GSimpleAction *action,
            GVariant      *parameter,
            gpointer       user)
{
  WbBurnPage *self = user;
  WbReadingPanel *panel = wb_reading_stack_get_shown (self->stack);

  wb_burn_page_tell (self, panel);
  wb_burn_page_do (self, panel, WB_BURN_DEED_READ, WB_N_EVENTS);
}

static void
end_burn (WbBurnPage *self,
          WbEvent     event)
{
  WbReadingPanel *panel = wb_reading_stack_get_shown (self->stack);

  wb_burn_page_tell (self, panel);
  wb_burn_page_do (self, panel, WB_BURN_DEED_END, event);
}

static void
on_snuff_cb (GSimpleAction *action,
             GVariant      *parameter,
             gpointer       user)
{
  WbBurnPage *self = user;

  self->snuffing = self->chosen;
  end_burn (self, WB_EVENT_SNUFFED);
}

static void
on_end_cb (GSimpleAction *action,
           GVariant      *parameter,
           gpointer       user)
{
  WbBurnPage *self = user;
  int event = wb_words_find (wb_event_words, g_variant_get_string (parameter, NULL));

  if (!wb_event_ends_burn (event))
    return;
  /* Of several wicks one may have gone out while another burns: which is said, then saved. */
  if (wb_event_is_of_wick (event) && wb_app_bench_sample_get_n_wicks (wb_burn_page_get_chosen (self)) > 1)
    wb_reading_panel_say_event (wb_reading_stack_get_shown (self->stack), (WbEvent) event);
  else
    end_burn (self, (WbEvent) event);
}

static void
on_next_due_cb (GSimpleAction *action,
                GVariant      *parameter,
                gpointer       user)
{
  WbBurnPage *self = user;
  WbAppBenchSample *next = wb_app_bench_get_next_due (wb_burn_page_get_bench (self));

  if (next != NULL)
    wb_burn_page_choose_and_focus (self, next);
}

static void
on_part_cb (GSimpleAction *action,
            GVariant      *parameter,
            gpointer       user)
{
  WbBurnPage *self = user;

  wb_reading_panel_focus_part (wb_reading_stack_get_shown (self->stack), g_action_get_name (G_ACTION (action)));
}

static void
on_readings_cb (GSimpleAction *action,
                GVariant      *parameter,
                gpointer       user)
{
  wb_reading_log_toggle (WB_BURN_PAGE (user)->log);
}

static void
on_inspect_cb (GSimpleAction *action,
               GVariant      *parameter,
               gpointer       user)
{
  WbPage *page = user;

  gtk_window_present (GTK_WINDOW (wb_inspection_dialog_new (GTK_WIDGET (page), wb_page_get_notebook (page),
                                                            wb_burn_page_get_chosen (user),
                                                            wb_app_settings_get_person (wb_desk_get_settings (wb_page_get_desk (page))))));
}

static void
on_photos_cb (GSimpleAction *action,
              GVariant      *parameter,
              gpointer       user)
{
  wb_photo_strip_toggle (WB_BURN_PAGE (user)->photos);
}

static void
on_add_photos_cb (GSimpleAction *action,
                  GVariant      *parameter,
                  gpointer       user)
{
  wb_photo_strip_choose (WB_BURN_PAGE (user)->photos);
}

static void
on_paste_photo_cb (GSimpleAction *action,
                   GVariant      *parameter,
                   gpointer       user)
{
  wb_photo_strip_paste (WB_BURN_PAGE (user)->photos);
}

static void
on_loggers_cb (GSimpleAction *action,
               GVariant      *parameter,
               gpointer       user)
{
  wb_logger_strip_toggle (WB_BURN_PAGE (user)->loggers);
}

static void
on_add_logger_cb (GSimpleAction *action,
                  GVariant      *parameter,
                  gpointer       user)
{
  wb_logger_strip_choose (WB_BURN_PAGE (user)->loggers);
}

static void
on_set_aside_cb (GSimpleAction *action,
                 GVariant      *parameter,
                 gpointer       user)
{
  WbBurnPage *self = user;

  gtk_window_present (GTK_WINDOW (wb_aside_dialog_new (GTK_WIDGET (self), wb_burn_page_get_bench (self), wb_burn_page_get_chosen (self))));
}

static void
on_retain_cb (GSimpleAction *action,
              GVariant      *parameter,
              gpointer       user)
{
  WbBurnPage *self = user;
  const WbSample *sample = wb_app_bench_sample_get_record (wb_burn_page_get_chosen (self));

  gtk_window_present (GTK_WINDOW (wb_retain_dialog_new (GTK_WIDGET (self), wb_page_get_notebook (WB_PAGE (self)), sample)));
}

static void
on_let_count_cb (GSimpleAction *action,
                 GVariant      *parameter,
                 gpointer       user)
{
  WbBurnPage *self = user;

  wb_bench_hand_let_count (self->hand, self->chosen);
}

static void
on_also_cb (GSimpleAction *action,
            GVariant      *parameter,
            gpointer       user)
{
  WbBurnPage *self = user;
  int column = wb_column_find (g_variant_get_string (parameter, NULL));

  if (column >= 0)
    wb_reading_panel_ask_also (wb_reading_stack_get_shown (self->stack), (WbColumn) column);
}

static void
on_seen_to_cb (GSimpleAction *action,
               GVariant      *parameter,
               gpointer       user)
{
  wb_hazard_bar_answer (WB_BURN_PAGE (user)->hazard, FALSE);
}

static void
on_cautions_cb (GSimpleAction *action,
                GVariant      *parameter,
                gpointer       user)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (user));

  gtk_window_present (GTK_WINDOW (wb_caution_window_new (GTK_IS_WINDOW (root) ? GTK_WINDOW (root) : NULL)));
}

static void
on_close_session_cb (GSimpleAction *action,
                     GVariant      *parameter,
                     gpointer       user)
{
  wb_bench_hand_close_session (WB_BURN_PAGE (user)->hand);
}

static void
on_still_alight_cb (GSimpleAction *action,
                    GVariant      *parameter,
                    gpointer       user)
{
  WbBurnPage *self = user;

  wb_app_bench_acknowledge_found (wb_burn_page_get_bench (self));
  wb_burn_page_follow (self);
}

static void
on_resolve_found_cb (GSimpleAction *action,
                     GVariant      *parameter,
                     gpointer       user)
{
  WbBurnPage *self = user;

  gtk_window_present (GTK_WINDOW (wb_found_dialog_new (GTK_WIDGET (self), wb_burn_page_get_bench (self))));
}

static void
on_beside_cb (GSimpleAction *action,
              GVariant      *parameter,
              gpointer       user)
{
  wb_burn_page_go_beside (user, g_variant_get_string (parameter, NULL));
}

static void
on_find_cb (GSimpleAction *action,
            GVariant      *parameter,
            gpointer       user)
{
  wb_burn_page_go_by_name (user);
}

static void
on_light_row_cb (GSimpleAction *action,
                 GVariant      *parameter,
                 gpointer       user)
{
  wb_burn_page_start_row (user, WB_BURN_ROW_LIGHT);
}

static void
on_light_all_cb (GSimpleAction *action,
                 GVariant      *parameter,
                 gpointer       user)
{
  wb_burn_page_start_row (user, WB_BURN_ROW_LIGHT_ALL);
}

static void
on_move_cb (GSimpleAction *action,
            GVariant      *parameter,
            gpointer       user)
{
  wb_burn_page_move (user);
}

static void
on_snuff_row_cb (GSimpleAction *action,
                 GVariant      *parameter,
                 gpointer       user)
{
  wb_burn_page_start_row (user, WB_BURN_ROW_SNUFF);
}

static void
on_row_next_cb (GSimpleAction *action,
                GVariant      *parameter,
                gpointer       user)
{
  wb_burn_page_go_on_in_row (user);
}

static void
on_stop_row_cb (GSimpleAction *action,
                GVariant      *parameter,
                gpointer       user)
{
  wb_app_bench_stop_row (wb_burn_page_get_bench (user));
  wb_burn_page_follow (user);
}

static void
on_reopen_cb (GSimpleAction *action,
              GVariant      *parameter,
              gpointer       user)
{
  wb_burn_page_reopen (user);
}

static const GActionEntry actions[] = {
  { "choose", on_choose_cb, "x", "int64 0", NULL },
  { "ask", on_ask_cb, "s", "'round'", NULL },
  { "beside", on_beside_cb, "s", NULL, NULL },
  { "find", on_find_cb, NULL, NULL, NULL },
  { "light", on_light_cb, NULL, NULL, NULL },
  { "light-row", on_light_row_cb, NULL, NULL, NULL },
  { "light-all", on_light_all_cb, NULL, NULL, NULL },
  { "move", on_move_cb, NULL, NULL, NULL },
  { "snuff-row", on_snuff_row_cb, NULL, NULL, NULL },
  { "row-next", on_row_next_cb, NULL, NULL, NULL },
  { "stop-row", on_stop_row_cb, NULL, NULL, NULL },
  { "save", on_save_cb, NULL, NULL, NULL },
  { "save-calmly", on_save_cb, NULL, NULL, NULL },
  { "snuff", on_snuff_cb, NULL, NULL, NULL },
  { "end", on_end_cb, "s", NULL, NULL },
  { "next-due", on_next_due_cb, NULL, NULL, NULL },
  { "event", on_part_cb, NULL, NULL, NULL },
  { "note", on_part_cb, NULL, NULL, NULL },
  { "time", on_part_cb, NULL, NULL, NULL },
  { "also", on_also_cb, "s", NULL, NULL },
  { "seen-to", on_seen_to_cb, NULL, NULL, NULL },
  { "readings", on_readings_cb, NULL, NULL, NULL },
  { "inspect", on_inspect_cb, NULL, NULL, NULL },
  { "photos", on_photos_cb, NULL, NULL, NULL },
  { "add-photos", on_add_photos_cb, NULL, NULL, NULL },
  { "paste-photo", on_paste_photo_cb, NULL, NULL, NULL },
  { "loggers", on_loggers_cb, NULL, NULL, NULL },
  { "add-logger", on_add_logger_cb, NULL, NULL, NULL },
  { "set-aside", on_set_aside_cb, NULL, NULL, NULL },
  { "retain", on_retain_cb, NULL, NULL, NULL },
  { "reopen", on_reopen_cb, NULL, NULL, NULL },
  { "let-count", on_let_count_cb, NULL, NULL, NULL },
  { "cautions", on_cautions_cb, NULL, NULL, NULL },
  { "close-session", on_close_session_cb, NULL, NULL, NULL },
  { "still-alight", on_still_alight_cb, NULL, NULL, NULL },
  { "resolve-found", on_resolve_found_cb, NULL, NULL, NULL },
};

void
wb_burn_page_add_verbs (WbBurnPage *self)
{
  wb_page_add_actions (WB_PAGE (self), actions, G_N_ELEMENTS (actions));
}

/* A row is of more than one; a single candle has its own key. */
static void
update_row_verbs (WbBurnPage *self,
                  gboolean    writable)
{
  WbAppBench *bench = wb_burn_page_get_bench (self);
  g_autoptr (GPtrArray) row = wb_burn_page_list_row (self, WB_BURN_ROW_LIGHT), fit = wb_burn_page_list_row (self, WB_BURN_ROW_LIGHT_ALL);
  g_autoptr (GPtrArray) alight = wb_burn_page_list_row (self, WB_BURN_ROW_SNUFF);
  WbAppRowStep step;
  gboolean on = bench != NULL && wb_app_bench_get_row_step (bench, &step);

  wb_page_enable_action (WB_PAGE (self), "light-row", writable && !on && row->len > 1);
  wb_page_enable_action (WB_PAGE (self), "light-all", writable && !on && fit->len > 1);
  wb_page_enable_action (WB_PAGE (self), "snuff-row", writable && !on && alight->len > 1);
  wb_page_enable_action (WB_PAGE (self), "row-next", on);
  wb_page_enable_action (WB_PAGE (self), "stop-row", on);
}

void
wb_burn_page_update_verbs (WbPage *page)
{
  WbBurnPage *self = WB_BURN_PAGE (page);
  WbAppNotebook *notebook = wb_page_get_notebook (page);
  WbAppBench *bench = wb_burn_page_get_bench (self);
  WbAppBenchSample *sample = wb_burn_page_get_chosen (self);
  WbReadingPanel *panel = wb_reading_stack_get_shown (self->stack);
  gboolean writable = notebook != NULL && !wb_app_notebook_get_read_only (notebook);
  gboolean ready = writable && sample != NULL && panel != NULL && wb_reading_panel_get_saving (panel) != WB_SAVE_SAVING;
  gboolean lit = sample != NULL && wb_burn_page_is_alight (sample);
  gboolean lighting = panel != NULL && wb_reading_panel_get_ask (panel) == WB_APP_ASK_LIGHTING;
  gboolean aside = sample != NULL && wb_bench_words_get_mood (sample) == WB_BENCH_MOOD_ASIDE;
  gboolean found = bench != NULL && wb_app_bench_get_found_open (bench) > 0;
  gboolean session = bench != NULL && wb_app_bench_get_session (bench) != NULL;

  update_row_verbs (self, writable);
  wb_page_enable_action (page, "choose", bench != NULL);
  wb_page_enable_action (page, "beside", sample != NULL);
  wb_page_enable_action (page, "find", bench != NULL && wb_app_bench_get_loaded (bench));
  wb_page_enable_action (page, "ask", panel != NULL);
  wb_page_enable_action (page, "light", ready && !lit && !aside);
  wb_page_enable_action (page, "save", ready && !lighting && wb_reading_panel_get_touched (panel));
  /* Many save with it elsewhere: it answers no hazard, and saves past none. */
  wb_page_enable_action (page, "save-calmly", ready && !lighting && wb_reading_panel_get_touched (panel)
                                                && wb_hazard_bar_get_n_open (self->hazard) == 0);
  wb_page_enable_action (page, "snuff", ready && lit);
  wb_page_enable_action (page, "end", ready && lit);
  wb_page_enable_action (page, "move", ready && lit && wb_app_bench_sample_get_burn (sample)->kind != WB_BURN_THROW);
  wb_page_enable_action (page, "next-due", bench != NULL && wb_app_bench_get_alight (bench) > 0);
  wb_page_enable_action (page, "event", ready && !lighting);
  wb_page_enable_action (page, "note", ready && !lighting);
  wb_page_enable_action (page, "time", ready);
  wb_page_enable_action (page, "also", ready);
  wb_page_enable_action (page, "seen-to", wb_hazard_bar_get_n_open (self->hazard) > 0);
  wb_page_enable_action (page, "readings", sample != NULL);
  /* What burns is no unlit sample. */
  wb_page_enable_action (page, "inspect", writable && sample != NULL && !lit);
  wb_page_enable_action (page, "photos", sample != NULL);
  wb_page_enable_action (page, "add-photos", writable && sample != NULL);
  wb_page_enable_action (page, "paste-photo", writable && sample != NULL);
  wb_page_enable_action (page, "loggers", sample != NULL);
  wb_page_enable_action (page, "add-logger", writable && sample != NULL);
  wb_page_enable_action (page, "set-aside", writable && sample != NULL && !aside);
  wb_page_enable_action (page, "let-count", writable && aside);
  /* A flame is put out before its candle is put away. */
  wb_page_enable_action (page, "retain", writable && sample != NULL && !lit);
  wb_page_enable_action (page, "reopen", writable && wb_burn_page_is_finished (self));
  wb_page_enable_action (page, "close-session", writable && session && wb_app_bench_get_alight (bench) == 0);
  wb_page_enable_action (page, "still-alight", found);
  wb_page_enable_action (page, "resolve-found", writable && found);
}
