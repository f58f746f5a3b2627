/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-burn-page.h"

#include "wb-aside-dialog.h"
#include "wb-bench-bar.h"
#include "wb-bench-hand.h"
#include "wb-bench-round.h"
#include "wb-bench-view.h"
#include "wb-bench-words.h"
#include "wb-bundle.h"
#include "wb-caution.h"
#include "wb-found-dialog.h"
#include "wb-problem.h"
#include "wb-question.h"

#include <glib/gi18n.h>
#include <math.h>

/* Where the notebook does not say how many places the bench has: as many as a maker burns of an evening. */
#define USUAL_PLACES 12

struct _WbBurnPage
{
  WbPage          parent_instance;

  /* children */
  WbBenchBar     *bar;
  WbHazardBar    *hazard;
  GtkStack       *content;
  GtkWidget      *view_scroll;
  WbBenchView    *view;
  WbReadingStack *stack;

  /* owned */
  WbBenchHand    *hand;
  GSignalGroup   *bench_signals;
  WbBenchRound   *round;

  /* state */
  gint64          chosen;
  guint           scroll;   /* source id; 0: none */
  gboolean        told;     /* what was over a limit when the notebook was opened was told */
};

G_DEFINE_FINAL_TYPE (WbBurnPage, wb_burn_page, WB_TYPE_PAGE)

static WbAppBench *
get_bench (WbBurnPage *self)
{
  WbDesk *desk = wb_page_get_desk (WB_PAGE (self));

  return desk != NULL ? wb_desk_get_bench (desk) : NULL;
}

static gboolean
uses_us_units (WbBurnPage *self)
{
  WbDesk *desk = wb_page_get_desk (WB_PAGE (self));

  return desk != NULL && wb_desk_get_unit (desk, WB_QUANTITY_LENGTH) == WB_UNIT_INCH;
}

/* NULL: none is chosen, or it is gone. Borrowed. */
static WbAppBenchSample *
get_chosen (WbBurnPage *self)
{
  WbAppBench *bench = get_bench (self);

  return bench != NULL && self->chosen != 0 ? wb_app_bench_find (bench, self->chosen) : NULL;
}

static gboolean
is_alight (WbAppBenchSample *sample)
{
  return wb_app_bench_sample_get_state (sample) == WB_APP_BENCH_ALIGHT;
}

static guint
get_n_places (WbBurnPage *self)
{
  const WbNotebook *settings = wb_app_notebook_get_settings (wb_page_get_notebook (WB_PAGE (self)));

  return settings != NULL && settings->bench_places >= 1 ? (guint) settings->bench_places : USUAL_PLACES;
}

static gboolean
is_on_its_way (WbAppBenchSample *sample,
               gpointer          user)
{
  return wb_reading_stack_is_saving (WB_BURN_PAGE (user)->stack, wb_app_bench_sample_get_id (sample));
}

/*
 * Where the hand goes after what was asked: lighting goes along the samples that may be lit, weighing along those to be
 * weighed, all else along the flames. What is on its way to the file is passed over. NULL: nowhere.
 */
static WbAppBenchSample *
find_next (WbBurnPage *self,
           WbAppAsk    after)
{
  switch (after)
    {
    case WB_APP_ASK_LIGHTING:
      return wb_bench_round_next_fit (self->round, self->chosen, is_on_its_way, self);
    case WB_APP_ASK_NEXT_DAY:
      return wb_bench_round_next_to_weigh (self->round, self->chosen, is_on_its_way, self);
    case WB_APP_ASK_ROUND:
    case WB_APP_ASK_BEFORE_SNUFFING:
    case WB_APP_ASK_AFTER_SNUFFING:
    default:
      return wb_bench_round_next_alight (self->round, self->chosen, is_on_its_way, self);
    }
}

