/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-pour-step.h"

#include "wb-clock.h"
#include "wb-craft-method.h"
#include "wb-quantity-entry.h"
#include "wb-time-entry.h"

#include <glib/gi18n.h>
#include <math.h>

/* CSS node: pourstep. Each field is named by its step. */

#define TITLE_CHARS 16
#define LINE_CHARS 60
#define MINUTE_US (60 * (gint64) G_USEC_PER_SEC)

struct _WbPourStep
{
  GtkWidget        parent_instance;

  /* children */
  GtkWidget       *box;
  GtkWidget       *cells[WB_POUR_STEP_N_COLUMNS];
  WbQuantityEntry *measured;  /* NULL: it is only shown */
  WbTimeEntry     *time;
  GtkWidget       *done;
  GtkWidget       *timer;     /* NULL: the step says no minutes */
  GtkWidget       *meant;     /* the day of the time, where that is not today */
  GtkWidget       *told;      /* what is wrong */

  /* owned */
  WbBatchStep     *step;      /* as it stood when it was shown */
  WbAppTimers     *timers;
  char            *title;
  char            *key;       /* of its timer */
  char            *was;       /* text of the time when it was shown */
  char            *said;      /* a text of the time that is said_at, to the second, whatever it would mean by itself */
  char            *hot;       /* NULL: not too hot */

  /* state */
  WbInstant        said_at;   /* unknown: none is */
  WbInstant        typed_at;  /* when the text was typed: what it means is what it meant then */
  gboolean         us_units;
  gboolean         filling;
};

G_DEFINE_FINAL_TYPE (WbPourStep, wb_pour_step, GTK_TYPE_WIDGET)

