/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-chart.h"
#include "wb-craft-logger.h"
#include "wb-reading.h"

G_BEGIN_DECLS

/*
 * One burn's temperatures against its minutes: what a logger wrote beside what was read, with the limits that watch the same
 * places. Not of an answer, which knows nothing of loggers: of the burn's own readings.
 */
typedef struct
{
  const char          *code;     /* of the sample */
  int                  number;   /* of the burn */
  const WbReadings    *readings; /* all of its rows and none else */
  const WbLogger      *logger;
  const WbCraftLogger *summary;  /* of that logger and burn */
  gboolean             us_units;
  gboolean             invented; /* the notebook says that its data are */
} WbPlotBurn;

/* Of longer series each stretch is drawn by its lowest and highest value, so that no peak is lost. Caller unrefs. */
WbChart *wb_plot_burn_new (const WbPlotBurn *burn);

G_END_DECLS
