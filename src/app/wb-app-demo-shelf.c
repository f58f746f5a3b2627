/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-demo-private.h"

#include <math.h>

/* The shelf of an invented workshop. No real vessel, wax, wick or fragrance is meant by any name or figure. */

typedef struct
{
  const char *name;
  WbWall      wall;
  double      inner_mm, middle_mm, base_mm, mouth_mm, wax_height_mm, headspace_mm, wall_mm, tare_g, water_g;
} Vessel;

static const Vessel vessels[WB_APP_DEMO_N_VESSELS] = {
  [WB_APP_DEMO_HOB] = { "Hob", WB_WALL_GLASS, 76.2, 76, 75, 76.2, 80, 14, 3.5, 318, 364 },
  [WB_APP_DEMO_FIRKIN] = { "Firkin", WB_WALL_CERAMIC, 88, 88, 86, 88, 78, 16, 5, 402, 473 },
  [WB_APP_DEMO_THIMBLE] = { "Thimble", WB_WALL_CERAMIC, 63.5, 63, 60, 63.5, 70, 12, 6, 296, 220 },
};

typedef struct
{
  const char *name;
  WbWaxKind   kind;
  double      density, max_load_pct, melt_c, heat_c, add_c, pour_c, burn_cure_days, smell_cure_days, hold_back_pct;
} Wax;

static const Wax waxes[WB_APP_DEMO_N_WAXES] = {
  [WB_APP_DEMO_DUNMARL] = { "Dunmarl soft", WB_WAX_SOY, 0.90, 10, 49, 80, 74, 60, 7, 14, 0 },
  [WB_APP_DEMO_PELLOW] = { "Pellow blend", WB_WAX_BLEND, 0.89, 12, 54, 82, 76, 68, 3, 5, 6 },
};

typedef struct
{
  const char *name, *letter;
  WbWickKind  kind;
  const char *priming;
  double      first_guide_mm, guide_step_mm;
} Series;

static const Series series[WB_APP_DEMO_N_SERIES] = {
  [WB_APP_DEMO_ARREL] = { "Arrel", "A", WB_WICK_FLAT_BRAID, "vegetable wax", 50, 6 },
  [WB_APP_DEMO_BROSK] = { "Brosk", "B", WB_WICK_CORED, "vegetable wax", 55, 6 },
  [WB_APP_DEMO_CINDLE] = { "Cindle", "C", WB_WICK_SQUARE_BRAID, "none", 52, 7 },
};

/* Fuel flow of one wick in a usual wax, g/h, by step: the model's truth, which no page shows. */
static const double strength[WB_APP_DEMO_N_SERIES][WB_APP_DEMO_STEPS] = {
  [WB_APP_DEMO_ARREL] = { 3.0, 3.5, 4.1, 4.8, 5.6, 6.5 },
  [WB_APP_DEMO_BROSK] = { 3.4, 3.9, 4.5, 5.2, 6.0, 6.9 },
  [WB_APP_DEMO_CINDLE] = { 3.2, 3.8, 4.5, 5.3, 6.2, 7.2 },
};

static const struct { const char *name; double flash_c, ifra_pct, effect, throw_strength; } fragrances[WB_APP_DEMO_N_FRAGRANCES] = {
  [WB_APP_DEMO_QUIMBER] = { "Quimber leaf", 93, 14, -0.010, 4.4 },
  [WB_APP_DEMO_OSTREL] = { "Ostrel water", 71, 9, -0.016, 3.6 },
};

static const char invented[] = "Invented for this demo; no real product is meant.";

