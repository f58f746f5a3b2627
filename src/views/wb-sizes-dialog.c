/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-sizes-dialog.h"

#include "wb-accessible-name.h"
#include "wb-bundle.h"
#include "wb-choice-list.h"
#include "wb-craft-sizes.h"
#include "wb-material-kind.h"
#include "wb-problem.h"
#include "wb-quantity-entry.h"
#include "wb-question.h"
#include "wb-record-form.h"
#include "wb-save-mark.h"
#include "wb-weak-widget.h"

#include <glib/gi18n.h>
#include <math.h>

/* One line of what will be made. */
typedef struct
{
  char            *size;
  gint64           step;
  const char      *why_not; /* translated; NULL: it will be made */
  WbQuantityEntry *from;    /* borrowed from the grid; NULL: not asked */
  WbQuantityEntry *to;
} Row;

#define MOST_STEPS 100 /* of the keyboard, from a field to the button: never round and round */

struct _WbSizesDialog
{
  GtkWindow        parent_instance;

  /* children */
  WbRecordForm    *series;
  GtkEntry        *sizes;
  GtkLabel        *sizes_hint;
  WbQuantityEntry *first;
  WbRecordForm    *rest;
  GtkLabel        *problem;
  WbSaveMark      *mark;
  GtkButton       *save;
  GtkLabel        *heading;
  GtkCheckButton  *guided;
  GtkDropDown     *wax;
  GtkGrid         *rows;

  /* owned */
  WbAppNotebook   *notebook;
  GPtrArray       *wicks;   /* WbWick of the notebook */
  GArray          *waxes;   /* gint64 ids; the first is 0: any */
  GArray          *made;    /* Row */
  GHashTable      *typed;   /* size -> "from\nto" as typed, while lines come and go */

  /* state */
  gboolean         us_units;
  gboolean         sending;
  gboolean         closing; /* asked and answered */
};

G_DEFINE_FINAL_TYPE (WbSizesDialog, wb_sizes_dialog, GTK_TYPE_WINDOW)

enum { SAVED, N_SIGNALS };
static guint signals[N_SIGNALS];

static void
clear_row (gpointer data)
{
  g_free (((Row *) data)->size);
}

/* What all of them have in common; caller frees. */
static WbWick *
dup_common (WbSizesDialog *self)
{
  WbWick *wick = wb_record_form_dup_record (self->series);

  wb_record_form_write (self->rest, wick);
  return wick;
}

static gboolean
same_word (const char *a,
           const char *b)
{
  g_autofree char *x = a != NULL ? g_utf8_casefold (a, -1) : NULL;
  g_autofree char *y = b != NULL ? g_utf8_casefold (b, -1) : NULL;

  return g_strcmp0 (x, y) == 0;
}

/* The notebook's wicks of that series: how high their steps go, and the first of them; NULL: it is a new one. */
static const WbWick *
find_series (WbSizesDialog *self,
             const char    *series,
             gint64        *highest)
{
  const WbWick *found = NULL;

  *highest = 0;
  for (guint i = 0; series != NULL && i < self->wicks->len; i++)
    {
      const WbWick *wick = self->wicks->pdata[i];

      if (!same_word (wick->series, series))
        continue;
      if (found == NULL)
        found = wick;
      if (wick->step != WB_INTEGER_NONE)
        *highest = MAX (*highest, wick->step);
    }
  return found;
}

static gboolean
is_there (WbSizesDialog *self,
          const char    *series,
          const char    *size)
{
  for (guint i = 0; i < self->wicks->len; i++)
    {
      const WbWick *wick = self->wicks->pdata[i];

      if (same_word (wick->series, series) && same_word (wick->size, size))
        return TRUE;
    }
  return FALSE;
}

static gboolean
is_listed (WbSizesDialog *self,
           const char    *size)
{
  for (guint i = 0; i < self->made->len; i++)
    if (same_word (g_array_index (self->made, Row, i).size, size))
      return TRUE;
  return FALSE;
}

