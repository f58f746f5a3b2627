/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-blocks-private.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <gsl/gsl_blas.h>
#include <gsl/gsl_linalg.h>

#include "wb-calc-random.h"

/* Added to every factor while it is searched, so that a design that is not connected has an inverse, and a very bad one. */
#define FLOOR 1e-6
/* Inverses that were brought up to date so often are worked out anew: rounding adds up. */
#define REFRESH 64
#define ASK_EVERY 2048
#define PROBES 200
/* The temperature, as a share of what an exchange usually changes, at the beginning and at the end of a start: by trial, with the published designs of the test. */
#define HOT 0.1
#define COLD 0.005
/* As many starts, and exchanges tried a plot, as a few seconds allow: an exchange that is made costs some 12 v^2 steps. */
#define MOST_TRIES 40
#define LEAST_TRIES 4
#define TRIES_COST 6e6
#define MOST_MOVES_A_PLOT 1500
#define LEAST_MOVES_A_PLOT 20
#define MOVES_COST 1.5e9
#define MOST_SWEEPS 50
#define GAIN 1e-10

/*
 * State of a start. With M = R^-1/2 C R^-1/2 + q q' + floor (q the direction of the factor that is always 0) and n_j the scaled
 * incidence of block j, R^-1/2 N e_j / k_j: W = M^-1 and W W, their products with all n_j, and the n_i' W n_j. What an
 * exchange does to the trace of W is then a matter of a dozen numbers.
 */
typedef struct
{
  const WbCalcBlocksLayout *layout;
  size_t       v, b, plots, n_open;
  size_t      *treatment;  /* a plot */
  size_t      *block;      /* a plot */
  size_t      *open;       /* plots that are not held */
  size_t      *incidence;  /* v × b */
  size_t      *order;      /* v: of the deal */
  size_t      *left;       /* v: copies not dealt */
  size_t      *space;      /* b: open plots not dealt */
  double      *scale;      /* of a treatment: r^-1/2 */
  double      *scaled;     /* v × b: the n_j */
  double      *w, *ww;     /* v × v */
  double      *p, *pp;     /* v × b: W n_j, W W n_j */
  double      *g, *gg;     /* b × b: n_i' W n_j, n_i' W W n_j */
  double      *x, *z;      /* v × 2, of an exchange */
  double      *xn, *zn;    /* b × 2 */
  double       trace;
  size_t       n_since;    /* exchanges since the last refresh */
  WbCalcRandom random;
} Search;

/* An exchange of two plots and what it does. */
typedef struct
{
  size_t one, other;     /* plots */
  double dwd, dwu, uwu;  /* of W; dwu less 1 */
  double c;              /* half the sum of the inverses of the blocks' sizes */
  double change;         /* of the trace */
  int    repeats;        /* change of these */
} Exchange;

static void
search_clear (Search *self)
{
  void *owned[] = {
    self->treatment, self->block, self->open, self->incidence, self->order, self->left, self->space, self->scale, self->scaled,
    self->w, self->ww, self->p, self->pp, self->g, self->gg, self->x, self->z, self->xn, self->zn,
  };

  for (size_t i = 0; i < sizeof owned / sizeof *owned; i++)
    free (owned[i]);
}

static WbCalcStatus
search_init (Search                   *self,
             const WbCalcBlocksLayout *layout,
             const size_t             *held,
             size_t                    plots)
{
  size_t v = layout->n_treatments, b = layout->n_blocks, plot = 0;

  *self = (Search) { .layout = layout, .v = v, .b = b, .plots = plots };
  struct { void **array; size_t n, size; } wanted[] = {
    { (void **) &self->treatment, plots, sizeof (size_t) }, { (void **) &self->block, plots, sizeof (size_t) },
    { (void **) &self->open, plots, sizeof (size_t) }, { (void **) &self->incidence, v * b, sizeof (size_t) },
    { (void **) &self->order, v, sizeof (size_t) }, { (void **) &self->left, v, sizeof (size_t) },
    { (void **) &self->space, b, sizeof (size_t) }, { (void **) &self->scale, v, sizeof (double) },
    { (void **) &self->scaled, v * b, sizeof (double) }, { (void **) &self->w, v * v, sizeof (double) },
    { (void **) &self->ww, v * v, sizeof (double) }, { (void **) &self->p, v * b, sizeof (double) },
    { (void **) &self->pp, v * b, sizeof (double) }, { (void **) &self->g, b * b, sizeof (double) },
    { (void **) &self->gg, b * b, sizeof (double) }, { (void **) &self->x, 2 * v, sizeof (double) },
    { (void **) &self->z, 2 * v, sizeof (double) }, { (void **) &self->xn, 2 * b, sizeof (double) },
    { (void **) &self->zn, 2 * b, sizeof (double) },
  };

  for (size_t i = 0; i < sizeof wanted / sizeof *wanted; i++)
    {
      *wanted[i].array = calloc (wanted[i].n, wanted[i].size);
      if (*wanted[i].array == NULL)
        return WB_CALC_NO_MEMORY;
    }
  for (size_t j = 0; j < b; j++)
    for (size_t k = 0; k < layout->sizes[j]; k++, plot++)
      self->block[plot] = j;
  for (size_t i = 0; i < plots; i++)
    if (held == NULL || held[i] == SIZE_MAX)
      self->open[self->n_open++] = i;
  for (size_t i = 0; i < v; i++)
    self->scale[i] = 1.0 / sqrt ((double) layout->replications[i]);
  return WB_CALC_OK;
}

