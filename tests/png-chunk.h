/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>
#include <string.h>

/* The check sum of a chunk's type and data (ISO 15948, annex D: CRC-32 of ITU-T V.42). */
static inline guint32
png_check_sum (const guint8 *data,
               gsize         size)
{
  guint32 sum = 0xffffffff;

  for (gsize i = 0; i < size; i++)
    {
      sum ^= data[i];
      for (int bit = 0; bit < 8; bit++)
        sum = sum & 1 ? 0xedb88320 ^ sum >> 1 : sum >> 1;
    }
  return ~sum;
}

/* The PNG with one more chunk right behind its header's (ISO 15948, 5.3 and 5.6), which is 25 bytes behind the signature. */
static inline GBytes *
png_with_chunk (GBytes       *png,
                const char   *type,
                const guint8 *data,
                guint         size)
{
  GByteArray *array = g_byte_array_new ();
  const guint8 *whole = g_bytes_get_data (png, NULL);
  guint32 word = GUINT32_TO_BE (size);
  gsize at = 33 + 4;

  g_byte_array_append (array, whole, 33);
  g_byte_array_append (array, (const guint8 *) &word, 4);
  g_byte_array_append (array, (const guint8 *) type, 4);
  g_byte_array_append (array, data, size);
  word = GUINT32_TO_BE (png_check_sum (array->data + at, 4 + size));
  g_byte_array_append (array, (const guint8 *) &word, 4);
  g_byte_array_append (array, whole + 33, (guint) (g_bytes_get_size (png) - 33));
  return g_byte_array_free_to_bytes (array);
}
