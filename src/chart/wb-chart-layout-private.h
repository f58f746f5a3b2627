/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <pango/pangocairo.h>

#include "wb-chart-layout.h"
#include "wb-chart-map-private.h"
#include "wb-chart-private.h"
#include "wb-chart-ticks.h"

G_BEGIN_DECLS

/* Thickness of the hatching behind a wall, in points. */
#define WB_CHART_WALL_HATCH 5.0

/* What stands before a text to say which mark it names. */
typedef enum
{
  WB_CHART_SAMPLE_NONE,
  WB_CHART_SAMPLE_LINE,     /* line and marker of a series */
  WB_CHART_SAMPLE_MARKER,
  WB_CHART_SAMPLE_BAND,
  WB_CHART_SAMPLE_PART,     /* one part of a stacked bar */
  WB_CHART_SAMPLE_GRADIENT, /* colour scale of a heat map */
  WB_CHART_SAMPLE_BAR       /* scale bar under a plan */
} WbChartSample;

/* An item with how it is drawn. */
typedef struct
{
  WbChartItem       item;
  char             *text;    /* owns item.text */
  PangoLayout      *pango;   /* NULL for a plot */
  double            x, y;    /* of the Pango layout */
  WbChartColourRole role;
  WbChartSample     sample;
  WbChartRect       sample_rect;
  int               series;
  guint             part, n_parts;
  WbChartParts      parts;
  gboolean          around;  /* gradient, cell: two hues */
  double            place;   /* cell: on the heat scale */
  gboolean          on_fill; /* ink chosen against the fill of a cell or part */
  gboolean          halo;    /* lies on the plot: a rim of background around the letters */
  gboolean          leader;
  double            from_x, from_y, to_x, to_y;
} WbChartText;

/* A panel at its place. */
typedef struct
{
  const WbChartPanel *panel;
  WbChartRect         plot;
  WbChartMap          x, y;
  const WbChartTicks *x_ticks, *y_ticks; /* the layout's */
  gboolean            show_x, show_y;    /* tick labels */
  gboolean            plan;
  gboolean            empty;
} WbChartFrame;

typedef enum
{
  WB_CHART_FONT_TITLE,       /* 11.5 pt bold */
  WB_CHART_FONT_PANEL_TITLE, /* 9 pt bold */
  WB_CHART_FONT_SMALL_TITLE, /* 8 pt bold */
  WB_CHART_FONT_LABEL,       /* 9 pt */
  WB_CHART_FONT_TICK,        /* 8 pt */
  WB_CHART_FONT_SMALL,       /* 7.5 pt */
  WB_CHART_N_FONTS
} WbChartFont;

/* Points. */
typedef struct
{
  double width, height;
} WbChartSize;

struct _WbChartLayout
{
  WbChart      *chart;
  double        width, height, text_scale;
  PangoContext *pango;
  GHashTable   *sizes[WB_CHART_N_FONTS]; /* WbChartSize of a line by its text, while it is laid out; NULL: none yet */
  GArray       *texts;  /* WbChartText */
  GArray       *frames; /* WbChartFrame, one a panel */
  GPtrArray    *ticks;  /* WbChartTicks */
  double scale_y; /* top of the scale bar that all plans share; NaN: each has its own, below 0: none
                     has */
};

/* wb-chart-text.c */
PangoContext *wb_chart_text_create_context (const WbChart *chart, PangoFontMap *fonts);
/* One line of that font, in points. */
double        wb_chart_text_get_line     (WbChartLayout *layout, WbChartFont font);
/* Wrapped to `width` (below 0: not) and to `lines` lines at most, ellipsised after; the caller owns it. */
PangoLayout *wb_chart_text_create (
    WbChartLayout *layout, WbChartFont font, const char *text, double width, int lines);
void          wb_chart_text_measure      (PangoLayout *pango, double *width, double *height);
/* What is seen of its first line, as glyphs: two names that were cut alike are equal. */
GBytes      *wb_chart_text_dup_seen      (PangoLayout *pango);
/* Makes its letters `factor` as large. */
void          wb_chart_text_shrink       (PangoLayout *pango, double factor);
/* Whether it is read from right to left. */
gboolean      wb_chart_text_is_rtl       (PangoLayout *pango);
/* Left edge of a text that begins where its language begins a line, in `width` from `x` on. */
double        wb_chart_text_get_start    (PangoLayout *pango, double x, double width);
double        wb_chart_text_get_width    (WbChartLayout *layout, WbChartFont font, const char *text);
/* Appends a text with its top left corner at (x, y), taking the Pango layout; the pointer holds until the next append. */
WbChartText *wb_chart_text_add (WbChartLayout *layout,
                                WbChartItemKind kind,
                                int panel,
                                int layer,
                                PangoLayout *pango,
                                double x,
                                double y);
