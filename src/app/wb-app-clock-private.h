/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* A time server's small corrections of the wall clock, which contradict nothing and are told to nobody. */
#define WB_APP_CLOCK_LET_PASS_US (2 * (gint64) G_USEC_PER_SEC)

/*
 * Watches the wall clock of the computer while a notebook is open: whether a
 * person or a time server moved it, and whether the zone is another. A plain
 * struct, all zero at first; main thread.
 */
typedef struct
{
  gboolean known;
  gint64   offset_us;  /* wall time less steady time at the last look */
  char    *zone;       /* owned */
  gint64   untold_us;  /* by how much it was moved since the last entry that tells it */
  gboolean on_its_way; /* a save that tells it was asked for */
} WbAppClock;

void  wb_app_clock_clear  (WbAppClock *self);
/* What happened since the last look, as a sentence or two for the maker; NULL: nothing. Caller frees. Moves of two seconds are let pass. */
char *wb_app_clock_look   (WbAppClock *self);
/*
 * A move that was found in another way, in microseconds; the same words. 0: by how much is not known, but it stands before the
 * end of a burn which is out. Caller frees.
 */
char *wb_app_clock_note   (WbAppClock *self, gint64 moved_us);
/* An entry's reason with the move beside it, where one is untold; else NULL. Caller frees. */
char *wb_app_clock_dup_why (WbAppClock *self, const char *why);
/* An entry of this notebook was written. */
void  wb_app_clock_written (WbAppClock *self);

G_END_DECLS
