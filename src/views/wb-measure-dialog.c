/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-measure-dialog.h"

#include "wb-accessible-name.h"
#include "wb-bundle.h"
#include "wb-craft-vessel-check.h"
#include "wb-grey.h"
#include "wb-material-kind.h"
#include "wb-problem.h"
#include "wb-quantity-entry.h"
#include "wb-question.h"
#include "wb-record-form.h"
#include "wb-save-mark.h"
#include "wb-vessel-side.h"
#include "wb-weak-widget.h"

#include <glib/gi18n.h>
#include <math.h>

typedef enum { STEP_WHAT, STEP_EMPTY, STEP_WATER, STEP_ACROSS, STEP_UP, N_STEPS } Step;

struct _WbMeasureDialog
{
  GtkWindow        parent_instance;

  /* children */
  GtkLabel        *heading;
  GtkLabel        *hands;
  GtkStack        *steps;
  WbVesselSide    *side;
  GtkLabel        *facts;
  GtkBox          *issues;
  GtkWidget       *instead;
  GtkLabel        *problem;
  WbSaveMark      *mark;
  GtkWidget       *save;
  GtkWidget       *back;
  GtkButton       *next;

  /* children made here */
  WbRecordForm    *forms[N_STEPS];
  GtkLabel        *caution;
  GtkWidget       *alone;     /* the scale shows the water alone */
  GtkWidget       *together;  /* the empty vessel is in it */
  GtkWidget       *reading_row;
  WbQuantityEntry *reading;   /* of the scale, vessel and water */

  /* owned */
  WbAppNotebook   *notebook;
  GPtrArray       *others;
  WbVessel        *given;
  WbRecord        *sent;      /* being saved; NULL: nothing is */

  /* state */
  gboolean         us_units;
  gboolean         closing;   /* asked and answered */
};

G_DEFINE_FINAL_TYPE (WbMeasureDialog, wb_measure_dialog, GTK_TYPE_WINDOW)

enum { SAVED, INSTEAD, N_SIGNALS };
static guint signals[N_SIGNALS];

static const struct
{
  const char *name;
  const char *title;
  const char *hands;     /* what they do */
  const char *fields[8]; /* of the vessel, asked at this step */
} step_table[N_STEPS] = {
  [STEP_WHAT] = { "what", N_("The vessel"), N_("A name that you would know it by on the shelf, and what it is made of."),
                  { "name", "shape", "wall", "origin", "supplier", NULL } },
  [STEP_EMPTY] = { "empty", N_("Empty, on the scale"),
                   N_("Clean and dry, without a wick. Weigh it; then set the scale to zero with the vessel on it, if the scale can."),
                   { "tare_g", NULL } },
  [STEP_WATER] = { "water", N_("Water to the fill line"),
                   N_("Fill it with water to where the wax will end, at eye level. Read the scale, then the water's temperature. "
                      "Dry the vessel well before any wax comes near it."),
                   { "water_g", "water_c", NULL } },
  [STEP_ACROSS] = { "across", N_("Across, inside the wall"),
                    N_("The wall that counts is the one at the level where the wax stands at the time: measure where it will "
                       "end, at half of that height, just above the base, and the narrowest opening above."),
                    { "inner_diameter_mm", "inner_width_mm", "middle_diameter_mm", "middle_width_mm", "base_diameter_mm",
                      "base_width_mm", "mouth_mm", NULL } },
  [STEP_UP] = { "up", N_("Heights and wall"),
                N_("From the inner base up to where the wax will end, and from there to the rim."),
                { "wax_height_mm", "headspace_mm", "wall_mm", NULL } },
};

static Step
get_step (WbMeasureDialog *self)
{
  const char *name = gtk_stack_get_visible_child_name (self->steps);

  for (Step i = 0; i < N_STEPS; i++)
    if (g_strcmp0 (step_table[i].name, name) == 0)
      return i;
  return STEP_WHAT;
}

static gboolean
is_together (WbMeasureDialog *self)
{
  return gtk_check_button_get_active (GTK_CHECK_BUTTON (self->together));
}

