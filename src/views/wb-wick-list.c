/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-wick-list.h"

#include "wb-accessible-name.h"
#include "wb-app-plan.h"
#include "wb-choice-list.h"
#include "wb-grey.h"
#include "wb-quantity-entry.h"

#include <glib/gi18n.h>
#include <math.h>

/* CSS node: wicklist. Accessible: a group; each control is named by the number of its line. */

/* As far as a cell's record takes. */
#define SPACING_LEAST_MM 5.0
#define SPACING_MOST_MM 200.0
#define FEWEST 2 /* one stands alone, and is ticked */

typedef struct
{
  GtkWidget       *row;
  GtkDropDown     *count;
  GtkDropDown     *wick;
  WbQuantityEntry *spacing;
  GtkWidget       *remove;
  gint64           chosen;
} Line;

struct _WbWickList
{
  GtkWidget      parent_instance;

  /* children */
  GtkWidget     *box;
  GtkWidget     *rows;
  GtkWidget     *add;

  /* owned */
  GPtrArray     *lines;     /* Line */
  GArray        *ids;       /* gint64 of each of `names` */
  GtkStringList *names;
  GtkStringList *counts;

  /* state */
  WbUnit         unit;
  gboolean       quiet;
};

G_DEFINE_FINAL_TYPE (WbWickList, wb_wick_list, GTK_TYPE_WIDGET)

