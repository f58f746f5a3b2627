/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-exchange.h"

#include "wb-exchange-error.h"
#include "wb-exchange-photo.h"

#include <gdk-pixbuf/gdk-pixbuf.h>
#include <string.h>

/* A PNG (ISO 15948) of 20,000 × 20,000 pixels that holds next to none of them. */
static const guint8 bomb[] = {
  0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0x00, 0x00, 0x00, 0x0d, 0x49, 0x48, 0x44, 0x52,
  0x00, 0x00, 0x4e, 0x20, 0x00, 0x00, 0x4e, 0x20, 0x08, 0x02, 0x00, 0x00, 0x00, 0x6c, 0x12, 0xd1,
  0x6e, 0x00, 0x00, 0x00, 0x0c, 0x49, 0x44, 0x41, 0x54, 0x78, 0x9c, 0x63, 0x60, 0xa0, 0x3d, 0x00,
  0x00, 0x00, 0x64, 0x00, 0x01, 0x86, 0x64, 0x3c, 0x35, 0x00, 0x00, 0x00, 0x00, 0x49, 0x45, 0x4e,
  0x44, 0xae, 0x42, 0x60, 0x82
};

/* Left half red, right half blue. */
static GdkPixbuf *
two_halves (int width, int height, gboolean alpha)
{
  GdkPixbuf *pixbuf = gdk_pixbuf_new (GDK_COLORSPACE_RGB, alpha, 8, width, height);
  g_autoptr (GdkPixbuf) right = gdk_pixbuf_new_subpixbuf (pixbuf, width / 2, 0, width - width / 2, height);

  gdk_pixbuf_fill (pixbuf, 0xff0000ff);
  gdk_pixbuf_fill (right, alpha ? 0x0000ff00 : 0x0000ffff);
  return pixbuf;
}

static GFile *
save (GdkPixbuf *pixbuf, const char *type)
{
  g_autofree char *buffer = NULL;
  g_autoptr (GError) error = NULL;
  gsize size;

  g_assert_true (gdk_pixbuf_save_to_buffer (pixbuf, &buffer, &size, type, &error, NULL));
  return test_exchange_file (buffer, size);
}

static GdkPixbuf *
load (GBytes *bytes)
{
  g_autoptr (GdkPixbufLoader) loader = gdk_pixbuf_loader_new_with_type ("jpeg", NULL);
  g_autoptr (GError) error = NULL;

  gdk_pixbuf_loader_write_bytes (loader, bytes, &error);
  gdk_pixbuf_loader_close (loader, &error);
  g_assert_no_error (error);
  return g_object_ref (gdk_pixbuf_loader_get_pixbuf (loader));
}

/* Mostly that colour: JPEG does not keep it to the bit. */
static void
assert_pixel (GdkPixbuf *pixbuf, int x, int y, int red, int green, int blue)
{
  const guchar *at = gdk_pixbuf_read_pixels (pixbuf) + y * gdk_pixbuf_get_rowstride (pixbuf)
                     + x * gdk_pixbuf_get_n_channels (pixbuf);

  g_assert_cmpint (ABS (at[0] - red), <, 30);
  g_assert_cmpint (ABS (at[1] - green), <, 30);
  g_assert_cmpint (ABS (at[2] - blue), <, 30);
}

static void
test_large_is_fitted (void)
{
  g_autoptr (GdkPixbuf) large = two_halves (4000, 1000, FALSE);
  GFile *file = save (large, "png");
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) bytes = wb_exchange_photo_read (file, NULL, &error);
  g_autoptr (GdkPixbuf) kept = NULL;

  g_assert_no_error (error);
  kept = load (bytes);
  g_assert_cmpint (gdk_pixbuf_get_width (kept), ==, 2048);
  g_assert_cmpint (gdk_pixbuf_get_height (kept), ==, 512);
  assert_pixel (kept, 100, 100, 255, 0, 0);
  assert_pixel (kept, 2000, 100, 0, 0, 255);
  test_exchange_drop (file);
}

static void
test_small_stays (void)
{
  static const char *const types[] = { "png", "jpeg", "bmp", "tiff" };

  for (guint i = 0; i < G_N_ELEMENTS (types); i++)
    {
      g_autoptr (GdkPixbuf) small = two_halves (60, 40, FALSE);
      GFile *file = save (small, types[i]);
      g_autoptr (GError) error = NULL;
      g_autoptr (GBytes) bytes = wb_exchange_photo_read (file, NULL, &error);

      g_assert_no_error (error);

      g_autoptr (GdkPixbuf) kept = load (bytes);

      g_assert_cmpint (gdk_pixbuf_get_width (kept), ==, 60);
      g_assert_cmpint (gdk_pixbuf_get_height (kept), ==, 40);
      test_exchange_drop (file);
    }
}

static void
test_transparent_is_white (void)
{
  g_autoptr (GdkPixbuf) pixbuf = two_halves (60, 40, TRUE);
  GFile *file = save (pixbuf, "png");
  g_autoptr (GBytes) bytes = wb_exchange_photo_read (file, NULL, NULL);
  g_autoptr (GdkPixbuf) kept = load (bytes);

  assert_pixel (kept, 10, 20, 255, 0, 0);
  assert_pixel (kept, 50, 20, 255, 255, 255);
  test_exchange_drop (file);
}