WbVessel *
wb_measure_dialog_dup_vessel (WbMeasureDialog *self)
{
  WbVessel *vessel;
  double reading;

  g_return_val_if_fail (WB_IS_MEASURE_DIALOG (self), NULL);

  vessel = wb_record_copy (self->given);
  for (Step i = 0; i < N_STEPS; i++)
    wb_record_form_write (self->forms[i], vessel);
  reading = wb_quantity_entry_get_value (self->reading);
  /* an empty field says nothing of what was weighed before */
  if (is_together (self) && !isnan (reading))
    vessel->water_g = reading - vessel->tare_g;
  return vessel;
}

static char *
dup_quantity (WbMeasureDialog *self,
              WbQuantity       of,
              double           value)
{
  return wb_quantity_format (wb_quantity_get_shown_unit (of, self->us_units), value, -1);
}

void
wb_measure_dialog_hide_instead (WbMeasureDialog *self)
{
  g_return_if_fail (WB_IS_MEASURE_DIALOG (self));
  gtk_widget_set_visible (self->instead, FALSE);
}

void
wb_measure_dialog_keep (WbMeasureDialog *self,
                        GKeyFile        *file,
                        const char      *group)
{
  WbVessel *vessel;

  g_return_if_fail (WB_IS_MEASURE_DIALOG (self));
  g_return_if_fail (file != NULL && group != NULL);

  vessel = wb_measure_dialog_dup_vessel (self);
  for (Step i = 0; i < N_STEPS; i++)
    wb_record_form_keep (self->forms[i], file, group);
  if (is_together (self) && vessel->water_g > 0)
    {
      g_autofree char *water = dup_quantity (self, WB_QUANTITY_MASS, vessel->water_g);

      g_key_file_set_string (file, group, "water_g", water);
    }
  wb_record_free (vessel);
}

static gboolean
is_touched (WbMeasureDialog *self)
{
  for (Step i = 0; i < N_STEPS; i++)
    if (wb_record_form_get_touched (self->forms[i]))
      return TRUE;
  return wb_quantity_entry_get_touched (self->reading);
}

static Step
step_of_field (const char *field)
{
  for (Step i = 0; i < N_STEPS; i++)
    for (guint j = 0; step_table[i].fields[j] != NULL; j++)
      if (g_str_equal (step_table[i].fields[j], field))
        return i;
  return STEP_WHAT;
}

/* In ounces with the grams beside them, so that the sum can be followed by hand. */
static char *
dup_both (WbMeasureDialog *self,
          WbQuantity       of,
          double           value)
{
  g_autofree char *shown = dup_quantity (self, of, value);
  g_autofree char *stored = wb_quantity_format (wb_quantity_get_stored_unit (of), value, -1);

  return self->us_units ? g_strdup_printf ("%s (%s)", shown, stored) : g_steal_pointer (&shown);
}

static void
add_line (GString *text,
          char    *line)
{
  g_string_append_printf (text, "%s%s", text->len > 0 ? "\n" : "", line);
  g_free (line);
}

/* What the figures say so far, each with where it comes from. */
static void
show_facts (WbMeasureDialog *self,
            const WbVessel  *vessel)
{
  g_autoptr (GString) text = g_string_new (NULL);
  double water = wb_craft_vessel_by_water (vessel), sizes = wb_craft_vessel_by_sizes (vessel);

  if (!isnan (water) && isnan (wb_water_density (vessel->water_c)))
    {
      g_autofree char *volume = dup_quantity (self, WB_QUANTITY_VOLUME, water);

      add_line (text, g_strdup_printf (_("By the water: %s"), volume));
    }
  else if (!isnan (water))
    {
      g_autofree char *mass = dup_both (self, WB_QUANTITY_MASS, vessel->water_g);
      g_autofree char *volume = dup_both (self, WB_QUANTITY_VOLUME, water);
      g_autofree char *warm = dup_quantity (self, WB_QUANTITY_TEMPERATURE, vessel->water_c);
      g_autofree char *density = wb_number_format (wb_water_density (vessel->water_c), 4, NULL);

      /* Translators: mass of the water, its density in g/cm³, its temperature, the volume. */
      add_line (text, g_strdup_printf (_("By the water: %s ÷ %s g/cm³ at %s = %s (density: Kell 1975)"), mass, density, warm, volume));
    }
  if (!isnan (sizes))
    {
      g_autofree char *volume = dup_quantity (self, WB_QUANTITY_VOLUME, sizes);

      add_line (text, g_strdup_printf (_("By diameters and height: %s"), volume));
    }
  if (vessel->inner_diameter_mm > 0 && (vessel->middle_diameter_mm > 0 || vessel->base_diameter_mm > 0))
    {
      g_autofree char *upper = dup_quantity (self, WB_QUANTITY_LENGTH, wb_craft_vessel_pool_mm (vessel, WB_STAGE_UPPER));
      g_autofree char *middle = dup_quantity (self, WB_QUANTITY_LENGTH, wb_craft_vessel_pool_mm (vessel, WB_STAGE_MIDDLE));
      g_autofree char *lower = dup_quantity (self, WB_QUANTITY_LENGTH, wb_craft_vessel_pool_mm (vessel, WB_STAGE_LOWER));

      /* Translators: three diameters. */
      add_line (text, g_strdup_printf (_("The pool reaches the wall at %s in the upper third, %s in the middle, %s in the lower."),
                                       upper, middle, lower));
    }
  gtk_label_set_text (self->facts, text->len > 0 ? text->str : _("What you measure is drawn here to scale."));
}

