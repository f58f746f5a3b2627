/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-mapping-dialog.h"

#include "wb-accessible-name.h"
#include "wb-app-mapping.h"
#include "wb-bundle.h"
#include "wb-choice-list.h"
#include "wb-file-choice.h"
#include "wb-grey.h"
#include "wb-import-dialog.h"
#include "wb-encoding-list.h"
#include "wb-mapping-columns.h"
#include "wb-mapping-preview.h"
#include "wb-mapping-values.h"
#include "wb-problem.h"
#include "wb-weak-widget.h"

#include <glib/gi18n.h>
#include <inttypes.h>

#define MOST_MISFITS 5

static const char *const steps[] = { "file", "columns", "values", "preview" };

static const struct { char sign; const char *title; } delimiters[] = {
  { ',', N_("comma") }, { ';', N_("semicolon") }, { '\t', N_("tab") }, { '|', N_("upright bar |") }, { ':', N_("colon") }, { ' ', N_("blank") },
};

struct _WbMappingDialog
{
  GtkWindow         parent_instance;

  /* children */
  GtkLabel         *file_label;
  GtkStack         *stack;
  GtkDropDown      *saved;
  GtkDropDown      *encoding;
  GtkDropDown      *delimiter;
  GtkSpinButton    *header_line;
  GtkDropDown      *decimal;
  GtkDropDown      *header_rows;
  GtkDropDown      *date_order;
  GtkDropDown      *clock;
  GtkEditable      *zone;
  GtkLabel         *found;
  WbMappingColumns *columns;
  WbMappingValues  *values;
  WbMappingPreview *preview;
  GtkEditable      *name;
  GtkWidget        *save;
  GtkLabel         *said;
  GtkWidget        *back;
  GtkWidget        *next;

  /* owned */
  WbAppNotebook    *notebook;
  char             *file;
  WbLogMapping     *mapping;     /* NULL: the file has not been looked into yet */
  WbLogHead        *head;
  WbLogMapping     *wanted;      /* chosen, and to be used once the file has been looked into; NULL: the guess */
  GPtrArray        *kept;        /* WbLogMapping, as the list shows them behind the guess */
  GCancellable     *looking;     /* NULL: nothing is being looked for */
  GCancellable     *previewing;

  /* state */
  gboolean          chosen;      /* the mapping is a saved one: another shape does not throw it away */
  gboolean          order_asked; /* dates can be read in two orders, and none is chosen yet */
  gboolean          clock_asked; /* the same of a clock of 12 or 24 hours */
  gboolean          filling;
};

G_DEFINE_FINAL_TYPE (WbMappingDialog, wb_mapping_dialog, GTK_TYPE_WINDOW)

static guint
get_step (WbMappingDialog *self)
{
  for (guint i = 0; i < G_N_ELEMENTS (steps); i++)
    if (g_strcmp0 (gtk_stack_get_visible_child_name (self->stack), steps[i]) == 0)
      return i;
  return 0;
}

static gboolean
is_last (WbMappingDialog *self)
{
  return get_step (self) == G_N_ELEMENTS (steps) - 1;
}

/* What stands in the way of the next step; NULL: nothing. Static. */
static const char *
get_obstacle (WbMappingDialog *self)
{
  if (self->mapping == NULL)
    return _("The file is not read yet");
  if (self->order_asked || self->clock_asked)
    return _("Answer first how its dates and times are written");
  return is_last (self) && wb_mapping_preview_get_n_rows (self->preview) == 0 ? _("No row of the file can be taken") : NULL;
}

static void
update_buttons (WbMappingDialog *self)
{
  gboolean last = is_last (self);

  wb_grey_set (self->back, get_step (self) > 0 ? NULL : _("This is the first step"));
  gtk_button_set_label (GTK_BUTTON (self->next), last ? _("Check against the notebook…") : _("Next"));
  wb_grey_set (self->next, get_obstacle (self));
  wb_grey_set (self->save, self->mapping == NULL ? _("The file is not read yet")
                           : *gtk_editable_get_text (self->name) == '\0' ? _("Type a name first, under which it is kept") : NULL);
}

static void
say (WbMappingDialog *self,
     const char      *text)
{
  gtk_label_set_text (self->said, text);
  gtk_widget_set_visible (GTK_WIDGET (self->said), *text != '\0');
}

