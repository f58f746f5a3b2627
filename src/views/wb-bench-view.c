/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-bench-view.h"

#include "wb-focus-walk.h"

#include <glib/gi18n.h>
#include <math.h>

/*
 * CSS node: benchview. A group for assistive technology, with the spots as its
 * buttons. A place is a number that the person gave the sample when it was
 * lit; what has another name, or a number that is taken, stands behind the
 * numbered ones.
 */

#define CELL_PX 112      /* least width of a place, in letters of the usual size */
#define VESSEL_PX 76.0   /* the widest vessel of the bench is drawn this wide */
#define SCALE_MAX 1.0    /* pixels a mm: small vessels alone are not blown up further */
#define SPACING_PX 6
#define PLACES_MAX 99
#define FREE_PLACE_PX 30.0
/* The same where all that burns would not be seen at once otherwise. */
#define DENSE_CELL_PX 80
#define DENSE_VESSEL_PX 42.0
#define DENSE_FREE_PLACE_PX 20.0
/* Of a place with all that was read: code, time, state, three values, and what stands about its vessel. */
#define FULL_LINES 6
#define FULL_FRAME_PX 36.0

struct _WbBenchView
{
  GtkWidget   parent_instance;

  /* children */
  GtkWidget  *table_heading;
  GtkWidget  *waiting_heading;

  /* owned */
  GHashTable *spots;   /* id (gint64 *) -> WbBenchSpot, children of this widget */
  GPtrArray  *table;   /* WbBenchSpot by place, borrowed; NULL: free */
  GPtrArray  *waiting; /* WbBenchSpot, borrowed */

  /* state */
  gint64      chosen;
  gboolean    dense;
  int         room_width, room_height; /* what is seen of it without scrolling; pixels, 0: not known */
  guint       n_columns; /* as the bench stands; 0: as many as fit */
  guint       n_places; /* of the bench; beyond the next free one they are drawn only as far as their row goes */
  int         table_top, table_height; /* of the numbered surface; pixels, as last laid out */
};

G_DEFINE_FINAL_TYPE (WbBenchView, wb_bench_view, GTK_TYPE_WIDGET)

/* Places hold words: they grow with the letters, and do not shrink with small ones. */
static int
grown (WbBenchView *self,
       int          pixels)
{
  double dpi = pango_cairo_context_get_resolution (gtk_widget_get_pango_context (GTK_WIDGET (self)));

  return (int) (pixels * MAX (dpi / 96.0, 1.0));
}

/* Pixels that a place has at least, where the bench is not stated. */
static int
cell_least (WbBenchView *self)
{
  return grown (self, self->dense ? DENSE_CELL_PX : CELL_PX);
}

static double
free_radius (WbBenchView *self)
{
  return self->dense ? DENSE_FREE_PLACE_PX : FREE_PLACE_PX;
}

/* Few places lie in shorter rows; the arrangement does not change with the window unless it must. */
static int
wanted_columns (WbBenchView *self)
{
  guint places = MAX (self->n_places, self->table->len);

  return places <= 6 ? 3 : places <= 16 && !self->dense ? 4 : 6;
}

static int
table_columns (WbBenchView *self,
               int          width)
{
  return self->n_columns > 0 ? (int) self->n_columns : CLAMP (width / cell_least (self), 1, wanted_columns (self));
}

/* TRUE: the bench is drawn as it stands, whatever the width of the window. */
static gboolean
is_as_it_stands (WbBenchView *self)
{
  return self->n_columns > 0 && self->table->len > 0;
}

static int
waiting_columns (WbBenchView *self,
                 int          width)
{
  return is_as_it_stands (self) ? (int) self->n_columns : MAX (width / cell_least (self), 1);
}

/* Of both sections, so that they stand below each other. */
static int
cell_width (WbBenchView *self,
            int          width)
{
  return width / waiting_columns (self, width);
}

