/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-test-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-craft-growth-words.h"
#include "wb-craft-same-ratings.h"
#include "wb-plot-marks.h"

/* The appendix: the figures of every combination, how the score is made, and the method in plain words. */

/* Value above, interval below: columns are narrow. */
#define BELOW "\n"
#define Z_90 1.645 /* standard deviations on either side that hold 90 % of a normal */

static void
add_growth_row (const WbReportTest *test,
                WbReportTable      *table,
                guint               index,
                const char         *name)
{
  const WbCraftCell *cell = &test->answer->estimates->cells[index];
  const WbCraftGrowth *growth = &cell->growth;
  g_autofree char *n = g_strdup_printf ("%u / %u", cell->samples, cell->burns);
  g_autofree char *readings = g_strdup_printf ("%u / %u", growth->readings, growth->censored);
  g_autofree char *limit = wb_report_dup_interval (test->us, WB_UNIT_MM, growth->pool_limit_mm, -1, BELOW);
  g_autofree char *tau = wb_report_dup_interval (test->us, WB_UNIT_HOUR, growth->tau_h, 2, BELOW);
  g_autofree char *full = wb_report_dup_interval (test->us, WB_UNIT_HOUR, growth->full_pool_h, 1, BELOW);
  g_autofree char *in_time = wb_report_dup_chance (growth->p_in_window);
  g_autofree char *never = wb_report_dup_chance (growth->p_never);
  const char *cells[] = { name, n, readings, limit, tau, growth->p_never > 0.5 ? _("never") : full, in_time, never };

  wb_report_table_add_row (table, cells, FALSE);
}

static void
add_growth (const WbReportTest *test)
{
  const char *heads[] = { _("Combination"), _("Samples / burns"), _("Readings / at the wall"), _("Widest pool D∞"), _("Time constant τ"),
                          _("Full melt pool after"), _("In time"), _("Never") };
  static const WbReportAlign aligns[] = { WB_REPORT_LEFT, WB_REPORT_RIGHT, WB_REPORT_RIGHT, WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_LEFT,
                                          WB_REPORT_RIGHT, WB_REPORT_RIGHT };
  static const double shares[] = { 1.25, 1, 1.2, 1.35, 1.4, 1.4, 1.1, 0.75 };
  WbReportTable *table = wb_report_table_new (G_N_ELEMENTS (heads), heads, aligns, shares);

  wb_report_test_add_rows (test, table, add_growth_row);
  wb_report_document_add_table (test->document, table);
}

/* Fits that are not plain ones, in words. */
static void
add_fit_states (const WbReportTest *test)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GPtrArray) growths = g_ptr_array_new ();
  g_autoptr (GPtrArray) notes = NULL;
  g_autofree char *learnt = wb_craft_earlier_dup_text (test->answer->estimates->earlier);

  for (guint i = 0; i < test->answer->estimates->n_cells; i++)
    {
      const WbCraftCell *cell = &test->answer->estimates->cells[i];

      g_ptr_array_add (names, wb_report_test_dup_cell (test, NULL, cell->cell));
      g_ptr_array_add (growths, (WbCraftGrowth *) &cell->growth);
    }
  notes = wb_craft_growth_dup_notes (names->len, (const char *const *) names->pdata, (const WbCraftGrowth *const *) growths->pdata);
  for (guint i = 0; i < notes->len; i++)
    wb_report_test_point (test, "%s", (const char *) g_ptr_array_index (notes, i));
  if (learnt != NULL)
    wb_report_test_point (test, "%s", learnt);
}

static const struct { WbFigure figure; int decimals; } told[] = {
  { WB_FIGURE_DEPTH, -1 },
  { WB_FIGURE_FLAME, -1 },
  { WB_FIGURE_VESSEL, 0 },
  { WB_FIGURE_CONSUMPTION, -1 },
  { WB_FIGURE_HANG_UP, -1 },
};

