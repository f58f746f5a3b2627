/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-calendar-private.h"

#include <glib/gi18n-lib.h>

struct _WbAppCalendarItem
{
  GObject           parent_instance;

  WbAppCalendarKind kind;
  char             *title;
  char             *detail;
  WbDay             day;
  WbInstant         at;
  gint64            experiment;
};

G_DEFINE_FINAL_TYPE (WbAppCalendarItem, wb_app_calendar_item, G_TYPE_OBJECT)

static void
wb_app_calendar_item_finalize (GObject *object)
{
  WbAppCalendarItem *self = WB_APP_CALENDAR_ITEM (object);

  g_free (self->title);
  g_free (self->detail);
  G_OBJECT_CLASS (wb_app_calendar_item_parent_class)->finalize (object);
}

static void
wb_app_calendar_item_class_init (WbAppCalendarItemClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = wb_app_calendar_item_finalize;
}

static void
wb_app_calendar_item_init (WbAppCalendarItem *self)
{
}

/* Takes the texts. */
static WbAppCalendarItem *
item_new (const WbAppCalendarEvent *event,
          char                     *title,
          char                     *detail)
{
  WbAppCalendarItem *self = g_object_new (WB_TYPE_APP_CALENDAR_ITEM, NULL);

  self->kind = event->kind;
  self->day = event->day;
  self->at = event->at;
  self->experiment = event->experiment;
  self->title = title;
  self->detail = detail;
  return self;
}

/* What a list says in one row: of several melts, of several cohorts. */
static gboolean
is_together (const WbAppCalendarEvent *a,
             const WbAppCalendarEvent *b)
{
  return a->kind == b->kind && a->day == b->day && a->at.utc_us == b->at.utc_us && a->experiment == b->experiment
         && (a->kind == WB_APP_CALENDAR_EVENING || a->kind == WB_APP_CALENDAR_BURN_CURE || a->kind == WB_APP_CALENDAR_SMELL_CURE);
}

/* Translated; caller frees. */
static char *
dup_title (const WbAppCalendarRead  *read,
           const WbAppCalendarEvent *event,
           guint                     samples,
           guint                     n)
{
  if (event->kind == WB_APP_CALENDAR_EVENING)
    return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s: %u sample in %u cohorts", "%s: %u samples in %u cohorts", samples),
                            ((const WbAppCalendarCohort *) g_ptr_array_index (read->cohorts, event->cohort))->code, samples, n);
  return wb_app_calendar_dup_cure_title (event->code, event->kind == WB_APP_CALENDAR_SMELL_CURE, samples);
}

/* The event and those of its kind behind it that a row says with it; they need not stand side by side. */
static WbAppCalendarItem *
together_new (const WbAppCalendarRead *read,
              guint                    first)
{
  const WbAppCalendarEvent *event = g_ptr_array_index (read->events, first);
  g_autoptr (GString) detail = g_string_new (NULL);
  guint n = 0, samples = 0;

  for (guint i = first; i < read->events->len; i++)
    {
      const WbAppCalendarEvent *other = g_ptr_array_index (read->events, i);

      if (!is_together (event, other))
        continue;
      n++;
      samples += other->samples;
      if (event->kind == WB_APP_CALENDAR_EVENING)
        g_string_append_printf (detail, "%s%s", n > 1 ? " · " : "", other->title);
      else
        g_string_append_printf (detail, "%s%s", n > 1 ? ", " : "", other->detail);
    }
  if (n == 1)
    return item_new (event, g_strdup (event->title), g_strdup (event->detail));
  return item_new (event, dup_title (read, event, samples, n), g_strdup (detail->str));
}

static gboolean
is_told (const WbAppCalendarRead *read,
         guint                    event)
{
  for (guint i = event; i > 0; i--)
    if (is_together (g_ptr_array_index (read->events, i - 1), g_ptr_array_index (read->events, event)))
      return TRUE;
  return FALSE;
}

GPtrArray *
wb_app_calendar_list_items (const WbAppCalendarRead *read)
{
  GPtrArray *items = g_ptr_array_new_with_free_func (g_object_unref);

  for (guint i = 0; i < read->events->len; i++)
    {
      const WbAppCalendarEvent *event = g_ptr_array_index (read->events, i);

      if (event->kind == WB_APP_CALENDAR_RELIGHT || event->kind == WB_APP_CALENDAR_KEEP)
        g_ptr_array_add (items, item_new (event, g_strdup (event->title), g_strdup (event->detail)));
      else if (!is_told (read, i))
        g_ptr_array_add (items, together_new (read, i));
    }
  return items;
}

gboolean
wb_app_calendar_item_equal (WbAppCalendarItem *a,
                            WbAppCalendarItem *b)
{
  return a->kind == b->kind && a->day == b->day && a->at.known == b->at.known && a->at.utc_us == b->at.utc_us
         && a->experiment == b->experiment && g_strcmp0 (a->title, b->title) == 0 && g_strcmp0 (a->detail, b->detail) == 0;
}

WbAppCalendarKind
wb_app_calendar_item_get_kind (WbAppCalendarItem *self)
{
  g_return_val_if_fail (WB_IS_APP_CALENDAR_ITEM (self), WB_APP_CALENDAR_EVENING);
  return self->kind;
}

const char *
wb_app_calendar_item_get_title (WbAppCalendarItem *self)
{
  g_return_val_if_fail (WB_IS_APP_CALENDAR_ITEM (self), NULL);
  return self->title;
}

const char *
wb_app_calendar_item_get_detail (WbAppCalendarItem *self)
{
  g_return_val_if_fail (WB_IS_APP_CALENDAR_ITEM (self), NULL);
  return self->detail;
}

WbDay
wb_app_calendar_item_get_day (WbAppCalendarItem *self)
{
  g_return_val_if_fail (WB_IS_APP_CALENDAR_ITEM (self), WB_DAY_NONE);
  return self->day;
}

WbInstant
wb_app_calendar_item_get_at (WbAppCalendarItem *self)
{
  g_return_val_if_fail (WB_IS_APP_CALENDAR_ITEM (self), WB_INSTANT_NONE);
  return self->at;
}

gint64
wb_app_calendar_item_get_experiment (WbAppCalendarItem *self)
{
  g_return_val_if_fail (WB_IS_APP_CALENDAR_ITEM (self), 0);
  return self->experiment;
}
