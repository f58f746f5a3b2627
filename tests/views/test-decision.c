/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <string.h>

#include "pour-page.h"
#include "test-views.h"

#include "wb-app-draft.h"
#include "wb-app-query.h"
#include "wb-badge.h"
#include "wb-decision-dialog.h"
#include "wb-decision-draft.h"
#include "wb-decision-strip.h"
#include "wb-e2e-screen.h"
#include "wb-finish-dialog.h"
#include "wb-host.h"
#include "wb-record-form.h"
#include "wb-withdraw-dialog.h"

/* Signing the demo's decision on the Hob (all invented), from the Compare page and from Today. */

static gboolean
is_gone (gpointer type)
{
  return test_find_window (*(GType *) type) == NULL;
}

static WbDecision *
dup_decision (WbWindow *window)
{
  g_autoptr (GPtrArray) decisions = wb_app_query_list_sync (test_notebook (window), &wb_decision_type, NULL);

  return decisions->len == 1 ? wb_record_copy (decisions->pdata[0]) : NULL;
}

static GtkWidget *
get_strip (WbWindow *window)
{
  return test_child (GTK_WIDGET (wb_window_get_page (window)), "decision");
}

static const char *
get_badge (WbWindow *window)
{
  return wb_badge_get_text (WB_BADGE (test_child (get_strip (window), "badge")));
}

static gboolean
has_strip (gpointer window)
{
  return gtk_widget_get_mapped (get_strip (window));
}

/* Of several vessels and scents the demo has decided one: before that. */
static void
compare (WbWindow *window)
{
  g_autoptr (WbRecord) decision = (WbRecord *) dup_decision (window);
  const WbCraftAnswer *answer;

  g_assert_true (wb_window_go (window, "compare", ((WbDecision *) (gpointer) decision)->experiment));
  test_wait (has_strip, window);
  answer = wb_decision_strip_get_answer (WB_DECISION_STRIP (get_strip (window)));
  for (guint g = 0; g < answer->ranking->n_groups; g++)
    for (guint i = 0; i < answer->ranking->groups[g].n_cells; i++)
      if (wb_dataset_get_cell (answer->data, answer->ranking->groups[g].cells[i].cell)->record.id == ((WbDecision *) (gpointer) decision)->cell)
        gtk_drop_down_set_selected (GTK_DROP_DOWN (test_child (GTK_WIDGET (wb_window_get_page (window)), "group")), g);
}

static gboolean
is_proposed (gpointer dialog)
{
  return gtk_widget_get_visible (test_child (dialog, "form")) && gtk_widget_get_sensitive (test_child (dialog, "sign"));
}

/* The dialog, with its sentences read. */
static GtkWidget *
wait_dialog (void)
{
  GtkWidget *dialog = test_find_window (WB_TYPE_DECISION_DIALOG);

  g_assert_nonnull (dialog);
  test_wait (is_proposed, dialog);
  return dialog;
}

static GtkWidget *
open_dialog (WbWindow *window)
{
  compare (window);
  g_assert_true (gtk_widget_activate_action (test_child (get_strip (window), "sign"), "decision.sign", NULL));
  return wait_dialog ();
}

static void
put (GtkWidget  *dialog,
     const char *field,
     const char *text)
{
  GtkWidget *widget = wb_record_form_get_field (WB_RECORD_FORM (test_child (dialog, "form")), field);
  GtkWidget *view = test_find (widget, GTK_TYPE_TEXT_VIEW);

  if (view != NULL)
    gtk_text_buffer_set_text (gtk_text_view_get_buffer (GTK_TEXT_VIEW (view)), text, -1);
  else
    gtk_editable_set_text (GTK_EDITABLE (test_find (widget, GTK_TYPE_ENTRY)), text);
}

static gboolean
is_asked (GtkWidget  *dialog,
          const char *field)
{
  return gtk_widget_get_child_visible (wb_record_form_get_field (WB_RECORD_FORM (test_child (dialog, "form")), field))
         && gtk_widget_get_mapped (wb_record_form_get_field (WB_RECORD_FORM (test_child (dialog, "form")), field));
}

static void
assert_closed_by_signing (void)
{
  GType type = WB_TYPE_DECISION_DIALOG;

  test_wait (is_gone, &type);
}

