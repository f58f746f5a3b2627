/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-pour-steps.h"

#include "wb-chart-view.h"
#include "wb-clock.h"
#include "wb-craft-method.h"
#include "wb-plot-pour.h"
#include "wb-pour-step.h"
#include "wb-pour-words.h"

#include <glib/gi18n.h>
#include <math.h>

/* CSS node: poursteps. */

#define CHART_WIDTH 300
#define CHART_HEIGHT 230
#define OVERLAP_US (6 * 3600 * (gint64) G_USEC_PER_SEC)

struct _WbPourSteps
{
  GtkWidget     parent_instance;

  /* children */
  GtkWidget    *box;
  WbChartView  *chart;
  GtkWidget    *list;

  /* owned */
  GPtrArray    *rows;          /* WbPourStep */
  GtkSizeGroup *columns[WB_POUR_STEP_N_COLUMNS];
  WbAppTimers  *timers;
  WbWax        *wax;           /* NULL: not known */
  WbFragrance  *fragrance;     /* NULL: no oil */

  /* state */
  WbDay         day;           /* of the pour; WB_DAY_NONE: nobody said */
  gboolean      us_units;
  gboolean      invented;
  WbPourStepsMode mode;
  gboolean      filling;
};

G_DEFINE_FINAL_TYPE (WbPourSteps, wb_pour_steps, GTK_TYPE_WIDGET)

