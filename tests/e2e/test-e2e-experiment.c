/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-e2e-driver.h"

#include <string.h>

#define NOTEBOOK "mine.wickbench"
/* Three days and some hours after the pour. */
#define CURED "2026-11-28T22:10:00+01:00,0"

/* A new record of the kind; what is typed next is its first field. */
static void
add_material (WbE2eDriver *driver,
              const char  *kind,
              const char  *button,
              const char  *field,
              const char  *text)
{
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, kind);
  wb_e2e_driver_see (driver, ATSPI_ROLE_PUSH_BUTTON, button);
  wb_e2e_driver_press (driver, "<Control><Alt>n");
  /* A vessel is measured step by step unless that is closed. */
  if (g_str_equal (kind, "Vessels"))
    {
      wb_e2e_driver_see (driver, ATSPI_ROLE_FRAME, "Measure the vessel");
      wb_e2e_driver_press (driver, "Escape");
      wb_e2e_driver_see_gone (driver, ATSPI_ROLE_FRAME, "Measure the vessel");
      wb_e2e_driver_enter (driver, field, text);
      return;
    }
  wb_e2e_driver_see_focus (driver, ATSPI_ROLE_TEXT, field);
  wb_e2e_driver_type (driver, text);
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
  wb_e2e_driver_press (driver, "<Alt>2");
  add_material (driver, "Vessels", "New vessel", "Name", "Quern");
  wb_e2e_driver_enter (driver, "Inner diameter at the wax level, mm", "2 1/8 in");
  wb_e2e_driver_enter (driver, "Water to the fill line, g", "160");
  save_material (driver, "Quern, 54.0 mm*");
  add_material (driver, "Waxes", "New wax", "Name", "Fallow blend");
  wb_e2e_driver_enter (driver, "Density or specific gravity*", "0.9");
  wb_e2e_driver_enter (driver, "Days until fit to burn", "3");
  save_material (driver, "Fallow blend*");
  for (int step = 1; step <= 2; step++)
    {
      g_autofree char *size = g_strdup_printf ("T%d", step);
      g_autofree char *number = g_strdup_printf ("%d", step);
      g_autofree char *listed = g_strdup_printf ("Tarn T%d*", step);

      add_material (driver, "Wicks", "New wick", "Series", "Tarn");
      wb_e2e_driver_enter (driver, "Size", size);
      wb_e2e_driver_enter (driver, "Step", number);
      save_material (driver, listed);
    }
}

static void
plan (WbE2eDriver *driver)
{
  wb_e2e_driver_press (driver, "<Control><Shift>n");
  wb_e2e_driver_see_focus (driver, ATSPI_ROLE_TEXT, "Title");
  wb_e2e_driver_type (driver, "Tarn for the Quern");
  wb_e2e_driver_pick (driver, "Wax", 1, "Fallow blend");
  wb_e2e_driver_tick (driver, "Quern, 54 mm", TRUE);
  wb_e2e_driver_tick (driver, "Tarn T1", TRUE);
  wb_e2e_driver_tick (driver, "Tarn T2", TRUE);
  wb_e2e_driver_tick (driver, "And without fragrance (control)", TRUE);
  wb_e2e_driver_enter (driver, "Samples of each combination", "1");
  wb_e2e_driver_see (driver, ATSPI_ROLE_CHECK_BOX, "Quern, 54 mm · Tarn T2 · no fragrance");
  wb_e2e_driver_see (driver, ATSPI_ROLE_LABEL, "2 samples of 2 combinations");
  wb_e2e_driver_press (driver, "<Control>s");
  wb_e2e_driver_read (driver, "2 samples of 2 combinations, none poured yet");
  wb_e2e_driver_see (driver, ATSPI_ROLE_LIST_ITEM, "E-1  Tarn for the Quern, 2 samples to pour");
}

static void
pour (WbE2eDriver *driver)
{
  wb_e2e_driver_press (driver, "<Alt>6");
  /* 160 g of water, of a wax of 0.9: 144 g a candle, and 5 per cent for the pot. */
  wb_e2e_driver_read (driver, "2 × 144.0 g = 288.0 g");
  wb_e2e_driver_read (driver, "302.4 g");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Mark as poured");
  wb_e2e_driver_read (driver, "Fit to burn on 28 Nov 2026, after 3 days.");
  wb_e2e_driver_see (driver, ATSPI_ROLE_LIST_ITEM, "E-1*Cures; the first is fit to burn on 28 Nov 2026");
}

