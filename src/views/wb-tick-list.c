/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-tick-list.h"

#include <glib/gi18n.h>

/* CSS node: ticklist. Accessible: a group of check boxes, each named by its item. */

#define SHORT_TITLE 5 /* characters */

typedef struct
{
  gint64          id;
  guint           group;
  GtkCheckButton *check; /* borrowed from the box */
} Tick;

struct _WbTickList
{
  GtkWidget  parent_instance;

  /* children */
  GtkWidget *box;

  /* owned */
  GArray    *ticks;   /* Tick */
  GPtrArray *groups;  /* GtkCheckButton, borrowed; NULL for one without a name */
  char      *shape;   /* what is shown, to know it again */

  /* state */
  int        columns;  /* where the titles are short; else half of them */
  int        shown_columns;
  gboolean   quiet;
};

G_DEFINE_FINAL_TYPE (WbTickList, wb_tick_list, GTK_TYPE_WIDGET)

enum { TOGGLED, N_SIGNALS };
static guint signals[N_SIGNALS];

static void
update_group (WbTickList *self,
              guint       group)
{
  GtkCheckButton *check = self->groups->pdata[group];
  guint n = 0, on = 0;

  if (check == NULL)
    return;
  for (guint i = 0; i < self->ticks->len; i++)
    {
      const Tick *tick = &g_array_index (self->ticks, Tick, i);

      if (tick->group != group)
        continue;
      n++;
      on += gtk_check_button_get_active (tick->check);
    }
  self->quiet = TRUE;
  gtk_check_button_set_active (check, on == n);
  gtk_check_button_set_inconsistent (check, on > 0 && on < n);
  self->quiet = FALSE;
}

static void
on_tick_toggled_cb (WbTickList     *self,
                    GtkCheckButton *check)
{
  if (self->quiet)
    return;
  for (guint i = 0; i < self->ticks->len; i++)
    {
      const Tick tick = g_array_index (self->ticks, Tick, i);
      g_autoptr (GArray) one = NULL;

      if (tick.check != check)
        continue;
      one = g_array_new (FALSE, FALSE, sizeof (gint64));
      g_array_append_val (one, tick.id);
      update_group (self, tick.group);
      g_signal_emit (self, signals[TOGGLED], 0, one, gtk_check_button_get_active (check));
      return;
    }
}

static void
on_group_toggled_cb (WbTickList     *self,
                     GtkCheckButton *check)
{
  gboolean on = gtk_check_button_get_active (check);
  g_autoptr (GArray) changed = g_array_new (FALSE, FALSE, sizeof (gint64));
  guint group;

  if (self->quiet || !g_ptr_array_find (self->groups, check, &group))
    return;
  gtk_check_button_set_inconsistent (check, FALSE);
  self->quiet = TRUE;
  for (guint i = 0; i < self->ticks->len; i++)
    {
      const Tick tick = g_array_index (self->ticks, Tick, i);

      if (tick.group != group || gtk_check_button_get_active (tick.check) == on)
        continue;
      gtk_check_button_set_active (tick.check, on);
      g_array_append_val (changed, tick.id);
    }
  self->quiet = FALSE;
  if (changed->len > 0)
    g_signal_emit (self, signals[TOGGLED], 0, changed, on);
}

static GdkContentProvider *
on_prepare_cb (GtkDragSource *source,
               double         x,
               double         y,
               GtkWidget     *check)
{
  g_autoptr (GdkPaintable) picture = gtk_widget_paintable_new (check);

  gtk_drag_source_set_icon (source, picture, (int) x, (int) y);
  return gdk_content_provider_new_typed (GTK_TYPE_CHECK_BUTTON, check);
}

/* A check whose words end in an ellipsis instead of widening the page. */
static GtkWidget *
check_new (const char *words,
           const char *name)
{
  GtkWidget *check = gtk_check_button_new ();
  GtkDragSource *source = gtk_drag_source_new ();
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", words, "xalign", 0.0, "ellipsize", PANGO_ELLIPSIZE_END,
                                   "single-line-mode", TRUE, "max-width-chars", 34, NULL);

  gtk_check_button_set_child (GTK_CHECK_BUTTON (check), label);
  gtk_widget_set_tooltip_text (check, name);
  gtk_accessible_update_property (GTK_ACCESSIBLE (check), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  /* before the check takes the press for a click */
  gtk_event_controller_set_propagation_phase (GTK_EVENT_CONTROLLER (source), GTK_PHASE_CAPTURE);
  g_signal_connect_object (source, "prepare", G_CALLBACK (on_prepare_cb), check, 0);
  gtk_widget_add_controller (check, GTK_EVENT_CONTROLLER (source));
  return check;
}

