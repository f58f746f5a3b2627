/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-lot-choice.h"

#include "wb-craft-lot.h"
#include "wb-record-field.h"

#include <glib/gi18n.h>
#include <string.h>

#define OFFER_KEY "wb-lot-choice"

/* What hangs at one entry; goes with it. */
typedef struct
{
  GtkEntry   *entry;   /* borrowed */
  GtkWidget  *list;    /* a GtkListBox in the popover */
  GtkWidget  *popover; /* weak: child of the entry's parent, which has a layout for it, and outlives the entry */
  GPtrArray  *codes;   /* char * */
  GArray     *owners;  /* of the lots: one, or a blend and its parts */
  GPtrArray  *lots;    /* WbLot of these, used up or not */
  GtkWidget  *field;   /* borrowed: the WbRecordField around the entry, which has a line for hints; NULL: there is none */
  GtkWidget  *hint;    /* borrowed: a label below an entry that stands in a box; NULL: none yet */
} Offer;

static void
offer_free (gpointer data)
{
  Offer *self = data;

  g_clear_weak_pointer (&self->popover);
  g_ptr_array_unref (self->codes);
  g_array_unref (self->owners);
  g_ptr_array_unref (self->lots);
  g_free (self);
}

static void
on_parent_destroy_cb (GtkWidget *parent,
                      GtkWidget *popover)
{
  gtk_widget_unparent (popover);
}

static void
pop_up (Offer *self)
{
  GtkWidget *parent;
  graphene_rect_t bounds;

  if (self->popover == NULL || self->codes->len == 0)
    return;
  parent = gtk_widget_get_parent (self->popover);
  if (!gtk_widget_compute_bounds (GTK_WIDGET (self->entry), parent, &bounds))
    return;
  gtk_popover_set_pointing_to (GTK_POPOVER (self->popover),
                               &(GdkRectangle) { (int) bounds.origin.x, (int) bounds.origin.y, (int) bounds.size.width, (int) bounds.size.height });
  gtk_popover_popup (GTK_POPOVER (self->popover));
  gtk_widget_grab_focus (GTK_WIDGET (gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), 0)));
}

/* "W-107, ": one more is to follow. */
static gboolean
wants_more (const char *text)
{
  g_autofree char *clean = g_strchomp (g_strdup (text));
  gsize length = strlen (clean);

  return length > 0 && strchr (",;+", clean[length - 1]) != NULL;
}

/* One lot takes the place of what stood there; after a comma, and of a blend's parts, it stands beside it. */
static void
on_row_activated_cb (Offer         *self,
                     GtkListBoxRow *row)
{
  const char *code = self->codes->pdata[gtk_list_box_row_get_index (row)];
  const char *before = gtk_editable_get_text (GTK_EDITABLE (self->entry));
  g_autofree char *text = self->owners->len > 1 || wants_more (before) ? wb_craft_lot_join (before, code) : g_strdup (code);

  gtk_popover_popdown (GTK_POPOVER (self->popover));
  gtk_editable_set_text (GTK_EDITABLE (self->entry), text);
  gtk_widget_grab_focus (GTK_WIDGET (self->entry));
  gtk_editable_set_position (GTK_EDITABLE (self->entry), -1);
}

static gboolean
on_down_cb (GtkWidget *entry,
            GVariant  *arguments,
            gpointer   data)
{
  Offer *self = data;

  pop_up (self);
  return self->codes->len > 0;
}

static void
on_icon_press_cb (Offer *self)
{
  pop_up (self);
}

static void
show_below (Offer      *self,
            const char *text)
{
  GtkWidget *box = gtk_widget_get_parent (GTK_WIDGET (self->entry));

  if (!GTK_IS_BOX (box) || (self->hint == NULL && text == NULL))
    return;
  if (self->hint == NULL)
    {
      self->hint = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0, "wrap", TRUE, "accessible-role", GTK_ACCESSIBLE_ROLE_STATUS, NULL);
      gtk_widget_add_css_class (self->hint, "caution");
      gtk_widget_add_css_class (self->hint, "fieldhint");
      gtk_box_insert_child_after (GTK_BOX (box), self->hint, GTK_WIDGET (self->entry));
    }
  gtk_label_set_text (GTK_LABEL (self->hint), text != NULL ? text : "");
  gtk_widget_set_visible (self->hint, text != NULL);
}

