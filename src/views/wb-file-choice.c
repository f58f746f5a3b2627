/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-file-choice.h"

#include <glib/gi18n.h>

typedef struct
{
  GtkFileChooserNative *native; /* owned until the answer: GTK keeps none */
  WbFileKind            kind;
  WbFileFunc            callback;
  WbFilesFunc           several;  /* instead of the callback */
  gpointer              user;
} Choice;

/* The first pattern is the ending that a bare name gets. */
static const struct
{
  const char *label;
  const char *patterns[7];
} kinds[WB_N_FILES] = {
  [WB_FILE_NOTEBOOK] = { N_("Wickbench notebooks"), { "*.wickbench" } },
  [WB_FILE_LOG] = { N_("Burn logs and sheets saved as text"), { "*.csv", "*.tsv", "*.txt" } },
  [WB_FILE_SHELF] = { N_("Lists of materials (CSV)"), { "*.csv", "*.tsv", "*.txt" } },
  [WB_FILE_MAPPING] = { N_("Mappings of sheets"), { "*.mapping" } },
  [WB_FILE_PDF] = { N_("PDF documents"), { "*.pdf" } },
  [WB_FILE_PICTURE] = { N_("Pictures"), { "*.png", "*.svg", "*.pdf" } },
  [WB_FILE_TABLE] = { N_("Tables and calendars"), { "*.csv", "*.xlsx", "*.json", "*.ics" } },
  [WB_FILE_CALENDAR] = { N_("Calendars"), { "*.ics" } },
  [WB_FILE_PHOTO] = { N_("Photos (JPEG, PNG)"), { "*.jpg", "*.jpeg", "*.png", "*.JPG", "*.JPEG", "*.PNG" } },
  [WB_FILE_ANY] = { N_("All files"), { "*" } },
};

gboolean
wb_file_choice_fits (const char *path,
                     WbFileKind  kind)
{
  g_autofree char *lower = NULL;

  g_return_val_if_fail (path != NULL && kind < WB_N_FILES, FALSE);

  lower = g_ascii_strdown (path, -1);
  for (guint i = 0; kinds[kind].patterns[i] != NULL; i++)
    if (g_str_has_suffix (lower, kinds[kind].patterns[i] + 1))
      return TRUE;
  return FALSE;
}

static void
on_response_cb (GtkNativeDialog *native,
                int              response,
                Choice          *choice)
{
  g_autofree char *path = NULL;

  if (response == GTK_RESPONSE_ACCEPT)
    {
      g_autoptr (GFile) file = gtk_file_chooser_get_file (GTK_FILE_CHOOSER (native));

      path = file != NULL ? g_file_get_path (file) : NULL;
      if (path != NULL && gtk_file_chooser_get_action (GTK_FILE_CHOOSER (native)) == GTK_FILE_CHOOSER_ACTION_SAVE &&
          !wb_file_choice_fits (path, choice->kind))
        {
          char *whole = g_strconcat (path, kinds[choice->kind].patterns[0] + 1, NULL);

          g_free (path);
          path = whole;
        }
    }
  if (choice->several != NULL)
    {
      g_autoptr (GListModel) files = response == GTK_RESPONSE_ACCEPT ? gtk_file_chooser_get_files (GTK_FILE_CHOOSER (native)) : NULL;

      choice->several (files, choice->user);
    }
  else
    choice->callback (path, choice->user);
  g_object_unref (choice->native);
  g_free (choice);
}

static void
run (GtkWidget            *where,
     const char           *title,
     GtkFileChooserAction  action,
     WbFileKind            kind,
     const char           *name,
     WbFileFunc            callback,
     WbFilesFunc           several,
     gpointer              user)
{
  GtkRoot *root = where != NULL ? gtk_widget_get_root (where) : NULL;
  g_autoptr (GtkFileFilter) filter = gtk_file_filter_new ();
  g_autoptr (GtkFileFilter) any = gtk_file_filter_new ();
  Choice *choice = g_new0 (Choice, 1);

  choice->native = gtk_file_chooser_native_new (title, GTK_IS_WINDOW (root) ? GTK_WINDOW (root) : NULL, action, NULL, NULL);
  choice->kind = kind;
  choice->callback = callback;
  choice->several = several;
  choice->user = user;
  gtk_native_dialog_set_modal (GTK_NATIVE_DIALOG (choice->native), TRUE);
  gtk_file_filter_set_name (filter, _(kinds[kind].label));
  for (guint i = 0; kinds[kind].patterns[i] != NULL; i++)
    gtk_file_filter_add_pattern (filter, kinds[kind].patterns[i]);
  gtk_file_chooser_add_filter (GTK_FILE_CHOOSER (choice->native), filter);
  gtk_file_filter_set_name (any, _("All files"));
  gtk_file_filter_add_pattern (any, "*");
  gtk_file_chooser_add_filter (GTK_FILE_CHOOSER (choice->native), any);
  if (name != NULL)
    gtk_file_chooser_set_current_name (GTK_FILE_CHOOSER (choice->native), name);
  gtk_file_chooser_set_select_multiple (GTK_FILE_CHOOSER (choice->native), several != NULL);
  g_signal_connect (choice->native, "response", G_CALLBACK (on_response_cb), choice);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (choice->native));
}

void
wb_file_choice_open (GtkWidget  *where,
                     const char *title,
                     WbFileKind  kind,
                     WbFileFunc  callback,
                     gpointer    user)
{
  g_return_if_fail (kind < WB_N_FILES && callback != NULL);
  run (where, title, GTK_FILE_CHOOSER_ACTION_OPEN, kind, NULL, callback, NULL, user);
}

void
wb_file_choice_open_several (GtkWidget  *where,
                             const char *title,
                             WbFileKind  kind,
                             WbFilesFunc callback,
                             gpointer    user)
{
  g_return_if_fail (kind < WB_N_FILES && callback != NULL);
  run (where, title, GTK_FILE_CHOOSER_ACTION_OPEN, kind, NULL, NULL, callback, user);
}

void
wb_file_choice_save (GtkWidget  *where,
                     const char *title,
                     WbFileKind  kind,
                     const char *name,
                     WbFileFunc  callback,
                     gpointer    user)
{
  g_return_if_fail (kind < WB_N_FILES && callback != NULL);
  run (where, title, GTK_FILE_CHOOSER_ACTION_SAVE, kind, name, callback, NULL, user);
}
