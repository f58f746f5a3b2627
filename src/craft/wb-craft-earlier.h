/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-keep-going.h"
#include "wb-dataset.h"

G_BEGIN_DECLS

/*
 * What other experiments of a notebook say of the spread between samples, for one in
 * which no combination was burnt with a second sample; any other tells its own, so that
 * the same log gives the same ranking in any notebook.
 *
 * Of each experiment with a second sample somewhere, the logarithm of the spread as it
 * has it by its own fit (restricted likelihood and weak opinion; mean and variance over
 * draws), with that opinion taken out again: precisions are subtracted, as for normal
 * messages. What is left is added up over the experiments, each weighted by its
 * precision, which is twice its degrees of freedom (the logarithm of a sd found with df
 * of them has a variance of about 1 / (2 df)), and the weak opinion counted once. So
 * experiments with many second samples say much, those with one say little, and a spread
 * seen at next to nothing says "small". The result is a log-normal opinion with a factor
 * of its own, held between what other recipes may be trusted to say of this one and what
 * is believed without them. Melt pools and the measured figures have each their own;
 * ratings are not asked, theirs is the stated opinion everywhere.
 */
typedef struct _WbCraftEarlier WbCraftEarlier;

/* No combination has standard burns of two samples that count: the spread between samples must come from elsewhere. */
gboolean        wb_craft_earlier_is_needed   (const WbDataset *data);
/* Nothing learnt yet. */
WbCraftEarlier *wb_craft_earlier_new         (void);
/* Adds what one experiment says, nothing where it has no second sample either. FALSE: stopped, nothing was added. */
gboolean        wb_craft_earlier_learn       (WbCraftEarlier *self, const WbDataset *data, WbCraftKeepGoing keep_going, gpointer user);
/* More experiments would make nothing surer: all that is learnt is as sure as it is ever taken for. */
gboolean        wb_craft_earlier_is_sure     (const WbCraftEarlier *self);
WbCraftEarlier *wb_craft_earlier_ref         (WbCraftEarlier *self);
/* NULL is let pass. */
void            wb_craft_earlier_unref       (WbCraftEarlier *self);
/* Codes of the experiments that it was learnt from, in the order of learning; the caller does not free. self may be NULL. */
guint           wb_craft_earlier_get_n       (const WbCraftEarlier *self);
const char     *wb_craft_earlier_get_code    (const WbCraftEarlier *self, guint index);
/* "The spread between samples was learnt from the experiments A, B and C." NULL: from none. Caller frees. */
char           *wb_craft_earlier_dup_text    (const WbCraftEarlier *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbCraftEarlier, wb_craft_earlier_unref)

G_END_DECLS