enum { CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

/* ---- What stands in it ---- */

static gboolean
has_time (WbPourStep *self)
{
  return self->time != NULL && *wb_time_entry_get_text (self->time) != '\0';
}

/* Its text stands for an instant that is known. */
static gboolean
is_said (WbPourStep *self)
{
  return self->said_at.known && g_strcmp0 (self->said, wb_time_entry_get_text (self->time)) == 0;
}

static gboolean
is_time_typed (WbPourStep *self)
{
  if (self->time == NULL)
    return FALSE;
  return g_strcmp0 (self->was, wb_time_entry_get_text (self->time)) != 0
         || (is_said (self) && (!self->step->done_at.known || self->said_at.utc_us != self->step->done_at.utc_us));
}

/*
 * What its text alone does not say: "16:00" of "1600" and of "5 min", the day of "16:00" where that is not today, both of the rest. No wider
 * than it has to be, for the titles beside it give way.
 */
static char *
dup_meant (WbPourStep *self)
{
  WbInstant at = wb_pour_step_get_time (self);
  gboolean today = at.known && wb_instant_get_day (at) == wb_instant_get_day (wb_clock_now (wb_clock_get ()));
  int hour, minute;
  gboolean of_day = wb_time_of_day_parse (wb_time_entry_get_text (self->time), &hour, &minute);

  if (!at.known || (today && of_day))
    return NULL;
  if (of_day)
    return wb_day_format_local (wb_instant_get_day (at));
  return today ? wb_instant_format_time (at) : wb_instant_format_short (at);
}

static void
show_meant (WbPourStep *self)
{
  g_autofree char *words = dup_meant (self);

  gtk_label_set_text (GTK_LABEL (self->meant), words != NULL ? words : "");
  gtk_widget_set_visible (self->meant, words != NULL && g_strcmp0 (words, wb_time_entry_get_text (self->time)) != 0);
}

static void
show_told (WbPourStep *self)
{
  const char *wrong = self->measured != NULL ? wb_quantity_entry_get_problem (self->measured) : NULL;
  const char *when = self->time != NULL ? wb_time_entry_get_problem (self->time) : NULL;
  const char *words = wrong != NULL ? wrong : when != NULL ? when : self->hot;

  gtk_label_set_text (GTK_LABEL (self->told), words != NULL ? words : "");
  gtk_widget_set_visible (self->told, words != NULL);
}

static void
on_typed_cb (WbPourStep *self)
{
  if (!self->filling)
    g_signal_emit (self, signals[CHANGED], 0);
}

static void
on_time_typed_cb (WbPourStep *self)
{
  self->typed_at = wb_clock_now (wb_clock_get ());
  show_meant (self);
  on_typed_cb (self);
}

/* The text stands for that instant from now on. */
static void
say (WbPourStep *self,
     const char *text,
     WbInstant   at)
{
  g_free (self->said);
  self->said = g_strdup (text);
  self->said_at = at;
  wb_time_entry_set_text (self->time, text);
  show_meant (self);
}

/* ---- Timer ---- */

/* "44:10". */
static char *
dup_left (double left_s)
{
  gint64 seconds = (gint64) ceil (left_s);

  return g_strdup_printf ("%" G_GINT64_FORMAT ":%02d", seconds / 60, (int) (seconds % 60));
}

/* What its button says. Caller frees. */
static char *
dup_timer_words (WbPourStep *self)
{
  gboolean doubtful = wb_app_timers_get_doubtful (self->timers, self->key);
  double left_s;
  WbAppTimerState state = wb_app_timers_get (self->timers, self->key, &left_s);
  g_autofree char *left = dup_left (left_s), *minutes = NULL;

  if (state == WB_APP_TIMER_RUNNING)
    /* Translators: what is left of a timer, "44:10"; "about" where only the computer's clock knows. */
    return g_strdup_printf (doubtful ? _("❚❚ about %s") : _("❚❚ %s"), left);
  if (state == WB_APP_TIMER_PAUSED)
    return g_strdup_printf (_("▶ %s"), left);
  if (state == WB_APP_TIMER_ENDED)
    return g_strdup (_("Time is up"));
  minutes = wb_number_format_trimmed (self->step->minutes, 1, NULL);
  /* Translators: begins a timer of so many minutes. */
  return g_strdup_printf (_("▶ %s min"), minutes);
}

void
wb_pour_step_show_timer (WbPourStep *self)
{
  g_autofree char *words = NULL;
  WbAppTimerState state;
  const char *what;

  g_return_if_fail (WB_IS_POUR_STEP (self));

  if (self->timer == NULL)
    return;
  state = wb_app_timers_get (self->timers, self->key, NULL);
  words = dup_timer_words (self);
  if (g_strcmp0 (gtk_button_get_label (GTK_BUTTON (self->timer)), words) == 0)
    return;
  gtk_button_set_label (GTK_BUTTON (self->timer), words);
  what = wb_app_timers_get_doubtful (self->timers, self->key) ? _("The computer was started anew while it ran: counted by the computer's clock")
         : state == WB_APP_TIMER_RUNNING ? _("Pause the timer") : state == WB_APP_TIMER_PAUSED ? _("Let the timer go on") : _("Start the timer");
  gtk_widget_set_tooltip_text (self->timer, what);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->timer), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, what, -1);
}

gboolean
wb_pour_step_get_running (WbPourStep *self)
{
  WbAppTimerState state;

  g_return_val_if_fail (WB_IS_POUR_STEP (self), FALSE);

  if (self->timer == NULL)
    return FALSE;
  state = wb_app_timers_get (self->timers, self->key, NULL);
  return state == WB_APP_TIMER_RUNNING || state == WB_APP_TIMER_PAUSED;
}

static void
on_timer_cb (WbPourStep *self)
{
  switch (wb_app_timers_get (self->timers, self->key, NULL))
    {
    case WB_APP_TIMER_RUNNING:
      wb_app_timers_pause (self->timers, self->key);
      break;
    case WB_APP_TIMER_PAUSED:
      wb_app_timers_resume (self->timers, self->key);
      break;
    case WB_APP_TIMER_NONE:
    case WB_APP_TIMER_ENDED:
    default:
      wb_app_timers_start (self->timers, self->key, self->title, self->step->minutes * 60);
      break;
    }
}

/* ---- Building ---- */

