/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-e2e-driver.h"

#include <sqlite3.h>
#include <string.h>

/* From an empty vessel and readings of a kitchen scale to poured samples with labels and a calendar; then what is in the file. */

#define NOTEBOOK "plan.wickbench"
/* Three of eight sizes, with fragrance and without, three of each. */
#define N_SAMPLES 18

/* ---- The shelf ---- */

static void
next_step (WbE2eDriver *driver,
           const char  *heading)
{
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Next*");
  wb_e2e_driver_see (driver, ATSPI_ROLE_HEADING, heading);
}

/* As the scale shows it: 210 g empty, 510 g with water to the line. */
static void
measure_vessel (WbE2eDriver *driver)
{
  wb_e2e_driver_press (driver, "<Alt>2");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Vessels");
  wb_e2e_driver_see (driver, ATSPI_ROLE_PUSH_BUTTON, "New vessel");
  wb_e2e_driver_press (driver, "<Control><Alt>n");
  wb_e2e_driver_look_into (driver, ATSPI_ROLE_FRAME, "Measure the vessel");
  wb_e2e_driver_see (driver, ATSPI_ROLE_HEADING, "1 of 5: *");
  wb_e2e_driver_enter (driver, "Name", "Weir");
  next_step (driver, "2 of 5: *");
  wb_e2e_driver_enter (driver, "Mass when empty, g", "210");
  next_step (driver, "3 of 5: *");
  wb_e2e_driver_tick (driver, "The empty vessel is in what the scale shows", TRUE);
  wb_e2e_driver_enter (driver, "The scale shows, vessel and water, g", "510");
  wb_e2e_driver_enter (driver, "Temperature of that water*", "20");
  /* Water of 20 °C: 0.99821 g/cm³ (Kell 1975). */
  wb_e2e_driver_read (driver, "= 300.5 ml");
  next_step (driver, "4 of 5: *");
  wb_e2e_driver_enter (driver, "Inner diameter at the wax level, mm", "76");
  next_step (driver, "5 of 5: *");
  wb_e2e_driver_enter (driver, "Height of the wax, mm", "66");
  wb_e2e_driver_enter (driver, "Headspace, mm", "15");
  wb_e2e_driver_enter (driver, "Thickness of the wall, mm", "3");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Save the vessel*");
  wb_e2e_driver_look_into (driver, 0, NULL);
  wb_e2e_driver_see_gone (driver, ATSPI_ROLE_FRAME, "Measure the vessel");
  wb_e2e_driver_see (driver, ATSPI_ROLE_LIST_ITEM, "Weir, 76.0 mm*");
}

static void
begin_material (WbE2eDriver *driver,
                const char  *kind,
                const char  *button,
                const char  *name)
{
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, kind);
  wb_e2e_driver_see (driver, ATSPI_ROLE_PUSH_BUTTON, button);
  wb_e2e_driver_press (driver, "<Control><Alt>n");
  wb_e2e_driver_see_focus (driver, ATSPI_ROLE_TEXT, "Name");
  wb_e2e_driver_type (driver, name);
}

static void
save_material (WbE2eDriver *driver,
               const char  *listed)
{
  wb_e2e_driver_press (driver, "<Control>s");
  wb_e2e_driver_see (driver, ATSPI_ROLE_LIST_ITEM, listed);
  wb_e2e_driver_see (driver, ATSPI_ROLE_LABEL, "Saved");
}

static void
fill_shelf (WbE2eDriver *driver)
{
  measure_vessel (driver);
  begin_material (driver, "Waxes", "New wax", "Fallow blend");
  wb_e2e_driver_enter (driver, "Density or specific gravity*", "0.9");
  wb_e2e_driver_enter (driver, "Days until fit to burn", "3");
  wb_e2e_driver_enter (driver, "Days until fit to smell", "5");
  save_material (driver, "Fallow blend*");
  begin_material (driver, "Fragrances", "New fragrance", "Sedge");
  save_material (driver, "Sedge*");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Wicks");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Add sizes*");
  wb_e2e_driver_look_into (driver, ATSPI_ROLE_FRAME, "Add sizes of a series");
  wb_e2e_driver_enter (driver, "Series", "Tarn");
  wb_e2e_driver_enter (driver, "Sizes, smallest first", "T-1 to T-8");
  wb_e2e_driver_read (driver, "8 wicks will be made");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Make all");
  wb_e2e_driver_look_into (driver, 0, NULL);
  wb_e2e_driver_see_gone (driver, ATSPI_ROLE_FRAME, "Add sizes of a series");
  wb_e2e_driver_see (driver, ATSPI_ROLE_LIST_ITEM, "Tarn T-8*");
}

