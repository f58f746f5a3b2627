/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-ladder-answer.h"

#include "wb-bundle.h"
#include "wb-craft-ladder-told.h"
#include "wb-grey.h"
#include "wb-ladder-drawing.h"
#include "wb-ladder-numbers.h"
#include "wb-tooltip.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

/* CSS node: ladderanswer. Accessible: the answer is a status; earlier tests are links. */

#define STALE_OPACITY 0.5

struct _WbLadderAnswer
{
  GtkWidget            parent_instance;

  /* children */
  GtkWidget           *box;
  GtkLabel            *answer_text;
  GtkLabel            *warnings;
  GtkLabel            *sureness;
  GtkLabel            *learnt;
  GtkWidget           *rests_on_box;
  GtkFlowBox          *rests_on;
  GtkLabel            *advice;
  GtkLabel            *caution;
  GtkWidget           *materials;
  GtkWidget           *test;
  GtkWidget           *add_vessel;  /* for a diameter alone */
  WbLadderDrawing     *drawing;
  GtkWidget           *why_heading;
  GtkBox              *why;
  WbLadderNumbers     *numbers;
  GtkLabel            *notes;

  /* borrowed */
  const WbCraftLadder *ladder; /* NULL: nothing */
  WbDesk              *desk;
};

G_DEFINE_FINAL_TYPE (WbLadderAnswer, wb_ladder_answer, GTK_TYPE_WIDGET)

enum { OPENED, N_SIGNALS };
static guint signals[N_SIGNALS];

static void
set_text (GtkLabel   *label,
          const char *text)
{
  gtk_label_set_text (label, text != NULL ? text : "");
  gtk_widget_set_visible (GTK_WIDGET (label), text != NULL && *text != '\0');
}

/* ---- Earlier tests ---- */

static gboolean
on_link_cb (WbLadderAnswer *self,
            const char     *address)
{
  g_signal_emit (self, signals[OPENED], 0, g_ascii_strtoll (address, NULL, 10));
  return TRUE;
}

static GtkWidget *
link_label_new (WbLadderAnswer *self,
                const char     *markup)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", markup, "use-markup", TRUE, "xalign", 0.0, "wrap", TRUE, "wrap-mode", PANGO_WRAP_WORD_CHAR, NULL);

  g_signal_connect_object (label, "activate-link", G_CALLBACK (on_link_cb), self, G_CONNECT_SWAPPED);
  return label;
}

/* 0: it is no longer among the notebook's. */
static gint64
find_experiment (WbLadderAnswer *self,
                 const char     *code)
{
  GListModel *all = G_LIST_MODEL (wb_desk_get_experiments (self->desk));

  for (guint i = 0; i < g_list_model_get_n_items (all); i++)
    {
      g_autoptr (WbAppExperiment) experiment = g_list_model_get_item (all, i);

      if (g_strcmp0 (wb_app_experiment_get_code (experiment), code) == 0)
        return wb_app_experiment_get_id (experiment);
    }
  return 0;
}

static char *
dup_link (gint64      experiment,
          const char *code)
{
  return experiment != 0 ? g_markup_printf_escaped ("<a href=\"%" G_GINT64_FORMAT "\">%s</a>", experiment, code) : g_markup_escape_text (code, -1);
}

static gboolean
on_button_link_cb (GtkLinkButton  *button,
                   WbLadderAnswer *self)
{
  return on_link_cb (self, gtk_link_button_get_uri (button));
}

static void
add_to_line (GtkFlowBox *line,
             GtkWidget  *widget)
{
  GtkWidget *child = gtk_flow_box_child_new ();

  gtk_flow_box_child_set_child (GTK_FLOW_BOX_CHILD (child), widget);
  gtk_widget_set_focusable (child, FALSE);
  gtk_flow_box_insert (line, child, -1);
}

/* Each a stop of the Tab key of its own: several links of one label are one stop. */
static void
show_rests_on (WbLadderAnswer *self)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self->rests_on))) != NULL)
    gtk_flow_box_remove (self->rests_on, child);
  gtk_widget_set_visible (self->rests_on_box, self->ladder->experiments->len > 0);
  for (guint i = 0; i < self->ladder->experiments->len; i++)
    {
      const char *code = g_ptr_array_index (self->ladder->experiments, i);
      g_autofree char *address = g_strdup_printf ("%" G_GINT64_FORMAT, find_experiment (self, code));
      GtkWidget *link = gtk_link_button_new_with_label (address, code);

      wb_tooltip_set (link, _("What came of it"));
      g_signal_connect_object (link, "activate-link", G_CALLBACK (on_button_link_cb), self, 0);
      add_to_line (self->rests_on, link);
    }
}

/* ---- Why each ---- */

