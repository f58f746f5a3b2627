/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-exchange.h"

#include "../exif-photo.h"
#include "../png-chunk.h"
#include "wb-clock.h"
#include "wb-exchange-error.h"
#include "wb-exchange-photo.h"
#include "wb-record.h"

#include <gdk-pixbuf/gdk-pixbuf.h>
#include <libexif/exif-data.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static GBytes *
save (GdkPixbuf  *pixbuf,
      const char *format)
{
  g_autoptr (GError) error = NULL;
  char *buffer;
  gsize size;

  g_assert_true (gdk_pixbuf_save_to_buffer (pixbuf, &buffer, &size, format, &error, NULL));
  g_assert_no_error (error);
  return g_bytes_new_take (buffer, size);
}

/* Where a byte string begins; NULL: nowhere. */
static guint8 *
find (const guint8 *data,
      gsize         size,
      const char   *sought)
{
  gsize length = strlen (sought);

  for (gsize i = 0; i + length <= size; i++)
    if (memcmp (data + i, sought, length) == 0)
      return (guint8 *) data + i;
  return NULL;
}

/* Blue, its upper left quarter red. */
static GBytes *
make_photo (int         width,
            int         height,
            const char *format)
{
  g_autoptr (GdkPixbuf) pixbuf = gdk_pixbuf_new (GDK_COLORSPACE_RGB, FALSE, 8, width, height);
  g_autoptr (GdkPixbuf) corner = gdk_pixbuf_new_subpixbuf (pixbuf, 0, 0, width / 2, height / 2);

  gdk_pixbuf_fill (pixbuf, 0x0000ffff);
  gdk_pixbuf_fill (corner, 0xff0000ff);
  return save (pixbuf, format);
}

/* A JPEG with more segments right after its start. */
static GBytes *
with_segments (GBytes       *jpeg,
               const guint8 *segments,
               gsize         length)
{
  GByteArray *array = g_byte_array_new ();
  gsize size;
  const guint8 *data = g_bytes_get_data (jpeg, &size);

  g_byte_array_append (array, data, 2);
  g_byte_array_append (array, segments, (guint) length);
  g_byte_array_append (array, data + 2, (guint) (size - 2));
  return g_byte_array_free_to_bytes (array);
}

/* EXIF 2.32, 4.5.4: APP1, "Exif", a TIFF header of Intel's order, one entry: tag 0x0112, SHORT. */
static GBytes *
with_orientation (GBytes *jpeg,
                  guint8  orientation)
{
  guint8 segment[] = { 0xff, 0xe1, 0, 34, 'E', 'x', 'i', 'f', 0, 0, 'I', 'I', '*', 0, 8, 0, 0, 0, 1, 0,
                       0x12, 0x01, 3, 0, 1, 0, 0, 0, orientation, 0, 0, 0, 0, 0, 0, 0 };

  return with_segments (jpeg, segment, sizeof segment);
}

static GBytes *
convert (GBytes *input)
{
  g_autoptr (GError) error = NULL;
  GBytes *photo = wb_exchange_photo_convert (input, "flame.jpg", NULL, &error);

  g_assert_no_error (error);
  g_assert_cmpuint (g_bytes_get_size (photo), <=, WB_EXCHANGE_PHOTO_BYTES);
  return photo;
}

static WbExchangePixels *
decode (GBytes *input,
        int     edge_px)
{
  g_autoptr (GError) error = NULL;
  WbExchangePixels *pixels = wb_exchange_photo_decode (input, "flame.jpg", edge_px, NULL, &error);

  g_assert_no_error (error);
  return pixels;
}

/* Of a place as shares of width and height. */
static const guint8 *
pixel_at (const WbExchangePixels *pixels,
          double                  x,
          double                  y)
{
  const guint8 *rgb = g_bytes_get_data (pixels->rgb, NULL);

  return rgb + (gsize) (y * pixels->height) * pixels->stride + (gsize) (x * pixels->width) * 3;
}

