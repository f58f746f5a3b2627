/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "bench-page.h"

#include "wb-app-query.h"
#include "wb-app-retain.h"
#include "wb-e2e-screen.h"
#include "wb-inspection-dialog.h"
#include "wb-pour-page.h"
#include "wb-report-label-code.h"
#include "wb-scan-keys.h"

#include <string.h>

/* A scanner that types a label's code, told from hands: the state machine by itself, then the window with real keys. */

/* ---- The state machine ---- */

typedef struct
{
  WbScanKeys *keys;
  GString    *field;   /* what came to it, in that order */
  GString    *held;
  guint       taken;
  gint64      ms;
} Desk;

static void
desk_init (Desk *desk)
{
  *desk = (Desk) { wb_scan_keys_new (), g_string_new (NULL), g_string_new (NULL), 0, 1000 };
}

static void
desk_clear (Desk *desk)
{
  wb_scan_keys_free (desk->keys);
  g_string_free (desk->field, TRUE);
  g_string_free (desk->held, TRUE);
}

static void
give_back (Desk *desk)
{
  g_string_append (desk->field, desk->held->str);
  g_string_truncate (desk->held, 0);
}

/* A key after so many ms; '\n' is Return. */
static void
press (Desk *desk,
       char  key,
       int   after_ms)
{
  desk->ms += after_ms;
  switch (wb_scan_keys_press (desk->keys, key == '\n' ? 0 : (gunichar) key, key == '\n', FALSE, desk->ms))
    {
    case WB_SCAN_HOLD:
      g_string_append_c (desk->held, key);
      break;
    case WB_SCAN_REPLAY_HOLD:
      give_back (desk);
      g_string_append_c (desk->held, key);
      break;
    case WB_SCAN_REPLAY_PASS:
      give_back (desk);
      g_string_append_c (desk->field, key);
      break;
    case WB_SCAN_TAKEN:
      desk->taken++;
      g_string_truncate (desk->held, 0);
      break;
    case WB_SCAN_PASS:
      g_assert_cmpuint (desk->held->len, ==, 0);
      g_string_append_c (desk->field, key);
      break;
    case WB_SCAN_DROP:
    default:
      break;
    }
}

static void
wait_long (Desk *desk)
{
  desk->ms += wb_scan_keys_get_wait_ms (desk->keys);
  switch (wb_scan_keys_wait (desk->keys))
    {
    case WB_SCAN_TAKEN:
      desk->taken++;
      g_string_truncate (desk->held, 0);
      break;
    case WB_SCAN_REPLAY_PASS:
      give_back (desk);
      break;
    case WB_SCAN_PASS:
    case WB_SCAN_HOLD:
    case WB_SCAN_REPLAY_HOLD:
    case WB_SCAN_DROP:
    default:
      g_assert_cmpuint (desk->held->len, ==, 0);
    }
}

static void
type (Desk       *desk,
      const char *text,
      int         each_ms)
{
  for (; *text != '\0'; text++)
    press (desk, *text, each_ms);
}

static char *
get_code (void)
{
  WbUuid space = { { 7 } }, uuid = wb_uuid_new_named (&space, "scanned");

  return wb_report_label_code_new (&uuid);
}

/* With Return behind it or without, in capitals or small letters, as slow as a scanner may be: nothing reaches the field. */
static void
test_scan_is_taken (void)
{
  for (guint k = 0; k < 8; k++)
    {
      g_autofree char *code = get_code ();
      g_autofree char *small = g_ascii_strdown (code, -1);
      Desk desk;

      desk_init (&desk);
      type (&desk, k & 1 ? small : code, k & 2 ? WB_SCAN_GAP_MS : 1);
      if (k & 4)
        press (&desk, '\n', 1);
      else
        wait_long (&desk);
      g_assert_cmpuint (desk.taken, ==, 1);
      g_assert_cmpstr (desk.field->str, ==, "");
      g_assert_cmpstr (wb_scan_keys_get_code (desk.keys), ==, code);
      /* a Return that comes late belongs to it; the next one is the person's */
      if (!(k & 4))
        press (&desk, '\n', 30);
      press (&desk, '\n', 40);
      g_assert_cmpstr (desk.field->str, ==, "\n");
      desk_clear (&desk);
    }
}

