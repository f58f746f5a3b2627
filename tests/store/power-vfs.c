/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "power-vfs.h"

#include <errno.h>
#include <glib/gstdio.h>
#include <sqlite3.h>
#include <string.h>

#define SECTOR 512

/* A write (bytes not NULL) or a truncation to `at`. */
typedef struct
{
  gint64  at;
  GBytes *bytes;
} Deed;

/* What a name leads to: its bytes on the disk, and what waits to come there, in order. */
typedef struct
{
  GByteArray *synced;
  GArray     *waiting; /* Deed */
} Disk;

typedef struct
{
  sqlite3_file  base;
  Disk         *disk;
  gboolean      new_name; /* its first sync syncs the folder too, as SQLite does for a journal */
  sqlite3_file *real;     /* allocated behind this struct */
} PowerFile;

static struct
{
  sqlite3_vfs  vfs;
  sqlite3_vfs *real;
  GHashTable  *now;       /* path to Disk: the names as programs see them */
  GHashTable  *synced;    /* path to Disk: the names as a cut leaves them at least */
  guint        events, cut_at;
  gboolean     cut;
  guint        writes, fill_at;
  guint        reads, fail_from, fail_n;
  gboolean     read_only;
  gboolean     refused;
  int          last_errno; /* of the disk's own refusals; 0: none, ask the real one */
} power;

static void
deed_clear (gpointer deed)
{
  g_clear_pointer (&((Deed *) deed)->bytes, g_bytes_unref);
}

static void
disk_clear (gpointer data)
{
  Disk *disk = data;

  g_byte_array_unref (disk->synced);
  g_array_unref (disk->waiting);
}

static Disk *
disk_new (void)
{
  Disk *disk = g_rc_box_new0 (Disk);

  disk->synced = g_byte_array_new ();
  disk->waiting = g_array_new (FALSE, FALSE, sizeof (Deed));
  g_array_set_clear_func (disk->waiting, deed_clear);
  return disk;
}

static void
disk_unref (gpointer disk)
{
  g_rc_box_release_full (disk, disk_clear);
}

static void
name (GHashTable *names,
      const char *path,
      Disk       *disk)
{
  g_hash_table_insert (names, g_strdup (path), g_rc_box_acquire (disk));
}

/* ---- What comes to the disk ---- */

static void
set_size (GByteArray *bytes,
          gint64      size)
{
  guint before = bytes->len;

  g_byte_array_set_size (bytes, (guint) size);
  if (bytes->len > before)
    memset (bytes->data + before, 0, bytes->len - before);
}

static void
put_bytes (GByteArray   *bytes,
           gint64        at,
           const guint8 *data,
           gsize         length)
{
  if (at + (gint64) length > bytes->len)
    set_size (bytes, at + (gint64) length);
  memcpy (bytes->data + at, data, length);
}

static void
do_deed (Disk       *disk,
         const Deed *deed)
{
  gsize length;

  if (deed->bytes == NULL)
    set_size (disk->synced, deed->at);
  else
    {
      const guint8 *data = g_bytes_get_data (deed->bytes, &length);

      put_bytes (disk->synced, deed->at, data, length);
    }
}

/* Sector by sector, as chance will have it. */
static void
do_torn (Disk       *disk,
         const Deed *deed,
         GRand      *chance,
         double      kept)
{
  gsize length;
  const guint8 *data = g_bytes_get_data (deed->bytes, &length);

  for (gsize from = 0; from < length;)
    {
      gsize to = MIN (length, from + SECTOR - (gsize) (deed->at + (gint64) from) % SECTOR);

      if (g_rand_double (chance) < kept)
        put_bytes (disk->synced, deed->at + (gint64) from, data + from, to - from);
      from = to;
    }
}

static void
sync_disk (Disk *disk)
{
  for (guint i = 0; i < disk->waiting->len; i++)
    do_deed (disk, &g_array_index (disk->waiting, Deed, i));
  g_array_set_size (disk->waiting, 0);
}

static void
lose (Disk    *disk,
      PowerCut cut,
      GRand   *chance)
{
  double kept = g_rand_double (chance);

  for (guint i = 0; i < disk->waiting->len && cut == POWER_KEEPS_SOME; i++)
    {
      const Deed *deed = &g_array_index (disk->waiting, Deed, i);

      if (deed->bytes != NULL && g_rand_boolean (chance))
        do_torn (disk, deed, chance, kept);
      else if (g_rand_double (chance) < kept)
        do_deed (disk, deed);
    }
  if (cut == POWER_KEEPS_ALL)
    sync_disk (disk);
  g_array_set_size (disk->waiting, 0);
}

