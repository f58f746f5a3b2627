/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-e2e-driver.h"

#include <string.h>

#define LOGS WB_SOURCE_DIR "/tests/exchange/data/"
#define LOG_ROWS 800
#define SAMPLE "OL1-6-1"

/* Columns that say which candle it is. */
static const char *const grid[] = { "experiment", "vessel", "inner_diameter_mm", "wax", "wick_series", "wick_size", "wick_step",
                                    "load_pct", "sample", NULL };

static const char *
cell (char      **heads,
      char      **cells,
      const char *head)
{
  for (guint i = 0; heads[i] != NULL; i++)
    if (g_str_equal (heads[i], head))
      return cells[i];
  g_error ("no column %s", head);
}

/* The sample's rows from the fifth burn on, which is what the story adds, each as "column=value ...". Caller frees. */
static char *
dup_rows (const char *folder)
{
  g_autofree char *path = g_build_filename (folder, "out.csv", NULL);
  g_autofree char *text = NULL;
  g_auto (GStrv) lines = NULL;
  g_auto (GStrv) heads = NULL;
  g_autoptr (GError) error = NULL;
  GString *rows = g_string_new (NULL);

  g_free (wb_e2e_folder_command (folder, "export", "log.wickbench", "--to", path, NULL));
  g_file_get_contents (path, &text, NULL, &error);
  g_assert_no_error (error);
  lines = g_strsplit (text, "\r\n", -1);
  heads = g_strsplit (lines[0], ",", -1);
  g_assert_cmpuint (g_strv_length (lines), ==, 1 + LOG_ROWS + 2 + 1); /* the last is empty */
  for (guint i = 1; lines[i] != NULL; i++)
    {
      g_auto (GStrv) cells = g_strsplit (lines[i], ",", -1); /* none of this log is quoted */

      if (strstr (lines[i], "," SAMPLE ",") == NULL || g_strcmp0 (cell (heads, cells, "burn"), "4") <= 0)
        continue;
      for (guint k = 0; heads[k] != NULL; k++)
        if (*cells[k] != '\0' && !g_strv_contains (grid, heads[k]))
          g_string_append_printf (rows, "%s=%s ", heads[k], cells[k]);
      rows->str[rows->len - 1] = '\n';
    }
  return g_string_free (rows, FALSE);
}

static void
open_bench (WbE2eDriver *driver)
{
  wb_e2e_driver_click (driver, ATSPI_ROLE_LIST_ITEM, "*Autumn vessel trial*");
  wb_e2e_driver_see (driver, ATSPI_ROLE_PANEL, "The bench from above");
}

/* Nothing is lit before each point is answered and someone stays; Return ticks and goes on. */
static void
answer_the_check (WbE2eDriver *driver)
{
  wb_e2e_driver_see (driver, ATSPI_ROLE_FRAME, "Before the first light");
  wb_e2e_driver_read (driver, "8 points are not answered yet.");
  wb_e2e_driver_see_enabled (driver, ATSPI_ROLE_PUSH_BUTTON, "Open the session", FALSE);
  g_usleep (G_USEC_PER_SEC); /* keys that come before anybody can have read it are not taken */
  wb_e2e_driver_press (driver, "Tab");
  for (guint i = 0; i < 8; i++)
    wb_e2e_driver_press (driver, "Return");
  wb_e2e_driver_read (driver, "Say who stays with the flames, and until when.");
  wb_e2e_driver_enter (driver, "Who stays with the flames", "Ada");
  wb_e2e_driver_enter (driver, "Until when", "19:00");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Open the session");
  wb_e2e_driver_see_gone (driver, ATSPI_ROLE_FRAME, "Before the first light");
  wb_e2e_driver_read (driver, "With the flames: Ada, until 19:00");
}

static void
light (WbE2eDriver *driver)
{
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, SAMPLE ", *fit to light");
  wb_e2e_driver_look_into (driver, ATSPI_ROLE_PANEL, SAMPLE);
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Lighting");
  wb_e2e_driver_enter (driver, "Lit at", "14:00");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Light it now");
  wb_e2e_driver_look_into (driver, 0, NULL);
  /* Hours ago: the day is said, and asked about. */
  wb_e2e_driver_read (driver, "Is that right?");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "It is so*");
  answer_the_check (driver);
  wb_e2e_driver_read (driver, "1 candle alight");
}

static void
choose_alight (WbE2eDriver *driver)
{
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, SAMPLE ", *time to snuff*");
  wb_e2e_driver_look_into (driver, ATSPI_ROLE_PANEL, SAMPLE);
}

static void
read_first_hour (WbE2eDriver *driver)
{
  choose_alight (driver);
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Round");
  /* A pool is hardly wider than its vessel: 1.05 of 79.4 mm is the most. The words, and the text as it was typed. */
  wb_e2e_driver_enter (driver, "Pool diameter, mm", "410");
  wb_e2e_driver_enter (driver, "Seen at", "15:00");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Save reading");
  wb_e2e_driver_read_entry (driver, "Pool diameter, mm", "410");
  wb_e2e_driver_read (driver, "Permitted is 0.0 mm to 83.4 mm");

  wb_e2e_driver_enter (driver, "Pool diameter, mm", "41");
  wb_e2e_driver_enter (driver, "Highest flame since the last reading, mm", "1,7 cm");
  wb_e2e_driver_enter (driver, "Hottest outside wall, °C", "100.4 F");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Save reading");
  wb_e2e_driver_look_into (driver, 0, NULL);
  wb_e2e_driver_see (driver, ATSPI_ROLE_PUSH_BUTTON, "Undo: Log a reading of " SAMPLE);
}

