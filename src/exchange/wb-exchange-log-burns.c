/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-exchange-log-burns.h"

#include "wb-craft-doubt-burn.h"
#include "wb-number.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

/* Remarks kept; as many as are ever told. */
#define MOST_REMARKS 10000

typedef struct
{
  char   *experiment, *sample;
  gint64  number;
  GArray *readings; /* WbCraftBurnReading, in the order of the file */
  GArray *lines;    /* guint64, of each */
  GList   link;     /* in `waiting` */
} Burn;

struct _WbExchangeLogBurns
{
  GHashTable     *burns;    /* Burn, a set that owns */
  GQueue          waiting;  /* the same, the one longest without a row first */
  Burn           *last;     /* to which the last row went; NULL: none */
  guint           n_rows;   /* kept */
  GPtrArray      *remarks;  /* WbLogRemark */
  /* Of burns with a minute out of its place: what is told where the log's order says anything, and what where it is shuffled. */
  GPtrArray      *in_order, *shuffled;
  WbCraftLogSteps steps;
};

static guint
burn_hash (gconstpointer key)
{
  const Burn *burn = key;

  return (g_str_hash (burn->experiment) * 31 + g_str_hash (burn->sample)) * 31 + (guint) burn->number;
}

static gboolean
burn_equal (gconstpointer a,
            gconstpointer b)
{
  const Burn *one = a, *other = b;

  return one->number == other->number && strcmp (one->sample, other->sample) == 0 && strcmp (one->experiment, other->experiment) == 0;
}

static void
burn_free (gpointer data)
{
  Burn *self = data;

  g_free (self->experiment);
  g_free (self->sample);
  g_array_unref (self->readings);
  g_array_unref (self->lines);
  g_free (self);
}

WbExchangeLogBurns *
wb_exchange_log_burns_new (void)
{
  WbExchangeLogBurns *self = g_new0 (WbExchangeLogBurns, 1);

  self->burns = g_hash_table_new_full (burn_hash, burn_equal, burn_free, NULL);
  g_queue_init (&self->waiting);
  self->remarks = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_log_remark_free);
  self->in_order = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_log_remark_free);
  self->shuffled = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_log_remark_free);
  return self;
}

void
wb_exchange_log_burns_free (WbExchangeLogBurns *self)
{
  if (self == NULL)
    return;
  g_hash_table_unref (self->burns);
  g_clear_pointer (&self->remarks, g_ptr_array_unref);
  g_ptr_array_unref (self->in_order);
  g_ptr_array_unref (self->shuffled);
  g_free (self);
}

/* Each takes the value doubted, what it is held against, and the line and perhaps the minute of the latter; all as text. */
static const char *
get_format (const WbCraftDoubt *doubt)
{
  switch ((int) doubt->kind)
    {
    case WB_CRAFT_DOUBT_DECIMAL:
      return doubt->column == WB_COLUMN_VESSEL_C || doubt->column == WB_COLUMN_BASE_C
               ? _("%1$s °C is far from the %2$s °C at minute %4$s of the same burn (line %3$s): is the point in its place?")
               : _("%1$s mm is far from the %2$s mm at minute %4$s of the same burn (line %3$s): is the point in its place?");
    case WB_CRAFT_DOUBT_SHRUNK:
      return _("the pool is %1$s mm wide, and was %2$s mm at minute %4$s of the same burn (line %3$s): a pool grows while the candle burns");
    case WB_CRAFT_DOUBT_SWOLLEN:
      return _("the pool is %1$s mm wide, and %2$s mm at minute %4$s of the same burn (line %3$s): a pool grows while the candle burns");
    case WB_CRAFT_DOUBT_MISPLACED:
      return _("minute %1$s stands beside minute %2$s of the same burn (line %3$s), where the others rise: is a digit missing or too many?");
    case WB_CRAFT_DOUBT_ENDED:
      return _("minute %1$s is later than minute %2$s, in which the flame of that burn went out (line %3$s): such a reading counts at most as the highest of its burn");
    default:
      g_assert_not_reached ();
    }
}

/* A mean of two diameters has digits that nobody read. */
static char *
dup_number (double value)
{
  return wb_number_shortest (round (value * 1000) / 1000);
}

