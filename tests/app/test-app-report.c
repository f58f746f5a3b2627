/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-evening.h"
#include "wb-app-answers.h"
#include "wb-app-attachment.h"
#include "wb-app-document.h"
#include "wb-app-photo.h"
#include "wb-app-query.h"
#include "wb-app-report.h"

#include <gdk-pixbuf/gdk-pixbuf.h>
#include <glib/gstdio.h>
#include <string.h>

/* What the report takes from the notebook beside its answer: photos, logo, fingerprint; and what was chosen, as a setting. */

/* A picture on the disk, as "png" or "jpeg". Caller owns it. */
static GFile *
write_picture (int         width,
               int         height,
               const char *kind)
{
  g_autoptr (GdkPixbuf) pixbuf = gdk_pixbuf_new (GDK_COLORSPACE_RGB, FALSE, 8, width, height);
  g_autofree char *path = app_new_path ();
  g_autoptr (GError) error = NULL;

  gdk_pixbuf_fill (pixbuf, 0x336699ff);
  g_assert_true (gdk_pixbuf_save (pixbuf, path, kind, &error, NULL));
  g_assert_no_error (error);
  return g_file_new_for_path (path);
}

static gboolean
keep_logo (Evening *evening,
           GFile   *file,
           GError **error)
{
  g_autoptr (GAsyncResult) result = NULL;
  gint64 owner = wb_app_notebook_get_settings (evening->notebook)->record.id;

  wb_app_document_add_picture_async (evening->notebook, owner, "the letterhead", file, NULL, app_keep_result_cb, &result);
  return wb_app_document_add_finish (evening->notebook, app_wait_result (&result), error);
}

static void
keep_photo (Evening          *evening,
            WbAppBenchSample *sample,
            GFile            *file)
{
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;

  wb_app_photo_add_file_async (evening->notebook, wb_app_bench_sample_get_id (sample), wb_app_bench_sample_get_code (sample), file, NULL,
                               app_keep_result_cb, &result);
  g_assert_true (wb_app_photo_add_finish (evening->notebook, app_wait_result (&result), &error));
  g_assert_no_error (error);
}

/* The report's PDF of what the notebook holds now. Caller frees the path. */
static char *
write_report (Evening                 *evening,
              const WbAppReportChoice *choice)
{
  g_autofree char *stem = app_new_path ();
  char *path = g_strconcat (stem, ".pdf", NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (WbCraftAnswer) answer = wb_app_answers_compute_sync (evening->notebook, evening->experiment, WB_CRAFT_WITHIN_SCENT, 0, NULL, &error);

  g_assert_no_error (error);
  g_assert_true (wb_app_report_write_sync (evening->notebook, answer, choice, path, NULL, &error));
  g_assert_no_error (error);
  return path;
}

static char *
ask (const char *tool,
     const char *option,
     const char *path)
{
  const char *argv[] = { tool, option, path, strcmp (tool, "pdftotext") == 0 ? "-" : NULL, NULL };
  g_autoptr (GError) error = NULL;
  char *text;
  int status;

  g_assert_true (g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &text, NULL, &status, &error));
  g_assert_no_error (error);
  g_assert_cmpint (status, ==, 0);
  return text;
}

/* Lines of pdfimages -list below its head of two. */
static guint
count_images (const char *path)
{
  g_autofree char *images = ask ("pdfimages", "-list", path);
  g_auto (GStrv) lines = g_strsplit (g_strchomp (images), "\n", -1);

  return g_strv_length (lines) - 2;
}

/* What is kept comes onto paper at the resolution of print, and goes where it is left out, taken off or refused. */
static void
test_pictures (void)
{
  Evening evening = { 0 };
  WbAppBenchSample *sample = evening_set_up_lit (&evening);
  WbAppReportChoice choice = WB_APP_REPORT_CHOICE_INIT;
  g_autoptr (GFile) photo = write_picture (1800, 1200, "jpeg"), logo = write_picture (900, 300, "png");
  g_autofree char *plain = write_report (&evening, &choice), *shown = NULL, *without = NULL;
  g_autofree char *images = NULL;
  g_autofree char *text = NULL;
  g_autoptr (GError) error = NULL;

  g_assert_cmpuint (count_images (plain), ==, 0);
  keep_photo (&evening, sample, photo);
  g_assert_true (keep_logo (&evening, logo, &error));
  shown = write_report (&evening, &choice);
  g_assert_cmpuint (count_images (shown), ==, 2);
  images = ask ("pdfimages", "-list", shown);
  g_assert_nonnull (strstr (images, " 660 "));
  g_assert_nonnull (strstr (images, " 600 "));
  g_assert_null (strstr (images, " 1800 "));
  text = ask ("pdftotext", "-raw", shown);
  g_assert_nonnull (strstr (text, "Photos"));
  g_assert_nonnull (strstr (text, wb_app_bench_sample_get_code (sample)));
  choice.left_out = 1u << WB_REPORT_SECTION_PHOTOS;
  without = write_report (&evening, &choice);
  g_assert_cmpuint (count_images (without), ==, 1);
  evening_tear_down (&evening);
}

