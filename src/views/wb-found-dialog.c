/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-found-dialog.h"

#include "wb-accessible-name.h"
#include "wb-bench-words.h"
#include "wb-bundle.h"
#include "wb-problem.h"
#include "wb-quantity-entry.h"
#include "wb-time-entry.h"
#include "wb-weak-widget.h"

#include <glib/gi18n.h>
#include <math.h>

/* The answers, as they stand in the list of a row. */
enum { ANSWER_ALIGHT, ANSWER_SNUFFED, ANSWER_WENT_OUT, N_ANSWERS };

typedef struct
{
  WbAppBenchSample *sample;  /* owned */
  GtkWidget        *answer;
  GtkWidget        *time;
  GtkWidget        *unknown;
  GtkWidget        *burnt;         /* how long, where the clock cannot tell; NULL: it can */
  GtkWidget        *burnt_unknown;
  gboolean          saved;
} Row;

struct _WbFoundDialog
{
  GtkWindow   parent_instance;

  /* children */
  GtkGrid    *grid;
  GtkWidget  *all;
  GtkWidget  *save;
  GtkLabel   *problem;

  /* owned */
  WbAppBench *bench;
  GPtrArray  *rows; /* Row */

  /* state */
  guint       on_the_way;
};

G_DEFINE_FINAL_TYPE (WbFoundDialog, wb_found_dialog, GTK_TYPE_WINDOW)

static void
row_free (gpointer data)
{
  Row *row = data;

  g_object_unref (row->sample);
  g_free (row);
}

static gboolean
burns_still (const Row *row)
{
  return gtk_drop_down_get_selected (GTK_DROP_DOWN (row->answer)) == ANSWER_ALIGHT;
}

/* Something is to be saved of it. */
static gboolean
is_open (const Row *row)
{
  return !row->saved && (!burns_still (row) || row->burnt != NULL);
}

static void
update_row (Row *row)
{
  gboolean ended = gtk_drop_down_get_selected (GTK_DROP_DOWN (row->answer)) != ANSWER_ALIGHT;
  gboolean unknown = gtk_check_button_get_active (GTK_CHECK_BUTTON (row->unknown));

  gtk_widget_set_sensitive (row->answer, !row->saved);
  gtk_widget_set_sensitive (row->unknown, ended && !row->saved);
  gtk_widget_set_sensitive (row->time, ended && !unknown && !row->saved);
  if (row->burnt == NULL)
    return;
  gtk_widget_set_sensitive (row->burnt_unknown, !ended && !row->saved);
  gtk_widget_set_sensitive (row->burnt, !ended && !row->saved && !gtk_check_button_get_active (GTK_CHECK_BUTTON (row->burnt_unknown)));
}

static gboolean
all_saved (WbFoundDialog *self)
{
  for (guint i = 0; i < self->rows->len; i++)
    {
      if (is_open (g_ptr_array_index (self->rows, i)))
        return FALSE;
    }
  return TRUE;
}

typedef struct
{
  gpointer weak; /* the dialog */
  Row     *row;   /* lives as long as that */
} Deed;

static void
on_saved_cb (GObject      *source,
             GAsyncResult *result,
             gpointer      user)
{
  g_autofree Deed *deed = user;
  g_autoptr (WbFoundDialog) self = NULL;
  g_autoptr (GError) error = NULL;
  gboolean done = wb_app_bench_finish (WB_APP_BENCH (source), result, &error);

  self = wb_weak_widget_take_or_tell (deed->weak, _("What became of a candle was not saved"), error);
  if (self == NULL)
    return;
  self->on_the_way--;
  if (done)
    deed->row->saved = TRUE;
  else
    wb_problem_tell_error (self->problem, error);
  update_row (deed->row);
  gtk_widget_set_sensitive (self->save, self->on_the_way == 0);
  if (self->on_the_way > 0 || !all_saved (self))
    return;
  wb_app_bench_acknowledge_found (self->bench);
  gtk_window_destroy (GTK_WINDOW (self));
}