static gboolean
is_red (const WbExchangePixels *pixels,
        double                  x,
        double                  y)
{
  const guint8 *at = pixel_at (pixels, x, y);

  return at[0] > 200 && at[2] < 60;
}

static void
test_upright (void)
{
  /* TIFF 6.0, p. 36, "Orientation": where the first row and the first column are seen. */
  static const struct { guint8 orientation; gboolean right, bottom, turned; } cases[] = {
    { 1, FALSE, FALSE, FALSE }, { 2, TRUE, FALSE, FALSE }, { 3, TRUE, TRUE, FALSE }, { 4, FALSE, TRUE, FALSE },
    { 5, FALSE, FALSE, TRUE }, { 6, TRUE, FALSE, TRUE }, { 7, TRUE, TRUE, TRUE }, { 8, FALSE, TRUE, TRUE },
  };
  g_autoptr (GBytes) plain = make_photo (400, 200, "jpeg");

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GBytes) input = with_orientation (plain, cases[i].orientation);
      g_autoptr (GBytes) photo = convert (input);
      g_autoptr (WbExchangePixels) pixels = decode (photo, 4000);

      g_test_message ("orientation %d", cases[i].orientation);
      g_assert_cmpint (pixels->width, ==, cases[i].turned ? 200 : 400);
      g_assert_cmpint (pixels->height, ==, cases[i].turned ? 400 : 200);
      for (guint corner = 0; corner < 4; corner++)
        g_assert_cmpint (is_red (pixels, corner % 2 ? 0.75 : 0.25, corner / 2 ? 0.75 : 0.25), ==,
                         (corner % 2 == 1) == cases[i].right && (corner / 2 == 1) == cases[i].bottom);
    }
}

/* Turned and shrunk at once, as a camera's photo is. */
static void
test_upright_and_small (void)
{
  g_autoptr (GBytes) plain = make_photo (4000, 3000, "jpeg");
  g_autoptr (GBytes) input = with_orientation (plain, 6);
  g_autoptr (GBytes) photo = convert (input);
  g_autoptr (WbExchangePixels) pixels = decode (photo, 4000);
  g_autoptr (WbExchangePixels) thumbnail = decode (photo, 100);

  g_assert_cmpint (pixels->width, ==, 1536);
  g_assert_cmpint (pixels->height, ==, 2048);
  g_assert_true (is_red (pixels, 0.75, 0.25));
  g_assert_false (is_red (pixels, 0.25, 0.25));
  g_assert_cmpint (thumbnail->width, ==, 75);
  g_assert_cmpint (thumbnail->height, ==, 100);
  g_assert_true (is_red (thumbnail, 0.75, 0.25));
}

/* JPEG (ITU T.81, table B.1): the markers up to the scan. */
static void
assert_bare (GBytes *photo)
{
  gsize size, at = 2;
  const guint8 *data = g_bytes_get_data (photo, &size);
  gboolean scan = FALSE;

  g_assert_cmpuint (size, >, 4);
  g_assert_cmphex (data[0] << 8 | data[1], ==, 0xffd8);
  while (!scan && at + 4 < size)
    {
      g_assert_cmphex (data[at], ==, 0xff);
      /* APP1 to APP15 hold EXIF, XMP, profiles, thumbnails; COM a comment. */
      g_assert_false (data[at + 1] >= 0xe1 && data[at + 1] <= 0xef);
      g_assert_cmphex (data[at + 1], !=, 0xfe);
      /* APP0 is JFIF's, 16 bytes where it has no thumbnail. */
      if (data[at + 1] == 0xe0)
        g_assert_cmpuint (data[at + 2] << 8 | data[at + 3], ==, 16);
      scan = data[at + 1] == 0xda;
      at += 2 + (data[at + 2] << 8 | data[at + 3]);
    }
  g_assert_true (scan);
}