/* Names that the store took away without this VFS are gone; but what a program does once the power is off happens nowhere. */
static void
meet_real_names (void)
{
  GHashTableIter iter;
  gpointer path;

  if (power.cut)
    return;
  g_hash_table_iter_init (&iter, power.now);
  while (g_hash_table_iter_next (&iter, &path, NULL))
    if (!g_file_test (path, G_FILE_TEST_EXISTS))
      g_hash_table_iter_remove (&iter);
}

static void
sync_folder (void)
{
  GHashTableIter iter;
  gpointer path, disk;

  meet_real_names ();
  g_hash_table_remove_all (power.synced);
  g_hash_table_iter_init (&iter, power.now);
  while (g_hash_table_iter_next (&iter, &path, &disk))
    name (power.synced, path, disk);
}

/* ---- Trouble ---- */

/* TRUE: the power is gone, or goes now. */
static gboolean
count_event (void)
{
  if (power.cut)
    return TRUE;
  power.events++;
  meet_real_names ();
  power.cut = power.cut_at > 0 && power.events >= power.cut_at;
  return power.cut;
}

static gboolean
is_full (void)
{
  power.writes++;
  return power.fill_at > 0 && power.writes >= power.fill_at;
}

/* As unixWrite() and its like tell it. */
static int
refuse_writing (int code)
{
  power.refused = TRUE;
  power.last_errno = EROFS;
  return code;
}

static int
power_get_last_error (sqlite3_vfs *vfs,
                      int          size,
                      char        *buffer)
{
  return power.last_errno != 0 ? power.last_errno : power.real->xGetLastError (power.real, size, buffer);
}

/* ---- The methods of a file ---- */

#define REAL(file) (((PowerFile *) (file))->real)

static int
power_close (sqlite3_file *file)
{
  PowerFile *self = (PowerFile *) file;

  g_clear_pointer (&self->disk, disk_unref);
  return self->real->pMethods != NULL ? self->real->pMethods->xClose (self->real) : SQLITE_OK;
}

static int
power_read (sqlite3_file *file,
            void         *buffer,
            int           amount,
            sqlite3_int64 at)
{
  if (power.cut)
    return SQLITE_IOERR_READ;
  power.reads++;
  if (power.fail_from > 0 && power.reads >= power.fail_from && power.reads < power.fail_from + power.fail_n)
    {
      power.refused = TRUE;
      return SQLITE_IOERR_READ;
    }
  return REAL (file)->pMethods->xRead (REAL (file), buffer, amount, at);
}

static void
wait (PowerFile  *self,
      gint64      at,
      const void *data,
      int         amount)
{
  Deed deed = { at, data != NULL ? g_bytes_new (data, (gsize) amount) : NULL };

  g_array_append_val (self->disk->waiting, deed);
}

static int
power_write (sqlite3_file *file,
             const void   *data,
             int           amount,
             sqlite3_int64 at)
{
  PowerFile *self = (PowerFile *) file;
  gboolean was_cut = power.cut, full = FALSE;

  if (power.read_only)
    return refuse_writing (SQLITE_IOERR_WRITE);

  /* The write in which the power goes may have come to the disk in part. */
  if (count_event ())
    {
      if (!was_cut)
        wait (self, at, data, amount);
      return SQLITE_IOERR_WRITE;
    }
  full = is_full ();
  if (full)
    {
      power.refused = TRUE;
      amount = power.writes == power.fill_at ? amount / 2 : 0;
    }
  if (amount > 0)
    {
      wait (self, at, data, amount);
      if (self->real->pMethods->xWrite (self->real, data, amount, at) != SQLITE_OK)
        return SQLITE_IOERR_WRITE;
    }
  return full ? SQLITE_FULL : SQLITE_OK;
}

static int
power_truncate (sqlite3_file *file,
                sqlite3_int64 size)
{
  PowerFile *self = (PowerFile *) file;
  gboolean was_cut = power.cut;

  if (power.read_only)
    return refuse_writing (SQLITE_IOERR_TRUNCATE);
  if (count_event ())
    {
      if (!was_cut)
        wait (self, size, NULL, 0);
      return SQLITE_IOERR_TRUNCATE;
    }
  wait (self, size, NULL, 0);
  return self->real->pMethods->xTruncate (self->real, size);
}

