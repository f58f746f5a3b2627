/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-sidebar.h"

#include "wb-bundle.h"
#include "wb-focus-walk.h"
#include "wb-place.h"
#include "wb-sidebar-row.h"

#include <glib/gi18n.h>

struct _WbSidebar
{
  GtkWidget         parent_instance;

  /* children */
  GtkWidget        *scrolled;
  GtkListBox       *list;

  /* owned */
  WbAppExperiments *experiments;
  char             *place;      /* what is open */
  gint64            experiment;

  /* state */
  gulong            changed_id;
  gboolean          quiet;      /* the program selects, not the person */
};

G_DEFINE_FINAL_TYPE (WbSidebar, wb_sidebar, GTK_TYPE_WIDGET)

enum { CHOSEN, N_SIGNALS };
static guint signals[N_SIGNALS];

/* Heading of an experiment's group, by what it waits for. */
static const char *
group_title (WbCraftState state)
{
  switch (state)
    {
    case WB_CRAFT_STATE_BURNING:
      return _("On the bench");
    case WB_CRAFT_STATE_CURING:
      return _("Poured");
    case WB_CRAFT_STATE_PLANNED:
      return _("Planned");
    case WB_CRAFT_STATE_FINISHED:
    default:
      return _("Finished");
    }
}

/* Rows of one group compare equal: Today -2, an experiment its state, the notebook's pages -1. */
static int
group_of (GtkListBoxRow *row)
{
  WbAppExperiment *experiment = wb_sidebar_row_get_experiment (WB_SIDEBAR_ROW (row));

  if (experiment != NULL)
    return (int) wb_app_experiment_get_state (experiment);
  return g_strcmp0 (wb_sidebar_row_get_place (WB_SIDEBAR_ROW (row)), "today") == 0 ? -2 : -1;
}

static guint
count_state (WbSidebar *self,
             int        state)
{
  guint n = 0;

  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (self->experiments)); i++)
    {
      g_autoptr (WbAppExperiment) experiment = g_list_model_get_item (G_LIST_MODEL (self->experiments), i);

      if ((int) wb_app_experiment_get_state (experiment) == state)
        n++;
    }
  return n;
}

static void
header_func (GtkListBoxRow *row,
             GtkListBoxRow *before,
             gpointer       user)
{
  WbSidebar *self = user;
  g_autofree char *text = NULL;
  GtkWidget *label;
  int group = group_of (row);

  if (before == NULL || group_of (before) == group)
    {
      gtk_list_box_row_set_header (row, NULL);
      return;
    }
  if (group < 0)
    text = g_strdup (_("Notebook"));
  else
    text = g_strdup_printf ("%s  %u", group_title (group), count_state (self, group));
  label = g_object_new (GTK_TYPE_LABEL, "label", text, "xalign", 0.0, NULL);
  gtk_widget_add_css_class (label, "group");
  gtk_list_box_row_set_header (row, label);
}

static void
append_places (WbSidebar *self,
               gboolean   first)
{
  for (const WbPlace *place = wb_places_get (); place->name != NULL; place++)
    if (!place->of_experiment && g_str_equal (place->name, "today") == first)
      gtk_list_box_append (self->list, wb_sidebar_row_new_place (place->name, _(place->title)));
}

static GtkListBoxRow *
find_row (WbSidebar *self)
{
  GtkListBoxRow *row;

  for (int i = 0; (row = gtk_list_box_get_row_at_index (self->list, i)) != NULL; i++)
    {
      WbAppExperiment *experiment = wb_sidebar_row_get_experiment (WB_SIDEBAR_ROW (row));

      if (experiment != NULL ? self->experiment == wb_app_experiment_get_id (experiment)
                             : self->experiment == 0 && g_strcmp0 (wb_sidebar_row_get_place (WB_SIDEBAR_ROW (row)), self->place) == 0)
        return row;
    }
  return NULL;
}

static void
select_open (WbSidebar *self)
{
  gboolean quiet = self->quiet;

  self->quiet = TRUE;
  gtk_list_box_select_row (self->list, find_row (self));
  self->quiet = quiet;
}

/* Below Today, in the order of the list. */
#define FIRST_EXPERIMENT 1

static void
insert_experiments (WbSidebar *self,
                    guint      position,
                    guint      n)
{
  for (guint i = position; i < position + n; i++)
    {
      g_autoptr (WbAppExperiment) experiment = g_list_model_get_item (G_LIST_MODEL (self->experiments), i);

      gtk_list_box_insert (self->list, wb_sidebar_row_new_experiment (experiment), FIRST_EXPERIMENT + (int) i);
    }
}

static void
remove_rows (WbSidebar *self,
             guint      position,
             guint      n)
{
  for (guint i = 0; i < n; i++)
    gtk_list_box_remove (self->list, GTK_WIDGET (gtk_list_box_get_row_at_index (self->list, (int) position)));
}

static void
fill (WbSidebar *self)
{
  GtkListBoxRow *row;

  self->quiet = TRUE;
  while ((row = gtk_list_box_get_row_at_index (self->list, 0)) != NULL)
    gtk_list_box_remove (self->list, GTK_WIDGET (row));
  append_places (self, TRUE);
  if (self->experiments != NULL)
    {
      insert_experiments (self, 0, g_list_model_get_n_items (G_LIST_MODEL (self->experiments)));
      append_places (self, FALSE);
    }
  self->quiet = FALSE;
  select_open (self);
}

