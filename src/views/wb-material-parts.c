/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-material-parts.h"

#include "wb-app-lot-trace.h"
#include "wb-bundle.h"
#include "wb-craft-batch.h"
#include "wb-lot-dialog.h"
#include "wb-material-kind.h"
#include "wb-material-stock.h"
#include "wb-problem.h"
#include "wb-question.h"
#include "wb-record-dialog.h"
#include "wb-weak-widget.h"

#include <glib/gi18n.h>
#include <math.h>

struct _WbMaterialParts
{
  GtkWidget           parent_instance;

  /* children */
  GtkWidget          *box;
  GtkLabel           *title;
  GtkWidget          *add;
  GtkListBox         *list;
  GtkLabel           *sum;

  /* owned */
  WbAppNotebook      *notebook;
  GPtrArray          *parts;   /* copies, in the list's order */
  GPtrArray          *choices; /* copies of what a part may refer to */

  /* borrowed */
  const WbRecordType *type;
  const WbRecordType *owner_type;
  const char         *owner_field;

  /* state */
  gint64              owner;
  gboolean            reading; /* a part, to be edited */
};

G_DEFINE_FINAL_TYPE (WbMaterialParts, wb_material_parts, GTK_TYPE_WIDGET)

static gboolean
is_us (WbMaterialParts *self)
{
  const WbNotebook *settings = wb_app_notebook_get_settings (self->notebook);

  return settings != NULL && settings->us_units;
}

/* The reference of a part that a person chooses, and from which records; NULL: it has none. */
static const char *
choice_field (const WbRecordType *type)
{
  if (type == &wb_wick_guide_type)
    return "wax";
  return type == &wb_fragrance_part_type ? "part" : NULL;
}

static void
set_choices (WbMaterialParts *self,
             WbRecordForm    *form)
{
  g_autoptr (GArray) ids = g_array_new (FALSE, FALSE, sizeof (gint64));
  g_autoptr (GPtrArray) titles = g_ptr_array_new_with_free_func (g_free);

  if (choice_field (self->type) == NULL)
    return;
  for (guint i = 0; i < self->choices->len; i++)
    {
      const WbRecord *record = self->choices->pdata[i];

      g_array_append_val (ids, record->id);
      g_ptr_array_add (titles, wb_material_dup_title (record));
    }
  g_ptr_array_add (titles, NULL);
  wb_record_form_set_choices (form, choice_field (self->type), (gint64 *) (gpointer) ids->data, (const char *const *) titles->pdata);
}

static void
edit (WbMaterialParts *self,
      gconstpointer    part,
      gboolean         is_new)
{
  const WbNotebook *settings = wb_app_notebook_get_settings (self->notebook);
  gboolean stock = settings != NULL && settings->keeps_stock;
  /* Amount and price are asked only where the maker keeps stock. */
  const char *hidden[] = { self->owner_field, stock ? NULL : "amount", "price", NULL };
  g_autofree char *why = g_strdup_printf (is_new ? _("Add: %s") : _("Change: %s"), _(self->type->label));
  GtkWidget *dialog = wb_record_dialog_new (GTK_WIDGET (self), self->notebook, _(self->type->label), why, part, hidden);

  set_choices (self, wb_record_dialog_get_form (WB_RECORD_DIALOG (dialog)));
  if (stock && self->type == &wb_lot_type && self->owner_type != NULL)
    wb_material_stock_set_form (wb_record_dialog_get_form (WB_RECORD_DIALOG (dialog)), self->owner_type, settings);
  gtk_window_present (GTK_WINDOW (dialog));
}

static void
on_add_clicked_cb (WbMaterialParts *self)
{
  g_autoptr (WbRecord) part = wb_record_new (self->type);

  wb_record_set_integer (part, wb_record_type_find_field (self->type, self->owner_field), self->owner);
  edit (self, part, TRUE);
}

static void
on_read_cb (GObject      *source,
            GAsyncResult *result,
            gpointer      data)
{
  g_autoptr (WbMaterialParts) self = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (WbRecord) part = wb_app_query_get_finish (WB_APP_NOTEBOOK (source), result, &error);

  self->reading = FALSE;
  if (self->list == NULL || self->notebook != WB_APP_NOTEBOOK (source))
    return;
  if (part == NULL)
    wb_problem_show (GTK_WIDGET (self), _("It could not be read"), error);
  else
    edit (self, part, FALSE);
}

