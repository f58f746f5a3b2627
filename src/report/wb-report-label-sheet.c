/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-label-sheet.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-report-label-measure-private.h"

#define SLACK 0.6 /* mm: sheets are cut no better than that */

static const struct { const char *key; WbReportLabelSheet sheet; const char *label; } presets[] = {
  [WB_REPORT_LABELS_A4_24] = { "a4-24", { 210, 297, 0, 0.5, 70, 37, 70, 37, 3, 8, 0, 0 }, N_("A4, 24 labels of 70 × 37 mm") },
  [WB_REPORT_LABELS_A4_21] = { "a4-21", { 210, 297, 7.25, 15.15, 63.5, 38.1, 66, 38.1, 3, 7, 0, 0 }, N_("A4, 21 labels of 63.5 × 38.1 mm") },
  [WB_REPORT_LABELS_LETTER_30] = { "letter-30", { 215.9, 279.4, 4.7625, 12.7, 66.675, 25.4, 69.85, 25.4, 3, 10, 0, 0 },
                                   N_("Letter, 30 labels of 2 5/8 × 1 in") },
  [WB_REPORT_LABELS_LETTER_10] = { "letter-10", { 215.9, 279.4, 3.96875, 12.7, 101.6, 50.8, 106.3625, 50.8, 2, 5, 0, 0 },
                                   N_("Letter, 10 labels of 4 × 2 in") },
  [WB_REPORT_LABELS_ROLL_62] = { "roll-62", { 62, 29, 0, 0, 62, 29, 62, 29, 1, 1, 0, 0 }, N_("Roll, labels of 62 × 29 mm") },
};

/* Where a measure stands, and between what it lies by itself. */
static const struct { const char *key, *label; gsize offset; double least, most; gboolean is_count; } measures[] = {
  [WB_REPORT_LABEL_PAGE_WIDTH] = { "page-width", N_("Page, width"), G_STRUCT_OFFSET (WbReportLabelSheet, page_width), 10, 2000, FALSE },
  [WB_REPORT_LABEL_PAGE_HEIGHT] = { "page-height", N_("Page, height"), G_STRUCT_OFFSET (WbReportLabelSheet, page_height), 10, 2000, FALSE },
  [WB_REPORT_LABEL_WIDTH] = { "width", N_("Label, width"), G_STRUCT_OFFSET (WbReportLabelSheet, width), 5, 2000, FALSE },
  [WB_REPORT_LABEL_HEIGHT] = { "height", N_("Label, height"), G_STRUCT_OFFSET (WbReportLabelSheet, height), 5, 2000, FALSE },
  [WB_REPORT_LABEL_COLUMNS] = { "columns", N_("Labels side by side"), G_STRUCT_OFFSET (WbReportLabelSheet, columns), 1, 100, TRUE },
  [WB_REPORT_LABEL_ROWS] = { "rows", N_("Labels one under the other"), G_STRUCT_OFFSET (WbReportLabelSheet, rows), 1, 100, TRUE },
  [WB_REPORT_LABEL_LEFT] = { "left", N_("First label, from the left edge"), G_STRUCT_OFFSET (WbReportLabelSheet, left), 0, 2000, FALSE },
  [WB_REPORT_LABEL_TOP] = { "top", N_("First label, from the top edge"), G_STRUCT_OFFSET (WbReportLabelSheet, top), 0, 2000, FALSE },
  [WB_REPORT_LABEL_PITCH_X] = { "pitch-x", N_("From label to label, across"), G_STRUCT_OFFSET (WbReportLabelSheet, pitch_x), 0, 2000, FALSE },
  [WB_REPORT_LABEL_PITCH_Y] = { "pitch-y", N_("From label to label, down"), G_STRUCT_OFFSET (WbReportLabelSheet, pitch_y), 0, 2000, FALSE },
  [WB_REPORT_LABEL_SHIFT_X] = { "shift-x", N_("Print further right"), G_STRUCT_OFFSET (WbReportLabelSheet, shift_x),
                                -WB_REPORT_LABEL_MOST_SHIFT, WB_REPORT_LABEL_MOST_SHIFT, FALSE },
  [WB_REPORT_LABEL_SHIFT_Y] = { "shift-y", N_("Print further down"), G_STRUCT_OFFSET (WbReportLabelSheet, shift_y),
                                -WB_REPORT_LABEL_MOST_SHIFT, WB_REPORT_LABEL_MOST_SHIFT, FALSE },
};

WbReportLabelSheet
wb_report_label_sheet_preset (WbReportLabelPreset preset)
{
  g_return_val_if_fail (preset < WB_REPORT_LABELS_N, presets[0].sheet);

  return presets[preset].sheet;
}

const char *
wb_report_label_preset_get_label (WbReportLabelPreset preset)
{
  g_return_val_if_fail (preset < WB_REPORT_LABELS_N, "");

  return _(presets[preset].label);
}

const char *
wb_report_label_preset_get_key (WbReportLabelPreset preset)
{
  g_return_val_if_fail (preset < WB_REPORT_LABELS_N, "");

  return presets[preset].key;
}

