/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-lot-dialog.h"

#include "wb-accessible-name.h"
#include "wb-badge.h"
#include "wb-bundle.h"
#include "wb-file-choice.h"
#include "wb-problem.h"
#include "wb-weak-widget.h"

#include <glib/gi18n.h>

struct _WbLotDialog
{
  GtkWindow      parent_instance;

  /* children */
  GtkLabel      *heading;
  GtkLabel      *sum;
  GtkWidget     *scrolled;
  GtkListView   *list;
  GtkLabel      *problem;
  GtkWidget     *save;

  /* owned */
  WbAppLotTrace *trace;       /* NULL: not read yet */
  GCancellable  *cancellable;
};

G_DEFINE_FINAL_TYPE (WbLotDialog, wb_lot_dialog, GTK_TYPE_WINDOW)

/* ---- Rows ---- */

static GtkWidget *
line_new (const char *style)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0, "wrap", TRUE, "wrap-mode", PANGO_WRAP_WORD_CHAR, NULL);

  if (style != NULL)
    gtk_widget_add_css_class (label, style);
  return label;
}

static void
on_setup_cb (GtkSignalListItemFactory *factory,
             GtkListItem              *item)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *lines = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  GtkWidget *badge = wb_badge_new (WB_BADGE_PLAIN, "");

  gtk_widget_set_size_request (badge, 84, -1);
  gtk_widget_set_valign (badge, GTK_ALIGN_START);
  gtk_widget_set_hexpand (lines, TRUE);
  gtk_box_append (GTK_BOX (lines), line_new (NULL));
  gtk_box_append (GTK_BOX (lines), line_new ("dim-label"));
  gtk_box_append (GTK_BOX (lines), line_new ("problem"));
  gtk_box_append (GTK_BOX (lines), line_new ("dim-label"));
  gtk_box_append (GTK_BOX (box), badge);
  gtk_box_append (GTK_BOX (box), lines);
  gtk_list_item_set_child (item, box);
}

static char *
dup_state (const WbAppLotUse *use)
{
  g_autofree char *day = use->day != WB_DAY_NONE ? wb_day_format_local (use->day) : NULL;

  if (day == NULL)
    return g_strdup (use->state);
  return g_strdup_printf (use->kind == WB_APP_LOT_DECISION ? _("%s on %s") : _("%s · poured %s"), use->state, day);
}

static void
set_line (GtkWidget  *label,
          const char *text)
{
  gtk_label_set_text (GTK_LABEL (label), text != NULL ? text : "");
  gtk_widget_set_visible (label, text != NULL);
}

static void
on_bind_cb (GtkSignalListItemFactory *factory,
            GtkListItem              *item,
            WbLotDialog              *self)
{
  const WbAppLotUse *use = g_ptr_array_index (self->trace->uses, gtk_list_item_get_position (item));
  GtkWidget *badge = gtk_widget_get_first_child (gtk_list_item_get_child (item));
  GtkWidget *line = gtk_widget_get_first_child (gtk_widget_get_next_sibling (badge));
  g_autofree char *name = g_strjoin (" · ", use->experiment_code, use->code != NULL ? use->code : use->cell, use->code != NULL ? use->cell : NULL, NULL);
  g_autofree char *state = dup_state (use);
  /* Translators: all lots of a sample or a decision: "Dunmarl soft W-107; Brosk B4 K-42" */
  g_autofree char *lots = use->lots != NULL ? g_strdup_printf (_("Made of %s"), use->lots) : NULL;
  g_autofree char *spoken = g_strjoin (", ", wb_app_lot_use_kind_get_label (use->kind), name, state, use->worst != NULL ? use->worst : lots,
                                       use->worst != NULL ? lots : NULL, NULL);

  wb_badge_set (WB_BADGE (badge), use->worst != NULL ? WB_BADGE_ASK : use->kind == WB_APP_LOT_DECISION ? WB_BADGE_NOTE : WB_BADGE_PLAIN,
                wb_app_lot_use_kind_get_label (use->kind));
  set_line (line, name);
  line = gtk_widget_get_next_sibling (line);
  set_line (line, state);
  line = gtk_widget_get_next_sibling (line);
  set_line (line, use->worst);
  line = gtk_widget_get_next_sibling (line);
  set_line (line, lots);
  wb_accessible_name_list_item (item, spoken);
}

/* ---- Verbs ---- */

static void
on_list_activate_cb (WbLotDialog *self,
                     guint        position)
{
  const WbAppLotUse *use = g_ptr_array_index (self->trace->uses, position);
  GtkWidget *window = GTK_WIDGET (gtk_window_get_transient_for (GTK_WINDOW (self)));
  const char *place = use->kind == WB_APP_LOT_BATCH ? "pour" : use->kind == WB_APP_LOT_SAMPLE ? "burn" : "compare";
  gint64 experiment = use->experiment, sample = use->kind == WB_APP_LOT_SAMPLE ? use->id : 0;

  if (window == NULL)
    return;
  gtk_window_destroy (GTK_WINDOW (self));
  gtk_widget_activate_action (window, "win.go", "(sx)", place, experiment);
  if (sample != 0)
    gtk_widget_activate_action (window, "page.choose", "x", sample);
}

static void
on_written_cb (GObject      *source,
               GAsyncResult *result,
               gpointer      user)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbLotDialog) self = NULL;

  wb_app_lot_trace_write_finish (result, &error);
  self = wb_weak_widget_take_or_tell (user, _("The list was not saved"), error);
  if (self == NULL)
    return;
  gtk_widget_set_sensitive (self->save, TRUE);
  if (error != NULL)
    wb_problem_tell_error (self->problem, error);
}

