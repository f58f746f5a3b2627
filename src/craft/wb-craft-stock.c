/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-stock.h"

#include "wb-craft-batch.h"
#include "wb-craft-lot.h"
#include "wb-text.h"

#include <math.h>

/* Blends of blends: deeper than a person builds them, so that a circle ends. */
#define MAX_DEPTH 8

typedef struct
{
  gint64   id;
  gint64   material;
  char    *code;     /* folded */
  double   amount;
  double   price;
  WbDay    received_on;
  gboolean used_up;
  double   taken;
} Lot;

typedef struct
{
  gint64 blend;
  gint64 part;
  double share; /* 0 to 1 */
} Part;

struct _WbCraftStock
{
  GArray     *lots;    /* Lot */
  GArray     *parts;   /* Part */
  GHashTable *unnamed; /* gint64 material -> double */
};

/* When something was poured; the moment may be unknown. */
typedef struct
{
  WbInstant at;
  WbDay     day;
} When;

static char *
dup_folded (const char *code)
{
  g_autofree char *clean = wb_text_dup_clean (code, -1);

  return clean != NULL ? g_utf8_casefold (clean, -1) : NULL;
}

static void
clear_lot (gpointer data)
{
  g_free (((Lot *) data)->code);
}

static gboolean
has_lots (const WbCraftStock *self,
          gint64              material)
{
  for (guint i = 0; i < self->lots->len; i++)
    if (g_array_index (self->lots, Lot, i).material == material)
      return TRUE;
  return FALSE;
}

/* The lot of that code; of two with one code the one that is still in use. NULL: none. */
static Lot *
find_lot (const WbCraftStock *self,
          gint64              material,
          const char         *folded)
{
  Lot *found = NULL;

  for (guint i = 0; i < self->lots->len; i++)
    {
      Lot *lot = &g_array_index (self->lots, Lot, i);

      if (lot->material == material && g_strcmp0 (lot->code, folded) == 0 && (found == NULL || found->used_up))
        found = lot;
    }
  return found;
}

/* The material's lots that the text names. */
static GPtrArray *
find_lots (const WbCraftStock *self,
           gint64              material,
           const char         *text)
{
  g_autofree char *whole = dup_folded (text);
  Lot *lot = whole != NULL ? find_lot (self, material, whole) : NULL;
  GPtrArray *found = g_ptr_array_new ();
  g_auto (GStrv) codes = NULL;

  if (lot != NULL)
    g_ptr_array_add (found, lot);
  if (whole == NULL || lot != NULL)
    return found;
  codes = wb_craft_lot_split (whole);
  for (char **code = codes; *code != NULL; code++)
    {
      lot = find_lot (self, material, *code);
      if (lot != NULL && !g_ptr_array_find (found, lot, NULL))
        g_ptr_array_add (found, lot);
    }
  return found;
}

static void
add_unnamed (WbCraftStock *self,
             gint64        material,
             double        amount)
{
  double *sum = g_hash_table_lookup (self->unnamed, &material);

  if (sum == NULL)
    {
      sum = g_new0 (double, 1);
      g_hash_table_insert (self->unnamed, g_memdup2 (&material, sizeof material), sum);
    }
  *sum += amount;
}

static void take (WbCraftStock *self, const WbCraftBlends *blends, When when, gint64 material, const char *text, double amount, guint depth);

/* Off the parts of a blend that has no lots of its own. */
static void
take_parts (WbCraftStock        *self,
            const WbCraftBlends *blends,
            When                 when,
            gint64               blend,
            const char          *text,
            double               amount,
            guint                depth)
{
  g_autoptr (GArray) mix = blends != NULL ? wb_craft_blends_dup_at (blends, blend, when.at, when.day) : NULL;

  for (guint i = 0; mix != NULL && i < mix->len; i++)
    {
      const WbCraftBlendPart *part = &g_array_index (mix, WbCraftBlendPart, i);

      take (self, blends, when, part->part, text, amount * part->share, depth + 1);
    }
  for (guint i = 0; mix == NULL && i < self->parts->len; i++)
    {
      const Part *part = &g_array_index (self->parts, Part, i);

      if (part->blend == blend)
        take (self, blends, when, part->part, text, amount * part->share, depth + 1);
    }
}

/* Where a text names several lots of one material nobody wrote how much of each: evenly. */
static void
take (WbCraftStock        *self,
      const WbCraftBlends *blends,
      When                 when,
      gint64               material,
      const char          *text,
      double               amount,
      guint                depth)
{
  g_autoptr (GPtrArray) lots = NULL;

  if (material == 0 || !(amount > 0) || depth > MAX_DEPTH)
    return;
  lots = find_lots (self, material, text);
  for (guint i = 0; i < lots->len; i++)
    ((Lot *) lots->pdata[i])->taken += amount / lots->len;
  if (lots->len > 0)
    return;
  if (has_lots (self, material))
    add_unnamed (self, material, amount);
  else
    take_parts (self, blends, when, material, text, amount, depth);
}

