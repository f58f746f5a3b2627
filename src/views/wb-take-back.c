/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-take-back.h"

#include "wb-host.h"
#include "wb-problem.h"
#include "wb-question.h"
#include "wb-tooltip.h"

#include <glib/gi18n.h>

/* On the window while one is on its way: the next waits for its news, to say what it takes. */
#define TAKING "wb-taking-back"

/* NULL: none is open any more. */
static WbAppNotebook *
get_notebook (GtkWidget *where)
{
  WbHost *host = wb_host_find (where);
  WbDesk *desk = host != NULL ? wb_host_get_desk (host) : NULL;

  return desk != NULL ? wb_desk_get_notebook (desk) : NULL;
}

/* FALSE: one is on its way, or nothing is open. */
static gboolean
may_start (GtkWidget *where)
{
  return get_notebook (where) != NULL && g_object_get_data (G_OBJECT (wb_host_find (where)), TAKING) == NULL;
}

static void
set_taking (GtkWidget *where,
            gboolean   taking)
{
  if (wb_host_find (where) != NULL)
    g_object_set_data (G_OBJECT (wb_host_find (where)), TAKING, GINT_TO_POINTER (taking));
}

/* An entry may say nothing of what it was for. */
static gboolean
is_said (const char *label)
{
  return label != NULL && *label != '\0';
}

/* TRUE: written, and its notebook is still shown. A failure is shown. */
static gboolean
finish (GtkWidget    *where,
        GObject      *source,
        GAsyncResult *result)
{
  g_autoptr (GError) error = NULL;
  gint64 entry = wb_app_notebook_save_finish (WB_APP_NOTEBOOK (source), result, NULL, &error);

  set_taking (where, FALSE);
  if (get_notebook (where) != WB_APP_NOTEBOOK (source))
    return FALSE;
  if (entry == 0)
    wb_problem_show (where, NULL, error);
  return entry != 0;
}

/* The notebook's news come before this: what redo would take back is what was undone. */
static void
on_undone_cb (GObject      *source,
              GAsyncResult *result,
              gpointer      user)
{
  g_autoptr (GtkWidget) where = user;
  const char *label = wb_app_notebook_get_redo_label (WB_APP_NOTEBOOK (source));
  g_autofree char *text = is_said (label) ? g_strdup_printf (_("Taken back: %s"), label) : g_strdup (_("Taken back"));

  if (finish (where, source, result))
    wb_host_say (wb_host_find (where), text);
}

static void
on_redone_cb (GObject      *source,
              GAsyncResult *result,
              gpointer      user)
{
  g_autoptr (GtkWidget) where = user;
  const char *label = wb_app_notebook_get_undo_label (WB_APP_NOTEBOOK (source));
  g_autofree char *text = is_said (label) ? g_strdup_printf (_("Brought back: %s"), label) : g_strdup (_("Brought back"));

  if (finish (where, source, result))
    wb_host_say (wb_host_find (where), text);
}

static void
undo (GtkWidget *where)
{
  set_taking (where, TRUE);
  wb_app_notebook_undo_async (get_notebook (where), NULL, on_undone_cb, g_object_ref (where));
}

static void
on_answered_cb (gboolean yes,
                gpointer where)
{
  if (yes && may_start (where) && wb_app_notebook_get_can_undo (get_notebook (where)))
    undo (where);
}

void
wb_take_back_undo (GtkWidget *where)
{
  g_autofree char *passed = NULL;
  g_autofree char *heading = NULL;
  g_autofree char *body = NULL;

  g_return_if_fail (GTK_IS_WIDGET (where));

  if (!may_start (where))
    return;
  g_object_get (get_notebook (where), "passed-label", &passed, NULL);
  if (passed == NULL)
    {
      undo (where);
      return;
    }
  /* What stands below an import was not the last thing that the person did. */
  heading = g_strdup_printf (_("Undo does not take back: %s"), passed);
  /* Translators: %s is what was done: "Light 14-1". "Record" is the page's name. */
  body = g_strdup_printf (_("It is taken back on the page Record. Undo would pass over it and take back what was done before: %s"),
                          wb_app_notebook_get_undo_label (get_notebook (where)));
  wb_question_ask (where, heading, body, _("_Take back what was before"), TRUE, on_answered_cb, where);
}

void
wb_take_back_redo (GtkWidget *where)
{
  g_return_if_fail (GTK_IS_WIDGET (where));

  if (!may_start (where))
    return;
  set_taking (where, TRUE);
  wb_app_notebook_redo_async (get_notebook (where), NULL, on_redone_cb, g_object_ref (where));
}

void
wb_take_back_name (GtkWidget  *button,
                   const char *verb,
                   const char *what)
{
  g_autofree char *text = what != NULL ? g_strdup_printf ("%s: %s", verb, what) : g_strdup (verb);

  wb_tooltip_set (button, text);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, text, -1);
}
