/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-widgets.h"

#include "wb-chart-canvas.h"
#include "wb-chart-table-view.h"
#include "wb-chart-view.h"
#include "wb-look.h"

#include <math.h>
#include <string.h>

static WbChart *
chart_new (void)
{
  static const double x[] = { 0, 3600, 7200, 10800 };
  static const double y[] = { 0, 31, NAN, 58 };
  static const double z[] = { 0, 28, 40, 47 };
  WbChart *chart = wb_chart_new ("S-3 reaches 58 mm in 3 h", "Two wicks; S-3 grows faster than S-2.");
  WbChartPanel *panel = wb_chart_add_panel (chart, 0, 0, NULL);

  wb_chart_axis_set_scale (wb_chart_panel_get_x (panel), WB_CHART_SCALE_DURATION);
  wb_chart_axis_set_unit (wb_chart_panel_get_y (panel), WB_UNIT_MM);
  wb_chart_layer_add_line (panel, "S-3", 0, WB_CHART_LINE_MARKERS | WB_CHART_LINE_JOINED, G_N_ELEMENTS (x), x, y);
  wb_chart_layer_add_line (panel, "S-2", 1, WB_CHART_LINE_MARKERS | WB_CHART_LINE_JOINED, G_N_ELEMENTS (x), x, z);
  return chart;
}

static gboolean
on_late_cb (gpointer user)
{
  g_error ("the chart was never laid out");
  return G_SOURCE_REMOVE;
}

/* Turns the loop, which something must wake, until what `get` tells of the object is so. */
static void
wait (gpointer   object,
      gboolean (*get) (gpointer object))
{
  guint late = g_timeout_add_seconds (20, on_late_cb, NULL);

  while (!get (object))
    g_main_context_iteration (NULL, TRUE);
  g_source_remove (late);
}

static gboolean
is_ready (gpointer canvas)
{
  return wb_chart_canvas_get_ready (canvas);
}

static gboolean
is_written (gpointer table)
{
  return wb_chart_table_view_get_ready (table);
}

/* Shows the view and waits until its picture is there. */
static GtkWidget *
window_new (GtkWidget *view)
{
  GtkWidget *window = test_window_new (view);

  wait (test_find (view, WB_TYPE_CHART_CANVAS), is_ready);
  return window;
}

static void
test_words_for_all (void)
{
  g_autoptr (WbChart) chart = chart_new ();
  GtkWidget *view = wb_chart_view_new ();
  GtkWidget *window;
  GtkWidget *canvas;

  wb_chart_view_set_chart (WB_CHART_VIEW (view), chart);
  window = window_new (view);
  canvas = test_find (view, WB_TYPE_CHART_CANVAS);
  gtk_test_accessible_assert_role (canvas, GTK_ACCESSIBLE_ROLE_IMG);
  gtk_test_accessible_assert_property (canvas, GTK_ACCESSIBLE_PROPERTY_LABEL, "S-3 reaches 58 mm in 3 h");
  gtk_test_accessible_assert_property (canvas, GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, "Two wicks; S-3 grows faster than S-2.");
  wb_chart_view_set_chart (WB_CHART_VIEW (view), NULL);
  gtk_test_accessible_assert_property (canvas, GTK_ACCESSIBLE_PROPERTY_LABEL, "Empty chart");
  test_window_destroy (window, view);
}