static gboolean
put_vessels (WbAppDemo     *demo,
             WbStoreChange *change,
             GError       **error)
{
  for (guint i = 0; i < WB_APP_DEMO_N_VESSELS; i++)
    {
      const Vessel *from = &vessels[i];
      WbVessel *vessel = demo->shelf.vessels[i] = wb_record_new (&wb_vessel_type);

      vessel->name = g_strdup (from->name);
      vessel->shape = WB_SHAPE_ROUND;
      vessel->inner_diameter_mm = from->inner_mm;
      vessel->middle_diameter_mm = from->middle_mm;
      vessel->base_diameter_mm = from->base_mm;
      vessel->mouth_mm = from->mouth_mm;
      vessel->wax_height_mm = from->wax_height_mm;
      vessel->headspace_mm = from->headspace_mm;
      vessel->wall_mm = from->wall_mm;
      vessel->tare_g = from->tare_g;
      vessel->water_g = from->water_g;
      vessel->water_c = 20;
      vessel->wall = (int) from->wall;
      vessel->origin = WB_ORIGIN_CANDLE_WARE;
      vessel->note = g_strdup (invented);
      if (!wb_store_change_put (change, vessel, error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
put_waxes (WbAppDemo     *demo,
           WbStoreChange *change,
           GError       **error)
{
  for (guint i = 0; i < WB_APP_DEMO_N_WAXES; i++)
    {
      const Wax *from = &waxes[i];
      WbWax *wax = demo->shelf.waxes[i] = wb_record_new (&wb_wax_type);
      WbLot *lot;
      gboolean put;

      wax->name = g_strdup (from->name);
      wax->kind = (int) from->kind;
      wax->density = from->density;
      wax->density_c = 20;
      wax->max_load_pct = from->max_load_pct;
      wax->max_load_basis = WB_BASIS_WAX;
      wax->melt_c = from->melt_c;
      wax->heat_c = from->heat_c;
      wax->add_c = from->add_c;
      wax->pour_c = from->pour_c;
      wax->burn_cure_days = from->burn_cure_days;
      wax->smell_cure_days = from->smell_cure_days;
      wax->hold_back_pct = from->hold_back_pct;
      wax->note = g_strdup (invented);
      if (!wb_store_change_put (change, wax, error))
        return FALSE;

      lot = wb_record_new (&wb_lot_type);
      lot->material = wax->record.id;
      lot->code = g_strdup_printf ("W-%u07", i + 1);
      put = wb_store_change_put (change, lot, error);
      wb_record_free (lot);
      if (!put)
        return FALSE;
    }
  return TRUE;
}

static gboolean
put_guide (WbStoreChange *change,
           const WbWick  *wick,
           double         from_mm,
           double         to_mm,
           GError       **error)
{
  WbWickGuide *guide = wb_record_new (&wb_wick_guide_type);
  gboolean put;

  guide->wick = wick->record.id;
  guide->from_mm = from_mm;
  guide->to_mm = to_mm;
  put = wb_store_change_put (change, guide, error);
  wb_record_free (guide);
  return put;
}

static gboolean
put_wicks (WbAppDemo     *demo,
           WbStoreChange *change,
           GError       **error)
{
  for (guint i = 0; i < WB_APP_DEMO_N_SERIES; i++)
    for (guint step = 0; step < WB_APP_DEMO_STEPS; step++)
      {
        const Series *from = &series[i];
        WbWick *wick = demo->shelf.wicks[i][step] = wb_record_new (&wb_wick_type);
        double guide_mm = from->first_guide_mm + from->guide_step_mm * step;

        wick->series = g_strdup (from->name);
        wick->size = g_strdup_printf ("%s%u", from->letter, step + 1);
        wick->step = step + 1;
        wick->kind = (int) from->kind;
        wick->priming = g_strdup (from->priming);
        wick->tab_mm = 20;
        wick->collar_mm = 6;
        wick->note = g_strdup (invented);
        if (!wb_store_change_put (change, wick, error)
            || !put_guide (change, wick, guide_mm, guide_mm + from->guide_step_mm, error))
          return FALSE;
      }
  return TRUE;
}

static gboolean
put_fragrances (WbAppDemo     *demo,
                WbStoreChange *change,
                GError       **error)
{
  for (guint i = 0; i < WB_APP_DEMO_N_FRAGRANCES; i++)
    {
      WbFragrance *fragrance = demo->shelf.fragrances[i] = wb_record_new (&wb_fragrance_type);

      fragrance->name = g_strdup (fragrances[i].name);
      fragrance->flash_c = fragrances[i].flash_c;
      fragrance->ifra_limit_pct = fragrances[i].ifra_pct;
      fragrance->note = g_strdup (invented);
      if (!wb_store_change_put (change, fragrance, error))
        return FALSE;
    }
  return TRUE;
}

gboolean
wb_app_demo_stock_shelf (WbAppDemo *demo,
                         int        day,
                         GError   **error)
{
  WbStoreChange *change = wb_app_demo_begin (demo, day, 10, 0, "material", "Enter the materials on the shelf", error);

  if (change == NULL)
    return FALSE;
  if (!put_vessels (demo, change, error) || !put_waxes (demo, change, error)
      || !put_wicks (demo, change, error) || !put_fragrances (demo, change, error))
    {
      wb_store_rollback (change);
      return FALSE;
    }
  return wb_store_commit (change, NULL, error);
}

/* The first lot is not empty yet: what was planned with it is still poured of it. */
gboolean
wb_app_demo_receive_lot (WbAppDemo *demo,
                         int        day,
                         GError   **error)
{
  WbStoreChange *change = wb_app_demo_begin (demo, day, 11, 0, "material", "Enter a lot of Dunmarl soft", error);
  g_autoptr (WbRecord) record = wb_record_new (&wb_lot_type);
  WbLot *lot = (WbLot *) (gpointer) record;

  if (change == NULL)
    return FALSE;
  lot->material = demo->shelf.waxes[WB_APP_DEMO_DUNMARL]->record.id;
  lot->code = g_strdup ("W-112");
  lot->received_on = demo->today + day;
  if (!wb_store_change_put (change, lot, error))
    {
      wb_store_rollback (change);
      return FALSE;
    }
  return wb_store_commit (change, NULL, error);
}

void
wb_app_demo_clear_shelf (WbAppDemo *demo)
{
  for (guint i = 0; i < WB_APP_DEMO_N_VESSELS; i++)
    wb_record_free (demo->shelf.vessels[i]);
  for (guint i = 0; i < WB_APP_DEMO_N_WAXES; i++)
    wb_record_free (demo->shelf.waxes[i]);
  for (guint i = 0; i < WB_APP_DEMO_N_SERIES; i++)
    for (guint step = 0; step < WB_APP_DEMO_STEPS; step++)
      wb_record_free (demo->shelf.wicks[i][step]);
  for (guint i = 0; i < WB_APP_DEMO_N_FRAGRANCES; i++)
    wb_record_free (demo->shelf.fragrances[i]);
}

WbCraftPhysicsSpec
wb_app_demo_spec (const WbAppDemo           *demo,
                  const WbAppDemoExperiment *plan,
                  guint                      cell)
{
  const WbAppDemoCell *of = &plan->cells[cell];
  const Vessel *vessel = &vessels[of->vessel];
  WbCraftPhysicsSpec spec = wb_craft_physics_spec_usual ();

  spec.inner_mm = vessel->inner_mm;
  spec.wax_height_mm = vessel->wax_height_mm;
  spec.tare_g = vessel->tare_g;
  spec.density = waxes[plan->wax].density;
  spec.wax_heat = plan->wax == WB_APP_DEMO_PELLOW ? 1.05 : 1.0;
  spec.strength_g_per_h = strength[plan->series][of->step - 1];
  spec.sample_sd = 0.025;
  spec.burn_sd = 0.02;
  /* the thick base of the Thimble keeps the heat: what is right at the top runs hot at the bottom */
  spec.bottom_heat = of->vessel == WB_APP_DEMO_THIMBLE ? 2.25 : 0.5;
  spec.cap_tendency = plan->series == WB_APP_DEMO_CINDLE ? 1.3 : 0.8;
  if (of->fragrance != WB_APP_DEMO_UNSCENTED)
    {
      spec.load_pct = plan->load_pct;
      spec.load_effect = fragrances[of->fragrance].effect;
      spec.throw_strength = fragrances[of->fragrance].throw_strength;
    }
  return spec;
}
