/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-problem.h"

#include "wb-app-error.h"
#include "wb-host.h"
#include "wb-number.h"
#include "wb-problem-bar.h"
#include "wb-question.h"
#include "wb-record.h"

#include <glib/gi18n.h>

/* What can be done about it; NULL: the message of the error says all. */
typedef struct
{
  int         code;
  const char *heading;
  const char *way_out;
} Words;

static const Words app_words[] = {
  { WB_APP_ERROR_NOT_A_NOTEBOOK, N_("This is not a Wickbench notebook"), N_("The file was left as it is.") },
  { WB_APP_ERROR_NEWER, N_("This notebook was written by a newer Wickbench"),
    N_("Open it with that version. The file was left as it is.") },
  { WB_APP_ERROR_OLDER, N_("This notebook is of an older form"), N_("It can be read, but not written here.") },
  { WB_APP_ERROR_DAMAGED, N_("This notebook is damaged"), N_("The file was left as it is. A backup of it, or what can still be read, can become a new notebook.") },
  { WB_APP_ERROR_LOCKED, N_("Another program is using the notebook"), N_("Close it there, then try again. Nothing was lost.") },
  { WB_APP_ERROR_READ_ONLY, N_("This notebook is open for reading only"),
    N_("Save a copy in a folder where you may write, and open that.") },
  { WB_APP_ERROR_MISSING, N_("The notebook is no longer there"), N_("Put the file back where it was, then try again.") },
  { WB_APP_ERROR_EXISTS, N_("There is a file of that name already"), N_("Choose another name, or open that file.") },
  { WB_APP_ERROR_FULL, N_("There is no space left on the disk"), N_("Make room, then save again. What you typed is still here.") },
  { WB_APP_ERROR_CHANGED, N_("Somebody else changed this in the meantime"), N_("Read it again, then enter your change once more.") },
  { WB_APP_ERROR_IN_USE, N_("This is still in use"), NULL },
  { WB_APP_ERROR_UNKNOWN, N_("There is no such thing in this notebook"), NULL },
  { WB_APP_ERROR_REFUSED, N_("That cannot be done"), NULL },
  { WB_APP_ERROR_NOTHING, N_("There is nothing to do"), NULL },
  { WB_APP_ERROR_FAILED, N_("That did not work"), NULL },
};

static const Words io_words[] = {
  { G_IO_ERROR_NOT_FOUND, N_("There is no such file"), NULL },
  { G_IO_ERROR_PERMISSION_DENIED, N_("You may not use that file"), N_("Choose a folder of your own.") },
  { G_IO_ERROR_READ_ONLY, N_("That folder cannot be written to"), N_("Choose a folder of your own.") },
  { G_IO_ERROR_NO_SPACE, N_("There is no space left on the disk"), N_("Make room, then try again.") },
  { G_IO_ERROR_IS_DIRECTORY, N_("That is a folder, not a file"), NULL },
  { G_IO_ERROR_EXISTS, N_("There is a file of that name already"), NULL },
};

static const Words file_words[] = {
  { G_FILE_ERROR_NOENT, N_("There is no such file"), NULL },
  { G_FILE_ERROR_ACCES, N_("You may not use that file"), N_("Choose a folder of your own.") },
  { G_FILE_ERROR_ROFS, N_("That folder cannot be written to"), N_("Choose a folder of your own.") },
  { G_FILE_ERROR_NOSPC, N_("There is no space left on the disk"), N_("Make room, then try again.") },
  { G_FILE_ERROR_ISDIR, N_("That is a folder, not a file"), NULL },
};

static const Words *
find_words (const GError *error)
{
  const struct { GQuark domain; const Words *words; gsize n; } domains[] = {
    { WB_APP_ERROR, app_words, G_N_ELEMENTS (app_words) },
    { G_IO_ERROR, io_words, G_N_ELEMENTS (io_words) },
    { G_FILE_ERROR, file_words, G_N_ELEMENTS (file_words) },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (domains); i++)
    for (gsize j = 0; error->domain == domains[i].domain && j < domains[i].n; j++)
      if (domains[i].words[j].code == error->code)
        return &domains[i].words[j];
  return NULL;
}

static const char *
general_heading (const GError *error)
{
  if (error->domain == WB_RECORD_ERROR || error->domain == WB_NUMBER_ERROR)
    return _("A value cannot be kept as it is");
  return _("That did not work");
}

void
wb_problem_dup_words (const char    *what,
                      const GError  *error,
                      char         **heading,
                      char         **detail)
{
  const Words *words;
  g_autoptr (GString) text = NULL;
  const char *reason;

  g_return_if_fail (error != NULL);

  words = find_words (error);
  reason = words != NULL ? _(words->heading) : general_heading (error);
  text = g_string_new (NULL);
  /* With a clause of the caller's as heading, the reason moves into the sentence below. */
  if (what != NULL)
    g_string_append_printf (text, "%s. ", reason);
  if (error->message != NULL && *error->message != '\0')
    {
      g_string_append (text, error->message);
      if (g_unichar_isalnum (g_utf8_get_char (g_utf8_find_prev_char (text->str, text->str + text->len))))
        g_string_append_c (text, '.');
    }
  if (words != NULL && words->way_out != NULL)
    g_string_append_printf (text, " %s", _(words->way_out));
  if (heading != NULL)
    *heading = g_strdup (what != NULL ? what : reason);
  if (detail != NULL)
    *detail = g_strstrip (g_string_free (g_steal_pointer (&text), FALSE));
}

void
wb_problem_show (GtkWidget    *where,
                 const char   *what,
                 const GError *error)
{
  g_autofree char *heading = NULL;
  g_autofree char *detail = NULL;
  WbHost *host;

  g_return_if_fail (GTK_IS_WIDGET (where));
  g_return_if_fail (error != NULL);

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  wb_problem_dup_words (what, error, &heading, &detail);
  host = wb_host_find (where);
  if (host != NULL)
    wb_problem_bar_show (wb_host_get_problem_bar (host), heading, detail);
  else
    wb_question_tell (where, heading, detail);
}

void
wb_problem_clear (GtkWidget  *where,
                  const char *what)
{
  WbHost *host;

  g_return_if_fail (GTK_IS_WIDGET (where));
  g_return_if_fail (what != NULL);

  host = wb_host_find (where);
  if (host != NULL && g_str_equal (wb_problem_bar_get_heading (wb_host_get_problem_bar (host)), what))
    wb_problem_bar_clear (wb_host_get_problem_bar (host));
}

void
wb_problem_tell (GtkLabel   *label,
                 const char *text)
{
  g_return_if_fail (GTK_IS_LABEL (label));

  gtk_label_set_text (label, text != NULL ? text : "");
  gtk_widget_set_visible (GTK_WIDGET (label), text != NULL);
}

void
wb_problem_tell_error (GtkLabel     *label,
                       const GError *error)
{
  g_autofree char *words = NULL;

  wb_problem_dup_words (NULL, error, NULL, &words);
  wb_problem_tell (label, words);
}
