/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>
#include <string.h>

/*
 * A JPEG with an EXIF segment right after its start, as a camera writes it (EXIF 2.32, 4.5; TIFF 6.0, section 2): APP1,
 * "Exif", a TIFF header of Intel's order, an IFD with the pointer 0x8769 to a second one, which holds DateTimeOriginal
 * (0x9003, 20 bytes of text) and OffsetTimeOriginal (0x9011, 7 bytes). offset NULL: without the second.
 */
static inline GBytes *
exif_photo_new (GBytes     *jpeg,
                const char *taken,
                const char *offset)
{
  static const guint8 head[] = { 'E', 'x', 'i', 'f', 0, 0, 'I', 'I', '*', 0, 8, 0, 0, 0,
                                 1, 0, 0x69, 0x87, 4, 0, 1, 0, 0, 0, 26, 0, 0, 0, 0, 0, 0, 0 };
  guint8 n = offset != NULL ? 2 : 1;
  guint8 at = (guint8) (26 + 2 + 12 * n + 4);
  const guint8 first[] = { n, 0, 0x03, 0x90, 2, 0, 20, 0, 0, 0, at, 0, 0, 0 };
  const guint8 second[] = { 0x11, 0x90, 2, 0, 7, 0, 0, 0, (guint8) (at + 20), 0, 0, 0 };
  static const guint8 end[4];
  guint8 marker[] = { 0xff, 0xe1, 0, 0 };
  char text[20] = "", zone[7] = "";
  GByteArray *array = g_byte_array_new ();
  gsize size;
  const guint8 *data = g_bytes_get_data (jpeg, &size);

  g_strlcpy (text, taken, sizeof text);
  g_strlcpy (zone, offset != NULL ? offset : "", sizeof zone);
  marker[3] = (guint8) (2 + sizeof head + sizeof first + (offset != NULL ? sizeof second + sizeof zone : 0) + sizeof end + sizeof text);
  g_byte_array_append (array, data, 2);
  g_byte_array_append (array, marker, sizeof marker);
  g_byte_array_append (array, head, sizeof head);
  g_byte_array_append (array, first, sizeof first);
  if (offset != NULL)
    g_byte_array_append (array, second, sizeof second);
  g_byte_array_append (array, end, sizeof end);
  g_byte_array_append (array, (const guint8 *) text, sizeof text);
  if (offset != NULL)
    g_byte_array_append (array, (const guint8 *) zone, sizeof zone);
  g_byte_array_append (array, data + 2, (guint) (size - 2));
  return g_byte_array_free_to_bytes (array);
}
