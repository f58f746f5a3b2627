/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-time-entry.h"

#include "wb-accessible-name.h"
#include "wb-clock.h"
#include "wb-focus-walk.h"
#include "wb-quantity.h"

#include <glib/gi18n.h>
#include <stdlib.h>
#include <string.h>

/* CSS node: timeentry. The entry inside carries the name and, as description, what was understood or the problem. */

#define LONGEST_AGO_S (2 * 86400.0)
#define MINUTE_US (60 * (gint64) G_USEC_PER_SEC)

struct _WbTimeEntry
{
  GtkWidget  parent_instance;

  /* children */
  GtkWidget *row;
  GtkWidget *entry;
  GtkWidget *which;  /* of two, where clocks were put back in between */
  GtkWidget *meaning;
  GtkWidget *problem;

  /* owned */
  char      *why;

  /* state */
  WbInstant  earliest;
  WbInstant  from;   /* unknown: a time of day is the last that has been */
  WbInstant  first;  /* the same, without words about it */
  gboolean   compact;
  gboolean   optional; /* empty is never, not now */
  gboolean   by_clock; /* a bare number is no minutes */
  gboolean   quiet;
  gboolean   quiet_which;
};

G_DEFINE_FINAL_TYPE (WbTimeEntry, wb_time_entry, GTK_TYPE_WIDGET)

enum { CHANGED, ACTIVATE, TOLD, N_SIGNALS };
static guint signals[N_SIGNALS];

/* The minute of the lighting itself began before it. */
static gboolean
is_too_early (WbTimeEntry *self,
              WbInstant    instant)
{
  return self->earliest.known && instant.utc_us <= self->earliest.utc_us - 60 * (gint64) G_USEC_PER_SEC;
}

/*
 * The instants of that time of that day which have been, the later one last; 0: none, or the time does not come that day. Where
 * clocks were put back in between, a time comes twice; one of the two may not have been yet, or lie before the earliest.
 */
static guint
find_on_day (WbTimeEntry *self,
             WbDay        day,
             int          hour,
             int          minute,
             WbInstant    now,
             WbInstant    found[2])
{
  WbInstant first = WB_INSTANT_NONE, last = WB_INSTANT_NONE;

  if (!wb_clock_local_twice (wb_clock_get (), day, hour, minute, 0, &first, &last))
    {
      first = WB_INSTANT_NONE;
      last = wb_clock_local (wb_clock_get (), day, hour, minute, 0);
    }
  if (first.known && last.utc_us > now.utc_us)
    {
      last = first;
      first = WB_INSTANT_NONE;
    }
  if (!last.known || last.utc_us > now.utc_us)
    return 0;
  if (first.known && is_too_early (self, first))
    first = WB_INSTANT_NONE;
  found[0] = first.known ? first : last;
  found[1] = last;
  return first.known ? 2 : 1;
}

/* Of the last day on which it was; where it counts from an instant, of the first day on which it was after that. */
static guint
find_times_of_day (WbTimeEntry *self,
                   int          hour,
                   int          minute,
                   WbInstant    now,
                   WbInstant    found[2])
{
  WbDay today = wb_instant_get_day (now);
  guint n = 0;

  /* nothing before it will do: no search further back */
  if (self->first.known)
    {
      for (WbDay day = wb_instant_get_day (wb_clock_at (wb_clock_get (), self->first.utc_us)); day <= today; day++)
        {
          n = find_on_day (self, day, hour, minute, now, found);
          if (n > 0 && found[1].utc_us >= self->first.utc_us)
            return n;
        }
      return 0;
    }
  if (self->from.known)
    for (WbDay day = wb_instant_get_day (wb_clock_at (wb_clock_get (), self->from.utc_us)); day <= today; day++)
      {
        n = find_on_day (self, day, hour, minute, now, found);
        if (n > 0 && found[1].utc_us > self->from.utc_us - MINUTE_US)
          return n;
      }
  for (WbDay day = today; (n = find_on_day (self, day, hour, minute, now, found)) == 0; )
    day--;
  return n;
}

