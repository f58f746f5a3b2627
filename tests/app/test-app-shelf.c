/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-loop.h"
#include "wb-app-query.h"
#include "wb-app-shelf.h"

#include <glib/gstdio.h>
#include <math.h>

/* Text of a file of this name; caller frees the path. */
static char *
write_sheet (const char *text)
{
  char *path = app_new_path ();
  g_autoptr (GError) error = NULL;

  g_file_set_contents (path, text, -1, &error);
  g_assert_no_error (error);
  return path;
}

static WbAppShelf *
look (WbAppNotebook *notebook,
      const char    *path)
{
  g_autoptr (GError) error = NULL;
  WbAppShelf *shelf = wb_app_shelf_look_sync (notebook, NULL, path, &error);

  g_assert_no_error (error);
  return shelf;
}

static gint64
write_seen (WbAppNotebook    *notebook,
            const WbAppShelf *seen,
            gboolean          partly,
            GError          **error)
{
  g_autoptr (GAsyncResult) result = NULL;

  wb_app_shelf_write_async (notebook, seen, partly, app_keep_result_cb, &result);
  return wb_app_shelf_write_finish (notebook, app_wait_result (&result), error);
}

static GPtrArray *
list (WbAppNotebook      *notebook,
      const WbRecordType *type)
{
  g_autoptr (GError) error = NULL;
  GPtrArray *records = wb_app_query_list_sync (notebook, type, &error);

  g_assert_no_error (error);
  return records;
}

static const char *const shelf_sheet =
  "record,of,name,density,inner_diameter_mm,series,size,blend,code,amount,wax,from_mm,to_mm,part,share_pct,position,kind,to_c\n"
  /* what belongs to a material may stand before it */
  "lot,wax,Teal,,,,,,W-9,5000,,,,,,,,\n"
  "wax,,Teal,0.86,,,,,,,,,,,,,soy,\n"
  "vessel,,Bittern,,76,,,,,,,,,,,,,\n"
  "wick,,,,,Sedge,S-4,,,,,,,,,,cored,\n"
  "wick_guide,,,,,Sedge,S-4,,,,Teal,60,70,,,,,\n"
  "fragrance,,Rain,,,,,yes,,,,,,,,,,\n"
  "fragrance,,Moss,,,,,,,,,,,,,,,\n"
  "fragrance_part,,Rain,,,,,,,,,,,Moss,100,,,\n"
  "method_step,,Teal,,,,,,,,,,,,,1,heat,80\n"
  "lot,vessel,Bittern,,,,,,V-1,24,,,,,,,,\n";

/* All of it is one entry, by which undo takes all of it back. */
static void
test_one_entry (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  g_autofree char *path = write_sheet (shelf_sheet), *why = NULL;
  g_autofree char *name = g_path_get_basename (path);
  g_autoptr (WbAppShelf) seen = look (notebook, path);
  g_autoptr (GError) error = NULL;
  gint64 before = wb_app_notebook_get_last_entry (notebook);
  const WbRecordType *const types[] = { &wb_wax_type, &wb_vessel_type, &wb_wick_type, &wb_wick_guide_type, &wb_fragrance_part_type, &wb_method_step_type };

  for (guint i = 0; i < seen->refused->len; i++)
    g_test_message ("%s", ((WbLogRemark *) seen->refused->pdata[i])->rule);
  g_assert_cmpuint (seen->n[WB_APP_SHELF_NEW], ==, 10);
  g_assert_cmpint (wb_app_notebook_get_last_entry (notebook), ==, before);
  g_assert_cmpint (write_seen (notebook, seen, FALSE, &error), ==, before + 1);
  g_assert_no_error (error);
  g_assert_cmpint (wb_app_notebook_get_last_entry (notebook), ==, before + 1);
  why = g_strdup_printf ("Import materials from %s", name);
  g_assert_cmpstr (wb_app_notebook_get_undo_label (notebook), ==, why);
  for (guint i = 0; i < G_N_ELEMENTS (types); i++)
    {
      g_autoptr (GPtrArray) records = list (notebook, types[i]);

      g_assert_cmpuint (records->len, ==, 1);
    }
  {
    g_autoptr (GPtrArray) lots = list (notebook, &wb_lot_type), waxes = list (notebook, &wb_wax_type), guides = list (notebook, &wb_wick_guide_type);
    const WbWax *teal = waxes->pdata[0];
    guint of_teal = 0;

    for (guint i = 0; i < lots->len; i++)
      of_teal += ((WbLot *) lots->pdata[i])->material == teal->record.id;
    g_assert_cmpuint (lots->len, ==, 2);
    g_assert_cmpuint (of_teal, ==, 1);
    g_assert_cmpint (((WbWickGuide *) guides->pdata[0])->wax, ==, teal->record.id);
  }
  app_undo (notebook, FALSE);
  for (guint i = 0; i < G_N_ELEMENTS (types); i++)
    {
      g_autoptr (GPtrArray) records = list (notebook, types[i]);

      g_assert_cmpuint (records->len, ==, 0);
    }
  app_close (notebook);
}

