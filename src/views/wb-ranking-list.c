/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-ranking-list.h"

#include "wb-badge.h"
#include "wb-craft-told.h"
#include "wb-figure-words.h"
#include "wb-focus-walk.h"
#include "wb-plot.h"
#include "wb-swatch.h"

#include <glib/gi18n.h>
#include <math.h>

#define SHOWN_AT_FIRST 3
/* In so short a list there is room for all the reasons: they stand there without being asked for. */
#define UNFOLDED_MOST 4

struct _WbRankingList
{
  GtkWidget      parent_instance;

  /* children */
  GtkWidget     *box;

  /* owned */
  WbCraftAnswer *answer;
  GHashTable    *shown;   /* cell index + 1 */
  GPtrArray     *switches; /* GtkCheckButton, borrowed from the rows */

  /* state */
  guint          group;
  gboolean       filling;
};

G_DEFINE_FINAL_TYPE (WbRankingList, wb_ranking_list, GTK_TYPE_WIDGET)

enum { SHOWN_CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

static const WbCraftGroup *
get_group (WbRankingList *self)
{
  if (self->answer == NULL || self->group >= self->answer->ranking->n_groups)
    return NULL;
  return &self->answer->ranking->groups[self->group];
}

static WbBadgeKind
badge_of (const WbCraftRanked *ranked)
{
  switch (ranked->verdict)
    {
    case WB_CRAFT_VERDICT_RECOMMENDED:
      /* no tick for what only nothing burnt beats */
      return wb_craft_ranked_get_told (ranked) == WB_CRAFT_TOLD_RECOMMENDED ? WB_BADGE_GOOD : WB_BADGE_NOTE;
    case WB_CRAFT_VERDICT_REJECTED:
      return WB_BADGE_STOP;
    case WB_CRAFT_VERDICT_CANDIDATE:
      return WB_BADGE_NOTE;
    case WB_CRAFT_VERDICT_TOO_LITTLE_DATA:
    default:
      return WB_BADGE_ASK;
    }
}

static GtkWidget *
text_new (const char *text,
          const char *style)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", text, "xalign", 0.0, "wrap", TRUE, "wrap-mode", PANGO_WRAP_WORD_CHAR,
                                   "max-width-chars", 40, NULL);

  if (style != NULL)
    gtk_widget_add_css_class (label, style);
  return label;
}

static void
on_switch_toggled_cb (GtkCheckButton *button,
                      WbRankingList  *self)
{
  gpointer key = g_object_get_data (G_OBJECT (button), "cell");

  if (self->filling)
    return;
  if (gtk_check_button_get_active (button))
    g_hash_table_add (self->shown, key);
  else
    g_hash_table_remove (self->shown, key);
  g_signal_emit (self, signals[SHOWN_CHANGED], 0);
}

/* The interval of the score stands in the numbers. */
static char *
dup_numbers (const WbCraftRanked *ranked)
{
  g_autofree char *best = wb_figure_words_dup_chance (ranked->p_best);
  g_autofree char *score = wb_figure_words_dup_share (ranked->score.value);

  return isfinite (ranked->score.value) ? g_strdup_printf (_("best: %s · score %s of 1"), best, score)
                                        : g_strdup_printf (_("best: %s · no score"), best);
}

/* Why it stands there, below the row's two lines. */
static GtkWidget *
reasons_new (const WbCraftRanked *ranked,
             gboolean             unfolded)
{
  GtkWidget *expander = gtk_expander_new (_("Why"));
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3);
  g_autoptr (GPtrArray) sentences = wb_craft_ranked_dup_sentences (ranked);

  for (guint i = 0; i < sentences->len; i++)
    gtk_box_append (GTK_BOX (box), text_new (g_ptr_array_index (sentences, i), "hint"));
  gtk_widget_set_margin_start (box, 14);
  gtk_expander_set_child (GTK_EXPANDER (expander), box);
  gtk_expander_set_expanded (GTK_EXPANDER (expander), unfolded);
  wb_focus_walk_fold (GTK_EXPANDER (expander));
  gtk_accessible_update_property (GTK_ACCESSIBLE (expander), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Why"), -1);
  return expander;
}

static GtkWidget *
row_new (WbRankingList       *self,
         const WbCraftRanked *ranked)
{
  const WbDataset *data = self->answer->data;
  const WbCraftGroup *group = get_group (self);
  g_autofree char *wick = group->by_vessel && group->by_scent ? wb_dataset_dup_wick_name (data, ranked->cell)
                                                              : wb_dataset_dup_cell_name (data, ranked->cell);
  g_autofree char *rank = g_strdup_printf ("%u", ranked->rank);
  g_autofree char *numbers = dup_numbers (ranked);
  g_autofree char *label = g_strdup_printf (_("Show %s in the chart"), wick);
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *button = gtk_check_button_new ();
  GtkWidget *swatch = wb_swatch_new (wb_plot_get_series (data, ranked->cell));
  GtkWidget *name = g_object_new (GTK_TYPE_LABEL, "label", wick, "xalign", 0.0, "hexpand", TRUE, "ellipsize", PANGO_ELLIPSIZE_MIDDLE,
                                  "tooltip-text", wick, NULL);

  g_object_set_data (G_OBJECT (button), "cell", GUINT_TO_POINTER (ranked->cell + 1));
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  gtk_widget_set_tooltip_text (button, label);
  gtk_check_button_set_active (GTK_CHECK_BUTTON (button), g_hash_table_contains (self->shown, GUINT_TO_POINTER (ranked->cell + 1)));
  g_signal_connect (button, "toggled", G_CALLBACK (on_switch_toggled_cb), self);
  g_ptr_array_add (self->switches, button);
  gtk_widget_add_css_class (name, "heading");

  gtk_box_append (GTK_BOX (line), text_new (rank, "numeric"));
  gtk_box_append (GTK_BOX (line), button);
  gtk_box_append (GTK_BOX (line), swatch);
  gtk_box_append (GTK_BOX (line), name);
  gtk_box_append (GTK_BOX (line), wb_badge_new (badge_of (ranked), wb_craft_ranked_get_verdict_label (ranked)));
  gtk_box_append (GTK_BOX (row), line);
  gtk_box_append (GTK_BOX (row), text_new (numbers, "dim-label"));
  gtk_box_append (GTK_BOX (row), text_new (wb_craft_told_get_meaning (wb_craft_ranked_get_told (ranked)), "dim-label"));
  if (ranked->reasons->len > 0)
    gtk_box_append (GTK_BOX (row), reasons_new (ranked, group->n_cells <= UNFOLDED_MOST));
  gtk_widget_add_css_class (row, "rankrow");
  return row;
}

