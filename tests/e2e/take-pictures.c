/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-e2e-driver.h"

#include <glib/gstdio.h>
#include <stdlib.h>

/*
 * Takes the README's pictures, or with "gallery" as second word one of every page and dialog in three looks, to be
 * looked at. Not a test: run by data/screenshots/take. With "tour" it shows the pages and what a key opens, in whatever
 * language LANGUAGE says, and with a third word in text of so many per cent. LANGUAGE=he:de is German with the window laid out
 * from right to left, for GTK itself speaks Hebrew.
 *
 *   take-pictures FOLDER [gallery | tour [PERCENT]]
 */

#define WIDTH 1024
#define HEIGHT 700
/* So many looks in a row, and for so long, must be the same before a picture counts: what fades in, is drawn late or shows itself
 * pressed has then come to rest. */
#define STILL_LOOKS 4
#define STILL_US (600 * G_TIME_SPAN_MILLISECOND)
/* The first moment of a page is none of it: what a key opens may come late. */
#define SHOWN_US (1500 * G_TIME_SPAN_MILLISECOND)

typedef struct
{
  WbE2eDriver *driver;
  char        *path;
  GBytes      *last;
  guint        same;
  gint64       since; /* when it last changed */
} Picture;

static const char *output;
static const char *look = ""; /* ending of the names, after the theme */
static gboolean may_be_same;   /* as the one before: on a tour, where a key may have nothing to open */
static int text_percent = 100;
static GBytes *before; /* the picture that was taken last; NULL: none */

static gboolean
is_same (const GBytes *one,
         const GBytes *other)
{
  return one != NULL && other != NULL && g_bytes_equal (one, other);
}

/* Never the one before: the page has then not turned yet. */
static gboolean
is_still (gpointer user)
{
  Picture *picture = user;
  g_autoptr (GBytes) bytes = NULL;
  gint64 now = g_get_monotonic_time ();
  char *data;
  gsize size;

  wb_e2e_driver_picture (picture->driver, picture->path);
  g_assert_true (g_file_get_contents (picture->path, &data, &size, NULL));
  bytes = g_bytes_new_take (data, size);
  if (is_same (picture->last, bytes))
    picture->same++;
  else
    {
      picture->same = 0;
      picture->since = now;
    }
  g_clear_pointer (&picture->last, g_bytes_unref);
  picture->last = g_steal_pointer (&bytes);
  return picture->same >= STILL_LOOKS && now - picture->since >= STILL_US && (may_be_same || !is_same (before, picture->last));
}

static void
take (WbE2eDriver *driver,
      const char  *name)
{
  g_autofree char *file = g_strconcat (name, look, ".png", NULL);
  g_autofree char *path = g_build_filename (output, file, NULL);
  Picture picture = { driver, path, NULL, 0, 0 };

  wb_e2e_driver_wait (driver, "a picture at rest that is not the one before", is_still, &picture);
  g_clear_pointer (&before, g_bytes_unref);
  before = picture.last;
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
  if (text_percent != 100)
    {
      /* GTK's own settings.ini is not asked for it under X. */
      g_autofree char *resources = g_build_filename (folder, "home", "Xresources", NULL);
      g_autofree char *dpi = g_strdup_printf ("Xft.dpi: %d\n", 96 * text_percent / 100);

      g_assert_true (g_file_set_contents (resources, dpi, -1, NULL));
      g_setenv ("XENVIRONMENT", resources, TRUE);
    }
}

/* At the right, where the page lies. */
static void
scroll (WbE2eDriver *driver,
        int          clicks)
{
  wb_e2e_driver_scroll (driver, WIDTH - 40, HEIGHT / 2, clicks);
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
  wb_e2e_driver_press (driver, "<Alt>4");
  wb_e2e_driver_see_enabled (driver, ATSPI_ROLE_PUSH_BUTTON, "Test these*", TRUE);
  scroll (driver, 5); /* the vessels, and below them the series */
  take (driver, "ladder");
}

/* ---- Everything ---- */

