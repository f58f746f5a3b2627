/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-burn-page-private.h"

#include "wb-app-bench-throw.h"

#include <glib/gi18n.h>
#include <math.h>

/* Which sample the hand is at, and where it goes from there. */

WbAppBench *
wb_burn_page_get_bench (WbBurnPage *self)
{
  WbDesk *desk = wb_page_get_desk (WB_PAGE (self));

  return desk != NULL ? wb_desk_get_bench (desk) : NULL;
}

gboolean
wb_burn_page_uses_us_units (WbBurnPage *self)
{
  WbDesk *desk = wb_page_get_desk (WB_PAGE (self));

  return desk != NULL && wb_desk_get_unit (desk, WB_QUANTITY_LENGTH) == WB_UNIT_INCH;
}

/* NULL: none is chosen, or it is gone. Borrowed. */
WbAppBenchSample *
wb_burn_page_get_chosen (WbBurnPage *self)
{
  WbAppBench *bench = wb_burn_page_get_bench (self);

  return bench != NULL && self->chosen != 0 ? wb_app_bench_find (bench, self->chosen) : NULL;
}

gboolean
wb_burn_page_is_alight (WbAppBenchSample *sample)
{
  return wb_app_bench_sample_get_state (sample) == WB_APP_BENCH_ALIGHT;
}

/* What is in the file and not read back counts: it stands alight still when it was snuffed a moment ago. */
static gboolean
is_on_its_way (WbAppBenchSample *sample,
               gpointer          user)
{
  WbBurnPage *self = user;
  gint64 id = wb_app_bench_sample_get_id (sample);

  return wb_reading_stack_is_saving (self->stack, id) || g_hash_table_contains (self->unread, &id);
}

static WbAppBenchSample *
find_glowing_or_alight (WbBurnPage *self)
{
  WbAppBenchSample *glowing = wb_bench_round_next_glowing (self->round, self->chosen, is_on_its_way, self);

  return glowing != NULL ? glowing : wb_bench_round_next_alight (self->round, self->chosen, is_on_its_way, self);
}

/*
 * Where the hand goes after what was asked: lighting goes along the samples that may be lit, weighing along those to be
 * weighed, after the snuffer along those that are not asked yet how long they glowed, all else along the flames. What is
 * on its way to the file is passed over. NULL: nowhere.
 */
WbAppBenchSample *
wb_burn_page_find_next (WbBurnPage *self,
                        WbAppAsk    after)
{
  switch (after)
    {
    case WB_APP_ASK_LIGHTING:
      return wb_bench_round_next_fit (self->round, self->chosen, is_on_its_way, self);
    case WB_APP_ASK_NEXT_DAY:
      return wb_bench_round_next_to_weigh (self->round, self->chosen, is_on_its_way, self);
    case WB_APP_ASK_AFTER_SNUFFING:
      return find_glowing_or_alight (self);
    case WB_APP_ASK_ROUND:
    case WB_APP_ASK_BEFORE_SNUFFING:
    default:
      return wb_bench_round_next_alight (self->round, self->chosen, is_on_its_way, self);
    }
}

WbAppBenchSample *
wb_burn_page_find_due (WbBurnPage *self)
{
  WbAppBenchSample *overdue = wb_bench_round_next_overdue (self->round, self->chosen, is_on_its_way, self);

  /* A round that is read before it is due goes along the flames, and does not turn back to the one that comes due first. */
  return overdue != NULL ? overdue : wb_burn_page_find_next (self, WB_APP_ASK_ROUND);
}

WbAppBenchSample *
wb_burn_page_find_to_snuff (WbBurnPage *self)
{
  return wb_bench_round_next_to_snuff (self->round, self->chosen, is_on_its_way, self);
}

static void
set_state (WbBurnPage *self,
           const char *name,
           GVariant   *state)
{
  GAction *action = g_action_map_lookup_action (G_ACTION_MAP (wb_page_get_actions (WB_PAGE (self))), name);

  g_simple_action_set_state (G_SIMPLE_ACTION (action), state);
}

void
wb_burn_page_show_ask (WbBurnPage *self)
{
  WbReadingPanel *panel = wb_reading_stack_get_shown (self->stack);

  if (panel != NULL)
    set_state (self, "ask", g_variant_new_string (wb_reading_panel_get_ask_name (wb_reading_panel_get_ask (panel))));
}

/* A throw burn's place is its room: the last one is at hand. */
static void
propose_room (WbBurnPage     *self,
              WbReadingPanel *panel)
{
  double distance_m;
  g_autofree char *room = wb_app_bench_dup_last_room (wb_burn_page_get_bench (self), &distance_m);

  wb_reading_panel_propose_place (panel, room != NULL ? room : "");
  wb_reading_panel_propose_distance (panel, distance_m);
}

