/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-burn-page-private.h"

#include "wb-app-bench-throw.h"
#include "wb-clock.h"
#include "wb-doubt-words.h"
#include "wb-question.h"

#include <glib/gi18n.h>
#include <math.h>

/* What was typed and can hardly be is asked about once, before it is saved; the flame is where it was. */

static void
on_out_answered_cb (gboolean yes,
                    gpointer user)
{
  WbBurnPage *self = user;
  g_autoptr (WbReadingPanel) panel = g_steal_pointer (&self->drowned);

  if (wb_burn_page_get_bench (self) == NULL || panel == NULL
      || wb_reading_stack_find (self->stack, wb_app_bench_sample_get_id (wb_reading_panel_get_sample (panel))) != panel)
    return;
  wb_reading_panel_set_out (panel, yes);
  wb_bench_hand_read (self->hand, panel);
}

/* A flame that drowned is out, or fights on: unsaid, the clock of its burn would run on without a flame. */
static void
ask_out (WbBurnPage     *self,
         WbReadingPanel *panel,
         double          wick)
{
  g_autofree char *heading = isnan (wick) ? g_strdup (_("Is the flame out?")) : g_strdup_printf (_("Is the flame of wick %d out?"), (int) wick);
  g_autofree char *body = g_strdup_printf (_("%s: drowned. If it is out, that it went out by itself is noted with this reading."),
                                           wb_app_bench_sample_get_code (wb_reading_panel_get_sample (panel)));

  g_set_object (&self->drowned, panel);
  wb_question_choose (GTK_WIDGET (self), heading, body, _("It _burns on"), _("It is _out"), on_out_answered_cb, self);
}

static void
read_panel (WbBurnPage     *self,
            WbReadingPanel *panel)
{
  double wick = NAN;

  if (wb_burn_page_is_alight (wb_reading_panel_get_sample (panel)) && wb_reading_panel_get_event (panel, &wick) == WB_EVENT_DROWNED)
    ask_out (self, panel, wick);
  else
    wb_bench_hand_read (self->hand, panel);
}

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
      read_panel (self, panel);
      break;
    case WB_BURN_DEED_END:
    default:
      wb_bench_hand_end (self->hand, panel, event);
      break;
    }
}

static void
go_to_doubt (WbReadingPanel *panel,
             guint           wick,
             WbColumn        column)
{
  GtkWidget *field = column < WB_N_COLUMNS ? wb_reading_panel_get_wick_field (panel, wick, column) : NULL;

  if (field != NULL)
    gtk_widget_grab_focus (field);
  else
    wb_reading_panel_focus_part (panel, "time");
}

/* The new value is right, and the one before it was not: that is amended as soon as the new one is in the file. */
static void
want_amendment (WbBurnPage     *self,
                WbReadingPanel *panel)
{
  self->amend_sample = wb_app_bench_sample_get_id (wb_reading_panel_get_sample (panel));
  self->amend_reading = self->doubted_earlier;
  self->amend_column = self->doubted_column;
}

static void
on_answered_cb (WbQuestionAnswer answer,
                gpointer         user)
{
  WbBurnPage *self = user;
  g_autoptr (WbReadingPanel) panel = g_steal_pointer (&self->doubted);

  if (wb_burn_page_get_bench (self) == NULL || panel == NULL
      || wb_reading_stack_find (self->stack, wb_app_bench_sample_get_id (wb_reading_panel_get_sample (panel))) != panel)
    return;
  self->amend_sample = 0;
  if (answer == WB_QUESTION_NO)
    {
      if (self->doubted_place)
        wb_reading_panel_focus_part (panel, "place");
      else
        go_to_doubt (panel, self->doubted_wick, self->doubted_column);
      return;
    }
  wb_reading_panel_set_sworn (panel, self->doubt);
  if (answer == WB_QUESTION_OTHER)
    want_amendment (self, panel);
  carry_out (self, panel, self->deed, self->event);
}

/* Doubts of all that is typed of the moment, with their words; those of the minute once. first_wick: of the first; 0: the vessel's. */
static GArray *
find_doubts (WbReadingPanel *panel,
             gboolean        us_units,
             GString        *words,
             guint          *first_wick)
{
  g_autoptr (GPtrArray) readings = wb_reading_panel_dup_readings (panel);
  WbAppAsk ask = wb_reading_panel_get_ask (panel);
  GArray *all = g_array_new (FALSE, FALSE, sizeof (WbCraftDoubt));

  for (guint i = 0; i < readings->len; i++)
    {
      const WbReading *typed = g_ptr_array_index (readings, i);
      g_autoptr (GArray) doubts = wb_app_bench_find_doubts (wb_reading_panel_get_sample (panel), ask, typed->values,
                                                            ask == WB_APP_ASK_LIGHTING ? NAN : typed->elapsed_min);
      WbCraftDoubt again;

      if (ask != WB_APP_ASK_LIGHTING && wb_app_bench_find_throw_again (wb_reading_panel_get_sample (panel), typed, &again))
        g_array_append_val (doubts, again);
      for (guint k = 0; k < doubts->len; k++)
        {
          const WbCraftDoubt *doubt = &g_array_index (doubts, WbCraftDoubt, k);
          g_autofree char *said = NULL;

          if (i > 0 && doubt->column == WB_N_COLUMNS)
            continue;
          if (all->len == 0)
            *first_wick = isnan (typed->values[WB_COLUMN_WICK_NUMBER]) ? 0 : (guint) typed->values[WB_COLUMN_WICK_NUMBER];
          said = wb_doubt_words_dup (doubt, us_units);
          if (words->len > 0)
            g_string_append_c (words, '\n');
          if (!isnan (typed->values[WB_COLUMN_WICK_NUMBER]))
            /* Translators: which of several wicks a doubt is about; its words follow. */
            g_string_append_printf (words, _("Wick %d. "), (int) typed->values[WB_COLUMN_WICK_NUMBER]);
          g_string_append (words, said);
          g_array_append_val (all, *doubt);
        }
    }
  return all;
}

