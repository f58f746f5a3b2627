/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-experiment.h"
#include "wb-log-row.h"

G_BEGIN_DECLS

/* One experiment of the list; texts are borrowed. */
typedef struct
{
  const char *code, *title;
  const char *state;       /* "planned", "curing", "burning", "finished" */
  gint64      cells, samples, burns, readings;
} WbExchangeListItem;

/* The JSON of `list`. `notebook` may be NULL. Caller frees. */
char *wb_exchange_json_list   (const WbNotebook *notebook, const WbExchangeListItem *items, guint n);

/* What came of an import; texts and arrays are borrowed. */
typedef struct
{
  guint64            rows, accepted, known;
  guint64            lines, samples; /* of the file that make the rows, and of which they are */
  guint64            refused_rows;  /* as many, where `refused` is cut */
  const GPtrArray   *refused;       /* WbLogRemark */
  const GPtrArray   *warnings;      /* WbLogRemark */
  const char *const *kept;          /* names of unknown columns; NULL: none */
  char               delimiter;     /* ',', ';' or '\t' */
  char               decimal;       /* '.' or ',' */
  gboolean           dry_run;       /* nothing was written */
} WbExchangeImportTold;

/* The JSON of `import`. Caller frees. */
char *wb_exchange_json_import (const WbExchangeImportTold *told);

G_END_DECLS
