/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-pick-dialog.h"

#include "wb-accessible-name.h"
#include "wb-app-query.h"
#include "wb-bundle.h"
#include "wb-grey.h"
#include "wb-pick-row.h"
#include "wb-problem.h"
#include "wb-weak-widget.h"

#include <glib/gi18n.h>

#define INDENT_PX 22

struct _WbPickDialog
{
  GtkWindow           parent_instance;

  /* children */
  GtkSearchEntry     *search;
  GtkListView        *list;
  GtkLabel           *nothing;
  GtkLabel           *count;
  GtkLabel           *problem;
  GtkWidget          *take;

  /* owned */
  WbDesk             *desk;
  WbPicks            *picks;
  GListStore         *rows;      /* WbPickRow: each experiment before what is below it */
  GtkFilterListModel *shown;
  GtkCustomFilter    *filter;
  GtkSingleSelection *selection;
  GQueue              unread;    /* WbPickRow: experiments whose combinations are not read yet */
  GCancellable       *cancellable;
  char              **words;     /* searched for; empty: nothing is */

  /* state */
  gboolean            reading;
  guint               n_picked;
};

G_DEFINE_FINAL_TYPE (WbPickDialog, wb_pick_dialog, GTK_TYPE_WINDOW)

static WbPickRow *
get_row (WbPickDialog *self,
         guint         index)
{
  g_autoptr (WbPickRow) row = g_list_model_get_item (G_LIST_MODEL (self->rows), index);

  return row; /* the store holds it */
}

static guint
get_n_rows (WbPickDialog *self)
{
  return g_list_model_get_n_items (G_LIST_MODEL (self->rows));
}

/* ---- What shows ---- */

static gboolean
is_open (WbPickRow *row)
{
  return row == NULL || (wb_pick_row_get_open (row) && is_open (wb_pick_row_get_parent (row)));
}

static gboolean
is_shown (gpointer item,
          gpointer user)
{
  WbPickDialog *self = user;

  if (self->words[0] != NULL)
    return wb_pick_row_matches (item, (const char *const *) self->words);
  return is_open (wb_pick_row_get_parent (item));
}

static void
update_nothing (WbPickDialog *self)
{
  gboolean none = g_list_model_get_n_items (G_LIST_MODEL (self->shown)) == 0;

  gtk_widget_set_visible (GTK_WIDGET (self->nothing), none);
  gtk_label_set_text (self->nothing, !none ? "" : self->reading ? _("Still reading the notebook…") : _("Nothing in the notebook matches."));
}

static void
refilter (WbPickDialog *self)
{
  gtk_filter_changed (GTK_FILTER (self->filter), GTK_FILTER_CHANGE_DIFFERENT);
  update_nothing (self);
}

static void
on_search_changed_cb (WbPickDialog *self)
{
  g_autofree char *folded = g_utf8_casefold (gtk_editable_get_text (GTK_EDITABLE (self->search)), -1);
  g_auto (GStrv) parts = g_strsplit_set (folded, " \t", -1);
  g_autoptr (GStrvBuilder) builder = g_strv_builder_new ();

  for (guint i = 0; parts[i] != NULL; i++)
    if (*parts[i] != '\0')
      g_strv_builder_add (builder, parts[i]);
  g_strfreev (self->words);
  self->words = g_strv_builder_end (builder);
  refilter (self);
}

/* ---- Ticks ---- */

static void
update_count (WbPickDialog *self)
{
  g_autofree char *text = NULL;

  self->n_picked = 0;
  for (guint i = 0; i < get_n_rows (self); i++)
    if (wb_pick_row_get_kind (get_row (self, i)) != WB_PICK_ROW_EXPERIMENT)
      self->n_picked += wb_pick_row_get_picked (get_row (self, i)) ? 1 : 0;
  text = g_strdup_printf (ngettext ("%u chosen, of at most %d", "%u chosen, of at most %d", self->n_picked), self->n_picked, WB_PICKS_MAX);
  gtk_label_set_text (self->count, text);
  wb_grey_set (self->take, self->n_picked == 0 ? _("Nothing is chosen") : self->n_picked > WB_PICKS_MAX ? _("More are chosen than can be told apart") : NULL);
  wb_problem_tell (self->problem, self->n_picked > WB_PICKS_MAX ? _("More are chosen than can be told apart side by side: take some away.") : NULL);
}