static void
focus_step (WbMeasureDialog *self)
{
  Step step = get_step (self);

  if (step == STEP_WATER && is_together (self))
    gtk_widget_grab_focus (GTK_WIDGET (self->reading));
  else
    gtk_widget_grab_focus (GTK_WIDGET (self->forms[step]));
}

static void
go (WbMeasureDialog *self,
    Step             step)
{
  g_autofree char *heading = g_strdup_printf (_("%d of %d: %s"), (int) step + 1, N_STEPS, _(step_table[step].title));

  gtk_stack_set_visible_child_name (self->steps, step_table[step].name);
  gtk_label_set_text (self->heading, heading);
  gtk_label_set_text (self->hands, _(step_table[step].hands));
  wb_grey_set (self->back, step > STEP_WHAT ? NULL : _("This is the first step"));
  gtk_widget_set_visible (self->save, step + 1 < N_STEPS);
  gtk_button_set_label (self->next, step + 1 < N_STEPS ? _("_Next") : _("_Save the vessel"));
  wb_accessible_name_button (self->next, gtk_button_get_label (self->next));
  /* Focused before it is shown, GTK 4.8 tells assistive technology of no window. */
  if (gtk_widget_get_mapped (GTK_WIDGET (self)))
    focus_step (self);
}

static void
on_issue_clicked_cb (GtkWidget       *button,
                     WbMeasureDialog *self)
{
  go (self, (Step) GPOINTER_TO_INT (g_object_get_data (G_OBJECT (button), "step")));
}

static GtkWidget *
go_button_new (WbMeasureDialog *self,
               Step             step,
               const char      *label)
{
  GtkWidget *button = gtk_button_new_with_label (label);

  g_object_set_data (G_OBJECT (button), "step", GINT_TO_POINTER (step));
  g_signal_connect (button, "clicked", G_CALLBACK (on_issue_clicked_cb), self);
  gtk_widget_set_valign (button, GTK_ALIGN_START);
  return button;
}

/* A doubt is a question, with the ways to its answers beside it; a note is a line. */
static void
add_issue (WbMeasureDialog          *self,
           const WbCraftVesselIssue *issue)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);
  GtkWidget *row;
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", issue->text, "xalign", 0.0, "wrap", TRUE, "max-width-chars", 44,
                                   "accessible-role", GTK_ACCESSIBLE_ROLE_STATUS, NULL);
  gboolean volumes = issue->kind == WB_CRAFT_VESSEL_APART_VOLUMES || issue->kind == WB_CRAFT_VESSEL_TARE_LEFT;

  gtk_widget_add_css_class (label, issue->grade == WB_CRAFT_VESSEL_NOTE ? "hint" :
                                   issue->grade == WB_CRAFT_VESSEL_DOUBT ? "caution" : "problem");
  gtk_box_append (GTK_BOX (box), label);
  if (volumes)
    {
      row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
      gtk_box_append (GTK_BOX (row), go_button_new (self, STEP_WATER, _("The water")));
      gtk_box_append (GTK_BOX (row), go_button_new (self, STEP_ACROSS, _("The diameters")));
      gtk_box_append (GTK_BOX (row), go_button_new (self, STEP_UP, _("The height")));
      gtk_box_append (GTK_BOX (box), row);
    }
  gtk_box_append (self->issues, box);
}

