/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-answer.h"
#include "wb-exchange-json.h"

G_BEGIN_DECLS

/* The JSON of `rank`. Caller frees. */
char *wb_exchange_json_rank (const WbCraftAnswer *answer);

/* What a group has in common, as members of the open object; null what it has not. */
void  wb_exchange_json_add_group (WbExchangeJson *json, const WbDataset *data, const WbCraftGroup *group);

G_END_DECLS
