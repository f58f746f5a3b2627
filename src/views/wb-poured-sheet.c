/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-poured-sheet.h"

#include "wb-batch-view.h"
#include "wb-fact-list.h"
#include "wb-host.h"
#include "wb-lot-links.h"
#include "wb-pour-words.h"
#include "wb-retain-dialog.h"

#include <glib/gi18n.h>

/* CSS node: pouredsheet. */

#define CELL_CHARS 14

struct _WbPouredSheet
{
  GtkWidget    parent_instance;

  /* children */
  GtkWidget   *scrolled;
  GtkLabel    *cure;
  WbFactList  *done;
  WbLotLinks  *lots;
  GtkWidget   *samples; /* a grid: a line a sample */
  GtkWidget   *planned_heading;
  WbBatchView *planned;
};

G_DEFINE_FINAL_TYPE (WbPouredSheet, wb_poured_sheet, GTK_TYPE_WIDGET)

static const char *const shown_of_batch[] = {
  "poured_at", "heat_c", "add_c", "pour_c", "room_c", "actual_wax_g", "actual_oil_g", "wax_lot", "fragrance_lot", "dye_lot", "deviation", "note"
};
static const char *const shown_of_sample[] = { "tare_g", "fill_g", "wax_height_mm", "wick_offset_mm" };

static GtkWidget *
heading_new (const char *text)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", text, "xalign", 0.0, NULL);

  gtk_widget_add_css_class (label, "section");
  return label;
}

static GtkWidget *
cell_new (const char *text,
          float       xalign,
          const char *style)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", text, "xalign", xalign, "yalign", 1.0, "wrap", TRUE, "wrap-mode",
                                   PANGO_WRAP_WORD_CHAR, "max-width-chars", CELL_CHARS, NULL);

  gtk_widget_add_css_class (label, style);
  return label;
}

/* Whether any sample of the batch states it: a column that nobody filled in is not shown. */
static gboolean
is_measured (const WbDataset   *data,
             const WbBatch     *batch,
             const WbFieldSpec *spec)
{
  for (guint i = 0; i < data->samples->len; i++)
    {
      const WbSample *sample = wb_dataset_get_sample (data, i);

      if (sample->batch == batch->record.id && wb_record_is_known (sample, spec))
        return TRUE;
    }
  return FALSE;
}

static void
show_column (WbPouredSheet     *self,
             const WbDataset   *data,
             const WbBatch     *batch,
             const WbFieldSpec *spec,
             int                column,
             gboolean           us_units)
{
  WbUnit unit = wb_quantity_get_shown_unit (spec->quantity, us_units);
  int row = 0;

  gtk_grid_attach (GTK_GRID (self->samples), cell_new (_(spec->label), 1.0, "dim-label"), column, row++, 1, 1);
  for (guint i = 0; i < data->samples->len; i++)
    {
      const WbSample *sample = wb_dataset_get_sample (data, i);
      g_autofree char *words = NULL;

      if (sample->batch != batch->record.id)
        continue;
      words = wb_record_is_known (sample, spec) ? wb_quantity_format (unit, wb_record_get_real (sample, spec), -1) : g_strdup ("–");
      gtk_grid_attach (GTK_GRID (self->samples), cell_new (words, 1.0, "numeric"), column, row++, 1, 1);
    }
}

static void
show_names (WbPouredSheet   *self,
            const WbDataset *data,
            const WbBatch   *batch)
{
  int row = 1;

  for (guint i = 0; i < data->samples->len; i++)
    {
      const WbSample *sample = wb_dataset_get_sample (data, i);
      g_autofree char *cell = NULL;

      if (sample->batch != batch->record.id)
        continue;
      cell = wb_dataset_dup_cell_name (data, g_array_index (data->sample_cell, guint, i));
      gtk_grid_attach (GTK_GRID (self->samples), cell_new (sample->code, 0.0, "strong"), 0, row, 1, 1);
      gtk_grid_attach (GTK_GRID (self->samples), cell_new (cell, 0.0, "dim-label"), 1, row++, 1, 1);
    }
}

static void
on_retain_clicked_cb (GtkWidget *button)
{
  WbHost *host = wb_host_find (button);
  WbDesk *desk = host != NULL ? wb_host_get_desk (host) : NULL;

  if (desk != NULL)
    gtk_window_present (GTK_WINDOW (wb_retain_dialog_new (button, wb_desk_get_notebook (desk), g_object_get_data (G_OBJECT (button), "wb-sample"))));
}

