/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-today.h"

#include "wb-app-bench-private.h"
#include "wb-app-due-private.h"
#include "wb-app-items-private.h"
#include "wb-app-open-pours.h"
#include "wb-clock.h"
#include "wb-craft-decision.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* A reading is shown from this long before it is due: time to walk to the bench. */
#define AHEAD_S (10 * 60)

struct _WbAppToday
{
  GObject           parent_instance;

  WbAppBench       *bench;
  WbAppExperiments *experiments;
  WbAppTouchedList *touched;
  WbAppRetained    *retained;
  WbAppOpenPours   *pours;
  WbAppDraft       *materials, *pour, *decision; /* half typed */
  GPtrArray        *items;  /* WbAppDue */
};

static GType
get_item_type (GListModel *model)
{
  return WB_TYPE_APP_DUE;
}

static guint
get_n_items (GListModel *model)
{
  return WB_APP_TODAY (model)->items->len;
}

static gpointer
get_item (GListModel *model,
          guint       position)
{
  WbAppToday *self = WB_APP_TODAY (model);

  return position < self->items->len ? g_object_ref (g_ptr_array_index (self->items, position)) : NULL;
}

static void
list_model_init (GListModelInterface *iface)
{
  iface->get_item_type = get_item_type;
  iface->get_n_items = get_n_items;
  iface->get_item = get_item;
}

G_DEFINE_FINAL_TYPE_WITH_CODE (WbAppToday, wb_app_today, G_TYPE_OBJECT,
                               G_IMPLEMENT_INTERFACE (G_TYPE_LIST_MODEL, list_model_init))

static WbInstant
in_seconds (gint64 seconds)
{
  return wb_clock_at (wb_clock_get (), wb_clock_now (wb_clock_get ()).utc_us + seconds * G_USEC_PER_SEC);
}

/* When the burn reached the protocol's length. */
static WbInstant
stop_at (WbAppBenchSample *sample)
{
  WbInstant at = wb_app_bench_sample_get_lit_at (sample);

  at.utc_us += (gint64) (wb_app_bench_sample_get_protocol (sample)->burn_s * G_USEC_PER_SEC);
  return at;
}

static void
add_alight (GPtrArray        *due,
            WbAppBenchSample *sample)
{
  const char *code = wb_app_bench_sample_get_code (sample);
  gint64 experiment = wb_app_bench_sample_get_experiment (sample), id = wb_app_bench_sample_get_id (sample);
  gint64 due_in_s = wb_app_bench_sample_get_due_in_s (sample);

  if (wb_app_bench_sample_get_stop_due (sample))
    g_ptr_array_add (due, wb_app_due_new (WB_APP_DUE_SNUFF, g_strdup_printf (_("Read and snuff %s"), code),
                                          g_strdup (wb_app_bench_sample_get_title (sample)), experiment, id, stop_at (sample), TRUE));
  else if (due_in_s <= AHEAD_S)
    {
      /* The moment is told to the minute: a list that changed with every second could not be read. */
      WbInstant at = in_seconds (due_in_s);

      at.utc_us -= at.utc_us % (60 * G_USEC_PER_SEC);
      g_ptr_array_add (due, wb_app_due_new (WB_APP_DUE_READING, g_strdup_printf (_("Read %s"), code),
                                            g_strdup (wb_app_bench_sample_get_title (sample)), experiment, id, at, due_in_s <= 0));
    }
}

static void
add_weighing (GPtrArray        *due,
              WbAppBenchSample *sample)
{
  const WbBurn *burn = wb_app_bench_sample_get_burn (sample);
  g_autofree char *again = NULL;
  char *detail;

  if (!wb_app_bench_sample_is_to_weigh (sample))
    return;
  /* Set is not cooled: what may be weighed may still not be lit. */
  if (wb_app_bench_sample_get_state (sample) == WB_APP_BENCH_COOLING)
    {
      again = wb_instant_format_time (wb_app_bench_sample_get_fit_at (sample));
      detail = g_strdup_printf (_("Its wax has set since burn %d; it cools on and may be lit again from %s"), (int) burn->number, again);
    }
  else
    detail = g_strdup_printf (_("Its wax has set since burn %d"), (int) burn->number);
  g_ptr_array_add (due, wb_app_due_new (WB_APP_DUE_WEIGH,
                                        g_strdup_printf (_("Weigh %s"), wb_app_bench_sample_get_code (sample)),
                                        detail,
                                        wb_app_bench_sample_get_experiment (sample), wb_app_bench_sample_get_id (sample),
                                        WB_INSTANT_NONE, FALSE));
}

