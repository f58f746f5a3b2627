/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "power-vfs.h"
#include "store-notebook.h"
#include "wb-store-check.h"
#include "wb-store-private.h"
#include "wb-store-records.h"

#include <glib/gstdio.h>

/*
 * The power goes while an evening's readings are saved, at a write that chance chooses: what wb_store_commit() has called
 * saved is there when the light is on again, at most the one in flight is or is not, and the record is whole.
 */

/* Seed of the first cut; the n-th has this one and n. WICKBENCH_POWER_CUTS sets how many (under sanitizers, fewer). */
#define FIRST_SEED 20261125
#define CUTS 1000
/* A new notebook after so many cuts, which else would grow and make the check slow. */
#define CUTS_AN_EVENING 25
/* Events in which the cut falls: some five readings' worth. */
#define EVENTS 220

typedef struct
{
  char    *path;
  gint64   burn;
  GArray  *told;       /* double: pool of each reading, by its minute, as acknowledged */
  guint    saves;      /* acknowledged, amendments too */
  gboolean in_flight;  /* a reading or amendment was begun and not acknowledged */
  guint    at;         /* its minute */
  double   pool;
  const char *synchronous; /* NULL: as the store sets it */
} Evening;

static guint
number_of_cuts (void)
{
  const char *told = g_getenv ("WICKBENCH_POWER_CUTS");

  return told != NULL ? (guint) g_ascii_strtoull (told, NULL, 10) : CUTS;
}

/* ---- An evening ---- */

static void
evening_begin (Evening *self)
{
  WbStore *store = test_notebook (self->path);
  TestRecords records = test_fill (store);
  WbStoreChange *change = test_begin (store, "Light another");
  WbBurn *burn = wb_record_new (&wb_burn_type);

  burn->sample = records.sample;
  burn->number = 2;
  burn->kind = WB_BURN_STANDARD;
  burn->lit_at = TEST_NOW;
  self->burn = test_put (change, burn);
  test_commit (change);
  wb_store_close (store);
  self->told = g_array_new (FALSE, FALSE, sizeof (double));
  self->in_flight = FALSE;
  power_vfs_reset ();
}

static void
evening_end (Evening *self)
{
  g_autofree char *journal = g_strconcat (self->path, "-journal", NULL);

  g_unlink (self->path);
  g_unlink (journal);
  g_array_unref (self->told);
}

static WbStore *
evening_open (Evening *self,
              GError **error)
{
  WbStore *store = wb_store_open (self->path, WB_STORE_WRITE, error);

  if (store != NULL && self->synchronous != NULL)
    {
      g_autofree char *pragma = g_strconcat ("PRAGMA synchronous = ", self->synchronous, NULL);

      wb_store_exec (store, pragma, NULL);
    }
  return store;
}

static gpointer
make_reading (Evening *self)
{
  WbReading *reading = test_reading (self->burn, self->at, self->pool);

  reading->values[WB_COLUMN_FLAME_MM] = 21;
  reading->values[WB_COLUMN_VESSEL_C] = 44.5;
  reading->values[WB_COLUMN_SOOT] = 0;
  return reading;
}

/* Every fifth is an amendment of the one before: those are acknowledged too. */
static gpointer
make_next (Evening *self,
           WbStore *store,
           GError **error)
{
  g_autoptr (GPtrArray) readings = NULL;

  self->at = self->told->len;
  self->pool = 20 + 0.1 * self->at;
  if (self->saves % 5 != 4 || self->told->len == 0)
    return make_reading (self);
  readings = wb_store_list (store, &wb_reading_type, "burn", self->burn, error);
  if (readings == NULL)
    return NULL;
  self->at--;
  self->pool = g_array_index (self->told, double, self->at) + 0.01;
  g_assert_cmpuint (readings->len, ==, self->told->len);

  WbReading *amended = wb_record_copy (g_ptr_array_index (readings, self->at));

  amended->values[WB_COLUMN_POOL_MM] = self->pool;
  return amended;
}

static void
acknowledge (Evening *self)
{
  if (self->at == self->told->len)
    g_array_append_val (self->told, self->pool);
  else
    g_array_index (self->told, double, self->at) = self->pool;
  self->saves++;
  self->in_flight = FALSE;
}

