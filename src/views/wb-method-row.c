/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-method-row.h"

#include "wb-craft-method.h"
#include "wb-quantity-entry.h"

#include <glib/gi18n.h>
#include <math.h>

/* CSS node: methodrow. Each field is named by the step. */

struct _WbMethodRow
{
  GtkWidget        parent_instance;

  /* children */
  GtkWidget       *line;    /* all but how it is done, which stands below: the page is narrow */
  GtkLabel        *head;
  WbQuantityEntry *to_c;
  WbQuantityEntry *minutes;
  GtkWidget       *remove;
  GtkWidget       *note;

  /* owned */
  WbMethodStep    *step;

  /* state */
  guint            place;
};

G_DEFINE_FINAL_TYPE (WbMethodRow, wb_method_row, GTK_TYPE_WIDGET)

enum { CHANGED, MOVE, DROPPED, REMOVE, N_SIGNALS };
static guint signals[N_SIGNALS];

static void
on_edited_cb (WbMethodRow *self)
{
  g_signal_emit (self, signals[CHANGED], 0);
}

static void
on_up_cb (WbMethodRow *self)
{
  g_signal_emit (self, signals[MOVE], 0, -1);
}

static void
on_down_cb (WbMethodRow *self)
{
  g_signal_emit (self, signals[MOVE], 0, 1);
}

static void
on_remove_cb (WbMethodRow *self)
{
  g_signal_emit (self, signals[REMOVE], 0);
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
  if (keyval == GDK_KEY_Up || keyval == GDK_KEY_KP_Up)
    on_up_cb (user);
  else if (keyval == GDK_KEY_Down || keyval == GDK_KEY_KP_Down)
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
  return gdk_content_provider_new_typed (G_TYPE_UINT, WB_METHOD_ROW (user)->place);
}

static gboolean
on_drop_cb (GtkDropTarget *target,
            const GValue  *value,
            double         x,
            double         y,
            gpointer       user)
{
  g_signal_emit (user, signals[DROPPED], 0, g_value_get_uint (value));
  return TRUE;
}

static WbQuantityEntry *
add_entry (WbMethodRow *self,
           const char  *field,
           WbQuantity   quantity,
           WbUnit       unit,
           const char  *title)
{
  const WbFieldSpec *spec = wb_record_type_find_field (&wb_method_step_type, field);
  WbQuantityEntry *entry = WB_QUANTITY_ENTRY (wb_quantity_entry_new (quantity, unit));
  g_autofree char *name = g_strdup_printf ("%s, %s", title, _(spec->label));

  wb_quantity_entry_set_range (entry, spec->minimum, spec->maximum);
  wb_quantity_entry_set_width_chars (entry, 5);
  wb_quantity_entry_set_label (entry, name);
  wb_quantity_entry_set_value (entry, wb_record_get_real (self->step, spec));
  gtk_widget_set_valign (GTK_WIDGET (entry), GTK_ALIGN_START);
  g_signal_connect_swapped (entry, "changed", G_CALLBACK (on_edited_cb), self);
  gtk_box_append (GTK_BOX (self->line), GTK_WIDGET (entry));
  return entry;
}

static GtkWidget *
add_button (WbMethodRow *self,
            const char  *icon,
            const char  *words,
            const char  *title,
            GCallback    callback)
{
  GtkWidget *button = gtk_button_new_from_icon_name (icon);
  g_autofree char *name = g_strdup_printf ("%s: %s", title, words);

  gtk_button_set_has_frame (GTK_BUTTON (button), FALSE);
  gtk_widget_set_valign (button, GTK_ALIGN_START);
  gtk_widget_set_tooltip_text (button, words);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  g_signal_connect_swapped (button, "clicked", callback, self);
  gtk_box_append (GTK_BOX (self->line), button);
  return button;
}

static void
add_controllers (WbMethodRow *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();
  GtkDragSource *source = gtk_drag_source_new ();
  GtkDropTarget *target = gtk_drop_target_new (G_TYPE_UINT, GDK_ACTION_COPY);

  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (on_key_cb), self);
  g_signal_connect (source, "prepare", G_CALLBACK (on_prepare_cb), self);
  g_signal_connect (target, "drop", G_CALLBACK (on_drop_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
  gtk_widget_add_controller (GTK_WIDGET (self->head), GTK_EVENT_CONTROLLER (source));
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (target));
}

static gboolean
wb_method_row_grab_focus (GtkWidget *widget)
{
  return gtk_widget_grab_focus (GTK_WIDGET (WB_METHOD_ROW (widget)->to_c));
}

