/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-report-recipe-card.h"

G_BEGIN_DECLS

/* What the papers of a decision say alike. Texts belong to the caller. */

/* "Hob, 76.2 mm · Brosk B4 · Quimber leaf 8 % of the wax". */
char *wb_report_recipe_dup_name     (const WbReportRecipe *recipe);
/* "2 × Brosk B4, 25 mm apart". */
char *wb_report_recipe_dup_wick     (const WbReportRecipe *recipe, const WbReportOptions *options);
/* "Quimber leaf, 8 % of the wax"; "no fragrance". */
char *wb_report_recipe_dup_scent    (const WbReportRecipe *recipe);
/* "Amber 4, 12 drops for each kilogram of wax"; NULL: none. */
char *wb_report_recipe_dup_dye      (const WbReportRecipe *recipe);
char *wb_report_recipe_dup_additive (const WbReportRecipe *recipe);
/* "Approved by Ada on 24 Nov 2026 in HF-1". */
char *wb_report_recipe_dup_signed   (const WbReportRecipe *recipe);
/* What is planned at a step: "75 °C · 10 min"; NULL: neither. */
char *wb_report_recipe_dup_planned  (const WbBatchStep *step, const WbReportOptions *options);
/* "14 days". */
char *wb_report_recipe_dup_days     (double days);
/* "W-112, W-113": lots in the notebook that the decision does not cover, of one material of the recipe, 0: of any; NULL: none. */
char *wb_report_recipe_dup_uncovered (const WbReportRecipe *recipe, gint64 material);
/* How it stands: as a warning where it was reopened. */
void  wb_report_recipe_add_state    (WbReportDocument *document, const WbReportRecipe *recipe);
/* Each crossing that was known when it was signed, cracks first, as warnings; at most `most` characters of one. Nothing where there was none. */
void  wb_report_recipe_add_crossed  (WbReportDocument *document, const WbReportRecipe *recipe, int most);

G_END_DECLS
