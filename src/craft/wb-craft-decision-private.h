/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-answer.h"

G_BEGIN_DECLS

/* A span that was seen; n 0: nothing was. */
typedef struct { double low, high; guint n; } WbCraftSpan;

/* How the samples of one combination that count were really made and burnt. */
typedef struct
{
  WbCraftSpan trim_mm, alight_min, cure_days, fill_g, height_mm, room_c; /* trim, length: of standard burns */
  guint       draughts[WB_DRAUGHT_STRONG + 1]; /* readings */
  guint       all_burns, room_burns, draught_burns; /* of any kind; those in which the room's temperature and the draught were noted */
  guint       whole_burns;                     /* standard burns whose length is the maker's choice */
  guint       kinds[WB_BURN_CHECK + 1];        /* burns */
  guint       stages;                          /* bit i: WbStage i was read */
  guint       samples, burns;                  /* with a standard burn; standard burns */
  guint       ended, aside;
} WbCraftSurvey;

void  wb_craft_survey_take (WbCraftSurvey *self, const WbDataset *data, const WbCraftFigures *figures, guint cell);
/* Of one sample of the cell, whether it counts or not; below 0: as above. */
void  wb_craft_survey_take_sample (WbCraftSurvey *self, const WbDataset *data, const WbCraftFigures *figures, guint cell, int sample);
/* The samples that count, by the burns that were lit before that moment; unknown: by all. */
void  wb_craft_survey_take_before (WbCraftSurvey *self, const WbDataset *data, const WbCraftFigures *figures, guint cell, WbInstant before);
/* The shortest cure after which a candle of it was lit, whole days; NAN: nobody noted one. */
double wb_craft_survey_get_cure_days (const WbCraftSurvey *self);
/* "5 mm", "5 to 7 mm": ends in the quantity's stored unit. Caller frees. */
char *wb_craft_span_dup_text (const WbCraftSpan *span, WbUnit unit, int decimals);

/* Sentences, one a line. Caller frees. */
char *wb_craft_decision_dup_conditions (const WbDataset *data, guint cell, const WbCraftSurvey *survey);
char *wb_craft_decision_dup_unvaried   (const WbDataset *data, guint cell, const WbCraftSurvey *survey);

/* A line more. */
void  wb_craft_decision_say (GString *text, const char *format, ...) G_GNUC_PRINTF (2, 3);

G_END_DECLS
