/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "../exif-photo.h"
#include "bench-page.h"
#include "test-bench.h"

#include "wb-app-query.h"
#include "wb-burn-page.h"
#include "wb-clock.h"
#include "wb-file-drop.h"
#include "wb-photo-dialog.h"
#include "wb-photo-place.h"
#include "wb-photo-words.h"
#include "wb-problem-bar.h"

#include <gdk-pixbuf/gdk-pixbuf.h>
#include <string.h>

/* The page Burn, its first sample alight for 35 minutes, its photos unfolded. */
typedef struct
{
  Bench         bench;
  WbPhotoStrip *strip;
} Page;

static gboolean
is_read (gpointer strip)
{
  WbAppAttachments *photos = wb_photo_strip_get_photos (strip);

  return photos != NULL && wb_app_live_list_get_loaded (WB_APP_LIVE_LIST (photos)) && wb_photo_strip_get_n_adding (strip) == 0;
}

static void
page_open (Page *page)
{
  bench_open (&page->bench, 2, "pool_mm,flame_mm");
  page->strip = wb_burn_page_get_photos (page->bench.page);
  test_bench_light_first (wb_desk_get_bench (wb_host_get_desk (WB_HOST (page->bench.window))));
  wb_clock_advance (wb_clock_get (), 35 * 60 * G_USEC_PER_SEC);
  g_assert_true (test_enabled (page->bench.window, "page.photos"));
  gtk_widget_activate_action (GTK_WIDGET (page->bench.window), "page.photos", NULL);
  test_wait (is_read, page->strip);
}

static void
page_close (Page *page)
{
  bench_close (&page->bench);
}

static GdkPixbuf *
make_picture (void)
{
  GdkPixbuf *pixbuf = gdk_pixbuf_new (GDK_COLORSPACE_RGB, FALSE, 8, 300, 200);

  gdk_pixbuf_fill (pixbuf, 0xc04010ff);
  return pixbuf;
}

/* Caller frees. */
static GFile *
write_picture (const char *name)
{
  g_autofree char *path = test_path (name);
  g_autoptr (GdkPixbuf) pixbuf = make_picture ();
  g_autoptr (GError) error = NULL;

  g_assert_true (gdk_pixbuf_save (pixbuf, path, "jpeg", &error, NULL));
  g_assert_no_error (error);
  return g_file_new_for_path (path);
}

/* The same, taken at that minute of the first burn as its camera wrote it. */
static GFile *
write_taken (Page       *page,
             const char *name,
             double      minute)
{
  GFile *file = write_picture (name);
  WbAppBench *bench = wb_desk_get_bench (wb_host_get_desk (WB_HOST (page->bench.window)));
  g_autoptr (WbAppBenchSample) sample = g_list_model_get_item (G_LIST_MODEL (bench), 0);
  WbInstant when = wb_app_bench_sample_get_lit_at (sample);
  g_autoptr (GBytes) plain = g_file_load_bytes (file, NULL, NULL, NULL), timed = NULL;
  g_autofree char *taken = NULL;

  when.utc_us += (gint64) (minute * 60 * G_USEC_PER_SEC);
  when.offset_s = 0;
  taken = wb_instant_format (when);
  taken[4] = taken[7] = ':';
  taken[10] = ' ';
  taken[19] = '\0';
  timed = exif_photo_new (plain, taken, "+00:00");
  g_assert_true (g_file_set_contents (g_file_peek_path (file), g_bytes_get_data (timed, NULL), (gssize) g_bytes_get_size (timed), NULL));
  return file;
}

static WbAppBenchSample *
chosen (Page *page)
{
  return wb_reading_panel_get_sample (wb_reading_stack_get_shown (wb_burn_page_get_stack (page->bench.page)));
}

/* The sample that is not chosen; borrowed from the bench. */
static WbAppBenchSample *
other (Page *page)
{
  GListModel *samples = G_LIST_MODEL (wb_desk_get_bench (wb_host_get_desk (WB_HOST (page->bench.window))));

  for (guint i = 0; i < g_list_model_get_n_items (samples); i++)
    {
      g_autoptr (WbAppBenchSample) sample = g_list_model_get_item (samples, i);

      if (sample != chosen (page))
        return sample;
    }
  g_assert_not_reached ();
}

