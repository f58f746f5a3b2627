/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-bench.h"

G_BEGIN_DECLS

/* What the parts of bench-evening.c have in common: twelve flames. */

#define SAMPLES 12
#define MINUTE_US (60 * G_GINT64_CONSTANT (1000000))

/* Until what was asked below is in the file. */
void        flames_wait_for_saves (void);
/* Waits for the bench, opens a session and lights the twelve, where they do not burn already. */
void        flames_light_all      (WbAppBench *bench);
/* Those of bench_notebook_write(), not what was imported: borrowed samples; caller frees the array. */
GPtrArray  *flames_dup_twelve     (WbAppBench *bench);
/* Asks for a reading to be saved. */
void        flames_read_one       (WbAppBench *bench, WbAppBenchSample *sample, double minute);
/* A condition: the bench has read that minute of the sample. data: FlamesKnown. */
typedef struct { WbAppBenchSample *sample; double minute; } FlamesKnown;
gboolean    flames_knows          (gpointer data);

/* For qsort() of doubles. */
int         flames_by_value       (const void *a, const void *b);

/* bench-evening-turn.c: runs the window on a notebook. */
int         flames_run_window     (const char *program, const char *path);

G_END_DECLS