/* ---- At the bench ---- */

typedef struct
{
  const char *code;
  const char *pools[3]; /* mm; at 19:10, at 20:10 and before it is snuffed at 22:10; NULL: at the wall */
} Candle;

static const Candle candles[] = {
  { "T1-1", { "18", "27", "36" } },
  { "T2-1", { "26", "39", NULL } },
};

static void
choose (WbE2eDriver  *driver,
        const Candle *candle)
{
  g_autofree char *button = g_strdup_printf ("%s, *", candle->code);

  wb_e2e_driver_look_into (driver, ATSPI_ROLE_PANEL, "The bench from above");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, button);
  wb_e2e_driver_look_into (driver, ATSPI_ROLE_PANEL, candle->code);
}

static void
answer_the_check (WbE2eDriver *driver)
{
  wb_e2e_driver_see (driver, ATSPI_ROLE_FRAME, "Before the first light");
  g_usleep (G_USEC_PER_SEC); /* keys that come before anybody can have read it are not taken */
  wb_e2e_driver_press (driver, "Tab");
  for (guint i = 0; i < 8; i++)
    wb_e2e_driver_press (driver, "Return");
  wb_e2e_driver_read (driver, "Say who stays with the flames, and until when.");
  wb_e2e_driver_enter (driver, "Who stays with the flames", "Ada");
  wb_e2e_driver_enter (driver, "Until when", "23:00");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Open the session");
  wb_e2e_driver_see_gone (driver, ATSPI_ROLE_FRAME, "Before the first light");
}

static void
light (WbE2eDriver *driver)
{
  for (guint i = 0; i < G_N_ELEMENTS (candles); i++)
    {
      choose (driver, &candles[i]);
      wb_e2e_driver_enter (driver, "Lit at", "18:10");
      wb_e2e_driver_press (driver, "<Control>l");
      wb_e2e_driver_look_into (driver, 0, NULL);
      wb_e2e_driver_read (driver, "Is that right?");
      wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "It is so*");
      if (i == 0)
        answer_the_check (driver);
      wb_e2e_driver_read (driver, i == 0 ? "1 candle alight" : "2 candles alight");
    }
}

static void
read_pools (WbE2eDriver *driver)
{
  const char *times[] = { "19:10", "20:10" };

  for (guint hour = 0; hour < G_N_ELEMENTS (times); hour++)
    for (guint i = 0; i < G_N_ELEMENTS (candles); i++)
      {
        g_autofree char *seen = g_strdup_printf ("%s, *pool %s mm*", candles[i].code, candles[i].pools[hour]);

        choose (driver, &candles[i]);
        wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Round");
        wb_e2e_driver_enter (driver, "Pool diameter, mm", candles[i].pools[hour]);
        wb_e2e_driver_enter (driver, "Highest flame since the last reading, mm", "20");
        wb_e2e_driver_enter (driver, "Seen at", times[hour]);
        wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Save reading");
        wb_e2e_driver_look_into (driver, 0, NULL);
        wb_e2e_driver_see (driver, ATSPI_ROLE_PUSH_BUTTON, seen);
      }
}

static void
snuff (WbE2eDriver *driver)
{
  for (guint i = 0; i < G_N_ELEMENTS (candles); i++)
    {
      choose (driver, &candles[i]);
      wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Before snuffing");
      if (candles[i].pools[2] != NULL)
        wb_e2e_driver_enter (driver, "Pool diameter, mm", candles[i].pools[2]);
      else
        {
          wb_e2e_driver_see_focus (driver, ATSPI_ROLE_TEXT, "Pool diameter, mm");
          wb_e2e_driver_press (driver, "f");
        }
      wb_e2e_driver_press (driver, "<Control>d");
      wb_e2e_driver_look_into (driver, 0, NULL);
      wb_e2e_driver_read (driver, i == 0 ? "1 candle alight" : "Nothing is alight");
    }
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Close session");
  wb_e2e_driver_read (driver, "No session is open");
}

