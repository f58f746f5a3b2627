/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-method-editor.h"

#include "wb-accessible-name.h"
#include "wb-craft-method.h"
#include "wb-method-row.h"

#include <glib/gi18n.h>

/*
 * CSS node: methodeditor. A row keeps its widgets while it is moved, and with them the keyboard and what is half typed; a step that is
 * not stored has a negative id of its own, by which its save finds it again.
 */

struct _WbMethodEditor
{
  GtkWidget      parent_instance;

  /* children */
  GtkWidget     *box;
  GtkWidget     *list;
  GtkLabel      *whose;
  GtkDropDown   *kind;
  GtkWidget     *verbs;

  /* owned */
  WbAppNotebook *notebook;
  WbWax         *wax;      /* NULL: none */
  GPtrArray     *stored;   /* WbMethodStep of the notebook */
  GPtrArray     *rows;     /* WbMethodRow, borrowed from the list */
  GPtrArray     *sent;     /* WbMethodStep on their way to be stored, as dup_changes () gave them; NULL: none */

  /* state */
  gboolean       touched;
  gboolean       typed_on; /* since that was sent */
  gboolean       usual;    /* the rows are the usual method, and none is to be stored */
  WbUnit         unit;     /* of the rows' temperatures */
  gint64         last_new; /* id of the newest step that is not stored */
};

G_DEFINE_FINAL_TYPE (WbMethodEditor, wb_method_editor, GTK_TYPE_WIDGET)