const char *
wb_report_label_measure_get_key (WbReportLabelMeasure measure)
{
  g_return_val_if_fail (measure < WB_REPORT_LABEL_N_MEASURES, "");

  return measures[measure].key;
}

const char *
wb_report_label_measure_get_label (WbReportLabelMeasure measure)
{
  g_return_val_if_fail (measure < WB_REPORT_LABEL_N_MEASURES, "");

  return _(measures[measure].label);
}

double
wb_report_label_sheet_get (const WbReportLabelSheet *self,
                           WbReportLabelMeasure      measure)
{
  g_return_val_if_fail (self != NULL && measure < WB_REPORT_LABEL_N_MEASURES, NAN);

  if (measures[measure].is_count)
    return G_STRUCT_MEMBER (guint, self, measures[measure].offset);
  return G_STRUCT_MEMBER (double, self, measures[measure].offset);
}

void
wb_report_label_sheet_set (WbReportLabelSheet  *self,
                           WbReportLabelMeasure measure,
                           double               value)
{
  g_return_if_fail (self != NULL && measure < WB_REPORT_LABEL_N_MEASURES);

  if (measures[measure].is_count)
    /* what is no count is none: the check says so */
    G_STRUCT_MEMBER (guint, self, measures[measure].offset) = value >= 1 && value <= 1e6 && floor (value) == value ? (guint) value : 0;
  else
    G_STRUCT_MEMBER (double, self, measures[measure].offset) = value;
}

static char *
dup_out_of_range (WbReportLabelMeasure measure,
                  gboolean             us_units)
{
  g_autofree char *least = NULL, *most = NULL;

  /* Translators: name of a measure, then the least and the most that it may be. */
  if (measures[measure].is_count)
    return g_strdup_printf (_("%s: a whole number from %.0f to %.0f."), _(measures[measure].label), measures[measure].least, measures[measure].most);
  least = wb_report_label_dup_length (measures[measure].least, us_units);
  most = wb_report_label_dup_length (measures[measure].most, us_units);
  return g_strdup_printf (_("%s: from %s to %s."), _(measures[measure].label), least, most);
}

static char *
dup_over_edge (double   end,
               double   page,
               gboolean across,
               gboolean us_units)
{
  g_autofree char *reached = wb_report_label_dup_length (end, us_units), *paper = wb_report_label_dup_length (page, us_units);

  /* Translators: two lengths, here and below. */
  if (across)
    return g_strdup_printf (_("The labels reach to %s, beyond the right edge of the page at %s."), reached, paper);
  return g_strdup_printf (_("The labels reach to %s, beyond the bottom edge of the page at %s."), reached, paper);
}

/* One behind the other, in which order the person would look. */
static char *
dup_lie_wrong (const WbReportLabelSheet *self,
               gboolean                  us_units,
               WbReportLabelMeasure     *measure)
{
  double right = self->left + (self->columns - 1) * self->pitch_x + self->width;
  double bottom = self->top + (self->rows - 1) * self->pitch_y + self->height;

  *measure = WB_REPORT_LABEL_PITCH_X;
  if (self->columns > 1 && self->pitch_x < self->width)
    return g_strdup (_("The labels would lie on top of each other: from label to label across is at least the label's width."));
  *measure = WB_REPORT_LABEL_PITCH_Y;
  if (self->rows > 1 && self->pitch_y < self->height)
    return g_strdup (_("The labels would lie on top of each other: from label to label down is at least the label's height."));
  *measure = self->columns > 1 ? WB_REPORT_LABEL_COLUMNS : WB_REPORT_LABEL_WIDTH;
  if (right > self->page_width + SLACK)
    return dup_over_edge (right, self->page_width, TRUE, us_units);
  *measure = self->rows > 1 ? WB_REPORT_LABEL_ROWS : WB_REPORT_LABEL_HEIGHT;
  if (bottom > self->page_height + SLACK)
    return dup_over_edge (bottom, self->page_height, FALSE, us_units);
  return NULL;
}

char *
wb_report_label_sheet_dup_problem (const WbReportLabelSheet *self,
                                   gboolean                  us_units,
                                   WbReportLabelMeasure     *measure)
{
  WbReportLabelMeasure unused;

  g_return_val_if_fail (self != NULL, NULL);

  if (measure == NULL)
    measure = &unused;
  for (*measure = 0; *measure < WB_REPORT_LABEL_N_MEASURES; (*measure)++)
    {
      double value = wb_report_label_sheet_get (self, *measure);

      /* where there is one only, there is no next one */
      if ((*measure == WB_REPORT_LABEL_PITCH_X && self->columns == 1) || (*measure == WB_REPORT_LABEL_PITCH_Y && self->rows == 1))
        continue;
      if (!(value >= measures[*measure].least && value <= measures[*measure].most))
        return dup_out_of_range (*measure, us_units);
    }
  return dup_lie_wrong (self, us_units, measure);
}

guint
wb_report_label_sheet_get_places (const WbReportLabelSheet *self)
{
  g_return_val_if_fail (self != NULL, 0);

  return self->columns <= 100 && self->rows <= 100 ? self->columns * self->rows : 0;
}
