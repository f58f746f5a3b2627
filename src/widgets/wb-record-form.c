/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-record-form.h"

#include "wb-focus-walk.h"
#include "wb-record-field.h"

#include <glib/gi18n.h>

struct _WbRecordForm
{
  GtkWidget   parent_instance;

  /* children */
  GtkWidget  *box;
  GtkWidget  *grid;
  GtkWidget  *more;      /* an expander around the second grid */
  GtkWidget  *more_grid;

  /* owned */
  gpointer    record;  /* WbRecord; NULL: none */
  GPtrArray  *fields;  /* WbRecordField, borrowed from the grids */
  char      **hidden;
  char      **rare;      /* names of the fields under More; NULL: none */

  /* state */
  gboolean    us_units;
  gboolean    stacked; /* labels above their fields */
  gboolean    stale;   /* the fields are not those that would be made now */
};

G_DEFINE_FINAL_TYPE (WbRecordForm, wb_record_form, GTK_TYPE_WIDGET)

enum { CHANGED, ACTIVATE, N_SIGNALS };
static guint signals[N_SIGNALS];

static WbRecordField *
find_field (WbRecordForm *self,
            const char   *name)
{
  for (guint i = 0; i < self->fields->len; i++)
    if (g_str_equal (wb_record_field_get_spec (self->fields->pdata[i])->name, name))
      return self->fields->pdata[i];
  return NULL;
}

static void
on_field_changed_cb (WbRecordForm *self)
{
  g_signal_emit (self, signals[CHANGED], 0);
}

static void
on_field_activate_cb (WbRecordForm *self)
{
  g_signal_emit (self, signals[ACTIVATE], 0);
}

static gboolean
is_asked (WbRecordForm      *self,
          const WbFieldSpec *spec)
{
  if (spec->label == NULL || spec->type == WB_FIELD_INSTANT || spec->type == WB_FIELD_UUID)
    return FALSE;
  return self->hidden == NULL || !g_strv_contains ((const char *const *) self->hidden, spec->name);
}

static gboolean
is_rare (WbRecordForm      *self,
         const WbFieldSpec *spec)
{
  return self->rare != NULL && g_strv_contains ((const char *const *) self->rare, spec->name);
}

static GtkWidget *
get_grid (WbRecordForm      *self,
          const WbFieldSpec *spec)
{
  return is_rare (self, spec) ? self->more_grid : self->grid;
}

/* What is filled in, by the record or by hand, is seen. */
static void
open_for_filled (WbRecordForm *self)
{
  for (guint i = 0; i < self->fields->len; i++)
    {
      const WbFieldSpec *spec = wb_record_field_get_spec (self->fields->pdata[i]);

      if (!is_rare (self, spec))
        continue;
      if (wb_record_field_get_touched (self->fields->pdata[i])
          || (spec->type == WB_FIELD_FLAG ? wb_record_get_integer (self->record, spec) != 0 : wb_record_is_known (self->record, spec)))
        gtk_expander_set_expanded (GTK_EXPANDER (self->more), TRUE);
    }
}

static void
open_for_field (WbRecordForm  *self,
                WbRecordField *field)
{
  if (is_rare (self, wb_record_field_get_spec (field)))
    gtk_expander_set_expanded (GTK_EXPANDER (self->more), TRUE);
}

static void
add_field (WbRecordForm      *self,
           const WbFieldSpec *spec)
{
  GtkWidget *field = wb_record_field_new (spec, self->us_units);
  GtkGrid *grid = GTK_GRID (get_grid (self, spec));
  int row = (int) self->fields->len * (self->stacked ? 2 : 1) + (self->stacked ? 1 : 0);

  gtk_widget_set_hexpand (field, TRUE);
  /* A flag carries its label itself. */
  if (spec->type != WB_FIELD_FLAG)
    {
      g_autofree char *text = spec->required ? g_strdup_printf (_("%s *"), _(spec->label)) : g_strdup (_(spec->label));
      GtkWidget *label = g_object_new (GTK_TYPE_LABEL,
                                       "label", text,
                                       "xalign", 0.0,
                                       "valign", GTK_ALIGN_START,
                                       "wrap", TRUE,
                                       /* Two grids stand in one line by a fixed width alone. */
                                       "width-chars", self->rare != NULL ? 20 : 16,
                                       "max-width-chars", self->rare != NULL ? 20 : 24,
                                       NULL);

      gtk_widget_add_css_class (label, "fieldlabel");
      gtk_grid_attach (grid, label, 0, self->stacked ? row - 1 : row, 1, 1);
    }
  gtk_grid_attach (grid, field, self->stacked ? 0 : 1, row, 1, 1);
  g_signal_connect_swapped (field, "changed", G_CALLBACK (on_field_changed_cb), self);
  g_signal_connect_swapped (field, "activate", G_CALLBACK (on_field_activate_cb), self);
  g_ptr_array_add (self->fields, field);
}

