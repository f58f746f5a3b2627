/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-evenings-entry.h"

#include "wb-clock.h"
#include "wb-focus-walk.h"
#include "wb-record.h"

#include <glib/gi18n.h>

/* CSS node: eveningsentry. A group for assistive technology; each toggle has its day's name, and the time says what is wrong with it. */

struct _WbEveningsEntry
{
  GtkWidget  parent_instance;

  /* children */
  GtkWidget *days;
  GtkWidget *toggle[WB_WEEKDAYS];
  GtkWidget *line;
  GtkWidget *begins;
  GtkWidget *problem;
  GtkWidget *out_line;
  GtkWidget *out;
  GtkWidget *understood;

  /* state */
  WbEvenings stored;
  gint64     stored_min;
  char      *stored_out;
  gboolean   quiet;
};

G_DEFINE_FINAL_TYPE (WbEveningsEntry, wb_evenings_entry, GTK_TYPE_WIDGET)

enum { CHANGED, ACTIVATE, N_SIGNALS };
static guint signals[N_SIGNALS];

/* FALSE: no time of day stands there. */
static gboolean
read_begins (WbEveningsEntry *self,
             gint64          *minutes)
{
  g_autofree char *text = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->begins))));
  int hour, minute;

  *minutes = WB_INTEGER_NONE;
  if (*text == '\0')
    return TRUE;
  if (!wb_time_of_day_parse (text, &hour, &minute))
    return FALSE;
  *minutes = hour * 60 + minute;
  return TRUE;
}

static void
show_problem (WbEveningsEntry *self,
              gboolean         wrong)
{
  gtk_widget_set_visible (self->problem, wrong);
  if (wrong)
    gtk_widget_add_css_class (self->begins, "error");
  else
    gtk_widget_remove_css_class (self->begins, "error");
  gtk_accessible_update_state (GTK_ACCESSIBLE (self->begins), GTK_ACCESSIBLE_STATE_INVALID,
                               wrong ? GTK_ACCESSIBLE_INVALID_TRUE : GTK_ACCESSIBLE_INVALID_FALSE, -1);
}

static WbDay
get_today (void)
{
  return wb_instant_get_day (wb_clock_now (wb_clock_get ()));
}

/* What stands in the line; NULL with an error. Caller unrefs. */
static GArray *
read_out (WbEveningsEntry *self,
          GError         **error)
{
  return wb_evenings_out_read (gtk_editable_get_text (GTK_EDITABLE (self->out)), get_today (), error);
}

/* That are to come, of the days of the week that are chosen. Spans may lie over each other. */
static guint
count_evenings (WbEveningsEntry *self,
                const GArray    *out)
{
  WbEvenings evenings = wb_evenings_entry_get_days (self);
  WbDay from = get_today ();
  guint n = 0;

  for (guint i = 0; i < out->len; i++)
    {
      const WbDaySpan *span = &g_array_index (out, WbDaySpan, i);

      for (WbDay day = wb_evenings_next (evenings, MAX (span->first, from)); day != WB_DAY_NONE && day <= span->last;
           day = wb_evenings_next (evenings, day + 1))
        n++;
      from = MAX (from, span->last + 1);
    }
  return n;
}

static void
mark_out (WbEveningsEntry *self,
          gboolean         wrong)
{
  if (wrong)
    gtk_widget_add_css_class (self->out, "error");
  else
    gtk_widget_remove_css_class (self->out, "error");
  gtk_widget_remove_css_class (self->understood, wrong ? "dim-label" : "problem");
  gtk_widget_add_css_class (self->understood, wrong ? "problem" : "dim-label");
  gtk_accessible_update_state (GTK_ACCESSIBLE (self->out), GTK_ACCESSIBLE_STATE_INVALID,
                               wrong ? GTK_ACCESSIBLE_INVALID_TRUE : GTK_ACCESSIBLE_INVALID_FALSE, -1);
}

