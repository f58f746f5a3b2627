/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-beside-order-private.h"

WbBesideOrder *
wb_beside_order_new (const WbCraftPick *picks,
                     gsize              n)
{
  WbBesideOrder *self = g_new (WbBesideOrder, 1);

  *self = (WbBesideOrder) { g_memdup2 (picks, n * sizeof *picks), n };
  for (gsize i = 0; i < n; i++)
    wb_craft_answer_ref ((WbCraftAnswer *) picks[i].answer);
  return self;
}

void
wb_beside_order_free (WbBesideOrder *self)
{
  for (gsize i = 0; i < self->n; i++)
    wb_craft_answer_unref ((WbCraftAnswer *) self->picks[i].answer);
  g_free (self->picks);
  g_free (self);
}
