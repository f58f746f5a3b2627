/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-views.h"

#include "wb-amend-dialog.h"
#include "wb-app-query.h"
#include "wb-check-strip.h"
#include "wb-clock.h"
#include "wb-lot-choice.h"
#include "wb-lot-dialog.h"
#include "wb-lot-links.h"
#include "wb-plan-editor.h"
#include "wb-record-form.h"
#include "wb-touched-dialog.h"

static void
add_lot (GPtrArray  *lots,
         gint64      material,
         const char *code,
         gboolean    used_up)
{
  WbLot *lot = wb_record_new (&wb_lot_type);

  lot->material = material;
  lot->code = g_strdup (code);
  lot->used_up = used_up;
  g_ptr_array_add (lots, lot);
}

/* Lots W-101 (used up), W-107, W-112 of material 3; F-1 of material 6, F-2 of 7, which are the parts of the blend 5. */
static WbAppMaterials *
make_materials (void)
{
  WbAppMaterials *materials = g_new0 (WbAppMaterials, 1);

  materials->lots = g_ptr_array_new_with_free_func (wb_record_free);
  materials->parts = g_ptr_array_new_with_free_func (wb_record_free);
  add_lot (materials->lots, 3, "W-101", TRUE);
  add_lot (materials->lots, 3, "W-107", FALSE);
  add_lot (materials->lots, 3, "W-112", FALSE);
  add_lot (materials->lots, 6, "F-1", FALSE);
  add_lot (materials->lots, 7, "F-2", FALSE);
  for (gint64 part = 6; part <= 7; part++)
    {
      WbFragrancePart *record = wb_record_new (&wb_fragrance_part_type);

      record->fragrance = 5;
      record->part = part;
      g_ptr_array_add (materials->parts, record);
    }
  return materials;
}

static void
choose (GtkWidget *field,
        int        row)
{
  GtkWidget *popover = test_find (field, GTK_TYPE_POPOVER);
  GtkListBox *list = GTK_LIST_BOX (test_find (popover, GTK_TYPE_LIST_BOX));
  GtkListBoxRow *chosen = gtk_list_box_get_row_at_index (list, row);

  g_assert_nonnull (chosen);
  g_signal_emit_by_name (list, "row-activated", chosen);
}

static guint
count_offered (GtkWidget *field)
{
  GtkListBox *list = GTK_LIST_BOX (test_find (test_find (field, GTK_TYPE_POPOVER), GTK_TYPE_LIST_BOX));
  guint n = 0;

  while (gtk_list_box_get_row_at_index (list, (int) n) != NULL)
    n++;
  return n;
}

/* Below a field of a form, and below an entry that stands in a box. */
static void
test_nearly_a_lot (void)
{
  GtkWidget *window = gtk_window_new (), *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0), *form = wb_record_form_new (), *entry = gtk_entry_new ();
  g_autoptr (WbAppMaterials) materials = make_materials ();
  g_autoptr (WbRecord) batch = wb_record_new (&wb_batch_type);
  GtkWidget *wax, *hint;

  gtk_box_append (GTK_BOX (box), entry);
  gtk_box_append (GTK_BOX (box), form);
  gtk_window_set_child (GTK_WINDOW (window), box);
  wb_record_form_set_record (WB_RECORD_FORM (form), batch);
  wax = wb_record_form_get_field (WB_RECORD_FORM (form), "wax_lot");
  wb_lot_choice_offer (wax, materials, 3);
  wb_lot_choice_offer (entry, materials, 3);
  gtk_window_present (GTK_WINDOW (window));

  gtk_editable_set_text (GTK_EDITABLE (test_find (wax, GTK_TYPE_ENTRY)), "w107");
  g_assert_nonnull (strstr (wb_record_form_get_caution (WB_RECORD_FORM (form), "wax_lot"), "W-107"));
  gtk_editable_set_text (GTK_EDITABLE (test_find (wax, GTK_TYPE_ENTRY)), "w-107");
  g_assert_null (wb_record_form_get_caution (WB_RECORD_FORM (form), "wax_lot"));

  gtk_editable_set_text (GTK_EDITABLE (entry), "W 112");
  hint = gtk_widget_get_next_sibling (entry);
  g_assert_true (GTK_IS_LABEL (hint) && gtk_widget_get_visible (hint));
  g_assert_nonnull (strstr (gtk_label_get_text (GTK_LABEL (hint)), "W-112"));
  gtk_editable_set_text (GTK_EDITABLE (entry), "W-113");
  g_assert_false (gtk_widget_get_visible (hint));
  gtk_window_destroy (GTK_WINDOW (window));
}