/* A hand that types the very code, and all else that hands do: every key arrives, in its order. */
static void
test_hand_is_let_through (void)
{
  g_autofree char *code = get_code ();
  const char *const texts[] = { code, "54 mm\n", "note, with yes and zest\n", "12", "AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA\n", "\n\n", "" };
  const int paces[] = { 1, 20, 60, 120 };

  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    for (guint k = 0; k < G_N_ELEMENTS (paces); k++)
      {
        Desk desk;

        if (i == 0 && paces[k] <= WB_SCAN_GAP_MS)
          continue;
        desk_init (&desk);
        type (&desk, texts[i], paces[k]);
        wait_long (&desk);
        g_assert_cmpuint (desk.taken, ==, 0);
        g_assert_cmpstr (desk.field->str, ==, texts[i]);
        desk_clear (&desk);
      }
}

/* Typed by a hand up to its half, and the rest as fast as you like. */
static void
test_half_a_code_is_let_through (void)
{
  g_autofree char *code = get_code ();
  g_autofree char *half = g_strndup (code, 13);
  Desk desk;

  desk_init (&desk);
  type (&desk, half, 150);
  type (&desk, code + 13, 5);
  press (&desk, '\n', 5);
  g_assert_cmpuint (desk.taken, ==, 0);
  g_string_append_c (desk.held, '\0');
  g_assert_true (g_str_has_prefix (desk.field->str, code));
  g_assert_cmpuint (desk.field->len, ==, strlen (code) + 1);
  desk_clear (&desk);
}

/* What a hand typed just before is the field's; the code behind it is not. */
static void
test_scan_behind_a_hand (void)
{
  g_autofree char *code = get_code ();
  Desk desk;

  desk_init (&desk);
  type (&desk, "54", 120);
  press (&desk, code[0], 300);
  type (&desk, code + 1, 3);
  press (&desk, '\n', 3);
  g_assert_cmpuint (desk.taken, ==, 1);
  g_assert_cmpstr (desk.field->str, ==, "54");
  desk_clear (&desk);
}

/* A busy computer holds a scanner up; a hand does not begin as fast. */
static void
test_scan_is_held_up (void)
{
  g_autofree char *code = get_code ();
  Desk desk;

  desk_init (&desk);
  for (guint i = 0; code[i] != '\0'; i++)
    press (&desk, code[i], i >= WB_SCAN_SURE && i % 5 == 0 ? WB_SCAN_SURE_GAP_MS : 8);
  press (&desk, '\n', 300);
  g_assert_cmpuint (desk.taken, ==, 1);
  g_assert_cmpstr (desk.field->str, ==, "");
  desk_clear (&desk);
}

/* Two labels, one right behind the other. */
static void
test_two_scans (void)
{
  g_autofree char *code = get_code ();
  Desk desk;

  desk_init (&desk);
  for (guint i = 0; i < 2; i++)
    {
      type (&desk, code, 2);
      press (&desk, '\n', 2);
    }
  g_assert_cmpuint (desk.taken, ==, 2);
  g_assert_cmpstr (desk.field->str, ==, "");
  desk_clear (&desk);
}