static void
take_charts (WbE2eDriver *driver)
{
  static const struct { const char *label, *name; } kinds[] = {
    { "How fast the pool grows", NULL }, { "The pool from above", "chart-rings" }, { "Over the candle's life", "chart-life" },
    { "Pool growth, every combination", "chart-grid" }, { "One figure, every combination", "chart-heat" }, { "Score and what lowers it", "chart-score" },
    { "How sure the order is", "chart-ranks" }, { "What changes a figure", "chart-effects" },
    { "Smoke, soot and mushroom", "chart-marks" }, { "What a wrong choice costs", "chart-loss" },
  };

  for (guint i = 1; i < G_N_ELEMENTS (kinds); i++)
    {
      wb_e2e_driver_pick (driver, "Chart", (int) i, kinds[i].label);
      take (driver, kinds[i].name);
    }
  wb_e2e_driver_pick (driver, "Chart", 0, kinds[0].label);
}

/* The other two sides of the page: what lies side by side, its chooser, and the numbers. */
static void
take_beside (WbE2eDriver *driver)
{
  wb_e2e_driver_press (driver, "<Control>2");
  wb_e2e_driver_see (driver, ATSPI_ROLE_PUSH_BUTTON, "Choose what lies side by side");
  take (driver, "beside");
  wb_e2e_driver_press (driver, "<Control>f");
  wb_e2e_driver_see (driver, ATSPI_ROLE_FRAME, "What to lay side by side");
  take (driver, "pick-dialog");
  wb_e2e_driver_press (driver, "Escape");
  wb_e2e_driver_see_gone (driver, ATSPI_ROLE_FRAME, "What to lay side by side");
  wb_e2e_driver_press (driver, "<Control>3");
  wb_e2e_driver_read (driver, "Scores and chances");
  take (driver, "numbers");
  wb_e2e_driver_press (driver, "<Control>1");
}

/* By its button, and out of it again; what stands below in it too. */
static void
take_asked (WbE2eDriver *driver,
            const char  *button,
            const char  *title,
            const char  *name,
            gboolean     is_long)
{
  g_autofree char *below = g_strconcat (name, "-below", NULL);

  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, button);
  wb_e2e_driver_see (driver, ATSPI_ROLE_FRAME, title);
  g_usleep (SHOWN_US);
  take (driver, name);
  if (is_long)
    {
      wb_e2e_driver_scroll (driver, 300, 168, 40);
      take (driver, below);
    }
  wb_e2e_driver_press (driver, "Escape");
  wb_e2e_driver_see_gone (driver, ATSPI_ROLE_FRAME, title);
}

/* A decision that was reopened, one that is still to be made, and its papers. */
static void
take_decisions (WbE2eDriver *driver)
{
  open_experiment (driver, "HF-1*");
  wb_e2e_driver_press (driver, "<Alt>8");
  wb_e2e_driver_see (driver, ATSPI_ROLE_PUSH_BUTTON, "Decide…");
  wb_e2e_driver_pick (driver, "Vessel and scent", 1, "Hob, 76.2 mm · Quimber leaf 8 %");
  wb_e2e_driver_see (driver, ATSPI_ROLE_PUSH_BUTTON, "Sign anew*");
  take (driver, "decision-strip");
  take_asked (driver, "Sign anew*", "Decide*", "decision-anew", TRUE);
  take_asked (driver, "Withdraw…", "Withdraw*", "decision-withdraw", FALSE);
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Papers");
  take (driver, "decision-papers");
  wb_e2e_driver_press (driver, "Down");
  wb_e2e_driver_press (driver, "Return");
  wb_e2e_driver_see (driver, ATSPI_ROLE_FRAME, "Production*");
  take (driver, "production-dialog");
  wb_e2e_driver_press (driver, "Escape");
  wb_e2e_driver_see_gone (driver, ATSPI_ROLE_FRAME, "Production*");
  wb_e2e_driver_press (driver, "<Alt>9");
  wb_e2e_driver_read (driver, "Page 1 of ");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "What it holds");
  take (driver, "report-holds");
  wb_e2e_driver_press (driver, "Escape");
  open_experiment (driver, "FC-1*");
  wb_e2e_driver_press (driver, "<Alt>8");
  wb_e2e_driver_see (driver, ATSPI_ROLE_PUSH_BUTTON, "Decide…");
  take_asked (driver, "Decide…", "Decide*", "decision-sign", TRUE);
}

