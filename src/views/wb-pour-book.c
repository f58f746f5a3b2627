/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-pour-book.h"

#include "wb-accessible-name.h"
#include "wb-app-draft.h"
#include "wb-app-pour.h"
#include "wb-app-timers.h"
#include "wb-badge.h"
#include "wb-bundle.h"
#include "wb-choice-list.h"
#include "wb-labels-dialog.h"
#include "wb-next-field.h"
#include "wb-paperwork.h"
#include "wb-lot-choice.h"
#include "wb-pour-doubt.h"
#include "wb-pour-draft.h"
#include "wb-pour-sheet.h"
#include "wb-pour-terms.h"
#include "wb-poured-sheet.h"
#include "wb-problem.h"
#include "wb-question.h"
#include "wb-quantity-entry.h"
#include "wb-sample-table.h"
#include "wb-save-mark.h"
#include "wb-weak-widget.h"

#include <glib/gi18n.h>
#include <math.h>

struct _WbPourBook
{
  GtkWidget        parent_instance;

  /* children */
  GtkStack        *stack;
  GtkLabel        *empty;
  GtkDropDown     *batch;
  GtkWidget       *terms;
  WbQuantityEntry *overage;
  WbQuantityEntry *hold_back;
  WbQuantityEntry *resolution;
  WbBadge         *state;
  GtkWidget       *before;
  GtkStack        *sheets;
  WbSaveMark      *mark;
  GtkWidget       *mark_button;
  GtkWidget       *note_button;

  /* owned */
  WbDesk          *desk;
  WbAppPour       *pour;
  GCancellable    *cancellable;
  WbAppDraft      *draft;     /* what is half typed outlives the program */

  /* state */
  char            *front;     /* code of the batch in front; NULL: none was */
  guint            keeping;   /* 0: nothing waits to be kept */
  gboolean         marking;
  gboolean         filling;
};

G_DEFINE_FINAL_TYPE (WbPourBook, wb_pour_book, GTK_TYPE_WIDGET)

enum { CHANGED, TYPED, N_SIGNALS };
static guint signals[N_SIGNALS];

static void
tell_changed (WbPourBook *self)
{
  g_signal_emit (self, signals[CHANGED], 0);
}

static void keep_soon (WbPourBook *self);

static void
on_sheet_changed_cb (WbPourBook *self)
{
  /* What is on its way to the file says so until it is there. */
  if (!self->marking)
    wb_save_mark_set (self->mark, WB_SAVE_IDLE, NULL);
  keep_soon (self);
  g_signal_emit (self, signals[TYPED], 0);
}

static gboolean
is_us (WbPourBook *self)
{
  return wb_app_notebook_get_settings (wb_desk_get_notebook (self->desk))->us_units;
}

/* NULL: there is none. */
static const WbAppPourBatch *
get_front (WbPourBook *self)
{
  const GPtrArray *batches = wb_app_pour_get_batches (self->pour);
  guint selected = gtk_drop_down_get_selected (self->batch);

  return selected < batches->len ? batches->pdata[selected] : NULL;
}

/* ---- Sheets ---- */

/* What a batch is known by from one reading to the next: stored ones by their id, the others by their scent. Caller frees. */
static char *
dup_key (const WbAppPourBatch *batch)
{
  char load[G_ASCII_DTOSTR_BUF_SIZE];

  if (batch->poured)
    return g_strdup_printf ("poured:%" G_GINT64_FORMAT, batch->batch->record.id);
  return g_strdup_printf ("%" G_GINT64_FORMAT ":%s:%d", batch->batch->fragrance, g_ascii_dtostr (load, sizeof load, batch->batch->load_pct),
                          batch->batch->load_basis);
}

/* ---- What is half typed ---- */

/* Many keys are one writing; a person who stops typing has it kept in less than half a second. */
#define KEEP_MS 200
static void
keep_now (WbPourBook *self)
{
  WbQuantityEntry *const terms[] = { self->overage, self->hold_back, self->resolution };

  g_clear_handle_id (&self->keeping, g_source_remove);
  if (wb_app_pour_get_data (self->pour) == NULL)
    return;
  wb_pour_draft_keep_terms (self->draft, wb_app_pour_get_data (self->pour), terms);
  wb_pour_draft_keep (self->draft, wb_app_pour_get_data (self->pour), self->sheets);
}

