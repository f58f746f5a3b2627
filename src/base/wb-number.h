/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/*
 * Numbers as text. Nothing here asks the C library's locale: the decimal sign
 * and the rest come from a small table, one line a language.
 */

typedef enum
{
  WB_NUMBER_ERROR_EMPTY,
  WB_NUMBER_ERROR_SYNTAX,   /* not a number */
  WB_NUMBER_ERROR_GROUPING, /* digit grouping, never accepted */
  WB_NUMBER_ERROR_RANGE,    /* outside the permitted range, or not finite */
  WB_NUMBER_ERROR_UNIT      /* unknown unit, or a unit of another quantity */
} WbNumberError;

#define WB_NUMBER_ERROR (wb_number_error_quark ())
/* The domain of these codes. */
GQuark wb_number_error_quark (void);

typedef struct _WbNumberStyle WbNumberStyle;

/* The style of a language tag such as "de" or "en_GB.UTF-8"; unknown ones give the style of "C" (point). Never NULL, static. */
const WbNumberStyle *wb_number_style_for_language (const char *tag);
/* The style of the program's language (wb_language_dup_tag()) when it was first asked for; static. */
const WbNumberStyle *wb_number_style_default (void);
char                 wb_number_style_get_decimal (const WbNumberStyle *style);

/* Decimal point or comma, optional sign, optional exponent, no grouping, surrounding space ignored; whole text. */
gboolean wb_number_parse (const char *text, double *value, GError **error);
/* As above with exactly one decimal sign allowed ('.' or ','). For files. */
gboolean wb_number_parse_strict (const char *text, char decimal, double *value, GError **error);
/* A whole number, optional sign, surrounding space ignored; RANGE where it does not fit 64 bits. */
gboolean wb_number_parse_integer (const char *text, gint64 *value, GError **error);

/* The shortest text with a point that reads back as the same double; "0" for -0; value must be finite. */
char *wb_number_shortest (double value);
/* Rounded half away from zero (of the shortest decimal) to `decimals` (0..9) places; style NULL means the default style. No grouping. */
char *wb_number_format (double value, int decimals, const WbNumberStyle *style);
/* As above without trailing zeros. */
char *wb_number_format_trimmed (double value, int decimals, const WbNumberStyle *style);

G_END_DECLS
