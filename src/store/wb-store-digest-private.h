/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-instant.h"

G_BEGIN_DECLS

/*
 * What an entry's hash is taken over. SHA-256 of, in this order:
 *
 *   the 32 bytes of the previous entry's hash; 32 zero bytes before the first;
 *   each row version that the entry wrote, in the order of seq:
 *     "row" 0x00, the table's name 0x00, then its values, then 0x01;
 *   the entry itself:
 *     "entry" 0x00, then its values, then 0x01.
 *
 * A value is its column's name 0x00, a letter and the bytes: 'i' and the
 * integer, 8 bytes, two's complement, big-endian; 'r' and the IEEE 754 double, 8
 * bytes, big-endian, never NaN and never -0; 't' and the UTF-8 text, 'b' and the blob, both
 * after their length as 4 bytes, big-endian. NULL stands for itself by
 * leaving the whole value out, so that a column added later changes no old hash.
 *
 * The values of a row are id, seq, previous, deleted and then the columns of
 * its record type in the order of the schema; of extra_column id, seq, name; of
 * extra reading, seq, previous, column_id, value. Those of the entry are number, instant_us,
 * offset_s, zone, kind, topic, who, why, undoes, rows.
 */

#define WB_STORE_HASH_SIZE 32

typedef struct _WbStoreDigest WbStoreDigest;

/* `previous` is WB_STORE_HASH_SIZE bytes. */
WbStoreDigest *wb_store_digest_new  (const guint8 *previous);
void           wb_store_digest_free (WbStoreDigest *self);

/* `table` NULL begins the entry itself. */
void           wb_store_digest_begin   (WbStoreDigest *self, const char *table);
void           wb_store_digest_integer (WbStoreDigest *self, const char *column, gint64 value);
void           wb_store_digest_real    (WbStoreDigest *self, const char *column, double value);
void           wb_store_digest_text    (WbStoreDigest *self, const char *column, const char *text); /* NULL: nothing */
void           wb_store_digest_text_of_length (WbStoreDigest *self, const char *column, const char *text, gsize length);
void           wb_store_digest_blob    (WbStoreDigest *self, const char *column, gconstpointer bytes, gsize length);
void           wb_store_digest_end     (WbStoreDigest *self);
/* Drops what was begun and not ended. */
void           wb_store_digest_drop    (WbStoreDigest *self);

/* Writes the hash; the digest is then spent. */
void           wb_store_digest_finish  (WbStoreDigest *self, guint8 hash[WB_STORE_HASH_SIZE]);

/* SHA-256 of bytes, in lower-case hex. Caller frees. */
char          *wb_store_digest_dup_hex (gconstpointer bytes, gsize length);
/* Lower-case hex of a hash. Caller frees. */
char          *wb_store_hash_dup_hex   (const guint8 hash[WB_STORE_HASH_SIZE]);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbStoreDigest, wb_store_digest_free)

G_END_DECLS