static double
first_known (double a,
             double b)
{
  return isnan (a) ? b : a;
}

/* A day that was said afterwards stands above the moment at which it was marked. */
static When
when_of (WbInstant at,
         WbDay     day)
{
  When when = { at, day };

  when.at.known = at.known && (day == WB_DAY_NONE || wb_instant_get_day (at) == day);
  return when;
}

static void
take_batch (WbCraftStock        *self,
            const WbCraftBlends *blends,
            const WbBatch       *batch,
            const WbExperiment  *experiment)
{
  When when = when_of (batch->poured_at, wb_batch_get_day (batch));

  if (!wb_batch_is_poured (batch))
    return;
  take (self, blends, when, batch->fragrance, batch->fragrance_lot, first_known (batch->actual_oil_g, batch->oil_g), 0);
  if (experiment == NULL)
    return;
  take (self, blends, when, experiment->wax, batch->wax_lot, first_known (batch->actual_wax_g, batch->wax_g), 0);
  take (self, blends, when, experiment->dye, batch->dye_lot, batch->dye_g, 0);
  take (self, blends, when, experiment->additive, batch->additive_lot, batch->additive_g, 0);
}

static void
take_sample (WbCraftStock        *self,
             const WbCraftBlends *blends,
             const WbSample      *sample,
             const WbCell        *cell,
             const WbExperiment  *experiment,
             gboolean             melt_poured)
{
  When when = when_of (sample->poured_at, sample->poured_on);
  double of_total;

  if (cell == NULL || !(melt_poured || sample->poured_on != WB_DAY_NONE || sample->poured_at.known))
    return;
  take (self, blends, when, cell->vessel, sample->vessel_lot, 1, 0);
  take (self, blends, when, cell->wick, sample->wick_lot, MAX (cell->wick_count, 1), 0);
  /* What a sample of a melt holds came out of the melt, which is counted with what stayed in the pot. */
  if (sample->batch != 0 || !(sample->fill_g > 0))
    return;
  of_total = cell->load_basis == WB_BASIS_TOTAL ? cell->load_pct : wb_craft_load_to_total_pct (cell->load_pct);
  if (cell->fragrance == 0 || !(of_total >= 0))
    of_total = 0;
  take (self, blends, when, cell->fragrance, sample->fragrance_lot, sample->fill_g * of_total / 100, 0);
  if (experiment != NULL)
    take (self, blends, when, experiment->wax, sample->wax_lot, sample->fill_g * (1 - of_total / 100), 0);
}

/* Borrows. */
static GHashTable *
index_by_id (GPtrArray *records)
{
  GHashTable *index = g_hash_table_new (g_int64_hash, g_int64_equal);

  for (guint i = 0; i < records->len; i++)
    g_hash_table_insert (index, &((WbRecord *) records->pdata[i])->id, records->pdata[i]);
  return index;
}

WbCraftStock *
wb_craft_stock_new (const WbCraftStockInput *input)
{
  WbCraftStock *self;
  g_autoptr (GHashTable) cells = NULL;
  g_autoptr (GHashTable) experiments = NULL;
  g_autoptr (GHashTable) batches = NULL;

  g_return_val_if_fail (input != NULL && input->lots != NULL && input->batches != NULL && input->samples != NULL, NULL);
  g_return_val_if_fail (input->cells != NULL && input->experiments != NULL && input->parts != NULL, NULL);

  self = g_new0 (WbCraftStock, 1);
  self->lots = g_array_new (FALSE, FALSE, sizeof (Lot));
  g_array_set_clear_func (self->lots, clear_lot);
  self->parts = g_array_new (FALSE, FALSE, sizeof (Part));
  self->unnamed = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_free);
  for (guint i = 0; i < input->lots->len; i++)
    {
      const WbLot *from = input->lots->pdata[i];
      Lot lot = { from->record.id, from->material, dup_folded (from->code), from->amount, from->price,
                  from->received_on, from->used_up, 0 };

      g_array_append_val (self->lots, lot);
    }
  for (guint i = 0; i < input->parts->len; i++)
    {
      const WbFragrancePart *from = input->parts->pdata[i];
      Part part = { from->fragrance, from->part, from->share_pct / 100 };

      g_array_append_val (self->parts, part);
    }

  cells = index_by_id (input->cells);
  experiments = index_by_id (input->experiments);
  batches = index_by_id (input->batches);
  for (guint i = 0; i < input->batches->len; i++)
    {
      const WbBatch *batch = input->batches->pdata[i];

      take_batch (self, input->blends, batch, g_hash_table_lookup (experiments, &batch->experiment));
    }
  for (guint i = 0; i < input->samples->len; i++)
    {
      const WbSample *sample = input->samples->pdata[i];
      const WbBatch *batch = g_hash_table_lookup (batches, &sample->batch);

      take_sample (self, input->blends, sample, g_hash_table_lookup (cells, &sample->cell),
                   g_hash_table_lookup (experiments, &sample->experiment), batch != NULL && wb_batch_is_poured (batch));
    }
  return self;
}

