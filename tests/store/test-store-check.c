/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "store-notebook.h"
#include "wb-store-check.h"
#include "wb-store-open-private.h"
#include "wb-store-records.h"

#include <gio/gio.h>
#include <glib/gstdio.h>
#include <string.h>
#include <unistd.h>

/* Entry 1 makes the notebook, 2 fills it, 3 to 5 log a reading each, 6 keeps a paper. */
static char *
five_entries (char **fingerprint)
{
  char *path = test_path ("record.wickbench");
  g_autoptr (WbStore) store = test_notebook (path);
  TestRecords records = test_fill (store);
  g_autoptr (GBytes) bytes = g_bytes_new ("a paper", 7);
  WbAttachment *attachment = wb_record_new (&wb_attachment_type);
  WbStoreChange *change;
  char sha256[65];

  for (guint i = 0; i < 3; i++)
    {
      change = test_begin (store, "Log a reading");
      test_put (change, test_reading (records.burn, 200 + i, 60 + i));
      test_commit (change);
    }
  change = test_begin (store, "Keep a paper");
  g_assert_true (wb_store_change_attach (change, bytes, sha256, NULL));
  attachment->owner = records.wax;
  attachment->name = g_strdup ("sheet.pdf");
  attachment->role = WB_ATTACHMENT_PAPER;
  attachment->sha256 = g_strdup (sha256);
  test_put (change, attachment);
  test_commit (change);
  if (fingerprint != NULL)
    *fingerprint = wb_store_get_fingerprint (store, NULL);
  return path;
}

static WbStoreCheck *
check (const char *path,
       const char *fingerprint)
{
  g_autoptr (GError) error = NULL;
  WbStoreCheck *result = wb_store_check (path, fingerprint, NULL, NULL, &error);

  g_assert_no_error (error);
  return result;
}

static void
test_good (void)
{
  g_autofree char *fingerprint = NULL, *path = five_entries (&fingerprint), *old = NULL;
  g_autoptr (WbStoreCheck) result = check (path, fingerprint);

  g_assert_cmpstr (result->text, ==, NULL);
  g_assert_cmpint (result->finding, ==, WB_CHECK_GOOD);
  g_assert_cmpint (result->entries, ==, 6);
  g_assert_cmpint (result->rows, ==, 1 + 12 + 3 + 1);
  g_assert_cmpstr (result->fingerprint, ==, fingerprint);
  g_assert_true (g_str_has_prefix (fingerprint, "6:"));
}

/* An older fingerprint still fits: the record only grew. */
static void
test_older_fingerprint (void)
{
  g_autofree char *fingerprint = NULL, *path = five_entries (&fingerprint);
  WbStore *store = wb_store_open (path, WB_STORE_WRITE, NULL);
  WbStoreChange *change = test_begin (store, "Go on");
  g_autoptr (WbStoreCheck) result = NULL;

  test_put (change, test_wax ("Meadow blend"));
  test_commit (change);
  wb_store_close (store);
  result = check (path, fingerprint);
  g_assert_cmpstr (result->text, ==, NULL);
  g_assert_cmpint (result->entries, ==, 7);
}

/* What someone does to the file behind the program's back, and what the check must say of it. */
typedef struct
{
  const char    *name;
  const char    *sql;
  WbStoreFinding finding;
  gint64         entry;
  const char    *words;
} Tampering;