/* "not decided", "for some lots only" ...: waits for it. */
typedef struct { WbWindow *window; const char *badge; } Told;

static gboolean
is_told (gpointer data)
{
  const Told *told = data;

  return g_strcmp0 (get_badge (told->window), told->badge) == 0;
}

static void
wait_badge (WbWindow   *window,
            const char *badge)
{
  Told told = { window, badge };

  test_wait (is_told, &told);
}

/* From the Compare page: the leading recipe stands there, a sentence is edited, Enter in the name signs. */
static void
test_from_compare (void)
{
  WbWindow *window = test_window_new_demo ();
  GtkWidget *dialog = open_dialog (window);
  g_autoptr (WbRecord) signature = NULL, undone = NULL;

  wait_badge (window, "reopened"); /* by a lot of its wax */
  test_check_names (get_strip (window), "the strip");
  test_check_names (dialog, "a decision");
  g_assert_true (test_says (dialog, "Decide HF-1"));
  g_assert_cmpuint (gtk_drop_down_get_selected (GTK_DROP_DOWN (test_child (dialog, "recipe"))), ==, 0);
  put (dialog, "not_tested", "Nothing in a draught.");
  if (is_asked (dialog, "against"))
    put (dialog, "against", "It is what the shop can buy.");
  put (dialog, "signed_by", "");
  g_signal_emit_by_name (test_child (dialog, "form"), "activate");
  g_assert_cmpstr (wb_record_form_get_problem (WB_RECORD_FORM (test_child (dialog, "form")), "signed_by"), ==, "Say who signs it");
  put (dialog, "signed_by", "Wren");
  g_signal_emit_by_name (test_child (dialog, "form"), "activate");
  assert_closed_by_signing ();
  test_settle (window);
  signature = (WbRecord *) dup_decision (window);
  g_assert_cmpstr (((WbDecision *) (gpointer) signature)->not_tested, ==, "Nothing in a draught.");
  g_assert_cmpstr (((WbDecision *) (gpointer) signature)->signed_by, ==, "Wren");
  wait_badge (window, "for some lots only");
  g_assert_true (test_says (get_strip (window), "signed by Wren"));
  gtk_widget_activate_action (GTK_WIDGET (window), "win.undo", NULL);
  wait_badge (window, "reopened");
  test_settle (window);
  undone = (WbRecord *) dup_decision (window);
  g_assert_cmpstr (((WbDecision *) (gpointer) undone)->not_tested, !=, "Nothing in a draught.");
  test_window_destroy (window);
}

/* The recipe of which that is said. */
static void
choose (GtkWidget  *dialog,
        const char *words)
{
  GtkDropDown *recipe = GTK_DROP_DOWN (test_child (dialog, "recipe"));
  GListModel *titles = gtk_drop_down_get_model (recipe);
  guint index = G_MAXUINT;

  for (guint i = 0; i < g_list_model_get_n_items (titles); i++)
    if (strstr (gtk_string_list_get_string (GTK_STRING_LIST (titles), i), words) != NULL)
      index = i;
  g_assert_cmpuint (index, !=, G_MAXUINT);
  gtk_drop_down_set_selected (recipe, index);
}

static char *
dup_put (GtkWidget  *dialog,
         const char *field)
{
  g_autoptr (WbRecord) record = wb_record_form_dup_record (WB_RECORD_FORM (test_child (dialog, "form")));
  const WbDecision *decision = (const WbDecision *) (gpointer) record;

  return g_strdup (g_str_equal (field, "signed_by") ? decision->signed_by : g_str_equal (field, "conditions") ? decision->conditions : decision->not_tested);
}

/* What was typed for a recipe waits for its maker to come back from another; who signs is the same of all. */
static void
test_typed_stays (void)
{
  WbWindow *window = test_window_new_demo ();
  GtkWidget *dialog = open_dialog (window);
  g_autofree char *other = NULL, *signer = NULL, *again = NULL, *other_again = NULL;

  put (dialog, "not_tested", "Nothing in a draught.\nNor at 30 °C.");
  put (dialog, "signed_by", "Wren of the bench");
  choose (dialog, "not the best");
  other = dup_put (dialog, "not_tested");
  g_assert_cmpstr (other, !=, "Nothing in a draught.\nNor at 30 °C.");
  signer = dup_put (dialog, "signed_by");
  g_assert_cmpstr (signer, ==, "Wren of the bench");
  gtk_drop_down_set_selected (GTK_DROP_DOWN (test_child (dialog, "recipe")), 0);
  again = dup_put (dialog, "not_tested");
  g_assert_cmpstr (again, ==, "Nothing in a draught.\nNor at 30 °C.");
  choose (dialog, "not the best");
  other_again = dup_put (dialog, "not_tested");
  g_assert_cmpstr (other_again, ==, other);
  gtk_window_destroy (GTK_WINDOW (dialog));
  test_window_destroy (window);
}

