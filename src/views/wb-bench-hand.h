/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-reading-panel.h"

G_BEGIN_DECLS

/*
 * Carries out at the bench what a panel holds: lights, reads, snuffs. It sees
 * to it that a session is open and its check answered, asks before a sample is
 * lit against its time, and tells the panel where its save stands. A panel
 * whose save failed keeps what was typed.
 *
 * Signals: "started" (panel, boolean: it ends the burn), the save is on its
 * way; "saved" (panel), it is durable; "failed" (panel). Main thread.
 */
#define WB_TYPE_BENCH_HAND (wb_bench_hand_get_type ())
G_DECLARE_FINAL_TYPE (WbBenchHand, wb_bench_hand, WB, BENCH_HAND, GObject)

/* where: in the window to ask in front of; borrowed, outlives it. */
WbBenchHand *wb_bench_hand_new           (GtkWidget *where);
/* NULL: none. What is on its way is carried through, and told to nobody. */
void         wb_bench_hand_set_bench     (WbBenchHand *self, WbAppBench *bench, const char *who);
void         wb_bench_hand_light         (WbBenchHand *self, WbReadingPanel *panel);
/* A reading while it burns, or a look after its burn, as the panel's moment says. */
void         wb_bench_hand_read          (WbBenchHand *self, WbReadingPanel *panel);
/* event: one that ends a burn. What the panel holds goes with it. */
void         wb_bench_hand_end           (WbBenchHand *self, WbReadingPanel *panel, WbEvent event);
/* Takes a sample back that was set aside. */
void         wb_bench_hand_let_count     (WbBenchHand *self, gint64 sample);
/* Refused while something is alight. */
void         wb_bench_hand_close_session (WbBenchHand *self);

G_END_DECLS