enum { CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

static void
update (WbMethodEditor *self)
{
  gboolean read_only = self->notebook != NULL && wb_app_notebook_get_read_only (self->notebook);
  const char *usual = read_only ? _("As usual for a wax like this.")
                                : _("As usual for a wax like this; changed and saved it becomes this wax's own.");

  gtk_widget_set_sensitive (self->list, !read_only);
  gtk_widget_set_visible (self->verbs, !read_only);
  gtk_label_set_text (self->whose, self->usual ? usual : _("This wax's own."));
}

static void
on_edited_cb (WbMethodEditor *self)
{
  self->touched = TRUE;
  self->typed_on = TRUE;
  self->usual = FALSE;
  update (self);
  g_signal_emit (self, signals[CHANGED], 0);
}

/* ---- Rows ---- */

static guint
find_place (WbMethodEditor *self,
            WbMethodRow    *row)
{
  guint place = 0;

  g_ptr_array_find (self->rows, row, &place);
  return place;
}

static void
on_move_cb (WbMethodEditor *self,
            int             by,
            WbMethodRow    *row)
{
  guint place = find_place (self, row);

  if (by < 0 ? place > 0 : place + 1 < self->rows->len)
    wb_method_editor_move (self, place, by < 0 ? place - 1 : place + 1);
}

static void
on_dropped_cb (WbMethodEditor *self,
               guint           from,
               WbMethodRow    *row)
{
  if (from < self->rows->len)
    wb_method_editor_move (self, from, find_place (self, row));
}

static void
on_remove_cb (WbMethodEditor *self,
              WbMethodRow    *row)
{
  wb_method_editor_remove (self, find_place (self, row));
}

static void
number_rows (WbMethodEditor *self)
{
  for (guint i = 0; i < self->rows->len; i++)
    wb_method_row_set_place (self->rows->pdata[i], i);
}

static void
add_row (WbMethodEditor     *self,
         const WbMethodStep *step)
{
  GtkWidget *row = wb_method_row_new (step, self->unit);

  if (step->record.id == 0)
    wb_method_row_set_stored (WB_METHOD_ROW (row), --self->last_new, 0);
  g_signal_connect_swapped (row, "changed", G_CALLBACK (on_edited_cb), self);
  g_signal_connect_swapped (row, "move", G_CALLBACK (on_move_cb), self);
  g_signal_connect_swapped (row, "dropped", G_CALLBACK (on_dropped_cb), self);
  g_signal_connect_swapped (row, "remove", G_CALLBACK (on_remove_cb), self);
  gtk_box_append (GTK_BOX (self->list), row);
  g_ptr_array_add (self->rows, row);
}

static WbUnit
get_unit (WbMethodEditor *self)
{
  const WbNotebook *settings = wb_app_notebook_get_settings (self->notebook);

  return wb_quantity_get_shown_unit (WB_QUANTITY_TEMPERATURE, settings != NULL && settings->us_units);
}

static void
lay (WbMethodEditor  *self,
     const GPtrArray *steps)
{
  GtkWidget *child;

  g_ptr_array_set_size (self->rows, 0);
  while ((child = gtk_widget_get_first_child (self->list)) != NULL)
    gtk_box_remove (GTK_BOX (self->list), child);
  self->unit = get_unit (self);
  for (guint i = 0; i < steps->len; i++)
    add_row (self, steps->pdata[i]);
  number_rows (self);
  update (self);
}

/* Whether the rows are these steps already: laid anew, they would take the keyboard and what an entry can take back. */
static gboolean
are_laid (WbMethodEditor  *self,
          const GPtrArray *steps)
{
  g_autoptr (GPtrArray) rows = wb_method_editor_dup_steps (self);

  if (rows->len != steps->len || self->unit != get_unit (self))
    return FALSE;
  for (guint i = 0; i < steps->len; i++)
    {
      const WbRecord *row = rows->pdata[i], *step = steps->pdata[i];

      if (MAX (row->id, 0) != step->id || !wb_record_equal (row, step))
        return FALSE;
    }
  return TRUE;
}

/* ---- What the buttons do ---- */

GPtrArray *
wb_method_editor_dup_steps (WbMethodEditor *self)
{
  GPtrArray *steps = g_ptr_array_new_with_free_func (wb_record_free);

  g_return_val_if_fail (WB_IS_METHOD_EDITOR (self), steps);

  for (guint i = 0; i < self->rows->len; i++)
    g_ptr_array_add (steps, wb_method_row_dup_step (self->rows->pdata[i]));
  return steps;
}

void
wb_method_editor_add (WbMethodEditor *self,
                      int             kind)
{
  WbMethodStep *step;

  g_return_if_fail (WB_IS_METHOD_EDITOR (self) && self->wax != NULL && kind >= 0 && kind <= WB_STEP_OTHER);

  step = wb_record_new (&wb_method_step_type);
  step->wax = self->wax->record.id;
  step->kind = kind;
  add_row (self, step);
  wb_record_free (step);
  number_rows (self);
  on_edited_cb (self);
  gtk_widget_grab_focus (self->rows->pdata[self->rows->len - 1]);
}

void
wb_method_editor_remove (WbMethodEditor *self,
                         guint           place)
{
  GtkWidget *row;

  g_return_if_fail (WB_IS_METHOD_EDITOR (self) && place < self->rows->len);

  row = self->rows->pdata[place];
  g_ptr_array_remove_index (self->rows, place);
  /* the hand stays where it was */
  if (self->rows->len > 0)
    wb_method_row_focus_remove (self->rows->pdata[MIN (place, self->rows->len - 1)]);
  else
    gtk_widget_grab_focus (GTK_WIDGET (self->kind));
  gtk_box_remove (GTK_BOX (self->list), row);
  number_rows (self);
  on_edited_cb (self);
}

void
wb_method_editor_move (WbMethodEditor *self,
                       guint           from,
                       guint           to)
{
  GtkWidget *row;

  g_return_if_fail (WB_IS_METHOD_EDITOR (self) && from < self->rows->len && to < self->rows->len);

  if (from == to)
    return;
  row = g_ptr_array_remove_index (self->rows, from);
  g_ptr_array_insert (self->rows, (int) to, row);
  gtk_box_reorder_child_after (GTK_BOX (self->list), row, to > 0 ? self->rows->pdata[to - 1] : NULL);
  number_rows (self);
  on_edited_cb (self);
}

void
wb_method_editor_usual (WbMethodEditor *self)
{
  g_autoptr (GPtrArray) steps = NULL;

  g_return_if_fail (WB_IS_METHOD_EDITOR (self) && self->wax != NULL);

  steps = wb_craft_method_usual (self->wax);
  self->usual = TRUE;
  self->touched = self->stored->len > 0 || self->sent != NULL;
  self->typed_on = self->touched;
  lay (self, steps);
  g_signal_emit (self, signals[CHANGED], 0);
}

static void
on_add_cb (WbMethodEditor *self)
{
  wb_method_editor_add (self, (int) gtk_drop_down_get_selected (self->kind));
}

/* ---- Class ---- */

static void
wb_method_editor_dispose (GObject *object)
{
  WbMethodEditor *self = WB_METHOD_EDITOR (object);

  g_ptr_array_set_size (self->rows, 0);
  g_clear_pointer (&self->box, gtk_widget_unparent);
  g_clear_object (&self->notebook);
  G_OBJECT_CLASS (wb_method_editor_parent_class)->dispose (object);
}

static void
wb_method_editor_finalize (GObject *object)
{
  WbMethodEditor *self = WB_METHOD_EDITOR (object);

  wb_record_free (self->wax);
  g_clear_pointer (&self->sent, g_ptr_array_unref);
  g_ptr_array_unref (self->stored);
  g_ptr_array_unref (self->rows);
  G_OBJECT_CLASS (wb_method_editor_parent_class)->finalize (object);
}

static void
wb_method_editor_class_init (WbMethodEditorClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = wb_method_editor_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_method_editor_finalize;
  signals[CHANGED] = g_signal_new ("changed", WB_TYPE_METHOD_EDITOR, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (klass), "methodeditor");
}

static void
add_verb (WbMethodEditor *self,
          const char     *label,
          GCallback       callback)
{
  GtkWidget *button = gtk_button_new_with_label (label);

  g_signal_connect_swapped (button, "clicked", callback, self);
  gtk_box_append (GTK_BOX (self->verbs), button);
}

static void
wb_method_editor_init (WbMethodEditor *self)
{
  GtkWidget *heading = g_object_new (GTK_TYPE_LABEL, "label", _("Method of the pour"), "xalign", 0.0, NULL);
  g_autoptr (GtkStringList) kinds = gtk_string_list_new (NULL);

  self->stored = g_ptr_array_new_with_free_func (wb_record_free);
  self->rows = g_ptr_array_new ();
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);
  self->list = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);
  self->verbs = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  self->whose = GTK_LABEL (g_object_new (GTK_TYPE_LABEL, "xalign", 0.0, "wrap", TRUE, NULL));
  for (int i = 0; i <= WB_STEP_OTHER; i++)
    {
      g_autofree char *title = wb_craft_method_dup_title (i);

      gtk_string_list_append (kinds, title);
    }
  self->kind = GTK_DROP_DOWN (gtk_drop_down_new (G_LIST_MODEL (g_steal_pointer (&kinds)), NULL));
  wb_accessible_name_drop_down (self->kind, _("Step to add"));
  gtk_widget_add_css_class (heading, "section");
  gtk_widget_add_css_class (GTK_WIDGET (self->whose), "hint");
  gtk_box_append (GTK_BOX (self->verbs), GTK_WIDGET (self->kind));
  add_verb (self, _("Add the step"), G_CALLBACK (on_add_cb));
  add_verb (self, _("The usual steps"), G_CALLBACK (wb_method_editor_usual));
  gtk_box_append (GTK_BOX (self->box), heading);
  gtk_box_append (GTK_BOX (self->box), GTK_WIDGET (self->whose));
  gtk_box_append (GTK_BOX (self->box), self->list);
  gtk_box_append (GTK_BOX (self->box), self->verbs);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
}

