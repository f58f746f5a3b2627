/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-exchange-mapping.h"

G_BEGIN_DECLS

/* What a mapping is once it is laid beside the names of a sheet's columns. */

/* A column of the rows; a hidden one is a moment from which others are worked out. */
typedef struct
{
  char              *name;
  char              *told;    /* for people, where the sheet has no one column of it */
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

/* A rule that the record at hand breaks. */
typedef struct
{
  const char *column;  /* of the sheet; "" where the row as a whole is meant */
  char       *rule;
} WbExchangeMappingBreach;

/* What stands for the outputs of one hour, or of the record as a whole. */
typedef struct
{
  char  **values;      /* one an output; NULL: nothing fills it */
  GArray *breaches;    /* WbExchangeMappingBreach */
  GPtrArray *given;    /* columns of readings in which something stands; the plan's */
  gboolean filled;     /* some cell of it is not empty */
} WbExchangeMappingLayer;

/* Burns of a sample that the notebook has. */
typedef struct
{
  GArray   *lightings;  /* Lighting of wb-exchange-mapping-moment.c */
  WbInstant last;       /* of them that are known */
  gint64    most;       /* the highest number */
  gboolean  told;       /* that counting goes on after it */
} WbExchangeMappingRecorded;

struct _WbExchangeMapping
{
  WbExchangeMappingPlan *plan;

  /* of the rows */
  WbExchangeCsvCell     *header;
  guint                  n_columns;
  guint                 *columns;    /* output of each */
  WbExchangeCsvCell     *cells;

  /* of the record at hand */
  WbExchangeCsvRecord    record;     /* its cells are good as long as it is at hand */
  guint64                line;
  WbExchangeMappingLayer                  whole;
  WbExchangeMappingLayer                 *hours;
  int                    last;       /* the last hour filled; -1: none */
  guint                  next;       /* hour that comes next, or of one row 0 */
  gboolean               over;
  int                    hour;       /* of the row that came last; -1: none */
  char                  *elapsed;    /* text of the minutes of the row at hand */
  char                   lit[48];    /* time of the lighting, for a message */

  GArray                *short_lines; /* guint64, of rows that leave cells off at their end; the first few */
  guint64                n_short;
  guint                  n_cells;    /* of the first of them */
  char                  *said;       /* about the record at hand, with the first row of it that comes in; NULL: nothing */
  WbExchangeMappingRecorded *said_of;
  gboolean               given;      /* it was said with the row that came last */

  char                 **repeated;   /* one a column of the sheet: what an empty cell says */
  GHashTable            *surveyed;   /* text that names a sample: GArray of its lightings, in us of UTC; NULL: none yet */
  GHashTable            *recorded;   /* the same key: WbExchangeMappingRecorded, what the notebook has; NULL: nothing */
  gboolean               surveying;
  GHashTable            *lightings;  /* text that names a burn: when it was lit, as text */
};

/* Of the record as a whole; `rule` is taken. */
void        wb_exchange_mapping_breach      (WbExchangeMapping *self, const char *column, char *rule);
/* Where an output's value comes from, for a message; "": from no column. */
const char *wb_exchange_mapping_get_source  (const WbExchangeMapping *self, int output, int hour);
/* What stands for it in the record as a whole; "": nothing, or `output` is -1. */
const char *wb_exchange_mapping_get_whole   (const WbExchangeMapping *self, int output);
/* Takes note of a burn of the notebook, for the counting. */
void        wb_exchange_mapping_put_recorded (WbExchangeMapping *self, const char *experiment, const char *sample, WbInstant lit, gint64 number);
/* Works out lighting, number of the burn and minutes of the record at hand. */
void        wb_exchange_mapping_put_moments (WbExchangeMapping *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbExchangeMappingPlan, wb_exchange_mapping_plan_free)

G_END_DECLS
