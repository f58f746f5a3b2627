/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-number.h"

G_BEGIN_DECLS

struct _WbNumberStyle
{
  const char *language;      /* ISO 639 */
  char decimal;
  const char *point_regions; /* ISO 3166 regions of the language that write a point all the same, or NULL */
  const char *day_suffix;    /* behind the number of the day */
  const char *months[12];    /* as written within a date, abbreviated where that is usual */
  const char *weekdays[7];   /* Monday first, abbreviated as on a calendar's page */
};

/* All of them, one a language; static. */
guint                wb_number_styles_count (void);
const WbNumberStyle *wb_number_styles_get   (guint i);

/* A text for an error message: valid UTF-8, one line, at most 40 characters. */
char       *wb_number_quote        (const char *text);
/* Sets the error with `text` quoted in the place of %s; always FALSE. */
gboolean    wb_number_refuse       (GError **error, WbNumberError code, const char *format, const char *text);
const char *wb_number_skip_space   (const char *cursor);
/* Reads an optional sign and the space behind it. */
gboolean    wb_number_scan_sign    (const char **cursor);
/*
 * Reads an unsigned decimal at *cursor and moves it behind; `signs` lists the decimal signs
 * allowed, `whole` is the text that an error names.
 */
gboolean    wb_number_scan_decimal (const char **cursor, const char *signs, const char *whole,
                                    double *value, GError **error);
/* TRUE where a group of exactly three digits follows a space or an apostrophe. */
gboolean    wb_number_is_group     (const char *cursor);
/* FALSE for text that is empty or not UTF-8. */
gboolean    wb_number_check_text   (const char *text, GError **error);

G_END_DECLS