static int
row_height (WbBenchView     *self,
            const GPtrArray *spots,
            int              cell)
{
  /* A row where nothing burns has its outlines. */
  int height = g_ptr_array_find ((GPtrArray *) spots, NULL, NULL) ? (int) (2 * free_radius (self) + SPACING_PX) : 0;

  for (guint i = 0; i < spots->len; i++)
    {
      int natural = 0;

      if (g_ptr_array_index (spots, i) != NULL)
        gtk_widget_measure (g_ptr_array_index (spots, i), GTK_ORIENTATION_VERTICAL, cell - SPACING_PX, NULL, &natural, NULL, NULL);
      height = MAX (height, natural);
    }
  return height;
}

static int
section_height (WbBenchView     *self,
                const GPtrArray *spots,
                int              columns,
                int              width)
{
  int rows = ((int) spots->len + columns - 1) / columns;

  return rows == 0 ? 0 : rows * (row_height (self, spots, cell_width (self, width)) + SPACING_PX);
}

/* What a place needs so that no word of it is cut. */
static int
widest_spot (WbBenchView *self)
{
  int widest = 0;
  GHashTableIter iter;
  gpointer spot;

  g_hash_table_iter_init (&iter, self->spots);
  while (g_hash_table_iter_next (&iter, NULL, &spot))
    {
      int minimum = 0;

      gtk_widget_measure (spot, GTK_ORIENTATION_HORIZONTAL, -1, &minimum, NULL, NULL, NULL);
      widest = MAX (widest, minimum);
    }
  return self->dense ? widest + SPACING_PX : MAX (widest + SPACING_PX, grown (self, CELL_PX));
}

static int
heading_height (GtkWidget *heading,
                int        width)
{
  int natural = 0;

  if (gtk_widget_should_layout (heading))
    gtk_widget_measure (heading, GTK_ORIENTATION_VERTICAL, width, NULL, &natural, NULL, NULL);
  return natural;
}

