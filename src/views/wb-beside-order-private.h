/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-beside.h"

G_BEGIN_DECLS

/* What a thread lays side by side, as it was ordered: the picks, with references on their answers. */
typedef struct
{
  WbCraftPick *picks;
  gsize        n;
} WbBesideOrder;

WbBesideOrder *wb_beside_order_new  (const WbCraftPick *picks, gsize n);
void           wb_beside_order_free (WbBesideOrder *self);

G_END_DECLS
