/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-commands-ladder-private.h"
#include "wb-commands-near-private.h"
#include "wb-commands-private.h"

#include "wb-app-answers.h"
#include "wb-app-chart.h"
#include "wb-app-query.h"
#include "wb-craft-fill.h"
#include "wb-exchange-json-fit.h"

#include <string.h>

/* Characters of a material's name. */
#define LONGEST_NAME 200

static gboolean as_json;
static char *vessel_name, *wax_name, *basis_key, *diameter_text, *load_text, *wicks_text, *sizes_text, *cold_text, *warm_text, *fill_text, *chart_path;

static const GOptionEntry options[] = {
  { "vessel", 0, 0, G_OPTION_ARG_STRING, &vessel_name, "The vessel, by name: its own burns count", "V" },
  { "inner-diameter", 0, 0, G_OPTION_ARG_STRING, &diameter_text, "Instead, of another vessel: inner diameter at the wax level, 20 to 400 mm", "MM" },
  { "wax", 0, 0, G_OPTION_ARG_STRING, &wax_name, "The wax, by name; a new name is a wax never tried", "W" },
  { "load", 0, 0, G_OPTION_ARG_STRING, &load_text, "Fragrance load, 0 to 30 per cent", "L" },
  { "basis", 0, 0, G_OPTION_ARG_STRING, &basis_key, "What the load is a share of: wax (the usual) or total", "B" },
  { "wicks", 0, 0, G_OPTION_ARG_STRING, &wicks_text, "Wicks in one vessel, 1 to 12; how many to buy is --sizes", "N" },
  { "sizes", 0, 0, G_OPTION_ARG_STRING, &sizes_text, "Sizes on the ladder, to buy and try, 1 to 9", "N" },
  { "room-cold", 0, 0, G_OPTION_ARG_STRING, &cold_text, "The coldest room it is to burn in, 0 to 45 °C; 20 unless told", "C" },
  { "room-warm", 0, 0, G_OPTION_ARG_STRING, &warm_text, "The warmest, 0 to 45 °C; 25 unless told", "C" },
  { "fill-g", 0, 0, G_OPTION_ARG_STRING, &fill_text, "Wax and oil in the vessel, 1 to 20000 g; of a known vessel its own", "G" },
  { "chart", 0, 0, G_OPTION_ARG_FILENAME, &chart_path, "Draw it too: .png, .svg or .pdf", "FILE" },
  { "json", 0, 0, G_OPTION_ARG_NONE, &as_json, "Print JSON", NULL },
  G_OPTION_ENTRY_NULL
};

static int
complain_usage (const char *text)
{
  wb_commands_complain ("ladder", "%s; see wickbench ladder --help", text);
  return WB_COMMANDS_USAGE;
}

/* "78mm", "7 %": a number with a unit behind it. */
static gboolean
has_unit (const char *text)
{
  char *end = NULL;

  g_ascii_strtod (text, &end);
  if (end == text)
    return FALSE;
  while (*end == ' ')
    end++;
  return g_ascii_isalpha (*end) || *end == '%' || (*end & 0x80) != 0;
}

/* Not a number in the option's range: whoever typed a comma is told which sign it takes, and whoever typed a unit to leave it out. */
static int
complain_number (const char *takes,
                 const char *text)
{
  g_autofree char *complaint = strchr (text, ',') != NULL ? g_strdup_printf ("%s; its decimal sign is a point, not a comma (“%s”)", takes, text)
                               : has_unit (text)        ? g_strdup_printf ("%s, without the unit (“%s”)", takes, text)
                                                        : g_strdup (takes);

  return complain_usage (complaint);
}

/* A number of the command line: point, no unit. */
static gboolean
read_number (const char *text,
             double      low,
             double      high,
             double     *value)
{
  return wb_number_parse_strict (text, '.', value, NULL) && *value >= low && *value <= high;
}

static char *
dup_names (GPtrArray *records)
{
  g_autoptr (GString) names = g_string_new (NULL);

  for (guint i = 0; i < records->len; i++)
    {
      g_autofree char *title = wb_material_dup_title (g_ptr_array_index (records, i));

      g_string_append_printf (names, "%s%s", i > 0 ? "; " : "", title);
    }
  return names->len > 0 ? g_strdup (names->str) : g_strdup ("none");
}