static void
take_experiment (WbE2eDriver *driver)
{
  static const struct { const char *key, *words, *name; } pages[] = {
    { "<Alt>5", "37 samples of 12 combinations", "plan" }, { "<Alt>6", "Once it has set: what was found", "pour" },
    { "<Alt>7", "The bench from above", "burn-finished" }, { "<Alt>9", "Page 1 of ", "report" },
  };

  open_experiment (driver, "HF-1*");
  wb_e2e_driver_see (driver, ATSPI_ROLE_PANEL, "Ranking");
  take (driver, "compare");
  take_charts (driver);
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Table");
  take (driver, "compare-table");
  take_beside (driver);
  for (guint i = 0; i < G_N_ELEMENTS (pages); i++)
    {
      wb_e2e_driver_press (driver, pages[i].key);
      wb_e2e_driver_read (driver, pages[i].words);
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
  wb_e2e_driver_click (driver, ATSPI_ROLE_LABEL, "What to burn next*");
  take (driver, "compare-next");
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
  wb_e2e_driver_press (driver, "<Control>comma");
  wb_e2e_driver_see (driver, ATSPI_ROLE_FRAME, "Preferences");
  take (driver, "preferences");
  wb_e2e_driver_look_into (driver, ATSPI_ROLE_FRAME, "Preferences");
  wb_e2e_driver_scroll (driver, 300, 400, 40);
  take (driver, "preferences-evenings");
  wb_e2e_driver_look_into (driver, 0, NULL);
  wb_e2e_driver_press (driver, "Escape");
  wb_e2e_driver_see_gone (driver, ATSPI_ROLE_FRAME, "Preferences");
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
take_measuring (WbE2eDriver *driver)
{
  static const char *const names[] = { "materials-measure", "materials-measure-empty", "materials-measure-water",
                                       "materials-measure-across", "materials-measure-up" };

  wb_e2e_driver_press (driver, "<Control><Alt>m");
  wb_e2e_driver_see (driver, ATSPI_ROLE_FRAME, "Measure the vessel");
  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      if (i > 0)
        wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Next*");
      take (driver, names[i]);
    }
  wb_e2e_driver_press (driver, "Escape");
  wb_e2e_driver_see_gone (driver, ATSPI_ROLE_FRAME, "Measure the vessel");
}

static void
take_sizes (WbE2eDriver *driver)
{
  wb_e2e_driver_press (driver, "<Control><Alt>s");
  wb_e2e_driver_look_into (driver, ATSPI_ROLE_FRAME, "Add sizes of a series");
  wb_e2e_driver_see (driver, ATSPI_ROLE_TEXT, "Series");
  take (driver, "materials-sizes");
  wb_e2e_driver_enter (driver, "Series", "Tarn");
  wb_e2e_driver_enter (driver, "Sizes, smallest first", "T-1 to T-8");
  wb_e2e_driver_tick (driver, "With the supplier's diameters, for", TRUE);
  take (driver, "materials-sizes-eight");
  wb_e2e_driver_press (driver, "Escape");
  wb_e2e_driver_look_into (driver, 0, NULL);
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "*Drop it");
  wb_e2e_driver_see_gone (driver, ATSPI_ROLE_FRAME, "Add sizes of a series");
}

/* What stands below its fields, and where a lot went. */
static void
take_wax (WbE2eDriver *driver)
{
  scroll (driver, 8);
  take (driver, "materials-wax-method");
  scroll (driver, 40);
  take (driver, "materials-wax-lots");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Where lot W-107 was used");
  wb_e2e_driver_see (driver, ATSPI_ROLE_FRAME, "Where lot W-107*");
  wb_e2e_driver_see_gone (driver, ATSPI_ROLE_LABEL, "Looking…");
  take (driver, "lot-used");
  wb_e2e_driver_press (driver, "Escape");
  wb_e2e_driver_see_gone (driver, ATSPI_ROLE_FRAME, "Where lot W-107*");
}