static guint
count_made (WbSizesDialog *self)
{
  guint n = 0;

  for (guint i = 0; i < self->made->len; i++)
    n += g_array_index (self->made, Row, i).why_not == NULL;
  return n;
}

/* A line may go and come back while its size is typed; its diameters come back with it. */
static void
remember_typed (WbSizesDialog *self)
{
  for (guint i = 0; i < self->made->len; i++)
    {
      const Row *row = &g_array_index (self->made, Row, i);

      if (row->from != NULL)
        g_hash_table_insert (self->typed, g_strdup (row->size),
                             g_strdup_printf ("%s\n%s", wb_quantity_entry_get_text (row->from), wb_quantity_entry_get_text (row->to)));
    }
}

static WbQuantityEntry *
diameter_new (WbSizesDialog *self,
              const Row     *row,
              guint          part)
{
  const WbFieldSpec *field = wb_record_type_find_field (&wb_wick_guide_type, part == 0 ? "from_mm" : "to_mm");
  GtkWidget *entry = wb_quantity_entry_new (WB_QUANTITY_LENGTH, wb_quantity_get_shown_unit (WB_QUANTITY_LENGTH, self->us_units));
  const char *typed = g_hash_table_lookup (self->typed, row->size);
  g_autofree char *name = g_strdup_printf (part == 0 ? _("%s, from diameter") : _("%s, to diameter"), row->size);

  wb_quantity_entry_set_label (WB_QUANTITY_ENTRY (entry), name);
  wb_quantity_entry_set_range (WB_QUANTITY_ENTRY (entry), field->minimum, field->maximum);
  wb_quantity_entry_set_width_chars (WB_QUANTITY_ENTRY (entry), 6);
  if (typed != NULL)
    {
      g_auto (GStrv) parts = g_strsplit (typed, "\n", 2);

      wb_quantity_entry_set_text (WB_QUANTITY_ENTRY (entry), parts[part]);
    }
  return WB_QUANTITY_ENTRY (entry);
}

static void
attach_label (WbSizesDialog *self,
              const char    *text,
              const char    *style,
              int            column,
              int            line)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", text, "xalign", 0.0, "ellipsize", PANGO_ELLIPSIZE_END, NULL);

  if (style != NULL)
    gtk_widget_add_css_class (label, style);
  gtk_widget_set_hexpand (label, column == 1);
  gtk_grid_attach (self->rows, label, column, line, 1, 1);
}

static void
attach_row (WbSizesDialog *self,
            Row           *row,
            const char    *series,
            int            line)
{
  g_autofree char *step = row->why_not == NULL ? g_strdup_printf ("%d", (int) row->step) : g_strdup ("–");
  g_autofree char *name = g_strdup_printf ("%s %s", series != NULL ? series : "…", row->size);

  attach_label (self, step, "numeric", 0, line);
  attach_label (self, name, row->why_not == NULL ? NULL : "dim-label", 1, line);
  if (row->why_not != NULL)
    attach_label (self, row->why_not, "dim-label", 2, line);
  else if (gtk_check_button_get_active (self->guided))
    {
      row->from = diameter_new (self, row, 0);
      row->to = diameter_new (self, row, 1);
      gtk_grid_attach (self->rows, GTK_WIDGET (row->from), 2, line, 1, 1);
      gtk_grid_attach (self->rows, GTK_WIDGET (row->to), 3, line, 1, 1);
    }
}

static void
clear_rows (WbSizesDialog *self)
{
  GtkWidget *child;

  remember_typed (self);
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self->rows))) != NULL)
    gtk_grid_remove (self->rows, child);
  g_array_set_size (self->made, 0);
}

