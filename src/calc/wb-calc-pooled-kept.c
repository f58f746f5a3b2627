/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-pooled-private.h"

#include <limits.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

/*
 * A fit as bytes. Coefficients that nobody asks for and that are eliminated before anything else, whatever the spreads, are eliminated once
 * for all: what they leave of A and of the right-hand side is of the same kind, and a few times smaller. The factors are made anew, as
 * they are much larger than what they are made of and no dearer to make than to read.
 *
 * The head: a mark with the version, the checksum of all behind it, how many coefficients the model has, are left, families, points,
 * entries of A. Then numbers, then indexes, each array as Layout has them.
 */
#define MARK 0x4c46504331ull
#define N_HEAD 7
#define NONE UINT32_MAX
#define WHOLE_MOST 4096 /* of left out coefficients, beyond what the bytes may well have had */

typedef struct
{
  size_t n_whole, n, n_families, n_points, n_entries;
  /* 8 bytes each */
  size_t log_density, usual, factor, spreads, weights, mean, sd, diagonal, right, value;
  /* 4 bytes each */
  size_t family, column, start, row;
  size_t size;
} Layout;

static size_t
place (size_t *at,
       size_t  n,
       size_t  width)
{
  size_t here = *at;

  *at += n * width;
  return here;
}

/* Where each array begins, from the counts. */
static void
lay_out (Layout *layout)
{
  size_t at = N_HEAD * sizeof (uint64_t), n = layout->n;

  layout->log_density = place (&at, 1, sizeof (double));
  layout->usual = place (&at, layout->n_families, sizeof (double));
  layout->factor = place (&at, layout->n_families, sizeof (double));
  layout->spreads = place (&at, layout->n_points * layout->n_families, sizeof (double));
  layout->weights = place (&at, layout->n_points, sizeof (double));
  layout->mean = place (&at, n, sizeof (double));
  layout->sd = place (&at, n, sizeof (double));
  layout->diagonal = place (&at, n, sizeof (double));
  layout->right = place (&at, n, sizeof (double));
  layout->value = place (&at, layout->n_entries, sizeof (double));
  layout->family = place (&at, n, sizeof (uint32_t));
  layout->column = place (&at, n, sizeof (uint32_t));
  layout->start = place (&at, n + 1, sizeof (uint32_t));
  layout->row = place (&at, layout->n_entries, sizeof (uint32_t));
  layout->size = at;
}

/* Against damage, not against anybody: two sums that run side by side, each of which every bit of every word goes through. */
static uint64_t
sum_up (const unsigned char *bytes,
        size_t               size)
{
  uint64_t a = 0x9e3779b97f4a7c15u ^ size, b = 0xd1b54a32d192ed03u;
  size_t at = 0;

  for (; at < size; at += 16)
    {
      uint64_t words[2] = { 0 };

      memcpy (words, bytes + at, size - at < 16 ? size - at : 16);
      a = (a ^ words[0]) * 0xff51afd7ed558ccdu;
      a ^= a >> 32;
      b = (b ^ words[1]) * 0xc4ceb9fe1a85ec53u;
      b ^= b >> 32;
    }
  a = (a ^ (b << 17 | b >> 47)) * 0xff51afd7ed558ccdu;
  return a ^ a >> 29;
}

/* ---- keeping ---- */

/* What is left out: places of the order, and of each the entries of A that it has with others. */
typedef struct
{
  bool   *out;     /* p */
  int    *left;    /* p: which of those that are left */
  int    *place;   /* n_left: its inverse */
  size_t  n_left;
  size_t *start;   /* p + 1 */
  int    *with;    /* place of the other, rising */
  double *value;
} Cut;

static void
cut_clear (Cut *cut)
{
  free (cut->out);
  free (cut->left);
  free (cut->place);
  free (cut->start);
  free (cut->with);
  free (cut->value);
}

static bool
may_go (const WbCalcPooledEquations *equations,
        size_t                       k,
        const bool                  *asked)
{
  size_t column = (size_t) equations->order[k];
  const WbCalcPooledCoefficient *coefficient = &equations->coefficients[column];

  /* the last stays, so that something does */
  return k + 1 < equations->p && !asked[column] && coefficient->family == WB_CALC_POOLED_NO_FAMILY && !isinf (coefficient->sd)
         && equations->l_by_row[k] == equations->l_by_row[k + 1];
}

