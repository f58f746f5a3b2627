/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-verdict-private.h"

#include <glib/gi18n-lib.h>
#include <inttypes.h>
#include <math.h>

/* A sample that reads unlike its fellows: misread, poured otherwise, or a wick that sits badly. The score does not leave it out; a person has to look. */

#define UNLIKE 5.0    /* times the usual spread between candles, which is taken from the whole experiment */
#define LEAST 0.25    /* of ln: below that a difference is worth no look */
#define LEAST_BURNS 2
#define NORMAL 1.4826 /* standard deviations in a median absolute deviation of a normal */

static const WbFigure looked_at[] = { WB_FIGURE_POOL, WB_FIGURE_DEPTH, WB_FIGURE_FLAME, WB_FIGURE_CONSUMPTION };

static int
compare_doubles (gconstpointer a,
                 gconstpointer b)
{
  double one = *(const double *) a, other = *(const double *) b;

  return one < other ? -1 : one > other;
}

/* Sorts; NAN of none. */
static double
find_median (GArray *values)
{
  guint n = values->len;

  if (n == 0)
    return NAN;
  g_array_sort (values, compare_doubles);
  return (g_array_index (values, double, (n - 1) / 2) + g_array_index (values, double, n / 2)) / 2;
}

/* The logarithm of a figure of a burn; NAN where there is none. */
static double
get_log (const WbCraftBurn *burn,
         WbFigure           figure)
{
  double value = wb_craft_burn_get (burn, figure, FALSE);

  return value > 0 ? log (value) : NAN;
}

typedef struct
{
  guint  cell;
  gint64 number;
  guint  burn;  /* index in the figures */
} Place;

static int
compare_places (gconstpointer a,
                gconstpointer b)
{
  const Place *one = a, *other = b;

  if (one->cell != other->cell)
    return one->cell < other->cell ? -1 : 1;
  return one->number < other->number ? -1 : one->number > other->number;
}

/* The burns of samples that count, those of one cell and number together. */
static GArray *
order_burns (const WbDataset      *data,
             const WbCraftFigures *figures)
{
  GArray *places = g_array_new (FALSE, FALSE, sizeof (Place));

  for (guint i = 0; i < figures->n_burns; i++)
    {
      const WbCraftBurn *burn = &figures->burns[i];
      Place place = { burn->cell, wb_dataset_get_burn (data, burn->burn)->number, i };

      if (!burn->alight && wb_craft_verdict_counts (data, burn->sample, burn->cell))
        g_array_append_val (places, place);
    }
  g_array_sort (places, compare_places);
  return places;
}

/* Adds what the burns of one cell and number, from first to before end, differ from their median; nothing where one stands alone. */
static void
add_differences (const WbCraftFigures *figures,
                 const GArray         *places,
                 guint                 first,
                 guint                 end,
                 WbFigure              figure,
                 double               *sums,
                 guint                *counts)
{
  g_autoptr (GArray) values = g_array_new (FALSE, FALSE, sizeof (double));
  double median;

  for (guint i = first; i < end; i++)
    {
      double value = get_log (&figures->burns[g_array_index (places, Place, i).burn], figure);

      if (!isnan (value))
        g_array_append_val (values, value);
    }
  if (values->len < 2)
    return;
  median = find_median (values);
  for (guint i = first; i < end; i++)
    {
      const WbCraftBurn *burn = &figures->burns[g_array_index (places, Place, i).burn];
      double value = get_log (burn, figure);

      if (isnan (value))
        continue;
      sums[burn->sample] += value - median;
      counts[burn->sample]++;
    }
}

/* By how much each sample differs from its fellows in that figure, ln: the mean over its burns; NAN where too few can be compared. */
static void
find_differences (const WbCraftFigures *figures,
                  const GArray         *places,
                  WbFigure              figure,
                  double               *differences)
{
  g_autofree guint *counts = g_new0 (guint, MAX (figures->n_samples, 1));
  guint end;

  for (guint i = 0; i < figures->n_samples; i++)
    differences[i] = 0;
  for (guint first = 0; first < places->len; first = end)
    {
      for (end = first + 1; end < places->len; end++)
        if (compare_places (&g_array_index (places, Place, first), &g_array_index (places, Place, end)) != 0)
          break;
      add_differences (figures, places, first, end, figure, differences, counts);
    }
  for (guint i = 0; i < figures->n_samples; i++)
    differences[i] = counts[i] >= LEAST_BURNS ? differences[i] / counts[i] : NAN;
}