static void
list_rows (WbSizesDialog *self,
           char         **sizes,
           const char    *series)
{
  gint64 highest, step;
  double first = wb_quantity_entry_get_value (self->first);

  find_series (self, series, &highest);
  step = isnan (first) ? highest + 1 : (gint64) first;
  for (guint i = 0; sizes[i] != NULL; i++)
    {
      Row row = { g_strdup (sizes[i]), step, NULL, NULL, NULL };

      if (is_listed (self, sizes[i]))
        row.why_not = _("stands twice in the list");
      else if (is_there (self, series, sizes[i]))
        row.why_not = _("is there already, stays as it is");
      else
        step++;
      g_array_append_val (self->made, row);
    }
  attach_label (self, _("Step"), "hint", 0, 0);
  attach_label (self, _("Wick"), "hint", 1, 0);
  if (gtk_check_button_get_active (self->guided))
    {
      attach_label (self, _("From diameter"), "hint", 2, 0);
      attach_label (self, _("To"), "hint", 3, 0);
    }
  for (guint i = 0; i < self->made->len; i++)
    attach_row (self, &g_array_index (self->made, Row, i), series, (int) i + 1);
}

/* The line below the sizes: how to write them, or what is wrong with what is written. */
static void
tell_sizes (WbSizesDialog *self,
            const char    *problem)
{
  gtk_label_set_text (self->sizes_hint, problem != NULL ? problem : _("Smallest first: “1, 2, 3, 4” or “S-1 to S-8” or “0.8 0.9 1.0”"));
  if (problem != NULL)
    {
      gtk_widget_remove_css_class (GTK_WIDGET (self->sizes_hint), "hint");
      gtk_widget_add_css_class (GTK_WIDGET (self->sizes_hint), "problem");
    }
  else
    {
      gtk_widget_remove_css_class (GTK_WIDGET (self->sizes_hint), "problem");
      gtk_widget_add_css_class (GTK_WIDGET (self->sizes_hint), "hint");
    }
  if (problem != NULL)
    gtk_accessible_update_state (GTK_ACCESSIBLE (self->sizes), GTK_ACCESSIBLE_STATE_INVALID, GTK_ACCESSIBLE_INVALID_TRUE, -1);
  else
    gtk_accessible_reset_state (GTK_ACCESSIBLE (self->sizes), GTK_ACCESSIBLE_STATE_INVALID);
}

static void
follow (WbSizesDialog *self)
{
  WbWick *common = dup_common (self);
  const char *text = gtk_editable_get_text (GTK_EDITABLE (self->sizes));
  g_autoptr (GError) error = NULL;
  g_auto (GStrv) sizes = wb_craft_sizes_parse (text, &error);
  g_autofree char *heading = NULL;
  guint n;

  clear_rows (self);
  if (sizes != NULL)
    list_rows (self, sizes, common->series);
  /* Nothing typed yet is nothing wrong. */
  tell_sizes (self, error != NULL && *text != '\0' ? error->message : NULL);
  n = count_made (self);
  heading = sizes == NULL ? g_strdup (_("What will be made is listed here"))
                          : g_strdup_printf (g_dngettext (NULL, "%u wick will be made", "%u wicks will be made", n), n);
  gtk_label_set_text (self->heading, heading);
  gtk_button_set_label (self->save, n == 0 ? _("Make them") : n == 1 ? _("Make it") : _("Make all"));
  gtk_widget_set_sensitive (GTK_WIDGET (self->wax), gtk_check_button_get_active (self->guided));
  wb_record_free (common);
}

static void
on_typed_cb (WbSizesDialog *self)
{
  /* The template's own values arrive before there is anything to follow. */
  if (self->notebook == NULL)
    return;
  wb_problem_tell (self->problem, NULL);
  follow (self);
}

/* Two series of one name, of different makers, would be taken for one. NULL: it is not so. Caller frees. */
static char *
dup_series_fault (WbSizesDialog *self,
                  const WbWick  *common)
{
  const WbWick *other = wb_material_find_other_series (self->wicks, common);

  return other != NULL ? wb_material_dup_two_series (other) : NULL;
}

/* Both ends of each line, or none. */
static gboolean
check_row (const Row *row)
{
  double from, to;

  if (row->from == NULL)
    return TRUE;
  if (!wb_quantity_entry_check (row->from) || !wb_quantity_entry_check (row->to))
    return FALSE;
  from = wb_quantity_entry_get_value (row->from);
  to = wb_quantity_entry_get_value (row->to);
  if (isnan (from) != isnan (to))
    wb_quantity_entry_set_problem (isnan (from) ? row->from : row->to, _("Both ends, or none"));
  else if (from > to)
    wb_quantity_entry_set_problem (row->to, _("Less than the first"));
  else
    return TRUE;
  gtk_widget_grab_focus (GTK_WIDGET (isnan (from) ? row->from : row->to));
  return FALSE;
}