static void
test_walk (void)
{
  g_autoptr (WbChart) chart = chart_new ();
  GtkWidget *view = wb_chart_view_new ();
  GtkWidget *window;
  WbChartCanvas *canvas;
  WbChartHit hit;

  wb_chart_view_set_chart (WB_CHART_VIEW (view), chart);
  window = window_new (view);
  canvas = WB_CHART_CANVAS (test_find (view, WB_TYPE_CHART_CANVAS));
  gtk_widget_grab_focus (view);
  g_assert_false (wb_chart_canvas_get_hit (canvas, &hit));
  g_assert_cmpstr (wb_chart_view_get_words (WB_CHART_VIEW (view)), ==, "");

  g_assert_true (test_press (GTK_WIDGET (canvas), GDK_KEY_Right));
  g_assert_true (wb_chart_canvas_get_hit (canvas, &hit));
  g_assert_cmpuint (hit.layer, ==, 0);
  g_assert_cmpuint (hit.index, ==, 0);
  g_assert_true (g_str_has_prefix (wb_chart_view_get_words (WB_CHART_VIEW (view)), "S-3"));
  test_press (GTK_WIDGET (canvas), GDK_KEY_Right);
  test_press (GTK_WIDGET (canvas), GDK_KEY_Right);
  wb_chart_canvas_get_hit (canvas, &hit);
  /* The missing value is stepped over. */
  g_assert_cmpuint (hit.index, ==, 3);
  test_press (GTK_WIDGET (canvas), GDK_KEY_Right);
  wb_chart_canvas_get_hit (canvas, &hit);
  g_assert_cmpuint (hit.index, ==, 3);
  test_press (GTK_WIDGET (canvas), GDK_KEY_Down);
  wb_chart_canvas_get_hit (canvas, &hit);
  g_assert_cmpuint (hit.layer, ==, 1);
  g_assert_true (g_str_has_prefix (wb_chart_view_get_words (WB_CHART_VIEW (view)), "S-2"));
  test_window_destroy (window, view);
}

static void
on_chosen_cb (WbChartView *view,
              guint        panel,
              guint        layer,
              guint64      index,
              guint64     *chosen)
{
  *chosen = index + 100 * layer;
}

static void
test_choose (void)
{
  g_autoptr (WbChart) chart = chart_new ();
  GtkWidget *view = wb_chart_view_new ();
  GtkWidget *window;
  GtkWidget *canvas;
  guint64 chosen = 7;

  wb_chart_view_set_chart (WB_CHART_VIEW (view), chart);
  window = window_new (view);
  canvas = test_find (view, WB_TYPE_CHART_CANVAS);
  gtk_widget_grab_focus (view);
  g_signal_connect (view, "chosen", G_CALLBACK (on_chosen_cb), &chosen);
  test_press (canvas, GDK_KEY_Return);
  g_assert_cmpuint (chosen, ==, 7);
  test_press (canvas, GDK_KEY_Right);
  test_press (canvas, GDK_KEY_Down);
  test_press (canvas, GDK_KEY_Return);
  g_assert_cmpuint (chosen, ==, 100);
  test_window_destroy (window, view);
}

typedef struct
{
  GMainLoop *loop;
  char      *text;
  GdkTexture *picture;
} Clipboard;

static void
on_text_read_cb (GObject      *source,
                 GAsyncResult *result,
                 gpointer      user)
{
  Clipboard *board = user;

  board->text = gdk_clipboard_read_text_finish (GDK_CLIPBOARD (source), result, NULL);
  g_main_loop_quit (board->loop);
}

static void
on_picture_read_cb (GObject      *source,
                    GAsyncResult *result,
                    gpointer      user)
{
  Clipboard *board = user;

  board->picture = gdk_clipboard_read_texture_finish (GDK_CLIPBOARD (source), result, NULL);
  g_main_loop_quit (board->loop);
}

static gboolean
has_said (gpointer view)
{
  return g_str_has_suffix (wb_chart_view_get_words (view), "the clipboard.") || g_str_has_suffix (wb_chart_view_get_words (view), "as CSV.");
}

/* As another program would read it. */
static void
copy (WbChartView *view,
      const char  *action,
      Clipboard   *board)
{
  GdkClipboard *clipboard = gtk_widget_get_clipboard (GTK_WIDGET (view));

  g_clear_pointer (&board->text, g_free);
  g_clear_object (&board->picture);
  g_assert_true (gtk_widget_activate_action (GTK_WIDGET (view), action, NULL));
  wait (view, has_said);
  if (g_str_equal (action, "chart.copy-picture"))
    gdk_clipboard_read_texture_async (clipboard, NULL, on_picture_read_cb, board);
  else
    gdk_clipboard_read_text_async (clipboard, NULL, on_text_read_cb, board);
  g_main_loop_run (board->loop);
  /* What was said of it goes once a value is pointed at. */
  gtk_widget_grab_focus (GTK_WIDGET (view));
  test_press (test_find (GTK_WIDGET (view), WB_TYPE_CHART_CANVAS), GDK_KEY_Right);
  g_assert_false (has_said (view));
  gtk_widget_grab_focus (test_find (GTK_WIDGET (view), GTK_TYPE_TOGGLE_BUTTON));
}