static void
set_state (WbBurnPage *self,
           const char *name,
           GVariant   *state)
{
  GAction *action = g_action_map_lookup_action (G_ACTION_MAP (wb_page_get_actions (WB_PAGE (self))), name);

  g_simple_action_set_state (G_SIMPLE_ACTION (action), state);
}

static void
show_ask (WbBurnPage *self)
{
  WbReadingPanel *panel = wb_reading_stack_get_shown (self->stack);

  if (panel != NULL)
    set_state (self, "ask", g_variant_new_string (wb_reading_panel_get_ask_name (wb_reading_panel_get_ask (panel))));
}

static void
propose_place (WbBurnPage *self)
{
  WbReadingPanel *panel = wb_reading_stack_get_shown (self->stack);
  g_autofree char *place = g_strdup_printf ("%u", wb_bench_view_get_free_place (self->view));

  if (panel != NULL)
    wb_reading_panel_propose_place (panel, place);
}

/* The chosen one is seen, wherever the keyboard is; once what is new has its place. */
static gboolean
on_scroll_cb (gpointer user)
{
  WbBurnPage *self = user;
  WbBenchSpot *spot = wb_bench_view_find (self->view, self->chosen);
  GtkAdjustment *adjustment = gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (self->view_scroll));
  graphene_rect_t bounds;

  if (spot != NULL && gtk_widget_compute_bounds (GTK_WIDGET (spot), GTK_WIDGET (self->view), &bounds) && bounds.size.height > 0)
    gtk_adjustment_clamp_page (adjustment, bounds.origin.y, bounds.origin.y + bounds.size.height);
  self->scroll = 0;
  return G_SOURCE_REMOVE;
}

static void
scroll_later (WbBurnPage *self)
{
  if (self->scroll == 0)
    self->scroll = g_idle_add_full (GDK_PRIORITY_REDRAW + 10, on_scroll_cb, self, NULL);
}

static void
choose (WbBurnPage       *self,
        WbAppBenchSample *sample)
{
  self->chosen = sample != NULL ? wb_app_bench_sample_get_id (sample) : 0;
  set_state (self, "choose", g_variant_new_int64 (self->chosen));
  wb_bench_view_set_chosen (self->view, self->chosen);
  wb_reading_stack_show (self->stack, sample);
  propose_place (self);
  show_ask (self);
  scroll_later (self);
  wb_page_update_actions (WB_PAGE (self));
}

static void
choose_and_focus (WbBurnPage       *self,
                  WbAppBenchSample *sample)
{
  choose (self, sample);
  if (wb_reading_stack_get_shown (self->stack) != NULL)
    wb_reading_panel_focus_first (wb_reading_stack_get_shown (self->stack));
}

/* Without a choice, or when the chosen one is gone. */
static void
ensure_choice (WbBurnPage *self)
{
  WbAppBenchSample *sample = get_chosen (self);

  if (sample != NULL && wb_bench_round_has (self->round, sample))
    return;
  self->chosen = 0;
  choose (self, wb_bench_round_first (self->round, wb_page_get_experiment (WB_PAGE (self)), is_on_its_way, self));
}

/* The values that a record holds say as much as those just typed: a notebook opened with a hot vessel tells it. */
static void
look_at_record (WbBurnPage *self)
{
  const GPtrArray *alight = wb_bench_round_get_alight (self->round);

  for (guint i = 0; !self->told && i < alight->len; i++)
    if (wb_app_bench_sample_get_over (g_ptr_array_index (alight, i)))
      wb_hazard_bar_look (self->hazard, g_ptr_array_index (alight, i), NULL);
  self->told = TRUE;
}

static void
show_round (WbBurnPage *self)
{
  if (wb_bench_round_take (self->round, get_bench (self), wb_page_get_experiment (WB_PAGE (self))))
    {
      wb_bench_view_set (self->view, wb_bench_round_get_alight (self->round), wb_bench_round_get_waiting (self->round),
                         get_n_places (self));
      scroll_later (self);
    }
}

