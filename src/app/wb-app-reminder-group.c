/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-reminder.h"

#include <glib/gi18n-lib.h>

/* One reminder for many candles, and what of two lists is news. */

/* Of this many that fell due in one minute each is still told by itself. */
#define MOST_ALONE 2

/* Id of the group that it would be in; NULL: it is told alone. Caller frees. */
static char *
dup_group (const WbAppReminder *self)
{
  switch (self->kind)
    {
    case WB_APP_REMINDER_WEIGH:
      return g_strdup ("weigh");
    case WB_APP_REMINDER_COOL:
      return g_strdup ("cool");
    case WB_APP_REMINDER_STOP:
      return g_strdup_printf ("stop@%" G_GINT64_FORMAT, self->since_us / (60 * G_USEC_PER_SEC));
    case WB_APP_REMINDER_DUE:
      return g_strdup_printf ("due@%" G_GINT64_FORMAT, self->since_us / (60 * G_USEC_PER_SEC));
    case WB_APP_REMINDER_OVER:
    default:
      return NULL;
    }
}

static guint
get_most_alone (WbAppReminderKind kind)
{
  return kind == WB_APP_REMINDER_WEIGH || kind == WB_APP_REMINDER_COOL ? 1 : MOST_ALONE;
}

/* "F-03 and 11 more: weigh them". Caller frees. */
static char *
dup_title (WbAppReminderKind kind,
           int               step,
           const char       *code,
           guint             more)
{
  switch (kind)
    {
    case WB_APP_REMINDER_WEIGH:
      /* Translators: code of a sample, number of others; so in the next ones. */
      return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s and %u more: weigh them", "%s and %u more: weigh them", more), code, more);
    case WB_APP_REMINDER_COOL:
      return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s and %u more are cool enough to light", "%s and %u more are cool enough to light", more), code, more);
    case WB_APP_REMINDER_STOP:
      return step > 0 ? g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s and %u more: read and snuff", "%s and %u more: read and snuff", more), code, more)
                      : g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s and %u more: soon to be snuffed", "%s and %u more: soon to be snuffed", more), code, more);
    case WB_APP_REMINDER_DUE:
    case WB_APP_REMINDER_OVER:
    default:
      return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s and %u more: readings due", "%s and %u more: readings due", more), code, more);
    }
}

/* All codes, in order. Caller frees. */
static char *
dup_codes (const GPtrArray *members)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < members->len; i++)
    g_string_append_printf (text, i > 0 ? ", %s" : "%s", ((const WbAppReminder *) g_ptr_array_index (members, i))->code);
  return g_string_free (text, FALSE);
}

/* Caller frees. */
static char *
dup_body (const WbAppReminder *first,
          const GPtrArray     *members)
{
  g_autofree char *codes = dup_codes (members);

  switch (first->kind)
    {
    case WB_APP_REMINDER_WEIGH:
      /* Translators: codes of samples. */
      return g_strdup_printf (_("The wax of %s has set, so they can be weighed. To be lit again they may have to cool for longer."), codes);
    case WB_APP_REMINDER_COOL:
      return g_strdup_printf (_("%s have cooled as long as their protocol asks and are fit for their next burn."), codes);
    case WB_APP_REMINDER_STOP:
      return g_strdup_printf (_("The burns of %s end in the same minute."), codes);
    case WB_APP_REMINDER_DUE:
    case WB_APP_REMINDER_OVER:
    default:
      return g_strdup_printf (_("The readings of %s fell due in the same minute."), codes);
    }
}

static int
by_code (gconstpointer a,
         gconstpointer b)
{
  const WbAppReminder *first = *(WbAppReminder *const *) a, *second = *(WbAppReminder *const *) b;

  return g_strcmp0 (first->code, second->code);
}

/* Takes id and members. */
static WbAppReminder *
group_new (char      *id,
           GPtrArray *members)
{
  WbAppReminder *self = g_new0 (WbAppReminder, 1);
  const WbAppReminder *first;

  g_ptr_array_sort (members, by_code);
  first = g_ptr_array_index (members, 0);
  self->kind = first->kind;
  self->id = id;
  self->code = g_strdup (first->code);
  self->since_us = first->since_us;
  self->experiment = first->experiment;
  self->sample = first->sample;
  self->members = members;
  for (guint i = 0; i < members->len; i++)
    self->step = MAX (self->step, ((const WbAppReminder *) g_ptr_array_index (members, i))->step);
  self->title = dup_title (self->kind, self->step, self->code, members->len - 1);
  self->body = dup_body (first, members);
  return self;
}