static int
power_sync (sqlite3_file *file,
            int           flags)
{
  PowerFile *self = (PowerFile *) file;

  /* Not the real one: what it is to hold is held here, and 1,000 evenings need not wait for a disk. */
  if (count_event ())
    return SQLITE_IOERR_FSYNC;
  sync_disk (self->disk);
  if (self->new_name)
    sync_folder ();
  self->new_name = FALSE;
  return SQLITE_OK;
}

static int
power_file_size (sqlite3_file  *file,
                 sqlite3_int64 *size)
{
  return power.cut ? SQLITE_IOERR_FSTAT : REAL (file)->pMethods->xFileSize (REAL (file), size);
}

static int
power_lock (sqlite3_file *file,
            int           level)
{
  return power.cut ? SQLITE_IOERR_LOCK : REAL (file)->pMethods->xLock (REAL (file), level);
}

static int
power_unlock (sqlite3_file *file,
              int           level)
{
  return REAL (file)->pMethods->xUnlock (REAL (file), level);
}

static int
power_check_reserved (sqlite3_file *file,
                      int          *result)
{
  return power.cut ? SQLITE_IOERR_CHECKRESERVEDLOCK : REAL (file)->pMethods->xCheckReservedLock (REAL (file), result);
}

static int
power_file_control (sqlite3_file *file,
                    int           which,
                    void         *argument)
{
  /* It would write behind our back. */
  if (which == SQLITE_FCNTL_SIZE_HINT)
    return SQLITE_OK;
  if (which == SQLITE_FCNTL_LAST_ERRNO && power.last_errno != 0)
    {
      *(int *) argument = power.last_errno;
      return SQLITE_OK;
    }
  return REAL (file)->pMethods->xFileControl (REAL (file), which, argument);
}

static int
power_sector_size (sqlite3_file *file)
{
  return SECTOR;
}

static int
power_characteristics (sqlite3_file *file)
{
  return SQLITE_IOCAP_POWERSAFE_OVERWRITE;
}

/* Version 1: no shared memory, no mapping. */
static const sqlite3_io_methods power_methods = {
  1, power_close, power_read, power_write, power_truncate, power_sync, power_file_size, power_lock, power_unlock,
  power_check_reserved, power_file_control, power_sector_size, power_characteristics,
  NULL, NULL, NULL, NULL, NULL, NULL
};

/* ---- The methods of the disk ---- */

/* What was there before the first look counts as synced; but an empty file is one whose name was just claimed. */
static Disk *
find_disk (const char *path)
{
  Disk *disk = g_hash_table_lookup (power.now, path);
  g_autofree char *bytes = NULL;
  gsize length = 0;

  if (disk != NULL)
    return g_rc_box_acquire (disk);
  disk = disk_new ();
  if (g_file_get_contents (path, &bytes, &length, NULL) && length > 0)
    {
      g_byte_array_append (disk->synced, (const guint8 *) bytes, (guint) length);
      name (power.synced, path, disk);
    }
  name (power.now, path, disk);
  return disk;
}

static int
power_open (sqlite3_vfs  *vfs,
            const char   *path,
            sqlite3_file *file,
            int           flags,
            int          *out_flags)
{
  PowerFile *self = (PowerFile *) file;
  int code;

  self->base.pMethods = NULL;
  self->real = (sqlite3_file *) (self + 1);
  self->disk = NULL;
  if (power.cut)
    return SQLITE_CANTOPEN;
  /* What is there can still be opened for reading: SQLite tries that next. */
  if (power.read_only && (flags & SQLITE_OPEN_READWRITE) != 0 && path != NULL)
    {
      gboolean there = g_file_test (path, G_FILE_TEST_EXISTS);

      if (!there || (flags & SQLITE_OPEN_MAIN_DB) != 0)
        return refuse_writing (SQLITE_CANTOPEN);
      flags = (flags & ~(SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE)) | SQLITE_OPEN_READONLY;
    }
  meet_real_names ();
  self->new_name = (flags & SQLITE_OPEN_CREATE) != 0 && (flags & SQLITE_OPEN_MAIN_JOURNAL) != 0;
  code = power.real->xOpen (power.real, path, self->real, flags, out_flags);
  if (code != SQLITE_OK)
    return code;
  /* A temporary file needs no power. */
  self->disk = path != NULL ? find_disk (path) : disk_new ();
  self->base.pMethods = &power_methods;
  return SQLITE_OK;
}

