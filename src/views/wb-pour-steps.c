/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-pour-steps.h"

#include "wb-chart-view.h"
#include "wb-clock.h"
#include "wb-craft-method.h"
#include "wb-plot-pour.h"
#include "wb-pour-words.h"
#include "wb-quantity-entry.h"
#include "wb-time-entry.h"

#include <glib/gi18n.h>
#include <math.h>

/* CSS node: poursteps. Each field is named by its step. */

#define CHART_WIDTH 320
#define CHART_HEIGHT 230
#define MINUTE_US (60 * (gint64) G_USEC_PER_SEC)

typedef struct
{
  WbPourSteps     *owner;     /* borrowed */
  WbBatchStep     *step;      /* as it stood when it was shown */
  char            *title;
  char            *key;       /* of its timer */
  char            *was;       /* text of the time when it was shown */
  GtkWidget       *box;
  WbQuantityEntry *measured;  /* NULL: it is only shown */
  WbTimeEntry     *time;
  GtkWidget       *done;
  GtkWidget       *timer;     /* NULL: the step says no minutes */
  GtkWidget       *left;
} Row;

struct _WbPourSteps
{
  GtkWidget    parent_instance;

  /* children */
  GtkWidget   *box;
  WbChartView *chart;
  GtkWidget   *list;

  /* owned */
  GPtrArray   *rows;          /* Row */
  WbAppTimers *timers;

  /* state */
  gboolean     us_units;
  gboolean     invented;
  gboolean     editable;
  gboolean     filling;
};

G_DEFINE_FINAL_TYPE (WbPourSteps, wb_pour_steps, GTK_TYPE_WIDGET)

