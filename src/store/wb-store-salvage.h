/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-store.h"

G_BEGIN_DECLS

/* What was saved of a damaged notebook, and what was not. */
typedef struct
{
  gint64     entries;     /* numbers that the old record had, as far as can be told */
  gint64     proven;      /* of them: what stands under them agrees with the hash that they were written with */
  gint64     partial;     /* some of their rows are missing */
  gint64     unproven;    /* all rows are there, but hash or chain does not prove them */
  gint64     lost;        /* their own line could not be read */
  gint64     rows;        /* row versions saved */
  gint64     rows_lost;   /* known to be missing; of lost entries nobody knows how many they wrote */
  gint64     readings;    /* readings saved */
  gint64     stand_ins;   /* records made so that what refers to a lost one can be kept */
  gint64     files_lost;  /* kept files whose bytes are gone or altered */
  char      *checksum;    /* SHA-256 of the damaged file's bytes, lower-case hex */
  char      *last;        /* fingerprint of its last readable entry; NULL: none is readable */
  GPtrArray *lines;       /* char *, sentences: what is missing, table by table and entry by entry, the first 200 */
} WbStoreSalvage;

/*
 * Saves what can be read of a notebook, page by page, into a new one at `to`; never over a file (CONFLICT). The damaged file is
 * only read, under a shared lock; a journal that a killed program left is applied to a copy. The new notebook is a record of its
 * own: a UUID of its own, a chain of its own, in which entry N holds what could be read of the old entry N. Its first entry says
 * what it was made from, and each entry whose rows are not all there, or not proven by the old hash, says so too; in such a one a
 * figure outside its field's range is left empty, or its row left out where it must have one, and `lines` tell it. It passes its check, or is not made.
 * The pages are read from a copy in a folder of its own beside `to` (TO.XXXXXX), so that the disk needs room for the file twice; the
 * folder goes at the end, but a program that is killed meanwhile leaves it there. A million readings (170 MB) take half a minute of
 * the processor's time. FULL or READ_ONLY where there cannot be a copy.
 * NOT_A_NOTEBOOK where nothing of a notebook can be read, or it is another program's; NEWER; MISSING; LOCKED. Caller frees.
 */
WbStoreSalvage *wb_store_salvage      (const char *path, const char *to, const char *who, WbInstant now, WbStoreProgress progress,
                                       gpointer data, GError **error);
void            wb_store_salvage_free (WbStoreSalvage *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbStoreSalvage, wb_store_salvage_free)

G_END_DECLS