/* Of an experiment: all its combinations are, and there is one. */
static void
update_experiment (WbPickDialog *self,
                   WbPickRow    *experiment)
{
  guint n = 0, picked = 0;

  for (guint i = 0; i < get_n_rows (self); i++)
    {
      WbPickRow *row = get_row (self, i);

      if (wb_pick_row_get_kind (row) != WB_PICK_ROW_CELL || wb_pick_row_get_parent (row) != experiment)
        continue;
      n++;
      picked += wb_pick_row_get_picked (row) ? 1 : 0;
    }
  wb_pick_row_set_picked (experiment, n > 0 && picked == n);
}

static WbPickRow *
get_experiment (WbPickRow *row)
{
  while (wb_pick_row_get_parent (row) != NULL)
    row = wb_pick_row_get_parent (row);
  return row;
}

static void
toggle (WbPickDialog *self,
        WbPickRow    *row)
{
  gboolean picked = !wb_pick_row_get_picked (row);

  if (!wb_pick_row_is_burnt (row))
    return;
  if (wb_pick_row_get_kind (row) == WB_PICK_ROW_EXPERIMENT)
    {
      for (guint i = 0; i < get_n_rows (self); i++)
        if (wb_pick_row_get_kind (get_row (self, i)) == WB_PICK_ROW_CELL && wb_pick_row_get_parent (get_row (self, i)) == row)
          wb_pick_row_set_picked (get_row (self, i), picked);
    }
  else
    wb_pick_row_set_picked (row, picked);
  update_experiment (self, get_experiment (row));
  update_count (self);
}

static void
on_activate_cb (WbPickDialog *self,
                guint         position)
{
  g_autoptr (WbPickRow) row = g_list_model_get_item (G_LIST_MODEL (self->shown), position);

  if (row != NULL)
    toggle (self, row);
}

static void
set_open (WbPickDialog *self,
          WbPickRow    *row,
          gboolean      open)
{
  if (wb_pick_row_get_kind (row) == WB_PICK_ROW_SAMPLE || self->words[0] != NULL)
    return;
  wb_pick_row_set_open (row, open);
  refilter (self);
}

static gboolean
on_list_key_cb (GtkEventControllerKey *controller,
                guint                  keyval,
                guint                  keycode,
                GdkModifierType        state,
                WbPickDialog          *self)
{
  WbPickRow *row = gtk_single_selection_get_selected_item (self->selection);
  gboolean to_left = gtk_widget_get_direction (GTK_WIDGET (self)) == GTK_TEXT_DIR_RTL;

  if (row == NULL || (state & (GDK_CONTROL_MASK | GDK_ALT_MASK | GDK_SHIFT_MASK)) != 0)
    return GDK_EVENT_PROPAGATE;
  if (keyval == GDK_KEY_space || keyval == GDK_KEY_KP_Space)
    toggle (self, row);
  else if (keyval == GDK_KEY_Right || keyval == GDK_KEY_Left)
    set_open (self, row, (keyval == GDK_KEY_Right) != to_left);
  else
    return GDK_EVENT_PROPAGATE;
  return GDK_EVENT_STOP;
}

/* ---- Rows ---- */

static void
on_opener_clicked_cb (GtkButton   *button,
                      GtkListItem *list_item)
{
  GtkWidget *self = gtk_widget_get_ancestor (GTK_WIDGET (button), WB_TYPE_PICK_DIALOG);
  WbPickRow *row = gtk_list_item_get_item (list_item);

  if (self != NULL && row != NULL)
    set_open (WB_PICK_DIALOG (self), row, !wb_pick_row_get_open (row));
}

