/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-method-editor.h"

#include "wb-accessible-name.h"
#include "wb-craft-method.h"
#include "wb-problem.h"
#include "wb-quantity-entry.h"
#include "wb-save-mark.h"

#include <glib/gi18n.h>
#include <math.h>

/* CSS node: methodeditor. Each field is named by its step. */

typedef struct
{
  WbMethodEditor  *owner;   /* borrowed */
  WbMethodStep    *step;
  WbQuantityEntry *to_c;
  WbQuantityEntry *minutes;
  GtkWidget       *note;
  GtkWidget       *widget;
} Row;

struct _WbMethodEditor
{
  GtkWidget      parent_instance;

  /* children */
  GtkWidget     *box;
  GtkWidget     *list;
  GtkLabel      *whose;
  GtkDropDown   *kind;
  GtkWidget     *save;
  WbSaveMark    *mark;

  /* owned */
  WbAppNotebook *notebook;
  WbWax         *wax;       /* NULL: none */
  GPtrArray     *stored;    /* WbMethodStep of the notebook */
  GPtrArray     *rows;      /* Row */

  /* state */
  gboolean       touched;
  gboolean       usual;     /* the rows are the usual method, and none is to be stored */
  gboolean       filling;
};

G_DEFINE_FINAL_TYPE (WbMethodEditor, wb_method_editor, GTK_TYPE_WIDGET)

static void
row_free (gpointer data)
{
  Row *row = data;

  wb_record_free (row->step);
  g_free (row);
}

static WbMethodStep *
dup_step (const Row *row)
{
  WbMethodStep *step = wb_record_copy (row->step);

  step->to_c = wb_quantity_entry_get_value (row->to_c);
  step->minutes = wb_quantity_entry_get_value (row->minutes);
  wb_record_set_text (step, wb_record_type_find_field (&wb_method_step_type, "note"), gtk_editable_get_text (GTK_EDITABLE (row->note)));
  return step;
}

static void
update (WbMethodEditor *self)
{
  gtk_widget_set_sensitive (self->save, self->touched);
  gtk_label_set_text (self->whose, self->usual ? _("As usual for a wax like this; changed and saved it becomes this wax's own.")
                                               : _("This wax's own."));
}

static void
on_edited_cb (WbMethodEditor *self)
{
  if (self->filling)
    return;
  self->touched = TRUE;
  self->usual = FALSE;
  wb_save_mark_set (self->mark, WB_SAVE_IDLE, NULL);
  update (self);
}

static guint
find_place (const Row *row)
{
  for (guint i = 0; i < row->owner->rows->len; i++)
    if (row->owner->rows->pdata[i] == row)
      return i;
  g_return_val_if_reached (0);
}

/* ---- Rows ---- */

static void
on_up_cb (Row *row)
{
  guint place = find_place (row);

  if (place > 0)
    wb_method_editor_move (row->owner, place, place - 1);
}

static void
on_down_cb (Row *row)
{
  guint place = find_place (row);

  if (place + 1 < row->owner->rows->len)
    wb_method_editor_move (row->owner, place, place + 1);
}

static void
on_remove_cb (Row *row)
{
  wb_method_editor_remove (row->owner, find_place (row));
}

static gboolean
on_key_cb (GtkEventControllerKey *keys,
           guint                  keyval,
           guint                  keycode,
           GdkModifierType        state,
           gpointer               user)
{
  if ((state & (GDK_ALT_MASK | GDK_CONTROL_MASK | GDK_SHIFT_MASK)) != GDK_ALT_MASK)
    return GDK_EVENT_PROPAGATE;
  if (keyval == GDK_KEY_Up)
    on_up_cb (user);
  else if (keyval == GDK_KEY_Down)
    on_down_cb (user);
  else
    return GDK_EVENT_PROPAGATE;
  return GDK_EVENT_STOP;
}

static GdkContentProvider *
on_prepare_cb (GtkDragSource *source,
               double         x,
               double         y,
               gpointer       user)
{
  return gdk_content_provider_new_typed (G_TYPE_UINT, find_place (user));
}

static gboolean
on_drop_cb (GtkDropTarget *target,
            const GValue  *value,
            double         x,
            double         y,
            gpointer       user)
{
  const Row *row = user;
  guint from = g_value_get_uint (value);

  if (from >= row->owner->rows->len)
    return FALSE;
  wb_method_editor_move (row->owner, from, find_place (row));
  return TRUE;
}

