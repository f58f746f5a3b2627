/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

#include "wb-plot.h"

G_BEGIN_DECLS

/* Each adds the tests of one subject. */
void test_beside_add  (void);
void test_burn_add    (void);
void test_finding_add (void);
void test_ladder_add  (void);
void test_layout_add  (void);
void test_names_add   (void);
void test_options_add (void);
void test_table_add   (void);

/* A chart that must come, of automatic options. */
WbChart *test_plot_new (WbPlotKind kind, const WbCraftAnswer *answer);

G_END_DECLS
