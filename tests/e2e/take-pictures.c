/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-e2e-driver.h"

#include <glib/gstdio.h>

/*
 * Takes the README's pictures, or with "gallery" as second word one of every page and dialog in three looks, to be
 * looked at. Not a test: run by data/screenshots/take.
 *
 *   take-pictures FOLDER [gallery]
 */

#define WIDTH 1024
#define HEIGHT 700
/* As many looks in a row must be the same before a picture counts: what fades in or is drawn late has then come to rest. */
#define STILL_LOOKS 4

typedef struct
{
  WbE2eDriver *driver;
  char        *path;
  GBytes      *last;
  guint        same;
} Picture;

static const char *output;
static const char *look = ""; /* ending of the names, after the theme */

static gboolean
is_still (gpointer user)
{
  Picture *picture = user;
  g_autoptr (GBytes) bytes = NULL;
  char *data;
  gsize size;

  wb_e2e_driver_picture (picture->driver, picture->path);
  g_assert_true (g_file_get_contents (picture->path, &data, &size, NULL));
  bytes = g_bytes_new_take (data, size);
  picture->same = picture->last != NULL && g_bytes_equal (picture->last, bytes) ? picture->same + 1 : 0;
  g_clear_pointer (&picture->last, g_bytes_unref);
  picture->last = g_steal_pointer (&bytes);
  return picture->same >= STILL_LOOKS;
}

static void
take (WbE2eDriver *driver,
      const char  *name)
{
  g_autofree char *file = g_strconcat (name, look, ".png", NULL);
  g_autofree char *path = g_build_filename (output, file, NULL);
  Picture picture = { driver, path, NULL, 0 };

  wb_e2e_driver_wait (driver, "a picture at rest", is_still, &picture);
  g_bytes_unref (picture.last);
}

/* The window's size and the theme, as the program would have kept them. */
static void
add_settings (const char *folder,
              const char *theme)
{
  g_autofree char *settings = g_build_filename (folder, "home", "XDG_CONFIG_HOME", "glib-2.0", "settings", NULL);
  g_autofree char *file = g_build_filename (settings, "keyfile", NULL);
  g_autofree char *text = g_strdup_printf ("[org/wickbench/Wickbench]\nwindow-width=%d\nwindow-height=%d\ntheme='%s'\n",
                                           WIDTH, HEIGHT, theme);

  g_assert_cmpint (g_mkdir_with_parents (settings, 0700), ==, 0);
  g_assert_true (g_file_set_contents (file, text, -1, NULL));
}

static void
open_experiment (WbE2eDriver *driver,
                 const char  *name)
{
  wb_e2e_driver_click (driver, ATSPI_ROLE_LIST_ITEM, name);
}

/* ---- The README ---- */

static void
take_readme (WbE2eDriver *driver)
{
  wb_e2e_driver_see (driver, ATSPI_ROLE_LIST, "What is due");
  take (driver, "today");
  open_experiment (driver, "FC-1*");
  wb_e2e_driver_see (driver, ATSPI_ROLE_PANEL, "The bench from above");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "All burn still");
  wb_e2e_driver_see_gone (driver, ATSPI_ROLE_PUSH_BUTTON, "All burn still");
  take (driver, "burn");
  open_experiment (driver, "HF-1*");
  wb_e2e_driver_see (driver, ATSPI_ROLE_PANEL, "Ranking");
  take (driver, "compare");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Report");
  wb_e2e_driver_see (driver, ATSPI_ROLE_LABEL, "Page 1 of *");
  take (driver, "report");
}

/* ---- Everything ---- */

static void
take_charts (WbE2eDriver *driver)
{
  static const struct { const char *label, *name; } kinds[] = {
    { "Pool growth", NULL }, { "Pool rings from above", "chart-rings" }, { "Over the candle's life", "chart-life" },
    { "Growth over the grid", "chart-grid" }, { "Heat map of the grid", "chart-heat" }, { "Score and its parts", "chart-score" },
    { "Chance of each rank", "chart-ranks" }, { "Effects on one figure", "chart-effects" },
  };

  for (guint i = 1; i < G_N_ELEMENTS (kinds); i++)
    {
      wb_e2e_driver_pick (driver, "Chart", (int) i, kinds[i].label);
      take (driver, kinds[i].name);
    }
  wb_e2e_driver_pick (driver, "Chart", 0, kinds[0].label);
}