/* A wrong check character, one letter more, one less, a letter that no code has: what was typed arrives whole. */
static void
test_wrong_code_is_let_through (void)
{
  g_autofree char *code = get_code ();

  for (guint k = 0; k < 4; k++)
    {
      g_autofree char *wrong = k == 1 ? g_strconcat (code, "A", NULL) : g_strdup (code);
      Desk desk;

      if (k == 0)
        wrong[26] = wrong[26] == '5' ? '6' : '5';
      else if (k == 2)
        wrong[26] = '\0';
      else if (k == 3)
        wrong[9] = 'Y';
      desk_init (&desk);
      type (&desk, wrong, 3);
      press (&desk, '\n', 3);
      g_assert_cmpuint (desk.taken, ==, 0);
      g_assert_true (wb_scan_keys_get_misread (desk.keys) == (k == 0));
      g_assert_cmpuint (desk.field->len, ==, strlen (wrong) + 1);
      g_assert_true (g_str_has_prefix (desk.field->str, wrong));
      desk_clear (&desk);
    }
}

/* A key that is kept down is no scanner: nothing of it waits. */
static void
test_key_kept_down_passes (void)
{
  g_autoptr (WbScanKeys) keys = wb_scan_keys_new ();

  g_assert_cmpint (wb_scan_keys_press (keys, '1', FALSE, FALSE, 1000), ==, WB_SCAN_HOLD);
  g_assert_cmpint (wb_scan_keys_press (keys, '1', FALSE, TRUE, 1030), ==, WB_SCAN_REPLAY_PASS);
  g_assert_cmpint (wb_scan_keys_press (keys, '1', FALSE, TRUE, 1060), ==, WB_SCAN_PASS);
}

/* ---- The window ---- */

static WbAppBenchSample *
get_other (Bench *bench)
{
  g_autoptr (GPtrArray) samples = wb_app_bench_dup_of_experiment (bench->bench, wb_page_get_experiment (WB_PAGE (bench->page)));

  for (guint i = 0; i < samples->len; i++)
    if (g_strcmp0 (wb_app_bench_sample_get_code (g_ptr_array_index (samples, i)), bench_get_code (bench)) != 0)
      return g_ptr_array_index (samples, i);
  g_assert_not_reached ();
}

static char *
dup_label (WbAppBenchSample *sample)
{
  return wb_report_label_code_new (&wb_app_bench_sample_get_record (sample)->uuid);
}

/* A field of the panel that has the keyboard. */
static GtkEditable *
take_field (Bench *bench)
{
  GtkWidget *text = test_find (GTK_WIDGET (bench_get_panel (bench)), GTK_TYPE_TEXT);

  g_assert_nonnull (text);
  gtk_widget_grab_focus (text);
  return GTK_EDITABLE (text);
}

typedef struct { GtkEditable *field; const char *text; Bench *bench; const char *code; } Wanted;

static gboolean
holds_text (gpointer user)
{
  const Wanted *wanted = user;

  return g_str_equal (gtk_editable_get_text (wanted->field), wanted->text);
}

static gboolean
shows_sample (gpointer user)
{
  const Wanted *wanted = user;

  return g_strcmp0 (bench_get_code (wanted->bench), wanted->code) == 0;
}

/* The window is active, so that keys come to it. */
static gboolean
is_active (gpointer window)
{
  return gtk_window_is_active (window);
}

static void
keys_arrive (Bench       *bench,
             WbE2eScreen *screen)
{
  wb_e2e_screen_press (screen, "Escape");
  test_wait (is_active, bench->window);
}

static void
test_scan_in_a_field (void)
{
  Bench bench;
  WbE2eScreen *screen = wb_e2e_screen_open ();
  g_autofree char *label = NULL;
  Wanted wanted = { 0 };

  bench_open (&bench, 2, "flame");
  keys_arrive (&bench, screen);
  wanted.bench = &bench;
  wanted.code = wb_app_bench_sample_get_code (get_other (&bench));
  label = dup_label (get_other (&bench));
  wanted.field = take_field (&bench);
  wb_e2e_screen_type (screen, "5");
  wanted.text = "5";
  test_wait (holds_text, &wanted);
  g_object_add_weak_pointer (G_OBJECT (wanted.field), (gpointer *) &wanted.field);
  wb_e2e_screen_type (screen, label);
  wb_e2e_screen_press (screen, "Return");
  test_wait (shows_sample, &wanted);
  g_assert_true (wanted.field == NULL || holds_text (&wanted));
  if (wanted.field != NULL)
    g_object_remove_weak_pointer (G_OBJECT (wanted.field), (gpointer *) &wanted.field);
  wb_e2e_screen_close (screen);
  bench_close (&bench);
}