/* At the end of each line: the sample is kept as a reference, or may be. */
static void
show_kept (WbPouredSheet   *self,
           const WbDataset *data,
           const WbBatch   *batch,
           int              column)
{
  int row = 1;

  for (guint i = 0; i < data->samples->len; i++)
    {
      const WbSample *sample = wb_dataset_get_sample (data, i);
      GtkWidget *button;
      g_autofree char *name = NULL;

      if (sample->batch != batch->record.id)
        continue;
      button = gtk_button_new_with_label (sample->retained ? _("Kept…") : _("Keep…"));
      name = g_strdup_printf (sample->retained ? _("%s is kept as a reference") : _("Keep %s as a reference"), sample->code);
      gtk_button_set_has_frame (GTK_BUTTON (button), FALSE);
      gtk_widget_set_tooltip_text (button, sample->retained && sample->place != NULL ? sample->place : name);
      gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
      g_object_set_data_full (G_OBJECT (button), "wb-sample", wb_record_copy (sample), wb_record_free);
      g_signal_connect (button, "clicked", G_CALLBACK (on_retain_clicked_cb), NULL);
      gtk_grid_attach (GTK_GRID (self->samples), button, column, row++, 1, 1);
    }
}

static void
show_samples (WbPouredSheet   *self,
              const WbDataset *data,
              const WbBatch   *batch,
              gboolean         us_units)
{
  GtkWidget *child;
  int column = 2;

  while ((child = gtk_widget_get_first_child (self->samples)) != NULL)
    gtk_grid_remove (GTK_GRID (self->samples), child);
  show_names (self, data, batch);
  for (guint i = 0; i < G_N_ELEMENTS (shown_of_sample); i++)
    {
      const WbFieldSpec *spec = wb_record_type_find_field (&wb_sample_type, shown_of_sample[i]);

      if (is_measured (data, batch, spec))
        show_column (self, data, batch, spec, column++, us_units);
    }
  show_kept (self, data, batch, column);
}

static void
wb_poured_sheet_dispose (GObject *object)
{
  g_clear_pointer (&WB_POURED_SHEET (object)->scrolled, gtk_widget_unparent);
  G_OBJECT_CLASS (wb_poured_sheet_parent_class)->dispose (object);
}

static void
wb_poured_sheet_class_init (WbPouredSheetClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = wb_poured_sheet_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (klass), "pouredsheet");
}

static void
wb_poured_sheet_init (WbPouredSheet *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);

  self->cure = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0, "wrap", TRUE, "wrap-mode", PANGO_WRAP_WORD_CHAR, NULL);
  self->done = WB_FACT_LIST (wb_fact_list_new ());
  self->lots = WB_LOT_LINKS (wb_lot_links_new ());
  self->samples = g_object_new (GTK_TYPE_GRID, "row-spacing", 4, "column-spacing", 18, NULL);
  self->planned_heading = heading_new (_("What was planned"));
  self->planned = WB_BATCH_VIEW (wb_batch_view_new ());
  gtk_widget_add_css_class (box, "sheet");
  gtk_widget_add_css_class (GTK_WIDGET (self->cure), "title-2");
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (self->cure));
  gtk_box_append (GTK_BOX (box), heading_new (_("What was done")));
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (self->done));
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (self->lots));
  gtk_box_append (GTK_BOX (box), heading_new (_("Samples")));
  gtk_box_append (GTK_BOX (box), self->samples);
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
                      gboolean              us_units)
{
  g_autofree char *cure = NULL;
  WbCure dates;

  g_return_if_fail (WB_IS_POURED_SHEET (self));
  g_return_if_fail (data != NULL && batch != NULL && batch->poured);

  dates = wb_cure_of (NULL, batch->fragrance, data->wax);
  cure = wb_pour_words_dup_cure (&dates, wb_instant_get_day (batch->batch->poured_at));
  gtk_label_set_text (self->cure, cure);
  wb_fact_list_clear (self->done);
  for (guint i = 0; i < G_N_ELEMENTS (shown_of_batch); i++)
    wb_fact_list_add_field (self->done, batch->batch, shown_of_batch[i], us_units);
  wb_lot_links_show (self->lots, data, batch->batch);
  show_samples (self, data, batch->batch, us_units);
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
