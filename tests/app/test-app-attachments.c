/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "../exif-photo.h"
#include "../png-chunk.h"
#include "app-evening.h"
#include "wb-app-attachments.h"
#include "wb-app-photo.h"
#include "wb-app-record.h"
#include "wb-clock.h"

#include <gdk-pixbuf/gdk-pixbuf.h>
#include <math.h>
#include <string.h>

/* A lit sample, and what is kept with it. */
typedef struct
{
  Evening           evening;
  WbAppBenchSample *sample;
  WbAppAttachments *kept;
} Book;

static gboolean
is_loaded (gpointer kept)
{
  return wb_app_live_list_get_loaded (WB_APP_LIVE_LIST (kept));
}

static void
set_up (Book *book)
{
  book->sample = evening_set_up_lit (&book->evening);
  book->kept = wb_app_attachments_new (book->evening.notebook, wb_app_bench_sample_get_id (book->sample), WB_ATTACHMENT_PHOTO);
  app_wait_until (is_loaded, book->kept, "what is kept");
}

static void
tear_down (Book *book)
{
  g_assert_finalize_object (book->kept);
  evening_tear_down (&book->evening);
}

static gboolean
add (Book            *book,
     gint64           owner,
     WbAttachmentRole role,
     const char      *text,
     double           minute,
     GError         **error)
{
  g_autoptr (WbRecord) record = wb_record_new (&wb_attachment_type);
  g_autoptr (GBytes) bytes = g_bytes_new (text, strlen (text));
  g_autoptr (GAsyncResult) result = NULL;
  WbAttachment *attachment = (WbAttachment *) record;

  attachment->owner = owner;
  attachment->role = role;
  attachment->name = g_strdup ("kept.bin");
  if (!isnan (minute))
    {
      attachment->taken_at = wb_app_bench_sample_get_lit_at (book->sample);
      attachment->taken_at.utc_us += (gint64) (minute * MINUTE_US);
    }
  wb_app_attachment_add_async (book->evening.notebook, attachment, bytes, "Keep a file", NULL, app_keep_result_cb, &result);
  return wb_app_attachment_finish (book->evening.notebook, app_wait_result (&result), error);
}

typedef struct
{
  GListModel *model;
  guint       n;
} Count;

static gboolean
has_so_many (gpointer data)
{
  const Count *count = data;

  return g_list_model_get_n_items (count->model) == count->n;
}

static void
wait_for (Book *book,
          guint n)
{
  Count count = { G_LIST_MODEL (book->kept), n };

  app_wait_until (has_so_many, &count, "as many files in the list");
}

/* Borrowed from the list. */
static WbAppAttachmentsItem *
nth (Book *book,
     guint n)
{
  g_autoptr (WbAppAttachmentsItem) item = g_list_model_get_item (G_LIST_MODEL (book->kept), n);

  g_assert_nonnull (item);
  return item;
}

static void
assert_bytes (Book       *book,
              const char *sha256,
              const char *text)
{
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) bytes = NULL;

  wb_app_attachment_load_async (book->evening.notebook, sha256, NULL, app_keep_result_cb, &result);
  bytes = wb_app_attachment_load_finish (book->evening.notebook, app_wait_result (&result), &error);
  if (text == NULL)
    {
      g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_UNKNOWN);
      return;
    }
  g_assert_no_error (error);
  g_assert_cmpmem (g_bytes_get_data (bytes, NULL), g_bytes_get_size (bytes), text, strlen (text));
}

static void
assert_sound (Book *book)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbAppCheck) check = wb_app_record_check_sync (wb_app_notebook_get_path (book->evening.notebook), NULL, NULL, &error);

  g_assert_no_error (error);
  g_assert_cmpstr (check->finding, ==, NULL);
}

static void
go (Book *book,
    void (*way) (WbAppNotebook *, GCancellable *, GAsyncReadyCallback, gpointer))
{
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;

  way (book->evening.notebook, NULL, app_keep_result_cb, &result);
  g_assert_cmpint (wb_app_notebook_save_finish (book->evening.notebook, app_wait_result (&result), NULL, &error), >, 0);
  g_assert_no_error (error);
}

