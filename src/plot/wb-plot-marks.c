/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-plot-marks.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-plot-life-private.h"
#include "wb-plot-lines-private.h"
#include "wb-plot-words-private.h"

/* More fields than these in a row are no longer read: neighbouring burns share one, which shows the worse. */
#define MOST_FIELDS 40

/* One lane: what is rated, and by which words. */
typedef struct
{
  WbFigure      figure;
  const char   *label;
  const WbWord *words;
  double        most;
} Lane;

static const Lane lanes[] = {
  { WB_FIGURE_SMOKE, N_("Smoke"), wb_smoke_words, 2.0 },
  { WB_FIGURE_SOOT, N_("Soot on the vessel"), wb_soot_words, 4.0 },
  { WB_FIGURE_MUSHROOM, N_("Mushroom on the wick"), wb_mushroom_words, 2.0 },
};

const WbFigure wb_plot_marks_figures[WB_PLOT_MARKS_N_FIGURES] = { WB_FIGURE_SMOKE, WB_FIGURE_SOOT, WB_FIGURE_MUSHROOM };

G_STATIC_ASSERT (G_N_ELEMENTS (lanes) == WB_PLOT_MARKS_N_FIGURES);

/* What a line shows in one field of a lane. */
typedef struct
{
  double level;   /* the worst; NAN not read */
  guint  burn;
  guint  samples; /* burns read */
} Field;

typedef struct
{
  const GArray *lines;
  guint         n_burns;   /* longest life */
  guint         per_field; /* burns */
  guint         n_fields;
} Strip;

static gboolean
is_shown (const WbPlotLine  *line,
          const WbCraftBurn *burn)
{
  return burn->cell == line->cell && burn->kind == WB_BURN_STANDARD && wb_plot_context_sample_counts (line->context, burn->sample);
}

static gboolean
is_read (const WbCraftBurn *burn)
{
  for (guint i = 0; i < G_N_ELEMENTS (lanes); i++)
    if (!isnan (wb_craft_burn_get (burn, lanes[i].figure, TRUE)))
      return TRUE;
  return FALSE;
}

static Strip
strip_of (const GArray *lines)
{
  Strip strip = { lines, 0, 1, 0 };

  for (guint k = 0; k < lines->len; k++)
    {
      const WbPlotLine     *line = &g_array_index (lines, WbPlotLine, k);
      const WbCraftFigures *figures = line->context->answer->figures;

      for (guint i = 0; i < figures->n_burns; i++)
        if (is_shown (line, &figures->burns[i]) && is_read (&figures->burns[i]))
          strip.n_burns = MAX (strip.n_burns, (guint) CLAMP (wb_dataset_get_burn (line->context->data, i)->number, 1, 100000));
    }
  strip.per_field = MAX ((strip.n_burns + MOST_FIELDS - 1) / MOST_FIELDS, 1);
  strip.n_fields = (strip.n_burns + strip.per_field - 1) / strip.per_field;
  return strip;
}

/* `fields`: strip->n_fields. */
static void
read_line (const Strip      *strip,
           const WbPlotLine *line,
           WbFigure          figure,
           Field            *fields)
{
  const WbCraftFigures *figures = line->context->answer->figures;

  for (guint i = 0; i < strip->n_fields; i++)
    fields[i] = (Field) { NAN, 0, 0 };
  for (guint i = 0; i < figures->n_burns; i++)
    {
      const WbCraftBurn *burn = &figures->burns[i];
      gint64             number = wb_dataset_get_burn (line->context->data, i)->number;
      double             level = wb_craft_burn_get (burn, figure, TRUE);

      if (!is_shown (line, burn) || !isfinite (level) || number < 1 || number > strip->n_burns)
        continue;

      Field *field = &fields[(number - 1) / strip->per_field];
      if (field->samples == 0 || level > field->level)
        {
          field->level = level;
          field->burn = i;
        }
      field->samples++;
    }
}

static char *
dup_level (const Lane *lane,
           double      level)
{
  return g_strdup (_(lane->words[(guint) CLAMP (round (level), 0.0, lane->most)].label));
}

static char *
dup_note (const WbPlotLine *line,
          const Lane       *lane,
          const Field      *field)
{
  if (field->samples == 0)
    return g_strdup ("");

  const WbCraftBurn *burn = &line->context->answer->figures->burns[field->burn];
  g_autofree char   *level = dup_level (lane, field->level);
  g_autofree char   *number = g_strdup_printf ("%" G_GINT64_FORMAT, wb_dataset_get_burn (line->context->data, field->burn)->number);

  /* Translators: a level, "light"; number of the burn; sample code */
  return g_strdup_printf (_("%s, burn %s, %s"), level, number, wb_dataset_get_sample (line->context->data, burn->sample)->code);
}

