/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-plan-shelf.h"

#include "wb-material.h"

#include <glib/gi18n.h>

void
wb_plan_shelf_offer (WbRecordForm    *form,
                     const char      *field,
                     const GPtrArray *records)
{
  g_autofree gint64 *ids = g_new0 (gint64, records->len + 1);
  g_auto (GStrv) titles = g_new0 (char *, records->len + 1);

  for (guint i = 0; i < records->len; i++)
    {
      ids[i] = ((const WbRecord *) records->pdata[i])->id;
      titles[i] = wb_material_dup_title (records->pdata[i]);
    }
  wb_record_form_set_choices (form, field, ids, (const char *const *) titles);
}

void
wb_plan_shelf_fill_vessels (WbTickList      *list,
                            const GPtrArray *vessels)
{
  g_autofree WbTick *ticks = g_new0 (WbTick, vessels->len + 1);
  g_auto (GStrv) titles = g_new0 (char *, vessels->len + 1);

  for (guint i = 0; i < vessels->len; i++)
    {
      titles[i] = wb_material_dup_title (vessels->pdata[i]);
      ticks[i] = (WbTick) { ((const WbRecord *) vessels->pdata[i])->id, NULL, titles[i], titles[i] };
    }
  wb_tick_list_fill (list, ticks, vessels->len);
}

static int
compare_wicks (gconstpointer a,
               gconstpointer b)
{
  const WbWick *first = *(const WbWick *const *) a, *second = *(const WbWick *const *) b;
  int order = g_utf8_collate (first->series, second->series);

  if (order == 0)
    order = g_strcmp0 (first->series, second->series);
  if (order == 0)
    order = (first->step > second->step) - (first->step < second->step);
  return order != 0 ? order : g_strcmp0 (first->size, second->size);
}

GPtrArray *
wb_plan_shelf_sort_wicks (const GPtrArray *wicks)
{
  GPtrArray *sorted = g_ptr_array_new ();

  for (guint i = 0; i < wicks->len; i++)
    g_ptr_array_add (sorted, wicks->pdata[i]);
  g_ptr_array_sort (sorted, compare_wicks);
  return sorted;
}

void
wb_plan_shelf_fill_wicks (WbTickList      *list,
                          const GPtrArray *wicks)
{
  g_autofree WbTick *ticks = g_new0 (WbTick, wicks->len + 1);
  g_auto (GStrv) titles = g_new0 (char *, wicks->len + 1);
  g_autoptr (GPtrArray) sorted = wb_plan_shelf_sort_wicks (wicks);

  for (guint i = 0; i < sorted->len; i++)
    {
      const WbWick *wick = sorted->pdata[i];

      titles[i] = wb_material_dup_title (wick);
      ticks[i] = (WbTick) { wick->record.id, wick->series, wick->size, titles[i] };
    }
  wb_tick_list_fill (list, ticks, wicks->len);
}

char *
wb_plan_shelf_dup_missing (const WbAppMaterials *materials)
{
  const struct { const GPtrArray *records; const char *word; } needed[] = {
    { materials->vessels, _("vessels") },
    { materials->waxes, _("waxes") },
    { materials->wicks, _("wicks") },
  };
  g_autoptr (GString) words = g_string_new (NULL);

  for (guint i = 0; i < G_N_ELEMENTS (needed); i++)
    if (needed[i].records->len == 0)
      g_string_append_printf (words, "%s%s", words->len > 0 ? ", " : "", needed[i].word);
  if (words->len == 0)
    return NULL;
  /* Translators: one or more of vessels, waxes, wicks. */
  return g_strdup_printf (_("A plan chooses among the materials of the notebook, which has none yet of: %s."), words->str);
}