static gboolean
take_out (Book                 *book,
          WbAppAttachmentsItem *item,
          const char           *reason,
          GError              **error)
{
  g_autoptr (GAsyncResult) result = NULL;

  wb_app_attachment_take_out_async (book->evening.notebook, wb_app_attachments_item_get_record (item), reason, NULL,
                                    app_keep_result_cb, &result);
  return wb_app_attachment_finish (book->evening.notebook, app_wait_result (&result), error);
}

static gboolean
note (Book                 *book,
      WbAppAttachmentsItem *item,
      const char           *text,
      GError              **error)
{
  g_autoptr (GAsyncResult) result = NULL;

  wb_app_attachment_note_async (book->evening.notebook, wb_app_attachments_item_get_record (item), text, NULL,
                                app_keep_result_cb, &result);
  return wb_app_attachment_finish (book->evening.notebook, app_wait_result (&result), error);
}

static char *
dup_newest_why (Book *book)
{
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GPtrArray) entries = NULL;

  wb_app_record_entries_async (book->evening.notebook, 0, 1, NULL, app_keep_result_cb, &result);
  entries = wb_app_record_entries_finish (book->evening.notebook, app_wait_result (&result), NULL);
  return g_strdup (((WbAppEntry *) g_ptr_array_index (entries, 0))->why);
}

static gboolean
is_another (gpointer data)
{
  gpointer *wanted = data;

  return nth (wanted[0], 0) != wanted[1];
}

static void
test_keep (void)
{
  Book book;
  g_autoptr (GError) error = NULL;
  const WbAttachment *record;
  gint64 before;

  set_up (&book);
  before = wb_app_notebook_get_last_entry (book.evening.notebook);
  g_assert_true (add (&book, wb_app_bench_sample_get_burn (book.sample)->record.id, WB_ATTACHMENT_PHOTO, "late", 90, &error));
  g_assert_no_error (error);
  g_assert_true (add (&book, wb_app_bench_sample_get_id (book.sample), WB_ATTACHMENT_PHOTO, "early", -600, &error));
  g_assert_no_error (error);
  /* Another role is another list. */
  g_assert_true (add (&book, wb_app_bench_sample_get_burn (book.sample)->record.id, WB_ATTACHMENT_LOGGER, "21.5", NAN, &error));
  g_assert_no_error (error);
  wait_for (&book, 2);
  g_assert_cmpint (wb_app_notebook_get_last_entry (book.evening.notebook), ==, before + 3);
  g_assert_cmpint (wb_app_attachments_item_get_burn (nth (&book, 0)), ==, 0);
  g_assert_true (isnan (wb_app_attachments_item_get_minute (nth (&book, 0))));
  g_assert_cmpint (wb_app_attachments_item_get_burn (nth (&book, 1)), ==, 1);
  g_assert_cmpfloat (wb_app_attachments_item_get_minute (nth (&book, 1)), ==, 90);
  record = wb_app_attachments_item_get_record (nth (&book, 1));
  assert_bytes (&book, record->sha256, "late");
  /* printf '%s' late | sha256sum (coreutils 9.1) */
  g_assert_cmpstr (record->sha256, ==, "089001a35679a33ef3db0ca350db9b9a2f0136e0e327577b04b3b98127470961");
  assert_sound (&book);
  tear_down (&book);
}

static void
test_undo (void)
{
  Book book;
  g_autoptr (GError) error = NULL;
  g_autofree char *sha256 = NULL;

  set_up (&book);
  g_assert_true (add (&book, wb_app_bench_sample_get_id (book.sample), WB_ATTACHMENT_PHOTO, "one", NAN, &error));
  wait_for (&book, 1);
  sha256 = g_strdup (wb_app_attachments_item_get_record (nth (&book, 0))->sha256);
  go (&book, wb_app_notebook_undo_async);
  wait_for (&book, 0);
  /* The history names it, so that its bytes stay and redo finds them. */
  assert_bytes (&book, sha256, "one");
  go (&book, wb_app_notebook_redo_async);
  wait_for (&book, 1);
  assert_sound (&book);
  tear_down (&book);
}

