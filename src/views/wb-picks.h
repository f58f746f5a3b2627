/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-answer.h"
#include "wb-desk.h"

#include <gio/gio.h>

G_BEGIN_DECLS

/* Side by side no more than these can be told apart. */
#define WB_PICKS_MAX 12

/* One of the things that lie side by side, by the ids of its records. */
typedef struct
{
  gint64 experiment;
  gint64 cell;
  gint64 sample; /* 0: the combination as a whole, all its samples that count */
} WbPick;

/* What it is now. */
typedef struct
{
  WbPick         pick;
  const char    *title;  /* as it was picked, "HF-1 · B4": stands until its answer is there */
  WbCraftAnswer *answer; /* NULL: not worked out yet, or cannot be; of a stale one the last */
  guint          index;  /* of the cell in the answer's data */
  int            sample; /* index of the sample; -1: all */
  const char    *why;    /* why there is no answer, or none of what is there now, for people; NULL: it is on its way, or there */
  gboolean       fresh;  /* the answer is of what the notebook holds now */
} WbPicked;

/*
 * What a person laid side by side, of any experiments of the notebook, in the order that the person gave it; kept as
 * long as the notebook is open in this window. It asks for the answers that it rests on, one after another, while it is
 * told to (wb_picks_ask), and again when they went stale.
 *
 * Signals: "changed" (other picks, or another order), "answered" (an answer came, or failed).
 * Property "job" (WbAppJob; NULL: nothing is being worked out), notified.
 */
#define WB_TYPE_PICKS (wb_picks_get_type ())
G_DECLARE_FINAL_TYPE (WbPicks, wb_picks, WB, PICKS, GObject)

/* Caller owns it. */
WbPicks        *wb_picks_new        (WbDesk *desk);
guint           wb_picks_get_n      (WbPicks *self);
/* Borrowed until the picks or an answer change. */
const WbPicked *wb_picks_get        (WbPicks *self, guint index);
/* Index of the pick; -1: it is not there. */
int             wb_picks_find       (WbPicks *self, const WbPick *pick);
/* Behind the others; FALSE: it is there already, or there are WB_PICKS_MAX. */
gboolean        wb_picks_add        (WbPicks *self, const WbPick *pick, const char *title);
void            wb_picks_remove     (WbPicks *self, guint index);
/* One place up (-1) or down (1); FALSE: it is at the end. */
gboolean        wb_picks_move       (WbPicks *self, guint index, int by);
/* Others in their place, at most WB_PICKS_MAX, titles copied; one signal. What was there can be had back. */
void            wb_picks_set        (WbPicks *self, const WbPick *picks, const char *const *titles, guint n);
gboolean        wb_picks_can_go_back (WbPicks *self);
/* To what was there before the last wb_picks_set of a cell's samples or a choice. */
void            wb_picks_go_back    (WbPicks *self);
/* Whether answers are asked for; FALSE gives up what is being worked out. */
void            wb_picks_ask        (WbPicks *self, gboolean ask);
/* Asks once more for what was cancelled or failed. */
void            wb_picks_retry      (WbPicks *self);
WbAppJob       *wb_picks_get_job    (WbPicks *self);
/* Every pick has its answer. */
gboolean        wb_picks_is_whole   (WbPicks *self);
/* A cell's title, "HF-1 · Hob · B4", and a sample's, "HF-1 · B4-2". Caller frees. */
char           *wb_pick_dup_title   (const WbDataset *data, guint cell, int sample);

G_END_DECLS