static gboolean
check (WbSizesDialog *self,
       const WbWick  *common)
{
  g_autofree char *fault = NULL;

  if (!wb_record_form_check (self->series) || !wb_quantity_entry_check (self->first) || !wb_record_form_check (self->rest))
    return FALSE;
  fault = dup_series_fault (self, common);
  if (fault != NULL)
    {
      wb_record_form_set_problem (self->series, "series", fault);
      return FALSE;
    }
  if (self->made->len == 0)
    {
      g_autoptr (GError) error = NULL;
      g_auto (GStrv) sizes = wb_craft_sizes_parse (gtk_editable_get_text (GTK_EDITABLE (self->sizes)), &error);

      tell_sizes (self, error != NULL ? error->message : NULL);
      gtk_widget_grab_focus (GTK_WIDGET (self->sizes));
      return FALSE;
    }
  if (count_made (self) == 0)
    {
      tell_sizes (self, _("All of these sizes are there already."));
      gtk_widget_grab_focus (GTK_WIDGET (self->sizes));
      return FALSE;
    }
  for (guint i = 0; i < self->made->len; i++)
    if (!check_row (&g_array_index (self->made, Row, i)))
      return FALSE;
  return TRUE;
}

static void
on_saved_cb (GObject      *source,
             GAsyncResult *result,
             gpointer      data)
{
  g_autoptr (WbSizesDialog) self = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) ids = NULL;

  wb_app_notebook_save_finish (WB_APP_NOTEBOOK (source), result, &ids, &error);
  self = wb_weak_widget_take_or_tell (data, _("The wicks were not saved"), error);
  if (self == NULL)
    return;
  self->sending = FALSE;
  gtk_widget_set_sensitive (GTK_WIDGET (self->save), TRUE);
  if (error != NULL)
    {
      wb_save_mark_set (self->mark, WB_SAVE_FAILED, NULL);
      wb_problem_tell_error (self->problem, error);
      return;
    }
  self->closing = TRUE;
  g_signal_emit (self, signals[SAVED], 0, ids != NULL && ids->len > 0 ? g_array_index (ids, gint64, 0) : (gint64) 0);
  gtk_window_destroy (GTK_WINDOW (self));
}

static void
add_wick (WbSizesDialog *self,
          const WbWick  *common,
          const Row     *row,
          gint64         id,
          GPtrArray     *records)
{
  WbWick *wick = wb_record_copy (common);
  double from = row->from != NULL ? wb_quantity_entry_get_value (row->from) : NAN;

  wick->record.id = id;
  wick->record.entry = 0;
  wick->step = row->step;
  wb_record_set_text (wick, wb_record_type_find_field (&wb_wick_type, "size"), row->size);
  g_ptr_array_add (records, wick);
  if (!isnan (from))
    {
      WbWickGuide *guide = wb_record_new (&wb_wick_guide_type);

      guide->wick = id;
      guide->wax = g_array_index (self->waxes, gint64, gtk_drop_down_get_selected (self->wax));
      guide->from_mm = from;
      guide->to_mm = wb_quantity_entry_get_value (row->to);
      g_ptr_array_add (records, guide);
    }
}

/* What a further size of a series has as the others have it, where it is not said. */
static void
take_over (WbWick       *common,
           const WbWick *other)
{
  if (other == NULL)
    return;
  wb_record_set_text (common, wb_record_type_find_field (&wb_wick_type, "series"), other->series);
  if (common->supplier == NULL)
    common->supplier = g_strdup (other->supplier);
  if (common->kind < 0)
    common->kind = other->kind;
}

