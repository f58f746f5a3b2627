/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-numbers-view.h"

#include "wb-accessible-name.h"
#include "wb-choice-list.h"
#include "wb-figure-words.h"
#include "wb-number.h"
#include "wb-text-table.h"

#include <glib/gi18n.h>

/* CSS node: numbersview. */

struct _WbNumbersView
{
  GtkWidget      parent_instance;

  /* children */
  GtkWidget     *scrolled;
  GtkWidget     *box;       /* of the answer's sections, filled anew */
  GtkDropDown   *figure;
  GtkWidget     *effects;   /* box of the effects, filled anew */

  /* owned */
  WbCraftAnswer *answer;      /* NULL: empty */
  GCancellable  *cancellable; /* NULL: no effects are on their way */

  /* state */
  guint          group;
  gboolean       asked;      /* the effects of the figure in front were asked for */
};

G_DEFINE_FINAL_TYPE (WbNumbersView, wb_numbers_view, GTK_TYPE_WIDGET)

enum { PROP_0, PROP_READY, N_PROPS };
static GParamSpec *properties[N_PROPS];

static const WbFigure offered[] = {
  WB_FIGURE_FULL_POOL, WB_FIGURE_POOL_LIMIT, WB_FIGURE_DEPTH, WB_FIGURE_FLAME, WB_FIGURE_VESSEL, WB_FIGURE_CONSUMPTION,
  WB_FIGURE_HANG_UP, WB_FIGURE_SOOT, WB_FIGURE_MUSHROOM, WB_FIGURE_THROW, WB_FIGURE_SCORE,
};

/* ---- Parts ---- */

static void
clear (GtkWidget *box)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (box)) != NULL)
    gtk_box_remove (GTK_BOX (box), child);
}

static void
add_text (GtkWidget  *box,
          const char *text,
          const char *style)
{
  GtkWidget *label;

  if (text == NULL || *text == '\0')
    return;
  label = g_object_new (GTK_TYPE_LABEL, "label", text, "xalign", 0.0, "wrap", TRUE, "wrap-mode", PANGO_WRAP_WORD_CHAR, "selectable", TRUE, NULL);
  /* Selected by the pointer: the keyboard does not stop at each sentence. */
  gtk_widget_set_focusable (label, FALSE);
  if (style != NULL)
    gtk_widget_add_css_class (label, style);
  gtk_box_append (GTK_BOX (box), label);
}

static WbTextTable *
add_table (GtkWidget  *box,
           const char *title)
{
  GtkWidget *table = wb_text_table_new (title);

  add_text (box, title, "section");
  gtk_box_append (GTK_BOX (box), table);
  return WB_TEXT_TABLE (table);
}

/* Ends a row of texts, each of which is taken. */
static void
add_row (WbTextTable *table,
         GPtrArray   *cells)
{
  g_ptr_array_add (cells, NULL);
  wb_text_table_add_row (table, (const char *const *) cells->pdata);
}

static void
set_heads (WbTextTable *table,
           GPtrArray   *cells)
{
  g_ptr_array_add (cells, NULL);
  wb_text_table_set_heads (table, (const char *const *) cells->pdata);
}

static const WbCraftGroup *
get_group (WbNumbersView *self)
{
  return self->group < self->answer->ranking->n_groups ? &self->answer->ranking->groups[self->group] : NULL;
}

static char *
dup_cell_name (WbNumbersView       *self,
               const WbCraftGroup  *group,
               const WbCraftRanked *ranked)
{
  return group->by_vessel && group->by_scent ? wb_dataset_dup_wick_name (self->answer->data, ranked->cell)
                                             : wb_dataset_dup_cell_name (self->answer->data, ranked->cell);
}

/* The value, its interval below. */
static char *
dup_interval (WbFigure        figure,
              WbCraftInterval interval,
              gboolean        us_units)
{
  g_autofree char *value = wb_figure_words_dup_value (figure, interval.value, us_units);
  g_autofree char *range = wb_figure_words_dup_range (figure, interval, us_units);

  return *range != '\0' ? g_strdup_printf ("%s\n%s", value, range) : g_steal_pointer (&value);
}

