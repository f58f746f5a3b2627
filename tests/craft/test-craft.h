/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-physics.h"
#include "wb-dataset.h"

/*
 * Experiments for the tests of this room, made in memory: records come with the
 * house protocol, limits and aims, and ids from 1. Samples follow cell by cell,
 * burns sample by sample, readings burn by burn, as the loader gives them.
 */

/* g_test_init, and what the program does once before anything is computed. */
void       test_craft_init        (int *argc, char ***argv);
WbDataset *test_craft_data_new    (void);
/* Vessel by name, wick by series and size, made when new. load of the wax; 0: the control. */
guint      test_craft_add_cell    (WbDataset *data, const char *vessel, double inner_mm, const char *series,
                                   const char *size, gint64 step, double load_pct);
guint      test_craft_add_sample  (WbDataset *data, guint cell, const char *code);
guint      test_craft_add_burn    (WbDataset *data, guint sample);
guint      test_craft_add_reading (WbDataset *data, guint burn, double minute);
void       test_craft_set         (WbDataset *data, guint row, WbColumn column, double value);
/* One row with one value. */
guint      test_craft_read        (WbDataset *data, guint burn, double minute, WbColumn column, double value);
/* A logger's file of that burn, at its hottest; NAN: no sensor sat there. */
void       test_craft_log         (WbDataset *data, guint burn, double wall_c, double wall_min, double base_c, double base_min);
/* A four-hour burn with hourly pools towards `limit_mm` and everything else right in the middle of the aims. */
guint      test_craft_calm_burn   (WbDataset *data, guint sample, double limit_mm, double tau_h, double inner_mm);
/* Lets `samples` candles of a model burn `burns` times (0: to their end), read hourly; tare and fill recorded. */
void       test_craft_burn_physics (WbDataset *data, guint cell, const WbCraftPhysicsSpec *spec, guint samples,
                                    guint burns, guint64 seed);
/* The sample log of the project, as far as the columns that it fills. */
WbDataset *test_craft_from_log    (const char *path);
guint      test_craft_find_cell   (const WbDataset *data, const char *vessel, const char *size, double load_pct);
