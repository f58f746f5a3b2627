/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-reading-log.h"

#include "wb-accessible-name.h"
#include "wb-amend-dialog.h"
#include "wb-amend-reading.h"
#include "wb-amend-words.h"
#include "wb-bundle.h"
#include "wb-focus-walk.h"
#include "wb-history-dialog.h"
#include "wb-problem.h"

#include <glib/gi18n.h>

/* CSS node: readinglog. */

struct _WbReadingLog
{
  GtkWidget          parent_instance;

  /* children */
  GtkExpander       *expander;
  GtkLabel          *title;
  GtkListView       *list;

  /* owned */
  WbAppNotebook     *notebook;
  char              *code;       /* the sample's */
  WbAppAmend        *amend;      /* NULL while folded */

  /* state */
  gint64             sample;     /* its id; 0: nobody's */
  double             inner_mm;   /* of its vessel, its wider axis */
  gboolean           us_units;
  gint64             wanted_burn; /* whose line is to be shown; 0: none */
  gint64             wanted;     /* a reading whose form is to be opened; 0: none */
  WbColumn           wanted_column;
  gboolean           focus;      /* the first line gets the keyboard as soon as there is one */
};

G_DEFINE_FINAL_TYPE (WbReadingLog, wb_reading_log, GTK_TYPE_WIDGET)

static GtkWidget *
line_new (const char *style)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0, "wrap", TRUE, "wrap-mode", PANGO_WRAP_WORD_CHAR, NULL);

  if (style != NULL)
    gtk_widget_add_css_class (label, style);
  return label;
}

static void
on_row_clicked_cb (GtkButton   *button,
                   GtkListItem *list_item)
{
  GtkWidget *self = gtk_widget_get_ancestor (GTK_WIDGET (button), WB_TYPE_READING_LOG);

  if (self != NULL)
    wb_reading_log_amend (WB_READING_LOG (self), gtk_list_item_get_item (list_item));
}

static void
on_history_clicked_cb (GtkButton   *button,
                       GtkListItem *list_item)
{
  GtkWidget *self = gtk_widget_get_ancestor (GTK_WIDGET (button), WB_TYPE_READING_LOG);

  if (self != NULL)
    wb_reading_log_show_history (WB_READING_LOG (self), gtk_list_item_get_item (list_item));
}

static void
on_setup_cb (GtkSignalListItemFactory *factory,
             GtkListItem              *list_item)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  GtkWidget *head = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 10);
  GtkWidget *title = line_new ("heading");
  GtkWidget *history = gtk_button_new_with_label (_("History…"));
  GtkWidget *button = gtk_button_new_with_label (_("Amend…"));

  gtk_widget_set_hexpand (title, TRUE);
  gtk_box_append (GTK_BOX (head), title);
  gtk_box_append (GTK_BOX (head), history);
  gtk_box_append (GTK_BOX (head), button);
  gtk_box_append (GTK_BOX (row), head);
  gtk_box_append (GTK_BOX (row), line_new ("numeric"));
  gtk_box_append (GTK_BOX (row), line_new ("cautionline"));
  /* The row takes Enter: one stop of the Tab key a line is enough. The form leads to the history too. */
  gtk_widget_set_focusable (history, FALSE);
  gtk_widget_set_focusable (button, FALSE);
  g_signal_connect_object (history, "clicked", G_CALLBACK (on_history_clicked_cb), list_item, 0);
  g_signal_connect_object (button, "clicked", G_CALLBACK (on_row_clicked_cb), list_item, 0);
  gtk_list_item_set_child (list_item, row);
}

static void
set_line (GtkWidget  *label,
          const char *text)
{
  gtk_label_set_text (GTK_LABEL (label), text);
  gtk_widget_set_visible (label, *text != '\0');
}