static void
test_choice (void)
{
  GtkWidget *window = gtk_window_new ();
  GtkWidget *form = wb_record_form_new ();
  g_autoptr (WbAppMaterials) materials = make_materials ();
  g_autoptr (WbRecord) batch = wb_record_new (&wb_batch_type);
  GtkWidget *wax, *oil;
  GtkEditable *typed;
  gpointer gone = window;

  gtk_window_set_child (GTK_WINDOW (window), form);
  wb_record_form_set_record (WB_RECORD_FORM (form), batch);
  wax = wb_record_form_get_field (WB_RECORD_FORM (form), "wax_lot");
  oil = wb_record_form_get_field (WB_RECORD_FORM (form), "fragrance_lot");
  wb_lot_choice_offer (wax, materials, 3);
  wb_lot_choice_offer (oil, materials, 5);
  gtk_window_present (GTK_WINDOW (window));

  g_assert_cmpuint (count_offered (wax), ==, 2);
  typed = GTK_EDITABLE (test_find (wax, GTK_TYPE_ENTRY));
  choose (wax, 0);
  g_assert_cmpstr (gtk_editable_get_text (typed), ==, "W-107");
  choose (wax, 1);
  g_assert_cmpstr (gtk_editable_get_text (typed), ==, "W-112");
  g_assert_true (wb_record_form_get_touched (WB_RECORD_FORM (form)));
  /* a melt of two bags */
  gtk_editable_set_text (typed, "W-112, ");
  choose (wax, 0);
  g_assert_cmpstr (gtk_editable_get_text (typed), ==, "W-112, W-107");
  /* a blend's parts stand beside each other */
  choose (oil, 1);
  choose (oil, 0);
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (test_find (oil, GTK_TYPE_ENTRY))), ==, "F-2, F-1");
  /* what is typed otherwise stays as it is */
  gtk_editable_set_text (typed, "another");
  wb_lot_choice_offer (wax, materials, 0);
  g_assert_cmpuint (count_offered (wax), ==, 0);
  g_assert_null (gtk_entry_get_icon_name (GTK_ENTRY (typed), GTK_ENTRY_ICON_SECONDARY));
  g_assert_cmpstr (gtk_editable_get_text (typed), ==, "another");

  g_object_add_weak_pointer (G_OBJECT (window), &gone);
  gtk_window_destroy (GTK_WINDOW (window));
  g_assert_null (gone);
}

static gboolean
is_loaded (gpointer amend)
{
  return wb_app_live_list_get_loaded (WB_APP_LIVE_LIST (amend));
}

static gboolean
offers_lots (gpointer dialog)
{
  GtkWidget *field = wb_record_form_get_field (WB_RECORD_FORM (wb_amend_dialog_get_form (dialog)), "wick_lot");

  return gtk_entry_get_icon_name (GTK_ENTRY (test_find (field, GTK_TYPE_ENTRY)), GTK_ENTRY_ICON_SECONDARY) != NULL;
}

/* The wick of a sample of the demo, amended after the pour: its lots are offered there too. */
static void
test_amend_offers (void)
{
  WbWindow *window = test_window_new_demo ();
  g_autoptr (GPtrArray) samples = wb_app_query_list_sync (test_notebook (window), &wb_sample_type, NULL);
  g_autoptr (WbAppAmend) amend = NULL;
  g_autoptr (WbAppAmendItem) pour = NULL;
  g_autoptr (GPtrArray) cells = wb_app_query_list_sync (test_notebook (window), &wb_cell_type, NULL);
  const WbSample *sample = NULL;
  WbLot *lot = wb_record_new (&wb_lot_type);
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (wb_record_free);
  GtkWidget *dialog;

  for (guint i = 0; i < samples->len && sample == NULL; i++)
    if (((const WbSample *) samples->pdata[i])->wick_lot != NULL)
      sample = samples->pdata[i];
  g_assert_nonnull (sample);
  for (guint i = 0; i < cells->len; i++)
    if (((const WbRecord *) cells->pdata[i])->id == sample->cell)
      lot->material = ((const WbCell *) cells->pdata[i])->wick;
  lot->code = g_strdup ("K-new");
  g_ptr_array_add (records, lot);
  g_assert_cmpint (wb_app_notebook_save_sync (test_notebook (window), "A lot", records, NULL, NULL), >, 0);
  amend = wb_app_amend_new (test_notebook (window), sample->record.id);
  test_wait (is_loaded, amend);
  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (amend)); i++)
    {
      g_autoptr (WbAppAmendItem) item = g_list_model_get_item (G_LIST_MODEL (amend), i);

      if (((const WbRecord *) wb_app_amend_item_get_record (item))->type == &wb_sample_type)
        g_set_object (&pour, item);
    }
  dialog = wb_amend_dialog_new (GTK_WIDGET (window), test_notebook (window), amend, pour, 80, FALSE);
  gtk_window_present (GTK_WINDOW (dialog));
  test_wait (offers_lots, dialog);
  gtk_window_destroy (GTK_WINDOW (dialog));
  g_clear_object (&pour);
  g_clear_object (&amend);
  test_window_destroy (window);
}