static void
test_copies (void)
{
  g_autoptr (WbChart) chart = chart_new ();
  GtkWidget *view = wb_chart_view_new ();
  GtkWidget *window;
  Clipboard board = { g_main_loop_new (NULL, FALSE), NULL, NULL };
  guchar pixel[4] = { 0 };

  wb_look_set_kind (wb_look_get_default (), WB_LOOK_DARK);
  wb_chart_view_set_chart (WB_CHART_VIEW (view), chart);
  window = window_new (view);
  copy (WB_CHART_VIEW (view), "chart.copy-text", &board);
  g_assert_true (g_str_has_prefix (board.text, "What\t"));
  copy (WB_CHART_VIEW (view), "chart.copy-csv", &board);
  g_assert_true (g_str_has_prefix (board.text, "What,"));
  g_assert_nonnull (strstr (board.text, "\r\nS-3,1,31.0\r\n"));
  copy (WB_CHART_VIEW (view), "chart.copy-picture", &board);
  /* Twice the pixels of what it asks for at least, and paper's white in a dark window. */
  g_assert_cmpint (gdk_texture_get_width (board.picture), >=, 1280);
  g_assert_cmpint (gdk_texture_get_height (board.picture), >=, 853);
  {
    gsize stride = 4 * (gsize) gdk_texture_get_width (board.picture);
    g_autofree guchar *pixels = g_malloc (stride * (gsize) gdk_texture_get_height (board.picture));

    gdk_texture_download (board.picture, pixels, stride);
    memcpy (pixel, pixels, 4);
  }
  g_assert_cmpuint (pixel[0], >=, 250);
  g_assert_cmpuint (pixel[1], >=, 250);
  g_assert_cmpuint (pixel[2], >=, 250);
  g_clear_pointer (&board.text, g_free);
  g_clear_object (&board.picture);
  g_main_loop_unref (board.loop);
  wb_look_set_kind (wb_look_get_default (), WB_LOOK_LIGHT);
  test_window_destroy (window, view);
}

static void
on_save_cb (gboolean *saved)
{
  *saved = TRUE;
}

/* Save is there for who follows it, and only with a chart. */
static void
test_save (void)
{
  g_autoptr (WbChart) chart = chart_new ();
  GtkWidget *view = wb_chart_view_new ();
  GtkWidget *window;
  gboolean saved = FALSE;

  g_signal_connect_swapped (view, "save", G_CALLBACK (on_save_cb), &saved);
  wb_chart_view_set_chart (WB_CHART_VIEW (view), chart);
  window = window_new (view);
  gtk_widget_activate_action (view, "chart.save", NULL);
  g_assert_false (saved);
  wb_chart_view_set_can_save (WB_CHART_VIEW (view), TRUE);
  gtk_widget_activate_action (view, "chart.save", NULL);
  g_assert_true (saved);
  saved = FALSE;
  wb_chart_view_set_chart (WB_CHART_VIEW (view), NULL);
  gtk_widget_activate_action (view, "chart.save", NULL);
  g_assert_false (saved);
  test_window_destroy (window, view);
}

static char *
say_verb (guint    panel,
          guint    layer,
          guint64  index,
          gpointer user)
{
  return layer == 0 ? g_strdup_printf ("Enter: look into value %u", (guint) index) : NULL;
}

