/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-burn-page-private.h"

#include "wb-app-bench-plan.h"
#include "wb-bundle.h"
#include "wb-calm-bin.h"
#include "wb-file-drop.h"
#include "wb-problem.h"
#include "wb-question.h"

#include <glib/gi18n.h>

G_DEFINE_FINAL_TYPE (WbBurnPage, wb_burn_page, WB_TYPE_PAGE)

static guint
get_n_places (WbBurnPage *self)
{
  return wb_app_bench_plan_get_places (wb_page_get_notebook (WB_PAGE (self)));
}

/* 0: as many as fit. */
static guint
get_n_columns (WbBurnPage *self)
{
  const WbNotebook *settings = wb_app_notebook_get_settings (wb_page_get_notebook (WB_PAGE (self)));

  return settings != NULL && settings->bench_columns >= 1 ? (guint) settings->bench_columns : 0;
}

static void
show_round (WbBurnPage *self)
{
  gboolean other = wb_bench_round_take (self->round, wb_burn_page_get_bench (self), wb_page_get_experiment (WB_PAGE (self)));

  if (other || !wb_bench_view_has_size (self->view, get_n_places (self), get_n_columns (self)) || !wb_bench_view_is_in_place (self->view))
    {
      wb_bench_view_set (self->view, wb_bench_round_get_alight (self->round), wb_bench_round_get_waiting (self->round),
                         get_n_places (self), get_n_columns (self));
      wb_burn_page_scroll_later (self);
    }
}

/* After every tick of the bench, which comes after every news of the record too. */
void
wb_burn_page_follow (WbBurnPage *self)
{
  WbAppBench *bench = wb_burn_page_get_bench (self);
  gboolean any;

  if (bench != NULL && !wb_app_bench_is_behind (bench))
    g_hash_table_remove_all (self->unread);
  if (bench == NULL || !gtk_widget_get_mapped (GTK_WIDGET (self)))
    return;
  if (!wb_app_bench_get_loaded (bench))
    {
      const GError *error = wb_app_bench_get_error (bench);

      gtk_stack_set_visible_child_name (self->content, "loading");
      if (error != NULL)
        wb_problem_show (GTK_WIDGET (self), _("The bench could not be read"), error);
      return;
    }
  show_round (self);
  wb_burn_page_look_at_record (self);
  wb_burn_page_put_drafts_back (self);
  wb_burn_page_ensure_choice (self);
  wb_reading_stack_update (self->stack);
  wb_burn_page_give_evening (self);
  wb_burn_page_show_ask (self);
  wb_burn_page_propose_place (self);
  wb_burn_page_tell_throw (self);
  wb_check_strip_show (self->checks, wb_page_get_notebook (WB_PAGE (self)), wb_burn_page_get_chosen (self), wb_burn_page_uses_us_units (self));
  wb_bench_view_update (self->view, wb_burn_page_uses_us_units (self), wb_reading_stack_get_failed (self->stack));
  wb_bench_bar_update (self->bar, bench, wb_burn_page_uses_us_units (self));
  wb_row_bar_update (self->row_bar, bench);
  /* what to light is asked before it is lit */
  wb_advice_line_set (self->next, wb_page_get_desk (WB_PAGE (self)),
                      wb_app_bench_get_alight (bench) == 0 ? wb_page_get_experiment (WB_PAGE (self)) : 0);
  wb_burn_page_show_finished (self);
  any = wb_bench_round_get_alight (self->round)->len + wb_bench_round_get_waiting (self->round)->len > 0;
  gtk_stack_set_visible_child_name (self->content, any ? "bench" : "empty");
  wb_burn_page_keep_drafts (self);
  wb_page_update_actions (WB_PAGE (self));
}

static void
on_bench_tick_cb (WbBurnPage *self)
{
  wb_burn_page_follow (self);
}

/* A limit is told when a value stands, before it is saved. */
void
wb_burn_page_tell (WbBurnPage     *self,
                   WbReadingPanel *panel)
{
  g_autoptr (GPtrArray) readings = wb_reading_panel_dup_looks (panel);

  wb_hazard_bar_look (self->hazard, wb_reading_panel_get_sample (panel), readings);
  /* What was answered before is no answer to what is told now. */
  if (wb_hazard_bar_is_open (self->hazard, wb_app_bench_sample_get_id (wb_reading_panel_get_sample (panel))))
    wb_reading_panel_set_seen_to (panel, FALSE);
  wb_page_update_actions (WB_PAGE (self));
}

