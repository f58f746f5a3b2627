/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-ladder-question.h"

#include "wb-accessible-name.h"
#include "wb-bundle.h"
#include "wb-choice-list.h"
#include "wb-craft-fill.h"
#include "wb-ladder-fields.h"

#include <glib/gi18n.h>
#include <math.h>

/*
 * CSS node: ladderquestion. Accessible: a group; each field named by the words above it. No field is ever grey: in a flow box the Tab
 * key does not come past one (GTK 4.8).
 */

/* Of a drop-down: as long as most names. */
#define NAME_CHARS   15
/* A vessel's title ends with its diameter, which tells two of one name apart. */
#define TITLE_CHARS  22

struct _WbLadderQuestion
{
  GtkWidget             parent_instance;

  /* children */
  GtkDropDown          *vessel;     /* the first line is a diameter alone */
  GtkDropDown          *wax;
  GtkDropDown          *basis;
  GtkDropDown          *fragrance;  /* the first line is none yet */
  GtkWidget            *boxes[WB_LADDER_N_FIELDS]; /* where the fields stand */
  WbQuantityEntry      *entries[WB_LADDER_N_FIELDS];

  /* borrowed */
  const WbAppMaterials *materials;  /* NULL: none */

  /* state */
  gint64                chosen_vessel, chosen_wax, chosen_fragrance; /* what stays chosen when the lists are filled anew */
  double                typed_mm;   /* the diameter that was typed, while a vessel is chosen */
  gboolean              own_wicks;  /* their number was typed: another diameter leaves it */
  gboolean              begun;      /* once the first materials were there */
  gboolean              filling;
};

G_DEFINE_FINAL_TYPE (WbLadderQuestion, wb_ladder_question, GTK_TYPE_WIDGET)

enum { CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

/* The record of a list's line behind `before` lines of another kind; NULL: it is one of those. */
static gconstpointer
get_record (GtkDropDown     *list,
            const GPtrArray *records,
            guint            before)
{
  guint selected = gtk_drop_down_get_selected (list);

  return records != NULL && selected != GTK_INVALID_LIST_POSITION && selected >= before && selected - before < records->len
           ? g_ptr_array_index (records, selected - before) : NULL;
}

static const WbVessel *
get_vessel (WbLadderQuestion *self)
{
  return self->materials != NULL ? get_record (self->vessel, self->materials->vessels, 1) : NULL;
}

static const WbWax *
get_wax (WbLadderQuestion *self)
{
  return self->materials != NULL ? get_record (self->wax, self->materials->waxes, 0) : NULL;
}

static gint64
get_id (gconstpointer record)
{
  return record != NULL ? ((const WbRecord *) record)->id : 0;
}

/* The line of a record; `otherwise` where it is not there. */
static guint
find_line (const GPtrArray *records,
           gint64           id,
           guint            before,
           guint            otherwise)
{
  for (guint i = 0; i < records->len; i++)
    if (get_id (g_ptr_array_index (records, i)) == id)
      return i + before;
  return otherwise;
}

/* As many as is usual for its width, until a person says otherwise. */
static void
offer_wicks (WbLadderQuestion *self)
{
  double inner = wb_quantity_entry_get_value (self->entries[WB_LADDER_INNER]);

  if (!self->own_wicks && inner > 0)
    wb_quantity_entry_set_value (self->entries[WB_LADDER_WICKS], MIN (wb_craft_ladder_usual_wicks (inner), WB_LADDER_MOST_WICKS));
}

/* A vessel's own diameter counts while it is chosen, and its name tells it; what was typed before is back with "a diameter alone". */
static void
follow_vessel (WbLadderQuestion *self)
{
  const WbVessel *vessel = get_vessel (self);

  gtk_widget_set_visible (self->boxes[WB_LADDER_INNER], vessel == NULL);
  wb_quantity_entry_set_value (self->entries[WB_LADDER_INNER], vessel != NULL ? vessel->inner_diameter_mm : self->typed_mm);
  offer_wicks (self);
}

static void
changed (WbLadderQuestion *self)
{
  g_signal_emit (self, signals[CHANGED], 0);
}

static void
on_vessel_cb (WbLadderQuestion *self)
{
  if (self->filling)
    return;
  self->chosen_vessel = get_id (get_vessel (self));
  follow_vessel (self);
  changed (self);
}

static void
on_choice_cb (WbLadderQuestion *self)
{
  if (self->filling)
    return;
  self->chosen_wax = get_id (get_wax (self));
  self->chosen_fragrance = wb_ladder_question_get_fragrance (self);
  changed (self);
}

static void
on_typed_cb (WbLadderQuestion *self,
             WbQuantityEntry  *entry)
{
  if (entry == self->entries[WB_LADDER_INNER])
    {
      self->typed_mm = wb_quantity_entry_get_value (entry);
      offer_wicks (self);
    }
  self->own_wicks = self->own_wicks || entry == self->entries[WB_LADDER_WICKS];
  changed (self);
}

/* ---- Lists ---- */

static void
fill_list (GtkDropDown     *list,
           const char      *first,
           const GPtrArray *records)
{
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);