/* The file alone says it: what it leaves empty or out stays, and the name is found whatever its case. */
static void
test_changed (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  WbWax *wax = wb_record_new (&wb_wax_type);
  g_autofree char *path = write_sheet ("record,name,density,melt_c,supplier\nwax,PLOVER,0.88,,\n");
  g_autofree char *again = write_sheet ("record,name,density\nwax,Plover,0.88\n");
  g_autoptr (WbAppShelf) seen = NULL, same = NULL;
  g_autoptr (GPtrArray) waxes = NULL;
  g_autoptr (GError) error = NULL;

  wax->name = g_strdup ("Plover");
  wax->density = 0.86;
  wax->melt_c = 52;
  wax->supplier = g_strdup ("Pell");
  app_save (notebook, wax);
  seen = look (notebook, path);
  g_assert_cmpuint (seen->n[WB_APP_SHELF_CHANGED], ==, 1);
  g_assert_cmpstr (((WbAppShelfRow *) seen->rows->pdata[0])->title, ==, "Wax: Plover");
  g_assert_cmpstr (((WbAppShelfRow *) seen->rows->pdata[0])->words, ==, "Density or specific gravity 0.86 → 0.88");
  g_assert_cmpint (write_seen (notebook, seen, FALSE, &error), >, 0);
  waxes = list (notebook, &wb_wax_type);
  g_assert_cmpuint (waxes->len, ==, 1);
  g_assert_cmpstr (((WbWax *) waxes->pdata[0])->name, ==, "Plover");
  g_assert_cmpfloat (((WbWax *) waxes->pdata[0])->density, ==, 0.88);
  g_assert_cmpfloat (((WbWax *) waxes->pdata[0])->melt_c, ==, 52);
  g_assert_cmpstr (((WbWax *) waxes->pdata[0])->supplier, ==, "Pell");
  same = look (notebook, again);
  g_assert_cmpuint (same->n[WB_APP_SHELF_UNCHANGED], ==, 1);
  g_assert_cmpint (write_seen (notebook, same, FALSE, &error), ==, 0);
  g_assert_no_error (error);
  wb_record_free (wax);
  app_close (notebook);
}

static void
test_refused (void)
{
  static const struct { const char *sheet, *column, *words; guint line; } cases[] = {
    { "record,name\nwax,Teal\nwax,teal\n", "", "line 2 is about the same one", 3 },
    { "record,name,density\nwax,,0.9\n", "name", "empty: a new one needs a value", 2 },
    { "record,density\nwax,0.9\n", "name", "no such column", 2 },
    { "record,name,inner_diameter_mm\nvessel,Bittern,\n", "inner_diameter_mm", "needs a value", 2 },
    { "record,name,of,code\nlot,Teal,wax,L\n", "name", "no wax “Teal”", 2 },
    { "record,name,of,code\nlot,Bittern,vessel,L\n", "name", "or several", 2 },
    { "record,series,size,from_mm,to_mm\nwick,S,1,,\nwick_guide,S,1,70,60\n", "to_mm", "less than", 3 },
    { "record,name,part,share_pct\nfragrance,Rain,,\nfragrance_part,Rain,Rain,50\n", "part", "part of itself", 3 },
    { "record,name,part,share_pct\nfragrance,Rain,,\nfragrance,Moss,,\nfragrance_part,Rain,Moss,50\n", "name", "not a blend", 4 },
    { "record,name,part,share_pct,blend\nfragrance,Rain,,,yes\nfragrance_part,Rain,Fern,50,\n", "part", "no fragrance “Fern”", 3 },
    { "record,name,inner_diameter_mm,wax_height_mm,wall_mm\nvessel,Bittern,40,80,45\n", "wall_mm", "", 2 },
  };
  WbAppNotebook *notebook = app_new_notebook ();
  gint64 before = wb_app_notebook_get_last_entry (notebook);

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *path = write_sheet (cases[i].sheet);
      g_autoptr (WbAppShelf) seen = look (notebook, path);
      g_autoptr (GError) error = NULL;
      const WbLogRemark *remark;

      g_test_message ("%s", cases[i].sheet);
      g_assert_cmpuint (seen->n[WB_APP_SHELF_REFUSED], ==, 1);
      remark = seen->refused->pdata[0];
      g_assert_cmpuint (remark->line, ==, cases[i].line);
      g_assert_cmpstr (remark->column, ==, cases[i].column);
      if (strstr (remark->rule, cases[i].words) == NULL)
        g_error ("“%s” does not say “%s”", remark->rule, cases[i].words);
      /* All or nothing. */
      g_assert_cmpint (write_seen (notebook, seen, FALSE, &error), ==, 0);
      g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_REFUSED);
    }
  g_assert_cmpint (wb_app_notebook_get_last_entry (notebook), ==, before);
  app_close (notebook);
}

