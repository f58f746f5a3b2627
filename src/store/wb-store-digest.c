/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-store-digest-private.h"

#include <string.h>

/*
 * A row is put together in a buffer and hashed when it is whole. GLib's
 * SHA-256 takes about 0.4 s for the rows of a million readings, a few per
 * cent of writing them: not enough to ask for another library.
 */
struct _WbStoreDigest
{
  GChecksum  *checksum;
  GByteArray *row;
};

WbStoreDigest *
wb_store_digest_new (const guint8 *previous)
{
  WbStoreDigest *self = g_new0 (WbStoreDigest, 1);

  self->checksum = g_checksum_new (G_CHECKSUM_SHA256);
  self->row = g_byte_array_sized_new (1024);
  g_checksum_update (self->checksum, previous, WB_STORE_HASH_SIZE);
  return self;
}

void
wb_store_digest_free (WbStoreDigest *self)
{
  if (self == NULL)
    return;
  g_checksum_free (self->checksum);
  g_byte_array_unref (self->row);
  g_free (self);
}

static void
add_name (WbStoreDigest *self,
          const char    *name)
{
  g_byte_array_append (self->row, (const guint8 *) name, strlen (name) + 1);
}

static void
add_big_endian (WbStoreDigest *self,
                char           letter,
                guint64        value)
{
  guint8 bytes[9];
  guint64 big = GUINT64_TO_BE (value);

  bytes[0] = (guint8) letter;
  memcpy (bytes + 1, &big, 8);
  g_byte_array_append (self->row, bytes, 9);
}

static void
add_bytes (WbStoreDigest *self,
           char           letter,
           gconstpointer  bytes,
           gsize          length)
{
  guint8 head[5];
  guint32 big = GUINT32_TO_BE ((guint32) length);

  head[0] = (guint8) letter;
  memcpy (head + 1, &big, 4);
  g_byte_array_append (self->row, head, 5);
  if (length > 0)
    g_byte_array_append (self->row, bytes, length);
}

void
wb_store_digest_begin (WbStoreDigest *self,
                       const char    *table)
{
  wb_store_digest_drop (self);
  add_name (self, table != NULL ? "row" : "entry");
  if (table != NULL)
    add_name (self, table);
}

void
wb_store_digest_integer (WbStoreDigest *self,
                         const char    *column,
                         gint64         value)
{
  add_name (self, column);
  add_big_endian (self, 'i', (guint64) value);
}

void
wb_store_digest_real (WbStoreDigest *self,
                      const char    *column,
                      double         value)
{
  double plain = value == 0 ? 0 : value; /* SQLite keeps no -0 */
  guint64 bits;

  memcpy (&bits, &plain, sizeof bits);
  add_name (self, column);
  add_big_endian (self, 'r', bits);
}

void
wb_store_digest_text (WbStoreDigest *self,
                      const char    *column,
                      const char    *text)
{
  if (text != NULL)
    wb_store_digest_text_of_length (self, column, text, strlen (text));
}

void
wb_store_digest_text_of_length (WbStoreDigest *self,
                                const char    *column,
                                const char    *text,
                                gsize          length)
{
  add_name (self, column);
  add_bytes (self, 't', text, length);
}

void
wb_store_digest_blob (WbStoreDigest *self,
                      const char    *column,
                      gconstpointer  bytes,
                      gsize          length)
{
  add_name (self, column);
  add_bytes (self, 'b', bytes, length);
}

void
wb_store_digest_end (WbStoreDigest *self)
{
  const guint8 end = 1;

  g_byte_array_append (self->row, &end, 1);
  g_checksum_update (self->checksum, self->row->data, self->row->len);
  wb_store_digest_drop (self);
}

void
wb_store_digest_drop (WbStoreDigest *self)
{
  g_byte_array_set_size (self->row, 0);
}

void
wb_store_digest_finish (WbStoreDigest *self,
                        guint8         hash[WB_STORE_HASH_SIZE])
{
  gsize length = WB_STORE_HASH_SIZE;

  g_checksum_get_digest (self->checksum, hash, &length);
}

char *
wb_store_digest_dup_hex (gconstpointer bytes,
                         gsize         length)
{
  return g_compute_checksum_for_data (G_CHECKSUM_SHA256, bytes, length);
}

char *
wb_store_hash_dup_hex (const guint8 hash[WB_STORE_HASH_SIZE])
{
  GString *hex = g_string_sized_new (2 * WB_STORE_HASH_SIZE);

  for (guint i = 0; i < WB_STORE_HASH_SIZE; i++)
    g_string_append_printf (hex, "%02x", hash[i]);
  return g_string_free (hex, FALSE);
}
