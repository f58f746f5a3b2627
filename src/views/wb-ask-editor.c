/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-ask-editor.h"

#include "wb-accessible-name.h"
#include "wb-tooltip.h"

#include <glib/gi18n.h>

/* CSS node: askeditor. A group; each line's controls are called by its field. */

#define N_MOMENTS 5

static const struct
{
  const char *field; /* of the protocol */
  const char *title;
} moments[N_MOMENTS] = {
  [WB_APP_ASK_LIGHTING] = { "ask_lighting", N_("at lighting") },
  [WB_APP_ASK_ROUND] = { "ask_round", N_("in a round") },
  [WB_APP_ASK_BEFORE_SNUFFING] = { "ask_before_snuffing", N_("before snuffing") },
  [WB_APP_ASK_AFTER_SNUFFING] = { "ask_after_snuffing", N_("after snuffing") },
  [WB_APP_ASK_NEXT_DAY] = { "ask_next_day", N_("the next day") },
};

struct _WbAskEditor
{
  GtkWidget    parent_instance;

  /* children */
  GtkWidget   *box;
  GtkDropDown *moment;
  GtkGrid     *lines;
  GtkWidget   *tick[WB_N_COLUMNS]; /* NULL: that column is asked by another */
  GtkWidget   *up[WB_N_COLUMNS];
  GtkWidget   *down[WB_N_COLUMNS];

  /* owned */
  GArray      *asked[N_MOMENTS];   /* int: columns in the order asked */

  /* state */
  gboolean     changed[N_MOMENTS];
  gboolean     quiet;
};

G_DEFINE_FINAL_TYPE (WbAskEditor, wb_ask_editor, GTK_TYPE_WIDGET)

