/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-test-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-house.h"

/* How it was tested: the grid and the protocol. */

#define HOUR_S 3600.0

/* ---- The timing that is named ---- */

/*
 * ASTM F1972 (read): a burn cycle of 4 h. ASTM F2417 (as told by a test
 * laboratory): a record each hour, at least 3 h or to room temperature between
 * burns, wicks trimmed to 6 mm. EN 15426: at least 60 min between burns (as
 * told), (20 ± 5) °C (read); ASTM F2417: 20 to 30 °C (as told).
 */
GPtrArray *
wb_report_test_departures (const WbReportTest *test)
{
  const WbProtocol *protocol = test->data->protocol;
  GPtrArray *list = wb_report_list_new ();
  double slowest = fmax (protocol->interval_upper_s, fmax (protocol->interval_middle_s, protocol->interval_lower_s));

  if (!(fabs (protocol->burn_s - 4 * HOUR_S) < 60))
    wb_report_list_add (list, _("burns are not of 4 h"));
  if (!(slowest <= HOUR_S))
    wb_report_list_add (list, _("readings are more than an hour apart"));
  if (!(protocol->cool_s >= 3 * HOUR_S))
    wb_report_list_add (list, _("samples cool for less than 3 h"));
  if (!(fabs (protocol->trim_mm - 6) <= 1))
    wb_report_list_add (list, _("wicks are not trimmed to 6 mm"));
  if (!(protocol->room_low_c >= 15 && protocol->room_high_c <= 30))
    wb_report_list_add (list, _("the room may be outside 15 to 30 °C"));
  return list;
}

/* ---- The grid ---- */

static int
compare_wicks (gconstpointer a,
               gconstpointer b)
{
  const WbWick *first = *(const WbWick *const *) a, *second = *(const WbWick *const *) b;
  int order = g_strcmp0 (first->series, second->series);

  if (order == 0)
    order = (first->step > second->step) - (first->step < second->step);
  return order != 0 ? order : g_strcmp0 (first->size, second->size);
}

/* By series, smallest first, in whatever order the grid has them. */
static char *
join_wicks (const GPtrArray *wicks)
{
  g_autoptr (GPtrArray) titles = wb_report_list_new ();
  g_autoptr (GPtrArray) sorted = g_ptr_array_new ();

  for (guint i = 0; i < wicks->len; i++)
    g_ptr_array_add (sorted, g_ptr_array_index (wicks, i));
  g_ptr_array_sort (sorted, compare_wicks);
  for (guint i = 0; i < sorted->len; i++)
    {
      g_autofree char *title = wb_material_dup_title (g_ptr_array_index (sorted, i));

      wb_report_list_add_name (titles, title);
    }
  return wb_report_list_join (titles, G_MAXUINT);
}

/* Vessels with their inner diameter in the reader's unit. */
static char *
join_vessels (const WbReportTest *test)
{
  g_autoptr (GPtrArray) titles = wb_report_list_new ();

  for (guint i = 0; i < test->data->vessels->len; i++)
    {
      const WbVessel *vessel = g_ptr_array_index (test->data->vessels, i);
      g_autofree char *name = wb_report_dup_name (vessel->name);
      g_autofree char *inner = wb_report_dup_set (test->us, WB_UNIT_MM, vessel->inner_diameter_mm);
      g_autofree char *height = wb_report_dup_set (test->us, WB_UNIT_MM, vessel->wax_height_mm);
      /* Translators: name of a vessel, its inner diameter, the height of the wax in it. */
      g_autofree char *title = isnan (vessel->wax_height_mm) ? g_strdup_printf (_("%s, inner diameter %s"), name, inner)
                                                             : g_strdup_printf (_("%s, inner diameter %s, wax %s high"), name, inner, height);

      wb_report_list_add (titles, title);
    }
  return g_strjoinv ("; ", (char **) (g_ptr_array_add (titles, NULL), titles->pdata));
}