static WbCalcStatus
cut_init (Cut                         *cut,
          const WbCalcPooledEquations *equations,
          const bool                  *asked)
{
  size_t p = equations->p;

  *cut = (Cut) {
    .out = calloc (p, sizeof *cut->out),
    .left = malloc (p * sizeof *cut->left),
    .place = malloc (p * sizeof *cut->place),
    .start = calloc (p + 2, sizeof *cut->start),
    .with = malloc (((size_t) equations->start[p] + 1) * sizeof *cut->with),
    .value = malloc (((size_t) equations->start[p] + 1) * sizeof *cut->value),
  };
  if (cut->out == NULL || cut->left == NULL || cut->place == NULL || cut->start == NULL || cut->with == NULL || cut->value == NULL)
    return WB_CALC_NO_MEMORY;
  for (size_t k = 0; k < p; k++)
    {
      cut->out[k] = may_go (equations, k, asked);
      cut->left[k] = cut->out[k] ? -1 : (int) cut->n_left;
      if (!cut->out[k])
        cut->place[cut->n_left++] = (int) k;
      for (int e = equations->start[k]; e < equations->start[k + 1]; e++)
        if (cut->out[equations->row[e]])
          cut->start[equations->row[e] + 2]++;
    }
  for (size_t k = 0; k <= p; k++)
    cut->start[k + 1] += cut->start[k];
  for (size_t k = 0; k < p; k++)
    for (int e = equations->start[k]; e < equations->start[k + 1]; e++)
      if (cut->out[equations->row[e]])
        {
          size_t at = cut->start[equations->row[e] + 1]++;

          cut->with[at] = (int) k;
          cut->value[at] = equations->value[e];
        }
  return WB_CALC_OK;
}

/* A and right-hand side of what is left, in the order of elimination. */
typedef struct
{
  size_t    n_entries, room;
  uint32_t *start, *row;
  double   *value, *diagonal, *right;
  int      *slot;    /* p: where in the column a row stands; -1: not yet */
} Left;

static void
left_clear (Left *left)
{
  free (left->start);
  free (left->row);
  free (left->value);
  free (left->diagonal);
  free (left->right);
  free (left->slot);
}

static WbCalcStatus
left_init (Left                        *left,
           const WbCalcPooledEquations *equations,
           const Cut                   *cut)
{
  *left = (Left) {
    .start = calloc (cut->n_left + 1, sizeof *left->start),
    .diagonal = calloc (cut->n_left, sizeof *left->diagonal),
    .right = calloc (cut->n_left, sizeof *left->right),
    .slot = malloc (equations->p * sizeof *left->slot),
  };
  if (left->start == NULL || left->diagonal == NULL || left->right == NULL || left->slot == NULL)
    return WB_CALC_NO_MEMORY;
  for (size_t k = 0; k < equations->p; k++)
    left->slot[k] = -1;
  return WB_CALC_OK;
}

/* Adds to the entry of row `place` in the column that is put together. */
static WbCalcStatus
left_add (Left      *left,
          const Cut *cut,
          int        place,
          double     value)
{
  if (left->slot[place] < 0)
    {
      if (left->n_entries == left->room)
        {
          size_t room = 2 * left->room + 1024;
          uint32_t *row = realloc (left->row, room * sizeof *row);
          double *values;

          left->row = row != NULL ? row : left->row;
          values = row != NULL && room < INT_MAX ? realloc (left->value, room * sizeof *values) : NULL;
          if (values == NULL)
            return WB_CALC_NO_MEMORY;
          left->value = values;
          left->room = room;
        }
      left->slot[place] = (int) left->n_entries;
      left->row[left->n_entries] = (uint32_t) cut->left[place];
      left->value[left->n_entries++] = 0.0;
    }
  left->value[left->slot[place]] += value;
  return WB_CALC_OK;
}

