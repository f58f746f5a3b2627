/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calm-bin.h"

/* What lasts longer is no click, and a hazard does not wait for it; it also ends where the button was let go elsewhere. */
#define LONGEST_MS 1000

struct _WbCalmBin
{
  GtkWidget           parent_instance;

  /* children */
  GtkWidget          *child;

  /* borrowed */
  GtkEventController *pointer; /* the root's; NULL: without one */

  /* state */
  int                 held;    /* height while a button is down, pixels; -1: none is */
  guint               timeout;
};

G_DEFINE_FINAL_TYPE (WbCalmBin, wb_calm_bin, GTK_TYPE_WIDGET)

enum { PROP_0, PROP_CHILD, N_PROPS };
static GParamSpec *properties[N_PROPS];

static gboolean
on_timeout_cb (gpointer user)
{
  WbCalmBin *self = user;

  self->timeout = 0;
  wb_calm_bin_let_go (self);
  return G_SOURCE_REMOVE;
}

static gboolean
on_event_cb (WbCalmBin *self,
             GdkEvent  *event)
{
  switch ((int) gdk_event_get_event_type (event))
    {
    case GDK_BUTTON_PRESS:
    case GDK_TOUCH_BEGIN:
      wb_calm_bin_hold (self);
      break;
    case GDK_BUTTON_RELEASE:
    case GDK_TOUCH_END:
    case GDK_TOUCH_CANCEL:
    case GDK_GRAB_BROKEN:
      wb_calm_bin_let_go (self);
      break;
    default:
      break;
    }
  return GDK_EVENT_PROPAGATE;
}

static gboolean
has_child (WbCalmBin *self)
{
  return self->child != NULL && gtk_widget_should_layout (self->child);
}

static GtkSizeRequestMode
wb_calm_bin_get_request_mode (GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
wb_calm_bin_measure (GtkWidget      *widget,
                     GtkOrientation  orientation,
                     int             for_size,
                     int            *minimum,
                     int            *natural,
                     int            *minimum_baseline,
                     int            *natural_baseline)
{
  WbCalmBin *self = WB_CALM_BIN (widget);

  if (has_child (self))
    gtk_widget_measure (self->child, orientation, for_size, minimum, natural, NULL, NULL);
  if (orientation == GTK_ORIENTATION_VERTICAL && self->held >= 0)
    *minimum = *natural = self->held;
}

/* What has come meanwhile is not seen yet; what has grown is cut at its end. */
static void
wb_calm_bin_size_allocate (GtkWidget *widget,
                           int        width,
                           int        height,
                           int        baseline)
{
  WbCalmBin *self = WB_CALM_BIN (widget);
  int least = 0;

  if (!has_child (self))
    return;
  gtk_widget_measure (self->child, GTK_ORIENTATION_VERTICAL, width, &least, NULL, NULL, NULL);
  gtk_widget_set_child_visible (self->child, height > 0);
  if (height > 0)
    gtk_widget_size_allocate (self->child, &(GtkAllocation) { 0, 0, width, MAX (height, least) }, -1);
}

static void
wb_calm_bin_root (GtkWidget *widget)
{
  WbCalmBin *self = WB_CALM_BIN (widget);

  GTK_WIDGET_CLASS (wb_calm_bin_parent_class)->root (widget);
  self->pointer = gtk_event_controller_legacy_new ();
  gtk_event_controller_set_propagation_phase (self->pointer, GTK_PHASE_CAPTURE);
  g_signal_connect_swapped (self->pointer, "event", G_CALLBACK (on_event_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (gtk_widget_get_root (widget)), self->pointer);
}

static void
wb_calm_bin_unroot (GtkWidget *widget)
{
  WbCalmBin *self = WB_CALM_BIN (widget);

  if (self->pointer != NULL)
    {
      g_signal_handlers_disconnect_by_data (self->pointer, self);
      gtk_widget_remove_controller (GTK_WIDGET (gtk_widget_get_root (widget)), self->pointer);
    }
  self->pointer = NULL;
  wb_calm_bin_let_go (self);
  GTK_WIDGET_CLASS (wb_calm_bin_parent_class)->unroot (widget);
}

static void
wb_calm_bin_get_property (GObject    *object,
                          guint       id,
                          GValue     *value,
                          GParamSpec *spec)
{
  if (id == PROP_CHILD)
    g_value_set_object (value, WB_CALM_BIN (object)->child);
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, spec);
}

static void
wb_calm_bin_set_property (GObject      *object,
                          guint         id,
                          const GValue *value,
                          GParamSpec   *spec)
{
  WbCalmBin *self = WB_CALM_BIN (object);

  if (id != PROP_CHILD)
    {
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, spec);
      return;
    }
  g_clear_pointer (&self->child, gtk_widget_unparent);
  self->child = g_value_get_object (value);
  if (self->child != NULL)
    gtk_widget_set_parent (self->child, GTK_WIDGET (self));
}

static void
wb_calm_bin_dispose (GObject *object)
{
  WbCalmBin *self = WB_CALM_BIN (object);

  g_clear_handle_id (&self->timeout, g_source_remove);
  g_clear_pointer (&self->child, gtk_widget_unparent);
  G_OBJECT_CLASS (wb_calm_bin_parent_class)->dispose (object);
}

static void
wb_calm_bin_class_init (WbCalmBinClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->get_property = wb_calm_bin_get_property;
  G_OBJECT_CLASS (klass)->set_property = wb_calm_bin_set_property;
  G_OBJECT_CLASS (klass)->dispose = wb_calm_bin_dispose;
  widget_class->get_request_mode = wb_calm_bin_get_request_mode;
  widget_class->measure = wb_calm_bin_measure;
  widget_class->size_allocate = wb_calm_bin_size_allocate;
  widget_class->root = wb_calm_bin_root;
  widget_class->unroot = wb_calm_bin_unroot;
  properties[PROP_CHILD] = g_param_spec_object ("child", NULL, NULL, GTK_TYPE_WIDGET, G_PARAM_READWRITE | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (G_OBJECT_CLASS (klass), N_PROPS, properties);
}

static void
wb_calm_bin_init (WbCalmBin *self)
{
  self->held = -1;
  gtk_widget_set_overflow (GTK_WIDGET (self), GTK_OVERFLOW_HIDDEN);
}

void
wb_calm_bin_hold (WbCalmBin *self)
{
  g_return_if_fail (WB_IS_CALM_BIN (self));

  if (self->held >= 0)
    return;
  self->held = gtk_widget_get_height (GTK_WIDGET (self));
  self->timeout = g_timeout_add (LONGEST_MS, on_timeout_cb, self);
}

void
wb_calm_bin_let_go (WbCalmBin *self)
{
  g_return_if_fail (WB_IS_CALM_BIN (self));

  g_clear_handle_id (&self->timeout, g_source_remove);
  if (self->held < 0)
    return;
  self->held = -1;
  /* The frame after: the button that is let go has been told by then. */
  gtk_widget_queue_resize (GTK_WIDGET (self));
}
