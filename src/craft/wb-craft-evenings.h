/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-evenings.h"

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

/*
 * Before anything is poured: days from the pour to the last burn, cure included, when so many samples burn so often each on so many
 * places on so many evenings a week (1 to 7), spread evenly; evenings (may be NULL): on how many. In whole cohorts, each of as many
 * as the bench holds. The real one may come some days later, by the weekday of the pour. 0: nothing burns, or nowhere or never.
 */
guint            wb_craft_evenings_estimate_days (guint samples, guint burns, guint places, guint evenings_a_week, double cure_days,
                                                  guint *evenings);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbCraftEvenings, wb_craft_evenings_free)

G_END_DECLS
