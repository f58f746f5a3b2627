/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-page.h"

#include "wb-app-draft.h"
#include "wb-host.h"
#include "wb-stack-pages.h"

typedef struct
{
  /* owned */
  WbDesk             *desk;
  GSimpleActionGroup *actions;

  /* state */
  gint64              experiment;
  gulong              changed_id;
  gboolean            stale;
  gboolean            wants_focus; /* nothing was there to take it so far */
  GtkWidget          *left;        /* where the keyboard was then; only compared */
  guint               focus_id;    /* idle, until the page has its place */
} WbPagePrivate;

G_DEFINE_ABSTRACT_TYPE_WITH_PRIVATE (WbPage, wb_page, GTK_TYPE_WIDGET)

enum { RELEASED, WENT_ON, TURNED_TO, N_SIGNALS };
static guint signals[N_SIGNALS];

static WbPagePrivate *
get_private (WbPage *self)
{
  return wb_page_get_instance_private (self);
}

static void
refresh (WbPage *self)
{
  get_private (self)->stale = FALSE;
  WB_PAGE_GET_CLASS (self)->reload (self);
  wb_page_update_actions (self);
}

static void
drop_desk (WbPage *self)
{
  WbPagePrivate *priv = get_private (self);

  if (priv->desk != NULL)
    g_clear_signal_handler (&priv->changed_id, wb_desk_get_notebook (priv->desk));
  g_clear_object (&priv->desk);
  priv->experiment = 0;
}

static void
on_notebook_changed_cb (WbPage *self)
{
  wb_page_reload (self);
}

static void
wb_page_real_open (WbPage *self,
                   WbDesk *desk)
{
  WbPagePrivate *priv = get_private (self);

  drop_desk (self);
  priv->desk = g_object_ref (desk);
  priv->changed_id = g_signal_connect_swapped (wb_desk_get_notebook (desk), "changed",
                                               G_CALLBACK (on_notebook_changed_cb), self);
}

static void
wb_page_real_close (WbPage *self)
{
  drop_desk (self);
}

static void
wb_page_real_set_experiment (WbPage *self,
                             gint64  experiment)
{
  get_private (self)->experiment = experiment;
}

static void
wb_page_real_nothing (WbPage *self)
{
}

static char *
wb_page_real_dup_title (WbPage *self)
{
  return NULL;
}

static gboolean
wb_page_real_leave (WbPage *self)
{
  return TRUE;
}

static gboolean
wb_page_real_keeps_draft (WbPage *self)
{
  const char *kind = WB_PAGE_GET_CLASS (self)->draft;
  WbDesk *desk = wb_page_get_desk (self);

  return kind != NULL && desk != NULL && wb_app_draft_is_kept (wb_app_draft_of (wb_desk_get_notebook (desk), kind));
}

static gboolean
wb_page_real_has_draft (WbPage *self)
{
  return FALSE;
}

static guint
wb_page_real_count_adding (WbPage *self)
{
  return 0;
}

/* What the Tab key would come to first. */
static void
wb_page_real_take_focus (WbPage *self)
{
  gtk_widget_child_focus (GTK_WIDGET (self), GTK_DIR_TAB_FORWARD);
}

static GtkWidget *
get_focus (WbPage *self)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));

  return root != NULL ? gtk_root_get_focus (root) : NULL;
}

static void take_focus_late (WbPage *self);

static gboolean
on_placed_cb (gpointer user)
{
  get_private (user)->focus_id = 0;
  take_focus_late (user);
  return G_SOURCE_REMOVE;
}

/* What the page shows may have come: unless the person has gone elsewhere meanwhile, the keyboard comes too. */
static void
take_focus_late (WbPage *self)
{
  WbPagePrivate *priv = get_private (self);

  if (!priv->wants_focus || priv->focus_id != 0 || !gtk_widget_get_mapped (GTK_WIDGET (self)))
    return;
  /* The Tab key goes by where things are: before the first layout nothing has a place. */
  if (gtk_widget_get_width (GTK_WIDGET (self)) <= 0)
    {
      priv->focus_id = g_idle_add_full (GDK_PRIORITY_REDRAW + 10, on_placed_cb, self, NULL);
      return;
    }
  if (get_focus (self) == priv->left)
    WB_PAGE_GET_CLASS (self)->take_focus (self);
  priv->wants_focus = get_focus (self) == priv->left;
}

