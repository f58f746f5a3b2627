/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-columns-private.h"
#include "wb-craft-memo.h"

G_BEGIN_DECLS

/*
 * What was worked out, kept by all that it rests on: the bytes of the question, whole,
 * so that the same bytes get the same answer and nothing else does. Answers are never
 * changed once they are made. From any thread; who asks for what another thread is at
 * work on waits for it.
 */

/* Appends to the bytes of a question. */
void        wb_craft_question_add_number  (GByteArray           *question,
                                           double                number);
void        wb_craft_question_add         (GByteArray           *question,
                                           gconstpointer         data,
                                           gsize                 size);
void        wb_craft_question_add_columns (GByteArray           *question,
                                           const WbCraftColumns *columns); /* NULL: none */

/* Works the answer out; NULL may be one. *stopped: it is none, and not kept. */
typedef gpointer (*WbCraftMemoMake) (gpointer data, gboolean *stopped);

/* `before`: answers that may be taken over, until wb_craft_memo_close; may be NULL. */
WbCraftMemo  *wb_craft_memo_new   (WbCraftMemo    *before);
void          wb_craft_memo_close (WbCraftMemo    *self);
/* Takes `question`. The answer lives as long as the memo; `free_answer` frees one. */
gconstpointer wb_craft_memo_get   (WbCraftMemo    *self,
                                   GByteArray     *question,
                                   WbCraftMemoMake make,
                                   gpointer        data,
                                   GDestroyNotify  free_answer);

G_END_DECLS
