/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-production-dialog.h"

#include "wb-accessible-name.h"
#include "wb-app-query.h"
#include "wb-bundle.h"
#include "wb-choice-list.h"
#include "wb-craft-covered.h"
#include "wb-craft-production.h"
#include "wb-paper-dialog.h"
#include "wb-problem.h"
#include "wb-quantity-entry.h"
#include "wb-weak-widget.h"

#include <glib/gi18n.h>
#include <math.h>

/* Whose lot is chosen. */
typedef enum { LOT_WAX, LOT_OIL, LOT_WICK, N_LOTS } Lot;

struct _WbProductionDialog
{
  GtkWindow        parent_instance;

  /* children */
  GtkLabel        *heading;
  WbQuantityEntry *vessels;
  WbQuantityEntry *pot;
  WbQuantityEntry *overage;
  WbQuantityEntry *hold_back;
  GtkWidget       *lot_labels[N_LOTS];
  GtkDropDown     *lots[N_LOTS];
  GtkLabel        *lacking;
  GtkWidget       *make;
  GtkLabel        *problem;

  /* owned */
  WbAppNotebook   *notebook;
  char            *name;     /* of the print job, and of the file without its ending */
  WbDataset       *data;     /* the decision's experiment as it is by now; NULL: not read yet */
  WbAppTouched    *touched;  /* the decision, with what changed behind it */
  GPtrArray       *offers[N_LOTS]; /* WbCraftLotOffer; the list has one line more, before them */
  GCancellable    *cancellable;

  /* state */
  gint64           decision;
  double           resolution_g;
  gboolean         making;
};

G_DEFINE_FINAL_TYPE (WbProductionDialog, wb_production_dialog, GTK_TYPE_WINDOW)

static void
set_making (WbProductionDialog *self,
            gboolean            making)
{
  self->making = making;
  gtk_widget_set_sensitive (self->make, !making);
}

/* ---- Lots ---- */

/* NULL: nothing of that kind goes in. */
static const WbRecord *
find_material (WbProductionDialog *self,
               Lot                 lot)
{
  for (guint i = 0; i < self->data->cells->len; i++)
    if (wb_dataset_get_cell (self->data, i)->record.id == self->touched->record->cell)
      return lot == LOT_WAX ? (const WbRecord *) self->data->wax
             : lot == LOT_OIL ? (const WbRecord *) wb_dataset_get_fragrance (self->data, i)
                              : (const WbRecord *) wb_dataset_get_wick (self->data, i);
  return NULL;
}

/* NULL: to be written by hand. */
static const char *
get_lot (WbProductionDialog *self,
         Lot                 lot)
{
  guint selected = gtk_drop_down_get_selected (self->lots[lot]);

  return self->offers[lot] != NULL && selected != GTK_INVALID_LIST_POSITION && selected > 0 && selected <= self->offers[lot]->len
           ? ((const WbCraftLotOffer *) g_ptr_array_index (self->offers[lot], selected - 1))->code : NULL;
}

static void
fill_lots (WbProductionDialog   *self,
           Lot                   lot,
           const WbAppMaterials *materials)
{
  const WbRecord *material = find_material (self, lot);
  g_autoptr (GtkStringList) titles = gtk_string_list_new (NULL);

  gtk_widget_set_visible (self->lot_labels[lot], material != NULL);
  gtk_widget_set_visible (GTK_WIDGET (self->lots[lot]), material != NULL);
  if (material == NULL)
    return;
  self->offers[lot] = wb_craft_covered_offer (self->data, self->touched->record, self->touched->changes, material->id, materials->lots, materials->parts);
  gtk_string_list_append (titles, _("to be written by hand"));
  for (guint i = 0; i < self->offers[lot]->len; i++)
    {
      const WbCraftLotOffer *offer = g_ptr_array_index (self->offers[lot], i);
      /* Translators: code of a lot. */
      g_autofree char *title = g_strdup_printf (offer->covered ? _("%s, signed for") : _("%s, not covered by the signature"), offer->code);

      gtk_string_list_append (titles, title);
    }
  gtk_drop_down_set_model (self->lots[lot], G_LIST_MODEL (titles));
  gtk_drop_down_set_selected (self->lots[lot], 0);
}

/* Told before the sheet is, and on it. */
static void
on_lot_cb (WbProductionDialog *self)
{
  g_autoptr (GString) text = g_string_new (NULL);

  for (Lot lot = 0; lot < N_LOTS; lot++)
    {
      const char *code = self->data != NULL ? get_lot (self, lot) : NULL;
      g_autofree char *lack = code != NULL ? wb_craft_covered_dup_lack (self->data, self->touched->record, self->touched->changes,
                                                                        find_material (self, lot)->id, code) : NULL;

      if (lack != NULL)
        g_string_append_printf (text, "%s%s", text->len > 0 ? "\n" : "", lack);
    }
  gtk_label_set_text (self->lacking, text->str);
  gtk_widget_set_visible (GTK_WIDGET (self->lacking), text->len > 0);
}