/* The vessel's own fill stands unless another was told. */
static void
take_fill (const WbAppMaterials  *materials,
           const WbVessel        *vessel,
           WbCraftLadderQuestion *question)
{
  for (guint i = 0; i < materials->waxes->len && !(question->fill_g > 0); i++)
    {
      const WbWax *wax = g_ptr_array_index (materials->waxes, i);

      if (g_strcmp0 (wax->name, wax_name) == 0)
        question->fill_g = wb_craft_fill_of (vessel, wax).g;
    }
}

static int
complain_two (const WbVessel *one,
              const WbVessel *other)
{
  g_autofree char *first = wb_number_shortest (one->inner_diameter_mm), *second = wb_number_shortest (other->inner_diameter_mm);

  wb_commands_complain (NULL, "two vessels are called “%s”, of %s mm and of %s mm: give --inner-diameter instead", vessel_name,
                        first, second);
  return WB_COMMANDS_USAGE;
}

/* By name, or by name and diameter as it is titled; WB_COMMANDS_USAGE where there is none, or are two. */
static int
find_vessel (const WbAppMaterials  *materials,
             WbCraftLadderQuestion *question)
{
  GPtrArray *vessels = materials->vessels;
  const WbVessel *found = NULL;

  for (guint i = 0; i < vessels->len; i++)
    {
      const WbVessel *vessel = g_ptr_array_index (vessels, i);
      g_autofree char *title = wb_material_dup_title (vessel);

      if (g_strcmp0 (vessel->name, vessel_name) != 0 && g_strcmp0 (title, vessel_name) != 0)
        continue;
      if (found != NULL)
        return complain_two (found, vessel);
      found = vessel;
    }
  if (found == NULL)
    {
      g_autofree char *known = dup_names (vessels);

      wb_commands_complain (NULL, "no vessel “%s”; known are: %s", vessel_name, known);
      return WB_COMMANDS_USAGE;
    }
  question->vessel = found->name;
  question->inner_diameter_mm = found->inner_diameter_mm;
  take_fill (materials, found, question);
  return WB_COMMANDS_DONE;
}

/* A name that is new is a wax never tried, unless it looks like one that is known. */
static int
find_wax (GPtrArray             *waxes,
          WbCraftLadderQuestion *question)
{
  const char *near = NULL;

  question->wax = wax_name;
  for (guint i = 0; i < waxes->len; i++)
    {
      const char *name = ((const WbWax *) g_ptr_array_index (waxes, i))->name;

      if (g_strcmp0 (name, wax_name) == 0)
        return WB_COMMANDS_DONE;
      if (near == NULL && name != NULL && wb_commands_is_misspelt (wax_name, name))
        near = name;
    }
  if (near != NULL)
    {
      g_autofree char *known = dup_names (waxes);

      wb_commands_complain (NULL, "no wax “%s”; did you mean “%s”? Known are: %s. A wax never tried needs a name unlike these", wax_name, near, known);
      return WB_COMMANDS_USAGE;
    }
  return WB_COMMANDS_DONE;
}

/* Rooms and fill: not told, what is usual. */
static int
read_place (WbCraftLadderQuestion *question)
{
  question->room_cold_c = WB_CRAFT_ROOM_COLD_C;
  question->room_warm_c = WB_CRAFT_ROOM_WARM_C;
  if (cold_text != NULL && !read_number (cold_text, 0, 45, &question->room_cold_c))
    return complain_number ("--room-cold takes 0 to 45 °C", cold_text);
  if (warm_text != NULL && !read_number (warm_text, 0, 45, &question->room_warm_c))
    return complain_number ("--room-warm takes 0 to 45 °C", warm_text);
  if (question->room_cold_c > question->room_warm_c)
    return complain_usage ("--room-cold must not be above --room-warm, which is 25 unless told, as --room-cold is 20");
  if (fill_text != NULL && !read_number (fill_text, 1, 20000, &question->fill_g))
    return complain_number ("--fill-g takes 1 to 20000 g", fill_text);
  return WB_COMMANDS_DONE;
}