static void
test_take_out (void)
{
  Book book;
  g_autoptr (GError) error = NULL;
  g_autofree char *why = NULL;
  g_autoptr (WbAppAttachmentsItem) item = NULL;

  set_up (&book);
  g_assert_true (add (&book, wb_app_bench_sample_get_id (book.sample), WB_ATTACHMENT_PHOTO, "one", NAN, &error));
  wait_for (&book, 1);
  item = g_object_ref (nth (&book, 0));
  g_assert_false (take_out (&book, item, "  ", &error));
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_REFUSED);
  g_clear_error (&error);
  g_assert_true (take_out (&book, item, "the wrong sample", &error));
  g_assert_no_error (error);
  wait_for (&book, 0);
  why = dup_newest_why (&book);
  g_assert_cmpstr (why, ==, "Take out “kept.bin”: the wrong sample");
  /* What is gone cannot go again. */
  g_assert_false (take_out (&book, item, "twice", &error));
  g_assert_nonnull (error);
  assert_sound (&book);
  tear_down (&book);
}

static void
test_note (void)
{
  Book book;
  g_autoptr (GError) error = NULL;
  g_autoptr (WbAppAttachmentsItem) item = NULL;

  set_up (&book);
  g_assert_true (add (&book, wb_app_bench_sample_get_id (book.sample), WB_ATTACHMENT_PHOTO, "one", NAN, &error));
  wait_for (&book, 1);
  item = g_object_ref (nth (&book, 0));
  g_assert_true (note (&book, item, " soot at the rim ", &error));
  g_assert_no_error (error);
  app_wait_until (is_another, (gpointer[]) { &book, item }, "the new version in the list");
  g_assert_cmpstr (wb_app_attachments_item_get_record (nth (&book, 0))->note, ==, "soot at the rim");
  g_assert_false (note (&book, nth (&book, 0), "soot at the rim", &error));
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_NOTHING);
  g_clear_error (&error);
  g_assert_false (note (&book, item, "by an old window", &error));
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_CHANGED);
  tear_down (&book);
}

/* Neither an entry nor bytes without a record. */
static void
test_refused (void)
{
  Book book;
  g_autoptr (GError) error = NULL;
  gint64 before;

  set_up (&book);
  before = wb_app_notebook_get_last_entry (book.evening.notebook);
  g_assert_false (add (&book, 4711, WB_ATTACHMENT_PHOTO, "whose", NAN, &error));
  g_assert_nonnull (error);
  g_clear_error (&error);
  g_assert_false (add (&book, wb_app_bench_sample_get_id (book.sample), WB_ATTACHMENT_PHOTO, "", NAN, &error));
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_REFUSED);
  g_assert_cmpint (wb_app_notebook_get_last_entry (book.evening.notebook), ==, before);
  /* printf '%s' whose | sha256sum (coreutils 9.1) */
  assert_bytes (&book, "55efa0938f9f52fb6de33f27375ee1916aa9c5d27367eac89ea1207026bb16f8", NULL);
  assert_sound (&book);
  tear_down (&book);
}

/* The smallest PNG that there is: one black pixel. */
static const guint8 png[] = {
  0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0x00, 0x00, 0x00, 0x0d, 0x49, 0x48, 0x44, 0x52, 0x00, 0x00,
  0x00, 0x01, 0x00, 0x00, 0x00, 0x01, 0x08, 0x00, 0x00, 0x00, 0x00, 0x3a, 0x7e, 0x9b, 0x55, 0x00, 0x00, 0x00,
  0x0a, 0x49, 0x44, 0x41, 0x54, 0x78, 0x9c, 0x63, 0x60, 0x00, 0x00, 0x00, 0x02, 0x00, 0x01, 0x48, 0xaf, 0xa4,
  0x71, 0x00, 0x00, 0x00, 0x00, 0x49, 0x45, 0x4e, 0x44, 0xae, 0x42, 0x60, 0x82
};

static gboolean
add_photo (Book        *book,
           GFile       *file,
           GError     **error)
{
  g_autoptr (GAsyncResult) result = NULL;

  wb_app_photo_add_file_async (book->evening.notebook, wb_app_bench_sample_get_id (book->sample),
                               wb_app_bench_sample_get_code (book->sample), file, NULL, app_keep_result_cb, &result);
  return wb_app_photo_add_finish (book->evening.notebook, app_wait_result (&result), error);
}

