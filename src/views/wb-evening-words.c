/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-evening-words.h"

#include "wb-doubt-words.h"

#include <glib/gi18n.h>
#include <math.h>

#define MOST_DOUBTS 10

static char *
dup_where (WbAppEvening *evening,
           guint         row,
           guint         column)
{
  g_autofree char *moment = wb_app_evening_dup_moment_label (evening, wb_app_evening_get_column (evening, column)->moment);
  g_autofree char *label = wb_app_evening_dup_column_label (evening, column);
  const char *who = row == WB_APP_EVENING_ALL ? _("All samples") : wb_app_bench_sample_get_code (wb_app_evening_get_sample (evening, row));

  /* Translators: sample, moment, field. */
  return g_strdup_printf (_("%s, %s, %s"), who, moment, label);
}

/* "0 none, 1 wisps, 2 steady" */
static char *
dup_scale (const WbColumnSpec *spec)
{
  GString *text = g_string_new (NULL);

  for (int i = (int) spec->minimum; spec->words[i].nick != NULL; i++)
    g_string_append_printf (text, "%s%d %s", text->len > 0 ? ", " : "", i, _(spec->words[i].label));
  return g_string_free (text, FALSE);
}

/* What may stand there; NULL: its head says it. */
static char *
dup_advice (WbAppEvening *evening,
            guint         row,
            guint         column)
{
  const WbAppEveningColumn *spec = wb_app_evening_get_column (evening, column);
  gboolean all = row == WB_APP_EVENING_ALL;

  if (spec->kind == WB_APP_EVENING_TIME && spec->moment == 0)
    return g_strdup (all ? _("a time of day such as 19:30, for all without one of their own") : _("a time of day; empty: that of all; - where it was not lit"));
  if (spec->kind == WB_APP_EVENING_TIME)
    return g_strdup (all ? _("a time of day such as 20:30, or minutes since lighting such as 60, for all without one of their own")
                         : _("its own time of day or minutes since lighting; empty: that of all"));
  if (spec->kind == WB_APP_EVENING_PLACE)
    return g_strdup (_("on the bench; of a throw burn the name of its room"));
  if (spec->kind == WB_APP_EVENING_BURN)
    return g_strdup (_("standard where nothing stands here; a throw burn opens the columns that are asked of one"));
  if (spec->kind == WB_APP_EVENING_RATER)
    return g_strdup (_("who smelt it; empty: who was at the bench"));
  if (spec->kind != WB_APP_EVENING_FIELD)
    return NULL;
  if (spec->column == WB_COLUMN_ALONE)
    return g_strdup (_("whether no other scented candle burnt; empty: as the sheet and the record say"));
  if (spec->column == WB_COLUMN_EVENT && row != WB_APP_EVENING_ALL
      && wb_app_bench_sample_get_n_wicks (wb_app_evening_get_sample (evening, row)) > 1)
    return g_strdup (_("of the vessel: drowned; of one of its wicks: -/drowned"));
  if (spec->column == WB_COLUMN_POOL_MM)
    return g_strdup (_("54, two diameters 54/56, or f for full"));
  return wb_column_get_spec (spec->column)->words != NULL ? dup_scale (wb_column_get_spec (spec->column)) : NULL;
}

/* A limit that was crossed that evening; NULL: none. What to do at once is over. */
static char *
dup_over (WbAppEvening *evening,
          guint         row,
          guint         column)
{
  g_autoptr (GPtrArray) hits = NULL;

  if (row == WB_APP_EVENING_ALL || wb_app_evening_get_column (evening, column)->kind != WB_APP_EVENING_FIELD)
    return NULL;
  hits = wb_app_evening_find_hits (evening, row, wb_app_evening_get_column (evening, column)->moment);
  for (guint i = 0; i < hits->len; i++)
    {
      const WbAppBenchHit *hit = g_ptr_array_index (hits, i);

      if (hit->level == WB_CRAFT_OVER)
        return g_strdup (hit->text);
    }
  return NULL;
}

/* Not forbidden: it has happened. */
static char *
dup_noted (const WbAppEveningCell *cell)
{
  return g_strdup_printf (_("%s This is noted with the burn."), cell->problem);
}

/* At its lighting, in whichever field: that it had crossed a limit before. NULL: it had not. */
static char *
dup_lit_after (WbAppEvening *evening,
               guint         row,
               guint         column)
{
  const WbAppEveningCell *lit;

  if (row == WB_APP_EVENING_ALL || wb_app_evening_get_column (evening, column)->moment != 0)
    return NULL;
  lit = wb_app_evening_get_cell (evening, row, wb_app_evening_get_moment (evening, 0)->first);
  return lit->state == WB_APP_EVENING_DOUBTED && lit->problem != NULL ? dup_noted (lit) : NULL;
}

/* Of a rating: that it is a note, and why. NULL: it is scored, or none. */
static char *
dup_note (WbAppEvening *evening,
          guint         row,
          guint         column)
{
  const WbAppEveningColumn *spec = wb_app_evening_get_column (evening, column);

  if (row == WB_APP_EVENING_ALL || spec->kind != WB_APP_EVENING_FIELD || (spec->column != WB_COLUMN_THROW && spec->column != WB_COLUMN_ALONE))
    return NULL;
  return wb_app_evening_dup_unscored (evening, row, spec->moment);
}

