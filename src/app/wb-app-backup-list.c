/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-backup.h"

#include "wb-app-anchor-private.h"
#include "wb-app-backup-own-private.h"
#include "wb-app-backup-private.h"
#include "wb-clock.h"
#include "wb-store-backup-name.h"
#include "wb-store-backup.h"
#include "wb-store-records.h"

#include <glib/gstdio.h>
#include <string.h>

void
wb_app_backup_item_free (WbAppBackupItem *self)
{
  if (self == NULL)
    return;
  g_free (self->path);
  g_free (self);
}

static void
item_free (gpointer data)
{
  wb_app_backup_item_free (data);
}

static WbAppBackupFit
compare_with (WbStore    *notebook,
              const char *path,
              gint64      entry,
              gint64     *from)
{
  if (notebook == NULL)
    return WB_APP_BACKUP_UNKNOWN;
  switch (wb_store_compare_backup (notebook, path, from))
    {
    case WB_STORE_BACKUP_FITS:
      return entry == wb_store_get_last_entry (notebook) ? WB_APP_BACKUP_SAME : WB_APP_BACKUP_EARLIER;
    case WB_STORE_BACKUP_KNOWS_MORE:
      return WB_APP_BACKUP_MORE;
    case WB_STORE_BACKUP_DIFFERS:
      return WB_APP_BACKUP_OTHER;
    case WB_STORE_BACKUP_NONE:
    default:
      /* The file in the place is another notebook by now: nothing in it can be held against this one. */
      return WB_APP_BACKUP_UNKNOWN;
    }
}

/* What the file itself says; a damaged one says nothing. */
static void
read_item (WbAppBackupItem *item,
           WbStore         *notebook)
{
  g_autoptr (WbStore) there = wb_store_open (item->path, WB_STORE_READ, NULL);
  g_autoptr (WbEntry) last = NULL;

  item->now = notebook != NULL ? wb_store_get_last_entry (notebook) : 0;
  item->entry = there != NULL ? wb_store_get_last_entry (there) : 0;
  last = item->entry > 0 ? wb_store_load_entry (there, item->entry, NULL) : NULL;
  if (last == NULL)
    {
      item->fit = WB_APP_BACKUP_UNREADABLE;
      return;
    }
  item->entry_at = last->at;
  item->fit = compare_with (notebook, item->path, item->entry, &item->from);
}

/* made_us 0: as the file's own time says. What is no file (any more) is passed over. */
static void
add_item (GPtrArray        *items,
          const char       *path,
          WbAppBackupOrigin origin,
          gint64            made_us,
          WbStore          *notebook)
{
  WbAppBackupItem *item;
  GStatBuf info;

  if (g_stat (path, &info) != 0 || !S_ISREG (info.st_mode))
    return;
  for (guint i = 0; i < items->len; i++)
    if (strcmp (((WbAppBackupItem *) items->pdata[i])->path, path) == 0)
      return;
  item = g_new0 (WbAppBackupItem, 1);
  item->path = g_strdup (path);
  item->origin = origin;
  item->bytes = info.st_size;
  item->made_at = wb_clock_at (wb_clock_get (), made_us != 0 ? made_us : (gint64) info.st_mtime * G_USEC_PER_SEC);
  read_item (item, notebook);
  g_ptr_array_add (items, item);
}

/* mark NULL: of the notebook wherever it stood. */
static void
add_own (GPtrArray  *items,
         const char *folder,
         const char *mark,
         WbStore    *notebook)
{
  g_autoptr (GPtrArray) own = wb_app_backup_own_list (folder);

  for (guint i = 0; i < own->len; i++)
    {
      const WbAppBackupOwn *one = own->pdata[i];

      if (mark == NULL || strcmp (one->mark, mark) == 0)
        add_item (items, one->path, one->version > 0 ? WB_APP_BACKUP_MIGRATION : WB_APP_BACKUP_BY_PROGRAM, one->made_us, notebook);
    }
}

static void
add_by_hand (GPtrArray  *items,
             const char *uuid,
             const char *path,
             WbStore    *notebook)
{
  g_autoptr (GPtrArray) paths = g_ptr_array_new_with_free_func (g_free);

  wb_app_backup_add_remembered (paths, uuid, path);
  for (guint i = 0; i < paths->len; i++)
    add_item (items, paths->pdata[i], WB_APP_BACKUP_BY_HAND, 0, notebook);
}

/* The notebook does not say who it is: every one of which a backup was made in this place. */
static void
add_by_place (GPtrArray  *items,
              const char *path)
{
  g_autofree char *root = wb_store_backup_dup_folder (NULL);
  g_autoptr (GDir) dir = g_dir_open (root, 0, NULL);
  const char *uuid;
  char mark[9];

  wb_store_backup_mark (path, mark);
  while (dir != NULL && (uuid = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *folder = g_build_filename (root, uuid, NULL);

      add_own (items, folder, mark, NULL);
      add_by_hand (items, uuid, path, NULL);
    }
}

static int
compare_items (gconstpointer a,
               gconstpointer b)
{
  const WbAppBackupItem *one = *(WbAppBackupItem *const *) a, *two = *(WbAppBackupItem *const *) b;

  if (one->made_at.utc_us != two->made_at.utc_us)
    return one->made_at.utc_us > two->made_at.utc_us ? -1 : 1;
  if (one->entry != two->entry)
    return one->entry > two->entry ? -1 : 1;
  return strcmp (one->path, two->path);
}

static void
list_in_thread (GTask        *task,
                gpointer      source,
                gpointer      path,
                GCancellable *cancellable)
{
  GPtrArray *items = g_ptr_array_new_with_free_func (item_free);
  g_autoptr (WbStore) notebook = wb_store_open (path, WB_STORE_READ, NULL);
  g_autofree char *uuid = notebook != NULL ? wb_app_anchor_dup_uuid (notebook) : NULL;
  g_autofree char *folder = uuid != NULL ? wb_store_backup_dup_folder (uuid) : NULL;
  g_autoptr (GPtrArray) beside = g_ptr_array_new_with_free_func (g_free);

  if (uuid != NULL)
    {
      add_own (items, folder, NULL, notebook);
      add_by_hand (items, uuid, path, notebook);
    }
  else
    add_by_place (items, path);
  wb_app_backup_add_beside (beside, path);
  for (guint i = 0; i < beside->len; i++)
    add_item (items, beside->pdata[i], WB_APP_BACKUP_MIGRATION, 0, uuid != NULL ? notebook : NULL);
  g_ptr_array_sort (items, compare_items);
  g_task_return_pointer (task, items, (GDestroyNotify) g_ptr_array_unref);
}

void
wb_app_backup_list_async (const char         *path,
                          GCancellable       *cancellable,
                          GAsyncReadyCallback callback,
                          gpointer            user)
{
  g_return_if_fail (path != NULL);

  g_autoptr (GTask) task = g_task_new (NULL, cancellable, callback, user);

  g_task_set_source_tag (task, wb_app_backup_list_async);
  g_task_set_task_data (task, g_strdup (path), g_free);
  g_task_run_in_thread (task, list_in_thread);
}

GPtrArray *
wb_app_backup_list_finish (GAsyncResult *result,
                           GError      **error)
{
  g_return_val_if_fail (g_task_is_valid (result, NULL), NULL);
  return g_task_propagate_pointer (G_TASK (result), error);
}
