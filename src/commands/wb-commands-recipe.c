/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-commands-private.h"

#include "wb-app-decision-papers.h"
#include "wb-app-decision.h"
#include "wb-app-query.h"
#include "wb-number.h"
#include "wb-report-options.h"

#include <math.h>

/* The papers of a signed decision: the recipe card, and the production sheet for a number of vessels. */

static char *output, *sheet, *paper_key, *language, *nth_text, *vessels_text, *pot_text, *overage_text, *hold_back_text, *wax_lot, *oil_lot, *wick_lot;

static const GOptionEntry options[] = {
  { "output", 0, 0, G_OPTION_ARG_FILENAME, &output, "PDF file to write the recipe card to", "FILE.pdf" },
  { "decision", 0, 0, G_OPTION_ARG_STRING, &nth_text, "Which of the experiment's decisions, from 1, where several are signed", "N" },
  { "vessels", 0, 0, G_OPTION_ARG_STRING, &vessels_text, "Vessels of the production sheet, 1 to 2000", "N" },
  { "sheet", 0, 0, G_OPTION_ARG_FILENAME, &sheet, "PDF file to write the production sheet to", "FILE.pdf" },
  { "pot", 0, 0, G_OPTION_ARG_STRING, &pot_text, "What the pot holds, in g; all in one melt unless told", "G" },
  { "overage", 0, 0, G_OPTION_ARG_STRING, &overage_text, "For what stays in the pot, in per cent; as the newest melt unless told", "P" },
  { "hold-back", 0, 0, G_OPTION_ARG_STRING, &hold_back_text, "Kept for the second pour, in per cent; as the newest melt unless told", "P" },
  { "wax-lot", 0, 0, G_OPTION_ARG_STRING, &wax_lot, "Lot of the wax to be poured; written by hand unless told", "CODE" },
  { "oil-lot", 0, 0, G_OPTION_ARG_STRING, &oil_lot, "Lot of the fragrance, likewise", "CODE" },
  { "wick-lot", 0, 0, G_OPTION_ARG_STRING, &wick_lot, "Lot of the wick, likewise", "CODE" },
  { "paper", 0, 0, G_OPTION_ARG_STRING, &paper_key, "A4 or Letter; else the notebook's", "PAPER" },
  { "language", 0, 0, G_OPTION_ARG_STRING, &language, "Language of the papers, such as de; else en", "LANGUAGE" },
  G_OPTION_ENTRY_NULL
};

/* What was typed, checked. */
typedef struct
{
  gint64 nth;      /* 0: the only one */
  gint64 vessels;  /* 0: no sheet */
  double pot_g, overage_pct, hold_back_pct; /* NAN: not told */
  int    paper;
} Order;

static gboolean
read_share (const char *text,
            const char *option,
            double      low,
            double      high,
            double     *value)
{
  *value = NAN;
  if (text == NULL || (wb_number_parse_strict (text, '.', value, NULL) && *value >= low && *value <= high))
    return TRUE;
  wb_commands_complain (NULL, "--%s “%s”: a number from %g to %g is accepted", option, text, low, high);
  return FALSE;
}

static gboolean
has_ending (const char *path)
{
  g_autofree char *low = g_ascii_strdown (path, -1);

  if (g_str_has_suffix (low, ".pdf"))
    return TRUE;
  wb_commands_complain (NULL, "“%s”: a paper is written as .pdf", path);
  return FALSE;
}

static gboolean
check_files (void)
{
  if (output == NULL && sheet == NULL)
    {
      wb_commands_complain ("recipe", "--output FILE.pdf is missing; see wickbench recipe --help");
      return FALSE;
    }
  if (sheet != NULL && vessels_text == NULL)
    {
      wb_commands_complain ("recipe", "--sheet FILE.pdf asks for --vessels N");
      return FALSE;
    }
  if (sheet == NULL && (vessels_text != NULL || pot_text != NULL || overage_text != NULL || hold_back_text != NULL || wax_lot != NULL
                        || oil_lot != NULL || wick_lot != NULL))
    {
      wb_commands_complain ("recipe", "--vessels, --pot, --overage, --hold-back and the lots are the production sheet's: --sheet FILE.pdf is missing");
      return FALSE;
    }
  if (output != NULL && sheet != NULL && g_str_equal (output, sheet))
    {
      wb_commands_complain ("recipe", "--output and --sheet name one file");
      return FALSE;
    }
  return (output == NULL || has_ending (output)) && (sheet == NULL || has_ending (sheet));
}

static gboolean
read_order (Order *order)
{
  *order = (Order) { .paper = -1 };
  if (!check_files ())
    return FALSE;
  if (!wb_commands_read_whole (nth_text, 1, 1000, &order->nth))
    {
      wb_commands_complain (NULL, "--decision “%s”: a whole number from 1 is accepted", nth_text);
      return FALSE;
    }
  if (!wb_commands_read_whole (vessels_text, 1, 2000, &order->vessels))
    {
      wb_commands_complain (NULL, "--vessels “%s”: a whole number from 1 to 2000 is accepted", vessels_text);
      return FALSE;
    }
  if (paper_key != NULL && (order->paper = wb_report_paper_from_key (paper_key)) < 0)
    {
      wb_commands_complain (NULL, "no paper “%s”; known are: A4, Letter", paper_key);
      return FALSE;
    }
  return read_share (pot_text, "pot", 1, 1e6, &order->pot_g) && read_share (overage_text, "overage", 0, 50, &order->overage_pct)
         && read_share (hold_back_text, "hold-back", 0, 90, &order->hold_back_pct);
}