/* The first line of the text that holds the words. Caller frees. */
static char *
dup_line (const char *text,
          const char *words)
{
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);

  for (guint i = 0; lines[i] != NULL; i++)
    if (strstr (lines[i], words) != NULL)
      return g_strdup (lines[i]);
  g_error ("\"%s\" is not in: %s", words, text);
}

/* One burn of one sample each says which leads, and that this is nothing to rest on. */
static void
compare (WbE2eDriver *driver,
         const char  *answer)
{
  wb_e2e_driver_press (driver, "<Alt>8");
  wb_e2e_driver_read (driver, answer);
  wb_e2e_driver_read (driver, "on 1 sample and 1 burn alone");
  wb_e2e_driver_look_into (driver, ATSPI_ROLE_PANEL, "Ranking");
  wb_e2e_driver_see (driver, ATSPI_ROLE_CHECK_BOX, "Show T1 in the chart");
  wb_e2e_driver_see (driver, ATSPI_ROLE_CHECK_BOX, "Show T2 in the chart");
  wb_e2e_driver_see (driver, ATSPI_ROLE_LABEL, "too little data");
  wb_e2e_driver_look_into (driver, 0, NULL);
}

static void
undo_and_redo (WbE2eDriver *driver)
{
  wb_e2e_driver_press (driver, "<Alt>7");
  wb_e2e_driver_see_enabled (driver, ATSPI_ROLE_PUSH_BUTTON, "Undo: Close the session at the bench", TRUE);
  wb_e2e_driver_press (driver, "<Control>z");
  wb_e2e_driver_read (driver, "Nobody leaves until no wick glows. Then close the session.");
  wb_e2e_driver_see_enabled (driver, ATSPI_ROLE_PUSH_BUTTON, "Undo: *T2-1*", TRUE);
  wb_e2e_driver_press (driver, "<Control>z");
  wb_e2e_driver_read (driver, "1 candle alight");
  wb_e2e_driver_see_enabled (driver, ATSPI_ROLE_PUSH_BUTTON, "Redo: *", TRUE);
  wb_e2e_driver_press (driver, "<Control><Shift>z");
  wb_e2e_driver_read (driver, "Nothing is alight");
  wb_e2e_driver_see_enabled (driver, ATSPI_ROLE_PUSH_BUTTON, "Redo: Close the session at the bench", TRUE);
  wb_e2e_driver_press (driver, "<Control><Shift>z");
  wb_e2e_driver_read (driver, "No session is open");
}

static void
from_shelf_to_ranking (void)
{
  char *folder = wb_e2e_folder_new ();
  WbE2eDriver *driver = wb_e2e_driver_start (folder, NULL, WB_E2E_STILL);
  g_autofree char *told = NULL;
  g_autofree char *answer = NULL;

  wb_e2e_driver_make (driver, folder, NOTEBOOK);
  fill_shelf (driver);
  plan (driver);
  pour (driver);
  wb_e2e_driver_stop (driver);

  driver = wb_e2e_driver_start (folder, NOTEBOOK, CURED);
  wb_e2e_driver_click (driver, ATSPI_ROLE_LIST_ITEM, "E-1  Tarn for the Quern, 2 samples fit to burn");
  wb_e2e_driver_press (driver, "<Alt>7");
  light (driver);
  read_pools (driver);
  snuff (driver);
  compare (driver, "T2 comes first so far");
  wb_e2e_driver_stop (driver);

  /* All of it is in the file: another program run finds it, and so does the window. */
  told = wb_e2e_folder_command (folder, "rank", NOTEBOOK, "E-1", NULL);
  answer = dup_line (told, " comes first so far");
  g_assert_nonnull (strstr (answer, "too little data to answer: on 1 sample and 1 burn alone, T2 "));
  driver = wb_e2e_driver_start (folder, NOTEBOOK, CURED);
  wb_e2e_driver_click (driver, ATSPI_ROLE_LIST_ITEM, "E-1  Tarn for the Quern, 2 samples not burnt to their end");
  compare (driver, answer);
  undo_and_redo (driver);
  compare (driver, answer);
  wb_e2e_driver_stop (driver);
  g_free (wb_e2e_folder_command (folder, "check", NOTEBOOK, NULL));
  wb_e2e_folder_remove (folder);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/e2e/experiment/from-an-empty-shelf-to-a-ranking", from_shelf_to_ranking);
  return g_test_run ();
}