/* As a reader of metadata sees it: libexif finds not one entry, in no directory. */
static void
assert_no_exif (GBytes *photo)
{
  gsize size;
  const guint8 *data = g_bytes_get_data (photo, &size);
  ExifData *exif = exif_data_new ();

  exif_data_unset_option (exif, EXIF_DATA_OPTION_FOLLOW_SPECIFICATION);
  exif_data_load_data (exif, data, (unsigned int) size);
  for (int ifd = 0; ifd < EXIF_IFD_COUNT; ifd++)
    g_assert_cmpuint (exif->ifd[ifd]->count, ==, 0);
  g_assert_null (exif->data);
  exif_data_unref (exif);
}

static void
test_no_metadata (void)
{
  static const guint8 comment[] = { 0xff, 0xfe, 0, 14, 'm', 'y', ' ', 'k', 'i', 't', 'c', 'h', 'e', 'n', '!', '!' };
  static const guint8 profile[] = { 0xff, 0xe2, 0, 18, 'I', 'C', 'C', '_', 'P', 'R', 'O', 'F', 'I', 'L', 'E', 0, 1, 1, 0, 0 };
  g_autoptr (GBytes) plain = make_photo (64, 64, "jpeg");
  g_autoptr (GBytes) said = with_segments (plain, comment, sizeof comment);
  g_autoptr (GBytes) profiled = with_segments (said, profile, sizeof profile);
  g_autoptr (GBytes) input = with_orientation (profiled, 3);
  g_autoptr (GBytes) photo = convert (input);

  g_assert_nonnull (find (g_bytes_get_data (input, NULL), g_bytes_get_size (input), "kitchen"));
  g_assert_null (find (g_bytes_get_data (photo, NULL), g_bytes_get_size (photo), "kitchen"));
  assert_bare (photo);
  assert_no_exif (photo);
}

/* Noise is what compresses worst. */
static void
test_fits (void)
{
  g_autoptr (GdkPixbuf) noise = gdk_pixbuf_new (GDK_COLORSPACE_RGB, FALSE, 8, 3000, 2500);
  g_autoptr (GRand) rand = g_rand_new_with_seed (7);
  g_autoptr (GBytes) input = NULL, photo = NULL;
  g_autoptr (WbExchangePixels) pixels = NULL;
  guint8 *data = gdk_pixbuf_get_pixels (noise);

  for (gsize i = 0; i < gdk_pixbuf_get_byte_length (noise); i++)
    data[i] = (guint8) g_rand_int (rand);
  input = save (noise, "png");
  photo = convert (input);
  pixels = decode (photo, 4000);
  g_assert_cmpint (pixels->width, <=, WB_EXCHANGE_PHOTO_EDGE_PX);
  g_assert_cmpint (pixels->width, >, 600);
  g_assert_cmpfloat_with_epsilon ((double) pixels->width / pixels->height, 1.2, 0.01);
  assert_bare (photo);
}

static void
test_transparent (void)
{
  g_autoptr (GdkPixbuf) pixbuf = gdk_pixbuf_new (GDK_COLORSPACE_RGB, TRUE, 8, 32, 32);
  g_autoptr (GBytes) input = NULL, photo = NULL;
  g_autoptr (WbExchangePixels) pixels = NULL;
  const guint8 *at;

  gdk_pixbuf_fill (pixbuf, 0x00000000);
  input = save (pixbuf, "png");
  photo = convert (input);
  pixels = decode (photo, 32);
  at = pixel_at (pixels, 0.5, 0.5);
  g_assert_cmpint (at[0], >, 250);
  g_assert_cmpint (at[1], >, 250);
  g_assert_cmpint (at[2], >, 250);
}

static void
assert_refused (GBytes     *input,
                const char *said)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) photo = wb_exchange_photo_convert (input, "flame.jpg", NULL, &error);

  g_assert_null (photo);
  g_assert_error (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_FORMAT);
  g_test_message ("%s", error->message);
  g_assert_nonnull (strstr (error->message, "flame.jpg"));
  g_assert_nonnull (strstr (error->message, said));
  g_assert_null (strchr (error->message, '\n'));
}

