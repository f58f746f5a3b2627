/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-beside-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

void
wb_craft_beside_append_name (GString    *names,
                             const char *name)
{
  g_string_append_printf (names, "%s%s", names->len > 0 ? ", " : "", name);
}

/* A value of a single burn has none. */
static gboolean
has_range (const WbCraftBesideFigure *figure)
{
  return figure->never || !isnan (figure->interval.low) || !isnan (figure->interval.high);
}

/* Of the ranges as they are printed; an end that was not seen is far away. */
static gboolean
do_overlap (const WbCraftBesideFigure *a,
            const WbCraftBesideFigure *b)
{
  double a_low = !isnan (a->interval.low) ? a->interval.low : a->never ? INFINITY : -INFINITY;
  double b_low = !isnan (b->interval.low) ? b->interval.low : b->never ? INFINITY : -INFINITY;
  double a_high = isnan (a->interval.high) ? INFINITY : a->interval.high;
  double b_high = isnan (b->interval.high) ? INFINITY : b->interval.high;

  return has_range (a) && has_range (b) && a_low <= b_high && b_low <= a_high;
}

/* What holds for all that were read, "all within the aim"; NULL: nothing. */
static const char *
find_common_likeness (const WbCraftBesideFigure *figures,
                      const WbCraftBesideWorth  *worths,
                      gsize                      n)
{
  gboolean all_one = TRUE, all_none = TRUE, all_overlap = TRUE;
  guint    read = 0;

  for (gsize i = 0; i < n; i++)
    {
      if (!worths[i].read)
        continue;
      read++;
      all_one &= worths[i].low >= 1.0;
      all_none &= worths[i].high <= 0.0;
      for (gsize k = 0; k < i; k++)
        all_overlap &= !worths[k].read || do_overlap (&figures[i], &figures[k]);
    }
  if (all_one)
    return _("all within the aim");
  if (all_none)
    return _("all beyond what the aim allows");
  if (all_overlap)
    return read > 2 ? _("all ranges overlap") : _("the ranges overlap");
  return NULL;
}

static char *
dup_likeness (const WbCraftBesideFigure *figures,
              const WbCraftBesideWorth  *worths,
              const WbCraftBeside       *beside,
              gsize                      index)
{
  g_autoptr (GString) over = g_string_new (NULL), maybe = g_string_new (NULL);
  const char         *common = find_common_likeness (figures, worths, beside->n_picks);

  if (common != NULL)
    return g_strdup (common);
  if (!has_range (&figures[index]))
    return g_strdup (_("one value alone has no range"));
  for (gsize i = 0; i < beside->n_picks; i++)
    if (i != index && worths[i].read)
      wb_craft_beside_append_name (do_overlap (&figures[index], &figures[i]) ? over : maybe, beside->names[i]);
  if (over->len > 0 && maybe->len > 0)
    /* Translators: names; names */
    return g_strdup_printf (_("its range overlaps that of %s; it may be as near to the aim as %s"), over->str, maybe->str);
  if (over->len > 0)
    /* Translators: names */
    return g_strdup_printf (_("its range overlaps that of %s"), over->str);
  /* Translators: names */
  return g_strdup_printf (_("may be as near to the aim as %s"), maybe->str);
}

char *
wb_craft_beside_dup_why (const char                *nearer,
                         const char                *farther,
                         const WbCraftBesideFigure *figures,
                         const WbCraftBesideWorth  *worths,
                         const WbCraftBeside       *beside,
                         gsize                      index)
{
  if (*nearer != '\0' && *farther != '\0')
    /* Translators: names; names */
    return g_strdup_printf (_("nearer to the aim than %s, farther than %s"), nearer, farther);
  if (*nearer != '\0')
    /* Translators: names */
    return g_strdup_printf (_("nearer to the aim than %s"), nearer);
  if (*farther != '\0')
    /* Translators: names */
    return g_strdup_printf (_("farther from the aim than %s"), farther);
  return dup_likeness (figures, worths, beside, index);
}
