/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-uuid.h"

#include "test-base.h"

#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

/* RFC 4122 appendix C, the name space of domain names. */
#define DNS_SPACE "6ba7b810-9dad-11d1-80b4-00c04fd430c8"

static WbUuid
read_uuid (const char *text)
{
  WbUuid uuid;

  g_assert_true (wb_uuid_parse (text, &uuid));
  return uuid;
}

static void
test_named (void)
{
  /*
   * The first is RFC 9562 appendix A.4, the second the example of the uuid module in Python's documentation; both from
   * memory, and both equal to what Python 3.11's uuid.uuid5() computes.
   */
  static const struct
  {
    const char *name, *uuid;
  } cases[] = {
    { "www.example.com", "2ed6657d-e927-568b-95e1-2665a8aea6a2" },
    { "python.org", "886313e1-3b8a-5372-9b90-0c9aee199e5d" },
  };
  WbUuid space = read_uuid (DNS_SPACE);

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      WbUuid uuid = wb_uuid_new_named (&space, cases[i].name);
      g_autofree char *text = wb_uuid_format (&uuid);
      g_assert_cmpstr (text, ==, cases[i].uuid);
    }
}

/* RFC 4122 section 4.1: the version is in the high half of octet 6, the variant in the high bits of octet 8. */
static void
test_random (void)
{
  g_autoptr (GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  guint8 all_or[16] = { 0 }, all_and[16];

  memset (all_and, 0xff, sizeof all_and);
  for (int i = 0; i < 20000; i++)
    {
      WbUuid uuid = wb_uuid_new ();
      g_assert_cmphex (uuid.bytes[6] >> 4, ==, 4);
      g_assert_cmphex (uuid.bytes[8] >> 6, ==, 2);
      g_assert_true (g_hash_table_add (seen, wb_uuid_format (&uuid)));
      for (int j = 0; j < 16; j++)
        {
          all_or[j] |= uuid.bytes[j];
          all_and[j] &= uuid.bytes[j];
        }
    }
  /* Every free bit was seen both ways: by chance it fails once in 2^19993. */
  for (int j = 0; j < 16; j++)
    {
      guint8 fixed = j == 6 ? 0xf0 : j == 8 ? 0xc0 : 0;
      g_assert_cmphex (all_or[j] | fixed, ==, 0xff);
      g_assert_cmphex (all_and[j] & (guint8) ~fixed, ==, 0);
    }
}

/* Two identifiers made one after the other share no stretch of the random stock. */
static void
test_no_overlap (void)
{
  g_autoptr (GHashTable) heads = g_hash_table_new_full (g_bytes_hash, g_bytes_equal, (GDestroyNotify) g_bytes_unref, NULL);

  /* Octets 0 to 5 and 9 to 15 are all random: by chance five of them meet once in 10^5 runs. */
  for (int i = 0; i < 2000; i++)
    {
      WbUuid uuid = wb_uuid_new ();
      for (int at = 9; at <= 10; at++)
        {
          g_autoptr (GBytes) tail = g_bytes_new (uuid.bytes + at, 5);
          g_assert_false (g_hash_table_contains (heads, tail));
        }
      g_hash_table_add (heads, g_bytes_new (uuid.bytes + 1, 5));
    }
}

/* A child process has a copy of its parent's stock, and must not hand it out. */
static void
test_fork (void)
{
  int ends[2];
  WbUuid first = wb_uuid_new (), parent, child;

  g_assert_false (wb_uuid_is_nil (&first));
  g_assert_cmpint (pipe (ends), ==, 0);
  pid_t pid = fork ();
  g_assert_cmpint (pid, >=, 0);
  if (pid == 0)
    {
      WbUuid mine = wb_uuid_new ();
      _exit (write (ends[1], mine.bytes, sizeof mine.bytes) == sizeof mine.bytes ? 0 : 1);
    }
  parent = wb_uuid_new ();
  int status;
  g_assert_cmpint (waitpid (pid, &status, 0), ==, pid);
  g_assert_true (WIFEXITED (status) && WEXITSTATUS (status) == 0);
  g_assert_cmpint (read (ends[0], child.bytes, sizeof child.bytes), ==, sizeof child.bytes);
  g_assert_false (wb_uuid_equal (&parent, &child));
  close (ends[0]);
  close (ends[1]);
}

#define N_THREADS 4
#define N_EACH 5000

static gpointer
make_many (gpointer data)
{
  WbUuid *uuids = data;

  for (int i = 0; i < N_EACH; i++)
    uuids[i] = wb_uuid_new ();
  return NULL;
}

static void
test_threads (void)
{
  g_autofree WbUuid *uuids = g_new (WbUuid, N_THREADS * N_EACH);
  GThread *threads[N_THREADS];
  g_autoptr (GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);

  for (int i = 0; i < N_THREADS; i++)
    threads[i] = g_thread_new ("uuid", make_many, uuids + i * N_EACH);
  for (int i = 0; i < N_THREADS; i++)
    g_thread_join (threads[i]);
  for (int i = 0; i < N_THREADS * N_EACH; i++)
    g_assert_true (g_hash_table_add (seen, wb_uuid_format (&uuids[i])));
}

static void
test_text (void)
{
  static const char *refused[] = {
    "", "6ba7b810", "6ba7b8109dad11d180b400c04fd430c8", "{6ba7b810-9dad-11d1-80b4-00c04fd430c8}",
    "6ba7b810-9dad-11d1-80b4-00c04fd430c", "6ba7b810-9dad-11d1-80b4-00c04fd430c88", "6ba7b810-9dad-11d1-80b4-00c04fd430cg",
    "6ba7b810-9dad-11d1-80b4_00c04fd430c8", " 6ba7b810-9dad-11d1-80b4-00c04fd430c8",
  };
  WbUuid upper = read_uuid ("6BA7B810-9DAD-11D1-80B4-00C04FD430C8");
  WbUuid lower = read_uuid (DNS_SPACE);
  g_autofree char *text = wb_uuid_format (&upper);
  WbUuid nil = read_uuid ("00000000-0000-0000-0000-000000000000");

  g_assert_cmpstr (text, ==, DNS_SPACE);
  g_assert_true (wb_uuid_equal (&upper, &lower));
  g_assert_false (wb_uuid_equal (&upper, &nil));
  g_assert_true (wb_uuid_is_nil (&nil));
  g_assert_false (wb_uuid_is_nil (&upper));
  for (gsize i = 0; i < G_N_ELEMENTS (refused); i++)
    {
      g_test_message ("%s", refused[i]);
      g_assert_false (wb_uuid_parse (refused[i], &lower));
    }
}

void
test_uuid_add (void)
{
  g_test_add_func ("/base/uuid/a-named-one-equals-the-published-examples", test_named);
  g_test_add_func ("/base/uuid/a-random-one-has-version-and-variant-and-is-new", test_random);
  g_test_add_func ("/base/uuid/two-share-no-random-bytes", test_no_overlap);
  g_test_add_func ("/base/uuid/a-child-process-never-repeats-its-parent", test_fork);
  g_test_add_func ("/base/uuid/threads-never-share-one", test_threads);
  g_test_add_func ("/base/uuid/text-goes-both-ways-and-other-shapes-are-refused", test_text);
}
