/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-blend.h"

#include "wb-craft-batch.h"

struct _WbCraftBlends
{
  GPtrArray  *versions;    /* WbFragrancePart */
  GHashTable *entry_times;
};

WbCraftBlends *
wb_craft_blends_new (GPtrArray  *versions,
                     GHashTable *entry_times)
{
  WbCraftBlends *self;

  g_return_val_if_fail (versions != NULL && entry_times != NULL, NULL);

  self = g_new (WbCraftBlends, 1);
  self->versions = g_ptr_array_ref (versions);
  self->entry_times = g_hash_table_ref (entry_times);
  return self;
}

void
wb_craft_blends_free (WbCraftBlends *self)
{
  if (self == NULL)
    return;
  g_ptr_array_unref (self->versions);
  g_hash_table_unref (self->entry_times);
  g_free (self);
}

/* No version of that part is newer, up to that entry. */
static gboolean
holds_at (const WbCraftBlends   *self,
          const WbFragrancePart *version,
          gint64                 entry)
{
  if (version->record.entry > entry)
    return FALSE;
  for (guint i = 0; i < self->versions->len; i++)
    {
      const WbRecord *other = self->versions->pdata[i];

      if (other->id == version->record.id && other->entry > version->record.entry && other->entry <= entry)
        return FALSE;
    }
  return TRUE;
}

/* As it stood once that entry was made. complete: its shares make up 100 %. */
static GArray *
dup_mix (const WbCraftBlends *self,
         gint64               blend,
         gint64               entry,
         gboolean            *complete)
{
  GArray *mix = g_array_new (FALSE, FALSE, sizeof (WbCraftBlendPart));
  g_autofree char *wrong = NULL;
  double sum_pct = 0;

  for (guint i = 0; i < self->versions->len; i++)
    {
      const WbFragrancePart *version = self->versions->pdata[i];
      WbCraftBlendPart part = { version->part, version->share_pct / 100 };

      if (version->fragrance != blend || version->record.deleted || !holds_at (self, version, entry))
        continue;
      g_array_append_val (mix, part);
      sum_pct += version->share_pct;
    }
  wrong = wb_craft_blend_dup_wrong (sum_pct);
  *complete = wrong == NULL;
  return mix;
}

static int
compare_entries (gconstpointer a,
                 gconstpointer b)
{
  gint64 one = *(const gint64 *) a, other = *(const gint64 *) b;

  return one < other ? -1 : one > other;
}

/* The entries that changed what the blend is mixed of, oldest first. */
static GArray *
dup_entries (const WbCraftBlends *self,
             gint64               blend)
{
  GArray *entries = g_array_new (FALSE, FALSE, sizeof (gint64));

  for (guint i = 0; i < self->versions->len; i++)
    {
      const WbFragrancePart *version = self->versions->pdata[i];

      if (version->fragrance == blend)
        g_array_append_val (entries, version->record.entry);
    }
  g_array_sort (entries, compare_entries);
  return entries;
}

static gboolean
is_made_by (const WbCraftBlends *self,
            gint64               entry,
            WbInstant            at,
            WbDay                day)
{
  const WbInstant *made = g_hash_table_lookup (self->entry_times, &entry);

  if (made == NULL || !made->known)
    return TRUE;
  if (at.known)
    return made->utc_us <= at.utc_us;
  return day == WB_DAY_NONE || wb_instant_get_day (*made) <= day;
}

GArray *
wb_craft_blends_dup_at (const WbCraftBlends *self,
                        gint64               blend,
                        WbInstant            at,
                        WbDay                day)
{
  g_autoptr (GArray) entries = NULL, before = NULL, after = NULL;
  gboolean complete;

  g_return_val_if_fail (self != NULL, NULL);

  entries = dup_entries (self, blend);
  for (guint i = 0; i < entries->len && after == NULL; i++)
    {
      gint64 entry = g_array_index (entries, gint64, i);
      g_autoptr (GArray) mix = dup_mix (self, blend, entry, &complete);

      /* a blend whose parts all went, or were undone, is none from then on */
      if (!complete && (mix->len > 0 || before == NULL))
        continue;
      if (is_made_by (self, entry, at, day))
        {
          g_clear_pointer (&before, g_array_unref);
          before = g_steal_pointer (&mix);
        }
      else
        after = g_steal_pointer (&mix);
    }
  if (before != NULL)
    return g_steal_pointer (&before);
  if (after != NULL)
    return g_steal_pointer (&after);
  return dup_mix (self, blend, G_MAXINT64, &complete);
}
