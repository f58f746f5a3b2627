/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-bench-hand.h"

#include "wb-app-stay.h"
#include "wb-bench-check.h"
#include "wb-bench-words.h"
#include "wb-clock.h"
#include "wb-cure.h"
#include "wb-problem.h"
#include "wb-question.h"

#include <glib/gi18n.h>

/* A session is an evening: one that nobody closed is not carried into the next. */
#define LONGEST_SESSION_S (14 * 3600)

struct _WbBenchHand
{
  GObject         parent_instance;

  /* owned */
  WbAppBench     *bench;   /* NULL: none */
  GCancellable   *news;    /* cancelled: nobody is told any more */
  char           *who;

  /* borrowed */
  GtkWidget      *where;
  GtkWidget      *check;   /* weak; the check that is shown */

  /* state */
  WbReadingPanel *wanted;  /* owned; to be lit as soon as the session is open; NULL: none */
  WbReadingPanel *asked;   /* owned; of which it is asked whether to light it against its time; NULL: none */
  WbInstant       checked_at; /* when the check was answered here last; unknown: not yet */
  gulong          session_id;
  gboolean        answered; /* the check that is shown was */
};

G_DEFINE_FINAL_TYPE (WbBenchHand, wb_bench_hand, G_TYPE_OBJECT)

enum { STARTED, SAVED, FAILED, N_SIGNALS };
static guint signals[N_SIGNALS];

/* One save on its way. */
typedef struct
{
  WbBenchHand    *hand;
  GCancellable   *news;
  WbReadingPanel *panel; /* NULL: the session's own */
  const char     *what;  /* what did not work if it fails; translated */
} Deed;

static void
deed_free (Deed *deed)
{
  g_object_unref (deed->hand);
  g_object_unref (deed->news);
  g_clear_object (&deed->panel);
  g_free (deed);
}

G_DEFINE_AUTOPTR_CLEANUP_FUNC (Deed, deed_free)

static Deed *
deed_new (WbBenchHand    *self,
          WbReadingPanel *panel,
          const char     *what)
{
  Deed *deed = g_new0 (Deed, 1);

  deed->hand = g_object_ref (self);
  deed->news = g_object_ref (self->news);
  deed->panel = panel != NULL ? g_object_ref (panel) : NULL;
  deed->what = what;
  return deed;
}

static void
start (WbBenchHand    *self,
       WbReadingPanel *panel,
       gboolean        ends)
{
  wb_reading_panel_set_saving (panel, WB_SAVE_SAVING, NULL);
  g_signal_emit (self, signals[STARTED], 0, panel, ends);
}

static void
fail (WbBenchHand    *self,
      WbReadingPanel *panel,
      const char     *what,
      const GError   *error)
{
  g_autofree char *heading = NULL;
  g_autofree char *detail = NULL;

  wb_problem_show (self->where, what, error);
  if (panel == NULL)
    {
      g_clear_object (&self->wanted);
      return;
    }
  wb_problem_dup_words (NULL, error, &heading, &detail);
  wb_reading_panel_set_saving (panel, WB_SAVE_FAILED, detail);
  g_signal_emit (self, signals[FAILED], 0, panel);
}

static void
on_done_cb (GObject      *source,
            GAsyncResult *result,
            gpointer      user)
{
  g_autoptr (Deed) deed = user;
  g_autoptr (GError) error = NULL;
  gboolean done = wb_app_bench_finish (WB_APP_BENCH (source), result, &error);

  if (g_cancellable_is_cancelled (deed->news))
    return;
  if (!done)
    fail (deed->hand, deed->panel, deed->what, error);
  else if (deed->panel != NULL)
    {
      wb_problem_clear (deed->hand->where, deed->what);
      wb_reading_panel_set_saving (deed->panel, WB_SAVE_SAVED, NULL);
      g_signal_emit (deed->hand, signals[SAVED], 0, deed->panel);
    }
}