static void
choose (Page             *page,
        WbAppBenchSample *sample)
{
  gtk_widget_activate_action (GTK_WIDGET (page->bench.window), "page.choose", "x", wb_app_bench_sample_get_id (sample));
}

/* Borrowed from the list. */
static WbAppAttachmentsItem *
nth (Page *page,
     guint n)
{
  g_autoptr (WbAppAttachmentsItem) item = g_list_model_get_item (G_LIST_MODEL (wb_photo_strip_get_photos (page->strip)), n);

  g_assert_nonnull (item);
  return item;
}

typedef struct
{
  Page *page;
  guint n;
} Count;

static gboolean
has_so_many (gpointer user)
{
  Count *count = user;

  return is_read (count->page->strip)
         && g_list_model_get_n_items (G_LIST_MODEL (wb_photo_strip_get_photos (count->page->strip))) == count->n;
}

static void
wait_for (Page *page,
          guint n)
{
  Count count = { page, n };

  test_wait (has_so_many, &count);
}

static void
add_file (Page       *page,
          const char *name)
{
  g_autoptr (GListStore) files = g_list_store_new (G_TYPE_FILE);
  g_autoptr (GFile) file = write_picture (name);

  g_list_store_append (files, file);
  wb_photo_strip_add_files (page->strip, chosen (page), G_LIST_MODEL (files));
}

/* The pictures of the row, of which so many show something. */
static guint
count_pictures (GtkWidget *widget)
{
  guint n = GTK_IS_PICTURE (widget) && gtk_picture_get_paintable (GTK_PICTURE (widget)) != NULL;

  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
    n += count_pictures (child);
  return n;
}

static gboolean
has_two_thumbnails (gpointer strip)
{
  return count_pictures (strip) == 2;
}

static void
test_files (void)
{
  Page page;
  g_autoptr (GListStore) files = g_list_store_new (G_TYPE_FILE);
  g_autoptr (GFile) first = NULL, second = NULL;
  g_autofree char *place = NULL, *none = NULL;
  const char *hint;

  page_open (&page);
  first = write_taken (&page, "first.jpg", 20);
  second = write_picture ("second.jpg");
  g_list_store_append (files, first);
  g_list_store_append (files, second);
  wb_photo_strip_add_files (page.strip, chosen (&page), G_LIST_MODEL (files));
  g_assert_cmpuint (wb_photo_strip_get_n_adding (page.strip), ==, 2);
  wait_for (&page, 2);
  test_wait (has_two_thumbnails, page.strip);
  place = wb_photo_words_dup_place (nth (&page, 0));
  g_assert_cmpstr (place, ==, "burn 1, 20 min");
  /* Its camera wrote nothing: nothing is claimed, and what to do is said. */
  none = wb_photo_words_dup_place (nth (&page, 1));
  g_assert_cmpstr (none, ==, "time not known");
  hint = gtk_label_get_text (GTK_LABEL (test_child (GTK_WIDGET (page.strip), "hint")));
  g_assert_cmpstr (hint, ==, "1 without a time: open it to say when.");
  /* One entry each. */
  gtk_widget_activate_action (GTK_WIDGET (page.bench.window), "win.undo", NULL);
  wait_for (&page, 1);
  gtk_widget_activate_action (GTK_WIDGET (page.bench.window), "win.undo", NULL);
  wait_for (&page, 0);
  page_close (&page);
}

static void
test_paste (void)
{
  Page page;
  GdkClipboard *clipboard;
  g_autoptr (GdkPixbuf) pixbuf = make_picture ();
  g_autoptr (GdkTexture) texture = gdk_texture_new_for_pixbuf (pixbuf);
  g_autofree char *place = NULL;

  page_open (&page);
  clipboard = gtk_widget_get_clipboard (GTK_WIDGET (page.bench.window));
  gdk_clipboard_set_texture (clipboard, texture);
  g_assert_true (test_enabled (page.bench.window, "page.paste-photo"));
  gtk_widget_activate_action (GTK_WIDGET (page.bench.window), "page.paste-photo", NULL);
  wait_for (&page, 1);
  g_assert_cmpstr (wb_app_attachments_item_get_record (nth (&page, 0))->name, ==, "Pasted photo");
  /* It is alight. */
  place = wb_photo_words_dup_place (nth (&page, 0));
  g_assert_cmpstr (place, ==, "burn 1, 35 min");
  page_close (&page);
}

