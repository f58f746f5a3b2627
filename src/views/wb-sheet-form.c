/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-sheet-form.h"

#include "wb-problem.h"
#include "wb-quantity-entry.h"

#include <glib/gi18n.h>

#define N_FIELDS WB_REPORT_LABEL_SHIFT_X /* what comes behind is the printer's */

struct _WbSheetForm
{
  GtkWidget        parent_instance;

  /* children */
  GtkWidget       *box;
  WbQuantityEntry *field[N_FIELDS];
  GtkLabel        *problem;

  /* state */
  gboolean         us_units; /* what is wrong is told in inches */
  gboolean         quiet;
};

G_DEFINE_FINAL_TYPE (WbSheetForm, wb_sheet_form, GTK_TYPE_WIDGET)

enum { CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

/* A line asks for two measures, across and down. */
static const struct { const char *title, *between; } lines[N_FIELDS / 2] = {
  /* Translators: of a sheet of labels; two measures follow, here and below. */
  { N_("Page"), "×" },
  { N_("Label"), "×" },
  { N_("Columns and rows"), "×" },
  { N_("First label, from the left and the top"), "" },
  { N_("From label to label, across and down"), "" },
};

static gboolean
is_count (WbReportLabelMeasure measure)
{
  return measure == WB_REPORT_LABEL_COLUMNS || measure == WB_REPORT_LABEL_ROWS;
}

gboolean
wb_sheet_form_get_sheet (WbSheetForm        *self,
                         WbReportLabelSheet *sheet)
{
  WbReportLabelMeasure wrong = WB_REPORT_LABEL_N_MEASURES;
  g_autofree char *problem = NULL;

  g_return_val_if_fail (WB_IS_SHEET_FORM (self) && sheet != NULL, FALSE);

  *sheet = (WbReportLabelSheet) { 0 };
  for (WbReportLabelMeasure i = 0; i < N_FIELDS; i++)
    wb_report_label_sheet_set (sheet, i, wb_quantity_entry_get_value (self->field[i]));
  problem = wb_report_label_sheet_dup_problem (sheet, self->us_units, &wrong);
  for (WbReportLabelMeasure i = 0; i < N_FIELDS; i++)
    wb_quantity_entry_set_problem (self->field[i], problem != NULL && i == wrong ? problem : NULL);
  wb_problem_tell (self->problem, problem);
  return problem == NULL;
}

static void
on_field_changed_cb (WbSheetForm *self)
{
  if (!self->quiet)
    g_signal_emit (self, signals[CHANGED], 0);
}

void
wb_sheet_form_set_sheet (WbSheetForm              *self,
                         const WbReportLabelSheet *sheet)
{
  g_return_if_fail (WB_IS_SHEET_FORM (self) && sheet != NULL);

  self->quiet = TRUE;
  for (WbReportLabelMeasure i = 0; i < N_FIELDS; i++)
    wb_quantity_entry_set_value (self->field[i], wb_report_label_sheet_get (sheet, i));
  self->quiet = FALSE;
}

void
wb_sheet_form_set_us_units (WbSheetForm *self,
                            gboolean     us_units)
{
  g_return_if_fail (WB_IS_SHEET_FORM (self));

  self->quiet = TRUE;
  self->us_units = us_units;
  for (WbReportLabelMeasure i = 0; i < N_FIELDS; i++)
    if (!is_count (i))
      wb_quantity_entry_set_quantity (self->field[i], WB_QUANTITY_LENGTH, us_units ? WB_UNIT_INCH : WB_UNIT_MM);
  self->quiet = FALSE;
}

GtkWidget *
wb_sheet_form_get_field (WbSheetForm         *self,
                         WbReportLabelMeasure measure)
{
  g_return_val_if_fail (WB_IS_SHEET_FORM (self) && measure < N_FIELDS, NULL);

  return GTK_WIDGET (self->field[measure]);
}

static void
wb_sheet_form_dispose (GObject *object)
{
  g_clear_pointer (&WB_SHEET_FORM (object)->box, gtk_widget_unparent);
  G_OBJECT_CLASS (wb_sheet_form_parent_class)->dispose (object);
}

static void
wb_sheet_form_class_init (WbSheetFormClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_sheet_form_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  signals[CHANGED] = g_signal_new ("changed", WB_TYPE_SHEET_FORM, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static GtkWidget *
add_field (WbSheetForm         *self,
           WbReportLabelMeasure i)
{
  GtkWidget *field = wb_quantity_entry_new (is_count (i) ? WB_QUANTITY_PLAIN : WB_QUANTITY_LENGTH, is_count (i) ? WB_UNIT_NONE : WB_UNIT_MM);

  self->field[i] = WB_QUANTITY_ENTRY (field);
  wb_quantity_entry_set_integer (self->field[i], is_count (i));
  wb_quantity_entry_set_width_chars (self->field[i], 6);
  wb_quantity_entry_set_label (self->field[i], wb_report_label_measure_get_label (i));
  /* one line for all of them: nothing moves while a person types */
  wb_quantity_entry_set_told_elsewhere (self->field[i], TRUE);
  g_signal_connect_object (field, "changed", G_CALLBACK (on_field_changed_cb), self, G_CONNECT_SWAPPED);
  return field;
}

static void
wb_sheet_form_init (WbSheetForm *self)
{
  GtkWidget *grid = g_object_new (GTK_TYPE_GRID, "column-spacing", 8, "row-spacing", 4, NULL);

  self->box = g_object_new (GTK_TYPE_BOX, "orientation", GTK_ORIENTATION_VERTICAL, "spacing", 4, NULL);
  for (guint line = 0; line < G_N_ELEMENTS (lines); line++)
    {
      gtk_grid_attach (GTK_GRID (grid), g_object_new (GTK_TYPE_LABEL, "label", _(lines[line].title), "xalign", 0.0, "wrap", TRUE,
                                                      "max-width-chars", 22, "hexpand", TRUE, NULL), 0, (int) line, 1, 1);
      gtk_grid_attach (GTK_GRID (grid), add_field (self, 2 * line), 1, (int) line, 1, 1);
      gtk_grid_attach (GTK_GRID (grid), gtk_label_new (lines[line].between), 2, (int) line, 1, 1);
      gtk_grid_attach (GTK_GRID (grid), add_field (self, 2 * line + 1), 3, (int) line, 1, 1);
    }
  self->problem = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0, "wrap", TRUE, "max-width-chars", 44, "visible", FALSE, NULL);
  gtk_widget_add_css_class (GTK_WIDGET (self->problem), "problem");
  gtk_box_append (GTK_BOX (self->box), grid);
  gtk_box_append (GTK_BOX (self->box), GTK_WIDGET (self->problem));
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
}