enum { CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

static void
row_free (gpointer data)
{
  Row *row = data;

  wb_record_free (row->step);
  g_free (row->title);
  g_free (row->key);
  g_free (row->was);
  g_free (row);
}

/* ---- What stands in a row ---- */

static gboolean
has_time (const Row *row)
{
  return row->time != NULL && *wb_time_entry_get_text (row->time) != '\0';
}

static gboolean
is_time_typed (const Row *row)
{
  return row->time != NULL && g_strcmp0 (row->was, wb_time_entry_get_text (row->time)) != 0;
}

/* Unknown: not done, or it cannot be read. */
static WbInstant
get_time (const Row *row)
{
  if (!has_time (row))
    return WB_INSTANT_NONE;
  /* what was not touched is the very instant that it was */
  if (row->step->done_at.known && g_strcmp0 (row->was, wb_time_entry_get_text (row->time)) == 0)
    return row->step->done_at;
  return wb_time_entry_get_at (row->time, wb_clock_now (wb_clock_get ()));
}

static WbBatchStep *
dup_step (const Row *row)
{
  WbBatchStep *step = wb_record_copy (row->step);

  if (row->measured == NULL)
    return step;
  step->actual_c = wb_quantity_entry_get_value (row->measured);
  step->done_at = get_time (row);
  return step;
}

static void
draw (WbPourSteps *self)
{
  g_autoptr (GPtrArray) steps = wb_pour_steps_dup_steps (self);
  g_autoptr (WbChart) chart = wb_plot_pour_new (steps, self->us_units, self->invented);

  wb_chart_view_set_chart (self->chart, chart);
}

static void
on_typed_cb (WbPourSteps *self)
{
  if (self->filling)
    return;
  draw (self);
  g_signal_emit (self, signals[CHANGED], 0);
}

/* ---- Timer ---- */

/* "44:10". */
static char *
dup_left (double left_s)
{
  gint64 seconds = (gint64) ceil (left_s);

  return g_strdup_printf ("%" G_GINT64_FORMAT ":%02d", seconds / 60, (int) (seconds % 60));
}

static void
show_timer (Row *row)
{
  WbAppTimerState state;
  g_autofree char *minutes = NULL, *left = NULL;
  double left_s;

  if (row->timer == NULL)
    return;
  state = wb_app_timers_get (row->owner->timers, row->key, &left_s);
  minutes = wb_number_format_trimmed (row->step->minutes, 1, NULL);
  left = state == WB_APP_TIMER_ENDED ? g_strdup (_("time is up")) : state != WB_APP_TIMER_NONE ? dup_left (left_s) : g_strdup ("");
  gtk_widget_set_tooltip_text (row->left, wb_app_timers_get_doubtful (row->owner->timers, row->key)
                                            ? _("The computer was started anew while it ran: counted by the computer's clock") : NULL);
  if (wb_app_timers_get_doubtful (row->owner->timers, row->key) && state == WB_APP_TIMER_RUNNING)
    {
      /* Translators: what is left of a timer, "44:10", where only the computer's clock knows. */
      char *about = g_strdup_printf (_("about %s"), left);

      g_free (left);
      left = about;
    }
  gtk_label_set_text (GTK_LABEL (row->left), left);
  if (state == WB_APP_TIMER_RUNNING)
    gtk_button_set_label (GTK_BUTTON (row->timer), _("Pause"));
  else if (state == WB_APP_TIMER_PAUSED)
    gtk_button_set_label (GTK_BUTTON (row->timer), _("Go on"));
  else
    {
      /* Translators: begins a timer of so many minutes. */
      g_autofree char *start = g_strdup_printf (_("Start %s min"), minutes);

      gtk_button_set_label (GTK_BUTTON (row->timer), start);
    }
}

static void
on_timer_cb (Row *row)
{
  WbAppTimers *timers = row->owner->timers;
  g_autofree char *words = NULL;

  switch (wb_app_timers_get (timers, row->key, NULL))
    {
    case WB_APP_TIMER_RUNNING:
      wb_app_timers_pause (timers, row->key);
      break;
    case WB_APP_TIMER_PAUSED:
      wb_app_timers_resume (timers, row->key);
      break;
    case WB_APP_TIMER_NONE:
    case WB_APP_TIMER_ENDED:
    default:
      words = wb_craft_method_dup_title (row->step->kind);
      wb_app_timers_start (timers, row->key, words, row->step->minutes * 60);
      break;
    }
}

static void
on_tick_cb (WbPourSteps *self)
{
  for (guint i = 0; i < self->rows->len; i++)
    show_timer (self->rows->pdata[i]);
}

/* ---- Building a row ---- */

static void
on_done_cb (Row *row)
{
  WbInstant now = wb_clock_now (wb_clock_get ());
  g_autofree char *text = wb_instant_format_time (now);

  wb_time_entry_set_text (row->time, text);
  if (row->timer != NULL)
    wb_app_timers_drop (row->owner->timers, row->key);
  on_typed_cb (row->owner);
}

static GtkWidget *
label_new (const char *text,
           const char *style,
           int         chars)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", text, "xalign", 0.0, "wrap", TRUE, "wrap-mode", PANGO_WRAP_WORD_CHAR,
                                   "max-width-chars", chars, NULL);

  if (style != NULL)
    gtk_widget_add_css_class (label, style);
  return label;
}

static void
name (GtkWidget  *widget,
      const Row  *row,
      const char *what)
{
  g_autofree char *label = g_strdup_printf ("%s, %s", row->title, what);

  gtk_accessible_update_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
}

static void
add_timer (Row       *row,
           GtkWidget *line)
{
  if (!(row->step->minutes > 0) || row->owner->timers == NULL)
    return;
  row->timer = gtk_button_new_with_label ("");
  row->left = label_new ("", "numeric", 10);
  gtk_widget_set_valign (row->timer, GTK_ALIGN_START);
  name (row->timer, row, _("timer"));
  g_signal_connect_swapped (row->timer, "clicked", G_CALLBACK (on_timer_cb), row);
  gtk_box_append (GTK_BOX (line), row->left);
  gtk_box_append (GTK_BOX (line), row->timer);
  show_timer (row);
}

