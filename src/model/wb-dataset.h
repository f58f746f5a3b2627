/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-reading.h"

G_BEGIN_DECLS

/*
 * All of one experiment, as loaded in one go: what craft computes on. Arrays
 * are of records, owned; an index in one array stands for the record
 * elsewhere (sample_cell[i] is the index of sample i's cell).
 */
typedef struct
{
  WbNotebook   *notebook;
  WbExperiment *experiment;
  WbProtocol   *protocol;
  GPtrArray    *limits;      /* WbLimit */
  WbProfile    *profile;
  GPtrArray    *aims;        /* WbAim */
  WbWax        *wax;
  WbDye        *dye;         /* NULL: none */
  WbAdditive   *additive;    /* NULL: none */
  GPtrArray    *cells;       /* WbCell: in order of vessel by diameter and name, scent by load and name, series, step, size */
  GPtrArray    *cell_vessels;    /* WbVessel of each cell, borrowed from vessels */
  GPtrArray    *cell_wicks;      /* WbWick of each cell */
  GPtrArray    *cell_fragrances; /* WbFragrance of each cell, NULL where none */
  GPtrArray    *vessels, *wicks, *fragrances; /* distinct, owned */
  GPtrArray    *batches;     /* WbBatch */
  GPtrArray    *batch_steps; /* WbBatchStep: by batch, position */
  GPtrArray    *samples;     /* WbSample: by cell, code */
  GArray       *sample_cell; /* guint */
  GPtrArray    *burns;       /* WbBurn: by sample, number */
  GArray       *burn_sample; /* guint */
  GPtrArray    *inspections; /* WbInspection */
  GArray       *inspection_sample; /* guint */
  GPtrArray    *decisions;   /* WbDecision */
  GPtrArray    *loggers;     /* WbAttachment: loggers' files of its burns, in order of id */
  GArray       *logger_burn; /* guint */
  WbReadings   *readings;
  gint64        last_entry;  /* newest entry that the data rest on */
} WbDataset;

/* An empty set with empty arrays; the caller fills it. */
WbDataset *wb_dataset_new  (void);
void       wb_dataset_free (WbDataset *self);

/* By index, which must be of the set; borrowed from it. */
const WbVessel    *wb_dataset_get_vessel    (const WbDataset *self, guint cell);
const WbWick      *wb_dataset_get_wick      (const WbDataset *self, guint cell);
const WbFragrance *wb_dataset_get_fragrance (const WbDataset *self, guint cell); /* NULL: none */
const WbCell      *wb_dataset_get_cell      (const WbDataset *self, guint cell);
const WbSample    *wb_dataset_get_sample    (const WbDataset *self, guint sample);
const WbBurn      *wb_dataset_get_burn      (const WbDataset *self, guint burn);
/* Index of the sample with that id; G_MAXUINT: it is not there. */
guint              wb_dataset_find_sample   (const WbDataset *self, gint64 id);
/* "S-3", with the series where the experiment has several, "2 × S-3" for several wicks. Caller frees. */
char              *wb_dataset_dup_wick_name (const WbDataset *self, guint cell);
/* "Sedge S-3", always with the series, for who cannot look it up. Caller frees. */
char              *wb_dataset_dup_wick_title (const WbDataset *self, guint cell);
/* "Harbour mist 8 %", "no fragrance". Caller frees. */
char              *wb_dataset_dup_scent_name (const WbDataset *self, guint cell);
/* What tells the cell apart in this experiment: parts that do not vary are left out. Caller frees. */
char              *wb_dataset_dup_cell_name (const WbDataset *self, guint cell);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbDataset, wb_dataset_free)

G_END_DECLS
