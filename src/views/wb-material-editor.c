/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-material-editor.h"

#include "wb-app-stock.h"
#include "wb-bundle.h"
#include "wb-focus-walk.h"
#include "wb-material-papers.h"
#include "wb-material-parts.h"
#include "wb-material-stock.h"
#include "wb-method-editor.h"
#include "wb-problem.h"
#include "wb-record-form.h"
#include "wb-weak-widget.h"

#include <glib/gi18n.h>

struct _WbMaterialEditor
{
  GtkWidget             parent_instance;

  /* children */
  GtkStack             *stack;
  GtkWidget            *scrolled;
  GtkLabel             *title;
  GtkWidget            *measure;
  GtkLabel             *caution;
  WbRecordForm         *form;
  WbMaterialParts      *parts;
  WbMethodEditor       *method;
  WbMaterialParts      *lots;
  WbMaterialPapers     *papers;
  GtkLabel             *problem;
  GtkWidget            *before;
  WbSaveMark           *mark;

  /* owned */
  WbAppNotebook        *notebook;
  GCancellable         *cancellable; /* of reading the stock; NULL: it is not read */

  /* borrowed */
  const WbMaterialKind *kind;

  /* state */
  gboolean              has_record;
  gint64                id;
};

G_DEFINE_FINAL_TYPE (WbMaterialEditor, wb_material_editor, GTK_TYPE_WIDGET)