/* Onto one that does not burn: nothing is claimed. */
static void
test_paste_unlit (void)
{
  Page page;
  g_autoptr (GdkPixbuf) pixbuf = make_picture ();
  g_autoptr (GdkTexture) texture = gdk_texture_new_for_pixbuf (pixbuf);
  g_autofree char *place = NULL;

  page_open (&page);
  choose (&page, other (&page));
  gdk_clipboard_set_texture (gtk_widget_get_clipboard (GTK_WIDGET (page.bench.window)), texture);
  gtk_widget_activate_action (GTK_WIDGET (page.bench.window), "page.paste-photo", NULL);
  wait_for (&page, 1);
  place = wb_photo_words_dup_place (nth (&page, 0));
  g_assert_cmpstr (place, ==, "time not known");
  page_close (&page);
}

static gboolean
adds_nothing (gpointer strip)
{
  return wb_photo_strip_get_n_adding (strip) == 0;
}

static const char *
get_problem (Page *page)
{
  WbProblemBar *bar = WB_PROBLEM_BAR (test_find (GTK_WIDGET (page->bench.window), WB_TYPE_PROBLEM_BAR));

  return wb_problem_bar_get_heading (bar);
}

static gboolean
has_problem (gpointer page)
{
  return get_problem (page) != NULL;
}

static void
test_paste_text (void)
{
  Page page;

  page_open (&page);
  gdk_clipboard_set_text (gtk_widget_get_clipboard (GTK_WIDGET (page.bench.window)), "54 mm");
  gtk_widget_activate_action (GTK_WIDGET (page.bench.window), "page.paste-photo", NULL);
  test_wait (has_problem, &page);
  g_assert_cmpstr (get_problem (&page), ==, "The photo was not added");
  wait_for (&page, 0);
  page_close (&page);
}

/* What is dropped on another candle is of that candle. */
static void
test_drop (void)
{
  Page page;
  g_autoptr (GFile) file = NULL;
  GValue value = G_VALUE_INIT, text = G_VALUE_INIT;
  WbLoggerStrip *loggers;
  GSList *files;

  page_open (&page);
  file = write_picture ("dropped.jpg");
  files = g_slist_prepend (NULL, g_object_ref (file));
  g_value_init (&value, GDK_TYPE_FILE_LIST);
  g_value_take_boxed (&value, files);
  g_value_init (&text, G_TYPE_STRING);
  g_value_set_string (&text, "54 mm");
  loggers = wb_burn_page_get_loggers (page.bench.page);
  g_assert_false (wb_file_drop_take (&text, page.strip, loggers, NULL));
  g_assert_true (wb_file_drop_take (&value, page.strip, loggers, NULL));
  wait_for (&page, 1);
  g_assert_true (wb_file_drop_take (&value, page.strip, loggers, other (&page)));
  /* It does not come here. */
  wait_for (&page, 1);
  g_assert_true (g_str_has_suffix (wb_app_attachments_item_get_record (nth (&page, 0))->name, "dropped.jpg"));
  choose (&page, other (&page));
  wait_for (&page, 1);
  g_value_unset (&value);
  g_value_unset (&text);
  page_close (&page);
}

/* The good ones are added, and the others told together. */
static void
test_refused (void)
{
  Page page;
  g_autoptr (GListStore) files = g_list_store_new (G_TYPE_FILE);
  g_autoptr (GFile) good = NULL, bad = NULL, missing = g_file_new_for_path ("/no/such/photo.jpg");
  g_autofree char *path = NULL;

  page_open (&page);
  path = test_path ("moving.gif");
  g_assert_true (g_file_set_contents (path, "GIF89a", -1, NULL));
  bad = g_file_new_for_path (path);
  good = write_picture ("good.jpg");
  g_list_store_append (files, bad);
  g_list_store_append (files, missing);
  g_list_store_append (files, good);
  wb_photo_strip_add_files (page.strip, chosen (&page), G_LIST_MODEL (files));
  wait_for (&page, 1);
  test_wait (has_problem, &page);
  g_assert_cmpstr (get_problem (&page), ==, "Photos were not added");
  page_close (&page);
}

static gboolean
is_picture_shown (gpointer dialog)
{
  return wb_photo_dialog_get_shown (dialog);
}

/* Caller must have none open. */
static WbPhotoDialog *
find_dialog (void)
{
  return WB_PHOTO_DIALOG (test_find_window (WB_TYPE_PHOTO_DIALOG));
}