static void
on_materials_cb (GObject      *source,
                 GAsyncResult *result,
                 gpointer      user)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbAppMaterials) materials = wb_app_query_materials_finish (WB_APP_NOTEBOOK (source), result, &error);
  WbProductionDialog *self;

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  self = WB_PRODUCTION_DIALOG (user);
  if (materials == NULL)
    wb_problem_tell_error (self->problem, error);
  for (Lot lot = 0; materials != NULL && lot < N_LOTS; lot++)
    fill_lots (self, lot, materials);
}

static void
on_dataset_cb (GObject      *source,
               GAsyncResult *result,
               gpointer      user)
{
  g_autoptr (GError) error = NULL;
  WbDataset *data = wb_app_query_dataset_finish (WB_APP_NOTEBOOK (source), result, &error);
  WbProductionDialog *self;

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  self = WB_PRODUCTION_DIALOG (user);
  self->data = data;
  if (data == NULL)
    wb_problem_tell_error (self->problem, error);
  else
    wb_app_query_materials_async (self->notebook, self->cancellable, on_materials_cb, self);
}

/* ---- The sheet ---- */

static void
on_made_cb (GObject      *source,
            GAsyncResult *result,
            gpointer      user)
{
  g_autoptr (WbProductionDialog) self = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (WbReportDocument) document = wb_app_decision_papers_finish (WB_APP_NOTEBOOK (source), result, &error);
  g_autoptr (WbPaper) paper = NULL;

  self = wb_weak_widget_take (user);
  if (self == NULL)
    return;
  set_making (self, FALSE);
  if (document == NULL)
    {
      wb_problem_tell_error (self->problem, error);
      return;
    }
  paper = wb_paper_new (g_steal_pointer (&document));
  gtk_window_present (GTK_WINDOW (wb_paper_dialog_new (GTK_WIDGET (gtk_window_get_transient_for (GTK_WINDOW (self))), paper,
                                                       _("Production batch sheet"), self->name)));
  gtk_window_close (GTK_WINDOW (self));
}

static void
on_make_cb (WbProductionDialog *self)
{
  WbAppProductionTerms terms;
  gboolean good = TRUE;
  WbQuantityEntry *fields[] = { self->vessels, self->pot, self->overage, self->hold_back };

  if (self->making)
    return;
  wb_problem_tell (self->problem, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (fields); i++)
    good = wb_quantity_entry_check (fields[i]) && good;
  if (!good)
    return;
  terms = (WbAppProductionTerms) {
    (guint) wb_quantity_entry_get_value (self->vessels), wb_quantity_entry_get_value (self->pot), wb_quantity_entry_get_value (self->overage),
    wb_quantity_entry_get_value (self->hold_back), self->resolution_g, get_lot (self, LOT_WAX), get_lot (self, LOT_OIL), get_lot (self, LOT_WICK),
  };
  set_making (self, TRUE);
  wb_app_decision_papers_async (self->notebook, self->decision, &terms, -1, NULL, on_made_cb, wb_weak_widget_new (self));
}

static void
on_changed_cb (WbProductionDialog *self)
{
  wb_problem_tell (self->problem, NULL);
}

static void
wb_production_dialog_dispose (GObject *object)
{
  WbProductionDialog *self = WB_PRODUCTION_DIALOG (object);

  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->notebook);
  g_clear_pointer (&self->name, g_free);
  for (Lot lot = 0; lot < N_LOTS; lot++)
    g_clear_pointer (&self->offers[lot], g_ptr_array_unref);
  g_clear_pointer (&self->data, wb_dataset_free);
  g_clear_pointer (&self->touched, wb_app_touched_unref);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_PRODUCTION_DIALOG);
  G_OBJECT_CLASS (wb_production_dialog_parent_class)->dispose (object);
}

static void
wb_production_dialog_finalize (GObject *object)
{
  g_object_unref (WB_PRODUCTION_DIALOG (object)->cancellable);
  G_OBJECT_CLASS (wb_production_dialog_parent_class)->finalize (object);
}