/* Pasted now, onto a sample that is alight or not. */
static void
paste (Book    *book,
       GBytes  *bytes,
       gboolean alight)
{
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GInputStream) stream = g_memory_input_stream_new_from_bytes (bytes);
  g_autoptr (GError) error = NULL;
  gint64 burn = alight ? wb_app_bench_sample_get_burn (book->sample)->record.id : 0;

  wb_app_photo_add_pasted_async (book->evening.notebook, wb_app_bench_sample_get_id (book->sample),
                                 wb_app_bench_sample_get_code (book->sample), burn, wb_clock_now (wb_clock_get ()), stream, NULL,
                                 app_keep_result_cb, &result);
  g_assert_true (wb_app_photo_add_finish (book->evening.notebook, app_wait_result (&result), &error));
  g_assert_no_error (error);
}

/* A JPEG of a few pixels, of that minute of the burn by its camera; NAN: it says nothing. */
static GBytes *
make_photo (Book  *book,
            double minute)
{
  g_autoptr (GdkPixbuf) pixbuf = gdk_pixbuf_new (GDK_COLORSPACE_RGB, FALSE, 8, 4, 4);
  g_autoptr (GBytes) jpeg = NULL;
  g_autofree char *taken = NULL;
  WbInstant when = wb_app_bench_sample_get_lit_at (book->sample);
  char *buffer;
  gsize size;

  gdk_pixbuf_fill (pixbuf, 0x000000ff);
  g_assert_true (gdk_pixbuf_save_to_buffer (pixbuf, &buffer, &size, "jpeg", NULL, NULL));
  jpeg = g_bytes_new_take (buffer, size);
  if (isnan (minute))
    return g_steal_pointer (&jpeg);
  when.utc_us += (gint64) (minute * MINUTE_US);
  when.offset_s = 0;
  taken = wb_instant_format (when);
  taken[4] = taken[7] = ':';
  taken[10] = ' ';
  taken[19] = '\0';
  return exif_photo_new (jpeg, taken, "+00:00");
}

static GFile *
write_photo (const char *name,
             GBytes     *bytes)
{
  g_autofree char *folder = g_dir_make_tmp ("wickbench-test-XXXXXX", NULL);
  GFile *file = g_file_new_build_filename (folder, name, NULL);
  g_autoptr (GError) error = NULL;

  g_assert_true (g_file_replace_contents (file, g_bytes_get_data (bytes, NULL), g_bytes_get_size (bytes), NULL, FALSE, G_FILE_CREATE_NONE,
                                          NULL, NULL, &error));
  g_assert_no_error (error);
  return file;
}

static void
drop_photo (GFile *file)
{
  g_autoptr (GFile) folder = g_file_get_parent (file);

  g_assert_true (g_file_delete (file, NULL, NULL));
  g_assert_true (g_file_delete (folder, NULL, NULL));
  g_object_unref (file);
}

/* Newest of them: what has no time stands last, the others by theirs. */
static WbAppAttachmentsItem *
find_newest (Book *book)
{
  WbAppAttachmentsItem *newest = NULL;

  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (book->kept)); i++)
    if (newest == NULL
        || wb_app_attachments_item_get_record (nth (book, i))->record.id > wb_app_attachments_item_get_record (newest)->record.id)
      newest = nth (book, i);
  return newest;
}

static void
assert_place (WbAppAttachmentsItem *item,
              int                   burn,
              double                minute)
{
  double told = wb_app_attachments_item_get_minute (item);

  g_assert_cmpint (wb_app_attachments_item_get_burn (item), ==, burn);
  if (isnan (minute))
    g_assert_true (isnan (told));
  else
    g_assert_cmpfloat_with_epsilon (told, minute, 0.02);
}