static GtkWidget *
text_new (const char *text,
          const char *css_class)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", text, "xalign", 0.0, "wrap", TRUE, "wrap-mode", PANGO_WRAP_WORD_CHAR, "selectable", FALSE, NULL);

  if (css_class != NULL)
    gtk_widget_add_css_class (label, css_class);
  return label;
}

static void
add_nearest (WbLadderAnswer          *self,
             GtkBox                  *box,
             const WbCraftLadderStep *step)
{
  for (guint i = 0; i < step->nearest->len; i++)
    {
      const WbCraftNearest *nearest = g_ptr_array_index (step->nearest, i);
      g_autofree char *link = dup_link (nearest->experiment_id, nearest->experiment);
      g_autofree char *rest = NULL, *markup = NULL;

      if (nearest->differs != NULL && *nearest->differs != '\0')
        /* Translators: an earlier test: what it was of, in what it differs, what came of it */
        rest = g_markup_printf_escaped (_("%s (%s): %s"), nearest->what, nearest->differs, nearest->result);
      else
        /* Translators: an earlier test of the same recipe: what it was of, what came of it */
        rest = g_markup_printf_escaped (_("%s (the same): %s"), nearest->what, nearest->result);
      markup = g_strdup_printf ("%s  %s", link, rest);
      gtk_box_append (box, link_label_new (self, markup));
    }
}

static void
add_why (WbLadderAnswer          *self,
         const WbCraftLadderStep *step)
{
  GtkWidget *box = g_object_new (GTK_TYPE_BOX, "orientation", GTK_ORIENTATION_VERTICAL, "spacing", 3, NULL);
  g_autofree char *name = wb_craft_ladder_step_dup_name (step), *chances = wb_craft_ladder_step_dup_chances (step);
  /* Translators: a wick that was itself burnt so */
  g_autofree char *heading = step->tested ? g_strdup_printf (_("%s, burnt before"), name) : g_strdup (name);

  gtk_widget_add_css_class (box, "rankrow");
  gtk_box_append (GTK_BOX (box), text_new (heading, "strong"));
  if (chances != NULL)
    gtk_box_append (GTK_BOX (box), text_new (chances, NULL));
  if (step->reason != NULL)
    gtk_box_append (GTK_BOX (box), text_new (step->reason, NULL));
  /* where the reason does not name it already */
  if (step->outside != NULL && (step->reason == NULL || strstr (step->reason, step->outside) == NULL))
    {
      g_autofree char *outside = g_strdup_printf (_("Beyond what was tried: %s."), step->outside);

      gtk_box_append (GTK_BOX (box), text_new (outside, NULL));
    }
  add_nearest (self, GTK_BOX (box), step);
  gtk_box_append (self->why, box);
}

static void
show_why (WbLadderAnswer *self)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self->why))) != NULL)
    gtk_box_remove (self->why, child);
  for (guint i = 0; i < self->ladder->steps->len; i++)
    if (((const WbCraftLadderStep *) g_ptr_array_index (self->ladder->steps, i))->in_ladder)
      add_why (self, g_ptr_array_index (self->ladder->steps, i));
  gtk_widget_set_visible (self->why_heading, gtk_widget_get_first_child (GTK_WIDGET (self->why)) != NULL);
}

/* A line each. */
static char *
dup_lines (const GPtrArray *sentences)
{
  g_autoptr (GString) lines = g_string_new (NULL);

  for (guint i = 0; sentences != NULL && i < sentences->len; i++)
    g_string_append_printf (lines, "%s%s", i > 0 ? "\n" : "", (const char *) g_ptr_array_index (sentences, i));
  return g_string_free (g_steal_pointer (&lines), FALSE);
}

static void
show (WbLadderAnswer *self)
{
  g_autofree char *sureness = wb_craft_ladder_dup_sureness (self->ladder), *advice = wb_craft_ladder_dup_advice (self->ladder);
  g_autofree char *caution = wb_craft_ladder_dup_caution (self->ladder);
  g_autofree char *warnings = dup_lines (self->ladder->warnings), *notes = dup_lines (self->ladder->notes);
  gboolean any = FALSE;

  for (guint i = 0; i < self->ladder->steps->len; i++)
    any = any || ((const WbCraftLadderStep *) g_ptr_array_index (self->ladder->steps, i))->in_ladder;
  set_text (self->answer_text, self->ladder->answer);
  set_text (self->warnings, warnings);
  set_text (self->sureness, sureness);
  set_text (self->notes, notes);
  set_text (self->learnt, self->ladder->learnt);
  set_text (self->advice, advice);
  set_text (self->caution, any ? caution : NULL);
  show_rests_on (self);
  gtk_widget_set_visible (self->test, any);
  gtk_widget_set_visible (self->add_vessel, any && self->ladder->question.vessel == NULL);
  gtk_widget_set_visible (self->materials, self->ladder->rests_on != WB_CRAFT_RESTS_ON_HISTORY);
  wb_ladder_drawing_set (self->drawing, self->desk, self->ladder);
  show_why (self);
  wb_ladder_numbers_set (self->numbers, self->desk, self->ladder);
}

