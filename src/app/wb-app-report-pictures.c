/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-report-pictures-private.h"

#include "wb-exchange-photo.h"
#include "wb-store-records.h"

#include <math.h>

/* A kept photo, and where it belongs in the ranking. */
typedef struct
{
  const WbAttachment *attachment;
  guint               sample;
  const WbBurn       *burn;    /* NULL: of the sample */
  guint               place;   /* of its combination in the rankings, from 0 */
  guint               turn;    /* among those of its combination, newest first */
} Kept;

/* ---- Which there are ---- */

static guint
find_place (const WbCraftAnswer *answer,
            guint                cell)
{
  guint before = 0;

  for (guint g = 0; g < answer->ranking->n_groups; g++)
    for (guint i = 0; i < answer->ranking->groups[g].n_cells; i++, before++)
      if (answer->ranking->groups[g].cells[i].cell == cell)
        return before;
  return before;
}

/* Owner's id → index of the burn + 1, or of the sample as a negative number. */
static GHashTable *
map_owners (const WbDataset *data)
{
  GHashTable *owners = g_hash_table_new (g_int64_hash, g_int64_equal);

  for (guint i = 0; i < data->samples->len; i++)
    g_hash_table_insert (owners, &((WbRecord *) g_ptr_array_index (data->samples, i))->id, GINT_TO_POINTER (-(int) i - 1));
  for (guint i = 0; i < data->burns->len; i++)
    g_hash_table_insert (owners, &((WbRecord *) g_ptr_array_index (data->burns, i))->id, GINT_TO_POINTER ((int) i + 1));
  return owners;
}

static int
compare_newest (gconstpointer a,
                gconstpointer b)
{
  const Kept *first = a, *second = b;
  gint64 one = first->attachment->taken_at.known ? first->attachment->taken_at.utc_us : 0;
  gint64 other = second->attachment->taken_at.known ? second->attachment->taken_at.utc_us : 0;

  if (first->place != second->place)
    return first->place < second->place ? -1 : 1;
  if (one != other)
    return one > other ? -1 : 1;
  return (first->attachment->record.id < second->attachment->record.id) - (first->attachment->record.id > second->attachment->record.id);
}

static int
compare_turns (gconstpointer a,
               gconstpointer b)
{
  const Kept *first = a, *second = b;

  if (first->turn != second->turn)
    return first->turn < second->turn ? -1 : 1;
  return compare_newest (a, b);
}

/* On paper what came first stands first. */
static int
compare_paper (gconstpointer a,
               gconstpointer b)
{
  const Kept *first = a, *second = b;

  return first->place != second->place ? (first->place < second->place ? -1 : 1) : compare_newest (b, a);
}

static GArray *
find_kept (const WbCraftAnswer *answer,
           const GPtrArray     *attachments)
{
  const WbDataset *data = answer->data;
  g_autoptr (GHashTable) owners = map_owners (data);
  GArray *kept = g_array_new (FALSE, FALSE, sizeof (Kept));

  for (guint i = 0; i < attachments->len; i++)
    {
      const WbAttachment *attachment = g_ptr_array_index (attachments, i);
      int at = attachment->role == WB_ATTACHMENT_PHOTO ? GPOINTER_TO_INT (g_hash_table_lookup (owners, &attachment->owner)) : 0;
      Kept item = { .attachment = attachment };

      if (at == 0)
        continue;
      item.burn = at > 0 ? wb_dataset_get_burn (data, (guint) at - 1) : NULL;
      item.sample = at > 0 ? g_array_index (data->burn_sample, guint, at - 1) : (guint) (-at - 1);
      item.place = find_place (answer, g_array_index (data->sample_cell, guint, item.sample));
      g_array_append_val (kept, item);
    }
  return kept;
}

/* Those that are shown, in the order of the paper. */
static void
choose (GArray *kept,
        guint   most)
{
  g_array_sort (kept, compare_newest);
  for (guint i = 1; i < kept->len; i++)
    {
      Kept *before = &g_array_index (kept, Kept, i - 1), *item = before + 1;

      item->turn = item->place == before->place ? before->turn + 1 : 0;
    }
  g_array_sort (kept, compare_turns);
  if (kept->len > most)
    g_array_set_size (kept, most);
  g_array_sort (kept, compare_paper);
}

/* ---- Their pixels ---- */

static WbReportPicture *
read_picture (WbStore            *store,
              const WbAttachment *attachment,
              int                 edge_px,
              GError            **error)
{
  g_autoptr (GBytes) bytes = wb_store_load_attachment (store, attachment->sha256, error);
  g_autoptr (WbExchangePixels) pixels = bytes != NULL ? wb_exchange_photo_decode (bytes, attachment->name, edge_px, NULL, error) : NULL;

  return pixels != NULL ? wb_report_picture_new (pixels->width, pixels->height, pixels->stride, pixels->rgb) : NULL;
}

static WbReportPhoto *
read_photo (WbStore    *store,
            const Kept *kept)
{
  WbReportPicture *picture = read_picture (store, kept->attachment, WB_REPORT_PHOTO_EDGE_PX, NULL);
  WbReportPhoto *photo;

  if (picture == NULL)
    return NULL;
  photo = g_new0 (WbReportPhoto, 1);
  photo->picture = picture;
  photo->sample = kept->sample;
  photo->burn = kept->burn != NULL ? (int) kept->burn->number : 0;
  photo->minute = NAN;
  if (kept->burn != NULL && kept->burn->lit_at.known && kept->attachment->taken_at.known)
    photo->minute = (double) (kept->attachment->taken_at.utc_us - kept->burn->lit_at.utc_us) / G_USEC_PER_SEC / 60;
  photo->note = g_strdup (kept->attachment->note);
  return photo;
}

GPtrArray *
wb_app_report_photos_read (WbStore             *store,
                           const WbCraftAnswer *answer,
                           guint                most,
                           WbAppJob            *job,
                           guint               *kept,
                           gint64              *entry,
                           GError             **error)
{
  g_autoptr (GPtrArray) attachments = wb_store_list (store, &wb_attachment_type, NULL, 0, error);
  g_autoptr (GArray) chosen = NULL;
  GPtrArray *photos;

  if (attachments == NULL)
    return NULL;
  chosen = find_kept (answer, attachments);
  *kept = chosen->len;
  choose (chosen, most);
  photos = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_report_photo_free);
  for (guint i = 0; i < chosen->len && wb_app_job_report (job, 0.05 + 0.3 * i / chosen->len, NULL); i++)
    {
      const Kept *item = &g_array_index (chosen, Kept, i);
      WbReportPhoto *photo = read_photo (store, item);

      if (photo == NULL)
        continue;
      *entry = MAX (*entry, item->attachment->record.entry);
      g_ptr_array_add (photos, photo);
    }
  return photos;
}

WbReportPicture *
wb_app_report_logo_read (WbStore          *store,
                         const WbNotebook *notebook,
                         WbAttachment    **attachment,
                         GError          **error)
{
  g_autoptr (GPtrArray) kept = wb_store_list (store, &wb_attachment_type, "owner", notebook->record.id, error);
  const WbAttachment *newest = NULL;

  for (guint i = 0; kept != NULL && i < kept->len; i++)
    {
      const WbAttachment *item = g_ptr_array_index (kept, i);

      if (item->role == WB_ATTACHMENT_PHOTO && (newest == NULL || item->record.id > newest->record.id))
        newest = item;
    }
  if (newest == NULL)
    return NULL;
  if (attachment != NULL)
    *attachment = wb_record_copy (newest);
  return read_picture (store, newest, WB_REPORT_LOGO_EDGE_PX, error);
}