/* After every tick of the bench, which comes after every news of the record too. */
static void
follow (WbBurnPage *self)
{
  WbAppBench *bench = get_bench (self);
  gboolean any;

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
  look_at_record (self);
  ensure_choice (self);
  wb_reading_stack_update (self->stack);
  show_ask (self);
  propose_place (self);
  wb_bench_view_update (self->view, uses_us_units (self), wb_reading_stack_get_failed (self->stack));
  wb_bench_bar_update (self->bar, bench);
  any = wb_bench_round_get_alight (self->round)->len + wb_bench_round_get_waiting (self->round)->len > 0;
  gtk_stack_set_visible_child_name (self->content, any ? "bench" : "empty");
  wb_page_update_actions (WB_PAGE (self));
}

static void
on_bench_tick_cb (WbBurnPage *self)
{
  follow (self);
}

/* A limit is told when a value stands, before it is saved. */
static void
tell (WbBurnPage     *self,
      WbReadingPanel *panel)
{
  double values[WB_N_COLUMNS];

  wb_reading_panel_get_values (panel, values);
  wb_hazard_bar_look (self->hazard, wb_reading_panel_get_sample (panel), values);
  wb_page_update_actions (WB_PAGE (self));
}

static void
read_panel (WbBurnPage     *self,
            WbReadingPanel *panel)
{
  tell (self, panel);
  wb_bench_hand_read (self->hand, panel);
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
      next = find_next (self, ask);
      if (next != NULL)
        choose_and_focus (self, next);
    }
}

static void
on_panel_finished_cb (WbBurnPage     *self,
                      WbReadingPanel *panel)
{
  if (get_bench (self) != NULL && wb_reading_panel_get_ask (panel) != WB_APP_ASK_LIGHTING)
    tell (self, panel);
}

static void
on_panel_changed_cb (WbBurnPage     *self,
                     WbReadingPanel *panel)
{
  wb_page_update_actions (WB_PAGE (self));
}

/* While one is on its way the hand is at the next already; a flame that was put out is looked at until it glows no more. */
static void
on_hand_started_cb (WbBurnPage     *self,
                    WbReadingPanel *panel,
                    gboolean        ends)
{
  WbAppBenchSample *next;

  if (panel == wb_reading_stack_get_shown (self->stack) && !ends)
    {
      next = find_next (self, wb_reading_panel_get_ask (panel));
      if (next != NULL)
        choose_and_focus (self, next);
    }
  wb_page_update_actions (WB_PAGE (self));
}

static void
on_hand_saved_cb (WbBurnPage     *self,
                  WbReadingPanel *panel)
{
  gboolean shown = panel == wb_reading_stack_get_shown (self->stack);

  wb_hazard_bar_forget (self->hazard, wb_app_bench_sample_get_id (wb_reading_panel_get_sample (panel)));
  wb_reading_stack_drop (self->stack, panel);
  if (shown && wb_reading_stack_get_shown (self->stack) != NULL)
    {
      wb_reading_panel_set_saving (wb_reading_stack_get_shown (self->stack), WB_SAVE_SAVED, NULL);
      wb_reading_panel_focus_first (wb_reading_stack_get_shown (self->stack));
    }
  follow (self);
}

static void
on_hand_failed_cb (WbBurnPage     *self,
                   WbReadingPanel *panel)
{
  WbReadingPanel *shown = wb_reading_stack_get_shown (self->stack);

  /* Back to what could not be saved, unless the hand is in the middle of another one. */
  if (shown == NULL || shown == panel || !wb_reading_panel_get_touched (shown))
    choose_and_focus (self, wb_reading_panel_get_sample (panel));
  follow (self);
}

