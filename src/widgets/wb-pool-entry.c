/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-pool-entry.h"

#include "wb-focus-walk.h"
#include "wb-quantity-entry.h"
#include "wb-ring-entry.h"
#include "wb-tooltip.h"

#include <glib/gi18n.h>
#include <math.h>

/*
 * CSS node: poolentry. Two lines, the second hidden until it is asked for;
 * each a quantity and a button for "full"; or, in place of both, the ring at
 * the four sides. A group for assistive technology; all entries and buttons
 * have names of their own.
 */

#define N_LINES 2
#define WIDTH_CHARS 6

typedef struct
{
  GtkWidget *box;
  GtkWidget *entry; /* WbQuantityEntry */
  GtkWidget *full;
} Line;

struct _WbPoolEntry
{
  GtkWidget  parent_instance;

  /* children */
  Line       lines[N_LINES];
  GtkWidget *more; /* shows the second line */
  GtkWidget *ring; /* WbRingEntry */

  /* state */
  gboolean   touched;
  gboolean   quiet; /* the program sets a button */
};

G_DEFINE_FINAL_TYPE (WbPoolEntry, wb_pool_entry, GTK_TYPE_WIDGET)

enum { CHANGED, ACTIVATE, TOLD, N_SIGNALS };
static guint signals[N_SIGNALS];

static WbQuantityEntry *
get_entry (WbPoolEntry *self,
           int          line)
{
  return WB_QUANTITY_ENTRY (self->lines[line].entry);
}

static gboolean
is_blank (WbPoolEntry *self,
          int          line)
{
  g_autofree char *text = g_strstrip (g_strdup (wb_quantity_entry_get_text (get_entry (self, line))));

  return *text == '\0';
}

static gboolean
has_ring (WbPoolEntry *self)
{
  return gtk_widget_get_visible (self->ring);
}

static void
update_buttons (WbPoolEntry *self)
{
  self->quiet = TRUE;
  for (int i = 0; i < N_LINES; i++)
    gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (self->lines[i].full), wb_quantity_entry_is_word (get_entry (self, i)));
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (self->more), wb_pool_entry_get_two (self));
  self->quiet = FALSE;
}

static void
changed (WbPoolEntry *self)
{
  self->touched = TRUE;
  update_buttons (self);
  g_signal_emit (self, signals[CHANGED], 0);
}

static void
set_full (WbPoolEntry *self,
          int          line,
          gboolean     full)
{
  wb_quantity_entry_set_text (get_entry (self, line), full ? _("full") : "");
  changed (self);
}

static int
find_line (WbPoolEntry *self,
           gpointer     child)
{
  for (int i = 0; i < N_LINES; i++)
    if (child == self->lines[i].entry || child == self->lines[i].full)
      return i;
  g_assert_not_reached ();
}

static void
on_full_toggled_cb (WbPoolEntry     *self,
                    GtkToggleButton *button)
{
  int line = find_line (self, button);

  if (self->quiet)
    return;
  set_full (self, line, gtk_toggle_button_get_active (button));
  gtk_widget_grab_focus (self->lines[line].entry);
}

static void
on_more_toggled_cb (WbPoolEntry     *self,
                    GtkToggleButton *button)
{
  gboolean two = gtk_toggle_button_get_active (button);

  if (self->quiet)
    return;
  wb_pool_entry_set_two (self, two);
  gtk_widget_grab_focus (self->lines[two ? 1 : 0].entry);
}

static void
on_entry_activate_cb (WbPoolEntry *self,
                      GtkWidget   *entry)
{
  if (find_line (self, entry) == 0 && wb_pool_entry_get_two (self))
    gtk_widget_grab_focus (self->lines[1].entry);
  else
    g_signal_emit (self, signals[ACTIVATE], 0);
}

/* From the diameter to the ring and back; what stood there goes. */
static void
turn_to_ring (WbPoolEntry *self,
              gboolean     ring)
{
  wb_pool_entry_set_ring (self, ring);
  changed (self);
  gtk_widget_grab_focus (ring ? self->ring : self->lines[0].entry);
}

static void
on_ring_activate_cb (WbPoolEntry *self)
{
  g_signal_emit (self, signals[ACTIVATE], 0);
}

/* Which line's entry has the keyboard; -1: a button has it. */
static int
focused_line (WbPoolEntry *self)
{
  for (int i = 0; i < N_LINES; i++)
    if ((gtk_widget_get_state_flags (self->lines[i].entry) & GTK_STATE_FLAG_FOCUS_WITHIN) != 0)
      return i;
  return -1;
}

