/* SPDX-License-Identifier: GPL-3.0-or-later */
/* For eyes: every paper of an invented workshop as a PDF. */
#include "config.h"

#include "report-bench.h"
#include "wb-report-test.h"

static void
write_pdf (WbReportDocument *document,
           const char       *folder,
           const char       *name)
{
  g_autofree char *file = g_strconcat (name, ".pdf", NULL);
  g_autofree char *path = g_build_filename (folder, file, NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) bytes = wb_report_document_dup_pdf (document, REPORT_BENCH_DATE, &error);

  if (bytes == NULL || !g_file_set_contents (path, g_bytes_get_data (bytes, NULL), (gssize) g_bytes_get_size (bytes), &error))
    g_printerr ("%s: %s\n", path, error->message);
  wb_report_document_free (document);
}

static void
write_report (WbCraftAnswer         *answer,
              const WbReportOptions *options,
              const char            *folder,
              const char            *name)
{
  write_pdf (wb_report_test_new (answer, options), folder, name);
  wb_craft_answer_unref (answer);
}

int
main (int   argc,
      char *argv[])
{
  g_autofree char *endless = g_strnfill (10000, 'x');
  WbReportOptions options, us;

  if (argc < 2)
    {
      g_printerr ("usage: report-gallery FOLDER\n");
      return 2;
    }
  report_bench_options (&options);
  us = options;
  us.us_units = TRUE;
  us.paper = WB_REPORT_LETTER;
  write_report (report_bench_answer_new (), &us, argv[1], "report-us");
  write_report (report_bench_planned_new (), &options, argv[1], "report-planned");
  write_report (report_bench_empty_new (), &options, argv[1], "report-empty");
  write_report (report_bench_hopeless_new (), &options, argv[1], "report-hopeless");
  write_report (report_bench_named_new (endless), &options, argv[1], "report-endless");
  write_report (report_bench_named_new ("نَسيم البحر"), &options, argv[1], "report-rtl");
  write_pdf (report_bench_batch_new (&options), argv[1], "batch");
  write_pdf (report_bench_batch_new (&us), argv[1], "batch-us");
  write_pdf (report_bench_log_new (&options, 5), argv[1], "log");
  write_pdf (report_bench_plan_new (&options, TRUE), argv[1], "plan");
  write_pdf (report_bench_plan_new (&us, FALSE), argv[1], "plan-blank-us");
  write_pdf (report_bench_plan_large_new (&options, 40, 60, 40, 10), argv[1], "plan-large");
  for (WbReportLabelPreset preset = 0; preset < WB_REPORT_LABELS_N; preset++)
    {
      g_autofree char *name = g_strdup_printf ("labels-%u", preset);

      write_pdf (report_bench_labels_new (&options, 5, preset, preset == WB_REPORT_LABELS_ROLL_62 ? 0 : 4), argv[1], name);
    }
  write_pdf (report_bench_labels_new (&options, 0, WB_REPORT_LABELS_A4_21, 0), argv[1], "labels-alignment");
  write_pdf (report_bench_cards_new (&options, 5, WB_REPORT_A4, FALSE, FALSE), argv[1], "cards");
  write_pdf (report_bench_cards_new (&options, 5, WB_REPORT_A4, TRUE, FALSE), argv[1], "cards-folded");
  write_pdf (report_bench_cards_new (&options, 5, WB_REPORT_LETTER, FALSE, TRUE), argv[1], "cards-blind");
  return 0;
}
