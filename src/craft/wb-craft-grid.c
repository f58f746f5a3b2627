/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-grid.h"

#include <math.h>
#include <string.h>

/* Letters that no hand or print confuses with a digit or with one another; two alphabets, so that none is read for the other. */
static const char vessel_letters[] = "ACEHKMPTX";
static const char scent_letters[] = "FJNRUWY";
static const char wick_letters[] = "aehkmprtx";
#define HIGHEST_NUMBER 99999 /* a larger one behind a code is no sample's number */
#define LONGEST_SIZE 8 /* characters of a wick's size that fit on a label beside the rest */

static guint
place_of (const GPtrArray *wicks,
          gint64           wick)
{
  for (guint i = 0; i < wicks->len; i++)
    if (((const WbRecord *) g_ptr_array_index (wicks, i))->id == wick)
      return i;
  return wicks->len;
}

/* Not said comes before any distance. */
static int
compare_spacings (double a,
                  double b)
{
  if (isnan (a) || isnan (b))
    return !isnan (a) - !isnan (b);
  return (a > b) - (a < b);
}

int
wb_craft_wick_choice_compare (const WbCraftWickChoice *a,
                              const WbCraftWickChoice *b,
                              const GPtrArray         *wicks)
{
  guint first = place_of (wicks, a->wick), second = place_of (wicks, b->wick);

  if (first != second)
    return first < second ? -1 : 1;
  if (a->wick != b->wick)
    return a->wick < b->wick ? -1 : 1;
  if (a->count != b->count)
    return a->count < b->count ? -1 : 1;
  return compare_spacings (a->spacing_mm, b->spacing_mm);
}

GPtrArray *
wb_craft_grid_cells (const GArray *vessels,
                     const GArray *wicks,
                     const GArray *scents)
{
  GPtrArray *cells = g_ptr_array_new_with_free_func (wb_record_free);

  g_return_val_if_fail (vessels != NULL && wicks != NULL && scents != NULL, cells);

  for (guint v = 0; v < vessels->len; v++)
    for (guint s = 0; s < scents->len; s++)
      for (guint w = 0; w < wicks->len; w++)
        {
          const WbCraftScent *scent = &g_array_index (scents, WbCraftScent, s);
          const WbCraftWickChoice *choice = &g_array_index (wicks, WbCraftWickChoice, w);
          WbCell *cell = wb_record_new (&wb_cell_type);

          cell->vessel = g_array_index (vessels, gint64, v);
          cell->wick = choice->wick;
          cell->wick_count = MAX (choice->count, 1);
          cell->wick_spacing_mm = choice->count > 1 ? choice->spacing_mm : NAN;
          cell->fragrance = scent->fragrance;
          cell->load_pct = scent->fragrance != 0 ? scent->load_pct : 0;
          cell->load_basis = scent->load_basis;
          g_ptr_array_add (cells, cell);
        }
  return cells;
}

/* Index of each cell's level among the distinct ones, in order of appearance; returns how many there are. */
typedef gboolean (*SameFunc) (const WbCell *a, const WbCell *b);

static gboolean
same_vessel (const WbCell *a,
             const WbCell *b)
{
  return a->vessel == b->vessel;
}

static gboolean
same_scent (const WbCell *a,
            const WbCell *b)
{
  return a->fragrance == b->fragrance && a->load_pct == b->load_pct && a->load_basis == b->load_basis;
}

static gboolean
same_wick (const WbCell *a,
           const WbCell *b)
{
  return a->wick == b->wick && a->wick_count == b->wick_count && compare_spacings (a->wick_spacing_mm, b->wick_spacing_mm) == 0;
}

static guint
number_levels (const GPtrArray *cells,
               SameFunc         same,
               guint           *level)
{
  guint n = 0;

  for (guint i = 0; i < cells->len; i++)
    {
      level[i] = n;
      for (guint j = 0; j < i; j++)
        if (same (g_ptr_array_index (cells, i), g_ptr_array_index (cells, j)))
          {
            level[i] = level[j];
            break;
          }
      if (level[i] == n)
        n++;
    }
  return n;
}