static const Tampering tamperings[] = {
  { "a changed value", "UPDATE reading SET pool_mm = 61.5 WHERE entry = 4", WB_CHECK_ROW_CHANGED, 4, "entry 4" },
  { "a changed text", "UPDATE wax SET name = 'Harrow blend B'", WB_CHECK_ROW_CHANGED, 2, "entry 2" },
  { "a value taken away", "UPDATE reading SET pool_mm = NULL WHERE entry = 3", WB_CHECK_ROW_CHANGED, 3, "entry 3" },
  { "a value that was not taken", "UPDATE reading SET soot = 0 WHERE entry = 3", WB_CHECK_ROW_CHANGED, 3, "entry 3" },
  { "a removed row", "DELETE FROM reading WHERE entry = 4", WB_CHECK_ROW_REMOVED, 4, "row 1 of 1" },
  { "a removed row among others", "DELETE FROM burn", WB_CHECK_ROW_REMOVED, 2, "removed" },
  { "an added row",
    "INSERT INTO wax (id, entry, seq, deleted, name, crystallises) VALUES (3, 4, 2, 0, 'x', 0)", WB_CHECK_ROW_ADDED, 4,
    "added" },
  { "a reordered row",
    "UPDATE reading SET seq = -seq WHERE entry = 2 AND id < 3; UPDATE reading SET seq = 11 + 10 + seq WHERE seq < 0",
    WB_CHECK_ROW_CHANGED, 2, "another order" },
  { "a row under another entry", "UPDATE reading SET entry = 3, seq = 2 WHERE entry = 5", WB_CHECK_ROW_ADDED, 3, "added" },
  { "swapped entries",
    "UPDATE reading SET entry = 99 WHERE entry = 3; UPDATE reading SET entry = 3 WHERE entry = 4; "
    "UPDATE reading SET entry = 4 WHERE entry = 99", WB_CHECK_ROW_CHANGED, 3, "entry 3" },
  { "another date of an entry", "UPDATE entry SET instant_us = instant_us - 86400000000 WHERE number = 5",
    WB_CHECK_ROW_CHANGED, 5, "entry 5" },
  { "another author of an entry", "UPDATE entry SET who = 'Bob' WHERE number = 3", WB_CHECK_ROW_CHANGED, 3, "entry 3" },
  { "a missing entry", "DELETE FROM entry WHERE number = 4", WB_CHECK_ENTRY_MISSING, 4, "Entry 4" },
  { "a cut tail",
    "DELETE FROM attachment; DELETE FROM reading WHERE entry = 5; DELETE FROM entry WHERE number > 4; "
    "DELETE FROM object WHERE entry > 4", WB_CHECK_CUT, 5, "cut off" },
  { "a cut tail whose rows are left", "DELETE FROM entry WHERE number = 6; UPDATE head SET entries = 5, hash = "
    "(SELECT hash FROM entry WHERE number = 5)", WB_CHECK_CUT, 6, "cut off" },
  { "another head", "UPDATE head SET hash = zeroblob (32)", WB_CHECK_HEAD, 6, "last hash" },
  { "no head", "DELETE FROM head", WB_CHECK_HEAD, 6, "last hash" },
  { "another paper", "UPDATE attachment_data SET bytes = CAST ('another' AS BLOB)", WB_CHECK_ATTACHMENT, 6, "“sheet.pdf” of entry 6" },
  { "a paper taken away", "PRAGMA foreign_keys = OFF; DELETE FROM attachment_data", WB_CHECK_ATTACHMENT, 6, "not there any more" },
  { "a lost identity", "PRAGMA foreign_keys = OFF; DELETE FROM object WHERE type = 'wax'", WB_CHECK_IDENTITY, 0, "identities" },
  { "another UUID", "UPDATE object SET uuid = zeroblob (16) WHERE type = 'burn'", WB_CHECK_IDENTITY, 0, "identities" },
  { "a foreign trigger", "CREATE TRIGGER spy AFTER INSERT ON reading BEGIN DELETE FROM reading; END", WB_CHECK_SCHEMA, 0,
    "trigger spy" },
  { "a foreign column", "ALTER TABLE wax ADD COLUMN spy TEXT", WB_CHECK_SCHEMA, 0, "table wax" },
};

static void
test_tamperings (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (tamperings); i++)
    {
      const Tampering *tampering = &tamperings[i];
      g_autofree char *path = five_entries (NULL);
      g_autoptr (WbStoreCheck) result = NULL;

      test_tamper (path, tampering->sql);
      result = check (path, NULL);
      g_test_message ("%s: %s", tampering->name, result->text);
      g_assert_cmpint (result->finding, ==, tampering->finding);
      g_assert_cmpint (result->entry, ==, tampering->entry);
      g_assert_nonnull (strstr (result->text, tampering->words));
      g_assert_cmpstr (result->fingerprint, ==, NULL);
    }
}

/* A whole tail cut off, the notebook's own row with it: only an anchor elsewhere knows. */
static void
test_cut_with_head (void)
{
  g_autofree char *fingerprint = NULL, *path = five_entries (&fingerprint);
  g_autoptr (WbStoreCheck) without = NULL, with = NULL;

  test_tamper (path, "PRAGMA foreign_keys = OFF; DELETE FROM attachment; DELETE FROM attachment_data; "
                     "DELETE FROM object WHERE entry = 6; DELETE FROM derived_type WHERE entry = 6; "
                     "DELETE FROM entry WHERE number = 6; UPDATE head SET entries = 5, "
                     "hash = (SELECT hash FROM entry WHERE number = 5)");
  without = check (path, NULL);
  g_assert_cmpint (without->finding, ==, WB_CHECK_GOOD);
  with = check (path, fingerprint);
  g_assert_cmpint (with->finding, ==, WB_CHECK_CUT);
  g_assert_cmpint (with->entry, ==, 6);
}