static char *
join_scents (const WbReportTest *test)
{
  g_autoptr (GPtrArray) titles = wb_report_list_new ();

  for (guint i = 0; i < test->data->cells->len; i++)
    {
      g_autofree char *title = wb_dataset_dup_scent_name (test->data, i);

      wb_report_list_add_name (titles, title);
    }
  return wb_report_list_join (titles, G_MAXUINT);
}

static char *
dup_with_share (const char *name,
                double      pct)
{
  g_autofree char *share = wb_number_format_trimmed (isnan (pct) ? 0 : pct, 2, NULL);
  g_autofree char *clipped = wb_report_dup_name (name);

  /* Translators: a dye or additive and how much of it. */
  return isnan (pct) ? g_steal_pointer (&clipped) : g_strdup_printf (_("%s, %s %% of the wax"), clipped, share);
}

static void
add_grid (const WbReportTest *test)
{
  const WbDataset *data = test->data;
  WbReportTable *facts = wb_report_test_facts_new ();
  g_autofree char *vessels = join_vessels (test);
  g_autofree char *wax = data->wax != NULL ? wb_report_dup_name (data->wax->name) : NULL;
  g_autofree char *wicks = join_wicks (data->wicks);
  g_autofree char *scents = join_scents (test);
  g_autofree char *dye = data->dye != NULL ? dup_with_share (data->dye->name, data->experiment->dye_pct) : NULL;
  g_autofree char *additive = data->additive != NULL ? dup_with_share (data->additive->name, data->experiment->additive_pct) : NULL;
  g_autofree char *samples = data->cells->len == 0 ? NULL
                               : g_strdup_printf (_("%u combinations of vessel, wick and scent; %u samples in all, each a candle of its own"),
                                                  wb_report_test_count_cells (test), data->samples->len);

  wb_report_test_facts_add (facts, _("Vessels"), vessels);
  wb_report_test_facts_add (facts, _("Wax"), wax);
  wb_report_test_facts_add (facts, _("Wicks"), wicks);
  wb_report_test_facts_add (facts, _("Scents"), scents);
  wb_report_test_facts_add (facts, _("Dye"), dye);
  wb_report_test_facts_add (facts, _("Additive"), additive);
  wb_report_test_facts_add (facts, _("Grid"), samples);
  wb_report_document_add_table (test->document, facts);
}

/* ---- The protocol ---- */

static char *
dup_end (const WbReportTest *test)
{
  const WbProtocol *protocol = test->data->protocol;
  g_autofree char *residue = NULL;

  switch ((WbEndRule) protocol->end_rule)
    {
    case WB_END_RESIDUE:
      residue = wb_report_dup_set (test->us, WB_UNIT_MM, protocol->end_residue_mm);
      return g_strdup_printf (_("When %s of wax is left (EN 15426: 10 mm, as told by a test laboratory)"), residue);
    case WB_END_BURNS:
      return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "After %d burn: a partial test", "After %d burns: a partial test",
                                           (gulong) MAX (protocol->end_burns, 0)), (int) protocol->end_burns);
    case WB_END_SELF:
    default:
      return g_strdup (_("When it goes out by itself: the end of its useful life"));
    }
}

static char *
dup_readings (const WbProtocol *protocol)
{
  g_autofree char *usual = wb_quantity_format_duration (protocol->interval_upper_s);
  g_autofree char *lower = wb_quantity_format_duration (protocol->interval_lower_s);
  g_autofree char *last = wb_quantity_format_duration (protocol->last_inch_interval_s);

  if (protocol->interval_lower_s == protocol->interval_upper_s)
    /* Translators: times between readings. */
    return g_strdup_printf (_("Every %s; in the last inch of wax every %s, with somebody in the room"), usual, last);
  /* Translators: times between readings. */
  return g_strdup_printf (_("Every %s; in the lower third every %s; in the last inch of wax every %s, with somebody in the room"), usual, lower, last);
}