static void
set_names (const Strip  *strip,
           WbChartPanel *panel)
{
  g_autoptr (GPtrArray) rows = g_ptr_array_new ();
  g_autoptr (GPtrArray) columns = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < strip->lines->len; i++)
    g_ptr_array_add (rows, g_array_index (strip->lines, WbPlotLine, i).name);
  for (guint i = 0; i < strip->n_fields; i++)
    {
      guint first = i * strip->per_field + 1, last = MIN (first + strip->per_field - 1, strip->n_burns);

      g_ptr_array_add (columns, first == last ? g_strdup_printf ("%u", first) : g_strdup_printf ("%u–%u", first, last));
    }
  g_ptr_array_add (rows, NULL);
  g_ptr_array_add (columns, NULL);
  wb_chart_axis_set_categories (wb_chart_panel_get_y (panel), (const char *const *) rows->pdata);
  wb_chart_axis_set_categories (wb_chart_panel_get_x (panel), (const char *const *) columns->pdata);
  wb_chart_axis_set_label (wb_chart_panel_get_x (panel), _("Burn"));
}

/* "Soot on the vessel: 0 none, 1 trace, 2 light, 3 moderate, 4 heavy". */
static char *
dup_panel_title (const Lane *lane)
{
  g_autoptr (GString) title = g_string_new (NULL);

  for (guint i = 0; i <= lane->most; i++)
    g_string_append_printf (title, "%s%u\302\240%s", i > 0 ? ", " : "", i, _(lane->words[i].label));
  /* Translators: what is rated; its levels */
  return g_strdup_printf (_("%s: %s"), _(lane->label), title->str);
}

static void
add_lane (const Strip *strip,
          WbChart     *chart,
          guint        index)
{
  const Lane           *lane = &lanes[index];
  g_autofree char      *title = dup_panel_title (lane);
  WbChartPanel         *panel = wb_chart_add_panel (chart, index, 0, title);
  gsize                 n = (gsize) strip->lines->len * strip->n_fields;
  g_autofree double    *values = g_new (double, MAX (n, 1));
  g_autofree gint64    *tags = g_new0 (gint64, MAX (n, 1));
  g_autofree Field     *fields = g_new (Field, MAX (strip->n_fields, 1));
  g_autoptr (GPtrArray) notes = g_ptr_array_new_with_free_func (g_free);

  wb_chart_panel_set_empty_text (panel, _("Not read yet"));
  if (n == 0)
    return;
  set_names (strip, panel);
  for (guint i = 0; i < strip->lines->len; i++)
    {
      const WbPlotLine *line = &g_array_index (strip->lines, WbPlotLine, i);

      read_line (strip, line, lane->figure, fields);
      for (guint k = 0; k < strip->n_fields; k++)
        {
          values[i * strip->n_fields + k] = fields[k].level;
          tags[i * strip->n_fields + k] = fields[k].samples > 0 ? wb_plot_line_get_burn_tag (line, fields[k].burn) : wb_plot_line_get_tag (line);
          g_ptr_array_add (notes, dup_note (line, lane, &fields[k]));
        }
    }

  WbChartLayer *layer = wb_chart_layer_add_heat (panel, NULL, WB_CHART_HEAT_LOW_TO_HIGH, strip->lines->len, strip->n_fields, values,
                                                 NULL, WB_UNIT_NONE, 0, 0.0);
  wb_chart_layer_set_scale (layer, 0.0, lane->most);
  wb_chart_layer_set_notes (layer, n, (const char *const *) notes->pdata);
  wb_chart_layer_set_tags (layer, n, tags);
}

/* What a line shows of a lane over its life. */
typedef struct
{
  double worst;   /* NAN not read */
  guint  burns;   /* that show any */
  guint  read;
} Course;

static Course
course_of (const WbPlotLine *line,
           const Lane       *lane)
{
  const WbCraftFigures *figures = line->context->answer->figures;
  Course                course = { NAN, 0, 0 };

  for (guint i = 0; i < figures->n_burns; i++)
    {
      double level = wb_craft_burn_get (&figures->burns[i], lane->figure, TRUE);

      if (!is_shown (line, &figures->burns[i]) || !isfinite (level))
        continue;
      course.read++;
      course.worst = fmax (course.worst, level);
      course.burns += round (level) > 0.0;
    }
  return course;
}

