/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-evening.h"
#include "wb-app-draft.h"

/* What is half done beside a notebook, kept over a stop of the program: read again, replaced, dropped; of this place alone. */

static gboolean
is_loaded (gpointer draft)
{
  return wb_app_draft_get_loaded (draft);
}

static void
wait_loaded (WbAppDraft *draft)
{
  while (!is_loaded (draft))
    g_main_context_iteration (NULL, TRUE);
}

static void
set (WbAppDraft *draft,
     const char *group,
     const char *text)
{
  g_autoptr (GKeyFile) file = g_key_file_new ();

  g_key_file_set_string (file, group, "note", text);
  wb_app_draft_set (draft, group, file);
}

static void
assert_says (WbAppDraft *draft,
             const char *group,
             const char *text)
{
  g_autofree char *note = g_key_file_get_string (wb_app_draft_get_file (draft), group, "note", NULL);

  g_assert_cmpstr (note, ==, text);
}

/* What comes before the file is read is newer than it, and takes nothing else away. */
static void
test_kept (void)
{
  Evening evening, copied = { 0 };
  g_autofree char *path = NULL, *copy = NULL, *bytes = NULL;
  g_autoptr (GKeyFile) empty = g_key_file_new ();
  WbAppDraft *draft;
  gsize length;

  evening_set_up (&evening);
  path = g_strdup (wb_app_notebook_get_path (evening.notebook));
  draft = wb_app_draft_of (evening.notebook, "trial");
  g_assert_true (draft == wb_app_draft_of (evening.notebook, "trial"));
  wait_loaded (draft);
  set (draft, "one", "a\nb = [c]");
  set (draft, "two", "of then");
  set (draft, "three", "goes");
  wb_app_draft_drop (draft, "three");
  copy = g_strconcat (path, " copy.wickbench", NULL);
  g_assert_true (g_file_get_contents (path, &bytes, &length, NULL));
  g_assert_true (g_file_set_contents (copy, bytes, (gssize) length, NULL));
  evening_reopen (&copied, copy);
  draft = wb_app_draft_of (copied.notebook, "trial");
  wait_loaded (draft);
  g_assert_false (g_key_file_has_group (wb_app_draft_get_file (draft), "one"));
  evening_tear_down (&copied);

  evening_tear_down (&evening);
  evening_reopen (&evening, path);
  draft = wb_app_draft_of (evening.notebook, "trial");
  set (draft, "two", "of now");
  wait_loaded (draft);
  assert_says (draft, "one", "a\nb = [c]");
  assert_says (draft, "two", "of now");
  g_assert_false (g_key_file_has_group (wb_app_draft_get_file (draft), "three"));
  wb_app_draft_set (draft, "one", empty);
  wb_app_draft_drop (draft, "two");
  evening_tear_down (&evening);
  evening_reopen (&evening, path);
  draft = wb_app_draft_of (evening.notebook, "trial");
  wait_loaded (draft);
  g_assert_false (g_key_file_has_group (wb_app_draft_get_file (draft), "one"));
  g_assert_false (g_key_file_has_group (wb_app_draft_get_file (draft), "two"));
  evening_tear_down (&evening);
}

void
test_app_draft_add (void)
{
  g_test_add_func ("/app/draft/it-stands-again-at-its-place-until-it-is-dropped", test_kept);
}
