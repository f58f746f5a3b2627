/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-store-import-seen-private.h"

#include "wb-store-statement-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* A session of samples is read in turn, each with its burn: some hundreds of nodes are at work, and the rest can wait on the disk. */
#define MOST_NODES 512
#define MOST_BYTES (48 * 1024 * 1024)
/* Rows between two looks at the bytes. */
#define ROWS_A_LOOK 1024

static const char schema[] =
  "PRAGMA journal_mode = OFF; PRAGMA synchronous = OFF; PRAGMA locking_mode = EXCLUSIVE; PRAGMA cache_size = -8192;"
  "CREATE TABLE node (parent INTEGER NOT NULL, key TEXT NOT NULL, id INTEGER NOT NULL, state BLOB NOT NULL, "
  "PRIMARY KEY (parent, key)) WITHOUT ROWID;"
  "CREATE TABLE chunk (place INTEGER PRIMARY KEY, parts BLOB NOT NULL, bytes BLOB NOT NULL);"
  "BEGIN";

struct _WbImportSeen
{
  sqlite3      *db;
  sqlite3_stmt *find;
  sqlite3_stmt *save;
  sqlite3_stmt *find_chunks;
  sqlite3_stmt *save_chunk;
  GHashTable   *nodes; /* set of WbImportNode, by parent and key */
  GQueue        order; /* the same, the one used last in front; links are found by the nodes' hash of their own */
  GHashTable   *links; /* WbImportNode to its GList in `order` */
  gint64        next;
  guint         generation;
  guint         rows;  /* since the last look at the bytes */
};

static guint
node_hash (gconstpointer pointer)
{
  const WbImportNode *node = pointer;

  return g_str_hash (node->key) ^ (guint) node->parent * 2654435761u;
}

static gboolean
node_equal (gconstpointer pa,
            gconstpointer pb)
{
  const WbImportNode *a = pa, *b = pb;

  return a->parent == b->parent && strcmp (a->key, b->key) == 0;
}

static void
node_free (gpointer pointer)
{
  WbImportNode *node = pointer;

  for (guint i = 0; i < WB_IMPORT_MOST_FIELDS; i++)
    g_free (node->statements[i].text);
  if (node->has_observations)
    wb_import_observations_clear (&node->observations);
  g_free (node->key);
  g_free (node);
}

static gboolean
fail (WbImportSeen *self,
      GError      **error)
{
  wb_store_set_sqlite_error (error, self->db, _("temporary file of the import"));
  return FALSE;
}

static gboolean
prepare (WbImportSeen  *self,
         const char    *sql,
         sqlite3_stmt **statement)
{
  return sqlite3_prepare_v3 (self->db, sql, -1, SQLITE_PREPARE_PERSISTENT, statement, NULL) == SQLITE_OK;
}

WbImportSeen *
wb_import_seen_new (GError **error)
{
  WbImportSeen *self = g_new0 (WbImportSeen, 1);

  self->nodes = g_hash_table_new_full (node_hash, node_equal, node_free, NULL);
  self->links = g_hash_table_new (NULL, NULL);
  self->next = 1;
  g_queue_init (&self->order);
  /* An empty name is a database of its own that SQLite spills to the temporary folder and removes. */
  if (sqlite3_open_v2 ("", &self->db, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE | SQLITE_OPEN_NOMUTEX, NULL) == SQLITE_OK
      && sqlite3_exec (self->db, schema, NULL, NULL, NULL) == SQLITE_OK
      && prepare (self, "SELECT id, state FROM node WHERE parent = ? AND key = ?", &self->find)
      && prepare (self, "INSERT INTO node (parent, key, id, state) VALUES (?, ?, ?, ?) "
                  "ON CONFLICT (parent, key) DO UPDATE SET state = excluded.state", &self->save)
      && prepare (self, "SELECT parts, bytes FROM chunk WHERE place BETWEEN ? AND ? ORDER BY place", &self->find_chunks)
      && prepare (self, "INSERT INTO chunk (place, parts, bytes) VALUES (?, ?, ?)", &self->save_chunk))
    return self;
  fail (self, error);
  wb_import_seen_free (self);
  return NULL;
}

void
wb_import_seen_free (WbImportSeen *self)
{
  if (self == NULL)
    return;
  g_queue_clear (&self->order);
  g_hash_table_unref (self->links);
  g_hash_table_unref (self->nodes);
  sqlite3_finalize (self->find);
  sqlite3_finalize (self->save);
  sqlite3_finalize (self->find_chunks);
  sqlite3_finalize (self->save_chunk);
  sqlite3_close (self->db);
  g_free (self);
}

guint
wb_import_seen_get_generation (WbImportSeen *self)
{
  return self->generation;
}

