/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-plot-pour.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Drawn where the method says none, and at most, minutes. */
#define UNKNOWN_MIN 10.0
#define MOST_MIN 45.0
/* Where the line ends once the candle has set, degC: an opinion of a room, for the picture alone. */
#define ROOM_C 22.0
#define HEADROOM 1.2

typedef struct
{
  const GPtrArray *steps;
  const WbFragrance *fragrance;
  guint            n;         /* without the cure */
  double          *at_s;      /* planned, from the beginning */
  double          *plan_c;
  double          *done_s;    /* on the same axis; NAN: not done */
  double          *done_c;
  gboolean         us_units;
} Track;

static const WbBatchStep *
get_step (const Track *self,
          guint        i)
{
  return g_ptr_array_index (self->steps, i);
}

static void
lay_out (Track *self)
{
  double at = 0;

  for (guint i = 0; i < self->n; i++)
    {
      double minutes = get_step (self, i)->minutes;

      if (i > 0)
        at += 60 * (minutes > 0 ? fmin (minutes, MOST_MIN) : UNKNOWN_MIN);
      self->at_s[i] = at;
    }
}

/* Temperatures of the melt: a step that states none is at the one before; from the pour on it cools to the end. */
static void
heat_up (Track *self)
{
  guint pour = self->n, first = self->n;
  double last = NAN;

  for (guint i = 0; i < self->n; i++)
    {
      const WbBatchStep *step = get_step (self, i);

      if (step->kind == WB_STEP_POUR)
        pour = i;
      if (first == self->n && step->kind != WB_STEP_PREHEAT && !isnan (step->to_c))
        first = i;
    }
  for (guint i = 0; i < self->n; i++)
    {
      const WbBatchStep *step = get_step (self, i);

      if (step->kind != WB_STEP_PREHEAT && !isnan (step->to_c) && i <= pour)
        last = step->to_c;
      self->plan_c[i] = i < first ? ROOM_C : last;
      if (i > pour && !isnan (last))
        self->plan_c[i] = last + (ROOM_C - last) * (self->at_s[i] - self->at_s[pour]) / (self->at_s[self->n - 1] - self->at_s[pour]);
    }
}

/* The first step that was done stands where it was planned; the others as much later as they were. */
static void
lay_done (Track *self)
{
  gint64 begun_us = 0;
  double begun_s = NAN;

  for (guint i = 0; i < self->n; i++)
    {
      const WbBatchStep *step = get_step (self, i);

      self->done_s[i] = self->done_c[i] = NAN;
      if (!step->done_at.known)
        continue;
      if (isnan (begun_s))
        {
          begun_s = self->at_s[i];
          begun_us = step->done_at.utc_us;
        }
      self->done_s[i] = begun_s + (step->done_at.utc_us - begun_us) / (double) G_USEC_PER_SEC;
      self->done_c[i] = isnan (step->actual_c) ? self->plan_c[i] : step->actual_c;
    }
}

static WbUnit
get_unit (const Track *self)
{
  return self->us_units ? WB_UNIT_FAHRENHEIT : WB_UNIT_CELSIUS;
}

/* "heat the wax 85 °C". */
static char *
dup_label (const Track *self,
           guint        i,
           double       celsius)
{
  const WbBatchStep *step = get_step (self, i);
  g_autofree char *title = wb_craft_method_dup_title (step->kind);
  g_autofree char *at = isnan (celsius) ? NULL : wb_quantity_format (get_unit (self), celsius, 0);

  return g_strdup_printf (at != NULL ? "%u %s, %s" : "%u %s", i + 1, title, at);
}

static char *
dup_title (const Track *self,
           guint        n_done)
{
  g_autoptr (GString) text = g_string_new (NULL);
  g_autoptr (GPtrArray) off = wb_craft_method_deviations (self->steps, self->fragrance, self->us_units);

  if (n_done > 0)
    g_string_append_printf (text, g_dngettext (GETTEXT_PACKAGE, "%u of %u step done", "%u of %u steps done", self->n), n_done, self->n);
  for (guint i = 0; i < off->len; i++)
    g_string_append_printf (text, "%s%s", text->len > 0 ? "; " : "", (const char *) g_ptr_array_index (off, i));
  for (guint i = 0; n_done == 0 && i < self->n; i++)
    if (!isnan (get_step (self, i)->to_c))
      {
        g_autofree char *at = wb_quantity_format (get_unit (self), get_step (self, i)->to_c, 0);

        g_string_append_printf (text, "%s%s %s", text->len > 0 ? ", " : "", _(wb_step_words[get_step (self, i)->kind].label), at);
      }
  if (text->len > 0 && n_done == 0)
    {
      g_autofree char *first = g_utf8_strup (text->str, (gssize) (g_utf8_next_char (text->str) - text->str));

      g_string_erase (text, 0, g_utf8_next_char (text->str) - text->str);
      g_string_prepend (text, first);
    }
  if (text->len == 0)
    g_string_append (text, _("The wax states no temperatures"));
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static void
add_plan (const Track  *self,
          WbChartPanel *panel)
{
  WbChartLayer *line = wb_chart_layer_add_line (panel, _("planned"), WB_CHART_SERIES_NONE, WB_CHART_LINE_JOINED | WB_CHART_LINE_MARKERS,
                                                self->n, self->at_s, self->plan_c);
  g_autoptr (GPtrArray) notes = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < self->n; i++)
    {
      char *label = dup_label (self, i, get_step (self, i)->to_c);

      g_ptr_array_add (notes, label);
      if (!isnan (self->plan_c[i]))
        wb_chart_layer_add_text (panel, self->at_s[i], self->plan_c[i], label);
    }
  wb_chart_layer_set_notes (line, notes->len, (const char *const *) notes->pdata);
}