/* What the one that is left out, whose entry in column k is `entry`, takes away there. */
static WbCalcStatus
left_take (Left                        *left,
           const WbCalcPooledEquations *equations,
           const Cut                   *cut,
           size_t                       out,
           size_t                       k,
           double                       entry)
{
  size_t column = (size_t) equations->order[out];
  double share = entry / (equations->diagonal[out] + wb_calc_pooled_precision (&equations->coefficients[column], NULL));
  WbCalcStatus status = WB_CALC_OK;

  left->diagonal[cut->left[k]] -= share * entry;
  left->right[cut->left[k]] -= share * equations->right[column];
  for (size_t at = cut->start[out]; at < cut->start[out + 1] && (size_t) cut->with[at] < k && status == WB_CALC_OK; at++)
    status = left_add (left, cut, cut->with[at], -share * cut->value[at]);
  return status;
}

static WbCalcStatus
left_put_column (Left                        *left,
                 const WbCalcPooledEquations *equations,
                 const Cut                   *cut,
                 size_t                       k)
{
  size_t begin = left->n_entries;
  WbCalcStatus status = WB_CALC_OK;

  left->diagonal[cut->left[k]] += equations->diagonal[k];
  left->right[cut->left[k]] += equations->right[equations->order[k]];
  for (int e = equations->start[k]; e < equations->start[k + 1] && status == WB_CALC_OK; e++)
    status = cut->out[equations->row[e]] ? left_take (left, equations, cut, (size_t) equations->row[e], k, equations->value[e])
                                         : left_add (left, cut, equations->row[e], equations->value[e]);
  left->start[cut->left[k] + 1] = (uint32_t) left->n_entries;
  for (size_t at = begin; at < left->n_entries; at++)
    left->slot[cut->place[left->row[at]]] = -1;
  return status;
}

static void
write_coefficients (const WbCalcPooledEquations *equations,
                    const Cut                   *cut,
                    const Layout                *layout,
                    unsigned char               *bytes)
{
  for (size_t k = 0; k < equations->p; k++)
    {
      size_t column = (size_t) equations->order[k], i = (size_t) cut->left[k];
      const WbCalcPooledCoefficient *coefficient = &equations->coefficients[column];
      uint32_t indexes[2] = { coefficient->family == WB_CALC_POOLED_NO_FAMILY ? NONE : (uint32_t) coefficient->family, (uint32_t) column };
      double sd = coefficient->family == WB_CALC_POOLED_NO_FAMILY ? coefficient->sd : 1.0;

      if (cut->out[k])
        continue;
      memcpy (bytes + layout->mean + i * sizeof (double), &coefficient->mean, sizeof (double));
      memcpy (bytes + layout->sd + i * sizeof (double), &sd, sizeof (double));
      memcpy (bytes + layout->family + i * sizeof (uint32_t), &indexes[0], sizeof (uint32_t));
      memcpy (bytes + layout->column + i * sizeof (uint32_t), &indexes[1], sizeof (uint32_t));
    }
}

static void
write_points (const WbCalcPooled *self,
              const Layout       *layout,
              unsigned char      *bytes)
{
  size_t n = layout->n_families;

  memcpy (bytes + layout->log_density, &self->points.log_density, sizeof (double));
  for (size_t k = 0; k < n; k++)
    {
      memcpy (bytes + layout->usual + k * sizeof (double), &self->equations.families[k].usual, sizeof (double));
      memcpy (bytes + layout->factor + k * sizeof (double), &self->equations.families[k].factor, sizeof (double));
    }
  memcpy (bytes + layout->spreads, self->points.spreads, layout->n_points * n * sizeof (double));
  memcpy (bytes + layout->weights, self->points.weights, layout->n_points * sizeof (double));
}

static WbCalcStatus
write_all (const WbCalcPooled *self,
           const Cut          *cut,
           const Left         *left,
           unsigned char     **bytes,
           size_t             *size)
{
  Layout layout = { self->equations.p, cut->n_left, self->equations.n_families, self->points.n_points, left->n_entries };
  uint64_t head[N_HEAD] = { MARK, 0, layout.n_whole, layout.n, layout.n_families, layout.n_points, layout.n_entries };
  unsigned char *into;

  lay_out (&layout);
  into = malloc (layout.size);
  if (into == NULL)
    return WB_CALC_NO_MEMORY;
  write_points (self, &layout, into);
  write_coefficients (&self->equations, cut, &layout, into);
  memcpy (into + layout.diagonal, left->diagonal, layout.n * sizeof (double));
  memcpy (into + layout.right, left->right, layout.n * sizeof (double));
  memcpy (into + layout.start, left->start, (layout.n + 1) * sizeof (uint32_t));
  if (layout.n_entries > 0)
    {
      memcpy (into + layout.value, left->value, layout.n_entries * sizeof (double));
      memcpy (into + layout.row, left->row, layout.n_entries * sizeof (uint32_t));
    }
  memcpy (into, head, sizeof head);
  head[1] = sum_up (into + 2 * sizeof *head, layout.size - 2 * sizeof *head);
  memcpy (into, head, sizeof head);
  *bytes = into;
  *size = layout.size;
  return WB_CALC_OK;
}