/* A chance with what the number of draws leaves open of it. */
static char *
dup_chance (double p,
            double error)
{
  g_autofree char *value = isfinite (p) ? wb_number_format (100 * p, 1, NULL) : NULL;
  g_autofree char *of_draws = isfinite (error) ? wb_number_format (100 * error, 1, NULL) : NULL;

  if (value == NULL)
    return g_strdup ("–");
  /* All draws, or none of some, is no certainty. */
  if (lround (1000 * p) >= 1000)
    return g_strdup (_("over 99.9 %"));
  if (lround (1000 * p) == 0)
    return g_strdup (_("under 0.1 %"));
  /* Translators: a chance in per cent and its standard error, from the number of draws. */
  return of_draws != NULL ? g_strdup_printf (_("%s %% ± %s"), value, of_draws) : g_strdup_printf (_("%s %%"), value);
}

static char *
dup_crossing (const WbCraftRanked *ranked)
{
  g_autofree char *chance = isfinite (ranked->p_cross) ? dup_chance (ranked->p_cross, ranked->p_cross_error) : NULL;
  char *told = wb_craft_ranked_dup_crossing (ranked, chance);

  return told != NULL ? told : g_strdup ("–");
}

/* ---- Sections ---- */

static void
add_scores (WbNumbersView      *self,
            const WbCraftGroup *group)
{
  static const char *const heads[] = { N_("Combination"), N_("Score, 90 % interval"), /* xgettext:no-c-format */ N_("Next candle, 90 % interval"), N_("Best"),
                                       N_("Within 0.05 of the best"), N_("Crosses a limit"), N_("Expected loss"), N_("Rests on") };
  WbTextTable *table = add_table (self->box, _("Scores and chances"));
  g_autoptr (GPtrArray) head = g_ptr_array_new ();

  for (guint i = 0; i < G_N_ELEMENTS (heads); i++)
    g_ptr_array_add (head, (gpointer) _(heads[i]));
  set_heads (table, head);
  for (guint i = 0; i < group->n_cells; i++)
    {
      const WbCraftRanked *ranked = &group->cells[i];
      g_autoptr (GPtrArray) cells = g_ptr_array_new_with_free_func (g_free);
      g_autofree char *samples = g_strdup_printf (ngettext ("%u sample", "%u samples", ranked->samples), ranked->samples);
      g_autofree char *burns = g_strdup_printf (ngettext ("%u burn", "%u burns", ranked->burns), ranked->burns);

      g_ptr_array_add (cells, dup_cell_name (self, group, ranked));
      g_ptr_array_add (cells, dup_interval (WB_FIGURE_SCORE, ranked->score, FALSE));
      g_ptr_array_add (cells, dup_interval (WB_FIGURE_SCORE, ranked->next_candle, FALSE));
      g_ptr_array_add (cells, dup_chance (ranked->p_best, ranked->p_best_error));
      g_ptr_array_add (cells, dup_chance (ranked->p_near, ranked->p_near_error));
      g_ptr_array_add (cells, dup_crossing (ranked));
      g_ptr_array_add (cells, isfinite (ranked->expected_loss) ? wb_number_format (ranked->expected_loss, 3, NULL) : g_strdup ("–"));
      g_ptr_array_add (cells, g_strdup_printf ("%s\n%s", samples, burns));
      add_row (table, cells);
    }
}

static void
add_ranks (WbNumbersView      *self,
           const WbCraftGroup *group)
{
  WbTextTable *table;
  g_autoptr (GPtrArray) head = g_ptr_array_new_with_free_func (g_free);

  if (group->n_cells < 2)
    return;
  table = add_table (self->box, _("Chance of each rank"));
  g_ptr_array_add (head, g_strdup (_("Combination")));
  for (guint i = 0; i < group->n_cells; i++)
    g_ptr_array_add (head, g_strdup_printf (_("rank %u"), i + 1));
  set_heads (table, head);
  for (guint i = 0; i < group->n_cells; i++)
    {
      g_autoptr (GPtrArray) cells = g_ptr_array_new_with_free_func (g_free);

      g_ptr_array_add (cells, dup_cell_name (self, group, &group->cells[i]));
      for (guint k = 0; k < group->n_cells; k++)
        g_ptr_array_add (cells, dup_chance (group->cells[i].p_rank != NULL ? group->cells[i].p_rank[k] : NAN, NAN));
      add_row (table, cells);
    }
}