static void
light_now (WbBenchHand    *self,
           WbReadingPanel *panel,
           gboolean        override)
{
  g_autoptr (GPtrArray) readings = wb_reading_panel_dup_readings (panel);
  WbReading *first = g_ptr_array_index (readings, 0);

  /* A lighting has one row, of all wicks. */
  wb_reading_panel_get_values (panel, first->values);
  start (self, panel, FALSE);
  wb_app_bench_light_async (self->bench, wb_app_bench_sample_get_id (wb_reading_panel_get_sample (panel)),
                            wb_reading_panel_get_kind (panel), wb_reading_panel_get_trim (panel), wb_reading_panel_get_place (panel),
                            wb_reading_panel_get_time (panel), first, override, NULL, on_done_cb,
                            deed_new (self, panel, _("The lighting was not saved")));
}

static void
on_override_answered_cb (gboolean yes,
                         gpointer user)
{
  WbBenchHand *self = user;
  g_autoptr (WbReadingPanel) panel = g_steal_pointer (&self->asked);

  if (yes && self->bench != NULL && panel != NULL)
    light_now (self, panel, TRUE);
}

/* Why it would wait without that limit, too: it cools, or it is at its end, set aside or kept. Caller frees; "": nothing. */
static char *
dup_also (WbAppBenchSample *sample)
{
  g_autofree char *state = NULL;

  if (wb_app_bench_sample_get_state (sample) != WB_APP_BENCH_ENDED)
    return wb_bench_words_dup_until (sample);
  state = wb_bench_words_dup_state (sample);
  /* Translators: code of a sample, and how it stands: "T5-1: at its end." */
  return g_strdup_printf (_("%s: %s."), wb_app_bench_sample_get_code (sample), state);
}

/* What a limit that was crossed asks of whoever lights the sample again; the flame is where it was. */
static void
ask_crossed (WbBenchHand      *self,
             WbAppBenchSample *sample)
{
  gboolean broken;
  g_autofree char *crossing = wb_app_bench_sample_dup_crossing (sample, &broken);
  g_autofree char *heading = NULL;
  g_autofree char *body = NULL;
  g_autofree char *also = dup_also (sample);

  if (broken)
    {
      heading = g_strdup_printf (_("The vessel of %s cracked"), wb_app_bench_sample_get_code (sample));
      wb_question_tell (self->where, heading, _("It is not lit again. Keep it as evidence. If the crack was noted by mistake, amend that reading first."));
      g_clear_object (&self->asked);
      return;
    }
  heading = g_strdup_printf (_("%s crossed a limit"), wb_app_bench_sample_get_code (sample));
  body = g_strdup_printf (_("Seen: %s.%s%s\n\nIt is not to be lit again. Keep it as evidence; set it aside only for a fault of the tester, such as a wick off centre.\n\n"
                            "If you burn it on all the same, to learn how it ends, somebody stays with it the whole time, "
                            "reads wall and flame every 15 minutes, and snuffs it as soon as it is over the limit again. "
                            "That it was lit all the same stands with the burn and in the report."),
                          crossing, *also != '\0' ? " " : "", also);
  wb_question_ask (self->where, heading, body, _("_Light it all the same"), TRUE, on_override_answered_cb, self);
}

/* Fit to burn is not fit to smell yet. */
static gboolean
is_fit_for (WbAppBenchSample *sample,
            WbBurnKind        kind,
            WbInstant         lit_at)
{
  WbInstant smell_at = wb_app_bench_sample_get_smell_at (sample);

  return wb_app_bench_sample_get_state (sample) == WB_APP_BENCH_FIT && !wb_app_bench_sample_is_early (sample, lit_at)
         && (kind != WB_BURN_THROW || !smell_at.known || smell_at.utc_us <= wb_clock_now (wb_clock_get ()).utc_us);
}

