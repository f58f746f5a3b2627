/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-chart-view.h"

#include "wb-chart-canvas.h"
#include "wb-chart-clip.h"
#include "wb-chart-table-view.h"
#include "wb-focus-walk.h"
#include "wb-grey.h"
#include "wb-tooltip.h"

#include <glib/gi18n.h>

/* The thin shell over a chart: picture or table above, two lines of words, the menu and the table's button below. */

#define LATE_MS 200 /* a table that is written sooner is not spoken of */

struct _WbChartView
{
  GtkWidget         parent_instance;

  /* children */
  GtkWidget        *stack;
  WbChartCanvas    *canvas;
  WbChartTableView *table;
  GtkWidget        *strip;
  GtkLabel         *words;
  GtkWidget        *menu;
  GtkWidget        *button;

  /* owned */
  WbChart          *chart;
  char             *said;     /* what became of the last copy, until a value is pointed at; NULL: nothing */

  /* borrowed: the owner's, who outlives the view or takes it off */
  WbChartVerbFunc   verb;     /* NULL: none */
  gpointer          verb_user;

  /* state */
  gboolean          table_stale;
  gboolean          table_late;
  gboolean          can_save;
  guint             late_id;
};

G_DEFINE_FINAL_TYPE (WbChartView, wb_chart_view, GTK_TYPE_WIDGET)

enum { PROP_0, PROP_TABLE_SHOWN, N_PROPS };
static GParamSpec *properties[N_PROPS];

enum { CHOSEN, SAVE, N_SIGNALS };
static guint signals[N_SIGNALS];

/* The value that is marked, and what choosing it does. */
static char *
dup_marked (WbChartView *self)
{
  g_autofree char *words = wb_chart_canvas_dup_words (self->canvas);
  g_autofree char *verb = NULL;
  WbChartHit hit;

  if (*words != '\0' && self->verb != NULL && wb_chart_canvas_get_hit (self->canvas, &hit))
    verb = self->verb (hit.panel, hit.layer, hit.index, self->verb_user);
  return verb != NULL ? g_strdup_printf ("%s · %s", words, verb) : g_steal_pointer (&words);
}

static void
update_words (WbChartView *self)
{
  const GError *error = wb_chart_canvas_get_error (self->canvas);
  g_autofree char *words = NULL;
  const char *shown;

  if (wb_chart_view_get_table_shown (self))
    words = g_strdup (self->table_late ? _("Writing the table…") : "");
  else if (wb_chart_canvas_get_late (self->canvas))
    words = g_strdup (_("Drawing…"));
  else
    words = error != NULL ? g_strdup (error->message) : dup_marked (self);
  shown = *words == '\0' && self->said != NULL ? self->said : words;
  gtk_label_set_text (self->words, shown);
  wb_tooltip_set (GTK_WIDGET (self->words), *shown != '\0' ? shown : NULL);
}

static void
say (WbChartView *self,
     const char  *text)
{
  g_free (self->said);
  self->said = g_strdup (text);
  update_words (self);
}

static void
on_pointed_cb (WbChartView *self)
{
  g_clear_pointer (&self->said, g_free);
  update_words (self);
}

static void
choose (WbChartView *self)
{
  WbChartHit hit;

  if (wb_chart_canvas_get_hit (self->canvas, &hit))
    g_signal_emit (self, signals[CHOSEN], 0, hit.panel, hit.layer, (guint64) hit.index);
}

/* ---- The clipboard ---- */

static const char *
get_told (WbChartCopy what)
{
  switch (what)
    {
    case WB_CHART_COPY_PICTURE:
      return _("The picture is on the clipboard.");
    case WB_CHART_COPY_CSV:
      return _("The figures are on the clipboard as CSV.");
    case WB_CHART_COPY_TEXT:
    default:
      return _("The figures are on the clipboard.");
    }
}

static void
on_clip_made_cb (GObject      *source,
                 GAsyncResult *result,
                 gpointer      what)
{
  WbChartView *self = WB_CHART_VIEW (source);
  g_autoptr (GError) error = NULL;
  g_autoptr (GdkContentProvider) content = wb_chart_clip_make_finish (result, &error);

  /* Closed in the meantime: the clipboard has it nevertheless. */
  if (content != NULL)
    gdk_clipboard_set_content (gtk_widget_get_clipboard (GTK_WIDGET (self)), content);
  if (self->words != NULL)
    say (self, content != NULL ? get_told (GPOINTER_TO_INT (what)) : error->message);
}

void
wb_chart_view_copy (WbChartView *self,
                    WbChartCopy  what)
{
  WbChartClip clip;

  g_return_if_fail (WB_IS_CHART_VIEW (self));

  if (self->chart == NULL)
    return;
  clip = (WbChartClip) { what, 0, 0 };
  wb_chart_canvas_get_size_pt (self->canvas, &clip.width, &clip.height);
  wb_chart_clip_make_async (self, self->chart, &clip, on_clip_made_cb, GINT_TO_POINTER (what));
}