static void
on_answered_cb (gboolean yes,
                gpointer user)
{
  *(int *) user = yes ? 1 : 0;
}

static void
test_used_up (void)
{
  g_autoptr (WbAppMaterials) materials = make_materials ();
  g_autoptr (GPtrArray) gone = g_ptr_array_new_with_free_func (g_free);
  GtkWidget *window = gtk_window_new ();
  int answer = -1;

  wb_lot_choice_add_used_up (gone, materials, 3, "Wax lot", "W-107, unheard-of");
  wb_lot_choice_add_used_up (gone, materials, 0, "Dye lot", "W-101");
  g_assert_cmpuint (gone->len, ==, 0);
  wb_lot_choice_ask (window, gone, on_answered_cb, &answer);
  g_assert_cmpint (answer, ==, 1);

  wb_lot_choice_add_used_up (gone, materials, 3, "Wax lot", "w-101");
  g_assert_cmpuint (gone->len, ==, 1);
  g_assert_cmpstr (gone->pdata[0], ==, "Wax lot W-101");
  gtk_window_destroy (GTK_WINDOW (window));
}

static gint64
find_wax (WbAppNotebook *notebook,
          const char    *name)
{
  g_autoptr (WbAppMaterials) materials = wb_app_query_materials_sync (notebook, NULL);

  for (guint i = 0; i < materials->waxes->len; i++)
    if (g_str_equal (((const WbWax *) materials->waxes->pdata[i])->name, name))
      return ((const WbRecord *) materials->waxes->pdata[i])->id;
  g_assert_not_reached ();
}

static gboolean
is_traced (gpointer dialog)
{
  return wb_lot_dialog_get_trace (dialog) != NULL;
}

static guint
find_use (const WbAppLotTrace *trace,
          WbAppLotUseKind      kind)
{
  for (guint i = 0; i < trace->uses->len; i++)
    if (((const WbAppLotUse *) trace->uses->pdata[i])->kind == kind)
      return i;
  g_assert_not_reached ();
}

static gboolean
is_written (gpointer path)
{
  return g_file_test (path, G_FILE_TEST_EXISTS);
}

static void
on_written_cb (GObject      *source,
               GAsyncResult *result,
               gpointer      user)
{
  g_autoptr (GError) error = NULL;

  wb_app_lot_trace_write_finish (result, &error);
  g_assert_no_error (error);
  *(gboolean *) user = TRUE;
}

static void
test_where_used (void)
{
  WbWindow *window = test_window_new_demo ();
  WbAppNotebook *notebook = test_notebook (window);
  GtkWidget *dialog = wb_lot_dialog_new (GTK_WIDGET (window), notebook, find_wax (notebook, "Dunmarl soft"), "w-107");
  g_autofree char *path = test_path ("lot.csv"), *text = NULL;
  g_auto (GStrv) lines = NULL;
  const WbAppLotTrace *trace;
  gboolean written = FALSE;

  gtk_window_present (GTK_WINDOW (dialog));
  test_wait (is_traced, dialog);
  g_assert_true (test_says (dialog, "Where lot W-107 of Dunmarl soft was used"));
  trace = wb_lot_dialog_get_trace (WB_LOT_DIALOG (dialog));
  g_assert_cmpuint (trace->decisions, ==, 1);
  test_check_names (dialog, "where a lot was used");

  wb_app_lot_trace_write_async (trace, path, on_written_cb, &written);
  test_wait (test_is_true, &written);
  g_assert_true (is_written (path));
  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  lines = g_strsplit (text, "\r\n", -1);
  /* a head, a line a use, and nothing behind the last line's end */
  g_assert_cmpuint (g_strv_length (lines), ==, trace->uses->len + 2);
  g_assert_true (g_str_has_prefix (lines[0], "material,lot,kind,experiment,code,"));
  g_assert_true (g_str_has_prefix (lines[1], "Dunmarl soft,W-107,decision,HF-1,,\"Hob, 76.2"));

  g_signal_emit_by_name (test_child (dialog, "list"), "activate", find_use (trace, WB_APP_LOT_SAMPLE));
  g_assert_true (g_type_is_a (G_OBJECT_TYPE (wb_window_get_page (window)), g_type_from_name ("WbBurnPage")));
  test_settle (window);
  test_window_destroy (window);
}

