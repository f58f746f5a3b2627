/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-notebook.h"

G_BEGIN_DECLS

/* What every test of the room needs: a notebook in a folder of its own, and waiting that fails at its limit instead of hanging. */

/* What a test program of the room begins with: folders of its own, and a clock that stands, which a test moves on. */
void           app_init (int *argc, char ***argv);

/* Runs the main loop until the condition holds; fails the test after a minute. */
typedef gboolean (*AppCondition) (gpointer data);
void           app_wait_until (AppCondition condition, gpointer data, const char *what);
/* Runs the main loop until the callback below was called; gives its result. */
GAsyncResult  *app_wait_result (GAsyncResult **slot);
/* A GAsyncReadyCallback; user data is a GAsyncResult **. */
void           app_keep_result_cb (GObject *source, GAsyncResult *result, gpointer slot);
gboolean       app_is_set (gpointer flag);

/* A new file name in a folder that the test run throws away. */
char          *app_new_path (void);
/* A new notebook; close it with app_close, which asserts that nothing else holds it (let go of async results first). */
WbAppNotebook *app_new_notebook (void);
WbAppNotebook *app_open (const char *path);
void           app_close (WbAppNotebook *notebook);
/* Lets go of an object that a thread may still be about to let go of, and asserts that nothing else holds it. */
void           app_finalize (gpointer object, const char *what);

/* Saves and waits; fails the test on an error. Gives the id. */
gint64         app_save (WbAppNotebook *notebook, gconstpointer record);
/* Takes the newest step back; again: brings back the one that was taken back last. */
void           app_undo (WbAppNotebook *notebook, gboolean again);
gint64         app_add_wax (WbAppNotebook *notebook, const char *name);
gint64         app_add_vessel (WbAppNotebook *notebook, const char *name, double inner_diameter_mm);
gint64         app_add_wick (WbAppNotebook *notebook, const char *series, const char *size, int step);
gint64         app_add_fragrance (WbAppNotebook *notebook, const char *name);

/* Suites of the room, one a file. */
void test_app_amend_add    (void);
void test_app_advice_add   (void);
void test_app_answers_add  (void);
void test_app_attachments_add (void);
void test_app_backup_add   (void);
void test_app_bench_add    (void);
void test_app_bench_draft_add (void);
void test_app_draft_add (void);
void test_app_bench_plan_add (void);
void test_app_calendar_add (void);
void test_app_decision_add (void);
void test_app_decision_news_add (void);
void test_app_decision_papers_add (void);
void test_app_document_add  (void);
void test_app_check_burn_add (void);
void test_app_cure_add     (void);
void test_app_error_add    (void);
void test_app_hazard_add   (void);
void test_app_import_add   (void);
void test_app_mapping_add  (void);
void test_app_job_add      (void);
void test_app_lessons_add  (void);
void test_app_lighting_add (void);
void test_app_live_add    (void);
void test_app_loads_add    (void);
void test_app_logger_add   (void);
void test_app_lot_trace_add (void);
void test_app_notebook_add (void);
void test_app_papers_add   (void);
void test_app_plan_add     (void);
void test_app_record_add   (void);
void test_app_shelf_add    (void);
void test_app_reminder_add (void);
void test_app_report_add (void);
void test_app_retain_add (void);
void test_app_row_add (void);
void test_app_settings_add (void);
void test_app_sheet_add    (void);
void test_app_sheet_crossed_add (void);
void test_app_sheet_throw_add (void);
void test_app_stock_add (void);
void test_app_touched_add   (void);
void test_app_today_add (void);
void test_app_throw_add    (void);
void test_app_throw_again_add (void);
void test_app_time_add     (void);
void test_app_wicks_add    (void);

G_END_DECLS