/* What a candle does that shows none in any burn, or some in `shown` of `read`. */
static char *
dup_shown (WbFigure    figure,
           const char *name,
           guint       shown,
           guint       read)
{
  switch (figure)
    {
    case WB_FIGURE_SMOKE:
      if (shown == 0)
        return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s does not smoke in its %u burn", "%s does not smoke in any of %u burns", read), name, read);
      /* Translators: a name; how many of how many burns */
      return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s smokes in %u of %u burn", "%s smokes in %u of %u burns", read), name, shown, read);
    case WB_FIGURE_MUSHROOM:
      if (shown == 0)
        return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s grows no mushroom in its %u burn", "%s grows no mushroom in %u burns", read), name, read);
      return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s grows a mushroom in %u of %u burn", "%s grows a mushroom in %u of %u burns", read),
                              name, shown, read);
    case WB_FIGURE_SOOT:
    default:
      if (shown == 0)
        return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s leaves no soot in its %u burn", "%s leaves no soot in %u burns", read), name, read);
      return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s leaves soot in %u of %u burn", "%s leaves soot in %u of %u burns", read), name, shown, read);
    }
}

/* "B5 leaves soot in 5 of 15 burns, at worst moderate"; "" where it was not read. */
static char *
dup_clause (const WbPlotLine *line,
            const Lane       *lane)
{
  Course           course = course_of (line, lane);
  g_autofree char *what = NULL, *level = NULL;

  if (course.read == 0)
    return g_strdup ("");
  what = dup_shown (lane->figure, line->name, course.burns, course.read);
  if (course.burns == 0)
    return g_steal_pointer (&what);
  level = dup_level (lane, course.worst);
  /* Translators: "B5 leaves soot in 5 of 15 burns"; a level, "moderate" */
  return g_strdup_printf (_("%s, at worst %s"), what, level);
}

/* How bad a course is: the share of the scale, then of the burns. */
static double
get_weight (const Lane   *lane,
            const Course *course)
{
  return course->read == 0 ? -1.0 : course->worst / lane->most + (course->worst > 0.0 ? 0.01 * course->burns / course->read : 0.0);
}

/* Whether any line was read for a lane; `all`: whether every line was. */
static gboolean
is_lane_read (const Strip *strip,
              const Lane  *lane,
              gboolean    *all)
{
  guint read = 0;

  for (guint i = 0; i < strip->lines->len; i++)
    read += course_of (&g_array_index (strip->lines, WbPlotLine, i), lane).read > 0;
  *all = read == strip->lines->len;
  return read > 0;
}

