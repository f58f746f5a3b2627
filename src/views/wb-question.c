/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-question.h"

#include "wb-accessible-name.h"

#include <glib/gi18n.h>

/* Longer names are cut here: a dialog does not wrap a word of 10,000 characters. */
#define MAXIMUM_CHARACTERS 600

typedef struct
{
  WbQuestionFunc       callback;
  WbQuestionAnswerFunc answered; /* in place of that, where there are three */
  gpointer             user;
} Ask;

static char *
shorten (const char *text)
{
  g_autofree char *head = NULL;

  if (text == NULL || g_utf8_strlen (text, -1) <= MAXIMUM_CHARACTERS)
    return g_strdup (text);
  head = g_utf8_substring (text, 0, MAXIMUM_CHARACTERS);
  return g_strconcat (head, "…", NULL);
}

static void
on_response_cb (GtkDialog *dialog,
                int        response,
                Ask       *ask)
{
  WbQuestionFunc callback = g_steal_pointer (&ask->callback);
  WbQuestionAnswerFunc answered = g_steal_pointer (&ask->answered);
  gpointer user = ask->user;

  /* The answer may close the parent while GTK still holds the dialog, which in 4.8 keeps a bare pointer to it. */
  gtk_window_set_transient_for (GTK_WINDOW (dialog), NULL);
  gtk_window_destroy (GTK_WINDOW (dialog));
  if (callback != NULL)
    callback (response == GTK_RESPONSE_ACCEPT, user);
  if (answered != NULL)
    answered (response == GTK_RESPONSE_ACCEPT ? WB_QUESTION_YES : response == GTK_RESPONSE_APPLY ? WB_QUESTION_OTHER : WB_QUESTION_NO, user);
}

static GtkWidget *
dialog_new (GtkWidget  *where,
            const char *heading,
            const char *body)
{
  GtkRoot *root = where != NULL ? gtk_widget_get_root (where) : NULL;
  g_autofree char *short_heading = shorten (heading);
  g_autofree char *short_body = shorten (body);
  GtkWidget *dialog = g_object_new (GTK_TYPE_MESSAGE_DIALOG,
                                    "transient-for", GTK_IS_WINDOW (root) ? root : NULL,
                                    "modal", TRUE,
                                    "destroy-with-parent", TRUE,
                                    "message-type", GTK_MESSAGE_OTHER,
                                    "text", short_heading,
                                    "secondary-text", short_body,
                                    NULL);
  GtkWidget *area = gtk_message_dialog_get_message_area (GTK_MESSAGE_DIALOG (dialog));

  for (GtkWidget *label = gtk_widget_get_first_child (area); label != NULL; label = gtk_widget_get_next_sibling (label))
    if (GTK_IS_LABEL (label))
      gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  gtk_accessible_update_property (GTK_ACCESSIBLE (dialog), GTK_ACCESSIBLE_PROPERTY_LABEL, short_heading, -1);
  return dialog;
}

static GtkWidget *
add_button (GtkWidget       *dialog,
            const char      *label,
            GtkResponseType  response)
{
  GtkWidget *button = gtk_dialog_add_button (GTK_DIALOG (dialog), label, response);

  wb_accessible_name_button (GTK_BUTTON (button), label);
  return button;
}

static void
present_ask (GtkWidget *dialog,
             Ask       *ask)
{
  g_signal_connect_data (dialog, "response", G_CALLBACK (on_response_cb), ask, (GClosureNotify) (void (*) (void)) g_free, 0);
  gtk_window_present (GTK_WINDOW (dialog));
}

static void
present (GtkWidget     *dialog,
         WbQuestionFunc callback,
         gpointer       user)
{
  Ask *ask = g_new0 (Ask, 1);

  ask->callback = callback;
  ask->user = user;
  present_ask (dialog, ask);
}

void
wb_question_ask (GtkWidget      *where,
                 const char     *heading,
                 const char     *body,
                 const char     *yes_label,
                 gboolean        destructive,
                 WbQuestionFunc  callback,
                 gpointer        user)
{
  GtkWidget *dialog, *yes;

  g_return_if_fail (where == NULL || GTK_IS_WIDGET (where));
  g_return_if_fail (heading != NULL && yes_label != NULL && callback != NULL);

  dialog = dialog_new (where, heading, body);
  add_button (dialog, _("_Cancel"), GTK_RESPONSE_CANCEL);
  yes = add_button (dialog, yes_label, GTK_RESPONSE_ACCEPT);
  gtk_widget_add_css_class (yes, destructive ? "destructive-action" : "suggested-action");
  gtk_dialog_set_default_response (GTK_DIALOG (dialog), destructive ? GTK_RESPONSE_CANCEL : GTK_RESPONSE_ACCEPT);
  present (dialog, callback, user);
}

void
wb_question_choose (GtkWidget      *where,
                    const char     *heading,
                    const char     *body,
                    const char     *no_label,
                    const char     *yes_label,
                    WbQuestionFunc  callback,
                    gpointer        user)
{
  GtkWidget *dialog;

  g_return_if_fail (where == NULL || GTK_IS_WIDGET (where));
  g_return_if_fail (heading != NULL && no_label != NULL && yes_label != NULL && callback != NULL);

  dialog = dialog_new (where, heading, body);
  gtk_widget_add_css_class (add_button (dialog, no_label, GTK_RESPONSE_CANCEL), "suggested-action");
  add_button (dialog, yes_label, GTK_RESPONSE_ACCEPT);
  gtk_dialog_set_default_response (GTK_DIALOG (dialog), GTK_RESPONSE_CANCEL);
  present (dialog, callback, user);
}

void
wb_question_choose_of_three (GtkWidget           *where,
                             const char          *heading,
                             const char          *body,
                             const char          *no_label,
                             const char          *other_label,
                             const char          *yes_label,
                             WbQuestionAnswerFunc callback,
                             gpointer             user)
{
  GtkWidget *dialog;
  Ask *ask;

  g_return_if_fail (where == NULL || GTK_IS_WIDGET (where));
  g_return_if_fail (heading != NULL && no_label != NULL && other_label != NULL && yes_label != NULL && callback != NULL);

  dialog = dialog_new (where, heading, body);
  gtk_widget_add_css_class (add_button (dialog, no_label, GTK_RESPONSE_CANCEL), "suggested-action");
  add_button (dialog, other_label, GTK_RESPONSE_APPLY);
  add_button (dialog, yes_label, GTK_RESPONSE_ACCEPT);
  gtk_dialog_set_default_response (GTK_DIALOG (dialog), GTK_RESPONSE_CANCEL);
  ask = g_new0 (Ask, 1);
  ask->answered = callback;
  ask->user = user;
  present_ask (dialog, ask);
}

void
wb_question_tell (GtkWidget  *where,
                  const char *heading,
                  const char *body)
{
  GtkWidget *dialog;

  g_return_if_fail (where == NULL || GTK_IS_WIDGET (where));
  g_return_if_fail (heading != NULL);

  dialog = dialog_new (where, heading, body);
  add_button (dialog, _("_Close"), GTK_RESPONSE_CLOSE);
  gtk_dialog_set_default_response (GTK_DIALOG (dialog), GTK_RESPONSE_CLOSE);
  g_signal_connect (dialog, "response", G_CALLBACK (gtk_window_destroy), NULL);
  gtk_window_present (GTK_WINDOW (dialog));
}
