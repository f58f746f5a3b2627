/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-calendar.h"
#include "wb-app-loads-private.h"
#include "wb-craft-evenings.h"

G_BEGIN_DECLS

typedef struct
{
  char   *code;
  char   *cell;       /* what tells its combination apart */
  gint64  id;
} WbAppCalendarSample;

/* Samples of an experiment that still burn, together. */
typedef struct
{
  gint64     experiment;
  WbUuid     uuid;      /* of the experiment */
  char      *code;      /* of it */
  char      *title;     /* of it */
  gint64     cohort;    /* 0: none is stated */
  char      *name;      /* "T5", and "T5, cohort 2" where there are several */
  gboolean   begun;     /* any of it was burnt, one that is at its end among them */
  GPtrArray *samples;   /* WbAppCalendarSample */
  guint      done;      /* burns of the sample with the fewest */
  guint      left;      /* of the one with the most */
  WbInstant  ready_at;  /* when the last of them is fit to light; unknown: all are */
  gboolean   cooling;   /* they wait for their cooling, not for their cure */
  double     burn_s;
  double     cool_s;
} WbAppCalendarCohort;

/* One thing that stands in a calendar. */
typedef struct
{
  WbAppCalendarKind kind;
  WbDay             day;
  WbInstant         at;         /* unknown: all that day */
  double            length_s;   /* of an evening */
  gint64            experiment;
  char             *code;       /* of the experiment */
  guint             cohort;     /* of an evening or a relighting: index */
  guint             burn;
  guint             samples;
  char             *uid;        /* the same whenever it is worked out */
  char             *title;      /* translated */
  char             *detail;
} WbAppCalendarEvent;

typedef struct
{
  GPtrArray       *cohorts;    /* WbAppCalendarCohort, in the order of experiments */
  WbCraftEvenings *evenings;   /* its cohorts are the indices of `cohorts` */
  GPtrArray       *events;     /* WbAppCalendarEvent, by day, moment and kind */
  GPtrArray       *problems;   /* char *: why something is not planned */
  guint            places;     /* of the bench; 0: not said */
  WbEvenings       days;
  GArray          *out;        /* WbDaySpan: evenings left out */
  int              begins_min; /* of an evening, after midnight */
  WbDay            first;      /* no evening is planned before it */
  WbInstant        revised;    /* since when all of it is as it is */
  WbInstant        until;      /* from when it will be another without an entry */
} WbAppCalendarRead;

/*
 * What waits and is planned in a notebook at that moment, of all experiments that are open: they share the evenings. Thread of the
 * store. NULL with an error.
 */
WbAppCalendarRead *wb_app_calendar_read      (WbStore *store, WbAppLoads *loads, WbInstant now, GError **error);
void               wb_app_calendar_read_free (WbAppCalendarRead *self);
/* Events and problems from cohorts and the notebook's settings; part of the above. */
void               wb_app_calendar_plan      (WbAppCalendarRead *self, const WbNotebook *notebook, WbInstant now);

/* A plan of nothing, for `wb_app_calendar_plan`. Caller frees. */
WbAppCalendarRead *wb_app_calendar_read_new  (void);
/* The bench by which it is planned. */
WbCraftEveningsBench wb_app_calendar_get_bench (const WbAppCalendarRead *self);
/* What is planned there, WbCraftEveningsCohort, whose names are borrowed from it. Caller unrefs. */
GArray            *wb_app_calendar_dup_cohorts (const WbAppCalendarRead *self);

/* Takes uid, title and detail. */
WbAppCalendarEvent *wb_app_calendar_event_new (WbAppCalendarKind kind, gint64 experiment, const char *code, char *uid, char *title, char *detail);
/* "T5: 4 samples fit to burn". Translated; caller frees. */
char               *wb_app_calendar_dup_cure_title (const char *code, gboolean smell, guint n);
/* "A-1, A-2". Caller frees. */
char               *wb_app_calendar_dup_codes (const WbAppCalendarCohort *cohort);

/* What a list shows of it: WbAppCalendarItem, what burns of one experiment on one evening as one. Caller unrefs. */
GPtrArray          *wb_app_calendar_list_items (const WbAppCalendarRead *read);
/* What the list was made of; borrowed until the next plan; NULL: not loaded. */
const WbAppCalendarRead *wb_app_calendar_get_read (WbAppCalendar *self);
gboolean            wb_app_calendar_item_equal (WbAppCalendarItem *a, WbAppCalendarItem *b);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbAppCalendarRead, wb_app_calendar_read_free)

G_END_DECLS
