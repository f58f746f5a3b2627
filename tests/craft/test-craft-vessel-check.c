/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-craft.h"
#include "wb-craft-vessel-check.h"

#include <math.h>

static WbVessel *
vessel_new (void)
{
  WbVessel *vessel = wb_record_new (&wb_vessel_type);

  vessel->name = g_strdup ("Tern");
  vessel->shape = WB_SHAPE_ROUND;
  vessel->inner_diameter_mm = 76;
  vessel->wax_height_mm = 80;
  return vessel;
}

/*
 * Volumes as mass over density, the density as in G. S. Kell, J. Chem. Eng. Data 20 (1975) 97, quoted in Jones and Harris,
 * J. Res. NIST 97 (1992) 335; worked out in Python from the quoted coefficients, without the air's buoyancy.
 */
static void
test_water (void)
{
  static const struct { double g, c, ml; } known[] = {
    { 250.0, 20, 250.449775 }, { 250.0, 23, 250.616894 }, { 296.5, 22, 297.16251 },
    { 355.0, 25, 356.052171 }, { 400.0, 18, 400.562556 }, { 1000.0, 4, 1000.02801 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (known); i++)
    g_assert_cmpfloat_with_epsilon (wb_craft_vessel_water_ml (known[i].g, known[i].c), known[i].ml, 2e-5);
  g_assert_cmpfloat (wb_craft_vessel_water_ml (250, NAN), ==, wb_craft_vessel_water_ml (250, 20));
  g_assert_true (isnan (wb_craft_vessel_water_ml (0, 20)));
  g_assert_true (isnan (wb_craft_vessel_water_ml (-3, 20)));
  g_assert_true (isnan (wb_craft_vessel_water_ml (NAN, 20)));
  g_assert_true (isnan (wb_craft_vessel_water_ml (250, 120)));
}

/* The volume of a solid by slices: what no closed formula had a hand in. */
static double
slices_ml (double top_a, double top_b, double base_a, double base_b, double height, double factor)
{
  const guint n = 20000;
  double sum = 0;

  for (guint i = 0; i < n; i++)
    {
      double u = (i + 0.5) / n;

      sum += (top_a + (base_a - top_a) * u) * (top_b + (base_b - top_b) * u);
    }
  return factor * sum / n * height / 1000;
}

static void
test_sections (void)
{
  WbVessel *vessel = vessel_new ();

  /* A cylinder: pi/4 × 7.6² × 8 cm. */
  g_assert_cmpfloat_with_epsilon (wb_craft_vessel_sections_ml (vessel), G_PI / 4 * 7.6 * 7.6 * 8, 1e-9);
  vessel->base_diameter_mm = 60;
  g_assert_cmpfloat_with_epsilon (wb_craft_vessel_sections_ml (vessel), slices_ml (76, 76, 60, 60, 80, G_PI / 4), 1e-4);
  vessel->middle_diameter_mm = 72;
  g_assert_cmpfloat_with_epsilon (wb_craft_vessel_sections_ml (vessel),
                                  slices_ml (76, 76, 72, 72, 40, G_PI / 4) + slices_ml (72, 72, 60, 60, 40, G_PI / 4), 1e-4);
  /* An oval that turns its long side on the way down, and a square. */
  vessel->shape = WB_SHAPE_OVAL;
  vessel->middle_diameter_mm = NAN;
  vessel->inner_width_mm = 50;
  vessel->base_width_mm = 70;
  g_assert_cmpfloat_with_epsilon (wb_craft_vessel_sections_ml (vessel), slices_ml (76, 50, 60, 70, 80, G_PI / 4), 1e-4);
  vessel->shape = WB_SHAPE_SQUARE;
  g_assert_cmpfloat_with_epsilon (wb_craft_vessel_sections_ml (vessel), slices_ml (76, 50, 60, 70, 80, 1), 1e-4);
  vessel->shape = WB_SHAPE_OTHER;
  g_assert_true (isnan (wb_craft_vessel_sections_ml (vessel)));
  vessel->shape = WB_SHAPE_ROUND;
  vessel->wax_height_mm = NAN;
  g_assert_true (isnan (wb_craft_vessel_sections_ml (vessel)));
  wb_record_free (vessel);
}

/* NULL: not said. */
static const WbCraftVesselIssue *
find (GPtrArray             *issues,
      WbCraftVesselIssueKind kind)
{
  for (guint i = 0; i < issues->len; i++)
    if (((WbCraftVesselIssue *) issues->pdata[i])->kind == kind)
      return issues->pdata[i];
  return NULL;
}

typedef struct
{
  const char            *name;
  double                 water_g, tare_g, middle, base, wall, height;
  int                    kind;  /* WbCraftVesselIssueKind; -1: nothing at all */
  WbCraftVesselGrade     grade;
  const char            *field;
} Case;

/* The cylinder of 76 and 80 mm holds 362.9 ml. */
static const Case cases[] = {
  { "both agree", 360, 250, NAN, NAN, NAN, 80, -1, WB_CRAFT_VESSEL_NOTE, NULL },
  { "just within 15 %", 316, 250, NAN, NAN, NAN, 80, -1, WB_CRAFT_VESSEL_NOTE, NULL },
  { "more than the sizes hold", 480, 250, NAN, NAN, NAN, 80, WB_CRAFT_VESSEL_APART_VOLUMES, WB_CRAFT_VESSEL_DOUBT, "water_g" },
  { "less than the sizes hold", 300, 250, NAN, NAN, NAN, 80, WB_CRAFT_VESSEL_APART_VOLUMES, WB_CRAFT_VESSEL_DOUBT, "water_g" },
  { "the empty vessel is in it", 610, 250, NAN, NAN, NAN, 80, WB_CRAFT_VESSEL_TARE_LEFT, WB_CRAFT_VESSEL_DOUBT, "water_g" },
  { "a base of another vessel", NAN, NAN, NAN, 400, NAN, 80, WB_CRAFT_VESSEL_SIZE, WB_CRAFT_VESSEL_WRONG, "base_diameter_mm" },
  { "a middle of another vessel", NAN, NAN, 20, NAN, NAN, 80, WB_CRAFT_VESSEL_SIZE, WB_CRAFT_VESSEL_WRONG, "middle_diameter_mm" },
  { "all wall", NAN, NAN, NAN, NAN, 40, 80, WB_CRAFT_VESSEL_WALL, WB_CRAFT_VESSEL_WRONG, "wall_mm" },
  { "no height", NAN, NAN, NAN, NAN, NAN, 0, WB_CRAFT_VESSEL_NO_HEIGHT, WB_CRAFT_VESSEL_WRONG, "wax_height_mm" },
  { "wide at the base", NAN, NAN, NAN, 82, NAN, 80, WB_CRAFT_VESSEL_WIDE_BASE, WB_CRAFT_VESSEL_NOTE, "base_diameter_mm" },
  { "narrow at the base", NAN, NAN, NAN, 66, NAN, 80, WB_CRAFT_VESSEL_NARROW_BASE, WB_CRAFT_VESSEL_NOTE, "base_diameter_mm" },
};

static void
test_check (gconstpointer data)
{
  const Case *c = data;
  WbVessel *vessel = vessel_new ();
  g_autoptr (GPtrArray) issues = NULL;

  vessel->water_g = c->water_g;
  vessel->water_c = 20;
  vessel->tare_g = c->tare_g;
  vessel->middle_diameter_mm = c->middle;
  vessel->base_diameter_mm = c->base;
  vessel->wall_mm = c->wall;
  vessel->wax_height_mm = c->height;
  issues = wb_craft_vessel_check (vessel, FALSE);
  if (c->kind < 0)
    g_assert_cmpuint (issues->len, ==, 0);
  else
    {
      const WbCraftVesselIssue *issue = find (issues, (WbCraftVesselIssueKind) c->kind);

      g_assert_nonnull (issue);
      g_assert_cmpint (issue->grade, ==, c->grade);
      g_assert_cmpstr (issue->field, ==, c->field);
      g_assert_nonnull (wb_record_type_find_field (&wb_vessel_type, issue->field));
    }
  wb_record_free (vessel);
}

static void
test_order_and_units (void)
{
  WbVessel *vessel = vessel_new ();
  g_autoptr (GPtrArray) issues = NULL;

  vessel->water_g = 480;
  vessel->middle_diameter_mm = 300;
  vessel->mouth_mm = 30;
  vessel->wax_height_mm = 10;
  issues = wb_craft_vessel_check (vessel, TRUE);
  for (guint i = 1; i < issues->len; i++)
    g_assert_cmpint (((WbCraftVesselIssue *) issues->pdata[i - 1])->grade, >=, ((WbCraftVesselIssue *) issues->pdata[i])->grade);
  g_assert_nonnull (find (issues, WB_CRAFT_VESSEL_NARROW_MOUTH));
  g_assert_nonnull (strstr (find (issues, WB_CRAFT_VESSEL_NO_C)->text, "68 °F"));
  g_assert_nonnull (strstr (find (issues, WB_CRAFT_VESSEL_SIZE)->text, "in"));
  wb_record_free (vessel);
}

/* The wall that counts is the one at the present level: a sixth of the height above the base in the lower third. */
static void
test_wall (void)
{
  WbVessel *vessel = vessel_new ();

  g_assert_cmpfloat (wb_craft_vessel_pool_mm (vessel, WB_STAGE_LOWER), ==, 76);
  vessel->middle_diameter_mm = 72;
  vessel->base_diameter_mm = 60;
  g_assert_cmpfloat (wb_craft_vessel_pool_mm (vessel, WB_STAGE_UPPER), ==, 76);
  g_assert_cmpfloat (wb_craft_vessel_pool_mm (vessel, WB_STAGE_MIDDLE), ==, 72);
  g_assert_cmpfloat (wb_craft_vessel_pool_mm (vessel, WB_STAGE_LOWER), ==, 64);
  vessel->inner_diameter_mm = NAN;
  g_assert_true (isnan (wb_craft_vessel_pool_mm (vessel, WB_STAGE_UPPER)));
  wb_record_free (vessel);
}

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  g_test_add_func ("/craft/vessel-check/volume-from-water", test_water);
  g_test_add_func ("/craft/vessel-check/volume-from-sizes", test_sections);
  g_test_add_func ("/craft/vessel-check/the-worst-first-in-the-persons-units", test_order_and_units);
  g_test_add_func ("/craft/vessel-check/the-wall-at-the-present-level", test_wall);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *name = g_strdup_printf ("/craft/vessel-check/%s", cases[i].name);

      g_test_add_data_func (g_strdelimit (name, " ", '-'), &cases[i], test_check);
    }
  return g_test_run ();
}