void
wb_method_editor_show (WbMethodEditor       *self,
                       WbAppNotebook        *notebook,
                       const WbAppMaterials *materials,
                       gconstpointer         material)
{
  gboolean is_wax = material != NULL && ((const WbRecord *) material)->type == &wb_wax_type && ((const WbRecord *) material)->id > 0;
  g_autoptr (GPtrArray) steps = NULL;

  g_return_if_fail (WB_IS_METHOD_EDITOR (self));

  gtk_widget_set_visible (GTK_WIDGET (self), is_wax);
  if (!is_wax || self->wax == NULL || self->wax->record.id != ((const WbRecord *) material)->id)
    wb_method_editor_revert (self);
  if (!is_wax)
    return;
  wb_record_free (self->wax);
  self->wax = wb_record_copy (material);
  g_set_object (&self->notebook, notebook);
  g_ptr_array_set_size (self->stored, 0);
  for (guint i = 0; i < materials->method_steps->len; i++)
    if (((const WbMethodStep *) materials->method_steps->pdata[i])->wax == self->wax->record.id)
      g_ptr_array_add (self->stored, wb_record_copy (materials->method_steps->pdata[i]));
  if (self->touched)
    return;
  self->usual = self->stored->len == 0;
  steps = wb_craft_method_of (self->wax, self->stored);
  if (!are_laid (self, steps))
    lay (self, steps);
  for (guint i = 0; !self->usual && i < steps->len; i++)
    wb_method_row_set_stored (self->rows->pdata[i], ((const WbRecord *) steps->pdata[i])->id, ((const WbRecord *) steps->pdata[i])->entry);
  update (self);
}

