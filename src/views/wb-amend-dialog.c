/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-amend-dialog.h"

#include "wb-amend-reading.h"
#include "wb-amend-words.h"
#include "wb-bundle.h"
#include "wb-doubt-words.h"
#include "wb-history-dialog.h"
#include "wb-lot-choice.h"
#include "wb-pour-doubt.h"
#include "wb-problem.h"
#include "wb-question.h"
#include "wb-record-form.h"
#include "wb-save-mark.h"
#include "wb-weak-widget.h"

#include <glib/gi18n.h>

struct _WbAmendDialog
{
  GtkWindow       parent_instance;

  /* children */
  GtkLabel       *heading;
  GtkLabel       *caution;
  GtkScrolledWindow *scrolled;
  GtkWidget      *form;     /* WbAmendReading or WbRecordForm */
  GtkEditable    *reason;
  GtkLabel       *problem;
  GtkWidget      *take_out;
  GtkWidget      *save;
  WbSaveMark     *mark;

  /* owned */
  WbAppNotebook  *notebook;
  WbAppAmend     *amend;
  WbAppAmendItem *item;

  /* state */
  double          inner_mm;
  gboolean        us_units;
};

G_DEFINE_FINAL_TYPE (WbAmendDialog, wb_amend_dialog, GTK_TYPE_WINDOW)

static void
set_saving (WbAmendDialog *self,
            gboolean       saving)
{
  gtk_widget_set_sensitive (self->save, !saving);
  gtk_widget_set_sensitive (self->take_out, !saving);
  wb_save_mark_set (self->mark, saving ? WB_SAVE_SAVING : WB_SAVE_IDLE, NULL);
}

static void
on_done_cb (GObject      *source,
            GAsyncResult *result,
            gpointer      user)
{
  g_autoptr (WbAmendDialog) self = NULL;
  g_autoptr (GError) error = NULL;

  wb_app_amend_finish (WB_APP_AMEND (source), result, &error);
  self = wb_weak_widget_take_saved (user, _("The amendment was not saved"), error);
  if (self == NULL)
    return;
  set_saving (self, FALSE);
  wb_problem_tell_error (self->problem, error);
}

/* NULL: it was not said, and the keyboard is there now. */
static const char *
get_reason (WbAmendDialog *self)
{
  const char *reason = gtk_editable_get_text (self->reason);
  g_autofree char *clean = g_strstrip (g_strdup (reason));

  if (*clean != '\0')
    return reason;
  wb_problem_tell (self->problem, _("Say why: the reason stays beside both versions."));
  gtk_widget_grab_focus (GTK_WIDGET (self->reason));
  return NULL;
}

static gboolean
check_form (WbAmendDialog *self)
{
  return WB_IS_AMEND_READING (self->form) ? wb_amend_reading_check (WB_AMEND_READING (self->form))
                                          : wb_record_form_check (WB_RECORD_FORM (self->form));
}

static gpointer
dup_record (WbAmendDialog *self)
{
  return WB_IS_AMEND_READING (self->form) ? wb_amend_reading_dup (WB_AMEND_READING (self->form))
                                          : wb_record_form_dup_record (WB_RECORD_FORM (self->form));
}

static void
save (WbAmendDialog *self)
{
  g_autoptr (WbRecord) record = dup_record (self);

  set_saving (self, TRUE);
  wb_app_amend_save_async (self->amend, self->item, record, gtk_editable_get_text (self->reason), NULL, on_done_cb, wb_weak_widget_new (self));
}

/* The question goes with the dialog. */
static void
on_doubt_answered_cb (gboolean yes,
                      gpointer user)
{
  WbAmendDialog *self = user;

  if (yes)
    save (self);
  else
    gtk_widget_grab_focus (self->form);
}

static gboolean
has_line (const GPtrArray *lines,
          const char      *text)
{
  for (guint i = 0; i < lines->len; i++)
    if (g_str_equal (((const WbCraftPotLine *) lines->pdata[i])->text, text))
      return TRUE;
  return FALSE;
}

/* What the amendment says of the melt that was not so before. Caller frees; NULL: nothing. */
static char *
dup_pot (WbAmendDialog *self,
         gconstpointer  record)
{
  g_autoptr (GPtrArray) lines = wb_app_amend_find_pot (self->amend, record, self->us_units);
  g_autoptr (GPtrArray) were = wb_app_amend_find_pot (self->amend, wb_app_amend_item_get_record (self->item), self->us_units);

  for (guint i = 0; i < lines->len; i++)
    if (!has_line (were, ((const WbCraftPotLine *) lines->pdata[i])->text))
      return wb_pour_doubt_dup_pot (lines, WB_POUR_DOUBT_ALL, FALSE);
  return NULL;
}