static void
on_setup_cb (GtkSignalListItemFactory *factory,
             GtkListItem              *list_item)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *opener = gtk_button_new_from_icon_name ("pan-end-symbolic");
  GtkWidget *check = gtk_check_button_new ();
  GtkWidget *name = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0, "hexpand", TRUE, "wrap", TRUE, "wrap-mode", PANGO_WRAP_WORD_CHAR, NULL);
  GtkWidget *about = g_object_new (GTK_TYPE_LABEL, "xalign", 1.0, "margin-end", 10, NULL);

  /* The line takes the keys: one stop of the Tab key is enough. */
  gtk_widget_set_focusable (opener, FALSE);
  gtk_widget_set_focusable (check, FALSE);
  gtk_widget_set_can_target (check, FALSE);
  gtk_widget_add_css_class (opener, "flat");
  gtk_widget_set_valign (opener, GTK_ALIGN_CENTER);
  gtk_widget_add_css_class (about, "dim-label");
  gtk_box_append (GTK_BOX (box), opener);
  gtk_box_append (GTK_BOX (box), check);
  gtk_box_append (GTK_BOX (box), name);
  gtk_box_append (GTK_BOX (box), about);
  g_signal_connect_object (opener, "clicked", G_CALLBACK (on_opener_clicked_cb), list_item, 0);
  gtk_list_item_set_child (list_item, box);
}

/* Follows what the row says of itself. */
static void
show_row (WbPickRow   *row,
          GParamSpec  *spec,
          GtkListItem *list_item)
{
  GtkWidget *opener = gtk_widget_get_first_child (gtk_list_item_get_child (list_item));
  GtkWidget *check = gtk_widget_get_next_sibling (opener);
  WbPickRowKind kind = wb_pick_row_get_kind (row);
  g_autofree char *verb = g_strdup_printf (wb_pick_row_get_open (row) ? _("Hide what is below %s") : _("Show what is below %s"),
                                           wb_pick_row_get_name (row));
  g_autofree char *spoken = g_strjoin (", ", wb_pick_row_get_title (row), wb_pick_row_get_about (row),
                                       wb_pick_row_get_picked (row) ? _("chosen") : NULL, NULL);

  gtk_check_button_set_active (GTK_CHECK_BUTTON (check), wb_pick_row_get_picked (row));
  gtk_accessible_update_property (GTK_ACCESSIBLE (check), GTK_ACCESSIBLE_PROPERTY_LABEL, wb_pick_row_get_title (row), -1);
  gtk_button_set_icon_name (GTK_BUTTON (opener), wb_pick_row_get_open (row) ? "pan-down-symbolic" : "pan-end-symbolic");
  gtk_accessible_update_property (GTK_ACCESSIBLE (opener), GTK_ACCESSIBLE_PROPERTY_LABEL, verb, -1);
  gtk_widget_set_opacity (opener, kind == WB_PICK_ROW_SAMPLE || !wb_pick_row_is_burnt (row) ? 0.0 : 1.0);
  wb_accessible_name_list_item (list_item, spoken);
}

static void
on_bind_cb (GtkSignalListItemFactory *factory,
            GtkListItem              *list_item,
            WbPickDialog             *self)
{
  WbPickRow *row = gtk_list_item_get_item (list_item);
  GtkWidget *box = gtk_list_item_get_child (list_item);
  GtkWidget *about = gtk_widget_get_last_child (box), *name = gtk_widget_get_prev_sibling (about);
  WbPickRowKind kind = wb_pick_row_get_kind (row);

  gtk_label_set_text (GTK_LABEL (name), self->words[0] != NULL ? wb_pick_row_get_title (row) : wb_pick_row_get_name (row));
  gtk_label_set_text (GTK_LABEL (about), wb_pick_row_get_about (row));
  gtk_widget_set_margin_start (box, self->words[0] != NULL ? 0 : INDENT_PX * (int) kind);
  gtk_widget_set_sensitive (gtk_widget_get_next_sibling (gtk_widget_get_first_child (box)), wb_pick_row_is_burnt (row));
  /* What is found stands alone: nothing is below it. */
  gtk_widget_set_visible (gtk_widget_get_first_child (box), self->words[0] == NULL);
  if (kind == WB_PICK_ROW_EXPERIMENT)
    gtk_widget_add_css_class (name, "strong");
  else
    gtk_widget_remove_css_class (name, "strong");
  show_row (row, NULL, list_item);
  g_signal_connect (row, "notify", G_CALLBACK (show_row), list_item);
}

