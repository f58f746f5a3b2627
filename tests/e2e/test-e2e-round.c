/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-e2e-driver.h"

#include <string.h>

/* An evening of twelve flames by the keyboard alone, every key of a round counted. */

#define N_FLAMES 12
/* Of one candle in a round: pool, flame and soot, and on to the next. A chord counts as all the keys that are held. */
#define KEYS_MOST 9
/* A second is a minute, so that each flame has an instant of its own to the minute. */
#define QUICK WB_E2E_NOW ",60"

typedef struct
{
  WbE2eDriver *driver;
  guint        keys;
} Hand;

static void
type (Hand       *hand,
      const char *text)
{
  wb_e2e_driver_type (hand->driver, text);
  hand->keys += (guint) strlen (text);
}

static void
press (Hand       *hand,
       const char *accelerator)
{
  guint held = 1;

  for (const char *at = accelerator; (at = strchr (at, '>')) != NULL; at++)
    held++;
  wb_e2e_driver_press (hand->driver, accelerator);
  hand->keys += held;
}

/* Twelve candles that burnt the evening before and that nobody has weighed: invented. */
static void
write_log (const char *folder)
{
  g_autofree char *path = g_build_filename (folder, "twelve.csv", NULL);
  g_autoptr (GString) text = g_string_new ("experiment,vessel,inner_diameter_mm,wax,wick_series,wick_size,wick_step,load_pct,sample,"
                                           "burn,lit_at,elapsed_min,pool_mm,flame_max_mm,event\n");
  g_autoptr (GError) error = NULL;

  for (guint i = 1; i <= N_FLAMES; i++)
    {
      g_autofree char *head = g_strdup_printf ("Twelve flames,Heath tumbler,70,Heath blend,Tern,T-%u,%u,8,F-%02u,1,"
                                               "2026-11-24T18:00:00+01:00,", (i + 2) / 3, (i + 2) / 3, i);

      g_string_append_printf (text, "%s60,30,18,\n%s240,52,20,snuffed\n", head, head);
    }
  g_file_set_contents (path, text->str, -1, &error);
  g_assert_no_error (error);
  g_free (wb_e2e_folder_command (folder, "import", "log.wickbench", path, NULL));
}

static void
see_alight (Hand  *hand,
            guint  n)
{
  g_autofree char *words = n == 0 ? g_strdup ("Nothing is alight")
                                  : g_strdup_printf (n == 1 ? "%u candle alight" : "%u candles alight", n);

  wb_e2e_driver_read (hand->driver, words);
}

/* One key a candle, each at its own instant, from whatever the panel asks: here it would weigh the burn before. */
static void
light_all (Hand *hand)
{
  press (hand, "<Control>l");
  wb_e2e_driver_see (hand->driver, ATSPI_ROLE_FRAME, "Before the first light");
  /* The keyboard begins on the words, and comes to the first point by Tab; keys that come before anybody can have read are not taken. */
  g_usleep (G_USEC_PER_SEC);
  press (hand, "Tab");
  for (guint i = 0; i < 8; i++)
    press (hand, "Return");
  type (hand, "Ada");
  press (hand, "Return");
  type (hand, "23:00");
  press (hand, "Return");
  press (hand, "Return");
  wb_e2e_driver_see_gone (hand->driver, ATSPI_ROLE_FRAME, "Before the first light");
  /* Enter has opened the session and lit nothing. */
  for (guint i = 1; i <= N_FLAMES; i++)
    {
      press (hand, "<Control>l");
      see_alight (hand, i);
    }
}

static void
read_all (Hand *hand)
{
  /* After the last light the hand is where the first reading comes due. */
  wb_e2e_driver_see_focus (hand->driver, ATSPI_ROLE_TEXT, "Pool diameter, mm");
  wb_e2e_driver_see (hand->driver, ATSPI_ROLE_PANEL, "F-01");
  hand->keys = 0;
  for (guint i = 1; i <= N_FLAMES; i++)
    {
      g_autofree char *pool = g_strdup_printf ("%u", 30 + i), *flame = g_strdup_printf ("%u", 20 + i);
      g_autofree char *soot = g_strdup_printf ("%u", i % 5), *undo = g_strdup_printf ("Undo: Log a reading of F-%02u", i);

      type (hand, pool);
      press (hand, "Return");
      type (hand, flame);
      press (hand, "<Alt>s");
      type (hand, soot);
      press (hand, "Return");
      wb_e2e_driver_see (hand->driver, ATSPI_ROLE_PUSH_BUTTON, undo);
    }
  g_test_message ("%u keys for %u candles", hand->keys, N_FLAMES);
  g_assert_cmpuint (hand->keys, <=, N_FLAMES * KEYS_MOST);
}

