/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-file-drop.h"

#include "wb-app-error.h"
#include "wb-file-choice.h"
#include "wb-problem.h"

#include <glib/gi18n.h>

typedef struct
{
  WbPhotoStrip   *photos;
  WbLoggerStrip  *loggers;
  WbFileDropFunc  find;
} Drop;

static gboolean
is_log (GFile *file)
{
  g_autofree char *name = g_file_get_basename (file);

  return name != NULL && wb_file_choice_fits (name, WB_FILE_LOG);
}

/* How each is read is a question of its own. */
static void
tell_left (WbLoggerStrip *loggers,
           const GString *left)
{
  g_autofree char *said = g_strdup_printf (_("Drop loggers' files one at a time. Not taken: %s"), left->str);
  g_autoptr (GError) error = g_error_new_literal (WB_APP_ERROR, WB_APP_ERROR_REFUSED, said);

  wb_problem_show (GTK_WIDGET (loggers), _("Several loggers' files were dropped"), error);
}

gboolean
wb_file_drop_take (const GValue     *value,
                   WbPhotoStrip     *photos,
                   WbLoggerStrip    *loggers,
                   WbAppBenchSample *sample)
{
  g_autoptr (GListStore) pictures = g_list_store_new (G_TYPE_FILE);
  g_autoptr (GString) left = g_string_new (NULL);
  GFile *log = NULL;
  gboolean taken = FALSE;

  g_return_val_if_fail (WB_IS_PHOTO_STRIP (photos), FALSE);
  g_return_val_if_fail (WB_IS_LOGGER_STRIP (loggers), FALSE);

  if (!G_VALUE_HOLDS (value, GDK_TYPE_FILE_LIST))
    return FALSE;
  for (GSList *at = g_value_get_boxed (value); at != NULL; at = at->next)
    {
      g_autofree char *name = g_file_get_parse_name (at->data);

      if (!is_log (at->data))
        g_list_store_append (pictures, at->data);
      else if (log == NULL)
        log = at->data;
      else
        g_string_append_printf (left, "%s“%s”", left->len > 0 ? ", " : "", name);
    }
  if (g_list_model_get_n_items (G_LIST_MODEL (pictures)) > 0)
    taken = wb_photo_strip_add_files (photos, sample, G_LIST_MODEL (pictures));
  if (log != NULL)
    taken = wb_logger_strip_add_file (loggers, sample, log) != NULL || taken;
  if (left->len > 0)
    tell_left (loggers, left);
  return taken;
}

static gboolean
on_drop_cb (GtkDropTarget *target,
            const GValue  *value,
            double         x,
            double         y,
            Drop          *drop)
{
  GtkWidget *where = gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (target));

  return wb_file_drop_take (value, drop->photos, drop->loggers, drop->find != NULL ? drop->find (where, x, y) : NULL);
}

static void
drop_free (gpointer  drop,
           GClosure *closure)
{
  g_free (drop);
}

void
wb_file_drop_accept (GtkWidget      *where,
                     WbPhotoStrip   *photos,
                     WbLoggerStrip  *loggers,
                     WbFileDropFunc  find)
{
  GtkDropTarget *target;
  Drop *drop;

  g_return_if_fail (GTK_IS_WIDGET (where));
  g_return_if_fail (WB_IS_PHOTO_STRIP (photos));
  g_return_if_fail (WB_IS_LOGGER_STRIP (loggers));

  target = gtk_drop_target_new (GDK_TYPE_FILE_LIST, GDK_ACTION_COPY);
  drop = g_new0 (Drop, 1);
  /* All lie in one page and go together. */
  drop->photos = photos;
  drop->loggers = loggers;
  drop->find = find;
  g_signal_connect_data (target, "drop", G_CALLBACK (on_drop_cb), drop, drop_free, 0);
  gtk_widget_add_controller (where, GTK_EVENT_CONTROLLER (target));
}
