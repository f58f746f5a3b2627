/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-loop.h"
#include "wb-app-demo.h"
#include "wb-app-lot-trace.h"
#include "wb-app-query.h"

/* What a recall must find: a lot of an oil within what a scented sample of the demo was poured of (all invented). */

static void
assert_samples (WbAppNotebook *notebook,
                gint64         material,
                const char    *code,
                guint          samples)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbAppLotTrace) trace = wb_app_lot_trace_sync (notebook, material, code, &error);

  g_assert_no_error (error);
  g_assert_cmpuint (trace->samples, ==, samples);
}

static gint64
add_blend (WbAppNotebook *notebook,
           gint64         blend,
           gint64         oil)
{
  g_autoptr (WbRecord) record = wb_record_new (&wb_fragrance_part_type);
  WbFragrancePart *part = (WbFragrancePart *) (gpointer) record;

  part->fragrance = blend;
  part->part = oil;
  part->share_pct = 60;
  return app_save (notebook, part);
}

static void
delete_part (WbAppNotebook *notebook,
             gint64         id)
{
  g_autoptr (GPtrArray) parts = wb_app_query_list_sync (notebook, &wb_fragrance_part_type, NULL);
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;

  for (guint i = 0; i < parts->len; i++)
    if (((const WbRecord *) parts->pdata[i])->id == id)
      wb_app_notebook_delete_async (notebook, "Take an oil out of a blend", parts->pdata[i], NULL, app_keep_result_cb, &result);
  g_assert_cmpint (wb_app_notebook_save_finish (notebook, app_wait_result (&result), NULL, &error), >, 0);
  g_assert_no_error (error);
}

/* A sample of which it is known that its scent is that blend, poured with those lots. */
static void
pour_scented (WbAppNotebook *notebook,
              gint64         blend,
              const char    *lots)
{
  g_autoptr (GPtrArray) cells = wb_app_query_list_sync (notebook, &wb_cell_type, NULL);
  g_autoptr (GPtrArray) samples = NULL;
  WbCell *cell = g_ptr_array_index (cells, 0);
  WbSample *sample;

  cell->fragrance = blend;
  cell->load_pct = 8;
  app_save (notebook, cell);
  samples = wb_app_query_list_by_sync (notebook, &wb_sample_type, "cell", cell->record.id, NULL);
  sample = g_ptr_array_index (samples, 0);
  g_free (sample->fragrance_lot);
  sample->fragrance_lot = g_strdup (lots);
  app_save (notebook, sample);
}

static void
test_oil_left (void)
{
  g_autofree char *path = app_new_path ();
  WbAppNotebook *notebook;
  gint64 harbour, inner, cedar, salt, part, deeper;

  g_assert_true (wb_app_demo_write (path, NULL));
  notebook = app_open (path);
  harbour = app_add_fragrance (notebook, "Invented harbour");
  inner = app_add_fragrance (notebook, "Invented base");
  cedar = app_add_fragrance (notebook, "Invented cedar");
  salt = app_add_fragrance (notebook, "Invented salt");
  part = add_blend (notebook, harbour, cedar);
  add_blend (notebook, harbour, inner);
  deeper = add_blend (notebook, inner, salt);
  pour_scented (notebook, harbour, "C-1; S-4");
  assert_samples (notebook, cedar, "C-1", 1);
  assert_samples (notebook, salt, "S-4", 1);
  /* mixed otherwise since: what was poured holds it all the same */
  delete_part (notebook, part);
  delete_part (notebook, deeper);
  assert_samples (notebook, cedar, "C-1", 1);
  assert_samples (notebook, salt, "S-4", 1);
  assert_samples (notebook, cedar, "C-2", 0);
  app_close (notebook);
}

void
test_app_lot_trace_add (void)
{
  g_test_add_func ("/app/lot-trace/an-oil-that-left-its-blend-is-found", test_oil_left);
}