static WbQuantityEntry *
entry_new (const Row  *row,
           const char *field,
           WbQuantity  quantity,
           WbUnit      unit,
           const char *title)
{
  const WbFieldSpec *spec = wb_record_type_find_field (&wb_method_step_type, field);
  WbQuantityEntry *entry = WB_QUANTITY_ENTRY (wb_quantity_entry_new (quantity, unit));
  g_autofree char *name = g_strdup_printf ("%s, %s", title, _(spec->label));

  wb_quantity_entry_set_range (entry, spec->minimum, spec->maximum);
  wb_quantity_entry_set_width_chars (entry, 5);
  wb_quantity_entry_set_label (entry, name);
  wb_quantity_entry_set_value (entry, wb_record_get_real (row->step, spec));
  gtk_widget_set_valign (GTK_WIDGET (entry), GTK_ALIGN_START);
  g_signal_connect_swapped (entry, "changed", G_CALLBACK (on_edited_cb), row->owner);
  gtk_box_append (GTK_BOX (row->widget), GTK_WIDGET (entry));
  return entry;
}

static void
add_button (Row        *row,
            const char *icon,
            const char *words,
            const char *title,
            GCallback   callback)
{
  GtkWidget *button = gtk_button_new_from_icon_name (icon);
  g_autofree char *name = g_strdup_printf ("%s: %s", title, words);

  gtk_button_set_has_frame (GTK_BUTTON (button), FALSE);
  gtk_widget_set_valign (button, GTK_ALIGN_START);
  gtk_widget_set_tooltip_text (button, words);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  g_signal_connect_swapped (button, "clicked", callback, row);
  gtk_box_append (GTK_BOX (row->widget), button);
}

static void
add_controllers (Row *row)
{
  GtkEventController *keys = gtk_event_controller_key_new ();
  GtkDragSource *source = gtk_drag_source_new ();
  GtkDropTarget *target = gtk_drop_target_new (G_TYPE_UINT, GDK_ACTION_COPY);

  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (on_key_cb), row);
  g_signal_connect (source, "prepare", G_CALLBACK (on_prepare_cb), row);
  g_signal_connect (target, "drop", G_CALLBACK (on_drop_cb), row);
  gtk_widget_add_controller (row->widget, keys);
  gtk_widget_add_controller (gtk_widget_get_first_child (row->widget), GTK_EVENT_CONTROLLER (source));
  gtk_widget_add_controller (row->widget, GTK_EVENT_CONTROLLER (target));
}

static void
add_row (WbMethodEditor     *self,
         const WbMethodStep *step)
{
  const WbNotebook *settings = wb_app_notebook_get_settings (self->notebook);
  WbUnit unit = wb_quantity_get_shown_unit (WB_QUANTITY_TEMPERATURE, settings != NULL && settings->us_units);
  Row *row = g_new0 (Row, 1);
  g_autofree char *title = wb_craft_method_dup_title (step->kind), *numbered = g_strdup_printf ("%u. %s", self->rows->len + 1, title);
  g_autofree char *how = g_strdup_printf (_("%s, how"), title);
  GtkWidget *head = g_object_new (GTK_TYPE_LABEL, "label", numbered, "xalign", 0.0, "width-chars", 14, "max-width-chars", 14, "wrap", TRUE, "hexpand", TRUE, NULL);
  GtkWidget *both = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);

  row->owner = self;
  row->step = wb_record_copy (step);
  row->widget = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 4);
  gtk_box_append (GTK_BOX (row->widget), head);
  row->to_c = entry_new (row, "to_c", WB_QUANTITY_TEMPERATURE, unit, title);
  row->minutes = entry_new (row, "minutes", WB_QUANTITY_PLAIN, WB_UNIT_NONE, title);
  gtk_box_append (GTK_BOX (row->widget), gtk_label_new (_("min")));
  row->note = g_object_new (GTK_TYPE_ENTRY, "text", step->note != NULL ? step->note : "", "hexpand", TRUE, "width-chars", 8, "valign", GTK_ALIGN_START,
                            "placeholder-text", _("how"), NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row->note), GTK_ACCESSIBLE_PROPERTY_LABEL, how, -1);
  g_signal_connect_swapped (row->note, "changed", G_CALLBACK (on_edited_cb), self);
  add_button (row, "go-up-symbolic", _("Earlier (Alt+Up)"), title, G_CALLBACK (on_up_cb));
  add_button (row, "go-down-symbolic", _("Later (Alt+Down)"), title, G_CALLBACK (on_down_cb));
  add_button (row, "list-remove-symbolic", _("Leave out"), title, G_CALLBACK (on_remove_cb));
  add_controllers (row);
  /* how it is done stands below: the page is narrow */
  gtk_box_append (GTK_BOX (both), row->widget);
  gtk_box_append (GTK_BOX (both), row->note);
  gtk_box_append (GTK_BOX (self->list), both);
  g_ptr_array_add (self->rows, row);
}