/* Its rows depend on how many places lie side by side: a scroller that asked without a width would cut the last ones off. */
static GtkSizeRequestMode
wb_bench_view_get_request_mode (GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
wb_bench_view_measure (GtkWidget      *widget,
                       GtkOrientation  orientation,
                       int             for_size,
                       int            *minimum,
                       int            *natural,
                       int            *minimum_baseline,
                       int            *natural_baseline)
{
  WbBenchView *self = WB_BENCH_VIEW (widget);
  int width = for_size > 0 ? for_size : 4 * grown (self, CELL_PX);

  if (orientation == GTK_ORIENTATION_HORIZONTAL)
    {
      *minimum = is_as_it_stands (self) ? (int) self->n_columns * widest_spot (self) : 2 * grown (self, CELL_PX);
      *natural = MAX (*minimum, 4 * grown (self, CELL_PX));
      return;
    }
  *minimum = *natural = heading_height (self->table_heading, width) + heading_height (self->waiting_heading, width)
                        + section_height (self, self->table, table_columns (self, width), width)
                        + section_height (self, self->waiting, waiting_columns (self, width), width);
}

static int
allocate_heading (GtkWidget *heading,
                  int        top,
                  int        width)
{
  int height = heading_height (heading, width);

  if (gtk_widget_should_layout (heading))
    gtk_widget_size_allocate (heading, &(GtkAllocation) { 0, top, width, height }, -1);
  return top + height;
}

/* Where a column begins, mirrored in right-to-left. */
static int
column_x (GtkWidget *widget,
          int        column,
          int        width)
{
  int cell = cell_width (WB_BENCH_VIEW (widget), width);

  return gtk_widget_get_direction (widget) == GTK_TEXT_DIR_RTL ? width - (column + 1) * cell : column * cell;
}

static int
allocate_section (WbBenchView     *self,
                  const GPtrArray *spots,
                  int              columns,
                  int              top,
                  int              width)
{
  int cell = cell_width (self, width);
  int height = row_height (self, spots, cell);

  for (guint i = 0; i < spots->len; i++)
    {
      GtkAllocation at = { column_x (GTK_WIDGET (self), (int) i % columns, width) + SPACING_PX / 2,
                           top + (int) i / columns * (height + SPACING_PX) + SPACING_PX / 2, cell - SPACING_PX, height };

      if (g_ptr_array_index (spots, i) != NULL)
        gtk_widget_size_allocate (g_ptr_array_index (spots, i), &at, -1);
    }
  return top + section_height (self, spots, columns, width);
}

static void
wb_bench_view_size_allocate (GtkWidget *widget,
                             int        width,
                             int        height,
                             int        baseline)
{
  WbBenchView *self = WB_BENCH_VIEW (widget);
  int top = allocate_heading (self->table_heading, 0, width);

  self->table_top = top;
  top = allocate_section (self, self->table, table_columns (self, width), top, width);
  self->table_height = top - self->table_top;
  top = allocate_heading (self->waiting_heading, top, width);
  allocate_section (self, self->waiting, waiting_columns (self, width), top, width);
}

static void
draw_free_place (WbBenchView *self,
                 cairo_t     *cr,
                 guint        place,
                 double       x,
                 double       y)
{
  g_autofree char *number = g_strdup_printf ("%u", place + 1);
  g_autoptr (PangoLayout) layout = gtk_widget_create_pango_layout (GTK_WIDGET (self), number);
  PangoRectangle extents;
  GdkRGBA ink;

  gtk_style_context_get_color (gtk_widget_get_style_context (GTK_WIDGET (self)), &ink);
  ink.alpha *= 0.55f;
  gdk_cairo_set_source_rgba (cr, &ink);
  cairo_set_dash (cr, (const double[]) { 3, 3 }, 2, 0);
  cairo_set_line_width (cr, 1);
  cairo_new_path (cr);
  cairo_arc (cr, x, y, free_radius (self), 0, 2 * G_PI);
  cairo_stroke (cr);
  pango_layout_get_pixel_extents (layout, NULL, &extents);
  cairo_move_to (cr, x - extents.width / 2.0, y - extents.height / 2.0);
  pango_cairo_show_layout (cr, layout);
}

static void
wb_bench_view_snapshot (GtkWidget   *widget,
                        GtkSnapshot *snapshot)
{
  WbBenchView *self = WB_BENCH_VIEW (widget);
  int width = gtk_widget_get_width (widget);

  if (self->table->len > 0 && self->table_height > 0 && width > 0)
    {
      int columns = table_columns (self, width);
      int cell = cell_width (self, width);
      int rows = ((int) self->table->len + columns - 1) / columns;
      int row = self->table_height / rows;
      cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, self->table_top, width, self->table_height));

      for (guint i = 0; i < (guint) (rows * columns) && i < MAX (self->n_places, self->table->len); i++)
        if (i >= self->table->len || g_ptr_array_index (self->table, i) == NULL)
          draw_free_place (self, cr, i, column_x (widget, (int) i % columns, width) + cell / 2.0,
                           self->table_top + (int) i / columns * row + row / 2.0);
      cairo_destroy (cr);
    }
  GTK_WIDGET_CLASS (wb_bench_view_parent_class)->snapshot (widget, snapshot);
}

/* Tab comes in at the chosen one and leaves from any; arrows go where they point. */
static gboolean
wb_bench_view_focus (GtkWidget        *widget,
                     GtkDirectionType  direction)
{
  WbBenchView *self = WB_BENCH_VIEW (widget);
  gboolean tab = direction == GTK_DIR_TAB_FORWARD || direction == GTK_DIR_TAB_BACKWARD;
  WbBenchSpot *chosen = g_hash_table_lookup (self->spots, &self->chosen);

  if (tab && wb_focus_walk_is_within (widget))
    return FALSE;
  if (tab && chosen != NULL)
    return gtk_widget_grab_focus (GTK_WIDGET (chosen));
  return GTK_WIDGET_CLASS (wb_bench_view_parent_class)->focus (widget, direction);
}

static void
wb_bench_view_dispose (GObject *object)
{
  WbBenchView *self = WB_BENCH_VIEW (object);

  g_ptr_array_set_size (self->table, 0);
  g_ptr_array_set_size (self->waiting, 0);
  g_hash_table_remove_all (self->spots);
  g_clear_pointer (&self->table_heading, gtk_widget_unparent);
  g_clear_pointer (&self->waiting_heading, gtk_widget_unparent);
  G_OBJECT_CLASS (wb_bench_view_parent_class)->dispose (object);
}

