/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-hazard-bar.h"

#include <glib/gi18n.h>

/*
 * CSS node: hazardbar, with the class stop where a limit is crossed. An alert
 * for assistive technology. GTK 4.8 cannot announce: it appears, with words,
 * and its first button can take the keyboard.
 */

typedef struct
{
  gint64             sample;
  WbLimitKind        kind;
  WbCraftLimitLevel  level;
  char              *text;   /* with the sample's code */
  char              *advice;
  gboolean           answered;
  gboolean           alight; /* as it was when told: only then it can be put out */
} Hazard;

struct _WbHazardBar
{
  GtkWidget  parent_instance;

  /* children */
  GtkWidget *box;
  GtkWidget *shape;
  GtkWidget *text;
  GtkWidget *advice;
  GtkWidget *more;
  GtkWidget *out;
  GtkWidget *seen;

  /* owned */
  GPtrArray *hazards; /* Hazard, told of readings not yet superseded */
};

G_DEFINE_FINAL_TYPE (WbHazardBar, wb_hazard_bar, GTK_TYPE_WIDGET)

enum { ANSWERED, N_SIGNALS };
static guint signals[N_SIGNALS];

static void
hazard_free (gpointer data)
{
  Hazard *hazard = data;

  g_free (hazard->text);
  g_free (hazard->advice);
  g_free (hazard);
}

/* Fire before glass before the rest; among equals the one told first. Smaller is more urgent. */
static int
urgency (const Hazard *hazard)
{
  if (hazard->kind == WB_LIMIT_SECONDARY_IGNITION)
    return 0;
  if (hazard->kind == WB_LIMIT_VESSEL_CRACK || hazard->kind == WB_LIMIT_TIPPED)
    return 1;
  return hazard->level == WB_CRAFT_OVER ? 2 : 3;
}

static Hazard *
get_first_open (WbHazardBar *self)
{
  Hazard *first = NULL;

  for (guint i = 0; i < self->hazards->len; i++)
    {
      Hazard *hazard = g_ptr_array_index (self->hazards, i);

      if (!hazard->answered && (first == NULL || urgency (hazard) < urgency (first)))
        first = hazard;
    }
  return first;
}

static void
update (WbHazardBar *self)
{
  const Hazard *hazard = get_first_open (self);
  guint others = wb_hazard_bar_get_n_open (self);
  g_autofree char *more = NULL;
  gboolean over;

  gtk_widget_set_visible (GTK_WIDGET (self), hazard != NULL);
  if (hazard == NULL)
    return;
  over = hazard->level == WB_CRAFT_OVER;
  if (over)
    gtk_widget_add_css_class (GTK_WIDGET (self), "stop");
  else
    gtk_widget_remove_css_class (GTK_WIDGET (self), "stop");
  gtk_label_set_text (GTK_LABEL (self->shape), over ? "■" : "▲");
  gtk_label_set_text (GTK_LABEL (self->text), hazard->text);
  gtk_label_set_text (GTK_LABEL (self->advice), hazard->advice);
  others -= 1;
  more = others > 0 ? g_strdup_printf (ngettext ("%u more to answer", "%u more to answer", others), others) : g_strdup ("");
  gtk_label_set_text (GTK_LABEL (self->more), more);
  gtk_widget_set_visible (self->more, others > 0);
  gtk_widget_set_visible (self->out, hazard->alight && over);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, hazard->text,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, hazard->advice, -1);
}

static void
on_out_clicked_cb (WbHazardBar *self)
{
  wb_hazard_bar_answer (self, TRUE);
}

static void
on_seen_clicked_cb (WbHazardBar *self)
{
  wb_hazard_bar_answer (self, FALSE);
}

static void
wb_hazard_bar_dispose (GObject *object)
{
  WbHazardBar *self = WB_HAZARD_BAR (object);

  g_clear_pointer (&self->box, gtk_widget_unparent);
  G_OBJECT_CLASS (wb_hazard_bar_parent_class)->dispose (object);
}

static void
wb_hazard_bar_finalize (GObject *object)
{
  g_ptr_array_unref (WB_HAZARD_BAR (object)->hazards);
  G_OBJECT_CLASS (wb_hazard_bar_parent_class)->finalize (object);
}

static void
wb_hazard_bar_class_init (WbHazardBarClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_hazard_bar_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_hazard_bar_finalize;
  signals[ANSWERED] = g_signal_new ("answered", WB_TYPE_HAZARD_BAR, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 2,
                                    G_TYPE_INT64, G_TYPE_BOOLEAN);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "hazardbar");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_ALERT);
}

static GtkWidget *
line_new (const char *style)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "xalign", 0.0, "wrap", TRUE, "wrap-mode", PANGO_WRAP_WORD_CHAR, NULL);

  gtk_widget_add_css_class (label, style);
  return label;
}

static GtkWidget *
button_new (const char *label,
            GCallback   clicked,
            gpointer    user)
{
  GtkWidget *button = gtk_button_new_with_label (label);

  gtk_widget_set_valign (button, GTK_ALIGN_CENTER);
  g_signal_connect_swapped (button, "clicked", clicked, user);
  return button;
}