static void
test_formats (void)
{
  static const struct { const char *bytes; gsize length; const char *said; } cases[] = {
    { "GIF89a\1\0\1\0", 10, "GIF: only JPEG and PNG are read" },
    { "RIFF\x24\0\0\0WEBPVP8 ", 16, "WebP" },
    { "\0\0\0\x18" "ftypheic\0\0\0\0", 16, "HEIC" },
    { "\0\0\0\x18" "ftypavif\0\0\0\0", 16, "AVIF" },
    { "\0\0\0\x18" "ftypisom\0\0\0\0", 16, "film" },
    { "II*\0\10\0\0\0", 8, "TIFF" },
    { "MM\0*\0\0\0\10", 8, "TIFF" },
    { "BM\x46\0\0\0", 6, "BMP" },
    { "%PDF-1.7", 8, "PDF" },
    { "minute,pool_mm\n60,41\n", 21, "is no photo: JPEG and PNG are read" },
    { "\xff\xd8", 2, "is no photo" },
    { "", 0, "is empty" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GBytes) input = g_bytes_new_static (cases[i].bytes, cases[i].length);

      assert_refused (input, cases[i].said);
    }
}

/* The name's ending is not believed, in neither direction. */
static void
test_wrong_ending (void)
{
  g_autoptr (GBytes) input = make_photo (64, 32, "png");
  g_autoptr (GBytes) photo = convert (input);
  g_autoptr (WbExchangePixels) pixels = decode (photo, 100);

  g_assert_cmpint (pixels->width, ==, 64);
  g_assert_true (is_red (pixels, 0.25, 0.25));
}

static void
test_cut_off (void)
{
  static const char *const kinds[] = { "jpeg", "png" };

  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      g_autoptr (GBytes) whole = make_photo (900, 700, kinds[i]);

      for (guint part = 1; part < 10; part++)
        {
          g_autoptr (GBytes) input = g_bytes_new_from_bytes (whole, 0, g_bytes_get_size (whole) * part / 10);

          g_test_message ("%u tenths of a %s", part, kinds[i]);
          assert_refused (input, "damaged or cut off");
        }
    }
}

/* PNG (ISO 15948, 11.2.2): the header chunk of a picture of 10000 × 10000, 16 bits of red, green, blue and alpha; zlib's crc32. */
static const guint8 huge_png[] = {
  0x89, 'P', 'N', 'G', '\r', '\n', 0x1a, '\n', 0, 0, 0, 13, 'I', 'H', 'D', 'R', 0, 0, 0x27, 0x10, 0, 0, 0x27, 0x10, 16, 6, 0, 0, 0,
  0xea, 0xde, 0xbe, 0x64
};

/* A small picture whose header claims another size (SOF0, ITU T.81, B.2.2: length, precision, lines, samples a line). */
static GBytes *
jpeg_of_claimed_size (int width,
                      int height)
{
  g_autoptr (GBytes) plain = make_photo (64, 64, "jpeg");
  GByteArray *claim = g_bytes_unref_to_array (g_steal_pointer (&plain));
  guint8 *frame = find (claim->data, claim->len, "\xff\xc0");

  g_assert_nonnull (frame);
  frame[5] = (guint8) (height >> 8);
  frame[6] = (guint8) height;
  frame[7] = (guint8) (width >> 8);
  frame[8] = (guint8) width;
  return g_byte_array_free_to_bytes (claim);
}

/* The same of several passes: a progressive frame (SOF2, ITU T.81, table B.1), or a first scan of fewer components (B.2.3). */
static GBytes *
jpeg_of_passes (GBytes  *jpeg,
                gboolean progressive)
{
  GByteArray *claim = g_bytes_unref_to_array (g_bytes_ref (jpeg));
  guint8 *at = find (claim->data, claim->len, progressive ? "\xff\xc0" : "\xff\xda");

  g_assert_nonnull (at);
  if (progressive)
    at[1] = 0xc2;
  else
    {
      at[3] = 8;
      at[4] = 1;
      g_byte_array_remove_range (claim, (guint) (at - claim->data) + 7, 4);
    }
  return g_byte_array_free_to_bytes (claim);
}

