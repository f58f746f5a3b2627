/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-ladder.h"

/* Seconds of CPU that the program used so far, all of its threads. */
double bench_cpu_now (void);
/* Prints what an ask goes into behind the reading, part by part, each the best of some turns. `kept`: the school's bytes. */
void   bench_parts   (const WbCraftLadderQuestion *question,
                      const GPtrArray             *lessons,
                      const GPtrArray             *guides,
                      const GPtrArray             *wicks,
                      const GPtrArray             *waxes,
                      GBytes                      *kept,
                      double                       floor);