static guint
add_done (const Track  *self,
          WbChartPanel *panel)
{
  g_autoptr (GPtrArray) notes = g_ptr_array_new_with_free_func (g_free);
  guint n = 0;

  for (guint i = 0; i < self->n; i++)
    {
      n += !isnan (self->done_s[i]);
      g_ptr_array_add (notes, dup_label (self, i, get_step (self, i)->actual_c));
    }
  if (n > 0)
    wb_chart_layer_set_notes (wb_chart_layer_add_line (panel, _("done"), 0, WB_CHART_LINE_JOINED | WB_CHART_LINE_MARKERS, self->n, self->done_s, self->done_c),
                              notes->len, (const char *const *) notes->pdata);
  return n;
}

static void
label_axes (const Track  *self,
            WbChartPanel *panel)
{
  WbChartAxis *x = wb_chart_panel_get_x (panel), *y = wb_chart_panel_get_y (panel);

  wb_chart_axis_set_scale (x, WB_CHART_SCALE_DURATION);
  wb_chart_axis_set_unit (x, WB_UNIT_MINUTE);
  wb_chart_axis_set_label (x, _("From the beginning"));
  wb_chart_axis_include (x, 0);
  wb_chart_axis_set_unit (y, get_unit (self));
  wb_chart_axis_set_label (y, _("Melt"));
  wb_chart_axis_include (y, ROOM_C);
  /* room above the hottest step: the labels of the first ones stand over the line, not across it */
  for (guint i = 0; i < self->n; i++)
    if (!isnan (self->plan_c[i]))
      wb_chart_axis_include (y, ROOM_C + (self->plan_c[i] - ROOM_C) * HEADROOM);
}

static WbChart *
draw (Track   *self,
      gboolean invented)
{
  g_autofree char *title = NULL, *description = NULL, *footnote = NULL;
  guint n_done = 0;
  WbChartPanel *panel;
  WbChart *chart;

  for (guint i = 0; i < self->n; i++)
    n_done += !isnan (self->done_s[i]);
  title = dup_title (self, n_done);
  description = g_strdup_printf ("%s. %s", title, _("Temperature of the melt against time, with the steps of the pour along it."));
  chart = wb_chart_new (title, description);
  panel = wb_chart_add_panel (chart, 0, 0, NULL);
  label_axes (self, panel);
  if (self->n > 0)
    {
      add_plan (self, panel);
      add_done (self, panel);
    }
  wb_chart_panel_set_empty_text (panel, _("The method has no steps"));
  footnote = g_strconcat (_("Without minutes a step is drawn ten minutes long, a longer wait than 45 as 45. After the pour the line only says that it cools."),
                          invented ? " " : "", invented ? _("Invented data.") : "", NULL);
  wb_chart_set_footnote (chart, footnote);
  return chart;
}

WbChart *
wb_plot_pour_new (const GPtrArray   *steps,
                  const WbFragrance *fragrance,
                  gboolean           us_units,
                  gboolean           invented)
{
  g_autofree double *values = NULL;
  Track self = { .steps = steps, .fragrance = fragrance, .us_units = us_units };

  g_return_val_if_fail (steps != NULL, NULL);

  for (guint i = 0; i < steps->len && ((const WbBatchStep *) steps->pdata[i])->kind != WB_STEP_CURE; i++)
    self.n++;
  values = g_new0 (double, 4 * (gsize) self.n + 1);
  self.at_s = values;
  self.plan_c = values + self.n;
  self.done_s = values + 2 * (gsize) self.n;
  self.done_c = values + 3 * (gsize) self.n;
  lay_out (&self);
  heat_up (&self);
  lay_done (&self);
  return draw (&self, invented);
}