/* The block that has the treatment least often and, of those, the most room; by lot among equals. There is room in one. */
static size_t
choose_block (Search *self,
              size_t  treatment)
{
  const size_t *row = &self->incidence[treatment * self->b];
  size_t best = SIZE_MAX, ties = 0;

  for (size_t j = 0; j < self->b; j++)
    {
      if (self->space[j] == 0)
        continue;
      if (best == SIZE_MAX || row[j] < row[best] || (row[j] == row[best] && self->space[j] > self->space[best]))
        {
          best = j;
          ties = 1;
        }
      else if (row[j] == row[best] && self->space[j] == self->space[best] && wb_calc_random_below (&self->random, ++ties) == 0)
        best = j;
    }
  return best;
}

/*
 * A start: treatment by treatment in random order, each copy where it repeats least. Of blocks that hold nothing yet that repeats
 * none where it can be avoided (Gale and Ryser).
 */
static void
deal (Search       *self,
      const size_t *held)
{
  for (size_t i = 0; i < self->plots; i++)
    self->treatment[i] = held != NULL ? held[i] : SIZE_MAX;
  wb_calc_blocks_incidence (self->layout, self->treatment, self->incidence);
  for (size_t i = 0; i < self->v; i++)
    {
      self->order[i] = i;
      self->left[i] = self->layout->replications[i];
      for (size_t j = 0; j < self->b; j++)
        self->left[i] -= self->incidence[i * self->b + j];
    }
  memset (self->space, 0, self->b * sizeof *self->space);
  for (size_t i = 0; i < self->n_open; i++)
    self->space[self->block[self->open[i]]]++;
  wb_calc_random_shuffle (&self->random, self->order, self->v);
  for (size_t i = 0; i < self->v; i++)
    for (size_t treatment = self->order[i]; self->left[treatment] > 0; self->left[treatment]--)
      {
        size_t block = choose_block (self, treatment);

        self->incidence[treatment * self->b + block]++;
        self->space[block]--;
      }
  /* into the plots: what of the incidence is not held */
  for (size_t i = 0; i < self->plots; i++)
    if (self->treatment[i] != SIZE_MAX)
      self->incidence[self->treatment[i] * self->b + self->block[i]]--;
  for (size_t i = 0; i < self->n_open; i++)
    {
      size_t plot = self->open[i], treatment = 0;

      while (self->incidence[treatment * self->b + self->block[plot]] == 0)
        treatment++;
      self->treatment[plot] = treatment;
      self->incidence[treatment * self->b + self->block[plot]]--;
    }
  wb_calc_blocks_incidence (self->layout, self->treatment, self->incidence);
}