/* What can be judged without the notebook. */
static int
read_options (WbCraftLadderQuestion *question)
{
  gint64 wicks = 1, sizes = 3;
  int basis = basis_key != NULL ? wb_words_find (wb_basis_words, basis_key) : WB_BASIS_WAX;

  if (vessel_name == NULL && diameter_text == NULL)
    return complain_usage ("--vessel V, or --inner-diameter MM instead, is missing");
  if (vessel_name != NULL && diameter_text != NULL)
    return complain_usage ("give --vessel or --inner-diameter, not both");
  if (diameter_text != NULL && !read_number (diameter_text, 20, 400, &question->inner_diameter_mm))
    return complain_number ("--inner-diameter takes 20 to 400 mm", diameter_text);
  if (wax_name == NULL)
    return complain_usage ("--wax W is missing");
  if (!g_utf8_validate (wax_name, -1, NULL) || *g_strstrip (wax_name) == '\0' || g_utf8_strlen (wax_name, -1) > LONGEST_NAME)
    return complain_usage ("--wax takes a name of 1 to 200 characters");
  if (load_text == NULL)
    return complain_usage ("--load L is missing");
  if (!read_number (load_text, 0, 30, &question->load_pct))
    return complain_number ("--load takes 0 to 30 per cent", load_text);
  if (basis < 0)
    return complain_usage ("--basis is wax or total");
  if (!wb_commands_read_whole (wicks_text, 1, 12, &wicks))
    return complain_usage ("--wicks takes 1 to 12");
  if (!wb_commands_read_whole (sizes_text, 1, 9, &sizes))
    return complain_usage ("--sizes takes 1 to 9");
  question->another_vessel = vessel_name == NULL;
  question->load_basis = basis;
  question->wicks = (guint) wicks;
  question->sizes = (guint) sizes;
  return read_place (question);
}

static int
run (char **arguments)
{
  WbCraftLadderQuestion question = { 0 };
  int status = read_options (&question);
  g_autoptr (WbAppNotebook) notebook = NULL;
  g_autoptr (WbAppMaterials) materials = NULL;
  g_autoptr (WbCraftLadder) ladder = NULL;
  GError *error = NULL;

  if (status == WB_COMMANDS_DONE && chart_path != NULL && !wb_app_chart_check_path (chart_path, &error))
    return wb_commands_fail (chart_path, error);
  if (status != WB_COMMANDS_DONE || (notebook = wb_commands_open (arguments[0], &status)) == NULL)
    return status;
  materials = wb_app_query_materials_sync (notebook, &error);
  if (materials == NULL)
    return wb_commands_fail (arguments[0], error);
  if (vessel_name != NULL && (status = find_vessel (materials, &question)) != WB_COMMANDS_DONE)
    return status;
  if ((status = find_wax (materials->waxes, &question)) != WB_COMMANDS_DONE)
    return status;
  ladder = wb_app_answers_ladder_sync (notebook, &question, NULL, &error);
  if (ladder == NULL)
    return wb_commands_fail (arguments[0], error);
  if (chart_path != NULL && !wb_app_chart_write_ladder_sync (notebook, ladder, chart_path, &error))
    return wb_commands_fail (g_error_matches (error, WB_APP_ERROR, WB_APP_ERROR_REFUSED) ? NULL : chart_path, error);
  if (as_json)
    {
      g_autofree char *text = wb_exchange_json_ladder (wb_app_notebook_get_settings (notebook), ladder);

      wb_commands_write (text);
    }
  else
    wb_commands_print_ladder (notebook, ladder);
  return WB_COMMANDS_DONE;
}

const WbCommandsVerb wb_commands_ladder = {
  .name = "ladder",
  .arguments = "NOTEBOOK (--vessel V | --inner-diameter MM) --wax W --load L",
  .summary = "Which wick sizes to try in a vessel",
  .description = "Rests on all experiments of the notebook; without those on the supplier's diameters as\n"
                 "typed in; without those there is no basis, and it says so. A star marks the ladder.\n"
                 "A diameter is another vessel's, however near one of your own is; a wax of a new name is\n"
                 "one never tried. What was taken for granted stands below the answer.\n"
                 "Foretold, not tested: it says nothing of safety.",
  .options = options,
  .n_arguments = 1,
  .run = run,
};