/* "UTC+1", "UTC+5:45". Caller frees. */
static char *
dup_offset (WbInstant instant)
{
  int minutes = ABS (instant.offset_s) / 60;

  if (minutes % 60 != 0)
    return g_strdup_printf ("UTC%c%d:%02d", instant.offset_s < 0 ? '-' : '+', minutes / 60, minutes % 60);
  return g_strdup_printf ("UTC%c%d", instant.offset_s < 0 ? '-' : '+', minutes / 60);
}

/* Asks which of the two it was; until somebody says, the later one. */
static void
offer (WbTimeEntry     *self,
       const WbInstant *two)
{
  GtkStringList *list = GTK_STRING_LIST (gtk_drop_down_get_model (GTK_DROP_DOWN (self->which)));
  g_autofree char *first_offset = two != NULL ? dup_offset (two[0]) : NULL;
  g_autofree char *last_offset = two != NULL ? dup_offset (two[1]) : NULL;
  g_autofree char *first = NULL, *last = NULL;
  const char *words[3] = { NULL, NULL, NULL };

  if (two == NULL)
    {
      gtk_widget_set_visible (self->which, FALSE);
      return;
    }
  /* Translators: an offset such as UTC+2. At the end of summer time an hour comes twice. */
  words[0] = first = g_strdup_printf (_("the first time (%s)"), first_offset);
  words[1] = last = g_strdup_printf (_("the second time (%s)"), last_offset);
  if (gtk_widget_get_visible (self->which) && g_strcmp0 (gtk_string_list_get_string (list, 0), first) == 0)
    return;
  self->quiet_which = TRUE;
  gtk_string_list_splice (list, 0, g_list_model_get_n_items (G_LIST_MODEL (list)), words);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->which), 1);
  self->quiet_which = FALSE;
  gtk_widget_set_visible (self->which, TRUE);
}

/* day WB_DAY_NONE: none was written. */
static WbInstant
take_time_of_day (WbTimeEntry *self,
                  WbDay        day,
                  int          hour,
                  int          minute,
                  WbInstant    now)
{
  WbInstant found[2] = { WB_INSTANT_NONE, WB_INSTANT_NONE };
  guint n = day != WB_DAY_NONE ? find_on_day (self, day, hour, minute, now, found) : find_times_of_day (self, hour, minute, now, found);

  if (n < 2)
    {
      offer (self, NULL);
      return n == 0 ? WB_INSTANT_NONE : found[1];
    }
  offer (self, found);
  return found[gtk_drop_down_get_selected (GTK_DROP_DOWN (self->which)) == 0 ? 0 : 1];
}

/* "1600" and "905": a time of day without its colon. */
static gboolean
read_digits (const char *text,
             int        *hour,
             int        *minute)
{
  gsize n = strspn (text, "0123456789");
  int number;

  if (n < 3 || n > 4 || text[n] != '\0')
    return FALSE;
  number = atoi (text);
  *hour = number / 100;
  *minute = number % 100;
  return *hour < 24 && *minute < 60;
}

/* "16" and "16,05", not "-5", which can only be ago, nor "5 min". */
static gboolean
is_bare_number (const char *text)
{
  return g_ascii_isdigit (*text) && text[strspn (text, "0123456789., ")] == '\0';
}