static void
add_end_row (const WbReportTest *test,
             WbReportTable      *table,
             guint               index,
             const char         *name)
{
  const WbCraftCell *cell = &test->answer->estimates->cells[index];
  g_autofree char *soot = wb_report_dup_value (test->us, WB_UNIT_NONE, cell->figure[WB_FIGURE_SOOT].told.value, 1);
  g_autofree char *mushroom = wb_report_dup_value (test->us, WB_UNIT_NONE, cell->figure[WB_FIGURE_MUSHROOM].told.value, 1);
  g_autofree char *ratings = g_strdup_printf ("%s / %s", soot, mushroom);
  g_autoptr (GPtrArray) texts = g_ptr_array_new_with_free_func (g_free);
  const char *cells[G_N_ELEMENTS (told) + 2] = { name };

  for (guint i = 0; i < G_N_ELEMENTS (told); i++)
    {
      char *text = wb_report_dup_interval (test->us, wb_figure_get_unit (told[i].figure), cell->figure[told[i].figure].told, told[i].decimals, BELOW);

      g_ptr_array_add (texts, text);
      cells[i + 1] = text;
    }
  cells[G_N_ELEMENTS (told) + 1] = ratings;
  wb_report_table_add_row (table, cells, FALSE);
}

static void
add_ends (const WbReportTest *test)
{
  const char *heads[G_N_ELEMENTS (told) + 2] = { _("Combination") };
  static const WbReportAlign aligns[] = { WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_RIGHT };
  static const double shares[] = { 0.95, 1.2, 1, 1.2, 0.9, 0.85, 0.9 };
  WbReportTable *table;

  for (guint i = 0; i < G_N_ELEMENTS (told); i++)
    heads[i + 1] = g_dgettext (GETTEXT_PACKAGE, wb_figure_get_label (told[i].figure));
  heads[G_N_ELEMENTS (told) + 1] = _("Soot / mushroom");
  table = wb_report_table_new (G_N_ELEMENTS (heads), heads, aligns, shares);
  wb_report_test_add_rows (test, table, add_end_row);
  wb_report_document_add_table (test->document, table);
}

/* Smoke, soot and mushroom: the worst of the life, and how often any was seen. */
static void
add_marks_row (const WbReportTest *test,
               WbReportTable      *table,
               guint               index,
               const char         *name)
{
  g_autoptr (GPtrArray) texts = g_ptr_array_new_with_free_func (g_free);
  const char *cells[WB_PLOT_MARKS_N_FIGURES + 1] = { name };

  for (guint i = 0; i < WB_PLOT_MARKS_N_FIGURES; i++)
    {
      char *text = wb_plot_marks_dup_course (test->answer, index, wb_plot_marks_figures[i]);

      g_ptr_array_add (texts, text);
      cells[i + 1] = text != NULL ? text : WB_REPORT_NONE;
    }
  wb_report_table_add_row (table, cells, FALSE);
}

static void
add_marks (const WbReportTest *test)
{
  const char *heads[WB_PLOT_MARKS_N_FIGURES + 1] = { _("Combination") };
  static const WbReportAlign aligns[] = { WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_LEFT };
  static const double shares[] = { 1.1, 1.5, 1.5, 1.5 };
  WbReportTable *table;

  for (guint i = 0; i < WB_PLOT_MARKS_N_FIGURES; i++)
    heads[i + 1] = g_dgettext (GETTEXT_PACKAGE, wb_figure_get_label (wb_plot_marks_figures[i]));
  table = wb_report_table_new (G_N_ELEMENTS (heads), heads, aligns, shares);
  wb_report_test_add_rows (test, table, add_marks_row);
  wb_report_document_add_table (test->document, table);
}

/* Ratings that were all the same: a bound instead of an estimate. */
static void
add_same_ratings (const WbReportTest *test)
{
  g_autoptr (GArray) all = wb_craft_same_ratings_new (test->answer->estimates, WB_STAGE_ALL);

  for (guint i = 0; i < all->len; i++)
    {
      g_autofree char *text = wb_craft_same_ratings_dup_text (&g_array_index (all, WbCraftSameRatings, i));

      wb_report_test_point (test, "%s", text);
    }
}

/* ---- The score's aims ---- */

