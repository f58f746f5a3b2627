/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-bench-check.h"

#include "wb-bundle.h"
#include "wb-caution.h"
#include "wb-grey.h"

#include <glib/gi18n.h>

struct _WbBenchCheck
{
  GtkWindow    parent_instance;

  /* children */
  GtkWidget   *words;   /* what the keyboard begins on */
  GtkBox      *checks;
  GtkEditable *who;
  GtkEditable *until;
  GtkEditable *place;
  GtkWidget   *open;
  GtkLabel    *missing;

  /* state */
  gint64       risen_us; /* by the monotonic clock, as long as keys are not meant for it; 0: they are */
  gboolean     held;     /* one of them was pressed, and none let go since */
};

/* A key that goes down so soon was meant for the form: nobody has read a line here in less. */
#define NOT_READ_YET_US (800 * G_TIME_SPAN_MILLISECOND)

G_DEFINE_FINAL_TYPE (WbBenchCheck, wb_bench_check, GTK_TYPE_WINDOW)

enum { ANSWERED, N_SIGNALS };
static guint signals[N_SIGNALS];

static gboolean
is_said (GtkEditable *entry)
{
  g_autofree char *text = g_strstrip (g_strdup (gtk_editable_get_text (entry)));

  return *text != '\0';
}

static guint
count_open (WbBenchCheck *self)
{
  guint open = 0;

  for (GtkWidget *check = gtk_widget_get_first_child (GTK_WIDGET (self->checks)); check != NULL;
       check = gtk_widget_get_next_sibling (check))
    open += !gtk_check_button_get_active (GTK_CHECK_BUTTON (check));
  return open;
}

static void
update (WbBenchCheck *self)
{
  guint open = count_open (self);
  g_autofree char *left = NULL;

  if (open > 0)
    left = g_strdup_printf (ngettext ("%u point is not answered yet.", "%u points are not answered yet.", open), open);
  else if (!is_said (self->who) || !is_said (self->until))
    left = g_strdup (_("Say who stays with the flames, and until when."));
  gtk_label_set_text (self->missing, left != NULL ? left : _("All is answered."));
  wb_grey_set (self->open, left);
}

static void
on_changed_cb (WbBenchCheck *self)
{
  update (self);
}

/* Enter ticks and goes on, as Space and Tab do. */
static gboolean
on_check_enter_cb (GtkWidget *check,
                   GVariant  *arguments,
                   gpointer   user)
{
  gtk_check_button_set_active (GTK_CHECK_BUTTON (check), TRUE);
  gtk_widget_child_focus (GTK_WIDGET (gtk_widget_get_root (check)), GTK_DIR_TAB_FORWARD);
  return GDK_EVENT_STOP;
}

/* NULL: all is answered. */
static GtkWidget *
find_unanswered (WbBenchCheck *self)
{
  for (GtkWidget *check = gtk_widget_get_first_child (GTK_WIDGET (self->checks)); check != NULL;
       check = gtk_widget_get_next_sibling (check))
    if (!gtk_check_button_get_active (GTK_CHECK_BUTTON (check)))
      return check;
  return !is_said (self->who) ? GTK_WIDGET (self->who) : !is_said (self->until) ? GTK_WIDGET (self->until) : NULL;
}

static void
on_who_activate_cb (WbBenchCheck *self)
{
  gtk_widget_grab_focus (GTK_WIDGET (is_said (self->who) ? self->until : self->who));
}

static void
on_until_activate_cb (WbBenchCheck *self)
{
  gtk_widget_grab_focus (GTK_WIDGET (is_said (self->until) ? self->place : self->until));
}

/* typed: by Enter at the end of typing, which opens the session and lights nothing yet: nobody meant a match by it. */
static void
answer (WbBenchCheck *self,
        gboolean      typed)
{
  g_autofree char *who = g_strstrip (g_strdup (gtk_editable_get_text (self->who)));
  g_autofree char *until = g_strstrip (g_strdup (gtk_editable_get_text (self->until)));
  g_autofree char *place = g_strstrip (g_strdup (gtk_editable_get_text (self->place)));
  g_autofree char *staying = NULL;

  update (self);
  /* Enter in a field may come before a point is ticked: it leads there. */
  if (find_unanswered (self) != NULL)
    {
      gtk_widget_grab_focus (find_unanswered (self));
      return;
    }
  /* Translators: who stays with the flames, and until when: "Wren, until 22:30". */
  staying = g_strdup_printf (_("%s, until %s"), who, until);
  g_signal_emit (self, signals[ANSWERED], 0, place, staying, typed);
  gtk_window_destroy (GTK_WINDOW (self));
}

static void
on_place_activate_cb (WbBenchCheck *self)
{
  answer (self, TRUE);
}

static void
on_open_clicked_cb (WbBenchCheck *self)
{
  answer (self, FALSE);
}

