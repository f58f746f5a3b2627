/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-store-pages-private.h"

#include "wb-store-private.h"

#include <string.h>
#include <unistd.h>

#define DEFAULT_PAGE 4096
#define MOST_COLUMNS 200
#define MOST_DEPTH 40
/* Bytes copied from chains of pages, at most, in files of that many: chains that lead in circles, or that many rows claim, end here. */
#define CHAIN_COPIES 16

enum { INTERIOR_INDEX = 2, INTERIOR_TABLE = 5, LEAF_INDEX = 10, LEAF_TABLE = 13 };

struct _WbStorePages
{
  int           file;
  guint8        head[100]; /* the file's header, as far as it is there */
  gsize         length;
  gsize         page;
  gsize         usable;
  guint32       n_pages; /* the last may be cut */
  guint8       *taken;   /* by number from 1 */
  guint8       *link;    /* one page, of a chain */
  guint64       patience; /* bytes that may still be copied from chains */
  WbStoreValue  values[MOST_COLUMNS];
};

/* One page; `limit` bytes of it are there. */
typedef struct
{
  guint8       *bytes; /* owned */
  gsize         limit;
  gsize         header; /* where the tree's header begins */
  guint         kind;
  guint         n_cells;
} Page;

static guint
get_16 (const guint8 *at)
{
  return (guint) at[0] << 8 | at[1];
}

static guint32
get_32 (const guint8 *at)
{
  return (guint32) at[0] << 24 | (guint32) at[1] << 16 | (guint32) at[2] << 8 | at[3];
}

/* Length of the integer, 0 where it does not end within `room`. */
static gsize
get_varint (const guint8 *at,
            gsize         room,
            guint64      *value)
{
  *value = 0;
  for (gsize i = 0; i < 9 && i < room; i++)
    {
      if (i == 8)
        {
          *value = *value << 8 | at[i];
          return 9;
        }
      *value = *value << 7 | (at[i] & 0x7f);
      if (at[i] < 0x80)
        return i + 1;
    }
  return 0;
}

static gint64
get_signed (const guint8 *at,
            gsize         n)
{
  guint64 value = at[0] & 0x80 ? G_MAXUINT64 : 0;

  for (gsize i = 0; i < n; i++)
    value = value << 8 | at[i];
  return (gint64) value;
}

/* A part that the disk does not give is zeros, like any other damage. */
static void
read_at (int     file,
         guint8 *to,
         gsize   n,
         gsize   at)
{
  while (n > 0)
    {
      gssize got = pread (file, to, n, (off_t) at);

      if (got <= 0)
        {
          memset (to, 0, n);
          return;
        }
      to += got;
      at += (gsize) got;
      n -= (gsize) got;
    }
}

WbStorePages *
wb_store_pages_new (int   file,
                    gsize length)
{
  WbStorePages *self = g_new0 (WbStorePages, 1);
  gsize page;

  self->file = file;
  self->length = length;
  read_at (file, self->head, MIN (length, sizeof self->head), 0);
  page = length >= 100 ? get_16 (self->head + 16) : 0;
  page = page == 1 ? 65536 : page;
  self->page = wb_store_pages_has_header (self) && page >= 512 && (page & (page - 1)) == 0 ? page : DEFAULT_PAGE;
  /* This program's files leave no bytes unused at a page's end. */
  self->usable = self->page;
  self->n_pages = (guint32) MIN ((length + self->page - 1) / self->page, G_MAXUINT32 - 1);
  self->taken = g_malloc0 ((gsize) self->n_pages + 1);
  self->link = g_malloc (self->page);
  self->patience = (guint64) length * CHAIN_COPIES;
  return self;
}

void
wb_store_pages_free (WbStorePages *self)
{
  if (self == NULL)
    return;
  g_free (self->taken);
  g_free (self->link);
  g_free (self);
}

gboolean
wb_store_pages_has_header (WbStorePages *self)
{
  return self->length >= 100 && memcmp (self->head, "SQLite format 3", 16) == 0;
}

guint32
wb_store_pages_get_header (WbStorePages *self,
                           gsize         offset)
{
  return offset + 4 <= MIN (self->length, 100) ? get_32 (self->head + offset) : 0;
}

/* Into `to`, which has room for a page. Gives how much of it is there. */
static gsize
get_page (WbStorePages *self,
          guint32       number,
          guint8       *to)
{
  gsize at = (gsize) (number - 1) * self->page, limit = MIN (self->page, self->length - at);

  read_at (self->file, to, limit, at);
  return limit;
}

static void
page_clear (Page *page)
{
  g_clear_pointer (&page->bytes, g_free);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Page, page_clear)