enum { CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

/* At once, while it is typed. What was done long ago is told as a deviation, not as what to do. */
static void
tell_hot (WbPourSteps     *self,
          const GPtrArray *steps)
{
  for (guint i = 0; i < self->rows->len; i++)
    {
      WbPourStep *row = self->rows->pdata[i];
      g_autofree char *words = wb_pour_step_get_asked (row) ? wb_craft_method_dup_too_hot (steps, i, self->wax, self->fragrance, self->us_units) : NULL;

      wb_pour_step_tell_hot (row, words);
    }
}

static void
draw (WbPourSteps *self)
{
  g_autoptr (GPtrArray) steps = wb_pour_steps_dup_steps (self);
  g_autoptr (WbChart) chart = wb_plot_pour_new (steps, self->fragrance, self->us_units, self->invented);

  wb_chart_view_set_chart (self->chart, chart);
  tell_hot (self, steps);
}

/*
 * A time of day is that of the pour's day; once a step has a time, the first one after it or shortly before, for steps overlap and a
 * pour goes on past midnight. Without either it is the last one that has been.
 */
static void
place_times (WbPourSteps *self)
{
  WbDay today = wb_instant_get_day (wb_clock_now (wb_clock_get ()));
  WbInstant first = self->day != WB_DAY_NONE && self->day < today ? wb_clock_local (wb_clock_get (), self->day, 0, 0, 0) : WB_INSTANT_NONE;

  for (guint i = 0; i < self->rows->len; i++)
    {
      WbInstant at;

      wb_pour_step_set_first (self->rows->pdata[i], first);
      at = wb_pour_step_get_time (self->rows->pdata[i]);
      if (at.known)
        first = wb_clock_at (wb_clock_get (), at.utc_us - OVERLAP_US);
    }
}

static void
on_typed_cb (WbPourSteps *self)
{
  if (self->filling)
    return;
  place_times (self);
  draw (self);
  g_signal_emit (self, signals[CHANGED], 0);
}

static void
on_tick_cb (WbPourSteps *self)
{
  for (guint i = 0; i < self->rows->len; i++)
    wb_pour_step_show_timer (self->rows->pdata[i]);
}

static gboolean
is_written_down (const WbBatchStep *step)
{
  return step->done_at.known || !isnan (step->actual_c);
}

/* at: place of the step in order. A cure is no moment of the pour. */
static gboolean
is_asked (WbPourStepsMode  mode,
          const GPtrArray *steps,
          guint            at)
{
  const WbBatchStep *step = steps->pdata[at];

  if (mode == WB_POUR_STEPS_ASKED)
    return step->kind != WB_STEP_CURE;
  for (guint i = 0; mode == WB_POUR_STEPS_LATER && i < at; i++)
    if (((const WbBatchStep *) steps->pdata[i])->kind == WB_STEP_POUR)
      return TRUE;
  return mode == WB_POUR_STEPS_LATER && !is_written_down (step);
}

/* What to do at the step, with its caution before it. */
static void
add_words (WbPourSteps          *self,
           WbPourStep           *row,
           const WbDataset      *data,
           const WbAppPourBatch *batch,
           const WbBatchStep    *step)
{
  WbCure cure = wb_cure_of (NULL, batch->fragrance, data->wax);
  g_autofree char *words = wb_craft_method_dup_words (step, batch->sheet, &cure, self->us_units);
  g_autofree char *flash = step->kind == WB_STEP_FRAGRANCE ? wb_craft_method_dup_flash (batch->fragrance, self->us_units) : NULL;
  g_autofree char *fills = step->kind == WB_STEP_POUR ? wb_pour_words_dup_fills (batch, self->us_units) : NULL;
  const char *caution = wb_craft_method_get_caution (step->kind);

  if (caution != NULL)
    wb_pour_step_add_line (row, caution, "caution");
  if (*words != '\0')
    wb_pour_step_add_line (row, words, "numeric");
  if (flash != NULL)
    wb_pour_step_add_line (row, flash, "numeric");
  if (fills != NULL)
    wb_pour_step_add_line (row, fills, "numeric");
}

static void
add_row (WbPourSteps          *self,
         const WbDataset      *data,
         const WbAppPourBatch *batch,
         guint                 at,
         const char           *key)
{
  const WbBatchStep *step = batch->steps->pdata[at];
  GtkWidget *row = wb_pour_step_new (step, self->us_units, is_asked (self->mode, batch->steps, at));
  g_autofree char *timer = g_strdup_printf ("%s:%d", key, (int) step->position);

  if (self->timers != NULL)
    wb_pour_step_set_timer (WB_POUR_STEP (row), self->timers, timer);
  if (self->mode == WB_POUR_STEPS_ASKED || wb_pour_step_get_asked (WB_POUR_STEP (row)))
    add_words (self, WB_POUR_STEP (row), data, batch, step);
  wb_pour_step_join (WB_POUR_STEP (row), self->columns);
  g_signal_connect_object (row, "changed", G_CALLBACK (on_typed_cb), self, G_CONNECT_SWAPPED);
  gtk_box_append (GTK_BOX (self->list), row);
  g_ptr_array_add (self->rows, g_object_ref (row));
}

/* ---- Class ---- */

static void
wb_pour_steps_dispose (GObject *object)
{
  WbPourSteps *self = WB_POUR_STEPS (object);

  g_clear_pointer (&self->box, gtk_widget_unparent);
  g_clear_object (&self->chart);
  g_ptr_array_set_size (self->rows, 0);
  for (guint i = 0; i < WB_POUR_STEP_N_COLUMNS; i++)
    g_clear_object (&self->columns[i]);
  if (self->timers != NULL)
    g_signal_handlers_disconnect_by_data (self->timers, self);
  g_clear_object (&self->timers);
  G_OBJECT_CLASS (wb_pour_steps_parent_class)->dispose (object);
}

static void
wb_pour_steps_finalize (GObject *object)
{
  WbPourSteps *self = WB_POUR_STEPS (object);

  g_ptr_array_unref (self->rows);
  wb_record_free (self->wax);
  wb_record_free (self->fragrance);
  G_OBJECT_CLASS (wb_pour_steps_parent_class)->finalize (object);
}

static void
wb_pour_steps_class_init (WbPourStepsClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = wb_pour_steps_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_pour_steps_finalize;
  signals[CHANGED] = g_signal_new ("changed", WB_TYPE_POUR_STEPS, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (klass), "poursteps");
}

/* What the columns are, once above all rows. */
static GtkWidget *
heads_new (WbPourSteps *self)
{
  const char *const words[WB_POUR_STEP_N_COLUMNS] = { _("Measured"), _("Done at"), "", _("Timer") };
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6), *space = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);

  gtk_widget_set_hexpand (space, TRUE);
  gtk_box_append (GTK_BOX (line), space);
  for (guint i = 0; i < WB_POUR_STEP_N_COLUMNS; i++)
    {
      GtkWidget *head = g_object_new (GTK_TYPE_LABEL, "label", words[i], "xalign", 0.0, NULL);

      gtk_widget_add_css_class (head, "hint");
      gtk_size_group_add_widget (self->columns[i], head);
      gtk_box_append (GTK_BOX (line), head);
    }
  return line;
}

static void
wb_pour_steps_init (WbPourSteps *self)
{
  self->day = WB_DAY_NONE;
  self->rows = g_ptr_array_new_with_free_func (g_object_unref);
  for (guint i = 0; i < WB_POUR_STEP_N_COLUMNS; i++)
    self->columns[i] = gtk_size_group_new (GTK_SIZE_GROUP_HORIZONTAL);
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  self->chart = g_object_ref_sink (WB_CHART_VIEW (wb_chart_view_new ()));
  self->list = gtk_box_new (GTK_ORIENTATION_VERTICAL, 10);
  wb_chart_view_set_minimum (self->chart, CHART_WIDTH, CHART_HEIGHT);
  gtk_box_append (GTK_BOX (self->box), heads_new (self));
  gtk_box_append (GTK_BOX (self->box), self->list);
  gtk_box_append (GTK_BOX (self->box), GTK_WIDGET (self->chart));
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
}