static void
lay (WbMethodEditor  *self,
     const GPtrArray *steps)
{
  GtkWidget *child;

  self->filling = TRUE;
  while ((child = gtk_widget_get_first_child (self->list)) != NULL)
    gtk_box_remove (GTK_BOX (self->list), child);
  g_ptr_array_set_size (self->rows, 0);
  for (guint i = 0; i < steps->len; i++)
    add_row (self, steps->pdata[i]);
  self->filling = FALSE;
  update (self);
}

/* ---- What the buttons do ---- */

GPtrArray *
wb_method_editor_dup_steps (WbMethodEditor *self)
{
  GPtrArray *steps = g_ptr_array_new_with_free_func (wb_record_free);

  g_return_val_if_fail (WB_IS_METHOD_EDITOR (self), steps);

  for (guint i = 0; i < self->rows->len; i++)
    {
      WbMethodStep *step = dup_step (self->rows->pdata[i]);

      step->position = i + 1;
      g_ptr_array_add (steps, step);
    }
  return steps;
}

void
wb_method_editor_add (WbMethodEditor *self,
                      int             kind)
{
  g_autoptr (GPtrArray) steps = wb_method_editor_dup_steps (self);
  WbMethodStep *step;

  g_return_if_fail (self->wax != NULL && kind >= 0 && kind <= WB_STEP_OTHER);

  step = wb_record_new (&wb_method_step_type);
  step->wax = self->wax->record.id;
  step->kind = kind;
  g_ptr_array_add (steps, step);
  lay (self, steps);
  on_edited_cb (self);
  gtk_widget_grab_focus (GTK_WIDGET (((Row *) self->rows->pdata[self->rows->len - 1])->to_c));
}

void
wb_method_editor_remove (WbMethodEditor *self,
                         guint           place)
{
  g_autoptr (GPtrArray) steps = wb_method_editor_dup_steps (self);

  g_return_if_fail (place < steps->len);

  g_ptr_array_remove_index (steps, place);
  lay (self, steps);
  on_edited_cb (self);
}

void
wb_method_editor_move (WbMethodEditor *self,
                       guint           from,
                       guint           to)
{
  g_autoptr (GPtrArray) steps = wb_method_editor_dup_steps (self);
  gpointer moved;

  g_return_if_fail (from < steps->len && to < steps->len);

  if (from == to)
    return;
  moved = g_ptr_array_steal_index (steps, from);
  g_ptr_array_insert (steps, (int) to, moved);
  lay (self, steps);
  on_edited_cb (self);
  gtk_widget_grab_focus (GTK_WIDGET (((Row *) self->rows->pdata[to])->to_c));
}

void
wb_method_editor_usual (WbMethodEditor *self)
{
  g_autoptr (GPtrArray) steps = NULL;

  g_return_if_fail (self->wax != NULL);

  steps = wb_craft_method_usual (self->wax);
  self->usual = TRUE;
  self->touched = self->stored->len > 0;
  lay (self, steps);
}

static void
on_saved_cb (GObject      *source,
             GAsyncResult *result,
             gpointer      data)
{
  g_autoptr (WbMethodEditor) self = data;
  g_autoptr (GError) error = NULL;

  wb_app_notebook_save_finish (WB_APP_NOTEBOOK (source), result, NULL, &error);
  if (self->box == NULL)
    return;
  wb_save_mark_set (self->mark, error == NULL ? WB_SAVE_SAVED : WB_SAVE_FAILED, NULL);
  if (error == NULL)
    return;
  self->touched = TRUE;
  update (self);
  wb_problem_show (GTK_WIDGET (self), _("The method was not saved"), error);
}

static gboolean
check (WbMethodEditor *self)
{
  for (guint i = 0; i < self->rows->len; i++)
    {
      const Row *row = self->rows->pdata[i];

      if (!wb_quantity_entry_check (row->to_c) || !wb_quantity_entry_check (row->minutes))
        return FALSE;
    }
  return TRUE;
}

/* What is stored and stands in no row any more is deleted; what is as it was is not written. */
static GPtrArray *
dup_changes (WbMethodEditor *self)
{
  GPtrArray *records = g_ptr_array_new_with_free_func (wb_record_free);
  g_autoptr (GPtrArray) steps = self->usual ? g_ptr_array_new () : wb_method_editor_dup_steps (self);
  g_autoptr (GHashTable) kept = g_hash_table_new (g_int64_hash, g_int64_equal);

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
    if (((const WbRecord *) steps->pdata[i])->id <= 0)
      g_ptr_array_add (records, wb_record_copy (steps->pdata[i]));
  return records;
}