/* How many of an experiment's samples may be lit, and which wait until when. */
typedef struct
{
  gint64      experiment;
  const char *code;
  guint       fit;
  guint       curing, cooling, crossed, cracked; /* cracked: of those that crossed */
  gboolean    put_away;            /* it came in from a file, and its burns are long past */
  gboolean    no_cure;             /* one was never lit, and its wax states no cure */
  WbAppBenchSample *first_crossed; /* borrowed */
  gint64      first_fit, first_cooled, first_cured; /* samples, in the bench's order, then by time; 0: none */
  WbInstant   cured_at, cooled_at; /* of the first */
} Waiting;

static Waiting *
find_waiting (GArray           *all,
              WbAppBenchSample *sample)
{
  Waiting fresh = {
    .experiment = wb_app_bench_sample_get_experiment (sample),
    .code = wb_app_bench_sample_get_data (sample)->experiment->code,
    .cured_at = WB_INSTANT_NONE,
    .cooled_at = WB_INSTANT_NONE,
  };

  /* the list goes along the experiments: mostly it is the one before */
  for (guint i = all->len; i > 0; i--)
    if (g_array_index (all, Waiting, i - 1).experiment == fresh.experiment)
      return &g_array_index (all, Waiting, i - 1);
  fresh.put_away = wb_app_bench_load_is_put_away (wb_app_bench_sample_get_load (sample), wb_clock_now (wb_clock_get ()));
  g_array_append_val (all, fresh);
  return &g_array_index (all, Waiting, all->len - 1);
}

static void
take_earlier (WbInstant        *into,
              gint64           *first,
              WbAppBenchSample *sample)
{
  WbInstant instant = wb_app_bench_sample_get_fit_at (sample);

  if (into->known && instant.utc_us >= into->utc_us)
    return;
  *into = instant;
  *first = wb_app_bench_sample_get_id (sample);
}

static void
count_waiting (GArray           *all,
               WbAppBenchSample *sample)
{
  Waiting *waiting = find_waiting (all, sample);

  switch (wb_app_bench_sample_get_state (sample))
    {
    case WB_APP_BENCH_FIT:
      /* Its own page lights it all the same. */
      if (waiting->put_away || wb_app_bench_sample_get_waits_for_cohort (sample) > 0)
        break;
      if (waiting->fit++ == 0)
        waiting->first_fit = wb_app_bench_sample_get_id (sample);
      waiting->no_cure |= wb_app_bench_sample_get_burn (sample) == NULL && !wb_app_bench_sample_states_cure (sample);
      break;
    case WB_APP_BENCH_CROSSED:
      if (waiting->crossed++ == 0)
        waiting->first_crossed = sample;
      waiting->cracked += wb_app_bench_sample_get_cracked_burn (sample) > 0;
      break;
    case WB_APP_BENCH_CURING:
      waiting->curing++;
      take_earlier (&waiting->cured_at, &waiting->first_cured, sample);
      break;
    case WB_APP_BENCH_COOLING:
      waiting->cooling++;
      take_earlier (&waiting->cooled_at, &waiting->first_cooled, sample);
      break;
    default:
      break;
    }
}

/* "T5-1 crossed a limit" with which; of several how many, with the first. */
static WbAppDue *
crossed_new (const Waiting *waiting)
{
  g_autofree char *crossing = wb_app_bench_sample_dup_crossing (waiting->first_crossed, NULL);
  const char *code = wb_app_bench_sample_get_code (waiting->first_crossed);
  char *title, *detail;

  if (waiting->crossed == 1)
    {
      title = g_strdup_printf (waiting->cracked > 0 ? _("The vessel of %s cracked: not to be lit again")
                                                    : _("%s crossed a limit: not to be lit again"), code);
      detail = g_steal_pointer (&crossing);
    }
  else
    {
      title = g_strdup_printf (waiting->cracked > 0
                                 ? g_dngettext (GETTEXT_PACKAGE, "%u sample of %s crossed a limit or cracked: not to be lit again",
                                                "%u samples of %s crossed a limit or cracked: not to be lit again", waiting->crossed)
                                 : g_dngettext (GETTEXT_PACKAGE, "%u sample of %s crossed a limit: not to be lit again",
                                                "%u samples of %s crossed a limit: not to be lit again", waiting->crossed),
                               waiting->crossed, waiting->code);
      detail = g_strdup_printf ("%s: %s", code, crossing);
    }
  return wb_app_due_new (WB_APP_DUE_CROSSED, title, detail, waiting->experiment,
                         wb_app_bench_sample_get_id (waiting->first_crossed), WB_INSTANT_NONE, TRUE);
}