gboolean
wb_method_editor_get_touched (WbMethodEditor *self)
{
  g_return_val_if_fail (WB_IS_METHOD_EDITOR (self), FALSE);
  return self->touched;
}

void
wb_method_editor_revert (WbMethodEditor *self)
{
  g_return_if_fail (WB_IS_METHOD_EDITOR (self));

  self->touched = FALSE;
  self->typed_on = FALSE;
  g_clear_pointer (&self->sent, g_ptr_array_unref);
}

/* ---- Its save ---- */

gboolean
wb_method_editor_check (WbMethodEditor *self)
{
  g_return_val_if_fail (WB_IS_METHOD_EDITOR (self), FALSE);

  for (guint i = 0; self->touched && i < self->rows->len; i++)
    if (!wb_method_row_check (self->rows->pdata[i]))
      return FALSE;
  return TRUE;
}

/* What is stored and stands in no row any more is deleted; what is as it was is not written. */
GPtrArray *
wb_method_editor_dup_changes (WbMethodEditor *self)
{
  GPtrArray *records = g_ptr_array_new_with_free_func (wb_record_free);
  g_autoptr (GPtrArray) steps = NULL;
  g_autoptr (GHashTable) kept = g_hash_table_new (g_int64_hash, g_int64_equal);

  g_return_val_if_fail (WB_IS_METHOD_EDITOR (self), records);

  if (!self->touched)
    return records;
  steps = self->usual ? g_ptr_array_new () : wb_method_editor_dup_steps (self);
  for (guint i = 0; i < steps->len; i++)
    if (((const WbRecord *) steps->pdata[i])->id > 0)
      g_hash_table_insert (kept, &((WbRecord *) steps->pdata[i])->id, steps->pdata[i]);
  for (guint i = 0; i < self->stored->len; i++)
    {
      const WbRecord *stored = self->stored->pdata[i];
      const WbRecord *now = g_hash_table_lookup (kept, &stored->id);
      WbRecord *record;

      if (now != NULL && wb_record_equal (stored, now))
        continue;
      record = wb_record_copy (now != NULL ? now : stored);
      record->deleted = now == NULL;
      g_ptr_array_add (records, record);
    }
  for (guint i = 0; i < steps->len; i++)
    if (((const WbRecord *) steps->pdata[i])->id < 0)
      g_ptr_array_add (records, wb_record_copy (steps->pdata[i]));
  return records;
}