static void
snuff_all (Hand *hand)
{
  for (guint i = N_FLAMES; i > 0; i--)
    {
      press (hand, "<Control>d");
      see_alight (hand, i - 1);
    }
  /* All are out: now it is asked how long they glowed, the first first. */
  wb_e2e_driver_see_focus (hand->driver, ATSPI_ROLE_TEXT, "For how long, s");
  wb_e2e_driver_see (hand->driver, ATSPI_ROLE_PANEL, "F-01");
  type (hand, "12");
  press (hand, "Return");
  wb_e2e_driver_see (hand->driver, ATSPI_ROLE_PANEL, "F-02");
}

/* The log's rows of the second burn, a column of each in order. Caller frees. */
static GPtrArray *
get_cells (char      **lines,
           const char *column,
           const char *where,
           const char *word)
{
  g_auto (GStrv) heads = g_strsplit (lines[0], ",", -1);
  GPtrArray *found = g_ptr_array_new_with_free_func (g_free);
  guint at = 0, of = 0, burn = 0;

  for (guint k = 0; heads[k] != NULL; k++)
    {
      at = g_str_equal (heads[k], column) ? k : at;
      of = g_str_equal (heads[k], where) ? k : of;
      burn = g_str_equal (heads[k], "burn") ? k : burn;
    }
  for (guint i = 1; lines[i] != NULL && *lines[i] != '\0'; i++)
    {
      g_auto (GStrv) cells = g_strsplit (lines[i], ",", -1);

      if (g_str_equal (cells[burn], "2") && (word == NULL ? *cells[of] != '\0' : g_str_equal (cells[of], word)))
        g_ptr_array_add (found, g_strdup (cells[at]));
    }
  return found;
}

static guint
count_kinds (GPtrArray *cells)
{
  g_autoptr (GHashTable) kinds = g_hash_table_new (g_str_hash, g_str_equal);

  for (guint i = 0; i < cells->len; i++)
    g_hash_table_add (kinds, g_ptr_array_index (cells, i));
  return g_hash_table_size (kinds);
}

/* What was typed, candle by candle, and nothing else. */
static void
check_file (const char *folder)
{
  g_autofree char *path = g_build_filename (folder, "out.csv", NULL);
  g_autofree char *text = NULL;
  g_auto (GStrv) lines = NULL;
  g_autoptr (GPtrArray) pools = NULL, flames = NULL, soots = NULL, lit = NULL, ends = NULL, glows = NULL;

  g_free (wb_e2e_folder_command (folder, "export", "log.wickbench", "--to", path, NULL));
  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  lines = g_strsplit (text, "\r\n", -1);
  pools = get_cells (lines, "pool_mm", "pool_mm", NULL);
  flames = get_cells (lines, "flame_max_mm", "pool_mm", NULL);
  soots = get_cells (lines, "soot", "pool_mm", NULL);
  lit = get_cells (lines, "lit_at", "pool_mm", NULL);
  ends = get_cells (lines, "elapsed_min", "event", "snuffed");
  glows = get_cells (lines, "event_s", "event", "afterglow");
  g_assert_cmpuint (pools->len, ==, N_FLAMES);
  for (guint i = 0; i < N_FLAMES; i++)
    {
      g_assert_cmpint (atoi (g_ptr_array_index (pools, i)), ==, 31 + (int) i);
      g_assert_cmpint (atoi (g_ptr_array_index (flames, i)), ==, 21 + (int) i);
      g_assert_cmpint (atoi (g_ptr_array_index (soots, i)), ==, (int) (i + 1) % 5);
    }
  g_assert_cmpuint (count_kinds (lit), ==, N_FLAMES);
  g_assert_cmpuint (ends->len, ==, N_FLAMES);
  g_assert_cmpuint (glows->len, ==, 1);
  g_assert_cmpstr (g_ptr_array_index (glows, 0), ==, "12");
  g_free (wb_e2e_folder_command (folder, "check", "log.wickbench", NULL));
}

static void
twelve_flames (void)
{
  char *folder = wb_e2e_folder_new ();
  Hand hand = { NULL, 0 };

  write_log (folder);
  hand.driver = wb_e2e_driver_start (folder, "log.wickbench", QUICK);
  wb_e2e_driver_click (hand.driver, ATSPI_ROLE_LIST_ITEM, "*Twelve flames*");
  wb_e2e_driver_see (hand.driver, ATSPI_ROLE_PANEL, "The bench from above");
  /* From here on no pointer. */
  light_all (&hand);
  read_all (&hand);
  snuff_all (&hand);
  wb_e2e_driver_stop (hand.driver);
  check_file (folder);
  wb_e2e_folder_remove (folder);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/e2e/round/twelve-flames-by-the-keyboard", twelve_flames);
  return g_test_run ();
}