static void
on_copy_cb (GtkWidget  *widget,
            const char *action,
            GVariant   *parameter)
{
  wb_chart_view_copy (WB_CHART_VIEW (widget), g_str_equal (action, "chart.copy-picture") ? WB_CHART_COPY_PICTURE
                                              : g_str_equal (action, "chart.copy-csv")   ? WB_CHART_COPY_CSV
                                                                                         : WB_CHART_COPY_TEXT);
}

static void
on_save_cb (GtkWidget  *widget,
            const char *action,
            GVariant   *parameter)
{
  g_signal_emit (widget, signals[SAVE], 0);
}

static gboolean
on_key_pressed_cb (GtkEventControllerKey *controller,
                   guint                  keyval,
                   guint                  keycode,
                   GdkModifierType        state,
                   WbChartView           *self)
{
  GdkModifierType held = state & (GDK_CONTROL_MASK | GDK_ALT_MASK | GDK_SUPER_MASK);
  gboolean on_canvas = gtk_widget_has_focus (GTK_WIDGET (self->canvas));

  if (held == GDK_CONTROL_MASK && (keyval == GDK_KEY_c || keyval == GDK_KEY_Insert))
    wb_chart_view_copy (self, WB_CHART_COPY_TEXT);
  else if (held != 0)
    return GDK_EVENT_PROPAGATE;
  else if (keyval == GDK_KEY_t || keyval == GDK_KEY_T)
    wb_chart_view_set_table_shown (self, !wb_chart_view_get_table_shown (self));
  else if (!on_canvas)
    return GDK_EVENT_PROPAGATE;
  else if (keyval == GDK_KEY_Right || keyval == GDK_KEY_Left)
    wb_chart_canvas_step (self->canvas, keyval == GDK_KEY_Right ? 1 : -1);
  else if (keyval == GDK_KEY_Down || keyval == GDK_KEY_Up)
    wb_chart_canvas_step_layer (self->canvas, keyval == GDK_KEY_Down ? 1 : -1);
  else if (keyval == GDK_KEY_Return || keyval == GDK_KEY_KP_Enter)
    choose (self);
  else
    return GDK_EVENT_PROPAGATE;
  return GDK_EVENT_STOP;
}

static void
on_button_toggled_cb (WbChartView *self)
{
  wb_chart_view_set_table_shown (self, gtk_toggle_button_get_active (GTK_TOGGLE_BUTTON (self->button)));
}

static gboolean
wb_chart_view_grab_focus (GtkWidget *widget)
{
  WbChartView *self = WB_CHART_VIEW (widget);

  return gtk_widget_grab_focus (wb_chart_view_get_table_shown (self) ? GTK_WIDGET (self->table) : GTK_WIDGET (self->canvas));
}

static void
wb_chart_view_get_property (GObject    *object,
                            guint       id,
                            GValue     *value,
                            GParamSpec *spec)
{
  if (id == PROP_TABLE_SHOWN)
    g_value_set_boolean (value, wb_chart_view_get_table_shown (WB_CHART_VIEW (object)));
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, spec);
}

static void
wb_chart_view_set_property (GObject      *object,
                            guint         id,
                            const GValue *value,
                            GParamSpec   *spec)
{
  if (id == PROP_TABLE_SHOWN)
    wb_chart_view_set_table_shown (WB_CHART_VIEW (object), g_value_get_boolean (value));
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, spec);
}

static void
wb_chart_view_dispose (GObject *object)
{
  WbChartView *self = WB_CHART_VIEW (object);

  g_clear_handle_id (&self->late_id, g_source_remove);
  if (self->table != NULL)
    g_signal_handlers_disconnect_by_data (self->table, self);
  self->table = NULL;
  self->words = NULL;
  self->verb = NULL;
  g_clear_pointer (&self->stack, gtk_widget_unparent);
  g_clear_pointer (&self->strip, gtk_widget_unparent);
  g_clear_pointer (&self->chart, wb_chart_unref);
  g_clear_pointer (&self->said, g_free);
  G_OBJECT_CLASS (wb_chart_view_parent_class)->dispose (object);
}

