/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/*
 * The kinds of layer. Each wb_chart_layer_add_* appends one to a panel, copies
 * what it is given, and returns it; the panel owns it. Coordinates are in
 * stored units of the panel's axes; on a category axis they are positions
 * 0, 1, 2 ... and may be fractions (to set points of one category side by side).
 */

typedef struct _WbChartPanel WbChartPanel;
typedef struct _WbChartLayer WbChartLayer;

typedef enum
{
  WB_CHART_LAYER_LINE,
  WB_CHART_LAYER_BAND,
  WB_CHART_LAYER_POINTS,
  WB_CHART_LAYER_RULE,
  WB_CHART_LAYER_REGION,
  WB_CHART_LAYER_BARS,
  WB_CHART_LAYER_HEAT,
  WB_CHART_LAYER_WALL,
  WB_CHART_LAYER_RINGS,
  WB_CHART_LAYER_EVENTS,
  WB_CHART_LAYER_TEXT
} WbChartLayerKind;

/* No series: drawn in the theme's ink. */
#define WB_CHART_SERIES_NONE (-1)

typedef enum
{
  WB_CHART_X, /* along the horizontal axis */
  WB_CHART_Y  /* along the vertical axis */
} WbChartDirection;

/* What is known of one value. */
typedef enum
{
  WB_CHART_MARK_PLAIN,
  WB_CHART_MARK_AT_LEAST, /* censored from above: open marker with an arrow towards larger values */
  WB_CHART_MARK_ASIDE     /* seen but not counted: open grey marker */
} WbChartMark;

/* How a line is drawn. */
typedef enum
{
  WB_CHART_LINE_MARKERS = 1 << 0, /* a marker at each value */
  WB_CHART_LINE_JOINED  = 1 << 1, /* straight between neighbours; a missing value is a gap */
  WB_CHART_LINE_STEPS   = 1 << 2, /* joined by steps, the value holds until the next */
  WB_CHART_LINE_THIN    = 1 << 3  /* half as wide and paler: one of many behind the one that matters */
} WbChartLineFlags;

/* What a rule or a region means; picks its look, its label says the rest. */
typedef enum
{
  WB_CHART_RULE_REFERENCE, /* a plain thin line: a mean, a margin */
  WB_CHART_RULE_ASK,       /* a limit at which the bench asks: dashed */
  WB_CHART_RULE_LIMIT,     /* a limit not to cross: heavy */
  WB_CHART_RULE_WALL,      /* the physical end of the scale: heavy with hatching behind it */
  WB_CHART_RULE_AIM        /* where the value should be (region) */
} WbChartRule;

typedef enum
{
  WB_CHART_PARTS_NAMED,   /* parts are series 0, 1, 2 ...: colours of the palette, hatched as second
                             channel */
  WB_CHART_PARTS_REST,    /* as named, but the last part is what the others leave over: near the background, with an edge */
  WB_CHART_PARTS_ORDERED, /* parts are first, second, third ...: one hue from dark to light */
  WB_CHART_PARTS_SCALE    /* one part a row: plain bars, coloured by the row's series where given */
} WbChartParts;

typedef enum
{
  WB_CHART_HEAT_LOW_TO_HIGH, /* pale to dark as the value grows */
  WB_CHART_HEAT_AROUND       /* two hues away from a middle value */
} WbChartHeatKind;

/* Flags of one cell of a heat map. */
typedef enum
{
  WB_CHART_CELL_PLAIN = 0,
  WB_CHART_CELL_CROSSED
  = 1 << 0, /* hatched, with a heavy edge: a limit was crossed, whatever the colour says */
  WB_CHART_CELL_CHOSEN = 1 << 1, /* framed */
  WB_CHART_CELL_UNSURE = 1 << 2  /* dotted edge: rests on little */
} WbChartCell;

/* `name` labels the line's end (and the key, the table and hover); `x` need not be sorted, NaN in either is a gap. */
WbChartLayer *wb_chart_layer_add_line   (WbChartPanel    *panel,
                                         const char      *name,
                                         int              series,
                                         WbChartLineFlags flags,
                                         gsize            n,
                                         const double    *x,
                                         const double    *y);
/* The space between `low` and `high` over `x` (sorted), drawn pale; +-infinity is not accepted: cut at the axis' range first.
 * Labelled in the table only when `name` is that of a line of the same series. */
WbChartLayer *wb_chart_layer_add_band   (WbChartPanel *panel,
                                         const char   *name,
                                         int           series,
                                         gsize         n,
                                         const double *x,
                                         const double *low,
                                         const double *high);
/* Markers, not joined, with a bar from `low` to `high` along `direction`; a NaN end has no bar on that side,
 * NULL arrays have none at all. */
WbChartLayer *wb_chart_layer_add_points (WbChartPanel    *panel,
                                         const char      *name,
                                         int              series,
                                         gsize            n,
                                         const double    *x,
                                         const double    *y,
                                         WbChartDirection direction,
                                         const double    *low,
                                         const double    *high);
/* A line across the plot at `value` of the axis `direction` (WB_CHART_Y: a horizontal line at that height), with its label on it. */
WbChartLayer *wb_chart_layer_add_rule   (WbChartPanel    *panel,
                                         const char      *label,
                                         WbChartRule      rule,
                                         WbChartDirection direction,
                                         double           value);
