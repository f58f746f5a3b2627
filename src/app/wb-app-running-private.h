/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-instant.h"
#include "wb-uuid.h"

#include <glib.h>

G_BEGIN_DECLS

/*
 * How long a burn has lasted, over a restart or a crash of the program and over
 * whatever becomes of the wall clock: for each burn that is alight or cools the person's
 * state folder holds a small file, by the notebook's UUID and the burn's, that
 * says when its minute 0 was by the clock that never steps. It is worth what
 * that clock is: within one start of the computer. Nothing of the record.
 * All functions that touch files may be called from any thread.
 */

/* Minute 0 of a burn. */
typedef struct
{
  char  *boot_id;   /* the start of the computer whose steady clock it is */
  gint64 steady_us;
  gint64 wall_us;   /* the same moment on the wall clock as it stood then */
} WbAppRunning;

/* boot_id is copied. */
WbAppRunning *wb_app_running_new  (const char *boot_id, gint64 steady_us, gint64 wall_us);
void          wb_app_running_free (WbAppRunning *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbAppRunning, wb_app_running_free)

/* What cannot be written is let be: the wall clock is asked then, as before. */
void          wb_app_running_write  (const WbUuid *notebook, const WbUuid *burn, const WbAppRunning *running);
/* Only what was seen: where another note has been written since, that one stays. */
void          wb_app_running_remove (const WbUuid *notebook, const WbUuid *burn, const WbAppRunning *seen);
/* All of a notebook: UUID of the burn as text -> WbAppRunning, with boot_id "" what cannot be read. Caller unrefs; empty: none. */
GHashTable   *wb_app_running_list   (const WbUuid *notebook);

typedef enum
{
  WB_APP_RUNNING_STEADY, /* by the clock that never steps */
  WB_APP_RUNNING_WALL,   /* by the wall clock, which nothing contradicts */
  WB_APP_RUNNING_UNSURE  /* at least so long, by what was read and written since: somebody has to say */
} WbAppRunningBasis;

/* The clocks at one moment, and what the record says of a burn. */
typedef struct
{
  WbInstant   now;
  gint64      steady_us;
  const char *boot_id;
  WbInstant   lit_at;
  double      last_min;   /* of its newest reading; NAN: none */
  WbInstant   last_entry; /* when the record was written to last; unknown: not known */
} WbAppRunningCase;

/*
 * How long a burn has lasted, in microseconds, at the first sight of it. noted: what the state folder says; NULL: nothing. Where
 * the wall clock stands before the lighting, the last entry or the last reading it is not believed, nor is a note that says less
 * than the last reading; two seconds are let pass, a minute for a reading.
 */
WbAppRunningBasis wb_app_running_judge (const WbAppRunning *noted, const WbAppRunningCase *at, gint64 *elapsed_us);

G_END_DECLS