static void
take_materials (WbE2eDriver *driver)
{
  static const char *const kinds[] = { "Waxes", "Wicks", "Fragrances", "Dyes", "Additives" };

  take_measuring (driver);
  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      g_autofree char *name = g_strconcat ("materials-", kinds[i], NULL);

      wb_e2e_driver_click (driver, ATSPI_ROLE_LABEL, kinds[i]);
      take (driver, name);
      if (g_str_equal (kinds[i], "Wicks"))
        take_sizes (driver);
      if (g_str_equal (kinds[i], "Waxes"))
        take_wax (driver);
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

/* ---- From a plan to labels ---- */

static void
take_plan (WbE2eDriver *driver)
{
  wb_e2e_driver_press (driver, "<Control><Shift>n");
  wb_e2e_driver_see_focus (driver, ATSPI_ROLE_TEXT, "Title");
  take (driver, "plan-form");
  wb_e2e_driver_type (driver, "Brosk for the Thimble");
  wb_e2e_driver_pick (driver, "Wax", 1, "Dunmarl soft");
  wb_e2e_driver_tick (driver, "Thimble, 63.5 mm", TRUE);
  wb_e2e_driver_tick (driver, "Brosk, all of them", TRUE);
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Which of these wicks?");
  wb_e2e_driver_see_enabled (driver, ATSPI_ROLE_PUSH_BUTTON, "Take these", TRUE);
  take (driver, "plan-shortlist");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Take these");
  wb_e2e_driver_see (driver, ATSPI_ROLE_PUSH_BUTTON, "Put the others back");
  take (driver, "plan-shortlist-taken");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Begin anew*");
  wb_e2e_driver_see (driver, ATSPI_ROLE_PUSH_BUTTON, "*Begin anew");
  take (driver, "plan-begin-anew");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "*Begin anew");
  wb_e2e_driver_see_gone (driver, ATSPI_ROLE_PUSH_BUTTON, "*Begin anew");
}

static void
take_touched (WbE2eDriver *driver)
{
  wb_e2e_driver_press (driver, "<Alt>1");
  wb_e2e_driver_see (driver, ATSPI_ROLE_LIST, "What is due");
  wb_e2e_driver_click (driver, ATSPI_ROLE_LIST_ITEM, "*Wax lot W-112 of Dunmarl soft is new*");
  wb_e2e_driver_see (driver, ATSPI_ROLE_LABEL, "Does the decision for HF-1 still hold?");
  take (driver, "touched");
  wb_e2e_driver_press (driver, "Escape");
  wb_e2e_driver_see_gone (driver, ATSPI_ROLE_LABEL, "Does the decision for HF-1 still hold?");
  scroll (driver, 40);
  take (driver, "today-week");
  scroll (driver, -40);
  take (driver, "today-again");
  wb_e2e_driver_click (driver, ATSPI_ROLE_LIST_ITEM, "*Wax lot W-112 of Dunmarl soft is new*");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Plan a confirmation test*");
  wb_e2e_driver_see_gone (driver, ATSPI_ROLE_LABEL, "Does the decision for HF-1 still hold?");
  take (driver, "plan-confirmation");
}

static void
take_bench_plan (WbE2eDriver *driver)
{
  open_experiment (driver, "TC-1*");
  wb_e2e_driver_press (driver, "<Alt>5");
  wb_e2e_driver_read (driver, "9 samples of ");
  take (driver, "plan-to-pour");
  open_experiment (driver, "FC-1*");
  wb_e2e_driver_press (driver, "<Alt>5");
  wb_e2e_driver_read (driver, "10 samples of ");
  scroll (driver, 5);
  take (driver, "bench-plan");
  take_dialog (driver, "<Control><Shift>b", ATSPI_ROLE_FRAME, "Plan of the bench*", "bench-plan-paper");
}

static void
take_labels (WbE2eDriver *driver)
{
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Labels*");
  wb_e2e_driver_look_into (driver, ATSPI_ROLE_FRAME, "Labels");
  wb_e2e_driver_read (driver, "Page 1 of");
  take (driver, "labels");
  wb_e2e_driver_pick (driver, "Print", 1, "Bench cards that lie flat");
  take (driver, "labels-cards");
  wb_e2e_driver_pick (driver, "Print", 2, "Bench cards that fold and stand");
  take (driver, "labels-cards-standing");
  wb_e2e_driver_pick (driver, "Print", 0, "Labels for the vessels");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Labels on");
  take (driver, "labels-presets");
  wb_e2e_driver_press (driver, "End");
  wb_e2e_driver_press (driver, "Return");
  wb_e2e_driver_see (driver, ATSPI_ROLE_TEXT, "Name of this sheet");
  take (driver, "labels-another-size");
  wb_e2e_driver_press (driver, "Escape");
  wb_e2e_driver_look_into (driver, 0, NULL);
  wb_e2e_driver_see_gone (driver, ATSPI_ROLE_FRAME, "Labels");
}