static gboolean
is_closed (gpointer user)
{
  return find_dialog () == NULL;
}

static gboolean
is_noted (gpointer page)
{
  return g_strcmp0 (wb_app_attachments_item_get_record (nth (page, 0))->note, "soot at the rim") == 0;
}

static void
test_dialog (void)
{
  Page page;
  WbPhotoDialog *dialog;

  page_open (&page);
  add_file (&page, "rim.jpg");
  wait_for (&page, 1);
  wb_photo_strip_open (page.strip, nth (&page, 0));
  dialog = find_dialog ();
  test_wait (is_picture_shown, dialog);
  /* Without the mouse: the keyboard is in the note, and Enter keeps it. */
  g_assert_true (gtk_widget_is_ancestor (gtk_root_get_focus (GTK_ROOT (dialog)), test_child (GTK_WIDGET (dialog), "note")));
  gtk_editable_set_text (GTK_EDITABLE (test_child (GTK_WIDGET (dialog), "note")), "soot at the rim");
  g_signal_emit_by_name (gtk_root_get_focus (GTK_ROOT (dialog)), "activate");
  test_wait (is_closed, NULL);
  test_wait (is_noted, &page);

  wb_photo_strip_open (page.strip, nth (&page, 0));
  dialog = find_dialog ();
  test_wait (is_picture_shown, dialog);
  /* Not without a reason. */
  g_signal_emit_by_name (test_child (GTK_WIDGET (dialog), "take_out"), "clicked");
  g_assert_true (gtk_widget_get_visible (test_child (GTK_WIDGET (dialog), "problem")));
  gtk_editable_set_text (GTK_EDITABLE (test_child (GTK_WIDGET (dialog), "reason")), "another candle");
  g_signal_emit_by_name (test_child (GTK_WIDGET (dialog), "take_out"), "clicked");
  test_wait (is_closed, NULL);
  wait_for (&page, 0);
  /* With its note. */
  gtk_widget_activate_action (GTK_WIDGET (page.bench.window), "win.undo", NULL);
  wait_for (&page, 1);
  g_assert_true (is_noted (&page));
  page_close (&page);
}

static gboolean
is_ready (gpointer dialog)
{
  return wb_photo_dialog_get_ready (dialog) && wb_photo_dialog_get_shown (dialog);
}

static WbPhotoDialog *
open_dialog (Page *page)
{
  WbPhotoDialog *dialog;

  wb_photo_strip_open (page->strip, nth (page, 0));
  dialog = find_dialog ();
  test_wait (is_ready, dialog);
  return dialog;
}

/* The choice in the dialog, and then its button. */
static void
place (WbPhotoDialog *dialog,
       guint          owner,
       const char    *when,
       const char    *reason)
{
  gtk_drop_down_set_selected (GTK_DROP_DOWN (test_child (GTK_WIDGET (dialog), "owner")), owner);
  gtk_editable_set_text (GTK_EDITABLE (test_child (GTK_WIDGET (dialog), "when")), when);
  gtk_editable_set_text (GTK_EDITABLE (test_child (GTK_WIDGET (dialog), "reason")), reason);
  g_signal_emit_by_name (test_child (GTK_WIDGET (dialog), "place"), "clicked");
}

typedef struct { Page *page; const char *said; } Said;

static gboolean
is_placed (gpointer user)
{
  Said *said = user;
  g_autofree char *place = wb_photo_words_dup_place (nth (said->page, 0));

  return g_str_equal (place, said->said);
}

static void
assert_problem (WbPhotoDialog *dialog,
                const char    *said)
{
  GtkWidget *problem = test_child (GTK_WIDGET (dialog), "problem");

  g_assert_true (gtk_widget_get_visible (problem));
  g_assert_nonnull (strstr (gtk_label_get_text (GTK_LABEL (problem)), said));
}

static gboolean
is_refused (gpointer dialog)
{
  return gtk_widget_get_visible (test_child (dialog, "problem"));
}