/* TRUE where the rectangle, with `air` around it, meets no text. */
gboolean      wb_chart_text_is_free      (const WbChartLayout *layout, const WbChartRect *rect, double air);
void          wb_chart_text_clear        (gpointer text);

/* wb-chart-key.c: names that stand in the key, and those at line ends. */
typedef struct
{
  char         *name; /* owned */
  WbChartSample sample;
  int           series;
  guint         part, n_parts;
  WbChartParts  parts;
  gboolean      around;
} WbChartKeyEntry;

/* The entries of the chart; line names only where `lines`. Elements are WbChartKeyEntry. */
GArray       *wb_chart_key_collect       (const WbChart *chart, gboolean lines);
/* Lays entries out from (x, y) in at most `lines` lines of `width`; returns the height used. `rtl`: from the right edge on. */
double wb_chart_key_place (WbChartLayout *layout,
                           GArray *entries,
                           WbChartFont font,
                           double x,
                           double y,
                           double width,
                           int lines,
                           gboolean rtl);
/* Whether line names of the chart are better at the line's end than in the key. */
gboolean      wb_chart_key_prefers_ends  (const WbChart *chart);

/* The layers of a panel whose names stand at their line's end: indices, one for each name. */
GArray       *wb_chart_ends_collect      (const WbChartPanel *panel);
/* Room right of the plot that they need, at most `most`. */
double        wb_chart_ends_get_width    (WbChartLayout *layout, const WbChartPanel *panel, double most);
/* Places them right of the plot; FALSE where they do not fit, and then places none. */
gboolean      wb_chart_ends_place        (WbChartLayout *layout, guint panel, double width);

/* wb-chart-arrange.c: title, key, panels and axes. FALSE with an error for a range that cannot be shown. */
gboolean      wb_chart_arrange           (WbChartLayout *layout, GError **error);

/* wb-chart-label.c: every text within a plot. */
void          wb_chart_label_panel       (WbChartLayout *layout, guint panel);
/* wb-chart-label-values.c: the numbers of one layer, where they fit. */
void          wb_chart_label_cells       (WbChartLayout *layout, guint panel, guint index);
void          wb_chart_label_bars        (WbChartLayout *layout, guint panel, guint index);

/* wb-chart-value.c: where each value of a layer is drawn. */
/* Rectangle of a cell, bar part or event; FALSE for other kinds and missing values. Not clipped to the plot. */
gboolean wb_chart_value_get_rect (const WbChartFrame *frame,
                                  const WbChartLayer *layer,
                                  gsize index,
                                  WbChartRect *rect);
gboolean wb_chart_value_get_point (
    const WbChartFrame *frame, const WbChartLayer *layer, gsize index, double *x, double *y);
/* Where on the colour scale a heat map's value lies. */
double        wb_chart_value_get_place   (const WbChartLayer *layer, double value);
void          wb_chart_value_get_limits  (const WbChartLayer *layer, double *low, double *high);

/* wb-chart-words.c */
typedef enum
{
  WB_CHART_FIELD_PANEL,
  WB_CHART_FIELD_NAME,
  WB_CHART_FIELD_X,
  WB_CHART_FIELD_Y,
  WB_CHART_FIELD_VALUE,
  WB_CHART_FIELD_LOW,
  WB_CHART_FIELD_HIGH,
  WB_CHART_FIELD_NOTE,
  WB_CHART_N_FIELDS
} WbChartField;

/* The texts of one value of a layer, NULL where it has none; each is the caller's. FALSE where the value is missing and says nothing. */
gboolean wb_chart_words_get_fields (const WbChartPanel *panel,
                                    const WbChartLayer *layer,
                                    gsize index,
                                    char *fields[WB_CHART_N_FIELDS]);
char         *wb_chart_words_format_cell (const WbChartLayer *layer, double value, gboolean with_unit);
/* A part of a bar, with the places that fit the largest part of the chart. */
char         *wb_chart_words_format_part (const WbChartAxis *axis, double value, double largest);

static inline gboolean
wb_chart_rect_has (const WbChartRect *rect, double x, double y)
{
  return x >= rect->x && x <= rect->x + rect->width && y >= rect->y && y <= rect->y + rect->height;
}

static inline const WbChartFrame *
wb_chart_layout_frame (const WbChartLayout *layout, guint panel)
{
  return &g_array_index (layout->frames, WbChartFrame, panel);
}

G_END_DECLS