/* A logo that is no picture is not kept: the letterhead stays. */
static void
test_no_logo (void)
{
  Evening evening = { 0 };
  g_autofree char *path = app_new_path ();
  g_autoptr (GFile) file = g_file_new_for_path (path);
  g_autoptr (GError) error = NULL;

  evening_set_up (&evening);
  g_assert_true (g_file_set_contents (path, "<svg xmlns='http://www.w3.org/2000/svg'/>", -1, NULL));
  g_assert_false (keep_logo (&evening, file, &error));
  g_assert_nonnull (error);
  evening_tear_down (&evening);
}

static void
delete_record (WbAppNotebook *notebook,
               gconstpointer  record)
{
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;

  wb_app_notebook_delete_async (notebook, "Delete for a test", record, NULL, app_keep_result_cb, &result);
  g_assert_cmpint (wb_app_notebook_save_finish (notebook, app_wait_result (&result), NULL, &error), >, 0);
  g_assert_no_error (error);
}

/* A text speaks of things as they were called when it was written: under other names neither those of before nor of what is gone stand. */
static void
test_former_names (void)
{
  Evening evening = { 0 };
  WbAppReportChoice choice = WB_APP_REPORT_CHOICE_INIT;
  g_autoptr (GPtrArray) waxes = NULL, experiments = NULL;
  g_autofree char *path = NULL, *text = NULL;
  WbExperiment *experiment;
  WbWax *wax;

  evening_set_up_lit (&evening);
  app_add_wax (evening.notebook, "Grebe hard");
  waxes = wb_app_query_list_sync (evening.notebook, &wb_wax_type, NULL);
  experiments = wb_app_query_list_sync (evening.notebook, &wb_experiment_type, NULL);
  experiment = g_ptr_array_index (experiments, 0);
  g_free (experiment->question);
  experiment->question = g_strdup ("Is HEATH BLEND better than Grebe hard?");
  app_save (evening.notebook, experiment);
  for (guint i = 0; i < waxes->len; i++)
    {
      wax = g_ptr_array_index (waxes, i);
      if (g_str_equal (wax->name, "Grebe hard"))
        {
          delete_record (evening.notebook, wax);
          continue;
        }
      g_free (wax->name);
      wax->name = g_strdup ("Tarnow firm");
      app_save (evening.notebook, wax);
    }
  choice.anonymous = TRUE;
  path = write_report (&evening, &choice);
  text = ask ("pdftotext", "-raw", path);
  g_assert_nonnull (strstr (text, "Is Wax A better than another wax?"));
  g_assert_null (strstr (text, "HEATH"));
  g_assert_null (strstr (text, "Heath"));
  g_assert_null (strstr (text, "Grebe"));
  g_assert_null (strstr (text, "Tarnow"));
  evening_tear_down (&evening);
}

/* A choice comes back as it was kept; what no program wrote is all of it. */
static void
test_choice (void)
{
  static const struct { const char *text; guint left_out, photos; gboolean anonymous; } cases[] = {
    { "", 0, WB_REPORT_PHOTOS_MOST, FALSE },
    { "without=rings,life;photos=4;anonymous", 1u << WB_REPORT_SECTION_RINGS | 1u << WB_REPORT_SECTION_LIFE, 4, TRUE },
    { "without=;photos=400", 0, WB_REPORT_PHOTOS_MOST, FALSE },
    { "without=weather,limits;photos=x;anonymously;;", 1u << WB_REPORT_SECTION_LIMITS, WB_REPORT_PHOTOS_MOST, FALSE },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      WbAppReportChoice choice, again;
      g_autofree char *text = NULL;

      g_test_message ("%s", cases[i].text);
      wb_app_report_choice_parse (&choice, cases[i].text);
      g_assert_cmpuint (choice.left_out, ==, cases[i].left_out);
      g_assert_cmpuint (choice.photos, ==, cases[i].photos);
      g_assert_cmpint (choice.anonymous, ==, cases[i].anonymous);
      text = wb_app_report_choice_format (&choice);
      wb_app_report_choice_parse (&again, text);
      g_assert_cmpmem (&choice, sizeof choice, &again, sizeof again);
    }
}

void
test_app_report_add (void)
{
  g_test_add_func ("/app/report/photos-and-logo-come-onto-paper", test_pictures);
  g_test_add_func ("/app/report/a-logo-that-is-no-picture-is-refused", test_no_logo);
  g_test_add_func ("/app/report/former-and-deleted-names-are-kept-back", test_former_names);
  g_test_add_func ("/app/report/a-choice-is-kept-as-a-setting", test_choice);
}
