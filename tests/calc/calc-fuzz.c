/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "calc-fuzz.h"

#include <float.h>
#include <math.h>
#include <string.h>

enum
{
  ORDINARY,
  WHOLE,
  EQUAL,
  FAR_FROM_ZERO,
  HUGE_ONES,
  TINY_ONES,
  DENORMAL,
  BITS,
  N_KINDS
};

/* One array in this many holds a NaN or an infinity. */
#define POISON_ONE_IN 6

void
calc_fuzz_begin (CalcFuzz *fuzz,
                 guint64   seed,
                 guint64   number)
{
  wb_calc_random_init (&fuzz->random, seed, number);
  fuzz->seed = seed;
  fuzz->number = number;
  fuzz->subject = "nothing yet";
  fuzz->poisoned = FALSE;
}

gsize
calc_fuzz_below (CalcFuzz *fuzz,
                 gsize     bound)
{
  return (gsize) wb_calc_random_below (&fuzz->random, bound);
}

bool
calc_fuzz_chance (CalcFuzz *fuzz,
                  double    p)
{
  return wb_calc_random_uniform (&fuzz->random) < p;
}

/* Any finite pattern of bits. */
static double
of_bits (CalcFuzz *fuzz)
{
  double x;

  do
    {
      guint64 bits = wb_calc_random_next (&fuzz->random);

      memcpy (&x, &bits, sizeof x);
    }
  while (!isfinite (x));
  return x;
}

static double
of_kind (CalcFuzz *fuzz,
         gsize     kind)
{
  double normal = wb_calc_random_normal (&fuzz->random);

  switch (kind)
    {
    case ORDINARY:
      return 20.0 + 10.0 * normal;
    case WHOLE:
      return (double) calc_fuzz_below (fuzz, 4);
    case EQUAL:
      return 3.7;
    case FAR_FROM_ZERO:
      return 1e9 + normal;
    case HUGE_ONES:
      return DBL_MAX * tanh (normal);
    case TINY_ONES:
      return 1e-300 * normal;
    case DENORMAL:
      return DBL_TRUE_MIN * (double) calc_fuzz_below (fuzz, 1000);
    default:
      return of_bits (fuzz);
    }
}

/* Half of all numbers are ordinary: more than refusals has to be reached. */
static gsize
draw_kind (CalcFuzz *fuzz)
{
  return calc_fuzz_chance (fuzz, 0.5) ? ORDINARY : calc_fuzz_below (fuzz, N_KINDS);
}

double
calc_fuzz_number (CalcFuzz *fuzz)
{
  return of_kind (fuzz, draw_kind (fuzz));
}

double
calc_fuzz_positive (CalcFuzz *fuzz)
{
  double x = fabs (calc_fuzz_number (fuzz));

  return x > 0.0 ? x : 1.0;
}

void
calc_fuzz_fill (CalcFuzz *fuzz,
                double   *x,
                gsize     n)
{
  gsize kind = draw_kind (fuzz);

  for (gsize i = 0; i < n; i++)
    x[i] = of_kind (fuzz, calc_fuzz_chance (fuzz, 0.02) ? calc_fuzz_below (fuzz, N_KINDS) : kind);
  if (n > 0 && calc_fuzz_below (fuzz, POISON_ONE_IN) == 0)
    {
      static const double poisons[] = { NAN, INFINITY, -INFINITY };

      x[calc_fuzz_below (fuzz, n)] = poisons[calc_fuzz_below (fuzz, 3)];
      fuzz->poisoned = TRUE;
    }
}

void
calc_fuzz_fill_positive (CalcFuzz *fuzz,
                         double   *x,
                         gsize     n)
{
  calc_fuzz_fill (fuzz, x, n);
  for (gsize i = 0; i < n; i++)
    x[i] = fabs (x[i]);
}

bool
calc_fuzz_indexes (CalcFuzz *fuzz,
                   gsize    *x,
                   gsize     n,
                   gsize     bound)
{
  for (gsize i = 0; i < n; i++)
    x[i] = calc_fuzz_below (fuzz, bound);
  if (n == 0 || calc_fuzz_below (fuzz, 20) != 0)
    return n > 0 && bound == 0;
  x[calc_fuzz_below (fuzz, n)] = calc_fuzz_chance (fuzz, 0.5) ? bound : G_MAXSIZE;
  return true;
}

void
calc_fuzz_expect (CalcFuzz   *fuzz,
                  bool        fine,
                  const char *what)
{
  if (fine)
    return;

  g_autofree char *text = g_strdup_printf ("%s: %s", fuzz->subject, what);

  fuzz->n_complaints++;
  if (g_hash_table_contains (fuzz->seen, text))
    return;
  g_printerr ("%s (--seed %" G_GUINT64_FORMAT " --case %" G_GUINT64_FORMAT ")\n", text, fuzz->seed, fuzz->number);
  g_hash_table_add (fuzz->seen, g_steal_pointer (&text));
}

void
calc_fuzz_expect_finite (CalcFuzz     *fuzz,
                         const double *x,
                         gsize         n,
                         const char   *what)
{
  for (gsize i = 0; i < n; i++)
    if (!isfinite (x[i]))
      {
        g_autofree char *text = g_strdup_printf ("%s is not finite", what);

        calc_fuzz_expect (fuzz, false, text);
        return;
      }
}

void
calc_fuzz_expect_chance (CalcFuzz   *fuzz,
                         double      p,
                         const char *what)
{
  g_autofree char *text = g_strdup_printf ("%s is no chance", what);

  calc_fuzz_expect (fuzz, p >= 0.0 && p <= 1.0, text);
}

bool
calc_fuzz_expect_status (CalcFuzz     *fuzz,
                         WbCalcStatus  status)
{
  calc_fuzz_expect (fuzz, !g_str_equal (wb_calc_status_get_name (status), "unknown"), "a status that there is not");
  calc_fuzz_expect (fuzz, status != WB_CALC_CANCELLED && status != WB_CALC_NO_MEMORY, "cancelled or out of memory");
  if (fuzz->poisoned)
    calc_fuzz_expect (fuzz, status == WB_CALC_BAD_INPUT, "a NaN or an infinity passed");
  return status == WB_CALC_OK;
}