/* One that is rejected says why first, and is not signed without a reason. */
static void
test_rejected (void)
{
  WbWindow *window = test_window_new_demo ();
  GtkWidget *dialog = open_dialog (window);
  g_autoptr (WbRecord) before = (WbRecord *) dup_decision (window), after = NULL;

  choose (dialog, "not the best");
  g_assert_true (gtk_widget_get_visible (test_child (dialog, "against")));
  g_assert_true (test_says (dialog, "Verdict: not the best, because:"));
  g_assert_true (is_asked (dialog, "against"));
  g_signal_emit_by_name (test_child (dialog, "sign"), "clicked");
  g_assert_cmpstr (wb_record_form_get_problem (WB_RECORD_FORM (test_child (dialog, "form")), "against"), ==,
                   "It is not recommended: say why you choose it all the same");
  test_settle (window);
  after = (WbRecord *) dup_decision (window);
  g_assert_cmpint (after->entry, ==, before->entry);
  put (dialog, "against", "Burnt in a lantern of its own.");
  g_signal_emit_by_name (test_child (dialog, "sign"), "clicked");
  assert_closed_by_signing ();
  wait_badge (window, "for some lots only");
  g_assert_true (test_says (get_strip (window), "Burnt in a lantern of its own."));
  test_window_destroy (window);
}

static GtkWidget *
open_withdraw (WbWindow *window)
{
  compare (window);
  g_assert_true (gtk_widget_activate_action (test_child (get_strip (window), "withdraw"), "decision.withdraw", NULL));
  return test_find_window (WB_TYPE_WITHDRAW_DIALOG);
}

static void
withdraw (WbWindow *window)
{
  GtkWidget *dialog = open_withdraw (window);
  GType type = WB_TYPE_WITHDRAW_DIALOG;

  g_assert_nonnull (dialog);
  test_check_names (dialog, "withdrawing a decision");
  g_assert_false (gtk_widget_get_sensitive (test_child (dialog, "withdraw")));
  gtk_editable_set_text (GTK_EDITABLE (test_child (dialog, "why")), "The glass is no longer made.");
  g_signal_emit_by_name (test_child (dialog, "withdraw"), "clicked");
  test_wait (is_gone, &type);
  wait_badge (window, "not decided");
}

static void
test_withdrawn (void)
{
  WbWindow *window = test_window_new_demo ();

  withdraw (window);
  g_assert_true (test_says (get_strip (window), "The glass is no longer made."));
  test_check_names (get_strip (window), "the strip, undecided");
  g_assert_false (gtk_widget_get_visible (test_child (get_strip (window), "withdraw")));
  gtk_widget_activate_action (GTK_WIDGET (window), "win.undo", NULL);
  wait_badge (window, "reopened");
  test_window_destroy (window);
}

static int
find_due (WbWindow    *window,
          WbAppDueKind kind)
{
  GListModel *today = G_LIST_MODEL (wb_desk_get_today (wb_host_get_desk (WB_HOST (window))));

  for (guint i = 0; i < g_list_model_get_n_items (today); i++)
    {
      g_autoptr (WbAppDue) due = g_list_model_get_item (today, i);

      if (wb_app_due_get_kind (due) == kind)
        return (int) i;
    }
  return -1;
}

static gboolean
waits_for_decision (gpointer window)
{
  return find_due (window, WB_APP_DUE_DECIDE) >= 0;
}

static gboolean
waits_no_more (gpointer window)
{
  return find_due (window, WB_APP_DUE_DECIDE) < 0;
}

static const WbExperiment *
find_experiment (const GPtrArray *experiments,
                 const char      *code)
{
  for (guint i = 0; i < experiments->len; i++)
    if (g_strcmp0 (((const WbExperiment *) experiments->pdata[i])->code, code) == 0)
      return experiments->pdata[i];
  return NULL;
}