/* What Enter would do is said before it is pressed. */
static void
test_verb (void)
{
  g_autoptr (WbChart) chart = chart_new ();
  GtkWidget *view = wb_chart_view_new ();
  GtkWidget *window, *canvas;

  wb_chart_view_set_chart (WB_CHART_VIEW (view), chart);
  wb_chart_view_set_verb (WB_CHART_VIEW (view), say_verb, NULL);
  window = window_new (view);
  canvas = test_find (view, WB_TYPE_CHART_CANVAS);
  gtk_widget_grab_focus (view);
  test_press (canvas, GDK_KEY_Right);
  test_press (canvas, GDK_KEY_Right);
  g_assert_true (g_str_has_prefix (wb_chart_view_get_words (WB_CHART_VIEW (view)), "S-3"));
  g_assert_true (g_str_has_suffix (wb_chart_view_get_words (WB_CHART_VIEW (view)), " · Enter: look into value 1"));
  test_press (canvas, GDK_KEY_Down);
  g_assert_null (strstr (wb_chart_view_get_words (WB_CHART_VIEW (view)), "Enter"));
  test_window_destroy (window, view);
}

static void
test_table_key (void)
{
  g_autoptr (WbChart) chart = chart_new ();
  GtkWidget *view = wb_chart_view_new ();
  GtkWidget *window;
  GtkWidget *columns;

  wb_chart_view_set_chart (WB_CHART_VIEW (view), chart);
  window = window_new (view);
  gtk_widget_grab_focus (view);
  g_assert_true (test_press (test_find (view, WB_TYPE_CHART_CANVAS), GDK_KEY_t));
  g_assert_true (wb_chart_view_get_table_shown (WB_CHART_VIEW (view)));
  wait (test_find (view, WB_TYPE_CHART_TABLE_VIEW), is_written);
  columns = test_find (view, GTK_TYPE_COLUMN_VIEW);
  g_assert_cmpuint (g_list_model_get_n_items (G_LIST_MODEL (gtk_column_view_get_model (GTK_COLUMN_VIEW (columns)))), >=, 7);
  gtk_test_accessible_assert_property (columns, GTK_ACCESSIBLE_PROPERTY_LABEL, "S-3 reaches 58 mm in 3 h");
  g_assert_true (test_press (columns, GDK_KEY_t));
  g_assert_false (wb_chart_view_get_table_shown (WB_CHART_VIEW (view)));
  /* Without a chart there is no table to show. */
  wb_chart_view_set_chart (WB_CHART_VIEW (view), NULL);
  wb_chart_view_set_table_shown (WB_CHART_VIEW (view), TRUE);
  g_assert_false (wb_chart_view_get_table_shown (WB_CHART_VIEW (view)));
  test_window_destroy (window, view);
}

/* Another is drawn while the first one stands; nothing of the first is pointed at under the words of the second. */
static void
test_next (void)
{
  g_autoptr (WbChart) first = chart_new ();
  g_autoptr (WbChart) second = wb_chart_new ("S-2 is behind", "One wick.");
  GtkWidget *view = wb_chart_view_new ();
  GtkWidget *window;
  WbChartCanvas *canvas;
  WbChartHit hit;

  wb_chart_layer_add_line (wb_chart_add_panel (second, 0, 0, NULL), "S-2", 1, WB_CHART_LINE_MARKERS, 2, (double[]) { 0, 1 },
                           (double[]) { 3, 4 });
  wb_chart_view_set_chart (WB_CHART_VIEW (view), first);
  window = window_new (view);
  canvas = WB_CHART_CANVAS (test_find (view, WB_TYPE_CHART_CANVAS));
  gtk_widget_grab_focus (view);
  test_press (GTK_WIDGET (canvas), GDK_KEY_Right);
  g_assert_true (wb_chart_canvas_get_hit (canvas, &hit));
  wb_chart_view_set_chart (WB_CHART_VIEW (view), second);
  gtk_test_accessible_assert_property (canvas, GTK_ACCESSIBLE_PROPERTY_LABEL, "S-2 is behind");
  g_assert_false (wb_chart_canvas_get_ready (canvas));
  g_assert_false (wb_chart_canvas_get_hit (canvas, &hit));
  test_press (GTK_WIDGET (canvas), GDK_KEY_Right);
  g_assert_false (wb_chart_canvas_get_hit (canvas, &hit));
  /* And a third before the second is through. */
  wb_chart_view_set_chart (WB_CHART_VIEW (view), first);
  wb_chart_view_set_chart (WB_CHART_VIEW (view), second);
  wait (canvas, is_ready);
  test_press (GTK_WIDGET (canvas), GDK_KEY_Right);
  g_assert_true (g_str_has_prefix (wb_chart_view_get_words (WB_CHART_VIEW (view)), "S-2"));
  test_window_destroy (window, view);
}