static gboolean
on_keep_cb (gpointer user)
{
  WbPourBook *self = user;

  self->keeping = 0;
  keep_now (self);
  return G_SOURCE_REMOVE;
}

static void
keep_soon (WbPourBook *self)
{
  if (self->keeping == 0)
    self->keeping = g_timeout_add (KEEP_MS, on_keep_cb, self);
}

static void
put_terms_back (WbPourBook *self)
{
  WbQuantityEntry *const terms[] = { self->overage, self->hold_back, self->resolution };

  wb_pour_draft_put_terms_back (self->draft, wb_app_pour_get_data (self->pour), terms);
}

static gboolean
take_terms (WbPourBook *self)
{
  WbQuantityEntry *const terms[] = { self->overage, self->hold_back, self->resolution };

  return wb_pour_terms_take (terms, self->pour);
}

static void
show_sheet (WbPourBook           *self,
            const WbAppPourBatch *batch,
            GHashTable           *kept)
{
  const WbDataset *data = wb_app_pour_get_data (self->pour);
  WbAppTimers *timers = wb_app_timers_of (wb_desk_get_notebook (self->desk));
  g_autofree char *key = dup_key (batch), *timer = NULL;
  GtkWidget *sheet = gtk_stack_get_child_by_name (self->sheets, key);
  gboolean fresh = sheet == NULL;

  if (fresh)
    {
      sheet = batch->poured ? wb_poured_sheet_new () : wb_pour_sheet_new ();
      g_signal_connect_object (sheet, "changed", G_CALLBACK (on_sheet_changed_cb), self, G_CONNECT_SWAPPED);
      gtk_stack_add_named (self->sheets, sheet, key);
    }
  /* a timer goes on while the batch waits, whatever sheet is shown, and once it is marked: its code stays */
  timer = g_strdup_printf ("%" G_GINT64_FORMAT "/%s", data->experiment->record.id, batch->batch->code);
  if (batch->poured)
    wb_poured_sheet_show (WB_POURED_SHEET (sheet), data, batch, is_us (self), timers, timer);
  else
    {
      wb_pour_sheet_show (WB_POUR_SHEET (sheet), data, batch, is_us (self), timers, timer);
      wb_pour_sheet_offer_lots (WB_POUR_SHEET (sheet), self->pour, batch);
    }
  if (fresh)
    wb_pour_draft_put_back (self->draft, data, sheet, key);
  g_hash_table_add (kept, sheet);
}

static void
drop_others (WbPourBook *self,
             GHashTable *kept)
{
  GtkWidget *next;

  for (GtkWidget *sheet = gtk_widget_get_first_child (GTK_WIDGET (self->sheets)); sheet != NULL; sheet = next)
    {
      next = gtk_widget_get_next_sibling (sheet);
      if (!g_hash_table_contains (kept, sheet))
        gtk_stack_remove (self->sheets, sheet);
    }
}

static void
show_sheets (WbPourBook *self)
{
  const GPtrArray *batches = wb_app_pour_get_batches (self->pour);
  g_autoptr (GHashTable) kept = g_hash_table_new (NULL, NULL);

  for (guint i = 0; i < batches->len; i++)
    show_sheet (self, batches->pdata[i], kept);
  drop_others (self, kept);
  wb_pour_draft_forget_gone (self->draft, wb_app_pour_get_data (self->pour), self->sheets);
}

