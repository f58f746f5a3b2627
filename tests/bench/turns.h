/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* How long the main thread is busy between two polls of its loop, in microseconds: for so long nothing answers a person. */
typedef struct
{
  double wall;  /* by the clock: what it waits for counts, and what other programs take meanwhile */
  double cpu;   /* of its own CPU time */
  double own;   /* of that, without GTK's laying out and drawing of frames */
} Turn;

/* From here on the turns are timed. */
void turns_watch        (void);
/* From here on the frames of that clock are told apart. */
void turns_watch_frames (GdkFrameClock *clock);
/* The longest of each since the last call. What the running turn still does counts for the next call. */
Turn turns_take_longest (void);

G_END_DECLS