enum { CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

static void
tell_changed (WbWickList *self)
{
  if (!self->quiet)
    g_signal_emit (self, signals[CHANGED], 0);
}

static guint
place_of (WbWickList *self,
          gint64      wick)
{
  for (guint i = 0; i < self->ids->len; i++)
    if (g_array_index (self->ids, gint64, i) == wick)
      return i;
  return GTK_INVALID_LIST_POSITION;
}

static void
on_wick_cb (WbWickList  *self,
            GParamSpec  *spec,
            GtkDropDown *wick)
{
  guint selected = gtk_drop_down_get_selected (wick);

  for (guint i = 0; !self->quiet && i < self->lines->len; i++)
    {
      Line *line = self->lines->pdata[i];

      if (line->wick == wick && selected < self->ids->len)
        line->chosen = g_array_index (self->ids, gint64, selected);
    }
  tell_changed (self);
}

static void
name_lines (WbWickList *self)
{
  for (guint i = 0; i < self->lines->len; i++)
    {
      Line *line = self->lines->pdata[i];
      g_autofree char *count = g_strdup_printf (_("How many, line %u"), i + 1);
      g_autofree char *wick = g_strdup_printf (_("Of which wick, line %u"), i + 1);
      g_autofree char *spacing = g_strdup_printf (_("How far apart, line %u"), i + 1);
      g_autofree char *remove = g_strdup_printf (_("Take out line %u"), i + 1);

      wb_accessible_name_drop_down (line->count, count);
      wb_accessible_name_drop_down (line->wick, wick);
      wb_quantity_entry_set_label (line->spacing, spacing);
      gtk_widget_set_tooltip_text (line->remove, remove);
      gtk_accessible_update_property (GTK_ACCESSIBLE (line->remove), GTK_ACCESSIBLE_PROPERTY_LABEL, remove, -1);
    }
}

static void
remove_line (WbWickList *self,
             Line       *line)
{
  gtk_box_remove (GTK_BOX (self->rows), line->row);
  g_ptr_array_remove (self->lines, line);
}

static void
on_remove_clicked_cb (WbWickList *self,
                      GtkWidget  *button)
{
  gtk_widget_grab_focus (self->add);
  for (guint i = self->lines->len; i > 0; i--)
    if (((Line *) self->lines->pdata[i - 1])->remove == button)
      remove_line (self, self->lines->pdata[i - 1]);
  name_lines (self);
  tell_changed (self);
}

static GtkDropDown *
drop_down_new (GtkStringList *words)
{
  return GTK_DROP_DOWN (gtk_drop_down_new (G_LIST_MODEL (g_object_ref (words)), NULL));
}

static Line *
add_line (WbWickList *self,
          guint       count,
          gint64      wick,
          double      spacing_mm)
{
  Line *line = g_new0 (Line, 1);
  GtkWidget *parts[4];

  line->chosen = wick;
  line->row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  line->count = drop_down_new (self->counts);
  gtk_drop_down_set_selected (line->count, count - FEWEST);
  line->wick = drop_down_new (self->names);
  wb_choice_list_fit (line->wick, 10);
  gtk_drop_down_set_selected (line->wick, place_of (self, wick));
  gtk_widget_set_hexpand (GTK_WIDGET (line->wick), TRUE);
  line->spacing = WB_QUANTITY_ENTRY (wb_quantity_entry_new (WB_QUANTITY_LENGTH, self->unit));
  wb_quantity_entry_set_range (line->spacing, SPACING_LEAST_MM, SPACING_MOST_MM);
  wb_quantity_entry_set_width_chars (line->spacing, 5);
  wb_quantity_entry_set_value (line->spacing, spacing_mm);
  gtk_widget_set_tooltip_text (GTK_WIDGET (line->spacing), _("From the middle of a wick to that of the next; may be left open"));
  line->remove = gtk_button_new_from_icon_name ("list-remove-symbolic");
  parts[0] = GTK_WIDGET (line->count);
  parts[1] = GTK_WIDGET (line->wick);
  parts[2] = GTK_WIDGET (line->spacing);
  parts[3] = line->remove;
  for (guint i = 0; i < G_N_ELEMENTS (parts); i++)
    {
      gtk_widget_set_valign (parts[i], GTK_ALIGN_START);
      gtk_box_append (GTK_BOX (line->row), parts[i]);
    }
  g_signal_connect_swapped (line->count, "notify::selected", G_CALLBACK (tell_changed), self);
  g_signal_connect_swapped (line->wick, "notify::selected", G_CALLBACK (on_wick_cb), self);
  g_signal_connect_swapped (line->spacing, "changed", G_CALLBACK (tell_changed), self);
  g_signal_connect_swapped (line->remove, "clicked", G_CALLBACK (on_remove_clicked_cb), self);
  g_ptr_array_add (self->lines, line);
  gtk_box_append (GTK_BOX (self->rows), line->row);
  name_lines (self);
  return line;
}

static void
on_add_clicked_cb (WbWickList *self)
{
  wb_wick_list_add (self, 0);
}

static void
wb_wick_list_dispose (GObject *object)
{
  WbWickList *self = WB_WICK_LIST (object);

  g_ptr_array_set_size (self->lines, 0);
  g_clear_pointer (&self->box, gtk_widget_unparent);
  G_OBJECT_CLASS (wb_wick_list_parent_class)->dispose (object);
}

static void
wb_wick_list_finalize (GObject *object)
{
  WbWickList *self = WB_WICK_LIST (object);

  g_ptr_array_unref (self->lines);
  g_array_unref (self->ids);
  g_object_unref (self->names);
  g_object_unref (self->counts);
  G_OBJECT_CLASS (wb_wick_list_parent_class)->finalize (object);
}

static void
wb_wick_list_class_init (WbWickListClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_wick_list_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_wick_list_finalize;
  signals[CHANGED] = g_signal_new ("changed", WB_TYPE_WICK_LIST, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "wicklist");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
}

static void
wb_wick_list_init (WbWickList *self)
{
  self->lines = g_ptr_array_new_with_free_func (g_free);
  self->ids = g_array_new (FALSE, FALSE, sizeof (gint64));
  self->names = gtk_string_list_new (NULL);
  self->counts = gtk_string_list_new (NULL);
  self->unit = WB_UNIT_MM;
  for (guint count = FEWEST; count <= WB_APP_PLAN_MOST_WICKS; count++)
    {
      g_autofree char *words = g_strdup_printf ("%u\302\240×", count);

      gtk_string_list_append (self->counts, words);
    }
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  self->rows = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  self->add = gtk_button_new_with_label (_("Add several in one vessel"));
  gtk_widget_set_halign (self->add, GTK_ALIGN_START);
  gtk_widget_set_tooltip_text (self->add, _("Two or more wicks of a size in one vessel: a combination of its own beside one alone"));
  gtk_box_append (GTK_BOX (self->box), self->rows);
  gtk_box_append (GTK_BOX (self->box), self->add);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Several wicks in one vessel"), -1);
  g_signal_connect_swapped (self->add, "clicked", G_CALLBACK (on_add_clicked_cb), self);
}

void
wb_wick_list_set_wicks (WbWickList      *self,
                        const GPtrArray *wicks)
{
  g_auto (GStrv) names = NULL;

  g_return_if_fail (WB_IS_WICK_LIST (self));
  g_return_if_fail (wicks != NULL);

  names = g_new0 (char *, wicks->len + 1);
  g_array_set_size (self->ids, 0);
  for (guint i = 0; i < wicks->len; i++)
    {
      g_array_append_val (self->ids, ((const WbRecord *) wicks->pdata[i])->id);
      names[i] = wb_material_dup_title (wicks->pdata[i]);
    }
  self->quiet = TRUE;
  gtk_string_list_splice (self->names, 0, g_list_model_get_n_items (G_LIST_MODEL (self->names)), (const char *const *) names);
  for (guint i = self->lines->len; i > 0; i--)
    {
      Line *line = self->lines->pdata[i - 1];
      guint place = place_of (self, line->chosen);

      if (place != GTK_INVALID_LIST_POSITION)
        gtk_drop_down_set_selected (line->wick, place);
      else
        remove_line (self, line);
    }
  name_lines (self);
  self->quiet = FALSE;
  wb_grey_set (self->add, self->ids->len > 0 ? NULL : _("The notebook has no wick yet: add one under Materials"));
}

void
wb_wick_list_set_unit (WbWickList *self,
                       WbUnit      unit)
{
  g_return_if_fail (WB_IS_WICK_LIST (self));

  self->unit = unit;
  for (guint i = 0; i < self->lines->len; i++)
    wb_quantity_entry_set_quantity (((Line *) self->lines->pdata[i])->spacing, WB_QUANTITY_LENGTH, unit);
  name_lines (self);
}

void
wb_wick_list_set_choices (WbWickList   *self,
                          const GArray *choices)
{
  g_return_if_fail (WB_IS_WICK_LIST (self));
  g_return_if_fail (choices != NULL);

  self->quiet = TRUE;
  while (self->lines->len > 0)
    remove_line (self, self->lines->pdata[0]);
  for (guint i = 0; i < choices->len; i++)
    {
      const WbCraftWickChoice *choice = &g_array_index (choices, WbCraftWickChoice, i);

      if (choice->count >= FEWEST)
        add_line (self, choice->count, choice->wick, choice->spacing_mm);
    }
  self->quiet = FALSE;
}

static gboolean
has_line (WbWickList *self,
          gint64      wick)
{
  for (guint i = 0; i < self->lines->len; i++)
    if (((Line *) self->lines->pdata[i])->chosen == wick)
      return TRUE;
  return FALSE;
}

void
wb_wick_list_add (WbWickList *self,
                  gint64      wick)
{
  const Line *above;
  Line *line;

  g_return_if_fail (WB_IS_WICK_LIST (self));
  g_return_if_fail (self->ids->len > 0);

  above = self->lines->len > 0 ? self->lines->pdata[self->lines->len - 1] : NULL;
  for (guint i = 0; wick == 0 && i < self->ids->len; i++)
    if (!has_line (self, g_array_index (self->ids, gint64, i)))
      wick = g_array_index (self->ids, gint64, i);
  if (wick == 0)
    wick = g_array_index (self->ids, gint64, 0);
  /* The next size is usually tried in the same way. */
  line = add_line (self, above != NULL ? gtk_drop_down_get_selected (above->count) + FEWEST : FEWEST, wick,
                   above != NULL ? wb_quantity_entry_get_value (above->spacing) : NAN);
  gtk_widget_grab_focus (GTK_WIDGET (line->wick));
  tell_changed (self);
}

GArray *
wb_wick_list_dup_choices (WbWickList *self)
{
  GArray *choices;

  g_return_val_if_fail (WB_IS_WICK_LIST (self), NULL);

  choices = g_array_new (FALSE, FALSE, sizeof (WbCraftWickChoice));
  for (guint i = 0; i < self->lines->len; i++)
    {
      const Line *line = self->lines->pdata[i];
      WbCraftWickChoice choice = { line->chosen, gtk_drop_down_get_selected (line->count) + FEWEST, wb_quantity_entry_get_value (line->spacing) };

      g_array_append_val (choices, choice);
    }
  return choices;
}

gboolean
wb_wick_list_check (WbWickList *self)
{
  gboolean right = TRUE;

  g_return_val_if_fail (WB_IS_WICK_LIST (self), FALSE);

  for (guint i = 0; i < self->lines->len; i++)
    {
      Line *line = self->lines->pdata[i];

      if (wb_quantity_entry_check (line->spacing))
        continue;
      if (right)
        gtk_widget_grab_focus (GTK_WIDGET (line->spacing));
      right = FALSE;
    }
  return right;
}
