/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-advice-strip.h"

#include "wb-app-advice.h"
#include "wb-badge.h"
#include "wb-focus-walk.h"
#include "wb-grey.h"
#include "wb-plan-beginning.h"
#include "wb-problem.h"
#include "wb-sample-dialog.h"

#include <glib/gi18n.h>
#include <inttypes.h>

struct _WbAdviceStrip
{
  GtkWidget       parent_instance;

  /* children */
  GtkWidget      *expander;
  GtkLabel       *text;
  GtkWidget      *rows;

  /* owned */
  WbDesk         *desk;
  WbCraftAnswer  *answer;
  WbCraftAdvice  *advice;       /* NULL: not worked out yet */
  GCancellable   *cancellable;

  /* state */
  guint           group;
};

G_DEFINE_FINAL_TYPE (WbAdviceStrip, wb_advice_strip, GTK_TYPE_WIDGET)

static GtkWidget *
text_new (const char *text,
          const char *style)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", text, "xalign", 0.0, "wrap", TRUE, "wrap-mode", PANGO_WRAP_WORD_CHAR, NULL);

  if (style != NULL)
    gtk_widget_add_css_class (label, style);
  return label;
}

/* ---- Rows ---- */

static WbBadgeKind
badge_of (const WbCraftAdvised *advised)
{
  /* what burns for the last time, or rests afterwards, is no green light for more */
  if (advised->row == WB_CRAFT_ROW_BURNS_NOW && advised->running != WB_CRAFT_RUNNING_OPEN)
    return WB_BADGE_NOTE;
  switch (advised->row)
    {
    case WB_CRAFT_ROW_LIGHT:
    case WB_CRAFT_ROW_BURNS_NOW:
    case WB_CRAFT_ROW_BURN_DOWN:
    case WB_CRAFT_ROW_BEST:
      return WB_BADGE_GOOD;
    case WB_CRAFT_ROW_CROSSED:
    case WB_CRAFT_ROW_CANNOT_WIN:
    case WB_CRAFT_ROW_NOT_ENOUGH:
      return WB_BADGE_STOP;
    case WB_CRAFT_ROW_FINISHED:
    case WB_CRAFT_ROW_LEFT_OUT:
    case WB_CRAFT_ROW_BURNT_DOWN:
    case WB_CRAFT_ROW_RESTS:
    case WB_CRAFT_ROW_POUR_MORE:
    case WB_CRAFT_ROW_NOT_NEEDED:
    case WB_CRAFT_ROW_LATER:
    case WB_CRAFT_ROW_COOLS:
    case WB_CRAFT_ROW_CURES:
    case WB_CRAFT_ROW_POUR_FIRST:
    case WB_CRAFT_N_ROWS:
    default:
      return WB_BADGE_NOTE;
    }
}

static void
set_badge (GtkWidget            *badge,
           const WbCraftAdvised *advised)
{
  g_autofree char *words = wb_craft_advised_dup_row_words (advised);

  wb_badge_set (WB_BADGE (badge), badge_of (advised), words);
}

static void
on_sign_clicked_cb (GtkButton     *button,
                    WbAdviceStrip *self)
{
  guint sample = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (button), "sample"));
  guint burn = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (button), "burn"));

  if (self->answer == NULL || self->desk == NULL)
    return;
  gtk_window_present (GTK_WINDOW (wb_sample_dialog_new (GTK_WIDGET (self), self->desk, self->answer->data, sample,
                                                        wb_dataset_get_burn (self->answer->data, burn)->record.id)));
}