/* FALSE: *words says why not; caller frees. */
static gboolean
read_text (WbTimeEntry  *self,
           WbInstant     now,
           WbInstant    *instant,
           char        **words)
{
  g_autofree char *text = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->entry))));
  int hour, minute;
  WbDay day = WB_DAY_NONE;
  gboolean of_day = wb_time_of_day_parse (text, &hour, &minute) || wb_day_read_with_time (text, wb_instant_get_day (now), &day, &hour, &minute);
  double ago_s;

  *instant = WB_INSTANT_NONE;
  *words = NULL;
  of_day = of_day || (self->by_clock && read_digits (text, &hour, &minute));
  if (of_day)
    *instant = take_time_of_day (self, day, hour, minute, now);
  else
    offer (self, NULL);
  if (*text == '\0')
    return TRUE;
  if (!of_day && self->by_clock && is_bare_number (text))
    {
      *words = g_strdup (_("Write hours and minutes, such as 16:05"));
      return FALSE;
    }
  /* With a colon it was meant as a time of day. */
  if (!of_day && strchr (text, ':') == NULL
      && wb_quantity_parse (WB_QUANTITY_DURATION, WB_UNIT_MINUTE, *text == '-' ? text + 1 : text, &ago_s, NULL)
      && ago_s >= 0 && ago_s <= LONGEST_AGO_S)
    *instant = wb_clock_at (wb_clock_get (), now.utc_us - (gint64) (ago_s * G_USEC_PER_SEC));
  /* The minute of the lighting itself, which began before it. */
  if (instant->known && self->earliest.known && instant->utc_us < self->earliest.utc_us
      && instant->utc_us > self->earliest.utc_us - 60 * G_USEC_PER_SEC)
    *instant = self->earliest;
  if (!instant->known && of_day && (day != WB_DAY_NONE || self->first.known))
    *words = g_strdup (_("That time is still to come"));
  else if (!instant->known)
    *words = g_strdup (_("A time such as 19:40, or how long ago, such as 5 min"));
  else if (self->earliest.known && instant->utc_us < self->earliest.utc_us)
    *words = g_strdup (self->why);
  return *words == NULL;
}

static void
show_problem (WbTimeEntry *self,
              const char  *words)
{
  gtk_label_set_text (GTK_LABEL (self->problem), words != NULL ? words : "");
  gtk_widget_set_visible (self->problem, words != NULL && !self->compact);
  if (words != NULL)
    gtk_widget_add_css_class (self->entry, "error");
  else
    gtk_widget_remove_css_class (self->entry, "error");
  gtk_accessible_update_state (GTK_ACCESSIBLE (self->entry), GTK_ACCESSIBLE_STATE_INVALID,
                               words != NULL ? GTK_ACCESSIBLE_INVALID_TRUE : GTK_ACCESSIBLE_INVALID_FALSE, -1);
}

static char *
dup_meaning (WbTimeEntry *self,
             WbInstant    instant)
{
  WbInstant then = instant.known ? instant : wb_clock_now (wb_clock_get ());
  g_autofree char *when = instant.known ? wb_instant_format_short (instant) : g_strdup (self->optional ? "" : _("now"));
  g_autofree char *since = NULL;

  if (!self->from.known || then.utc_us - self->from.utc_us < MINUTE_US)
    return g_steal_pointer (&when);
  since = wb_quantity_format_duration ((double) ((then.utc_us - self->from.utc_us) / MINUTE_US * 60));
  /* Translators: a day and time, or "now"; how long after the lighting, "3 h 40 min". */
  return g_strdup_printf (_("%s, after %s"), when, since);
}

static void
show_meaning (WbTimeEntry *self,
              gboolean     tell)
{
  g_autofree char *words = NULL;
  g_autofree char *meaning = NULL;
  WbInstant instant;
  gboolean valid = read_text (self, wb_clock_now (wb_clock_get ()), &instant, &words);

  if (!valid)
    meaning = g_strdup ("");
  else
    meaning = dup_meaning (self, instant);
  gtk_label_set_text (GTK_LABEL (self->meaning), meaning);
  if (valid || tell)
    show_problem (self, words);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->entry), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, valid ? meaning : words, -1);
  g_signal_emit (self, signals[TOLD], 0);
}

static void
on_entry_changed_cb (WbTimeEntry *self)
{
  show_meaning (self, FALSE);
  if (!self->quiet)
    g_signal_emit (self, signals[CHANGED], 0);
}

static void
on_which_selected_cb (WbTimeEntry *self)
{
  if (self->quiet_which)
    return;
  show_meaning (self, FALSE);
  g_signal_emit (self, signals[CHANGED], 0);
}

