/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-exchange-mapping.h"

G_BEGIN_DECLS

/* What a mapping is once it is laid beside the names of a sheet's columns. */

/* A column of the rows; a hidden one is a moment from which others are worked out. */
typedef struct
{
  char              *name;
  const WbLogTarget *target;  /* NULL: an unknown column, kept */
  gboolean           hidden;
  char              *fixed;   /* NULL: none */
} WbExchangeMappingOutput;

/* A piece of a pattern: text, or what stands for an output. */
typedef struct
{
  char *literal;   /* NULL: an output */
  int   output;    /* -1: passed over */
} WbExchangeMappingPiece;

typedef struct
{
  guint                         cell;     /* in the sheet */
  const WbLogMappingColumn     *column;   /* of the plan's own copy */
  int                           output;   /* -1: a pattern */
  int                           hour;     /* in hours; -1: none */
  GArray                       *pieces;   /* WbExchangeMappingPiece; NULL: no pattern */
} WbExchangeMappingBinding;

typedef struct
{
  WbLogMapping *mapping;
  char        **names;      /* of the sheet */
  guint         n_names;
  GTimeZone    *zone;
  GArray       *outputs;    /* WbExchangeMappingOutput */
  GArray       *bindings;   /* WbExchangeMappingBinding, in the order of the mapping */
  GArray       *hours;      /* double, minutes, rising */
  int           experiment, sample, burn; /* outputs; -1: none */
  gboolean      counted;    /* burns have no numbers: lightings are counted */
  gboolean      first;      /* a burn is lit at its first reading */
  int           lit_at, lit_on, lit_time, read_at, read_on, read_time, elapsed; /* outputs; -1: none */
} WbExchangeMappingPlan;

/* Errors: those of wb_exchange_mapping_new(). */
WbExchangeMappingPlan *wb_exchange_mapping_plan_new  (const WbLogMapping *mapping, const char *const *names, GError **error);
/* NULL is let pass. */
void                   wb_exchange_mapping_plan_free (WbExchangeMappingPlan *self);

static inline WbExchangeMappingOutput *
wb_exchange_mapping_plan_output (const WbExchangeMappingPlan *self, guint index)
{
  return &g_array_index (self->outputs, WbExchangeMappingOutput, index);
}

static inline WbExchangeMappingBinding *
wb_exchange_mapping_plan_binding (const WbExchangeMappingPlan *self, guint index)
{
  return &g_array_index (self->bindings, WbExchangeMappingBinding, index);
}

/*
 * The text of a cell in the words and units of the format: "" where nothing was taken. `column` NULL: a fixed value, in the format's
 * own units, point or comma. NULL: `*rule` says why; the caller frees both.
 */
char *wb_exchange_mapping_dup_value (const WbExchangeMappingPlan *self, const WbExchangeMappingOutput *output,
                                     const WbLogMappingColumn *column, const char *text, char **rule);
/* Whether the text says that nothing was taken. */
gboolean wb_exchange_mapping_is_nothing (const WbExchangeMappingPlan *self, const char *text);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbExchangeMappingPlan, wb_exchange_mapping_plan_free)

G_END_DECLS
