/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-exchange-photo.h"

#include "wb-exchange-error.h"

#include <gdk-pixbuf/gdk-pixbuf.h>
#include <glib/gi18n-lib.h>

#define PIECE (64 * 1024)
#define FILE_MAXIMUM (G_GINT64_CONSTANT (64) * 1024 * 1024)
#define QUALITY_FIRST 85
#define QUALITY_LAST 45
#define QUALITY_STEP 10

typedef struct
{
  gboolean too_large;
} Decoding;

/* Before a pixel is decoded. A size of 0 makes each loader give up, a smaller one spares memory where it can. */
static void
on_loader_size_prepared_cb (GdkPixbufLoader *loader, int width, int height, gpointer data)
{
  Decoding *decoding = data;
  double scale = WB_EXCHANGE_PHOTO_EDGE / (double) MAX (width, height);

  if (width <= 0 || height <= 0 || (gint64) width * height > WB_EXCHANGE_PHOTO_MEGAPIXELS * G_GINT64_CONSTANT (1000000))
    {
      decoding->too_large = TRUE;
      gdk_pixbuf_loader_set_size (loader, 0, 0);
    }
  else if (scale < 1)
    gdk_pixbuf_loader_set_size (loader, MAX (1, (int) (width * scale + 0.5)), MAX (1, (int) (height * scale + 0.5)));
}

static gboolean
feed (GdkPixbufLoader *loader, GInputStream *stream, const Decoding *decoding, GCancellable *cancellable, GError **error)
{
  g_autofree guchar *piece = g_malloc (PIECE);
  gint64 total = 0;
  gssize n;

  while ((n = g_input_stream_read (stream, piece, PIECE, cancellable, error)) > 0)
    {
      total += n;
      if (total > FILE_MAXIMUM)
        {
          g_set_error_literal (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_LIMIT, _("The file is larger than 64 MiB"));
          return FALSE;
        }
      if (!gdk_pixbuf_loader_write (loader, piece, n, error))
        return FALSE;
      if (decoding->too_large)
        return FALSE;
    }
  return n == 0;
}

/* Drawings are programs of a kind; a photo is made of pixels. */
static gboolean
is_pixels (GdkPixbufLoader *loader)
{
  GdkPixbufFormat *format = gdk_pixbuf_loader_get_format (loader);

  return format != NULL && !gdk_pixbuf_format_is_scalable (format);
}

/* Errors of the loader in this room's words: which of its many it was helps nobody. */
static void
tell_format (const Decoding *decoding, GError **error)
{
  if (error == NULL)
    return;
  if (decoding->too_large)
    {
      g_clear_error (error);
      g_set_error (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_LIMIT, _("The picture has more than %d million pixels"),
                   WB_EXCHANGE_PHOTO_MEGAPIXELS);
    }
  else if (*error == NULL || (*error)->domain == GDK_PIXBUF_ERROR)
    {
      g_autofree char *why = *error != NULL ? g_strdup ((*error)->message) : NULL;

      g_clear_error (error);
      g_set_error (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_FORMAT, _("It cannot be read as a picture%s%s"),
                   why != NULL ? ": " : "", why != NULL ? why : "");
    }
}

static GdkPixbuf *
decode (GFile *file, GCancellable *cancellable, GError **error)
{
  g_autoptr (GFileInputStream) stream = g_file_read (file, cancellable, error);
  g_autoptr (GdkPixbufLoader) loader = NULL;
  Decoding decoding = { FALSE };
  g_autoptr (GError) failure = NULL;
  gboolean good;

  if (stream == NULL)
    return NULL;
  loader = gdk_pixbuf_loader_new ();
  g_signal_connect (loader, "size-prepared", G_CALLBACK (on_loader_size_prepared_cb), &decoding);
  good = feed (loader, G_INPUT_STREAM (stream), &decoding, cancellable, &failure);
  /* A loader must be closed, whatever came of it. */
  good = gdk_pixbuf_loader_close (loader, good ? &failure : NULL) && good;

  GdkPixbuf *pixbuf = good && !decoding.too_large && is_pixels (loader) ? gdk_pixbuf_loader_get_pixbuf (loader) : NULL;

  if (pixbuf != NULL)
    return gdk_pixbuf_apply_embedded_orientation (pixbuf);
  tell_format (&decoding, &failure);
  g_propagate_error (error, g_steal_pointer (&failure));
  return NULL;
}

static GdkPixbuf *
fit (GdkPixbuf *pixbuf, int edge)
{
  int width = gdk_pixbuf_get_width (pixbuf), height = gdk_pixbuf_get_height (pixbuf);
  double scale = edge / (double) MAX (width, height);

  if (scale >= 1)
    return g_object_ref (pixbuf);
  return gdk_pixbuf_scale_simple (pixbuf, MAX (1, (int) (width * scale)), MAX (1, (int) (height * scale)), GDK_INTERP_BILINEAR);
}

/* JPEG knows no transparency: what shows through is white. */
static GdkPixbuf *
flatten (GdkPixbuf *pixbuf)
{
  if (!gdk_pixbuf_get_has_alpha (pixbuf))
    return g_object_ref (pixbuf);
  return gdk_pixbuf_composite_color_simple (pixbuf, gdk_pixbuf_get_width (pixbuf), gdk_pixbuf_get_height (pixbuf),
                                            GDK_INTERP_NEAREST, 255, 16, 0xffffff, 0xffffff);
}

static GBytes *
encode (GdkPixbuf *pixbuf, int quality, GError **error)
{
  g_autofree char *percent = g_strdup_printf ("%d", quality);
  char *buffer = NULL;
  gsize size = 0;

  if (!gdk_pixbuf_save_to_buffer (pixbuf, &buffer, &size, "jpeg", error, "quality", percent, NULL))
    return NULL;
  return g_bytes_new_take (buffer, size);
}

GBytes *
wb_exchange_photo_read (GFile        *file,
                        GCancellable *cancellable,
                        GError      **error)
{
  g_autoptr (GdkPixbuf) decoded = decode (file, cancellable, error);
  g_autoptr (GdkPixbuf) flat = decoded != NULL ? flatten (decoded) : NULL;

  if (decoded == NULL)
    return NULL;
  /* A coarser picture first, a smaller one after that; each edge halves the bytes, so this ends. */
  for (int edge = WB_EXCHANGE_PHOTO_EDGE; edge >= 1; edge = edge * 3 / 4)
    {
      g_autoptr (GdkPixbuf) small = fit (flat, edge);

      for (int quality = QUALITY_FIRST; quality >= QUALITY_LAST; quality -= QUALITY_STEP)
        {
          g_autoptr (GBytes) bytes = encode (small, quality, error);

          if (bytes == NULL)
            return NULL;
          if (g_bytes_get_size (bytes) <= WB_EXCHANGE_PHOTO_BYTES)
            return g_steal_pointer (&bytes);
        }
    }
  g_set_error_literal (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_LIMIT, _("The picture does not become small enough"));
  return NULL;
}