static void
clear_grid (GtkWidget *grid)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (grid)) != NULL)
    gtk_grid_remove (GTK_GRID (grid), child);
}

static void
clear (WbRecordForm *self)
{
  g_ptr_array_set_size (self->fields, 0);
  clear_grid (self->grid);
  clear_grid (self->more_grid);
  gtk_expander_set_expanded (GTK_EXPANDER (self->more), FALSE);
  gtk_widget_set_visible (self->more, FALSE);
}

/* The first field that is asked. FALSE: none can take it. */
static gboolean
wb_record_form_grab_focus (GtkWidget *widget)
{
  WbRecordForm *self = WB_RECORD_FORM (widget);

  for (guint i = 0; i < self->fields->len; i++)
    if (gtk_widget_get_visible (self->fields->pdata[i]) && gtk_widget_grab_focus (self->fields->pdata[i]))
      return TRUE;
  return FALSE;
}

static void
wb_record_form_dispose (GObject *object)
{
  WbRecordForm *self = WB_RECORD_FORM (object);

  g_ptr_array_set_size (self->fields, 0);
  g_clear_pointer (&self->box, gtk_widget_unparent);
  G_OBJECT_CLASS (wb_record_form_parent_class)->dispose (object);
}

static void
wb_record_form_finalize (GObject *object)
{
  WbRecordForm *self = WB_RECORD_FORM (object);

  g_clear_pointer (&self->record, wb_record_free);
  g_ptr_array_unref (self->fields);
  g_strfreev (self->hidden);
  g_strfreev (self->rare);
  G_OBJECT_CLASS (wb_record_form_parent_class)->finalize (object);
}

static void
wb_record_form_class_init (WbRecordFormClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_record_form_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_record_form_finalize;
  widget_class->grab_focus = wb_record_form_grab_focus;
  widget_class->focus = wb_focus_walk;
  signals[CHANGED] = g_signal_new ("changed", WB_TYPE_RECORD_FORM, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[ACTIVATE] = g_signal_new ("activate", WB_TYPE_RECORD_FORM, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "recordform");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_FORM);
}

static GtkWidget *
grid_new (void)
{
  /* The line below each field that can be wrong parts them already. */
  return g_object_new (GTK_TYPE_GRID, "row-spacing", 2, "column-spacing", 14, NULL);
}

static void
wb_record_form_init (WbRecordForm *self)
{
  self->fields = g_ptr_array_new ();
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  self->grid = grid_new ();
  self->more_grid = grid_new ();
  gtk_widget_set_margin_top (self->more_grid, 8);
  self->more = gtk_expander_new (_("More"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->more), GTK_ACCESSIBLE_PROPERTY_LABEL, _("More"), -1);
  gtk_expander_set_child (GTK_EXPANDER (self->more), self->more_grid);
  wb_focus_walk_fold (GTK_EXPANDER (self->more));
  gtk_widget_set_visible (self->more, FALSE);
  gtk_box_append (GTK_BOX (self->box), self->grid);
  gtk_box_append (GTK_BOX (self->box), self->more);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
}

GtkWidget *
wb_record_form_new (void)
{
  return g_object_new (WB_TYPE_RECORD_FORM, NULL);
}

void
wb_record_form_set_us_units (WbRecordForm *self,
                             gboolean      us_units)
{
  g_return_if_fail (WB_IS_RECORD_FORM (self));
  self->stale = self->stale || self->us_units != us_units;
  self->us_units = us_units;
}

void
wb_record_form_set_hidden (WbRecordForm      *self,
                           const char *const *names)
{
  g_return_if_fail (WB_IS_RECORD_FORM (self));
  g_strfreev (self->hidden);
  self->hidden = g_strdupv ((char **) names);
  self->stale = TRUE;
}

void
wb_record_form_set_more (WbRecordForm      *self,
                         const char *const *names)
{
  g_return_if_fail (WB_IS_RECORD_FORM (self));

  if (self->rare == NULL && names == NULL)
    return;
  if (self->rare != NULL && names != NULL && g_strv_equal ((const char *const *) self->rare, names))
    return;
  g_strfreev (self->rare);
  self->rare = g_strdupv ((char **) names);
  self->stale = TRUE;
}