enum { CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

/* At the field while it is typed: the batch sheet would tell it when the wax is weighed out. */
static void
show_doubt (WbMaterialEditor *self,
            const WbRecord   *record)
{
  const WbNotebook *settings = wb_app_notebook_get_settings (self->notebook);
  const char *field = NULL;
  g_autofree char *doubt = wb_material_dup_doubt (record, settings != NULL && settings->us_units, &field);

  for (guint i = 0; i < record->type->n_fields; i++)
    wb_record_form_set_caution (self->form, record->type->fields[i].name, g_strcmp0 (record->type->fields[i].name, field) == 0 ? doubt : NULL);
}

/* Shows what belongs to the material as the form has it now: fields, parts, caution. */
static void
follow_form (WbMaterialEditor *self)
{
  g_autoptr (WbRecord) record = wb_material_editor_dup_record (self);
  const char *caution;

  if (record == NULL)
    return;
  for (guint i = 0; i < record->type->n_fields; i++)
    wb_record_form_set_shown (self->form, record->type->fields[i].name, wb_material_asks (record, &record->type->fields[i]));
  show_doubt (self, record);
  caution = wb_material_get_caution (record);
  gtk_label_set_text (self->caution, caution != NULL ? caution : "");
  gtk_widget_set_visible (GTK_WIDGET (self->caution), caution != NULL);
  gtk_widget_set_visible (GTK_WIDGET (self->parts),
                          self->id != 0 && self->kind->part_type != NULL &&
                          (record->type != &wb_fragrance_type || ((const WbFragrance *) (gpointer) record)->blend));
}

static void
on_form_changed_cb (WbMaterialEditor *self)
{
  follow_form (self);
  wb_material_editor_set_problem (self, NULL, NULL);
  wb_save_mark_set (self->mark, WB_SAVE_IDLE, NULL);
  g_signal_emit (self, signals[CHANGED], 0);
}

static void
on_method_changed_cb (WbMaterialEditor *self)
{
  wb_material_editor_set_problem (self, NULL, NULL);
  wb_save_mark_set (self->mark, WB_SAVE_IDLE, NULL);
  g_signal_emit (self, signals[CHANGED], 0);
}

static void
on_form_activate_cb (WbMaterialEditor *self)
{
  gtk_widget_activate_action (GTK_WIDGET (self), "page.save", NULL);
}

static void
stop_reading (WbMaterialEditor *self)
{
  if (self->cancellable != NULL)
    g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
}

static void
on_stock_cb (GObject      *source,
             GAsyncResult *result,
             gpointer      user)
{
  g_autoptr (WbMaterialEditor) self = wb_weak_widget_take (user);
  g_autoptr (GError) error = NULL;
  g_autoptr (WbCraftStock) stock = wb_app_stock_load_finish (WB_APP_NOTEBOOK (source), result, &error);
  g_autoptr (WbRecord) record = NULL;
  g_autofree char *words = NULL;

  if (self == NULL || self->lots == NULL || g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  g_clear_object (&self->cancellable);
  if (stock == NULL)
    {
      wb_problem_show (GTK_WIDGET (self), _("The stock could not be read"), error);
      return;
    }
  record = wb_material_editor_dup_record (self);
  words = wb_material_stock_dup_words (record, stock, wb_app_notebook_get_settings (self->notebook));
  wb_material_parts_set_stock (self->lots, stock, record, words);
}

/* Comes after the rest: nobody waits for it. Who keeps no stock sees nothing of it. */
static void
read_stock (WbMaterialEditor *self)
{
  const WbNotebook *settings = wb_app_notebook_get_settings (self->notebook);

  stop_reading (self);
  if (settings == NULL || !settings->keeps_stock)
    {
      wb_material_parts_set_stock (self->lots, NULL, NULL, NULL);
      return;
    }
  self->cancellable = g_cancellable_new ();
  wb_app_stock_load_async (self->notebook, self->cancellable, on_stock_cb, wb_weak_widget_new (self));
}

/* Into the form: what is typed next is the material. */
static gboolean
wb_material_editor_grab_focus (GtkWidget *widget)
{
  return gtk_widget_grab_focus (GTK_WIDGET (WB_MATERIAL_EDITOR (widget)->form));
}

static void
wb_material_editor_dispose (GObject *object)
{
  WbMaterialEditor *self = WB_MATERIAL_EDITOR (object);

  stop_reading (self);
  g_clear_object (&self->notebook);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_MATERIAL_EDITOR);
  G_OBJECT_CLASS (wb_material_editor_parent_class)->dispose (object);
}

static void
wb_material_editor_class_init (WbMaterialEditorClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  g_type_ensure (WB_TYPE_METHOD_EDITOR);
  g_type_ensure (WB_TYPE_RECORD_FORM);
  g_type_ensure (WB_TYPE_MATERIAL_PAPERS);
  g_type_ensure (WB_TYPE_MATERIAL_PARTS);
  g_type_ensure (WB_TYPE_SAVE_MARK);
  G_OBJECT_CLASS (klass)->dispose = wb_material_editor_dispose;
  widget_class->grab_focus = wb_material_editor_grab_focus;
  widget_class->focus = wb_focus_walk;
  signals[CHANGED] = g_signal_new ("changed", WB_TYPE_MATERIAL_EDITOR, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "material-editor.ui");
  gtk_widget_class_bind_template_child (widget_class, WbMaterialEditor, stack);
  gtk_widget_class_bind_template_child (widget_class, WbMaterialEditor, scrolled);
  gtk_widget_class_bind_template_child (widget_class, WbMaterialEditor, title);
  gtk_widget_class_bind_template_child (widget_class, WbMaterialEditor, measure);
  gtk_widget_class_bind_template_child (widget_class, WbMaterialEditor, caution);
  gtk_widget_class_bind_template_child (widget_class, WbMaterialEditor, form);
  gtk_widget_class_bind_template_child (widget_class, WbMaterialEditor, parts);
  gtk_widget_class_bind_template_child (widget_class, WbMaterialEditor, method);
  gtk_widget_class_bind_template_child (widget_class, WbMaterialEditor, lots);
  gtk_widget_class_bind_template_child (widget_class, WbMaterialEditor, papers);
  gtk_widget_class_bind_template_child (widget_class, WbMaterialEditor, problem);
  gtk_widget_class_bind_template_child (widget_class, WbMaterialEditor, before);
  gtk_widget_class_bind_template_child (widget_class, WbMaterialEditor, mark);
  gtk_widget_class_bind_template_callback (widget_class, on_form_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_form_activate_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_method_changed_cb);
}

static void
wb_material_editor_init (WbMaterialEditor *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  /* Anywhere on the form. */
  wb_material_papers_accept (self->papers, GTK_WIDGET (self));
}

void
wb_material_editor_show (WbMaterialEditor     *self,
                         WbAppNotebook        *notebook,
                         const WbMaterialKind *kind,
                         gconstpointer         record)
{
  const WbNotebook *settings;
  g_autofree char *title = NULL;
  gboolean same;

  g_return_if_fail (WB_IS_MATERIAL_EDITOR (self));
  g_return_if_fail (record == NULL || (notebook != NULL && kind != NULL));

  /* Once more what is shown, as after its save: the hand is in the middle of it. */
  same = record != NULL && self->has_record && kind == self->kind && self->id != 0 && self->id == ((const WbRecord *) record)->id;
  g_set_object (&self->notebook, notebook);
  self->kind = kind;
  self->has_record = record != NULL;
  self->id = record != NULL ? ((const WbRecord *) record)->id : 0;
  wb_material_editor_set_problem (self, NULL, NULL);
  wb_method_editor_revert (self->method);
  gtk_widget_set_visible (self->before, FALSE);
  if (!same)
    {
      stop_reading (self);
      wb_save_mark_set (self->mark, WB_SAVE_IDLE, NULL);
      gtk_widget_set_visible (GTK_WIDGET (self->parts), FALSE);
      gtk_widget_set_visible (GTK_WIDGET (self->lots), FALSE);
      gtk_widget_set_visible (GTK_WIDGET (self->papers), FALSE);
      wb_material_papers_show (self->papers, NULL, 0, NULL);
      gtk_adjustment_set_value (gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (self->scrolled)), 0.0);
    }
  gtk_stack_set_visible_child_name (self->stack, record != NULL ? "form" : "none");
  if (record != NULL)
    {
      settings = wb_app_notebook_get_settings (notebook);
      title = self->id != 0 ? wb_material_dup_title (record) : g_strdup (_(kind->new_title));
      wb_record_form_set_us_units (self->form, settings != NULL && settings->us_units);
      wb_record_form_set_more (self->form, kind->more[0] != NULL ? kind->more : NULL);
      gtk_label_set_text (self->title, title);
      gtk_widget_set_visible (self->measure, kind->type == &wb_vessel_type);
    }
  wb_record_form_set_record (self->form, record);
  follow_form (self);
  gtk_widget_set_sensitive (GTK_WIDGET (self->form), notebook == NULL || !wb_app_notebook_get_read_only (notebook));
}