static void
snuff (WbE2eDriver *driver)
{
  choose_alight (driver);
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Before snuffing");
  wb_e2e_driver_enter (driver, "Pool diameter, mm", "63");
  wb_e2e_driver_enter (driver, "Hottest outside wall, °C", "45");
  wb_e2e_driver_look_into (driver, ATSPI_ROLE_PANEL, "Soot on the vessel");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "1, trace");
  wb_e2e_driver_look_into (driver, ATSPI_ROLE_PANEL, SAMPLE);
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Snuffed now");
  wb_e2e_driver_look_into (driver, 0, NULL);
  wb_e2e_driver_read (driver, "Nothing is alight");
}

/* 41 was typed for 43, two entries ago: by the keyboard from the list of what was read, with a reason. */
static void
amend (WbE2eDriver *driver)
{
  wb_e2e_driver_press (driver, "<Control>r");
  wb_e2e_driver_see_focus (driver, ATSPI_ROLE_LIST_ITEM, "Burn 5,*");
  wb_e2e_driver_press (driver, "Down");
  wb_e2e_driver_see_focus (driver, ATSPI_ROLE_LIST_ITEM, "240 min,*");
  wb_e2e_driver_press (driver, "Down");
  wb_e2e_driver_see_focus (driver, ATSPI_ROLE_LIST_ITEM, "60 min,*");
  wb_e2e_driver_press (driver, "Return");
  wb_e2e_driver_look_into (driver, ATSPI_ROLE_FRAME, "Amend: " SAMPLE ", burn 5, 60 min");
  wb_e2e_driver_read_entry (driver, "Pool diameter, mm", "41.0");
  wb_e2e_driver_enter (driver, "Pool diameter, mm", "43");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Amend");
  wb_e2e_driver_read (driver, "Say why: the reason stays beside both versions.");
  wb_e2e_driver_enter (driver, "Why it is amended", "typed 41 for 43");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Amend");
  wb_e2e_driver_look_into (driver, 0, NULL);
  wb_e2e_driver_see (driver, ATSPI_ROLE_PUSH_BUTTON, "Undo: Amend the reading of " SAMPLE ", burn 5, at 60 min: typed 41 for 43");
  wb_e2e_driver_read (driver, "typed 41 for 43. Before: Pool diameter 41.0 mm");
}

static void
look_at_history (WbE2eDriver *driver)
{
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "History of 60 min");
  wb_e2e_driver_look_into (driver, ATSPI_ROLE_FRAME, "History: " SAMPLE ", burn 5, 60 min");
  wb_e2e_driver_read (driver, "Log a reading of " SAMPLE);
  wb_e2e_driver_read (driver, "Pool diameter 41.0 mm → 43.0 mm");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Close");
  wb_e2e_driver_look_into (driver, 0, NULL);
  wb_e2e_driver_see_gone (driver, ATSPI_ROLE_FRAME, "History: *");
}

static void
one_burn (void)
{
  char *folder = wb_e2e_folder_new ();
  g_autofree char *rows = NULL;
  WbE2eDriver *driver;

  g_free (wb_e2e_folder_command (folder, "import", "log.wickbench", LOGS "burn-log-clean.csv", NULL));
  driver = wb_e2e_driver_start (folder, "log.wickbench", WB_E2E_STILL);
  open_bench (driver);
  light (driver);
  read_first_hour (driver);

  /* What the screen has called saved outlives a crash, and the flame is not forgotten. */
  wb_e2e_driver_kill (driver);
  driver = wb_e2e_driver_start (folder, "log.wickbench", WB_E2E_STILL);
  wb_e2e_driver_read (driver, "1 candle alight");
  open_bench (driver);
  snuff (driver);
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Close session");
  wb_e2e_driver_read (driver, "No session is open");
  amend (driver);
  look_at_history (driver);
  wb_e2e_driver_stop (driver);

  /* What was typed, in stored units, and nothing else. */
  rows = dup_rows (folder);
  g_assert_cmpstr (rows, ==, "burn=5 lit_at=2026-11-25T14:00:00+01:00 elapsed_min=60 pool_mm=43 flame_max_mm=17 vessel_c=38\n"
                             "burn=5 lit_at=2026-11-25T14:00:00+01:00 elapsed_min=240 pool_mm=63 vessel_c=45 soot=1 event=snuffed\n");
  g_free (wb_e2e_folder_command (folder, "check", "log.wickbench", NULL));
  wb_e2e_folder_remove (folder);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/e2e/burn/lit-read-and-snuffed-over-a-crash", one_burn);
  return g_test_run ();
}