  if (first != NULL)
    gtk_string_list_append (names, first);
  for (guint i = 0; records != NULL && i < records->len; i++)
    gtk_string_list_take (names, wb_material_dup_title (g_ptr_array_index (records, i)));
  gtk_drop_down_set_model (list, G_LIST_MODEL (names));
}

/* The vessel that came last is the new one; the first wax is as good as any. */
static void
begin (WbLadderQuestion *self)
{
  gint64 newest = 0;

  for (guint i = 0; i < self->materials->vessels->len; i++)
    newest = MAX (newest, get_id (g_ptr_array_index (self->materials->vessels, i)));
  if (self->chosen_vessel == 0)
    self->chosen_vessel = newest;
  self->chosen_wax = self->materials->waxes->len > 0 ? get_id (g_ptr_array_index (self->materials->waxes, 0)) : 0;
  self->begun = TRUE;
}

static void
fill_lists (WbLadderQuestion *self)
{
  const WbAppMaterials *materials = self->materials;

  fill_list (self->vessel, _("A diameter alone"), materials != NULL ? materials->vessels : NULL);
  fill_list (self->wax, NULL, materials != NULL ? materials->waxes : NULL);
  fill_list (self->fragrance, _("none chosen yet"), materials != NULL ? materials->fragrances : NULL);
  if (materials == NULL)
    return;
  if (!self->begun && (materials->vessels->len > 0 || materials->waxes->len > 0))
    begin (self);
  gtk_drop_down_set_selected (self->vessel, find_line (materials->vessels, self->chosen_vessel, 1, 0));
  gtk_drop_down_set_selected (self->wax, find_line (materials->waxes, self->chosen_wax, 0, 0));
  gtk_drop_down_set_selected (self->fragrance, find_line (materials->fragrances, self->chosen_fragrance, 1, 0));
}

/* ---- Class ---- */

static void
wb_ladder_question_dispose (GObject *object)
{
  GtkWidget *child;

  gtk_widget_dispose_template (GTK_WIDGET (object), WB_TYPE_LADDER_QUESTION);
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (object))) != NULL)
    gtk_widget_unparent (child);
  G_OBJECT_CLASS (wb_ladder_question_parent_class)->dispose (object);
}

static void
wb_ladder_question_class_init (WbLadderQuestionClass *klass)
{
  static const char *const boxes[WB_LADDER_N_FIELDS] = { "inner_box", "load_box", "wicks_box", "sizes_box", "cold_box", "warm_box" };
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_ladder_question_dispose;
  signals[CHANGED] = g_signal_new ("changed", WB_TYPE_LADDER_QUESTION, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "ladderquestion");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "ladder-question.ui");
  gtk_widget_class_bind_template_child (widget_class, WbLadderQuestion, vessel);
  gtk_widget_class_bind_template_child (widget_class, WbLadderQuestion, wax);
  gtk_widget_class_bind_template_child (widget_class, WbLadderQuestion, basis);
  gtk_widget_class_bind_template_child (widget_class, WbLadderQuestion, fragrance);
  for (guint i = 0; i < WB_LADDER_N_FIELDS; i++)
    gtk_widget_class_bind_template_child_full (widget_class, boxes[i], FALSE, G_STRUCT_OFFSET (WbLadderQuestion, boxes) + (gssize) (i * sizeof (GtkWidget *)));
  gtk_widget_class_bind_template_callback (widget_class, on_vessel_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_choice_cb);
}