/* A button to the readings of the burn that says so. */
static GtkWidget *
sign_new (WbAdviceStrip     *self,
          const WbCraftSign *sign)
{
  g_autofree char *words = sign->speaks ? g_strdup (sign->text) : g_strdup_printf (_("Seen, but no reason yet: %s"), sign->text);
  g_autofree char *shown = g_strdup_printf ("%s ›", words);
  GtkWidget *button = gtk_button_new ();

  gtk_button_set_child (GTK_BUTTON (button), text_new (shown, "hint"));
  gtk_widget_add_css_class (button, "flat");
  gtk_widget_add_css_class (button, "signlink");
  gtk_widget_set_halign (button, GTK_ALIGN_START);
  gtk_widget_set_tooltip_text (button, _("Show the readings of that burn"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, words, -1);
  g_object_set_data (G_OBJECT (button), "sample", GUINT_TO_POINTER (sign->sample));
  g_object_set_data (G_OBJECT (button), "burn", GUINT_TO_POINTER (sign->burn));
  g_signal_connect_object (button, "clicked", G_CALLBACK (on_sign_clicked_cb), self, 0);
  return button;
}

/* Takes the part; an empty one is left out. */
static void
take_part (GString *line,
           char    *part)
{
  if (*part != '\0')
    g_string_append_printf (line, "%s%s", line->len > 0 ? " · " : "", part);
  g_free (part);
}

/* "5 of the next 10 burns · 2 candles may be lit · 1 to pour · carry on" */
static char *
dup_line (const WbCraftAdvised *advised)
{
  GString *line = g_string_new (NULL);
  guint ready = advised->burn_on > 0 ? advised->candles.ready : 0, wait = advised->burn_on - ready;

  take_part (line, wb_craft_advised_dup_share_words (advised));
  if (ready > 0)
    take_part (line, g_strdup_printf (ngettext ("%u candle may be lit", "%u candles may be lit", ready), ready));
  if (wait > 0)
    take_part (line, g_strdup_printf (ngettext ("%u candle to burn on later", "%u candles to burn on later", wait), wait));
  if (advised->row == WB_CRAFT_ROW_POUR_FIRST)
    take_part (line, g_strdup_printf (ngettext ("%u planned", "%u planned", advised->candles.planned), advised->candles.planned));
  if (advised->pour > 0)
    take_part (line, g_strdup_printf (ngettext ("%u more to pour", "%u more to pour", advised->pour), advised->pour));
  take_part (line, wb_craft_advised_dup_size_words (advised));
  return g_string_free (line, FALSE);
}

static GtkWidget *
row_new (WbAdviceStrip        *self,
         const WbCraftAdvised *advised)
{
  g_autofree char *wick = wb_dataset_dup_wick_name (self->answer->data, advised->cell), *line = dup_line (advised);
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2), *head = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *badge = wb_badge_new (WB_BADGE_PLAIN, NULL), *words = text_new (line, NULL);

  set_badge (badge, advised);
  gtk_widget_set_hexpand (words, TRUE);
  gtk_box_append (GTK_BOX (head), text_new (wick, "heading"));
  gtk_box_append (GTK_BOX (head), badge);
  gtk_box_append (GTK_BOX (head), words);
  gtk_box_append (GTK_BOX (row), head);
  if (advised->why != NULL)
    gtk_box_append (GTK_BOX (row), text_new (advised->why, "hint"));
  if (advised->why_share != NULL)
    gtk_box_append (GTK_BOX (row), text_new (advised->why_share, "hint"));
  for (guint i = 0; i < advised->reasons->len; i++)
    gtk_box_append (GTK_BOX (row), text_new (g_ptr_array_index (advised->reasons, i), "hint"));
  for (guint i = 0; i < advised->signs->len; i++)
    gtk_box_append (GTK_BOX (row), sign_new (self, g_ptr_array_index (advised->signs, i)));
  gtk_widget_add_css_class (row, "rankrow");
  return row;
}

/* The readings on which the size that the head calls right rests. */
static GtkWidget *
pools_new (const char *pools)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);

  gtk_box_append (GTK_BOX (row), text_new (pools, "hint"));
  gtk_widget_add_css_class (row, "rankrow");
  return row;
}

/* What the first still lacks of a recommendation. */
static GtkWidget *
missing_new (WbAdviceStrip            *self,
             const WbCraftAdviceGroup *group)
{
  g_autofree char *wick = wb_dataset_dup_wick_name (self->answer->data, group->cells[group->leader].cell);
  g_autofree char *title = g_strdup_printf (_("Before %s can be recommended"), wick);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);

  gtk_box_append (GTK_BOX (box), text_new (title, "heading"));
  for (guint i = 0; i < group->missing->len; i++)
    gtk_box_append (GTK_BOX (box), text_new (g_ptr_array_index (group->missing, i), "hint"));
  gtk_widget_add_css_class (box, "rankrow");
  return box;
}

/* ---- Further samples ---- */

/* WB_PLAN_SAMPLES_FORMAT: of those that are to be poured; one number serves all, the largest. Floating; NULL: none is advised. */
static GVariant *
pack_samples (WbAdviceStrip            *self,
              const WbCraftAdviceGroup *group)
{
  GVariantBuilder cells;
  guint most = 0;

  g_variant_builder_init (&cells, G_VARIANT_TYPE ("ax"));
  for (guint i = 0; i < group->n_cells; i++)
    if (group->cells[i].pour > 0)
      {
        g_variant_builder_add (&cells, "x", wb_dataset_get_cell (self->answer->data, group->cells[i].cell)->record.id);
        most = MAX (most, group->cells[i].pour);
      }
  if (most == 0)
    {
      g_variant_builder_clear (&cells);
      return NULL;
    }
  return g_variant_new (WB_PLAN_SAMPLES_FORMAT, self->answer->data->experiment->record.id, &cells, most);
}

