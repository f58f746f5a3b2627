/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-estimates.h"
#include "wb-craft-limits.h"

G_BEGIN_DECLS

/* What one earlier experiment taught; app may keep it between runs. limits may be NULL: then nothing is known to have crossed. */
typedef struct
{
  const WbDataset        *data;
  const WbCraftEstimates *estimates;
  const WbCraftLimits    *limits;
} WbCraftLesson;

G_END_DECLS