static void
wb_page_unmap (GtkWidget *widget)
{
  get_private (WB_PAGE (widget))->wants_focus = FALSE;
  g_clear_handle_id (&get_private (WB_PAGE (widget))->focus_id, g_source_remove);
  GTK_WIDGET_CLASS (wb_page_parent_class)->unmap (widget);
}

static void
wb_page_map (GtkWidget *widget)
{
  WbPage *self = WB_PAGE (widget);

  GTK_WIDGET_CLASS (wb_page_parent_class)->map (widget);
  wb_stack_pages_hide_below (widget);
  if (get_private (self)->stale)
    refresh (self);
}

static void
wb_page_dispose (GObject *object)
{
  WbPage *self = WB_PAGE (object);
  WbPagePrivate *priv = get_private (self);
  GtkWidget *child;

  drop_desk (self);
  g_clear_handle_id (&priv->focus_id, g_source_remove);
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self))) != NULL)
    gtk_widget_unparent (child);
  if (priv->actions != NULL)
    gtk_widget_insert_action_group (GTK_WIDGET (self), "page", NULL);
  g_clear_object (&priv->actions);
  G_OBJECT_CLASS (wb_page_parent_class)->dispose (object);
}

static void
wb_page_class_init (WbPageClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  object_class->dispose = wb_page_dispose;
  widget_class->map = wb_page_map;
  widget_class->unmap = wb_page_unmap;
  klass->open = wb_page_real_open;
  klass->close = wb_page_real_close;
  klass->set_experiment = wb_page_real_set_experiment;
  klass->reload = wb_page_real_nothing;
  klass->update_actions = wb_page_real_nothing;
  klass->dup_title = wb_page_real_dup_title;
  klass->leave = wb_page_real_leave;
  klass->has_draft = wb_page_real_has_draft;
  klass->keeps_draft = wb_page_real_keeps_draft;
  klass->count_adding = wb_page_real_count_adding;
  klass->take_focus = wb_page_real_take_focus;
  signals[RELEASED] = g_signal_new ("released", WB_TYPE_PAGE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[TURNED_TO] = g_signal_new ("turned-to", WB_TYPE_PAGE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_INT64);
  signals[WENT_ON] = g_signal_new ("went-on", WB_TYPE_PAGE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_BOOLEAN);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "page");
}

static void
wb_page_init (WbPage *self)
{
  WbPagePrivate *priv = get_private (self);

  priv->actions = g_simple_action_group_new ();
  priv->stale = TRUE;
  gtk_widget_insert_action_group (GTK_WIDGET (self), "page", G_ACTION_GROUP (priv->actions));
}

void
wb_page_open (WbPage *self,
              WbDesk *desk)
{
  g_return_if_fail (WB_IS_PAGE (self));
  g_return_if_fail (WB_IS_DESK (desk));
  WB_PAGE_GET_CLASS (self)->open (self, desk);
  wb_page_reload (self);
}

void
wb_page_close (WbPage *self)
{
  g_return_if_fail (WB_IS_PAGE (self));
  WB_PAGE_GET_CLASS (self)->close (self);
  wb_page_reload (self);
}

void
wb_page_set_experiment (WbPage *self,
                        gint64  experiment)
{
  g_return_if_fail (WB_IS_PAGE (self));
  if (get_private (self)->experiment == experiment)
    return;
  WB_PAGE_GET_CLASS (self)->set_experiment (self, experiment);
  wb_page_reload (self);
}

void
wb_page_reload (WbPage *self)
{
  g_return_if_fail (WB_IS_PAGE (self));
  if (gtk_widget_get_mapped (GTK_WIDGET (self)))
    refresh (self);
  else
    get_private (self)->stale = TRUE;
}

