/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-figure-words.h"

#include <glib/gi18n.h>

#define NONE "–"

/* Unit that the figure is shown in, and its places. */
static WbUnit
get_shown_unit (WbFigure figure,
                gboolean us_units)
{
  WbUnit stored = wb_figure_get_unit (figure);

  return stored == WB_UNIT_NONE || stored == WB_UNIT_HOUR ? stored : wb_quantity_get_shown_unit (wb_unit_get_quantity (stored), us_units);
}

static double
to_stored (WbFigure figure,
           double   value)
{
  return wb_figure_get_unit (figure) == WB_UNIT_HOUR ? value * 3600.0 : value;
}

static int
get_decimals (WbFigure figure)
{
  switch (figure)
    {
    case WB_FIGURE_SCORE:
      return 2;
    case WB_FIGURE_FULL_POOL:
    case WB_FIGURE_SOOT:
    case WB_FIGURE_MUSHROOM:
    case WB_FIGURE_THROW:
      return 1;
    default:
      return -1;
    }
}

char *
wb_figure_words_dup_value (WbFigure figure,
                           double   value,
                           gboolean us_units)
{
  WbUnit unit = get_shown_unit (figure, us_units);

  if (!isfinite (value))
    return g_strdup (NONE);
  if (unit == WB_UNIT_NONE)
    return wb_number_format (value, get_decimals (figure) < 0 ? 1 : get_decimals (figure), NULL);
  return wb_quantity_format (unit, to_stored (figure, value), get_decimals (figure));
}

static char *
dup_number (WbFigure figure,
            double   value,
            gboolean us_units)
{
  WbUnit unit = get_shown_unit (figure, us_units);

  if (unit == WB_UNIT_NONE)
    return wb_figure_words_dup_value (figure, value, us_units);
  return wb_quantity_format_number (unit, to_stored (figure, value), get_decimals (figure));
}

char *
wb_figure_words_dup_range (WbFigure        figure,
                           WbCraftInterval interval,
                           gboolean        us_units)
{
  g_autofree char *low = isfinite (interval.low) ? wb_figure_words_dup_value (figure, interval.low, us_units) : NULL;
  g_autofree char *high = isfinite (interval.high) ? wb_figure_words_dup_value (figure, interval.high, us_units) : NULL;
  g_autofree char *bare = NULL;

  if (low != NULL && high != NULL)
    {
      bare = dup_number (figure, interval.low, us_units);
      /* Translators: the two ends of a range, the unit behind the second: "2.2 to 2.6 h". */
      return g_strdup_printf (_("%s to %s"), bare, high);
    }
  if (low != NULL)
    return g_strdup_printf (_("%s or more"), low);
  if (high != NULL)
    return g_strdup_printf (_("%s or less"), high);
  return g_strdup ("");
}

char *
wb_figure_words_dup_chance (double p)
{
  g_autofree char *text = NULL;

  if (!isfinite (p))
    return g_strdup (NONE);
  if (p > 0 && lround (100 * p) == 0)
    return g_strdup (_("under 1 in 100"));
  if (lround (100 * p) == 100)
    return g_strdup (_("over 99 in 100"));
  text = wb_number_format (p * 100, 0, NULL);
  return g_strdup_printf (_("%s in 100"), text);
}

char *
wb_figure_words_dup_share (double share)
{
  return isfinite (share) ? wb_number_format (share, 2, NULL) : g_strdup (NONE);
}
