/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-anchor-private.h"

#include "wb-app-state-private.h"
#include "wb-experiment.h"
#include "wb-store-check.h"
#include "wb-store-records.h"

#include <glib/gi18n-lib.h>

char *
wb_app_anchor_dup_uuid (WbStore *store)
{
  g_autoptr (WbRecord) notebook = wb_store_load_notebook (store, NULL);

  return notebook != NULL ? wb_uuid_format (&((WbNotebook *) notebook)->uuid) : NULL;
}

char *
wb_app_anchor_dup_key_of (const char *uuid,
                          const char *notebook)
{
  g_autofree char *path = g_canonicalize_filename (notebook, NULL);
  g_autofree char *key = g_strdup_printf ("%s %s", uuid, path);

  return g_compute_checksum_for_string (G_CHECKSUM_SHA256, key, -1);
}

char *
wb_app_anchor_dup_key (WbStore *store)
{
  g_autofree char *uuid = wb_app_anchor_dup_uuid (store);

  return uuid != NULL ? wb_app_anchor_dup_key_of (uuid, wb_store_get_path (store)) : NULL;
}

/* NULL where the notebook cannot be read. */
static char *
dup_file (WbStore *store)
{
  g_autofree char *folder = wb_app_state_dup_folder ("anchors");
  g_autofree char *key = wb_app_anchor_dup_key (store);

  return key != NULL ? g_build_filename (folder, key, NULL) : NULL;
}

void
wb_app_anchor_write (WbStore *store)
{
  g_autofree char *fingerprint = wb_store_get_fingerprint (store, NULL);
  g_autofree char *file = fingerprint != NULL ? dup_file (store) : NULL;

  if (file != NULL)
    wb_app_state_write (file, fingerprint, NULL);
}

gboolean
wb_app_anchor_check (WbStore *store,
                     char   **finding,
                     gint64  *entry)
{
  g_autofree char *file = dup_file (store);
  g_autofree char *noted = NULL;
  g_autoptr (WbEntry) there = NULL;
  gint64 number;
  char hex[65];

  if (file == NULL || !g_file_get_contents (file, &noted, NULL, NULL) || !wb_store_parse_fingerprint (g_strstrip (noted), &number, hex))
    return TRUE;
  *entry = number;
  if (number > wb_store_get_last_entry (store))
    {
      *finding = g_strdup_printf (_("This program wrote entry %d here, which is gone: the newest entries were cut off, or an older copy stands in the file's place"),
                                  (int) number);
      return FALSE;
    }
  there = wb_store_load_entry (store, number, NULL);
  if (there != NULL && g_ascii_strcasecmp (there->hash, hex) == 0)
    return TRUE;
  *finding = g_strdup_printf (_("Entry %d is not the one that this program wrote here"), (int) number);
  return FALSE;
}