static void
wb_bench_view_finalize (GObject *object)
{
  WbBenchView *self = WB_BENCH_VIEW (object);

  g_hash_table_unref (self->spots);
  g_ptr_array_unref (self->table);
  g_ptr_array_unref (self->waiting);
  G_OBJECT_CLASS (wb_bench_view_parent_class)->finalize (object);
}

static void
wb_bench_view_class_init (WbBenchViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_bench_view_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_bench_view_finalize;
  widget_class->get_request_mode = wb_bench_view_get_request_mode;
  widget_class->measure = wb_bench_view_measure;
  widget_class->size_allocate = wb_bench_view_size_allocate;
  widget_class->snapshot = wb_bench_view_snapshot;
  widget_class->focus = wb_bench_view_focus;
  gtk_widget_class_set_css_name (widget_class, "benchview");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
}

static GtkWidget *
heading_new (WbBenchView *self,
             const char  *text)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", text, "xalign", 0.0, "visible", FALSE, NULL);

  gtk_widget_add_css_class (label, "benchheading");
  gtk_widget_set_parent (label, GTK_WIDGET (self));
  return label;
}

static void
wb_bench_view_init (WbBenchView *self)
{
  self->spots = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, (GDestroyNotify) gtk_widget_unparent);
  self->table = g_ptr_array_new ();
  self->waiting = g_ptr_array_new ();
  self->table_heading = heading_new (self, _("Alight, each in its place"));
  self->waiting_heading = heading_new (self, _("Waiting"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, _("The bench from above"), -1);
}

GtkWidget *
wb_bench_view_new (void)
{
  return g_object_new (WB_TYPE_BENCH_VIEW, NULL);
}

static WbBenchSpot *
ensure_spot (WbBenchView      *self,
             GHashTable       *old,
             WbAppBenchSample *sample)
{
  gint64 id = wb_app_bench_sample_get_id (sample);
  gpointer key = NULL, spot = NULL;

  if (g_hash_table_steal_extended (old, &id, &key, &spot) && wb_bench_spot_get_sample (spot) != sample)
    {
      gtk_widget_unparent (spot);
      g_clear_pointer (&key, g_free);
      spot = NULL;
    }
  if (spot == NULL)
    {
      spot = wb_bench_spot_new (sample);
      key = g_memdup2 (&id, sizeof id);
    }
  g_hash_table_insert (self->spots, key, spot);
  /* In the order of the lists, which is the order of the keyboard and of the accessible tree. */
  if (gtk_widget_get_parent (spot) == NULL)
    gtk_widget_set_parent (spot, GTK_WIDGET (self));
  return spot;
}

static void
put_in_place (WbBenchView *self,
              WbBenchSpot *spot)
{
  guint number = wb_app_bench_sample_get_place_number (wb_bench_spot_get_sample (spot), PLACES_MAX);

  if (number > self->table->len)
    g_ptr_array_set_size (self->table, (int) number);
  if (number > 0 && g_ptr_array_index (self->table, number - 1) == NULL)
    g_ptr_array_index (self->table, number - 1) = spot;
}

static void
set_scale (WbBenchView *self)
{
  double widest_mm = 1;
  GHashTableIter iter;
  gpointer spot;

  g_hash_table_iter_init (&iter, self->spots);
  while (g_hash_table_iter_next (&iter, NULL, &spot))
    widest_mm = MAX (widest_mm, wb_bench_spot_get_width_mm (spot));
  g_hash_table_iter_init (&iter, self->spots);
  while (g_hash_table_iter_next (&iter, NULL, &spot))
    {
      wb_bench_spot_set_dense (spot, self->dense);
      wb_bench_spot_set_scale (spot, MIN ((self->dense ? DENSE_VESSEL_PX : VESSEL_PX) / widest_mm, SCALE_MAX), widest_mm);
    }
}