/* A node's state on the disk: the fixed part of each known statement, its text behind it. This program alone reads it back. */
typedef struct
{
  gint64   record;
  gboolean imported;
  gboolean completed;
  gboolean written;
  guint    n;
} StateHead;

typedef struct
{
  guint    field;
  gint64   line;
  double   number;
  gint32   offset_s;
  gint32   length; /* of the text with its NUL; 0: none */
  gboolean assumed;
} StatePart;

static GByteArray *
pack (const WbImportNode *node)
{
  GByteArray *state = g_byte_array_new ();
  StateHead head = { node->record, node->imported, node->completed, node->written, 0 };

  g_byte_array_append (state, (const guint8 *) &head, sizeof head);
  for (guint i = 0; i < WB_IMPORT_MOST_FIELDS; i++)
    {
      const WbImportStatement *statement = &node->statements[i];
      StatePart part = { i, statement->line, statement->number, statement->offset_s, 0, statement->assumed };

      if (!statement->known)
        continue;
      part.length = statement->text != NULL ? (gint32) strlen (statement->text) + 1 : 0;
      g_byte_array_append (state, (const guint8 *) &part, sizeof part);
      if (part.length > 0)
        g_byte_array_append (state, (const guint8 *) statement->text, (guint) part.length);
      head.n++;
    }
  memcpy (state->data, &head, sizeof head);
  return state;
}

static void
unpack (WbImportNode *node,
        const guint8 *at)
{
  StateHead head;

  memcpy (&head, at, sizeof head);
  at += sizeof head;
  node->record = head.record;
  node->imported = head.imported;
  node->completed = head.completed;
  node->written = head.written;
  for (guint i = 0; i < head.n; i++)
    {
      StatePart part;

      memcpy (&part, at, sizeof part);
      at += sizeof part;
      node->statements[part.field] = (WbImportStatement) { TRUE, part.assumed, part.line, part.number, part.offset_s,
                                                           part.length > 0 ? g_strdup ((const char *) at) : NULL };
      at += part.length;
    }
}

static gboolean
run (WbImportSeen *self,
     sqlite3_stmt *statement,
     GError      **error)
{
  int code = sqlite3_step (statement);

  if (code != SQLITE_DONE)
    fail (self, error);
  sqlite3_reset (statement);
  return code == SQLITE_DONE;
}

/* Chunks of one burn stand side by side, by how many parts came before: one key instead of two, and rows that fit into a page. */
static gint64
place_of (const WbImportNode *burn,
          guint               parts)
{
  return (burn->id << 32) + parts;
}

static gboolean
save_observations (WbImportSeen *self,
                   WbImportNode *node,
                   GError      **error)
{
  WbImportObservations *all = &node->observations;

  if (!node->has_observations || all->parts->len == all->kept_parts)
    return TRUE;
  sqlite3_bind_int64 (self->save_chunk, 1, place_of (node, all->kept_parts));
  sqlite3_bind_blob64 (self->save_chunk, 2, &g_array_index (all->parts, WbImportPart, all->kept_parts),
                       (all->parts->len - all->kept_parts) * sizeof (WbImportPart), SQLITE_STATIC);
  sqlite3_bind_blob64 (self->save_chunk, 3, all->bytes->data + all->kept_bytes, all->bytes->len - all->kept_bytes,
                       SQLITE_STATIC);
  if (!run (self, self->save_chunk, error))
    return FALSE;
  all->kept_parts = all->parts->len;
  all->kept_bytes = all->bytes->len;
  return TRUE;
}

static gboolean
save_node (WbImportSeen *self,
           WbImportNode *node,
           GError      **error)
{
  g_autoptr (GByteArray) state = NULL;

  if (!save_observations (self, node, error))
    return FALSE;
  if (!node->dirty)
    return TRUE;
  state = pack (node);
  sqlite3_bind_int64 (self->save, 1, node->parent);
  sqlite3_bind_text (self->save, 2, node->key, -1, SQLITE_STATIC);
  sqlite3_bind_int64 (self->save, 3, node->id);
  sqlite3_bind_blob64 (self->save, 4, state->data, state->len, SQLITE_STATIC);
  node->dirty = FALSE;
  return run (self, self->save, error);
}

static gsize
node_size (const WbImportNode *node)
{
  return sizeof *node + (node->has_observations ? wb_import_observations_size (&node->observations) : 0);
}

/* What a row uses in front is never put away: experiment, wick, sample and burn, and as many of the row before. */
#define ALWAYS_KEPT 8

static gboolean
put_away_last (WbImportSeen *self,
               GError      **error)
{
  WbImportNode *node = g_queue_peek_tail (&self->order);

  if (!save_node (self, node, error))
    return FALSE;
  g_queue_pop_tail (&self->order);
  g_hash_table_remove (self->links, node);
  g_hash_table_remove (self->nodes, node);
  self->generation++;
  return TRUE;
}