/* Everything from the incidence; false: it has no inverse, by rounding. */
static bool
refresh (Search *self)
{
  size_t v = self->v, b = self->b;
  gsl_matrix_view w = gsl_matrix_view_array (self->w, v, v), ww = gsl_matrix_view_array (self->ww, v, v);
  gsl_matrix_view n = gsl_matrix_view_array (self->scaled, v, b), p = gsl_matrix_view_array (self->p, v, b);
  gsl_matrix_view pp = gsl_matrix_view_array (self->pp, v, b), g = gsl_matrix_view_array (self->g, b, b);
  gsl_matrix_view gg = gsl_matrix_view_array (self->gg, b, b);

  wb_calc_blocks_information (self->layout, self->incidence, self->w);
  for (size_t i = 0; i < v; i++)
    for (size_t k = 0; k < v; k++)
      /* q is the root of the share of the plots that a treatment has */
      self->w[i * v + k] += 1.0 / (self->scale[i] * self->scale[k] * (double) self->plots) + (i == k ? FLOOR : 0.0);
  for (size_t i = 0; i < v; i++)
    for (size_t j = 0; j < b; j++)
      self->scaled[i * b + j] = self->scale[i] * (double) self->incidence[i * b + j] / (double) self->layout->sizes[j];
  if (gsl_linalg_cholesky_decomp1 (&w.matrix) != 0 || gsl_linalg_cholesky_invert (&w.matrix) != 0)
    return false;
  gsl_blas_dgemm (CblasNoTrans, CblasNoTrans, 1.0, &w.matrix, &w.matrix, 0.0, &ww.matrix);
  gsl_blas_dgemm (CblasNoTrans, CblasNoTrans, 1.0, &w.matrix, &n.matrix, 0.0, &p.matrix);
  gsl_blas_dgemm (CblasNoTrans, CblasNoTrans, 1.0, &ww.matrix, &n.matrix, 0.0, &pp.matrix);
  gsl_blas_dgemm (CblasTrans, CblasNoTrans, 1.0, &n.matrix, &p.matrix, 0.0, &g.matrix);
  gsl_blas_dgemm (CblasTrans, CblasNoTrans, 1.0, &n.matrix, &pp.matrix, 0.0, &gg.matrix);
  self->trace = 0.0;
  for (size_t i = 0; i < v; i++)
    self->trace += self->w[i * v + i];
  self->n_since = 0;
  return true;
}

/* How many more repeats there are when a treatment leaves one block and comes into another. */
static int
count_repeats (const Search *self,
               size_t        treatment,
               size_t        from,
               size_t        to)
{
  const size_t *row = &self->incidence[treatment * self->b];

  return (row[to] >= 1) - (row[from] >= 2);
}

/*
 * With a in block i and b in block j, d = R^-1/2 (e_b - e_a) and u = n_i - n_j + c d, an exchange makes M into M - d u' - u d'. By
 * Woodbury's identity the trace of the inverse changes by - tr (Q^-1 A' W W A), where A = [d u] and Q = A' W A less 1 off its
 * diagonal. false: nothing is exchanged, or what comes of it has no inverse.
 */
static bool
judge (const Search *self,
       size_t        one,
       size_t        other,
       Exchange     *exchange)
{
  size_t v = self->v, b = self->b, from = self->treatment[one], to = self->treatment[other], i = self->block[one], j = self->block[other];
  double sa = self->scale[from], sb = self->scale[to];
  double c = 0.5 * (1.0 / (double) self->layout->sizes[i] + 1.0 / (double) self->layout->sizes[j]);
  double dwn, zdn, dwd, dwu, uwu, zd, zdu, zu, det;

  if (from == to || i == j)
    return false;
  dwd = sb * sb * self->w[to * v + to] + sa * sa * self->w[from * v + from] - 2.0 * sa * sb * self->w[from * v + to];
  zd = sb * sb * self->ww[to * v + to] + sa * sa * self->ww[from * v + from] - 2.0 * sa * sb * self->ww[from * v + to];
  dwn = sb * (self->p[to * b + i] - self->p[to * b + j]) - sa * (self->p[from * b + i] - self->p[from * b + j]);
  zdn = sb * (self->pp[to * b + i] - self->pp[to * b + j]) - sa * (self->pp[from * b + i] - self->pp[from * b + j]);
  dwu = dwn + c * dwd - 1.0;
  zdu = zdn + c * zd;
  uwu = self->g[i * b + i] + self->g[j * b + j] - 2.0 * self->g[i * b + j] + c * (2.0 * dwn + c * dwd);
  zu = self->gg[i * b + i] + self->gg[j * b + j] - 2.0 * self->gg[i * b + j] + c * (2.0 * zdn + c * zd);
  det = dwd * uwu - dwu * dwu;
  if (!(det < -1e-12))
    return false;
  *exchange = (Exchange) {
    .one = one, .other = other, .dwd = dwd, .dwu = dwu, .uwu = uwu, .c = c,
    .change = -(uwu * zd - 2.0 * dwu * zdu + dwd * zu) / det,
    .repeats = count_repeats (self, from, i, j) + count_repeats (self, to, j, i),
  };
  return isfinite (exchange->change);
}

