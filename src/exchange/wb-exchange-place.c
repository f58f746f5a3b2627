/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-exchange-place.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n-lib.h>
#include <unistd.h>

#define LINKS_MAXIMUM 8
#define ATTRIBUTES \
  G_FILE_ATTRIBUTE_STANDARD_TYPE "," G_FILE_ATTRIBUTE_STANDARD_IS_SYMLINK "," G_FILE_ATTRIBUTE_STANDARD_SYMLINK_TARGET "," \
  G_FILE_ATTRIBUTE_UNIX_MODE "," G_FILE_ATTRIBUTE_ACCESS_CAN_WRITE

struct _WbExchangePlace
{
  GFile    *target;
  GFile    *growing;
  guint32   mode;      /* of the old file; 0: there was none */
  gboolean  done;
};

/* What stands at the end of the chain of links, which need not exist yet. Info of it in `*info`, NULL if it does not. */
static GFile *
resolve (GFile *file, GFileInfo **info, GCancellable *cancellable)
{
  g_autoptr (GFile) at = g_object_ref (file);

  for (guint i = 0; i < LINKS_MAXIMUM; i++)
    {
      g_autoptr (GFileInfo) here = g_file_query_info (at, ATTRIBUTES, G_FILE_QUERY_INFO_NOFOLLOW_SYMLINKS, cancellable, NULL);
      g_autoptr (GFile) parent = g_file_get_parent (at);

      if (here == NULL || !g_file_info_get_is_symlink (here) || parent == NULL)
        {
          *info = g_steal_pointer (&here);
          break;
        }

      GFile *next = g_file_resolve_relative_path (parent, g_file_info_get_symlink_target (here));

      g_set_object (&at, next);
      g_object_unref (next);
    }
  return g_steal_pointer (&at);
}

static gboolean
check_old (const GFileInfo *info, GError **error)
{
  GFileInfo *old = (GFileInfo *) info;

  if (g_file_info_get_file_type (old) == G_FILE_TYPE_DIRECTORY)
    {
      g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_IS_DIRECTORY, _("It is a folder"));
      return FALSE;
    }
  if (g_file_info_has_attribute (old, G_FILE_ATTRIBUTE_ACCESS_CAN_WRITE)
      && !g_file_info_get_attribute_boolean (old, G_FILE_ATTRIBUTE_ACCESS_CAN_WRITE))
    {
      g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_PERMISSION_DENIED, _("The file may not be written"));
      return FALSE;
    }
  return TRUE;
}

/* A new name beside the target, made at once so that a folder that cannot be written is told now. */
static GFile *
make_growing (GFile *target, GCancellable *cancellable, GError **error)
{
  g_autoptr (GFile) parent = g_file_get_parent (target);
  g_autofree char *name = g_file_get_basename (target);

  if (parent == NULL)
    {
      g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_INVALID_FILENAME, _("No file can stand there"));
      return NULL;
    }
  for (;;)
    {
      /* Cut so that a name as long as a file system takes leaves room. */
      g_autofree char *beside = g_strdup_printf (".%.200s.%08x", name, g_random_int ());
      g_autoptr (GFile) file = g_file_get_child (parent, beside);
      g_autoptr (GError) failure = NULL;
      g_autoptr (GFileOutputStream) stream = g_file_create (file, G_FILE_CREATE_NONE, cancellable, &failure);

      if (stream != NULL)
        {
          g_output_stream_close (G_OUTPUT_STREAM (stream), NULL, NULL);
          return g_steal_pointer (&file);
        }
      if (!g_error_matches (failure, G_IO_ERROR, G_IO_ERROR_EXISTS))
        {
          g_propagate_error (error, g_steal_pointer (&failure));
          return NULL;
        }
    }
}

WbExchangePlace *
wb_exchange_place_new (GFile        *file,
                       GCancellable *cancellable,
                       GError      **error)
{
  g_autoptr (GFileInfo) info = NULL;
  g_autoptr (GFile) target = resolve (file, &info, cancellable);

  if (info != NULL && !check_old (info, error))
    return NULL;

  g_autoptr (GFile) growing = make_growing (target, cancellable, error);

  if (growing == NULL)
    return NULL;

  WbExchangePlace *self = g_new0 (WbExchangePlace, 1);

  self->target = g_steal_pointer (&target);
  self->growing = g_steal_pointer (&growing);
  self->mode = info != NULL ? g_file_info_get_attribute_uint32 (info, G_FILE_ATTRIBUTE_UNIX_MODE) & 07777 : 0;
  return self;
}

void
wb_exchange_place_free (WbExchangePlace *self)
{
  if (self == NULL)
    return;
  if (!self->done)
    g_file_delete (self->growing, NULL, NULL);
  g_object_unref (self->growing);
  g_object_unref (self->target);
  g_free (self);
}

GFile *
wb_exchange_place_get_file (WbExchangePlace *self)
{
  return self->growing;
}

/* Without this a power cut behind the renaming could leave an empty file in place of the old one. */
static gboolean
make_durable (GFile *file, GError **error)
{
  g_autofree char *path = g_file_get_path (file);
  int fd = path != NULL ? open (path, O_RDONLY | O_CLOEXEC) : -1;

  if (path == NULL)
    return TRUE;
  if (fd < 0 || fsync (fd) != 0)
    {
      int failure = errno;

      g_set_error_literal (error, G_IO_ERROR, g_io_error_from_errno (failure), g_strerror (failure));
      if (fd >= 0)
        close (fd);
      return FALSE;
    }
  close (fd);
  return TRUE;
}

gboolean
wb_exchange_place_commit (WbExchangePlace *self,
                          GCancellable    *cancellable,
                          GError         **error)
{
  if (!make_durable (self->growing, error))
    return FALSE;
  /* A file system without modes has none to keep. */
  if (self->mode != 0)
    g_file_set_attribute_uint32 (self->growing, G_FILE_ATTRIBUTE_UNIX_MODE, self->mode, G_FILE_QUERY_INFO_NONE, NULL, NULL);
  if (!g_file_move (self->growing, self->target, G_FILE_COPY_OVERWRITE | G_FILE_COPY_NO_FALLBACK_FOR_MOVE, cancellable, NULL,
                    NULL, error))
    return FALSE;
  self->done = TRUE;
  return TRUE;
}