static void
show_front (WbPourBook *self)
{
  const WbAppPourBatch *front = get_front (self);
  g_autofree char *key = NULL;
  g_autofree char *date = NULL;
  g_autofree char *poured = NULL;

  if (front == NULL)
    return;
  g_free (self->front);
  self->front = g_strdup (front->batch->code);
  key = dup_key (front);
  gtk_stack_set_visible_child_name (self->sheets, key);
  if (front->poured)
    {
      date = wb_day_format_local (wb_batch_get_day (front->batch));
      poured = g_strdup_printf (_("Poured on %s"), date);
    }
  wb_badge_set (self->state, front->poured ? WB_BADGE_GOOD : WB_BADGE_NOTE, front->poured ? poured : _("Not poured yet"));
  gtk_widget_set_visible (self->before, wb_pour_draft_is_of_before (gtk_stack_get_visible_child (self->sheets)));
  gtk_widget_set_visible (self->terms, !front->poured);
  gtk_widget_set_visible (self->mark_button, !front->poured);
  gtk_widget_set_visible (self->note_button, front->poured);
}

static void
fill_batches (WbPourBook *self)
{
  const GPtrArray *batches = wb_app_pour_get_batches (self->pour);
  g_autoptr (GtkStringList) titles = gtk_string_list_new (NULL);
  guint selected = gtk_drop_down_get_selected (self->batch);

  for (guint i = 0; i < batches->len; i++)
    {
      const WbAppPourBatch *batch = batches->pdata[i];
      g_autofree char *title = g_strdup_printf ("%s  %s", batch->batch->code, batch->title);

      if (g_strcmp0 (batch->batch->code, self->front) == 0)
        selected = i;
      gtk_string_list_append (titles, title);
    }
  self->filling = TRUE;
  gtk_drop_down_set_model (self->batch, G_LIST_MODEL (titles));
  gtk_drop_down_set_selected (self->batch, selected < batches->len ? selected : 0);
  self->filling = FALSE;
}

static void
say_nothing (WbPourBook *self,
             const char *why)
{
  gtk_label_set_text (self->empty, why);
  gtk_stack_set_visible_child_name (self->stack, "empty");
}

static void
show_all (WbPourBook *self)
{
  WbQuantityEntry *const terms[] = { self->overage, self->hold_back, self->resolution };

  if (wb_app_pour_get_batches (self->pour)->len == 0)
    {
      say_nothing (self, _("There is nothing to pour here: the samples of this experiment came from a file, with what was poured already."));
      return;
    }
  fill_batches (self);
  wb_pour_terms_fill (terms, wb_app_pour_get_batches (self->pour));
  put_terms_back (self);
  take_terms (self);
  show_sheets (self);
  show_front (self);
  gtk_stack_set_visible_child_name (self->stack, "batches");
}

/* What was kept comes after the sheets. */
static void
on_draft_loaded_cb (WbPourBook *self)
{
  if (wb_app_pour_get_data (self->pour) == NULL || wb_app_pour_get_batches (self->pour)->len == 0)
    return;
  put_terms_back (self);
  if (take_terms (self))
    show_sheets (self);
  wb_pour_draft_put_all_back (self->draft, wb_app_pour_get_data (self->pour), self->sheets);
  show_front (self);
  tell_changed (self);
}

/* ---- Reading ---- */

static void
stop_reading (WbPourBook *self)
{
  if (self->cancellable != NULL)
    g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
}

static void
on_loaded_cb (GObject      *source,
              GAsyncResult *result,
              gpointer      data)
{
  g_autoptr (GError) error = NULL;
  gboolean loaded = wb_app_pour_load_finish (WB_APP_POUR (source), result, &error);
  WbPourBook *self;

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  self = WB_POUR_BOOK (data);
  if (loaded)
    show_all (self);
  else if (g_error_matches (error, WB_APP_ERROR, WB_APP_ERROR_UNKNOWN))
    say_nothing (self, _("This experiment is no longer in the notebook: its plan was taken back. Redo brings it back."));
  else
    wb_problem_show (GTK_WIDGET (self), _("The pour could not be read"), error);
  tell_changed (self);
}

/* ---- What the person does ---- */

static void
on_batch_selected_cb (WbPourBook *self)
{
  if (self->filling || self->pour == NULL)
    return;
  wb_save_mark_set (self->mark, WB_SAVE_IDLE, NULL);
  show_front (self);
  tell_changed (self);
}