static void
wb_method_row_dispose (GObject *object)
{
  WbMethodRow *self = WB_METHOD_ROW (object);

  g_clear_pointer (&self->line, gtk_widget_unparent);
  g_clear_pointer (&self->note, gtk_widget_unparent);
  G_OBJECT_CLASS (wb_method_row_parent_class)->dispose (object);
}

static void
wb_method_row_finalize (GObject *object)
{
  wb_record_free (WB_METHOD_ROW (object)->step);
  G_OBJECT_CLASS (wb_method_row_parent_class)->finalize (object);
}

static void
wb_method_row_class_init (WbMethodRowClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_method_row_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_method_row_finalize;
  widget_class->grab_focus = wb_method_row_grab_focus;
  signals[CHANGED] = g_signal_new ("changed", WB_TYPE_METHOD_ROW, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[MOVE] = g_signal_new ("move", WB_TYPE_METHOD_ROW, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_INT);
  signals[DROPPED] = g_signal_new ("dropped", WB_TYPE_METHOD_ROW, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_UINT);
  signals[REMOVE] = g_signal_new ("remove", WB_TYPE_METHOD_ROW, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "methodrow");
}

static void
wb_method_row_init (WbMethodRow *self)
{
  GtkLayoutManager *layout = gtk_widget_get_layout_manager (GTK_WIDGET (self));

  gtk_orientable_set_orientation (GTK_ORIENTABLE (layout), GTK_ORIENTATION_VERTICAL);
  gtk_box_layout_set_spacing (GTK_BOX_LAYOUT (layout), 2);
}

GtkWidget *
wb_method_row_new (const WbMethodStep *step,
                   WbUnit              unit)
{
  g_autofree char *title = NULL, *how = NULL;
  WbMethodRow *self;

  g_return_val_if_fail (step != NULL, NULL);

  title = wb_craft_method_dup_title (step->kind);
  how = g_strdup_printf (_("%s, how"), title);
  self = g_object_new (WB_TYPE_METHOD_ROW, NULL);
  self->step = wb_record_copy (step);
  self->line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 4);
  self->head = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0, "width-chars", 14, "max-width-chars", 14, "wrap", TRUE, "hexpand", TRUE, NULL);
  gtk_box_append (GTK_BOX (self->line), GTK_WIDGET (self->head));
  self->to_c = add_entry (self, "to_c", WB_QUANTITY_TEMPERATURE, unit, title);
  self->minutes = add_entry (self, "minutes", WB_QUANTITY_PLAIN, WB_UNIT_NONE, title);
  gtk_box_append (GTK_BOX (self->line), gtk_label_new (_("min")));
  add_button (self, "go-up-symbolic", _("Earlier (Alt+Up)"), title, G_CALLBACK (on_up_cb));
  add_button (self, "go-down-symbolic", _("Later (Alt+Down)"), title, G_CALLBACK (on_down_cb));
  self->remove = add_button (self, "list-remove-symbolic", _("Leave out"), title, G_CALLBACK (on_remove_cb));
  self->note = g_object_new (GTK_TYPE_ENTRY, "text", step->note != NULL ? step->note : "", "hexpand", TRUE, "width-chars", 8,
                             "placeholder-text", _("how"), NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->note), GTK_ACCESSIBLE_PROPERTY_LABEL, how, -1);
  g_signal_connect_swapped (self->note, "changed", G_CALLBACK (on_edited_cb), self);
  gtk_widget_set_parent (self->line, GTK_WIDGET (self));
  gtk_widget_set_parent (self->note, GTK_WIDGET (self));
  add_controllers (self);
  return GTK_WIDGET (self);
}

const WbMethodStep *
wb_method_row_get_step (WbMethodRow *self)
{
  g_return_val_if_fail (WB_IS_METHOD_ROW (self), NULL);
  return self->step;
}

void
wb_method_row_set_stored (WbMethodRow *self,
                          gint64       id,
                          gint64       entry)
{
  g_return_if_fail (WB_IS_METHOD_ROW (self));
  self->step->record.id = id;
  self->step->record.entry = entry;
}

void
wb_method_row_set_place (WbMethodRow *self,
                         guint        place)
{
  g_autofree char *title = NULL, *numbered = NULL;

  g_return_if_fail (WB_IS_METHOD_ROW (self));

  title = wb_craft_method_dup_title (self->step->kind);
  numbered = g_strdup_printf ("%u. %s", place + 1, title);
  self->place = place;
  gtk_label_set_text (self->head, numbered);
}

