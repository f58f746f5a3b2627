/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-log-row.h"

G_BEGIN_DECLS

/*
 * The observations of one burn that rows or the record have made. A row that
 * only completes an observation is a further part of it; parts are never
 * changed, so what has gone to the disk stays there.
 */
typedef struct
{
  gint64  line;    /* 0: from the record */
  gint64  reading; /* its id there; 0: not stored yet */
  double  elapsed_min;
  gint32  event;   /* -1: none */
  gint32  wick;    /* -1: none */
  guint32 offset;  /* of what it says, in `bytes` */
  gint32  past;    /* not 0: a reading of the record was this observation once, and was amended or taken out; only its key counts */
} WbImportPart;

typedef struct
{
  GArray     *parts;
  GByteArray *bytes;
  guint       kept_parts; /* that many, and that many bytes, are on the disk */
  guint       kept_bytes;
  double      latest_min; /* greatest elapsed time: a later row needs no search */
} WbImportObservations;

void     wb_import_observations_init  (WbImportObservations *self);
void     wb_import_observations_clear (WbImportObservations *self);
gsize    wb_import_observations_size  (const WbImportObservations *self);

/* Adds a part that says what the row says, `n_extra` cells of unknown columns among it. */
void     wb_import_observations_add   (WbImportObservations *self, const WbLogRow *row, guint n_extra, gint64 reading);

/* Adds the key of an earlier version of a reading of the record, by which a row of its file is told. */
void     wb_import_observations_add_past (WbImportObservations *self, const WbLogRow *key, gint64 reading);

/* Everything that is known of one observation, with the line of each statement. Texts are borrowed. */
typedef struct
{
  double      values[WB_N_COLUMNS];
  gint64      value_lines[WB_N_COLUMNS];
  const char *texts[2];             /* throw_room, note */
  gint64      text_lines[2];
  const char **extra;               /* [n_extra], owned array of borrowed texts */
  gint64     *extra_lines;
  gint64      reading;              /* 0: not in the record */
  gint64      first_line;           /* of the first part; 0: the record's */
  guint       n_parts;
  guint       n_new_parts;          /* from the file */
} WbImportKnown;

/* FALSE: nobody has made this observation; `past` (may be NULL) is then the reading that once was it, 0: none was. */
gboolean wb_import_observations_find  (const WbImportObservations *self, const WbLogRow *row, guint n_extra,
                                       WbImportKnown *known, gint64 *past);
void     wb_import_known_clear        (WbImportKnown *self);

/*
 * Columns in which the row says something else than is known: names (static or
 * of `extra_names`) are added to `columns`, and the first of them is told in
 * `words` (for people, caller frees) with its line. TRUE if there are none.
 */
gboolean wb_import_known_agrees       (const WbImportKnown *self, const WbLogRow *row, const char *const *extra_names,
                                       guint n_extra, GPtrArray *columns, char **words);
/* Whether the row says something that is not known yet. */
gboolean wb_import_known_lacks        (const WbImportKnown *self, const WbLogRow *row, guint n_extra);

G_END_DECLS