/* While it is typed, and once the limits are known. */
static void
show_pot (WbAmendDialog *self)
{
  g_autoptr (WbRecord) record = NULL;
  g_autoptr (GPtrArray) lines = NULL;

  if (((const WbRecord *) wb_app_amend_item_get_record (self->item))->type != &wb_batch_type)
    return;
  record = dup_record (self);
  lines = wb_app_amend_find_pot (self->amend, record, self->us_units);
  wb_pour_doubt_show_pot (WB_RECORD_FORM (self->form), (const WbBatch *) (gpointer) record, lines, FALSE);
}

static void
on_save_clicked_cb (WbAmendDialog *self)
{
  g_autoptr (WbRecord) record = NULL;
  g_autoptr (GArray) doubts = NULL;
  g_autofree char *words = NULL, *pot = NULL;

  wb_problem_tell (self->problem, NULL);
  if (!gtk_widget_get_sensitive (self->save) || !check_form (self))
    return;
  if (get_reason (self) == NULL)
    return;
  record = dup_record (self);
  doubts = wb_app_amend_find_doubts (self->amend, self->item, record, self->inner_mm);
  pot = dup_pot (self, record);
  if (doubts->len == 0 && pot == NULL)
    {
      save (self);
      return;
    }
  /* a batch has no other doubts */
  words = pot != NULL ? g_steal_pointer (&pot) : wb_doubt_words_dup_all (doubts, self->us_units);
  wb_question_choose (GTK_WIDGET (self), _("Is that right?"), words, _("_Correct it"), _("_It is so"), on_doubt_answered_cb, self);
}

static void
on_take_out_clicked_cb (WbAmendDialog *self)
{
  const char *reason;

  wb_problem_tell (self->problem, NULL);
  reason = get_reason (self);
  if (reason == NULL)
    return;
  set_saving (self, TRUE);
  wb_app_amend_take_out_async (self->amend, self->item, reason, NULL, on_done_cb, wb_weak_widget_new (self));
}

static void
on_history_clicked_cb (WbAmendDialog *self)
{
  gtk_window_present (GTK_WINDOW (wb_history_dialog_new (GTK_WIDGET (self), self->notebook, self->item,
                                                         wb_app_amend_get_code (self->amend), self->us_units)));
}

/* Enter in the form goes on to the reason, and there saves. */
static void
on_form_activate_cb (WbAmendDialog *self)
{
  gtk_widget_grab_focus (GTK_WIDGET (self->reason));
}

/* Not before it is shown: a window that has the keyboard before has no role for assistive technology in GTK 4.8. */
static void
wb_amend_dialog_map (GtkWidget *widget)
{
  GTK_WIDGET_CLASS (wb_amend_dialog_parent_class)->map (widget);
  gtk_widget_grab_focus (WB_AMEND_DIALOG (widget)->form);
}

static void
wb_amend_dialog_dispose (GObject *object)
{
  WbAmendDialog *self = WB_AMEND_DIALOG (object);

  g_clear_object (&self->notebook);
  g_clear_object (&self->amend);
  g_clear_object (&self->item);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_AMEND_DIALOG);
  G_OBJECT_CLASS (wb_amend_dialog_parent_class)->dispose (object);
}

static void
wb_amend_dialog_class_init (WbAmendDialogClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  g_type_ensure (WB_TYPE_SAVE_MARK);
  G_OBJECT_CLASS (klass)->dispose = wb_amend_dialog_dispose;
  widget_class->map = wb_amend_dialog_map;
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "amend-dialog.ui");
  gtk_widget_class_bind_template_child (widget_class, WbAmendDialog, heading);
  gtk_widget_class_bind_template_child (widget_class, WbAmendDialog, caution);
  gtk_widget_class_bind_template_child (widget_class, WbAmendDialog, scrolled);
  gtk_widget_class_bind_template_child (widget_class, WbAmendDialog, reason);
  gtk_widget_class_bind_template_child (widget_class, WbAmendDialog, problem);
  gtk_widget_class_bind_template_child (widget_class, WbAmendDialog, take_out);
  gtk_widget_class_bind_template_child (widget_class, WbAmendDialog, save);
  gtk_widget_class_bind_template_child (widget_class, WbAmendDialog, mark);
  gtk_widget_class_bind_template_callback (widget_class, on_save_clicked_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_take_out_clicked_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_history_clicked_cb);
}

