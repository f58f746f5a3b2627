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

/* How each is worked out is tested with wb_craft_fill_of(); here, that water does not speak for the sizes. */
static void
test_two_volumes (void)
{
  WbVessel *vessel = vessel_new ();

  g_assert_true (isnan (wb_craft_vessel_by_water (vessel)));
  /* A cylinder: pi/4 × 7.6² × 8 cm, as the batch sheet prints it, to 0.1 ml. */
  g_assert_cmpfloat_with_epsilon (wb_craft_vessel_by_sizes (vessel), G_PI / 4 * 7.6 * 7.6 * 8, 0.0501);
  vessel->water_g = 296.5;
  vessel->water_c = 22;
  /* The density of G. S. Kell, J. Chem. Eng. Data 20 (1975) 97: 0.997770547 g/cm3. */
  g_assert_cmpfloat_with_epsilon (wb_craft_vessel_by_water (vessel), 297.16251, 0.0501);
  g_assert_cmpfloat_with_epsilon (wb_craft_vessel_by_sizes (vessel), G_PI / 4 * 7.6 * 7.6 * 8, 0.0501);
  vessel->wax_height_mm = NAN;
  g_assert_true (isnan (wb_craft_vessel_by_sizes (vessel)));
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
  g_assert_nonnull (find (issues, WB_CRAFT_VESSEL_NO_C));
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
  g_test_add_func ("/craft/vessel-check/by-water-and-by-sizes", test_two_volumes);
  g_test_add_func ("/craft/vessel-check/the-worst-first-in-the-persons-units", test_order_and_units);
  g_test_add_func ("/craft/vessel-check/the-wall-at-the-present-level", test_wall);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *name = g_strdup_printf ("/craft/vessel-check/%s", cases[i].name);

      g_test_add_data_func (g_strdelimit (name, " ", '-'), &cases[i], test_check);
    }
  return g_test_run ();
}
