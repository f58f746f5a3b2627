/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-test-unread-private.h"

#include <glib/gi18n-lib.h>

/* What several of a report's combinations lack, as one list instead of a sentence each. */

typedef struct
{
  char      *subject, *place; /* place NULL: all of the subject */
  GPtrArray *names;           /* char, distinct */
} Lack;

struct _WbReportUnread
{
  char      *code;
  GPtrArray *lacks;  /* Lack, those of a subject one after the other */
};

static void
lack_free (gpointer data)
{
  Lack *self = data;

  g_free (self->subject);
  g_free (self->place);
  g_ptr_array_unref (self->names);
  g_free (self);
}

WbReportUnread *
wb_report_unread_new (const char *code)
{
  WbReportUnread *self = g_new0 (WbReportUnread, 1);

  self->code = g_strdup (code);
  self->lacks = g_ptr_array_new_with_free_func (lack_free);
  return self;
}

/* Made where it is not there yet, behind the others of its subject. */
static Lack *
find_lack (WbReportUnread      *self,
           const WbCraftReason *reason)
{
  guint at = self->lacks->len;
  Lack *lack;

  for (guint i = 0; i < self->lacks->len; i++)
    {
      lack = g_ptr_array_index (self->lacks, i);
      if (!g_str_equal (lack->subject, reason->subject))
        continue;
      if (g_strcmp0 (lack->place, reason->place) == 0)
        return lack;
      at = i + 1;
    }
  lack = g_new0 (Lack, 1);
  lack->subject = g_strdup (reason->subject);
  lack->place = g_strdup (reason->place);
  lack->names = g_ptr_array_new_with_free_func (g_free);
  g_ptr_array_insert (self->lacks, (gint) at, lack);
  return lack;
}

void
wb_report_unread_add (WbReportUnread      *self,
                      const WbCraftRanked *ranked,
                      const char          *name)
{
  for (guint i = 0; i < ranked->reasons->len; i++)
    {
      const WbCraftReason *reason = g_ptr_array_index (ranked->reasons, i);
      Lack *lack;

      if (reason->subject == NULL || !g_str_equal (reason->code, self->code))
        continue;
      lack = find_lack (self, reason);
      if (!g_ptr_array_find_with_equal_func (lack->names, name, g_str_equal, NULL))
        g_ptr_array_add (lack->names, g_strdup (name));
    }
}

/* "upper third of B5, B6"; where all lack it, "upper third", or beside others "upper third of all". */
static char *
dup_place (const Lack *lack,
           const char *place,
           gboolean    alike,
           guint       n_all)
{
  g_autofree char **names = NULL;
  g_autofree char *joined = NULL;

  if (lack->names->len >= n_all)
    return alike ? g_strdup (place) : g_strdup_printf (_("%s of all"), place);
  names = g_new0 (char *, lack->names->len + 1);
  for (guint i = 0; i < lack->names->len; i++)
    names[i] = g_ptr_array_index (lack->names, i);
  joined = g_strjoinv (", ", names);
  /* Translators: "upper third"; "B5, B6". */
  return g_strdup_printf (_("%s of %s"), place, joined);
}

static gboolean
all_lack_all (const WbReportUnread *self,
              guint                 n_all)
{
  for (guint i = 0; i < self->lacks->len; i++)
    if (((const Lack *) g_ptr_array_index (self->lacks, i))->names->len < n_all)
      return FALSE;
  return TRUE;
}

char *
wb_report_unread_free_to_text (WbReportUnread *self,
                               guint           n_all)
{
  GString *text = g_string_new (NULL);
  gboolean alike = all_lack_all (self, n_all);
  const Lack *before = NULL;

  for (guint i = 0; i < self->lacks->len; i++)
    {
      const Lack *lack = g_ptr_array_index (self->lacks, i);
      gboolean goes_on = before != NULL && lack->place != NULL && g_str_equal (before->subject, lack->subject);
      g_autofree char *place = dup_place (lack, lack->place != NULL ? lack->place : lack->subject, alike, n_all);

      if (before != NULL && before->place != NULL && !goes_on)
        g_string_append_c (text, ')');
      if (before != NULL)
        g_string_append (text, "; ");
      if (lack->place != NULL && !goes_on)
        g_string_append_printf (text, "%s (", lack->subject);
      g_string_append (text, place);
      before = lack;
    }
  if (before != NULL && before->place != NULL)
    g_string_append_c (text, ')');
  g_ptr_array_unref (self->lacks);
  g_free (self->code);
  g_free (self);
  return g_string_free (text, FALSE);
}