static void
on_hazard_answered_cb (WbBurnPage *self,
                       gint64      id,
                       gboolean    out)
{
  WbAppBench *bench = get_bench (self);
  WbAppBenchSample *sample = bench != NULL ? wb_app_bench_find (bench, id) : NULL;

  wb_page_update_actions (WB_PAGE (self));
  if (!out || sample == NULL || !is_alight (sample) || wb_reading_stack_is_saving (self->stack, id))
    return;
  choose (self, sample);
  wb_bench_hand_end (self->hand, wb_reading_stack_get_shown (self->stack), WB_EVENT_SNUFFED);
}

static void
on_choose_cb (GSimpleAction *action,
              GVariant      *parameter,
              gpointer       user)
{
  WbBurnPage *self = user;
  WbAppBenchSample *sample = wb_app_bench_find (get_bench (self), g_variant_get_int64 (parameter));

  if (sample != NULL)
    choose_and_focus (self, sample);
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
  wb_reading_panel_focus_first (panel);
  show_ask (self);
  wb_page_update_actions (WB_PAGE (self));
}

static void
on_light_cb (GSimpleAction *action,
             GVariant      *parameter,
             gpointer       user)
{
  WbBurnPage *self = user;

  wb_bench_hand_light (self->hand, wb_reading_stack_get_shown (self->stack));
}

static void
on_save_cb (GSimpleAction *action,
            GVariant      *parameter,
            gpointer       user)
{
  WbBurnPage *self = user;

  read_panel (self, wb_reading_stack_get_shown (self->stack));
}

static void
end_burn (WbBurnPage *self,
          WbEvent     event)
{
  WbReadingPanel *panel = wb_reading_stack_get_shown (self->stack);

  tell (self, panel);
  wb_bench_hand_end (self->hand, panel, event);
}

static void
on_snuff_cb (GSimpleAction *action,
             GVariant      *parameter,
             gpointer       user)
{
  end_burn (WB_BURN_PAGE (user), WB_EVENT_SNUFFED);
}

static void
on_end_cb (GSimpleAction *action,
           GVariant      *parameter,
           gpointer       user)
{
  int event = wb_words_find (wb_event_words, g_variant_get_string (parameter, NULL));

  if (event == WB_EVENT_SNUFFED || event == WB_EVENT_SELF_EXTINGUISHED || event == WB_EVENT_END_OF_LIFE)
    end_burn (WB_BURN_PAGE (user), (WbEvent) event);
}