static void
on_done_cb (WbPourStep *self)
{
  WbInstant now = wb_clock_now (wb_clock_get ());
  g_autofree char *text = wb_instant_format_time (now);

  say (self, text, now);
  if (self->timer != NULL)
    wb_app_timers_drop (self->timers, self->key);
  on_typed_cb (self);
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
name (WbPourStep *self,
      GtkWidget  *widget,
      const char *what)
{
  g_autofree char *label = g_strdup_printf ("%s, %s", self->title, what);

  gtk_accessible_update_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
}

/* There is a temperature to read: once a candle sets, nobody has a thermometer in it. */
static gboolean
is_of_the_melt (const WbBatchStep *step)
{
  return !isnan (step->to_c) || !isnan (step->actual_c) || (step->kind <= WB_STEP_POUR && step->kind != WB_STEP_STIR) || step->kind == WB_STEP_TOP_UP;
}

static void
add_fields (WbPourStep *self)
{
  const WbFieldSpec *spec = wb_record_type_find_field (&wb_batch_step_type, "actual_c");
  WbUnit unit = wb_quantity_get_shown_unit (WB_QUANTITY_TEMPERATURE, self->us_units);
  g_autofree char *measured = g_strdup_printf (_("%s, measured"), self->title), *at = g_strdup_printf (_("%s, done at"), self->title);
  g_autofree char *time = self->step->done_at.known ? wb_instant_format_time (self->step->done_at) : g_strdup ("");

  self->measured = WB_QUANTITY_ENTRY (wb_quantity_entry_new (WB_QUANTITY_TEMPERATURE, unit));
  wb_quantity_entry_set_range (self->measured, spec->minimum, spec->maximum);
  wb_quantity_entry_set_width_chars (self->measured, 5);
  wb_quantity_entry_set_label (self->measured, measured);
  wb_quantity_entry_set_told_elsewhere (self->measured, TRUE);
  wb_quantity_entry_set_value (self->measured, self->step->actual_c);
  g_signal_connect_swapped (self->measured, "changed", G_CALLBACK (on_typed_cb), self);
  g_signal_connect_swapped (self->measured, "told", G_CALLBACK (show_told), self);
  self->time = WB_TIME_ENTRY (wb_time_entry_new (at));
  wb_time_entry_set_optional (self->time, TRUE);
  wb_time_entry_set_by_clock (self->time, TRUE);
  wb_time_entry_set_compact (self->time, TRUE);
  self->meant = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0, "visible", FALSE, NULL);
  gtk_widget_add_css_class (self->meant, "hint");
  say (self, time, self->step->done_at);
  self->was = g_strdup (wb_time_entry_get_text (self->time));
  g_signal_connect_swapped (self->time, "changed", G_CALLBACK (on_time_typed_cb), self);
  g_signal_connect_swapped (self->time, "told", G_CALLBACK (show_told), self);
  self->done = gtk_button_new_with_label (_("Now"));
  gtk_widget_set_tooltip_text (self->done, _("Done now"));
  name (self, self->done, _("done now"));
  g_signal_connect_swapped (self->done, "clicked", G_CALLBACK (on_done_cb), self);
  gtk_widget_set_visible (GTK_WIDGET (self->measured), is_of_the_melt (self->step));
  gtk_box_append (GTK_BOX (self->cells[WB_POUR_STEP_MEASURED]), GTK_WIDGET (self->measured));
  gtk_box_append (GTK_BOX (self->cells[WB_POUR_STEP_TIME]), GTK_WIDGET (self->time));
  gtk_box_append (GTK_BOX (self->cells[WB_POUR_STEP_TIME]), self->meant);
  gtk_box_append (GTK_BOX (self->cells[WB_POUR_STEP_DONE]), self->done);
}

static void
add_told (WbPourStep      *self,
          WbPourStepColumn column,
          const char      *text)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_widget_add_css_class (label, "numeric");
  gtk_box_append (GTK_BOX (self->cells[column]), label);
}