static void
reopen (WbWindow *window)
{
  g_autoptr (GPtrArray) experiments = wb_app_query_list_sync (test_notebook (window), &wb_experiment_type, NULL);
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (wb_record_free);
  WbExperiment *open = wb_record_copy (find_experiment (experiments, "HF-1"));

  open->closed = FALSE;
  g_ptr_array_add (records, open);
  g_assert_cmpint (wb_app_notebook_save_sync (test_notebook (window), "Open", records, NULL, NULL), >, 0);
}

/* Today's row opens the same dialog; the experiment is finished with it, in one entry, which is not ticked while others wait. */
static void
test_from_today (void)
{
  WbWindow *window = test_window_new_demo ();
  g_autoptr (GPtrArray) experiments = NULL;
  GtkWidget *dialog, *list;

  withdraw (window);
  reopen (window);
  gtk_widget_activate_action (GTK_WIDGET (window), "win.show", "s", "today");
  test_wait (waits_for_decision, window);
  list = test_child (GTK_WIDGET (wb_window_get_page (window)), "due_list");
  g_signal_emit_by_name (list, "row-activated", gtk_list_box_get_row_at_index (GTK_LIST_BOX (list), find_due (window, WB_APP_DUE_DECIDE)));
  dialog = wait_dialog ();
  g_assert_true (gtk_widget_get_visible (test_child (dialog, "finish")));
  g_assert_false (gtk_check_button_get_active (GTK_CHECK_BUTTON (test_child (dialog, "finish"))));
  gtk_check_button_set_active (GTK_CHECK_BUTTON (test_child (dialog, "finish")), TRUE);
  if (is_asked (dialog, "against"))
    put (dialog, "against", "It is what the shop can buy.");
  put (dialog, "signed_by", "Wren");
  g_signal_emit_by_name (test_child (dialog, "sign"), "clicked");
  assert_closed_by_signing ();
  test_settle (window);
  experiments = wb_app_query_list_sync (test_notebook (window), &wb_experiment_type, NULL);
  g_assert_true (find_experiment (experiments, "HF-1")->closed);
  test_wait (waits_no_more, window);
  test_window_destroy (window);
}

static gboolean
waits_unsigned (gpointer window)
{
  return find_due (window, WB_APP_DUE_UNSIGNED) >= 0;
}

/* What was left half typed for a recipe that does not lead stands on Today, and its row opens it at that recipe. */
static void
test_unsigned (void)
{
  WbWindow *window = test_window_new_demo ();
  GtkWidget *dialog = open_dialog (window), *list;
  g_autofree char *typed = NULL;

  choose (dialog, "not the best");
  put (dialog, "not_tested", "Nothing in a draught.");
  gtk_window_close (GTK_WINDOW (dialog));
  gtk_widget_activate_action (GTK_WIDGET (window), "win.show", "s", "today");
  test_wait (waits_unsigned, window);
  g_assert_true (test_says (GTK_WIDGET (window), "The decision of HF-1 is half typed and not signed"));
  test_look_at (GTK_WIDGET (window), "today-half-typed-decision");
  list = test_child (GTK_WIDGET (wb_window_get_page (window)), "due_list");
  g_signal_emit_by_name (list, "row-activated", gtk_list_box_get_row_at_index (GTK_LIST_BOX (list), find_due (window, WB_APP_DUE_UNSIGNED)));
  dialog = wait_dialog ();
  g_assert_cmpuint (gtk_drop_down_get_selected (GTK_DROP_DOWN (test_child (dialog, "recipe"))), >, 0);
  typed = dup_put (dialog, "not_tested");
  g_assert_cmpstr (typed, ==, "Nothing in a draught.");
  gtk_window_destroy (GTK_WINDOW (dialog));
  test_window_destroy (window);
}