static void
show_issues (WbMeasureDialog *self,
             const WbVessel  *vessel)
{
  g_autoptr (GPtrArray) issues = wb_craft_vessel_check (vessel, self->us_units);
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self->issues))) != NULL)
    gtk_box_remove (self->issues, child);
  for (guint i = 0; i < issues->len; i++)
    add_issue (self, issues->pdata[i]);
}

/* All that follows from what stands in the fields. */
static void
follow (WbMeasureDialog *self)
{
  WbVessel *vessel = wb_measure_dialog_dup_vessel (self);
  const char *caution = wb_material_get_caution (vessel);
  gboolean together = is_together (self);

  for (guint i = 0; i < vessel->record.type->n_fields; i++)
    {
      const WbFieldSpec *field = &vessel->record.type->fields[i];

      wb_record_form_set_shown (self->forms[step_of_field (field->name)], field->name, wb_material_asks (vessel, field));
    }
  wb_record_form_set_shown (self->forms[STEP_WATER], "water_g", !together);
  gtk_widget_set_visible (self->reading_row, together);
  gtk_label_set_text (self->caution, caution != NULL ? caution : "");
  gtk_widget_set_visible (GTK_WIDGET (self->caution), caution != NULL);
  wb_vessel_side_set (self->side, vessel, self->us_units);
  show_facts (self, vessel);
  show_issues (self, vessel);
  wb_record_free (vessel);
}

static void
on_typed_cb (WbMeasureDialog *self)
{
  wb_problem_tell (self->problem, NULL);
  wb_save_mark_set (self->mark, WB_SAVE_IDLE, NULL);
  follow (self);
}

/* Words at what the scale shows; NULL: it is right. Caller frees. */
static char *
dup_reading_fault (WbMeasureDialog *self,
                   const WbVessel  *vessel)
{
  if (!is_together (self) || isnan (wb_quantity_entry_get_value (self->reading)))
    return NULL;
  if (isnan (vessel->tare_g))
    return g_strdup (_("Weigh the empty vessel first: without it nobody knows how much of this is water."));
  if (vessel->water_g <= 0)
    return g_strdup (_("With the water in it the vessel must weigh more than empty."));
  return NULL;
}

/* FALSE, with the step shown and the words at the field: it may not be left or saved so. */
static gboolean
check_step (WbMeasureDialog *self,
            Step             step)
{
  WbVessel *vessel;
  g_autofree char *fault = NULL;
  gboolean right;

  if (!wb_record_form_check (self->forms[step]))
    return FALSE;
  if (step != STEP_WATER || !is_together (self))
    return TRUE;
  vessel = wb_measure_dialog_dup_vessel (self);
  fault = dup_reading_fault (self, vessel);
  wb_record_free (vessel);
  right = wb_quantity_entry_check (self->reading) && fault == NULL;
  if (fault != NULL)
    wb_quantity_entry_set_problem (self->reading, fault);
  if (!right)
    gtk_widget_grab_focus (GTK_WIDGET (self->reading));
  return right;
}

static void
take_stored (WbMeasureDialog *self,
             WbRecord        *record)
{
  self->closing = TRUE;
  g_signal_emit (self, signals[SAVED], 0, record->id);
  gtk_window_destroy (GTK_WINDOW (self));
}

static void
on_saved_cb (GObject      *source,
             GAsyncResult *result,
             gpointer      data)
{
  g_autoptr (WbMeasureDialog) self = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) ids = NULL;
  g_autoptr (WbRecord) sent = NULL;

  wb_app_notebook_save_finish (WB_APP_NOTEBOOK (source), result, &ids, &error);
  self = wb_weak_widget_take_or_tell (data, _("The vessel was not saved"), error);
  if (self == NULL)
    return;
  sent = g_steal_pointer (&self->sent);
  wb_grey_set (self->save, NULL);
  wb_grey_set (GTK_WIDGET (self->next), NULL);
  if (error == NULL)
    {
      if (ids != NULL && ids->len > 0)
        sent->id = g_array_index (ids, gint64, 0);
      take_stored (self, sent);
      return;
    }
  wb_save_mark_set (self->mark, WB_SAVE_FAILED, NULL);
  wb_problem_tell_error (self->problem, error);
}

