/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-reading-fields-private.h"

#include <string.h>

/* Which lines a reading has, and in which order. */

WbColumn
wb_reading_fields_column (int column)
{
  return column >= WB_COLUMN_POOL_MM && column <= WB_COLUMN_RING_9_MM ? WB_COLUMN_POOL_MM : (WbColumn) column;
}

static gboolean
is_throw_round (WbReadingFields *self)
{
  const WbBurn *burn = wb_app_bench_sample_get_burn (self->sample);

  return burn != NULL && burn->kind == WB_BURN_THROW && (self->ask == WB_APP_ASK_ROUND || self->ask == WB_APP_ASK_BEFORE_SNUFFING);
}

/* The throw comes first, as a nose tires in the room. */
GArray *
wb_reading_fields_dup_asked (WbReadingFields *self)
{
  static const int stated[] = { WB_COLUMN_THROW_DISTANCE_M, WB_COLUMN_THROW_BLIND };
  static const int rated[] = { WB_COLUMN_THROW };
  GArray *columns = wb_app_bench_dup_asked_of (self->sample, self->ask);

  if (self->ask == WB_APP_ASK_LIGHTING && self->kind == WB_BURN_THROW)
    g_array_append_vals (columns, stated, G_N_ELEMENTS (stated));
  else if (is_throw_round (self))
    g_array_prepend_vals (columns, rated, G_N_ELEMENTS (rated));
  return columns;
}

GArray *
wb_reading_fields_plan_new (void)
{
  return g_array_new (FALSE, FALSE, sizeof (WbReadingLine));
}

static gboolean
is_planned (const GArray *plan,
            guint         wick,
            WbColumn      column)
{
  for (guint i = 0; i < plan->len; i++)
    if (g_array_index (plan, WbReadingLine, i).wick == wick && g_array_index (plan, WbReadingLine, i).column == column)
      return TRUE;
  return FALSE;
}

static void
plan_line (WbReadingFields *self,
           GArray          *plan,
           guint            wick,
           WbColumn         column,
           gboolean         asked)
{
  WbReadingLine line;

  if (is_planned (plan, wick, column))
    return;
  /* Bytes between the members are compared too. */
  memset (&line, 0, sizeof line);
  line.wick = wick;
  line.column = column;
  line.asked = asked;
  line.glow = self->ask == WB_APP_ASK_AFTER_SNUFFING && column == WB_COLUMN_EVENT_S;
  g_array_append_val (plan, line);
}

/* At lighting there is one trim and one look; from then on each wick has its own flame. */
static gboolean
is_by_wick (WbReadingFields *self,
            WbColumn         column)
{
  return self->n_wicks > 1 && wb_column_is_of_wick (column) && self->ask != WB_APP_ASK_LIGHTING;
}

void
wb_reading_fields_plan_column (WbReadingFields *self,
                               GArray          *plan,
                               WbColumn         column,
                               gboolean         asked)
{
  if (is_by_wick (self, column))
    {
      /* No flame is asked of a wick that is out, until it is relit. */
      for (guint wick = 1; wick <= self->n_wicks; wick++)
        if ((self->out & (1u << (wick - 1))) == 0)
          plan_line (self, plan, wick, column, asked);
    }
  else
    plan_line (self, plan, 0, column, asked);
}

static void
plan_touched (WbReadingFields *self,
              GArray          *plan)
{
  for (guint wick = 0; wick <= self->n_wicks; wick++)
    for (WbColumn column = 0; column < WB_N_COLUMNS; column++)
      if (column != WB_COLUMN_EVENT && column != WB_COLUMN_EVENT_S && column != WB_COLUMN_WICK_NUMBER && wb_reading_fields_is_touched (self, wick, column))
        plan_line (self, plan, wick, column, FALSE);
}

void
wb_reading_fields_plan_event (WbReadingFields *self,
                              GArray          *plan)
{
  double values[WB_N_COLUMNS];

  if (self->ask == WB_APP_ASK_LIGHTING)
    return;
  plan_line (self, plan, 0, WB_COLUMN_EVENT, FALSE);
  if (!wb_reading_fields_is_touched (self, 0, WB_COLUMN_EVENT))
    return;
  wb_reading_field_get_values (wb_reading_fields_peek (self, 0, WB_COLUMN_EVENT), values);
  if (self->n_wicks > 1 && wb_event_is_of_wick (values[WB_COLUMN_EVENT]))
    plan_line (self, plan, 0, WB_COLUMN_WICK_NUMBER, FALSE);
  plan_line (self, plan, 0, WB_COLUMN_EVENT_S, FALSE);
}

GArray *
wb_reading_fields_plan (WbReadingFields *self,
                        const GArray    *columns)
{
  GArray *plan = wb_reading_fields_plan_new ();

  for (guint i = 0; i < columns->len; i++)
    wb_reading_fields_plan_column (self, plan, wb_reading_fields_column (g_array_index (columns, int, i)), TRUE);
  /* The program knows it, and the person can say otherwise: shown, and passed over by Enter. */
  if (is_throw_round (self))
    wb_reading_fields_plan_column (self, plan, WB_COLUMN_ALONE, FALSE);
  plan_touched (self, plan);
  wb_reading_fields_plan_event (self, plan);
  return plan;
}

gboolean
wb_reading_fields_is_same_plan (const GArray *one,
                                const GArray *other)
{
  return one->len == other->len && (one->len == 0 || memcmp (one->data, other->data, one->len * sizeof (WbReadingLine)) == 0);
}