/* Dates that do not fit the order in which the others stand. NULL: none, or the order is not the guessed one. Caller frees. */
static char *
dup_misfits (WbMappingDialog *self)
{
  static const char *const words[WB_LOG_N_DATE_ORDERS] = {
    [WB_LOG_DATE_DAY_FIRST] = N_("Dates are read with the day first, as most of them stand. They do not fit: %s."),
    [WB_LOG_DATE_MONTH_FIRST] = N_("Dates are read with the month first, as most of them stand. They do not fit: %s."),
  };
  g_autoptr (GString) list = g_string_new (NULL);

  if (self->head == NULL || self->mapping == NULL || self->head->misfits->len == 0 || self->mapping->date_order != self->head->order)
    return NULL;
  for (guint i = 0; i < MIN (self->head->misfits->len, MOST_MISFITS); i++)
    {
      const WbLogMisfit *misfit = self->head->misfits->pdata[i];

      g_string_append_printf (list, i == 0 ? _("line %" PRIu64 ", %s: “%s”") : _("; line %" PRIu64 ", %s: “%s”"), misfit->line,
                              misfit->column, misfit->text);
    }
  if (self->head->misfits->len > MOST_MISFITS)
    g_string_append_printf (list, _("; and %u more"), self->head->misfits->len - MOST_MISFITS);
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
  return g_strdup_printf (_(words[self->head->order]), list->str);
#pragma GCC diagnostic pop
}

/* What no guess may settle, and what one has settled although not all agrees. */
static void
ask (WbMappingDialog *self)
{
  g_autofree char *misfits = dup_misfits (self);

  say (self, self->order_asked ? _("Dates in this file can be read with the day or with the month first: choose the order of dates.")
             : self->clock_asked ? _("No time of day in this file has am or pm, and none is past 12:59: choose the clock.")
             : misfits != NULL ? misfits : "");
}

static void
say_error (WbMappingDialog *self,
           const char      *what,
           const GError    *error)
{
  g_autofree char *heading = NULL, *detail = NULL, *text = NULL;

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  wb_problem_dup_words (what, error, &heading, &detail);
  text = g_strdup_printf ("%s. %s", heading, detail);
  say (self, text);
}