/* Enter in the last field. Where nothing was typed it only goes on. */
static void
on_panel_done_cb (WbBurnPage     *self,
                  WbReadingPanel *panel)
{
  WbAppAsk ask = wb_reading_panel_get_ask (panel);
  WbAppBenchSample *next;

  if (ask == WB_APP_ASK_LIGHTING)
    g_action_group_activate_action (G_ACTION_GROUP (wb_page_get_actions (WB_PAGE (self))), "light", NULL);
  else if (wb_reading_panel_get_touched (panel))
    g_action_group_activate_action (G_ACTION_GROUP (wb_page_get_actions (WB_PAGE (self))), "save", NULL);
  else
    {
      next = wb_burn_page_find_next (self, ask);
      if (next != NULL)
        wb_burn_page_choose_and_focus (self, next);
    }
}

static void
on_panel_finished_cb (WbBurnPage     *self,
                      WbReadingPanel *panel)
{
  if (wb_burn_page_get_bench (self) != NULL && wb_reading_panel_get_ask (panel) != WB_APP_ASK_LIGHTING)
    wb_burn_page_tell (self, panel);
}

static void
on_panel_changed_cb (WbBurnPage     *self,
                     WbReadingPanel *panel)
{
  wb_burn_page_propose_place (self);
  wb_burn_page_tell_throw (self);
  wb_burn_page_keep_drafts_soon (self);
  wb_page_typed (WB_PAGE (self));
}

static gboolean
is_look (WbReadingPanel *panel)
{
  double values[WB_N_COLUMNS];

  wb_reading_panel_get_values (panel, values);
  return wb_app_bench_is_look (values);
}

/*
 * While one is on its way the hand is at the next already: after the last light at the first flame that is due, after a
 * snuff at the next flame, and after the last of them at the first that is asked how long it glowed. A flame that went
 * out otherwise is looked at. One that is over a limit stays in hand, so that the key for snuffing is its own; from there
 * the round goes on.
 */
static WbAppBenchSample *
find_after (WbBurnPage     *self,
            WbReadingPanel *panel,
            gboolean        ends)
{
  gint64 id = wb_app_bench_sample_get_id (wb_reading_panel_get_sample (panel));
  WbAppAsk ask = wb_reading_panel_get_ask (panel);
  WbAppBenchSample *next;

  if (!ends && wb_hazard_bar_is_over (self->hazard, id))
    {
      self->held = id;
      return NULL;
    }
  /* What happened was noted alone: the round that is due is read at this candle first. */
  if (!ends && wb_app_bench_sample_get_due_in_s (wb_reading_panel_get_sample (panel)) <= 0 && !is_look (panel))
    return NULL;
  if (ends && self->held == id)
    return wb_burn_page_find_due (self);
  if (ends && self->snuffing != id)
    return NULL;
  if (ends)
    {
      next = wb_burn_page_find_to_snuff (self);
      return next != NULL ? next : wb_burn_page_find_next (self, WB_APP_ASK_AFTER_SNUFFING);
    }
  /* What was passed over stays overdue, and comes before what is due later. */
  if (ask == WB_APP_ASK_ROUND || ask == WB_APP_ASK_BEFORE_SNUFFING)
    return wb_burn_page_find_due (self);
  next = wb_burn_page_find_next (self, ask);
  return next != NULL || ask != WB_APP_ASK_LIGHTING ? next : wb_burn_page_find_due (self);
}

static void
on_hand_started_cb (WbBurnPage     *self,
                    WbReadingPanel *panel,
                    gboolean        ends)
{
  gboolean lighting = wb_reading_panel_get_ask (panel) == WB_APP_ASK_LIGHTING;
  WbAppBenchSample *next;

  wb_burn_page_answer_started (self, wb_app_bench_sample_get_id (wb_reading_panel_get_sample (panel)), ends);
  /* Where the earlier reading is to be amended, the hand stays. */
  if (panel == wb_reading_stack_get_shown (self->stack) && self->amend_sample != wb_app_bench_sample_get_id (wb_reading_panel_get_sample (panel)))
    {
      next = find_after (self, panel, ends);
      if (next != NULL && lighting)
        wb_burn_page_choose_to_light (self, next);
      else if (next != NULL)
        wb_burn_page_choose_and_focus (self, next);
    }
  wb_page_update_actions (WB_PAGE (self));
}