static void
on_terms_changed_cb (WbPourBook *self)
{
  if (self->pour == NULL || wb_app_pour_get_data (self->pour) == NULL)
    return;
  if (take_terms (self))
    show_sheets (self);
  on_sheet_changed_cb (self);
}

static void
set_marking (WbPourBook *self,
             gboolean    marking)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));

  self->marking = marking;
  /* A text field that has the focus does not like to be made insensitive. */
  if (marking && root != NULL)
    gtk_root_set_focus (root, NULL);
  gtk_widget_set_sensitive (GTK_WIDGET (self->stack), !marking);
}

static void
on_marked_cb (GObject      *source,
              GAsyncResult *result,
              gpointer      data)
{
  g_autoptr (WbPourBook) self = data;
  g_autoptr (GError) error = NULL;
  gboolean marked = wb_app_pour_mark_finish (WB_APP_POUR (source), result, &error);

  /* Closed in the meantime: what was asked is saved all the same. */
  if (self->stack == NULL)
    return;
  set_marking (self, FALSE);
  if (marked)
    {
      wb_problem_clear (GTK_WIDGET (self), _("The batch was not marked as poured"));
      wb_save_mark_set (self->mark, WB_SAVE_SAVED, NULL);
      wb_pour_book_reload (self);
    }
  else
    {
      wb_save_mark_set (self->mark, WB_SAVE_FAILED, NULL);
      wb_problem_show (GTK_WIDGET (self), _("The batch was not marked as poured"), error);
    }
  tell_changed (self);
}

/* On to the next field, whatever it is: nothing is marked or saved by it. */
static gboolean
on_key_cb (WbPourBook      *self,
           guint            keyval,
           guint            keycode,
           GdkModifierType  state)
{
  GtkWidget *field = wb_next_field_find (GTK_WIDGET (self)), *table;

  if (field == NULL || (state & gtk_accelerator_get_default_mod_mask ()) != 0
      || (keyval != GDK_KEY_Return && keyval != GDK_KEY_KP_Enter && keyval != GDK_KEY_ISO_Enter))
    return GDK_EVENT_PROPAGATE;
  table = gtk_widget_get_ancestor (field, WB_TYPE_SAMPLE_TABLE);
  if (table == NULL || !wb_sample_table_go_on (WB_SAMPLE_TABLE (table)))
    wb_next_field_go (GTK_WIDGET (self), table != NULL ? table : field);
  return GDK_EVENT_STOP;
}

/* ---- Class ---- */

static void
wb_pour_book_dispose (GObject *object)
{
  WbPourBook *self = WB_POUR_BOOK (object);

  stop_reading (self);
  if (self->keeping != 0)
    keep_now (self);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_POUR_BOOK);
  g_clear_object (&self->draft);
  g_clear_object (&self->pour);
  g_clear_object (&self->desk);
  G_OBJECT_CLASS (wb_pour_book_parent_class)->dispose (object);
}

static void
wb_pour_book_finalize (GObject *object)
{
  g_free (WB_POUR_BOOK (object)->front);
  G_OBJECT_CLASS (wb_pour_book_parent_class)->finalize (object);
}