/* "Flame, lower third". Caller frees. */
static char *
dup_aim (WbFigure figure,
         WbStage  stage)
{
  if (stage == WB_STAGE_ALL)
    return g_strdup (_(wb_figure_get_label (figure)));
  return g_strdup_printf ("%s, %s", _(wb_figure_get_label (figure)), _(wb_stage_get_label (stage)));
}

/* Each aim's weight, and how well each combination meets it. */
static void
add_parts (WbNumbersView      *self,
           const WbCraftGroup *group)
{
  gboolean us = self->answer->data->notebook->us_units;
  const GArray *first = group->n_cells > 0 ? group->cells[0].parts : NULL;
  WbTextTable *table;
  g_autoptr (GPtrArray) head = g_ptr_array_new_with_free_func (g_free);

  if (first == NULL || first->len == 0)
    return;
  table = add_table (self->box, _("Weights and desirability"));
  g_ptr_array_add (head, g_strdup (_("Aim")));
  g_ptr_array_add (head, g_strdup (_("Weight")));
  for (guint i = 0; i < group->n_cells; i++)
    g_ptr_array_add (head, dup_cell_name (self, group, &group->cells[i]));
  set_heads (table, head);
  for (guint i = 0; i < first->len; i++)
    {
      const WbCraftPart *aim = &g_array_index (first, WbCraftPart, i);
      g_autoptr (GPtrArray) cells = g_ptr_array_new_with_free_func (g_free);

      g_ptr_array_add (cells, dup_aim (aim->figure, aim->stage));
      g_ptr_array_add (cells, aim->dropped ? g_strdup (_("left out: not read")) : wb_number_format_trimmed (aim->weight, 2, NULL));
      for (guint k = 0; k < group->n_cells; k++)
        {
          const WbCraftPart *part = i < group->cells[k].parts->len ? &g_array_index (group->cells[k].parts, WbCraftPart, i) : NULL;
          g_autofree char *value = part != NULL ? wb_figure_words_dup_value (part->figure, part->value, us) : NULL;
          g_autofree char *share = wb_figure_words_dup_share (part != NULL ? part->desirability : NAN);

          g_ptr_array_add (cells, value != NULL ? g_strdup_printf ("%s\n%s", share, value) : g_steal_pointer (&share));
        }
      add_row (table, cells);
    }
}

static void
add_estimates (WbNumbersView      *self,
               const WbCraftGroup *group)
{
  gboolean us = self->answer->data->notebook->us_units;
  WbTextTable *table = add_table (self->box, /* xgettext:no-c-format */ _("Estimates of the mean over the whole life, 90 % intervals"));
  g_autoptr (GPtrArray) head = g_ptr_array_new_with_free_func (g_free);

  g_ptr_array_add (head, g_strdup (_("Figure")));
  for (guint i = 0; i < group->n_cells; i++)
    g_ptr_array_add (head, dup_cell_name (self, group, &group->cells[i]));
  set_heads (table, head);
  for (guint f = 0; f < G_N_ELEMENTS (offered); f++)
    {
      g_autoptr (GPtrArray) cells = g_ptr_array_new_with_free_func (g_free);
      gboolean any = FALSE;

      if (offered[f] == WB_FIGURE_FULL_POOL || offered[f] == WB_FIGURE_POOL_LIMIT || offered[f] == WB_FIGURE_SCORE)
        continue;
      g_ptr_array_add (cells, g_strdup (_(wb_figure_get_label (offered[f]))));
      for (guint i = 0; i < group->n_cells; i++)
        {
          const WbCraftEstimate *told = &self->answer->estimates->cells[group->cells[i].cell].figure[offered[f]];

          any = any || isfinite (told->told.value);
          g_ptr_array_add (cells, dup_interval (offered[f], told->told, us));
        }
      if (any)
        add_row (table, cells);
    }
}

