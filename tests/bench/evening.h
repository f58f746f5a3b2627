/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-bench.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* What the parts of bench-evening.c have in common: twelve flames, and how long the main thread works at a time. */

#define SAMPLES 12
#define MINUTE_US (60 * G_GINT64_CONSTANT (1000000))

/* Runs the main loop until the condition holds; ends the program, naming `what`, after two minutes. */
typedef gboolean (*EveningCondition) (gpointer data);
void        evening_wait_for       (EveningCondition condition, gpointer data, const char *what);
/* Until what was asked below is in the file. */
void        evening_wait_for_saves (void);
/* Waits for the bench, opens a session and lights the twelve, where they do not burn already. */
void        evening_light_all      (WbAppBench *bench);
/* Those of bench_notebook_write(), not what was imported: borrowed samples; caller frees the array. */
GPtrArray  *evening_dup_twelve     (WbAppBench *bench);
/* Asks for a reading to be saved. */
void        evening_read_one       (WbAppBench *bench, WbAppBenchSample *sample, double minute);
/* A condition: the bench has read that minute of the sample. data: EveningKnown. */
typedef struct { WbAppBenchSample *sample; double minute; } EveningKnown;
gboolean    evening_knows          (gpointer data);

/* From here on the main loop's turns are timed. */
void        evening_watch_turns    (void);
/* From here on the frames of that clock are told apart. */
void        evening_watch_frames   (GdkFrameClock *clock);
/* Longest turn since the last call, in microseconds of the main thread's CPU time; `own`: without GTK's laying out and drawing. */
typedef struct { double whole, own; } EveningTurn;
EveningTurn evening_take_longest   (void);
/* For qsort() of doubles. */
int         evening_by_value       (const void *a, const void *b);

/* bench-evening-turn.c: runs the window on a notebook. */
int         evening_run_window     (const char *program, const char *path);

G_END_DECLS