static void
wb_chart_view_class_init (WbChartViewClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  object_class->get_property = wb_chart_view_get_property;
  object_class->set_property = wb_chart_view_set_property;
  object_class->dispose = wb_chart_view_dispose;
  widget_class->grab_focus = wb_chart_view_grab_focus;
  widget_class->focus = wb_focus_walk;
  properties[PROP_TABLE_SHOWN] = g_param_spec_boolean ("table-shown", NULL, NULL, FALSE,
                                                       G_PARAM_READWRITE | G_PARAM_STATIC_STRINGS | G_PARAM_EXPLICIT_NOTIFY);
  g_object_class_install_properties (object_class, N_PROPS, properties);
  signals[CHOSEN] = g_signal_new ("chosen", WB_TYPE_CHART_VIEW, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                  G_TYPE_NONE, 3, G_TYPE_UINT, G_TYPE_UINT, G_TYPE_UINT64);
  signals[SAVE] = g_signal_new ("save", WB_TYPE_CHART_VIEW, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_install_action (widget_class, "chart.copy-picture", NULL, on_copy_cb);
  gtk_widget_class_install_action (widget_class, "chart.copy-text", NULL, on_copy_cb);
  gtk_widget_class_install_action (widget_class, "chart.copy-csv", NULL, on_copy_cb);
  gtk_widget_class_install_action (widget_class, "chart.save", NULL, on_save_cb);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "chartview");
}

static GtkWidget *
menu_new (gboolean can_save)
{
  g_autoptr (GMenu) model = g_menu_new (), copies = g_menu_new (), files = g_menu_new ();
  GtkWidget *menu = gtk_menu_button_new ();

  g_menu_append (copies, _("Copy the picture"), "chart.copy-picture");
  g_menu_append (copies, _("Copy the figures"), "chart.copy-text");
  g_menu_append (copies, _("Copy the figures as CSV"), "chart.copy-csv");
  g_menu_append (files, _("Save as a picture or PDF…"), "chart.save");
  g_menu_append_section (model, NULL, G_MENU_MODEL (copies));
  if (can_save)
    g_menu_append_section (model, NULL, G_MENU_MODEL (files));
  gtk_menu_button_set_menu_model (GTK_MENU_BUTTON (menu), G_MENU_MODEL (model));
  gtk_menu_button_set_label (GTK_MENU_BUTTON (menu), can_save ? _("Copy / Save") : _("Copy"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (menu), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  can_save ? _("Copy or save the chart") : _("Copy the chart"), -1);
  return menu;
}

static void
make_strip (WbChartView *self)
{
  self->strip = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  self->words = g_object_new (GTK_TYPE_LABEL,
                              "xalign", 0.0,
                              "hexpand", TRUE,
                              "wrap", TRUE,
                              "lines", 2,
                              "ellipsize", PANGO_ELLIPSIZE_END,
                              "accessible-role", GTK_ACCESSIBLE_ROLE_STATUS,
                              NULL);
  self->button = gtk_toggle_button_new_with_label (_("Table"));
  gtk_widget_set_tooltip_text (self->button, _("Show the figures instead of the picture (T)"));
  gtk_widget_add_css_class (self->strip, "strip");
  gtk_widget_add_css_class (GTK_WIDGET (self->words), "words");
  gtk_box_append (GTK_BOX (self->strip), GTK_WIDGET (self->words));
  gtk_widget_set_valign (self->button, GTK_ALIGN_CENTER);
  gtk_box_append (GTK_BOX (self->strip), self->button);
  g_signal_connect_swapped (self->button, "toggled", G_CALLBACK (on_button_toggled_cb), self);
}

static gboolean
on_table_late_cb (gpointer user)
{
  WbChartView *self = user;

  self->late_id = 0;
  self->table_late = TRUE;
  update_words (self);
  return G_SOURCE_REMOVE;
}

static void
on_table_ready_cb (WbChartView *self)
{
  g_clear_handle_id (&self->late_id, g_source_remove);
  self->table_late = FALSE;
  if (!wb_chart_table_view_get_ready (self->table))
    self->late_id = g_timeout_add (LATE_MS, on_table_late_cb, self);
  update_words (self);
}

static void
wb_chart_view_init (WbChartView *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();

  self->canvas = g_object_new (WB_TYPE_CHART_CANVAS, NULL);
  self->table = WB_CHART_TABLE_VIEW (wb_chart_table_view_new ());
  self->stack = gtk_stack_new ();
  gtk_stack_add_named (GTK_STACK (self->stack), GTK_WIDGET (self->canvas), "picture");
  gtk_stack_add_named (GTK_STACK (self->stack), GTK_WIDGET (self->table), "table");
  make_strip (self);
  gtk_widget_set_parent (self->stack, GTK_WIDGET (self));
  gtk_widget_set_parent (self->strip, GTK_WIDGET (self));
  gtk_orientable_set_orientation (GTK_ORIENTABLE (gtk_widget_get_layout_manager (GTK_WIDGET (self))), GTK_ORIENTATION_VERTICAL);
  g_signal_connect_swapped (self->canvas, "pointed", G_CALLBACK (on_pointed_cb), self);
  g_signal_connect_swapped (self->canvas, "laid-out", G_CALLBACK (update_words), self);
  g_signal_connect_swapped (self->canvas, "notify::late", G_CALLBACK (update_words), self);
  g_signal_connect_swapped (self->table, "notify::ready", G_CALLBACK (on_table_ready_cb), self);
  g_signal_connect_swapped (self->canvas, "chosen", G_CALLBACK (choose), self);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (on_key_pressed_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
  wb_chart_view_set_can_save (self, FALSE);
  wb_chart_view_set_chart (self, NULL);
}

GtkWidget *
wb_chart_view_new (void)
{
  return g_object_new (WB_TYPE_CHART_VIEW, NULL);
}

static void
fill_table (WbChartView *self)
{
  if (!self->table_stale)
    return;
  self->table_stale = FALSE;
  wb_chart_table_view_set_chart (self->table, self->chart, self->chart != NULL ? wb_chart_get_title (self->chart) : NULL);
}

void
wb_chart_view_set_chart (WbChartView *self,
                         WbChart     *chart)
{
  const char *title, *description;

  g_return_if_fail (WB_IS_CHART_VIEW (self));

  if (chart != NULL)
    wb_chart_ref (chart);
  g_clear_pointer (&self->chart, wb_chart_unref);
  self->chart = chart;
  wb_chart_canvas_set_chart (self->canvas, chart);
  title = chart != NULL ? wb_chart_get_title (chart) : NULL;
  description = chart != NULL ? wb_chart_get_description (chart) : NULL;
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->canvas),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, title != NULL ? title : _("Empty chart"),
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, description != NULL ? description : "",
                                  -1);
  wb_grey_set (self->button, chart != NULL ? NULL : _("There is no chart"));
  wb_grey_set (self->menu, chart != NULL ? NULL : _("There is no chart"));
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "chart.copy-picture", chart != NULL);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "chart.copy-text", chart != NULL);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "chart.copy-csv", chart != NULL);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "chart.save", chart != NULL && self->can_save);
  g_clear_pointer (&self->said, g_free);
  self->table_stale = TRUE;
  if (wb_chart_view_get_table_shown (self))
    fill_table (self);
  update_words (self);
}