static void
add_entry (WbLadderQuestion *self,
           WbLadderField     field)
{
  WbQuantityEntry *entry = wb_ladder_field_new (field);

  gtk_box_append (GTK_BOX (self->boxes[field]), GTK_WIDGET (entry));
  self->entries[field] = entry;
  g_signal_connect_object (entry, "changed", G_CALLBACK (on_typed_cb), self, G_CONNECT_SWAPPED);
}

static void
wb_ladder_question_init (WbLadderQuestion *self)
{
  g_autoptr (GtkStringList) words = gtk_string_list_new (NULL);

  self->typed_mm = NAN;
  self->filling = TRUE;
  gtk_widget_init_template (GTK_WIDGET (self));
  for (WbLadderField field = 0; field < WB_LADDER_N_FIELDS; field++)
    add_entry (self, field);
  for (guint i = 0; wb_basis_words[i].nick != NULL; i++)
    gtk_string_list_append (words, _(wb_basis_words[i].label));
  gtk_drop_down_set_model (self->basis, G_LIST_MODEL (words));
  fill_lists (self);
  wb_accessible_name_drop_down (self->vessel, _("Vessel"));
  wb_accessible_name_drop_down (self->wax, _("Wax"));
  wb_accessible_name_drop_down (self->basis, _("The load is a share"));
  wb_accessible_name_drop_down (self->fragrance, _("Fragrance"));
  wb_choice_list_fit (self->vessel, TITLE_CHARS);
  wb_choice_list_fit (self->wax, NAME_CHARS);
  wb_choice_list_fit (self->fragrance, NAME_CHARS);
  self->filling = FALSE;
}

void
wb_ladder_question_set_materials (WbLadderQuestion     *self,
                                  WbDesk               *desk,
                                  const WbAppMaterials *materials)
{
  g_return_if_fail (WB_IS_LADDER_QUESTION (self));

  self->filling = TRUE;
  self->materials = materials;
  if (materials == NULL)
    self->begun = FALSE;
  fill_lists (self);
  if (desk != NULL)
    {
      wb_quantity_entry_set_quantity (self->entries[WB_LADDER_INNER], WB_QUANTITY_LENGTH, wb_desk_get_unit (desk, WB_QUANTITY_LENGTH));
      wb_quantity_entry_set_quantity (self->entries[WB_LADDER_COLD], WB_QUANTITY_TEMPERATURE, wb_desk_get_unit (desk, WB_QUANTITY_TEMPERATURE));
      wb_quantity_entry_set_quantity (self->entries[WB_LADDER_WARM], WB_QUANTITY_TEMPERATURE, wb_desk_get_unit (desk, WB_QUANTITY_TEMPERATURE));
    }
  if (!wb_quantity_entry_get_touched (self->entries[WB_LADDER_INNER]) || get_vessel (self) != NULL)
    follow_vessel (self);
  self->filling = FALSE;
}

static gboolean
lacks_diameter (WbLadderQuestion *self)
{
  return get_vessel (self) == NULL && *wb_quantity_entry_get_text (self->entries[WB_LADDER_INNER]) == '\0';
}

/* What is still to be done, no mistake; "": nothing to say. */
static const char *
get_missing (WbLadderQuestion *self)
{
  if (self->materials == NULL)
    return "";
  if (get_wax (self) == NULL)
    return _("Type in the wax first, among the materials.");
  return lacks_diameter (self) ? _("Choose a vessel, or type in its inner diameter at the wax level.") : "";
}

