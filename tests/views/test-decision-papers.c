/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-views.h"

#include "wb-app-query.h"
#include "wb-decision-strip.h"
#include "wb-paper-dialog.h"
#include "wb-paper-view.h"
#include "wb-production-dialog.h"
#include "wb-quantity-entry.h"

/* The papers of a decision, from the strip on the page Compare. */

static WbDecisionStrip *
get_strip (WbWindow *window)
{
  return WB_DECISION_STRIP (test_find (GTK_WIDGET (wb_window_get_page (window)), WB_TYPE_DECISION_STRIP));
}

static gboolean
has_decision (gpointer window)
{
  return get_strip (window) != NULL && wb_decision_strip_get_decision (get_strip (window)) != NULL;
}

static gboolean
has_paper (gpointer user)
{
  return test_find_window (WB_TYPE_PAPER_DIALOG) != NULL;
}

static gboolean
has_no_question (gpointer user)
{
  return test_find_window (WB_TYPE_PRODUCTION_DIALOG) == NULL;
}

static gboolean
has_words (gpointer dialog)
{
  return gtk_widget_get_visible (test_child (dialog, "problem"));
}

static gboolean
has_strip (gpointer window)
{
  return get_strip (window) != NULL && gtk_widget_get_mapped (GTK_WIDGET (get_strip (window)));
}

/* Of several vessels and scents the demo has decided one: before that. */
static WbWindow *
open_decided (void)
{
  WbWindow *window = test_window_new_demo ();
  g_autoptr (GPtrArray) decisions = wb_app_query_list_sync (test_notebook (window), &wb_decision_type, NULL);
  const WbDecision *decision = decisions->pdata[0];
  const WbCraftRanking *ranking;
  const WbCraftAnswer *answer;

  g_assert_true (wb_window_go (window, "compare", decision->experiment));
  test_wait (has_strip, window);
  answer = wb_decision_strip_get_answer (get_strip (window));
  ranking = answer->ranking;
  for (guint g = 0; g < ranking->n_groups; g++)
    for (guint i = 0; i < ranking->groups[g].n_cells; i++)
      if (wb_dataset_get_cell (answer->data, ranking->groups[g].cells[i].cell)->record.id == decision->cell)
        gtk_drop_down_set_selected (GTK_DROP_DOWN (test_part (window, "group")), g);
  test_wait (has_decision, window);
  return window;
}

/* What the paper in front says on that page; the dialog is closed. Caller frees. */
static char *
take_paper (guint page)
{
  GtkWidget *dialog;
  char *text;

  test_wait (has_paper, NULL);
  dialog = test_find_window (WB_TYPE_PAPER_DIALOG);
  text = wb_paper_dup_text (wb_paper_view_get_paper (WB_PAPER_VIEW (test_child (dialog, "preview"))), page);
  gtk_window_destroy (GTK_WINDOW (dialog));
  return text;
}

static void
test_card (void)
{
  WbWindow *window = open_decided ();
  g_autofree char *text = NULL;

  g_assert_true (gtk_widget_activate_action (test_child (GTK_WIDGET (get_strip (window)), "papers"), "decision.card", NULL));
  text = take_paper (0);
  g_assert_nonnull (strstr (text, "Recipe card"));
  g_assert_nonnull (strstr (text, "Lots approved"));
  test_settle (window);
  test_window_destroy (window);
}

static GtkWidget *
ask_production (WbWindow *window)
{
  GtkWidget *dialog;

  g_assert_true (gtk_widget_activate_action (test_child (GTK_WIDGET (get_strip (window)), "papers"), "decision.production", NULL));
  dialog = test_find_window (WB_TYPE_PRODUCTION_DIALOG);
  g_assert_nonnull (dialog);
  return dialog;
}

static void
press (GtkWidget *dialog)
{
  g_signal_emit_by_name (test_child (dialog, "make"), "clicked");
}