/* FALSE: it is no page of a tree. The page is the caller's to clear, and may be read into again. */
static gboolean
read_page (WbStorePages *self,
           guint32       number,
           Page         *page)
{
  gsize size;

  if (page->bytes == NULL)
    page->bytes = g_malloc (self->page);
  page->limit = get_page (self, number, page->bytes);
  page->header = number == 1 ? 100 : 0;
  if (page->limit < page->header + 12)
    return FALSE;
  page->kind = page->bytes[page->header];
  if (page->kind != INTERIOR_INDEX && page->kind != INTERIOR_TABLE && page->kind != LEAF_INDEX && page->kind != LEAF_TABLE)
    return FALSE;
  page->n_cells = get_16 (page->bytes + page->header + 3);
  size = page->kind >= LEAF_INDEX ? 8 : 12;
  return page->header + size + 2 * (gsize) page->n_cells <= page->limit;
}

static gsize
get_cell_offset (const Page *page,
                 guint       i)
{
  return get_16 (page->bytes + page->header + (page->kind >= LEAF_INDEX ? 8 : 12) + 2 * (gsize) i);
}

/* How many bytes of a payload stand in the cell itself. */
static gsize
get_local (WbStorePages *self,
           gboolean      is_table,
           guint64       payload)
{
  gsize u = self->usable;
  gsize most = is_table ? u - 35 : (u - 12) * 64 / 255 - 23, least = (u - 12) * 32 / 255 - 23, fits;

  if (payload <= most)
    return (gsize) payload;
  fits = least + (gsize) ((payload - least) % (u - 4));
  return fits <= most ? fits : least;
}

/* The rest of a payload, from the chain of pages that begins at `next`. */
static gboolean
read_overflow (WbStorePages *self,
               guint32       next,
               guint8       *to,
               gsize         missing)
{
  while (missing > 0)
    {
      gsize part = MIN (missing, self->usable - 4);

      if (next < 1 || next > self->n_pages || self->patience < part)
        return FALSE;
      self->patience -= part;
      if (get_page (self, next, self->link) < 4 + part)
        return FALSE;
      memcpy (to, self->link + 4, part);
      to += part;
      missing -= part;
      next = get_32 (self->link);
    }
  return TRUE;
}

/* The same chain: once its row was taken, nothing else stands on its pages. */
static void
take_overflow (WbStorePages *self,
               guint32       next,
               gsize         missing)
{
  while (missing > 0 && next >= 1 && next <= self->n_pages)
    {
      gsize part = MIN (missing, self->usable - 4), limit = get_page (self, next, self->link);

      self->taken[next] = 1;
      missing -= part;
      next = limit >= 4 ? get_32 (self->link) : 0;
    }
}

static gboolean
read_value (guint64        serial,
            const guint8  *at,
            gsize          room,
            gsize         *size,
            WbStoreValue  *value)
{
  static const gsize integers[] = { 0, 1, 2, 3, 4, 6, 8 };

  memset (value, 0, sizeof *value);
  *size = serial <= 6 ? integers[serial] : serial == 7 ? 8 : serial >= 12 ? (gsize) MIN ((serial - 12) / 2, G_MAXUINT32) : 0;
  if (*size > room || serial == 10 || serial == 11)
    return FALSE;
  if (serial == 0)
    return TRUE;
  if (serial <= 6 || serial == 8 || serial == 9)
    {
      value->kind = WB_STORE_VALUE_INTEGER;
      value->integer = serial <= 6 ? get_signed (at, *size) : (gint64) serial - 8;
    }
  else if (serial == 7)
    {
      guint64 bits = (guint64) get_signed (at, 8);

      value->kind = WB_STORE_VALUE_REAL;
      memcpy (&value->real, &bits, sizeof bits);
    }
  else
    {
      value->kind = serial % 2 == 0 ? WB_STORE_VALUE_BLOB : WB_STORE_VALUE_TEXT;
      value->bytes = at;
      value->length = *size;
    }
  return TRUE;
}

/* FALSE unless header and values fill the payload exactly. */
static gboolean
read_record (WbStorePages *self,
             const guint8 *payload,
             gsize         length,
             guint        *n)
{
  guint64 header, serial;
  gsize at = get_varint (payload, length, &header), value;

  *n = 0;
  if (at == 0 || header > length || header < at)
    return FALSE;
  value = (gsize) header;
  while (at < header)
    {
      gsize size, step = get_varint (payload + at, (gsize) header - at, &serial);

      if (step == 0 || *n == MOST_COLUMNS || !read_value (serial, payload + value, length - value, &size, &self->values[*n]))
        return FALSE;
      at += step;
      value += size;
      (*n)++;
    }
  return value == length && *n > 0;
}