/* A word that stands there is replaced as a whole: a digit begins anew, a letter of the word spelt out is taken for typed. */
static gboolean
type_over_word (WbPoolEntry *self,
                int          line,
                guint        keyval)
{
  gunichar typed = gdk_keyval_to_unicode (keyval);

  if (!wb_quantity_entry_is_word (get_entry (self, line)))
    return GDK_EVENT_PROPAGATE;
  if (keyval == GDK_KEY_BackSpace || keyval == GDK_KEY_Delete)
    {
      set_full (self, line, FALSE);
      return GDK_EVENT_STOP;
    }
  if (g_unichar_isalpha (typed))
    return GDK_EVENT_STOP;
  if (g_unichar_isdigit (typed))
    set_full (self, line, FALSE);
  return GDK_EVENT_PROPAGATE;
}

static gboolean
on_key_pressed_cb (GtkEventControllerKey *controller,
                   guint                  keyval,
                   guint                  keycode,
                   GdkModifierType        state,
                   WbPoolEntry           *self)
{
  int line = focused_line (self);

  if ((line < 0 && !has_ring (self)) || (state & (GDK_CONTROL_MASK | GDK_ALT_MASK | GDK_SUPER_MASK)) != 0)
    return GDK_EVENT_PROPAGATE;
  if (keyval == GDK_KEY_r || keyval == GDK_KEY_R)
    {
      turn_to_ring (self, !has_ring (self));
      return GDK_EVENT_STOP;
    }
  if (line < 0)
    return GDK_EVENT_PROPAGATE;
  if ((keyval == GDK_KEY_f || keyval == GDK_KEY_F) && !wb_quantity_entry_is_word (get_entry (self, line)))
    {
      set_full (self, line, TRUE);
      return GDK_EVENT_STOP;
    }
  if (line == 0 && (keyval == GDK_KEY_x || keyval == GDK_KEY_X || keyval == GDK_KEY_multiply || keyval == GDK_KEY_KP_Multiply))
    {
      wb_pool_entry_set_two (self, TRUE);
      gtk_widget_grab_focus (self->lines[1].entry);
      return GDK_EVENT_STOP;
    }
  return type_over_word (self, line, keyval);
}

static gboolean
wb_pool_entry_grab_focus (GtkWidget *widget)
{
  WbPoolEntry *self = WB_POOL_ENTRY (widget);

  return gtk_widget_grab_focus (has_ring (self) ? self->ring : self->lines[0].entry);
}

static void
wb_pool_entry_dispose (GObject *object)
{
  WbPoolEntry *self = WB_POOL_ENTRY (object);

  for (int i = 0; i < N_LINES; i++)
    g_clear_pointer (&self->lines[i].box, gtk_widget_unparent);
  g_clear_pointer (&self->ring, gtk_widget_unparent);
  G_OBJECT_CLASS (wb_pool_entry_parent_class)->dispose (object);
}

