/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-evenings-out.h"

G_BEGIN_DECLS

/*
 * Which samples burn on which evening. A cohort goes through its life together, one burn an evening: it is lit whole or not at all,
 * when each of its samples has cured or cooled, and a begun one comes before a new one, so that burns of a life do not drift apart.
 * Cohorts of several experiments share an evening where the places suffice; of one experiment a cohort waits until the one before it has burnt
 * to its end (wb_craft_cohorts_is_before). A function of what is given and the clock's zone alone.
 */

/* Samples that burn together. */
typedef struct
{
  const char *name;      /* for problems: "T5", "T5, cohort 2"; borrowed */
  guint       samples;   /* that burn on, each on a place of the bench */
  guint       done;      /* burns of its life before now */
  guint       left;      /* burns to the stated end */
  WbInstant   ready_at;  /* from when all of it may be lit; unknown: at any time */
  double      burn_s;    /* length of a burn; NAN: 4 h, as the house protocol has it */
  double      cool_s;    /* from the end of a burn to the next lighting; NAN: none */
  gint64      experiment;
  gint64      number;    /* of the cohort in it, from 1; 0: none is stated, it waits for no other */
  gboolean    begun;     /* any of it was burnt; also where done is more than 0 */
} WbCraftEveningsCohort;

typedef struct
{
  guint      places;        /* of the bench */
  WbEvenings evenings;      /* days of the week */
  int        begins_min;    /* after midnight, local time, 0 to 1439 */
  WbDay      first;         /* no evening before that day */
  guint      horizon_days;  /* and none so many days after it */
  const GArray *out;        /* WbDaySpan, without time; NULL: none; borrowed */
} WbCraftEveningsBench;

/* A year: behind it nobody plans evenings. Common practice, no source. */
#define WB_CRAFT_EVENINGS_HORIZON_DAYS 366

/* Of an evening: burn `burn` (from 1, of its life) of the cohort of that index. */
typedef struct
{
  guint cohort;
  guint burn;
} WbCraftEveningsBurn;

typedef struct
{
  WbDay     day;
  WbInstant begins;   /* at begins_min by the clock on the wall, in summer time as out of it */
  guint     first, n; /* of `burns` */
  guint     places;   /* taken */
} WbCraftEvening;

typedef struct
{
  GArray    *evenings;  /* WbCraftEvening, by day; only those on which something burns */
  GArray    *burns;     /* WbCraftEveningsBurn, by evening */
  GPtrArray *problems;  /* char *, translated: what is not planned, and why; empty: all is */
  guint      left;      /* burns that are not planned */
  gboolean   cut;       /* some of them because they come after the horizon */
} WbCraftEvenings;

/* Cohorts of several experiments in the order in which they were poured; those of one in any. Caller frees. */
WbCraftEvenings *wb_craft_evenings_new   (const WbCraftEveningsCohort *cohorts, guint n, const WbCraftEveningsBench *bench);
void             wb_craft_evenings_free  (WbCraftEvenings *self);
/* Day of the last planned burn; WB_DAY_NONE: none is planned. */
WbDay            wb_craft_evenings_get_last (const WbCraftEvenings *self);

/* Samples that are not poured yet. */
typedef struct
{
  guint     samples;
  guint     burns;     /* of each, to its end */
  WbInstant ready_at;  /* when all of them have cured */
  double    burn_s, cool_s; /* as of a cohort */
} WbCraftEveningsGrid;

typedef struct
{
  guint    evenings; /* on which some of them burn */
  WbDay    last;     /* of these; WB_DAY_NONE: not all of their burns are planned, or there is none */
  gboolean late;     /* because they go on after the horizon */
} WbCraftEveningsOutlook;

/*
 * When such a grid has burnt to its end if it comes to the bench behind those cohorts (n may be 0): planned as
 * everything is, in as few cohorts as the bench's places allow, as even as they come.
 */
WbCraftEveningsOutlook wb_craft_evenings_foretell (const WbCraftEveningsCohort *cohorts, guint n, const WbCraftEveningsBench *bench,
                                                   const WbCraftEveningsGrid *grid);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbCraftEvenings, wb_craft_evenings_free)

G_END_DECLS