void
wb_method_editor_save (WbMethodEditor *self)
{
  g_autoptr (GPtrArray) records = NULL;
  g_autofree char *why = NULL;

  g_return_if_fail (WB_IS_METHOD_EDITOR (self) && self->wax != NULL);

  if (!check (self))
    return;
  records = dup_changes (self);
  why = g_strdup_printf (_("Method of %s"), self->wax->name);
  self->touched = FALSE;
  update (self);
  wb_save_mark_set (self->mark, WB_SAVE_SAVING, NULL);
  wb_app_notebook_save_async (self->notebook, why, records, NULL, on_saved_cb, g_object_ref (self));
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

  g_clear_pointer (&self->box, gtk_widget_unparent);
  g_ptr_array_set_size (self->rows, 0);
  g_clear_object (&self->notebook);
  G_OBJECT_CLASS (wb_method_editor_parent_class)->dispose (object);
}

static void
wb_method_editor_finalize (GObject *object)
{
  WbMethodEditor *self = WB_METHOD_EDITOR (object);

  wb_record_free (self->wax);
  g_ptr_array_unref (self->stored);
  g_ptr_array_unref (self->rows);
  G_OBJECT_CLASS (wb_method_editor_parent_class)->finalize (object);
}

static void
wb_method_editor_class_init (WbMethodEditorClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = wb_method_editor_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_method_editor_finalize;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (klass), "methodeditor");
}

static GtkWidget *
button_new (WbMethodEditor *self,
            GtkWidget      *line,
            const char     *label,
            GCallback       callback)
{
  GtkWidget *button = gtk_button_new_with_label (label);

  g_signal_connect_swapped (button, "clicked", callback, self);
  gtk_box_append (GTK_BOX (line), button);
  return button;
}

static void
wb_method_editor_init (WbMethodEditor *self)
{
  GtkWidget *heading = g_object_new (GTK_TYPE_LABEL, "label", _("Method of the pour"), "xalign", 0.0, NULL);
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  g_autoptr (GtkStringList) kinds = gtk_string_list_new (NULL);

  self->stored = g_ptr_array_new_with_free_func (wb_record_free);
  self->rows = g_ptr_array_new_with_free_func (row_free);
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);
  self->list = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);
  self->whose = GTK_LABEL (g_object_new (GTK_TYPE_LABEL, "xalign", 0.0, "wrap", TRUE, NULL));
  self->mark = g_object_new (WB_TYPE_SAVE_MARK, NULL);
  for (int i = 0; i <= WB_STEP_OTHER; i++)
    {
      g_autofree char *title = wb_craft_method_dup_title (i);

      gtk_string_list_append (kinds, title);
    }
  self->kind = GTK_DROP_DOWN (gtk_drop_down_new (G_LIST_MODEL (g_steal_pointer (&kinds)), NULL));
  wb_accessible_name_drop_down (self->kind, _("Step to add"));
  gtk_widget_add_css_class (heading, "section");
  gtk_widget_add_css_class (GTK_WIDGET (self->whose), "hint");
  gtk_box_append (GTK_BOX (line), GTK_WIDGET (self->kind));
  button_new (self, line, _("Add"), G_CALLBACK (on_add_cb));
  button_new (self, line, _("As usual"), G_CALLBACK (wb_method_editor_usual));
  self->save = button_new (self, line, _("Save the method"), G_CALLBACK (wb_method_editor_save));
  gtk_box_append (GTK_BOX (line), GTK_WIDGET (self->mark));
  gtk_box_append (GTK_BOX (self->box), heading);
  gtk_box_append (GTK_BOX (self->box), GTK_WIDGET (self->whose));
  gtk_box_append (GTK_BOX (self->box), self->list);
  gtk_box_append (GTK_BOX (self->box), line);
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
  gboolean same;

  g_return_if_fail (WB_IS_METHOD_EDITOR (self));

  gtk_widget_set_visible (GTK_WIDGET (self), is_wax);
  if (!is_wax)
    return;
  same = self->wax != NULL && self->wax->record.id == ((const WbRecord *) material)->id;
  wb_record_free (self->wax);
  self->wax = wb_record_copy (material);
  g_set_object (&self->notebook, notebook);
  g_ptr_array_set_size (self->stored, 0);
  for (guint i = 0; i < materials->method_steps->len; i++)
    if (((const WbMethodStep *) materials->method_steps->pdata[i])->wax == self->wax->record.id)
      g_ptr_array_add (self->stored, wb_record_copy (materials->method_steps->pdata[i]));
  if (same && self->touched)
    return;
  self->touched = FALSE;
  self->usual = self->stored->len == 0;
  if (!same)
    wb_save_mark_set (self->mark, WB_SAVE_IDLE, NULL);
  steps = wb_craft_method_of (self->wax, self->stored);
  lay (self, steps);
}

gboolean
wb_method_editor_get_touched (WbMethodEditor *self)
{
  g_return_val_if_fail (WB_IS_METHOD_EDITOR (self), FALSE);
  return self->touched;
}