void
wb_record_form_set_choices (WbRecordForm       *self,
                            const char         *name,
                            const gint64       *ids,
                            const char *const  *titles)
{
  WbRecordField *field;

  g_return_if_fail (WB_IS_RECORD_FORM (self));

  field = find_field (self, name);
  if (field == NULL)
    return;
  wb_record_field_set_choices (field, ids, titles);
  if (!wb_record_field_get_touched (field))
    wb_record_field_read (field, self->record);
}

void
wb_record_form_set_unit (WbRecordForm *self,
                         const char   *name,
                         WbUnit        unit,
                         const char   *words,
                         const char   *hint)
{
  WbRecordField *field;

  g_return_if_fail (WB_IS_RECORD_FORM (self) && self->record != NULL);

  field = find_field (self, name);
  if (field == NULL)
    return;
  wb_record_field_set_unit (field, unit, words, hint);
  wb_record_field_read (field, self->record);
}

/* The same record once more, as after its save: its fields stay, and with them the keyboard and what an entry can take back. */
static gboolean
is_same (WbRecordForm   *self,
         const WbRecord *record)
{
  const WbRecord *old = self->record;

  return !self->stale && old != NULL && old->type == record->type && old->id == record->id && record->id != 0;
}

static void
make_fields (WbRecordForm       *self,
             const WbRecordType *type)
{
  clear (self);
  self->stale = FALSE;
  for (guint i = 0; i < type->n_fields; i++)
    if (is_asked (self, &type->fields[i]))
      {
        add_field (self, &type->fields[i]);
        if (is_rare (self, &type->fields[i]))
          gtk_widget_set_visible (self->more, TRUE);
      }
}

void
wb_record_form_set_record (WbRecordForm  *self,
                           gconstpointer  record)
{
  g_return_if_fail (WB_IS_RECORD_FORM (self));

  gboolean same = record != NULL && is_same (self, record);

  if (record == NULL)
    clear (self);
  else if (!same)
    make_fields (self, ((const WbRecord *) record)->type);
  /* The record may be the form's own. */
  gpointer old = g_steal_pointer (&self->record);

  self->record = record != NULL ? wb_record_copy (record) : NULL;
  g_clear_pointer (&old, wb_record_free);
  if (record == NULL)
    return;
  for (guint i = 0; i < self->fields->len; i++)
    wb_record_field_read (self->fields->pdata[i], self->record);
  /* of the same one, the person has opened or closed it */
  if (!same)
    open_for_filled (self);
}

gpointer
wb_record_form_dup_record (WbRecordForm *self)
{
  gpointer copy;

  g_return_val_if_fail (WB_IS_RECORD_FORM (self), NULL);

  if (self->record == NULL)
    return NULL;
  copy = wb_record_copy (self->record);
  wb_record_form_write (self, copy);
  return copy;
}

void
wb_record_form_write (WbRecordForm *self,
                      gpointer      record)
{
  g_return_if_fail (WB_IS_RECORD_FORM (self));
  g_return_if_fail (record != NULL);

  /* An untouched field keeps its stored value whole: what it shows is rounded. */
  for (guint i = 0; i < self->fields->len; i++)
    if (wb_record_field_get_touched (self->fields->pdata[i]))
      wb_record_field_write (self->fields->pdata[i], record);
}

gboolean
wb_record_form_check (WbRecordForm *self)
{
  WbRecordField *first = NULL;

  g_return_val_if_fail (WB_IS_RECORD_FORM (self), FALSE);

  for (guint i = 0; i < self->fields->len; i++)
    if (!wb_record_field_check (self->fields->pdata[i]))
      {
        open_for_field (self, self->fields->pdata[i]);
        /* as they stand: what is under More comes last */
        if (first == NULL || (is_rare (self, wb_record_field_get_spec (first)) && !is_rare (self, wb_record_field_get_spec (self->fields->pdata[i]))))
          first = self->fields->pdata[i];
      }
  if (first != NULL)
    gtk_widget_grab_focus (GTK_WIDGET (first));
  return first == NULL;
}

gboolean
wb_record_form_set_problem (WbRecordForm *self,
                            const char   *name,
                            const char   *text)
{
  WbRecordField *field;

  g_return_val_if_fail (WB_IS_RECORD_FORM (self), FALSE);

  field = find_field (self, name);
  if (field == NULL)
    return FALSE;
  wb_record_field_set_problem (field, text);
  open_for_field (self, field);
  gtk_widget_grab_focus (GTK_WIDGET (field));
  return TRUE;
}