/* A code that is nearly a lot's would become a lot of its own, and what was made of the one be found in two places. */
static void
show_near (Offer *self)
{
  g_autofree char *near = wb_craft_lot_dup_near (self->lots, (const gint64 *) (gpointer) self->owners->data, self->owners->len,
                                                 gtk_editable_get_text (GTK_EDITABLE (self->entry)));
  /* Translators: a lot of the list, "MF-2611", where "MF2611" was typed. */
  g_autofree char *text = near != NULL ? g_strdup_printf (_("Is it %s?"), near) : NULL;

  if (self->field != NULL)
    wb_record_field_set_caution (WB_RECORD_FIELD (self->field), text);
  else
    show_below (self, text);
}

static GtkEntry *
find_entry (GtkWidget *field)
{
  if (GTK_IS_ENTRY (field))
    return GTK_ENTRY (field);
  for (GtkWidget *child = gtk_widget_get_first_child (field); child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      GtkEntry *entry = find_entry (child);

      if (entry != NULL)
        return entry;
    }
  return NULL;
}

static Offer *
offer_new (GtkEntry *entry)
{
  Offer *self = g_new0 (Offer, 1);
  GtkWidget *parent = gtk_widget_get_parent (GTK_WIDGET (entry));
  GtkEventController *keys = gtk_shortcut_controller_new ();
  GtkWidget *popover;

  self->entry = entry;
  self->codes = g_ptr_array_new_with_free_func (g_free);
  self->owners = g_array_new (FALSE, FALSE, sizeof (gint64));
  self->lots = g_ptr_array_new_with_free_func (wb_record_free);
  self->field = gtk_widget_get_ancestor (GTK_WIDGET (entry), WB_TYPE_RECORD_FIELD);
  self->list = g_object_new (GTK_TYPE_LIST_BOX, "selection-mode", GTK_SELECTION_NONE, NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->list), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Lots at hand"), -1);
  popover = g_object_new (GTK_TYPE_POPOVER, "has-arrow", FALSE, "position", GTK_POS_BOTTOM, "halign", GTK_ALIGN_START, "child", self->list, NULL);
  gtk_widget_set_parent (popover, parent);
  g_signal_connect_object (parent, "destroy", G_CALLBACK (on_parent_destroy_cb), popover, 0);
  g_set_weak_pointer (&self->popover, popover);
  g_signal_connect_swapped (self->list, "row-activated", G_CALLBACK (on_row_activated_cb), self);
  gtk_shortcut_controller_add_shortcut (GTK_SHORTCUT_CONTROLLER (keys),
                                        gtk_shortcut_new (gtk_keyval_trigger_new (GDK_KEY_Down, 0), gtk_callback_action_new (on_down_cb, self, NULL)));
  /* before the text inside takes the key for moving the cursor to its end */
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  gtk_widget_add_controller (GTK_WIDGET (entry), keys);
  g_signal_connect_swapped (entry, "changed", G_CALLBACK (show_near), self);
  g_signal_connect_swapped (entry, "icon-press", G_CALLBACK (on_icon_press_cb), self);
  g_object_set_data_full (G_OBJECT (entry), OFFER_KEY, self, offer_free);
  return self;
}

static void
add_row (Offer       *self,
         const WbLot *lot)
{
  g_autofree char *day = lot->received_on != WB_DAY_NONE ? wb_day_format_local (lot->received_on) : NULL;
  g_autofree char *text = day != NULL ? g_strdup_printf (_("%s, received %s"), lot->code, day) : g_strdup (lot->code);
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", text, "xalign", 0.0, "margin-start", 6, "margin-end", 6, NULL);

  gtk_list_box_append (GTK_LIST_BOX (self->list), label);
  gtk_accessible_update_property (GTK_ACCESSIBLE (gtk_widget_get_parent (label)), GTK_ACCESSIBLE_PROPERTY_LABEL, text, -1);
  g_ptr_array_add (self->codes, g_strdup (lot->code));
}

static gboolean
is_owned (const GArray *owners,
          gint64        material)
{
  for (guint i = 0; i < owners->len; i++)
    if (g_array_index (owners, gint64, i) == material)
      return TRUE;
  return FALSE;
}