/* Those that are signed, told one by one, so that one of them can be asked for. */
static void
tell_which (const char           *experiment,
            const WbAppDecisions *decisions)
{
  g_autoptr (GString) known = g_string_new (NULL);

  for (guint i = 0; i < decisions->decisions->len; i++)
    g_string_append_printf (known, "%s%u %s", i > 0 ? "; " : "", i + 1, ((const WbAppTouched *) g_ptr_array_index (decisions->decisions, i))->cell);
  if (known->len > 0)
    wb_commands_complain (NULL, "%s has several decisions, or none of that number: --decision N chooses; known are: %s", experiment, known->str);
  else
    wb_commands_complain (NULL, "in %s nothing is decided yet: a recipe card is made of a signed decision", experiment);
}

static const WbAppTouched *
find_decision (const Order          *order,
               const WbAppDecisions *decisions)
{
  guint n = decisions->decisions->len;

  if (order->nth == 0)
    return n == 1 ? g_ptr_array_index (decisions->decisions, 0) : NULL;
  return order->nth <= n ? g_ptr_array_index (decisions->decisions, order->nth - 1) : NULL;
}

static int
write_paper (WbAppNotebook              *notebook,
             const WbAppTouched         *decision,
             const WbAppProductionTerms *terms,
             int                         paper,
             const char                 *path)
{
  GError *error = NULL;
  g_autoptr (WbReportDocument) document = wb_app_decision_papers_sync (notebook, decision->decision, terms, paper, &error);

  if (document == NULL || !wb_app_decision_papers_write_sync (notebook, document, path, &error))
    return wb_commands_fail (path, error);
  return WB_COMMANDS_DONE;
}

static int
read_terms (WbAppNotebook        *notebook,
            const WbAppTouched   *decision,
            const Order          *order,
            WbAppProductionTerms *terms)
{
  GError *error = NULL;

  if (!wb_app_production_terms_read_sync (notebook, decision->decision, terms, &error))
    return wb_commands_fail (NULL, error);
  if (oil_lot != NULL && *oil_lot != '\0' && !terms->takes_oil)
    {
      wb_commands_complain (NULL, "--oil-lot “%s”: this recipe has no fragrance", oil_lot);
      return WB_COMMANDS_USAGE;
    }
  terms->vessels = (guint) order->vessels;
  terms->pot_g = order->pot_g;
  if (!isnan (order->overage_pct))
    terms->overage_pct = order->overage_pct;
  if (!isnan (order->hold_back_pct))
    terms->hold_back_pct = order->hold_back_pct;
  terms->wax_lot = wax_lot;
  terms->oil_lot = oil_lot;
  terms->wick_lot = wick_lot;
  return WB_COMMANDS_DONE;
}

static int
run (char **arguments)
{
  int status = WB_COMMANDS_DONE;
  g_autoptr (WbAppNotebook) notebook = NULL;
  g_autoptr (WbAppDecisions) decisions = NULL;
  const WbAppTouched *decision;
  WbAppProductionTerms terms;
  GError *error = NULL;
  Order order;
  gint64 id;

  if (!read_order (&order))
    return WB_COMMANDS_USAGE;
  if (!wb_commands_speak (language, &status))
    return status;
  notebook = wb_commands_open (arguments[0], &status);
  if (notebook == NULL || (id = wb_commands_find (notebook, arguments[1], &status)) == 0)
    return status;
  decisions = wb_app_decisions_sync (notebook, id, &error);
  if (decisions == NULL)
    return wb_commands_fail (arguments[0], error);
  decision = find_decision (&order, decisions);
  if (decision == NULL)
    {
      tell_which (arguments[1], decisions);
      return decisions->decisions->len > 0 ? WB_COMMANDS_USAGE : WB_COMMANDS_NO;
    }
  /* a slip is told before any paper is written */
  if (sheet != NULL)
    status = read_terms (notebook, decision, &order, &terms);
  if (status == WB_COMMANDS_DONE && output != NULL)
    status = write_paper (notebook, decision, NULL, order.paper, output);
  return status == WB_COMMANDS_DONE && sheet != NULL ? write_paper (notebook, decision, &terms, order.paper, sheet) : status;
}

const WbCommandsVerb wb_commands_recipe = {
  .name = "recipe",
  .arguments = "NOTEBOOK EXPERIMENT --output FILE.pdf [--vessels N --sheet FILE.pdf]",
  .summary = "Write the recipe card of a signed decision, and its production sheet",
  .description = "EXPERIMENT is its code or title. The card is one page where it can be; the sheet shares the vessels out over\n"
                 "melts that the pot holds. Exit status 1: nothing is decided there yet.",
  .options = options,
  .n_arguments = 2,
  .run = run,
};