/* One save, as the bench does it. FALSE: it was not acknowledged. */
static gboolean
evening_save (Evening *self,
              WbStore *store,
              GError **error)
{
  WbStoreChange *change = wb_store_begin (store, WB_ENTRY_EDIT, "reading", "Ada", "Log a reading", TEST_NOW, error);
  g_autoptr (WbRecord) reading = NULL;

  if (change == NULL)
    return FALSE;
  reading = make_next (self, store, error);
  self->in_flight = reading != NULL;
  if (reading == NULL || !wb_store_change_put (change, reading, error))
    {
      wb_store_rollback (change);
      return FALSE;
    }
  if (!wb_store_commit (change, NULL, error))
    return FALSE;
  acknowledge (self);
  return TRUE;
}

/* ---- The morning after ---- */

static char *
find_lost (Evening *self,
           WbStore *store)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) readings = wb_store_list (store, &wb_reading_type, "burn", self->burn, &error);
  guint told = self->told->len;

  if (readings == NULL)
    return g_strdup (error->message);
  for (guint i = 0; i < told; i++)
    {
      const WbReading *reading = i < readings->len ? g_ptr_array_index (readings, i) : NULL;
      double pool = reading != NULL ? reading->values[WB_COLUMN_POOL_MM] : 0;

      if (reading != NULL && reading->elapsed_min == i && pool == g_array_index (self->told, double, i))
        continue;
      if (reading != NULL && reading->elapsed_min == i && self->in_flight && self->at == i && pool == self->pool)
        continue;
      return g_strdup_printf ("the reading of minute %u was acknowledged and is not there", i);
    }
  if (readings->len > told + (self->in_flight && self->at == told))
    return g_strdup_printf ("%u readings, and %u were saved", readings->len, told);
  /* What came through in flight counts from here on: it must not vanish later. */
  if (self->in_flight && self->at < readings->len
      && ((WbReading *) g_ptr_array_index (readings, self->at))->values[WB_COLUMN_POOL_MM] == self->pool)
    acknowledge (self);
  self->in_flight = FALSE;
  return NULL;
}

/* NULL: nothing is lost and the record is whole. Caller frees. */
static char *
find_damage (Evening *self)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbStore) store = wb_store_open (self->path, WB_STORE_WRITE, &error);
  g_autoptr (WbStoreCheck) check = NULL;
  char *lost;

  if (store == NULL)
    return g_strdup (error->message);
  lost = find_lost (self, store);
  if (lost != NULL)
    return lost;
  check = wb_store_check (self->path, NULL, NULL, NULL, &error);
  if (check == NULL)
    return g_strdup (error->message);
  return check->finding == WB_CHECK_GOOD ? NULL : g_strdup (check->text);
}

/* ---- Cuts ---- */

/* Saves until the power goes; where it has not gone by then, it goes between two readings. */
static void
save_until_cut (Evening *self)
{
  WbStore *store = evening_open (self, NULL);

  for (guint i = 0; store != NULL && i < 10 && !power_vfs_is_cut (); i++)
    {
      g_autoptr (GError) error = NULL;

      if (!evening_save (self, store, &error) && !power_vfs_is_cut ())
        g_error ("refused with the power on: %s", error->message);
    }
  wb_store_close (store);
}

static char *
cut_once (Evening *self,
          guint    n)
{
  g_autoptr (GRand) chance = g_rand_new_with_seed (FIRST_SEED + n);
  PowerCut cut = (PowerCut) g_rand_int_range (chance, 0, POWER_N_CUTS);

  power_vfs_cut_at ((guint) g_rand_int_range (chance, 1, EVENTS));
  save_until_cut (self);
  power_vfs_restore (cut, g_rand_int (chance));
  /* Often the light goes again, while what was half written is taken back. */
  while (g_rand_int_range (chance, 0, 2) == 0)
    {
      WbStore *store;

      power_vfs_cut_at ((guint) g_rand_int_range (chance, 1, 12));
      store = evening_open (self, NULL);
      wb_store_close (store);
      power_vfs_restore (cut, g_rand_int (chance));
    }
  return find_damage (self);
}