static void
add_waiting (GPtrArray     *due,
             const Waiting *waiting)
{
  if (waiting->crossed > 0)
    g_ptr_array_add (due, crossed_new (waiting));
  if (waiting->fit > 0)
    g_ptr_array_add (due, wb_app_due_new (WB_APP_DUE_LIGHT,
                                          g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u sample of %s may be lit", "%u samples of %s may be lit", waiting->fit),
                                                           waiting->fit, waiting->code),
                                          g_strdup (waiting->no_cure ? _("Fit to light; its wax states no cure") : _("Cured and cooled: fit to light")),
                                          waiting->experiment, waiting->first_fit, WB_INSTANT_NONE, FALSE));
  else if (waiting->cooling > 0)
    g_ptr_array_add (due, wb_app_due_new (WB_APP_DUE_LIGHT,
                                          g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u sample of %s cools", "%u samples of %s cool", waiting->cooling),
                                                           waiting->cooling, waiting->code),
                                          g_strdup (_("Relighting is allowed when the first has cooled")), waiting->experiment, waiting->first_cooled, waiting->cooled_at, FALSE));
  if (waiting->curing > 0)
    g_ptr_array_add (due, wb_app_due_new (WB_APP_DUE_CURE,
                                          g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u sample of %s cures", "%u samples of %s cure", waiting->curing),
                                                           waiting->curing, waiting->code),
                                          g_strdup (_("The first is fit to burn when its cure ends")), waiting->experiment, waiting->first_cured, waiting->cured_at, FALSE));
}

static char *
dup_undecided (const WbDataset *data)
{
  guint n, left = wb_craft_decision_count_undecided (data, &n);

  if (left == n)
    return g_strdup (_("Every sample is burnt to its end or set aside"));
  /* Translators: how many vessels with their scents are not decided, of how many. */
  return g_strdup_printf (_("Every sample is burnt to its end or set aside; vessels and scents not signed yet: %u of %u"), left, n);
}

static void
add_bench (WbAppToday *self,
           GPtrArray  *due)
{
  g_autoptr (GArray) waiting = g_array_new (FALSE, FALSE, sizeof (Waiting));
  g_autoptr (GPtrArray) undecided = wb_app_bench_list_undecided (self->bench);

  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (self->bench)); i++)
    {
      g_autoptr (WbAppBenchSample) sample = g_list_model_get_item (G_LIST_MODEL (self->bench), i);

      if (wb_app_bench_sample_get_state (sample) == WB_APP_BENCH_ALIGHT)
        add_alight (due, sample);
      else
        {
          add_weighing (due, sample);
          count_waiting (waiting, sample);
        }
    }
  for (guint i = 0; i < waiting->len; i++)
    add_waiting (due, &g_array_index (waiting, Waiting, i));
  for (guint i = 0; i < undecided->len; i++)
    {
      const WbAppBenchLoad *load = g_ptr_array_index (undecided, i);

      g_ptr_array_add (due, wb_app_due_new (WB_APP_DUE_DECIDE, g_strdup_printf (_("Decide %s"), load->data->experiment->code),
                                            dup_undecided (load->data), load->id, 0, WB_INSTANT_NONE, FALSE));
    }
}

static void
add_pours (WbAppToday *self,
           GPtrArray  *due)
{
  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (self->experiments)); i++)
    {
      g_autoptr (WbAppExperiment) experiment = g_list_model_get_item (G_LIST_MODEL (self->experiments), i);
      guint samples = wb_app_experiment_get_samples (experiment), poured = wb_app_experiment_get_poured (experiment);

      if (samples == poured || wb_app_experiment_get_record (experiment)->imported
          || wb_app_experiment_get_state (experiment) == WB_CRAFT_STATE_FINISHED)
        continue;
      g_ptr_array_add (due, wb_app_due_new (WB_APP_DUE_POUR,
                                            g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "Pour %u sample of %s", "Pour %u samples of %s", samples - poured),
                                                             samples - poured, wb_app_experiment_get_code (experiment)),
                                            g_strdup (wb_app_experiment_get_title (experiment)),
                                            wb_app_experiment_get_id (experiment), 0, WB_INSTANT_NONE, FALSE));
    }
}

