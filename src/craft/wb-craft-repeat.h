/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-dataset.h"

G_BEGIN_DECLS

/*
 * An experiment that repeats another with something changed: what differs. Where one thing differs, what comes out
 * otherwise is its doing, as far as chance allows; where several do, nobody can tell which of them it was.
 */

/* What an experiment is planned with, of its own: it outlives what it was made from. */
typedef struct _WbCraftPlanned WbCraftPlanned;

/* The material of that id, borrowed; NULL: there is none. */
typedef gconstpointer (*WbCraftFindFunc) (gint64 id, gpointer user);

/* cells: WbCell; those left out do not count. */
WbCraftPlanned *wb_craft_planned_new     (const WbExperiment *experiment, const WbProtocol *protocol, const GPtrArray *cells,
                                          WbCraftFindFunc find, gpointer user);
/* How many samples an experiment has of each combination: as planned, else (it came from a file) the most that one of them has, else what
 * its protocol asks for, at least 1. */
guint           wb_craft_planned_count_samples (const WbDataset *data);
WbCraftPlanned *wb_craft_planned_of_data (const WbDataset *data);
void            wb_craft_planned_free    (WbCraftPlanned *self);

typedef struct
{
  char    *what;    /* translated: "wax", "wicks", "load of Harbour mist" ... */
  char    *before;  /* what is no longer there, as people call it; "": nothing went; NULL: `after` says what differs */
  char    *after;   /* what came; "": nothing did */
  gboolean counts;  /* it may be why something comes out otherwise; FALSE: only how well it is known differs */
} WbCraftChange;

/* WbCraftChange, in the order in which a plan is read; a part of the old vessels, wicks or scents does not count. Caller unrefs. */
GPtrArray *wb_craft_repeat_compare      (const WbCraftPlanned *before, const WbCraftPlanned *after);
/* How many of them count. */
guint      wb_craft_repeat_count        (const GPtrArray *changes);
/* "Changed: wax Dunmarl soft → Heath blend." or that nothing is. code: of the one that is repeated. Translated; caller frees. */
char      *wb_craft_repeat_dup_words    (const GPtrArray *changes, const char *code);
/* Where more than one thing differs; NULL: not so. Translated; caller frees. */
char      *wb_craft_repeat_dup_warning  (const GPtrArray *changes);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbCraftPlanned, wb_craft_planned_free)

G_END_DECLS