static void
burn_hot (WbWindow *window)
{
  g_autoptr (WbRecord) decision = (WbRecord *) dup_decision (window);
  g_autoptr (GPtrArray) samples = wb_app_query_list_by_sync (test_notebook (window), &wb_sample_type, "cell", ((WbDecision *) (gpointer) decision)->cell, NULL);
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (wb_record_free);
  WbBurn *burn = wb_record_new (&wb_burn_type);
  WbReading *reading = wb_record_new (&wb_reading_type);

  burn->record.id = -1;
  burn->sample = ((const WbRecord *) samples->pdata[0])->id;
  burn->number = 90;
  burn->kind = WB_BURN_CHECK;
  g_ptr_array_add (records, burn);
  reading->burn = -1;
  reading->source = WB_SOURCE_TYPED;
  reading->elapsed_min = 60;
  reading->values[WB_COLUMN_VESSEL_C] = 88;
  g_ptr_array_add (records, reading);
  g_assert_cmpint (wb_app_notebook_save_sync (test_notebook (window), "Check", records, NULL, NULL), >, 0);
}

static gboolean
tells_crossing (gpointer window)
{
  return test_says (get_strip (window), "A limit was crossed in HF-1");
}

static gboolean
is_whole (GtkWidget *widget)
{
  if (GTK_IS_TEXT_VIEW (widget) && gtk_widget_get_mapped (widget))
    {
      GtkAdjustment *height = gtk_scrollable_get_vadjustment (GTK_SCROLLABLE (widget));

      if (gtk_adjustment_get_upper (height) > gtk_adjustment_get_page_size (height) + 0.5)
        return FALSE;
    }
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
    if (!is_whole (child))
      return FALSE;
  return TRUE;
}

static gboolean
shows_whole_texts (gpointer dialog)
{
  return is_whole (test_child (dialog, "form"));
}

/* What is signed is read first: no line of it is hidden in a field that scrolls by itself. */
static void
test_whole_texts (void)
{
  WbWindow *window = test_window_new_demo ();
  GtkWidget *dialog = open_dialog (window);
  g_autofree char *lines = g_strnfill (40, '\n'), *text = g_strconcat ("First.", lines, "Last.", NULL);

  test_wait (shows_whole_texts, dialog);
  test_look_at (dialog, "decision-dialog");
  put (dialog, "not_tested", text);
  test_wait (shows_whole_texts, dialog);
  gtk_window_destroy (GTK_WINDOW (dialog));
  test_window_destroy (window);
}

static gboolean
is_cut (GtkWidget *widget)
{
  if (GTK_IS_LABEL (widget) && gtk_widget_get_mapped (widget) && pango_layout_is_ellipsized (gtk_label_get_layout (GTK_LABEL (widget))))
    return TRUE;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
    if (is_cut (child))
      return TRUE;
  return FALSE;
}

/* A crossing behind the signature: the strip says which reading reopened it, and all of it. */
static void
test_reopened (void)
{
  WbWindow *window = test_window_new_demo ();
  GtkWidget *dialog = open_dialog (window);

  if (is_asked (dialog, "against"))
    put (dialog, "against", "Known lots.");
  put (dialog, "signed_by", "Wren");
  g_signal_emit_by_name (test_child (dialog, "sign"), "clicked");
  assert_closed_by_signing ();
  wait_badge (window, "for some lots only");
  burn_hot (window);
  wait_badge (window, "reopened");
  test_wait (tells_crossing, window);
  test_look_at (GTK_WIDGET (window), "decision-reopened");
  g_assert_false (is_cut (get_strip (window)));
  /* and signed anew, it asks for a reason, with the crossing before all else */
  dialog = open_dialog (window);
  choose (dialog, "crossed a limit");
  g_assert_true (gtk_widget_get_visible (test_child (dialog, "crossed")));
  g_assert_true (test_says (test_child (dialog, "crossed"), "burn 90"));
  g_assert_true (is_asked (dialog, "against"));
  gtk_window_destroy (GTK_WINDOW (dialog));
  test_window_destroy (window);
}

/* ---- What is typed and not signed ---- */

static gboolean
is_active (gpointer dialog)
{
  return gtk_window_is_active (dialog);
}

static gboolean
holds_typed (gpointer dialog)
{
  g_autofree char *text = dup_put (dialog, "not_tested");

  return g_str_has_suffix (text, "No draught, no 30 C.");
}