/* How many of the first cuts lost something or broke the record. `first` (may be NULL): what the first one did. */
static guint
count_losses (const char *synchronous,
              guint       cuts,
              char      **first)
{
  g_autofree char *path = test_path ("evening.wickbench");
  Evening evening = { .path = path, .synchronous = synchronous };
  guint losses = 0;

  for (guint n = 0; n < cuts; n++)
    {
      g_autofree char *damage = NULL;

      if (evening.told == NULL)
        evening_begin (&evening);
      damage = cut_once (&evening, n);
      if (damage != NULL && losses++ == 0 && first != NULL)
        *first = g_strdup_printf ("cut %u (seed %u): %s", n, FIRST_SEED + n, damage);
      if (damage != NULL || n % CUTS_AN_EVENING == CUTS_AN_EVENING - 1 || n + 1 == cuts)
        {
          evening_end (&evening);
          evening.told = NULL;
        }
    }
  g_test_message ("%u cuts, %u saves acknowledged, %u losses", cuts, evening.saves, losses);
  return losses;
}

static void
test_cuts (void)
{
  g_autofree char *first = NULL;

  count_losses (NULL, number_of_cuts (), &first);
  g_assert_cmpstr (first, ==, NULL);
}

/* The harness sees what is lost: the same cuts, with what the store does against them left out. */
static void
test_cuts_are_felt (void)
{
  guint cuts = MIN (number_of_cuts (), 60);

  g_assert_cmpuint (count_losses ("OFF", cuts, NULL), >, cuts / 6);
  /* The journal is synced, its end is not: the file stays whole, and acknowledged readings vanish. */
  g_assert_cmpuint (count_losses ("NORMAL", cuts, NULL), >, 0);
}

/* A notebook that is just being made is there whole once it was said to be; before, it is there whole or does not open. */
static void
test_cut_while_made (void)
{
  for (guint n = 0; n < MIN (number_of_cuts (), 100); n++)
    {
      g_autofree char *path = test_path ("made.wickbench");
      g_autoptr (GRand) chance = g_rand_new_with_seed (FIRST_SEED + n);
      g_autoptr (GError) error = NULL;
      WbStore *store;
      gboolean made;

      power_vfs_reset ();
      power_vfs_cut_at ((guint) g_rand_int_range (chance, 1, 90));
      store = wb_store_create (path, "Trials of a small workshop", "Ada", TEST_NOW, NULL);
      made = store != NULL;
      wb_store_close (store);
      power_vfs_restore ((PowerCut) g_rand_int_range (chance, 0, POWER_N_CUTS), g_rand_int (chance));
      store = wb_store_open (path, WB_STORE_WRITE, &error);
      if (made)
        g_assert_no_error (error);
      else if (store == NULL)
        g_assert_true (error->domain == WB_STORE_ERROR);
      if (store != NULL)
        {
          g_autoptr (WbStoreCheck) check = wb_store_check (path, NULL, NULL, NULL, NULL);

          g_assert_cmpint (check->finding, ==, WB_CHECK_GOOD);
          g_assert_cmpint (check->entries, ==, 1);
        }
      wb_store_close (store);
      g_unlink (path);
    }
}

/* ---- No room, bad sectors ---- */

/* The disk is full from some write on, while it is rolled back too; then there is room again, for the same connection. */
static void
test_full (void)
{
  g_autofree char *path = test_path ("full.wickbench");
  Evening evening = { .path = path };
  guint refused = 0;

  evening_begin (&evening);
  for (guint n = 0; n < MIN (number_of_cuts (), 200); n++)
    {
      g_autoptr (GRand) chance = g_rand_new_with_seed (FIRST_SEED + n);
      g_autoptr (GError) error = NULL;
      WbStore *store = evening_open (&evening, &error);
      g_autofree char *damage = NULL;

      g_assert_no_error (error);
      power_vfs_fill_at ((guint) g_rand_int_range (chance, 1, 60));
      while (evening_save (&evening, store, &error))
        ;
      g_assert_true (power_vfs_refused ());
      g_assert_error (error, WB_STORE_ERROR, WB_STORE_ERROR_FULL);
      g_clear_error (&error);
      power_vfs_fill_at (0);
      /* It was told as not saved, and is not: the same reading goes in once more, and once. */
      evening.in_flight = FALSE;
      g_assert_true (evening_save (&evening, store, &error));
      g_assert_no_error (error);
      wb_store_close (store);
      damage = find_damage (&evening);
      g_assert_cmpstr (damage, ==, NULL);
      refused++;
    }
  g_assert_cmpuint (refused, >, 0);
  evening_end (&evening);
}

