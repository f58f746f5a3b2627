/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-poured-sheet.h"

#include "wb-amend-dialog.h"
#include "wb-batch-view.h"
#include "wb-clock.h"
#include "wb-craft-method.h"
#include "wb-craft-pot.h"
#include "wb-fact-list.h"
#include "wb-host.h"
#include "wb-lot-links.h"
#include "wb-pour-steps.h"
#include "wb-pour-words.h"
#include "wb-problem.h"
#include "wb-record-form.h"
#include "wb-retain-dialog.h"
#include "wb-sample-table.h"

#include <glib/gi18n.h>
#include <math.h>

/* CSS node: pouredsheet. */

struct _WbPouredSheet
{
  GtkWidget    parent_instance;

  /* children */
  GtkWidget   *scrolled;
  GtkLabel    *cure;
  WbFactList  *done;
  WbLotLinks  *lots;
  GtkWidget   *pour;      /* the steps, with a heading and where they left the plan */
  GtkLabel    *off;       /* where the pour left its plan */
  WbPourSteps *steps;
  WbSampleTable *samples;
  GtkWidget   *kept;
  WbRecordForm *form;  /* what went otherwise with the whole melt */
  GtkWidget   *planned_heading;
  WbBatchView *planned;

  /* owned */
  WbAppAmend  *amend;   /* of one of the samples, while it is read; NULL: it is not */

  /* state */
  gint64       sample;  /* one of the melt's, through which it is amended; 0: there is none */
};

G_DEFINE_FINAL_TYPE (WbPouredSheet, wb_poured_sheet, GTK_TYPE_WIDGET)

enum { CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

/* The day stands alone where nobody said the hour. */
static const char *const shown_of_batch[] = {
  "poured_on", "poured_at", "heat_c", "add_c", "pour_c", "room_c", "actual_wax_g", "actual_oil_g", "wax_lot", "fragrance_lot", "dye_lot", "additive_lot"
};
/* Asked once it has set, days later too. */
static const WbAppPoured asked_of_sample[] = {
  WB_APP_POURED_FILL, WB_APP_POURED_TOP_UP, WB_APP_POURED_HEIGHT, WB_APP_POURED_OFFSET, WB_APP_POURED_LEAN, WB_APP_POURED_CAVITIES
};
static const char *const asked_of_batch[] = { "deviation", "note", NULL };

static GtkWidget *
heading_new (const char *text)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", text, "xalign", 0.0, NULL);

  gtk_widget_add_css_class (label, "section");
  return label;
}

static void
on_changed_cb (WbPouredSheet *self)
{
  g_signal_emit (self, signals[CHANGED], 0);
}

static void
drop_amend (WbPouredSheet *self)
{
  if (self->amend != NULL)
    g_signal_handlers_disconnect_by_data (self->amend, self);
  g_clear_object (&self->amend);
}

static void
on_amend_loaded_cb (WbPouredSheet *self)
{
  g_autoptr (WbAppAmend) amend = g_object_ref (self->amend);
  const GError *error = wb_app_live_list_get_error (WB_APP_LIVE_LIST (amend));
  WbHost *host = wb_host_find (GTK_WIDGET (self));
  WbDesk *desk = host != NULL ? wb_host_get_desk (host) : NULL;
  const WbNotebook *settings = desk != NULL ? wb_app_notebook_get_settings (wb_desk_get_notebook (desk)) : NULL;

  drop_amend (self);
  if (error != NULL)
    wb_problem_show (GTK_WIDGET (self), _("What was done could not be read"), error);
  for (guint i = 0; desk != NULL && error == NULL && i < g_list_model_get_n_items (G_LIST_MODEL (amend)); i++)
    {
      g_autoptr (WbAppAmendItem) item = g_list_model_get_item (G_LIST_MODEL (amend), i);

      if (((const WbRecord *) wb_app_amend_item_get_record (item))->type == &wb_batch_type)
        gtk_window_present (GTK_WINDOW (wb_amend_dialog_new (GTK_WIDGET (self), wb_desk_get_notebook (desk), amend, item, NAN,
                                                             settings != NULL && settings->us_units)));
    }
}

/* The same as at the bench, where it stands below all that was read of a sample. */
static void
on_amend_clicked_cb (WbPouredSheet *self)
{
  WbHost *host = wb_host_find (GTK_WIDGET (self));
  WbDesk *desk = host != NULL ? wb_host_get_desk (host) : NULL;

  if (desk == NULL || self->sample == 0 || self->amend != NULL)
    return;
  self->amend = wb_app_amend_new (wb_desk_get_notebook (desk), self->sample);
  g_signal_connect_swapped (self->amend, "notify::loaded", G_CALLBACK (on_amend_loaded_cb), self);
}