/* "Smoke, Soot on the vessel": the lanes that were read, or those that were not, of some line or of any. */
static char *
dup_lanes (const Strip *strip,
           gboolean     read)
{
  g_autoptr (GString) text = g_string_new (NULL);

  for (guint i = 0; i < G_N_ELEMENTS (lanes); i++)
    {
      gboolean all, some = is_lane_read (strip, &lanes[i], &all);

      if (read ? some : !all)
        g_string_append_printf (text, "%s%s", text->len > 0 ? ", " : "", _(lanes[i].label));
    }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

/* Every reading is a zero: of what was not read nothing is said but that. */
static char *
dup_clean (const Strip *strip)
{
  g_autofree char *read = dup_lanes (strip, TRUE), *unread = dup_lanes (strip, FALSE);

  if (*unread == '\0')
    return g_strdup (_("No burn shows smoke, soot or a mushroom"));
  /* Translators: what was rated, "Smoke, Soot on the vessel"; the same of what was not rated, or not of every candle shown */
  return g_strdup_printf (_("None was seen of: %s; not read, or not of all: %s"), read, unread);
}

/* The line that shows least of a lane, but not that one; NULL where no other was read. */
static const WbPlotLine *
find_least (const Strip      *strip,
            const Lane       *lane,
            const WbPlotLine *but)
{
  const WbPlotLine *least = NULL;
  double            fewest = INFINITY;

  for (guint i = 0; i < strip->lines->len; i++)
    {
      const WbPlotLine *line = &g_array_index (strip->lines, WbPlotLine, i);
      Course            course = course_of (line, lane);

      if (line != but && course.read > 0 && get_weight (lane, &course) < fewest)
        {
          fewest = get_weight (lane, &course);
          least = line;
        }
    }
  return least;
}

/* The worst that any line shows, and the line that shows least of the same. */
static char *
dup_title (const Strip *strip)
{
  const Lane       *lane = NULL;
  const WbPlotLine *worst = NULL, *least;
  double            most = -1.0;

  for (guint i = 0; i < strip->lines->len; i++)
    for (guint k = 0; k < G_N_ELEMENTS (lanes); k++)
      {
        const WbPlotLine *line = &g_array_index (strip->lines, WbPlotLine, i);
        Course            course = course_of (line, &lanes[k]);

        if (course.read > 0 && get_weight (&lanes[k], &course) > most)
          {
            most = get_weight (&lanes[k], &course);
            lane = &lanes[k];
            worst = line;
          }
      }
  if (strip->lines->len == 0)
    return g_strdup (_("No combination to show"));
  if (worst == NULL)
    return g_strdup (_("Smoke, soot and mushroom were not read yet"));
  if (most <= 0.0)
    return dup_clean (strip);
  least = find_least (strip, lane, worst);

  g_autofree char *clause = dup_clause (worst, lane);
  g_autofree char *other = least != NULL ? dup_clause (least, lane) : NULL;

  return other != NULL ? g_strdup_printf (_("%s; %s"), clause, other) : g_steal_pointer (&clause);
}

static char *
dup_description (const Strip *strip,
                 const char  *title)
{
  g_autoptr (GString) text = g_string_new (NULL);

  g_string_append_printf (text, "%s. %s", title, _("Smoke, soot and mushroom burn by burn, the worst level that any sample showed."));
  for (guint i = 0; i < strip->lines->len; i++)
    for (guint k = 0; k < G_N_ELEMENTS (lanes); k++)
      {
        g_autofree char *clause = dup_clause (&g_array_index (strip->lines, WbPlotLine, i), &lanes[k]);

        if (*clause != '\0')
          g_string_append_printf (text, " %s.", clause);
      }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static char *
dup_counts (const Strip *strip)
{
  guint burns = 0, samples = 0;

  for (guint k = 0; k < strip->lines->len; k++)
    {
      const WbPlotLine     *line = &g_array_index (strip->lines, WbPlotLine, k);
      const WbCraftFigures *figures = line->context->answer->figures;
      guint                 last = G_MAXUINT;

      for (guint i = 0; i < figures->n_burns; i++)
        if (is_shown (line, &figures->burns[i]) && is_read (&figures->burns[i]))
          {
            burns++;
            samples += figures->burns[i].sample != last;
            last = figures->burns[i].sample;
          }
    }

  g_autofree char *counts = wb_plot_dup_counts (samples, burns, G_MAXUINT);

  return g_strdup_printf (_("%s, standard burns."), counts);
}

static WbChart *
marks_new (const WbPlotContext *context,
           const GArray        *lines,
           const char          *where)
{
  Strip            strip = strip_of (lines);
  g_autofree char *title = dup_title (&strip);
  g_autofree char *description = dup_description (&strip, title);
  g_autofree char *counts = dup_counts (&strip);
  WbChart         *chart = wb_chart_new (title, description);

  wb_chart_set_share (chart, WB_CHART_SHARE_X);
  if (lines->len == 0)
    wb_chart_panel_set_empty_text (wb_chart_add_panel (chart, 0, 0, NULL), _("No combination to show"));
  else
    for (guint i = 0; i < G_N_ELEMENTS (lanes); i++)
      add_lane (&strip, chart, i);
  wb_plot_set_footnote (context, chart, where, _("Each field: the worst reading of a burn, of the worst sample. Hatched: not read."), counts, NULL);
  wb_chart_set_font_family (chart, context->options.font_family);
  return chart;
}

WbChart *
wb_plot_marks_new_lines (const GArray *lines)
{
  return marks_new (g_array_index (lines, WbPlotLine, 0).context, lines, "");
}

WbChart *
wb_plot_marks_new (const WbCraftAnswer *answer,
                   const WbPlotOptions *options,
                   GError             **error)
{
  g_auto (WbPlotContext) context = { 0 };

  if (!wb_plot_context_init (&context, answer, options, error))
    return NULL;

  g_autoptr (GArray) cells = wb_plot_life_pick_cells (&context);
  g_autofree char   *where = wb_plot_dup_common_family (&context, cells);

  wb_plot_cells_sort (cells);

  g_autoptr (GArray) lines = wb_plot_lines_new_cells (&context, cells, wb_plot_context_mixes (&context, cells));

  return marks_new (&context, lines, where);
}

static const Lane *
find_lane (WbFigure figure)
{
  for (guint i = 0; i < G_N_ELEMENTS (lanes); i++)
    if (lanes[i].figure == figure)
      return &lanes[i];
  return NULL;
}

char *
wb_plot_marks_dup_course (const WbCraftAnswer *answer,
                          guint                cell,
                          WbFigure             figure)
{
  g_auto (WbPlotContext) context = { 0 };
  const Lane            *lane = find_lane (figure);
  WbPlotLine             line = { .context = &context, .cell = cell };
  g_autofree char       *level = NULL;
  Course                 course;

  g_return_val_if_fail (answer != NULL && lane != NULL, NULL);

  if (!wb_plot_context_init (&context, answer, NULL, NULL))
    return NULL;
  course = course_of (&line, lane);
  if (course.read == 0)
    return NULL;
  if (course.burns == 0)
    /* Translators: of smoke, soot or a mushroom: none was seen */
    return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "none in %u burn", "none in %u burns", course.read), course.read);
  level = dup_level (lane, course.worst);
  /* Translators: the worst level, "moderate"; in how many of how many burns any was seen */
  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s, in %u of %u burn", "%s, in %u of %u burns", course.read), level, course.burns, course.read);
}
