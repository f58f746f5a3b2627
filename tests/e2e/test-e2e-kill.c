/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-e2e-driver.h"

#include <math.h>
#include <sqlite3.h>

/*
 * SIGKILL while readings are typed into the real window: one notebook, opened and killed over and over, at a moment that a
 * recorded seed chooses. What the window has called saved, by emptying its field, is looked for in the file with plain SQLite.
 */

#define LOGS WB_SOURCE_DIR "/tests/exchange/data/"
#define SAMPLE "OL1-6-1"
#define POOL "Pool diameter, mm"
#define KILLS 20
#define SEED 20261125
/* After the key that saves: before, in and after the save. */
#define WITHIN_MS 60

typedef struct
{
  char        *folder;
  WbE2eDriver *driver;
  guint        told;      /* readings that the window has called saved: 0 to told - 1 */
  guint        in_flight; /* came through without */
} Story;

/* Each is known from all others. */
static double
pool_of (guint n)
{
  return 30 + n / 10.0;
}

static void
light (Story *self)
{
  WbE2eDriver *driver = self->driver;

  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, SAMPLE ", *fit to light");
  wb_e2e_driver_look_into (driver, ATSPI_ROLE_PANEL, SAMPLE);
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Lighting");
  wb_e2e_driver_enter (driver, "Lit at", "17:00");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Light it now");
  wb_e2e_driver_look_into (driver, 0, NULL);
  wb_e2e_driver_see (driver, ATSPI_ROLE_FRAME, "Before the first light");
  g_usleep (G_USEC_PER_SEC); /* keys that come before anybody can have read it are not taken */
  wb_e2e_driver_press (driver, "Tab");
  for (guint i = 0; i < 8; i++)
    wb_e2e_driver_press (driver, "Return");
  wb_e2e_driver_enter (driver, "Who stays with the flames", "Ada");
  wb_e2e_driver_enter (driver, "Until when", "22:00");
  wb_e2e_driver_act (driver, ATSPI_ROLE_PUSH_BUTTON, "Open the session");
  wb_e2e_driver_see_gone (driver, ATSPI_ROLE_FRAME, "Before the first light");
  wb_e2e_driver_read (driver, "1 candle alight");
}

static void
open_bench (Story *self)
{
  self->driver = wb_e2e_driver_start (self->folder, "log.wickbench", WB_E2E_STILL);
  wb_e2e_driver_click (self->driver, ATSPI_ROLE_LIST_ITEM, "*Autumn vessel trial*");
  wb_e2e_driver_see (self->driver, ATSPI_ROLE_PANEL, "The bench from above");
}

/* Key by key, up to the one that saves. */
static void
type_reading (Story *self,
              guint  n)
{
  g_autofree char *text = g_strdup_printf ("%.1f", pool_of (n));

  wb_e2e_driver_see_focus (self->driver, ATSPI_ROLE_TEXT, POOL);
  wb_e2e_driver_type (self->driver, text);
  wb_e2e_driver_read_entry (self->driver, POOL, text);
}

static void
save_reading (Story *self)
{
  type_reading (self, self->told);
  wb_e2e_driver_press (self->driver, "<Control>s");
  wb_e2e_driver_read_entry (self->driver, POOL, "");
  self->told++;
}

static void
kill_once (Story *self,
           GRand *chance)
{
  open_bench (self);
  wb_e2e_driver_act (self->driver, ATSPI_ROLE_PUSH_BUTTON, SAMPLE ", *");
  wb_e2e_driver_look_into (self->driver, ATSPI_ROLE_PANEL, SAMPLE);
  /* What was half typed at the last kill may stand there again. */
  wb_e2e_driver_enter (self->driver, POOL, "");
  save_reading (self);
  type_reading (self, self->told);
  /* Every fourth dies with the reading half typed. */
  if (g_rand_int_range (chance, 0, 4) > 0)
    wb_e2e_driver_press (self->driver, "<Control>s");
  g_usleep ((gulong) g_rand_int_range (chance, 0, WITHIN_MS * 1000));
  wb_e2e_driver_kill (self->driver);
}