GtkWidget *
wb_pour_steps_new (void)
{
  return g_object_new (WB_TYPE_POUR_STEPS, NULL);
}

GtkWidget *
wb_pour_steps_take_chart (WbPourSteps *self)
{
  g_return_val_if_fail (WB_IS_POUR_STEPS (self), NULL);

  gtk_box_remove (GTK_BOX (self->box), GTK_WIDGET (self->chart));
  return GTK_WIDGET (self->chart);
}

/* ---- Showing ---- */

static gboolean
are_same_steps (WbPourSteps     *self,
                const GPtrArray *steps)
{
  if (self->rows->len != steps->len)
    return FALSE;
  for (guint i = 0; i < steps->len; i++)
    {
      const WbBatchStep *now = steps->pdata[i], *was = wb_pour_step_get_step (self->rows->pdata[i]);

      if (now->kind != was->kind || now->position != was->position)
        return FALSE;
    }
  return TRUE;
}

/* Somebody types in a row: it is not built anew under the hands. */
static gboolean
is_in_hand (WbPourSteps *self)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));
  GtkWidget *focus = root != NULL ? gtk_root_get_focus (root) : NULL;

  return focus != NULL && gtk_widget_is_ancestor (focus, self->list);
}

static void
take_timers (WbPourSteps *self,
             WbAppTimers *timers)
{
  if (timers == self->timers)
    return;
  if (self->timers != NULL)
    g_signal_handlers_disconnect_by_data (self->timers, self);
  g_set_object (&self->timers, timers);
  if (timers != NULL)
    g_signal_connect_object (timers, "tick", G_CALLBACK (on_tick_cb), self, G_CONNECT_SWAPPED);
}

/* The rows that stood there; caller unrefs. */
static GPtrArray *
take_rows (WbPourSteps *self)
{
  GPtrArray *rows = self->rows;

  for (guint i = 0; i < rows->len; i++)
    gtk_box_remove (GTK_BOX (self->list), rows->pdata[i]);
  self->rows = g_ptr_array_new_with_free_func (g_object_unref);
  return rows;
}

void
wb_pour_steps_show (WbPourSteps          *self,
                    const WbDataset      *data,
                    const WbAppPourBatch *batch,
                    gboolean              us_units,
                    WbAppTimers          *timers,
                    const char           *key,
                    WbPourStepsMode       mode)
{
  g_autoptr (GPtrArray) were = NULL;
  gboolean same;

  g_return_if_fail (WB_IS_POUR_STEPS (self));
  g_return_if_fail (data != NULL && batch != NULL && key != NULL);

  same = are_same_steps (self, batch->steps) && self->rows->len > 0 && self->mode == mode;
  if (same && is_in_hand (self))
    return;
  take_timers (self, timers);
  self->us_units = us_units;
  self->invented = data->notebook != NULL && data->notebook->invented;
  self->mode = mode;
  g_clear_pointer (&self->wax, wb_record_free);
  self->wax = data->wax != NULL ? wb_record_copy (data->wax) : NULL;
  g_clear_pointer (&self->fragrance, wb_record_free);
  self->fragrance = batch->fragrance != NULL ? wb_record_copy (batch->fragrance) : NULL;
  self->filling = TRUE;
  were = take_rows (self);
  for (guint i = 0; i < batch->steps->len; i++)
    {
      add_row (self, data, batch, i, key);
      if (same)
        wb_pour_step_take_typed (self->rows->pdata[i], were->pdata[i]);
    }
  place_times (self);
  self->filling = FALSE;
  draw (self);
}

GPtrArray *
wb_pour_steps_dup_steps (WbPourSteps *self)
{
  GPtrArray *steps = g_ptr_array_new_with_free_func (wb_record_free);

  g_return_val_if_fail (WB_IS_POUR_STEPS (self), steps);

  for (guint i = 0; i < self->rows->len; i++)
    g_ptr_array_add (steps, wb_pour_step_dup_step (self->rows->pdata[i]));
  return steps;
}

gboolean
wb_pour_steps_check (WbPourSteps *self)
{
  g_return_val_if_fail (WB_IS_POUR_STEPS (self), FALSE);

  for (guint i = 0; i < self->rows->len; i++)
    if (!wb_pour_step_check (self->rows->pdata[i]))
      return FALSE;
  return TRUE;
}