static GtkWidget *
amend_button_new (WbPouredSheet *self)
{
  GtkWidget *button = gtk_button_new_with_label (_("Amend…"));

  gtk_widget_set_halign (button, GTK_ALIGN_START);
  gtk_widget_set_tooltip_text (button, _("Put right what was weighed, measured or noted of this melt; what stood there stays in the record"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Amend what was done"), -1);
  g_signal_connect_swapped (button, "clicked", G_CALLBACK (on_amend_clicked_cb), self);
  return button;
}

static void
on_retain_clicked_cb (GtkWidget *button)
{
  WbHost *host = wb_host_find (button);
  WbDesk *desk = host != NULL ? wb_host_get_desk (host) : NULL;

  if (desk != NULL)
    gtk_window_present (GTK_WINDOW (wb_retain_dialog_new (button, wb_desk_get_notebook (desk), g_object_get_data (G_OBJECT (button), "wb-sample"))));
}

/* A button a sample: it is kept as a reference, or may be. */
static void
show_kept (WbPouredSheet   *self,
           const WbDataset *data,
           const WbBatch   *batch)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (self->kept)) != NULL)
    gtk_flow_box_remove (GTK_FLOW_BOX (self->kept), child);
  for (guint i = 0; i < data->samples->len; i++)
    {
      const WbSample *sample = wb_dataset_get_sample (data, i);
      g_autofree char *name = NULL, *label = NULL;
      GtkWidget *button;

      if (sample->batch != batch->record.id)
        continue;
      label = g_strdup_printf (sample->retained ? "✓ %s" : "%s", sample->code);
      name = g_strdup_printf (sample->retained ? _("%s is kept as a reference") : _("Keep %s as a reference"), sample->code);
      button = gtk_button_new_with_label (label);
      gtk_widget_set_tooltip_text (button, sample->retained && sample->place != NULL ? sample->place : name);
      gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
      g_object_set_data_full (G_OBJECT (button), "wb-sample", wb_record_copy (sample), wb_record_free);
      g_signal_connect (button, "clicked", G_CALLBACK (on_retain_clicked_cb), NULL);
      gtk_flow_box_append (GTK_FLOW_BOX (self->kept), button);
      gtk_widget_set_focusable (gtk_widget_get_parent (button), FALSE);
    }
}

static void
show_deviations (WbPouredSheet        *self,
                 const WbDataset      *data,
                 const WbAppPourBatch *batch,
                 gboolean              us_units)
{
  g_autoptr (GPtrArray) lines = wb_craft_method_deviations (batch->steps, batch->fragrance, us_units);
  g_autoptr (GPtrArray) pot = wb_craft_pot_find (batch->batch, data->wax, batch->fragrance, us_units);
  g_autofree char *text = NULL;

  for (guint i = 0; i < pot->len; i++)
    g_ptr_array_insert (lines, i, g_strdup (((const WbCraftPotLine *) pot->pdata[i])->text));
  g_ptr_array_add (lines, NULL);
  text = g_strjoinv ("\n", (char **) lines->pdata);
  gtk_label_set_text (self->off, text);
  gtk_widget_set_visible (GTK_WIDGET (self->off), *text != '\0');
}

/* What is still to be done comes first, what is done last. */
static void
show_steps (WbPouredSheet        *self,
            const WbDataset      *data,
            const WbAppPourBatch *batch,
            gboolean              us_units,
            WbAppTimers          *timers,
            const char           *key)
{
  GtkWidget *box = gtk_widget_get_parent (self->pour), *behind;
  gboolean soon;

  show_deviations (self, data, batch, us_units);
  gtk_widget_set_visible (self->pour, batch->steps->len > 0);
  wb_pour_steps_set_day (self->steps, wb_batch_get_day (batch->batch));
  wb_pour_steps_show (self->steps, data, batch, us_units, timers, key, WB_POUR_STEPS_LATER);
  soon = wb_craft_method_is_near (batch->batch, wb_instant_get_day (wb_clock_now (wb_clock_get ())));
  behind = soon && wb_pour_steps_get_waiting (self->steps) ? GTK_WIDGET (self->cure) : GTK_WIDGET (self->lots);
  if (gtk_widget_get_prev_sibling (self->pour) != behind)
    gtk_box_reorder_child_after (GTK_BOX (box), self->pour, behind);
}