/* left and right n × 2, the 2 × 2 between them symmetric: matrix (n × m) -= left t right' of columns given as m × 2. */
static void
subtract (double       *matrix,
          const double *left,
          size_t        n,
          const double  t[3],
          const double *right,
          size_t        m)
{
  for (size_t i = 0; i < n; i++)
    {
      double first = left[2 * i] * t[0] + left[2 * i + 1] * t[1], second = left[2 * i] * t[1] + left[2 * i + 1] * t[2];
      double *row = &matrix[i * m];

      for (size_t k = 0; k < m; k++)
        row[k] -= first * right[2 * k] + second * right[2 * k + 1];
    }
}

/* sums (b × 2): n_j' of the columns (v × 2). */
static void
project (const Search *self,
         const double *columns,
         double       *sums)
{
  memset (sums, 0, 2 * self->b * sizeof *sums);
  for (size_t i = 0; i < self->v; i++)
    for (size_t j = 0; j < self->b; j++)
      {
        double n = self->scaled[i * self->b + j];

        sums[2 * j] += n * columns[2 * i];
        sums[2 * j + 1] += n * columns[2 * i + 1];
      }
}

/* The columns of the two blocks move by W d over their sizes, of p and pp alike. */
static void
shift_columns (const Search   *self,
               const Exchange *exchange,
               const double   *w,
               double         *p)
{
  size_t v = self->v, b = self->b, i = self->block[exchange->one], j = self->block[exchange->other];
  size_t from = self->treatment[exchange->one], to = self->treatment[exchange->other];

  for (size_t k = 0; k < v; k++)
    {
      double wd = self->scale[to] * w[k * v + to] - self->scale[from] * w[k * v + from];

      p[k * b + i] += wd / (double) self->layout->sizes[i];
      p[k * b + j] -= wd / (double) self->layout->sizes[j];
    }
}

static void
sum_inner (const Search *self,
           const double *p,
           double       *g)
{
  memset (g, 0, self->b * self->b * sizeof *g);
  for (size_t plot = 0; plot < self->plots; plot++)
    {
      size_t j = self->block[plot], treatment = self->treatment[plot];
      double share = self->scale[treatment] / (double) self->layout->sizes[j];

      for (size_t k = 0; k < self->b; k++)
        g[j * self->b + k] += share * p[treatment * self->b + k];
    }
}

/* X = W A and Z = W W A - X T X'X / 2, for W - X T X' and W W - Z T X' - X T Z'. */
static void
find_columns (Search         *self,
              const Exchange *exchange,
              const double    t[3])
{
  size_t v = self->v, b = self->b, i = self->block[exchange->one], j = self->block[exchange->other];
  size_t from = self->treatment[exchange->one], to = self->treatment[exchange->other];
  double dd = 0.0, du = 0.0, uu = 0.0;

  for (size_t k = 0; k < v; k++)
    {
      double wd = self->scale[to] * self->w[k * v + to] - self->scale[from] * self->w[k * v + from];
      double wwd = self->scale[to] * self->ww[k * v + to] - self->scale[from] * self->ww[k * v + from];

      self->x[2 * k] = wd;
      self->x[2 * k + 1] = self->p[k * b + i] - self->p[k * b + j] + exchange->c * wd;
      self->z[2 * k] = wwd;
      self->z[2 * k + 1] = self->pp[k * b + i] - self->pp[k * b + j] + exchange->c * wwd;
      dd += wd * wd;
      du += wd * self->x[2 * k + 1];
      uu += self->x[2 * k + 1] * self->x[2 * k + 1];
    }
  for (size_t k = 0; k < v; k++)
    {
      double first = self->x[2 * k] * t[0] + self->x[2 * k + 1] * t[1], second = self->x[2 * k] * t[1] + self->x[2 * k + 1] * t[2];

      self->z[2 * k] -= 0.5 * (first * dd + second * du);
      self->z[2 * k + 1] -= 0.5 * (first * du + second * uu);
    }
}

