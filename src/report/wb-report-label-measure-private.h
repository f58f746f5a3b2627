/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Lengths of labels as a person reads them, in mm or in inches; callers free. */

/* "37 mm", "1.457 in". */
char *wb_report_label_dup_length (double mm, gboolean us_units);
/* "70 × 37 mm": width and height. */
char *wb_report_label_dup_size   (double width_mm, double height_mm, gboolean us_units);

G_END_DECLS
