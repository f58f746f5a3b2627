/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-loop.h"
#include "wb-app-job.h"

static void
on_notify_cb (guint *count)
{
  (*count)++;
}

static gpointer
report_often (gpointer job)
{
  for (guint i = 0; i < 100000; i++)
    wb_app_job_report (job, i / 100000.0, NULL);
  wb_app_job_report (job, 1, "done");
  return NULL;
}

static gboolean
is_done (gpointer job)
{
  return !wb_app_job_get_running (job);
}

static void
test_thread_reports (void)
{
  g_autoptr (WbAppJob) job = wb_app_job_new ();
  guint notified = 0;
  GThread *thread;

  g_signal_connect_swapped (job, "notify::progress", G_CALLBACK (on_notify_cb), &notified);
  g_assert_true (wb_app_job_get_running (job));
  thread = g_thread_new ("reporter", report_often, job);
  app_wait_until (is_done, job, "the job to end");
  g_thread_join (thread);
  g_assert_cmpfloat (wb_app_job_get_progress (job), ==, 1);
  g_assert_cmpstr (wb_app_job_get_text (job), ==, "done");
  /* A hundred thousand reports are not a hundred thousand wake-ups: at most one a tenth of a second. */
  g_assert_cmpuint (notified, <, 1000);
}

static void
test_cancel (void)
{
  g_autoptr (WbAppJob) job = wb_app_job_new ();

  g_assert_true (wb_app_job_keep_going (0.1, job));
  wb_app_job_cancel (job);
  g_assert_true (wb_app_job_is_cancelled (job));
  g_assert_false (wb_app_job_keep_going (0.2, job));
  g_assert_true (wb_app_job_keep_going (0.2, NULL));
  app_close ((gpointer) g_steal_pointer (&job));
}

void
test_app_job_add (void)
{
  g_test_add_func ("/app/job/a-thread-s-reports-arrive-thinned-out", test_thread_reports);
  g_test_add_func ("/app/job/a-cancelled-job-says-stop", test_cancel);
}
