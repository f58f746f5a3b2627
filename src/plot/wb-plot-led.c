/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-plot-led-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-plot-series-private.h"
#include "wb-plot-words-private.h"

#define MOST_VESSEL 28

static void
led_clear (gpointer data)
{
  g_free (((WbPlotLed *) data)->where);
}

static gboolean
is_alike (const WbPlotContext *context,
          const WbPlotLed     *a,
          const WbPlotLed     *b)
{
  return a->state == b->state
         && wb_plot_get_wick_place (context->data, a->cell, NULL) == wb_plot_get_wick_place (context->data, b->cell, NULL);
}

static gboolean
in_same_vessel (const WbPlotContext *context,
                const WbPlotLed     *a,
                const WbPlotLed     *b)
{
  return wb_dataset_get_vessel (context->data, a->cell) == wb_dataset_get_vessel (context->data, b->cell);
}

/* Whether all that lead in that vessel are the same and do the same; `n`: how many. */
static gboolean
is_common (const WbPlotContext *context,
           const GArray        *leaders,
           const WbPlotLed     *one,
           guint               *n)
{
  *n = 0;
  for (guint i = 0; i < leaders->len; i++)
    {
      const WbPlotLed *other = &g_array_index (leaders, WbPlotLed, i);

      if (!in_same_vessel (context, one, other))
        continue;
      if (!is_alike (context, one, other))
        return FALSE;
      (*n)++;
    }
  return TRUE;
}

static char *
dup_where (const WbPlotContext *context,
           const GArray        *leaders,
           const WbPlotLed     *one,
           gboolean             common,
           guint                n)
{
  g_autofree char *vessel = NULL;

  if (!common || n < 2)
    return wb_plot_dup_family_name (context, one->family, TRUE);
  if (n == leaders->len)
    return g_strdup (_("every scent"));
  vessel = wb_material_dup_title (wb_dataset_get_vessel (context->data, one->cell));
  return wb_plot_dup_clipped (vessel, MOST_VESSEL);
}

/* The one that the leader was already put together with; NULL: none. */
static WbPlotLed *
find_told (const WbPlotContext *context,
           GArray              *told,
           const WbPlotLed     *one)
{
  for (guint i = 0; i < told->len; i++)
    if (in_same_vessel (context, &g_array_index (told, WbPlotLed, i), one))
      return &g_array_index (told, WbPlotLed, i);
  return NULL;
}

GArray *
wb_plot_led_merge (const WbPlotContext *context,
                   const GArray        *leaders)
{
  GArray *told = g_array_new (FALSE, FALSE, sizeof (WbPlotLed));

  g_array_set_clear_func (told, led_clear);
  for (guint i = 0; i < leaders->len; i++)
    {
      WbPlotLed  one = g_array_index (leaders, WbPlotLed, i);
      guint      n;
      gboolean   common = is_common (context, leaders, &one, &n);
      WbPlotLed *before = common ? find_told (context, told, &one) : NULL;

      if (before != NULL)
        {
          before->low = fmin (before->low, one.value);
          before->high = fmax (before->high, one.value);
          continue;
        }
      one.where = dup_where (context, leaders, &one, common, n);
      one.low = one.high = one.value;
      g_array_append_val (told, one);
    }
  return told;
}

char *
wb_plot_dup_range (const char *low,
                   const char *high)
{
  if (g_strcmp0 (low, high) == 0)
    return g_strdup (low);
  /* Translators: the lower and the upper end of a range, with their units */
  return g_strdup_printf (_("%s to %s"), low, high);
}
