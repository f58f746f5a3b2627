/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-notebook.h"
#include "wb-craft-figures.h"

G_BEGIN_DECLS

/*
 * An experiment as a list shows it: its record, where it stands, how much it
 * holds, what it waits for. Immutable. Properties (construct-only): "id" (int64), "code",
 * "title", "waits-for" (strings), "state" (int, WbCraftState), "cells",
 * "samples", "burns", "readings" (uint).
 */
#define WB_TYPE_APP_EXPERIMENT (wb_app_experiment_get_type ())
G_DECLARE_FINAL_TYPE (WbAppExperiment, wb_app_experiment, WB, APP_EXPERIMENT, GObject)

/* What the properties say, and the record itself; borrowed. */
const WbExperiment *wb_app_experiment_get_record    (WbAppExperiment *self);
gint64              wb_app_experiment_get_id        (WbAppExperiment *self);
const char         *wb_app_experiment_get_code      (WbAppExperiment *self);
const char         *wb_app_experiment_get_title     (WbAppExperiment *self);
WbCraftState        wb_app_experiment_get_state     (WbAppExperiment *self);
/* The state in a word, translated; "cured" where nothing of a poured one cures any more. */
const char         *wb_app_experiment_get_word      (WbAppExperiment *self);
/* One sentence, translated: "12 samples cure until 14 March", "Burn 3 of 12 is next". */
const char         *wb_app_experiment_get_waits_for (WbAppExperiment *self);
guint               wb_app_experiment_get_cells     (WbAppExperiment *self);
guint               wb_app_experiment_get_samples   (WbAppExperiment *self);
guint               wb_app_experiment_get_poured    (WbAppExperiment *self);
guint               wb_app_experiment_get_burns     (WbAppExperiment *self);
guint               wb_app_experiment_get_readings  (WbAppExperiment *self);
gint64              wb_app_experiment_get_last_entry (WbAppExperiment *self);

/*
 * All experiments of a notebook as a GListModel of WbAppExperiment, in order of
 * state (burning, curing, planned, finished), then newest first; loads itself off the
 * main thread and follows the notebook. Items that did not change stay the
 * same objects. Property "loaded" (boolean).
 */
#define WB_TYPE_APP_EXPERIMENTS (wb_app_experiments_get_type ())
G_DECLARE_FINAL_TYPE (WbAppExperiments, wb_app_experiments, WB, APP_EXPERIMENTS, GObject)

/* Holds the notebook. Caller owns it; empty until it is loaded. */
WbAppExperiments *wb_app_experiments_new        (WbAppNotebook *notebook);
gboolean          wb_app_experiments_get_loaded (WbAppExperiments *self);

G_END_DECLS
