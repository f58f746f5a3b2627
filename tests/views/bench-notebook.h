/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "test-views.h"

/*
 * A small notebook with one experiment whose samples are poured, cured and fit
 * to light: an invented workshop. Written at `path`; gives the experiment's id.
 * asked: what the protocol asks in a round and before snuffing.
 */
gint64 bench_notebook_write         (const char *path, guint n_samples, const char *asked);
/* The same, scented; fit to smell after that many days since they were poured, 20 days ago. */
gint64 bench_notebook_write_scented (const char *path, guint n_samples, const char *asked, double smell_cure_days);
/* The same, of vessels with so many wicks. */
gint64 bench_notebook_write_wicks   (const char *path, guint n_samples, const char *asked, guint n_wicks);
/* In the open notebook another experiment like that one, TN-2, of one sample, T9. Gives its id. */
gint64 bench_notebook_add_other     (WbAppNotebook *notebook, gint64 like);