static void
on_hand_saved_cb (WbBurnPage     *self,
                  WbReadingPanel *panel)
{
  gboolean shown = panel == wb_reading_stack_get_shown (self->stack);
  gint64 id = wb_app_bench_sample_get_id (wb_reading_panel_get_sample (panel));

  wb_burn_page_answer_saved (self, id);
  wb_hazard_bar_forget (self->hazard, id);
  g_hash_table_add (self->unread, g_memdup2 (&id, sizeof id));
  wb_reading_stack_drop (self->stack, panel);
  if (shown && wb_reading_stack_get_shown (self->stack) != NULL)
    {
      wb_reading_panel_set_saving (wb_reading_stack_get_shown (self->stack), WB_SAVE_SAVED, NULL);
      wb_burn_page_give_notes (self);
      wb_reading_panel_focus_first (wb_reading_stack_get_shown (self->stack));
      wb_burn_page_scroll_later (self);
    }
  wb_burn_page_follow (self);
  if (self->amend_sample == id && self->chosen == id)
    wb_reading_log_amend_reading (self->log, self->amend_reading, self->amend_column);
  if (self->amend_sample == id)
    self->amend_sample = 0;
}

static void
on_hand_failed_cb (WbBurnPage     *self,
                   WbReadingPanel *panel)
{
  WbReadingPanel *shown = wb_reading_stack_get_shown (self->stack);

  wb_burn_page_answer_failed (self, wb_reading_panel_get_sample (panel));
  self->amend_sample = 0;
  /* Back to what could not be saved, unless the hand is in the middle of another one. */
  if (shown == NULL || shown == panel || !wb_reading_panel_get_touched (shown))
    wb_burn_page_choose_and_focus (self, wb_reading_panel_get_sample (panel));
  wb_burn_page_follow (self);
}

static void
on_hazard_answered_cb (WbBurnPage *self,
                       gint64      id,
                       gboolean    out,
                       gboolean    typed,
                       const char *text)
{
  wb_burn_page_answer (self, id, out, typed, text);
}

static void
forget (WbBurnPage *self)
{
  wb_bench_round_take (self->round, NULL, 0);
  wb_bench_view_set (self->view, wb_bench_round_get_alight (self->round), wb_bench_round_get_waiting (self->round), 0, 0);
  wb_reading_stack_clear (self->stack);
  wb_reading_log_show (self->log, NULL, NULL, FALSE);
  wb_photo_strip_show (self->photos, NULL, NULL);
  wb_logger_strip_show (self->loggers, NULL, NULL, FALSE);
  wb_check_strip_show (self->checks, NULL, NULL, FALSE);
  wb_advice_line_set (self->next, NULL, 0);
  self->chosen = 0;
}

static void
wb_burn_page_open (WbPage *page,
                   WbDesk *desk)
{
  WbBurnPage *self = WB_BURN_PAGE (page);
  const char *person = wb_app_settings_get_person (wb_desk_get_settings (desk));

  WB_PAGE_CLASS (wb_burn_page_parent_class)->open (page, desk);
  wb_bench_hand_set_bench (self->hand, wb_desk_get_bench (desk), person);
  wb_reading_stack_set_up (self->stack, wb_burn_page_uses_us_units (self), person);
  g_signal_group_set_target (self->bench_signals, wb_desk_get_bench (desk));
  wb_burn_page_load_drafts (self);
}

