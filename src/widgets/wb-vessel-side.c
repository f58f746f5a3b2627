/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-vessel-side.h"

#include <glib/gi18n.h>
#include <math.h>

/* Where nothing is known yet: a usual vessel, to have a picture to measure by. */
#define USUAL_INNER_MM 75.0
#define USUAL_HEIGHT_SHARE 1.05
#define USUAL_HEADSPACE_MM 12.0
#define USUAL_WALL_MM 3.0
/* Room about the vessel for the measures; pixels. */
#define LEFT_PX 8.0
#define RIGHT_PX 76.0
#define ABOVE_PX 18.0
#define TICK_PX 4.0
#define FONT "8.5"

struct _WbVesselSide
{
  GtkWidget parent_instance;

  /* state */
  double    fill, middle, base, mouth; /* inner, mm; NAN: not known */
  double    height, headspace, wall;
  gboolean  us_units;
};

G_DEFINE_FINAL_TYPE (WbVesselSide, wb_vessel_side, GTK_TYPE_WIDGET)

/* What is drawn, known or not; mm, heights from the inner base. */
typedef struct
{
  double fill, middle, base, rim, height, top, wall;
} Outline;

typedef struct
{
  cairo_t     *cr;
  PangoLayout *layout;
  GdkRGBA      ink, wax, glass;
  Outline      outline;
  double       scale, centre, floor; /* pixels a mm; x of the axis, y of the inner base */
} Pen;

static double
known_or (double value,
          double otherwise)
{
  return value > 0 ? value : otherwise;
}

static Outline
outline_of (const WbVesselSide *self)
{
  Outline line;

  line.fill = known_or (self->fill, USUAL_INNER_MM);
  line.base = known_or (self->base, known_or (self->middle, line.fill));
  line.middle = known_or (self->middle, (line.fill + line.base) / 2);
  line.height = known_or (self->height, line.fill * USUAL_HEIGHT_SHARE);
  line.top = line.height + (self->headspace >= 0 ? self->headspace : USUAL_HEADSPACE_MM);
  line.rim = known_or (self->mouth, line.fill);
  line.wall = known_or (self->wall, USUAL_WALL_MM);
  return line;
}

static void
set_colour (cairo_t       *cr,
            const GdkRGBA *colour,
            double         alpha)
{
  cairo_set_source_rgba (cr, colour->red, colour->green, colour->blue, colour->alpha * alpha);
}

static double
x_of (const Pen *pen,
      double     mm)
{
  return pen->centre + mm * pen->scale;
}

static double
y_of (const Pen *pen,
      double     mm)
{
  return pen->floor - mm * pen->scale;
}

/* The inside, up to the fill line or to the rim, grown outwards by so many mm. */
static void
add_inside (const Pen *pen,
            gboolean   to_rim,
            double     grown)
{
  const Outline *line = &pen->outline;
  const double widths[] = { line->base, line->middle, line->fill, line->rim };
  const double heights[] = { -grown, line->height / 2, line->height, line->top };
  guint n = to_rim ? 4 : 3;

  cairo_new_sub_path (pen->cr);
  for (guint i = 0; i < n; i++)
    cairo_line_to (pen->cr, x_of (pen, -(widths[i] / 2 + grown)), y_of (pen, heights[i]));
  for (guint i = n; i > 0; i--)
    cairo_line_to (pen->cr, x_of (pen, widths[i - 1] / 2 + grown), y_of (pen, heights[i - 1]));
  cairo_close_path (pen->cr);
}

