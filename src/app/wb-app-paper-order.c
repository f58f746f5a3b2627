/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-paper-order-private.h"

#include <string.h>

/* A number within a code, without the noughts before it: as text, since it may have any length. */
static int
compare_numbers (const char **a,
                 const char **b)
{
  gsize first, second;

  while (**a == '0' && g_ascii_isdigit ((*a)[1]))
    (*a)++;
  while (**b == '0' && g_ascii_isdigit ((*b)[1]))
    (*b)++;
  first = strspn (*a, "0123456789");
  second = strspn (*b, "0123456789");
  if (first != second)
    return first < second ? -1 : 1;
  for (; g_ascii_isdigit (**a); (*a)++, (*b)++)
    if (**a != **b)
      return **a < **b ? -1 : 1;
  return 0;
}

static int
compare_codes (const char *a,
               const char *b)
{
  const char *first = a, *second = b;

  while (*first != '\0' && *second != '\0')
    {
      int order;

      if (g_ascii_isdigit (*first) && g_ascii_isdigit (*second))
        {
          order = compare_numbers (&first, &second);
          if (order != 0)
            return order;
          continue;
        }
      if (*first != *second)
        break;
      first++;
      second++;
    }
  if (*first != *second)
    return (guchar) *first < (guchar) *second ? -1 : 1;
  /* "T1" and "T01" are two codes. */
  return strcmp (a, b);
}

static int
compare (gconstpointer a,
         gconstpointer b)
{
  return compare_codes (wb_app_bench_sample_get_code (*(WbAppBenchSample *const *) a),
                        wb_app_bench_sample_get_code (*(WbAppBenchSample *const *) b));
}

GPtrArray *
wb_app_paper_order_dup (WbAppBench *bench,
                        gint64      experiment)
{
  GPtrArray *samples;

  g_return_val_if_fail (WB_IS_APP_BENCH (bench), NULL);

  samples = wb_app_bench_dup_of_experiment (bench, experiment);
  g_ptr_array_sort (samples, compare);
  return samples;
}