static void
add_group (WbTickList *self,
           const char *title)
{
  GtkWidget *grid = gtk_grid_new ();
  GtkWidget *check = NULL;

  if (title != NULL)
    {
      g_autofree char *name = g_strdup_printf (_("%s, all of them"), title);

      check = check_new (title, name);
      gtk_widget_add_css_class (check, "strong");
      gtk_widget_set_margin_start (grid, 22);
      gtk_box_append (GTK_BOX (self->box), check);
      g_signal_connect_swapped (check, "toggled", G_CALLBACK (on_group_toggled_cb), self);
    }
  g_ptr_array_add (self->groups, check);
  gtk_grid_set_column_homogeneous (GTK_GRID (grid), TRUE);
  gtk_grid_set_column_spacing (GTK_GRID (grid), 8);
  gtk_grid_set_row_spacing (GTK_GRID (grid), 4);
  gtk_box_append (GTK_BOX (self->box), grid);
}

static void
add_tick (WbTickList   *self,
          const WbTick *item,
          int           place,
          gboolean      on)
{
  GtkWidget *grid = gtk_widget_get_last_child (self->box);
  Tick tick = { item->id, self->groups->len - 1, GTK_CHECK_BUTTON (check_new (item->title, item->name)) };

  gtk_check_button_set_active (tick.check, on);
  gtk_widget_set_hexpand (GTK_WIDGET (tick.check), TRUE);
  gtk_grid_attach (GTK_GRID (grid), GTK_WIDGET (tick.check), place % self->shown_columns, place / self->shown_columns, 1, 1);
  g_signal_connect_swapped (tick.check, "toggled", G_CALLBACK (on_tick_toggled_cb), self);
  g_array_append_val (self->ticks, tick);
}

static gboolean
are_short (const WbTick *items,
           guint         n_items)
{
  for (guint i = 0; i < n_items; i++)
    if (g_utf8_strlen (items[i].title, -1) > SHORT_TITLE)
      return FALSE;
  return TRUE;
}

static char *
dup_shape (const WbTick *items,
           guint         n_items)
{
  GString *shape = g_string_new (NULL);

  for (guint i = 0; i < n_items; i++)
    g_string_append_printf (shape, "%" G_GINT64_FORMAT "\t%s\t%s\n", items[i].id, items[i].group != NULL ? items[i].group : "",
                            items[i].title);
  return g_string_free (shape, FALSE);
}

static void
clear (WbTickList *self)
{
  GtkWidget *child;

  g_array_set_size (self->ticks, 0);
  g_ptr_array_set_size (self->groups, 0);
  while ((child = gtk_widget_get_first_child (self->box)) != NULL)
    gtk_box_remove (GTK_BOX (self->box), child);
}

static void
wb_tick_list_dispose (GObject *object)
{
  WbTickList *self = WB_TICK_LIST (object);

  g_array_set_size (self->ticks, 0);
  g_ptr_array_set_size (self->groups, 0);
  g_clear_pointer (&self->box, gtk_widget_unparent);
  G_OBJECT_CLASS (wb_tick_list_parent_class)->dispose (object);
}

static void
wb_tick_list_finalize (GObject *object)
{
  WbTickList *self = WB_TICK_LIST (object);

  g_array_unref (self->ticks);
  g_ptr_array_unref (self->groups);
  g_free (self->shape);
  G_OBJECT_CLASS (wb_tick_list_parent_class)->finalize (object);
}

static void
wb_tick_list_class_init (WbTickListClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_tick_list_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_tick_list_finalize;
  signals[TOGGLED] = g_signal_new ("toggled", WB_TYPE_TICK_LIST, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                   G_TYPE_NONE, 2, G_TYPE_ARRAY, G_TYPE_BOOLEAN);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "ticklist");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
}