/* "82 °C" and "25 Nov, 14:20". */
static void
add_done (WbPourStep *self)
{
  WbUnit unit = wb_quantity_get_shown_unit (WB_QUANTITY_TEMPERATURE, self->us_units);
  g_autofree char *measured = isnan (self->step->actual_c) ? NULL : wb_quantity_format (unit, self->step->actual_c, -1);
  g_autofree char *at = self->step->done_at.known ? wb_instant_format_short (self->step->done_at) : NULL;

  if (measured != NULL)
    add_told (self, WB_POUR_STEP_MEASURED, measured);
  if (at != NULL)
    add_told (self, WB_POUR_STEP_TIME, at);
}

static void
add_cells (WbPourStep *self)
{
  g_autofree char *heading = g_strdup_printf ("%d. %s", (int) self->step->position, self->title);
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6), *head = label_new (heading, "strong", TITLE_CHARS);

  /* takes what the cells leave, which are as wide as they need to be and no wider: so they stand under each other */
  g_object_set (head, "wrap-mode", PANGO_WRAP_WORD, "hexpand", TRUE, NULL);
  gtk_box_append (GTK_BOX (line), head);
  for (guint i = 0; i < WB_POUR_STEP_N_COLUMNS; i++)
    {
      self->cells[i] = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
      gtk_widget_set_valign (self->cells[i], GTK_ALIGN_CENTER);
      gtk_box_append (GTK_BOX (line), self->cells[i]);
    }
  gtk_box_append (GTK_BOX (self->box), line);
  self->told = label_new ("", "problem", LINE_CHARS);
  g_object_set (self->told, "visible", FALSE, "accessible-role", GTK_ACCESSIBLE_ROLE_STATUS, NULL);
  gtk_box_append (GTK_BOX (self->box), self->told);
}

/* ---- Class ---- */

static void
wb_pour_step_dispose (GObject *object)
{
  WbPourStep *self = WB_POUR_STEP (object);

  g_clear_pointer (&self->box, gtk_widget_unparent);
  g_clear_object (&self->timers);
  G_OBJECT_CLASS (wb_pour_step_parent_class)->dispose (object);
}

static void
wb_pour_step_finalize (GObject *object)
{
  WbPourStep *self = WB_POUR_STEP (object);

  wb_record_free (self->step);
  g_free (self->title);
  g_free (self->key);
  g_free (self->was);
  g_free (self->said);
  g_free (self->hot);
  G_OBJECT_CLASS (wb_pour_step_parent_class)->finalize (object);
}

static void
wb_pour_step_class_init (WbPourStepClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = wb_pour_step_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_pour_step_finalize;
  signals[CHANGED] = g_signal_new ("changed", WB_TYPE_POUR_STEP, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (klass), "pourstep");
}

static void
wb_pour_step_init (WbPourStep *self)
{
  self->said_at = WB_INSTANT_NONE;
  self->typed_at = WB_INSTANT_NONE;
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
}

GtkWidget *
wb_pour_step_new (const WbBatchStep *step,
                  gboolean           us_units,
                  gboolean           asked)
{
  WbPourStep *self = g_object_new (WB_TYPE_POUR_STEP, NULL);

  g_return_val_if_fail (step != NULL, NULL);

  self->step = wb_record_copy (step);
  self->title = wb_craft_method_dup_title (step->kind);
  self->us_units = us_units;
  self->filling = TRUE;
  add_cells (self);
  if (asked)
    add_fields (self);
  else
    add_done (self);
  self->filling = FALSE;
  return GTK_WIDGET (self);
}

void
wb_pour_step_set_timer (WbPourStep  *self,
                        WbAppTimers *timers,
                        const char  *key)
{
  g_return_if_fail (WB_IS_POUR_STEP (self));
  g_return_if_fail (timers != NULL && key != NULL && self->timers == NULL);

  if (self->measured == NULL || !(self->step->minutes > 0))
    return;
  self->timers = g_object_ref (timers);
  self->key = g_strdup (key);
  self->timer = gtk_button_new_with_label ("");
  gtk_widget_add_css_class (self->timer, "numeric");
  name (self, self->timer, _("timer"));
  g_signal_connect_swapped (self->timer, "clicked", G_CALLBACK (on_timer_cb), self);
  gtk_box_append (GTK_BOX (self->cells[WB_POUR_STEP_TIMER]), self->timer);
  wb_pour_step_show_timer (self);
}

