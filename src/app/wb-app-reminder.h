/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-bench.h"

G_BEGIN_DECLS

/*
 * What the bench has to remind of at this moment, most urgent first. Worked
 * out anew from state and clock each time: what was answered is no longer in
 * it, and is to be withdrawn. Immutable.
 */

typedef enum
{
  WB_APP_REMINDER_OVER, /* a reading over a limit, which nobody has seen to */
  WB_APP_REMINDER_STOP, /* the burn's stated length ends soon, or is over */
  WB_APP_REMINDER_DUE,  /* a reading is due */
  WB_APP_REMINDER_WEIGH, /* its wax has set a moment ago: to be weighed */
  WB_APP_REMINDER_COOL  /* cooled a moment ago: fit to light again */
} WbAppReminderKind;

typedef struct
{
  WbAppReminderKind kind;
  char             *id;     /* "due:" and the UUID of the burn, and so on: a second one with it replaces the first */
  int               step;   /* it is told anew when this grows */
  char             *code;   /* of the sample */
  gint64            since_us; /* UTC: when what it tells was or is due */
  char             *title;  /* translated: "F-03: reading due" */
  char             *body;   /* translated sentence */
  gint64            experiment; /* of a group: of its first */
  gint64            sample;
  GPtrArray        *members; /* of a group: WbAppReminder, the first in order of their codes before the others; NULL: it tells of one candle */
} WbAppReminder;

/* What is known of one sample. */
typedef struct
{
  const char *code;
  const char *uuid;        /* of the sample, as text */
  const char *burn;        /* of its burn, as text; NULL: never lit */
  gint64      experiment;
  gint64      sample;
  gboolean    alight;
  gint64      lit_us;      /* UTC: when its burn was lit; two that are due in one minute are told apart by it alone, whatever second it is now */
  gint64      elapsed_s;
  gint64      due_in_s;    /* as wb_app_bench_sample_get_due_in_s */
  double      length_s;    /* the burn's stated length; NAN: none */
  const char *over;        /* the limit in words; NULL: none, or it was seen to */
  const char *advice;      /* what to do about it; may be NULL */
  gint64      set_since_s; /* how long ago its wax had set; below 0: it has not, or it was weighed */
  gint64      fit_since_s; /* how long ago it was cool enough to light; below 0: it is not, or it never burnt */
  gint64      fit_in_s;    /* in which time it will be; below 1: it is, or nobody knows */
} WbAppReminderCase;

void       wb_app_reminder_free    (WbAppReminder *self);
/* WbAppReminder. ahead_min: minutes before the end of a burn from which it is told. now: for the time of day in the words. */
GPtrArray *wb_app_reminders_find   (const WbAppReminderCase *cases, guint n, int ahead_min, WbInstant now);
GPtrArray *wb_app_reminders_of     (WbAppBench *bench, int ahead_min);
/*
 * The same with one for many: all that are to be weighed, all that have cooled, and where more than two readings or ends of
 * burns fell due in one minute these. A group's id stays while candles come to it and go. A limit that was passed is told candle by
 * candle. Takes `found`.
 */
GPtrArray *wb_app_reminders_group  (GPtrArray *found);
/* Whether a reminder of another list tells of the same, or of one of its members, alone or in a group. */
gboolean   wb_app_reminder_shares  (const WbAppReminder *self, const WbAppReminder *other);
/*
 * told: of `now` those that are new or have gone a step further, or of which a member has; gone: ids (borrowed from `before`) that are no longer there.
 * Caller unrefs both; before may be NULL.
 */
void       wb_app_reminders_compare (GPtrArray *before, GPtrArray *now, GPtrArray **told, GPtrArray **gone);

G_END_DECLS