static void
draw_vessel (const Pen *pen,
             gboolean   sketch)
{
  cairo_t *cr = pen->cr;

  /* The wall alone: the page shows through above the wax. */
  cairo_new_path (cr);
  add_inside (pen, TRUE, pen->outline.wall);
  add_inside (pen, TRUE, 0);
  cairo_set_fill_rule (cr, CAIRO_FILL_RULE_EVEN_ODD);
  set_colour (cr, &pen->glass, 0.28);
  cairo_fill (cr);
  cairo_set_fill_rule (cr, CAIRO_FILL_RULE_WINDING);
  add_inside (pen, TRUE, pen->outline.wall);
  if (sketch)
    cairo_set_dash (cr, (const double[]) { 5, 4 }, 2, 0);
  set_colour (cr, &pen->ink, 0.7);
  cairo_set_line_width (cr, 1);
  cairo_stroke (cr);
  cairo_set_dash (cr, NULL, 0, 0);
  add_inside (pen, FALSE, 0);
  set_colour (cr, &pen->wax, 0.22);
  cairo_fill (cr);
  add_inside (pen, TRUE, 0);
  set_colour (cr, &pen->ink, 0.45);
  cairo_stroke (cr);
}

static void
write_at (const Pen *pen,
          double     x,
          double     y,
          double     mm,
          gboolean   us_units,
          gboolean   centred)
{
  g_autofree char *text = wb_quantity_format (wb_quantity_get_shown_unit (WB_QUANTITY_LENGTH, us_units), mm, -1);
  int width, height;

  pango_layout_set_text (pen->layout, text, -1);
  pango_layout_get_pixel_size (pen->layout, &width, &height);
  cairo_move_to (pen->cr, centred ? x - width / 2.0 : x, centred ? y - height - 1 : y - height / 2.0);
  set_colour (pen->cr, &pen->ink, 1);
  pango_cairo_show_layout (pen->cr, pen->layout);
}

/* From wall to wall, at that height. */
static void
draw_across (const Pen *pen,
             double     mm,
             double     at,
             gboolean   us_units)
{
  double y = y_of (pen, at), left = x_of (pen, -mm / 2), right = x_of (pen, mm / 2);
  cairo_t *cr = pen->cr;

  cairo_move_to (cr, left, y);
  cairo_line_to (cr, right, y);
  cairo_move_to (cr, left, y - TICK_PX);
  cairo_line_to (cr, left, y + TICK_PX);
  cairo_move_to (cr, right, y - TICK_PX);
  cairo_line_to (cr, right, y + TICK_PX);
  set_colour (cr, &pen->ink, 0.8);
  cairo_set_line_width (cr, 1);
  cairo_stroke (cr);
  write_at (pen, pen->centre, y, mm, us_units, TRUE);
}

/* Beside the vessel, from one height to another. */
static void
draw_up (const Pen *pen,
         double     from,
         double     to,
         double     mm,
         gboolean   us_units)
{
  const Outline *line = &pen->outline;
  double widest = MAX (MAX (line->fill, line->base), MAX (line->middle, line->rim));
  double x = x_of (pen, widest / 2 + line->wall) + 10, low = y_of (pen, from), high = y_of (pen, to);
  cairo_t *cr = pen->cr;

  cairo_move_to (cr, x, low);
  cairo_line_to (cr, x, high);
  cairo_move_to (cr, x - TICK_PX, low);
  cairo_line_to (cr, x + TICK_PX, low);
  cairo_move_to (cr, x - TICK_PX, high);
  cairo_line_to (cr, x + TICK_PX, high);
  set_colour (cr, &pen->ink, 0.8);
  cairo_set_line_width (cr, 1);
  cairo_stroke (cr);
  write_at (pen, x + 7, (low + high) / 2, mm, us_units, FALSE);
}

static void
draw_measures (WbVesselSide *self,
               const Pen    *pen)
{
  const Outline *line = &pen->outline;

  if (self->fill > 0)
    draw_across (pen, self->fill, line->height, self->us_units);
  if (self->middle > 0)
    draw_across (pen, self->middle, line->height / 2, self->us_units);
  if (self->base > 0)
    draw_across (pen, self->base, MIN (line->height * 0.03, 2), self->us_units);
  if (self->mouth > 0 && self->headspace > 0)
    draw_across (pen, self->mouth, line->top, self->us_units);
  if (self->height > 0)
    draw_up (pen, 0, line->height, self->height, self->us_units);
  if (self->headspace > 0)
    draw_up (pen, line->height, line->top, self->headspace, self->us_units);
}