void
wb_pour_step_add_line (WbPourStep *self,
                       const char *text,
                       const char *style)
{
  g_return_if_fail (WB_IS_POUR_STEP (self));
  g_return_if_fail (text != NULL);

  gtk_box_append (GTK_BOX (self->box), label_new (text, style, LINE_CHARS));
}

void
wb_pour_step_join (WbPourStep          *self,
                   GtkSizeGroup *const *columns)
{
  g_return_if_fail (WB_IS_POUR_STEP (self));

  for (guint i = 0; i < WB_POUR_STEP_N_COLUMNS; i++)
    gtk_size_group_add_widget (columns[i], self->cells[i]);
}

/* ---- What was typed ---- */

const WbBatchStep *
wb_pour_step_get_step (WbPourStep *self)
{
  g_return_val_if_fail (WB_IS_POUR_STEP (self), NULL);
  return self->step;
}

WbInstant
wb_pour_step_get_time (WbPourStep *self)
{
  WbInstant at = WB_INSTANT_NONE;

  g_return_val_if_fail (WB_IS_POUR_STEP (self), WB_INSTANT_NONE);

  if (self->time == NULL)
    return self->step->done_at;
  if (!has_time (self))
    return WB_INSTANT_NONE;
  if (is_said (self))
    return self->said_at;
  if (self->typed_at.known)
    at = wb_time_entry_get_at (self->time, self->typed_at);
  /* typed too early, and has come meanwhile */
  return at.known ? at : wb_time_entry_get_at (self->time, wb_clock_now (wb_clock_get ()));
}

WbBatchStep *
wb_pour_step_dup_step (WbPourStep *self)
{
  WbBatchStep *step;

  g_return_val_if_fail (WB_IS_POUR_STEP (self), NULL);

  step = wb_record_copy (self->step);
  if (self->measured == NULL)
    return step;
  step->actual_c = wb_quantity_entry_get_value (self->measured);
  step->done_at = wb_pour_step_get_time (self);
  return step;
}

gboolean
wb_pour_step_get_asked (WbPourStep *self)
{
  g_return_val_if_fail (WB_IS_POUR_STEP (self), FALSE);
  return self->measured != NULL;
}

gboolean
wb_pour_step_get_touched (WbPourStep *self)
{
  g_return_val_if_fail (WB_IS_POUR_STEP (self), FALSE);
  return self->measured != NULL && (is_time_typed (self) || wb_quantity_entry_get_touched (self->measured));
}

gboolean
wb_pour_step_check (WbPourStep *self)
{
  WbInstant at;

  g_return_val_if_fail (WB_IS_POUR_STEP (self), FALSE);

  if (self->measured == NULL)
    return TRUE;
  if (!wb_quantity_entry_check (self->measured))
    {
      gtk_widget_grab_focus (GTK_WIDGET (self->measured));
      return FALSE;
    }
  if (has_time (self) && !is_said (self) && !wb_time_entry_get (self->time, &at))
    {
      gtk_widget_grab_focus (GTK_WIDGET (self->time));
      return FALSE;
    }
  return TRUE;
}

void
wb_pour_step_set_first (WbPourStep *self,
                        WbInstant   first)
{
  g_return_if_fail (WB_IS_POUR_STEP (self));

  if (self->time == NULL)
    return;
  wb_time_entry_set_first (self->time, first);
  show_meant (self);
}

void
wb_pour_step_tell_hot (WbPourStep *self,
                       const char *words)
{
  g_return_if_fail (WB_IS_POUR_STEP (self));

  g_free (self->hot);
  self->hot = g_strdup (words);
  if (self->measured != NULL && words != NULL)
    gtk_widget_add_css_class (GTK_WIDGET (self->measured), "error");
  else if (self->measured != NULL)
    gtk_widget_remove_css_class (GTK_WIDGET (self->measured), "error");
  show_told (self);
}

const char *
wb_pour_step_get_told (WbPourStep *self)
{
  g_return_val_if_fail (WB_IS_POUR_STEP (self), NULL);
  return gtk_widget_get_visible (self->told) ? gtk_label_get_text (GTK_LABEL (self->told)) : NULL;
}