/* By keys alone, into the field; then Escape. */
static void
type_and_escape (GtkWidget *dialog)
{
  WbE2eScreen *screen = wb_e2e_screen_open ();
  GType type = WB_TYPE_DECISION_DIALOG;
  GtkWidget *field = test_find (wb_record_form_get_field (WB_RECORD_FORM (test_child (dialog, "form")), "not_tested"), GTK_TYPE_TEXT_VIEW);

  wb_e2e_screen_press (screen, "Shift_L");
  test_wait (is_active, dialog);
  gtk_widget_grab_focus (field);
  wb_e2e_screen_press (screen, "<Control>End");
  wb_e2e_screen_type (screen, "No draught, no 30 C.");
  test_wait (holds_typed, dialog);
  wb_e2e_screen_press (screen, "Escape");
  test_wait (is_gone, &type);
  wb_e2e_screen_close (screen);
}

static gboolean
is_nothing_kept (WbWindow *window)
{
  g_auto (GStrv) groups = g_key_file_get_groups (wb_app_draft_get_file (wb_app_draft_of (test_notebook (window), "decision")), NULL);

  return groups[0] == NULL;
}

/* Escape takes nothing away, nor does a crash; signed, it is forgotten, or where its maker starts afresh. */
static void
test_typed_outlives (void)
{
  WbWindow *window = test_window_new_demo ();
  GtkWidget *dialog = open_dialog (window);
  g_autofree char *proposed = dup_put (dialog, "not_tested"), *afresh = NULL, *signer = NULL;
  g_autoptr (WbRecord) signature = NULL;

  g_assert_false (gtk_widget_get_visible (test_child (dialog, "kept")));
  type_and_escape (dialog);
  dialog = open_dialog (window);
  g_assert_true (holds_typed (dialog));
  g_assert_true (gtk_widget_get_visible (test_child (dialog, "kept")));
  test_check_names (dialog, "a decision that was half typed");
  put (dialog, "signed_by", "Wren of the bench");
  window = test_window_crash (window, WB_APP_OPEN_EXISTING, "today");
  dialog = open_dialog (window);
  g_assert_true (holds_typed (dialog));
  signer = dup_put (dialog, "signed_by");
  g_assert_cmpstr (signer, ==, "Wren of the bench");
  g_signal_emit_by_name (test_child (dialog, "forget"), "clicked");
  afresh = dup_put (dialog, "not_tested");
  g_assert_cmpstr (afresh, ==, proposed);
  g_assert_false (gtk_widget_get_visible (test_child (dialog, "kept")));
  put (dialog, "not_tested", "Nothing in a draught.");
  if (is_asked (dialog, "against"))
    put (dialog, "against", "It is what the shop can buy.");
  g_assert_false (is_nothing_kept (window));
  g_signal_emit_by_name (test_child (dialog, "sign"), "clicked");
  assert_closed_by_signing ();
  test_settle (window);
  g_assert_true (is_nothing_kept (window));
  signature = (WbRecord *) dup_decision (window);
  g_assert_cmpstr (((WbDecision *) (gpointer) signature)->not_tested, ==, "Nothing in a draught.");
  g_assert_cmpstr (((WbDecision *) (gpointer) signature)->signed_by, ==, "Wren of the bench");
  test_window_destroy (window);
}

/* The same cell with another load is another recipe: neither has what was typed for the other. */
static void
test_typed_apart (void)
{
  WbWindow *window = test_window_new_demo ();
  GtkWidget *dialog = open_dialog (window);
  const WbExperiment *experiment = wb_decision_strip_get_answer (WB_DECISION_STRIP (get_strip (window)))->data->experiment;
  WbDecisionDraft *draft = wb_decision_draft_new (NULL, experiment);
  WbRecordForm *form = WB_RECORD_FORM (test_child (dialog, "form"));
  g_autofree char *of_ten = NULL, *of_eight = NULL, *conditions = NULL;

  put (dialog, "conditions", "At the old load.");
  wb_decision_draft_keep (draft, 7, "Hob, 8 %", form);
  g_signal_emit_by_name (test_child (dialog, "forget"), "clicked");
  put (dialog, "not_tested", "Nor at 30 °C.");
  wb_decision_draft_keep (draft, 7, "Hob, 10 %", form);
  g_signal_emit_by_name (test_child (dialog, "forget"), "clicked");
  wb_decision_draft_put_back (draft, 7, "Hob, 10 %", form);
  of_ten = dup_put (dialog, "not_tested");
  conditions = dup_put (dialog, "conditions");
  g_assert_cmpstr (of_ten, ==, "Nor at 30 °C.");
  g_assert_cmpstr (conditions, !=, "At the old load.");
  g_signal_emit_by_name (test_child (dialog, "forget"), "clicked");
  wb_decision_draft_put_back (draft, 7, "Hob, 8 %", form);
  of_eight = dup_put (dialog, "conditions");
  g_assert_cmpstr (of_eight, ==, "At the old load.");
  wb_decision_draft_free (draft);
  gtk_window_destroy (GTK_WINDOW (dialog));
  test_window_destroy (window);
}