void
wb_lot_choice_offer (GtkWidget            *field,
                     const WbAppMaterials *materials,
                     gint64                material)
{
  GtkEntry *entry;
  Offer *self;
  GtkListBoxRow *row;

  g_return_if_fail (GTK_IS_WIDGET (field));
  g_return_if_fail (material == 0 || materials != NULL);

  entry = find_entry (field);
  g_return_if_fail (entry != NULL && gtk_widget_get_parent (GTK_WIDGET (entry)) != NULL);
  self = g_object_get_data (G_OBJECT (entry), OFFER_KEY);
  if (self == NULL)
    self = offer_new (entry);
  while ((row = gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), 0)) != NULL)
    gtk_list_box_remove (GTK_LIST_BOX (self->list), GTK_WIDGET (row));
  g_ptr_array_set_size (self->codes, 0);
  g_ptr_array_set_size (self->lots, 0);
  g_clear_pointer (&self->owners, g_array_unref);
  self->owners = material != 0 ? wb_craft_lot_dup_owners (material, materials->parts) : g_array_new (FALSE, FALSE, sizeof (gint64));
  for (guint i = 0; material != 0 && i < materials->lots->len; i++)
    {
      const WbLot *lot = materials->lots->pdata[i];

      if (!is_owned (self->owners, lot->material))
        continue;
      g_ptr_array_add (self->lots, wb_record_copy (lot));
      if (!lot->used_up)
        add_row (self, lot);
    }
  gtk_entry_set_icon_from_icon_name (entry, GTK_ENTRY_ICON_SECONDARY, self->codes->len > 0 ? "pan-down-symbolic" : NULL);
  gtk_entry_set_icon_tooltip_text (entry, GTK_ENTRY_ICON_SECONDARY, self->codes->len > 0 ? _("Lots at hand (Down); after a comma one more") : NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_PROPERTY_HAS_POPUP, self->codes->len > 0, -1);
  show_near (self);
}

/* Which of the text's codes it is that one has to ask about. */
typedef char *(*FindFunc) (const GPtrArray *lots, const gint64 *materials, guint n_materials, const char *text);

static void
add_found (GPtrArray            *found,
           const WbAppMaterials *materials,
           gint64                material,
           const char           *label,
           const char           *text,
           FindFunc              find)
{
  g_autoptr (GArray) owners = NULL;
  g_autofree char *codes = NULL;

  if (material == 0)
    return;
  owners = wb_craft_lot_dup_owners (material, materials->parts);
  codes = find (materials->lots, (const gint64 *) (gpointer) owners->data, owners->len, text);
  if (codes != NULL)
    g_ptr_array_add (found, g_strdup_printf ("%s %s", label, codes));
}

void
wb_lot_choice_add_used_up (GPtrArray            *gone,
                           const WbAppMaterials *materials,
                           gint64                material,
                           const char           *label,
                           const char           *text)
{
  g_return_if_fail (gone != NULL && materials != NULL);
  add_found (gone, materials, material, label, text, wb_craft_lot_dup_used_up);
}

void
wb_lot_choice_add_others (GPtrArray            *others,
                          const WbAppMaterials *materials,
                          gint64                material,
                          const char           *label,
                          const char           *text)
{
  g_return_if_fail (others != NULL && materials != NULL);
  add_found (others, materials, material, label, text, wb_craft_lot_dup_of_others);
}

void
wb_lot_choice_ask (GtkWidget       *where,
                   const GPtrArray *gone,
                   WbQuestionFunc   callback,
                   gpointer         user)
{
  g_autoptr (GString) body = g_string_new (NULL);

  g_return_if_fail (gone != NULL && callback != NULL);

  if (gone->len == 0)
    {
      callback (TRUE, user);
      return;
    }
  for (guint i = 0; i < gone->len; i++)
    g_string_append_printf (body, "%s%s", i > 0 ? "\n" : "", (const char *) gone->pdata[i]);
  g_string_append_printf (body, "\n\n%s", _("Your list of materials says that it is used up. Look at the label of what was really weighed out: which lot "
                                            "went in is what a later fault is traced by."));
  wb_question_choose (where, _("Was a lot poured that is used up?"), body->str, _("Look again"), _("It was that lot"), callback, user);
}