/* Where it belongs is told by what the camera wrote, and by nothing else of the file. */
static void
test_photo (void)
{
  static const struct { double minute; int burn; double told; gboolean timed; } cases[] = {
    { -30, 0, NAN, TRUE },   /* before it was lit */
    { 45, 1, 45, TRUE },
    { 900, 0, NAN, FALSE },  /* the camera's clock is wrong: nothing is claimed */
    { NAN, 0, NAN, FALSE },  /* it says nothing, though the file was written while it burnt */
  };
  Book book;

  set_up (&book);
  wb_clock_advance (wb_clock_get (), 100 * MINUTE_US);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GBytes) bytes = make_photo (&book, cases[i].minute);
      GFile *file = write_photo ("flame.jpg", bytes);
      g_autoptr (GError) error = NULL;
      guint64 written_s = (guint64) (wb_app_bench_sample_get_lit_at (book.sample).utc_us / G_USEC_PER_SEC + 3600);

      g_test_message ("minute %g", cases[i].minute);
      g_assert_true (g_file_set_attribute_uint64 (file, G_FILE_ATTRIBUTE_TIME_MODIFIED, written_s, G_FILE_QUERY_INFO_NONE, NULL, &error));
      g_assert_true (add_photo (&book, file, &error));
      g_assert_no_error (error);
      wait_for (&book, i + 1);
      assert_place (find_newest (&book), cases[i].burn, cases[i].told);
      g_assert_cmpint (wb_app_attachments_item_get_record (find_newest (&book))->taken_at.known, ==, cases[i].timed);
      g_assert_cmpstr (wb_app_attachments_item_get_record (find_newest (&book))->media_type, ==, "image/jpeg");
      drop_photo (file);
    }
  assert_sound (&book);
  tear_down (&book);
}

static const WbAppPhotoOffer *
add_and_ask (Book       *book,
             const char *name,
             GBytes     *bytes,
             guint64     written_s,
             guint       n)
{
  GFile *file = write_photo (name, bytes);
  g_autoptr (GError) error = NULL;

  g_assert_true (g_file_set_attribute_uint64 (file, G_FILE_ATTRIBUTE_TIME_MODIFIED, written_s, G_FILE_QUERY_INFO_NONE, NULL, &error));
  g_assert_true (add_photo (book, file, &error));
  g_assert_no_error (error);
  wait_for (book, n);
  drop_photo (file);
  return wb_app_photo_get_offer (book->evening.notebook, wb_app_attachments_item_get_record (find_newest (book))->sha256);
}

/* Where nothing is claimed, a time is offered: the picture's own before the file's, none that is still to come. */
static void
test_offer (void)
{
  Book book;
  g_autoptr (GBytes) silent = NULL, timed = NULL, image = g_bytes_new_static (png, sizeof png), changed = NULL;
  const WbAppPhotoOffer *offer;
  guint64 lit_s;
  g_autofree char *said = NULL;

  set_up (&book);
  wb_clock_advance (wb_clock_get (), 100 * MINUTE_US);
  lit_s = (guint64) (wb_app_bench_sample_get_lit_at (book.sample).utc_us / G_USEC_PER_SEC);
  silent = make_photo (&book, NAN);
  timed = make_photo (&book, 45);
  changed = png_with_chunk (image, "tIME", (const guint8[]) { 2025 >> 8, 2025 & 0xff, 12, 24, 18, 0, 0 }, 7);
  offer = add_and_ask (&book, "silent.jpg", silent, lit_s + 3600, 1);
  g_assert_nonnull (offer);
  g_assert_false (offer->of_picture);
  g_assert_cmpint (offer->when.utc_us, ==, (gint64) (lit_s + 3600) * G_USEC_PER_SEC);
  g_assert_null (add_and_ask (&book, "timed.jpg", timed, lit_s + 3600, 2));
  offer = add_and_ask (&book, "changed.png", changed, lit_s + 3600, 3);
  g_assert_nonnull (offer);
  g_assert_true (offer->of_picture);
  said = wb_instant_format (offer->when);
  g_assert_cmpstr (said, ==, "2025-12-24T18:00:00+00:00");
  g_assert_null (add_and_ask (&book, "ahead.jpg", silent, lit_s + 86400, 4));
  /* Nothing of it is in the record. */
  g_assert_false (wb_app_attachments_item_get_record (find_newest (&book))->taken_at.known);
  assert_sound (&book);
  tear_down (&book);
}

