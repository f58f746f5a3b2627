/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-exchange-photo.h"

#include "wb-clock.h"

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

WbInstant
wb_exchange_photo_read_time (GBytes *input)
{
  g_autoptr (ExifData) exif = NULL;
  g_autofree char *text = NULL, *iso = NULL, *offset = NULL, *whole = NULL;
  WbInstant taken = WB_INSTANT_NONE;
  gsize size;
  const guint8 *data;

  g_return_val_if_fail (input != NULL, WB_INSTANT_NONE);

  data = g_bytes_get_data (input, &size);
  exif = size > 0 && size <= WB_EXCHANGE_PHOTO_FILE_BYTES ? exif_data_new () : NULL;
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
