/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-e2e-tree.h"

#include <string.h>

/* Deeper than any widget of the program lies; a loop in the tree ends here. */
#define DEPTH_MAX 80
/* A dump says no more of a long list. */
#define DUMPED_MAX 40

gboolean
wb_e2e_tree_has_state (AtspiAccessible *node,
                       AtspiStateType   state)
{
  g_autoptr (AtspiStateSet) states = atspi_accessible_get_state_set (node);

  return states != NULL && atspi_state_set_contains (states, state);
}

/* Spaces that hold a number to its unit become plain ones: a story is written with those. Steals the text. */
static char *
plain (char *text)
{
  g_auto (GStrv) parts = NULL;
  g_autofree char *narrow = NULL;

  if (text == NULL || !g_utf8_validate (text, -1, NULL))
    return text;
  parts = g_strsplit (text, "\u202f", -1);
  narrow = g_strjoinv (" ", parts);
  g_strfreev (parts);
  parts = g_strsplit (narrow, "\u00a0", -1);
  g_free (text);
  return g_strjoinv (" ", parts);
}

static char *
dup_name (AtspiAccessible *node)
{
  return plain (atspi_accessible_get_name (node, NULL));
}

char *
wb_e2e_tree_dup_text (AtspiAccessible *node)
{
  AtspiText *text = atspi_accessible_get_text_iface (node);
  char *content = NULL;

  if (text != NULL)
    content = atspi_text_get_text (text, 0, atspi_text_get_character_count (text, NULL), NULL);
  g_clear_object (&text);
  return plain (content);
}

static gboolean
name_fits (const char *name,
           const char *wanted)
{
  return wanted == NULL || (name != NULL && g_pattern_match_simple (wanted, name));
}

static gboolean
holds_words (AtspiAccessible *node,
             const char      *name,
             const char      *part)
{
  g_autofree char *text = NULL;

  if (name != NULL && strstr (name, part) != NULL)
    return TRUE;
  text = wb_e2e_tree_dup_text (node);
  return text != NULL && strstr (text, part) != NULL;
}

static gboolean
fits (AtspiAccessible   *node,
      const WbE2eWanted *wanted)
{
  g_autofree char *name = NULL;

  if (wanted->role >= 0 && (int) atspi_accessible_get_role (node, NULL) != wanted->role)
    return FALSE;
  if (wanted->focused && !wb_e2e_tree_has_state (node, ATSPI_STATE_FOCUSED))
    return FALSE;
  name = dup_name (node);
  return wanted->part != NULL ? holds_words (node, name, wanted->part) : name_fits (name, wanted->name);
}

/* What does not show is not looked into; the root itself is not an answer. */
static AtspiAccessible *
search (AtspiAccessible   *node,
        const WbE2eWanted *wanted,
        int                depth)
{
  int n;

  if (depth > 0 && fits (node, wanted))
    return g_object_ref (node);
  n = depth < DEPTH_MAX ? atspi_accessible_get_child_count (node, NULL) : 0;
  for (int i = 0; i < n; i++)
    {
      g_autoptr (AtspiAccessible) child = atspi_accessible_get_child_at_index (node, i, NULL);
      AtspiAccessible *found = child != NULL && wb_e2e_tree_has_state (child, ATSPI_STATE_VISIBLE) ? search (child, wanted, depth + 1) : NULL;

      if (found != NULL)
        return found;
    }
  return NULL;
}

AtspiAccessible *
wb_e2e_tree_find (AtspiAccessible   *root,
                  const WbE2eWanted *wanted)
{
  atspi_accessible_clear_cache (root);
  return search (root, wanted, 0);
}

char *
wb_e2e_tree_describe (const WbE2eWanted *wanted)
{
  g_autofree char *role = wanted->role >= 0 ? atspi_role_get_name ((AtspiRole) wanted->role) : g_strdup ("anything");

  if (wanted->part != NULL)
    return g_strdup_printf ("%s with \"%s\"", role, wanted->part);
  return g_strdup_printf ("%s \"%s\"", role, wanted->name != NULL ? wanted->name : "*");
}

static void
dump_into (GString         *words,
           AtspiAccessible *node,
           int              depth)
{
  g_autofree char *name = dup_name (node);
  g_autofree char *role = atspi_accessible_get_role_name (node, NULL);
  g_autofree char *text = wb_e2e_tree_dup_text (node);
  int n = depth < DEPTH_MAX ? atspi_accessible_get_child_count (node, NULL) : 0;

  g_string_append_printf (words, "%*s%s \"%s\"", depth * 2, "", role, name);
  if (text != NULL && g_strcmp0 (text, name) != 0)
    g_string_append_printf (words, " [%s]", text);
  g_string_append_printf (words, "%s%s\n", wb_e2e_tree_has_state (node, ATSPI_STATE_SENSITIVE) ? "" : " (insensitive)",
                          wb_e2e_tree_has_state (node, ATSPI_STATE_FOCUSED) ? " (focus)" : "");
  for (int i = 0; i < MIN (n, DUMPED_MAX); i++)
    {
      g_autoptr (AtspiAccessible) child = atspi_accessible_get_child_at_index (node, i, NULL);

      if (child != NULL && wb_e2e_tree_has_state (child, ATSPI_STATE_VISIBLE))
        dump_into (words, child, depth + 1);
    }
}

char *
wb_e2e_tree_dump (AtspiAccessible *root)
{
  GString *words = g_string_new (NULL);

  atspi_accessible_clear_cache (root);
  dump_into (words, root, 0);
  return g_string_free (words, FALSE);
}