static void
remark (GPtrArray              *remarks,
        const Burn             *burn,
        const WbCraftBurnDoubt *found)
{
  const WbCraftDoubt *doubt = &found->doubt;
  const char *column = doubt->column < WB_N_COLUMNS ? wb_column_get_spec (doubt->column)->name : "elapsed_min";
  g_autofree char *given = dup_number (doubt->value), *other = dup_number (doubt->bound);
  g_autofree char *minute = wb_number_shortest (g_array_index (burn->readings, WbCraftBurnReading, found->other).minute);
  g_autofree char *line = g_strdup_printf ("%" G_GUINT64_FORMAT, g_array_index (burn->lines, guint64, found->other));

  if (remarks->len >= MOST_REMARKS)
    return;
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
  g_ptr_array_add (remarks, wb_log_remark_new (g_array_index (burn->lines, guint64, found->reading), column,
                                               g_strdup_printf (get_format (doubt), given, other, line, minute)));
#pragma GCC diagnostic pop
}

static void
judge_readings (GPtrArray *remarks,
                Burn      *burn)
{
  g_autoptr (GArray) doubts = wb_craft_doubts_find_in_burn ((const WbCraftBurnReading *) burn->readings->data, burn->readings->len);

  for (guint i = 0; i < doubts->len; i++)
    remark (remarks, burn, &g_array_index (doubts, WbCraftBurnDoubt, i));
}

/* Judges the burn, and lets go of it. */
static void
judge (WbExchangeLogBurns *self,
       Burn               *burn)
{
  WbCraftBurnDoubt misplaced;

  self->n_rows -= burn->readings->len;
  if (wb_craft_doubt_order ((const WbCraftBurnReading *) burn->readings->data, burn->readings->len, &self->steps, &misplaced))
    {
      judge_readings (self->shuffled, burn);
      remark (self->in_order, burn, &misplaced);
      /* in the wrong place it would throw doubt on the readings around it */
      g_array_remove_index (burn->readings, misplaced.reading);
      g_array_remove_index (burn->lines, misplaced.reading);
      judge_readings (self->in_order, burn);
    }
  else
    judge_readings (self->remarks, burn);
  if (self->last == burn)
    self->last = NULL;
  g_queue_unlink (&self->waiting, &burn->link);
  g_hash_table_remove (self->burns, burn);
}

static Burn *
find_burn (WbExchangeLogBurns *self,
           const WbLogRow     *row)
{
  Burn key = { .experiment = row->experiment, .sample = row->sample, .number = row->burn };
  Burn *burn = self->last != NULL && burn_equal (self->last, &key) ? self->last : g_hash_table_lookup (self->burns, &key);

  if (burn != NULL)
    {
      g_queue_unlink (&self->waiting, &burn->link);
      g_queue_push_tail_link (&self->waiting, &burn->link);
      return burn;
    }
  burn = g_new0 (Burn, 1);
  burn->experiment = g_strdup (row->experiment);
  burn->sample = g_strdup (row->sample);
  burn->number = row->burn;
  burn->readings = g_array_new (FALSE, FALSE, sizeof (WbCraftBurnReading));
  burn->lines = g_array_new (FALSE, FALSE, sizeof (guint64));
  burn->link.data = burn;
  g_hash_table_add (self->burns, burn);
  g_queue_push_tail_link (&self->waiting, &burn->link);
  return burn;
}

void
wb_exchange_log_burns_add (WbExchangeLogBurns *self,
                           const WbLogRow     *row)
{
  WbCraftBurnReading reading;
  Burn *burn;

  g_return_if_fail (self != NULL && row != NULL);

  burn = find_burn (self, row);
  wb_craft_burn_reading_take (&reading, row->elapsed_min, row->values, row->inner_diameter_mm);
  g_array_append_val (burn->readings, reading);
  g_array_append_val (burn->lines, row->line);
  self->last = burn;
  self->n_rows++;
  if (self->n_rows > WB_EXCHANGE_LOG_BURNS_ROWS)
    judge (self, g_queue_peek_head (&self->waiting));
}

GPtrArray *
wb_exchange_log_burns_finish (WbExchangeLogBurns *self)
{
  GPtrArray *more;

  g_return_val_if_fail (self != NULL, NULL);

  while (!g_queue_is_empty (&self->waiting))
    judge (self, g_queue_peek_head (&self->waiting));
  more = wb_craft_log_steps_rise (&self->steps) ? self->in_order : self->shuffled;
  while (more->len > 0)
    g_ptr_array_add (self->remarks, g_ptr_array_steal_index (more, 0));
  g_ptr_array_sort (self->remarks, wb_log_remark_order);
  return g_steal_pointer (&self->remarks);
}
