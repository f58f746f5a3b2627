/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "test-craft.h"
#include "wb-craft-ladder.h"

/* A question with all that it rests on, for the tests of the school and of the ladder. */
typedef struct
{
  GPtrArray *datasets;  /* owned */
  GPtrArray *lessons;   /* WbLesson, owned */
  GPtrArray *wicks, *waxes;
  GPtrArray *guides;    /* owned */
  GPtrArray *own;       /* records made here */
  WbCraftLadderQuestion question;
} TestSchool;

/* 79.4 mm, "Test wax", 6 %. */
void           test_school_init      (TestSchool *self);
void           test_school_clear     (TestSchool *self);
/* Takes the data, which is numbered as a further experiment; its wicks and wax become known. */
void           test_school_learn     (TestSchool *self, WbDataset *data);
/* The lesson of data that stay the caller's. Caller frees. */
WbLesson      *test_school_lesson    (const WbDataset *data);
WbWick        *test_school_add_wick  (TestSchool *self, const char *series, const char *size, gint64 step, gint64 id);
void           test_school_add_guide (TestSchool *self, gint64 wick, gint64 wax, double from_mm, double to_mm);
WbCraftSchool *test_school_go        (const TestSchool *self, GBytes *kept);
WbCraftLadder *test_school_ask       (const TestSchool *self);
/* By size; fails where there is none. */
const WbCraftLadderStep *test_school_find (const WbCraftLadder *ladder, const char *size);
guint          test_school_count_in  (const WbCraftLadder *ladder);
/* What is told of the steps and of the whole fits together. */
void           test_school_check     (const WbCraftLadder *ladder);