/* What its camera did not write is offered, with what it is worth, and taken by hand. */
static void
test_offer (void)
{
  Page page;
  WbPhotoDialog *dialog;
  GtkWidget *offer;
  g_autoptr (GListStore) files = g_list_store_new (G_TYPE_FILE);
  g_autoptr (GFile) file = NULL, timed = NULL;
  WbInstant lit;

  page_open (&page);
  lit = wb_app_bench_sample_get_lit_at (chosen (&page));
  file = write_picture ("silent.jpg");
  g_assert_true (g_file_set_attribute_uint64 (file, G_FILE_ATTRIBUTE_TIME_MODIFIED, (guint64) (lit.utc_us / G_USEC_PER_SEC) + 600,
                                              G_FILE_QUERY_INFO_NONE, NULL, NULL));
  g_list_store_append (files, file);
  wb_photo_strip_add_files (page.strip, chosen (&page), G_LIST_MODEL (files));
  wait_for (&page, 1);
  dialog = open_dialog (&page);
  offer = test_child (GTK_WIDGET (dialog), "offer");
  g_assert_true (gtk_widget_get_visible (offer));
  g_assert_true (test_says (offer, "when its file was last written: copying changes that"));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (test_child (GTK_WIDGET (dialog), "owner")), 1);
  g_signal_emit_by_name (offer, "clicked");
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (test_child (GTK_WIDGET (dialog), "when"))), ==, "10");
  g_signal_emit_by_name (test_child (GTK_WIDGET (dialog), "place"), "clicked");
  test_wait (is_closed, NULL);
  test_wait (is_placed, &(Said) { &page, "burn 1, 10 min" });
  /* Said now: nothing is offered any more. */
  dialog = open_dialog (&page);
  g_assert_false (gtk_widget_get_visible (test_child (GTK_WIDGET (dialog), "offer")));
  gtk_window_destroy (GTK_WINDOW (dialog));
  page_close (&page);
}

/* Said for the first time, then corrected with a reason, and back to the sample. */
static void
test_place (void)
{
  Page page;
  WbPhotoDialog *dialog;

  page_open (&page);
  add_file (&page, "silent.jpg");
  wait_for (&page, 1);
  dialog = open_dialog (&page);
  g_assert_cmpuint (gtk_drop_down_get_selected (GTK_DROP_DOWN (test_child (GTK_WIDGET (dialog), "owner"))), ==, 0);
  place (dialog, 1, "soon", "");
  assert_problem (dialog, "write the minute since lighting");
  place (dialog, 1, "12,5", "");
  test_wait (is_closed, NULL);
  test_wait (is_placed, &(Said) { &page, "burn 1, 13 min" });

  dialog = open_dialog (&page);
  g_assert_cmpuint (gtk_drop_down_get_selected (GTK_DROP_DOWN (test_child (GTK_WIDGET (dialog), "owner"))), ==, 1);
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (test_child (GTK_WIDGET (dialog), "when"))), ==, "12.5");
  place (dialog, 1, "21", "");
  test_wait (is_refused, dialog);
  assert_problem (dialog, "Say why");
  place (dialog, 1, "21", "read the wrong clock");
  test_wait (is_closed, NULL);
  test_wait (is_placed, &(Said) { &page, "burn 1, 21 min" });

  dialog = open_dialog (&page);
  place (dialog, 0, "", "before it was lit");
  test_wait (is_closed, NULL);
  test_wait (is_placed, &(Said) { &page, "time not known" });
  gtk_widget_activate_action (GTK_WIDGET (page.bench.window), "win.undo", NULL);
  test_wait (is_placed, &(Said) { &page, "burn 1, 21 min" });
  page_close (&page);
}