static void
test_huge (void)
{
  g_autoptr (GBytes) png = make_photo (64, 64, "png");
  g_autoptr (GByteArray) png_claim = g_byte_array_new ();
  g_autoptr (GBytes) jpeg = jpeg_of_claimed_size (20000, 20000), less = jpeg_of_claimed_size (10000, 10000), huge = NULL;
  g_autoptr (GBytes) camera = jpeg_of_claimed_size (12000, 8300), progressive = NULL, by_component = NULL, photo = NULL;
  g_autoptr (GError) error = NULL;

  assert_refused (jpeg, "20000 × 20000 pixels");
  assert_refused (less, "below 100 megapixels");
  progressive = jpeg_of_passes (camera, TRUE);
  by_component = jpeg_of_passes (camera, FALSE);
  assert_refused (progressive, "below 70 megapixels");
  assert_refused (by_component, "below 70 megapixels");
  /* A camera's own: its header is taken, and only the small picture behind it is not enough. */
  photo = wb_exchange_photo_convert (camera, "flame.jpg", NULL, &error);
  g_assert_true (photo != NULL || strstr (error->message, "megapixels") == NULL);

  /* The rest of a small picture behind it. */
  g_byte_array_append (png_claim, huge_png, sizeof huge_png);
  g_byte_array_append (png_claim, (const guint8 *) g_bytes_get_data (png, NULL) + sizeof huge_png,
                       (guint) (g_bytes_get_size (png) - sizeof huge_png));
  huge = g_byte_array_free_to_bytes (g_steal_pointer (&png_claim));
  assert_refused (huge, "10000 × 10000 pixels: of its kind only photos below 100 megapixels");
}

/* A notebook from elsewhere may hold what this program would not have kept. */
static void
test_kept_bound (void)
{
  g_autoptr (GBytes) fits = make_photo (WB_EXCHANGE_PHOTO_EDGE_PX, 16, "png");
  g_autoptr (GBytes) larger = make_photo (16, WB_EXCHANGE_PHOTO_EDGE_PX + 1, "png");
  g_autoptr (WbExchangePixels) pixels = decode (fits, 220), refused = NULL;
  g_autoptr (GError) error = NULL;

  g_assert_cmpint (pixels->width, ==, 220);
  refused = wb_exchange_photo_decode (larger, "flame.jpg", 220, NULL, &error);
  g_assert_null (refused);
  g_assert_error (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_FORMAT);
  g_assert_nonnull (strstr (error->message, "16 × 2049 pixels"));
}

static void
assert_taken (const char *taken,
              const char *offset,
              const char *expected)
{
  g_autoptr (GBytes) plain = make_photo (64, 64, "jpeg");
  g_autoptr (GBytes) input = exif_photo_new (plain, taken, offset);
  g_autofree char *said = wb_instant_format (wb_exchange_photo_read_time (input));

  g_test_message ("%s %s", taken, offset != NULL ? offset : "without an offset");
  g_assert_cmpstr (said, ==, expected);
}

static void
test_time (void)
{
  g_autoptr (GBytes) plain = make_photo (64, 64, "jpeg"), png = make_photo (64, 64, "png");
  g_autoptr (GBytes) turned = with_orientation (plain, 6);

  assert_taken ("2026:03:02 08:07:05", "+05:30", "2026-03-02T08:07:05+05:30");
  assert_taken ("2026:03:02 08:07:05", "-04:00", "2026-03-02T08:07:05-04:00");
  /* By this computer's zone: the tests' is UTC. */
  assert_taken ("2026:03:02 08:07:05", NULL, "2026-03-02T08:07:05+00:00");
  assert_taken ("2026:03:02 08:07:05", "      ", "2026-03-02T08:07:05+00:00");
  assert_taken ("2026:03:02 08:07:05", "half", "2026-03-02T08:07:05+00:00");
  /* EXIF's own way to say that it is not known, and a clock that was never set. */
  assert_taken ("    :  :     :  :  ", NULL, "");
  assert_taken ("0000:00:00 00:00:00", NULL, "");
  assert_taken ("2026:02:30 08:07:05", "+01:00", "");
  assert_taken ("2026:03:02 25:07:05", NULL, "");
  assert_taken ("2026-03-02T08:07:05", NULL, "");
  g_assert_false (wb_exchange_photo_read_time (plain).known);
  g_assert_false (wb_exchange_photo_read_time (turned).known);
  g_assert_false (wb_exchange_photo_read_time (png).known);
}