static void
on_two_answered_cb (gboolean yes,
                    gpointer user)
{
  on_answered_cb (yes ? WB_QUESTION_YES : WB_QUESTION_NO, user);
}

/* The question goes with the window, and the page with it. */
static void
ask (WbBurnPage *self)
{
  if (self->doubted_earlier != 0)
    wb_question_choose_of_three (GTK_WIDGET (self), _("Is that right?"), self->doubt, _("_Correct it"), _("The _earlier one was wrong…"),
                                 _("_It is so"), on_answered_cb, self);
  else
    wb_question_choose (GTK_WIDGET (self), _("Is that right?"), self->doubt, _("_Correct it"), _("_It is so"), on_two_answered_cb, self);
}

/* More than any bench is long, where the notebook does not say how many places it has. */
#define MOST_PLACES 60

/* Two candles at one place, and one of them is not seen on the bench. Caller frees; NULL: nothing burns there. */
static char *
dup_taken (WbBurnPage     *self,
           WbReadingPanel *panel)
{
  g_autofree char *place = g_strstrip (g_strdup (wb_reading_panel_get_place (panel)));
  const char *other = *place != '\0' ? wb_app_bench_find_at (wb_burn_page_get_bench (self), wb_reading_panel_get_sample (panel), place) : NULL;

  return other != NULL ? g_strdup_printf (_("%s burns at place %s."), other, place) : NULL;
}

/* A slip of a digit puts a candle where no place is, or where another burns. Caller frees; NULL: the place may be. */
static char *
dup_place_doubt (WbBurnPage     *self,
                 WbReadingPanel *panel)
{
  const WbNotebook *settings = wb_app_notebook_get_settings (wb_page_get_notebook (WB_PAGE (self)));
  guint stated = settings != NULL && settings->bench_places >= 1 ? (guint) settings->bench_places : 0;
  guint place = wb_reading_panel_get_place_number (panel);

  if (wb_reading_panel_get_kind (panel) == WB_BURN_THROW)
    return NULL;
  if (place <= (stated > 0 ? stated : MOST_PLACES))
    return dup_taken (self, panel);
  if (stated == 0)
    return g_strdup_printf (_("Place %u: no bench has so many places."), place);
  return g_strdup_printf (ngettext ("Place %u: the notebook says that the bench has %u place.", "Place %u: the notebook says that the bench has %u places.", stated),
                          place, stated);
}

/* Longer ago than anybody notes a lighting after the match; common practice, no source. */
#define LIT_LATELY_S 3600

/* A time of day that is yet to come was taken for yesterday's: said with its day. Caller frees; NULL: it was lit lately. */
static char *
dup_lit_doubt (WbReadingPanel *panel)
{
  WbInstant lit_at = wb_reading_panel_get_time (panel);
  double ago_s = lit_at.known ? (double) (wb_clock_now (wb_clock_get ()).utc_us - lit_at.utc_us) / G_USEC_PER_SEC : 0;
  g_autofree char *when = NULL, *ago = NULL;

  if (ago_s <= LIT_LATELY_S)
    return NULL;
  when = wb_instant_format_short (lit_at);
  ago = wb_quantity_format_duration (round (ago_s / 60) * 60);
  /* Translators: a day with a time, and how long ago that was. */
  return g_strdup_printf (_("Lit on %s, %s ago."), when, ago);
}

static void
add_line (GString    *words,
          const char *line)
{
  if (line != NULL)
    g_string_append_printf (words, words->len > 0 ? "\n%s" : "%s", line);
}

void
wb_burn_page_do (WbBurnPage     *self,
                 WbReadingPanel *panel,
                 WbBurnDeed      deed,
                 WbEvent         event)
{
  g_autoptr (GArray) doubts = NULL;
  g_autoptr (GString) words = g_string_new (NULL);
  g_autofree char *place = deed == WB_BURN_DEED_LIGHT ? dup_place_doubt (self, panel) : NULL;
  g_autofree char *lit = NULL;
  guint wick = 0;

  /* What breaks a rule is said at its field first. */
  if (!wb_reading_panel_check (panel))
    return;
  wb_reading_panel_set_out (panel, FALSE);
  doubts = find_doubts (panel, wb_burn_page_uses_us_units (self), words, &wick);
  lit = deed == WB_BURN_DEED_LIGHT ? dup_lit_doubt (panel) : NULL;
  add_line (words, lit);
  add_line (words, place);
  if (words->len == 0 || g_strcmp0 (words->str, wb_reading_panel_get_sworn (panel)) == 0)
    {
      carry_out (self, panel, deed, event);
      return;
    }
  g_set_object (&self->doubted, panel);
  self->doubted_wick = wick;
  self->doubted_place = doubts->len == 0 && lit == NULL;
  self->doubted_column = doubts->len > 0 ? g_array_index (doubts, WbCraftDoubt, 0).column : WB_N_COLUMNS;
  self->doubted_earlier = doubts->len > 0 ? wb_app_bench_find_earlier (wb_reading_panel_get_sample (panel),
                                                                       &g_array_index (doubts, WbCraftDoubt, 0), wick)
                                          : 0;
  self->deed = deed;
  self->event = event;
  g_free (self->doubt);
  self->doubt = g_strdup (words->str);
  ask (self);
}