static gboolean
check_times (WbFoundDialog *self)
{
  for (guint i = 0; i < self->rows->len; i++)
    {
      const Row *row = g_ptr_array_index (self->rows, i);
      WbInstant instant;

      if (gtk_widget_get_sensitive (row->time) && !wb_time_entry_get (WB_TIME_ENTRY (row->time), &instant))
        {
          gtk_widget_grab_focus (row->time);
          return FALSE;
        }
      if (row->burnt != NULL && gtk_widget_get_sensitive (row->burnt) && !wb_quantity_entry_check (WB_QUANTITY_ENTRY (row->burnt)))
        {
          gtk_widget_grab_focus (row->burnt);
          return FALSE;
        }
    }
  return TRUE;
}

/* An end at a moment that nobody knows stands at the last reading, and says so. */
static WbReading *
end_new (const Row *row)
{
  WbReading *reading = wb_record_new (&wb_reading_type);
  double last_min = wb_app_bench_sample_get_last_min (row->sample);
  WbInstant instant = WB_INSTANT_NONE;

  if (gtk_check_button_get_active (GTK_CHECK_BUTTON (row->unknown)))
    {
      reading->elapsed_min = isnan (last_min) ? 0 : last_min;
      wb_record_set_text (reading, wb_record_type_find_field (&wb_reading_type, "note"),
                          _("Found out later: when the burn ended is not known."));
      return reading;
    }
  wb_time_entry_get (WB_TIME_ENTRY (row->time), &instant);
  reading->elapsed_min = MAX (floor (wb_app_bench_sample_get_minutes_at (row->sample, instant)), 0);
  return reading;
}

static void
save_row (WbFoundDialog *self,
          Row           *row)
{
  guint answer = gtk_drop_down_get_selected (GTK_DROP_DOWN (row->answer));
  g_autoptr (WbRecord) reading = NULL;
  Deed *deed;

  if (!is_open (row))
    return;
  deed = g_new0 (Deed, 1);
  deed->weak = wb_weak_widget_new (self);
  deed->row = row;
  self->on_the_way++;
  if (answer == ANSWER_ALIGHT)
    {
      gboolean known = !gtk_check_button_get_active (GTK_CHECK_BUTTON (row->burnt_unknown));

      wb_app_bench_tell_elapsed_async (self->bench, wb_app_bench_sample_get_id (row->sample),
                                       known ? wb_quantity_entry_get_value (WB_QUANTITY_ENTRY (row->burnt)) : NAN, NULL, on_saved_cb, deed);
      return;
    }
  reading = (WbRecord *) end_new (row);
  wb_app_bench_snuff_async (self->bench, wb_app_bench_sample_get_id (row->sample),
                            answer == ANSWER_SNUFFED ? WB_EVENT_SNUFFED : WB_EVENT_SELF_EXTINGUISHED,
                            (WbReading *) reading, NULL, on_saved_cb, deed);
}

static void
on_save_clicked_cb (WbFoundDialog *self)
{
  wb_problem_tell (self->problem, NULL);
  if (!check_times (self))
    return;
  for (guint i = 0; i < self->rows->len; i++)
    save_row (self, g_ptr_array_index (self->rows, i));
  gtk_widget_set_sensitive (self->save, self->on_the_way == 0);
  if (self->on_the_way > 0)
    return;
  wb_app_bench_acknowledge_found (self->bench);
  gtk_window_destroy (GTK_WINDOW (self));
}

/* A power cut, or an evening that nobody closed, is one answer for ten candles; each can still be changed. */
static void
on_all_clicked_cb (WbFoundDialog *self)
{
  const Row *first = self->rows->pdata[0];
  const char *time = wb_time_entry_get_text (WB_TIME_ENTRY (first->time));

  for (guint i = 1; i < self->rows->len; i++)
    {
      Row *row = self->rows->pdata[i];

      if (row->saved)
        continue;
      gtk_drop_down_set_selected (GTK_DROP_DOWN (row->answer), gtk_drop_down_get_selected (GTK_DROP_DOWN (first->answer)));
      gtk_check_button_set_active (GTK_CHECK_BUTTON (row->unknown), gtk_check_button_get_active (GTK_CHECK_BUTTON (first->unknown)));
      wb_time_entry_set_text (WB_TIME_ENTRY (row->time), time);
    }
}

