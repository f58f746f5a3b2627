/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-ellipse.h"

#include <math.h>
#include <string.h>

#include <gsl/gsl_blas.h>
#include <gsl/gsl_eigen.h>
#include <gsl/gsl_linalg.h>

#define MIN_POINTS 5

/* A reciprocal condition of the scatter of (u, v, 1) below this is a line. */
#define LINE_CONDITION 1e-12

/* u = (x - x0) / size, v likewise: mean 0, root mean square distance sqrt (2). */
typedef struct
{
  double x0;
  double y0;
  double size;
} Frame;

static WbCalcStatus
frame_of (const double *x,
          const double *y,
          size_t        n,
          Frame        *frame)
{
  double squares = 0.0;

  *frame = (Frame) { 0.0, 0.0, 0.0 };
  for (size_t i = 0; i < n; i++)
    if (!isfinite (x[i]) || !isfinite (y[i]))
      return WB_CALC_BAD_INPUT;
  if (n < MIN_POINTS)
    return WB_CALC_TOO_FEW;
  for (size_t i = 0; i < n; i++)
    {
      frame->x0 += x[i] / (double) n;
      frame->y0 += y[i] / (double) n;
    }
  for (size_t i = 0; i < n; i++)
    squares = hypot (squares, hypot (x[i] - frame->x0, y[i] - frame->y0));
  frame->size = squares / sqrt (2.0 * (double) n);
  if (!isfinite (frame->size))
    return WB_CALC_BAD_INPUT;
  return frame->size > 0.0 ? WB_CALC_OK : WB_CALC_UNIDENTIFIED;
}

/* Scatter of (u^2, u v, v^2, u, v, 1), 6 x 6. */
static void
scatter_of (const double *x,
            const double *y,
            size_t        n,
            const Frame  *frame,
            gsl_matrix   *scatter)
{
  gsl_matrix_set_zero (scatter);
  for (size_t i = 0; i < n; i++)
    {
      double u = (x[i] - frame->x0) / frame->size;
      double v = (y[i] - frame->y0) / frame->size;
      double row[6] = { u * u, u * v, v * v, u, v, 1.0 };
      gsl_vector_view vector = gsl_vector_view_array (row, 6);

      gsl_blas_dger (1.0 / (double) n, &vector.vector, &vector.vector, scatter);
    }
}

/* T = -S3^-1 S2': the linear part that goes best with a quadratic part. False on a line. */
static bool
linear_part (gsl_matrix *scatter,
             gsl_matrix *t)
{
  double room[9];
  double work_room[3];
  double condition;
  gsl_matrix_view factor = gsl_matrix_view_array (room, 3, 3);
  gsl_vector_view work = gsl_vector_view_array (work_room, 3);
  gsl_matrix_view s2 = gsl_matrix_submatrix (scatter, 0, 3, 3, 3);
  gsl_matrix_view s3 = gsl_matrix_submatrix (scatter, 3, 3, 3, 3);
  double wide_room[9];
  gsl_vector_view wide = gsl_vector_view_array (wide_room, 9);

  gsl_matrix_memcpy (&factor.matrix, &s3.matrix);
  if (gsl_linalg_cholesky_decomp1 (&factor.matrix) != 0
      || gsl_linalg_cholesky_rcond (&factor.matrix, &condition, &wide.vector) != 0
      || !(condition > LINE_CONDITION))
    return false;
  for (size_t j = 0; j < 3; j++)
    {
      gsl_vector_view row = gsl_matrix_row (&s2.matrix, j);
      gsl_vector_view column = gsl_matrix_column (t, j);

      gsl_linalg_cholesky_solve (&factor.matrix, &row.vector, &work.vector);
      gsl_vector_memcpy (&column.vector, &work.vector);
    }
  gsl_matrix_scale (t, -1.0);
  return true;
}

/* The eigenvector of C1^-1 (S1 + S2 T) that is an ellipse: 4 A C > B^2. False when there is none. */
static bool
quadratic_part (gsl_matrix       *scatter,
                const gsl_matrix *t,
                double            quadratic[3])
{
  double room[9];
  double reduced_room[9];
  gsl_matrix_view reduced = gsl_matrix_view_array (room, 3, 3);
  gsl_matrix_view system = gsl_matrix_view_array (reduced_room, 3, 3);
  gsl_matrix_view s1 = gsl_matrix_submatrix (scatter, 0, 0, 3, 3);
  gsl_matrix_view s2 = gsl_matrix_submatrix (scatter, 0, 3, 3, 3);
  gsl_vector_complex *values = gsl_vector_complex_alloc (3);
  gsl_matrix_complex *vectors = gsl_matrix_complex_alloc (3, 3);
  gsl_eigen_nonsymmv_workspace *workspace = gsl_eigen_nonsymmv_alloc (3);
  double best = 0.0;

  gsl_matrix_memcpy (&reduced.matrix, &s1.matrix);
  gsl_blas_dgemm (CblasNoTrans, CblasNoTrans, 1.0, &s2.matrix, t, 1.0, &reduced.matrix);
  for (size_t j = 0; j < 3; j++)
    {
      gsl_matrix_set (&system.matrix, 0, j, 0.5 * gsl_matrix_get (&reduced.matrix, 2, j));
      gsl_matrix_set (&system.matrix, 1, j, -gsl_matrix_get (&reduced.matrix, 1, j));
      gsl_matrix_set (&system.matrix, 2, j, 0.5 * gsl_matrix_get (&reduced.matrix, 0, j));
    }
  if (values != NULL && vectors != NULL && workspace != NULL
      && gsl_eigen_nonsymmv (&system.matrix, values, vectors, workspace) == 0)
    for (size_t k = 0; k < 3; k++)
      {
        double candidate[3];

        for (size_t j = 0; j < 3; j++)
          candidate[j] = GSL_REAL (gsl_matrix_complex_get (vectors, j, k));

        double excess = 4.0 * candidate[0] * candidate[2] - candidate[1] * candidate[1];

        if (GSL_IMAG (gsl_vector_complex_get (values, k)) == 0.0 && excess > best)
          {
            best = excess;
            memcpy (quadratic, candidate, sizeof candidate);
          }
      }
  gsl_vector_complex_free (values);
  gsl_matrix_complex_free (vectors);
  if (workspace != NULL)
    gsl_eigen_nonsymmv_free (workspace);
  return best > 0.0;
}

