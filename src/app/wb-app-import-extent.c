/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-import-private.h"

#include <glib/gi18n-lib.h>
#include <inttypes.h>

/* How much a file holds: lines, the readings that they make, and of how many samples these are. */

void
wb_app_import_extent_init (WbAppImportExtent *self)
{
  *self = (WbAppImportExtent) { .samples = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL) };
}

void
wb_app_import_extent_clear (WbAppImportExtent *self)
{
  g_clear_pointer (&self->samples, g_hash_table_unref);
}

void
wb_app_import_extent_add (WbAppImportExtent *self,
                          const WbLogRow    *row,
                          gboolean           good)
{
  /* Rows come in the order of the file: those of one line stand together. */
  self->lines += row->line != self->last_line;
  self->last_line = row->line;
  self->readings++;
  if (good)
    g_hash_table_add (self->samples, g_strjoin ("\x1f", row->experiment, row->sample, NULL));
}

char *
wb_app_import_dup_extent (guint64 lines,
                          guint64 readings,
                          guint64 samples)
{
  g_autofree char *of_lines = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%" PRIu64 " line", "%" PRIu64 " lines", lines), lines);
  g_autofree char *of_readings =
    g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%" PRIu64 " reading", "%" PRIu64 " readings", readings), readings);

  /* Translators: "6 lines", "15 readings", and of how many samples they are. */
  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s, %s of %" PRIu64 " sample", "%s, %s of %" PRIu64 " samples", samples),
                          of_lines, of_readings, samples);
}