/* A letter for the level; past the alphabet's end a number behind the last letter. */
static void
append_letter (GString    *code,
               const char *letters,
               guint       n_letters,
               guint       level)
{
  g_string_append_c (code, letters[level % n_letters]);
  if (level >= n_letters)
    g_string_append_printf (code, "%u", level / n_letters + 1);
}

/*
 * Wicks and size as they can stand on a label: letters, digits and points, without the hyphen that would read as the
 * code's own. Several wicks come first as a number, which is parted from a size that begins with a digit.
 */
static char *
short_size (const WbCell *cell,
            const char   *size)
{
  GString *text = g_string_new (NULL);
  guint length = 0;
  gsize before;

  if (cell->wick_count > 1)
    g_string_append_printf (text, "%" G_GINT64_FORMAT, cell->wick_count);
  before = text->len;

  for (const char *p = size; p != NULL && *p != '\0' && length < LONGEST_SIZE; p = g_utf8_next_char (p))
    {
      gunichar c = g_utf8_get_char (p);

      if (g_unichar_isalnum (c) || c == '.')
        {
          g_string_append_unichar (text, c);
          length++;
        }
    }
  if (length == 0)
    g_string_append_c (text, 'W');
  if (before > 0 && !g_unichar_isalpha (g_utf8_get_char (text->str + before)))
    g_string_insert_c (text, (gssize) before, 'x');
  return g_string_free (text, FALSE);
}

/* The text with every character that is easily mistaken replaced by the one that it is mistaken for. */
static char *
blurred (const char *text)
{
  g_autofree char *folded = g_utf8_strup (text, -1);

  for (char *p = folded; *p != '\0'; p++)
    switch (*p)
      {
      case 'O': case 'Q': case 'D': *p = '0'; break;
      case 'I': case 'L': *p = '1'; break;
      case 'Z': *p = '2'; break;
      case 'S': *p = '5'; break;
      case 'G': *p = '6'; break;
      case 'B': *p = '8'; break;
      default: break;
      }
  return g_steal_pointer (&folded);
}

/* TRUE where two different wicks have sizes that cannot be told apart at arm's length. */
static gboolean
sizes_blur (const GPtrArray *cells,
            const GPtrArray *sizes,
            const guint     *wick,
            guint            n)
{
  g_autoptr (GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);

  for (guint i = 0; i < n; i++)
    {
      g_autofree char *size = short_size (g_ptr_array_index (cells, i), g_ptr_array_index (sizes, i));
      g_autofree char *key = blurred (size);
      gpointer other;

      if (g_hash_table_lookup_extended (seen, key, NULL, &other) && GPOINTER_TO_UINT (other) != wick[i])
        return TRUE;
      g_hash_table_insert (seen, g_steal_pointer (&key), GUINT_TO_POINTER (wick[i]));
    }
  return FALSE;
}

/* The highest number behind each beginning of a code, both as they may be misread; a code of another form is nobody's beginning. */
static GHashTable *
highest_numbers (const GPtrArray *taken)
{
  GHashTable *highest = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);

  for (guint i = 0; taken != NULL && i < taken->len; i++)
    {
      const char *code = g_ptr_array_index (taken, i), *hyphen = code != NULL ? strrchr (code, '-') : NULL;
      g_autofree char *beginning = hyphen != NULL ? g_strndup (code, (gsize) (hyphen - code)) : NULL;
      guint64 number;

      if (hyphen == NULL || !g_ascii_string_to_unsigned (hyphen + 1, 10, 1, HIGHEST_NUMBER, &number, NULL))
        continue;
      char *key = blurred (beginning);
      number = MAX (number, GPOINTER_TO_UINT (g_hash_table_lookup (highest, key)));
      g_hash_table_replace (highest, key, GUINT_TO_POINTER ((guint) number));
    }
  return highest;
}

