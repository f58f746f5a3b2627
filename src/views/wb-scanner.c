/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-scanner.h"

#include "wb-scan-keys.h"

struct _WbScanner
{
  GObject      parent_instance;

  /* owned */
  WbScanKeys  *keys;
  GPtrArray   *held;       /* GdkEvent, in the order in which they came */
  GQueue       replayed;   /* GdkEvent, that come once more, in their order */
  GHashTable  *down;       /* keycodes that are down */

  /* borrowed */
  GtkWindow   *window;
  GtkWindow   *where;      /* in which the last one was typed; with a weak pointer */

  /* state */
  guint        wait_id;
};

G_DEFINE_FINAL_TYPE (WbScanner, wb_scanner, G_TYPE_OBJECT)

enum { SCANNED, MISREAD, N_SIGNALS };
static guint signals[N_SIGNALS];

/* Behind what came meanwhile: the queue is the display's own. */
static void
replay (WbScanner *self,
        GdkEvent  *event)
{
  g_queue_push_tail (&self->replayed, gdk_event_ref (event));
  gdk_display_put_event (gdk_event_get_display (event), event);
}

static void
replay_held (WbScanner *self)
{
  for (guint i = 0; i < self->held->len; i++)
    replay (self, g_ptr_array_index (self->held, i));
  g_ptr_array_set_size (self->held, 0);
}

/* To where they were typed, before what is on its way goes on. */
static void
deliver_held (WbScanner *self)
{
  g_autoptr (GPtrArray) held = g_ptr_array_new_with_free_func ((GDestroyNotify) gdk_event_unref);

  /* a key may be answered by a loop of its own, in which others come */
  for (guint i = 0; i < self->held->len; i++)
    {
      g_ptr_array_add (held, gdk_event_ref (g_ptr_array_index (self->held, i)));
      g_queue_push_tail (&self->replayed, gdk_event_ref (g_ptr_array_index (self->held, i)));
    }
  g_ptr_array_set_size (self->held, 0);
  for (guint i = 0; i < held->len; i++)
    {
      GdkEvent *event = g_ptr_array_index (held, i);
      gboolean handled = FALSE;

      g_signal_emit_by_name (gdk_event_get_surface (event), "event", event, &handled);
    }
}

static void
tell (WbScanner    *self,
      WbScanVerdict verdict)
{
  g_autoptr (GtkWindow) where = self->where != NULL ? g_object_ref (self->where) : NULL;

  if (where == NULL)
    return;
  if (verdict == WB_SCAN_TAKEN)
    g_signal_emit (self, signals[SCANNED], 0, where, wb_scan_keys_get_code (self->keys));
  else if (wb_scan_keys_get_misread (self->keys))
    g_signal_emit (self, signals[MISREAD], 0, where);
}

static gboolean
on_wait_cb (gpointer user)
{
  WbScanner *self = user;
  WbScanVerdict verdict = wb_scan_keys_wait (self->keys);

  self->wait_id = 0;
  if (verdict == WB_SCAN_TAKEN)
    g_ptr_array_set_size (self->held, 0);
  else
    replay_held (self);
  tell (self, verdict);
  return G_SOURCE_REMOVE;
}

/* Behind the keys that wait in the queue: a loop that was busy makes no scanner slow. */
static void
wait_anew (WbScanner *self)
{
  g_clear_handle_id (&self->wait_id, g_source_remove);
  if (wb_scan_keys_is_holding (self->keys))
    self->wait_id = g_timeout_add_full (G_PRIORITY_DEFAULT_IDLE, wb_scan_keys_get_wait_ms (self->keys), on_wait_cb, self, NULL);
}

/* TRUE: it was held before, and goes on now. What was to come before it is lost: its window has gone. */
static gboolean
is_replayed (WbScanner *self,
             GdkEvent  *event)
{
  GdkEvent *next;

  if (g_queue_find (&self->replayed, event) == NULL)
    return FALSE;
  do
    {
      next = g_queue_pop_head (&self->replayed);
      gdk_event_unref (next);
    }
  while (next != event);
  return TRUE;
}