/* ---- The plan ---- */

static void
plan (WbE2eDriver *driver)
{
  wb_e2e_driver_press (driver, "<Control><Shift>n");
  wb_e2e_driver_see_focus (driver, ATSPI_ROLE_TEXT, "Title");
  wb_e2e_driver_type (driver, "Tarn for the Weir");
  wb_e2e_driver_pick (driver, "Wax", 1, "Fallow blend");
  wb_e2e_driver_tick (driver, "Weir, 76 mm", TRUE);
  wb_e2e_driver_tick (driver, "Tarn, all of them", TRUE);
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Which of these wicks?");
  wb_e2e_driver_read (driver, "Nothing is known of these wicks in Weir");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Take these");
  wb_e2e_driver_see (driver, ATSPI_ROLE_PUSH_BUTTON, "Put the others back");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Add a scent");
  wb_e2e_driver_enter (driver, "Load of scent 1*", "8");
  /* the foot of the form, below the fold since the reason for the wicks stands in it */
  wb_e2e_driver_scroll (driver, 300, 500, 40);
  wb_e2e_driver_tick (driver, "And without fragrance (control)", TRUE);
  wb_e2e_driver_enter (driver, "Samples of each combination", "3");
  wb_e2e_driver_see (driver, ATSPI_ROLE_LABEL, "18 samples of 6 combinations");
  wb_e2e_driver_press (driver, "<Control>s");
  wb_e2e_driver_read (driver, "18 samples of 6 combinations, none poured yet");
  wb_e2e_driver_see (driver, ATSPI_ROLE_LIST_ITEM, "E-1  Tarn for the Weir, 18 samples to pour");
}

static void
undo_and_redo (WbE2eDriver *driver)
{
  wb_e2e_driver_see_enabled (driver, ATSPI_ROLE_PUSH_BUTTON, "Undo: Plan E-1*", TRUE);
  wb_e2e_driver_press (driver, "<Control>z");
  wb_e2e_driver_see_gone (driver, ATSPI_ROLE_LIST_ITEM, "E-1  Tarn for the Weir*");
  wb_e2e_driver_see_enabled (driver, ATSPI_ROLE_PUSH_BUTTON, "Redo: Plan E-1*", TRUE);
  wb_e2e_driver_press (driver, "<Control><Shift>z");
  wb_e2e_driver_see (driver, ATSPI_ROLE_LIST_ITEM, "E-1  Tarn for the Weir, 18 samples to pour");
}

static void
divide (WbE2eDriver *driver)
{
  wb_e2e_driver_click (driver, ATSPI_ROLE_LIST_ITEM, "E-1  Tarn for the Weir*");
  wb_e2e_driver_press (driver, "<Alt>5");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Divide among cohorts");
  wb_e2e_driver_see (driver, ATSPI_ROLE_PUSH_BUTTON, "Divide anew");
  wb_e2e_driver_see (driver, ATSPI_ROLE_LABEL, "Cohort 2");
}

/* ---- The pour ---- */

static void
mark (WbE2eDriver *driver,
      const char  *wick_lot)
{
  wb_e2e_driver_enter (driver, "Wax lot", "W-31");
  wb_e2e_driver_enter (driver, "Wick lot", wick_lot);
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Mark as poured");
  wb_e2e_driver_see (driver, ATSPI_ROLE_LABEL, "Poured on 25 Nov 2026");
}

static void
pour (WbE2eDriver *driver)
{
  wb_e2e_driver_press (driver, "<Alt>6");
  /* 300 g of water at 20 °C in a wax of 0.9: 300 ÷ 0.99821 × 0.9 = 270.5 g a candle; nine, and 5 per cent for the pot. */
  wb_e2e_driver_read (driver, "9 × 270.5 g = 2434.5 g");
  wb_e2e_driver_enter (driver, "Wax, weighed, g", "2556");
  mark (driver, "K-7");
  wb_e2e_driver_pick (driver, "Batch", 1, "B2  Sedge*");
  wb_e2e_driver_read (driver, "8 %");
  wb_e2e_driver_enter (driver, "Fragrance lot", "F-12");
  mark (driver, "K-7");
  wb_e2e_driver_see (driver, ATSPI_ROLE_LIST_ITEM, "E-1*Cures; the first is fit to burn on 28 Nov 2026");
}