WbCalcStatus
wb_calc_pooled_keep (const WbCalcPooled *self,
                     const bool         *asked,
                     unsigned char     **bytes,
                     size_t             *size)
{
  const WbCalcPooledEquations *equations = &self->equations;
  Cut cut = { NULL };
  Left left = { 0 };
  WbCalcStatus status = self->column != NULL ? WB_CALC_BAD_INPUT : cut_init (&cut, equations, asked);

  *bytes = NULL;
  *size = 0;
  if (status == WB_CALC_OK)
    status = left_init (&left, equations, &cut);
  for (size_t k = 0; k < equations->p && status == WB_CALC_OK; k++)
    if (!cut.out[k])
      status = left_put_column (&left, equations, &cut, k);
  if (status == WB_CALC_OK)
    status = write_all (self, &cut, &left, bytes, size);
  cut_clear (&cut);
  left_clear (&left);
  return status;
}

/* ---- taking up ---- */

/* The counts and the checksum; false: these are no such bytes. */
static bool
read_head (const unsigned char *bytes,
           size_t               size,
           Layout              *layout)
{
  uint64_t head[N_HEAD];

  if (bytes == NULL || size < sizeof head)
    return false;
  memcpy (head, bytes, sizeof head);
  if (head[0] != MARK || head[1] != sum_up (bytes + 2 * sizeof *head, size - 2 * sizeof *head))
    return false;
  /* each count below what its numbers take in these bytes: nothing that follows leaves a size_t */
  for (int i = 3; i < N_HEAD; i++)
    if (head[i] > size / sizeof (uint32_t) || head[i] > INT_MAX / 4)
      return false;
  *layout = (Layout) { (size_t) head[2], (size_t) head[3], (size_t) head[4], (size_t) head[5], (size_t) head[6] };
  if (head[2] > WHOLE_MOST + 16 * size || head[2] > INT_MAX / 2 || layout->n == 0 || layout->n > layout->n_whole || layout->n_points == 0
      || layout->n_points > 1 + 2 * layout->n_families)
    return false;
  lay_out (layout);
  return layout->size == size;
}

/* Copies `n` numbers; false: one is not finite. */
static bool
read_numbers (const unsigned char *from,
              size_t               n,
              double              *into)
{
  memcpy (into, from, n * sizeof (double));
  for (size_t i = 0; i < n; i++)
    if (!isfinite (into[i]))
      return false;
  return true;
}

static bool
read_coefficients (const unsigned char   *bytes,
                   const Layout          *layout,
                   WbCalcPooled          *self)
{
  WbCalcPooledEquations *equations = &self->equations;

  for (size_t j = 0; j < layout->n_whole; j++)
    self->column[j] = SIZE_MAX;
  for (size_t i = 0; i < layout->n; i++)
    {
      WbCalcPooledCoefficient *coefficient = &equations->coefficients[i];
      uint32_t family, column;

      memcpy (&coefficient->mean, bytes + layout->mean + i * sizeof (double), sizeof (double));
      memcpy (&coefficient->sd, bytes + layout->sd + i * sizeof (double), sizeof (double));
      memcpy (&family, bytes + layout->family + i * sizeof family, sizeof family);
      memcpy (&column, bytes + layout->column + i * sizeof column, sizeof column);
      if (!isfinite (coefficient->mean) || !(coefficient->sd > 0.0) || (family != NONE && family >= layout->n_families)
          || column >= layout->n_whole || self->column[column] != SIZE_MAX)
        return false;
      coefficient->family = family != NONE ? family : WB_CALC_POOLED_NO_FAMILY;
      if (family != NONE)
        equations->family_size[family]++;
      else if (isinf (coefficient->sd))
        equations->n_flat++;
      equations->order[i] = equations->place[i] = (int) i;
      self->column[column] = i;
    }
  return true;
}

