/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/*
 * A disk for tests, as SQLite sees it: the default VFS from power_vfs_install()
 * on. Files are real, so that the store's own looks at them hold, but what was
 * written and not synced is known apart, and a power cut takes it away. What
 * one may rely on is what SQLite's documentation asks of a disk ("Atomic Commit
 * In SQLite", sections 2 and 9): a sync that returned holds; a sector of 512
 * bytes is written whole or not at all; bytes beside a write stay; unsynced
 * writes, and names made or taken away in a folder that was not synced, come
 * to the disk in any order or not at all. One thread.
 */

typedef enum
{
  POWER_DROPS_ALL,  /* nothing unsynced came to the disk */
  POWER_KEEPS_SOME, /* any of it did, the writes torn at sectors */
  POWER_KEEPS_ALL   /* all of it: a program that was killed */
} PowerCut;

#define POWER_N_CUTS 3

/* Registers it as the default; once. */
void     power_vfs_install    (void);
/* Forgets all files: what is on the real disk now counts as synced. Trouble is off. No file may be open. */
void     power_vfs_reset      (void);

/*
 * The power goes at that event from now on (1: the next one): a write, a truncation, a sync, the end of a name. The
 * event itself may be half done. From then on nothing is read or written until power_vfs_restore(). 0: never.
 */
void     power_vfs_cut_at     (guint event);
gboolean power_vfs_is_cut     (void);
/* Events since power_vfs_reset(). */
guint    power_vfs_get_events (void);
/*
 * Puts onto the real disk what the cut left, by the seed's chance, and turns the power on. Cuts it now if it has not gone.
 * No file may be open.
 */
void     power_vfs_restore    (PowerCut cut, guint32 seed);

/* From that write on (1: the next) the disk is full: half of it is written, later ones are not. 0: there is room. */
void     power_vfs_fill_at    (guint write);
/* That read from now on (1: the next) fails, and `n` - 1 after it. 0: none. */
void     power_vfs_fail_reads (guint read, guint n);
/* The medium takes no more writing, as when the system mounts it read-only after an error: open files too fail with EROFS. */
void     power_vfs_set_read_only (gboolean read_only);
/* TRUE: some read or write was refused since the last call. */
gboolean power_vfs_refused    (void);

G_END_DECLS