static void
find_readings (Story *self)
{
  g_autofree char *path = g_build_filename (self->folder, "log.wickbench", NULL);
  sqlite3_stmt *statement = NULL;
  sqlite3 *db = NULL;
  guint n = 0;

  g_assert_cmpint (sqlite3_open_v2 (path, &db, SQLITE_OPEN_READWRITE, NULL), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_prepare_v2 (db, "SELECT pool_mm FROM reading WHERE source = 'typed' AND pool_mm IS NOT NULL "
                                           "ORDER BY elapsed_min", -1, &statement, NULL), ==, SQLITE_OK);
  for (; sqlite3_step (statement) == SQLITE_ROW; n++)
    g_assert_cmpfloat_with_epsilon (sqlite3_column_double (statement, 0), pool_of (n), 1e-9);
  g_assert_cmpint (sqlite3_finalize (statement), ==, SQLITE_OK);
  sqlite3_close (db);
  g_assert_cmpuint (n, >=, self->told);
  g_assert_cmpuint (n, <=, self->told + 1);
  self->in_flight += n - self->told;
  self->told = n;
  g_free (wb_e2e_folder_command (self->folder, "check", "log.wickbench", NULL));
}

static void
killed_while_typing (void)
{
  Story story = { .folder = wb_e2e_folder_new () };
  g_autoptr (GRand) chance = g_rand_new_with_seed (SEED);

  g_free (wb_e2e_folder_command (story.folder, "import", "log.wickbench", LOGS "burn-log-clean.csv", NULL));
  open_bench (&story);
  light (&story);
  wb_e2e_driver_kill (story.driver);
  for (guint i = 0; i < KILLS; i++)
    {
      kill_once (&story, chance);
      find_readings (&story);
    }
  g_test_message ("%d kills, %u readings called saved, %u in flight came through", KILLS, story.told - story.in_flight, story.in_flight);
  wb_e2e_folder_remove (story.folder);
}

/* Half a second after the last key it is kept: it stands in its field again, says so, and is no reading. */
static void
half_typed (void)
{
  Story story = { .folder = wb_e2e_folder_new () };

  g_free (wb_e2e_folder_command (story.folder, "import", "log.wickbench", LOGS "burn-log-clean.csv", NULL));
  open_bench (&story);
  light (&story);
  wb_e2e_driver_act (story.driver, ATSPI_ROLE_PUSH_BUTTON, SAMPLE ", *");
  wb_e2e_driver_look_into (story.driver, ATSPI_ROLE_PANEL, SAMPLE);
  type_reading (&story, 0);
  g_usleep (500 * 1000);
  wb_e2e_driver_kill (story.driver);
  find_readings (&story);
  open_bench (&story);
  wb_e2e_driver_act (story.driver, ATSPI_ROLE_PUSH_BUTTON, SAMPLE ", *");
  wb_e2e_driver_look_into (story.driver, ATSPI_ROLE_PANEL, SAMPLE);
  wb_e2e_driver_read_entry (story.driver, POOL, "30.0");
  wb_e2e_driver_read (story.driver, "Kept from before the program stopped");
  g_assert_cmpuint (story.told, ==, 0);
  /* Saved by the person, it is kept no longer. */
  wb_e2e_driver_press (story.driver, "<Control>s");
  wb_e2e_driver_read_entry (story.driver, POOL, "");
  story.told = 1;
  wb_e2e_driver_kill (story.driver);
  find_readings (&story);
  open_bench (&story);
  wb_e2e_driver_act (story.driver, ATSPI_ROLE_PUSH_BUTTON, SAMPLE ", *");
  wb_e2e_driver_look_into (story.driver, ATSPI_ROLE_PANEL, SAMPLE);
  wb_e2e_driver_read_entry (story.driver, POOL, "");
  wb_e2e_driver_kill (story.driver);
  wb_e2e_folder_remove (story.folder);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/e2e/kill/what-the-window-called-saved-is-there", killed_while_typing);
  g_test_add_func ("/e2e/kill/what-was-half-typed-is-put-back", half_typed);
  return g_test_run ();
}
