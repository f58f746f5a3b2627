/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-table-private.h"

#include <string.h>

/*
 * Widths of a table's columns. A column of share 0 gets what its content needs
 * where all fit, and no less than its longest word as far as there is room; the
 * others part what is left by their shares, but give way to each other's
 * longest words.
 */

#define SHARED_AT_LEAST 0.3 /* of the width, kept for the columns that have shares */
#define TEXT_AT_MOST 400    /* bytes of a cell that are measured: a longer one wraps anyhow */

#define WORD_AT_MOST 0.4        /* of the width, that a single word may ask for */

/* What one column asks for, in points. */
typedef struct { double least, most; } Need;

static double
measure (const WbReportDocument *self,
         const char             *text,
         gssize                  length,
         gboolean                strong)
{
  g_autofree char *part = g_strndup (text, length < 0 ? strlen (text) : (gsize) length);
  g_autoptr (PangoLayout) layout = wb_report_layout_new (self, part, WB_REPORT_CELL_PT, strong ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL, 0);

  return wb_report_layout_get_width (layout) + 0.5;
}

static void
widen (const WbReportDocument *self,
       const char             *text,
       gboolean                strong,
       gboolean                wraps,
       double                  pad,
       Need                   *need)
{
  gsize length = strlen (text);

  if (length > TEXT_AT_MOST)
    return;
  if (!wraps)
    need->most = MAX (need->most, measure (self, text, -1, strong) + 2 * pad);
  for (const char *word = text; *word != '\0';)
    {
      gsize n = strcspn (word, " \n");

      need->least = MAX (need->least, measure (self, word, (gssize) n, strong) + 2 * pad);
      word += n;
      word += strspn (word, " \n");
    }
  need->most = MAX (need->most, need->least);
}

static Need
column_need (const WbReportDocument *self,
             const WbReportTable    *table,
             guint                   column,
             double                  pad)
{
  Need need = { 0 };

  widen (self, table->heads[column], TRUE, TRUE, pad, &need);
  for (guint i = 0; i < table->rows->len; i++)
    {
      const WbReportRow *row = g_ptr_array_index (table->rows, i);

      if (!row->band)
        widen (self, row->cells[column], row->strong, FALSE, pad, &need);
    }
  return need;
}

/* Shares `room` out between what the columns need at least and at most. */
static void
fit_needs (const Need *needs,
           guint       n,
           double      room,
           double     *widths)
{
  double least = 0, most = 0;

  for (guint i = 0; i < n; i++)
    {
      least += needs[i].least;
      most += needs[i].most;
    }
  for (guint i = 0; i < n; i++)
    {
      if (most <= room)
        widths[i] = needs[i].most;
      else if (least <= room)
        widths[i] = needs[i].least + (needs[i].most - needs[i].least) * (room - least) / (most - least);
      else
        widths[i] = needs[i].least * room / least;
    }
}

/*
 * No column of a share is narrower than its longest word, as far as the others have more than theirs: what is torn is read twice. A
 * word that would take too much of the width, such as a fingerprint, is torn.
 */
static void
mend_shared (const WbReportDocument *self,
             const WbReportTable    *table,
             double                  pad,
             double                  width,
             double                 *widths)
{
  g_autofree double *least = g_new0 (double, table->n);
  double lack = 0, spare = 0;

  for (guint i = 0; i < table->n; i++)
    if (table->shares[i] > 0)
      {
        double need = column_need (self, table, i, pad).least;

        least[i] = need > WORD_AT_MOST * width ? 0 : need;
        lack += MAX (least[i] - widths[i], 0);
        spare += MAX (widths[i] - least[i], 0);
      }
  if (lack <= 0 || lack > spare)
    return;
  for (guint i = 0; i < table->n; i++)
    if (table->shares[i] > 0)
      widths[i] = widths[i] < least[i] ? least[i] : widths[i] - (widths[i] - least[i]) * lack / spare;
}

double *
wb_report_table_place_columns (const WbReportDocument *self,
                               const WbReportTable    *table,
                               double                  pad)
{
  double width = wb_report_document_get_text_width (self);
  double *x = g_new0 (double, table->n + 1);
  g_autofree Need *needs = g_new0 (Need, table->n);
  g_autofree double *widths = g_new0 (double, table->n);
  double fixed = 0, shares = 0;

  for (guint i = 0; i < table->n; i++)
    {
      if (table->shares[i] <= 0)
        needs[i] = column_need (self, table, i, pad);
      shares += MAX (table->shares[i], 0);
    }
  fit_needs (needs, table->n, shares > 0 ? width * (1 - SHARED_AT_LEAST) : width, widths);
  for (guint i = 0; i < table->n; i++)
    fixed += widths[i];
  for (guint i = 0; i < table->n; i++)
    {
      if (table->shares[i] > 0)
        widths[i] = (width - fixed) * table->shares[i] / shares;
      else if (shares <= 0)
        widths[i] += (width - fixed) / table->n;
    }
  mend_shared (self, table, pad, width, widths);
  for (guint i = 0; i < table->n; i++)
    x[i + 1] = x[i] + widths[i];
  return x;
}
