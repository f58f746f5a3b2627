/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-scent-list.h"

#include "wb-accessible-name.h"
#include "wb-choice-list.h"
#include "wb-craft-grid.h"
#include "wb-quantity-entry.h"

#include <glib/gi18n.h>
#include <math.h>

/* CSS node: scentlist. Accessible: a group; each control is named by the number of its line. */

#define LAST G_MAXUINT

/* As much as a cell's record takes. */
#define LOAD_MOST_PCT 30.0

typedef struct
{
  GtkWidget       *line;
  GtkWidget       *problem;  /* below the line, of the load: the field itself is too narrow for a sentence */
  GtkDropDown     *fragrance;
  WbQuantityEntry *load;
  GtkDropDown     *basis;
  gint64           chosen;
} Scent;

struct _WbScentList
{
  GtkWidget      parent_instance;

  /* children */
  GtkWidget     *box;
  GtkWidget     *lines;
  GtkWidget     *add;
  GtkWidget     *control;

  /* owned */
  GPtrArray     *scents;    /* Scent */
  GArray        *ids;       /* gint64 of each line of `names` */
  GtkStringList *names;

  /* state */
  guint          before_control; /* so many lines come before it in the grid; LAST: all of them */
  gboolean       quiet;
};

G_DEFINE_FINAL_TYPE (WbScentList, wb_scent_list, GTK_TYPE_WIDGET)

enum { CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

static void
tell_changed (WbScentList *self)
{
  if (!self->quiet)
    g_signal_emit (self, signals[CHANGED], 0);
}

static Scent *
find_scent (WbScentList *self,
            gpointer     control)
{
  for (guint i = 0; i < self->scents->len; i++)
    {
      Scent *scent = self->scents->pdata[i];

      if (control == scent->line || control == scent->fragrance || gtk_widget_is_ancestor (control, scent->line))
        return scent;
    }
  return NULL;
}

static void
on_fragrance_cb (WbScentList *self,
                 GParamSpec  *spec,
                 GtkDropDown *fragrance)
{
  Scent *scent = find_scent (self, fragrance);
  guint selected = gtk_drop_down_get_selected (fragrance);

  if (self->quiet || scent == NULL || selected >= self->ids->len)
    return;
  scent->chosen = g_array_index (self->ids, gint64, selected);
  tell_changed (self);
}

static void
name_lines (WbScentList *self)
{
  for (guint i = 0; i < self->scents->len; i++)
    {
      Scent *scent = self->scents->pdata[i];
      g_autofree char *fragrance = g_strdup_printf (_("Fragrance of scent %u"), i + 1);
      g_autofree char *load = g_strdup_printf (_("Load of scent %u"), i + 1);
      g_autofree char *basis = g_strdup_printf (_("The load of scent %u is a share"), i + 1);
      g_autofree char *remove = g_strdup_printf (_("Take out scent %u"), i + 1);
      GtkWidget *button = gtk_widget_get_last_child (scent->line);

      wb_accessible_name_drop_down (scent->fragrance, fragrance);
      wb_quantity_entry_set_label (scent->load, load);
      wb_accessible_name_drop_down (scent->basis, basis);
      gtk_widget_set_tooltip_text (button, remove);
      gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, remove, -1);
    }
}

static void
remove_line (WbScentList *self,
             Scent       *scent)
{
  gtk_box_remove (GTK_BOX (self->lines), scent->line);
  gtk_box_remove (GTK_BOX (self->lines), scent->problem);
}

static void
on_load_told_cb (WbScentList     *self,
                 WbQuantityEntry *load)
{
  Scent *scent = find_scent (self, load);
  const char *words = wb_quantity_entry_get_problem (load);

  if (scent == NULL)
    return;
  gtk_label_set_text (GTK_LABEL (scent->problem), words != NULL ? words : "");
  gtk_widget_set_visible (scent->problem, words != NULL);
}

static void
on_remove_clicked_cb (WbScentList *self,
                      GtkWidget   *button)
{
  Scent *scent = find_scent (self, button);

  gtk_widget_grab_focus (self->add);
  remove_line (self, scent);
  for (guint i = 0; self->before_control != LAST && i < self->before_control; i++)
    if (self->scents->pdata[i] == scent)
      {
        self->before_control--;
        break;
      }
  g_ptr_array_remove (self->scents, scent);
  name_lines (self);
  tell_changed (self);
}

