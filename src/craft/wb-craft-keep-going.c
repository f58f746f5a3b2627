/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-keep-going.h"

gboolean
wb_craft_progress_on_part (double   done,
                           gpointer progress)
{
  const WbCraftProgress *self = progress;

  return self->keep_going == NULL || self->keep_going (self->from + done * (self->to - self->from), self->user);
}