static GtkWidget *
hint_new (const char *text)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", text, "valign", GTK_ALIGN_START, "margin-top", 8, NULL);

  gtk_widget_add_css_class (label, "hint");
  return label;
}

/* There is a temperature to read: once a candle sets, nobody has a thermometer in it. */
static gboolean
is_of_the_melt (const WbBatchStep *step)
{
  return !isnan (step->to_c) || !isnan (step->actual_c) || (step->kind <= WB_STEP_POUR && step->kind != WB_STEP_STIR) || step->kind == WB_STEP_TOP_UP;
}

static void
add_fields (Row       *row,
            GtkWidget *line)
{
  const WbFieldSpec *spec = wb_record_type_find_field (&wb_batch_step_type, "actual_c");
  WbUnit unit = wb_quantity_get_shown_unit (WB_QUANTITY_TEMPERATURE, row->owner->us_units);
  g_autofree char *measured = g_strdup_printf (_("%s, measured"), row->title), *at = g_strdup_printf (_("%s, done at"), row->title);
  g_autofree char *time = row->step->done_at.known ? wb_instant_format_short (row->step->done_at) : g_strdup ("");

  row->measured = WB_QUANTITY_ENTRY (wb_quantity_entry_new (WB_QUANTITY_TEMPERATURE, unit));
  wb_quantity_entry_set_range (row->measured, spec->minimum, spec->maximum);
  wb_quantity_entry_set_width_chars (row->measured, 5);
  wb_quantity_entry_set_label (row->measured, measured);
  wb_quantity_entry_set_value (row->measured, row->step->actual_c);
  g_signal_connect_swapped (row->measured, "changed", G_CALLBACK (on_typed_cb), row->owner);
  row->time = WB_TIME_ENTRY (wb_time_entry_new (at));
  wb_time_entry_set_optional (row->time, TRUE);
  wb_time_entry_set_text (row->time, time);
  row->was = g_strdup (wb_time_entry_get_text (row->time));
  g_signal_connect_swapped (row->time, "changed", G_CALLBACK (on_typed_cb), row->owner);
  row->done = gtk_button_new_with_label (_("Done now"));
  gtk_widget_set_valign (row->done, GTK_ALIGN_START);
  name (row->done, row, _("done now"));
  g_signal_connect_swapped (row->done, "clicked", G_CALLBACK (on_done_cb), row);
  gtk_widget_set_valign (GTK_WIDGET (row->measured), GTK_ALIGN_START);
  gtk_widget_set_valign (GTK_WIDGET (row->time), GTK_ALIGN_START);
  if (is_of_the_melt (row->step))
    gtk_box_append (GTK_BOX (line), hint_new (_("measured")));
  gtk_box_append (GTK_BOX (line), GTK_WIDGET (row->measured));
  gtk_widget_set_visible (GTK_WIDGET (row->measured), is_of_the_melt (row->step));
  gtk_box_append (GTK_BOX (line), hint_new (_("done at")));
  gtk_box_append (GTK_BOX (line), GTK_WIDGET (row->time));
  gtk_box_append (GTK_BOX (line), row->done);
}

/* "82 °C at 14:20, planned 85 °C". */
static void
add_told (Row       *row,
          GtkWidget *line)
{
  WbUnit unit = wb_quantity_get_shown_unit (WB_QUANTITY_TEMPERATURE, row->owner->us_units);
  g_autoptr (GString) text = g_string_new (NULL);

  if (!isnan (row->step->actual_c))
    {
      g_autofree char *measured = wb_quantity_format (unit, row->step->actual_c, -1);

      g_string_append (text, measured);
    }
  if (row->step->done_at.known)
    {
      g_autofree char *at = wb_instant_format_short (row->step->done_at);

      g_string_append_printf (text, "%s%s", text->len > 0 ? " · " : "", at);
    }
  gtk_box_append (GTK_BOX (line), label_new (text->len > 0 ? text->str : _("not written down"), text->len > 0 ? "numeric" : "dim-label", 40));
}