/* As it is stored by then: the row may be older than the save that has just ended. */
static void
on_list_row_activated_cb (WbMaterialParts *self,
                          GtkListBoxRow   *row)
{
  const WbRecord *part = self->parts->pdata[gtk_list_box_row_get_index (row)];

  if (!gtk_widget_get_sensitive (self->add) || self->reading)
    return;
  self->reading = TRUE;
  wb_app_query_get_async (self->notebook, part->type, part->id, NULL, on_read_cb, g_object_ref (self));
}

static void
on_deleted_cb (GObject      *source,
               GAsyncResult *result,
               gpointer      data)
{
  g_autoptr (WbMaterialParts) self = data;
  g_autoptr (GError) error = NULL;

  if (wb_app_notebook_save_finish (WB_APP_NOTEBOOK (source), result, NULL, &error) == 0 && self->list != NULL)
    wb_problem_show (GTK_WIDGET (self), _("It was not deleted"), error);
}

static void
delete (WbMaterialParts *self,
        gconstpointer    part)
{
  g_autofree char *why = g_strdup_printf (_("Delete: %s"), _(self->type->label));

  /* Undo takes it back, so nothing is asked. */
  wb_app_notebook_delete_async (self->notebook, why, part, NULL, on_deleted_cb, g_object_ref (self));
}

static void
show_trace (WbMaterialParts *self,
            gint64           material,
            const char      *code)
{
  gtk_window_present (GTK_WINDOW (wb_lot_dialog_new (GTK_WIDGET (self), self->notebook, material, code)));
}

/* A lot whose deletion waits for what used it. */
typedef struct
{
  gpointer   weak; /* WbMaterialParts */
  WbRecord  *lot;
} LotQuestion;

static void
on_show_trace_answered_cb (gboolean yes,
                           gpointer user)
{
  g_autofree LotQuestion *question = user;
  g_autoptr (WbMaterialParts) self = wb_weak_widget_take (question->weak);
  g_autoptr (WbRecord) record = question->lot;
  const WbLot *lot = (const WbLot *) (gpointer) record;

  if (yes && self != NULL && self->list != NULL && self->notebook != NULL)
    show_trace (self, lot->material, lot->code);
}

/* The code stands as text in melts and samples, which would name a lot that nobody finds. */
static void
on_traced_cb (GObject      *source,
              GAsyncResult *result,
              gpointer      user)
{
  LotQuestion *question = user;
  g_autoptr (WbMaterialParts) self = wb_weak_widget_take (question->weak);
  g_autoptr (GError) error = NULL;
  g_autoptr (WbAppLotTrace) trace = wb_app_lot_trace_finish (WB_APP_NOTEBOOK (source), result, &error);
  gboolean here = self != NULL && self->list != NULL && self->notebook == WB_APP_NOTEBOOK (source);

  question->weak = NULL;
  if (here && trace != NULL && trace->uses->len > 0)
    {
      g_autofree char *heading = g_strdup_printf (_("Lot %s is in use"), trace->code);
      g_autofree char *sum = wb_app_lot_trace_dup_sum (trace);

      question->weak = wb_weak_widget_new (self);
      wb_question_ask (GTK_WIDGET (self), heading, sum, _("_Where used"), FALSE, on_show_trace_answered_cb, question);
      return;
    }
  if (here && trace != NULL)
    delete (self, question->lot);
  else if (here)
    wb_problem_show (GTK_WIDGET (self), _("It was not deleted"), error);
  wb_record_free (question->lot);
  g_free (question);
}

static void
on_delete_clicked_cb (WbMaterialParts *self,
                      GtkWidget       *button)
{
  GtkWidget *row = gtk_widget_get_ancestor (button, GTK_TYPE_LIST_BOX_ROW);
  gconstpointer part = self->parts->pdata[gtk_list_box_row_get_index (GTK_LIST_BOX_ROW (row))];
  LotQuestion *question;

  if (self->type != &wb_lot_type)
    {
      delete (self, part);
      return;
    }
  question = g_new (LotQuestion, 1);
  *question = (LotQuestion) { wb_weak_widget_new (self), wb_record_copy (part) };
  wb_app_lot_trace_async (self->notebook, ((const WbLot *) part)->material, ((const WbLot *) part)->code, NULL, on_traced_cb, question);
}