/* Whether the places of the table would not be seen at once with all that was read written under them. */
static gboolean
needs_density (WbBenchView *self)
{
  g_autoptr (PangoLayout) layout = NULL;
  int columns, rows, line;

  if (self->room_width <= 0 || self->room_height <= 0 || self->table->len == 0)
    return FALSE;
  columns = self->n_columns > 0 ? (int) self->n_columns : CLAMP (self->room_width / grown (self, CELL_PX), 1, wanted_columns (self));
  if (columns * grown (self, CELL_PX) > self->room_width)
    return TRUE;
  layout = gtk_widget_create_pango_layout (GTK_WIDGET (self), "0");
  pango_layout_get_pixel_size (layout, NULL, &line);
  rows = ((int) self->table->len + columns - 1) / columns;
  return rows * (VESSEL_PX + FULL_FRAME_PX + FULL_LINES * line) + heading_height (self->table_heading, self->room_width) > self->room_height;
}

static void
look_at_room (WbBenchView *self)
{
  self->dense = needs_density (self);
  set_scale (self);
  gtk_widget_queue_resize (GTK_WIDGET (self));
}

gboolean
wb_bench_view_set_room (WbBenchView *self,
                        int          width,
                        int          height)
{
  gboolean was = self->dense;

  g_return_val_if_fail (WB_IS_BENCH_VIEW (self), FALSE);
  if (self->room_width == width && self->room_height == height)
    return FALSE;
  self->room_width = width;
  self->room_height = height;
  look_at_room (self);
  return self->dense != was;
}

gboolean
wb_bench_view_get_dense (WbBenchView *self)
{
  g_return_val_if_fail (WB_IS_BENCH_VIEW (self), FALSE);
  return self->dense;
}

/* All of a bench that is drawn as it stands; else up to the next free place: that is where the next one goes. */
static void
fill_table (WbBenchView *self,
            GPtrArray   *lit)
{
  g_ptr_array_set_size (self->table, 0);
  if (self->n_columns > 0)
    g_ptr_array_set_size (self->table, (int) self->n_places);
  if (lit->len == 0)
    return;
  for (guint i = 0; i < lit->len; i++)
    put_in_place (self, g_ptr_array_index (lit, i));
  for (guint i = 0; i < lit->len; i++)
    if (!g_ptr_array_find (self->table, g_ptr_array_index (lit, i), NULL))
      g_ptr_array_add (self->table, g_ptr_array_index (lit, i));
  if (wb_bench_view_get_free_place (self) > self->table->len && self->table->len < self->n_places)
    g_ptr_array_set_size (self->table, (int) self->table->len + 1);
}

void
wb_bench_view_set (WbBenchView     *self,
                   const GPtrArray *alight,
                   const GPtrArray *waiting,
                   guint            n_places,
                   guint            n_columns)
{
  g_autoptr (GPtrArray) lit = g_ptr_array_new ();
  g_autoptr (GHashTable) old = NULL;

  g_return_if_fail (WB_IS_BENCH_VIEW (self));

  old = self->spots;
  self->spots = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, (GDestroyNotify) gtk_widget_unparent);
  g_ptr_array_set_size (self->waiting, 0);
  for (guint i = 0; i < alight->len; i++)
    g_ptr_array_add (lit, ensure_spot (self, old, g_ptr_array_index (alight, i)));
  for (guint i = 0; i < waiting->len; i++)
    g_ptr_array_add (self->waiting, ensure_spot (self, old, g_ptr_array_index (waiting, i)));
  self->n_places = MIN (n_places, PLACES_MAX);
  self->n_columns = n_columns;
  fill_table (self, lit);
  gtk_widget_set_visible (self->table_heading, self->table->len > 0);
  gtk_widget_set_visible (self->waiting_heading, self->waiting->len > 0);
  look_at_room (self);
}

gboolean
wb_bench_view_has_size (WbBenchView *self,
                        guint        n_places,
                        guint        n_columns)
{
  g_return_val_if_fail (WB_IS_BENCH_VIEW (self), FALSE);
  return self->n_places == MIN (n_places, PLACES_MAX) && self->n_columns == n_columns;
}