static void
take_experiment (WbE2eDriver *driver)
{
  static const struct { const char *key, *name; } pages[] = {
    { "<Alt>5", "plan" }, { "<Alt>6", "pour" }, { "<Alt>7", "burn-finished" }, { "<Alt>9", "report" },
  };

  open_experiment (driver, "HF-1*");
  wb_e2e_driver_see (driver, ATSPI_ROLE_PANEL, "Ranking");
  take (driver, "compare");
  take_charts (driver);
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Table");
  take (driver, "compare-table");
  for (guint i = 0; i < G_N_ELEMENTS (pages); i++)
    {
      wb_e2e_driver_press (driver, pages[i].key);
      take (driver, pages[i].name);
    }
  open_experiment (driver, "TH-1*");
  wb_e2e_driver_see (driver, ATSPI_ROLE_PANEL, "Ranking");
  wb_e2e_driver_click (driver, ATSPI_ROLE_LABEL, "Why");
  take (driver, "compare-why");
  open_experiment (driver, "FC-1*");
  wb_e2e_driver_press (driver, "<Alt>8");
  wb_e2e_driver_see (driver, ATSPI_ROLE_PANEL, "Ranking");
  take (driver, "compare-burning");
  open_experiment (driver, "HA-1*");
  take (driver, "pour-curing");
  open_experiment (driver, "TC-1*");
  take (driver, "pour-planned");
}

/* A dialog by its key, and out of it again. */
static void
take_dialog (WbE2eDriver *driver,
             const char  *key,
             AtspiRole    role,
             const char  *what,
             const char  *name)
{
  wb_e2e_driver_press (driver, key);
  wb_e2e_driver_see (driver, role, what);
  take (driver, name);
  wb_e2e_driver_press (driver, "Escape");
  wb_e2e_driver_see_gone (driver, role, what);
}

static void
take_dialogs (WbE2eDriver *driver)
{
  take_dialog (driver, "<Control>comma", ATSPI_ROLE_FRAME, "Preferences", "preferences");
  take_dialog (driver, "<Control>question", ATSPI_ROLE_FRAME, "Keyboard shortcuts", "shortcuts");
  take_dialog (driver, "<Control>e", ATSPI_ROLE_PUSH_BUTTON, "_Save*", "export");
  wb_e2e_driver_press (driver, "F10");
  wb_e2e_driver_see (driver, ATSPI_ROLE_MENU_ITEM, "About Wickbench");
  take (driver, "menu");
  wb_e2e_driver_press (driver, "Up");
  wb_e2e_driver_press (driver, "Return");
  wb_e2e_driver_read (driver, "no candle safe");
  take (driver, "about");
  wb_e2e_driver_press (driver, "Escape");
  open_experiment (driver, "FC-1*");
  take_dialog (driver, "<Control><Shift>l", ATSPI_ROLE_FRAME, "Log sheet of an evening*", "log-sheet");
  take_dialog (driver, "<Control><Shift>e", ATSPI_ROLE_FRAME, "Type in an evening*", "evening-sheet");
  wb_e2e_driver_press (driver, "<Control>i");
  wb_e2e_driver_see (driver, ATSPI_ROLE_PUSH_BUTTON, "_Open*");
  take (driver, "import-file");
  wb_e2e_driver_type (driver, WB_SOURCE_DIR "/tests/exchange/data/burn-log-messy.csv");
  wb_e2e_driver_press (driver, "Return");
  wb_e2e_driver_read (driver, "refused: 8");
  take (driver, "import");
  wb_e2e_driver_press (driver, "Escape");
  wb_e2e_driver_see_gone (driver, ATSPI_ROLE_FRAME, "Import a burn log");
}

static void
take_materials (WbE2eDriver *driver)
{
  static const char *const kinds[] = { "Waxes", "Wicks", "Fragrances", "Dyes", "Additives" };

  take_dialog (driver, "<Control><Alt>m", ATSPI_ROLE_FRAME, "Measure the vessel", "materials-measure");
  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      g_autofree char *name = g_strconcat ("materials-", kinds[i], NULL);

      wb_e2e_driver_click (driver, ATSPI_ROLE_LABEL, kinds[i]);
      take (driver, name);
      if (g_str_equal (kinds[i], "Wicks"))
        take_dialog (driver, "<Control><Alt>s", ATSPI_ROLE_FRAME, "Add sizes of a series", "materials-sizes");
    }
}