static void
on_next_due_cb (GSimpleAction *action,
                GVariant      *parameter,
                gpointer       user)
{
  WbBurnPage *self = user;
  WbAppBenchSample *next = wb_app_bench_get_next_due (get_bench (self));

  if (next != NULL)
    choose_and_focus (self, next);
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
on_set_aside_cb (GSimpleAction *action,
                 GVariant      *parameter,
                 gpointer       user)
{
  WbBurnPage *self = user;

  gtk_window_present (GTK_WINDOW (wb_aside_dialog_new (GTK_WIDGET (self), get_bench (self), get_chosen (self))));
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

  wb_app_bench_acknowledge_found (get_bench (self));
  follow (self);
}

static void
on_resolve_found_cb (GSimpleAction *action,
                     GVariant      *parameter,
                     gpointer       user)
{
  WbBurnPage *self = user;

  gtk_window_present (GTK_WINDOW (wb_found_dialog_new (GTK_WIDGET (self), get_bench (self))));
}

static const GActionEntry actions[] = {
  { "choose", on_choose_cb, "x", "int64 0", NULL },
  { "ask", on_ask_cb, "s", "'round'", NULL },
  { "light", on_light_cb, NULL, NULL, NULL },
  { "save", on_save_cb, NULL, NULL, NULL },
  { "snuff", on_snuff_cb, NULL, NULL, NULL },
  { "end", on_end_cb, "s", NULL, NULL },
  { "next-due", on_next_due_cb, NULL, NULL, NULL },
  { "event", on_part_cb, NULL, NULL, NULL },
  { "note", on_part_cb, NULL, NULL, NULL },
  { "time", on_part_cb, NULL, NULL, NULL },
  { "also", on_also_cb, "s", NULL, NULL },
  { "seen-to", on_seen_to_cb, NULL, NULL, NULL },
  { "set-aside", on_set_aside_cb, NULL, NULL, NULL },
  { "let-count", on_let_count_cb, NULL, NULL, NULL },
  { "cautions", on_cautions_cb, NULL, NULL, NULL },
  { "close-session", on_close_session_cb, NULL, NULL, NULL },
  { "still-alight", on_still_alight_cb, NULL, NULL, NULL },
  { "resolve-found", on_resolve_found_cb, NULL, NULL, NULL },
};

static void
wb_burn_page_update_actions (WbPage *page)
{
  WbBurnPage *self = WB_BURN_PAGE (page);
  WbAppNotebook *notebook = wb_page_get_notebook (page);
  WbAppBench *bench = get_bench (self);
  WbAppBenchSample *sample = get_chosen (self);
  WbReadingPanel *panel = wb_reading_stack_get_shown (self->stack);
  gboolean writable = notebook != NULL && !wb_app_notebook_get_read_only (notebook);
  gboolean ready = writable && sample != NULL && panel != NULL && wb_reading_panel_get_saving (panel) != WB_SAVE_SAVING;
  gboolean lit = sample != NULL && is_alight (sample);
  gboolean lighting = panel != NULL && wb_reading_panel_get_ask (panel) == WB_APP_ASK_LIGHTING;
  gboolean aside = sample != NULL && wb_bench_words_get_mood (sample) == WB_BENCH_MOOD_ASIDE;
  gboolean found = bench != NULL && wb_app_bench_get_found_open (bench) > 0;
  gboolean session = bench != NULL && wb_app_bench_get_session (bench) != NULL;

  wb_page_enable_action (page, "choose", bench != NULL);
  wb_page_enable_action (page, "ask", panel != NULL);
  wb_page_enable_action (page, "light", ready && !lit && lighting && !aside);
  wb_page_enable_action (page, "save", ready && !lighting && wb_reading_panel_get_touched (panel));
  wb_page_enable_action (page, "snuff", ready && lit);
  wb_page_enable_action (page, "end", ready && lit);
  wb_page_enable_action (page, "next-due", bench != NULL && wb_app_bench_get_alight (bench) > 0);
  wb_page_enable_action (page, "event", ready && !lighting);
  wb_page_enable_action (page, "note", ready && !lighting);
  wb_page_enable_action (page, "time", ready);
  wb_page_enable_action (page, "also", ready);
  wb_page_enable_action (page, "seen-to", wb_hazard_bar_get_n_open (self->hazard) > 0);
  wb_page_enable_action (page, "set-aside", writable && sample != NULL && !aside);
  wb_page_enable_action (page, "let-count", writable && aside);
  wb_page_enable_action (page, "close-session", writable && session && wb_app_bench_get_alight (bench) == 0);
  wb_page_enable_action (page, "still-alight", found);
  wb_page_enable_action (page, "resolve-found", writable && found);
}

static void
forget (WbBurnPage *self)
{
  wb_bench_round_take (self->round, NULL, 0);
  wb_bench_view_set (self->view, wb_bench_round_get_alight (self->round), wb_bench_round_get_waiting (self->round), 0);
  wb_reading_stack_clear (self->stack);
  self->chosen = 0;
}

static void
wb_burn_page_open (WbPage *page,
                   WbDesk *desk)
{
  WbBurnPage *self = WB_BURN_PAGE (page);
  const char *person = wb_app_settings_get_person (wb_desk_get_settings (desk));

  WB_PAGE_CLASS (wb_burn_page_parent_class)->open (page, desk);
  self->told = FALSE;
  wb_bench_hand_set_bench (self->hand, wb_desk_get_bench (desk), person);
  wb_reading_stack_set_up (self->stack, uses_us_units (self), person);
  g_signal_group_set_target (self->bench_signals, wb_desk_get_bench (desk));
}

static void
wb_burn_page_close (WbPage *page)
{
  WbBurnPage *self = WB_BURN_PAGE (page);

  g_signal_group_set_target (self->bench_signals, NULL);
  wb_bench_hand_set_bench (self->hand, NULL, NULL);
  forget (self);
  wb_hazard_bar_clear (self->hazard);
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
}

static void
wb_burn_page_reload (WbPage *page)
{
  WbBurnPage *self = WB_BURN_PAGE (page);
  WbDesk *desk = wb_page_get_desk (page);

  if (desk == NULL)
    return;
  wb_reading_stack_set_up (self->stack, uses_us_units (self), wb_app_settings_get_person (wb_desk_get_settings (desk)));
  follow (self);
}

static void
on_leave_answered_cb (gboolean yes,
                      gpointer user)
{
  WbBurnPage *self = user;

  if (!yes)
    return;
  wb_reading_stack_clear (self->stack);
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

static void
wb_burn_page_dispose (GObject *object)
{
  WbBurnPage *self = WB_BURN_PAGE (object);

  g_clear_handle_id (&self->scroll, g_source_remove);
  if (self->hand != NULL)
    g_signal_handlers_disconnect_by_data (self->hand, self);
  g_clear_object (&self->hand);
  g_clear_object (&self->bench_signals);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_BURN_PAGE);
  G_OBJECT_CLASS (wb_burn_page_parent_class)->dispose (object);
}

static void
wb_burn_page_finalize (GObject *object)
{
  wb_bench_round_free (WB_BURN_PAGE (object)->round);
  G_OBJECT_CLASS (wb_burn_page_parent_class)->finalize (object);
}

static void
wb_burn_page_class_init (WbBurnPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  WbPageClass *page_class = WB_PAGE_CLASS (klass);

  g_type_ensure (WB_TYPE_BENCH_BAR);
  g_type_ensure (WB_TYPE_BENCH_VIEW);
  g_type_ensure (WB_TYPE_HAZARD_BAR);
  g_type_ensure (WB_TYPE_READING_STACK);
  G_OBJECT_CLASS (klass)->dispose = wb_burn_page_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_burn_page_finalize;
  page_class->open = wb_burn_page_open;
  page_class->close = wb_burn_page_close;
  page_class->set_experiment = wb_burn_page_set_experiment;
  page_class->reload = wb_burn_page_reload;
  page_class->update_actions = wb_burn_page_update_actions;
  page_class->leave = wb_burn_page_leave;
  page_class->take_focus = wb_burn_page_take_focus;
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "burn-page.ui");
  gtk_widget_class_bind_template_child (widget_class, WbBurnPage, bar);
  gtk_widget_class_bind_template_child (widget_class, WbBurnPage, hazard);
  gtk_widget_class_bind_template_child (widget_class, WbBurnPage, content);
  gtk_widget_class_bind_template_child (widget_class, WbBurnPage, view_scroll);
  gtk_widget_class_bind_template_child (widget_class, WbBurnPage, view);
  gtk_widget_class_bind_template_child (widget_class, WbBurnPage, stack);
  gtk_widget_class_bind_template_callback (widget_class, on_hazard_answered_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_panel_done_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_panel_finished_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_panel_changed_cb);
}

static void
wb_burn_page_init (WbBurnPage *self)
{
  self->round = wb_bench_round_new ();
  gtk_widget_init_template (GTK_WIDGET (self));
  wb_page_add_actions (WB_PAGE (self), actions, G_N_ELEMENTS (actions));
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

WbHazardBar *
wb_burn_page_get_hazard (WbBurnPage *self)
{
  g_return_val_if_fail (WB_IS_BURN_PAGE (self), NULL);
  return self->hazard;
}