WbMethodStep *
wb_method_row_dup_step (WbMethodRow *self)
{
  WbMethodStep *step;

  g_return_val_if_fail (WB_IS_METHOD_ROW (self), NULL);

  step = wb_record_copy (self->step);
  step->position = self->place + 1;
  step->to_c = wb_quantity_entry_get_value (self->to_c);
  step->minutes = wb_quantity_entry_get_value (self->minutes);
  wb_record_set_text (step, wb_record_type_find_field (&wb_method_step_type, "note"), gtk_editable_get_text (GTK_EDITABLE (self->note)));
  return step;
}

gboolean
wb_method_row_check (WbMethodRow *self)
{
  WbQuantityEntry *entries[2];

  g_return_val_if_fail (WB_IS_METHOD_ROW (self), FALSE);

  entries[0] = self->to_c;
  entries[1] = self->minutes;
  for (guint i = 0; i < G_N_ELEMENTS (entries); i++)
    if (!wb_quantity_entry_check (entries[i]))
      {
        gtk_widget_grab_focus (GTK_WIDGET (entries[i]));
        return FALSE;
      }
  return TRUE;
}

void
wb_method_row_focus_remove (WbMethodRow *self)
{
  g_return_if_fail (WB_IS_METHOD_ROW (self));
  gtk_widget_grab_focus (self->remove);
}

/* ---- What is half typed ---- */

static char *
dup_key (const char *name,
         guint       i)
{
  return g_strdup_printf ("%s-%u", name, i);
}

static void
keep_entry (WbQuantityEntry *entry,
            GKeyFile        *file,
            const char      *group,
            const char      *name,
            guint            i)
{
  g_autofree char *typed = dup_key (name, i), *stored = g_strconcat (typed, "-stored", NULL);

  /* what is shown of a stored one is rounded */
  if (wb_quantity_entry_get_touched (entry))
    g_key_file_set_string (file, group, typed, wb_quantity_entry_get_text (entry));
  else if (!isnan (wb_quantity_entry_get_value (entry)))
    g_key_file_set_double (file, group, stored, wb_quantity_entry_get_value (entry));
}

void
wb_method_row_keep (WbMethodRow *self,
                    GKeyFile    *file,
                    const char  *group,
                    guint        i)
{
  g_autofree char *id = dup_key ("id", i), *kind = dup_key ("kind", i), *note = dup_key ("note", i);

  g_return_if_fail (WB_IS_METHOD_ROW (self));
  g_return_if_fail (file != NULL && group != NULL);

  g_key_file_set_int64 (file, group, id, MAX (self->step->record.id, 0));
  g_key_file_set_string (file, group, kind, wb_step_words[self->step->kind].nick);
  g_key_file_set_string (file, group, note, gtk_editable_get_text (GTK_EDITABLE (self->note)));
  keep_entry (self->to_c, file, group, "to_c", i);
  keep_entry (self->minutes, file, group, "minutes", i);
}

static void
put_entry_back (WbQuantityEntry *entry,
                GKeyFile        *file,
                const char      *group,
                const char      *name,
                guint            i)
{
  g_autofree char *key = dup_key (name, i), *typed = g_key_file_get_string (file, group, key, NULL);

  if (typed != NULL)
    wb_quantity_entry_put_typed (entry, typed);
}

void
wb_method_row_put_back (WbMethodRow *self,
                        GKeyFile    *file,
                        const char  *group,
                        guint        i)
{
  g_return_if_fail (WB_IS_METHOD_ROW (self));
  g_return_if_fail (file != NULL && group != NULL);

  put_entry_back (self->to_c, file, group, "to_c", i);
  put_entry_back (self->minutes, file, group, "minutes", i);
}

static double
read_stored (GKeyFile   *file,
             const char *group,
             const char *name,
             guint       i)
{
  g_autofree char *key = g_strdup_printf ("%s-%u-stored", name, i);

  return g_key_file_has_key (file, group, key, NULL) ? g_key_file_get_double (file, group, key, NULL) : NAN;
}

WbMethodStep *
wb_method_row_dup_kept (GKeyFile   *file,
                        const char *group,
                        guint       i)
{
  g_autofree char *id = dup_key ("id", i), *kind = dup_key ("kind", i), *note = dup_key ("note", i);
  g_autofree char *nick = g_key_file_get_string (file, group, kind, NULL), *text = g_key_file_get_string (file, group, note, NULL);
  WbMethodStep *step;

  if (nick == NULL || wb_words_find (wb_step_words, nick) < 0)
    return NULL;
  step = wb_record_new (&wb_method_step_type);
  step->record.id = g_key_file_get_int64 (file, group, id, NULL);
  step->kind = wb_words_find (wb_step_words, nick);
  step->to_c = read_stored (file, group, "to_c", i);
  step->minutes = read_stored (file, group, "minutes", i);
  wb_record_set_text (step, wb_record_type_find_field (&wb_method_step_type, "note"), text);
  return step;
}