/* "T1: cures until 28 Nov, 18:00", "T1: fit to light from 28 Nov, 18:00", "T1: fit to smell from 5 Dec, 18:00". Caller frees. */
static char *
dup_unfit_heading (WbAppBenchSample *sample,
                   WbInstant         lit_at)
{
  gboolean early = wb_app_bench_sample_is_early (sample, lit_at);
  g_autofree char *when = wb_cure_format_at (early ? wb_app_bench_sample_get_fit_at (sample) : wb_app_bench_sample_get_smell_at (sample));
  g_autofree char *state = early ? g_strdup_printf (_("fit to light from %s"), when)
                           : wb_app_bench_sample_get_state (sample) == WB_APP_BENCH_FIT ? g_strdup_printf (_("fit to smell from %s"), when)
                                                                                        : wb_bench_words_dup_state (sample);

  return g_strdup_printf (_("%s: %s"), wb_app_bench_sample_get_code (sample), state);
}

/* Against its time: a deviation, which is recorded and not forbidden. */
static void
light_or_ask (WbBenchHand    *self,
              WbReadingPanel *panel)
{
  WbAppBenchSample *sample = wb_reading_panel_get_sample (panel);
  WbInstant lit_at = wb_reading_panel_get_time (panel);
  g_autofree char *heading = NULL;

  if (is_fit_for (sample, wb_reading_panel_get_kind (panel), lit_at) || wb_app_bench_sample_get_state (sample) == WB_APP_BENCH_ALIGHT)
    {
      light_now (self, panel, FALSE);
      return;
    }
  g_set_object (&self->asked, panel);
  if (wb_app_bench_sample_get_crossed_burn (sample) > 0 || wb_app_bench_sample_get_cracked_burn (sample) > 0)
    {
      ask_crossed (self, sample);
      return;
    }
  heading = dup_unfit_heading (sample, lit_at);
  /* The question goes with the window, before this hand does. */
  wb_question_ask (self->where, heading, _("Lit all the same, the deviation stands with the burn and in the report."),
                   _("_Light it all the same"), TRUE, on_override_answered_cb, self);
}

/* So long after the check was answered last, it is not that evening any more. */
static gboolean
is_old (WbBenchHand     *self,
        const WbSession *session)
{
  gint64 checked_us = session->opened_at.utc_us;

  if (self->checked_at.known)
    checked_us = MAX (checked_us, self->checked_at.utc_us);
  return wb_clock_now (wb_clock_get ()).utc_us - checked_us >= (gint64) LONGEST_SESSION_S * G_USEC_PER_SEC;
}

/* An old one is used as long as a candle burns in it, which keeps it from being closed; its check is asked anew then. */
static gboolean
is_usable (WbBenchHand     *self,
           const WbSession *session)
{
  if (session == NULL || !session->checked)
    return FALSE;
  return wb_app_bench_get_alight (self->bench) > 0 || !is_old (self, session);
}

/* They said until when, and it is later than that: before another flame somebody says it anew. */
static gboolean
is_stay_over (WbBenchHand *self)
{
  WbSession said = *wb_app_bench_get_session (self->bench);

  /* The time that was named is the next one after it was said, however old the session is. */
  if (self->checked_at.known && self->checked_at.utc_us > said.opened_at.utc_us)
    said.opened_at = self->checked_at;
  return wb_app_stay_is_past (&said, wb_clock_now (wb_clock_get ()));
}

/* Said just now, it is asked no second time, whatever time was said. */
static void
on_stay_said_cb (GObject      *source,
                 GAsyncResult *result,
                 gpointer      user)
{
  g_autoptr (Deed) deed = user;
  g_autoptr (GError) error = NULL;
  g_autoptr (WbReadingPanel) panel = NULL;
  gboolean done = wb_app_bench_finish (WB_APP_BENCH (source), result, &error);

  if (g_cancellable_is_cancelled (deed->news))
    return;
  if (!done)
    {
      fail (deed->hand, NULL, deed->what, error);
      return;
    }
  panel = g_steal_pointer (&deed->hand->wanted);
  if (panel != NULL)
    light_or_ask (deed->hand, panel);
}