static void
print_labels (WbE2eDriver *driver,
              const char  *folder)
{
  g_autofree char *path = g_build_filename (folder, "labels.pdf", NULL);

  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Labels*");
  wb_e2e_driver_look_into (driver, ATSPI_ROLE_FRAME, "Labels");
  wb_e2e_driver_read (driver, "Page 1 of 1");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Print or PDF*");
  wb_e2e_driver_look_into (driver, 0, NULL);
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Write PDF*");
  wb_e2e_driver_save_to (driver, path);
  wb_e2e_driver_read (driver, "Written");
  wb_e2e_driver_press (driver, "Escape");
  wb_e2e_driver_see_gone (driver, ATSPI_ROLE_PUSH_BUTTON, "Write PDF*");
}

static void
export_calendar (WbE2eDriver *driver,
                 const char  *folder)
{
  g_autofree char *path = g_build_filename (folder, "bench.ics", NULL);

  wb_e2e_driver_press (driver, "<Alt>1");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Say which evenings*");
  wb_e2e_driver_look_into (driver, ATSPI_ROLE_FRAME, "Preferences");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Tue");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Sat");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Save in the notebook");
  wb_e2e_driver_see (driver, ATSPI_ROLE_LABEL, "Saved");
  wb_e2e_driver_press (driver, "Escape");
  wb_e2e_driver_look_into (driver, 0, NULL);
  wb_e2e_driver_see_gone (driver, ATSPI_ROLE_FRAME, "Preferences");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Export the calendar*");
  wb_e2e_driver_save_to (driver, path);
  wb_e2e_driver_read (driver, "Written: ");
}

/* ---- What is in the file ---- */

/* The first column of every row, with a blank between; "-" for none. Caller frees. */
static char *
dup_answer (const char *folder,
            const char *query)
{
  g_autofree char *path = g_build_filename (folder, NOTEBOOK, NULL);
  GString *answer = g_string_new (NULL);
  sqlite3_stmt *statement = NULL;
  sqlite3 *db = NULL;

  g_assert_cmpint (sqlite3_open_v2 (path, &db, SQLITE_OPEN_READWRITE, NULL), ==, SQLITE_OK);
  if (sqlite3_prepare_v2 (db, query, -1, &statement, NULL) != SQLITE_OK)
    g_error ("%s: %s", query, sqlite3_errmsg (db));
  while (sqlite3_step (statement) == SQLITE_ROW)
    {
      const unsigned char *text = sqlite3_column_text (statement, 0);

      g_string_append_printf (answer, "%s%s", answer->len > 0 ? " " : "", text != NULL ? (const char *) text : "-");
    }
  g_assert_cmpint (sqlite3_finalize (statement), ==, SQLITE_OK);
  sqlite3_close (db);
  return g_string_free (answer, FALSE);
}

/* "@table" in a query stands for its rows as they are now. */
static void
expect (const char *folder,
        const char *query,
        const char *wanted)
{
  static const char *const tables[] = { "vessel", "wick", "cell", "sample", "batch", "lot", "notebook" };
  g_autoptr (GString) text = g_string_new (query);
  g_autofree char *found = NULL;

  for (guint i = 0; i < G_N_ELEMENTS (tables); i++)
    {
      g_autofree char *word = g_strconcat ("@", tables[i], NULL);
      g_autofree char *now = g_strdup_printf ("(SELECT * FROM %s t WHERE deleted = 0 AND entry = (SELECT max (entry) FROM %s WHERE id = t.id))",
                                              tables[i], tables[i]);

      g_string_replace (text, word, now, 0);
    }
  found = dup_answer (folder, text->str);
  g_test_message ("%s: %s", query, found);
  g_assert_cmpstr (found, ==, wanted);
}