static Row *
add_row (WbPourSteps          *self,
         const WbDataset      *data,
         const WbAppPourBatch *batch,
         const WbBatchStep    *step,
         const char           *key)
{
  Row *row = g_new0 (Row, 1);
  WbCure cure = wb_cure_of (NULL, batch->fragrance, data->wax);
  g_autofree char *words = wb_craft_method_dup_words (step, batch->sheet, &cure, self->us_units);
  g_autofree char *title = wb_craft_method_dup_title (step->kind), *heading = g_strdup_printf ("%d. %s", (int) step->position, title);
  g_autofree char *fills = step->kind == WB_STEP_POUR ? wb_pour_words_dup_fills (batch, self->us_units) : NULL;
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6), *head = label_new (heading, "strong", 24);
  const char *caution = wb_craft_method_get_caution (step->kind);

  row->owner = self;
  row->step = wb_record_copy (step);
  row->title = g_steal_pointer (&title);
  row->key = g_strdup_printf ("%s:%d", key, (int) step->position);
  row->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  gtk_widget_set_hexpand (head, TRUE);
  gtk_widget_set_valign (head, GTK_ALIGN_START);
  gtk_box_append (GTK_BOX (line), head);
  /* a cure is no moment of the pour */
  if (self->editable && step->kind != WB_STEP_CURE)
    {
      add_timer (row, line);
      add_fields (row, line);
    }
  else if (step->kind != WB_STEP_CURE)
    add_told (row, line);
  gtk_box_append (GTK_BOX (row->box), line);
  if (caution != NULL && self->editable)
    gtk_box_append (GTK_BOX (row->box), label_new (caution, "caution", 80));
  if (*words != '\0' && self->editable)
    gtk_box_append (GTK_BOX (row->box), label_new (words, "numeric", 80));
  if (fills != NULL && self->editable)
    gtk_box_append (GTK_BOX (row->box), label_new (fills, "numeric", 80));
  gtk_box_append (GTK_BOX (self->list), row->box);
  g_ptr_array_add (self->rows, row);
  return row;
}

/* ---- Class ---- */

static void
wb_pour_steps_dispose (GObject *object)
{
  WbPourSteps *self = WB_POUR_STEPS (object);

  g_clear_pointer (&self->box, gtk_widget_unparent);
  g_ptr_array_set_size (self->rows, 0);
  if (self->timers != NULL)
    g_signal_handlers_disconnect_by_data (self->timers, self);
  g_clear_object (&self->timers);
  G_OBJECT_CLASS (wb_pour_steps_parent_class)->dispose (object);
}