static void
on_bind_cb (GtkSignalListItemFactory *factory,
            GtkListItem              *list_item,
            WbReadingLog             *self)
{
  WbAppAmendItem *item = gtk_list_item_get_item (list_item);
  GtkWidget *row = gtk_list_item_get_child (list_item);
  GtkWidget *head = gtk_widget_get_first_child (row), *values = gtk_widget_get_next_sibling (head);
  GtkWidget *title = gtk_widget_get_first_child (head), *button = gtk_widget_get_last_child (head);
  gboolean may = !wb_app_amend_item_get_taken_out (item) && !wb_app_notebook_get_read_only (self->notebook);
  g_autofree char *name = wb_amend_words_dup_title (item, self->code);
  g_autofree char *said = wb_amend_words_dup_values (item, self->us_units);
  g_autofree char *mark = wb_amend_words_dup_mark (item, self->us_units);
  g_autofree char *spoken = g_strjoin (", ", name, *said != '\0' ? said : _("nothing stated"), *mark != '\0' ? mark : NULL, NULL);
  g_autofree char *verb = g_strdup_printf (_("Amend %s"), name), *look = g_strdup_printf (_("History of %s"), name);

  set_line (title, name);
  set_line (values, said);
  set_line (gtk_widget_get_next_sibling (values), mark);
  if (wb_app_amend_item_get_taken_out (item))
    gtk_widget_add_css_class (values, "dim-label");
  else
    gtk_widget_remove_css_class (values, "dim-label");
  /* Readings stand below their burn. */
  gtk_widget_set_margin_start (row, ((const WbRecord *) wb_app_amend_item_get_record (item))->type == &wb_reading_type ? 14 : 0);
  gtk_widget_set_sensitive (button, may);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, verb, -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (gtk_widget_get_prev_sibling (button)), GTK_ACCESSIBLE_PROPERTY_LABEL, look, -1);
  wb_accessible_name_list_item (list_item, spoken);
}

static void
on_activate_cb (WbReadingLog *self,
                guint         position)
{
  g_autoptr (WbAppAmendItem) item = g_list_model_get_item (G_LIST_MODEL (self->amend), position);

  if (item != NULL)
    wb_reading_log_amend (self, item);
}

static void
focus_first (WbReadingLog *self)
{
  if (!self->focus || self->amend == NULL || g_list_model_get_n_items (G_LIST_MODEL (self->amend)) == 0)
    return;
  self->focus = FALSE;
  gtk_widget_grab_focus (GTK_WIDGET (self->list));
}

/* Its wider axis. */
static double
widest_mm (const WbVessel *vessel)
{
  if (vessel->shape != WB_SHAPE_ROUND && vessel->inner_width_mm > vessel->inner_diameter_mm)
    return vessel->inner_width_mm;
  return vessel->inner_diameter_mm;
}

static GtkWidget *
open_form (WbReadingLog   *self,
           WbAppAmendItem *item)
{
  GtkWidget *dialog = wb_amend_dialog_new (GTK_WIDGET (self), self->notebook, self->amend, item,
                                           self->inner_mm, self->us_units);

  gtk_window_present (GTK_WINDOW (dialog));
  return dialog;
}

static void
open_wanted (WbReadingLog *self)
{
  for (guint i = 0; self->wanted != 0 && self->amend != NULL && i < g_list_model_get_n_items (G_LIST_MODEL (self->amend)); i++)
    {
      g_autoptr (WbAppAmendItem) item = g_list_model_get_item (G_LIST_MODEL (self->amend), i);
      const WbRecord *record = wb_app_amend_item_get_record (item);
      GtkWidget *form;

      if (record->type != &wb_reading_type || record->id != self->wanted)
        continue;
      self->wanted = 0;
      form = wb_amend_dialog_get_form (WB_AMEND_DIALOG (open_form (self, item)));
      wb_amend_reading_ask_also (WB_AMEND_READING (form), self->wanted_column);
    }
}

