/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-items-private.h"

gboolean
wb_app_items_replace (GListModel *model,
                      GPtrArray **items,
                      GPtrArray  *fresh)
{
  g_autoptr (GPtrArray) old = *items;
  guint head = 0, tail = 0, shorter = MIN (old->len, fresh->len);

  *items = fresh;
  while (head < shorter && g_ptr_array_index (old, head) == g_ptr_array_index (fresh, head))
    head++;
  while (tail < shorter - head
         && g_ptr_array_index (old, old->len - 1 - tail) == g_ptr_array_index (fresh, fresh->len - 1 - tail))
    tail++;
  if (old->len == head + tail && fresh->len == head + tail)
    return FALSE;
  g_list_model_items_changed (model, head, old->len - head - tail, fresh->len - head - tail);
  return TRUE;
}