/* A shaded strip across the plot; a NaN end reaches to the plot's edge. */
WbChartLayer *wb_chart_layer_add_region (WbChartPanel    *panel,
                                         const char      *label,
                                         WbChartRule      rule,
                                         WbChartDirection direction,
                                         double           low,
                                         double           high);
/* Horizontal bars on a category y axis: values[row * n_parts + part], each >= 0 or NaN, stacked from 0 along x.
 * `part_names` has n_parts entries and goes into the key; may be NULL with one part. `series`: NULL, or one a row for WB_CHART_PARTS_SCALE. */
WbChartLayer *wb_chart_layer_add_bars   (WbChartPanel      *panel,
                                         WbChartParts       parts,
                                         gsize              n_rows,
                                         gsize              n_parts,
                                         const char *const *part_names,
                                         const double      *values,
                                         const int         *series);
/* Cells on two category axes: values[row * n_columns + column], NaN is marked as missing. The number is printed in each cell in
 * `unit` (a WbUnit) with `decimals` places (below 0: the unit's own). `name` says what the values are: it heads the colour scale; NULL: there is none, the numbers say it.
 * A missing cell says its note. `flags`: NULL, or one WbChartCell set a cell. `middle` counts only for WB_CHART_HEAT_AROUND. */
WbChartLayer *wb_chart_layer_add_heat   (WbChartPanel    *panel,
                                         const char      *name,
                                         WbChartHeatKind  kind,
                                         gsize            n_rows,
                                         gsize            n_columns,
                                         const double    *values,
                                         const guint8    *flags,
                                         int              unit,
                                         int              decimals,
                                         double           middle);
/* Seen from above: turns the panel into real scale (one mm is as long across as down, axes hidden, a scale bar drawn) and draws a
 * vessel's inner wall around (x, y) in mm. A round vessel has width = depth. */
WbChartLayer *wb_chart_layer_add_wall   (WbChartPanel *panel,
                                         const char   *label,
                                         double        x,
                                         double        y,
                                         double        width,
                                         double        depth);
/* How thick the wall is, to scale; 0, as it begins: not known, drawn as thick as can be seen. */
void          wb_chart_layer_set_wall_thickness (WbChartLayer *layer,
                                                 double        mm);
/* Concentric circles around (x, y) in mm, real scale as above: one for each diameter, labelled on the line or by a leader.
 * `labels`: NULL, or n texts. Set marks with wb_chart_layer_set_marks: WB_CHART_MARK_AT_LEAST rings are dashed. */
WbChartLayer *wb_chart_layer_add_rings  (WbChartPanel      *panel,
                                         const char        *name,
                                         int                series,
                                         double             x,
                                         double             y,
                                         gsize              n,
                                         const double      *diameters,
                                         const char *const *labels);
/* Between which diameters each circle of a rings layer lies: a pale ring of that width, with fine edges. A NaN end: none is drawn of it. */
void          wb_chart_layer_set_ring_band (WbChartLayer *layer,
                                            gsize         n,
                                            const double *low,
                                            const double *high);
/* What happened, along x, on row `row` of a category y axis: a tick where end is NaN or equal to start (or `ends` is NULL), a bar otherwise. */
WbChartLayer *wb_chart_layer_add_events (WbChartPanel      *panel,
                                         const char        *name,
                                         int                series,
                                         double             row,
                                         gsize              n,
                                         const double      *starts,
                                         const double      *ends,
                                         const char *const *labels);
/* A note at (x, y); it is moved a little, or left to the table, where it would lie on another text. */
WbChartLayer *wb_chart_layer_add_text   (WbChartPanel *panel,
                                         double        x,
                                         double        y,
                                         const char   *text);
/*
 * A note on what is over a limit: a ring in the limit's colour stands at (x, y), as little as it is over, and the note finds its
 * place before those of rules and other notes, tied to the ring, wherever the plot has room for it.
 */
WbChartLayer *wb_chart_layer_add_crossing (WbChartPanel *panel,
                                           double        x,
                                           double        y,
                                           const char   *text);

/* The colours of a heat map reach at least over low to high, so that a small difference looks small; NaN leaves an end to the data. */
void             wb_chart_layer_set_scale (WbChartLayer *layer, double low, double high);
/* One WbChartMark for each value of a line, points or rings layer; NULL takes them off. */
void             wb_chart_layer_set_marks (WbChartLayer *layer, gsize n, const guint8 *marks);
/* One short text for each value (sample code, instant): for the table and hover; drawn only in a missing cell of a heat map, to
 * say why. NULL entries are "". */
void             wb_chart_layer_set_notes (WbChartLayer *layer, gsize n, const char *const *notes);

/* What each value stands for, in numbers of the caller's: nothing is drawn of them. 0: nothing. NULL takes them off. */
void             wb_chart_layer_set_tags (WbChartLayer *layer, gsize n, const gint64 *tags);
/* 0 where none was set, and past the end. */
gint64           wb_chart_layer_get_tag  (const WbChartLayer *layer, gsize index);

WbChartLayerKind wb_chart_layer_get_kind   (const WbChartLayer *layer);
const char      *wb_chart_layer_get_name   (const WbChartLayer *layer);
int              wb_chart_layer_get_series (const WbChartLayer *layer);
/* Values that can be pointed at: line, points, band (one a place), bars and heat (one a cell), rings, events; else 0. */
gsize            wb_chart_layer_get_n      (const WbChartLayer *layer);

G_END_DECLS