static void
add_draws (WbNumbersView *self)
{
  g_autofree char *seed = g_strdup_printf ("%" G_GUINT64_FORMAT, self->answer->ranking->seed);
  g_autofree char *text = g_strdup_printf (_("Counted in %u draws, seed %s."), self->answer->ranking->draws, seed);

  add_text (self->box, text, "dim-label");
}

/* ---- Effects ---- */

static char *
dup_p (double p)
{
  if (!isfinite (p))
    return g_strdup ("–");
  return p < 0.001 ? g_strdup (_("under 0.001")) : wb_number_format (p, 3, NULL);
}

static void
add_terms (WbNumbersView        *self,
           const WbCraftEffects *effects)
{
  static const char *const heads[] = { N_("Term"), N_("Degrees of freedom"), N_("Sum of squares"), N_("F"), N_("p") };
  WbTextTable *table;
  g_autoptr (GPtrArray) head = g_ptr_array_new ();

  if (effects->terms == NULL || effects->terms->len == 0)
    return;
  table = add_table (self->effects, _("Analysis of variance"));
  for (guint i = 0; i < G_N_ELEMENTS (heads); i++)
    g_ptr_array_add (head, (gpointer) _(heads[i]));
  set_heads (table, head);
  for (guint i = 0; i < effects->terms->len; i++)
    {
      const WbCraftTerm *term = effects->terms->pdata[i];
      g_autoptr (GPtrArray) cells = g_ptr_array_new_with_free_func (g_free);

      g_ptr_array_add (cells, wb_craft_term_dup_label (term->term));
      g_ptr_array_add (cells, wb_number_format_trimmed (term->df, 1, NULL));
      g_ptr_array_add (cells, wb_number_format (term->sum_sq, 2, NULL));
      g_ptr_array_add (cells, isfinite (term->f) ? wb_number_format (term->f, 2, NULL) : g_strdup ("–"));
      g_ptr_array_add (cells, dup_p (term->p));
      add_row (table, cells);
    }
}

static void
add_pairs (WbNumbersView        *self,
           const WbCraftEffects *effects)
{
  static const char *const heads[] = { N_("Pair"), /* xgettext:no-c-format */ N_("Difference, 90 % interval of all pairs at once"), N_("This pair alone"), N_("p"), N_("Samples") };
  WbTextTable *table;
  g_autoptr (GPtrArray) head = g_ptr_array_new ();

  if (effects->comparisons == NULL || effects->comparisons->len == 0)
    return;
  table = add_table (self->effects, _("Comparisons"));
  for (guint i = 0; i < G_N_ELEMENTS (heads); i++)
    g_ptr_array_add (head, (gpointer) _(heads[i]));
  set_heads (table, head);
  for (guint i = 0; i < effects->comparisons->len; i++)
    {
      const WbCraftComparison *pair = effects->comparisons->pdata[i];
      g_autoptr (GPtrArray) cells = g_ptr_array_new_with_free_func (g_free);
      g_autofree char *value = wb_number_format (pair->difference.value, 2, NULL);
      g_autofree char *low = isfinite (pair->difference.low) ? wb_number_format (pair->difference.low, 2, NULL) : g_strdup ("–");
      g_autofree char *high = isfinite (pair->difference.high) ? wb_number_format (pair->difference.high, 2, NULL) : g_strdup ("–");
      g_autofree char *own_low = isfinite (pair->alone.low) ? wb_number_format (pair->alone.low, 2, NULL) : g_strdup ("–");
      g_autofree char *own_high = isfinite (pair->alone.high) ? wb_number_format (pair->alone.high, 2, NULL) : g_strdup ("–");

      /* Translators: the first of a pair less the second. */
      g_ptr_array_add (cells, g_strdup_printf (_("%s − %s"), pair->a, pair->b));
      g_ptr_array_add (cells, g_strdup_printf (_("%s (%s to %s)"), value, low, high));
      g_ptr_array_add (cells, g_strdup_printf (_("%s to %s"), own_low, own_high));
      g_ptr_array_add (cells, dup_p (pair->p));
      g_ptr_array_add (cells, g_strdup_printf ("%u", pair->samples));
      add_row (table, cells);
    }
}

