/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-covered-private.h"

#include "wb-app-lot-trace-private.h"
#include "wb-app-stamp-private.h"
#include "wb-app-touched-private.h"
#include "wb-craft-covered.h"
#include "wb-craft-recipe.h"

#include <string.h>

/* A decision, and the combination that it is the recipe of. */
typedef struct
{
  WbAppBenchLoad *load;    /* of its experiment */
  WbAppTouched   *touched;
  gint64          cell;    /* of the experiment that pours */
} Cover;

static void
cover_free (gpointer data)
{
  Cover *self = data;

  wb_app_bench_load_unref (self->load);
  wb_app_touched_unref (self->touched);
  g_free (self);
}

static void
add_covers (GPtrArray       *covers,
            WbAppBenchLoad  *load,
            WbAppTouched    *touched,
            const WbDataset *own)
{
  guint cell = wb_app_lot_find_cell (load->data, touched->record->cell);

  for (guint i = 0; cell != G_MAXUINT && i < own->cells->len; i++)
    if (wb_craft_recipe_is_same (load->data, cell, own, i))
      {
        Cover *cover = g_new (Cover, 1);

        *cover = (Cover) { wb_app_bench_load_ref (load), wb_app_touched_ref (touched), wb_dataset_get_cell (own, i)->record.id };
        g_ptr_array_add (covers, cover);
      }
}

GPtrArray *
wb_app_covered_read (WbStore         *store,
                     WbAppLoads      *loads,
                     const WbDataset *own,
                     GError         **error)
{
  g_autoptr (GPtrArray) all = wb_app_touched_read_all (store, loads, 0, error);
  g_autoptr (GPtrArray) covers = g_ptr_array_new_with_free_func (cover_free);
  g_autoptr (GHashTable) stamps = NULL;

  if (all == NULL || (all->len > 0 && (stamps = wb_app_stamp_list (store, error)) == NULL))
    return NULL;
  for (guint i = 0; i < all->len; i++)
    {
      WbAppTouched *touched = g_ptr_array_index (all, i);
      WbAppBenchLoad *load;

      if (touched->replaced_by != NULL)
        continue;
      load = wb_app_loads_get (loads, store, touched->experiment, wb_app_stamp_find (stamps, touched->experiment), error);
      if (load == NULL)
        return NULL;
      add_covers (covers, load, touched, own);
      wb_app_bench_load_unref (load);
    }
  return g_steal_pointer (&covers);
}

static gboolean
is_among (const GArray *cells,
          gint64        cell)
{
  for (guint i = 0; i < cells->len; i++)
    if (g_array_index (cells, gint64, i) == cell)
      return TRUE;
  return FALSE;
}

char *
wb_app_covered_dup_lack (const GPtrArray *covers,
                         const GArray    *cells,
                         gint64           material,
                         const char      *text)
{
  g_autoptr (GString) told = g_string_new (NULL);

  for (guint i = 0; covers != NULL && text != NULL && i < covers->len; i++)
    {
      const Cover *cover = g_ptr_array_index (covers, i);
      g_autofree char *lack = is_among (cells, cover->cell) ? wb_craft_covered_dup_lack (cover->load->data, cover->touched->record, cover->touched->changes,
                                                                                        material, text) : NULL;

      /* several combinations of a batch may be of one decision */
      if (lack != NULL && strstr (told->str, lack) == NULL)
        g_string_append_printf (told, "%s%s", told->len > 0 ? "\n" : "", lack);
    }
  return told->len > 0 ? g_string_free (g_steal_pointer (&told), FALSE) : NULL;
}