const char *
wb_record_form_get_problem (WbRecordForm *self,
                            const char   *name)
{
  WbRecordField *field;

  g_return_val_if_fail (WB_IS_RECORD_FORM (self), NULL);
  field = find_field (self, name);
  return field != NULL ? wb_record_field_get_problem (field) : NULL;
}

void
wb_record_form_set_caution (WbRecordForm *self,
                            const char   *name,
                            const char   *text)
{
  WbRecordField *field;

  g_return_if_fail (WB_IS_RECORD_FORM (self));
  field = find_field (self, name);
  if (field != NULL)
    wb_record_field_set_caution (field, text);
}

const char *
wb_record_form_get_caution (WbRecordForm *self,
                            const char   *name)
{
  WbRecordField *field;

  g_return_val_if_fail (WB_IS_RECORD_FORM (self), NULL);
  field = find_field (self, name);
  return field != NULL ? wb_record_field_get_caution (field) : NULL;
}

void
wb_record_form_set_shown (WbRecordForm *self,
                          const char   *name,
                          gboolean      shown)
{
  WbRecordField *field;
  GtkWidget *label, *grid;
  int column, row, width, height;

  g_return_if_fail (WB_IS_RECORD_FORM (self));

  field = find_field (self, name);
  if (field == NULL)
    return;
  grid = gtk_widget_get_parent (GTK_WIDGET (field));
  gtk_grid_query_child (GTK_GRID (grid), GTK_WIDGET (field), &column, &row, &width, &height);
  label = gtk_grid_get_child_at (GTK_GRID (grid), 0, self->stacked ? row - 1 : row);
  gtk_widget_set_visible (GTK_WIDGET (field), shown);
  if (label != NULL)
    gtk_widget_set_visible (label, shown);
}

void
wb_record_form_set_stacked (WbRecordForm *self,
                            gboolean      stacked)
{
  g_return_if_fail (WB_IS_RECORD_FORM (self));
  self->stacked = stacked;
}

GtkWidget *
wb_record_form_get_field (WbRecordForm *self,
                          const char   *name)
{
  g_return_val_if_fail (WB_IS_RECORD_FORM (self), NULL);
  return (GtkWidget *) find_field (self, name);
}

gboolean
wb_record_form_get_touched (WbRecordForm *self)
{
  g_return_val_if_fail (WB_IS_RECORD_FORM (self), FALSE);

  for (guint i = 0; i < self->fields->len; i++)
    if (wb_record_field_get_touched (self->fields->pdata[i]))
      return TRUE;
  return FALSE;
}

void
wb_record_form_keep (WbRecordForm *self,
                     GKeyFile     *file,
                     const char   *group)
{
  g_return_if_fail (WB_IS_RECORD_FORM (self));
  g_return_if_fail (file != NULL && group != NULL);

  for (guint i = 0; i < self->fields->len; i++)
    {
      g_autofree char *text = wb_record_field_dup_typed (self->fields->pdata[i]);

      if (text != NULL)
        g_key_file_set_string (file, group, wb_record_field_get_spec (self->fields->pdata[i])->name, text);
    }
}

void
wb_record_form_put_back (WbRecordForm *self,
                         GKeyFile     *file,
                         const char   *group)
{
  g_return_if_fail (WB_IS_RECORD_FORM (self));
  g_return_if_fail (file != NULL && group != NULL);

  for (guint i = 0; i < self->fields->len; i++)
    {
      g_autofree char *text = g_key_file_get_string (file, group, wb_record_field_get_spec (self->fields->pdata[i])->name, NULL);

      if (text != NULL)
        wb_record_field_put_typed (self->fields->pdata[i], text);
    }
  if (self->record != NULL)
    open_for_filled (self);
}

void
wb_record_form_mark_sent (WbRecordForm *self)
{
  g_return_if_fail (WB_IS_RECORD_FORM (self));

  for (guint i = 0; i < self->fields->len; i++)
    wb_record_field_mark_sent (self->fields->pdata[i]);
}

void
wb_record_form_take_stored (WbRecordForm  *self,
                            gconstpointer  record)
{
  g_return_if_fail (WB_IS_RECORD_FORM (self));
  g_return_if_fail (self->record != NULL && record != NULL);
  g_return_if_fail (((WbRecord *) self->record)->type == ((const WbRecord *) record)->type);

  wb_record_free (self->record);
  self->record = wb_record_copy (record);
  for (guint i = 0; i < self->fields->len; i++)
    if (wb_record_field_get_sent (self->fields->pdata[i]))
      wb_record_field_read (self->fields->pdata[i], self->record);
}