static void
fill_effects (WbNumbersView        *self,
              const WbCraftEffects *effects)
{
  const char *symbol = wb_unit_get_symbol (wb_figure_get_unit (effects->figure));
  g_autofree char *method = wb_craft_effects_dup_method (effects);
  g_autofree char *unit = symbol != NULL && *symbol != '\0' ? g_strdup_printf (_("All differences in %s."), symbol) : NULL;

  clear (self->effects);
  add_text (self->effects, effects->finding, NULL);
  add_text (self->effects, effects->refusal, NULL);
  add_text (self->effects, effects->slope.text, NULL);
  add_text (self->effects, effects->needed.text, NULL);
  add_terms (self, effects);
  add_pairs (self, effects);
  add_text (self->effects, unit, "dim-label");
  add_text (self->effects, method, "dim-label");
}

typedef struct
{
  WbCraftAnswer *answer;
  WbFigure       figure;
} Order;

static void
order_free (gpointer data)
{
  wb_craft_answer_unref (((Order *) data)->answer);
  g_free (data);
}

static void
work_out (GTask        *task,
          gpointer      source,
          gpointer      data,
          GCancellable *cancellable)
{
  const Order *order = data;

  /* The answer keeps them, and the task the answer. */
  g_task_return_pointer (task, (gpointer) wb_craft_answer_get_effects (order->answer, order->figure), NULL);
}

static void
on_worked_out_cb (GObject      *source,
                  GAsyncResult *result,
                  gpointer      user)
{
  WbNumbersView *self = WB_NUMBERS_VIEW (source);
  const WbCraftEffects *effects = g_task_propagate_pointer (G_TASK (result), NULL);

  /* Another figure, or another answer, was asked for since. */
  if (self->scrolled == NULL || self->cancellable != g_task_get_cancellable (G_TASK (result)))
    return;
  g_clear_object (&self->cancellable);
  if (effects != NULL)
    fill_effects (self, effects);
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_READY]);
}

static void
stop (WbNumbersView *self)
{
  if (self->cancellable != NULL)
    g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  self->asked = FALSE;
}

/* Once somebody looks: they take seconds where readings are many. */
static void
ask_effects (WbNumbersView *self)
{
  guint selected = gtk_drop_down_get_selected (self->figure);
  g_autoptr (GTask) task = NULL;
  Order *order;

  if (self->asked || self->answer == NULL || selected >= G_N_ELEMENTS (offered) || !gtk_widget_get_mapped (GTK_WIDGET (self)))
    return;
  stop (self);
  self->asked = TRUE;
  clear (self->effects);
  add_text (self->effects, _("Working out the effects…"), "dim-label");
  order = g_new (Order, 1);
  *order = (Order) { wb_craft_answer_ref (self->answer), offered[selected] };
  self->cancellable = g_cancellable_new ();
  task = g_task_new (self, self->cancellable, on_worked_out_cb, NULL);
  g_task_set_task_data (task, order, order_free);
  g_task_run_in_thread (task, work_out);
}

static void
on_figure_cb (WbNumbersView *self)
{
  self->asked = FALSE;
  ask_effects (self);
}

/* ---- Class ---- */

static void
wb_numbers_view_get_property (GObject    *object,
                              guint       id,
                              GValue     *value,
                              GParamSpec *spec)
{
  if (id == PROP_READY)
    g_value_set_boolean (value, wb_numbers_view_get_ready (WB_NUMBERS_VIEW (object)));
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, spec);
}

static void
wb_numbers_view_map (GtkWidget *widget)
{
  GTK_WIDGET_CLASS (wb_numbers_view_parent_class)->map (widget);
  ask_effects (WB_NUMBERS_VIEW (widget));
}