static void
on_unbind_cb (GtkSignalListItemFactory *factory,
              GtkListItem              *list_item)
{
  g_signal_handlers_disconnect_by_func (gtk_list_item_get_item (list_item), show_row, list_item);
}

/* ---- Reading ---- */

static void read_next (WbPickDialog *self);

static void
add_below (WbPickDialog    *self,
           WbPickRow       *experiment,
           const WbDataset *data)
{
  /* Nothing is worked out for the chooser: it says what is known. */
  WbCraftAnswer *answer = wb_app_answers_peek (wb_desk_get_answers (self->desk), wb_pick_row_get_pick (experiment)->experiment,
                                               WB_CRAFT_WITHIN_SCENT, 0);
  g_autoptr (GPtrArray) below = wb_pick_row_list_below (experiment, data, answer);
  guint at = 0;

  for (guint i = 0; i < below->len; i++)
    {
      WbPickRow *row = below->pdata[i];

      wb_pick_row_set_picked (row, wb_picks_find (self->picks, wb_pick_row_get_pick (row)) >= 0);
      if (wb_pick_row_get_kind (row) == WB_PICK_ROW_SAMPLE && wb_pick_row_get_picked (row))
        wb_pick_row_set_open (wb_pick_row_get_parent (row), TRUE);
    }
  if (!g_list_store_find (self->rows, experiment, &at))
    return;
  g_list_store_splice (self->rows, at + 1, 0, below->pdata, below->len);
  update_experiment (self, experiment);
  update_count (self);
  refilter (self);
}

static void
on_read_cb (GObject      *source,
            GAsyncResult *result,
            gpointer      user)
{
  g_autoptr (WbPickDialog) self = wb_weak_widget_take (user);
  g_autoptr (GError) error = NULL;
  g_autoptr (WbDataset) data = wb_app_query_dataset_finish (WB_APP_NOTEBOOK (source), result, &error);
  g_autoptr (WbPickRow) row = NULL;

  /* Closed in the meantime. */
  if (self == NULL || self->desk == NULL)
    return;
  row = g_queue_pop_head (&self->unread);
  self->reading = FALSE;
  if (data != NULL)
    add_below (self, row, data);
  else if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    wb_problem_tell_error (self->problem, error);
  read_next (self);
}

static void
read_next (WbPickDialog *self)
{
  WbPickRow *next = g_queue_peek_head (&self->unread);

  if (next != NULL && !self->reading)
    {
      self->reading = TRUE;
      wb_app_query_dataset_async (wb_desk_get_notebook (self->desk), wb_pick_row_get_pick (next)->experiment, self->cancellable,
                                  on_read_cb, wb_weak_widget_new (self));
    }
  update_nothing (self);
}

static gboolean
has_pick_of (WbPickDialog *self,
             gint64        experiment)
{
  for (guint i = 0; i < wb_picks_get_n (self->picks); i++)
    if (wb_picks_get (self->picks, i)->pick.experiment == experiment)
      return TRUE;
  return FALSE;
}