/* How to write it while nothing stands there, else what is understood, else, when it is told, what is wrong. */
static void
show_understood (WbEveningsEntry *self,
                 gboolean         tells_problem)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) out = read_out (self, &error);
  g_autofree char *written = NULL, *text = NULL;

  if (out == NULL && !tells_problem)
    return;
  mark_out (self, out == NULL);
  if (out == NULL)
    text = g_strdup (error->message);
  else if (out->len == 0)
    text = g_strdup (_("Holidays and evenings without time: 24 Dec to 3 Jan, 15 Feb. What is past leaves this line by itself."));
  else
    {
      guint n = count_evenings (self, out);

      written = wb_evenings_out_write (out, G_MININT32 + 1);
      text = g_strdup_printf (ngettext ("%s: %u evening at the bench falls away", "%s: %u evenings at the bench fall away", n), written, n);
    }
  gtk_label_set_text (GTK_LABEL (self->understood), text);
}

static void
on_control_changed_cb (WbEveningsEntry *self)
{
  if (self->quiet)
    return;
  show_problem (self, FALSE);
  mark_out (self, FALSE);
  show_understood (self, FALSE);
  g_signal_emit (self, signals[CHANGED], 0);
}

static void
on_begins_activate_cb (WbEveningsEntry *self)
{
  g_signal_emit (self, signals[ACTIVATE], 0);
}

static void
on_focus_leave_cb (WbEveningsEntry *self)
{
  gint64 minutes;

  show_problem (self, !read_begins (self, &minutes));
}

static void
on_out_leave_cb (WbEveningsEntry *self)
{
  show_understood (self, TRUE);
}

static gboolean
wb_evenings_entry_grab_focus (GtkWidget *widget)
{
  return gtk_widget_grab_focus (WB_EVENINGS_ENTRY (widget)->toggle[0]);
}

static void
wb_evenings_entry_dispose (GObject *object)
{
  WbEveningsEntry *self = WB_EVENINGS_ENTRY (object);

  g_clear_pointer (&self->days, gtk_widget_unparent);
  g_clear_pointer (&self->line, gtk_widget_unparent);
  g_clear_pointer (&self->problem, gtk_widget_unparent);
  g_clear_pointer (&self->out_line, gtk_widget_unparent);
  g_clear_pointer (&self->understood, gtk_widget_unparent);
  g_clear_pointer (&self->stored_out, g_free);
  G_OBJECT_CLASS (wb_evenings_entry_parent_class)->dispose (object);
}

