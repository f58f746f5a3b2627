/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "test-views.h"

#include "wb-burn-page.h"

G_BEGIN_DECLS

#define BENCH_MINUTE_US (60 * G_GINT64_CONSTANT (1000000))

/* A window on the page, and what a test asks of it again and again. */
typedef struct
{
  WbWindow       *window;
  char           *path;
  WbBurnPage     *page;
  WbReadingStack *stack;
  WbAppBench     *bench;
} Bench;

/* Page, panel and bench of the window as it stands now; waits for a panel. */
void              bench_take (Bench *bench);
/* smell_cure_days NAN: not scented. */
void              bench_open_scented (Bench *bench, guint n_samples, const char *asked, double smell_cure_days);
void              bench_open (Bench *bench, guint n_samples, const char *asked);
void              bench_close (Bench *bench);
WbReadingPanel   *bench_get_panel (Bench *bench);
const char       *bench_get_code (Bench *bench);
WbAppBenchSample *bench_find_sample (Bench *bench, const char *code);
/* The action must be enabled. */
void              bench_act (Bench *bench, const char *action);
/* By its code. */
void              bench_choose (Bench *bench, const char *code);
void              bench_type (Bench *bench, WbColumn column, const char *text);
/* Enter in that field. */
void              bench_enter (Bench *bench, WbColumn column);
void              bench_rate (Bench *bench, WbColumn column, int rating);
gboolean          bench_has_focus (Bench *bench, WbColumn column);
void              bench_click (GtkWidget *where, const char *id);
/* All points of the check before the first light. */
void              bench_tick_all (GtkWidget *check);
void              bench_answer_check (void);
void              bench_wait_alight (Bench *bench, guint n);
/* Lights it, the check answered where it is asked; n: how many burn then. */
void              bench_light (Bench *bench, const char *code, guint n);
/* By the test clock. */
void              bench_advance (Bench *bench, gint64 minutes);
void              bench_wait_read (WbAppBenchSample *sample, double min);
gboolean          bench_has_failed (gpointer user);
/* It asks of a number whether it is right; NULL: nothing is asked. */
GtkWidget        *bench_find_question (void);
void              bench_respond (int response);
void              bench_read_flame_after (Bench *bench, int minutes, const char *flame, double minute);
void              bench_open_demo (Bench *bench);
void              bench_press_at (GtkWidget *widget, guint keyval);
void              bench_press (Bench *bench, WbColumn column, guint keyval);

G_END_DECLS
