/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-loop.h"

int
main (int    argc,
      char **argv)
{
  app_init (&argc, &argv);
  test_app_amend_add ();
  test_app_attachments_add ();
  test_app_backup_add ();
  test_app_bench_add ();
  test_app_bench_draft_add ();
  test_app_draft_add ();
  test_app_bench_plan_add ();
  test_app_calendar_add ();
  test_app_document_add ();
  test_app_cure_add ();
  test_app_error_add ();
  test_app_hazard_add ();
  test_app_import_add ();
  test_app_mapping_add ();
  test_app_job_add ();
  test_app_lighting_add ();
  test_app_live_add ();
  test_app_loads_add ();
  test_app_logger_add ();
  test_app_lot_trace_add ();
  test_app_notebook_add ();
  test_app_papers_add ();
  test_app_plan_add ();
  test_app_record_add ();
  test_app_reminder_add ();
  test_app_report_add ();
  test_app_retain_add ();
  test_app_row_add ();
  test_app_settings_add ();
  test_app_shelf_add ();
  test_app_sheet_add ();
  test_app_sheet_crossed_add ();
  test_app_sheet_throw_add ();
  test_app_stock_add ();
  test_app_today_add ();
  test_app_touched_add ();
  test_app_throw_add ();
  test_app_throw_again_add ();
  test_app_time_add ();
  test_app_wicks_add ();
  return g_test_run ();
}
