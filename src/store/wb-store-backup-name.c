/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-store-backup-name.h"

char *
wb_store_backup_dup_folder (const char *uuid)
{
  return g_build_filename (g_get_user_data_dir (), "wickbench", "backups", uuid, NULL);
}

void
wb_store_backup_mark (const char *notebook,
                      char        mark[9])
{
  g_autofree char *path = g_canonicalize_filename (notebook, NULL);
  g_autofree char *hex = g_compute_checksum_for_string (G_CHECKSUM_SHA256, path, -1);

  g_strlcpy (mark, hex, 9);
}

char *
wb_store_backup_dup_name (gint64      made_us,
                          gint64      entry,
                          const char *mark,
                          const char *branch,
                          int         version)
{
  gboolean forked = branch != NULL && *branch != '\0';
  g_autoptr (GDateTime) at = g_date_time_new_from_unix_utc (made_us / G_USEC_PER_SEC);
  g_autofree char *when = at != NULL ? g_date_time_format (at, "%Y-%m-%dT%H%M%SZ") : NULL;
  g_autofree char *of = version > 0 ? g_strdup_printf (" version-%d", version) : g_strdup ("");

  return when != NULL ? g_strdup_printf ("%s %09" G_GINT64_FORMAT " %s%s%.8s%s.wickbench", when, entry, mark, forked ? " " : "", forked ? branch : "", of)
                      : NULL;
}