/* A PNG whose chunk eXIf says what the JPEG's segment says (PNG 3, 11.3.4.1: without the six bytes before it). */
static GBytes *
png_with_exif (const char *taken,
               const char *offset)
{
  g_autoptr (GBytes) plain = make_photo (64, 64, "jpeg"), png = make_photo (64, 64, "png");
  g_autoptr (GBytes) jpeg = exif_photo_new (plain, taken, offset);
  const guint8 *data = g_bytes_get_data (jpeg, NULL);

  return png_with_chunk (png, "eXIf", data + 12, (guint) (data[4] << 8 | data[5]) - 8);
}

static void
test_png_time (void)
{
  static const guint8 changed[] = { 2026 >> 8, 2026 & 0xff, 3, 2, 8, 7, 5 }, impossible[] = { 2026 >> 8, 2026 & 0xff, 2, 30, 8, 7, 5 };
  g_autoptr (GBytes) with_offset = png_with_exif ("2026:03:02 08:07:05", "+05:30"), without = png_with_exif ("2026:03:02 08:07:05", NULL);
  g_autoptr (GBytes) png = make_photo (64, 64, "png");
  g_autoptr (GBytes) timed = png_with_chunk (png, "tIME", changed, sizeof changed);
  g_autoptr (GBytes) wrong = png_with_chunk (png, "tIME", impossible, sizeof impossible);
  g_autoptr (GBytes) cut = png_with_chunk (png, "tIME", changed, 3), empty = png_with_chunk (png, "eXIf", changed, 0);
  g_autofree char *first = wb_instant_format (wb_exchange_photo_read_time (with_offset));
  g_autofree char *second = wb_instant_format (wb_exchange_photo_read_time (without));
  g_autofree char *third = wb_instant_format (wb_exchange_photo_read_changed (timed));

  g_assert_cmpstr (first, ==, "2026-03-02T08:07:05+05:30");
  g_assert_cmpstr (second, ==, "2026-03-02T08:07:05+00:00");
  g_assert_cmpstr (third, ==, "2026-03-02T08:07:05+00:00");
  /* When it was changed is not when it was taken. */
  g_assert_false (wb_exchange_photo_read_time (timed).known);
  g_assert_false (wb_exchange_photo_read_changed (with_offset).known);
  g_assert_false (wb_exchange_photo_read_changed (wrong).known);
  g_assert_false (wb_exchange_photo_read_changed (cut).known);
  g_assert_false (wb_exchange_photo_read_time (empty).known);
}

/* It leaves with the rest, and the photo is no worse for it. */
static void
test_time_stripped (void)
{
  static const guint8 words[] = "Comment\0my kitchen";
  g_autoptr (GBytes) plain = make_photo (64, 64, "jpeg");
  g_autoptr (GBytes) input = exif_photo_new (plain, "2026:03:02 08:07:05", "+01:00");
  g_autoptr (GBytes) photo = convert (input);
  g_autoptr (GBytes) timed = png_with_exif ("2026:03:02 08:07:05", "+01:00");
  g_autoptr (GBytes) said = png_with_chunk (timed, "tEXt", words, sizeof words - 1), photo_of_png = convert (said);

  assert_bare (photo);
  assert_no_exif (photo);
  assert_bare (photo_of_png);
  assert_no_exif (photo_of_png);
  g_assert_null (find (g_bytes_get_data (photo_of_png, NULL), g_bytes_get_size (photo_of_png), "kitchen"));
  g_assert_false (wb_exchange_photo_read_time (photo).known);
}