static void
wb_production_dialog_class_init (WbProductionDialogClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  g_type_ensure (WB_TYPE_QUANTITY_ENTRY);
  G_OBJECT_CLASS (klass)->dispose = wb_production_dialog_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_production_dialog_finalize;
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "production-dialog.ui");
  gtk_widget_class_bind_template_child (widget_class, WbProductionDialog, heading);
  gtk_widget_class_bind_template_child (widget_class, WbProductionDialog, vessels);
  gtk_widget_class_bind_template_child (widget_class, WbProductionDialog, pot);
  gtk_widget_class_bind_template_child (widget_class, WbProductionDialog, overage);
  gtk_widget_class_bind_template_child (widget_class, WbProductionDialog, hold_back);
  gtk_widget_class_bind_template_child_full (widget_class, "wax_lot_label", FALSE, G_STRUCT_OFFSET (WbProductionDialog, lot_labels[LOT_WAX]));
  gtk_widget_class_bind_template_child_full (widget_class, "oil_lot_label", FALSE, G_STRUCT_OFFSET (WbProductionDialog, lot_labels[LOT_OIL]));
  gtk_widget_class_bind_template_child_full (widget_class, "wick_lot_label", FALSE, G_STRUCT_OFFSET (WbProductionDialog, lot_labels[LOT_WICK]));
  gtk_widget_class_bind_template_child_full (widget_class, "wax_lot", FALSE, G_STRUCT_OFFSET (WbProductionDialog, lots[LOT_WAX]));
  gtk_widget_class_bind_template_child_full (widget_class, "oil_lot", FALSE, G_STRUCT_OFFSET (WbProductionDialog, lots[LOT_OIL]));
  gtk_widget_class_bind_template_child_full (widget_class, "wick_lot", FALSE, G_STRUCT_OFFSET (WbProductionDialog, lots[LOT_WICK]));
  gtk_widget_class_bind_template_child (widget_class, WbProductionDialog, lacking);
  gtk_widget_class_bind_template_child (widget_class, WbProductionDialog, make);
  gtk_widget_class_bind_template_child (widget_class, WbProductionDialog, problem);
  gtk_widget_class_bind_template_callback (widget_class, on_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_lot_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_make_cb);
}

static void
set_field (WbQuantityEntry *entry,
           const char      *label,
           WbQuantity       quantity,
           WbUnit           unit,
           double           low,
           double           high,
           gboolean         required)
{
  wb_quantity_entry_set_quantity (entry, quantity, unit);
  wb_quantity_entry_set_range (entry, low, high);
  wb_quantity_entry_set_required (entry, required);
  wb_quantity_entry_set_label (entry, label);
}

static void
wb_production_dialog_init (WbProductionDialog *self)
{
  const char *const names[] = { [LOT_WAX] = _("Lot of the wax"), [LOT_OIL] = _("Lot of the oil"), [LOT_WICK] = _("Lot of the wick") };

  self->cancellable = g_cancellable_new ();
  gtk_widget_init_template (GTK_WIDGET (self));
  for (Lot lot = 0; lot < N_LOTS; lot++)
    {
      wb_accessible_name_drop_down (self->lots[lot], names[lot]);
      wb_choice_list_fit (self->lots[lot], 24);
    }
  set_field (self->vessels, _("Vessels"), WB_QUANTITY_PLAIN, WB_UNIT_NONE, 1, WB_CRAFT_PRODUCTION_MOST_VESSELS, TRUE);
  wb_quantity_entry_set_integer (self->vessels, TRUE);
  set_field (self->pot, _("The pot holds"), WB_QUANTITY_MASS, WB_UNIT_G, 1, 1e6, FALSE);
  set_field (self->overage, _("For what stays in the pot"), WB_QUANTITY_PERCENT, WB_UNIT_PERCENT, 0, 50, TRUE);
  set_field (self->hold_back, _("Kept for the second pour"), WB_QUANTITY_PERCENT, WB_UNIT_PERCENT, 0, 90, TRUE);
}

GtkWidget *
wb_production_dialog_new (GtkWidget          *where,
                          WbAppNotebook      *notebook,
                          const WbDataset    *data,
                          const WbAppTouched *decision)
{
  GtkRoot *root = where != NULL ? gtk_widget_get_root (where) : NULL;
  WbAppProductionTerms terms;
  WbProductionDialog *self;

  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (notebook) && data != NULL && decision != NULL, NULL);

  self = g_object_new (WB_TYPE_PRODUCTION_DIALOG, "title", _("Production batch sheet"), "transient-for", GTK_IS_WINDOW (root) ? root : NULL, NULL);
  self->notebook = g_object_ref (notebook);
  self->decision = decision->decision;
  /* Translators: name of a file and of a print job; code of the experiment. */
  self->name = g_strdup_printf (_("Production batch sheet %s"), decision->experiment_code);
  wb_app_production_terms_init (&terms, data, decision->record);
  self->resolution_g = terms.resolution_g;
  gtk_label_set_text (self->heading, decision->cell);
  wb_quantity_entry_set_value (self->vessels, terms.vessels);
  wb_quantity_entry_set_value (self->overage, terms.overage_pct);
  wb_quantity_entry_set_value (self->hold_back, terms.hold_back_pct);
  self->touched = wb_app_touched_ref ((WbAppTouched *) decision);
  wb_app_query_dataset_async (notebook, decision->experiment, self->cancellable, on_dataset_cb, self);
  return GTK_WIDGET (self);
}
