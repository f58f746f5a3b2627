/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-job.h"
#include "wb-craft-earlier.h"

G_BEGIN_DECLS

/*
 * What the notebook's other experiments say of the spread between samples, for the one in `data` where it needs that;
 * otherwise nothing is read and `earlier` is left NULL. Experiments are loaded one at a time. FALSE with an error;
 * cancelled is G_IO_ERROR_CANCELLED. job may be NULL: progress from 0 to `until`.
 */
gboolean wb_app_earlier_learn (const char *path, const WbDataset *data, double until, WbAppJob *job, WbCraftEarlier **earlier, GError **error);

G_END_DECLS