static bool
carry_out (Search         *self,
           const Exchange *exchange)
{
  size_t v = self->v, b = self->b, i = self->block[exchange->one], j = self->block[exchange->other];
  size_t from = self->treatment[exchange->one], to = self->treatment[exchange->other];
  double det = exchange->dwd * exchange->uwu - exchange->dwu * exchange->dwu;
  const double t[3] = { exchange->uwu / det, -exchange->dwu / det, exchange->dwd / det };
  bool anew = ++self->n_since >= REFRESH;

  if (!anew)
    {
      find_columns (self, exchange, t);
      project (self, self->x, self->xn);
      project (self, self->z, self->zn);
      subtract (self->w, self->x, v, t, self->x, v);
      subtract (self->ww, self->z, v, t, self->x, v);
      subtract (self->ww, self->x, v, t, self->z, v);
      subtract (self->p, self->x, v, t, self->xn, b);
      subtract (self->pp, self->z, v, t, self->xn, b);
      subtract (self->pp, self->x, v, t, self->zn, b);
      shift_columns (self, exchange, self->w, self->p);
      shift_columns (self, exchange, self->ww, self->pp);
      self->trace += exchange->change;
    }
  self->incidence[from * b + i]--;
  self->incidence[from * b + j]++;
  self->incidence[to * b + j]--;
  self->incidence[to * b + i]++;
  self->treatment[exchange->one] = to;
  self->treatment[exchange->other] = from;
  if (anew)
    return refresh (self);
  self->scaled[from * b + i] -= self->scale[from] / (double) self->layout->sizes[i];
  self->scaled[from * b + j] += self->scale[from] / (double) self->layout->sizes[j];
  self->scaled[to * b + j] -= self->scale[to] / (double) self->layout->sizes[j];
  self->scaled[to * b + i] += self->scale[to] / (double) self->layout->sizes[i];
  sum_inner (self, self->p, self->g);
  sum_inner (self, self->pp, self->gg);
  return true;
}

static bool
draw_exchange (Search   *self,
               Exchange *exchange)
{
  size_t one = self->open[wb_calc_random_below (&self->random, self->n_open)];
  size_t other = self->open[wb_calc_random_below (&self->random, self->n_open)];

  return judge (self, one, other, exchange);
}

/* What an exchange usually changes the trace by. */
static double
find_scale (Search *self)
{
  double sum = 0.0;
  size_t n = 0;
  Exchange exchange;

  for (size_t i = 0; i < PROBES; i++)
    if (draw_exchange (self, &exchange) && exchange.repeats <= 0)
      {
        /* what connects two parts or cuts one off is of another size */
        sum += fmin (fabs (exchange.change), (double) self->v);
        n++;
      }
  return n > 0 ? sum / (double) n : 0.0;
}

/* Until no exchange of two plots is better. */
static bool
descend (Search *self)
{
  for (size_t sweep = 0; sweep < MOST_SWEEPS; sweep++)
    {
      bool any = false;

      if (!refresh (self))
        return false;
      for (size_t i = 0; i < self->n_open; i++)
        for (size_t k = 0; k < i; k++)
          {
            Exchange exchange;

            if (!judge (self, self->open[i], self->open[k], &exchange) || exchange.repeats > 0
                || (exchange.repeats == 0 && exchange.change >= -GAIN * self->trace))
              continue;
            any = true;
            if (!carry_out (self, &exchange))
              return false;
          }
      if (!any)
        return true;
    }
  return true;
}

/* What a call has found so far, and how far it is. */
typedef struct
{
  const WbCalcBlocksOptions *options;
  size_t               n_tries, n_moves;
  size_t               nth;
  size_t              *treatments;
  WbCalcBlocksFigures  figures;
  bool                 any;
} Found;

static WbCalcStatus
compare (Found        *found,
         const Search *self)
{
  WbCalcBlocksFigures figures;
  WbCalcStatus status = wb_calc_blocks_measure (self->layout, self->treatment, &figures);

  if (status != WB_CALC_OK)
    return status;
  if (found->any && (figures.repeats > found->figures.repeats
                     || (figures.repeats == found->figures.repeats && figures.efficiency <= found->figures.efficiency)))
    return WB_CALC_OK;
  memcpy (found->treatments, self->treatment, self->plots * sizeof *self->treatment);
  found->figures = figures;
  found->any = true;
  return WB_CALC_OK;
}

static bool
goes_on (const Found *found,
         size_t       move)
{
  if (found->options->keep_going == NULL)
    return true;
  return found->options->keep_going (((double) found->nth + (double) move / (double) found->n_moves) / (double) found->n_tries,
                                     found->any ? found->figures.efficiency : NAN, found->options->user);
}

