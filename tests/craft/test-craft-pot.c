/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-pot.h"

#include <math.h>

/*
 * A sheet of 8 % of the wax: 1412.2 g and 113.0 g. The wax holds 10 % of the wax, the oil's limit is 9 % of the total (invented figures).
 * The loads by hand: 211.3 / 1412.2 = 14.96 %; 211.3 / (1412.2 + 211.3) = 13.02 %.
 */
typedef struct
{
  const char *name;
  double      wax_g, oil_g;
  const char *lines;
} Case;

static const Case cases[] = {
  { "nothing weighed", NAN, NAN, "" },
  { "as meant", 1412.2, 113.0, "" },
  { "a gram or two off", 1409, 114.6, "" },
  { "nearly twice the oil", 1412.2, 211.3,
    "Fragrance oil, weighed: 211.3\302\240g, planned 113.0\302\240g\n"
    "Load as weighed: 14.96\302\240% of the wax, planned 8\302\240%\n"
    "Load as weighed: 14.96\302\240% of the wax, more than this wax holds by its supplier, 10\302\240%\n"
    "Load as weighed: 13.02\302\240% of the total, over its IFRA limit for category 12, 9\302\240% of the finished candle\n" },
  { "nearly twice the oil, the wax not weighed", NAN, 211.3,
    "Fragrance oil, weighed: 211.3\302\240g, planned 113.0\302\240g\n"
    "Load by the oil as weighed and the wax as planned: 14.96\302\240% of the wax, more than this wax holds by its supplier, 10\302\240%\n"
    "Load by the oil as weighed and the wax as planned: 13.02\302\240% of the total, over its IFRA limit for category 12, 9\302\240% of the finished candle\n" },
  { "ten times the wax", 14122, NAN, "Wax, weighed: 14122.0\302\240g, planned 1412.2\302\240g\n" },
  { "ten times the wax, the oil weighed", 14122, 113,
    "Wax, weighed: 14122.0\302\240g, planned 1412.2\302\240g\n"
    "Load as weighed: 0.8\302\240% of the wax, planned 8\302\240%\n" },
  /* 113 / 706.1 = 16 %; 113 / 819.1 = 13.8 % */
  { "half the wax", 706.1, NAN,
    "Wax, weighed: 706.1\302\240g, planned 1412.2\302\240g\n"
    "Load by the wax as weighed and the oil as planned: 16\302\240% of the wax, more than this wax holds by its supplier, 10\302\240%\n"
    "Load by the wax as weighed and the oil as planned: 13.8\302\240% of the total, over its IFRA limit for category 12, 9\302\240% of the finished candle\n" },
  /* half a batch keeps its load */
  { "half of both", 706.1, 56.5,
    "Wax, weighed: 706.1\302\240g, planned 1412.2\302\240g\n"
    "Fragrance oil, weighed: 56.5\302\240g, planned 113.0\302\240g\n" },
};

static char *
dup_text (const GPtrArray *lines)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < lines->len; i++)
    g_string_append_printf (text, "%s\n", ((const WbCraftPotLine *) lines->pdata[i])->text);
  return g_string_free (text, FALSE);
}

static WbBatch *
batch_new (double wax_g,
           double oil_g)
{
  WbBatch *batch = wb_record_new (&wb_batch_type);

  batch->load_pct = 8;
  batch->load_basis = WB_BASIS_WAX;
  batch->wax_g = 1412.2;
  batch->oil_g = 113.0;
  batch->actual_wax_g = wax_g;
  batch->actual_oil_g = oil_g;
  return batch;
}

static void
test_lines (void)
{
  g_autoptr (WbRecord) wax = wb_record_new (&wb_wax_type), fragrance = wb_record_new (&wb_fragrance_type);

  ((WbWax *) (gpointer) wax)->max_load_pct = 10;
  ((WbWax *) (gpointer) wax)->max_load_basis = WB_BASIS_WAX;
  ((WbFragrance *) (gpointer) fragrance)->ifra_limit_pct = 9;
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      WbBatch *batch = batch_new (cases[i].wax_g, cases[i].oil_g);
      g_autoptr (GPtrArray) lines = wb_craft_pot_find (batch, (WbWax *) (gpointer) wax, (WbFragrance *) (gpointer) fragrance, FALSE);
      g_autofree char *text = dup_text (lines);

      g_test_message ("%s", cases[i].name);
      g_assert_cmpstr (text, ==, cases[i].lines);
      wb_record_free (batch);
    }
}

/* Without a sheet there is no mass to hold it against: the load and the limits are held all the same. An additive is of the total. */
static void
test_no_sheet (void)
{
  g_autoptr (WbRecord) wax = wb_record_new (&wb_wax_type), fragrance = wb_record_new (&wb_fragrance_type);
  WbBatch *batch = batch_new (1000, 100);
  g_autoptr (GPtrArray) lines = NULL, none = NULL;
  g_autofree char *text = NULL;

  batch->wax_g = batch->oil_g = NAN;
  batch->additive_g = 50;
  ((WbWax *) (gpointer) wax)->max_load_pct = 10;
  ((WbWax *) (gpointer) wax)->max_load_basis = WB_BASIS_WAX;
  ((WbFragrance *) (gpointer) fragrance)->ifra_limit_pct = 8.69;
  lines = wb_craft_pot_find (batch, (WbWax *) (gpointer) wax, (WbFragrance *) (gpointer) fragrance, FALSE);
  text = dup_text (lines);
  /* 100 / 1150 = 8.70 %; exactly what the wax holds is not too much */
  g_assert_cmpstr (text, ==, "Load as weighed: 10\302\240% of the wax, planned 8\302\240%\n"
                             "Load as weighed: 8.7\302\240% of the total, over its IFRA limit for category 12, 8.69\302\240% of the finished candle\n");
  batch->load_pct = 10;
  none = wb_craft_pot_find (batch, NULL, NULL, FALSE);
  g_assert_cmpuint (none->len, ==, 0);
  wb_record_free (batch);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/craft/pot/what-was-weighed-is-held-against-what-was-meant", test_lines);
  g_test_add_func ("/craft/pot/without-a-sheet-the-limits-are-held-all-the-same", test_no_sheet);
  return g_test_run ();
}