static void
wb_evenings_entry_class_init (WbEveningsEntryClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_evenings_entry_dispose;
  widget_class->grab_focus = wb_evenings_entry_grab_focus;
  widget_class->focus = wb_focus_walk;
  signals[CHANGED] = g_signal_new ("changed", WB_TYPE_EVENINGS_ENTRY, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[ACTIVATE] = g_signal_new ("activate", WB_TYPE_EVENINGS_ENTRY, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "eveningsentry");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
}

static void
add_days (WbEveningsEntry *self)
{
  self->days = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  gtk_widget_add_css_class (self->days, "linked");
  for (int i = 0; i < WB_WEEKDAYS; i++)
    {
      self->toggle[i] = gtk_toggle_button_new_with_label (wb_weekday_get_name (i, NULL));
      gtk_widget_set_hexpand (self->toggle[i], TRUE);
      gtk_accessible_update_property (GTK_ACCESSIBLE (self->toggle[i]), GTK_ACCESSIBLE_PROPERTY_LABEL, wb_weekday_get_name (i, NULL), -1);
      g_signal_connect_swapped (self->toggle[i], "toggled", G_CALLBACK (on_control_changed_cb), self);
      gtk_box_append (GTK_BOX (self->days), self->toggle[i]);
    }
}

static void
add_begins (WbEveningsEntry *self)
{
  GtkWidget *label = gtk_label_new (_("They begin at"));
  GtkEventController *focus = gtk_event_controller_focus_new ();

  self->line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  self->begins = g_object_new (GTK_TYPE_ENTRY, "width-chars", 6, "max-width-chars", 6, "max-length", 10, "placeholder-text", "19:00", NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->begins), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Time at which an evening at the bench begins"), -1);
  gtk_box_append (GTK_BOX (self->line), label);
  gtk_box_append (GTK_BOX (self->line), self->begins);
  g_signal_connect_swapped (self->begins, "changed", G_CALLBACK (on_control_changed_cb), self);
  g_signal_connect_swapped (self->begins, "activate", G_CALLBACK (on_begins_activate_cb), self);
  g_signal_connect_swapped (focus, "leave", G_CALLBACK (on_focus_leave_cb), self);
  gtk_widget_add_controller (self->begins, focus);
}

static void
add_out (WbEveningsEntry *self)
{
  GtkEventController *focus = gtk_event_controller_focus_new ();

  self->out_line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  self->out = g_object_new (GTK_TYPE_ENTRY, "hexpand", TRUE, "max-length", 2000, NULL);
  self->understood = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0, "wrap", TRUE, NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->out), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Evenings left out"), -1);
  gtk_accessible_update_relation (GTK_ACCESSIBLE (self->out), GTK_ACCESSIBLE_RELATION_DESCRIBED_BY, self->understood, NULL, -1);
  gtk_box_append (GTK_BOX (self->out_line), gtk_label_new (_("Left out")));
  gtk_box_append (GTK_BOX (self->out_line), self->out);
  g_signal_connect_swapped (self->out, "changed", G_CALLBACK (on_control_changed_cb), self);
  g_signal_connect_swapped (self->out, "activate", G_CALLBACK (on_begins_activate_cb), self);
  g_signal_connect_swapped (focus, "leave", G_CALLBACK (on_out_leave_cb), self);
  gtk_widget_add_controller (self->out, focus);
}

static void
wb_evenings_entry_init (WbEveningsEntry *self)
{
  GtkLayoutManager *layout = gtk_widget_get_layout_manager (GTK_WIDGET (self));

  self->stored_min = WB_INTEGER_NONE;
  add_days (self);
  add_begins (self);
  add_out (self);
  self->problem = g_object_new (GTK_TYPE_LABEL, "label", _("A time of day such as 19:00"), "xalign", 0.0, "wrap", TRUE, "visible", FALSE, NULL);
  gtk_widget_add_css_class (self->problem, "problem");
  gtk_widget_set_parent (self->days, GTK_WIDGET (self));
  gtk_widget_set_parent (self->line, GTK_WIDGET (self));
  gtk_widget_set_parent (self->problem, GTK_WIDGET (self));
  gtk_widget_set_parent (self->out_line, GTK_WIDGET (self));
  gtk_widget_set_parent (self->understood, GTK_WIDGET (self));
  show_understood (self, FALSE);
  gtk_orientable_set_orientation (GTK_ORIENTABLE (layout), GTK_ORIENTATION_VERTICAL);
  gtk_box_layout_set_spacing (GTK_BOX_LAYOUT (layout), 8);
}

void
wb_evenings_entry_set (WbEveningsEntry *self,
                       WbEvenings       evenings,
                       gint64           begins_min)
{
  g_autofree char *text = NULL;

  g_return_if_fail (WB_IS_EVENINGS_ENTRY (self));

  self->stored = evenings;
  self->stored_min = begins_min;
  self->quiet = TRUE;
  for (int i = 0; i < WB_WEEKDAYS; i++)
    gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (self->toggle[i]), wb_evenings_has (evenings, i));
  text = begins_min == WB_INTEGER_NONE ? g_strdup ("") : g_strdup_printf ("%d:%02d", (int) (begins_min / 60), (int) (begins_min % 60));
  gtk_editable_set_text (GTK_EDITABLE (self->begins), text);
  self->quiet = FALSE;
  show_problem (self, FALSE);
  show_understood (self, FALSE);
}