static void
wb_amend_dialog_init (WbAmendDialog *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

/* All fields but those that are amended. */
static char **
dup_hidden (const WbRecordType *type)
{
  g_autoptr (GStrvBuilder) hidden = g_strv_builder_new ();

  for (guint i = 0; i < type->n_fields; i++)
    if (!g_strv_contains (wb_amend_words_get_fields (type), type->fields[i].name))
      g_strv_builder_add (hidden, type->fields[i].name);
  return g_strv_builder_end (hidden);
}

static GtkWidget *
form_new (WbAppAmendItem *item,
          double          inner_mm,
          gboolean        us_units)
{
  const WbRecord *record = wb_app_amend_item_get_record (item);
  g_auto (GStrv) hidden = NULL;
  GtkWidget *form;

  if (record->type == &wb_reading_type)
    return wb_amend_reading_new ((const WbReading *) record, inner_mm, us_units);
  form = wb_record_form_new ();
  hidden = dup_hidden (record->type);
  wb_record_form_set_us_units (WB_RECORD_FORM (form), us_units);
  wb_record_form_set_hidden (WB_RECORD_FORM (form), (const char *const *) hidden);
  wb_record_form_set_record (WB_RECORD_FORM (form), record);
  return form;
}

/* Comes after the rest: who types before is offered nothing, and what is typed becomes a lot all the same. */
static void
on_shelf_cb (GObject      *source,
             GAsyncResult *result,
             gpointer      user)
{
  g_autoptr (WbAmendDialog) self = wb_weak_widget_take (user);
  g_autoptr (GError) error = NULL;
  g_autoptr (WbAppLotShelf) shelf = wb_app_lot_shelf_finish (WB_APP_NOTEBOOK (source), result, &error);
  const char *const *names;
  WbAppMaterials materials = { NULL };

  if (self == NULL || self->amend == NULL)
    return;
  if (shelf == NULL)
    {
      wb_problem_tell_error (self->problem, error);
      return;
    }
  materials.lots = shelf->lots;
  materials.parts = shelf->parts;
  names = wb_amend_words_get_fields (((const WbRecord *) wb_app_amend_item_get_record (self->item))->type);
  for (guint i = 0; names[i] != NULL; i++)
    if (wb_app_lot_shelf_get_material (shelf, names[i]) != 0)
      wb_lot_choice_offer (wb_record_form_get_field (WB_RECORD_FORM (self->form), names[i]), &materials,
                           wb_app_lot_shelf_get_material (shelf, names[i]));
  wb_app_amend_set_shelf (self->amend, g_steal_pointer (&shelf));
  show_pot (self);
}

/* The lots of a sample, or of a batch: of what that sample is made. */
static void
read_shelf (WbAmendDialog *self)
{
  const WbRecord *record = wb_app_amend_item_get_record (self->item);

  if (record->type == &wb_sample_type || record->type == &wb_batch_type)
    wb_app_lot_shelf_async (self->notebook, wb_app_amend_get_sample (self->amend), NULL, on_shelf_cb, wb_weak_widget_new (self));
}

/* What else hangs on it. NULL: nothing. Caller frees. */
static char *
dup_caution (WbAppAmendItem *item,
             const char     *code)
{
  const WbRecord *record = wb_app_amend_item_get_record (item);

  if (wb_app_amend_item_ends_burn (item))
    return g_strdup_printf (_("This reading ended the burn: without its event %s counts as alight."), code);
  if (record->type == &wb_batch_type)
    return g_strdup (_("Every sample of this batch was poured so: it is amended for all of them."));
  return NULL;
}

GtkWidget *
wb_amend_dialog_new (GtkWidget      *where,
                     WbAppNotebook  *notebook,
                     WbAppAmend     *amend,
                     WbAppAmendItem *item,
                     double          inner_mm,
                     gboolean        us_units)
{
  GtkRoot *root = where != NULL ? gtk_widget_get_root (where) : NULL;
  g_autofree char *what = NULL, *title = NULL, *caution = NULL;
  const char *code;
  WbAmendDialog *self;

  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (notebook), NULL);
  g_return_val_if_fail (WB_IS_APP_AMEND (amend), NULL);
  g_return_val_if_fail (WB_IS_APP_AMEND_ITEM (item), NULL);

  code = wb_app_amend_get_code (amend);
  what = wb_amend_words_dup_whole (item, code);
  title = g_strdup_printf (_("Amend: %s"), what);
  self = g_object_new (WB_TYPE_AMEND_DIALOG, "title", title, "transient-for", GTK_IS_WINDOW (root) ? root : NULL, NULL);
  self->notebook = g_object_ref (notebook);
  self->amend = g_object_ref (amend);
  self->item = g_object_ref (item);
  /* A title bar cuts it, or is not there at all. */
  gtk_label_set_text (self->heading, title);
  self->inner_mm = inner_mm;
  self->us_units = us_units;
  self->form = form_new (item, inner_mm, us_units);
  gtk_scrolled_window_set_child (self->scrolled, self->form);
  g_signal_connect_swapped (self->form, "activate", G_CALLBACK (on_form_activate_cb), self);
  if (WB_IS_RECORD_FORM (self->form))
    {
      gtk_widget_add_css_class (self->form, "weighed");
      g_signal_connect_swapped (self->form, "changed", G_CALLBACK (show_pot), self);
    }
  caution = dup_caution (item, code);
  gtk_label_set_text (self->caution, caution != NULL ? caution : "");
  gtk_widget_set_visible (GTK_WIDGET (self->caution), caution != NULL);
  gtk_widget_set_visible (self->take_out, wb_app_amend_item_may_take_out (item));
  read_shelf (self);
  return GTK_WIDGET (self);
}

GtkWidget *
wb_amend_dialog_get_form (WbAmendDialog *self)
{
  g_return_val_if_fail (WB_IS_AMEND_DIALOG (self), NULL);
  return self->form;
}