/* Centre, axes and angle of a conic in the frame, with A > 0. False when it is no real ellipse. */
static bool
put_axes (const double   conic[6],
          const Frame   *frame,
          WbCalcEllipse *ellipse)
{
  double det = 4.0 * conic[0] * conic[2] - conic[1] * conic[1];
  double u = (conic[1] * conic[4] - 2.0 * conic[2] * conic[3]) / det;
  double v = (conic[1] * conic[3] - 2.0 * conic[0] * conic[4]) / det;
  double level = conic[5] + 0.5 * (conic[3] * u + conic[4] * v);
  double mean = 0.5 * (conic[0] + conic[2]);
  double half = 0.5 * hypot (conic[0] - conic[2], conic[1]);
  /* The smaller eigenvalue by the determinant, without cancellation. */
  double large = mean + half;
  double small = 0.25 * det / large;

  if (!(level < 0.0) || !(small > 0.0))
    return false;
  ellipse->centre_x = frame->x0 + frame->size * u;
  ellipse->centre_y = frame->y0 + frame->size * v;
  ellipse->semi_major = frame->size * sqrt (-level / small);
  ellipse->semi_minor = frame->size * sqrt (-level / large);
  /* The quadratic form is largest across the major axis. */
  ellipse->theta = 0.5 * atan2 (conic[1], conic[0] - conic[2]) + 0.5 * M_PI;
  if (ellipse->theta >= M_PI)
    ellipse->theta -= M_PI;
  return true;
}

/*
 * The conic in the coordinates of the points, of unit norm. Times the square of the frame's size it
 * is the same conic: of the two that one is taken whose squares stay in the range of a double.
 */
static void
put_conic (const double   in[6],
           const Frame   *frame,
           WbCalcEllipse *ellipse)
{
  double s = frame->size;
  bool large = s >= 1.0;
  double a = large ? in[0] / s / s : in[0];
  double b = large ? in[1] / s / s : in[1];
  double c = large ? in[2] / s / s : in[2];
  double d = large ? in[3] / s : in[3] * s;
  double e = large ? in[4] / s : in[4] * s;
  double f = large ? in[5] : in[5] * s * s;
  double *out = ellipse->conic;
  double norm = 0.0;

  out[0] = a;
  out[1] = b;
  out[2] = c;
  out[3] = d - 2.0 * a * frame->x0 - b * frame->y0;
  out[4] = e - 2.0 * c * frame->y0 - b * frame->x0;
  out[5] = f + a * frame->x0 * frame->x0 + b * frame->x0 * frame->y0 + c * frame->y0 * frame->y0
           - d * frame->x0 - e * frame->y0;
  for (size_t k = 0; k < 6; k++)
    norm = hypot (norm, out[k]);
  for (size_t k = 0; k < 6; k++)
    out[k] /= norm;
}

static bool
is_finite (const WbCalcEllipse *ellipse)
{
  bool finite = isfinite (ellipse->centre_x) && isfinite (ellipse->centre_y) && isfinite (ellipse->semi_major)
                && ellipse->semi_minor > 0.0;

  for (size_t k = 0; k < 6; k++)
    finite = finite && isfinite (ellipse->conic[k]);
  return finite;
}

WbCalcStatus
wb_calc_ellipse_fit (const double  *x,
                     const double  *y,
                     size_t         n,
                     WbCalcEllipse *ellipse)
{
  double scatter_room[36];
  double t_room[9];
  double conic[6];
  gsl_matrix_view scatter = gsl_matrix_view_array (scatter_room, 6, 6);
  gsl_matrix_view t = gsl_matrix_view_array (t_room, 3, 3);
  Frame frame;
  WbCalcStatus status = frame_of (x, y, n, &frame);

  if (status != WB_CALC_OK)
    return status;
  scatter_of (x, y, n, &frame, &scatter.matrix);
  if (!linear_part (&scatter.matrix, &t.matrix) || !quadratic_part (&scatter.matrix, &t.matrix, conic))
    return WB_CALC_UNIDENTIFIED;
  if (conic[0] < 0.0)
    for (size_t k = 0; k < 3; k++)
      conic[k] = -conic[k];

  gsl_vector_view quadratic = gsl_vector_view_array (conic, 3);
  gsl_vector_view linear = gsl_vector_view_array (conic + 3, 3);

  gsl_blas_dgemv (CblasNoTrans, 1.0, &t.matrix, &quadratic.vector, 0.0, &linear.vector);
  if (!put_axes (conic, &frame, ellipse))
    return WB_CALC_UNIDENTIFIED;
  put_conic (conic, &frame, ellipse);
  return is_finite (ellipse) ? WB_CALC_OK : WB_CALC_BAD_INPUT;
}
