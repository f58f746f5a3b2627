/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-commands-near-private.h"

#define MOST_WRONG 2
#define LETTERS_A_MISTAKE 4 /* a name of fewer letters than this for each mistake is another name; no source */

/* Caller frees. */
static gunichar *
fold (const char *text,
      glong      *n)
{
  g_autofree char *folded = g_utf8_casefold (text, -1), *composed = g_utf8_normalize (folded, -1, G_NORMALIZE_ALL_COMPOSE);

  return g_utf8_to_ucs4_fast (composed != NULL ? composed : "", -1, n);
}

/* Optimal string alignment: insertions, deletions, substitutions and swaps of neighbours that make one the other. */
static guint
count_mistakes (const gunichar *a,
                glong           n_a,
                const gunichar *b,
                glong           n_b)
{
  glong width = n_b + 1;
  g_autofree guint *cost = g_new (guint, (gsize) (n_a + 1) * (gsize) width);

  for (glong i = 0; i <= n_a; i++)
    for (glong k = 0; k <= n_b; k++)
      {
        guint *here = &cost[i * width + k];

        if (i == 0 || k == 0)
          {
            *here = (guint) MAX (i, k);
            continue;
          }
        *here = MIN (MIN (here[-width], here[-1]) + 1, here[-width - 1] + (a[i - 1] != b[k - 1]));
        if (i > 1 && k > 1 && a[i - 1] == b[k - 2] && a[i - 2] == b[k - 1])
          *here = MIN (*here, here[-2 * width - 2] + 1);
      }
  return cost[(n_a + 1) * width - 1];
}

static gboolean
have_same_digits (const char *a,
                  const char *b)
{
  g_autoptr (GString) first = g_string_new (NULL), second = g_string_new (NULL);

  for (; *a != '\0'; a++)
    if (g_ascii_isdigit (*a))
      g_string_append_c (first, *a);
  for (; *b != '\0'; b++)
    if (g_ascii_isdigit (*b))
      g_string_append_c (second, *b);
  return g_string_equal (first, second);
}

gboolean
wb_commands_is_misspelt (const char *typed,
                         const char *name)
{
  glong n_typed, n_name;
  g_autofree gunichar *a = fold (typed, &n_typed), *b = fold (name, &n_name);
  guint mistakes;

  if (!have_same_digits (typed, name) || ABS (n_typed - n_name) > MOST_WRONG)
    return FALSE;
  mistakes = count_mistakes (a, n_typed, b, n_name);
  return mistakes <= MOST_WRONG && (glong) mistakes * LETTERS_A_MISTAKE <= n_name;
}