/* All of `found` that are in that group; borrowed. */
static GPtrArray *
list_group (const GPtrArray *found,
            const char      *group)
{
  GPtrArray *list = g_ptr_array_new ();

  for (guint i = 0; i < found->len; i++)
    {
      g_autofree char *its = dup_group (g_ptr_array_index (found, i));

      if (g_strcmp0 (its, group) == 0)
        g_ptr_array_add (list, g_ptr_array_index (found, i));
    }
  return list;
}

GPtrArray *
wb_app_reminders_group (GPtrArray *found)
{
  GPtrArray *grouped = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_app_reminder_free);

  g_return_val_if_fail (found != NULL, grouped);

  while (found->len > 0)
    {
      WbAppReminder *reminder = g_ptr_array_index (found, 0);
      g_autofree char *group = dup_group (reminder);
      g_autoptr (GPtrArray) list = group != NULL ? list_group (found, group) : NULL;
      GPtrArray *members;

      if (list == NULL || list->len <= get_most_alone (reminder->kind))
        {
          g_ptr_array_add (grouped, g_ptr_array_steal_index (found, 0));
          continue;
        }
      members = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_app_reminder_free);
      for (guint i = 0; i < list->len; i++)
        {
          guint at;

          g_ptr_array_find (found, g_ptr_array_index (list, i), &at);
          g_ptr_array_add (members, g_ptr_array_steal_index (found, at));
        }
      g_ptr_array_add (grouped, group_new (g_steal_pointer (&group), members));
    }
  g_ptr_array_unref (found);
  return grouped;
}

/* The reminder of that id, alone or of a group. */
static const WbAppReminder *
find_single (const WbAppReminder *self,
             const char          *id)
{
  if (g_str_equal (self->id, id))
    return self;
  for (guint i = 0; self->members != NULL && i < self->members->len; i++)
    if (g_str_equal (((const WbAppReminder *) g_ptr_array_index (self->members, i))->id, id))
      return g_ptr_array_index (self->members, i);
  return NULL;
}

gboolean
wb_app_reminder_shares (const WbAppReminder *self,
                        const WbAppReminder *other)
{
  g_return_val_if_fail (self != NULL && other != NULL, FALSE);

  if (other->members == NULL)
    return find_single (self, other->id) != NULL;
  for (guint i = 0; i < other->members->len; i++)
    if (find_single (self, ((const WbAppReminder *) g_ptr_array_index (other->members, i))->id) != NULL)
      return TRUE;
  return FALSE;
}

/* The same step of another reading or another limit is another thing to be told. */
static gboolean
is_news (const WbAppReminder *single,
         const GPtrArray     *before)
{
  for (guint i = 0; before != NULL && i < before->len; i++)
    {
      const WbAppReminder *earlier = find_single (g_ptr_array_index (before, i), single->id);

      if (earlier != NULL)
        return single->step > earlier->step
               || (single->kind == WB_APP_REMINDER_OVER && !g_str_equal (single->title, earlier->title));
    }
  return TRUE;
}

static gboolean
has_news (const WbAppReminder *self,
          const GPtrArray     *before)
{
  if (self->members == NULL)
    return is_news (self, before);
  for (guint i = 0; i < self->members->len; i++)
    if (is_news (g_ptr_array_index (self->members, i), before))
      return TRUE;
  return FALSE;
}

static gboolean
has_id (const GPtrArray *among,
        const char      *id)
{
  for (guint i = 0; i < among->len; i++)
    if (g_str_equal (((const WbAppReminder *) g_ptr_array_index (among, i))->id, id))
      return TRUE;
  return FALSE;
}

void
wb_app_reminders_compare (GPtrArray  *before,
                          GPtrArray  *now,
                          GPtrArray **told,
                          GPtrArray **gone)
{
  g_return_if_fail (now != NULL && told != NULL && gone != NULL);

  *told = g_ptr_array_new ();
  *gone = g_ptr_array_new ();
  for (guint i = 0; i < now->len; i++)
    if (has_news (g_ptr_array_index (now, i), before))
      g_ptr_array_add (*told, g_ptr_array_index (now, i));
  for (guint i = 0; before != NULL && i < before->len; i++)
    {
      const WbAppReminder *reminder = g_ptr_array_index (before, i);

      if (!has_id (now, reminder->id))
        g_ptr_array_add (*gone, reminder->id);
    }
}
