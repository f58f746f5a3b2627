/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-dataset.h"
#include "wb-store.h"

G_BEGIN_DECLS

/* All of one experiment in one consistent read, sorted as WbDataset says. Errors: MISSING, DAMAGED, LOCKED. */
WbDataset *wb_store_load_dataset (WbStore *self, gint64 experiment, GError **error);

/* An experiment by its code, else by its title; 0: none, -1: error. */
gint64     wb_store_find_experiment (WbStore *self, const char *name, GError **error);

/* One line of the list of experiments. Counts are of what is there now. */
typedef struct
{
  gint64   id;
  char    *code;
  char    *title;
  gint64   cells;         /* left-out ones not counted */
  gint64   samples;
  gint64   poured;        /* samples with a day or batch of pouring */
  gint64   burns;
  gint64   readings;
  gint64   burnt;         /* samples with at least one burn */
  gint64   curing;        /* poured, not burnt yet, and not yet fit to burn at `now` */
  WbDay    cured_on;      /* the day on which the next of them is; WB_DAY_NONE: none waits */
  gboolean closed;
  gboolean imported;
  gint64   last_entry;    /* newest entry that changed any record of it */
} WbStoreExperiment;

/* NULL is let pass. */
void       wb_store_experiment_free (WbStoreExperiment *self);
/* By id; WbStoreExperiment; the array owns them. Costs by samples, not by readings. */
GPtrArray *wb_store_list_experiments (WbStore *self, WbInstant now, GError **error);

/* Readings of an experiment that stand as an entry of that topic wrote them over an earlier version, and those that it took out. */
gboolean   wb_store_count_amended (WbStore *self, gint64 experiment, const char *topic, gint64 *amended, gint64 *taken_out, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbStoreExperiment, wb_store_experiment_free)

G_END_DECLS