/* What belongs to a sample beside its readings; the "photo" is a picture that lies in the source folder. */
static void
take_sample (WbE2eDriver *driver)
{
  wb_e2e_driver_press (driver, "<Control><Shift>a");
  wb_e2e_driver_see (driver, ATSPI_ROLE_PUSH_BUTTON, "_Open*");
  wb_e2e_driver_type (driver, WB_SOURCE_DIR "/data/screenshots/report.png");
  wb_e2e_driver_press (driver, "Return");
  wb_e2e_driver_see (driver, ATSPI_ROLE_LIST_ITEM, "Photo of *");
  take (driver, "photos");
  wb_e2e_driver_press (driver, "<Control><Shift>p");
  wb_e2e_driver_see_focus (driver, ATSPI_ROLE_LIST_ITEM, "Photo of *");
  wb_e2e_driver_press (driver, "Return");
  wb_e2e_driver_see (driver, ATSPI_ROLE_FRAME, "Photo of *");
  wb_e2e_driver_see_enabled (driver, ATSPI_ROLE_PUSH_BUTTON, "Save where it belongs", TRUE);
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Take it out");
  take (driver, "photo-dialog");
  wb_e2e_driver_press (driver, "Escape");
  wb_e2e_driver_see_gone (driver, ATSPI_ROLE_FRAME, "Photo of *");
  /* Curing: there is one to look at unlit. */
  open_experiment (driver, "HA-1*");
  wb_e2e_driver_press (driver, "<Alt>7");
  wb_e2e_driver_press (driver, "<Control>f");
  wb_e2e_driver_see_focus (driver, ATSPI_ROLE_TEXT, "Code of a sample*");
  wb_e2e_driver_type (driver, "A3F-1");
  wb_e2e_driver_press (driver, "Return");
  wb_e2e_driver_see (driver, ATSPI_ROLE_PUSH_BUTTON, "Photos of A3F-1");
  take_dialog (driver, "<Control>u", ATSPI_ROLE_FRAME, "Look at *", "look-unlit");
}

/* What rises at the bench: burns that were found, a limit that is crossed, what was read, a logger's file. */
static void
take_bench (WbE2eDriver *driver)
{
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Say what became of them*");
  wb_e2e_driver_see (driver, ATSPI_ROLE_FRAME, "Burns that nobody closed");
  take (driver, "found");
  wb_e2e_driver_press (driver, "Escape");
  wb_e2e_driver_see_gone (driver, ATSPI_ROLE_FRAME, "Burns that nobody closed");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "All burn still");
  wb_e2e_driver_see_gone (driver, ATSPI_ROLE_PUSH_BUTTON, "All burn still");
  wb_e2e_driver_press (driver, "<Alt>v");
  wb_e2e_driver_type (driver, "79");
  wb_e2e_driver_press (driver, "<Control>s");
  wb_e2e_driver_see (driver, ATSPI_ROLE_PUSH_BUTTON, "It is so*");
  take (driver, "burn-doubt");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "It is so*");
  wb_e2e_driver_see (driver, ATSPI_ROLE_PUSH_BUTTON, "I have seen to it*");
  take (driver, "burn-hazard");
  wb_e2e_driver_press (driver, "<Control>r");
  take (driver, "burn-readings");
  wb_e2e_driver_press (driver, "<Control><Shift>t");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Add a logger's file*");
  wb_e2e_driver_see (driver, ATSPI_ROLE_PUSH_BUTTON, "_Open*");
  wb_e2e_driver_type (driver, WB_SOURCE_DIR "/tests/exchange/data/logger-clock.csv");
  wb_e2e_driver_press (driver, "Return");
  wb_e2e_driver_see (driver, ATSPI_ROLE_FRAME, "Logger's file *");
  take (driver, "logger");
  wb_e2e_driver_press (driver, "Escape");
  wb_e2e_driver_see_gone (driver, ATSPI_ROLE_FRAME, "Logger's file *");
}