/* What the key types by itself; 0: nothing, or it is a command. */
static gunichar
get_letter (guint           keyval,
            GdkModifierType state)
{
  if ((state & (GDK_CONTROL_MASK | GDK_ALT_MASK | GDK_SUPER_MASK | GDK_META_MASK)) != 0)
    return 0;
  return gdk_keyval_to_unicode (keyval);
}

static gboolean
on_pressed_cb (GtkEventControllerKey *controller,
               guint                  keyval,
               guint                  keycode,
               GdkModifierType        state,
               WbScanner             *self)
{
  GdkEvent *event = gtk_event_controller_get_current_event (GTK_EVENT_CONTROLLER (controller));
  gboolean ends = keyval == GDK_KEY_Return || keyval == GDK_KEY_KP_Enter || keyval == GDK_KEY_Tab;
  gboolean repeated, overtakes;
  WbScanVerdict verdict;

  if (event == NULL || gdk_key_event_is_modifier (event) || is_replayed (self, event))
    return FALSE;
  repeated = !g_hash_table_add (self->down, GUINT_TO_POINTER (keycode));
  /* One that overtook those that come once more goes behind them; what it means for a code is asked of it all the same. */
  overtakes = !g_queue_is_empty (&self->replayed);
  g_set_weak_pointer (&self->where, GTK_WINDOW (gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (controller))));
  verdict = wb_scan_keys_press (self->keys, get_letter (keyval, state), ends, repeated, gdk_event_get_time (event));
  switch (verdict)
    {
    case WB_SCAN_HOLD:
      g_ptr_array_add (self->held, gdk_event_ref (event));
      break;
    case WB_SCAN_REPLAY_HOLD:
      replay_held (self);
      g_ptr_array_add (self->held, gdk_event_ref (event));
      break;
    case WB_SCAN_REPLAY_PASS:
      replay_held (self);
      replay (self, event);
      break;
    case WB_SCAN_TAKEN:
      g_ptr_array_set_size (self->held, 0);
      break;
    case WB_SCAN_PASS:
      if (overtakes)
        replay (self, event);
      break;
    case WB_SCAN_DROP:
    default:
      break;
    }
  wait_anew (self);
  tell (self, verdict);
  return verdict != WB_SCAN_PASS || overtakes;
}

/*
 * A click does not wait for what may be a code: what was typed before it is in its field before it does anything. A whole code is
 * taken all the same.
 */
static gboolean
on_pointer_cb (GtkEventControllerLegacy *controller,
               GdkEvent                 *event,
               WbScanner                *self)
{
  GdkEventType type = gdk_event_get_event_type (event);
  WbScanVerdict verdict;

  if ((type != GDK_BUTTON_PRESS && type != GDK_TOUCH_BEGIN) || !wb_scan_keys_is_holding (self->keys))
    return FALSE;
  g_clear_handle_id (&self->wait_id, g_source_remove);
  verdict = wb_scan_keys_wait (self->keys);
  if (verdict == WB_SCAN_TAKEN)
    g_ptr_array_set_size (self->held, 0);
  else
    deliver_held (self);
  tell (self, verdict);
  return FALSE;
}

static void
on_released_cb (GtkEventControllerKey *controller,
                guint                  keyval,
                guint                  keycode,
                GdkModifierType        state,
                WbScanner             *self)
{
  g_hash_table_remove (self->down, GUINT_TO_POINTER (keycode));
}

/* The keyboard went elsewhere: what was held was typed here, and no key's release comes any more. */
static void
on_left_cb (GtkWindow  *window,
            GParamSpec *pspec,
            WbScanner  *self)
{
  if (!gtk_window_is_active (window))
    g_hash_table_remove_all (self->down);
}