static void
append_bound (const WbReportTest *test,
              WbUnit              unit,
              double              bound,
              const char         *before,
              GString            *text)
{
  g_autofree char *value = NULL;

  if (isnan (bound))
    return;
  value = wb_report_dup_set (test->us, unit, bound);
  g_string_append_printf (text, "%s%s %s", text->len > 0 ? ", " : "", before, value);
}

/* One aim's band in its unit: "0 up to 5 mm, 1 from 13 mm, 1 up to 25 mm, 0 from 45 mm". */
static char *
dup_band (const WbReportTest *test,
          const WbAim        *aim)
{
  WbUnit unit = aim->figure == WB_FIGURE_FULL_POOL ? WB_UNIT_NONE : wb_figure_get_unit ((WbFigure) aim->figure);
  g_autoptr (GString) text = g_string_new (NULL);

  /* Translators: bounds of a desirability from 0 to 1; a value follows each. */
  append_bound (test, unit, aim->zero_below, _("0 up to"), text);
  if (aim->one_from == aim->one_to || (isnan (aim->one_from) && isnan (aim->zero_below) && aim->one_to == 0))
    append_bound (test, unit, aim->one_to, _("1 at"), text); /* one value, or the lowest that there is */
  else
    {
      append_bound (test, unit, aim->one_from, _("1 from"), text);
      append_bound (test, unit, aim->one_to, _("1 up to"), text);
    }
  append_bound (test, unit, aim->zero_above, _("0 from"), text);
  if (aim->late_floor > 0)
    append_bound (test, WB_UNIT_NONE, aim->late_floor, _("on the late side never below"), text);
  if (aim->worst)
    g_string_append_printf (text, ", %s", _("at its worst"));
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static const WbAim *
get_aim (const WbReportTest *test,
         guint               i)
{
  return g_ptr_array_index (test->data->aims, i);
}

/* Do two thirds ask for the same of a figure, as it is told? */
static gboolean
asks_alike (const WbReportTest *test,
            guint               i,
            guint               k)
{
  const WbAim *one = get_aim (test, i), *other = get_aim (test, k);
  g_autofree char *band = NULL;
  g_autofree char *other_band = NULL;

  if (one->figure != other->figure || one->weight != other->weight)
    return FALSE;
  band = dup_band (test, one);
  other_band = dup_band (test, other);
  return g_str_equal (band, other_band);
}

/* One row for all thirds that ask for the same. */
static void
add_aim_row (const WbReportTest *test,
             guint               i,
             WbReportTable      *table)
{
  const WbAim *aim = get_aim (test, i);
  g_autofree char *band = dup_band (test, aim);
  g_autofree char *weight = wb_number_format_trimmed (aim->weight, 2, NULL);
  g_autoptr (GString) thirds = g_string_new (NULL);
  guint n = 0;

  for (guint k = 0; k < test->data->aims->len; k++)
    if (asks_alike (test, i, k))
      g_string_append_printf (thirds, "%s%s", n++ > 0 ? ", " : "",
                              g_dgettext (GETTEXT_PACKAGE, wb_stage_get_label ((WbStage) get_aim (test, k)->stage)));

  const char *cells[] = { g_dgettext (GETTEXT_PACKAGE, wb_figure_get_label ((WbFigure) aim->figure)),
                          n == WB_N_STAGES ? _("every third") : thirds->str, band, weight };

  wb_report_table_add_row (table, cells, FALSE);
}

/* Figure by figure, in the order in which they come first. */
static void
add_aims (const WbReportTest *test)
{
  const char *heads[] = { _("Figure"), _("Part of the candle"), _("Worth, from 0 to 1"), _("Weight") };
  static const WbReportAlign aligns[] = { WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_LEFT, WB_REPORT_RIGHT };
  static const double shares[] = { 1.2, 1.3, 2.4, 0 };
  WbReportTable *table = wb_report_table_new (G_N_ELEMENTS (heads), heads, aligns, shares);

  for (guint i = 0; i < test->data->aims->len; i++)
    {
      gboolean came = FALSE;

      for (guint k = 0; k < i; k++)
        came = came || get_aim (test, k)->figure == get_aim (test, i)->figure;
      for (guint k = i; k < test->data->aims->len && !came; k++)
        {
          gboolean before = get_aim (test, k)->figure != get_aim (test, i)->figure;

          for (guint j = i; j < k && !before; j++)
            before = asks_alike (test, j, k);
          if (!before)
            add_aim_row (test, k, table);
        }
    }
  wb_report_document_add_table (test->document, table);
}

/* ---- The method ---- */

static void
add_method (const WbReportTest *test)
{
  g_autofree char *seed = g_strdup_printf ("%" G_GUINT64_FORMAT, test->answer->ranking->seed);
  g_autofree char *error = NULL;

  wb_report_test_point (test, "%s", _("The melt pool of a burn is read at several times. Through these readings runs the curve D(t) = D∞ (1 − exp(−t/τ)), t from lighting: "
                                      "D∞ is the diameter towards which the pool grows, τ how slowly it gets there. The wall hides what lies beyond it, so a reading "
                                      "at the wall says “at least so wide” and no more (a likelihood with censoring). Burns and samples of a combination are fitted together."));
  wb_report_test_point (test, "%s", _("The time to a full melt pool follows from the curve: −τ ln(1 − D/D∞) for the inner diameter D, or never, where D∞ is less than D. "
                                      "“In time” is the chance of the next candle to be within the time that is due."));
  wb_report_test_point (test, "%s", /* xgettext:no-c-format */ _("The other figures are means over the standard burns that were read, at the end of the burn; candle and burn spread apart. "
                                      "An interval in brackets holds the true value with 90 % probability, if the model is right."));
  wb_report_test_point (test, "%s", _("Each aim turns a figure into a worth between 0 and 1 (desirability after Derringer and Suich, Journal of Quality Technology 12, 1980, 214). "
                                      "The score is the weighted geometric mean of these, judged by thirds of the candle, as expected for the next candle poured."));
  /* at a chance of a half, where it is widest */
  error = wb_number_format (100 * Z_90 * 0.5 / sqrt (test->answer->ranking->draws), 1, NULL);
  wb_report_test_point (test, _("The chances count random draws from the estimates, %u of them, with the seed %s: the same record gives the same ranking again. "
                                "All combinations share the draws. So many draws tell a chance to within %s in 100, nine times in ten."),
                        test->answer->ranking->draws, seed, error);
  wb_report_test_point (test, "%s", _("How far a weight may move: it alone is changed, from an eighth of it to eight times, and to nothing, and the same draws are weighed anew."));
  wb_report_test_point (test, "%s", _("A combination is recommended only after enough samples were burnt to the protocol's stated end, every limit that can be measured was read in the "
                                      "last third, its chance of being within 0.05 of the best is at least 90 %, and its chance of crossing a limit at most 5 %. "
                                      "One that crosses a limit is out, however well it scores."));
}

void
wb_report_test_add_figures (const WbReportTest *test)
{
  wb_report_document_begin_appendix (test->document);
  wb_report_document_add_heading (test->document, 1, _("Appendix: the figures and the method"));
  wb_report_test_add_numbers (test);
  if (test->answer->estimates->n_cells == 0)
    wb_report_test_say (test, "%s", _("There are no figures: no combination was planned."));
  else
    {
      wb_report_document_add_heading (test->document, 2, _("Growth of the melt pool"));
      add_growth (test);
      add_fit_states (test);
      wb_report_document_add_heading (test->document, 2, _("At the end of a burn"));
      add_ends (test);
      add_same_ratings (test);
      wb_report_document_add_heading (test->document, 2, _("Smoke, soot and mushroom over the burns"));
      wb_report_test_say (test, "%s", _("The worst level that any standard burn of any sample showed, and in how many of the burns that were rated any was seen."));
      wb_report_document_keep_with_next (test->document);
      add_marks (test);
    }
  if (test->data->aims->len > 0)
    {
      wb_report_document_add_heading (test->document, 2, _("What the score asks for"));
      wb_report_test_say (test, "%s", _("Time to a full melt pool is judged as a multiple of one hour per inch of inner diameter. These aims are common practice, or the maker's own; no standard sets them."));
      wb_report_document_keep_with_next (test->document);
      add_aims (test);
    }
  wb_report_document_add_heading (test->document, 2, _("How to read it"));
  add_method (test);
}