static void
wb_bench_check_dispose (GObject *object)
{
  gtk_widget_dispose_template (GTK_WIDGET (object), WB_TYPE_BENCH_CHECK);
  G_OBJECT_CLASS (wb_bench_check_parent_class)->dispose (object);
}

/*
 * It rises under a key that is down still, or in the middle of typing: what was meant for the form ticks and closes nothing until
 * that key is let go, once. A key that first goes down when the list can have been read is meant.
 */
static gboolean
on_event_cb (WbBenchCheck *self,
             GdkEvent     *event)
{
  GdkEventType type = gdk_event_get_event_type (event);

  if (self->risen_us == 0 || (type != GDK_KEY_PRESS && type != GDK_KEY_RELEASE))
    return GDK_EVENT_PROPAGATE;
  return wb_bench_check_swallow (self, type == GDK_KEY_PRESS);
}

static void
catch_keys (WbBenchCheck *self)
{
  GtkEventController *events = gtk_event_controller_legacy_new ();

  gtk_event_controller_set_propagation_phase (events, GTK_PHASE_CAPTURE);
  g_signal_connect_swapped (events, "event", G_CALLBACK (on_event_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), events);
}

/*
 * It rises in the middle of typing: what was meant for the form ticks nothing before the person has gone to a point. Not before
 * it is shown: a window that has the keyboard before has no role for assistive technology in GTK 4.8.
 */
static void
wb_bench_check_map (GtkWidget *widget)
{
  GTK_WIDGET_CLASS (wb_bench_check_parent_class)->map (widget);
  gtk_widget_grab_focus (WB_BENCH_CHECK (widget)->words);
  WB_BENCH_CHECK (widget)->risen_us = g_get_monotonic_time ();
}

static void
wb_bench_check_class_init (WbBenchCheckClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_bench_check_dispose;
  signals[ANSWERED] = g_signal_new ("answered", WB_TYPE_BENCH_CHECK, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 3,
                                    G_TYPE_STRING, G_TYPE_STRING, G_TYPE_BOOLEAN);
  widget_class->map = wb_bench_check_map;
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "bench-check.ui");
  gtk_widget_class_bind_template_child (widget_class, WbBenchCheck, words);
  gtk_widget_class_bind_template_child (widget_class, WbBenchCheck, checks);
  gtk_widget_class_bind_template_child (widget_class, WbBenchCheck, who);
  gtk_widget_class_bind_template_child (widget_class, WbBenchCheck, until);
  gtk_widget_class_bind_template_child (widget_class, WbBenchCheck, place);
  gtk_widget_class_bind_template_child (widget_class, WbBenchCheck, open);
  gtk_widget_class_bind_template_child (widget_class, WbBenchCheck, missing);
  gtk_widget_class_bind_template_callback (widget_class, on_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_who_activate_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_until_activate_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_place_activate_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_open_clicked_cb);
}

static GtkWidget *
check_new (WbBenchCheck *self,
           const char   *text)
{
  GtkWidget *check = gtk_check_button_new_with_label (text);
  GtkEventController *keys = gtk_shortcut_controller_new ();
  const guint enters[] = { GDK_KEY_Return, GDK_KEY_KP_Enter };

  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  for (guint i = 0; i < G_N_ELEMENTS (enters); i++)
    gtk_shortcut_controller_add_shortcut (GTK_SHORTCUT_CONTROLLER (keys),
                                          gtk_shortcut_new (gtk_keyval_trigger_new (enters[i], 0),
                                                            gtk_callback_action_new (on_check_enter_cb, NULL, NULL)));
  gtk_widget_add_controller (check, keys);
  g_signal_connect_swapped (check, "toggled", G_CALLBACK (update), self);
  return check;
}

static void
wb_bench_check_init (WbBenchCheck *self)
{
  const char *const *points = wb_caution_get_check ();

  gtk_widget_init_template (GTK_WIDGET (self));
  for (; *points != NULL; points++)
    gtk_box_append (self->checks, check_new (self, _(*points)));
  catch_keys (self);
  update (self);
}

gboolean
wb_bench_check_swallow (WbBenchCheck *self,
                        gboolean      pressed)
{
  g_return_val_if_fail (WB_IS_BENCH_CHECK (self), FALSE);

  if (self->risen_us == 0)
    return FALSE;
  if (pressed && !self->held && g_get_monotonic_time () - self->risen_us >= NOT_READ_YET_US)
    {
      self->risen_us = 0;
      return FALSE;
    }
  self->held = pressed;
  if (!pressed)
    self->risen_us = 0;
  return TRUE;
}

GtkWidget *
wb_bench_check_new (GtkWidget  *where,
                    const char *who)
{
  GtkRoot *root = where != NULL ? gtk_widget_get_root (where) : NULL;
  WbBenchCheck *self = g_object_new (WB_TYPE_BENCH_CHECK, "transient-for", GTK_IS_WINDOW (root) ? root : NULL, NULL);

  if (who != NULL)
    gtk_editable_set_text (self->who, who);
  return GTK_WIDGET (self);
}