static void
wb_burn_page_close (WbPage *page)
{
  WbBurnPage *self = WB_BURN_PAGE (page);

  g_signal_group_set_target (self->bench_signals, NULL);
  wb_burn_page_keep_drafts (self);
  wb_burn_page_drop_drafts (self);
  wb_bench_hand_set_bench (self->hand, NULL, NULL);
  g_clear_object (&self->doubted);
  g_clear_object (&self->drowned);
  self->amend_sample = self->held = self->snuffing = 0;
  forget (self);
  wb_hazard_bar_clear (self->hazard);
  g_hash_table_remove_all (self->answers);
  g_hash_table_remove_all (self->ending);
  g_hash_table_remove_all (self->unread);
  gtk_stack_set_visible_child_name (self->content, "loading");
  WB_PAGE_CLASS (wb_burn_page_parent_class)->close (page);
}

static void
wb_burn_page_set_experiment (WbPage *page,
                             gint64  experiment)
{
  WbBurnPage *self = WB_BURN_PAGE (page);

  WB_PAGE_CLASS (wb_burn_page_parent_class)->set_experiment (page, experiment);
  self->chosen = 0;
  wb_reading_stack_show (self->stack, NULL);
  wb_reading_log_show (self->log, NULL, NULL, FALSE);
  /* What waits to be added goes on. */
  wb_photo_strip_show (self->photos, wb_page_get_notebook (page), NULL);
  wb_logger_strip_show (self->loggers, NULL, NULL, FALSE);
  wb_check_strip_show (self->checks, NULL, NULL, FALSE);
}

static void
wb_burn_page_reload (WbPage *page)
{
  WbBurnPage *self = WB_BURN_PAGE (page);
  WbDesk *desk = wb_page_get_desk (page);

  if (desk == NULL)
    return;
  wb_reading_stack_set_up (self->stack, wb_burn_page_uses_us_units (self), wb_app_settings_get_person (wb_desk_get_settings (desk)));
  wb_burn_page_follow (self);
}

static void
on_leave_answered_cb (gboolean yes,
                      gpointer user)
{
  WbBurnPage *self = user;

  if (!yes)
    return;
  wb_reading_stack_clear (self->stack);
  wb_burn_page_keep_drafts (self);
  self->chosen = 0;
  wb_page_release (WB_PAGE (self));
}

static gboolean
wb_burn_page_leave (WbPage *page)
{
  WbBurnPage *self = WB_BURN_PAGE (page);

  if (!wb_reading_stack_get_touched (self->stack))
    return TRUE;
  /* The question goes with the window, and the page with it: no answer comes to a page that is gone. */
  wb_question_ask (GTK_WIDGET (self), _("A reading is typed and not saved"),
                   _("Go back and save it with Enter, or throw it away."), _("_Throw it away"), TRUE, on_leave_answered_cb, self);
  return FALSE;
}

/* Where the hand works: the chosen sample's first field. Nothing before the bench is read. */
static void
wb_burn_page_take_focus (WbPage *page)
{
  WbReadingPanel *panel = wb_reading_stack_get_shown (WB_BURN_PAGE (page)->stack);

  if (panel != NULL && gtk_widget_get_mapped (GTK_WIDGET (panel)))
    wb_reading_panel_focus_first (panel);
  else if (g_strcmp0 (gtk_stack_get_visible_child_name (WB_BURN_PAGE (page)->content), "loading") != 0)
    WB_PAGE_CLASS (wb_burn_page_parent_class)->take_focus (page);
}

/* Of the candle that a photo is dropped on. NULL: on none. */
static WbAppBenchSample *
find_under (GtkWidget *view,
            double     x,
            double     y)
{
  GtkWidget *picked = gtk_widget_pick (view, x, y, GTK_PICK_DEFAULT);
  GtkWidget *spot = picked == NULL || WB_IS_BENCH_SPOT (picked) ? picked : gtk_widget_get_ancestor (picked, WB_TYPE_BENCH_SPOT);

  return spot != NULL ? wb_bench_spot_get_sample (WB_BENCH_SPOT (spot)) : NULL;
}

static guint
wb_burn_page_count_adding (WbPage *page)
{
  return wb_photo_strip_get_n_adding (WB_BURN_PAGE (page)->photos);
}