static char *
dup_locked (WbAppEvening           *evening,
            guint                   row,
            const WbAppEveningCell *cell)
{
  const char *code = row == WB_APP_EVENING_ALL ? _("the sample") : wb_app_bench_sample_get_code (wb_app_evening_get_sample (evening, row));

  /* Translators: a value; the code of a sample. */
  return g_strdup_printf (_("the record has %s, so it is locked here. To amend it, choose %s at the bench, press Ctrl+R and then Amend…"),
                          cell->stored, code);
}

static char *
dup_says (WbAppEvening *evening,
          guint         row,
          guint         column,
          gboolean      us_units)
{
  const WbAppEveningCell *cell = wb_app_evening_get_cell (evening, row, column);
  double minute = row == WB_APP_EVENING_ALL ? NAN : wb_app_evening_get_minute (evening, row, wb_app_evening_get_column (evening, column)->moment);
  g_autofree char *advice = NULL, *since = NULL;

  if (cell->state == WB_APP_EVENING_WRONG)
    return g_strdup (cell->problem);
  if (cell->state == WB_APP_EVENING_DOUBTED)
    return cell->problem != NULL ? dup_noted (cell) : wb_doubt_words_dup (&cell->doubt, us_units);
  if (cell->state == WB_APP_EVENING_STORED)
    return dup_locked (evening, row, cell);
  advice = dup_over (evening, row, column);
  if (advice == NULL)
    advice = dup_lit_after (evening, row, column);
  if (advice == NULL)
    advice = dup_note (evening, row, column);
  if (advice == NULL)
    advice = dup_advice (evening, row, column);
  if (isnan (minute) || minute == 0)
    return g_steal_pointer (&advice);
  since = wb_quantity_format_duration (minute * 60);
  return advice != NULL ? g_strdup_printf (_("%s; %s after lighting"), advice, since) : g_strdup_printf (_("%s after lighting"), since);
}

char *
wb_evening_words_dup_cell (WbAppEvening *evening,
                           guint         row,
                           guint         column,
                           gboolean      us_units)
{
  g_autofree char *where = dup_where (evening, row, column);
  g_autofree char *says = dup_says (evening, row, column, us_units);

  return says != NULL ? g_strdup_printf ("%s: %s", where, says) : g_steal_pointer (&where);
}

char *
wb_evening_words_dup_locked (WbAppEvening *evening,
                             guint         row,
                             guint         column)
{
  g_autofree char *words = wb_evening_words_dup_cell (evening, row, column, FALSE);

  /* Translators: why not: field, and what locks it. */
  return g_strdup_printf (_("Nothing was typed. %s"), words);
}

char *
wb_evening_words_dup_whole (WbAppEvening *evening)
{
  WbAppEveningCounts counts;

  wb_app_evening_count (evening, &counts);
  if (counts.wrong > 0 && wb_app_evening_is_typed (evening))
    return g_strdup_printf (ngettext ("%u field is to be mended before the evening can be saved.",
                                         "%u fields are to be mended before the evening can be saved.", counts.wrong), counts.wrong);
  return g_strdup (_("Enter goes as you read the paper: along a sample's line, to the next sample, to the next round. Where no time stands above, it asks "
                     "each sample's; Ctrl+E lets it pass over no cell. What was not taken stays empty."));
}

char *
wb_evening_words_dup_save (WbAppEvening *evening)
{
  g_autofree char *burns = NULL, *readings = NULL;
  WbAppEveningCounts counts;

  wb_app_evening_count (evening, &counts);
  burns = g_strdup_printf (ngettext ("%u burn", "%u burns", counts.burns), counts.burns);
  readings = g_strdup_printf (ngettext ("%u reading", "%u readings", counts.readings), counts.readings);
  if (counts.wrong > 0 && wb_app_evening_is_typed (evening))
    return g_strdup_printf (_("Go to what is to be mended (%u)"), counts.wrong);
  if (counts.burns + counts.readings == 0)
    return g_strdup (_("Save"));
  if (counts.burns == 0)
    return g_strdup_printf (_("Save %s"), readings);
  /* Translators: "12 burns", "60 readings". */
  return g_strdup_printf (_("Save %s and %s"), burns, readings);
}

char *
wb_evening_words_dup_doubts (WbAppEvening *evening,
                             gboolean      us_units)
{
  GString *text = g_string_new (NULL);
  guint n = 0;

  for (guint column = 0; column < wb_app_evening_get_n_columns (evening); column++)
    for (guint row = 0; row < wb_app_evening_get_n_rows (evening); row++)
      {
        g_autofree char *words = NULL;

        if (wb_app_evening_get_cell (evening, row, column)->state != WB_APP_EVENING_DOUBTED || n++ >= MOST_DOUBTS)
          continue;
        words = wb_evening_words_dup_cell (evening, row, column, us_units);
        g_string_append_printf (text, "%s%s", text->len > 0 ? "\n" : "", words);
      }
  if (n > MOST_DOUBTS)
    g_string_append_printf (text, ngettext ("\nand %u more.", "\nand %u more.", n - MOST_DOUBTS), n - MOST_DOUBTS);
  return g_string_free (text, FALSE);
}
