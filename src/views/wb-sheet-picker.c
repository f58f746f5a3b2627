/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-sheet-picker.h"

#include <glib/gi18n.h>

#define WIDE 208.0  /* pixels: the page at most */
#define HIGH 294.0
#define SMALL 168.0 /* its longer side, where there is little room */
#define EDGE 3.0   /* around it, for the ring of the focus */

struct _WbSheetPicker
{
  GtkWidget          parent_instance;

  /* state */
  WbReportLabelSheet sheet;
  guint              n_labels;
  guint              first;
  gboolean           is_small;
};

G_DEFINE_FINAL_TYPE (WbSheetPicker, wb_sheet_picker, GTK_TYPE_WIDGET)

enum { PICKED, N_SIGNALS };
static guint signals[N_SIGNALS];

static double
get_scale (const WbSheetPicker *self)
{
  if (self->is_small)
    return SMALL / MAX (self->sheet.page_width, self->sheet.page_height);
  return MIN (WIDE / self->sheet.page_width, HIGH / self->sheet.page_height);
}

static void
tell (WbSheetPicker *self)
{
  guint places = wb_report_label_sheet_get_places (&self->sheet);
  /* Translators: number of a label on its sheet, then how many a sheet has. */
  g_autofree char *text = g_strdup_printf (_("Label %u of %u"), self->first + 1, places);

  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_VALUE_MIN, 1.0,
                                  GTK_ACCESSIBLE_PROPERTY_VALUE_MAX, (double) places,
                                  GTK_ACCESSIBLE_PROPERTY_VALUE_NOW, (double) self->first + 1,
                                  GTK_ACCESSIBLE_PROPERTY_VALUE_TEXT, text, -1);
}

static void
pick (WbSheetPicker *self,
      guint          place)
{
  if (place >= wb_report_label_sheet_get_places (&self->sheet) || place == self->first)
    return;
  wb_sheet_picker_set_first (self, place);
  g_signal_emit (self, signals[PICKED], 0);
}

/* Left top corner of a place on the page; mm. */
static void
get_corner (const WbSheetPicker *self,
            guint                place,
            double              *x,
            double              *y)
{
  *x = self->sheet.left + place % self->sheet.columns * self->sheet.pitch_x;
  *y = self->sheet.top + place / self->sheet.columns * self->sheet.pitch_y;
}

/* A stroke through what is used: it is told without a colour too. */
static void
draw_place (const WbSheetPicker *self,
            cairo_t             *cr,
            guint                place,
            const GdkRGBA       *ink,
            const GdkRGBA       *accent)
{
  double scale = get_scale (self), x, y, width = self->sheet.width * scale, height = self->sheet.height * scale;
  gboolean used = place < self->first, printed = !used && place < self->first + self->n_labels;

  get_corner (self, place, &x, &y);
  x = EDGE + x * scale;
  y = EDGE + y * scale;
  cairo_rectangle (cr, x + 1, y + 1, MAX (width - 2, 1), MAX (height - 2, 1));
  if (printed)
    {
      gdk_cairo_set_source_rgba (cr, accent);
      cairo_fill_preserve (cr);
    }
  cairo_set_source_rgba (cr, ink->red, ink->green, ink->blue, ink->alpha * (used ? 0.45 : 0.8));
  cairo_stroke (cr);
  if (!used)
    return;
  cairo_move_to (cr, x + 2, y + height - 2);
  cairo_line_to (cr, x + width - 2, y + 2);
  cairo_stroke (cr);
}

static void
wb_sheet_picker_snapshot (GtkWidget   *widget,
                          GtkSnapshot *snapshot)
{
  WbSheetPicker *self = WB_SHEET_PICKER (widget);
  GtkStyleContext *style = gtk_widget_get_style_context (widget);
  graphene_rect_t bounds = GRAPHENE_RECT_INIT (0, 0, gtk_widget_get_width (widget), gtk_widget_get_height (widget));
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &bounds);
  double scale = get_scale (self);
  GdkRGBA ink, accent;

  gtk_style_context_get_color (style, &ink);
  accent = ink;
  gtk_style_context_lookup_color (style, "wb_accent", &accent);
  cairo_set_line_width (cr, 1);
  gdk_cairo_set_source_rgba (cr, &ink);
  cairo_rectangle (cr, EDGE - 0.5, EDGE - 0.5, self->sheet.page_width * scale + 1, self->sheet.page_height * scale + 1);
  cairo_stroke (cr);
  for (guint i = 0; i < wb_report_label_sheet_get_places (&self->sheet); i++)
    draw_place (self, cr, i, &ink, &accent);
  cairo_destroy (cr);
}