static WbCalcStatus
anneal (Search *self,
        Found  *found)
{
  double scale = find_scale (self), temperature = HOT * scale, fall = pow (COLD / HOT, 1.0 / (double) found->n_moves);

  for (size_t move = 0; move < found->n_moves; move++, temperature *= fall)
    {
      Exchange exchange;

      if (move % ASK_EVERY == 0 && !goes_on (found, move))
        return WB_CALC_CANCELLED;
      if (!draw_exchange (self, &exchange) || exchange.repeats > 0)
        continue;
      if (exchange.repeats == 0 && exchange.change > 0.0
          && !(wb_calc_random_uniform (&self->random) < exp (-exchange.change / temperature)))
        continue;
      if (!carry_out (self, &exchange))
        return WB_CALC_UNIDENTIFIED;
    }
  return descend (self) ? WB_CALC_OK : WB_CALC_UNIDENTIFIED;
}

/* No design can be better: the bound is one for all where replications or sizes are equal. */
static bool
is_best (const WbCalcBlocksLayout  *layout,
         const WbCalcBlocksFigures *figures)
{
  bool same_sizes = true, same_replications = true;

  if (figures->efficiency >= 1.0 - GAIN)
    return true;
  for (size_t j = 1; j < layout->n_blocks; j++)
    same_sizes = same_sizes && layout->sizes[j] == layout->sizes[0];
  for (size_t i = 1; i < layout->n_treatments; i++)
    same_replications = same_replications && layout->replications[i] == layout->replications[0];
  return figures->repeats == 0 && (same_sizes || same_replications) && figures->efficiency >= figures->bound - GAIN;
}

/* A held treatment that there is not, or in more plots than it has. */
static bool
holds_too_much (const WbCalcBlocksLayout *layout,
                const size_t             *held,
                size_t                    plots)
{
  size_t *n = calloc (layout->n_treatments, sizeof *n);
  bool wrong = n == NULL;

  for (size_t i = 0; i < plots && !wrong; i++)
    if (held[i] != SIZE_MAX)
      wrong = held[i] >= layout->n_treatments || ++n[held[i]] > layout->replications[held[i]];
  free (n);
  return wrong;
}

static void
set_effort (Found        *found,
            const Search *self)
{
  double cost = (double) self->plots * (double) self->v * (double) self->v;
  double tries = fmin (fmax (TRIES_COST / cost, LEAST_TRIES), MOST_TRIES);
  double moves = fmin (fmax (MOVES_COST / cost, LEAST_MOVES_A_PLOT), MOST_MOVES_A_PLOT);

  found->n_tries = found->options->n_tries > 0 ? found->options->n_tries : (size_t) tries;
  found->n_moves = found->options->n_moves > 0 ? found->options->n_moves : (size_t) (moves * (double) self->plots);
}

/* One treatment, one block, nothing that may move, or too few plots to hang together: what is dealt is as good as any. */
static bool
is_settled (const Search *self)
{
  return self->v == 1 || self->b == 1 || self->n_open < 2 || self->plots + 1 < self->v + self->b;
}

WbCalcStatus
wb_calc_blocks_search (const WbCalcBlocksLayout  *layout,
                       const WbCalcBlocksOptions *options,
                       size_t                    *treatments,
                       WbCalcBlocksFigures       *figures)
{
  static const WbCalcBlocksOptions usual = { .seed = 1 };
  size_t plots = wb_calc_blocks_count_plots (layout);
  Found found = { .treatments = treatments, .figures = { .efficiency = NAN, .smallest = NAN, .bound = NAN } };
  WbCalcStatus status;
  Search search;

  if (figures != NULL)
    *figures = found.figures;
  found.options = options != NULL ? options : &usual;
  if (plots == 0 || (found.options->held != NULL && holds_too_much (layout, found.options->held, plots)))
    return WB_CALC_BAD_INPUT;
  status = search_init (&search, layout, found.options->held, plots);
  set_effort (&found, &search);
  for (found.nth = 0; found.nth < found.n_tries && status == WB_CALC_OK; found.nth++)
    {
      wb_calc_random_init (&search.random, found.options->seed, found.nth);
      deal (&search, found.options->held);
      if (is_settled (&search))
        {
          status = compare (&found, &search);
          break;
        }
      status = refresh (&search) ? anneal (&search, &found) : WB_CALC_UNIDENTIFIED;
      if (status == WB_CALC_OK || status == WB_CALC_CANCELLED)
        {
          WbCalcStatus compared = compare (&found, &search);

          status = compared == WB_CALC_OK ? status : compared;
        }
      if (found.any && is_best (layout, &found.figures))
        break;
    }
  search_clear (&search);
  if (figures != NULL)
    *figures = found.figures;
  return status;
}