gboolean
wb_bench_view_is_in_place (WbBenchView *self)
{
  g_return_val_if_fail (WB_IS_BENCH_VIEW (self), TRUE);
  for (guint i = 0; i < self->table->len; i++)
    {
      WbBenchSpot *spot = g_ptr_array_index (self->table, i);
      guint number = spot != NULL ? wb_app_bench_sample_get_place_number (wb_bench_spot_get_sample (spot), PLACES_MAX) : 0;

      /* Of two at one place the other stands there. */
      if (number > 0 && number != i + 1 && (number > self->table->len || g_ptr_array_index (self->table, number - 1) == NULL))
        return FALSE;
    }
  return TRUE;
}

void
wb_bench_view_update (WbBenchView *self,
                      gboolean     us_units,
                      GHashTable  *unsaved)
{
  GHashTableIter iter;
  gpointer id, spot;

  g_return_if_fail (WB_IS_BENCH_VIEW (self));
  g_hash_table_iter_init (&iter, self->spots);
  while (g_hash_table_iter_next (&iter, &id, &spot))
    wb_bench_spot_update (spot, us_units, unsaved != NULL && g_hash_table_contains (unsaved, id));
}

WbBenchSpot *
wb_bench_view_find (WbBenchView *self,
                    gint64       sample)
{
  g_return_val_if_fail (WB_IS_BENCH_VIEW (self), NULL);
  return g_hash_table_lookup (self->spots, &sample);
}

/* How far it is in the direction, and off it; FALSE: it lies elsewhere. */
static gboolean
get_way (WbBenchView      *self,
         GtkWidget        *from,
         GtkWidget        *to,
         GtkDirectionType  direction,
         double           *far,
         double           *off)
{
  graphene_rect_t a, b;
  double right, down;

  if (!gtk_widget_compute_bounds (from, GTK_WIDGET (self), &a) || !gtk_widget_compute_bounds (to, GTK_WIDGET (self), &b))
    return FALSE;
  right = b.origin.x + b.size.width / 2.0 - a.origin.x - a.size.width / 2.0;
  down = b.origin.y + b.size.height / 2.0 - a.origin.y - a.size.height / 2.0;
  *far = direction == GTK_DIR_LEFT ? -right : direction == GTK_DIR_RIGHT ? right : direction == GTK_DIR_UP ? -down : down;
  *off = fabs (direction == GTK_DIR_LEFT || direction == GTK_DIR_RIGHT ? down : right);
  return *far > 1 && *off <= *far;
}

WbAppBenchSample *
wb_bench_view_find_beside (WbBenchView      *self,
                           gint64            from,
                           GtkDirectionType  direction)
{
  GtkWidget *start, *nearest = NULL;
  double best = G_MAXDOUBLE;
  GHashTableIter iter;
  gpointer spot;

  g_return_val_if_fail (WB_IS_BENCH_VIEW (self), NULL);

  start = g_hash_table_lookup (self->spots, &from);
  g_hash_table_iter_init (&iter, self->spots);
  while (start != NULL && g_hash_table_iter_next (&iter, NULL, &spot))
    {
      double far, off;

      /* Off the line counts double: along a row before into the next. */
      if (spot != start && get_way (self, start, spot, direction, &far, &off) && far + 2 * off < best)
        {
          best = far + 2 * off;
          nearest = spot;
        }
    }
  return nearest != NULL ? wb_bench_spot_get_sample (WB_BENCH_SPOT (nearest)) : NULL;
}

guint
wb_bench_view_get_free_place (WbBenchView *self)
{
  guint place = 0;

  g_return_val_if_fail (WB_IS_BENCH_VIEW (self), 1);
  while (place < self->table->len && g_ptr_array_index (self->table, place) != NULL)
    place++;
  return place + 1;
}

void
wb_bench_view_set_chosen (WbBenchView *self,
                          gint64       sample)
{
  g_return_if_fail (WB_IS_BENCH_VIEW (self));
  self->chosen = sample;
}