gboolean
wb_pour_steps_get_touched (WbPourSteps *self)
{
  g_return_val_if_fail (WB_IS_POUR_STEPS (self), FALSE);

  for (guint i = 0; i < self->rows->len; i++)
    if (wb_pour_step_get_touched (self->rows->pdata[i]))
      return TRUE;
  return FALSE;
}

/* ---- What is half typed ---- */

void
wb_pour_steps_keep (WbPourSteps *self,
                    GKeyFile    *file,
                    const char  *group)
{
  g_return_if_fail (WB_IS_POUR_STEPS (self));

  for (guint i = 0; i < self->rows->len; i++)
    wb_pour_step_keep (self->rows->pdata[i], file, group);
}

void
wb_pour_steps_put_back (WbPourSteps *self,
                        GKeyFile    *file,
                        const char  *group)
{
  g_return_if_fail (WB_IS_POUR_STEPS (self));

  for (guint i = 0; i < self->rows->len; i++)
    wb_pour_step_put_back (self->rows->pdata[i], file, group);
  place_times (self);
  draw (self);
}

static WbPourStep *
find_row (WbPourSteps *self,
          int          kind)
{
  for (guint i = 0; i < self->rows->len; i++)
    if (wb_pour_step_get_step (self->rows->pdata[i])->kind == kind)
      return self->rows->pdata[i];
  return NULL;
}

void
wb_pour_steps_set_day (WbPourSteps *self,
                       WbDay        day)
{
  g_return_if_fail (WB_IS_POUR_STEPS (self));

  if (self->day == day)
    return;
  self->day = day;
  place_times (self);
  draw (self);
}

WbInstant
wb_pour_steps_get_pour (WbPourSteps *self)
{
  WbPourStep *row;

  g_return_val_if_fail (WB_IS_POUR_STEPS (self), WB_INSTANT_NONE);

  row = find_row (self, WB_STEP_POUR);
  return row != NULL ? wb_pour_step_get_time (row) : WB_INSTANT_NONE;
}

const char *
wb_pour_steps_get_told (WbPourSteps *self,
                        int          kind)
{
  WbPourStep *row;

  g_return_val_if_fail (WB_IS_POUR_STEPS (self), NULL);

  row = find_row (self, kind);
  return row != NULL ? wb_pour_step_get_told (row) : NULL;
}

GPtrArray *
wb_pour_steps_dup_hot (WbPourSteps *self)
{
  GPtrArray *lines = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GPtrArray) steps = NULL;

  g_return_val_if_fail (WB_IS_POUR_STEPS (self), lines);

  steps = wb_pour_steps_dup_steps (self);
  for (guint i = 0; i < steps->len; i++)
    {
      g_autofree char *words = wb_craft_method_dup_too_hot (steps, i, self->wax, self->fragrance, self->us_units);
      g_autofree char *title = wb_craft_method_dup_title (((const WbBatchStep *) steps->pdata[i])->kind);

      if (words != NULL && wb_pour_step_get_asked (self->rows->pdata[i]))
        /* Translators: a step, and what is wrong with its temperature. */
        g_ptr_array_add (lines, g_strdup_printf (_("%s: %s"), title, words));
    }
  return lines;
}

GPtrArray *
wb_pour_steps_dup_running (WbPourSteps *self)
{
  GPtrArray *lines = g_ptr_array_new_with_free_func (g_free);

  g_return_val_if_fail (WB_IS_POUR_STEPS (self), lines);

  for (guint i = 0; i < self->rows->len; i++)
    {
      g_autofree char *title = wb_craft_method_dup_title (wb_pour_step_get_step (self->rows->pdata[i])->kind);

      if (wb_pour_step_get_running (self->rows->pdata[i]))
        /* Translators: a step of the pour. */
        g_ptr_array_add (lines, g_strdup_printf (_("%s: its timer has not ended."), title));
    }
  return lines;
}

gboolean
wb_pour_steps_get_waiting (WbPourSteps *self)
{
  gboolean after = FALSE;

  g_return_val_if_fail (WB_IS_POUR_STEPS (self), FALSE);

  for (guint i = 0; i < self->rows->len; i++)
    {
      const WbBatchStep *step = wb_pour_step_get_step (self->rows->pdata[i]);

      after = after || step->kind == WB_STEP_POUR;
      if (after && wb_pour_step_get_asked (self->rows->pdata[i]) && step->kind != WB_STEP_CURE && !step->done_at.known)
        return TRUE;
    }
  return FALSE;
}

GtkWidget *
wb_pour_steps_get_field (WbPourSteps *self,
                         int          kind,
                         const char  *name)
{
  WbPourStep *row;

  g_return_val_if_fail (WB_IS_POUR_STEPS (self), NULL);

  row = find_row (self, kind);
  return row != NULL ? wb_pour_step_get_field (row, name) : NULL;
}