/* The line of the drop-down that holds the fragrance; invalid where it is no longer there. */
static guint
place_of (WbScentList *self,
          gint64       fragrance)
{
  for (guint i = 0; i < self->ids->len; i++)
    if (g_array_index (self->ids, gint64, i) == fragrance)
      return i;
  return GTK_INVALID_LIST_POSITION;
}

static GtkDropDown *
basis_new (void)
{
  g_autoptr (GtkStringList) words = gtk_string_list_new (NULL);

  for (guint i = 0; wb_basis_words[i].nick != NULL; i++)
    gtk_string_list_append (words, _(wb_basis_words[i].label));
  return GTK_DROP_DOWN (gtk_drop_down_new (G_LIST_MODEL (g_steal_pointer (&words)), NULL));
}

static Scent *
scent_new (WbScentList *self,
           gint64       fragrance)
{
  Scent *scent = g_new0 (Scent, 1);
  GtkWidget *remove = gtk_button_new_from_icon_name ("list-remove-symbolic");

  scent->chosen = fragrance;
  scent->line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  scent->fragrance = GTK_DROP_DOWN (gtk_drop_down_new (G_LIST_MODEL (g_object_ref (self->names)), NULL));
  wb_choice_list_fit (scent->fragrance, 12);
  gtk_drop_down_set_selected (scent->fragrance, place_of (self, fragrance));
  gtk_widget_set_hexpand (GTK_WIDGET (scent->fragrance), TRUE);
  scent->load = WB_QUANTITY_ENTRY (wb_quantity_entry_new (WB_QUANTITY_PERCENT, WB_UNIT_PERCENT));
  wb_quantity_entry_set_range (scent->load, 0.01, LOAD_MOST_PCT);
  wb_quantity_entry_set_required (scent->load, TRUE);
  wb_quantity_entry_set_width_chars (scent->load, 5);
  wb_quantity_entry_set_told_elsewhere (scent->load, TRUE);
  scent->problem = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0, "wrap", TRUE, "visible", FALSE, "accessible-role", GTK_ACCESSIBLE_ROLE_STATUS, NULL);
  gtk_widget_add_css_class (scent->problem, "problem");
  scent->basis = basis_new ();
  gtk_box_append (GTK_BOX (scent->line), GTK_WIDGET (scent->fragrance));
  gtk_box_append (GTK_BOX (scent->line), GTK_WIDGET (scent->load));
  gtk_box_append (GTK_BOX (scent->line), GTK_WIDGET (scent->basis));
  gtk_box_append (GTK_BOX (scent->line), remove);
  for (GtkWidget *child = gtk_widget_get_first_child (scent->line); child != NULL; child = gtk_widget_get_next_sibling (child))
    gtk_widget_set_valign (child, GTK_ALIGN_START);
  g_signal_connect_swapped (scent->fragrance, "notify::selected", G_CALLBACK (on_fragrance_cb), self);
  g_signal_connect_swapped (scent->load, "changed", G_CALLBACK (tell_changed), self);
  g_signal_connect_swapped (scent->load, "told", G_CALLBACK (on_load_told_cb), self);
  g_signal_connect_swapped (scent->basis, "notify::selected", G_CALLBACK (tell_changed), self);
  g_signal_connect_swapped (remove, "clicked", G_CALLBACK (on_remove_clicked_cb), self);
  return scent;
}

static gboolean
is_used (WbScentList *self,
         gint64       fragrance)
{
  for (guint i = 0; i < self->scents->len; i++)
    if (((Scent *) self->scents->pdata[i])->chosen == fragrance)
      return TRUE;
  return FALSE;
}

/* A fragrance that no line has yet, else the first. */
static void
on_add_clicked_cb (WbScentList *self)
{
  gint64 fragrance = g_array_index (self->ids, gint64, 0);

  for (guint i = self->ids->len; i > 0; i--)
    if (!is_used (self, g_array_index (self->ids, gint64, i - 1)))
      fragrance = g_array_index (self->ids, gint64, i - 1);
  wb_scent_list_add (self, fragrance);
}