static void
on_entry_activate_cb (WbTimeEntry *self)
{
  show_meaning (self, TRUE);
  g_signal_emit (self, signals[ACTIVATE], 0);
}

static void
on_focus_leave_cb (WbTimeEntry *self)
{
  show_meaning (self, TRUE);
}

static gboolean
wb_time_entry_grab_focus (GtkWidget *widget)
{
  return gtk_widget_grab_focus (WB_TIME_ENTRY (widget)->entry);
}

static void
wb_time_entry_dispose (GObject *object)
{
  WbTimeEntry *self = WB_TIME_ENTRY (object);

  g_clear_pointer (&self->row, gtk_widget_unparent);
  g_clear_pointer (&self->problem, gtk_widget_unparent);
  G_OBJECT_CLASS (wb_time_entry_parent_class)->dispose (object);
}

static void
wb_time_entry_finalize (GObject *object)
{
  g_free (WB_TIME_ENTRY (object)->why);
  G_OBJECT_CLASS (wb_time_entry_parent_class)->finalize (object);
}

static void
wb_time_entry_class_init (WbTimeEntryClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_time_entry_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_time_entry_finalize;
  widget_class->grab_focus = wb_time_entry_grab_focus;
  widget_class->focus = wb_focus_walk;
  signals[CHANGED] = g_signal_new ("changed", WB_TYPE_TIME_ENTRY, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[ACTIVATE] = g_signal_new ("activate", WB_TYPE_TIME_ENTRY, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[TOLD] = g_signal_new ("told", WB_TYPE_TIME_ENTRY, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "timeentry");
}

static void
wb_time_entry_init (WbTimeEntry *self)
{
  GtkEventController *focus = gtk_event_controller_focus_new ();

  self->earliest = WB_INSTANT_NONE;
  self->from = WB_INSTANT_NONE;
  self->first = WB_INSTANT_NONE;
  self->row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  self->entry = g_object_new (GTK_TYPE_ENTRY, "width-chars", 8, "max-length", 40, NULL);
  self->which = gtk_drop_down_new (G_LIST_MODEL (gtk_string_list_new (NULL)), NULL);
  gtk_widget_set_visible (self->which, FALSE);
  wb_accessible_name_drop_down (GTK_DROP_DOWN (self->which), _("Clocks were put back: which of the two"));
  self->meaning = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0, "hexpand", TRUE, "ellipsize", PANGO_ELLIPSIZE_END, NULL);
  gtk_widget_add_css_class (self->meaning, "dim-label");
  gtk_box_append (GTK_BOX (self->row), self->entry);
  gtk_box_append (GTK_BOX (self->row), self->which);
  gtk_box_append (GTK_BOX (self->row), self->meaning);
  self->problem = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0, "wrap", TRUE, "visible", FALSE, NULL);
  gtk_widget_add_css_class (self->problem, "problem");
  gtk_widget_set_parent (self->row, GTK_WIDGET (self));
  gtk_widget_set_parent (self->problem, GTK_WIDGET (self));
  gtk_orientable_set_orientation (GTK_ORIENTABLE (gtk_widget_get_layout_manager (GTK_WIDGET (self))), GTK_ORIENTATION_VERTICAL);
  g_signal_connect_swapped (self->entry, "changed", G_CALLBACK (on_entry_changed_cb), self);
  g_signal_connect_swapped (self->entry, "activate", G_CALLBACK (on_entry_activate_cb), self);
  g_signal_connect_swapped (self->which, "notify::selected", G_CALLBACK (on_which_selected_cb), self);
  g_signal_connect_swapped (focus, "leave", G_CALLBACK (on_focus_leave_cb), self);
  gtk_widget_add_controller (self->entry, focus);
  show_meaning (self, FALSE);
}

GtkWidget *
wb_time_entry_new (const char *label)
{
  WbTimeEntry *self = g_object_new (WB_TYPE_TIME_ENTRY, NULL);

  wb_time_entry_set_label (self, label);
  return GTK_WIDGET (self);
}