gboolean
wb_material_editor_take_stored (WbMaterialEditor *self,
                                gconstpointer     record,
                                gint64            id_before)
{
  g_autofree char *title = NULL;

  g_return_val_if_fail (WB_IS_MATERIAL_EDITOR (self), FALSE);
  g_return_val_if_fail (record != NULL, FALSE);

  if (!self->has_record || self->id != id_before || self->kind->type != ((const WbRecord *) record)->type)
    return FALSE;
  self->id = ((const WbRecord *) record)->id;
  title = wb_material_dup_title (record);
  gtk_label_set_text (self->title, title);
  wb_record_form_take_stored (self->form, record);
  follow_form (self);
  gtk_widget_set_visible (self->before, gtk_widget_get_visible (self->before) && wb_material_editor_get_touched (self));
  return TRUE;
}

gboolean
wb_material_editor_take_stored_method (WbMaterialEditor *self,
                                       gint64            wax,
                                       gint64            entry,
                                       const gint64     *ids)
{
  g_return_val_if_fail (WB_IS_MATERIAL_EDITOR (self), FALSE);

  if (!self->has_record || self->id != wax || self->kind->type != &wb_wax_type)
    return FALSE;
  wb_method_editor_take_stored (self->method, entry, ids);
  gtk_widget_set_visible (self->before, gtk_widget_get_visible (self->before) && wb_material_editor_get_touched (self));
  return TRUE;
}

static void
show_method (WbMaterialEditor     *self,
             const WbAppMaterials *materials)
{
  g_autoptr (WbRecord) record = wb_material_editor_dup_record (self);

  wb_method_editor_show (self->method, self->notebook, materials, record);
}

void
wb_material_editor_show_parts (WbMaterialEditor     *self,
                               const WbAppMaterials *materials)
{
  g_return_if_fail (WB_IS_MATERIAL_EDITOR (self));

  /* What is not stored yet has nothing that could belong to it. */
  gtk_widget_set_visible (GTK_WIDGET (self->lots), self->id != 0);
  gtk_widget_set_visible (GTK_WIDGET (self->papers), self->id != 0);
  follow_form (self);
  show_method (self, materials);
  if (self->id == 0)
    return;
  wb_material_papers_show (self->papers, self->notebook, self->id, gtk_label_get_text (self->title));
  wb_material_parts_show (self->lots, self->notebook, materials, &wb_lot_type, "material", self->id, _("Lots"));
  read_stock (self);
  if (self->kind->part_type != NULL)
    wb_material_parts_show (self->parts, self->notebook, materials, self->kind->part_type, self->kind->part_owner, self->id,
                            _(self->kind->parts_title));
}

void
wb_material_editor_choose_papers (WbMaterialEditor *self)
{
  g_return_if_fail (WB_IS_MATERIAL_EDITOR (self));
  wb_material_papers_choose (self->papers);
}