/* Of the burn that is alight, now, unless its camera says otherwise. */
static void
test_pasted (void)
{
  Book book;
  g_autoptr (GBytes) silent = NULL, timed = NULL;

  set_up (&book);
  wb_clock_advance (wb_clock_get (), 100 * MINUTE_US);
  silent = make_photo (&book, NAN);
  timed = make_photo (&book, 20);
  paste (&book, silent, TRUE);
  wait_for (&book, 1);
  assert_place (find_newest (&book), 1, 100);
  paste (&book, timed, TRUE);
  wait_for (&book, 2);
  assert_place (find_newest (&book), 1, 20);
  paste (&book, silent, FALSE);
  wait_for (&book, 3);
  assert_place (find_newest (&book), 0, NAN);
  g_assert_false (wb_app_attachments_item_get_record (find_newest (&book))->taken_at.known);
  assert_sound (&book);
  tear_down (&book);
}

static gboolean
place (Book                 *book,
       WbAppAttachmentsItem *item,
       gint64                owner,
       WbInstant             taken_at,
       const char           *reason,
       GError              **error)
{
  g_autoptr (GAsyncResult) result = NULL;

  wb_app_attachment_place_async (book->evening.notebook, wb_app_attachments_item_get_record (item), wb_app_attachments_item_get_burn (item),
                                 owner, taken_at, reason, NULL, app_keep_result_cb, &result);
  return wb_app_attachment_finish (book->evening.notebook, app_wait_result (&result), error);
}

static void
assert_place_refused (Book       *book,
                      gint64      owner,
                      WbInstant   taken_at,
                      const char *reason,
                      int         code)
{
  g_autoptr (GError) error = NULL;

  g_assert_false (place (book, nth (book, 0), owner, taken_at, reason, &error));
  g_assert_error (error, WB_APP_ERROR, code);
}

/* What nobody claimed is said without a reason; what was is corrected with one, and undo brings it back. */
static void
test_place (void)
{
  Book book;
  g_autoptr (GBytes) silent = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (WbAppAttachmentsItem) item = NULL;
  g_autofree char *why = NULL;
  gint64 sample, burn;
  WbInstant when;

  set_up (&book);
  wb_clock_advance (wb_clock_get (), 100 * MINUTE_US);
  sample = wb_app_bench_sample_get_id (book.sample);
  burn = wb_app_bench_sample_get_burn (book.sample)->record.id;
  when = wb_app_bench_sample_get_lit_at (book.sample);
  when.utc_us += 95 * MINUTE_US;
  silent = make_photo (&book, NAN);
  paste (&book, silent, FALSE);
  wait_for (&book, 1);
  item = g_object_ref (nth (&book, 0));
  g_assert_true (place (&book, item, burn, when, NULL, &error));
  g_assert_no_error (error);
  app_wait_until (is_another, (gpointer[]) { &book, item }, "the photo at its burn");
  assert_place (nth (&book, 0), 1, 95);

  assert_place_refused (&book, burn, when, "as it is", WB_APP_ERROR_NOTHING);
  assert_place_refused (&book, sample, WB_INSTANT_NONE, "  ", WB_APP_ERROR_REFUSED);
  when.utc_us += 60 * MINUTE_US;
  assert_place_refused (&book, burn, when, "ahead", WB_APP_ERROR_REFUSED);
  g_set_object (&item, nth (&book, 0));
  g_assert_true (place (&book, item, sample, WB_INSTANT_NONE, "taken before it was lit", &error));
  g_assert_no_error (error);
  app_wait_until (is_another, (gpointer[]) { &book, item }, "the photo at its sample");
  assert_place (nth (&book, 0), 0, NAN);
  why = dup_newest_why (&book);
  g_assert_cmpstr (why, ==, "Correct where “Pasted photo” belongs: taken before it was lit");
  /* By an old window. */
  g_assert_false (place (&book, item, burn, WB_INSTANT_NONE, "late", &error));
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_CHANGED);
  g_set_object (&item, nth (&book, 0));
  go (&book, wb_app_notebook_undo_async);
  app_wait_until (is_another, (gpointer[]) { &book, item }, "the photo at its burn again");
  assert_place (nth (&book, 0), 1, 95);
  assert_sound (&book);
  tear_down (&book);
}