/* How far the weights may move, below all rows: it is said of the group. NULL: nothing leads. */
static GtkWidget *
weights_new (WbRankingList      *self,
             const WbCraftGroup *group)
{
  g_autoptr (GPtrArray) sentences = wb_craft_group_dup_weights (self->answer->data, group);
  GtkWidget *box;

  if (sentences->len == 0)
    return NULL;
  box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3);
  gtk_box_append (GTK_BOX (box), text_new (_("If the weights were others"), "heading"));
  for (guint i = 0; i < sentences->len; i++)
    gtk_box_append (GTK_BOX (box), text_new (g_ptr_array_index (sentences, i), "hint"));
  gtk_widget_add_css_class (box, "rankrow");
  return box;
}

static void
clear_rows (WbRankingList *self)
{
  GtkWidget *child;

  g_ptr_array_set_size (self->switches, 0);
  while ((child = gtk_widget_get_first_child (self->box)) != NULL)
    gtk_box_remove (GTK_BOX (self->box), child);
}

static gboolean
any_shown (WbRankingList      *self,
           const WbCraftGroup *group)
{
  for (guint i = 0; i < group->n_cells; i++)
    if (g_hash_table_contains (self->shown, GUINT_TO_POINTER (group->cells[i].cell + 1)))
      return TRUE;
  return FALSE;
}

static void
wb_ranking_list_dispose (GObject *object)
{
  WbRankingList *self = WB_RANKING_LIST (object);

  g_clear_pointer (&self->box, gtk_widget_unparent);
  g_clear_pointer (&self->answer, wb_craft_answer_unref);
  G_OBJECT_CLASS (wb_ranking_list_parent_class)->dispose (object);
}

static void
wb_ranking_list_finalize (GObject *object)
{
  WbRankingList *self = WB_RANKING_LIST (object);

  g_hash_table_unref (self->shown);
  g_ptr_array_unref (self->switches);
  G_OBJECT_CLASS (wb_ranking_list_parent_class)->finalize (object);
}

static void
wb_ranking_list_class_init (WbRankingListClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_ranking_list_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_ranking_list_finalize;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "rankinglist");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
  signals[SHOWN_CHANGED] = g_signal_new ("shown-changed", WB_TYPE_RANKING_LIST, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
wb_ranking_list_init (WbRankingList *self)
{
  self->shown = g_hash_table_new (NULL, NULL);
  self->switches = g_ptr_array_new ();
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
}

GtkWidget *
wb_ranking_list_new (void)
{
  return g_object_new (WB_TYPE_RANKING_LIST, NULL);
}

void
wb_ranking_list_set_answer (WbRankingList *self,
                            WbCraftAnswer *answer,
                            guint          group)
{
  const WbCraftGroup *of;
  GtkWidget *weights;

  g_return_if_fail (WB_IS_RANKING_LIST (self));

  if (answer != NULL)
    wb_craft_answer_ref (answer);
  g_clear_pointer (&self->answer, wb_craft_answer_unref);
  self->answer = answer;
  self->group = group;
  clear_rows (self);
  /* Another experiment's answer comes after none: what was switched on were cells of the one before. */
  if (answer == NULL)
    g_hash_table_remove_all (self->shown);
  of = get_group (self);
  if (of == NULL)
    return;
  if (!any_shown (self, of))
    for (guint i = 0; i < MIN (of->n_cells, SHOWN_AT_FIRST); i++)
      g_hash_table_add (self->shown, GUINT_TO_POINTER (of->cells[i].cell + 1));
  self->filling = TRUE;
  for (guint i = 0; i < of->n_cells; i++)
    gtk_box_append (GTK_BOX (self->box), row_new (self, &of->cells[i]));
  self->filling = FALSE;
  weights = weights_new (self, of);
  if (weights != NULL)
    gtk_box_append (GTK_BOX (self->box), weights);
}

GArray *
wb_ranking_list_dup_shown (WbRankingList *self)
{
  GArray *shown = g_array_new (FALSE, FALSE, sizeof (guint));
  const WbCraftGroup *group = get_group (self);

  for (guint i = 0; group != NULL && i < group->n_cells; i++)
    if (g_hash_table_contains (self->shown, GUINT_TO_POINTER (group->cells[i].cell + 1)))
      g_array_append_val (shown, group->cells[i].cell);
  return shown;
}