static void
listen (WbScanner *self,
        GtkWindow *window)
{
  GtkEventController *controller = gtk_event_controller_key_new (), *pointer = gtk_event_controller_legacy_new ();

  gtk_event_controller_set_name (controller, "wb-scanner");
  gtk_event_controller_set_propagation_phase (controller, GTK_PHASE_CAPTURE);
  g_signal_connect_object (controller, "key-pressed", G_CALLBACK (on_pressed_cb), self, 0);
  g_signal_connect_object (controller, "key-released", G_CALLBACK (on_released_cb), self, 0);
  g_signal_connect_object (window, "notify::is-active", G_CALLBACK (on_left_cb), self, 0);
  gtk_widget_add_controller (GTK_WIDGET (window), controller);
  gtk_event_controller_set_name (pointer, "wb-scanner-pointer");
  gtk_event_controller_set_propagation_phase (pointer, GTK_PHASE_CAPTURE);
  g_signal_connect_object (pointer, "event", G_CALLBACK (on_pointer_cb), self, 0);
  gtk_widget_add_controller (GTK_WIDGET (window), pointer);
}

static gboolean
stands_before (WbScanner *self,
               GtkWindow *window)
{
  for (; window != NULL; window = gtk_window_get_transient_for (window))
    if (window == self->window)
      return TRUE;
  return FALSE;
}

static void
on_transient_cb (GtkWindow  *window,
                 GParamSpec *pspec,
                 WbScanner  *self)
{
  if (!stands_before (self, window))
    return;
  g_signal_handlers_disconnect_by_func (window, on_transient_cb, self);
  listen (self, window);
}

/* A window's place before another is told after it was made. */
static void
on_windows_changed_cb (GListModel *windows,
                       guint       position,
                       guint       removed,
                       guint       added,
                       WbScanner  *self)
{
  for (guint i = position; i < position + added; i++)
    {
      g_autoptr (GtkWindow) window = g_list_model_get_item (windows, i);

      if (window == self->window)
        continue;
      g_signal_connect_object (window, "notify::transient-for", G_CALLBACK (on_transient_cb), self, 0);
      on_transient_cb (window, NULL, self);
    }
}

static void
wb_scanner_dispose (GObject *object)
{
  WbScanner *self = WB_SCANNER (object);
  GdkEvent *event;

  g_clear_handle_id (&self->wait_id, g_source_remove);
  g_clear_weak_pointer (&self->where);
  g_ptr_array_set_size (self->held, 0);
  while ((event = g_queue_pop_head (&self->replayed)) != NULL)
    gdk_event_unref (event);
  G_OBJECT_CLASS (wb_scanner_parent_class)->dispose (object);
}

static void
wb_scanner_finalize (GObject *object)
{
  WbScanner *self = WB_SCANNER (object);

  wb_scan_keys_free (self->keys);
  g_ptr_array_unref (self->held);
  g_hash_table_unref (self->down);
  G_OBJECT_CLASS (wb_scanner_parent_class)->finalize (object);
}

static void
wb_scanner_class_init (WbScannerClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);

  object_class->dispose = wb_scanner_dispose;
  object_class->finalize = wb_scanner_finalize;
  signals[SCANNED] = g_signal_new ("scanned", WB_TYPE_SCANNER, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 2, GTK_TYPE_WINDOW, G_TYPE_STRING);
  signals[MISREAD] = g_signal_new ("misread", WB_TYPE_SCANNER, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, GTK_TYPE_WINDOW);
}

static void
wb_scanner_init (WbScanner *self)
{
  self->keys = wb_scan_keys_new ();
  self->held = g_ptr_array_new_with_free_func ((GDestroyNotify) gdk_event_unref);
  self->down = g_hash_table_new (NULL, NULL);
  g_queue_init (&self->replayed);
}

WbScanner *
wb_scanner_new (GtkWindow *window)
{
  WbScanner *self;

  g_return_val_if_fail (GTK_IS_WINDOW (window), NULL);

  self = g_object_new (WB_TYPE_SCANNER, NULL);
  self->window = window;
  listen (self, window);
  g_signal_connect_object (gtk_window_get_toplevels (), "items-changed", G_CALLBACK (on_windows_changed_cb), self, 0);
  return self;
}