/* Enter goes from field to field, and at last to the button: what is listed is read before it is made. */
static void
on_enter_cb (WbSizesDialog *self)
{
  GtkWidget *focus;
  guint steps = 0;

  do
    {
      gtk_widget_child_focus (GTK_WIDGET (self), GTK_DIR_TAB_FORWARD);
      focus = gtk_window_get_focus (GTK_WINDOW (self));
    }
  while (++steps < MOST_STEPS && !GTK_IS_TEXT (focus) && focus != GTK_WIDGET (self->save));
}

static void
on_save_clicked_cb (WbSizesDialog *self)
{
  WbWick *common;
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (wb_record_free);
  g_autofree char *why = NULL;
  gint64 highest, next = -1;

  if (self->sending)
    return;
  common = dup_common (self);
  if (check (self, common))
    {
      guint n = count_made (self);

      take_over (common, find_series (self, common->series, &highest));
      for (guint i = 0; i < self->made->len; i++)
        if (g_array_index (self->made, Row, i).why_not == NULL)
          add_wick (self, common, &g_array_index (self->made, Row, i), next--, records);
      why = g_strdup_printf (g_dngettext (NULL, "Add %u size of %s", "Add %u sizes of %s", n), n, common->series);
      self->sending = TRUE;
      gtk_widget_set_sensitive (GTK_WIDGET (self->save), FALSE);
      wb_save_mark_set (self->mark, WB_SAVE_SAVING, NULL);
      wb_app_notebook_save_async (self->notebook, why, records, NULL, on_saved_cb, wb_weak_widget_new (self));
    }
  wb_record_free (common);
}

static void
on_drop_answered_cb (gboolean yes,
                     gpointer user)
{
  g_autoptr (WbSizesDialog) self = wb_weak_widget_take (user);

  if (self == NULL || !yes)
    return;
  self->closing = TRUE;
  gtk_window_close (GTK_WINDOW (self));
}

static gboolean
on_close_request_cb (WbSizesDialog *self)
{
  if (self->closing || *gtk_editable_get_text (GTK_EDITABLE (self->sizes)) == '\0')
    return FALSE;
  wb_question_ask (GTK_WIDGET (self), _("These sizes are not saved"), _("Make them, or drop what you typed."), _("_Drop it"), TRUE,
                   on_drop_answered_cb, wb_weak_widget_new (self));
  return TRUE;
}

static void
wb_sizes_dialog_dispose (GObject *object)
{
  WbSizesDialog *self = WB_SIZES_DIALOG (object);

  g_clear_object (&self->notebook);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_SIZES_DIALOG);
  G_OBJECT_CLASS (wb_sizes_dialog_parent_class)->dispose (object);
}

static void
wb_sizes_dialog_finalize (GObject *object)
{
  WbSizesDialog *self = WB_SIZES_DIALOG (object);

  g_ptr_array_unref (self->wicks);
  g_array_unref (self->waxes);
  g_array_unref (self->made);
  g_hash_table_unref (self->typed);
  G_OBJECT_CLASS (wb_sizes_dialog_parent_class)->finalize (object);
}

static void
wb_sizes_dialog_class_init (WbSizesDialogClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  g_type_ensure (WB_TYPE_RECORD_FORM);
  g_type_ensure (WB_TYPE_QUANTITY_ENTRY);
  g_type_ensure (WB_TYPE_SAVE_MARK);
  G_OBJECT_CLASS (klass)->dispose = wb_sizes_dialog_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_sizes_dialog_finalize;
  signals[SAVED] = g_signal_new ("saved", WB_TYPE_SIZES_DIALOG, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_INT64);
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "sizes-dialog.ui");
  gtk_widget_class_bind_template_child (widget_class, WbSizesDialog, series);
  gtk_widget_class_bind_template_child (widget_class, WbSizesDialog, sizes);
  gtk_widget_class_bind_template_child (widget_class, WbSizesDialog, sizes_hint);
  gtk_widget_class_bind_template_child (widget_class, WbSizesDialog, first);
  gtk_widget_class_bind_template_child (widget_class, WbSizesDialog, rest);
  gtk_widget_class_bind_template_child (widget_class, WbSizesDialog, problem);
  gtk_widget_class_bind_template_child (widget_class, WbSizesDialog, mark);
  gtk_widget_class_bind_template_child (widget_class, WbSizesDialog, save);
  gtk_widget_class_bind_template_child (widget_class, WbSizesDialog, heading);
  gtk_widget_class_bind_template_child (widget_class, WbSizesDialog, guided);
  gtk_widget_class_bind_template_child (widget_class, WbSizesDialog, wax);
  gtk_widget_class_bind_template_child (widget_class, WbSizesDialog, rows);
  gtk_widget_class_bind_template_callback (widget_class, on_typed_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_enter_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_save_clicked_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_close_request_cb);
}