static WbAppExperiment *
find_experiment (WbAppToday *self,
                 gint64      id)
{
  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (self->experiments)); i++)
    {
      g_autoptr (WbAppExperiment) experiment = g_list_model_get_item (G_LIST_MODEL (self->experiments), i);

      /* the list holds it */
      if (wb_app_experiment_get_id (experiment) == id)
        return experiment;
    }
  return NULL;
}

static const WbCraftTouched *
find_open (const WbAppTouched *touched)
{
  for (guint i = 0; i < touched->changes->len; i++)
    {
      const WbCraftTouched *change = g_ptr_array_index (touched->changes, i);

      if (change->state == WB_CRAFT_TOUCHED_OPEN)
        return change;
    }
  return NULL;
}

/* A line a decision: what changed and is not answered yet, else that its test is finished. */
static void
add_touched (WbAppToday *self,
             GPtrArray  *due)
{
  const GPtrArray *all = wb_app_touched_list_get (self->touched);

  for (guint i = 0; i < all->len; i++)
    {
      const WbAppTouched *touched = g_ptr_array_index (all, i);
      const WbCraftTouched *open = find_open (touched);
      WbAppExperiment *test = find_experiment (self, wb_app_touched_get_test (touched));
      WbAppDue *item;

      if (open != NULL)
        item = wb_app_due_new (WB_APP_DUE_TOUCHED,
                               touched->open == 1 ? g_strdup (open->what)
                                                  : g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s, and %u more change", "%s, and %u more changes", touched->open - 1),
                                                                     open->what, touched->open - 1),
                               touched->lots != NULL ? g_strdup_printf (_("The decision for %s rests on %s"), touched->experiment_code, touched->lots)
                                                     : g_strdup_printf (_("The decision for %s was signed before"), touched->experiment_code),
                               touched->experiment, 0, WB_INSTANT_NONE, TRUE);
      else if (test != NULL && wb_app_experiment_get_state (test) == WB_CRAFT_STATE_FINISHED)
        item = wb_app_due_new (WB_APP_DUE_TOUCHED,
                               g_strdup_printf (_("The confirmation test %s is finished"), wb_app_experiment_get_code (test)),
                               g_strdup_printf (_("Look at it, and sign the decision for %s anew"), touched->experiment_code),
                               wb_app_experiment_get_id (test), 0, WB_INSTANT_NONE, FALSE);
      else
        continue;
      wb_app_due_set_decision (item, touched->decision);
      g_ptr_array_add (due, item);
    }
}

static void
add_references (WbAppToday *self,
                GPtrArray  *due)
{
  const GPtrArray *all = wb_app_retained_get (self->retained);
  WbDay today = wb_instant_get_day (wb_clock_now (wb_clock_get ()));

  for (guint i = 0; i < all->len; i++)
    {
      const WbSample *sample = g_ptr_array_index (all, i);
      g_autofree char *day = NULL;

      if (sample->keep_until == WB_DAY_NONE || sample->keep_until >= today)
        continue;
      day = wb_day_format_local (sample->keep_until);
      g_ptr_array_add (due, wb_app_due_new (WB_APP_DUE_REFERENCE, g_strdup_printf (_("The reference %s was to be kept until %s"), sample->code, day),
                                            sample->place != NULL ? g_strdup_printf (_("Throw it out, or keep it longer: %s"), sample->place)
                                                                  : g_strdup (_("Throw it out, or keep it longer")),
                                            sample->experiment, sample->record.id, WB_INSTANT_NONE, FALSE));
    }
}

/* What says the same as before stays the same object. */
static void
keep_equal (GPtrArray *fresh,
            GPtrArray *old)
{
  for (guint i = 0; i < fresh->len; i++)
    for (guint k = 0; k < old->len; k++)
      if (wb_app_due_equal (g_ptr_array_index (fresh, i), g_ptr_array_index (old, k)))
        {
          g_object_unref (g_ptr_array_index (fresh, i));
          g_ptr_array_index (fresh, i) = g_object_ref (g_ptr_array_index (old, k));
          break;
        }
}