static void
wb_sheet_picker_measure (GtkWidget      *widget,
                         GtkOrientation  orientation,
                         int             for_size,
                         int            *minimum,
                         int            *natural,
                         int            *minimum_baseline,
                         int            *natural_baseline)
{
  WbSheetPicker *self = WB_SHEET_PICKER (widget);
  double length = orientation == GTK_ORIENTATION_HORIZONTAL ? self->sheet.page_width : self->sheet.page_height;

  *minimum = *natural = (int) (length * get_scale (self) + 2 * EDGE + 1);
}

guint
wb_sheet_picker_find (WbSheetPicker *self,
                      double         x,
                      double         y)
{
  guint places;

  g_return_val_if_fail (WB_IS_SHEET_PICKER (self), 0);

  places = wb_report_label_sheet_get_places (&self->sheet);
  x = (x - EDGE) / get_scale (self);
  y = (y - EDGE) / get_scale (self);
  for (guint i = 0; i < places; i++)
    {
      double left, top;

      get_corner (self, i, &left, &top);
      if (x >= left && x < left + self->sheet.width && y >= top && y < top + self->sheet.height)
        return i;
    }
  return places;
}

static void
on_clicked_cb (GtkGestureClick *gesture,
               int              n_press,
               double           x,
               double           y,
               WbSheetPicker   *self)
{
  gtk_widget_grab_focus (GTK_WIDGET (self));
  pick (self, wb_sheet_picker_find (self, x, y));
}

static gboolean
on_key_cb (GtkWidget *widget,
           GVariant  *steps,
           gpointer   user)
{
  WbSheetPicker *self = WB_SHEET_PICKER (widget);
  int right, down, place = (int) self->first, places = (int) wb_report_label_sheet_get_places (&self->sheet);

  g_variant_get (steps, "(ii)", &right, &down);
  if (right == G_MININT)
    place = 0;
  else if (right == G_MAXINT)
    place = places - 1;
  else
    place += right + down * (int) self->sheet.columns;
  if (place < 0 || place >= places)
    return FALSE;
  pick (self, (guint) place);
  return TRUE;
}

static void
wb_sheet_picker_class_init (WbSheetPickerClass *klass)
{
  static const struct { guint key; int right, down; } steps[] = {
    { GDK_KEY_Left, -1, 0 }, { GDK_KEY_Right, 1, 0 }, { GDK_KEY_Up, 0, -1 }, { GDK_KEY_Down, 0, 1 },
    { GDK_KEY_Home, G_MININT, 0 }, { GDK_KEY_End, G_MAXINT, 0 },
  };
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  widget_class->measure = wb_sheet_picker_measure;
  widget_class->snapshot = wb_sheet_picker_snapshot;
  for (guint i = 0; i < G_N_ELEMENTS (steps); i++)
    gtk_widget_class_add_binding (widget_class, steps[i].key, 0, on_key_cb, "(ii)", steps[i].right, steps[i].down);
  gtk_widget_class_set_css_name (widget_class, "sheetpicker");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_SPIN_BUTTON);
  signals[PICKED] = g_signal_new ("picked", WB_TYPE_SHEET_PICKER, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
wb_sheet_picker_init (WbSheetPicker *self)
{
  GtkGesture *click = gtk_gesture_click_new ();

  self->sheet = wb_report_label_sheet_preset (WB_REPORT_LABELS_A4_24);
  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
  g_signal_connect (click, "pressed", G_CALLBACK (on_clicked_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (click));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, _("First free label of the sheet"), -1);
  tell (self);
}

void
wb_sheet_picker_set_sheet (WbSheetPicker            *self,
                           const WbReportLabelSheet *sheet,
                           guint                     n_labels)
{
  guint places;

  g_return_if_fail (WB_IS_SHEET_PICKER (self));
  g_return_if_fail (sheet != NULL);

  self->sheet = *sheet;
  self->n_labels = n_labels;
  places = wb_report_label_sheet_get_places (sheet);
  self->first = MIN (self->first, places > 0 ? places - 1 : 0);
  tell (self);
  gtk_widget_queue_resize (GTK_WIDGET (self));
}

void
wb_sheet_picker_set_first (WbSheetPicker *self,
                           guint          first)
{
  g_return_if_fail (WB_IS_SHEET_PICKER (self));

  if (first >= wb_report_label_sheet_get_places (&self->sheet) || first == self->first)
    return;
  self->first = first;
  tell (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
wb_sheet_picker_set_small (WbSheetPicker *self,
                           gboolean       is_small)
{
  g_return_if_fail (WB_IS_SHEET_PICKER (self));

  self->is_small = is_small;
  gtk_widget_queue_resize (GTK_WIDGET (self));
}

guint
wb_sheet_picker_get_first (WbSheetPicker *self)
{
  g_return_val_if_fail (WB_IS_SHEET_PICKER (self), 0);

  return self->first;
}