static void
on_trace_clicked_cb (WbMaterialParts *self,
                     GtkWidget       *button)
{
  GtkWidget *row = gtk_widget_get_ancestor (button, GTK_TYPE_LIST_BOX_ROW);
  const WbLot *lot = self->parts->pdata[gtk_list_box_row_get_index (GTK_LIST_BOX_ROW (row))];

  show_trace (self, lot->material, lot->code);
}

/* Of a lot: everything that was made of it. */
static GtkWidget *
trace_button_new (WbMaterialParts *self,
                  const char      *text)
{
  GtkWidget *button = gtk_button_new_with_label (_("Where used…"));
  g_autofree char *name = g_strdup_printf (_("Where lot %s was used"), text);

  gtk_button_set_has_frame (GTK_BUTTON (button), FALSE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  g_signal_connect_swapped (button, "clicked", G_CALLBACK (on_trace_clicked_cb), self);
  return button;
}

static GtkWidget *
row_new (WbMaterialParts *self,
         const char      *text)
{
  GtkWidget *row = gtk_list_box_row_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL,
                                   "label", text,
                                   "xalign", 0.0,
                                   "hexpand", TRUE,
                                   "ellipsize", PANGO_ELLIPSIZE_END,
                                   NULL);
  GtkWidget *button = gtk_button_new_from_icon_name ("user-trash-symbolic");
  g_autofree char *name = g_strdup_printf (_("Delete %s"), text);

  gtk_button_set_has_frame (GTK_BUTTON (button), FALSE);
  gtk_widget_set_sensitive (button, gtk_widget_get_sensitive (self->add));
  gtk_widget_set_tooltip_text (button, _("Delete"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  g_signal_connect_swapped (button, "clicked", G_CALLBACK (on_delete_clicked_cb), self);
  gtk_box_append (GTK_BOX (box), label);
  if (self->type == &wb_lot_type)
    {
      GtkWidget *left = gtk_label_new (NULL);

      gtk_widget_add_css_class (left, "dim-label");
      g_object_set_data (G_OBJECT (row), "left", left);
      gtk_box_append (GTK_BOX (box), left);
      gtk_box_append (GTK_BOX (box), trace_button_new (self, text));
    }
  gtk_box_append (GTK_BOX (box), button);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, text, -1);
  return row;
}

static void
show_sum (WbMaterialParts *self)
{
  double sum = 0.0;
  g_autofree char *wrong = NULL;

  if (self->type != &wb_fragrance_part_type)
    return;
  gtk_widget_set_visible (GTK_WIDGET (self->sum), self->parts->len > 0);
  for (guint i = 0; i < self->parts->len; i++)
    sum += ((const WbFragrancePart *) self->parts->pdata[i])->share_pct;
  wrong = wb_craft_blend_dup_wrong (sum);
  gtk_label_set_text (self->sum, wrong != NULL ? wrong : _("The parts add up to 100 %."));
  if (wrong == NULL)
    gtk_widget_remove_css_class (GTK_WIDGET (self->sum), "problem");
  else
    gtk_widget_add_css_class (GTK_WIDGET (self->sum), "problem");
}

static void
clear (WbMaterialParts *self)
{
  GtkListBoxRow *row;

  while ((row = gtk_list_box_get_row_at_index (self->list, 0)) != NULL)
    gtk_list_box_remove (self->list, GTK_WIDGET (row));
  g_ptr_array_set_size (self->parts, 0);
  g_ptr_array_set_size (self->choices, 0);
}

static void
wb_material_parts_dispose (GObject *object)
{
  WbMaterialParts *self = WB_MATERIAL_PARTS (object);

  g_clear_object (&self->notebook);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_MATERIAL_PARTS);
  G_OBJECT_CLASS (wb_material_parts_parent_class)->dispose (object);
}

static void
wb_material_parts_finalize (GObject *object)
{
  WbMaterialParts *self = WB_MATERIAL_PARTS (object);

  g_ptr_array_unref (self->parts);
  g_ptr_array_unref (self->choices);
  G_OBJECT_CLASS (wb_material_parts_parent_class)->finalize (object);
}

