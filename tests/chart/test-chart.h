/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

#include "wb-chart.h"

G_BEGIN_DECLS

/* Each adds the tests of one subject. */
void test_ticks_add  (void);
void test_range_add  (void);
void test_theme_add  (void);
void test_layout_add (void);
void test_label_add  (void);
void test_draw_add   (void);
void test_find_add   (void);
void test_golden_add (void);
void test_many_add   (void);
void test_output_add (void);
void test_table_add  (void);

/* `text` with its point as the decimal sign of this run's language. */
char *test_localize (const char *text);

G_END_DECLS
