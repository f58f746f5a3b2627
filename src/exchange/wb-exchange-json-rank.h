/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-answer.h"

G_BEGIN_DECLS

/* The JSON of `rank`. Caller frees. */
char *wb_exchange_json_rank (const WbCraftAnswer *answer);

G_END_DECLS
