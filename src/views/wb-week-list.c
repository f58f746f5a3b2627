/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-week-list.h"

#include "wb-bundle.h"
#include "wb-clock.h"
#include "wb-due-row.h"
#include "wb-weekday.h"

#include <glib/gi18n.h>

#define DAYS 7
/* So many rows, and Today is still seen whole. */
#define MOST_ROWS 8

struct _WbWeekList
{
  GtkWidget      parent_instance;

  /* children */
  GtkWidget     *box;
  GtkLabel      *summary;
  GtkLabel      *problem;
  GtkWidget     *ask;
  GtkListBox    *list;
  GtkLabel      *more;

  /* owned */
  WbAppCalendar *calendar;  /* NULL: none */
  GListModel    *shown;     /* WbAppCalendarItem of the rows; NULL: none */

  /* state */
  WbDay          day;       /* on which the rows were made: they say "today" */
};

G_DEFINE_FINAL_TYPE (WbWeekList, wb_week_list, GTK_TYPE_WIDGET)

static const char *
word_of (WbAppCalendarKind kind)
{
  switch (kind)
    {
    case WB_APP_CALENDAR_EVENING:
      return _("evening");
    case WB_APP_CALENDAR_RELIGHT:
      return _("cooled");
    case WB_APP_CALENDAR_BURN_CURE:
      return _("cured");
    case WB_APP_CALENDAR_SMELL_CURE:
      return _("smell");
    case WB_APP_CALENDAR_KEEP:
    default:
      return _("kept");
    }
}

static WbDay
get_today (void)
{
  return wb_instant_get_day (wb_clock_now (wb_clock_get ()));
}

/* "today, 19:00", "Tue 1 Dec, 19:00". Caller frees. */
static char *
dup_when (WbDay     day,
          WbInstant at)
{
  g_autofree char *date = day == get_today () ? g_strdup (_("today"))
                          : day == get_today () + 1 ? g_strdup (_("tomorrow")) : wb_day_format_of_week (day, NULL);
  g_autofree char *time = at.known ? wb_instant_format_time (at) : NULL;

  return time != NULL ? g_strdup_printf ("%s, %s", date, time) : g_steal_pointer (&date);
}

static GtkWidget *
create_row (gpointer data,
            gpointer user)
{
  WbAppCalendarItem *item = data;
  g_autofree char *when = dup_when (wb_app_calendar_item_get_day (item), wb_app_calendar_item_get_at (item));
  WbAppCalendarKind kind = wb_app_calendar_item_get_kind (item);

  return wb_due_row_new (kind == WB_APP_CALENDAR_EVENING ? WB_BADGE_NOTE : WB_BADGE_PLAIN, word_of (kind),
                         wb_app_calendar_item_get_title (item), wb_app_calendar_item_get_detail (item), when);
}

static gboolean
is_shown (WbWeekList        *self,
          WbAppCalendarItem *item)
{
  WbDay day = wb_app_calendar_item_get_day (item), next = wb_app_calendar_get_next_evening (self->calendar);

  return day < get_today () + DAYS
         || (day == next && wb_app_calendar_item_get_kind (item) == WB_APP_CALENDAR_EVENING);
}

/* The next evening's begin; unknown: none is planned. */
static WbInstant
find_next_begin (WbWeekList *self)
{
  guint n = g_list_model_get_n_items (G_LIST_MODEL (self->calendar));

  for (guint i = 0; i < n; i++)
    {
      g_autoptr (WbAppCalendarItem) item = g_list_model_get_item (G_LIST_MODEL (self->calendar), i);

      if (wb_app_calendar_item_get_kind (item) == WB_APP_CALENDAR_EVENING)
        return wb_app_calendar_item_get_at (item);
    }
  return WB_INSTANT_NONE;
}

static char *
dup_summary (WbWeekList *self,
             guint       n_rows)
{
  WbDay next = wb_app_calendar_get_next_evening (self->calendar), last = wb_app_calendar_get_last_evening (self->calendar);
  g_autofree char *when = NULL, *end = NULL;

  if (wb_app_calendar_get_asks_days (self->calendar))
    return g_strdup (_("On which evenings is there time for the bench?"));
  if (next == WB_DAY_NONE)
    return g_strdup (n_rows == 0 ? _("Nothing this week.") : NULL);
  when = dup_when (next, find_next_begin (self));
  /* the plan knows no answers: which of the candles are worth it, what to burn next says */
  if (last == next)
    return g_strdup_printf (_("Next evening: %s, the last that is planned. The plan has room for every candle; what to burn next says which may rest."), when);
  end = wb_day_format_local (last);
  return g_strdup_printf (_("Next evening: %s. Last planned burn: %s. The plan has room for every candle; what to burn next says which may rest."), when, end);
}

static void
set_label (GtkLabel   *label,
           const char *text)
{
  gtk_label_set_text (label, text != NULL ? text : "");
  gtk_widget_set_visible (GTK_WIDGET (label), text != NULL);
}

/* What says the same is the same object in the next plan, too. */
static gboolean
is_same (WbWeekList *self,
         GListModel *fresh)
{
  guint n = g_list_model_get_n_items (fresh);

  if (self->shown == NULL || self->day != get_today () || g_list_model_get_n_items (self->shown) != n)
    return FALSE;
  for (guint i = 0; i < n; i++)
    {
      g_autoptr (GObject) first = g_list_model_get_item (self->shown, i), second = g_list_model_get_item (fresh, i);

      if (first != second)
        return FALSE;
    }
  return TRUE;
}

