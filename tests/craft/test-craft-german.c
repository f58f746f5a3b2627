/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What German texts tell people to type is accepted as they tell it, and so is what is typed in English. Run under LANGUAGE=de. */
#include "config.h"

#include <libintl.h>

#include "wb-craft-decision.h"
#include "wb-craft-sizes.h"
#include "wb-evenings-out.h"
#include "wb-experiment.h"
#include "wb-house.h"
#include "wb-instant.h"
#include "wb-language.h"
#include "wb-number.h"

static WbDay
get_day (const char *iso)
{
  WbDay day;

  g_assert_true (wb_day_parse (iso, &day, NULL));
  return day;
}

/* Else all of this would be of English. */
static void
test_is_german (void)
{
  g_assert_cmpstr (dgettext (GETTEXT_PACKAGE, "Write a row of sizes as “1 to 8”."), ==, "Eine Reihe von Größen als „1 bis 8“ schreiben.");
}

static void
test_sizes (void)
{
  static const struct { const char *text; guint n; const char *last; } rows[] = {
    { "S-1 bis S-8", 8, "S-8" }, { "S-1 to S-8", 8, "S-8" }, { "1 bis 8", 8, "8" }, { "1, 2, 3, 4", 4, "4" }, { "0,8 0,9 1,0", 3, "1,0" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (GError) error = NULL;
      g_auto (GStrv) sizes = wb_craft_sizes_parse (rows[i].text, &error);

      g_test_message ("%s", rows[i].text);
      g_assert_no_error (error);
      g_assert_cmpuint (g_strv_length (sizes), ==, rows[i].n);
      g_assert_cmpstr (sizes[rows[i].n - 1], ==, rows[i].last);
    }
}

static void
test_days (void)
{
  static const struct { const char *text, *day; } days[] = {
    { "2. März 2026", "2026-03-02" }, { "28. Nov", "2025-11-28" }, { "28. Nov 2026", "2026-11-28" }, { "24. Dez.", "2025-12-24" },
    { "gestern", "2026-03-01" }, { "heute", "2026-03-02" }, { "yesterday", "2026-03-01" }, { "2026-03-02", "2026-03-02" },
  };
  WbDay today = get_day ("2026-03-02");

  for (guint i = 0; i < G_N_ELEMENTS (days); i++)
    {
      g_autoptr (GError) error = NULL;
      WbDay day;

      g_test_message ("%s", days[i].text);
      g_assert_true (wb_day_read (days[i].text, today, &day, &error));
      g_assert_no_error (error);
      g_assert_cmpint (day, ==, get_day (days[i].day));
    }
}

static void
test_time (void)
{
  WbDay day;
  int hour, minute;

  g_assert_true (wb_day_read_with_time ("2. März 2026, 19:40", get_day ("2026-03-03"), &day, &hour, &minute));
  g_assert_cmpint (day, ==, get_day ("2026-03-02"));
  g_assert_cmpint (hour * 60 + minute, ==, 19 * 60 + 40);
}

/* "24. Dez. oder 24. Dez. bis 3. Jan. schreiben, Kommas dazwischen" */
static void
test_evenings_out (void)
{
  static const char *const texts[] = { "24. Dez. bis 3. Jan., 15.2.2027", "24 Dec to 3 Jan, 15.2.2027" };
  WbDay today = get_day ("2026-11-30");

  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (GArray) out = wb_evenings_out_read (texts[i], today, &error);

      g_assert_no_error (error);
      g_assert_true (wb_evenings_out_has (out, get_day ("2027-01-03")));
      g_assert_true (wb_evenings_out_has (out, get_day ("2027-02-15")));
      g_assert_false (wb_evenings_out_has (out, get_day ("2027-01-04")));
      /* What the program writes itself it reads again. */
      g_autofree char *written = wb_evenings_out_write (out, today);
      g_autoptr (GArray) again = wb_evenings_out_read (written, today, &error);

      g_assert_no_error (error);
      g_assert_true (wb_evenings_out_has (again, get_day ("2027-01-03")));
    }
}

static void
test_numbers (void)
{
  g_autofree char *written = wb_number_format (2.4, 1, NULL);

  g_assert_cmpstr (written, ==, "2,4");
}