static void
send (WbMeasureDialog *self)
{
  WbVessel *vessel = wb_measure_dialog_dup_vessel (self);
  g_autofree char *title = wb_material_dup_title (vessel);
  g_autofree char *why = g_strdup_printf (vessel->record.id == 0 ? _("Add %s") : _("Measure %s"), title);

  self->sent = &vessel->record;
  wb_grey_set (self->save, _("It is being saved"));
  wb_grey_set (GTK_WIDGET (self->next), _("It is being saved"));
  wb_save_mark_set (self->mark, WB_SAVE_SAVING, NULL);
  wb_app_notebook_save_record_async (self->notebook, why, vessel, NULL, on_saved_cb, wb_weak_widget_new (self));
}

static void
on_doubt_answered_cb (gboolean yes,
                      gpointer user)
{
  g_autoptr (WbMeasureDialog) self = wb_weak_widget_take (user);

  if (self != NULL && yes)
    send (self);
}

static void
try_save (WbMeasureDialog *self)
{
  WbVessel *vessel;
  g_autoptr (GPtrArray) issues = NULL;
  const WbCraftVesselIssue *worst;

  if (self->sent != NULL)
    return;
  for (Step i = 0; i < N_STEPS; i++)
    if (!check_step (self, i))
      {
        go (self, i);
        check_step (self, i);
        return;
      }
  vessel = wb_measure_dialog_dup_vessel (self);
  issues = wb_craft_vessel_check (vessel, self->us_units);
  worst = issues->len > 0 ? issues->pdata[0] : NULL;
  if (wb_material_find_double (self->others, vessel) != NULL)
    {
      go (self, STEP_WHAT);
      wb_record_form_set_problem (self->forms[STEP_WHAT], "name", _("There is one of that name and diameter already"));
    }
  else if (worst != NULL && worst->grade == WB_CRAFT_VESSEL_WRONG)
    {
      go (self, step_of_field (worst->field));
      wb_record_form_set_problem (self->forms[step_of_field (worst->field)], worst->field, worst->text);
    }
  else if (worst != NULL && worst->grade == WB_CRAFT_VESSEL_DOUBT)
    wb_question_choose (GTK_WIDGET (self), _("Two measurements do not agree"), worst->text, _("_Look again"), _("Save _both"),
                        on_doubt_answered_cb, wb_weak_widget_new (self));
  else
    send (self);
  wb_record_free (vessel);
}

static void
on_save_clicked_cb (WbMeasureDialog *self)
{
  try_save (self);
}

static void
on_next_clicked_cb (WbMeasureDialog *self)
{
  Step step = get_step (self);

  if (step + 1 == N_STEPS)
    try_save (self);
  else if (check_step (self, step))
    go (self, step + 1);
}

/* What was typed goes on in the form: nothing is dropped, so nothing is asked. */
static void
on_instead_clicked_cb (WbMeasureDialog *self)
{
  if (self->sent != NULL)
    return;
  g_signal_emit (self, signals[INSTEAD], 0);
  self->closing = TRUE;
  gtk_window_close (GTK_WINDOW (self));
}

static void
on_back_clicked_cb (WbMeasureDialog *self)
{
  Step step = get_step (self);

  if (step > STEP_WHAT)
    go (self, step - 1);
}

static void
on_drop_answered_cb (gboolean yes,
                     gpointer user)
{
  g_autoptr (WbMeasureDialog) self = wb_weak_widget_take (user);

  if (self == NULL || !yes)
    return;
  self->closing = TRUE;
  gtk_window_close (GTK_WINDOW (self));
}

static gboolean
on_close_request_cb (WbMeasureDialog *self)
{
  if (self->closing || !is_touched (self))
    return FALSE;
  wb_question_ask (GTK_WIDGET (self), _("What you measured is not saved"), _("Go on measuring and save it, or drop it."), _("_Drop it"), TRUE,
                   on_drop_answered_cb, wb_weak_widget_new (self));
  return TRUE;
}

/* Enter goes from field to field, as at the bench, and from the last one on. */
static void
on_enter_cb (WbMeasureDialog *self)
{
  GtkWidget *step = gtk_stack_get_visible_child (self->steps);

  do
    if (!gtk_widget_child_focus (step, GTK_DIR_TAB_FORWARD))
      {
        on_next_clicked_cb (self);
        return;
      }
  while (!GTK_IS_TEXT (gtk_window_get_focus (GTK_WINDOW (self))));
}