static void
on_plan_clicked_cb (WbAdviceStrip *self)
{
  GtkWidget *window = GTK_WIDGET (gtk_widget_get_root (GTK_WIDGET (self)));
  g_autoptr (GVariant) samples = NULL;

  if (self->advice == NULL || self->group >= self->advice->n_groups)
    return;
  samples = pack_samples (self, &self->advice->groups[self->group]);
  if (samples == NULL)
    return;
  g_variant_ref_sink (samples);
  gtk_widget_activate_action (window, "win.new-experiment", NULL);
  /* the page in front is the plan's now */
  gtk_widget_activate_action_variant (window, "page.samples", samples);
}

/* A button to the plan of what is to be poured, grey where it could not be saved; NULL: nothing is to be poured. */
static GtkWidget *
plan_new (WbAdviceStrip            *self,
          const WbCraftAdviceGroup *group)
{
  g_autoptr (GVariant) samples = pack_samples (self, group);
  GtkWidget *button;

  if (samples == NULL || self->desk == NULL)
    return NULL;
  g_variant_ref_sink (samples);
  button = gtk_button_new_with_label (_("Plan these samples"));
  gtk_widget_set_tooltip_text (button, _("Begin a plan that repeats this experiment for the wicks of which more is to be poured"));
  gtk_widget_set_halign (button, GTK_ALIGN_START);
  gtk_widget_add_css_class (button, "plansamples");
  if (wb_app_notebook_get_read_only (wb_desk_get_notebook (self->desk)))
    wb_grey_set (button, _("This notebook is open for reading only: nothing can be planned in it"));
  g_signal_connect_object (button, "clicked", G_CALLBACK (on_plan_clicked_cb), self, G_CONNECT_SWAPPED);
  return button;
}

static void
clear_rows (WbAdviceStrip *self)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (self->rows)) != NULL)
    gtk_box_remove (GTK_BOX (self->rows), child);
}

static void
set_text (WbAdviceStrip *self,
          const char    *answer)
{
  /* Translators: a heading before what follows it in one line. */
  g_autofree char *text = g_markup_printf_escaped ("<b>%s</b> %s", _("What to burn next:"), answer);

  gtk_label_set_markup (self->text, text);
}

static void
update (WbAdviceStrip *self)
{
  const WbCraftAdviceGroup *group = self->advice != NULL && self->group < self->advice->n_groups ? &self->advice->groups[self->group] : NULL;

  GtkWidget *plan = group != NULL ? plan_new (self, group) : NULL;

  clear_rows (self);
  gtk_widget_set_visible (GTK_WIDGET (self), group != NULL);
  set_text (self, group != NULL ? group->answer : "");
  if (group != NULL && group->pools != NULL)
    gtk_box_append (GTK_BOX (self->rows), pools_new (group->pools));
  /* of what is finished its ranking says all that a row could */
  for (guint i = 0; group != NULL && !group->finished && i < group->n_cells; i++)
    gtk_box_append (GTK_BOX (self->rows), row_new (self, &group->cells[i]));
  if (group != NULL && !group->finished && group->leader != G_MAXUINT && group->missing->len > 0)
    gtk_box_append (GTK_BOX (self->rows), missing_new (self, group));
  if (plan != NULL)
    gtk_box_append (GTK_BOX (self->rows), plan);
}

/* ---- Working it out ---- */

static void
on_advice_cb (GObject      *source,
              GAsyncResult *result,
              gpointer      user)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbCraftAdvice) advice = wb_app_advice_finish (WB_APP_NOTEBOOK (source), result, &error);
  WbAdviceStrip *self = user;

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  g_clear_object (&self->cancellable);
  if (advice == NULL)
    {
      wb_problem_show (GTK_WIDGET (self), _("What to burn next could not be worked out"), error);
      return;
    }
  self->advice = g_steal_pointer (&advice);
  update (self);
}

static void
stop (WbAdviceStrip *self)
{
  if (self->cancellable != NULL)
    g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
}

