/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-craft-answer.h"

G_BEGIN_DECLS

/*
 * The cells of one group of an answer, best first: verdict, score, chance of
 * being best, and why (unfolded where the list is short; intervals stand in WbNumbersView). Each has a switch that puts its curve into the chart
 * beside it; the swatch is the chart's own look of that cell.
 *
 * Signal "shown-changed": other cells are switched on. A plain list with a row for each cell, no column view: a group is short.
 */
#define WB_TYPE_RANKING_LIST (wb_ranking_list_get_type ())
G_DECLARE_FINAL_TYPE (WbRankingList, wb_ranking_list, WB, RANKING_LIST, GtkWidget)

GtkWidget *wb_ranking_list_new        (void);
/* NULL: empty. Takes a reference. A cell that was switched on stays so if the group still has it; else the first three are. */
void       wb_ranking_list_set_answer (WbRankingList *self, WbCraftAnswer *answer, guint group);
/* Indices of the cells that are switched on, in rank order; caller frees. */
GArray    *wb_ranking_list_dup_shown  (WbRankingList *self);

G_END_DECLS