/* When a full melt pool is due, for each diameter of the grid. */
static char *
dup_window (const WbReportTest *test)
{
  const WbProtocol *protocol = test->data->protocol;
  g_autoptr (GPtrArray) windows = wb_report_list_new ();

  for (guint i = 0; i < test->data->cells->len; i++)
    {
      g_autofree char *vessel = wb_report_dup_name (wb_dataset_get_vessel (test->data, i)->name);
      double due = wb_craft_cell_get_due_h (test->data, i, WB_STAGE_UPPER);
      g_autofree char *low = wb_report_dup_value (test->us, WB_UNIT_HOUR, due * protocol->window_low, 1);
      g_autofree char *high = wb_report_dup_value (test->us, WB_UNIT_HOUR, due * protocol->window_high, 1);
      /* Translators: a vessel, then the earliest and the latest time. */
      g_autofree char *text = g_strdup_printf (_("%s: %s to %s"), vessel, low, high);

      wb_report_list_add (windows, text);
    }
  g_ptr_array_add (windows, NULL);

  g_autofree char *joined = g_strjoinv ("; ", (char **) windows->pdata);

  return *joined == '\0' ? NULL
                         : g_strdup_printf (_("About one hour per inch of inner diameter (common practice, no source). %s"), joined);
}

static void
add_protocol (const WbReportTest *test)
{
  const WbProtocol *protocol = test->data->protocol;
  WbReportTable *facts = wb_report_test_facts_new ();
  g_autofree char *name = wb_report_dup_name (wb_house_translate (protocol->name));
  g_autofree char *burn = wb_quantity_format_duration (protocol->burn_s);
  g_autofree char *readings = dup_readings (protocol);
  g_autofree char *cool = wb_quantity_format_duration (protocol->cool_s);
  g_autofree char *cooling = g_strdup_printf (_("At least %s between two burns"), cool);
  g_autofree char *trim = wb_report_dup_set (test->us, WB_UNIT_MM, protocol->trim_mm);
  g_autofree char *trimming = g_strdup_printf (_("To %s before each burn"), trim);
  g_autofree char *low = wb_report_dup_value (test->us, WB_UNIT_CELSIUS, protocol->room_low_c, 0);
  g_autofree char *high = wb_report_dup_value (test->us, WB_UNIT_CELSIUS, protocol->room_high_c, 0);
  g_autofree char *room = g_strdup_printf (_("%s to %s, without draught"), low, high);
  g_autofree char *end = dup_end (test);
  g_autofree char *window = dup_window (test);

  wb_report_test_facts_add (facts, _("Protocol"), name);
  wb_report_test_facts_add (facts, _("A burn"), burn);
  wb_report_test_facts_add (facts, _("Readings"), readings);
  wb_report_test_facts_add (facts, _("Cooling"), cooling);
  wb_report_test_facts_add (facts, _("Trim"), trimming);
  wb_report_test_facts_add (facts, _("Room"), room);
  wb_report_test_facts_add (facts, _("End of a sample"), end);
  wb_report_test_facts_add (facts, _("Full melt pool due"), window);
  wb_report_document_add_table (test->document, facts);
}

void
wb_report_test_add_method (const WbReportTest *test)
{
  g_autoptr (GPtrArray) departures = wb_report_test_departures (test);
  g_autofree char *names = wb_report_list_join (departures, G_MAXUINT);

  wb_report_document_add_heading (test->document, 1, wb_report_test_is_burnt (test) ? _("How it was tested") : _("How it is to be tested"));
  wb_report_document_add_heading (test->document, 2, wb_report_test_is_burnt (test) ? _("What was burnt") : _("What is to be burnt"));
  add_grid (test);
  wb_report_document_add_heading (test->document, 2, _("By which protocol"));
  add_protocol (test);
  if (departures->len == 0)
    wb_report_test_say (test, "%s", _("This is an in-house test that follows the timing of ASTM F2417 and EN 15426 as test laboratories tell it. "
                                      "No full text of these standards was at hand, and no agreement with one is claimed."));
  else
    wb_report_test_say (test, _("This is an in-house test. It departs from the timing of ASTM F2417 and EN 15426 as test laboratories tell it: %s. "
                                "No agreement with a standard is claimed."), names);
}
