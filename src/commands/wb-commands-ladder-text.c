/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A ladder for a terminal of 100 columns: sentences, the figures of all wicks, and why those with a star. */
#include "config.h"

#include "wb-commands-ladder-private.h"

#include "wb-commands-output-private.h"
#include "wb-commands-table-private.h"
#include "wb-craft-ladder-told.h"

#include <math.h>

/* Characters of a line of words: the tables are about as wide. */
#define LINE 96

/* Words, broken at spaces: the first line as it stands, the others behind `indent` spaces. Takes the text; NULL: nothing. */
static void
print_wrapped (char       *text,
               guint       indent)
{
  g_auto (GStrv) words = text != NULL ? g_strsplit (text, " ", -1) : NULL;
  g_autoptr (GString) line = g_string_new (NULL);

  for (guint i = 0; words != NULL && words[i] != NULL; i++)
    {
      if (line->len > indent && g_utf8_strlen (line->str, -1) + 1 + g_utf8_strlen (words[i], -1) > LINE)
        {
          wb_commands_print ("%s\n", line->str);
          g_string_printf (line, "%*s", (int) indent, "");
        }
      else if (i > 0)
        g_string_append_c (line, ' ');
      g_string_append (line, words[i]);
    }
  if (line->len > 0)
    wb_commands_print ("%s\n", line->str);
  g_free (text);
}

/* heading may be NULL. */
static void
print_list (const char      *heading,
            const char      *bullet,
            const GPtrArray *sentences)
{
  if (sentences->len > 0 && heading != NULL)
    wb_commands_write (heading);
  for (guint i = 0; i < sentences->len; i++)
    print_wrapped (g_strdup_printf ("%s%s", bullet, (const char *) g_ptr_array_index (sentences, i)), 2);
}

static void
take_interval (WbCommandsTable *table,
               WbCraftInterval  interval,
               int              decimals)
{
  wb_commands_table_take (table, wb_commands_dup_interval (interval.value, interval.low, interval.high, decimals));
}

static WbCommandsTable *
begin_table (const char *const *titles,
             guint              n)
{
  WbCommandsTable *table = wb_commands_table_new ();

  wb_commands_table_add_column (table, "", WB_COMMANDS_LEFT);
  wb_commands_table_add_column (table, "Wick", WB_COMMANDS_LEFT);
  for (guint i = 0; i < n; i++)
    wb_commands_table_add_column (table, titles[i], WB_COMMANDS_LEFT);
  return table;
}

static void
begin_row (WbCommandsTable         *table,
           const WbCraftLadderStep *step)
{
  wb_commands_table_add (table, step->in_ladder ? "*" : "");
  wb_commands_table_take (table, wb_craft_ladder_step_dup_name (step));
}

static void
take_which (WbCommandsTable         *table,
            const WbCraftLadderStep *step)
{
  const char *which[4] = { NULL };
  guint n = 0;

  if (step->in_run)
    which[n++] = "neighbour";
  if (step->tested)
    which[n++] = "burnt";
  if (step->extrapolated)
    which[n++] = "beyond what was tried";
  wb_commands_table_take (table, g_strjoinv (", ", (char **) which));
}

static void
print_chances (const WbCraftLadder *ladder)
{
  static const char *const titles[] = { "Best", "Right", "Near", "Crosses", "Score", "Burns h", "Which" };
  g_autoptr (WbCommandsTable) table = begin_table (titles, G_N_ELEMENTS (titles));

  for (guint i = 0; i < ladder->steps->len; i++)
    {
      const WbCraftLadderStep *step = g_ptr_array_index (ladder->steps, i);

      begin_row (table, step);
      wb_commands_table_take (table, wb_commands_dup_chance (step->p_best));
      wb_commands_table_take (table, wb_commands_dup_chance (step->p_right));
      wb_commands_table_take (table, wb_commands_dup_chance (step->p_near));
      wb_commands_table_take (table, wb_commands_dup_chance (step->p_cross));
      take_interval (table, step->score, 2);
      take_interval (table, step->burn_h, 0);
      take_which (table, step);
    }
  wb_commands_write ("\nChances\n");
  wb_commands_table_print (table);
  print_wrapped (g_strdup ("Near: within 0.05 of the best score. Crosses: over a limit of heat, flame or outside wall. Neighbour: of the best run of "
                           "neighbours of one series."), 0);
}

