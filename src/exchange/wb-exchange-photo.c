/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-exchange-photo.h"

#include "wb-exchange-error.h"
#include "wb-exchange-photo-private.h"
#include "wb-record.h"

#include <gdk-pixbuf/gdk-pixbuf.h>
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

/*
 * No photo takes more than some 450 MB while it is decoded, one at a time (peaks measured with gdk-pixbuf 2.42 and
 * libjpeg-turbo 2.1, the file's bytes among them). A JPEG of one pass is shrunk by its decoder: 99 megapixels take 54 MB. One of
 * several passes is kept whole until then, at 2 bytes a pixel and component: three components of 70 megapixels take 448 MB.
 * A PNG is decoded whole before it is shrunk, at 4 bytes a pixel: 99 megapixels take 417 MB.
 */
#define MEGAPIXELS 100
#define JPEG_PASSES_MEGABYTES 420
#define JPEG_PASSES_BYTES 2
#define MOST_COMPONENTS 4
#define FIRST_QUALITY 90
#define LAST_QUALITY 40
#define QUALITY_STEP 10

/* So much goes to the decoder at a time: it is asked in between whether to go on. */
#define CHUNK 65536

/* How files begin, by their own specifications: what is read, and what is refused by name. */
typedef struct
{
  gsize       at;
  const char *bytes;
  const char *name;
  const char *decoder;  /* of gdk-pixbuf; NULL: refused */
} Format;

static const Format formats[] = {
  { 0, "\xff\xd8\xff", "JPEG", "jpeg" },
  { 0, "\x89PNG\r\n\x1a\n", "PNG", "png" },
  { 0, "GIF8", "GIF", NULL },
  { 8, "WEBP", "WebP", NULL },
  { 4, "ftypheic", "HEIC", NULL },
  { 4, "ftypheix", "HEIC", NULL },
  { 4, "ftyphevc", "HEIC", NULL },
  { 4, "ftypmif1", "HEIF", NULL },
  { 4, "ftypmsf1", "HEIF", NULL },
  { 4, "ftypavif", "AVIF", NULL },
  { 4, "ftypavis", "AVIF", NULL },
  { 4, "ftyp", N_("a film"), NULL },
  { 0, "II*", N_("TIFF or a camera's raw file"), NULL },
  { 0, "MM\0*", N_("TIFF or a camera's raw file"), NULL },
  { 0, "BM", "BMP", NULL },
  { 0, "\xff\x0a", "JPEG XL", NULL },
  { 4, "JXL ", "JPEG XL", NULL },
  { 4, "jP  ", "JPEG 2000", NULL },
  { 0, "%PDF", "PDF", NULL },
  { 0, "<svg", "SVG", NULL },
};

void
wb_exchange_pixels_free (WbExchangePixels *self)
{
  if (self == NULL)
    return;
  g_bytes_unref (self->rgb);
  g_free (self);
}

static gsize
format_length (const Format *format)
{
  /* The one signature with a zero in it. */
  return memcmp (format->bytes, "MM", 2) == 0 ? 4 : strlen (format->bytes);
}

/* NULL: none of them. */
static const Format *
find_format (GBytes *input)
{
  gsize size;
  const char *data = g_bytes_get_data (input, &size);

  for (guint i = 0; i < G_N_ELEMENTS (formats); i++)
    {
      gsize length = format_length (&formats[i]);

      if (size >= formats[i].at + length && memcmp (data + formats[i].at, formats[i].bytes, length) == 0)
        return &formats[i];
    }
  return NULL;
}

static const Format *
find_decoder (GBytes     *input,
              const char *name,
              GError    **error)
{
  const Format *format = find_format (input);

  if (g_bytes_get_size (input) == 0)
    g_set_error (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_FORMAT, _("“%s” is empty."), name);
  else if (format == NULL)
    g_set_error (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_FORMAT, _("“%s” is no photo: JPEG and PNG are read."), name);
  else if (format->decoder == NULL)
    g_set_error (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_FORMAT,
                 _("“%s” is %s: only JPEG and PNG are read. Save it as one of them first."), name, _(format->name));
  else
    return format;
  return NULL;
}