static bool
read_entries (const unsigned char   *bytes,
              const Layout          *layout,
              WbCalcPooledEquations *equations)
{
  memcpy (equations->start, bytes + layout->start, (layout->n + 1) * sizeof (uint32_t));
  memcpy (equations->row, bytes + layout->row, layout->n_entries * sizeof (uint32_t));
  if (equations->start[0] != 0 || equations->start[layout->n] != (int) layout->n_entries)
    return false;
  for (size_t k = 0; k < layout->n; k++)
    {
      if (equations->start[k + 1] < equations->start[k] || equations->start[k + 1] > (int) layout->n_entries)
        return false;
      for (int e = equations->start[k]; e < equations->start[k + 1]; e++)
        if (equations->row[e] < 0 || (size_t) equations->row[e] >= k)
          return false;
    }
  return read_numbers (bytes + layout->value, layout->n_entries, equations->value)
         && read_numbers (bytes + layout->diagonal, layout->n, equations->diagonal)
         && read_numbers (bytes + layout->right, layout->n, equations->right);
}

static bool
read_families (const unsigned char   *bytes,
               const Layout          *layout,
               WbCalcPooledEquations *equations)
{
  for (size_t k = 0; k < layout->n_families; k++)
    {
      WbCalcPooledFamily *family = &equations->families[k];

      memcpy (&family->usual, bytes + layout->usual + k * sizeof (double), sizeof (double));
      memcpy (&family->factor, bytes + layout->factor + k * sizeof (double), sizeof (double));
      if (!(family->usual > 0.0) || !isfinite (family->usual) || !(family->factor >= 0.0) || !isfinite (family->factor))
        return false;
    }
  return true;
}

static WbCalcStatus
read_all (const unsigned char *bytes,
          const Layout        *layout,
          WbCalcPooled        *self)
{
  WbCalcPooledEquations *equations = &self->equations;
  size_t n = layout->n;

  self->n_whole = layout->n_whole;
  self->column = malloc (layout->n_whole * sizeof *self->column);
  self->whole_mean = malloc (layout->n_whole * sizeof *self->whole_mean);
  *equations = (WbCalcPooledEquations) {
    .p = n,
    .n_families = layout->n_families,
    .coefficients = calloc (n, sizeof (WbCalcPooledCoefficient)),
    .families = calloc (layout->n_families + 1, sizeof (WbCalcPooledFamily)),
    .family_size = calloc (layout->n_families + 1, sizeof (size_t)),
    .right = calloc (n, sizeof (double)),
    .start = calloc (n + 1, sizeof (int)),
    .row = malloc ((layout->n_entries + 1) * sizeof (int)),
    .value = malloc ((layout->n_entries + 1) * sizeof (double)),
    .diagonal = calloc (n, sizeof (double)),
    .order = calloc (n, sizeof (int)),
    .place = calloc (n, sizeof (int)),
  };
  if (self->column == NULL || self->whole_mean == NULL || equations->coefficients == NULL || equations->families == NULL
      || equations->family_size == NULL || equations->right == NULL || equations->start == NULL || equations->row == NULL
      || equations->value == NULL || equations->diagonal == NULL || equations->order == NULL || equations->place == NULL)
    return WB_CALC_NO_MEMORY;
  if (!read_families (bytes, layout, equations) || !read_coefficients (bytes, layout, self) || !read_entries (bytes, layout, equations))
    return WB_CALC_BAD_INPUT;
  return wb_calc_pooled_equations_find_pattern (equations);
}

/* rest = right - C u */
static void
look_at_rest (const WbCalcPooledEquations *equations,
              const double                *log_spreads,
              const double                *u,
              double                      *rest)
{
  for (size_t k = 0; k < equations->p; k++)
    rest[k] = equations->right[k] - (equations->diagonal[k] + wb_calc_pooled_precision (&equations->coefficients[k], log_spreads)) * u[k];
  for (size_t k = 0; k < equations->p; k++)
    for (int e = equations->start[k]; e < equations->start[k + 1]; e++)
      {
        rest[k] -= equations->value[e] * u[equations->row[e]];
        rest[equations->row[e]] -= equations->value[e] * u[k];
      }
}

