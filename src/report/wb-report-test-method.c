/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-test-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* How it was tested, under which conditions, and where the test left its protocol. */

static char *
dup_end (const WbReportTest *test)
{
  const WbProtocol *protocol = test->answer->data->protocol;

  switch (protocol->end_rule)
    {
    case WB_END_RESIDUE:
      {
        g_autofree char *residue = wb_report_test_dup_value (test, WB_UNIT_MM, protocol->end_residue_mm, -1);

        return g_strdup_printf (_("until %s of wax is left"), residue);
      }
    case WB_END_BURNS:
      return g_strdup_printf (_("for %d burns: a partial test"), (int) protocol->end_burns);
    case WB_END_SELF:
    default:
      return g_strdup (_("until it goes out by itself"));
    }
}

static void
add_names (const WbReportTest *test,
           const char         *what,
           GPtrArray          *titles)
{
  g_autofree char *joined = NULL;

  g_ptr_array_add (titles, NULL);
  joined = g_strjoinv (", ", (char **) titles->pdata);
  if (*joined != '\0')
    wb_report_test_point (test, "%s: %s", what, joined);
}

static void
add_grid (const WbReportTest *test)
{
  const WbDataset *data = test->answer->data;
  g_autoptr (GPtrArray) vessels = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GPtrArray) wicks = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GPtrArray) scents = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < data->vessels->len; i++)
    g_ptr_array_add (vessels, wb_material_dup_title (g_ptr_array_index (data->vessels, i)));
  for (guint i = 0; i < data->wicks->len; i++)
    g_ptr_array_add (wicks, wb_material_dup_title (g_ptr_array_index (data->wicks, i)));
  for (guint i = 0; i < data->cells->len; i++)
    {
      char *scent = wb_dataset_dup_scent_name (data, i);

      if (g_ptr_array_find_with_equal_func (scents, scent, g_str_equal, NULL))
        g_free (scent);
      else
        g_ptr_array_add (scents, scent);
    }
  add_names (test, _("Vessels"), vessels);
  if (data->wax != NULL)
    wb_report_test_point (test, _("Wax: %s"), data->wax->name);
  add_names (test, _("Wicks"), wicks);
  add_names (test, _("Scents"), scents);
  if (data->dye != NULL)
    wb_report_test_point (test, _("Dye: %s"), data->dye->name);
  if (data->additive != NULL)
    wb_report_test_point (test, _("Additive: %s"), data->additive->name);
  wb_report_test_point (test, _("%u combinations, %u samples, %u burns, %u readings."), data->cells->len, data->samples->len, data->burns->len,
                        wb_readings_get_length (data->readings));
}

void
wb_report_test_add_method (const WbReportTest *test)
{
  const WbProtocol *protocol = test->answer->data->protocol;
  g_autofree char *burn = wb_quantity_format_duration (protocol->burn_s);
  g_autofree char *interval = wb_quantity_format_duration (protocol->interval_upper_s);
  g_autofree char *cool = wb_quantity_format_duration (protocol->cool_s);
  g_autofree char *trim = wb_report_test_dup_value (test, WB_UNIT_MM, protocol->trim_mm, -1);
  g_autofree char *low = wb_report_test_dup_value (test, WB_UNIT_CELSIUS, protocol->room_low_c, 0);
  g_autofree char *high = wb_report_test_dup_value (test, WB_UNIT_CELSIUS, protocol->room_high_c, 0);
  g_autofree char *end = dup_end (test);

  wb_report_document_add_heading (test->document, 1, _("How it was tested"));
  add_grid (test);
  wb_report_test_say (test, _("Each sample was to burn in cycles of %s, read every %s, cooled at least %s in between, its wick trimmed to %s before each burn, "
                              "in a room of %s to %s without draught, %s."),
                      burn, interval, cool, trim, low, high, end);
  wb_report_test_say (test, "%s", _("It is an in-house test that follows the timing of ASTM F2417 and EN 15426 as test laboratories tell it. "
                                    "No full text of a standard was at hand, and no agreement with one is claimed."));
}

/* ---- Conditions and deviations ---- */

typedef struct
{
  double low, high;
  guint  n;
} Span;

static void
span_add (Span  *span,
          double value)
{
  if (!isfinite (value))
    return;
  span->low = span->n == 0 ? value : MIN (span->low, value);
  span->high = span->n == 0 ? value : MAX (span->high, value);
  span->n++;
}

static void
collect (GPtrArray  *texts,
         const char *text)
{
  if (text != NULL && !g_ptr_array_find_with_equal_func (texts, text, g_str_equal, NULL))
    g_ptr_array_add (texts, g_strdup (text));
}

static void
add_room (const WbReportTest *test)
{
  const WbReadings *readings = test->answer->data->readings;
  guint n = wb_readings_get_length (readings), draughts[3] = { 0 };
  g_autofree char *low = NULL;
  g_autofree char *high = NULL;
  Span room = { 0 };

  for (guint i = 0; i < n; i++)
    {
      double draught = wb_readings_get (readings, i, WB_COLUMN_DRAUGHT);

      span_add (&room, wb_readings_get (readings, i, WB_COLUMN_ROOM_C));
      if (isfinite (draught) && draught >= 0 && draught < 3)
        draughts[(int) draught]++;
    }
  low = wb_report_test_dup_value (test, WB_UNIT_CELSIUS, room.low, 1);
  high = wb_report_test_dup_value (test, WB_UNIT_CELSIUS, room.high, 1);
  if (room.n > 0)
    wb_report_test_point (test, _("Room: %s to %s, read %u times."), low, high, room.n);
  else
    wb_report_test_point (test, "%s", _("The room's temperature was not recorded."));
  if (draughts[0] + draughts[1] + draughts[2] > 0)
    wb_report_test_point (test, _("Draught: none at %u readings, slight at %u, strong at %u."), draughts[0], draughts[1], draughts[2]);
  else
    wb_report_test_point (test, "%s", _("Draught was not recorded."));
}