static void
wb_burn_page_dispose (GObject *object)
{
  WbBurnPage *self = WB_BURN_PAGE (object);

  g_clear_handle_id (&self->scroll, g_source_remove);
  wb_burn_page_drop_drafts (self);
  if (self->hand != NULL)
    g_signal_handlers_disconnect_by_data (self->hand, self);
  g_clear_object (&self->hand);
  g_clear_object (&self->doubted);
  g_clear_object (&self->drowned);
  g_clear_object (&self->bench_signals);
  g_clear_pointer (&self->finder, gtk_widget_unparent);
  g_clear_pointer (&self->mover, gtk_widget_unparent);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_BURN_PAGE);
  G_OBJECT_CLASS (wb_burn_page_parent_class)->dispose (object);
}

static void
wb_burn_page_finalize (GObject *object)
{
  WbBurnPage *self = WB_BURN_PAGE (object);

  wb_bench_round_free (self->round);
  g_hash_table_unref (self->answers);
  g_hash_table_unref (self->ending);
  g_hash_table_unref (self->unread);
  g_free (self->doubt);
  G_OBJECT_CLASS (wb_burn_page_parent_class)->finalize (object);
}

static void
wb_burn_page_class_init (WbBurnPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  WbPageClass *page_class = WB_PAGE_CLASS (klass);

  g_type_ensure (WB_TYPE_BENCH_BAR);
  g_type_ensure (WB_TYPE_BENCH_VIEW);
  g_type_ensure (WB_TYPE_CALM_BIN);
  g_type_ensure (WB_TYPE_CHECK_STRIP);
  g_type_ensure (WB_TYPE_HAZARD_BAR);
  g_type_ensure (WB_TYPE_LOGGER_STRIP);
  g_type_ensure (WB_TYPE_PHOTO_STRIP);
  g_type_ensure (WB_TYPE_READING_LOG);
  g_type_ensure (WB_TYPE_READING_STACK);
  g_type_ensure (WB_TYPE_ROW_BAR);
  g_type_ensure (WB_TYPE_ADVICE_LINE);
  G_OBJECT_CLASS (klass)->dispose = wb_burn_page_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_burn_page_finalize;
  page_class->open = wb_burn_page_open;
  page_class->close = wb_burn_page_close;
  page_class->set_experiment = wb_burn_page_set_experiment;
  page_class->reload = wb_burn_page_reload;
  page_class->update_actions = wb_burn_page_update_verbs;
  page_class->leave = wb_burn_page_leave;
  page_class->count_adding = wb_burn_page_count_adding;
  page_class->take_focus = wb_burn_page_take_focus;
  /* Where no field has it: a field takes text with the same keys. */
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_v, GDK_CONTROL_MASK, "page.paste-photo", NULL);
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "burn-page.ui");
  gtk_widget_class_bind_template_child (widget_class, WbBurnPage, bar);
  gtk_widget_class_bind_template_child (widget_class, WbBurnPage, hazard);
  gtk_widget_class_bind_template_child (widget_class, WbBurnPage, row_bar);
  gtk_widget_class_bind_template_child (widget_class, WbBurnPage, next);
  gtk_widget_class_bind_template_child (widget_class, WbBurnPage, content);
  gtk_widget_class_bind_template_child (widget_class, WbBurnPage, finished);
  gtk_widget_class_bind_template_child (widget_class, WbBurnPage, finished_words);
  gtk_widget_class_bind_template_child (widget_class, WbBurnPage, reopen);
  gtk_widget_class_bind_template_child (widget_class, WbBurnPage, empty);
  gtk_widget_class_bind_template_child (widget_class, WbBurnPage, view_scroll);
  gtk_widget_class_bind_template_child (widget_class, WbBurnPage, view);
  gtk_widget_class_bind_template_child (widget_class, WbBurnPage, stack);
  gtk_widget_class_bind_template_child (widget_class, WbBurnPage, log);
  gtk_widget_class_bind_template_child (widget_class, WbBurnPage, photos);
  gtk_widget_class_bind_template_child (widget_class, WbBurnPage, loggers);
  gtk_widget_class_bind_template_child (widget_class, WbBurnPage, checks);
  gtk_widget_class_bind_template_callback (widget_class, on_hazard_answered_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_panel_done_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_panel_finished_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_panel_changed_cb);
}