/* A record that is sound in itself, but not the one the fingerprint was taken of. */
static void
test_other_record (void)
{
  g_autofree char *fingerprint = NULL, *other = five_entries (&fingerprint), *path = five_entries (NULL);
  g_autoptr (WbStoreCheck) result = check (path, fingerprint);

  g_assert_cmpint (result->finding, ==, WB_CHECK_FINGERPRINT);
  g_assert_cmpint (result->entry, ==, 6);
}

static void
test_not_a_fingerprint (void)
{
  static const char *const texts[] = { "", "6", "6:", "6:abc", "x:00", "0:0000000000000000000000000000000000000000000000000000000000000000" };
  g_autofree char *path = five_entries (NULL);

  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    {
      g_autoptr (GError) error = NULL;

      g_assert_null (wb_store_check (path, texts[i], NULL, NULL, &error));
      g_assert_error (error, WB_STORE_ERROR, WB_STORE_ERROR_FAILED);
    }
}

static void
test_nothing_to_check (void)
{
  g_autofree char *text = test_path ("letter.txt"), *absent = test_path ("absent");
  g_autoptr (GError) error = NULL;

  g_assert_true (g_file_set_contents (text, "Dear", -1, NULL));
  g_assert_null (wb_store_check (text, NULL, NULL, NULL, &error));
  g_assert_error (error, WB_STORE_ERROR, WB_STORE_ERROR_NOT_A_NOTEBOOK);
  g_clear_error (&error);
  g_assert_null (wb_store_check (absent, NULL, NULL, NULL, &error));
  g_assert_error (error, WB_STORE_ERROR, WB_STORE_ERROR_MISSING);
}

/* Rubbish over a page in the middle, and a file whose end is gone. */
static void
test_damage (void)
{
  g_autofree char *path = five_entries (NULL), *cut = five_entries (NULL), *bytes = NULL;
  g_autoptr (WbStoreCheck) first = NULL, second = NULL;
  gint64 page = test_query (path, "SELECT rootpage FROM sqlite_schema WHERE name = 'reading'");
  gsize length;

  g_assert_true (g_file_get_contents (path, &bytes, &length, NULL));
  memset (bytes + (page - 1) * 4096, 0x5a, 4096);
  g_assert_true (g_file_set_contents (path, bytes, (gssize) length, NULL));
  first = check (path, NULL);
  g_assert_cmpint (first->finding, ==, WB_CHECK_STRUCTURE);
  g_assert_cmpint (truncate (cut, 8192), ==, 0);
  second = check (cut, NULL);
  g_assert_cmpint (second->finding, ==, WB_CHECK_STRUCTURE);
}

static gboolean
on_progress_cb (double   done,
                gpointer data)
{
  int *left = data;

  g_assert_cmpfloat (done, >=, 0);
  g_assert_cmpfloat (done, <=, 1);
  return --*left > 0;
}