static void
wb_pour_steps_finalize (GObject *object)
{
  g_ptr_array_unref (WB_POUR_STEPS (object)->rows);
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

static void
wb_pour_steps_init (WbPourSteps *self)
{
  self->rows = g_ptr_array_new_with_free_func (row_free);
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  self->chart = WB_CHART_VIEW (wb_chart_view_new ());
  self->list = gtk_box_new (GTK_ORIENTATION_VERTICAL, 10);
  wb_chart_view_set_minimum (self->chart, CHART_WIDTH, CHART_HEIGHT);
  gtk_box_append (GTK_BOX (self->box), GTK_WIDGET (self->chart));
  gtk_box_append (GTK_BOX (self->box), self->list);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
}

GtkWidget *
wb_pour_steps_new (void)
{
  return g_object_new (WB_TYPE_POUR_STEPS, NULL);
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
      const WbBatchStep *now = steps->pdata[i], *was = ((const Row *) self->rows->pdata[i])->step;

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

/* What was typed is carried into the rows of the steps that are shown anew. */
static void
carry (WbPourSteps *self,
       GPtrArray   *typed)
{
  for (guint i = 0; i < self->rows->len && i < typed->len; i++)
    {
      Row *row = self->rows->pdata[i];
      char **texts = typed->pdata[i];

      if (row->measured == NULL)
        continue;
      if (texts[0] != NULL)
        wb_quantity_entry_put_typed (row->measured, texts[0]);
      if (texts[1] != NULL)
        wb_time_entry_set_text (row->time, texts[1]);
    }
}

static void
texts_free (gpointer data)
{
  char **texts = data;

  g_free (texts[0]);
  g_free (texts[1]);
  g_free (texts);
}

/* Two texts a row, measured and time; NULL: as it was shown. */
static GPtrArray *
dup_typed (WbPourSteps *self)
{
  GPtrArray *typed = g_ptr_array_new_with_free_func (texts_free);

  for (guint i = 0; i < self->rows->len; i++)
    {
      const Row *row = self->rows->pdata[i];
      char **texts = g_new0 (char *, 2);

      if (row->measured != NULL && wb_quantity_entry_get_touched (row->measured))
        texts[0] = g_strdup (wb_quantity_entry_get_text (row->measured));
      if (is_time_typed (row))
        texts[1] = g_strdup (wb_time_entry_get_text (row->time));
      g_ptr_array_add (typed, texts);
    }
  return typed;
}

void
wb_pour_steps_show (WbPourSteps          *self,
                    const WbDataset      *data,
                    const WbAppPourBatch *batch,
                    gboolean              us_units,
                    WbAppTimers          *timers,
                    const char           *key,
                    gboolean              editable)
{
  g_autoptr (GPtrArray) typed = NULL;
  GtkWidget *child;

  g_return_if_fail (WB_IS_POUR_STEPS (self));
  g_return_if_fail (data != NULL && batch != NULL && key != NULL);

  if (are_same_steps (self, batch->steps) && self->rows->len > 0 && self->editable == editable)
    {
      if (is_in_hand (self))
        return;
      if (wb_pour_steps_get_touched (self))
        typed = dup_typed (self);
    }
  take_timers (self, timers);
  self->us_units = us_units;
  self->invented = data->notebook != NULL && data->notebook->invented;
  self->editable = editable;
  self->filling = TRUE;
  while ((child = gtk_widget_get_first_child (self->list)) != NULL)
    gtk_box_remove (GTK_BOX (self->list), child);
  g_ptr_array_set_size (self->rows, 0);
  for (guint i = 0; i < batch->steps->len; i++)
    add_row (self, data, batch, batch->steps->pdata[i], key);
  if (typed != NULL)
    carry (self, typed);
  self->filling = FALSE;
  draw (self);
}

GPtrArray *
wb_pour_steps_dup_steps (WbPourSteps *self)
{
  GPtrArray *steps = g_ptr_array_new_with_free_func (wb_record_free);

  g_return_val_if_fail (WB_IS_POUR_STEPS (self), steps);

  for (guint i = 0; i < self->rows->len; i++)
    g_ptr_array_add (steps, dup_step (self->rows->pdata[i]));
  return steps;
}

gboolean
wb_pour_steps_check (WbPourSteps *self)
{
  g_return_val_if_fail (WB_IS_POUR_STEPS (self), FALSE);

  for (guint i = 0; i < self->rows->len; i++)
    {
      const Row *row = self->rows->pdata[i];
      WbInstant at;

      if (row->measured == NULL)
        continue;
      if (!wb_quantity_entry_check (row->measured))
        {
          gtk_widget_grab_focus (GTK_WIDGET (row->measured));
          return FALSE;
        }
      if (has_time (row) && g_strcmp0 (row->was, wb_time_entry_get_text (row->time)) != 0 && !wb_time_entry_get (row->time, &at))
        {
          gtk_widget_grab_focus (GTK_WIDGET (row->time));
          return FALSE;
        }
    }
  return TRUE;
}

gboolean
wb_pour_steps_get_touched (WbPourSteps *self)
{
  g_return_val_if_fail (WB_IS_POUR_STEPS (self), FALSE);

  for (guint i = 0; i < self->rows->len; i++)
    {
      const Row *row = self->rows->pdata[i];

      if (is_time_typed (row) || (row->measured != NULL && wb_quantity_entry_get_touched (row->measured)))
        return TRUE;
    }
  return FALSE;
}

/* ---- What is half typed ---- */

/* "4 pour measured". Caller frees. */
static char *
dup_key (const Row  *row,
         const char *field)
{
  return g_strdup_printf ("%d %s %s", (int) row->step->position, wb_step_words[row->step->kind].nick, field);
}

void
wb_pour_steps_keep (WbPourSteps *self,
                    GKeyFile    *file,
                    const char  *group)
{
  g_return_if_fail (WB_IS_POUR_STEPS (self));
  g_return_if_fail (file != NULL && group != NULL);

  for (guint i = 0; i < self->rows->len; i++)
    {
      const Row *row = self->rows->pdata[i];
      g_autofree char *measured = dup_key (row, "measured"), *time = dup_key (row, "time"), *at = dup_key (row, "at");

      if (row->measured != NULL && wb_quantity_entry_get_touched (row->measured))
        g_key_file_set_string (file, group, measured, wb_quantity_entry_get_text (row->measured));
      if (!is_time_typed (row))
        continue;
      g_key_file_set_string (file, group, time, wb_time_entry_get_text (row->time));
      if (get_time (row).known)
        g_key_file_set_int64 (file, group, at, get_time (row).utc_us);
    }
}

/* A time of day, or how long ago: of another day, or hours later, it would mean another moment. Then it stands there with its day. */
static void
put_time_back (Row        *row,
               const char *text,
               gint64      at_us)
{
  g_autofree char *with_day = wb_instant_format_short (wb_clock_at (wb_clock_get (), at_us));
  WbInstant now_means;

  wb_time_entry_set_text (row->time, text);
  now_means = get_time (row);
  if (at_us != 0 && (!now_means.known || ABS (now_means.utc_us - at_us) >= MINUTE_US))
    wb_time_entry_set_text (row->time, with_day);
}

void
wb_pour_steps_put_back (WbPourSteps *self,
                        GKeyFile    *file,
                        const char  *group)
{
  g_return_if_fail (WB_IS_POUR_STEPS (self));
  g_return_if_fail (file != NULL && group != NULL);

  self->filling = TRUE;
  for (guint i = 0; i < self->rows->len; i++)
    {
      Row *row = self->rows->pdata[i];
      g_autofree char *measured_key = dup_key (row, "measured"), *time_key = dup_key (row, "time"), *at_key = dup_key (row, "at");
      g_autofree char *measured = g_key_file_get_string (file, group, measured_key, NULL);
      g_autofree char *time = g_key_file_get_string (file, group, time_key, NULL);

      if (row->measured == NULL)
        continue;
      if (measured != NULL)
        wb_quantity_entry_put_typed (row->measured, measured);
      if (time != NULL)
        put_time_back (row, time, g_key_file_get_int64 (file, group, at_key, NULL));
    }
  self->filling = FALSE;
  draw (self);
}

GtkWidget *
wb_pour_steps_get_field (WbPourSteps *self,
                         int          kind,
                         const char  *name)
{
  g_return_val_if_fail (WB_IS_POUR_STEPS (self), NULL);

  for (guint i = 0; i < self->rows->len; i++)
    {
      const Row *row = self->rows->pdata[i];

      if (row->step->kind != kind)
        continue;
      return g_str_equal (name, "measured") ? GTK_WIDGET (row->measured)
             : g_str_equal (name, "time")   ? GTK_WIDGET (row->time)
             : g_str_equal (name, "done")   ? row->done
                                            : row->timer;
    }
  return NULL;
}