/* The keyboard goes to its line, and its readings stand below. */
static void
show_wanted_burn (WbReadingLog *self)
{
  for (guint i = 0; self->wanted_burn != 0 && self->amend != NULL && i < g_list_model_get_n_items (G_LIST_MODEL (self->amend)); i++)
    {
      g_autoptr (WbAppAmendItem) item = g_list_model_get_item (G_LIST_MODEL (self->amend), i);
      const WbRecord *record = wb_app_amend_item_get_record (item);

      if (record->type != &wb_burn_type || record->id != self->wanted_burn)
        continue;
      self->wanted_burn = 0;
      gtk_selection_model_select_item (gtk_list_view_get_model (self->list), i, TRUE);
      gtk_widget_grab_focus (GTK_WIDGET (self->list));
      gtk_widget_activate_action (GTK_WIDGET (self->list), "list.scroll-to-item", "u", i);
    }
}

static void
on_loaded_cb (WbReadingLog *self)
{
  const GError *error = wb_app_live_list_get_error (WB_APP_LIVE_LIST (self->amend));

  if (error != NULL)
    wb_problem_show (GTK_WIDGET (self), _("The sample's record could not be read"), error);
  focus_first (self);
  show_wanted_burn (self);
  open_wanted (self);
}

static void
drop_amend (WbReadingLog *self)
{
  gtk_list_view_set_model (self->list, NULL);
  if (self->amend != NULL)
    g_signal_handlers_disconnect_by_data (self->amend, self);
  g_clear_object (&self->amend);
}

/* Follows the fold, and whose record it is. */
static void
update_amend (WbReadingLog *self)
{
  GtkSingleSelection *selection;

  drop_amend (self);
  if (self->sample == 0 || !gtk_expander_get_expanded (self->expander))
    return;
  self->amend = wb_app_amend_new (self->notebook, self->sample);
  g_signal_connect_swapped (self->amend, "notify::loaded", G_CALLBACK (on_loaded_cb), self);
  selection = gtk_single_selection_new (G_LIST_MODEL (g_object_ref (self->amend)));
  gtk_list_view_set_model (self->list, GTK_SELECTION_MODEL (selection));
  g_object_unref (selection);
}

static void
on_expanded_cb (WbReadingLog *self)
{
  update_amend (self);
}

static void
wb_reading_log_dispose (GObject *object)
{
  WbReadingLog *self = WB_READING_LOG (object);
  GtkWidget *child;

  if (self->list != NULL)
    drop_amend (self);
  g_clear_object (&self->notebook);
  g_clear_pointer (&self->code, g_free);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_READING_LOG);
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self))) != NULL)
    gtk_widget_unparent (child);
  G_OBJECT_CLASS (wb_reading_log_parent_class)->dispose (object);
}

static void
wb_reading_log_class_init (WbReadingLogClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_reading_log_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "readinglog");
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "reading-log.ui");
  gtk_widget_class_bind_template_child (widget_class, WbReadingLog, expander);
  gtk_widget_class_bind_template_child (widget_class, WbReadingLog, title);
  gtk_widget_class_bind_template_child (widget_class, WbReadingLog, list);
  gtk_widget_class_bind_template_callback (widget_class, on_expanded_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_setup_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_bind_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_activate_cb);
}

static void
wb_reading_log_init (WbReadingLog *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  wb_focus_walk_fold (self->expander);
}

GtkWidget *
wb_reading_log_new (void)
{
  return g_object_new (WB_TYPE_READING_LOG, NULL);
}

void
wb_reading_log_show (WbReadingLog     *self,
                     WbAppNotebook    *notebook,
                     WbAppBenchSample *sample,
                     gboolean          us_units)
{
  if (sample == NULL)
    wb_reading_log_show_record (self, notebook, 0, NULL, 0, us_units);
  else
    wb_reading_log_show_record (self, notebook, wb_app_bench_sample_get_id (sample), wb_app_bench_sample_get_code (sample),
                                widest_mm (wb_app_bench_sample_get_vessel (sample)), us_units);
}