/* Any byte of the segment may be another, and it may end anywhere. */
static void
test_time_damaged (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (9);
  g_autoptr (GBytes) plain = make_photo (16, 16, "jpeg");
  guint n_known = 0;

  for (guint i = 0; i < 3000; i++)
    {
      g_autoptr (GBytes) whole = exif_photo_new (plain, "2026:03:02 08:07:05", "+01:00");
      g_autoptr (GByteArray) array = g_bytes_unref_to_array (g_steal_pointer (&whole));
      g_autoptr (GBytes) input = NULL;

      for (guint k = 0; k < 1 + i % 6; k++)
        array->data[g_rand_int_range (rand, 2, 120)] = (guint8) g_rand_int (rand);
      if (i % 5 == 0)
        g_byte_array_set_size (array, (guint) g_rand_int_range (rand, 0, 120));
      input = g_byte_array_free_to_bytes (g_steal_pointer (&array));
      n_known += wb_exchange_photo_read_time (input).known;
    }
  g_assert_cmpuint (n_known, >, 100);
  g_assert_cmpuint (n_known, <, 2900);
}

static void
test_names (void)
{
  static const struct { const char *raw; const char *said; } cases[] = {
    { "flame.jpg", "flame.jpg" },
    { "new\nline.jpg", "new�line.jpg" },
    { "tab\there\x01.jpg", "tab�here�.jpg" },
    { "bad\xff.jpg", "bad�.jpg" },
    { "turned\xe2\x80\xaegpj.jpg", "turned�gpj.jpg" },
    { "Dämmerung.jpg", "Dämmerung.jpg" },
  };
  g_autofree char *long_name = g_strnfill (240, 'x'), *cut = NULL;
  g_autoptr (GFile) long_file = g_file_new_for_path (long_name);

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *path = g_strconcat ("/no/such/", cases[i].raw, NULL);
      g_autoptr (GFile) file = g_file_new_for_path (path);
      g_autofree char *name = wb_exchange_photo_dup_name (file);

      g_assert_cmpstr (name, ==, cases[i].said);
    }
  cut = wb_exchange_photo_dup_name (long_file);
  g_assert_cmpuint (strlen (cut), ==, WB_NAME_MAXIMUM);
}

/* Whatever the bytes say: one sentence, or a photo that is kept as all are. */
static void
test_damaged (void)
{
  static const char *const kinds[] = { "jpeg", "png" };
  g_autoptr (GRand) rand = g_rand_new_with_seed (4);
  guint n_refused = 0, n_read = 0;

  for (guint i = 0; i < 600; i++)
    {
      g_autoptr (GBytes) whole = make_photo (60, 40, kinds[i % 2]);
      g_autoptr (GByteArray) array = g_bytes_unref_to_array (g_steal_pointer (&whole));
      g_autoptr (GBytes) input = NULL, photo = NULL;
      g_autoptr (GError) error = NULL;

      for (guint k = 0; k < 1 + i % 8; k++)
        array->data[8 + g_rand_int_range (rand, 0, (gint32) array->len - 8)] = (guint8) g_rand_int (rand);
      input = g_byte_array_free_to_bytes (g_steal_pointer (&array));
      photo = wb_exchange_photo_convert (input, "flame.jpg", NULL, &error);
      g_assert_true ((photo == NULL) == (error != NULL));
      if (photo != NULL)
        assert_bare (photo);
      else
        g_assert_error (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_FORMAT);
      n_refused += photo == NULL;
      n_read += photo != NULL;
    }
  g_assert_cmpuint (n_refused, >, 50);
  g_assert_cmpuint (n_read, >, 50);
}

static void
assert_not_loaded (GFile      *file,
                   const char *said)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) bytes = wb_exchange_photo_load_file (file, NULL, &error);

  g_assert_null (bytes);
  g_assert_error (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_FORMAT);
  g_assert_nonnull (strstr (error->message, said));
}

