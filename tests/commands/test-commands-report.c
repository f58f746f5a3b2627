/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "commands-run.h"

#include <string.h>

/* The customer's report by command: its sections, its other names and their key, and the fingerprint at its foot. */

/* The text of a PDF as a tool has it. Caller frees. */
static char *
ask (const char *tool,
     const char *option,
     const char *file)
{
  const char *argv[] = { tool, option, file, strcmp (tool, "pdftotext") == 0 ? "-" : NULL, NULL };
  g_autoptr (GError) error = NULL;
  char *text;
  int status;

  g_assert_true (g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &text, NULL, &status, &error));
  g_assert_no_error (error);
  g_assert_cmpint (status, ==, 0);
  return text;
}

static void
assert_done (Run *run)
{
  g_assert_cmpstr (run->err, ==, "");
  g_assert_cmpint (run->status, ==, 0);
}

static void
test_sections (void)
{
  g_autofree char *path = commands_new_notebook ("sections.wickbench"), *file = commands_path ("sections.pdf");
  g_autoptr (Run) run = commands_run ("report", path, "AVT", "--output", file, "--sections", "limits,charts", NULL);
  g_autofree char *text = NULL;

  assert_done (run);
  text = ask ("pdftotext", "-raw", file);
  g_assert_nonnull (strstr (text, "\nLimits\n"));
  g_assert_nonnull (strstr (text, "The burns in pictures"));
  g_assert_nonnull (strstr (text, "Cautions"));
  g_assert_nonnull (strstr (text, "Left out of this report as the maker chose: How it was tested, Ranking and reasons"));
  g_assert_null (strstr (text, "By which protocol"));
  g_assert_null (strstr (text, "A-1"));
}

/* No name of the log's materials, in the text, the outline or the information; the key, a file of its own, has them all. */
static void
test_anonymous (void)
{
  static const char *const names[] = { "Osprey", "Larch" };
  g_autofree char *path = commands_new_notebook ("anonymous.wickbench"), *file = commands_path ("anonymous.pdf"), *key = commands_path ("key.pdf");
  g_autoptr (Run) run = commands_run ("report", path, "AVT", "--output", file, "--anonymous", "--key", key, NULL);
  g_autofree char *text = NULL;
  g_autofree char *information = NULL;
  g_autofree char *inside = NULL;
  g_autofree char *resolved = NULL;

  assert_done (run);
  text = ask ("pdftotext", "-raw", file);
  information = ask ("pdfinfo", "-isodates", file);
  inside = ask ("qpdf", "--json", file);
  resolved = ask ("pdftotext", "-raw", key);
  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_assert_null (strstr (text, names[i]));
      g_assert_null (strstr (information, names[i]));
      g_assert_null (strstr (inside, names[i]));
      g_assert_nonnull (strstr (resolved, names[i]));
    }
  g_assert_nonnull (strstr (text, "Wick A"));
  g_assert_nonnull (strstr (text, "have other names here"));
  g_assert_nonnull (strstr (resolved, "for the maker alone"));
}

/* The same notebook, names and date: the same bytes, of the report and of its key. */
static void
test_anonymous_again (void)
{
  g_autofree char *path = commands_new_notebook ("again.wickbench"), *bytes[4] = { NULL };
  gsize lengths[4];

  for (guint i = 0; i < 2; i++)
    {
      g_autofree char *file = commands_path (i == 0 ? "one.pdf" : "two.pdf"), *key = commands_path (i == 0 ? "one-key.pdf" : "two-key.pdf");
      g_autoptr (Run) run = commands_run_with ("SOURCE_DATE_EPOCH", "1772438820", "report", path, "AVT", "--output", file, "--anonymous", "--key", key, NULL);

      assert_done (run);
      g_assert_true (g_file_get_contents (file, &bytes[2 * i], &lengths[2 * i], NULL));
      g_assert_true (g_file_get_contents (key, &bytes[2 * i + 1], &lengths[2 * i + 1], NULL));
    }
  g_assert_cmpmem (bytes[0], lengths[0], bytes[2], lengths[2]);
  g_assert_cmpmem (bytes[1], lengths[1], bytes[3], lengths[3]);
  for (guint i = 0; i < G_N_ELEMENTS (bytes); i++)
    g_clear_pointer (&bytes[i], g_free);
}

/* "5:0123...": of an entry, as it stands at the foot. Caller frees. */
static char *
find_fingerprint (const char *text)
{
  g_autoptr (GRegex) regex = g_regex_new ("[0-9]+:[0-9a-f]{64}", 0, 0, NULL);
  g_autoptr (GMatchInfo) match = NULL;

  g_assert_true (g_regex_match (regex, text, 0, &match));
  return g_match_info_fetch (match, 0);
}