guint
wb_burn_page_get_stated_columns (WbBurnPage *self,
                                 guint      *places)
{
  const WbNotebook *settings = wb_app_notebook_get_settings (wb_page_get_notebook (WB_PAGE (self)));

  *places = 0;
  if (settings == NULL || !(settings->bench_places >= 1 && settings->bench_columns >= 1))
    return 0;
  *places = (guint) settings->bench_places;
  return (guint) settings->bench_columns;
}

/* Shuffled where the maker says how the bench stands, row by row; else the next free one in the order of lighting. */
static guint
find_place (WbBurnPage       *self,
            WbAppBenchSample *sample)
{
  WbAppBench *bench = wb_burn_page_get_bench (self);
  guint places;

  if (bench == NULL || wb_burn_page_get_stated_columns (self, &places) == 0 || wb_burn_page_is_alight (sample))
    return wb_bench_view_get_free_place (self->view);
  return wb_app_bench_propose_place (bench, sample, places);
}

void
wb_burn_page_propose_place (WbBurnPage *self)
{
  WbReadingPanel *panel = wb_reading_stack_get_shown (self->stack);
  g_autofree char *place = panel != NULL ? g_strdup_printf ("%u", find_place (self, wb_reading_panel_get_sample (panel))) : NULL;

  if (panel != NULL && wb_reading_panel_get_kind (panel) == WB_BURN_THROW)
    propose_room (self, panel);
  else if (panel != NULL)
    wb_reading_panel_propose_place (panel, place);
}

/* What the person says of it, before what the program knows. NULL: nothing is to be said. Caller frees. */
static char *
dup_throw_words (WbBurnPage     *self,
                 WbReadingPanel *panel)
{
  WbAppBench *bench = wb_burn_page_get_bench (self);
  WbAppBenchSample *sample = wb_reading_panel_get_sample (panel);
  double values[WB_N_COLUMNS];
  char *unscored;

  if (wb_reading_panel_get_ask (panel) == WB_APP_ASK_LIGHTING)
    return wb_app_bench_dup_throw_deviation (bench, sample, wb_reading_panel_get_kind (panel), wb_reading_panel_get_place (panel));
  if (!wb_burn_page_is_alight (sample) || !wb_reading_panel_asks_throw (panel))
    return NULL;
  wb_reading_panel_get_values (panel, values);
  if (wb_app_bench_sample_get_burn (sample)->kind == WB_BURN_THROW && !isnan (values[WB_COLUMN_ALONE]))
    return g_strdup (values[WB_COLUMN_ALONE] == 1 ? _("You say that it burns alone: the rating is scored.")
                                                  : _("You say that it does not burn alone: the rating stays a note and is not scored."));
  unscored = wb_app_bench_dup_unscored (bench, sample);
  return unscored != NULL ? unscored : g_strdup (_("No other scented candle burns there: the rating is scored."));
}

void
wb_burn_page_tell_throw (WbBurnPage *self)
{
  WbReadingPanel *panel = wb_reading_stack_get_shown (self->stack);
  g_autofree char *words = panel != NULL && wb_burn_page_get_bench (self) != NULL ? dup_throw_words (self, panel) : NULL;

  if (panel != NULL)
    wb_reading_panel_set_throw_words (panel, words);
}

#define LAYOUT_MS 60

/* The chosen one is seen, wherever the keyboard is, and the field that has it; once what is new has its place. */
static gboolean
on_scroll_cb (gpointer user)
{
  WbBurnPage *self = user;
  WbBenchSpot *spot = wb_bench_view_find (self->view, self->chosen);
  GtkAdjustment *adjustment = gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (self->view_scroll));
  GtkAdjustment *across = gtk_scrolled_window_get_hadjustment (GTK_SCROLLED_WINDOW (self->view_scroll));
  graphene_rect_t bounds;

  if (wb_bench_view_set_room (self->view, (int) gtk_adjustment_get_page_size (across), (int) gtk_adjustment_get_page_size (adjustment)))
    {
      /* Places have moved: once more, in some frames, when they have been laid out. */
      self->scroll = g_timeout_add (LAYOUT_MS, on_scroll_cb, self);
      return G_SOURCE_REMOVE;
    }
  if (spot != NULL && gtk_widget_compute_bounds (GTK_WIDGET (spot), GTK_WIDGET (self->view), &bounds) && bounds.size.height > 0)
    gtk_adjustment_clamp_page (adjustment, bounds.origin.y, bounds.origin.y + bounds.size.height);
  /* A panel that is given on keeps where it was scrolled to for the sample before. */
  if (wb_reading_stack_get_shown (self->stack) != NULL)
    wb_reading_panel_show_focus (wb_reading_stack_get_shown (self->stack));
  self->scroll = 0;
  return G_SOURCE_REMOVE;
}

