/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-views.h"

#define N_WICKS G_N_ELEMENTS (((TestShelf *) NULL)->wicks)

static WbVessel *
vessel_new (const char *name)
{
  WbVessel *vessel = wb_record_new (&wb_vessel_type);

  vessel->name = g_strdup (name);
  vessel->inner_diameter_mm = 76;
  vessel->water_g = 350;
  vessel->water_c = 20;
  return vessel;
}

static WbWax *
wax_new (void)
{
  WbWax *wax = wb_record_new (&wb_wax_type);

  wax->name = g_strdup ("Heath blend");
  wax->density = 0.9;
  wax->max_load_pct = 10;
  wax->max_load_basis = WB_BASIS_WAX;
  wax->heat_c = 85;
  wax->add_c = 80;
  wax->pour_c = 65;
  wax->burn_cure_days = 7;
  wax->smell_cure_days = 14;
  return wax;
}

static WbFragrance *
fragrance_new (void)
{
  WbFragrance *fragrance = wb_record_new (&wb_fragrance_type);

  fragrance->name = g_strdup ("Harbour mist");
  fragrance->flash_c = 70;
  fragrance->ifra_limit_pct = 15;
  return fragrance;
}

void
test_shelf_fill (WbWindow   *window,
                 const char *vessel,
                 TestShelf  *shelf)
{
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (wb_record_free);
  g_autoptr (GArray) ids = NULL;
  g_autoptr (GError) error = NULL;

  g_ptr_array_add (records, vessel_new (vessel));
  g_ptr_array_add (records, wax_new ());
  g_ptr_array_add (records, fragrance_new ());
  for (guint i = 0; i < N_WICKS; i++)
    {
      WbWick *wick = wb_record_new (&wb_wick_type);

      wick->series = g_strdup ("Sedge");
      wick->size = g_strdup_printf ("S-%u", i + 2);
      wick->step = i + 2;
      g_ptr_array_add (records, wick);
    }
  wb_app_notebook_save_sync (test_notebook (window), "Fill the shelf", records, &ids, &error);
  g_assert_no_error (error);
  shelf->vessel = g_array_index (ids, gint64, 0);
  shelf->wax = g_array_index (ids, gint64, 1);
  shelf->fragrance = g_array_index (ids, gint64, 2);
  for (guint i = 0; i < N_WICKS; i++)
    shelf->wicks[i] = g_array_index (ids, gint64, 3 + i);
  test_settle (window);
}
