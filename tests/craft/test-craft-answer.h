/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-answer.h"

/* Asking an answer in the tests of this room. */
const WbCraftGroup  *test_craft_find_group      (const WbCraftAnswer *answer, guint cell);
const WbCraftRanked *test_craft_find_ranked     (const WbCraftAnswer *answer, guint cell);
gboolean             test_craft_has_reason      (const WbCraftRanked *ranked, const char *code);
/* How many of the sentences of a cell's reasons begin so. */
guint                test_craft_count_sentences (const WbCraftRanked *ranked, const char *start);
/* Chances are chances: they add up, every rank is taken by somebody, an interval holds its value. */
void                 test_craft_check_chances   (const WbCraftRanking *ranking);
/* A cell for each strength in one vessel of 76.2 mm, burnt by the model: "S-1" and on. burns 0: to the end. */
void                 test_craft_add_wicks       (WbDataset *data, const double *strength, guint n, guint samples, guint burns,
                                                 double bottom_heat);