static void
test_production (void)
{
  WbWindow *window = open_decided ();
  GtkWidget *dialog = ask_production (window);
  WbQuantityEntry *vessels = WB_QUANTITY_ENTRY (test_child (dialog, "vessels")), *pot = WB_QUANTITY_ENTRY (test_child (dialog, "pot"));
  g_autofree char *text = NULL, *melt = NULL;

  g_assert_cmpuint (test_check_names (dialog, "the production sheet"), >=, 6);
  /* the pour of its samples is where the shares come from */
  g_assert_cmpfloat (wb_quantity_entry_get_value (WB_QUANTITY_ENTRY (test_child (dialog, "overage"))), >, 0);

  wb_quantity_entry_put_typed (vessels, "2.5");
  press (dialog);
  g_assert_nonnull (wb_quantity_entry_get_problem (vessels));
  wb_quantity_entry_put_typed (vessels, "30");
  wb_quantity_entry_put_typed (pot, "20");
  press (dialog);
  test_wait (has_words, dialog);
  g_assert_true (test_says (dialog, "The pot holds less than one candle takes, with what stays in the pot."));
  wb_quantity_entry_put_typed (pot, "3 kg");
  press (dialog);
  text = take_paper (0);
  g_assert_nonnull (strstr (text, "Production batch sheet"));
  g_assert_nonnull (strstr (text, "30"));
  g_assert_nonnull (strstr (text, "Lot used, written by hand"));
  test_wait (has_no_question, NULL);
  test_settle (window);
  test_window_destroy (window);
}

static gboolean
has_lots (gpointer dialog)
{
  return gtk_drop_down_get_model (GTK_DROP_DOWN (test_child (dialog, "wax_lot"))) != NULL
         && g_list_model_get_n_items (gtk_drop_down_get_model (GTK_DROP_DOWN (test_child (dialog, "wick_lot")))) > 0;
}

static const char *
get_offer (GtkWidget *dialog,
           guint      index)
{
  return gtk_string_list_get_string (GTK_STRING_LIST (gtk_drop_down_get_model (GTK_DROP_DOWN (test_child (dialog, "wax_lot")))), index);
}

/* The burnt ones first; one that the signature does not cover is warned of in the dialog and on the sheet. */
static void
test_lots (void)
{
  WbWindow *window = open_decided ();
  GtkWidget *dialog = ask_production (window);
  GtkDropDown *wax = GTK_DROP_DOWN (test_child (dialog, "wax_lot"));
  g_autofree char *text = NULL;
  guint n;

  test_wait (has_lots, dialog);
  test_look_at (dialog, "production-dialog");
  n = g_list_model_get_n_items (gtk_drop_down_get_model (wax));
  g_assert_cmpuint (n, >=, 3);
  g_assert_cmpstr (get_offer (dialog, 0), ==, "to be written by hand");
  g_assert_true (g_str_has_suffix (get_offer (dialog, 1), ", signed for"));
  g_assert_true (g_str_has_suffix (get_offer (dialog, n - 1), ", not covered by the signature"));
  gtk_drop_down_set_selected (wax, 1);
  g_assert_false (gtk_widget_get_visible (test_child (dialog, "lacking")));
  gtk_drop_down_set_selected (wax, n - 1);
  g_assert_true (gtk_widget_get_visible (test_child (dialog, "lacking")));
  g_assert_true (test_says (dialog, "A confirmation test comes before candles of it are sold or given away."));
  test_look_at (dialog, "production-dialog-not-covered");
  press (dialog);
  text = take_paper (0);
  g_assert_nonnull (strstr (text, "Lot to be used"));
  g_assert_nonnull (strstr (text, "is not covered: the decision for HF-1 holds for "));
  test_wait (has_no_question, NULL);
  test_settle (window);
  test_window_destroy (window);
}

/* The window may go while the sheet is laid out. */
static void
test_window_goes (void)
{
  WbWindow *window = open_decided ();

  press (ask_production (window));
  test_window_destroy (window);
  g_assert_true (has_no_question (NULL));
  g_assert_false (has_paper (NULL));
}

void
test_decision_papers_add (void)
{
  g_test_add_func ("/views/decision-papers/the-strip-shows-the-recipe-card", test_card);
  g_test_add_func ("/views/decision-papers/a-number-of-vessels-gives-a-production-sheet", test_production);
  g_test_add_func ("/views/decision-papers/the-lots-to-be-poured-are-chosen", test_lots);
  g_test_add_func ("/views/decision-papers/the-window-may-go-while-the-sheet-is-made", test_window_goes);
}
