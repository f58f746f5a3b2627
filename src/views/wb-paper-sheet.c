/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-paper-sheet.h"

#include <glib/gi18n.h>

/* Pixels a point: no narrower than that a thumb of a page is seen, no wider than twice a screen's usual size. */
#define LEAST_SCALE 0.35
#define MOST_SCALE 2.0

struct _WbPaperSheet
{
  GtkWidget     parent_instance;

  /* owned */
  WbPaper      *paper;
  GdkTexture   *picture;     /* NULL: none yet */
  GCancellable *cancellable; /* of the picture that is being drawn; NULL: none is */

  /* state */
  guint         page;
  gboolean      shown;
};

G_DEFINE_FINAL_TYPE (WbPaperSheet, wb_paper_sheet, GTK_TYPE_WIDGET)

static int
get_wanted_width (WbPaperSheet *self)
{
  return gtk_widget_get_width (GTK_WIDGET (self)) * gtk_widget_get_scale_factor (GTK_WIDGET (self));
}

static void render (WbPaperSheet *self);

static void
on_rendered_cb (GObject      *source,
                GAsyncResult *result,
                gpointer      user)
{
  g_autoptr (WbPaperSheet) self = user;
  g_autoptr (GdkTexture) picture = wb_paper_render_finish (result, NULL);

  if (picture == NULL)
    return;
  g_clear_object (&self->cancellable);
  g_set_object (&self->picture, picture);
  gtk_widget_queue_draw (GTK_WIDGET (self));
  render (self);
}

/* One picture at a time: when it is there, the size may have changed again. */
static void
render (WbPaperSheet *self)
{
  if (!self->shown || self->cancellable != NULL || get_wanted_width (self) <= 0 || wb_paper_sheet_is_drawn (self))
    return;
  self->cancellable = g_cancellable_new ();
  wb_paper_render_async (self->paper, self->page, get_wanted_width (self), self->cancellable, on_rendered_cb, g_object_ref (self));
}

static void
stop (WbPaperSheet *self)
{
  if (self->cancellable != NULL)
    g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
}

static GtkSizeRequestMode
wb_paper_sheet_get_request_mode (GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
wb_paper_sheet_measure (GtkWidget      *widget,
                        GtkOrientation  orientation,
                        int             for_size,
                        int            *minimum,
                        int            *natural,
                        int            *minimum_baseline,
                        int            *natural_baseline)
{
  WbPaperSheet *self = WB_PAPER_SHEET (widget);
  double width, height;

  wb_paper_get_size (self->paper, &width, &height);
  if (orientation == GTK_ORIENTATION_HORIZONTAL)
    {
      *minimum = (int) (width * LEAST_SCALE);
      *natural = (int) (width * MOST_SCALE);
    }
  else
    *minimum = *natural = (int) ((for_size > 0 ? for_size : width) * height / width + 0.5);
}

static void
wb_paper_sheet_size_allocate (GtkWidget *widget,
                              int        width,
                              int        height,
                              int        baseline)
{
  render (WB_PAPER_SHEET (widget));
}

static void
wb_paper_sheet_snapshot (GtkWidget   *widget,
                         GtkSnapshot *snapshot)
{
  WbPaperSheet *self = WB_PAPER_SHEET (widget);
  graphene_rect_t bounds = GRAPHENE_RECT_INIT (0, 0, gtk_widget_get_width (widget), gtk_widget_get_height (widget));

  render (self); /* the screen's scale may have changed */
  if (self->picture != NULL)
    gtk_snapshot_append_texture (snapshot, self->picture, &bounds);
}

static void
wb_paper_sheet_dispose (GObject *object)
{
  WbPaperSheet *self = WB_PAPER_SHEET (object);

  stop (self);
  self->shown = FALSE;
  g_clear_object (&self->picture);
  G_OBJECT_CLASS (wb_paper_sheet_parent_class)->dispose (object);
}

static void
wb_paper_sheet_finalize (GObject *object)
{
  wb_paper_unref (WB_PAPER_SHEET (object)->paper);
  G_OBJECT_CLASS (wb_paper_sheet_parent_class)->finalize (object);
}

static void
wb_paper_sheet_class_init (WbPaperSheetClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_paper_sheet_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_paper_sheet_finalize;
  widget_class->get_request_mode = wb_paper_sheet_get_request_mode;
  widget_class->measure = wb_paper_sheet_measure;
  widget_class->size_allocate = wb_paper_sheet_size_allocate;
  widget_class->snapshot = wb_paper_sheet_snapshot;
  gtk_widget_class_set_css_name (widget_class, "papersheet");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
wb_paper_sheet_init (WbPaperSheet *self)
{
  gtk_widget_set_halign (GTK_WIDGET (self), GTK_ALIGN_CENTER);
  gtk_widget_set_overflow (GTK_WIDGET (self), GTK_OVERFLOW_HIDDEN);
}

GtkWidget *
wb_paper_sheet_new (WbPaper *paper,
                    guint    page)
{
  g_autofree char *label = NULL;
  g_autofree char *text = NULL;
  WbPaperSheet *self;

  g_return_val_if_fail (paper != NULL && page < wb_paper_get_n_pages (paper), NULL);

  self = g_object_new (WB_TYPE_PAPER_SHEET, NULL);
  self->paper = wb_paper_ref (paper);
  self->page = page;
  /* Translators: number of the page, then how many there are. */
  label = g_strdup_printf (_("Page %u of %u"), page + 1, wb_paper_get_n_pages (paper));
  text = wb_paper_dup_text (paper, page);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, label, GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, text, -1);
  return GTK_WIDGET (self);
}

void
wb_paper_sheet_set_shown (WbPaperSheet *self,
                          gboolean      shown)
{
  g_return_if_fail (WB_IS_PAPER_SHEET (self));

  if (self->shown == shown)
    return;
  self->shown = shown;
  if (shown)
    {
      render (self);
      return;
    }
  stop (self);
  g_clear_object (&self->picture);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

gboolean
wb_paper_sheet_is_drawn (WbPaperSheet *self)
{
  g_return_val_if_fail (WB_IS_PAPER_SHEET (self), FALSE);

  return self->picture != NULL && gdk_texture_get_width (self->picture) == get_wanted_width (self);
}
