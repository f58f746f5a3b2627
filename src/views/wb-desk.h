/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-answers.h"
#include "wb-app-bench.h"
#include "wb-app-calendar.h"
#include "wb-app-experiment.h"
#include "wb-app-notebook.h"
#include "wb-app-settings.h"
#include "wb-app-today.h"

G_BEGIN_DECLS

/*
 * An open notebook with what is worked out from it once for all pages of its
 * window. Owned by the window; pages borrow it between open and close.
 */
#define WB_TYPE_DESK (wb_desk_get_type ())
G_DECLARE_FINAL_TYPE (WbDesk, wb_desk, WB, DESK, GObject)

WbDesk           *wb_desk_new             (WbAppNotebook *notebook, WbAppSettings *settings);
/* All borrowed, never NULL. */
WbAppNotebook    *wb_desk_get_notebook    (WbDesk *self);
WbAppSettings    *wb_desk_get_settings    (WbDesk *self);
WbAppExperiments *wb_desk_get_experiments (WbDesk *self);
WbAppBench       *wb_desk_get_bench       (WbDesk *self);
WbAppToday       *wb_desk_get_today       (WbDesk *self);
WbAppCalendar    *wb_desk_get_calendar    (WbDesk *self);
WbAppAnswers     *wb_desk_get_answers     (WbDesk *self);
/* The unit in which this notebook's person reads and types a quantity. */
WbUnit            wb_desk_get_unit        (WbDesk *self, WbQuantity quantity);

G_END_DECLS