static void
fill (WbPickDialog *self,
      gint64        open)
{
  GListModel *experiments = G_LIST_MODEL (wb_desk_get_experiments (self->desk));

  for (guint i = 0; i < g_list_model_get_n_items (experiments); i++)
    {
      g_autoptr (WbAppExperiment) experiment = g_list_model_get_item (experiments, i);
      g_autoptr (WbPickRow) row = wb_pick_row_new_experiment (experiment);
      gint64 id = wb_app_experiment_get_id (experiment);
      gboolean first = id == open || has_pick_of (self, id);

      if (id == open)
        g_list_store_insert (self->rows, 0, row);
      else
        g_list_store_append (self->rows, row);
      wb_pick_row_set_open (row, first);
      if (!wb_pick_row_is_burnt (row))
        continue;
      if (first)
        g_queue_push_head (&self->unread, g_object_ref (row));
      else
        g_queue_push_tail (&self->unread, g_object_ref (row));
    }
}

/* ---- Taking it ---- */

static void
add_pick (WbPickRow *row,
          GArray    *picks,
          GPtrArray *titles)
{
  g_array_append_val (picks, *wb_pick_row_get_pick (row));
  g_ptr_array_add (titles, (gpointer) wb_pick_row_get_title (row));
}

/* What was there keeps its order, and what is new comes behind it; of an experiment that could not be read what was picked stays. */
static void
take (WbPickDialog *self)
{
  g_autoptr (GArray) picks = g_array_new (FALSE, FALSE, sizeof (WbPick));
  g_autoptr (GPtrArray) titles = g_ptr_array_new ();
  g_autoptr (GHashTable) known = g_hash_table_new (NULL, NULL);

  if (self->n_picked == 0 || self->n_picked > WB_PICKS_MAX)
    return;
  for (guint k = 0; k < wb_picks_get_n (self->picks); k++)
    for (guint i = 0; i < get_n_rows (self); i++)
      {
        WbPickRow *row = get_row (self, i);

        if (wb_pick_row_get_kind (row) == WB_PICK_ROW_EXPERIMENT || !wb_pick_row_get_picked (row)
            || wb_picks_find (self->picks, wb_pick_row_get_pick (row)) != (int) k)
          continue;
        add_pick (row, picks, titles);
        g_hash_table_add (known, row);
      }
  for (guint i = 0; i < get_n_rows (self); i++)
    {
      WbPickRow *row = get_row (self, i);

      if (wb_pick_row_get_kind (row) != WB_PICK_ROW_EXPERIMENT && wb_pick_row_get_picked (row) && !g_hash_table_contains (known, row))
        add_pick (row, picks, titles);
    }
  wb_picks_set (self->picks, (const WbPick *) (gpointer) picks->data, (const char *const *) titles->pdata, picks->len);
  gtk_window_destroy (GTK_WINDOW (self));
}

static gboolean
on_take_shortcut_cb (GtkWidget *widget,
                     GVariant  *parameter,
                     gpointer   user)
{
  take (WB_PICK_DIALOG (widget));
  return GDK_EVENT_STOP;
}

/* From what is searched for down to the first line. */
static gboolean
on_search_key_cb (GtkEventControllerKey *controller,
                  guint                  keyval,
                  guint                  keycode,
                  GdkModifierType        state,
                  WbPickDialog          *self)
{
  if (keyval != GDK_KEY_Down && !(keyval == GDK_KEY_Return && (state & GDK_CONTROL_MASK) == 0))
    return GDK_EVENT_PROPAGATE;
  gtk_widget_grab_focus (GTK_WIDGET (self->list));
  return GDK_EVENT_STOP;
}

/* ---- Class ---- */

static void
wb_pick_dialog_dispose (GObject *object)
{
  WbPickDialog *self = WB_PICK_DIALOG (object);

  if (self->cancellable != NULL)
    g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  g_queue_clear_full (&self->unread, g_object_unref);
  if (self->list != NULL)
    gtk_list_view_set_model (self->list, NULL);
  g_clear_object (&self->selection);
  g_clear_object (&self->shown);
  g_clear_object (&self->filter);
  g_clear_object (&self->rows);
  g_clear_object (&self->picks);
  g_clear_object (&self->desk);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_PICK_DIALOG);
  G_OBJECT_CLASS (wb_pick_dialog_parent_class)->dispose (object);
}