/* What is printed can be confirmed, also after more was written, and then it is said how much. */
static void
test_fingerprint (void)
{
  g_autofree char *path = commands_new_notebook ("foot.wickbench"), *file = commands_path ("foot.pdf"), *messy = commands_log ("burn-log-messy.csv");
  g_autoptr (Run) run = commands_run ("report", path, "AVT", "--output", file, NULL), at_once = NULL, more = NULL, later = NULL, again = NULL, other = NULL;
  g_autofree char *text = NULL;
  g_autofree char *fingerprint = NULL;
  g_autofree char *unchanged = NULL;
  g_autofree char *forged = NULL;

  assert_done (run);
  text = ask ("pdftotext", "-raw", file);
  fingerprint = find_fingerprint (text);
  at_once = commands_run ("check", path, "--fingerprint", fingerprint, NULL);
  assert_done (at_once);
  g_assert_nonnull (strstr (at_once->out, "nothing came after it"));
  more = commands_run ("import", path, messy, NULL);
  later = commands_run ("check", path, "--fingerprint", fingerprint, NULL);
  assert_done (later);
  g_assert_nonnull (strstr (later->out, "which is as it was then; 1 entry came after it"));
  /* that entry touches another experiment: the report rests on what it rested on */
  again = commands_run ("report", path, "AVT", "--output", file, NULL);
  assert_done (again);
  g_clear_pointer (&text, g_free);
  text = ask ("pdftotext", "-raw", file);
  unchanged = find_fingerprint (text);
  g_assert_cmpstr (unchanged, ==, fingerprint);
  forged = g_strdup (fingerprint);
  forged[strlen (forged) - 1] = forged[strlen (forged) - 1] == '0' ? '1' : '0';
  other = commands_run ("check", path, "--fingerprint", forged, NULL);
  g_assert_cmpint (other->status, ==, 1);
}

/* 30 vessels and scents, two samples of each, four burns: growth, rings, life and score of each are 120 charts. Caller frees. */
static char *
write_large_log (void)
{
  char *path = commands_path ("sixty.csv");
  GString *log = g_string_new ("experiment,vessel,inner_diameter_mm,wax,wick_series,wick_size,wick_step,fragrance,load_pct,sample,burn,"
                               "lit_at,elapsed_min,pool_mm,depth_mm,flame_mm,vessel_c,mass_g\n");

  for (int sample = 0; sample < 60; sample++)
    for (int burn = 0; burn < 4; burn++)
      for (int hour = 0; hour < 5; hour++)
        g_string_append_printf (log, "Sixty samples,Vessel %c,%d,Wax,Series,N-1,1,Scent %c,6,S%02d,%d,2026-03-%02dT18:%02d:00+00:00,%d,%d,%d,%d,%d,%d\n",
                                'A' + sample / 12, 60 + sample / 12 * 6, 'A' + sample / 2 % 6, sample + 1, burn + 1, burn + 1, sample, hour * 60,
                                MIN (60, 15 + 12 * hour + (sample * 7 + burn * 3 + hour) % 5), 2 * hour, 15 + (sample + burn) % 4, 24 + 7 * hour,
                                400 - 20 * burn - 5 * hour);
  g_assert_true (g_file_set_contents (path, log->str, (gssize) log->len, NULL));
  g_string_free (log, TRUE);
  return path;
}

static guint
count (const char *text,
       const char *what)
{
  guint n = 0;

  for (const char *at = strstr (text, what); at != NULL; at = strstr (at + 1, what))
    n++;
  return n;
}

/* A report of 60 samples with 120 charts goes by mail: below 5 MB without photos. */
static void
test_size (void)
{
  g_autofree char *log = write_large_log (), *path = commands_path ("sixty.wickbench"), *file = commands_path ("sixty.pdf");
  g_autoptr (Run) made = commands_run ("import", path, log, NULL), run = NULL;
  g_autofree char *bytes = NULL;
  g_autofree char *text = NULL;
  g_autofree char *checked = NULL;
  gsize length;

  g_assert_cmpint (made->status, ==, 0);
  run = commands_run ("report", path, "Sixty samples", "--output", file, NULL);
  assert_done (run);
  g_assert_true (g_file_get_contents (file, &bytes, &length, NULL));
  g_assert_cmpuint (length, <, 5000000);
  text = ask ("pdftotext", "-raw", file);
  /* what stands once in each of a kind: an axis' label, the rings' note, a panel's title, a panel's title of the score */
  g_assert_cmpuint (count (text, "Melt-pool diameter, mm"), ==, 30);
  g_assert_cmpuint (count (text, "A ring for each hour"), ==, 30);
  g_assert_cmpuint (count (text, "Hottest vessel wall, °C"), ==, 30);
  g_assert_cmpuint (count (text, "What keeps it from 1"), ==, 30);
  checked = ask ("qpdf", "--check", file);
  g_assert_nonnull (strstr (checked, "No syntax or stream encoding errors found"));
}

/* What cannot be meant is told before anything is written. */
static void
test_wrong_usage (void)
{
  static const struct { const char *arguments[5], *said; } cases[] = {
    { { "--sections", "weather" }, "no section “weather”; known are: method, ranking, score" },
    { { "--key", "k.pdf" }, "--key goes with --anonymous" },
    { { "--anonymous", "--key", "k.txt" }, "a key is written as .pdf" },
    { { "--anonymous", "--key", "./r.pdf" }, "the key is a file of its own" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const char *const *a = cases[i].arguments;
      g_autoptr (Run) run = commands_run ("report", "a", "b", "--output", "r.pdf", a[0], a[1], a[2], a[3], NULL);

      g_assert_cmpint (run->status, ==, 2);
      commands_assert_one_line (run->err);
      if (strstr (run->err, cases[i].said) == NULL)
        g_error ("%s", run->err);
    }
}

void
test_commands_report_add (void)
{
  g_test_add_func ("/commands/report/sections-are-chosen", test_sections);
  g_test_add_func ("/commands/report/other-names-leak-none", test_anonymous);
  g_test_add_func ("/commands/report/other-names-give-the-same-bytes-again", test_anonymous_again);
  g_test_add_func ("/commands/report/its-fingerprint-is-confirmed-with-what-came-after", test_fingerprint);
  g_test_add_func ("/commands/report/sixty-samples-with-120-charts-stay-below-5-megabytes", test_size);
  g_test_add_func ("/commands/report/what-cannot-be-meant-is-told", test_wrong_usage);
}