static void
on_previewed_cb (GObject      *source,
                 GAsyncResult *result,
                 gpointer      data)
{
  g_autoptr (WbMappingDialog) self = wb_weak_widget_take (data);
  g_autoptr (GError) error = NULL;
  g_autoptr (WbAppMappingPreview) preview = wb_app_mapping_preview_finish (result, &error);

  if (self == NULL || g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  g_clear_object (&self->previewing);
  wb_mapping_preview_show (self->preview, preview, error);
  update_buttons (self);
}

/* What the mapping makes of the file's first rows; the one before, if still on its way, is given up. */
static void
run_preview (WbMappingDialog *self)
{
  if (self->previewing != NULL)
    g_cancellable_cancel (self->previewing);
  g_clear_object (&self->previewing);
  wb_mapping_preview_show (self->preview, NULL, NULL);
  update_buttons (self);
  if (self->mapping == NULL)
    return;
  self->previewing = g_cancellable_new ();
  wb_app_mapping_preview_async (self->file, self->mapping, self->previewing, on_previewed_cb, wb_weak_widget_new (self));
}

static void
on_step_cb (WbMappingDialog *self)
{
  if (self->mapping != NULL && get_step (self) == 2)
    wb_mapping_values_set (self->values, self->mapping);
  if (is_last (self))
    run_preview (self);
  update_buttons (self);
}

static guint
find_delimiter (char sign)
{
  for (guint i = 0; i < G_N_ELEMENTS (delimiters); i++)
    if (delimiters[i].sign == sign)
      return i;
  return GTK_INVALID_LIST_POSITION;
}

static void
show_mapping (WbMappingDialog *self)
{
  g_autofree char *names = g_strjoinv (" · ", self->head->names);
  g_autofree char *found = g_strdup_printf (ngettext ("%u row looked at. Columns: %s", "%u rows looked at. Columns: %s", self->head->n_records),
                                            self->head->n_records, names);

  self->filling = TRUE;
  gtk_label_set_text (self->found, found);
  gtk_drop_down_set_selected (self->encoding, wb_encoding_list_find (self->mapping->encoding));
  gtk_drop_down_set_selected (self->delimiter, find_delimiter (self->mapping->delimiter));
  gtk_spin_button_set_value (self->header_line, self->mapping->header_line);
  gtk_drop_down_set_selected (self->decimal, self->mapping->decimal == ',' ? 1 : 0);
  gtk_drop_down_set_selected (self->date_order, self->order_asked ? GTK_INVALID_LIST_POSITION : self->mapping->date_order);
  gtk_drop_down_set_selected (self->header_rows, self->mapping->header_rows - 1);
  gtk_drop_down_set_selected (self->clock, self->clock_asked ? GTK_INVALID_LIST_POSITION : self->mapping->clock);
  gtk_editable_set_text (self->zone, self->mapping->zone);
  gtk_editable_set_text (self->name, self->mapping->name != NULL ? self->mapping->name : "");
  wb_mapping_columns_set (self->columns, self->mapping, self->head);
  wb_mapping_values_set (self->values, self->mapping);
  self->filling = FALSE;
  if (is_last (self))
    run_preview (self);
  update_buttons (self);
}

static void
on_guessed_cb (GObject      *source,
               GAsyncResult *result,
               gpointer      data)
{
  g_autoptr (WbMappingDialog) self = wb_weak_widget_take (data);
  g_autoptr (GError) error = NULL;
  g_autoptr (WbLogHead) head = NULL;
  g_autoptr (WbLogMapping) guess = wb_app_mapping_guess_finish (result, &head, &error);

  if (self == NULL || g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  g_clear_object (&self->looking);
  if (guess == NULL)
    {
      gtk_label_set_text (self->found, "");
      say_error (self, _("The file could not be read"), error);
      return;
    }
  self->order_asked = self->wanted == NULL && head->order_doubtful;
  self->clock_asked = self->wanted == NULL && head->clock_doubtful;
  /* What is shown borrows from the old ones until the new are shown. */
  g_autoptr (WbLogMapping) old = g_steal_pointer (&self->mapping);
  g_autoptr (WbLogHead) old_head = g_steal_pointer (&self->head);

  self->mapping = self->wanted != NULL ? g_steal_pointer (&self->wanted) : g_steal_pointer (&guess);
  self->head = g_steal_pointer (&head);
  /* A mapping that leaves it to the header has it told now. */
  if (self->mapping->delimiter == '\0' && guess != NULL)
    self->mapping->delimiter = guess->delimiter;
  ask (self);
  show_mapping (self);
}

/* By the wanted mapping's shape, the shape shown, or, neither given, guessed. */
static void
look (WbMappingDialog    *self,
      const WbLogMapping *shape)
{
  if (self->looking != NULL)
    g_cancellable_cancel (self->looking);
  g_clear_object (&self->looking);
  self->looking = g_cancellable_new ();
  gtk_label_set_text (self->found, _("Looking into the file…"));
  wb_app_mapping_guess_async (self->file, shape, self->looking, on_guessed_cb, wb_weak_widget_new (self));
}

static void
use (WbMappingDialog    *self,
     const WbLogMapping *mapping)
{
  g_clear_pointer (&self->wanted, wb_log_mapping_free);
  self->wanted = mapping != NULL ? wb_log_mapping_copy (mapping) : NULL;
  self->chosen = mapping != NULL;
  look (self, self->wanted);
}

/* Another shape has other columns: they are guessed anew, but for a mapping that was chosen. */
static void
on_shape_changed_cb (WbMappingDialog *self)
{
  g_autoptr (WbLogMapping) shape = NULL;
  guint encoding = gtk_drop_down_get_selected (self->encoding), delimiter = gtk_drop_down_get_selected (self->delimiter),
        rows = gtk_drop_down_get_selected (self->header_rows);

  if (self->filling)
    return;
  shape = self->mapping != NULL ? wb_log_mapping_copy (self->mapping) : wb_log_mapping_new ();
  if (wb_encoding_list_get (encoding) != NULL)
    {
      g_free (shape->encoding);
      shape->encoding = g_strdup (wb_encoding_list_get (encoding));
    }
  if (delimiter < G_N_ELEMENTS (delimiters))
    shape->delimiter = delimiters[delimiter].sign;
  if (rows < 2)
    shape->header_rows = rows + 1;
  shape->header_line = (guint) gtk_spin_button_get_value_as_int (self->header_line);
  g_clear_pointer (&self->wanted, wb_log_mapping_free);
  self->wanted = self->chosen ? wb_log_mapping_copy (shape) : NULL;
  look (self, shape);
}

static void
on_reading_changed_cb (WbMappingDialog *self)
{
  guint order = gtk_drop_down_get_selected (self->date_order), clock = gtk_drop_down_get_selected (self->clock);

  if (self->filling || self->mapping == NULL)
    return;
  self->mapping->decimal = gtk_drop_down_get_selected (self->decimal) == 1 ? ',' : '.';
  if (order < WB_LOG_N_DATE_ORDERS)
    self->mapping->date_order = (WbLogDateOrder) order;
  if (clock < WB_LOG_N_CLOCKS)
    self->mapping->clock = (WbLogClock) clock;
  if ((self->order_asked && order < WB_LOG_N_DATE_ORDERS) || (self->clock_asked && clock < WB_LOG_N_CLOCKS))
    {
      self->order_asked = self->order_asked && order >= WB_LOG_N_DATE_ORDERS;
      self->clock_asked = self->clock_asked && clock >= WB_LOG_N_CLOCKS;
      update_buttons (self);
    }
  ask (self);
  g_free (self->mapping->zone);
  self->mapping->zone = g_strdup (gtk_editable_get_text (self->zone));
}

static void
on_saved_selected_cb (WbMappingDialog *self)
{
  guint selected = gtk_drop_down_get_selected (self->saved);

  if (self->filling || selected == GTK_INVALID_LIST_POSITION)
    return;
  use (self, selected > 0 && selected <= self->kept->len ? self->kept->pdata[selected - 1] : NULL);
}

/* Of the mapping in use, or of the one that will be. */
static const char *
get_name (WbMappingDialog *self)
{
  const WbLogMapping *mapping = self->wanted != NULL ? self->wanted : self->mapping;

  return mapping != NULL ? mapping->name : NULL;
}

static void
on_listed_cb (GObject      *source,
              GAsyncResult *result,
              gpointer      data)
{
  g_autoptr (WbMappingDialog) self = wb_weak_widget_take (data);
  g_autoptr (GPtrArray) found = wb_app_mapping_list_finish (result, NULL);
  g_autoptr (GtkStringList) names = NULL;

  if (self == NULL || found == NULL)
    return;
  names = gtk_string_list_new ((const char *const[]) { _("Guessed from the file"), NULL });
  for (guint i = 0; i < found->len; i++)
    gtk_string_list_append (names, ((const WbLogMapping *) found->pdata[i])->name);
  self->filling = TRUE;
  g_clear_pointer (&self->kept, g_ptr_array_unref);
  self->kept = g_steal_pointer (&found);
  gtk_drop_down_set_model (self->saved, G_LIST_MODEL (names));
  for (guint i = 0; self->chosen && i < self->kept->len; i++)
    if (g_strcmp0 (((const WbLogMapping *) self->kept->pdata[i])->name, get_name (self)) == 0)
      gtk_drop_down_set_selected (self->saved, i + 1);
  self->filling = FALSE;
}

static void
on_loaded_cb (GObject      *source,
              GAsyncResult *result,
              gpointer      data)
{
  g_autoptr (WbMappingDialog) self = wb_weak_widget_take (data);
  g_autoptr (GError) error = NULL;
  g_autoptr (WbLogMapping) mapping = wb_app_mapping_load_finish (result, &error);

  if (self == NULL)
    return;
  if (mapping != NULL)
    use (self, mapping);
  else
    say_error (self, _("The mapping could not be read"), error);
}

static void
on_load_path_cb (const char *path,
                 gpointer    user)
{
  g_autoptr (WbMappingDialog) self = wb_weak_widget_take (user);

  if (path != NULL && self != NULL)
    wb_app_mapping_load_async (path, on_loaded_cb, wb_weak_widget_new (self));
}

static void
on_load_clicked_cb (WbMappingDialog *self)
{
  wb_file_choice_open (GTK_WIDGET (self), _("Use a saved mapping"), WB_FILE_MAPPING, on_load_path_cb, wb_weak_widget_new (self));
}

static gboolean
tell_written (WbMappingDialog *self,
              GAsyncResult    *result)
{
  g_autoptr (GError) error = NULL;
  gboolean done = wb_app_mapping_save_finish (result, &error);

  if (done)
    say (self, _("The mapping is saved."));
  else
    say_error (self, _("The mapping was not saved"), error);
  return done;
}

static void
on_written_cb (GObject      *source,
               GAsyncResult *result,
               gpointer      data)
{
  g_autoptr (WbMappingDialog) self = wb_weak_widget_take (data);

  if (self != NULL)
    tell_written (self, result);
}

/* From now on it stands in the list. */
static void
on_kept_cb (GObject      *source,
            GAsyncResult *result,
            gpointer      data)
{
  g_autoptr (WbMappingDialog) self = wb_weak_widget_take (data);

  if (self == NULL || !tell_written (self, result))
    return;
  self->chosen = TRUE;
  wb_app_mapping_list_async (on_listed_cb, wb_weak_widget_new (self));
}

static void
take_name (WbMappingDialog *self)
{
  const char *name = gtk_editable_get_text (self->name);

  g_free (self->mapping->name);
  self->mapping->name = *name != '\0' ? g_strstrip (g_strdup (name)) : NULL;
}

static void
on_save_clicked_cb (WbMappingDialog *self)
{
  if (!gtk_widget_get_sensitive (self->save))
    return;
  take_name (self);
  if (*self->mapping->name != '\0')
    wb_app_mapping_save_async (self->mapping, NULL, on_kept_cb, wb_weak_widget_new (self));
}

static void
on_save_path_cb (const char *path,
                 gpointer    user)
{
  g_autoptr (WbMappingDialog) self = wb_weak_widget_take (user);

  if (path != NULL && self != NULL && self->mapping != NULL)
    wb_app_mapping_save_async (self->mapping, path, on_written_cb, wb_weak_widget_new (self));
}

static void
on_save_file_clicked_cb (WbMappingDialog *self)
{
  if (self->mapping == NULL)
    return;
  take_name (self);
  wb_file_choice_save (GTK_WIDGET (self), _("Save the mapping as a file"), WB_FILE_MAPPING, _("Sheet.mapping"), on_save_path_cb, wb_weak_widget_new (self));
}

static void
on_back_clicked_cb (WbMappingDialog *self)
{
  guint step = get_step (self);

  if (step > 0)
    gtk_stack_set_visible_child_name (self->stack, steps[step - 1]);
}

static void
on_name_cb (WbMappingDialog *self)
{
  gtk_stack_set_visible_child_name (self->stack, "values");
  wb_mapping_values_focus (self->values, "fragrance");
}

/* What has come in is told by the dialog that imported it; there is nothing left to match. */
static void
on_imported_cb (WbMappingDialog *self,
                WbImportDialog  *import)
{
  gtk_window_set_transient_for (GTK_WINDOW (import), gtk_window_get_transient_for (GTK_WINDOW (self)));
  gtk_window_destroy (GTK_WINDOW (self));
}

static void
on_next_clicked_cb (WbMappingDialog *self)
{
  GtkWidget *import;

  if (!is_last (self))
    {
      gtk_stack_set_visible_child_name (self->stack, steps[get_step (self) + 1]);
      return;
    }
  import = wb_import_dialog_new_mapped (GTK_WIDGET (self), self->notebook, self->file, self->mapping);
  g_signal_connect_object (import, "imported", G_CALLBACK (on_imported_cb), self, G_CONNECT_SWAPPED);
  gtk_window_present (GTK_WINDOW (import));
}

static void
wb_mapping_dialog_dispose (GObject *object)
{
  WbMappingDialog *self = WB_MAPPING_DIALOG (object);

  if (self->looking != NULL)
    g_cancellable_cancel (self->looking);
  if (self->previewing != NULL)
    g_cancellable_cancel (self->previewing);
  g_clear_object (&self->looking);
  g_clear_object (&self->previewing);
  g_clear_object (&self->notebook);
  self->filling = TRUE;
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_MAPPING_DIALOG);
  G_OBJECT_CLASS (wb_mapping_dialog_parent_class)->dispose (object);
}

static void
wb_mapping_dialog_finalize (GObject *object)
{
  WbMappingDialog *self = WB_MAPPING_DIALOG (object);

  wb_log_mapping_free (self->mapping);
  wb_log_mapping_free (self->wanted);
  wb_log_head_free (self->head);
  g_clear_pointer (&self->kept, g_ptr_array_unref);
  g_free (self->file);
  G_OBJECT_CLASS (wb_mapping_dialog_parent_class)->finalize (object);
}

static void
wb_mapping_dialog_class_init (WbMappingDialogClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  g_type_ensure (WB_TYPE_MAPPING_COLUMNS);
  g_type_ensure (WB_TYPE_MAPPING_VALUES);
  g_type_ensure (WB_TYPE_MAPPING_PREVIEW);
  G_OBJECT_CLASS (klass)->dispose = wb_mapping_dialog_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_mapping_dialog_finalize;
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "mapping-dialog.ui");
  gtk_widget_class_bind_template_child (widget_class, WbMappingDialog, file_label);
  gtk_widget_class_bind_template_child (widget_class, WbMappingDialog, stack);
  gtk_widget_class_bind_template_child (widget_class, WbMappingDialog, saved);
  gtk_widget_class_bind_template_child (widget_class, WbMappingDialog, encoding);
  gtk_widget_class_bind_template_child (widget_class, WbMappingDialog, delimiter);
  gtk_widget_class_bind_template_child (widget_class, WbMappingDialog, header_line);
  gtk_widget_class_bind_template_child (widget_class, WbMappingDialog, decimal);
  gtk_widget_class_bind_template_child (widget_class, WbMappingDialog, header_rows);
  gtk_widget_class_bind_template_child (widget_class, WbMappingDialog, date_order);
  gtk_widget_class_bind_template_child (widget_class, WbMappingDialog, clock);
  gtk_widget_class_bind_template_child (widget_class, WbMappingDialog, zone);
  gtk_widget_class_bind_template_child (widget_class, WbMappingDialog, found);
  gtk_widget_class_bind_template_child (widget_class, WbMappingDialog, columns);
  gtk_widget_class_bind_template_child (widget_class, WbMappingDialog, values);
  gtk_widget_class_bind_template_child (widget_class, WbMappingDialog, preview);
  gtk_widget_class_bind_template_child (widget_class, WbMappingDialog, name);
  gtk_widget_class_bind_template_child (widget_class, WbMappingDialog, save);
  gtk_widget_class_bind_template_child (widget_class, WbMappingDialog, said);
  gtk_widget_class_bind_template_child (widget_class, WbMappingDialog, back);
  gtk_widget_class_bind_template_child (widget_class, WbMappingDialog, next);
  gtk_widget_class_bind_template_callback (widget_class, on_step_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_shape_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_reading_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_saved_selected_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_load_clicked_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_save_clicked_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_save_file_clicked_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_back_clicked_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_next_clicked_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_name_cb);
  gtk_widget_class_bind_template_callback (widget_class, update_buttons);
}