static void
on_check_answered_cb (WbBenchHand *self,
                      const char  *place,
                      const char  *staying,
                      gboolean     typed)
{
  self->answered = TRUE;
  /* To light it takes a key of its own. */
  if (typed)
    g_clear_object (&self->wanted);
  if (self->bench == NULL)
    return;
  self->checked_at = wb_clock_now (wb_clock_get ());
  if (wb_app_bench_get_session (self->bench) != NULL)
    wb_app_stay_say_async (self->bench, staying, NULL, on_stay_said_cb,
                           deed_new (self, NULL, _("Who stays with the flames was not saved")));
  else
    wb_app_bench_open_session_async (self->bench, *place != '\0' ? place : NULL, staying, TRUE, NULL, on_done_cb,
                                     deed_new (self, NULL, _("The session was not opened")));
}

/* Closed without an answer, nothing is lit, now or later. */
static void
on_check_destroy_cb (WbBenchHand *self)
{
  if (!self->answered)
    g_clear_object (&self->wanted);
}

static void
ask_check (WbBenchHand *self)
{
  if (self->check != NULL)
    {
      gtk_window_present (GTK_WINDOW (self->check));
      return;
    }
  self->answered = FALSE;
  g_set_weak_pointer (&self->check, wb_bench_check_new (self->where, self->who));
  g_signal_connect_object (self->check, "destroy", G_CALLBACK (on_check_destroy_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->check, "answered", G_CALLBACK (on_check_answered_cb), self, G_CONNECT_SWAPPED);
  gtk_window_present (GTK_WINDOW (self->check));
}

/* Goes the next step towards the flame that is wanted; called again whenever the session opens or closes. */
static void
advance (WbBenchHand *self)
{
  g_autoptr (WbReadingPanel) panel = NULL;

  if (self->wanted == NULL || self->bench == NULL)
    return;
  if (is_usable (self, wb_app_bench_get_session (self->bench)))
    {
      if (is_stay_over (self) || is_old (self, wb_app_bench_get_session (self->bench)))
        {
          ask_check (self);
          return;
        }
      panel = g_steal_pointer (&self->wanted);
      light_or_ask (self, panel);
    }
  else if (wb_app_bench_get_session (self->bench) == NULL)
    ask_check (self);
  else
    wb_bench_hand_close_session (self);
}

static void
on_session_open_cb (WbBenchHand *self)
{
  advance (self);
}

static void
wb_bench_hand_dispose (GObject *object)
{
  WbBenchHand *self = WB_BENCH_HAND (object);

  wb_bench_hand_set_bench (self, NULL, NULL);
  if (self->check != NULL)
    gtk_window_destroy (GTK_WINDOW (self->check));
  g_clear_weak_pointer (&self->check);
  G_OBJECT_CLASS (wb_bench_hand_parent_class)->dispose (object);
}

static void
wb_bench_hand_finalize (GObject *object)
{
  WbBenchHand *self = WB_BENCH_HAND (object);

  g_object_unref (self->news);
  g_free (self->who);
  G_OBJECT_CLASS (wb_bench_hand_parent_class)->finalize (object);
}

static void
wb_bench_hand_class_init (WbBenchHandClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = wb_bench_hand_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_bench_hand_finalize;
  signals[STARTED] = g_signal_new ("started", WB_TYPE_BENCH_HAND, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 2, WB_TYPE_READING_PANEL,
                                   G_TYPE_BOOLEAN);
  signals[SAVED] = g_signal_new ("saved", WB_TYPE_BENCH_HAND, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, WB_TYPE_READING_PANEL);
  signals[FAILED] = g_signal_new ("failed", WB_TYPE_BENCH_HAND, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, WB_TYPE_READING_PANEL);
}

static void
wb_bench_hand_init (WbBenchHand *self)
{
  self->news = g_cancellable_new ();
}

WbBenchHand *
wb_bench_hand_new (GtkWidget *where)
{
  WbBenchHand *self = g_object_new (WB_TYPE_BENCH_HAND, NULL);

  self->where = where;
  return self;
}

void
wb_bench_hand_set_bench (WbBenchHand *self,
                         WbAppBench  *bench,
                         const char  *who)
{
  g_return_if_fail (WB_IS_BENCH_HAND (self));

  g_cancellable_cancel (self->news);
  g_object_unref (self->news);
  self->news = g_cancellable_new ();
  if (self->bench != NULL)
    g_clear_signal_handler (&self->session_id, self->bench);
  g_clear_object (&self->wanted);
  g_clear_object (&self->asked);
  g_clear_pointer (&self->who, g_free);
  g_set_object (&self->bench, bench);
  self->checked_at = WB_INSTANT_NONE;
  if (bench == NULL)
    return;
  self->who = g_strdup (who);
  self->session_id = g_signal_connect_swapped (bench, "notify::session-open", G_CALLBACK (on_session_open_cb), self);
}

void
wb_bench_hand_light (WbBenchHand    *self,
                     WbReadingPanel *panel)
{
  g_return_if_fail (WB_IS_BENCH_HAND (self));
  g_return_if_fail (self->bench != NULL);

  if (!wb_reading_panel_check (panel))
    return;
  g_set_object (&self->wanted, panel);
  advance (self);
}

void
wb_bench_hand_read (WbBenchHand    *self,
                    WbReadingPanel *panel)
{
  g_autoptr (GPtrArray) readings = NULL;
  WbAppBenchSample *sample;
  gint64 id;

  g_return_if_fail (WB_IS_BENCH_HAND (self));
  g_return_if_fail (self->bench != NULL);

  if (!wb_reading_panel_check (panel))
    return;
  readings = wb_reading_panel_dup_readings (panel);
  sample = wb_reading_panel_get_sample (panel);
  id = wb_app_bench_sample_get_id (sample);
  start (self, panel, FALSE);
  if (wb_app_bench_sample_get_state (sample) == WB_APP_BENCH_ALIGHT)
    wb_app_bench_read_all_async (self->bench, id, readings, NULL, on_done_cb,
                                 deed_new (self, panel, _("The reading was not saved")));
  else
    wb_app_bench_read_after_all_async (self->bench, id, readings, NULL, on_done_cb,
                                       deed_new (self, panel, _("The reading was not saved")));
}

void
wb_bench_hand_end (WbBenchHand    *self,
                   WbReadingPanel *panel,
                   WbEvent         event)
{
  g_autoptr (GPtrArray) readings = NULL;

  g_return_if_fail (WB_IS_BENCH_HAND (self));
  g_return_if_fail (self->bench != NULL);

  if (!wb_reading_panel_check (panel))
    return;
  readings = wb_reading_panel_dup_readings (panel);
  start (self, panel, TRUE);
  wb_app_bench_snuff_all_async (self->bench, wb_app_bench_sample_get_id (wb_reading_panel_get_sample (panel)), event, readings,
                                NULL, on_done_cb, deed_new (self, panel, _("The end of the burn was not saved")));
}

void
wb_bench_hand_let_count (WbBenchHand *self,
                         gint64       sample)
{
  g_return_if_fail (WB_IS_BENCH_HAND (self));
  g_return_if_fail (self->bench != NULL);
  wb_app_bench_set_aside_async (self->bench, sample, -1, NULL, NULL, on_done_cb, deed_new (self, NULL, _("The sample was not taken back")));
}

void
wb_bench_hand_close_session (WbBenchHand *self)
{
  g_return_if_fail (WB_IS_BENCH_HAND (self));
  g_return_if_fail (self->bench != NULL);
  wb_app_bench_close_session_async (self->bench, NULL, on_done_cb, deed_new (self, NULL, _("The session was not closed")));
}
