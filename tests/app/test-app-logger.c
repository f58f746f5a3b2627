/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-evening.h"
#include "wb-app-attachments.h"
#include "wb-app-logger.h"
#include "wb-app-query.h"
#include "wb-app-reminder.h"
#include "wb-clock.h"

#include <math.h>
#include <string.h>

/* A sample lit two hours ago and just snuffed, and an invented logger's file of it: minutes and the wall's temperature. */
typedef struct
{
  Evening           evening;
  WbAppBenchSample *sample;
  GFile            *file;
} Book;

/* snuffed: at 120 minutes; else it is alight, the clock at 150. */
static void
set_up_file (Book    *book,
             gboolean snuffed)
{
  g_autoptr (GString) text = g_string_new ("Invented logger\nMinutes;Wall (C);RH\n");
  g_autofree char *path = NULL;
  g_autoptr (GError) error = NULL;

  book->sample = evening_set_up_lit (&book->evening);
  wb_clock_advance (wb_clock_get (), snuffed ? 2 * HOUR_US : 150 * MINUTE_US);
  wb_app_bench_update (book->evening.bench);
  if (snuffed)
    {
      evening_snuff (&book->evening, book->sample);
      evening_wait_for_minute (book->sample, 120);
    }
  /* 85 °C in minute 60, and hotter still after the burn. */
  for (int minute = 0; minute <= 150; minute += 10)
    g_string_append_printf (text, "%d;%s;50\n", minute, minute == 60 ? "85" : minute == 70 ? "?" : minute > 120 ? "95" : "41,5");
  path = app_new_path ();
  g_assert_true (g_file_set_contents (path, text->str, -1, &error));
  g_assert_no_error (error);
  book->file = g_file_new_for_path (path);
}

static void
set_up (Book *book)
{
  set_up_file (book, TRUE);
}

static void
tear_down (Book *book)
{
  g_object_unref (book->file);
  evening_tear_down (&book->evening);
}

static WbAppLogger *
read_file (Book                 *book,
           const WbAppLogger    *before,
           const WbLoggerChoice *choice,
           GError              **error)
{
  g_autoptr (GAsyncResult) result = NULL;

  wb_app_logger_read_async (book->evening.notebook, book->sample, wb_app_bench_sample_get_burn (book->sample), book->file, before, choice,
                            FALSE, NULL, app_keep_result_cb, &result);
  return wb_app_logger_read_finish (book->evening.notebook, app_wait_result (&result), error);
}

typedef struct
{
  WbAppAttachments *kept;
  guint             n;
} Count;

static gboolean
has_so_many (gpointer data)
{
  const Count *count = data;

  return wb_app_live_list_get_loaded (WB_APP_LIVE_LIST (count->kept)) && g_list_model_get_n_items (G_LIST_MODEL (count->kept)) == count->n;
}

static void
wait_for (WbAppAttachments *kept,
          guint             n)
{
  Count count = { kept, n };

  app_wait_until (has_so_many, &count, "as many files in the list");
}

static void
test_round (void)
{
  Book book;
  g_autoptr (GError) error = NULL;
  WbAppAttachments *kept;
  gint64 before;

  set_up (&book);
  before = wb_app_notebook_get_last_entry (book.evening.notebook);
  kept = wb_app_attachments_new (book.evening.notebook, wb_app_bench_sample_get_id (book.sample), WB_ATTACHMENT_LOGGER);
  {
    g_autoptr (WbAppLogger) logger = read_file (&book, NULL, NULL, &error);
    g_autoptr (GAsyncResult) result = NULL;

    g_assert_no_error (error);
    g_assert_null (logger->problem);
    g_assert_cmpuint (logger->choice->n_columns, ==, 1);
    g_assert_cmpfloat (logger->end_min, ==, 120.0);
    g_assert_cmpuint (logger->logger->n_refused, ==, 1);
    g_assert_cmpuint (logger->summary.n_after, ==, 3);
    g_assert_cmpfloat (logger->summary.columns[0].highest, ==, 85.0);
    /* Preview writes nothing; keeping is one entry. */
    g_assert_cmpint (wb_app_notebook_get_last_entry (book.evening.notebook), ==, before);
    wb_app_logger_add_async (book.evening.notebook, logger, "T1", NULL, app_keep_result_cb, &result);
    g_assert_true (wb_app_attachment_finish (book.evening.notebook, app_wait_result (&result), &error));
    g_assert_no_error (error);
  }
  wait_for (kept, 1);
  g_assert_cmpint (wb_app_notebook_get_last_entry (book.evening.notebook), ==, before + 1);
  {
    g_autoptr (WbAppAttachmentsItem) item = g_list_model_get_item (G_LIST_MODEL (kept), 0);
    const WbAttachment *record = wb_app_attachments_item_get_record (item);
    g_autoptr (GAsyncResult) result = NULL;
    g_autoptr (WbAppLogger) logger = NULL;
    g_autofree char *contents = NULL;
    gsize length;

    g_assert_cmpint (record->owner, ==, wb_app_bench_sample_get_burn (book.sample)->record.id);
    wb_app_logger_load_async (book.evening.notebook, book.sample, record, FALSE, NULL, app_keep_result_cb, &result);
    logger = wb_app_logger_read_finish (book.evening.notebook, app_wait_result (&result), &error);
    g_assert_no_error (error);
    g_assert_cmpfloat (logger->summary.columns[0].highest, ==, 85.0);
    g_assert_true (wb_craft_logger_is_over (&logger->summary));
    g_assert_nonnull (strstr (wb_chart_get_title (logger->chart), "highest 85.0"));
    g_assert_true (g_file_load_contents (book.file, NULL, &contents, &length, NULL, NULL));
    g_assert_cmpmem (g_bytes_get_data (logger->bytes, NULL), g_bytes_get_size (logger->bytes), contents, length);
  }
  {
    g_autoptr (GAsyncResult) result = NULL;

    wb_app_notebook_undo_async (book.evening.notebook, NULL, app_keep_result_cb, &result);
    wb_app_notebook_save_finish (book.evening.notebook, app_wait_result (&result), NULL, &error);
    g_assert_no_error (error);
  }
  wait_for (kept, 0);
  g_assert_finalize_object (kept);
  tear_down (&book);
}

