/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-uuid.h"

#include <errno.h>
#include <pthread.h>
#include <string.h>
#include <sys/random.h>

#define POOL_SIZE 4096
#define SHA1_SIZE 20

/* Random bytes in stock; a child process must not use its parent's. */
static struct
{
  GMutex lock;
  guint8 bytes[POOL_SIZE];
  gsize left;
  gboolean watched;
} pool;

static void
on_fork_in_child_cb (void)
{
  pool.left = 0;
}

static void
fill_pool (void)
{
  gsize have = 0;

  while (have < POOL_SIZE)
    {
      gssize n = getrandom (pool.bytes + have, POOL_SIZE - have, 0);
      if (n < 0 && errno != EINTR)
        g_error ("The system gives no random bytes: %s", g_strerror (errno));
      have += MAX (n, 0);
    }
  if (!pool.watched)
    pool.watched = pthread_atfork (NULL, NULL, on_fork_in_child_cb) == 0;
  pool.left = POOL_SIZE;
}

static void
set_version (WbUuid *uuid, guint8 version)
{
  uuid->bytes[6] = (uuid->bytes[6] & 0x0f) | (guint8) (version << 4);
  uuid->bytes[8] = (uuid->bytes[8] & 0x3f) | 0x80;
}

WbUuid
wb_uuid_new (void)
{
  WbUuid uuid;

  g_mutex_lock (&pool.lock);
  if (pool.left < sizeof uuid.bytes)
    fill_pool ();
  pool.left -= sizeof uuid.bytes;
  memcpy (uuid.bytes, pool.bytes + pool.left, sizeof uuid.bytes);
  g_mutex_unlock (&pool.lock);

  set_version (&uuid, 4);
  return uuid;
}

WbUuid
wb_uuid_new_named (const WbUuid *space, const char *name)
{
  WbUuid uuid = { { 0 } };
  guint8 digest[SHA1_SIZE];
  gsize size = sizeof digest;

  g_return_val_if_fail (space != NULL && name != NULL, uuid);

  g_autoptr (GChecksum) sum = g_checksum_new (G_CHECKSUM_SHA1);
  g_checksum_update (sum, space->bytes, sizeof space->bytes);
  g_checksum_update (sum, (const guchar *) name, -1);
  g_checksum_get_digest (sum, digest, &size);
  memcpy (uuid.bytes, digest, sizeof uuid.bytes);
  set_version (&uuid, 5);
  return uuid;
}

gboolean
wb_uuid_parse (const char *text, WbUuid *uuid)
{
  g_return_val_if_fail (text != NULL && uuid != NULL, FALSE);

  if (!g_uuid_string_is_valid (text))
    return FALSE;
  for (int i = 0; i < 16; i++)
    {
      if (*text == '-')
        text++;
      uuid->bytes[i] = (guint8) (g_ascii_xdigit_value (text[0]) << 4 | g_ascii_xdigit_value (text[1]));
      text += 2;
    }
  return TRUE;
}

char *
wb_uuid_format (const WbUuid *uuid)
{
  g_return_val_if_fail (uuid != NULL, g_strdup (""));

  char *text = g_malloc (37);
  char *to = text;
  for (int i = 0; i < 16; i++)
    {
      if (i == 4 || i == 6 || i == 8 || i == 10)
        *to++ = '-';
      *to++ = "0123456789abcdef"[uuid->bytes[i] >> 4];
      *to++ = "0123456789abcdef"[uuid->bytes[i] & 15];
    }
  *to = '\0';
  return text;
}

gboolean
wb_uuid_equal (const WbUuid *a, const WbUuid *b)
{
  g_return_val_if_fail (a != NULL && b != NULL, FALSE);

  return memcmp (a->bytes, b->bytes, sizeof a->bytes) == 0;
}

gboolean
wb_uuid_is_nil (const WbUuid *uuid)
{
  static const WbUuid nil;

  return wb_uuid_equal (uuid, &nil);
}