static void
wb_tick_list_init (WbTickList *self)
{
  self->ticks = g_array_new (FALSE, FALSE, sizeof (Tick));
  self->groups = g_ptr_array_new ();
  self->columns = 1;
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
}

GtkWidget *
wb_tick_list_new (int         columns,
                  const char *name)
{
  WbTickList *self = g_object_new (WB_TYPE_TICK_LIST, NULL);

  g_return_val_if_fail (columns > 0, NULL);
  self->columns = columns;
  gtk_widget_set_hexpand (GTK_WIDGET (self), TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  return GTK_WIDGET (self);
}

void
wb_tick_list_fill (WbTickList   *self,
                   const WbTick *items,
                   guint         n_items)
{
  g_autofree char *shape = NULL;
  g_autoptr (GHashTable) on = NULL;
  int place = 0;

  g_return_if_fail (WB_IS_TICK_LIST (self));

  shape = dup_shape (items, n_items);
  if (g_strcmp0 (shape, self->shape) == 0)
    return;
  g_free (self->shape);
  self->shape = g_steal_pointer (&shape);
  on = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  for (guint i = 0; i < self->ticks->len; i++)
    if (gtk_check_button_get_active (g_array_index (self->ticks, Tick, i).check))
      g_hash_table_add (on, g_memdup2 (&g_array_index (self->ticks, Tick, i).id, sizeof (gint64)));
  clear (self);
  self->shown_columns = are_short (items, n_items) ? self->columns : MAX (self->columns / 2, 1);
  for (guint i = 0; i < n_items; i++)
    {
      if (i == 0 || g_strcmp0 (items[i].group, items[i - 1].group) != 0)
        {
          add_group (self, items[i].group);
          place = 0;
        }
      add_tick (self, &items[i], place++, g_hash_table_contains (on, &items[i].id));
    }
  for (guint i = 0; i < self->groups->len; i++)
    update_group (self, i);
}

static gboolean
on_drop_cb (GtkDropTarget *target,
            const GValue  *value,
            double         x,
            double         y,
            GtkWidget     *within)
{
  GtkWidget *check = g_value_get_object (value);

  /* of another window, say */
  if (check == NULL || gtk_widget_get_ancestor (check, WB_TYPE_TICK_LIST) == NULL || !gtk_widget_is_ancestor (check, within))
    return FALSE;
  gtk_check_button_set_active (GTK_CHECK_BUTTON (check), TRUE);
  return TRUE;
}

void
wb_tick_list_add_drop_place (GtkWidget *place,
                             GtkWidget *within)
{
  GtkDropTarget *target;

  g_return_if_fail (GTK_IS_WIDGET (place));
  g_return_if_fail (GTK_IS_WIDGET (within));

  target = gtk_drop_target_new (GTK_TYPE_CHECK_BUTTON, GDK_ACTION_COPY);
  g_signal_connect_object (target, "drop", G_CALLBACK (on_drop_cb), within, 0);
  gtk_widget_add_controller (place, GTK_EVENT_CONTROLLER (target));
}

GtkCheckButton *
wb_tick_list_get_tick (WbTickList *self,
                       gint64      id)
{
  g_return_val_if_fail (WB_IS_TICK_LIST (self), NULL);

  for (guint i = 0; i < self->ticks->len; i++)
    if (g_array_index (self->ticks, Tick, i).id == id)
      return g_array_index (self->ticks, Tick, i).check;
  return NULL;
}

void
wb_tick_list_set_on (WbTickList *self,
                     gint64      id,
                     gboolean    on)
{
  GtkCheckButton *check = wb_tick_list_get_tick (self, id);

  if (check == NULL || gtk_check_button_get_active (check) == on)
    return;
  self->quiet = TRUE;
  gtk_check_button_set_active (check, on);
  self->quiet = FALSE;
  for (guint i = 0; i < self->groups->len; i++)
    update_group (self, i);
}

gboolean
wb_tick_list_get_on (WbTickList *self,
                     gint64      id)
{
  GtkCheckButton *check = wb_tick_list_get_tick (self, id);

  return check != NULL && gtk_check_button_get_active (check);
}
