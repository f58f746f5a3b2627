/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-production-dialog.h"

#include "wb-bundle.h"
#include "wb-craft-production.h"
#include "wb-paper-dialog.h"
#include "wb-problem.h"
#include "wb-quantity-entry.h"
#include "wb-weak-widget.h"

#include <glib/gi18n.h>
#include <math.h>

struct _WbProductionDialog
{
  GtkWindow        parent_instance;

  /* children */
  GtkLabel        *heading;
  WbQuantityEntry *vessels;
  WbQuantityEntry *pot;
  WbQuantityEntry *overage;
  WbQuantityEntry *hold_back;
  GtkWidget       *make;
  GtkLabel        *problem;

  /* owned */
  WbAppNotebook   *notebook;
  char            *name;     /* of the print job, and of the file without its ending */

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
    wb_quantity_entry_get_value (self->hold_back), self->resolution_g,
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

  g_clear_object (&self->notebook);
  g_clear_pointer (&self->name, g_free);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_PRODUCTION_DIALOG);
  G_OBJECT_CLASS (wb_production_dialog_parent_class)->dispose (object);
}

static void
wb_production_dialog_class_init (WbProductionDialogClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  g_type_ensure (WB_TYPE_QUANTITY_ENTRY);
  G_OBJECT_CLASS (klass)->dispose = wb_production_dialog_dispose;
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "production-dialog.ui");
  gtk_widget_class_bind_template_child (widget_class, WbProductionDialog, heading);
  gtk_widget_class_bind_template_child (widget_class, WbProductionDialog, vessels);
  gtk_widget_class_bind_template_child (widget_class, WbProductionDialog, pot);
  gtk_widget_class_bind_template_child (widget_class, WbProductionDialog, overage);
  gtk_widget_class_bind_template_child (widget_class, WbProductionDialog, hold_back);
  gtk_widget_class_bind_template_child (widget_class, WbProductionDialog, make);
  gtk_widget_class_bind_template_child (widget_class, WbProductionDialog, problem);
  gtk_widget_class_bind_template_callback (widget_class, on_changed_cb);
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
  gtk_widget_init_template (GTK_WIDGET (self));
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
  return GTK_WIDGET (self);
}