static void
wb_hazard_bar_init (WbHazardBar *self)
{
  GtkWidget *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);

  self->hazards = g_ptr_array_new_with_free_func (hazard_free);
  self->box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 10);
  self->shape = line_new ("shape");
  self->text = line_new ("heading");
  self->advice = line_new ("advice");
  self->more = line_new ("hint");
  gtk_widget_set_hexpand (words, TRUE);
  gtk_box_append (GTK_BOX (words), self->text);
  gtk_box_append (GTK_BOX (words), self->advice);
  gtk_box_append (GTK_BOX (words), self->more);
  self->out = button_new (_("It is out now"), G_CALLBACK (on_out_clicked_cb), self);
  self->seen = button_new (_("I have seen to it"), G_CALLBACK (on_seen_clicked_cb), self);
  gtk_box_append (GTK_BOX (self->box), self->shape);
  gtk_box_append (GTK_BOX (self->box), words);
  gtk_box_append (GTK_BOX (self->box), self->out);
  gtk_box_append (GTK_BOX (self->box), self->seen);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
}

GtkWidget *
wb_hazard_bar_new (void)
{
  return g_object_new (WB_TYPE_HAZARD_BAR, NULL);
}

/* What was told of that limit; NULL: nothing. */
static Hazard *
find (WbHazardBar *self,
      gint64       sample,
      WbLimitKind  kind)
{
  for (guint i = 0; i < self->hazards->len; i++)
    {
      Hazard *hazard = g_ptr_array_index (self->hazards, i);

      if (hazard->sample == sample && hazard->kind == kind)
        return hazard;
    }
  return NULL;
}

static void
tell (WbHazardBar         *self,
      WbAppBenchSample    *sample,
      const WbAppBenchHit *hit)
{
  g_autofree char *text = g_strdup_printf ("%s: %s", wb_app_bench_sample_get_code (sample), hit->text);
  Hazard *told = find (self, wb_app_bench_sample_get_id (sample), hit->limit->kind);
  Hazard *hazard;

  if (told != NULL && g_str_equal (told->text, text))
    return;
  if (told != NULL)
    g_ptr_array_remove (self->hazards, told);
  hazard = g_new0 (Hazard, 1);
  hazard->sample = wb_app_bench_sample_get_id (sample);
  hazard->kind = hit->limit->kind;
  hazard->level = hit->level;
  hazard->text = g_steal_pointer (&text);
  hazard->advice = g_strdup (hit->advice);
  hazard->alight = wb_app_bench_sample_get_state (sample) == WB_APP_BENCH_ALIGHT;
  g_ptr_array_add (self->hazards, hazard);
}

void
wb_hazard_bar_look (WbHazardBar      *self,
                    WbAppBenchSample *sample,
                    const double     *values)
{
  g_autoptr (GPtrArray) hits = NULL;
  double last[WB_N_COLUMNS];

  g_return_if_fail (WB_IS_HAZARD_BAR (self));

  for (int column = 0; values == NULL && column < WB_N_COLUMNS; column++)
    last[column] = wb_app_bench_sample_get_last (sample, (WbColumn) column);
  hits = wb_app_bench_check_values (sample, values != NULL ? values : last);
  for (guint i = 0; i < hits->len; i++)
    tell (self, sample, g_ptr_array_index (hits, i));
  update (self);
}

void
wb_hazard_bar_forget (WbHazardBar *self,
                      gint64       sample)
{
  g_return_if_fail (WB_IS_HAZARD_BAR (self));
  for (guint i = self->hazards->len; i > 0; i--)
    {
      const Hazard *hazard = g_ptr_array_index (self->hazards, i - 1);

      if (hazard->sample == sample && hazard->answered)
        g_ptr_array_remove_index (self->hazards, i - 1);
    }
}

void
wb_hazard_bar_clear (WbHazardBar *self)
{
  g_return_if_fail (WB_IS_HAZARD_BAR (self));
  g_ptr_array_set_size (self->hazards, 0);
  update (self);
}

guint
wb_hazard_bar_get_n_open (WbHazardBar *self)
{
  guint n = 0;

  g_return_val_if_fail (WB_IS_HAZARD_BAR (self), 0);
  for (guint i = 0; i < self->hazards->len; i++)
    n += !((const Hazard *) g_ptr_array_index (self->hazards, i))->answered;
  return n;
}

const char *
wb_hazard_bar_get_text (WbHazardBar *self)
{
  g_return_val_if_fail (WB_IS_HAZARD_BAR (self), NULL);
  return gtk_widget_get_visible (GTK_WIDGET (self)) ? gtk_label_get_text (GTK_LABEL (self->text)) : "";
}

const char *
wb_hazard_bar_get_advice (WbHazardBar *self)
{
  g_return_val_if_fail (WB_IS_HAZARD_BAR (self), NULL);
  return gtk_widget_get_visible (GTK_WIDGET (self)) ? gtk_label_get_text (GTK_LABEL (self->advice)) : "";
}

void
wb_hazard_bar_answer (WbHazardBar *self,
                      gboolean     out)
{
  Hazard *hazard;
  gint64 sample;

  g_return_if_fail (WB_IS_HAZARD_BAR (self));
  hazard = get_first_open (self);
  if (hazard == NULL)
    return;
  sample = hazard->sample;
  hazard->answered = TRUE;
  /* A flame that is out is over no other limit of its own; what burns or leaks beside it is another matter. */
  for (guint i = 0; out && i < self->hazards->len; i++)
    {
      Hazard *other = g_ptr_array_index (self->hazards, i);

      if (other->sample == sample && urgency (other) > 1)
        other->answered = TRUE;
    }
  update (self);
  g_signal_emit (self, signals[ANSWERED], 0, sample, out);
}