static void
wb_pool_entry_class_init (WbPoolEntryClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = wb_pool_entry_dispose;
  widget_class->grab_focus = wb_pool_entry_grab_focus;
  widget_class->focus = wb_focus_walk;
  signals[CHANGED] = g_signal_new ("changed", WB_TYPE_POOL_ENTRY, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[ACTIVATE] = g_signal_new ("activate", WB_TYPE_POOL_ENTRY, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[TOLD] = g_signal_new ("told", WB_TYPE_POOL_ENTRY, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "poolentry");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
}

static void
on_entry_told_cb (WbPoolEntry *self)
{
  g_signal_emit (self, signals[TOLD], 0);
}

static GtkWidget *
button_new (const char *label,
            const char *name)
{
  GtkWidget *button = gtk_toggle_button_new_with_label (label);

  gtk_widget_set_valign (button, GTK_ALIGN_START);
  wb_tooltip_set (button, name);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  return button;
}

static void
add_line (WbPoolEntry *self,
          int          line,
          const char  *full_name)
{
  Line *at = &self->lines[line];

  at->box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  at->entry = wb_quantity_entry_new (WB_QUANTITY_LENGTH, WB_UNIT_MM);
  wb_quantity_entry_set_word (WB_QUANTITY_ENTRY (at->entry), _("full"));
  wb_quantity_entry_set_width_chars (WB_QUANTITY_ENTRY (at->entry), WIDTH_CHARS);
  gtk_widget_set_hexpand (at->entry, TRUE);
  g_signal_connect_swapped (at->entry, "told", G_CALLBACK (on_entry_told_cb), self);
  at->full = button_new (_("Full"), full_name);
  gtk_box_append (GTK_BOX (at->box), at->entry);
  gtk_box_append (GTK_BOX (at->box), at->full);
  gtk_widget_set_parent (at->box, GTK_WIDGET (self));
  g_signal_connect_swapped (at->entry, "changed", G_CALLBACK (changed), self);
  g_signal_connect_swapped (at->entry, "activate", G_CALLBACK (on_entry_activate_cb), self);
  g_signal_connect_swapped (at->full, "toggled", G_CALLBACK (on_full_toggled_cb), self);
}

static void
wb_pool_entry_init (WbPoolEntry *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();
  GtkWidget *group = GTK_WIDGET (self);

  add_line (self, 0, _("Pool at the wall (F)"));
  add_line (self, 1, _("Pool across at the wall (F)"));
  self->more = button_new ("×", _("A second diameter (X)"));
  gtk_box_append (GTK_BOX (self->lines[0].box), self->more);
  g_signal_connect_swapped (self->more, "toggled", G_CALLBACK (on_more_toggled_cb), self);
  gtk_widget_set_visible (self->lines[1].box, FALSE);
  gtk_orientable_set_orientation (GTK_ORIENTABLE (gtk_widget_get_layout_manager (group)), GTK_ORIENTATION_VERTICAL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Pool"), -1);
  /* Before the entry sees the letter. */
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (on_key_pressed_cb), self);
  gtk_widget_add_controller (group, keys);
}

static void
add_ring (WbPoolEntry *self,
          WbUnit       unit,
          double       widest_mm)
{
  self->ring = wb_ring_entry_new (unit, widest_mm);
  gtk_widget_set_visible (self->ring, FALSE);
  gtk_widget_set_parent (self->ring, GTK_WIDGET (self));
  g_signal_connect_swapped (self->ring, "changed", G_CALLBACK (changed), self);
  g_signal_connect_swapped (self->ring, "activate", G_CALLBACK (on_ring_activate_cb), self);
  g_signal_connect_swapped (self->ring, "told", G_CALLBACK (on_entry_told_cb), self);
}

GtkWidget *
wb_pool_entry_new (WbUnit unit,
                   double widest_mm)
{
  WbPoolEntry *self = g_object_new (WB_TYPE_POOL_ENTRY, NULL);

  const char *names[N_LINES] = { _("Pool diameter"), _("Pool, diameter across it") };

  for (int i = 0; i < N_LINES; i++)
    {
      wb_quantity_entry_set_quantity (get_entry (self, i), WB_QUANTITY_LENGTH, unit);
      wb_quantity_entry_set_range (get_entry (self, i), 0, widest_mm);
      wb_quantity_entry_set_label (get_entry (self, i), names[i]);
    }
  wb_tooltip_set (self->lines[0].entry, _("F: at the wall. X: a second diameter. R: the ring left at the four sides, and back."));
  add_ring (self, unit, widest_mm / 2);
  return GTK_WIDGET (self);
}

void
wb_pool_entry_set_ring (WbPoolEntry *self,
                        gboolean     ring)
{
  g_return_if_fail (WB_IS_POOL_ENTRY (self));
  if (ring)
    {
      wb_pool_entry_set_two (self, FALSE);
      wb_quantity_entry_set_text (get_entry (self, 0), "");
    }
  else
    wb_ring_entry_clear (WB_RING_ENTRY (self->ring));
  gtk_widget_set_visible (self->ring, ring);
  gtk_widget_set_visible (self->lines[0].box, !ring);
}

void
wb_pool_entry_set_two (WbPoolEntry *self,
                       gboolean     two)
{
  g_return_if_fail (WB_IS_POOL_ENTRY (self));
  gtk_widget_set_visible (self->lines[1].box, two);
  if (!two)
    wb_quantity_entry_set_text (get_entry (self, 1), "");
  update_buttons (self);
}

gboolean
wb_pool_entry_get_two (WbPoolEntry *self)
{
  g_return_val_if_fail (WB_IS_POOL_ENTRY (self), FALSE);
  return gtk_widget_get_visible (self->lines[1].box);
}

/* TRUE: a side of the ring was read. */
static gboolean
holds_ring (const double values[WB_N_COLUMNS])
{
  for (WbColumn column = WB_COLUMN_RING_12_MM; column <= WB_COLUMN_RING_9_MM; column++)
    if (!isnan (values[column]))
      return TRUE;
  return FALSE;
}

void
wb_pool_entry_set_values (WbPoolEntry  *self,
                          const double  values[WB_N_COLUMNS])
{
  static const WbColumn two_columns[N_LINES] = { WB_COLUMN_POOL_A_MM, WB_COLUMN_POOL_B_MM };
  int full = isnan (values[WB_COLUMN_POOL_FULL]) ? 0 : (int) values[WB_COLUMN_POOL_FULL];
  gboolean two;

  g_return_if_fail (WB_IS_POOL_ENTRY (self));

  two = !isnan (values[WB_COLUMN_POOL_A_MM]) || !isnan (values[WB_COLUMN_POOL_B_MM]) || (full & 6) != 0;
  wb_pool_entry_set_ring (self, holds_ring (values));
  wb_ring_entry_set_values (WB_RING_ENTRY (self->ring), values);
  wb_pool_entry_set_two (self, two);
  for (int i = 0; i < (two ? N_LINES : 1); i++)
    {
      if ((full & (two ? 2 << i : 1)) != 0)
        wb_quantity_entry_set_text (get_entry (self, i), _("full"));
      else
        wb_quantity_entry_set_value (get_entry (self, i), values[two ? two_columns[i] : WB_COLUMN_POOL_MM]);
    }
  self->touched = FALSE;
  update_buttons (self);
}

void
wb_pool_entry_get_values (WbPoolEntry *self,
                          double       values[WB_N_COLUMNS])
{
  static const WbColumn two_columns[N_LINES] = { WB_COLUMN_POOL_A_MM, WB_COLUMN_POOL_B_MM };
  gboolean two;
  int full = 0;

  g_return_if_fail (WB_IS_POOL_ENTRY (self));

  two = wb_pool_entry_get_two (self) && !is_blank (self, 1);
  values[WB_COLUMN_POOL_MM] = values[WB_COLUMN_POOL_A_MM] = values[WB_COLUMN_POOL_B_MM] = NAN;
  for (int i = 0; i < (two ? N_LINES : 1); i++)
    {
      WbColumn column = two ? two_columns[i] : WB_COLUMN_POOL_MM;

      values[column] = wb_quantity_entry_get_value (get_entry (self, i));
      if (wb_quantity_entry_is_word (get_entry (self, i)))
        full |= two ? 2 << i : 1;
    }
  values[WB_COLUMN_POOL_FULL] = full != 0 ? full : NAN;
  wb_ring_entry_get_values (WB_RING_ENTRY (self->ring), values);
}

gboolean
wb_pool_entry_check (WbPoolEntry *self)
{
  gboolean first, second;

  g_return_val_if_fail (WB_IS_POOL_ENTRY (self), FALSE);
  if (has_ring (self))
    return wb_ring_entry_check (WB_RING_ENTRY (self->ring));
  first = wb_quantity_entry_check (get_entry (self, 0));
  second = !wb_pool_entry_get_two (self) || wb_quantity_entry_check (get_entry (self, 1));
  if (first && !second)
    gtk_widget_grab_focus (self->lines[1].entry);
  return first && second;
}

gboolean
wb_pool_entry_get_touched (WbPoolEntry *self)
{
  g_return_val_if_fail (WB_IS_POOL_ENTRY (self), FALSE);
  return self->touched && (!is_blank (self, 0) || !is_blank (self, 1) || !wb_ring_entry_is_blank (WB_RING_ENTRY (self->ring)));
}

void
wb_pool_entry_set_problem (WbPoolEntry *self,
                           const char  *text)
{
  g_return_if_fail (WB_IS_POOL_ENTRY (self));
  wb_quantity_entry_set_problem (get_entry (self, 0), text);
}

void
wb_pool_entry_set_told_elsewhere (WbPoolEntry *self,
                                  gboolean     told_elsewhere)
{
  g_return_if_fail (WB_IS_POOL_ENTRY (self));
  for (int i = 0; i < N_LINES; i++)
    wb_quantity_entry_set_told_elsewhere (get_entry (self, i), told_elsewhere);
  wb_ring_entry_set_told_elsewhere (WB_RING_ENTRY (self->ring), told_elsewhere);
}

const char *
wb_pool_entry_get_problem (WbPoolEntry *self)
{
  const char *first;

  g_return_val_if_fail (WB_IS_POOL_ENTRY (self), NULL);
  if (has_ring (self))
    return wb_ring_entry_get_problem (WB_RING_ENTRY (self->ring));
  first = wb_quantity_entry_get_problem (get_entry (self, 0));
  return first != NULL || !wb_pool_entry_get_two (self) ? first : wb_quantity_entry_get_problem (get_entry (self, 1));
}