/* The fields that the form of a step does not ask. */
static WbRecordForm *
step_form_new (WbMeasureDialog *self,
               Step             step)
{
  GtkWidget *form = wb_record_form_new ();
  g_autoptr (GPtrArray) hidden = g_ptr_array_new ();

  for (guint i = 0; i < wb_vessel_type.n_fields; i++)
    if (!g_strv_contains (step_table[step].fields, wb_vessel_type.fields[i].name))
      g_ptr_array_add (hidden, (gpointer) wb_vessel_type.fields[i].name);
  g_ptr_array_add (hidden, NULL);
  wb_record_form_set_hidden (WB_RECORD_FORM (form), (const char *const *) hidden->pdata);
  g_signal_connect_swapped (form, "changed", G_CALLBACK (on_typed_cb), self);
  g_signal_connect_swapped (form, "activate", G_CALLBACK (on_enter_cb), self);
  return WB_RECORD_FORM (form);
}

/* With the vessel in it or without: whoever says which need not subtract. */
static void
add_scale (WbMeasureDialog *self,
           GtkWidget       *box)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", _("The scale shows"), "xalign", 0.0, "valign", GTK_ALIGN_START,
                                   "width-chars", 16, "wrap", TRUE, "max-width-chars", 24, NULL);

  self->alone = gtk_check_button_new_with_label (_("The scale shows the water alone: it stood at zero with the vessel on it"));
  self->together = gtk_check_button_new_with_label (_("The empty vessel is in what the scale shows"));
  gtk_check_button_set_group (GTK_CHECK_BUTTON (self->together), GTK_CHECK_BUTTON (self->alone));
  gtk_check_button_set_active (GTK_CHECK_BUTTON (self->alone), TRUE);
  self->reading = WB_QUANTITY_ENTRY (wb_quantity_entry_new (WB_QUANTITY_MASS, WB_UNIT_G));
  wb_quantity_entry_set_label (self->reading, _("The scale shows, vessel and water"));
  wb_quantity_entry_set_range (self->reading, 1, 40000);
  gtk_widget_set_hexpand (GTK_WIDGET (self->reading), TRUE);
  gtk_widget_add_css_class (label, "fieldlabel");
  self->reading_row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 14);
  gtk_box_append (GTK_BOX (self->reading_row), label);
  gtk_box_append (GTK_BOX (self->reading_row), GTK_WIDGET (self->reading));
  gtk_box_append (GTK_BOX (box), self->alone);
  gtk_box_append (GTK_BOX (box), self->together);
  gtk_box_append (GTK_BOX (box), self->reading_row);
  g_signal_connect_swapped (self->together, "toggled", G_CALLBACK (on_typed_cb), self);
  g_signal_connect_swapped (self->reading, "changed", G_CALLBACK (on_typed_cb), self);
  g_signal_connect_swapped (self->reading, "activate", G_CALLBACK (on_enter_cb), self);
}

static void
add_steps (WbMeasureDialog *self)
{
  for (Step i = 0; i < N_STEPS; i++)
    {
      GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);

      if (i == STEP_WATER)
        add_scale (self, box);
      self->forms[i] = step_form_new (self, i);
      gtk_box_append (GTK_BOX (box), GTK_WIDGET (self->forms[i]));
      if (i == STEP_WHAT)
        {
          self->caution = g_object_new (GTK_TYPE_LABEL, "visible", FALSE, "xalign", 0.0, "wrap", TRUE,
                                        "accessible-role", GTK_ACCESSIBLE_ROLE_STATUS, NULL);
          gtk_widget_add_css_class (GTK_WIDGET (self->caution), "caution");
          gtk_box_append (GTK_BOX (box), GTK_WIDGET (self->caution));
        }
      gtk_stack_add_named (self->steps, box, step_table[i].name);
    }
}

static void
wb_measure_dialog_dispose (GObject *object)
{
  WbMeasureDialog *self = WB_MEASURE_DIALOG (object);

  g_clear_object (&self->notebook);
  gtk_widget_dispose_template (GTK_WIDGET (self), WB_TYPE_MEASURE_DIALOG);
  G_OBJECT_CLASS (wb_measure_dialog_parent_class)->dispose (object);
}