static gboolean
on_pause_cb (gpointer over)
{
  *(gboolean *) over = TRUE;
  return G_SOURCE_REMOVE;
}

/* Keys of a hand, half a code and what no code has, reach the field unchanged. */
static void
test_hand_in_a_field (void)
{
  Bench bench;
  WbE2eScreen *screen = wb_e2e_screen_open ();
  g_autofree char *label = NULL;
  g_autofree char *half = NULL;
  g_autofree char *whole = NULL;
  Wanted wanted = { 0 };

  bench_open (&bench, 2, "flame");
  keys_arrive (&bench, screen);
  label = dup_label (get_other (&bench));
  half = g_strndup (label, 14);
  wanted.field = take_field (&bench);
  gtk_editable_set_text (wanted.field, "");
  for (const char *at = "12.5"; *at != '\0'; at++)
    {
      char key[2] = { *at, '\0' };
      gboolean over = FALSE;

      wb_e2e_screen_type (screen, key);
      g_timeout_add (WB_SCAN_GAP_MS + 20, on_pause_cb, &over);
      test_wait (test_is_true, &over);
    }
  wanted.text = "12.5";
  test_wait (holds_text, &wanted);
  wb_e2e_screen_type (screen, half);
  whole = g_strconcat ("12.5", half, NULL);
  wanted.text = whole;
  test_wait (holds_text, &wanted);
  wb_e2e_screen_close (screen);
  bench_close (&bench);
}

static void
on_clicked_cb (GtkButton *button,
               gpointer   user)
{
  Wanted *seen = user;

  seen->text = g_strdup (gtk_editable_get_text (seen->field));
}

static gboolean
was_clicked (gpointer user)
{
  return ((const Wanted *) user)->text != NULL;
}

/* What was typed fast may still be held as half a code at a click: it is in its field before the click does anything. */
static void
test_click_after_typing (void)
{
  WbWindow *window = test_window_new ();
  WbE2eScreen *screen = wb_e2e_screen_open ();
  GtkWidget *dialog = gtk_window_new (), *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *entry = gtk_entry_new (), *button = gtk_button_new_with_label ("Save");
  Wanted seen = { .field = GTK_EDITABLE (entry) };
  gboolean typed = FALSE;

  gtk_window_set_transient_for (GTK_WINDOW (dialog), GTK_WINDOW (window));
  gtk_widget_set_vexpand (button, TRUE);
  gtk_window_set_child (GTK_WINDOW (dialog), box);
  gtk_box_append (GTK_BOX (box), entry);
  gtk_box_append (GTK_BOX (box), button);
  gtk_window_set_default_size (GTK_WINDOW (dialog), 400, 300);
  g_signal_connect (button, "clicked", G_CALLBACK (on_clicked_cb), &seen);
  gtk_window_present (GTK_WINDOW (dialog));
  wb_e2e_screen_press (screen, "Escape");
  test_wait (is_active, dialog);
  gtk_widget_grab_focus (entry);
  wb_e2e_screen_type (screen, "Customer tumbler");
  /* sooner than what may be a code is given up */
  g_timeout_add (WB_SCAN_SURE_GAP_MS / 4, on_pause_cb, &typed);
  test_wait (test_is_true, &typed);
  g_assert_true (wb_e2e_screen_click (screen, 200, 250));
  test_wait (was_clicked, &seen);
  g_assert_cmpstr (seen.text, ==, "Customer tumbler");
  g_free ((char *) seen.text);
  gtk_window_destroy (GTK_WINDOW (dialog));
  wb_e2e_screen_close (screen);
  test_window_destroy (window);
}

static gboolean
tells_unknown (gpointer user)
{
  return test_says (GTK_WIDGET (user), "This label belongs to another notebook: there is no such sample here.");
}