static void
test_links (void)
{
  WbWindow *window = test_window_new_demo ();
  GtkWidget *links;

  g_assert_true (wb_window_go (window, "pour", test_experiment (window, WB_CRAFT_STATE_FINISHED)));
  test_settle (window);
  links = test_find (GTK_WIDGET (wb_window_get_page (window)), WB_TYPE_LOT_LINKS);
  g_assert_nonnull (links);
  test_wait ((TestFunc) gtk_widget_get_visible, links);
  g_assert_true (test_says (links, "W-"));
  g_assert_true (test_says (links, "K-4"));
  test_window_destroy (window);
}

/* ---- A decision that is touched ---- */

static WbAppTouchedList *
get_touched (WbWindow *window)
{
  return wb_app_today_get_touched (wb_desk_get_today (wb_host_get_desk (WB_HOST (window))));
}

static gboolean
has_touched (gpointer window)
{
  const GPtrArray *all = wb_app_touched_list_get (get_touched (window));

  return all->len == 1 && ((const WbAppTouched *) all->pdata[0])->open == 1;
}

static gboolean
has_answered (gpointer window)
{
  const GPtrArray *all = wb_app_touched_list_get (get_touched (window));

  return all->len == 1 && ((const WbAppTouched *) all->pdata[0])->open == 0;
}

/* Enter on Today's line of it. */
static GtkWidget *
open_touched (WbWindow *window)
{
  GListModel *today = G_LIST_MODEL (wb_desk_get_today (wb_host_get_desk (WB_HOST (window))));
  GtkListBox *list = GTK_LIST_BOX (test_child (GTK_WIDGET (wb_window_get_page (window)), "due_list"));

  test_wait (has_touched, window);
  for (guint i = 0; i < g_list_model_get_n_items (today); i++)
    {
      g_autoptr (WbAppDue) due = g_list_model_get_item (today, i);

      if (wb_app_due_get_kind (due) == WB_APP_DUE_TOUCHED)
        g_signal_emit_by_name (list, "row-activated", gtk_list_box_get_row_at_index (list, (int) i));
    }
  return test_find_window (WB_TYPE_TOUCHED_DIALOG);
}

static gboolean
is_gone (gpointer type)
{
  return test_find_window (*(GType *) type) == NULL;
}

static void
test_explain (void)
{
  WbWindow *window = test_window_new_demo ();
  GtkWidget *dialog = open_touched (window);
  GType type = WB_TYPE_TOUCHED_DIALOG;

  g_assert_nonnull (dialog);
  test_check_names (dialog, "a decision that is touched");
  g_assert_true (test_says (dialog, "Wax lot W-112 of Dunmarl soft is new"));
  g_assert_false (gtk_widget_get_sensitive (test_child (dialog, "explain")));
  gtk_editable_set_text (GTK_EDITABLE (test_child (dialog, "why")), "The same drum, relabelled.");
  g_assert_false (gtk_widget_get_sensitive (test_child (dialog, "plan")));
  g_signal_emit_by_name (test_child (dialog, "explain"), "clicked");
  test_wait (is_gone, &type);
  test_wait (has_answered, window);
  test_settle (window);
  test_window_destroy (window);
}

static gboolean
is_confirming (gpointer window)
{
  GtkWidget *form = test_find (GTK_WIDGET (wb_window_get_page (window)), WB_TYPE_RECORD_FORM);
  GtkWidget *title = form != NULL ? wb_record_form_get_field (WB_RECORD_FORM (form), "title") : NULL;

  return title != NULL
         && g_str_equal (gtk_editable_get_text (GTK_EDITABLE (test_find (title, GTK_TYPE_ENTRY))), "Confirm HF-1: Brosk B4");
}

static gboolean
can_save (gpointer window)
{
  return test_enabled (window, "page.save");
}

static void
test_confirm (void)
{
  WbWindow *window = test_window_new_demo ();
  GtkWidget *dialog = open_touched (window);
  g_autoptr (GPtrArray) confirmations = NULL;

  g_assert_nonnull (dialog);
  g_signal_emit_by_name (test_child (dialog, "plan"), "clicked");
  test_wait (is_confirming, window);
  test_wait (can_save, window);
  gtk_widget_activate_action (GTK_WIDGET (window), "page.save", NULL);
  test_wait (has_answered, window);
  test_settle (window);
  confirmations = wb_app_query_list_sync (test_notebook (window), &wb_confirmation_type, NULL);
  g_assert_cmpuint (confirmations->len, ==, 1);
  g_assert_cmpint (((const WbConfirmation *) confirmations->pdata[0])->experiment, !=, 0);
  test_window_destroy (window);
}

