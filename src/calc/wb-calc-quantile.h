/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Quantiles and chances of the distributions that intervals and draws stand on,
 * by GSL. Outside its domain each gives NaN.
 */

/* P (Z <= z) of the standard normal; z may be infinite. */
double wb_calc_normal_below (double z);

/* The z with P (Z <= z) = p, 0 < p < 1. */
double wb_calc_normal_quantile (double p);

/*
 * Student's t with df > 0, INFINITY for the normal: the t with P (T <= t) = p, 0 < p < 1. With few
 * degrees of freedom a p near its ends has a t beyond the range of a double: -INFINITY or INFINITY.
 */
double wb_calc_student_quantile (double p,
                                 double df);

/*
 * Chi-square with df > 0: the x with P (X <= x) = p, 0 < p < 1; relative error below 1e-6; INFINITY when df
 * is, 0 when x is below the smallest double.
 */
double wb_calc_chisq_quantile (double p,
                               double df);