static void
wb_material_parts_class_init (WbMaterialPartsClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_material_parts_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_material_parts_finalize;
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "material-parts.ui");
  gtk_widget_class_bind_template_child (widget_class, WbMaterialParts, box);
  gtk_widget_class_bind_template_child (widget_class, WbMaterialParts, title);
  gtk_widget_class_bind_template_child (widget_class, WbMaterialParts, add);
  gtk_widget_class_bind_template_child (widget_class, WbMaterialParts, list);
  gtk_widget_class_bind_template_child (widget_class, WbMaterialParts, sum);
  gtk_widget_class_bind_template_callback (widget_class, on_add_clicked_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_list_row_activated_cb);
}

static void
wb_material_parts_init (WbMaterialParts *self)
{
  self->parts = g_ptr_array_new_with_free_func (wb_record_free);
  self->choices = g_ptr_array_new_with_free_func (wb_record_free);
  gtk_widget_init_template (GTK_WIDGET (self));
}

void
wb_material_parts_show (WbMaterialParts      *self,
                        WbAppNotebook        *notebook,
                        const WbAppMaterials *materials,
                        const WbRecordType   *type,
                        const char           *owner_field,
                        gint64                owner,
                        const char           *title)
{
  const WbFieldSpec *field;
  GPtrArray *all;
  g_autofree char *name = NULL;

  g_return_if_fail (WB_IS_MATERIAL_PARTS (self));

  clear (self);
  g_set_object (&self->notebook, notebook);
  if (notebook == NULL)
    return;
  self->type = type;
  self->owner_field = owner_field;
  self->owner = owner;
  self->owner_type = wb_material_find_type (materials, owner);
  gtk_label_set_text (self->title, title);
  gtk_widget_set_sensitive (self->add, !wb_app_notebook_get_read_only (notebook));
  name = g_strdup_printf (_("Add: %s"), _(type->label));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->add), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->list), GTK_ACCESSIBLE_PROPERTY_LABEL, title, -1);

  field = wb_record_type_find_field (type, owner_field);
  all = wb_material_kind_list (materials, type);
  for (guint i = 0; i < all->len; i++)
    if (wb_record_get_integer (all->pdata[i], field) == owner)
      {
        g_autofree char *text = wb_material_dup_part_title (all->pdata[i], materials, is_us (self));

        gtk_list_box_append (self->list, row_new (self, text));
        g_ptr_array_add (self->parts, wb_record_copy (all->pdata[i]));
      }
  if (choice_field (type) != NULL)
    {
      all = wb_material_kind_list (materials, wb_record_type_find_field (type, choice_field (type))->target);
      for (guint i = 0; i < all->len; i++)
        if (((const WbRecord *) all->pdata[i])->id != owner || type != &wb_fragrance_part_type)
          g_ptr_array_add (self->choices, wb_record_copy (all->pdata[i]));
    }
  show_sum (self);
}

void
wb_material_parts_set_stock (WbMaterialParts    *self,
                             const WbCraftStock *stock,
                             gconstpointer       material,
                             const char         *words)
{
  g_return_if_fail (WB_IS_MATERIAL_PARTS (self));
  g_return_if_fail (stock == NULL || (material != NULL && self->type == &wb_lot_type));

  gtk_label_set_text (self->sum, words != NULL ? words : "");
  gtk_widget_set_visible (GTK_WIDGET (self->sum), words != NULL);
  for (guint i = 0; i < self->parts->len; i++)
    {
      GtkListBoxRow *row = gtk_list_box_get_row_at_index (self->list, (int) i);
      const WbLot *lot = self->parts->pdata[i];
      GtkLabel *label = g_object_get_data (G_OBJECT (row), "left");
      double left = stock != NULL && !lot->used_up ? wb_craft_stock_get_lot_left (stock, lot->record.id) : NAN;
      g_autofree char *amount = isnan (left) ? NULL : wb_material_stock_dup_amount (material, left, is_us (self));
      g_autofree char *text = amount != NULL ? g_strdup_printf (_("%s left"), amount) : NULL;

      gtk_label_set_text (label, text != NULL ? text : "");
    }
}