/* Sectors that cannot be read are told, whoever reads; once they can, nothing is missing. */
static void
test_read_errors (void)
{
  g_autofree char *path = test_path ("unread.wickbench");
  Evening evening = { .path = path };
  guint refused = 0;

  evening_begin (&evening);
  for (guint n = 0; n < MIN (number_of_cuts (), 200); n++)
    {
      g_autoptr (GRand) chance = g_rand_new_with_seed (FIRST_SEED + n);
      g_autoptr (GError) error = NULL;
      g_autofree char *damage = NULL;
      WbStore *store;
      gboolean good = TRUE;

      power_vfs_fail_reads ((guint) g_rand_int_range (chance, 1, 40), (guint) g_rand_int_range (chance, 1, 4));
      store = evening_open (&evening, &error);
      for (guint i = 0; store != NULL && i < 3 && good; i++)
        good = evening_save (&evening, store, &error);
      if (power_vfs_refused () && error != NULL)
        {
          g_assert_true (error->domain == WB_STORE_ERROR);
          refused++;
        }
      else
        g_assert_no_error (error);
      power_vfs_fail_reads (0, 0);
      evening.in_flight = FALSE;
      wb_store_close (store);
      damage = find_damage (&evening);
      g_assert_cmpstr (damage, ==, NULL);
    }
  g_assert_cmpuint (refused, >, MIN (number_of_cuts (), 200) / 10);
  evening_end (&evening);
}

/* The medium turns read-only underneath an open notebook, before or within a save: told as that, whole, and it goes on after. */
static void
test_read_only_underneath (void)
{
  g_autofree char *path = test_path ("turned.wickbench");
  Evening evening = { .path = path };

  evening_begin (&evening);
  for (guint n = 0; n < MIN (number_of_cuts (), 50); n++)
    {
      g_autoptr (GError) error = NULL;
      g_autofree char *damage = NULL;
      WbStore *store = evening_open (&evening, &error);
      WbStoreChange *change = NULL;

      g_assert_no_error (error);
      for (guint i = 0; i < n % 3; i++)
        g_assert_true (evening_save (&evening, store, &error));
      if (n % 2 == 0)
        power_vfs_set_read_only (TRUE);
      change = wb_store_begin (store, WB_ENTRY_EDIT, "reading", "Ada", "Log a reading", TEST_NOW, &error);
      if (change != NULL)
        {
          g_autoptr (WbRecord) reading = test_reading (evening.burn, 2000, 20);
          gboolean put = wb_store_change_put (change, reading, &error);

          power_vfs_set_read_only (TRUE);
          if (put)
            g_assert_false (wb_store_commit (change, NULL, &error));
          else
            wb_store_rollback (change);
        }
      g_assert_true (power_vfs_refused ());
      g_assert_error (error, WB_STORE_ERROR, WB_STORE_ERROR_READ_ONLY);
      g_clear_error (&error);
      power_vfs_set_read_only (FALSE);
      g_assert_true (evening_save (&evening, store, &error));
      g_assert_no_error (error);
      wb_store_close (store);
      damage = find_damage (&evening);
      g_assert_cmpstr (damage, ==, NULL);
    }
  evening_end (&evening);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  power_vfs_install ();
  g_test_add_func ("/store/power/what-was-saved-outlives-a-power-cut", test_cuts);
  g_test_add_func ("/store/power/the-same-cuts-are-felt-without-syncs", test_cuts_are_felt);
  g_test_add_func ("/store/power/a-notebook-being-made-is-whole-or-none", test_cut_while_made);
  g_test_add_func ("/store/power/a-full-disk-leaves-nothing-half-written", test_full);
  g_test_add_func ("/store/power/what-cannot-be-read-is-told-and-not-lost", test_read_errors);
  g_test_add_func ("/store/power/a-medium-that-turns-read-only-is-told", test_read_only_underneath);
  return g_test_run ();
}