guint
wb_craft_grid_run_of_code (const char *code)
{
  g_autofree char *digits = NULL;
  const char *hyphen = code != NULL ? strchr (code, '-') : NULL;
  guint64 run;

  /* "R2-1" is of a wick of that size, "R2-S4-1" of a run. */
  if (hyphen == NULL || *code != 'R' || strchr (hyphen + 1, '-') == NULL)
    return 1;
  digits = g_strndup (code + 1, (gsize) (hyphen - code - 1));
  return g_ascii_string_to_unsigned (digits, 10, 2, HIGHEST_NUMBER, &run, NULL) ? (guint) run : 1;
}

/* What a code begins with, before its hyphen and number; of the first run. */
static GPtrArray *
list_beginnings (const GPtrArray *cells,
                 const GPtrArray *wick_sizes)
{
  GPtrArray *beginnings = g_ptr_array_new_with_free_func (g_free);
  g_autofree guint *vessel = g_new0 (guint, cells->len), *wick = g_new0 (guint, cells->len), *scent = g_new0 (guint, cells->len);
  guint n_vessels = number_levels (cells, same_vessel, vessel), n_scents = number_levels (cells, same_scent, scent);
  gboolean letter_the_wick;

  number_levels (cells, same_wick, wick);
  letter_the_wick = sizes_blur (cells, wick_sizes, wick, cells->len);
  for (guint i = 0; i < cells->len; i++)
    {
      GString *beginning = g_string_new (NULL);
      g_autofree char *size = short_size (g_ptr_array_index (cells, i), g_ptr_array_index (wick_sizes, i));

      if (letter_the_wick)
        append_letter (beginning, wick_letters, sizeof wick_letters - 1, wick[i]);
      g_string_append (beginning, size);
      if (n_vessels > 1)
        append_letter (beginning, vessel_letters, sizeof vessel_letters - 1, vessel[i]);
      if (n_scents > 1)
        append_letter (beginning, scent_letters, sizeof scent_letters - 1, scent[i]);
      g_ptr_array_add (beginnings, g_string_free (beginning, FALSE));
    }
  return beginnings;
}

/* Takes the beginning. */
static char *
add_run (char  *beginning,
         guint  run)
{
  g_autofree char *bare = beginning;

  return run > 1 ? g_strdup_printf ("R%u-%s", run, bare) : g_steal_pointer (&bare);
}

static gboolean
is_run_free (const GPtrArray *beginnings,
             GHashTable      *highest,
             guint            run)
{
  for (guint i = 0; i < beginnings->len; i++)
    {
      g_autofree char *beginning = add_run (g_strdup (g_ptr_array_index (beginnings, i)), run), *misread = blurred (beginning);

      if (g_hash_table_contains (highest, misread))
        return FALSE;
    }
  return TRUE;
}

char **
wb_craft_grid_codes (const GPtrArray *cells,
                     const GPtrArray *wick_sizes,
                     guint            n,
                     guint            run,
                     const GPtrArray *taken)
{
  g_autoptr (GHashTable) highest = NULL;
  g_autoptr (GPtrArray) beginnings = NULL;
  g_autoptr (GPtrArray) codes = g_ptr_array_new ();

  g_return_val_if_fail (cells != NULL && wick_sizes != NULL && cells->len == wick_sizes->len, NULL);

  beginnings = list_beginnings (cells, wick_sizes);
  highest = highest_numbers (taken);
  if (run == WB_CRAFT_GRID_NEXT_RUN)
    for (run = 2; !is_run_free (beginnings, highest, run); run++)
      ;
  for (guint i = 0; i < cells->len; i++)
    {
      g_autofree char *beginning = add_run (g_strdup (g_ptr_array_index (beginnings, i)), run), *misread = blurred (beginning);
      guint used = GPOINTER_TO_UINT (g_hash_table_lookup (highest, misread));

      for (guint k = 1; k <= n; k++)
        g_ptr_array_add (codes, g_strdup_printf ("%s-%u", beginning, used + k));
    }
  g_ptr_array_add (codes, NULL);
  return (char **) g_ptr_array_free (g_steal_pointer (&codes), FALSE);
}