/* Closed while it is drawn and while its table is written. */
static void
test_closed (void)
{
  g_autoptr (WbChart) chart = chart_new ();
  GtkWidget *view = wb_chart_view_new ();
  GtkWidget *window;

  wb_chart_view_set_chart (WB_CHART_VIEW (view), chart);
  window = window_new (view);
  wb_look_set_kind (wb_look_get_default (), WB_LOOK_DARK);
  wb_chart_view_set_table_shown (WB_CHART_VIEW (view), TRUE);
  test_window_destroy (window, view);
  wb_look_set_kind (wb_look_get_default (), WB_LOOK_LIGHT);
}

static void
test_theme (void)
{
  WbLook *look = wb_look_get_default ();
  static const struct { WbLookKind kind; WbChartTheme theme; } cases[] = {
    { WB_LOOK_LIGHT, WB_CHART_THEME_LIGHT },
    { WB_LOOK_DARK, WB_CHART_THEME_DARK },
    { WB_LOOK_HIGH_CONTRAST, WB_CHART_THEME_HIGH_CONTRAST },
    { WB_LOOK_HIGH_CONTRAST_DARK, WB_CHART_THEME_HIGH_CONTRAST_DARK },
    { WB_LOOK_LIGHT, WB_CHART_THEME_LIGHT },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      wb_look_set_kind (look, cases[i].kind);
      g_assert_cmpint (wb_look_get_chart_theme (look), ==, cases[i].theme);
    }
}

static void
on_theme_cb (guint *n)
{
  *n += 1;
}

/* GTK reads its theme's style sheet anew at each of these, which takes a tenth of the time until the first frame. */
static void
test_theme_once (void)
{
  WbLook *look = wb_look_get_default ();
  guint n = 0;

  wb_look_set_kind (look, WB_LOOK_DARK);
  g_signal_connect_swapped (gtk_settings_get_default (), "notify::gtk-theme-name", G_CALLBACK (on_theme_cb), &n);
  g_signal_connect_swapped (gtk_settings_get_default (), "notify::gtk-application-prefer-dark-theme", G_CALLBACK (on_theme_cb), &n);
  wb_look_set_kind (look, WB_LOOK_DARK);
  g_assert_cmpuint (n, ==, 0);
  wb_look_set_kind (look, WB_LOOK_LIGHT);
  g_assert_cmpuint (n, ==, 1);
  g_signal_handlers_disconnect_by_data (gtk_settings_get_default (), &n);
}

void
test_chart_view_add (void)
{
  g_test_add_func ("/widgets/look/a-look-that-is-on-is-not-put-on-again", test_theme_once);
  g_test_add_func ("/widgets/chart-view/its-finding-is-read", test_words_for_all);
  g_test_add_func ("/widgets/chart-view/arrows-walk-the-values", test_walk);
  g_test_add_func ("/widgets/chart-view/enter-chooses-the-marked-value", test_choose);
  g_test_add_func ("/widgets/chart-view/what-enter-does-is-said", test_verb);
  g_test_add_func ("/widgets/chart-view/the-clipboard-has-picture-text-and-csv", test_copies);
  g_test_add_func ("/widgets/chart-view/save-is-for-who-follows-it", test_save);
  g_test_add_func ("/widgets/chart-view/the-table-is-one-key-away", test_table_key);
  g_test_add_func ("/widgets/chart-view/the-next-chart-takes-over-when-it-is-drawn", test_next);
  g_test_add_func ("/widgets/chart-view/it-closes-while-it-is-drawn", test_closed);
  g_test_add_func ("/widgets/look/each-look-has-its-chart-theme", test_theme);
}
