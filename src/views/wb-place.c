/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-place.h"

#include "wb-burn-page.h"
#include "wb-compare-page.h"
#include "wb-ladder-page.h"
#include "wb-materials-page.h"
#include "wb-plan-page.h"
#include "wb-pour-page.h"
#include "wb-record-page.h"
#include "wb-report-page.h"
#include "wb-today-page.h"

#include <glib/gi18n.h>

static const WbPlace places[] = {
  { "today", N_("Today"), wb_today_page_get_type, FALSE },
  { "plan", N_("Plan"), wb_plan_page_get_type, TRUE },
  { "pour", N_("Pour"), wb_pour_page_get_type, TRUE },
  { "burn", N_("Burn"), wb_burn_page_get_type, TRUE },
  { "compare", N_("Compare"), wb_compare_page_get_type, TRUE },
  { "report", N_("Report"), wb_report_page_get_type, TRUE },
  { "ladder", N_("Wick ladder"), wb_ladder_page_get_type, FALSE },
  { "materials", N_("Materials"), wb_materials_page_get_type, FALSE },
  { "record", N_("Record"), wb_record_page_get_type, FALSE },
  { NULL, NULL, NULL, FALSE }
};

const WbPlace *
wb_places_get (void)
{
  return places;
}

const WbPlace *
wb_places_find (const char *name)
{
  for (const WbPlace *place = places; place->name != NULL; place++)
    if (g_strcmp0 (place->name, name) == 0)
      return place;
  return NULL;
}