gboolean
wb_ladder_question_read (WbLadderQuestion      *self,
                         WbCraftLadderQuestion *question,
                         char                 **why)
{
  const WbVessel *vessel;
  gboolean right;

  g_return_val_if_fail (WB_IS_LADDER_QUESTION (self), FALSE);
  g_return_val_if_fail (question != NULL && why != NULL, FALSE);

  right = self->materials != NULL && wb_ladder_fields_check (self->entries, lacks_diameter (self));
  if (!right || get_wax (self) == NULL || lacks_diameter (self))
    {
      *why = g_strdup (get_missing (self));
      return FALSE;
    }
  *why = NULL;
  vessel = get_vessel (self);
  *question = (WbCraftLadderQuestion) {
    .inner_diameter_mm = wb_quantity_entry_get_value (self->entries[WB_LADDER_INNER]),
    .vessel = vessel != NULL ? vessel->name : NULL,
    .another_vessel = vessel == NULL,
    .wax = get_wax (self)->name,
    .load_pct = wb_quantity_entry_get_value (self->entries[WB_LADDER_LOAD]),
    .load_basis = (int) gtk_drop_down_get_selected (self->basis),
    .wicks = (guint) wb_quantity_entry_get_value (self->entries[WB_LADDER_WICKS]),
    .sizes = (guint) wb_quantity_entry_get_value (self->entries[WB_LADDER_SIZES]),
    .room_cold_c = wb_quantity_entry_get_value (self->entries[WB_LADDER_COLD]),
    .room_warm_c = wb_quantity_entry_get_value (self->entries[WB_LADDER_WARM]),
    .wall_mm = vessel != NULL ? vessel->wall_mm : NAN,
    .fill_g = vessel != NULL ? wb_craft_fill_of (vessel, get_wax (self)).g : NAN,
  };
  return TRUE;
}

gint64
wb_ladder_question_get_vessel (WbLadderQuestion *self)
{
  g_return_val_if_fail (WB_IS_LADDER_QUESTION (self), 0);
  return get_id (get_vessel (self));
}

gint64
wb_ladder_question_get_wax (WbLadderQuestion *self)
{
  g_return_val_if_fail (WB_IS_LADDER_QUESTION (self), 0);
  return get_id (get_wax (self));
}

gint64
wb_ladder_question_get_fragrance (WbLadderQuestion *self)
{
  g_return_val_if_fail (WB_IS_LADDER_QUESTION (self), 0);
  return self->materials != NULL ? get_id (get_record (self->fragrance, self->materials->fragrances, 1)) : 0;
}

gboolean
wb_ladder_question_lacks_fragrances (WbLadderQuestion *self)
{
  g_return_val_if_fail (WB_IS_LADDER_QUESTION (self), FALSE);
  return self->materials != NULL && self->materials->fragrances->len == 0 && wb_quantity_entry_get_value (self->entries[WB_LADDER_LOAD]) > 0;
}

char *
wb_ladder_question_ask_fragrance (WbLadderQuestion *self)
{
  g_autofree char *load = NULL;
  double load_pct;

  g_return_val_if_fail (WB_IS_LADDER_QUESTION (self), NULL);

  load_pct = wb_quantity_entry_get_value (self->entries[WB_LADDER_LOAD]);
  if (!(load_pct > 0) || wb_ladder_question_get_fragrance (self) != 0)
    return NULL;
  gtk_widget_grab_focus (GTK_WIDGET (self->fragrance));
  load = wb_number_format_trimmed (load_pct, 2, NULL);
  if (wb_ladder_question_lacks_fragrances (self))
    /* Translators: a number */
    return g_strdup_printf (_("Type in the fragrance first, among the materials, so that the plan can hold the load of %s\302\240%%; or ask for a load of 0, without fragrance."), load);
  /* Translators: a number */
  return g_strdup_printf (_("Choose the fragrance first, so that the plan can hold the load of %s\302\240%%; or ask for a load of 0, without fragrance."), load);
}

void
wb_ladder_question_offer_load (WbLadderQuestion *self,
                               double            load_pct,
                               WbBasis           basis)
{
  g_return_if_fail (WB_IS_LADDER_QUESTION (self));

  if (wb_quantity_entry_get_touched (self->entries[WB_LADDER_LOAD]))
    return;
  self->filling = TRUE;
  wb_quantity_entry_set_value (self->entries[WB_LADDER_LOAD], load_pct);
  gtk_drop_down_set_selected (self->basis, (guint) basis);
  self->filling = FALSE;
}

void
wb_ladder_question_choose_vessel (WbLadderQuestion *self,
                                  gint64            vessel)
{
  g_return_if_fail (WB_IS_LADDER_QUESTION (self));

  /* before the first materials: then it is chosen in the place of the newest */
  self->chosen_vessel = vessel;
  if (self->materials != NULL)
    gtk_drop_down_set_selected (self->vessel, find_line (self->materials->vessels, vessel, 1, gtk_drop_down_get_selected (self->vessel)));
}