static void
add_instruments (const WbReportTest *test)
{
  const WbReadings *readings = test->answer->data->readings;
  g_autoptr (GPtrArray) raters = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GPtrArray) instruments = g_ptr_array_new_with_free_func (g_free);
  guint arch = 0, flames = 0;

  for (guint i = 0; i < wb_readings_get_length (readings); i++)
    {
      const char *instrument = wb_readings_get_text (readings, i, WB_READING_TEXT_INSTRUMENT);
      const char *place = wb_readings_get_text (readings, i, WB_READING_TEXT_INSTRUMENT_PLACE);

      collect (raters, wb_readings_get_text (readings, i, WB_READING_TEXT_RATER));
      if (instrument != NULL)
        {
          g_autofree char *with_place = place != NULL ? g_strdup_printf ("%s (%s)", instrument, place) : g_strdup (instrument);

          collect (instruments, with_place);
        }
      flames += wb_readings_taken (readings, i, WB_COLUMN_FLAME_MM);
      arch += wb_readings_get (readings, i, WB_COLUMN_FLAME_DATUM) == 1;
    }
  wb_report_test_point (test, ngettext ("%u person read and rated.", "%u persons read and rated.", raters->len), raters->len);
  if (instruments->len > 0)
    add_names (test, _("Temperatures read with"), instruments);
  else
    wb_report_test_point (test, "%s", _("What the temperatures were read with, and where, was not recorded."));
  if (flames > 0)
    wb_report_test_point (test, arch == 0 ? _("Flames were measured from the surface of the pool.")
                                : arch == flames ? _("Flames were measured from the bottom of the flame's arch.")
                                                 : _("Some flames were measured from the pool, others from the bottom of the arch."));
}

static void
add_lots (const WbReportTest *test)
{
  const WbDataset *data = test->answer->data;
  g_autoptr (GPtrArray) lots = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < data->samples->len; i++)
    {
      const WbSample *sample = wb_dataset_get_sample (data, i);

      collect (lots, sample->wax_lot);
      collect (lots, sample->wick_lot);
      collect (lots, sample->fragrance_lot);
    }
  if (lots->len > 0)
    add_names (test, _("Lots"), lots);
}

static void
add_deviations (const WbReportTest *test)
{
  const WbDataset *data = test->answer->data;
  const WbProtocol *protocol = data->protocol;
  guint untrimmed = 0, outside = 0, cut = 0, aside = 0;

  for (guint i = 0; i < test->answer->figures->n_burns; i++)
    {
      const WbCraftBurn *burn = &test->answer->figures->burns[i];

      untrimmed += isfinite (wb_dataset_get_burn (data, i)->trim_mm) && isfinite (protocol->trim_mm)
                   && fabs (wb_dataset_get_burn (data, i)->trim_mm - protocol->trim_mm) > 1;
      outside += burn->room_c < protocol->room_low_c || burn->room_c > protocol->room_high_c;
      cut += burn->cut_short;
    }
  if (untrimmed > 0)
    wb_report_test_point (test, ngettext ("%u burn was lit with a wick more than 1 mm off the trim.", "%u burns were lit with a wick more than 1 mm off the trim.", untrimmed), untrimmed);
  if (outside > 0)
    wb_report_test_point (test, ngettext ("%u burn was in a room outside the protocol's range.", "%u burns were in a room outside the protocol's range.", outside), outside);
  if (cut > 0)
    wb_report_test_point (test, ngettext ("%u burn ended well before the protocol's length.", "%u burns ended well before the protocol's length.", cut), cut);
  for (guint i = 0; i < data->samples->len; i++)
    {
      const WbSample *sample = wb_dataset_get_sample (data, i);

      if (sample->set_aside != NULL)
        {
          aside++;
          wb_report_test_point (test, _("Sample %s was set aside and does not count: %s"), sample->code, sample->set_aside);
        }
      if (sample->deviation != NULL)
        wb_report_test_point (test, _("Sample %s: %s"), sample->code, sample->deviation);
    }
  if (untrimmed + outside + cut + aside == 0)
    wb_report_test_point (test, "%s", _("No deviation from the protocol is on record."));
}

void
wb_report_test_add_conditions (const WbReportTest *test)
{
  wb_report_document_add_heading (test->document, 1, _("Conditions, deviations and missing values"));
  add_room (test);
  add_instruments (test);
  add_lots (test);
  add_deviations (test);
}

void
wb_report_test_add_cautions (const WbReportTest *test)
{
  wb_report_document_add_heading (test->document, 1, _("Cautions"));
  wb_report_document_add_warning (test->document, _("For whoever burns the candle: burn it within sight. Keep it away from things that can catch fire. "
                                                    "Keep it away from children and pets."));
  wb_report_document_add_warning (test->document, _("For the maker: never leave melting wax or a lit sample. Heat wax in a double boiler or under a thermostat, with a thermometer. "
                                                    "Never put water on burning wax: smother it, and keep a dry-chemical or CO2 extinguisher within reach. "
                                                    "Burn on a level surface that takes heat, ventilate, keep children and pets out, snuff rather than blow."));
  wb_report_test_say (test, "%s", _("This is a maker's own test and no certification. It judges what was recorded of these samples; it makes no candle safe. "
                                    "Suppliers' data sheets, local codes and an accredited laboratory take precedence."));
}