/* Tag 0x0112 with value 6 (Exif 2.3, 4.6.4): the camera was held upright, the picture lies on its side. */
static void
test_turned_upright (void)
{
  static const guint8 exif[] = {
    0xff, 0xe1, 0x00, 0x22, 'E', 'x', 'i', 'f', 0, 0, 'I', 'I', 0x2a, 0, 8, 0, 0, 0,
    1, 0, 0x12, 0x01, 3, 0, 1, 0, 0, 0, 6, 0, 0, 0, 0, 0, 0, 0,
  };
  g_autoptr (GdkPixbuf) lying = two_halves (80, 40, FALSE);
  g_autofree char *jpeg = NULL;
  gsize size;
  g_autoptr (GByteArray) turned = g_byte_array_new ();
  g_autoptr (GError) error = NULL;

  g_assert_true (gdk_pixbuf_save_to_buffer (lying, &jpeg, &size, "jpeg", NULL, NULL));
  g_byte_array_append (turned, (const guint8 *) jpeg, 2);
  g_byte_array_append (turned, exif, sizeof exif);
  g_byte_array_append (turned, (const guint8 *) jpeg + 2, size - 2);

  GFile *file = test_exchange_file ((const char *) turned->data, turned->len);
  g_autoptr (GBytes) bytes = wb_exchange_photo_read (file, NULL, &error);

  g_assert_no_error (error);

  g_autoptr (GdkPixbuf) kept = load (bytes);

  g_assert_cmpint (gdk_pixbuf_get_width (kept), ==, 40);
  g_assert_cmpint (gdk_pixbuf_get_height (kept), ==, 80);
  assert_pixel (kept, 20, 10, 255, 0, 0);
  assert_pixel (kept, 20, 70, 0, 0, 255);
  /* What the camera wrote is gone. */
  g_assert_null (g_strstr_len (g_bytes_get_data (bytes, NULL), 200, "Exif"));
  test_exchange_drop (file);
}

/* Noise does not compress: the quality must give way, then the size. */
static void
test_noise_becomes_small (void)
{
  g_autoptr (GdkPixbuf) noise = gdk_pixbuf_new (GDK_COLORSPACE_RGB, FALSE, 8, 2400, 2400);
  g_autoptr (GRand) rand = g_rand_new_with_seed (9);
  guchar *pixels = gdk_pixbuf_get_pixels (noise);
  g_autoptr (GError) error = NULL;

  for (gsize i = 0; i < gdk_pixbuf_get_byte_length (noise); i++)
    pixels[i] = (guchar) g_rand_int (rand);

  GFile *file = save (noise, "bmp");
  g_autoptr (GBytes) bytes = wb_exchange_photo_read (file, NULL, &error);

  g_assert_no_error (error);
  g_assert_cmpuint (g_bytes_get_size (bytes), <=, WB_EXCHANGE_PHOTO_BYTES);
  test_exchange_drop (file);
}

static void
test_refusals (void)
{
  static const struct { const char *name; const char *bytes; gssize length; int code; } files[] = {
    { "a bomb", (const char *) bomb, sizeof bomb, WB_EXCHANGE_ERROR_LIMIT },
    { "nothing", "", 0, WB_EXCHANGE_ERROR_FORMAT },
    { "text", "said to be a photo", -1, WB_EXCHANGE_ERROR_FORMAT },
    { "a cut head", (const char *) bomb, 20, WB_EXCHANGE_ERROR_FORMAT },
    { "a drawing", "<svg xmlns='http://www.w3.org/2000/svg' width='9' height='9'><rect width='9' height='9'/></svg>", -1,
      WB_EXCHANGE_ERROR_FORMAT },
  };

  for (guint i = 0; i < G_N_ELEMENTS (files); i++)
    {
      GFile *file = test_exchange_file (files[i].bytes, files[i].length);
      g_autoptr (GError) error = NULL;

      g_test_message ("case: %s", files[i].name);
      g_assert_null (wb_exchange_photo_read (file, NULL, &error));
      g_assert_error (error, WB_EXCHANGE_ERROR, files[i].code);
      test_exchange_drop (file);
    }

  g_autoptr (GFile) nowhere = g_file_new_for_path ("/nonexistent/photo.jpg");
  g_autoptr (GError) missing = NULL;

  g_assert_null (wb_exchange_photo_read (nowhere, NULL, &missing));
  g_assert_error (missing, G_IO_ERROR, G_IO_ERROR_NOT_FOUND);
}

void
test_exchange_add_photo (void)
{
  g_test_add_func ("/exchange/photo/a-large-one-is-fitted", test_large_is_fitted);
  g_test_add_func ("/exchange/photo/a-small-one-keeps-its-size", test_small_stays);
  g_test_add_func ("/exchange/photo/what-shows-through-is-white", test_transparent_is_white);
  g_test_add_func ("/exchange/photo/one-on-its-side-is-turned-upright", test_turned_upright);
  g_test_add_func ("/exchange/photo/noise-becomes-small", test_noise_becomes_small);
  g_test_add_func ("/exchange/photo/what-is-no-photo-is-refused", test_refusals);
}