/* FALSE: there is no room. */
static gboolean
set_scale (Pen *pen,
           int  width,
           int  height)
{
  const Outline *line = &pen->outline;
  double widest = MAX (MAX (line->fill, line->base), MAX (line->middle, line->rim)) + 2 * line->wall;
  double tall = line->top + line->wall;

  pen->scale = MIN ((width - LEFT_PX - RIGHT_PX) / widest, (height - ABOVE_PX - 8) / tall);
  pen->centre = LEFT_PX + (width - LEFT_PX - RIGHT_PX) / 2;
  pen->floor = (height + ABOVE_PX + tall * pen->scale) / 2 - line->wall * pen->scale;
  return pen->scale > 0;
}

static void
look_up (GtkWidget *widget,
         Pen       *pen)
{
  GtkStyleContext *style = gtk_widget_get_style_context (widget);

  gtk_style_context_get_color (style, &pen->ink);
  pen->wax = pen->glass = pen->ink;
  gtk_style_context_lookup_color (style, "wb_ember", &pen->wax);
  gtk_style_context_lookup_color (style, "wb_glass", &pen->glass);
}

static void
wb_vessel_side_snapshot (GtkWidget   *widget,
                         GtkSnapshot *snapshot)
{
  WbVesselSide *self = WB_VESSEL_SIDE (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  PangoFontDescription *font;
  Pen pen = { .outline = outline_of (self) };

  if (!set_scale (&pen, width, height))
    return;
  look_up (widget, &pen);
  pen.cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, (float) width, (float) height));
  pen.layout = gtk_widget_create_pango_layout (widget, NULL);
  font = pango_font_description_from_string (FONT);
  pango_layout_set_font_description (pen.layout, font);
  draw_vessel (&pen, !(self->fill > 0 && self->height > 0));
  draw_measures (self, &pen);
  pango_font_description_free (font);
  g_object_unref (pen.layout);
  cairo_destroy (pen.cr);
}

static void
wb_vessel_side_class_init (WbVesselSideClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  widget_class->snapshot = wb_vessel_side_snapshot;
  gtk_widget_class_set_css_name (widget_class, "vesselside");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
wb_vessel_side_init (WbVesselSide *self)
{
  self->fill = self->middle = self->base = self->mouth = self->height = self->headspace = self->wall = NAN;
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, _("The vessel from the side, to scale"), -1);
}

GtkWidget *
wb_vessel_side_new (void)
{
  return g_object_new (WB_TYPE_VESSEL_SIDE, NULL);
}

static void
add_words (GString    *words,
           const char *what,
           double      mm,
           gboolean    us_units)
{
  g_autofree char *size = NULL;

  if (!(mm > 0))
    return;
  size = wb_quantity_format (wb_quantity_get_shown_unit (WB_QUANTITY_LENGTH, us_units), mm, -1);
  g_string_append_printf (words, "%s%s: %s", words->len > 0 ? "; " : "", what, size);
}

static void
describe (WbVesselSide *self)
{
  g_autoptr (GString) words = g_string_new (NULL);

  add_words (words, _("at the fill line"), self->fill, self->us_units);
  add_words (words, _("at half height"), self->middle, self->us_units);
  add_words (words, _("at the base"), self->base, self->us_units);
  add_words (words, _("height of the wax"), self->height, self->us_units);
  add_words (words, _("headspace"), self->headspace, self->us_units);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                  words->len > 0 ? words->str : _("Nothing is measured yet."), -1);
}

void
wb_vessel_side_set (WbVesselSide   *self,
                    const WbVessel *vessel,
                    gboolean        us_units)
{
  g_return_if_fail (WB_IS_VESSEL_SIDE (self));
  g_return_if_fail (vessel != NULL);

  self->fill = vessel->inner_diameter_mm;
  self->middle = vessel->middle_diameter_mm;
  self->base = vessel->base_diameter_mm;
  self->mouth = vessel->mouth_mm;
  self->height = vessel->wax_height_mm;
  self->headspace = vessel->headspace_mm;
  self->wall = vessel->wall_mm;
  self->us_units = us_units;
  describe (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}