static void
take_pour (WbE2eDriver *driver)
{
  open_experiment (driver, "HA-1*");
  wb_e2e_driver_press (driver, "<Alt>6");
  wb_e2e_driver_read (driver, "Fit to burn on 28 Nov 2026");
  take (driver, "pour-curing");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Keep A3F-1 as a reference");
  wb_e2e_driver_see (driver, ATSPI_ROLE_LABEL, "Keep A3F-1 as a reference");
  take (driver, "reference");
  wb_e2e_driver_press (driver, "Escape");
  wb_e2e_driver_see_gone (driver, ATSPI_ROLE_LABEL, "Keep A3F-1 as a reference");
  scroll (driver, 60);
  take (driver, "pour-curing-below");
  open_experiment (driver, "TC-1*");
  wb_e2e_driver_read (driver, "9 × 196.2 g");
  take (driver, "pour-planned");
  scroll (driver, 6);
  take (driver, "pour-steps");
  scroll (driver, 6);
  take (driver, "pour-steps-below");
  scroll (driver, 60);
  take (driver, "pour-samples");
  take_dialog (driver, "<Control>p", ATSPI_ROLE_FRAME, "Batch sheet*", "batch-sheet");
  take_labels (driver);
  take_dialog (driver, "<Control><Shift>r", ATSPI_ROLE_FRAME, "Rate blind", "blind");
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
  take (driver, "mapping-columns");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Next");
  take (driver, "mapping-missing");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Next");
  take (driver, "mapping-preview");
  wb_e2e_driver_press (driver, "Escape");
  wb_e2e_driver_see_gone (driver, ATSPI_ROLE_FRAME, "Match a sheet's columns");
}

/* Asked for the vessel of the materials, down to its numbers, and into a plan. */
static void
take_ladder (WbE2eDriver *driver)
{
  wb_e2e_driver_press (driver, "<Alt>4");
  wb_e2e_driver_see_enabled (driver, ATSPI_ROLE_PUSH_BUTTON, "Test these*", TRUE);
  take (driver, "ladder");
  scroll (driver, 5);
  take (driver, "ladder-below");
  wb_e2e_driver_act (driver, ATSPI_ROLE_TOGGLE_BUTTON, "Both");
  take (driver, "ladder-both");
  wb_e2e_driver_act (driver, ATSPI_ROLE_TOGGLE_BUTTON, "All wicks in numbers");
  scroll (driver, 60);
  take (driver, "ladder-numbers");
  /* which changes no answer */
  wb_e2e_driver_pick (driver, "Fragrance", 1, "Quimber leaf");
  wb_e2e_driver_see_enabled (driver, ATSPI_ROLE_PUSH_BUTTON, "Test these*", TRUE);
  wb_e2e_driver_press (driver, "<Control>Return");
  wb_e2e_driver_see_enabled (driver, ATSPI_ROLE_PUSH_BUTTON, "Save the plan", TRUE);
  take (driver, "ladder-plan");
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
  wb_e2e_driver_see (driver, ATSPI_ROLE_PUSH_BUTTON, "Restore from a backup");
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
  take_decisions (driver);
  take_dialogs (driver);
  take_mapping (driver);
  take_ladder (driver);
  open_experiment (driver, "FC-1*");
  wb_e2e_driver_press (driver, "<Alt>7");
  wb_e2e_driver_see (driver, ATSPI_ROLE_PANEL, "The bench from above");
  take_sample (driver);
}

/* A day at the pouring table. */
static void
take_table (WbE2eDriver *driver)
{
  wb_e2e_driver_see (driver, ATSPI_ROLE_LIST, "What is due");
  take_plan (driver);
  take_touched (driver);
  take_bench_plan (driver);
  take_pour (driver);
}

/* ---- Pages and dialogs by their keys, whatever the language ---- */

static void
take_shown (WbE2eDriver *driver,
            const char  *name)
{
  g_usleep (SHOWN_US);
  take (driver, name);
}