static GdkPixbufLoader *
find_loader (const Format *format,
             const char   *name,
             GError      **error)
{
  g_autoptr (GError) reason = NULL;
  GdkPixbufLoader *loader = gdk_pixbuf_loader_new_with_type (format->decoder, &reason);

  if (loader == NULL)
    g_set_error (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_FAILED, _("“%s” could not be read: %s"), name, reason->message);
  return loader;
}

/* What the header said, and what was made of it. */
typedef struct
{
  int      width, height;
  int      edge_px;       /* to be shrunk to */
  int      largest_px;    /* longer edge that is read at all; 0: only the area counts */
  int      megapixels;
  gboolean too_large;
} Header;

static void
on_size_prepared_cb (GdkPixbufLoader *loader,
                     int              width,
                     int              height,
                     Header          *header)
{
  double shrink;

  header->width = width;
  header->height = height;
  header->too_large = width < 1 || height < 1 || (gint64) width * height >= (gint64) header->megapixels * 1000000
                      || (header->largest_px > 0 && MAX (width, height) > header->largest_px);
  if (header->too_large)
    {
      /* A decoder that is asked for nothing gives up before it takes memory for the picture. */
      gdk_pixbuf_loader_set_size (loader, 0, 0);
      return;
    }
  shrink = (double) header->edge_px / MAX (width, height);
  if (shrink < 1)
    gdk_pixbuf_loader_set_size (loader, MAX (1, (int) lround (width * shrink)), MAX (1, (int) lround (height * shrink)));
}

static gboolean
feed (GdkPixbufLoader *loader,
      GBytes          *input,
      const Header    *header,
      GCancellable    *cancellable,
      GError         **error)
{
  gsize size;
  const guchar *data = g_bytes_get_data (input, &size);

  for (gsize at = 0; at < size; at += CHUNK)
    {
      if (g_cancellable_set_error_if_cancelled (cancellable, error)
          || !gdk_pixbuf_loader_write (loader, data + at, MIN (CHUNK, size - at), error))
        return FALSE;
      if (header->too_large)
        return FALSE;
    }
  return TRUE;
}