static void
test_cancel (void)
{
  g_autofree char *path = five_entries (NULL);
  WbStore *store = wb_store_open (path, WB_STORE_WRITE, NULL);
  WbStoreChange *change = test_begin (store, "Log many");
  gint64 burn = test_query (path, "SELECT id FROM burn");
  g_autoptr (GError) error = NULL;
  int left = 2;

  for (guint i = 0; i < 9000; i++)
    test_put (change, test_reading (burn, i / 10.0, 50));
  test_commit (change);
  wb_store_close (store);
  g_assert_null (wb_store_check (path, NULL, on_progress_cb, &left, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  g_clear_error (&error);
  left = G_MAXINT;
  g_autoptr (WbStoreCheck) result = wb_store_check (path, NULL, on_progress_cb, &left, &error);
  g_assert_no_error (error);
  g_assert_cmpint (result->finding, ==, WB_CHECK_GOOD);
  g_assert_cmpint (left, <, G_MAXINT);
}

/* A notebook that is long to read through. */
static char *
large (gint64 *burn)
{
  char *path = test_path ("large.wickbench");
  g_autoptr (WbStore) store = test_notebook (path);
  TestRecords records = test_fill (store);
  gsize length = 2 * WB_STORE_SHORT_READ;
  g_autoptr (GBytes) bytes = g_bytes_new_take (g_strnfill (length, 'x'), length);
  WbAttachment *attachment = wb_record_new (&wb_attachment_type);
  WbStoreChange *change = test_begin (store, "Keep a film");
  char sha256[65];

  g_assert_true (wb_store_change_attach (change, bytes, sha256, NULL));
  attachment->owner = records.wax;
  attachment->name = g_strdup ("flame.mp4");
  attachment->role = WB_ATTACHMENT_PAPER;
  attachment->sha256 = g_strdup (sha256);
  test_put (change, attachment);
  test_commit (change);
  *burn = records.burn;
  return path;
}

/* Somebody saves each time that the check asks whether to go on. */
typedef struct
{
  WbStore *store;
  gint64   burn;
  int      saved;
} Saver;

static gboolean
on_save_meanwhile_cb (double   done,
                      gpointer data)
{
  Saver *saver = data;

  if (saver->saved < 3)
    {
      WbStoreChange *change = test_begin (saver->store, "Log a reading");

      test_put (change, test_reading (saver->burn, 500 + saver->saved, 50));
      test_commit (change);
      saver->saved++;
    }
  return TRUE;
}

/* A save while a long check runs does not wait for it, and the check is of the record as it was when it began. */
static void
test_save_meanwhile (void)
{
  Saver saver = { 0 };
  g_autofree char *path = large (&saver.burn);
  g_autoptr (GError) error = NULL;
  g_autoptr (WbStoreCheck) result = NULL;

  saver.store = wb_store_open (path, WB_STORE_WRITE, &error);
  g_assert_no_error (error);
  wb_store_set_patience (saver.store, 0);
  result = wb_store_check (path, NULL, on_save_meanwhile_cb, &saver, &error);
  g_assert_no_error (error);
  g_assert_cmpint (saver.saved, ==, 3);
  g_assert_cmpstr (result->text, ==, NULL);
  g_assert_cmpint (result->entries, >=, 3);
  g_assert_cmpint (wb_store_get_last_entry (saver.store), ==, 6);
  wb_store_close (saver.store);
}

/* Of several kept files that were altered the one of the earliest entry is named, whatever their hashes. */
static void
test_first_file (void)
{
  g_autofree char *path = five_entries (NULL);
  g_autoptr (GError) error = NULL;
  WbStore *store = wb_store_open (path, WB_STORE_WRITE, &error);
  gint64 wax = test_query (path, "SELECT min (id) FROM wax");
  g_autoptr (WbStoreCheck) result = NULL;

  g_assert_no_error (error);
  for (guint i = 0; i < 8; i++)
    {
      g_autofree char *text = g_strdup_printf ("paper %u", i);
      g_autoptr (GBytes) bytes = g_bytes_new (text, strlen (text));
      WbStoreChange *change = test_begin (store, "Keep another paper");
      WbAttachment *attachment = wb_record_new (&wb_attachment_type);
      char sha256[65];

      g_assert_true (wb_store_change_attach (change, bytes, sha256, NULL));
      attachment->owner = wax;
      attachment->name = g_strdup (text);
      attachment->role = WB_ATTACHMENT_PAPER;
      attachment->sha256 = g_strdup (sha256);
      test_put (change, attachment);
      test_commit (change);
    }
  wb_store_close (store);
  test_tamper (path, "UPDATE attachment_data SET bytes = CAST ('x' AS BLOB) WHERE bytes NOT IN (CAST ('a paper' AS BLOB), CAST ('paper 0' AS BLOB))");
  result = check (path, NULL);
  g_assert_cmpint (result->finding, ==, WB_CHECK_ATTACHMENT);
  g_assert_cmpint (result->entry, ==, 8);
  g_assert_nonnull (strstr (result->text, "“paper 1” of entry 8"));
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/store/check/an-untouched-record-is-good", test_good);
  g_test_add_func ("/store/check/an-older-fingerprint-still-fits", test_older_fingerprint);
  g_test_add_func ("/store/check/each-tampering-is-named", test_tamperings);
  g_test_add_func ("/store/check/the-first-altered-file-is-named", test_first_file);
  g_test_add_func ("/store/check/a-cut-that-took-the-head-along-needs-a-fingerprint", test_cut_with_head);
  g_test_add_func ("/store/check/another-record-does-not-fit-the-fingerprint", test_other_record);
  g_test_add_func ("/store/check/what-is-no-fingerprint-is-refused", test_not_a_fingerprint);
  g_test_add_func ("/store/check/what-is-no-notebook-is-not-checked", test_nothing_to_check);
  g_test_add_func ("/store/check/damage-is-found", test_damage);
  g_test_add_func ("/store/check/can-be-cancelled", test_cancel);
  g_test_add_func ("/store/check/a-save-does-not-wait-for-a-long-check", test_save_meanwhile);
  return g_test_run ();
}