static void
wb_numbers_view_dispose (GObject *object)
{
  WbNumbersView *self = WB_NUMBERS_VIEW (object);

  stop (self);
  g_clear_pointer (&self->answer, wb_craft_answer_unref);
  g_clear_pointer (&self->scrolled, gtk_widget_unparent);
  G_OBJECT_CLASS (wb_numbers_view_parent_class)->dispose (object);
}

static void
wb_numbers_view_class_init (WbNumbersViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->get_property = wb_numbers_view_get_property;
  G_OBJECT_CLASS (klass)->dispose = wb_numbers_view_dispose;
  widget_class->map = wb_numbers_view_map;
  properties[PROP_READY] = g_param_spec_boolean ("ready", NULL, NULL, TRUE, G_PARAM_READABLE | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (G_OBJECT_CLASS (klass), N_PROPS, properties);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "numbersview");
}

static GtkWidget *
choice_new (WbNumbersView *self)
{
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);

  for (guint i = 0; i < G_N_ELEMENTS (offered); i++)
    gtk_string_list_append (names, _(wb_figure_get_label (offered[i])));
  self->figure = GTK_DROP_DOWN (gtk_drop_down_new (G_LIST_MODEL (g_steal_pointer (&names)), NULL));
  wb_accessible_name_drop_down (self->figure, _("Figure whose effects are shown"));
  wb_choice_list_fit (self->figure, 24);
  g_signal_connect_swapped (self->figure, "notify::selected", G_CALLBACK (on_figure_cb), self);
  gtk_box_append (GTK_BOX (row), g_object_new (GTK_TYPE_LABEL, "label", _("Effects on"), "css-classes", (const char *[]) { "heading", NULL }, NULL));
  gtk_box_append (GTK_BOX (row), GTK_WIDGET (self->figure));
  return row;
}

static void
wb_numbers_view_init (WbNumbersView *self)
{
  GtkWidget *all = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);

  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  self->effects = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_box_append (GTK_BOX (all), self->box);
  gtk_box_append (GTK_BOX (all), choice_new (self));
  gtk_box_append (GTK_BOX (all), self->effects);
  self->scrolled = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (self->scrolled), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (self->scrolled), all);
  /* A bar above the text would hide its last letters. */
  gtk_scrolled_window_set_overlay_scrolling (GTK_SCROLLED_WINDOW (self->scrolled), FALSE);
  gtk_widget_set_parent (self->scrolled, GTK_WIDGET (self));
}

GtkWidget *
wb_numbers_view_new (void)
{
  return g_object_new (WB_TYPE_NUMBERS_VIEW, NULL);
}

static gint64
get_id (WbCraftAnswer *answer)
{
  return answer != NULL ? answer->data->experiment->record.id : 0;
}

void
wb_numbers_view_set (WbNumbersView *self,
                     WbCraftAnswer *answer,
                     guint          group)
{
  const WbCraftGroup *of;

  g_return_if_fail (WB_IS_NUMBERS_VIEW (self));

  stop (self);
  /* Others are read from their beginning; the same, worked out anew, stay where they are read. */
  if (get_id (answer) != get_id (self->answer) || group != self->group)
    gtk_adjustment_set_value (gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (self->scrolled)), 0.0);
  if (answer != NULL)
    wb_craft_answer_ref (answer);
  g_clear_pointer (&self->answer, wb_craft_answer_unref);
  self->answer = answer;
  self->group = group;
  clear (self->box);
  clear (self->effects);
  of = answer != NULL ? get_group (self) : NULL;
  if (of == NULL)
    return;
  add_scores (self, of);
  add_draws (self);
  add_ranks (self, of);
  add_parts (self, of);
  add_estimates (self, of);
  ask_effects (self);
}

gboolean
wb_numbers_view_get_ready (WbNumbersView *self)
{
  g_return_val_if_fail (WB_IS_NUMBERS_VIEW (self), FALSE);
  return self->cancellable == NULL;
}