static void
explain (const Header *header,
         const char   *name,
         GError       *reason,
         GError      **error)
{
  if (g_error_matches (reason, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    {
      g_propagate_error (error, g_error_copy (reason));
      return;
    }
  if (header->too_large && header->largest_px > 0)
    g_set_error (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_FORMAT,
                 _("“%s” says that it has %d × %d pixels: a kept photo has %d at most along an edge."),
                 name, header->width, header->height, header->largest_px);
  else if (header->too_large)
    g_set_error (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_FORMAT,
                 _("“%s” says that it has %d × %d pixels: of its kind only photos below %d megapixels are read."),
                 name, header->width, header->height, header->megapixels);
  else
    g_set_error (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_FORMAT, _("“%s” is damaged or cut off: %s"), name,
                 reason != NULL ? reason->message : _("its end is missing"));
}

/*
 * The header's segments of a JPEG, up to SOS; a marker may be filled up with 0xff (ITU T.81, B.1.1). Where the scan begins, and
 * by its frame and scan header whether all of the picture comes in one pass (B.2.2, B.2.3: sequential, and as many
 * components in the first scan as in the frame).
 */
static gsize
jpeg_find_scan (GBytes   *input,
                gboolean *one_pass,
                int      *components)
{
  gsize size, at = 2;
  const guint8 *data = g_bytes_get_data (input, &size);
  gboolean sequential = FALSE;

  *one_pass = FALSE;
  /* what a decoder takes at most: no frame is a damaged file, which it refuses */
  *components = MOST_COMPONENTS;
  while (at + 4 <= size && data[at] == 0xff && data[at + 1] != 0xda)
    {
      /* SOF0 to SOF2: the only ones that the decoder reads without arithmetic coding */
      if (data[at + 1] >= 0xc0 && data[at + 1] <= 0xc2 && at + 10 <= size)
        {
          sequential = data[at + 1] != 0xc2;
          *components = CLAMP (data[at + 9], 1, MOST_COMPONENTS);
        }
      at += data[at + 1] == 0xff ? 1 : 2 + (data[at + 2] << 8 | data[at + 3]);
    }
  if (at + 5 <= size && data[at] == 0xff)
    *one_pass = sequential && data[at + 4] == *components;
  return at;
}

static int
find_megapixels (const Format *format,
                 GBytes       *input)
{
  gboolean one_pass;
  int components;

  if (strcmp (format->decoder, "jpeg") != 0)
    return MEGAPIXELS;
  jpeg_find_scan (input, &one_pass, &components);
  return one_pass ? MEGAPIXELS : MIN (MEGAPIXELS, JPEG_PASSES_MEGABYTES / (JPEG_PASSES_BYTES * components));
}

/*
 * The decoders fill up what is missing, so the end is looked for here. JPEG: EOI, which the coded picture cannot hold
 * (ITU T.81, B.1.1.5), behind the header's segments, one of which may hold a thumbnail with an end of its own.
 */
static gboolean
jpeg_has_end (GBytes *input)
{
  gboolean one_pass;
  int components;
  gsize size, at = jpeg_find_scan (input, &one_pass, &components);
  const guint8 *data = g_bytes_get_data (input, &size);

  for (; at + 2 <= size; at++)
    if (data[at] == 0xff && data[at + 1] == 0xd9)
      return TRUE;
  return FALSE;
}

const guint8 *
wb_exchange_photo_find_chunk (GBytes     *input,
                              const char *type,
                              gsize      *length)
{
  gsize size;
  const guint8 *data = g_bytes_get_data (input, &size);

  if (size < 8 || memcmp (data, "\x89PNG\r\n\x1a\n", 8) != 0)
    return NULL;
  for (gsize at = 8; at + 12 <= size; at += 12 + *length)
    {
      *length = (gsize) data[at] << 24 | (gsize) data[at + 1] << 16 | (gsize) data[at + 2] << 8 | data[at + 3];
      if (memcmp (data + at + 4, type, 4) == 0)
        return *length <= size - at - 12 ? data + at + 8 : NULL;
    }
  return NULL;
}

/* PNG: the chunk IEND behind whole others. */
static gboolean
png_has_end (GBytes *input)
{
  gsize length;

  return wb_exchange_photo_find_chunk (input, "IEND", &length) != NULL;
}

/* On white: a JPEG has no transparency, and white is what shows behind a picture elsewhere. Takes it. */
static GdkPixbuf *
flatten (GdkPixbuf *pixbuf)
{
  GdkPixbuf *flat;

  if (!gdk_pixbuf_get_has_alpha (pixbuf))
    return pixbuf;
  flat = gdk_pixbuf_new (GDK_COLORSPACE_RGB, FALSE, 8, gdk_pixbuf_get_width (pixbuf), gdk_pixbuf_get_height (pixbuf));
  if (flat != NULL)
    {
      gdk_pixbuf_fill (flat, 0xffffffff);
      gdk_pixbuf_composite (pixbuf, flat, 0, 0, gdk_pixbuf_get_width (pixbuf), gdk_pixbuf_get_height (pixbuf), 0, 0, 1, 1,
                            GDK_INTERP_NEAREST, 255);
    }
  g_object_unref (pixbuf);
  return flat;
}

/* Upright, without transparency, its longer edge `edge_px` at most. largest_px: as in Header. */
static GdkPixbuf *
decode (GBytes       *input,
        const char   *name,
        int           edge_px,
        int           largest_px,
        GCancellable *cancellable,
        GError      **error)
{
  const Format *format = find_decoder (input, name, error);
  g_autoptr (GdkPixbufLoader) loader = format != NULL ? find_loader (format, name, error) : NULL;
  g_autoptr (GError) reason = NULL, late = NULL;
  Header header = { .edge_px = edge_px, .largest_px = largest_px };
  GdkPixbuf *pixbuf = NULL;
  gboolean fed;

  if (loader == NULL)
    return NULL;
  header.megapixels = find_megapixels (format, input);
  g_signal_connect (loader, "size-prepared", G_CALLBACK (on_size_prepared_cb), &header);
  fed = feed (loader, input, &header, cancellable, &reason);
  /* It is to be closed after a failure too. */
  if (!gdk_pixbuf_loader_close (loader, fed ? &reason : &late))
    fed = FALSE;
  if (!(strcmp (format->decoder, "jpeg") == 0 ? jpeg_has_end (input) : png_has_end (input)))
    fed = FALSE;
  if (fed && gdk_pixbuf_loader_get_pixbuf (loader) != NULL)
    pixbuf = gdk_pixbuf_apply_embedded_orientation (gdk_pixbuf_loader_get_pixbuf (loader));
  if (pixbuf != NULL)
    pixbuf = flatten (pixbuf);
  if (pixbuf == NULL)
    explain (&header, name, reason, error);
  return pixbuf;
}

/* Controls, line ends and what turns the order of reading: they would change the sentence around the name. */
static gboolean
is_unseemly (gunichar c)
{
  return g_unichar_iscntrl (c) || c == 0x2028 || c == 0x2029 || (c >= 0x202a && c <= 0x202e) || (c >= 0x2066 && c <= 0x2069);
}

char *
wb_exchange_photo_dup_name (GFile *file)
{
  g_autofree char *base = NULL, *valid = NULL;
  GString *name = g_string_new (NULL);
  guint n = 0;

  g_return_val_if_fail (G_IS_FILE (file), NULL);

  base = g_file_get_basename (file);
  valid = g_filename_display_name (base != NULL ? base : "");
  for (const char *at = valid; *at != '\0' && n < WB_NAME_MAXIMUM; at = g_utf8_next_char (at), n++)
    {
      gunichar c = g_utf8_get_char (at);

      g_string_append_unichar (name, is_unseemly (c) ? 0xfffd : c);
    }
  return g_string_free (name, FALSE);
}

GBytes *
wb_exchange_photo_load_stream (GInputStream *stream,
                               const char   *name,
                               GCancellable *cancellable,
                               GError      **error)
{
  g_autoptr (GByteArray) bytes = g_byte_array_new ();
  g_autofree guchar *chunk = g_malloc (CHUNK);
  gssize got;

  g_return_val_if_fail (G_IS_INPUT_STREAM (stream), NULL);

  while ((got = g_input_stream_read (stream, chunk, CHUNK, cancellable, error)) > 0)
    {
      if (bytes->len + got > WB_EXCHANGE_PHOTO_FILE_BYTES)
        {
          g_set_error (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_FORMAT, _("“%s” is larger than %d MiB: it is not read."),
                       name, WB_EXCHANGE_PHOTO_FILE_BYTES / (1024 * 1024));
          return NULL;
        }
      g_byte_array_append (bytes, chunk, (guint) got);
    }
  return got < 0 ? NULL : g_byte_array_free_to_bytes (g_steal_pointer (&bytes));
}

GBytes *
wb_exchange_photo_load_file (GFile        *file,
                             GCancellable *cancellable,
                             GError      **error)
{
  g_autoptr (GFileInputStream) stream = NULL;
  g_autofree char *name = NULL;
  GFileType type;

  g_return_val_if_fail (G_IS_FILE (file), NULL);

  name = wb_exchange_photo_dup_name (file);
  type = g_file_query_file_type (file, G_FILE_QUERY_INFO_NONE, cancellable);
  /* A pipe would be waited for, a device read without end; what is not there GIO says when it is opened. */
  if (type != G_FILE_TYPE_REGULAR && type != G_FILE_TYPE_UNKNOWN)
    {
      g_set_error (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_FORMAT, _("“%s” is no file that holds a photo."), name);
      return NULL;
    }
  stream = g_file_read (file, cancellable, error);
  return stream != NULL ? wb_exchange_photo_load_stream (G_INPUT_STREAM (stream), name, cancellable, error) : NULL;
}

static GBytes *
encode (GdkPixbuf  *pixbuf,
        int         quality,
        const char *name,
        GError    **error)
{
  g_autofree char *said = g_strdup_printf ("%d", quality);
  g_autoptr (GError) reason = NULL;
  char *buffer = NULL;
  gsize size;

  if (gdk_pixbuf_save_to_buffer (pixbuf, &buffer, &size, "jpeg", &reason, "quality", said, NULL))
    return g_bytes_new_take (buffer, size);
  g_set_error (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_FAILED, _("“%s” could not be kept: %s"), name, reason->message);
  return NULL;
}

/* A quality for each pass; below the last one the picture gets smaller. Takes the pixbuf. */
static GBytes *
fit (GdkPixbuf    *pixbuf,
     const char   *name,
     GCancellable *cancellable,
     GError      **error)
{
  g_autoptr (GdkPixbuf) picture = pixbuf;
  int quality = FIRST_QUALITY;

  while (!g_cancellable_set_error_if_cancelled (cancellable, error))
    {
      g_autoptr (GBytes) bytes = encode (picture, quality, name, error);
      GdkPixbuf *smaller;

      if (bytes == NULL)
        return NULL;
      if (g_bytes_get_size (bytes) <= WB_EXCHANGE_PHOTO_BYTES)
        return g_steal_pointer (&bytes);
      if (quality > LAST_QUALITY)
        {
          quality -= QUALITY_STEP;
          continue;
        }
      smaller = gdk_pixbuf_scale_simple (picture, MAX (1, gdk_pixbuf_get_width (picture) * 4 / 5),
                                         MAX (1, gdk_pixbuf_get_height (picture) * 4 / 5), GDK_INTERP_BILINEAR);
      if (smaller == NULL)
        {
          g_set_error (error, WB_EXCHANGE_ERROR, WB_EXCHANGE_ERROR_FAILED, _("“%s” could not be kept: no memory"), name);
          return NULL;
        }
      g_object_unref (picture);
      picture = smaller;
    }
  return NULL;
}

GBytes *
wb_exchange_photo_convert (GBytes       *input,
                           const char   *name,
                           GCancellable *cancellable,
                           GError      **error)
{
  GdkPixbuf *pixbuf;

  g_return_val_if_fail (input != NULL && name != NULL, NULL);

  pixbuf = decode (input, name, WB_EXCHANGE_PHOTO_EDGE_PX, 0, cancellable, error);
  return pixbuf != NULL ? fit (pixbuf, name, cancellable, error) : NULL;
}

WbExchangePixels *
wb_exchange_photo_decode (GBytes       *input,
                          const char   *name,
                          int           edge_px,
                          GCancellable *cancellable,
                          GError      **error)
{
  g_autoptr (GdkPixbuf) pixbuf = NULL;
  WbExchangePixels *self;

  g_return_val_if_fail (input != NULL && name != NULL && edge_px > 0, NULL);

  pixbuf = decode (input, name, edge_px, WB_EXCHANGE_PHOTO_EDGE_PX, cancellable, error);
  if (pixbuf == NULL)
    return NULL;
  self = g_new0 (WbExchangePixels, 1);
  self->width = gdk_pixbuf_get_width (pixbuf);
  self->height = gdk_pixbuf_get_height (pixbuf);
  self->stride = gdk_pixbuf_get_rowstride (pixbuf);
  self->rgb = gdk_pixbuf_read_pixel_bytes (pixbuf);
  return self;
}