/* The keyboard stays in a row as long as the rows do. */
static void
show_rows (WbWeekList *self,
           GListModel *fresh)
{
  if (is_same (self, fresh))
    return;
  self->day = get_today ();
  g_set_object (&self->shown, fresh);
  gtk_list_box_bind_model (self->list, self->shown, create_row, NULL, NULL);
  gtk_widget_set_visible (GTK_WIDGET (self->list), g_list_model_get_n_items (fresh) > 0);
}

static void
fill (WbWeekList *self)
{
  guint n = g_list_model_get_n_items (G_LIST_MODEL (self->calendar)), left = 0;
  g_autoptr (GListStore) shown = g_list_store_new (WB_TYPE_APP_CALENDAR_ITEM);
  g_autofree char *summary = NULL, *more = NULL;
  guint rows;

  for (guint i = 0; i < n; i++)
    {
      g_autoptr (WbAppCalendarItem) item = g_list_model_get_item (G_LIST_MODEL (self->calendar), i);

      if (is_shown (self, item) && g_list_model_get_n_items (G_LIST_MODEL (shown)) < MOST_ROWS)
        g_list_store_append (shown, item);
      else
        left++;
    }
  rows = g_list_model_get_n_items (G_LIST_MODEL (shown));
  summary = dup_summary (self, rows);
  more = left == 0 ? NULL : g_strdup_printf (ngettext ("%u thing more comes later: the calendar has it", "%u things more come later: the calendar has them", left), left);
  show_rows (self, G_LIST_MODEL (shown));
  gtk_label_set_text (self->summary, summary != NULL ? summary : "");
  set_label (self->more, more);
  set_label (self->problem, wb_app_calendar_get_problems (self->calendar));
  gtk_widget_set_visible (self->ask, wb_app_calendar_get_asks_days (self->calendar));
  gtk_widget_set_visible (self->box, n > 0 || wb_app_calendar_get_problems (self->calendar) != NULL
                                     || wb_app_calendar_get_asks_days (self->calendar));
}

static void
on_list_row_activated_cb (WbWeekList    *self,
                          GtkListBoxRow *row)
{
  g_autoptr (WbAppCalendarItem) item = self->shown != NULL ? g_list_model_get_item (self->shown, gtk_list_box_row_get_index (row)) : NULL;

  if (item == NULL || wb_app_calendar_item_get_experiment (item) == 0)
    return;
  switch (wb_app_calendar_item_get_kind (item))
    {
    case WB_APP_CALENDAR_EVENING:
    case WB_APP_CALENDAR_RELIGHT:
      gtk_widget_activate_action (GTK_WIDGET (self), "win.go", "(sx)", "burn", wb_app_calendar_item_get_experiment (item));
      break;
    case WB_APP_CALENDAR_BURN_CURE:
    case WB_APP_CALENDAR_SMELL_CURE:
    case WB_APP_CALENDAR_KEEP:
    default:
      gtk_widget_activate_action (GTK_WIDGET (self), "win.go", "(sx)", "pour", wb_app_calendar_item_get_experiment (item));
      break;
    }
}

static void
wb_week_list_dispose (GObject *object)
{
  WbWeekList *self = WB_WEEK_LIST (object);

  wb_week_list_set_calendar (self, NULL);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_WEEK_LIST);
  G_OBJECT_CLASS (wb_week_list_parent_class)->dispose (object);
}

static void
wb_week_list_class_init (WbWeekListClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_week_list_dispose;
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "week-list.ui");
  gtk_widget_class_bind_template_child (widget_class, WbWeekList, box);
  gtk_widget_class_bind_template_child (widget_class, WbWeekList, summary);
  gtk_widget_class_bind_template_child (widget_class, WbWeekList, problem);
  gtk_widget_class_bind_template_child (widget_class, WbWeekList, ask);
  gtk_widget_class_bind_template_child (widget_class, WbWeekList, list);
  gtk_widget_class_bind_template_child (widget_class, WbWeekList, more);
  gtk_widget_class_bind_template_callback (widget_class, on_list_row_activated_cb);
}

static void
wb_week_list_init (WbWeekList *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  gtk_widget_set_visible (self->box, FALSE);
}

void
wb_week_list_set_calendar (WbWeekList    *self,
                           WbAppCalendar *calendar)
{
  g_return_if_fail (WB_IS_WEEK_LIST (self));

  if (self->calendar == calendar)
    return;
  if (self->calendar != NULL)
    g_signal_handlers_disconnect_by_data (self->calendar, self);
  g_set_object (&self->calendar, calendar);
  if (calendar != NULL)
    {
      g_signal_connect_swapped (calendar, "notify::loaded", G_CALLBACK (fill), self);
      fill (self);
      return;
    }
  g_clear_object (&self->shown);
  if (self->list != NULL)
    gtk_list_box_bind_model (self->list, NULL, NULL, NULL, NULL);
  if (self->box != NULL)
    gtk_widget_set_visible (self->box, FALSE);
}
