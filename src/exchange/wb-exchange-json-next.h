/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-advice.h"

G_BEGIN_DECLS

/* The JSON of `next`: the advice on that answer. Caller frees. */
char *wb_exchange_json_next (const WbCraftAnswer *answer, const WbCraftAdvice *advice);

G_END_DECLS