static void
wb_scent_list_dispose (GObject *object)
{
  WbScentList *self = WB_SCENT_LIST (object);

  g_ptr_array_set_size (self->scents, 0);
  g_clear_pointer (&self->box, gtk_widget_unparent);
  G_OBJECT_CLASS (wb_scent_list_parent_class)->dispose (object);
}

static void
wb_scent_list_finalize (GObject *object)
{
  WbScentList *self = WB_SCENT_LIST (object);

  g_ptr_array_unref (self->scents);
  g_array_unref (self->ids);
  g_object_unref (self->names);
  G_OBJECT_CLASS (wb_scent_list_parent_class)->finalize (object);
}

static void
wb_scent_list_class_init (WbScentListClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_scent_list_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_scent_list_finalize;
  signals[CHANGED] = g_signal_new ("changed", WB_TYPE_SCENT_LIST, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "scentlist");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
}

static void
wb_scent_list_init (WbScentList *self)
{
  self->scents = g_ptr_array_new_with_free_func (g_free);
  self->ids = g_array_new (FALSE, FALSE, sizeof (gint64));
  self->names = gtk_string_list_new (NULL);
  self->before_control = LAST;
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  self->lines = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  self->add = gtk_button_new_with_label (_("Add a scent"));
  gtk_widget_set_halign (self->add, GTK_ALIGN_START);
  self->control = gtk_check_button_new_with_label (_("And without fragrance (control)"));
  gtk_widget_set_tooltip_text (self->control, _("Candles without fragrance, to tell what the fragrance does"));
  gtk_box_append (GTK_BOX (self->box), self->lines);
  gtk_box_append (GTK_BOX (self->box), self->add);
  gtk_box_append (GTK_BOX (self->box), self->control);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Scents"), -1);
  g_signal_connect_swapped (self->add, "clicked", G_CALLBACK (on_add_clicked_cb), self);
  g_signal_connect_swapped (self->control, "toggled", G_CALLBACK (tell_changed), self);
}

void
wb_scent_list_set_fragrances (WbScentList     *self,
                              const GPtrArray *fragrances)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new ();

  g_return_if_fail (WB_IS_SCENT_LIST (self));
  g_return_if_fail (fragrances != NULL);

  g_array_set_size (self->ids, 0);
  for (guint i = 0; i < fragrances->len; i++)
    {
      const WbFragrance *fragrance = fragrances->pdata[i];

      g_array_append_val (self->ids, fragrance->record.id);
      g_ptr_array_add (names, fragrance->name);
    }
  g_ptr_array_add (names, NULL);
  self->quiet = TRUE;
  gtk_string_list_splice (self->names, 0, g_list_model_get_n_items (G_LIST_MODEL (self->names)),
                          (const char *const *) names->pdata);
  for (guint i = 0; i < self->scents->len; i++)
    {
      Scent *scent = self->scents->pdata[i];

      gtk_drop_down_set_selected (scent->fragrance, place_of (self, scent->chosen));
    }
  self->quiet = FALSE;
  gtk_widget_set_sensitive (self->add, self->ids->len > 0);
}

void
wb_scent_list_clear (WbScentList *self)
{
  g_return_if_fail (WB_IS_SCENT_LIST (self));

  for (guint i = 0; i < self->scents->len; i++)
    remove_line (self, self->scents->pdata[i]);
  g_ptr_array_set_size (self->scents, 0);
  gtk_check_button_set_active (GTK_CHECK_BUTTON (self->control), FALSE);
  self->before_control = LAST;
}

static Scent *
add_line (WbScentList *self,
          gint64       fragrance)
{
  Scent *scent = scent_new (self, fragrance);

  g_ptr_array_add (self->scents, scent);
  gtk_box_append (GTK_BOX (self->lines), scent->line);
  gtk_box_append (GTK_BOX (self->lines), scent->problem);
  name_lines (self);
  return scent;
}

