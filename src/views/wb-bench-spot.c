/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-bench-spot.h"

#include "wb-bench-words.h"
#include "wb-tooltip.h"

#include <glib/gi18n.h>

/*
 * CSS node: the button's, with the class spot. Its accessible name is the whole
 * state as a sentence; the labels inside are what eyes see of it.
 */

enum { LINE_TIME, LINE_STATE, LINE_POOL, LINE_FLAME, LINE_WALL, N_LINES };

struct _WbBenchSpot
{
  GtkToggleButton   parent_instance;

  /* children, owned by the button's box */
  GtkWidget        *code;
  GtkWidget        *top;   /* WbVesselTop */
  GtkWidget        *badge;
  GtkWidget        *lines[N_LINES];

  /* owned */
  WbAppBenchSample *sample;
  char             *spoken;

  /* state */
  gboolean          dense;
};

G_DEFINE_FINAL_TYPE (WbBenchSpot, wb_bench_spot, GTK_TYPE_TOGGLE_BUTTON)

static void
wb_bench_spot_finalize (GObject *object)
{
  WbBenchSpot *self = WB_BENCH_SPOT (object);

  g_clear_object (&self->sample);
  g_free (self->spoken);
  G_OBJECT_CLASS (wb_bench_spot_parent_class)->finalize (object);
}

static void
wb_bench_spot_class_init (WbBenchSpotClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = wb_bench_spot_finalize;
}

static GtkWidget *
line_new (const char *style)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "ellipsize", PANGO_ELLIPSIZE_END, "single-line-mode", TRUE, NULL);

  gtk_widget_add_css_class (label, style);
  gtk_widget_add_css_class (label, "numeric");
  return label;
}

static void
wb_bench_spot_init (WbBenchSpot *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 1);

  gtk_widget_add_css_class (GTK_WIDGET (self), "spot");
  gtk_widget_add_css_class (GTK_WIDGET (self), "flat");
  self->code = line_new ("heading");
  self->top = wb_vessel_top_new ();
  gtk_widget_set_halign (self->top, GTK_ALIGN_CENTER);
  self->badge = wb_badge_new (WB_BADGE_PLAIN, NULL);
  /* "overdue 1 h 12 min", "cools until 26 Nov, 21:10": the one line that says what to do is not cut. */
  wb_badge_set_lines (WB_BADGE (self->badge), 3);
  gtk_widget_set_halign (self->badge, GTK_ALIGN_CENTER);
  gtk_box_append (GTK_BOX (box), self->code);
  gtk_box_append (GTK_BOX (box), self->top);
  for (int i = 0; i < N_LINES; i++)
    {
      self->lines[i] = i == LINE_STATE ? self->badge : line_new (i == LINE_TIME ? "time" : "caption");
      gtk_box_append (GTK_BOX (box), self->lines[i]);
    }
  /* Of a candle that waits: its combination, "A4 · Quimber leaf 6 %". */
  g_object_set (self->lines[LINE_TIME],
                "single-line-mode", FALSE,
                "wrap", TRUE,
                "lines", 2,
                "justify", GTK_JUSTIFY_CENTER,
                NULL);
  gtk_button_set_child (GTK_BUTTON (self), box);
}

GtkWidget *
wb_bench_spot_new (WbAppBenchSample *sample)
{
  WbBenchSpot *self = g_object_new (WB_TYPE_BENCH_SPOT, NULL);

  self->sample = g_object_ref (sample);
  gtk_label_set_text (GTK_LABEL (self->code), wb_app_bench_sample_get_code (sample));
  gtk_actionable_set_action_target (GTK_ACTIONABLE (self), "x", wb_app_bench_sample_get_id (sample));
  gtk_actionable_set_action_name (GTK_ACTIONABLE (self), "page.choose");
  return GTK_WIDGET (self);
}

WbAppBenchSample *
wb_bench_spot_get_sample (WbBenchSpot *self)
{
  g_return_val_if_fail (WB_IS_BENCH_SPOT (self), NULL);
  return self->sample;
}

/* Takes the text. */
static void
set_line (WbBenchSpot *self,
          int          line,
          char        *text)
{
  g_autofree char *owned = text;
  GtkLabel *label = GTK_LABEL (self->lines[line]);

  gtk_widget_set_visible (self->lines[line], *text != '\0' && !(self->dense && line >= LINE_POOL));
  if (!g_str_equal (gtk_label_get_text (label), text))
    gtk_label_set_text (label, text);
}

void
wb_bench_spot_update (WbBenchSpot *self,
                      gboolean     us_units,
                      gboolean     unsaved)
{
  g_autofree char *state = NULL;
  g_autofree char *spoken = NULL;
  WbBenchMood mood;
  WbVesselSight sight;
  gboolean alight;

  g_return_if_fail (WB_IS_BENCH_SPOT (self));

  mood = wb_bench_words_get_mood (self->sample);
  alight = wb_app_bench_sample_get_state (self->sample) == WB_APP_BENCH_ALIGHT;
  state = unsaved ? g_strdup (_("not saved")) : wb_bench_words_dup_state (self->sample);
  spoken = wb_bench_words_dup_spoken (self->sample, us_units);
  wb_bench_words_get_sight (self->sample, &sight);
  wb_vessel_top_set (WB_VESSEL_TOP (self->top), &sight);
  if (g_strcmp0 (wb_badge_get_text (WB_BADGE (self->badge)), state) != 0 || unsaved)
    wb_badge_set (WB_BADGE (self->badge), unsaved ? WB_BADGE_STOP : wb_bench_words_get_badge (mood), state);
  set_line (self, LINE_TIME, alight ? wb_bench_words_dup_time (self->sample) : g_strdup (wb_app_bench_sample_get_title (self->sample)));
  set_line (self, LINE_POOL, alight ? wb_bench_words_dup_pool (self->sample, us_units) : g_strdup (""));
  set_line (self, LINE_FLAME, alight ? wb_bench_words_dup_figure (self->sample, WB_COLUMN_FLAME_MM, us_units) : g_strdup (""));
  set_line (self, LINE_WALL, alight ? wb_bench_words_dup_figure (self->sample, WB_COLUMN_VESSEL_C, us_units) : g_strdup (""));
  if (g_strcmp0 (self->spoken, spoken) == 0)
    return;
  g_free (self->spoken);
  self->spoken = g_steal_pointer (&spoken);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, self->spoken, -1);
  wb_tooltip_set (GTK_WIDGET (self), self->spoken);
}

void
wb_bench_spot_set_dense (WbBenchSpot *self,
                         gboolean     dense)
{
  g_return_if_fail (WB_IS_BENCH_SPOT (self));
  self->dense = dense;
  (dense ? gtk_widget_add_css_class : gtk_widget_remove_css_class) (GTK_WIDGET (self), "dense");
  for (int i = LINE_POOL; i < N_LINES; i++)
    gtk_widget_set_visible (self->lines[i], !dense && *gtk_label_get_text (GTK_LABEL (self->lines[i])) != '\0');
}

void
wb_bench_spot_set_scale (WbBenchSpot *self,
                         double       scale,
                         double       widest_mm)
{
  g_return_if_fail (WB_IS_BENCH_SPOT (self));
  wb_vessel_top_set_scale (WB_VESSEL_TOP (self->top), scale, widest_mm);
}

double
wb_bench_spot_get_width_mm (WbBenchSpot *self)
{
  WbVesselSight sight;

  g_return_val_if_fail (WB_IS_BENCH_SPOT (self), 0);
  wb_bench_words_get_sight (self->sample, &sight);
  return wb_vessel_sight_get_width (&sight);
}