static void
test_label_of_another_notebook (void)
{
  Bench bench;
  WbE2eScreen *screen = wb_e2e_screen_open ();
  g_autofree char *label = get_code ();
  g_autofree char *chosen = NULL;

  bench_open (&bench, 2, "flame");
  keys_arrive (&bench, screen);
  chosen = g_strdup (bench_get_code (&bench));
  wb_e2e_screen_type (screen, label);
  wb_e2e_screen_press (screen, "Return");
  test_wait (tells_unknown, bench.window);
  g_assert_cmpstr (bench_get_code (&bench), ==, chosen);
  wb_e2e_screen_close (screen);
  bench_close (&bench);
}

static gboolean
says_finish (gpointer window)
{
  return test_says (GTK_WIDGET (window), "A label was scanned. Finish what stands in front first, then scan it once more.");
}

/* In front of the window stands a dialog: what it holds stays, the window says what to do, and nothing is opened behind it. */
static void
test_dialog_in_front (void)
{
  Bench bench;
  WbE2eScreen *screen = wb_e2e_screen_open ();
  g_autofree char *label = NULL, *chosen = NULL;
  GtkWidget *dialog;
  GtkEditable *note;

  bench_open (&bench, 2, "flame");
  label = dup_label (get_other (&bench));
  chosen = g_strdup (bench_get_code (&bench));
  dialog = wb_inspection_dialog_new (GTK_WIDGET (bench.window), test_notebook (bench.window), wb_reading_panel_get_sample (bench_get_panel (&bench)),
                                     "Wren");
  gtk_window_present (GTK_WINDOW (dialog));
  wb_inspection_dialog_press (WB_INSPECTION_DIALOG (dialog), GDK_KEY_n);
  note = GTK_EDITABLE (gtk_root_get_focus (GTK_ROOT (dialog)));
  gtk_editable_set_text (note, "frost");
  wb_e2e_screen_press (screen, "End");
  test_wait (is_active, dialog);
  wb_e2e_screen_type (screen, label);
  wb_e2e_screen_press (screen, "Return");
  test_wait (says_finish, bench.window);
  g_assert_cmpstr (gtk_editable_get_text (note), ==, "frost");
  g_assert_cmpstr (bench_get_code (&bench), ==, chosen);
  gtk_window_destroy (GTK_WINDOW (dialog));
  wb_e2e_screen_close (screen);
  bench_close (&bench);
}

static gboolean
shows_pour (gpointer window)
{
  return WB_IS_POUR_PAGE (wb_window_get_page (window));
}

/* One that is not poured yet has nothing to do at the bench. */
static void
test_unpoured (void)
{
  WbWindow *window = test_window_new_demo ();
  WbE2eScreen *screen = wb_e2e_screen_open ();
  gint64 experiment = test_experiment (window, WB_CRAFT_STATE_PLANNED);
  g_autoptr (GPtrArray) samples = wb_app_query_list_by_sync (test_notebook (window), &wb_sample_type, "experiment", experiment, NULL);
  g_autofree char *label = NULL;

  g_assert_cmpuint (samples->len, >, 0);
  label = wb_report_label_code_new (&((const WbSample *) g_ptr_array_index (samples, 0))->uuid);
  wb_e2e_screen_press (screen, "Escape");
  test_wait (is_active, window);
  wb_e2e_screen_type (screen, label);
  wb_e2e_screen_press (screen, "Return");
  test_wait (shows_pour, window);
  g_assert_cmpint (wb_page_get_experiment (wb_window_get_page (window)), ==, experiment);
  wb_e2e_screen_close (screen);
  test_window_destroy (window);
}

typedef struct { WbWindow *window; char *words; } Told;

static gboolean
is_told (gpointer user)
{
  const Told *told = user;

  return test_says (GTK_WIDGET (told->window), told->words);
}