static void
on_file_chosen_cb (const char *path,
                   gpointer    user)
{
  g_autoptr (WbLotDialog) self = wb_weak_widget_take (user);

  if (self == NULL || path == NULL)
    return;
  gtk_widget_set_sensitive (self->save, FALSE);
  wb_problem_tell (self->problem, NULL);
  wb_app_lot_trace_write_async (self->trace, path, on_written_cb, wb_weak_widget_new (self));
}

static void
on_save_clicked_cb (WbLotDialog *self)
{
  g_autofree char *name = g_strdup_printf ("%s-%s.csv", self->trace->title, self->trace->code);

  wb_file_choice_save (GTK_WIDGET (self), _("Save the list"), WB_FILE_TABLE, g_strdelimit (name, "/\\:", '-'), on_file_chosen_cb,
                       wb_weak_widget_new (self));
}

/* ---- Reading ---- */

static void
show_trace (WbLotDialog *self)
{
  g_autofree char *sum = wb_app_lot_trace_dup_sum (self->trace);
  g_autofree char *title = g_strdup_printf (_("Where lot %s of %s was used"), self->trace->code, self->trace->title);
  g_autoptr (GtkStringList) places = gtk_string_list_new (NULL);
  g_autoptr (GtkListItemFactory) factory = gtk_signal_list_item_factory_new ();

  gtk_window_set_title (GTK_WINDOW (self), title);
  gtk_label_set_text (self->heading, title);
  gtk_label_set_text (self->sum, sum);
  g_signal_connect (factory, "setup", G_CALLBACK (on_setup_cb), NULL);
  g_signal_connect (factory, "bind", G_CALLBACK (on_bind_cb), self);
  for (guint i = 0; i < self->trace->uses->len; i++)
    gtk_string_list_append (places, ""); /* the row reads the trace by its place */
  gtk_list_view_set_factory (self->list, factory);
  gtk_list_view_set_model (self->list, GTK_SELECTION_MODEL (gtk_no_selection_new (G_LIST_MODEL (g_steal_pointer (&places)))));
  gtk_widget_set_visible (self->scrolled, self->trace->uses->len > 0);
  gtk_widget_set_sensitive (self->save, self->trace->uses->len > 0);
  if (self->trace->uses->len > 0 && gtk_widget_get_mapped (GTK_WIDGET (self)))
    gtk_widget_grab_focus (GTK_WIDGET (self->list));
}

static void
on_traced_cb (GObject      *source,
              GAsyncResult *result,
              gpointer      user)
{
  g_autoptr (WbLotDialog) self = wb_weak_widget_take (user);
  g_autoptr (GError) error = NULL;
  g_autoptr (WbAppLotTrace) trace = wb_app_lot_trace_finish (WB_APP_NOTEBOOK (source), result, &error);

  if (self == NULL)
    return;
  if (trace == NULL)
    {
      gtk_widget_set_visible (GTK_WIDGET (self->sum), FALSE);
      wb_problem_tell_error (self->problem, error);
      return;
    }
  self->trace = g_steal_pointer (&trace);
  show_trace (self);
}

static void
wb_lot_dialog_dispose (GObject *object)
{
  WbLotDialog *self = WB_LOT_DIALOG (object);

  if (self->cancellable != NULL)
    g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_LOT_DIALOG);
  G_OBJECT_CLASS (wb_lot_dialog_parent_class)->dispose (object);
}

static void
wb_lot_dialog_finalize (GObject *object)
{
  wb_app_lot_trace_free (WB_LOT_DIALOG (object)->trace);
  G_OBJECT_CLASS (wb_lot_dialog_parent_class)->finalize (object);
}

static void
wb_lot_dialog_class_init (WbLotDialogClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_lot_dialog_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_lot_dialog_finalize;
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "lot-dialog.ui");
  gtk_widget_class_bind_template_child (widget_class, WbLotDialog, heading);
  gtk_widget_class_bind_template_child (widget_class, WbLotDialog, sum);
  gtk_widget_class_bind_template_child (widget_class, WbLotDialog, scrolled);
  gtk_widget_class_bind_template_child (widget_class, WbLotDialog, list);
  gtk_widget_class_bind_template_child (widget_class, WbLotDialog, problem);
  gtk_widget_class_bind_template_child (widget_class, WbLotDialog, save);
  gtk_widget_class_bind_template_callback (widget_class, on_list_activate_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_save_clicked_cb);
}

static void
wb_lot_dialog_init (WbLotDialog *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->cancellable = g_cancellable_new ();
}

GtkWidget *
wb_lot_dialog_new (GtkWidget     *where,
                   WbAppNotebook *notebook,
                   gint64         material,
                   const char    *code)
{
  GtkRoot *root = where != NULL ? gtk_widget_get_root (where) : NULL;
  g_autofree char *title = NULL;
  WbLotDialog *self;

  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (notebook), NULL);
  g_return_val_if_fail (code != NULL, NULL);

  title = g_strdup_printf (_("Where lot %s was used"), code);
  self = g_object_new (WB_TYPE_LOT_DIALOG, "title", title, "transient-for", GTK_IS_WINDOW (root) ? root : NULL, NULL);
  /* A title bar cuts it, or is not there at all. */
  gtk_label_set_text (self->heading, title);
  wb_app_lot_trace_async (notebook, material, code, self->cancellable, on_traced_cb, wb_weak_widget_new (self));
  return GTK_WIDGET (self);
}

const WbAppLotTrace *
wb_lot_dialog_get_trace (WbLotDialog *self)
{
  g_return_val_if_fail (WB_IS_LOT_DIALOG (self), NULL);
  return self->trace;
}