static void
wb_found_dialog_dispose (GObject *object)
{
  WbFoundDialog *self = WB_FOUND_DIALOG (object);

  g_clear_object (&self->bench);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_FOUND_DIALOG);
  G_OBJECT_CLASS (wb_found_dialog_parent_class)->dispose (object);
}

static void
wb_found_dialog_finalize (GObject *object)
{
  g_ptr_array_unref (WB_FOUND_DIALOG (object)->rows);
  G_OBJECT_CLASS (wb_found_dialog_parent_class)->finalize (object);
}

static void
wb_found_dialog_class_init (WbFoundDialogClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_found_dialog_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_found_dialog_finalize;
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "found-dialog.ui");
  gtk_widget_class_bind_template_child (widget_class, WbFoundDialog, grid);
  gtk_widget_class_bind_template_child (widget_class, WbFoundDialog, all);
  gtk_widget_class_bind_template_child (widget_class, WbFoundDialog, save);
  gtk_widget_class_bind_template_child (widget_class, WbFoundDialog, problem);
  gtk_widget_class_bind_template_callback (widget_class, on_all_clicked_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_save_clicked_cb);
}

static void
wb_found_dialog_init (WbFoundDialog *self)
{
  self->rows = g_ptr_array_new_with_free_func (row_free);
  gtk_widget_init_template (GTK_WIDGET (self));
}

/* Seconds tell nothing here. */
static char *
dup_minutes (double seconds)
{
  return wb_quantity_format_duration (round (seconds / 60) * 60);
}

/* What the two clocks say, which cannot both be; the maker's watch or kitchen timer may know. */
static char *
dup_contradiction (WbAppBenchSample *sample)
{
  g_autofree char *least = dup_minutes ((double) wb_app_bench_sample_get_elapsed_s (sample));
  g_autofree char *by_clock = NULL;
  gint64 by_clock_s = 0;

  wb_app_bench_sample_get_unsure (sample, &by_clock_s);
  by_clock = dup_minutes ((double) ABS (by_clock_s));
  if (by_clock_s < 0)
    return g_strdup_printf (_("By this computer's clock it will be lit in %s; by the record it has burnt for %s at least. It has burnt for"),
                            by_clock, least);
  return g_strdup_printf (_("By this computer's clock it was lit %s ago; by the record it has burnt for %s at least. It has burnt for"),
                          by_clock, least);
}

static void
add_burnt (WbFoundDialog *self,
           Row           *row,
           int            line)
{
  const char *code = wb_app_bench_sample_get_code (row->sample);
  double last_min = wb_app_bench_sample_get_last_min (row->sample);
  g_autofree char *words = dup_contradiction (row->sample);
  g_autofree char *what = g_strdup_printf (_("%s: how long it has burnt"), code);
  g_autofree char *unknown = g_strdup_printf (_("%s: not known how long, go on from there"), code);

  row->burnt = wb_quantity_entry_new (WB_QUANTITY_DURATION, WB_UNIT_MINUTE);
  row->burnt_unknown = gtk_check_button_new_with_label (_("not known: go on from there"));
  gtk_widget_set_valign (row->burnt, GTK_ALIGN_CENTER);
  wb_quantity_entry_set_label (WB_QUANTITY_ENTRY (row->burnt), what);
  wb_quantity_entry_set_required (WB_QUANTITY_ENTRY (row->burnt), TRUE);
  wb_quantity_entry_set_range (WB_QUANTITY_ENTRY (row->burnt), isnan (last_min) ? 0 : last_min * 60, HUGE_VAL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row->burnt_unknown), GTK_ACCESSIBLE_PROPERTY_LABEL, unknown, -1);
  gtk_grid_attach (self->grid, g_object_new (GTK_TYPE_LABEL, "label", words, "xalign", 0.0, "wrap", TRUE, NULL), 0, line, 2, 1);
  gtk_grid_attach (self->grid, row->burnt, 2, line, 1, 1);
  gtk_grid_attach (self->grid, row->burnt_unknown, 3, line, 1, 1);
  g_signal_connect_swapped (row->burnt_unknown, "toggled", G_CALLBACK (update_row), row);
}