static void
gather (WbAppToday *self)
{
  GPtrArray *fresh = g_ptr_array_new_with_free_func (g_object_unref);

  add_bench (self, fresh);
  add_pours (self, fresh);
  add_touched (self, fresh);
  add_references (self, fresh);
  wb_app_due_add_steps (fresh, wb_app_open_pours_get (self->pours), G_LIST_MODEL (self->experiments));
  wb_app_due_add_drafts (fresh, self->materials, self->pour, self->decision, G_LIST_MODEL (self->experiments));
  g_ptr_array_sort (fresh, wb_app_due_order);
  keep_equal (fresh, self->items);
  wb_app_items_replace (G_LIST_MODEL (self), &self->items, fresh);
}

static void
on_bench_tick_cb (WbAppToday *self)
{
  gather (self);
}

static void
on_experiments_changed_cb (WbAppToday *self)
{
  gather (self);
}

static void
on_retained_changed_cb (WbAppToday *self)
{
  gather (self);
}

static void
on_touched_changed_cb (WbAppToday *self)
{
  gather (self);
}

static void
on_pours_changed_cb (WbAppToday *self)
{
  gather (self);
}

static void
on_draft_changed_cb (WbAppToday *self)
{
  gather (self);
}

static WbAppDraft *
follow_draft (WbAppToday *self,
              const char *kind)
{
  WbAppDraft *draft = g_object_ref (wb_app_draft_of (wb_app_bench_get_notebook (self->bench), kind));

  g_signal_connect_object (draft, "loaded", G_CALLBACK (on_draft_changed_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (draft, "changed", G_CALLBACK (on_draft_changed_cb), self, G_CONNECT_SWAPPED);
  return draft;
}

static void
wb_app_today_finalize (GObject *object)
{
  WbAppToday *self = WB_APP_TODAY (object);

  g_clear_object (&self->touched);
  g_clear_object (&self->retained);
  g_clear_object (&self->pours);
  g_clear_object (&self->materials);
  g_clear_object (&self->pour);
  g_clear_object (&self->decision);
  g_clear_object (&self->bench);
  g_clear_object (&self->experiments);
  g_ptr_array_unref (self->items);
  G_OBJECT_CLASS (wb_app_today_parent_class)->finalize (object);
}

static void
wb_app_today_class_init (WbAppTodayClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = wb_app_today_finalize;
}

static void
wb_app_today_init (WbAppToday *self)
{
  self->items = g_ptr_array_new_with_free_func (g_object_unref);
}

WbAppToday *
wb_app_today_new (WbAppBench       *bench,
                  WbAppExperiments *experiments)
{
  WbAppToday *self = g_object_new (WB_TYPE_APP_TODAY, NULL);

  self->bench = g_object_ref (bench);
  self->experiments = g_object_ref (experiments);
  self->touched = wb_app_touched_list_new (wb_app_bench_get_notebook (bench));
  self->retained = wb_app_retained_new (wb_app_bench_get_notebook (bench));
  self->pours = wb_app_open_pours_new (wb_app_bench_get_notebook (bench));
  g_signal_connect_object (self->pours, "changed", G_CALLBACK (on_pours_changed_cb), self, G_CONNECT_SWAPPED);
  self->materials = follow_draft (self, "materials");
  self->pour = follow_draft (self, "pour");
  self->decision = follow_draft (self, "decision");
  g_signal_connect_object (self->retained, "changed", G_CALLBACK (on_retained_changed_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->touched, "changed", G_CALLBACK (on_touched_changed_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (bench, "tick", G_CALLBACK (on_bench_tick_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (experiments, "items-changed", G_CALLBACK (on_experiments_changed_cb), self, G_CONNECT_SWAPPED);
  gather (self);
  return self;
}

WbAppTouchedList *
wb_app_today_get_touched (WbAppToday *self)
{
  g_return_val_if_fail (WB_IS_APP_TODAY (self), NULL);
  return self->touched;
}

WbAppRetained *
wb_app_today_get_retained (WbAppToday *self)
{
  g_return_val_if_fail (WB_IS_APP_TODAY (self), NULL);
  return self->retained;
}