void
wb_pour_step_take_typed (WbPourStep *self,
                         WbPourStep *from)
{
  g_return_if_fail (WB_IS_POUR_STEP (self) && WB_IS_POUR_STEP (from));

  if (self->measured == NULL || from->measured == NULL)
    return;
  self->filling = TRUE;
  if (wb_quantity_entry_get_touched (from->measured))
    wb_quantity_entry_put_typed (self->measured, wb_quantity_entry_get_text (from->measured));
  if (is_time_typed (from))
    {
      self->typed_at = from->typed_at;
      g_free (self->said);
      self->said = g_strdup (from->said);
      self->said_at = from->said_at;
      wb_time_entry_set_text (self->time, wb_time_entry_get_text (from->time));
      show_meant (self);
    }
  self->filling = FALSE;
}

/* ---- What is half typed ---- */

/* "4 pour measured". Caller frees. */
static char *
dup_key (WbPourStep *self,
         const char *field)
{
  return g_strdup_printf ("%d %s %s", (int) self->step->position, wb_step_words[self->step->kind].nick, field);
}

void
wb_pour_step_keep (WbPourStep *self,
                   GKeyFile   *file,
                   const char *group)
{
  g_autofree char *measured = NULL, *time = NULL, *at = NULL;

  g_return_if_fail (WB_IS_POUR_STEP (self));
  g_return_if_fail (file != NULL && group != NULL);

  measured = dup_key (self, "measured");
  time = dup_key (self, "time");
  at = dup_key (self, "at");
  if (self->measured != NULL && wb_quantity_entry_get_touched (self->measured))
    g_key_file_set_string (file, group, measured, wb_quantity_entry_get_text (self->measured));
  if (!is_time_typed (self))
    return;
  g_key_file_set_string (file, group, time, wb_time_entry_get_text (self->time));
  if (wb_pour_step_get_time (self).known)
    g_key_file_set_int64 (file, group, at, wb_pour_step_get_time (self).utc_us);
}

/* A time of day, or how long ago: of another day, or hours later, it would mean another moment. Then its own time stands there. */
static void
put_time_back (WbPourStep *self,
               const char *text,
               gint64      at_us)
{
  WbInstant at = wb_clock_at (wb_clock_get (), at_us), now_means;
  g_autofree char *own = wb_instant_format_time (at);

  self->typed_at = WB_INSTANT_NONE;
  wb_time_entry_set_text (self->time, text);
  now_means = wb_pour_step_get_time (self);
  if (at_us != 0)
    say (self, now_means.known && ABS (now_means.utc_us - at_us) < MINUTE_US ? text : own, at);
}

void
wb_pour_step_put_back (WbPourStep *self,
                       GKeyFile   *file,
                       const char *group)
{
  g_autofree char *measured_key = NULL, *time_key = NULL, *at_key = NULL, *measured = NULL, *time = NULL;

  g_return_if_fail (WB_IS_POUR_STEP (self));
  g_return_if_fail (file != NULL && group != NULL);

  if (self->measured == NULL)
    return;
  measured_key = dup_key (self, "measured");
  time_key = dup_key (self, "time");
  at_key = dup_key (self, "at");
  measured = g_key_file_get_string (file, group, measured_key, NULL);
  time = g_key_file_get_string (file, group, time_key, NULL);
  self->filling = TRUE;
  if (measured != NULL)
    wb_quantity_entry_put_typed (self->measured, measured);
  if (time != NULL)
    put_time_back (self, time, g_key_file_get_int64 (file, group, at_key, NULL));
  self->filling = FALSE;
}

GtkWidget *
wb_pour_step_get_field (WbPourStep *self,
                        const char *field)
{
  g_return_val_if_fail (WB_IS_POUR_STEP (self), NULL);

  return g_str_equal (field, "measured") ? (GtkWidget *) self->measured
         : g_str_equal (field, "time")   ? (GtkWidget *) self->time
         : g_str_equal (field, "done")   ? self->done
                                         : self->timer;
}