static void
wb_pour_book_class_init (WbPourBookClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  g_type_ensure (WB_TYPE_BADGE);
  g_type_ensure (WB_TYPE_QUANTITY_ENTRY);
  g_type_ensure (WB_TYPE_SAVE_MARK);
  G_OBJECT_CLASS (klass)->dispose = wb_pour_book_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_pour_book_finalize;
  signals[CHANGED] = g_signal_new ("changed", WB_TYPE_POUR_BOOK, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[TYPED] = g_signal_new ("typed", WB_TYPE_POUR_BOOK, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "pour-book.ui");
  gtk_widget_class_bind_template_child (widget_class, WbPourBook, stack);
  gtk_widget_class_bind_template_child (widget_class, WbPourBook, empty);
  gtk_widget_class_bind_template_child (widget_class, WbPourBook, batch);
  gtk_widget_class_bind_template_child (widget_class, WbPourBook, terms);
  gtk_widget_class_bind_template_child (widget_class, WbPourBook, overage);
  gtk_widget_class_bind_template_child (widget_class, WbPourBook, hold_back);
  gtk_widget_class_bind_template_child (widget_class, WbPourBook, resolution);
  gtk_widget_class_bind_template_child (widget_class, WbPourBook, state);
  gtk_widget_class_bind_template_child (widget_class, WbPourBook, before);
  gtk_widget_class_bind_template_child (widget_class, WbPourBook, sheets);
  gtk_widget_class_bind_template_child (widget_class, WbPourBook, mark);
  gtk_widget_class_bind_template_child (widget_class, WbPourBook, mark_button);
  gtk_widget_class_bind_template_child (widget_class, WbPourBook, note_button);
  gtk_widget_class_bind_template_callback (widget_class, on_batch_selected_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_terms_changed_cb);
}

static void
wb_pour_book_init (WbPourBook *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();
  WbQuantityEntry *terms[WB_POUR_N_TERMS];

  self->filling = TRUE;
  gtk_widget_init_template (GTK_WIDGET (self));
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (on_key_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
  self->filling = FALSE;
  wb_choice_list_fit (self->batch, 22);
  wb_accessible_name_drop_down (self->batch, _("Batch"));
  terms[0] = self->overage;
  terms[1] = self->hold_back;
  terms[2] = self->resolution;
  wb_pour_terms_set_up (terms);
}

GtkWidget *
wb_pour_book_new (WbDesk *desk,
                  gint64  experiment)
{
  WbPourBook *self = g_object_new (WB_TYPE_POUR_BOOK, NULL);

  g_return_val_if_fail (WB_IS_DESK (desk), NULL);
  self->desk = g_object_ref (desk);
  self->pour = wb_app_pour_new (wb_desk_get_notebook (desk), experiment);
  self->draft = g_object_ref (wb_app_draft_of (wb_desk_get_notebook (desk), "pour"));
  g_signal_connect_object (self->draft, "loaded", G_CALLBACK (on_draft_loaded_cb), self, G_CONNECT_SWAPPED);
  return GTK_WIDGET (self);
}

void
wb_pour_book_reload (WbPourBook *self)
{
  g_return_if_fail (WB_IS_POUR_BOOK (self));

  stop_reading (self);
  self->cancellable = g_cancellable_new ();
  wb_app_pour_load_async (self->pour, self->cancellable, on_loaded_cb, self);
}

gboolean
wb_pour_book_can_print (WbPourBook *self)
{
  const WbAppPourBatch *front;

  g_return_val_if_fail (WB_IS_POUR_BOOK (self), FALSE);
  front = get_front (self);
  return front != NULL && front->sheet != NULL && !self->marking;
}

gboolean
wb_pour_book_can_label (WbPourBook *self)
{
  g_return_val_if_fail (WB_IS_POUR_BOOK (self), FALSE);
  /* no mass stands on a label */
  return get_front (self) != NULL && get_front (self)->samples->len > 0 && !self->marking;
}

void
wb_pour_book_print (WbPourBook *self)
{
  g_return_if_fail (WB_IS_POUR_BOOK (self));
  g_return_if_fail (wb_pour_book_can_print (self));

  wb_paperwork_batch (GTK_WIDGET (self), self->pour, gtk_drop_down_get_selected (self->batch));
}

void
wb_pour_book_ask_labels (WbPourBook *self)
{
  gboolean letter;

  g_return_if_fail (WB_IS_POUR_BOOK (self));
  g_return_if_fail (get_front (self) != NULL);

  letter = wb_app_notebook_get_settings (wb_desk_get_notebook (self->desk))->paper == WB_REPORT_LETTER;
  gtk_window_present (GTK_WINDOW (wb_labels_dialog_new (GTK_WIDGET (self), self->pour, gtk_drop_down_get_selected (self->batch), letter)));
}

GtkWidget *
wb_pour_book_get_sheet (WbPourBook *self)
{
  g_return_val_if_fail (WB_IS_POUR_BOOK (self), NULL);
  return gtk_stack_get_visible_child (self->sheets);
}

gboolean
wb_pour_book_get_touched (WbPourBook *self)
{
  g_return_val_if_fail (WB_IS_POUR_BOOK (self), FALSE);

  for (GtkWidget *sheet = gtk_widget_get_first_child (GTK_WIDGET (self->sheets)); sheet != NULL; sheet = gtk_widget_get_next_sibling (sheet))
    if (wb_pour_draft_is_touched (sheet))
      return TRUE;
  return FALSE;
}

gboolean
wb_pour_book_can_mark (WbPourBook *self)
{
  const WbAppPourBatch *front;
  GtkWidget *sheet;

  g_return_val_if_fail (WB_IS_POUR_BOOK (self), FALSE);

  front = get_front (self);
  sheet = wb_pour_book_get_sheet (self);
  return !self->marking && front != NULL && !front->poured && WB_IS_POUR_SHEET (sheet) && wb_pour_sheet_get_ready (WB_POUR_SHEET (sheet));
}

static void
mark (WbPourBook *self)
{
  const WbAppPourBatch *front = get_front (self);
  WbPourSheet *sheet = WB_POUR_SHEET (wb_pour_book_get_sheet (self));
  g_autoptr (WbRecord) actual = (WbRecord *) wb_pour_sheet_dup_actual (sheet, front->batch);
  g_autoptr (GPtrArray) steps = wb_pour_sheet_dup_steps (sheet);
  g_autoptr (GArray) poured = wb_pour_sheet_dup_poured (sheet), wick_lots = wb_pour_sheet_dup_wick_lots (sheet);
  g_autofree char *wick_lot = wb_pour_sheet_dup_wick_lot (sheet), *vessel_lot = wb_pour_sheet_dup_vessel_lot (sheet);

  set_marking (self, TRUE);
  wb_save_mark_set (self->mark, WB_SAVE_SAVING, NULL);
  wb_app_pour_mark_async (self->pour, gtk_drop_down_get_selected (self->batch), (const WbBatch *) (gpointer) actual, steps, poured, wick_lot,
                          wick_lots, vessel_lot, NULL, on_marked_cb, g_object_ref (self));
  tell_changed (self);
}

/* The question goes with the window, and may outlive the book that it was about. */
static void
on_doubt_answered_cb (gboolean yes,
                      gpointer user)
{
  g_autoptr (WbPourBook) self = wb_weak_widget_take (user);

  if (yes && self != NULL && self->stack != NULL && wb_pour_book_can_mark (self))
    mark (self);
}

static void
ask_doubt (WbPourBook *self,
           const char *doubt)
{
  wb_question_choose (GTK_WIDGET (self), _("Mark as poured all the same?"), doubt, _("_Back"), _("_Mark"), on_doubt_answered_cb, wb_weak_widget_new (self));
}

void
wb_pour_book_mark (WbPourBook *self)
{
  WbQuantityEntry *const terms[] = { self->overage, self->hold_back, self->resolution };
  g_autoptr (WbRecord) actual = NULL;
  g_autoptr (GArray) poured = NULL, wick_lots = NULL;
  g_autofree char *measured = NULL, *used_up = NULL, *wick_lot = NULL, *vessel_lot = NULL, *half = NULL, *doubt = NULL;
  WbPourSheet *sheet;

  g_return_if_fail (WB_IS_POUR_BOOK (self));
  g_return_if_fail (wb_pour_book_can_mark (self));

  sheet = WB_POUR_SHEET (wb_pour_book_get_sheet (self));
  if (!wb_pour_sheet_check (sheet) || !wb_pour_terms_check (terms))
    return;
  actual = (WbRecord *) wb_pour_sheet_dup_actual (sheet, get_front (self)->batch);
  poured = wb_pour_sheet_dup_poured (sheet);
  wick_lot = wb_pour_sheet_dup_wick_lot (sheet);
  vessel_lot = wb_pour_sheet_dup_vessel_lot (sheet);
  wick_lots = wb_pour_sheet_dup_wick_lots (sheet);
  used_up = wb_pour_doubt_dup_lots (self->pour, get_front (self), (const WbBatch *) (gpointer) actual, wick_lot, wick_lots, vessel_lot);
  measured = wb_pour_doubt_dup (get_front (self), wb_app_pour_get_data (self->pour), (const WbBatch *) (gpointer) actual, poured, is_us (self));
  half = wb_pour_sheet_dup_doubts (sheet);
  /* what can hurt first */
  doubt = g_strstrip (g_strconcat (measured, "\n", half, used_up, NULL));
  if (*doubt == '\0')
    mark (self);
  else
    ask_doubt (self, doubt);
}

void
wb_pour_book_keep (WbPourBook *self)
{
  g_return_if_fail (WB_IS_POUR_BOOK (self));

  keep_now (self);
  wb_save_mark_set (self->mark, WB_SAVE_IDLE, _("What is typed is kept. The batch is not marked as poured."));
}

/* ---- What was found once it had set ---- */

gboolean
wb_pour_book_can_note (WbPourBook *self)
{
  GtkWidget *sheet;

  g_return_val_if_fail (WB_IS_POUR_BOOK (self), FALSE);

  sheet = wb_pour_book_get_sheet (self);
  return !self->marking && get_front (self) != NULL && WB_IS_POURED_SHEET (sheet) && wb_poured_sheet_get_touched (WB_POURED_SHEET (sheet));
}

static void
on_noted_cb (GObject      *source,
             GAsyncResult *result,
             gpointer      data)
{
  g_autoptr (WbPourBook) self = data;
  g_autoptr (GError) error = NULL;
  gboolean noted = wb_app_pour_note_finish (WB_APP_POUR (source), result, &error);

  if (self->stack == NULL)
    return;
  set_marking (self, FALSE);
  wb_save_mark_set (self->mark, noted ? WB_SAVE_SAVED : WB_SAVE_FAILED, NULL);
  if (noted)
    {
      wb_problem_clear (GTK_WIDGET (self), _("What was found was not saved"));
      /* what stands in the fields is what is stored now */
      gtk_stack_remove (self->sheets, wb_pour_book_get_sheet (self));
      wb_pour_draft_forget_gone (self->draft, wb_app_pour_get_data (self->pour), self->sheets);
      wb_pour_book_reload (self);
    }
  else
    wb_problem_show (GTK_WIDGET (self), _("What was found was not saved"), error);
  tell_changed (self);
}

void
wb_pour_book_note (WbPourBook *self)
{
  g_autoptr (GPtrArray) samples = NULL, steps = NULL;
  g_autoptr (WbRecord) batch = NULL;
  WbPouredSheet *sheet;

  g_return_if_fail (WB_IS_POUR_BOOK (self));
  g_return_if_fail (wb_pour_book_can_note (self));

  sheet = WB_POURED_SHEET (wb_pour_book_get_sheet (self));
  if (!wb_poured_sheet_check (sheet))
    return;
  batch = (WbRecord *) wb_poured_sheet_dup_batch (sheet);
  samples = wb_poured_sheet_dup_samples (sheet);
  steps = wb_poured_sheet_dup_steps (sheet);
  set_marking (self, TRUE);
  wb_save_mark_set (self->mark, WB_SAVE_SAVING, NULL);
  wb_app_pour_note_async (self->pour, gtk_drop_down_get_selected (self->batch), (const WbBatch *) (gpointer) batch, samples, steps, NULL, on_noted_cb,
                          g_object_ref (self));
  tell_changed (self);
}

void
wb_pour_book_select (WbPourBook *self,
                     guint       batch)
{
  g_return_if_fail (WB_IS_POUR_BOOK (self));
  gtk_drop_down_set_selected (self->batch, batch);
}

void
wb_pour_book_select_code (WbPourBook *self,
                          const char *code)
{
  const GPtrArray *batches = wb_app_pour_get_batches (self->pour);

  for (guint i = 0; batches != NULL && i < batches->len; i++)
    if (g_strcmp0 (((const WbAppPourBatch *) batches->pdata[i])->batch->code, code) == 0)
      gtk_drop_down_set_selected (self->batch, i);
  g_free (self->front);
  self->front = g_strdup (code);
}