static void
check_file (const char *folder)
{
  expect (folder, "SELECT printf ('%g/%g/%g/%g', tare_g, water_g, water_c, inner_diameter_mm) FROM @vessel", "210/300/20/76");
  expect (folder, "SELECT size || '=' || step FROM @wick ORDER BY step", "T-1=1 T-2=2 T-3=3 T-4=4 T-5=5 T-6=6 T-7=7 T-8=8");
  expect (folder, "SELECT count (*) FROM @cell WHERE left_out = 0", "6");
  expect (folder, "SELECT count (DISTINCT wick) FROM @cell", "3");
  expect (folder, "SELECT DISTINCT printf ('%g', load_pct) FROM @cell ORDER BY load_pct", "0 8");
  expect (folder, "SELECT count (*) FROM @sample GROUP BY cell", "3 3 3 3 3 3");
  /* Whole duplicates where the bench holds them: no cohort is larger than it, and every sample has one. */
  expect (folder, "SELECT count (*) FROM @sample WHERE cohort IS NULL", "0");
  expect (folder, "SELECT max (n) <= 12 FROM (SELECT count (*) n FROM @sample GROUP BY cohort)", "1");
  expect (folder, "SELECT max (n) FROM (SELECT count (DISTINCT cohort) n FROM @sample)", "2");
  expect (folder, "SELECT wax_lot || ',' || ifnull (fragrance_lot, '') FROM @batch ORDER BY code", "W-31, W-31,F-12");
  expect (folder, "SELECT printf ('%g', actual_wax_g) FROM @batch WHERE load_pct = 0", "2556");
  expect (folder, "SELECT DISTINCT wick_lot FROM @sample", "K-7");
  expect (folder, "SELECT DISTINCT poured_on FROM @sample", "2026-11-25");
  expect (folder, "SELECT count (*) FROM @sample s JOIN @cell c ON c.id = s.cell JOIN @batch b ON b.id = s.batch WHERE b.load_pct = c.load_pct", "18");
  /* Three sizes bear the wick lot, so that it is no one's. */
  expect (folder, "SELECT code FROM @lot ORDER BY code", "F-12 W-31");
  g_free (wb_e2e_folder_command (folder, "check", NOTEBOOK, NULL));
}

static guint
count (const char *text,
       const char *part)
{
  guint n = 0;

  for (const char *at = text; (at = strstr (at, part)) != NULL; at += strlen (part))
    n++;
  return n;
}

/* Poured on Wednesday, fit to burn on Saturday, the 28th: the first evening. */
static void
check_papers (const char *folder)
{
  g_autofree char *ics = g_build_filename (folder, "bench.ics", NULL), *pdf = g_build_filename (folder, "labels.pdf", NULL);
  g_autofree char *text = NULL, *paper = NULL;
  gsize size;

  g_assert_true (g_file_get_contents (ics, &text, NULL, NULL));
  g_assert_true (g_str_has_prefix (text, "BEGIN:VCALENDAR\r\n"));
  g_assert_nonnull (strstr (text, ":20261128T180000Z"));
  g_assert_nonnull (strstr (text, ":20261201T180000Z"));
  g_assert_null (strstr (text, ":20261129T1"));
  g_assert_cmpuint (count (text, "BEGIN:VEVENT"), >, 4);
  g_assert_cmpuint (count (text, "BEGIN:VEVENT"), ==, count (text, "\r\nUID:"));
  g_assert_true (g_file_get_contents (pdf, &paper, &size, NULL));
  g_assert_true (g_str_has_prefix (paper, "%PDF-"));
  g_assert_cmpuint (size, >, 5000);
}

static void
from_a_vessel_to_a_calendar (void)
{
  char *folder = wb_e2e_folder_new ();
  WbE2eDriver *driver = wb_e2e_driver_start (folder, NULL, WB_E2E_STILL);

  wb_e2e_driver_make (driver, folder, NOTEBOOK);
  fill_shelf (driver);
  plan (driver);
  undo_and_redo (driver);
  divide (driver);
  pour (driver);
  print_labels (driver, folder);
  export_calendar (driver, folder);
  wb_e2e_driver_stop (driver);
  check_file (folder);
  check_papers (folder);
  wb_e2e_folder_remove (folder);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/e2e/plan/from-a-vessel-to-a-calendar", from_a_vessel_to_a_calendar);
  return g_test_run ();
}