/* What a person writes, without a window. */
static void
test_place_read (void)
{
  static const struct { gboolean burn; const char *text; const char *said; } cases[] = {
    { TRUE, "", "" },
    { TRUE, " 95 ", "2026-03-02T19:35:00+00:00" },
    { TRUE, "0,5", "2026-03-02T18:00:30+00:00" },
    { TRUE, "-1", NULL },
    { TRUE, "2881", NULL },
    { TRUE, "nan", NULL },
    { FALSE, "", "" },
    { FALSE, "2 Mar 2026, 19:40", "2026-03-02T19:40:00+00:00" },
    { FALSE, "2026-03-01 7.05", "2026-03-01T07:05:00+00:00" },
    { FALSE, "yesterday 19:40", "2026-03-02T19:40:00+00:00" },
    { FALSE, "19:40", NULL },
    { FALSE, "2 Mar 2026", NULL },
    { FALSE, "31 Feb 2026, 19:40", NULL },
  };
  g_autoptr (WbRecord) record = wb_record_new (&wb_burn_type);
  WbBurn *burn = (WbBurn *) record;
  g_autofree char *back = NULL, *minute = NULL;
  WbInstant now, taken;

  g_assert_true (wb_instant_parse ("2026-03-02T18:00:00+00:00", &burn->lit_at, NULL));
  g_assert_true (wb_instant_parse ("2026-03-03T08:00:00+00:00", &now, NULL));
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *refusal = NULL, *said = NULL;
      gboolean good = wb_photo_place_read (cases[i].burn ? burn : NULL, cases[i].text, now, &taken, &refusal);

      g_test_message ("“%s”", cases[i].text);
      g_assert_cmpint (good, ==, cases[i].said != NULL);
      g_assert_true (good == (refusal == NULL));
      said = wb_instant_format (taken);
      g_assert_cmpstr (said, ==, cases[i].said != NULL ? cases[i].said : "");
    }
  /* What stands there is read back as it is. */
  g_assert_true (wb_instant_parse ("2026-03-02T19:40:00+00:00", &taken, NULL));
  back = wb_photo_place_dup_text (NULL, taken);
  minute = wb_photo_place_dup_text (burn, taken);
  g_assert_cmpstr (minute, ==, "100");
  g_assert_true (wb_photo_place_read (NULL, back, now, &burn->lit_at, &(char *) { NULL }));
  g_assert_cmpint (burn->lit_at.utc_us, ==, taken.utc_us);
}

static void
test_names (void)
{
  Page page;
  WbPhotoDialog *dialog;

  page_open (&page);
  add_file (&page, "named.jpg");
  wait_for (&page, 1);
  g_assert_cmpuint (test_check_names (GTK_WIDGET (page.strip), "photos"), >, 3);
  dialog = open_dialog (&page);
  g_assert_cmpuint (test_check_names (GTK_WIDGET (dialog), "photo of a sample"), >=, 9);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (test_child (GTK_WIDGET (dialog), "owner")), 1);
  test_check_names (GTK_WIDGET (dialog), "photo of a burn");
  gtk_window_destroy (GTK_WINDOW (dialog));
  test_wait (is_closed, NULL);
  page_close (&page);
}

static gboolean
is_unfolded (gpointer strip)
{
  return gtk_expander_get_expanded (GTK_EXPANDER (gtk_widget_get_first_child (strip)));
}

/* What is unfolded takes room from the bench: one thing at a time. */
static void
test_one_unfolded (void)
{
  Page page;
  WbReadingLog *log;

  page_open (&page);
  log = wb_burn_page_get_log (page.bench.page);
  g_assert_true (is_unfolded (page.strip));
  gtk_widget_activate_action (GTK_WIDGET (page.bench.window), "page.readings", NULL);
  g_assert_true (is_unfolded (log));
  g_assert_false (is_unfolded (page.strip));
  gtk_widget_activate_action (GTK_WIDGET (page.bench.window), "page.loggers", NULL);
  g_assert_true (is_unfolded (wb_burn_page_get_loggers (page.bench.page)));
  g_assert_false (is_unfolded (log));
  page_close (&page);
}

static void
test_copy (void)
{
  Page page;
  WbPhotoDialog *dialog;
  g_autofree char *path = test_path ("copy.jpg");
  g_autoptr (GdkPixbuf) pixbuf = NULL;

  page_open (&page);
  add_file (&page, "kept.jpg");
  wait_for (&page, 1);
  dialog = open_dialog (&page);
  wb_photo_dialog_save_copy (dialog, "/no/such/folder/copy.jpg");
  test_wait (is_refused, dialog);
  wb_photo_dialog_save_copy (dialog, path);
  test_wait (is_refused, dialog);
  assert_problem (dialog, "Saved as");
  pixbuf = gdk_pixbuf_new_from_file (path, NULL);
  g_assert_nonnull (pixbuf);
  g_assert_cmpint (gdk_pixbuf_get_width (pixbuf), ==, 300);
  gtk_window_destroy (GTK_WINDOW (dialog));
  page_close (&page);
}

/* ---- The window is closed ---- */

static gboolean
is_gone (gpointer weak)
{
  return *(gpointer *) weak == NULL;
}