void
wb_advice_strip_show (WbAdviceStrip *self,
                      WbDesk        *desk,
                      WbCraftAnswer *answer,
                      guint          group)
{
  gboolean same;

  g_return_if_fail (WB_IS_ADVICE_STRIP (self));

  same = answer != NULL && answer == self->answer && desk == self->desk;
  self->group = group;
  /* another vessel of the same answer: it is worked out already, or on its way */
  if (same)
    {
      if (self->advice != NULL)
        update (self);
      return;
    }
  stop (self);
  if (answer != NULL)
    wb_craft_answer_ref (answer);
  g_clear_pointer (&self->answer, wb_craft_answer_unref);
  g_clear_pointer (&self->advice, wb_craft_advice_free);
  self->answer = answer;
  g_set_object (&self->desk, desk);
  update (self);
  if (answer == NULL || desk == NULL)
    return;
  self->cancellable = g_cancellable_new ();
  wb_app_advice_async (wb_desk_get_notebook (desk), answer, self->cancellable, on_advice_cb, self);
}

const char *
wb_advice_strip_get_text (WbAdviceStrip *self)
{
  g_return_val_if_fail (WB_IS_ADVICE_STRIP (self), "");
  return self->advice != NULL ? gtk_label_get_text (self->text) : "";
}

gboolean
wb_advice_strip_get_unfolded (WbAdviceStrip *self)
{
  g_return_val_if_fail (WB_IS_ADVICE_STRIP (self), FALSE);
  return gtk_expander_get_expanded (GTK_EXPANDER (self->expander));
}

void
wb_advice_strip_set_unfolded (WbAdviceStrip *self,
                              gboolean       unfolded)
{
  g_return_if_fail (WB_IS_ADVICE_STRIP (self));
  gtk_expander_set_expanded (GTK_EXPANDER (self->expander), unfolded);
}

/* ---- Class ---- */

/*
 * An expander of GTK 4.8 says that it is as high in every width: of a title or of rows that go on in a second line it would get the
 * height of one. The box that it holds knows better, and the expander adds nothing to it.
 */
static void
wb_advice_strip_measure (GtkWidget      *widget,
                         GtkOrientation  orientation,
                         int             for_size,
                         int            *minimum,
                         int            *natural,
                         int            *minimum_baseline,
                         int            *natural_baseline)
{
  gtk_widget_measure (gtk_widget_get_first_child (WB_ADVICE_STRIP (widget)->expander), orientation, for_size, minimum, natural, NULL, NULL);
}

static void
wb_advice_strip_size_allocate (GtkWidget *widget,
                               int        width,
                               int        height,
                               int        baseline)
{
  gtk_widget_allocate (WB_ADVICE_STRIP (widget)->expander, width, height, baseline, NULL);
}

static GtkSizeRequestMode
wb_advice_strip_get_request_mode (GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
wb_advice_strip_dispose (GObject *object)
{
  WbAdviceStrip *self = WB_ADVICE_STRIP (object);

  stop (self);
  g_clear_pointer (&self->expander, gtk_widget_unparent);
  g_clear_pointer (&self->advice, wb_craft_advice_free);
  g_clear_pointer (&self->answer, wb_craft_answer_unref);
  g_clear_object (&self->desk);
  G_OBJECT_CLASS (wb_advice_strip_parent_class)->dispose (object);
}

static void
wb_advice_strip_class_init (WbAdviceStripClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_advice_strip_dispose;
  widget_class->measure = wb_advice_strip_measure;
  widget_class->size_allocate = wb_advice_strip_size_allocate;
  widget_class->get_request_mode = wb_advice_strip_get_request_mode;
  gtk_widget_class_set_css_name (widget_class, "advicestrip");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
}

static void
wb_advice_strip_init (WbAdviceStrip *self)
{
  self->text = GTK_LABEL (text_new ("", NULL));
  self->rows = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  gtk_widget_set_hexpand (GTK_WIDGET (self->text), TRUE);
  self->expander = gtk_expander_new (NULL);
  gtk_expander_set_label_widget (GTK_EXPANDER (self->expander), GTK_WIDGET (self->text));
  gtk_expander_set_child (GTK_EXPANDER (self->expander), self->rows);
  wb_focus_walk_fold (GTK_EXPANDER (self->expander));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->expander), GTK_ACCESSIBLE_PROPERTY_LABEL, _("What to burn next"), -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, _("What to burn next"), -1);
  gtk_widget_set_parent (self->expander, GTK_WIDGET (self));
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
}