static void
add_row (WbFoundDialog    *self,
         WbAppBenchSample *sample)
{
  const char *answers[] = { _("burns still"), _("was snuffed"), _("went out by itself"), NULL };
  const char *code = wb_app_bench_sample_get_code (sample);
  const WbBurn *burn = wb_app_bench_sample_get_burn (sample);
  g_autofree char *lit = wb_instant_format_short (burn->lit_at);
  g_autofree char *words = g_strdup_printf (_("%s, lit %s"), code, lit);
  g_autofree char *when = g_strdup_printf (_("%s: when it ended"), code);
  g_autofree char *what = g_strdup_printf (_("%s: what became of it"), code);
  g_autofree char *unknown = g_strdup_printf (_("%s: not known when"), code);
  Row *row = g_new0 (Row, 1);
  int line = 2 * (int) self->rows->len;

  row->sample = g_object_ref (sample);
  row->answer = gtk_drop_down_new_from_strings (answers);
  row->time = wb_time_entry_new (when);
  gtk_widget_set_hexpand (row->time, TRUE);
  row->unknown = gtk_check_button_new_with_label (_("not known when"));
  wb_time_entry_set_earliest (WB_TIME_ENTRY (row->time), wb_app_bench_sample_get_lit_at (sample), _("That was before it was lit"));
  /* "22:20" was that evening, whenever the notebook is opened again. */
  wb_time_entry_set_from (WB_TIME_ENTRY (row->time), wb_app_bench_sample_get_lit_at (sample));
  wb_accessible_name_drop_down (GTK_DROP_DOWN (row->answer), what);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row->unknown), GTK_ACCESSIBLE_PROPERTY_LABEL, unknown, -1);
  gtk_grid_attach (self->grid, g_object_new (GTK_TYPE_LABEL, "label", words, "xalign", 0.0, NULL), 0, line, 1, 1);
  gtk_grid_attach (self->grid, row->answer, 1, line, 1, 1);
  gtk_grid_attach (self->grid, row->time, 2, line, 1, 1);
  gtk_grid_attach (self->grid, row->unknown, 3, line, 1, 1);
  g_signal_connect_swapped (row->answer, "notify::selected", G_CALLBACK (update_row), row);
  g_signal_connect_swapped (row->unknown, "toggled", G_CALLBACK (update_row), row);
  g_ptr_array_add (self->rows, row);
  if (wb_app_bench_sample_get_unsure (sample, NULL))
    add_burnt (self, row, line + 1);
  update_row (row);
}

GtkWidget *
wb_found_dialog_new (GtkWidget  *where,
                     WbAppBench *bench)
{
  GtkRoot *root = where != NULL ? gtk_widget_get_root (where) : NULL;
  WbFoundDialog *self;

  g_return_val_if_fail (WB_IS_APP_BENCH (bench), NULL);

  self = g_object_new (WB_TYPE_FOUND_DIALOG, "transient-for", GTK_IS_WINDOW (root) ? root : NULL, NULL);
  self->bench = g_object_ref (bench);
  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (bench)); i++)
    {
      g_autoptr (WbAppBenchSample) sample = g_list_model_get_item (G_LIST_MODEL (bench), i);

      if (wb_app_bench_sample_get_state (sample) == WB_APP_BENCH_ALIGHT)
        add_row (self, sample);
    }
  gtk_widget_set_visible (self->all, self->rows->len > 1);
  return GTK_WIDGET (self);
}