/* ---- Nothing is chosen ---- */

/* So that each flame that was read is over it: all is rejected. */
static void
lower_limits (WbWindow *window)
{
  g_autoptr (GPtrArray) limits = wb_app_query_list_sync (test_notebook (window), &wb_limit_type, NULL);
  g_autoptr (GPtrArray) records = g_ptr_array_new ();

  for (guint i = 0; i < limits->len; i++)
    {
      WbLimit *limit = limits->pdata[i];

      if (limit->kind != WB_LIMIT_FLAME && limit->kind != WB_LIMIT_FLAME_HOUSE)
        continue;
      limit->ask_at = limit->stop_at = 1;
      g_ptr_array_add (records, limit);
    }
  g_assert_cmpint (wb_app_notebook_save_sync (test_notebook (window), "Lower", records, NULL, NULL), >, 0);
}

static gboolean
offers_finish (gpointer window)
{
  return gtk_widget_get_mapped (test_child (get_strip (window), "finish"));
}

static gboolean
offers_none (gpointer dialog)
{
  return gtk_widget_get_mapped (test_child (dialog, "none"));
}

static gboolean
is_finish_open (gpointer window)
{
  return test_find_window (WB_TYPE_FINISH_DIALOG) != NULL;
}

static void
give_up (WbWindow   *window,
         const char *why)
{
  GtkWidget *dialog;
  GType type = WB_TYPE_FINISH_DIALOG;
  g_autoptr (GPtrArray) experiments = NULL;

  test_wait (is_finish_open, window);
  dialog = test_find_window (WB_TYPE_FINISH_DIALOG);
  test_check_names (dialog, "finishing without a decision");
  g_assert_false (gtk_widget_get_sensitive (test_child (dialog, "finish")));
  gtk_editable_set_text (GTK_EDITABLE (test_child (dialog, "why")), "   ");
  g_assert_false (gtk_widget_get_sensitive (test_child (dialog, "finish")));
  gtk_editable_set_text (GTK_EDITABLE (test_child (dialog, "why")), why);
  g_signal_emit_by_name (test_child (dialog, "finish"), "clicked");
  test_wait (is_gone, &type);
  test_settle (window);
  experiments = wb_app_query_list_sync (test_notebook (window), &wb_experiment_type, NULL);
  g_assert_true (find_experiment (experiments, "HF-1")->closed);
}

/* The strip's button and the dialog's both lead there, and the reason stands in the record. */
static void
test_none (void)
{
  WbWindow *window = test_window_new_demo ();
  GtkWidget *dialog;
  GType type = WB_TYPE_DECISION_DIALOG;

  compare (window);
  wait_badge (window, "reopened");
  g_assert_false (gtk_widget_get_visible (test_child (get_strip (window), "finish")));
  withdraw (window);
  lower_limits (window);
  reopen (window);
  test_wait (offers_finish, window);
  g_signal_emit_by_name (test_child (get_strip (window), "finish"), "clicked");
  give_up (window, "Each wick floods the glass.");
  g_assert_cmpstr (wb_app_notebook_get_undo_label (test_notebook (window)), ==, "Finish HF-1 without a decision: Each wick floods the glass.");
  reopen (window);
  test_wait (offers_finish, window);
  g_assert_true (gtk_widget_activate_action (test_child (get_strip (window), "sign"), "decision.sign", NULL));
  dialog = wait_dialog ();
  test_wait (offers_none, dialog);
  g_signal_emit_by_name (test_child (dialog, "none"), "clicked");
  test_wait (is_gone, &type);
  give_up (window, "None is worth another pour.");
  g_assert_cmpstr (wb_app_notebook_get_undo_label (test_notebook (window)), ==, "Finish HF-1 without a decision: None is worth another pour.");
  test_window_destroy (window);
}

/* ---- At the pour ---- */