static int
power_delete (sqlite3_vfs *vfs,
              const char  *path,
              int          sync)
{
  int code;

  if (power.read_only)
    return refuse_writing (SQLITE_IOERR_DELETE);
  if (count_event ())
    return SQLITE_IOERR_DELETE;
  code = power.real->xDelete (power.real, path, FALSE);
  meet_real_names ();
  if (code == SQLITE_OK && sync)
    sync_folder ();
  return code;
}

static int
power_access (sqlite3_vfs *vfs,
              const char  *path,
              int          flags,
              int         *result)
{
  return power.cut ? SQLITE_IOERR_ACCESS : power.real->xAccess (power.real, path, flags, result);
}

/* ---- Doors ---- */

void
power_vfs_install (void)
{
  g_assert_null (power.real);
  power.real = sqlite3_vfs_find (NULL);
  power.now = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, disk_unref);
  power.synced = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, disk_unref);
  power.vfs = *power.real;
  power.vfs.zName = "power";
  power.vfs.szOsFile = (int) sizeof (PowerFile) + power.real->szOsFile;
  power.vfs.xOpen = power_open;
  power.vfs.xDelete = power_delete;
  power.vfs.xAccess = power_access;
  power.vfs.xGetLastError = power_get_last_error;
  g_assert_cmpint (sqlite3_vfs_register (&power.vfs, TRUE), ==, SQLITE_OK);
}

void
power_vfs_reset (void)
{
  g_hash_table_remove_all (power.now);
  g_hash_table_remove_all (power.synced);
  power.events = power.cut_at = power.writes = power.fill_at = power.reads = power.fail_from = power.fail_n = 0;
  power.cut = power.refused = power.read_only = FALSE;
  power.last_errno = 0;
}

void
power_vfs_cut_at (guint event)
{
  power.cut_at = event > 0 ? power.events + event : 0;
}

gboolean
power_vfs_is_cut (void)
{
  return power.cut;
}

guint
power_vfs_get_events (void)
{
  return power.events;
}

static void
write_real (const char *path,
            const Disk *disk)
{
  /* Over what is there, and not through g_file_set_contents(), which waits for a disk. */
  FILE *file = g_fopen (path, "wb");

  g_assert_nonnull (file);
  if (disk->synced->len > 0)
    g_assert_cmpuint (fwrite (disk->synced->data, 1, disk->synced->len, file), ==, disk->synced->len);
  g_assert_cmpint (fclose (file), ==, 0);
}

/* Of a name that differs between now and the last sync of the folder, chance says which it is; of one that does not, none. */
static void
restore_name (const char *path,
              PowerCut    cut,
              GRand      *chance)
{
  Disk *now = g_hash_table_lookup (power.now, path), *synced = g_hash_table_lookup (power.synced, path);
  Disk *left = cut == POWER_DROPS_ALL || (cut == POWER_KEEPS_SOME && g_rand_boolean (chance)) ? synced : now;

  if (left != NULL)
    {
      lose (left, cut, chance);
      write_real (path, left);
    }
  else
    g_unlink (path);
}

void
power_vfs_restore (PowerCut cut,
                   guint32  seed)
{
  g_autoptr (GHashTable) paths = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  g_autoptr (GRand) chance = g_rand_new_with_seed (seed);
  g_autoptr (GList) sorted = NULL;
  GHashTableIter iter;
  gpointer path;

  meet_real_names ();
  for (guint i = 0; i < 2; i++)
    {
      g_hash_table_iter_init (&iter, i == 0 ? power.now : power.synced);
      while (g_hash_table_iter_next (&iter, &path, NULL))
        g_hash_table_add (paths, g_strdup (path));
    }
  /* In one order, so that a seed tells the same cut in every run. */
  sorted = g_list_sort (g_hash_table_get_keys (paths), (GCompareFunc) strcmp);
  for (const GList *each = sorted; each != NULL; each = each->next)
    restore_name (each->data, cut, chance);
  power_vfs_reset ();
}

void
power_vfs_fill_at (guint write)
{
  power.fill_at = write > 0 ? power.writes + write : 0;
}

void
power_vfs_fail_reads (guint read,
                      guint n)
{
  power.fail_from = read > 0 ? power.reads + read : 0;
  power.fail_n = n;
}

void
power_vfs_set_read_only (gboolean read_only)
{
  power.read_only = read_only;
  power.last_errno = 0;
}

gboolean
power_vfs_refused (void)
{
  gboolean refused = power.refused;

  power.refused = FALSE;
  return refused;
}