/* Its logger says that the wall of a candle that is alight was over the house's 77 °C: told and asked until somebody has answered, then in the record. */
static void
test_hazard (void)
{
  Evening evening;
  EveningAsked asked = { NULL, TRUE };
  g_autoptr (GError) error = NULL;
  Book book;

  set_up_file (&book, FALSE);
  evening = book.evening;
  asked.sample = book.sample;
  g_assert_false (wb_app_bench_is_unanswered (book.sample));
  {
    g_autoptr (WbAppLogger) logger = read_file (&book, NULL, NULL, &error);
    g_autoptr (GAsyncResult) result = NULL;

    g_assert_no_error (error);
    wb_app_logger_add_async (evening.notebook, logger, "T1", NULL, app_keep_result_cb, &result);
    g_assert_true (wb_app_attachment_finish (evening.notebook, app_wait_result (&result), &error));
    g_assert_no_error (error);
  }
  app_wait_until (evening_is_asked_so, &asked, "the question");
  {
    g_autoptr (GPtrArray) hits = wb_app_bench_dup_unanswered (book.sample), reminders = wb_app_reminders_of (evening.bench, 10);
    const WbAppBenchHit *hit = g_ptr_array_index (hits, 0);
    const WbAppReminder *reminder = g_ptr_array_index (reminders, 0);
    GAsyncResult *result = NULL;

    g_assert_cmpint (hit->limit->kind, ==, WB_LIMIT_VESSEL);
    g_assert_nonnull (strstr (hit->text, "at 130 min in its logger's file"));
    g_assert_cmpstr (hit->advice, ==, "Snuff it now, with a long tool. Do not carry it.");
    g_assert_cmpint (reminder->kind, ==, WB_APP_REMINDER_OVER);
    g_assert_nonnull (strstr (reminder->title, "in its logger's file"));
    wb_app_bench_answer_async (evening.bench, wb_app_bench_sample_get_id (book.sample), hit->text, NULL, app_keep_result_cb, &result);
    g_assert_true (evening_finish (&evening, &result, &error));
    g_assert_no_error (error);
  }
  asked.unanswered = FALSE;
  app_wait_until (evening_is_asked_so, &asked, "the answer in the record");
  {
    g_autoptr (GPtrArray) kept = wb_app_query_list_sync (evening.notebook, &wb_attachment_type, &error);
    const WbAttachment *attachment = g_ptr_array_index (kept, 0);

    g_assert_cmpfloat (attachment->wall_c, ==, 95.0);
    g_assert_cmpfloat (attachment->wall_min, ==, 130.0);
    g_assert_true (isnan (attachment->base_c));
    g_assert_true (g_str_has_prefix (attachment->note, "✓ Seen to: "));
  }
  /* Before it is lit again it is told that it crossed. */
  {
    g_autofree char *crossing = wb_app_bench_sample_dup_crossing (book.sample, NULL);

    g_assert_nonnull (strstr (crossing, "in burn 1 at 130 min in its logger's file"));
  }
  tear_down (&book);
}

static void
test_choice (void)
{
  Book book;
  g_autoptr (GError) error = NULL;

  set_up (&book);
  {
    g_autoptr (WbAppLogger) first = read_file (&book, NULL, NULL, &error), other = NULL, wrong = NULL;
    g_autoptr (WbLoggerChoice) choice = NULL;

    g_assert_no_error (error);
    choice = wb_logger_choice_copy (first->choice);
    choice->offset_min = -60.0;
    other = read_file (&book, first, choice, &error);
    g_assert_no_error (error);
    g_assert_cmpuint (other->summary.n_before, ==, 6);
    /* 95 °C, which the logger wrote from minute 130 on */
    g_assert_cmpfloat (other->summary.columns[0].at_min, ==, 70.0);
    /* By another delimiter the file has other columns: they are proposed anew, and what is wrong is said. */
    choice->delimiter = ',';
    wrong = read_file (&book, first, choice, &error);
    g_assert_no_error (error);
    g_assert_nonnull (wrong->problem);
    g_assert_null (wrong->chart);
    g_assert_cmpstr (wrong->names[0], ==, "Minutes;Wall (C);RH");
  }
  g_assert_true (g_file_delete (book.file, NULL, &error));
  g_assert_null (read_file (&book, NULL, NULL, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_NOT_FOUND);
  tear_down (&book);
}

void
test_app_logger_add (void)
{
  g_test_add_func ("/app/logger/a-kept-file-says-the-same-again-and-undo-takes-it-out", test_round);
  g_test_add_func ("/app/logger/over-a-limit-it-is-told-until-answered", test_hazard);
  g_test_add_func ("/app/logger/another-choice-reads-it-anew-and-what-is-wrong-is-said", test_choice);
}