static void
wb_poured_sheet_dispose (GObject *object)
{
  drop_amend (WB_POURED_SHEET (object));
  g_clear_pointer (&WB_POURED_SHEET (object)->scrolled, gtk_widget_unparent);
  G_OBJECT_CLASS (wb_poured_sheet_parent_class)->dispose (object);
}

static void
wb_poured_sheet_class_init (WbPouredSheetClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = wb_poured_sheet_dispose;
  signals[CHANGED] = g_signal_new ("changed", WB_TYPE_POURED_SHEET, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (klass), "pouredsheet");
}

/* Hides all fields of the batch but those. */
static WbRecordForm *
form_new (void)
{
  WbRecordForm *form = WB_RECORD_FORM (wb_record_form_new ());
  g_autoptr (GPtrArray) hidden = g_ptr_array_new ();

  for (guint i = 0; i < wb_batch_type.n_fields; i++)
    if (!g_strv_contains (asked_of_batch, wb_batch_type.fields[i].name))
      g_ptr_array_add (hidden, (gpointer) wb_batch_type.fields[i].name);
  g_ptr_array_add (hidden, NULL);
  wb_record_form_set_hidden (form, (const char *const *) hidden->pdata);
  gtk_widget_set_halign (GTK_WIDGET (form), GTK_ALIGN_START);
  gtk_widget_set_size_request (GTK_WIDGET (form), 520, -1);
  return form;
}

static void
wb_poured_sheet_init (WbPouredSheet *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);

  self->cure = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0, "wrap", TRUE, "wrap-mode", PANGO_WRAP_WORD_CHAR, NULL);
  self->done = WB_FACT_LIST (wb_fact_list_new ());
  self->lots = WB_LOT_LINKS (wb_lot_links_new ());
  self->pour = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  self->off = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0, "wrap", TRUE, "wrap-mode", PANGO_WRAP_WORD_CHAR, "visible", FALSE, NULL);
  gtk_widget_add_css_class (GTK_WIDGET (self->off), "problem");
  self->steps = WB_POUR_STEPS (wb_pour_steps_new ());
  self->samples = WB_SAMPLE_TABLE (wb_sample_table_new ());
  wb_sample_table_set_fields (self->samples, asked_of_sample, G_N_ELEMENTS (asked_of_sample), TRUE);
  self->kept = g_object_new (GTK_TYPE_FLOW_BOX, "selection-mode", GTK_SELECTION_NONE, "max-children-per-line", 12, "row-spacing", 4, "column-spacing", 4, NULL);
  self->form = form_new ();
  g_signal_connect_swapped (self->steps, "changed", G_CALLBACK (on_changed_cb), self);
  g_signal_connect_swapped (self->samples, "changed", G_CALLBACK (on_changed_cb), self);
  g_signal_connect_swapped (self->form, "changed", G_CALLBACK (on_changed_cb), self);
  self->planned_heading = heading_new (_("What was planned"));
  self->planned = WB_BATCH_VIEW (wb_batch_view_new ());
  gtk_widget_add_css_class (box, "sheet");
  gtk_widget_add_css_class (GTK_WIDGET (self->cure), "title-2");
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (self->cure));
  gtk_box_append (GTK_BOX (box), heading_new (_("Once it has set: what was found")));
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (self->samples));
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (self->form));
  gtk_box_append (GTK_BOX (box), heading_new (_("Keep one as a reference for later batches")));
  gtk_box_append (GTK_BOX (box), self->kept);
  gtk_box_append (GTK_BOX (box), heading_new (_("What was done")));
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (self->done));
  gtk_box_append (GTK_BOX (box), amend_button_new (self));
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (self->lots));
  gtk_box_append (GTK_BOX (self->pour), heading_new (_("The pour")));
  gtk_box_append (GTK_BOX (self->pour), GTK_WIDGET (self->off));
  gtk_box_append (GTK_BOX (self->pour), GTK_WIDGET (self->steps));
  gtk_box_append (GTK_BOX (box), self->pour);
  gtk_box_append (GTK_BOX (box), self->planned_heading);
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (self->planned));
  self->scrolled = g_object_new (GTK_TYPE_SCROLLED_WINDOW, "hscrollbar-policy", GTK_POLICY_NEVER, "child", box, NULL);
  gtk_widget_set_parent (self->scrolled, GTK_WIDGET (self));
}