void
wb_page_update_actions (WbPage *self)
{
  g_return_if_fail (WB_IS_PAGE (self));
  WB_PAGE_GET_CLASS (self)->update_actions (self);
  take_focus_late (self);
}

void
wb_page_typed (WbPage *self)
{
  WbHost *host;

  g_return_if_fail (WB_IS_PAGE (self));
  host = wb_host_find (GTK_WIDGET (self));
  if (host != NULL)
    wb_host_typed (host);
  wb_page_update_actions (self);
}

char *
wb_page_dup_title (WbPage *self)
{
  g_return_val_if_fail (WB_IS_PAGE (self), NULL);
  return WB_PAGE_GET_CLASS (self)->dup_title (self);
}

gboolean
wb_page_leave (WbPage *self)
{
  g_return_val_if_fail (WB_IS_PAGE (self), TRUE);
  return WB_PAGE_GET_CLASS (self)->leave (self);
}

gboolean
wb_page_has_draft (WbPage *self)
{
  g_return_val_if_fail (WB_IS_PAGE (self), FALSE);
  return WB_PAGE_GET_CLASS (self)->has_draft (self);
}

gboolean
wb_page_keeps_draft (WbPage *self)
{
  g_return_val_if_fail (WB_IS_PAGE (self), FALSE);
  return WB_PAGE_GET_CLASS (self)->keeps_draft (self);
}

guint
wb_page_count_adding (WbPage *self)
{
  g_return_val_if_fail (WB_IS_PAGE (self), 0);
  return WB_PAGE_GET_CLASS (self)->count_adding (self);
}

void
wb_page_went_on (WbPage  *self,
                 gboolean well)
{
  g_return_if_fail (WB_IS_PAGE (self));
  g_signal_emit (self, signals[WENT_ON], 0, well);
}

void
wb_page_turn_to (WbPage *self,
                 gint64  experiment)
{
  g_return_if_fail (WB_IS_PAGE (self));
  if (gtk_widget_get_mapped (GTK_WIDGET (self)))
    g_signal_emit (self, signals[TURNED_TO], 0, experiment);
}

void
wb_page_take_focus (WbPage *self)
{
  g_return_if_fail (WB_IS_PAGE (self));
  get_private (self)->left = get_focus (self);
  get_private (self)->wants_focus = TRUE;
  take_focus_late (self);
}

void
wb_page_release (WbPage *self)
{
  g_return_if_fail (WB_IS_PAGE (self));
  g_signal_emit (self, signals[RELEASED], 0);
}

WbDesk *
wb_page_get_desk (WbPage *self)
{
  g_return_val_if_fail (WB_IS_PAGE (self), NULL);
  return get_private (self)->desk;
}

WbAppNotebook *
wb_page_get_notebook (WbPage *self)
{
  g_return_val_if_fail (WB_IS_PAGE (self), NULL);
  return get_private (self)->desk != NULL ? wb_desk_get_notebook (get_private (self)->desk) : NULL;
}

gint64
wb_page_get_experiment (WbPage *self)
{
  g_return_val_if_fail (WB_IS_PAGE (self), 0);
  return get_private (self)->experiment;
}

GSimpleActionGroup *
wb_page_get_actions (WbPage *self)
{
  g_return_val_if_fail (WB_IS_PAGE (self), NULL);
  return get_private (self)->actions;
}

void
wb_page_add_actions (WbPage             *self,
                     const GActionEntry *entries,
                     int                 n_entries)
{
  g_return_if_fail (WB_IS_PAGE (self));
  g_action_map_add_action_entries (G_ACTION_MAP (get_private (self)->actions), entries, n_entries, self);
}

void
wb_page_enable_action (WbPage     *self,
                       const char *name,
                       gboolean    enabled)
{
  GAction *action;

  g_return_if_fail (WB_IS_PAGE (self));
  action = g_action_map_lookup_action (G_ACTION_MAP (get_private (self)->actions), name);
  g_return_if_fail (G_IS_SIMPLE_ACTION (action));
  g_simple_action_set_enabled (G_SIMPLE_ACTION (action), enabled);
}