void
wb_time_entry_set_label (WbTimeEntry *self,
                         const char  *label)
{
  g_return_if_fail (WB_IS_TIME_ENTRY (self));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->entry), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
}

void
wb_time_entry_set_earliest (WbTimeEntry *self,
                            WbInstant    earliest,
                            const char  *why)
{
  g_return_if_fail (WB_IS_TIME_ENTRY (self));
  g_return_if_fail (!earliest.known || why != NULL);

  g_free (self->why);
  self->why = g_strdup (why);
  self->earliest = earliest;
  show_meaning (self, FALSE);
}

void
wb_time_entry_set_from (WbTimeEntry *self,
                        WbInstant    from)
{
  g_return_if_fail (WB_IS_TIME_ENTRY (self));

  self->from = from;
  gtk_label_set_ellipsize (GTK_LABEL (self->meaning), from.known ? PANGO_ELLIPSIZE_NONE : PANGO_ELLIPSIZE_END);
  gtk_label_set_wrap (GTK_LABEL (self->meaning), from.known);
  show_meaning (self, FALSE);
}

void
wb_time_entry_set_first (WbTimeEntry *self,
                         WbInstant    first)
{
  g_return_if_fail (WB_IS_TIME_ENTRY (self));

  if (self->first.known == first.known && self->first.utc_us == first.utc_us)
    return;
  self->first = first;
  show_meaning (self, FALSE);
}

void
wb_time_entry_set_compact (WbTimeEntry *self,
                           gboolean     compact)
{
  g_return_if_fail (WB_IS_TIME_ENTRY (self));

  self->compact = compact;
  gtk_editable_set_width_chars (GTK_EDITABLE (self->entry), compact ? 6 : 8);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (self->entry), compact ? 6 : -1);
  gtk_widget_set_visible (self->meaning, !compact);
  show_meaning (self, FALSE);
}

const char *
wb_time_entry_get_problem (WbTimeEntry *self)
{
  const char *words;

  g_return_val_if_fail (WB_IS_TIME_ENTRY (self), NULL);
  words = gtk_label_get_text (GTK_LABEL (self->problem));
  return *words != '\0' ? words : NULL;
}

void
wb_time_entry_set_text (WbTimeEntry *self,
                        const char  *text)
{
  g_return_if_fail (WB_IS_TIME_ENTRY (self));
  self->quiet = TRUE;
  gtk_editable_set_text (GTK_EDITABLE (self->entry), text != NULL ? text : "");
  self->quiet = FALSE;
}

const char *
wb_time_entry_get_text (WbTimeEntry *self)
{
  g_return_val_if_fail (WB_IS_TIME_ENTRY (self), NULL);
  return gtk_editable_get_text (GTK_EDITABLE (self->entry));
}

gboolean
wb_time_entry_get (WbTimeEntry *self,
                   WbInstant   *instant)
{
  g_autofree char *words = NULL;

  g_return_val_if_fail (WB_IS_TIME_ENTRY (self), FALSE);
  if (read_text (self, wb_clock_now (wb_clock_get ()), instant, &words))
    return TRUE;
  show_meaning (self, TRUE);
  return FALSE;
}

WbInstant
wb_time_entry_get_at (WbTimeEntry *self,
                      WbInstant    now)
{
  g_autofree char *words = NULL;
  WbInstant instant = WB_INSTANT_NONE;

  g_return_val_if_fail (WB_IS_TIME_ENTRY (self), instant);
  read_text (self, now, &instant, &words);
  return instant;
}

void
wb_time_entry_set_optional (WbTimeEntry *self,
                            gboolean     optional)
{
  g_return_if_fail (WB_IS_TIME_ENTRY (self));
  self->optional = optional;
  show_meaning (self, FALSE);
}

void
wb_time_entry_set_by_clock (WbTimeEntry *self,
                            gboolean     by_clock)
{
  g_return_if_fail (WB_IS_TIME_ENTRY (self));
  self->by_clock = by_clock;
  show_meaning (self, FALSE);
}