static void
wb_pick_dialog_finalize (GObject *object)
{
  g_strfreev (WB_PICK_DIALOG (object)->words);
  G_OBJECT_CLASS (wb_pick_dialog_parent_class)->finalize (object);
}

static void
wb_pick_dialog_class_init (WbPickDialogClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_pick_dialog_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_pick_dialog_finalize;
  gtk_widget_class_add_binding (widget_class, GDK_KEY_Return, GDK_CONTROL_MASK, on_take_shortcut_cb, NULL);
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "pick-dialog.ui");
  gtk_widget_class_bind_template_child (widget_class, WbPickDialog, search);
  gtk_widget_class_bind_template_child (widget_class, WbPickDialog, list);
  gtk_widget_class_bind_template_child (widget_class, WbPickDialog, nothing);
  gtk_widget_class_bind_template_child (widget_class, WbPickDialog, count);
  gtk_widget_class_bind_template_child (widget_class, WbPickDialog, problem);
  gtk_widget_class_bind_template_child (widget_class, WbPickDialog, take);
  gtk_widget_class_bind_template_callback (widget_class, on_search_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_activate_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_setup_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_bind_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_unbind_cb);
  gtk_widget_class_bind_template_callback (widget_class, take);
}

static void
wb_pick_dialog_init (WbPickDialog *self)
{
  GtkEventController *keys = gtk_event_controller_key_new (), *search_keys = gtk_event_controller_key_new ();

  self->words = g_new0 (char *, 1);
  self->cancellable = g_cancellable_new ();
  g_queue_init (&self->unread);
  gtk_widget_init_template (GTK_WIDGET (self));
  self->rows = g_list_store_new (WB_TYPE_PICK_ROW);
  self->filter = gtk_custom_filter_new (is_shown, self, NULL);
  self->shown = gtk_filter_list_model_new (G_LIST_MODEL (g_object_ref (self->rows)), GTK_FILTER (g_object_ref (self->filter)));
  self->selection = gtk_single_selection_new (G_LIST_MODEL (g_object_ref (self->shown)));
  gtk_list_view_set_model (self->list, GTK_SELECTION_MODEL (self->selection));
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (on_list_key_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self->list), keys);
  gtk_event_controller_set_propagation_phase (search_keys, GTK_PHASE_CAPTURE);
  g_signal_connect (search_keys, "key-pressed", G_CALLBACK (on_search_key_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self->search), search_keys);
}

GtkWidget *
wb_pick_dialog_new (GtkWidget *where,
                    WbDesk    *desk,
                    WbPicks   *picks,
                    gint64     experiment)
{
  GtkRoot *root = where != NULL ? gtk_widget_get_root (where) : NULL;
  WbPickDialog *self;

  g_return_val_if_fail (WB_IS_DESK (desk) && WB_IS_PICKS (picks), NULL);

  self = g_object_new (WB_TYPE_PICK_DIALOG, "transient-for", GTK_IS_WINDOW (root) ? root : NULL, NULL);
  self->desk = g_object_ref (desk);
  self->picks = g_object_ref (picks);
  fill (self, experiment);
  gtk_single_selection_set_selected (self->selection, 0);
  update_count (self);
  read_next (self);
  gtk_widget_grab_focus (GTK_WIDGET (self->search));
  return GTK_WIDGET (self);
}

gboolean
wb_pick_dialog_get_ready (WbPickDialog *self)
{
  g_return_val_if_fail (WB_IS_PICK_DIALOG (self), FALSE);
  return !self->reading && g_queue_is_empty (&self->unread);
}

GListModel *
wb_pick_dialog_get_rows (WbPickDialog *self)
{
  g_return_val_if_fail (WB_IS_PICK_DIALOG (self), NULL);
  return G_LIST_MODEL (self->shown);
}
