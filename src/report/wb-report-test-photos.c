/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-test-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-report-picture-private.h"

/* Photos of the samples, two in a row, each with what it shows and when. */

/* "Sample B6CF-3, B6: burn 2, after 3.0 h. The maker's note." */
static char *
dup_caption (const WbReportTest  *test,
             const WbReportPhoto *photo)
{
  guint cell = g_array_index (test->data->sample_cell, guint, photo->sample);
  g_autofree char *code = wb_report_test_dup_code (test, photo->sample);
  g_autofree char *name = wb_report_test_dup_cell (test, NULL, cell);
  g_autofree char *hours = isnan (photo->minute) ? NULL : wb_report_dup_value (test->us, WB_UNIT_HOUR, photo->minute / 60, 1);
  g_autofree char *note = wb_report_dup_clipped (photo->note, 120);
  g_autofree char *what = NULL;

  if (photo->burn > 0 && hours != NULL)
    /* Translators: sample code; its combination; number of the burn; hours from lighting. */
    what = g_strdup_printf (_("Sample %s (%s), burn %d, %s from lighting"), code, name, photo->burn, hours);
  else if (photo->burn > 0)
    what = g_strdup_printf (_("Sample %s (%s), burn %d, at a time not known"), code, name, photo->burn);
  else
    what = g_strdup_printf (_("Sample %s (%s), of no burn"), code, name);
  return *note == '\0' ? g_steal_pointer (&what) : g_strdup_printf ("%s. %s", what, note);
}

void
wb_report_test_add_photos (const WbReportTest *test)
{
  const GPtrArray *photos = test->options->photos;

  if (photos == NULL || photos->len == 0)
    return;
  wb_report_document_add_heading (test->document, 1, _("Photos"));
  if (test->options->photos_kept > photos->len)
    {
      wb_report_test_say (test, _("Shown are %u of the %u photos that are kept, of each combination in turn, those of the best-ranked first."),
                          photos->len, test->options->photos_kept);
      wb_report_document_keep_with_next (test->document);
    }
  for (guint i = 0; i < photos->len; i += 2)
    {
      const WbReportPhoto *first = g_ptr_array_index (photos, i);
      const WbReportPhoto *second = i + 1 < photos->len ? g_ptr_array_index (photos, i + 1) : NULL;
      g_autofree char *left = dup_caption (test, first);
      g_autofree char *right = second != NULL ? dup_caption (test, second) : NULL;
      const WbReportPicture *const pictures[2] = { first->picture, second != NULL ? second->picture : NULL };
      const char *const captions[2] = { left, right };

      wb_report_document_add_pictures (test->document, pictures, captions);
    }
}