void
wb_scent_list_set_scents (WbScentList  *self,
                          const GArray *scents)
{
  g_return_if_fail (WB_IS_SCENT_LIST (self));
  g_return_if_fail (scents != NULL);

  self->quiet = TRUE;
  wb_scent_list_clear (self);
  for (guint i = 0; i < scents->len; i++)
    {
      const WbCraftScent *scent = &g_array_index (scents, WbCraftScent, i);
      Scent *line;

      if (scent->fragrance == 0)
        {
          gtk_check_button_set_active (GTK_CHECK_BUTTON (self->control), TRUE);
          self->before_control = i + 1 < scents->len ? i : LAST;
          continue;
        }
      line = add_line (self, scent->fragrance);
      wb_quantity_entry_set_value (line->load, scent->load_pct);
      gtk_drop_down_set_selected (line->basis, (guint) scent->load_basis);
    }
  self->quiet = FALSE;
}

void
wb_scent_list_add (WbScentList *self,
                   gint64       fragrance)
{
  Scent *scent;

  g_return_if_fail (WB_IS_SCENT_LIST (self));

  if (fragrance == 0)
    {
      gtk_check_button_set_active (GTK_CHECK_BUTTON (self->control), TRUE);
      return;
    }
  scent = add_line (self, fragrance);
  gtk_widget_grab_focus (GTK_WIDGET (scent->load));
  tell_changed (self);
}

/* Of the control among the scents; past them all: it is not ticked. */
static guint
get_control_place (WbScentList *self)
{
  if (!gtk_check_button_get_active (GTK_CHECK_BUTTON (self->control)))
    return LAST;
  return MIN (self->before_control, self->scents->len);
}

GArray *
wb_scent_list_dup_scents (WbScentList *self)
{
  const WbCraftScent control = { 0, 0, WB_BASIS_WAX };
  GArray *scents;

  g_return_val_if_fail (WB_IS_SCENT_LIST (self), NULL);

  scents = g_array_new (FALSE, FALSE, sizeof (WbCraftScent));
  for (guint i = 0; i < self->scents->len; i++)
    {
      const Scent *scent = self->scents->pdata[i];
      WbCraftScent item = { scent->chosen, wb_quantity_entry_get_value (scent->load), (int) gtk_drop_down_get_selected (scent->basis) };

      g_array_append_val (scents, item);
    }
  if (get_control_place (self) != LAST)
    g_array_insert_val (scents, get_control_place (self), control);
  return scents;
}

void
wb_scent_list_move (WbScentList *self,
                    guint        from,
                    guint        to)
{
  guint control = get_control_place (self);
  GtkWidget *above = NULL;

  g_return_if_fail (WB_IS_SCENT_LIST (self));
  g_return_if_fail (MAX (from, to) < self->scents->len + (control != LAST ? 1 : 0));

  if (from == control)
    self->before_control = to;
  else
    {
      guint line = from - (from > control ? 1 : 0), place;

      /* where the control stands without the line, and then with it again */
      control -= control != LAST && from < control ? 1 : 0;
      place = to - (to > control ? 1 : 0);
      g_ptr_array_insert (self->scents, (int) place, g_ptr_array_steal_index (self->scents, line));
      if (control != LAST)
        self->before_control = control + (to <= control ? 1 : 0);
    }
  if (self->before_control >= self->scents->len)
    self->before_control = LAST;
  for (guint i = 0; i < self->scents->len; i++)
    {
      const Scent *scent = self->scents->pdata[i];

      gtk_box_reorder_child_after (GTK_BOX (self->lines), scent->line, above);
      gtk_box_reorder_child_after (GTK_BOX (self->lines), scent->problem, scent->line);
      above = scent->problem;
    }
  name_lines (self);
}

gboolean
wb_scent_list_check (WbScentList *self)
{
  gboolean right = TRUE;

  g_return_val_if_fail (WB_IS_SCENT_LIST (self), FALSE);

  for (guint i = 0; i < self->scents->len; i++)
    {
      Scent *scent = self->scents->pdata[i];

      if (wb_quantity_entry_check (scent->load))
        continue;
      if (right)
        gtk_widget_grab_focus (GTK_WIDGET (scent->load));
      right = FALSE;
    }
  return right;
}
