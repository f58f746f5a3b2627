/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-exchange-mapping-target.h"

#include "wb-exchange-log-column.h"

#include <glib/gi18n-lib.h>
#include <string.h>

static const struct { const char *name, *title; } moments[] = {
  { WB_LOG_TARGET_LIT_ON, N_("Day of lighting") },
  { WB_LOG_TARGET_LIT_TIME, N_("Time of day of lighting") },
  { WB_LOG_TARGET_READ_AT, N_("Day and time of the reading") },
  { WB_LOG_TARGET_READ_ON, N_("Day of the reading") },
  { WB_LOG_TARGET_READ_TIME, N_("Time of day of the reading") },
  { WB_LOG_TARGET_KEEP, N_("Kept as it is") },
};

#define N_TARGETS (WB_EXCHANGE_LOG_N_COLUMNS + G_N_ELEMENTS (moments))

static WbLogTarget targets[N_TARGETS];

/* The unit stands at the end of a column's name: so the format has it. */
static WbUnit
get_unit (const char *name)
{
  static const struct { const char *ending; WbUnit unit; } endings[] = {
    { "_mm", WB_UNIT_MM }, { "_g", WB_UNIT_G }, { "_c", WB_UNIT_CELSIUS }, { "_pct", WB_UNIT_PERCENT }, { "_min", WB_UNIT_MINUTE },
    { "_days", WB_UNIT_DAY }, { "_s", WB_UNIT_SECOND }, { "_m", WB_UNIT_M },
  };

  for (guint i = 0; i < G_N_ELEMENTS (endings); i++)
    if (g_str_has_suffix (name, endings[i].ending))
      return endings[i].unit;
  return WB_UNIT_NONE;
}

static gboolean
is_number (WbExchangeLogKind kind)
{
  switch (kind)
    {
    case WB_EXCHANGE_LOG_REAL:
    case WB_EXCHANGE_LOG_INTEGER:
    case WB_EXCHANGE_LOG_READ_REAL:
    case WB_EXCHANGE_LOG_READ_WHOLE:
    case WB_EXCHANGE_LOG_READ_POOL:
      return TRUE;
    case WB_EXCHANGE_LOG_NAME:
    case WB_EXCHANGE_LOG_WORD:
    case WB_EXCHANGE_LOG_DAY:
    case WB_EXCHANGE_LOG_INSTANT:
    case WB_EXCHANGE_LOG_READ_WORD:
    default:
      return FALSE;
    }
}

static gboolean
is_reading (const WbExchangeLogColumn *column)
{
  static const char *const texts[] = { "throw_room", "rater", "note", NULL };

  return column->column >= 0 || g_strv_contains (texts, column->name);
}

static void
fill (void)
{
  for (guint i = 0; i < WB_EXCHANGE_LOG_N_COLUMNS; i++)
    {
      const WbExchangeLogColumn *column = wb_exchange_log_column_get (i);
      gboolean number = is_number (column->kind);

      targets[i] = (WbLogTarget) {
        .name = column->name, .title = column->title, .unit = number ? get_unit (column->name) : WB_UNIT_NONE, .number = number,
        .required = column->required, .reading = is_reading (column), .words = column->words,
      };
    }
  for (guint i = 0; i < G_N_ELEMENTS (moments); i++)
    targets[WB_EXCHANGE_LOG_N_COLUMNS + i] =
      (WbLogTarget) { .name = moments[i].name, .title = moments[i].title, .unit = WB_UNIT_NONE };
}

const WbLogTarget *
wb_exchange_mapping_target_get (guint index)
{
  static gsize filled;

  g_return_val_if_fail (index < N_TARGETS, NULL);

  if (g_once_init_enter (&filled))
    {
      fill ();
      g_once_init_leave (&filled, 1);
    }
  return &targets[index];
}

guint
wb_exchange_mapping_n_targets (void)
{
  return N_TARGETS;
}

int
wb_exchange_mapping_target_find (const char *name)
{
  for (guint i = 0; i < N_TARGETS; i++)
    if (strcmp (wb_exchange_mapping_target_get (i)->name, name) == 0)
      return (int) i;
  return -1;
}