WbMaterialPapers *
wb_material_editor_get_papers (WbMaterialEditor *self)
{
  g_return_val_if_fail (WB_IS_MATERIAL_EDITOR (self), NULL);
  return self->papers;
}

gint64
wb_material_editor_get_id (WbMaterialEditor *self)
{
  g_return_val_if_fail (WB_IS_MATERIAL_EDITOR (self), 0);
  return self->id;
}

gboolean
wb_material_editor_has_record (WbMaterialEditor *self)
{
  g_return_val_if_fail (WB_IS_MATERIAL_EDITOR (self), FALSE);
  return self->has_record;
}

const char *
wb_material_editor_get_title (WbMaterialEditor *self)
{
  g_return_val_if_fail (WB_IS_MATERIAL_EDITOR (self), NULL);
  return gtk_label_get_text (self->title);
}

gboolean
wb_material_editor_get_touched (WbMaterialEditor *self)
{
  g_return_val_if_fail (WB_IS_MATERIAL_EDITOR (self), FALSE);
  return self->has_record && (wb_record_form_get_touched (self->form) || wb_method_editor_get_touched (self->method));
}

gboolean
wb_material_editor_get_form_touched (WbMaterialEditor *self)
{
  g_return_val_if_fail (WB_IS_MATERIAL_EDITOR (self), FALSE);
  return self->has_record && wb_record_form_get_touched (self->form);
}

gboolean
wb_material_editor_check (WbMaterialEditor *self)
{
  g_return_val_if_fail (WB_IS_MATERIAL_EDITOR (self), FALSE);
  return wb_record_form_check (self->form) && wb_method_editor_check (self->method);
}

gpointer
wb_material_editor_dup_record (WbMaterialEditor *self)
{
  g_return_val_if_fail (WB_IS_MATERIAL_EDITOR (self), NULL);
  return self->has_record ? wb_record_form_dup_record (self->form) : NULL;
}

GPtrArray *
wb_material_editor_dup_method_changes (WbMaterialEditor *self)
{
  g_return_val_if_fail (WB_IS_MATERIAL_EDITOR (self), NULL);
  return wb_method_editor_dup_changes (self->method);
}

void
wb_material_editor_keep (WbMaterialEditor *self,
                         GKeyFile         *file,
                         const char       *form,
                         const char       *method)
{
  g_return_if_fail (WB_IS_MATERIAL_EDITOR (self));
  wb_record_form_keep (self->form, file, form);
  wb_method_editor_keep (self->method, file, method);
}

void
wb_material_editor_put_back (WbMaterialEditor *self,
                             GKeyFile         *file,
                             const char       *form,
                             const char       *method)
{
  g_return_if_fail (WB_IS_MATERIAL_EDITOR (self) && self->has_record);
  wb_record_form_put_back (self->form, file, form);
  wb_method_editor_put_back (self->method, file, method);
  follow_form (self);
  gtk_widget_set_visible (self->before, wb_material_editor_get_touched (self));
}

void
wb_material_editor_put_typed (WbMaterialEditor *self,
                              GKeyFile         *file,
                              const char       *form)
{
  g_return_if_fail (WB_IS_MATERIAL_EDITOR (self) && self->has_record);
  wb_record_form_put_back (self->form, file, form);
  follow_form (self);
}

void
wb_material_editor_focus_field (WbMaterialEditor *self,
                                const char       *name)
{
  GtkWidget *field;

  g_return_if_fail (WB_IS_MATERIAL_EDITOR (self));

  field = wb_record_form_get_field (self->form, name);
  if (field != NULL)
    gtk_widget_grab_focus (field);
}

void
wb_material_editor_set_problem (WbMaterialEditor *self,
                                const char       *field,
                                const char       *text)
{
  g_return_if_fail (WB_IS_MATERIAL_EDITOR (self));

  if (field != NULL && wb_record_form_set_problem (self->form, field, text))
    return;
  gtk_label_set_text (self->problem, text != NULL ? text : "");
  gtk_widget_set_tooltip_text (GTK_WIDGET (self->problem), text);
}

void
wb_material_editor_set_saving (WbMaterialEditor *self,
                               WbSaveState       state)
{
  g_return_if_fail (WB_IS_MATERIAL_EDITOR (self));
  if (state == WB_SAVE_SAVING)
    {
      wb_record_form_mark_sent (self->form);
      wb_method_editor_mark_sent (self->method);
    }
  wb_save_mark_set (self->mark, state, NULL);
}