static void
test_partly (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  g_autofree char *path = write_sheet ("record,name,density\nwax,Teal,0.9\nwax,Plover,9\n");
  g_autoptr (WbAppShelf) seen = look (notebook, path);
  g_autoptr (GPtrArray) waxes = NULL;
  g_autoptr (GError) error = NULL;

  g_assert_cmpint (write_seen (notebook, seen, TRUE, &error), >, 0);
  g_assert_no_error (error);
  waxes = list (notebook, &wb_wax_type);
  g_assert_cmpuint (waxes->len, ==, 1);
  g_assert_cmpstr (((WbWax *) waxes->pdata[0])->name, ==, "Teal");
  app_close (notebook);
}

/* Between the look and the yes somebody else changed the same wax: nothing is written over it. */
static void
test_changed_meanwhile (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  gint64 id = app_add_wax (notebook, "Plover");
  g_autofree char *path = write_sheet ("record,name,density\nwax,Plover,0.88\n");
  g_autoptr (WbAppShelf) seen = look (notebook, path);
  g_autoptr (GPtrArray) waxes = list (notebook, &wb_wax_type), after = NULL;
  g_autoptr (GError) error = NULL;

  g_assert_cmpint (((WbWax *) waxes->pdata[0])->record.id, ==, id);
  ((WbWax *) waxes->pdata[0])->density = 0.87;
  app_save (notebook, waxes->pdata[0]);
  g_assert_cmpint (write_seen (notebook, seen, FALSE, &error), ==, 0);
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_CHANGED);
  after = list (notebook, &wb_wax_type);
  g_assert_cmpfloat (((WbWax *) after->pdata[0])->density, ==, 0.87);
  app_close (notebook);
}

static void
test_warnings (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  g_autofree char *path = write_sheet ("record,name,series,size,supplier,blend,part,share_pct\nwick,,S,1,Pell,,,\nwick,,S,2,Dunn,,,\n"
                                       "fragrance,Rain,,,,yes,,\nfragrance,Moss,,,,,,\nfragrance_part,Rain,,,,,Moss,40\n");
  g_autoptr (WbAppShelf) seen = look (notebook, path);

  g_assert_cmpuint (seen->n[WB_APP_SHELF_REFUSED], ==, 0);
  g_assert_cmpuint (seen->warnings->len, ==, 2);
  g_assert_nonnull (strstr (seen->warnings->pdata[0], "two series of one name"));
  g_assert_nonnull (strstr (seen->warnings->pdata[1], "40"));
  app_close (notebook);
}

/* Out of one notebook, into an empty one: out of that come the same bytes. */
static void
test_round (void)
{
  WbAppNotebook *first = app_new_notebook (), *second = app_new_notebook ();
  g_autofree char *sheet = write_sheet (shelf_sheet), *a = app_new_path (), *b = app_new_path (), *before = NULL, *after = NULL;
  g_autoptr (WbAppShelf) seen = look (first, sheet), again = NULL;
  g_autoptr (GError) error = NULL;

  g_assert_cmpint (write_seen (first, seen, FALSE, &error), >, 0);
  g_assert_true (wb_app_shelf_export_sync (first, NULL, a, &error));
  again = look (second, a);
  g_assert_cmpint (write_seen (second, again, FALSE, &error), >, 0);
  g_assert_true (wb_app_shelf_export_sync (second, NULL, b, &error));
  g_assert_no_error (error);
  g_assert_true (g_file_get_contents (a, &before, NULL, NULL) && g_file_get_contents (b, &after, NULL, NULL));
  g_assert_cmpstr (before, ==, after);
  app_close (first);
  app_close (second);
}

void
test_app_shelf_add (void)
{
  g_test_add_func ("/app/shelf/an-import-is-one-entry-and-undo-takes-all-of-it-back", test_one_entry);
  g_test_add_func ("/app/shelf/an-empty-cell-leaves-what-is-there", test_changed);
  g_test_add_func ("/app/shelf/what-does-not-fit-the-notebook-is-refused-and-nothing-written", test_refused);
  g_test_add_func ("/app/shelf/the-others-come-in-where-the-person-says-so", test_partly);
  g_test_add_func ("/app/shelf/what-somebody-else-changed-meanwhile-stays", test_changed_meanwhile);
  g_test_add_func ("/app/shelf/what-one-would-hardly-want-is-told", test_warnings);
  g_test_add_func ("/app/shelf/out-and-in-and-out-is-the-same", test_round);
}
