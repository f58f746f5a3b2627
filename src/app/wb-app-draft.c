/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-draft.h"

#include "wb-app-draft-private.h"
#include "wb-app-state-private.h"
#include "wb-store-backup-name.h"

struct _WbAppDraft
{
  GObject   parent_instance;

  char     *path;      /* NULL: nothing can be kept */
  GKeyFile *file;
  char     *written;   /* the text that was last handed over; NULL: none */
  gboolean  loaded;
};

G_DEFINE_FINAL_TYPE (WbAppDraft, wb_app_draft, G_TYPE_OBJECT)

enum { LOADED, CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

char *
wb_app_draft_dup_path (WbAppNotebook *notebook,
                       const char    *kind)
{
  const WbNotebook *settings = wb_app_notebook_get_settings (notebook);
  g_autofree char *uuid = settings != NULL ? wb_uuid_format (&settings->uuid) : NULL;
  g_autofree char *folder = wb_app_state_dup_folder (kind);
  g_autofree char *name = NULL;
  char mark[9];

  if (uuid == NULL)
    return NULL;
  wb_store_backup_mark (wb_app_notebook_get_path (notebook), mark);
  name = g_strconcat (uuid, " ", mark, ".ini", NULL);
  return g_build_filename (folder, name, NULL);
}

void
wb_app_draft_copy_group (GKeyFile   *file,
                         GKeyFile   *from,
                         const char *group)
{
  g_auto (GStrv) keys = g_key_file_get_keys (from, group, NULL, NULL);

  for (guint i = 0; keys != NULL && keys[i] != NULL; i++)
    {
      g_autofree char *value = g_key_file_get_value (from, group, keys[i], NULL);

      g_key_file_set_value (file, group, keys[i], value);
    }
}

static void
copy_all (GKeyFile *file,
          GKeyFile *from)
{
  g_auto (GStrv) groups = g_key_file_get_groups (from, NULL);

  for (guint i = 0; groups[i] != NULL; i++)
    {
      g_key_file_remove_group (file, groups[i], NULL);
      wb_app_draft_copy_group (file, from, groups[i]);
    }
}

static void
keep (WbAppDraft *self)
{
  g_autofree char *text = NULL;
  gsize length;

  /* What was kept before is not read yet: it would be overwritten. */
  if (self->path == NULL || !self->loaded)
    return;
  text = g_key_file_to_data (self->file, &length, NULL);
  if (g_strcmp0 (text, self->written) == 0)
    return;
  /* What cannot be kept is told when the window closes (wb_app_draft_is_kept): no reason to stop a hand at the pouring table. */
  wb_app_state_write_soon (self->path, length > 0 ? text : NULL, NULL);
  g_free (self->written);
  self->written = g_steal_pointer (&text);
}

GKeyFile *
wb_app_draft_read (const char *path)
{
  GKeyFile *file = g_key_file_new ();

  wb_app_state_settle ();
  g_key_file_load_from_file (file, path, G_KEY_FILE_NONE, NULL);
  return file;
}

static void
load (GTask        *task,
      gpointer      source,
      gpointer      path,
      GCancellable *cancellable)
{
  g_task_return_pointer (task, wb_app_draft_read (path), (GDestroyNotify) g_key_file_unref);
}

static void
on_loaded_cb (GObject      *source,
              GAsyncResult *result,
              gpointer      user)
{
  WbAppDraft *self = WB_APP_DRAFT (source);
  g_autoptr (GKeyFile) file = g_task_propagate_pointer (G_TASK (result), NULL);

  self->written = g_key_file_to_data (file, NULL, NULL);
  /* what came in meanwhile is newer */
  copy_all (file, self->file);
  g_key_file_unref (self->file);
  self->file = g_steal_pointer (&file);
  self->loaded = TRUE;
  g_signal_emit (self, signals[LOADED], 0);
  keep (self);
}

static void
wb_app_draft_finalize (GObject *object)
{
  WbAppDraft *self = WB_APP_DRAFT (object);

  g_free (self->path);
  g_free (self->written);
  g_key_file_unref (self->file);
  G_OBJECT_CLASS (wb_app_draft_parent_class)->finalize (object);
}

static void
wb_app_draft_class_init (WbAppDraftClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = wb_app_draft_finalize;
  signals[LOADED] = g_signal_new ("loaded", WB_TYPE_APP_DRAFT, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[CHANGED] = g_signal_new ("changed", WB_TYPE_APP_DRAFT, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
wb_app_draft_init (WbAppDraft *self)
{
  self->file = g_key_file_new ();
}

WbAppDraft *
wb_app_draft_of (WbAppNotebook *notebook,
                 const char    *kind)
{
  g_autofree char *key = NULL;
  WbAppDraft *self;

  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (notebook), NULL);
  g_return_val_if_fail (kind != NULL, NULL);

  key = g_strconcat ("wb-app-draft-", kind, NULL);
  self = g_object_get_data (G_OBJECT (notebook), key);
  if (self != NULL)
    return self;
  self = g_object_new (WB_TYPE_APP_DRAFT, NULL);
  g_object_set_data_full (G_OBJECT (notebook), key, self, g_object_unref);
  self->path = wb_app_draft_dup_path (notebook, kind);
  if (self->path != NULL)
    {
      g_autoptr (GTask) task = g_task_new (self, NULL, on_loaded_cb, NULL);

      g_task_set_source_tag (task, wb_app_draft_of);
      g_task_set_task_data (task, g_strdup (self->path), g_free);
      g_task_run_in_thread (task, load);
    }
  return self;
}

gboolean
wb_app_draft_get_loaded (WbAppDraft *self)
{
  g_return_val_if_fail (WB_IS_APP_DRAFT (self), FALSE);
  return self->loaded;
}

GKeyFile *
wb_app_draft_get_file (WbAppDraft *self)
{
  g_return_val_if_fail (WB_IS_APP_DRAFT (self), NULL);
  return self->file;
}

void
wb_app_draft_set (WbAppDraft *self,
                  const char *group,
                  GKeyFile   *from)
{
  gboolean had;

  g_return_if_fail (WB_IS_APP_DRAFT (self));
  g_return_if_fail (group != NULL && from != NULL);

  had = g_key_file_remove_group (self->file, group, NULL);
  wb_app_draft_copy_group (self->file, from, group);
  keep (self);
  if (had != g_key_file_has_group (self->file, group))
    g_signal_emit (self, signals[CHANGED], 0);
}

void
wb_app_draft_drop (WbAppDraft *self,
                   const char *group)
{
  g_return_if_fail (WB_IS_APP_DRAFT (self));
  g_return_if_fail (group != NULL);

  if (!g_key_file_remove_group (self->file, group, NULL))
    return;
  keep (self);
  g_signal_emit (self, signals[CHANGED], 0);
}

gboolean
wb_app_draft_is_kept (WbAppDraft *self)
{
  g_return_val_if_fail (WB_IS_APP_DRAFT (self), FALSE);

  return self->path != NULL && !wb_app_state_has_failed (self->path);
}