/* Gives the row the newer object of its experiment. FALSE: it is of another one, or of another group now. */
static gboolean
follow (WbSidebar *self,
        guint      position)
{
  g_autoptr (WbAppExperiment) experiment = g_list_model_get_item (G_LIST_MODEL (self->experiments), position);
  GtkListBoxRow *row = gtk_list_box_get_row_at_index (self->list, FIRST_EXPERIMENT + (int) position);
  WbAppExperiment *before = wb_sidebar_row_get_experiment (WB_SIDEBAR_ROW (row));

  if (wb_app_experiment_get_id (experiment) != wb_app_experiment_get_id (before)
      || wb_app_experiment_get_state (experiment) != wb_app_experiment_get_state (before))
    return FALSE;
  wb_sidebar_row_set_experiment (WB_SIDEBAR_ROW (row), experiment);
  return TRUE;
}

/*
 * With each reading its experiment has one more: that touches its row alone, however many the notebook holds. Rows are
 * built only where experiments came, went or changed places.
 */
static void
on_items_changed_cb (WbSidebar *self,
                     guint      position,
                     guint      removed,
                     guint      added)
{
  while (removed > 0 && removed == added && follow (self, position))
    {
      position++;
      removed--;
      added--;
    }
  if (removed == 0 && added == 0)
    return;
  self->quiet = TRUE;
  remove_rows (self, FIRST_EXPERIMENT + position, removed);
  insert_experiments (self, position, added);
  /* Each heading tells how many stand below it. */
  gtk_list_box_invalidate_headers (self->list);
  self->quiet = FALSE;
  select_open (self);
}

static void
on_list_row_selected_cb (WbSidebar     *self,
                         GtkListBoxRow *row)
{
  WbAppExperiment *experiment;

  if (self->quiet || row == NULL || row == find_row (self))
    return;
  experiment = wb_sidebar_row_get_experiment (WB_SIDEBAR_ROW (row));
  g_signal_emit (self, signals[CHOSEN], 0, wb_sidebar_row_get_place (WB_SIDEBAR_ROW (row)),
                 experiment != NULL ? wb_app_experiment_get_id (experiment) : (gint64) 0);
}

static void
drop_experiments (WbSidebar *self)
{
  if (self->experiments != NULL)
    g_clear_signal_handler (&self->changed_id, self->experiments);
  g_clear_object (&self->experiments);
}

/*
 * The Tab key comes to the row that is open and leaves the list from any: its own way would take it over every row, and
 * each row that it came to would open.
 */
static gboolean
wb_sidebar_focus (GtkWidget        *widget,
                  GtkDirectionType  direction)
{
  WbSidebar *self = WB_SIDEBAR (widget);
  GtkListBoxRow *row = gtk_list_box_get_selected_row (self->list);

  if (direction != GTK_DIR_TAB_FORWARD && direction != GTK_DIR_TAB_BACKWARD)
    return wb_focus_walk (widget, direction);
  if (wb_focus_walk_is_within (widget))
    return FALSE;
  return gtk_widget_grab_focus (GTK_WIDGET (row != NULL ? row : gtk_list_box_get_row_at_index (self->list, 0)));
}

static void
wb_sidebar_dispose (GObject *object)
{
  WbSidebar *self = WB_SIDEBAR (object);

  drop_experiments (self);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_SIDEBAR);
  G_OBJECT_CLASS (wb_sidebar_parent_class)->dispose (object);
}

static void
wb_sidebar_finalize (GObject *object)
{
  g_free (WB_SIDEBAR (object)->place);
  G_OBJECT_CLASS (wb_sidebar_parent_class)->finalize (object);
}

static void
wb_sidebar_class_init (WbSidebarClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_sidebar_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_sidebar_finalize;
  widget_class->focus = wb_sidebar_focus;
  signals[CHOSEN] = g_signal_new ("chosen", WB_TYPE_SIDEBAR, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                  G_TYPE_NONE, 2, G_TYPE_STRING, G_TYPE_INT64);
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "sidebar.ui");
  gtk_widget_class_bind_template_child (widget_class, WbSidebar, scrolled);
  gtk_widget_class_bind_template_child (widget_class, WbSidebar, list);
  gtk_widget_class_bind_template_callback (widget_class, on_list_row_selected_cb);
}

static void
wb_sidebar_init (WbSidebar *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  gtk_list_box_set_header_func (self->list, header_func, self, NULL);
  self->place = g_strdup ("today");
  fill (self);
}

void
wb_sidebar_set_experiments (WbSidebar        *self,
                            WbAppExperiments *experiments)
{
  g_return_if_fail (WB_IS_SIDEBAR (self));

  drop_experiments (self);
  if (experiments != NULL)
    {
      self->experiments = g_object_ref (experiments);
      self->changed_id = g_signal_connect_swapped (experiments, "items-changed", G_CALLBACK (on_items_changed_cb), self);
    }
  fill (self);
}

void
wb_sidebar_select (WbSidebar  *self,
                   const char *place,
                   gint64      experiment)
{
  g_return_if_fail (WB_IS_SIDEBAR (self));

  if (self->place != place)
    {
      g_free (self->place);
      self->place = g_strdup (place);
    }
  self->experiment = experiment;
  select_open (self);
}