void
wb_method_editor_mark_sent (WbMethodEditor *self)
{
  g_return_if_fail (WB_IS_METHOD_EDITOR (self));

  g_clear_pointer (&self->sent, g_ptr_array_unref);
  if (self->touched)
    self->sent = wb_method_editor_dup_changes (self);
  self->typed_on = FALSE;
}

static void
take_stored_step (WbMethodEditor *self,
                  const WbRecord *sent,
                  gint64          id,
                  gint64          entry)
{
  WbRecord *stored;

  for (guint i = self->stored->len; i > 0; i--)
    if (((const WbRecord *) self->stored->pdata[i - 1])->id == id)
      g_ptr_array_remove_index (self->stored, i - 1);
  if (sent->deleted)
    return;
  stored = wb_record_copy (sent);
  stored->id = id;
  stored->entry = entry;
  g_ptr_array_add (self->stored, stored);
  for (guint i = 0; i < self->rows->len; i++)
    if (wb_method_row_get_step (self->rows->pdata[i])->record.id == sent->id)
      wb_method_row_set_stored (self->rows->pdata[i], id, entry);
}

void
wb_method_editor_take_stored (WbMethodEditor *self,
                              gint64          entry,
                              const gint64   *ids)
{
  g_autoptr (GPtrArray) sent = NULL;

  g_return_if_fail (WB_IS_METHOD_EDITOR (self));

  sent = g_steal_pointer (&self->sent);
  if (sent == NULL)
    return;
  for (guint i = 0; entry != 0 && i < sent->len; i++)
    take_stored_step (self, sent->pdata[i], ids[i], entry);
  self->touched = self->typed_on;
  update (self);
}

/* ---- What is half typed ---- */

void
wb_method_editor_keep (WbMethodEditor *self,
                       GKeyFile       *file,
                       const char     *group)
{
  g_return_if_fail (WB_IS_METHOD_EDITOR (self));
  g_return_if_fail (file != NULL && group != NULL);

  if (!self->touched)
    return;
  g_key_file_set_uint64 (file, group, "steps", self->rows->len);
  g_key_file_set_boolean (file, group, "usual", self->usual);
  for (guint i = 0; i < self->rows->len; i++)
    wb_method_row_keep (self->rows->pdata[i], file, group, i);
}

/* A stored step that is gone meanwhile is a new one; one that is there is changed as it is by now. */
static void
take_kept_step (WbMethodEditor *self,
                WbMethodStep   *step)
{
  gint64 id = step->record.id;

  step->wax = self->wax->record.id;
  step->record.id = 0;
  for (guint i = 0; id > 0 && i < self->stored->len; i++)
    if (((const WbRecord *) self->stored->pdata[i])->id == id)
      {
        step->record.id = id;
        step->record.entry = ((const WbRecord *) self->stored->pdata[i])->entry;
      }
}

void
wb_method_editor_put_back (WbMethodEditor *self,
                           GKeyFile       *file,
                           const char     *group)
{
  g_autoptr (GPtrArray) steps = g_ptr_array_new_with_free_func (wb_record_free);
  guint64 n;

  g_return_if_fail (WB_IS_METHOD_EDITOR (self));
  g_return_if_fail (file != NULL && group != NULL);

  if (self->wax == NULL || self->touched || !g_key_file_has_key (file, group, "steps", NULL))
    return;
  n = g_key_file_get_uint64 (file, group, "steps", NULL);
  for (guint i = 0; i < n; i++)
    {
      WbMethodStep *step = wb_method_row_dup_kept (file, group, i);

      /* not as this program keeps them */
      if (step == NULL)
        return;
      take_kept_step (self, step);
      g_ptr_array_add (steps, step);
    }
  lay (self, steps);
  for (guint i = 0; i < self->rows->len; i++)
    wb_method_row_put_back (self->rows->pdata[i], file, group, i);
  self->touched = TRUE;
  self->typed_on = TRUE;
  self->usual = g_key_file_get_boolean (file, group, "usual", NULL);
  update (self);
}
