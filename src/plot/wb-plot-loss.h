/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-plot-options.h"

G_BEGIN_DECLS

/* What each choice gives away against the best, on average and when it goes badly, beside its chance of being the best or near it. As wb_plot_new. */
WbChart *wb_plot_loss_new (const WbCraftAnswer *answer,
                           const WbPlotOptions *options,
                           GError             **error);

G_END_DECLS