static void
wb_measure_dialog_finalize (GObject *object)
{
  WbMeasureDialog *self = WB_MEASURE_DIALOG (object);

  g_clear_pointer (&self->others, g_ptr_array_unref);
  g_clear_pointer (&self->given, wb_record_free);
  g_clear_pointer (&self->sent, wb_record_free);
  G_OBJECT_CLASS (wb_measure_dialog_parent_class)->finalize (object);
}

static void
wb_measure_dialog_class_init (WbMeasureDialogClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  g_type_ensure (WB_TYPE_SAVE_MARK);
  g_type_ensure (WB_TYPE_VESSEL_SIDE);
  G_OBJECT_CLASS (klass)->dispose = wb_measure_dialog_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_measure_dialog_finalize;
  signals[SAVED] = g_signal_new ("saved", WB_TYPE_MEASURE_DIALOG, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_INT64);
  signals[INSTEAD] = g_signal_new ("instead", WB_TYPE_MEASURE_DIALOG, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "measure-dialog.ui");
  gtk_widget_class_bind_template_child (widget_class, WbMeasureDialog, heading);
  gtk_widget_class_bind_template_child (widget_class, WbMeasureDialog, hands);
  gtk_widget_class_bind_template_child (widget_class, WbMeasureDialog, steps);
  gtk_widget_class_bind_template_child (widget_class, WbMeasureDialog, side);
  gtk_widget_class_bind_template_child (widget_class, WbMeasureDialog, facts);
  gtk_widget_class_bind_template_child (widget_class, WbMeasureDialog, issues);
  gtk_widget_class_bind_template_child (widget_class, WbMeasureDialog, instead);
  gtk_widget_class_bind_template_child (widget_class, WbMeasureDialog, problem);
  gtk_widget_class_bind_template_child (widget_class, WbMeasureDialog, mark);
  gtk_widget_class_bind_template_child (widget_class, WbMeasureDialog, save);
  gtk_widget_class_bind_template_child (widget_class, WbMeasureDialog, back);
  gtk_widget_class_bind_template_child (widget_class, WbMeasureDialog, next);
  gtk_widget_class_bind_template_callback (widget_class, on_save_clicked_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_next_clicked_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_back_clicked_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_instead_clicked_cb);
  gtk_widget_class_bind_template_callback (widget_class, on_close_request_cb);
}

static void
wb_measure_dialog_init (WbMeasureDialog *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  wb_accessible_name_button (GTK_BUTTON (self->back), gtk_button_get_label (GTK_BUTTON (self->back)));
  add_steps (self);
  g_signal_connect (self, "map", G_CALLBACK (focus_step), NULL);
}

GtkWidget *
wb_measure_dialog_new (GtkWidget      *where,
                       WbAppNotebook  *notebook,
                       const WbVessel *vessel,
                       GPtrArray      *others)
{
  WbMeasureDialog *self;
  const WbNotebook *settings;
  GtkRoot *root = where != NULL ? gtk_widget_get_root (where) : NULL;

  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (notebook), NULL);
  g_return_val_if_fail (vessel != NULL && vessel->record.type == &wb_vessel_type && others != NULL, NULL);

  self = g_object_new (WB_TYPE_MEASURE_DIALOG, "transient-for", GTK_IS_WINDOW (root) ? root : NULL, NULL);
  self->notebook = g_object_ref (notebook);
  self->given = wb_record_copy (vessel);
  /* As most are. */
  if (vessel->record.id == 0 && vessel->shape < 0)
    self->given->shape = WB_SHAPE_ROUND;
  self->others = g_ptr_array_new_with_free_func (wb_record_free);
  for (guint i = 0; i < others->len; i++)
    g_ptr_array_add (self->others, wb_record_copy (others->pdata[i]));
  settings = wb_app_notebook_get_settings (notebook);
  self->us_units = settings != NULL && settings->us_units;
  wb_quantity_entry_set_quantity (self->reading, WB_QUANTITY_MASS, wb_quantity_get_shown_unit (WB_QUANTITY_MASS, self->us_units));
  for (Step i = 0; i < N_STEPS; i++)
    {
      wb_record_form_set_us_units (self->forms[i], self->us_units);
      wb_record_form_set_record (self->forms[i], self->given);
    }
  gtk_widget_set_visible (self->instead, vessel->record.id == 0);
  follow (self);
  go (self, STEP_WHAT);
  return GTK_WIDGET (self);
}
