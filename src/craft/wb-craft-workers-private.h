/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-keep-going.h"

G_BEGIN_DECLS

typedef struct _WbCraftWorkers WbCraftWorkers;

/* One of several pieces of work that do not touch each other; on any thread. */
typedef void (*WbCraftWork) (WbCraftWorkers *workers, guint piece, gpointer data);

/*
 * Does pieces 0 .. n - 1, in any order, on as many threads as the machine has
 * processors (at most 8), the caller's among them. keep_going is asked on the caller's
 * thread alone, with the share of pieces that are done. FALSE: stopped; pieces that were
 * begun have then ended, others never began. Whoever adds the pieces up in their order
 * gets the same bits on any number of threads.
 */
gboolean wb_craft_workers_run (guint            n,
                               WbCraftWork      work,
                               gpointer         data,
                               WbCraftKeepGoing keep_going,
                               gpointer         user);

/* For a piece that lasts: FALSE: leave it, nobody will look at it. */
gboolean wb_craft_workers_go_on (WbCraftWorkers *self);

/* 0: as many as there are processors. For tests and benchmarks. */
void     wb_craft_workers_set_threads (guint threads);

G_END_DECLS
