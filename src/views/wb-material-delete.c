/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-material-delete.h"

#include "wb-app-query.h"
#include "wb-material.h"
#include "wb-problem.h"
#include "wb-question.h"
#include "wb-uses-dialog.h"
#include "wb-weak-widget.h"

#include <glib/gi18n.h>

typedef struct
{
  gpointer       weak;     /* the widget to ask in front of */
  WbAppNotebook *notebook;
  WbRecord      *record;
} Deletion;

static void
deletion_free (Deletion *self)
{
  g_object_unref (self->notebook);
  wb_record_free (self->record);
  g_free (self);
}

G_DEFINE_AUTOPTR_CLEANUP_FUNC (Deletion, deletion_free)

static void
on_deleted_cb (GObject      *source,
               GAsyncResult *result,
               gpointer      user)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GtkWidget) where = NULL;

  wb_app_notebook_save_finish (WB_APP_NOTEBOOK (source), result, NULL, &error);
  where = wb_weak_widget_take (user);
  if (error != NULL && where != NULL)
    wb_problem_show (where, _("The material was not deleted"), error);
}

static void
on_answered_cb (gboolean yes,
                gpointer user)
{
  g_autoptr (Deletion) self = user;
  g_autoptr (GtkWidget) where = wb_weak_widget_take (self->weak);
  g_autofree char *title = wb_material_dup_title (self->record);
  g_autofree char *why = g_strdup_printf (_("Delete %s"), title);

  if (yes && where != NULL)
    wb_app_notebook_delete_async (self->notebook, why, self->record, NULL, on_deleted_cb, wb_weak_widget_new (where));
}

/* The lots that would go with it, behind what is said always. */
static char *
dup_body (const GPtrArray *uses)
{
  g_autoptr (GString) lots = g_string_new (NULL);
  const char *calm = _("Nothing uses it. Undo brings it back; the record keeps its history.");

  for (guint i = 0; i < uses->len; i++)
    g_string_append_printf (lots, "%s%s", i > 0 ? ", " : "", ((const WbAppUse *) uses->pdata[i])->code);
  if (uses->len == 0)
    return g_strdup (calm);
  /* Translators: what is said of a material; how many lots; their codes. */
  return g_strdup_printf (ngettext ("%s\n%u lot goes with it: %s.", "%s\n%u lots go with it: %s.", uses->len), calm, uses->len, lots->str);
}

static gboolean
is_kept (const GPtrArray *uses)
{
  for (guint i = 0; i < uses->len; i++)
    if (!((const WbAppUse *) uses->pdata[i])->goes_along)
      return TRUE;
  return FALSE;
}

static void
on_uses_cb (GObject      *source,
            GAsyncResult *result,
            gpointer      user)
{
  g_autoptr (Deletion) self = user;
  g_autoptr (GtkWidget) where = wb_weak_widget_take (self->weak);
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) uses = wb_app_query_uses_finish (self->notebook, result, &error);
  g_autofree char *title = NULL, *heading = NULL, *body = NULL;

  if (where == NULL)
    return;
  if (uses == NULL)
    {
      wb_problem_show (where, _("The material was not deleted"), error);
      return;
    }
  title = wb_material_dup_title (self->record);
  if (is_kept (uses))
    {
      gtk_window_present (GTK_WINDOW (wb_uses_dialog_new (where, self->notebook, title, uses)));
      return;
    }
  heading = g_strdup_printf (_("Delete %s?"), title);
  body = dup_body (uses);
  self->weak = wb_weak_widget_new (where);
  wb_question_ask (where, heading, body, _("_Delete"), TRUE, on_answered_cb, g_steal_pointer (&self));
}

void
wb_material_delete (GtkWidget     *where,
                    WbAppNotebook *notebook,
                    gconstpointer  material)
{
  const WbRecord *record = material;
  Deletion *self;

  g_return_if_fail (GTK_IS_WIDGET (where));
  g_return_if_fail (WB_IS_APP_NOTEBOOK (notebook));
  g_return_if_fail (record != NULL && record->id > 0);

  self = g_new (Deletion, 1);
  *self = (Deletion) { wb_weak_widget_new (where), g_object_ref (notebook), wb_record_copy (record) };
  wb_app_query_uses_async (notebook, record->type, record->id, NULL, on_uses_cb, self);
}