static void
tour_dialogs (WbE2eDriver *driver,
              const char  *code)
{
  static const struct { const char *key, *name; } dialogs[] = {
    { "<Control><Shift>l", "log-sheet" }, { "<Control><Shift>b", "bench-plan" }, { "<Control><Shift>e", "evening" },
    { "<Control>h", "event" }, { "<Control>u", "look" }, { "F1", "cautions" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (dialogs); i++)
    {
      g_autofree char *name = g_strdup_printf ("%s-%s", code, dialogs[i].name);

      wb_e2e_driver_press (driver, "<Alt>7");
      wb_e2e_driver_press (driver, dialogs[i].key);
      take_shown (driver, name);
      wb_e2e_driver_press (driver, "Escape");
    }
}

static void
take_tour (WbE2eDriver *driver)
{
  static const struct { const char *key, *name; } places[] = {
    { "<Alt>1", "today" }, { "<Alt>2", "materials" }, { "<Control><Alt>m", "measure" }, { "<Control><Alt>s", "sizes" }, { "<Alt>3", "record" },
    { "<Alt>4", "ladder" }, { "<Control>comma", "preferences" }, { "<Control>question", "shortcuts" }, { "F10", "menu" }, { "<Control><Shift>n", "plan-form" },
  };
  static const struct { const char *key, *name; } pages[] = {
    { "<Alt>5", "plan" }, { "<Alt>6", "pour" }, { "<Alt>7", "burn" }, { "<Alt>8", "compare" }, { "<Alt>9", "report" },
  };
  static const char *const codes[] = { "HF-1", "FC-1", "HA-1", "TC-1" };

  may_be_same = TRUE;
  for (guint i = 0; i < G_N_ELEMENTS (places); i++)
    {
      wb_e2e_driver_press (driver, places[i].key);
      take_shown (driver, places[i].name);
      if (i > 1 && i != 4 && i != 5)
        wb_e2e_driver_press (driver, "Escape");
      /* What is closed late takes the next key. */
      g_usleep (SHOWN_US / 2);
    }
  for (guint k = 0; k < G_N_ELEMENTS (codes); k++)
    {
      g_autofree char *item = g_strconcat (codes[k], "*", NULL);

      open_experiment (driver, item);
      for (guint i = 0; i < G_N_ELEMENTS (pages); i++)
        {
          g_autofree char *name = g_strdup_printf ("%s-%s", codes[k], pages[i].name);
          g_autofree char *below = g_strdup_printf ("%s-below", name);

          wb_e2e_driver_press (driver, pages[i].key);
          take_shown (driver, name);
          scroll (driver, 8);
          take_shown (driver, below);
          scroll (driver, -40);
        }
    }
  open_experiment (driver, "FC-1*");
  tour_dialogs (driver, "FC-1");
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
  g_clear_pointer (&before, g_bytes_unref);
  /* On a tour what the program asks at the end is asked in words that are not known here. */
  if (may_be_same)
    wb_e2e_driver_kill (driver);
  else
    wb_e2e_driver_stop_alight (driver);
  wb_e2e_folder_remove (folder);
}

static void
pictures_of_the_readme (void)
{
  run ("light", take_readme);
}

static void
pictures_of_a_tour (void)
{
  run ("light", take_tour);
}

static void
pictures_in_a_look (gconstpointer theme)
{
  g_autofree char *ending = g_strconcat ("-", theme, NULL);

  look = ending;
  run (theme, take_gallery);
  run (theme, take_table);
  look = "";
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  if (argc < 2 || argc > 4)
    return 2;
  output = argv[1];
  g_assert_cmpint (g_mkdir_with_parents (output, 0755), ==, 0);
  if (argc == 2)
    g_test_add_func ("/pictures/readme", pictures_of_the_readme);
  else if (g_str_equal (argv[2], "tour"))
    {
      text_percent = argc == 4 ? CLAMP (atoi (argv[3]), 50, 400) : 100;
      g_test_add_func ("/pictures/tour", pictures_of_a_tour);
    }
  else
    {
      g_test_add_data_func ("/pictures/light", "light", pictures_in_a_look);
      g_test_add_data_func ("/pictures/dark", "dark", pictures_in_a_look);
      g_test_add_data_func ("/pictures/contrast", "contrast", pictures_in_a_look);
    }
  return g_test_run ();
}