/* With its flame out, so that closing asks nothing of it; so many wait, one of them no photo where `bad`. */
static void
page_open_adding (Page    *page,
                  guint    n,
                  gboolean bad)
{
  WbAppBench *bench;

  page_open (page);
  bench = wb_desk_get_bench (wb_host_get_desk (WB_HOST (page->bench.window)));
  test_bench_snuff (bench, chosen (page));
  if (bad)
    {
      g_autofree char *path = test_path ("bad.jpg");
      g_autoptr (GFile) file = g_file_new_for_path (path);
      g_autoptr (GListStore) files = g_list_store_new (G_TYPE_FILE);

      g_assert_true (g_file_set_contents (path, "GIF89a", -1, NULL));
      g_list_store_append (files, file);
      wb_photo_strip_add_files (page->strip, chosen (page), G_LIST_MODEL (files));
    }
  for (guint i = 0; i < n; i++)
    add_file (page, "waits.jpg");
}

static void
assert_kept (const char *path,
             guint       n)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbAppNotebook) notebook = wb_app_notebook_open_sync (path, WB_APP_OPEN_EXISTING, NULL, &error);
  g_autoptr (GPtrArray) kept = NULL;

  g_assert_no_error (error);
  kept = wb_app_query_list_sync (notebook, &wb_attachment_type, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (kept->len, ==, n);
  wb_app_notebook_close (notebook);
}

/* It closes by itself once all are kept, and not before. */
static void
test_close (void)
{
  Page page;
  gpointer weak;

  page_open_adding (&page, 3, FALSE);
  weak = page.bench.window;
  g_object_add_weak_pointer (weak, &weak);
  g_assert_cmpuint (wb_photo_strip_get_n_adding (page.strip), ==, 3);
  gtk_window_close (GTK_WINDOW (page.bench.window));
  g_assert_nonnull (weak);
  g_assert_cmpuint (wb_photo_strip_get_n_adding (page.strip), ==, 3);
  g_assert_nonnull (wb_job_bar_get_job (wb_host_get_job_bar (WB_HOST (page.bench.window))));
  test_wait (is_gone, &weak);
  assert_kept (page.bench.path, 3);
  g_free (page.bench.path);
}

/* What could not be added must be read first. */
static void
test_close_refused (void)
{
  Page page;
  gpointer weak;

  page_open_adding (&page, 2, TRUE);
  weak = page.bench.window;
  g_object_add_weak_pointer (weak, &weak);
  gtk_window_close (GTK_WINDOW (page.bench.window));
  test_wait (adds_nothing, page.strip);
  test_wait (has_problem, &page);
  test_settle (page.bench.window);
  g_assert_nonnull (weak);
  g_assert_null (wb_job_bar_get_job (wb_host_get_job_bar (WB_HOST (page.bench.window))));
  gtk_window_close (GTK_WINDOW (page.bench.window));
  test_wait (is_gone, &weak);
  assert_kept (page.bench.path, 2);
  g_free (page.bench.path);
}

static GtkWidget *
find_question (void)
{
  g_autoptr (GList) windows = gtk_window_list_toplevels ();

  for (GList *at = windows; at != NULL; at = at->next)
    if (GTK_IS_MESSAGE_DIALOG (at->data))
      return at->data;
  return NULL;
}

static gboolean
is_asked (gpointer user)
{
  return find_question () != NULL && gtk_widget_get_mapped (find_question ());
}

/* Asked once more it asks; the photos that are kept meanwhile answer it. */
static void
test_close_twice (void)
{
  Page page;
  gpointer weak;

  page_open_adding (&page, 3, FALSE);
  weak = page.bench.window;
  g_object_add_weak_pointer (weak, &weak);
  gtk_window_close (GTK_WINDOW (page.bench.window));
  gtk_window_close (GTK_WINDOW (page.bench.window));
  g_assert_nonnull (find_question ());
  test_wait (is_gone, &weak);
  g_assert_null (find_question ());
  assert_kept (page.bench.path, 3);
  g_free (page.bench.path);
}

/* The person may do without them: those that wait are gone, what is kept is whole. */
static void
test_close_without (void)
{
  Page page;
  gpointer weak;
  g_autoptr (WbAppNotebook) notebook = NULL;
  g_autoptr (GPtrArray) kept = NULL;

  page_open_adding (&page, 40, FALSE);
  weak = page.bench.window;
  g_object_add_weak_pointer (weak, &weak);
  gtk_window_close (GTK_WINDOW (page.bench.window));
  gtk_window_close (GTK_WINDOW (page.bench.window));
  test_wait (is_asked, NULL);
  gtk_dialog_response (GTK_DIALOG (find_question ()), GTK_RESPONSE_ACCEPT);
  test_wait (is_gone, &weak);
  notebook = wb_app_notebook_open_sync (page.bench.path, WB_APP_OPEN_EXISTING, NULL, NULL);
  kept = wb_app_query_list_sync (notebook, &wb_attachment_type, NULL);
  g_assert_cmpuint (kept->len, <, 40);
  wb_app_notebook_close (notebook);
  g_free (page.bench.path);
}