void
wb_burn_page_scroll_later (WbBurnPage *self)
{
  if (self->scroll == 0)
    self->scroll = g_idle_add_full (GDK_PRIORITY_REDRAW + 10, on_scroll_cb, self, NULL);
}

/* So many can be noted again by a digit. */
#define QUICK_NOTES 5

void
wb_burn_page_give_notes (WbBurnPage *self)
{
  g_auto (GStrv) notes = wb_app_bench_dup_last_notes (wb_burn_page_get_bench (self), QUICK_NOTES);

  wb_reading_panel_set_quick_notes (wb_reading_stack_get_shown (self->stack), (const char *const *) notes);
}

void
wb_burn_page_give_evening (WbBurnPage *self)
{
  WbReadingPanel *panel = wb_reading_stack_get_shown (self->stack);
  WbAppBenchClimate room;

  if (panel == NULL || wb_burn_page_get_bench (self) == NULL)
    return;
  wb_app_bench_get_climate (wb_burn_page_get_bench (self), &room);
  wb_reading_panel_set_evening (panel, room.last_c, room.last_draught);
}

void
wb_burn_page_choose (WbBurnPage       *self,
                     WbAppBenchSample *sample)
{
  self->chosen = sample != NULL ? wb_app_bench_sample_get_id (sample) : 0;
  if (self->held != self->chosen)
    self->held = 0;
  set_state (self, "choose", g_variant_new_int64 (self->chosen));
  wb_bench_view_set_chosen (self->view, self->chosen);
  wb_reading_stack_show (self->stack, sample);
  if (sample != NULL)
    {
      wb_burn_page_give_notes (self);
      wb_burn_page_give_evening (self);
    }
  wb_reading_log_show (self->log, wb_page_get_notebook (WB_PAGE (self)), sample, wb_burn_page_uses_us_units (self));
  wb_photo_strip_show (self->photos, wb_page_get_notebook (WB_PAGE (self)), sample);
  wb_logger_strip_show (self->loggers, wb_page_get_notebook (WB_PAGE (self)), sample, wb_burn_page_uses_us_units (self));
  wb_check_strip_show (self->checks, wb_page_get_notebook (WB_PAGE (self)), sample, wb_burn_page_uses_us_units (self));
  wb_burn_page_propose_place (self);
  wb_burn_page_tell_throw (self);
  wb_burn_page_show_ask (self);
  wb_burn_page_scroll_later (self);
  wb_page_update_actions (WB_PAGE (self));
}

void
wb_burn_page_choose_and_focus (WbBurnPage       *self,
                               WbAppBenchSample *sample)
{
  wb_burn_page_choose (self, sample);
  wb_page_turn_to (WB_PAGE (self), wb_app_bench_sample_get_experiment (sample));
  if (wb_reading_stack_get_shown (self->stack) != NULL)
    wb_reading_panel_focus_first (wb_reading_stack_get_shown (self->stack));
}

void
wb_burn_page_choose_to_light (WbBurnPage       *self,
                              WbAppBenchSample *sample)
{
  WbReadingPanel *panel;

  wb_burn_page_choose (self, sample);
  wb_page_turn_to (WB_PAGE (self), wb_app_bench_sample_get_experiment (sample));
  panel = wb_reading_stack_get_shown (self->stack);
  if (!wb_burn_page_is_alight (sample) && !wb_reading_panel_get_touched (panel) && wb_reading_panel_get_ask (panel) != WB_APP_ASK_LIGHTING)
    {
      wb_reading_panel_set_ask (panel, WB_APP_ASK_LIGHTING);
      wb_burn_page_propose_place (self);
      wb_burn_page_tell_throw (self);
      wb_burn_page_show_ask (self);
      wb_page_update_actions (WB_PAGE (self));
    }
  wb_reading_panel_focus_first (panel);
}

/* Without a choice, or when the chosen one is gone. */
void
wb_burn_page_ensure_choice (WbBurnPage *self)
{
  WbAppBenchSample *sample = wb_burn_page_get_chosen (self);

  if (sample != NULL && wb_bench_round_has (self->round, sample))
    return;
  self->chosen = 0;
  wb_burn_page_choose (self, wb_bench_round_first (self->round, wb_page_get_experiment (WB_PAGE (self)), is_on_its_way, self));
}
