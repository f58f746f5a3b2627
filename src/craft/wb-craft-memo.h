/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* The fits behind an answer, kept by what they rest on, so that the next answer works out only what a new reading touches. */
typedef struct _WbCraftMemo WbCraftMemo;

WbCraftMemo *wb_craft_memo_ref      (WbCraftMemo *self);
void         wb_craft_memo_unref    (WbCraftMemo *self);
/* Fits that were worked out for it, those taken over from the memo before left out. */
guint        wb_craft_memo_get_made (WbCraftMemo *self);
guint        wb_craft_memo_get_kept (WbCraftMemo *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbCraftMemo, wb_craft_memo_unref)

G_END_DECLS