/* ---- Class ---- */

static void
wb_ladder_answer_dispose (GObject *object)
{
  GtkWidget *child;

  gtk_widget_dispose_template (GTK_WIDGET (object), WB_TYPE_LADDER_ANSWER);
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (object))) != NULL)
    gtk_widget_unparent (child);
  G_OBJECT_CLASS (wb_ladder_answer_parent_class)->dispose (object);
}

static void
wb_ladder_answer_class_init (WbLadderAnswerClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  g_type_ensure (WB_TYPE_LADDER_DRAWING);
  g_type_ensure (WB_TYPE_LADDER_NUMBERS);
  G_OBJECT_CLASS (klass)->dispose = wb_ladder_answer_dispose;
  signals[OPENED] = g_signal_new ("opened", WB_TYPE_LADDER_ANSWER, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_INT64);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "ladderanswer");
  gtk_widget_class_set_template_from_resource (widget_class, WB_BUNDLE_UI "ladder-answer.ui");
  gtk_widget_class_bind_template_child (widget_class, WbLadderAnswer, box);
  gtk_widget_class_bind_template_child (widget_class, WbLadderAnswer, answer_text);
  gtk_widget_class_bind_template_child (widget_class, WbLadderAnswer, warnings);
  gtk_widget_class_bind_template_child (widget_class, WbLadderAnswer, sureness);
  gtk_widget_class_bind_template_child (widget_class, WbLadderAnswer, learnt);
  gtk_widget_class_bind_template_child (widget_class, WbLadderAnswer, rests_on);
  gtk_widget_class_bind_template_child (widget_class, WbLadderAnswer, rests_on_box);
  gtk_widget_class_bind_template_child (widget_class, WbLadderAnswer, advice);
  gtk_widget_class_bind_template_child (widget_class, WbLadderAnswer, caution);
  gtk_widget_class_bind_template_child (widget_class, WbLadderAnswer, materials);
  gtk_widget_class_bind_template_child (widget_class, WbLadderAnswer, test);
  gtk_widget_class_bind_template_child (widget_class, WbLadderAnswer, add_vessel);
  gtk_widget_class_bind_template_child (widget_class, WbLadderAnswer, drawing);
  gtk_widget_class_bind_template_child (widget_class, WbLadderAnswer, why_heading);
  gtk_widget_class_bind_template_child (widget_class, WbLadderAnswer, why);
  gtk_widget_class_bind_template_child (widget_class, WbLadderAnswer, numbers);
  gtk_widget_class_bind_template_child (widget_class, WbLadderAnswer, notes);
}

static void
wb_ladder_answer_init (WbLadderAnswer *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

void
wb_ladder_answer_set (WbLadderAnswer      *self,
                      WbDesk              *desk,
                      const WbCraftLadder *ladder)
{
  g_return_if_fail (WB_IS_LADDER_ANSWER (self));
  g_return_if_fail ((desk == NULL) == (ladder == NULL));

  self->ladder = ladder;
  self->desk = desk;
  gtk_widget_set_visible (self->box, ladder != NULL);
  wb_ladder_answer_set_stale (self, FALSE);
  if (ladder != NULL)
    show (self);
  else
    {
      wb_ladder_drawing_set (self->drawing, NULL, NULL);
      wb_ladder_numbers_set (self->numbers, NULL, NULL);
    }
}

void
wb_ladder_answer_set_stale (WbLadderAnswer *self,
                            gboolean        stale)
{
  g_return_if_fail (WB_IS_LADDER_ANSWER (self));

  gtk_widget_set_opacity (self->box, stale ? STALE_OPACITY : 1.0);
  gtk_accessible_update_state (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_STATE_BUSY, stale, -1);
}

void
wb_ladder_answer_say_grey (WbLadderAnswer *self,
                           const char     *why)
{
  g_return_if_fail (WB_IS_LADDER_ANSWER (self));
  wb_grey_say (self->test, why);
  wb_grey_say (self->add_vessel, why);
}

gboolean
wb_ladder_answer_has_drawing (WbLadderAnswer *self)
{
  g_return_val_if_fail (WB_IS_LADDER_ANSWER (self), FALSE);
  return wb_ladder_drawing_get_chart (self->drawing) != NULL;
}

void
wb_ladder_answer_save_drawing (WbLadderAnswer *self)
{
  g_return_if_fail (WB_IS_LADDER_ANSWER (self));
  wb_ladder_drawing_save (self->drawing);
}