/* ---- A check burn ---- */

static gint64
find_decided (WbWindow *window)
{
  g_autoptr (GPtrArray) decisions = wb_app_query_list_sync (test_notebook (window), &wb_decision_type, NULL);

  return ((const WbDecision *) decisions->pdata[0])->experiment;
}

static gboolean
is_shown (gpointer strip)
{
  return gtk_widget_get_visible (strip);
}

/* On a sample of the decided combination, with one reading at its end; its experiment is open again. */
static gint64
burn_check (WbAppNotebook *notebook)
{
  g_autoptr (GPtrArray) decisions = wb_app_query_list_sync (notebook, &wb_decision_type, NULL);
  g_autoptr (GPtrArray) samples = wb_app_query_list_by_sync (notebook, &wb_sample_type, "cell", ((const WbDecision *) decisions->pdata[0])->cell, NULL);
  g_autoptr (GPtrArray) experiments = wb_app_query_list_sync (notebook, &wb_experiment_type, NULL);
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (wb_record_free);
  g_autoptr (GError) error = NULL;
  WbBurn *burn = wb_record_new (&wb_burn_type);
  WbReading *reading = wb_record_new (&wb_reading_type);

  burn->record.id = -1;
  burn->sample = ((const WbRecord *) samples->pdata[0])->id;
  burn->number = 90;
  burn->kind = WB_BURN_CHECK;
  burn->lit_at = wb_clock_at (wb_clock_get (), wb_clock_now (wb_clock_get ()).utc_us - 2 * 24 * G_TIME_SPAN_HOUR);
  reading->burn = -1;
  reading->source = WB_SOURCE_TYPED;
  reading->elapsed_min = 240;
  reading->values[WB_COLUMN_VESSEL_C] = 90;
  reading->values[WB_COLUMN_ROOM_C] = 21;
  reading->values[WB_COLUMN_EVENT] = WB_EVENT_SNUFFED;
  for (guint i = 0; i < experiments->len; i++)
    if (((const WbRecord *) experiments->pdata[i])->id == ((const WbDecision *) decisions->pdata[0])->experiment)
      {
        WbExperiment *experiment = wb_record_copy (experiments->pdata[i]);

        experiment->closed = FALSE;
        g_ptr_array_add (records, experiment);
      }
  g_ptr_array_add (records, burn);
  g_ptr_array_add (records, reading);
  wb_app_notebook_save_sync (notebook, "Burn a reference", records, NULL, &error);
  g_assert_no_error (error);
  return burn->sample;
}

static void
test_check_burn (void)
{
  WbWindow *window = test_window_new_demo ();
  gint64 sample = burn_check (test_notebook (window));
  GtkWidget *strip;

  test_settle (window);
  g_assert_true (wb_window_go (window, "burn", find_decided (window)));
  strip = test_find (GTK_WIDGET (wb_window_get_page (window)), WB_TYPE_CHECK_STRIP);
  g_assert_nonnull (strip);
  test_settle (window);
  gtk_widget_activate_action (GTK_WIDGET (window), "page.choose", "x", sample);
  test_wait (is_shown, strip);
  g_assert_true (test_says (strip, "Check burn 90 of "));
  g_assert_true (test_says (strip, "It crossed a limit: "));
  g_assert_true (test_says (strip, "hotter than approved"));
  test_window_destroy (window);
}

void
test_lots_add (void)
{
  g_test_add_func ("/views/lots/a-check-burn-stands-beside-what-was-approved", test_check_burn);
  g_test_add_func ("/views/lots/a-reason-answers-what-touches-a-decision", test_explain);
  g_test_add_func ("/views/lots/a-confirmation-test-is-planned-from-today", test_confirm);
  g_test_add_func ("/views/lots/where-a-lot-was-used-leads-there", test_where_used);
  g_test_add_func ("/views/lots/a-poured-batch-leads-to-its-lots", test_links);
  g_test_add_func ("/views/lots/a-field-offers-what-is-not-used-up", test_choice);
  g_test_add_func ("/views/lots/what-is-nearly-a-lot-is-asked-at-the-field", test_nearly_a_lot);
  g_test_add_func ("/views/lots/an-amendment-offers-them-too", test_amend_offers);
  g_test_add_func ("/views/lots/what-is-used-up-is-asked-about", test_used_up);
}