WbCraftUnlike *
wb_craft_unlike_new (const WbDataset      *data,
                     const WbCraftFigures *figures)
{
  WbCraftUnlike *unlike = g_new0 (WbCraftUnlike, MAX (figures->n_samples, 1));
  g_autofree double *differences = g_new (double, MAX (figures->n_samples, 1));
  g_autoptr (GArray) places = order_burns (data, figures);

  for (guint f = 0; f < G_N_ELEMENTS (looked_at); f++)
    {
      g_autoptr (GArray) sizes = g_array_new (FALSE, FALSE, sizeof (double));
      double usual;

      find_differences (figures, places, looked_at[f], differences);
      for (guint i = 0; i < figures->n_samples; i++)
        {
          double size = fabs (differences[i]);

          if (!isnan (size))
            g_array_append_val (sizes, size);
        }
      usual = NORMAL * find_median (sizes);
      for (guint i = 0; i < figures->n_samples; i++)
        if (fabs (differences[i]) > MAX (UNLIKE * usual, LEAST) && fabs (differences[i]) > fabs (unlike[i].difference))
          unlike[i] = (WbCraftUnlike) { looked_at[f], differences[i] };
    }
  return unlike;
}

void
wb_craft_verdict_tell_unlike (const WbDataset     *data,
                              const WbCraftUnlike *unlike,
                              WbCraftRanked       *ranked)
{
  for (guint i = 0; i < data->samples->len; i++)
    {
      g_autofree char *share = NULL;

      if (unlike[i].difference == 0 || g_array_index (data->sample_cell, guint, i) != ranked->cell)
        continue;
      share = wb_quantity_format (WB_UNIT_PERCENT, 100 * fabs (expm1 (unlike[i].difference)), 0);
      wb_craft_ranked_add_reason (ranked, "sample_unlike", 0,
                                  unlike[i].difference < 0
                                    /* Translators: a sample's code; a figure, "Melt-pool diameter"; "40 %". */
                                    ? _("Sample %s reads unlike its fellows, burn by burn: %s, %s less. Check how it was read and poured, or burn another.")
                                    : _("Sample %s reads unlike its fellows, burn by burn: %s, %s more. Check how it was read and poured, or burn another."),
                                  wb_dataset_get_sample (data, i)->code, g_dgettext (GETTEXT_PACKAGE, wb_figure_get_label (unlike[i].figure)), share);
    }
}

/* Is the burn the end of its sample's life? A wick that goes out in the last third of its last burn has burnt down. */
static gboolean
is_end_of_life (const WbDataset      *data,
                const WbCraftFigures *figures,
                guint                 burn)
{
  const WbCraftBurn *figure = &figures->burns[burn];
  gboolean last = burn + 1 == data->burns->len || figures->burns[burn + 1].sample != figure->sample;

  return last && figure->stage_known && figure->stage == WB_STAGE_LOWER;
}

guint
wb_craft_verdict_find_went_out (const WbDataset      *data,
                                const WbCraftFigures *figures,
                                guint                 burn)
{
  guint first, n;

  if (data->protocol == NULL || is_end_of_life (data, figures, burn))
    return G_MAXUINT;
  wb_readings_get_burn_rows (data->readings, burn, &first, &n);
  for (guint row = first; row < first + n; row++)
    if (wb_readings_get (data->readings, row, WB_COLUMN_EVENT) == WB_EVENT_SELF_EXTINGUISHED
        && wb_readings_get_elapsed_min (data->readings, row) < data->protocol->burn_s / 60)
      return row;
  return G_MAXUINT;
}

gboolean
wb_craft_verdict_tell_went_out (const WbDataset      *data,
                                const WbCraftFigures *figures,
                                WbCraftRanked        *ranked)
{
  gboolean told = FALSE;

  for (guint burn = 0; burn < figures->n_burns; burn++)
    {
      const WbCraftBurn *figure = &figures->burns[burn];
      g_autofree char *minute = NULL, *length = NULL, *place = NULL;
      const char *code;
      gint64 number;
      guint row;

      if (!wb_craft_verdict_counts (data, figure->sample, ranked->cell))
        continue;
      row = wb_craft_verdict_find_went_out (data, figures, burn);
      if (row == G_MAXUINT)
        continue;
      code = wb_dataset_get_sample (data, figure->sample)->code;
      number = wb_dataset_get_burn (data, burn)->number;
      minute = wb_number_format (wb_readings_get_elapsed_min (data->readings, row), 0, NULL);
      length = wb_number_format (data->protocol->burn_s / 60, 0, NULL);
      /* Translators: of a sample: number of its burn, minutes that it burnt, minutes that it should have. */
      place = g_strdup_printf (_("burn %" PRId64 ", at %s of %s min"), number, minute, length);
      /* Translators: "14-2"; "burn 3, at 118 of 240 min". */
      wb_craft_reason_name (wb_craft_ranked_add_reason (ranked, "went_out", wb_readings_get_id (data->readings, row),
                                                        _("Went out by itself before the protocol's length: %s, %s."), code, place),
                            code, place);
      told = TRUE;
    }
  return told;
}