enum { CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

/* Which wick it is the bench asks where there are several; a ring is one question, and "full" an answer. */
static gboolean
is_offered (WbColumn column)
{
  return column != WB_COLUMN_POOL_FULL && column != WB_COLUMN_POOL_A_MM && column != WB_COLUMN_WICK_NUMBER
         && !(column > WB_COLUMN_RING_12_MM && column <= WB_COLUMN_RING_9_MM);
}

static const char *
get_label (WbColumn column)
{
  switch (column)
    {
    case WB_COLUMN_POOL_B_MM:
      return _("Pool, two diameters");
    case WB_COLUMN_RING_12_MM:
      return _("Ring left at the four sides");
    default:
      return _(wb_column_get_spec (column)->label);
    }
}

static GArray *
get_shown (WbAskEditor *self)
{
  return self->asked[gtk_drop_down_get_selected (self->moment)];
}

/* -1: not asked. */
static int
find_place (const GArray *asked,
            WbColumn      column)
{
  for (guint i = 0; i < asked->len; i++)
    if (g_array_index (asked, int, i) == (int) column)
      return (int) i;
  return -1;
}

static void
attach (WbAskEditor *self,
        WbColumn     column,
        int          line)
{
  GtkWidget *widgets[] = { self->tick[column], self->up[column], self->down[column] };

  for (guint i = 0; i < G_N_ELEMENTS (widgets); i++)
    {
      g_object_ref (widgets[i]);
      if (gtk_widget_get_parent (widgets[i]) != NULL)
        gtk_grid_remove (self->lines, widgets[i]);
      gtk_grid_attach (self->lines, widgets[i], (int) i, line, 1, 1);
      g_object_unref (widgets[i]);
    }
}

/* What is asked stands first, in its order; the rest as the columns go. */
static void
show_lines (WbAskEditor *self)
{
  const GArray *asked = get_shown (self);
  int line = 0;

  self->quiet = TRUE;
  for (guint i = 0; i < asked->len; i++)
    attach (self, g_array_index (asked, int, i), line++);
  for (int column = 0; column < WB_N_COLUMNS; column++)
    {
      int place = find_place (asked, column);

      if (self->tick[column] == NULL)
        continue;
      if (place < 0)
        attach (self, column, line++);
      gtk_check_button_set_active (GTK_CHECK_BUTTON (self->tick[column]), place >= 0);
      gtk_widget_set_sensitive (self->up[column], place > 0);
      gtk_widget_set_sensitive (self->down[column], place >= 0 && place + 1 < (int) asked->len);
    }
  self->quiet = FALSE;
}

static void
show_again (WbAskEditor *self,
            GtkWidget   *focus)
{
  self->changed[gtk_drop_down_get_selected (self->moment)] = TRUE;
  show_lines (self);
  if (focus != NULL)
    gtk_widget_grab_focus (focus);
  g_signal_emit (self, signals[CHANGED], 0);
}

void
wb_ask_editor_set_asked (WbAskEditor *self,
                         WbColumn     column,
                         gboolean     asked)
{
  GArray *list;
  int place;

  g_return_if_fail (WB_IS_ASK_EDITOR (self));
  g_return_if_fail (column < WB_N_COLUMNS && self->tick[column] != NULL);

  list = get_shown (self);
  place = find_place (list, column);
  if ((place >= 0) == asked)
    return;
  if (asked)
    {
      int value = (int) column;

      g_array_append_val (list, value);
    }
  else
    g_array_remove_index (list, (guint) place);
  show_again (self, gtk_widget_get_root (GTK_WIDGET (self)) != NULL ? self->tick[column] : NULL);
}

void
wb_ask_editor_move (WbAskEditor *self,
                    WbColumn     column,
                    int          by)
{
  GtkWidget *pressed;
  GArray *list;
  int place, other;

  g_return_if_fail (WB_IS_ASK_EDITOR (self));
  g_return_if_fail (column < WB_N_COLUMNS && (by == 1 || by == -1));

  list = get_shown (self);
  place = find_place (list, column);
  if (place < 0 || place + by < 0 || place + by >= (int) list->len)
    return;
  other = g_array_index (list, int, place + by);
  g_array_index (list, int, place + by) = (int) column;
  g_array_index (list, int, place) = other;
  pressed = by < 0 ? self->up[column] : self->down[column];
  show_again (self, NULL);
  /* At the end of its way the button can do no more: the keyboard stays in the line. */
  if (gtk_widget_get_root (pressed) != NULL)
    gtk_widget_grab_focus (gtk_widget_is_sensitive (pressed) ? pressed : self->tick[column]);
}

static WbColumn
column_of (GtkWidget *control)
{
  return (WbColumn) GPOINTER_TO_INT (g_object_get_data (G_OBJECT (control), "column"));
}

static void
on_tick_toggled_cb (WbAskEditor *self,
                    GtkWidget   *tick)
{
  if (!self->quiet)
    wb_ask_editor_set_asked (self, column_of (tick), gtk_check_button_get_active (GTK_CHECK_BUTTON (tick)));
}

static void
on_up_clicked_cb (WbAskEditor *self,
                  GtkWidget   *button)
{
  wb_ask_editor_move (self, column_of (button), -1);
}

static void
on_down_clicked_cb (WbAskEditor *self,
                    GtkWidget   *button)
{
  wb_ask_editor_move (self, column_of (button), 1);
}

static void
on_moment_selected_cb (WbAskEditor *self)
{
  if (!self->quiet && gtk_drop_down_get_selected (self->moment) < N_MOMENTS)
    show_lines (self);
}

static void
wb_ask_editor_dispose (GObject *object)
{
  g_clear_pointer (&WB_ASK_EDITOR (object)->box, gtk_widget_unparent);
  G_OBJECT_CLASS (wb_ask_editor_parent_class)->dispose (object);
}

static void
wb_ask_editor_finalize (GObject *object)
{
  for (int i = 0; i < N_MOMENTS; i++)
    g_array_unref (WB_ASK_EDITOR (object)->asked[i]);
  G_OBJECT_CLASS (wb_ask_editor_parent_class)->finalize (object);
}

static void
wb_ask_editor_class_init (WbAskEditorClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = wb_ask_editor_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_ask_editor_finalize;
  signals[CHANGED] = g_signal_new ("changed", WB_TYPE_ASK_EDITOR, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (klass), "askeditor");
  gtk_widget_class_set_accessible_role (GTK_WIDGET_CLASS (klass), GTK_ACCESSIBLE_ROLE_GROUP);
}

static GtkWidget *
mover_new (WbAskEditor *self,
           WbColumn     column,
           const char  *icon,
           const char  *name,
           GCallback    clicked)
{
  GtkWidget *button = gtk_button_new_from_icon_name (icon);

  gtk_button_set_has_frame (GTK_BUTTON (button), FALSE);
  wb_tooltip_set (button, name);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  g_object_set_data (G_OBJECT (button), "column", GINT_TO_POINTER (column));
  g_signal_connect_swapped (button, "clicked", clicked, self);
  return button;
}

static void
add_controls (WbAskEditor *self,
              WbColumn     column)
{
  /* Translators: name of a field. */
  g_autofree char *earlier = g_strdup_printf (_("%s: ask it earlier"), get_label (column));
  /* Translators: name of a field. */
  g_autofree char *later = g_strdup_printf (_("%s: ask it later"), get_label (column));

  self->tick[column] = gtk_check_button_new_with_label (get_label (column));
  gtk_widget_set_hexpand (self->tick[column], TRUE);
  g_object_set_data (G_OBJECT (self->tick[column]), "column", GINT_TO_POINTER (column));
  g_signal_connect_swapped (self->tick[column], "toggled", G_CALLBACK (on_tick_toggled_cb), self);
  self->up[column] = mover_new (self, column, "go-up-symbolic", earlier, G_CALLBACK (on_up_clicked_cb));
  self->down[column] = mover_new (self, column, "go-down-symbolic", later, G_CALLBACK (on_down_clicked_cb));
}

static void
wb_ask_editor_init (WbAskEditor *self)
{
  const char *titles[N_MOMENTS + 1] = { NULL };

  for (int i = 0; i < N_MOMENTS; i++)
    {
      titles[i] = _(moments[i].title);
      self->asked[i] = g_array_new (FALSE, FALSE, sizeof (int));
    }
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  self->moment = GTK_DROP_DOWN (gtk_drop_down_new_from_strings (titles));
  gtk_widget_set_halign (GTK_WIDGET (self->moment), GTK_ALIGN_START);
  wb_accessible_name_drop_down (self->moment, _("Asked when"));
  self->lines = GTK_GRID (gtk_grid_new ());
  gtk_box_append (GTK_BOX (self->box), GTK_WIDGET (self->moment));
  gtk_box_append (GTK_BOX (self->box), GTK_WIDGET (self->lines));
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
  for (int column = 0; column < WB_N_COLUMNS; column++)
    if (is_offered ((WbColumn) column))
      add_controls (self, (WbColumn) column);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, _("What is asked, and when"), -1);
  wb_ask_editor_show_moment (self, WB_APP_ASK_ROUND);
  g_signal_connect_swapped (self->moment, "notify::selected", G_CALLBACK (on_moment_selected_cb), self);
}