static gboolean
warns (gpointer window)
{
  return test_says (pour_get_sheet (window), "is not covered: the decision for HF-1 holds for ");
}

/* Another experiment pours the recipe that is signed: which lot was signed for is told while it is typed. */
static void
test_pour (void)
{
  WbWindow *window = test_window_new_demo ();
  g_autoptr (WbRecord) record = (WbRecord *) dup_decision (window), decided = NULL;
  g_autoptr (GPtrArray) experiments = wb_app_query_list_sync (test_notebook (window), &wb_experiment_type, NULL);
  g_autoptr (GPtrArray) all = wb_app_query_list_sync (test_notebook (window), &wb_cell_type, NULL), records = g_ptr_array_new ();
  gint64 planned = test_experiment (window, WB_CRAFT_STATE_PLANNED);
  const WbExperiment *signed_for = find_experiment (experiments, "HF-1");

  for (guint i = 0; i < all->len; i++)
    if (((const WbRecord *) all->pdata[i])->id == ((const WbDecision *) (gpointer) record)->cell)
      decided = wb_record_copy (all->pdata[i]);
  for (guint i = 0; i < experiments->len; i++)
    {
      WbExperiment *experiment = experiments->pdata[i];

      if (experiment->record.id != planned)
        continue;
      experiment->wax = signed_for->wax;
      experiment->dye = signed_for->dye;
      experiment->dye_pct = signed_for->dye_pct;
      experiment->dye_drops_per_kg = signed_for->dye_drops_per_kg;
      experiment->additive = signed_for->additive;
      experiment->additive_pct = signed_for->additive_pct;
      g_ptr_array_add (records, experiment);
    }
  for (guint i = 0; i < all->len; i++)
    {
      WbCell *cell = all->pdata[i];
      const WbCell *like = (const WbCell *) (gpointer) decided;

      if (cell->experiment != planned)
        continue;
      /* all go into one melt, of which one combination is the recipe */
      cell->fragrance = like->fragrance;
      cell->load_pct = like->load_pct;
      cell->load_basis = like->load_basis;
      g_ptr_array_add (records, cell);
      if (records->len > 2)
        continue;
      cell->vessel = like->vessel;
      cell->wick = like->wick;
      cell->wick_count = like->wick_count;
      cell->wick_spacing_mm = like->wick_spacing_mm;
    }
  g_assert_cmpuint (records->len, >=, 2);
  g_assert_cmpint (wb_app_notebook_save_sync (test_notebook (window), "Alike", records, NULL, NULL), >, 0);
  test_settle (window);
  g_assert_true (wb_window_go (window, "pour", planned));
  test_wait (pour_is_ready, window);
  g_assert_false (warns (window));
  pour_type (window, "wax_lot", "NEVER-1");
  test_wait (warns, window);
  test_look_at (GTK_WIDGET (window), "pour-not-covered");
  pour_type (window, "wax_lot", "");
  g_assert_false (warns (window));
  test_window_destroy (window);
}

void
test_decision_add (void)
{
  g_test_add_func ("/views/decision/the-pour-warns-of-a-lot-that-nobody-signed-for", test_pour);
  g_test_add_func ("/views/decision/what-is-typed-outlives-escape-and-a-crash", test_typed_outlives);
  g_test_add_func ("/views/decision/what-was-typed-for-another-load-stays-apart", test_typed_apart);
  g_test_add_func ("/views/decision/where-all-is-rejected-it-is-finished-with-a-reason", test_none);
  g_test_add_func ("/views/decision/it-is-signed-from-the-compare-page-by-the-keyboard", test_from_compare);
  g_test_add_func ("/views/decision/what-is-rejected-needs-a-reason", test_rejected);
  g_test_add_func ("/views/decision/what-was-typed-for-a-recipe-stays-with-it", test_typed_stays);
  g_test_add_func ("/views/decision/it-is-withdrawn-with-a-reason", test_withdrawn);
  g_test_add_func ("/views/decision/today-s-row-signs-and-finishes", test_from_today);
  g_test_add_func ("/views/decision/what-is-signed-stands-there-whole", test_whole_texts);
  g_test_add_func ("/views/decision/what-is-half-typed-stands-on-today", test_unsigned);
  g_test_add_func ("/views/decision/a-later-crossing-is-told", test_reopened);
}
