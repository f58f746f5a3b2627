/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-exchange-photo.h"

#include "wb-clock.h"
#include "wb-exchange-photo-private.h"

#include <libexif/exif-data.h>
#include <string.h>

G_DEFINE_AUTOPTR_CLEANUP_FUNC (ExifData, exif_data_unref)

/* NULL: it is not there, or no text. Caller frees. */
static char *
dup_text (ExifData *exif,
          ExifTag   tag)
{
  const ExifEntry *entry = exif_content_get_entry (exif->ifd[EXIF_IFD_EXIF], tag);

  if (entry == NULL || entry->data == NULL || entry->format != EXIF_FORMAT_ASCII)
    return NULL;
  return g_strstrip (g_strndup ((const char *) entry->data, entry->size));
}

/* "2026:03:02 08:07:00" (EXIF 2.32, 4.6.5, DateTimeOriginal) as ISO 8601, without an offset. NULL: it is not of that form. */
static char *
dup_iso (const char *text)
{
  char *iso;

  if (text == NULL || strlen (text) != strlen ("2026:03:02 08:07:00") || text[4] != ':' || text[7] != ':' || text[10] != ' ')
    return NULL;
  iso = g_strdup (text);
  iso[4] = iso[7] = '-';
  iso[10] = 'T';
  return iso;
}

/* What the camera's own clock showed, in the zone that this computer is in: a camera that names none is set by hand. */
static WbInstant
read_local (const char *iso)
{
  g_autofree char *as_utc = g_strconcat (iso, "Z", NULL);
  WbInstant shown;
  int s;

  if (!wb_instant_parse (as_utc, &shown, NULL))
    return WB_INSTANT_NONE;
  s = (int) (shown.utc_us / G_USEC_PER_SEC - (gint64) wb_instant_get_day (shown) * 86400);
  return wb_clock_local (wb_clock_get (), wb_instant_get_day (shown), s / 3600, s / 60 % 60, s % 60);
}

/* What the library reads: a JPEG as it is, of a PNG the bytes of its chunk behind the six that begin a JPEG's segment. NULL: nothing. */
static GBytes *
find_exif (GBytes *input)
{
  static const guint8 head[] = { 'E', 'x', 'i', 'f', 0, 0 };
  GByteArray *array;
  gsize length;
  const guint8 *chunk = wb_exchange_photo_find_chunk (input, "eXIf", &length);

  if (chunk == NULL)
    return g_bytes_ref (input);
  array = g_byte_array_new ();
  g_byte_array_append (array, head, sizeof head);
  g_byte_array_append (array, chunk, (guint) length);
  return g_byte_array_free_to_bytes (array);
}

WbInstant
wb_exchange_photo_read_time (GBytes *input)
{
  g_autoptr (GBytes) bytes = NULL;
  g_autoptr (ExifData) exif = NULL;
  g_autofree char *text = NULL, *iso = NULL, *offset = NULL, *whole = NULL;
  WbInstant taken = WB_INSTANT_NONE;
  gsize size;
  const guint8 *data;

  g_return_val_if_fail (input != NULL, WB_INSTANT_NONE);

  if (g_bytes_get_size (input) > WB_EXCHANGE_PHOTO_FILE_BYTES)
    return WB_INSTANT_NONE;
  bytes = find_exif (input);
  data = g_bytes_get_data (bytes, &size);
  exif = size > 0 ? exif_data_new () : NULL;
  if (exif == NULL)
    return WB_INSTANT_NONE;
  /* The library would fill in what the specification asks for: a time that nobody wrote. */
  exif_data_unset_option (exif, EXIF_DATA_OPTION_FOLLOW_SPECIFICATION);
  exif_data_load_data (exif, data, (unsigned int) size);
  text = dup_text (exif, EXIF_TAG_DATE_TIME_ORIGINAL);
  iso = dup_iso (text);
  if (iso == NULL)
    return WB_INSTANT_NONE;
  offset = dup_text (exif, EXIF_TAG_OFFSET_TIME_ORIGINAL);
  whole = offset != NULL && *offset != '\0' ? g_strconcat (iso, offset, NULL) : NULL;
  if (whole != NULL && wb_instant_parse (whole, &taken, NULL))
    return taken;
  return read_local (iso);
}

WbInstant
wb_exchange_photo_read_changed (GBytes *input)
{
  g_autofree char *iso = NULL;
  WbInstant changed;
  const guint8 *chunk;
  gsize length;

  g_return_val_if_fail (input != NULL, WB_INSTANT_NONE);

  chunk = wb_exchange_photo_find_chunk (input, "tIME", &length);
  if (chunk == NULL || length != 7)
    return WB_INSTANT_NONE;
  iso = g_strdup_printf ("%04u-%02u-%02uT%02u:%02u:%02uZ", (guint) chunk[0] << 8 | chunk[1], chunk[2], chunk[3], chunk[4], chunk[5], chunk[6]);
  return wb_instant_parse (iso, &changed, NULL) ? wb_clock_at (wb_clock_get (), changed.utc_us) : WB_INSTANT_NONE;
}

WbInstant
wb_exchange_photo_read_written (GFile        *file,
                                GCancellable *cancellable)
{
  g_autoptr (GFileInfo) info = NULL;

  g_return_val_if_fail (G_IS_FILE (file), WB_INSTANT_NONE);

  info = g_file_query_info (file, G_FILE_ATTRIBUTE_TIME_MODIFIED, G_FILE_QUERY_INFO_NONE, cancellable, NULL);
  if (info == NULL || !g_file_info_has_attribute (info, G_FILE_ATTRIBUTE_TIME_MODIFIED))
    return WB_INSTANT_NONE;
  return wb_clock_at (wb_clock_get (), (gint64) g_file_info_get_attribute_uint64 (info, G_FILE_ATTRIBUTE_TIME_MODIFIED) * G_USEC_PER_SEC);
}