GtkWidget *
wb_poured_sheet_new (void)
{
  return g_object_new (WB_TYPE_POURED_SHEET, NULL);
}

void
wb_poured_sheet_show (WbPouredSheet        *self,
                      const WbDataset      *data,
                      const WbAppPourBatch *batch,
                      gboolean              us_units,
                      WbAppTimers          *timers,
                      const char           *key)
{
  g_autofree char *cure = NULL;
  g_autoptr (GArray) none = g_array_new (FALSE, FALSE, sizeof (WbAppPouredSample));
  WbCure dates;

  g_return_if_fail (WB_IS_POURED_SHEET (self));
  g_return_if_fail (data != NULL && batch != NULL && batch->poured);

  dates = wb_cure_of (NULL, batch->fragrance, data->wax);
  cure = wb_pour_words_dup_cure (&dates, wb_batch_get_day (batch->batch), batch->batch->poured_at);
  gtk_label_set_text (self->cure, cure);
  wb_fact_list_clear (self->done);
  for (guint i = 0; i < G_N_ELEMENTS (shown_of_batch); i++)
    if (!batch->batch->poured_at.known || !g_str_equal (shown_of_batch[i], "poured_on"))
      wb_fact_list_add_field (self->done, batch->batch, shown_of_batch[i], us_units);
  self->sample = 0;
  for (guint i = 0; self->sample == 0 && i < data->samples->len; i++)
    if (wb_dataset_get_sample (data, i)->batch == batch->batch->record.id)
      self->sample = wb_dataset_get_sample (data, i)->record.id;
  wb_lot_links_show (self->lots, data, batch->batch);
  show_steps (self, data, batch, us_units, timers, key);
  wb_sample_table_fill (self->samples, data, batch->samples, none, us_units);
  show_kept (self, data, batch->batch);
  if (!wb_record_form_get_touched (self->form))
    wb_record_form_set_record (self->form, batch->batch);
  gtk_widget_set_visible (self->planned_heading, batch->sheet != NULL);
  gtk_widget_set_visible (GTK_WIDGET (self->planned), batch->sheet != NULL);
  if (batch->sheet != NULL)
    wb_batch_view_show (self->planned, batch, us_units);
}

const char *
wb_poured_sheet_get_cure (WbPouredSheet *self)
{
  g_return_val_if_fail (WB_IS_POURED_SHEET (self), NULL);
  return gtk_label_get_text (self->cure);
}

gboolean
wb_poured_sheet_get_touched (WbPouredSheet *self)
{
  g_return_val_if_fail (WB_IS_POURED_SHEET (self), FALSE);
  return wb_pour_steps_get_touched (self->steps) || wb_sample_table_get_touched (self->samples) || wb_record_form_get_touched (self->form);
}

gboolean
wb_poured_sheet_check (WbPouredSheet *self)
{
  g_return_val_if_fail (WB_IS_POURED_SHEET (self), FALSE);
  return wb_pour_steps_check (self->steps) && wb_sample_table_check (self->samples) && wb_record_form_check (self->form);
}

WbBatch *
wb_poured_sheet_dup_batch (WbPouredSheet *self)
{
  g_return_val_if_fail (WB_IS_POURED_SHEET (self), NULL);
  return wb_record_form_dup_record (self->form);
}

GPtrArray *
wb_poured_sheet_dup_steps (WbPouredSheet *self)
{
  g_return_val_if_fail (WB_IS_POURED_SHEET (self), NULL);
  return wb_pour_steps_dup_steps (self->steps);
}

GPtrArray *
wb_poured_sheet_dup_samples (WbPouredSheet *self)
{
  g_return_val_if_fail (WB_IS_POURED_SHEET (self), NULL);
  return wb_sample_table_dup_samples (self->samples);
}

void
wb_poured_sheet_keep (WbPouredSheet *self,
                      GKeyFile      *file,
                      const char    *group)
{
  g_return_if_fail (WB_IS_POURED_SHEET (self));

  wb_pour_steps_keep (self->steps, file, group);
  wb_record_form_keep (self->form, file, group);
  wb_sample_table_keep (self->samples, file, group);
}

void
wb_poured_sheet_put_back (WbPouredSheet *self,
                          GKeyFile      *file,
                          const char    *group)
{
  g_return_if_fail (WB_IS_POURED_SHEET (self));

  wb_pour_steps_put_back (self->steps, file, group);
  wb_record_form_put_back (self->form, file, group);
  wb_sample_table_put_back (self->samples, file, group);
}