/* The bar's button gives up the closing, not the photos. */
static void
test_close_given_up (void)
{
  Page page;

  page_open_adding (&page, 2, FALSE);
  gtk_window_close (GTK_WINDOW (page.bench.window));
  wb_app_job_cancel (wb_job_bar_get_job (wb_host_get_job_bar (WB_HOST (page.bench.window))));
  g_assert_null (wb_job_bar_get_job (wb_host_get_job_bar (WB_HOST (page.bench.window))));
  wait_for (&page, 2);
  test_settle (page.bench.window);
  page_close (&page);
}

/* What was asked of a candle stays with it while the hand goes on to the next. */
static void
test_hand_goes_on (void)
{
  Page page;
  WbAppBenchSample *first;

  page_open (&page);
  first = chosen (&page);
  add_file (&page, "first.jpg");
  choose (&page, other (&page));
  g_assert_true (chosen (&page) != first);
  wait_for (&page, 0);
  choose (&page, first);
  wait_for (&page, 1);
  page_close (&page);
}

/* Several wait, and the window goes elsewhere. */
static void
test_window_goes_on (void)
{
  Page page;

  page_open (&page);
  for (guint i = 0; i < 3; i++)
    add_file (&page, "one-of-three.jpg");
  g_assert_true (wb_window_go (page.bench.window, "today", 0));
  g_assert_true (wb_window_go (page.bench.window, "plan", wb_page_get_experiment (WB_PAGE (page.bench.page))));
  test_wait (adds_nothing, page.strip);
  g_assert_true (wb_window_go (page.bench.window, "burn", wb_page_get_experiment (WB_PAGE (page.bench.page))));
  bench_take (&page.bench);
  wait_for (&page, 3);
  page_close (&page);
}

void
test_photos_add (void)
{
  g_test_add_func ("/views/photos/one-thing-at-a-time-is-unfolded", test_one_unfolded);
  g_test_add_func ("/views/photos/go-on-while-the-window-goes-elsewhere", test_window_goes_on);
  g_test_add_func ("/views/photos/several-files-are-added-and-shown", test_files);
  g_test_add_func ("/views/photos/a-picture-of-the-clipboard-is-pasted", test_paste);
  g_test_add_func ("/views/photos/a-picture-pasted-onto-an-unlit-sample-claims-no-time", test_paste_unlit);
  g_test_add_func ("/views/photos/where-one-belongs-is-said-and-corrected", test_place);
  g_test_add_func ("/views/photos/a-time-is-offered-where-none-is-known", test_offer);
  g_test_add_func ("/views/photos/a-minute-or-a-day-and-time-is-read-as-written", test_place_read);
  g_test_add_func ("/views/photos/strip-and-dialog-name-their-controls", test_names);
  g_test_add_func ("/views/photos/a-copy-is-saved-as-a-file", test_copy);
  g_test_add_func ("/views/photos/a-window-closes-once-they-are-kept", test_close);
  g_test_add_func ("/views/photos/a-window-stays-open-where-one-was-refused", test_close_refused);
  g_test_add_func ("/views/photos/a-window-asked-twice-to-close-asks-back", test_close_twice);
  g_test_add_func ("/views/photos/a-window-may-close-without-them", test_close_without);
  g_test_add_func ("/views/photos/closing-may-be-given-up-while-they-wait", test_close_given_up);
  g_test_add_func ("/views/photos/text-is-no-photo", test_paste_text);
  g_test_add_func ("/views/photos/files-are-dropped", test_drop);
  g_test_add_func ("/views/photos/what-cannot-be-read-is-told-and-the-rest-added", test_refused);
  g_test_add_func ("/views/photos/opened-large-noted-and-taken-out", test_dialog);
  g_test_add_func ("/views/photos/stay-with-their-candle-while-the-hand-goes-on", test_hand_goes_on);
}
