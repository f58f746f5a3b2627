/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "app-loop.h"
#include "wb-app-bench.h"
#include "wb-app-evening.h"

G_BEGIN_DECLS

#define MINUTE_US ((gint64) 60 * G_USEC_PER_SEC)
#define HOUR_US (60 * MINUTE_US)
#define DAY_US (24 * HOUR_US)

/* An experiment poured and on the bench. The test clock stands still; what a test needs of it is moved by hand. */
typedef struct
{
  WbAppNotebook *notebook;
  gint64         experiment;
  WbAppBench    *bench;
} Evening;

void              evening_set_up         (Evening *evening);
void              evening_set_up_limits  (Evening *evening, gboolean no_crack_limit);
/* Vessels of so many wicks. */
void              evening_set_up_wicks   (Evening *evening, guint n_wicks);
/* Its samples are scented, of a wax that is fit to burn after 3 days and to smell after so many. */
void              evening_set_up_scented (Evening *evening, double smell_cure_days);
/* The same three days later, a session open and its first sample, which is returned, just lit. */
WbAppBenchSample *evening_set_up_lit     (Evening *evening);
/* The same where it is set up already. */
WbAppBenchSample *evening_light_first    (Evening *evening);
/* In a new process, as far as the program can tell: the notebook at `path` and its bench, loaded. */
void              evening_reopen         (Evening *evening, const char *path);
void              evening_tear_down      (Evening *evening);
gboolean          evening_is_loaded      (gpointer bench);
WbAppBenchSample *evening_nth            (Evening *evening, guint n);
/* Waits until the bench has read it. */
void              evening_wait_for_state (WbAppBenchSample *sample, WbAppBenchState state);
gboolean          evening_finish         (Evening *evening, GAsyncResult **result, GError **error);
void              evening_open_session   (Evening *evening);
void              evening_light          (Evening *evening, WbAppBenchSample *sample);
/* Until its newest reading is of that minute. */
void              evening_wait_for_minute (WbAppBenchSample *sample, double minute);
/* minute: that which the bench is to give it. */
void              evening_read_flame     (Evening *evening, WbAppBenchSample *sample, double flame_mm, double minute);
void              evening_snuff          (Evening *evening, WbAppBenchSample *sample);
void              evening_save_sheet     (WbAppEvening *sheet);

/* For app_wait_until: somebody is to answer a hazard of the sample, or nobody any more. */
typedef struct
{
  WbAppBenchSample *sample;
  gboolean          unanswered;
} EveningAsked;

gboolean          evening_is_asked_so    (gpointer asked);

G_END_DECLS