static void
take_mapping (WbE2eDriver *driver)
{
  wb_e2e_driver_press (driver, "<Control>i");
  wb_e2e_driver_see (driver, ATSPI_ROLE_PUSH_BUTTON, "_Open*");
  wb_e2e_driver_type (driver, WB_SOURCE_DIR "/tests/exchange/data/sheet-us-hours.csv");
  wb_e2e_driver_press (driver, "Return");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Match the columns*");
  wb_e2e_driver_see (driver, ATSPI_ROLE_FRAME, "Match a sheet's columns");
  take (driver, "mapping-file");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Next");
  g_usleep (G_USEC_PER_SEC / 2); /* until the page is turned */
  take (driver, "mapping-columns");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Next");
  g_usleep (G_USEC_PER_SEC / 2); /* until the page is turned */
  take (driver, "mapping-missing");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Next");
  g_usleep (G_USEC_PER_SEC / 2); /* until the page is turned */
  take (driver, "mapping-preview");
  wb_e2e_driver_press (driver, "Escape");
  wb_e2e_driver_see_gone (driver, ATSPI_ROLE_FRAME, "Match a sheet's columns");
}

static void
take_gallery (WbE2eDriver *driver)
{
  wb_e2e_driver_see (driver, ATSPI_ROLE_LIST, "What is due");
  take (driver, "today");
  wb_e2e_driver_press (driver, "<Alt>2");
  wb_e2e_driver_see (driver, ATSPI_ROLE_LIST_ITEM, "Hob, 76.2 mm*");
  take (driver, "materials");
  wb_e2e_driver_click (driver, ATSPI_ROLE_LIST_ITEM, "Hob, 76.2 mm*");
  take (driver, "materials-chosen");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Add: Lot");
  wb_e2e_driver_see (driver, ATSPI_ROLE_FRAME, "Lot");
  take (driver, "record-dialog");
  wb_e2e_driver_press (driver, "Escape");
  wb_e2e_driver_see_gone (driver, ATSPI_ROLE_FRAME, "Lot");
  take_materials (driver);
  wb_e2e_driver_press (driver, "<Alt>3");
  take (driver, "record");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Restore from a backup");
  wb_e2e_driver_see (driver, ATSPI_ROLE_FRAME, "Restore a notebook");
  take (driver, "restore");
  wb_e2e_driver_press (driver, "Escape");
  wb_e2e_driver_see_gone (driver, ATSPI_ROLE_FRAME, "Restore a notebook");
  open_experiment (driver, "FC-1*");
  wb_e2e_driver_see (driver, ATSPI_ROLE_PANEL, "The bench from above");
  take (driver, "burn");
  take_bench (driver);
  take_experiment (driver);
  take_dialogs (driver);
  take_mapping (driver);
  open_experiment (driver, "FC-1*");
  wb_e2e_driver_press (driver, "<Alt>7");
  wb_e2e_driver_see (driver, ATSPI_ROLE_PANEL, "The bench from above");
  take_sample (driver);
}

static void
run (const char *theme,
     void      (*story) (WbE2eDriver *driver))
{
  char *folder = wb_e2e_folder_new ();
  WbE2eDriver *driver;

  wb_e2e_folder_add_demo (folder);
  add_settings (folder, theme);
  driver = wb_e2e_driver_start (folder, "demo.wickbench", WB_E2E_STILL);
  story (driver);
  wb_e2e_driver_stop_alight (driver);
  wb_e2e_folder_remove (folder);
}

static void
pictures_of_the_readme (void)
{
  run ("light", take_readme);
}

static void
pictures_in_a_look (gconstpointer theme)
{
  g_autofree char *ending = g_strconcat ("-", theme, NULL);

  look = ending;
  run (theme, take_gallery);
  look = "";
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  if (argc < 2 || argc > 3)
    return 2;
  output = argv[1];
  g_assert_cmpint (g_mkdir_with_parents (output, 0755), ==, 0);
  if (argc == 2)
    g_test_add_func ("/pictures/readme", pictures_of_the_readme);
  else
    {
      g_test_add_data_func ("/pictures/light", "light", pictures_in_a_look);
      g_test_add_data_func ("/pictures/dark", "dark", pictures_in_a_look);
      g_test_add_data_func ("/pictures/contrast", "contrast", pictures_in_a_look);
    }
  return g_test_run ();
}
