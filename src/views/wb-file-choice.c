/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-file-choice.h"

#include <glib/gi18n.h>
#include <string.h>

typedef struct
{
  GtkFileChooserNative *native; /* owned until the answer: GTK keeps none */
  WbFileKind            kind;     /* chosen */
  const WbFileKind     *kinds;    /* static, of who asks; NULL: there is but one */
  gsize                 n_kinds;
  GPtrArray            *filters;  /* GtkFileFilter, of `kinds` */
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
  [WB_FILE_PDF] = { N_("PDF documents (.pdf)"), { "*.pdf" } },
  [WB_FILE_PICTURE] = { N_("Pictures (PNG, SVG, PDF)"), { "*.png", "*.svg", "*.pdf" } },
  [WB_FILE_TABLE] = { N_("Tables and calendars (CSV, XLSX, JSON, ICS)"), { "*.csv", "*.xlsx", "*.json", "*.ics" } },
  [WB_FILE_WORKBOOK] = { N_("Workbook (.xlsx)"), { "*.xlsx" } },
  [WB_FILE_CSV] = { N_("Burn log (.csv)"), { "*.csv" } },
  [WB_FILE_JSON] = { N_("Data for programs (.json)"), { "*.json" } },
  [WB_FILE_CALENDAR] = { N_("Calendars (.ics)"), { "*.ics" } },
  [WB_FILE_PHOTO] = { N_("Photos (JPEG, PNG)"), { "*.jpg", "*.jpeg", "*.png", "*.JPG", "*.JPEG", "*.PNG" } },
  [WB_FILE_LOGO] = { N_("Pictures (JPEG, PNG)"), { "*.png", "*.jpg", "*.jpeg", "*.JPG", "*.JPEG", "*.PNG" } },
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

char *
wb_file_choice_dup_renamed (const char *name,
                            WbFileKind  kind)
{
  const char *dot;

  g_return_val_if_fail (name != NULL && kind < WB_N_FILES, NULL);

  if (wb_file_choice_fits (name, kind))
    return g_strdup (name);
  dot = strrchr (name, '.');
  /* A point within a name, as in "Trial 2.1", begins no ending. */
  if (dot == NULL || !wb_file_choice_fits (dot, WB_FILE_TABLE))
    dot = name + strlen (name);
  return g_strdup_printf ("%.*s%s", (int) (dot - name), name, kinds[kind].patterns[0] + 1);
}

static GtkFileFilter *
filter_new (WbFileKind kind)
{
  GtkFileFilter *filter = gtk_file_filter_new ();

  gtk_file_filter_set_name (filter, _(kinds[kind].label));
  for (guint i = 0; kinds[kind].patterns[i] != NULL; i++)
    gtk_file_filter_add_pattern (filter, kinds[kind].patterns[i]);
  return filter;
}

/* Which of the kinds is chosen by now; where the desktop's own dialog does not tell, that before. */
static gboolean
read_kind (Choice *choice)
{
  WbFileKind before = choice->kind;
  GtkFileFilter *filter = choice->kinds != NULL ? gtk_file_chooser_get_filter (GTK_FILE_CHOOSER (choice->native)) : NULL;

  for (gsize i = 0; filter != NULL && i < choice->n_kinds; i++)
    if (choice->filters->pdata[i] == filter)
      choice->kind = choice->kinds[i];
  return choice->kind != before;
}

static void
on_filter_cb (Choice *choice)
{
  g_autofree char *typed = NULL, *renamed = NULL;

  if (!read_kind (choice))
    return;
  typed = gtk_file_chooser_get_current_name (GTK_FILE_CHOOSER (choice->native));
  if (typed == NULL || *typed == '\0')
    return;
  renamed = wb_file_choice_dup_renamed (typed, choice->kind);
  gtk_file_chooser_set_current_name (GTK_FILE_CHOOSER (choice->native), renamed);
}

/* A kind that is typed is as good as one that is chosen. */
static gboolean
fits_any (Choice     *choice,
          const char *path)
{
  if (wb_file_choice_fits (path, choice->kind))
    return TRUE;
  for (gsize i = 0; i < choice->n_kinds; i++)
    if (wb_file_choice_fits (path, choice->kinds[i]))
      return TRUE;
  return FALSE;
}

static void
on_response_cb (GtkNativeDialog *native,
                int              response,
                Choice          *choice)
{
  g_autofree char *path = NULL;

  read_kind (choice);
  if (response == GTK_RESPONSE_ACCEPT)
    {
      g_autoptr (GFile) file = gtk_file_chooser_get_file (GTK_FILE_CHOOSER (native));

      path = file != NULL ? g_file_get_path (file) : NULL;
      if (path != NULL && gtk_file_chooser_get_action (GTK_FILE_CHOOSER (native)) == GTK_FILE_CHOOSER_ACTION_SAVE &&
          !fits_any (choice, path))
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
  g_signal_handlers_disconnect_by_data (choice->native, choice);
  g_object_unref (choice->native);
  g_ptr_array_unref (choice->filters);
  g_free (choice);
}

static void
add_filter (Choice    *choice,
            WbFileKind kind)
{
  GtkFileFilter *filter = filter_new (kind);

  g_ptr_array_add (choice->filters, filter);
  gtk_file_chooser_add_filter (GTK_FILE_CHOOSER (choice->native), filter);
}

/* Takes the choice, which says whom to tell. */
static void
run (GtkWidget            *where,
     const char           *title,
     GtkFileChooserAction  action,
     const char           *name,
     Choice               *choice)
{
  GtkRoot *root = where != NULL ? gtk_widget_get_root (where) : NULL;

  choice->native = gtk_file_chooser_native_new (title, GTK_IS_WINDOW (root) ? GTK_WINDOW (root) : NULL, action, NULL, NULL);
  choice->filters = g_ptr_array_new_with_free_func (g_object_unref);
  gtk_native_dialog_set_modal (GTK_NATIVE_DIALOG (choice->native), TRUE);
  if (choice->kinds == NULL)
    {
      add_filter (choice, choice->kind);
      add_filter (choice, WB_FILE_ANY);
    }
  for (gsize i = 0; i < choice->n_kinds; i++)
    add_filter (choice, choice->kinds[i]);
  if (choice->kinds != NULL)
    {
      gtk_file_chooser_set_filter (GTK_FILE_CHOOSER (choice->native), choice->filters->pdata[0]);
      g_signal_connect_swapped (choice->native, "notify::filter", G_CALLBACK (on_filter_cb), choice);
    }
  if (name != NULL)
    gtk_file_chooser_set_current_name (GTK_FILE_CHOOSER (choice->native), name);
  gtk_file_chooser_set_select_multiple (GTK_FILE_CHOOSER (choice->native), choice->several != NULL);
  g_signal_connect (choice->native, "response", G_CALLBACK (on_response_cb), choice);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (choice->native));
}

static Choice *
choice_new (WbFileKind  kind,
            WbFileFunc  callback,
            WbFilesFunc several,
            gpointer    user)
{
  Choice *choice = g_new0 (Choice, 1);

  choice->kind = kind;
  choice->callback = callback;
  choice->several = several;
  choice->user = user;
  return choice;
}

void
wb_file_choice_open (GtkWidget  *where,
                     const char *title,
                     WbFileKind  kind,
                     WbFileFunc  callback,
                     gpointer    user)
{
  g_return_if_fail (kind < WB_N_FILES && callback != NULL);
  run (where, title, GTK_FILE_CHOOSER_ACTION_OPEN, NULL, choice_new (kind, callback, NULL, user));
}

void
wb_file_choice_open_several (GtkWidget  *where,
                             const char *title,
                             WbFileKind  kind,
                             WbFilesFunc callback,
                             gpointer    user)
{
  g_return_if_fail (kind < WB_N_FILES && callback != NULL);
  run (where, title, GTK_FILE_CHOOSER_ACTION_OPEN, NULL, choice_new (kind, NULL, callback, user));
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
  run (where, title, GTK_FILE_CHOOSER_ACTION_SAVE, name, choice_new (kind, callback, NULL, user));
}

void
wb_file_choice_save_as (GtkWidget        *where,
                        const char       *title,
                        const WbFileKind *offered,
                        gsize             n_offered,
                        const char       *name,
                        WbFileFunc        callback,
                        gpointer          user)
{
  g_autofree char *whole = NULL;
  Choice *choice;

  g_return_if_fail (offered != NULL && n_offered > 0 && name != NULL && callback != NULL);

  choice = choice_new (offered[0], callback, NULL, user);
  choice->kinds = offered;
  choice->n_kinds = n_offered;
  whole = wb_file_choice_dup_renamed (name, offered[0]);
  run (where, title, GTK_FILE_CHOOSER_ACTION_SAVE, whole, choice);
}