/* A reference never burnt: nobody is told that its burns are over, but where it stands and until when. */
static void
test_reference (void)
{
  Told told = { test_window_new_demo (), NULL };
  WbE2eScreen *screen = wb_e2e_screen_open ();
  g_autoptr (GPtrArray) samples = wb_app_query_list_sync (test_notebook (told.window), &wb_sample_type, NULL);
  const WbSample *kept = NULL;
  g_autofree char *label = NULL, *words = NULL;

  for (guint i = 0; i < samples->len; i++)
    if (((const WbSample *) samples->pdata[i])->retained)
      kept = samples->pdata[i];
  g_assert_nonnull (kept);
  words = wb_app_retain_dup_words (kept);
  g_assert_nonnull (strstr (words, kept->place));
  told.words = g_strdup_printf ("Scanned %s: %s. Do not burn it.", kept->code, words);
  label = wb_report_label_code_new (&kept->uuid);
  wb_e2e_screen_press (screen, "Escape");
  test_wait (is_active, told.window);
  wb_e2e_screen_type (screen, label);
  wb_e2e_screen_press (screen, "Return");
  test_wait (is_told, &told);
  wb_e2e_screen_close (screen);
  test_window_destroy (told.window);
  g_free (told.words);
}

/* The text of the code, as a telephone's camera gives it, pasted where a sample is looked for. */
static void
test_code_is_found (void)
{
  Bench bench;
  g_autofree char *label = NULL;
  Wanted wanted = { 0 };
  GtkWidget *entry = NULL;

  bench_open (&bench, 2, "flame");
  wanted.bench = &bench;
  wanted.code = wb_app_bench_sample_get_code (get_other (&bench));
  label = dup_label (get_other (&bench));
  bench_act (&bench, "page.find");
  for (GtkWidget *popover = test_find (GTK_WIDGET (bench.page), GTK_TYPE_POPOVER); entry == NULL && popover != NULL;)
    entry = test_find (popover, GTK_TYPE_ENTRY);
  g_assert_nonnull (entry);
  gtk_editable_set_text (GTK_EDITABLE (entry), label);
  g_signal_emit_by_name (entry, "activate");
  test_wait (shows_sample, &wanted);
  bench_close (&bench);
}

void
test_scanner_add (void)
{
  g_test_add_func ("/views/scanner/a-scan-is-taken", test_scan_is_taken);
  g_test_add_func ("/views/scanner/a-hand-is-let-through", test_hand_is_let_through);
  g_test_add_func ("/views/scanner/half-a-code-is-let-through", test_half_a_code_is_let_through);
  g_test_add_func ("/views/scanner/a-scan-behind-a-hand", test_scan_behind_a_hand);
  g_test_add_func ("/views/scanner/a-scan-that-is-held-up", test_scan_is_held_up);
  g_test_add_func ("/views/scanner/two-labels-one-behind-the-other", test_two_scans);
  g_test_add_func ("/views/scanner/a-wrong-code-is-let-through", test_wrong_code_is_let_through);
  g_test_add_func ("/views/scanner/a-key-kept-down-passes", test_key_kept_down_passes);
  g_test_add_func ("/views/scanner/a-scan-opens-its-sample-and-leaves-the-field", test_scan_in_a_field);
  g_test_add_func ("/views/scanner/keys-of-a-hand-reach-the-field", test_hand_in_a_field);
  g_test_add_func ("/views/scanner/what-was-typed-comes-before-a-click", test_click_after_typing);
  g_test_add_func ("/views/scanner/a-label-of-another-notebook-is-told", test_label_of_another_notebook);
  g_test_add_func ("/views/scanner/a-dialog-in-front-keeps-what-it-holds", test_dialog_in_front);
  g_test_add_func ("/views/scanner/a-reference-tells-where-it-is-kept", test_reference);
  g_test_add_func ("/views/scanner/a-sample-that-is-not-poured", test_unpoured);
  g_test_add_func ("/views/scanner/its-text-is-found-at-the-bench", test_code_is_found);
}