void
wb_craft_stock_free (WbCraftStock *self)
{
  if (self == NULL)
    return;
  g_array_unref (self->lots);
  g_array_unref (self->parts);
  g_hash_table_unref (self->unnamed);
  g_free (self);
}

static double
lot_left (const Lot *lot)
{
  if (lot->used_up)
    return 0;
  return isnan (lot->amount) ? NAN : MAX (lot->amount - lot->taken, 0);
}

/* How much of a blend its parts would make, at the shares that are entered. */
static double blend_left (const WbCraftStock *self, gint64 blend, guint depth);

/*
 * What was poured without naming a lot, less what lots that are used up held beyond what is told of them: it came out of those
 * first. One of which nobody told how much it held may have held all of it.
 */
static double
unnamed_of_lots_left (const WbCraftStock *self,
                      gint64              material)
{
  double unnamed = wb_craft_stock_get_unnamed (self, material);

  for (guint i = 0; i < self->lots->len; i++)
    {
      const Lot *lot = &g_array_index (self->lots, Lot, i);

      if (lot->material == material && lot->used_up)
        unnamed -= isnan (lot->amount) ? unnamed : MAX (lot->amount - lot->taken, 0);
      unnamed = MAX (unnamed, 0);
    }
  return unnamed;
}

static double
left (const WbCraftStock *self,
      gint64              material,
      guint               depth)
{
  double sum = NAN;

  if (depth > MAX_DEPTH)
    return NAN;
  if (!has_lots (self, material))
    return blend_left (self, material, depth);
  for (guint i = 0; i < self->lots->len; i++)
    {
      const Lot *lot = &g_array_index (self->lots, Lot, i);

      if (lot->material == material && !isnan (lot_left (lot)))
        sum = isnan (sum) ? lot_left (lot) : sum + lot_left (lot);
    }
  return isnan (sum) ? NAN : MAX (sum - unnamed_of_lots_left (self, material), 0);
}

static double
blend_left (const WbCraftStock *self,
            gint64              blend,
            guint               depth)
{
  double least = INFINITY;

  for (guint i = 0; i < self->parts->len; i++)
    {
      const Part *part = &g_array_index (self->parts, Part, i);
      double has;

      if (part->blend != blend || !(part->share > 0))
        continue;
      has = left (self, part->part, depth + 1);
      if (isnan (has))
        return NAN;
      least = MIN (least, has / part->share);
    }
  return isfinite (least) ? least : NAN;
}

double
wb_craft_stock_get_left (const WbCraftStock *self,
                         gint64              material)
{
  g_return_val_if_fail (self != NULL, NAN);
  return left (self, material, 0);
}

double
wb_craft_stock_get_lot_left (const WbCraftStock *self,
                             gint64              lot)
{
  g_return_val_if_fail (self != NULL, NAN);

  for (guint i = 0; i < self->lots->len; i++)
    if (g_array_index (self->lots, Lot, i).id == lot)
      return lot_left (&g_array_index (self->lots, Lot, i));
  return NAN;
}

double
wb_craft_stock_get_unnamed (const WbCraftStock *self,
                            gint64              material)
{
  const double *sum;

  g_return_val_if_fail (self != NULL, 0);
  sum = g_hash_table_lookup (self->unnamed, &material);
  return sum != NULL ? *sum : 0;
}

/* A lot without a day came in before all that have one; of one day the one that was entered last. */
static gboolean
is_newer (const Lot *lot,
          const Lot *than)
{
  gboolean day = lot->received_on != WB_DAY_NONE, other = than->received_on != WB_DAY_NONE;

  if (day != other)
    return day;
  return day && lot->received_on != than->received_on ? lot->received_on > than->received_on : lot->id > than->id;
}

static double
price (const WbCraftStock *self,
       gint64              material,
       guint               depth)
{
  const Lot *newest = NULL;
  double sum = NAN;

  if (depth > MAX_DEPTH)
    return NAN;
  for (guint i = 0; i < self->lots->len; i++)
    {
      const Lot *lot = &g_array_index (self->lots, Lot, i);

      if (lot->material == material && lot->amount > 0 && lot->price >= 0 && (newest == NULL || is_newer (lot, newest)))
        newest = lot;
    }
  if (newest != NULL)
    return newest->price / newest->amount;
  for (guint i = 0; i < self->parts->len; i++)
    {
      const Part *part = &g_array_index (self->parts, Part, i);

      if (part->blend == material)
        sum = (isnan (sum) ? 0 : sum) + part->share * price (self, part->part, depth + 1);
      if (part->blend == material && isnan (sum))
        return NAN;
    }
  return sum;
}

double
wb_craft_stock_get_price (const WbCraftStock *self,
                          gint64              material)
{
  g_return_val_if_fail (self != NULL, NAN);
  return price (self, material, 0);
}

double
wb_craft_stock_get_short (const WbCraftStock *self,
                          gint64              material,
                          double              needed)
{
  double has = wb_craft_stock_get_left (self, material);

  return isnan (has) || isnan (needed) ? NAN : MAX (needed - has, 0);
}