static gsize
size_of_all (WbImportSeen *self)
{
  gsize size = 0;

  for (GList *link = self->order.head; link != NULL; link = link->next)
    size += node_size (link->data);
  return size;
}

gboolean
wb_import_seen_trim (WbImportSeen *self,
                     GError      **error)
{
  gsize size;

  if (self->order.length > MOST_NODES)
    while (self->order.length > MOST_NODES * 3 / 4)
      if (!put_away_last (self, error))
        return FALSE;
  if (++self->rows < ROWS_A_LOOK)
    return TRUE;
  self->rows = 0;
  size = size_of_all (self);
  while (size > MOST_BYTES && self->order.length > ALWAYS_KEPT)
    {
      size -= node_size (g_queue_peek_tail (&self->order));
      if (!put_away_last (self, error))
        return FALSE;
    }
  return TRUE;
}

static void
use (WbImportSeen *self,
     WbImportNode *node)
{
  GList *link = g_hash_table_lookup (self->links, node);

  g_queue_unlink (&self->order, link);
  g_queue_push_head_link (&self->order, link);
}

static void
take_in (WbImportSeen *self,
         WbImportNode *node)
{
  g_hash_table_add (self->nodes, node);
  g_queue_push_head (&self->order, node);
  g_hash_table_insert (self->links, node, self->order.head);
}

static WbImportNode *
node_new (WbImportLevel       level,
          const WbImportNode *parent,
          const char         *key)
{
  WbImportNode *node = g_new0 (WbImportNode, 1);

  node->level = level;
  node->parent = parent != NULL ? parent->id : -1 - (gint64) level;
  node->key = g_strdup (key);
  return node;
}

gboolean
wb_import_seen_find (WbImportSeen       *self,
                     WbImportLevel       level,
                     const WbImportNode *parent,
                     const char         *key,
                     WbImportNode      **node,
                     GError            **error)
{
  WbImportNode wanted = { .parent = parent != NULL ? parent->id : -1 - (gint64) level, .key = (char *) key };
  int code;

  *node = g_hash_table_lookup (self->nodes, &wanted);
  if (*node != NULL)
    {
      use (self, *node);
      return TRUE;
    }
  sqlite3_bind_int64 (self->find, 1, wanted.parent);
  sqlite3_bind_text (self->find, 2, key, -1, SQLITE_STATIC);
  code = sqlite3_step (self->find);
  if (code == SQLITE_ROW)
    {
      *node = node_new (level, parent, key);
      (*node)->id = sqlite3_column_int64 (self->find, 0);
      unpack (*node, sqlite3_column_blob (self->find, 1));
      take_in (self, *node);
    }
  sqlite3_reset (self->find);
  return code == SQLITE_ROW || code == SQLITE_DONE || fail (self, error);
}

WbImportNode *
wb_import_seen_add (WbImportSeen       *self,
                    WbImportLevel       level,
                    const WbImportNode *parent,
                    const char         *key)
{
  WbImportNode *node = node_new (level, parent, key);

  node->id = self->next++;
  node->dirty = TRUE;
  if (level == WB_IMPORT_LEVEL_BURN)
    {
      wb_import_observations_init (&node->observations);
      node->has_observations = TRUE;
    }
  take_in (self, node);
  return node;
}

static void
append_chunk (WbImportObservations *all,
              sqlite3_stmt         *statement)
{
  guint n = (guint) sqlite3_column_bytes (statement, 0) / (guint) sizeof (WbImportPart);

  if (n == 0)
    return;
  g_array_append_vals (all->parts, sqlite3_column_blob (statement, 0), n);
  g_byte_array_append (all->bytes, sqlite3_column_blob (statement, 1), (guint) sqlite3_column_bytes (statement, 1));
}

gboolean
wb_import_seen_load_observations (WbImportSeen *self,
                                  WbImportNode *burn,
                                  GError      **error)
{
  WbImportObservations *all = &burn->observations;
  int code;

  if (burn->has_observations)
    return TRUE;
  wb_import_observations_init (all);
  burn->has_observations = TRUE;
  sqlite3_bind_int64 (self->find_chunks, 1, place_of (burn, 0));
  sqlite3_bind_int64 (self->find_chunks, 2, place_of (burn, G_MAXUINT32));
  while ((code = sqlite3_step (self->find_chunks)) == SQLITE_ROW)
    append_chunk (all, self->find_chunks);
  sqlite3_reset (self->find_chunks);
  for (guint i = 0; i < all->parts->len; i++)
    all->latest_min = MAX (all->latest_min, g_array_index (all->parts, WbImportPart, i).elapsed_min);
  all->kept_parts = all->parts->len;
  all->kept_bytes = all->bytes->len;
  return code == SQLITE_DONE || fail (self, error);
}