/* Gives the row of one cell, if it is whole. */
static void
read_cell (WbStorePages   *self,
           const Page     *page,
           gsize           at,
           WbStoreCellFunc func,
           gpointer        user)
{
  gboolean is_table = page->kind == LEAF_TABLE;
  g_autofree guint8 *whole = NULL;
  WbStoreCell cell = { .has_rowid = is_table, .values = self->values };
  const guint8 *payload;
  guint64 length, rowid = 0;
  gsize step, local;

  at += page->kind == INTERIOR_INDEX ? 4 : 0;
  if (page->kind == INTERIOR_TABLE || at >= page->limit)
    return;
  step = get_varint (page->bytes + at, page->limit - at, &length);
  at += step;
  if (step == 0 || length == 0 || length > WB_STORE_BLOB_MAXIMUM + 1024 * 1024 || length > self->length)
    return;
  if (is_table)
    {
      step = at < page->limit ? get_varint (page->bytes + at, page->limit - at, &rowid) : 0;
      at += step;
      if (step == 0)
        return;
    }
  local = get_local (self, is_table, length);
  if (at + local + (local < length ? 4 : 0) > page->limit)
    return;
  payload = page->bytes + at;
  if (local < length)
    {
      whole = g_malloc ((gsize) length);
      memcpy (whole, payload, local);
      if (!read_overflow (self, get_32 (payload + local), whole + local, (gsize) length - local))
        return;
      payload = whole;
    }
  cell.rowid = (gint64) rowid;
  if (!read_record (self, payload, (gsize) length, &cell.n))
    return;
  if (whole != NULL)
    take_overflow (self, get_32 (page->bytes + at + local), (gsize) length - local);
  func (&cell, user);
}

static void
read_cells (WbStorePages   *self,
            const Page     *page,
            WbStoreCellFunc func,
            gpointer        user)
{
  for (guint i = 0; i < page->n_cells; i++)
    read_cell (self, page, get_cell_offset (page, i), func, user);
}

static gboolean
walk (WbStorePages   *self,
      guint32         number,
      guint           depth,
      WbStoreCellFunc func,
      gpointer        user)
{
  gboolean whole = TRUE;
  g_auto (Page) page = { NULL };

  if (number < 1 || number > self->n_pages || self->taken[number] || depth > MOST_DEPTH || !read_page (self, number, &page))
    return FALSE;
  self->taken[number] = 1;
  read_cells (self, &page, func, user);
  if (page.kind >= LEAF_INDEX)
    return TRUE;
  for (guint i = 0; i < page.n_cells; i++)
    {
      gsize at = get_cell_offset (&page, i);

      whole &= at + 4 <= page.limit && walk (self, get_32 (page.bytes + at), depth + 1, func, user);
    }
  return walk (self, get_32 (page.bytes + page.header + 8), depth + 1, func, user) && whole;
}

gboolean
wb_store_pages_walk (WbStorePages   *self,
                     guint32         root,
                     WbStoreCellFunc func,
                     gpointer        user)
{
  return walk (self, root, 0, func, user);
}

/* Trunk pages, and the leaves that each names. */
static GArray *
list_free (WbStorePages *self)
{
  GArray *list = g_array_new (FALSE, FALSE, sizeof (guint32));
  guint32 trunk = wb_store_pages_get_header (self, 32);

  while (trunk >= 1 && trunk <= self->n_pages && list->len <= self->n_pages)
    {
      gsize limit = get_page (self, trunk, self->link);
      const guint8 *page = self->link;
      guint32 n = limit >= 8 ? get_32 (page + 4) : 0;

      g_array_append_val (list, trunk);
      for (guint32 i = 0; i < n && 8 + 4 * ((gsize) i + 1) <= limit; i++)
        {
          guint32 leaf = get_32 (page + 8 + 4 * (gsize) i);

          if (leaf >= 1 && leaf <= self->n_pages)
            g_array_append_val (list, leaf);
        }
      trunk = limit >= 4 ? get_32 (page) : 0;
    }
  return list;
}

void
wb_store_pages_skip_free (WbStorePages *self)
{
  g_autoptr (GArray) list = wb_store_pages_has_header (self) ? list_free (self) : NULL;

  /* A damaged list names pages that are none of its own. */
  if (list == NULL || list->len != wb_store_pages_get_header (self, 36))
    return;
  for (guint i = 0; i < list->len; i++)
    self->taken[g_array_index (list, guint32, i)] = 1;
}

void
wb_store_pages_walk_rest (WbStorePages   *self,
                          gboolean        take,
                          WbStoreCellFunc func,
                          gpointer        user)
{
  g_auto (Page) page = { NULL };

  for (guint32 number = 1; number <= self->n_pages; number++)
    {
      if (self->taken[number] || !read_page (self, number, &page))
        continue;
      self->taken[number] = take;
      read_cells (self, &page, func, user);
    }
}