static void
wb_sizes_dialog_init (WbSizesDialog *self)
{
  static const char *const but_series[] = { "size", "step", "kind", "priming", "tab_mm", "collar_mm", "supplier", "note", NULL };
  static const char *const but_rest[] = { "series", "size", "step", "priming", "collar_mm", "note", NULL };

  self->wicks = g_ptr_array_new_with_free_func (wb_record_free);
  self->waxes = g_array_new (FALSE, FALSE, sizeof (gint64));
  self->made = g_array_new (FALSE, FALSE, sizeof (Row));
  g_array_set_clear_func (self->made, clear_row);
  self->typed = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  gtk_widget_init_template (GTK_WIDGET (self));
  wb_record_form_set_hidden (self->series, but_series);
  wb_record_form_set_hidden (self->rest, but_rest);
  wb_quantity_entry_set_quantity (self->first, WB_QUANTITY_PLAIN, WB_UNIT_NONE);
  wb_quantity_entry_set_integer (self->first, TRUE);
  wb_quantity_entry_set_range (self->first, 1, 1000);
  wb_quantity_entry_set_label (self->first, _("Step of the first"));
}

/* Any wax, then each of the shelf. */
static void
list_waxes (WbSizesDialog *self,
            GPtrArray     *waxes)
{
  g_autoptr (GtkStringList) list = gtk_string_list_new (NULL);
  gint64 any = 0;

  g_array_append_val (self->waxes, any);
  gtk_string_list_append (list, _("any wax"));
  for (guint i = 0; i < waxes->len; i++)
    {
      const WbWax *wax = waxes->pdata[i];

      g_array_append_val (self->waxes, wax->record.id);
      gtk_string_list_append (list, wax->name);
    }
  gtk_drop_down_set_model (self->wax, G_LIST_MODEL (list));
  wb_choice_list_fit (self->wax, 14);
  wb_accessible_name_drop_down (self->wax, _("Diameters for"));
}

GtkWidget *
wb_sizes_dialog_new (GtkWidget            *where,
                     WbAppNotebook        *notebook,
                     const WbWick         *like,
                     const WbAppMaterials *materials)
{
  WbSizesDialog *self;
  const WbNotebook *settings;
  g_autoptr (WbRecord) blank = wb_record_new (&wb_wick_type);
  GtkRoot *root = where != NULL ? gtk_widget_get_root (where) : NULL;

  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (notebook), NULL);
  g_return_val_if_fail (materials != NULL, NULL);

  self = g_object_new (WB_TYPE_SIZES_DIALOG, "transient-for", GTK_IS_WINDOW (root) ? root : NULL, NULL);
  settings = wb_app_notebook_get_settings (notebook);
  self->us_units = settings != NULL && settings->us_units;
  for (guint i = 0; i < materials->wicks->len; i++)
    g_ptr_array_add (self->wicks, wb_record_copy (materials->wicks->pdata[i]));
  list_waxes (self, materials->waxes);
  if (like != NULL)
    {
      WbWick *wick = (WbWick *) (gpointer) blank;

      wick->series = g_strdup (like->series);
      wick->supplier = g_strdup (like->supplier);
      wick->kind = like->kind;
    }
  wb_record_form_set_us_units (self->series, self->us_units);
  wb_record_form_set_us_units (self->rest, self->us_units);
  wb_record_form_set_record (self->series, blank);
  wb_record_form_set_record (self->rest, blank);
  self->notebook = g_object_ref (notebook);
  follow (self);
  return GTK_WIDGET (self);
}