/* Mean and factor of a point, with the rounding put right as the fit does. */
static WbCalcStatus
put_point (WbCalcPooledSolver *solver,
           WbCalcPooledPoints *points,
           size_t              point,
           double             *room)
{
  const WbCalcPooledEquations *equations = solver->equations;
  size_t p = equations->p, size = wb_calc_pooled_equations_get_factor_size (equations);
  const double *log_spreads = points->spreads + point * equations->n_families;
  double *mean = points->means + point * p;
  WbCalcStatus status = wb_calc_pooled_solver_factor (solver, log_spreads);

  if (status != WB_CALC_OK)
    return status;
  memcpy (mean, equations->right, p * sizeof (double));
  wb_calc_pooled_solver_solve (solver, mean);
  look_at_rest (equations, log_spreads, mean, room);
  wb_calc_pooled_solver_solve (solver, room);
  for (size_t j = 0; j < p; j++)
    {
      mean[j] += room[j] + equations->coefficients[j].mean;
      if (!isfinite (mean[j]))
        return WB_CALC_BAD_INPUT;
    }
  memcpy (points->factors + point * size, solver->l, size * sizeof (double));
  return WB_CALC_OK;
}

static WbCalcStatus
put_points (WbCalcPooled        *self,
            const unsigned char *bytes,
            const Layout        *layout,
            WbCalcPooledSolver  *solver)
{
  WbCalcPooledPoints *points = &self->points;
  size_t n = layout->n_families;
  bool *moved = calloc (n + 1, sizeof *moved);
  double *room = malloc (layout->n * sizeof *room);
  WbCalcStatus status = wb_calc_pooled_points_init (points, &self->equations, layout->n_points);

  free (points->covariance);
  points->covariance = NULL;
  if (status == WB_CALC_OK && (moved == NULL || room == NULL))
    status = WB_CALC_NO_MEMORY;
  if (status == WB_CALC_OK && (!read_numbers (bytes + layout->log_density, 1, &points->log_density)
                               || !read_numbers (bytes + layout->spreads, layout->n_points * n, points->spreads)
                               || !read_numbers (bytes + layout->weights, layout->n_points, points->weights)))
    status = WB_CALC_BAD_INPUT;
  if (status == WB_CALC_OK)
    status = wb_calc_pooled_check_points (points->spreads, points->weights, layout->n_points, n);
  if (status == WB_CALC_OK)
    {
      memcpy (points->mode, points->spreads, n * sizeof (double));
      wb_calc_pooled_points_find_moved (points, n, moved);
      status = put_point (solver, points, 0, room);
    }
  if (status == WB_CALC_OK)
    status = wb_calc_pooled_solver_hold (solver, moved);
  for (size_t i = 1; i < layout->n_points && status == WB_CALC_OK; i++)
    status = put_point (solver, points, i, room);
  free (moved);
  free (room);
  return status;
}

WbCalcStatus
wb_calc_pooled_take_up (const unsigned char *bytes,
                        size_t               size,
                        WbCalcPooled       **fit)
{
  WbCalcPooledSolver solver = { NULL };
  WbCalcPooled *self;
  Layout layout;
  WbCalcStatus status;

  *fit = NULL;
  if (!read_head (bytes, size, &layout))
    return WB_CALC_BAD_INPUT;
  self = calloc (1, sizeof *self);
  if (self == NULL)
    return WB_CALC_NO_MEMORY;
  status = read_all (bytes, &layout, self);
  if (status == WB_CALC_OK)
    status = wb_calc_pooled_solver_init (&solver, &self->equations);
  if (status == WB_CALC_OK)
    status = put_points (self, bytes, &layout, &solver);
  wb_calc_pooled_solver_clear (&solver);
  for (size_t j = 0; j < layout.n_whole && status == WB_CALC_OK; j++)
    self->whole_mean[j] = self->column[j] != SIZE_MAX ? self->points.means[self->column[j]] : NAN;
  if (status == WB_CALC_OK)
    *fit = self;
  else
    wb_calc_pooled_free (self);
  return status;
}