/* As it stands in the line; what nobody can read is not shown, and stays until other evenings are saved. */
static char *
dup_shown (const char *stored)
{
  g_autoptr (GArray) out = wb_evenings_out_parse (stored, NULL);

  return wb_evenings_out_write (out, get_today ());
}

void
wb_evenings_entry_set_out (WbEveningsEntry *self,
                           const char      *out)
{
  g_autofree char *shown = NULL;

  g_return_if_fail (WB_IS_EVENINGS_ENTRY (self));

  wb_evenings_entry_take_stored_out (self, out);
  shown = dup_shown (out);
  self->quiet = TRUE;
  gtk_editable_set_text (GTK_EDITABLE (self->out), shown);
  self->quiet = FALSE;
  show_understood (self, FALSE);
}

/* The line holds something else than what is stored of the coming ones. */
static gboolean
is_out_touched (WbEveningsEntry *self)
{
  g_autofree char *shown = dup_shown (self->stored_out), *typed = NULL;
  g_autoptr (GArray) out = read_out (self, NULL);

  if (out == NULL)
    return TRUE;
  typed = wb_evenings_out_write (out, G_MININT32 + 1);
  return g_strcmp0 (shown, typed) != 0;
}

char *
wb_evenings_entry_dup_out (WbEveningsEntry *self)
{
  g_autoptr (GArray) stored = NULL, typed = NULL, all = NULL;

  g_return_val_if_fail (WB_IS_EVENINGS_ENTRY (self), NULL);

  typed = read_out (self, NULL);
  if (typed == NULL || !is_out_touched (self))
    return g_strdup (self->stored_out);
  stored = wb_evenings_out_parse (self->stored_out, NULL);
  all = wb_evenings_out_join (stored, get_today (), typed);
  return wb_evenings_out_format (all);
}

void
wb_evenings_entry_take_stored_out (WbEveningsEntry *self,
                                   const char      *out)
{
  g_return_if_fail (WB_IS_EVENINGS_ENTRY (self));

  g_free (self->stored_out);
  self->stored_out = g_strdup (out);
}

WbEvenings
wb_evenings_entry_get_days (WbEveningsEntry *self)
{
  WbEvenings evenings = WB_EVENINGS_NONE;

  g_return_val_if_fail (WB_IS_EVENINGS_ENTRY (self), evenings);

  for (int i = 0; i < WB_WEEKDAYS; i++)
    if (gtk_toggle_button_get_active (GTK_TOGGLE_BUTTON (self->toggle[i])))
      evenings |= 1u << i;
  return evenings;
}

gint64
wb_evenings_entry_get_begins (WbEveningsEntry *self)
{
  gint64 minutes;

  g_return_val_if_fail (WB_IS_EVENINGS_ENTRY (self), WB_INTEGER_NONE);
  read_begins (self, &minutes);
  return minutes;
}

gboolean
wb_evenings_entry_check (WbEveningsEntry *self)
{
  g_autoptr (GArray) out = NULL;
  gint64 minutes;
  gboolean right;

  g_return_val_if_fail (WB_IS_EVENINGS_ENTRY (self), FALSE);

  right = read_begins (self, &minutes);
  out = read_out (self, NULL);
  show_problem (self, !right);
  show_understood (self, TRUE);
  if (!right)
    gtk_widget_grab_focus (self->begins);
  else if (out == NULL)
    gtk_widget_grab_focus (self->out);
  return right && out != NULL;
}

gboolean
wb_evenings_entry_get_touched (WbEveningsEntry *self)
{
  gint64 minutes;

  g_return_val_if_fail (WB_IS_EVENINGS_ENTRY (self), FALSE);
  return !read_begins (self, &minutes) || minutes != self->stored_min || wb_evenings_entry_get_days (self) != self->stored
         || is_out_touched (self);
}

void
wb_evenings_entry_take_stored (WbEveningsEntry *self,
                               WbEvenings       evenings,
                               gint64           begins_min)
{
  g_return_if_fail (WB_IS_EVENINGS_ENTRY (self));

  self->stored = evenings;
  self->stored_min = begins_min;
}