static void
wb_mapping_dialog_init (WbMappingDialog *self)
{
  g_autoptr (GtkStringList) of_encoding = wb_encoding_list_new (), of_delimiter = gtk_string_list_new (NULL);

  self->filling = TRUE;
  gtk_widget_init_template (GTK_WIDGET (self));
  for (guint i = 0; i < G_N_ELEMENTS (delimiters); i++)
    gtk_string_list_append (of_delimiter, _(delimiters[i].title));
  gtk_drop_down_set_model (self->encoding, G_LIST_MODEL (of_encoding));
  gtk_drop_down_set_model (self->delimiter, G_LIST_MODEL (of_delimiter));
  wb_choice_list_fit (self->saved, 24);
  wb_accessible_name_drop_down (self->saved, _("Mapping"));
  wb_accessible_name_drop_down (self->encoding, _("Encoding of the text"));
  wb_accessible_name_drop_down (self->delimiter, _("Between the columns"));
  wb_accessible_name_drop_down (self->decimal, _("Decimal sign"));
  wb_accessible_name_drop_down (self->header_rows, _("Rows of names"));
  wb_accessible_name_drop_down (self->date_order, _("Order of dates"));
  wb_accessible_name_drop_down (self->clock, _("Clock"));
  self->kept = g_ptr_array_new ();
  self->filling = FALSE;
}

GtkWidget *
wb_mapping_dialog_new (GtkWidget     *where,
                       WbAppNotebook *notebook,
                       const char    *file)
{
  GtkRoot *root = where != NULL ? gtk_widget_get_root (where) : NULL;
  g_autofree char *name = NULL;
  WbMappingDialog *self;

  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (notebook), NULL);
  g_return_val_if_fail (file != NULL, NULL);

  self = g_object_new (WB_TYPE_MAPPING_DIALOG, "transient-for", GTK_IS_WINDOW (root) ? root : NULL, NULL);
  self->notebook = g_object_ref (notebook);
  self->file = g_strdup (file);
  name = g_filename_display_basename (file);
  gtk_label_set_text (self->file_label, name);
  gtk_widget_set_tooltip_text (GTK_WIDGET (self->file_label), file);
  update_buttons (self);
  wb_app_mapping_list_async (on_listed_cb, wb_weak_widget_new (self));
  use (self, NULL);
  return GTK_WIDGET (self);
}