/* After the allocation that says how much of the bench is seen: in the middle of it nothing may ask for another size. */
static void
watch_room (GtkAdjustment *adjustment,
            WbBurnPage    *self)
{
  g_signal_connect_object (adjustment, "notify::page-size", G_CALLBACK (wb_burn_page_scroll_later), self, G_CONNECT_SWAPPED);
}

/* What is unfolded below the bench takes room from it: one at a time. */
static void
on_unfolded_cb (GtkExpander *unfolded,
                GParamSpec  *pspec,
                WbBurnPage  *self)
{
  GtkWidget *strips[] = { GTK_WIDGET (self->log), GTK_WIDGET (self->photos), GTK_WIDGET (self->loggers) };

  if (!gtk_expander_get_expanded (unfolded))
    return;
  for (guint i = 0; i < G_N_ELEMENTS (strips); i++)
    {
      GtkWidget *other = gtk_widget_get_first_child (strips[i]);

      if (other != GTK_WIDGET (unfolded))
        gtk_expander_set_expanded (GTK_EXPANDER (other), FALSE);
    }
}

static void
keep_one_unfolded (WbBurnPage *self)
{
  GtkWidget *strips[] = { GTK_WIDGET (self->log), GTK_WIDGET (self->photos), GTK_WIDGET (self->loggers) };

  for (guint i = 0; i < G_N_ELEMENTS (strips); i++)
    g_signal_connect_object (gtk_widget_get_first_child (strips[i]), "notify::expanded", G_CALLBACK (on_unfolded_cb), self, 0);
}

static void
wb_burn_page_init (WbBurnPage *self)
{
  self->round = wb_bench_round_new ();
  self->answers = wb_burn_page_answers_new ();
  self->ending = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  self->unread = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  gtk_widget_init_template (GTK_WIDGET (self));
  wb_burn_page_add_verbs (self);
  g_signal_connect_object (self->photos, "went-on", G_CALLBACK (wb_page_went_on), self, G_CONNECT_SWAPPED);
  watch_room (gtk_scrolled_window_get_hadjustment (GTK_SCROLLED_WINDOW (self->view_scroll)), self);
  watch_room (gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (self->view_scroll)), self);
  wb_file_drop_accept (GTK_WIDGET (self->view), self->photos, self->loggers, find_under);
  wb_file_drop_accept (GTK_WIDGET (self->stack), self->photos, self->loggers, NULL);
  wb_file_drop_accept (GTK_WIDGET (self->photos), self->photos, self->loggers, NULL);
  wb_file_drop_accept (GTK_WIDGET (self->loggers), self->photos, self->loggers, NULL);
  keep_one_unfolded (self);
  self->hand = wb_bench_hand_new (GTK_WIDGET (self));
  g_signal_connect_swapped (self->hand, "started", G_CALLBACK (on_hand_started_cb), self);
  g_signal_connect_swapped (self->hand, "saved", G_CALLBACK (on_hand_saved_cb), self);
  g_signal_connect_swapped (self->hand, "failed", G_CALLBACK (on_hand_failed_cb), self);
  self->bench_signals = g_signal_group_new (WB_TYPE_APP_BENCH);
  g_signal_group_connect_swapped (self->bench_signals, "tick", G_CALLBACK (on_bench_tick_cb), self);
  wb_page_update_actions (WB_PAGE (self));
}

WbReadingStack *
wb_burn_page_get_stack (WbBurnPage *self)
{
  g_return_val_if_fail (WB_IS_BURN_PAGE (self), NULL);
  return self->stack;
}

WbReadingLog *
wb_burn_page_get_log (WbBurnPage *self)
{
  g_return_val_if_fail (WB_IS_BURN_PAGE (self), NULL);
  return self->log;
}

WbPhotoStrip *
wb_burn_page_get_photos (WbBurnPage *self)
{
  g_return_val_if_fail (WB_IS_BURN_PAGE (self), NULL);
  return self->photos;
}

WbLoggerStrip *
wb_burn_page_get_loggers (WbBurnPage *self)
{
  g_return_val_if_fail (WB_IS_BURN_PAGE (self), NULL);
  return self->loggers;
}

WbHazardBar *
wb_burn_page_get_hazard (WbBurnPage *self)
{
  g_return_val_if_fail (WB_IS_BURN_PAGE (self), NULL);
  return self->hazard;
}