static void
test_photo_shown (void)
{
  Book book;
  g_autoptr (GAsyncResult) loaded = NULL;
  g_autoptr (GBytes) bytes = g_bytes_new_static (png, sizeof png);
  g_autoptr (WbAppPicture) picture = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *why = NULL;

  set_up (&book);
  paste (&book, bytes, TRUE);
  wait_for (&book, 1);
  why = dup_newest_why (&book);
  g_assert_true (g_str_has_prefix (why, "Add a photo of "));
  g_assert_true (g_str_has_suffix (why, ", burn 1"));
  wb_app_photo_load_async (book.evening.notebook, wb_app_attachments_item_get_record (nth (&book, 0)), 100, NULL, app_keep_result_cb, &loaded);
  picture = wb_app_photo_load_finish (book.evening.notebook, app_wait_result (&loaded), &error);
  g_assert_no_error (error);
  g_clear_object (&loaded);
  g_assert_cmpint (picture->width, ==, 1);
  g_assert_cmpint (((const guint8 *) g_bytes_get_data (picture->rgb, NULL))[0], <, 10);
  tear_down (&book);
}

/* A name that no sentence could hold: it is told as it can be shown. */
static void
test_name (void)
{
  Book book;
  g_autoptr (GBytes) gif = g_bytes_new_static ("GIF89a", 6), photo = NULL;
  g_autoptr (GError) error = NULL;
  GFile *file;

  set_up (&book);
  file = write_photo ("bad\xff\n.gif", gif);
  g_assert_false (add_photo (&book, file, &error));
  g_assert_true (g_utf8_validate (error->message, -1, NULL));
  g_assert_nonnull (strstr (error->message, "“bad��.gif” is GIF"));
  drop_photo (file);
  photo = make_photo (&book, NAN);
  g_clear_error (&error);
  file = write_photo ("new\nline.jpg", photo);
  g_assert_true (add_photo (&book, file, &error));
  g_assert_no_error (error);
  wait_for (&book, 1);
  g_assert_cmpstr (wb_app_attachments_item_get_record (nth (&book, 0))->name, ==, "new�line.jpg");
  drop_photo (file);
  tear_down (&book);
}

static void
test_no_photo (void)
{
  Book book;
  GFile *file;
  g_autoptr (GBytes) gif = g_bytes_new_static ("GIF89a", 6);
  g_autoptr (GError) error = NULL;
  gint64 before;

  set_up (&book);
  before = wb_app_notebook_get_last_entry (book.evening.notebook);
  file = write_photo ("flame.jpg", gif);
  g_assert_false (add_photo (&book, file, &error));
  g_assert_nonnull (strstr (error->message, "flame.jpg"));
  g_assert_nonnull (strstr (error->message, "GIF"));
  g_assert_cmpint (wb_app_notebook_get_last_entry (book.evening.notebook), ==, before);
  drop_photo (file);
  tear_down (&book);
}

void
test_app_attachments_add (void)
{
  g_test_add_func ("/app/attachments/a-photo-goes-where-its-camera-says-and-claims-nothing-else", test_photo);
  g_test_add_func ("/app/attachments/a-time-is-offered-where-none-is-claimed", test_offer);
  g_test_add_func ("/app/attachments/a-pasted-photo-is-of-the-burn-that-is-alight", test_pasted);
  g_test_add_func ("/app/attachments/where-a-photo-belongs-is-said-and-corrected-with-a-reason", test_place);
  g_test_add_func ("/app/attachments/a-name-is-told-as-it-can-be-shown", test_name);
  g_test_add_func ("/app/attachments/a-pasted-photo-is-kept-and-shown", test_photo_shown);
  g_test_add_func ("/app/attachments/what-is-no-photo-writes-nothing", test_no_photo);
  g_test_add_func ("/app/attachments/a-file-is-kept-with-a-sample-or-a-burn", test_keep);
  g_test_add_func ("/app/attachments/undo-takes-it-back-and-redo-brings-it", test_undo);
  g_test_add_func ("/app/attachments/taken-out-with-a-reason-that-stays", test_take_out);
  g_test_add_func ("/app/attachments/a-note-is-a-version", test_note);
  g_test_add_func ("/app/attachments/what-is-refused-leaves-no-bytes", test_refused);
}
