/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-reading-stack.h"

#include "wb-app-bench-draft.h"

#include <glib/gi18n.h>

struct _WbReadingStack
{
  GtkWidget       parent_instance;

  /* children */
  GtkWidget      *stack;
  GtkWidget      *empty;

  /* owned */
  GHashTable     *panels;   /* id (gint64 *) -> WbReadingPanel, children of the stack */
  GPtrArray      *spare;    /* panels that nobody's reading is in, children of the stack; borrowed */
  GHashTable     *failed;   /* set of ids */
  char           *rater;
  char           *instrument;
  char           *instrument_place;

  /* state */
  WbReadingPanel *shown;    /* borrowed */
  guint           stocking; /* source that makes the first spare panel; 0: none */
  gboolean        us_units;
};

/* One is on its way to the file while the next is typed; and one more for a hand that goes back and forth. */
#define MOST_SPARE 2

G_DEFINE_FINAL_TYPE (WbReadingStack, wb_reading_stack, GTK_TYPE_WIDGET)

enum { DONE, FINISHED, CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

static void
on_panel_done_cb (WbReadingStack *self,
                  WbReadingPanel *panel)
{
  g_signal_emit (self, signals[DONE], 0, panel);
}

static void
on_panel_finished_cb (WbReadingStack *self,
                      WbReadingPanel *panel)
{
  g_signal_emit (self, signals[FINISHED], 0, panel);
}

static void
on_panel_changed_cb (WbReadingStack *self,
                     WbReadingPanel *panel)
{
  g_signal_emit (self, signals[CHANGED], 0, panel);
}

static void
wb_reading_stack_dispose (GObject *object)
{
  WbReadingStack *self = WB_READING_STACK (object);

  self->shown = NULL;
  g_clear_handle_id (&self->stocking, g_source_remove);
  g_hash_table_remove_all (self->panels);
  g_ptr_array_set_size (self->spare, 0);
  g_clear_pointer (&self->stack, gtk_widget_unparent);
  G_OBJECT_CLASS (wb_reading_stack_parent_class)->dispose (object);
}

static void
wb_reading_stack_finalize (GObject *object)
{
  WbReadingStack *self = WB_READING_STACK (object);

  g_hash_table_unref (self->panels);
  g_ptr_array_unref (self->spare);
  g_hash_table_unref (self->failed);
  g_free (self->rater);
  g_free (self->instrument);
  g_free (self->instrument_place);
  G_OBJECT_CLASS (wb_reading_stack_parent_class)->finalize (object);
}

static guint
signal_new (const char *name)
{
  return g_signal_new (name, WB_TYPE_READING_STACK, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, WB_TYPE_READING_PANEL);
}

static void
wb_reading_stack_class_init (WbReadingStackClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = wb_reading_stack_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_reading_stack_finalize;
  signals[DONE] = signal_new ("done");
  signals[FINISHED] = signal_new ("finished");
  signals[CHANGED] = signal_new ("changed");
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
}

static void
wb_reading_stack_init (WbReadingStack *self)
{
  self->panels = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  self->spare = g_ptr_array_new ();
  self->failed = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  self->stack = gtk_stack_new ();
  /* A hidden panel is measured for its least height otherwise, which is its greatest width. */
  gtk_stack_set_hhomogeneous (GTK_STACK (self->stack), FALSE);
  gtk_stack_set_vhomogeneous (GTK_STACK (self->stack), FALSE);
  self->empty = g_object_new (GTK_TYPE_LABEL,
                              "label", _("Choose a sample on the bench."),
                              "wrap", TRUE,
                              "valign", GTK_ALIGN_START,
                              NULL);
  gtk_widget_add_css_class (self->empty, "dim-label");
  gtk_stack_add_child (GTK_STACK (self->stack), self->empty);
  gtk_widget_set_parent (self->stack, GTK_WIDGET (self));
}

GtkWidget *
wb_reading_stack_new (void)
{
  return g_object_new (WB_TYPE_READING_STACK, NULL);
}

static gint64
id_of (WbReadingPanel *panel)
{
  return wb_app_bench_sample_get_id (wb_reading_panel_get_sample (panel));
}

static WbReadingPanel *
panel_new (WbReadingStack   *self,
           WbAppBenchSample *sample)
{
  WbReadingPanel *panel = WB_READING_PANEL (wb_reading_panel_new (sample, self->us_units));

  g_signal_connect_object (panel, "done", G_CALLBACK (on_panel_done_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (panel, "finished", G_CALLBACK (on_panel_finished_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (panel, "changed", G_CALLBACK (on_panel_changed_cb), self, G_CONNECT_SWAPPED);
  gtk_stack_add_child (GTK_STACK (self->stack), GTK_WIDGET (panel));
  return panel;
}

/* A spare one, given to the sample; NULL: there is none. */
static WbReadingPanel *
take_spare (WbReadingStack   *self,
            WbAppBenchSample *sample)
{
  WbReadingPanel *panel;

  if (self->spare->len == 0)
    return NULL;
  panel = g_ptr_array_steal_index (self->spare, self->spare->len - 1);
  wb_reading_panel_set_sample (panel, sample, self->us_units);
  return panel;
}

static WbReadingPanel *
ensure_panel (WbReadingStack   *self,
              WbAppBenchSample *sample)
{
  gint64 id = wb_app_bench_sample_get_id (sample);
  WbReadingPanel *panel = g_hash_table_lookup (self->panels, &id);
  WbReadingDetails *details;

  if (panel != NULL)
    return panel;
  panel = take_spare (self, sample);
  if (panel == NULL)
    panel = panel_new (self, sample);
  details = wb_reading_panel_get_details (panel);
  wb_reading_details_propose (details, WB_READING_TEXT_RATER, self->rater);
  wb_reading_details_propose (details, WB_READING_TEXT_INSTRUMENT, self->instrument);
  wb_reading_details_propose (details, WB_READING_TEXT_INSTRUMENT_PLACE, self->instrument_place);
  g_hash_table_insert (self->panels, g_memdup2 (&id, sizeof id), panel);
  return panel;
}

static gboolean
is_idle (WbReadingPanel *panel)
{
  return !wb_reading_panel_get_touched (panel) && wb_reading_panel_get_saving (panel) != WB_SAVE_SAVING;
}

/*
 * Lets go of a panel. With `keep` it is kept for another sample: only one of which nobody can still be asked something, as
 * whoever waits at a check before the first light, or they would answer for that other one.
 */
static void
remove_panel (WbReadingStack *self,
              WbReadingPanel *panel,
              gboolean        keep)
{
  gint64 id = id_of (panel);

  if (self->shown == panel)
    self->shown = NULL;
  g_hash_table_remove (self->panels, &id);
  if (keep && self->spare->len < MOST_SPARE)
    g_ptr_array_add (self->spare, panel);
  else
    gtk_stack_remove (GTK_STACK (self->stack), GTK_WIDGET (panel));
}

static void
remove_spare (WbReadingStack *self)
{
  g_clear_handle_id (&self->stocking, g_source_remove);
  for (guint i = 0; i < self->spare->len; i++)
    gtk_stack_remove (GTK_STACK (self->stack), g_ptr_array_index (self->spare, i));
  g_ptr_array_set_size (self->spare, 0);
}

static gboolean
on_stock_cb (gpointer user)
{
  WbReadingStack *self = user;

  self->stocking = 0;
  if (self->shown != NULL && self->spare->len == 0)
    g_ptr_array_add (self->spare, panel_new (self, wb_reading_panel_get_sample (self->shown)));
  return G_SOURCE_REMOVE;
}

/* The first save is as quick as the others if the panel for the hand's next sample is made while nothing else is to be done. */
static void
stock (WbReadingStack *self)
{
  if (self->shown != NULL && self->spare->len == 0 && g_hash_table_size (self->panels) == 1 && self->stocking == 0)
    self->stocking = g_idle_add_full (G_PRIORITY_LOW, on_stock_cb, self, NULL);
}

WbReadingPanel *
wb_reading_stack_ensure (WbReadingStack   *self,
                         WbAppBenchSample *sample)
{
  g_return_val_if_fail (WB_IS_READING_STACK (self), NULL);
  return ensure_panel (self, sample);
}

void
wb_reading_stack_keep (WbReadingStack *self,
                       GKeyFile       *file,
                       GKeyFile       *before)
{
  GHashTableIter iter;
  gpointer id, panel;

  g_return_if_fail (WB_IS_READING_STACK (self));
  g_hash_table_iter_init (&iter, self->panels);
  while (g_hash_table_iter_next (&iter, &id, &panel))
    {
      g_autofree char *group = g_strdup_printf ("%" G_GINT64_FORMAT, *(const gint64 *) id);

      if (wb_reading_panel_get_saving (panel) == WB_SAVE_SAVING)
        /* As it was kept before: how much was read of the burn may be known anew already. */
        wb_app_bench_draft_copy (file, before, group);
      else if (wb_reading_panel_is_half_typed (panel))
        {
          wb_reading_panel_keep (panel, file, group);
          wb_app_bench_draft_mark (file, group, wb_reading_panel_get_sample (panel));
        }
    }
}

void
wb_reading_stack_show (WbReadingStack   *self,
                       WbAppBenchSample *sample)
{
  WbReadingPanel *old;

  g_return_if_fail (WB_IS_READING_STACK (self));

  old = self->shown;
  self->shown = sample != NULL ? ensure_panel (self, sample) : NULL;
  gtk_stack_set_visible_child (GTK_STACK (self->stack), self->shown != NULL ? GTK_WIDGET (self->shown) : self->empty);
  if (old != NULL && old != self->shown && is_idle (old))
    remove_panel (self, old, wb_reading_panel_get_ask (old) != WB_APP_ASK_LIGHTING);
  stock (self);
}

WbReadingPanel *
wb_reading_stack_get_shown (WbReadingStack *self)
{
  g_return_val_if_fail (WB_IS_READING_STACK (self), NULL);
  return self->shown;
}

WbReadingPanel *
wb_reading_stack_find (WbReadingStack *self,
                       gint64          sample)
{
  g_return_val_if_fail (WB_IS_READING_STACK (self), NULL);
  return g_hash_table_lookup (self->panels, &sample);
}

static void
remember (char       **kept,
          const char  *said)
{
  if (*said == '\0')
    return;
  g_free (*kept);
  *kept = g_strdup (said);
}

void
wb_reading_stack_drop (WbReadingStack *self,
                       WbReadingPanel *panel)
{
  WbReadingDetails *details;
  g_autoptr (WbAppBenchSample) again = NULL;

  g_return_if_fail (WB_IS_READING_STACK (self));
  if (wb_reading_stack_find (self, id_of (panel)) != panel)
    return;
  details = wb_reading_panel_get_details (panel);
  remember (&self->instrument, wb_reading_details_get (details, WB_READING_TEXT_INSTRUMENT));
  remember (&self->instrument_place, wb_reading_details_get (details, WB_READING_TEXT_INSTRUMENT_PLACE));
  if (self->shown == panel)
    again = g_object_ref (wb_reading_panel_get_sample (panel));
  /* Its save has come to an end, and with it whatever was asked before. */
  remove_panel (self, panel, TRUE);
  if (again != NULL)
    wb_reading_stack_show (self, again);
}

void
wb_reading_stack_set_up (WbReadingStack *self,
                         gboolean        us_units,
                         const char     *rater)
{
  gboolean other;

  g_return_if_fail (WB_IS_READING_STACK (self));
  other = us_units != self->us_units;
  self->us_units = us_units;
  g_free (self->rater);
  self->rater = g_strdup (rater);
  if (other)
    remove_spare (self);
  if (other && self->shown != NULL && is_idle (self->shown))
    wb_reading_stack_drop (self, self->shown);
}

void
wb_reading_stack_clear (WbReadingStack *self)
{
  g_autoptr (GList) panels = NULL;

  g_return_if_fail (WB_IS_READING_STACK (self));
  gtk_stack_set_visible_child (GTK_STACK (self->stack), self->empty);
  panels = g_hash_table_get_values (self->panels);
  for (GList *panel = panels; panel != NULL; panel = panel->next)
    remove_panel (self, panel->data, FALSE);
  remove_spare (self);
}

/* While a flame burns no field is moved from under a hand: the panel says in words what is asked now. */
static gboolean
may_turn (WbReadingPanel *panel,
          WbAppAsk        now,
          gboolean        has_focus)
{
  WbAppAsk due = wb_reading_panel_get_due (panel);

  return due != now && is_idle (panel) && !(has_focus && due == WB_APP_ASK_ROUND && now == WB_APP_ASK_BEFORE_SNUFFING);
}

static void
follow (WbReadingPanel *panel)
{
  WbAppAsk now = wb_app_bench_get_ask (wb_reading_panel_get_sample (panel));
  gboolean had_focus = (gtk_widget_get_state_flags (GTK_WIDGET (panel)) & GTK_STATE_FLAG_FOCUS_WITHIN) != 0;

  if (may_turn (panel, now, had_focus))
    {
      wb_reading_panel_set_due (panel, now);
      if (had_focus)
        wb_reading_panel_focus_first (panel);
    }
  wb_reading_panel_update (panel);
}

void
wb_reading_stack_update (WbReadingStack *self)
{
  g_return_if_fail (WB_IS_READING_STACK (self));
  if (self->shown != NULL)
    follow (self->shown);
}

gboolean
wb_reading_stack_get_touched (WbReadingStack *self)
{
  GHashTableIter iter;
  gpointer panel;

  g_return_val_if_fail (WB_IS_READING_STACK (self), FALSE);
  g_hash_table_iter_init (&iter, self->panels);
  while (g_hash_table_iter_next (&iter, NULL, &panel))
    if (wb_reading_panel_get_touched (panel) && wb_reading_panel_get_saving (panel) != WB_SAVE_SAVING)
      return TRUE;
  return FALSE;
}

gboolean
wb_reading_stack_is_saving (WbReadingStack *self,
                            gint64          sample)
{
  WbReadingPanel *panel = wb_reading_stack_find (self, sample);

  return panel != NULL && wb_reading_panel_get_saving (panel) == WB_SAVE_SAVING;
}

GHashTable *
wb_reading_stack_get_failed (WbReadingStack *self)
{
  GHashTableIter iter;
  gpointer id, panel;

  g_return_val_if_fail (WB_IS_READING_STACK (self), NULL);
  g_hash_table_remove_all (self->failed);
  g_hash_table_iter_init (&iter, self->panels);
  while (g_hash_table_iter_next (&iter, &id, &panel))
    if (wb_reading_panel_get_saving (panel) == WB_SAVE_FAILED)
      g_hash_table_add (self->failed, g_memdup2 (id, sizeof (gint64)));
  return g_hash_table_size (self->failed) > 0 ? self->failed : NULL;
}