/* Stored in English, told in German; what somebody wrote stays. */
static void
test_house (void)
{
  g_autoptr (GPtrArray) limits = wb_limits_new_house ();

  for (guint i = 0; i < limits->len; i++)
    {
      const WbLimit *limit = g_ptr_array_index (limits, i);

      g_assert_cmpstr (wb_house_translate (limit->source), !=, limit->source);
    }
  g_assert_cmpstr (wb_house_translate ("House protocol"), ==, "Hausprotokoll");
  g_assert_cmpstr (wb_house_translate ("House profile"), ==, "Hausprofil");
  g_assert_cmpstr (wb_house_translate ("infrared thermometer"), ==, "Infrarotthermometer");
  g_assert_cmpstr (wb_house_translate ("Burn"), ==, "Burn");
  g_assert_cmpstr (wb_house_translate (""), ==, "");
  g_assert_null (wb_house_translate (NULL));
}

/* A decision that was signed in English is told in German, line by line; what the maker wrote, or changed, stays. */
static void
test_decision (void)
{
  static const struct { const char *stored, *told; } lines[] = {
    { "Never tried: short burns, burns well past the usual length, an untrimmed wick.", "Nie versucht: Kurzabbrände, Abbrände weit über die übliche Dauer hinaus, ein ungekürzter Docht." },
    { "Lit after a cure of at least 14 d.", "Angezündet nach einer Reife von mindestens 14 d." },
    { "In a room of 21 to 24 °C. That is noted for 45 of 46 burns only.", "In einem Raum von 21 bis 24 °C. Das ist nur für 45 von 46 Abbränden notiert." },
    { "Filled with 328.9 to 330.7 g of wax and oil, to a height of 80.0 mm.", "Gefüllt mit 328,9 bis 330,7 g Wachs und Öl, bis zu einer Höhe von 80,0 mm." },
    { "3 samples and 1 burn; burnt to the end that the protocol states: 3.", "3 Proben und 1 Abbrand; bis zu dem Ende gebrannt, das die Prüfvorschrift nennt: 3." },
    { "Limits that were kept: flame height, flame height (house limit).", "Eingehaltene Grenzwerte: Flammenhöhe, Flammenhöhe (Hausgrenzwert)." },
    { "Chance that it is the best of those compared: 92 in 100; that it is within 0.05 of the best: more than 99 in 100.", "Aussicht, dass sie die beste der verglichenen ist: 92 von 100; dass sie höchstens 0,05 unter der besten liegt: mehr als 99 von 100." },
    { "It scores 0.89 of 1, very likely between 0.85 and 0.93.", "Die Wertung ist 0,89 von 1, sehr wahrscheinlich zwischen 0,85 und 0,93." },
    { "Another lot of any of these: wax, wick, fragrance.", "Eine andere Charge von einem davon: Wachs, Docht, Duftöl." },
    { "Whether there was a draught was not noted.\nIn the shed.\nNo burn in a draught.", "Ob Zugluft herrschte, wurde nicht notiert.\nIn the shed.\nKein Abbrand in Zugluft." },
    { "Lots that were burnt: Dunmarl soft W-107; Brosk B4 K-42.", "Gebrannte Chargen: Dunmarl soft W-107; Brosk B4 K-42." },
    { "Never tried: an open window.", "Never tried: an open window." },
    { "Without draught, I believe.", "Without draught, I believe." },
    { "Wick trimmed to nearly nothing.", "Wick trimmed to nearly nothing." },
    { "", "" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (lines); i++)
    {
      g_autofree char *told = wb_craft_decision_dup_stored (lines[i].stored);

      g_assert_cmpstr (told, ==, lines[i].told);
    }
  g_assert_null (wb_craft_decision_dup_stored (NULL));
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  wb_language_set_up (GETTEXT_PACKAGE, WB_BUILD_DIR "/po");
  g_test_add_func ("/craft/german/texts-are-german", test_is_german);
  g_test_add_func ("/craft/german/a-row-of-sizes-is-read-as-the-text-tells", test_sizes);
  g_test_add_func ("/craft/german/days-are-read-as-the-texts-tell", test_days);
  g_test_add_func ("/craft/german/a-day-with-its-time-is-read-as-the-text-tells", test_time);
  g_test_add_func ("/craft/german/evenings-out-are-read-as-the-text-tells", test_evenings_out);
  g_test_add_func ("/craft/german/numbers-have-a-comma", test_numbers);
  g_test_add_func ("/craft/german/what-the-house-wrote-is-told-in-german", test_house);
  g_test_add_func ("/craft/german/what-was-signed-in-english-is-told-in-german", test_decision);
  return g_test_run ();
}
