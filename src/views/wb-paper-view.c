/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-paper-view.h"

#include "wb-paper-sheet.h"

#include <glib/gi18n.h>

#define GAP 12          /* pixels around each page */
#define OVERLAP 0.9     /* of a screen, that Page Down moves on */
#define LINE 48.0       /* pixels, that an arrow moves on */
#define FRONT 0.35      /* how far down the view stands what counts as in front */

struct _WbPaperView
{
  GtkWidget      parent_instance;

  /* children */
  GtkWidget     *scrolled;
  GtkWidget     *box;

  /* owned */
  WbPaper       *paper;
  GPtrArray     *sheets;     /* WbPaperSheet, borrowed from the box */

  /* borrowed */
  GtkAdjustment *place;      /* of the scrolled window, which keeps it */

  /* state */
  guint          page;
  guint          look_id;    /* looks once the sheets have their places */
  guint          frames;     /* passed since that was asked */
};

G_DEFINE_FINAL_TYPE (WbPaperView, wb_paper_view, GTK_TYPE_WIDGET)

enum { PAGE_CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

/* Where a sheet begins and ends, in the adjustment's pixels; FALSE before it has a place. */
static gboolean
get_extent (WbPaperView *self,
            guint        page,
            double      *top,
            double      *bottom)
{
  graphene_rect_t bounds;

  if (page >= self->sheets->len || !gtk_widget_compute_bounds (g_ptr_array_index (self->sheets, page), self->box, &bounds) ||
      bounds.size.height < 1)
    return FALSE;
  /* the box's margin scrolls with it */
  *top = GAP + bounds.origin.y;
  *bottom = *top + bounds.size.height;
  return TRUE;
}

static void
name (WbPaperView *self)
{
  g_autofree char *label = NULL;

  if (self->paper == NULL)
    label = g_strdup (_("No page"));
  else
    /* Translators: number of the page, then how many there are. */
    label = g_strdup_printf (_("Page %u of %u"), self->page + 1, self->sheets->len);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
}

static void
set_page (WbPaperView *self,
          guint        page)
{
  if (self->page == page)
    return;
  self->page = page;
  name (self);
  g_signal_emit (self, signals[PAGE_CHANGED], 0);
}

/* Which sheets are in sight, and which is in front. */
static void
look (WbPaperView *self)
{
  double above = gtk_adjustment_get_value (self->place), size = gtk_adjustment_get_page_size (self->place);
  double top, bottom;
  guint front = 0;

  for (guint i = 0; i < self->sheets->len; i++)
    {
      gboolean placed = get_extent (self, i, &top, &bottom);

      wb_paper_sheet_set_shown (g_ptr_array_index (self->sheets, i), placed && bottom > above - size && top < above + 2 * size);
      if (placed && top <= above + FRONT * size)
        front = i;
    }
  set_page (self, front);
}

/* A frame is laid out after its ticks: what is asked in one is there in the next. */
static gboolean
on_tick_cb (GtkWidget     *widget,
            GdkFrameClock *clock,
            gpointer       user)
{
  WbPaperView *self = WB_PAPER_VIEW (widget);
  double top, bottom;

  if (gtk_widget_get_mapped (widget) && (self->frames++ < 1 || (self->sheets->len > 0 && !get_extent (self, 0, &top, &bottom))))
    return G_SOURCE_CONTINUE;
  self->look_id = 0;
  look (self);
  return G_SOURCE_REMOVE;
}

static void
look_later (WbPaperView *self)
{
  self->frames = 0;
  if (self->look_id == 0 && gtk_widget_get_mapped (GTK_WIDGET (self)))
    self->look_id = gtk_widget_add_tick_callback (GTK_WIDGET (self), on_tick_cb, NULL, NULL);
}

static void
move_to (WbPaperView *self,
         double       value)
{
  gtk_adjustment_set_value (self->place, value);
}

/* ---- Keys ---- */

static gboolean
on_line_cb (GtkWidget *widget,
            GVariant  *parameter,
            gpointer   user)
{
  WbPaperView *self = WB_PAPER_VIEW (widget);

  move_to (self, gtk_adjustment_get_value (self->place) + g_variant_get_int32 (parameter) * LINE);
  return TRUE;
}

/* A screen on, but never over the top of a page that has not been seen. */
static gboolean
on_screen_cb (GtkWidget *widget,
              GVariant  *parameter,
              gpointer   user)
{
  WbPaperView *self = WB_PAPER_VIEW (widget);
  double above = gtk_adjustment_get_value (self->place), size = gtk_adjustment_get_page_size (self->place);
  double to = above + g_variant_get_int32 (parameter) * OVERLAP * size;
  double top, bottom;

  for (guint i = 0; i < self->sheets->len && get_extent (self, i, &top, &bottom); i++)
    {
      top -= GAP;
      if (top > above + 1 && top < to)
        {
          to = top;
          break;
        }
      if (top < above - 1 && top > to)
        to = top;
    }
  move_to (self, to);
  return TRUE;
}

static gboolean
on_page_cb (GtkWidget *widget,
            GVariant  *parameter,
            gpointer   user)
{
  WbPaperView *self = WB_PAPER_VIEW (widget);
  int to = (int) self->page + g_variant_get_int32 (parameter);

  wb_paper_view_show_page (self, (guint) CLAMP (to, 0, MAX ((int) self->sheets->len - 1, 0)));
  return TRUE;
}

static gboolean
on_end_cb (GtkWidget *widget,
           GVariant  *parameter,
           gpointer   user)
{
  WbPaperView *self = WB_PAPER_VIEW (widget);

  move_to (self, g_variant_get_int32 (parameter) < 0 ? 0 : gtk_adjustment_get_upper (self->place));
  return TRUE;
}

static void
add_bindings (GtkWidgetClass *klass)
{
  static const struct { guint key, keypad; GdkModifierType modifiers; GtkShortcutFunc func; int step; } bindings[] = {
    { GDK_KEY_Up, GDK_KEY_KP_Up, 0, on_line_cb, -1 },
    { GDK_KEY_Down, GDK_KEY_KP_Down, 0, on_line_cb, 1 },
    { GDK_KEY_Page_Up, GDK_KEY_KP_Page_Up, 0, on_screen_cb, -1 },
    { GDK_KEY_Page_Down, GDK_KEY_KP_Page_Down, 0, on_screen_cb, 1 },
    { GDK_KEY_space, GDK_KEY_KP_Space, 0, on_screen_cb, 1 },
    { GDK_KEY_Page_Up, GDK_KEY_KP_Page_Up, GDK_CONTROL_MASK, on_page_cb, -1 },
    { GDK_KEY_Page_Down, GDK_KEY_KP_Page_Down, GDK_CONTROL_MASK, on_page_cb, 1 },
    { GDK_KEY_Home, GDK_KEY_KP_Home, 0, on_end_cb, -1 },
    { GDK_KEY_End, GDK_KEY_KP_End, 0, on_end_cb, 1 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (bindings); i++)
    {
      gtk_widget_class_add_binding (klass, bindings[i].key, bindings[i].modifiers, bindings[i].func, "i", bindings[i].step);
      gtk_widget_class_add_binding (klass, bindings[i].keypad, bindings[i].modifiers, bindings[i].func, "i", bindings[i].step);
    }
}

/* ---- Class ---- */

static void
on_pressed_cb (WbPaperView *self)
{
  gtk_widget_grab_focus (GTK_WIDGET (self));
}

static void
drop_sheets (WbPaperView *self)
{
  for (guint i = 0; i < self->sheets->len; i++)
    gtk_box_remove (GTK_BOX (self->box), g_ptr_array_index (self->sheets, i));
  g_ptr_array_set_size (self->sheets, 0);
}

static void
wb_paper_view_map (GtkWidget *widget)
{
  GTK_WIDGET_CLASS (wb_paper_view_parent_class)->map (widget);
  look_later (WB_PAPER_VIEW (widget));
}

static void
wb_paper_view_dispose (GObject *object)
{
  WbPaperView *self = WB_PAPER_VIEW (object);

  if (self->look_id != 0)
    gtk_widget_remove_tick_callback (GTK_WIDGET (self), self->look_id);
  self->look_id = 0;
  if (self->scrolled != NULL)
    {
      g_signal_handlers_disconnect_by_data (self->place, self);
      drop_sheets (self);
    }
  g_clear_pointer (&self->scrolled, gtk_widget_unparent);
  g_clear_pointer (&self->paper, wb_paper_unref);
  G_OBJECT_CLASS (wb_paper_view_parent_class)->dispose (object);
}

static void
wb_paper_view_finalize (GObject *object)
{
  g_ptr_array_unref (WB_PAPER_VIEW (object)->sheets);
  G_OBJECT_CLASS (wb_paper_view_parent_class)->finalize (object);
}

static void
wb_paper_view_class_init (WbPaperViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_paper_view_dispose;
  G_OBJECT_CLASS (klass)->finalize = wb_paper_view_finalize;
  signals[PAGE_CHANGED] = g_signal_new ("page-changed", WB_TYPE_PAPER_VIEW, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  widget_class->map = wb_paper_view_map;
  add_bindings (widget_class);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "paperview");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
}

static void
wb_paper_view_init (WbPaperView *self)
{
  GtkGesture *click = gtk_gesture_click_new ();

  self->sheets = g_ptr_array_new ();
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, GAP);
  gtk_widget_set_margin_top (self->box, GAP);
  gtk_widget_set_margin_bottom (self->box, GAP);
  gtk_widget_set_margin_start (self->box, GAP);
  gtk_widget_set_margin_end (self->box, GAP);
  self->scrolled = g_object_new (GTK_TYPE_SCROLLED_WINDOW, "hscrollbar-policy", GTK_POLICY_NEVER, "vscrollbar-policy", GTK_POLICY_ALWAYS,
                                 "overlay-scrolling", FALSE, "child", self->box, NULL);
  /* asked for a stop of the keyboard, it would take the key and hold it here; the keys are this widget's */
  gtk_widget_set_can_focus (self->scrolled, FALSE);
  gtk_widget_set_parent (self->scrolled, GTK_WIDGET (self));
  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
  self->place = gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (self->scrolled));
  g_signal_connect_swapped (self->place, "value-changed", G_CALLBACK (look), self);
  g_signal_connect_swapped (self->place, "changed", G_CALLBACK (look_later), self);
  g_signal_connect_swapped (click, "pressed", G_CALLBACK (on_pressed_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (click));
  name (self);
}

GtkWidget *
wb_paper_view_new (void)
{
  return g_object_new (WB_TYPE_PAPER_VIEW, NULL);
}

void
wb_paper_view_set_paper (WbPaperView *self,
                         WbPaper     *paper)
{
  g_return_if_fail (WB_IS_PAPER_VIEW (self));

  if (paper != NULL)
    wb_paper_ref (paper);
  drop_sheets (self);
  g_clear_pointer (&self->paper, wb_paper_unref);
  self->paper = paper;
  for (guint i = 0; paper != NULL && i < wb_paper_get_n_pages (paper); i++)
    {
      GtkWidget *sheet = wb_paper_sheet_new (paper, i);

      gtk_box_append (GTK_BOX (self->box), sheet);
      g_ptr_array_add (self->sheets, sheet);
    }
  if (paper == NULL)
    move_to (self, 0);
  self->page = MIN (self->page, MAX (self->sheets->len, 1) - 1);
  name (self);
  look_later (self);
  g_signal_emit (self, signals[PAGE_CHANGED], 0);
}

WbPaper *
wb_paper_view_get_paper (WbPaperView *self)
{
  g_return_val_if_fail (WB_IS_PAPER_VIEW (self), NULL);

  return self->paper;
}

guint
wb_paper_view_get_page (WbPaperView *self)
{
  g_return_val_if_fail (WB_IS_PAPER_VIEW (self), 0);

  return self->page;
}

void
wb_paper_view_show_page (WbPaperView *self,
                         guint        page)
{
  double top, bottom;

  g_return_if_fail (WB_IS_PAPER_VIEW (self));

  if (get_extent (self, page, &top, &bottom))
    move_to (self, top - GAP);
}