WbChart *
wb_chart_view_get_chart (WbChartView *self)
{
  g_return_val_if_fail (WB_IS_CHART_VIEW (self), NULL);
  return self->chart;
}

void
wb_chart_view_set_minimum (WbChartView *self,
                           int          width,
                           int          height)
{
  g_return_if_fail (WB_IS_CHART_VIEW (self));
  g_return_if_fail (width > 0 && height > 0);
  wb_chart_canvas_set_minimum (self->canvas, width, height);
}

void
wb_chart_view_set_table_shown (WbChartView *self,
                               gboolean     shown)
{
  gboolean had_focus;

  g_return_if_fail (WB_IS_CHART_VIEW (self));

  shown = shown && self->chart != NULL;
  if (shown == wb_chart_view_get_table_shown (self))
    return;
  had_focus = gtk_widget_get_focus_child (self->stack) != NULL;
  if (shown)
    fill_table (self);
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), shown ? "table" : "picture");
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (self->button), shown);
  update_words (self);
  if (had_focus)
    wb_chart_view_grab_focus (GTK_WIDGET (self));
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_TABLE_SHOWN]);
}

gboolean
wb_chart_view_get_table_shown (WbChartView *self)
{
  g_return_val_if_fail (WB_IS_CHART_VIEW (self), FALSE);
  return g_strcmp0 (gtk_stack_get_visible_child_name (GTK_STACK (self->stack)), "table") == 0;
}

const char *
wb_chart_view_get_words (WbChartView *self)
{
  g_return_val_if_fail (WB_IS_CHART_VIEW (self), NULL);
  return gtk_label_get_text (self->words);
}

void
wb_chart_view_set_verb (WbChartView     *self,
                        WbChartVerbFunc  verb,
                        gpointer         user)
{
  g_return_if_fail (WB_IS_CHART_VIEW (self));

  self->verb = verb;
  self->verb_user = user;
  update_words (self);
}

void
wb_chart_view_set_can_save (WbChartView *self,
                            gboolean     can_save)
{
  g_return_if_fail (WB_IS_CHART_VIEW (self));

  self->can_save = can_save;
  if (self->menu != NULL)
    gtk_box_remove (GTK_BOX (self->strip), self->menu);
  self->menu = menu_new (can_save);
  gtk_widget_set_valign (self->menu, GTK_ALIGN_CENTER);
  gtk_box_insert_child_after (GTK_BOX (self->strip), self->menu, GTK_WIDGET (self->words));
  wb_grey_set (self->menu, self->chart != NULL ? NULL : _("There is no chart"));
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "chart.save", self->chart != NULL && can_save);
}
