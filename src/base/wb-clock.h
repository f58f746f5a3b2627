/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-instant.h"

G_BEGIN_DECLS

/*
 * The program's only source of time: the wall clock, CLOCK_BOOTTIME and the
 * boot's id, so that steps of the wall clock and sleeps are seen.
 * WICKBENCH_CLOCK=INSTANT[,RATE][;steady=INSTANT][;boot=NAME] puts the test clock in its
 * place: it starts at INSTANT when the process first asks and runs RATE times as fast
 * (default 1; 0 stands still). Its steady time starts at the same instant, or at that of
 * `steady`: a wall clock that was set back while the program was closed. Its boot id is
 * "test", or NAME. SOURCE_DATE_EPOCH is not its matter: reports ask for it.
 * The test clock lives in the process's time zone if INSTANT carries that
 * zone's offset, otherwise in a nameless one of INSTANT's offset.
 */

typedef struct _WbClock WbClock;

/* To be asked before anything else: FALSE (WB_NUMBER_ERROR) if WICKBENCH_CLOCK is set and cannot be read. */
gboolean    wb_clock_check_environment (GError **error);
/* The process's clock; thread-safe; static. Aborts where wb_clock_check_environment() refuses. */
WbClock    *wb_clock_get (void);
WbInstant   wb_clock_now (WbClock *clock);
/*
 * Microseconds that go on through sleep and never step, of one scale within a boot id. The test clock's are scaled
 * by its rate and count from 1970, so that two processes under it agree.
 */
gint64      wb_clock_steady_us (WbClock *clock);
const char *wb_clock_get_boot_id (WbClock *clock);
gboolean    wb_clock_is_test (WbClock *clock);
/* Moves the test clock; a programmer's error with the real one. */
void        wb_clock_advance (WbClock *clock, gint64 us);
/* Sets the test clock's wall time forward or back, as a person or a time server does: the steady time does not move. */
void        wb_clock_step (WbClock *clock, gint64 us);
/* That instant in the zone in force now, with the offset that it had or will have then. */
WbInstant   wb_clock_at (WbClock *clock, gint64 utc_us);
/* As a new start of the computer: another boot id, and the test clock's steady time begins anew. The wall clock goes on. */
void        wb_clock_reboot (WbClock *clock, const char *boot_id);
/*
 * Asks the system which zone is in force now. TRUE: it is another than before, and instants from now on carry its
 * offset. A nameless zone of the test clock stays.
 */
gboolean    wb_clock_refresh_zone (WbClock *clock);
/* IANA name of the zone in force ("" where unknown). */
char       *wb_clock_dup_zone (WbClock *clock);
/*
 * A person's wall-clock time of that day in the zone in force, as an instant:
 * the first one behind a gap, the later of two. No instant for a day that is
 * none or a time of day outside 00:00:00 to 23:59:59.
 */
WbInstant   wb_clock_local (WbClock *clock, WbDay day, int hour, int minute, int second);
/* TRUE: that time comes twice that day, because clocks are put back then. */
gboolean    wb_clock_local_twice (WbClock *clock, WbDay day, int hour, int minute, int second, WbInstant *first, WbInstant *second_time);

G_END_DECLS