/* Before the places of the fill were told apart there was one figure of each for the whole. */
static WbCraftForetoldAt
get_at (const WbCraftLadderStep *step,
        WbCraftFillPlace         place)
{
  WbCraftForetoldAt at = step->at[place];

  if (place == WB_CRAFT_FILL_TOP && !isfinite (at.pool_limit_mm.value) && !isfinite (at.full_pool_h.value) && !isfinite (at.flame_mm.value))
    {
      at.pool_limit_mm = step->pool_limit_mm;
      at.full_pool_h = step->full_pool_h;
      at.flame_mm = step->flame_mm;
    }
  return at;
}

static void
print_place (const WbCraftLadder *ladder,
             WbCraftFillPlace     place)
{
  static const char *const titles[] = { "Pool grows to mm", "Full pool h", "Flame mm", "Vessel °C", "g/h" };
  g_autoptr (WbCommandsTable) table = begin_table (titles, G_N_ELEMENTS (titles));
  gboolean any = FALSE;

  for (guint i = 0; i < ladder->steps->len; i++)
    {
      const WbCraftLadderStep *step = g_ptr_array_index (ladder->steps, i);
      WbCraftForetoldAt at = get_at (step, place);

      any = any || isfinite (at.pool_limit_mm.value) || isfinite (at.flame_mm.value) || isfinite (at.vessel_c.value);
      begin_row (table, step);
      take_interval (table, at.pool_limit_mm, 0);
      take_interval (table, at.full_pool_h, 1);
      take_interval (table, at.flame_mm, 0);
      take_interval (table, at.vessel_c, 0);
      take_interval (table, at.consumption_g_h, 1);
    }
  if (!any)
    return;
  wb_commands_print ("\n%s\n", place == WB_CRAFT_FILL_TOP ? "At the top of the fill, with 90 % intervals; the pool as if the vessel were wide enough"
                                                          : "At the bottom of the fill, with 90 % intervals; the pool as if the vessel were wide enough");
  wb_commands_table_print (table);
}

static void
print_why (const WbCraftLadderStep *step)
{
  g_autofree char *name = wb_craft_ladder_step_dup_name (step);

  print_wrapped (g_strdup_printf ("* %s: %s", name, step->reason), 2);
  for (guint i = 0; i < step->nearest->len; i++)
    {
      const WbCraftNearest *nearest = g_ptr_array_index (step->nearest, i);

      print_wrapped (g_strdup_printf ("  %s %s%s%s: %s", nearest->experiment, nearest->what, *nearest->differs != '\0' ? ", " : "", nearest->differs,
                                      nearest->result), 4);
    }
}

void
wb_commands_print_ladder (WbAppNotebook       *notebook,
                          const WbCraftLadder *ladder)
{
  gboolean first = TRUE;

  wb_commands_print_mark (notebook);
  print_wrapped (g_strdup (ladder->answer), 0);
  print_list (NULL, "! ", ladder->warnings);
  print_wrapped (wb_craft_ladder_dup_sureness (ladder), 0);
  print_wrapped (g_strdup (ladder->learnt), 0);
  print_wrapped (wb_craft_ladder_dup_advice (ladder), 0);
  if (ladder->rests_on == WB_CRAFT_RESTS_ON_HISTORY)
    {
      print_chances (ladder);
      print_place (ladder, WB_CRAFT_FILL_TOP);
      print_place (ladder, WB_CRAFT_FILL_BOTTOM);
    }
  for (guint i = 0; i < ladder->steps->len; i++)
    {
      const WbCraftLadderStep *step = g_ptr_array_index (ladder->steps, i);

      if (!step->in_ladder)
        continue;
      if (first)
        wb_commands_write ("\nFor and against each\n");
      first = FALSE;
      print_why (step);
    }
  print_list ("\nTo know\n", "- ", ladder->notes);
  wb_commands_write ("\n");
  print_wrapped (wb_craft_ladder_dup_caution (ladder), 0);
}