void
wb_ask_editor_show_moment (WbAskEditor *self,
                           WbAppAsk     ask)
{
  g_return_if_fail (WB_IS_ASK_EDITOR (self));
  g_return_if_fail (ask < N_MOMENTS);
  gtk_drop_down_set_selected (self->moment, ask);
  show_lines (self);
}

void
wb_ask_editor_set_protocol (WbAskEditor      *self,
                            const WbProtocol *protocol)
{
  g_return_if_fail (WB_IS_ASK_EDITOR (self));
  g_return_if_fail (protocol != NULL);

  for (int i = 0; i < N_MOMENTS; i++)
    {
      g_autoptr (GArray) columns = wb_app_bench_dup_asked (protocol, (WbAppAsk) i);

      self->changed[i] = FALSE;
      g_array_set_size (self->asked[i], 0);
      for (guint k = 0; k < columns->len; k++)
        {
          int column = g_array_index (columns, int, k);

          if (self->tick[column] != NULL && find_place (self->asked[i], column) < 0)
            g_array_append_val (self->asked[i], column);
        }
    }
  wb_ask_editor_show_moment (self, WB_APP_ASK_ROUND);
}

void
wb_ask_editor_write (WbAskEditor *self,
                     WbProtocol  *protocol)
{
  g_return_if_fail (WB_IS_ASK_EDITOR (self));
  g_return_if_fail (protocol != NULL);

  for (int i = 0; i < N_MOMENTS; i++)
    {
      g_autoptr (GString) names = g_string_new (NULL);

      for (guint k = 0; k < self->asked[i]->len; k++)
        g_string_append_printf (names, "%s%s", k > 0 ? "," : "",
                                wb_column_get_spec ((WbColumn) g_array_index (self->asked[i], int, k))->name);
      if (self->changed[i])
        wb_record_set_text (protocol, wb_record_type_find_field (&wb_protocol_type, moments[i].field), names->str);
    }
}