static void
test_files (void)
{
  g_autofree char *folder = g_dir_make_tmp ("wickbench-test-XXXXXX", NULL);
  g_autofree char *pipe = g_build_filename (folder, "pipe.jpg", NULL), *large = g_build_filename (folder, "large.jpg", NULL);
  g_autoptr (GFile) folder_file = g_file_new_for_path (folder), pipe_file = g_file_new_for_path (pipe);
  g_autoptr (GFile) large_file = g_file_new_for_path (large), missing = g_file_get_child (folder_file, "missing.jpg");
  g_autoptr (GBytes) plain = make_photo (64, 64, "jpeg"), bytes = NULL, none = NULL;
  g_autoptr (GError) error = NULL;

  g_assert_cmpint (mkfifo (pipe, 0600), ==, 0);
  g_assert_true (g_file_set_contents (large, g_bytes_get_data (plain, NULL), (gssize) g_bytes_get_size (plain), &error));
  bytes = wb_exchange_photo_load_file (large_file, NULL, &error);
  g_assert_no_error (error);
  g_assert_true (g_bytes_equal (bytes, plain));
  g_assert_cmpint (truncate (large, WB_EXCHANGE_PHOTO_FILE_BYTES + 1), ==, 0);
  assert_not_loaded (large_file, "larger than 64 MiB");
  assert_not_loaded (pipe_file, "pipe.jpg");
  assert_not_loaded (folder_file, "no file that holds a photo");
  none = wb_exchange_photo_load_file (missing, NULL, &error);
  g_assert_null (none);
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_NOT_FOUND);
  g_assert_cmpint (g_unlink (pipe), ==, 0);
  g_assert_cmpint (g_unlink (large), ==, 0);
  g_assert_cmpint (g_rmdir (folder), ==, 0);
}

static void
test_cancelled (void)
{
  g_autoptr (GBytes) plain = make_photo (64, 64, "jpeg"), photo = NULL;
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autoptr (GError) error = NULL;

  g_cancellable_cancel (cancellable);
  photo = wb_exchange_photo_convert (plain, "flame.jpg", cancellable, &error);
  g_assert_null (photo);
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
}

void
test_exchange_add_photo (void)
{
  g_test_add_func ("/exchange/photo/is-turned-upright-whichever-way-it-was-held", test_upright);
  g_test_add_func ("/exchange/photo/a-large-one-is-turned-and-shrunk", test_upright_and_small);
  g_test_add_func ("/exchange/photo/nothing-but-the-picture-is-left", test_no_metadata);
  g_test_add_func ("/exchange/photo/noise-too-fits-a-megabyte", test_fits);
  g_test_add_func ("/exchange/photo/what-is-transparent-becomes-white", test_transparent);
  g_test_add_func ("/exchange/photo/other-formats-are-refused-by-name", test_formats);
  g_test_add_func ("/exchange/photo/a-wrong-ending-is-let-pass", test_wrong_ending);
  g_test_add_func ("/exchange/photo/one-that-is-cut-off-is-refused", test_cut_off);
  g_test_add_func ("/exchange/photo/damaged-bytes-are-refused-or-read", test_damaged);
  g_test_add_func ("/exchange/photo/a-header-that-claims-too-much-is-refused-before-decoding", test_huge);
  g_test_add_func ("/exchange/photo/one-that-is-larger-than-any-kept-is-not-decoded", test_kept_bound);
  g_test_add_func ("/exchange/photo/when-it-was-taken-is-read-with-its-offset-or-in-this-zone", test_time);
  g_test_add_func ("/exchange/photo/when-it-was-taken-does-not-stay-in-it", test_time_stripped);
  g_test_add_func ("/exchange/photo/a-png-says-when-it-was-taken-or-changed", test_png_time);
  g_test_add_func ("/exchange/photo/damaged-times-are-none-or-a-time", test_time_damaged);
  g_test_add_func ("/exchange/photo/a-name-is-fit-for-a-sentence", test_names);
  g_test_add_func ("/exchange/photo/only-an-ordinary-file-of-bounded-size-is-read", test_files);
  g_test_add_func ("/exchange/photo/cancelled-it-ends", test_cancelled);
}