void
wb_reading_log_show_record (WbReadingLog  *self,
                            WbAppNotebook *notebook,
                            gint64         sample,
                            const char    *code,
                            double         inner_mm,
                            gboolean       us_units)
{
  g_autofree char *title = NULL;

  g_return_if_fail (WB_IS_READING_LOG (self));
  g_return_if_fail (sample == 0 || (notebook != NULL && code != NULL));

  gtk_widget_set_visible (GTK_WIDGET (self), sample != 0);
  self->inner_mm = inner_mm;
  if (sample == self->sample && g_strcmp0 (code, self->code) == 0 && us_units == self->us_units
      && (sample == 0 || notebook == self->notebook))
    return;
  self->us_units = us_units;
  g_set_object (&self->notebook, notebook);
  self->sample = sample;
  g_free (self->code);
  self->code = g_strdup (code);
  self->wanted = 0;
  self->wanted_burn = 0;
  if (sample != 0)
    title = g_strdup_printf (_("What was read of %s, to look up and amend"), code);
  gtk_label_set_text (self->title, title != NULL ? title : "");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->expander), GTK_ACCESSIBLE_PROPERTY_LABEL, title != NULL ? title : "", -1);
  update_amend (self);
}

void
wb_reading_log_open_at (WbReadingLog *self,
                        gint64        burn)
{
  g_return_if_fail (WB_IS_READING_LOG (self));

  gtk_widget_set_vexpand (gtk_expander_get_child (self->expander), TRUE);
  self->wanted_burn = burn;
  self->focus = burn == 0;
  gtk_expander_set_expanded (self->expander, TRUE);
  focus_first (self);
  show_wanted_burn (self);
}

gint64
wb_reading_log_get_burn (WbReadingLog *self)
{
  GtkSelectionModel *model;
  WbAppAmendItem *item;
  const WbRecord *record;

  g_return_val_if_fail (WB_IS_READING_LOG (self), 0);

  model = gtk_list_view_get_model (self->list);
  item = model != NULL ? gtk_single_selection_get_selected_item (GTK_SINGLE_SELECTION (model)) : NULL;
  record = item != NULL ? wb_app_amend_item_get_record (item) : NULL;
  return record != NULL && record->type == &wb_burn_type ? record->id : 0;
}

void
wb_reading_log_toggle (WbReadingLog *self)
{
  g_return_if_fail (WB_IS_READING_LOG (self));

  self->focus = wb_focus_walk_toggle (self->expander);
  focus_first (self);
}

WbAppAmend *
wb_reading_log_get_amend (WbReadingLog *self)
{
  g_return_val_if_fail (WB_IS_READING_LOG (self), NULL);
  return self->amend;
}

void
wb_reading_log_amend_reading (WbReadingLog *self,
                              gint64        reading,
                              WbColumn      column)
{
  g_return_if_fail (WB_IS_READING_LOG (self));
  g_return_if_fail (column < WB_N_COLUMNS);

  if (self->sample == 0 || wb_app_notebook_get_read_only (self->notebook))
    return;
  self->wanted = reading;
  self->wanted_column = column;
  gtk_expander_set_expanded (self->expander, TRUE);
  open_wanted (self);
}

void
wb_reading_log_amend (WbReadingLog   *self,
                      WbAppAmendItem *item)
{
  g_return_if_fail (WB_IS_READING_LOG (self));
  g_return_if_fail (WB_IS_APP_AMEND_ITEM (item));

  if (self->amend == NULL)
    return;
  if (wb_app_amend_item_get_taken_out (item) || wb_app_notebook_get_read_only (self->notebook))
    {
      wb_reading_log_show_history (self, item);
      return;
    }
  open_form (self, item);
}

void
wb_reading_log_show_history (WbReadingLog   *self,
                             WbAppAmendItem *item)
{
  g_return_if_fail (WB_IS_READING_LOG (self));
  g_return_if_fail (WB_IS_APP_AMEND_ITEM (item));

  gtk_window_present (GTK_WINDOW (wb_history_dialog_new (GTK_WIDGET (self), self->notebook, item,
                                                         self->code, self->us_units)));
}
